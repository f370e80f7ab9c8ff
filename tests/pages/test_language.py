"""A second language: its catalogue fits the English one, what it has not is marked, cautions are not machine-made."""

from __future__ import annotations

import re
from pathlib import Path
from string import Formatter

import pytest
from published import REGISTER, parsed

from specreg import shipped
from specreg.model.field import Reader
from specreg.pages.content import Words
from specreg.pages.publish import Wishes, publish
from specreg.pages.texts import Texts, Untranslated, read_texts
from specreg.pages.written import marked, whole

TEXTS = shipped.site_folder() / "texts"
ENGLISH, GERMAN = read_texts(TEXTS), read_texts(TEXTS, "de")
SAFETY = re.compile(r"(^|\.)(caution|hazard)$|^emergency\.")
"""Names of texts that keep people from harm."""


def blanks(text: str) -> set[str]:
    """The places of a text that a page fills."""
    return {field for _, field, _, _ in Formatter().parse(text) if field is not None}


def test_every_german_text_stands_for_an_english_one_with_the_same_places() -> None:
    """No name that English has not, no place more or less."""
    english, german = ENGLISH.table, GERMAN.table
    assert len(german) > 200
    assert [name for name in german if name not in english] == []
    assert {name: text for name, text in german.items() if blanks(text) != blanks(english[name])} == {}


def test_no_safety_message_is_german_before_a_person_has_translated_it() -> None:
    """A name comes off this list with the name of who translated it, in the file."""
    assert [name for name in GERMAN.table if SAFETY.search(name)] == []
    assert len([name for name in ENGLISH.table if SAFETY.search(name)]) > 80


def test_what_is_missing_comes_in_english_and_says_so() -> None:
    """Whole, filled and in pieces; a name that no catalogue has is an error in both."""
    texts = Texts("de", {"there": "da"}, {"there": "there", "gone": "gone {where}", "deep.er": "x"})
    assert (texts("there"), type(texts("there"))) == ("da", str)
    assert texts("gone", where="now") == "gone now"
    assert isinstance(texts("gone", where="now"), Untranslated) and isinstance(texts("deep.er"), Untranslated)
    first, second = texts.say("gone", where="here")
    assert isinstance(first, Words) and isinstance(first.text, Untranslated)
    assert isinstance(second, Words) and not isinstance(second.text, Untranslated)
    for name in ("nowhere", "deep", "there.er"):
        with pytest.raises(KeyError):
            texts(name)


@pytest.mark.parametrize(
    ("text", "markup"),
    [
        (
            "Pump (-G7) until 2026-05-20",
            'Pump (<span class="n">-G7)</span> until <span class="n">2026-05-20</span>',
        ),
        ("a < b, -G", "a &lt; b, -G"),
        (Untranslated("a & (-F1)"), '<span lang="en">a &amp; (<span class="n">-F1)</span></span>'),
        ("x-ray 3-A1", "x-ray 3-A1"),
    ],
)
def test_lines_do_not_end_within_a_mark_or_a_day(text: str, markup: str) -> None:
    """The letters stay as they are, for copying and searching; what is English says so."""
    assert whole(text) == markup
    assert re.sub("<[^>]+>", "", whole(text)) == re.sub("&(?!amp|lt)", "&amp;", str(text)).replace(
        "<", "&lt;"
    )


def test_only_what_is_untranslated_is_marked() -> None:
    """A text of the language itself passes as it is."""
    assert marked("da") == "da"
    assert marked(Untranslated("<there>")) == '<span lang="en">&lt;there&gt;</span>'


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A van in German."""
    into = tmp_path_factory.mktemp("german").resolve() / "site"
    assert publish(REGISTER / "fieldwork", Reader.owner, into, wishes=Wishes(language="de")).problems == ()
    return into


def test_a_german_book_is_german_where_it_can_be(site: Path) -> None:
    """Language of the page, head, titles, columns, how figures are known."""
    text = (site / "water.html").read_text(encoding="utf-8")
    for words in (
        '<html lang="de">',
        "Im Notfall</a>",
        "<h1>Wasser und Abwasser</h1>",
        ">Hahn</th>",
        "<i>angegeben</i>",
    ):
        assert words in text, words


def test_every_untranslated_caution_of_a_german_book_is_marked(site: Path) -> None:
    """In English, marked as English, with a German line that says so."""
    cautions = 0
    for page in sorted(site.glob("*.html")):
        for one in re.findall(
            r'<div class="caution [a-z]+">.*?</div>', page.read_text(encoding="utf-8"), re.S
        ):
            cautions += 1
            assert 'lang="en"' in one and "noch nicht von einem Menschen übersetzt" in one, page
    assert cautions > 40


def test_a_german_book_keeps_its_links(site: Path) -> None:
    """Anchors do not depend on the language."""
    ids = {page.name: parsed(page).ids for page in site.glob("*.html")}
    for page in site.glob("*.html"):
        for link in parsed(page).links:
            file, _, anchor = link.partition("#")
            assert not anchor or anchor in ids[file or page.name], (page.name, link)
        assert (parsed(page).wrong, parsed(page).open) == ([], [])


def test_an_english_book_marks_nothing_as_english(tmp_path: Path) -> None:
    """Its own language needs no mark."""
    publish(REGISTER / "pocket", Reader.owner, tmp_path / "site")
    for page in (tmp_path / "site").glob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert '<span lang="en">' not in text and "has not been translated" not in text
