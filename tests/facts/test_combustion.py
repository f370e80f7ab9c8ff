"""Flues, combustion air and where exhaust leaves: cases on the graph, distances by geometry."""

from math import inf

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

HEATER = """
components:
  heater: {kind: air-heater, burns: diesel}
  silencer: {kind: duct-silencer}
  intake: {kind: air-intake, draws_from: outside}
  terminal: {kind: flue-terminal}
runs:
  air-1: {medium: air, from: intake, to: silencer}
  air-2: {medium: air, from: silencer, to: heater/combustion-air}
  flue: {medium: exhaust, from: heater/exhaust, to: terminal}
"""


@pytest.mark.parametrize(
    ("change", "terminals", "outside", "room_air"),
    [
        (("", ""), ("terminal",), True, False),
        (
            ("  air-2: {medium: air, from: silencer, to: heater/combustion-air}\n", ""),
            ("terminal",),
            False,
            True,
        ),
        (("  flue: {medium: exhaust, from: heater/exhaust, to: terminal}\n", ""), (), True, True),
        (("draws_from: outside", "draws_from: living space"), ("terminal",), False, True),
        (("draws_from: outside", "draws_from: engine space"), ("terminal",), False, True),
    ],
    ids=["whole", "no duct", "no flue", "draws from the room", "draws from the engine space"],
)
def test_a_flue_is_room_sealed_only_when_both_ends_are_outside(
    change: tuple[str, str], terminals: tuple[str, ...], outside: bool, room_air: bool
) -> None:
    """Whatever is said of it: the ducts are followed through what sits in them."""
    heater = Facts(build(HEATER.replace(*change) if change[0] else HEATER)).subject("heater")
    assert heater.flue == "room-sealed"
    assert heater.flue_terminals == terminals
    assert heater.air_from_outside is outside
    assert heater.needs_room_air is room_air


@pytest.mark.parametrize(
    ("second", "outside"), [("outside", True), ("living space", False), ("engine space", False)]
)
def test_every_intake_must_draw_from_outside(second: str, outside: bool) -> None:
    """Of two ducts on one heater, one into the room is enough for it to burn the room's air."""
    text = HEATER.replace("components:", f"components:\n  second: {{kind: air-intake, draws_from: {second}}}")
    text += "  air-3: {medium: air, from: second, to: heater/combustion-air}\n"
    heater = Facts(build(text)).subject("heater")
    assert heater.combustion_intakes == ("intake", "second")
    assert heater.air_from_outside is outside
    assert heater.needs_room_air is not outside


def test_a_neighbour_on_the_same_intake_lends_no_flue() -> None:
    """Two heaters draw through one intake; only one has a flue, so the other blows into the room."""
    text = HEATER.replace("components:", "components:\n  other: {kind: air-heater, burns: diesel}")
    text += "  air-3: {medium: air, from: silencer, to: other/combustion-air}\n"
    facts = Facts(build(text))
    assert facts.subject("heater").flue_terminals == ("terminal",)
    assert facts.subject("other").flue_terminals == ()
    assert facts.subject("other").combustion_intakes == ("intake",)
    assert facts.whole.room_air_appliances == ("other",)


def test_an_unknown_intake_leaves_the_matter_open() -> None:
    """Nobody guesses where it draws from."""
    heater = Facts(build(HEATER.replace(", draws_from: outside", ""))).subject("heater")
    with pytest.raises(Missing) as raised:
        _ = heater.needs_room_air
    assert raised.value.fields == ("intake.draws_from",)


@pytest.mark.parametrize(
    ("component", "flame", "gas", "room_air"),
    [
        ("{kind: hob}", True, True, True),
        ("{kind: water-heater, energies: [mains]}", False, False, False),
        ("{kind: water-heater, energies: [gas, mains]}", True, True, True),
        ("{kind: water-heater, energies: [diesel, mains]}", True, False, True),
        ("{kind: portable-stove, burns: butane, used: outside}", True, True, False),
        ("{kind: portable-stove, burns: methylated spirit, used: inside}", True, False, True),
        ("{kind: combined-heater, burns: propane, flue_type: open-flued}", True, True, True),
    ],
)
def test_what_burns_and_whose_air(component: str, flame: bool, gas: bool, room_air: bool) -> None:
    """An electric water heater burns nothing; a stove used outside burns no room air."""
    thing = Facts(build(f"components: {{thing: {component}}}")).subject("thing")
    assert (thing.has_flame, thing.burns_gas, thing.needs_room_air) == (flame, gas, room_air)


