"""Weighbridge tickets in a row and against the spec, with their paths, days and doubts: by hand for the small van."""

from typing import Any

import pytest
from van import van_facts

from specreg.facts.loading import Load
from specreg.facts.missing import Missing
from specreg.facts.weighing import expected_loads, final_ticket
from specreg.facts.weighing_series import Ticket, empty, fitted_by, named, tickets

FINAL = """
components:
  cabinet: {kind: cabinet, mass: 100 kg, mass_status: weighed, at: [4 m, 0 m, 0 m], fitted_on: 2026-02-01}
  garage: {kind: cabinet, mass: 40 kg, mass_status: data sheet, zone: rear-left, fitted_on: 2026-04-01}
records:
  weighings:
    - {stage: final, date: 2026-04-20, front_axle: 1 kg, rear_axle: 1 kg, driver: true, fuel: 0 %}
    - {stage: final, date: 2026-05-01, front_axle: FRONT kg, rear_axle: REAR kg, driver: false, fuel: 100 %,
       scale_step: 20 kg}
"""


def final(front: float = 1200, rear: float = 940, *over: str) -> Any:
    """140 kg fitted behind the rear axle's middle, weighed as it is, or otherwise."""
    return van_facts(FINAL.replace("FRONT", str(front)).replace("REAR", str(rear)), *over).whole


def test_the_last_final_ticket_counts() -> None:
    """Of two final ones the later in the spec; one of mid-build is none."""
    build = final()
    assert final_ticket(build.van).front_axle == 1200
    assert build.weighed_on.isoformat() == "2026-05-01"
    assert build.weighed_mass == pytest.approx(2140)
    middle = "{records: {weighings: [{stage: mid-build, front_axle: 1 kg, rear_axle: 1 kg}]}}"
    with pytest.raises(Missing) as raised:
        final_ticket(van_facts(middle))
    assert raised.value.fields == ("records.weighings",)


@pytest.mark.parametrize(
    ("ticket", "asked", "fields"),
    [
        ("front_axle: 1 kg, rear_axle: 1 kg", "weighed_on", ("records.weighings.date",)),
        ("front_axle: 1 kg", "weighed_mass", ("records.weighings.rear_axle",)),
        (
            "front_axle: 1 kg, rear_axle: 1 kg",
            "expected_mass",
            ("records.weighings.driver", "records.weighings.fuel"),
        ),
    ],
)
def test_what_a_final_ticket_does_not_say(ticket: str, asked: str, fields: tuple[str, ...]) -> None:
    """Is asked for under the path of the tickets."""
    with pytest.raises(Missing) as raised:
        getattr(van_facts(f"records: {{weighings: [{{stage: final, {ticket}}}]}}").whole, asked)
    assert raised.value.fields == fields


def test_a_ticket_against_the_spec() -> None:
    """2000 kg as received and 140 kg fitted are 2140 kg, of which 800 + 100 + 40 kg behind: 10 kg less here, 30 kg more there."""
    assert sum(entry.mass for entry in expected_loads(final())) == pytest.approx(2140)
    for front, rear, more, behind in ((1200, 940, 0, 0), (1190, 970, 20, 30), (1250, 850, -40, -90)):
        build = final(front, rear)
        assert build.expected_mass == pytest.approx(2140)
        assert build.unexplained_mass == pytest.approx(more)
        assert build.unexplained_rear == pytest.approx(behind)


def test_doubts_of_both_scales_of_masses_and_of_places() -> None:
    """Scales 10 and 20 kg, 100 kg weighed, 40 kg by a data sheet: 10 + 20 + 1 + 1.2 kg. Behind: 10 kg of the ticket as
    received by its 0.4, half of the other's 20 kg, 1 kg and 1.2 kg at 4 m, and 40 kg that stand ± 1 m on 4 m: 10 kg."""
    build = final()
    assert build.reconciliation_doubt == pytest.approx(32.2)
    assert build.reconciliation_rear_doubt == pytest.approx(4 + 10 + 1 + 1.2 + 10)


