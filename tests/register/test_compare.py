"""What differs between two readings of a van, and what that does, over tiny git repositories."""

import json
import re
import shlex
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from git_repository import commit, git
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from small_register import HERON, changed, write_build

from specreg.cli.commands import cli
from specreg.output.json_schema import output_schema
from specreg.register.changes import What
from specreg.register.compare import Comparer, Comparison
from specreg.register.query import KEYS


def run(*words: str) -> Result:
    """Run one command line, errors of ours not caught."""
    return CliRunner().invoke(cli, words, catch_exceptions=False)


@pytest.fixture
def vans(place: Path) -> Path:
    """A register in git with one van, all committed as `v1`."""
    (place / "vans" / "parts").mkdir()
    (place / "vans" / "parts" / "water.yaml").write_text(PARTS, encoding="utf-8")
    commit(place, "v1")
    return place / "vans"


PARTS = "small-pump: {kind: pump, power: 30 W, supply_voltage: 12 V, mass: 1 kg, price: 40 GBP}\n"
LAMP = "    supply_voltage: 12 V\n  lamp:\n    {kind: ceiling-light, power: 6 W, supply_voltage: 12 V}\nruns:"

EDITS: dict[str, tuple[tuple[tuple[str, str], ...], str]] = {
    "fitted": (((("    supply_voltage: 12 V\nruns:"), LAMP),), "  fitted: component lamp\n"),
    "removed": (
        (
            ("  water-pump:\n    kind: pump\n    power: 60 W\n    supply_voltage: 12 V\n", ""),
            ("  pump-feed: {medium: dc, from: fuse-box/pump, to: water-pump, conductor: 1.5 mm², length: 3 m, return: same cable}\n", ""),
        ),
        "  removed: component water-pump\n",
    ),
    "a run removed": (
        (
            ("  water-pump:\n    kind: pump\n    power: 60 W\n    supply_voltage: 12 V\n", ""),
            ("  pump-feed: {medium: dc, from: fuse-box/pump, to: water-pump, conductor: 1.5 mm², length: 3 m, return: same cable}\n", ""),
        ),
        "  removed: run pump-feed\n",
    ),
    "re-rated": ((("power: 60 W", "power: 90 W"),), "  re-rated: component water-pump\n    power: 60 W → 90 W\n"),
    "stated anew": ((("power: 60 W", "power: 60 W\n    mass: 2 kg"),), "    mass: now 2 kg\n"),
    "stated no more": ((("    nominal_voltage: 12.8 V\n", ""),), "    nominal voltage: 12.8 V → not stated\n"),
    "replaced": ((("    kind: pump\n    power: 60 W\n", "    part: small-pump\n"),), "  replaced: component water-pump\n"),
    "moved": ((("power: 60 W", "power: 60 W\n    at: [1 m, 0 m, 0 m]"),), "  moved: component water-pump\n    at: now 1 m, 0 m, 0 m\n"),
    "described": ((("power: 60 W", "power: 60 W\n    label: Pump"),), "  described anew: component water-pump\n    label: now Pump\n"),
    "a run": ((("conductor: 1.5 mm²", "conductor: 2.5 mm²"),), "  re-rated: run pump-feed\n    conductor: 1.5 mm² → 2.5 mm²\n"),
    "a way": ((("fuse: 10 A", "fuse: 15 A"),), "    ways.pump.fuse: 10 A → 15 A\n"),
    "the header": ((("title: Two-berth van", "title: Heron"),), "    title: Two-berth van → Heron\n"),
    "a finding that comes": ((("capacity: 100 Ah", "capacity: 80 Ah"),), "Findings that come:\n  fails (error): house battery holds 80 Ah, less than 90 Ah [UK] (dc/battery-large-enough)\n"),
    "energy": ((("power: 60 W", "power: 60 W\n    hours_per_day: 1 h"),), "daily energy use"),
    "cost": ((("power: 60 W", "power: 60 W\n    price: 129.50 GBP"),), "prices stated  0 GBP   → 129.50 GBP  +129.50 GBP"),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(EDITS))
def test_the_working_tree_is_compared_with_what_is_committed(vans: Path, name: str) -> None:
    """Each edit is told in words, and the command ends with 0."""
    pairs, expected = EDITS[name]
    write_build(vans, text=changed(*pairs))
    result = run("compare", "vans/heron")
    assert result.exit_code == 0, result.output
    assert expected in result.stdout
    assert result.stdout.startswith("Changes of heron, ")