def placed(terminal: str, opening: str, more: str = "") -> Facts:
    """A flue terminal of 0.1 m and an opening of 0.2 m at two places."""
    return Facts(
        build(
            "components:\n"
            f"  terminal: {{kind: flue-terminal, exits: left, at: {terminal}, size: [0.1 m, 0.1 m, 0.1 m]{more}}}\n"
            f"  window: {{kind: opening-window, at: {opening}, size: [0.2 m, 0.2 m, 0.2 m]}}\n"
        )
    )


@pytest.mark.parametrize(
    ("opening", "more", "near"),
    [
        ("[0.6 m, 0 m, 0 m]", "", False),  # a gap of exactly 0.5 m along
        ("[0.59 m, 0 m, 0 m]", "", True),
        ("[0.4 m, 0.5 m, 0 m]", "", False),  # 0.3 along and 0.4 across: 0.5 m by Pythagoras
        ("[0.4 m, 0.49 m, 0 m]", "", True),
        ("[0.6 m, 0 m, 0 m]", ", least_distance_to_openings: 600 mm", True),  # the maker asks for more
        (
            "[0.59 m, 0 m, 0 m]",
            ", least_distance_to_openings: 100 mm",
            True,
        ),  # asking for less changes nothing
    ],
)
def test_openings_near_the_exhaust(opening: str, more: str, near: bool) -> None:
    """The straight gap between the boxes against 500 mm, or the maker's figure where it is greater."""
    found = placed("[0 m, 0 m, 0 m]", opening, more).subject("terminal").openings_too_near
    assert [item.name for item in found] == (["window"] if near else [])


def test_a_roof_flue_keeps_300_mm() -> None:
    """The distance on the roof is the smaller one."""
    text = "components: {terminal: {kind: flue-terminal, exits: roof}}"
    assert Facts(build(text)).subject("terminal").opening_distance_due == 0.3


metres = st.integers(min_value=-3000, max_value=3000).map(lambda mm: mm / 1000)


@given(st.tuples(metres, metres, metres), st.tuples(metres, metres, metres))
def test_moving_both_changes_no_distance(first: tuple[float, ...], shift: tuple[float, ...]) -> None:
    """Distances do not depend on where the frame begins."""
    apart = (0.45, 0.1, 0.2)

    def written(place: tuple[float, ...]) -> str:
        return "[" + ", ".join(f"{value:.3f} m" for value in place) + "]"

    def near(origin: tuple[float, ...]) -> float:
        other = tuple(a + b for a, b in zip(origin, apart, strict=True))
        (found,) = placed(written(origin), written(other)).subject("terminal").openings_too_near
        return float(found.distance)

    moved = tuple(a + b for a, b in zip(first, shift, strict=True))
    assert near(first) == pytest.approx(near(moved), abs=1e-6)
    assert near(first) == pytest.approx((0.35**2 + 0.1**2) ** 0.5, abs=1e-6)


def test_an_opening_without_a_place_leaves_the_distance_open() -> None:
    """Unless another one is known to be too near, which decides."""
    far = "  terminal: {kind: flue-terminal, exits: left, at: [0 m, 0 m, 0 m]}\n  hatch: {kind: roof-hatch}\n"
    with pytest.raises(Missing) as raised:
        _ = Facts(build("components:\n" + far)).subject("terminal").openings_too_near
    assert raised.value.fields == ("hatch.at",)
    near = far + "  vent: {kind: vent, at: [0.2 m, 0 m, 0 m]}\n"
    found = Facts(build("components:\n" + near)).subject("terminal").openings_too_near
    assert [item.name for item in found] == ["vent"]


