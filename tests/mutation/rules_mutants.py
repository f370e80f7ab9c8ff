"""Every small change of a rule: its conditions, its limits, and what its head says of weight and target."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from rules_conditions import changed

from specreg.facts.schema import FAMILIES, nouns
from specreg.model.build import Stage
from specreg.rules import pack
from specreg.rules.document import Level, RuleHeader
from specreg.rules.pack import Rule
from specreg.source import place_of
from specreg.units import Dimension, write

SORTS = ("condition", "limit", "head")

STEPS: Mapping[Dimension, float] = {
    Dimension.temperature: 0.5,
    Dimension.length: 0.001,
    Dimension.voltage: 0.1,
    Dimension.pressure: 100.0,
    Dimension.volume: 0.001,
}
"""The smallest step that matters where a share of the limit says nothing: from zero, and of temperatures; SI."""

MILDER = {Level.error: Level.warning, Level.warning: Level.note}
LOOSER = {"never": "outside competent person", "outside competent person": "workshop"}


@dataclass(frozen=True)
class Mutant:
    """A rule with one thing changed."""

    original: Rule
    rule: Rule
    sort: str
    key: str
    """The key of the front matter in which the change stands."""
    what: str
    """The change, in words."""

    @property
    def place(self) -> str:
        """Where the changed text stands, as `file:line`."""
        place = place_of(self.original.document.front, tuple(self.key.split(".")))
        return f"{place.file}:{place.line}"

    @property
    def change(self) -> str:
        """The key and the change: with the rule's identity what tells it from every other."""
        return f"{self.key}: {self.what}"


@dataclass(frozen=True)
class Stillborn:
    """A change that the pack's own checks refuse: no test has to find it."""

    key: str
    what: str


def mutants(rule: Rule) -> Iterator[Mutant | Stillborn]:
    """Yield every change of a rule."""
    yield from _conditions(rule)
    yield from _limits(rule)
    yield from _head(rule)


def _conditions(rule: Rule) -> Iterator[Mutant | Stillborn]:
    for key in ("applies", "passes"):
        condition = getattr(rule.header, key)
        if condition is None:
            continue
        for what, text in changed(condition):
            yield _reread(rule, "condition", key, what, {key: text})
    if rule.header.applies is not None:
        yield _reread(rule, "condition", "applies", "left out", {"applies": None})


def _reread(rule: Rule, sort: str, key: str, what: str, update: Mapping[str, object]) -> Mutant | Stillborn:
    """The rule with other words in its head, checked and compiled as from its document."""
    found = _compiled(rule, rule.header.model_copy(update=dict(update)))
    return Mutant(rule, found, sort, key, what) if found else Stillborn(key, what)


def _compiled(rule: Rule, header: RuleHeader) -> Rule | None:
    model = nouns().get(header.judges)
    if model is None:
        return None
    found, _ = pack._compiled(rule.document, header, model, [])
    return found


def _limits(rule: Rule) -> Iterator[Mutant]:
    for name, values in rule.limits.items():
        dimension = rule.dimensions[name]
        for where, value in values.items():
            said = write(value, dimension)
            for other in _shifted(value, dimension, scales=_scales(rule, name)):
                what = f"{said} to {write(other, dimension, digits=6)}"
                yield _limited(rule, name, where, what, {**values, where: other})
            if len(values) > 1:
                rest = {one: number for one, number in values.items() if one != where}
                yield _limited(rule, name, where, "left out", rest)
        yield from _exchanged(rule, name, values)


def _scales(rule: Rule, name: str) -> bool:
    """Tell whether a limit multiplies something, and is no count."""
    return f"* limits.{name}" in f"{rule.header.applies} {rule.header.passes}"


def _shifted(value: float, dimension: Dimension, *, scales: bool) -> tuple[float, ...]:
    """The least step either way that should matter, and twice the limit."""
    counts = dimension is Dimension.plain and value == int(value) and not scales
    if dimension is Dimension.temperature or value == 0 or counts:
        step = STEPS.get(dimension, 1.0)
        return (value + step, value - step)
    return (value * 1.01, value * 0.99, value * 2)


def _exchanged(rule: Rule, name: str, values: Mapping[str, float]) -> Iterator[Mutant]:
    places = list(values)
    for index, one in enumerate(places):
        for other in places[index + 1 :]:
            if values[one] != values[other]:
                both = {**values, one: values[other], other: values[one]}
                yield _limited(rule, name, one, f"exchanged with that of {other}", both)


def _limited(rule: Rule, name: str, where: str, what: str, values: Mapping[str, float]) -> Mutant:
    other = replace(rule, limits={**rule.limits, name: values})
    return Mutant(rule, other, "limit", f"limits.{name}.{where}", what)


def _head(rule: Rule) -> Iterator[Mutant | Stillborn]:
    header = rule.header
    updates: list[tuple[str, str, dict[str, object]]] = []
    if header.level in MILDER:
        milder = MILDER[header.level]
        updates.append(("level", f"{header.level.value} to {milder.value}", {"level": milder}))
    if header.decides is not None:
        updates.append(("decides", "left out", {"decides": None}))
    if header.concession in LOOSER:
        looser = LOOSER[header.concession]
        updates.append(("concession", f"{header.concession} to {looser}", {"concession": looser}))
    for key in ("open_from", "signed_from"):
        later = list(Stage)[list(Stage).index(getattr(header, key)) + 1 :]
        counts = key == "open_from" or header.decides is not None
        updates += [(key, f"one stage later: {later[0].value}", {key: later[0]})] if later and counts else []
    for key in ("jurisdictions", "covers"):
        words = getattr(header, key)
        for word in words:
            rest = tuple(one for one in words if one != word)
            updates.append((key, f"word `{getattr(word, 'value', word)}` left out", {key: rest}))
    if len(header.jurisdictions) > 1:
        updates.append(("jurisdictions", "left out", {"jurisdictions": ()}))
    updates += [
        ("judges", f"{header.judges} to {noun}", _renamed(header, noun)) for noun in _near(header.judges)
    ]
    for key, what, update in updates:
        yield _reread(rule, "head", key, what, update)


@cache
def _near(noun: str) -> tuple[str, ...]:
    """The next wider nouns, and the families next below."""
    model = nouns()[noun]
    wider = {name: one for name, one in nouns().items() if issubclass(model, one) and one is not model}
    nearest = [
        n for n, m in wider.items() if not any(issubclass(o, m) and o is not m for o in wider.values())
    ]
    narrower = {name: one for name, one in FAMILIES.items() if issubclass(one, model) and one is not model}
    below = [
        n for n, m in narrower.items() if not any(issubclass(m, o) and o is not m for o in narrower.values())
    ]
    return tuple(sorted((*nearest, *below)))


def _renamed(header: RuleHeader, noun: str) -> dict[str, object]:
    """The head with another noun, and its name in every expression."""
    old, new = header.judges.replace("-", "_"), noun.replace("-", "_")
    texts = ("applies", "passes", "finding", "asks", "remedy")
    said = {key: getattr(header, key) for key in texts if getattr(header, key) is not None}
    word = re.compile(rf"\b{old}\b" + r"(?=[.\s}])")
    return {"judges": noun, **{key: word.sub(new, text) for key, text in said.items()}}


def unread_limits(rule: Rule) -> list[str]:
    """Name the limits that no condition and no text of a rule reads."""
    texts = (rule.applies, rule.passes, rule.finding, rule.asks, rule.remedy)
    read = {name for text in texts if text is not None for name in text.reads}
    return [name for name in rule.limits if f"limits.{name}" not in read]
