"""What a cable, pipe, hose or duct weighs by its size and length, and what stands in a pipe."""

from __future__ import annotations

from math import pi

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.standing import standing
from specreg.facts.value_type import number
from specreg.facts.weight import DOUBT, PRACTICE, Weight, between
from specreg.model.component import MassStatus
from specreg.model.run import AirRun, Cable, ControlRun, ExhaustRun, Run
from specreg.tables import conductors, pipes
from specreg.units import Dimension

MASS = number(Dimension.mass)
RUN_DOUBT = 0.20
PIPE_MASS, PIPE_MASS_DOUBT = 0.2, 0.15
"""Mass of a pipe, hose or duct of unknown bore in kg/m and how far off it may be: common practice."""
CONTROL_CABLE_MASS, CONTROL_CABLE_DOUBT = 0.05, 0.04


@fact(
    Run,
    number(Dimension.length),
    formula="nothing where it is stated; else what the routing factor adds, and half of each end's zone × it",
    source=PRACTICE,
)
def length_doubt(run: Subject) -> float:
    """How far the length of the run may be off: it may go straight, or twice as far round."""
    if run.get("length") is not None:
        return 0.0
    factor = run.van.build.header.defaults.routing_factor
    joint = run.van.build.ends[run.id]
    ends = [standing(run.van.subject(end.component)) for end in (joint.start, joint.finish)]
    guessed = sum(end.along + end.across + end.up for end in ends)
    return float(run.laid_length * (factor - 1) / factor + guessed * factor)


def weigh_run(run: Subject) -> Weight:
    """Return the mass of a run without what flows in it. Raises Missing without length or conductor."""
    stated = run.get("mass")
    if stated is not None:
        return Weight(stated, stated * DOUBT[MassStatus.weighed], "weighed")
    each = _per_metre(run)
    length, astray = float(run.laid_length), float(run.length_doubt)
    known = f"{each.known}, length from places" if astray else each.known
    return Weight(each.mass * length, each.doubt * length + each.mass * astray, known)


def _per_metre(run: Subject) -> Weight:
    """Return the mass of one metre in kg/m."""
    if isinstance(run.model, Cable):
        cores = max(1, len(run.van.build.ends[run.id].cores))
        mass = conductors.mass_per_metre(run.conductor, cores).value
        return Weight(mass, mass * RUN_DOUBT, "computed from the conductor")
    if isinstance(run.model, ControlRun):
        return Weight(CONTROL_CABLE_MASS, CONTROL_CABLE_DOUBT, "bounded")
    bore = run.get("bore")
    if bore is None:
        run.van.assume(
            f"pipes, hoses and ducts of unknown bore: taken as {PIPE_MASS:g} ± {PIPE_MASS_DOUBT:g} kg/m"
        )
        return Weight(PIPE_MASS, PIPE_MASS_DOUBT, "bounded")
    run.van.assume("pipes, hoses and ducts: from bore and material, over the walls that are usual")
    least, most = pipes.mass_per_metre(bore, _material(run), air=isinstance(run.model, AirRun))
    return between(least, most, "computed from bore and material")


def _material(run: Subject) -> str | None:
    if isinstance(run.model, ExhaustRun):
        return "stainless steel"
    return getattr(run.model, "material", None)


@fact(
    Run,
    MASS,
    formula="stated mass, else length × mass per metre: a cable's by conductor and cores; a pipe's "
    f"π·(bore + wall)·wall·density over the usual walls, {PIPE_MASS:g} ± {PIPE_MASS_DOUBT:g} kg/m "
    "where its bore is not stated",
    source=PRACTICE,
)
def run_mass(run: Subject) -> float:
    """Mass of the run without what flows in it."""
    return weigh_run(run).mass


@fact(Run, MASS, formula="doubt of the mass per metre × length + mass per metre × doubt of the length",
      source=PRACTICE)  # fmt: skip
def run_mass_doubt(run: Subject) -> float:
    """How far that mass may be off."""
    return weigh_run(run).doubt


def volume_in(pipe: Subject) -> float:
    """Return what fits into a pipe in m³; nothing where bore or length is not known."""
    bore = pipe.get("bore")
    if bore is None:
        return 0.0
    try:
        return float(pi / 4 * bore**2 * pipe.laid_length)
    except Missing:
        return 0.0
