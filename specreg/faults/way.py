"""Everything on which a thing depends, on every medium, in the order in which it is met."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from specreg.graph.supply import Step, Supplied, Trail, trail_to
from specreg.model.port import Medium


class Met(NamedTuple):
    """One thing on the way: `for_what` needs it, `distance` counts from the dead thing."""

    step: Step
    medium: Medium
    for_what: str
    distance: int


def met_on_the_way(of: Supplied, thing: str, ports: tuple[str, ...] = ()) -> tuple[Met, ...]:
    """Return what a thing depends on, nearest first, each once; `ports` asks for those needs only.

    A component on the way that itself needs a supply (the pump of a tap, the inverter of a socket) is
    followed back on all of its media.
    """
    found: dict[Step, Met] = {}
    for one in _walk(of, thing, _trails(of, thing, ports), 0, {thing}):
        if one.step not in found or one.distance < found[one.step].distance:
            found[one.step] = one
    return tuple(sorted(found.values(), key=lambda one: one.distance))


def _trails(of: Supplied, thing: str, ports: tuple[str, ...] = ()) -> Iterator[Trail]:
    """Yield the way of every core of the ports in question, the returns among them; earth feeds nothing."""
    for port in of.ports[thing]:
        if port.name in ports or (port.needed and not ports):
            yield from (trail_to(of, thing, port, core) for core in port.cores if core != "earth")


def _walk(of: Supplied, thing: str, trails: Iterable[Trail], far: int, seen: set[str]) -> Iterator[Met]:
    for trail in trails:
        for distance, step in enumerate(trail.steps, far + 1):
            yield Met(step, trail.medium, thing, distance)
            if step.form == "component" and step.id not in seen:
                seen.add(step.id)
                yield from _walk(of, step.id, _trails(of, step.id), distance, seen)
