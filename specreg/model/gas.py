"""Liquefied petroleum gas: cylinders, tanks, locker, regulator, shut-offs, drain openings."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, System
from specreg.model.field import Spec, told
from specreg.model.fluid import Valve, branches, into, out
from specreg.model.port import Link, LinkKind, Medium, Port
from specreg.model.quantity import Area, Day, Duration, Length, Mass, MassFlow, Pressure, Share, Volume

GAS = Medium.gas


class GasStore(Component):
    """What cylinders and fixed tanks have."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "C"
    gas: Literal["propane", "butane", "mixture"] | None = told("The gas in it.", example="propane")
    propane_share: Share | None = told("Share of propane in a mixture.", example="60 %")
    offtake: Literal["vapour", "liquid"] | None = told("What it gives off.", example="vapour")
    greatest_draw: MassFlow | None = told("Gas that it can give off for long when cold.", example="800 g/h")
    usable: Share | None = told("Share of the content that is used before it is changed.", example="90 %")
    delivered_fill: Share | None = told("How full it is when the van is handed over.", example="0 %")
    test_due: Day | None = told("Day by which it must be tested again.", example="2034-05-01")
    level: Literal["none", "gauge", "scale", "sensor"] | None = told("How its level is read.")


class GasCylinder(GasStore):
    """A cylinder that is changed when empty."""

    kind: Literal["gas-cylinder"]
    content: Mass | None = told("Gas when full.", example="6 kg")
    tare: Mass | None = told("Mass of the empty cylinder.", example="7.4 kg")
    orientation: Literal["upright", "lying"] | None = told("How it stands as fitted.")
    held_low: str | None = told("What holds its foot.", example="ring on the locker floor")
    held_high: str | None = told("What holds it higher up.", example="strap with over-centre buckle")
    released_without_tools: bool | None = told("Whether it can be taken out without tools.")
    locker: str | None = told("The locker that it stands in; none where it stands outside.")
    spare: bool = told("Whether it is a spare, joined to nothing.", default=False)
    under_way: Literal["open", "closed"] | None = told("Position of its valve while driving.")

    def ports(self) -> tuple[Port, ...]:
        """Return its valve; a spare has none."""
        return () if self.spare else (out("valve", GAS, main=True),)


class GasTank(GasStore):
    """A tank fixed to the van and refilled through a fill point."""

    kind: Literal["gas-tank"]
    volume: Volume | None = told("Water capacity.", example="40 L")
    fill_limit: Share | None = told("Share to which its stop lets it be filled.", example="80 %")
    stop_fill_valve: bool | None = told("Whether a valve in it stops the filling.")
    relief_valve: bool | None = told("Whether it has a pressure-relief valve.")
    mounted: Literal["below the floor", "in a locker", "inside"] | None = told("Where it is fixed.")
    locker: str | None = told("The locker that it stands in, if it stands in one.")
    shut_off: Literal["hand", "solenoid", "both"] | None = told("What closes its outlet.")
    ground_clearance: Length | None = told("Clearance below it when loaded.", example="220 mm")

    def ports(self) -> tuple[Port, ...]:
        """Return filling and outlet."""
        return (into("fill", GAS, main=True), out("valve", GAS, main=True))

    def links(self) -> tuple[Link, ...]:
        """Return the tank between them."""
        return (Link("fill", "valve", one_way=True),)


class GasFiller(Component):
    """The fill point of a fixed tank."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "X"
    kind: Literal["gas-filler"]
    opens_to: Literal["outside", "living space", "locker"] | None = told("The space that it opens to.")
    check_valve: bool | None = told("Whether a check valve is in it.")
    coupling: str | None = told("Its coupling.", example="dish")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe to the tank."""
        return (out("out", GAS, main=True),)


