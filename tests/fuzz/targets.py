"""What reads bytes that came from anybody, one function each: it may refuse them, and must not fail.

Each takes bytes and raises nothing, whatever they are. `guided.py` goes on with those that reach new code.
"""

from __future__ import annotations

import json
import random
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import yaml

from specreg.accepted import read_record
from specreg.cli.works import _rows
from specreg.editor.scanner import cursor, outline
from specreg.facts.engine import Facts
from specreg.model.read import read_build
from specreg.output.spreadsheet import as_workbook
from specreg.pages.procedures import _procedure
from specreg.pages.shrinking import shrunk
from specreg.register import index as register_index
from specreg.register.query import read_query
from specreg.rules import cache as pack_cache
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, documents, load_rule, pack_of
from specreg.source import Mapping, Problem, read_yaml
from specreg.source.assembly import include_assemblies
from specreg.source.circuits import expand_circuits, one_line, read_line
from specreg.source.recall import read_recall
from specreg.trade.answers import is_answers, read_answers
from specreg.trade.circuit_answers import is_circuits, read_circuits
from specreg.trade.filled import read_filled
from specreg.trade.sheet import trade_sheets
from specreg.units import Dimension, NotAQuantity, parse, parse_any
from specreg.units.conductor import parse_conductor
from specreg.works.parts_list import read_parts_list
from specreg.workshop import inspect_all, load

ROOT = Path(__file__).parents[2]
DEMOS = ROOT / "builds"
HEAD = b"format: 1\nbuild: v\ntitle: T\nstage: design\njurisdictions: [uk]\n"


@dataclass(frozen=True)
class Target:
    """A reader, what to begin with, and whether its bytes are a tree of YAML."""

    read: Callable[[bytes], None]
    seeds: Callable[[], Iterable[bytes]]
    is_tree: bool = False


def told(problems: Iterable[Problem]) -> None:
    """Every problem says itself on one line that steers no terminal."""
    for problem in problems:
        assert problem.text().isprintable(), problem


def text_of(data: bytes) -> str:
    """Bytes as the text that a file of them would be read as."""
    return data.decode("utf-8", "replace")


@cache
def folder() -> Path:
    """A folder for readers that take a file; it goes with the process."""
    made = tempfile.TemporaryDirectory(prefix="specreg-guided-")
    _kept.append(made)
    return Path(made.name)


_kept: list[tempfile.TemporaryDirectory[str]] = []


def file_of(name: str, data: bytes) -> Path:
    """A file with these bytes."""
    path = folder() / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


@cache
def pocket() -> Facts:
    """The facts of the small demo."""
    return Facts(load(DEMOS / "pocket").sound[0])


# one function for each reader


def read_tree(data: bytes) -> None:
    """Bytes as YAML."""
    tree, problems = read_yaml(data, "spec.yaml")
    assert tree is not None or problems
    told(problems)


def read_spec(data: bytes) -> None:
    """Bytes as a spec, without its facts."""
    tree, problems = read_yaml(data, "spec.yaml")
    told(problems)
    if isinstance(tree, Mapping):
        told(read_build(expand_circuits(tree)[0])[1])


def read_quantity(data: bytes) -> None:
    """A text as a quantity of each dimension, and as a conductor."""
    text = text_of(data)
    for dimension in Dimension:
        with suppress(NotAQuantity):
            assert abs(parse(text, dimension)) <= 1e12
    with suppress(NotAQuantity):
        parse_any(text)
    with suppress(NotAQuantity):
        parse_conductor(text)


def read_rule(data: bytes) -> None:
    """A rule's document, put to the small demo where it can be."""
    rule, problems = load_rule(text_of(data), "dc/own", "own.md")
    told(problems)
    if rule is not None:
        rule.document.fragments  # noqa: B018 - parted when first asked for
        for result in judge(Pack((rule,)), pocket()):
            assert isinstance(result.message, str)


def read_condition(data: bytes) -> None:
    """A condition and a text of a rule."""
    text = text_of(data)
    front = f"passes: {json.dumps(text)}\nfinding: {json.dumps('x {{ ' + text + ' }}')}\n"
    limits = "limits: {most: {any: 0.03}, reach: {any: 12 V, us: 24 V}, count: {any: 4}}\n"
    judges = next((noun for noun in JUDGED if noun.replace("-", "_") in text), "build")
    head = f"title: t\nsystem: dc\nlevel: warning\njudges: {judges}\n{limits}sources: [{{how: memory}}]\n"
    read_rule(f"---\n{head}{front}---\n".encode("utf-8", "replace"))


JUDGED = ("battery", "dc-run", "device", "ac-run", "water-tank", "component")


