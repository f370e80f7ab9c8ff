"""Recalls: whom they reach, whom they may reach, how far each is dealt with; notices for owners."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from specreg.cli.commands import cli
from specreg.source.serials import Within, serial_key, within

PUMPS = "pump-a: {kind: pump, power: 60 W, supply_voltage: 12 V, maker: Alder, model: A-10}\n"

RECALL = """\
title: Pump, cracked housing
source: the maker's letter 31 of 2026
date: 2026-05-02
affects:
  - {part: pump-a, serials: [A100..A199, A240], fitted: 2025-10..2026-03}
do: Do not use the pump. The workshop fits a new housing free of charge.
builds:
  crane: {told: 2026-05-06, booked: 2026-06-01}
"""

VANS = {
    "crane": {"part": "pump-a", "serial": "A100", "fitted_on": "2026-03-04"},
    "dunlin": {"part": "pump-a", "serial": "A-0240", "fitted_on": "2025-10-01"},
    "egret": {"part": "pump-a", "serial": "A300", "fitted_on": "2026-03-04"},
    "grebe": {"part": "pump-a", "serial": "A150", "fitted_on": "2026-04-01"},
    "heron": {"part": "pump-a", "fitted_on": "2026-03-04"},
    "ibis": {"part": "pump-a", "serial": "A150"},
    "knot": {"part": "pump-a", "serial": "lot 7", "fitted_on": "2026-03-04"},
    "lapwing": {"part": "pump-a", "fitted_on": "2026-04-01"},
    "plover": {"kind": "pump", "serial": "A150", "fitted_on": "2026-03-04"},
}
"""One van for each way in which a recall can meet one."""


def run(*words: str) -> Result:
    """Run one command line, errors of ours not caught."""
    return CliRunner().invoke(cli, words, catch_exceptions=False)


@pytest.fixture
def vans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A register with a recall."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "vans"
    files = {
        "parts/water.yaml": PUMPS,
        "recalls/pump-housing.yaml": RECALL,
        "register.yaml": "workshop: Quay\n",
    }
    for name, words in VANS.items():
        said = ", ".join(f'{word}: "{value}"' for word, value in words.items())
        head = f"format: 1\nbuild: {name}\ntitle: Van {name}\nstage: in-service\njurisdictions: [uk]\n"
        files[f"{name}/spec.yaml"] = f"{head}components:\n  pump: {{{said}}}\n"
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def listed(vans: Path) -> dict[str, tuple[str, str | None]]:
    """Return state and doubt by build."""
    result = run("find", "vans", "--recall", "pump-housing", "--format", "json")
    assert result.exit_code == 0, result.stderr
    return {one["build"]: (one["state"], one["unsure"]) for one in json.loads(result.stdout)["hits"]}


def test_whom_a_recall_reaches(vans: Path) -> None:
    """For sure by number and day; perhaps where one of them is not recorded; else not at all."""
    assert listed(vans) == {
        "crane": ("booked", None),
        "dunlin": ("to tell", None),
        "heron": ("to tell", "serial not recorded"),
        "ibis": ("to tell", "day fitted not recorded"),
        "knot": ("to tell", "serial lot 7 is not written like those called back"),
    }


def test_as_text_those_that_may_have_it_stand_apart(vans: Path) -> None:
    """With why it is not sure, and a count."""
    sure, unsure = run("find", "vans", "--recall", "pump-housing").stdout.split("May have it:")
    assert "crane" in sure
    assert "dunlin" in sure
    assert "heron" not in sure
    assert "heron" in unsure
    assert "5 vans: 1 booked, 4 to tell." in unsure


@pytest.mark.parametrize(
    ("steps", "state"),
    [
        ("{}", "to tell"),
        ("{told: 2026-05-06}", "told"),
        ("{told: 2026-05-06, booked: 2026-06-01, done: 2026-06-02}", "done"),
        ("{done: 2026-06-02}", "done"),
        ("{ruled_out: 2026-05-20, note: number read on the part}", "ruled out"),
    ],
)
def test_states(vans: Path, steps: str, state: str) -> None:
    """The last step taken is the state."""
    text = RECALL.replace("{told: 2026-05-06, booked: 2026-06-01}", steps)
    (vans / "recalls" / "pump-housing.yaml").write_text(text, encoding="utf-8")
    assert listed(vans)["crane"][0] == state


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        ("title:", "titel:", 'nearest is "title"'),
        ("part: pump-a", "prat: pump-a", 'nearest is "part"'),
        ("A100..A199", "A100..B", "the ends of the range are not written alike"),
        ("2025-10..2026-03", "2025-10..March", "this is no day"),
        ("told: 2026-05-06", "told: yesterday", "`told` is no day"),
        ("crane:", "crame:", 'nearest is "crane"'),
        ("date: 2026-05-02\n", "", "does not say its `date`"),
        ("affects:\n  -", "affects: none\nbuilds:\n  -", "problem"),
        ("title: Pump", "title: [", "problem"),
    ],
)
def test_a_slip_in_a_recall_is_told_with_its_line(vans: Path, before: str, after: str, expected: str) -> None:
    """Code 2, and what else can be said is said."""
    assert before in RECALL
    (vans / "recalls" / "pump-housing.yaml").write_text(RECALL.replace(before, after), encoding="utf-8")
    result = run("find", "vans", "--recall", "pump-housing")
    assert result.exit_code == 2
    assert expected in result.stderr
    assert result.stderr.startswith("vans/recalls/pump-housing.yaml:")


NUMBERS = """\
title: 2026
source: 31
date: 2026-05-02
affects:
  - {part: pump-a, serials: [17, 1e5, 20..29], made: 2026}
  - {maker: Alder, model: 500, serials: 0123, fitted: 2025}
