"""A pump moved in the files of a whole van: its circuit on another way, its place elsewhere."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pytest
from published import REGISTER, text_of, unbroken

from specreg.model.field import Reader
from specreg.pages.publish import publish

CHANGES = {
    "electrics.yaml": (
        ("water-pump: essentials-box/pump 10 A blade", "water-pump: comfort-box/second 7.5 A blade"),
        ("control-panel/1 · 3.2 m", "control-panel/6 · 3.2 m"),
        ("5: {rated_current: 10 A}}", "5: {rated_current: 10 A}, 6: {rated_current: 10 A}}"),
    ),
    "water.yaml": (
        ("at: [3320 mm, 40 mm, 30 mm]", "at: [1300 mm, -800 mm, 30 mm]"),
    ),
}  # fmt: skip
"""The pump's fuse goes from the one box to the other, its switch to a new way, and itself to the front left."""


PULLED = "blade fuse"
"""The fuse that is the pump's own; those before it are bolted."""


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The owner's edition of the van as it is, and with the pump moved."""
    folder = tmp_path_factory.mktemp("moved")
    shutil.copytree(REGISTER, folder / "builds")
    publish(folder / "builds" / "fieldwork", Reader.owner, folder / "before")
    for name, changes in CHANGES.items():
        file = folder / "builds" / "fieldwork" / name
        text = file.read_text()
        for old, new in changes:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        file.write_text(text)
    assert publish(folder / "builds" / "fieldwork", Reader.owner, folder / "after").problems == ()
    return folder / "before", folder / "after"


def rows(file: Path, section: str) -> list[str]:
    """The rows of a section's tables, as a person reads them."""
    found = re.search(rf'<section id="{section}".*?</section>', unbroken(file.read_text()), re.S)
    assert found is not None
    lines = re.findall(r"<tr(?![^>]*><th).*?</tr>", found[0], re.S)
    return [" ".join(unescape(re.sub(r"<[^>]+>", " ", line)).split()) for line in lines]


def of_pump(lines: list[str], *words: str) -> str:
    """The one row that speaks of the pump and has some words besides."""
    (found,) = [line for line in lines if all(word in line for word in ("Water pump", *words))]
    return found


def test_the_schedule_tells_the_new_way(sites: tuple[Path, Path]) -> None:
    """What the fuse is replaced with, and in which box's table it stands."""
    before, after = (of_pump(rows(site / "electrics.html", "devices"), PULLED) for site in sites)
    assert before.startswith("-F4, pump 10 A blade fuse")
    assert after.startswith("second 7.5 A blade fuse")
    text = text_of(sites[1] / "electrics.html")
    boxes = [text.index(box) for box in ("Essentials box – ", "Comfort box – ")]
    assert boxes[0] < boxes[1] < text.index("second 7.5 A blade fuse")


def test_the_legend_tells_the_new_switch(sites: tuple[Path, Path]) -> None:
    """The old way switches nothing of the water any more, and the new one does."""
    before, after = (of_pump(rows(site / "electrics.html", "legend")) for site in sites)
    assert re.match(r"Control panel \(-S1\) 1 ", before)
    assert re.match(r"Control panel \(-S1\) 6 ", after)


def test_what_switches_it_off_tells_both(sites: tuple[Path, Path]) -> None:
    """Switch and fuse, nearest first."""
    before, after = (of_pump(rows(site / "electrics.html", "feeds")) for site in sites)
    assert "Control panel, 1" in before
    assert "-F4, 10 A blade fuse" in before
    assert "Control panel, 6" in after
    assert "Comfort box, second, 7.5 A blade fuse" in after


def test_the_emergency_page_stops_it_where_it_now_hangs(sites: tuple[Path, Path]) -> None:
    """The switch and the fuse to pull when water runs, and the table of fuses."""
    before, after = (text_of(site / "emergency.html") for site in sites)
    assert re.search(r"switch off Control panel, 1\b.*pull the fuse .*? \(10 A blade fuse\)", before)
    assert re.search(
        r"switch off Control panel, 6\b.*pull the fuse .*?Comfort box, second .*? \(7.5 A blade fuse\)", after
    )
    assert of_pump(rows(sites[0] / "emergency.html", "fuse"), PULLED).startswith("-F4, pump, Water pump 10 A")
    assert of_pump(rows(sites[1] / "emergency.html", "fuse"), PULLED).startswith("second, Water pump 7.5 A")


def drawn(site: Path) -> tuple[float, float, str]:
    """The centre of the pump's box on the plan of the water, and its place in the table beside it."""
    row = next(line for line in rows(site / "places.html", "water") if re.match(r"\d+ Water pump\b", line))
    number = row.split()[0]
    found = re.search(r'<figure id="plan-water".*?</figure>', (site / "places.html").read_text(), re.S)
    assert found is not None
    disc = re.search(rf'cx="([-\d.]+)" cy="([-\d.]+)" r="[\d.]+"/><text [^>]*>{number}<', found[0])
    lines = " ".join(re.findall(r'class="lead-line" d="([^"]*)"', found[0]))
    line_ends = re.findall(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", lines)
    assert disc is not None
    ends = {(x, y): (float(a), float(b)) for x, y, a, b in line_ends}
    return (*ends.get((disc[1], disc[2]), (float(disc[1]), float(disc[2]))), row)


def test_the_drawing_shows_it_where_it_now_stands(sites: tuple[Path, Path]) -> None:
    """Its number is at the middle of its box: corner and half of 21 cm by 13 cm, front at the top."""
    (x, y, row), (new_x, new_y, new_row) = map(drawn, sites)
    assert (x, y) == pytest.approx((4 + 6.5, 332 + 10.5), abs=0.1)
    assert (new_x, new_y) == pytest.approx((-80 + 6.5, 130 + 10.5), abs=0.1)
    assert "middle, middle of the living space" in row
    assert "left side, front of the living space" in new_row
