"""How long tanks last: tables of stays, laws of tanks, and worked examples (tests/published/water.csv)."""

from math import floor

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.tank_days import half_days


def van(use: str, *tanks: str) -> Subject:
    """The whole of a van that consists of tanks."""
    lines = "\n".join(f"  tank-{n}: {{{tank}}}" for n, tank in enumerate(tanks, 1))
    return Facts(build(f"use: {{{use}}}\ncomponents:\n{lines or '  {}'}")).whole


FRESH = "kind: fresh-tank, volume: 70 L"
TWO = "people: {adults: 2}, water_per_person: 10 L"


@pytest.mark.parametrize(
    ("use", "tanks", "days"),
    [
        (TWO, [FRESH], 3.5),
        (TWO, ["kind: fresh-tank, volume: 79.9 L"], 3.5),
        (TWO, ["kind: fresh-tank, volume: 80 L"], 4.0),
        (TWO, ["kind: fresh-tank, volume: 80 L, dead_volume: 1 L"], 3.5),
        (TWO, ["kind: fresh-tank, volume: 35 L, count: 2"], 3.5),
        (TWO, [FRESH, "kind: fresh-tank, volume: 10 L"], 4.0),
        ("people: {adults: 1, children: 1}, water_per_person: 10 L", [FRESH], 3.5),
        ("people: {adults: 2, dogs: 2}, water_per_person: 10 L", [FRESH], 3.5),
    ],
)
def test_fresh_days(use: str, tanks: list[str], days: float) -> None:
    """Fresh water over people and litres, in half days, rounded down."""
    assert van(use, *tanks).fresh_days == days


@pytest.mark.parametrize(
    ("use", "tanks", "ends", "least", "greatest"),
    [
        (TWO + ", evaporated: 10 %", [FRESH, "kind: grey-tank, volume: 54 L"], ("grey water",), 3.0, 3.0),
        (TWO, [FRESH, "kind: grey-tank, volume: 54 L"], ("grey water",), 2.5, 3.5),
        (
            TWO + ", black_per_person: 2 L",
            [FRESH, "kind: cassette, volume: 8 L"],
            ("toilet waste",),
            2.0,
            2.0,
        ),
        (
            TWO + ", black_per_person: 2 L",
            [FRESH, "kind: toilet, form: composting, solids_volume: 8 L"],
            ("toilet waste",),
            2.0,
            2.0,
        ),
        (
            TWO + ", black_per_person: 2 L",
            [FRESH, "kind: toilet, form: composting, solids_volume: 5 L, count: 2"],
            ("toilet waste",),
            2.5,
            2.5,
        ),
        (TWO + ", urine_per_person: 1 L", [FRESH, "kind: urine-tank, volume: 5 L"], ("urine",), 2.5, 2.5),
        (
            TWO + ", urine_per_person: 1 L, black_per_person: 1 L",
            [FRESH, "kind: toilet, urine_volume: 2 L, count: 2"],
            ("urine",),
            2.0,
            2.0,
        ),
        (
            TWO + ", evaporated: 0 %",
            [FRESH, "kind: grey-tank, volume: 70 L"],
            ("fresh water", "grey water"),
            3.5,
            3.5,
        ),
    ],
)
def test_what_ends_the_stay(
    use: str, tanks: list[str], ends: tuple[str, ...], least: float, greatest: float
) -> None:
    """The tank that is empty or full first ends the stay; an assumed share gives a range."""
    whole = van(use, *tanks)
    assert (whole.stay_ended_by, whole.stay_days_least, whole.stay_days_greatest) == (ends, least, greatest)


@pytest.mark.parametrize(
    ("use", "tanks", "fact", "fields"),
    [
        ("people: {adults: 2}", [FRESH], "fresh_days", ("use.water_per_person",)),
        ("water_per_person: 10 L", [FRESH], "fresh_days", ("use.people",)),
        (TWO, ["kind: fresh-tank"], "fresh_days", ("tank-1.volume",)),
        (TWO, ["kind: cassette, volume: 8 L"], "stay_days_least", ("use.black_per_person",)),
        (TWO, ["kind: grey-tank", "kind: grey-tank"], "grey_volume", ("tank-1.volume", "tank-2.volume")),
    ],
)
def test_what_is_missing_is_named(use: str, tanks: list[str], fact: str, fields: tuple[str, ...]) -> None:
    """Without a figure there are no days, and the field is named."""
    with pytest.raises(Missing) as caught:
        getattr(van(use, *tanks), fact)
    assert caught.value.fields == fields


