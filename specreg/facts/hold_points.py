"""What is recorded before a system is energised."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.recorded_tests import RECORD, all_within_limit
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH
from specreg.model.build import Header
from specreg.model.dc import Battery


@fact(Header, TRUTH, formula="the spec has a battery", source="the spec's components")
def has_battery(build: Subject) -> bool:
    """Whether there is a battery whose terminals are tightened."""
    return any(True for _ in build.van.of_class(Battery))


@fact(Header, TRUTH, formula="the latest terminal-torque records, all within the limit", source=RECORD)
def terminal_torque_right(build: Subject) -> bool:
    """Whether the terminals were found tightened to their makers' figures wherever that was recorded."""
    return all_within_limit(build, "terminal-torque")
