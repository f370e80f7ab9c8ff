"""Answers from the index are those of a look into every build, whatever is asked and whatever was edited."""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.cli.commands import cli
from specreg.register import index as index_module
from specreg.register import reading
from specreg.register.find import Finder, Found
from specreg.register.index import index_file
from specreg.register.query import read_query
from specreg.source import Problem
from specreg.workshop import load

PARTS = """\
pump-a: {kind: pump, power: 60 W, supply_voltage: 12 V, maker: Alder, model: A-10}
pump-b: {kind: pump, power: 40 W, supply_voltage: 12 V, maker: Birch, model: B-4}
"""

ASSEMBLY = """\
components:
  spare-pump: {part: pump-b, label: Spare pump}
"""

Thing = tuple[str, dict[str, str]]


def spec(name: str, things: list[Thing], stage: str = "design", include: bool = False) -> str:
    """A spec with pumps."""
    lines = ["format: 1", f"build: {name}", f"title: Van {name}", f"stage: {stage}", "jurisdictions: [uk]"]
    lines += ["include: [{assembly: spare}]"] if include else []
    lines += ["components:" if things else "components: {}"]
    for key, words in things:
        said = ", ".join(f'{word}: "{value}"' for word, value in words.items())
        lines.append(f"  {key}: {{{said}}}")
    return "\n".join(lines) + "\n"


@pytest.fixture
def vans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A register of three vans, and a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("SPECREG_NO_CACHE", raising=False)
    monkeypatch.chdir(tmp_path)
    return write(tmp_path / "vans")


def write(folder: Path) -> Path:
    """Write the register."""
    for name, text in {
        "parts/water.yaml": PARTS,
        "assemblies/spare.yaml": ASSEMBLY,
        "crane/spec.yaml": spec("crane", [("pump", {"part": "pump-a", "serial": "A100", "fitted_on": "2026-03-04"})]),
        "heron/spec.yaml": spec("heron", [("pump", {"part": "pump-a", "serial": "a-0199"}), ("old", {"part": "pump-b"})], "in-service"),
        "heron/designations.yaml": "pump: -G1\n",
        "stork/spec.yaml": spec("stork", [("pump", {"part": "pump-a", "title": "Galley pump"})], include=True),
    }.items():  # fmt: skip
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def ask(folder: Path, *words: str) -> Found:
    """Return what is found."""
    conditions, problems = read_query(words)
    assert not problems
    return Finder(folder).find(conditions)


def things(found: Found) -> set[str]:
    """Return hits as `build/thing`."""
    return {f"{hit.build}/{hit.words['id']}" for hit in found.hits}


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        (["part=pump-a"], {"crane/pump", "heron/pump", "stork/pump"}),
        (["part=pump-a", "stage=in-service"], {"heron/pump"}),
        (["part=pump-*"], {"crane/pump", "heron/pump", "heron/old", "stork/pump", "stork/spare-pump"}),
        (["maker=birch"], {"heron/old", "stork/spare-pump"}),
        (["maker=birch,alder", "build=heron"], {"heron/pump", "heron/old"}),
        (["model=A-10", "serial="], {"stork/pump"}),
        (["serial=A100..A199"], {"crane/pump", "heron/pump"}),
        (["lot=..A150"], {"crane/pump"}),
        (["serial=A-199"], {"heron/pump"}),
        (["serial=B100..B199"], set()),
        (["serial=100..199"], set()),
        (["fitted=2026-03"], {"crane/pump"}),
        (["fitted=2026"], {"crane/pump"}),
        (["fitted=2026-03-05.."], set()),
        (["fitted=..2026-03-04"], {"crane/pump"}),
        (["designation=-g1"], {"heron/pump"}),
        (["label=spare pump"], {"stork/spare-pump"}),
        (["galley"], {"stork/pump"}),
        (["pump", "van=van heron"], {"heron/pump", "heron/old"}),
        (["kind=pump stage=design"], {"crane/pump", "stork/pump", "stork/spare-pump"}),
        (["jurisdiction=us", "kind=pump"], set()),
    ],
)  # fmt: skip
def test_conditions(vans: Path, query: list[str], expected: set[str]) -> None:
    """Each condition finds these, from a new index and from a kept one."""
    assert things(ask(vans, *query)) == expected
    assert things(ask(vans, *query)) == expected


