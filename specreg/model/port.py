"""Where a component can be joined to a run, and what joins its ports inside."""

from dataclasses import dataclass, field
from typing import NamedTuple

from specreg.model.device import ProtectiveDevice
from specreg.model.field import Word


class Medium(Word):
    """What a run carries."""

    dc = "dc"
    ac = "ac"
    water = "water"
    waste = "waste"
    gas = "gas"
    fuel = "fuel"
    air = "air"
    exhaust = "exhaust"
    control = "control"
    support = "support"


class Role(Word):
    """What a port is to its medium: for dc the polarity, elsewhere the whole of the run."""

    positive = "positive"
    negative = "negative"
    pair = "pair"
    cable = "cable"
    earth = "earth"
    flow = "flow"


class Way(Word):
    """Which end of a run a port takes: `into` the component, `out` of it, or either."""

    into = "into"
    out = "out"
    either = "either"


CORES: dict[Role, tuple[str, ...]] = {
    Role.positive: ("positive",),
    Role.negative: ("negative",),
    Role.pair: ("positive", "negative"),
    Role.cable: ("line", "neutral", "earth"),
    Role.earth: ("earth",),
    Role.flow: ("flow",),
}
"""The cores of a port by its role: the graph has a terminal for each."""


@dataclass(frozen=True, slots=True)
class Port:
    """One place where a run may end.

    `key` names the port's terminals in the graph; it differs from `name` only where one way of a box
    has an incoming and an outgoing side. `needed` says that the component is dead without a supply here.
    `main` is the port that a run means when it names the component alone.
    """

    name: str
    medium: Medium
    role: Role = Role.flow
    way: Way = Way.either
    needed: bool = False
    main: bool = False
    side: str = ""

    @property
    def key(self) -> str:
        """Return the port's name within its component, unique there."""
        return f"{self.name} {self.side}" if self.side else self.name

    @property
    def cores(self) -> tuple[str, ...]:
        """Return the names of the terminals behind this port."""
        return CORES[self.role]


class LinkKind(Word):
    """What joins two ports inside a component."""

    plain = "plain"
    device = "device"
    switch = "switch"
    contact = "contact"
    valve = "valve"
    conversion = "conversion"
    cell = "cell"


@dataclass(frozen=True, slots=True)
class Link:
    """A joint inside a component between two of its ports.

    `kind` tells a bar (`plain`) from a fuse or breaker (`device`), a hand-operated `switch` or `valve`,
    a `contact` that closes by itself, and a `conversion`, which hands on a supply but no fault current.
    A `cell` is a battery above another in series: fault current passes it, either way.
    `cores` limits the joint to some cores (a single-pole breaker leaves the neutral through-connected).
    `modes` names the source modes in which a contact is closed; empty means in every mode.
    `one_way` holds for conversions, check valves and diodes: supply passes from `a` to `b` only.
    """

    a: str
    b: str
    kind: LinkKind = LinkKind.plain
    cores: tuple[str, ...] = ()
    device: ProtectiveDevice | None = None
    modes: frozenset[str] = field(default_factory=frozenset)
    one_way: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True)
class Feed:
    """A port at which a component can push current into a short circuit.

    `limit` is the greatest current, in ampere, of a source that limits itself; None means that it does
    not, so that only a protective device bounds what flows. `fault_current` is the prospective current
    at its terminals in ampere, where known. `modes` as for a link. `nominal` is in volt.
    """

    port: str
    limit: float | None
    fault_current: float | None
    nominal: float | None = None
    modes: frozenset[str] = field(default_factory=frozenset)
    missing: tuple[str, ...] = ()


class Terminal(NamedTuple):
    """A node of the graph: one core at one port of one component (or of a run's in-line device)."""

    component: str
    port: str
    core: str

    def __str__(self) -> str:
        """Return the way a spec writes it."""
        return f"{self.component}/{self.port}" if self.port else self.component
