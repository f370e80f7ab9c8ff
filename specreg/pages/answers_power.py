"""What in a van answers the questions on electricity."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.facts.schedule import device_rows
from specreg.model.dc import FuseBox
from specreg.model.inverting import Inverting
from specreg.model.mains import ShoreInlet
from specreg.pages import fitted
from specreg.pages.content import Cell, cell
from specreg.pages.devices import device_groups
from specreg.pages.van import Van
from specreg.units import Dimension, write

GAUGES = ("shunt", "display")
CHARGERS = ("shore-charger", "dc-charger", "split-relay", "solar-controller", "inverter-charger")
INVERTERS = ("inverter", "inverter-charger")
NIGHT = 8 * 3600.0
"""Seconds of a night: eight hours."""


def devices(van: Van) -> object:
    """Return the fuses and breakers."""
    return device_rows(van.facts)


def boxes(van: Van) -> Iterator[Cell]:
    """Name each box of fuses or breakers with its place."""
    for holder in device_groups(van):
        if holder:
            yield van.texts.say("questions.which-fuse.box", thing=fitted.placed(van, holder))


def disconnects(van: Van) -> Iterator[Cell]:
    """Ask of each disconnect whether it is on."""
    for name in fitted.disconnects(van):
        yield van.texts.say("questions.all-dead.switch", thing=fitted.placed(van, name))


def lithium(van: Van) -> Iterable[Cell]:
    """Say that a lithium battery may have switched itself off."""
    found = fitted.lithium(van)
    return [van.texts.say("questions.all-dead.asleep", thing=van.thing(name)) for name in found]


def mains_power(van: Van) -> Iterator[Cell]:
    """Say how much the inverter and the site give at once."""
    for name, one in van.of(Inverting).items():
        if value := van.field(one, "rated_power"):
            yield van.texts.say(
                "questions.kettle.inverter", thing=van.thing(name), value=cell(value, strong=True)
            )
    for name, inlet in van.of(ShoreInlet).items():
        yield from _site(van, name, inlet)


def _site(van: Van, name: str, inlet: object) -> Iterator[Cell]:
    assert isinstance(inlet, ShoreInlet)
    amps = inlet.site_current or inlet.rated_current
    if amps and inlet.rated_voltage:
        power = write(amps * inlet.rated_voltage, Dimension.power, van.units)
        current = write(amps, Dimension.current, van.units)
        yield van.texts.say("questions.kettle.site", thing=van.thing(name), current=current, power=power)


def appliances(van: Van) -> Iterator[Cell]:
    """Name what is written to be used on mains, with its power."""
    for name, one in van.kinds("mains-appliance", "induction-hob").items():
        if value := van.field(one, "power") if "power" in type(one).model_fields else "":
            yield van.texts.say("questions.kettle.one", thing=van.thing(name), value=cell(value, strong=True))


def idle(van: Van) -> Iterator[Cell]:
    """Say what each inverter takes in a night without load."""
    for name, one in van.of(Inverting).items():
        power = getattr(one, "idle_power", None)
        if power is not None:
            energy = write(power * NIGHT, Dimension.energy, van.units)
            yield van.texts.say(
                "questions.inverter-night.idle",
                thing=van.thing(name),
                power=van.declared(one, "idle_power"),
                energy=energy,
            )
        if getattr(one, "search_mode", None):
            yield van.texts.say("questions.inverter-night.search", thing=van.thing(name))


def cold_batteries(van: Van) -> Iterator[Cell]:
    """Say for each battery what the cold does to it."""
    for name, one in van.kinds("battery").items():
        if name not in fitted.lithium(van):
            yield van.texts.say("questions.battery-frost.lead", thing=fitted.placed(van, name))
            continue
        limit = van.field(one, "least_charging_temperature") or van.texts("word.not_written")
        yield van.texts.say("questions.battery-frost.lithium", thing=fitted.placed(van, name), limit=limit)
        for field in ("cold_charge_lockout", "heated"):
            if getattr(one, field, None):
                yield van.texts.say(f"questions.battery-frost.{field}", thing=van.thing(name))


def spare_ways(van: Van) -> Iterator[Cell]:
    """Say how many ways of each box are free, and what the whole box bears."""
    for name, box in van.of(FuseBox).items():
        assert isinstance(box, FuseBox)
        used = sum(one is not None for one in box.ways.values())
        counted = box.way_count is not None and box.way_count >= len(box.ways)
        free = (box.way_count or 0 if counted else len(box.ways)) - used
        text = "some" if counted else "as_written"
        yield van.texts.say(f"questions.add.{text}", thing=fitted.placed(van, name), count=str(free))
        yield from _bears(van, name, box)


def _bears(van: Van, name: str, box: FuseBox) -> Iterator[Cell]:
    for field in ("rated_current", "way_current"):
        if value := van.field(box, field):
            yield van.texts.say(
                f"questions.add.{field}", thing=van.thing(name), value=cell(value, strong=True)
            )


def has_mains(van: Van) -> object:
    """Tell whether anything can be plugged in."""
    return van.kinds("socket") and fitted.has_mains(van)


def residual(van: Van) -> object:
    """Return what trips by residual current."""
    found = [n for n, one in van.build.components.items() if getattr(one, "residual", None) is not None]
    return found or [row for row in device_rows(van.facts) if row.device.residual_current is not None]
