"""Fixed vents against floor and appliances; taking away any one of a van's just enough must be found."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest
from building import build
from hypothesis import given, settings
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Answer

TESTS = Path(__file__).parents[1]
RULES, _ = load_pack(TESTS.parent / "rules")
VENT_RULES = tuple(rule for rule in RULES.rules if rule.identity.partition("/")[0] in ("air", "heat"))


def rows(name: str) -> dict[str, dict[str, str]]:
    """The rows of a file of published checks by id."""
    with (TESTS / "published" / name).open(encoding="utf-8", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


CHECKS = {**rows("environment.csv"), **rows("gas-and-air.csv")}
OPEN_HOB = "hob: {kind: hob, burns: propane, input: 3 kW}"
SEALED = "heater: {kind: air-heater, burns: diesel}"


def van(area: str, *components: str, jurisdiction: str = "uk") -> Facts:
    """The facts of a van whose floor is 2 m wide."""
    listed = "\n".join(f"  {line}" for line in components)
    return Facts(
        build(
            f"jurisdictions: [{jurisdiction}]\nvehicle: {{interior: {{length: {area}, width: 2 m}}}}\n"
            f"components:\n  lamp: {{kind: strip-light}}\n{listed}\n"
        )
    )


def due(area: str, *components: str) -> str:
    """Roof and low vents asked for, in mm², as the published table prints them."""
    whole = van(area, *components).whole
    return f"{whole.roof_vent_area_due * 1e6:.0f}, {whole.low_vent_area_due * 1e6:.0f}"


def australian(kind: str) -> float:
    """All vents by AS/NZS 5601.2 for a hob of 29 MJ/h, or a hob used outside, and two berths, in mm²."""
    bed = "bed: {kind: bed, places: 2}"
    burner = (
        f"hob: {{kind: hob, input: {29e6 / 3600:.6f} W}}"
        if kind == "open"
        else "stove: {kind: portable-stove, used: outside}"
    )
    return float(van("2 m", bed, burner, jurisdiction="au").whole.whole_vent_area_due) * 1e6


def suction() -> float:
    """Depression behind a roof fan of 48 m³/h with 85 cm² of fixed vents."""
    fan = "fan: {kind: roof-fan, greatest_flow: 48 m³/h}"
    vents = "vent: {kind: vent, surface: roof, free_area: 85 cm², closable: false}"
    return float(van("2 m", fan, vents).subject("fan").suction)


def low_vent_passes() -> bool:
    """Whether a low vent passes whose upper edge is 120 mm above the floor."""
    vent = (
        "vent: {kind: vent, surface: left wall, position: low, free_area: 10 cm², closable: false,"
        " at: [1 m, -1 m, 20 mm], size: [100 mm, 10 mm, 100 mm]}"
    )
    rule = RULES.by_identity()["air/low-vent-height"]
    (result,) = judge(Pack((rule,)), van("2 m", vent))
    assert result.answer in (Answer.passes, Answer.fails)
    return result.answer is Answer.passes


CASES: dict[str, Callable[[], str | float | bool]] = {
    "C3.01": lambda: due("2.25 m", OPEN_HOB),
    "C3.02": lambda: due("4 m", OPEN_HOB),
    "C3.03": lambda: due("4 m"),
    "C3.04": low_vent_passes,
    "C3.05": lambda: australian("open"),
    "C3.06": lambda: australian("none"),
    "G-03": suction,
}


@pytest.mark.parametrize("check", CASES)
def test_facts_agree_with_worked_checks(check: str) -> None:
    """Each check by its id; sources stand in the files."""
    found, row = CASES[check](), CHECKS[check]
    if isinstance(found, float):
        assert found == pytest.approx(float(row["expected"]), abs=max(float(row["tolerance"]), 1e-3))
    else:
        assert str(found) == row["expected"]


@pytest.mark.parametrize(
    ("vent", "level"),
    [
        ("surface: roof", "roof"),
        ("surface: floor", "low"),
        ("surface: left wall, position: high", "high"),
        ("surface: left wall, at: [0 m, 0 m, 0 m], size: [0.1 m, 0.1 m, 0.1 m]", "low"),
        ("surface: left wall, at: [0 m, 0 m, 0.01 m], size: [0.1 m, 0.1 m, 0.1 m]", "high"),
    ],
)
def test_where_a_vent_counts(vent: str, level: str) -> None:
    """By its surface, else as stated, else by its upper edge."""
    assert van("2 m", f"vent: {{kind: vent, {vent}}}").subject("vent").level == level


@pytest.mark.parametrize(
    ("vent", "counted"),
    [
        ("closable: false", True),
        ("closable: true", False),
        ("closable: false, covered_by: mattress", False),
        ("closable: false, covered_by: none", True),
        ("closable: false, opens_into: fridge-cabinet", False),
        ("closable: false, opens_into: living space", True),
    ],
)
def test_a_vent_that_can_be_shut_or_is_covered_is_none(vent: str, counted: bool) -> None:
    """Only what is always open to the living space counts."""
    text = f"vent: {{kind: vent, surface: roof, free_area: 15 cm², {vent}}}"
    assert bool(van("2 m", text).whole.roof_vent_area) is counted


def test_whether_a_vent_can_be_shut_is_never_guessed() -> None:
    """The field is named."""
    with pytest.raises(Missing) as raised:
        _ = van("2 m", "vent: {kind: vent, surface: roof, free_area: 15 cm²}").whole.roof_vent_area
    assert raised.value.fields == ("vent.closable",)


def test_a_floor_beyond_the_table_is_said_to_be() -> None:
    """Without open combustion the table that was read ends at 10 m²."""
    with pytest.raises(Missing) as raised:
        _ = van("6 m").whole.roof_vent_area_due
    assert "no row for 12 m²" in raised.value.reason


def test_roof_and_wall_vents_add_by_their_shares() -> None:
    """Half of the roof's due and half of the walls' due are just enough."""
    roof = "a: {kind: vent, surface: roof, free_area: 7.5 cm², closable: false}"
    wall = "b: {kind: vent, surface: left wall, position: high, free_area: 15 cm², closable: false}"
    assert van("2 m", roof, wall).whole.high_vent_ratio == pytest.approx(1.0)


def test_every_berth_asks_for_air() -> None:
    """Two bunks of two places each and 29 MJ/h: 610 × 29 + 650 × 4 mm² (AS/NZS 5601.2:2020 section 7)."""
    hob = f"hob: {{kind: hob, input: {29e6 / 3600:.6f} W}}"
    bunks = "bed: {kind: bed, places: 2, count: 2}"
    assert van("2 m", bunks, hob, jurisdiction="au").whole.whole_vent_area_due * 1e6 == pytest.approx(20290)
    two = van("2 m", bunks, hob.replace("kind: hob", "kind: hob, count: 2"), jurisdiction="au").whole
    assert two.whole_vent_area_due * 1e6 == pytest.approx(37980), "610 × 58 for two hobs that stand as one"


shares = st.lists(st.integers(min_value=1, max_value=20), min_size=1, max_size=4)


def split(total: int, parts: list[int]) -> list[float]:
    """A total in mm² parted in proportion, each to a tenth of a mm²; the last takes the rest."""
    cut = [round(total * part / sum(parts), 1) for part in parts[:-1]]
    return [*cut, round(total - sum(cut), 1)]


@settings(max_examples=40, deadline=None)
@given(high=shares, low=shares, combustion=st.booleans(), data=st.data())
def test_taking_away_any_one_vent_of_just_enough_is_found(
    high: list[int], low: list[int], combustion: bool, data: st.DataObject
) -> None:
    """However the area is parted among vents: whole, nothing fails; without any one of them, a rule fails."""
    roof_due, low_due = (7500, 1000) if combustion else (1500, 500)  # 4 m² of floor, EN 721 as quoted
    vents = [
        *(f"h{n}: {{kind: vent, surface: roof, free_area: {a} mm², closable: false}}"
          for n, a in enumerate(split(roof_due, high))),
        *(f"l{n}: {{kind: vent, surface: floor, free_area: {a} mm², closable: false}}"
          for n, a in enumerate(split(low_due, low))),
    ]  # fmt: skip
    burner = [OPEN_HOB] if combustion else []
    gone = data.draw(st.sampled_from(vents))
    assert "air/fixed-vents-high" not in failures(van("2 m", *vents, *burner))
    assert "air/fixed-vents-low" not in failures(van("2 m", *vents, *burner))
    expected = "air/fixed-vents-high" if gone.startswith("h") else "air/fixed-vents-low"
    assert expected in failures(van("2 m", *(v for v in vents if v != gone), *burner))


def failures(facts: Facts) -> set[str]:
    """The rules of air and heat that fail."""
    return {r.rule for r in judge(Pack(VENT_RULES), facts) if r.answer is Answer.fails}


@pytest.mark.parametrize(
    "stated",
    [
        "closable: false",
        "surface: left wall",
        "surface: left wall, at: [1 m, 0 m, 0 m]",
        "surface: left wall, size: [0.1 m, 10 mm, 0.1 m]",
    ],
)
def test_where_an_unplaced_vent_counts_is_asked_for(stated: str) -> None:
    """Without position or a whole box in a wall: the one field that answers it is named."""
    with pytest.raises(Missing) as raised:
        _ = van("2 m", f"vent: {{kind: vent, {stated}}}").subject("vent").level
    assert raised.value.fields == ("vent.position",)


@pytest.mark.parametrize(
    ("area", "components", "roof", "said"),
    [
        ("5 m", (OPEN_HOB,), 10000, False),
        ("5.01 m", (OPEN_HOB,), 12500, True),
        ("7.5 m", (OPEN_HOB,), 12500, True),
        ("7.6 m", (OPEN_HOB,), 15000, True),
        ("5 m", (), 1500, False),
    ],
)
def test_a_row_of_the_table_that_is_remembered_is_said_to_be(
    area: str, components: tuple[str, ...], roof: float, said: bool
) -> None:
    """Rows of EN 721 above 10 m² of floor were not read: by the pattern of those below, and that is said."""
    facts = van(area, *components)
    with facts.recording() as frame:
        assert facts.whole.roof_vent_area_due * 1e6 == pytest.approx(roof)
    assert any("from memory" in sentence for sentence in frame.assumptions) is said


EVERY_SORT = (
    "a: {kind: vent, surface: roof, free_area: 10 cm², closable: false, count: 2}",
    "b: {kind: vent, surface: left wall, position: high, free_area: 5 cm², closable: false}",
    "c: {kind: vent, surface: floor, free_area: 3 cm², closable: false, count: 3}",
    "d: {kind: roof-hatch, fixed_area: 4 cm², count: 2}",
    "e: {kind: roof-fan, free_area_closed: 2 cm², count: 2, greatest_flow: 48 m³/h}",
    "f: {kind: roof-hatch}",
    "g: {kind: roof-fan}",
    "h: {kind: vent, surface: roof, free_area: 90 cm², closable: true}",
)


def test_every_sort_of_vent_is_counted_with_its_number() -> None:
    """Roof 2 × 10 + 2 × 4 + 2 × 2, walls 5, floor 3 × 3, in cm²; what stays shut has no part."""
    whole = van("2 m", *EVERY_SORT).whole
    areas = (whole.roof_vent_area, whole.other_high_vent_area, whole.low_vent_area, whole.whole_vent_area)
    assert [area * 1e4 for area in areas] == pytest.approx([32, 5, 9, 46])
    assert whole.high_vents == ("a", "b", "d", "e")
    assert whole.low_vents == ("c",)
    assert whole.ventilated_floor == 4


def test_a_fan_does_not_draw_through_itself() -> None:
    """½ · 1.2 kg/m³ · (Q / (0.6 A))² (orifice equation), A of all fixed vents but the fan's own opening."""
    fan = "e: {kind: roof-fan, free_area_closed: 20 cm², greatest_flow: 48 m³/h}"
    vent = "a: {kind: vent, surface: roof, free_area: 85 cm², closable: false}"
    own = van("2 m", fan, vent).subject("e").suction
    without = van("2 m", fan.replace("free_area_closed: 20 cm², ", ""), vent).subject("e").suction
    assert own == pytest.approx(without)
    assert own == pytest.approx(
        0.6 * (48 / 3600 / (0.6 * 85e-4)) ** 2, rel=0.05
    )  # air is 1.2 kg/m³ within 5 %


