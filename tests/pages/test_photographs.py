"""Photographs of a van: small, without where and when they were taken, beside what they show, or said in words."""

from __future__ import annotations

import re
import sys
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image
from published import parsed, text_of
from small_register import HERON, write_build

from specreg.cli.commands import cli
from specreg.model.field import Reader
from specreg.pages import whole
from specreg.pages.publish import Published, publish
from specreg.pages.shrinking import LONGEST_SIDE, MOST_PIXELS, shrunk

GPS, TURNED, DESCRIPTION = 0x8825, 0x0112, 0x010E
"""Tags of Exif 2.32: pointer to the place, orientation, description."""


def picture(width: int = 1600, height: int = 1200, *, turned: int = 1) -> bytes:
    """An invented photograph as a telephone writes it: stripes, with the place where it was taken."""
    image = Image.linear_gradient("L").resize((width, height)).convert("RGB")
    exif = Image.Exif()
    exif[DESCRIPTION] = "canary-exif"
    exif[TURNED] = turned
    exif[GPS] = {1: "N", 2: (51.0, 28.0, 38.0), 3: "W", 4: (0.0, 0.0, 5.0)}
    into = BytesIO()
    image.save(into, "JPEG", exif=exif, comment=b"canary-comment")
    return into.getvalue()


PUMP = picture()
RECORD = f"""records:
  photos:
    - {{file: canary-pump.jpg, shows: [water-pump], at: hand-over, checksum: {sha256(PUMP).hexdigest()}, note: canary-note}}
    - {{file: canary-cable.jpg, shows: [-W3, fuse-box]}}
    - {{file: canary-gone.jpg, shows: [house-battery]}}
    - {{file: canary-other.jpg, shows: [fuse-box], checksum: {"0" * 64}}}
    - {{file: canary-text.jpg, shows: [fuse-box]}}
    - {{file: ../canary-up.jpg, shows: [fuse-box]}}
    - {{file: canary-link.jpg, shows: [fuse-box]}}
"""


@pytest.fixture
def heron(place: Path) -> Path:
    """The small van with two photographs that are there, and five with which something is wrong."""
    folder = place / "vans" / "heron"
    write_build(place / "vans", text=HERON + RECORD)
    (folder / "designations.yaml").write_text("water-pump: -G2\npump-feed: -W3\n")
    (folder / "canary-pump.jpg").write_bytes(PUMP)
    (folder / "canary-cable.jpg").write_bytes(picture(300, 200, turned=6))
    (folder / "canary-other.jpg").write_bytes(picture(10, 10))
    (folder / "canary-text.jpg").write_text("no picture")
    (place / "vans" / "canary-up.jpg").write_bytes(PUMP)
    (place / "secret.jpg").write_bytes(PUMP)
    (folder / "canary-link.jpg").symlink_to(place / "secret.jpg")
    return folder


def shown(heron: Path, reader: Reader = Reader.owner) -> tuple[Path, Published]:
    """The van's site, published."""
    into = heron.parents[1] / "site"
    return into, publish(heron, reader, into)


def test_a_photograph_keeps_nothing_but_its_picture() -> None:
    """Neither place nor description nor comment; smaller in every sense; the same each time."""
    assert all(word in PUMP for word in (b"Exif", b"canary-exif", b"canary-comment"))
    assert Image.open(BytesIO(PUMP)).getexif().get_ifd(GPS)
    small = shrunk(PUMP)
    assert small is not None and small == shrunk(PUMP)
    assert not [word for word in (b"Exif", b"canary", b"ICC_PROFILE", b"http") if word in small.jpeg]
    read = Image.open(BytesIO(small.jpeg))
    assert (read.size, read.format) == ((small.width, small.height), "JPEG") == ((LONGEST_SIDE, 750), "JPEG")
    assert dict(read.getexif()) == {} and set(read.info) <= {
        "jfif",
        "jfif_version",
        "jfif_unit",
        "jfif_density",
    }
    assert len(small.jpeg) < len(PUMP)


@pytest.mark.parametrize(
    ("data", "size"),
    [
        (picture(300, 200), (300, 200)),
        (picture(300, 200, turned=6), (200, 300)),
        (picture(400, 4000), (100, 1000)),
        (b"", None),
        (b"no picture", None),
        (PUMP[:500], None),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", None),
        (b"P5 20000 20000 255\n", None),
    ],
)
def test_what_a_file_becomes(data: bytes, size: tuple[int, int] | None) -> None:
    """Never larger than it was, upright; what is no picture of a camera is none."""
    small = shrunk(data)
    assert (small and (small.width, small.height)) == size


