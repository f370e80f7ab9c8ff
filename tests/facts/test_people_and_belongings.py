"""Who travels, at which seat, and what they bring: each as a mass at a place."""

import pytest
from van import van_facts

from specreg.facts.engine import Facts
from specreg.facts.loading import Load
from specreg.facts.missing import Missing
from specreg.facts.people import allowance, belongings, driver, passengers


def found(van: Facts, case: str, start: str = "") -> list[Load]:
    """The loads of a case whose name begins so."""
    return [entry for entry in van.whole.in_case(case).loads if entry.name.startswith(start)]


@pytest.mark.parametrize("first", ["driver-seat", "right-seat"])
def test_the_driver_sits_on_the_seat_of_the_driver(first: str) -> None:
    """75 kg there, whichever seat is listed first; nothing is doubted of a mass that a convention sets."""
    other = {"driver-seat": "right-seat", "right-seat": "driver-seat"}[first]
    over = (
        f"components: {{driver-seat: {{driver: {str(first == 'driver-seat').lower()}}}, right-seat: {{kind: seat, "
        f"driver: {str(first == 'right-seat').lower()}, used_under_way: false, at: [1 m, 0.6 m, 0.5 m]}}}}"
    )
    van = van_facts(over, f"components: {{{other}: {{used_under_way: false}}}}")
    sits = driver(van, 75.0)
    assert (sits.name, sits.subject, sits.mass, sits.mass_doubt, sits.known) == (
        "driver", first, 75.0, 0.0, "by convention",
    )  # fmt: skip
    assert (sits.x, sits.y, sits.z) == (1.0, -0.6 if first == "driver-seat" else 0.6, 0.5)


def test_a_driver_without_a_seat_is_in_the_cab() -> None:
    """Between the front axle and the room that starts 1 m behind it: 0.5 ± 0.5 m, and the seat is asked for in words."""
    van = van_facts("components: {driver-seat: ~}")
    with van.recording() as frame:
        sits = driver(van, 75.0)
    assert (sits.name, sits.subject, sits.mass, sits.mass_doubt, sits.known) == (
        "driver", "", 75.0, 0.0, "by convention",
    )  # fmt: skip
    assert (sits.x, sits.x_doubt, sits.y) == (0.5, 0.5, 0.0)
    assert any(sentence.startswith("driver: seat not stated") for sentence in frame.assumptions)
    with pytest.raises(Missing) as raised:
        driver(van_facts("components: {driver-seat: ~}", "vehicle: {interior: {starts: ~}}"), 75.0)
    assert raised.value.fields == ("vehicle.interior.starts",)


BENCH = """
components:
  bench: {kind: bench, places: 2, used_under_way: true, origin: retrofitted, belts: [lap, lap], mass: 40 kg,
    at: [2 m, -0.9 m, 0 m], size: [1 m, 0.8 m, 1 m]}
"""


@pytest.mark.parametrize(
    ("over", "expected"),
    [
        ("{}", [("person 1 on bench", 2.5, -0.5), ("person 2 on bench", 2.5, -0.5)]),
        ("components: {bench: {seated_at: [[2.4 m, -0.7 m, 0.7 m], [2.4 m, -0.2 m, 0.7 m]]}}",
         [("person 1 on bench", 2.4, -0.7), ("person 2 on bench", 2.4, -0.2)]),
        ("components: {bench: {used_under_way: false}}", []),
        ("components: {bench: {belts: [none, none]}}",
         [("person 1 on bench", 2.5, -0.5), ("person 2 on bench", 2.5, -0.5)]),
        ("components: {bench: {places: 1, belts: [lap], count: 2}}",
         [("person 1 on bench", 2.5, -0.5), ("person 2 on bench", 2.5, -0.5)]),
    ],
)  # fmt: skip
def test_a_passenger_on_every_further_place(over: str, expected: list[tuple[str, float, float]]) -> None:
    """At the middle of the bench or where each is said to sit; of two benches that stand as one on both."""
    sits = list(passengers(van_facts(BENCH, over), 75.0))
    assert [entry.name for entry in sits] == [name for name, _, _ in expected]
    assert [(entry.x, entry.y) for entry in sits] == [pytest.approx(place) for _, *place in expected]
    for entry in sits:
        assert (entry.subject, entry.mass, entry.mass_doubt, entry.known) == (
            "bench", 75.0, 0.0, "by convention",
        )  # fmt: skip
        assert entry.place == ("its seat" if "seated_at" in over else "its box")


def test_beside_the_driver_there_may_be_room_on_the_same_seat() -> None:
    """A double seat with the driver on its left place carries one passenger, on its right one; nobody has to offer it."""
    double = (
        "components: {driver-seat: {used_under_way: ~, places: 2, belts: [three-point, lap], "
        "seated_at: [[1 m, -0.6 m, 0.7 m], [1 m, 0.1 m, 0.7 m]]}}"
    )
    van = van_facts(double)
    assert driver(van, 75.0).y == -0.6
    assert [(entry.name, entry.y) for entry in passengers(van, 75.0)] == [("person 1 on driver seat", 0.1)]


