"""What the check of an unchanged van said is kept, and never told once anything that it depends on is another."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from small_register import write_build

from specreg import keeping, kept_checks
from specreg.accepted import Record
from specreg.cli.commands import cli
from specreg.cli.options import OWN_PROCESS
from specreg.kept_checks import KeptChecks, Said
from specreg.output.style import Style

REQUEST = ("any", "thing")
LONG_AGO = 1_600_000_000


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A register of two vans with everything that an inspection may read, and a folder for what is kept."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("SPECREG_NO_CACHE", raising=False)
    monkeypatch.chdir(tmp_path)
    vans = tmp_path / "vans"
    write_build(vans)
    write_build(vans, "egret")
    for name, text in {
        "register.yaml": "workshop: W\nfiles: ../files\n",
        "parts/a.yaml": "pump-a: {kind: pump}\n",
        "recalls/r.yaml": "title: t\n",
        "rules/dc/own.md": "---\n---\n",
        "heron/photos/a.jpg": "x",
        "../files/heron/b.jpg": "x",
    }.items():
        (vans / name).parent.mkdir(parents=True, exist_ok=True)
        (vans / name).write_text(text, encoding="utf-8")
    for path in vans.parent.rglob("*.jpg"):
        os.utime(path, (LONG_AGO, LONG_AGO))
    return vans


@pytest.fixture(autouse=True)
def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hours have gone by, so that the times of files tell whether they changed."""
    monkeypatch.setattr(time, "time_ns", lambda now=time.time_ns: now() + 3600 * 10**9)


def mark(
    home: Path, request: tuple[object, ...] = REQUEST, shown: str = "vans", build: str = "heron"
) -> bytes | None:
    return KeptChecks(home, shown, request).mark(build)


def write(name: str, text: str = "# another\n") -> Callable[[Path], object]:
    def change(home: Path) -> None:
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        with (home / name).open("a", encoding="utf-8") as file:
            file.write(text)

    return change


def link(name: str, to: str) -> Callable[[Path], object]:
    """Put a link, in place of what is there."""

    def change(home: Path) -> None:
        if (home / name).exists():
            (home / name).rename(home / f"{name}-was")
        (home / name).symlink_to(to)

    return change


def rewritten_at_its_time(home: Path) -> None:
    (home / "heron/photos/a.jpg").write_text("y", encoding="utf-8")
    os.utime(home / "heron/photos/a.jpg", (LONG_AGO, LONG_AGO))


def same_size(name: str) -> Callable[[Path], object]:
    """Write other content of the same size and give the file the times that it had."""

    def change(home: Path) -> None:
        was = (home / name).stat()
        text = (home / name).read_text(encoding="utf-8")
        (home / name).write_text(text[:-2] + "#" + text[-1:], encoding="utf-8")
        os.utime(home / name, ns=(was.st_atime_ns, was.st_mtime_ns))

    return change


CHANGES: dict[str, Callable[[Path], object]] = {
    "a word of the spec": write("heron/spec.yaml"),
    "a word of the spec, times set back": same_size("heron/spec.yaml"),
    "a further file of the van": write("heron/more.yaml"),
    "the private file": write("heron/private.yaml"),
    "a file of the van is gone": lambda home: (home / "heron/photos/a.jpg").unlink(),
    "a file of the van is called otherwise": lambda home: (home / "heron/photos/a.jpg").rename(
        home / "heron/photos/b.jpg"
    ),
    "a further photograph": link("heron/photos/c.jpg", "a.jpg"),
    "a photograph": write("heron/photos/a.jpg"),
    "a photograph, times set back": rewritten_at_its_time,
    "a photograph outside git": write("../files/heron/b.jpg"),
    "a photograph outside git is gone": lambda home: (home / "../files/heron/b.jpg").unlink(),
    "the register": write("register.yaml"),
    "the register is gone": lambda home: (home / "register.yaml").unlink(),
    "a part": write("parts/a.yaml"),
    "a further file of parts": write("parts/b.yaml"),
    "an assembly": write("assemblies/a.yaml"),
    "a recall": write("recalls/r.yaml"),
    "a rule of the register's own": write("rules/dc/own.md"),
    "a procedure": write("heron/procedures/fill.md"),
}


