"""Each command over tiny registers: folder, options, exit code, expected lines."""

import io
import json
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from small_register import HERON, changed, write_build, write_rules

from specreg.cli.commands import cli
from specreg.cli.terminal import watched


def run(*words: str) -> Result:
    """Run one command line, errors of ours not caught."""
    return CliRunner().invoke(cli, words, catch_exceptions=False)


FAILING = changed(("capacity: 100 Ah", "capacity: 80 Ah"))
CONCEDED = FAILING + (
    "concessions:\n"
    "  - {rule: dc/battery-large-enough, target: house-battery, reason: short trips, granted_by: workshop lead}\n"
)
COLD = changed(("capacity: 100 Ah", "capacity: 100 Ah\n    heated: false"))
MISTAKEN = changed(("power: 60 W", "power: 60"))


@pytest.mark.parametrize(
    ("spec", "options", "code", "expected"),
    [
        pytest.param(HERON, (), 0, "1 passes", id="nothing fails"),
        pytest.param(FAILING, (), 1, "vans/heron/spec.yaml:8:3: fails (error): house battery holds 80 Ah, less than 90 Ah", id="an error"),
        pytest.param(FAILING, (), 1, "Remedy: Fit a larger battery.", id="with its remedy"),
        pytest.param(FAILING, (), 1, "after Made-up code 1.2, 2020 (from memory)", id="with its source"),
        pytest.param(FAILING, (), 1, "house-battery capacity 80 Ah (declared)", id="with its figure"),
        pytest.param(CONCEDED, (), 0, "Concession: short trips; granted by workshop lead, with no end", id="a concession"),
        pytest.param(CONCEDED, (), 0, "fails (error), under a concession: house battery holds", id="beside its failure"),
        pytest.param(COLD, (), 0, "fails (warning): house battery has no heating", id="a warning alone"),
        pytest.param(HERON, ("--for", "hand-over"), 0, "fails (warning, missing)", id="missing at hand-over"),
        pytest.param(HERON, ("--for", "hand-over"), 0, "fails (warning, not signed): Listen to water pump", id="unsigned at hand-over"),
        pytest.param(HERON, ("--for", "hand-over"), 0, "Stage: design, judged for hand-over", id="says the stage"),
        pytest.param(HERON, ("--for", "enquiry"), 0, "`house-battery.heated` would help to decide 1 question", id="the most wanted"),
        pytest.param(HERON, ("--on", "2026-07-01"), 0, "on 2026-07-01", id="another day"),
        pytest.param(HERON, ("--all",), 0, "passes: house battery: The battery holds enough", id="passes on demand"),
        pytest.param(HERON, ("--all",), 0, "does not apply: The cylinder stands upright: the spec has no gas cylinder", id="and what does not apply"),
        pytest.param(HERON, (), 0, "A written specification cannot prove workmanship", id="its limits"),
        pytest.param(HERON, (), 0, "Not looked at: The vehicle itself", id="what was not looked at"),
    ],
)  # fmt: skip
def test_inspect(place: Path, spec: str, options: tuple[str, ...], code: int, expected: str) -> None:
    """The check says this, and ends with that code."""
    write_build(place / "vans", text=spec)
    result = run("inspect", "vans/heron", *options)
    assert result.exit_code == code, result.output
    assert expected in result.stdout
    assert result.stderr == ""


def test_passes_and_what_does_not_apply_are_only_counted(place: Path) -> None:
    """Without `--all`, nothing that is in order takes a line of its own."""
    assert "passes:" not in run("inspect", "vans").stdout
    assert "does not apply:" not in run("inspect", "vans").stdout


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "markdown"])
def test_one_unreadable_build_stops_none_of_the_others(place: Path, form: str) -> None:
    """The sound van is judged in every form, the other's problem goes to standard error, and the code is 2."""
    write_build(place / "vans", "crane", MISTAKEN)
    result = run("inspect", "vans", "--format", form)
    assert result.exit_code == 2
    assert "Two-berth van" in result.stdout or "heron" in result.stdout
    assert result.stderr.startswith("vans/crane/spec.yaml:19:12: problem: `power`")


