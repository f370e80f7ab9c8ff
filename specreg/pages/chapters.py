"""The chapters on water, heat, beds and weights."""

from __future__ import annotations

from specreg.facts.registry import Axis
from specreg.model.component import Component
from specreg.model.records import SignOff
from specreg.model.seating import Seating
from specreg.model.vehicle import Weighing
from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Entries,
    Entry,
    Figure,
    Known,
    Page,
    Paragraph,
    Row,
    Section,
    Signal,
    Table,
    Unknown,
    cell,
)
from specreg.pages.figures import by_case, figures_section
from specreg.pages.ledger import load_sections
from specreg.pages.load_charts import load_charts
from specreg.pages.night import night_section
from specreg.pages.systems import components_section, listed, runs_section
from specreg.pages.van import Van
from specreg.pages.where import place_of

VALVES = ("valve", "frost-valve", "waste-valve")
GAS_SHUT = ("gas-cylinder", "gas-tank", "gas-valve", "gas-manifold", "fuel-valve")
ALARMS = ("co-alarm", "gas-alarm", "smoke-alarm")


def _page(van: Van, name: str, blocks: list[Block]) -> Page:
    lead = van.texts(f"{name}.lead" if blocks else f"{name}.nothing")
    return Page(name, van.texts(f"page.{name}"), lead, tuple(blocks))


def water_page(van: Van) -> Page:
    """Return water and waste: volumes, valves and drains with their places, pipes."""
    blocks: list[Block] = []
    blocks += _tanks(van)
    blocks += _valves(van, "valves", VALVES)
    blocks += figures_section(van, "water")
    blocks += components_section(van, "fitted", van.texts("water.fitted"), ("water", "waste"))
    blocks += runs_section(van, "pipes", van.texts("water.pipes"), ("water", "waste"))
    return _page(van, "water", blocks)


def _tanks(van: Van) -> list[Section]:
    kinds = ("fresh-tank", "grey-tank", "black-tank", "urine-tank", "cassette", "water-heater")
    found = van.kinds(*kinds)
    if not found:
        return []
    items = tuple(
        Entry(van.name(name), van.declared(one, "volume"), place_of(van, name)) for name, one in found.items()
    )
    return [Section("tanks", van.texts("water.tanks"), (Entries(items, large=True),))]


def _valves(van: Van, anchor: str, kinds: tuple[str, ...]) -> list[Section]:
    found = van.kinds(*kinds)
    if not found:
        return []
    columns = tuple(van.texts(f"valves.{name}") for name in ("valve", "purpose", "place", "driving", "label"))
    rows = tuple(_valve(van, name, one) for name, one in found.items())
    return [
        Section(anchor, van.texts(f"valves.{anchor}"), (Table(van.texts("valves.caption"), columns, rows),))
    ]


def _valve(van: Van, name: str, component: Component) -> Row:
    driving = getattr(component, "while_driving", None) or getattr(component, "under_way", None)
    cells: tuple[Cell, ...] = (
        van.thing(name),
        cell(getattr(component, "purpose", None) or component.kind.replace("-", " ")),
        cell(place_of(van, name) or van.texts("where.not_written")),
        cell(driving or van.texts("word.not_written")),
        cell(component.label or ""),
    )
    return Row(cells)


def heat_page(van: Van) -> Page:
    """Return heat, gas and air: shut-offs, appliances, vents, alarms, pipes."""
    blocks: list[Block] = []
    if van.kinds(*GAS_SHUT):
        blocks.append(
            Caution(
                Signal.danger,
                van.texts.say("heat.gas", page=cell(van.texts("page.emergency"), "emergency.html#gas")),
            )
        )
    blocks += _valves(van, "gas", GAS_SHUT)
    blocks += listed(van, "alarms", van.texts("heat.alarms"), van.kinds(*ALARMS))
    if van.kinds("co-alarm"):
        blocks.append(Paragraph(van.texts.say("heat.dioxide")))
    blocks += night_section(van)
    blocks += figures_section(van, "heat")
    blocks += components_section(van, "fitted", van.texts("heat.fitted"), ("gas", "heat", "air"))
    blocks += runs_section(van, "pipes", van.texts("heat.pipes"), ("gas", "fuel", "air", "exhaust"))
    return _page(van, "heat", blocks)


def beds_page(van: Van) -> Page:
    """Return who may sit where when driving, who sleeps where, and what was signed."""
    blocks: list[Block] = []
    seats = van.of(Seating)
    if seats:
        names = ("seat", "places", "driving", "faces", "belts", "children", "signed")
        columns = tuple(van.texts(f"beds.seat.{name}") for name in names)
        rows = tuple(_seat(van, name, one) for name, one in seats.items() if isinstance(one, Seating))
        caution = Caution(Signal.warning, van.texts.say("beds.seat.caution"))
        blocks.append(
            Section(
                "seats",
                van.texts("beds.seats"),
                (caution, Table(van.texts("beds.seat.caption"), columns, rows)),
            )
        )
    blocks += listed(van, "beds", van.texts("beds.beds"), van.kinds("bed", "mattress", "bed-lift", "ladder"))
    blocks += listed(van, "out", van.texts("beds.out"), van.kinds("exit", "escape-hammer", "emergency-light"))
    blocks += figures_section(van, "beds")
    blocks += components_section(van, "fitted", van.texts("beds.fitted"), ("seating", "space"))
    return _page(van, "beds", blocks)


