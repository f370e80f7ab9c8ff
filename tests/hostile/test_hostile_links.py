"""Links of the file system, pipes and devices in a register from anybody: nothing outside is read, nothing waits for ever."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from specreg.cli.commands import cli
from specreg.pages.procedures import LONGEST
from specreg.rules.pack import LONGEST_DOCUMENT, MOST_DOCUMENTS, load_pack
from specreg.source.inside import LEADS_OUT, MOST_BYTES
from specreg.workshop import load, rules_for

pytestmark = pytest.mark.skipif(os.name != "posix", reason="links and pipes of POSIX")

ROOT = Path(__file__).parents[2]
SPEC = "format: 1\nbuild: van\ntitle: T\nstage: design\njurisdictions: [uk]\ncomponents:\n  bar: {kind: bus-bar, studs: 4}\n"
RULE = """---
title: canary
system: dc
level: warning
judges: bus-bar
passes: 1 > 2
finding: canary
sources: [{how: memory}]
---
"""
CANARY = {
    "yaml": "canary-key: canary-value\ncanary-more: 7\n",
    "md": RULE,
}


@pytest.fixture
def vans(tmp_path: Path) -> Path:
    """A register of one van."""
    folder = tmp_path / "vans"
    (folder / "van").mkdir(parents=True)
    (folder / "van" / "spec.yaml").write_text(SPEC)
    return folder


def committed(vans: Path) -> None:
    """The register in git, as it is."""
    git = ("git", "-c", "user.name=n", "-c", "user.email=e@x.invalid", "-C", str(vans))
    for words in (("init", "-q"), ("add", "van/spec.yaml"), ("commit", "-q", "-m", "x")):
        subprocess.run([*git, *words], check=True)


COMMANDS = {
    "inspect": ("inspect", "{vans}"),
    "inspect --changed-since": ("inspect", "{vans}", "--changed-since", "HEAD"),
    "figures": ("figures", "{vans}"),
    "find": ("find", "{vans}", "canary"),
    "compare": ("compare", "{vans}/van"),
    "rules": ("rules", "--register", "{vans}"),
    "plan": ("plan", "{vans}"),
    "publish": ("publish", "{vans}/van", "--reader", "workshop", "--into", "{vans}/../site"),
}

READS = {
    "van/procedures": ("publish",),
    "rules": ("inspect", "inspect --changed-since", "rules"),
    "rules/dc": ("inspect", "inspect --changed-since", "rules"),
    "recalls": ("inspect",),
    "assemblies": ("inspect", "find", "compare", "plan"),
    "parts": ("inspect", "find", "compare", "figures"),
}
"""Each folder with commands that read it."""


def asked(vans: Path, name: str) -> tuple[int, str]:
    """Exit code and all that a command said and wrote."""
    words = [word.format(vans=vans) for word in COMMANDS[name]]
    done = CliRunner().invoke(cli, words)
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    site = (path for path in (vans.parent / "site").rglob("*") if path.is_file())
    return done.exit_code, done.output + "".join(path.read_text("utf-8", "replace") for path in site)


@pytest.mark.parametrize(
    ("folder", "name"), sorted((folder, name) for folder, names in READS.items() for name in names)
)
def test_a_folder_that_is_a_link_out_is_not_read(folder: str, name: str, vans: Path) -> None:
    """A whole folder of the user's, linked into the register: none of its files counts for one of the register."""
    committed(vans)
    outside = vans.parent / "secret"
    below = outside / "dc" if folder == "rules" else outside
    below.mkdir(parents=True)
    for ending, text in CANARY.items():
        (below / f"canary-file.{ending}").write_text(text)
    place = vans / folder
    place.parent.mkdir(exist_ok=True)
    place.symlink_to(outside, target_is_directory=True)
    code, said = asked(vans, name)
    assert "canary-value" not in said and "canary-key" not in said and "dc/canary-file: " not in said
    assert code == 2 and LEADS_OUT in said


def test_a_van_that_is_a_link_out_is_not_read(vans: Path) -> None:
    """A folder of a spec elsewhere, linked into the register."""
    elsewhere = vans.parent / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "spec.yaml").write_text(SPEC.replace("van", "other").replace("T", "canary-value"))
    (vans / "other").symlink_to(elsewhere, target_is_directory=True)
    for name in ("inspect", "find"):
        code, said = asked(vans, name)
        assert "canary-value" not in said
        assert code == 2 and LEADS_OUT in said


@pytest.mark.parametrize("name", ["compare", "inspect --changed-since"])
def test_a_comparison_with_git_reads_no_link_out(name: str, vans: Path) -> None:
    """The working tree is copied to be compared: a link is no file there, either."""
    committed(vans)
    secret = vans.parent / "secret.yaml"
    secret.write_text(CANARY["yaml"])
    (vans / "van" / "more.yaml").symlink_to(secret)
    code, said = asked(vans, name)
    assert "canary" not in said.replace(str(vans), "")
    assert code == 2 and LEADS_OUT in said


