"""Which vans have what a maker calls back, which may have it, and how far each is dealt with."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.register.find import Finder, Hit
from specreg.register.query import Condition, equal
from specreg.source import Problem, nearest_word
from specreg.source.recall import Recall, State, doubt, read_recall

__all__ = ["Reached", "Recall", "State", "reached", "read_recall", "strangers"]


@dataclass(frozen=True)
class Reached:
    """A thing that a recall reaches, or may reach: `unsure` says why that cannot be told."""

    hit: Hit
    state: State
    since: str
    unsure: str = ""


def reached(finder: Finder, recall: Recall) -> tuple[Reached, ...]:
    """Return what a recall reaches for sure, then what it may reach, each by build."""
    found: dict[tuple[str, str], Reached] = {}
    for affected in recall.affects:
        conditions = [Condition(key, (equal(key, text),)) for key, text in affected.named.items()]
        for hit in finder.find(conditions).hits:
            unsure = doubt(hit.words, affected)
            known = found.get((hit.build, hit.words["id"]))
            if unsure is not None and (known is None or known.unsure):
                one = Reached(hit, *recall.state(hit.build), unsure=unsure)
                found[hit.build, hit.words["id"]] = one
    return tuple(sorted(found.values(), key=lambda one: (bool(one.unsure), one.hit.build)))


def strangers(finder: Finder, recall: Recall) -> list[Problem]:
    """Return the builds for which steps are recorded and that the register does not have."""
    names = finder.names()
    return [
        Problem(place, "the register has no such build", build, None, nearest_word(build, names))
        for build, place in recall.places.items()
        if build not in names and finder.only is None
    ]