def _seat(van: Van, name: str, seat: Seating) -> Row:
    driving = {
        True: van.texts("beds.seat.yes"),
        False: van.texts("beds.seat.no"),
        None: van.texts("beds.seat.unsaid"),
    }[seat.used_under_way]
    belts = ", ".join(seat.belts) if seat.belts else van.texts("word.not_written")
    holders = [n for n, one in van.kinds("anchorage").items() if name in getattr(one, "holds", ())]
    signed = [
        cell_of_sign_off(van, s) for s in van.build.header.records.sign_offs if s.target in (name, *holders)
    ]
    shown = tuple(piece for one in signed for piece in one) or (Unknown(van.texts("beds.seat.unsigned")),)
    faces = seat.faces or van.texts("word.not_written")
    told = (str(seat.places), faces, belts, _children(van, seat))
    places, faced, belted, children = (cell(text) for text in told)
    return Row((van.thing(name), places, cell(driving, strong=True), faced, belted, children, shown))


def _children(van: Van, seat: Seating) -> str:
    """Return which places take a child restraint, and what holds it there."""
    told = (
        van.texts("beds.seat.child", place=one.place, held=one.held_by or van.texts("word.not_written"))
        for one in seat.child_places
    )
    return "; ".join(told) or van.texts("word.none")


def cell_of_sign_off(van: Van, signed: SignOff) -> Cell:
    """Return a sign-off as a figure seen by a person; refused ones say so."""
    who = ", ".join(part for part in (signed.by, signed.name, signed.licence, signed.reference) if part)
    day = signed.date.isoformat() if signed.date else van.texts("frame.day_none")
    word = van.texts(f"signed.{signed.result}")
    return (Figure(word, Known.seen, f"{who or van.texts('signed.nobody')}, {day}"),)


LOADING = ("laden_mass", "payload_left", "payload_left_least", "front_axle_load", "front_axle_left_least",
           "rear_axle_load", "rear_axle_left_least")  # fmt: skip
BALANCE = (
    "front_share",
    "left_wheels_load",
    "right_wheels_load",
    "centre_of_gravity",
    "centre_of_gravity_height_laden",
    "centre_of_gravity_height_doubt",
)
HEAVIEST = "everything"


def weights_page(van: Van) -> Page:
    """Return what may still be loaded, per axle and in each loading case, and what the weighbridge said."""
    blocks: list[Block] = [*_left(van), *load_charts(van)]
    tables = by_case(van, Axis.loading, LOADING, van.texts("weights.cases_caption"))
    tables += by_case(van, Axis.loading, BALANCE, van.texts("weights.balance_caption"))
    if tables:
        blocks.append(Section("cases", van.texts("weights.cases"), tuple(tables)))
    blocks += [*_permitted(van), *_weighings(van), *_tyres(van), *load_sections(van)]
    blocks += figures_section(van, "weights")
    return _page(van, "weights", blocks)


def _left(van: Van) -> list[Section]:
    """Return what may still be loaded in the heaviest case: the worst end large."""
    names = ("payload_left_least", "rear_axle_left_least", "front_axle_left_least")
    shown = [(name, van.fact("", name, HEAVIEST)) for name in names]
    items = tuple(Entry(van.texts(f"weights.{name}"), found) for name, found in shown if found)
    if not items:
        return []
    note = Paragraph(van.texts.say("weights.worst", case=HEAVIEST), small=True)
    return [Section("left", van.texts("weights.left"), (Entries(items, large=True), note))]


def _permitted(van: Van) -> list[Section]:
    masses = van.build.header.vehicle.permitted
    names = ("total", "front_axle", "rear_axle", "roof", "tow_ball", "with_trailer")
    items = tuple(Entry(van.texts(f"weights.{name}"), van.declared(masses, name)) for name in names)
    return [Section("permitted", van.texts("weights.permitted"), (Entries(items),))]


def _weighings(van: Van) -> list[Section]:
    received = van.build.header.vehicle.as_received
    tickets = [*([received] if received else []), *van.build.header.records.weighings]
    if not tickets:
        return [
            Section(
                "weighed", van.texts("weights.weighed"), (Paragraph(cell(van.texts("weights.not_weighed"))),)
            )
        ]
    names = (
        "date",
        "front_axle",
        "rear_axle",
        "fuel",
        "fresh_water",
        *_filled(tickets),
        *("driver", "scale_step", "ticket"),
    )
    columns = (van.texts("weights.ticket_stage"), *(van.texts(f"weights.ticket_{name}") for name in names))
    rows = tuple(_ticket(van, ticket, names) for ticket in tickets)
    return [
        Section(
            "weighed",
            van.texts("weights.weighed"),
            (Table(van.texts("weights.weighed_caption"), columns, rows),),
        )
    ]


def _filled(tickets: list[Weighing]) -> tuple[str, ...]:
    """Return what else some ticket says of how full something was."""
    names = ("hot_water", "waste_water", "gas", "heater_fuel")
    return tuple(name for name in names if any(getattr(one, name) is not None for one in tickets))


def _ticket(van: Van, ticket: Weighing, names: tuple[str, ...]) -> Row:
    def shown(name: str) -> Cell:
        text = van.field(ticket, name)
        measured = name in ("front_axle", "rear_axle")
        return (Figure(text, Known.measured),) if text and measured else cell(text)

    return Row((cell(ticket.stage, strong=True), *(shown(name) for name in names)))


def _tyres(van: Van) -> list[Section]:
    tyres = van.build.header.vehicle.tyres
    if tyres is None:
        return []
    items = tuple(
        Entry(van.texts(f"weights.tyre_{name}"), van.declared(tyres, name))
        for name in ("size", "front", "rear")
    )
    return [Section("tyres", van.texts("weights.tyres"), (Entries(items),))]
