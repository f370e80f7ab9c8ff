"""Find the fault: for each thing that can be dead, what to look at, in order, with places."""

from __future__ import annotations

from specreg.faults.checks import Check, Look, Who, checks
from specreg.faults.dead import Fault, faults
from specreg.model.component import CombustionAppliance, Component
from specreg.model.loads import Light
from specreg.model.safety import Alarm
from specreg.pages import fitted
from specreg.pages.content import Block, Caution, Cell, Listing, Page, Paragraph, Section, Signal, Words, cell
from specreg.pages.devices import device_words
from specreg.pages.texts import joined
from specreg.pages.van import Van

GROUPS = ("water", "power", "heat", "charging")
NAMED = 3
"""So many things are named that would be dead as well; the others are counted."""

OWN_BY_KIND = {
    "usb-outlet": "outlet",
    "dc-outlet": "outlet",
    "roof-fan": "fan",
    "cabin-fan": "fan",
    "duct-fan": "fan",
    "extractor-hood": "fan",
    "fridge": "fridge",
    "hob": "hob",
    "oven": "hob",
    "toilet": "toilet",
    "pump": "pump",
    "socket": "socket",
    "mains-appliance": "socket",
    "induction-hob": "induction",
}
"""What is asked of the dead thing itself, by its kind."""


def fault_pages(van: Van) -> tuple[Page, ...]:
    """Return the page on which a reader picks what is dead, and one for each chapter that has something."""
    found = faults(van.build)
    chapters = {group: [one for one in found if one.group == group] for group in GROUPS}
    shown = {group: items for group, items in chapters.items() if items}
    pages = tuple(_chapter(van, group, items) for group, items in shown.items())
    return (_front(van, shown), *pages)


def _front(van: Van, chapters: dict[str, list[Fault]]) -> Page:
    lead = van.texts("fault.lead" if chapters else "fault.nothing")
    blocks: list[Block] = [_first(van)]
    for group, items in chapters.items():
        links = tuple(cell(_title(van, one), f"fault-{group}.html#{one.anchor}") for one in items)
        blocks.append(Section(group, van.texts(f"fault.group.{group}"), (Listing(links),)))
    return Page("fault", van.texts("page.fault"), lead, tuple(blocks))


def _first(van: Van) -> Section:
    say = van.texts.say
    smell = say("fault.first_smell", page=cell(van.texts("page.emergency"), "emergency.html"))
    steps = (say("fault.first_wet"), say("fault.first_else"), say("fault.first_stop"))
    blocks = (Caution(Signal.warning, smell), Listing(steps))
    return Section("first", van.texts("fault.first"), blocks)


def _chapter(van: Van, group: str, items: list[Fault]) -> Page:
    smell = van.texts.say("fault.first_smell", page=cell(van.texts("page.emergency"), "emergency.html"))
    contents = Listing(tuple(cell(_title(van, one), f"#{one.anchor}") for one in items))
    sections = tuple(_section(van, one) for one in items)
    blocks: tuple[Block, ...] = (Caution(Signal.warning, smell), contents, *sections)
    title = van.texts(f"page.fault-{group}")
    return Page(f"fault-{group}", title, van.texts("fault.first_else"), blocks, within="fault")


def _title(van: Van, fault: Fault) -> str:
    name = van.name(fault.thing)
    begins = fault.sort in ("dead", "uncharged")
    return van.texts(f"fault.title.{fault.sort}", thing=name if begins else _low(name))


def _low(name: str) -> str:
    """Return a name as it stands within a sentence, abbreviations as they are."""
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


def _section(van: Van, fault: Fault) -> Section:
    steps = tuple(_step(van, fault, check) for check in checks(van.facts, fault))
    end = Paragraph(van.texts.say("fault.back"), small=True)
    return Section(fault.anchor, _title(van, fault), (Listing(steps, numbered=True), end))


def _step(van: Van, fault: Fault, check: Check) -> Cell:
    said = _asked(van, fault, check)
    if check.stops:
        said = (*said, Words(" "), *_also(van, check.stops))
    if check.who is not Who.owner:
        word = check.who.value.replace(" ", "_")
        said = (*said, Words(" "), Words(van.texts(f"fault.stop_{word}"), strong=True))
    return said


def _asked(van: Van, fault: Fault, check: Check) -> Cell:
    say, thing = van.texts.say, check.things[0]
    if check.look is Look.own:
        return say(f"fault.own.{_own(van, fault)}", thing=_placed(van, thing))
    if check.look is Look.joints and check.medium is not None:
        things = joined([van.thing(name) for name in check.things])
        return say("fault.look.joints", what=van.texts(f"fault.joints.{check.medium.value}"), things=things)
    rating = device_words(van, van.facts.devices[thing]) if thing in van.facts.devices else ""
    return say(f"fault.look.{check.look.value}", thing=_placed(van, thing), rating=rating)


def _placed(van: Van, thing: str) -> Cell:
    """Return a thing with the words on its label and its place."""
    label = _label(van, thing)
    return (
        *fitted.placed(van, thing),
        *((Words(van.texts("fault.labelled", label=label)),) if label else ()),
    )


def _label(van: Van, thing: str) -> str:
    if thing in van.facts.devices:
        return van.facts.devices[thing].label or ""
    panel, _, way = thing.partition("/")
    ways = getattr(van.build.components.get(panel), "ways", None) or {}
    return getattr(ways.get(way), "label", None) or ""


def _own(van: Van, fault: Fault) -> str:
    if fault.sort != "dead":
        return fault.sort
    component = van.build.components[fault.thing]
    return OWN_BY_KIND.get(component.kind) or _own_by_class(component)


def _own_by_class(component: Component) -> str:
    if isinstance(component, Light):
        return "light"
    if isinstance(component, Alarm):
        return "alarm"
    return "heater" if isinstance(component, CombustionAppliance) else "default"


def _also(van: Van, stops: tuple[str, ...]) -> Cell:
    things = joined([van.thing(name) for name in stops[:NAMED]], " or ")
    if len(stops) > NAMED:
        things = van.texts.say("fault.also_more", things=things, count=str(len(stops) - NAMED))
    return van.texts.say("fault.also" if len(stops) == 1 else "fault.also_any", things=things)
