"""The compiled pack that is kept says what the documents say, and is taken only where it can be trusted."""

import marshal
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace

import pytest
from small_register import RULES as SMALL
from small_register import write_rules
from spoiling import WAYS, spoil

import specreg.facts.all
from specreg import keeping
from specreg.facts.engine import Facts
from specreg.keeping import OFF
from specreg.rules import cache
from specreg.rules.cache import load_shipped_pack
from specreg.rules.expression import Expression, Part, Text
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, documents, load_pack, pack_of
from specreg.rules.result import Result
from specreg.source import Problem
from specreg.source.register import open_register, read_source
from specreg.units import System
from specreg.workshop import load, rules_for

ROOT = Path(__file__).parents[2]
RULES = ROOT / "rules"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv(OFF, raising=False)
    return tmp_path / "cache" / "specreg"


def kept(home: Path) -> Path:
    (path,) = home.iterdir()
    return path


def answers(pack: Pack) -> tuple[Result, ...]:
    """What a pack says of the survey, in which most rules have something to say."""
    from specreg.model.read import read_build

    source = read_source(open_register(ROOT / "builds", "builds"), ROOT / "builds" / "second-hand")
    assert source.tree is not None
    build, _ = read_build(source.tree)
    assert build is not None
    return judge(pack, Facts(build))


def said(part: str | Expression | Text | None) -> object:
    """What a condition or a text consists of, its code included."""
    if isinstance(part, Text):
        return [said(one.expression if isinstance(one, Part) else one) for one in part.parts]
    if isinstance(part, Expression):
        return type(part), part.source, part.kind.form, part.kind.dimension, part.reads, part.code()
    return part


def assert_the_same(taken: Pack, fresh: Pack) -> None:
    """Every rule with all its parts, and every document with its prose and fragments."""
    for one, other in zip(taken.rules, fresh.rules, strict=True):
        assert (one.identity, one.header, one.variable) == (other.identity, other.header, other.variable)
        assert one.header.model_fields_set == other.header.model_fields_set
        assert (one.model, one.limits, one.dimensions) == (other.model, other.limits, other.dimensions)
        assert one.document == other.document
        assert one.document.prose == other.document.prose
        assert one.document.fragments == other.document.fragments
        assert one.document.digest == other.document.digest
        assert one.document.front == other.document.front
        assert one.document.place == other.document.place
        for name in ("applies", "passes", "finding", "asks", "remedy"):
            assert said(getattr(one, name)) == said(getattr(other, name))


def test_what_is_kept_says_the_same(home: Path) -> None:
    """Every answer with its message, figures and place."""
    fresh, problems = load_pack(RULES)
    assert not problems
    load_shipped_pack(RULES)
    taken, _ = load_shipped_pack(RULES)
    assert kept(home).is_file()
    assert answers(taken) == answers(fresh)
    assert_the_same(taken, fresh)


EVERY_PART = """\
---
title: The run bears its load
system: dc
level: warning
judges: dc-run
cases: loading
jurisdictions: [uk, us]
applies: dc_run.length > limits.least and dc_run.medium == 'dc'
passes: dc_run.ampacity is present
decides: electrician
finding: "{{ dc_run }} of {{ dc_run.length }}: {{ dc_run.ampacity is present }}, {{ limits.share | as_percent }}, {{ 3 }}"
asks: Look at it.
remedy: ""
limits: {least: {any: 1 m, us: 3 ft}, share: {any: 3 %}}
formerly: [dc/old]
covers: [conductor]
sources: [{how: physics}]
---
Why.

## Conforms
```yaml
title: Fine
```
"""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A pack of a few rules, one of them with everything that a rule can have."""
    return write_rules(tmp_path / "small", {**SMALL, "dc/every-part": EVERY_PART})


def test_every_part_of_a_rule_is_kept(small: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And its values are written in sentences as before: a length with its unit, yes for true."""
    fresh, _ = load_pack(small)
    load_shipped_pack(small)
    taken = read_again(monkeypatch)
    again, problems = load_shipped_pack(small)
    assert (taken, problems) == ([], [])
    assert_the_same(again, fresh)
    names = {
        "dc_run": SimpleNamespace(name="feed", length=2.5, ampacity=1.0),
        "limits": SimpleNamespace(share=0.03),
    }
    finding = again.by_identity()["dc/every-part"].finding
    assert finding is not None
    assert finding.render(names, System.metric) == "feed of 2.5 m: yes, 3 %, 3"


