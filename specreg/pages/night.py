"""What a night asks of heat and air: loss against output, carbon dioxide, dew point, hour by hour."""

from __future__ import annotations

from typing import Any

from specreg.facts.engine import Fact
from specreg.facts.registry import kinds_for
from specreg.facts.value_type import ValueType, number
from specreg.pages.content import (
    Block,
    Cell,
    Entries,
    Entry,
    Figure,
    Fold,
    Known,
    Paragraph,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.figures import assumed
from specreg.pages.night_charts import degrees, night_charts
from specreg.pages.van import Van
from specreg.units import Dimension

RANGES = (
    ("loss", "least_heat_loss", "greatest_heat_loss"),
    ("output", "heater_output", ""),
    ("needed", "least_heat_of_a_night", "greatest_heat_of_a_night"),
    ("fuel", "least_fuel_of_a_night", "greatest_fuel_of_a_night"),
    ("gas", "least_gas_of_a_night", "greatest_gas_of_a_night"),
    ("electricity", "greatest_electricity_of_heating", ""),
    ("dioxide", "least_morning_co2", "greatest_morning_co2"),
    ("aired", "aired_morning_co2", ""),
    ("side", "coldest_side", ""),
    ("dew", "least_dew_point", "greatest_dew_point"),
    ("water", "water_of_a_night", ""),
    ("carried", "water_carried_off", ""),
)
"""The main figures: the text that names each, the fact at its least end, the fact at its greatest."""

POWER, SHARE = number(Dimension.power), number(Dimension.fraction_of_air)


def night_section(van: Van) -> list[Section]:
    """Return the main figures of a night, the ways of heat and the course by the hour; nothing unknown."""
    facts = [fact for _, *names in RANGES for name in names if name and (fact := _fact(van, name)).known]
    entries = tuple(entry for row in RANGES if (entry := _entry(van, *row)))
    if not entries:
        return []
    blocks: list[Block] = [Paragraph(cell(van.texts("night.lead")), small=True)]
    blocks.append(Entries((*_design(van), *entries)))
    blocks += [*_losses(van), *night_charts(van), *_course(van), *assumed(van, facts)]
    return [Section("night", van.texts("night.title"), tuple(blocks))]


def _fact(van: Van, name: str) -> Fact:
    return van.facts.ask(van.facts.whole, kinds_for(type(van.build.header))[name])


def _entry(van: Van, text: str, least: str, greatest: str) -> Entry | None:
    ends = [_fact(van, name) for name in (least, greatest) if name]
    if not all(end.known and end.value is not None for end in ends) or not any(end.value for end in ends):
        return None
    words = [van.value(_tens(end.value, end.kind.gives), end.kind.gives) for end in ends]
    return Entry(van.texts(f"night.{text}"), _figure(_between(van, words)))


def _tens(value: float, kind: ValueType) -> float:
    """Return a share of air in whole tens of a millionth, as the chart and the table say it."""
    return round(value, 5) if kind.dimension is Dimension.fraction_of_air else value


def _between(van: Van, words: list[str]) -> str:
    first, last = words[0], words[-1]
    return first if first == last else van.texts("night.to", least=first, greatest=last)


def _figure(text: str) -> Cell:
    return (Figure(text, Known.computed),)


def _design(van: Van) -> tuple[Entry, ...]:
    ends = [_fact(van, name) for name in ("design_temperature", "sleeping_temperature")]
    if not all(end.known for end in ends):
        return ()
    words = [van.value(end.value, end.kind.gives) for end in ends]
    return (Entry(van.texts("night.design"), _figure(", ".join(words))),)


def _losses(van: Van) -> list[Block]:
    found = _fact(van, "heat_losses")
    if not found.known:
        return []
    columns = tuple(van.texts(f"night.{name}") for name in ("by", "least", "greatest"))
    rows = tuple(
        Row((cell(loss.name), *(_told(van, value, POWER) for value in (loss.least, loss.greatest))))
        for loss in found.value
    )
    return [Fold(van.texts("night.losses"), (Table(van.texts("night.caption_losses"), columns, rows),))]


def _course(van: Van) -> list[Block]:
    found = _fact(van, "night_course")
    if not found.known:
        return []
    cooling = found.value[0].temperature_least is not None
    names = ("hour", "breeze", "calm", "open", *(("coldest", "warmest") if cooling else ()))
    columns = tuple(van.texts(f"night.{name}") for name in names)
    rows = tuple(Row(_hour(van, hour, cooling)) for hour in found.value)
    return [Fold(van.texts("night.course"), (Table(van.texts("night.caption_course"), columns, rows),))]


def _hour(van: Van, hour: Any, cooling: bool) -> tuple[Cell, ...]:
    shares = (hour.co2_least, hour.co2_greatest, hour.co2_aired)
    told = [_told(van, round(share, 5), SHARE) for share in shares]
    if cooling:
        told += [_figure(degrees(van, one)) for one in (hour.temperature_least, hour.temperature_greatest)]
    return (cell(str(hour.hour)), *told)


def _told(van: Van, value: float, kind: ValueType) -> Cell:
    return _figure(van.value(value, kind))
