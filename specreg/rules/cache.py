"""The shipped pack, checked and compiled once, kept in the user's own cache folder.

Only the rules that ship with the program are kept; a register's own rules are read anew each time, and
nothing is ever kept inside a register. The file is plain data and code objects by `marshal`; it is taken
only from a folder and a file that belong to the user and that nobody else may write, and only where its
digest and its key agree: the key covers the rule documents, the program's own files and the versions that
compiled them. Anything else means: read the documents, and write the file anew, whole or not at all.
"""

from __future__ import annotations

import marshal
import os
import sys
from collections.abc import Iterator, Mapping
from functools import partial
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from types import CodeType
from typing import Any

from pydantic import VERSION as PYDANTIC

from specreg import __version__
from specreg.facts.schema import nouns
from specreg.facts.value_type import ValueType
from specreg.keeping import OFF, cache_folder, keep, trusted
from specreg.rules.document import Document, RuleHeader
from specreg.rules.expression import Condition, Expression, Part, Text
from specreg.rules.pack import Pack, Rule, documents, pack_of
from specreg.rules.wording import wording
from specreg.source import Problem
from specreg.units import Dimension

PACKAGE = Path(__file__).parents[1]
DIGEST = 32


def load_shipped_pack(folder: Path, shown: str = "rules") -> tuple[Pack, list[Problem]]:
    """Return the pack of a shipped folder: from the cache where that serves, else from its documents."""
    texts = documents(folder)
    place = None if os.environ.get(OFF) else cache_file(folder)
    if place is None:
        return pack_of(texts, shown)
    key = _key(texts, shown)
    kept = _taken(place, key, texts, shown)
    if kept is not None:
        return kept, []
    pack, problems = pack_of(texts, shown)
    if not problems:
        _keep(place, key, pack)
    return pack, problems


def cache_file(folder: Path) -> Path | None:
    """Return where the pack of a folder is kept, one file for each interpreter and place of installation."""
    home = cache_folder()
    mark = sha256(str(folder.absolute()).encode(errors="surrogatepass")).hexdigest()[:16]
    return home / f"pack-{sys.implementation.cache_tag}-{mark}.bin" if home else None


def _key(texts: Mapping[str, str], shown: str) -> bytes:
    """Return a digest over all that the compiled pack depends on."""
    mark = sha256(f"{shown}\0{sys.version}\0{PYDANTIC}\0{__version__}\0".encode())
    for name, text in texts.items():
        mark.update(f"{name}\0{len(text)}\0{text}".encode())
    parser = find_spec("jinja2")  # its file stands for its version, which to ask for takes 20 ms
    own = sorted(PACKAGE.rglob("*.py"))
    for path in [*own, *([Path(parser.origin)] if parser and parser.origin else [])]:
        seen = path.stat()
        mark.update(f"{path}\0{seen.st_size}\0{seen.st_mtime_ns}\0".encode())
    return mark.digest()


def _taken(path: Path, key: bytes, texts: Mapping[str, str], shown: str) -> Pack | None:
    """Return the pack that a file keeps; None where the file cannot be trusted or read, or is stale."""
    try:
        data = trusted(path)
        if sha256(key + data[DIGEST:]).digest() != data[:DIGEST]:
            return None
        kept = marshal.loads(data[DIGEST:])
        found = [_rule(one, name, text, shown) for one, (name, text) in zip(kept, texts.items(), strict=True)]
        return Pack(tuple(found))
    except (OSError, ValueError, EOFError, TypeError, LookupError, AttributeError):
        return None


def _keep(path: Path, key: bytes, pack: Pack) -> None:
    data = marshal.dumps([_plain(rule) for rule in pack.rules])
    keep(path, sha256(key + data).digest() + data)


def _plain(rule: Rule) -> dict[str, Any]:
    """Return a rule as plain data and code objects."""
    return {
        "header": rule.header.model_dump(mode="json", exclude_unset=True),
        "applies": _plain_expression(rule.applies),
        "passes": _plain_expression(rule.passes),
        "texts": {name: _plain_text(getattr(rule, name)) for name in TEXTS},
        "limits": {name: dict(values) for name, values in rule.limits.items()},
        "dimensions": {name: dimension.value for name, dimension in rule.dimensions.items()},
    }


TEXTS = ("finding", "asks", "remedy")
Kept = tuple[str, str, str | None, tuple[str, ...], CodeType]


def _plain_expression(found: Expression | None) -> Kept | None:
    if found is None:
        return None
    dimension = found.kind.dimension.value if found.kind.dimension else None
    return found.source, found.kind.form, dimension, found.reads, found.code()


def _plain_text(text: Text | None) -> list[str | Kept | None] | None:
    if text is None:
        return None
    return [part if isinstance(part, str) else _plain_expression(part.expression) for part in text.parts]


def _rule(kept: Mapping[str, Any], name: str, text: str, shown: str) -> Rule:
    """Return the rule that plain data stands for. Raises ValueError where it is not what was written."""
    header = RuleHeader.model_validate(_tupled(kept["header"]))
    return Rule(
        name[:-3],
        header,
        nouns()[header.judges],
        header.judges.replace("-", "_"),
        _condition(kept["applies"]),
        _condition(kept["passes"]),
        _text(kept["texts"]["finding"]),
        _text(kept["texts"]["asks"]),
        _text(kept["texts"]["remedy"]),
        kept["limits"],
        {word: Dimension(value) for word, value in kept["dimensions"].items()},
        Document(name[:-3], f"{shown}/{name}", text),
    )


def _tupled(data: Any) -> Any:
    """Return data with tuples for lists, as the strict models take them."""
    if isinstance(data, list):
        return tuple(_tupled(item) for item in data)
    return {key: _tupled(value) for key, value in data.items()} if isinstance(data, dict) else data


def _parts(kept: Kept) -> tuple[str, ValueType, tuple[str, ...], Any]:
    source, form, dimension, reads, code = kept
    kind = ValueType(form, Dimension(dimension) if dimension else None)  # type: ignore[arg-type]
    return source, kind, reads, partial(_given, code)


def _given(code: CodeType) -> CodeType:
    return code


def _condition(kept: Kept | None) -> Condition | None:
    return Condition(*_parts(kept)) if kept else None


def _text(kept: list[str | Kept] | None) -> Text | None:
    return Text(tuple(_texts(kept))) if kept is not None else None


def _texts(kept: list[str | Kept]) -> Iterator[str | Part]:
    for part in kept:
        if isinstance(part, str):
            yield part
        else:
            expression = Expression(*_parts(part))
            yield Part(expression, wording(expression.kind))
