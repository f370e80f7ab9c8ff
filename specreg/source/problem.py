"""What is wrong with a text, said to the person who wrote it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from specreg.source.place import Place

LONGEST_QUOTE = 60
LONGEST_WORD = 60


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: where, what, what was read, what was expected, the nearest right word, what to do."""

    place: Place | None
    message: str
    read: str | None = None
    expected: str | None = None
    nearest: str | None = None
    remedy: str | None = None

    def text(self) -> str:
        """The whole problem on one line, `file:line:column: problem: …`."""
        lead = f"{self.place}: " if self.place else ""
        return _one_line(f"{lead}problem: {self.message}{self._details()}")

    def _details(self) -> str:
        parts = []
        if self.read is not None:
            parts.append(f"read {quoted(self.read)}")
        if self.expected is not None:
            parts.append(f"expected {self.expected}")
        if self.nearest is not None:
            parts.append(f"nearest is {quoted(self.nearest)}")
        details = f": {', '.join(parts)}" if parts else ""
        return f"{details}; {self.remedy}" if self.remedy else details

    def _order(self) -> tuple[tuple[str, int, int], str, str]:
        return self.place or ("", 0, 0), self.message, self._details()

    def __lt__(self, other: Problem) -> bool:
        return self._order() < other._order()


class Unreadable(Exception):  # noqa: N818
    """Raised by callers that cannot go on; carries every problem found up to there."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(sorted(problems))
        super().__init__("\n".join(problem.text() for problem in self.problems))

    def __reduce__(self) -> tuple[type[Unreadable], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)


def quoted(text: str) -> str:
    """The text in quotation marks, cut to a length that still reads well."""
    cut = text if len(text) <= LONGEST_QUOTE else text[: LONGEST_QUOTE - 1] + "…"
    return f'"{cut}"'


MOST_COMPARED = 5_000_000
"""Pairs of letters that one reading may compare in search of near words; about two seconds."""

_left: ContextVar[int | None] = ContextVar("letters left to compare", default=None)
"""How many pairs of letters may still be compared; None where nothing bounds the search."""


@contextmanager
def bounded_search() -> Iterator[None]:
    """Bound the search for near words within: a file of ten thousand slips must end in time.

    A reading within a reading shares its bound.
    """
    if _left.get() is not None:
        yield
        return
    token = _left.set(MOST_COMPARED)
    try:
        yield
    finally:
        _left.reset(token)


def nearest_word(word: str, words: Iterable[str]) -> str | None:
    """The word most like the one that was read, or None where none is near; ties go by the alphabet.

    Nearness is the optimal string alignment distance (letters put in, left out, replaced, neighbours
    swapped); capitals and the choice of `-`, `_` or space count for nothing. None, too, where a bounded
    search has compared its fill.
    """
    if len(word) > LONGEST_WORD:
        return None
    read = _folded(word)
    left = _left.get()
    if left is not None and left <= 0:
        return None
    near = {other for other in words if _may_be_near(word, other)}
    if left is not None:
        _left.set(left - len(read) * sum(map(len, near)))
    ranked = sorted((_distance(read, _folded(other)), other) for other in near)
    if not ranked or ranked[0][0] > _reach(word, ranked[0][1]):
        return None
    return ranked[0][1]


def _folded(word: str) -> str:
    return word.casefold().replace("-", "_").replace(" ", "_")


def _reach(one: str, other: str) -> int:
    """How many slips still leave a word recognisable: one in three letters, at least one, but not all."""
    longest = max(len(one), len(other))
    return min(max(1, longest // 3), longest - 1)


def _may_be_near(one: str, other: str) -> bool:
    return abs(len(one) - len(other)) <= _reach(one, other) + 1


def _distance(one: str, other: str) -> int:
    """Optimal string alignment distance between two words."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        earlier, before, row = before, row, [i]
        for j, b in enumerate(other, 1):
            step = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                step = min(step, earlier[j - 2] + 1)
            row.append(step)
    return row[-1]


def _one_line(text: str) -> str:
    """Line breaks and control characters made visible, so that nothing read can forge a second line."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
