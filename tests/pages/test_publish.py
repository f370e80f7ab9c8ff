"""The site as a whole: links, markup, weight, bytes, and what happens to the folder."""

from __future__ import annotations

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path
from urllib.parse import unquote

import pytest
from published import REGISTER, parsed

from specreg.model.field import Reader
from specreg.pages import publish as module
from specreg.pages.publish import MARKER, NotOurFolder, Published, publish

HEAVIEST = 150_000
"""Bytes that a page may weigh without photographs."""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The owner's edition of the demonstration register."""
    into = tmp_path_factory.mktemp("register") / "site"
    assert publish(REGISTER, Reader.owner, into).problems == ()
    return into


def pages(site: Path) -> list[Path]:
    """Every page of a site."""
    found = sorted(site.rglob("*.html"))
    assert len(found) > 10
    return found


def test_every_link_leads_to_a_page_and_an_anchor_that_are_there(site: Path) -> None:
    """No link is dead, none leads out, and none is absolute, so that the folder works from a stick."""
    ids = {page: set(parsed(page).ids) for page in pages(site)}
    dead = []
    for page in pages(site):
        for link in parsed(page).links:
            target, _, anchor = unquote(link).partition("#")
            other = (page.parent / target).resolve() if target else page
            outside = ":" in link or link.startswith("/") or not other.is_relative_to(site)
            if outside or not other.is_file() or (anchor and anchor not in ids.get(other, set())):
                dead.append(f"{page.relative_to(site)}: {link}")
    assert dead == []


def test_no_page_asks_for_anything_from_outside(site: Path) -> None:
    """Style and script come from the site's own folder; nothing names a network address."""
    for page in pages(site):
        assert {source for source in parsed(page).sources if not source.startswith("data:,")} <= {
            f"{'../' * (len(page.relative_to(site).parts) - 1)}{name}" for name in ("book.css", "book.js")
        }
    for file in site.rglob("*"):
        text = file.read_text() if file.suffix in (".css", ".js", ".html") else ""
        assert "//" not in text.replace("// Helps", ""), file
        assert "@import" not in text
        assert "url(" not in text


def test_markup_is_well_formed(site: Path) -> None:
    """Every tag is closed where it should be, no attribute stands twice, no anchor is on a page twice."""
    for page in pages(site):
        sheet = parsed(page)
        assert (sheet.wrong, sheet.open) == ([], []), page
        assert len(sheet.ids) == len(set(sheet.ids)), [i for i in sheet.ids if sheet.ids.count(i) > 1]


def test_no_page_is_heavy(site: Path) -> None:
    """A page loads on a phone with a poor signal."""
    heavy = {
        p.relative_to(site).as_posix(): p.stat().st_size for p in pages(site) if p.stat().st_size > HEAVIEST
    }
    assert heavy == {}


def test_the_first_link_of_every_page_of_a_van_is_the_emergency(site: Path) -> None:
    """One tap from everywhere."""
    for page in pages(site):
        if page.parent != site:
            assert parsed(page).links[0] == "emergency.html"


def test_every_page_says_what_it_is_and_claims_nothing(site: Path) -> None:
    """Revision, day, rules and the sentence on what this record is stand on each; no word of approval."""
    for page in pages(site):
        text = page.read_text()
        assert "This is a record of the written specification" in text
        if page.parent != site:
            assert all(
                f"<dt>{word}</dt>" in text
                for word in ("Revision", "As of", "Judged for", "Rule pack", "Edition")
            )
        assert not any(claim in text.lower() for claim in ("is safe", "is certified", "is approved"))


def test_two_runs_give_the_same_bytes_whatever_the_hash_seed(tmp_path: Path) -> None:
    """Only real changes show in git."""
    marks = []
    for seed in ("1", "2"):
        into = tmp_path / seed
        code = (
            "import sys; from pathlib import Path; from specreg.model.field import Reader; "
            "from specreg.pages.publish import publish; publish(Path(sys.argv[1]), Reader.workshop, Path(sys.argv[2]))"
        )
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(REGISTER.parent)}
        subprocess.run([sys.executable, "-c", code, str(REGISTER), str(into)], check=True, env=environment)
        files = sorted(path for path in into.rglob("*") if path.is_file())
        marks.append([(f.relative_to(into).as_posix(), sha256(f.read_bytes()).hexdigest()) for f in files])
    assert marks[0] == marks[1]
    assert len(marks[0]) > 20


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
    with pytest.raises(NotOurFolder):
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
