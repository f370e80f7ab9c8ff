"""How soon each thing freezes, worked by hand, and what is neither water nor told.

Standing water of a volume V with a surface A, 1 K of which holds 998.21 kg/m³ · 4186 J/(kg·K) · V, cools from
10 °C to 0 °C in air of −10 °C in that · R/A · ln(20/10). A pipe's V/A is a quarter of its bore.
"""

from math import log

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts

COLD = "use: {places: [{latitude: 50 deg, night_temperature: -10 °C}]}"
HEAT = 998.21 * 4186
HALVING = log(2)


def frozen(components: str, runs: str = "{}", use: str = COLD) -> Facts:
    """A van in the cold of some components and runs."""
    return Facts(build(f"{use}\ncomponents:\n  {components}\nruns: {runs}"))


@pytest.mark.parametrize(
    ("stated", "place", "resistance"),
    [
        ("outside: true", "outside, bare", 0.1),
        ("outside: true, insulated: true", "outside, insulated", 0.46),
        ("insulated: false", "inside, bare", 0.6),
        ("outside: false, insulated: true", "inside, insulated", 0.96),
    ],
)
def test_a_pipe_of_12_mm_by_hand(stated: str, place: str, resistance: float) -> None:
    """V/A = 3 mm, whatever its length: bare and outside 14 minutes and a half, inside and insulated over two hours."""
    runs = f"{{pipe: {{medium: water, from: tank/outlet, to: pump/inlet, bore: 12 mm, {stated}}}}}"
    order = frozen("tank: {kind: fresh-tank, volume: 70 L}\n  pump: {kind: pump}", runs).whole.freeze_order
    (found,) = [one for one in order if one.name == "pipe"]
    assert (found.place, found.time) == (place, pytest.approx(HEAT * 0.003 * resistance * HALVING))


@pytest.mark.parametrize(
    ("part", "place", "resistance", "depth"),
    [
        # A cube of 64 L has edges of 0.4 m: V/A is a sixth of them.
        ("kind: fresh-tank, volume: 64 L, heated_space: false", "outside", 0.1, 0.4 / 6),
        ("kind: fresh-tank, volume: 64 L, heated_space: true", "inside", 0.6, 0.4 / 6),
        ("kind: fresh-tank, volume: 64 L", "inside", 0.6, 0.4 / 6),
        # 1.0 × 0.5 × 0.2 m have 2 · (0.5 + 0.1 + 0.2) = 1.6 m²; 80 L in them.
        ("kind: grey-tank, volume: 80 L, size: [1 m, 500 mm, 200 mm]", "inside", 0.6, 0.08 / 1.6),
        ("kind: grey-tank, volume: 80 L, size: [1 m, 500 mm, 200 mm], count: 2", "inside", 0.6, 0.08 / 1.6),
        # Its middle below the load floor, and just above it; what is stated comes first.
        ("kind: grey-tank, volume: 64 L, at: [0 m, 0 m, -1 mm]", "outside", 0.1, 0.4 / 6),
        ("kind: grey-tank, volume: 64 L, at: [0 m, 0 m, 0 m]", "inside", 0.6, 0.4 / 6),
        ("kind: grey-tank, volume: 64 L, at: [0 m, 0 m, -1 m], heated_space: true", "inside", 0.6, 0.4 / 6),
        ("kind: grey-tank, volume: 64 L, at: [0 m, 0 m, 1 m], heated_space: false", "outside", 0.1, 0.4 / 6),
        ("kind: cassette, volume: 64 L", "inside", 0.6, 0.4 / 6),
        ("kind: water-heater, energies: [mains], volume: 8 L", "inside", 0.6, 0.2 / 6),
        ("kind: combined-heater, burns: diesel, water_volume: 8 L", "inside", 0.6, 0.2 / 6),
        ("kind: accumulator, volume: 1 L", "inside", 0.6, 0.1 / 6),
        # 0.2 L where nothing is said, as a cube: a pump's box is not full of water, nor is a sink.
        ("kind: water-heater, energies: [mains]", "inside", 0.6, 0.2e-3 ** (1 / 3) / 6),
        ("kind: pump", "inside", 0.6, 0.2e-3 ** (1 / 3) / 6),
        ("kind: pump, size: [200 mm, 100 mm, 100 mm], count: 2", "inside", 0.6, 0.2e-3 ** (1 / 3) / 6),
        (
            "kind: sink, trap: siphon, volume: 8 L, size: [400 mm, 300 mm, 150 mm]",
            "inside",
            0.6,
            0.2e-3 ** (1 / 3) / 6,
        ),
    ],
)
def test_a_vessel_by_hand(part: str, place: str, resistance: float, depth: float) -> None:
    """By its volume over its surface, one of several alike as any other of them."""
    (found,) = frozen(f"part: {{{part}}}").whole.freeze_order
    assert (found.name, found.place) == ("part", place)
    assert found.time == pytest.approx(HEAT * depth * resistance * HALVING)