def test_an_intake_of_combustion_air_is_no_opening_into_the_room() -> None:
    """Its maker lets it sit beside the exhaust; an intake of air to be warmed is judged."""
    text = HEATER.replace("draws_from: outside", "draws_from: outside, at: [0.2 m, 0 m, 0 m]").replace(
        "terminal: {kind: flue-terminal}",
        "terminal: {kind: flue-terminal, exits: left, at: [0 m, 0 m, 0 m]}\n"
        "  fresh-air: {kind: air-intake, draws_from: outside, at: [0.3 m, 0 m, 0 m]}",
    )
    text += "  fresh: {medium: air, from: fresh-air, to: heater/room-air}\n"
    found = Facts(build(text)).subject("terminal").openings_too_near
    assert [item.name for item in found] == ["fresh air"]


def test_every_placeless_opening_is_named_and_hides_no_near_one() -> None:
    """Whatever stands first in the list."""
    text = (
        "components:\n"
        "  terminal: {kind: flue-terminal, exits: left, at: [0 m, 0 m, 0 m]}\n"
        "  vent: {kind: vent}\n"
        "  hatch: {kind: roof-hatch}\n"
    )
    with pytest.raises(Missing) as raised:
        _ = Facts(build(text)).subject("terminal").openings_too_near
    assert raised.value.fields == ("vent.at", "hatch.at")
    text += "  window: {kind: opening-window, at: [0.3 m, 0 m, 0 m]}\n"
    found = Facts(build(text)).subject("terminal").openings_too_near
    assert [(item.name, item.distance) for item in found] == [("window", pytest.approx(0.3))]


@pytest.mark.parametrize("opening", ["", "  hatch: {kind: roof-hatch}\n"])
def test_the_place_of_the_exhaust_is_asked_for_first(opening: str) -> None:
    """Nothing is far from an exhaust that is nowhere, even where no opening is listed."""
    with pytest.raises(Missing) as raised:
        text = "components:\n  terminal: {kind: flue-terminal, exits: left}\n" + opening
        _ = Facts(build(text)).subject("terminal").openings_too_near
    assert raised.value.fields == ("terminal.at",)


@pytest.mark.parametrize(
    ("opening", "near"),
    [
        ("{kind: vent, at: PLACE}", True),
        ("{kind: opening-window, at: PLACE}", True),
        ("{kind: roof-hatch, at: PLACE}", True),
        ("{kind: roof-fan, at: PLACE}", True),
        ("{kind: exit, at: PLACE}", True),
        ("{kind: exit, at: PLACE, is_part: pane}", False),
        ("{kind: air-intake, at: PLACE}", True),
        ("{kind: fixed-window, at: PLACE}", False),
    ],
)
def test_what_is_an_opening(opening: str, near: bool) -> None:
    """Whatever can let exhaust in; an exit that is a window of the list counts as that window, once."""
    text = (
        "components:\n"
        "  terminal: {kind: flue-terminal, exits: left, at: [0 m, 0 m, 0 m]}\n"
        "  pane: {kind: fixed-window}\n"
        f"  opening: {opening.replace('PLACE', '[0.2 m, 0 m, 0 m]')}\n"
    )
    found = Facts(build(text)).subject("terminal").openings_too_near
    assert [item.name for item in found] == (["opening"] if near else [])


@pytest.mark.parametrize(
    ("exits", "maker", "due"),
    [
        ("roof", "", 0.3),
        ("roof", ", least_distance_to_openings: 450 mm", 0.45),
        ("roof", ", least_distance_to_openings: 250 mm", 0.3),
        ("left", "", 0.5),
        ("below", "", 0.5),
        ("rear", ", least_distance_to_openings: 700 mm", 0.7),
    ],
)
def test_distance_of_an_exhaust_from_openings(exits: str, maker: str, due: float) -> None:
    """300 mm on the roof and 500 mm elsewhere (DVGW G 607 digest), or the maker's where that is greater."""
    text = f"components: {{terminal: {{kind: flue-terminal, exits: {exits}{maker}}}}}"
    assert Facts(build(text)).subject("terminal").opening_distance_due == pytest.approx(due)


