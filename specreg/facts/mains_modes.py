"""Mains as a whole in each source mode: what feeds it, where neutral meets earth, what is asked of it."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.mains_network import Live, live
from specreg.facts.missing import Missing
from specreg.facts.recorded_tests import all_within_limit
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.walk import reached
from specreg.model.build import Header
from specreg.model.charging import ShoreCharger
from specreg.model.component import Component
from specreg.model.conversion import NeutralBond
from specreg.model.inverting import InverterCharger, Inverting
from specreg.model.mains import Generator, MainsAppliance, ShoreInlet, TransferSwitch
from specreg.model.mains_device import MainsBoard
from specreg.model.port import Terminal
from specreg.model.run import AcRun
from specreg.units import Dimension

MODE = Axis.source_mode
SUPPLYING = (ShoreInlet, Inverting, Generator)


@fact(
    Header, TRUTH, formula="an inlet, an inverter, a generator or a mains cable is listed", source="the spec"
)
def has_mains(build: Subject) -> bool:
    """Whether the van has mains."""
    listed = (*build.van.build.components.values(), *build.van.build.runs.values())
    return any(isinstance(item, (*SUPPLYING, AcRun)) for item in listed)


@fact(
    Header,
    list_of(text()),
    formula="sources of the mode whose output is joined to a cable",
    source="the graph",
    axis=MODE,
)
def sources_of_mode(build: Subject) -> tuple[str, ...]:
    """Sources that feed the mains in the source mode."""
    return tuple(sorted({supply.component for supply in live(build.van, build.case).sources}))


@fact(
    Header,
    list_of(text()),
    formula="sources of other modes that the live line reaches, a source's own transfer contact apart",
    source="the graph",
    axis=MODE,
)
def back_fed_sources(build: Subject) -> tuple[str, ...]:
    """Sources into which another source feeds back in the source mode."""
    here = live(build.van, build.case)
    feeding = {supply.terminal for supply in here.sources}
    return tuple(
        name for name, terminal in _outputs(build.van) if terminal not in feeding and _reaches(here, terminal)
    )


def _outputs(facts: Facts) -> list[tuple[str, Terminal]]:
    found = []
    for name, component in facts.build.components.items():
        if isinstance(component, SUPPLYING):
            port = "out" if isinstance(component, ShoreInlet) else "ac-out"
            found.append((name, Terminal(name, port, "line")))
    return found


def _reaches(here: Live, terminal: Terminal) -> bool:
    """Tell whether an active source reaches an output otherwise than through that component itself."""
    starts = [supply.terminal for supply in here.sources]
    seen = reached(here.net, starts, lambda edge, *_: edge.owner != terminal.component)
    return terminal in seen


@fact(
    Header,
    list_of(text()),
    formula="bonds whose neutral is joined to that of the source; a relay's counts at the source only",
    source="the graph",
    axis=MODE,
)
def neutral_bonds(build: Subject) -> tuple[str, ...]:
    """Components that join neutral to earth in the source mode."""
    here = live(build.van, build.case)
    sources = {supply.component for supply in here.sources}
    starts = [supply.terminal._replace(core="neutral") for supply in here.sources]
    island = reached(here.net, starts, lambda edge, *_: edge.core == "neutral")
    joined = {terminal.component for terminal in island}
    bonds = {name: _bond(build.van, name) for name in sorted(joined | sources)}
    _demand_switched_cores(build.van)
    return tuple(n for n, bond in bonds.items() if bond == "fixed" or (bond == "relay" and n in sources))


def _bond_stated(facts: Facts, name: str) -> str | None:
    component = facts.build.components[name]
    return component.neutral_bond if isinstance(component, NeutralBond | MainsBoard) else "none"


def _bond(facts: Facts, name: str) -> str:
    stated = _bond_stated(facts, name)
    if stated is None:
        raise Missing(f"{name}.neutral_bond")
    return stated


def _demand_switched_cores(facts: Facts) -> None:
    """Ask what a transfer contact opens where a bond may be fixed: whether it takes part hangs on that."""
    bonds = {name: _bond_stated(facts, name) for name in facts.build.components}
    if not {"fixed", None} & set(bonds.values()):
        return
    unknown = [
        f"{name}.switched_cores"
        for name, component in facts.build.components.items()
        if isinstance(component, TransferSwitch | InverterCharger) and component.switched_cores is None
    ]
    if unknown:
        raise Missing(*unknown, *(f"{name}.neutral_bond" for name, bond in bonds.items() if bond is None))


@fact(
    Header,
    number(),
    formula="none on shore, where the supply has it; one where the van is its own source",
    source="IEC 60364-7-721 lineage; NEC 551.54(C), from memory; inspectors' practice: one and only one",
    axis=MODE,
)
def neutral_bonds_due(build: Subject) -> int:
    """Neutral–earth bonds that the van must make in the source mode."""
    return 0 if build.case == "shore" else 1


@fact(
    Header,
    number(Dimension.power),
    formula="Σ rated mains power of everything that the mode feeds and that is meant for it",
    source="the graph; no diversity",
    axis=MODE,
)
def mains_demand(build: Subject) -> float:
    """Power of all mains appliances at once in the source mode."""
    _input_limits(build)
    takers = [c for c in build.van.of_class(Component) if "mains_power" in type(c.model).model_fields]
    asking = [c for c in takers if _takes_part(c.in_case(build.case))]
    return float(sum(_mains_power(consumer) * consumer.count for consumer in asking))


def _mains_power(consumer: Subject) -> float:
    """Return the stated mains power; a charger's is its greatest output over its efficiency."""
    stated = consumer.get("mains_power")
    if stated is None and isinstance(consumer.model, ShoreCharger):
        return float(consumer.charge_current * consumer.output_voltage / consumer.efficiency)
    return float(consumer.mains_power)