def test_soonest_first_and_of_equals_by_name() -> None:
    """The smaller vessel is first, wherever it is in the spec."""
    big, small = "kind: fresh-tank, volume: 70 L", "kind: accumulator, volume: 1 L"
    order = frozen(f"z: {{{big}}}\n  c: {{{small}}}\n  b: {{{small}}}\n  a: {{{big}}}").whole.freeze_order
    assert [one.name for one in order] == ["b", "c", "a", "z"]


CIRCUIT = """tank: {kind: fresh-tank, volume: 70 L}
  pump: {kind: pump}
  vent: {kind: tank-vent}
  heater: {kind: hydronic-heater, burns: diesel}
  radiator: {kind: radiator}
  header: {kind: coolant-tank, volume: 1 L}
  sink: {kind: sink, trap: waterless valve}
  hatch: {kind: vent}"""
RUNS = """{
  suction: {medium: water, from: tank/outlet, to: pump/inlet, bore: 10 mm, length: 1 m, lowest: -50 mm},
  air: {medium: water, from: tank/vent, to: vent, bore: 10 mm},
  flow: {medium: water, from: heater/coolant-out, to: radiator/coolant-in, bore: 16 mm, lowest: -1 m, length: 1 m},
  back: {medium: water, from: radiator/coolant-out, to: heater/coolant-in, bore: 16 mm}}"""


def test_neither_coolant_nor_air_freezes_like_water() -> None:
    """Coolant has a freezing point of its own, a vent pipe holds air, and a dry trap no water."""
    order = frozen(CIRCUIT, RUNS).whole.freeze_order
    assert [one.name for one in order] == ["suction", "pump", "tank"]


def test_what_does_not_say_how_much_it_holds_is_named() -> None:
    """A tank of unknown volume is not the first to freeze, and a pipe of unknown bore no pipe that cannot."""
    van = frozen(
        "tank: {kind: fresh-tank}\n  grey: {kind: grey-tank}\n  pump: {kind: pump}",
        "{suction: {medium: water, from: tank/outlet, to: pump/inlet}}",
    )
    with van.recording() as frame:
        assert [one.name for one in van.whole.freeze_order] == ["pump"]
    said = [text for text in frame.assumptions if "not counted" in text]
    assert sorted(said) == [
        "no bore is stated for suction: not counted",
        "no volume is stated for tank, grey: not counted",
    ]
    assert any("an order, no promise" in text for text in frame.assumptions)


def test_all_told_leaves_nothing_to_name() -> None:
    """Nothing is said of volumes and bores."""
    van = frozen(CIRCUIT, RUNS)
    with van.recording() as frame:
        _ = van.whole.freeze_order
    assert not [text for text in frame.assumptions if "not counted" in text]


@pytest.mark.parametrize(("night", "freezes"), [("-0.1 °C", True), ("0 °C", False), ("0.1 °C", False)])
def test_the_night_from_which_on_it_freezes(night: str, freezes: bool) -> None:
    """Below 0 °C only."""
    use = COLD.replace("-10 °C", night)
    assert bool(frozen("tank: {kind: fresh-tank, volume: 70 L}", use=use).whole.freeze_order) is freezes


def test_low_points_of_coolant_are_no_water_left_behind() -> None:
    """Of what sags only the water's own pipe counts; a vent, whose lowest point nobody states, is named."""
    placed = CIRCUIT.replace("kind: ", "at: [1 m, 0 m, 100 mm], kind: ")
    van = frozen(placed, RUNS.replace("bore: 10 mm, length: 1 m", "bore: 20 mm, length: 3 m"))
    with van.recording() as frame:
        (left,) = van.whole.left_in_low_points
    # π/4 · (0.02 m)² · 3 m
    assert (left.name, left.volume) == ("suction", pytest.approx(0.94248e-3, rel=1e-5))
    said = [text for text in frame.assumptions if "not counted" in text]
    assert said == ["no lowest point is stated for air: not counted"]
    told = RUNS.replace("vent, bore: 10 mm", "vent, bore: 10 mm, lowest: 1 m")
    waste = told[:-1] + ",\n  foul: {medium: waste, from: sink, to: out}}"
    van = frozen(placed + "\n  out: {kind: drain-outlet}", waste)
    with van.recording() as frame:
        assert [one.name for one in van.whole.left_in_low_points] == ["suction"]
    assert not [text for text in frame.assumptions if "not counted" in text], "a waste pipe need not say"
