"""The one gate between a build and its readers: what a reader may not see does not reach a page.

Pages are composed from the build as the gate lets it through. Facts for pages are computed from that build
too, so that no figure can be derived from what was dropped. Only the answers of the rules come from the
whole build; they pass the gate one by one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from operator import attrgetter, is_not
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from specreg.facts.engine import Facts
from specreg.facts.field_type import type_of_field
from specreg.facts.registry import kinds_for
from specreg.model.build import Build
from specreg.model.field import Reader, reader_of
from specreg.rules.result import Result
from specreg.source.tree import Mapping

SHORTEST_TELLING = 3
"""Texts shorter than this tell nobody anything, and would be found in every sentence."""


def seen_by(build: Build, reader: Reader) -> Build:
    """Return the build without what the reader may not see, and without its source text."""
    return replace(
        build,
        header=_seen(build.header, reader),
        components={name: _seen(component, reader) for name, component in build.components.items()},
        runs={name: _seen(run, reader) for name, run in build.runs.items()},
        tree=Mapping({}, build.tree.place),
    )


def _seen(value: Any, reader: Reader) -> Any:
    """Return a value without what the reader may not see: itself where nothing of it is hidden."""
    if isinstance(value, BaseModel):
        changed = dict(_changed(value, reader))
        return value.model_copy(update=changed) if changed else value
    if isinstance(value, tuple):
        items = tuple(_seen(item, reader) for item in value)
        return items if any(map(is_not, items, value)) else value
    if isinstance(value, dict):
        held = {key: _seen(item, reader) for key, item in value.items()}
        return held if any(map(is_not, held.values(), value.values())) else value
    return value


def _changed(model: BaseModel, reader: Reader) -> Iterator[tuple[str, Any]]:
    """Yield the fields of a model that a reader sees otherwise than they are, with what is seen there."""
    hidden = _hidden(type(model), reader)
    for name in type(model).model_fields:
        held = getattr(model, name)
        if name in hidden:
            seen = _unstated(hidden[name])
            if held != seen:
                yield name, seen
        elif isinstance(held, BaseModel | tuple | dict):
            seen = _seen(held, reader)
            if seen is not held:
                yield name, seen


@cache
def _hidden(model: type[BaseModel], reader: Reader) -> dict[str, FieldInfo]:
    """Return the fields of a model that are not for a reader."""
    fields = model.model_fields.items()
    return {name: field for name, field in fields if not reader.may_read(reader_of(model, name))}


def _unstated(field: FieldInfo) -> Any:
    """Return what a field holds that nobody stated."""
    return None if field.is_required() else field.get_default(call_default_factory=True, validated_data={})


class Gate:
    """Lets the answers of rules through, without figures or words that are not for the reader."""

    def __init__(self, facts: Facts, reader: Reader) -> None:
        self._facts = facts
        self._reader = reader
        self._least: dict[tuple[str, str | None], Reader] = {}
        self._private = tuple(sorted(set(_private_texts(facts.build, reader))))

    def results(self, results: Iterable[Result]) -> tuple[Result, ...]:
        """Return answers as the reader may see them."""
        listed = tuple(results)
        said = "\n".join(text for one in listed for text in (one.message, one.remedy, *one.assumptions))
        withheld = tuple(_as_a_word(text) for text in self._private if text in said)
        return tuple(self._result(result, withheld) for result in listed)

    def _result(self, result: Result, withheld: tuple[re.Pattern[str], ...]) -> Result:
        """Return one answer as the reader may see it; no text of it may hold one of the words withheld."""

        def tells(text: str) -> bool:
            return any(word.search(text) for word in withheld)

        open_to = self._reader.may_read
        evidence = tuple(item for item in result.evidence if open_to(self.least(item.name, result.case)))
        told = len(evidence) == len(result.evidence) and not tells(result.message)
        workshop = self._reader is Reader.workshop
        return replace(
            result,
            message=result.message if told else "",
            remedy=result.remedy if self._may_do(result) and not tells(result.remedy) else "",
            evidence=evidence,
            assumptions=tuple(text for text in result.assumptions if told and not tells(text)),
            missing=result.missing if open_to(Reader.owner) else (),
            fingerprint=result.fingerprint if workshop else "",
            sign_off=_seen(result.sign_off, self._reader),
            concession=_seen(result.concession, self._reader),
            origin=result.origin if workshop else (),
        )

    def _may_do(self, result: Result) -> bool:
        """Tell whether what would mend it is for this reader: how to record a sign-off is the workshop's."""
        return self._reader is Reader.workshop or (self._reader is Reader.owner and not result.decides)

    def least(self, name: str, case: str | None) -> Reader:
        """Return the least reader of a field or fact, taken through all that a fact was computed from."""
        key = (name, case)
        if key not in self._least:
            self._least[key] = Reader.public  # a fact that reads itself by a detour ends here
            self._least[key] = self._least_of(name, case)
        return self._least[key]

    def _least_of(self, name: str, case: str | None) -> Reader:
        subject, path = _parted(name, self._facts)
        model: Any = self._facts.subject(subject).model
        least = Reader.public
        for step in path:
            if not isinstance(model, BaseModel):
                return least
            field = _field_named(type(model), step)
            if field is None:
                kind = kinds_for(type(model)).get(step)
                if kind is None:
                    return Reader.workshop
                inputs = self._facts.ask(self._facts.subject(subject, case), kind).inputs
                return _highest(least, *[self.least(item.name, case) for item in inputs])
            least = _highest(least, reader_of(type(model), field))
            model = getattr(model, field)
        return least