@pytest.mark.parametrize("name", sorted(CHANGES))
def test_a_change_gives_another_mark(home: Path, name: str) -> None:
    before, other = mark(home), mark(home, build="egret")
    assert before is not None
    assert mark(home) == before
    CHANGES[name](home)
    assert mark(home) != before
    shared = not name.startswith(
        (
            "a word",
            "a further file of the van",
            "the private",
            "a file of",
            "a photo",
            "a further photo",
            "a proc",
        )
    )
    assert (mark(home, build="egret") != other) is shared


RECORD = Record("accepted.yaml")


@pytest.mark.parametrize(
    "request_",
    [("stage", None), (date(2026, 5, 1),), (Style(80),), (Style(None, True),), (RECORD,), ()],
    ids=lambda request: repr(request)[:40],
)
def test_another_request_gives_another_mark(home: Path, request_: tuple[object, ...]) -> None:
    assert mark(home, request_) not in (None, mark(home))
    assert mark(home, request_) == mark(home, request_)


def test_other_names_of_places_give_another_mark(home: Path) -> None:
    assert mark(home, shown="../vans") != mark(home)
    assert mark(home, build="egret") != mark(home)


def test_another_program_gives_another_mark(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "program" / "facts").mkdir(parents=True)
    (tmp_path / "program" / "facts" / "a.py").write_text("a = 1\n", encoding="utf-8")
    monkeypatch.setattr(kept_checks, "PACKAGE", tmp_path / "program")
    before = mark(home)
    (tmp_path / "program" / "facts" / "a.py").write_text("a = 22\n", encoding="utf-8")
    assert mark(home) not in (None, before)
    (tmp_path / "program" / "facts" / "b.csv").write_text("", encoding="utf-8")
    after = mark(home)
    monkeypatch.setattr(kept_checks, "__version__", "0.0.0")
    assert len({before, after, mark(home), None}) == 4


def young(path: Path) -> None:
    now = time.time_ns()
    os.utime(path, ns=(now, now))


UNSURE: dict[str, Callable[[Path], object]] = {
    "a link for a file": link("heron/link.yaml", "spec.yaml"),
    "a link for a folder": link("heron/more", "photos"),
    "a link for the parts": link("parts", "parts-was"),
    "a link for the van": link("heron", "heron-was"),
    "a pipe": lambda home: os.mkfifo(home / "heron/pipe.yaml"),
    "a photograph of just now": lambda home: young(home / "heron/photos/a.jpg"),
}


@pytest.mark.parametrize("name", sorted(UNSURE))
def test_nothing_is_kept_where_a_change_might_not_show(home: Path, name: str) -> None:
    assert mark(home) is not None
    UNSURE[name](home)
    assert mark(home) is None


SAID = Said("text é \ud800\n{}\n\n", "heron", "heron: 1 passes", 1)


def test_what_is_kept_is_told_again(home: Path) -> None:
    checks = KeptChecks(home, "vans", REQUEST)
    found = checks.mark("heron")
    assert checks.taken("heron", found) is None
    checks.keep(SAID, found)
    assert KeptChecks(home, "vans", REQUEST).taken("heron", found) == SAID
    assert checks.taken("egret", checks.mark("egret")) is None
    assert checks.taken("heron", None) is None


def test_what_changed_meanwhile_is_not_kept(home: Path) -> None:
    checks = KeptChecks(home, "vans", REQUEST)
    found = checks.mark("heron")
    write("heron/spec.yaml")(home)
    checks.keep(SAID, found)
    assert checks.taken("heron", found) is None
    assert not list((home.parent / "cache").rglob("check-*"))


def test_a_spoiled_file_is_not_believed(home: Path) -> None:
    checks = KeptChecks(home, "vans", REQUEST)
    found = checks.mark("heron")
    checks.keep(SAID, found)
    (file,) = (home.parent / "cache").rglob("check-*")
    whole = file.read_bytes()
    for place in range(len(whole)):
        file.write_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :])
        assert checks.taken("heron", found) is None
        file.write_bytes(whole[:place])
        assert checks.taken("heron", found) is None
    file.write_bytes(whole)
    file.chmod(0o666)
    assert checks.taken("heron", found) is None, "anybody may have written it"
    file.chmod(0o600)
    assert checks.taken("heron", found) == SAID