@pytest.mark.parametrize(
    ("front", "rear", "whole", "behind"),
    [
        (1200, 940, 0, 0),
        (1200, 970, 0, 30 - 26.2),
        (1200, 1040, 100 - 32.2, 100 - 26.2),
        (1200, 840, 100 - 32.2, 100 - 26.2),
        (1240, 940, 40 - 32.2, 0),
    ],
)
def test_what_no_doubt_explains(front: float, rear: float, whole: float, behind: float) -> None:
    """Beyond 32.2 kg in all and 26.2 kg behind, either way; never below nothing."""
    build = final(front, rear)
    assert (build.discrepancy, build.rear_discrepancy) == pytest.approx((whole, behind))


@pytest.mark.parametrize(
    ("vessel", "field", "share", "mass"),
    [
        ("kind: gas-cylinder, content: 11 kg, tare: 10 kg", "gas", "100 %", 11),
        ("kind: gas-cylinder, content: 11 kg, tare: 10 kg, count: 2", "gas", "50 %", 11),
        ("kind: fuel-tank, volume: 10 L, base_vehicle: false, mass: 2 kg", "heater_fuel", "100 %", 8.32),
        ("kind: water-heater, volume: 10 L, mass: 8 kg", "hot_water", "100 %", 10),
        ("kind: grey-tank, volume: 70 L, mass: 5 kg", "waste_water", "20 %", 14),
        ("kind: fresh-tank, volume: 70 L, dead_volume: 2 L, mass: 5 kg", "fresh_water", "10 %", 7),
    ],
)
def test_what_was_aboard_is_expected_on_the_scale(vessel: str, field: str, share: str, mass: float) -> None:
    """By its vessel; where the ticket says nothing none is expected, and that is said; of an empty one nothing is."""
    thing = f"components: {{it: {{{vessel}, at: [4 m, 0 m, 0 m]}}}}"
    told = f"{field.replace('_', ' ')} when weighed not stated, taken as none"
    ticket = (
        "stage: final, date: 2026-05-01, front_axle: 1200 kg, rear_axle: 800 kg, driver: false, fuel: 100 %"
    )
    found = {}
    for said in ("", f", {field}: 0 %", f", {field}: {share}"):
        whole = van_facts(thing, f"records: {{weighings: [{{{ticket}{said}}}]}}").whole
        with whole.van.recording() as frame:
            found[said] = whole.expected_mass
        assert (told in frame.assumptions) is (said == "")
    unsaid, empty_, full = found.values()
    assert unsaid == empty_
    assert full - empty_ == pytest.approx(mass)


def test_nothing_is_said_of_what_the_van_does_not_have() -> None:
    """No gas, no heater's tank: the base vehicle's own tank is the ticket's fuel; of the van as received water alone."""
    ticket = (
        "stage: final, date: 2026-05-01, front_axle: 1200 kg, rear_axle: 800 kg, driver: false, fuel: 100 %"
    )
    own = "components: {tank: {kind: fuel-tank, volume: 80 L, base_vehicle: true, at: [2 m, 0 m, 0 m]}}"
    for over in ("{}", own):
        whole = van_facts(over, f"records: {{weighings: [{{{ticket}}}]}}").whole
        with whole.van.recording() as frame:
            _ = whole.expected_mass
        told = [sentence for sentence in frame.assumptions if "when weighed" in sentence]
        assert told == []


def test_tickets_with_their_paths() -> None:
    """As received, then each later one by its number; without the first the others keep theirs."""
    assert [one.path for one in tickets(final().van)] == [
        "vehicle.as_received", "records.weighings.1", "records.weighings.2",
    ]  # fmt: skip
    later = final(1200, 940, "vehicle: {as_received: ~}").van
    assert [one.path for one in tickets(later)] == ["records.weighings.1", "records.weighings.2"]
    assert tickets(van_facts("vehicle: {as_received: ~}")) == ()


