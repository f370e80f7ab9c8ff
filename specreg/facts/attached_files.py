"""Photographs and certificates that the records name: whether each is there, and as it was recorded."""

from __future__ import annotations

import re
from collections.abc import Iterator

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, text
from specreg.model.attached import Absent, well_named
from specreg.model.build import Header

SPEC = "the spec's records and the files beside it"
CHECKSUM = re.compile(r"[0-9a-f]{64}")


def _named(build: Subject) -> Iterator[tuple[str, str | None]]:
    """Yield each file that the records name, with the checksum recorded."""
    records = build.van.build.header.records
    yield from ((photo.file, photo.checksum) for photo in records.photos)
    for signed in records.sign_offs:
        if signed.certificate is not None:
            yield signed.certificate, signed.certificate_checksum


@fact(Header, list_of(text()), formula="files named by photographs and sign-offs", source=SPEC)
def recorded_files(build: Subject) -> tuple[str, ...]:
    """Files that the records name."""
    return tuple(dict.fromkeys(name for name, _ in _named(build)))


@fact(
    Header,
    list_of(text()),
    formula="files that are not there, have another SHA-256 than recorded, or no checksum",
    source="FIPS 180-4 for SHA-256",
)
def files_amiss(build: Subject) -> tuple[str, ...]:
    """Files of the records with which something is wrong, and what."""
    if not build.van.build.attached.folders and any(_named(build)):
        build.van.assume("Files are not looked at here: only their names and checksums are.")
    found = ((name, _wrong(build, name, recorded)) for name, recorded in _named(build))
    return tuple(dict.fromkeys(f"{name} ({wrong})" for name, wrong in found if wrong))


def _wrong(build: Subject, name: str, recorded: str | None) -> str:
    attached = build.van.build.attached
    if not well_named(name):
        return Absent.refused.value
    there = attached.checksum(name) if attached.folders else recorded
    if isinstance(there, Absent):
        return there.value
    if recorded is None:
        return "no checksum recorded"
    if not CHECKSUM.fullmatch(recorded):
        return "its checksum is no SHA-256"
    return "" if there == recorded else "changed since it was recorded"


def may_be_hidden(build: Subject) -> tuple[str, ...]:
    """Return the runs that panels cover, or that do not say that they stay in sight."""
    return tuple(name for name, run in build.van.build.runs.items() if run.hidden is not False)


@fact(Header, TRUTH, formula="a run does not say `hidden: false`", source="the spec's runs")
def has_hidden_runs(build: Subject) -> bool:
    """Whether panels cover a run, or may."""
    return bool(may_be_hidden(build))


@fact(Header, list_of(text()), formula="runs that may be hidden and that no photograph shows", source=SPEC)
def hidden_without_photograph(build: Subject) -> tuple[str, ...]:
    """Runs that panels will cover and that no photograph shows."""
    photos = build.van.build.header.records.photos
    if not photos:
        raise Missing("records.photos")
    shown = {name for photo in photos for name in photo.shows}
    marks = build.van.build.designations
    return tuple(name for name in may_be_hidden(build) if not {name, marks.get(name)} & shown)