def test_without_a_home_nothing_is_kept(small: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The documents are read each time."""
    for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    taken = read_again(monkeypatch)
    for _ in range(2):
        assert load_shipped_pack(small)[0].rules
    assert len(taken) == 2
    assert not home.exists()


def test_what_the_file_is_called(small: Path, home: Path) -> None:
    """So that it is forgotten with the others, and tells interpreters and places of installation apart."""
    other = write_rules(small.parent / "other")
    load_shipped_pack(small)
    load_shipped_pack(other)
    load_shipped_pack(small)
    tag = sys.implementation.cache_tag
    names = [path.name for path in home.iterdir()]
    assert len(names) == 2
    assert all(re.fullmatch(rf"pack-{tag}-[0-9a-f]{{16}}\.bin", name) for name in names)
    assert names[0].startswith(keeping.KEPT)


def test_it_is_really_taken(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time no document is parsed."""
    load_shipped_pack(RULES)
    monkeypatch.setattr(cache, "pack_of", lambda *_: pytest.fail("the documents were compiled"))
    pack, problems = load_shipped_pack(RULES)
    assert len(pack.rules) > 100
    assert not problems


FORGED = marshal.dumps([{"identity": "dc/forged"}])


@pytest.mark.parametrize("how", WAYS)
def test_what_cannot_be_trusted_is_not_taken(
    small: Path, home: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """The documents are read instead, and nobody notices."""
    fresh, _ = load_shipped_pack(small)
    spoil(kept(home), how, FORGED)
    taken = read_again(monkeypatch)
    again, problems = load_shipped_pack(small)
    assert taken == [len(again.rules)]
    assert not problems
    assert_the_same(again, fresh)


def read_again(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Counts the documents of each time that they are compiled."""
    counts: list[int] = []

    def counted(texts: Mapping[str, str], shown: str) -> tuple[Pack, list[Problem]]:
        counts.append(len(texts))
        return pack_of(texts, shown)

    monkeypatch.setattr(cache, "pack_of", counted)
    return counts


@pytest.mark.parametrize("how", ["cut short", "noise", "one byte changed"])
def test_what_is_spoiled_is_written_anew(
    small: Path, home: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """Once is enough: the next process finds a whole file again."""
    load_shipped_pack(small)
    spoil(kept(home), how, FORGED)
    taken = read_again(monkeypatch)
    load_shipped_pack(small)
    load_shipped_pack(small)
    assert len(taken) == 1


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="files have no owner by number here")
def test_what_belongs_to_somebody_else_is_not_taken(
    small: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither read nor written: it may hold what somebody else wants run."""
    load_shipped_pack(small)
    before = kept(home).read_bytes()
    other = os.getuid() + 1
    monkeypatch.setattr(os, "getuid", lambda: other)
    taken = read_again(monkeypatch)
    load_shipped_pack(small)
    assert len(taken) == 1
    assert kept(home).read_bytes() == before


def test_what_bears_the_right_digest_but_is_no_pack_is_not_taken(
    small: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of an earlier write ends as no worse than a slow start."""
    load_shipped_pack(small)
    key = cache._key(documents(small), "rules")
    for wrong in ([], [{"header": 1}] * 1000, {"a": 1}, 7, [None] * len(documents(small))):
        data = marshal.dumps(wrong)
        kept(home).write_bytes(sha256(key + data).digest() + data)
        with monkeypatch.context() as patch:
            taken = read_again(patch)
            assert load_shipped_pack(small)[0].rules
            assert len(taken) == 1


def test_a_changed_program_compiles_anew(
    small: Path, tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The key covers the program's own files, and none beside them: a changed fact may change what a condition means."""
    assert Path(specreg.__file__).parent == cache.PACKAGE
    package = tmp_path / "package"
    package.mkdir()
    (package / "one.py").write_text("a = 1\n", encoding="utf-8")
    monkeypatch.setattr(cache, "PACKAGE", package)
    load_shipped_pack(small)
    taken = read_again(monkeypatch)
    load_shipped_pack(small)
    assert not taken
    (package / "one.py").write_text("a = 10\n", encoding="utf-8")
    load_shipped_pack(small)
    assert len(taken) == 1


@pytest.mark.parametrize("name", ["sys.version", "PYDANTIC", "__version__"])
def test_another_version_compiles_anew(
    small: Path, home: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Code objects belong to the interpreter that made them, headers to the library that checked them."""
    load_shipped_pack(small)
    monkeypatch.setattr(f"specreg.rules.cache.{name}", "another")
    taken = read_again(monkeypatch)
    load_shipped_pack(small)
    assert len(taken) == 1


def test_another_parser_compiles_anew(
    small: Path, tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its file stands for its version; a parser without a file is none that the key could cover."""
    parser = tmp_path / "parser.py"
    parser.write_text("a = 1\n", encoding="utf-8")
    monkeypatch.setattr(cache, "find_spec", lambda _: SimpleNamespace(origin=str(parser)))
    load_shipped_pack(small)
    taken = read_again(monkeypatch)
    load_shipped_pack(small)
    assert not taken
    parser.write_text("a = 10\n", encoding="utf-8")
    load_shipped_pack(small)
    assert len(taken) == 1
    for nowhere in (None, SimpleNamespace(origin=None)):
        monkeypatch.setattr(cache, "find_spec", lambda _, nowhere=nowhere: nowhere)
        assert load_shipped_pack(small)[0].rules


def test_a_changed_document_is_read_anew(tmp_path: Path, home: Path) -> None:
    """The key covers the documents: an edit is seen at once, and the file is replaced."""
    folder = tmp_path / "pack"
    (folder / "dc").mkdir(parents=True)
    rule = (RULES / "dc" / "tap-protected.md").read_text(encoding="utf-8")
    (folder / "dc" / "one.md").write_text(rule, encoding="utf-8")
    load_shipped_pack(folder)
    first = kept(home).read_bytes()
    (folder / "dc" / "one.md").write_text(rule.replace("level: error", "level: note"), encoding="utf-8")
    pack, _ = load_shipped_pack(folder)
    assert pack.rules[0].header.level.value == "note"
    assert kept(home).read_bytes() != first


def test_a_pack_with_problems_is_not_kept(tmp_path: Path, home: Path) -> None:
    """What is wrong is told every time."""
    (tmp_path / "pack" / "dc").mkdir(parents=True)
    (tmp_path / "pack" / "dc" / "one.md").write_text("no front matter", encoding="utf-8")
    for _ in range(2):
        _, problems = load_shipped_pack(tmp_path / "pack")
        assert problems
    assert not home.exists() or not list(home.iterdir())


def test_it_can_be_switched_off(small: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Then nothing is written."""
    monkeypatch.setenv(OFF, "1")
    load_shipped_pack(small)
    assert not home.exists()


def test_a_folder_that_cannot_be_written_is_done_without(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file stands where the cache folder should: the pack loads all the same."""
    (tmp_path / "blocked").write_text("", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "blocked"))
    pack, problems = load_shipped_pack(small)
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


def test_a_write_that_fails_leaves_nothing(small: Path, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk is full: no part of a file stays behind."""

    def full(*_: object, **__: object) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    pack, problems = load_shipped_pack(small)
    assert pack.rules
    assert not problems
    assert not list(home.iterdir())


@pytest.mark.parametrize(
    ("platform", "settings", "folder"),
    [
        ("linux", {"HOME": "/home/a"}, "/home/a/.cache/specreg"),
        ("linux", {"HOME": "/home/a", "XDG_CACHE_HOME": "/fast"}, "/fast/specreg"),
        ("linux", {"HOME": "/home/a", "XDG_CACHE_HOME": "here"}, "/home/a/.cache/specreg"),
        ("linux", {"HOME": "here"}, None),
        ("linux", {}, None),
        ("darwin", {"HOME": "/Users/a"}, "/Users/a/Library/Caches/specreg"),
        ("win32", {"LOCALAPPDATA": "/local"}, "/local/specreg"),
        ("win32", {"HOME": "/home/a"}, None),
    ],
)
def test_where_it_is_kept(
    monkeypatch: pytest.MonkeyPatch, platform: str, settings: dict[str, str], folder: str | None
) -> None:
    """In the user's cache folder as each system has it; a relative path could lead into a register."""
    for name in ("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in settings.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "platform", platform)
    assert keeping.cache_folder() == (Path(folder) if folder else None)


def files(*folders: Path) -> set[Path]:
    """Everything below folders but what Python itself compiles."""
    found = (path for folder in folders for path in folder.rglob("*"))
    return {path for path in found if path.name != "__pycache__" and path.suffix != ".pyc"}


def run(code: str, where: Path, **settings: str) -> str:
    command = [sys.executable, "-c", code]
    around = {**os.environ, "PYTHONPATH": str(ROOT), **settings}
    return subprocess.run(command, cwd=where, env=around, check=True, capture_output=True, text=True).stdout


def copied(into: Path) -> Path:
    """The demo register with its smallest van alone."""
    larger = shutil.ignore_patterns("fieldwork", "winter-tourer", "second-hand")
    return Path(shutil.copytree(ROOT / "builds", into, ignore=larger))


def test_nothing_is_written_in_a_register_or_the_package(tmp_path: Path, home: Path) -> None:
    """Not even where the setting names the folder that one stands in."""
    register = copied(tmp_path / "register")
    before = files(register, ROOT / "specreg", ROOT / "rules")
    code = "from specreg import workshop as w; print(len(w.rules_for(w.load('.'))[0].rules))"
    at_home = {"HOME": str(tmp_path / "own")}
    for cache_home in (str(tmp_path / "cache"), ".", "cache"):
        assert int(run(code, register, XDG_CACHE_HOME=cache_home, **at_home)) > 100
    assert files(register, ROOT / "specreg", ROOT / "rules") == before
    assert kept(home).is_file()
    assert kept(tmp_path / "own" / ".cache" / "specreg").is_file()


def test_a_register_s_own_rules_are_never_kept(tmp_path: Path, home: Path) -> None:
    """They are read anew each time: nobody else's file decides what runs for them."""
    register = copied(tmp_path / "register")
    (register / "rules" / "dc").mkdir(parents=True)
    rule = (RULES / "dc" / "tap-protected.md").read_text(encoding="utf-8")
    (register / "rules" / "dc" / "of-our-own.md").write_text(rule, encoding="utf-8")
    for _ in range(2):
        pack, problems = rules_for(load(register))
        assert not problems
        assert "dc/of-our-own" in pack.by_identity()
    assert b"of-our-own" not in kept(home).read_bytes()
    kinds = [len(marshal.loads(kept(home).read_bytes()[cache.DIGEST :]))]
    assert kinds == [len(pack.rules) - 1]


def test_the_parser_is_not_imported_where_the_cache_serves(home: Path, tmp_path: Path) -> None:
    """It is what a start would wait for."""
    code = "import sys; from specreg import workshop as w; w.rules_for(); print('jinja2' in sys.modules)"
    assert run(code, tmp_path).strip() == "True"
    assert run(code, tmp_path).strip() == "False"
    assert run(code, tmp_path, SPECREG_NO_CACHE="1").strip() == "True"


def test_a_document_is_parted_only_when_asked(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Front matter and body stay text while only answers are wanted."""
    load_shipped_pack(RULES)
    pack, _ = load_shipped_pack(RULES)
    document = pack.rules[0].document
    assert set(vars(document)) == {"identity", "file", "text"}
    assert document.front.place.file == document.file
    assert document.prose
    assert document.fragments
