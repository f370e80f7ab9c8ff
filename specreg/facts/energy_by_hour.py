"""A typical day by hour: what loads ask, what sun, driving and hook-up offer, at one place in one month."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from specreg.facts.charging_power import too_cold
from specreg.facts.energy import takers
from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.state_of_charge import HOUR
from specreg.facts.sun import DAYS, Standing, sun_hours_of
from specreg.facts.sun_position import clear_sky, sun_hours
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.field import Word
from specreg.model.loads import Fridge
from specreg.model.solar import SolarPanel
from specreg.units import Dimension

Hours = tuple[float, ...]
"""Joules in each of the 24 hours of a day, from midnight, solar time."""

EVENING, NIGHT, WAKING = range(17, 22), (*range(22, 24), *range(7)), range(7, 22)
FIRST_DRIVEN = 10
AWAY = range(8, 18)
"""Hours between two nights on hook-up."""
WEEK = 7
FRIDGE_SETTING, LEAST_INSIDE = 278.15, 291.15


class Weather(Word):
    """How much sun a day has."""

    none = "no sun"
    mean = "mean sun"
    poor = "poor week"
    rest = "the month without its poor week"


@dataclass(frozen=True)
class Load:
    """What is known of one load: its id and its joules by hour."""

    name: str
    hours: Hours


def loads_by_hour(build: Subject, standing: Standing | None, *, most: bool) -> list[Load]:
    """Return every load on the battery by hour; `most` is the end of the range with the most nights.

    Raises Missing with all fields that are absent.
    """
    found: list[Load] = []
    missing: list[str] = []
    for name, fact_name in takers(build.van):
        load = build.van.subject(name)
        try:
            energy = float(getattr(load, fact_name)) * _warmth(load, standing, most=most)
        except Missing as absent:
            missing += absent.fields
        else:
            found.append(Load(name, _spread(load, energy)))
    if missing:
        raise Missing(*dict.fromkeys(missing))
    build.van.assume(
        "loads not said to run at certain times are spread evenly over 24 h; evening is 17 to 22 h, "
        "night 22 to 7 h"
    )
    return found


def _spread(load: Subject, energy: float) -> Hours:
    when = getattr(load.model, "runs_in", None)
    if load.id in load.van.build.header.use.evening_loads:
        return _over(energy, EVENING)
    if when and not {"day", "driving"} & set(when):
        return _over(energy, NIGHT)
    if when and "night" not in when:
        return _over(energy, WAKING)
    return (energy / 24,) * 24


def _over(energy: float, hours: Sequence[int]) -> Hours:
    return tuple(energy / len(hours) if hour in hours else 0.0 for hour in range(24))


def fridge_factor(inside: float, setting: float, rated: float) -> float:
    """Return a fridge's energy at an air temperature / at the rated one: in proportion to the difference.

    Heat comes in as the difference (conduction); that the compressor works worse in the heat is left out.
    """
    return max(0.0, (inside - setting) / (rated - setting)) if rated > setting else 1.0


def _warmth(load: Subject, standing: Standing | None, *, most: bool) -> float:
    """Return the factor on a fridge's energy; at the worse end it is never below what is stated."""
    if not isinstance(load.model, Fridge):
        return 1.0
    rated, outside = load.get("rated_ambient"), standing.place.day_temperature if standing else None
    if rated is None or outside is None:
        load.van.assume(f"{load.name}: its stated energy taken at every temperature")
        return 1.0
    setting = float(load.get("setting") or FRIDGE_SETTING)
    heated = load.van.build.header.use.inside_temperature or LEAST_INSIDE
    load.van.assume(
        f"{load.name}: energy in proportion to the difference of air and setting (5 °C where not stated); "
        "the air is the place's by day but not below the heated inside (18 °C where not stated); the worse "
        "end is never below what is stated"
    )
    factor = fridge_factor(max(outside, heated), setting, float(rated))
    return factor if most else max(1.0, factor)


