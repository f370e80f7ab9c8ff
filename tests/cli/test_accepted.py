"""Only what is new stops a check: the accepted record, the level, the builds that changed."""

import json
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result
from small_register import HERON, changed, write_build, write_rules

from specreg.cli.commands import cli


def run(*words: str) -> Result:
    """Run one command line, errors of ours not caught."""
    return CliRunner().invoke(cli, words, catch_exceptions=False)


FAILING = changed(("capacity: 100 Ah", "capacity: 80 Ah"))
WEAKER = changed(("capacity: 100 Ah", "capacity: 60 Ah"))
COLD = changed(("capacity: 100 Ah", "capacity: 80 Ah\n    heated: false"))
MOVED = FAILING.replace("components:\n", "\n\n\ncomponents:\n")
CONCEDED = FAILING + (
    "concessions:\n"
    "  - {rule: dc/battery-large-enough, target: house-battery, reason: trips, granted_by: workshop lead}\n"
)


@pytest.fixture
def record(place: Path) -> Path:
    """A record of the small battery of the heron."""
    write_build(place / "vans", text=FAILING)
    assert run("accept", "vans", "--into", "vans/accepted.yaml").stdout == "1 known: 1 added, 0 taken out\n"
    return place / "vans" / "accepted.yaml"


@pytest.mark.parametrize(
    ("spec", "options", "code", "expected"),
    [
        pytest.param(FAILING, (), 0, "fails (error), known: house battery holds 80 Ah", id="known"),
        pytest.param(FAILING, (), 0, "0 failures new, 1 known, 0 no longer found", id="told in numbers"),
        pytest.param(MOVED, (), 0, "spec.yaml:11:3: fails (error), known", id="lines moved"),
        pytest.param(WEAKER, (), 0, "fails (error), known but said otherwise: house battery holds 60 Ah", id="another figure"),
        pytest.param(COLD, (), 0, "1 failure new, 1 known", id="a new warning does not stop at error"),
        pytest.param(COLD, ("--stop-at", "warning"), 1, "1 new failure at level warning or above stops this check", id="but at warning"),
        pytest.param(HERON, (), 0, "no longer found: house battery holds 80 Ah, less than 90 Ah [UK]", id="mended"),
        pytest.param(HERON, (), 0, "`specreg accept --shrink --into vans/accepted.yaml` takes out", id="and how to take it out"),
        pytest.param(CONCEDED, (), 0, "1 no longer found", id="a concession takes its place"),
        pytest.param(FAILING, ("--all",), 0, "Remedy: Fit a larger battery.", id="in full on demand"),
    ],
)  # fmt: skip
def test_against_the_record(
    record: Path, spec: str, options: tuple[str, ...], code: int, expected: str
) -> None:
    """What the record knows is shown and does not count."""
    write_build(record.parent, text=spec)
    result = run("inspect", "vans", "--accepted", "vans/accepted.yaml", *options)
    assert expected in result.stdout
    assert result.exit_code == code


def test_the_record_reads_plainly(record: Path) -> None:
    """One line for each finding, and what it is about in words."""
    assert record.read_text(encoding="utf-8").splitlines()[-1] == (
        '  - {build: "heron", rule: "dc/battery-large-enough", subject: "house-battery", jurisdiction: "uk", '
        'level: "error", says: "house battery holds 80 Ah, less than 90 Ah"}'
    )


def test_what_weighs_more_today_is_new(record: Path) -> None:
    """A rule that became an error is not excused by a warning of last year."""
    record.write_text(record.read_text(encoding="utf-8").replace('"error"', '"warning"'), encoding="utf-8")
    assert run("inspect", "vans", "--accepted", str(record)).exit_code == 1


def test_what_only_lacked_a_figure_is_new_once_it_fails(place: Path) -> None:
    """An accepted gap does not excuse the failure that stood behind it."""
    write_build(place / "vans", text=changed(("stage: design", "stage: hand-over")))
    run("accept", "vans", "--into", "accepted.yaml")
    assert 'reason: "missing"' in (place / "accepted.yaml").read_text(encoding="utf-8")
    words = ("inspect", "vans", "--accepted", "accepted.yaml", "--stop-at", "warning")
    assert run(*words).exit_code == 0
    cold = changed(
        ("stage: design", "stage: hand-over"), ("capacity: 100 Ah", "capacity: 100 Ah\n    heated: false")
    )
    write_build(place / "vans", text=cold)
    assert run(*words).exit_code == 1


def test_a_renamed_component_and_rule_stay_known(record: Path, place: Path) -> None:
    """`renamed:` in the spec and `formerly:` in the rule lead to the entry."""
    text = FAILING.replace("house-battery", "cell-bank") + "renamed: {house-battery: cell-bank}\n"
    write_build(record.parent, text=text)
    assert run("inspect", "vans", "--accepted", str(record)).exit_code == 0
    document = (place / "pack/dc/battery-large-enough.md").read_text(encoding="utf-8")
    (place / "pack/dc/battery-large-enough.md").unlink()
    renamed = document.replace("judges:", "formerly: [dc/battery-large-enough]\njudges:")
    write_rules(place / "pack", {"dc/battery-big-enough": renamed})
    assert run("inspect", "vans", "--accepted", str(record)).exit_code == 0


