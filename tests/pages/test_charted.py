"""The charts of whole vans: what is drawn is the fact, the table says it too, and what is not known is said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import TYPE_CHECKING, Any

import pytest
from published import register_site, section, van
from test_browser import browser  # noqa: F401 - a fixture
from test_drawings import TEXTS, overlap
from test_oneline import demo

from specreg import shipped
from specreg.facts.axes import LOADING_CASES
from specreg.facts.energy_sensitivity import Change
from specreg.model.field import Reader
from specreg.pages.chapters import heat_page, weights_page
from specreg.pages.charts import Drawn, Shape
from specreg.pages.content import Block, Chart, Figure, Fold, Page, Section, Table, Unknown
from specreg.pages.energy import change_chart, energy_page, nights_of
from specreg.pages.energy_course import courses
from specreg.pages.figures import of_whole
from specreg.pages.load_charts import Load, figure, load_chart
from specreg.pages.van import Van

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from playwright.sync_api import Page as Opened

VANS = ("fieldwork", "winter-tourer", "pocket", "second-hand")
PAGES = ("energy", "weights", "heat")


def blocks_of(blocks: Iterable[Block]) -> Iterator[Block]:
    """Every block, those within sections and folds included."""
    for block in blocks:
        yield block
        if isinstance(block, Section | Fold):
            yield from blocks_of(block.blocks)


def charts_of(page: Page) -> dict[str, Chart]:
    """The charts of a page by their anchors."""
    return {block.anchor: block for block in blocks_of(page.blocks) if isinstance(block, Chart)}


def table_below(page: Page, anchor: str) -> Table:
    """The first table after a chart."""
    blocks = list(blocks_of(page.blocks))
    place = next(n for n, one in enumerate(blocks) if isinstance(one, Chart) and one.anchor == anchor)
    return next(one for one in blocks[place:] if isinstance(one, Table))


def said(cells: Iterable[Any]) -> str:
    """Cells as plain text."""
    pieces = [piece for cell in cells for piece in cell]
    return " ".join(p.value if isinstance(p, Figure) else getattr(p, "text", "") for p in pieces)


def lines(drawn: Drawn, style: str) -> list[Shape]:
    """The shapes of a style in the part with the lines."""
    assert drawn.upright is not None
    top = drawn.upright.end
    return [one for one in drawn.shapes if one.style == style and all(y >= top for _, y in one.parts[0])]


def ends(drawn: Drawn, style: str) -> list[float]:
    """Where the bars of a style end, in numbers of the axis; the key's samples are left out."""
    bars = [one.parts[0] for one in drawn.shapes if one.style == style and len(one.parts[0]) == 4]
    return [drawn.across.number(corners[1][0]) for corners in bars if corners[0][0] > 1.5]


