"""Walking about in the van: how wide the aisle is, how high people can stand, and what limits both."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import number, text
from specreg.facts.ways import STATED, modes_of, room_known, worded
from specreg.model.build import Header
from specreg.model.furniture import Worktop
from specreg.model.sleeping import Bed
from specreg.model.structure import Exit
from specreg.space.grid import STEP, Rows, both, count, either, flooded, grown, shifted, without
from specreg.space.overlap import is_body
from specreg.space.solid import Solid
from specreg.space.walkway import REACH, REACH_OVER, STOOP, Walkway, around
from specreg.units import Dimension

STANDING = 0.40
"""Side of the square on which a person stands upright, in m: our judgement, no source."""

HEAD = 0.20
"""Side of the square that a head needs, in m: our judgement, no source."""

LEAST_FLOOR = 0.3
"""Area of free floor in m² below which a van is entered through its doors alone and has no aisle."""


def _walk(build: Subject) -> Walkway:
    room_known(build.van)
    walk = modes_of(build.van).walk(build.case)
    assert walk is not None
    return walk


def _entrance(build: Subject, walk: Walkway) -> Rows:
    """Return the free cells at the doors of the living space. Raises Missing where no door has a place."""
    found = walk.grid.none
    doors = [
        exit_
        for exit_ in build.van.of_class(Exit)
        if exit_.get("where") in {"side", "rear"} and str(exit_.get("form")).endswith("door")
    ]
    for door in doors:
        solid = modes_of(build.van).solid(build.case, door.id)
        if solid is not None:
            found = tuple(a | b for a, b in zip(found, around(walk, solid.span, REACH), strict=True))
    if not doors or not any(found):
        raise Missing(reason="no door of the living space has a place with free floor before it")
    return found


def _goals(build: Subject, walk: Walkway) -> Iterator[tuple[str, Rows]]:
    """Yield made beds and worktops with the floor before them; none where the van has no floor to walk on."""
    if count(walk.floor) * STEP * STEP < LEAST_FLOOR:
        return
    for thing in (*build.van.of_class(Bed), *build.van.of_class(Worktop)):
        solid = modes_of(build.van).solid(build.case, thing.id)
        if solid is not None and solid.blocks and solid.shape != "stowed":
            yield thing.id, both(walk.floor, around(walk, solid.span, REACH_OVER))


def _aisles(build: Subject) -> Iterator[tuple[float, str, Rows]]:
    """Yield width, thing and the cells before it, for each thing that people walk to."""
    walk = _walk(build)
    goals = list(_goals(build, walk))
    start = _entrance(build, walk) if goals else walk.grid.none
    for name, goal in goals:
        yield walk.widest(start, goal, floor_only=True), name, goal


@fact(
    Header,
    number(Dimension.length),
    formula=f"least over made beds and worktops of the widest way along the floor from the doors, {STATED}, "
    "at most 1 m",
    source="geometry",
    axis=Axis.mode,
)
def aisle_width(build: Subject) -> float | None:
    """Width of the aisle from the doors to beds and worktops at its narrowest."""
    return min((width for width, _, _ in _aisles(build)), default=None)


@fact(Header, text(), formula="where a wider square no longer passes", source="geometry", axis=Axis.mode)
def aisle_narrowest(build: Subject) -> str | None:
    """The narrowest place of the aisle: how far behind the front axle, and what stands there."""
    worst = min(_aisles(build), default=None, key=lambda item: item[0])
    if worst is None:
        return None
    walk = _walk(build)
    place = (
        walk.narrowest_place(_entrance(build, walk), worst[2], worst[0], floor_only=True)
        if worst[0]
        else None
    )
    if place is None:
        return "nowhere narrower" if worst[0] else f"no way on foot to {build.van.name_of(worst[1])}"
    return worded(build.van, place)


def _headroom(build: Subject) -> tuple[float, str] | None:
    """Return the greatest height in which people walk upright to all they use, and what limits it."""
    room, walk = room_known(build.van), _walk(build)
    goals = [goal for _, goal in _goals(build, walk)]
    if not goals:
        return None
    start, components = _entrance(build, walk), build.van.build.components
    hanging = [
        one
        for one in modes_of(build.van).solids(build.case)
        if STOOP <= one.bottom < room.height and one.blocks and is_body(components[one.id])
    ]
    height, what = room.height, "the roof"
    for one in sorted(hanging, key=lambda one: -one.bottom):
        if _upright(walk, start, goals, [lower for lower in hanging if lower.bottom <= one.bottom]):
            break
        height, what = one.bottom, build.van.name_of(one.id)
    return height, what


def _upright(walk: Walkway, start: Rows, goals: list[Rows], hanging: list[Solid]) -> bool:
    """Tell whether people get from the doors to every goal with no head below what hangs."""
    cells, head = round(STANDING / STEP), round(HEAD / STEP)
    covered = walk.grid.none
    for one in hanging:
        covered = either(covered, walk.grid.covered(one.footprint))
    heads = shifted(grown(covered, head), -(cells - head) // 2)
    squares = without(walk.squares(cells, True), heads)
    reached = flooded(squares, both(squares, grown(start, cells)))
    return all(any(both(reached, grown(goal, cells))) for goal in goals)


@fact(
    Header,
    number(Dimension.length),
    formula="greatest height in which 400 mm of width, with 200 mm for the head, get from the doors to "
    "all made beds and all worktops",
    source="geometry",
    axis=Axis.mode,
)
def standing_height(build: Subject) -> float | None:
    """Standing height along the walkway."""
    found = _headroom(build)
    return found[0] if found else None


@fact(Header, text(), formula="what hangs lowest over the walkway", source="geometry", axis=Axis.mode)
def standing_under(build: Subject) -> str | None:
    """What limits the standing height."""
    found = _headroom(build)
    return found[1] if found else None
