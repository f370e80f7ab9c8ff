"""One-line diagrams: everything that is joined is drawn, each once, and no words lie on others."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, Any

import pytest
from published import REGISTER, register_site, van, van_of
from test_browser import browser  # noqa: F401 - a fixture
from test_drawings import TEXTS, overlap

from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.model.port import Medium
from specreg.pages.diagrams import DIAGRAMS, diagrams_page
from specreg.pages.lines import Knot, trees
from specreg.pages.oneline import ROW, one_line, roots
from specreg.pages.van import Van
from specreg.workshop import load

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

DEMOS = ("fieldwork", "winter-tourer", "pocket")
LEADING = {Medium.dc: "positive", Medium.ac: "line"}


@cache
def demo(name: str) -> Van:
    """One demo as its pages see it."""
    (found,) = load(REGISTER / name).sound
    return van_of(found)


def knots(of: Van, media: tuple[Medium, ...]) -> list[Knot]:
    """Every thing drawn on some media."""
    found = trees(of.build, of.facts.net, media, roots(of, media))
    return [knot for tree in found for _, knot in tree.rows()]


def joined(build: Build, media: tuple[Medium, ...]) -> set[str]:
    """The runs that a diagram must show: returns and bonds run beside the lines."""
    return {
        name
        for name, run in build.runs.items()
        if run.medium in media
        and (run.medium not in LEADING or LEADING[run.medium] in build.ends[name].cores)
        and "chassis" not in (build.ends[name].start.component, build.ends[name].finish.component)
    }


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("diagram", DIAGRAMS)
def test_every_run_and_every_thing_is_drawn_once(name: str, diagram: str) -> None:
    """No run is missing or drawn twice; a thing drawn again is only a reference."""
    of, (media, _) = demo(name), DIAGRAMS[diagram]
    found = knots(of, media)
    drawn = [knot.branch.run for knot in found if knot.branch]
    assert len(drawn) == len(set(drawn))
    assert joined(of.build, media) <= set(drawn)
    things = [knot.thing for knot in found if not knot.again]
    assert len(things) == len(set(things))


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("medium", [Medium.dc, Medium.ac])
def test_every_fuse_and_breaker_stands_on_a_line_or_in_a_thing(name: str, medium: Medium) -> None:
    """What protects is on the drawing with its rating."""
    of = demo(name)
    shown = one_line(of, medium)
    items = shown.items if shown else ()
    words = " ".join(f"{item.mark} {item.line.over if item.line else ''}" for item in items)
    within = {item.thing: item.told for item in items}
    for edge in of.facts.net.devices.values():
        if edge.medium is medium and edge.device is not None and not edge.device_id.endswith("/residual"):
            rating = f"{edge.device.rating:g} A"
            owner = edge.device_id.partition("/")[0]
            drawn = of.designation(edge.device_id) in words.split() or within.get(owner, "").startswith(
                rating
            )
            assert drawn, edge.device_id


@pytest.mark.parametrize("name", DEMOS)
def test_rows_are_apart_and_lines_lead_down_from_the_thing_above(name: str) -> None:
    """Each thing has a row; its line begins below the thing that it hangs on."""
    for media, _ in DIAGRAMS.values():
        shown = one_line(demo(name), *media)
        if shown is None:
            continue
        rows = [item.y for item in shown.items]
        assert all(later - earlier == pytest.approx(ROW) for earlier, later in pairwise(rows))
        places = {(item.x, item.y) for item in shown.items}
        for item in shown.items:
            if item.line is not None:
                assert any(x == item.line.x and y < item.line.from_y <= item.y for x, y in places)


LOOP = """
components:
  one: {kind: battery, capacity: 100 Ah, nominal_voltage: 12 V}
  two: {kind: battery, capacity: 200 Ah, nominal_voltage: 12 V}
  bar: {kind: bus-bar, studs: 4}
runs:
  a: {medium: dc, from: one/positive, to: bar/1, conductor: 10 mm², length: 1 m, return: chassis}
  b: {medium: dc, from: two/positive, to: bar/2, conductor: 10 mm², length: 1 m, return: chassis}
  c: {medium: dc, from: one/positive, to: two/positive, conductor: 10 mm², length: 1 m, return: chassis}
"""


def test_a_ring_ends_in_a_reference_and_the_largest_battery_is_on_top() -> None:
    """Three runs join three things in a ring: the third names what is drawn already."""
    found = knots(van(LOOP), (Medium.dc,))
    assert found[0].thing == "two"
    assert sorted(knot.branch.run for knot in found if knot.branch) == ["a", "b", "c"]
    assert [knot.thing for knot in found if knot.again] == ["one"] or [k.thing for k in found if k.again] == [
        "bar"
    ]


def test_a_van_without_anything_joined_has_no_diagram() -> None:
    """The page says so instead of an empty drawing."""
    page = diagrams_page(van("components: {}"))
    assert page.blocks == ()
    assert page.lead == van("components: {}").texts("oneline.nothing")


def test_a_tap_ends_its_branch() -> None:
    """Cold and hot meet in a mixer, and nothing comes through it."""
    text = """
    components:
      tank: {kind: fresh-tank, volume: 50 l}
      tap: {kind: tap, form: mixer}
      other: {kind: fresh-tank, volume: 20 l}
    runs:
      cold: {medium: water, from: tank/outlet, to: tap/cold, bore: 10 mm, length: 1 m}
      hot: {medium: water, from: other/outlet, to: tap/hot, bore: 10 mm, length: 1 m}
    """
    of = van(text)
    found = trees(of.build, of.facts.net, (Medium.water,), roots(of, (Medium.water,)))
    assert [[knot.thing for _, knot in tree.rows()] for tree in found] == [["tank", "tap"], ["other", "tap"]]


@pytest.fixture(scope="module", params=(*DEMOS, "second-hand"))
def opened(browser: Browser, request: Any) -> Iterator[Page]:  # noqa: F811
    """The diagrams of one van on a phone."""
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto((register_site(Reader.owner) / request.param / "diagrams.html").as_uri())
    yield page
    page.close()


@pytest.mark.browser
def test_no_words_lie_on_others_or_outside(opened: Page) -> None:
    """The boxes are those of the browser's own type."""
    drawn = opened.evaluate(TEXTS.replace("svg.plan", "svg.lines"))
    assert drawn
    for drawing in drawn:
        left, top, right, bottom = drawing["view"]
        for text in drawing["texts"]:
            across = left - 1 <= text[1] and text[3] <= right + 1
            assert across and top - 1 <= text[2] and text[4] <= bottom + 1, (drawing["id"], text)
        for one, other in combinations(drawing["texts"], 2):
            assert not overlap(one, other), (drawing["id"], one[0], other[0])
