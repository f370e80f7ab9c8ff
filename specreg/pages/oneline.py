"""One-line diagrams: the trees of a medium laid out with symbols, marks, devices and sizes.

Every thing has a row of its own; a line leads to it from the thing above it, with the fuse or breaker on it
over the line and the conductor or bore under it. Widths are in units of the drawing, about a pixel each.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from specreg.facts.value_type import ValueType
from specreg.model.component import Component
from specreg.model.device import ProtectiveDevice
from specreg.model.port import Medium
from specreg.model.run import Run
from specreg.pages.lines import Branch, Knot, trees
from specreg.pages.symbols import Symbol, symbol_of
from specreg.pages.van import Van
from specreg.units import Dimension

ROW = 46.0
STEP = 124.0
HALF = 12.0
TEXT = 6.4
"""Room that one letter of the words takes, on the wide side."""
MARGIN = 16.0
LONGEST = 44
"""A name longer than this many letters is cut; the table beside the drawing has it whole."""

ROOTS: dict[Medium, tuple[str, ...]] = {
    Medium.dc: ("battery", "alternator", "solar-panel"),
    Medium.ac: ("shore-inlet", "generator", "inverter-charger", "inverter"),
    Medium.water: ("fresh-tank", "filler"),
    Medium.waste: ("sink", "shower-tray", "toilet"),
    Medium.gas: ("gas-cylinder", "gas-tank"),
    Medium.fuel: ("fuel-tank", "fuel-takeoff", "fuel-can"),
}
"""The kinds at which the drawing of a medium begins, best first."""

TOLD = (
    "capacity",
    "volume",
    "power",
    "mains_power",
    "rated_power",
    "input",
    "rated_current",
    "charge_current",
)
"""What is said under a thing's name: the first of these that is stated."""

CURRENT = ValueType("number", dimension=Dimension.current)


class Line(NamedTuple):
    """The way to a thing: down from the one above at `from_y`, then across; what is on it and what it is."""

    x: float
    from_y: float
    to_x: float
    over: str
    under: str
    fuses: tuple[float, ...]
    breakers: tuple[float, ...]


class Item(NamedTuple):
    """One thing with its symbol and words; `href` leads to where it is listed."""

    thing: str
    x: float
    y: float
    symbol: Symbol
    mark: str
    name: str
    told: str
    href: str
    again: bool
    line: Line | None


class OneLine(NamedTuple):
    """A whole diagram."""

    width: float
    height: float
    items: tuple[Item, ...]


def one_line(van: Van, *media: Medium) -> OneLine | None:
    """Return the diagram of some media together; None where nothing is joined on them."""
    found = trees(van.build, van.facts.net, media, roots(van, media))
    items: list[Item] = []
    for tree in found:
        items += _laid(van, tree, len(items))
    if not items:
        return None
    width = max(
        item.x + 20 + TEXT * max(len(item.mark) + len(item.name) + 1, len(item.told)) for item in items
    )
    return OneLine(width + 2 * MARGIN, len(items) * ROW + MARGIN, tuple(items))


def roots(van: Van, media: tuple[Medium, ...]) -> list[str]:
    """Return where the drawing begins: the largest store of the best kind first."""
    kinds = [kind for medium in media for kind in ROOTS.get(medium, ())]
    found = [(name, one) for name, one in van.build.components.items() if one.kind in kinds]
    return [
        name for name, one in sorted(found, key=lambda pair: (kinds.index(pair[1].kind), -_size(pair[1])))
    ]


def _size(component: Component) -> float:
    """Return how much a store holds, a starter battery as little as can be."""
    if getattr(component, "starts_engine", None) or getattr(component, "role", None) == "starter":
        return 0.0
    return float(getattr(component, "capacity", None) or getattr(component, "volume", None) or 0.0)


def _laid(van: Van, tree: Knot, before: int) -> Iterator[Item]:
    """Yield the rows of one tree; the row above and the column of each thing give its line."""
    at: list[float] = []
    for number, (depth, knot) in enumerate(tree.rows(), before):
        x, y = MARGIN + HALF + depth * STEP, MARGIN + HALF + number * ROW
        line = _line(van, knot.branch, x, at[depth - 1]) if knot.branch else None
        at[depth:] = [y]
        yield _item(van, knot, x, y, line)


def _item(van: Van, knot: Knot, x: float, y: float, line: Line | None) -> Item:
    owner = knot.thing.partition("/")[0]
    component = van.build.components[owner]
    name = van.name(knot.thing)
    short = name if len(name) <= LONGEST else f"{name[: LONGEST - 1]}…"
    said = van.texts("oneline.again") if knot.again else _told(van, component, knot.thing)
    mark = van.designation(knot.thing) or van.designation(owner)
    return Item(
        knot.thing, x, y, symbol_of(component), mark, short, said, f"parts.html#{owner}", knot.again, line
    )


def _told(van: Van, component: Component, thing: str) -> str:
    """Return what is said under the name: the words at the switch, else the first figure that is stated."""
    _, _, way = thing.partition("/")
    label = getattr((getattr(component, "ways", None) or {}).get(way), "label", None)
    if label:
        return f"“{label}”"
    inside = [van.facts.devices[d] for d in _own(van, component, thing)]
    if inside:
        return ", ".join(_rating(van, device) for device in inside)
    field = next((name for name in TOLD if getattr(component, name, None)), None)
    return van.field(component, field) if field else ""


def _own(van: Van, component: Component, thing: str) -> Iterator[str]:
    """Yield the devices that stand in a thing before its ways: a main breaker, a residual-current switch."""
    for name, device in van.facts.devices.items():
        owner, _, way = name.partition("/")
        if owner == thing and (not way or way == "main") and device.rating:
            yield name


def _rating(van: Van, device: ProtectiveDevice) -> str:
    said = van.value(device.rating, CURRENT)
    return f"{said}, {van.field(device, 'residual_current')}" if device.residual_current else said


def _line(van: Van, branch: Branch, x: float, from_y: float) -> Line:
    devices = [(name, van.facts.devices[name]) for name in branch.devices if van.facts.devices[name].rating]
    over = " ".join(f"{van.designation(name)} {_rating(van, device)}".strip() for name, device in devices)
    start, gap = x - STEP, (STEP - 2 * HALF) / (len(devices) + 1)
    places = [start + HALF + gap * (number + 1) for number in range(len(devices))]
    fuses = tuple(p for p, (_, device) in zip(places, devices, strict=True) if device.fuse is not None)
    breakers = tuple(p for p in places if p not in fuses)
    return Line(
        start, from_y + HALF, x - HALF, over, _size_of(van, van.build.runs[branch.run]), fuses, breakers
    )


def _size_of(van: Van, run: Run) -> str:
    """Return a run's conductor or bore, and its length."""
    said = [
        van.field(run, name)
        for name in ("conductor", "bore", "length")
        if getattr(run, name, None) is not None
    ]
    return " · ".join(said)
