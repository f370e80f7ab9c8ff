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
    assert facts.whole.gas_alarms == ()


def test_an_alarm_for_gas_may_be_one_for_something_else_as_well() -> None:
    """One of its kind, and a combined one; which beds they serve makes no difference to a leak."""
    both = "components: {leak: {kind: gas-alarm}, co: {also_detects: [lpg], serves: [rear-bed]}}"
    assert set(van_facts(ALARMS, both).whole.gas_alarms) == {"leak", "co"}


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
        ("gas-alarm", "EN 50194-2 and UL 1484", "[uk, eu, us, ca]", ()),
        ("gas-alarm", "none", "[us]", ("UL 1484",)),
        ("co-alarm", "CSA 6.19", "[ca]", ()),
        ("co-alarm", "UL 2034", "[ca]", ()),
        ("co-alarm", "EN 50291-2", "[ca]", ("CSA 6.19 or UL 2034",)),
        ("smoke-alarm", "ULC-S531", "[ca]", ()),
        ("smoke-alarm", "ul217", "[ca, us]", ()),
        ("smoke-alarm", "EN 50291-2", "[uk, ca]", ("EN 14604", "ULC-S531 or UL 217")),
        ("co-alarm", "whatever", "[au, nz]", ()),
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
    assert van_facts("components: {tank: {kind: gas-tank}}").whole.carries_gas is True


@pytest.mark.parametrize(
    ("heater", "burns"),
    [
        ("{kind: air-heater, burns: diesel}", True),
        ("{kind: air-heater, flue_type: room-sealed}", True),
        ("{kind: hob, burns: propane}", True),
        ("{kind: hob}", True),
        ("{kind: portable-stove}", True),
        ("{kind: water-heater, energies: [gas, mains]}", True),
        ("{kind: water-heater, energies: [diesel], burns: diesel}", True),
        ("{kind: water-heater, energies: [mains]}", False),
        ("{kind: induction-hob}", False),
    ],
)
def test_what_burns_a_fuel(heater: str, burns: bool) -> None:
    """What is lit does, whether or not its fuel and flue are stated: a water heater alone may be electric."""
    assert van_facts(f"components: {{it: {heater}}}").whole.burners == (("it",) if burns else ())


def test_extinguishers_and_blankets_are_listed() -> None:
    """Each by its name, and nothing else."""
    facts = van_facts(
        "components: {a: {kind: extinguisher}, b: {kind: extinguisher}, c: {kind: fire-blanket}, d: {kind: smoke-alarm}}"
    )
    assert (facts.whole.extinguishers, facts.whole.blankets) == (("a", "b"), ("c",))
    assert (van_facts().whole.extinguishers, van_facts().whole.blankets) == ((), ())


def test_without_an_exit_no_distance_is_told() -> None:
    """Nor is what it hangs by taken for an exit where it is none: the nearest exit counts."""
    lone = "components: {bottle: {kind: extinguisher, at: [1 m, 0 m, 0 m]}}"
    with pytest.raises(Missing) as raised:
        _ = van_facts(lone).subject("bottle").distance_to_exit
    assert (raised.value.fields, raised.value.reason) == ((), "no exit is listed")
    by_a_shelf = (
        "components: {shelf: {kind: shelf}, bottle: {near: shelf}, "
        "far: {kind: exit, at: [4 m, 0 m, 0 m]}, door: {kind: exit, at: [3 m, 0 m, 0 m]}}"
    )
    assert van_facts(lone, by_a_shelf).subject("bottle").distance_to_exit == pytest.approx(2.0)
    with pytest.raises(Missing) as raised:
        _ = van_facts(lone, by_a_shelf, "components: {far: {at: ~}}").subject("bottle").distance_to_exit
    assert raised.value.fields == ("far.at",)


