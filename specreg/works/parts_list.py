"""A workshop's own parts list, a table from a spreadsheet, read into entries of the catalogue.

Which column means what is taken from its heading and shown before anything is written; whoever asks may say
otherwise. A unit in a heading, `Mass (kg)`, stands for its cells. Every problem names row and column.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from pydantic import BaseModel, ValidationError

from specreg.facts.field_type import type_of_field
from specreg.model.component import Component
from specreg.model.kinds import kinds
from specreg.source import Place, Problem, nearest_word
from specreg.units import Dimension
from specreg.works.money import read_money

HEADINGS: dict[str, tuple[str, ...]] = {
    "id": (
        "part",
        "part id",
        "part no",
        "part number",
        "article",
        "article number",
        "item",
        "item number",
        "code",
    ),
    "kind": ("type", "category", "group"),
    "title": ("description", "name", "designation"),
    "supplier": ("vendor", "sold by", "bought from", "shop"),
    "price": ("unit price", "cost", "net price", "purchase price", "each"),
    "sale_price": ("selling price", "retail price", "list price", "client price"),
    "currency": ("cur",),
    "lead_time": ("delivery", "delivery time", "delivery days"),
    "mass": ("weight", "unit weight", "unit mass"),
    "length": ("size along", "depth"),
    "width": ("size across",),
    "height": ("size up",),
    "maker": ("manufacturer", "made by"),
    "model": ("maker's model", "model number", "maker's number"),
    "note": ("remark", "remarks", "comment", "notes"),
    "state": ("status",),
}
"""What a column may be called besides the name of its field."""

MOST_COLUMNS = 200
MOST_PROBLEMS = 1_000
"""Beyond these a table is not read on."""

SIZE = ("length", "width", "height")
LEFT_OUT = ""
ID = re.compile(r"[a-z0-9.]+(-[a-z0-9.]+)*")
UNIT = re.compile(r"(?P<words>.*)[(\[](?P<unit>[^()\[\]]*)[)\]]")
NUMBER = re.compile(r"[-+]?\d+([.,]\d+)?")
TRUTH = {"yes": True, "true": True, "no": False, "false": False}


class Column(NamedTuple):
    """A column: its number from 1, its heading, the field that it was taken for, the unit of its cells."""

    number: int
    heading: str
    field: str
    unit: str = ""


class PartsList(NamedTuple):
    """What was understood: each column, and the entries by id with their fields as a spec writes them."""

    columns: tuple[Column, ...]
    entries: Mapping[str, Mapping[str, Any]]
    problems: tuple[Problem, ...]


def read_parts_list(
    rows: Sequence[Sequence[str]],
    shown: str,
    known: frozenset[str],
    said: Mapping[str, str] | None = None,
    kind: str | None = None,
) -> PartsList:
    """Return what a table holds; `shown` names the file, `known` are the ids that the catalogue has already.

    `said` maps headings to fields against what the headings suggest, `kind` is that of rows that state none.
    """
    reading = _Reading(shown, known, said or {}, kind)
    return reading.read(rows)


class _Reading:
    def __init__(self, shown: str, known: frozenset[str], said: Mapping[str, str], kind: str | None) -> None:
        self.shown, self.known, self.said, self.kind = shown, known, dict(said), kind
        self.problems: list[Problem] = []
        self.id_column: int | None = None
        self.first: dict[str, int] = {}

    def read(self, rows: Sequence[Sequence[str]]) -> PartsList:
        if not rows:
            self._problem(1, 1, "the table is empty", expected="a row of headings, then a row for each part")
            return PartsList((), {}, tuple(self.problems))
        columns = self._columns(rows[0][:MOST_COLUMNS])
        entries: dict[str, dict[str, Any]] = {}
        for number, row in enumerate(rows[1:], 2):
            if len(self.problems) >= MOST_PROBLEMS:
                self._problem(number, 1, "what follows is not read: mend these first")
                break
            if any(cell.strip() for cell in row):
                entries |= self._row(number, row, columns)
        return PartsList(columns, entries, tuple(self.problems))

    def _problem(self, row: int, column: int, message: str, **more: str | None) -> None:
        self.problems.append(Problem(Place(self.shown, row, column), message, **more))

    def _columns(self, headings: Sequence[str]) -> tuple[Column, ...]:
        found = [self._column(number, text.strip()) for number, text in enumerate(headings, 1)]
        for name in self.said:
            if name not in [one.heading for one in found]:
                near = nearest_word(name, [one.heading for one in found])
                self._problem(1, 1, "no column has this heading", read=name, nearest=near)
        taken: dict[str, int] = {}
        for one in found:
            if one.field and one.field in taken:
                self._problem(1, one.number, f"two columns are taken for `{one.field}`", read=one.heading,
                              remedy="say which with --map HEADING=FIELD, and --map OTHER=")  # fmt: skip
            taken.setdefault(one.field, one.number)
        self.id_column = taken.get("id")
        if self.id_column is None:
            self._problem(1, 1, "no column is taken for the part's id", expected="a column `part`",
                          remedy="say which it is with --map HEADING=id")  # fmt: skip
        return tuple(found)

    def _column(self, number: int, heading: str) -> Column:
        split = UNIT.fullmatch(heading)
        words, unit = (split["words"].strip(), split["unit"].strip()) if split else (heading, "")
        if heading in self.said:
            field = self.said[heading]
            if field and field not in _fields():
                near = nearest_word(field, _fields())
                self._problem(1, number, "this is no field of a part", read=field, nearest=near)
                return Column(number, heading, LEFT_OUT, unit)
            return Column(number, heading, field, unit)
        return Column(number, heading, field_of(words), unit)

    def _row(self, number: int, row: Sequence[str], columns: Sequence[Column]) -> dict[str, dict[str, Any]]:
        cells = {c.field: (c, _plain(row[c.number - 1])) for c in columns if c.field and c.number <= len(row)}
        cells = {field: pair for field, pair in cells.items() if pair[1]}
        name = self._id(number, cells)
        model = self._model(number, cells)
        if name is None or model is None:
            return {}
        entry: dict[str, Any] = {"kind": cells["kind"][1] if "kind" in cells else self.kind}
        currency = cells.pop("currency", (None, ""))[1]
        entry |= dict(self._values(number, cells, model, currency))
        self._check(number, cells, model, entry)
        return {name: entry}

    def _id(self, number: int, cells: Mapping[str, tuple[Column, str]]) -> str | None:
        text, at = cells["id"][1] if "id" in cells else "", self.id_column
        name = slug(text)
        if at is None:
            return None  # said already, once for the whole table
        if not ID.fullmatch(name):
            self._problem(number, at, "the row names no part", read=text or None, expected="an id")
            return None
        if name in self.known:
            remedy = "call it otherwise, or leave the row out: nothing is overwritten"
            said = "the catalogue has a part of this id already"
            self._problem(number, at, said, read=name, remedy=remedy)
            return None
        if name in self.first:
            self._problem(number, at, f"row {self.first[name]} has this id already", read=name)
            return None
        self.first[name] = number
        return name

    def _model(self, number: int, cells: Mapping[str, tuple[Column, str]]) -> type[Component] | None:
        column, text = cells.get("kind", (None, self.kind or ""))
        model = kinds().get(text)
        if model is None:
            said = "unknown kind" if text else "the row says no kind"
            remedy = None if text else "add a column `kind`, or say --kind for all rows"
            expected, near = "a kind of component, such as pump", nearest_word(text, kinds())
            at = column.number if column else 1
            self._problem(number, at, said, read=text or None, expected=expected, nearest=near, remedy=remedy)
        return model

    def _values(
        self, number: int, cells: Mapping[str, tuple[Column, str]], model: type[Component], currency: str
    ) -> Iterator[tuple[str, Any]]:
        sides = [cells[side] for side in SIZE if side in cells]
        if len(sides) == len(SIZE) and "length" not in _names(model):
            yield "size", tuple(_with_unit(text, column.unit) for column, text in sides)
        for field, (column, text) in cells.items():
            if field in ("id", "kind") or (field in SIZE and field not in _names(model)):
                continue
            if field in ("price", "sale_price"):
                yield field, self._money(number, column, text, currency)
            else:
                yield field, self._value(number, column, text, model)

    def _money(self, number: int, column: Column, text: str, currency: str) -> str:
        bare = NUMBER.fullmatch(text)
        price = f"{text.replace(',', '.')} {column.unit or currency}".strip() if bare else text
        if read_money(price) is None:
            self._problem(number, column.number, f"`{column.field}` is no price", read=text,
                          expected="an amount with its currency, such as 129 GBP",
                          remedy="write the currency in the heading, as in Price (GBP)")  # fmt: skip
        return price

    def _value(self, number: int, column: Column, text: str, model: type[Component]) -> Any:
        name = _names(model).get(column.field)
        kind = type_of_field(model, name) if name else None
        if kind is None:
            return text
        if kind.form == "truth":
            return TRUTH.get(text.lower(), text)
        if kind.form == "number" and kind.dimension in (None, Dimension.plain) and NUMBER.fullmatch(text):
            value = float(text.replace(",", "."))
            return int(value) if value.is_integer() else value
        return _with_unit(text, column.unit) if kind.form == "number" else text

    def _check(
        self,
        number: int,
        cells: Mapping[str, tuple[Column, str]],
        model: type[Component],
        entry: Mapping[str, Any],
    ) -> None:
        """Say what the kind's model refuses, cell by cell; what a part leaves out its component may state."""
        try:
            model.model_validate(dict(entry))
        except ValidationError as error:
            for item in error.errors(include_url=False):
                if item["type"] != "missing":
                    self._refused(number, cells, model, dict(item))

    def _refused(
        self,
        number: int,
        cells: Mapping[str, tuple[Column, str]],
        model: type[Component],
        item: Mapping[str, Any],
    ) -> None:
        field, context = str(item["loc"][0]), item.get("ctx", {})
        index = item["loc"][1] if field == "size" and len(item["loc"]) > 1 else 0
        column, text = cells.get(SIZE[index] if field == "size" else field, (None, ""))
        at = column.number if column else 1
        if item["type"] == "extra_forbidden":
            self._problem(number, at, f"a {entry_kind(model)} has no field `{field}`", read=text,
                          nearest=nearest_word(field, _names(model)))  # fmt: skip
            return
        units = ", ".join(context.get("units", ())) or context.get("expected")
        self._problem(number, at, f"`{field}`: {context.get('reason', item['msg'])}", read=text,
                      expected=str(units) if units else None, nearest=context.get("nearest"))  # fmt: skip