FILLER = "components: {{t: {{kind: flue-terminal, at: [1 m, 1 m, 0 m]{size}}}, tank: {{kind: fuel-tank, filler_at: [{at}]}}{more}}}"


@pytest.mark.parametrize(
    ("size", "at", "more", "distance"),
    [
        ("", "1 m, 1 m, 0 m", "", 0),
        ("", "1.3 m, 1.4 m, 1.2 m", "", 1.3),  # 0.3, 0.4 and 1.2 m
        (", size: [0.2 m, 0.2 m, 0.2 m]", "1.5 m, 1.6 m, 0.1 m", "", 0.5),  # 0.3 and 0.4 m beyond its far edges
        (", size: [0.2 m, 0.2 m, 0.2 m]", "0.7 m, 0.6 m, 0.1 m", "", 0.5),  # and before its near ones
        (", size: [0.2 m, 0.2 m, 0.2 m]", "1.1 m, 1.1 m, 0.7 m", "", 0.5),  # above it
        ("", "4 m, 1 m, 0 m", ", other: {kind: fuel-tank, filler_at: [1 m, 3 m, 0 m]}", 2),  # the nearer of two
        ("", "1 m, 3 m, 0 m", ", other: {kind: fuel-tank, filler_at: [4 m, 1 m, 0 m]}", 2),
    ],
)  # fmt: skip
def test_distance_of_an_exhaust_from_the_fuel_filler(size: str, at: str, more: str, distance: float) -> None:
    """Straight from the edge of its box, by Pythagoras, to the nearest of all fillers."""
    terminal = Facts(build(FILLER.format(size=size, at=at, more=more))).subject("t")
    assert terminal.distance_to_filler == pytest.approx(distance)


def test_a_filler_that_is_nowhere_is_asked_for() -> None:
    """A tank that does not say where it is filled, and no tank at all."""
    tank = ", tank: {kind: fuel-tank}"
    for more, fields, reason in ((tank, ("tank.filler_at",), ""), ("", (), "no fuel tank")):
        text = f"components: {{t: {{kind: flue-terminal, at: [1 m, 1 m, 0 m]}}{more}}}"
        with pytest.raises(Missing) as raised:
            _ = Facts(build(text)).subject("t").distance_to_filler
        assert raised.value.fields == fields
        assert raised.value.reason.startswith(reason)


@pytest.mark.parametrize(
    ("component", "fuel", "assumed"),
    [
        ("{kind: hob}", "propane", True),
        ("{kind: hob, burns: butane}", "butane", False),
        ("{kind: air-heater}", "diesel", True),
        ("{kind: water-heater, energies: [gas]}", "lpg", False),
        ("{kind: water-heater, energies: [diesel]}", "diesel", False),
    ],
)
def test_the_usual_fuel_is_assumed_and_said(component: str, fuel: str, assumed: bool) -> None:
    """As stated; else by the energies of a water heater; else what such appliances usually burn, which is said."""
    facts = Facts(build(f"components: {{it: {component}}}"))
    with facts.recording() as frame:
        assert facts.subject("it").burnt_fuel == fuel
    assert any("as its kind usually does" in sentence for sentence in frame.assumptions) is assumed


def test_appliances_are_listed_for_what_they_need() -> None:
    """Room air: the hob and the open flue. A fan can draw back the open flue. The van's gas: not the stove's cartridge.

    What takes mains alone has no flue, whatever is written of it.
    """
    text = """
components:
  hob: {kind: hob, burns: propane}
  open: {kind: combined-heater, burns: propane, flue_type: open-flued}
  stove: {kind: portable-stove, burns: butane, used: outside}
  electric: {kind: water-heater, energies: [mains], flue_type: open-flued}
"""
    whole = Facts(build(HEATER.replace("\ncomponents:\n", text))).whole
    assert whole.room_air_appliances == ("hob", "open")
    assert whole.open_flued_appliances == ("open",)
    assert whole.gas_appliances == ("hob", "open")


