"""Every page in a real browser: phone and desk, light and dark, from the file system."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from published import register_site

from specreg.model.field import Reader
from specreg.shipped import site_folder

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
SIZES = {
    "phone": (320, 640),
    "tablet": (800, 1100),
    "desk": (1280, 900),
    "narrow desk": (1100, 800),
    "paper": (660, 980),
}
"""Width and height in CSS pixels; 320 is the width of WCAG 2.2, 1.4.10 (reflow). Paper is A4 (210 mm at 96 to
the inch) less its margins of 36 mm, rounded up to the next 20."""

SHEETS = (
    *("index", "emergency", "places", "sides", "ledger", "how-to", "electrics", "water"),
    *("energy", "heat", "beds", "weights", "parts", "sheet", "sheet-electrician"),
    *("check", "check-dc"),
)
"""One page of each sort."""

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
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def site() -> Path:
    """The workshop's edition of the demonstration register: the fullest pages there are."""
    return register_site(Reader.workshop)


def listened(page: Page) -> list[str]:
    """What a page says on its console or asks for from elsewhere, as it comes."""
    noise: list[str] = []
    page.on("console", lambda said: noise.append(said.text) if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: noise.append(str(error)))
    page.on("requestfailed", lambda asked: noise.append(f"not there: {asked.url}"))
    page.on(
        "request",
        lambda asked: noise.append(asked.url) if not asked.url.startswith(("file:", "data:")) else None,
    )
    return noise


TOO_WIDE = "document.documentElement.scrollWidth > document.documentElement.clientWidth"


def too_wide(page: Page, files: list[Path]) -> list[str]:
    """The pages that would have to be pushed sideways to be read."""
    wide = []
    for file in files:
        page.goto(file.as_uri())
        if page.evaluate(TOO_WIDE):
            wide.append(file.name)
    return wide


def test_every_page_is_quiet_and_fits_on_a_phone(browser: Browser, site: Path) -> None:
    """No error on the console, no request to anywhere else, nothing wider than the screen."""
    files = sorted(site.rglob("*.html"))
    assert len(files) > 60
    width, height = SIZES["phone"]
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme="light")
    noise = listened(page)
    assert (too_wide(page, files), noise) == ([], [])
    page.close()


LOOKS: tuple[tuple[str, Any, Any], ...] = (
    ("phone", "dark", "screen"),
    ("tablet", "light", "screen"),
    ("desk", "light", "screen"),
    ("narrow desk", "light", "screen"),
    ("desk", "dark", "screen"),
    ("paper", "light", "print"),
    ("paper", "dark", "print"),
)
"""Size, colours and medium; no script of the site asks for any of them, so that a page need not be loaded for each."""


def test_every_sort_of_page_is_quiet_and_fits(browser: Browser, site: Path) -> None:
    """The same in other widths, in the dark and on paper."""
    page = browser.new_page()
    noise, wide = listened(page), []
    files = [site / "index.html", *(site / "fieldwork" / f"{name}.html" for name in SHEETS)]
    files.append(site / "pocket" / "weights.html")  # most of its widest table is not known
    for file in files:
        page.goto(file.as_uri())
        for size, scheme, medium in LOOKS:
            width, height = SIZES[size]
            page.set_viewport_size({"width": width, "height": height})
            page.emulate_media(media=medium, color_scheme=scheme)
            wide += [(file.name, size, scheme, medium)] if page.evaluate(TOO_WIDE) else []
    assert (wide, noise) == ([], [])
    page.close()


def test_no_script_asks_how_it_is_looked_at() -> None:
    """A page that was loaded in one width and colour is the same in another, once it is given that."""
    asks = re.compile(
        r"matchMedia|getComputedStyle|getBoundingClientRect|screen\.|(?:inner|outer|client|offset|scroll)(?:Width|Height)"
    )
    scripts = sorted(site_folder().rglob("*.js"))
    assert scripts
    assert [path.name for path in scripts if asks.search(path.read_text(encoding="utf-8"))] == []


def test_the_first_key_leads_to_the_emergency(browser: Browser, site: Path) -> None:
    """Tab and Enter, from every sort of page; the focus can be seen."""
    page = browser.new_page()
    for name in SHEETS:
        page.goto((site / "fieldwork" / f"{name}.html").as_uri())
        page.keyboard.press("Tab")
        style = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert (page.evaluate("document.activeElement.className"), style != "none") == ("now", True)
        with page.expect_navigation():
            page.keyboard.press("Enter")
        assert page.url.endswith("/fieldwork/emergency.html")
    page.close()


def test_the_second_key_leads_past_the_head_to_the_text(browser: Browser, site: Path) -> None:
    """A link to the text comes next, and can be seen while it has the focus."""
    page = browser.new_page()
    page.goto((site / "fieldwork" / "electrics.html").as_uri())
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    box = page.locator(".skip").bounding_box()
    assert box is not None and box["width"] > 20 and box["x"] >= 0 and box["y"] >= 0
    page.keyboard.press("Enter")
    assert page.url.endswith("electrics.html#text")
    page.close()


def test_paper_shows_what_the_screen_folds(browser: Browser, site: Path) -> None:
    """Every fold of the text opens for printing, and what only a screen needs is not there."""
    page = browser.new_page()
    page.goto((site / "fieldwork" / "check-dc.html").as_uri())
    folds = "[document.querySelectorAll('main details').length, document.querySelectorAll('main details[open]').length]"
    count, before = page.evaluate(folds)
    assert count > 0 and before == 0
    assert page.pdf(format="A4").startswith(b"%PDF")
    assert page.evaluate(folds) == [count, count]
    page.emulate_media(media="print")
    assert not page.locator(".top .now").is_visible()
    assert not page.locator("nav.turn").is_visible()
    page.close()


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
