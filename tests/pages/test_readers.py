"""No edition holds what its reader may not see: a canary sits in every private field of every kind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from building import build as read
from pydantic import BaseModel, ValidationError

from specreg import workshop
from specreg.facts.field_type import type_of_field
from specreg.model.build import Build
from specreg.model.field import Reader, reader_of
from specreg.model.kinds import kinds
from specreg.pages.gate import Gate, seen_by
from specreg.pages.publish import publish
from specreg.rules.pack import Pack, load_rule
from specreg.source import Place

RECORDED = """
vehicle:
  identity: {vin: x}
  as_received: {ticket: x, front_axle: 1000 kg, rear_axle: 800 kg}
records:
  tests: [{test: polarity, name: x, on: cell, date: 2026-04-01}]
  sign_offs: [{matter: dc/told, target: cell, name: x, by: electrician, date: 2026-04-01}]
  weighings: [{ticket: x, front_axle: 1000 kg}]
  walk_round: {by: x, counts: {light: 2}}
  services: [{what: looked at, by: x}]
components:
  cell: {kind: battery, nominal_voltage: 12.8 V, capacity: 100 Ah}
  box: {kind: fuse-box, ways: {a: {fuse: 10 A, family: blade}}}
  lamp: {kind: ceiling-light, power: 10 W}
runs:
  lead: {medium: dc, from: cell/positive, to: box/feed, return: back, protection: [{fuse: 60 A, family: mega}]}
  back: {medium: dc, from: cell/negative, to: box/feed}
  light: {medium: dc, from: box/a, to: lamp, return: same cable}
"""

DAY = {Reader.owner: date(1987, 6, 5), Reader.workshop: date(1986, 5, 4)}
"""Days that nothing else in these builds bears."""

TELLING = """---
title: The maker is told
system: dc
level: warning
judges: battery
passes: battery.maker == "nobody"
finding: "made by {{ battery.maker }}, sold by {{ battery.supplier }}"
remedy: "ask {{ battery.supplier }}"
sources: [{how: common practice}]
---
A rule that speaks of what not everybody may read.
"""


def every_kind() -> Build:
    """A build with one component of every kind that needs no more than its kind."""
    build = read(RECORDED)
    found = dict(build.components)
    for name, model in kinds().items():
        try:
            found[f"a-{name}"] = model.model_validate({"kind": name})
        except ValidationError:
            continue
    return replace(build, components=found)


class Canaries:
    """Puts a text of its own into every private field, and remembers for which reader."""

    def __init__(self) -> None:
        self.placed: dict[str, Reader] = {}

    def build(self, build: Build) -> Build:
        """Return the build with a canary in every private field that can hold a text or a day."""
        return replace(
            build,
            header=self.of(build.header),
            components={name: self.of(one) for name, one in build.components.items()},
            runs={name: self.of(one) for name, one in build.runs.items()},
        )

    def of(self, value: Any) -> Any:
        """Return a value with canaries in it."""
        if isinstance(value, BaseModel):
            return value.model_copy(update=dict(self._fields(value)))
        if isinstance(value, tuple):
            return tuple(self.of(item) for item in value)
        if isinstance(value, dict):
            return {key: self.of(item) for key, item in value.items()}
        return value

    def _fields(self, model: BaseModel) -> Iterator[tuple[str, Any]]:
        for name in type(model).model_fields:
            least, kind = reader_of(type(model), name), type_of_field(type(model), name)
            inner = self.of(getattr(model, name))
            if least is Reader.public or kind is None or kind.form == "view":
                yield name, inner
            elif kind.form == "text" and not kind.choices:
                yield name, self._canary(least)
            elif kind.form == "date":
                self.placed[DAY[least].isoformat()] = least
                yield name, DAY[least]

    def _canary(self, least: Reader) -> str:
        text = f"canary-{least.value}-{len(self.placed):05d}"
        self.placed[text] = least
        return text


@pytest.fixture(scope="module")
def aviary() -> tuple[Build, dict[str, Reader]]:
    """A build full of canaries, and who may see each."""
    canaries = Canaries()
    build = canaries.build(every_kind())
    assert len(build.components) > 150
    assert sum(least is Reader.owner for least in canaries.placed.values()) > 600
    assert sum(least is Reader.workshop for least in canaries.placed.values()) > 150
    return build, canaries.placed


def telling_pack() -> Pack:
    """A pack of the one rule that would tell."""
    rule, problems = load_rule(TELLING, "dc/told", "told.md")
    assert rule is not None, problems
    return Pack((rule,))


def published(build: Build, reader: Reader, into: Path, monkeypatch: pytest.MonkeyPatch, pack: Pack) -> str:
    """Every byte of the site that is published of a build."""
    loaded = workshop.Loaded("test", into, build, ())
    monkeypatch.setattr(workshop, "load", lambda path: workshop.Opened(into, "vans", (loaded,)))
    monkeypatch.setattr(workshop, "rules_for", lambda opened: (pack, ()))
    publish(into, reader, into / "site")
    return "\n".join(path.read_text() for path in sorted((into / "site").rglob("*")) if path.is_file())


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("rules", ["telling", "shipped"])
def test_nothing_private_is_published(
    aviary: tuple[Build, dict[str, Reader]],
    reader: Reader,
    rules: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of all canaries an edition holds only those that its reader may see, and the workshop's holds some."""
    build, placed = aviary
    pack = telling_pack() if rules == "telling" else workshop.rules_for()[0]
    text = published(build, reader, tmp_path, monkeypatch, pack)
    seen = {canary for canary in placed if canary in text}
    assert {canary for canary in seen if not reader.may_read(placed[canary])} == set()
    assert bool(seen) is (reader is not Reader.public)
    if reader is Reader.workshop:
        assert {placed[canary] for canary in seen} == {Reader.owner, Reader.workshop}


def test_a_finding_keeps_its_title_where_its_words_are_withheld(
    aviary: tuple[Build, dict[str, Reader]],
) -> None:
    """The public is told that a rule fails, the workshop also by which words."""
    build, _ = aviary
    report = workshop.inspect(build, telling_pack())
    told = next(result for result in report.results if result.subject == "cell")
    shown = Gate(report.facts, Reader.public).result(told)
    assert (shown.answer, shown.title, shown.message, shown.evidence) == (told.answer, told.title, "", ())
    assert Gate(report.facts, Reader.workshop).result(told).message == told.message


def test_what_was_computed_from_a_private_field_is_as_private() -> None:
    """A figure's least reader is the highest of all that went into it."""
    build = read(
        """
        components: {hose: {kind: regulator, made_on: 2019-01-01, outlet_pressure: 30 mbar}}
        """
    )
    gate = Gate(workshop.inspect(build, Pack(())).facts, Reader.public)
    assert gate.least("hose.made_on", None) is Reader.owner
    assert gate.least("hose.outlet_pressure", None) is Reader.public
    assert gate.least("vehicle.identity.vin", None) is Reader.owner
    assert gate.least("hose.no_such_thing", None) is Reader.workshop


def test_the_gate_drops_the_source_text() -> None:
    """Pages cannot reach the text of a spec, whatever they ask."""
    seen = seen_by(read(RECORDED), Reader.public)
    assert not seen.tree.entries
    assert seen.place("cell") == Place(seen.tree.place.file, seen.tree.place.line, seen.tree.place.column)
    assert seen.header.vehicle.identity.vin is None
