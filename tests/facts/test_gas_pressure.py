"""Pressure on the way to what burns, and plates against regulators: just inside and just outside."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.gas_pressure import pipe_loss
from specreg.facts.missing import Missing

GRAM_PER_HOUR = 1e-3 / 3600
SYSTEM = """
components:
  cylinder: {kind: gas-cylinder, gas: propane, content: 6 kg}
  regulator: {kind: regulator, outlet_pressure: 30 mbar, mounted: on the cylinder}
  manifold: {kind: gas-manifold, ways: {a: {}, b: {}}}
  hob: {kind: hob, burns: propane, gas_flow: 230 g/h}
  heater: {kind: air-heater, burns: propane, gas_flow: 160 g/h}
  other-heater: {kind: air-heater, burns: diesel}
  lone-oven: {kind: oven, burns: propane, gas_flow: 100 g/h}
runs:
  hose: {medium: gas, from: cylinder/valve, to: regulator, pressure_side: cylinder, length: 0.4 m, bore: 6 mm}
  main: {medium: gas, from: regulator, to: manifold, bore: 8 mm, length: 2 m}
  hob-pipe: {medium: gas, from: manifold/a, to: hob, bore: 6 mm, length: 1 m}
  heater-pipe: {medium: gas, from: manifold/b, to: heater, bore: 6 mm, length: 3 m}
"""


def system(*changes: tuple[str, str]) -> Facts:
    """The facts of the small system with words of it replaced."""
    text = SYSTEM
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return Facts(build(text))


@pytest.mark.parametrize(
    ("plate", "inside", "outside"),
    [
        ("30 mbar", ("29.5 mbar", "30.5 mbar"), ("29.3 mbar", "30.7 mbar")),
        ("28-30/37 mbar", ("27.5 mbar", "33 mbar", "37.7 mbar"), ("27.4 mbar", "37.8 mbar")),
        ("50 mbar", ("49 mbar", "49.1 mbar", "50.9 mbar", "51 mbar"), ("48.9 mbar", "51.1 mbar")),
        ("11 inWC", ("26.9 mbar", "27.9 mbar"), ("26.8 mbar", "28 mbar")),
        ("2.75 kPa", ("27 mbar", "28 mbar"), ("26.9 mbar", "28.1 mbar")),
    ],
)
def test_a_plate_is_rounded_by_two_in_a_hundred(
    plate: str, inside: tuple[str, ...], outside: tuple[str, ...]
) -> None:
    """Between 98 % of its least and 102 % of its greatest pressure: 11 in of water is 27.4 mbar (249.09 Pa/in)."""
    for outlet in (*inside, *outside):
        facts = system(
            ("gas_flow: 230 g/h", f"gas_flow: 230 g/h, working_pressure: {plate}"), ("30 mbar,", f"{outlet},")
        )
        assert facts.subject("hob").pressure_fits is (outlet in inside), outlet


def test_what_burns_no_gas_has_no_gas_pressure() -> None:
    """No pipe, no loss, no pressure of a diesel heater."""
    heater = system().subject("other-heater")
    assert heater.gas_pipes == ()
    for fact in (
        "gas_pressure_loss_least",
        "gas_pressure_loss_greatest",
        "gas_pressure_at_it",
        "regulated_pressure",
        "pressure_fits",
    ):
        with pytest.raises(Missing) as absent:
            getattr(heater, fact)
        assert absent.value.reason == "it does not arise here"


def test_what_no_regulator_feeds_is_said() -> None:
    """An oven without a pipe is no oven without loss."""
    for fact in ("gas_pipes", "gas_pressure_loss_least", "gas_pressure_at_it", "regulated_pressure"):
        with pytest.raises(Missing) as absent:
            getattr(system().subject("lone-oven"), fact)
        assert absent.value.reason == "no regulator feeds it"


def test_before_the_regulator_nothing_is_reckoned() -> None:
    """The hose at the cylinder's pressure carries no regulated gas; a pipe to nothing neither."""
    facts = system()
    assert facts.subject("hose").get("pressure_lost") is None
    assert facts.subject("hose").get("carries_at_most") is None
    assert facts.subject("heater-pipe").carries_at_most == pytest.approx(160 * GRAM_PER_HOUR)
    assert facts.subject("heater-pipe").pressure_lost == pytest.approx(
        pipe_loss(160 * GRAM_PER_HOUR, 3, 0.006)
    )


