"""Hot water: worked examples, scald ways, and laws of mixing."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st
from water_system import water_system

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.hot_water import heat_content, mixed_volume
from specreg.facts.missing import Missing
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Answer

GALLON = 0.003785411784
PUBLISHED = Path(__file__).parents[1] / "published" / "water.csv"


def heater(fields: str) -> Subject:
    """A heater alone."""
    return Facts(build(f"components: {{heater: {{kind: water-heater, {fields}}}}}")).subject("heater")


def stay() -> float:
    """Days that 45 L last two people at 7.5 L."""
    whole = Facts(
        build(
            "use: {people: {adults: 2}, water_per_person: 7.5 L}\n"
            "components: {tank: {kind: fresh-tank, volume: 45 L}}"
        )
    ).whole
    return float(whole.fresh_days)


def litres_of_gallons() -> float:
    """Fresh water of a tank written in US gallons."""
    tank = build("components: {tank: {kind: fresh-tank, volume: 25 gal}}")
    return float(Facts(tank).whole.fresh_volume) * 1000


def recovery() -> float:
    """US gallons that 4.5 kW warm by 70 °F in an hour."""
    return 4500 * 3600 / heat_content(1.0, 70 / 1.8) / GALLON


def minutes() -> float:
    """Minutes of 800 W for 10 L over 40 K, by a heater set to 50 °C."""
    (way,) = heater("energies: [mains], mains_power: 800 W, volume: 10 L, temperature: 50 °C").heat_up_times
    return float(way.time) / 60


def mixed() -> float:
    """Litres at 38 °C of 10 L at 60 °C."""
    return float(heater("volume: 10 L, temperature: 60 °C").mixed_water) * 1000


def scalds() -> bool:
    """Whether the scald rule fails where no mixer stands between a heater at 60 °C and the tap."""
    facts = water_system("{runs: {hot-mixer: ~, mixed-tap: {from: water-heater/hot}}}")
    pack, _ = load_pack(Path(__file__).parents[2] / "rules")
    rule = pack.by_identity()["water/hot-water-does-not-scald"]
    return [result.answer for result in judge(Pack((rule,)), facts)] == [Answer.fails]


CASES: dict[str, Callable[[], float | bool]] = {
    "C5.01": stay,
    "C5.03": litres_of_gallons,
    "C5.07": recovery,
    "C5.08": minutes,
    "C5.09": mixed,
    "C5.15": scalds,
}


def rows() -> list[dict[str, str]]:
    """The worked examples of water."""
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_worked_example(row: dict[str, str]) -> None:
    """The computation gives what the example says."""
    found = CASES[row["id"]]()
    if row["expected"] == "True":
        assert found is True
    else:
        assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]) + 1e-9)


def test_every_case_is_a_row() -> None:
    """No computation stands here without its example, nor the other way round."""
    assert set(CASES) == {row["id"] for row in rows()}


UNMIXED = "hot-mixer: ~, mixed-tap: {from: water-heater/hot}"


@pytest.mark.parametrize(
    ("change", "celsius"),
    [
        ("{}", 45),
        ("{components: {mixer: {temperature: 40 °C}}}", 40),
        ("{components: {water-heater: {temperature: 42 °C}}}", 42),
        ("{runs: {" + UNMIXED + "}}", 60),
        ("{components: {water-heater: {energies: [engine coolant, mains]}}, runs: {" + UNMIXED + "}}", 90),
        ("{components: {water-heater: {energies: [engine coolant]}}}", 45),
        (
            "{components: {water-heater: {mixer_built_in: true, mixed_temperature: 48 °C}},"
            " runs: {" + UNMIXED + "}}",
            48,
        ),
    ],
)
def test_hottest_water(change: str, celsius: float) -> None:
    """The hottest way counts, capped by the mixers on it."""
    assert water_system(change).subject("tap").hottest_water == pytest.approx(celsius + 273.15)


def test_a_way_past_the_mixer_counts() -> None:
    """A tee before the mixer that leads to the same tap brings the full temperature."""
    change = (
        "{components: {split: {kind: water-manifold}, shower: {kind: shower, form: hot}},"
        " runs: {hot-mixer: {from: split/1},"
        " hot-split: {medium: water, from: water-heater/hot, to: split/in},"
        " hot-shower: {medium: water, from: split/2, to: shower}}}"
    )
    facts = water_system(change)
    assert facts.subject("shower").hottest_water == pytest.approx(333.15)
    assert facts.subject("tap").hottest_water == pytest.approx(318.15)


KELVIN = st.floats(min_value=1, max_value=60)


@given(KELVIN, KELVIN, st.floats(min_value=0.001, max_value=0.1))
def test_mixing_keeps_the_heat(above: float, further: float, volume: float) -> None:
    """What is mixed holds the heat of the hot water above the cold, and is never less than it."""
    cold = 283.15
    mixed_at, hot = cold + above, cold + above + further
    got = mixed_volume(volume, hot, mixed_at, cold)
    assert got >= volume
    assert got * (mixed_at - cold) == pytest.approx(volume * (hot - cold))


def test_nothing_is_mixed_above_the_hot() -> None:
    """A mixed temperature above the hot water's has no volume."""
    with pytest.raises(Missing):
        mixed_volume(0.01, 310.0, 311.0, 283.15)


def test_heating_ways_take_time_by_their_power() -> None:
    """Twice the power takes half the time; a power that is not stated is named."""
    ways = heater(
        "energies: [mains, gas], mains_power: 1 kW, output: 2 kW, volume: 10 L, temperature: 60 °C"
    ).heat_up_times
    assert ways[0].time == pytest.approx(2 * ways[1].time)
    with pytest.raises(Missing) as caught:
        _ = heater("energies: [mains], volume: 10 L, temperature: 60 °C").heat_up_times
    assert caught.value.fields == ("heater.mains_power",)
