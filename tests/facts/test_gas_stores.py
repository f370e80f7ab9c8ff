"""How long a cylinder lasts, lockers and what stands in them, cylinders held fast: cases by hand, at their limits."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing

DAY = 86_400
SYSTEM = """
components:
  cylinder: {kind: gas-cylinder, gas: propane, content: 6 kg%s}
  regulator: {kind: regulator, outlet_pressure: 30 mbar}
  manifold: {kind: gas-manifold, ways: {a: {}, b: {}, c: {}}}
  hob: {kind: hob, burns: propane, gas_flow: 300 g/h, burn_hours_per_day: 2 h}
  heater: {kind: air-heater, burns: propane, gas_flow: 100 g/h, burn_hours_per_day: 0 h%s}
  boiler: {kind: water-heater, energies: [mains]}
  barbecue: {kind: gas-outlet, gas_flow: 200 g/h}
runs:
  hose: {medium: gas, from: cylinder/valve, to: regulator}
  main: {medium: gas, from: regulator, to: manifold}
  hob-pipe: {medium: gas, from: manifold/a, to: hob}
  heater-pipe: {medium: gas, from: manifold/b, to: heater}
  outer-pipe: {medium: gas, from: manifold/c, to: barbecue}
"""


def cylinder(stated: str = "", heater: str = "", text: str = SYSTEM) -> Subject:
    """The cylinder of the small system, with more stated of it and of the heater."""
    return Facts(build(text % (stated, heater))).subject("cylinder")


@pytest.mark.parametrize(
    ("stated", "share", "assumed"),
    [("", 1.0, True), (", usable: 80 %", 0.8, False), (", usable: 0 %", 0.0, False)],
    ids=["all", "80 %", "none"],
)
def test_days_of_a_cylinder(stated: str, share: float, assumed: bool) -> None:
    """6 kg ÷ (0.3 kg/h × 2 h) = 10 days; what is used outside is not counted, at full output it is: 6 kg ÷ 0.6 kg/h."""
    store = cylinder(stated)
    with store.van.recording() as frame:
        assert store.lasts == pytest.approx(10 * share * DAY)
    assert any("to the last gram" in sentence for sentence in frame.assumptions) is assumed
    assert any("barbecue: what is used outside is not counted" in sentence for sentence in frame.assumptions)
    with store.van.recording() as frame:
        assert store.lasts_at_full_output == pytest.approx(10 * share * 3600)
    assert any("to the last gram" in sentence for sentence in frame.assumptions) is assumed
    assert store.demand_on_it == pytest.approx(0.6 / 3600)


def test_two_alike_that_stand_as_one_use_twice_the_gas() -> None:
    """Two hobs and two barbecues: 2 × 0.3 + 2 × 0.2 kg/h at once; 1.2 kg a day of cooking empty 6 kg in 5 days."""
    text = SYSTEM.replace("gas_flow: 300 g/h", "gas_flow: 300 g/h, count: 2")
    text = text.replace("gas_flow: 200 g/h", "gas_flow: 200 g/h, count: 2")
    text = text.replace("burns: propane, gas_flow: 100 g/h", "burns: propane, gas_flow: 0 g/h")
    store = cylinder(text=text)
    assert store.demand_on_it == pytest.approx(1.0 / 3600)
    assert store.van.subject("regulator").demand == pytest.approx(1.0 / 3600)
    assert store.van.subject("hob-pipe").carries_at_most == pytest.approx(0.6 / 3600)
    assert store.lasts == pytest.approx(5 * DAY)
    assert store.lasts_at_full_output == pytest.approx(6 * 3600)


def test_two_cylinders_that_stand_as_one_last_twice_as_long() -> None:
    """12 kg for 0.6 kg a day; both give their vapour."""
    one, two = cylinder(", greatest_draw: 400 g/h"), cylinder(", greatest_draw: 400 g/h, count: 2")
    assert (one.gas_when_full, two.gas_when_full) == (6, 12)
    assert two.lasts == pytest.approx(20 * DAY)
    assert (one.draw_in_the_cold, two.draw_in_the_cold) == pytest.approx((0.4 / 3600, 0.8 / 3600))


@pytest.mark.parametrize(
    ("heater", "days", "assumed"),
    [("", 10, True), (", burn_hours_in_winter: 8 h", 6 / 1.4, False)],
    ids=["as on any day", "longer"],
)
def test_days_in_winter(heater: str, days: float, assumed: bool) -> None:
    """0.6 kg for cooking and 0.8 kg for heating; a winter that is not stated is as any day, and that is said."""
    store = cylinder(heater=heater)
    with store.van.recording() as frame:
        assert store.lasts_in_winter == pytest.approx(days * DAY)
    assert (
        any("heater: burns in winter as on any day" in sentence for sentence in frame.assumptions) is assumed
    )


@pytest.mark.parametrize("fact", ["lasts", "lasts_in_winter", "lasts_at_full_output"])
def test_what_feeds_nothing_lasts_no_time(fact: str) -> None:
    """A cylinder joined to nothing, a spare or not: the question does not arise."""
    alone = SYSTEM.replace("  hose: {medium: gas, from: cylinder/valve, to: regulator}\n", "")
    for stated in ("", ", spare: true"):
        with pytest.raises(Missing) as raised:
            getattr(cylinder(stated, text=alone), fact)
        assert raised.value.reason == "it does not arise here"


def test_what_never_burns_uses_nothing() -> None:
    """Hours of 0 empty no cylinder: there is no number of days."""
    with pytest.raises(Missing) as raised:
        _ = cylinder(text=SYSTEM.replace("burn_hours_per_day: 2 h", "burn_hours_per_day: 0 h")).lasts
    assert raised.value.reason == "it does not arise here"


@pytest.mark.parametrize(
    ("hob", "flow", "assumed"),
    [
        ("burns: propane, input: 1.5 kW, input_basis: net", 1500 / 46.332e6, False),
        ("kind: water-heater, energies: [gas], input: 1.5 kW, input_basis: net", 1500 / 46.332e6, True),
        ("kind: portable-stove, burns: propane, input: 1.5 kW, input_basis: net", 1500 / 46.332e6, False),
        ("burns: propane, input: 1.5 kW, input_basis: gross", 1500 / 50.120648e6, False),
        ("burns: butane, input: 1.5 kW, input_basis: net", 1500 / 46.332e6, True),
        ("burns: butane, gas_flow: 120 g/h, input: 1.5 kW, input_basis: net", 0.12 / 3600, False),
    ],
)
def test_gas_use(hob: str, flow: float, assumed: bool) -> None:
    """The stated flow first; else input ÷ heating value on its own basis, propane's for all, which is said."""
    kind = "" if hob.startswith("kind") else "kind: hob, "
    facts = Facts(build(f"components: {{hob: {{{kind}{hob}}}}}"))
    with facts.recording() as frame:
        assert facts.subject("hob").gas_use == pytest.approx(flow, rel=1e-4)
    assert any("heating value of propane" in sentence for sentence in frame.assumptions) is assumed