# the command


def inspect(*words: str, own: bool = True) -> Result:
    return CliRunner().invoke(cli, ["inspect", *words], obj=OWN_PROCESS if own else None)


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the vans that are judged, as it happens."""
    from specreg import workshop

    found: list[str] = []
    real = workshop.inspect

    def noted(build: object, *rest: object) -> object:
        found.append(build.name)  # type: ignore[attr-defined]
        return real(build, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(workshop, "inspect", noted)
    return found


@pytest.fixture
def plain(home: Path) -> Path:
    """The same register without what has problems."""
    for name in ("recalls/r.yaml", "rules/dc/own.md"):
        (home / name).unlink()
    return home


def test_only_what_changed_is_judged_again(plain: Path, judged: list[str]) -> None:
    first = inspect("vans")
    assert judged == ["egret", "heron"]
    again = inspect("vans")
    assert judged == ["egret", "heron"]
    assert (again.output, again.exit_code) == (first.output, first.exit_code)
    write("heron/spec.yaml")(plain)
    third = inspect("vans")
    assert judged == ["egret", "heron", "heron"]
    assert third.output == first.output
    write("parts/a.yaml")(plain)
    inspect("vans")
    assert judged[3:] == ["egret", "heron"]


def test_what_is_kept_reads_as_what_is_judged(plain: Path) -> None:
    for words in (
        ["vans/heron"],
        ["vans/heron", "--all"],
        ["vans", "--stop-at", "note"],
        ["vans", "--for", "hand-over"],
    ):
        fresh = inspect(*words, own=False)
        inspect(*words)
        kept = inspect(*words)
        assert (kept.stdout, kept.exit_code) == (fresh.stdout, fresh.exit_code)


def test_a_program_that_calls_the_command_is_told_nothing_old(plain: Path, judged: list[str]) -> None:
    inspect("vans")
    inspect("vans", own=False)
    assert judged == ["egret", "heron"] * 2


def test_keeping_can_be_switched_off(plain: Path, judged: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SPECREG_NO_CACHE", "1")
    inspect("vans")
    inspect("vans")
    assert judged == ["egret", "heron"] * 2
    assert not list((plain.parent / "cache").rglob("check-*"))


def test_what_cannot_be_read_is_read_again(home: Path, judged: list[str]) -> None:
    """While a rule of the register's own has a problem, every run says so."""
    first, again = inspect("vans"), inspect("vans")
    assert first.exit_code == again.exit_code == 2
    assert "rules/dc/own.md" in first.stderr
    assert first.output == again.output
    assert judged == ["egret", "heron"] * 2


def test_a_van_that_cannot_be_read_stops_no_other(plain: Path, judged: list[str]) -> None:
    write("heron/spec.yaml", "nonsense: [\n")(plain)
    first, again = inspect("vans"), inspect("vans")
    assert first.exit_code == again.exit_code == 2
    assert first.output == again.output
    assert "heron: not judged" in again.stdout
    assert judged == ["egret"]


def test_what_was_not_written_for_long_is_forgotten(home: Path) -> None:
    """Of registers that are gone nothing stays for ever; files of others in the folder are not touched."""
    folder = home.parent / "cache" / "specreg"
    folder.mkdir(parents=True, mode=0o700)
    for name in ("check-old.bin", "register-old.index", "pack-old.bin", "check-new.bin", "other.bin"):
        (folder / name).write_bytes(b"x")
        if "new" not in name:
            os.utime(folder / name, (LONG_AGO, LONG_AGO))
    (folder / "check-folder").mkdir()
    keeping._forget_in.cache_clear()
    checks = KeptChecks(home, "vans", REQUEST)
    checks.keep(SAID, checks.mark("heron"))
    left = {path.name for path in folder.iterdir() if not path.name.startswith(".")}
    assert {"check-new.bin", "other.bin", "check-folder"} < left
    assert len(left) == 4