def test_two_fans_that_stand_as_one_draw_four_times_as_hard() -> None:
    """Twice the flow through the same vents, none of it through their own openings."""
    fan = "e: {kind: roof-fan, free_area_closed: 20 cm², greatest_flow: 48 m³/h}"
    vent = "a: {kind: vent, surface: roof, free_area: 85 cm², closable: false}"
    one = van("2 m", fan, vent).subject("e").suction
    two = van("2 m", fan.replace("roof-fan", "roof-fan, count: 2"), vent).subject("e").suction
    assert two == pytest.approx(4 * one)


def test_a_fan_without_a_vent_draws_on_nothing() -> None:
    """Where no air can come in there is no figure, and that is said."""
    with pytest.raises(Missing) as raised:
        _ = (
            van("2 m", "e: {kind: roof-fan, free_area_closed: 20 cm², greatest_flow: 48 m³/h}")
            .subject("e")
            .suction
        )
    assert raised.value.reason == "there is no fixed vent for the air to come in by"


@pytest.mark.parametrize(("beds", "highest"), [((450,), 450), ((450, 1500, 700), 1500)])
def test_highest_mattress(beds: tuple[int, ...], highest: int) -> None:
    """Of all beds when made."""
    listed = [f"bed-{n}: {{kind: bed, surface_height: {h} mm}}" for n, h in enumerate(beds)]
    assert van("2 m", *listed).whole.highest_mattress == pytest.approx(highest / 1000)


def test_without_a_bed_there_is_no_highest_mattress() -> None:
    """No bed is no bed at 0 m."""
    with pytest.raises(Missing) as raised:
        _ = van("2 m").whole.highest_mattress
    assert raised.value.reason == "no bed is listed"


def test_edges_of_a_vent() -> None:
    """Upper and lower edge of its box; one in the floor has its upper edge at the floor."""
    wall = van(
        "2 m", "v: {kind: vent, surface: left wall, at: [1 m, 0 m, 0.3 m], size: [0.1 m, 10 mm, 0.2 m]}"
    ).subject("v")
    assert (wall.top_height, wall.bottom_height) == (pytest.approx(0.5), pytest.approx(0.3))
    floor = van(
        "2 m", "v: {kind: vent, surface: floor, at: [1 m, 0 m, -0.1 m], size: [0.1 m, 0.1 m, 0.2 m]}"
    ).subject("v")
    assert (floor.top_height, floor.bottom_height) == (0, pytest.approx(-0.1))