def _takes_part(consumer: Subject) -> bool:
    model = consumer.model
    if isinstance(model, MainsAppliance):
        if model.modes and consumer.case not in model.modes:
            return False
        if model.plugged and not _cabled(consumer):
            consumer.van.assume(
                f"{consumer.name}: plugged in somewhere, counted in every mode it is meant for"
            )
            return True
    return bool(consumer.mains_sources)


def _cabled(consumer: Subject) -> bool:
    return bool(consumer.van.net.around(Terminal(consumer.id, "mains", "line")))


def _input_limits(build: Subject) -> None:
    """An inverter with a charger charges with what its set input limit leaves: ask that it be set."""
    if build.case == "inverter":
        return
    for inverter in build.van.of_class(InverterCharger):
        if inverter.get("input_limit") is None:
            raise Missing(f"{inverter.id}.input_limit")
        build.van.assume(f"{inverter.name} charges with what its input limit leaves over")


@fact(
    Header,
    number(Dimension.power),
    formula="Σ of the mode's sources: an inlet's rated current × voltage, else rated power",
    source="the spec",
    axis=MODE,
)
def mains_capacity(build: Subject) -> float:
    """Power that the sources of the mode can give for long."""
    sources = [build.van.subject(name) for name in build.sources_of_mode]
    return float(sum(_capacity(source) for source in sources))


def _capacity(source: Subject) -> float:
    if isinstance(source.model, ShoreInlet):
        return float(source.rated_current * source.rated_voltage)
    return float(source.rated_power)


@fact(
    Header,
    list_of(text()),
    formula="chargers of the battery that the inverter's output reaches",
    source="the graph",
)
def chargers_on_inverter(build: Subject) -> tuple[str, ...]:
    """Mains chargers that an inverter feeds from the battery that they charge."""
    chargers = build.van.of_class(ShoreCharger)
    return tuple(charger.id for charger in chargers if charger.in_case("inverter").mains_sources)


@fact(Header, TRUTH, formula="the latest polarity tests recorded, all within the limit", source="the records")
def polarity_right(build: Subject) -> bool:
    """Whether polarity was found right wherever it was tested."""
    return all_within_limit(build, "polarity")
