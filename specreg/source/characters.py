"""Bytes to text, refusing the characters on which parsers, editors and people disagree."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from itertools import islice

from specreg.source.place import Place
from specreg.source.problem import Problem

MOST_SHOWN = 20

# What YAML 1.2 (5.1) calls not printable, the breaks that only some programs count as line ends
# (U+0085, U+2028, U+2029, a carriage return on its own), a byte order mark inside the text, the signs
# that turn the direction of writing (UAX #9, 2.1 to 2.4: with them a line reads otherwise than it is), and
# the lone surrogates that stand for bytes which are not UTF-8.
_UNSEEN = (
    "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff"
)
_REFUSED = re.compile(f"([{_UNSEEN}]|\r(?!\n))")
_REFUSED_ESCAPED = re.compile(f"[{_UNSEEN}\r]")
_INDENTING_TAB = re.compile(r"^ *(\t)[ \t]*(?=[^ \t\r\n])", re.MULTILINE)
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_UTF8_MARK = b"\xef\xbb\xbf"
_STAND_IN = "\ufffd"


def read_characters(data: bytes, file: str) -> tuple[str | None, list[Problem], bool]:
    """The text, what is wrong with its characters, and whether its lines and indents can be trusted.

    A UTF-8 byte order mark at the very start is dropped. Each refused character is replaced by one
    other, so that places behind it stay right and the rest can still be read. No text: not UTF-8 at all.
    """
    if data.startswith(_UTF16_MARKS):
        return None, [_not_utf8(Place(file, 1, 1), data[:2])], False
    text = data.removeprefix(_UTF8_MARK).decode("utf-8", "surrogateescape")
    problems = _listed(_REFUSED, text, file, _refusal)
    tabs = _listed(_INDENTING_TAB, text, file, _tab) if "\t" in text else []
    if not problems and not tabs:
        return text, [], True
    trusted = not tabs and text.count("\r") == text.count("\r\n")
    return _REFUSED.sub(_STAND_IN, text), problems + tabs, trusted


def refused_character(text: str, place: Place) -> Problem | None:
    """Return the problem of an escape such as `\\e` that stands for what may not stand there itself."""
    found = _REFUSED_ESCAPED.search(text)
    return _refusal(found[0], place) if found else None


def place_in(text: str, index: int, file: str) -> Place:
    """Where the character at an index stands, counting line feeds alone as line ends."""
    return Place(file, text.count("\n", 0, index) + 1, index - text.rfind("\n", 0, index))


def _listed(
    pattern: re.Pattern[str], text: str, file: str, problem: Callable[[str, Place], Problem]
) -> list[Problem]:
    """A problem for each match; for those beyond a number that anybody reads, one that counts them."""
    matches = pattern.finditer(text)
    listed = [problem(m[1], place_in(text, m.start(1), file)) for m in islice(matches, MOST_SHOWN)]
    further = next(matches, None)
    if further is not None:
        count = 1 + sum(1 for _ in matches)
        place = place_in(text, further.start(1), file)
        listed.append(Problem(place, f"{count} more of this kind from here on"))
    return listed


def _refusal(character: str, place: Place) -> Problem:
    if "\udc80" <= character <= "\udcff":
        return _not_utf8(place, bytes([ord(character) - 0xDC00]))
    return Problem(
        place,
        "a character that does not belong into a spec",
        read=_name(character),
        remedy="delete it or start a new line there",
    )


def _name(character: str) -> str:
    names = {"\r": "carriage return without line feed", "\x85": "next line", "\ufeff": "byte order mark"}
    name = names.get(character) or unicodedata.name(character, "control character").lower()
    return f"U+{ord(character):04X} {name}"


def _not_utf8(place: Place, read: bytes) -> Problem:
    return Problem(
        place,
        "the file is not UTF-8",
        read=f"byte {read.hex(' ').upper()}",
        remedy="save it with the encoding UTF-8",
    )


def _tab(_: str, place: Place) -> Problem:
    return Problem(place, "a tab in the indentation", expected="spaces", remedy="replace the tab by spaces")
