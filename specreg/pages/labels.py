"""Labels to print, cut and stick on: at what size, with which words, leading where.

The sizes are those of common sheets of labels (63.5 × 38.1 mm and 45.7 × 21.2 mm: common practice, no
source); they fit side by side on A4 and on Letter.
"""

from __future__ import annotations

from collections.abc import Sequence

from specreg.facts.schedule import CableRow, cable_rows
from specreg.model.component import CombustionAppliance, Component
from specreg.model.dc import SwitchPanel
from specreg.model.field import Reader
from specreg.pages.content import Block, Label, Labels, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.devices import by_number, device_groups, device_words, way_of
from specreg.pages.qr import code
from specreg.pages.van import Van

CODED = (63.5, 38.1)
MARKER = (45.7, 21.2)

KINDS = {
    "exits": ("exit", "escape-hammer", "emergency-light"),
    "gas": ("gas-cylinder", "gas-tank", "gas-valve", "gas-manifold", "gas-locker", "fuel-valve"),
    "disconnects": ("disconnect", "mains-isolator", "solar-disconnect", "shore-inlet", "mains-board"),
    "fire": ("extinguisher", "fire-blanket", "first-aid-kit", "smoke-alarm", "co-alarm", "gas-alarm"),
    "water": (
        *("fresh-tank", "grey-tank", "black-tank", "urine-tank", "cassette", "filler", "quick-coupling"),
        *("valve", "frost-valve", "waste-valve", "drain-outlet", "pump", "water-filter", "strainer"),
    ),
    "power": (
        *("battery", "inverter", "inverter-charger", "shore-charger", "dc-charger", "dc-converter"),
        *("solar-controller", "split-relay", "transfer-switch", "generator", "fuse-holder", "bus-bar"),
        *("fuse-box", "switch-panel"),
    ),
}
"""What bears a label that leads to its page, by section; burners follow by their class."""


def labels_pages(van: Van) -> tuple[Page, ...]:
    """Return the sheets of labels: for things, and for both ends of every cable; none for the public."""
    if not van.reader.may_read(Reader.owner):
        return ()
    sections = [*_coded(van), *_legends(van)]
    cables = _cables(van)
    if not sections and not cables:
        return ()
    first = Page("labels", van.texts("page.labels"), van.texts("labels.lead"), (_note(van), *sections))
    lead = van.texts("labels.cables.lead")
    second = Page("labels-cables", van.texts("page.labels-cables"), lead, cables, within="labels")
    return (first, second) if cables else (first,)


def _note(van: Van) -> Paragraph:
    name = "address" if van.address else "no_address"
    return Paragraph(van.texts.say(f"labels.{name}"), small=True)


def _coded(van: Van) -> list[Section]:
    found: dict[str, dict[str, Component]] = {name: van.kinds(*kinds) for name, kinds in KINDS.items()}
    found["heat"] = van.of(CombustionAppliance)
    return [
        Section(
            name, van.texts(f"labels.group.{name}"), (Labels(*CODED, tuple(_label(van, t) for t in things)),)
        )
        for name, things in found.items()
        if things
    ]


def _label(van: Van, thing: str) -> Label:
    component = van.build.components[thing]
    words = component.label or van.name(thing)
    return _coded_label(van, van.designation(thing), words, _more(van, thing), ("parts", thing))


def _more(van: Van, thing: str) -> str:
    """Return what else a hand must know: what it is for, how it opens, how it stands under way."""
    component = van.build.components[thing]
    said = [van.name(thing)] if component.label and component.label != van.name(thing) else []
    said += [
        van.texts(f"labels.{field}", value=text)
        for field in ("purpose", "volume", "opens_with", "while_driving")
        if field in type(component).model_fields and (text := van.field(component, field))
    ]
    return "; ".join(said)


def _coded_label(van: Van, mark: str, words: str, more: str, to: tuple[str, str]) -> Label:
    """Return a label with the short text, the link, and the code where an address is known.

    `to` is the page and the anchor to which it leads.
    """
    page, anchor = to
    told = ", ".join(part for part in (van.texts(f"page.{page}"), mark) if part)
    href = f"{page}.html#{anchor}"
    drawn = code(f"{van.address}{href}") if van.address else None
    return Label(mark, words, more, van.texts("labels.page", page=told), href, drawn)


def _legends(van: Van) -> list[Section]:
    """Return the legend of every box of fuses or breakers and of every panel of switches."""
    boxes = {holder: rows for holder, rows in device_groups(van).items() if holder}
    sections = []
    for holder, rows in boxes.items():
        lines = [
            (way_of(van, row) or row.designation, row.label, device_words(van, row.device)) for row in rows
        ]
        marks = [row.designation for row in rows]
        sections.append(_legend(van, holder, "device", list(zip(marks, lines, strict=True))))
    for panel, one in van.of(SwitchPanel).items():
        if told := _switches(van, panel, one):
            sections.append(_legend(van, panel, "switch", told))
    return sections


def _switches(van: Van, panel: str, one: Component) -> list[tuple[str, tuple[str, str, str]]]:
    ways = (
        sorted(one.ways.items(), key=lambda item: by_number(item[0])) if isinstance(one, SwitchPanel) else []
    )
    return [
        (van.designation(f"{panel}/{way}"), (way, spec.label or "", str(spec.form))) for way, spec in ways
    ]


def _legend(van: Van, holder: str, sort: str, lines: Sequence[tuple[str, tuple[str, str, str]]]) -> Section:
    columns = tuple(van.texts(f"labels.legend.{name}") for name in ("mark", "way", "words", sort))
    rows = tuple(Row((cell(mark, strong=True), *(cell(text) for text in told))) for mark, told in lines)
    anchor = "devices" if sort == "device" else "legend"
    label = _coded_label(van, van.designation(holder), van.name(holder), "", ("electrics", anchor))
    title = van.texts(f"labels.legend.{sort}s", thing=van.name(holder))
    blocks: tuple[Block, ...] = (Labels(*CODED, (label,)), Table(title, columns, rows))
    return Section(f"legend-{sort}-{holder}", title, blocks)


def _cables(van: Van) -> tuple[Block, ...]:
    rows = cable_rows(van.facts)
    by_medium = {medium: [row for row in rows if row.medium == medium] for medium in ("dc", "ac")}
    return tuple(
        Section(
            medium,
            van.texts(f"labels.cables.{medium}"),
            (Labels(*MARKER, tuple(one for row in found for one in _markers(van, row))),),
            (medium,),
        )
        for medium, found in by_medium.items()
        if found
    )


def _markers(van: Van, row: CableRow) -> tuple[Label, Label]:
    """Return the markers of both ends: each says where it is and where the other is."""
    ends = (_end(van, row.start), _end(van, row.finish))
    words = van.build.runs[row.id].label or van.name(row.id)
    page = van.texts("page.electrics")

    def marker(here: str, there: str) -> Label:
        more = "; ".join(
            part for part in (van.texts("labels.cables.ends", here=here, there=there), row.conductor) if part
        )
        return Label(row.designation, words, more, page, f"electrics.html#{row.id}")

    return marker(*ends), marker(*reversed(ends))


def _end(van: Van, text: str) -> str:
    component, _, port = text.partition("/")
    mark = van.designation(component) or van.name(component)
    return f"{mark}:{port}" if port else mark
