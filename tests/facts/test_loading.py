"""What is in the van in each loading case: every vessel by hand, the base vehicle's fuel, water in pipes."""

from collections.abc import Mapping
from math import pi

import pytest
from van import van_facts

from specreg.facts.axes import LOADING_CASES
from specreg.facts.loading import (
    EU,
    US,
    Convention,
    Load,
    content_when_full,
    contents,
    convention,
    filling,
    vehicle_fuel,
)
from specreg.facts.missing import Missing

AT = "at: [3 m, 0.4 m, 0.2 m], size: [1 m, 0.2 m, 0.4 m]"
LPG = 4.2 * 0.45359237 / 0.003785411784
"""Propane of 4.2 lb in a US gallon, in kg/m³."""
BELOW = "water below the outlet"
NOTHING: Mapping[str, float] = {
    "fresh": 0.0,
    "dead": 0.0,
    "hot": 0.0,
    "gas": 0.0,
    "waste": 0.0,
    "fuel": 0.0,
    "belongings": 0.0,
}


@pytest.mark.parametrize(
    ("vessel", "part", "words", "mass"),
    [
        ("kind: fresh-tank, volume: 70 L", "fresh", "fresh water", 70),
        ("kind: fresh-tank, volume: 20 L, count: 3", "fresh", "fresh water", 60),
        ("kind: toilet, own_tank: 12 L", "fresh", "flushing water", 12),
        ("kind: water-heater, volume: 10 L", "hot", "water", 10),
        ("kind: combined-heater, burns: diesel, water_volume: 10 L", "hot", "water", 10),
        ("kind: grey-tank, volume: 70 L", "waste", "grey water", 70),
        ("kind: black-tank, volume: 40 L", "waste", "waste", 40),
        ("kind: urine-tank, volume: 8 L, count: 2", "waste", "urine", 16),
        ("kind: cassette, volume: 18 L, count: 2", "waste", "waste", 36),
        ("kind: toilet, urine_volume: 6 L", "waste", "urine", 6),
        ("kind: toilet, solids_volume: 8 L", "waste", "solids", 8),
        ("kind: gas-cylinder, content: 6 kg", "gas", "gas", 6),
        ("kind: gas-cylinder, content: 6 kg, count: 2", "gas", "gas", 12),
        ("kind: gas-tank, volume: 60 L", "gas", "gas", 0.8 * 0.06 * LPG),
        ("kind: gas-tank, volume: 60 L, fill_limit: 85 %", "gas", "gas", 0.85 * 0.06 * LPG),
        ("kind: gas-tank, volume: 30 L, count: 2", "gas", "gas", 0.8 * 0.06 * LPG),
        ("kind: fuel-can, volume: 10 L, content: diesel", "belongings", "fuel", 8.32),
        ("kind: fuel-can, volume: 10 L, content: petrol, count: 2", "belongings", "fuel", 14.9),
        ("kind: fuel-can, volume: 10 L", "belongings", "fuel", 8.32),
        ("kind: fuel-tank, volume: 10 L, base_vehicle: false, contents: petrol", "fuel", "fuel", 7.45),
        ("kind: fuel-tank, volume: 10 L, base_vehicle: false", "fuel", "fuel", 8.32),
    ],
)
def test_content_of_a_vessel(vessel: str, part: str, words: str, mass: float) -> None:
    """Full, half full and empty; it follows its own part of a filling and no other; its place is the vessel's middle."""
    van = van_facts(f"components: {{it: {{{vessel}, {AT}}}}}")
    for share in (1.0, 0.5):
        (held,) = contents(van, {**NOTHING, part: share})
        assert (held.name, held.subject, held.known) == (f"{words} in it", "it", "computed from its volume")
        assert held.mass == pytest.approx(mass * share)
        assert (held.mass_doubt, held.x, held.y, held.z) == pytest.approx((0.0, 3.5, 0.5, 0.4))
    assert list(contents(van, {**dict.fromkeys(NOTHING, 1.0), part: 0.0})) == []
    assert list(contents(van, {})) == []
    assert content_when_full(van.subject("it")) == pytest.approx(mass)


