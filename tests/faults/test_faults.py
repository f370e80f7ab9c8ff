"""Find the fault: what is looked at, in which order, and that nothing is left out."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from building import build

from specreg.facts.engine import Facts
from specreg.facts.schedule import supply_of
from specreg.faults.checks import EFFORT, Check, Look, Who, checks
from specreg.faults.dead import Fault, faults
from specreg.graph.supply import working
from specreg.model.build import Build
from specreg.workshop import load

DEMOS = ("fieldwork", "winter-tourer", "pocket")


@cache
def facts_of(demo: str) -> Facts:
    """The facts of one demo."""
    (build,) = load(Path(__file__).parents[2] / "builds" / demo).sound
    return Facts(build)


def question(build: Build, thing: str, sort: str) -> Fault:
    """The one question of a sort about a thing."""
    (found,) = [one for one in faults(build) if one.thing == thing and one.sort == sort]
    return found


def asked(facts: Facts, thing: str, sort: str = "dead") -> tuple[Check, ...]:
    """The checks of the one question of a sort about a thing."""
    return checks(facts, question(facts.build, thing, sort))


@pytest.mark.parametrize("demo", DEMOS)
def test_whatever_stops_a_thing_is_among_its_checks(demo: str) -> None:
    """Take away each component, run and device in turn: each thing that then stops names it somewhere."""
    facts = facts_of(demo)
    of = facts.once(supply_of)
    used = {one.thing: one for one in faults(facts.build) if one.sort in ("dead", "dry", "dark")}
    named = {thing: {x for c in checks(facts, one) for x in c.things} for thing, one in used.items()}
    stopped = 0
    for away in (*facts.build.components, *facts.build.runs, *facts.devices):
        dead = of.works - working(of, frozenset({away})) - {away}
        stopped += len(dead & used.keys())
        assert [thing for thing in sorted(dead & used.keys()) if away not in named[thing]] == [], away
    assert stopped > len(used), "the trial must stop something"


@pytest.mark.parametrize("demo", DEMOS)
def test_what_is_said_to_be_dead_as_well_is_dead_without_it(demo: str) -> None:
    """If one of the things named works, the step is in order: so each of them must stop without it."""
    facts = facts_of(demo)
    of = facts.once(supply_of)
    claims = {
        (c.things[0], name) for one in faults(facts.build) for c in checks(facts, one) for name in c.stops
    }
    assert claims
    for thing, name in sorted(claims):
        assert name in of.works - working(of, frozenset({thing})), (thing, name)


@pytest.mark.parametrize("demo", DEMOS)
def test_checks_begin_with_the_thing_itself_and_never_grow_easier(demo: str) -> None:
    """The order is by effort, then by distance."""
    facts = facts_of(demo)
    for one in faults(facts.build):
        found = checks(facts, one)
        assert found[0].look is Look.own
        keys = [(EFFORT[check.look], check.distance) for check in found]
        assert keys == sorted(keys)


@pytest.mark.parametrize("demo", DEMOS)
def test_mains_and_gas_are_never_opened_by_the_owner(demo: str) -> None:
    """What lies in mains or gas behind a switch, a valve or a breaker is a licensed person's."""
    facts = facts_of(demo)
    hidden = (Look.joints, Look.passed, Look.bolted, Look.contact)
    found = [c for one in faults(facts.build) for c in checks(facts, one) if c.look in hidden and c.medium]
    assert found
    for check in found:
        medium = check.medium.value if check.medium else ""
        who = {"ac": Who.electrician, "gas": Who.gas_engineer}.get(medium, Who.workshop)
        assert check.who is who


TAP = [
    (Look.own, "galley-tap"),
    (Look.works, "water-pump"),
    (Look.switch, "control-panel/1"),
    (Look.switch, "battery-disconnect"),
    (Look.level, "fresh-tank"),
    (Look.battery, "house-battery"),
    (Look.fuse, "essentials-box/pump"),
    (Look.strainer, "water-strainer"),
]
"""A dry tap in the field-survey van, as far as an owner goes."""


