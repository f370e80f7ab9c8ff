"""How long the tanks last: what fresh water there is, where waste goes, and which tank ends a stay.

Days are counted from full fresh tanks and empty waste tanks, and rounded down to half days.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import drawable
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.model.build import Header
from specreg.model.fluid import Tank
from specreg.model.waste import BlackTank, Cassette, GreyTank, Toilet, UrineTank
from specreg.model.water import FreshTank
from specreg.tables import environment
from specreg.units import Dimension

VOLUME = number(Dimension.volume)
MASS = number(Dimension.mass)

EVAPORATED_AT_MOST = 0.3
"""Greatest share of the fresh water that is taken not to reach the grey tank: common practice, no source."""

SUM = "sum of the volumes"
DAYS = "volume / (people × litres per person and day), in half days, rounded down"
MASS_BALANCE = "mass balance of water"


@dataclass(frozen=True)
class TankReach:
    """How long the tanks of one kind last, in days."""

    name: str
    days_least: float
    days_greatest: float


REACH = view("tank reach", {"name": text(), "days_least": number(), "days_greatest": number()})


def half_days(days: float) -> float:
    """Return days rounded down to half days; a hair is forgiven for the arithmetic."""
    return floor(2 * days + 1e-9) / 2


def _total(van: Facts, *classes: type[Tank]) -> float:
    """Return the volume of all tanks of some classes in m³; raises Missing where one is not stated."""
    tanks = [tank for model in classes for tank in van.of_class(model)]
    absent = [f"{tank.id}.volume" for tank in tanks if tank.get("volume") is None]
    if absent:
        raise Missing(*absent)
    return float(sum(tank.volume * tank.count for tank in tanks))


def _containers(van: Facts, field: str) -> float:
    """Return the volume of the containers inside toilets in m³; a toilet without one adds nothing."""
    return float(sum((toilet.get(field) or 0.0) * toilet.count for toilet in van.of_class(Toilet)))


@fact(Header, VOLUME, formula="sum of the volumes, each less its dead volume", source=MASS_BALANCE)
def fresh_volume(build: Subject) -> float:
    """Fresh water that the pump can draw from full tanks."""
    whole, tanks = _total(build.van, FreshTank), build.van.of_class(FreshTank)
    return whole - float(sum((tank.volume - drawable(tank)) * tank.count for tank in tanks))


@fact(Header, VOLUME, formula=SUM, source=MASS_BALANCE)
def grey_volume(build: Subject) -> float:
    """Grey water that the tanks hold."""
    return _total(build.van, GreyTank)


@fact(Header, VOLUME, formula="sum over tanks, cassettes and solids containers", source=MASS_BALANCE)
def black_volume(build: Subject) -> float:
    """Toilet waste that tanks, cassettes and solids containers hold."""
    return _total(build.van, BlackTank, Cassette) + _containers(build.van, "solids_volume")


@fact(Header, VOLUME, formula="sum over tanks and containers", source=MASS_BALANCE)
def urine_volume(build: Subject) -> float:
    """Urine that tanks and containers hold."""
    return _total(build.van, UrineTank) + _containers(build.van, "urine_volume")


@fact(Header, TRUTH, formula="there is a fresh tank", source="the spec's components")
def has_fresh_water(build: Subject) -> bool:
    """Whether the van carries fresh water."""
    return any(True for _ in build.van.of_class(FreshTank))


@fact(Header, TRUTH, formula="there are fresh and grey tanks", source="the spec's components")
def keeps_grey_water(build: Subject) -> bool:
    """Whether the van carries fresh water and keeps what is used of it."""
    return bool(build.has_fresh_water) and any(True for _ in build.van.of_class(GreyTank))


@fact(Header, number(), formula="adults + children, each child counted as one person", source="the spec")
def people_count(build: Subject) -> float:
    """People who use the water."""
    people = build.use.people
    count = people.adults + people.children
    if count <= 0:
        raise Missing("use.people")
    if people.dogs:
        build.van.assume("dogs are not counted as users of water")
    return float(count)


def _days(build: Subject, volume: float, per_person: float) -> float:
    """Return the days that a volume lasts; raises Missing where nothing is used of it."""
    build.van.assume("at the start the fresh tanks are full and the waste tanks empty")
    if per_person <= 0:
        raise Missing(reason="nothing is used per person and day")
    return half_days(volume / (build.people_count * per_person))


@fact(Header, VOLUME, formula="as stated, else the sum over what it is used for", source="the spec")
def water_each_day(build: Subject) -> float:
    """Fresh water that one person uses in a day."""
    uses = build.van.build.header.use.water_use
    if build.van.build.header.use.water_per_person is None and uses:
        return float(sum(uses.values()))
    return float(build.use.water_per_person)


@fact(Header, number(), formula=DAYS, source=MASS_BALANCE)
def fresh_days(build: Subject) -> float:
    """Days until the fresh water is used up."""
    return _days(build, build.fresh_volume, build.water_each_day)


def _grey_days(build: Subject, assumed: float) -> float:
    evaporated = build.van.build.header.use.evaporated
    if evaporated is None:
        build.van.assume(
            f"0 to {EVAPORATED_AT_MOST:.0%} of the fresh water does not reach the grey tank "
            "(common practice, no source): state `use.evaporated`"
        )
        evaporated = assumed
    return _days(build, build.grey_volume, build.water_each_day * (1 - evaporated))


@fact(Header, number(), formula=DAYS, source=MASS_BALANCE)
def grey_days_least(build: Subject) -> float:
    """Days until the grey tank is full, at least."""
    return _grey_days(build, 0.0)


@fact(Header, number(), formula=DAYS, source=MASS_BALANCE)
def grey_days_greatest(build: Subject) -> float:
    """Days until the grey tank is full, at most."""
    return _grey_days(build, EVAPORATED_AT_MOST)


@fact(Header, number(), formula=DAYS, source=MASS_BALANCE)
def black_days(build: Subject) -> float:
    """Days until tank, cassettes or solids containers are full."""
    return _days(build, build.black_volume, build.use.black_per_person)


@fact(Header, number(), formula=DAYS, source=MASS_BALANCE)
def urine_days(build: Subject) -> float:
    """Days until the urine containers are full."""
    return _days(build, build.urine_volume, build.use.urine_per_person)


GROUPS = (
    ("fresh water", "fresh_volume", "fresh_days", "fresh_days"),
    ("grey water", "grey_volume", "grey_days_least", "grey_days_greatest"),
    ("toilet waste", "black_volume", "black_days", "black_days"),
    ("urine", "urine_volume", "urine_days", "urine_days"),
)
"""What fills or empties: its name, and the facts of its volume, least and greatest days."""


@fact(Header, list_of(REACH), formula="days of each kind of tank that is fitted", source=MASS_BALANCE)
def tank_reaches(build: Subject) -> tuple[TankReach, ...]:
    """How long each kind of tank lasts."""
    return tuple(
        TankReach(name, getattr(build, least), getattr(build, greatest))
        for name, volume, least, greatest in GROUPS
        if getattr(build, volume) > 0
    )


def _reaches(build: Subject) -> tuple[TankReach, ...]:
    found: tuple[TankReach, ...] = build.tank_reaches
    if not found:
        raise Missing(reason="there is no tank")
    return found


@fact(Header, number(), formula="least over all kinds of tank, worst end", source=MASS_BALANCE)
def stay_days_least(build: Subject) -> float:
    """Days until the first tank ends the stay, at least."""
    return min(reach.days_least for reach in _reaches(build))


@fact(Header, number(), formula="least over all kinds of tank, best end", source=MASS_BALANCE)
def stay_days_greatest(build: Subject) -> float:
    """Days until the first tank ends the stay, at most."""
    return min(reach.days_greatest for reach in _reaches(build))


@fact(Header, list_of(text()), formula="the kinds of tank with the fewest days", source=MASS_BALANCE)
def stay_ended_by(build: Subject) -> tuple[str, ...]:
    """What ends the stay: the tank that is empty or full first."""
    least = build.stay_days_least
    return tuple(reach.name for reach in _reaches(build) if reach.days_least == least)


@dataclass(frozen=True)
class TankMass:
    """What is in the tanks of one kind, in kg."""

    name: str
    mass: float


TANK_MASS = view("contents", {"name": text(), "mass": number(Dimension.mass)})


def _filled(build: Subject, days: float, volume: float, each: float) -> float:
    return float(min(volume, days * build.people_count * each))


@fact(
    Header,
    list_of(TANK_MASS),
    formula="stay × people × use of each, within the tanks; grey water at its most; what no pump draws stays",
    source=MASS_BALANCE,
)
def masses_at_the_end(build: Subject) -> tuple[TankMass, ...]:
    """What each kind of tank holds when the stay ends, for the load on the axles."""
    days, use = build.stay_days_least, build.use
    found = []
    fresh = _total(build.van, FreshTank)
    if fresh > 0:
        left = fresh - _filled(build, days, build.fresh_volume, build.water_each_day)
        found.append(TankMass("fresh water", left))
    if build.grey_volume > 0:
        share = 1 - (build.van.build.header.use.evaporated or 0.0)
        grey = _filled(build, days, build.grey_volume, build.water_each_day * share)
        found.append(TankMass("grey water", grey))
    if build.black_volume > 0:
        found.append(TankMass("toilet waste", _filled(build, days, build.black_volume, use.black_per_person)))
    if build.urine_volume > 0:
        found.append(TankMass("urine", _filled(build, days, build.urine_volume, use.urine_per_person)))
    density = environment.constant("water-density").value
    return tuple(TankMass(one.name, one.mass * density) for one in found)


@fact(Tank, MASS, formula="volume × density of water at 20 °C", source="IAPWS, 998.21 kg/m³")
def full_contents_mass(tank: Subject) -> float:
    """Mass of what the tank holds when it is full; waste is taken to weigh what water does."""
    return float(tank.volume * tank.count * environment.constant("water-density").value)


@fact(Header, MASS, formula="volume × density of water at 20 °C", source="IAPWS, 998.21 kg/m³")
def fresh_water_mass(build: Subject) -> float:
    """Mass of the fresh water when all tanks are full, dead volume included."""
    return float(sum(tank.full_contents_mass for tank in build.van.of_class(FreshTank)))


@fact(Header, MASS, formula="volume × density of water at 20 °C", source="IAPWS, 998.21 kg/m³")
def waste_mass(build: Subject) -> float:
    """Mass of all waste when every waste tank is full."""
    volume = build.grey_volume + build.black_volume + build.urine_volume
    return float(volume * environment.constant("water-density").value)