def test_conditions_about_vans_alone_find_vans(vans: Path) -> None:
    """Without a condition on a thing, each van counts once."""
    assert [hit.build for hit in ask(vans, "stage=design").hits] == ["crane", "stork"]


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("knd=pump", 'nearest is "kind"'),
        ("fitted=2026-13", 'this is no day: read "2026-13"'),
        ("fitted=2026-02-30", "this is no day"),
        ("fitted=March", "this is no day"),
        ("serial=A1..B", "the ends of the range are not written alike"),
        ("kind=a..b", "`kind` takes no range"),
        (" ", "nothing is asked for"),
    ],
)
def test_a_bad_condition_is_answered_in_words(word: str, expected: str) -> None:
    """What was read, what was expected, the nearest right word."""
    assert expected in "\n".join(one.text() for one in read_query([word])[1])


def test_a_hit_says_where_it_is_written(vans: Path) -> None:
    """The place opens from where the command runs; a member of an assembly stands in the assembly."""
    places = {hit.words["id"]: str(hit.place) for hit in ask(vans, "build=stork", "kind=pump").hits}
    assert places == {"pump": "vans/stork/spec.yaml:8:3", "spare-pump": "vans/assemblies/spare.yaml:2:3"}


Edit = Callable[[Path], None]


def _replace(name: str, before: str, after: str) -> Edit:
    def edit(vans: Path) -> None:
        text = (vans / name).read_text(encoding="utf-8")
        assert before in text
        (vans / name).write_text(text.replace(before, after), encoding="utf-8")

    return edit


def _written(name: str, text: str) -> Edit:
    def edit(vans: Path) -> None:
        (vans / name).write_text(text, encoding="utf-8")

    return edit


def _removed(name: str) -> Edit:
    def edit(vans: Path) -> None:
        shutil.rmtree(vans / name) if (vans / name).is_dir() else (vans / name).unlink()

    return edit


def _copied(name: str, other: str) -> Edit:
    def edit(vans: Path) -> None:
        shutil.copytree(vans / name, vans / other)
        _replace(f"{other}/spec.yaml", f"build: {name}", f"build: {other}")(vans)

    return edit


def _renamed(name: str, other: str) -> Edit:
    def edit(vans: Path) -> None:
        (vans / name).rename(vans / other)
        _replace(f"{other}/spec.yaml", f"build: {name}", f"build: {other}")(vans)

    return edit


EXTRA = "components: {more: {part: pump-b}}\n"
EDITS: dict[str, tuple[Edit, str, set[str]]] = {
    "a value of the same length": (_replace("crane/spec.yaml", "A100", "A199"), "serial=A199", {"crane/pump", "heron/pump"}),
    "a part": (_replace("parts/water.yaml", "Birch", "Cedar"), "maker=cedar", {"heron/old", "stork/spare-pump"}),
    "a part more": (_written("parts/more.yaml", "pump-c: {kind: pump}\n"), "maker=birch", {"heron/old", "stork/spare-pump"}),
    "a part less": (_written("parts/water.yaml", PARTS.replace("pump-b", "pump-c")), "maker=birch", set()),
    "an assembly": (_replace("assemblies/spare.yaml", "pump-b", "pump-a"), "part=pump-b", {"heron/old"}),
    "a build renamed": (_renamed("crane", "egret"), "serial=A100", {"egret/pump"}),
    "a build removed": (_removed("heron"), "part=pump-b", {"stork/spare-pump"}),
    "a build added": (_copied("crane", "egret"), "serial=A100", {"crane/pump", "egret/pump"}),
    "a file beside the spec": (_written("crane/extra.yaml", EXTRA), "id=more", {"crane/more"}),
    "a private file": (_written("stork/private.yaml", "components: {pump: {serial: P7}}\n"), "serial=P7", {"stork/pump"}),
    "designations": (_written("crane/designations.yaml", "pump: -G9\n"), "designation=-G9", {"crane/pump"}),
    "designations removed": (_removed("heron/designations.yaml"), "designation=-G1", set()),
}  # fmt: skip
"""An edit, a question, and the answer after it."""


