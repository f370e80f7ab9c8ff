"""Where waste goes: drains to tanks, through traps and valves, and the vents of the tanks."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, text
from specreg.model.air import Vent
from specreg.model.fluid import Tank
from specreg.model.port import Medium, Terminal
from specreg.model.waste import (
    Basin,
    BlackTank,
    Cassette,
    DrainOutlet,
    DrainTrap,
    GreyTank,
    Toilet,
    UrineTank,
    WasteTank,
    WasteValve,
    WasteVent,
)

GRAPH = "search on the graph of the waste pipes"
SPEC = "the spec's runs"


def _search(
    subject: Subject, ports: tuple[str, ...], without: frozenset[str] = frozenset()
) -> frozenset[Terminal]:
    """Return where waste gets to from some ports of a thing when some components let none through."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    starts = [at_port(subject.id, port) for port in ports]
    return reached(subject.van.net, starts, Medium.waste, lambda edge: edge.owner not in without)


def _leaving(subject: Subject) -> tuple[str, ...]:
    """Return the ports of a basin or a toilet; waste has a way from those only where it leaves."""
    model = subject.model
    assert isinstance(model, Basin | Toilet)
    return tuple(port.key for port in model.ports())


def _ends(subject: Subject, terminals: frozenset[Terminal]) -> tuple[str, ...]:
    """Return the tanks entered and the outlets reached, in the order of the spec."""
    found = {t.component for t in terminals if t.port.startswith("inlet") or t.port == "in"}
    kinds = (WasteTank, Cassette, DrainOutlet)
    parts = subject.van.build.components
    return tuple(n for n, part in parts.items() if n in found and isinstance(part, kinds))


def _tanks_first(subject: Subject) -> tuple[str, ...]:
    tanks = (n for n, part in subject.van.build.components.items() if isinstance(part, WasteTank | Cassette))
    return _ends(subject, _search(subject, _leaving(subject), frozenset(tanks)))


@fact(Basin, list_of(text()), formula=GRAPH, source=SPEC)
def drains_into(basin: Subject) -> tuple[str, ...]:
    """Tanks and outlets into which it drains."""
    return _tanks_first(basin)


@fact(Toilet, list_of(text()), formula=GRAPH, source=SPEC)
def empties_into(toilet: Subject) -> tuple[str, ...]:
    """Tanks, cassettes and outlets into which it empties."""
    return _tanks_first(toilet)


@fact(
    Basin, TRUTH, formula="a trap is in it, or on every way from its drain to a tank or outlet", source=SPEC
)
def odour_trapped(basin: Subject) -> bool:
    """Whether a trap keeps the tank's smell out of the basin."""
    traps = {n for n, part in basin.van.build.components.items() if isinstance(part, DrainTrap)}
    if not _ends(basin, _search(basin, _leaving(basin), frozenset(traps))):
        return True
    return bool(basin.trap != "none")


@fact(Tank, list_of(text()), formula=GRAPH, source=SPEC)
def foreign_inflow(tank: Subject) -> tuple[str, ...]:
    """What empties into it and should not: basins into a tank for soil, toilets into one for grey water."""
    wrong = Toilet if isinstance(tank.model, GreyTank) else Basin
    return tuple(part.id for part in tank.van.of_class(wrong) if tank.id in _tanks_first(part))


@fact(WasteTank, TRUTH, formula="every way from its drain to an outlet passes a valve", source=SPEC)
def drain_closable(tank: Subject) -> bool:
    """Whether a valve closes the tank's drain."""
    valves = {n for n, part in tank.van.build.components.items() if isinstance(part, WasteValve)}
    if len(_search(tank, ("drain",))) <= 1:
        raise Missing(reason=f"no pipe leaves the drain of {tank.name}")
    return not _ends(tank, _search(tank, ("drain",), frozenset(valves)))


@fact(WasteValve, TRUTH, formula="waste from a tank's drain reaches it through no other valve", source=SPEC)
def holds_a_tank(valve: Subject) -> bool:
    """Whether the valve keeps waste in a tank."""
    valves = {n for n, part in valve.van.build.components.items() if isinstance(part, WasteValve)}
    return any(
        valve.id in {t.component for t in _search(tank, ("drain",), frozenset(valves))}
        for tank in valve.van.of_class(WasteTank)
    )


@fact(Tank, list_of(text()), formula=GRAPH, source=SPEC)
def waste_vents(tank: Subject) -> tuple[str, ...]:
    """Vents that a waste tank's vent pipe leads to."""
    found = {terminal.component for terminal in _search(tank, ("vent",))}
    parts = tank.van.build.components
    return tuple(n for n, part in parts.items() if n in found and isinstance(part, WasteVent))


@fact(Toilet, TRUTH, formula="its form keeps solids without water", source=SPEC)
def keeps_solids_dry(toilet: Subject) -> bool:
    """Whether solids stand in the toilet itself, without water."""
    return bool(toilet.form in ("urine-diverting", "composting"))


@fact(Toilet, list_of(text()), formula="search on the graph of the air ducts", source=SPEC)
def air_leaves_by(toilet: Subject) -> tuple[str, ...]:
    """Vents in the body to which the air of a dry toilet is led."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    found = {t.component for t in reached(toilet.van.net, [at_port(toilet.id, "vent")], Medium.air)}
    return tuple(
        name for name, part in toilet.van.build.components.items() if name in found and isinstance(part, Vent)
    )


@fact(Tank, TRUTH, formula="one of its vents opens outside, and lets air out", source=SPEC)
def vented_outside(tank: Subject) -> bool:
    """Whether a waste tank's gases leave to the outside air."""
    answers = []
    for name in tank.waste_vents:
        vent = tank.van.subject(name)
        lets_out = vent.get("form") != "air admittance valve" and vent.get("passes") != "inwards"
        if lets_out and vent.get("opens_to") == "outside":
            return True
        answers.append(f"{name}.opens_to" if lets_out and vent.get("opens_to") is None else "")
    absent = [answer for answer in answers if answer]
    if absent:
        raise Missing(*absent)
    return False


@fact(Tank, TRUTH, formula="a tank for soil or urine that is not carried out", source="the spec's components")
def soil_stands_in_it(tank: Subject) -> bool:
    """Whether soil or urine stands in the tank for days; what is carried out vents where it is emptied."""
    return isinstance(tank.model, BlackTank | UrineTank) and not getattr(tank.model, "removable", None)
