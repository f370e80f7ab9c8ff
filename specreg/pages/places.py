"""Where things are: floor plans, the room by day and by night, each with a table that says the same."""

from __future__ import annotations

from specreg.model.component import Component
from specreg.model.furniture import Furniture
from specreg.model.seating import Seating
from specreg.model.shape import Shaped
from specreg.model.sleeping import Bed
from specreg.pages import where
from specreg.pages.content import Block, Drawing, Page, Row, Section, Table, cell
from specreg.pages.plan import Box, Plan, Rule, plan_of
from specreg.pages.van import Van

SHEETS = (
    ("room", ("seating", "space", "fire", "vehicle", "mass", "records")),
    ("electrics", ("dc", "solar", "mains")),
    ("water", ("water", "waste")),
    ("heat", ("gas", "heat", "air")),
)
"""The plans with the systems that each shows; the room is drawn once for each mode."""

NOT_DRAWN = frozenset(
    {
        "insulation-layer",
        "lining",
        "floor",
        "insulated-panel",
        "removed-item",
        "luggage",
        "chassis-point",
        "anchorage",
    }
)
"""Kinds that are everywhere or nowhere on a plan."""

HANGS_FROM = 1.2
"""Height above the floor, in metres, from which a thing is drawn as hanging."""

CM = 100.0


def places_page(van: Van) -> Page:
    """Return the page with the plans and their tables."""
    blocks: list[Block] = [section for name, systems in SHEETS for section in _sheet(van, name, systems)]
    lead = van.texts("places.lead" if blocks else "places.lead_nothing")
    return Page("places", van.texts("page.places"), lead, (*blocks, *_elsewhere(van)))


def _sheet(van: Van, name: str, systems: tuple[str, ...]) -> list[Section]:
    things = _drawn(van, systems)
    if not things:
        return []
    numbers = {thing: number for number, thing in enumerate(things, 1)}
    modes = list(van.build.header.modes) if name == "room" else []
    drawings = [_drawing(van, name, numbers, mode) for mode in modes or [""]]
    return [Section(name, van.texts(f"places.{name}"), (*drawings, _table(van, numbers)))]


def _drawn(van: Van, systems: tuple[str, ...]) -> list[str]:
    """Return what of some systems can be drawn, from the front of the van to its rear."""
    found = {
        name: box
        for name, one in van.build.components.items()
        if type(one).system.value in systems
        and one.kind not in NOT_DRAWN
        and (box := _box(van, one)) is not None
    }
    return sorted(found, key=lambda name: (round(found[name].centre[0], 1), found[name].centre[1], name))


def _box(van: Van, component: Component) -> where.Box | None:
    zones = van.build.header.vehicle.zones
    box = where.box_of(component)
    return where.zone_box(zones[component.zone]) if box is None and component.zone in zones else box


def _drawing(van: Van, name: str, numbers: dict[str, int], mode: str) -> Drawing:
    title = van.texts(f"places.{name}") + (f": {mode.replace('_', ' ')}" if mode else "")
    anchor = f"plan-{name}-{mode}".rstrip("-").replace("_", "-").replace(" ", "-")
    said = "; ".join(f"{number} {van.name(thing)}" for thing, number in numbers.items())
    return Drawing(anchor, title, van.texts("places.description", things=said), _plan(van, numbers, mode))


def _plan(van: Van, numbers: dict[str, int], mode: str) -> Plan:
    shapes = van.build.header.modes.get(mode, {})
    numbered = [_plan_box(van, name, shapes.get(name), number) for name, number in numbers.items()]
    behind = [
        _plan_box(van, name, shapes.get(name), 0)
        for name in van.of(Furniture, Bed, Seating)
        if name not in numbers
    ]
    return plan_of([box for box in (*behind, *numbered) if box is not None], _room(van), _axles(van))


def _plan_box(van: Van, name: str, shape: str | None, number: int) -> Box | None:
    component = van.build.components[name]
    has_shape = isinstance(component, Shaped) and shape in component.shapes
    box = where.box_of(component, shape if has_shape else None)
    kind = "zone" if box is None else ("high" if box.z >= HANGS_FROM else "thing")
    box = box or _box(van, component)
    if box is None:
        return None
    return Box(number, box.y * CM, box.x * CM, box.across * CM, box.along * CM, kind if number else "behind")


def _room(van: Van) -> tuple[float, float, float, float] | None:
    room = van.build.header.vehicle.interior
    if room.length is None or room.width is None:
        return None
    return (-room.width / 2 * CM, (room.starts or 0.0) * CM, room.width * CM, room.length * CM)


def _axles(van: Van) -> tuple[Rule, ...]:
    wheelbase = van.build.header.vehicle.wheelbase
    return (Rule(0.0),) if wheelbase is None else (Rule(0.0), Rule(wheelbase * CM))


def _table(van: Van, numbers: dict[str, int]) -> Table:
    columns = tuple(
        van.texts(f"places.column.{name}") for name in ("number", "thing", "mark", "place", "label")
    )
    rows = tuple(Row((cell(str(number)), *_row(van, name).cells)) for name, number in numbers.items())
    return Table(van.texts("places.caption"), columns, rows, findable=True)


def _row(van: Van, name: str) -> Row:
    return Row(
        (
            cell(van.name(name), f"parts.html#{name}"),
            cell(van.designation(name)),
            cell(where.place_of(van, name) or van.texts("where.not_written")),
            cell(van.build.components[name].label or ""),
        )
    )


def _elsewhere(van: Van) -> tuple[Section, ...]:
    """Return the table of what no plan shows, because no place is written for it."""
    left = [
        n for n, one in van.build.components.items() if one.kind not in NOT_DRAWN and _box(van, one) is None
    ]
    if not left:
        return ()
    columns = tuple(van.texts(f"places.column.{name}") for name in ("thing", "mark", "place", "label"))
    table = Table(van.texts("places.not_drawn_caption"), columns, tuple(_row(van, name) for name in left))
    return (Section("not-drawn", van.texts("places.not_drawn"), (table,)),)
