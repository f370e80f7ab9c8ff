"""What each component and run adds to the mass of the base vehicle as it was received, and how surely."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.run_mass import weigh_run
from specreg.facts.small_fittings import SMALL_GREATEST, SMALL_KINDS
from specreg.facts.value_type import list_of, number, text, view
from specreg.facts.weight import DOUBT, PRACTICE, Weight
from specreg.model.build import Header
from specreg.model.component import Component, MassStatus
from specreg.model.fuel import FuelTank
from specreg.model.gas import GasCylinder
from specreg.model.heat import InsulationLayer
from specreg.model.run import Run
from specreg.model.safety import Extinguisher
from specreg.model.structure import Exit, Layer, Luggage, RemovedItem
from specreg.tables import materials
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

MASS = number(Dimension.mass)

SHEET_DOUBT = 0.10
VEHICLES_OWN = frozenset({"alternator", "starter-motor", "ignition-signal"})
"""Kinds that belong to the base vehicle unless a mass is stated."""


def weigh(thing: Subject) -> Weight:
    """Return what a component adds to the vehicle as received, without contents. Raises Missing."""
    if of_base_vehicle(thing):
        return Weight(0.0, 0.0, "in the ticket as received")
    if isinstance(thing.model, Luggage):
        return Weight(0.0, 0.0, "counted in the loaded cases")
    model = thing.model
    if isinstance(model, Exit) and model.mass is None and model.is_part in thing.van.build.components:
        return Weight(0.0, 0.0, "counted as what it is")
    return weigh_whole(thing)


def weigh_whole(thing: Subject) -> Weight:
    """Return the mass of a component itself, whoever fitted it. Raises Missing where nothing bounds it."""
    sign = getattr(type(thing.model), "mass_sign", 1)
    stated = _stated_mass(thing)
    if stated is not None:
        return _times(stated, sign * thing.count)
    layers = _layers(thing)
    if layers:
        return _times(_sheets(thing, layers), sign * thing.count)
    if thing.kind in SMALL_KINDS:
        thing.van.assume(f"small fittings without a mass: taken as 0 to {SMALL_GREATEST:g} kg each")
        half = SMALL_GREATEST / 2
        return _times(Weight(half, half, "bounded"), thing.count)
    raise Missing(f"{thing.id}.mass")


def of_base_vehicle(thing: Subject) -> bool:
    """Tell whether a thing's mass is in the ticket as received. Raises Missing where it must be stated."""
    model = thing.model
    if isinstance(model, FuelTank):
        return bool(thing.base_vehicle)
    own = thing.kind in VEHICLES_OWN or isinstance(model, Exit) or getattr(model, "role", None) == "starter"
    if thing.get("mass") is None and own and getattr(model, "origin", None) != "retrofitted":
        thing.van.assume(f"{thing.name}: no mass stated, taken as part of the base vehicle")
        return True
    return "origin" in type(model).model_fields and thing.origin == "base vehicle"


def _stated_mass(thing: Subject) -> Weight | None:
    mass = thing.get("mass")
    if mass is None and isinstance(thing.model, GasCylinder):
        mass = thing.get("tare")
    if mass is None:
        return None
    if isinstance(thing.model, Extinguisher):
        mass += thing.get("content") or 0.0
    status = thing.get("mass_status")
    if status is None:
        thing.van.assume("masses of which nothing says how they are known: taken as estimated, ± 20 %")
    status = MassStatus(status or MassStatus.estimated)
    return Weight(mass, mass * DOUBT[status], status.value)


def _times(weight: Weight, factor: int) -> Weight:
    return Weight(weight.mass * factor, weight.doubt * abs(factor), weight.known)


def _layers(thing: Subject) -> tuple[tuple[str, Layer | InsulationLayer], ...]:
    model = thing.model
    if isinstance(model, InsulationLayer):
        return ((thing.id, model),)
    for field in ("sheets", "layers"):
        sheets: tuple[Layer, ...] = getattr(model, field, ())
        if sheets:
            return tuple((f"{thing.id}.{field}.{n}", sheet) for n, sheet in enumerate(sheets, 1))
    return ()


def _sheets(thing: Subject, layers: tuple[tuple[str, Layer | InsulationLayer], ...]) -> Weight:
    sheets = sum(_sheet_mass(path, layer) for path, layer in layers)
    mass = sheets + (getattr(thing.model, "fittings_mass", None) or 0.0)
    return Weight(mass, mass * SHEET_DOUBT, "computed from sheets")


def _sheet_mass(path: str, layer: Layer | InsulationLayer) -> float:
    """Return area × thickness × density × count. Raises Missing with every absent one of them."""
    if isinstance(layer, InsulationLayer) and layer.role in ("skin", "air gap"):
        return 0.0
    density = layer.density
    if density is None and layer.material is not None:
        try:
            density = materials.material(layer.material).density
        except NotTabulatedError:
            density = None
    needed = {"area": layer.area, "thickness": layer.thickness, "density": density}
    absent = [f"{path}.{name}" for name, value in needed.items() if value is None]
    if absent:
        raise Missing(*absent)
    assert layer.area is not None and layer.thickness is not None and density is not None
    return layer.area * layer.thickness * density * layer.count


