"""Pressure that gas loses between the regulator and what burns it, everything burning at once."""

from __future__ import annotations

from collections import deque
from contextlib import suppress

from specreg.facts.engine import Facts, Subject
from specreg.facts.gas_path import users
from specreg.facts.gas_supply import gas_rate
from specreg.facts.missing import Missing
from specreg.facts.pipe_friction import FITTINGS_AT_MOST, Fluid, friction_loss
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.model.component import CombustionAppliance
from specreg.model.gas import Regulator
from specreg.model.port import Medium, Terminal
from specreg.model.run import GasRun
from specreg.tables import environment
from specreg.units import Dimension

PROPANE_VISCOSITY = 8.0e-6
"""Dynamic viscosity of propane vapour at 15 °C in Pa·s (from memory)."""
SOURCE = (
    "Darcy–Weisbach with Haaland's friction factor; propane vapour of 0.53 m³/kg (CAN/CGA-B149.2), 8 µPa·s"
)
PRESSURE = number(Dimension.pressure)


def propane_vapour() -> Fluid:
    """Return propane vapour at 15 °C and about one atmosphere."""
    return Fluid(1 / environment.constant("propane-vapour-volume").value, PROPANE_VISCOSITY)


def pipe_loss(mass_flow: float, length: float, bore: float) -> float:
    """Return the pressure in Pa that `mass_flow` kg/s of propane loses over `length` m of smooth pipe."""
    vapour = propane_vapour()
    return friction_loss(mass_flow / vapour.density, length, bore, vapour)


def way_from_regulator(facts: Facts, name: str) -> tuple[Edge, ...]:
    """Return the edges by which gas comes to a thing from a regulator; raises Missing without one."""
    starts = [Terminal(regulator.id, "out", "flow") for regulator in facts.of_class(Regulator)]
    before: dict[Terminal, tuple[Edge, ...]] = dict.fromkeys(starts, ())
    queue = deque(starts)
    while queue:
        here = queue.popleft()
        if here.component == name:
            return before[here]
        for other, edge in facts.net.around(here):
            if edge.medium is Medium.gas and other not in before and edge.one_way_from in (None, here):
                before[other] = (*before[here], edge)
                queue.append(other)
    raise Missing(reason="no regulator feeds it")


@fact(CombustionAppliance, list_of(text()), formula="followed from the regulator", source="the graph")
def gas_pipes(appliance: Subject) -> tuple[str, ...]:
    """Pipes through which its gas comes from the regulator."""
    if not appliance.burns_gas:
        return ()
    return tuple(edge.owner for edge in way_from_regulator(appliance.van, appliance.id) if edge.is_run)


def ways_of_users(facts: Facts) -> dict[str, tuple[str, ...]]:
    """Return the pipes by which gas comes from a regulator to each appliance and outlet that has one."""
    found = {}
    for name in users(facts):
        with suppress(Missing):  # nothing but a regulator is looked for here: other rules ask for the store
            found[name] = tuple(edge.owner for edge in way_from_regulator(facts, name) if edge.is_run)
    return found


@fact(
    GasRun,
    number(Dimension.mass_flow),
    formula="Σ gas use at full output of all whose shortest way from the regulator it is on",
    source="the graph",
)
def carries_at_most(run: Subject) -> float | None:
    """Gas that it carries behind the regulator when everything burns at once."""
    ways = run.van.once(ways_of_users)
    behind = [run.van.subject(name) for name, pipes in ways.items() if run.id in pipes]
    return sum(gas_rate(user) for user in behind) if behind else None


@fact(GasRun, PRESSURE, formula="f · L/d · ρ·v²/2 at the sum of what it feeds", source=SOURCE)
def pressure_lost(run: Subject) -> float | None:
    """Pressure that it takes by itself behind the regulator, its fittings left aside."""
    if run.get("pressure_side") == "cylinder":
        return None
    absent = [f"{run.id}.{field}" for field in ("length", "bore") if run.get(field) is None]
    if absent:
        raise Missing(*absent)
    run.van.assume("all gas is reckoned as propane vapour at 15 °C")
    return pipe_loss(run.carries_at_most, run.length, run.bore)


def _loss(appliance: Subject, fittings: float) -> float | None:
    if not appliance.burns_gas:
        return None
    pipes = [appliance.van.subject(name) for name in appliance.gas_pipes]
    absent = [f"{p.id}.{field}" for p in pipes for field in ("length", "bore") if p.get(field) is None]
    if absent:
        raise Missing(*absent)
    appliance.van.assume(
        "everything burns at once; fittings and valves take nothing to as much again as the pipes "
        "(common practice, no source)"
    )
    return fittings * float(sum(pipe.pressure_lost for pipe in pipes))


@fact(CombustionAppliance, PRESSURE, formula="Σ over its pipes from the regulator", source=SOURCE)
def gas_pressure_loss_least(appliance: Subject) -> float | None:
    """Pressure lost between regulator and appliance, at least."""
    return _loss(appliance, 1.0)


@fact(CombustionAppliance, PRESSURE, formula="2 × Σ over its pipes from the regulator", source=SOURCE)
def gas_pressure_loss_greatest(appliance: Subject) -> float | None:
    """Pressure lost between regulator and appliance, at most."""
    return _loss(appliance, FITTINGS_AT_MOST)


def _regulator(appliance: Subject) -> Subject:
    """Return the regulator from which its gas comes."""
    first = way_from_regulator(appliance.van, appliance.id)[0]  # a pipe that comes from its outlet
    return appliance.van.subject(first.tail.component)


@fact(
    CombustionAppliance, PRESSURE, formula="outlet pressure of the regulator − greatest loss", source=SOURCE
)
def gas_pressure_at_it(appliance: Subject) -> float | None:
    """Pressure at the appliance when everything burns, at least."""
    if not appliance.burns_gas:
        return None
    return float(_regulator(appliance).outlet_pressure - appliance.gas_pressure_loss_greatest)


@fact(
    CombustionAppliance,
    PRESSURE,
    formula="followed back on the graph to the regulator",
    source="the graph",
)
def regulated_pressure(appliance: Subject) -> float | None:
    """Pressure that the regulator before it gives."""
    return float(_regulator(appliance).outlet_pressure) if appliance.burns_gas else None


PLATES = {
    "28-30/37 mbar": (2800.0, 3700.0),
    "30 mbar": (3000.0, 3000.0),
    "50 mbar": (5000.0, 5000.0),
    "11 inWC": (2740.0, 2740.0),
    "2.75 kPa": (2750.0, 2750.0),
}
"""Working pressures as plates state them, in Pa: least and greatest of the regulator's."""
NEAR = 0.02
"""Rounding of a plate: 11 in of water, 27.4 mbar and 2.75 kPa are one."""


@fact(
    CombustionAppliance,
    TRUTH,
    formula="the regulator gives what its plate states, ± 2 % of rounding",
    source="plates of appliances (from memory)",
)
def pressure_fits(appliance: Subject) -> bool | None:
    """Whether it is made for the pressure that it gets."""
    if not appliance.burns_gas:
        return None
    least, greatest = PLATES[appliance.working_pressure]
    return bool(least * (1 - NEAR) <= appliance.regulated_pressure <= greatest * (1 + NEAR))
