"""The things and pipes of a system, each with what is written about it."""

from __future__ import annotations

from specreg.model.component import Component
from specreg.model.run import Run
from specreg.pages.content import Cell, Figure, Known, Row, Section, Table, Words, cell
from specreg.pages.van import Van
from specreg.pages.where import place_of

COMMON = [
    "kind",
    "title",
    "part",
    "at",
    "size",
    "zone",
    "mass",
    "mass_status",
    "centre_of_mass",
    "count",
    "fixed_to",
    "fastening",
    "label",
    "maker",
    "maker_model",
    "serial",
    "made_on",
    "fitted_on",
    "manual",
    "supplier",
    "price",
    "state",
    "note",
    "shapes",
    "usual_shape",
    "ways",
    "approval",
]
"""Fields that every component has and that stand elsewhere, and those that tables of their own show."""


def components_section(van: Van, anchor: str, title: str, systems: tuple[str, ...]) -> list[Section]:
    """Return a table of what is fitted in some systems; nothing where nothing is."""
    found = {n: one for n, one in van.build.components.items() if type(one).system.value in systems}
    return listed(van, anchor, title, found)


def listed(van: Van, anchor: str, title: str, found: dict[str, Component]) -> list[Section]:
    """Return a table of some components with their places and what is written about them."""
    if not found:
        return []
    columns = tuple(van.texts(f"systems.{name}") for name in ("thing", "place", "written"))
    rows = tuple(_row(van, name, one) for name, one in found.items())
    return [Section(anchor, title, (Table(title, columns, rows),))]


def _row(van: Van, name: str, component: Component) -> Row:
    place = place_of(van, name) or van.texts("where.not_written")
    return Row((van.thing(name), cell(place), written(van, component)))


def written(van: Van, component: Component) -> Cell:
    """Return what is written about a component beside its name and place: declared figures."""
    pieces: list[Words | Figure] = []
    for label, text in van.fields(component, *COMMON):
        pieces += [Words("; ")] if pieces else []
        pieces += [Words(f"{label.lower()} "), Words(text, strong=True)]
    return (*pieces, Figure("", Known.declared)) if pieces else ()


def runs_section(van: Van, anchor: str, title: str, media: tuple[str, ...]) -> list[Section]:
    """Return a table of the pipes, hoses and ducts that carry some media."""
    found = {name: run for name, run in van.build.runs.items() if run.medium.value in media}
    if not found:
        return []
    columns = tuple(van.texts(f"systems.{name}") for name in ("pipe", "from", "to", "length", "written"))
    rows = tuple(_run(van, name, run) for name, run in found.items())
    carried = tuple(medium for medium in media if any(r.medium.value == medium for r in found.values()))
    return [Section(anchor, title, (Table(title, columns, rows),), carried)]


RUN_COMMON = ("medium", "start", "finish", "title", "part", "length", "label", "maker", "note")


def _run(van: Van, name: str, run: Run) -> Row:
    length = van.declared(run, "length") if run.length is not None else van.fact(name, "laid_length")
    told = "; ".join(f"{label.lower()} {text}" for label, text in van.fields(run, *RUN_COMMON))
    medium = van.texts(f"media.{run.medium.value}")
    mark = van.designation(name)
    named = cell(f"{mark} {van.name(name)} ({medium})".strip())
    return Row((named, _end(van, run.start), _end(van, run.finish), length, cell(told)), name)


def _end(van: Van, text: str) -> Cell:
    component, _, port = text.partition("/")
    return (*van.thing(component), Words(f", {port}")) if port else van.thing(component)
