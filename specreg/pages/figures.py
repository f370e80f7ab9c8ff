"""Computed figures about the whole van, each with its formula, source and assumptions."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from specreg.facts.axes import cases
from specreg.facts.engine import Fact
from specreg.facts.registry import Axis, Kind, kinds_for
from specreg.pages.content import (
    Block,
    Cell,
    Entries,
    Entry,
    Figure,
    Fold,
    Listing,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.van import Van, label, words_of

CHAPTERS: dict[str, tuple[str, ...]] = {
    "electrics": (
        "current",
        "voltage",
        "charg",
        "energy",
        "batter",
        "solar",
        "sun",
        "night",
        "inverter",
        "mains",
        "storage",
        "autonomy",
        "year",
        "alternator",
        "protection",
        "conductor",
        "consumption",
    ),
    "water": ("tank", "water", "waste", "tap", "flow", "pump", "frost"),
    "heat": ("gas", "heat", "air", "vent", "co2", "fuel", "flue", "combustion", "warm", "condens", "climate"),
    "beds": ("seat", "bed", "escape", "exit", "mode", "sleep", "space", "clear"),
    "weights": ("mass", "axle", "payload", "load", "weigh", "tyre"),
}
"""The page on which a module of facts is told, by a word in the module's name; the first that fits counts."""


def of_whole(van: Van, name: str, case: str | None = None) -> Fact:
    """Return a fact about the whole van by its name."""
    kind = kinds_for(type(van.build.header))[name]
    return van.facts.ask(van.facts.subject("", case), kind)


SCALAR = ("number", "text", "date", "truth")


@cache
def chapter_of(kind: Kind) -> str:
    """Return the page that tells a fact about the whole van: `check` where no other does."""
    module = kind.compute.__module__.rpartition(".")[2]
    return next((page for page, words in CHAPTERS.items() if any(word in module for word in words)), "check")


def facts_of(van: Van, page: str) -> list[tuple[Kind, Fact]]:
    """Return the plain figures about the whole van that a page tells."""
    kinds = kinds_for(type(van.build.header)).values()
    return [
        (kind, van.facts.ask(van.facts.whole, kind))
        for kind in kinds
        if kind.axis is None and kind.gives.form in SCALAR and chapter_of(kind) == page
    ]


def figures_section(van: Van, page: str, *, title: str = "") -> list[Section]:
    """Return what is known of a page's figures, with the ways to them folded; nothing where there is none."""
    facts = [(kind, fact) for kind, fact in facts_of(van, page) if fact.known or fact.missing]
    if not facts:
        return []
    known = tuple(Entry(kind.title, van.told(fact)) for kind, fact in facts if fact.known)
    unknown = tuple(Entry(kind.title, van.told(fact)) for kind, fact in facts if not fact.known)
    blocks: list[Block] = [*([Entries(known)] if known else []), _how(van, facts)]
    blocks += assumed(van, [fact for _, fact in facts])
    if unknown:
        blocks.append(Fold(van.texts("figures.unknown", count=len(unknown)), (Entries(unknown),)))
    return [Section("figures", title or van.texts("figures.title"), tuple(blocks))]


def _how(van: Van, facts: list[tuple[Kind, Fact]]) -> Fold:
    columns = tuple(van.texts(f"figures.{name}") for name in ("figure", "formula", "source", "from"))
    rows = tuple(
        Row((cell(kind.title), words_of(kind.formula), words_of(kind.source), words_of(_inputs(van, fact))))
        for kind, fact in facts
        if fact.known
    )
    return Fold(van.texts("figures.how"), (Table(van.texts("figures.caption"), columns, rows),))


def without_assumptions(found: Cell) -> Cell:
    """Return a cell of a table whose assumptions are listed below it, without them beside each figure."""
    return tuple(replace(piece, beside="") if isinstance(piece, Figure) else piece for piece in found)


def assumed(van: Van, facts: list[Fact]) -> list[Block]:
    """Return what some figures assume, folded; nothing where they assume nothing."""
    said = tuple(dict.fromkeys(text for fact in facts for text in fact.assumptions))
    if not said:
        return []
    return [
        Fold(van.texts("figures.assumed", count=len(said)), (Listing(tuple(cell(text) for text in said)),))
    ]


def _inputs(van: Van, fact: Fact) -> str:
    names = list(dict.fromkeys(named(van, item.name) for item in fact.inputs))
    more = f" … {len(names)}" if len(names) > MANY else ""
    return "; ".join(names[:MANY]) + more


MANY = 6
"""As many inputs of a figure are named; a sum over all things names too many to read."""


def named(van: Van, name: str) -> str:
    """Return what a dotted name means: `water-pump.power` is "Water pump: power"."""
    subject, _, last = name.rpartition(".")
    if subject in van.build.components or subject in van.build.runs or subject in van.facts.devices:
        return f"{van.name(subject)}: {label(last).lower()}"
    return label(name.replace(".", ", ")).lower()


def by_case(van: Van, axis: Axis, names: tuple[str, ...], caption: str) -> list[Block]:
    """Return a table of some figures of the whole van in every case; nothing where none of them is a fact."""
    kinds = kinds_for(type(van.build.header))
    there = [kinds[name] for name in names if name in kinds and kinds[name].axis is axis]
    if not there:
        return []
    columns = (van.texts(f"case.{axis.name}"), *(kind.title for kind in there))
    rows = tuple(
        Row(
            (
                cell(str(case), strong=True),
                *(without_assumptions(van.fact("", kind.name, case)) for kind in there),
            )
        )
        for case in cases(axis, van.facts)
    )
    facts = [
        van.facts.ask(van.facts.subject("", case), kind) for kind in there for case in cases(axis, van.facts)
    ]
    return [Table(caption, columns, rows), *assumed(van, facts)]
