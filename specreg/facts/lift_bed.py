"""Beds that come down or hang high: what is below, what is in their way, what keeps people in."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.exits import NIGHT
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.under_way import MADE
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.facts.ways import modes_of, room_known
from specreg.model.sleeping import Bed, BedLift, Mattress
from specreg.space.overlap import in_its_way, is_body
from specreg.space.polygon import area, shared
from specreg.space.solid import TOUCH, Solid, solid_of
from specreg.units import Dimension


def _in_shape(bed: Subject, shape: str) -> Solid:
    found = solid_of(bed.id, bed.model, {bed.id: shape})  # type: ignore[arg-type]
    if found is None:
        raise Missing(f"{bed.id}.shapes.{shape}.at")
    return found


def _made(bed: Subject) -> Solid:
    model = bed.model
    assert isinstance(model, Bed)
    if MADE in model.shapes:
        return _in_shape(bed, MADE)
    found = modes_of(bed.van).solid(NIGHT, bed.id)
    if found is None:
        raise Missing(f"{bed.id}.at", f"{bed.id}.size")
    return found


def _others(bed: Subject, mode: str) -> list[Solid]:
    """Return the bodies that stand about a bed in one mode: not its own parts and mattress."""
    build, made = bed.van.build, _made(bed)
    return [
        other
        for other in modes_of(bed.van).solids(mode)
        if other.blocks and is_body(build.components[other.id]) and in_its_way(build, made, other)
    ]


def _below(bed: Subject) -> tuple[float, tuple[str, ...]]:
    """Return the height of the highest thing below a made bed, and what is that high; the floor is 0."""
    made = _made(bed)
    found: dict[str, float] = {}
    for other in _others(bed, NIGHT):
        if other.top <= made.bottom + TOUCH and area_shared(made, other) > TOUCH:
            found[other.id] = other.top
    highest = max([0.0, *found.values()])
    return highest, tuple(name for name, top in found.items() if top > highest - TOUCH and top > 0)


def area_shared(first: Solid, second: Solid) -> float:
    """Return the area that two solids share in plan, in m²."""
    common = shared(first.footprint, second.footprint)
    return area(common) if len(common) > 2 else 0.0


@fact(
    Bed,
    number(Dimension.length),
    formula="underside when made − top of the highest thing below its outline by night, else the floor",
    source="geometry",
)
def clearance_below(bed: Subject) -> float:
    """Room between the made bed and what stands below it."""
    return _made(bed).bottom - _below(bed)[0]


@fact(Bed, list_of(text()), formula="the highest things below its outline by night", source="geometry")
def stands_below(bed: Subject) -> tuple[str, ...]:
    """What stands highest below the made bed."""
    return tuple(bed.van.name_of(name) for name in _below(bed)[1]) or ("the floor",)


@fact(
    Bed,
    list_of(text()),
    formula="bodies that share room with the prism from its place when stowed down to its place when made",
    source="geometry",
)
def in_its_travel(bed: Subject) -> tuple[str, ...]:
    """Things that stand in its way by night when it comes down."""
    return _in_travel(bed, NIGHT)


@fact(
    Bed,
    list_of(text()),
    formula="bodies in the same prism by day that do not stand there by night",
    source="geometry",
)
def cleared_before(bed: Subject) -> tuple[str, ...]:
    """What must be put away before it comes down."""
    by_night = set(_in_travel(bed, NIGHT))
    return tuple(name for name in _in_travel(bed, "day") if name not in by_night)


def _in_travel(bed: Subject, mode: str) -> tuple[str, ...]:
    model = bed.model
    assert isinstance(model, Bed)
    others = [shape for shape in model.shapes if shape != MADE]
    if not others:
        return ()
    made, stowed = _made(bed), _in_shape(bed, model.usual_shape if model.usual_shape in others else others[0])
    low, high = min(made.bottom, stowed.bottom), max(made.top, stowed.top)
    prism = Solid(bed.id, bed.kind, made.footprint, low, high)
    return tuple(bed.van.name_of(other.id) for other in _others(bed, mode) if prism.overlap(other))


@fact(
    Bed,
    number(Dimension.length),
    formula="lowest thing above the surface within its outline by night, else the roof − surface",
    source="geometry",
)
def free_above(bed: Subject) -> float:
    """Room above the mattress."""
    made, room = _made(bed), room_known(bed.van)
    surface = _surface(bed, made)
    above = [
        other.bottom
        for other in _others(bed, NIGHT)
        if other.bottom >= surface - TOUCH and area_shared(made, other) > TOUCH
    ]
    return min([room.height, *above]) - surface


def _surface(bed: Subject, made: Solid) -> float:
    stated = bed.get("surface_height")
    if stated is not None:
        return float(stated)
    thick = [m.get("thickness") for m in bed.van.of_class(Mattress) if m.get("lies_on") == bed.id]
    return made.top + sum((float(t) for t in thick if t), 0.0)


@fact(Bed, number(Dimension.length), formula="bottom of its box when made", source="16 CFR 1213.2")
def foundation_height(bed: Subject) -> float:
    """Height of the underside of its foundation above the floor when made."""
    return _made(bed).bottom


@fact(
    Bed, list_of(text()), formula="sides over which people leave it that no guard covers", source="the spec"
)
def unguarded_sides(bed: Subject) -> tuple[str, ...]:
    """Open sides without a guard."""
    sides = tuple(side for side in bed.open_sides if side != "below")
    if not sides:
        raise Missing(f"{bed.id}.open_sides")
    return tuple(side for side in sides if side not in bed.guard_side)


@fact(Bed, TRUTH, formula="it hangs or folds, or children sleep in the van", source="16 CFR 1213, 1513")
def falls_matter(bed: Subject) -> bool:
    """Whether people must be kept from falling out of it: a bunk, or any bed where children sleep."""
    bunk = bed.get("form") in {"fold-down bunk", "motor-lifted", "roof bed"}
    return bunk or bed.van.build.header.use.people.children > 0


@fact(Bed, TRUTH, formula="named by it, or naming it", source="the spec")
def has_lift(bed: Subject) -> bool:
    """Whether a motor moves it."""
    return bed.get("form") == "motor-lifted" or any(_lift_of(bed))


def _lift_of(bed: Subject) -> list[Subject]:
    named = bed.get("lifted_by")
    return [lift for lift in bed.van.of_class(BedLift) if lift.id == named or lift.get("lifts") == bed.id]


@fact(
    Bed,
    TRUTH,
    formula="its lift runs only while a button is held, or stops on an obstacle",
    source="the spec",
)
def lift_stops(bed: Subject) -> bool:
    """Whether its lift stops before it harms somebody."""
    lifts = _lift_of(bed)
    if not lifts:
        raise Missing(f"{bed.id}.lifted_by")
    return all(lift.get("stops_on_obstacle") or lift.hold_to_run for lift in lifts)
