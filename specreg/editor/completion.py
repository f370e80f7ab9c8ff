"""What may be written next at a place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from specreg.editor.fields import fields_of, is_day, models_in, units_for, words
from specreg.editor.outline import Cursor, Span
from specreg.editor.reading import Reading, Van
from specreg.editor.scanner import cursor
from specreg.editor.spot import Spot, spot
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.join import CONTROL
from specreg.model.kinds import kinds
from specreg.model.port import Medium, Way
from specreg.model.run import RUNS
from specreg.source import Mapping as Tree
from specreg.source import at

NAMES_A_COMPONENT = frozenset({"fixed_to", "controls", "of", "under", "holds", "lies_on", "lifts", "covers"})
NAMES_EITHER = frozenset({"target", "on", "drains_to", "serves", "evening_loads"})
NAMES_A_RULE = frozenset({"matter", "rule"})
INCLUDE_KEYS = {
    "assembly": "Name of a file in assemblies/.",
    "set": "Parameters of the assembly.",
    "prefix": "Put before the ids of its members; needed by a second use.",
}
TOP_KEYS = {
    "components": "What is fitted, by id.",
    "runs": "Cables, pipes, hoses and ducts, by id.",
    "circuits": "Circuits on one line each, by the load that they feed.",
    "include": "Assemblies that the build includes.",
}


@dataclass(frozen=True)
class Proposal:
    """One word that fits: what stands in the text then, and what it means."""

    text: str
    sort: str
    """`key`, `kind`, `id`, `port`, `part`, `unit`, `word` or `rule`."""
    detail: str = ""
    documentation: str = ""


def completion(reading: Reading, file: Path, line: int, column: int) -> tuple[Span, tuple[Proposal, ...]]:
    """Return what may stand at a place, and the piece of text that it would replace."""
    lines = reading.outline(file).lines
    found = cursor(lines, line, column)
    if found is None:
        return Span(line, column, column), ()
    about = spot(reading, file, found.path)
    if found.is_value:
        span, proposals = _values(reading, about, found)
    else:
        span, proposals = found.span, [*_keys(reading, about), *_items(reading, about)]
    return span, tuple(dict.fromkeys(proposals))


def _keys(reading: Reading, about: Spot) -> Iterator[Proposal]:
    """Yield the keys that may stand below a path and do not yet."""
    there = set(reading.outline(about.file).keys(about.path))
    for key, text in _possible(reading, about):
        if key not in there:
            yield Proposal(f"{key}: ", "key", documentation=text)


def _possible(reading: Reading, about: Spot) -> Iterator[tuple[str, str]]:
    if not about.path:
        if about.role in ("build", "assembly"):
            yield from TOP_KEYS.items()
        if about.role in ("build", "register"):
            yield from _described(Header)
        return
    if about.path[0] == "include":
        yield from _included(reading, about)
    elif about.path[0] == "circuits" or about.path in (("components",), ("runs",)):
        yield from _ids(reading, about)
    else:
        found = about.meaning
        for model in models_in(found.kind) if found else ():
            yield from _described(model)


def _described(model: type) -> Iterator[tuple[str, str]]:
    for key, field in fields_of(model).items():
        yield key, field.description or ""


def _included(reading: Reading, about: Spot) -> Iterator[tuple[str, str]]:
    if "set" not in about.path:
        yield from INCLUDE_KEYS.items()
        return
    name = reading.outline(about.file).text((*about.path[: about.path.index("set")], "assembly"))
    declared = (
        at(reading.register.assemblies[name], ("parameters",)) if name in _assemblies(reading) else None
    )
    for key in declared.entries if isinstance(declared, Tree) else ():
        yield key, f"Parameter of {name}."


def _ids(reading: Reading, about: Spot) -> Iterator[tuple[str, str]]:
    """Yield ids that an assembly brings, to be completed here, or loads for a circuit."""
    van = reading.van_of(about.file)
    section = "components" if about.path[0] == "circuits" else str(about.path[0])
    listed = at(van.tree, (section,)) if van and van.tree else None
    for name, entry in listed.entries.items() if isinstance(listed, Tree) and len(about.path) == 1 else ():
        if about.path[0] == "circuits" or entry.node.origin:
            yield name, "from an assembly" if entry.node.origin else "a component"


def _items(reading: Reading, about: Spot) -> Iterator[Proposal]:
    """Yield the values of a list whose item has just been begun."""
    if about.path and isinstance(about.path[-1], int):
        found = about.meaning
        for word in words(found.kind) if found else ():
            yield Proposal(word, "word")


def _values(reading: Reading, about: Spot, here: Cursor) -> tuple[Span, Iterable[Proposal]]:
    key = next((str(step) for step in reversed(here.path) if isinstance(step, str)), "")
    if number := re.match(r"[-+−]?[0-9][0-9.]*\s*", here.word):
        units = units_for(about.meaning.kind) if about.meaning else ()
        start = here.span.start + len(number[0])
        gap = "" if number[0].endswith(" ") else " "
        return Span(here.span.line, start, here.span.end), [
            Proposal(f"{gap}{unit}", "unit") for unit in units
        ]
    return here.span, list(_named(reading, about, key, here))


def _named(reading: Reading, about: Spot, key: str, here: Cursor) -> Iterator[Proposal]:
    van = reading.van_of(about.file)
    own_field = bool(about.entry) and len(about.rest) == 1
    if own_field and key == "kind":
        yield from (Proposal(word, "kind", documentation=_doc(model)) for word, model in kinds().items())
    elif own_field and key == "medium":
        yield from (Proposal(word, "kind", documentation=_doc(model)) for word, model in RUNS.items())
    elif own_field and key == "part":
        yield from _parts(reading, about)
    elif own_field and key in ("from", "to") and about.section == "runs":
        yield from _ends(reading, about, key, van)
    elif key == "return" and about.section == "runs":
        yield Proposal("same cable", "word", "the other core of this cable")
        yield Proposal("chassis", "word", "the body of the vehicle")
        yield from _runs(van)
    elif key == "assembly":
        yield from (Proposal(name, "part") for name in _assemblies(reading))
    elif key in NAMES_A_RULE:
        yield from _rules(reading, key)
    elif key == "zone":
        zones = at(van.tree, ("vehicle", "zones")) if van and van.tree else None
        yield from (Proposal(name, "id") for name in (zones.entries if isinstance(zones, Tree) else ()))
    else:
        yield from _typed(about, key, van)


def _typed(about: Spot, key: str, van: Van | None) -> Iterator[Proposal]:
    """Yield the words of a closed list, ids where a field names one, else an example."""
    found = about.meaning
    if found is None:
        return
    listed = words(found.kind)
    yield from (Proposal(word, "word") for word in listed)
    if key == "fixed_to":
        yield Proposal("body", "word", "the body of the vehicle")
    if key in NAMES_A_COMPONENT | NAMES_EITHER and not listed:
        yield from _components(van)
    if key in NAMES_EITHER and not listed:
        yield from _runs(van)
    if found.field and found.field.examples and not listed and (units_for(found.kind) or is_day(found.kind)):
        yield Proposal(str(found.field.examples[0]), "word", "an example")


def _doc(model: type) -> str:
    return (model.__doc__ or "").strip()


def _assemblies(reading: Reading) -> tuple[str, ...]:
    return tuple(reading.register.assemblies)


def _parts(reading: Reading, about: Spot) -> Iterator[Proposal]:
    """Yield the parts of the catalogue, of the entry's own kind where it says one."""
    key = "kind" if about.section == "components" else "medium"
    kind = reading.outline(about.file).text((*about.entry, key))
    for name, entry in reading.register.parts.items():
        stated = getattr(at(entry.node, (key,)), "text", "")
        if stated and kind in ("", stated):
            yield Proposal(name, "part", stated)