@pytest.mark.parametrize(
    "words",
    [(), ("--from", "v1"), ("--from", "v1", "--to", "v1"), ("--with", "components.water-pump.power=60 W")],
)
def test_where_nothing_differs_it_says_so(vans: Path, words: tuple[str, ...]) -> None:
    """A van compared with itself, in every way, has no change; nor has a value written another way."""
    result = run("compare", "vans/heron", *words)
    assert result.exit_code == 0, result.output
    assert result.stdout.endswith("\nNothing differs.\n")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("length: 3 m,", "length: 300 cm,"),
        ("capacity: 100 Ah", "capacity: 100.0 Ah"),
        ("HERON", "HERON # again"),
    ],
)
def test_another_notation_is_no_change(vans: Path, before: str, after: str) -> None:
    """What is compared is the meaning."""
    write_build(vans, text=HERON.replace(before, after))
    assert "Nothing differs." in run("compare", "vans/heron").stdout


def test_a_private_file_is_on_neither_side(vans: Path) -> None:
    """Git has none, so it would show as new each time."""
    (vans / "heron" / "private.yaml").write_text("vehicle: {identity: {plate: XX 1}}\n", encoding="utf-8")
    assert "Nothing differs." in run("compare", "vans/heron").stdout


def test_a_register_that_is_the_whole_repository(
    tmp_path: Path, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Paths below the top of the repository are those of the register; a build of other letters is found, too."""
    top = tmp_path / "my vans"
    write_build(top, "größe", HERON)
    commit(top, "v1")
    write_build(top, "größe", changed(("power: 60 W", "power: 90 W")))
    monkeypatch.chdir(top)
    assert "power: 60 W → 90 W" in run("compare", ".").stdout
    assert "power: 60 W → 90 W" in run("compare", "größe").stdout


def test_two_revisions(vans: Path) -> None:
    """Each side is read with the parts of its own time."""
    write_build(vans, text=changed(("    kind: pump\n    power: 60 W\n", "    part: small-pump\n")))
    commit(vans.parent, "v2")
    (vans / "parts" / "water.yaml").write_text(PARTS.replace("30 W", "35 W"), encoding="utf-8")
    commit(vans.parent, "v3")
    (vans / "parts" / "water.yaml").write_text(PARTS.replace("30 W", "99 W"), encoding="utf-8")
    assert "power: 60 W → 30 W" in run("compare", "vans/heron", "--from", "v1", "--to", "v2").stdout
    assert "power: 30 W → 35 W" in run("compare", "vans/heron", "--from", "v2", "--to", "v3").stdout
    assert "power: 35 W → 99 W" in run("compare", "vans/heron").stdout


def test_two_vans(vans: Path) -> None:
    """Another build of the register, in no need of git."""
    write_build(vans, "crane", changed(("power: 60 W", "power: 90 W"), ("build: heron", "build: crane")))
    result = run("compare", "vans/heron", "vans/crane")
    assert "power: 60 W → 90 W" in result.stdout
    assert "from heron to crane" in result.stdout


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ("components.water-pump.part=small-pump", "replaced: component water-pump"),
        ("components.water-pump.power=90 W", "power: 60 W → 90 W"),
        ("components.lamp={kind: ceiling-light, power: 6 W, supply_voltage: 12 V}", "fitted: component lamp"),
        ("components.fuse-box.ways.pump.fuse=15 A", "ways.pump.fuse: 10 A → 15 A"),
        ("runs.pump-feed.length=5 m", "length: 3 m → 5 m"),
        ("components.house-battery.serial=", "serial: canary-serial → not stated"),
        ("use.nights_off_grid=3", "use.nights off grid: now 3"),
    ],
)  # fmt: skip
def test_what_if(place: Path, change: str, expected: str) -> None:
    """A change in one line needs neither git nor an editor, and the files stay as they are."""
    (place / "vans" / "parts").mkdir()
    (place / "vans" / "parts" / "water.yaml").write_text(PARTS, encoding="utf-8")
    before = (place / "vans" / "heron" / "spec.yaml").read_bytes()
    result = run("compare", "vans/heron", "--with", change)
    assert result.exit_code == 0, result.output
    assert expected in result.stdout
    assert (place / "vans" / "heron" / "spec.yaml").read_bytes() == before


def test_what_an_assembly_brings_can_be_taken_away(vans: Path) -> None:
    """A member, and a field of a part, go by the same line as what the build says itself."""
    write_assembly(vans, "small-pump")
    result = run("compare", "vans/heron", "--with", "components.spare=")
    assert "removed: component spare" in result.stdout
    write_build(vans, text=changed(("    kind: pump\n    power: 60 W\n", "    part: small-pump\n")))
    assert (
        "mass: 1 kg → not stated"
        in run("compare", "vans/heron", "--with", "components.water-pump.mass=").stdout
    )


def write_assembly(vans: Path, part: str) -> None:
    """Write an assembly of a spare pump, and a build that takes it."""
    (vans / "assemblies").mkdir(exist_ok=True)
    text = f"components:\n  spare: {{part: {part}, label: Spare}}\n"
    (vans / "assemblies" / "spare.yaml").write_text(text, encoding="utf-8")
    write_build(vans, text=HERON + "include: [{assembly: spare}]\n")


def test_an_assembly_is_looked_at_before_it_is_accepted(vans: Path) -> None:
    """Only builds that take it, only its own change, not what else is uncommitted."""
    write_assembly(vans, "small-pump")
    write_build(vans, "crane", changed(("build: heron", "build: crane")))
    commit(vans.parent, "v2")
    (vans / "assemblies" / "spare.yaml").write_text(
        "components:\n  spare: {part: small-pump, mass: 3 kg, label: Spare}\n", encoding="utf-8"
    )
    text = (vans / "heron" / "spec.yaml").read_text(encoding="utf-8")
    write_build(vans, text=text.replace("power: 60 W", "power: 90 W"))
    result = run("compare", "vans", "--assembly", "spare")
    assert result.exit_code == 0, result.output
    assert "mass: 1 kg → 3 kg" in result.stdout
    assert "power" not in result.stdout
    assert "crane" not in result.stdout


def test_a_register_is_compared_build_by_build(vans: Path) -> None:
    """Those that differ are told, a new one is named."""
    write_build(vans, "crane", changed(("build: heron", "build: crane")))
    result = run("compare", "vans")
    assert "crane: not there at HEAD." in result.stderr
    assert result.exit_code == 0


@pytest.mark.parametrize(
    ("designations", "words", "expected"),
    [
        ("water-pump: -G1\n", (), {What.renamed}),
        ("fuse-box: -X1\n", (), {What.fitted, What.removed}),
        ("fuse-box: -X1\n", ("--renamed",), {What.renamed}),
    ],
)  # fmt: skip
def test_a_new_id_is_a_rename_only_where_that_is_sure(
    vans: Path, designations: str, words: tuple[str, ...], expected: set[What]
) -> None:
    """Same kind and designation, or declared; else one thing goes and another comes."""
    (vans / "heron" / "designations.yaml").write_text(designations, encoding="utf-8")
    commit(vans.parent, "v2")
    write_build(vans, text=HERON.replace("water-pump", "fresh-pump"))
    (vans / "heron" / "designations.yaml").write_text(
        designations.replace("water", "fresh"), encoding="utf-8"
    )
    declared = {"water-pump": "fresh-pump"} if words else None
    compared = Comparer(vans / "heron", renamed=declared).revisions()
    assert {one.what for one in compared.comparisons[0].changes if one.section == "component"} == expected


SIGNED = """\
records:
  sign_offs:
    - {matter: water/pump-looked-at, target: water-pump, by: fitter, date: 2026-04-01, covers: MARK}
"""


def test_a_signed_matter_that_is_open_again_is_named(vans: Path) -> None:
    """The fingerprint no longer fits: who signed, and what."""
    mark = re.search(
        r'"covers": "([0-9a-f]{8})"', run("inspect", "vans/heron", "--format", "json", "--all").stdout
    )
    assert mark is not None
    write_build(vans, text=HERON + SIGNED.replace("MARK", f'"{mark[1]}"'))
    commit(vans.parent, "v2")
    result = run("compare", "vans/heron", "--with", "components.water-pump.power=90 W")
    assert (
        "Signed matters that are open again:\n  water pump: Listen to water pump" in result.stdout
        or "open again:\n  water pump:" in result.stdout
    )
    assert "by fitter" in result.stdout


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("vann",), 'nearest is "vans"'),
        (("vans/heron", "--from", "v9"), 'git knows no such revision: read "v9"'),
        (("vans/heron", "--from", "--output=x"), "git knows no such revision"),
        (("vans/heron", "--to", "HEAD:vans"), "git knows no such revision"),
        (("vans/heron", "--from", "a\nb"), "git knows no such revision"),
        (("vans/heron", "--with", "power"), "this is no change"),
        (("vans/heron", "--with", "components.water-pump.power=sixty"), "--with:1:"),
        (("vans/heron", "--with", "components.water-pump.powr=60 W"), "power"),
        (("vans/heron", "--with", "components.fridge="), "there is nothing at `components.fridge` to take away"),
        (("vans/heron", "--with", "a=1", "--from", "v1"), "cannot be asked for at once"),
        (("vans/heron", "vans"), "two builds are compared"),
        (("vans", "--assembly", "spar"), "there is no such assembly"),
        (("vans/heron", "--renamed", "x"), "does not say which id became which"),
    ],
)  # fmt: skip
def test_a_bad_request_is_answered_in_words(vans: Path, words: tuple[str, ...], expected: str) -> None:
    """Code 2, an explanation on standard error, nothing on standard output."""
    result = run("compare", *words)
    assert result.exit_code == 2
    assert expected in result.stderr
    assert result.stdout == ""


def test_outside_git_it_says_so(place: Path) -> None:
    """With what can be compared there."""
    result = run("compare", "vans/heron")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "the folder is in no git repository" in result.stderr


def test_before_the_first_commit_it_says_so(place: Path) -> None:
    """An empty repository has no HEAD."""
    git(place, "init", "-q")
    result = run("compare", "vans/heron")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "nothing is committed here yet" in result.stderr


def test_a_spec_that_was_unreadable_then_is_named_with_its_revision(vans: Path) -> None:
    """The problem's place says at which revision."""
    write_build(vans, text=changed(("power: 60 W", "power: sixty")))
    commit(vans.parent, "v2")
    write_build(vans, text=HERON)
    result = run("compare", "vans/heron")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("HEAD:vans/heron/spec.yaml:19:12: problem: `power`")


def test_nothing_of_a_hostile_repository_runs(
    vans: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Filters, hooks, watchers and settings in the environment do nothing; links and odd names are passed over."""
    ran = tmp_path / "ran"
    command = f"touch {ran}"
    for key in (
        "filter.evil.smudge",
        "filter.evil.clean",
        "core.fsmonitor",
        "core.pager",
        "core.sshCommand",
        "diff.external",
        "uploadpack.packObjectsHook",
    ):
        git(vans.parent, "config", key, command)
    git(vans.parent, "config", "remote.origin.url", f"ext::sh -c '{command}'")
    git(vans.parent, "config", "remote.origin.promisor", "true")
    git(vans.parent, "config", "extensions.partialClone", "origin")
    (vans.parent / ".gitattributes").write_text("*.yaml filter=evil\n", encoding="utf-8")
    for hook in ("post-checkout", "reference-transaction", "post-index-change"):
        path = vans.parent / ".git" / "hooks" / hook
        path.parent.mkdir(exist_ok=True)
        path.write_text(f"#!/bin/sh\n{command}\n", encoding="utf-8")
        path.chmod(0o755)
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "elsewhere"))
    monkeypatch.setenv("GIT_EXTERNAL_DIFF", command)
    result = run("compare", "vans/heron")
    assert result.exit_code == 0, result.output
    assert not ran.exists()


def test_a_link_in_a_revision_leads_nowhere(vans: Path) -> None:
    """A link among the committed files is not followed."""
    (vans / "heron" / "more.yaml").symlink_to("/etc/passwd")
    commit(vans.parent, "v2")
    (vans / "heron" / "more.yaml").unlink()
    assert "Nothing differs." in run("compare", "vans/heron").stdout


CANARIES = changed(
    ("power: 60 W", "power: 90 W\n    price: 77 GBP\n    supplier: canary-supplier\n    state: ordered\n    mass: 2 kg"),
    ("as_of: 2026-05-01", "as_of: 2026-05-01\nvehicle: {identity: {vin: canary-vin, contact: canary-contact}}\nworkshop: Quay <b>"),
)  # fmt: skip


def test_a_change_order_is_for_the_client(vans: Path) -> None:
    """Number, date, items, price lines and signatures; nothing that only the workshop reads, no HTML."""
    write_build(vans, text=CANARIES)
    result = run("compare", "vans/heron", "--format", "change-order", "--number", "7", "--on", "2026-05-20")
    assert result.exit_code == 0, result.output
    for line in (
        "# Change order 7",
        "Date: 2026-05-20",
        "1. Change: water pump",
        "   - power: 60 W → 90 W",
        "## Price",
        "## Approval",
    ):
        assert line in result.stdout
    assert not [
        word
        for word in ("canary", "77", "GBP", "ordered", "<b>")
        if word in result.stdout.replace("\\<b\\>", "")
    ]


@pytest.mark.parametrize(
    "words", [("kind=pump",), ("stage=commissioning",), ("--recall", "pump-pressure-switch")]
)
def test_what_find_prints_has_its_published_shape(
    words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Things, whole vans and a recall alike."""
    monkeypatch.chdir(Path(__file__).parents[2])
    data = json.loads(run("find", "builds", *words, "--format", "json").stdout)
    assert data["hits"]
    Draft202012Validator(output_schema("find")).validate(data)


def test_where_nothing_differs_there_is_nothing_to_order(vans: Path) -> None:
    """A remark instead of an empty order."""
    result = run("compare", "vans/heron", "--format", "change-order")
    assert (result.exit_code, result.stdout) == (0, "")
    assert "nothing differs" in result.stderr


@pytest.mark.parametrize("command", ["find", "compare"])
def test_the_examples_of_help_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """What `--help` shows is run as it stands on a copy of the demo register; its names are in the help."""
    root = Path(__file__).parents[2]
    shutil.copytree(root / "builds", tmp_path / "builds")
    commit(tmp_path, "v1")
    monkeypatch.chdir(tmp_path)
    shown = run(command, "--help").output
    examples = re.findall(rf"specreg {command} (.+)", shown.partition("Example:")[2])
    assert examples
    for line in examples:
        words = shlex.split(
            line.replace("builds/heron", "builds/pocket").replace(
                "components.fridge.part=fridge-65l", "components.pump.part=diaphragm-pump-10l"
            )
        )
        result = run(command, *words)
        assert result.exit_code == 0, (line, result.output)
    if command == "find":
        assert not [key for key in KEYS if key not in shown]


def test_json_has_the_same_content(vans: Path) -> None:
    """With a format number; numbers in SI."""
    write_build(vans, text=changed(("power: 60 W", "power: 90 W\n    hours_per_day: 2 h")))
    data = json.loads(run("compare", "vans/heron", "--format", "json").stdout)
    Draft202012Validator(output_schema("compare")).validate(data)
    assert data["format"] == 1
    one = data["comparisons"][0]
    assert one["changes"][0]["fields"][0] == {"field": "power", "before": "60 W", "after": "90 W"}
    assert any(figure["name"] == "daily_energy_use" and figure["unit"] == "J" for figure in one["figures"])


POWERS = st.sampled_from(("6 W", "12 W", "40 W"))
LAMPS = st.dictionaries(st.sampled_from(("lamp-a", "lamp-b", "lamp-c")), POWERS, max_size=3)
CAPACITY = st.sampled_from(("80 Ah", "100 Ah"))


def _lit(lamps: dict[str, str], capacity: str) -> str:
    lines = [
        f"  {name}: {{kind: ceiling-light, power: {power}, supply_voltage: 12 V}}\n"
        for name, power in lamps.items()
    ]
    return HERON.replace("runs:\n", f"{''.join(lines)}runs:\n").replace("100 Ah", capacity)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(one=st.tuples(LAMPS, CAPACITY), two=st.tuples(LAMPS, CAPACITY))
def test_turned_round_it_says_the_opposite(
    place: Path, one: tuple[dict[str, str], str], two: tuple[dict[str, str], str]
) -> None:
    """Fitted and removed change places, so do findings and figures; a van has no difference from itself."""
    for name, what in (("crane", one), ("egret", two)):
        write_build(place / "vans", name, _lit(*what).replace("build: heron", f"build: {name}"))
    crane, egret = (Comparer(place / "vans" / name) for name in ("crane", "egret"))
    there, back = crane.with_other(egret).comparisons[0], egret.with_other(crane).comparisons[0]
    assert _things(there, What.fitted) == _things(back, What.removed)
    assert _things(there, What.removed) == _things(back, What.fitted)
    assert _things(there, What.rated) == _things(back, What.rated)
    assert [_mark(r.rule, r.subject) for r in there.come] == [_mark(r.rule, r.subject) for r in back.go]
    assert {(f.name, f.case, f.before, f.after) for f in there.figures} == {
        (f.name, f.case, f.after, f.before) for f in back.figures
    }
    assert _things(there, What.fitted) == set(two[0]) - set(one[0])
    assert crane.with_other(crane).comparisons[0].same


def _things(comparison: Comparison, what: What) -> set[str]:
    return {one.subject for one in comparison.changes if one.what is what}


def _mark(rule: str, subject: str) -> str:
    return f"{rule} {subject}"
