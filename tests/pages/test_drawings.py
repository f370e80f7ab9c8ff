"""The drawings of every demonstration van: nothing lies on anything, all leads somewhere, the scale is true."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import register_site, van
from test_browser import browser  # noqa: F401 - a fixture

from specreg.model.field import Reader
from specreg.pages.content import Drawing, Section
from specreg.pages.dimensions import PAPER, WIDE, Measure, dimensioned, to_scale
from specreg.pages.places import places_page
from specreg.pages.plan import Box, Plan, plan_of
from specreg.pages.sides import sides_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

VANS = ("fieldwork", "winter-tourer", "pocket", "second-hand")
PAGES = ("places", "sides")

TEXTS = """() => {
  document.querySelectorAll('details').forEach(one => { one.open = true });
  return [...document.querySelectorAll('svg.plan')].map(svg => {
    const boxed = one => { const b = one.getBoundingClientRect(); return [b.left, b.top, b.right, b.bottom] };
    const type = svg.querySelector('text');
    return {id: svg.closest('figure').id, view: boxed(svg), label: svg.getAttribute('aria-labelledby'),
            role: svg.getAttribute('role'), type: type ? parseFloat(getComputedStyle(type).fontSize) : 99,
            shrunk: svg.getBoundingClientRect().width / svg.viewBox.baseVal.width,
            links: [...svg.querySelectorAll('a')].map(one => one.getAttribute('href')),
            texts: [...svg.querySelectorAll('text')].map(one => [one.textContent, ...boxed(one)]),
            own: [...svg.querySelectorAll('text')].every(one => one.getBBox().width > 0)};
  });
}"""


@pytest.fixture(scope="module", params=[f"{name}/{page}" for name in VANS for page in PAGES])
def opened(browser: Browser, request: Any) -> Iterator[Page]:  # noqa: F811
    """A page of drawings of one van, as the owner's edition has it, on a phone."""
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto((register_site(Reader.owner) / f"{request.param}.html").as_uri())
    yield page
    page.close()


def overlap(one: list[Any], other: list[Any]) -> bool:
    """Whether two boxes share more than half a pixel each way."""
    across = min(one[3], other[3]) - max(one[1], other[1])
    return bool(across > 0.5 and min(one[4], other[4]) - max(one[2], other[2]) > 0.5)


@pytest.mark.browser
def test_no_text_lies_on_another_or_outside(opened: Page) -> None:
    """In each mode and view; the boxes are those of the browser's own type."""
    drawn = opened.evaluate(TEXTS)
    assert len(drawn) >= (3 if "places" in opened.url else 9)
    for drawing in drawn:
        assert drawing["own"], drawing["id"]
        left, top, right, bottom = drawing["view"]
        for text in drawing["texts"]:
            within = (
                left - 1 <= text[1] and text[3] <= right + 1 and top - 1 <= text[2] and text[4] <= bottom + 1
            )
            assert within, (drawing["id"], text)
        for one, other in combinations(drawing["texts"], 2):
            assert not overlap(one, other), (drawing["id"], one[0], other[0])


@pytest.mark.browser
def test_every_drawing_is_named_and_leads_to_the_table(opened: Page) -> None:
    """An image with a title and a description; each link of it is a row that is there."""
    for drawing in opened.evaluate(TEXTS):
        assert drawing["role"] == "group"
        for name in drawing["label"].split():
            assert opened.evaluate("id => document.getElementById(id).textContent.length", name) > 5
        assert drawing["links"], drawing["id"]
        rows = places_of(opened.url)
        for link in drawing["links"]:
            assert link.removeprefix("places.html") in rows, link


@pytest.mark.browser
def test_a_phone_pans_and_the_type_stays_legible(opened: Page) -> None:
    """The page itself does not scroll sideways; the drawing does, with type of at least 11 px."""
    for drawing in opened.evaluate(TEXTS):
        assert drawing["type"] * drawing["shrunk"] >= 10.9, drawing["id"]
    assert opened.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    pans = (
        "[...document.querySelectorAll('.pan')].every(p => p.scrollWidth <= p.clientWidth || "
        "getComputedStyle(p).overflowX === 'auto')"
    )
    assert opened.evaluate(pans)


@pytest.mark.browser
def test_on_paper_the_scale_is_the_one_that_is_stated(opened: Page) -> None:
    """One unit is a centimetre of the van: its size on paper is that of the scale, and it fits both sheets."""
    opened.emulate_media(media="print")
    rows = opened.evaluate(
        "[...document.querySelectorAll('figure:has(svg.plan)')].map(f => [f.id, f.textContent, "
        "f.querySelector('svg').getBoundingClientRect().width, f.querySelector('svg').getBoundingClientRect().height,"
        "f.querySelector('svg').viewBox.baseVal.width])"
    )
    opened.emulate_media(media="screen")
    for anchor, words, width, height, units in rows:
        scale = int(re.search(r"Scale 1:(\d+)", words).group(1))  # type: ignore[union-attr]
        assert width / 96 * 25.4 == pytest.approx(units * 10 / scale, rel=0.01), anchor
        assert width / 96 * 25.4 <= PAPER[0] + 0.5 and height / 96 * 25.4 <= PAPER[1] + 0.5, anchor


