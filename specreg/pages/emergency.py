"""What to do now: rules that choose the standard texts by what is fitted in this van.

The order of the steps is part of the rules and is tested line by line. With a smell of gas no switch is
touched, out comes before everything else, the cylinder is shut from outside only, and air comes by hand.
With carbon monoxide people go out first and nobody looks for the cause. A lithium battery's box stays shut.
A fuse is replaced once, by the same rating. An owner never opens mains.
"""

from __future__ import annotations

from collections.abc import Callable

from specreg.facts.schedule import DeviceRow, device_rows
from specreg.faults.checks import OWNER_FUSES
from specreg.graph.supply import isolated_by
from specreg.pages import fitted
from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Listing,
    Page,
    Paragraph,
    Row,
    Section,
    Signal,
    Table,
    Words,
    cell,
)
from specreg.pages.devices import device_groups, device_words, way_of, what_stops
from specreg.pages.texts import joined
from specreg.pages.van import Van, words_of
from specreg.pages.where import place_of


def emergency_page(van: Van) -> Page:
    """Return the page with what to do now, for this van."""
    found = [section for rule in RULES if (section := rule(van)) is not None]
    contents = Listing(tuple(cell(section.title, f"#{section.anchor}") for section in found))
    numbers = Paragraph(van.texts.say("emergency.call", numbers=_numbers(van)))
    blocks: tuple[Block, ...] = (numbers, contents, *found, _places(van))
    return Page("emergency", van.texts("page.emergency"), van.texts("emergency.lead"), blocks)


def _numbers(van: Van) -> str:
    said = [van.texts(f"number.{word.value}") for word in van.build.header.jurisdictions]
    return "; ".join(dict.fromkeys(said))


def _section(van: Van, name: str, signal: Signal, steps: list[Cell], *more: Block) -> Section:
    caution = Caution(signal, van.texts.say(f"emergency.{name}.hazard"))
    title = van.texts(f"emergency.{name}.title")
    return Section(name, title, (caution, Listing(tuple(steps), numbered=True), *more))


def gas_smell(van: Van) -> Section | None:
    """Touch no switch; out; the cylinder from outside; air by hand; call."""
    stores = fitted.gas_stores(van)
    if not stores:
        return None
    say = van.texts.say
    untouched = [*van.kinds(*fitted.FANS), *fitted.disconnects(van)]
    touch = say("emergency.gas.touch_named", things=fitted.all_placed(van, untouched)) if untouched else ()
    steps = [
        (*say("emergency.gas.touch"), *touch),
        say("emergency.gas.out", exits=fitted.exits(van)),
        *(_shut(van, store) for store in stores),
        say("emergency.gas.air"),
        say("emergency.gas.call", numbers=_numbers(van)),
        say("emergency.gas.after"),
    ]
    return _section(van, "gas", Signal.danger, steps)


def _shut(van: Van, store: str) -> Cell:
    if van.build.components[store].kind == "portable-stove":
        return van.texts.say("emergency.gas.stove", store=van.thing(store))
    reached = "outside" if fitted.shut_from_outside(van, store) else "leave"
    return van.texts.say(f"emergency.gas.shut_{reached}", store=fitted.placed(van, store))


def carbon_monoxide(van: Van) -> Section | None:
    """Out first, and never look for the cause."""
    alarms, burners = van.kinds("co-alarm"), fitted.burners(van)
    if not alarms and not burners:
        return None
    say = van.texts.say
    steps = [
        say("emergency.co.out", exits=fitted.exits(van)),
        say("emergency.co.cause"),
        say("emergency.co.count", numbers=_numbers(van)),
        say("emergency.co.doctor"),
        say("emergency.co.stay"),
    ]
    told = say("emergency.co.alarms", alarms=fitted.all_placed(van, alarms)) if alarms else ()
    more = told or say("emergency.co.no_alarm", burners=fitted.all_placed(van, burners))
    return _section(van, "co", Signal.danger, steps, Paragraph(more))


def fire(van: Van) -> Section:
    """Out and call; a small fire only with the way out at one's back."""
    say = van.texts.say
    extinguishers, blankets = van.kinds("extinguisher"), van.kinds("fire-blanket")
    steps = [
        say("emergency.fire.out", exits=fitted.exits(van)),
        say("emergency.fire.call", numbers=_numbers(van)),
    ]
    if extinguishers:
        steps.append(say("emergency.fire.fight", extinguishers=_extinguishers(van)))
    else:
        steps.append(say("emergency.fire.none"))
    if blankets:
        steps.append(say("emergency.fire.blanket", blankets=fitted.all_placed(van, blankets)))
    steps += [
        say("emergency.fire.cylinder", store=fitted.placed(van, store))
        for store in fitted.gas_stores(van)
        if fitted.shut_from_outside(van, store)
    ]
    if fitted.lithium(van):
        steps.append(
            (*say("emergency.fire.battery"), Words(van.texts("emergency.lithium.title"), "#lithium"))
        )
    return _section(van, "fire", Signal.danger, steps)


