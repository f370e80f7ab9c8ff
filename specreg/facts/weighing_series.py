"""All weighbridge tickets in a row, empty of what was aboard: how the van grew from stage to stage."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from specreg.facts.axle_loads import AS_RECEIVED, WHEN_WEIGHED, aboard, doubt, on_rear, ticket_load, total
from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import Load
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.vehicle import Weighing
from specreg.units import Dimension

MASS = number(Dimension.mass)


class Ticket(NamedTuple):
    """A ticket with the path that an absent field of it is named by."""

    ticket: Weighing
    path: str


def tickets(van: Facts) -> tuple[Ticket, ...]:
    """Return the ticket as received and all later ones, in the order of the spec."""
    header = van.build.header
    first = header.vehicle.as_received
    later = [Ticket(t, f"records.weighings.{n}") for n, t in enumerate(header.records.weighings, 1)]
    return (*([Ticket(first, AS_RECEIVED)] if first else []), *later)


def empty(van: Facts, one: Ticket) -> tuple[Load, ...]:
    """Return a ticket's van without what was aboard. Raises Missing for what it does not state."""
    weighed = ticket_load(van, one.ticket, one.path)
    inside = aboard(van, one.ticket, one.path)
    return (weighed, *(replace(entry, mass=-entry.mass) for entry in inside))


@dataclass(frozen=True, slots=True)
class Stage:
    """The empty van at one weighing in kg: in all, on the rear axle, what it gained since the last."""

    stage: str
    mass: float
    rear: float
    gained: float
    gained_rear: float


STAGE = view(
    "stage of the van's mass",
    {"stage": text(), "mass": MASS, "rear": MASS, "gained": MASS, "gained_rear": MASS},
)


@fact(Header, list_of(STAGE),
      formula="ticket − what was aboard; gained: less the ticket before; the last row is the spec's sum",
      source="weighbridge tickets; arithmetic")  # fmt: skip
def mass_by_stage(build: Subject) -> tuple[Any, ...]:
    """How the empty van grew from one weighing to the next, and what its spec adds up to."""
    wheelbase = build.vehicle.wheelbase
    found: list[Stage] = []
    for words, entries in _stages(build):
        mass, rear = total(entries), on_rear(entries, wheelbase)
        last = found[-1] if found else None
        gained = (mass - last.mass, rear - last.rear) if last else (0.0, 0.0)
        found.append(Stage(words, mass, rear, *gained))
    return tuple(found)


def _stages(build: Subject) -> Iterator[tuple[str, tuple[Load, ...]]]:
    for one in tickets(build.van):
        yield named(one), empty(build.van, one)
    yield "by the spec, as built", build.fitted_loads


def named(one: Ticket) -> str:
    """Return a ticket's stage with its day."""
    day = one.ticket.date
    return f"{one.ticket.stage}, {day.isoformat()}" if day else one.ticket.stage


@dataclass(frozen=True, slots=True)
class Reconciled:
    """A ticket against what was fitted on its day, empty masses in kg; `unexplained` is beyond all doubts."""

    stage: str
    weighed: float
    expected: float
    doubt: float
    unexplained: float


RECONCILED = view(
    "ticket against the spec",
    {"stage": text(), "weighed": MASS, "expected": MASS, "doubt": MASS, "unexplained": MASS},
)


@fact(Header, list_of(RECONCILED),
      formula="weighed less what was aboard − (as received + fitted by that day); beyond the doubts of both",
      source="weighbridge tickets; worst case, linear")  # fmt: skip
def tickets_against_spec(build: Subject) -> tuple[Any, ...]:
    """Every later ticket against what the spec says was fitted on its day."""
    return tuple(_reconciled(build, one) for one in tickets(build.van) if one.path != AS_RECEIVED)


def _reconciled(build: Subject, one: Ticket) -> Reconciled:
    if one.ticket.stage != "final" and one.ticket.date is None:
        raise Missing(f"{one.path}.date")
    entries = empty(build.van, one)
    weighed = total(entries)
    expected, unsure = fitted_by(build, one)
    unsure += entries[0].mass_doubt
    beyond = max(0.0, abs(weighed - expected) - unsure)
    return Reconciled(named(one), weighed, expected, unsure, beyond)


@fact(Header, list_of(text()), formula="tickets with something beyond the doubts of both",
      source="arithmetic")  # fmt: skip
def tickets_unexplained(build: Subject) -> tuple[str, ...]:
    """Tickets from mid-build that what was fitted by then does not explain."""
    return tuple(t.stage for t in build.tickets_against_spec if t.unexplained > 0 and "final" not in t.stage)


def fitted_by(build: Subject, one: Ticket) -> tuple[float, float]:
    """Return the empty mass that the spec says for a ticket's day, and how far it may be off, in kg.

    Before the end of the build a thing without `fitted_on`, and every run, counts half, ± as much.
    """
    then = [entry for entry in build.fitted_loads if _was_in(build.van, entry, one.ticket)]
    unsure = [entry for entry in build.fitted_loads if _was_in(build.van, entry, one.ticket) is None]
    half = sum(abs(entry.mass) for entry in unsure) / 2
    return total(tuple(then)) + total(tuple(unsure)) / 2, half + doubt(tuple(then), lambda _: 1.0, 0.0)


def _was_in(van: Facts, entry: Load, ticket: Weighing) -> bool | None:
    """Tell whether an entry stood in the van on a ticket's day; None where nothing says it."""
    if ticket.stage == "final" or not entry.subject or entry.name.endswith(WHEN_WEIGHED):
        return True
    model = van.build.components.get(entry.subject)
    day = model.fitted_on if model is not None else None
    return None if day is None or ticket.date is None else day <= ticket.date


@fact(Header, MASS, formula="what was fitted less what was taken out − the mass planned when ordered",
      source="arithmetic")  # fmt: skip
def mass_creep(build: Subject) -> float:
    """Mass that the conversion weighs beyond what was planned."""
    planned = build.van.build.header.records.planned_mass
    if planned is None:
        raise Missing("records.planned_mass")
    return float(build.fitted_mass - planned)