SHOWN = {"alike": "solid", "mean": "dashed", "poor": "solid"}


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer"])
def test_the_line_of_a_trip_is_the_state_of_charge(name: str) -> None:
    """Each hour's point in each month, both suns; the level is the reserve; the table has the same shares."""
    of = demo(name)
    page = energy_page(of)
    kept = of_whole(of, "charge_kept").value
    by_case = {(fact.kind.name, fact.case): fact.value for fact in courses(of)}
    months = sorted({case for _, case in by_case if case}, key=int)
    assert {f"chart-trip-{month}" for month in months} <= set(charts_of(page))
    for month in months:
        drawn = charts_of(page)[f"chart-trip-{month}"].drawn
        assert drawn.upright is not None
        suns = {"dashed": "state_of_charge_on_trip", "solid": "state_of_charge_in_a_poor_week"}
        for style, fact in suns.items():
            (shape,) = lines(drawn, style)
            hours = [(n / 24, 100 * share) for n, share in enumerate(by_case[fact, month])]
            found = [(drawn.across.number(x), drawn.upright.number(y)) for x, y in shape.parts[0]]
            assert found == [pytest.approx(hour, abs=1e-9) for hour in hours]
        (level,) = lines(drawn, "level")
        assert drawn.upright.number(level.parts[0][0][1]) == pytest.approx(100 * kept)
        rows = table_below(page, f"chart-trip-{month}").rows
        for number, row in enumerate(rows):
            shares = [float(text) for text in re.findall(r"([\d.]+) %", said(row.cells[1:]))]
            told = [100 * by_case[fact, month][12 * number] for fact in suns.values()]
            assert shares == pytest.approx(told, abs=0.5)


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer"])
def test_the_month_in_which_the_battery_is_lowest_comes_first(name: str) -> None:
    """What may go wrong is not folded away."""
    of = demo(name)
    lowest: dict[str, tuple[float, float]] = {}
    for fact in courses(of):
        least, total = lowest.get(str(fact.case), (9.0, 0.0))
        lowest[str(fact.case)] = min(least, *fact.value), total + sum(fact.value)
    trip = section(energy_page(of), "trip")
    assert trip is not None
    first = next(block for block in trip.blocks if isinstance(block, Chart))
    assert first.anchor == f"chart-trip-{min(lowest, key=lambda month: lowest[month])}"


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket"])
def test_the_year_is_drawn_month_by_month(name: str) -> None:
    """What is met and what is wanting end where the fact says; the words are its share."""
    of = demo(name)
    page = energy_page(of)
    chart, found = charts_of(page)["chart-without-shore"], of_whole(of, "year_without_shore").value
    kilowatt_hour = 3.6e6
    met = [(month.asked - month.unmet) / kilowatt_hour for month in found]
    wanting = [month.asked / kilowatt_hour for month in found if month.unmet > 1]
    assert ends(chart.drawn, "bar") == pytest.approx([one for one in met if one > 0.01], abs=1e-6)
    assert ends(chart.drawn, "outline") == pytest.approx(wanting, abs=1e-6)
    words = [one.words for one in chart.drawn.said if one.words.endswith("% met")]
    shares = [float(text.split(" ")[0]) for text in words]
    assert shares == pytest.approx([100 * (1 - m.unmet / m.asked) for m in found], abs=1.0)
    assert all(m.unmet <= 1 for m, text in zip(found, words, strict=True) if text == "100 % met")
    rows = [said(row.cells) for row in table_below(page, "chart-without-shore").rows]
    assert all(
        text.startswith(of.texts(f"energy.named.{m.month}")) for text, m in zip(rows, found, strict=True)
    )


@pytest.mark.parametrize("name", VANS)
def test_the_bars_of_a_day_are_its_loads(name: str) -> None:
    """Ten bars and the rest together add up to the day; each figure is a line of the table."""
    of = demo(name)
    page = energy_page(of)
    chart, found = charts_of(page)["chart-daily"], of_whole(of, "daily_energy_by_load").value
    widths = ends(chart.drawn, "bar")
    energies = [load.energy for load in found]
    assert sum(widths) / widths[0] == pytest.approx(sum(energies) / energies[0], rel=1e-6)
    assert len(widths) == min(len(found), 11)
    table = [said(row.cells) for row in table_below(page, "chart-daily").rows]
    assert len(table) == len(found)
    figures = [one.words for one in chart.drawn.said if one.strong][: min(len(found), 10)]
    assert all(line.endswith(figure) for line, figure in zip(table, figures, strict=False))


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket"])
def test_what_would_change_the_nights_is_drawn_from_less_to_more(name: str) -> None:
    """The open point is a fifth less, the filled one a fifth more; what changes nothing is left out."""
    of = demo(name)
    drawn = charts_of(energy_page(of))["chart-change"].drawn
    found = [
        c for c in of_whole(of, "what_would_change_nights").value if c.nights_with_less != c.nights_with_more
    ]
    for style, field in (("open", "nights_with_less"), ("point", "nights_with_more")):
        points = [one.parts[0] for one in drawn.shapes if one.style == style][1:]
        places = [drawn.across.number(sum(x for x, _ in point) / 4) for point in points]
        assert places == pytest.approx([min(getattr(c, field), 60) for c in found[:8]])


def test_nights_without_an_end_stand_at_the_end_of_the_axis() -> None:
    """Sixty nights mean that no end was seen; they do not stretch the axis."""
    of = demo("fieldwork")
    drawn = change_chart(of, [Change("fridge", 60.0, 4.5, 60.0, 0.0, 0.0, 0.0)])
    assert drawn.across.high < 10
    point = [one.parts[0] for one in drawn.shapes if one.style == "open"][1]
    assert drawn.across.number(sum(x for x, _ in point) / 4) == pytest.approx(drawn.across.high)
    assert "4.5 nights … no end seen" in [one.words for one in drawn.said]
    assert [nights_of(of, nights) for nights in (1.0, 1.5, 60.0)] == ["1 night", "1.5 nights", "no end seen"]