def test_a_rule_that_is_a_link_out_is_told(vans: Path) -> None:
    """It was passed over in silence: somebody who links rules in would believe that they count."""
    (vans.parent / "own.md").write_text(RULE)
    (vans / "rules" / "dc").mkdir(parents=True)
    (vans / "rules" / "dc" / "own.md").symlink_to(vans.parent / "own.md")
    pack, problems = rules_for(load(vans))
    assert [
        (problem.message, str(problem.place).endswith("rules/dc/own.md:1:1")) for problem in problems
    ] == [(LEADS_OUT, True)]
    assert "dc/own" not in pack.by_identity()


def test_a_link_within_the_register_is_followed(vans: Path) -> None:
    """A file that two vans share by a link is no harm."""
    (vans / "shared.yaml").write_text("components:\n  lamp: {kind: ceiling-light}\n")
    (vans / "van" / "more.yaml").symlink_to(vans / "shared.yaml")
    opened = load(vans)
    assert opened.problems == ()
    assert "lamp" in opened.sound[0].components


PLACES = (
    "register.yaml", "parts/p.yaml", "assemblies/a.yaml", "recalls/r.yaml", "rules/dc/own.md", "van/more.yaml",
    "van/private.yaml", "van/designations.yaml", "van/fitted.yaml", "van/procedures/how.md",
)  # fmt: skip

READERS = """
import sys
from click.testing import CliRunner
from specreg.cli.commands import cli
from pathlib import Path
from specreg.editor.notices import notices
from specreg.editor.reading import read
for notice in notices(read(Path("vans").absolute(), {})):
    print("notice", "no file" in notice.message)
for words in (("inspect", "vans"), ("find", "vans", "x"), ("publish", "vans/van", "--reader", "owner", "--into", "site"),
              ("find", "vans", "--recall", "r"), ("compare", "vans/van")):
    done = CliRunner().invoke(cli, words)
    print(words[0], done.exit_code, "no file" in done.output, repr(done.exception))
"""


def test_a_pipe_in_the_place_of_a_file_is_not_waited_for(vans: Path) -> None:
    """Reading a pipe that nobody writes to waits for ever; every file of a register may be one."""
    for name in PLACES:
        (vans / name).parent.mkdir(parents=True, exist_ok=True)
        os.mkfifo(vans / name)
    done = subprocess.run(
        [sys.executable, "-P", "-c", READERS], cwd=vans.parent, capture_output=True, text=True, timeout=120, check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    lines = [line for line in done.stdout.splitlines() if not line.startswith("notice")]
    assert done.stdout.count("notice True") == 3 and len(lines) == 5, done.stdout + done.stderr
    assert all("Error" not in line or "SystemExit" in line for line in lines), lines
    assert lines[0].startswith("inspect 2 True") and lines[2].startswith("publish 2 True")


@pytest.mark.parametrize("name", PLACES)
def test_a_link_to_a_device_or_to_itself_is_answered(name: str, vans: Path) -> None:
    """A device without end, and links in a ring, in the place of each file."""
    for target in ("/dev/zero", "ring.yaml"):
        place = vans / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.unlink(missing_ok=True)
        place.symlink_to(place.parent / place.name if target == "ring.yaml" else target)
        code, said = asked(vans, "publish" if name.startswith("van/procedures") else "inspect")
        assert code == 2 and f"{name}:1:1: problem: " in said


def sparse(path: Path, size: int) -> None:
    """A file of that size that takes no room."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as file:
        file.truncate(size)


@pytest.mark.parametrize("name", [name for name in PLACES if name != "rules/dc/own.md"])
def test_a_file_without_end_is_not_read(name: str, vans: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hundred gigabytes on the paper: its size is looked at before it is read."""
    sparse(vans / name, 100_000_000_000)
    before = Path.read_bytes

    def read(path: Path) -> bytes:
        assert path.stat().st_size <= MOST_BYTES, path
        return before(path)

    monkeypatch.setattr(Path, "read_bytes", read)
    most = LONGEST if name.endswith(".md") else MOST_BYTES
    code, said = asked(vans, "publish" if name.startswith("van/procedures") else "inspect")
    assert code == 2 and f"100000000000 bytes, {most} are read at most" in said


def test_the_documents_of_own_rules_are_bounded(vans: Path) -> None:
    """In size and in number: each is put to everything in every van."""
    folder = vans / "rules" / "dc"
    sparse(folder / "large.md", LONGEST_DOCUMENT + 1)
    (folder / "not-utf8.md").write_bytes(RULE.encode() + b"\n\xff")
    _, problems = load_pack(vans / "rules", "vans/rules")
    assert [(str(one.place), one.message) for one in problems] == [
        ("vans/rules/dc/large.md:1:1", f"the file is too large: {LONGEST_DOCUMENT + 1} bytes, {LONGEST_DOCUMENT} are read at most"),
        (f"vans/rules/dc/not-utf8.md:{RULE.count(chr(10)) + 2}:1", "a rule document is not UTF-8"),
    ]  # fmt: skip
    for number in range(MOST_DOCUMENTS):
        (folder / f"r-{number}.md").write_text("")
    _, problems = load_pack(vans / "rules", "vans/rules")
    assert problems[0].message == "too many rules of its own"
    assert len(problems) <= MOST_DOCUMENTS + 1
