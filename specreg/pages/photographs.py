"""Photographs of this van: shown where the thing is named; what is not as recorded is said in words."""

from __future__ import annotations

import re
from collections import Counter
from enum import Enum
from hashlib import sha256
from typing import NamedTuple

from specreg.facts.engine import Facts
from specreg.model.attached import Absent
from specreg.model.build import Build
from specreg.model.records import Photo
from specreg.model.renaming import current_id
from specreg.pages.content import Break, Cell, Inline, Picture, Row, Section, Table, Unknown, Words, cell
from specreg.pages.shrinking import NoLibrary, Small, shrunk
from specreg.pages.van import Van
from specreg.pages.where import place_of

HEAVIEST = 64_000_000
"""Bytes of a file that is still read as a photograph."""

LONGEST_NAME = 60
"""Letters of a thing's id or designation that go into the name of a file."""

RUNS = "photographs-of-runs"
"""Anchor of the list of photographs of cables and pipes."""


class Why(Enum):
    """Why a photograph is not shown."""

    refused = "refused"
    missing = "missing"
    unread = "unread"
    changed = "changed"
    not_looked_at = "not_looked_at"
    no_library = "no_library"


class Photograph(NamedTuple):
    """A photograph of the records, the things that it shows, and its small picture or why there is none."""

    told: Photo
    things: tuple[str, ...]
    file: str
    small: Small | None
    why: Why | None


def photographs(facts: Facts) -> tuple[Photograph, ...]:
    """Return the photographs of a build that its reader may see; the public sees the name of none."""
    build, used = facts.build, Counter[str]()
    return tuple(_read(build, one, used) for one in build.header.records.photos if one.file)


def _read(build: Build, told: Photo, used: Counter[str]) -> Photograph:
    things = _shown(build, told)
    found = _small(build, told)
    if isinstance(found, Why):
        return Photograph(told, things, "", None, found)
    named = build.designations.get(things[0], things[0]) if things else "photo"
    stem = re.sub(r"[^A-Za-z0-9]+", "-", named).strip("-")[:LONGEST_NAME] or "photo"
    used[stem.lower()] += 1  # some file systems do not tell capitals from small letters
    return Photograph(told, things, f"photos/{stem}-{used[stem.lower()]}.jpg", found, None)


def _shown(build: Build, told: Photo) -> tuple[str, ...]:
    """Return what a photograph shows by id; a device is shown at the thing that it belongs to."""
    ids = {mark: name for name, mark in build.designations.items()}
    known = {*build.components, *build.runs}
    named = (ids.get(one, current_id(one, build.header.renamed)).partition("/")[0] for one in told.shows)
    return tuple(dict.fromkeys(one for one in named if one in known))


def _small(build: Build, told: Photo) -> Small | Why:
    if not build.attached.folders:
        return Why.not_looked_at
    data = build.attached.content(told.file, HEAVIEST)
    if isinstance(data, Absent):
        return Why[data.name]
    if told.checksum is not None and sha256(data).hexdigest() != told.checksum:
        return Why.changed
    try:
        return shrunk(data) or Why.unread
    except NoLibrary:
        return Why.no_library


def photographs_at(van: Van, thing: str) -> Cell:
    """Return the photographs of a thing, one below the other, or what is the matter with them."""
    found = [one for one in van.facts.once(photographs) if thing in one.things]
    return tuple(piece for one in found for piece in (Break(), *_pieces(van, one)))


def _pieces(van: Van, one: Photograph) -> tuple[Inline, ...]:
    if one.small is None:
        assert one.why is not None
        return (Unknown(van.texts(f"photos.{one.why.value}", file=one.told.file)),)
    picture = Picture(one.file, _alt(van, one), one.small.width, one.small.height)
    day = one.told.date.isoformat() if one.told.date else ""
    said = ", ".join(part for part in (one.told.at, day, one.told.note) if part)
    return (picture, Words(said)) if said else (picture,)


def _alt(van: Van, one: Photograph) -> str:
    """Return what a photograph shows: each thing with its name, designation and place."""
    things = "; ".join(_named(van, thing) for thing in one.things)
    return str(van.texts("photos.alt", things=things or ", ".join(one.told.shows) or one.told.note or "?"))


def _named(van: Van, thing: str) -> str:
    place = place_of(van, thing) if thing in van.build.components else ""
    return ", ".join(part for part in (van.name(thing), van.designation(thing), place) if part)


def led_to_photograph(van: Van, thing: str) -> Cell:
    """Return a link to the photographs of a thing; nothing where none is shown."""
    if not any(thing in one.things and one.small for one in van.facts.once(photographs)):
        return ()
    anchor = thing if thing in van.build.components else RUNS
    return (Words(" "), Words(van.texts("photos.link"), f"parts.html#{anchor}"))


def photographed_runs(van: Van) -> tuple[Section, ...]:
    """Return the photographs of cables and pipes, and those of which no thing is known; nothing without."""
    found = van.facts.once(photographs)
    seen = dict.fromkeys(thing for one in found for thing in one.things if thing in van.build.runs)
    rows = [Row((van.thing(run), photographs_at(van, run)[1:])) for run in seen]
    rows += [
        Row((cell(", ".join(one.told.shows) or van.texts("photos.nothing_named")), _pieces(van, one)))
        for one in found
        if not one.things
    ]
    if not rows:
        return ()
    columns = (van.texts("photos.shows"), van.texts("photos.photograph"))
    table = Table(van.texts("photos.caption"), columns, tuple(rows), findable=True)
    return (Section(RUNS, van.texts("photos.title"), (table,)),)