@pytest.mark.parametrize("name", sorted(EDITS))
def test_an_edit_is_seen(vans: Path, name: str) -> None:
    """Whatever changes in the register, the next question is answered by what is there now."""
    edit, query, expected = EDITS[name]
    before = things(ask(vans, query))
    edit(vans)
    assert things(ask(vans, query)) == expected
    assert expected != before or name == "a part more"


def test_a_change_that_no_time_shows_is_seen(vans: Path) -> None:
    """Size and time of the content kept, the number of the file and the time of its entry tell."""
    ask(vans, "kind=pump")
    path = vans / "crane" / "spec.yaml"
    seen = path.stat()
    _replace("crane/spec.yaml", "A100", "A101")(vans)
    os.utime(path, ns=(seen.st_atime_ns, seen.st_mtime_ns))
    assert things(ask(vans, "serial=A101")) == {"crane/pump"}


def test_only_what_changed_is_read(vans: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A kept index reads nothing; a changed build is read alone; a part brings back those that use it."""
    read: list[str] = []
    build = reading.Reading.build

    def counted(self: reading.Reading, name: str) -> object:
        read.append(name)
        return build(self, name)

    monkeypatch.setattr(reading.Reading, "build", counted)
    steps: list[tuple[Edit, list[str]]] = [
        (lambda _: None, ["crane", "heron", "stork"]),
        (lambda _: None, []),
        (_replace("heron/spec.yaml", "a-0199", "a-0198"), ["heron"]),
        (_replace("parts/water.yaml", "Birch", "Cedar"), ["heron", "stork"]),
        (_replace("parts/water.yaml", "pump-a:", "pump-c: {kind: pump}\npump-a:"), []),
        (_replace("assemblies/spare.yaml", "Spare", "Second"), ["stork"]),
    ]
    for edit, expected in steps:
        read.clear()
        edit(vans)
        ask(vans, "kind=pump")
        assert read == expected


@pytest.mark.parametrize(
    "damage", ["cut", "one byte", "another file", "empty", "writable by all", "a folder"]
)
def test_a_spoiled_index_is_built_anew(vans: Path, damage: str) -> None:
    """Whatever happens to the kept file, the answer is right and the file is whole again."""
    expected = things(ask(vans, "kind=pump"))
    kept = index_file(vans)
    assert kept is not None
    data = kept.read_bytes()
    match damage:
        case "cut":
            kept.write_bytes(data[: len(data) // 2])
        case "one byte":
            kept.write_bytes(data[:-100] + bytes([data[-100] ^ 1]) + data[-99:])
        case "another file":
            kept.write_bytes(b"format: 1\n" * 1000)
        case "empty":
            kept.write_bytes(b"")
        case "writable by all":
            kept.chmod(0o666)
        case _:
            kept.unlink()
            kept.mkdir()
    assert things(ask(vans, "kind=pump")) == expected
    if damage != "a folder":
        assert index_module._taken(kept) is not None


def test_it_does_without_a_cache_folder(vans: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Switched off, nothing is kept and the answer is the same."""
    monkeypatch.setenv("SPECREG_NO_CACHE", "1")
    assert things(ask(vans, "part=pump-a", "serial=")) == {"stork/pump"}
    assert not (vans.parent / "cache").exists()


def test_an_unreadable_build_stops_none_of_the_others(vans: Path) -> None:
    """It is named, and what its other lines say is found all the same."""
    (vans / "heron" / "spec.yaml").write_text("format: 1\nbuild: [\n", encoding="utf-8")
    for _ in range(2):
        found = ask(vans, "part=pump-a")
        assert things(found) == {"crane/pump", "stork/pump"}
        assert found.unread == ("heron",)
        assert str(found.problems[0].place).startswith("vans/heron/spec.yaml:")


def test_the_command_names_what_it_could_not_read(vans: Path) -> None:
    """Hits on standard output, the unreadable build on standard error, code 2."""
    (vans / "heron" / "spec.yaml").write_text("format: 1\nbuild: [\n", encoding="utf-8")
    result = CliRunner().invoke(cli, ("find", "vans", "part=pump-a"), catch_exceptions=False)
    assert result.exit_code == 2
    assert "2 things in 2 of 3 vans." in result.stdout
    assert result.stderr.startswith("vans/heron/spec.yaml:")
    assert "heron: has problems" in result.stderr


def test_a_folder_that_cannot_be_listed_is_no_silent_loss(
    vans: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The others are found, and the folder is named: a recall must not pass over it."""
    assert "heron/pump" in things(ask(vans, "kind=pump"))
    scandir = os.scandir

    def closed(path: str) -> object:
        if str(path).endswith("heron"):
            raise PermissionError(13, "Permission denied", path)
        return scandir(path)

    monkeypatch.setattr(os, "scandir", closed)
    found = ask(vans, "part=pump-a")
    assert things(found) == {"crane/pump", "stork/pump"}
    assert [(one.message, one.read) for one in found.problems] == [("a folder cannot be listed", "heron")]


def test_what_is_found_steers_no_terminal(vans: Path) -> None:
    """A control character in a spec is shown as a mark; CSV and JSON keep what is written."""
    _replace("crane/spec.yaml", 'serial: "A100"', 'serial: "A100", label: "a\\e[31mb"')(vans)
    text = CliRunner().invoke(cli, ("find", "vans", "build=crane", "kind=pump")).stdout
    assert "\x1b" not in text
    assert "a\ufffd[31mb" in text


def test_runs_at_the_same_time_do_not_mix(vans: Path) -> None:
    """Processes that all begin without an index, while a build changes between two states, see one of the two."""
    command = (
        sys.executable,
        "-m",
        "specreg",
        "find",
        "vans",
        "kind=pump",
        "serial=A100..A199",
        "--format",
        "csv",
    )
    settings_ = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    started = []
    for turn in range(6):
        started.append(
            subprocess.Popen(command, cwd=vans.parent, env=settings_, stdout=subprocess.PIPE, text=True)
        )
        first, second = ("A100", "A777") if turn % 2 == 0 else ("A777", "A100")
        whole = (vans / "crane" / "spec.yaml").read_text(encoding="utf-8").replace(first, second)
        (vans / "crane" / "new").write_text(whole, encoding="utf-8")
        (vans / "crane" / "new").replace(vans / "crane" / "spec.yaml")
    answers = [{line.split(",")[0] for line in one.communicate()[0].splitlines()[1:]} for one in started]
    assert all(answer in ({"crane", "heron"}, {"heron"}) for answer in answers)
    assert [one.returncode for one in started] == [0] * 6
    assert things(ask(vans, "serial=A100..A199")) == {"crane/pump", "heron/pump"}


def test_a_date_that_no_range_finds_is_reported(vans: Path) -> None:
    """A van is not left out in silence because its date is written another way."""
    _replace("crane/spec.yaml", "2026-03-04", "4 March 2026")(vans)
    assert "`fitted_on` is no day" in ask(vans, "fitted=2026").problems[0].message


def brute_force(folder: Path, test: Callable[[dict[str, str]], bool]) -> set[str]:
    """Look into every build as the typed model reads it."""
    opened = load(folder)
    assert not opened.problems
    return {
        f"{build.name}/{name}"
        for build in opened.sound
        for name, one in build.components.items()
        if test(
            {
                "build": build.name,
                "stage": build.header.stage.value,
                "kind": one.kind,
                "part": one.part or "",
                "maker": one.maker or "",
                "serial": one.serial or "",
                "fitted": one.fitted_on.isoformat() if one.fitted_on else "",
                "designation": build.designations.get(name, ""),
            }
        )
    }


NAMES = ("crane", "egret", "heron", "stork")
SERIALS = st.integers(0, 40).map(lambda number: f"A{number}")
THINGS = st.dictionaries(
    st.sampled_from(("pump", "old", "spare")),
    st.builds(
        lambda part, serial, day: {
            "part": part,
            **({"serial": serial} if serial else {}),
            **({"fitted_on": f"2026-03-{day:02}"} if day else {}),
        },
        st.sampled_from(("pump-a", "pump-b")),
        st.none() | SERIALS,
        st.none() | st.integers(1, 28),
    ),
    max_size=3,
)
Step = tuple[str, str, dict[str, dict[str, str]], str]
STEP: st.SearchStrategy[Step] = st.one_of(
    st.tuples(st.just("write"), st.sampled_from(NAMES), THINGS, st.sampled_from(("design", "in-service"))),
    st.tuples(st.just("remove"), st.sampled_from(NAMES), st.just({}), st.just("")),
    st.tuples(st.just("maker"), st.sampled_from(("Alder", "Birch", "Cedar")), st.just({}), st.just("")),
)
QUERY = st.fixed_dictionaries(
    {},
    optional={
        "part": st.sampled_from(("pump-a", "pump-b")),
        "maker": st.sampled_from(("Alder", "Birch", "Cedar")),
        "stage": st.sampled_from(("design", "in-service")),
        "build": st.sampled_from(NAMES),
        "serial": st.tuples(st.integers(0, 40), st.integers(0, 40)),
        "fitted": st.tuples(st.integers(1, 28), st.integers(1, 28)),
    },
)


def _take(folder: Path, step: Step) -> None:
    what, name, entries, stage = step
    if what == "write":
        (folder / name).mkdir(parents=True, exist_ok=True)
        text = spec(name, list(entries.items()), stage)
        (folder / name / "spec.yaml").write_text(text, encoding="utf-8")
    elif what == "remove" and (folder / name).exists() and len(load(folder).builds) > 1:
        shutil.rmtree(folder / name)
    elif what == "maker":
        text = PARTS.replace("Birch", name)
        (folder / "parts" / "water.yaml").write_text(text, encoding="utf-8")


@settings(max_examples=30)
@given(steps=st.lists(st.tuples(st.lists(STEP, max_size=3), QUERY), min_size=1, max_size=4))
def test_the_index_answers_as_a_look_into_every_build(
    steps: list[tuple[list[Step], dict[str, object]]],
) -> None:
    """For random edits and random questions between them; serial numbers and days compared as numbers."""
    with tempfile.TemporaryDirectory() as home, pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(Path(home) / "cache"))
        patch.delenv("SPECREG_NO_CACHE", raising=False)
        folder = write(Path(home) / "vans")
        for edits, query in steps:
            for edit in edits:
                _take(folder, edit)
            asked = ["kind=pump"]
            for key, value in query.items():
                if isinstance(value, tuple):
                    form = "A{}..A{}" if key == "serial" else "2026-03-{:02}..2026-03-{:02}"
                    asked.append(f"{key}={form.format(*value)}")
                else:
                    asked.append(f"{key}={value}")

            def meets(words: dict[str, str], query: dict[str, object] = query) -> bool:
                for key, value in query.items():
                    if isinstance(value, tuple):
                        digits = re.sub(r"\D", "", words[key].removeprefix("2026-03-"))
                        if not digits or not value[0] <= int(digits) <= value[1]:
                            return False
                    elif words[key] != value:
                        return False
                return words["kind"] == "pump"

            assert things(ask(folder, *asked)) == brute_force(folder, meets)


def test_a_register_that_is_not_there(vans: Path) -> None:
    """The nearest folder is named."""
    problems: tuple[Problem, ...] = Finder(vans.parent / "vanz").find(()).problems
    assert 'nearest is "vans"' in problems[0].text()
