"""One attempt: a register with something wrong in it, a command put to it, and what must hold whatever comes."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml
from click.testing import CliRunner
from nasty import WORDS, mangled, mutate, value, wild_spec

from specreg.cli.commands import cli
from specreg.starting import STARTER

ROOT = Path(__file__).parents[2]
DEMOS = ROOT / "builds"

CODES = (0, 1, 2)


@dataclass(frozen=True)
class Attempt:
    """What was tried; enough to try it again by hand."""

    sort: str
    words: tuple[str, ...]


class Fault(AssertionError):  # noqa: N818
    """The program broke its law: an exception, a strange code, a file half written."""


@cache
def plain_file(path: Path) -> str:
    """A demo's file as JSON text, from which fresh data can be made quickly."""
    return json.dumps(yaml.load(path.read_bytes(), yaml.CBaseLoader))


def register_at(folder: Path, build: str) -> Path:
    """A register of one demo build, links to the rest; its own files may be written over."""
    register = folder / "builds"
    register.mkdir()
    source = STARTER if build == "first-van" else DEMOS
    for name in ("parts", "assemblies", "recalls", "register.yaml"):
        if (source / name).is_dir():
            shutil.copytree(source / name, register / name)
        elif (source / name).exists():
            shutil.copy(source / name, register / name)
    shutil.copytree(source / build, register / build)
    return register


def builds() -> tuple[str, ...]:
    """The builds to begin from, the small ones more often."""
    return ("pocket", "pocket", "second-hand", "winter-tourer", "fieldwork")


def _mutated(draw: random.Random, path: Path) -> None:
    data = json.loads(plain_file(path))
    for _ in range(draw.choice((1, 1, 2, 5, 20))):
        mutate(draw, data)
    path.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8", errors="surrogatepass")


def _bytes(draw: random.Random, path: Path) -> None:
    path.write_bytes(mangled(draw, path.read_bytes()))


def _some_file(draw: random.Random, folder: Path, pattern: str) -> Path:
    return draw.choice(sorted(folder.glob(pattern)))


def broken_register(draw: random.Random, folder: Path) -> tuple[str, Path]:
    """Write a register with something wrong in it; what was done, and the build."""
    if draw.random() < 0.3:
        register = folder / "builds"
        (register / "wild").mkdir(parents=True)
        (register / "wild" / "spec.yaml").write_text(json.dumps(wild_spec(draw)), encoding="utf-8")
        return "wild", register / "wild"
    build = draw.choice(builds())
    register = register_at(folder, build)
    sort = draw.choice(("spec", "spec", "spec", "spec-bytes", "parts", "assemblies", "register", "designations", "fitted",
                        "as-built", "private", "rules", "procedures", "recalls"))  # fmt: skip
    DAMAGE[sort](draw, register, register / build)
    return f"{build} {sort}", register / build


def _spec(draw: random.Random, register: Path, build: Path) -> None:
    _mutated(draw, _some_file(draw, build, "*.yaml"))


def _spec_bytes(draw: random.Random, register: Path, build: Path) -> None:
    _bytes(draw, _some_file(draw, build, "*.yaml"))


def _shared(pattern: str) -> Callable[[random.Random, Path, Path], None]:
    def damage(draw: random.Random, register: Path, build: Path) -> None:
        path = _some_file(draw, register, pattern)
        (_bytes if draw.random() < 0.3 else _mutated)(draw, path)

    return damage


def _designations(draw: random.Random, register: Path, build: Path) -> None:
    ids = [*json.loads(plain_file(DEMOS / "pocket" / "spec.yaml"))["components"], "gone", "a/b"]
    pairs = {draw.choice(ids): draw.choice((*WORDS[:80], "-F1", "-F1", "-G2")) for _ in range(6)}
    (build / "designations.yaml").write_text(json.dumps(pairs), encoding="utf-8")


def _laid_over(name: str) -> Callable[[random.Random, Path, Path], None]:
    def damage(draw: random.Random, register: Path, build: Path) -> None:
        data = json.loads(plain_file(DEMOS / build.name / "spec.yaml"))
        keys = draw.sample(sorted(data), min(len(data), 3))
        tree = {key: data[key] for key in {*keys, "components"} if key in data}
        for _ in range(draw.randrange(6)):
            mutate(draw, tree)
        if draw.random() < 0.2:
            tree[str(draw.choice(WORDS))[:50]] = value(draw)
        (build / name).write_text(json.dumps(tree), encoding="utf-8")

    return damage


def _rules(draw: random.Random, register: Path, build: Path) -> None:
    source = _some_file(draw, ROOT / "rules", "*/*.md")
    text = source.read_bytes()
    target = register / "rules" / source.parent.name / f"own-{source.name}"
    target.parent.mkdir(parents=True)
    target.write_bytes(text if draw.random() < 0.1 else mangled(draw, text))


def _procedures(draw: random.Random, register: Path, build: Path) -> None:
    source = _some_file(draw, DEMOS / "fieldwork" / "procedures", "*.md").read_bytes()
    (build / "procedures").mkdir(exist_ok=True)
    (build / "procedures" / "odd.md").write_bytes(mangled(draw, source + str(draw.choice(WORDS)).encode()))


