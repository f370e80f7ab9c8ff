"""The size of a conductor and of its return, the least size admitted, and what its terminals allow."""

from __future__ import annotations

from specreg.facts.conductors import CELSIUS_ZERO
from specreg.facts.current_path import ways_of
from specreg.facts.design_current import live_pieces
from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.build import Header
from specreg.model.run import Cable, DcRun, Run
from specreg.model.solar import SolarPanel
from specreg.tables import conductors
from specreg.tables.constant import NotTabulatedError
from specreg.units import ConductorSize, Dimension

ROUNDING = 1 - 1e-9
"""So that a size written as 1 mm² is not less than 1 mm² by a rounding."""


@fact(DcRun, number(Dimension.area), formula="as stated; AWG by its diameter", source="ASTM B258")
def conductor_area(run: Subject) -> float:
    """Copper area of the conductor."""
    size: ConductorSize = run.conductor
    return size.area


@fact(
    DcRun,
    number(Dimension.area),
    formula="area of the return core, or of the run that is named as the return",
    source="the spec",
)
def return_area(run: Subject) -> float:
    """Copper area of the conductor by which the current returns."""
    returns = run.returns
    if returns == "chassis":
        raise Missing(reason=f"{run.name} returns through the chassis")
    if returns == "same cable":
        size: ConductorSize = run.get("return_conductor") or run.conductor
        return size.area
    return float(run.van.subject(returns).conductor_area)


@fact(
    DcRun,
    number(Dimension.area),
    formula="18 AWG or 0.75 mm² in a sheath, else 16 AWG or 1 mm²",
    source="33 CFR 183.425(d), (e); ISO 10133:2012 7.7",
)
def least_area(run: Subject) -> float:
    """Least copper area for a conductor laid like this one."""
    size: ConductorSize = run.conductor
    found = conductors.least_area(notation=size.notation, in_sheath=run.get("covering") == "sheath")
    return found.value * ROUNDING


@fact(
    DcRun,
    number(Dimension.current),
    formula="ampacity in the column of the coolest holder on its way, at most its insulation class",
    source="33 CFR 183.425 Table 5; the terminal's temperature limit is physics",
)
def ampacity_at_terminals(run: Subject) -> float:
    """Current that the conductor may carry without overheating a fuse holder."""
    known = _holder_limits(run)
    if not known:
        raise Missing(*(f"{name}.holder_temperature" for name in run.protecting_devices))
    limit = min(*known, run.insulation_class) - CELSIUS_ZERO
    try:
        return conductors.ampacity(run.conductor, limit, engine_space=bool(run.get("engine_space"))).value
    except NotTabulatedError as outside:
        raise Missing(reason=str(outside)) from None


@fact(DcRun, TRUTH, formula="a device on its way states its holder's limit", source="the spec")
def holder_limited(run: Subject) -> bool:
    """Whether a holder on its way states a temperature limit."""
    return bool(_holder_limits(run))


def _holder_limits(run: Subject) -> list[float]:
    """Return what the holders of the devices on its way bear, of those that state it."""
    devices = (run.van.devices[name] for name in run.protecting_devices)
    return [device.holder_temperature for device in devices if device.holder_temperature is not None]


@fact(DcRun, TRUTH, formula="panels and nothing else feed it", source="the graph")
def fed_by_panels(run: Subject) -> bool:
    """Whether it carries solar panel current before the controller."""
    found = run.van.once(live_pieces).get(run.id)
    if not found:
        return False
    ways = ways_of(run.van, "positive")
    names = {ways.sources[t].component for t in ways.sources_of(found[0].start)}
    return bool(names) and all(isinstance(run.van.build.components[n], SolarPanel) for n in names)


@fact(DcRun, TRUTH, formula="one of its ends is a chassis point", source="the graph")
def bonds_chassis(run: Subject) -> bool:
    """Whether it joins a negative conductor to the body."""
    ends, components = run.van.build.ends[run.id], run.van.build.components
    return any(components[end.component].kind == "chassis-point" for end in (ends.start, ends.finish))


@fact(Header, list_of(text()), formula="cables with a stated route", source="the spec")
def cables_with_a_route(build: Subject) -> tuple[str, ...]:
    """Cables of which the spec says where they pass."""
    return tuple(run.name for run in build.van.of_class(Cable) if _model(run).route)


@fact(Header, list_of(text()), formula="of those, the ones that say nothing of edges", source="the spec")
def cables_silent_on_edges(build: Subject) -> tuple[str, ...]:
    """Cables with a route of which the spec does not say what protects them at edges."""
    routed = [run for run in build.van.of_class(Cable) if _model(run).route]
    return tuple(run.name for run in routed if run.get("protection_at_edges") is None)


@fact(Header, list_of(text()), formula="those with `protection_at_edges: none`", source="the spec")
def cables_with_bare_edges(build: Subject) -> tuple[str, ...]:
    """Cables that pass edges with nothing between."""
    return tuple(r.name for r in build.van.of_class(Cable) if r.get("protection_at_edges") == "none")


def _model(run: Subject) -> Run:
    assert isinstance(run.model, Run)
    return run.model
