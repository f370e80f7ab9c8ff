"""What is written down at the van at each hold point: a line for each thing, with blanks to fill in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from specreg.facts.attached_files import may_be_hidden
from specreg.facts.engine import Facts
from specreg.facts.records import TRACED
from specreg.facts.schedule import device_rows
from specreg.model.component import System as Kind
from specreg.model.run import GasRun, Run
from specreg.units import Dimension, System, write

POINTS = ("panels-close", "energise", "gas-on", "hand-over")
"""The hold points that have a sheet."""

BLANKS = ("length", "device", "serial", "made_on", "fitted_on", "photo")
"""What can be filled in."""


class HoldLine(NamedTuple):
    """One thing at a hold point: `planned` is what is written so far, `blanks` what is to be filled in."""

    id: str
    mark: str
    where: str
    planned: str
    blanks: tuple[str, ...]


def hold_lines(facts: Facts, point: str) -> tuple[HoldLine, ...]:
    """Return the lines of a hold point's sheet, in the order of the spec."""
    return tuple(
        {"panels-close": _hidden, "energise": _devices, "gas-on": _gas, "hand-over": _things}[point](facts)
    )


def _mark(facts: Facts, name: str) -> str:
    return facts.build.designations.get(name, "")


def _run(facts: Facts, name: str, blanks: tuple[str, ...]) -> HoldLine:
    run: Run = facts.build.runs[name]
    units = System(facts.build.header.units)
    length = write(run.length, Dimension.length, units) if run.length is not None else ""
    way = f" by {', '.join(run.route)}" if run.route else ""
    return HoldLine(name, _mark(facts, name), f"{run.start} to {run.finish}{way}", length, blanks)


def _hidden(facts: Facts) -> Iterator[HoldLine]:
    for name in may_be_hidden(facts.whole):
        yield _run(facts, name, ("length", "photo"))


def _devices(facts: Facts) -> Iterator[HoldLine]:
    for row in device_rows(facts):
        device, units = row.device, System(facts.build.header.units)
        rating = device.fuse if device.fuse is not None else device.breaker
        said = write(rating, Dimension.current, units) if rating is not None else ""
        yield HoldLine(
            row.id, row.designation, row.sits_in, f"{said} {device.word}".strip(), ("device", "photo")
        )


def _gas(facts: Facts) -> Iterator[HoldLine]:
    for name, run in facts.build.runs.items():
        if isinstance(run, GasRun):
            yield _run(facts, name, ("length", *(("made_on",) if run.form == "hose" else ()), "photo"))
    yield from _parts(facts, only_gas=True)


def _things(facts: Facts) -> Iterator[HoldLine]:
    yield from _parts(facts, only_gas=False)


def _parts(facts: Facts, *, only_gas: bool) -> Iterator[HoldLine]:
    for name, part in facts.build.components.items():
        if isinstance(part, TRACED) and (part.system is Kind.gas or not only_gas):
            planned = ", ".join(word for word in (part.part, part.serial) if word)
            where = part.zone or part.fixed_to or ""
            yield HoldLine(
                name, _mark(facts, name), where, planned, ("serial", "made_on", "fitted_on", "photo")
            )
