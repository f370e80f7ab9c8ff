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


COMBINED = "{components: {combined: {kind: combined-heater, burns: diesel, water_volume: 8 L, water_temperature: 70 °C}},"
EXCHANGER = "{components: {exchanger: {kind: heat-exchanger, secondary: water}},"


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
        ("{components: {mixer: {temperature: ~, limit_temperature: 48 °C}}}", 48),
        ("{components: {mixer: {limit_temperature: 48 °C}}}", 45),
        (COMBINED + " runs: {hot-mixer: ~, mixed-tap: {from: combined/hot}}}", 70),
        (COMBINED + " runs: {hot-mixer: {from: combined/hot}}}", 45),
        (EXCHANGER + " runs: {hot-mixer: ~, mixed-tap: {from: exchanger/hot}}}", 90),
        # Of two heaters on one tap the hotter counts, whichever is written first.
        (
            COMBINED
            + " runs: {hot-mixer: ~, cold-tap: {from: combined/hot}, mixed-tap: {from: water-heater/hot}}}",
            70,
        ),
        (
            COMBINED
            + " runs: {hot-mixer: ~, mixed-tap: {from: combined/hot}, cold-tap: {from: water-heater/hot}}}",
            70,
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


def combined(fields: str) -> Subject:
    """A combined heater alone."""
    return Facts(build(f"components: {{heater: {{kind: combined-heater, {fields}}}}}")).subject("heater")


@pytest.mark.parametrize(
    ("one", "count"),
    [
        (heater, 1),
        (heater, 2),
        (combined, 1),
        (combined, 2),
    ],
    ids=["water heater", "two of them", "combined heater", "two of those"],
)
def test_figures_of_a_heater_by_hand(one: Callable[[str], Subject], count: int) -> None:
    """10 L from 10 to 60 °C: 0.01 m³ · 998.21 kg/m³ · 4186 J/(kg·K) · 50 K = 2.0893 MJ, 2089 s by 1 kW.

    17.86 L at 38 °C (50 K over 28 K), and 1.69 % more room: 999.70 kg/m³ at 10 °C, 983.20 at 60 °C. Two that
    stand as one hold twice the water, and warm it in the same time with twice the power.
    """
    fields = (
        "energies: [mains, gas], volume: 10 L, temperature: 60 °C"
        if one is heater
        else "burns: propane, water_volume: 10 L, water_temperature: 60 °C"
    )
    found = one(f"{fields}, mains_power: 1 kW, output: 2 kW, count: {count}")
    assert found.heat_up_energy == pytest.approx(count * 2.0893e6, rel=1e-4)
    assert {way.name: way.time for way in found.heat_up_times} == {
        "mains": pytest.approx(2089.3, rel=1e-4),
        "gas" if one is heater else "propane": pytest.approx(1044.6, rel=1e-4),
    }
    assert found.mixed_water * 1000 == pytest.approx(count * 10 * 50 / 28)
    assert found.expansion_volume == pytest.approx(count * 0.01 * (999.70 / 983.20 - 1), rel=2e-3)


def test_each_energy_has_its_own_power() -> None:
    """Mains, coolant, direct current and flame by the field that states each; 10 L over 50 K take 2.0893 MJ."""
    energies = "energies: [mains, engine coolant, dc, gas]"
    powers = "mains_power: 1 kW, coolant_power: 5 kW, power: 200 W, output: 2 kW"
    ways = heater(f"{energies}, {powers}, volume: 10 L, temperature: 60 °C").heat_up_times
    assert {way.name: way.time for way in ways} == {
        "mains": pytest.approx(2089.3, rel=1e-4),
        "engine coolant": pytest.approx(417.86, rel=1e-4),
        "dc": pytest.approx(10446.4, rel=1e-4),
        "gas": pytest.approx(1044.6, rel=1e-4),
    }


def test_a_combined_heater_without_an_element_has_its_flame_alone() -> None:
    """No time is told for an energy that it has not."""
    ways = combined("burns: diesel, water_volume: 10 L, water_temperature: 60 °C, output: 2 kW").heat_up_times
    assert [way.name for way in ways] == ["diesel"]


@pytest.mark.parametrize("fact", ["heat_up_energy", "expansion_volume", "mixed_water"])
def test_cold_water_is_assumed_and_said(fact: str) -> None:
    """10 °C is no datum of the van."""
    one = heater("volume: 10 L, temperature: 60 °C")
    with one.van.recording() as frame:
        getattr(one, fact)
    assert "cold water enters at 10 °C (common practice, no source)" in frame.assumptions
    drawn = "water is drawn at 38 °C (common practice, no source)" in frame.assumptions
    assert drawn is (fact == "mixed_water")


@pytest.mark.parametrize(("celsius", "known"), [(9, False), (10, True), (100, True), (101, False)])
def test_water_grows_between_10_and_100_degrees(celsius: float, known: bool) -> None:
    """At 10 °C it has not grown; what boils is no water any more."""
    one = heater(f"volume: 10 L, temperature: {celsius} °C")
    if known:
        assert one.expansion_volume >= 0
    else:
        with pytest.raises(Missing, match="from 10 °C to at most 100 °C"):
            _ = one.expansion_volume


@pytest.mark.parametrize(("hot", "mixed"), [(310.0, 283.15), (283.15, 283.15), (310.0, 310.001)])
def test_a_mix_lies_above_the_cold_and_not_above_the_hot(hot: float, mixed: float) -> None:
    """Beyond its two ends nothing is mixed."""
    with pytest.raises(Missing, match="does not lie between cold and hot"):
        mixed_volume(0.01, hot, mixed, 283.15)


def test_the_hot_water_itself_is_its_own_mix() -> None:
    """Drawn as hot as it is, nothing is added."""
    assert mixed_volume(0.01, 311.15, 311.15, 283.15) == pytest.approx(0.01)


def test_how_long_a_shower_lasts() -> None:
    """10 L at 60 °C and 8 L at 70 °C give 17.86 and 17.14 L at 38 °C: 420 s at 5 L/min; an exchanger keeps none."""
    change = """
        components:
          shower: {kind: shower, form: mixer, flow: 5 L/min}
          combined: {kind: combined-heater, burns: diesel, water_volume: 8 L, water_temperature: 70 °C}
          exchanger: {kind: heat-exchanger, secondary: water}
        runs:
          a: {medium: water, from: water-heater/hot, to: shower/hot}
          b: {medium: water, from: combined/hot, to: shower/hot}
          c: {medium: water, from: exchanger/hot, to: shower/hot}
        """
    shower = water_system(change).subject("shower")
    assert shower.heated_by == ("water-heater", "combined", "exchanger")
    assert shower.shower_time == pytest.approx((0.01 * 50 / 28 + 0.008 * 60 / 28) / (5 / 60000))


def test_hot_water_does_not_come_out_of_a_cold_tap() -> None:
    """Neither back through the heater's cold side nor through the mixer; what no heater reaches has no hottest."""
    cold = """
        components: {tee: {outlets: 4}, cold: {kind: tap, form: cold}}
        runs: {to-cold: {medium: water, from: tee/4, to: cold}}
        """
    facts = water_system(cold)
    assert facts.subject("cold").heated_by == ()
    assert facts.subject("cold").gives_hot_water is False
    with pytest.raises(Missing, match="no heater reaches it"):
        _ = facts.subject("cold").hottest_water
    assert facts.subject("tap").heated_by == ("water-heater",)


@pytest.mark.parametrize(
    ("crossed", "celsius"),
    [
        ("direct: {medium: water, from: tee/4, to: mixer/hot}", 60),
        (
            "a: {medium: water, from: tee/4, to: check/in}, b: {medium: water, from: check/out, to: mixer/hot}",
            None,
        ),
    ],
    ids=["joined", "check valve"],
)
def test_a_pipe_between_cold_and_hot_scalds_at_the_cold_tap(crossed: str, celsius: float | None) -> None:
    """Hot water goes back through it to every cold tap, unless a check valve stands in it."""
    change = f"""
        components: {{tee: {{outlets: 5}}, cold: {{kind: tap, form: cold}}, check: {{kind: check-valve}}}}
        runs: {{to-cold: {{medium: water, from: tee/5, to: cold}}, {crossed}}}
        """
    cold = water_system(change).subject("cold")
    assert cold.heated_by == (("water-heater",) if celsius else ())
    if celsius:
        assert cold.hottest_water == pytest.approx(celsius + 273.15)


VESSEL = "components: {vessel: {kind: accumulator}, tee: {outlets: 4}, check: {kind: check-valve}}\n"


@pytest.mark.parametrize(
    ("change", "vessels"),
    [
        ("{}", ()),
        (VESSEL + "runs: {v: {medium: water, from: tee/4, to: vessel/in}}", ("vessel",)),
        (VESSEL, ()),
        # A check valve before the heater keeps its water from the vessel.
        (
            VESSEL + "runs: {v: {medium: water, from: tee/4, to: vessel/in},"
            " cold-heater: {to: check/in}, on: {medium: water, from: check/out, to: water-heater/cold}}",
            (),
        ),
        # One that lets it out does not.
        (
            VESSEL + "runs: {v: {medium: water, from: tee/4, to: check/in},"
            " on: {medium: water, from: check/out, to: vessel/in}}",
            ("vessel",),
        ),
        # Its hot side is not a way for what grows back into the cold pipe.
        (
            VESSEL
            + "runs: {hot-mixer: {to: vessel/in}, on: {medium: water, from: vessel/out, to: mixer/hot}}",
            (),
        ),
        # Without a pump between, the tank itself gives room.
        ("runs: {suction: {to: tee/in}, delivery: ~}", ("fresh-tank",)),
    ],
    ids=["pump", "vessel", "unjoined", "check valve", "turned check valve", "hot side", "no pump"],
)
def test_where_warming_water_finds_room(change: str, vessels: tuple[str, ...]) -> None:
    """Followed back from the heater's cold port, through nothing that lets water one way only."""
    assert water_system(change).subject("water-heater").expands_into == vessels


def test_the_strongest_pump_that_reaches_a_heater_presses_on_it() -> None:
    """Two on one tee: 2.1 and 2.8 bar; a third that feeds another tap does not count."""
    change = """
        components:
          second: {kind: pump, cut_off_pressure: 2.8 bar}
          third: {kind: pump, cut_off_pressure: 4 bar}
          outside: {kind: tap, form: cold}
        runs:
          more: {medium: water, from: second/outlet, to: tee/in}
          apart: {medium: water, from: third/outlet, to: outside}
        """
    assert water_system(change).subject("water-heater").supply_pressure == pytest.approx(2.8e5)
    with pytest.raises(Missing, match="no pump reaches it"):
        _ = water_system("runs: {delivery: ~}").subject("water-heater").supply_pressure


@pytest.mark.parametrize(
    "change",
    [
        # A second pipe beside the first.
        "runs: {beside: {medium: water, from: water-heater/hot, to: mixer/hot}}",
        # A check valve that water would have to pass against its arrow to come past the mixer.
        "components: {tee: {outlets: 4}, check: {kind: check-valve}}\n"
        "runs: {a: {medium: water, from: tee/4, to: check/in}, b: {medium: water, from: check/out, to: mixer/hot}}",
    ],
    ids=["two pipes", "check valve"],
)
def test_a_tap_behind_the_mixer_stays_at_its_setting(change: str) -> None:
    """45 °C, by whatever other pipe there is; that the mixer stays so is said."""
    tap = water_system(change).subject("tap")
    with tap.van.recording() as frame:
        assert tap.hottest_water == pytest.approx(318.15)
    assert "mixing valves stay at their setting" in frame.assumptions


def test_that_the_engine_heats_past_a_thermostat_is_said() -> None:
    """90 °C is no datum of the van."""
    tap = water_system(EXCHANGER + " runs: {hot-mixer: {from: exchanger/hot}}}").subject("tap")
    with tap.van.recording() as frame:
        assert tap.hottest_water == pytest.approx(318.15)
    assert any(text.startswith("engine coolant heats water to 90 °C") for text in frame.assumptions)
