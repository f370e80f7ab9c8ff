"""What works the motorised valves: switches in their supply, and controls on their leads."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, text
from specreg.model.control import Relay, RemoteControl, Sensor, Switching
from specreg.model.fluid import Valve
from specreg.model.port import Medium, Terminal


@fact(
    Valve,
    list_of(text()),
    formula="what switches its supply, and switches, timers, sensors and remote controls on control leads "
    "that lead to it or to a relay in its supply",
    source="the graph of supply and control",
)
def worked_by(valve: Subject) -> tuple[str, ...]:
    """What opens and closes it; none for a valve worked by hand."""
    if valve.drive == "hand":
        return ()
    asked = (valve.id, *_relays(valve))
    controls = [name for one in asked for name in _told_by(valve, one)]
    switches = [name for name in valve.switched_by if name not in {valve.van.name_of(r) for r in asked[1:]}]
    return tuple(dict.fromkeys([*switches, *controls]))


def _relays(valve: Subject) -> tuple[str, ...]:
    """Return the relays in its supply, which something else must close; a timer acts by itself."""
    parts = valve.van.build.components
    names = {valve.van.name_of(n): n for n, part in parts.items() if isinstance(part, Relay)}
    return tuple(names[name] for name in valve.switched_by if name in names)


def _told_by(valve: Subject, name: str) -> list[str]:
    """Return what control leads join to a thing, and what works it without a lead."""
    from specreg.graph.walk import reached  # noqa: PLC0415 - loads with the graph

    facts, parts = valve.van, valve.van.build.components
    starts = [Terminal(name, "control", "flow")]
    seen = reached(facts.net, starts, lambda edge, here, other: edge.medium is Medium.control)
    wired = {t.component for t in seen if t.component != name}
    return [
        facts.name_of(n)
        for n, part in parts.items()
        if (n in wired and isinstance(part, Switching | RemoteControl | Sensor))
        or (isinstance(part, RemoteControl) and part.controls == name)
    ]
