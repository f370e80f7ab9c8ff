"""Axle loads against a body builder's worked examples and against the textbook's second formula."""

import csv
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from van import van_facts

from specreg.facts.axle_loads import doubt, on_rear, rear_share, total
from specreg.facts.loading import Load
from specreg.tables.vehicle import LATERAL_DIFFERENCE

PUBLISHED = Path(__file__).parents[1] / "published" / "vehicle-mass.csv"


def at(mass: float, x: float, x_doubt: float = 0.0, mass_doubt: float = 0.0) -> Load:
    """A load on the centre line."""
    return Load("load", "load", mass, mass_doubt, x, x_doubt, 0.0, 0.0)


def worked_examples(*kinds: str) -> list[Any]:
    """The rows of the published file whose id begins so."""
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return [
            pytest.param(
                json.loads(row["inputs"]), float(row["expected"]), float(row["tolerance"]), id=row["id"]
            )
            for row in csv.DictReader(file)
            if row["id"].startswith(kinds)
        ]


@pytest.mark.parametrize(("inputs", "expected", "tolerance"), worked_examples("C4-10", "C4-11", "C4-12"))
def test_worked_example(inputs: dict[str, Any], expected: float, tolerance: float) -> None:
    """A load, or an even body from its start and length, gives the printed axle load in any units."""
    x = inputs["x"] if "x" in inputs else inputs["start"] + inputs["length"] / 2
    entries = (at(inputs["mass"], x),)
    rear = on_rear(entries, inputs["wheelbase"])
    found = rear if inputs["axle"] == "rear" else total(entries) - rear
    assert found == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(("inputs", "expected", "tolerance"), worked_examples("C4-15"))
def test_fluids_of_the_running_order(inputs: dict[str, float], expected: float, tolerance: float) -> None:
    """Water, boiler and gas with its bottle as a handbook adds them up."""
    facts = van_facts(
        f"components: {{tank: {{kind: fresh-tank, volume: {inputs['fresh']} L, mass: 0 kg}}, "
        f"boiler: {{kind: water-heater, volume: {inputs['hot']} L, mass: 0 kg}}, "
        f"bottle: {{kind: gas-cylinder, content: {inputs['gas']} kg, tare: {inputs['bottle']} kg}}}}"
    )
    added = (
        facts.whole.in_case("as converted").laden_mass - van_facts().whole.in_case("as converted").laden_mass
    )
    assert added == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(("inputs", "expected", "_tolerance"), worked_examples("C4-18"))
def test_sides(inputs: dict[str, float], expected: float, _tolerance: float) -> None:
    """A ticket of the van as it is converted: driver, 90 % fuel."""
    left, right = inputs["left"], inputs["right"]
    ticket = f"left: {left} kg, right: {right} kg, front_axle: 1500 kg, rear_axle: {left + right - 1500} kg"
    facts = van_facts(f"vehicle: {{as_received: {{{ticket}, driver: true, fuel: 90 %}}}}")
    within = facts.whole.in_case("as converted").side_difference <= LATERAL_DIFFERENCE.value
    assert within is bool(expected)


LOADS = st.lists(st.builds(at, st.floats(0, 500), st.floats(-1.5, 6)), min_size=1, max_size=12).map(tuple)
WHEELBASE = st.floats(2.5, 5)


@given(LOADS, WHEELBASE)
def test_both_axles_by_their_own_moments(entries: tuple[Load, ...], wheelbase: float) -> None:
    """Moments about the rear axle, the other way round, give what total less rear gives."""
    about_rear_axle = sum(entry.mass * (wheelbase - entry.x) / wheelbase for entry in entries)
    front = total(entries) - on_rear(entries, wheelbase)
    assert front == pytest.approx(about_rear_axle, abs=1e-6)


@given(LOADS, st.floats(0.1, 500), st.floats(-1.5, 5), st.floats(0.01, 1), WHEELBASE)
def test_moving_a_mass_back_never_lightens_the_rear_axle(
    entries: tuple[Load, ...], mass: float, x: float, back: float, wheelbase: float
) -> None:
    """Whatever else is aboard."""
    before = on_rear((*entries, at(mass, x)), wheelbase)
    after = on_rear((*entries, at(mass, x + back)), wheelbase)
    assert after > before


DOUBTED = st.builds(at, st.floats(0, 500), st.floats(0, 6), st.floats(0, 1), st.floats(0, 50))


@given(st.lists(DOUBTED, min_size=1, max_size=6), WHEELBASE, st.data())
def test_no_true_value_lies_outside_the_doubt(entries: list[Load], wheelbase: float, data: Any) -> None:
    """Any masses within their doubts, or any places within theirs, leave the rear axle within the bracket."""
    said = tuple(entries)
    bracket = doubt(said, lambda entry: rear_share(entry, wheelbase), 1 / wheelbase)
    signs = st.lists(st.floats(-1, 1), min_size=len(said), max_size=len(said))
    masses, places = data.draw(signs), data.draw(signs)
    by_mass = tuple(at(e.mass + s * e.mass_doubt, e.x) for e, s in zip(said, masses, strict=True))
    by_place = tuple(at(e.mass, e.x + s * e.x_doubt) for e, s in zip(said, places, strict=True))
    for true in (by_mass, by_place):
        assert abs(on_rear(true, wheelbase) - on_rear(said, wheelbase)) <= bracket + 1e-6
