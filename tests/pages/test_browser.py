"""Every page in a real browser: phone and desk, light and dark, from the file system."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from published import REGISTER

from specreg.model.field import Reader
from specreg.pages.publish import publish

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CHROMIUM = "/usr/bin/chromium"
WIDTHS = {"phone": (360, 740), "tablet": (800, 1100), "desk": (1280, 900)}

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser; without one the tests are skipped, or fail where skipping is forbidden."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        sync_playwright = None  # type: ignore[assignment]
    if sync_playwright is None or not Path(CHROMIUM).exists():
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail("there is no browser, and nothing may be skipped")
        pytest.skip("there is no browser")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workshop's edition of the demonstration register: the fullest pages there are."""
    into = tmp_path_factory.mktemp("browser") / "site"
    publish(REGISTER, Reader.workshop, into)
    return into


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("form", list(WIDTHS))
def test_every_page_is_quiet_and_fits(browser: Browser, site: Path, form: str, scheme: Any) -> None:
    """No error on the console, no request to anywhere else, nothing wider than the screen."""
    width, height = WIDTHS[form]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
    page, noise = context.new_page(), []
    page.on("console", lambda said: noise.append(said.text) if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: noise.append(str(error)))
    page.on(
        "request",
        lambda asked: noise.append(asked.url) if not asked.url.startswith(("file:", "data:")) else None,
    )
    wide = []
    files = sorted(site.rglob("*.html"))
    for file in files:
        page.goto(file.as_uri())
        if page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth"):
            wide.append(file.relative_to(site).as_posix())
    context.close()
    assert (noise, wide) == ([], [])
    assert len(files) > 10


def test_a_page_reads_without_a_script(browser: Browser, site: Path) -> None:
    """The emergency page has all its steps in a browser that runs no script."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "fieldwork" / "emergency.html").as_uri())
    assert page.locator("ol li").count() > 20
    context.close()


def test_the_field_finds_lines(browser: Browser, site: Path) -> None:
    """Typing a word leaves the lines of a table that have it, and only these."""
    page = browser.new_page()
    page.goto((site / "fieldwork" / "parts.html").as_uri())
    rows = page.locator(".finder + table").first.locator("tbody tr")
    fitting = [line for line in rows.all_inner_texts() if "battery" in line.lower()]
    assert 0 < len(fitting) < rows.count()
    page.locator(".finder input").first.fill("Battery")
    shown = [row.inner_text() for row in rows.all() if row.is_visible()]
    assert shown == fitting
    page.close()


CONTRAST = """() => {
  const parse = c => c.match(/[\\d.]+/g).map(Number);
  const lum = c => { const [r, g, b] = c.map(v => { v /= 255; return v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; });
                     return .2126 * r + .7152 * g + .0722 * b; };
  const ground = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor);
                        if (c.length < 4 || c[3] > 0) return c.slice(0, 3); } return [255, 255, 255]; };
  const poor = new Set();
  for (const e of document.querySelectorAll("body *")) {
    if (e.closest("svg") || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    const a = lum(parse(getComputedStyle(e).color).slice(0, 3)), b = lum(ground(e));
    const ratio = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
    if (ratio < 4.5) poor.add(e.tagName + "." + e.className + " " + ratio.toFixed(2));
  }
  return [...poor];
}"""
"""Contrast ratio by WCAG 2.2, 1.4.3 and its definition of relative luminance."""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_stands_out_enough(browser: Browser, site: Path, scheme: Any) -> None:
    """Every text has a contrast of at least 4.5 to 1 (WCAG 2.2, 1.4.3)."""
    context = browser.new_context(color_scheme=scheme)
    page = context.new_page()
    for name in ("index", "emergency", "electrics", "weights", "check", "check-dc", "how-to"):
        page.goto((site / "fieldwork" / f"{name}.html").as_uri())
        assert page.evaluate(CONTRAST) == [], name
    context.close()
