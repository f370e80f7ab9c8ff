"""The site written as a whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from specreg import shipped, workshop
from specreg.facts.engine import Facts
from specreg.model.field import Reader
from specreg.pages import check, frame, offline, register, search
from specreg.pages.care import CALENDAR, calendar, care_page
from specreg.pages.chapters import beds_page, heat_page, water_page, weights_page
from specreg.pages.check_data import as_data
from specreg.pages.checklists import checklists_page
from specreg.pages.content import Page
from specreg.pages.diagrams import diagrams_page
from specreg.pages.electrics import electrics_page
from specreg.pages.emergency import emergency_page
from specreg.pages.energy import energy_page
from specreg.pages.faults import fault_pages
from specreg.pages.flow import flow_page
from specreg.pages.gate import Gate, seen_by
from specreg.pages.hold_points import hold_pages
from specreg.pages.labels import labels_pages
from specreg.pages.ledger import ledger_page
from specreg.pages.next_owner import for_next_owner
from specreg.pages.parts import parts_page
from specreg.pages.photographs import Why, photographs
from specreg.pages.places import places_page
from specreg.pages.procedures import how_to_page
from specreg.pages.questions import questions_page
from specreg.pages.render import Renderer
from specreg.pages.sides import sides_page
from specreg.pages.start import in_order, start_page
from specreg.pages.texts import Texts, read_texts
from specreg.pages.trade import trade_pages
from specreg.pages.van import Van
from specreg.pages.whole import Photographs, file_of_book, labels_alone, whole_book
from specreg.pages.works import works_pages
from specreg.report import Report
from specreg.rules.pack import Pack
from specreg.source import Problem
from specreg.writing import alone_in, refuse_foreign, write_folder, write_whole

if TYPE_CHECKING:
    from specreg.register.compare import Comparison

MARKER = "site-by-specreg.txt"
"""The file by which a later run knows that a folder is one of its own and may be replaced."""

MARKED = "This folder was written by specreg, and is replaced as a whole when it is published again.\n"


@dataclass(frozen=True)
class Wishes:
    """What an edition may be asked for besides its reader.

    `address` is the folder on the network at which it will be read, for codes on labels; `language` that of
    its standard texts; `next_owner` leaves the former owner's data out. `watch` is told the path of each file
    as it is made, `waits` where reading has to wait for a run that writes in the register.
    """

    address: str = ""
    language: str = "en"
    next_owner: bool = False
    watch: Callable[[str], None] = field(default=lambda path: None, compare=False)
    waits: Callable[[str], None] = field(default=lambda remark: None, compare=False)


ENGLISH = Wishes()
"""Nothing asked for."""


class Published(NamedTuple):
    """What was written where, what was found, every problem on the way; `notes` to who published."""

    folder: Path
    reader: Reader
    reports: tuple[Report, ...]
    files: tuple[str, ...]
    unread: tuple[str, ...]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...] = ()


def publish(
    path: Path,
    reader: Reader,
    into: Path,
    on: date | None = None,
    since: str | None = None,
    wishes: Wishes = ENGLISH,
) -> Published:
    """Write the site of a build, or of every build of a register, for one reader.

    With `since`, a revision of git, a page tells what changed from it to what the files say now. The folder
    is replaced as a whole. Raises Refused where it holds something else. Where nothing could be read, nothing
    is written.
    """
    refuse_foreign(into, MARKER)
    with alone_in(workshop.asked(path)[0], wishes.waits):  # else half of what a command writes could be read
        opened = workshop.load(path)
        compared, more = _since(path, on, None if wishes.next_owner else since)  # history tells of that owner
    pack, problems = workshop.rules_for(opened)
    texts = read_texts(shipped.site_folder() / "texts", wishes.language)
    loaded = [_for(one, wishes) for one in opened.builds if one.build is not None]
    single = opened.folder != Path(os.path.abspath(path))  # noqa: PTH100 - as the register was opened
    vans = tuple(
        replace(
            _van(opened.shown, one, pack, reader, texts, on),
            since=compared.get(one.name),
            address=address_of(wishes.address, "" if single else one.name),
        )
        for one in loaded
    )
    found = [*opened.problems, *problems, *more]
    files: dict[str, str | bytes] = {}
    for name, text in _files(vans, opened.unread, reader, texts, single, found):
        wishes.watch(name)
        files[name] = text
    files[offline.FILE] = offline.offline_script(files, offline_source())
    if vans:
        write_folder(into, files, MARKER)
    reports = tuple(van.report for van in vans)
    noted = tuple(dict.fromkeys(found))
    return Published(into, reader, reports, tuple(files), opened.unread, noted, _notes(vans))


def _notes(vans: tuple[Van, ...]) -> tuple[str, ...]:
    """Return what who publishes should know: that Pillow is not there to shrink photographs."""
    found = (one.why for van in vans for one in van.facts.once(photographs))
    return (NO_PILLOW,) if Why.no_library in found else ()


NO_PILLOW = 'photographs are left out: Pillow makes them small; pip install "specreg[photos]" brings it'


class Written(NamedTuple):
    """Whether a file was written, and every problem on the way."""

    written: bool
    problems: tuple[Problem, ...]


def write_labels(path: Path, into: Path, address: str) -> Written:
    """Write the labels of one van as one file, for the workshop; nothing where the path is not one van's."""
    with alone_in(workshop.asked(path)[0]):
        opened = workshop.load(path)
    sound = [one for one in opened.builds if one.build is not None]
    if opened.problems or len(sound) != 1:
        return Written(False, opened.problems)
    source = shipped.site_folder()
    texts = read_texts(source / "texts")
    made = _van(opened.shown, sound[0], Pack(()), Reader.workshop, texts, None)
    van = replace(made, address=address_of(address, ""))
    pages = labels_pages(van)
    if not pages:
        return Written(False, ())
    style = (source / "book.css").read_text(encoding="utf-8")
    around = frame.frame_of(van, pages[0], pages, in_register=False)
    text = labels_alone(Renderer(source / "templates", texts), pages, around, style)
    write_whole(into, text)
    return Written(True, ())