@fact(
    Component,
    MASS,
    formula="stated mass × count, else Σ area × thickness × density of its sheets + fittings; nothing where "
    "it came with the base vehicle, negative where it was taken out of it",
    source="the spec; densities by the table of materials",
)
def whole_mass(component: Subject) -> float:
    """Mass that the component adds to the vehicle as received, without contents."""
    return weigh(component).mass


@fact(
    Component,
    MASS,
    formula="weighed 1 %, data sheet 3 %, sheets 10 %, estimated 20 % of it",
    source=PRACTICE,
)
def whole_mass_doubt(component: Subject) -> float:
    """How far that mass may be off."""
    return weigh(component).doubt


@fact(Component, text(), formula="the stated status, or how it was computed", source="the spec")
def whole_mass_known(component: Subject) -> str:
    """How that mass is known."""
    return weigh(component).known


def weights(van: Any) -> Iterator[tuple[Subject, Weight | Missing]]:
    """Yield every component and run with its weight, or with what is missing for it."""
    for thing in van.of_class(Component):
        yield thing, _or_missing(weigh, thing)
    for run in van.of_class(Run):
        yield run, _or_missing(weigh_run, run)


def _or_missing(of: Any, thing: Subject) -> Weight | Missing:
    try:
        found: Weight = of(thing)
    except Missing as missing:
        return missing
    return found


@dataclass(frozen=True, slots=True)
class UnknownMass:
    """A thing without a mass, the fields that would give it one, and what its box allows at most."""

    name: str
    subject: str
    needs: str
    bound: str


UNKNOWN = view("mass that is not known", {n: text() for n in ("name", "subject", "needs", "bound")})


@fact(
    Header,
    list_of(UNKNOWN),
    formula="components and runs of which neither a mass nor anything that bounds it is stated",
    source="the spec",
)
def masses_unknown(build: Subject) -> tuple[Any, ...]:
    """Things whose mass is not known and not counted."""
    return tuple(
        UnknownMass(thing.name, thing.id, ", ".join(found.fields), _bound_told(thing))
        for thing, found in weights(build.van)
        if isinstance(found, Missing)
    )


@fact(
    Header,
    MASS,
    formula="Σ of what every component and run adds",
    source="the spec",
)
def fitted_mass(build: Subject) -> float:
    """Mass of everything fitted less everything taken out, as far as it is known."""
    return sum(found.mass for _, found in weights(build.van) if isinstance(found, Weight))


DENSEST = 1000.0
"""Mean density in kg/m³ that few things in a van exceed with the air in them: common practice, no source."""
DENSEST_BY_KIND = {"battery": 2800.0, "tow-bar": 2500.0}


def box_bound(thing: Subject) -> float | None:
    """Return the greatest mass that a thing's box allows in kg; None where no box is stated."""
    size = thing.get("size") if isinstance(thing.model, Component) else None
    if not size:
        return None
    volume = float(size[0] * size[1] * size[2])
    return float(volume * DENSEST_BY_KIND.get(thing.kind, DENSEST) * thing.count)


def _bound_told(thing: Subject) -> str:
    bound = box_bound(thing)
    return "nothing bounds it" if bound is None else f"at most {bound:.0f} kg by its box"


@fact(
    Header,
    MASS,
    formula="Σ box volume × 1000 kg/m³ (batteries 2800, tow bars 2500) of each thing without a mass",
    source=PRACTICE,
)
def unknown_mass_bound(build: Subject) -> float:
    """Mass that is not counted for want of a figure: at most this, by the boxes."""
    van = build.van
    bounds = {e.subject: box_bound(van.subject(e.subject)) for e in build.masses_unknown}
    open_ = [f"{name}.size" for name, bound in bounds.items() if bound is None]
    if open_:
        raise Missing(*open_)
    return sum(bound for bound in bounds.values() if bound is not None)


BY_HOW_KNOWN = view(
    "mass by how it is known", {"known": text(), "count": number(), "mass": MASS, "doubt": MASS}
)


def _taken_out(van: Any) -> Iterator[Subject]:
    yield from van.of_class(RemovedItem)


@fact(Header, MASS, formula="Σ mass of what was taken out of the base vehicle, as a positive figure",
      source="the spec")  # fmt: skip
def removed_mass(build: Subject) -> float:
    """Mass that was taken out of the base vehicle."""
    return -sum(weigh_whole(thing).mass for thing in _taken_out(build.van))


@fact(Header, list_of(text()), formula="removed items with their count", source="the spec")
def removed_things(build: Subject) -> tuple[str, ...]:
    """What was taken out of the base vehicle."""
    return tuple(f"{thing.count} × {thing.name}" for thing in _taken_out(build.van))


@fact(
    Header,
    list_of(BY_HOW_KNOWN),
    formula="Σ over components and runs alike known",
    source="the spec",
)
def masses_by_how_known(build: Subject) -> tuple[Any, ...]:
    """How much of what was fitted is weighed, from a data sheet, computed, estimated or bounded."""
    groups: dict[str, list[Weight]] = {}
    for _, found in weights(build.van):
        if isinstance(found, Weight) and found.doubt:
            groups.setdefault(found.known, []).append(found)
    return tuple(
        KnownMass(known, len(group), sum(w.mass for w in group), sum(w.doubt for w in group))
        for known, group in sorted(groups.items())
    )


@dataclass(frozen=True, slots=True)
class KnownMass:
    """What was fitted whose mass is known in one way: how many, their mass in kg, how far it may be off."""

    known: str
    count: int
    mass: float
    doubt: float
