"""The rules as pages of Markdown: prose, limits, sources with how each was obtained, and fragments."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from specreg.output.markdown import escaped
from specreg.output.rules import particulars, place_of_system
from specreg.output.source import KNOWN_HOW, source_words
from specreg.rules.document import HEADINGS
from specreg.rules.pack import Pack, Rule

INDEX = "index.md"


def rule_pages(pack: Pack) -> dict[str, str]:
    """Return a page for each rule by path, `dc/positive-run-protected.md`, and an index of them."""
    pages = {f"{rule.identity}.md": rule_page(rule) for rule in pack.rules}
    return {INDEX: _index(pack), **pages}


def _index(pack: Pack) -> str:
    lines = ["# Rules", "", "How each source was obtained:", ""]
    known = [source.how for rule in pack.rules for source in rule.header.sources]
    lines += [f"- {words}: {known.count(how)}" for how, words in KNOWN_HOW.items() if how in known]
    ordered = sorted(pack.rules, key=lambda rule: (place_of_system(rule), rule.identity))
    for system, rules in groupby(ordered, key=lambda rule: rule.header.system.value):
        lines += ["", f"## {system}", "", "| Rule | Level | What must hold |", "| --- | --- | --- |"]
        for rule in rules:
            link = f"[{rule.identity}]({rule.identity}.md)"
            lines.append(f"| {link} | {rule.header.level.value} | {escaped(rule.header.title)} |")
    return "\n".join(lines) + "\n"


def rule_page(rule: Rule) -> str:
    """Return one rule's page."""
    parts = [f"# {escaped(rule.header.title)}", rule.document.prose, "\n".join(_table(rule))]
    if rule.limits:
        parts.append("## Limits\n\n" + "\n".join(_limits(rule)))
    parts.append("## Sources\n\n" + "\n".join(_sources(rule)))
    fragments = rule.document.fragments
    for heading in HEADINGS:
        for fragment in (one for one in fragments if one.heading == heading):
            said = f"\n\nFinding: {fragment.expects}" if fragment.expects else ""
            parts.append(f"## {heading}\n\n```yaml\n{fragment.text.rstrip()}\n```{said}")
    return "\n\n".join(part for part in parts if part) + "\n"


def _table(rule: Rule) -> Iterator[str]:
    yield "| About | |"
    yield "| --- | --- |"
    for label, said in particulars(rule):
        if said and not label.startswith("Limit "):
            yield f"| {label} | {escaped(said)} |"


def _limits(rule: Rule) -> Iterator[str]:
    places = list(dict.fromkeys(where for values in rule.header.limits.values() for where in values))
    heads = ["everywhere else" if where == "any" and len(places) > 1 else where for where in places]
    yield (
        "| Limit | "
        + " | ".join("everywhere" if one == "any" else one.upper() if len(one) == 2 else one for one in heads)
        + " |"
    )
    yield "| --- |" + " --- |" * len(places)
    for name, values in rule.header.limits.items():
        yield f"| {name} | " + " | ".join(str(values.get(where, "")) for where in places) + " |"


def _sources(rule: Rule) -> Iterator[str]:
    for source in rule.header.sources:
        says = f": {escaped(source.says)}" if source.says else ""
        yield f"- {escaped(source_words(source))}{says}"
