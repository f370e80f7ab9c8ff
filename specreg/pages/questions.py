"""The page of questions that owners ask: each with its answer for this van, and where the book tells more.

A question is there because the thing that it asks about is; one about a thing that this van has not is left
out. Every link comes from the pages as composed, so that none leads nowhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fnmatch import fnmatchcase
from typing import NamedTuple

from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Listing,
    Page,
    Paragraph,
    Section,
    Signal,
    Words,
    cell,
)
from specreg.pages.search import places
from specreg.pages.texts import joined
from specreg.pages.van import Van

Line = str | Callable[[Van], Iterable[Cell]]
"""A sentence of the catalogue below the question's name, or sentences made from what is fitted."""

Sight = str | Callable[[Van], Iterable[str]]
"""Where the book tells more: `page.html#anchor`, `*` standing for any letters, or such made from the van."""


def always(_: Van) -> object:
    """Hold in every van."""
    return True


class Question(NamedTuple):
    """A question with when it is asked, what is answered, and where the book tells more.

    `fitted` gives nothing where the question does not arise in a van. `warns` is the signal word of a
    caution, which stands before everything else in a van in which `warned` gives something.
    """

    name: str
    group: str
    fitted: Callable[[Van], object]
    lines: tuple[Line, ...] = ()
    see: tuple[Sight, ...] = ()
    warns: Signal | None = None
    ordered: bool = False
    warned: Callable[[Van], object] = always


Sights = dict[str, Cell]
"""Every place of the book with its link."""


def questions_page(van: Van, pages: Iterable[Page]) -> Page:
    """Return the page; `pages` are those that it may lead to."""
    from specreg.pages.answers import QUESTIONS  # noqa: PLC0415 - the table is made of this module's types

    sights = sights_of(pages)
    asked = {one: found for one in QUESTIONS if (found := answer(van, one, sights))}
    groups = dict.fromkeys(one.group for one in asked)
    contents: list[Block] = [
        Paragraph(cell(van.texts(f"questions.group.{group}"), strong=True))
        if is_title
        else _list(asked, group)
        for group in groups
        for is_title in (True, False)
    ]
    lead = van.texts("questions.lead" if asked else "questions.nothing")
    return Page("questions", van.texts("page.questions"), lead, (*contents, *asked.values()))


def _list(asked: dict[Question, Section], group: str) -> Listing:
    return Listing(
        tuple(cell(one.title, f"#{one.anchor}") for question, one in asked.items() if question.group == group)
    )


def sights_of(pages: Iterable[Page]) -> Sights:
    """Return every place that a link can lead to, with the words for it."""
    found: Sights = {}
    for page in pages:
        for one in places(page):
            words = one.title if one.title == one.page else f"{one.page}: {one.title}"
            found.setdefault(one.href, cell(words, one.href))
    return found


def answer(van: Van, question: Question, sights: Sights) -> Section | None:
    """Return a question with its answer, None where it does not arise in this van."""
    if not question.fitted(van):
        return None
    say = van.texts.say
    lines = tuple(one for line in question.lines for one in _said(van, question, line))
    blocks: list[Block] = []
    if question.warns and question.warned(van):
        blocks.append(Caution(question.warns, say(f"questions.{question.name}.caution")))
    if lines:
        blocks.append(Listing(lines, numbered=question.ordered))
    if links := list(_seen(van, question, sights)):
        blocks.append(Paragraph(say("questions.see", pages=joined(links, "; "))))
    return Section(question.name, van.texts(f"questions.{question.name}.ask"), tuple(blocks))


def _said(van: Van, question: Question, line: Line) -> Iterable[Cell]:
    if isinstance(line, str):
        return (van.texts.say(f"questions.{question.name}.{line}"),)
    return line(van)


MOST_LINKS = 6
"""More places than this help nobody; the pages that hold them list the others."""


def _seen(van: Van, question: Question, sights: Sights) -> Iterator[Cell]:
    wanted = [
        one for sight in question.see for one in ((sight,) if isinstance(sight, str) else tuple(sight(van)))
    ]
    found = [href for pattern in wanted for href in _fitting(pattern, sights)]
    for href in list(dict.fromkeys(found))[:MOST_LINKS]:
        yield tuple(Words(piece.text, piece.href) for piece in sights[href] if isinstance(piece, Words))


def _fitting(pattern: str, sights: Sights) -> list[str]:
    if "*" in pattern:
        return [href for href in sights if fnmatchcase(href, pattern)]
    return [pattern] if pattern in sights else []


def each(page: str, *kinds: str, after: str = "") -> Callable[[Van], Iterable[str]]:
    """Return the sight of each thing of some kinds on a page."""
    return lambda van: [f"{page}#{name}{after}" for name in van.kinds(*kinds)]


def has(*kinds: str) -> Callable[[Van], object]:
    """Return a test that a van has a thing of some kinds."""
    return lambda van: van.kinds(*kinds)


def only(test: Callable[[Van], object], *texts: str) -> Line:
    """Return lines for a van in which a test gives something."""

    def lines(van: Van) -> Iterable[Cell]:
        return [van.texts.say(f"questions.{text}") for text in texts] if test(van) else ()

    return lines


def placed(text: str, *kinds: str) -> Line:
    """Return a line for each thing of some kinds, with its place."""
    from specreg.pages import fitted  # noqa: PLC0415 - it reaches this module by way of the pages

    def lines(van: Van) -> Iterable[Cell]:
        return [
            van.texts.say(f"questions.{text}", thing=fitted.placed(van, name)) for name in van.kinds(*kinds)
        ]

    return lines


def written(text: str, field: str, *kinds: str) -> Line:
    """Return a line for each thing of some kinds that states a field, with what it states."""

    def lines(van: Van) -> Iterable[Cell]:
        for name, one in van.kinds(*kinds).items():
            value = van.field(one, field) if field in type(one).model_fields else ""
            if value:
                yield van.texts.say(
                    f"questions.{text}", thing=van.thing(name), value=cell(value, strong=True)
                )

    return lines