@pytest.mark.parametrize(
    ("floor", "single", "split", "indiana"),
    [(2000, 100, 50, 20), (5000, 100, 50, 50), (6000, 120, 60, 60)],
)
def test_vents_of_a_locker(floor: float, single: float, split: float, indiana: float) -> None:
    """2 % of the floor and at least 100 cm²; 1 % twice and at least 50 cm²; in Indiana half of 2 %. All in cm²."""
    locker = Facts(build(f"components: {{locker: {{kind: gas-locker, floor_area: {floor} cm²}}}}")).subject(
        "locker"
    )
    found = (locker.single_vent_due, locker.split_vent_due, locker.half_vent_due_us)
    assert [area * 1e4 for area in found] == pytest.approx([single, split, indiana])


@pytest.mark.parametrize(
    ("stated", "area", "assumed"), [("", 0.0, True), (", vent_area_high: 60 cm²", 60e-4, False)]
)
def test_no_high_opening_is_counted_that_is_not_stated(stated: str, area: float, assumed: bool) -> None:
    """And that is said."""
    facts = Facts(build(f"components: {{locker: {{kind: gas-locker{stated}}}}}"))
    with facts.recording() as frame:
        assert facts.subject("locker").high_opening == pytest.approx(area)
    assert any("no high opening is stated" in sentence for sentence in frame.assumptions) is assumed