def test_builds_that_are_not_judged_are_named(place: Path) -> None:
    """The overview leaves no van out."""
    write_build(place / "vans", "crane", MISTAKEN)
    assert "crane: not judged" in run("inspect", "vans").stdout


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("inspect", "vann"), 'there is no such folder: read "vann"'),
        (("inspect", "vann"), 'nearest is "vans"'),
        (("inspect", "pack"), "the folder holds no build"),
        (("inspect", "pack/dc/battery-large-enough.md"), "this is a file"),
        (("inspect", "vans", "--for", "handover"), 'nearest is "hand-over"'),
        (("inspect", "vans", "--on", "1.5.2026"), "year-month-day"),
        (("inspect", "vans", "--on", "20260501"), "year-month-day"),
        (("inspect", "vans", "--format", "xml"), "sarif"),
        (("inspect",), "Missing argument"),
        (("inspect", "vans", "--output", "nowhere/out.txt"), "nowhere/out.txt cannot be written"),
        (("figures", "vans", "--about", "water-pmp"), 'nearest is "water-pump"'),
        (("trace", "vans", "water-pmp"), 'nearest is "water-pump"'),
        (("rules", "--about", "dc/battery-large-enuf"), 'nearest is "dc/battery-large-enough"'),
        (("publish", "vann", "--reader", "owner", "--into", "out"), "there is no such folder"),
        (("schedule", "vann"), "there is no such folder"),
    ],
)
def test_a_bad_request_is_answered_in_words(place: Path, words: tuple[str, ...], expected: str) -> None:
    """Code 2, one explanation on standard error, nothing on standard output."""
    result = run(*words)
    assert result.exit_code == 2
    assert expected in result.stderr
    assert result.stdout == ""


def test_a_register_given_by_its_spec_file_is_found(place: Path) -> None:
    """Naming the file instead of its folder is no reason to fail."""
    assert run("inspect", "vans/heron/spec.yaml").exit_code == 0


