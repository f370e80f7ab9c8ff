"""What was counted, signed, conceded and handed over, and which parts are past their day."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.model.build import Header
from specreg.model.charging import Alternator
from specreg.model.component import AcConsumer, CombustionAppliance, Component, Consumer
from specreg.model.dc import Battery
from specreg.model.gas import GasCylinder, GasTank, Regulator
from specreg.model.inverting import Inverting
from specreg.model.loads import Light
from specreg.model.records import SignOff, WalkRound
from specreg.model.safety import Alarm, Extinguisher, Notice
from specreg.model.seating import Seating, SwivelBase
from specreg.model.solar import SolarController, SolarPanel

SPEC = "the spec's records"


@dataclass(frozen=True)
class CountDifference:
    """A kind of which the walk-round found another number than the spec has."""

    name: str
    found: int
    written: int


DIFFERENCE = view("difference in count", {"name": text(), "found": number(), "written": number()})


def written_counts(build: Subject) -> dict[str, int]:
    """Return how many the spec has of every kind of component, and of `devices`: fuses and breakers."""
    counts: Counter[str] = Counter()
    for part in build.van.build.components.values():
        counts[part.kind] += part.count
    return {"devices": len(build.van.devices), **counts}


def _walk_round(build: Subject) -> WalkRound:
    walked = build.van.build.header.records.walk_round
    if walked is None:
        raise Missing("records.walk_round")
    return walked


@fact(Header, list_of(DIFFERENCE), formula="counts found − counts written", source=SPEC)
def walk_round_differences(build: Subject) -> tuple[CountDifference, ...]:
    """Kinds of which another number was found in the van than the spec has."""
    written, found = written_counts(build), _walk_round(build).counts
    pairs = ((name, number_, written.get(name, 0)) for name, number_ in found.items())
    return tuple(CountDifference(*pair) for pair in pairs if pair[1] != pair[2])


COUNTED = (
    "devices", "smoke-alarm", "co-alarm", "gas-alarm", "extinguisher", "gas-cylinder", "vent", "socket",
)  # fmt: skip
"""What a walk-round counts at least, where the spec has one: people's lives hang on these."""


@fact(Header, list_of(text()), formula="kinds that must be counted and are not in the counts", source=SPEC)
def walk_round_uncounted(build: Subject) -> tuple[str, ...]:
    """What the walk-round should have counted and did not."""
    written, found = written_counts(build), _walk_round(build).counts
    return tuple(name for name in COUNTED if written.get(name, 0) and name not in found)


def _matter(signed: SignOff) -> str:
    return f"{signed.matter} ({signed.target})" if signed.target else signed.matter


@fact(
    Header, list_of(text()), formula="sign-offs whose last day lies before the day of judgement", source=SPEC
)
def expired_sign_offs(build: Subject) -> tuple[str, ...]:
    """Sign-offs that have expired, one by a later record of the same matter left aside."""
    signed = build.van.build.header.records.sign_offs
    later = {(s.matter, s.target): s for s in sorted(signed, key=lambda s: str(s.date or ""))}
    ending = [s for s in later.values() if s.expires_on is not None]
    return tuple(_matter(s) for s in ending if s.expires_on is not None and s.expires_on < build.van.on)


@fact(Header, list_of(text()), formula="sign-offs without role, name, date or `covers`", source=SPEC)
def incomplete_sign_offs(build: Subject) -> tuple[str, ...]:
    """Sign-offs that do not say who signed what when, with what they lack."""
    wanted = ("by", "name", "date", "covers")
    found = []
    for signed in build.van.build.header.records.sign_offs:
        lacking = [word for word in wanted if getattr(signed, word) is None]
        if lacking:
            found.append(f"{_matter(signed)} ({', '.join(lacking)})")
    return tuple(found)


@fact(
    Header,
    list_of(text()),
    formula="concessions whose last day lies before the day of judgement",
    source=SPEC,
)
def expired_concessions(build: Subject) -> tuple[str, ...]:
    """Concessions that no longer hold."""
    given = [c for c in build.van.build.header.concessions if c.until is not None]
    return tuple(
        f"{c.rule} ({c.target})" if c.target else c.rule
        for c in given
        if c.until is not None and c.until < build.van.on
    )


