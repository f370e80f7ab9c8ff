"""What coolant weighs, and where it counts: in the van as built, and with no drinking water."""

from math import pi

import pytest
from van import van_facts

from specreg.facts.axle_loads import fitted
from specreg.facts.loading import contents

DENSITY = 67.05 * 0.45359237 / 0.3048**3
"""67.05 lb/ft³ in kg/m³."""

CIRCUIT = """
components:
  heater: {kind: hydronic-heater, burns: diesel, coolant_volume: 0.4 L, mass: 3 kg, at: [3 m, 0 m, 0 m]}
  radiator: {kind: radiator, coolant_volume: 0.5 L, count: 2, mass: 4 kg, at: [4 m, 0.4 m, 0 m]}
  header: {kind: coolant-tank, volume: 1 L, antifreeze: 50 %, mass: 0.5 kg, at: [2 m, 0 m, 1 m]}
  tee: {kind: water-manifold, mass: 0.1 kg, at: [3 m, 0.2 m, 0 m]}
  tank: {kind: fresh-tank, volume: 70 L, mass: 5 kg, at: [4 m, 0 m, 0 m]}
  pump: {kind: pump, mass: 2 kg, at: [3 m, 0 m, 0 m]}
runs:
  flow: {medium: water, from: heater/coolant-out, to: tee/in, bore: 16 mm, length: 1 m}
  on: {medium: water, from: tee/1, to: radiator/coolant-in, bore: 16 mm, length: 3 m}
  back: {medium: water, from: radiator/coolant-out, to: heater/coolant-in, bore: 16 mm, length: 4 m}
  vent: {medium: water, from: tee/2, to: header/coolant, bore: 8 mm, length: 1 m}
  drink: {medium: water, from: tank/outlet, to: pump/inlet, bore: 10 mm, length: 2 m}
"""
LITRES = {
    "heater": 0.4,
    "radiator": 1.0,
    "header": 1.0,
    "flow": 1000 * pi / 4 * 0.016**2 * 1,
    "on": 1000 * pi / 4 * 0.016**2 * 3,
    "back": 1000 * pi / 4 * 0.016**2 * 4,
    "vent": 1000 * pi / 4 * 0.008**2 * 1,
}


def test_each_vessel_and_pipe_of_the_circuit_by_hand() -> None:
    """1.07 kg/L ± 7 % of what each holds, where it stands; behind a tee, too, and never in the water's own pipe."""
    van = van_facts(CIRCUIT)
    with van.recording() as frame:
        found = {e.subject: e for e in fitted(van) if e.name.startswith("coolant in ")}
    assert set(found) == set(LITRES)
    for name, litres in LITRES.items():
        mass = litres / 1000 * DENSITY
        assert (found[name].mass, found[name].mass_doubt) == pytest.approx((mass, 0.07 * mass))
        assert found[name].known == "computed from its volume"
    assert (found["radiator"].x, found["radiator"].y) == (4, 0.4)
    assert (found["back"].x, found["back"].place) == (3.5, "between its ends")
    assert "coolant: half ethylene glycol, half water, 1.07 kg/L ± 7 %" in frame.assumptions
    assert not any("coolant in" in sentence for sentence in frame.assumptions)


def test_it_counts_in_every_case_and_once() -> None:
    """A tank full or empty changes nothing of it; a ticket of the finished van is expected to hold it."""
    litres = sum(LITRES.values())
    dry = van_facts(CIRCUIT, "components: {heater: {coolant_volume: ~}, header: {volume: ~}}")
    wet = van_facts(CIRCUIT)
    for case in ("as converted", "full tanks", "grey full, fresh empty"):
        more = wet.whole.in_case(case).laden_mass - dry.whole.in_case(case).laden_mass
        assert more == pytest.approx(1.4 / 1000 * DENSITY)
    held = [entry.subject for entry in contents(wet, {"fresh": 1.0, "dead": 1.0})]
    assert held == ["drink", "tank"]
    ticket = "records: {weighings: [{stage: final, front_axle: 1200 kg, rear_axle: 800 kg, driver: false, fuel: 0 %}]}"
    in_all = wet.whole.fitted_mass + litres / 1000 * DENSITY
    assert van_facts(CIRCUIT, ticket).whole.expected_mass == pytest.approx(2000 - 83.2 + in_all)


def test_what_has_no_volume_is_said() -> None:
    """Of coolant where the van is weighed in mind, of water where its pipes are filled; nothing is said of a dry van."""
    van = van_facts(
        CIRCUIT, "{components: {radiator: {coolant_volume: ~}}, runs: {flow: {bore: ~}, drink: {bore: ~}}}"
    )
    with van.recording() as frame:
        list(fitted(van))
    assert "not counted, for want of a volume: coolant in radiator, flow" in frame.assumptions
    with van.recording() as frame:
        list(contents(van, {"fresh": 1.0}))
    assert list(frame.assumptions) == ["not counted, for want of bore or length: water in drink"]
    without = van_facts()
    with without.recording() as frame:
        list(fitted(without))
        list(contents(without, {"fresh": 1.0}))
    assert not any("coolant" in sentence or "water" in sentence for sentence in frame.assumptions)
