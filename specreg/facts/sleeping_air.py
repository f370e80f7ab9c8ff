"""Carbon dioxide (not carbon monoxide) while people sleep, and the course of a night hour by hour."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, expm1

from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.shell_areas import Span
from specreg.facts.sleepers import carbon_dioxide_of_all, persons, warmth_of_all
from specreg.facts.value_type import list_of, number, view
from specreg.model.build import Header
from specreg.model.furniture import Furniture
from specreg.model.sleeping import Bed, Mattress
from specreg.model.structure import LayeredPanel
from specreg.tables import environment
from specreg.units import Dimension

HOUR = 3600.0
FULL = 0.7
"""Share of the living space that is air where furniture fills most of it: common practice, no source."""
WOOD_HEAT = 1600.0
"""J/(kg·K) of wood and boards: DIN EN 12524."""
SWINGS = Span(0.5, 1.0)
"""Share of the mass inside that follows the air's temperature through a night: no source."""

SHARE = number(Dimension.fraction_of_air)
BALANCE = "C(t) = Ce + G/Q + (C₀ − Ce − G/Q)·e^(−Q·t/V): mass balance of a well-mixed room"
PEOPLE = "generation by Persily & de Jonge 2017, table 4, asleep at 0.95 met"


def concentration(made: float, flow: float, volume: float, start: float, time: float) -> float:
    """Return the share of carbon dioxide after some time: `made` and `flow` in m³/s, m³, s."""
    outdoors = environment.constant("co2-outdoors").value
    changes = flow * time / volume
    changed = -expm1(-changes)
    held = changed / changes if changes else 1.0
    return start + changed * (outdoors - start) + held * made * time / volume


def _morning(build: Subject, made: float, flow: float, room: float) -> float:
    outdoors = environment.constant("co2-outdoors").value
    return concentration(made, flow, room * float(build.room_volume), outdoors, float(build.night_length))


@fact(Header, SHARE, formula=f"{BALANCE}; calm, 30 % of the room filled", source=PEOPLE)
def greatest_morning_co2(build: Subject) -> float:
    """Carbon dioxide (not carbon monoxide) in the morning with all shut, at most: a calm, mild night."""
    return _morning(build, carbon_dioxide_of_all(build.van).greatest, float(build.least_night_air), FULL)


@fact(Header, SHARE, formula=f"{BALANCE}; a breeze of 3 m/s", source=PEOPLE)
def least_morning_co2(build: Subject) -> float:
    """Carbon dioxide (not carbon monoxide) in the morning with all shut, at least: a breeze."""
    return _morning(build, carbon_dioxide_of_all(build.van).least, float(build.greatest_night_air), 1.0)


@fact(
    Header,
    SHARE,
    formula=f"{BALANCE}; calm, windows on their catches or the fan at night speed",
    source=PEOPLE,
)
def aired_morning_co2(build: Subject) -> float:
    """Carbon dioxide (not carbon monoxide) in the morning, at most, with catches open or the fan running."""
    return _morning(build, carbon_dioxide_of_all(build.van).greatest, float(build.least_aired_night), FULL)


@fact(
    Header, SHARE, formula="Ce + G/Q, a breeze of 3 m/s", source=f"steady state of the mass balance; {PEOPLE}"
)
def least_steady_co2(build: Subject) -> float | None:
    """Carbon dioxide (not carbon monoxide) that a long sleep tends to, at least."""
    flow = float(build.greatest_night_air)
    made = carbon_dioxide_of_all(build.van).least
    return environment.constant("co2-outdoors").value + made / flow if flow else None


@fact(Header, SHARE, formula="Ce + G/Q, calm", source=f"steady state of the mass balance; {PEOPLE}")
def greatest_steady_co2(build: Subject) -> float | None:
    """Carbon dioxide (not carbon monoxide) that a long sleep tends to, at most."""
    flow = float(build.least_night_air)
    made = carbon_dioxide_of_all(build.van).greatest
    return environment.constant("co2-outdoors").value + made / flow if flow else None


