"""What uses direct current in the living space."""

from typing import ClassVar, Literal

from specreg.model.component import Component, Consumer, LoadKind, System, joined
from specreg.model.control import (
    CONTROL,
    Dimmer,
    Relay,
    RemoteControl,
    Sensor,
    Switch,
    Thermostat,
    Timer,
)
from specreg.model.field import told
from specreg.model.port import Link, Medium, Port, Role, Way
from specreg.model.quantity import (
    Angle,
    Area,
    Current,
    Day,
    Duration,
    Energy,
    Flow,
    Force,
    Length,
    Power,
    Share,
    Temperature,
    Voltage,
    Volume,
)


class Load(Consumer):
    """A consumer of the direct-current system."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "E"


class Light(Load):
    """What lights have."""

    dimmable: bool | None = told("Whether it may hang on a dimmer.")
    own_switch: bool | None = told("Whether it has a switch of its own.")


class CeilingLight(Light):
    """A light in the ceiling; several alike on one cable are one with a `count`."""

    kind: Literal["ceiling-light"]


class ReadingLight(Light):
    """A light at a bed or seat."""

    kind: Literal["reading-light"]


class StripLight(Light):
    """A strip of lights, cut to length."""

    kind: Literal["strip-light"]
    strip_length: Length | None = told("Length of the strip.", example="2.5 m")


class OutsideLight(Light):
    """A light on the outside of the van."""

    kind: Literal["outside-light"]


class StickOnLight(Component):
    """A light with cells of its own, stuck on: no circuit reaches it."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "E"
    kind: Literal["stick-on-light"]
    cells: str | None = told("The cells that it takes.", example="3 × AAA")
    rechargeable: bool | None = told("Whether its cells are recharged.")
    cells_changed_on: Day | None = told("Day on which its cells were last changed.", example="2026-04-01")


class CabinFan(Load):
    """A fan that moves air within the living space, not through the roof."""

    letter: ClassVar[str] = "M"
    kind: Literal["cabin-fan"]
    airflow: Flow | None = told("Air moved at full speed.", example="120 m³/h")
    guard: bool | None = told("Whether a guard keeps fingers out.")

    default_load: ClassVar[LoadKind] = LoadKind.motor


class Fridge(Load):
    """A compressor fridge on direct current."""

    kind: Literal["fridge"]
    volume: Volume | None = told("Usable volume.", example="85 l")
    door: Literal["front", "top", "drawer"] | None = told("How it opens.")
    latch: bool | None = told("Whether a latch holds it shut under way.")
    setting: Temperature | None = told("Temperature inside, as set.", example="5 °C")
    daily_energy: Energy | None = told("Energy in 24 hours by its maker.", example="450 Wh")
    rated_ambient: Temperature | None = told(
        "Ambient temperature that the maker's energy or the stated duty holds for.", example="25 °C"
    )
    highest_ambient: Temperature | None = told("Highest ambient temperature it is made for.", example="43 °C")
    greatest_tilt: Angle | None = told("Greatest steady tilt at which it works.", example="30°")
    cut_off_voltage: Voltage | None = told("Voltage at which it stops, as set.", example="11.1 V")
    air_from: Literal["inside", "outside"] | None = told("Where its condenser draws its air.")
    vent_area_low: Area | None = told("Free area by which air reaches its condenser.", example="200 cm²")
    vent_area_high: Area | None = told("Free area by which warm air leaves.", example="200 cm²")
    clearance_behind: Length | None = told("Air gap behind it.", example="50 mm")
    required_clearance: Length | None = told("Air gap that its maker asks for.", example="50 mm")
    refrigerant: str | None = told("Its refrigerant.", example="R134a")
    refrigerant_burns: bool | None = told("Whether its refrigerant is flammable.")

    default_load: ClassVar[LoadKind] = LoadKind.constant_power


class UsbOutlet(Load):
    """A charging outlet for small devices; `power` is with all its outlets in use."""

    letter: ClassVar[str] = "X"
    kind: Literal["usb-outlet"]
    outlets: int = told("How many outlets it has.", default=2)
    outlet_power: Power | None = told("Greatest power of one outlet.", example="18 W")
    own_switch: bool | None = told("Whether it has a switch of its own.")


