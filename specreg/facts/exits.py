"""The ways out of each bed at night: what opens from inside, is large enough, and not shut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text
from specreg.facts.ways import too_narrow
from specreg.model.air import OpeningGlazing
from specreg.model.furniture import Partition
from specreg.model.shape import Shaped
from specreg.model.sleeping import Bed, Curtain
from specreg.model.structure import AwningBody, BikeCarrier, Exit, PopTop

NIGHT = "night"
"""The mode in which beds are made."""

LEAST_OPENING = (0.432, 0.610)
"""Clear opening that lets a person through, in m: 17 in × 24 in (NFPA 1192 6.2, from memory)."""

APART = 1.0
"""Distance of two exits on one side from which they count as two, in m: common practice, no source."""

COVERED = 0.5
"""Share of an opening behind something from which it counts as shut: our judgement, no source."""

REACH = 0.10
"""How far before an opening something may stand and still shut it, in m: our judgement, no source."""

SIDE_OF = {"left wall": "side", "right wall": "side", "side door": "side", "rear doors": "rear"}

Triple = tuple[float, float, float]


@dataclass(frozen=True)
class Box:
    """A box in the van's frame."""

    at: Triple
    size: Triple

    @property
    def middle(self) -> Triple:
        """Return its centre."""
        x, y, z = (a + s / 2 for a, s in zip(self.at, self.size, strict=True))
        return x, y, z


@dataclass(frozen=True)
class Way:
    """An opening through which a person could leave, and what shuts it."""

    id: str
    name: str
    side: str
    box: Box | None
    shut_by: tuple[str, ...]


def night_box(thing: Subject) -> Box | None:
    """Return the box of a thing with shapes by night; None where it has none or lets people pass."""
    assert isinstance(thing.model, Shaped)
    mode = thing.van.build.header.modes.get(NIGHT, {})
    shape = thing.model.in_shape(mode.get(thing.id))
    if not shape.blocks or shape.at is None or shape.size is None:
        return None
    return Box(shape.at, shape.size)


def covered_share(opening: Box, thing: Box) -> float:
    """Return the share of an opening, seen along its thinnest side, behind a thing close to it."""
    thin = min(range(3), key=lambda axis: opening.size[axis])
    share = 1.0
    for axis in range(3):
        reach = REACH if axis == thin else 0.0
        low = max(opening.at[axis] - reach, thing.at[axis])
        high = min(opening.at[axis] + opening.size[axis] + reach, thing.at[axis] + thing.size[axis])
        if high <= low:
            return 0.0
        if axis != thin:
            share *= (high - low) / opening.size[axis]
    return share


def _obstacles(bed: Subject, opening: Way, ignore: frozenset[str]) -> Iterator[str]:
    """Yield what stands before an opening by night, the bed itself and what it is made from left out."""
    if opening.box is None:
        return
    for thing in bed.van.of_class(Shaped):
        passes = isinstance(thing.model, PopTop | AwningBody | BikeCarrier | Curtain)
        if passes or thing.id in ignore or thing.get("fixed_to") == opening.id:
            continue
        box = night_box(thing)
        if box is not None and covered_share(opening.box, box) >= COVERED:
            yield thing.name


def _way(bed: Subject, exit_: Subject) -> Way | None:
    """Return the way through an exit; None where it is none. Raises Missing where that cannot be said."""
    model = exit_.model
    ignore = frozenset({bed.id, exit_.id, *bed.made_from})
    if isinstance(model, Exit):
        if not exit_.opens_from_inside or model.needs_power or not _exit_large_enough(exit_):
            return None
        side = str(exit_.where)
        shut = tuple(name for name in model.shut_by if _shuts(exit_.van, name))
    else:
        assert isinstance(model, OpeningGlazing)
        if not _glazing_counts(model):
            return None
        side = SIDE_OF.get(str(model.surface), str(model.surface))
        shut = model.blocked_by
    box = Box(model.at, model.size) if model.at is not None and model.size is not None else None
    names = tuple(exit_.van.name_of(name) for name in shut)
    way = Way(exit_.id, exit_.name, side, box, ())
    walled = _walled_off(exit_.van) if side == "cab" else ()
    shut_by = (*names, *walled, *_obstacles(bed, way, ignore))
    if not shut_by:
        narrow = too_narrow(bed, exit_.id, NIGHT)
        shut_by = (narrow,) if narrow else ()
    return Way(way.id, way.name, side, box, shut_by)