def entry_kind(model: type[Component]) -> str:
    """Return the word of a kind's model."""
    return next((word for word, one in kinds().items() if one is model), "component").replace("-", " ")


def _names(model: type[BaseModel]) -> dict[str, str]:
    """Return the fields of a model by the key that a spec writes."""
    return {field.alias or name: name for name, field in model.model_fields.items()}


def _fields() -> dict[str, None]:
    """Return every field that a column may stand for."""
    every = dict.fromkeys(("id", "kind", "currency", *SIZE))
    for model in kinds().values():
        every |= dict.fromkeys(_names(model))
    return every


def field_of(heading: str) -> str:
    """Return the field that a heading is taken for; empty where it is none that is known."""
    words = " ".join(heading.lower().replace("_", " ").replace("-", " ").replace(".", " ").split())
    for field, others in HEADINGS.items():
        if words in (field.replace("_", " "), *others):
            return field
    key = words.replace(" ", "_")
    return key if key in _fields() else LEFT_OUT


def slug(text: str) -> str:
    """Return a text as an id: lower-case words joined by hyphens."""
    return re.sub(r"[^a-z0-9.]+", "-", text.lower()).strip("-.")


def _plain(cell: str) -> str:
    """Return a cell without the mark that keeps a spreadsheet from taking it for a formula."""
    text = cell.strip()
    return text[1:] if text[:1] == "'" and text[1:2] in tuple("=+-@") else text


def _with_unit(text: str, unit: str) -> str:
    return f"{text.replace(',', '.')} {unit}" if unit and NUMBER.fullmatch(text) else text
