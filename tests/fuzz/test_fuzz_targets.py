"""The readers that the guided trial feeds: each refuses a few broken inputs, and a fault in one would be seen."""

from __future__ import annotations

import random
from itertools import islice

import pytest
from nasty import mangled
from targets import TARGETS, Harm, other_tree

from specreg.source import Problem

NAMES = sorted(TARGETS)
FEW = 3


@pytest.mark.parametrize("name", NAMES)
def test_what_is_broken_is_refused(name: str) -> None:
    """The first of its seeds as they are, with bytes changed and, where they are trees, as other trees."""
    target, draw = TARGETS[name], random.Random(f"few of {name}")
    seeds = list(islice(target.seeds(), FEW))
    assert seeds
    for seed in seeds:
        target.read(seed)
        target.read(mangled(draw, seed))
        tree = other_tree(seed, draw) if target.is_tree else None
        assert (tree is not None) or not target.is_tree
        if tree is not None:
            target.read(tree)


@pytest.mark.parametrize("name", NAMES)
def test_bytes_of_no_sort_are_refused(name: str) -> None:
    """Nothing, zeros, all bytes there are, a long line."""
    for data in (
        b"",
        b"\0" * 40,
        bytes(range(256)),
        b"[" * 5000,
        b'"' * 5000,
        "\u202e\x9b{{ x }}\r\n".encode(),
    ):
        TARGETS[name].read(data)


def test_a_fault_would_be_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """A trial that cannot fail is none: a reader that raises, a problem on two lines, markup that runs, a trusted file."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("targets.read_record", broken)
    with pytest.raises(ZeroDivisionError):
        TARGETS["accepted"].read(b"format: 1\n")
    monkeypatch.setattr("targets.read_record", lambda *_: (None, [Problem(None, "two\nlines")]))
    monkeypatch.setattr(Problem, "text", lambda problem: problem.message)
    with pytest.raises(AssertionError):
        TARGETS["accepted"].read(b"format: 1\n")
    for markup in ("<p onclick=x>", "<script>", "<a href=' JavaScript:x'>", "<img src=x>"):
        with pytest.raises(AssertionError):
            Harm().feed(markup)
    monkeypatch.setattr("targets.register_index._taken", lambda _: object())
    with pytest.raises(AssertionError):
        TARGETS["index"].read(b"another")
