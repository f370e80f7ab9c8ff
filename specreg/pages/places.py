"""Where things are: the floor plan by day and by night, with a table that says the same."""

from __future__ import annotations

from specreg.model.component import Component
from specreg.model.shape import Shaped
from specreg.pages import where
from specreg.pages.content import Block, Cell, Drawing, Page, Row, Section, Table, cell
from specreg.pages.plan import Box, Plan, Rule, plan_of
from specreg.pages.van import Van

NOT_DRAWN = frozenset(
    {"insulation-layer", "lining", "floor", "insulated-panel", "removed-item", "luggage", "chassis-point", "anchorage"}
)
"""Kinds that are everywhere or nowhere on a plan."""

HANGS_FROM = 1.2
"""Height above the floor, in metres, from which a thing is drawn as hanging."""

CM = 100.0


def places_page(van: Van) -> Page:
    """Return the page with the plans and the table of places."""
    numbers = {name: number for number, name in enumerate(_drawn(van), 1)}
    modes = list(van.build.header.modes) or [""]
    drawings = [_drawing(van, numbers, mode) for mode in modes] if numbers else []
    blocks: tuple[Block, ...] = (*drawings, _table(van, numbers), *_elsewhere(van, numbers))
    lead = van.texts("places.lead" if numbers else "places.lead_nothing")
    return Page("places", van.texts("page.places"), lead, blocks)


def _drawn(van: Van) -> list[str]:
    """Return what can be drawn, from the front of the van to its rear."""
    found = {
        name: box
        for name, one in van.build.components.items()
        if one.kind not in NOT_DRAWN and (box := _box(van, one)) is not None
    }
    return sorted(found, key=lambda name: (round(found[name].centre[0], 1), found[name].centre[1], name))


def _box(van: Van, component: Component) -> where.Box | None:
    zones = van.build.header.vehicle.zones
    if component.zone in zones and component.at is None:
        return where.zone_box(zones[component.zone])
    return where.box_of(component)


def _drawing(van: Van, numbers: dict[str, int], mode: str) -> Section:
    title = van.texts("places.plan", mode=mode) if mode else van.texts("places.plan_only")
    description = van.texts("places.description", count=len(numbers), things=_said(van, numbers))
    anchor = f"plan-{mode.replace('_', '-').replace(' ', '-')}" if mode else "plan"
    return Section(anchor, title, (Drawing(f"{anchor}-drawing", title, description, _plan(van, numbers, mode)),))


def _said(van: Van, numbers: dict[str, int]) -> str:
    return "; ".join(f"{number} {van.name(name)}" for name, number in numbers.items())


def _plan(van: Van, numbers: dict[str, int], mode: str) -> Plan:
    shapes = van.build.header.modes.get(mode, {})
    boxes = [_plan_box(van, name, number, shapes.get(name)) for name, number in numbers.items()]
    return plan_of([box for box in boxes if box is not None], _room(van), _axles(van))


def _plan_box(van: Van, name: str, number: int, shape: str | None) -> Box | None:
    component = van.build.components[name]
    has_shape = isinstance(component, Shaped) and shape in component.shapes
    box = where.box_of(component, shape if has_shape else None)
    only_zone = box is None
    box = box or _box(van, component)
    if box is None:
        return None
    kind = "zone" if only_zone else ("high" if box.z >= HANGS_FROM else "thing")
    x, y = round(box.y * CM, 1), round(box.x * CM, 1)
    return Box(number, van.name(name), f"parts.html#{name}", x, y, box.across * CM, box.along * CM, kind)


def _room(van: Van) -> tuple[float, float, float, float] | None:
    room = van.build.header.vehicle.interior
    if room.length is None or room.width is None:
        return None
    return (-room.width / 2 * CM, (room.starts or 0.0) * CM, room.width * CM, room.length * CM)


def _axles(van: Van) -> tuple[Rule, ...]:
    wheelbase = van.build.header.vehicle.wheelbase
    front = Rule(0.0, van.texts("places.front_axle"))
    return (front,) if wheelbase is None else (front, Rule(wheelbase * CM, van.texts("places.rear_axle")))


def _table(van: Van, numbers: dict[str, int]) -> Section:
    columns = tuple(van.texts(f"places.column.{name}") for name in ("number", "thing", "mark", "place", "label"))
    rows = tuple(_row(van, name, str(number)) for name, number in numbers.items())
    table = Table(van.texts("places.caption"), columns, rows, findable=True)
    return Section("list", van.texts("places.list"), (table,))


def _row(van: Van, name: str, number: str) -> Row:
    component = van.build.components[name]
    cells: tuple[Cell, ...] = (
        cell(number),
        cell(van.name(name), f"parts.html#{name}", strong=True),
        cell(van.designation(name)),
        cell(where.place_of(van, name) or van.texts("where.not_written")),
        cell(component.label or ""),
    )
    return Row(cells)


def _elsewhere(van: Van, numbers: dict[str, int]) -> tuple[Section, ...]:
    left = [n for n, one in van.build.components.items() if n not in numbers and one.kind not in NOT_DRAWN]
    if not left:
        return ()
    columns = tuple(van.texts(f"places.column.{name}") for name in ("thing", "mark", "place", "label"))
    rows = tuple(Row(_row(van, name, "").cells[1:]) for name in left)
    table = Table(van.texts("places.not_drawn_caption"), columns, rows, findable=True)
    return (Section("not-drawn", van.texts("places.not_drawn"), (table,)),)