def test_an_assumed_share_is_said() -> None:
    """Where the spec does not say what evaporates, the days carry the assumption."""
    whole = van(TWO, "kind: grey-tank, volume: 54 L")
    with whole.van.recording() as frame:
        assert (whole.grey_days_least, whole.grey_days_greatest) == (2.5, 3.5)  # at 20 and at 14 L a day
    assert any("use.evaporated" in text for text in frame.assumptions)


LITRES = st.integers(min_value=1, max_value=400)
PEOPLE = st.integers(min_value=1, max_value=8)


def days(adults: int, fresh: int, grey: int) -> float:
    """Least days of a stay."""
    use = f"people: {{adults: {adults}}}, water_per_person: 9 L"
    tanks = (f"kind: fresh-tank, volume: {fresh} L", f"kind: grey-tank, volume: {grey} L")
    return float(van(use, *tanks).stay_days_least)


@given(PEOPLE, LITRES, LITRES)
def test_more_people_never_last_longer(adults: int, fresh: int, grey: int) -> None:
    """One person more never lengthens a stay."""
    assert days(adults + 1, fresh, grey) <= days(adults, fresh, grey)


@given(PEOPLE, LITRES, LITRES, st.integers(min_value=0, max_value=100), st.booleans())
def test_a_bigger_tank_never_shortens(adults: int, fresh: int, grey: int, more: int, which: bool) -> None:
    """A larger tank never shortens a stay."""
    larger = (fresh + more, grey) if which else (fresh, grey + more)
    assert days(adults, *larger) >= days(adults, fresh, grey)


@given(st.integers(min_value=0, max_value=100_000))
def test_half_days_are_never_more(thousandths: int) -> None:
    """Rounding goes down, by less than half a day, to a half."""
    exact = thousandths / 1000
    found = half_days(exact)
    assert 0 <= exact - found < 0.5
    assert 2 * found == floor(2 * found)


def test_full_tanks_weigh_what_their_water_does() -> None:
    """The masses are those of the single tanks together, dead volume included."""
    whole = van(TWO, "kind: fresh-tank, volume: 70 L, dead_volume: 2 L", "kind: fresh-tank, volume: 30 L")
    assert whole.fresh_water_mass == pytest.approx(99.821)
    assert sum(t.full_contents_mass for t in whole.van.of_class(type(whole.van.subject("tank-1").model))) == (
        pytest.approx(99.821)
    )


@pytest.mark.parametrize(
    ("use", "tank", "millilitres", "assumed"),
    [
        ("{}", "volume: 100 L", 95.238, True),
        ("{}", "volume: 50 L, count: 2", 95.238, True),
        ("{bleach: 10 %}", "volume: 100 L", 50.0, False),
    ],
)
def test_bleach_for_a_full_tank(use: str, tank: str, millilitres: float, assumed: bool) -> None:
    """50 mg/L in 100 L are 5 g of chlorine: 95 mL of 5.25 %, 50 mL of 10 %; a strength that is not stated is said."""
    text = f"use: {use}\ncomponents: {{t: {{kind: fresh-tank, {tank}}}}}"
    one = Facts(build(text)).subject("t")
    with one.van.recording() as frame:
        assert one.sanitising_bleach * 1e6 == pytest.approx(millilitres, abs=0.001)
    assert any("use.bleach" in sentence for sentence in frame.assumptions) is assumed


def test_how_old_water_and_cartridge_get() -> None:
    """70 L for two at 10 L stand three days and a half; from 1 February to 1 May are 89 days."""
    assert van(TWO, FRESH).water_stands == 3.5 * 86_400
    part = "components: {f: {kind: water-filter, renewed_on: 2026-02-01}}"
    assert Facts(build(part)).subject("f").cartridge_age == 89 * 86_400


@given(PEOPLE, LITRES, LITRES, st.integers(min_value=0, max_value=100))
def test_masses_at_the_end_are_within_the_tanks(adults: int, fresh: int, grey: int, evaporated: int) -> None:
    """No tank holds more than its volume, and grey water is never more than the fresh water used."""
    use = f"people: {{adults: {adults}}}, water_per_person: 9 L, evaporated: {evaporated} %"
    whole = van(use, f"kind: fresh-tank, volume: {fresh} L", f"kind: grey-tank, volume: {grey} L")
    if evaporated == 100:
        return
    mass = {one.name: one.mass for one in whole.masses_at_the_end}
    assert -1e-9 <= mass["fresh water"] <= fresh * 0.99821 + 1e-9
    assert 0 <= mass["grey water"] <= grey * 0.99821 + 1e-9
    assert mass["grey water"] <= fresh * 0.99821 - mass["fresh water"] + 1e-9


