"""The parser's complaints in the words of somebody who writes specs."""

from __future__ import annotations

from yaml import Mark, YAMLError

from specreg.source.characters import place_in
from specreg.source.place import Place
from specreg.source.problem import Problem

STOP, BEGIN, BOTH = "where the parser stopped", "where the thing began", "there, and naming the beginning"
_CANNOT_BEGIN = "found character that cannot start any token"

# (what the parser says, where the fault is, message, remedy)
_WORDS = (
    ("directive", BEGIN, "a directive (`%`)", "take the line away"),
    ("found incompatible YAML document", STOP, "a directive (`%`)", "take the line away"),
    (
        "mapping values are not allowed in this context",
        STOP,
        "a key is not possible here",
        "put the key on a line of its own, check the indentation, or quote a text that contains a colon",
    ),
    (
        "could not find expected ':'",
        BEGIN,
        "a key without its colon",
        "write `key: value`, or indent the line if it carries on the one above",
    ),
    (
        "did not find expected key",
        STOP,
        "a key was expected here",
        "check the indentation, and quote a text that goes on behind a quotation mark or bracket",
    ),
    (
        "did not find expected '-' indicator",
        STOP,
        "an item of the list was expected here",
        "begin it with `- `, or indent the line to belong to the item above",
    ),
    (
        "did not find expected ',' or ']'",
        BOTH,
        "a list in brackets is not closed",
        "put a comma between items and `]` at the end",
    ),
    (
        "did not find expected ',' or '}'",
        BOTH,
        "a mapping in braces is not closed",
        "put a comma between entries and `}` at the end",
    ),
    (
        "found unexpected end of stream",
        BEGIN,
        "a quotation mark is opened and never closed",
        "close it, or quote the whole value",
    ),
    (
        "found unexpected document indicator",
        BEGIN,
        "a quotation mark is opened and never closed",
        "close it, or quote the whole value",
    ),
    (
        _CANNOT_BEGIN,
        STOP,
        "a value cannot begin with this character",
        "put the value in quotation marks",
    ),
    (
        "block sequence entries are not allowed in this context",
        STOP,
        "an item of a list is not possible here",
        "begin the list on the line below its key",
    ),
    (
        "found unknown escape character",
        STOP,
        "a backslash before a letter that means nothing",
        "write `\\\\` for a backslash, or use single quotation marks",
    ),
    (
        "did not find expected node content",
        STOP,
        "a value was expected here",
        "give the value, or take the comma away",
    ),
    (
        "did not find expected <document start>",
        STOP,
        "text behind the end of the value",
        "check the indentation, and quote a text that goes on behind a quotation mark or bracket",
    ),
    (
        "did not find expected alphabetic or numeric character",
        BEGIN,
        "a value cannot begin with `&` or `*`",
        "put the value in quotation marks",
    ),
    (
        "did not find expected comment or line break",
        STOP,
        "text on the line of a `|` or `>`",
        "begin the text on the line below",
    ),
    ("indentation indicator", STOP, "a wrong sign behind `|` or `>`", "write `|` alone"),
    ("found unexpected ':'", STOP, "a colon inside a value in brackets", "put the value in quotation marks"),
    ("found a tab character", STOP, "a tab in the indentation", "replace the tab by spaces"),
    ("while scanning a tag", BEGIN, "a tag (`!`)", "take the tag away"),
    ("while parsing a tag", BEGIN, "a tag (`!`)", "take the tag away"),
    ("found undefined tag handle", STOP, "a tag (`!`)", "take the tag away"),
    ("block mapping entries are not allowed", STOP, "a key is not possible here", "check the indentation"),
    (
        "exceeded maximum nesting depth",
        STOP,
        "values nested deeper than can be read",
        "make the spec flatter",
    ),
    ("mapping keys are not allowed in this context", STOP, "a `?` is not possible here", "quote it"),
)


def syntax_problem(error: YAMLError, text: str, file: str) -> Problem:
    """One problem for what stopped the parser in a text, at the place where a person would look."""
    context, problem = getattr(error, "context", None) or "", getattr(error, "problem", None)
    said = f"{context} {problem or error}".strip()
    mark = getattr(error, "problem_mark", None)
    stopped = _place(mark, text, file)
    began = _place(getattr(error, "context_mark", None), text, file)
    for phrase, fault, message, remedy in _WORDS:
        if phrase in said:
            place = (began or stopped) if fault == BEGIN else (stopped or began)
            if fault == BOTH and began:
                message = f"{message}; it began on line {began.line}, column {began.column}"  # noqa: PLW2901
            read = text[mark.index : mark.index + 1] if mark and phrase == _CANNOT_BEGIN else None
            return Problem(place or Place(file, 1, 1), message, read=read, remedy=remedy)
    return Problem(stopped or began or Place(file, 1, 1), f"this is not YAML: {said}")


def _place(mark: Mark | None, text: str, file: str) -> Place | None:
    """A mark as a place; the parser puts the end of a file behind its last line, we put it on it."""
    return None if mark is None else place_in(text, min(mark.index, len(text)), file)
