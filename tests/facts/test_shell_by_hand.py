"""Sides of the living space by hand: R of their layers, ribs, what is left bare, curtains and panes.

All on a left wall of 6 m²: surfaces resist 0.13 and 0.04 m²·K/W (EN ISO 6946), 40 mm of wool of 0.04 W/(m·K) 1.
"""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.heat_shell import Part
from specreg.facts.missing import Missing

VAN = """
vehicle: {{interior: {{length: 3 m, width: 2 m, height: 2 m}}, shell: {{left_wall: {wall}, roof: 0.5 m², right_wall: 0 m²,
  rear_doors: 0 m², side_door: 0 m², floor: 0 m², cab: 2 m², leakage: 0 m³/h}}}}
components:
{parts}
"""
WOOL = "surface: left wall, material: wool, conductivity: 0.04 W/(m·K), thickness: 40 mm"
FOAM = f"kind: insulation-layer, {WOOL}, bridged_by_metal: 0 %"
BARE = 1 / 0.17


def van(*parts: str, wall: str = "6 m²") -> Subject:
    """A van of some parts, which are called a, b, c …"""
    lines = "\n".join(f"  {chr(97 + n)}: {{{part}}}" for n, part in enumerate(parts))
    return Facts(build(VAN.format(wall=wall, parts=lines))).whole


def side(*parts: str, name: str = "left wall", wall: str = "6 m²") -> Part:
    """One side of it."""
    found: tuple[Part, ...] = van(*parts, wall=wall).shell_parts
    return next(part for part in found if part.name == name)


def said(*parts: str) -> str:
    """What is assumed of it."""
    whole = van(*parts)
    with whole.van.recording() as frame:
        _ = whole.shell_parts
    return " | ".join(frame.assumptions)


LAYER = "kind: insulation-layer, surface: left wall"


@pytest.mark.parametrize(
    ("parts", "resistance"),
    [
        ((FOAM,), 1),
        # A foil or the skin counts only with thickness and material: 10 mm of 0.1 W/(m·K) are 0.1.
        ((FOAM, f"{LAYER}, role: vapour barrier"), 1),
        ((FOAM, f"{LAYER}, role: skin, thickness: 10 mm"), 1),
        ((FOAM, f"{LAYER}, role: skin, material: board"), 1),
        (
            (FOAM, f"{LAYER}, role: skin, material: board, thickness: 10 mm, conductivity: 0.1 W/(m·K)"),
            1.1,
        ),
        (
            (
                FOAM,
                f"{LAYER}, role: vapour barrier, material: board, thickness: 10 mm, conductivity: 0.1 W/(m·K)",
            ),
            1.1,
        ),
        # A shut gap of 25 mm by ISO 6946.
        ((FOAM, f"{LAYER}, role: air gap, thickness: 25 mm"), 1.18),
        # A material need not be named where its conductivity is.
        ((FOAM, f"{LAYER}, role: lining, thickness: 10 mm, conductivity: 0.1 W/(m·K)"), 1.1),
        # The smaller of two measured.
        ((f"{FOAM}, heat_transfer: 0.9 W/(m²·K)", f"{FOAM}, heat_transfer: 0.8 W/(m²·K)"), 1 / 0.8 - 0.17),
    ],
)
def test_layers_in_series(parts: tuple[str, ...], resistance: float) -> None:
    """Of the clear path."""
    found = side(*parts)
    assert (found.layers, found.u_least) == pytest.approx((resistance, 1 / (resistance + 0.17)))


PLY = "{material: plywood, thickness: 13 mm}"
"""0.1 m²·K/W, of 0.13 W/(m·K)."""


