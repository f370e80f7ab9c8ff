"""Rule packs: folders of rule documents, read, checked against the facts' types and compiled."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from itertools import islice
from pathlib import Path

from pydantic import BaseModel, ValidationError

from specreg.facts import value_type
from specreg.facts.schema import members, nouns, view_type
from specreg.facts.value_type import ValueType
from specreg.model.build import Jurisdiction
from specreg.model.explain import explain
from specreg.rules.document import Document, RuleHeader, read_document
from specreg.rules.expression import Condition, Text
from specreg.source import Place, Problem, key_place_of, nearest_word, place_of
from specreg.source.inside import contents, linked_out
from specreg.source.listing import rule_documents, unread_documents
from specreg.units import Dimension, NotAQuantity, parse_any

Limits = Mapping[str, Mapping[str, float]]


@dataclass(frozen=True)
class Rule:
    """A rule, ready to judge."""

    identity: str
    header: RuleHeader
    model: type[BaseModel]
    variable: str
    applies: Condition | None
    passes: Condition | None
    finding: Text | None
    asks: Text | None
    remedy: Text | None
    limits: Limits
    dimensions: Mapping[str, Dimension]
    document: Document

    def limits_in(self, jurisdiction: str | None) -> dict[str, float]:
        """Return the limits that hold in a jurisdiction; those for `any` where it has none of its own."""
        chosen = {}
        for name, values in self.limits.items():
            value = values.get(jurisdiction or "any", values.get("any"))
            if value is not None:
                chosen[name] = value
        return chosen


@dataclass(frozen=True)
class Pack:
    """The rules of one or more folders, in the order of their identities."""

    rules: tuple[Rule, ...]

    def by_identity(self) -> dict[str, Rule]:
        """Return the rules by identity, earlier identities included."""
        found = {name: rule for rule in self.rules for name in rule.header.formerly}
        return {**found, **{rule.identity: rule for rule in self.rules}}

    @cached_property
    def codes(self) -> tuple[str, ...]:
        """Return every document that the rules refer to, with its edition."""
        found = {
            f"{source.document}{f', {source.edition}' if source.edition else ''}"
            for rule in self.rules
            for source in rule.header.sources
            if source.document
        }
        return tuple(sorted(found))

    @cached_property
    def mark(self) -> str:
        """Return eight hexadecimal digits that change whenever a rule does: the edition of the pack."""
        digest = sha256()
        for rule in self.rules:
            digest.update(f"{rule.identity}\0{rule.document.digest}\0".encode())
        return digest.hexdigest()[:8]


def load_pack(folder: Path, shown: str = "rules") -> tuple[Pack, list[Problem]]:
    """Read every rule document below a folder; `shown` stands for the folder in places."""
    texts, problems = own_documents(folder, shown)
    pack, found = pack_of(texts, shown)
    return pack, sorted([*problems, *found])


def documents(folder: Path) -> dict[str, str]:
    """Return the texts of the shipped documents by path, `<system>/<name>.md`, in their order."""
    paths = sorted(folder.glob("*/*.md"))
    return {path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in paths}


NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*/[a-z0-9]+(?:-[a-z0-9]+)*\.md")
"""The document of a rule: concessions, records and links to its page name it so."""
MOST_DOCUMENTS = 1_000
"""Rules of a register's own; each is put to everything in each of its vans."""
LONGEST_DOCUMENT = 100_000
"""Bytes of a rule's document."""


def own_documents(folder: Path, shown: str) -> tuple[dict[str, str], list[Problem]]:
    """Return the texts of a register's own documents likewise, and why others of them are not read."""
    wrong = linked_out(folder, shown, folder.parent)
    paths = [] if wrong else rule_documents(folder)
    texts: dict[str, str] = {}
    problems = [wrong] if wrong else _unread(folder, shown)
    if len(paths) > MOST_DOCUMENTS:
        start, read = Place(f"{shown}/", 1, 1), str(len(paths))
        problems.append(Problem(start, "too many rules of its own", read, f"at most {MOST_DOCUMENTS}"))
    for path in paths[:MOST_DOCUMENTS]:
        name = path.relative_to(folder).as_posix()
        text = _text_of(path, name, folder, f"{shown}/{name}")
        if isinstance(text, Problem):
            problems.append(text)
        else:
            texts[name] = text
    return texts, problems


def _text_of(path: Path, name: str, folder: Path, shown: str) -> str | Problem:
    """Return the text of a document of a register's own, or why it is not read."""
    if not NAME.fullmatch(name):
        message = "folder and file of a rule are lower-case words joined by hyphens"
        return Problem(Place(shown, 1, 1), message, name[:-3], remedy="rename them")
    data = linked_out(path.parent, shown, folder) or contents(path, shown, folder, most=LONGEST_DOCUMENT)
    if isinstance(data, Problem):
        return data
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        place = Place(shown, data.count(b"\n", 0, error.start) + 1, 1)
        return Problem(place, "a rule document is not UTF-8", remedy="save it with the encoding UTF-8")


