"""No edition holds what its reader may not see: a canary sits in every private field of every kind."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from building import build as read
from published import REGISTER
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
  photos: [{file: x, shows: [cell], note: x}]
components:
  cell: {kind: battery, nominal_voltage: 12.8 V, capacity: 100 Ah}
  box: {kind: fuse-box, ways: {a: {fuse: 10 A, family: blade}}}
  lamp: {kind: ceiling-light, power: 10 W}
runs:
  lead: {medium: dc, from: cell/positive, to: box/feed, return: back, protection: [{fuse: 60 A, family: mega}]}
  back: {medium: dc, from: cell/negative, to: box/feed}
  light: {medium: dc, from: box/a, to: lamp, return: same cable}
"""

PRIVATE = (Reader.owner, Reader.workshop)

PROCEDURE = ("canary-name", "canary-title", "canary-words")

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
    return everything(into / "site")


def everything(site: Path) -> str:
    """The name and every byte of every file of a site."""
    files = [path for path in sorted(site.rglob("*")) if path.is_file()]
    assert {path.suffix for path in files} >= {".html", ".json", ".css", ".js", ".txt"}
    return "\n".join(f"{path.relative_to(site)}\n{path.read_text(encoding='utf-8')}" for path in files)


def wrongly_seen(text: str, placed: dict[str, Reader], reader: Reader) -> list[str]:
    """The canaries in a text that its reader may not see."""
    return [one for one, least in placed.items() if one in text and not reader.may_read(least)]


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
    seen = {placed[canary] for canary in placed if canary in text}
    assert wrongly_seen(text, placed, reader) == []
    assert seen == {least for least in PRIVATE if reader.may_read(least)}


@pytest.mark.parametrize(
    ("name", "reader"),
    [
        *(("fieldwork", reader) for reader in Reader),
        ("winter-tourer", Reader.public),
        ("second-hand", Reader.public),
    ],
)
def test_nothing_private_of_a_whole_van_is_published(
    name: str, reader: Reader, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same with a canary in every private field of every thing, cable, test and signature of a real book."""
    canaries = Canaries()
    build = canaries.build(demonstration(REGISTER / name))
    text = published(build, reader, tmp_path, monkeypatch, workshop.rules_for()[0])
    assert wrongly_seen(text, canaries.placed, reader) == []
    seen = {canaries.placed[one] for one in canaries.placed if one in text}
    assert seen == {least for least in PRIVATE if reader.may_read(least)}


def demonstration(folder: Path) -> Build:
    """A build that is read from its files without a problem."""
    (build,) = workshop.load(folder).sound
    return build


def private_file(build: Build, placed: dict[str, Reader]) -> str:
    """A private file that adds a canary to each private field of text that the spec leaves out."""
    lines = ["vehicle:", "  identity:", *_added(build.header.vehicle.identity, placed)]
    lines += ["components:"]
    for name, component in build.components.items():
        added = _added(component, placed)
        lines += [f"  {name}:", *added] if added else []
    return "\n".join(lines) + "\n"


def _added(model: BaseModel, placed: dict[str, Reader]) -> list[str]:
    lines = []
    for name, field in type(model).model_fields.items():
        least, kind = reader_of(type(model), name), type_of_field(type(model), name)
        plain = kind is not None and kind.form == "text" and not kind.choices
        if plain and least is not Reader.public and getattr(model, name) is None:
            canary = f"canary-{least.value}-{len(placed):05d}"
            placed[canary] = least
            lines.append(f"    {field.alias or name}: {canary}")
    return lines


def test_what_the_private_file_says_is_as_private_as_its_fields(tmp_path: Path) -> None:
    """From the files beside the spec to the last byte: identity, serials, prices; procedures with their names."""
    shutil.copytree(REGISTER, tmp_path / "builds")
    folder, placed = tmp_path / "builds" / "fieldwork", dict[str, Reader]()
    (folder / "private.yaml").write_text(private_file(demonstration(folder), placed))
    assert set(placed.values()) == set(PRIVATE)
    (folder / "procedures" / "canary-name.md").write_text("# The canary-title\n\nThe canary-words.\n")
    placed |= dict.fromkeys(PROCEDURE, Reader.owner)
    for reader in Reader:
        into = tmp_path / reader.value
        assert publish(folder, reader, into).problems == ()
        text = everything(into)
        assert wrongly_seen(text, placed, reader) == []
        assert {placed[one] for one in placed if one in text} == {r for r in PRIVATE if reader.may_read(r)}
        assert all((word in text) is reader.may_read(Reader.owner) for word in PROCEDURE)


def test_a_finding_keeps_its_title_where_its_words_are_withheld(
    aviary: tuple[Build, dict[str, Reader]],
) -> None:
    """The public is told that a rule fails, the workshop also by which words."""
    build, _ = aviary
    report = workshop.inspect(build, telling_pack())
    told = next(result for result in report.results if result.subject == "cell")
    shown = Gate(report.facts, Reader.public).results([told])[0]
    assert (shown.answer, shown.title, shown.message, shown.evidence) == (told.answer, told.title, "", ())
    assert Gate(report.facts, Reader.workshop).results([told])[0].message == told.message


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
