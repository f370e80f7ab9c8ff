"""The device schedule, cable schedule and panel legend as text, rows and JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from specreg import __version__
from specreg.facts.engine import Facts
from specreg.facts.schedule import CableRow, DeviceRow, LegendRow, cable_rows, device_rows, legend_rows
from specreg.model.device import ProtectiveDevice
from specreg.output.rows import as_csv, in_columns
from specreg.output.shape import FORMAT
from specreg.output.style import Style
from specreg.output.value import machine, worded
from specreg.units import Dimension, System

Row = tuple[str, ...]

DEVICES = ("designation", "device", "rating", "family", "sits in", "label", "stops with it")
CABLES = (
    "designation", "run", "medium", "from", "to", "conductor", "cores", "return", "length one way",
    "ampacity", "design current", "protected by",
)  # fmt: skip
LEGEND = ("panel", "way", "label", "form", "switches")


def schedule_text(facts: Facts, style: Style) -> str:
    """Return the three documents of one van in columns."""
    header = facts.build.header
    parts = [style.tint(f"Schedules of {header.build}, {header.title}", "title")]
    for title, columns, rows in _tables(facts):
        lines = in_columns(columns, rows, width=style.width) if rows else ["none"]
        parts.append("\n".join([style.tint(title, "title"), *lines]))
    return "\n\n".join(parts) + "\n"


def schedule_csv(all_facts: Iterable[Facts]) -> str:
    """Return the documents of vans as one table: which document, which van, then its columns."""
    columns = list(dict.fromkeys((*DEVICES, *CABLES, *LEGEND)))
    rows = [
        (facts.build.name, title, *(dict(zip(names, row, strict=True)).get(name, "") for name in columns))
        for facts in all_facts
        for title, names, rows in _tables(facts)
        for row in rows
    ]
    return as_csv(("build", "schedule", *columns), rows)


def _tables(facts: Facts) -> list[tuple[str, Sequence[str], list[Row]]]:
    system = System(facts.build.header.units)
    return [
        ("Fuses and breakers", DEVICES, [_device(row, system) for row in device_rows(facts)]),
        ("Cables", CABLES, [_cable(row, system) for row in cable_rows(facts)]),
        ("Panel legend", LEGEND, [_legend(row) for row in legend_rows(facts)]),
    ]


def _device(row: DeviceRow, system: System) -> Row:
    family = row.device.family.value if row.device.family else ""
    rating = rating_words(row.device, system)
    return (row.designation, row.id, rating, family, row.sits_in, row.label, ", ".join(row.stops))


def rating_words(device: ProtectiveDevice, system: System) -> str:
    """Return what a device is and its rated current."""
    for word, current in (("fuse", device.fuse), ("breaker", device.breaker)):
        if current is not None:
            return f"{word} {worded(current, Dimension.current, system)}"
    return ""


def _cable(row: CableRow, system: System) -> Row:
    def figure(value: float | None, dimension: Dimension) -> str:
        return "" if value is None else worded(value, dimension, system)

    return (
        row.designation,
        row.id,
        row.medium,
        row.start,
        row.finish,
        row.conductor,
        ", ".join(row.cores),
        row.returns,
        figure(row.length, Dimension.length),
        figure(row.ampacity, Dimension.current),
        figure(row.design_current, Dimension.current),
        ", ".join(row.protected_by),
    )


def _legend(row: LegendRow) -> Row:
    return (row.panel, row.way, row.label, row.form, ", ".join(row.switches))


def schedule_data(all_facts: Iterable[Facts]) -> dict[str, Any]:
    """Return the documents of vans as plain data; lengths in m, currents in A."""
    return {
        "format": FORMAT,
        "specreg": __version__,
        "builds": [
            {
                "build": facts.build.name,
                "devices": _plain(device_rows(facts), lambda row: {"device": machine(row.device)}),
                "cables": _plain(cable_rows(facts), lambda row: {}),
                "panels": _plain(legend_rows(facts), lambda row: {}),
            }
            for facts in all_facts
        ],
    }


def _plain(rows: Iterable[Any], more: Callable[[Any], dict[str, Any]]) -> list[dict[str, Any]]:
    return [{**machine(row), **more(row)} for row in rows]