@pytest.mark.parametrize(
    ("parts", "resistance"),
    [
        ((FOAM, f"kind: lining, surface: left, layers: [{PLY}]"), 1.1),
        ((FOAM, f"kind: lining, surface: right, layers: [{PLY}]"), 1),
        ((FOAM, f"kind: lining, layers: [{PLY}]"), 1),
        (
            (
                FOAM,
                f"kind: lining, surface: right, layers: [{PLY}]",
                f"kind: lining, surface: left, layers: [{PLY}]",
            ),
            1.1,
        ),
        (
            (FOAM, f"kind: lining, surface: left, layers: [{{material: moon dust, thickness: 9 mm}}, {PLY}]"),
            1.1,
        ),
        ((FOAM, f"kind: lining, surface: left, layers: [{{material: plywood}}, {PLY}]"), 1.1),
        # A covering is told by its own layer, and the lining is not counted a second time.
        (
            (
                FOAM,
                f"{LAYER}, role: covering, material: felt, conductivity: 0.1 W/(m·K), thickness: 10 mm",
                f"kind: lining, surface: left, layers: [{PLY}]",
            ),
            1.1,
        ),
    ],
)
def test_boards_of_a_lining(parts: tuple[str, ...], resistance: float) -> None:
    """On their own side, those of known material and thickness."""
    assert side(*parts).layers == pytest.approx(resistance)


@pytest.mark.parametrize(
    ("stated", "share"),
    [
        (("bridged_by_metal: 5 %", "bridged_by_metal: 10 %"), 0.10),
        (("bridged_by_metal: 10 %", "role: lining, bridged_by_metal: 50 %"), 0.10),
        (("bridged_by_metal: 10 %",), 0.10),
        (("note: nothing",), 0.15),
        (("note: nothing", "bridged_by_metal: 4 %"), 0.04),
    ],
)
def test_ribs(stated: tuple[str, ...], share: float) -> None:
    """The largest share of the insulation that is stated, else 15 %, which is said; ribs pass insulation only."""
    parts = [f"kind: insulation-layer, {WOOL}, {one}" for one in stated]
    clear = 1 / (len(stated) + 0.17)
    rib = 1 / ((1 if "role: lining" in stated[-1] else 0) + 0.17)
    assert side(*parts).u_greatest == pytest.approx((1 - share) * clear + share * rib)
    assert ("left wall: metal ribs bridge 0 to 15% of it" in said(*parts)) is (stated == ("note: nothing",))


MAT = "kind: curtain, covers: [cab], u_value: 2 W/(m²·K)"


@pytest.mark.parametrize(
    ("parts", "name", "least"),
    [
        ((FOAM, MAT), "cab", 2),
        ((FOAM, "kind: curtain, covers: [c], u_value: 2 W/(m²·K)", "kind: exit, where: cab"), "cab", 2),
        ((FOAM, "kind: curtain, covers: [c], u_value: 2 W/(m²·K)", "kind: exit, where: side"), "cab", BARE),
        ((FOAM, "kind: curtain, covers: [c, a], u_value: 2 W/(m²·K)", "kind: exit, where: cab"), "cab", 2),
        ((FOAM, "kind: curtain, covers: [a], u_value: 2 W/(m²·K)"), "cab", BARE),
        ((FOAM, "kind: curtain, covers: [cab]"), "cab", BARE),
        # Layers come first.
        ((f"{FOAM.replace('left wall', 'cab')}", MAT), "cab", 1 / 1.17),
    ],
)
def test_a_mat_before_the_cab(parts: tuple[str, ...], name: str, least: float) -> None:
    """Where nothing else tells that side, a curtain that covers it or its door does."""
    assert side(*parts, name=name).u_least == pytest.approx(least)


def test_what_a_mat_is() -> None:
    """Drawn it insulates, open there is bare sheet or glass; neither tight nor a pane."""
    found = side(FOAM, MAT, name="cab")
    assert (found.area_least, found.area_greatest) == (2, 2)
    assert (found.u_least, found.u_greatest) == pytest.approx((2, BARE))
    assert found.layers == pytest.approx(0.5 - 0.17)
    assert found.rib_layers is None
    assert (found.glazed, found.insulated, found.bare, found.sealed) == (False, True, False, False)
    thin = side(FOAM, MAT.replace("2 W", "6 W"), name="cab")
    assert thin.layers == 0


def test_what_is_bare_is_said() -> None:
    """Sides of some area without a layer; a measured one is none of them, whatever its layers say."""
    assert (side(FOAM).bare, side(FOAM, name="roof").bare) == (False, True)
    measured = f"{LAYER}, role: skin, heat_transfer: 0.9 W/(m²·K)"
    assert not side(measured).bare
    assert side(measured).u_least == pytest.approx(0.9)
    assert "without layers, taken as bare sheet or glass: roof, cab" in said(FOAM)
    roof = FOAM.replace("left wall", "roof")
    assert "without layers" not in said(FOAM, roof, FOAM.replace("left wall", "cab"))
    assert [part.name for part in van(FOAM).shell_parts] == ["roof", "left wall", "cab"]


