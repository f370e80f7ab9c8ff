"""Nothing is lost: killed, on a full disk, in a folder that cannot be written, twice at once."""

from __future__ import annotations

import errno
import os
import random
from pathlib import Path

import pytest
from click.testing import CliRunner
from killing import COMMANDS, begin, kill_many, prepared, state

from specreg.cli.commands import cli

NAMES = sorted(COMMANDS)


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("name", NAMES)
def test_a_killed_command_leaves_the_old_or_the_new(name: str) -> None:
    """Killed three times at random points; the long command does it as often as one likes."""
    assert sum(kill_many(name, 3, random.Random(5))) == 3


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("left", [0, 2, 5])
def test_a_full_disk_is_named_and_changes_nothing(
    name: str, left: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every way in which a file is written fails from some point on: a sentence, code 2, the old state."""
    prepared(tmp_path, name)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SPECREG_NO_CACHE", "1")
    before, room = state(tmp_path), [left]

    def full(*_: object, **__: object) -> None:
        room[0] -= 1
        if room[0] < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    write, replace, copy = Path.write_bytes, os.replace, __import__("shutil").copy

    def write_bytes(path: Path, data: bytes) -> int:
        full()
        return write(path, data)

    def put(*args: object) -> None:
        full() if left == 0 else None
        replace(*args)  # type: ignore[arg-type]

    def copied(*args: object, **named: object) -> object:
        full()
        return copy(*args, **named)

    monkeypatch.setattr(Path, "write_bytes", write_bytes)
    monkeypatch.setattr(os, "replace", put)
    monkeypatch.setattr("shutil.copy", copied)
    result = CliRunner().invoke(cli, COMMANDS[name], catch_exceptions=False)
    monkeypatch.undo()
    if room[0] >= 0:
        assert left and name in ("schedule --assign", "inspect --output")
        return
    assert result.exit_code == 2
    assert "No space left on device" in result.stderr
    assert state(tmp_path) == before
    assert not [path for path in tmp_path.rglob(".*") if path.is_dir() and any(path.iterdir())]


def test_two_runs_at_once_do_not_mix(tmp_path: Path) -> None:
    """Two publish into one folder at the same time: what is there at the end is one of the two, whole, or neither fails."""
    prepared(tmp_path, "start")
    words = {
        reader: ("publish", "builds/pocket", "--reader", reader, "--into", "site")
        for reader in ("owner", "workshop")
    }
    wanted = set()
    for one in words.values():
        assert begin(tmp_path, one).wait() == 0
        wanted.add(state(tmp_path / "site"))
    assert len(wanted) == 2
    both = [begin(tmp_path, one) for one in words.values()]
    codes = [one.wait() for one in both]
    assert 0 in codes
    assert state(tmp_path / "site") in wanted
