"""The air and the warmth of a night: bands from a breeze to calm air, from the coldest to the warmest."""

from __future__ import annotations

from typing import Any

from specreg.facts.value_type import number
from specreg.pages.chart_lines import Band, Curve, Level, lined
from specreg.pages.charted import chart_of, not_drawn
from specreg.pages.charts import Axis, Drawn, Measure, measure, numbered, ticks
from specreg.pages.content import Block
from specreg.pages.figures import of_whole
from specreg.pages.van import Van
from specreg.tables import environment
from specreg.units import Dimension

AIR = number(Dimension.fraction_of_air)
LEVELS = {"workplace": "co2-workplace-limit", "danger": "co2-immediate-danger"}
"""What a concentration means, by the constants of the tables."""


def night_charts(van: Van) -> list[Block]:
    """Return the charts of a night; the table by the hour stands below them."""
    found = of_whole(van, "night_course")
    if not found.known:
        return [not_drawn(van, van.texts("night.chart.dioxide"), found)]
    return [_air(van, found.value), *_warmth(van, found.value)]


def _air(van: Van, hours: tuple[Any, ...]) -> Block:
    drawn, told = air_chart(van, hours)
    beside = van.texts("night.chart.dioxide_beside")
    return chart_of(van, "chart-dioxide", van.texts("night.chart.dioxide"), drawn, told, beside)


def air_words(van: Van, share: float) -> str:
    """Return a share of carbon dioxide as the table below says it."""
    return van.value(round(share, 5), AIR)


def air_chart(van: Van, hours: tuple[Any, ...]) -> tuple[Drawn, list[str]]:
    """Return the band from a breeze to calm air, the line with air let in, and what they say."""
    last = hours[-1]
    greatest = max(hour.co2_greatest for hour in hours)
    unit = measure(Dimension.fraction_of_air, van.units, greatest)
    band = Band(
        van.texts(
            "night.chart.between",
            least=air_words(van, last.co2_least),
            greatest=air_words(van, last.co2_greatest),
        ),
        _line(hours, "co2_least", unit),
        _line(hours, "co2_greatest", unit),
    )
    aired = Curve(
        van.texts("night.chart.aired", greatest=air_words(van, last.co2_aired)),
        "dashed",
        _line(hours, "co2_aired", unit),
    )
    y = Axis(van.texts("night.chart.upright", unit=unit.unit), ticks(0, unit.number(greatest)))
    levels = [level for level in _levels(van, unit) if level.number <= y.ticks[-1]]
    curves = [aired] if last.co2_aired < last.co2_greatest else []
    told = [band.words, *(curve.words for curve in curves), *(level.words for level in levels)]
    return lined(_night_axis(van, hours), y, curves, (band,), levels), told


def _levels(van: Van, unit: Measure) -> list[Level]:
    found = []
    for name, constant in LEVELS.items():
        share = environment.constant(constant).value
        words = van.texts(f"night.chart.{name}", share=van.value(share, AIR))
        found.append(Level(words, unit.number(share), "level" if name == "workplace" else "danger-level"))
    return found


def _night_axis(van: Van, hours: tuple[Any, ...]) -> Axis:
    return Axis(van.texts("night.chart.across"), ticks(0, hours[-1].hour))


def _line(hours: tuple[Any, ...], field: str, unit: Measure) -> tuple[tuple[float, float], ...]:
    return tuple((float(hour.hour), unit.number(getattr(hour, field))) for hour in hours)


def _warmth(van: Van, hours: tuple[Any, ...]) -> list[Block]:
    if hours[0].temperature_least is None:
        title = van.texts("night.chart.temperature")
        return [not_drawn(van, title, loss)] if not (loss := of_whole(van, "least_heat_loss")).known else []
    drawn, told = warmth_chart(van, hours)
    beside = van.texts("night.chart.temperature_beside")
    return [chart_of(van, "chart-temperature", van.texts("night.chart.temperature"), drawn, [told], beside)]


def degrees(van: Van, temperature: float) -> str:
    """Return a temperature to a tenth of a degree, as chart and table say it."""
    unit = measure(Dimension.temperature, van.units, temperature)
    return f"{numbered(round(unit.number(temperature), 1))} {unit.unit}"


def warmth_chart(van: Van, hours: tuple[Any, ...]) -> tuple[Drawn, str]:
    """Return the band from the coldest to the warmest that it may be inside, and what it says."""
    unit = measure(Dimension.temperature, van.units, hours[0].temperature_greatest)
    coldest, warmest = (_line(hours, f"temperature_{end}", unit) for end in ("least", "greatest"))
    ends = [degrees(van, getattr(hours[-1], f"temperature_{end}")) for end in ("least", "greatest")]
    words = van.texts("night.chart.cooling", least=ends[0], greatest=ends[1])
    low, high = min(y for _, y in coldest), max(y for _, y in warmest)
    y = Axis(van.texts("night.chart.degrees", unit=unit.unit), ticks(low, high))
    band = Band(words, coldest, warmest, worse_is_less=True)
    return lined(_night_axis(van, hours), y, (), (band,)), words
