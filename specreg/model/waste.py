"""Waste water and toilets: tanks, traps, sinks, valves, vents and outlets."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, LoadKind, System
from specreg.model.field import told
from specreg.model.fluid import InLine, Tank, Valve, into, numbered, out
from specreg.model.port import Link, Medium, Port
from specreg.model.quantity import Flow, Length, Volume

WASTE = Medium.waste


class WasteTank(Tank):
    """What the tanks for waste have."""

    system: ClassVar[System] = System.waste
    inlets: int = told("How many pipes enter it; more than one are ports inlet-1, inlet-2 …", default=1)
    drain_bore: Length | None = told("Inner diameter of its drain.", example="40 mm")
    odour_trap: str | None = told("What keeps its smell out of the living space.", example="trap at the sink")

    def ports(self) -> tuple[Port, ...]:
        """Return inlets, drain and vent."""
        names = numbered("inlet", self.inlets)
        inlets = tuple(into(name, WASTE, main=self.inlets == 1) for name in names)
        return (*inlets, out("drain", WASTE, main=True), out("vent", WASTE))

    def links(self) -> tuple[Link, ...]:
        """Return the way from each inlet to the drain; the vent is no way for water."""
        return tuple(Link(name, "drain", one_way=True) for name in numbered("inlet", self.inlets))


class GreyTank(WasteTank):
    """A tank for water from sinks and shower."""

    kind: Literal["grey-tank"]


class BlackTank(WasteTank):
    """A tank for toilet waste."""

    kind: Literal["black-tank"]
    rinse: Literal["none", "spray", "spray through a vacuum breaker"] | None = told(
        "How it is rinsed from a hose."
    )


class UrineTank(WasteTank):
    """A tank or container for urine."""

    kind: Literal["urine-tank"]
    removable: bool | None = told("Whether it is carried out to be emptied.")


class Cassette(Tank):
    """A toilet cassette, carried out to be emptied."""

    system: ClassVar[System] = System.waste
    kind: Literal["cassette"]
    access: Literal["outer door", "inside"] | None = told("Where it is taken out.")
    pressure_release: bool | None = told("Whether a vent in it opens when the flap does.")
    additive: str | None = told("The fluid that it is used with.")

    def ports(self) -> tuple[Port, ...]:
        """Return inlet and vent; it has no drain."""
        return (into("inlet", WASTE, main=True), out("vent", WASTE))


class Basin(Component):
    """Something with a plug-hole."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "C"
    volume: Volume | None = told("Water that it holds.", example="8 L")
    trap: Literal["none", "siphon", "waterless valve"] | None = told("The odour trap at its drain.")
    drain_bore: Length | None = told("Inner diameter of its drain.", example="25 mm")
    drains: int = told("How many plug-holes; more than one are ports drain-1, drain-2 …", default=1)

    def ports(self) -> tuple[Port, ...]:
        """Return its drains."""
        names = numbered("drain", self.drains)
        return tuple(out(name, WASTE, main=self.drains == 1) for name in names)


class Sink(Basin):
    """A sink or wash-basin."""

    kind: Literal["sink"]
    place: Literal["galley", "washroom", "outside"] | None = told("The use that it is for.")


class ShowerTray(Basin):
    """A shower tray or wet-room floor."""

    kind: Literal["shower-tray"]


class DrainTrap(InLine):
    """An odour trap in a waste pipe."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "R"
    carries: ClassVar[Medium] = Medium.waste
    kind: Literal["drain-trap"]
    form: Literal["siphon", "bottle", "hose loop", "waterless valve"] | None = told("How it closes.")
    seal_depth: Length | None = told("Depth of its water seal.", example="40 mm")
    frost_safe: bool | None = told("Whether frost leaves it whole.")


class WasteTee(Component):
    """A tee that joins waste pipes."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "W"
    kind: Literal["waste-tee"]
    inlets: int = told("How many pipes enter it; they are ports 1, 2, 3 …", default=2)

    def _names(self) -> tuple[str, ...]:
        return tuple(str(n) for n in range(1, self.inlets + 1))

    def ports(self) -> tuple[Port, ...]:
        """Return the numbered inlets and the outlet."""
        return (*(into(name, WASTE) for name in self._names()), out("out", WASTE, main=True))

    def links(self) -> tuple[Link, ...]:
        """Return the way of each inlet to the outlet."""
        return tuple(Link(name, "out") for name in self._names())


