"""Check of the written specification: every rule's answer with its figures, and what was not looked at."""

from __future__ import annotations

from specreg.model.component import System
from specreg.model.field import Reader
from specreg.pages.chapters import cell_of_sign_off
from specreg.pages.check_record import concessions, sign_offs, tests, walk_round
from specreg.pages.content import (
    Block,
    Break,
    Cell,
    Entries,
    Entry,
    Fold,
    Inline,
    Listing,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    Words,
    cell,
)
from specreg.pages.figures import figures_section, named
from specreg.pages.van import Van
from specreg.report import count
from specreg.rules.pack import Rule
from specreg.rules.result import Answer, Result

COUNTED = (
    "errors",
    "warnings",
    "notes",
    "conceded",
    "open",
    "review",
    "answered",
    "passes",
    "not_applicable",
)


def check_pages(van: Van) -> tuple[Page, ...]:
    """Return the overview, then a page for each system that any rule speaks of."""
    systems = _systems(van)
    counts = count(van.results)
    items = tuple(
        Entry(van.texts(f"check.count.{name}"), cell(str(getattr(counts, name)))) for name in COUNTED
    )
    blocks: list[Block] = [
        Section("counts", van.texts("check.counts"), (Entries(items),)),
        _not_looked_at(van),
    ]
    blocks += [_by_system(van)] if systems else []
    blocks += [*concessions(van), *sign_offs(van), *tests(van), *walk_round(van)]
    blocks += figures_section(van, "check", title=van.texts("check.further"))
    blocks += [_codes(van), Paragraph(cell(van.texts("check.as_data"), "check.json"))]
    overview = Page("check", van.texts("page.check"), van.texts("check.lead"), tuple(blocks))
    return (overview, *systems)


COLUMNS = ("errors", "warnings", "notes", "conceded", "review", "open", "answered", "passes")


def _by_system(van: Van) -> Section:
    """Return the answers of each system counted, with links to its page."""
    rows = []
    for system in System:
        results = [result for result in van.results if result.system == system.value]
        counts = count(results)
        if results:
            name = cell(van.texts(f"system.{system.value}"), f"check-{system.value}.html")
            rows.append(
                Row(
                    (
                        name,
                        *(
                            cell(str(getattr(counts, column)) if getattr(counts, column) else "–")
                            for column in COLUMNS
                        ),
                    )
                )
            )
    columns = (van.texts("check.system"), *(van.texts(f"check.short.{name}") for name in COLUMNS))
    return Section(
        "systems",
        van.texts("check.systems"),
        (Table(van.texts("check.systems_caption"), columns, tuple(rows)),),
    )


def _not_looked_at(van: Van) -> Section:
    said = [*van.report.not_looked_at()]
    none = van.build.header.systems.none
    if none:
        said.append(van.texts("check.declared_none", systems=", ".join(none)))
    return Section(
        "not-looked-at", van.texts("check.not_looked_at"), (Listing(tuple(cell(text) for text in said)),)
    )


def _systems(van: Van) -> tuple[Page, ...]:
    found = []
    for system in System:
        results = [result for result in van.results if result.system == system.value]
        if results:
            found.append(_system(van, system.value, results))
    return tuple(found)


def _system(van: Van, system: str, results: list[Result]) -> Page:
    open_ones = [r for r in results if r.answer in (Answer.fails, Answer.review, Answer.open)]
    passes = [r for r in results if r.answer is Answer.passes]
    beside = [r for r in results if r.answer is Answer.not_applicable]
    blocks: list[Block] = []
    if open_ones:
        ordered = sorted(open_ones, key=lambda r: (_weight(r), r.rule, r.subject, r.case or ""))
        columns = tuple(van.texts(f"check.{name}") for name in ("answer", "finding", "figures", "rule"))
        rows = tuple(_finding(van, result) for result in ordered)
        blocks.append(Table(van.texts("check.findings"), columns, rows, findable=len(rows) > FEW))
    if passes:
        summary = van.texts("check.passes", count=len(passes), rules=len({r.rule for r in passes}))
        blocks.append(Fold(summary, (_passes(van, passes),)))
    if beside:
        listed = tuple(cell(f"{r.title}: {r.reason}") for r in beside)
        blocks.append(Fold(van.texts("check.not_applicable", count=len(beside)), (Listing(listed),)))
    title = van.texts("check.page_title", system=van.texts(f"system.{system}"))
    return Page(f"check-{system}", title, van.texts("check.lead"), tuple(blocks), within="check")


FEW = 12
"""More findings than this in one table get a field to find them by."""


def _weight(result: Result) -> int:
    """Return the place of an answer: failures by level, then what people must look at, then what is open."""
    if result.answer is Answer.fails:
        return ("error", "warning", "note").index(result.level.value) + (3 if result.concession else 0)
    return 8 if result.sign_off else (6 if result.answer is Answer.review else 7)