def read_circuit(data: bytes) -> None:
    """Lines of circuits; what a line says is written back as it reads."""
    lines = {f"c{number}": line for number, line in enumerate(text_of(data).split("\n")[:20])}
    tree, _ = read_yaml(
        json.dumps({"components": {"box": {"kind": "fuse-box"}}, "circuits": lines}).encode(), "x"
    )
    if not isinstance(tree, Mapping):
        return
    told(expand_circuits(tree)[1])
    circuits = tree.entries["circuits"].node
    for name, entry in circuits.entries.items() if isinstance(circuits, Mapping) else ():
        problems: list[Problem] = []
        line = read_line(name, entry, problems)
        if line is not None and not problems:
            again, _ = read_yaml(json.dumps({name: one_line(name, line)}).encode(), "x")
            assert isinstance(again, Mapping)
            assert read_line(name, again.entries[name], []) is not None


class Harm(HTMLParser):
    """Markup that runs or fetches."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Refuse elements that run or fetch, handlers, and links that lead out."""
        assert tag not in (
            "script",
            "iframe",
            "object",
            "embed",
            "base",
            "form",
            "img",
            "svg",
            "style",
            "link",
        ), tag
        for key, value in attrs:
            assert not key.startswith("on"), (tag, key)
            lead = (value or "").strip().lower()
            assert key != "href" or not lead.startswith(
                ("javascript:", "data:", "http:", "https:", "//", "file:")
            ), lead


def read_procedure(data: bytes) -> None:
    """A page of a procedure: what comes out holds no markup of its own."""
    path = file_of("how.md", data)
    van: Any = SimpleNamespace(
        build=pocket().build, shown="vans/v", folder=path.parent
    )  # all that it asks a van for
    problems: list[Problem] = []
    found = _procedure(van, path, problems)
    told(problems)
    if found is not None:
        Harm().feed(str(found.markup))


@cache
def demo() -> Any:
    """The large demo, inspected."""
    return inspect_all(load(DEMOS / "fieldwork")).reports[0]


@cache
def sheets() -> Any:
    """Its sheets."""
    return trade_sheets(demo())


def read_sheet(data: bytes) -> None:
    """A filled sheet, answers at a hold point, or a table of circuits."""
    if is_circuits(data):
        told(read_circuits(data, "sheet.csv", {}).problems)
    elif is_answers(data):
        told(read_answers(data, "sheet.csv", demo().facts).problems)
    else:
        told(read_filled(data, "sheet.csv", demo().facts, sheets(), {"by": "electrician"}).problems)


def read_table_of_parts(data: bytes) -> None:
    """A workshop's own parts list as CSV."""
    _imported(file_of("list.csv", data))


def read_book_of_parts(data: bytes) -> None:
    """The same as a workbook."""
    _imported(file_of("list.xlsx", data))


def _imported(path: Path) -> None:
    with suppress(SystemExit):
        told(read_parts_list(_rows(path), path.name, frozenset({"pump-3gpm"}), {}, "pump").problems)


def read_accepted(data: bytes) -> None:
    """The record of accepted findings."""
    told(read_record(data, "accepted.yaml")[1])


def read_photograph(data: bytes) -> None:
    """A photograph: its small picture, or none."""
    found = shrunk(data)
    assert found is None or (found.jpeg[:2] == b"\xff\xd8" and max(found.width, found.height) <= 1000)


def read_called_back(data: bytes) -> None:
    """A recall."""
    file_of("register/recalls/one.yaml", data)
    told(read_recall(folder() / "register", "register", "one")[1])


def read_package(data: bytes) -> None:
    """An assembly, put into a build twice."""
    assembly, problems = read_yaml(data, "assemblies/a.yaml")
    told(problems)
    wanted, _ = read_yaml(
        HEAD + b"include: [{assembly: a}, {assembly: a, prefix: b, set: {count: 2}}]\n", "spec.yaml"
    )
    if isinstance(assembly, Mapping) and isinstance(wanted, Mapping):
        tree, found = include_assemblies(wanted, {"a": assembly})
        told([*found, *read_build(expand_circuits(tree)[0])[1]])


def read_question(data: bytes) -> None:
    """A question of `find`."""
    conditions, problems = read_query(text_of(data).split("\n"))
    told(problems)
    for one in conditions:
        one.holds("Pocket camper")