def test_shrinking_takes_out_and_adds_nothing(record: Path) -> None:
    """What is mended leaves the record, what is new stays new, and builds that went are taken out."""
    write_build(record.parent, "crane", COLD)
    write_build(record.parent, text=HERON)
    assert (
        run("accept", "vans", "--into", str(record), "--shrink").stdout == "0 known: 0 added, 1 taken out\n"
    )
    assert run("inspect", "vans", "--accepted", str(record)).exit_code == 1
    assert run("accept", "vans", "--into", str(record)).stdout == "2 known: 2 added, 0 taken out\n"
    (record.parent / "crane" / "spec.yaml").unlink()
    result = run("inspect", "vans", "--accepted", str(record))
    assert "speaks of crane, which is not in the register" in result.stderr
    assert (
        run("accept", "vans", "--into", str(record), "--shrink").stdout == "0 known: 0 added, 2 taken out\n"
    )


def test_other_builds_stay_in_the_record(record: Path) -> None:
    """Asking for one build leaves what is known of the others."""
    write_build(record.parent, "crane", COLD)
    assert run("accept", "vans/crane", "--into", str(record)).stdout == "3 known: 2 added, 0 taken out\n"
    assert run("inspect", "vans", "--accepted", str(record)).exit_code == 0


def test_json_says_how_each_failure_stands(record: Path) -> None:
    """`standing` on failures, what is gone beside them."""
    write_build(record.parent, text=COLD)
    data = json.loads(run("inspect", "vans", "--accepted", str(record), "--format", "json").stdout)
    standing = {one["rule"]: one.get("standing") for one in data["builds"][0]["results"]}
    assert standing["dc/battery-large-enough"] == "unchanged"
    assert standing["dc/battery-warm-enough"] == "new"
    assert standing["water/pump-looked-at"] is None
    write_build(record.parent, text=HERON)
    data = json.loads(run("inspect", "vans", "--accepted", str(record), "--format", "json").stdout)
    assert [one["subject"] for one in data["builds"][0]["no_longer_found"]] == ["house-battery"]


def test_sarif_states_and_marks(record: Path) -> None:
    """`baselineState` is SARIF's own word; an absent finding keeps the mark that it had."""

    def results(spec: str) -> dict[str, dict[str, str]]:
        write_build(record.parent, text=spec)
        log = json.loads(run("inspect", "vans", "--accepted", str(record), "--format", "sarif").stdout)
        return {one["ruleId"]: one for one in log["runs"][0]["results"]}

    there, gone = results(COLD), results(HERON)
    assert there["dc/battery-large-enough"]["baselineState"] == "unchanged"
    assert there["dc/battery-warm-enough"]["baselineState"] == "new"
    assert gone["dc/battery-large-enough"]["baselineState"] == "absent"
    marks = [one["dc/battery-large-enough"]["partialFingerprints"] for one in (there, gone)]
    assert marks[0] == marks[1]
    assert (
        "baselineState"
        not in json.loads(run("inspect", "vans", "--format", "sarif").stdout)["runs"][0]["results"][0]
    )


def test_junit_fails_only_at_what_is_new(record: Path) -> None:
    """Known is skipped and says so; what is gone stands in the output."""
    write_build(record.parent, text=COLD)
    words = ("inspect", "vans", "--accepted", str(record), "--format", "junit")
    root = ElementTree.fromstring(run(*words, "--stop-at", "warning").stdout)
    assert (root.get("failures"), [one.get("type") for one in root.iter("failure")]) == ("1", ["warning"])
    assert any("in the accepted record" in str(one.get("message")) for one in root.iter("skipped"))
    write_build(record.parent, text=HERON)
    assert "no longer found: dc/battery-large-enough" in run(*words).stdout


def test_markdown_names_what_is_known(record: Path) -> None:
    """Beside the answer, and what is gone in a list."""
    words = ("inspect", "vans", "--accepted", str(record), "--format", "markdown")
    assert "| fails (error), known | house battery holds 80 Ah" in run(*words).stdout
    write_build(record.parent, text=HERON)
    assert "- no longer found: house battery holds 80 Ah" in run(*words).stdout


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("- 1\n", "accepted.yaml:1:1: problem: a record of accepted findings begins with `format: 1`"),
        ("", "accepted.yaml:1:1: problem: the file is empty"),
        ("format: 2\n", "accepted.yaml:1:9: problem: `format`"),
        ("format: 1\nfindings:\n  - {build: heron}\n", "accepted.yaml:3:5: problem: `rule` is missing"),
        ("format: 1\nfindngs: []\n", 'nearest is "findings"'),
    ],
)
def test_a_broken_record_is_told_with_its_line(record: Path, text: str, expected: str) -> None:
    """Neither check nor new record is made on a guess."""
    record.write_text(text, encoding="utf-8")
    for words in (
        ("inspect", "vans", "--accepted", "vans/accepted.yaml"),
        ("accept", "vans", "--into", "vans/accepted.yaml"),
    ):
        result = run(*words)
        assert result.exit_code == 2
        assert expected in result.stderr
    assert record.read_text(encoding="utf-8") == text