@pytest.mark.parametrize(
    ("gone", "named"),
    [
        ("bore: 6 mm, length: 3 m", ("heater-pipe.length", "heater-pipe.bore")),
        ("length: 3 m", ("heater-pipe.length",)),
    ],
)
def test_both_fields_of_a_pipe_are_named_at_once(gone: str, named: tuple[str, ...]) -> None:
    """Of the pipe itself, and of the appliance behind it."""
    facts = system((f", {gone}", ""))
    with pytest.raises(Missing) as pipe:
        _ = facts.subject("heater-pipe").pressure_lost
    with pytest.raises(Missing) as appliance:
        _ = facts.subject("heater").gas_pressure_loss_greatest
    assert pipe.value.fields == appliance.value.fields == named


def test_a_shorter_way_is_taken_and_every_regulator_counts() -> None:
    """A second regulator of 37 mbar next to the heater: its gas comes from there, the hob's from the first."""
    facts = system(
        (
            "manifold: {kind",
            "near: {kind: regulator, outlet_pressure: 37 mbar, mounted: on the wall}\n  manifold: {kind",
        ),
        ("from: manifold/b, to: heater", "from: near, to: heater"),
    )
    assert facts.subject("heater").gas_pipes == ("heater-pipe",)
    assert facts.subject("heater").regulated_pressure == pytest.approx(3700)
    assert facts.subject("hob").regulated_pressure == pytest.approx(3000)
    assert facts.subject("main").carries_at_most == pytest.approx(230 * GRAM_PER_HOUR)


def test_what_is_taken_for_granted_is_said() -> None:
    """All at once, fittings, and propane at 15 °C stand beside the loss."""
    facts = system()
    with facts.recording() as frame:
        least, most = (
            facts.subject("hob").gas_pressure_loss_least,
            facts.subject("hob").gas_pressure_loss_greatest,
        )
    assert most == pytest.approx(2 * least)
    for words in ("everything burns at once", "propane vapour at 15 °C"):
        assert any(words in sentence for sentence in frame.assumptions)


def test_a_shared_flue_brings_no_gas() -> None:
    """A heater without a gas pipe whose exhaust joins that of one with a pipe: no regulator feeds it."""
    lone = (
        "  lone: {kind: combined-heater, burns: propane, gas_flow: 90 g/h}\n  flue: {kind: flue-terminal}\n"
    )
    flues = (
        "  flue-1: {medium: exhaust, from: lone/exhaust, to: flue}\n"
        "  flue-2: {medium: exhaust, from: heater/exhaust, to: flue}\n"
    )
    facts = system(("components:\n", f"components:\n{lone}"), ("runs:\n", f"runs:\n{flues}"))
    assert facts.subject("heater").gas_pipes == ("main", "heater-pipe")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lone").gas_pipes
    assert absent.value.reason == "no regulator feeds it"
    assert facts.subject("main").carries_at_most == pytest.approx(390 * GRAM_PER_HOUR)


def test_what_burns_at_the_pressure_of_the_cylinder_is_fed_by_no_regulator() -> None:
    """An oven that branches off before the regulator; what it takes does not load the pipes behind."""
    facts = system(
        ("components:\n", "components:\n  tee: {kind: gas-manifold, ways: {a: {}, b: {}}}\n"),
        ("from: cylinder/valve, to: regulator,", "from: tee/a, to: regulator,"),
        (
            "runs:\n",
            "runs:\n  to-tee: {medium: gas, from: cylinder/valve, to: tee}\n"
            "  to-oven: {medium: gas, from: tee/b, to: lone-oven}\n",
        ),
    )
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lone-oven").gas_pipes
    assert absent.value.reason == "no regulator feeds it"
    assert facts.subject("hose").get("carries_at_most") is None
    assert facts.subject("main").carries_at_most == pytest.approx(390 * GRAM_PER_HOUR)


def test_nothing_is_asked_of_a_hose_before_the_regulator() -> None:
    """Its loss does not arise: neither length nor bore is missing for it."""
    hose = system((", length: 0.4 m, bore: 6 mm", "")).subject("hose")
    with pytest.raises(Missing) as absent:
        _ = hose.pressure_lost
    assert absent.value.fields == ()
