"""What a spec says of sides, windows, heaters and vents, and what follows from it for a night."""

from functools import cache

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.heat_shell import Part
from specreg.facts.missing import Missing
from specreg.facts.registry import kinds_for

BOX = "vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}}\n"
COLD = (
    "use: {people: {adults: 2}, inside_temperature: 20 °C, night: 8 h, "
    "places: [{latitude: 46 deg, months: [1], night_temperature: 0 °C}]}\n"
)
FOAM = "material: foam, conductivity: 0.04 W/(m·K), thickness: 40 mm, bridged_by_metal: 0 %"
ROOF = f"components:\n  roof-foam: {{kind: insulation-layer, surface: roof, {FOAM}}}\n"


@cache
def van(components: str = ROOF, head: str = BOX) -> Facts:
    return Facts(build(head + COLD + components))


def part(name: str, components: str = ROOF, head: str = BOX) -> Part:
    parts: tuple[Part, ...] = van(components, head).whole.shell_parts
    return next(one for one in parts if one.name == name)


def assumptions(whole: Subject, fact: str) -> tuple[str, ...]:
    return whole.van.ask(whole, kinds_for(type(whole.model))[fact]).assumptions


def test_a_side_that_is_not_measured_is_told_with_a_bracket() -> None:
    """Ten per cent either way about length × width of the box."""
    assert (part("roof").area_least, part("roof").area_greatest) == pytest.approx((5.4, 6.6))
    assert any("roof: area taken from the box" in text for text in assumptions(van().whole, "shell_parts"))


def test_a_stated_area_has_no_bracket() -> None:
    measured = BOX.replace("height: 2 m}", "height: 2 m}, shell: {roof: 5 m²}")
    assert part("roof", head=measured).area_least == part("roof", head=measured).area_greatest == 5


def test_a_window_takes_its_area_from_the_side() -> None:
    """Half a square metre of pane leaves so much less wall, in count and all."""
    window = "  pane: {kind: fixed-window, surface: left wall, area: 0.25 m², heat_transfer: 3 W/(m²·K), count: 2}\n"
    plain, cut = part("left wall"), part("left wall", ROOF + window)
    assert plain.area_least - cut.area_least == pytest.approx(0.5)
    assert part("pane", ROOF + window).area_least == 0.5


def test_a_blind_lowers_the_least_loss_of_a_window_only() -> None:
    window = (
        "  pane: {kind: fixed-window, surface: left wall, area: 0.5 m², heat_transfer: 3 W/(m²·K)}\n"
        "  blind: {kind: curtain, covers: [pane], u_value: 1.5 W/(m²·K)}\n"
    )
    found = part("pane", ROOF + window)
    assert (found.u_least, found.u_greatest) == (1.5, 3.0)


def test_a_window_without_a_figure_lies_between_a_double_and_a_single_pane() -> None:
    found = part("pane", ROOF + "  pane: {kind: fixed-window, surface: left wall, area: 0.5 m²}\n")
    assert (found.u_least, found.u_greatest) == (2.6, 5.9)


@pytest.mark.parametrize(
    ("layer", "least", "greatest"),
    [
        (FOAM, 1 / 1.14, 1 / 1.14),
        (FOAM.replace("0 %", "10 %"), 1 / 1.14, 0.9 / 1.14 + 0.1 / 0.14),
        (FOAM.replace(", bridged_by_metal: 0 %", ""), 1 / 1.14, 0.85 / 1.14 + 0.15 / 0.14),
        (
            FOAM + ", area: 3 m²",
            (3 / 5.4) / 1.14 + (1 - 3 / 5.4) / 0.14,
            (3 / 6.6) / 1.14 + (1 - 3 / 6.6) / 0.14,
        ),
        ("heat_transfer: 0.9 W/(m²·K), material: foam, thickness: 40 mm", 0.9, 0.9),
        ("material: moon dust, thickness: 40 mm, bridged_by_metal: 0 %", 1 / 0.14, 1 / 0.14),
    ],
)
def test_layers_ribs_and_bare_patches(layer: str, least: float, greatest: float) -> None:
    """By hand: R 1 of foam and 0.14 of both surfaces of a roof; ribs and bare sheet have 0.14 alone."""
    found = part("roof", f"components:\n  foam: {{kind: insulation-layer, surface: roof, {layer}}}\n")
    assert (found.u_least, found.u_greatest) == pytest.approx((least, greatest))


