"""Mains cables: what the devices let into them, and what else is known of each."""

from __future__ import annotations

from math import inf

from specreg.facts.axes import SOURCE_MODES
from specreg.facts.conductors import CELSIUS_ZERO
from specreg.facts.engine import Facts, Subject
from specreg.facts.mains_network import SITE_DEVICE, limited_sources, live
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.fault import LetThrough, all_pieces, let_through
from specreg.model.device import ProtectiveDevice
from specreg.model.mains import ShoreInlet
from specreg.model.port import Medium
from specreg.model.run import AcRun
from specreg.tables import conductors, overcurrent
from specreg.tables.constant import NotTabulatedError
from specreg.units import ConductorSize, Dimension

FLOW = (
    "greatest flow on the graph from all sources of one mode, devices carrying their rating; the worst mode"
)


def let_into_cables(facts: Facts) -> dict[str, tuple[LetThrough, ...]]:
    """Return, for every mains cable, what can be pushed into each of its pieces in each mode."""
    found: dict[str, list[LetThrough]] = {}
    pieces = all_pieces(facts.net, "line")
    for mode in SOURCE_MODES:
        here = live(facts, mode)
        sources = limited_sources(facts, here)
        for run, parts in pieces.items():
            for piece in parts:
                for end in (piece.start, piece.finish):
                    found.setdefault(run, []).append(let_through(here.net, sources, end, piece.edge))
    return {run: tuple(items) for run, items in found.items()}


def _let_into(run: Subject) -> tuple[LetThrough, ...]:
    found = run.van.once(let_into_cables).get(run.id, ())
    bounding = {name for fed in found for name in fed.limiting}
    if any(isinstance(run.van.build.components[name], ShoreInlet) for name in bounding):
        run.van.assume(SITE_DEVICE)
    return found


@fact(AcRun, TRUTH, formula="it has a line core", source="the graph")
def carries_line(run: Subject) -> bool:
    """Whether it carries current; a bonding conductor has the protective core only."""
    return "line" in run.van.build.ends[run.id].cores


@fact(AcRun, number(Dimension.current), formula=FLOW, source="max-flow min-cut theorem")
def mains_let_through(run: Subject) -> float:
    """Greatest current that devices and limits let flow into it for ever."""
    return max((fed.current for fed in _let_into(run) if fed.current < inf), default=0.0)


@fact(AcRun, list_of(text()), formula=FLOW, source="max-flow min-cut theorem")
def feeding_sources(run: Subject) -> tuple[str, ...]:
    """Sources that can push current into it, in any mode."""
    return tuple(sorted({name for fed in _let_into(run) for name in fed.sources}))


@fact(AcRun, list_of(text()), formula=FLOW, source="max-flow min-cut theorem")
def unlimited_sources(run: Subject) -> tuple[str, ...]:
    """Sources that reach it through no device and no limit of their own."""
    return tuple(sorted({name for fed in _let_into(run) for name in fed.unlimited}))


@fact(AcRun, list_of(text()), formula=FLOW, source="max-flow min-cut theorem")
def bounding_devices(run: Subject) -> tuple[str, ...]:
    """Devices that bound the current in it."""
    return tuple(sorted({name for fed in _let_into(run) for name in fed.devices}))


@fact(
    AcRun,
    number(Dimension.current),
    formula="greatest device for small copper conductors, AWG 18 to 10",
    source="NEC 240.4(D); 16 and 18 AWG from memory",
)
def small_conductor_limit(run: Subject) -> float:
    """Greatest device that the small-conductor rule admits; the ampacity where that rule is silent."""
    cap = overcurrent.small_conductor_cap(run.conductor)
    return cap.value if cap is not None else float(run.ampacity)


def _area(size: ConductorSize) -> float:
    """Return an area such that 2.5 mm² equals 2.5 mm² wherever it was written."""
    return float(f"{size.area:.6g}")


@fact(AcRun, number(Dimension.area), formula="area of its line and neutral cores", source="the spec")
def core_area(run: Subject) -> float:
    """Cross-section of its current-carrying cores."""
    return _area(run.conductor)


@fact(
    AcRun,
    number(Dimension.area),
    formula="area of the protective conductor, of a bonding conductor the conductor itself",
    source="the spec",
)
def protective_area(run: Subject) -> float:
    """Cross-section of its protective conductor."""
    stated = run.get("protective_conductor")
    if stated is None and not run.carries_line:
        stated = run.get("conductor")
    if stated is None:
        raise Missing(f"{run.id}.protective_conductor")
    return _area(stated)


@fact(ProtectiveDevice, TRUTH, formula="it opens the line of a mains circuit", source="the graph")
def on_mains(device: Subject) -> bool:
    """Whether it stands in a mains circuit."""
    return device.van.net.devices[device.id].medium is Medium.ac


@fact(
    AcRun,
    TRUTH,
    formula="it comes from a socket's outlet, or an appliance said to be plugged in is at its end",
    source="the spec",
)
def plug_in_flex(run: Subject) -> bool:
    """Whether it is a flexible lead with a plug, and no part of the fixed wiring."""
    ends = run.van.build.ends[run.id]
    finish = run.van.build.components[ends.finish.component]
    return ends.start.port.name == "outlet" or getattr(finish, "plugged", None) is True


@fact(
    AcRun,
    number(Dimension.current),
    formula="largest standard rating within the ampacity and, in the US and Canada, NEC 240.4(D)",
    source="standard ratings: NEC 240.6(A); 33 CFR 183.425 Table 5",
)
def largest_device(run: Subject) -> float:
    """Largest device that protects the cable."""
    most = float(run.ampacity)
    if _small_conductor_rule(run):
        most = min(most, float(run.small_conductor_limit))
    found = overcurrent.largest_standard_at_most(most)
    if found is None:
        raise Missing(reason="no standard device is that small")
    return found


def _small_conductor_rule(run: Subject) -> bool:
    return any(where.value in ("us", "ca") for where in run.van.build.header.jurisdictions)


@fact(
    AcRun,
    text(),
    formula="smallest standard conductor that carries what devices and limits let into it, laid as this one",
    source="33 CFR 183.425 Table 5; NEC 240.4(D) in the US and Canada",
)
def smallest_conductor(run: Subject) -> str:
    """Smallest conductor that the devices as fitted would protect."""
    if run.unlimited_sources:
        raise Missing(reason="a source reaches it through no device")
    size: ConductorSize = run.conductor
    current = float(run.mains_let_through)
    caps = _small_conductor_rule(run)

    def carries(other: ConductorSize) -> bool:
        cap = overcurrent.small_conductor_cap(other) if caps else None
        if cap is not None and cap.value < current:
            return False
        try:
            found = conductors.ampacity(
                other,
                run.insulation_class - CELSIUS_ZERO,
                engine_space=bool(run.get("engine_space")),
                bundled=run.get("bundled_with") or 1,
                voltage=230.0,
            )
        except NotTabulatedError:
            return False
        return found.value >= current

    found = conductors.smallest_conductor(size.notation, carries)
    if found is None:
        raise Missing(reason="no conductor of the table is that large")
    return found.label