def _extinguishers(van: Van) -> Cell:
    pieces: list[Words] = []
    for name, one in van.kinds("extinguisher").items():
        classes = ", ".join(getattr(one, "classes", ()))
        agent = getattr(one, "agent", None) or ""
        told = van.texts("emergency.fire.classes", classes=classes) if classes else ""
        pieces += [Words("; ")] if pieces else []
        pieces += [piece for piece in fitted.placed(van, name) if isinstance(piece, Words)]
        pieces += [Words(f" ({', '.join(part for part in (agent, told) if part)})")] if agent or told else []
    return tuple(pieces)


def lithium_smoke(van: Van) -> Section | None:
    """Out and away; the box stays shut."""
    batteries = fitted.lithium(van)
    if not batteries:
        return None
    say = van.texts.say
    steps = [
        say("emergency.lithium.out", exits=fitted.exits(van)),
        say("emergency.lithium.shut", batteries=fitted.all_placed(van, batteries)),
        say("emergency.lithium.call", numbers=_numbers(van), what=_what(van, next(iter(batteries)))),
        say("emergency.lithium.doctor"),
        say("emergency.lithium.stay"),
    ]
    return _section(van, "lithium", Signal.danger, steps)


def _what(van: Van, battery: str) -> str:
    component = van.build.components[battery]
    said = [van.field(component, name) for name in ("chemistry", "capacity") if van.field(component, name)]
    return ", ".join(said)


def burning_smell(van: Van) -> Section | None:
    """Part the battery from the rest, where a switch does it; never with a smell of gas."""
    switches = fitted.disconnects(van)
    if not switches:
        return None
    say = van.texts.say
    first = [say("emergency.burning.gas")] if fitted.gas_stores(van) else []
    steps = [
        *first,
        say("emergency.burning.switch", switches=fitted.all_placed(van, switches)),
        say("emergency.burning.out", exits=fitted.exits(van)),
        say("emergency.burning.leave"),
    ]
    return _section(van, "burning", Signal.warning, steps)


def shock(van: Van) -> Section | None:
    """Part the person from mains without touching anything; mains stays shut."""
    if not fitted.has_mains(van):
        return None
    say = van.texts.say
    inverters = van.kinds("inverter", "inverter-charger", "generator")
    steps = [say("emergency.shock.touch")]
    if inlets := van.kinds("shore-inlet"):
        steps.append(say("emergency.shock.unplug", inlets=fitted.all_placed(van, inlets)))
    if inverters:
        steps.append(say("emergency.shock.inverter", inverters=fitted.all_placed(van, inverters)))
    steps += [say("emergency.shock.call", numbers=_numbers(van)), say("emergency.shock.never")]
    return _section(van, "shock", Signal.danger, steps)


def residual(van: Van) -> Section | None:
    """Once, with everything unplugged; again means stop and call."""
    found = [n for n, one in van.build.components.items() if getattr(one, "residual", None) is not None]
    found += [row.id for row in device_rows(van.facts) if row.device.residual_current is not None]
    if not found:
        return None
    say = van.texts.say
    steps = [
        say("emergency.residual.unplug"),
        say("emergency.residual.once", devices=fitted.all_placed(van, found, " or ")),
        say("emergency.residual.again"),
        say("emergency.residual.never"),
    ]
    return _section(van, "residual", Signal.warning, steps)


def fuse(van: Van) -> Section | None:
    """Once, by the same rating, never larger."""
    if not any(row.device.fuse is not None for row in device_rows(van.facts)):
        return None
    say = van.texts.say
    steps = [say("emergency.fuse.off"), say("emergency.fuse.same"), say("emergency.fuse.again")]
    tables = [_fuses(van, holder, rows) for holder, rows in device_groups(van).items()]
    return _section(van, "fuse", Signal.warning, steps, *(table for table in tables if table.rows))


def _fuses(van: Van, holder: str, rows: list[DeviceRow]) -> Table:
    place = place_of(van, holder) or van.texts("where.not_written")
    title = f"{van.name(holder)} – {place}" if holder else van.texts("electrics.devices.on_cables")
    names = ("which", "what", "stops", "who") if holder else ("where", "what", "stops", "who")
    lines = tuple(_fuse(van, holder, row) for row in rows if row.device.fuse is not None)
    return Table(title, tuple(van.texts(f"emergency.fuse.column.{name}") for name in names), lines)


def _fuse(van: Van, holder: str, row: DeviceRow) -> Row:
    place = "" if holder else place_of(van, row.id) or van.texts("where.not_written")
    mark = ", ".join(part for part in (row.designation, way_of(van, row), row.label, place) if part)
    who = "owner" if row.device.family in OWNER_FUSES else "workshop"
    cells = (
        cell(mark or van.name(row.id), strong=bool(holder)),
        cell(device_words(van, row.device), strong=True),
        what_stops(van, row.id, row.stops),
        cell(van.texts(f"emergency.fuse.{who}")),
    )
    return Row(cells)