@fact(
    Header,
    list_of(text()),
    formula="sign-offs and concessions whose rule is not there, or is not one that a person answers",
    source="the rules by which the build is judged, and the spec's records",
)
def idle_records(build: Subject) -> tuple[str, ...]:
    """Sign-offs and concessions that answer nothing, and why."""
    header, matters = build.van.build.header, build.van.matters
    signed = [(one.matter, one.target, True) for one in header.records.sign_offs]
    given = [(one.rule, one.target, False) for one in header.concessions]
    found = ((rule, target, _idle(rule, matters, sign)) for rule, target, sign in signed + given)
    return tuple(dict.fromkeys(f"{r} {t or ''}".strip() + f" ({why})" for r, t, why in found if why))


def _idle(rule: str, matters: Mapping[str, bool] | None, sign: bool) -> str:
    """Return why a record answers nothing; empty where it may answer something."""
    if matters is None or (rule in matters and (matters[rule] or not sign)):
        return ""
    return "this rule is not answered by a person" if rule in matters else "no rule has this name"


@fact(Header, TRUTH, formula="a sign-off or a concession is recorded", source=SPEC)
def has_answers_of_people(build: Subject) -> bool:
    """Whether anybody has signed or conceded anything."""
    header = build.van.build.header
    return bool(header.records.sign_offs or header.concessions)


@fact(Component, TRUTH, formula="the last day lies before the day of judgement", source="the spec's dates")
def past_expiry(component: Subject) -> bool:
    """Whether it is past the day by which it must be renewed."""
    return bool(component.expires_on < component.van.on)


@fact(Component, TRUTH, formula="`expires_on` is stated", source="the spec's dates")
def expires(component: Subject) -> bool:
    """Whether the spec gives a day by which it must be renewed."""
    return component.get("expires_on") is not None


TRACED = (
    Battery, Alternator, Inverting, SolarPanel, SolarController, CombustionAppliance, GasCylinder, GasTank,
    Regulator, Alarm, Extinguisher, Seating, SwivelBase,
)  # fmt: skip
"""What a recall would ask for by serial or lot number: what burns, holds energy, warns, or holds people."""


@fact(
    Component,
    TRUTH,
    formula="it burns, stores energy, warns of danger or holds people",
    source="common practice",
)
def traced_by_serial(component: Subject) -> bool:
    """Whether its serial or lot number is wanted, so that a recall finds it."""
    return isinstance(component.model, TRACED)


@fact(Component, TRUTH, formula="an appliance with settings: not a lamp", source="common practice")
def comes_with_manual(component: Subject) -> bool:
    """Whether its manual belongs to the hand-over."""
    kinds = (Consumer, AcConsumer, CombustionAppliance, Inverting, Battery, SolarController, Extinguisher)
    return isinstance(component.model, kinds) and not isinstance(component.model, Light)


MASSES_NOTICE = ("vehicle masses",)


@fact(Header, list_of(text()), formula="notices about the vehicle's masses", source="the spec's components")
def mass_notices(build: Subject) -> tuple[str, ...]:
    """Labels that show the vehicle's masses."""
    return tuple(n.id for n in build.van.of_class(Notice) if n.get("purpose") in MASSES_NOTICE)


@fact(
    Header,
    list_of(text()),
    formula="what a hand-over needs and the spec does not have",
    source="common practice",
)
def hand_over_lacks(build: Subject) -> tuple[str, ...]:
    """What is missing for a hand-over."""
    header = build.van.build.header
    final = any(ticket.stage == "final" for ticket in header.records.weighings)
    needed = {
        "a weighbridge ticket of the finished van": final,
        "the counted walk-round": header.records.walk_round is not None,
        "the revision of the as-built spec": header.revision is not None,
        "how an owner reaches the workshop": header.workshop_contact is not None,
        "the vehicle identification number": header.vehicle.identity.vin is not None,
        "the day of the declaration of systems": header.systems.declared is not None,
        "tyre pressures": header.vehicle.tyres is not None,
    }
    return tuple(what for what, there in needed.items() if not there)
