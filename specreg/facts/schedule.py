"""The documents that follow from runs and ports: devices, cables, panel legend."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.engine import Facts
from specreg.facts.registry import kinds_for
from specreg.graph.supply import Supplied, stops_with, supplied
from specreg.model.dc import SwitchPanel
from specreg.model.device import ProtectiveDevice
from specreg.model.run import AcRun, Cable


@dataclass(frozen=True)
class DeviceRow:
    """One fuse or breaker: what it is, where it sits, what stops with it."""

    id: str
    designation: str
    device: ProtectiveDevice
    label: str
    sits_in: str
    stops: tuple[str, ...]


@dataclass(frozen=True)
class CableRow:
    """One electrical run with its figures; None where a figure is not known."""

    id: str
    designation: str
    medium: str
    start: str
    finish: str
    conductor: str
    cores: tuple[str, ...]
    returns: str
    length: float | None
    ampacity: float | None
    design_current: float | None
    protected_by: tuple[str, ...]


@dataclass(frozen=True)
class LegendRow:
    """One way of a switch panel: the words beside the switch and what it switches."""

    panel: str
    way: str
    label: str
    form: str
    switches: tuple[str, ...]


def supply_of(facts: Facts) -> Supplied:
    """Return the build prepared for questions of supply."""
    return supplied(facts.build, facts.net)


def device_rows(facts: Facts) -> tuple[DeviceRow, ...]:
    """Return every fuse and breaker, in the order of the spec, from the graph."""
    supply = facts.once(supply_of)
    return tuple(
        DeviceRow(
            name,
            facts.build.designations.get(name, ""),
            device,
            device.label or "",
            name.partition("/")[0],
            stops_with(supply, name),
        )
        for name, device in facts.devices.items()
    )


def cable_rows(facts: Facts) -> tuple[CableRow, ...]:
    """Return every electrical run, in the order of the spec."""
    return tuple(_cable(facts, name, run) for name, run in facts.build.runs.items() if isinstance(run, Cable))


def _cable(facts: Facts, name: str, run: Cable) -> CableRow:
    subject = facts.subject(name)
    known = kinds_for(type(run))
    figures = {
        fact: subject.get(fact) if fact in known else None
        for fact in ("laid_length", "ampacity", "design_current", "protecting_devices")
    }
    return CableRow(
        name,
        facts.build.designations.get(name, ""),
        run.medium.value,
        run.start,
        run.finish,
        run.conductor.label if run.conductor else "",
        facts.build.ends[name].cores,
        "" if isinstance(run, AcRun) else str(getattr(run, "returns", None) or ""),
        figures["laid_length"],
        figures["ampacity"],
        figures["design_current"],
        figures["protecting_devices"] or (),
    )


def legend_rows(facts: Facts) -> tuple[LegendRow, ...]:
    """Return the legend of every switch panel: what each way really switches."""
    supply = facts.once(supply_of)
    return tuple(
        LegendRow(name, way, spec.label or "", spec.form, stops_with(supply, f"{name}/{way}"))
        for name, panel in facts.build.components.items()
        if isinstance(panel, SwitchPanel)
        for way, spec in panel.ways.items()
    )
