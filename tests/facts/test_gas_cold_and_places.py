"""Gas under load, in the cold, and where it would lie: laws, and small systems by hand."""

from math import pi

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.gas_pressure import pipe_loss
from specreg.facts.gas_vapour import pressure_over, vapour, wetted_area
from specreg.facts.missing import Missing
from specreg.tables import environment, liquefied_gas

SYSTEM = """
vehicle: {interior: {starts: 1 m, length: 3 m, width: 1.6 m, height: 1.9 m}}
components:
  cylinder: {kind: gas-cylinder, gas: propane, content: 6 kg, size: [300 mm, 300 mm, 500 mm]}
  regulator: {kind: regulator, outlet_pressure: 30 mbar, mounted: on the cylinder}
  manifold: {kind: gas-manifold, ways: {a: {}, b: {}}}
  hob: {kind: hob, gas_flow: 230 g/h, burn_hours_per_day: 1 h}
  heater: {kind: air-heater, burns: propane, gas_flow: 160 g/h, burn_hours_per_day: 2 h, burn_hours_in_winter: 8 h}
runs:
  hose: {medium: gas, from: cylinder/valve, to: regulator, pressure_side: cylinder}
  main: {medium: gas, from: regulator, to: manifold, bore: 8 mm, length: 2 m}
  hob-pipe: {medium: gas, from: manifold/a, to: hob, bore: 6 mm, length: 1 m}
  heater-pipe: {medium: gas, from: manifold/b, to: heater, bore: 6 mm, length: 3 m}
"""
GRAM_PER_HOUR = 1e-3 / 3600


def test_the_main_carries_both_and_each_branch_its_own() -> None:
    """Flows are summed where pipes are shared, and the losses along the way are added."""
    of = Facts(build(SYSTEM))
    assert of.subject("main").carries_at_most == pytest.approx(390 * GRAM_PER_HOUR)
    assert of.subject("hob-pipe").carries_at_most == pytest.approx(230 * GRAM_PER_HOUR)
    main, branch = pipe_loss(390 * GRAM_PER_HOUR, 2, 0.008), pipe_loss(230 * GRAM_PER_HOUR, 1, 0.006)
    hob = of.subject("hob")
    assert hob.gas_pipes == ("main", "hob-pipe")
    assert hob.gas_pressure_loss_least == pytest.approx(main + branch)
    assert hob.gas_pressure_at_it == pytest.approx(3000 - 2 * (main + branch))


def test_what_is_not_stated_of_pipes_is_named() -> None:
    """Every missing bore and length on the way is named at once."""
    text = SYSTEM.replace("bore: 8 mm, length: 2 m", "length: 2 m").replace(
        "bore: 6 mm, length: 1 m", "bore: 6 mm"
    )
    with pytest.raises(Missing) as caught:
        _ = Facts(build(text)).subject("hob").gas_pressure_loss_least
    assert caught.value.fields == ("main.bore", "hob-pipe.length")


def test_winter_days_are_shorter() -> None:
    """230 g and 320 g a day in summer, 230 g and 1280 g in winter."""
    cylinder = Facts(build(SYSTEM)).subject("cylinder")
    assert cylinder.lasts / 86_400 == pytest.approx(6000 / (230 + 320))
    assert cylinder.lasts_in_winter / 86_400 == pytest.approx(6000 / (230 + 1280))


@given(st.floats(min_value=1e-6, max_value=5e-4), st.floats(min_value=0.1, max_value=20))
def test_a_longer_or_narrower_gas_pipe_never_loses_less(flow: float, length: float) -> None:
    """Loss grows with flow and length and falls with bore."""
    here = pipe_loss(flow, length, 0.008)
    assert pipe_loss(flow, 1.5 * length, 0.008) >= here
    assert pipe_loss(1.5 * flow, length, 0.008) >= here * (1 - 1e-12)
    assert pipe_loss(flow, length, 0.007) >= here


KELVIN = st.floats(min_value=225, max_value=315)
SHARE = st.floats(min_value=0, max_value=1)


@given(KELVIN, KELVIN, SHARE)
def test_colder_never_gives_more_vapour(one: float, other: float, share: float) -> None:
    """Colder air gives less pressure and less vapour, whatever the mixture."""
    cold, mild = sorted((one, other))
    assert pressure_over(share, cold) <= pressure_over(share, mild)
    assert vapour(0.2, share, cold) <= vapour(0.2, share, mild)