def _finding(van: Van, result: Result) -> Row:
    subject = result.subject_name if result.subject else van.texts("check.whole")
    case = f", {result.case}" if result.case else ""
    told = result.message or van.texts("check.withheld", title=result.title)
    text: list[Inline] = [Words(f"{subject[:1].upper()}{subject[1:]}{case}: ", strong=True), Words(told)]
    if result.remedy:
        text += [Break(), Words(f"{van.texts('check.remedy')} {result.remedy}")]
    if result.decides and not result.sign_off:
        text += [Break(), Words(van.texts("check.decides", who=result.decides))]
    if result.concession:
        text += [Break()]
        text.append(
            Words(van.texts("check.conceded", by=result.concession.granted_by, why=result.concession.reason))
        )
    if result.sign_off:
        text += [Break(), Words(f"{van.texts('check.answered')} "), *cell_of_sign_off(van, result.sign_off)]
    if van.reader is Reader.workshop:
        text += [Break(), Words(_written_at(van, result))]
    return Row(
        (cell(_answer(van, result), strong=True), tuple(text), _evidence(van, result), _whose(van, result))
    )


def _written_at(van: Van, result: Result) -> str:
    """Return where the subject is written, from the register's folder on: the same wherever one publishes."""
    return f"{result.place}".removeprefix(van.shown.removesuffix(van.build.name))


def _answer(van: Van, result: Result) -> str:
    if result.answer is Answer.fails:
        why = f" ({result.reason})" if result.reason else ""
        return f"{van.texts('check.word.fail')}, {van.texts(f'check.level.{result.level.value}')}{why}"
    return van.texts(f"check.word.{'answered' if result.sign_off else result.answer.value}")


def _evidence(van: Van, result: Result) -> Cell:
    pieces: list[Inline] = []
    for item in result.evidence[:MANY]:
        if isinstance(item.value, tuple | dict):
            continue
        pieces += [Words("; ")] if pieces else []
        pieces += [Words(f"{named(van, item.name)} "), *van.input(item)]
    if result.assumptions:
        pieces.append(Words(f" {van.texts('check.assumed')} {'; '.join(result.assumptions[:MANY])}."))
    return tuple(pieces)


MANY = 6


def _whose(van: Van, result: Result) -> Cell:
    rule = van.report.rules.get(result.rule)
    where = f" ({result.jurisdiction.upper()})" if result.jurisdiction else ""
    return cell(f"{sources(van, rule)}{where}") if rule else ()


def sources(van: Van, rule: Rule) -> str:
    """Return whose rule it is, with the plain word where its authors only remember it."""
    said = []
    for source in rule.header.sources:
        parts = [source.document or "", source.clause or ""]
        how = f"[{van.texts('how.' + source.how.replace(' ', '_'))}]"
        said.append(" ".join(part for part in (*parts, how) if part))
    return "; ".join(said)


def _passes(van: Van, results: list[Result]) -> Table:
    """Return one row for each rule that passes, with the figures of the target that passes most narrowly."""
    by_rule: dict[str, list[Result]] = {}
    for result in results:
        by_rule.setdefault(result.rule, []).append(result)
    columns = tuple(van.texts(f"check.{name}") for name in ("rule_title", "targets", "tightest", "rule"))
    rows = tuple(_pass(van, found) for found in by_rule.values())
    return Table(van.texts("check.passes_caption"), columns, rows)


def _pass(van: Van, results: list[Result]) -> Row:
    rule = van.report.rules.get(results[0].rule)
    tight = min(results, key=lambda r: (margin(r, rule), r.subject))
    subject = tight.subject_name if tight.subject else van.texts("check.whole")
    told = (Words(f"{subject}: "), *_evidence(van, tight))
    return Row((cell(results[0].title), cell(str(len(results))), told, _whose(van, results[0])))


def margin(result: Result, rule: Rule | None) -> float:
    """Return how narrowly a rule passes: the least relative distance of two figures of one dimension."""
    figures = [
        (i.dimension, float(i.value))
        for i in result.evidence
        if i.dimension and isinstance(i.value, int | float)
    ]
    if rule is not None:
        limits = rule.limits_in(result.jurisdiction)
        figures += [(rule.dimensions[name], value) for name, value in limits.items()]
    return min(
        (
            abs(a - b) / max(abs(a), abs(b))
            for index, (one, a) in enumerate(figures)
            for other, b in figures[index + 1 :]
            if one is other and (a or b)
        ),
        default=float("inf"),
    )


def _codes(van: Van) -> Section:
    listed = tuple(cell(text) for text in van.report.pack.codes)
    return Section(
        "codes",
        van.texts("frame.codes_used"),
        (Fold(van.texts("check.codes_count", count=len(listed)), (Listing(listed),)),),
    )