def test_a_ticket_empty_of_what_was_aboard() -> None:
    """Less a driver of 75 kg at 1 m and 83.2 kg of fuel at 2 m; what it does not say is asked for under its own path."""
    van = final(1200, 940, "vehicle: {as_received: {driver: true}}").van
    weighed, driver, fuel = empty(van, tickets(van)[0])
    assert (weighed.mass, driver.mass, fuel.mass) == pytest.approx((2000, -75, -83.2))
    assert (driver.x, fuel.x) == (1, 2)
    blank = Ticket(tickets(van)[2].ticket.model_copy(update={"fuel": None}), "records.weighings.2")
    with pytest.raises(Missing) as raised:
        empty(van, blank)
    assert raised.value.fields == ("records.weighings.2.fuel",)


def test_names_of_tickets() -> None:
    """Stage and day, or the stage alone."""
    first, _, last = tickets(final().van)
    assert (named(first), named(last)) == ("intake", "final, 2026-05-01")


SERIES = """
components:
  cabinet: {kind: cabinet, mass: 100 kg, mass_status: weighed, at: [4 m, 0 m, 0 m], fitted_on: 2026-02-01}
  bed: {kind: bed, mass: 50 kg, mass_status: weighed, at: [4 m, 0 m, 0 m], fitted_on: 2026-04-01}
  shelf: {kind: shelf, mass: 10 kg, mass_status: weighed, at: [4 m, 0 m, 0 m]}
  wall: {kind: removed-item, mass: 30 kg, mass_status: weighed, at: [2 m, 0 m, 0 m], fitted_on: 2026-01-05}
  bulkhead: {kind: removed-item, mass: 6 kg, mass_status: weighed, at: [2 m, 0 m, 0 m]}
records:
  weighings:
    - {stage: mid-build, date: DAY, front_axle: 1180 kg, rear_axle: 900 kg, driver: false, fuel: 50 %}
"""


def series(day: str) -> Any:
    """The small van while it is being built, weighed on a day."""
    return van_facts(SERIES.replace("DAY", day)).whole


@pytest.mark.parametrize(
    ("day", "mass", "off"),
    [
        # 2000 kg less 83.2 kg of fuel; the shelf and the bulkhead, of which nothing says when, count half: + 5 − 3 ± 8 kg
        ("2026-01-04", 2000 - 83.2 + 2, 8 + 10),
        ("2026-01-05", 2000 - 83.2 + 2 - 30, 8 + 10 + 0.3),
        ("2026-01-31", 2000 - 83.2 + 2 - 30, 8 + 10 + 0.3),
        ("2026-02-01", 2000 - 83.2 + 2 - 30 + 100, 8 + 10 + 0.3 + 1),
        ("2026-04-01", 2000 - 83.2 + 2 - 30 + 150, 8 + 10 + 0.3 + 1.5),
        ("~", 2000 - 83.2 + (100 + 50 + 10 - 30 - 6) / 2, (100 + 50 + 10 + 30 + 6) / 2 + 10),
    ],
)
def test_what_was_in_by_a_day(day: str, mass: float, off: float) -> None:
    """What was fitted on the day itself was in; what was taken out counts the other way, and as much of a doubt."""
    build = series(day)
    _, one = tickets(build.van)
    assert fitted_by(build, one) == pytest.approx((mass, off))


def test_a_mid_build_ticket_needs_its_day() -> None:
    """A final one does not: by then all is in."""
    with pytest.raises(Missing) as raised:
        _ = series("~").tickets_against_spec
    assert raised.value.fields == ("records.weighings.1.date",)
    undated = final(
        1200,
        940,
        "records: {weighings: [{stage: final, front_axle: 1200 kg, rear_axle: 940 kg, driver: false, fuel: 100 %}]}",
    )
    (row,) = undated.tickets_against_spec
    assert (row.stage, row.weighed, row.expected) == (
        "final",
        pytest.approx(2140 - 83.2),
        pytest.approx(2140 - 83.2),
    )