@given(SHARE, SHARE, KELVIN)
def test_more_propane_never_gives_less(one: float, other: float, kelvin: float) -> None:
    """Propane is the more volatile of the two."""
    less, more = sorted((one, other))
    assert pressure_over(less, kelvin) <= pressure_over(more, kelvin) + 1e-3


@given(st.floats(min_value=0.1, max_value=20), st.floats(min_value=0.1, max_value=20))
def test_a_fuller_cylinder_never_gives_less(one: float, other: float) -> None:
    """More liquid wets more wall."""
    less, more = sorted((one, other))
    assert wetted_area(less, 0.3) <= wetted_area(more, 0.3)


COLD = "use: {places: [{latitude: 50 deg, night_temperature: -10 °C}]}\n"


@pytest.mark.parametrize("size", ["300 mm, 340 mm, 500 mm", "340 mm, 300 mm, 500 mm"])
def test_vapour_of_a_cylinder_by_hand(size: str) -> None:
    """1.8 kg of liquid, three tenths of 6 kg, in a cylinder 0.3 m wide: 10 W/(m²·K) through floor and wetted wall.

    It is taken as wide as its box is on its narrower side, and 428 kJ make a kilogram of vapour.
    """
    floor = pi / 4 * 0.3**2
    wall = pi * 0.3 * (1.8 / environment.constant("propane-liquid-density").value / floor)
    warmth = 10 * (floor + wall) * (263.15 - liquefied_gas.boiling_point(1.0))
    cylinder = Facts(build(SYSTEM.replace("300 mm, 300 mm, 500 mm", size) + COLD)).subject("cylinder")
    with cylinder.van.recording() as frame:
        assert cylinder.vapour_in_the_cold == pytest.approx(warmth / 428e3)
    assert any("three tenths full" in sentence for sentence in frame.assumptions)
    two = Facts(build(SYSTEM.replace("300 mm, 300 mm, 500 mm]", size + "], count: 2") + COLD))
    assert two.subject("cylinder").vapour_in_the_cold == pytest.approx(2 * warmth / 428e3)


