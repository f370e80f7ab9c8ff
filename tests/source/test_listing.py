"""By the names in a register: what is read, what is told though it is not read, which folders are vans."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from specreg.cli.commands import cli
from specreg.source.listing import is_build, is_mistaken, is_read
from specreg.workshop import load, rules_for

SPEC = "format: 1\nbuild: van\ntitle: T\nstage: design\njurisdictions: [uk]\ncomponents:\n  bar: {kind: bus-bar, studs: 4}\n"
MORE = "components:\n  lamp: {kind: ceiling-light}\n"
UNREAD = "a file of this name is not read"


@pytest.fixture
def vans(tmp_path: Path) -> Path:
    """A register of one van."""
    folder = tmp_path / "vans"
    (folder / "van").mkdir(parents=True)
    (folder / "van" / "spec.yaml").write_text(SPEC)
    return folder


def run(*words: object) -> tuple[int, str]:
    """Exit code and output of a command."""
    done = CliRunner().invoke(cli, [str(word) for word in words])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, done.output


@pytest.mark.parametrize(
    ("name", "read", "mistaken"),
    [
        ("spec.yaml", True, False), ("a.b.yaml", True, False), ("spec.yml", False, True), ("spec.YAML", False, True),
        ("Spec.Yml", False, True), (".#spec.yaml", False, False), ("._spec.yaml", False, False), (".spec.yml", False, False),
        ("spec.yaml.bak", False, False), ("spec.yaml~", False, False), ("yaml", False, False), ("notes.md", False, False),
    ],
)  # fmt: skip
def test_what_a_name_says(name: str, read: bool, mistaken: bool) -> None:
    """A file is read, or somebody may believe that it is, or neither."""
    assert (is_read(name), is_mistaken(name)) == (read, mistaken)


@pytest.mark.parametrize("name", [".#spec.yaml", "._more.yaml", ".more.yaml"])
@pytest.mark.parametrize("where", ["van", "parts", "assemblies", "recalls"])
def test_what_an_editor_leaves_beside_a_file_is_no_file_of_the_register(
    name: str, where: str, vans: Path
) -> None:
    """Some editors mark an open file by a link that leads nowhere, some systems by a file of their own."""
    (vans / where).mkdir(exist_ok=True)
    if name.startswith(".#"):
        (vans / where / name).symlink_to("somebody@somewhere.123")
    else:
        (vans / where / name).write_bytes(b"\0\xff")
    assert load(vans).problems == ()
    assert run("find", vans, "bar")[0] == 0


@pytest.mark.parametrize("name", ["van/more.yml", "van/more.YAML", "parts/p.yml", "assemblies/a.yml", "recalls/r.yml", "register.yml"])  # fmt: skip
def test_a_misspelt_file_is_told(name: str, vans: Path) -> None:
    """It was passed over in silence: a lamp in it would be in no check and on no page."""
    run("inspect", vans)
    assert run("find", vans, "bar")[0] == 0
    (vans / name).parent.mkdir(exist_ok=True)
    (vans / name).write_text(MORE)
    right = Path(name).with_suffix(".yaml").name
    (problem,) = load(vans).problems
    assert problem.message == UNREAD and problem.expected == right
    for words in (("inspect", vans), *([("find", vans, "bar")] if not name.startswith("recalls") else [])):
        code, said = run(*words)
        assert code == 2 and f"{name}:1:1: problem: {UNREAD}" in said, said
    (vans / name).unlink()
    assert load(vans).problems == () and run("find", vans, "bar")[0] == 0


def test_a_misspelt_spec_is_still_a_van(vans: Path) -> None:
    """One problem, and what to do; the van was in no answer before."""
    (vans / "van" / "spec.yaml").rename(vans / "van" / "spec.yml")
    opened = load(vans)
    assert opened.unread == ("van",)
    assert [problem.message for problem in opened.problems] == [UNREAD]
    assert run("inspect", vans / "van") == run("inspect", vans)
    code, said = run("find", vans, "bar")
    assert code == 2 and "0 of 1 van" in said


def pipe(path: Path) -> None:
    """Put a pipe there."""
    os.mkfifo(path)


def nowhere(path: Path) -> None:
    """Put a link there that leads nowhere."""
    path.symlink_to("nowhere")


def ring(path: Path) -> None:
    """Put a link there that leads to itself."""
    path.symlink_to(path.name)


@pytest.mark.skipif(os.name != "posix", reason="links and pipes of POSIX")
@pytest.mark.parametrize("put", [Path.mkdir, pipe, nowhere, ring])
def test_a_spec_that_is_no_file_is_told(put: Callable[[Path], None], vans: Path) -> None:
    """A van whose spec is a broken link was passed over, and the check of the register ended well."""
    (vans / "other").mkdir()
    (vans / "other" / "spec.yaml").write_text(SPEC.replace("van", "other"))
    (vans / "van" / "spec.yaml").unlink()
    put(vans / "van" / "spec.yaml")
    publish = ("publish", vans / "van", "--reader", "owner", "--into", vans.parent / "site")
    for words in (("inspect", vans), ("inspect", vans / "van"), ("find", vans, "bar"), publish):
        code, said = run(*words)
        assert code == 2 and "van/spec.yaml:1:1: problem: " in said, (words, said)
    assert load(vans).unread == ("van",)


@pytest.mark.parametrize(
    ("name", "told"), [("as-built.yaml", True), ("fitted.yaml", True), ("designations.yaml", True), ("private.yaml", False), ("notes.yaml", False)]
)  # fmt: skip
def test_a_van_whose_spec_is_gone_is_told(name: str, told: bool, vans: Path) -> None:
    """What only a van has says that there was one; git leaves private files behind where it takes a van away."""
    gone = vans / "gone"
    gone.mkdir()
    (gone / name).write_text("{}\n")
    assert is_build(gone) is told
    assert ("gone" in load(vans).unread) is told
    assert run("find", vans, "bar")[0] == (2 if told else 0)


@pytest.mark.parametrize("name", ["parts", "assemblies", "recalls", "rules"])
def test_what_all_vans_share_is_no_van(name: str, vans: Path) -> None:
    """Neither is one begun there nor is a file there a spec, whatever it is called."""
    (vans / "register.yaml").write_text("workshop: W\n")
    code, said = run("start", vans / name, "--title", "T", "--in", "uk")
    assert code == 2 and "all vans share" in said and not (vans / name).exists()
    (vans / name).mkdir()
    (vans / name / "spec.yaml").write_text("{}\n")
    assert [one.name for one in load(vans).builds] == ["van"]
    assert "of 1 van" in run("find", vans, "bar")[1]


@pytest.mark.skipif(os.name != "posix", reason="pipes of POSIX")
def test_a_van_is_begun_though_a_package_cannot_be_read(vans: Path) -> None:
    """A pipe in the place of a package was waited for."""
    (vans / "register.yaml").write_text("workshop: W\n")
    (vans / "assemblies").mkdir()
    os.mkfifo(vans / "assemblies" / "a.yaml")
    code, said = run("start", vans / "new", "--title", "T", "--in", "uk")
    assert code == 0 and (vans / "new" / "spec.yaml").is_file(), said


@pytest.mark.parametrize("name", ["dc/my rule.md", "dc/a#b.md", "DC/own.md", "dc/a|b.md", "dc/own_rule.md"])
def test_a_rule_is_named_as_a_thing_is(name: str, vans: Path) -> None:
    """Its name stands in tables and links of the pages of rules."""
    path = vans / "rules" / name
    path.parent.mkdir(parents=True)
    path.write_text("")
    _, problems = rules_for(load(vans))
    message = "folder and file of a rule are lower-case words joined by hyphens"
    assert [(one.message, one.read) for one in problems] == [(message, name.removesuffix(".md"))]


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("own.md", True), ("dc/own.MD", True), ("dc/own.markdown", True), ("dc/more/own.md", True),
        ("README.md", False), ("dc/more/readme.md", False), ("dc/.#own.md", False), (".git/own.md", False), ("dc/own.txt", False),
    ],
)  # fmt: skip
def test_a_rule_in_a_wrong_place_is_told(name: str, told: bool, vans: Path) -> None:
    """A workshop would believe that its rule is put to every van."""
    path = vans / "rules" / name
    path.parent.mkdir(parents=True)
    path.write_text("")
    _, problems = rules_for(load(vans))
    messages = [(str(one.place).endswith(f"vans/rules/{name}:1:1"), one.message) for one in problems]
    assert messages == ([(True, "no rule is read from here")] if told else [])