@pytest.mark.parametrize("where", ["vans", "vans/heron", "."])
def test_places_lead_from_where_the_command_runs(
    place: Path, where: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every finding's place is a path that opens from the current folder."""
    monkeypatch.chdir(place / where)
    result = run("inspect", str(place / "vans" / "heron"), "--all")
    found = [line.split(":")[0] for line in result.stdout.splitlines() if ": passes: " in line]
    assert found
    assert all(Path(file).is_file() for file in found)
    assert str(place) not in result.stdout


def test_output_goes_to_the_file_whole(place: Path) -> None:
    """The file holds what would have been printed; standard output stays empty; nothing else is left."""
    (place / "out").mkdir()
    printed = run("inspect", "vans", "--format", "json").stdout
    result = run("inspect", "vans", "--format", "json", "--output", "out/check.json")
    assert (place / "out" / "check.json").read_text(encoding="utf-8") == printed
    assert result.stdout == ""
    assert [path.name for path in (place / "out").iterdir()] == ["check.json"]


def test_own_rules_are_added(place: Path) -> None:
    """A register's own `rules/` folder adds to the shipped ones."""
    own = {"seating/own-rule": _own("seating")}
    write_rules(place / "vans" / "rules", own)
    assert "seating/own-rule" in run("inspect", "vans", "--all").stdout
    assert "seating/own-rule" in run("rules", "--register", "vans").stdout


def test_an_own_rule_cannot_replace_a_shipped_one(place: Path) -> None:
    """A clash of identities is a problem with a place."""
    write_rules(place / "vans" / "rules", {"dc/battery-large-enough": _own("dc")})
    result = run("inspect", "vans")
    assert result.exit_code == 2
    assert (
        "vans/rules/dc/battery-large-enough.md:2:1: problem: a shipped rule has this identity"
        in result.stderr
    )


@pytest.mark.parametrize(
    "content", [b"\xff\xfe", b"", b"no front matter", b"---\ntitle: [\n---\n", b"---\n- a list\n---\n"]
)
def test_a_broken_rule_is_a_problem_with_a_place(place: Path, content: bytes) -> None:
    """Whatever a rule's file holds, the vans are still judged by the others."""
    (place / "vans" / "rules" / "dc").mkdir(parents=True)
    (place / "vans" / "rules" / "dc" / "broken.md").write_bytes(content)
    result = run("inspect", "vans")
    assert result.exit_code == 2
    assert result.stderr.startswith("vans/rules")
    assert "1 passes" in result.stdout


def _own(system: str) -> str:
    return (
        f"---\ntitle: The battery says its capacity\nsystem: {system}\nlevel: note\njudges: battery\n"
        "passes: battery.capacity is present\nfinding: no capacity\nsources: [{how: common practice}]\n---\nOurs.\n"
    )


def test_figures_in_each_form(place: Path) -> None:
    """A figure comes with its value, unit, formula and source in every form."""
    text = run("figures", "vans", "--about", "pump-feed").stdout
    data = json.loads(run("figures", "vans", "--about", "pump-feed", "--format", "json").stdout)
    table = run("figures", "vans", "--about", "pump-feed", "--format", "csv").stdout
    [length] = [one for one in data["builds"][0]["figures"] if one["name"] == "laid_length"]
    assert (length["value"], length["unit"], length["text"]) == (3.0, "m", "3 m")
    assert "Length of the run one way (laid_length): 3 m" in text
    assert "heron,pump-feed,,laid_length,3.0,m,3 m," in table


def test_trace_says_what_supplies_and_what_stops(place: Path) -> None:
    """The pump hangs on its fuse, the fuse on the box, the box on the battery."""
    text = run("trace", "vans/heron", "water-pump").stdout
    assert "vans/heron/spec.yaml:17:3: water-pump" in text
    assert (
        "by run pump-feed, then device fuse-box/pump, then run battery-main, then source house-battery"
        in text
    )
    assert "Isolated by: device fuse-box/pump" in text
    data = json.loads(run("trace", "vans/heron", "water-pump", "--format", "json").stdout)
    assert data["builds"][0]["isolated_by"] == [{"form": "device", "id": "fuse-box/pump"}]


def test_schedule_in_each_form(place: Path) -> None:
    """Device and cable stand in every form."""
    assert "fuse 10 A" in run("schedule", "vans").stdout
    assert "heron,Cables,,,,,," in run("schedule", "vans", "--format", "csv").stdout
    data = json.loads(run("schedule", "vans", "--format", "json").stdout)
    assert [row["id"] for row in data["builds"][0]["devices"]] == ["fuse-box/pump"]
    assert [row["length"] for row in data["builds"][0]["cables"]] == [1.0, 1.0, 3.0]


def test_designations_are_assigned_once_and_kept(place: Path) -> None:
    """A second assigning adds nothing, and a later thing takes the next number while the file only grows."""
    file = place / "vans" / "heron" / "designations.yaml"
    assert run("schedule", "vans", "--assign").exit_code == 0
    first = file.read_text(encoding="utf-8")
    assert "fuse-box: -F1\nfuse-box/pump: -F2\n" in first
    run("schedule", "vans", "--assign")
    assert file.read_text(encoding="utf-8") == first
    write_build(place / "vans", text=changed(("{pump: {", "{new: {fuse: 5 A}, pump: {")))
    assert "-F3" in run("schedule", "vans", "--assign").stdout
    assert file.read_text(encoding="utf-8") == first + "fuse-box/new: -F3\n"


def test_a_renamed_way_keeps_its_designation(place: Path) -> None:
    """Declared, nothing is added; undeclared, a new number is given and the person is asked."""
    file = place / "vans" / "heron" / "designations.yaml"
    run("schedule", "vans", "--assign")
    first = file.read_text(encoding="utf-8")
    text = changed(("{pump: {", "{water: {"), ("fuse-box/pump", "fuse-box/water"))
    write_build(place / "vans", text=text + "renamed: {fuse-box/pump: fuse-box/water}\n")
    shown = run("schedule", "vans", "--assign")
    assert shown.exit_code == 0 and file.read_text(encoding="utf-8") == first
    assert "-F2" in shown.stdout
    write_build(place / "vans", text=text)
    asked = run("schedule", "vans", "--assign").stderr
    assert "fuse-box/water is new and fuse-box/pump is gone" in asked


def test_rules_in_each_form(place: Path) -> None:
    """Every rule of the pack is listed with its level and how its authors know."""
    text = run("rules").stdout
    assert "dc/battery-large-enough (error): The battery holds enough" in text
    assert "decided by: pump fitter" in text
    data = json.loads(run("rules", "--format", "json").stdout)
    assert [rule["rule"] for rule in data["rules"]] == sorted(rule["rule"] for rule in data["rules"])
    assert data["rules"][0]["limits"] == {"least": {"any": "90 Ah", "us": "120 Ah"}}


def test_one_rule_is_printed_in_full(place: Path) -> None:
    """Limits by jurisdiction, source and prose."""
    text = run("rules", "--about", "dc/battery-large-enough").stdout
    assert "Limit least: any: 90 Ah, us: 120 Ah" in text
    assert "A van with a small battery sits in the dark." in text


def test_publish_says_what_was_found_and_exits_0(place: Path) -> None:
    """Findings never hold the pages back; a foreign folder and an unreadable van do what they must."""
    write_build(place / "vans", text=FAILING)
    result = run("publish", "vans/heron", "--reader", "owner", "--into", "site")
    assert result.exit_code == 0, result.stderr
    assert "heron: 1 fails at level error" in result.stdout
    assert (place / "site" / "index.html").is_file()


def test_publish_touches_no_folder_of_somebody_else(place: Path) -> None:
    """A folder with other files is refused, and stays as it is."""
    result = run("publish", "vans/heron", "--reader", "owner", "--into", "pack")
    assert result.exit_code == 2
    assert "pack holds files that specreg did not write" in result.stderr
    assert not (place / "pack" / "index.html").exists()


def test_publish_leaves_out_what_cannot_be_read(place: Path) -> None:
    """The other vans are published, the one with the problem is named, and the code is 2."""
    write_build(place / "vans", "crane", MISTAKEN)
    result = run("publish", "vans", "--reader", "public", "--into", "site")
    assert result.exit_code == 2
    assert "crane: left out" in result.stdout
    assert (place / "site" / "index.html").is_file()


@pytest.mark.parametrize("name", sorted(cli.commands))
def test_every_command_shows_examples(name: str) -> None:
    """The help of a command ends with calls of it, each of which parses as it stands."""
    text = run(name, "--help").stdout
    examples = [line for line in text.split("Example:\n")[1].splitlines() if line.strip()]
    assert examples
    for line in examples:
        words = shlex.split(line)
        assert words[:2] == ["specreg", name]
        context = cli.commands[name].make_context(name, words[2:])
        assert bool(context.params) is bool(cli.commands[name].params)


class Terminal(io.StringIO):
    """A stream that says that it is a terminal."""

    def isatty(self) -> bool:
        """As a terminal does."""
        return True


@pytest.mark.parametrize(
    ("stream", "items", "told"),
    [
        (Terminal(), ["heron", "crane"], True),
        (Terminal(), ["heron"], False),
        (io.StringIO(), ["heron", "crane"], False),
    ],
    ids=["a terminal", "one thing", "a pipe"],
)
def test_how_far_the_work_is(
    stream: io.StringIO, items: list[str], told: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Told on a terminal alone, where there is more than one thing, and wiped away at the end."""
    monkeypatch.setattr("sys.stderr", stream)
    assert list(watched(items)) == items
    assert ("2 of 2" in stream.getvalue()) is told
    assert stream.getvalue() == "" or stream.getvalue().endswith("\r\x1b[K")