def test_a_record_that_is_not_there_is_asked_for(place: Path) -> None:
    """A mistyped name must not make every finding new, nor hide that there is none."""
    result = run("inspect", "vans", "--accepted", "acepted.yaml")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "there is no record acepted.yaml" in result.stderr


@pytest.mark.parametrize(("level", "code"), [("error", 0), ("warning", 1), ("note", 1)])
def test_the_level_at_which_it_stops(place: Path, level: str, code: int) -> None:
    """A warning stops a check that stops at warning or note."""
    write_build(place / "vans", text=changed(("capacity: 100 Ah", "capacity: 100 Ah\n    heated: false")))
    assert run("inspect", "vans", "--stop-at", level).exit_code == code


PART = "small-pump: {kind: pump, power: 20 W}\n"
WITH_PART = changed(("  water-pump:\n", "  spare: {part: small-pump}\n  water-pump:\n"))


@pytest.fixture
def repository(place: Path) -> Path:
    """The vans heron and crane in git, of which the crane uses a part of the catalogue."""
    write_build(place / "vans", "crane", WITH_PART)
    (place / "vans" / "register.yaml").write_text("format: 1\n", encoding="utf-8")
    (place / "vans" / "parts").mkdir()
    (place / "vans" / "parts" / "water.yaml").write_text(PART, encoding="utf-8")
    for words in (
        ["init", "-q"],
        ["add", "-A"],
        ["-c", "user.name=a", "-c", "user.email=a@b", "commit", "-qm", "first"],
    ):
        subprocess.run(["git", *words], cwd=place, check=True)
    return place


def judged(*words: str) -> list[str]:
    """The builds that a check is about."""
    data = json.loads(run("inspect", *words, "--format", "json").stdout)
    assert data["unread"] in ([], ["crane"])
    return sorted([one["build"] for one in data["builds"]] + data["unread"])


@pytest.mark.parametrize(
    ("file", "text", "expected"),
    [
        pytest.param("vans/heron/notes.txt", "x", [], id="a file that no build is read from"),
        pytest.param("vans/heron/spec.yaml", HERON + "# a comment\n", [], id="a comment"),
        pytest.param("vans/heron/spec.yaml", FAILING, ["heron"], id="its own spec"),
        pytest.param("vans/heron/water.yaml", "components: {second: {kind: pump, power: 5 W}}\n", ["heron"], id="a new file beside it"),
        pytest.param("vans/parts/water.yaml", PART.replace("20 W}", "25 W}"), ["crane"], id="a part"),
        pytest.param("vans/parts/water.yaml", PART + "other: {kind: pump, power: 9 W}\n", [], id="a part that nobody uses"),
        pytest.param("vans/rules/water/own.md", "---\n---\n", ["crane", "heron"], id="a rule of the workshop"),
        pytest.param("vans/finch/spec.yaml", HERON.replace("build: heron", "build: finch"), ["finch"], id="a new build"),
        pytest.param("vans/crane/spec.yaml", "format: 1\nbuild: [", ["crane"], id="one that cannot be read"),
    ],
)  # fmt: skip
def test_only_what_changed_is_judged(repository: Path, file: str, text: str, expected: list[str]) -> None:
    """A change counts for the builds that say something else because of it."""
    (repository / file).parent.mkdir(parents=True, exist_ok=True)
    (repository / file).write_text(text, encoding="utf-8")
    assert judged("vans", "--changed-since", "HEAD") == expected


def test_nothing_changed_is_said(repository: Path) -> None:
    """Code 0, nothing judged, and a word on standard error; one build alone may be asked for."""
    result = run("inspect", "vans/heron", "--changed-since", "HEAD")
    assert (result.exit_code, result.stdout) == (0, "")
    assert "nothing that these builds say has changed since HEAD" in result.stderr


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("vans", "--changed-since", "nowhere"), "git knows no such revision"),
        (("vann", "--changed-since", "HEAD"), "there is no such folder"),
    ],
)
def test_a_wrong_revision_or_folder_is_told(repository: Path, words: tuple[str, ...], expected: str) -> None:
    """Nothing is judged on a guess."""
    result = run("inspect", *words)
    assert (result.exit_code, expected in result.stderr) == (2, True)


def test_outside_git_it_says_so(place: Path) -> None:
    """A folder that is in no repository has no revisions."""
    result = run("inspect", "vans", "--changed-since", "HEAD")
    assert result.exit_code == 2
    assert "in no git repository" in result.stderr


def test_a_record_is_not_laid_where_a_van_is_read_from(place: Path) -> None:
    """Every file beside a spec is part of the van: the record would make it unreadable."""
    write_build(place / "vans", text=FAILING)
    for name in ("new.yaml", "spec.yaml"):
        result = run("accept", "vans", "--into", f"vans/heron/{name}")
        assert result.exit_code == 2 and "a register is read from" in result.output
    assert [path.name for path in (place / "vans" / "heron").iterdir()] == ["spec.yaml"]
    assert (place / "vans" / "heron" / "spec.yaml").read_text() == FAILING