def test_a_lining_adds_its_boards_unless_layers_tell_them() -> None:
    """4 mm of poplar of 0.13 W/(m·K) are counted once, whichever way they are written."""
    lining = (
        "  lining: {kind: lining, surface: ceiling, layers: [{material: poplar plywood, thickness: 4 mm}]}\n"
    )
    layer = "  board: {kind: insulation-layer, surface: roof, order: 2, role: lining, material: poplar plywood, thickness: 4 mm}\n"
    once = 1 / (1.14 + 0.004 / 0.13)
    for components in (ROOF + lining, ROOF + layer, ROOF + lining + layer):
        assert part("roof", components).u_least == pytest.approx(once)


def test_what_has_no_layer_is_bare_and_says_so() -> None:
    assert part("left wall").u_least == pytest.approx(1 / 0.17)
    assert any("without layers" in text for text in assumptions(van().whole, "shell_parts"))


def test_nothing_listed_is_unknown_not_bare() -> None:
    """A spec that says nothing of insulation gets no figure."""
    with pytest.raises(Missing):
        _ = van("components: {lamp: {kind: strip-light}}\n").whole.least_heat_loss


def test_a_side_door_is_taken_from_its_wall() -> None:
    door = "  door: {kind: exit, form: sliding door, where: side, opening_width: 1 m, opening_height: 1.5 m, at: [1 m, -1 m, 0 m]}\n"
    assert part("left wall", ROOF + door).area_least == pytest.approx(0.9 * (6 - 1.5))
    assert part("right wall", ROOF + door).area_least == pytest.approx(0.9 * 6)
    assert part("side door", ROOF + door).area_least == pytest.approx(1.5)


HYDRONIC = (
    "  heater: {kind: hydronic-heater, burns: diesel, output: 5 kW}\n"
    "  front: {kind: radiator, output: 2 kW}\n  rear: {kind: radiator, output: 1.5 kW}\n"
)


@pytest.mark.parametrize(
    ("heaters", "output"),
    [
        ("  heater: {kind: air-heater, burns: diesel, output: 2 kW}\n", 2000),
        ("  heater: {kind: air-heater, burns: diesel, output: 2 kW, count: 2}\n", 4000),
        (HYDRONIC, 3500),
        ("  mat: {kind: electric-heater, energy: dc, power: 120 W}\n", 120),
    ],
)
def test_what_the_heaters_give(heaters: str, output: float) -> None:
    """Radiators limit a hydronic heater; electric heat counts on the battery."""
    assert van(ROOF + heaters).whole.heater_output == output


def test_mains_heat_counts_on_hook_up_only() -> None:
    whole = van(ROOF + "  fan-heater: {kind: electric-heater, mains_power: 1 kW}\n").whole
    assert whole.hook_up_heat == 1000
    assert whole.sleeping_heaters == ()
    assert whole.get("heater_output") is None


ENGINE = """
  tap: {kind: engine-coolant-takeoff}
  exchanger: {kind: heat-exchanger, output: 3 kW}
  front: {kind: radiator, output: 2 kW}
  rear: {kind: radiator, output: 2 kW}
runs:
  out: {medium: water, from: tap/engine-coolant-flow, to: exchanger/engine-coolant-in}
  back: {medium: water, from: exchanger/engine-coolant-out, to: tap/engine-coolant-return}
  one: {medium: water, from: exchanger/coolant-out, to: front/coolant-in}
  two: {medium: water, from: front/coolant-out, to: rear/coolant-in}
  three: {medium: water, from: rear/coolant-out, to: exchanger/coolant-in}
"""


