"""How many lugs sit on one stud of a battery, bus-bar, disconnect or shunt."""

from __future__ import annotations

from collections import Counter

from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, number
from specreg.model.component import Component
from specreg.model.dc import Battery, BusBar, DisconnectSwitch, Shunt
from specreg.model.run import DcRun

STUDDED = (Battery, BusBar, DisconnectSwitch, Shunt)
"""What has studs that cables are bolted to."""


@fact(Component, TRUTH, formula="a battery, bus-bar, disconnect or shunt", source="its kind")
def has_studs(component: Subject) -> bool:
    """Whether cables are bolted to it with lugs."""
    return isinstance(component.model, STUDDED)


@fact(
    Component,
    number(),
    formula="greatest number of direct-current runs that end at one port",
    source="the runs",
)
def lugs_on_fullest_stud(component: Subject) -> float:
    """Lugs on the stud of it that has the most; one for each run that ends there."""
    build = component.van.build
    ends = [
        end.port.key
        for name, pair in build.ends.items()
        if isinstance(build.runs[name], DcRun)
        for end in (pair.start, pair.finish)
        if end.component == component.id
    ]
    return float(max(Counter(ends).values(), default=0))
