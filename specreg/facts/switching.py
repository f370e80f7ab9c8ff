"""What switches a load off by hand, and whether a box's ways bear the devices in them."""

from __future__ import annotations

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
    formula="switches, relays and switched ways on its way from a source, main disconnects left out; "
    "itself where it has a switch of its own",
    source="the graph",
)
def switched_by(load: Subject) -> tuple[str, ...]:
    """What switches it off without pulling its fuse."""
    facts, ways = load.van, ways_of(load.van, "positive")
    own = [load.name] if getattr(load.model, "own_switch", None) else []
    terminal = ways.taken_at.get(load.id)
    if terminal is None:
        return tuple(own)
    sources = ways.sources_of(terminal)
    steps = ways.tree.way(sources[0], terminal) if sources else None
    found = [facts.name_of(edge.owner) for _, edge, _ in steps or () if _switches(load, edge)]
    return tuple(dict.fromkeys([*own, *found]))


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