class Toilet(Consumer):
    """A toilet of any form; its ports lead to the tanks that it fills."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "H"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    kind: Literal["toilet"]
    form: Literal["cassette", "portable", "flush to tank", "urine-diverting", "composting"] | None = told(
        "How it works."
    )
    flush_from: Literal["none", "fresh water", "own tank"] | None = told("Where its flushing water is from.")
    flush_volume: Volume | None = told("Water of one flush.", example="0.3 L")
    own_tank: Volume | None = told("Volume of its own flushing tank.", example="12 L")
    solids_volume: Volume | None = told("Volume of the solids container inside it.", example="8 L")
    urine_volume: Volume | None = told("Volume of the urine container inside it.", example="6 L")
    electric: bool = told("Whether a pump, fan or stirrer in it needs current.", default=False)
    fan_flow: Flow | None = told("Air drawn by its fan.", example="15 m³/h")

    def ports(self) -> tuple[Port, ...]:
        """Return what its form joins: flush, solids or soil, urine, vent, supply."""
        dry = self.form in ("urine-diverting", "composting")
        flush = (into("flush", Medium.water, needed=True, main=True),)
        dry_soil = (out("urine", WASTE, main=True), out("solids", WASTE))
        soil = dry_soil if dry else (out("soil", WASTE, main=True),)
        air = (out("vent", Medium.air, main=True),) if dry else ()
        return (
            *((SUPPLY,) if self.electric else ()),
            *(flush if self.flush_from == "fresh water" else ()),
            *soil,
            *air,
        )


class WastePump(Consumer):
    """A pump for waste: shower tray, grey water or macerator."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "G"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    kind: Literal["waste-pump"]
    macerates: bool | None = told("Whether it cuts up what it pumps.")
    greatest_flow: Flow | None = told("Flow against no head.", example="12 L/min")
    dry_run_protection: bool | None = told("Whether it stops, or bears it, when it runs dry.")

    def ports(self) -> tuple[Port, ...]:
        """Return supply, suction and delivery."""
        return (
            SUPPLY,
            into("inlet", WASTE, needed=True, main=True),
            out("outlet", WASTE, main=True),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the way through, which it pushes one way."""
        return (Link("inlet", "outlet", one_way=True),)


class WasteValve(Valve):
    """A valve in a waste pipe: dump valve of a tank, or shut-off."""

    system: ClassVar[System] = System.waste
    carries: ClassVar[Medium] = Medium.waste
    kind: Literal["waste-valve"]
    form: Literal["slide", "ball", "flap"] | None = told("How it closes.")


class DrainOutlet(Component):
    """Where waste leaves the van."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "X"
    kind: Literal["drain-outlet"]
    bore: Length | None = told("Inner diameter.", example="40 mm")
    cap: bool | None = told("Whether a cap closes it.")
    coupling: str | None = told("What a hose is joined with.", example="bayonet, 3 in")

    def ports(self) -> tuple[Port, ...]:
        """Return the pipe to it."""
        return (into("in", WASTE, needed=True, main=True),)


class WasteVent(Component):
    """Where a waste tank or pipe is vented."""

    system: ClassVar[System] = System.waste
    letter: ClassVar[str] = "X"
    kind: Literal["waste-vent"]
    form: Literal["open", "air admittance valve", "filter"] | None = told("How it ends.")
    opens_to: Literal["outside", "living space", "under floor"] | None = told("The space that it opens to.")
    passes: Literal["both ways", "inwards", "outwards"] | None = told("Which way air passes as fitted.")
    inlets: int = told("How many pipes end in it; more than one are ports 1, 2 …", default=1)

    def ports(self) -> tuple[Port, ...]:
        """Return the pipes to it."""
        if self.inlets == 1:
            return (into("in", WASTE, main=True),)
        return tuple(into(str(n), WASTE) for n in range(1, self.inlets + 1))


KINDS: tuple[type[Component], ...] = (
    GreyTank,
    BlackTank,
    UrineTank,
    Cassette,
    Sink,
    ShowerTray,
    DrainTrap,
    WasteTee,
    Toilet,
    WastePump,
    WasteValve,
    DrainOutlet,
    WasteVent,
)
