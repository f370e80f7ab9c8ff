"""What switches a load off by hand, and whether a box's ways bear the devices in them."""

from __future__ import annotations

from itertools import chain

from specreg.facts.current_path import ways_of
from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, text
from specreg.graph.network import Edge
from specreg.model.component import Consumer
from specreg.model.dc import DisconnectSwitch, FuseBox
from specreg.model.device import fitted
from specreg.model.port import LinkKind


@fact(
    Consumer,
    list_of(text()),
    formula="switches, relays and switched ways that all ways to it from all sources pass, main disconnects "
    "left out; itself where it has a switch of its own",
    source="the graph",
)
def switched_by(load: Subject) -> tuple[str, ...]:
    """What by itself switches it off without pulling its fuse."""
    facts, ways = load.van, ways_of(load.van, "positive")
    own = [load.name] if getattr(load.model, "own_switch", None) else []
    terminal = ways.taken_at.get(load.id)
    if terminal is None:
        return tuple(own)
    taken = [ways.tree.way(source, terminal) or () for source in ways.sources_of(terminal)]
    passed = [[edge for _, edge, _ in way if ways.tree.is_bridge(edge)] for way in taken]
    found = [edge for edge in chain.from_iterable(passed) if all(edge in one for one in passed)]
    return tuple(
        dict.fromkeys([*own, *(facts.name_of(edge.owner) for edge in found if _switches(load, edge))])
    )


def _switches(load: Subject, edge: Edge) -> bool:
    main = isinstance(load.van.build.components.get(edge.owner), DisconnectSwitch)
    return edge.kind in (LinkKind.switch, LinkKind.contact) and not main


@fact(
    FuseBox,
    list_of(text()),
    formula="ways whose device is rated above what one way of the box may carry",
    source="the box's data sheet",
)
def overloaded_ways(box: Subject) -> tuple[str, ...]:
    """Ways with a device above their own rating."""
    limit = box.way_current
    model = box.model
    assert isinstance(model, FuseBox)
    found = {way: fitted(device) for way, device in model.ways.items()}
    return tuple(way for way, device in found.items() if device is not None and device.rating > limit)
