"""Answers from the shop floor read back: what was really laid and fitted, by designation or id."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from specreg.facts.engine import Facts
from specreg.model.attached import Absent
from specreg.model.device import InlineDevice
from specreg.model.run import GasRun
from specreg.source import Place, Problem, nearest_word
from specreg.trade.hold_points import BLANKS
from specreg.trade.table import Row, read_table
from specreg.units import Dimension, NotAQuantity, parse

MARK = "mark"
OWN = (*BLANKS, "part", "hidden")
"""Columns that are answers; the others of a sheet are for the eye."""

DATES = ("made_on", "fitted_on")

Fields = dict[str, Any]


@dataclass
class Answers:
    """What a table answers: fields by section, id and key; photographs; what is known already; problems."""

    fitted: dict[str, Fields] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)
    photos: list[dict[str, str]] = field(default_factory=list)
    known: list[str] = field(default_factory=list)
    blank: int = 0
    problems: list[Problem] = field(default_factory=list)


def is_answers(data: bytes) -> bool:
    """Tell whether a table is one of as-built answers, not of tests, by its header."""
    head = data.split(b"\n", 1)[0].decode("utf-8", "replace").lower()
    names = {name.strip().strip('"') for name in head.replace(";", ",").replace("\t", ",").split(",")}
    return "test" not in names and bool(names & {"mark", "on"}) and bool(names & set(OWN))


def read_answers(data: bytes, file: str, facts: Facts) -> Answers:
    """Read a filled sheet of a hold point for one van."""
    rows, problems = read_table(data, file, ())
    answers = Answers(problems=problems)
    seen: dict[str, Place] = {}
    for row in rows:
        given = [name for name in OWN if row[name]]
        if not given:
            answers.blank += 1
            continue
        name = _thing(row, facts, answers)
        if name is None:
            continue
        first = seen.setdefault(name, row.place)
        if first is not row.place:
            answers.problems.append(Problem(row.place, f"`{name}` is answered on line {first.line}, too"))
        for column in given:
            _answer(row, column, name, facts, answers)
    answers.problems.sort()
    return answers


def _thing(row: Row, facts: Facts, answers: Answers) -> str | None:
    marks = {mark: name for name, mark in facts.build.designations.items()}
    word = row["on"] or row[MARK]
    name = marks.get(word, word)
    known = (*facts.build.components, *facts.build.runs, *facts.devices)
    if name in known:
        return name
    column = "on" if row["on"] else MARK
    near = nearest_word(word, (*known, *marks)) if word else None
    answers.problems.append(
        Problem(row.place_of(column), "nothing here is called this", word, "an id or a designation", near)
    )
    return None


def _answer(row: Row, column: str, name: str, facts: Facts, answers: Answers) -> None:
    text, place = row[column], row.place_of(column)
    if column == "photo":
        _photo(text, place, name, facts, answers)
        return
    wrong = _wrong(column, text, name, facts)
    if wrong is not None:
        answers.problems.append(Problem(place, wrong[0], text, wrong[1]))
        return
    path = _path(column, name, facts)
    value = {"yes": "true", "no": "false"}.get(text.lower(), text) if column == "hidden" else text
    if _stands(facts, path, value):
        answers.known.append(f"{column} of {name}")
        return
    below: Fields = answers.fitted
    for step in path[:-1]:
        below = below.setdefault(step, {})
    below[path[-1]] = value
    answers.said.append(f"{'.'.join(path)}: {value}")


def _wrong(column: str, text: str, name: str, facts: Facts) -> tuple[str, str] | None:
    """Return what is wrong with an answer and what was expected; None where nothing is."""
    is_run, is_device = name in facts.build.runs, _is_device(name, facts)
    if column in ("length", "device"):
        right = is_run if column == "length" else is_device
        if not right:
            return f"`{name}` has no {column}", "an answer in another column"
        dimension = Dimension.length if column == "length" else Dimension.current
        try:
            parse(text, dimension)
        except NotAQuantity as error:
            return f"not a {column}: {error.reason}", "such as 3.4 m" if is_run else "such as 10 A"
        return None
    if column == "hidden":
        fits = is_run and text.lower() in ("yes", "no", "true", "false")
        return None if fits else ("only a run is hidden or not", "`yes` or `no`")
    hose = column == "made_on" and isinstance(facts.build.runs.get(name), GasRun)
    if (is_device or is_run) and not hose:
        return f"`{name}` has no {column}", "an answer for a component"
    return _no_day(text) if column in DATES else None


def _is_device(name: str, facts: Facts) -> bool:
    return name in facts.devices and name not in facts.build.runs


def _no_day(text: str) -> tuple[str, str] | None:
    try:
        if len(text) == len("2026-05-11") and date.fromisoformat(text):
            return None
    except ValueError:
        pass
    return "not a day", "year-month-day, such as 2026-05-11"


def _path(column: str, name: str, facts: Facts) -> tuple[str, ...]:
    """Return where in the spec an answer stands."""
    if column != "device":
        return ("runs" if name in facts.build.runs else "components", name, column)
    device = facts.devices[name]
    owner, _, inside = name.partition("/")
    if isinstance(device, InlineDevice):
        return "runs", owner, "protection", inside, device.word
    ways = getattr(facts.build.components[owner], "ways", None) or {}
    if inside in ways:
        return "components", owner, "ways", inside, device.word
    return tuple(step for step in ("components", owner, inside, device.word) if step)


def _stands(facts: Facts, path: tuple[str, ...], value: str) -> bool:
    from specreg.source import at  # noqa: PLC0415 - a short walk in the tree

    node = at(facts.build.tree, path)
    return node is not None and getattr(node, "text", None) == value


def _photo(text: str, place: Place, name: str, facts: Facts, answers: Answers) -> None:
    if any(photo.file == text and name in photo.shows for photo in facts.build.header.records.photos):
        answers.known.append(f"photo of {name}")
        return
    checksum = facts.build.attached.checksum(text)
    if isinstance(checksum, Absent):
        remedy = "put it into the build's folder of files, under that name"
        answers.problems.append(Problem(place, f"the photograph: {checksum.value}", text, remedy=remedy))
        return
    for photo in answers.photos:
        if photo["file"] == text:
            photo["shows"] = f"{photo['shows'][:-1]}, {name}]"
            return
    answers.photos.append({"file": text, "shows": f"[{name}]", "checksum": checksum})
