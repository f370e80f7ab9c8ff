"""Fresh water: tanks, fillers, pumps, heaters, mixers, taps, valves and what sits in the pipe."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, LoadKind, System
from specreg.model.field import Spec, must, told
from specreg.model.fluid import InLine, Tank, Valve, branches, into, out, through
from specreg.model.hot_water import MixingValve, WaterHeater
from specreg.model.port import Link, LinkKind, Medium, Port
from specreg.model.quantity import (
    Day,
    Duration,
    Flow,
    Length,
    Pressure,
    Temperature,
    Volume,
)

WATER = Medium.water


class FreshTank(Tank):
    """A tank for drinking water."""

    system: ClassVar[System] = System.water
    kind: Literal["fresh-tank"]
    dead_volume: Volume | None = told("Part of `volume` below the outlet, out of reach.", example="2 L")
    access_opening: Length | None = told("Diameter of the opening for cleaning by hand.", example="120 mm")
    removable: bool = told("Whether it is a can that is carried out to be filled.", default=False)

    def ports(self) -> tuple[Port, ...]:
        """Return filling, outlet, drain and vent."""
        return (
            into("fill", WATER, main=True),
            out("outlet", WATER, main=True),
            out("drain", WATER),
            out("vent", WATER),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the water in the tank; the vent carries air and is no way for water."""
        return (Link("fill", "outlet", one_way=True), Link("outlet", "drain"))


class TankVent(Component):
    """The open end of a fresh tank's vent and overflow pipe."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "X"
    kind: Literal["tank-vent"]
    opens_to: Literal["outside", "living space", "under floor"] | None = told("The space that it opens to.")
    mesh: bool | None = told("Whether a mesh keeps insects out.")
    bore: Length | None = told("Inner diameter.", example="12 mm")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe to it."""
        return (into("in", WATER, needed=True, main=True),)


class Filler(Component):
    """Where water is filled in: an open neck, or a coupling for a hose under pressure."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "X"
    kind: Literal["filler"]
    connection: Literal["open neck", "hose coupling", "pressurised mains"] | None = told(
        "What the hose meets."
    )
    backflow: Literal["none", "air gap", "check valve", "double check valve"] | None = told(
        "What keeps tank water from flowing back into the supply.", example="air gap"
    )
    reduced_pressure: Pressure | None = told("Pressure behind its reducer.", example="2 bar")
    lockable: bool | None = told("Whether its lid locks.")
    apart_from_fuel: Length | None = told("Distance to the nearest fuel filler.", example="1.2 m")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe that leaves it."""
        return (out("out", WATER, main=True),)


class PumpPoint(Spec):
    """One point of a pump's curve."""

    flow: Flow = must("Flow at this point.", example="4 L/min")
    pressure: Pressure = must("Pressure that the pump makes at that flow.", example="1.2 bar")


class Pump(Consumer):
    """A fresh-water pump."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "G"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    kind: Literal["pump"]
    form: Literal["diaphragm", "submersible", "centrifugal", "hand", "foot"] = told(
        "How it works.", default="diaphragm"
    )
    greatest_flow: Flow | None = told("Flow against no head.", example="10 L/min")
    cut_off_pressure: Pressure | None = told("Pressure at which it stops.", example="2.1 bar")
    curve: tuple[PumpPoint, ...] = told(
        "Points of its curve, where the maker states them; two at least.",
        default=(),
        example="[{flow: 0 L/min, pressure: 2.1 bar}, {flow: 10 L/min, pressure: 0 bar}]",
    )
    cut_in_pressure: Pressure | None = told("Pressure at which it starts again.", example="1.4 bar")
    pressure_switch: bool | None = told("Whether its own pressure switch starts and stops it.")
    dry_run_protection: bool | None = told("Whether it stops, or bears it, when the tank is empty.")
    strainer: bool | None = told("Whether a strainer is built in or screwed on.")
    check_valve: bool | None = told("Whether water cannot run back through it.")
    flexible_ends: bool | None = told("Whether both its pipes begin with a piece of hose.")

    def ports(self) -> tuple[Port, ...]:
        """Return the supply unless it is worked by hand or foot, suction and delivery."""
        electric = () if self.form in ("hand", "foot") else (SUPPLY,)
        return (*electric, into("inlet", WATER, needed=True, main=True), out("outlet", WATER, main=True))

    def links(self) -> tuple[Link, ...]:
        """Return the way through, which it pushes one way."""
        return (Link("inlet", "outlet", one_way=True),)


class Accumulator(Component):
    """A pressure vessel that smooths the pump."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "C"
    kind: Literal["accumulator"]
    volume: Volume | None = told("Volume of the vessel.", example="0.75 L")
    precharge: Pressure | None = told("Air pressure when empty.", example="0.7 bar")
    rated_pressure: Pressure | None = told("Greatest pressure that it is rated for.", example="8 bar")

    def ports(self) -> tuple[Port, ...]:
        """Return both sides of its tee."""
        return through(WATER)

    def links(self) -> tuple[Link, ...]:
        """Return the way through."""
        return (Link("in", "out"),)