@pytest.mark.parametrize(
    ("areas", "share"),
    [(("3 m²",), 0.5), (("3 m²", "6 m²"), 1.0), (("8 m²",), 1.0), (("6 m²",), 1.0)],
)
def test_what_the_insulation_covers(areas: tuple[str, ...], share: float) -> None:
    """Of 6 m² the largest of its layers; the rest is bare sheet, which is said."""
    parts = [f"{FOAM}, area: {area}" for area in areas]
    found = side(*parts)
    clear = 1 / (len(areas) + 0.17)
    assert found.u_least == pytest.approx(share * clear + (1 - share) * BARE)
    assert found.u_greatest == pytest.approx(found.u_least)
    assert found.rib_layers == (0 if share < 1 else None)
    words = "left wall: what the insulation does not cover is taken as bare sheet"
    assert (words in said(*parts)) is (share < 1)


def test_a_lining_covers_nothing_that_insulation_must() -> None:
    """Its own area says nothing of the foam's, and no part of a side of no area is left bare."""
    lining = f"{LAYER}, role: lining, material: felt, conductivity: 0.1 W/(m·K), thickness: 10 mm, area: 1 m²"
    assert side(FOAM, lining).u_least == pytest.approx(1 / 1.27)
    ribbed = side(f"{FOAM}, area: 3 m²", lining)
    assert ribbed.rib_layers == 0, "what is bare is colder than what a rib is under the lining"
    assert [part.name for part in van(f"{FOAM}, area: 3 m²", wall="0 m²").shell_parts] == ["roof", "cab"]


def test_a_pane_and_its_blind() -> None:
    """As stated, else between 2.6 and 5.9, which is said."""
    pane = "kind: fixed-window, surface: left wall, area: 0.5 m²"
    plain = side(FOAM, pane, name="b")
    assert (plain.u_least, plain.u_greatest) == (2.6, 5.9)
    assert (plain.glazed, plain.insulated, plain.bare, plain.sealed) == (True, True, False, True)
    assert "b: U-value not stated, taken between a double and a single pane" in said(FOAM, pane)
    stated = f"{pane}, heat_transfer: 3 W/(m²·K)"
    assert "U-value not stated" not in said(FOAM, stated)
    assert side(FOAM, stated, name="b").layers == pytest.approx(1 / 3 - 0.17)
    blind = "kind: curtain, covers: [b], u_value: 2 W/(m²·K)"
    found = side(FOAM, stated, blind, name="b")
    assert (found.u_least, found.u_greatest) == (2, 3)


def test_a_material_that_is_not_known_is_said() -> None:
    """It counts as nothing."""
    dust = f"{LAYER}, material: moon dust, thickness: 40 mm, bridged_by_metal: 0 %"
    assert side(dust).layers == pytest.approx(0)
    assert "a: conductivity of moon dust is not known, so it counts as nothing" in said(dust)


@pytest.mark.parametrize(
    ("parts", "field"),
    [
        ((FOAM.replace("0.04 W", "0 W"),), "a.conductivity"),
        ((FOAM.replace("40 mm", "0 mm"),), "a.thickness"),
        ((f"{FOAM}, heat_transfer: 0 W/(m²·K)",), "a.heat_transfer"),
        ((FOAM, MAT.replace("2 W", "0 W")), "b.u_value"),
        (
            (FOAM, "kind: fixed-window, surface: left wall, area: 1 m², heat_transfer: 0 W/(m²·K)"),
            "b.heat_transfer",
        ),
        ((f"{LAYER}, thickness: 40 mm",), "a.material"),
    ],
)
def test_no_heat_passes_by_nothing(parts: tuple[str, ...], field: str) -> None:
    """A figure of 0 is none, and is asked for."""
    with pytest.raises(Missing) as caught:
        _ = van(*parts).shell_parts
    assert caught.value.fields == (field,)
    if "material" not in field:
        assert caught.value.reason == f"`{field}` is not above 0"
