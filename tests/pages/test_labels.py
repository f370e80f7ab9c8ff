"""Labels: for what, with which words, at what size, and where their codes lead by a reader of another make."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from published import REGISTER, van, van_of
from test_browser import browser

from specreg import workshop
from specreg.cli.commands import cli
from specreg.facts.schedule import cable_rows
from specreg.model.field import Reader
from specreg.pages.content import Block, Label, Labels, Section, Table, Words
from specreg.pages.labels import labels_pages
from specreg.pages.parts import parts_page
from specreg.pages.publish import address_of, publish
from specreg.pages.qr import code

if TYPE_CHECKING:
    from playwright.sync_api import Browser

__all__ = ["browser"]

AT = "https://vans.example/register"
MILLIMETRE = 96 / 25.4
"""CSS pixels (CSS Values and Units: 96 to the inch)."""

SMALL = """
components:
  battery-main: {kind: battery, nominal_voltage: 12 V}
  fuse-box: {kind: fuse-box, ways: {1: {fuse: 10 A, family: blade, label: Water pump}, 2: {fuse: 5 A, family: blade, label: Fan}}}
  panel: {kind: switch-panel, ways: {1: {label: Pump, rated_current: 10 A}}}
  pump: {kind: pump, label: Galley pump}
  drain: {kind: valve, purpose: drain, while_driving: closed, label: Drain}
runs:
  pump-feed: {medium: dc, from: fuse-box/1, to: panel/1, return: same cable, conductor: 1.5 mm²}
"""


def labels(blocks: tuple[Block, ...]) -> list[Label]:
    """Every label of a page."""
    found: list[Label] = []
    for block in blocks:
        if isinstance(block, Labels):
            found += block.items
        elif isinstance(block, Section):
            found += labels(block.blocks)
    return found


def demonstration(name: str, reader: Reader = Reader.owner) -> list[Label]:
    """The labels of a demonstration van."""
    (build,) = workshop.load(REGISTER / name).sound
    return [one for page in labels_pages(van_of(build, reader)) for one in labels(page.blocks)]


def read_back(text: str) -> str:
    """What an independent reader makes of a code's path, drawn as dots."""
    import numpy
    import zxingcpp

    made = code(text)
    dots = numpy.full((made.width, made.width), 255, dtype=numpy.uint8)
    x, y = 0, 0
    for word, first, second, length in re.findall(r"([Mm])(-?\d+) (\d+(?:\.5)?)h(\d+)", made.path):
        x, y = (int(first), int(float(second))) if word == "M" else (x + int(first), y)
        dots[y, x : x + int(length)] = 0
        x += int(length)
    (found,) = zxingcpp.read_barcodes(numpy.kron(dots, numpy.ones((4, 4), dtype=numpy.uint8)))
    assert found.format == zxingcpp.BarcodeFormat.QRCode
    return str(found.text)


@pytest.mark.parametrize(
    "text",
    [
        "https://a.example/",
        "https://vans.example/register/fieldwork/parts.html#house-battery",
        "https://vans.example/" + "a-long-way-down/" * 8 + "electrics.html#legend",
    ],
)
def test_a_reader_of_another_make_reads_the_code(text: str) -> None:
    """Short and long addresses come back letter by letter."""
    assert read_back(text) == text


def test_every_cable_has_a_marker_for_each_end() -> None:
    """Both name the cable; each says first where it is itself."""
    (build,) = workshop.load(REGISTER / "fieldwork").sound
    seen = van_of(build)
    cables = labels(labels_pages(seen)[1].blocks)
    rows = cable_rows(seen.facts)
    assert len(rows) > 50
    assert sorted(one.mark for one in cables) == sorted(row.designation for row in rows for _ in range(2))
    here, there = cables[0].more, cables[1].more
    assert here.startswith("here -F1:fridge, other end -E5")
    assert there.startswith("here -E5, other end -F1:fridge")


def test_the_legend_of_a_box_names_every_way() -> None:
    """Way, words and rating, as they are in the box."""
    page = labels_pages(van(SMALL))[0]
    tables = [b for s in page.blocks if isinstance(s, Section) for b in s.blocks if isinstance(b, Table)]
    told = [
        ["".join(p.text for p in one if isinstance(p, Words)) for one in row.cells[1:]]
        for table in tables
        for row in table.rows
    ]
    assert told == [
        ["way 1", "Water pump", "10 A blade fuse"],
        ["way 2", "Fan", "5 A blade fuse"],
        ["1", "Pump", "switch"],
    ]