POUND = 0.45359237


@pytest.mark.parametrize("name", VANS)
@pytest.mark.parametrize("which", ["front_axle", "rear_axle", "total"])
def test_a_load_is_drawn_with_its_doubt_and_its_limit(name: str, which: str) -> None:
    """In each loading case, in the unit of the van; what stands over the limit is hatched and said."""
    of = demo(name)
    facts = {"total": ("laden_mass", "laden_mass_doubt")}.get(which, (f"{which}_load", f"{which}_doubt"))
    page = weights_page(of)
    anchor = f"chart-{which.replace('_', '-')}"
    drawn = charts_of(page)[anchor].drawn
    unit = POUND if name == "winter-tourer" else 1.0
    limit = getattr(of.build.header.vehicle.permitted, which) / unit
    found = [[of_whole(of, fact, case).value / unit for fact in facts] for case in LOADING_CASES]
    brackets = [one.parts[0] for one in drawn.shapes if one.style == "doubt"][1:]
    assert [[drawn.across.number(x) for x, _ in one] for one in brackets] == [
        pytest.approx([load - doubt, load + doubt]) for load, doubt in found
    ]
    assert ends(drawn, "bar") == pytest.approx([min(load, limit) for load, _ in found])
    over = [load + doubt for load, doubt in found if load + doubt > limit]
    assert ends(drawn, "outline") == pytest.approx(over)
    strokes = [one.parts[0] for one in drawn.shapes if one.style == "limit"][1:]
    assert {round(drawn.across.number(x), 6) for one in strokes for x, _ in one} == {round(limit, 6)}
    rows = [said(row.cells[1:]) for row in table_below(page, anchor).rows]
    for (load, doubt), row in zip(found, rows, strict=True):
        told = [float(text.replace("−", "-")) for text in re.findall(r"(−?\d+) (?:kg|lb)", row)]
        assert told == pytest.approx([load, doubt, load + doubt, limit - load - doubt], abs=0.5)
    words = [one.words for one in drawn.said if one.strong]
    assert sum(text.endswith(" over") for text in words) == len(over)


def test_a_load_without_all_masses_has_no_worse_end() -> None:
    """While a mass is wanting, the figure is a least one, and the table claims nothing to be left."""
    of, load = demo("fieldwork"), Load("everything", 1400.0, 20.0, 1850.0)
    assert figure(of, load, complete=True) == "up to 1420 kg"
    assert figure(of, load, complete=False) == "more than 1400 kg"
    assert figure(of, Load("everything", 1840.0, 20.0, 1850.0), complete=True) == "up to 10 kg over"
    assert "more than 1400 kg" in [one.words for one in load_chart(of, [load], complete=False).said]


@pytest.mark.parametrize("name", VANS)
def test_a_night_is_a_band_from_a_breeze_to_calm_air(name: str) -> None:
    """Carbon dioxide (not carbon monoxide) by the hour in ppm; the morning's ends are said in the key."""
    of = demo(name)
    chart, hours = charts_of(heat_page(of))["chart-dioxide"], of_whole(of, "night_course").value
    drawn = chart.drawn
    assert drawn.upright is not None
    for style, field in (("better", "co2_least"), ("worse", "co2_greatest")):
        (edge,) = lines(drawn, style)
        found = [(drawn.across.number(x), drawn.upright.number(y)) for x, y in edge.parts[0]]
        assert found == [pytest.approx((hour.hour, getattr(hour, field) * 1e6)) for hour in hours]
    morning = f"{round(hours[-1].co2_greatest, 5) * 1e6:.0f} ppm"
    assert morning in chart.description
    assert morning in said(table_below(heat_page(of), "chart-dioxide").rows[-1].cells)
    assert "Carbon dioxide (not carbon monoxide)" in chart.title
    # the limits at work and of danger are drawn where the axis comes to them: OSHA 5000, NIOSH 40 000 ppm
    for style, ppm in (("level", 5000), ("danger-level", 40000)):
        found_levels = [drawn.upright.number(one.parts[0][0][1]) for one in lines(drawn, style)]
        assert found_levels == ([pytest.approx(ppm)] if ppm <= drawn.upright.high else [])


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket"])
def test_the_colder_edge_of_a_night_is_the_worse(name: str) -> None:
    """In the van's degrees, and the morning as chart and table say it."""
    of = demo(name)
    page, hours = heat_page(of), of_whole(of, "night_course").value
    drawn = charts_of(page)["chart-temperature"].drawn
    assert drawn.upright is not None
    factor, offset = (9 / 5, 459.67) if name == "winter-tourer" else (1.0, 273.15)
    for style, field in (("worse", "temperature_least"), ("better", "temperature_greatest")):
        (edge,) = lines(drawn, style)
        found = [drawn.upright.number(y) for _, y in edge.parts[0]]
        assert found == pytest.approx([getattr(hour, field) * factor - offset for hour in hours], abs=1e-6)
    morning = re.findall(r"(−?[\d.]+ °[CF])", charts_of(page)["chart-temperature"].description)
    row = said(table_below(page, "chart-temperature").rows[-1].cells)
    assert len(morning) == 2 and all(text in row for text in morning)


