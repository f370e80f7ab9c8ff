"""A comparison as text and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from specreg import __version__
from specreg.output import words
from specreg.output.as_json import dumps, problems_data
from specreg.output.rows import in_columns, visible
from specreg.output.style import Style
from specreg.output.value import SI_UNITS, number
from specreg.register.changes import Change, FieldChange, What
from specreg.register.compare import Compared, Comparison
from specreg.register.effects import CostChange, FigureChange, Reopened
from specreg.rules.result import Result
from specreg.units import System, write

FORMAT = 1
NOT_KNOWN = "not known"


def comparison_text(one: Comparison, style: Style) -> str:
    """Return what differs, then what it does."""
    header = one.after.build.header
    start, end = one.called
    title = style.tint(f"Changes of {header.build}, {header.title}: from {start} to {end}", "title")
    if one.same:
        return f"{title}\nNothing differs.\n"
    sections = (
        ("What differs:", [line for change in one.changes for line in _change(change, style)]),
        ("Effects:", [f"  {line}" for line in effect_lines(one)]),
        ("Findings that come:", [_finding(result, style) for result in one.come]),
        ("Findings that go:", [_finding(result, style) for result in one.go]),
        ("Signed matters that are open again:", [_reopened(again, style) for again in one.reopened]),
    )
    lines = [title]
    for heading, found in sections:
        if found:
            lines += ["", heading, *found]
    return "\n".join([*lines, "", _tally(one)]) + "\n"


def _change(change: Change, style: Style) -> Iterator[str]:
    yield style.wrap(f"{change.what.value}: {thing_words(change)}", "  ")
    for field in change.fields:
        yield style.wrap(visible(field_words(field)), "    ", "      ")


def thing_words(change: Change) -> str:
    """Return what a change is about: id, designation, and the old id where it has another."""
    if change.what is What.said:
        return "the spec's header"
    designation = f" ({change.designation})" if change.designation else ""
    was = f", formerly {change.was}" if change.was != change.subject else ""
    return f"{change.section} {change.subject}{designation}{was}"


def field_words(field: FieldChange) -> str:
    """Return one field's change: `rated current: 30 A → 40 A`."""
    name = field.key.replace("_", " ")
    if field.before is None:
        return f"{name}: now {field.after}"
    if field.after is None:
        return f"{name}: {field.before} → not stated"
    return f"{name}: {field.before} → {field.after}"


def effect_lines(one: Comparison) -> list[str]:
    """Return figures and costs on either side, in columns."""
    system = System(one.after.build.header.units)
    rows = [figure_cells(figure, system) for figure in one.figures]
    rows += [cost_cells(cost) for cost in one.costs]
    return in_columns(("", "before", "after", "difference"), rows)[1:] if rows else []


Cells = tuple[str, str, str, str]


def figure_cells(figure: FigureChange, system: System) -> Cells:
    """Return a figure's name, both values and their difference."""
    name = figure.name.replace("_", " ") + (f", {figure.case}" if figure.case else "")

    def written(value: float | None) -> str:
        return NOT_KNOWN if value is None else write(value, figure.dimension, system)

    before, after = written(figure.before), written(figure.after)
    if figure.before is None or figure.after is None:
        wanted = f"for want of {', '.join(figure.missing)}" if figure.missing else ""
        return name, before, f"→ {after}", wanted
    change = figure.after - figure.before
    return name, before, f"→ {after}", f"{'+' if change > 0 else '−'}{written(abs(change))}"


def cost_cells(cost: CostChange) -> Cells:
    """Return the sum of the stated prices on either side and their difference."""
    change = cost.after - cost.before
    sign = "+" if change > 0 else "−"
    own = cost.currency
    return "prices stated", f"{cost.before} {own}", f"→ {cost.after} {own}", f"{sign}{abs(change)} {own}"


def _finding(result: Result, style: Style) -> str:
    return style.wrap(
        f"{words.answer_words(result)}: {words.statement(result)} ({result.rule})", "  ", "    "
    )


def _reopened(again: Reopened, style: Style) -> str:
    signed = again.before.sign_off
    who = words.sign_off_words(signed) if signed else ""
    text = f"{again.after.subject_name}: {again.after.title}, {who} ({again.after.rule})"
    return style.wrap(text, "  ", "    ")


def _tally(one: Comparison) -> str:
    return (
        f"{words.plural(len(one.changes), 'change')}: {words.plural(len(one.come), 'finding')} more, "
        f"{len(one.go)} fewer, {words.plural(len(one.reopened), 'signed matter')} open again."
    )


def compared_json(compared: Compared) -> str:
    """Return comparisons as JSON."""
    return dumps(
        {
            "format": FORMAT,
            "specreg": __version__,
            "comparisons": [comparison_data(one) for one in compared.comparisons],
            "left_out": list(compared.left_out),
            "problems": problems_data(compared.problems),
        }
    )


def comparison_data(one: Comparison) -> dict[str, Any]:
    """Return one comparison as plain data."""
    return {
        "build": one.after.build.name,
        "title": one.after.build.header.title,
        "from": one.called[0],
        "to": one.called[1],
        "same": one.same,
        "changes": [_change_data(change) for change in one.changes],
        "figures": [_figure_data(figure) for figure in one.figures],
        "costs": [
            {"currency": cost.currency, "before": str(cost.before), "after": str(cost.after)}
            for cost in one.costs
        ],
        "findings": {"come": [_result_data(r) for r in one.come], "go": [_result_data(r) for r in one.go]},
        "reopened": [_result_data(again.after) for again in one.reopened],
    }


def _change_data(change: Change) -> dict[str, Any]:
    fields = [{"field": one.key, "before": one.before, "after": one.after} for one in change.fields]
    return {
        "what": change.what.value,
        "section": change.section,
        "subject": change.subject,
        "formerly": change.was if change.was != change.subject else None,
        "designation": change.designation,
        "fields": fields,
    }


def _figure_data(figure: FigureChange) -> dict[str, Any]:
    values = [None if one is None else number(one) for one in (figure.before, figure.after)]
    return {
        "name": figure.name,
        "case": figure.case,
        "unit": SI_UNITS[figure.dimension],
        "before": values[0],
        "after": values[1],
        "missing": list(figure.missing),
    }


def _result_data(result: Result) -> dict[str, Any]:
    return {
        "rule": result.rule,
        "title": result.title,
        "level": result.level.value,
        "answer": result.answer.value,
        "subject": result.subject,
        "case": result.case,
        "jurisdiction": result.jurisdiction,
        "message": result.message,
    }