@pytest.mark.parametrize(
    ("altitudes", "greatest"), [(["0 m", "1200 m"], 1200), (["1800 m", "~", "300 m"], 1800), (["-5 m"], -5)]
)
def test_greatest_altitude(altitudes: list[str], greatest: float) -> None:
    """The highest of the places that state theirs."""
    places = ", ".join(f"{{name: p{n}, latitude: 50°, altitude: {a}}}" for n, a in enumerate(altitudes))
    assert Facts(build(f"use: {{places: [{places}]}}")).whole.greatest_altitude == greatest


def test_no_altitude_is_missing() -> None:
    """Where the van is to stand is asked for, never guessed."""
    with pytest.raises(Missing, match=r"use\.places\.altitude"):
        _ = Facts(build("components: {hob: {kind: hob}}")).whole.greatest_altitude


@pytest.mark.parametrize(
    ("heater", "allowed"),
    [("altitude_limit: 1500 m", 1500), ("altitude_limit: 1500 m, altitude_kit: true", inf),
     ("altitude_limit: 1500 m, altitude_kit: false", 1500)],
)  # fmt: skip
def test_altitude_allowed(heater: str, allowed: float) -> None:
    """The maker's limit, unless a kit adjusts the heater; nothing is said of a hob."""
    facts = Facts(build(f"components: {{heater: {{kind: air-heater, {heater}}}, hob: {{kind: hob}}}}"))
    assert facts.subject("heater").altitude_allowed == allowed
    assert facts.subject("hob").get("altitude_allowed") is None


@pytest.mark.parametrize(
    ("component", "more", "notice"),
    [
        ("{kind: air-heater, off_when_refuelling: none}", "", False),
        ("{kind: air-heater, off_when_refuelling: words at the filler}", "", True),
        ("{kind: air-heater, off_when_refuelling: none}", ", n: {kind: notice, purpose: refuelling}", True),
        ("{kind: air-heater, off_when_refuelling: none}", ", n: {kind: notice, purpose: ventilation}", False),
        ("{kind: hob}", ", n: {kind: notice, purpose: refuelling}", True),
        ("{kind: hob}", "", None),
    ],
)
def test_a_notice_on_refuelling(component: str, more: str, notice: bool | None) -> None:
    """Words at the filler, or a notice that is listed; of a hob without one nothing is known."""
    assert (
        Facts(build(f"components: {{it: {component}{more}}}")).subject("it").get("refuelling_notice")
        is notice
    )


@pytest.mark.parametrize(("stated", "assumed"), [("", True), (", flue_type: open-flued", False)])
def test_an_assumed_flue_is_said(stated: str, assumed: bool) -> None:
    """The flue is taken from the kind unless it is stated."""
    facts = Facts(build(f"components: {{it: {{kind: combined-heater, burns: propane{stated}}}}}"))
    with facts.recording() as frame:
        _ = facts.subject("it").flue
    assert any("the flue that its kind usually has" in sentence for sentence in frame.assumptions) is assumed


@pytest.mark.parametrize(
    ("stated", "intake", "clean"),
    [
        ("living space", None, True),
        ("outside", None, True),
        ("living space", "outside", True),
        ("living space", "living space", True),
        ("living space", "engine space", False),
        ("outside", "engine space", False),
    ],
)
def test_the_air_that_is_warmed_comes_from_a_clean_space(
    stated: str, intake: str | None, clean: bool
) -> None:
    """From the room or from outside; where a duct leads to the heater, its intake decides and not what is stated."""
    duct = f"\n  room-air: {{kind: air-intake, draws_from: {intake}}}\nruns: {{back: {{medium: air, from: room-air, to: it/room-air}}}}"
    text = f"components:\n  it: {{kind: air-heater, draws_from: {stated}}}" + (duct if intake else "")
    assert Facts(build(text)).subject("it").warms_clean_air is clean


def test_where_warm_air_comes_from_is_not_guessed() -> None:
    """Neither duct nor word: the field is named."""
    with pytest.raises(Missing, match=r"it\.draws_from"):
        _ = Facts(build("components: {it: {kind: air-heater}}")).subject("it").warms_clean_air