def test_a_mid_build_ticket_against_what_was_in() -> None:
    """2080 kg less half the fuel are 2038.4 kg; 1988.8 kg were expected on 1 February, ± 19.3 kg and a scale of 20 kg."""
    (row,) = series("2026-02-01").tickets_against_spec
    assert row.stage == "mid-build, 2026-02-01"
    assert (row.weighed, row.expected, row.doubt) == pytest.approx((2038.4, 1988.8, 39.3))
    assert row.unexplained == pytest.approx(2038.4 - 1988.8 - 39.3)
    assert series("2026-02-01").tickets_unexplained == ("mid-build, 2026-02-01",)
    assert series("2026-04-01").tickets_against_spec[0].unexplained == 0
    assert series("2026-04-01").tickets_unexplained == ()


@pytest.mark.parametrize(("rear", "named_"), [(890.2, True), (889.6, False)])
def test_half_a_kilogram_beyond_all_doubts_is_beyond_them(rear: float, named_: bool) -> None:
    """2028.1 kg can be explained: 0.5 kg more cannot, 0.1 kg less can."""
    text = SERIES.replace("DAY", "2026-02-01").replace("900 kg", f"{rear} kg")
    assert bool(van_facts(text).whole.tickets_unexplained) is named_


def test_where_things_stand_does_not_matter_to_their_sum() -> None:
    """A cabinet anywhere in a zone is off by its mass alone: 10 kg of the scale, 1 kg and 1.2 kg."""
    build = final()
    assert fitted_by(build, tickets(build.van)[-1]) == pytest.approx((2140 - 83.2, 12.2))


def test_a_final_ticket_is_not_named_twice() -> None:
    """What is unexplained of it has a fact of its own."""
    assert final(1200, 1140).discrepancy > 0
    assert not any("final" in stage for stage in final(1200, 1140).tickets_unexplained)


def test_the_van_from_stage_to_stage() -> None:
    """Each empty: as received, half-way, by the spec; the first gained nothing."""
    rows = series("2026-02-01").mass_by_stage
    assert [row.stage for row in rows] == ["intake", "mid-build, 2026-02-01", "by the spec, as built"]
    assert [row.mass for row in rows] == pytest.approx([1916.8, 2038.4, 1916.8 + 124])
    # behind: 800 kg less half of the fuel's 83.2 kg; 900 kg less a quarter of it; 160 kg at 4 m, 36 kg out at 2 m
    assert [row.rear for row in rows] == pytest.approx([758.4, 879.2, 758.4 + 160 - 18])
    assert [row.gained for row in rows] == pytest.approx([0, 121.6, 2.4])
    assert [row.gained_rear for row in rows] == pytest.approx([0, 120.8, 21.2])


def test_what_was_planned_is_asked_for() -> None:
    """Without a planned mass no creep is told; with one it is what was fitted less that, either way."""
    with pytest.raises(Missing) as raised:
        _ = final().mass_creep
    assert raised.value.fields == ("records.planned_mass",)
    for planned, creep in ((150, -10), (120, 20)):
        assert final(1200, 940, f"records: {{planned_mass: {planned} kg}}").mass_creep == pytest.approx(creep)


def test_what_is_in_the_ticket_was_in_from_the_first_day() -> None:
    """The base vehicle, and the driver who was taken off its ticket, whatever the day."""
    van = van_facts(SERIES.replace("DAY", "2020-01-01"), "vehicle: {as_received: {driver: true}}")
    _, one = tickets(van)
    expected, _ = fitted_by(van.whole, one)
    assert expected == pytest.approx(2000 - 75 - 83.2 + 2)
    assert all(isinstance(entry, Load) for entry in van.whole.fitted_loads)