@pytest.mark.parametrize("hob", ["hob", "induction-hob"])
def test_distance_of_a_hob_from_the_nearest_blanket(hob: str) -> None:
    """Between the boxes: 0.4 m along, or 0 where a blanket names the hob; without a blanket nothing is told."""
    cook = f"components: {{hob: {{kind: {hob}, at: [2 m, 0 m, 0.9 m], size: [0.5 m, 0.5 m, 0.1 m]}}}}"
    with pytest.raises(Missing) as raised:
        _ = van_facts(cook).subject("hob").distance_to_blanket
    assert (raised.value.fields, raised.value.reason) == ((), "no fire blanket is listed")
    far = "components: {far: {kind: fire-blanket, at: [4 m, 0 m, 0.9 m]}, b: {kind: fire-blanket, at: [2.9 m, 0.2 m, 1 m]}}"
    assert van_facts(cook, far).subject("hob").distance_to_blanket == pytest.approx(0.4)
    named = "components: {far: {near: hob}, b: {near: galley}, galley: {kind: cabinet}}"
    assert van_facts(cook, far, named).subject("hob").distance_to_blanket == 0
    elsewhere = "components: {far: {near: galley}, galley: {kind: cabinet}}"
    assert van_facts(cook, far, elsewhere).subject("hob").distance_to_blanket == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("component", "rate"),
    [
        ("{kind: bench, burn_rate: 60 mm/min}", 0.001),
        ("{kind: curtain, burn_rate: 90 mm/min}", 0.0015),
        ("{kind: pop-top, fabric_burn_rate: 30 mm/min}", 0.0005),
    ],
)
def test_the_burn_rate_that_counts(component: str, rate: float) -> None:
    """In m/s, of the material that the room sees: of a pop-top its fabric."""
    assert van_facts(f"components: {{it: {component}}}").subject("it").material_burn_rate == pytest.approx(
        rate
    )


def test_a_burn_rate_that_is_not_stated() -> None:
    """Is asked for, by the field that its kind has; a kind without one has none."""
    for kind, fields, reason in (
        ("bench", ("it.burn_rate",), None),
        ("pop-top", ("it.fabric_burn_rate",), None),
        ("battery", (), "its kind has no burn rate"),
    ):
        with pytest.raises(Missing) as raised:
            _ = van_facts(f"components: {{it: {{kind: {kind}}}}}").subject("it").material_burn_rate
        assert raised.value.fields == fields
        assert reason is None or raised.value.reason == reason


@pytest.mark.parametrize(
    ("classes", "over", "wanting"),
    [
        ("[A, B]", "{}", ()),
        ("[B]", "{}", ("A",)),
        ("[A]", "{}", ()),
        ("[A]", "components: {heater: {kind: air-heater, burns: diesel}}", ("B",)),
        ("[A]", "components: {bottle: {kind: gas-cylinder}}", ("B",)),
        ("[C]", "components: {bottle: {kind: gas-cylinder}}", ("A", "B")),
    ],
)
def test_classes_of_fire(classes: str, over: str, wanting: tuple[str, ...]) -> None:
    """A for what chars in any van, B where a fuel burns or gas is carried."""
    facts = van_facts(f"components: {{it: {{kind: extinguisher, classes: {classes}}}}}", over)
    assert facts.subject("it").classes_wanting == wanting


def test_an_extinguisher_of_unknown_classes() -> None:
    """Is not taken for one that lacks them: they are asked for."""
    with pytest.raises(Missing) as raised:
        _ = van_facts("components: {it: {kind: extinguisher}}").subject("it").classes_wanting
    assert raised.value.fields == ("it.classes",)


@pytest.mark.parametrize(
    ("alarm", "below"),
    [
        ("mounted: ceiling", 0.0),
        ("mounted: ceiling, below_ceiling: 300 mm", 0.0),
        ("mounted: wall, below_ceiling: 300 mm", 0.3),
        ("below_ceiling: 300 mm, at: [1 m, 0 m, 1 m]", 0.3),
        ("at: [1 m, 0 m, 1.7 m]", 0.2),
        ("at: [1 m, 0 m, 1.7 m], size: [0.1 m, 0.1 m, 0.05 m]", 0.15),
        ("at: [1 m, 0 m, 1.88 m], size: [0.1 m, 0.1 m, 0.05 m]", 0.0),
    ],
)
def test_how_far_an_alarm_is_below_the_ceiling(alarm: str, below: float) -> None:
    """Nothing on it; as stated; else a room of 1.9 m less its upper edge."""
    facts = van_facts(f"components: {{it: {{kind: smoke-alarm, {alarm}}}}}")
    assert facts.subject("it").below_the_ceiling == pytest.approx(below)


def test_what_an_extinguisher_of_unknown_size_holds_is_asked_for() -> None:
    """Neither mass nor volume: the mass."""
    with pytest.raises(Missing) as raised:
        _ = van_facts("components: {it: {kind: extinguisher}}").subject("it").agent_mass
    assert raised.value.fields == ("it.content",)


@pytest.mark.parametrize(
    ("component", "rated"),
    [
        ("{kind: seat, origin: base vehicle}", False),
        ("{kind: seat, origin: retrofitted}", True),
        ("{kind: seat}", True),
        ("{kind: bench, origin: retrofitted}", True),
        ("{kind: mattress}", True),
        ("{kind: curtain}", True),
        ("{kind: floor}", True),
        ("{kind: lining}", True),
        ("{kind: pop-top}", True),
        ("{kind: cabinet}", False),
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