def _unread(folder: Path, shown: str) -> list[Problem]:
    """Return the problems of files that are no rules for their place or name: somebody may count on them."""
    expected, remedy = f"{shown}/SYSTEM/NAME.md", "move or rename it, or take it away"
    names = (f"{shown}/{path.relative_to(folder).as_posix()}" for path in unread_documents(folder))
    return [
        Problem(Place(name, 1, 1), "no rule is read from here", name, expected, remedy=remedy)
        for name in islice(names, MOST_DOCUMENTS)
    ]


def pack_of(texts: Mapping[str, str], shown: str) -> tuple[Pack, list[Problem]]:
    """Check and compile the texts of rule documents."""
    rules, problems = [], []
    for path, text in texts.items():
        rule, found = load_rule(text, path[:-3], f"{shown}/{path}")
        problems += found
        if rule is not None:
            rules.append(rule)
    return Pack(tuple(rules)), sorted(problems)


def load_rule(text: str, identity: str, file: str) -> tuple[Rule | None, list[Problem]]:
    """Read, check and compile one rule."""
    document, problems = read_document(text, identity, file)
    if document is None:
        return None, problems
    header = _header(document, problems)
    if header is None:
        return None, problems
    model = nouns().get(header.judges)
    if model is None:
        place = place_of(document.front, ("judges",))
        nearest = nearest_word(header.judges, nouns())
        problems.append(Problem(place, "unknown noun", header.judges, "what a rule can judge", nearest))
        return None, problems
    return _compiled(document, header, model, problems)


def _header(document: Document, problems: list[Problem]) -> RuleHeader | None:
    from specreg.model.read import data_of  # noqa: PLC0415 - shared with specs

    try:
        return RuleHeader.model_validate(data_of(document.front))
    except ValidationError as error:
        problems += explain(error, RuleHeader, document.front, ())
        return None


def _compiled(
    document: Document, header: RuleHeader, model: type[BaseModel], problems: list[Problem]
) -> tuple[Rule | None, list[Problem]]:
    limits, dimensions = _limits(document, header, problems)
    variable = header.judges.replace("-", "_")
    schema = _schema(header, variable, dimensions)
    compiler = _Compiler(document, header, schema, problems)
    rule = Rule(
        document.identity,
        header,
        model,
        variable,
        compiler.condition("applies"),
        compiler.condition("passes"),
        compiler.text("finding"),
        compiler.text("asks"),
        compiler.text("remedy"),
        limits,
        dimensions,
        document,
    )
    if header.passes is None and header.decides is None:
        place = key_place_of(document.front, ())
        problems.append(Problem(place, "a rule has `passes:`, or `decides:` with who must look, or both"))
    return (None, problems) if problems else (rule, [])


@dataclass(frozen=True)
class _Compiler:
    """Compiles the expressions and texts of one rule, collecting what is wrong with them."""

    document: Document
    header: RuleHeader
    schema: Mapping[str, ValueType]
    problems: list[Problem]

    def condition(self, key: str) -> Condition | None:
        """Compile a condition of the front matter, where it is stated."""
        from specreg.rules.condition import compile_condition  # noqa: PLC0415 - a cached pack needs no parser

        text = getattr(self.header, key)
        if text is None:
            return None
        found, wrong = compile_condition(text, self.schema, place_of(self.document.front, (key,)))
        self.problems.extend(wrong)
        return found

    def text(self, key: str) -> Text | None:
        """Compile a text of the front matter, where it is stated."""
        from specreg.rules.condition import compile_text  # noqa: PLC0415 - as above

        text = getattr(self.header, key)
        if text is None:
            return None
        found, wrong = compile_text(text, self.schema, place_of(self.document.front, (key,)))
        self.problems.extend(wrong)
        return found


def _schema(header: RuleHeader, variable: str, dimensions: Mapping[str, Dimension]) -> dict[str, ValueType]:
    limits = {name: value_type.number(dimension) for name, dimension in dimensions.items()}
    return {
        "build": value_type.view("build", lambda: members(nouns()["build"], header.cases)),
        variable: view_type(header.judges, header.cases),
        "limits": value_type.view("limits", limits),
        "case": value_type.text(),
        "jurisdiction": value_type.text(*(word.value for word in Jurisdiction)),
    }


def _limits(
    document: Document, header: RuleHeader, problems: list[Problem]
) -> tuple[Limits, dict[str, Dimension]]:
    limits: dict[str, dict[str, float]] = {}
    dimensions: dict[str, Dimension] = {}
    for name, values in header.limits.items():
        limits[name] = {}
        for where, value in values.items():
            place = place_of(document.front, ("limits", name, where))
            if where not in ("any", *Jurisdiction.__members__):
                problems.append(
                    Problem(place, "unknown jurisdiction", where, "any, " + ", ".join(Jurisdiction))
                )
            try:
                number, dimension = _limit(value)
            except NotAQuantity as error:
                problems.append(Problem(place, error.reason, str(value), nearest=error.nearest))
                continue
            if dimensions.setdefault(name, dimension) is not dimension:
                problems.append(Problem(place, f"limit `{name}` changes its dimension", str(value)))
            limits[name][where] = number
    return limits, dimensions


def _limit(value: str | float) -> tuple[float, Dimension]:
    if isinstance(value, str):
        return parse_any(value)
    return float(value), Dimension.plain
