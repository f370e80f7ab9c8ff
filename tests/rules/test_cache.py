"""The compiled pack that is kept says what the documents say, and is taken only where it can be trusted."""

import marshal
import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.rules import cache
from specreg.rules.cache import OFF, load_shipped_pack
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Result
from specreg.source.register import open_register, read_source

ROOT = Path(__file__).parents[2]
RULES = ROOT / "rules"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv(OFF, raising=False)
    return tmp_path / "cache" / "specreg"


def kept(home: Path) -> Path:
    (path,) = home.glob("pack-*.bin")
    return path


def answers(pack: Pack) -> tuple[Result, ...]:
    """What a pack says of the survey, in which most rules have something to say."""
    from specreg.model.read import read_build

    source = read_source(open_register(ROOT / "builds", "builds"), ROOT / "builds" / "second-hand")
    assert source.tree is not None
    build, _ = read_build(source.tree)
    assert build is not None
    return judge(pack, Facts(build))


def test_what_is_kept_says_the_same(home: Path) -> None:
    """Every answer with its message, figures and place; every document with its prose and fragments."""
    fresh, problems = load_pack(RULES)
    assert not problems
    load_shipped_pack(RULES)
    taken, _ = load_shipped_pack(RULES)
    assert kept(home).is_file()
    assert answers(taken) == answers(fresh)
    for one, other in zip(taken.rules, fresh.rules, strict=True):
        assert one.header == other.header
        assert (one.limits, one.dimensions) == (other.limits, other.dimensions)
        assert one.document.prose == other.document.prose
        assert one.document.fragments == other.document.fragments
        assert one.document.digest == other.document.digest


def test_it_is_really_taken(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time no document is parsed."""
    load_shipped_pack(RULES)
    monkeypatch.setattr(cache, "load_pack", lambda *_: pytest.fail("the documents were read"))
    pack, problems = load_shipped_pack(RULES)
    assert len(pack.rules) > 100
    assert not problems


def spoil(path: Path, how: str) -> None:
    data = path.read_bytes()
    forged = marshal.dumps([{"identity": "dc/forged"}])
    texts = {
        "cut short": data[: len(data) // 2],
        "empty": b"",
        "one byte changed": data[:-1] + bytes([data[-1] ^ 1]),
        "forged with a plain digest": sha256(forged).digest() + forged,
        "noise": os.urandom(2000),
    }
    if how in texts:
        path.write_bytes(texts[how])
    elif how == "others may write it":
        path.chmod(0o666)
    elif how == "others may write its folder":
        path.parent.chmod(0o777)
    elif how == "a link":
        moved = path.with_suffix(".moved")
        path.rename(moved)
        path.symlink_to(moved)


@pytest.mark.parametrize(
    "how",
    [
        "cut short",
        "empty",
        "one byte changed",
        "forged with a plain digest",
        "noise",
        "others may write it",
        "others may write its folder",
        "a link",
    ],
)
def test_what_cannot_be_trusted_is_not_taken(home: Path, how: str) -> None:
    """The documents are read instead, and nobody notices."""
    fresh, _ = load_shipped_pack(RULES)
    spoil(kept(home), how)
    key = cache._key(RULES, "rules")
    assert cache._taken(home / f"pack-{key[:32]}.bin", key) is None
    again, problems = load_shipped_pack(RULES)
    assert not problems
    assert [rule.identity for rule in again.rules] == [rule.identity for rule in fresh.rules]


def test_a_changed_document_is_read_anew(tmp_path: Path, home: Path) -> None:
    """The key covers the documents: an edit is seen at once, and the old file goes."""
    folder = tmp_path / "pack"
    (folder / "dc").mkdir(parents=True)
    rule = (RULES / "dc" / "tap-protected.md").read_text(encoding="utf-8")
    (folder / "dc" / "one.md").write_text(rule, encoding="utf-8")
    load_shipped_pack(folder)
    first = kept(home)
    (folder / "dc" / "one.md").write_text(rule.replace("level: error", "level: note"), encoding="utf-8")
    pack, _ = load_shipped_pack(folder)
    assert pack.rules[0].header.level.value == "note"
    assert kept(home) != first


def test_a_pack_with_problems_is_not_kept(tmp_path: Path, home: Path) -> None:
    """What is wrong is told every time."""
    (tmp_path / "pack" / "dc").mkdir(parents=True)
    (tmp_path / "pack" / "dc" / "one.md").write_text("no front matter", encoding="utf-8")
    for _ in range(2):
        _, problems = load_shipped_pack(tmp_path / "pack")
        assert problems
    assert not home.exists() or not list(home.iterdir())


def test_it_can_be_switched_off(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Then nothing is written."""
    monkeypatch.setenv(OFF, "1")
    load_shipped_pack(RULES)
    assert not home.exists()


def test_a_folder_that_cannot_be_written_is_done_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file stands where the cache folder should: the pack loads all the same."""
    (tmp_path / "blocked").write_text("", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "blocked"))
    pack, problems = load_shipped_pack(RULES)
    assert pack.rules
    assert not problems


def test_two_processes_at_once(home: Path) -> None:
    """Both end well, and one whole file is left."""
    command = [sys.executable, "-m", "specreg", "rules", "--format", "json"]
    both = [subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE) for _ in range(2)]
    outputs = [process.communicate()[0] for process in both]
    assert [process.returncode for process in both] == [0, 0]
    assert outputs[0] == outputs[1]
    assert [path.name for path in home.iterdir()] == [kept(home).name]