@fact(
    Header,
    number(Dimension.flow),
    formula="7.5 L/s for each person: 700 ppm above outdoors",
    source="ASHRAE technical FAQ 35, for offices",
)
def air_for_sleepers(build: Subject) -> float:
    """Fresh air that people asleep would have in a well-aired room."""
    return sum(persons(build.van)) * environment.constant("ventilation-per-person").value


@dataclass(frozen=True)
class Hour:
    """One hour of a night: shares of carbon dioxide, and temperatures in K with the heater off at bedtime."""

    hour: int
    co2_least: float
    co2_greatest: float
    co2_aired: float
    temperature_least: float | None
    temperature_greatest: float | None


HOURS = view(
    "hour of the night",
    {
        "hour": number(),
        "co2_least": SHARE,
        "co2_greatest": SHARE,
        "co2_aired": SHARE,
        "temperature_least": number(Dimension.temperature),
        "temperature_greatest": number(Dimension.temperature),
    },
)


@fact(
    Header,
    list_of(HOURS),
    formula=f"{BALANCE}; T(t) = T∞ + (Ti − T∞)·e^(−t·H/C), H loss per kelvin, C heat of air and furniture",
    source=f"{PEOPLE}; heat balance of one lump, heater off at bedtime",
)
def night_course(build: Subject) -> tuple[Hour, ...]:
    """Carbon dioxide (not carbon monoxide) and temperature through the night, hour by hour."""
    made = carbon_dioxide_of_all(build.van)
    flows = float(build.greatest_night_air), float(build.least_night_air), float(build.least_aired_night)
    volume, start = float(build.room_volume), environment.constant("co2-outdoors").value
    cooling = _cooling(build)
    found = []
    for hour in range(round(float(build.night_length) / HOUR) + 1):
        time = hour * HOUR
        least = concentration(made.least, flows[0], volume, start, time)
        greatest = concentration(made.greatest, flows[1], volume * FULL, start, time)
        aired = concentration(made.greatest, flows[2], volume * FULL, start, time)
        warm = cooling.at(time) if cooling else (None, None)
        found.append(Hour(hour, least, greatest, aired, *warm))
    return tuple(found)


@dataclass(frozen=True)
class Cooling:
    """How the van cools: loss in W/K, heat in J/K, temperatures in K, people's warmth in W."""

    loss: Span
    heat: Span
    inside: float
    outside: float
    warmth: float

    def at(self, time: float) -> tuple[float, float]:
        """Return the coldest and the warmest that it can be after some time in s."""
        coldest = self.outside + (self.inside - self.outside) * exp(
            -time * self.loss.greatest / self.heat.least
        )
        end = self.outside + self.warmth / self.loss.least
        warmest = end + (self.inside - end) * exp(-time * self.loss.least / self.heat.greatest)
        return coldest, max(coldest, warmest)


def _cooling(build: Subject) -> Cooling | None:
    if not build.get("least_heat_loss"):
        return None
    difference = float(build.design_difference)
    loss = Span(float(build.least_heat_loss) / difference, float(build.greatest_heat_loss) / difference)
    inside, outside = float(build.room_temperature), float(build.design_temperature)
    return Cooling(loss, inner_heat(build.van), inside, outside, warmth_of_all(build.van))


def inner_heat(van: Facts) -> Span:
    """Return the J/K that the air, the linings and the furniture hold, at both ends."""
    air = environment.constant("air-heat-capacity").value * float(van.whole.room_volume)
    parts = [part for kind in (Furniture, LayeredPanel, Bed, Mattress) for part in van.of_class(kind)]
    mass = sum(part.get("whole_mass") or 0.0 for part in parts)
    van.assume("cooling: half to all of the mass of furniture, beds and linings follows the air (no source)")
    return Span(air + SWINGS.least * mass * WOOD_HEAT, air + SWINGS.greatest * mass * WOOD_HEAT)
