"""Who can feed a short circuit on each positive run, and through what.

A short at any point of a run is fed from both ends. What each end can push through a piece of the run is
computed on the graph (`specreg.graph.fault`). A piece that a source reaches through nothing that limits it
is *bare*: it is judged by its distance from the source, along the conductor, to the first device.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from math import inf

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.fault import LetThrough, Piece, Supply, supplies
from specreg.graph.feeding import Fed, ends_at_device, feed_pieces
from specreg.graph.network import Edge
from specreg.model.device import End, fitted
from specreg.model.port import Terminal
from specreg.model.run import DcRun
from specreg.tables import overcurrent
from specreg.units import ConductorSize, Dimension

GRAPH = (
    "greatest flow on the graph from all sources at once, devices carrying their rating (max-flow min-cut)"
)
BASIS = "33 CFR 183.455, taken as physics: the devices that bound the flow carry it for ever"


def bare_from(fed: Fed) -> tuple[Terminal, ...]:
    """Return the ends of a piece from which a source reaches it through nothing that limits it."""
    sides = ((fed.piece.start, fed.from_start), (fed.piece.finish, fed.from_finish))
    return tuple(terminal for terminal, side in sides if side.current == inf)


def dc_supplies(facts: Facts) -> tuple[Supply, ...]:
    """Return the direct-current sources of the build."""
    return supplies(facts.build)


def dc_pieces(facts: Facts) -> dict[str, tuple[Fed, ...]]:
    """Return the pieces of every run with a positive core, each with what can be pushed into it."""
    found: dict[str, list[Fed]] = {}
    for fed in feed_pieces(facts.net, facts.once(dc_supplies)):
        found.setdefault(fed.piece.run, []).append(fed)
    return {run: tuple(sorted(pieces, key=lambda fed: fed.piece.segment)) for run, pieces in found.items()}


def _pieces(run: Subject) -> tuple[Fed, ...]:
    return run.van.once(dc_pieces).get(run.id, ())


@fact(DcRun, TRUTH, formula="the run has a positive core", source="the graph")
def positive(run: Subject) -> bool:
    """Whether the run carries the positive conductor."""
    return "positive" in run.van.build.ends[run.id].cores


@fact(DcRun, TRUTH, formula="a starter motor stands at one of its ends", source="the graph")
def starts_engine(run: Subject) -> bool:
    """Whether the run feeds the engine's starter motor."""
    return run.id in run.van.once(starter_cables)


def starter_cables(facts: Facts) -> frozenset[str]:
    """Return the runs that end at a starter motor."""
    motors = {name for name, thing in facts.build.components.items() if thing.kind == "starter-motor"}
    return frozenset(
        name
        for name, ends in facts.build.ends.items()
        if motors & {ends.start.component, ends.finish.component}
    )


@fact(DcRun, list_of(text()), formula=GRAPH, source=BASIS)
def fault_sources(run: Subject) -> tuple[str, ...]:
    """Sources that can feed a short circuit on the run."""
    return _named(run, lambda fed: fed.sources)


@fact(DcRun, list_of(text()), formula=GRAPH, source=BASIS)
def bare_sources(run: Subject) -> tuple[str, ...]:
    """Sources that reach some piece of the run through no fuse, breaker or limit of their own."""
    return _named(run, lambda fed: fed.unlimited)


@fact(DcRun, list_of(text()), formula=GRAPH, source=BASIS)
def protecting_devices(run: Subject) -> tuple[str, ...]:
    """Devices that together bound the current in a short circuit on the run."""
    return _named(run, lambda fed: fed.devices)


def _named(run: Subject, choose: Callable[[LetThrough], tuple[str, ...]]) -> tuple[str, ...]:
    names = {
        name
        for piece in _pieces(run)
        for fed in (piece.from_start, piece.from_finish)
        for name in choose(fed)
    }
    return tuple(sorted(names))


def _sides(run: Subject) -> Iterator[tuple[Fed, Terminal, LetThrough]]:
    """Yield each piece of a run from each of its ends: the end across from it, and what is pushed in."""
    for fed in _pieces(run):
        yield fed, fed.piece.finish, fed.from_start
        yield fed, fed.piece.start, fed.from_finish


@fact(DcRun, number(Dimension.current), formula=GRAPH, source=BASIS)
def let_through_current(run: Subject) -> float:
    """Greatest current that devices and limits let flow for ever in any piece that no device ends.

    A piece that leads from a larger conductor to its own device is judged by its length (`tap_length`), one
    that an unlimited source reaches by `bare_length`.
    """
    bounded = [
        side.current
        for fed, across, side in _sides(run)
        if side.current < inf and not ends_at_device(run.van.net, fed.piece, across)
    ]
    return max(bounded, default=0.0)


@fact(
    DcRun,
    number(Dimension.length),
    formula="length of a piece that ends at a device and into which more can be pushed than it carries",
    source="33 CFR 183.455(b), the larger conductor taken as the source of power",
)
def tap_length(run: Subject) -> float:
    """Length of conductor between a larger conductor that feeds it and its own device; 0 where none."""
    found = [
        _piece_length(run, fed.piece)
        for fed, across, side in _sides(run)
        if 0 < side.current < inf
        and ends_at_device(run.van.net, fed.piece, across)
        and side.current > run.ampacity
    ]
    return max(found, default=0.0)