def test_the_engine_heats_by_its_exchanger_under_way() -> None:
    """Two radiators of 2 kW behind an exchanger that passes 3 kW on; at night there is none of it."""
    whole = van(ROOF + ENGINE).whole
    assert whole.engine_heat == 3000
    assert whole.sleeping_heaters == ()
    assert van().whole.engine_heat == 0


def test_gas_of_a_night_follows_the_heat() -> None:
    """A gas heater that cannot keep up burns its 160 g/h for eight hours."""
    heater = "  heater: {kind: combined-heater, burns: propane, output: 100 W, gas_flow: 160 g/h}\n"
    whole = van(ROOF + heater).whole
    assert whole.greatest_gas_of_a_night == pytest.approx(1.28)
    assert whole.greatest_fuel_of_a_night == 0


def test_a_tank_heats_whole_and_half_nights() -> None:
    """20 L less the 8 that the take-off leaves, at 8 h × 0.25 L/h: six nights."""
    heater = (
        "  heater: {kind: air-heater, burns: diesel, output: 100 W, fuel_flow: 0.25 L/h}\n"
        "  tank: {kind: fuel-tank, volume: 20 L}\n  tap: {kind: fuel-takeoff, reserve_left: 8 L}\n"
    )
    assert van(ROOF + heater).whole.nights_of_heating_fuel == 6


def test_ducts_and_their_outlets() -> None:
    """A duct that branches: both branches count; one outlet stays open."""
    text = (
        ROOF
        + """
  heater: {kind: air-heater, burns: diesel, output: 2 kW, draws_from: living space}
  branch: {kind: duct-branch}
  bed-outlet: {kind: air-outlet, closable: true}
  floor-outlet: {kind: air-outlet, closable: false}
  room-air: {kind: air-intake, draws_from: engine space}
runs:
  trunk: {medium: air, from: heater/warm-air, to: branch/in, length: 1 m}
  left: {medium: air, from: branch/1, to: bed-outlet, length: 2 m}
  right: {medium: air, from: branch/2, to: floor-outlet, length: 0.5 m}
  back: {medium: air, from: room-air, to: heater/room-air, length: 0.3 m}
"""
    )
    heater = van(text).subject("heater")
    assert heater.warm_duct_length == pytest.approx(3.5)
    assert heater.outlets_always_open == ("floor outlet",)
    assert heater.warms_clean_air is False, "the duct from the engine space decides, not what is stated"


@pytest.mark.parametrize(
    ("share", "celsius"), [("0 %", 0), ("29 %", -8), ("30 %", -15), ("50 %", -36), ("60 %", -36)]
)
def test_coolant(share: str, celsius: float) -> None:
    tank = van(ROOF + f"  header: {{kind: coolant-tank, antifreeze: {share}}}\n").subject("header")
    assert tank.coolant_freezes - 273.15 == pytest.approx(celsius)


def test_stated_humidity_takes_the_place_of_the_balance() -> None:
    """20 °C at 60 %: 12.0 °C at both ends."""
    stated = COLD.replace("night: 8 h", "night: 8 h, inside_humidity: 60 %")
    whole = Facts(build(BOX + stated + ROOF)).whole
    assert whole.least_dew_point == whole.greatest_dew_point
    assert whole.least_dew_point - 273.15 == pytest.approx(12.0, abs=0.05)


@pytest.mark.parametrize(
    ("layer", "wet"),
    [
        ("material: glass wool, thickness: 40 mm", ("roof",)),
        ("material: closed cell elastomeric foam, thickness: 40 mm", ()),
        ("material: glass wool, thickness: 40 mm}\n  foil: {kind: insulation-layer, surface: roof, order: 2, role: vapour barrier, material: hard polyethylene, thickness: 0.2 mm", ()),
    ],
)  # fmt: skip
def test_open_insulation_lets_inside_air_to_the_skin(layer: str, wet: tuple[str, ...]) -> None:
    components = f"components:\n  wool: {{kind: insulation-layer, surface: roof, {layer}}}\n"
    heater = "  heater: {kind: air-heater, burns: diesel, output: 2 kW}\n"
    assert van(components + heater).whole.wet_skins == wet


