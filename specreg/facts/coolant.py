"""What coolant weighs: whatever is filled or emptied it stays in its circuit, a part of the van as built."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.engine import Facts, Subject
from specreg.facts.run_mass import volume_in
from specreg.facts.weight import Weight
from specreg.model.coolant import CoolantTank, Radiator
from specreg.model.heat import HydronicHeater
from specreg.model.port import Medium, Terminal
from specreg.tables import vehicle

DENSITY = vehicle.COOLANT_MASS.value
DOUBT = 0.07
"""From clean water to three parts of glycol in five, as a share of that density."""

HELD = ((HydronicHeater, "coolant_volume"), (Radiator, "coolant_volume"), (CoolantTank, "volume"))


def coolant(van: Facts) -> Iterator[tuple[Subject, Weight]]:
    """Yield what holds coolant with the mass of it; what holds some of unknown volume is said."""
    untold = []
    for thing, volume in _volumes(van):
        if volume:
            van.assume("coolant: half ethylene glycol, half water, 1.07 kg/L ± 7 %")
            yield thing, Weight(volume * DENSITY, volume * DENSITY * DOUBT, "computed from its volume")
        else:
            untold.append(thing.name)
    if untold:
        van.assume(f"not counted, for want of a volume: coolant in {', '.join(untold)}")


def _volumes(van: Facts) -> Iterator[tuple[Subject, float]]:
    for kind, field in HELD:
        for thing in van.of_class(kind):
            yield thing, (thing.get(field) or 0.0) * thing.count
    for name in van.once(coolant_pipes):
        yield van.subject(name), volume_in(van.subject(name))


def coolant_pipes(van: Facts) -> tuple[str, ...]:
    """Return the pipes that coolant reaches, the engine's included; no drinking water is in them."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    wet: frozenset[Terminal] = reached(van.net, _connections(van), Medium.water)
    ends = ((name, van.build.ends[name].start) for name in van.build.runs)
    return tuple(name for name, end in ends if at_port(end.component, end.port.key) in wet)


def _connections(van: Facts) -> Iterator[Terminal]:
    """Yield every connection for coolant: these ports are named so."""
    from specreg.graph.piping import at_port  # noqa: PLC0415 - loads with the graph

    for name, part in van.build.components.items():
        for port in part.ports():
            if "coolant" in port.name:
                yield at_port(name, port.key)
