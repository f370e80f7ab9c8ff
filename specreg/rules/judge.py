"""Rules judged on the facts of one build: every target, every case, every jurisdiction that differs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from types import SimpleNamespace
from typing import Any, NamedTuple

from specreg.facts.axes import cases
from specreg.facts.engine import Facts, Frame, Subject
from specreg.facts.missing import Missing
from specreg.model.build import Stage
from specreg.model.device import ProtectiveDevice
from specreg.model.records import Concession, SignOff
from specreg.rules.fingerprint import fingerprint
from specreg.rules.pack import Pack, Rule
from specreg.rules.result import Answer, Result
from specreg.source import Place
from specreg.units import System


class Question(NamedTuple):
    """One rule put to one target in one case and one jurisdiction."""

    rule: Rule
    target: Subject
    jurisdiction: str | None
    names: dict[str, Any]


def judge(pack: Pack, facts: Facts, stage: Stage | None = None) -> tuple[Result, ...]:
    """Return the answer of every rule on every target, ordered by system, rule and target.

    `stage` asks whether the build may go on to a later stage; without it the build's own counts.
    """
    at = stage or facts.build.header.stage
    facts.matters = {
        name: rule.header.decides is not None
        for rule in pack.rules
        for name in (rule.identity, *rule.header.formerly)
    }
    results = [result for rule in pack.rules for result in _of_rule(rule, facts, at)]
    return tuple(results)


def _of_rule(rule: Rule, facts: Facts, stage: Stage) -> list[Result]:
    held = [word.value for word in facts.build.header.jurisdictions]
    if rule.header.jurisdictions and not set(held) & {w.value for w in rule.header.jurisdictions}:
        where = ", ".join(word.value.upper() for word in rule.header.jurisdictions)
        return [_not_applicable(rule, facts, f"it holds in {where}")]
    results, seen = [], False
    for question in questions(rule, facts, held):
        seen = True
        answered = answer(question, facts, stage)
        if answered is not None:
            results.append(answered)
    if results:
        return results
    noun = rule.header.judges.replace("-", " ")
    reason = f"no {noun} here is one that it is about" if seen else f"the spec has no {noun}"
    return [_not_applicable(rule, facts, reason)]


def questions(rule: Rule, facts: Facts, held: list[str]) -> Iterator[Question]:
    """Yield what a rule asks: each target in each case, and each jurisdiction of `held` that differs."""
    variants, those = _variants(rule, held), cases(rule.header.cases, facts)
    wholes = {case: facts.whole.in_case(case) for case in those}
    variable = rule.variable
    for subject in facts.of_class(rule.model):
        for case in those:
            target = subject.in_case(case)
            for jurisdiction, limits in variants:
                names = {
                    "build": wholes[case],
                    variable: target,
                    "limits": limits,
                    "case": case,
                    "jurisdiction": jurisdiction or held[0],
                }
                yield Question(rule, target, jurisdiction, names)


def _variants(rule: Rule, held: list[str]) -> list[tuple[str | None, SimpleNamespace]]:
    """Return each set of limits that differs, with the jurisdiction that it holds in.

    Where a condition asks for the jurisdiction, each of them differs.
    """
    asked = any("jurisdiction" in one.reads for one in (rule.applies, rule.passes) if one is not None)
    variants: list[tuple[str | None, dict[str, float]]] = []
    allowed = [w.value for w in rule.header.jurisdictions] or held
    for jurisdiction in [word for word in held if word in allowed]:
        limits = rule.limits_in(jurisdiction)
        if asked or limits not in [known for _, known in variants]:
            named = jurisdiction if asked or rule.limits or rule.header.jurisdictions else None
            variants.append((named, limits))
    return [(named, SimpleNamespace(**limits)) for named, limits in variants]


def answer(question: Question, facts: Facts, stage: Stage) -> Result | None:
    """Return the answer to one question; None where the rule is not about this target."""
    rule, _, _, names = question
    with facts.recording() as frame:
        try:
            if rule.applies is not None and not rule.applies.evaluate(names):
                return None
            frame.inputs.clear()
            holds = rule.passes is None or rule.passes.evaluate(names)
        except Missing as missing:
            return _open(question, facts, stage, missing, frame)
    if not holds:
        return _conceded(_failed(question, facts, frame), rule, facts)
    if rule.header.decides is not None:
        return _reviewed(question, facts, stage, frame)
    return _result(question, facts, Answer.passes, frame)


def _result(question: Question, facts: Facts, answer: Answer, frame: Frame, **more: Any) -> Result:
    rule, target = question.rule, question.target
    shown = facts.once(_shown_targets)
    key = target.id, isinstance(target.model, ProtectiveDevice)
    if key not in shown:
        shown[key] = _shown(facts, target)
    name, place, origin = shown[key]
    return Result(
        rule.identity,
        rule.header.title,
        rule.header.system.value,
        rule.header.level,
        answer,
        target.id,
        name,
        place,
        origin,
        target.case,
        question.jurisdiction,
        evidence=tuple(frame.inputs.values()),
        assumptions=tuple(frame.assumptions),
        **more,
    )


Shown = tuple[str, Place, tuple[Place, ...]]
"""What a target is called, where it is written, and where else its entry came from."""


def _shown_targets(_: Facts) -> dict[tuple[str, bool], Shown]:
    """Return room for what was said of each target, so that many rules need not look again."""
    return {}


def _shown(facts: Facts, target: Subject) -> Shown:
    build = facts.build
    owner = target.id.partition("/")[0] if isinstance(target.model, ProtectiveDevice) else target.id
    name = target.name if target.id else build.header.title
    return name, place_of_target(facts, target), build.origin(owner) if owner else ()


def place_of_target(facts: Facts, target: Subject) -> Place:
    """Return where a target is written: its entry, or for a device its way or its place on the run."""
    build = facts.build
    if not isinstance(target.model, ProtectiveDevice):
        return build.key_place(target.id)
    owner, _, way = target.id.partition("/")
    if owner in build.runs:
        return build.place(owner, "protection", way)
    return build.place(owner, "ways", way) if way else build.place(owner, "device")


def _texts(question: Question, facts: Facts) -> dict[str, str]:
    rule, system = question.rule, System(facts.build.header.units)
    remedy = rule.remedy.render(question.names, system) if rule.remedy else ""
    message = rule.finding.render(question.names, system) if rule.finding else rule.header.title
    return {"message": message, "remedy": remedy}


def _failed(question: Question, facts: Facts, frame: Frame) -> Result:
    with facts.recording():
        return _result(question, facts, Answer.fails, frame, **_texts(question, facts))


def _open(question: Question, facts: Facts, stage: Stage, missing: Missing, frame: Frame) -> Result:
    what = " and ".join(f"`{name}`" for name in missing.fields) or missing.reason
    message = f"cannot be decided: {what} is not stated" if missing.fields else f"cannot be decided: {what}"
    late = stage.reached(question.rule.header.open_from)
    answer = Answer.fails if late else Answer.open
    result = _result(
        question,
        facts,
        answer,
        frame,
        message=message,
        remedy=f"State {what}." if missing.fields else "",
        missing=missing.fields,
        reason="missing" if late else "",
    )
    return _conceded(result, question.rule, facts) if late else result


def _reviewed(question: Question, facts: Facts, stage: Stage, frame: Frame) -> Result:
    rule, system = question.rule, System(facts.build.header.units)
    mark = fingerprint(facts.build, _signable(question.target), rule.header.covers)
    with facts.recording():
        text = rule.asks or rule.finding
        asked = text.render(question.names, system) if text else rule.header.title
    shared = {"decides": rule.header.decides, "fingerprint": mark}
    signed = _sign_off(question, facts)
    if signed is not None and signed.result == "refused":
        message = f"refused by {signed.by or 'the person who looked'}: {asked}"
        return _result(question, facts, Answer.fails, frame, message=message, reason="refused", **shared)
    stale = signed is not None and _stale(signed, mark, facts)
    if signed is not None and not stale:
        return _result(question, facts, Answer.review, frame, message=asked, sign_off=signed, **shared)
    late = stage.reached(rule.header.signed_from)
    answer = Answer.fails if late else Answer.review
    reason = (stale or "not signed") if late else (stale or "")
    message = f"{asked} ({stale})" if stale else asked
    remedy = f"Have it looked at by a {rule.header.decides}; record the sign-off with `covers: {mark}`."
    result = _result(question, facts, answer, frame, message=message, remedy=remedy, reason=reason, **shared)
    return _conceded(result, rule, facts) if late else result


def _signable(target: Subject) -> str:
    return target.id.partition("/")[0]


def _sign_off(question: Question, facts: Facts) -> SignOff | None:
    """Return the latest sign-off of a matter on a target."""
    names = (question.rule.identity, *question.rule.header.formerly)
    fitting = [
        record
        for record in facts.build.header.records.sign_offs
        if record.matter in names and (record.target or "") == question.target.id
    ]
    return max(fitting, key=lambda record: record.date or date.min, default=None)


def _stale(signed: SignOff, mark: str, facts: Facts) -> str:
    """Return why a sign-off no longer holds; empty while it does."""
    if signed.covers is None:
        return "the sign-off does not say what it covers"
    if signed.covers != mark:
        return "changed since it was signed"
    try:
        if signed.expires_on is not None and signed.expires_on < facts.on:
            return "the sign-off has expired"
    except Missing:
        return "the sign-off has an expiry, and no date is given to judge it by"
    return ""


def _conceded(result: Result, rule: Rule, facts: Facts) -> Result:
    """Put a concession that counts beside the failure that it covers."""
    names = (rule.identity, *rule.header.formerly)
    for concession in facts.build.header.concessions:
        meant = concession.rule in names and (concession.target or "") == result.subject
        if meant and _counts(concession, rule, facts):
            return replace(result, concession=concession)
    return result


def _counts(concession: Concession, rule: Rule, facts: Facts) -> bool:
    if rule.header.concession == "never":
        return False
    if rule.header.concession == "outside competent person" and not concession.outside:
        return False
    try:
        return concession.until is None or concession.until >= facts.on
    except Missing:
        return False


def _not_applicable(rule: Rule, facts: Facts, reason: str) -> Result:
    return Result(
        rule.identity,
        rule.header.title,
        rule.header.system.value,
        rule.header.level,
        Answer.not_applicable,
        "",
        facts.build.header.title,
        facts.build.tree.place,
        reason=reason,
    )
