"""Lists to tick off: what is fitted chooses the lines, what the spec says fills them.

The order of the lists and of their lines is that in which a person walks: inside from back to front, then
around the van, then into the seat. The texts are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from specreg.graph.supply import isolated_by
from specreg.model.component import CombustionAppliance, Component, Fuel
from specreg.model.furniture import Storage
from specreg.model.seating import Seating
from specreg.pages import fitted
from specreg.pages.content import Cell, Checklist, Page, Paragraph, Section, cell
from specreg.pages.texts import joined
from specreg.pages.van import Van, words_of

Line = Callable[[Van], Iterable[Cell]]
"""What may stand on a list: nothing where nothing of the sort is fitted, else one or more lines."""

DRIVING = "driving"


def checklists_page(van: Van) -> Page:
    """Return the lists of this van."""
    sections = []
    for name, lines in LISTS.items():
        found = tuple(line for rule in lines for line in rule(van))
        if found:
            block = Checklist(f"{van.build.name}-{name}", found)
            sections.append(Section(name, van.texts(f"lists.title.{name}"), (block,)))
    note = Paragraph(van.texts.say("lists.ticks"), small=True)
    lead = van.texts("lists.lead" if sections else "lists.nothing")
    return Page("lists", van.texts("page.lists"), lead, (note, *sections))


def _say(name: str, van: Van) -> Iterable[Cell]:
    """Give a line that every van has."""
    return (van.texts.say(f"lists.{name}"),)


def _each_of(name: str, kinds: tuple[str, ...], van: Van) -> Iterable[Cell]:
    """Give a line for each thing of some kinds, with its place."""
    return _lines(van, name, van.kinds(*kinds))


def _lines(van: Van, name: str, things: Iterable[str]) -> Iterable[Cell]:
    return [van.texts.say(f"lists.{name}", thing=fitted.placed(van, thing)) for thing in things]


def shapes_to_drive(van: Van) -> Iterator[Cell]:
    """Put everything into the shape or state that the spec gives for driving."""
    for thing, shape in van.build.header.modes.get(DRIVING, {}).items():
        yield van.texts.say("lists.shape", thing=fitted.placed(van, thing), shape=shape)


def storage(van: Van) -> Iterable[Cell]:
    """Shut every door and drawer that holds something."""
    found = van.of(Storage)
    return (van.texts.say("lists.storage", count=str(len(found))),) if found else ()


def gas_off(van: Van) -> Iterator[Cell]:
    """Shut the gas at its store, or say under what the spec lets it run."""
    runs = van.build.header.use.gas_while_driving
    for store in fitted.gas_stores(van):
        name = "gas_runs" if runs else "gas_off"
        yield van.texts.say(f"lists.{name}", thing=fitted.placed(van, store))


def gas_on(van: Van) -> Iterator[Cell]:
    """Open the gas, after a sniff."""
    for store in fitted.gas_stores(van):
        yield van.texts.say("lists.gas_on", thing=fitted.placed(van, store))


def pump(word: str, van: Van) -> Iterator[Cell]:
    """Switch the water pump on or off at its nearest switch."""
    for name in van.kinds("pump"):
        steps = isolated_by(van.supply, name)
        switch = next((step.id for step in steps if step.form == "switch"), None)
        if switch is not None:
            yield van.texts.say(
                f"lists.pump_{word}", thing=van.thing(name), switch=fitted.placed(van, switch)
            )


def waste_valves(van: Van) -> Iterator[Cell]:
    """Shut the waste valves, or leave them as the spec says for driving."""
    for name, valve in van.kinds("waste-valve").items():
        state = getattr(valve, "while_driving", None) or "closed"
        yield van.texts.say("lists.waste_valve", thing=fitted.placed(van, name), state=str(state))


def seats(van: Van) -> Iterator[Cell]:
    """Let people sit where the spec says that they may under way."""
    places = [name for name, seat in van.of(Seating).items() if getattr(seat, "used_under_way", None)]
    if places:
        yield van.texts.say("lists.seats", things=joined([van.thing(name) for name in places]))


def height(van: Van) -> Iterable[Cell]:
    """Say how high the van is, where it is written."""
    said = van.field(van.build.header.vehicle, "overall_height")
    return (van.texts.say("lists.height", height=cell(said, strong=True)),) if said else ()


def exits(van: Van) -> Iterable[Cell]:
    """Keep the ways out free."""
    return (van.texts.say("lists.exits", exits=fitted.exits(van)),) if van.kinds("exit") else ()


def drains(word: str, van: Van) -> Iterable[Cell]:
    """Open or shut every drain, and each valve that frost opens."""
    found = van.kinds("valve", "frost-valve")
    return _lines(van, f"drain_{word}", [name for name, one in found.items() if is_drain(one)])


def is_drain(valve: Component) -> bool:
    """Tell whether a valve empties something."""
    return valve.kind == "frost-valve" or getattr(valve, "purpose", None) == "drain"


def batteries(van: Van) -> Iterator[Cell]:
    """Leave each battery as its chemistry asks for."""
    for name, battery in van.kinds("battery").items():
        chemistry = getattr(battery, "chemistry", None) or ""
        sort = "lithium" if "lithium" in chemistry else "lead"
        yield van.texts.say(f"lists.battery_{sort}", thing=fitted.placed(van, name))


def burners(van: Van) -> Iterator[Cell]:
    """Run each fixed burner: a gas flame is looked at, a diesel heater listened to."""
    for name, one in van.of(CombustionAppliance).items():
        if one.kind != "portable-stove":
            sort = "burner" if getattr(one, "burns", None) in GASES else "diesel"
            yield from _lines(van, sort, [name])


def moves(step: Component) -> bool:
    """Tell whether a step is taken in and out at all."""
    return getattr(step, "form", None) != "fixed"


def steps(word: str, van: Van) -> Iterable[Cell]:
    """Take the steps in or out that stand outside."""
    found = van.kinds("step", "powered-step")
    outside = [
        n for n, one in found.items() if one.kind == "powered-step" or getattr(one, "place", "") == "door"
    ]
    return _lines(van, f"step_{word}", outside)


def emergency(van: Van) -> Iterable[Cell]:
    """Read the emergency page before the first night."""
    return (van.texts.say("lists.emergency", page=cell(van.texts("page.emergency"), "emergency.html")),)


def contact(van: Van) -> Iterable[Cell]:
    """Have the workshop's number at hand."""
    said = words_of(van.build.header.workshop_contact or "")
    return (van.texts.say("lists.contact", contact=said),) if said else ()