@fact(
    DcRun,
    number(Dimension.length),
    formula="shortest way along the conductors to the far end of a bare piece, from the unlimited source "
    "farthest off that no starter motor's cable parts from it",
    source="33 CFR 183.455(b), measured along the conductor, from each source of power",
)
def bare_length(run: Subject) -> float:
    """Length of conductor between a source that does not limit itself and the first device; 0 where none."""
    found = [
        _distance(run.van, terminal, piece.piece) + _piece_length(run, piece.piece)
        for piece in _pieces(run)
        for terminal in bare_from(piece)
    ]
    return max(found, default=0.0)


def share_of_piece(run: Subject, segment: int) -> float:
    """Return the share of a run's length that a piece of it has; 0 where the device's place is not known."""
    model = run.model
    assert isinstance(model, DcRun)
    if not any(fitted(device) for device in model.protection.values()):
        return 1.0
    try:
        return _length_of(run, segment) / float(run.laid_length)
    except (Missing, ZeroDivisionError):
        run.van.assume(f"{run.name} counted as without resistance: where its device sits is not stated")
        return 0.0


def _piece_length(run: Subject, piece: Piece) -> float:
    return _length_of(run, piece.segment)


def _length_of(run: Subject, segment: int) -> float:
    """Return the length of a piece: up to the first device, between devices, or behind the last."""
    from specreg.graph.network import in_order  # noqa: PLC0415 - loads with the graph

    model = run.model
    assert isinstance(model, DcRun)
    total = run.laid_length
    marks = [0.0]
    for name, device in in_order(model):
        if device.distance is None:
            raise Missing(f"{run.id}.protection.{name}.distance")
        marks.append(device.distance if device.end is End.start else total - device.distance)
    marks.append(total)
    return max(0.0, marks[segment + 1] - marks[segment])


def _distance(facts: Facts, terminal: Terminal, piece: Piece) -> float:
    """Return the way along bare conductors to a terminal from the unlimited source farthest off.

    A device near one battery may be far from another. What lies beyond a starter motor's cable does not count
    where a source is nearer: that cable needs no device (33 CFR 183.455(e), from memory), and the
    alternator is behind it.
    """
    unlimited = frozenset(s.terminal for s in facts.once(dc_supplies) if s.feed.limit is None)
    apart = _ways_from(facts, terminal, piece, without=facts.once(starter_cables))
    found = [apart[source] for source in unlimited & apart.keys()]
    if found:
        return max(found)
    nearest = _ways_from(facts, terminal, piece, until=unlimited)
    return max((nearest[source] for source in unlimited & nearest.keys()), default=0.0)


def _ways_from(
    facts: Facts,
    terminal: Terminal,
    piece: Piece,
    *,
    without: frozenset[str] = frozenset(),
    until: frozenset[Terminal] = frozenset(),
) -> dict[Terminal, float]:
    """Return the shortest way along bare conductors to each terminal that they join with one (Dijkstra).

    `without` names runs that are left out; the search ends at the first terminal of `until`.
    """
    best: dict[Terminal, float] = {}
    queue: list[tuple[float, Terminal]] = [(0.0, terminal)]
    while queue:
        far, here = heappop(queue)
        if here in best:
            continue
        best[here] = far
        if here in until:
            break
        for other, edge in facts.net.around(here):
            if other not in best and edge.owner not in without and _bare(edge, here, piece):
                heappush(queue, (far + _edge_length(facts, edge), other))
    return best


def _bare(edge: Edge, here: Terminal, piece: Piece) -> bool:
    from specreg.graph.fault import CONDUCTING  # noqa: PLC0415 - loads with the graph

    passes = edge.core == "positive" and edge.device is None and edge.kind in CONDUCTING
    return passes and edge is not piece.edge and edge.one_way_from != here


def _edge_length(facts: Facts, edge: Edge) -> float:
    return _length_of(facts.subject(edge.owner), edge.segment) if edge.is_run else 0.0


@fact(
    DcRun,
    number(Dimension.current),
    formula="largest standard rating that does not exceed the ampacity",
    source="standard ratings: NEC 240.6(A) or the family's series",
)
def largest_device(run: Subject) -> float:
    """Largest device that protects the run."""
    found = overcurrent.largest_standard_at_most(run.ampacity)
    if found is None:
        raise Missing(reason="no standard device is that small")
    return found


@fact(
    DcRun,
    text(),
    formula="smallest standard conductor whose ampacity is at least what the devices let through",
    source="33 CFR 183.425 Table 5",
)
def smallest_conductor(run: Subject) -> str:
    """Smallest conductor that the devices as fitted would protect."""
    from specreg.tables import conductors  # noqa: PLC0415 - loads tables

    size: ConductorSize = run.conductor
    found = conductors.smallest_conductor_for(
        run.let_through_current,
        run.insulation_class - 273.15,
        size.notation,
        engine_space=bool(run.get("engine_space")),
    )
    if found is None:
        raise Missing(reason="no conductor of the table is that large")
    return found.label


@fact(
    DcRun,
    number(Dimension.voltage),
    formula="greatest nominal voltage of the sources that reach it",
    source="the graph",
)
def nominal_voltage(run: Subject) -> float:
    """Nominal voltage of the run."""
    names = set(run.fault_sources)
    found = [s for s in run.van.once(dc_supplies) if s.component in names]
    known = [s.feed.nominal for s in found if s.feed.nominal is not None]
    if not known:
        missing = [f"{s.component}.nominal_voltage" for s in found]
        raise Missing(*missing, reason="" if missing else "no source reaches it")
    return max(known)
