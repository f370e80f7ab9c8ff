"""What in a van answers the questions on water, heat, safety and the vehicle."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.model.component import CombustionAppliance
from specreg.model.records import Records
from specreg.model.seating import Seating
from specreg.pages import fitted
from specreg.pages.checklists import DRIVING, GASES, is_drain
from specreg.pages.content import Cell, cell
from specreg.pages.van import LENGTH, Van
from specreg.units import Dimension, write

PUMPED = ("pump",)
TAPS = ("tap", "shower")
WASTE = ("grey-tank", "black-tank", "urine-tank", "cassette")
HEATERS = ("air-heater", "hydronic-heater", "combined-heater", "water-heater")
FLAMES = ("hob", "oven", "portable-stove")
ALARMS = ("co-alarm", "gas-alarm", "smoke-alarm")
WATER_DENSITY = 1000.0
"""Kilograms per cubic metre, rounded up from 998 at 20 °C."""


def electric_pumps(van: Van) -> list[str]:
    """Return the pumps that no hand or foot moves."""
    return [n for n, one in van.kinds("pump").items() if getattr(one, "form", "") not in ("hand", "foot")]


def stop_pumps(van: Van) -> Iterator[Cell]:
    """Say where each pump is stopped."""
    from specreg.graph.supply import isolated_by  # noqa: PLC0415 - only this answer asks the graph

    for pump in electric_pumps(van):
        cuts = [step.id for step in isolated_by(van.supply, pump) if step.form in ("switch", "device")]
        if cuts:
            yield van.texts.say(
                "questions.pump-runs.stop", pump=van.thing(pump), cut=fitted.placed(van, cuts[0])
            )


def weights_of_water(van: Van) -> Iterator[Cell]:
    """Say what each tank weighs when it is full."""
    for name, tank in van.kinds("fresh-tank").items():
        volume = getattr(tank, "volume", None)
        if volume:
            mass = write(volume * tank.count * WATER_DENSITY, Dimension.mass, van.units)
            yield van.texts.say(
                "questions.fill.weighs", thing=van.thing(name), volume=van.declared(tank, "volume"), mass=mass
            )


def bleach(van: Van) -> Iterator[Cell]:
    """Say how much bleach each tank takes."""
    for name in van.kinds("fresh-tank"):
        dose = van.fact(name, "sanitising_bleach")
        yield van.texts.say("questions.drink.dose", thing=van.thing(name), dose=dose)


def drains(van: Van) -> Iterator[Cell]:
    """Name every low point."""
    for name, one in van.kinds("valve", "frost-valve", "waste-valve").items():
        if is_drain(one) or one.kind == "waste-valve":
            yield van.texts.say("questions.winterise.drain", thing=fitted.placed(van, name))


def gas_burners(van: Van) -> dict[str, object]:
    """Return what burns gas with a flame that is seen."""
    return {n: one for n, one in van.kinds(*FLAMES).items() if getattr(one, "burns", None) in GASES}


def diesel_heaters(van: Van) -> dict[str, CombustionAppliance]:
    """Return the heaters that burn a liquid."""
    return {
        name: one
        for name, one in van.of(CombustionAppliance).items()
        if isinstance(one, CombustionAppliance) and one.burns not in GASES and one.kind in HEATERS
    }


def altitude(van: Van) -> Iterator[Cell]:
    """Say how high up each heater may run, where its maker said so."""
    for name, one in diesel_heaters(van).items():
        limit = getattr(one, "altitude_limit", None)
        if limit is not None:
            kit = "kit" if getattr(one, "altitude_kit", None) else "limit"
            far = van.value(limit, LENGTH)
            yield van.texts.say(f"questions.heater-smokes.{kit}", thing=van.thing(name), far=far)


def burns_while_driving(van: Van) -> Iterable[Cell]:
    """Say what the spec says of gas under way."""
    allowed = van.build.header.use.gas_while_driving
    word = {True: "gas_yes", False: "gas_no", None: "gas_unsaid"}[allowed]
    return (van.texts.say(f"questions.heat-driving.{word}"),) if fitted.gas_stores(van) else ()


def openings(van: Van) -> Iterator[Cell]:
    """Name what lets air in or gas out, and may never be closed; then what may be shut."""
    fixed = [n for n, one in van.kinds("vent", "gas-drop-out").items() if not getattr(one, "closable", None)]
    shut = [n for n, one in van.kinds("vent", "gas-drop-out").items() if getattr(one, "closable", None)]
    for names, text in ((fixed, "open"), (shut, "closable")):
        for name in names:
            yield van.texts.say(f"questions.hole.{text}", thing=fitted.placed(van, name))


def wet_places(van: Van) -> Iterator[Cell]:
    """Say what the computed night says of water."""
    for name in ("water_of_a_night", "air_to_keep_dry"):
        found = van.fact("", name)
        if found:
            yield van.texts.say(f"questions.condensation.{name}", figure=found)


def alarms(van: Van) -> Iterator[Cell]:
    """Say for each alarm what it runs on and when it is worn out."""
    for name, one in van.kinds(*ALARMS).items():
        yield van.texts.say("questions.alarm.one", thing=fitted.placed(van, name))
        for field in ("battery_type", "expires_on"):
            if value := van.field(one, field):
                yield van.texts.say(f"questions.alarm.{field}", thing=van.thing(name), value=value)


def ways_out(van: Van) -> Iterator[Cell]:
    """Name every way out with how it opens."""
    for name, one in van.kinds("exit").items():
        opens = van.field(one, "opens_with") or van.texts("word.not_written")
        yield van.texts.say("questions.door.way", thing=fitted.placed(van, name), opens=opens)


def extinguishers(van: Van) -> Iterator[Cell]:
    """Say what each extinguisher is for and when it is due."""
    for name, one in van.kinds("extinguisher").items():
        values = {
            f: van.field(one, f) or van.texts("word.not_written") for f in ("classes", "agent", "expires_on")
        }
        yield van.texts.say("questions.extinguisher.one", thing=fitted.placed(van, name), **values)


def road_seats(van: Van) -> Iterator[Cell]:
    """Say of every seat whether it is for the road."""
    for name, seat in van.of(Seating).items():
        word = "yes" if getattr(seat, "used_under_way", None) else "no"
        yield van.texts.say(f"questions.seats.{word}", thing=fitted.placed(van, name))


def pressures(van: Van) -> Iterator[Cell]:
    """Give the tyre pressures that are written."""
    tyres = van.build.header.vehicle.tyres
    for name in ("front", "rear"):
        if tyres and (value := van.field(tyres, name)):
            yield van.texts.say(f"questions.tyres.{name}", value=cell(value, strong=True))


def heights(van: Van) -> Iterator[Cell]:
    """Give the height that must fit below a bridge."""
    if value := van.field(van.build.header.vehicle, "overall_height"):
        yield van.texts.say("questions.tyres.height", value=cell(value, strong=True))


def states_to_drive(van: Van) -> Iterator[Cell]:
    """Say in which state each thing travels."""
    for thing, shape in van.build.header.modes.get(DRIVING, {}).items():
        if thing in van.build.components:
            yield van.texts.say("questions.drive-with.state", thing=van.thing(thing), state=shape)


def limits(van: Van) -> Iterator[Cell]:
    """Give the limits on the roof and on what carries."""
    if value := van.field(van.build.header.vehicle.permitted, "roof"):
        yield van.texts.say("questions.load.roof", value=cell(value, strong=True))
    for name, one in van.kinds("roof-rack", "bike-carrier", "ladder", "tow-bar").items():
        if value := van.field(one, "load_limit"):
            yield van.texts.say(
                "questions.load.carrier", thing=van.thing(name), value=cell(value, strong=True)
            )


def records(van: Van) -> Iterator[Cell]:
    """Count the papers that are recorded."""
    kept: Records = van.build.header.records
    counted = {"sign_offs": kept.sign_offs, "tests": kept.tests, "weighings": kept.weighings}
    for name, found in counted.items():
        yield van.texts.say(f"questions.papers.{name}", count=str(len(found)))


def trades(van: Van) -> Iterator[Cell]:
    """Say which trade is for what in this van."""
    found = {
        "gas": fitted.gas_stores(van),
        "mains": fitted.has_mains(van),
        "seats": van.of(Seating),
        "burners": diesel_heaters(van),
    }
    for name, there in found.items():
        if there:
            yield van.texts.say(f"questions.service.{name}")