def water(van: Van) -> Section | None:
    """Stop the pump at its nearest switch, then shut the water off."""
    pumps = {
        name: one
        for name, one in van.kinds("pump").items()
        if getattr(one, "form", "") not in ("hand", "foot")
    }
    tanks = van.kinds("fresh-tank")
    if not pumps and not tanks:
        return None
    say = van.texts.say
    steps = [step for pump in pumps for step in _stop(van, pump)]
    if any(getattr(one, "connection", None) == "pressurised mains" for one in van.kinds("filler").values()):
        steps.append(say("emergency.water.hose"))
    shut = [n for n, one in van.kinds("valve").items() if getattr(one, "purpose", None) == "shut-off"]
    drains = [n for n, one in van.kinds("valve", "frost-valve").items() if _drains(one)]
    if shut:
        steps.append(say("emergency.water.shut", valves=fitted.all_placed(van, shut)))
    if drains:
        steps.append(say("emergency.water.drain", valves=fitted.all_placed(van, drains)))
    if fitted.has_mains(van):
        steps.append(say("emergency.water.mains"))
    return _section(van, "water", Signal.caution, steps)


def _drains(component: object) -> bool:
    return getattr(component, "purpose", None) == "drain" or getattr(component, "kind", "") == "frost-valve"


def _stop(van: Van, pump: str) -> list[Cell]:
    """Return how to stop a pump: its nearest switch, and the fuse that does the same."""
    cuts = [step for step in isolated_by(van.supply, pump) if step.form in ("switch", "device")]
    switch = next((step for step in cuts if step.form == "switch"), None)
    device = next((step for step in cuts if step.form == "device"), None)
    say, steps = van.texts.say, []
    if switch is not None:
        steps.append(
            say("emergency.water.switch", pump=van.thing(pump), switch=fitted.placed(van, switch.id))
        )
    if device is not None:
        named = (
            *fitted.placed(van, device.id),
            *words_of(f" ({device_words(van, van.facts.devices[device.id])})"),
        )
        steps.append(
            say(f"emergency.water.{'or_fuse' if switch else 'fuse'}", pump=van.thing(pump), fuse=named)
        )
    return steps or [say("emergency.water.unknown", pump=van.thing(pump))]


def flat_starter(van: Van) -> Section | None:
    """Start with what the van has for it; never with leads from the house battery."""
    if not van.kinds("battery"):
        return None
    say = van.texts.say
    helps = fitted.helps_to_start(van)
    steps = [say("emergency.starter.off")]
    for name, one in helps.items():
        text = "button" if one.kind == "split-relay" else "charger"
        steps.append(say(f"emergency.starter.{text}", thing=fitted.placed(van, name)))
    steps += [say("emergency.starter.leads"), say("emergency.starter.call")]
    return _section(van, "starter", Signal.caution, steps)


def stuck_bed(van: Van) -> Section | None:
    """Move it by the way by hand that the spec states, people away from below."""
    lifts = dict(van.kinds("bed-lift"))
    if not lifts:
        return None
    say = van.texts.say
    steps = [say("emergency.bed.away"), *(_bed_fuse(van, name) for name in lifts)]
    for name, lift in lifts.items():
        way = getattr(lift, "hand_way", None)
        text = "by_hand" if way else "unknown"
        steps.append(say(f"emergency.bed.{text}", lift=fitted.placed(van, name), way=way or ""))
    steps.append(say("emergency.bed.lock"))
    return _section(van, "bed", Signal.warning, steps)


def _bed_fuse(van: Van, lift: str) -> Cell:
    cuts = [step.id for step in isolated_by(van.supply, lift) if step.form in ("switch", "device")]
    things = fitted.all_placed(van, cuts) or cell(van.texts("word.not_written"))
    return van.texts.say("emergency.bed.supply", things=things)


RULES: tuple[Callable[[Van], Section | None], ...] = (
    gas_smell,
    carbon_monoxide,
    fire,
    lithium_smoke,
    burning_smell,
    shock,
    residual,
    fuse,
    water,
    flat_starter,
    stuck_bed,
)
"""The rules in order of hurry."""

PLACES = (
    ("exits", ("exit", "escape-hammer", "emergency-light")),
    ("gas", ("gas-cylinder", "gas-tank", "gas-valve", "gas-manifold", "portable-stove")),
    ("disconnects", ("disconnect", "mains-isolator", "shore-inlet", "solar-disconnect")),
    ("batteries", ("battery",)),
    ("fire", ("extinguisher", "fire-blanket")),
    ("alarms", ("smoke-alarm", "co-alarm", "gas-alarm")),
    ("water", ("valve", "frost-valve")),
    ("aid", ("first-aid-kit", "warning-triangle", "warning-vest")),
)
"""What a person looks for in a hurry, by the row of the table; a system declared as none has no row."""


def _places(van: Van) -> Section:
    rows = []
    for name, kinds in PLACES:
        found = [fitted.placed(van, thing) for thing in van.kinds(*kinds)]
        if not found and name in van.build.header.systems.none:
            continue
        text = joined(found, "; ") if found else cell(van.texts("emergency.places.none"))
        rows.append(Row((cell(van.texts(f"emergency.places.{name}")), text)))
    columns = (van.texts("emergency.places.what"), van.texts("emergency.places.where"))
    table = Table(van.texts("emergency.places.caption"), columns, tuple(rows))
    return Section("places", van.texts("emergency.places.title"), (table,))