@pytest.mark.parametrize(
    ("tank", "fresh", "dead", "held"),
    [
        ("volume: 70 L, dead_volume: 2 L", 1.0, 1.0, {"fresh water": 68, BELOW: 2}),
        ("volume: 70 L, dead_volume: 2 L", 0.5, 0.5, {"fresh water": 34, BELOW: 1}),
        ("volume: 70 L, dead_volume: 2 L", 0.0, 1.0, {BELOW: 2}),
        ("volume: 35 L, dead_volume: 1 L, count: 2", 1.0, 1.0, {"fresh water": 68, BELOW: 2}),
        ("volume: 70 L", 1.0, 1.0, {"fresh water": 70}),
        ("volume: 2 L, dead_volume: 5 L", 1.0, 1.0, {BELOW: 2}),
    ],
)
def test_what_no_pump_draws_is_a_part_of_the_tank(
    tank: str, fresh: float, dead: float, held: dict[str, float]
) -> None:
    """A tank that holds 70 L weighs 70 kg of water, 2 L of them below its outlet; never more than it holds."""
    van = van_facts(f"components: {{it: {{kind: fresh-tank, {tank}, {AT}}}}}")
    loads = contents(van, {**NOTHING, "fresh": fresh, "dead": dead})
    found = {entry.name.removesuffix(" in it"): entry.mass for entry in loads}
    assert found == {words: pytest.approx(mass) for words, mass in held.items()}
    if fresh == 1:
        assert content_when_full(van.subject("it")) == pytest.approx(sum(held.values()))


@pytest.mark.parametrize("counted", [EU, US])
def test_what_no_pump_draws_stays_on_the_way_home(counted: Convention) -> None:
    """It is there where tanks are full, and where their water became waste; an empty vehicle of the US has none."""
    left = {case: filling(case, counted).shares["dead"] for case in LOADING_CASES}
    assert left == {
        "as converted": counted.water_and_gas,
        "full tanks": 1.0,
        "all seats": counted.water_and_gas,
        "everything": 1.0,
        "grey full, fresh empty": 1.0,
    }


@pytest.mark.parametrize(
    "vessel",
    [
        "kind: toilet",
        "kind: water-heater",
        "kind: fuel-tank, volume: 80 L, base_vehicle: true",
        "kind: cabinet",
    ],
)
def test_what_holds_nothing_of_its_own(vessel: str) -> None:
    """Neither a toilet without tanks, nor a heater without a boiler, nor the vehicle's tank, whose fuel is counted apart."""
    van = van_facts(f"components: {{it: {{{vessel}, {AT}}}}}")
    assert list(contents(van, dict.fromkeys(NOTHING, 1.0))) == []
    assert content_when_full(van.subject("it")) == 0


def test_every_volume_that_is_wanting_is_named() -> None:
    """Of all that is to be filled, and of nothing else."""
    van = van_facts(
        "components: {fresh: {kind: fresh-tank}, grey: {kind: grey-tank}, gas: {kind: gas-cylinder}, own: {kind: fuel-tank, "
        "base_vehicle: false}, toilet: {kind: toilet}, boiler: {kind: water-heater}}"
    )
    with pytest.raises(Missing) as raised:
        list(contents(van, dict.fromkeys(NOTHING, 1.0)))
    assert raised.value.fields == ("fresh.volume", "grey.volume", "gas.content", "own.volume")
    two = van_facts("components: {a: {kind: fresh-tank}, b: {kind: fresh-tank}}")
    with pytest.raises(Missing) as raised:
        list(contents(two, {"fresh": 1.0}))
    assert raised.value.fields == ("a.volume", "b.volume")
    with pytest.raises(Missing) as raised:
        list(contents(van, {"gas": 1.0}))
    assert raised.value.fields == ("gas.content",)
    with pytest.raises(Missing) as raised:
        content_when_full(van.subject("grey"))
    assert raised.value.fields == ("grey.volume",)