def read_while_written(data: bytes) -> None:
    """A text as an editor sees it, wherever the mark stands."""
    text = text_of(data)
    lines = outline(text).lines
    for line in range(min(len(lines), 6) + 1):
        cursor(lines, line, len(lines[line]) // 2 if line < len(lines) else 0)


@cache
def kept_index() -> bytes:
    """An index as the program keeps it."""
    place = folder() / "cache" / "one.index"
    place.parent.mkdir(mode=0o700)
    index, _ = register_index.open_index(DEMOS)
    data = index.serialize()
    return register_index._head(data) + data


def take_index(data: bytes) -> None:
    """A kept index: the very bytes, or none."""
    whole = kept_index()
    taken = register_index._taken(file_of("cache/one.index", data))
    assert taken is None or data == whole


@cache
def kept_pack() -> tuple[bytes, bytes, dict[str, str]]:
    """A compiled pack as the program keeps it, its key, and the documents that it is of."""
    (folder() / "packs").mkdir(mode=0o700)
    texts = dict(list(documents(ROOT / "rules").items())[:3])
    key = pack_cache._key(texts, "rules")
    place = folder() / "packs" / "pack.bin"
    pack, _ = pack_of(texts, "rules")
    pack_cache._keep(place, key, pack)
    return place.read_bytes(), key, texts


def take_pack(data: bytes) -> None:
    """A kept pack: the very bytes, or none; nothing of another file is unpacked."""
    whole, key, texts = kept_pack()
    taken = pack_cache._taken(file_of("packs/other.bin", data), key, texts, "rules")
    assert (taken is None) == (data != whole)


# what to begin with


def _files(pattern: str, base: Path = DEMOS, most: int = 30_000) -> Callable[[], Iterable[bytes]]:
    def found() -> Iterable[bytes]:
        return [path.read_bytes() for path in sorted(base.glob(pattern)) if path.stat().st_size < most]

    return found


def _lines(*texts: str) -> Callable[[], Iterable[bytes]]:
    return lambda: [text.encode() for text in texts]


def _conditions() -> Iterable[bytes]:
    for text in list(documents(ROOT / "rules").values())[::6]:
        rule, _ = load_rule(text, "x/y", "y.md")
        for one in (rule.applies, rule.passes) if rule else ():
            if one is not None:
                yield one.source.encode()


def _sheets() -> Iterable[bytes]:
    from attempts import SHEETS, filled_sheet

    return map(filled_sheet, SHEETS)


def _lists() -> Iterable[bytes]:
    from attempts import PARTS_LIST

    return [PARTS_LIST, PARTS_LIST.replace(b",", b";")]


def _books() -> Iterable[bytes]:
    rows = [tuple(line.split(",")) for line in next(iter(_lists())).decode().splitlines()]
    return [as_workbook("Parts", rows[0], rows[1:])]


def _pictures() -> Iterable[bytes]:
    from io import BytesIO

    from PIL import Image

    for form in ("JPEG", "PNG", "WEBP"):
        into = BytesIO()
        Image.new("RGB", (40, 30), "green").save(into, form)
        yield into.getvalue()
    yield b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"


QUANTITIES = (
    "12 V",
    "1 1/2 in",
    "6 ft 3 1/2 in",
    "-40 °C",
    "2/0 AWG",
    "1.5 mm²",
    "30 A",
    "0.5 MΩ",
    "3 %",
    "5 mm2",
    "1e3 m",
    "½ in",
)
QUESTIONS = (
    "kind=pump stage=design",
    "serial=A100..A199",
    "fitted=2026-03..2026-05",
    "part=diaphragm-*",
    "copper",
    "made=2026,2027",
)
CIRCUITS = (
    "pump: box/7 10 A · 1.5 mm² · 4.2 m",
    'box/7 10 A mini | 2.5 mm² | 3 m | panel/1 | 1.3 m | to lamp | "Lamp"',
)
TARGETS: dict[str, Target] = {
    "yaml": Target(read_tree, _files("*/*.yaml", most=6_000)),
    "spec": Target(read_spec, _files("*/*.yaml", most=12_000), is_tree=True),
    "quantity": Target(read_quantity, _lines(*QUANTITIES)),
    "rule": Target(read_rule, _files("*/*.md", ROOT / "rules", 4_000)),
    "condition": Target(read_condition, _conditions),
    "circuit": Target(read_circuit, _lines(*CIRCUITS)),
    "procedure": Target(read_procedure, _files("*/procedures/*.md")),
    "sheet": Target(read_sheet, _sheets),
    "parts-csv": Target(read_table_of_parts, _lists),
    "parts-xlsx": Target(read_book_of_parts, _books),
    "accepted": Target(read_accepted, _lines("format: 1\nfindings:\n  - {build: a, rule: dc/x, level: error, says: t}\n"), True),
    "photograph": Target(read_photograph, _pictures),
    "recall": Target(read_called_back, _files("recalls/*.yaml"), is_tree=True),
    "assembly": Target(read_package, _files("assemblies/*.yaml"), is_tree=True),
    "question": Target(read_question, _lines(*QUESTIONS)),
    "editor": Target(read_while_written, _files("*/*.yaml", most=6_000)),
    "index": Target(take_index, lambda: [kept_index()]),
    "pack": Target(take_pack, lambda: [kept_pack()[0]]),
}  # fmt: skip


def other_tree(data: bytes, draw: random.Random) -> bytes | None:
    """Bytes of a tree that is changed in a place or two; None where they are no tree."""
    from nasty import mutate

    try:
        tree = yaml.load(data, yaml.CSafeLoader)
    except (yaml.YAMLError, ValueError, RecursionError, TypeError, OverflowError):
        return None
    if not isinstance(tree, dict | list):
        return None
    try:
        for _ in range(draw.randrange(1, 4)):
            mutate(draw, tree)
        return json.dumps(tree, ensure_ascii=False, default=str).encode("utf-8", "surrogatepass")
    except (ValueError, TypeError, RecursionError):
        return None
