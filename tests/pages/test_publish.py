"""What happens to the folder that is published to, and to the texts that go into it."""

from __future__ import annotations

from pathlib import Path

import pytest
from published import parsed

from specreg import writing as module
from specreg.model.field import Reader
from specreg.pages.publish import MARKER, Published, publish
from specreg.writing import Refused


def one(place: Path, into: Path) -> Published:
    """Publish the one van of the small register."""
    return publish(place / "vans" / "heron", Reader.owner, into)


def test_one_van_has_its_first_page_in_the_folder_itself(place: Path) -> None:
    """A single build needs no register around it."""
    found = one(place, place / "site")
    assert (place / "site" / "index.html").is_file()
    assert "index.html" in found.files
    assert not (place / "site" / "heron").exists()
    assert "../" not in (place / "site" / "index.html").read_text()


def test_a_register_has_a_front_page_and_a_folder_for_each_van(place: Path) -> None:
    """The front page leads to each van."""
    publish(place / "vans", Reader.public, place / "site")
    assert "heron/index.html" in parsed(place / "site" / "index.html").links
    assert (place / "site" / "heron" / "emergency.html").is_file()


def test_a_folder_that_is_not_ours_is_refused_and_left_alone(place: Path) -> None:
    """Nobody's photographs are deleted."""
    (place / "photos").mkdir()
    (place / "photos" / "one.jpg").write_text("a photograph")
    with pytest.raises(Refused):
        one(place, place / "photos")
    assert [path.name for path in (place / "photos").iterdir()] == ["one.jpg"]


def test_an_earlier_site_is_replaced_as_a_whole(place: Path) -> None:
    """What is no longer a page does not stay behind."""
    one(place, place / "site")
    (place / "site" / "old.html").write_text("an old page")
    one(place, place / "site")
    assert not (place / "site" / "old.html").exists()
    assert (place / "site" / MARKER).is_file()
    assert [path.name for path in place.iterdir() if path.name.startswith(".site")] == []


def test_a_failure_leaves_the_old_site_as_it_was(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whole or not at all."""
    one(place, place / "site")
    before = {path.name: path.read_bytes() for path in (place / "site").iterdir()}

    def fail(*_: object) -> None:
        raise OSError("no room left")

    monkeypatch.setattr(module, "_swap", fail)
    with pytest.raises(OSError, match="no room"):
        one(place, place / "site")
    assert {path.name: path.read_bytes() for path in (place / "site").iterdir()} == before


def test_text_of_a_spec_never_becomes_markup(place: Path) -> None:
    """Whatever a spec says is shown as it was written."""
    spec = place / "vans" / "heron" / "spec.yaml"
    spec.write_text(spec.read_text().replace("title: Two-berth van", 'title: "<script>alert(1)</script>"'))
    one(place, place / "site")
    for page in (place / "site").glob("*.html"):
        assert "<script>alert" not in page.read_text()
    assert "&lt;script&gt;" in (place / "site" / "index.html").read_text()


PROCEDURE = """# Look at the pump

> WARNING: Switch it off first.

Look at the [pump](component:water-pump) and the [fan](component:water-pumb).
<b onclick="x()">Bold</b> [out](https://example.org/)
"""


def test_a_procedure_is_shown_without_its_markup_and_its_links_are_checked(place: Path) -> None:
    """Raw markup is text, links to components lead to them, and wrong ones are problems with a line."""
    folder = place / "vans" / "heron" / "procedures"
    folder.mkdir()
    (folder / "pump.md").write_text(PROCEDURE)
    found = one(place, place / "site")
    text = (place / "site" / "how-to.html").read_text()
    assert 'href="parts.html#water-pump"' in text
    assert 'class="caution warning"' in text
    assert "&lt;b onclick" in text
    assert "example.org" not in text
    said = [problem.text() for problem in found.problems]
    assert [one for one in said if "procedures/pump.md:5" in one and "water-pump" in one]
    assert [one for one in said if "links out of the site" in one]


def test_procedures_are_not_for_the_public(place: Path) -> None:
    """A stranger has no use for the way into the van."""
    folder = place / "vans" / "heron" / "procedures"
    folder.mkdir()
    (folder / "pump.md").write_text(PROCEDURE)
    publish(place / "vans" / "heron", Reader.public, place / "site")
    assert not (place / "site" / "how-to.html").exists()