def test_masses_at_the_end_by_hand() -> None:
    """70 L for two at 10 L and a grey tank of 54 L at 10 % lost: three days, 10 L left, 54 L gathered."""
    whole = van(TWO + ", evaporated: 10 %", FRESH, "kind: grey-tank, volume: 54 L")
    found = {one.name: one.mass for one in whole.masses_at_the_end}
    assert found == {"fresh water": pytest.approx(9.9821), "grey water": pytest.approx(53.90334)}


def test_what_no_pump_draws_is_left_at_the_end() -> None:
    """Of 70 L, 2 L of them below the outlet, two at 10 L use 60 L in three days: 10 kg stay, 8 kg of which could be drawn."""
    whole = van(TWO, FRESH + ", dead_volume: 2 L")
    assert (whole.fresh_volume, whole.fresh_days) == (pytest.approx(0.068), 3.0)
    assert [(one.name, one.mass) for one in whole.masses_at_the_end] == [
        ("fresh water", pytest.approx(10 * 0.99821))
    ]
    drained = van("people: {adults: 2}, water_per_person: 8.5 L", FRESH + ", dead_volume: 2 L")
    assert [one.mass for one in drained.masses_at_the_end] == [pytest.approx(2 * 0.99821)]


@pytest.mark.parametrize(
    ("tanks", "litres"),
    [
        ([FRESH, "kind: grey-tank, volume: 70 L"], {"fresh water": 0.0, "grey water": 63.0}),
        (["kind: grey-tank, volume: 54 L"], {"grey water": 54.0}),
    ],
)
def test_what_is_lost_on_the_way_reaches_no_tank(tanks: list[str], litres: dict[str, float]) -> None:
    """Of 20 L a day 18 arrive: 63 L in three days and a half, 54 in three; without a fresh tank none is told."""
    found = {one.name: one.mass for one in van(TWO + ", evaporated: 10 %", *tanks).masses_at_the_end}
    assert found == pytest.approx({name: volume * 0.99821 for name, volume in litres.items()})


def test_the_profile_stands_in_for_the_sum() -> None:
    """Litres by purpose are added up; a stated total comes first."""
    uses = "people: {adults: 2}, water_use: {drinking: 3 L, washing: 7 L}"
    assert van(uses, FRESH).fresh_days == 3.5
    assert van(uses + ", water_per_person: 35 L", FRESH).fresh_days == 1.0


def test_masses_of_all_that_is_left_behind() -> None:
    """70 L for two at 10 L last three days and a half: 2 L and 1 L of each make 14 and 7 L; full they are 18 and 8."""
    use = TWO + ", black_per_person: 2 L, urine_per_person: 1 L"
    whole = van(use, FRESH, "kind: cassette, volume: 18 L", "kind: urine-tank, volume: 8 L")
    found = {one.name: one.mass for one in whole.masses_at_the_end}
    assert found == {
        "fresh water": pytest.approx(0.0),
        "toilet waste": pytest.approx(14 * 0.99821),
        "urine": pytest.approx(7 * 0.99821),
    }
    assert whole.waste_mass == pytest.approx(26 * 0.99821)
    assert [(one.name, one.days_least, one.days_greatest) for one in whole.tank_reaches] == [
        ("fresh water", 3.5, 3.5),
        ("toilet waste", 4.5, 4.5),
        ("urine", 4.0, 4.0),
    ]


def test_grey_water_at_the_end_is_at_its_most_where_nothing_is_said() -> None:
    """All that was taken arrives in the tank, until it is full: five half days of 20 L make 50 of its 54 L."""
    whole = van(TWO, FRESH, "kind: grey-tank, volume: 54 L")
    with whole.van.recording() as frame:
        found = {one.name: one.mass for one in whole.masses_at_the_end}
    assert found == {"fresh water": pytest.approx(20 * 0.99821), "grey water": pytest.approx(50 * 0.99821)}
    assert any("fresh tanks are full and the waste tanks empty" in text for text in frame.assumptions)
    assert whole.waste_mass == pytest.approx(54 * 0.99821)


