"""Nothing is lost: every command that writes, killed at every point, on a full disk, stopped."""

from __future__ import annotations

import errno
import os
import random
import signal
from pathlib import Path

import pytest
from killing import kill_at_random
from trials import Trial, killed, looked_at, refused, stopped, trial
from writers import WRITERS

pytestmark = pytest.mark.skipif(os.name != "posix", reason="forks and signals of POSIX")

LONG = {"publish", "schema --output", "figures --output", "plan --output", "order --output", "labels"}
"""What only the long command tries: they write as others do."""

NAMES = sorted(WRITERS.keys() - LONG)


@pytest.fixture(scope="module")
def trials(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Trial]:
    """The commands that were tried so far, with what stands before and after them."""
    return {}


@pytest.fixture
def of(
    request: pytest.FixtureRequest, trials: dict[str, Trial], tmp_path_factory: pytest.TempPathFactory
) -> Trial:
    """A command, prepared once."""
    name = request.param
    if name not in trials:
        trials[name] = trial(tmp_path_factory.mktemp("trial") / "of", name)
    return trials[name]


@pytest.mark.parametrize("of", NAMES, indirect=True)
def test_at_every_point_the_old_or_the_new_is_there(of: Trial) -> None:
    """Looked at before each operation on files, which is what a kill there would leave; then gone on from."""
    looked_at(of)


@pytest.mark.parametrize(
    "of", ["order --import", "record what was fitted", "rules --into", "start a van"], indirect=True
)
def test_a_killed_command_leaves_the_old_or_the_new(of: Trial) -> None:
    """Really killed, in the middle of what it writes; the long command does it at every point of each."""
    killed(of, of.points[len(of.points) // 2])


@pytest.mark.parametrize("of", NAMES, indirect=True)
def test_a_full_disk_is_named_and_changes_nothing(of: Trial) -> None:
    """One line that names what cannot be written, why, and what to do; code 2; the old state, nothing beside it."""
    first = next(point for point in of.points if point.what.startswith("open"))
    half = [point for point in of.points if point.what == "write the rest"][-1]
    assert "No space left on device; make room" in refused(of, first, errno.ENOSPC).said
    assert "No space left on device; make room" in refused(of, half, errno.ENOSPC).said


@pytest.mark.parametrize("of", NAMES, indirect=True)
def test_whoever_stops_it_gets_the_old_or_the_new(of: Trial) -> None:
    """Ctrl+C, the system, a closed terminal: a short line, codes 130, 143, 129; nothing beside."""
    moved = [point for point in of.points if point.what.startswith(("os.rename", "exchange"))][-1]
    stopped(of, moved, signal.SIGINT)
    stopped(of, of.points[-1], signal.SIGTERM)
    stopped(of, of.points[0], signal.SIGHUP)


def test_processes_killed_at_random_moments(tmp_path: Path) -> None:
    """Processes of their own, a few; the long command does it as often as one likes, with every command."""
    assert sum(kill_at_random(trial(tmp_path / "of", "start a van"), 3, random.Random(5))[:2]) == 3
