"""What stands around every page: which van, which sheet, by which rules, on which day."""

from __future__ import annotations

from typing import NamedTuple

from specreg.pages.content import Page
from specreg.pages.texts import Texts
from specreg.pages.van import Van
from specreg.rules.pack import Pack


class Leaf(NamedTuple):
    """A link to another page."""

    title: str
    href: str


class Frame(NamedTuple):
    """The frame of one page. `root` leads from the page to the folder with style and script."""

    language: str
    title: str
    book: str
    root: str
    sheet: str
    emergency: Leaf | None
    contents: Leaf | None
    find: Leaf | None
    register: Leaf | None
    before: Leaf | None
    after: Leaf | None
    facts: tuple[tuple[str, str], ...]
    codes: tuple[str, ...]
    record: str


def frame_of(van: Van, page: Page, pages: tuple[Page, ...], *, in_register: bool) -> Frame:
    """Return the frame of one page of a van's book; `pages` are all of them in order."""
    number = [one.name for one in pages].index(page.name)
    before = pages[number - 1] if number else None
    after = pages[number + 1] if number + 1 < len(pages) else None
    title = page.title if page.name == "index" else f"{page.title} – {van.build.header.title}"
    return Frame(
        van.texts.language,
        title,
        van.build.header.title,
        "../" if in_register else "",
        van.texts("frame.sheet", number=number + 1, count=len(pages)),
        Leaf(van.texts("page.emergency"), "emergency.html"),
        Leaf(van.texts("frame.contents"), "index.html"),
        Leaf(van.texts("page.find"), "find.html"),
        Leaf(van.texts("frame.register"), "../index.html") if in_register else None,
        Leaf(before.title, before.file) if before else None,
        Leaf(after.title, after.file) if after else None,
        _facts(van),
        van.report.pack.codes,
        van.texts("frame.record"),
    )


def _facts(van: Van) -> tuple[tuple[str, str], ...]:
    header, texts = van.build.header, van.texts
    where = ", ".join(texts(f"jurisdiction.{word.value}") for word in header.jurisdictions)
    return (
        (texts("frame.van"), f"{header.title} ({van.build.name})"),
        (texts("frame.stage"), header.stage.value.replace("-", " ")),
        (texts("frame.revision"), header.revision or texts("frame.revision_none")),
        (texts("frame.day"), van.on.isoformat() if van.on else texts("frame.day_none")),
        (texts("frame.codes"), where),
        pack_fact(texts, van.report.pack),
        (texts("frame.edition"), texts(f"frame.edition_{van.reader.value}")),
    )


def pack_fact(texts: Texts, pack: Pack) -> tuple[str, str]:
    """Return by which rules was judged: how many, and the mark of their edition."""
    return (texts("frame.rules"), texts("frame.rules_mark", count=len(pack.rules), mark=pack.mark))


def register_frame(texts: Texts, title: str, facts: tuple[tuple[str, str], ...]) -> Frame:
    """Return the frame of a register's front page."""
    return Frame(
        texts.language,
        title,
        title,
        "",
        "",
        None,
        None,
        None,
        None,
        None,
        None,
        facts,
        (),
        texts("frame.record"),
    )
