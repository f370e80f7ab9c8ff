"""Electrics: fuse and breaker schedule, cable schedule, panel legend, all from the graph."""

from __future__ import annotations

from specreg.facts.schedule import CableRow, DeviceRow, LegendRow, cable_rows, legend_rows
from specreg.graph.supply import isolated_by
from specreg.model.component import AcConsumer, Consumer
from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Page,
    Paragraph,
    Row,
    Section,
    Signal,
    Table,
    Words,
    cell,
)
from specreg.pages.devices import by_number, device_groups, device_words, way_of, what_stops
from specreg.pages.figures import figures_section
from specreg.pages.fitted import has_mains
from specreg.pages.photographs import led_to_photograph
from specreg.pages.systems import components_section
from specreg.pages.texts import joined
from specreg.pages.van import Van
from specreg.pages.where import place_of


def electrics_page(van: Van) -> Page:
    """Return the page."""
    blocks: list[Block] = []
    if has_mains(van):
        blocks.append(Caution(Signal.danger, van.texts.say("electrics.mains")))
    if van.kinds("battery"):
        page = cell(van.texts("page.energy"), "energy.html")
        blocks.append(Paragraph(van.texts.say("energy.link", page=page)))
    blocks += [*_legend(van), *_devices(van), *_feeds(van), *_cables(van)]
    blocks += figures_section(van, "electrics")
    blocks += components_section(van, "fitted", van.texts("electrics.fitted"), ("dc", "solar", "mains"))
    lead = van.texts("electrics.lead" if len(blocks) else "electrics.nothing")
    return Page("electrics", van.texts("page.electrics"), lead, tuple(blocks))


def _columns(van: Van, table: str, *names: str) -> tuple[str, ...]:
    return tuple(van.texts(f"electrics.{table}.{name}") for name in names)


def _legend(van: Van) -> tuple[Section, ...]:
    rows = sorted(legend_rows(van.facts), key=lambda row: by_number(f"{row.panel}/{row.way}"))
    if not rows:
        return ()
    columns = _columns(van, "legend", "panel", "way", "label", "form", "switches")
    table = Table(
        van.texts("electrics.legend.caption"), columns, tuple(_legend_row(van, row) for row in rows)
    )
    return (Section("legend", van.texts("electrics.legend.title"), (table,), ("dc",)),)


def _legend_row(van: Van, row: LegendRow) -> Row:
    switched = what_stops(van, f"{row.panel}/{row.way}", row.switches)
    cells = (van.thing(row.panel), cell(row.way, strong=True), cell(row.label), cell(row.form), switched)
    return Row(cells, f"{row.panel}-{row.way}")


def _devices(van: Van) -> tuple[Section, ...]:
    groups = device_groups(van)
    if not groups:
        return ()
    note = Caution(Signal.warning, van.texts.say("electrics.devices.note"))
    blocks: list[Block] = [note]
    for holder, rows in groups.items():
        blocks += _group(van, holder, rows)
    return (Section("devices", van.texts("electrics.devices.title"), tuple(blocks)),)


def _group(van: Van, holder: str, rows: list[DeviceRow]) -> list[Block]:
    """Return the devices of one box under its name and place; those in line with each one's own place."""
    place = place_of(van, holder) or van.texts("where.not_written")
    what = "what" if any(row.device.fuse is not None for row in rows) else "breaker"
    names = ("mark", what, "label", "stops") if holder else ("mark", what, "place", "stops")
    title = f"{van.name(holder)} – {place}" if holder else van.texts("electrics.devices.on_cables")
    lines = tuple(_device_row(van, holder, row) for row in rows)
    return [Table(title, _columns(van, "devices", *names), lines)]


def _device_row(van: Van, holder: str, row: DeviceRow) -> Row:
    own = row.label if holder else place_of(van, row.id) or van.texts("where.not_written")
    mark = ", ".join(part for part in (row.designation, way_of(van, row)) if part)
    cells = (
        cell(mark or van.name(row.id), strong=True),
        cell(device_words(van, row.device)),
        cell(own),
        what_stops(van, row.id, row.stops),
    )
    return Row(cells, f"device-{row.id.replace('/', '-')}")


def _feeds(van: Van) -> tuple[Section, ...]:
    """Return for each consumer what switches it off and what protects it, nearest first."""
    rows = []
    for name in van.of(Consumer, AcConsumer):
        cuts = isolated_by(van.supply, name)
        if cuts:
            switches = joined([_cut(van, step.id) for step in cuts if step.form == "switch"], ", ")
            devices = joined([_cut(van, step.id) for step in cuts if step.form == "device"], ", ")
            rows.append(Row((van.thing(name), switches, devices)))
    if not rows:
        return ()
    columns = _columns(van, "feeds", "thing", "switches", "devices")
    table = Table(van.texts("electrics.feeds.caption"), columns, tuple(rows), findable=True)
    return (Section("feeds", van.texts("electrics.feeds.title"), (table,)),)


def _cut(van: Van, thing: str) -> Cell:
    device = van.facts.devices.get(thing)
    mark = van.designation(thing)
    name = mark or van.name(thing)
    return cell(f"{name}, {device_words(van, device)}" if device else name)


def _cables(van: Van) -> tuple[Section, ...]:
    rows = cable_rows(van.facts)
    if not rows:
        return ()
    names = ("mark", "from", "to", "size", "cores", "length", "current", "ampacity", "drop", "protected")
    columns = _columns(van, "cables", *names)
    table = Table(van.texts("electrics.cables.caption"), columns, tuple(_cable_row(van, row) for row in rows))
    return (Section("cables", van.texts("electrics.cables.title"), (table,)),)


def _cable_row(van: Van, row: CableRow) -> Row:
    model = van.build.runs[row.id]
    length = van.declared(model, "length") if model.length is not None else van.fact(row.id, "laid_length")
    cells = (
        (*cell(row.designation or van.name(row.id), strong=True), *led_to_photograph(van, row.id)),
        _end(van, row.start),
        _end(van, row.finish),
        van.declared(model, "conductor"),
        cell(
            ", ".join(row.cores)
            + (f"; {van.texts('electrics.returns', by=row.returns)}" if row.returns else "")
        ),
        length,
        van.fact(row.id, "design_current"),
        van.fact(row.id, "ampacity"),
        van.fact(row.id, "run_drop"),
        joined([_cut(van, device) for device in row.protected_by], ", "),
    )
    return Row(cells, row.id)


def _end(van: Van, text: str) -> Cell:
    component, _, port = text.partition("/")
    return (*van.thing(component), Words(f", {port}")) if port else van.thing(component)