do: 7
"""


@pytest.mark.parametrize(
    ("pump", "reached"),
    [
        ('part: pump-a, serial: "17", made_on: 2026-01-31', True),
        ('part: pump-a, serial: "1e5", made_on: 2026-12-31', True),
        ('part: pump-a, serial: "23", made_on: 2026-06-01', True),
        ('part: pump-a, serial: "17", made_on: 2025-12-31', False),
        ('kind: pump, maker: Alder, model: "500", serial: "123", fitted_on: 2025-07-01', True),
        ('kind: pump, maker: Alder, model: "501", serial: "123", fitted_on: 2025-07-01', False),
    ],
)
def test_years_and_serial_numbers_need_no_quotation_marks(vans: Path, pump: str, reached: bool) -> None:
    """In a recall every value is a text: 2026, 17 and 1e5 count as they were written."""
    assert ("crane" in with_numbers(vans, pump)) is reached


def with_numbers(vans: Path, pump: str) -> dict[str, tuple[str, str | None]]:
    """Whom that recall reaches where a van has this pump."""
    (vans / "recalls" / "pump-housing.yaml").write_text(NUMBERS, encoding="utf-8")
    spec = vans / "crane" / "spec.yaml"
    head = spec.read_text(encoding="utf-8").partition("components:")[0]
    spec.write_text(f"{head}components:\n  pump: {{{pump}}}\n", encoding="utf-8")
    return listed(vans)


def test_such_a_recall_is_judged_as_it_is_found(vans: Path) -> None:
    """The check of the van reads the same file, and says the same."""
    assert "crane" in with_numbers(vans, 'part: pump-a, serial: "17", made_on: 2026-01-31')
    checked = run("inspect", "vans/crane", "--on", "2026-06-01")
    assert checked.stderr == ""
    assert "2026: 7" in checked.stdout


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--recall", "pump-hosing"), 'nearest is "pump-housing"'),
        (("--recall", "../../secret"), "there is no such recall"),
        (("--recall", "pump-housing", "kind=pump"), "leave the conditions out"),
        (("kind=pump", "--notices", "out"), "name it with --recall"),
        ((), "nothing is asked for"),
    ],
)
def test_a_bad_request_is_answered_in_words(vans: Path, words: tuple[str, ...], expected: str) -> None:
    """Code 2, one explanation, no result."""
    result = run("find", "vans", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert expected in result.stderr


def test_notices(vans: Path) -> None:
    """One for each owner who must know; names only from the private file; nothing is overwritten unasked."""
    private = "vehicle: {identity: {owner: A. Owner, plate: XX 1}}\n"
    (vans / "crane" / "private.yaml").write_text(private, encoding="utf-8")
    spec = vans / "dunlin" / "spec.yaml"
    text = spec.read_text(encoding="utf-8") + "vehicle: {identity: {owner: canary-owner, vin: canary-vin}}\n"
    spec.write_text(text, encoding="utf-8")
    assert run("find", "vans", "--recall", "pump-housing", "--notices", "out").exit_code == 0
    names = sorted(path.name for path in Path("out").iterdir())
    assert names == [f"pump-housing-{van}.md" for van in ("crane", "dunlin", "heron", "ibis", "knot")]
    crane = Path("out/pump-housing-crane.md").read_text(encoding="utf-8")
    for said in (
        "# Recall: Pump, cracked housing",
        "Owner: A. Owner",
        "number A100",
        "fits a new housing",
        "From: Quay",
    ):
        assert said in crane
    assert "canary" not in Path("out/pump-housing-dunlin.md").read_text(encoding="utf-8")
    assert "as if it were" in Path("out/pump-housing-heron.md").read_text(encoding="utf-8")
    Path("out/pump-housing-heron.md").write_text("mine", encoding="utf-8")
    again = run("find", "vans", "--recall", "pump-housing", "--notices", "out")
    assert again.exit_code == 2
    assert "is there already" in again.stderr
    assert Path("out/pump-housing-heron.md").read_text(encoding="utf-8") == "mine"
    assert run("find", "vans", "--recall", "pump-housing", "--notices", "out", "--overwrite").exit_code == 0
    assert Path("out/pump-housing-heron.md").read_text(encoding="utf-8") != "mine"


def test_who_is_dealt_with_gets_no_notice(vans: Path) -> None:
    """Done and ruled out need no letter."""
    text = RECALL + "  dunlin: {done: 2026-06-02}\n  heron: {ruled_out: 2026-06-02}\n"
    (vans / "recalls" / "pump-housing.yaml").write_text(text, encoding="utf-8")
    run("find", "vans", "--recall", "pump-housing", "--notices", "out")
    assert sorted(path.stem[13:] for path in Path("out").iterdir()) == ["crane", "ibis", "knot"]


@pytest.mark.parametrize(
    ("serial", "first", "last", "expected"),
    [
        ("A150", "A100", "A199", Within.yes),
        ("a-150", "A100", "A199", Within.yes),
        ("A0150", "A100", "A199", Within.yes),
        ("A1500", "A100", "A199", Within.no),
        ("A99", "A100", "A199", Within.no),
        ("B150", "A100", "A199", Within.no),
        ("LOT 150", "A100", "A199", Within.unclear),
        ("150", "A100", "A199", Within.unclear),
        ("A150B", "A100", "A199", Within.unclear),
        ("", "A100", "A199", Within.unclear),
        ("A5", "", "A199", Within.yes),
        ("A999999999999", "A100", "", Within.yes),
        ("2026-14-007", "2026-10-000", "2026-20-000", Within.yes),
        ("2026-21-007", "2026-10-000", "2026-20-000", Within.no),
    ],
)
def test_serial_numbers_are_compared_as_people_read_them(
    serial: str, first: str, last: str, expected: Within
) -> None:
    """Numbers by value, letters as letters, marks between them not at all."""
    assert within(serial, first, last) is expected


@pytest.mark.parametrize(
    ("one", "two"), [("A9", "A10"), ("A0", "A1"), ("A10", "B1"), ("7", "70"), ("A1-2", "A1-10")]
)
def test_keys_sort_as_numbers_do(one: str, two: str) -> None:
    """Nine comes before ten."""
    assert serial_key(one) < serial_key(two)