@pytest.mark.parametrize(
    ("thing", "mass"),
    [
        ("{kind: luggage, mass: 20 kg}", 20),
        ("{kind: luggage, mass: 20 kg, count: 3}", 60),
        ("{kind: cabinet, mass: 9 kg, contents: 15 kg}", 15),
        ("{kind: cabinet, mass: 9 kg, contents: 15 kg, count: 2}", 30),
        ("{kind: bench, used_under_way: false, origin: retrofitted, mass: 9 kg, contents: 5 kg}", 5),
        ("{kind: roof-rack, mass: 9 kg, carried: 40 kg}", 40),
        ("{kind: roof-rack, mass: 9 kg, carried: 40 kg, count: 2}", 80),
        ("{kind: cabinet, mass: 9 kg}", 0),
        ("{kind: roof-rack, mass: 9 kg}", 0),
        ("{kind: pump, mass: 2 kg}", 0),
    ],
)
def test_what_is_kept_in_and_on_things(thing: str, mass: float) -> None:
    """Luggage itself, contents of furniture, the load of carriers; of several that stand as one each has its own."""
    van = van_facts(f"components: {{it: {{at: [3 m, 0.4 m, 0.2 m], {thing[1:]}}}")
    kept = list(belongings(van))
    assert [entry.mass for entry in kept] == ([pytest.approx(mass)] if mass else [])
    for entry in kept:
        assert (entry.name, entry.subject, entry.mass_doubt, entry.known) == (
            "in or on it", "it", 0.0, "allowance",
        )  # fmt: skip
    assert all((entry.x, entry.y, entry.z) == (3.0, 0.4, 0.2) for entry in kept)


@pytest.mark.parametrize(
    ("over", "rest"),
    [
        ("use: {personal_effects: 50 kg}", 20),
        ("use: {personal_effects: 31 kg}", 1),
        ("use: {personal_effects: 30 kg}", 0),
        ("use: {personal_effects: 10 kg}", 0),
    ],
)
def test_what_is_left_of_the_allowance_is_anywhere_inside(over: str, rest: float) -> None:
    """20 kg of luggage and 10 kg in a cabinet; the room reaches from 1 to 5 m, so the rest is at 3 ± 2 m."""
    kept = list(
        belongings(
            van_facts(
                "components: {bag: {kind: luggage, mass: 20 kg, at: [4 m, 0 m, 0 m]}, "
                "box: {kind: cabinet, mass: 9 kg, contents: 10 kg, at: [4 m, 0 m, 0 m]}}",
                over,
            )
        )
    )
    assert [entry.mass for entry in kept if entry.subject] == [20.0, 10.0]
    left = [entry for entry in kept if not entry.subject]
    assert [entry.mass for entry in left] == ([pytest.approx(rest)] if rest else [])
    for entry in left:
        assert (entry.name, entry.known) == ("personal effects without a place", "allowance")
        assert (entry.mass_doubt, entry.x, entry.x_doubt) == (0.0, 3.0, 2.0)


def test_dogs_travel_along() -> None:
    """Two of 25 kg, anywhere inside and beside the personal effects; without a mass of one it is asked for."""
    van = van_facts("use: {people: {dogs: 2}, dog_mass: 25 kg}")
    (dogs,) = belongings(van)
    assert (dogs.name, dogs.subject, dogs.mass, dogs.mass_doubt, dogs.known) == ("dogs", "", 50.0, 0.0, "allowance")  # fmt: skip
    assert (dogs.x, dogs.x_doubt) == (3.0, 2.0)
    with pytest.raises(Missing) as raised:
        list(belongings(van_facts("use: {people: {dogs: 1}}")))
    assert raised.value.fields == ("use.dog_mass",)


@pytest.mark.parametrize(
    "over", ["use: {people: {dogs: 1}, dog_mass: 25 kg}", "use: {personal_effects: 9 kg}"]
)
def test_what_is_anywhere_in_an_unknown_room_asks_for_the_room(over: str) -> None:
    """Dogs and effects without a place need the room that they are in."""
    with pytest.raises(Missing) as raised:
        list(belongings(van_facts(over, "vehicle: {interior: {starts: ~}}")))
    assert raised.value.fields == ("vehicle.interior.starts",)


@pytest.mark.parametrize(
    ("use", "expected"),
    [
        ("{personal_effects: 33 kg}", 33),
        ("{personal_effects: 0 kg}", 0),
        ("{personal_effects: ~}", 10 * 2 + 10 * 6),
        ("{personal_effects: ~, people: {adults: 2, children: 1}}", 10 * 3 + 10 * 6),
    ],
)
def test_personal_effects_that_are_counted_on(use: str, expected: float) -> None:
    """As stated, else 10 kg for each person and each of 6 m (EN 1646-2), which is said."""
    van = van_facts(f"use: {use}")
    with van.recording() as frame:
        assert allowance(van) == pytest.approx(expected)
    assert any("personal effects not stated" in said for said in frame.assumptions) is ("~" in use)


@pytest.mark.parametrize(
    ("case", "people", "belonging"),
    [
        ("as converted", ["driver"], False),
        ("full tanks", ["driver"], False),
        ("all seats", ["driver", "person 1 on bench", "person 2 on bench"], False),
        ("everything", ["driver", "person 1 on bench", "person 2 on bench"], True),
        ("grey full, fresh empty", ["driver", "person 1 on bench", "person 2 on bench"], True),
    ],
)
def test_who_travels_in_which_case(case: str, people: list[str], belonging: bool) -> None:
    """The driver in each, passengers from all seats on, what they bring in the last two."""
    van = van_facts(BENCH, "use: {personal_effects: 40 kg}")
    assert [e.name for e in (*found(van, case, "driver"), *found(van, case, "person "))] == people
    assert bool(found(van, case, "personal effects")) is belonging
