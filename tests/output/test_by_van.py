"""A check told van by van is the document that would be made of all vans at once."""

import errno
from collections.abc import Callable
from io import StringIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from small_register import HERON, changed, write_build, write_rules

from specreg import shipped
from specreg.cli.commands import cli
from specreg.output import form_of, inspection_text
from specreg.output.as_json import dumps, inspection_data
from specreg.output.by_van import Ended, NoRoomError, Told
from specreg.output.sarif import sarif
from specreg.output.style import Style
from specreg.report import Inspection
from specreg.workshop import inspect_all, load

Register = Callable[..., Inspection]

SPECS = {
    "no van": {},
    "one": {"heron": HERON},
    "two": {"heron": HERON, "egret": HERON.replace("build: heron", "build: egret")},
    "one that cannot be read": {"egret": "format: 1\n", "heron": HERON},
    "none that can be read": {"egret": "format: 1\n"},
}


@pytest.fixture
def register(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Register:
    """Inspect a register of some vans with the small pack."""
    pack = write_rules(tmp_path / "pack")
    monkeypatch.setattr(shipped, "rules_folder", lambda: pack)
    monkeypatch.chdir(tmp_path)

    def of(specs: dict[str, str]) -> Inspection:
        (tmp_path / "vans").mkdir(exist_ok=True)
        for name, text in specs.items():
            write_build(tmp_path / "vans", name, text)
        return inspect_all(load("vans"))

    return of


@pytest.mark.parametrize("name", sorted(SPECS))
def test_told_van_by_van_it_is_the_same_json(name: str, register: Register) -> None:
    """Byte for byte what a writer of JSON makes of the whole."""
    found = register(SPECS[name])
    assert inspection_text(found, "json", Style()) == dumps(inspection_data(found))
    for everything in (False, True):
        told = inspection_text(found, "sarif", Style(), everything=everything)
        assert told == dumps(sarif(found, everything=everything))


@pytest.mark.parametrize("name", sorted(SPECS))
def test_told_van_by_van_it_is_set_like_one_document(name: str, register: Register) -> None:
    """A suite for each van, set in as a writer of XML would, and their sums above them."""
    found = register(SPECS[name])
    text = inspection_text(found, "junit", Style())
    root = ElementTree.fromstring(text.encode())
    suites = [suite.get("name") for suite in root]
    sound = sorted(van for van, spec in SPECS[name].items() if spec != "format: 1\n")
    assert suites == [*sound, *(["spec"] if found.problems else [])]
    for word in ("tests", "failures", "errors", "skipped"):
        assert root.get(word) == str(sum(int(suite.get(word, "0")) for suite in root))
    ElementTree.indent(root)
    assert text.partition("\n")[2] == ElementTree.tostring(root, encoding="unicode") + "\n"


class Full(StringIO):
    """A file on a disk without room: what is written shows when it is to be read."""

    def __init__(self, late: bool) -> None:
        super().__init__()
        self._late = late

    def write(self, text: str) -> int:
        if not self._late:
            raise OSError(errno.ENOSPC, "No space left on device")
        return super().write(text)

    def seek(self, *_: int) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("late", [False, True])
@pytest.mark.parametrize("form", ["json", "junit", "markdown", "sarif"])
def test_where_nothing_more_can_wait_that_is_said(form: str, late: bool, register: Register) -> None:
    """The error is told from those of what is read and written, before anything is printed."""
    [report] = register({"heron": changed(("capacity: 100 Ah", "capacity: 80 Ah"))}).reports
    told = Told(form_of(form), Full(late))
    with pytest.raises(NoRoomError) as raised:
        told.add(report)
        told.text(Ended((), (), 0))
    assert raised.value.errno == errno.ENOSPC


def test_an_error_without_a_number_is_said_in_its_own_words(register: Register) -> None:
    """A file system of somebody's own may raise one that has no more than words."""

    class Gone(StringIO):
        def write(self, text: str) -> int:
            raise OSError("the drive is gone")

    [report] = register({"heron": HERON}).reports
    with pytest.raises(NoRoomError) as raised:
        Told(form_of("json"), Gone()).add(report)
    assert raised.value.strerror == "the drive is gone"


@pytest.mark.parametrize("form", ["json", "sarif"])
def test_a_command_whose_answer_cannot_wait_says_so(
    form: str, register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing of it is printed, and no traceback is."""
    register({"heron": HERON})
    monkeypatch.setattr("tempfile.SpooledTemporaryFile", lambda *_, **__: Full(late=True))
    result = CliRunner().invoke(cli, ["inspect", "vans", "--format", form])
    assert (result.exit_code, result.stdout) == (2, "")
    assert "problem: the answer cannot wait on the disk: No space left on device; make room" in result.stderr
