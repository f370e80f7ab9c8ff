"""The job, the hook and the hook definitions of the README, run in a clone of a small register."""

import json
import os
import re
import shlex
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from shell import ROOT, on_path, run

README = (ROOT / "README.md").read_text(encoding="utf-8")
HOOKS = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
FAN = """\
components:
  roof-fan: {kind: roof-fan, power: 36 W, supply_voltage: 12 V, mass: 3.2 kg, at: [2600 mm, 0 mm, 1900 mm]}
circuits:
  roof-fan: fuse-box/4 10 A blade · 1.5 mm² · 4 m · "Roof fan"
"""
TOO_LARGE = FAN.replace("10 A", "30 A")
"""A fuse that its cable does not bear: an error by the shipped rules."""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="a POSIX shell")


def block(mark: str) -> str:
    """The lines below a mark in the README."""
    found = re.search(rf"<!-- {mark} -->\n```sh\n(.*?)```", README, re.DOTALL)
    assert found
    return found[1]


@pytest.fixture(scope="module")
def origin(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register in git; what its van fails today is accepted."""
    place = tmp_path_factory.mktemp("job")
    made = run(
        "specreg start origin\ncd origin\nspecreg accept . --into accepted.yaml\n"
        "git init -q -b main\ngit add .\ngit commit -qm first",
        place,
        on_path(place / "programs"),
    )
    assert made.returncode == 0, made.stdout
    return place / "origin"


@pytest.fixture
def clone(origin: Path, tmp_path: Path) -> tuple[Path, dict[str, str]]:
    """A clone of that register, of each test's own."""
    environment = on_path(tmp_path / "programs")
    made = run(f"git clone -q {shlex.quote(str(origin))} clone", tmp_path, environment)
    assert made.returncode == 0, made.stdout
    return tmp_path / "clone", environment


def fit(folder: Path, text: str) -> None:
    """Write a file of the van."""
    (folder / "first-van" / "fan.yaml").write_text(text, encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "code", "state"),
    [
        pytest.param(FAN, 0, "unchanged", id="nothing new"),
        pytest.param(TOO_LARGE, 1, "new", id="a new error"),
    ],
)
def test_the_job(clone: tuple[Path, dict[str, str]], text: str, code: int, state: str) -> None:
    """It stops at what is new, and writes report and site either way."""
    folder, environment = clone
    fit(folder, text)
    assert run("git add .\ngit commit -qm changed", folder, environment).returncode == 0
    done = run(block("job"), folder, environment | {"BEFORE": "HEAD~1"})
    assert done.returncode == code, done.stdout
    log = json.loads((folder / "inspection.sarif").read_text(encoding="utf-8"))
    assert state in {one.get("baselineState") for one in log["runs"][0]["results"]}
    failures = ElementTree.parse(folder / "inspection.xml").getroot().get("failures")
    assert (failures != "0") is bool(code)
    assert (folder / ".site" / "index.html").is_file()


def test_the_job_is_quick_where_nothing_changed(clone: tuple[Path, dict[str, str]]) -> None:
    """No van is judged by its first line, and it ends with 0."""
    folder, environment = clone
    done = run(
        block("job").splitlines()[1].replace("|| status=$?", ""), folder, environment | {"BEFORE": "HEAD"}
    )
    assert done.returncode == 0
    assert done.stdout == "nothing that these builds say has changed since HEAD\n"


@pytest.mark.parametrize(("text", "made"), [(FAN, True), (TOO_LARGE, False)])
def test_the_hook_of_git(clone: tuple[Path, dict[str, str]], text: str, made: bool) -> None:
    """A commit that breaks a rule at level error is not made."""
    folder, environment = clone
    hook = folder / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text(block("hook"), encoding="utf-8")
    hook.chmod(0o755)
    fit(folder, text)
    done = run("git add .\ngit commit -qm changed", folder, environment)
    assert (done.returncode == 0) is made, done.stdout
    assert made or "fails (error)" in done.stdout


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_the_hook_definitions(clone: tuple[Path, dict[str, str]], hook: dict[str, object]) -> None:
    """What a hook manager runs stops at a new error, and not before."""
    folder, environment = clone
    assert {"id", "name", "entry", "language"} <= hook.keys()
    assert hook["language"] == "python" and hook["pass_filenames"] is False
    files = re.compile(str(hook["files"]))
    assert files.search("heron/spec.yaml") and files.search("rules/dc/own.md") and not files.search("a.png")
    arguments = hook["args"]
    assert isinstance(arguments, list)
    line = f"{hook['entry']} {shlex.join(map(str, arguments))}"
    assert run(line, folder, environment).returncode == 0
    fit(folder, TOO_LARGE)
    assert run(line, folder, environment).returncode == 1


def test_completion_in_bash(clone: tuple[Path, dict[str, str]]) -> None:
    """The line of the README gives bash a function for it."""
    folder, environment = clone
    done = run(block("completion") + "complete -p specreg", folder, environment)
    assert "specreg" in done.stdout.splitlines()[-1]
    asked = environment | {
        "_SPECREG_COMPLETE": "bash_complete",
        "COMP_WORDS": "specreg inspect fir",
        "COMP_CWORD": "2",
    }
    assert run("specreg", folder, asked).stdout.strip() == "plain,first-van"
