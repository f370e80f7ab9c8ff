"""What people and dogs asleep give off: by the published tables and a sum on paper."""

import pytest
from van import van_facts

from specreg.facts.missing import Missing
from specreg.facts.sleepers import carbon_dioxide_of_all, persons, warmth_of_all, water_of_all

NOBODY = "use: {people: {adults: 0}}"


@pytest.mark.parametrize(
    ("over", "expected", "assumed"),
    [
        ("{}", (2, 0), False),
        ("use: {people: {adults: 2, children: 3}}", (2, 3), False),
        ("use: {people: {adults: 0, children: 2}}", (0, 2), False),
        ("components: {bed: {kind: bed, places: 3}}", (2, 0), False),
        (f"{{{NOBODY}, components: {{bed: {{kind: bed, places: 3}}}}}}", (3, 0), True),
        (f"{{{NOBODY}, components: {{bed: {{kind: bed, places: 1, count: 2}}, b: {{kind: bed, places: 2}}}}}}",
         (4, 0), True),
    ],
)  # fmt: skip
def test_who_sleeps(over: str, expected: tuple[int, int], assumed: bool) -> None:
    """Whom the use names, else an adult on each place of the beds, which is said."""
    van = van_facts(over)
    with van.recording() as frame:
        assert persons(van) == expected
    assert any(sentence.startswith("one adult asleep") for sentence in frame.assumptions) is assumed


def test_without_people_and_beds_they_are_asked_for() -> None:
    """Nobody asleep is not taken for an answer."""
    with pytest.raises(Missing) as raised:
        persons(van_facts(NOBODY))
    assert raised.value.fields == ("use.people",)


# m³/s at 18 °C of one person asleep: 0.000569 L/s × 0.85 × basal rate in MJ/d × 0.95, × 291.15/273.15; the basal rates
# are those of Persily & de Jonge, table 4: women of 30 to 40, girls of 3 to 6, men of 21 to 30, boys of 11 to 16
EACH = 0.000569 * 0.85 * 0.95 / 1000 * 291.15 / 273.15
WOMAN, GIRL, MAN, BOY = 6.08 * EACH, 3.59 * EACH, 8.24 * EACH, 7.02 * EACH
DOG = 0.293 * 25**0.75 * EACH
"""Kleiber: 70 kcal, 0.293 MJ, a day of an animal of 1 kg; of 25 kg 11.2 times as much."""


@pytest.mark.parametrize(
    ("people", "least", "greatest"),
    [
        ("{adults: 1}", WOMAN, MAN),
        ("{adults: 2}", 2 * WOMAN, 2 * MAN),
        ("{adults: 0, children: 1}", GIRL, BOY),
        ("{adults: 2, children: 3}", 2 * WOMAN + 3 * GIRL, 2 * MAN + 3 * BOY),
        ("{adults: 2, children: 1, dogs: 2}", 2 * WOMAN + GIRL + 2 * DOG, 2 * MAN + BOY + 2 * DOG),
    ],
)
def test_carbon_dioxide_lies_between_women_and_men(people: str, least: float, greatest: float) -> None:
    """Small children to large ones; dogs by their mass, both ways the same, which is said."""
    van = van_facts(f"use: {{people: {people}, dog_mass: 25 kg}}")
    with van.recording() as frame:
        made = carbon_dioxide_of_all(van)
    assert (made.least, made.greatest) == pytest.approx((least, greatest))
    assert any(sentence.startswith("adults taken between") for sentence in frame.assumptions)
    assert any("Kleiber" in sentence for sentence in frame.assumptions) is ("dogs" in people)


def test_a_dog_of_unknown_mass_is_asked_for() -> None:
    """Where a dog sleeps; without one nobody asks."""
    with pytest.raises(Missing) as raised:
        carbon_dioxide_of_all(van_facts("use: {people: {dogs: 1}}"))
    assert raised.value.fields == ("use.dog_mass",)
    assert carbon_dioxide_of_all(van_facts()).least == pytest.approx(2 * WOMAN)


def test_water_of_people_and_of_what_dries() -> None:
    """50 g an hour of each of two adults and a child, and 288 g that dry in 8 h: 10 mg a second more."""
    people = "{people: {adults: 2, children: 1}, night: 8 h%s}"
    assert water_of_all(van_facts(f"use: {people % ''}")) == pytest.approx(3 * 0.05 / 3600)
    wet = water_of_all(van_facts(f"use: {people % ', drying: 288 g'}"))
    assert wet == pytest.approx(3 * 0.05 / 3600 + 1e-5)


def test_warmth_is_counted_of_adults_alone() -> None:
    """A woman's 6.08 MJ a day × 0.95, spread over 86,400 s, is 66.85 W."""
    assert warmth_of_all(van_facts("use: {people: {adults: 2, children: 2}}")) == pytest.approx(
        2 * 66.85, abs=0.01
    )