def test_a_file_that_claims_too_many_pixels_is_not_unpacked() -> None:
    """A few kilobytes can ask for gigabytes."""
    into = BytesIO()
    Image.new("1", (MOST_PIXELS // 10_000 + 1, 10_000)).save(into, "PNG")
    assert len(into.getvalue()) < 200_000
    assert shrunk(into.getvalue()) is None


def test_each_stands_where_its_thing_is_named(heron: Path) -> None:
    """In the row of the thing, with what it shows, its size and its caption; cables have a list of their own."""
    site, found = shown(heron)
    text = (site / "parts.html").read_text()
    tags = re.findall(r"<img[^>]*>", text)
    assert found.problems == () and found.notes == ()
    assert {name for name in found.files if name.startswith("photos/")} == {
        "photos/G2-1.jpg",
        "photos/W3-1.jpg",
    }
    assert len(tags) == 3  # the one of the cable also shows the box
    assert all('loading="lazy"' in tag and re.search(r'width="\d+" height="\d+"', tag) for tag in tags)
    pump = re.search(r'<tr id="water-pump".*?</tr>', text, re.S)
    assert pump is not None
    assert 'alt="Photograph: Water pump, -G2"' in pump[0] and "canary-note" in pump[0]
    assert 'width="1000" height="750"' in pump[0]
    assert 'id="photographs-of-runs"' in text and "Pump feed, -W3; Fuse box" in text
    assert Image.open(site / "photos" / "W3-1.jpg").size == (200, 300)
    assert "parts.html#water-pump" in parsed(site / "places.html").links
    assert "parts.html#photographs-of-runs" in parsed(site / "electrics.html").links
    assert re.search(r'#water-pump">photograph</a>', (site / "places.html").read_text())
    assert 'parts.html#house-battery">photograph' not in (site / "places.html").read_text()


def test_what_is_not_as_recorded_is_said_and_not_shown(heron: Path) -> None:
    """Gone, another than recorded, no picture, outside the folder by name or by link."""
    site, _ = shown(heron)
    said = text_of(site / "parts.html")
    for sentence in (
        "the photograph canary-gone.jpg is written down, and the file is not there",
        "the photograph canary-other.jpg is not the one that was recorded",
        "canary-text.jpg cannot be read as a photograph",
        "the photograph ../canary-up.jpg has a name or a link that leads out",
        "the photograph canary-link.jpg has a name or a link that leads out",
    ):
        assert f"Open matter: {sentence}" in said
    sheet = parsed(site / "parts.html")
    pictures = {one for one in sheet.sources if one.startswith("photos/")}
    assert pictures == {"photos/G2-1.jpg", "photos/W3-1.jpg"}
    assert all((site / one).is_file() for one in pictures) and pictures <= set(sheet.links)
    assert sheet.wrong == [] and len(sheet.ids) == len(set(sheet.ids))


@pytest.mark.parametrize("reader", list(Reader))
def test_the_public_sees_no_photograph(heron: Path, reader: Reader) -> None:
    """Neither picture nor the name of its file nor its note, whichever page or data; nobody gets the place."""
    site, found = shown(heron, reader)
    data = b"\n".join(path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file())
    allowed = reader.may_read(Reader.owner)
    assert any(name.startswith("photos/") for name in found.files) is allowed
    assert (b"canary-note" in data) is (b"canary-gone" in data) is (b"<img" in data) is allowed
    assert (b"canary" in data) is allowed
    assert b"canary-exif" not in data and b"canary-comment" not in data


def test_the_same_files_give_the_same_site(heron: Path) -> None:
    """Photographs included, and the browser is told to keep them."""
    first = {path.name: path.read_bytes() for path in shown(heron)[0].rglob("*") if path.is_file()}
    again = {path.name: path.read_bytes() for path in shown(heron)[0].rglob("*") if path.is_file()}
    assert first == again
    assert b'"photos/G2-1.jpg"' in first["offline.js"]


@pytest.mark.parametrize(("most", "held"), [(whole.MOST, 3), (20_000, 0)])
def test_the_one_file_holds_them_or_says_that_they_are_too_heavy(
    heron: Path, most: int, held: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It still fetches nothing."""
    monkeypatch.setattr(whole, "MOST", most)
    site, _ = shown(heron)
    sheet = parsed(site / "heron.html")
    inner = [source for source in sheet.sources if source.startswith("data:image/jpeg;base64,")]
    assert [source for source in sheet.sources if source != "data:,"] == inner
    assert len(inner) == held and sheet.wrong == []
    assert text_of(site / "heron.html").count("this one file would be too heavy") == 3 - held
    assert [link for link in sheet.links if not link.startswith("#")] == []


def test_without_pillow_the_pages_and_the_terminal_say_so(
    heron: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The site is written all the same."""
    monkeypatch.setitem(sys.modules, "PIL", None)
    into = heron.parents[1] / "site"
    done = CliRunner().invoke(cli, ["publish", str(heron), "--reader", "owner", "--into", str(into)])
    assert done.exit_code == 0
    assert done.stderr.count('pip install "specreg[photos]"') == 1
    said = text_of(into / "parts.html")
    assert "canary-pump.jpg is not shown" in said and "<img" not in (into / "parts.html").read_text()
    assert "canary-gone.jpg is written down, and the file is not there" in said


def test_a_designation_cannot_lead_out_of_the_folder(heron: Path) -> None:
    """Nor is one file written over another whose name differs only in signs or capitals."""
    (heron / "designations.yaml").write_text('water-pump: "../../-a"\npump-feed: "A"\n')
    (heron / "spec.yaml").write_text((heron / "spec.yaml").read_text().replace("-W3", "A"))
    site, found = shown(heron)
    assert {name for name in found.files if name.startswith("photos/")} == {
        "photos/a-1.jpg",
        "photos/A-2.jpg",
    }
    assert not (site.parent / "-a-1.jpg").exists()
