"""Inputs that nobody should write: values, trees, texts and bytes that tools stumble over, drawn at random."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from specreg.facts.field_type import type_of_field
from specreg.model.build import Header
from specreg.model.kinds import kinds
from specreg.model.port import CORES, Port, Way
from specreg.model.read import read_build
from specreg.model.run import RUNS
from specreg.source import Mapping, read_yaml
from specreg.units import Dimension, usual_units

MARKUP = (
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "</script><svg onload=alert(1)>",
    "{{ 7 * 7 }}{% raw %}",
    "=HYPERLINK(\"http://x.invalid\")",
    "javascript:alert(1)",
)  # fmt: skip

WORDS = (
    "", " ", "~", "null", "true", "yes", "no", "on", "NaN", ".nan", "inf", "-.inf", "1e400", "-5 V", "−5 V", "0 V", "0 A",
    "0 m", "0 kg", "0 W", "1/0 in", "0/0", "2/0 AWG", "0 AWG", "1e9 V", "999999999999 A", "0.000000001 m", "-273.15 °C", "-1 m",
    "9" * 400, "x" * 20_000, "é" * 3000, "a/b/c", "/", "//", "a/", "/b", "..", "../../etc/passwd", "body", "chassis", "same cable",
    "\u202eabc", "\u200b", "\u0300" * 50, "\U0001f600", "ſ", "ß" * 40, "١٢ V", "²", "½ in", "1 1/2 in", "6 ft 13 in", "30 A @ 12 V",
    "2026-02-30", "0000-01-01", "9999-12-31", "0001-01-01", "2026-W01-1", "20260501", "any", "uk", "dc", "positive", "none", "-", "-F",
    "-F1", "-F99999999999999999999", "--", "C:\\x", "a\tb", "a\nb", "'", '"', "%s%n", "%", "{", "}", "{a}", "·", "|", *MARKUP,
)  # fmt: skip

SCALARS: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    1,
    2**63,
    -(2**64),
    10**290,
    0.0,
    -0.0,
    1e-320,
    1e308,
    0.1,
)


def value(draw: random.Random, depth: int = 0) -> Any:
    """A value of any sort, now and then a list or a mapping."""
    sort = draw.randrange(10)
    if sort < 5:
        return draw.choice(WORDS)
    if sort < 7:
        return draw.choice(SCALARS)
    if sort == 7 or depth > 2:
        return [value(draw, depth + 1) for _ in range(draw.randrange(4))]
    if sort == 8:
        return {str(draw.choice(WORDS))[:60]: value(draw, depth + 1) for _ in range(draw.randrange(4))}
    nested: Any = draw.choice(WORDS)
    for _ in range(draw.randrange(60)):
        nested = [nested]
    return nested


Spot = tuple[Any, Any]


def spots(tree: Any) -> list[Spot]:
    """Every place in plain data, as the holder and the key or position in it."""
    found: list[Spot] = []
    waiting = [tree]
    while waiting:
        holder = waiting.pop()
        keys = list(holder) if isinstance(holder, dict) else range(len(holder))
        for key in keys:
            found.append((holder, key))
            if isinstance(holder[key], dict | list):
                waiting.append(holder[key])
    return found


def names(tree: Any) -> list[str]:
    """The ids of components and runs of a spec."""
    sections = [tree.get(name) for name in ("components", "runs")] if isinstance(tree, dict) else []
    return [str(name) for section in sections if isinstance(section, dict) for name in section]


def mutate(draw: random.Random, tree: Any) -> None:
    """Change plain data in one place: take away, double, swap, replace, point elsewhere."""
    places = spots(tree)
    if not places:
        return
    holder, key = draw.choice(places)
    sort = draw.randrange(8)
    if sort == 0:
        del holder[key]
    elif sort == 1 and isinstance(holder, dict):
        holder[str(draw.choice((*WORDS, f"{key}-2")))[:200]] = json.loads(json.dumps(holder[key]))
    elif sort == 2:
        other, place = draw.choice(places)
        if isinstance(other, list) and place >= len(other):
            return
        holder[key] = json.loads(json.dumps(other[place]))
    elif sort == 3 and isinstance(holder[key], str):
        holder[key] = _rewritten(draw, holder[key])
    elif sort == 4 and (ids := names(tree)):
        holder[key] = draw.choice(("", "{}/", "{}/positive", "{}/1", "/{}")).format(
            draw.choice(ids)
        ) or draw.choice(ids)
    elif sort == 5 and isinstance(holder[key], list):
        holder[key] = holder[key] * draw.randrange(5)
    else:
        holder[key] = value(draw)


def _rewritten(draw: random.Random, text: str) -> str:
    """A text with another number in it, or cut, doubled, in capitals."""
    amount, space, unit = text.partition(" ")
    if space and amount[:1].isdigit():
        return f"{draw.choice(('0', '-1', '0.0001', '1000000', '1', '99999999999', '-0'))} {unit}"
    return draw.choice(
        (text[: len(text) // 2], text * 2, text.upper(), text[::-1], f" {text}", f"{text}/{text}")
    )


def mangled(draw: random.Random, data: bytes) -> bytes:
    """Bytes with a piece taken out, doubled, moved or replaced."""
    pieces = (
        b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\xc3", b"\t", b"\r", b"\xc2\x85", b"\xe2\x80\xa8", b"&a ", b"*a", b"!!python/object ",
        b"<<: ", b"---\n", b"%YAML 1.1\n", b"? ", b"[", b"{", b"}", b"]", b": ", b"- ", b"|\n", b">\n", b"'", b'"', b"\\", b"#",
        b"1e400", b".nan", b"[" * 200, b"{a: " * 200, b"\n", b"{{", b"}}", b"{%", b"---", b"\xf0\x9f\x98\x80",
    )  # fmt: skip
    for _ in range(1 + draw.randrange(4)):
        start = draw.randrange(len(data) + 1)
        stop = min(len(data), start + draw.randrange(1, 60))
        sort = draw.randrange(4)
        if sort == 0:
            data = data[:start] + data[stop:]
        elif sort == 1:
            data = data[:start] + data[start:stop] * draw.randrange(2, 40) + data[start:]
        elif sort == 2:
            data = data[:start] + draw.choice(pieces) + data[start:]
        else:
            data = data[:start] + draw.choice(pieces) + data[stop:]
    return data


# Specs that are sound in form and wild in content


@cache
def _fields(model: type[BaseModel]) -> tuple[tuple[str, str, Any, Any], ...]:
    """Each field of a model: its name, the key that a spec writes, its annotation and what facts take it for."""
    return tuple(
        (name, about.alias or name, about.annotation, type_of_field(model, name))
        for name, about in model.model_fields.items()
    )


AMOUNTS = ("0", "1", "12", "0.5", "0.001", "100", "12345", "1000000", "0.000001", "-1", "-40", "3")


def quantity(draw: random.Random, dimension: Dimension) -> Any:
    """An amount with a unit of its dimension, from nothing to far too much."""
    if dimension is Dimension.plain:
        return draw.choice((0, 1, 2, 0.5, -1, 1e12))
    return f"{draw.choice(AMOUNTS)} {draw.choice(usual_units(dimension))}"


def _of(draw: random.Random, annotation: Any, kind: Any, ids: list[str]) -> Any:  # noqa: PLR0911 - a table of types
    """A value that fits a field as far as its type can tell."""
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is Literal:
        return draw.choice(inner)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return dict(entries(draw, annotation, ids, 0.5))
    if origin is tuple:
        many = len(inner) if Ellipsis not in inner else draw.randrange(3)
        return [_of(draw, inner[0], None, ids) for _ in range(many)]
    if origin is dict:
        return {
            draw.choice(("1", "2", "a", "main")): _of(draw, inner[1], None, ids)
            for _ in range(draw.randrange(3))
        }
    for item in getattr(annotation, "__metadata__", ()):
        dimension = getattr(item, "dimension", None)
        if dimension is not None:
            return quantity(draw, dimension)
    if kind is not None and kind.form == "number" and kind.dimension not in (None, Dimension.plain):
        return quantity(draw, kind.dimension)
    if inner:
        return _of(draw, draw.choice([one for one in inner if one is not type(None)] or [str]), kind, ids)
    if isinstance(annotation, type) and issubclass(annotation, bool):
        return draw.random() < 0.5
    if isinstance(annotation, type) and issubclass(annotation, int | float):
        return draw.choice((0, 1, 2, 5, -1, 1000))
    if isinstance(annotation, type) and hasattr(annotation, "__members__"):
        return draw.choice([member.value for member in annotation.__members__.values()])
    if kind is not None and kind.form == "date":
        return draw.choice(("2026-01-01", "2024-02-29", "1999-12-31", "2099-01-01"))
    return draw.choice((*ids, "1.5 mm²", "35 mm²", "10 AWG", "2026-01-01", "200 EUR", "some words", "main"))


SIZES = ("0.5 mm²", "1.5 mm²", "35 mm²", "240 mm²", "20 AWG", "4/0 AWG")
WORDS_OF = {"conductor": SIZES, "return_conductor": SIZES, "fixed_to": ("body",)}
"""Fields that need a word of a certain form to be read."""


def entries(
    draw: random.Random, model: type[BaseModel], ids: list[str], share: float
) -> Iterator[tuple[str, Any]]:
    """Some fields of a model with values that fit; a few that do not."""
    for name, key, annotation, kind in _fields(model):
        if name in ("kind", "medium", "zone", "part"):
            continue
        if name in WORDS_OF:
            yield (
                key,
                draw.choice((*WORDS_OF[name], *ids)) if name == "fixed_to" else draw.choice(WORDS_OF[name]),
            )
        elif model.model_fields[name].is_required() or draw.random() < share:
            yield key, value(draw) if draw.random() < 0.002 else _of(draw, annotation, kind, ids)


def wild_spec(draw: random.Random) -> dict[str, Any]:
    """A spec with components of any kinds and runs between any of them, each in form as its model wants it."""
    chosen = [draw.choice(sorted(kinds())) for _ in range(draw.randrange(1, 25))]
    ids = [f"{kind}-{number}" for number, kind in enumerate(chosen)]
    spec: dict[str, Any] = {
        "format": 1,
        "build": "wild",
        "title": "Wild",
        "stage": "building",
        "jurisdictions": ["uk"],
    }
    for key, wild in entries(draw, Header, ids, 0.3):
        if key not in ("build", "format", "title", "stage", "jurisdictions"):
            spec[key] = wild
    share = draw.choice((0.2, 0.5, 0.9))
    spec["components"] = {
        name: {"kind": kind, **dict(entries(draw, kinds()[kind], ids, share))}
        for name, kind in zip(ids, chosen, strict=True)
    }
    ports = [
        end
        for name, kind in zip(ids, chosen, strict=True)
        for end in _ends(name, spec["components"][name], kind)
    ]
    spec["runs"] = {
        f"run-{number}": _run(draw, ports) for number in range(draw.randrange(1, 40) if ports else 0)
    }
    return spec if draw.random() < 0.1 else _readable(spec)


def _readable(spec: dict[str, Any]) -> dict[str, Any]:
    """The spec without what it cannot be read for: only what is read is computed and judged."""
    for _ in range(6):
        text = json.dumps(spec)
        tree, _ = read_yaml(text.encode(), "spec")
        problems = read_build(tree)[1] if isinstance(tree, Mapping) else []
        wrong = {
            owner for found in problems if found.place for owner in _owners(spec, text, found.place.column)
        }
        for section, name in wrong:
            (spec[section] if section else spec).pop(name, None)
        if not wrong:
            break
    return spec


KEPT = ("components", "runs", "format", "build", "title", "stage", "jurisdictions")


def _owners(spec: dict[str, Any], text: str, column: int) -> Iterator[tuple[str, str]]:
    """What stands at a column of a spec on one line: a component, a run or a key of the header."""
    for section in ("components", "runs", ""):
        for name, entry in (spec[section] if section else spec).items():
            start = text.find(f'"{name}": {json.dumps(entry)}')
            if start < column <= start + len(name) + 5 + len(json.dumps(entry)) and not (
                not section and name in KEPT
            ):
                yield section, name


def _ends(name: str, component: dict[str, Any], kind: str) -> list[tuple[str, Port]]:
    """The ends of runs at a component, each with its port; none where it cannot be read."""
    plain = {
        "format": 1,
        "build": "x",
        "title": "x",
        "stage": "design",
        "jurisdictions": ["uk"],
        "components": {name: component},
    }
    tree, _ = read_yaml(json.dumps(plain).encode(), "x")
    build, _ = read_build(tree) if isinstance(tree, Mapping) else (None, [])
    found = build.components.get(name) if build else None
    if found is None:
        component.clear()
        component["kind"] = kind
        return []
    return [(f"{name}/{port.name}", port) for port in found.ports()]


def _run(draw: random.Random, ports: list[tuple[str, Port]]) -> dict[str, Any]:
    """A run between two ports that can be joined; now and then between any two."""
    start, port = draw.choice(ports)
    fitting = [end for end, other in ports if draw.random() < 0.01 or _joinable(port, other)] or [start]
    medium = port.medium.value
    run = dict(entries(draw, RUNS[medium], [], 0.3)) if medium in RUNS else {}
    run.pop("return_conductor", None)
    run |= {"medium": medium, "from": start, "to": draw.choice(fitting)}
    if medium == "dc":
        run["return"] = draw.choice(("same cable", "chassis"))
    return run


def _joinable(one: Port, other: Port) -> bool:
    ways = one.way is not Way.into and other.way is not Way.out
    return one.medium is other.medium and ways and bool({*CORES[one.role]} & {*CORES[other.role]})