def fuel(share: float, *over: str) -> list[Load]:
    """The base vehicle's fuel in the small van."""
    return list(vehicle_fuel(van_facts(*over), share))


COMPONENT = (
    "components: {tank: {kind: fuel-tank, base_vehicle: true, volume: 60 L, at: [1 m, 0.5 m, -0.2 m]}}"
)


@pytest.mark.parametrize(
    ("over", "share", "mass", "x"),
    [
        ("{}", 1.0, 83.2, 2.0),
        ("{}", 0.5, 41.6, 2.0),
        ("{}", -0.5, -41.6, 2.0),
        ("vehicle: {fuel_tank: {fuel: petrol}}", 1.0, 74.5, 2.0),
        ("vehicle: {fuel_tank: {size: [1 m, 0.6 m, 0.2 m]}}", 1.0, 83.2, 2.5),
        (COMPONENT, 1.0, 49.92, 1.0),
        (COMPONENT.replace("60 L", "60 L, contents: petrol"), 1.0, 44.7, 1.0),
        (COMPONENT.replace("60 L", "60 L, contents: petrol"), 0.5, 22.35, 1.0),
        (COMPONENT.replace("true", "false"), 1.0, 83.2, 2.0),
    ],
)
def test_fuel_of_the_base_vehicle(over: str, share: float, mass: float, x: float) -> None:
    """Diesel 832 kg/m³, petrol 745 kg/m³: 100 L of the header, or the base vehicle's tank among the components."""
    (found,) = fuel(share, over)
    assert found.name == "fuel"
    assert (found.mass, found.x) == pytest.approx((mass, x))
    assert (found.mass_doubt, found.x_doubt, found.known) == (0.0, 0.0, "computed from its volume")
    assert found.subject == ("tank" if "base_vehicle: true" in over else "")
    if "size" in over:
        assert (found.y, found.z) == pytest.approx((0.3, 0.1))


def test_the_base_vehicle_has_one_tank() -> None:
    """A second one among the components is not counted for it again."""
    second = COMPONENT.replace("tank:", "second:").replace("60 L", "40 L")
    assert [entry.subject for entry in fuel(1.0, COMPONENT, second)] == ["tank"]


def test_a_fuel_tank_without_a_place_is_between_the_axles() -> None:
    """2 ± 2 m of 4 m, which is said."""
    van = van_facts("vehicle: {fuel_tank: {at: ~}}")
    with van.recording() as frame:
        (found,) = vehicle_fuel(van, 1.0)
    assert (found.x, found.x_doubt, found.y, found.z, found.place) == (
        2.0,
        2.0,
        0.0,
        0.0,
        "anywhere between the axles",
    )
    assert any(sentence.startswith("fuel tank: place not stated") for sentence in frame.assumptions)


def test_no_fuel_needs_no_tank() -> None:
    """Of an empty tank, and of an electric vehicle, nothing is asked; else the volume is."""
    for tank in ("~", "{volume: ~}"):
        over = f"vehicle: {{fuel_tank: {tank}}}"
        assert fuel(0.0, over) == []
        with pytest.raises(Missing) as raised:
            fuel(1.0, over)
        assert raised.value.fields == ("vehicle.fuel_tank.volume",)
    assert fuel(1.0, "vehicle: {fuel_tank: {fuel: electric}}") == []


PIPE = """
components:
  tank: {kind: fresh-tank, volume: 70 L, at: [4 m, 0.2 m, 0.1 m]}
  pump: {kind: pump, at: [2 m, 0 m, 0.3 m]}
runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet, bore: 20 mm, length: 10 m}}
"""


