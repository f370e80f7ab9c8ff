"""Alarms, extinguishers and blankets: which hazard, which standard, how far."""

import pytest
from van import van_facts

from specreg.facts.missing import Missing

ALARMS = """
components:
  rear-bed: {kind: bed}
  roof-bed: {kind: bed}
  both: {kind: smoke-alarm, also_detects: [carbon monoxide], serves: [rear-bed]}
  co: {kind: co-alarm}
"""


def test_an_alarm_stands_for_what_it_serves() -> None:
    """One that names beds stands for these, one that names none for all; a combined one for both hazards."""
    facts = van_facts(ALARMS)
    assert facts.subject("rear-bed").smoke_alarms == ("both",)
    assert facts.subject("roof-bed").smoke_alarms == ()
    assert facts.subject("rear-bed").co_alarms == ("both", "co")
    assert facts.subject("roof-bed").co_alarms == ("co",)


@pytest.mark.parametrize(
    ("kind", "plate", "where", "wanting"),
    [
        ("co-alarm", "EN 50291-2:2019", "[uk]", ()),
        ("co-alarm", "BS EN50291-2", "[eu]", ()),
        ("co-alarm", "EN 50291-1", "[uk]", ("EN 50291-2",)),
        ("co-alarm", "EN 50291-2", "[us]", ("UL 2034",)),
        ("co-alarm", "UL 2034, RV", "[us]", ()),
        ("co-alarm", "EN 50291-2", "[uk, us]", ("UL 2034",)),
        ("co-alarm", "EN 50291-2", "[uk, eu]", ()),
        ("smoke-alarm", "EN 14604", "[uk]", ()),
        ("smoke-alarm", "EN 14604", "[us]", ("UL 217",)),
        ("gas-alarm", "EN 50194-1", "[eu]", ("EN 50194-2",)),
    ],
)
def test_standard_on_the_plate(kind: str, plate: str, where: str, wanting: tuple[str, ...]) -> None:
    """EN 50291-1 is for houses, part 2 for vehicles and boats; each country names its own."""
    facts = van_facts(
        f"{{jurisdictions: {where}, components: {{alarm: {{kind: {kind}, standard: '{plate}'}}}}}}"
    )
    assert facts.subject("alarm").standards_wanting == wanting


@pytest.mark.parametrize(
    ("bottle", "distance"),
    [
        ("at: [2 m, 0.7 m, 0.4 m], size: [0.1 m, 0.1 m, 0.3 m]", 0.1),
        ("at: [1.1 m, 0.4 m, 0.4 m], size: [0.1 m, 0.1 m, 0.3 m]", 0.5),
        ("at: [2 m, 0.9 m, 0.4 m], size: [0.1 m, 0.1 m, 0.3 m]", 0.0),
        ("near: door", 0.0),
    ],
)
def test_distance_of_an_extinguisher_from_the_nearest_exit(bottle: str, distance: float) -> None:
    """Between the boxes, by Pythagoras (0.3, 0.4 and 0.5 m); 0 where it names the exit."""
    facts = van_facts(
        "components: {door: {kind: exit, at: [1.5 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}, "
        f"bottle: {{kind: extinguisher, {bottle}}}}}"
    )
    assert facts.subject("bottle").distance_to_exit == pytest.approx(distance)


def test_what_burns_and_what_is_carried() -> None:
    """A diesel heater burns and carries no gas; a cylinder is gas."""
    heater = "components: {heater: {kind: air-heater, burns: diesel}}"
    assert van_facts(heater).whole.burners == ("heater",)
    assert van_facts(heater).whole.carries_gas is False
    assert van_facts("components: {bottle: {kind: gas-cylinder}}").whole.carries_gas is True


@pytest.mark.parametrize(
    ("component", "rated"),
    [
        ("{kind: seat, origin: base vehicle}", False),
        ("{kind: seat, origin: retrofitted}", True),
        ("{kind: seat}", True),
        ("{kind: bench, origin: retrofitted}", True),
        ("{kind: mattress}", True),
        ("{kind: curtain}", True),
        ("{kind: battery}", False),
    ],
)
def test_whose_burn_rate_is_limited(component: str, rated: bool) -> None:
    """49 CFR 571.302 S4.1 as read: seats, curtains, mattresses; the maker's own seats are the maker's matter."""
    assert van_facts(f"components: {{it: {component}}}").subject("it").burn_rated is rated


@pytest.mark.parametrize(
    ("stated", "mass"),
    [("content: 2 kg", 2), ("content_volume: 6 L", 6), ("content: 2 kg, content_volume: 6 L", 2)],
)
def test_agent_of_an_extinguisher(stated: str, mass: float) -> None:
    """Its mass first; water is a kilogram to the litre, within 1 %."""
    bottle = van_facts(f"components: {{it: {{kind: extinguisher, {stated}}}}}").subject("it")
    assert bottle.agent_mass == pytest.approx(mass, rel=0.01)


@pytest.mark.parametrize("over", ["vehicle: {interior: {height: ~}}", "components: {it: {at: ~}}"])
def test_a_place_below_an_unknown_ceiling_is_asked_for(over: str) -> None:
    """Neither the room's height nor the alarm's place is guessed: the one field that answers is named."""
    alarm = "components: {it: {kind: smoke-alarm, at: [1 m, 0 m, 1.7 m]}}"
    with pytest.raises(Missing) as absent:
        _ = van_facts(alarm, over).subject("it").below_the_ceiling
    assert absent.value.fields == ("it.below_ceiling",)


@pytest.mark.parametrize(
    "door",
    [
        "[1.3 m, 0 m, 0 m]",
        "[1 m, -0.3 m, 0 m]",
        "[1 m, 0 m, 0.3 m]",
        "[0.7 m, 0 m, 0 m]",
        "[1 m, 0 m, -0.3 m]",
    ],
)
def test_things_without_a_size_are_points(door: str) -> None:
    """0.3 m along any axis, either way, is 0.3 m."""
    facts = van_facts(
        f"components: {{door: {{kind: exit, at: {door}}}, bottle: {{kind: extinguisher, at: [1 m, 0 m, 0 m]}}}}"
    )
    assert facts.subject("bottle").distance_to_exit == pytest.approx(0.3)