def test_wet_things_add_to_the_water_of_a_night() -> None:
    """300 g of drying on top of two sleepers' 800 g."""
    drying = COLD.replace("night: 8 h", "night: 8 h, drying: 300 g")
    assert Facts(build(BOX + drying + ROOF)).whole.water_of_a_night == pytest.approx(1.1)


def test_a_window_on_its_catch_lets_air_both_in_and_out() -> None:
    """One upright opening alone passes air by its lower and upper half; shut, nothing moves but leaks."""
    window = "  pane: {kind: opening-window, surface: left wall, area: 0.3 m², night_area: 100 cm², at: [1 m, -1 m, 1 m], size: [600 mm, 40 mm, 400 mm]}\n"
    whole = van(ROOF + window).whole
    assert whole.least_night_air == 0
    assert whole.least_aired_night > 0
    assert whole.aired_morning_co2 < whole.greatest_morning_co2


def test_an_unheated_van_is_hardly_warmer_than_outside() -> None:
    """Without a heater and without a stated temperature: 2 K."""
    cold = COLD.replace("inside_temperature: 20 °C, ", "")
    whole = Facts(build(BOX + cold + ROOF)).whole
    assert whole.sleeping_temperature - whole.design_temperature == pytest.approx(2)
    assert whole.design_difference == pytest.approx(18), "what heating would have to do is told all the same"


ODD = {
    "no length": BOX.replace("length: 3 m", "length: 0 m") + COLD + ROOF,
    "no conductivity": BOX + COLD + ROOF.replace("0.04 W", "0 W"),
    "no thickness": BOX + COLD + ROOF.replace("40 mm", "0 mm"),
    "no humidity": BOX + COLD.replace("night: 8 h", "inside_humidity: 0 %") + ROOF,
    "no night": BOX + COLD.replace("night: 8 h", "night: 0 h") + ROOF,
    "warm outside": BOX + COLD.replace("night_temperature: 0 °C", "night_temperature: 40 °C") + ROOF,
    "nobody": BOX + COLD.replace("adults: 2", "adults: 0") + ROOF,
    "no transmittance": BOX
    + COLD
    + ROOF
    + "  pane: {kind: fixed-window, area: 1 m², heat_transfer: 0 W/(m²·K)}\n",
    "heater without output": BOX
    + COLD
    + ROOF
    + "  heater: {kind: air-heater, output: 0 W, fuel_flow: 0 L/h}\n",
    "all glass": BOX + COLD + ROOF + "  pane: {kind: fixed-window, surface: roof, area: 90 m²}\n",
    "closed box": BOX.replace("height: 2 m}", "height: 2 m}, shell: {leakage: 0 m³/h}") + COLD + ROOF,
    "nothing said": "components: {lamp: {kind: strip-light}}\n",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
def test_an_odd_spec_gives_figures_or_what_is_missing_and_never_a_fault(text: str) -> None:
    whole = Facts(build(text)).whole
    for kind in kinds_for(type(whole.model)).values():
        if kind.compute.__module__.rpartition(".")[2] in MODULES:
            found = whole.van.ask(whole, kind)
            assert found.known or found.missing or found.reason


MODULES = (
    "air_stream",
    "condensation",
    "design_climate",
    "heat_loss",
    "heat_shell",
    "heater_size",
    "sleeping_air",
)


def test_children_and_dogs_breathe_too() -> None:
    """By the table: less for a child than for an adult; a dog of 30 kg about half a person's."""

    def of(people: str) -> float:
        text = (
            f"{BOX}use: {{people: {people}, dog_mass: 30 kg}}\ncomponents: {{lamp: {{kind: strip-light}}}}\n"
        )
        return float(Facts(build(text)).whole.greatest_morning_co2)

    one, child, dog = of("{adults: 1}"), of("{adults: 1, children: 1}"), of("{adults: 1, dogs: 1}")
    assert one < child < of("{adults: 2}")
    assert one < dog < of("{adults: 2}")