def _components(van: Van | None) -> Iterator[Proposal]:
    for name, component in van.build.components.items() if van and van.build else ():
        yield Proposal(name, "id", component.kind, component.title or "")


def _runs(van: Van | None) -> Iterator[Proposal]:
    for name, run in van.build.runs.items() if van and van.build else ():
        yield Proposal(name, "id", f"{run.medium.value} run", run.title or "")


def _ends(reading: Reading, about: Spot, key: str, van: Van | None) -> Iterator[Proposal]:
    """Yield the ports that a run of this medium may come from or go to."""
    written = reading.outline(about.file).text((*about.entry, "medium"))
    medium = Medium(written) if written in RUNS else None
    way = Way.out if key == "from" else Way.into
    for name, component in van.build.components.items() if van and van.build else ():
        for port in _ports(component, medium, way):
            yield Proposal(f"{name}/{port}" if port else name, "port", component.kind, component.title or "")


def _ports(component: Component, medium: Medium | None, way: Way) -> Iterator[str]:
    offered = (*component.ports(), *((CONTROL,) if medium is Medium.control else ()))
    fitting = [port for port in offered if medium in (None, port.medium) and port.way in (way, Way.either)]
    if len(fitting) == 1 or sum(port.main for port in fitting) == 1:
        yield ""
    yield from (port.name for port in fitting)


def _rules(reading: Reading, key: str) -> Iterator[Proposal]:
    """Yield rules: for a sign-off those that somebody decides, for a concession all."""
    for rule in reading.pack.rules if reading.pack else ():
        if key == "rule" or rule.header.decides is not None:
            yield Proposal(rule.identity, "rule", rule.header.level.value, rule.header.title)