def places_of(url: str) -> set[str]:
    """The rows of the tables of places of the same van, as links name them."""
    file = Path(url.removeprefix("file://")).with_name("places.html")
    return {f"#{found}" for found in re.findall(r'<tr id="([^"]+)"', file.read_text(encoding="utf-8"))}


SIDED = """
vehicle:
  wheelbase: 4 m
  overall_length: 6 m
  front_overhang: 0.9 m
  overall_width: 2 m
  overall_height: 2.7 m
  interior: {starts: 1 m, floor_height: 0.6 m, length: 4 m, width: 1.8 m, height: 1.9 m}
modes: {day: {bed: stowed}, night: {bed: made}}
components:
  cabinet: {kind: cabinet, at: [2 m, -0.9 m, 0 m], size: [1 m, 0.5 m, 0.9 m]}
  wardrobe: {kind: wardrobe, at: [4 m, 0.4 m, 0 m], size: [0.6 m, 0.5 m, 1.8 m]}
  bed: {kind: bed, usual_shape: stowed, size: [1.4 m, 1.8 m, 0.2 m], at: [3.5 m, -0.9 m, 1.6 m],
    shapes: {stowed: {at: [3.5 m, -0.9 m, 1.6 m]}, made: {at: [3.5 m, -0.9 m, 0.8 m]}}}
"""


def views(mode: str) -> dict[str, Plan]:
    """The four drawings of the room in one mode, by the end of their anchor."""
    small = van(SIDED)
    found = [b for page in (places_page(small), sides_page(small)) for b in page.blocks]
    rooms = [b for b in found if isinstance(b, Section) and b.anchor == "room"]
    flat = [d for room in rooms for d in room.blocks if isinstance(d, Drawing)]
    start = f"plan-room-{mode}"
    return {
        d.anchor.removeprefix(start).strip("-") or "above": d.plan for d in flat if d.anchor.startswith(start)
    }


def seen(plan: Plan, thing: str) -> tuple[float, ...] | None:
    """The box of a thing on a drawing, or None where it does not show."""
    return next(((b.x, b.y, b.width, b.height) for b in plan.boxes if b.thing == thing and b.number), None)


@pytest.mark.parametrize(
    ("view", "thing", "box"),
    [
        ("above", "cabinet", (-90, 200, 50, 100)),
        ("left", "cabinet", (200, -90, 100, 90)),
        ("right", "cabinet", None),
        ("rear", "cabinet", None),
        ("left", "wardrobe", None),
        ("right", "wardrobe", (-460, -180, 60, 180)),
        ("rear", "wardrobe", (40, -180, 50, 180)),
        ("left", "bed", (350, -100, 140, 20)),
        ("right", "bed", (-490, -100, 140, 20)),
        ("rear", "bed", (-90, -100, 180, 20)),
    ],
)
def test_where_a_thing_is_on_each_view(view: str, thing: str, box: tuple[float, ...] | None) -> None:
    """Front to the left from the left, to the right from the right; up is up; the far side does not show."""
    found = seen(views("night")[view], thing)
    assert found == (pytest.approx(box) if box else None)


def test_the_bed_hangs_by_day() -> None:
    """The same bed at 1.6 m in the other mode."""
    assert seen(views("day")["left"], "bed") == pytest.approx((350, -180, 140, 20))


@pytest.mark.parametrize(
    ("view", "words"),
    [
        ("above", {"wheelbase 4000 mm", "room 4000 mm", "overall 6000 mm", "room 1800 mm", "overall 2000 mm",
                   "bed 1400 mm", "bed 1800 mm"}),
        ("left", {"wheelbase 4000 mm", "room 4000 mm", "overall 6000 mm", "room 1900 mm", "floor 600 mm",
                  "overall 2700 mm"}),
        ("rear", {"room 1800 mm", "overall 2000 mm", "room 1900 mm", "floor 600 mm", "overall 2700 mm"}),
    ],
)  # fmt: skip
def test_the_dimensions_of_each_view(view: str, words: set[str]) -> None:
    """All that is written, and each line as long as it says."""
    spans = views("night")[view].spans
    assert {span.words.lower() for span in spans} == words
    for span in spans:
        x1, y1, x2, y2 = span.line
        assert abs(x2 - x1) + abs(y2 - y1) == pytest.approx(int(span.words.split()[-2]) / 10)


measures = st.lists(
    st.builds(
        Measure,
        st.text("abc 0", min_size=1, max_size=18),
        st.floats(0, 200),
        st.floats(210, 480),
        st.booleans(),
    ),
    max_size=8,
).map(tuple)


@given(measures)
def test_no_dimension_lies_on_another(said: tuple[Measure, ...]) -> None:
    """Whatever is measured, by the room that its letters may take at most."""
    outline = (-90.0, 0.0, 180.0, 480.0)
    plan = to_scale(
        lambda radius: dimensioned(plan_of([Box(1, 0, 0, 90, 90, "thing")], outline, (), radius=radius), said)
    )
    assert len(plan.spans) == len(said)
    boxes = []
    for span in plan.spans:
        half, high = len(span.words) * plan.letter * WIDE / 2, plan.letter
        across = (half, high) if not span.upright else (high, half)
        low = (span.x - across[0], span.y - across[1]) if span.upright else (span.x - half, span.y - high)
        boxes.append(
            [span.words, *low, span.x + (0 if span.upright else half), span.y + (half if span.upright else 0)]
        )
    for one, other in combinations(boxes, 2):
        assert not overlap(one, other)