OPENINGS = ("roof-fan", "roof-hatch", "opening-window", "pop-top")
ALARMS = ("smoke-alarm", "co-alarm", "gas-alarm")
BREATHING = ("flue-terminal", "air-intake", "vent", "gas-drop-out")
GASES = (Fuel.propane, Fuel.butane, Fuel.lpg)
LISTS: dict[str, tuple[Line, ...]] = {
    "before-you-drive": (
        partial(_each_of, "bed_up", ("bed-lift",)),
        shapes_to_drive,
        storage,
        partial(_each_of, "fridge", ("fridge",)),
        partial(_each_of, "basins", ("sink", "shower-tray")),
        partial(_each_of, "opening", OPENINGS),
        gas_off,
        partial(pump, "off"),
        waste_valves,
        partial(_each_of, "unplug", ("shore-inlet",)),
        partial(_each_of, "awning", ("awning", "powered-awning")),
        partial(steps, "in"),
        partial(_each_of, "carrier", ("bike-carrier",)),
        partial(_say, "around"),
        seats,
        partial(_say, "loose"),
        height,
    ),
    "on-arrival": (
        partial(_say, "level"),
        partial(steps, "out"),
        exits,
        partial(_each_of, "breathing", BREATHING),
        partial(_each_of, "plug", ("shore-inlet",)),
        gas_on,
        partial(pump, "on"),
        partial(_each_of, "alarm", ALARMS),
        emergency,
    ),
    "leaving-it-for-days": (
        partial(_each_of, "fridge_empty", ("fridge",)),
        partial(pump, "off"),
        gas_off,
        partial(_each_of, "opening", OPENINGS),
        waste_valves,
        partial(_each_of, "unplug", ("shore-inlet",)),
        partial(_each_of, "disconnect_off", ("disconnect",)),
    ),
    "before-winter": (
        gas_off,
        partial(_each_of, "heater_off", ("water-heater", "combined-heater")),
        partial(pump, "off"),
        partial(drains, "open"),
        partial(_each_of, "tap_open", ("tap", "shower", "quick-coupling")),
        partial(_each_of, "pump_dry", ("pump",)),
        partial(_each_of, "traps", ("drain-trap",)),
        partial(_each_of, "waste_empty", ("grey-tank", "black-tank", "urine-tank", "cassette", "toilet")),
        batteries,
        partial(_each_of, "fridge_empty", ("fridge",)),
        partial(_each_of, "heater_monthly", ("air-heater", "hydronic-heater", "combined-heater")),
    ),
    "waking-it-in-spring": (
        partial(drains, "shut"),
        partial(_each_of, "leaks", ("fresh-tank",)),
        partial(_each_of, "sanitise", ("fresh-tank",)),
        partial(_each_of, "breathing", BREATHING),
        partial(_each_of, "alarm", ALARMS),
        partial(_each_of, "extinguishers", ("extinguisher",)),
        burners,
        partial(_say, "tyres"),
        partial(_say, "seals"),
        contact,
    ),
}
"""The lists with their lines in order."""
