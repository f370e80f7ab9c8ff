"""What flows when: the current of every cable and the voltage at every load, in each way of using the van."""

from __future__ import annotations

from specreg.facts.axes import OPERATIONS
from specreg.facts.engine import Fact
from specreg.facts.load_flow import LoadVoltage
from specreg.facts.registry import kinds_for
from specreg.facts.value_type import ValueType
from specreg.model.component import Consumer
from specreg.model.run import DcRun
from specreg.pages.content import (
    Block,
    Cell,
    Entries,
    Entry,
    Figure,
    Known,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.van import Van
from specreg.units import Dimension

VOLTAGE = ValueType("number", dimension=Dimension.voltage)


def flow_page(van: Van) -> Page | None:
    """Return the page; none where nothing is supplied with direct current."""
    loads = [name for name, one in van.of(Consumer).items() if _known(van, name, "voltage_at_load")]
    runs = [n for n, run in van.build.runs.items() if isinstance(run, DcRun) and _carries(van, n)]
    if not loads:
        return None
    blocks: list[Block] = [Paragraph(van.texts.say("flow.how")), *_worst(van)]
    blocks.append(Section("voltages", van.texts("flow.voltages"), (_voltages(van, loads),)))
    blocks.append(Section("currents", van.texts("flow.currents"), (_currents(van, runs),)))
    return Page("flow", van.texts("page.flow"), van.texts("flow.lead"), tuple(blocks))


def _ask(van: Van, subject: str, name: str, case: str | None = None) -> Fact:
    found = van.facts.subject(subject, case)
    return van.facts.ask(found, kinds_for(type(found.model))[name])


def _known(van: Van, subject: str, name: str) -> bool:
    return _ask(van, subject, name, OPERATIONS[-1]).known


def _carries(van: Van, run: str) -> bool:
    """Tell whether a run carries anything to a load in some way of using the van."""
    found = [_ask(van, run, "flow", operation) for operation in OPERATIONS]
    return any(fact.known and fact.value for fact in found)


def _worst(van: Van) -> list[Block]:
    """Return the load with the greatest share of its voltage lost, and when."""
    fact = _ask(van, "", "worst_load_voltage")
    if not fact.known or not isinstance(fact.value, tuple) or not fact.value:
        return []
    worst: LoadVoltage = fact.value[0]
    said = Figure(van.value(worst.voltage, VOLTAGE), Known.computed)
    entry = Entry(
        van.texts("flow.worst"), (said,), van.texts("flow.worst_at", load=worst.load, when=worst.operation)
    )
    return [Entries((entry,), large=True)]


def _voltages(van: Van, loads: list[str]) -> Table:
    columns = (van.texts("flow.load"), *OPERATIONS, van.texts("flow.needs"))
    rows = tuple(
        Row(
            (
                van.thing(name),
                *_cases(van, name, "voltage_at_load"),
                _plain(van, _ask(van, name, "works_down_to")),
            )
        )
        for name in loads
    )
    return Table(van.texts("flow.voltages_caption"), columns, rows)


def _currents(van: Van, runs: list[str]) -> Table:
    columns = (van.texts("flow.run"), *OPERATIONS, van.texts("flow.carries"))
    rows = tuple(
        Row((van.thing(name), *_cases(van, name, "flow"), _plain(van, _ask(van, name, "ampacity"))))
        for name in runs
    )
    return Table(van.texts("flow.currents_caption"), columns, rows)


def _cases(van: Van, subject: str, name: str) -> list[Cell]:
    return [_plain(van, _ask(van, subject, name, operation)) for operation in OPERATIONS]


def _plain(van: Van, fact: Fact) -> Cell:
    """Return a figure without its kind: the caption says it for the whole table."""
    return cell(van.value(fact.value, fact.kind.gives)) if fact.known else cell(van.texts("word.not_known"))
