"""Sun: how long it is up, and what the panels give the battery by hour and by month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.facts.current_path import ways_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.irradiation import GROUND, panel_by_hour
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.state_of_charge import HOUR
from specreg.facts.sun_position import extraterrestrial_radiation, sun_hours
from specreg.facts.value_type import list_of, number
from specreg.model.build import Header
from specreg.model.port import Terminal
from specreg.model.solar import SolarController, SolarPanel
from specreg.model.use import Place
from specreg.units import Dimension

STANDARD_IRRADIANCE = 1000.0
MIDDLE_DAYS = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)
"""Day of the year in the middle of each month, as FAO-56 Annex 2 table 2.6 takes it."""
STANDARD_CELL = 298.15
WARM_CELL = 318.15
"""Temperature of cells at work where the spec does not say how warm the air is: common practice."""
NOMINAL_CELL = 318.15
"""Cell temperature at 800 W/m² and 20 °C where the data sheet's is not stated: common practice."""
CONTROLLER, WIRING = 0.95, 0.97
"""Efficiencies: common practice, no source."""


@dataclass(frozen=True)
class Standing:
    """One month at one of the places named for it."""

    month: int
    index: int
    place: Place

    @property
    def day(self) -> int:
        """Return the day of the year that stands for the month."""
        return MIDDLE_DAYS[self.month - 1]

    def clearness(self, *, poor: bool) -> float:
        """Return the clearness of a mean day, or of a poor week. Raises Missing where it is not stated."""
        name = "poor_week_clearness" if poor else "clearness"
        stated = getattr(self.place, name)
        if stated is None:
            raise Missing(f"use.places[{self.index}].{name}")
        return float(stated)


def standings(van: Facts, month: int | None = None) -> list[Standing]:
    """Return every month with each place named for it, by month; raise Missing where there is none."""
    places = van.build.header.use.places
    found = [Standing(m, i, place) for i, place in enumerate(places) for m in place.months]
    wanted = [one for one in found if month in (None, one.month)]
    if not wanted:
        raise Missing("use.places")
    return sorted(wanted, key=lambda one: (one.month, one.index))


def monthly_radiation(latitude: float, month: int, clearness: float) -> float:
    """Return J/m² in a mean day of a month on level ground."""
    return clearness * extraterrestrial_radiation(latitude, MIDDLE_DAYS[month - 1])


def cell_temperature(air: float, irradiance: float, nominal: float) -> float:
    """Return the temperature of a cell in kelvin: linear in W/m² from the nominal one at 800 W/m², 20 °C."""
    return air + (nominal - 293.15) / 800 * irradiance


def heat_factor(coefficient: float, cell: float) -> float:
    """Return the power of a cell at a temperature / at 25 °C, by the data sheet's coefficient in 1/K."""
    return max(0.0, 1 + coefficient * (cell - STANDARD_CELL))


def panel_hours(panel: Subject, standing: Standing, clearness: float) -> tuple[float, ...]:
    """Return J that a panel's controller can make of it in each hour of a day of that clearness."""
    coefficient, kept = float(panel.power_coefficient), (1 - float(panel.shade)) * _kept(panel)
    peak = float(panel.peak_power) * panel.count / STANDARD_IRRADIANCE
    tilt, bearing = _attitude(panel)
    falling = panel_by_hour(standing.place.latitude, standing.day, clearness, tilt, bearing)
    return tuple(
        peak * joules * kept * heat_factor(coefficient, _cell(panel, standing, joules)) for joules in falling
    )


def _cell(panel: Subject, standing: Standing, joules: float) -> float:
    air = standing.place.day_temperature
    if air is None:
        panel.van.assume("solar cells at work taken at 45 °C (common practice, no source)")
        return WARM_CELL
    nominal = panel.get("nominal_cell_temperature")
    if nominal is None:
        panel.van.assume(f"{panel.name}: cells taken at 45 °C at 800 W/m² and 20 °C (common practice)")
        nominal = NOMINAL_CELL
    return cell_temperature(air, joules / HOUR, float(nominal))


def _attitude(panel: Subject) -> tuple[float, float]:
    tilt, faces = panel.get("tilt"), panel.get("faces")
    if tilt is None or (tilt != 0 and faces is None):
        missing = "its tilt" if tilt is None else "which way it faces when tilted"
        panel.van.assume(f"{panel.name}: counted as level, for the spec does not say {missing}")
        return 0.0, 0.0
    if tilt != 0:
        panel.van.assume(f"ground in front of tilted panels taken to reflect {GROUND:.0%} (from memory)")
    return float(tilt), float(faces or 0.0)


