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
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import fields
from functools import partial
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from types import CodeType
from typing import Any

from pydantic import VERSION as PYDANTIC

from specreg.facts.schema import nouns
from specreg.facts.value_type import ValueType
from specreg.rules.document import Document, Fragment, RuleHeader
from specreg.rules.expression import Condition, Expression, Part, Text
from specreg.rules.pack import Pack, Rule, documents, load_pack
from specreg.rules.wording import wording
from specreg.source import Mapping as Tree
from specreg.source import Place, Problem
from specreg.units import Dimension

OFF = "SPECREG_NO_CACHE"
"""Environment variable that switches the cache off."""

PACKAGE = Path(__file__).parents[1]
DIGEST = 32


def load_shipped_pack(folder: Path, shown: str = "rules") -> tuple[Pack, list[Problem]]:
    """Return the pack of a shipped folder: from the cache where that serves, else from its documents."""
    place = None if os.environ.get(OFF) else cache_folder()
    if place is None:
        return load_pack(folder, shown)
    key = _key(folder, shown)
    kept = _taken(place / f"pack-{key[:32]}.bin", key)
    if kept is not None:
        return kept, []
    pack, problems = load_pack(folder, shown)
    if not problems:
        _keep(place, key, pack)
    return pack, problems


def cache_folder() -> Path | None:
    """Return the program's folder below the user's cache folder; None where the user has none."""
    home = Path.home() if "HOME" in os.environ or "USERPROFILE" in os.environ else None
    if os.environ.get("XDG_CACHE_HOME"):
        return Path(os.environ["XDG_CACHE_HOME"]) / "specreg"
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return Path(local) / "specreg" if local else None
    if home is None:
        return None
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache") / "specreg"


def _key(folder: Path, shown: str) -> str:
    """Return a digest over all that the compiled pack depends on."""
    mark = sha256(f"{shown}\0{sys.version}\0{PYDANTIC}\0".encode())
    for path in documents(folder):
        mark.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    parser = find_spec("jinja2")
    own = sorted(PACKAGE.rglob("*.py"))
    for path in [*own, *([Path(parser.origin)] if parser and parser.origin else [])]:
        seen = path.stat()
        mark.update(f"{path}\0{seen.st_size}\0{seen.st_mtime_ns}\0".encode())
    return mark.hexdigest()


def _own(path: Path) -> bool:
    """Tell whether a file or folder belongs to the user and nobody else may write it."""
    seen = path.lstat()
    if not hasattr(os, "getuid"):
        return True
    return seen.st_uid == os.getuid() and not seen.st_mode & 0o022 and not path.is_symlink()


def _taken(path: Path, key: str) -> Pack | None:
    """Return the pack that a file keeps; None where the file cannot be trusted or read."""
    try:
        if not (_own(path.parent) and _own(path)):
            return None
        data = path.read_bytes()
        if sha256(key.encode() + data[DIGEST:]).digest() != data[:DIGEST]:
            return None
        return Pack(tuple(_rule(kept) for kept in marshal.loads(data[DIGEST:])))
    except (OSError, ValueError, EOFError, TypeError, KeyError):
        return None


def _keep(folder: Path, key: str, pack: Pack) -> None:
    """Write the pack whole and put away what earlier versions left; do without where that cannot be."""
    data = marshal.dumps([_plain(rule) for rule in pack.rules])
    with suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not _own(folder):
            return
        handle, name = tempfile.mkstemp(dir=folder, prefix=".pack-")
        with os.fdopen(handle, "wb") as file:
            file.write(sha256(key.encode() + data).digest() + data)
        kept = folder / f"pack-{key[:32]}.bin"
        Path(name).replace(kept)
        for old in folder.glob("pack-*.bin"):
            if old != kept:
                old.unlink(missing_ok=True)


def _plain(rule: Rule) -> dict[str, Any]:
    """Return a rule as plain data and code objects."""
    return {
        "identity": rule.identity,
        "header": rule.header.model_dump(mode="json", exclude_unset=True, by_alias=True),
        "applies": _plain_expression(rule.applies),
        "passes": _plain_expression(rule.passes),
        "texts": {name: _plain_text(getattr(rule, name)) for name in TEXTS},
        "limits": {name: dict(values) for name, values in rule.limits.items()},
        "dimensions": {name: dimension.value for name, dimension in rule.dimensions.items()},
        "document": (
            rule.document.file,
            tuple(rule.document.place),
            rule.document.prose,
            rule.document.digest,
        ),
        "fragments": [
            tuple(getattr(one, part.name) for part in fields(one)) for one in rule.document.fragments
        ],
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


def _rule(kept: Mapping[str, Any]) -> Rule:
    """Return the rule that plain data stands for. Raises ValueError where it is not what was written."""
    header = RuleHeader.model_validate(_tupled(kept["header"]))
    file, place, prose, digest = kept["document"]
    fragments = tuple(Fragment(*parts) for parts in kept["fragments"])
    return Rule(
        kept["identity"],
        header,
        nouns()[header.judges],
        header.judges.replace("-", "_"),
        _condition(kept["applies"]),
        _condition(kept["passes"]),
        _text(kept["texts"]["finding"]),
        _text(kept["texts"]["asks"]),
        _text(kept["texts"]["remedy"]),
        kept["limits"],
        {name: Dimension(value) for name, value in kept["dimensions"].items()},
        Document(kept["identity"], file, Tree({}, Place(*place)), prose, fragments, digest),
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
