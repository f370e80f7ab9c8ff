"""What was laid and fitted comes back from a hold point's sheet, and the spec's own files stay as they are."""

from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from small_register import HERON, write_build

from specreg.cli.commands import cli
from specreg.source import plain
from specreg.source.register import open_register, read_source
from specreg.trade.answers import is_answers

HEAD = "mark,on,length,device,serial,fitted_on,photo\n"


@pytest.fixture
def van(tmp_path: Path) -> Path:
    """A van with designations and a photograph."""
    folder = write_build(tmp_path, text=HERON)
    CliRunner().invoke(cli, ["schedule", str(folder), "--assign"])
    (folder / "w3.jpg").write_bytes(b"picture")
    return folder


def record(van: Path, rows: str, *words: str) -> Result:
    (van.parent / "filled.csv").write_text(HEAD + rows, encoding="utf-8")
    return CliRunner().invoke(cli, ["record", str(van), str(van.parent / "filled.csv"), *words])


def read(van: Path) -> dict[str, Any]:
    source = read_source(open_register(van.parent, "builds"), van)
    assert source.problems == ()
    assert source.tree is not None
    return dict(plain(source.tree))


ROWS = "-W3,,3.4 m,,,,w3.jpg\n,fuse-box/pump,,7.5 A,,,\n,water-pump,,,LP-77,2026-05-02,\n,battery-main,,,,,\n"


def test_answers_are_shown_first_and_then_laid_over_the_spec(van: Path) -> None:
    """By designation or id; the spec's own file is not touched; the photograph has its checksum."""
    marks = (van / "designations.yaml").read_text(encoding="utf-8")
    rows = ROWS.replace(
        "-W3", next(m.partition(": ")[2] for m in marks.splitlines() if m.startswith("pump-feed:")).strip('"')
    )
    before = (van / "spec.yaml").read_bytes()
    shown = record(van, rows)
    assert shown.exit_code == 0, shown.stderr
    assert "would say: runs.pump-feed.length: 3.4 m" in shown.stdout
    assert "Nothing is written yet" in shown.stdout
    assert not (van / "fitted.yaml").exists()
    assert record(van, rows, "--write").exit_code == 0
    found = read(van)
    assert found["runs"]["pump-feed"]["length"] == "3.4 m"
    assert found["components"]["fuse-box"]["ways"] == {"pump": {"fuse": "7.5 A", "family": "blade"}}
    assert found["components"]["water-pump"]["serial"] == "LP-77"
    assert found["records"]["photos"] == [
        {"file": "w3.jpg", "shows": ["pump-feed"], "checksum": sha256(b"picture").hexdigest()}
    ]
    assert (van / "spec.yaml").read_bytes() == before
    again = record(van, rows, "--write")
    assert again.stdout.splitlines()[-1] == "0 to write, 5 as written already, 1 blank"


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (",water-pomp,,,LP-77,,", "nearest is"),
        (",pump-feed,3.4,,,,", "not a length"),
        (",pump-feed,,,LP-77,,", "`pump-feed` has no serial"),
        (",water-pump,,,,2026-5-2,", "not a day"),
        (",water-pump,,10 A,,,", "`water-pump` has no device"),
        (",pump-feed,,,,,w9.jpg", "not there"),
        (",pump-feed,,,,,../w3.jpg", "leads out of the folder"),
        (",pump-feed,3 m,,,,\n,pump-feed,4 m,,,,", "answered on line 2, too"),
    ],
)
def test_an_answer_that_cannot_be_is_a_problem_with_its_place(van: Path, row: str, says: str) -> None:
    """Nothing is written while there is one."""
    done = record(van, f"{row}\n", "--write")
    assert done.exit_code == 2
    assert "filled.csv:" in done.stderr
    assert says in done.stderr
    assert not (van / "fitted.yaml").exists()


def test_a_persons_remarks_are_not_written_over(van: Path) -> None:
    """The file is refused rather than rewritten without them."""
    (van / "fitted.yaml").write_text("# my own remark\nruns: {pump-feed: {length: 3 m}}\n", encoding="utf-8")
    done = record(van, ",pump-feed,3.4 m,,,,\n", "--write")
    assert done.exit_code == 2
    assert "my own remark" in done.stderr


def test_what_was_answered_before_stays(van: Path) -> None:
    """A second sheet adds to the first; an empty value that takes a thing away stays, too."""
    (van / "fitted.yaml").write_text("components: {water-pump: ~}\nruns: {pump-feed: ~}\n", encoding="utf-8")
    assert record(van, ",battery-main,0.9 m,,,,\n", "--write").exit_code == 0
    found = read(van)
    assert "water-pump" not in found["components"]
    assert found["runs"]["battery-main"]["length"] == "0.9 m"


@pytest.mark.parametrize(
    ("head", "is_one"),
    [
        (b"mark,on,length\n", True),
        (b'"mark";"photo"\n', True),
        (b"test,mark,on,value,result\n", False),
        (b"mark,on\n", False),
    ],
)
def test_the_header_tells_answers_from_tests(head: bytes, is_one: bool) -> None:
    """Both kinds of sheet go to the same command."""
    assert is_answers(head) is is_one


@pytest.mark.parametrize("point", ["panels-close", "energise", "gas-on", "hand-over"])
def test_an_empty_sheet_comes_back_with_nothing(van: Path, point: str) -> None:
    """What a hold point prints is what is taken back; unfilled lines are blank."""
    printed = CliRunner().invoke(cli, ["schedule", str(van), "--at", point, "--format", "csv"]).stdout
    (van.parent / "sheet.csv").write_text(printed, encoding="utf-8")
    done = CliRunner().invoke(cli, ["record", str(van), str(van.parent / "sheet.csv")])
    if len(printed.splitlines()) > 1:
        assert done.exit_code == 0, done.stderr
        assert done.stdout.startswith("0 to write, 0 as written already")