class GasLocker(Component):
    """The locker in which cylinders stand."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "N"
    kind: Literal["gas-locker"]
    floor_area: Area | None = told("Area of its floor.", example="1200 cm²")
    opens_to: Literal["outside", "inside"] | None = told("Where its door opens to.", example="outside")
    door_seal: str | None = told("What seals its door.", example="closed-cell gasket")
    joints: Literal["welded", "bonded and sealed", "sealant only", "unsealed"] | None = told(
        "How its joints towards the living space are made."
    )
    pipe_entry: str | None = told("How pipes and cables pass its wall.", example="bulkhead fitting")
    vent_area_low: Area | None = told("Free area of its low opening to outside.", example="100 cm²")
    vent_height_low: Length | None = told(
        "Height of the low opening's lower edge above its floor.", example="0 mm"
    )
    vent_area_high: Area | None = told("Free area of its high opening to outside.")
    contents: tuple[str, ...] = told("What else stands in it.", default=(), example="[gas-cylinder]")
    electrical_items: tuple[str, ...] = told("Electrical things in it.", default=(), example="[locker-lamp]")
    notice: str | None = told("The words on its door.", example="LPG: no naked flame")


class Regulator(Consumer):
    """A pressure regulator, with its crash sensor and change-over where it has them."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "Q"
    kind: Literal["regulator"]
    outlet_pressure: Pressure | None = told("Regulated pressure.", example="30 mbar")
    greatest_inlet_pressure: Pressure | None = told("Greatest pressure at its inlet.", example="16 bar")
    capacity: MassFlow | None = told("Greatest gas flow.", example="1.5 kg/h")
    renew_after: Duration | None = told("Age at which it is renewed.", example="10 years")
    crash_sensor: bool | None = told("Whether it closes in a crash.")
    hose_rupture_device: bool | None = told("Whether the gas stops when a high-pressure hose breaks.")
    change_over: Literal["none", "hand", "automatic"] = told(
        "How it changes between two cylinders, which then are ports in-1 and in-2.", default="none"
    )
    heated: bool = told("Whether an electric heater keeps it from icing.", default=False)
    mounted: Literal["on the cylinder", "on the wall"] | None = told("Where it is fixed.")
    above_cylinder_valve: bool | None = told("Whether it sits higher than the cylinder valve.")

    def _inlets(self) -> tuple[str, ...]:
        return ("in",) if self.change_over == "none" else ("in-1", "in-2")

    def ports(self) -> tuple[Port, ...]:
        """Return its inlets and outlet, and the supply of its heater."""
        names = self._inlets()
        inlets = tuple(into(name, GAS, needed=len(names) == 1, main=len(names) == 1) for name in names)
        return (*((SUPPLY,) if self.heated else ()), *inlets, out("out", GAS, main=True))

    def links(self) -> tuple[Link, ...]:
        """Return the way from each inlet to the outlet."""
        return tuple(Link(name, "out", one_way=True) for name in self._inlets())


class GasWay(Spec):
    """One outlet of a gas manifold."""

    label: str | None = told("The words beside its valve.", example="Hob")
    shut_off: bool = told("Whether a shut-off valve is in it.", default=True)


class GasManifold(Component):
    """A manifold that parts the gas to the appliances, with a shut-off for each."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "Q"
    kind: Literal["gas-manifold"]
    ways: dict[str, GasWay] = told(
        "The outlets by number or name.", factory=dict, example="{1: {label: Hob}, 2: {label: Heater}}"
    )
    reachable: str | None = told("How a hand gets to it.", example="in the galley's left door")
    test_point: bool | None = told("Whether a test point for the tightness test is on it.")

    def ports(self) -> tuple[Port, ...]:
        """Return the inlet and the ways."""
        return (into("in", GAS, needed=True, main=True), *branches(self.ways, GAS))

    def links(self) -> tuple[Link, ...]:
        """Return the way to each outlet, through its valve where it has one."""
        return tuple(
            Link("in", name, LinkKind.valve if way.shut_off else LinkKind.plain, name=name)
            for name, way in self.ways.items()
        )


class GasValve(Valve):
    """A shut-off valve for gas, by hand or solenoid."""

    system: ClassVar[System] = System.gas
    carries: ClassVar[Medium] = Medium.gas
    kind: Literal["gas-valve"]
    closes_on_alarm: str | None = told("The gas alarm that closes it.", example="gas-alarm")


class GasOutlet(Component):
    """A quick-coupling for an appliance used outside."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "X"
    kind: Literal["gas-outlet"]
    shut_off: bool | None = told("Whether it has its own shut-off.")
    outside: bool | None = told("Whether it sits in the outer wall.")
    gas_flow: MassFlow | None = told("Greatest gas use of what is joined to it.", example="300 g/h")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe to it."""
        return (into("in", GAS, needed=True, main=True),)


class GasDropOut(Component):
    """An opening in the floor through which leaked gas falls out."""

    system: ClassVar[System] = System.gas
    letter: ClassVar[str] = "N"
    kind: Literal["gas-drop-out"]
    free_area: Area | None = told("Free area, mesh taken off.", example="20 cm²")
    below: tuple[str, ...] = told("The appliances, valves or joints whose leaks it drains.", default=())
    mesh: bool | None = told("Whether a mesh keeps insects out.")
    closable: bool | None = told("Whether it can be shut.")
    covered_by: str | None = told("What stands or lies on it.")


KINDS: tuple[type[Component], ...] = (
    GasCylinder,
    GasTank,
    GasFiller,
    GasLocker,
    Regulator,
    GasManifold,
    GasValve,
    GasOutlet,
    GasDropOut,
)
