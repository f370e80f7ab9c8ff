"""The preview: pages that follow what is written, on this computer only, and nothing written in the register."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

import pytest

from specreg.model.field import Reader
from specreg.pages.publish import publish
from specreg.preview.server import Pages
from specreg.preview.state import Preview
from specreg.preview.watching import follow

if TYPE_CHECKING:
    from playwright.sync_api import Browser

BUILDS = Path(__file__).parents[2] / "builds"
CHROMIUM = "/usr/bin/chromium"


@pytest.fixture
def pocket(tmp_path: Path) -> Path:
    """A register with the smallest demo van alone."""
    return copied(tmp_path)


def copied(place: Path) -> Path:
    """Copy the smallest demo van into a register of its own."""
    for name in ("parts", "assemblies", "pocket"):
        shutil.copytree(BUILDS / name, place / "builds" / name)
    shutil.copy(BUILDS / "register.yaml", place / "builds")
    return place / "builds" / "pocket"


def files(folder: Path) -> dict[str, bytes]:
    """Every file of a folder with what it holds."""
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture
def preview(pocket: Path) -> Iterator[Preview]:
    """A preview of that van, not made yet."""
    made = Preview(pocket, Reader.owner, pocket.parent)
    yield made
    made.close()


def test_broken_text_keeps_the_last_good_pages_and_shows_the_problem(preview: Preview, pocket: Path) -> None:
    """Pages stay while a spec cannot be read; they come anew when it can."""
    good = preview.make()
    assert good.site is not None and not good.problems and good.summary
    spec = pocket / "spec.yaml"
    text = spec.read_text(encoding="utf-8")
    spec.write_text(text.replace("stage:", "stge:", 1), encoding="utf-8")
    broken = preview.make()
    assert broken.site == good.site and broken.pages == good.pages and broken.news == good.news + 1
    assert any("stge" in problem for problem in broken.problems)
    assert (good.site / "index.html").is_file()
    spec.write_text(text, encoding="utf-8")
    again = preview.make()
    assert not again.problems and again.pages == good.pages + 1
    assert not good.site.exists()


def test_pages_are_those_that_publish_writes(preview: Preview, pocket: Path, tmp_path: Path) -> None:
    """The strip is put in on the way to the browser and stands in no file."""
    before = files(pocket.parent)
    shown = preview.make()
    published = publish(pocket, Reader.owner, tmp_path / "site")
    assert shown.site is not None and published.files
    for name in published.files:
        assert (shown.site / name).read_bytes() == (tmp_path / "site" / name).read_bytes(), name
    assert files(pocket.parent) == before


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Pages]:
    """The server of a preview on a free port, which is asked and not changed."""
    pocket = copied(tmp_path_factory.mktemp("preview"))
    preview = Preview(pocket, Reader.owner, pocket.parent)
    preview.make()
    with Pages(preview, 0) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()
    preview.close()


def asked(pages: Pages, path: str, host: str | None = None) -> tuple[int, str]:
    """The status and text of an answer."""
    connection = http.client.HTTPConnection("127.0.0.1", pages.server_port, timeout=30)
    connection.request("GET", path, headers={"Host": host} if host else {})
    answer = connection.getresponse()
    return answer.status, answer.read().decode()


@pytest.mark.parametrize(
    ("path", "status", "holds"),
    [
        ("/", 200, "/preview/strip.js"),
        ("/index.html", 200, "/preview/strip.js"),
        ("/book.css", 200, "body"),
        ("/no-such-page.html", 404, "There is no such page"),
        ("/../../../../etc/passwd", 404, "There is no such page"),
        ("/%2e%2e/%2e%2e/etc/passwd", 404, "There is no such page"),
        ("/preview/state?news=0", 200, '"problems": []'),
        ("/offline.js", 200, "unregister"),
    ],
)
def test_what_is_served(pages: Pages, path: str, status: int, holds: str) -> None:
    """Pages with the strip, files as they are, and nothing beside the site."""
    found, text = asked(pages, path)
    assert found == status and holds in text


def test_only_this_computer_is_answered(pages: Pages) -> None:
    """The server listens on the loop-back address, and not to a page elsewhere that names it otherwise."""
    assert pages.server_address[0] == "127.0.0.1"
    assert asked(pages, "/", "van.example:80")[0] == 403


@pytest.mark.parametrize("told_by_the_system", [True, False])
def test_a_change_is_noticed_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, told_by_the_system: bool
) -> None:
    """Several files that change at once are one change; a file of another sort is none."""
    if not told_by_the_system:
        monkeypatch.setitem(sys.modules, "watchfiles", None)
    (tmp_path / "a.yaml").write_text("a: 1\n")
    told, ended, came = [], Event(), Event()

    def changed() -> None:
        told.append(1)
        came.set()

    watching = Thread(target=follow, args=(tmp_path, changed, ended), daemon=True)
    watching.start()
    ended.wait(0.5)
    (tmp_path / "photo.jpg").write_bytes(b"x")
    (tmp_path / "a.yaml").write_text("a: 22\n")
    (tmp_path / "b.yaml").write_text("b: 1\n")
    assert came.wait(20)
    ended.wait(1)
    ended.set()
    watching.join(20)
    assert len(told) == 1 and not watching.is_alive()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser; without one the test is skipped, or fails where skipping is forbidden."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        sync_playwright = None  # type: ignore[assignment]
    if sync_playwright is None or not Path(CHROMIUM).exists():
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail("there is no browser, and nothing may be skipped")
        pytest.skip("there is no browser")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield opened
        opened.close()


@pytest.mark.browser
def test_an_open_page_follows_what_is_written(browser: Browser, pocket: Path) -> None:
    """A saved change comes to the open page; a broken one shows the problem above the last good page."""
    command = [sys.executable, "-m", "specreg", "preview", str(pocket), "--port", "0"]
    running = subprocess.Popen(command, stderr=subprocess.PIPE, text=True, encoding="utf-8")
    try:
        assert running.stderr is not None
        lines = iter(running.stderr.readline, "")
        address = next(found[0] for line in lines if (found := re.search(r"http://127\S+", line)))
        page = browser.new_page()
        noise: list[str] = []
        page.on("console", lambda said: noise.append(said.text) if said.type == "error" else None)
        page.goto(address)
        page.wait_for_function("document.body.innerText.length > 200")
        page.get_by_text("Preview: pocket:").wait_for()
        spec = pocket / "spec.yaml"
        text = spec.read_text(encoding="utf-8")
        title = re.search(r"^title: (.+)$", text, re.MULTILINE)
        assert title is not None
        before = files(pocket.parent)
        changed = text.replace(title[0], "title: The van with another name", 1)
        spec.write_text(changed, encoding="utf-8")
        page.get_by_role("heading", name="The van with another name").first.wait_for(timeout=60_000)
        spec.write_text(changed.replace("stage:", "stge:", 1), encoding="utf-8")
        page.get_by_text("unknown key `stge`").wait_for(timeout=60_000)
        assert page.get_by_role("heading", name="The van with another name").first.is_visible()
        spec.write_text(text, encoding="utf-8")
        page.get_by_role("heading", name=title[1]).first.wait_for(timeout=60_000)
        page.get_by_text("unknown key `stge`").wait_for(state="detached", timeout=60_000)
        assert files(pocket.parent) == before
        assert noise == []
    finally:
        running.send_signal(signal.SIGINT)
        running.communicate(timeout=30)
    assert running.returncode == 0