def _parted(name: str, facts: Facts) -> tuple[str, list[str]]:
    """Part `water-pump.power` into its subject and the steps to the field; the build itself has no name."""
    first, *rest = name.split(".")
    known = first in facts.build.components or first in facts.build.runs or first in facts.devices
    return (first, rest) if known and rest else ("", name.split("."))


@cache
def _field_named(model: type[BaseModel], key: str) -> str | None:
    return next((name for name, field in model.model_fields.items() if key in (name, field.alias)), None)


RANK = attrgetter("rank")


def _highest(*readers: Reader) -> Reader:
    return max(readers, key=RANK)


def _private_texts(build: Build, reader: Reader) -> Iterator[str]:
    for model in (build.header, *build.components.values(), *build.runs.values()):
        yield from _texts(model, reader, hidden=False)


def _texts(value: Any, reader: Reader, *, hidden: bool) -> Iterator[str]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            more = hidden or not reader.may_read(reader_of(type(value), name))
            if not _of_a_closed_list(type(value), name):
                yield from _texts(getattr(value, name), reader, hidden=more)
    elif isinstance(value, tuple):
        for item in value:
            yield from _texts(item, reader, hidden=hidden)
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item, reader, hidden=hidden)
    elif hidden and _tells(value):
        yield str(value)


@cache
def _of_a_closed_list(model: type[BaseModel], name: str) -> bool:
    """Tell whether a field holds words of a closed list: `fri` says nothing, and stands in every fridge."""
    kind = type_of_field(model, name)
    one = kind.item if kind is not None and kind.item is not None else kind
    return one is not None and bool(one.choices)


def _tells(value: Any) -> bool:
    """Tell whether a value gives something away where it stands in a sentence; a number says nothing."""
    return isinstance(value, str | date) and len(str(value)) >= SHORTEST_TELLING


def _as_a_word(text: str) -> re.Pattern[str]:
    """Return what finds a text where it stands for itself: Ann is not in every channel."""
    before = r"(?<![^\W_])" if text[0].isalnum() else ""
    after = r"(?![^\W_])" if text[-1].isalnum() else ""
    return re.compile(before + re.escape(text) + after)
