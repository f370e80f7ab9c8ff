"""One van as its pages see it: the build behind the gate, its figures, names, places and links."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import Enum
from functools import cached_property
from math import isinf
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

from specreg.facts.engine import Fact, Facts, Input
from specreg.facts.field_type import type_of_field
from specreg.facts.registry import kinds_for
from specreg.facts.schedule import supply_of
from specreg.facts.value_type import ValueType
from specreg.graph.supply import Supplied
from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.field import Reader
from specreg.pages.content import Cell, Figure, Known, Unknown, Words, cell
from specreg.pages.texts import Texts
from specreg.report import Report
from specreg.rules.result import Result
from specreg.units import ConductorSize, Dimension, System, write

if TYPE_CHECKING:
    from specreg.register.compare import Comparison


@dataclass(frozen=True)
class Van:
    """What every page of one van is composed from.

    `build` and `facts` are behind the gate; `results` passed it one by one. `folder` holds the procedures.
    `since` tells what changed since an earlier revision, where that was asked for.
    `address` is where the pages will be read, ending in a slash; empty where that is not known.
    """

    build: Build
    facts: Facts
    results: tuple[Result, ...]
    report: Report
    reader: Reader
    texts: Texts
    folder: Path
    shown: str
    on: date | None
    since: Comparison | None = None
    address: str = ""

    @property
    def units(self) -> System:
        """Return the system of units in which figures are shown."""
        return System(self.build.header.units)

    @cached_property
    def supply(self) -> Supplied:
        """Return the build prepared for questions of supply."""
        return self.facts.once(supply_of)

    def of(self, *classes: type[Component]) -> dict[str, Component]:
        """Return the components of some classes, in the order of the spec."""
        return {name: one for name, one in self.build.components.items() if isinstance(one, classes)}

    def kinds(self, *words: str) -> dict[str, Component]:
        """Return the components of some kinds, in the order of the spec."""
        return {name: one for name, one in self.build.components.items() if one.kind in words}

    def name(self, thing: str) -> str:
        """Return what a person calls a component, a run, a device or a way, with a capital."""
        text = self.facts.name_of(thing)
        return text[:1].upper() + text[1:]

    def designation(self, thing: str) -> str:
        """Return the reference designation, empty where none is assigned yet."""
        return self.build.designations.get(thing, "")

    def thing(self, thing: str) -> Cell:
        """Return the name of a thing as a link to where it is listed, with its designation."""
        owner = thing.partition("/")[0]
        if owner in self.build.components:
            href = f"parts.html#{owner}"
        else:
            href = f"electrics.html#{owner}" if self._is_cable(owner) else ""
        mark = self.designation(thing)
        words = Words(self.name(thing), href, strong=True)
        return (words, Words(f" ({mark})")) if mark else (words,)

    def _is_cable(self, name: str) -> bool:
        run = self.build.runs.get(name)
        return run is not None and run.medium.value in ("dc", "ac")

    def value(self, value: Any, kind: ValueType | None) -> str:  # noqa: PLR0911 - one line for each form
        """Return a value as a person writes it."""
        if isinstance(value, bool):
            return self.texts("word.yes") if value else self.texts("word.no")
        if isinstance(value, ConductorSize):
            return value.label
        if isinstance(value, Enum):
            return str(value.value)
        if isinstance(value, date):
            return value.isoformat()
        if isinstance(value, int | float):
            return self._number(float(value), kind)
        if isinstance(value, tuple):
            item = kind.item if kind else None
            return ", ".join(self.value(one, item) for one in value)
        if isinstance(value, BaseModel):
            return "; ".join(f"{label} {text}" for label, text in self.fields(value))
        if isinstance(value, dict):
            return "; ".join(f"{key}: {self.value(one, None)}" for key, one in value.items())
        return self.facts.name_of(value) if value in self.build.components else str(value)

    def _number(self, value: float, kind: ValueType | None) -> str:
        if isinf(value):
            return self.texts("word.unlimited")
        if kind is None or kind.dimension in (None, Dimension.plain):
            return f"{value:g}".replace("-", "−")
        return write(value, kind.dimension, self.units)

    def fields(self, model: BaseModel, *without: str) -> Iterator[tuple[str, str]]:
        """Yield the stated fields of a model with their values in words."""
        for name, field in type(model).model_fields.items():
            value = getattr(model, name)
            if name in without or value is None or value in ((), {}) or value == field.default:
                continue
            yield label(field.alias or name), self.field(model, name)

    def field(self, model: BaseModel, name: str) -> str:
        """Return one field in words; empty where it is not stated."""
        value = getattr(model, name)
        if value is None:
            return ""
        if name in TRIPLES and isinstance(value, tuple):
            return " × ".join(self.value(one, LENGTH) for one in value)
        return self.value(value, type_of_field(type(model), name))

    def declared(self, model: BaseModel, name: str) -> Cell:
        """Return a field as a declared figure, or say that it is not written."""
        text = self.field(model, name)
        return (Figure(text, Known.declared),) if text else (Unknown(self.texts("word.not_written")),)

    def fact(self, subject: str, name: str, case: str | None = None) -> Cell:
        """Return a fact as a computed figure, or what would be needed to know it; nothing where none is."""
        kind = kinds_for(type(self.facts.subject(subject).model)).get(name)
        if kind is None:
            return ()
        return self.told(self.facts.ask(self.facts.subject(subject, case), kind))

    def told(self, fact: Fact) -> Cell:
        """Return a fact as a cell."""
        if not fact.known:
            return (Unknown(self._unknown(fact)),)
        text = self.value(fact.value, fact.kind.gives) or self.texts("word.none")
        return (Figure(text, Known.computed, self.beside(fact)),)

    def _unknown(self, fact: Fact) -> str:
        if not fact.missing:
            return self.texts("word.not_known_because", reason=fact.reason)
        if self.reader is Reader.public:
            return self.texts("word.not_known")
        return self.texts("word.not_known_needs", fields=", ".join(fact.missing))

    def beside(self, fact: Fact) -> str:
        """Return what must be said beside a computed figure: a source from memory, and what was assumed."""
        said = [self.texts("word.from_memory")] if "memory" in fact.kind.source else []
        assumed = "; ".join(fact.assumptions)
        if len(assumed) > LONGEST_BESIDE:
            assumed = self.texts("word.assumptions", count=len(fact.assumptions))
        return "; ".join((*said, *([assumed] if assumed else [])))

    def input(self, item: Input) -> Cell:
        """Return a figure that went into an answer, as declared or computed."""
        kind = ValueType("number", dimension=item.dimension) if item.dimension else None
        return (Figure(self.value(item.value, kind), self.known(item.name)),)

    def known(self, name: str) -> Known:
        """Return how a figure of that name came to be known: a fact is computed, a record measured."""
        if name.startswith(("records.", "vehicle.as_received")) or ".measured" in name:
            return Known.measured
        subject, _, last = name.rpartition(".")
        known = subject in self.facts.build.components or subject in self.facts.build.runs
        owner = subject if known or subject in self.facts.devices else ""
        kinds = kinds_for(type(self.facts.subject(owner).model))
        return Known.computed if last in kinds else Known.declared


LONGEST_BESIDE = 120
"""Assumptions longer than this in all are counted beside the figure and listed below it."""

LENGTH = ValueType("number", dimension=Dimension.length)
TRIPLES = frozenset({"at", "size", "centre_of_mass", "plate", "filler_at"})


def label(key: str) -> str:
    """Return a field's key as a label."""
    return key.replace("_", " ").capitalize()


def words_of(text: str) -> Cell:
    """Return plain text as a cell, nothing for no text."""
    return cell(text) if text else ()
