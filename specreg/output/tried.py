"""What came of trying a rule: each target's answer with what was read, and whether its fragments prove it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.facts.engine import Facts, Input
from specreg.output import words
from specreg.output.evidence import figures
from specreg.output.style import INDENT, Style
from specreg.rules.attempt import Attempt
from specreg.rules.pack import Rule
from specreg.rules.proof import Proof


def tried_text(rule: Rule, facts: Facts, found: Iterable[Attempt], style: Style) -> str:
    """Return what a rule makes of each of its targets in one build."""
    targets = list(found)
    about = sum(one.result is not None for one in targets)
    noun = rule.header.judges.replace("-", " ")
    head = f"{facts.build.name}: {words.plural(len(targets), noun)}, of which the rule is about {about}"
    if not targets and rule.header.jurisdictions:
        head += "; it holds in " + ", ".join(word.value.upper() for word in rule.header.jurisdictions)
    lines = [style.tint(style.wrap(head), "title")]
    for one in targets:
        lines += _target(one, facts, style)
    return "\n".join(lines) + "\n"


def _target(one: Attempt, facts: Facts, style: Style) -> Iterator[str]:
    name = one.target or "the build"
    if one.result is None:
        within = [part for part in (one.case, (one.jurisdiction or "").upper()) if part]
        where = f" [{', '.join(within)}]" if within else ""
        yield style.wrap(f"{name}{where}: the rule is not about it", INDENT, INDENT * 2)
    else:
        said = f"{words.answer_words(one.result)}: {words.statement(one.result)}"
        yield style.wrap(f"{name}: {said}", INDENT, INDENT * 2)
    yield from _figures("applies reads", one.about, facts, style)
    if one.result is not None:
        yield from _figures("passes reads", one.result.evidence, facts, style)
        for label, detail in (
            ("assumed", "; ".join(one.result.assumptions)),
            ("missing", ", ".join(one.result.missing)),
            ("remedy", one.result.remedy),
        ):
            if detail:
                yield style.wrap(f"{label}: {detail}", INDENT * 2, INDENT * 3)


def _figures(label: str, inputs: tuple[Input, ...], facts: Facts, style: Style) -> Iterator[str]:
    for figure in figures(facts.build, inputs):
        yield style.wrap(f"{label} {figure.name}: {figure.value} ({figure.known_by})", INDENT * 2, INDENT * 3)


def proofs_text(rule: Rule, proofs: Iterable[Proof], style: Style) -> str:
    """Return whether each fragment of a rule's document gives what its heading says."""
    lines = [style.tint("Its fragments", "title")]
    for proof in proofs:
        lead = f"{rule.document.file}:{proof.fragment.line}: {proof.fragment.heading}"
        lines.append(style.wrap(f"{lead}: {proof.complaint or 'as it says'}", INDENT, INDENT * 2))
        lines += [style.wrap(problem.text(), INDENT * 2, INDENT * 3) for problem in proof.problems]
    if len(lines) == 1:
        lines.append(f"{INDENT}none: a rule without `## Conforms` and `## Does not conform` proves nothing")
    return "\n".join(lines) + "\n"