BATTERY = """
components:
  battery: {kind: battery, role: house, chemistry: lithium iron phosphate, nominal_voltage: 12.8 V,
            capacity: 100 Ah, usable: 80 %}
  box: {kind: fuse-box, ways: {a: {fuse: 10 A}}}
  light: {kind: ceiling-light, power: 20 W, hours_per_day: 5 h}
runs:
  plus: {medium: dc, from: battery/positive, to: box/feed, return: chassis, conductor: 16 mm²}
  a: {medium: dc, from: box/a, to: light, return: same cable, conductor: 1.5 mm²}
"""
USE = {
    "nights_off_grid": "3",
    "shore_nights": "1",
    "driving_per_day": "0 h",
    "reserve": "20 %",
    "places": "[{latitude: 52 deg, months: [4, 5], night_temperature: 5 °C, day_temperature: 12 °C}]",
}


def without(*fields: str) -> Van:
    """A van with a battery and a light, and what it is used for, less some fields."""
    use = "".join(f"\n  {name}: {text}" for name, text in USE.items() if name not in fields)
    return van(f"use:{use}\n{BATTERY}" if use else BATTERY)


def unknown(found: Section | None) -> str:
    """All that a section says is not known."""
    assert found is not None
    pieces = [
        piece
        for block in blocks_of([found])
        for piece in (
            *getattr(block, "text", ()),
            *(piece for item in getattr(block, "items", ()) for piece in getattr(item, "value", ())),
        )
    ]
    return " ".join(piece.text for piece in pieces if isinstance(piece, Unknown))


def test_a_small_van_has_its_charts() -> None:
    """The van of the tests below, with nothing left out: one chart for months that are alike."""
    assert set(charts_of(energy_page(without()))) == {
        "chart-trip-all", "chart-without-shore", "chart-as-used", "chart-daily", "chart-change",
    }  # fmt: skip


def test_a_long_trip_stays_a_light_page() -> None:
    """Fifty nights: a point for several hours, rows further apart, from the first evening to the last week."""
    use = "".join(f"\n  {name}: {text}" for name, text in {**USE, "nights_off_grid": "50"}.items())
    page = energy_page(van(f"use:{use}\n{BATTERY}"))
    drawn = charts_of(page)["chart-trip-all"].drawn
    (shape,) = lines(drawn, "solid")
    assert 100 < len(shape.parts[0]) <= 161
    assert drawn.across.number(shape.parts[0][-1][0]) == pytest.approx(50, abs=0.5)
    rows = [said(row.cells[:1]) for row in table_below(page, "chart-trip-all").rows]
    assert len(rows) <= 12 and rows[0] == "day\u00a01, 18\u00a0h" and rows[-1] == "day\u00a051, 6\u00a0h"


@pytest.mark.parametrize(
    ("fields", "part", "gone", "named"),
    [
        (("nights_off_grid",), "trip", "chart-trip-all", "use.nights_off_grid"),
        (("places",), "trip", "chart-trip-all", "use.places"),
        (("places",), "year", "chart-without-shore", "use.places"),
        (("shore_nights",), "year", "chart-as-used", "use.shore_nights"),
        (("driving_per_day",), "trip", "chart-trip-all", "use.driving_per_day"),
        (("nights_off_grid",), "change", "chart-change", "use.nights_off_grid"),
    ],
)
def test_a_missing_field_gives_words_and_no_chart(
    fields: tuple[str, ...], part: str, gone: str, named: str
) -> None:
    """The words name what is missing; the other charts stay where they can."""
    page = energy_page(without(*fields))
    assert gone not in charts_of(page)
    assert named in unknown(section(page, part))
    assert "chart-daily" in charts_of(page)


