"""What the program keeps for itself: killed, refused, spoiled at any point, the answer is the same."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from points import hidden, kill, refuse, run
from writers import WRITERS, Words, prepare

pytestmark = pytest.mark.skipif(os.name != "posix", reason="forks of POSIX")

KEEPS: tuple[Words, ...] = (("find", "vans", "kind=pump"), ("inspect", "vans"))
"""The first keeps an index of the register, the second the compiled rules."""


def keeping(folder: Path) -> Callable[[], None]:
    """Keep things in a cache folder of the test's own."""

    def setup() -> None:
        del os.environ["SPECREG_NO_CACHE"]
        os.environ["XDG_CACHE_HOME"] = str(folder / "cache")

    return setup


@pytest.mark.parametrize("words", KEEPS, ids=lambda words: words[0])
def test_a_cache_that_is_half_written_changes_no_answer(words: Words, tmp_path: Path) -> None:
    """Killed half way and before it is moved, and on a full disk: nothing is said of it; the next run takes away what was left."""
    folder = tmp_path / "of"
    folder.mkdir()
    prepare(folder, WRITERS["inspect --output"], lambda one, first: run(one, first).code)
    plain = run(folder, words)
    kept = run(folder, words, setup=keeping(folder))
    assert (kept.code, kept.printed, kept.said) == (plain.code, plain.printed, plain.said)
    assert {"write", "write the rest"} <= {point.what for point in kept.points}
    for point in (one for one in kept.points if one.what.startswith(("write the rest", "os.rename"))):
        shutil.rmtree(folder / "cache")
        full = run(folder, words, refuse(point.number, errno.ENOSPC), keeping(folder))
        assert (full.code, full.printed, full.said) == (plain.code, plain.printed, plain.said)
        assert hidden(folder / "cache") == []
        shutil.rmtree(folder / "cache", ignore_errors=True)
        assert run(folder, words, kill(point.number), keeping(folder)).code < 0
        again = run(folder, words, setup=keeping(folder))
        assert (again.code, again.printed, again.said) == (plain.code, plain.printed, plain.said)
        assert hidden(folder / "cache") == []
