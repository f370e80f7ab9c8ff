"""Where things are: plans and views from the sides in each mode, with tables that say the same."""

from __future__ import annotations

from specreg.model.component import Component
from specreg.model.sleeping import Bed
from specreg.pages import where
from specreg.pages.content import Block, Drawing, Fold, Page, Row, Section, Table, cell
from specreg.pages.van import Van
from specreg.pages.views import VIEWS, Thing, drawn, measures_listed, shown, things, written

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
    drawings = [block for mode in modes or [""] for block in _drawings(van, name, numbers, mode)]
    sizes = _sizes(van, numbers) if name == "room" else []
    return [Section(name, van.texts(f"places.{name}"), (*drawings, _table(van, numbers), *sizes))]


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


def _drawings(van: Van, name: str, numbers: dict[str, int], mode: str) -> list[Block]:
    """Return the plan of a sheet in one mode, and folded the van from left, right and behind."""
    found = things(van, numbers, mode)
    beds = tuple(t for t in found if isinstance(van.build.components[t.name], Bed)) if name == "room" else ()
    plans = [
        _drawing(van, name, shown(van, found, view), mode, view, beds)
        for view in VIEWS
        if any(thing.number for thing in shown(van, found, view))
    ]
    title = van.texts("places.sides", of=_titled(van, name, mode))
    return [*plans[:1], *([Fold(title, tuple(plans[1:]))] if plans[1:] else [])]


def _titled(van: Van, name: str, mode: str) -> str:
    return van.texts(f"places.{name}") + (f": {mode.replace('_', ' ')}" if mode else "")


def _drawing(
    van: Van, name: str, found: tuple[Thing, ...], mode: str, view: str, beds: tuple[Thing, ...]
) -> Drawing:
    side = "" if view == "above" else view
    anchor = "-".join(part for part in ("plan", name, mode, side) if part).replace("_", "-").replace(" ", "-")
    title = _titled(van, name, mode) + (f", {van.texts(f'places.view.{view}')}" if side else "")
    said = "; ".join(f"{t.number} {van.name(t.name)}" for t in found if t.number)
    plan = drawn(van, found, view, beds)
    words = van.texts(f"places.described.{view}", things=said)
    return Drawing(anchor, title, words, plan, van.texts("places.scale", scale=plan.scale))


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