class WaterFilter(InLine):
    """A filter in the fresh-water pipe."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "H"
    kind: Literal["water-filter"]
    element: Literal["sediment", "active carbon", "ceramic", "hollow fibre", "silver"] | None = told(
        "What is in it."
    )
    pore_size: Length | None = told("Size that it holds back.", example="0.001 mm")
    rated_flow: Flow | None = told("Flow that it is made for.", example="8 L/min")
    renewed_every: Duration | None = told("Time between cartridges.", example="180 days")
    renewed_on: Day | None = told("Day on which the cartridge was last renewed.")
    frost_safe: bool | None = told("Whether frost leaves it whole.")


class Strainer(InLine):
    """A strainer before a pump."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "H"
    kind: Literal["strainer"]
    mesh: Length | None = told("Width of its mesh.", example="0.4 mm")


class CheckValve(InLine):
    """A valve that lets water through one way."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "R"
    one_way: ClassVar[bool] = True
    kind: Literal["check-valve"]
    opening_pressure: Pressure | None = told("Pressure at which it opens.", example="0.02 bar")


class WaterManifold(Component):
    """A tee or manifold."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "W"
    kind: Literal["water-manifold"]
    outlets: int = told("How many pipes leave it; they are ports 1, 2, 3 … A tee has two.", default=2)
    shut_offs: bool = told("Whether each outlet has its own valve.", default=False)

    def _names(self) -> tuple[str, ...]:
        return tuple(str(n) for n in range(1, self.outlets + 1))

    def ports(self) -> tuple[Port, ...]:
        """Return the inlet and the numbered outlets."""
        return (into("in", WATER, main=True), *branches(self._names(), WATER))

    def links(self) -> tuple[Link, ...]:
        """Return the way from the inlet to each outlet, through its valve where it has one."""
        kind = LinkKind.valve if self.shut_offs else LinkKind.plain
        return tuple(Link("in", name, kind, name=name) for name in self._names())


class Draw(Component):
    """Where water is drawn: cold, hot, or mixed there."""

    letter: ClassVar[str] = "Q"
    system: ClassVar[System] = System.water
    form: Literal["cold", "hot", "mixer"] = told("Which pipes it has.", default="cold")
    flow: Flow | None = told("Flow at use.", example="4 L/min")
    minutes_per_day: Duration | None = told("Time running on a typical day.", example="6 min")
    over: str | None = told("The sink or tray that catches its water, or `outside`.", example="sink")
    pump_switch: bool | None = told("Whether a switch in it starts the pump.")

    def ports(self) -> tuple[Port, ...]:
        """Return its pipes."""
        names = ("cold", "hot") if self.form == "mixer" else (self.form,)
        return tuple(into(n, WATER, needed=n == names[0], main=len(names) == 1) for n in names)


class Tap(Draw):
    """A tap."""

    kind: Literal["tap"]
    drinking: bool | None = told("Whether people drink from it.")


class Shower(Draw):
    """A shower, inside or outside."""

    kind: Literal["shower"]
    hand_held: bool | None = told("Whether its head hangs on a hose.")
    temperature: Temperature | None = told("Temperature of the mixed water.", example="38 °C")


class QuickCoupling(Component):
    """A coupling for a hose or an outside shower that closes when it is pulled."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "X"
    kind: Literal["quick-coupling"]
    flow: Flow | None = told("Flow at use.", example="5 L/min")
    closes_itself: bool | None = told("Whether it closes when the hose is pulled.")
    outside: bool | None = told("Whether it sits in the outer wall.")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe to it."""
        return (into("in", WATER, needed=True, main=True),)


class WaterValve(Valve):
    """A valve in a fresh-water pipe: shut-off or drain, by hand or motor."""

    system: ClassVar[System] = System.water
    carries: ClassVar[Medium] = Medium.water
    kind: Literal["valve"]


class FrostValve(Valve):
    """A valve that empties the heater or pipes by itself when it gets cold."""

    system: ClassVar[System] = System.water
    carries: ClassVar[Medium] = Medium.water
    kind: Literal["frost-valve"]
    opens_at: Temperature | None = told("Temperature at which it opens.", example="3 °C")
    closes_at: Temperature | None = told("Temperature above which it can be closed.", example="7 °C")
    opens_without_current: bool | None = told("Whether it opens when the battery is switched off.")


KINDS: tuple[type[Component], ...] = (
    FreshTank,
    TankVent,
    Filler,
    Pump,
    Accumulator,
    WaterFilter,
    Strainer,
    CheckValve,
    WaterManifold,
    Tap,
    Shower,
    QuickCoupling,
    WaterHeater,
    MixingValve,
    WaterValve,
    FrostValve,
)