def test_a_van_without_a_house_battery_has_a_page_that_says_so() -> None:
    """No empty axes."""
    page = energy_page(van("components: {}"))
    assert (page.blocks, page.lead) == ((), van("components: {}").texts("energy.nothing"))


def test_weights_that_are_not_known_are_said() -> None:
    """Neither plate nor ticket: three sentences and no chart."""
    page = weights_page(van("components: {}"))
    assert charts_of(page) == {}
    found = section(page, "loads")
    assert unknown(found).count("not written") == 3


def test_every_style_of_a_chart_is_in_the_style_sheet() -> None:
    """A line whose style is not known would be drawn as any other."""
    css = (shipped.site_folder() / "book.css").read_text(encoding="utf-8")
    styles = {
        shape.style
        for name in VANS
        for page in (energy_page(demo(name)), weights_page(demo(name)), heat_page(demo(name)))
        for chart in charts_of(page).values()
        for shape in chart.drawn.shapes
    }
    assert len(styles) > 10
    plain = {"hatch"}
    assert {style for style in styles - plain if f".chart .{style}" not in css} == set()


@pytest.fixture(scope="module", params=[f"{name}/{page}" for name in VANS for page in PAGES])
def opened(browser: Browser, request: Any) -> Iterator[Opened]:  # noqa: F811
    """A page with charts of one van on a phone."""
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto((register_site(Reader.owner) / f"{request.param}.html").as_uri())
    yield page
    page.close()


@pytest.mark.browser
def test_no_words_of_a_chart_lie_on_others_or_outside(opened: Opened) -> None:
    """The boxes are those of the browser's own type; on a phone it is no smaller than 11 pixels."""
    drawn = opened.evaluate(TEXTS.replace("svg.plan", "svg.chart"))
    assert drawn
    for drawing in drawn:
        assert drawing["own"] and drawing["role"] == "img" and drawing["label"], drawing["id"]
        assert drawing["type"] * drawing["shrunk"] > 11, drawing["id"]
        left, top, right, bottom = drawing["view"]
        for text in drawing["texts"]:
            across = left - 1 <= text[1] and text[3] <= right + 1
            assert across and top - 1 <= text[2] and text[4] <= bottom + 1, (drawing["id"], text)
        for one, other in combinations(drawing["texts"], 2):
            assert not overlap(one, other), (drawing["id"], one[0], other[0])


POOR = """() => {
  const parse = c => c.match(/[\\d.]+/g).map(Number).slice(0, 3);
  const lum = c => { const [r, g, b] = c.map(v => { v /= 255; return v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; });
                     return .2126 * r + .7152 * g + .0722 * b; };
  const paper = lum(parse(getComputedStyle(document.body).backgroundColor));
  const ratio = c => { const l = lum(parse(c)); return (Math.max(l, paper) + .05) / (Math.min(l, paper) + .05); };
  const poor = new Set();
  for (const e of document.querySelectorAll('svg.chart text')) {
    const found = ratio(getComputedStyle(e).fill);
    if (found < 4.5) poor.add('text ' + found.toFixed(2));
  }
  for (const e of document.querySelectorAll('svg.chart path:not(.grid):not(.band)')) {
    const found = ratio(getComputedStyle(e).stroke);
    if (found < 3) poor.add(e.getAttribute('class') + ' ' + found.toFixed(2));
  }
  return [...poor];
}"""
"""Contrast by WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for lines that are needed (1.4.11)."""


@pytest.mark.browser
@pytest.mark.parametrize(("scheme", "medium"), [("light", "screen"), ("dark", "screen"), ("dark", "print")])
def test_lines_and_words_of_charts_stand_out(browser: Browser, scheme: Any, medium: Any) -> None:  # noqa: F811
    """In light, in the dark and on paper; the grid and the tint of a band carry nothing alone."""
    page = browser.new_page(color_scheme=scheme)
    page.emulate_media(media=medium, color_scheme=scheme)
    for name in ("fieldwork/energy", "second-hand/weights", "second-hand/heat"):
        page.goto((register_site(Reader.owner) / f"{name}.html").as_uri())
        assert page.locator("svg.chart").count() > 0
        assert page.evaluate(POOR) == [], name
    page.close()