@pytest.mark.parametrize(
    ("share", "over", "mass"),
    [
        (1.0, "{}", pi / 4 * 0.02**2 * 10 * 1000),
        (0.0, "{}", None),
        (1.0, "runs: {hose: {bore: ~}}", None),
    ],
)
def test_water_in_a_pipe(share: float, over: str, mass: float | None) -> None:
    """π/4 × (20 mm)² × 10 m is 3.14 kg, between its ends; none where tanks are empty or the bore is not known."""
    found = [e for e in contents(van_facts(PIPE, over), {"fresh": share}) if e.subject == "hose"]
    assert [e.mass for e in found] == ([] if mass is None else [pytest.approx(mass)])
    for entry in found:
        assert (entry.name, entry.mass_doubt, entry.known) == (
            "water in hose",
            0.0,
            "computed from its volume",
        )
        assert (entry.x, entry.x_doubt, entry.y, entry.z, entry.place) == pytest.approx(
            (3.0, 1.0, 0.1, 0.2, "between its ends")
        )


def test_the_convention_is_said() -> None:
    """How a jurisdiction counts is an assumption of each mass."""
    for held, words in (("[us]", "unladen as in the US"), ("[eu]", "running order as in the EU")):
        van = van_facts(f"jurisdictions: {held}")
        with van.recording() as frame:
            chosen = convention(van)
        assert any(sentence.startswith(words) for sentence in frame.assumptions)
        assert chosen.words.startswith(words)


def test_figures_of_the_conventions() -> None:
    """(EU) 1230/2012: driver 75 kg, fuel 90 %, water and gas full; 49 CFR 567.4: full fuel, 150 lb a person."""
    assert (EU.person, EU.driver, EU.fuel, EU.water_and_gas) == (75.0, True, 0.9, 1.0)
    assert US.person == pytest.approx(68.04, abs=0.01)
    assert (US.driver, US.fuel, US.water_and_gas) == (False, 1.0, 0.0)


@pytest.mark.parametrize(
    ("case", "american", "expected"),
    [
        # fuel, fresh, hot, gas, waste, people, belongings
        ("as converted", False, (0.9, 1, 1, 1, 0, "driver", False)),
        ("as converted", True, (1, 0, 0, 0, 0, "", False)),
        ("full tanks", False, (1, 1, 1, 1, 0, "driver", False)),
        ("full tanks", True, (1, 1, 1, 1, 0, "driver", False)),
        ("all seats", False, (1, 1, 1, 1, 0, "all", False)),
        ("all seats", True, (1, 0, 0, 0, 0, "all", False)),
        ("everything", True, (1, 1, 1, 1, 0, "all", True)),
        ("grey full, fresh empty", True, (1, 0, 1, 1, 1, "all", True)),
    ],
)
def test_what_a_case_puts_in(case: str, american: bool, expected: tuple[object, ...]) -> None:
    """As the README tells the cases; what is brought fills cans as it fills cabinets."""
    found = filling(case, US if american else EU)
    assert (
        found.fuel, found.fresh, found.hot, found.gas, found.waste, found.people, found.belongings,
    ) == expected  # fmt: skip
    assert found.shares == {
        "fuel": found.fuel, "fresh": found.fresh, "hot": found.hot, "gas": found.gas, "waste": found.waste,
        "dead": 1.0 if found.waste else found.fresh, "belongings": 1.0 if found.belongings else 0.0,
    }  # fmt: skip


def test_a_tank_of_ones_own_counts_in_every_case() -> None:
    """10 L of diesel for the heater beside the vehicle's tank: 8.32 kg more, 90 % of them in the EU's running order."""
    own = "components: {own: {kind: fuel-tank, base_vehicle: false, volume: 10 L, mass: 0 kg, at: [3 m, 0 m, 0 m]}}"
    for case, share in (("as converted", 0.9), ("full tanks", 1.0), ("grey full, fresh empty", 1.0)):
        more = van_facts(own).whole.in_case(case).laden_mass - van_facts().whole.in_case(case).laden_mass
        assert more == pytest.approx(8.32 * share)
    american = "jurisdictions: [us]"
    less = van_facts(american).whole.occupant_and_cargo_capacity
    assert less - van_facts(american, own).whole.occupant_and_cargo_capacity == pytest.approx(8.32)