class DcOutlet(Component):
    """A vehicle socket; what is plugged in is run from its `outlet`."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "X"
    kind: Literal["dc-outlet"]
    form: Literal["lighter socket", "two-pin", "screw terminals", "high-current connector"] | None = told(
        "Its form."
    )
    outlets: int = told("How many outlets it has.", default=1)
    rated_current: Current | None = told("Greatest continuous current of one outlet.", example="10 A")
    expected_power: Power | None = told("Power that people are expected to take from it.", example="60 W")
    hours_per_day: Duration | None = told("Time in use at that power on a typical day.", example="1 h")
    outside: bool | None = told("Whether it is on the outside of the van.")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and its outlet."""
        return (
            Port("supply", Medium.dc, Role.pair, Way.into, needed=True, main=True),
            Port("outlet", Medium.dc, Role.pair, Way.out),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the joint between them."""
        return (Link("supply", "outlet"),)


class Audio(Load):
    """A radio or amplifier with its loudspeakers."""

    kind: Literal["audio"]
    memory_supply: Power | None = told("Power of its second, always live supply.", example="0.1 W")
    loudspeakers: int | None = told("How many loudspeakers it drives.", example="4")


class Display(Load):
    """A screen or gauge that shows values or pictures."""

    letter: ClassVar[str] = "P"
    kind: Literal["display"]
    shows: tuple[str, ...] = told(
        "What it shows.", default=(), example="[battery charge, fresh water, waste water]"
    )
    diagonal: Length | None = told("Diagonal of its screen.", example="7 in")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and its signal lead."""
        return joined(super().ports(), (Port("signal", Medium.control, way=Way.into),))


class TankGauge(Load):
    """A gauge that shows how full a tank is."""

    letter: ClassVar[str] = "P"
    kind: Literal["tank-gauge"]
    steps: int | None = told("How many levels it tells apart; none stated is continuous.", example="4")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and the lead of its sensor."""
        return joined(super().ports(), (Port("signal", Medium.control, way=Way.into),))


class Actuator(Load):
    """A motor that moves something: a step, a bed lift, a dump valve, an aerial."""

    letter: ClassVar[str] = "M"
    kind: Literal["actuator"]
    moves: str | None = told("The component that it moves.", example="lift-bed")
    force: Force | None = told("Greatest force.", example="1.5 kN")
    stroke: Length | None = told("Travel.", example="600 mm")
    run_time: Duration | None = told("Time for the whole travel.", example="25 s")
    stall_current: Current | None = told("Current when it is held fast.", example="18 A")
    greatest_duty: Share | None = told("Greatest share of time that it may run.", example="10 %")
    end_stops: Literal["none", "limit switches", "current"] | None = told("What stops it at its ends.")
    holds_when_dead: bool | None = told("Whether it holds its load without current, by its maker.")
    worked_by_hand: str | None = told("How it is moved without current.", example="crank in the tool bag")

    default_load: ClassVar[LoadKind] = LoadKind.motor

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and its control lead."""
        return joined(super().ports(), (CONTROL,))


class DcAppliance(Load):
    """Anything that runs on direct current and has no kind of its own: laptop, router, blanket."""

    kind: Literal["dc-appliance"]
    continuous: bool | None = told("Whether it runs for three hours or more at a stretch.")
    plugged: bool | None = told("Whether it is plugged in rather than wired.")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and its control lead."""
        return joined(super().ports(), (CONTROL,))


KINDS: tuple[type[Component], ...] = (
    CeilingLight,
    ReadingLight,
    StripLight,
    OutsideLight,
    StickOnLight,
    Switch,
    Dimmer,
    Relay,
    Timer,
    Thermostat,
    CabinFan,
    Fridge,
    UsbOutlet,
    DcOutlet,
    Audio,
    Display,
    RemoteControl,
    Sensor,
    TankGauge,
    Actuator,
    DcAppliance,
)
"""The kinds of this module."""
