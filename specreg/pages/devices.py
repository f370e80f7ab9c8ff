"""Fuses and breakers in words, by what holds them, with what each feeds."""

from __future__ import annotations

import re

from specreg.facts.schedule import DeviceRow, device_rows
from specreg.facts.value_type import ValueType
from specreg.graph.supply import upstream
from specreg.model.device import ProtectiveDevice
from specreg.pages.content import Cell, cell
from specreg.pages.texts import joined
from specreg.pages.van import Van
from specreg.units import Dimension

CURRENT = ValueType("number", dimension=Dimension.current)

ON_CABLES = ""
"""The group of the devices that sit in line, each on its cable."""


def device_words(van: Van, device: ProtectiveDevice) -> str:
    """Return a device's rating, family and sort: `10 A blade fuse`."""
    family = device.family.value if device.family else ""
    word = "" if device.word in family else van.texts(f"word.{device.word}")
    return " ".join(part for part in (van.value(device.rating, CURRENT), family, word) if part)


def device_groups(van: Van) -> dict[str, list[DeviceRow]]:
    """Return the devices by the component that holds them, ways in their order; those on cables last."""
    groups: dict[str, list[DeviceRow]] = {}
    for row in device_rows(van.facts):
        holder = row.sits_in if row.sits_in in van.build.components else ON_CABLES
        groups.setdefault(holder, []).append(row)
    ordered = {holder: sorted(rows, key=lambda row: by_number(row.id)) for holder, rows in groups.items()}
    return {holder: ordered[holder] for holder in sorted(ordered, key=lambda holder: holder == ON_CABLES)}


def by_number(text: str) -> list[tuple[int, str]]:
    """Return a key that sorts way 9 before way 10."""
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in re.split(r"(\d+)", text) if part]


def what_stops(van: Van, thing: str, stops: tuple[str, ...]) -> Cell:
    """Return what stops with a device or a switch, else what it feeds, as links."""
    names = stops or tuple(fed_by(van, thing))
    return joined([van.thing(name) for name in names]) or cell(van.texts("word.nothing"))


def fed_by(van: Van, thing: str) -> list[str]:
    """Return the components whose supply comes by way of a device or a switch."""
    return [
        name
        for name in van.build.components
        if any(step.id == thing for trail in upstream(van.supply, name) for step in trail.steps)
    ]


def way_of(van: Van, row: DeviceRow) -> str:
    """Return which way of its box a device is in, empty where it is the only one."""
    way = row.id.partition("/")[2]
    if not way or row.sits_in not in van.build.components:
        return ""
    return van.texts("electrics.way", way=way) if way.isdigit() else way
