"""Where things are: plans and views from the sides in each mode, with tables that say the same."""

from __future__ import annotations

from specreg.model.component import Component
from specreg.model.sleeping import Bed
from specreg.pages import where
from specreg.pages.content import Block, Drawing, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.photographs import led_to_photograph
from specreg.pages.van import Van
from specreg.pages.views import Thing, drawn, measures_listed, shown, things, written

SHEETS = (
    ("room", ("seating", "space", "fire", "vehicle", "mass", "records")),
    ("electrics", ("dc", "solar", "mains")),
    ("water", ("water", "waste")),
    ("heat", ("gas", "heat", "air")),
)
"""The plans with the systems that each shows; the room is drawn once for each mode."""

PAGE = "places.html"
"""The page with the tables that the drawings lead to."""

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


def places_page(van: Van) -> Page:
    """Return the page with the plans and their tables."""
    blocks: list[Block] = [section for name, systems in SHEETS for section in _sheet(van, name, systems)]
    lead = van.texts("places.lead" if blocks else "places.lead_nothing")
    return Page("places", van.texts("page.places"), lead, (*blocks, *_elsewhere(van)))


def numbered(van: Van, systems: tuple[str, ...]) -> dict[str, int]:
    """Return what of some systems can be drawn with its number, from the front of the van to its rear."""
    return {thing: number for number, thing in enumerate(_drawn(van, systems), 1)}


def modes_of(van: Van, name: str) -> list[str]:
    """Return the modes in which a sheet is drawn: the room in all of them, the others once."""
    return (list(van.build.header.modes) if name == "room" else []) or [""]


def _sheet(van: Van, name: str, systems: tuple[str, ...]) -> list[Section]:
    numbers = numbered(van, systems)
    if not numbers:
        return []
    plans = [one for mode in modes_of(van, name) for one in drawings(van, name, numbers, mode, ("above",))]
    sides = Paragraph(cell(van.texts("places.sides"), f"sides.html#{name}"))
    sizes = _sizes(van, numbers) if name == "room" else []
    return [Section(name, van.texts(f"places.{name}"), (*plans, sides, _table(van, numbers), *sizes))]


def _sizes(van: Van, numbers: dict[str, int]) -> list[Block]:
    """Return the dimensions that the drawings show as a table: van, room, and beds in each mode."""
    rows = list(measures_listed(van))
    for mode in list(van.build.header.modes) or [""]:
        for thing in things(van, numbers, mode):
            if isinstance(van.build.components[thing.name], Bed):
                named = ", ".join(part for part in (van.name(thing.name), mode) if part)
                along, across = (written(van, size) for size in (thing.box.along, thing.box.across))
                rows.append((named, f"{along} × {across}"))
    if not rows:
        return []
    columns = tuple(van.texts(f"places.size.{name}") for name in ("what", "how_large"))
    return [Table(van.texts("places.size.caption"), columns, tuple(Row((cell(a), cell(b))) for a, b in rows))]


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


def drawings(
    van: Van, name: str, numbers: dict[str, int], mode: str, views: tuple[str, ...]
) -> list[Drawing]:
    """Return the drawings of a sheet in one mode, one for each view in which something of it shows."""
    found = things(van, numbers, mode)
    beds = tuple(t for t in found if isinstance(van.build.components[t.name], Bed)) if name == "room" else ()
    seen = ((view, shown(van, found, view)) for view in views)
    return [
        _drawing(van, name, sight, mode, view, beds)
        for view, sight in seen
        if any(thing.number for thing in sight)
    ]


def titled(van: Van, name: str, mode: str) -> str:
    """Return the title of a sheet in one mode."""
    return van.texts(f"places.{name}") + (f": {mode.replace('_', ' ')}" if mode else "")


def _drawing(
    van: Van, name: str, found: tuple[Thing, ...], mode: str, view: str, beds: tuple[Thing, ...]
) -> Drawing:
    side = "" if view == "above" else view
    anchor = "-".join(part for part in ("plan", name, mode, side) if part).replace("_", "-").replace(" ", "-")
    title = titled(van, name, mode) + (f", {van.texts(f'places.view.{view}')}" if side else "")
    said = "; ".join(f"{t.number} {van.name(t.name)}" for t in found if t.number)
    plan = drawn(van, found, view, beds)
    words = van.texts(f"places.described.{view}", things=said)
    table = PAGE if side else ""
    return Drawing(anchor, title, words, plan, van.texts("places.scale", scale=plan.scale), table)


def _table(van: Van, numbers: dict[str, int]) -> Table:
    columns = tuple(
        van.texts(f"places.column.{name}") for name in ("number", "thing", "mark", "place", "label")
    )
    rows = tuple(
        Row((cell(str(number)), *_row(van, name).cells), f"place-{name}") for name, number in numbers.items()
    )
    return Table(van.texts("places.caption"), columns, rows, findable=True)


def _row(van: Van, name: str) -> Row:
    return Row(
        (
            (*cell(van.name(name), f"parts.html#{name}"), *led_to_photograph(van, name)),
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