def test_a_valve_says_what_it_is_for_and_how_it_stands_under_way() -> None:
    """The words by themselves are enough."""
    drain = next(one for one in labels(labels_pages(van(SMALL))[0].blocks) if one.words == "Drain")
    assert (drain.more, drain.page, drain.href) == (
        "for: drain; while driving: closed",
        "Book: Parts",
        "parts.html#drain",
    )


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket", "second-hand"])
def test_what_is_sought_in_a_hurry_has_a_label(name: str) -> None:
    """Ways out, shut-offs, disconnects, extinguishers: each one that is in the spec; without an address no code."""
    (build,) = workshop.load(REGISTER / name).sound
    wanted = {
        "exit",
        "gas-cylinder",
        "gas-valve",
        "disconnect",
        "mains-isolator",
        "extinguisher",
        "frost-valve",
        "fresh-tank",
    }
    things = {f"parts.html#{n}" for n, one in build.components.items() if one.kind in wanted}
    found = demonstration(name)
    assert things and things <= {one.href for one in found}
    assert not any(one.code for one in found)


def test_the_public_gets_no_labels() -> None:
    """They show where every cable runs."""
    assert demonstration("fieldwork", Reader.public) == []


@pytest.mark.parametrize(
    ("address", "folder", "whole"),
    [
        ("", "heron", ""),
        ("https://a.example", "", "https://a.example/"),
        ("https://a.example/", "heron", "https://a.example/heron/"),
    ],
)
def test_the_address_of_a_vans_pages(address: str, folder: str, whole: str) -> None:
    """With and without a slash, alone and in a register."""
    assert address_of(address, folder) == whole


def test_a_printed_code_still_leads_to_a_thing_whose_id_changed() -> None:
    """The older id stays an anchor of the row."""
    page = parts_page(van(f"renamed: {{water-pump: galley-pump, galley-pump: pump}}{SMALL}"))
    rows = [
        r
        for s in page.blocks
        if isinstance(s, Section)
        for t in s.blocks
        if isinstance(t, Table)
        for r in t.rows
    ]
    assert {row.anchor: row.formerly for row in rows}["pump"] == ("water-pump", "galley-pump")


def test_the_command_writes_one_file(tmp_path: Path) -> None:
    """With an address each thing's label has a code; nothing in the file leads or loads anything."""
    into = tmp_path / "labels.html"
    done = CliRunner().invoke(cli, ["labels", str(REGISTER / "pocket"), "--into", str(into), "--at", AT])
    assert done.exit_code == 0, done.output
    text = into.read_text()
    assert (
        'class="code"' in text and "<script" not in text and " href=" not in text.replace('href="data:,"', "")
    )


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["pocket", "--at", "vans.example"], "an address begins with https:// or http://"),
        (["."], "give the folder of one build"),
    ],
)
def test_the_command_says_what_it_needs(tmp_path: Path, arguments: list[str], said: str) -> None:
    """An address that no telephone follows; a register instead of a van."""
    folder, *more = arguments
    done = CliRunner().invoke(
        cli, ["labels", str(REGISTER / folder), "--into", str(tmp_path / "x.html"), *more]
    )
    assert done.exit_code == 2 and said in done.output


@pytest.mark.browser
def test_a_label_is_printed_at_its_size_and_read_from_the_page(browser: Browser, tmp_path: Path) -> None:
    """63.5 by 38.1 mm on paper; the code as the browser draws it, read by a reader of another make."""
    import zxingcpp
    from PIL import Image

    into = tmp_path.resolve() / "site"
    publish_with_address(into)
    page = browser.new_page(viewport={"width": 900, "height": 900})
    page.goto((into / "pocket" / "labels.html").as_uri())
    page.emulate_media(media="print")
    box = page.locator(".stickers li.coded").first.bounding_box()
    assert box is not None
    assert (box["width"] / MILLIMETRE, box["height"] / MILLIMETRE) == pytest.approx((63.5, 38.1), abs=0.05)
    label = page.locator(".stickers li.coded", has=page.locator("a[href='parts.html#extinguisher']"))
    (found,) = zxingcpp.read_barcodes(Image.open(BytesIO(label.screenshot())).convert("L"))
    assert found.text == f"{AT}/pocket/parts.html#extinguisher"
    overfull = "[...document.querySelectorAll('.stickers li')].filter(e => e.scrollHeight > e.clientHeight + 1).length"
    assert page.evaluate(overfull) == 0
    page.close()


def publish_with_address(into: Path) -> None:
    """Publish the demonstration register with codes; no page of it grows too heavy."""
    from specreg.pages.publish import Wishes

    publish(REGISTER, Reader.owner, into, wishes=Wishes(AT))
    heavy = [page.name for page in into.rglob("labels*.html") if page.stat().st_size > 150_000]
    assert heavy == []
