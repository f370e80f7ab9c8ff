"""Publishing again in one process gives the same bytes; `tests/repeat` asks that of processes that differ."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest
from published import MADE_HERE, REGISTER, register_site

from specreg.model.field import Reader
from specreg.pages.publish import publish


def marks(site: Path) -> dict[str, str]:
    """The digest of every file of a site, by its path."""
    files = sorted(path for path in site.rglob("*") if path.is_file())
    return {file.relative_to(site).as_posix(): sha256(file.read_bytes()).hexdigest() for file in files}


@pytest.fixture(scope="module")
def first() -> dict[str, str]:
    """The workshop's edition, which holds the most."""
    found = marks(register_site(Reader.workshop))
    assert len(found) > 20
    return found


def test_publishing_again_in_one_process_gives_the_same_bytes(
    first: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is carried over from one run to the next, and the way to the register is not told."""
    monkeypatch.chdir(tmp_path)
    made = ["again"] if Reader.workshop in MADE_HERE else ["once", "again"]
    for name in made:
        publish(REGISTER, Reader.workshop, Path(name))
        assert marks(tmp_path / name) == first


def test_no_file_tells_where_it_was_made(first: dict[str, str]) -> None:
    """No path of the machine stands in any file, nor is any file named by one."""
    site = register_site(Reader.workshop)
    here = (str(REGISTER.parent), str(site.parent), str(Path.home()) + "/")
    told = [name for name in first for path in here if path in name or path in (site / name).read_text()]
    assert told == []