@pytest.mark.parametrize(
    ("gas", "share", "said"),
    [
        ("propane", 1.0, False),
        ("butane", 0.0, False),
        ("mixture, propane_share: 40 %", 0.4, True),
    ],
)
def test_the_share_of_propane(gas: str, share: float, said: bool) -> None:
    """As stated for a mixture, whose propane leaves first, which is said; the pressure over it follows."""
    cylinder = Facts(build(SYSTEM.replace("gas: propane", f"gas: {gas}", 1) + COLD)).subject("cylinder")
    with cylinder.van.recording() as frame:
        assert cylinder.share_of_propane == pytest.approx(share)
        assert cylinder.pressure_in_the_cold == pytest.approx(pressure_over(share, 263.15))
    assert any("propane leaves first" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(("gas", "field"), [("mixture", "propane_share"), ("~", "gas")])
def test_what_gas_it_is_is_not_guessed(gas: str, field: str) -> None:
    """The field is named."""
    with pytest.raises(Missing) as caught:
        _ = (
            Facts(build(SYSTEM.replace("gas: propane", f"gas: {gas}", 1)))
            .subject("cylinder")
            .share_of_propane
        )
    assert caught.value.fields == (f"cylinder.{field}",)


def test_butane_fails_in_the_frost() -> None:
    """Below its boiling point butane has no pressure left and gives nothing."""
    text = SYSTEM.replace("gas: propane", "gas: butane")
    text += "use: {places: [{latitude: 50 deg, night_temperature: -5 °C}]}\n"
    cylinder = Facts(build(text)).subject("cylinder")
    assert cylinder.pressure_in_the_cold < 0
    assert cylinder.vapour_in_the_cold == 0


@pytest.mark.parametrize(
    ("opening", "pools"),
    [
        ("", ("hob", "heater", "manifold")),
        ("below: [hob, heater, manifold]", ()),
        ("below: [hob, heater, manifold], closable: true", ("hob", "heater", "manifold")),
        ("below: [hob, heater, manifold], covered_by: a mat", ("hob", "heater", "manifold")),
        ("below: [hob]", ("heater", "manifold")),
        ("zone: galley", ("heater",)),
        ("below: [cupboard]", ("hob", "manifold")),
    ],
)
def test_where_gas_would_lie(opening: str, pools: tuple[str, ...]) -> None:
    """An open drain counts for what it names, its cupboard's things, and its own zone."""
    text = SYSTEM.replace("gas_flow: 230 g/h", "gas_flow: 230 g/h, zone: galley")
    text = text.replace("ways: {a", "zone: galley, ways: {a").replace(
        "gas_flow: 160", "fixed_to: cupboard, gas_flow: 160"
    )
    text = text.replace(
        "vehicle: {", "vehicle: {zones: {galley: {at: [2 m, 0 m, 0 m], size: [1 m, 1 m, 1 m]}}, "
    )
    more = "  cupboard: {kind: cabinet}\n"
    if opening:
        shut = "" if "closable" in opening else ", closable: false"
        more += f"  drain: {{kind: gas-drop-out, {opening}{shut}}}\n"
    of = Facts(build(text.replace("runs:\n", more + "runs:\n")))
    assert of.whole.gas_pools_at == pools


@pytest.mark.parametrize(
    ("part", "pools"),
    [
        ("{kind: gas-valve}", True),
        ("{kind: gas-manifold}", True),
        ("{kind: gas-outlet}", True),
        ("{kind: gas-outlet, outside: false}", True),
        ("{kind: gas-outlet, outside: true}", False),
        ("{kind: regulator}", True),
        ("{kind: regulator, mounted: on the wall}", True),
        ("{kind: regulator, mounted: on the cylinder}", False),
        ("{kind: oven}", True),
        ("{kind: air-heater, burns: diesel}", False),
        ("{kind: water-heater, energies: [mains]}", False),
        ("{kind: portable-stove, burns: butane}", False),
        ("{kind: gas-valve, fixed_to: locker}", False),
        ("{kind: gas-valve, at: [1.4 m, 0.3 m, 0.5 m]}", False),
        ("{kind: gas-valve, at: [2 m, 0.1 m, 0.1 m]}", True),
        ("{kind: gas-valve, fixed_to: body}", True),
        ("{kind: gas-valve, fixed_to: box}", True),
    ],
)
def test_which_parts_leak_into_the_van(part: str, pools: bool) -> None:
    """What is joined or burns gas inside; not what is outside, on the cylinder, in a locker, or burns no gas of the van.

    The drain in the floor names neither place nor part, nor the body, and drains nothing here.
    """
    text = f"""
        components:
          locker: {{kind: gas-locker, at: [1 m, 0 m, 0 m], size: [0.5 m, 0.4 m, 0.6 m]}}
          box: {{kind: cabinet}}
          drain: {{kind: gas-drop-out, closable: false, below: [elsewhere, body]}}
          part: {part}
        """
    assert Facts(build(text)).whole.gas_pools_at == (("part",) if pools else ())


@pytest.mark.parametrize("box", ["at: [1 m, 0 m, 0 m]", "size: [0.5 m, 0.4 m, 0.6 m]"])
def test_in_a_locker_without_a_whole_box_stands_what_says_so(box: str) -> None:
    """A corner or a size alone is no place."""
    text = f"components: {{locker: {{kind: gas-locker, {box}}}, valve: {{kind: gas-valve, at: [1.1 m, 0.1 m, 0.1 m]}}}}"
    assert Facts(build(text)).whole.gas_pools_at == ("valve",)


def test_what_a_locker_lists_stands_in_it() -> None:
    """Wherever its place is given."""
    text = """
        components:
          locker: {kind: gas-locker, at: [1 m, 0 m, 0 m], size: [0.5 m, 0.4 m, 0.6 m], contents: [inside]}
          other: {kind: gas-locker}
          inside: {kind: gas-valve}
          beside: {kind: gas-valve, at: [2 m, 0 m, 0 m]}
        """
    assert Facts(build(text)).whole.gas_pools_at == ("beside",)


def test_a_drain_that_a_word_says_is_bare_drains() -> None:
    """`none` covers nothing; whether it can be shut is asked for."""
    text = "components: {valve: {kind: gas-valve}, drain: {kind: gas-drop-out, below: [valve], covered_by: none%s}}"
    assert Facts(build(text % ", closable: false")).whole.gas_pools_at == ()
    with pytest.raises(Missing) as raised:
        _ = Facts(build(text % "")).whole.gas_pools_at
    assert raised.value.fields == ("drain.closable",)


def test_gas_that_makes_the_air_flammable() -> None:
    """3 m × 1.6 m × 1.9 m of air, 2.15 % of it propane of 0.53 m³/kg."""
    assert Facts(build(SYSTEM)).whole.gas_to_lower_limit == pytest.approx(9.12 * 0.0215 / 0.53, rel=0.005)


def test_every_container_of_gas_is_counted() -> None:
    """Two alike in use, a spare and a fixed tank; the cartridge of a stove is none."""
    text = """
        components:
          pair: {kind: gas-cylinder, count: 2}
          spare: {kind: gas-cylinder, spare: true}
          tank: {kind: gas-tank}
          stove: {kind: portable-stove}
        """
    assert Facts(build(text)).whole.gas_container_count == 4


def test_a_tank_is_not_filled_through_a_flue() -> None:
    """Two heaters hang on the fill pipes of two tanks and share a flue terminal."""
    text = """
        components:
          one: {kind: gas-tank}
          two: {kind: gas-tank}
          left: {kind: gas-filler}
          right: {kind: gas-filler}
          left-tee: {kind: gas-manifold, ways: {a: {}, b: {}}}
          right-tee: {kind: gas-manifold, ways: {a: {}, b: {}}}
          left-heater: {kind: combined-heater, burns: propane}
          right-heater: {kind: combined-heater, burns: propane}
          flue: {kind: flue-terminal}
        runs:
          a: {medium: gas, from: left, to: left-tee}
          b: {medium: gas, from: left-tee/a, to: one/fill}
          c: {medium: gas, from: left-tee/b, to: left-heater}
          d: {medium: gas, from: right, to: right-tee}
          e: {medium: gas, from: right-tee/a, to: two/fill}
          f: {medium: gas, from: right-tee/b, to: right-heater}
          g: {medium: exhaust, from: left-heater/exhaust, to: flue}
          h: {medium: exhaust, from: right-heater/exhaust, to: flue}
        """
    facts = Facts(build(text))
    assert facts.subject("one").fill_points == ("left",)
    assert facts.subject("two").fill_points == ("right",)


def test_fill_points_are_found_on_the_graph() -> None:
    """Only the fill point that a pipe joins to the tank is its own."""
    text = """
        components: {tank: {kind: gas-tank}, mine: {kind: gas-filler}, other: {kind: gas-filler}}
        runs: {pipe: {medium: gas, from: mine, to: tank/fill}}
        """
    assert Facts(build(text)).subject("tank").fill_points == ("mine",)


def test_what_another_tank_is_filled_by_is_not_its_own() -> None:
    """Two tanks on one regulator, each with a fill point: what joins them behind their valves fills neither."""
    text = """
        components:
          one: {kind: gas-tank}
          two: {kind: gas-tank}
          left: {kind: gas-filler}
          right: {kind: gas-filler}
          regulator: {kind: regulator}
        runs:
          a: {medium: gas, from: left, to: one/fill}
          b: {medium: gas, from: right, to: two/fill}
          c: {medium: gas, from: one/valve, to: regulator}
          d: {medium: gas, from: two/valve, to: regulator}
        """
    facts = Facts(build(text))
    assert facts.subject("one").fill_points == ("left",)
    assert facts.subject("two").fill_points == ("right",)


@pytest.mark.parametrize(
    ("stove", "lacks"),
    [
        ("used: outside, stored_in: locker", ()),
        ("used: outside, stored_in: box", ("a place for its cartridges that drains outside",)),
        ("used: outside, stored_in: vented-box", ()),
        (
            "used: inside, indoor_use: false, stored_in: locker",
            (
                "the maker's word for use inside",
                "a high fixed vent",
                "a low fixed vent",
                "a carbon monoxide alarm",
            ),
        ),
    ],
)
def test_what_a_portable_stove_needs(stove: str, lacks: tuple[str, ...]) -> None:
    """Everywhere a place that drains; inside also air, an alarm and the maker's word."""
    text = f"""
        components:
          locker: {{kind: gas-locker}}
          box: {{kind: cabinet}}
          vented-box: {{kind: cabinet}}
          grille: {{kind: vent, surface: floor, closable: false, opens_into: vented-box}}
          stove: {{kind: portable-stove, {stove}}}
        """
    assert Facts(build(text)).subject("stove").lacks_for_its_use == lacks


@pytest.mark.parametrize(
    ("opening", "drains"),
    [
        ("{kind: vent, surface: floor, closable: false, opens_into: box}", True),
        ("{kind: vent, surface: floor, closable: false, opens_into: box, covered_by: none}", True),
        ("{kind: vent, surface: floor, closable: false, opens_into: box, covered_by: crate}", False),
        ("{kind: vent, surface: floor, closable: true, opens_into: box}", False),
        ("{kind: vent, surface: floor, closable: false, opens_into: other}", False),
        ("{kind: vent, surface: floor, closable: false}", False),
        ("{kind: vent, surface: left wall, closable: false, opens_into: box}", False),
        ("{kind: gas-drop-out, closable: false, below: [box]}", True),
        ("{kind: gas-drop-out, closable: false, below: [stove]}", True),
        ("{kind: gas-drop-out, closable: false, below: [other]}", False),
        ("{kind: gas-drop-out, closable: true, below: [box]}", False),
        ("{kind: gas-drop-out, closable: false, below: [box], covered_by: crate}", False),
    ],
)
def test_a_box_for_cartridges_drains_through_its_floor_only(opening: str, drains: bool) -> None:
    """By an opening of its own in the floor that is always open: gas falls, and what covers a hole shuts it."""
    text = f"""
        components:
          box: {{kind: cabinet}}
          other: {{kind: cabinet}}
          opening: {opening}
          stove: {{kind: portable-stove, used: outside, stored_in: box}}
        """
    assert Facts(build(text)).subject("stove").stored_where_gas_drains is drains


STOVE_INSIDE = {
    "the maker's word for use inside": "",
    "a high fixed vent": "high: {kind: vent, surface: roof, closable: false, free_area: 100 cm²}",
    "a low fixed vent": "low: {kind: vent, surface: floor, closable: false, free_area: 20 cm²}",
    "a carbon monoxide alarm": "alarm: {kind: co-alarm}",
    "a place for its cartridges that drains outside": "place: {kind: gas-locker}",
}


@pytest.mark.parametrize("gone", STOVE_INSIDE)
def test_each_thing_that_a_stove_inside_lacks_is_named(gone: str) -> None:
    """Of all that it needs one is taken away."""
    word = "false" if gone == "the maker's word for use inside" else "true"
    listed = [line for name, line in STOVE_INSIDE.items() if name != gone and line]
    listed.append("place: {kind: cabinet}" if gone.startswith("a place") else "lamp: {kind: strip-light}")
    listed.append(f"stove: {{kind: portable-stove, used: inside, indoor_use: {word}, stored_in: place}}")
    facts = Facts(build("components:\n" + "".join(f"  {line}\n" for line in listed)))
    assert facts.subject("stove").lacks_for_its_use == (gone,)


def test_a_stove_inside_with_all_it_needs() -> None:
    """Air high and low, an alarm, the maker's word and a place that drains leave nothing to ask."""
    text = """
        components:
          locker: {kind: gas-locker}
          high: {kind: vent, surface: roof, position: high, closable: false, free_area: 100 cm²}
          low: {kind: vent, surface: floor, position: low, closable: false, free_area: 20 cm²}
          alarm: {kind: co-alarm}
          stove: {kind: portable-stove, used: inside, indoor_use: true, stored_in: locker}
        """
    assert Facts(build(text)).subject("stove").lacks_for_its_use == ()


@pytest.mark.parametrize(
    ("plate", "outlet", "fits"),
    [
        ("30 mbar", "30 mbar", True),
        ("30 mbar", "37 mbar", False),
        ("28-30/37 mbar", "37 mbar", True),
        ("28-30/37 mbar", "50 mbar", False),
        ("50 mbar", "30 mbar", False),
        ("11 inWC", "11 inWC", True),
        ("2.75 kPa", "11 inWC", True),
        ("11 inWC", "30 mbar", False),
    ],
)
def test_plates_against_regulators(plate: str, outlet: str, fits: bool) -> None:
    """A plate fits the pressures that it names, whatever unit it is written in."""
    text = SYSTEM.replace("gas_flow: 230 g/h", f"gas_flow: 230 g/h, working_pressure: {plate}")
    of = Facts(build(text.replace("outlet_pressure: 30 mbar", f"outlet_pressure: {outlet}")))
    assert of.subject("hob").pressure_fits is fits


@pytest.mark.parametrize(("place", "kept"), [("locker", True), ("none", True), ("box", False)])
def test_where_a_cylinder_stands(place: str, kept: bool) -> None:
    """Only a gas locker, or outside, keeps it from the living space."""
    text = f"""
        components:
          locker: {{kind: gas-locker}}
          box: {{kind: cabinet}}
          cylinder: {{kind: gas-cylinder, locker: {place}}}
        """
    assert Facts(build(text)).subject("cylinder").kept_from_the_living_space is kept
