"""The command line as a process: streams, broken pipes, hostile input, quick starts."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from small_register import HERON, changed, write_build

from specreg.cli.commands import cli

COMMAND = (sys.executable, "-m", "specreg")
ROOT = Path(__file__).parents[2]


def run(folder: Path, *words: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run specreg as a user would, in a folder."""
    return subprocess.run(
        [*COMMAND, *words],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )


def python(folder: Path, code: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run a piece of Python in a process of its own."""
    settings = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    return subprocess.run(
        [sys.executable, "-c", code], cwd=folder, capture_output=True, text=True, check=False, env=settings
    )


MISTAKES = (
    ("title: Two-berth van", "titel: Two-berth van", 3),
    ("stage: design", "stage: desing", 4),
    ("jurisdictions: [uk]", "jurisdictions: [mars]", 5),
    ("as_of: 2026-05-01", "as_of: 1 May 2026", 6),
    ("kind: battery", "kind: batery", 9),
    ("capacity: 100 Ah", "capacity: 100", 10),
    ("nominal_voltage: 12.8 V", "nominal_voltage: 12.8 A", 11),
    ("short_circuit_current: 1.5 kA", "shortcircuit_current: 1.5 kA", 12),
    ("fuse: 10 A", "fuse: 10 C", 16),
    ("family: blade", "family: bladee", 16),
    ("power: 60 W", "power: sixty", 19),
    ("supply_voltage: 12 V", "supply_voltage: [12 V]", 20),
    ("return: battery-return,", "return: battery-retrun,", 23),
    ("from: house-battery/positive", "from: house-batery/positive", 23),
    (
        "conductor: 25 mm², length: 1 m}\n  battery-return",
        "conductor: 24 mm², length: 1 m}\n  battery-return",
        23,
    ),
    ("from: house-battery/negative", "from: house-battery/minus", 24),
    ("to: fuse-box/feed, conductor: 25 mm²", "to: fuse-box/fed, conductor: 25 mm²", 24),
    ("medium: dc, from: fuse-box/pump", "medium: dcc, from: fuse-box/pump", 25),
    ("length: 3 m", "length: 3 m, colr: red", 25),
    ("serial: canary-serial", "serial: 17", 13),
)
"""A mistake each, with the line on which it must be reported."""


@pytest.mark.parametrize(("right", "wrong", "line"), MISTAKES, ids=[wrong for _, wrong, _ in MISTAKES])
def test_a_mistake_is_reported_on_its_line(tmp_path: Path, right: str, wrong: str, line: int) -> None:
    """One slip in a sound spec: exit code 2, a GNU line with the right line number, no traceback."""
    from specreg.workshop import load

    write_build(tmp_path / "vans", text=changed((right, wrong)))
    problems = load(tmp_path / "vans").problems
    assert line in {problem.place.line for problem in problems if problem.place}
    assert all(problem.place and problem.place.file.endswith("spec.yaml") for problem in problems)


def test_twenty_mistakes_are_twenty_problems(place: Path) -> None:
    """Every line with a slip is named in one go, each on a GNU line of its own."""
    independent = [pair for pair in MISTAKES if pair[2] in (3, 4, 5, 6, 10, 11, 12, 13, 16, 19, 20)]
    spec = changed(*((right, wrong) for right, wrong, _ in independent))
    lost = "  lost-{n}: {{medium: dc, from: fuse-box/pump, to: nowhere-{n}, return: chassis}}\n"
    write_build(place / "vans", text=spec + "".join(lost.format(n=n) for n in range(9)))
    result = CliRunner().invoke(cli, ("inspect", "vans"), catch_exceptions=False)
    lines = result.stderr.splitlines()
    expected = {pair[2] for pair in independent} | {26 + n for n in range(9)}
    assert len(expected) == 20
    assert expected <= {int(line.split(":")[1]) for line in lines}
    assert all(line.startswith("vans/heron/spec.yaml:") and ": problem: " in line for line in lines)
    assert result.exit_code == 2
    assert "heron: not judged" in result.stdout


def test_a_bad_spec_causes_no_traceback(tmp_path: Path) -> None:
    """As a process of its own, with the shipped rules."""
    write_build(tmp_path / "vans", text=changed(("power: 60 W", "power: sixty")))
    result = run(tmp_path, "inspect", "vans")
    assert result.returncode == 2
    assert "vans/heron/spec.yaml:19:12: problem: `power`" in result.stderr
    assert "Traceback" not in result.stderr


HOSTILE = {
    "nothing": b"",
    "no text": b"\xff\xfe\x00\x01",
    "a list": b"- 1\n- 2\n",
    "a word": b"heron\n",
    "nul": b"format: 1\x00\n",
    "an alias": b"a: &x [1]\nb: *x\n",
    "deep": b"a: " + b"[" * 5000,
    "a tag": b"build: !!python/object:os.system {}\n",
    "two documents": b"format: 1\n---\nformat: 1\n",
    "components as a list": HERON.replace("components:\n", "components: []\nparts:\n").encode(),
    "runs as a word": b"format: 1\nbuild: heron\ntitle: x\nstage: design\njurisdictions: [uk]\nruns: none\n",
    "a header of nothing": b"format:\nbuild:\ntitle:\nstage:\njurisdictions:\n",
    "an infinite number": HERON.replace("100 Ah", "1e999 Ah").encode(),
    "a component of nothing": HERON.replace("runs:\n", "  ghost:\nruns:\n").encode(),
    "an include of nothing": HERON.encode() + b"include:\n",
    "a circuit of nothing": HERON.encode() + b"circuits: {pump: }\n",
}


@pytest.mark.parametrize("name", sorted(HOSTILE))
@pytest.mark.parametrize("command", ["inspect", "figures", "schedule"])
def test_no_input_causes_a_fault(place: Path, name: str, command: str) -> None:
    """Whatever the file holds, it is answered by problems with places and by code 2."""
    (place / "vans" / "heron" / "spec.yaml").write_bytes(HOSTILE[name])
    result = CliRunner().invoke(cli, (command, "vans"), catch_exceptions=False)
    assert result.exit_code == 2, result.output
    assert all("heron/spec.yaml:" in line for line in result.stderr.splitlines())
    assert result.stderr


def test_a_fault_of_our_own_is_named_as_one(tmp_path: Path) -> None:
    """Should a computation break, a sentence says so instead of a wall of text."""
    write_build(tmp_path / "vans")
    code = (
        "import specreg.workshop as w, specreg.cli as c, sys\n"
        "def broken(*_): raise ZeroDivisionError('by zero')\n"
        "w.read_one = broken\nsys.argv = ['specreg', 'inspect', 'vans']\nc.main()"
    )
    result = python(tmp_path, code)
    assert result.returncode == 2
    assert "fault of its own" in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.skipif(os.name != "posix", reason="pipes of POSIX")
def test_a_reader_who_leaves_is_no_fault(tmp_path: Path) -> None:
    """`specreg … | head -1` ends quietly."""
    write_build(tmp_path / "vans")
    line = f"{' '.join(COMMAND)} schema | head -1"
    result = subprocess.run(
        ["sh", "-c", line], cwd=tmp_path, capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert result.stdout == "{\n"
    assert result.stderr == ""


def test_no_colour_and_no_wrapping_into_a_pipe(tmp_path: Path) -> None:
    """A script gets each finding whole on one line, without escapes, whatever its locale."""
    write_build(tmp_path / "vans")
    plain = run(tmp_path, "schedule", "vans")
    other = run(tmp_path, "schedule", "vans", LC_ALL="C", PYTHONIOENCODING="ascii", TERM="xterm-256color")
    assert plain.stdout == other.stdout
    assert "\x1b" not in plain.stdout
    assert "mm²" in plain.stdout


def test_without_docstrings_it_says_so(tmp_path: Path) -> None:
    """Titles of figures and help are docstrings; Python can be told to drop them."""
    result = run(tmp_path, "schema", PYTHONOPTIMIZE="2")
    assert result.returncode == 2
    assert result.stderr.startswith("specreg: Python drops the texts")
    assert result.stdout == ""


CLICK = {"click"}
YAML = CLICK | {"yaml"}
PYDANTIC = YAML | {"pydantic"}
PAGES = PYDANTIC | {"jinja2"}
LIBRARIES = {
    "click", "et_xmlfile", "jinja2", "lsprotocol", "markdown_it", "networkx", "openpyxl", "PIL", "pydantic", "pygls",
    "segno", "watchfiles", "yaml",
}  # fmt: skip
"""By the names under which they are imported; what each brings along comes with it."""

SOURCE = {"cli", "source"}
MODEL = SOURCE | {"model", "units"}
FACTS = MODEL | {
    "accepted",
    "facts",
    "graph",
    "keeping",
    "output",
    "report",
    "rules",
    "shipped",
    "space",
    "tables",
    "workshop",
}
WRITING = {"writing"}
KEPT = {"keeping", "kept_checks", "shipped"}
TRADE = FACTS | {"trade"}
WORKS = FACTS | {"works"}
REGISTER = FACTS | {"register"}
SITE = TRADE | WORKS | REGISTER | WRITING | {"pages", "care", "faults"}

LINES: dict[str, tuple[set[str], set[str]]] = {
    "--help": (CLICK, {"cli"}),
    "publish --help": (CLICK, {"cli"}),
    "start new": (YAML, SOURCE | WRITING | {"starting"}),
    "start vans/new --title x --in uk": (PYDANTIC, MODEL | WRITING | {"starting", "first_spec"}),
    "schema": (
        PYDANTIC,
        (FACTS | WRITING | {"starting", "first_spec"})
        - {"graph", "keeping", "shipped", "space", "tables", "workshop"},
    ),
    "find vans kind=pump": (YAML, SOURCE | WRITING | {"keeping", "output", "register"}),
    "inspect vans/heron --stop-at note": (YAML, SOURCE | KEPT | {"output"}),
    "rules": (PYDANTIC, FACTS),
    "trace vans/heron water-pump": (PYDANTIC, FACTS),
    "figures vans/heron": (PYDANTIC, FACTS),
    "schedule vans/heron": (PYDANTIC, FACTS),
    "inspect vans": (PYDANTIC, FACTS | WRITING | KEPT),
    "inspect vans --format sarif": (PYDANTIC, FACTS | KEPT),
    "inspect vans --format junit": (PYDANTIC, FACTS | KEPT),
    "inspect vans --format markdown": (PYDANTIC, FACTS | KEPT),
    "schedule vans/heron --circuits": (PYDANTIC, FACTS),
    "hand-over vans/heron --on 2026-05-20 --show": (PYDANTIC, FACTS | WRITING),
    "accept vans --into accepted.yaml": (PYDANTIC, FACTS | WRITING),
    "inspect vans --accepted accepted.yaml": (PYDANTIC, FACTS | WRITING | KEPT),
    "schedule vans/heron --for electrician": (PYDANTIC, TRADE | WRITING),
    "schedule vans/heron --at panels-close": (PYDANTIC, TRADE | WRITING),
    "order vans": (PYDANTIC, WORKS),
    "plan vans": (PYDANTIC, WORKS),
    "order vans --all --format xlsx --output order.xlsx": (
        PYDANTIC | {"openpyxl", "et_xmlfile", "PIL"},
        WORKS | WRITING,
    ),
    "compare vans/heron --with components.water-pump.power=50W": (PYDANTIC, REGISTER | WRITING),
    "inspect vans --changed-since HEAD": (PYDANTIC, REGISTER | WRITING | KEPT),
    "labels vans/heron --into labels.html": (PAGES, SITE),
    "publish vans --reader owner --into site": (PAGES, SITE),
    "labels vans/heron --into labels.html --at https://vans.example/": (PAGES | {"segno"}, SITE),
}
"""Libraries and packages of our own that a line may read in, no more than it needs."""

AFTER: dict[str, dict[str, Any]] = {
    "--help": {"publish --help": {"start new": {"start vans/new --title x --in uk": {"schema": {}}}}},
    "find vans kind=pump": {},
    "inspect vans/heron --stop-at note": {},
    "rules": {
        "trace vans/heron water-pump": {"figures vans/heron": {"schedule vans/heron": {
            "inspect vans --format sarif": {"inspect vans --format junit": {"inspect vans --format markdown": {}}},
            "inspect vans": {},
            "schedule vans/heron --circuits": {"hand-over vans/heron --on 2026-05-20 --show": {
                "accept vans --into accepted.yaml": {
                    "inspect vans --accepted accepted.yaml": {},
                    "schedule vans/heron --for electrician": {"schedule vans/heron --at panels-close": {}},
                },
                "compare vans/heron --with components.water-pump.power=50W": {"inspect vans --changed-since HEAD": {}},
            }},
            "order vans": {"plan vans": {"order vans --all --format xlsx --output order.xlsx": {}}},
            "labels vans/heron --into labels.html": {
                "publish vans --reader owner --into site": {},
                "labels vans/heron --into labels.html --at https://vans.example/": {},
            },
        }}},
    },
}  # fmt: skip
"""Which line runs after which in one process: after such as need less."""


@pytest.fixture(scope="module")
def read_in(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[int, set[str]]]:
    """How each line ended, and the modules that were there then."""
    place = tmp_path_factory.mktemp("imports")
    write_build(place / "vans")
    (place / "vans" / "register.yaml").write_text("workshop: W\n", encoding="utf-8")
    for words in (
        ["init", "-q"],
        ["add", "."],
        ["-c", "user.name=a", "-c", "user.email=a@example.invalid", "commit", "-qm", "a"],
    ):
        subprocess.run(["git", *words], cwd=place / "vans", check=True)
    kept = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "XDG_CACHE_HOME": str(place / "cache"),
        "PYTHONDONTWRITEBYTECODE": "",
    }
    trees: tuple[dict[str, Any], ...] = (
        {"rules": {}, "find vans a": {}, "inspect vans/heron --stop-at note": {}},
        AFTER,
    )  # the first only fills the folder of what is kept
    for tree in trees:
        (place / "tree.json").write_text(json.dumps(tree), encoding="utf-8")
        (place / "report").write_text("", encoding="utf-8")
        words = [sys.executable, str(Path(__file__).with_name("imports.py")), "tree.json", "report"]
        subprocess.run(words, cwd=place, env=kept, check=True, stdin=subprocess.DEVNULL)
    told = [json.loads(line) for line in (place / "report").read_text(encoding="utf-8").splitlines()]
    return {one["line"]: (one["code"], set(one["modules"])) for one in told}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="copies of a process")
@pytest.mark.parametrize("line", sorted(LINES))
def test_a_command_reads_in_no_more_than_it_needs(
    line: str, read_in: dict[str, tuple[int, set[str]]]
) -> None:
    """Help needs no model; no answer a graph library; no template, once rules are kept, but for pages."""
    libraries, ours = LINES[line]
    code, modules = read_in[line]
    assert code in (0, 1)
    assert {name.partition(".")[0] for name in modules} & LIBRARIES <= libraries
    assert {name.split(".")[1] for name in modules if name.startswith("specreg.")} <= ours


def test_every_library_and_command_is_looked_at() -> None:
    """A new one must be put into the tables; `editor`, `preview` and `record` have tests of their own."""
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    named = [
        *project["dependencies"],
        *(one for name in ("editor", "photos", "preview", "spreadsheet") for one in extras[name]),
    ]
    imported = {"markdown-it-py": "markdown_it", "pillow": "PIL", "pyyaml": "yaml"}
    names = {one.partition(">")[0] for one in named}
    assert {imported.get(name, name) for name in names} <= LIBRARIES
    commands = {line.split()[0] for line in LINES} - {"--help"}
    assert commands | {"editor", "preview", "record"} == set(cli.commands)
