"""Like cables side by side between the same two places: their resistances are equal, so they share evenly."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from specreg.facts.current_path import Cut, Measure, flow_between, ways_of
from specreg.facts.engine import Facts
from specreg.model.port import Terminal
from specreg.model.run import DcRun


def like_cables(facts: Facts, run: str) -> tuple[str, ...]:
    """Return the runs between the same components that are like a run, itself included.

    Ports of one bus-bar or box are one place. Without a stated conductor or length nothing is like it.
    """
    model = facts.build.runs[run]
    if not isinstance(model, DcRun) or model.conductor is None or model.length is None:
        return (run,)
    places = _places(facts, run)
    return tuple(
        name
        for name, other in facts.build.runs.items()
        if isinstance(other, DcRun)
        and (other.conductor, other.length) == (model.conductor, model.length)
        and _places(facts, name) == places
    )


def _places(facts: Facts, run: str) -> frozenset[str]:
    ends = facts.build.ends[run]
    return frozenset((ends.start.component, ends.finish.component))


def side_by_side(facts: Facts, run: str, core: str) -> tuple[str, ...]:
    """Return the like cables that join what a run joins, itself included.

    Between two ways of a box and two of a panel run cables that are alike and not in parallel.
    """
    group = like_cables(facts, run)
    near, far = (_reached(facts, end, core, frozenset(group)) for end in _ends(facts, run, core))
    ends = {name: _ends(facts, name, core) for name in group}
    return tuple(n for n, (a, b) in ends.items() if (a in near and b in far) or (a in far and b in near))


def _ends(facts: Facts, run: str, core: str) -> tuple[Terminal, Terminal]:
    start, finish = facts.build.ends[run].start, facts.build.ends[run].finish
    return Terminal(start.component, start.port.key, core), Terminal(finish.component, finish.port.key, core)


def shared(facts: Facts, run: str, core: str, measure: Measure) -> Cut | None:
    """Return what each of several like cables carries; None where another way stands beside them."""
    group = side_by_side(facts, run, core)
    near, far = _ends(facts, run, core)
    sides = _parted(facts, near, far, core, frozenset(group))
    if sides is None:
        return None
    ways = ways_of(facts, core)
    near_side, far_side = map(ways.side, sides)
    onward = flow_between(facts, ways, near_side, far_side, measure)
    back = flow_between(facts, ways, far_side, near_side, measure)
    named = ", ".join(map(facts.name_of, group))
    facts.assume(f"{named} are alike and taken as sharing their current evenly")
    return Cut(onward / len(group), back / len(group))


def _parted(
    facts: Facts, near: Terminal, far: Terminal, core: str, without: frozenset[str]
) -> tuple[Iterable[Terminal], Iterable[Terminal]] | None:
    """Return the two sides once a group of runs is cut; None where something else still joins them."""
    on_near, on_far = (_reached(facts, start, core, without) for start in (near, far))
    return None if far in on_near else (on_near, on_far)


def _reached(facts: Facts, start: Terminal, core: str, without: frozenset[str]) -> dict[Terminal, None]:
    ways = ways_of(facts, core)
    seen, queue = {start: None}, deque([start])
    while queue:
        for other, edge in facts.net.around(queue.popleft()):
            if other not in seen and ways.admits(edge) and edge.owner not in without:
                seen[other] = None
                queue.append(other)
    return seen
