"""How large the sides of the living space are: stated, or from its box with a bracket."""

from __future__ import annotations

from typing import NamedTuple

from specreg.facts.engine import Facts, Subject
from specreg.model.air import Glazing, RoofFan
from specreg.model.heat import InsulationLayer
from specreg.model.structure import Exit

SIDES = ("roof", "left wall", "right wall", "rear doors", "side door", "floor", "cab")
BRACKET = 0.1
"""How far a side may be from the area that the box of the interior gives: common practice, no source."""


class Span(NamedTuple):
    """The two ends between which a figure lies."""

    least: float
    greatest: float


def side_area(van: Facts, side: str) -> Span:
    """Return the area of a side in m², windows included; raises Missing where even the box is unknown."""
    stated = getattr(van.build.header.vehicle.shell, side.replace(" ", "_"))
    if stated is not None:
        shell = van.whole.vehicle.shell
        return Span(*[float(getattr(shell, side.replace(" ", "_")))] * 2)
    if side == "side door":
        found = side_door(van)
        return Span(found, found)
    van.assume(f"{side}: area taken from the box of the interior, within ± {BRACKET:.0%}")
    area = _of_box(van, side)
    return Span(area * (1 - BRACKET), area * (1 + BRACKET))


def _of_box(van: Facts, side: str) -> float:
    room = van.whole.vehicle.interior
    if side in ("roof", "floor"):
        return float(room.length * room.width)
    if side in ("rear doors", "cab"):
        return float(room.width * room.height)
    cut = side_door(van) if side == _wall_of_door(van) else 0.0
    return max(0.0, float(room.length * room.height) - cut)


def _doors(van: Facts) -> list[Exit]:
    exits = [part for part in van.build.components.values() if isinstance(part, Exit)]
    return [door for door in exits if door.where == "side" and door.form != "window"]


def _wall_of_door(van: Facts) -> str:
    return next(("left wall" if d.at[1] < 0 else "right wall" for d in _doors(van) if d.at), "right wall")


def side_door(van: Facts) -> float:
    """Return the area in m² of the side door: stated, else its clear opening, else what is laid on it."""
    stated = van.build.header.vehicle.shell.side_door
    if stated is not None:
        return stated
    sizes = [d.opening_width * d.opening_height for d in _doors(van) if d.opening_width and d.opening_height]
    layers = [part for part in van.build.components.values() if isinstance(part, InsulationLayer)]
    laid = [one.area for one in layers if one.surface == "side door" and one.area]
    return max([*sizes, *laid], default=0.0)


def pane_area(pane: Subject) -> float:
    """Return the area in m² of the opening of a window, hatch or fan in the body. Raises Missing."""
    if isinstance(pane.model, RoofFan):
        along, across = pane.opening_size
        return float(along * across)
    stated = pane.get("area")
    if stated is not None:
        return float(stated)
    size = pane.get("size")
    if size is None:
        return float(pane.area)
    first, second = sorted(size)[1:]
    return float(first * second)


def panes(van: Facts) -> list[Subject]:
    """Return every window and hatch, and the roof fans whose cut-out is stated."""
    fans = [fan for fan in van.of_class(RoofFan) if fan.get("opening_size") is not None]
    return [*van.of_class(Glazing), *fans]


def side_of(pane: Subject) -> str:
    """Return the side that a window, hatch or fan is cut into."""
    if isinstance(pane.model, RoofFan):
        return "roof"
    stated = pane.get("surface")
    return str(stated) if stated else ("roof" if pane.kind == "roof-hatch" else "right wall")