def total(loads: Iterable[Load]) -> Hours:
    """Return the sum of loads by hour."""
    return tuple(sum(hour) for hour in zip(*(load.hours for load in loads), strict=True)) or (0.0,) * 24


def sun_of_day(build: Subject, standing: Standing | None, weather: Weather) -> Hours:
    """Return what the panels offer by hour in a weather. Raises Missing for a clearness not stated."""
    if weather is Weather.none or not any(build.van.of_class(SolarPanel)):
        return (0.0,) * 24
    if standing is None:
        raise Missing("use.places")
    return sun_hours_of(build, standing, _clearness(standing, weather))


def _clearness(standing: Standing, weather: Weather) -> float:
    """Return the clearness; the rest of a month is so clear that with its poor week the mean is kept."""
    if weather is Weather.poor:
        return standing.clearness(poor=True)
    mean = standing.clearness(poor=False)
    if weather is Weather.mean:
        return mean
    poor = standing.clearness(poor=True)
    days = DAYS[standing.month - 1]
    clear = clear_sky(standing.place.altitude or 0.0)
    return max(0.0, min(max(mean, clear), (days * mean - WEEK * poor) / (days - WEEK)))


def driving_of_day(build: Subject) -> Hours:
    """Return what driving offers by hour, from 10 h on. Raises Missing for a time not stated."""
    time = float(build.use.driving_per_day)
    if time == 0:
        return (0.0,) * 24
    build.van.assume("driven every day of a trip, from 10 h on")
    power = float(build.charging_power_driving)
    left = (time - (hour - FIRST_DRIVEN) * HOUR if hour >= FIRST_DRIVEN else 0.0 for hour in range(24))
    return tuple(power * max(0.0, min(HOUR, seconds)) for seconds in left)


def shore_of_day(build: Subject) -> Hours:
    """Return what the chargers on mains offer by hour, hooked up from 18 h to 8 h."""
    build.van.assume("hooked up from 18 h to 8 h; mains appliances are counted as on the battery then, too")
    power = float(build.charging_power_on_shore)
    return tuple(0.0 if hour in AWAY else power * HOUR for hour in range(24))


def chargeable(build: Subject, standing: Standing | None, *, most: bool) -> tuple[bool, ...]:
    """Tell for each hour whether the battery is warm enough to be charged; chargers rest where it is not."""
    if standing is None or standing.place.night_temperature is None:
        build.van.assume(
            "whether batteries are too cold for charging is not counted: no temperature is stated"
        )
        return (True,) * 24
    night, day = standing.place.night_temperature, standing.place.day_temperature
    if day is None:
        build.van.assume(
            "batteries too cold for charging: at the worse end all day as by night, at the better end never, "
            "for the temperature by day is not stated"
        )
        return (most or not too_cold(build, night),) * 24
    build.van.assume("a battery's place taken as cold as `night_temperature` from sunset to sunrise")
    rise, fall = sun_hours(standing.place.latitude, standing.day)
    warm = {True: not too_cold(build, day), False: not too_cold(build, night)}
    return tuple(warm[rise <= hour + 0.5 < fall] for hour in range(24))


def let_in(sources: Sequence[Hours], warm: Sequence[bool]) -> Hours:
    """Return what sources give together, nothing in hours in which the battery must not be charged."""
    return tuple(
        sum(hour) if may else 0.0 for hour, may in zip(zip(*sources, strict=True), warm, strict=True)
    )


@dataclass(frozen=True)
class Share:
    """What one load takes in a day."""

    load: str
    energy: float


@fact(
    Header,
    list_of(view("share", {"load": text(), "energy": number(Dimension.energy)})),
    formula="energy per day of each, the greatest first",
    source="P·t; the hours are the spec's",
)
def daily_energy_by_load(build: Subject) -> tuple[Share, ...]:
    """What each load takes from the battery on a typical day."""
    loads = loads_by_hour(build, None, most=True)
    shares = [Share(build.van.name_of(load.name), sum(load.hours)) for load in loads]
    return tuple(sorted((one for one in shares if one.energy), key=lambda one: (-one.energy, one.load)))
