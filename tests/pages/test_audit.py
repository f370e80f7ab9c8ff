"""The pages before two auditors of other makes: axe-core for who cannot see them, the Nu checker for their markup.

Both live outside the tree; `SPECREG_AXE` names the script axe.min.js, `SPECREG_NU` the archive vnu.jar, which
needs Java.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from published import register_site
from test_browser import SHEETS, SIZES, browser

from specreg.model.field import Reader

if TYPE_CHECKING:
    from playwright.sync_api import Browser

__all__ = ["browser"]

AUDIT = """async () => (await axe.run(document, {selectors: false, resultTypes: ["violations"]})).violations.map(
  one => one.id + ": " + one.nodes.length + " such as " + one.nodes[0].html.slice(0, 200))"""

NEW_TO_THE_CHECKER = "CSS: “paint-order”"
"""A property of SVG 2 that the checker's list of styles has not yet."""

QUICK_START = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xshare:auto", "-Xss16m")
"""What Java is told where a process lives for seconds: to translate once, and plainly; the checker wants a deep stack."""


def tool(variable: str) -> Path:
    """The file that a variable names; without it a test is skipped, or fails where skipping is forbidden."""
    path = Path(os.environ.get(variable, ""))
    if not path.is_file():
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail(f"{variable} names no file, and nothing may be skipped")
        pytest.skip(f"{variable} names no file")
    return path


def audited(browser: Browser, files: list[Path], size: str, scheme: Any) -> dict[str, list[str]]:
    """What the audit objects to, by page."""
    axe = tool("SPECREG_AXE").read_text(encoding="utf-8")
    width, height = SIZES[size]
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)
    found = {}
    for file in files:
        page.goto(file.as_uri())
        page.evaluate(axe)
        found[file.name] = page.evaluate(AUDIT)
    page.close()
    return {name: objections for name, objections in found.items() if objections}


@pytest.mark.browser
def test_every_page_of_a_van_passes_the_audit_once(browser: Browser) -> None:
    """All rules of axe-core, also those that are only good practice, on every page but the book in one file."""
    site = register_site(Reader.workshop)
    files = sorted(page for page in (site / "fieldwork").glob("*.html") if page.stem != "fieldwork")
    assert len(files) > 30
    assert audited(browser, [site / "index.html", *files], "desk", "light") == {}


@pytest.mark.browser
@pytest.mark.parametrize(("size", "scheme"), [("phone", "light"), ("desk", "dark")])
def test_every_sort_of_page_passes_the_audit_in_every_look(browser: Browser, size: str, scheme: Any) -> None:
    """One page of each sort on a phone, and in the dark: width and colours are set apart from each other."""
    folder = register_site(Reader.workshop) / "winter-tourer"
    names = (
        *SHEETS,
        "questions",
        "labels",
        "labels-cables",
        "fault",
        "fault-water",
        "lists",
        "energy",
        "find",
    )
    files = [folder / f"{name}.html" for name in names if (folder / f"{name}.html").is_file()]
    assert len(files) > 20
    assert audited(browser, files, size, scheme) == {}


@pytest.mark.browser
def test_the_audit_finds_what_is_wrong(browser: Browser, tmp_path: Path) -> None:
    """A picture without words and a text that is too pale are objected to."""
    (tmp_path / "page.html").write_text(
        '<!DOCTYPE html><html lang="en"><title>x</title><main><h1>x</h1><img src="data:,">'
        '<p style="color: #bbb">pale</p></main></html>'
    )
    ((_, objections),) = audited(browser, [tmp_path / "page.html"], "desk", "light").items()
    assert [one.partition(":")[0] for one in objections] == ["color-contrast", "image-alt"]


def checked(files: list[Path]) -> dict[Path, list[str]]:
    """What the Nu checker objects to, by file, with one start of Java for all."""
    java = shutil.which("java")
    if java is None:
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail("there is no Java, and nothing may be skipped")
        pytest.skip("there is no Java")
    nu = str(tool("SPECREG_NU"))
    command = [java, *QUICK_START, "-jar", nu, "--errors-only", "--exit-zero-always", "--format", "json"]
    done = subprocess.run([*command, *map(str, files)], capture_output=True, text=True, check=True)
    said: dict[Path, list[str]] = {}
    for one in json.loads(done.stderr)["messages"]:
        if not one["message"].startswith(NEW_TO_THE_CHECKER):
            said.setdefault(Path(one["url"].removeprefix("file:")), []).append(one["message"])
    return said


def test_every_page_is_valid(tmp_path: Path) -> None:
    """Every file of two editions of the demonstration register, the books in one file too, and the check can fail.

    A page with a paragraph in the place of a list's entry is looked at with them, and objected to.
    """
    files = [
        page for reader in (Reader.public, Reader.workshop) for page in register_site(reader).rglob("*.html")
    ]
    assert len(files) > 100
    wrong = tmp_path / "page.html"
    wrong.write_text('<!DOCTYPE html><html lang="en"><title>x</title><ul><p>x</p></ul></html>')
    said = checked([*sorted(files), wrong])
    assert {file: len(objections) for file, objections in said.items()} == {wrong: 1}, said
