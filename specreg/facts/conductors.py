"""Conductors: how long a run is, what it resists, how much it may carry."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.value_type import number, text
from specreg.model.run import Cable, DcRun, Run
from specreg.tables import conductors
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

CELSIUS_ZERO = 273.15


@fact(
    Run,
    number(Dimension.length),
    formula="the stated length, else the distance along the axes between its ends × the routing factor",
    source="common practice, no source",
)
def laid_length(run: Subject) -> float:
    """Length of the run one way."""
    stated = run.get("length")
    if stated is not None:
        return float(stated)
    ends = run.van.build.ends[run.id]
    start = box_centre(run.van.subject(ends.start.component))
    finish = box_centre(run.van.subject(ends.finish.component))
    if start is None or finish is None:
        raise Missing(f"{run.id}.length")
    factor = run.van.build.header.defaults.routing_factor
    run.van.assume(f"length of {run.name} estimated from the places of its ends, × {factor:g} for its route")
    return factor * sum(abs(a - b) for a, b in zip(start, finish, strict=True))


@fact(
    Cable,
    number(Dimension.temperature),
    formula="the stated class, else the workshop's standard cable",
    source="the spec",
)
def insulation_class(cable: Subject) -> float:
    """Insulation temperature class that counts."""
    stated = cable.get("insulation")
    if stated is not None:
        return float(stated)
    defaults = cable.van.build.header.defaults
    standard = defaults.insulation if isinstance(cable.model, DcRun) else defaults.mains_insulation
    if standard is None:
        raise Missing(f"{cable.id}.insulation")
    return standard


def _ampacity(cable: Subject) -> conductors.Ampacity:
    """Look the conductor up as it is laid. Raises Missing without conductor or insulation class."""
    ambient = cable.get("ambient")
    try:
        return conductors.ampacity(
            cable.conductor,
            cable.insulation_class - CELSIUS_ZERO,
            engine_space=bool(cable.get("engine_space")),
            bundled=cable.get("bundled_with") or 1,
            voltage=12.0 if isinstance(cable.model, DcRun) else 230.0,
            ambient_celsius=30.0 if ambient is None else ambient - CELSIUS_ZERO,
        )
    except NotTabulatedError as error:
        raise Missing(reason=str(error)) from None


@fact(
    Cable,
    number(Dimension.current),
    formula="33 CFR 183.425 Table 5 by size and insulation (an ISO 10133 cell where lower), × its factors",
    source="33 CFR 183.425 Table 5; ISO 10133 Annex A Table A.1",
)
def ampacity(cable: Subject) -> float:
    """Current that the conductor may carry continuously."""
    found = _ampacity(cable)
    if found.note:
        cable.van.assume(f"{cable.name}: {found.note}")
    return found.value


@fact(
    Cable,
    number(Dimension.current),
    formula="ampacity × √((Tᵢ − Tₐ)/(Tᵢ − 30 °C)) and the bundle factor applied below 50 V too",
    source="derived from the heat balance behind Table 5; bundles below 50 V by common practice",
)
def derated_ampacity(cable: Subject) -> float:
    """Current that the conductor may carry as it is laid, with practice beyond the regulation."""
    return _ampacity(cable).derated


@fact(
    Cable,
    text(),
    formula="which row and column of which table was used",
    source="33 CFR 183.425 Table 5; ISO 10133 Annex A Table A.1",
)
def ampacity_row(cable: Subject) -> str:
    """Row of the ampacity table that was used."""
    found = _ampacity(cable)
    return f"{found.row_used}, {found.insulation_column} °C"


@fact(
    Cable,
    number(Dimension.resistance),
    formula="R₂₀ × (1 + 0.00393 (T − 20 °C)) × length one way, at 20 °C",
    source="IEC 60228 class 5 (mm²); ASTM B258 and IACS with 2 % lay (AWG)",
)
def core_resistance(cable: Subject) -> float:
    """Resistance of one core over its length."""
    size, length = cable.conductor, cable.laid_length
    return float(conductors.resistance_per_metre(size) * length)