LOCKER = """
components:
  locker:
    {kind: gas-locker, at: [1 m, 0 m, 0 m], size: [0.5 m, 0.4 m, 0.6 m], contents: [listed, hose, old rag],
     electrical_items: [bulb, named, solenoid, box]}
  solenoid: {kind: gas-valve, drive: solenoid}
  hose: {kind: cabinet}
  listed: {kind: strip-light}
  named: {kind: strip-light}
  box: {kind: cabinet, at: [1.1 m, 0.1 m, 0.1 m], size: [0.1 m, 0.1 m, 0.1 m]}
  lamp: {kind: strip-light, at: [%s], size: [0.2 m, 0.2 m, 0.2 m]}
"""


@pytest.mark.parametrize(
    ("at", "inside"),
    [
        ("0.9 m, -0.1 m, -0.1 m", True),
        ("1.4 m, 0.3 m, 0.5 m", True),
        ("0.89 m, 0 m, 0 m", False),
        ("1.41 m, 0 m, 0 m", False),
        ("1.2 m, -0.11 m, 0 m", False),
        ("1.2 m, 0.31 m, 0 m", False),
        ("1.2 m, 0 m, -0.11 m", False),
        ("1.2 m, 0 m, 0.51 m", False),
    ],
)
def test_the_middle_of_a_thing_decides(at: str, inside: bool) -> None:
    """On the edge is inside; 1 cm beyond any face is not. What is listed counts wherever it is, a cabinet never."""
    found = Facts(build(LOCKER % at)).subject("locker").ignition_sources
    assert found == ("bulb", "named", "listed", *(["lamp"] if inside else []))


@pytest.mark.parametrize(
    ("stated", "held"),
    [
        ("held_low: ring, held_high: strap, orientation: upright", True),
        ("held_low: none, held_high: strap, orientation: upright", False),
        ("held_low: ring, held_high: none, orientation: upright", False),
        ("held_low: none, held_high: none, orientation: upright", False),
        ("held_low: ring, held_high: strap, orientation: lying", False),
    ],
)
def test_a_cylinder_is_held_low_and_high(stated: str, held: bool) -> None:
    """Both straps and upright, or it is not held."""
    assert (
        Facts(build(f"components: {{c: {{kind: gas-cylinder, {stated}}}}}")).subject("c").held_upright is held
    )


@pytest.mark.parametrize("gone", ["held_low: ring, ", "held_high: strap, "])
def test_what_holds_it_is_not_guessed(gone: str) -> None:
    """A strap that is not stated is missing, not absent."""
    stated = "held_low: ring, held_high: strap, orientation: upright".replace(gone, "")
    with pytest.raises(Missing, match=gone.partition(":")[0]):
        _ = Facts(build(f"components: {{c: {{kind: gas-cylinder, {stated}}}}}")).subject("c").held_upright


@pytest.mark.parametrize(("limit", "share"), [("", 0.8), (", fill_limit: 70 %", 0.7)])
def test_gas_in_a_tank(limit: str, share: float) -> None:
    """NFPA 58 as quoted: 4.20 lb/gal of liquid propane, 80 % full unless its stop says otherwise."""
    tank = Facts(build(f"components: {{t: {{kind: gas-tank, volume: 40 L{limit}}}}}")).subject("t")
    assert tank.gas_when_full == pytest.approx(40 * share * 4.20 * 0.45359237 / 3.785411784, rel=1e-3)


def test_what_burns_no_gas_uses_none() -> None:
    """A diesel heater states an input and takes no gas for it."""
    heater = Facts(
        build("components: {it: {kind: air-heater, burns: diesel, input: 4 kW, input_basis: net}}")
    )
    assert heater.subject("it").get("gas_use") is None


def test_without_a_size_no_vapour_is_reckoned() -> None:
    """How much of its wall is wetted is not guessed: the field is named."""
    with pytest.raises(Missing, match=r"c\.size"):
        _ = (
            Facts(build("components: {c: {kind: gas-cylinder, gas: propane, content: 6 kg}}"))
            .subject("c")
            .vapour_in_the_cold
        )
