"""What a place in a file of a register speaks of: which entry, which model, which field."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as File

from pydantic import BaseModel

from specreg.editor.fields import Meaning, meaning
from specreg.editor.reading import Reading, role_of, stated
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.kinds import kinds
from specreg.model.run import RUNS, Run
from specreg.source import Path

SECTIONS = ("components", "runs")


@dataclass(frozen=True)
class Spot:
    """A path of a file, and the model that the part of it below `entry` is read by."""

    file: File
    role: str
    path: Path
    entry: Path
    """The path of the component, run or part in its file; empty for the head of a spec."""
    section: str
    """`components`, `runs`, or empty."""
    model: type[BaseModel] | None

    @property
    def rest(self) -> Path:
        """Return the path inside the entry."""
        return self.path[len(self.entry) :]

    @property
    def meaning(self) -> Meaning | None:
        """Return what the path leads to."""
        return meaning(self.model, self.rest) if self.model else None

    @property
    def subject(self) -> str:
        """Return the id of the component, run or part."""
        return str(self.entry[-1]) if self.entry else ""


def spot(reading: Reading, file: File, path: Path) -> Spot:
    """Return what a path of a file speaks of."""
    role = role_of(reading.home, file)
    if role == "part" and path:
        is_run = bool(reading.outline(file).text((path[0], "medium")))
        section = "runs" if is_run else "components"
        return Spot(file, role, path, path[:1], section, _model(reading, file, path[:1], section))
    if role in ("build", "assembly") and len(path) > 1 and path[0] in SECTIONS:
        section = str(path[0])
        return Spot(file, role, path, path[:2], section, _model(reading, file, path[:2], section))
    apart = (*SECTIONS, "circuits", "include", "parameters")
    known = role in ("build", "register") and not (path and path[0] in apart)
    return Spot(file, role, path, (), "", Header if known else None)


def word_of(reading: Reading, file: File, entry: Path, section: str) -> str:
    """Return the kind of a component or medium of a run: from the text, its part, else the build."""
    key = "kind" if section == "components" else "medium"
    here = reading.outline(file)
    if word := here.text((*entry, key)):
        return word
    if word := stated(reading.part(here.text((*entry, "part"))), key):
        return word
    van = reading.van_of(file)
    return stated(van.tree, section, str(entry[-1]), key) if van else ""


def _model(reading: Reading, file: File, entry: Path, section: str) -> type[BaseModel]:
    word = word_of(reading, file, entry, section)
    return kinds().get(word, Component) if section == "components" else RUNS.get(word, Run)
