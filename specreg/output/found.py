"""What was found in a register, and whom a recall reaches: as text, JSON and CSV.

Kept apart from the reports of checks: an answer from the index loads neither models nor rules.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from specreg import __version__
from specreg.output.rows import as_csv, in_columns, visible
from specreg.register.find import Found, Hit
from specreg.register.recall import Reached, Recall
from specreg.source import Problem

FORMAT = 1
NO_RECALL = dict.fromkeys(("state", "since", "unsure"))

COLUMNS = ("build", "title", "stage", "component", "designation", "kind", "name", "place", "part", "serial",
           "fitted", "source")  # fmt: skip


def _cells(hit: Hit) -> tuple[str, ...]:
    words = hit.words
    name = words["title"] or words["label"]
    source = str(hit.place) if hit.place else ""
    where = words["zone"] or words["at"]
    return (hit.build, hit.van, hit.stage, words["id"], words["designation"], words["kind"], name, where,
            words["part"], words["serial"], words["fitted"], source)  # fmt: skip


def found_text(found: Found, width: int | None = None) -> str:
    """Return hits in columns, with how many there are in how many vans; `width` is the terminal's."""
    vans = len({hit.build for hit in found.hits})
    among = f"{vans} of {found.builds} {'van' if found.builds == 1 else 'vans'}"
    if not any(hit.words["id"] for hit in found.hits):
        lines = _columns(COLUMNS[:3], [_cells(hit)[:3] for hit in found.hits], width) if found.hits else []
        return "\n".join([*lines, f"{among}."]) + "\n"
    things = f"{len(found.hits)} {'thing' if len(found.hits) == 1 else 'things'}"
    return "\n".join([*_columns(COLUMNS, map(_cells, found.hits), width), f"{things} in {among}."]) + "\n"


def found_csv(found: Found) -> str:
    """Return a row for each hit."""
    return as_csv(COLUMNS, map(_cells, found.hits))


def found_json(found: Found) -> str:
    """Return hits as JSON, in the shape of `register_shape.FoundData`."""
    return _json(None, [hit_data(hit) for hit in found.hits], found)


def _json(recall: dict[str, str] | None, hits: list[dict[str, Any]], found: Found) -> str:
    problems = [_problem(one) for one in found.problems]
    data = {
        "format": FORMAT,
        "specreg": __version__,
        "recall": recall,
        "builds": found.builds,
        "hits": hits,
        "unread": list(found.unread),
        "problems": problems,
    }
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def hit_data(hit: Hit) -> dict[str, Any]:
    """Return one hit as plain data."""
    place = hit.place._asdict() if hit.place else None
    words = {("component" if word == "id" else word): text or None for word, text in hit.words.items()}
    return {"build": hit.build, "van": hit.van, "stage": hit.stage, **words, "place": place, **NO_RECALL}


def _problem(problem: Problem) -> dict[str, Any]:
    place = problem.place._asdict() if problem.place else None
    keys = ("message", "read", "expected", "nearest", "remedy")
    return {"place": place, **{key: getattr(problem, key) for key in keys}}


RECALL_COLUMNS = ("build", "title", "state", "since", "component", "designation", "place", "part", "serial",
                  "fitted", "source")  # fmt: skip


def _recall_cells(one: Reached) -> tuple[str, ...]:
    build, title, _, component, designation, _, _, place, part, serial, fitted, source = _cells(one.hit)
    state = one.state.value
    return build, title, state, one.since, component, designation, place, part, serial, fitted, source


def recall_text(recall: Recall, reached: Sequence[Reached]) -> str:
    """Return whom a recall reaches, by build, and apart from them those that may have what is called back."""
    sure, unsure = [one for one in reached if not one.unsure], [one for one in reached if one.unsure]
    head = (f"Recall: {recall.title}", f"{recall.source}, {recall.date}", f"What to do: {recall.do}")
    lines = [*map(visible, head), ""]
    lines += ["Have it:", *_table(RECALL_COLUMNS, map(_recall_cells, sure))] if sure else ["No van has it."]
    if unsure:
        header = (*RECALL_COLUMNS, "why it is not sure")
        rows = [(*_recall_cells(one), one.unsure) for one in unsure]
        lines += ["", "May have it:", *_table(header, rows)]
    return "\n".join([*lines, "", _tally(reached)]) + "\n"


def _table(header: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    return [f"  {line}" for line in _columns(header, rows)]


def _columns(header: Sequence[str], rows: Iterable[Sequence[str]], width: int | None = None) -> list[str]:
    return [visible(line) for line in in_columns(header, rows, width=width)]


def _tally(reached: Sequence[Reached]) -> str:
    counts = {state: len({one.hit.build for one in reached if one.state.value == state})
              for state in dict.fromkeys(one.state.value for one in reached)}  # fmt: skip
    vans = len({one.hit.build for one in reached})
    said = ", ".join(f"{number} {state}" for state, number in counts.items())
    return f"{vans} {'van' if vans == 1 else 'vans'}: {said}." if reached else "0 vans."


def recall_csv(reached: Sequence[Reached]) -> str:
    """Return a row for each thing that is reached or may be."""
    return as_csv((*RECALL_COLUMNS, "unsure"), [(*_recall_cells(one), one.unsure) for one in reached])


def recall_json(recall: Recall, reached: Sequence[Reached], found: Found) -> str:
    """Return whom a recall reaches as JSON, in the same shape."""
    said = {key: getattr(recall, key) for key in ("name", "title", "source", "date", "do")}
    return _json(said, [_reached_data(one) for one in reached], found)


def _reached_data(one: Reached) -> dict[str, Any]:
    about = {"state": one.state.value, "since": one.since or None, "unsure": one.unsure or None}
    return {**hit_data(one.hit), **about}
