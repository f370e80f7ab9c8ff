"""Whether of two devices in line the one nearer the fault opens first."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.supply_tree import supply_trees
from specreg.facts.value_type import list_of, text
from specreg.model.dc import Battery
from specreg.model.device import ProtectiveDevice

LEAST_RATIO = 1.6
"""Rating of the device upstream over that of the device downstream; common fuse practice, no source."""


def next_upstream(facts: Facts) -> dict[str, tuple[str, ...]]:
    """Return by device the next device towards each battery that reaches it, along the supply tree.

    Batteries alone drive a fuse hard enough to compare. Of two devices that stand each upstream of the other,
    as those of parallel batteries do, neither comes first: they are left out.
    """
    names = {id(edge): name for name, edge in facts.net.devices.items()}
    found: dict[str, dict[str, None]] = {}
    for tree in facts.once(supply_trees).values():
        if not isinstance(facts.build.components[tree.source.component], Battery):
            continue
        for terminal, (_, edge) in tree.above.items():
            if id(edge) not in names:
                continue
            way = tree.way(terminal)
            assert way is not None
            above = [names[id(e)] for _, e, _ in way[:-1] if id(e) in names]
            if above:
                found.setdefault(names[id(edge)], {})[above[-1]] = None
    return {
        name: tuple(other for other in above if name not in found.get(other, {}))
        for name, above in found.items()
    }


@fact(
    ProtectiveDevice,
    list_of(text()),
    formula="next device upstream of the same family, rated below 1.6 × this one; other families not judged",
    source="common fuse practice, no source",
)
def opens_with_it(device: Subject) -> tuple[str, ...]:
    """Devices next upstream that may open together with it, or before it."""
    facts = device.van
    above = [facts.subject(name) for name in facts.once(next_upstream).get(device.id, ())]
    return tuple(
        other.name
        for other in above
        if other.family is device.family
        and other.rated_current < LEAST_RATIO * device.rated_current * (1 - 1e-9)
    )
