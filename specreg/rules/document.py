"""A rule as it is written: a Markdown document with front matter, and fragments that prove it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from hashlib import sha256
from typing import Literal

from specreg.facts.registry import Axis
from specreg.model.build import Jurisdiction, Stage
from specreg.model.component import System
from specreg.model.field import Spec, Word, must, told
from specreg.source import Mapping as Tree
from specreg.source import Node, Place, Problem, read_yaml


class Level(Word):
    """How much a failure weighs (SARIF 2.1.0 `level`)."""

    error = "error"
    warning = "warning"
    note = "note"


class RuleSource(Spec):
    """Where a rule comes from, and how its authors know."""

    document: str | None = told("Law, standard or handbook.", example="33 CFR 183.455")
    clause: str | None = told("Clause, table or page.", example="(a)")
    edition: str | None = told("Edition or date of what was read.")
    says: str | None = told("What it says, in our own words.")
    how: Literal["read", "secondary", "memory", "common practice", "physics"] = must(
        "Whether it was read, read in a secondary source, is from memory, or is common practice."
    )


LimitValues = dict[str, str | int | float]


class RuleHeader(Spec):
    """The front matter of a rule."""

    title: str = must("What must hold, in a sentence.")
    system: System = must("The system that it belongs to.")
    level: Level = must("How much a failure weighs.")
    judges: str = must("The noun that it is evaluated on.", example="dc-run")
    cases: Axis | None = told("The axis over which each target is judged.", example="loading")
    jurisdictions: tuple[Jurisdiction, ...] = told("Where it holds; left out: everywhere.", default=())
    applies: str | None = told("Condition for a target to be judged.")
    passes: str | None = told("Condition that must hold; left out where only a person can decide.")
    decides: str | None = told(
        "Who must look at the vehicle, where a written spec cannot pass the matter.",
        example="registered gas engineer",
    )
    finding: str = must("What is wrong, with the figures compared.")
    asks: str | None = told("What that person is asked to look at.")
    remedy: str | None = told("What would mend it.")
    open_from: Stage = told("Stage from which missing data is a failure.", default=Stage.hand_over)
    signed_from: Stage = told("Stage from which an unsigned matter is a failure.", default=Stage.hand_over)
    limits: dict[str, LimitValues] = told("Limits by name, each by jurisdiction or `any`.", factory=dict)
    concession: Literal["workshop", "outside competent person", "never"] = told(
        "Whose concession counts.", default="workshop"
    )
    covers: tuple[str, ...] = told(
        "What a sign-off covers: fields of the target, or whole systems as `system:gas`.", default=()
    )
    formerly: tuple[str, ...] = told("Earlier identities of this rule.", default=())
    sources: tuple[RuleSource, ...] = must("Where it comes from.")


@dataclass(frozen=True)
class Fragment:
    """A piece of a spec in a rule's document, and what must come of it."""

    heading: str
    text: str
    line: int
    expects: str = ""


@dataclass(frozen=True)
class Document:
    """A rule document. It is parted when first asked for a part: an inspection needs none of them."""

    identity: str
    file: str
    text: str = field(repr=False)

    @cached_property
    def front(self) -> Tree:
        """The front matter as a tree: `read_document` makes no document of one that is none."""
        front, _ = self.read
        assert isinstance(front, Tree)
        return front

    @cached_property
    def read(self) -> tuple[Node | None, list[Problem]]:
        """The front matter as it was read, with every problem of its form."""
        lines = self.text.split("\n")
        return read_yaml(("\n" + "\n".join(lines[1 : _end(lines)])).encode(), self.file)

    @property
    def prose(self) -> str:
        """The text between the front matter and the first of the `HEADINGS`."""
        return self._body[0]

    @property
    def fragments(self) -> tuple[Fragment, ...]:
        """The fragments below the `HEADINGS`."""
        return self._body[1]

    @cached_property
    def _body(self) -> tuple[str, tuple[Fragment, ...]]:
        lines = self.text.split("\n")
        return _body(lines, _end(lines) + 1)

    @property
    def digest(self) -> str:
        """SHA-256 of the whole text: it changes whenever a word of the rule does."""
        return sha256(self.text.encode()).hexdigest()

    @property
    def place(self) -> Place:
        """Return where the front matter begins."""
        return self.front.place


def read_document(text: str, identity: str, file: str) -> tuple[Document | None, list[Problem]]:
    """Part a rule document, with every problem of its form."""
    lines = text.split("\n")
    if lines[0].strip() != "---" or _end(lines) == len(lines):
        place = Place(file, 1, 1)
        return None, [Problem(place, "a rule begins with front matter between two lines of `---`")]
    document = Document(identity, file, text)
    front, problems = document.read
    if isinstance(front, Tree):
        return document, list(problems)
    return None, problems or [Problem(Place(file, 2, 1), "the front matter is a mapping of keys to values")]


def _end(lines: list[str]) -> int:
    """The index of the line that ends the front matter; how many lines there are where none does."""
    return next((index for index in range(1, len(lines)) if lines[index].strip() == "---"), len(lines))


HEADINGS = ("Conforms", "Does not conform", "Missing")
"""The headings under which a rule's document proves it."""


def _body(lines: list[str], start: int) -> tuple[str, tuple[Fragment, ...]]:
    """Part the body into prose and fragments: a fenced block of a spec under one of the headings."""
    prose: list[str] = []
    fragments: list[Fragment] = []
    heading, first = "", 0
    inside: list[str] | None = None
    for number, line in enumerate(lines[start:], start + 1):
        if inside is not None:
            if line.strip() == "```":
                fragments.append(Fragment(heading, "\n".join(inside) + "\n", first))
                inside = None
            else:
                inside.append(line)
        elif line.startswith("## ") and line[3:].strip() in HEADINGS:
            heading = line[3:].strip()
        elif heading and line.strip() == "```yaml":
            inside, first = [], number + 1
        elif line.strip().startswith("Finding:") and fragments:
            last = fragments[-1]
            fragments[-1] = Fragment(last.heading, last.text, last.line, line.strip()[8:].strip())
        elif not heading:
            prose.append(line)
    return "\n".join(prose).strip(), tuple(fragments)
