"""The sides of the living space as heat sees them: layers, ribs, bare sheet, windows."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.engine import Facts, Subject
from specreg.facts.heat_layers import (
    Sheet,
    inner_resistance,
    layers_resistance,
    outer_resistance,
    still_air,
    transmittance,
    with_ribs,
)
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.shell_areas import SIDES, Span, pane_area, panes, side_area, side_of
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.model.build import Header
from specreg.model.heat import InsulationLayer
from specreg.model.sleeping import Curtain
from specreg.model.structure import Exit, LayeredPanel
from specreg.tables.constant import NotTabulatedError
from specreg.tables.materials import material
from specreg.units import Dimension

LINED = {"ceiling": "roof", "left": "left wall", "right": "right wall", "rear": "rear doors"}
LINED |= {"door": "side door", "floor": "floor", "front": "cab"}
RIBS = 0.15
"""Share of an insulated side that metal ribs may bridge where nothing is said: common practice, no source."""
PANE = Span(2.6, 5.9)
"""U-values in W/(m²·K) of a double acrylic window (3-20-3 mm, by its layers) and of a single pane."""


@dataclass(frozen=True)
class Part:
    """One side, or one window, with U-values in W/(m²·K).

    `layers` is ΣR of the clear path in m²·K/W, `rib_layers` that of its ribs or of what is left bare.
    """

    name: str
    side: str
    glazed: bool
    insulated: bool
    area_least: float
    area_greatest: float
    u_least: float
    u_greatest: float
    layers: float
    rib_layers: float | None
    bare: bool
    sealed: bool


PART = view(
    "side",
    {
        "name": text(),
        "side": text(*SIDES),
        "glazed": TRUTH,
        "insulated": TRUTH,
        "area_least": number(Dimension.area),
        "area_greatest": number(Dimension.area),
        "u_least": number(Dimension.heat_transfer),
        "u_greatest": number(Dimension.heat_transfer),
        "layers": number(Dimension.thermal_resistance),
        "bare": TRUTH,
        "sealed": TRUTH,
    },
)

TIGHT = ("closed cell", "closed-cell", "polystyrene", "sprayed polyurethane", "faced", "expanded rubber")
"""Words of materials through which vapour hardly passes when their joints are tight: from memory."""


def _conductivity(van: Facts, owner: str, name: str | None, stated: float | None) -> float | None:
    if stated is not None:
        return stated
    if name is None:
        raise Missing(f"{owner}.material")
    try:
        return material(name).conductivity
    except NotTabulatedError:
        van.assume(f"{van.name_of(owner)}: conductivity of {name} is not known, so it counts as nothing")
        return None


def _above_zero(thing: Subject, field: str) -> float:
    """Return a stated figure, or raise Missing where it is none that heat could pass by."""
    found = float(getattr(thing, field))
    if found <= 0:
        raise Missing(f"{thing.id}.{field}", reason=f"`{thing.id}.{field}` is not above 0")
    return found


def _sheet(layer: Subject) -> Sheet | None:
    film = layer.role in ("vapour barrier", "skin")
    if film and (layer.get("thickness") is None or layer.get("material") is None):
        return None
    stated = None if layer.get("conductivity") is None else _above_zero(layer, "conductivity")
    found = _conductivity(layer.van, layer.id, layer.get("material"), stated)
    thickness = _above_zero(layer, "thickness")
    return None if found is None else Sheet(thickness, found, layer.role == "insulation")


def _panel_sheets(van: Facts, side: str) -> list[Sheet]:
    """Return the sheets of floors and linings; they count where no `insulation-layer` tells the lining."""
    found = []
    for panel in van.of_class(LayeredPanel):
        if LINED.get(panel.get("surface")) != side:
            continue
        for layer in panel.layers:
            conductivity = _conductivity(van, f"{panel.id}", layer.material, None)
            if conductivity and layer.thickness:
                found.append(Sheet(layer.thickness, conductivity))
    return found


def _layers(van: Facts, side: str) -> list[Subject]:
    return [layer for layer in van.of_class(InsulationLayer) if layer.get("surface") == side]


def _bridged(van: Facts, side: str, layers: list[Subject]) -> float:
    stated = [layer.get("bridged_by_metal") for layer in layers if layer.role == "insulation"]
    known = [share for share in stated if share is not None]
    if not known and stated:
        van.assume(f"{side}: metal ribs bridge 0 to {RIBS:.0%} of it (common practice, no source)")
    return max(known, default=RIBS if stated else 0.0)


def _side(van: Facts, side: str) -> Part:
    layers = _layers(van, side)
    cut = sum(pane_area(pane) * pane.count for pane in panes(van) if side_of(pane) == side)
    gross = side_area(van, side)
    area = Span(*(max(0.0, end - cut) for end in gross))
    curtain = _drawn(van, side)
    if not layers and curtain is not None:
        rest = 1 / curtain - inner_resistance(side) - outer_resistance()
        return Part(
            side,
            side,
            False,
            True,
            *area,
            curtain,
            transmittance(0, side),
            max(0.0, rest),
            None,
            False,
            False,
        )
    return _built_up(van, side, layers, area)


def _built_up(van: Facts, side: str, layers: list[Subject], area: Span) -> Part:
    own = [sheet for layer in layers if layer.role != "air gap" and (sheet := _sheet(layer))]
    gaps = sum(still_air(layer.thickness, side) for layer in layers if layer.role == "air gap")
    lined = any(layer.role in ("lining", "covering") for layer in layers)
    sheets = own if lined else [*own, *_panel_sheets(van, side)]
    whole = layers_resistance(sheets, gaps)
    measured = [
        _above_zero(layer, "heat_transfer") for layer in layers if layer.get("heat_transfer") is not None
    ]
    clear = transmittance(whole, side) if not measured else min(measured)
    rib_layers = layers_resistance([sheet for sheet in sheets if not sheet.bridged])
    bridged = _bridged(van, side, layers) if not measured else 0.0
    covered = _covered(van, side, layers, area)
    u_least = covered.greatest * clear + (1 - covered.greatest) * transmittance(0, side)
    rib = transmittance(rib_layers, side)
    u_greatest = covered.least * with_ribs(clear, rib, bridged) + (1 - covered.least) * transmittance(0, side)
    insulated = any(layer.role == "insulation" for layer in layers)
    sealed = any(layer.role == "vapour barrier" for layer in layers) or any(
        word in (layer.get("material") or "") for layer in layers for word in TIGHT
    )
    return Part(
        side,
        side,
        False,
        insulated,
        *area,
        u_least,
        u_greatest,
        max(0.0, 1 / clear - inner_resistance(side) - outer_resistance()),
        0.0 if covered.greatest < 1 else rib_layers if bridged else None,
        not sheets and not measured,
        sealed,
    )


def _covered(van: Facts, side: str, layers: list[Subject], area: Span) -> Span:
    """Return the share of a side that its insulation covers, at both ends of its area."""
    stated = [layer.get("area") for layer in layers if layer.role == "insulation"]
    known = [one for one in stated if one is not None]
    if not known:
        return Span(1.0, 1.0)
    shares = [min(1.0, max(known) / end) if end else 1.0 for end in area]
    if min(shares) < 1:
        van.assume(f"{side}: what the insulation does not cover is taken as bare sheet")
    return Span(min(shares), max(shares))


def _drawn(van: Facts, name: str) -> float | None:
    """Return U of a window, or of the way to the cab, with its curtain or blind drawn."""
    for curtain in van.of_class(Curtain):
        covers = [*curtain.covers]
        parts = van.build.components
        if any(isinstance(part := parts.get(one), Exit) and part.where == "cab" for one in covers):
            covers.append("cab")
        if name in covers and curtain.get("u_value") is not None:
            return _above_zero(curtain, "u_value")
    return None


def _pane(pane: Subject) -> Part:
    van = pane.van
    stated = pane.get("heat_transfer")
    if stated is None:
        van.assume(f"{pane.name}: U-value not stated, taken between a double and a single pane")
    plain = Span(*[_above_zero(pane, "heat_transfer")] * 2) if stated is not None else PANE
    drawn = _drawn(van, pane.id)
    area = pane_area(pane) * int(pane.count)
    side = side_of(pane)
    rest = 1 / plain.greatest - inner_resistance(side) - outer_resistance()
    least = plain.least if drawn is None else min(drawn, plain.least)
    return Part(
        pane.name, side, True, True, area, area, least, plain.greatest, max(0.0, rest), None, False, True
    )


@fact(
    Header,
    list_of(PART),
    formula="U = 1/(Rsi + Σ d/λ + Rse); ribs: none, to (1 − f)·U + f·U of the rib side by side",
    source="EN ISO 6946; metal ribs lie outside its combined method, hence the range; λ of the data sheets, "
    "else DIN EN 12524 and ASHRAE",
)
def shell_parts(build: Subject) -> tuple[Part, ...]:
    """Sides and windows of the living space with their U-values."""
    van = build.van
    known = [*van.of_class(InsulationLayer), *van.of_class(LayeredPanel)]
    if not known:
        raise Missing(
            reason="no `insulation-layer` is listed; a bare side is one whose only layer is its skin"
        )
    sides = [_side(van, side) for side in SIDES]
    bare = [part.side for part in sides if part.bare and part.area_greatest]
    if bare:
        van.assume(f"without layers, taken as bare sheet or glass: {', '.join(bare)}")
    found = [part for part in sides if part.area_greatest > 0]
    return (*found, *(_pane(pane) for pane in panes(van)))
