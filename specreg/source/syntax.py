"""The parser's complaints in the words of somebody who writes specs."""

from __future__ import annotations

from yaml import MarkedYAMLError, YAMLError

from specreg.source.place import Place
from specreg.source.problem import Problem

# (what the parser says, whether the fault is where it began and not where it stopped, message, remedy)
_WORDS = (
    (
        "mapping values are not allowed in this context",
        False,
        "a key is not possible here",
        "put the key on a line of its own, check the indentation, or quote a text that contains a colon",
    ),
    (
        "could not find expected ':'",
        True,
        "a key without its colon",
        "write `key: value`, or indent the line if it carries on the one above",
    ),
    (
        "did not find expected key",
        False,
        "a key was expected here",
        "check the indentation, and quote a text that goes on behind a quotation mark or bracket",
    ),
    (
        "did not find expected '-' indicator",
        False,
        "an item of the list was expected here",
        "begin it with `- `, or indent the line to belong to the item above",
    ),
    (
        "did not find expected ',' or ']'",
        False,
        "a list in brackets is not closed",
        "put a comma between items and `]` at the end",
    ),
    (
        "did not find expected ',' or '}'",
        False,
        "a mapping in braces is not closed",
        "put a comma between entries and `}` at the end",
    ),
    (
        "found unexpected end of stream",
        True,
        "a quotation mark is opened and never closed",
        "close it, or quote the whole value",
    ),
    (
        "found unexpected document indicator",
        True,
        "a quotation mark is opened and never closed",
        "close it, or quote the whole value",
    ),
    (
        "found character that cannot start any token",
        False,
        "a value cannot begin with this character",
        "put the value in quotation marks",
    ),
    (
        "block sequence entries are not allowed in this context",
        False,
        "an item of a list is not possible here",
        "begin the list on the line below its key",
    ),
    (
        "found unknown escape character",
        False,
        "a backslash before a letter that means nothing",
        "write `\\\\` for a backslash, or use single quotation marks",
    ),
    (
        "did not find expected node content",
        False,
        "a value was expected here",
        "give the value, or take the comma away",
    ),
    (
        "did not find expected <document start>",
        False,
        "text behind the end of the value",
        "check the indentation, and quote a text that goes on behind a quotation mark or bracket",
    ),
    (
        "did not find expected alphabetic or numeric character",
        True,
        "a value cannot begin with `&` or `*`",
        "put the value in quotation marks",
    ),
    (
        "did not find expected comment or line break",
        False,
        "text on the line of a `|` or `>`",
        "begin the text on the line below",
    ),
    ("did not find expected whitespace or line break", False, "a tag (`!`)", "take the tag away"),
    ("found undefined tag handle", False, "a tag (`!`)", "take the tag away"),
    ("found unknown directive name", True, "a directive (`%`)", "take the line away"),
    ("found incompatible YAML document", False, "a directive (`%`)", "take the line away"),
    ("block mapping entries are not allowed", False, "a key is not possible here", "check the indentation"),
    ("mapping keys are not allowed in this context", False, "a `?` is not possible here", "quote it"),
)


def syntax_problem(error: YAMLError, file: str) -> Problem:
    """One problem for what stopped the parser, at the place where a person would look."""
    if not isinstance(error, MarkedYAMLError):
        return Problem(Place(file, 1, 1), f"this is not YAML: {error}")
    said = error.problem or error.context or ""
    for phrase, at_beginning, message, remedy in _WORDS:
        if phrase in said:
            return Problem(_place(error, file, at_beginning), message, remedy=remedy)
    return Problem(_place(error, file, False), f"this is not YAML: {said}")


def _place(error: MarkedYAMLError, file: str, at_beginning: bool) -> Place:
    first, last = error.context_mark, error.problem_mark
    mark = (first or last) if at_beginning else (last or first)
    return Place(file, mark.line + 1, mark.column + 1) if mark else Place(file, 1, 1)