def _kept(panel: Subject) -> float:
    """Return what controller and wiring hand on; a PWM controller pulls the panel's voltage down."""
    panel.van.assume(f"solar wiring taken to hand on {WIRING:.0%} (common practice, no source)")
    controller = controller_of(panel)
    efficiency = None if controller is None else controller.get("efficiency")
    if efficiency is None:
        panel.van.assume(f"solar controller taken at {CONTROLLER:.0%} (common practice, no source)")
    kept = WIRING * (CONTROLLER if efficiency is None else float(efficiency))
    if controller is not None and controller.get("type") == "pwm":
        if not panel.peak_voltage:
            raise Missing(f"{panel.id}.peak_voltage")
        kept *= min(1.0, controller.battery_voltage / (panel.peak_voltage * panel.in_series))
    return float(kept)


def controller_of(panel: Subject) -> Subject | None:
    """Return the controller whose panel side a panel's leads reach."""
    part = ways_of(panel.van, "positive").tree.part(Terminal(panel.id, "leads", "positive"))
    components = panel.van.build.components
    names = (t.component for t in part if t.port == "panel")
    return next((panel.van.subject(n) for n in names if isinstance(components[n], SolarController)), None)


def sun_hours_of(build: Subject, standing: Standing, clearness: float) -> tuple[float, ...]:
    """Return J that all panels give the battery by hour, each controller's rated current kept."""
    behind: dict[str, list[tuple[float, ...]]] = {}
    for panel in build.van.of_class(SolarPanel):
        controller = controller_of(panel)
        hours = panel_hours(panel, standing, clearness)
        behind.setdefault("" if controller is None else controller.id, []).append(hours)
    given = [_through(build.van, name, hours) for name, hours in behind.items()]
    return tuple(sum(hour) for hour in zip(*given, strict=True)) if given else (0.0,) * 24


def _through(van: Facts, controller: str, panels: Sequence[Sequence[float]]) -> tuple[float, ...]:
    sums = tuple(sum(hour) for hour in zip(*panels, strict=True))
    if not controller:
        return sums
    subject = van.subject(controller)
    current, voltage = subject.get("rated_current"), subject.get("battery_voltage")
    if current is None or voltage is None:
        van.assume(f"{subject.name}: its rated current or voltage is not stated and bounds nothing")
        return sums
    return tuple(min(one, float(current * voltage) * HOUR) for one in sums)


YIELD = (
    "peak power × count × hourly radiation / 1000 W/m² × (1 + coefficient × (cell − 25 °C)) × (1 − shade) "
    "× controller × wiring"
)
RADIATION = (
    "Ra and sunset: FAO-56 eq. 21 to 25; hours: Collares-Pereira and Rabl; diffuse: Erbs; tilt: isotropic "
    "sky (Liu and Jordan), all as Duffie & Beckman give them; cells: by their nominal temperature"
)


@fact(SolarPanel, number(Dimension.energy), formula=YIELD, source=RADIATION, axis=Axis.month)
def daily_solar_yield(panel: Subject) -> float:
    """Energy that it gives the battery in a mean day of the month, none turned away by a full battery."""
    month = standings(panel.van, int(str(panel.case)))
    return min(sum(panel_hours(panel, one, one.clearness(poor=False))) for one in month)


@fact(
    SolarPanel,
    number(Dimension.energy),
    formula="daily yield × days of the month",
    source=RADIATION,
    axis=Axis.month,
)
def monthly_solar_yield(panel: Subject) -> float:
    """Energy that it gives the battery in a mean month, none turned away by a full battery."""
    return float(panel.daily_solar_yield) * DAYS[int(str(panel.case)) - 1]


DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@fact(
    Header,
    number(Dimension.energy),
    formula="Σ over the panels, each hour at most the rated current of their controller",
    source=RADIATION,
    axis=Axis.month,
)
def daily_sun(build: Subject) -> float:
    """Energy that all panels give in a mean day of the month, at the least sunny place named for it."""
    return float(sum(build.sun_by_hour))


@fact(
    Header,
    list_of(number(Dimension.energy)),
    formula="Σ over the panels, each hour at most the rated current of their controller",
    source=RADIATION,
    axis=Axis.month,
)
def sun_by_hour(build: Subject) -> tuple[float, ...]:
    """Energy that all panels give in each hour from 0 to 24 h, solar time, in a mean day of the month."""
    if not any(build.van.of_class(SolarPanel)):
        return (0.0,) * 24
    month = standings(build.van, int(str(build.case)))
    return min((sun_hours_of(build, one, one.clearness(poor=False)) for one in month), key=sum)


@fact(
    Header,
    number(Dimension.time),
    formula="24 h / π × sunset hour angle",
    source="FAO-56 eq. 34; level horizon, no refraction",
    axis=Axis.month,
)
def daylight(build: Subject) -> float:
    """Time from sunrise to sunset in the middle of the month, at the place named for it where it is least."""
    month = standings(build.van, int(str(build.case)))
    spans = [sun_hours(standing.place.latitude, standing.day) for standing in month]
    return min(fall - rise for rise, fall in spans) * HOUR