@pytest.mark.parametrize(
    ("tanks", "fresh", "keeps"),
    [
        ([], False, False),
        ([FRESH], True, False),
        (["kind: grey-tank, volume: 54 L"], False, False),
        ([FRESH, "kind: grey-tank, volume: 54 L"], True, True),
        ([FRESH, "kind: cassette, volume: 18 L"], True, False),
    ],
)
def test_whether_there_is_water_and_what_keeps_it(tanks: list[str], fresh: bool, keeps: bool) -> None:
    """A tank for soil keeps no grey water."""
    whole = van(TWO, *tanks)
    assert (whole.has_fresh_water, whole.keeps_grey_water) == (fresh, keeps)


def test_a_tank_whose_outlet_is_too_high_gives_nothing() -> None:
    """Less than nothing cannot be drawn, and what lies too low in one takes nothing from another."""
    assert van(TWO, "kind: fresh-tank, volume: 2 L, dead_volume: 5 L").fresh_volume == 0
    two = van(TWO, "kind: fresh-tank, volume: 35 L, dead_volume: 1 L, count: 2")
    assert two.fresh_volume * 1000 == pytest.approx(68)
    beside = van(TWO, "kind: fresh-tank, volume: 70 L", "kind: fresh-tank, volume: 2 L, dead_volume: 5 L")
    assert beside.fresh_volume * 1000 == pytest.approx(70)
    assert two.fresh_water_mass == pytest.approx(70 * 0.99821)


@pytest.mark.parametrize(
    ("fact", "tank", "litres"),
    [
        ("grey_volume", "kind: grey-tank, volume: 54 L", 54),
        ("black_volume", "kind: black-tank, volume: 40 L", 40),
        ("black_volume", "kind: cassette, volume: 9 L, count: 2", 18),
        ("black_volume", "kind: toilet, solids_volume: 8 L, urine_volume: 6 L", 8),
        ("urine_volume", "kind: toilet, solids_volume: 8 L, urine_volume: 6 L, count: 2", 12),
        ("urine_volume", "kind: urine-tank, volume: 5 L", 5),
    ],
)
def test_what_waste_tanks_hold(fact: str, tank: str, litres: float) -> None:
    """Each sort by itself, all alike that stand as one together."""
    whole = van(TWO, tank)
    assert getattr(whole, fact) * 1000 == pytest.approx(litres)
    others = {"grey_volume", "black_volume", "urine_volume"} - {fact}
    if "toilet" not in tank:
        assert [getattr(whole, other) for other in sorted(others)] == [0, 0]


def test_what_days_are_counted_from() -> None:
    """Full tanks and people: dogs drink and are not counted, which is said; without people there are no days."""
    whole = van("people: {adults: 2, children: 1, dogs: 1}, water_per_person: 10 L", FRESH)
    with whole.van.recording() as frame:
        assert whole.people_count == 3
        assert whole.fresh_days == 2.0
    assert sorted(frame.assumptions) == [
        "at the start the fresh tanks are full and the waste tanks empty",
        "dogs are not counted as users of water",
    ]
    plain = van(TWO, FRESH)
    with plain.van.recording() as frame:
        assert plain.people_count == 2
    assert not frame.assumptions
    with pytest.raises(Missing) as caught:
        _ = van("people: {adults: 0}, water_per_person: 10 L", FRESH).people_count
    assert caught.value.fields == ("use.people",)


@pytest.mark.parametrize(
    ("use", "fact", "reason"),
    [
        ("people: {adults: 2}, water_per_person: 0 L", "fresh_days", "nothing is used per person and day"),
        (TWO, "stay_days_least", "there is no tank"),
        (TWO, "stay_days_greatest", "there is no tank"),
    ],
)
def test_where_no_stay_can_be_told(use: str, fact: str, reason: str) -> None:
    """Of what nobody uses, and of no tank."""
    tanks = [FRESH] if fact == "fresh_days" else []
    with pytest.raises(Missing, match=reason):
        getattr(van(use, *tanks), fact)


def test_a_stated_share_of_evaporation_is_no_assumption() -> None:
    """54 L of 20 L a day less a tenth: three days, at least and at most."""
    whole = van(TWO + ", evaporated: 10 %", "kind: grey-tank, volume: 54 L")
    with whole.van.recording() as frame:
        assert (whole.grey_days_least, whole.grey_days_greatest) == (3.0, 3.0)
    assert not any("use.evaporated" in text for text in frame.assumptions)