def _since(
    path: Path, on: date | None, revision: str | None
) -> tuple[dict[str, Comparison], tuple[Problem, ...]]:
    """Return what changed in each build since a revision, with what could not be read of it."""
    if revision is None:
        return {}, ()
    from specreg.register.compare import Comparer  # noqa: PLC0415 - most sites tell of no change

    compared = Comparer(path, on).revisions(revision)
    return {one.after.build.name: one for one in compared.comparisons}, compared.problems


def _for(loaded: workshop.Loaded, wishes: Wishes) -> workshop.Loaded:
    """Return a build as it is to be published: for its next owner without what was the former one's."""
    if loaded.build is None or not wishes.next_owner:
        return loaded
    return replace(loaded, build=for_next_owner(loaded.build))


def address_of(address: str, folder: str) -> str:
    """Return the address of a van's pages, ending in a slash; empty where none was given."""
    parts = [part.rstrip("/") for part in (address, folder) if part]
    return "/".join((*parts, "")) if address else ""


def offline_source() -> str:
    """Return the script that keeps a site, before it is told which files."""
    return (shipped.site_folder() / offline.FILE).read_text(encoding="utf-8")


def _van(
    shown: str, loaded: workshop.Loaded, pack: Pack, reader: Reader, texts: Texts, on: date | None
) -> Van:
    assert loaded.build is not None
    report = workshop.inspect(loaded.build, pack, on)
    gate = Gate(report.facts, reader)
    seen = seen_by(loaded.build, reader)
    results = gate.results(report.results)
    folder = f"{shown}/{loaded.name}"
    return Van(seen, Facts(seen, on), results, report, reader, texts, loaded.folder, folder, report.on)


def _files(
    vans: tuple[Van, ...],
    unread: tuple[str, ...],
    reader: Reader,
    texts: Texts,
    single: bool,
    problems: list[Problem],
) -> Iterator[tuple[str, str | bytes]]:
    """Yield every file of the site by its path; photographs are bytes, all else is text."""
    source = shipped.site_folder()
    style, script = ((source / name).read_text(encoding="utf-8") for name in ("book.css", "book.js"))
    renderer = Renderer(source / "templates", texts)
    yield MARKER, MARKED
    yield "book.css", style
    yield "book.js", script
    for van in vans:
        home = "" if single else f"{van.build.name}/"
        for name, text in _of_van(van, renderer, style, script, problems, in_register=not single):
            yield f"{home}{name}", text
    if not single:
        page = register.register_page(texts, vans, unread, reader)
        edition = (texts("frame.edition"), texts(f"frame.edition_{reader.value}"))
        told = (*([frame.pack_fact(texts, vans[0].report.pack)] if vans else []), edition)
        yield "index.html", renderer.page(page, frame.register_frame(texts, page.title, told))


def _of_van(
    van: Van, renderer: Renderer, style: str, script: str, problems: list[Problem], *, in_register: bool
) -> Iterator[tuple[str, str | bytes]]:
    """Yield the files of one van: pages, what finds in them, photographs, all in one, and its data."""
    pages, found = pages_of(van)
    problems += found
    around = frame.frame_of(van, pages[0], pages, in_register=in_register)
    sheets = {page.name: renderer.sheet(page, around) for page in pages}
    for page in pages:
        own = frame.frame_of(van, page, pages, in_register=in_register)
        yield page.file, renderer.page(page, own, sheets[page.name])
    yield search.FILE, search.search_list(pages)
    pictures = {one.file: one.small.jpeg for one in van.facts.once(photographs) if one.small}
    yield from pictures.items()
    held = Photographs(pictures, van.texts("photos.too_heavy"))
    yield file_of_book(van.build.name, pages), whole_book(renderer, sheets, around, style, script, held)
    yield "check.json", as_data(van)
    yield CALENDAR, calendar(van)


def _changed(van: Van) -> tuple[Page, ...]:
    """Return the page that tells what changed, where that was asked for."""
    if van.since is None:
        return ()
    from specreg.pages.changed import changed_page  # noqa: PLC0415 - most sites tell of no change

    return (changed_page(van, van.since),)


def pages_of(van: Van) -> tuple[tuple[Page, ...], list[Problem]]:
    """Return the pages of one van in their order, with the problems in its procedures."""
    how_to, problems = how_to_page(van)
    flow = flow_page(van)
    rest = (
        emergency_page(van),
        *fault_pages(van),
        places_page(van),
        sides_page(van),
        checklists_page(van),
        *((how_to,) if how_to else ()),
        diagrams_page(van),
        electrics_page(van),
        *((flow,) if flow else ()),
        energy_page(van),
        water_page(van),
        heat_page(van),
        beds_page(van),
        weights_page(van),
        ledger_page(van),
        care_page(van),
        *_changed(van),
        parts_page(van),
        *works_pages(van),
        *labels_pages(van),
        *trade_pages(van),
        *hold_pages(van),
        *check.check_pages(van),
        search.find_page(van.texts),
    )
    asked = questions_page(van, (start_page(van, rest), *rest))
    ordered = in_order((rest[0], asked, *rest[1:]))
    return (start_page(van, ordered), *ordered), problems