def test_a_dry_tap_leads_from_the_tap_by_the_pump_to_tank_fuse_and_strainer() -> None:
    """The whole list of an owner, in order."""
    found = asked(facts_of("fieldwork"), "galley-tap", "dry")
    assert [(check.look, check.things[0]) for check in found if check.who is Who.owner] == TAP


def test_cold_water_at_the_hot_tap_asks_for_the_heater_and_its_mains() -> None:
    """Hot water needs the heater, which cold water passes as well."""
    found = {(check.look, check.things[0]) for check in asked(facts_of("fieldwork"), "galley-tap", "cold")}
    assert {(Look.works, "water-heater"), (Look.plug, "shore-inlet")} <= found
    assert (Look.breaker, "inlet-board/water-heater") in found


def test_a_heater_asks_for_its_control_its_fuel_and_its_openings() -> None:
    """Control, fuel, air and exhaust are media like any other."""
    found = {(check.look, check.things[0]) for check in asked(facts_of("winter-tourer"), "heater")}
    assert {
        (Look.control, "heater-control"),
        (Look.fuel, "fuel-takeoff"),
        (Look.blocked, "heater-intake"),
        (Look.blocked, "heater-exhaust"),
    } <= found


def test_a_socket_that_two_sources_feed_asks_for_the_shore_lead_too() -> None:
    """The way met leads to the inverter; the shore lead feeds it as well."""
    found = {(check.look, check.things[0]) for check in asked(facts_of("fieldwork"), "work-socket")}
    assert {(Look.converter, "inverter-charger"), (Look.plug, "shore-inlet")} <= found


SMALL = """
components:
  bank: {kind: battery, nominal_voltage: 12 V, capacity: 100 Ah, chemistry: lithium iron phosphate}
  box: {kind: fuse-box, ways: {1: {fuse: 10 A, family: blade}, 2: {fuse: 5 A, family: blade}}}
  ground: {kind: bus-bar, studs: 4, polarity: negative}
  lamp: {kind: ceiling-light, power: 5 W}
  fan: {kind: cabin-fan, power: 5 W}
runs:
  main: {medium: dc, from: bank/positive, to: box/feed, conductor: 10 mm², length: 1 m, return: box-ret}
  box-ret: {medium: dc, from: ground/1, to: box/feed, conductor: 10 mm², length: 1 m}
  ret: {medium: dc, from: bank/negative, to: ground/2, conductor: 10 mm², length: 1 m}
  lamp-feed: {medium: dc, from: box/1, to: lamp, conductor: 1.5 mm², length: 2 m, return: same cable}
  fan-feed: {medium: dc, from: box/2, to: fan, conductor: 1.5 mm², length: 2 m, return: same cable}
"""


def test_the_return_is_looked_at_as_well_as_the_supply() -> None:
    """A loose negative is a fault like any other."""
    facts = Facts(build(SMALL))
    (joints,) = [check for check in asked(facts, "lamp") if check.look is Look.joints]
    assert {"ret", "box-ret", "ground", "lamp-feed", "main"} <= set(joints.things)


def test_the_fuse_follows_the_way_that_the_spec_says() -> None:
    """Moving the lamp to the other way moves the check; the fan then shares it."""
    moved = SMALL.replace("from: box/1, to: lamp", "from: box/2, to: lamp").replace(
        "box/2, to: fan", "box/1, to: fan"
    )
    for text, way in ((SMALL, "box/1"), (moved, "box/2")):
        found = asked(Facts(build(text)), "lamp")
        assert [check.things for check in found if check.look is Look.fuse] == [(way,)]


def test_nothing_is_asked_of_a_van_without_anything_that_can_be_dead() -> None:
    """An empty van has no questions."""
    assert faults(build("components: {}")) == ()