DAMAGE: dict[str, Callable[[random.Random, Path, Path], None]] = {
    "spec": _spec,
    "spec-bytes": _spec_bytes,
    "parts": _shared("parts/*.yaml"),
    "assemblies": _shared("assemblies/*.yaml"),
    "register": _shared("register.yaml"),
    "recalls": _shared("recalls/*.yaml"),
    "designations": _designations,
    "fitted": _laid_over("fitted.yaml"),
    "as-built": _laid_over("as-built.yaml"),
    "private": _laid_over("private.yaml"),
    "rules": _rules,
    "procedures": _procedures,
}


def words_for(draw: random.Random, sort: str, build: Path, folder: Path) -> tuple[str, ...]:
    """A command that reads what was broken."""
    register, site = str(build.parent), str(folder / "site")
    if sort.endswith("recalls"):
        return "find", register, "--recall", "pump-pressure-switch", "--notices", str(folder / "notices")
    if sort.endswith("procedures"):
        return "publish", str(build), "--reader", "owner", "--into", site
    if sort.endswith("rules") and draw.random() < 0.5:
        return "rules", "--register", register
    trades = ("electrician", "gas-engineer", "seat-fitter", "examiner")
    form = ("text", "json", "sarif", "junit", "markdown")
    return draw.choice((
        ("inspect", str(build), "--format", draw.choice(form)),
        ("inspect", str(build), "--all", "--on", "2026-05-20", "--for", "hand-over"),
        ("inspect", register),
        ("figures", str(build), "--format", draw.choice(("text", "json", "csv"))),
        ("figures", str(build), "--on", "2026-05-20"),
        ("schedule", str(build), "--format", draw.choice(("text", "csv", "json"))),
        ("schedule", str(build), "--assign"),
        ("schedule", str(build), "--for", draw.choice(trades), "--format", draw.choice(("text", "csv", "json"))),
        ("publish", str(build), "--reader", draw.choice(("public", "owner", "workshop")), "--into", site),
        ("publish", str(build), "--reader", "workshop", "--into", site),
        ("find", register, draw.choice(("kind=pump", "serial=A1..A9", "fitted=2026", "copper", "=", "..", "kind=*,"))),
        ("trace", str(build), draw.choice(("fuse-box", "battery", "water-pump", "pump", ""))),
        ("compare", str(build), str(DEMOS / "pocket")),
        ("compare", str(build), "--with", f"components.fridge.{draw.choice(('kind', 'power', 'at', ''))}={draw.choice(WORDS[:100])}"),
    ))  # fmt: skip


def sheet(draw: random.Random, folder: Path) -> tuple[str, tuple[str, ...]]:
    """A filled sheet of a trade with something wrong in it."""
    build = register_at(folder, "fieldwork") / "fieldwork"
    trade = draw.choice(("electrician", "gas-engineer", "seat-fitter", "examiner"))
    data = filled_sheet(trade)
    path = folder / "sheet.csv"
    path.write_bytes(mangled(draw, data) if draw.random() < 0.5 else _other_cells(draw, data))
    words = (
        "record",
        str(build),
        str(path),
        "--by",
        "electrician",
        "--date",
        "2026-05-11",
        "--name",
        "N",
        "--write",
    )
    return f"sheet {trade}", words


@cache
def filled_sheet(trade: str) -> bytes:
    """A sheet as the program prints it."""
    result = CliRunner().invoke(
        cli, ("schedule", str(DEMOS / "fieldwork"), "--for", trade, "--format", "csv")
    )
    return result.stdout_bytes


def _other_cells(draw: random.Random, data: bytes) -> bytes:
    lines = [line.split(",") for line in data.decode().splitlines()]
    for _ in range(draw.randrange(1, 12)):
        cells = draw.choice(lines)
        word = draw.choice((*WORDS, "within the limit", "0.5 MΩ", "30 mbar")).replace('"', '""')
        cells[draw.randrange(len(cells))] = f'"{word}"'
    return "\n".join(",".join(cells) for cells in lines).encode("utf-8", "surrogatepass")


def attempt(draw: random.Random, folder: Path, seen: Callable[[Attempt], None] = lambda _: None) -> int:
    """Try one thing; return its exit code. Raises Fault where the law is broken."""
    if draw.random() < 0.06:
        sort, words = sheet(draw, folder)
    else:
        sort, build = broken_register(draw, folder)
        words = words_for(draw, sort, build, folder)
    seen(Attempt(sort, words))
    before = set(folder.rglob("*"))
    result = CliRunner().invoke(cli, words)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise Fault(f"{sort}: {words}: {result.exception!r}") from result.exception
    if result.exit_code not in CODES or "Traceback" in result.stderr:
        raise Fault(f"{sort}: {words}: ends with {result.exit_code}")
    left = [path for path in set(folder.rglob("*")) - before if path.name.startswith(".")]
    if left:
        raise Fault(f"{sort}: {words}: leaves {left}")
    return result.exit_code
