"""What each component and run adds to the mass of the base vehicle as it was received, and how surely."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.small_fittings import SMALL_GREATEST, SMALL_KINDS
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.component import Component, MassStatus
from specreg.model.fuel import FuelTank
from specreg.model.gas import GasCylinder
from specreg.model.heat import InsulationLayer
from specreg.model.run import Cable, ControlRun, Run
from specreg.model.safety import Extinguisher
from specreg.model.structure import Exit, Layer, Luggage
from specreg.tables import conductors, materials
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

PRACTICE = "common practice, no source"
MASS = number(Dimension.mass)

DOUBT = {MassStatus.weighed: 0.01, MassStatus.data_sheet: 0.03, MassStatus.estimated: 0.20}
"""How far a mass may be off by how it is known, as a share of it: common practice, no source."""
SHEET_DOUBT = 0.10
RUN_DOUBT = 0.20
PIPE_MASS, PIPE_MASS_DOUBT = 0.2, 0.15
"""Mass of a pipe, hose or duct in kg/m and how far off it may be: common practice, no source."""
CONTROL_CABLE_MASS, CONTROL_CABLE_DOUBT = 0.05, 0.04
VEHICLES_OWN = frozenset({"alternator", "starter-motor", "ignition-signal"})
"""Kinds that belong to the base vehicle unless a mass is stated."""


class Weight(NamedTuple):
    """A mass in kg, how far it may be off, and how it is known."""

    mass: float
    doubt: float
    known: str


def weigh(thing: Subject) -> Weight:
    """Return what a component adds to the vehicle as received, without contents. Raises Missing."""
    if of_base_vehicle(thing):
        return Weight(0.0, 0.0, "in the ticket as received")
    if isinstance(thing.model, Luggage):
        return Weight(0.0, 0.0, "counted in the loaded cases")
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
    if thing.get("mass") is None and own:
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
    if layer.area is None or layer.thickness is None or density is None:
        raise Missing(*(f"{path}.{name}" for name, value in needed.items() if value is None))
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


def weigh_run(run: Subject) -> Weight:
    """Return the mass of a run without what flows in it. Raises Missing without length or conductor."""
    stated = run.get("mass")
    if stated is not None:
        return Weight(stated, stated * DOUBT[MassStatus.weighed], "weighed")
    length = run.laid_length
    if isinstance(run.model, Cable):
        cores = max(1, len(run.van.build.ends[run.id].cores))
        mass = conductors.mass_per_metre(run.conductor, cores).value * length
        return Weight(mass, mass * RUN_DOUBT, "computed from the conductor")
    if isinstance(run.model, ControlRun):
        return Weight(CONTROL_CABLE_MASS * length, CONTROL_CABLE_DOUBT * length, "bounded")
    run.van.assume(f"pipes, hoses and ducts: taken as {PIPE_MASS:g} ± {PIPE_MASS_DOUBT:g} kg/m")
    return Weight(PIPE_MASS * length, PIPE_MASS_DOUBT * length, "bounded")


@fact(
    Run,
    MASS,
    formula="stated mass, else cable: mass per metre by conductor and cores × length; else "
    f"{PIPE_MASS:g} ± {PIPE_MASS_DOUBT:g} kg/m × length",
    source=PRACTICE,
)
def run_mass(run: Subject) -> float:
    """Mass of the run without what flows in it."""
    return weigh_run(run).mass


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
    """A thing without a mass, and the fields that would give it one."""

    name: str
    subject: str
    needs: str


@fact(
    Header,
    list_of(view("mass that is not known", {"name": text(), "subject": text(), "needs": text()})),
    formula="components and runs of which neither a mass nor anything that bounds it is stated",
    source="the spec",
)
def masses_unknown(build: Subject) -> tuple[Any, ...]:
    """Things whose mass is not known and not counted."""
    return tuple(
        UnknownMass(thing.name, thing.id, ", ".join(found.fields))
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