def _exit_large_enough(exit_: Subject) -> bool:
    part = exit_.get("is_part")
    if part in exit_.van.build.components and exit_.get("opening_width") is None:
        glazing = exit_.van.subject(part)
        return _large_enough(glazing.clear_width, glazing.clear_height)
    return _large_enough(exit_.opening_width, exit_.opening_height)


def _large_enough(width: float, height: float) -> bool:
    narrow, wide = sorted((width, height))
    return narrow >= LEAST_OPENING[0] and wide >= LEAST_OPENING[1]


def _glazing_counts(model: OpeningGlazing) -> bool:
    """Tell whether a window that no exit names is one; unstated sizes make it none, not an open question."""
    if model.clear_width is None or model.clear_height is None:
        return False
    return model.worked_from_inside == "hand" and _large_enough(model.clear_width, model.clear_height)


def _shuts(van: Facts, name: str) -> bool:
    """Tell whether a thing named as shutting an exit does so by night, when it may stand aside."""
    model = van.build.components.get(name)
    if not isinstance(model, Shaped):
        return True
    return model.in_shape(van.build.header.modes.get(NIGHT, {}).get(name)).blocks


def _walled_off(van: Facts) -> tuple[str, ...]:
    walls = [wall for wall in van.of_class(Partition) if "cab" in wall.parts]
    return tuple(wall.name for wall in walls if not wall.get("opening_width"))


def _candidates(van: Facts) -> Iterator[Subject]:
    exits = list(van.of_class(Exit))
    listed = {exit_.get("is_part") for exit_ in exits}
    yield from exits
    yield from (window for window in van.of_class(OpeningGlazing) if window.id not in listed)


def _night_is_known(van: Facts) -> None:
    """Raise Missing where beds are made for the night and no mode says how the van stands then."""
    foldable = any(len(bed.shapes) > 1 for bed in van.of_class(Bed))
    if foldable and NIGHT not in van.build.header.modes:
        raise Missing(f"modes.{NIGHT}")


def ways(bed: Subject) -> tuple[list[Way], list[str]]:
    """Return the ways out of a bed at night, and the fields for want of which others cannot be judged."""
    _night_is_known(bed.van)
    found: list[Way] = []
    absent: list[str] = []
    for candidate in _candidates(bed.van):
        try:
            way = _way(bed, candidate)
        except Missing as missing:
            absent += missing.fields
            continue
        if way is not None:
            found.append(way)
    return found, absent


def together(first: Way, second: Way) -> bool:
    """Tell whether two exits are likely to be lost together: on one side and near each other."""
    if first.side != second.side:
        return False
    if first.box is None or second.box is None:
        return True
    return dist(first.box.middle, second.box.middle) < APART


def independent(found: list[Way]) -> int:
    """Return the number of groups of exits that are not lost together."""
    groups: list[list[Way]] = []
    for way in found:
        joined = [group for group in groups if any(together(way, other) for other in group)]
        groups = [group for group in groups if group not in joined]
        groups.append([way, *(other for group in joined for other in group)])
    return len(groups)


def _open(bed: Subject) -> tuple[list[Way], list[str]]:
    found, absent = ways(bed)
    return [way for way in found if not way.shut_by], absent


@fact(
    Bed,
    list_of(text()),
    formula="exits that open from inside without current, are large enough, are shut by nothing by night, "
    "and have a way at least 400 mm wide over the free floor",
    source="clear opening by NFPA 1192, from memory; width of the way: common practice",
)
def ways_out(bed: Subject) -> tuple[str, ...]:
    """Exits that can be used from the bed at night."""
    return tuple(way.name for way in _open(bed)[0])


@fact(
    Bed,
    list_of(text()),
    formula="what they are said to be shut by, and what stands before half of them or more by night",
    source="the spec; the shares are our judgement",
)
def ways_shut(bed: Subject) -> tuple[str, ...]:
    """Exits that something shuts at night, each with what does."""
    return tuple(f"{way.name} by {', '.join(way.shut_by)}" for way in ways(bed)[0] if way.shut_by)


@fact(
    Bed,
    number(),
    formula="ways out, those on one side and less than 1 m apart counted as one",
    source="NFPA 1192 6.2.1.2, 2018; distance: common practice, no source",
)
def independent_ways_out(bed: Subject) -> int:
    """Ways out of the bed that one fire or one obstacle does not take together."""
    found, absent = _open(bed)
    count = independent(found)
    if count < 2 and absent:
        raise Missing(*absent)
    return count
