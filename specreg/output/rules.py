"""The rules for people: a list, and one rule's document in full."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from specreg.output.source import source_words
from specreg.output.style import INDENT, Style
from specreg.output.words import plural
from specreg.rules.pack import Pack, Rule


def rules_text(pack: Pack, style: Style) -> str:
    """Return every rule by system: level, identity, title, who decides, and its sources."""
    lines = [style.tint(f"{plural(len(pack.rules), 'rule')}, by system", "title")]
    ordered = sorted(pack.rules, key=lambda rule: (place_of_system(rule), rule.identity))
    for system, rules in groupby(ordered, key=lambda rule: rule.header.system.value):
        lines += ["", style.tint(system, "title")]
        lines += [line for rule in rules for line in _listed(rule, style)]
    return "\n".join(lines) + "\n"


def place_of_system(rule: Rule) -> int:
    """Return where a rule's system stands in the fixed order."""
    systems = list(type(rule.header.system))
    return systems.index(rule.header.system)


def _listed(rule: Rule, style: Style) -> Iterator[str]:
    where = ", ".join(word.value.upper() for word in rule.header.jurisdictions)
    yield style.wrap(
        f"{rule.identity} ({rule.header.level.value}{f', {where}' if where else ''}): {rule.header.title}",
        INDENT,
        INDENT * 2,
    )
    if rule.header.decides:
        yield style.wrap(f"decided by: {rule.header.decides}", INDENT * 2, INDENT * 3)
    yield style.wrap("; ".join(map(source_words, rule.header.sources)), INDENT * 2, INDENT * 3)


def rule_text(rule: Rule, style: Style) -> str:
    """Return one rule in full: what it asks, limits, sources, and its document's prose."""
    header = rule.header
    lines = [style.tint(style.wrap(header.title, after=""), "title"), ""]
    lines += [style.wrap(f"{label}: {said}") for label, said in particulars(rule) if said]
    for source in header.sources:
        says = f": {source.says}" if source.says else ""
        lines.append(style.wrap(f"Source: {source_words(source)}{says}"))
    for paragraph in rule.document.prose.split("\n\n"):
        flowing = _is_prose(paragraph)
        lines += ["", style.wrap(" ".join(paragraph.split()), after="") if flowing else paragraph]
    return "\n".join(lines) + "\n"


def _is_prose(paragraph: str) -> bool:
    return not paragraph.lstrip().startswith(("-", "*", "|", "#", "1.", ">"))


def particulars(rule: Rule) -> Iterator[tuple[str, str]]:
    """Yield what a rule's front matter says, each with its label; an empty text where it says nothing."""
    header = rule.header
    yield "Rule", rule.identity
    yield "Formerly", ", ".join(header.formerly)
    yield "System", header.system.value
    yield "Level", header.level.value
    yield "Judges", header.judges + (f", in each {header.cases.value} case" if header.cases else "")
    yield "Holds in", ", ".join(word.value.upper() for word in header.jurisdictions)
    yield "Applies where", header.applies or ""
    yield "Passes where", header.passes or ""
    for name, values in header.limits.items():
        yield f"Limit {name}", ", ".join(f"{where}: {value}" for where, value in values.items())
    yield "Who decides", header.decides or ""
    yield "Missing data fails from", header.open_from.value
    yield "Unsigned fails from", header.signed_from.value if header.decides else ""
    yield "Concession", header.concession
