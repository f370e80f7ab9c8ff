"""A published value with its source, and the reader of the shipped tables."""

import csv
import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"


class NotTabulatedError(LookupError):
    """What was asked for lies outside a published table; the message says what the table holds."""


@dataclass(frozen=True)
class Constant:
    """A value in SI units with its dimension, source and how it is known.

    `dimension` is its name in `specreg.units` where that has one, else the SI unit. `basis`: `read` (seen in
    a published text, often one that quotes the standard), `read-lib` (from a general-purpose library),
    `corrected` (a plain misprint put right), `derived`, `practice` (common practice, no source) or `memory`
    (not confirmed).
    """

    value: float
    dimension: str
    source: str
    basis: str
    note: str = ""


def citation(row: dict[str, str]) -> str:
    """Source, clause and edition of a row on one line."""
    return ", ".join(row[part] for part in ("source", "clause", "edition") if row.get(part))


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """All rows of a shipped table, read once."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


@cache
def constants(name: str) -> dict[str, Constant]:
    """The constants of a shipped table with the columns name, value, dimension and the source columns."""
    return {
        row["name"]: Constant(float(row["value"]), row["dimension"], citation(row), row["basis"], row["note"])
        for row in rows(name)
    }


def not_tabulated(what: str, read: str, known: Iterable[str]) -> NotTabulatedError:
    """The error for an unknown name, with the nearest known one."""
    names = sorted(known)
    near = difflib.get_close_matches(read, names, n=1)
    hint = f"; did you mean '{near[0]}'?" if near else f"; known: {', '.join(names)}"
    return NotTabulatedError(f"no {what} '{read}' in the table{hint}")
