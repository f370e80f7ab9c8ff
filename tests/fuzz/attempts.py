"""One attempt: a register with something wrong in it, a command put to it, and what must hold whatever comes.

What stays, the editor's answers and the preview, is tried without its loop: its reading, its answers, its pages.
"""

from __future__ import annotations

import json
import random
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml
from click.testing import CliRunner
from nasty import WORDS, mangled, mutate, value, wild_spec

from specreg.cli.commands import cli
from specreg.cli.terminal import STEERING
from specreg.editor import completion, fixes, hover, navigation
from specreg.editor.notices import notices
from specreg.editor.reading import home_of, judged, read
from specreg.model.field import Reader
from specreg.output.spreadsheet import as_workbook
from specreg.preview.server import as_json
from specreg.preview.state import Preview
from specreg.rules.pack import Pack
from specreg.starting import STARTER
from specreg.workshop import load, rules_for

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
                        "as-built", "private", "rules", "procedures", "recalls", "accepted"))  # fmt: skip
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


def _accepted(draw: random.Random, register: Path, build: Path) -> None:
    data = accepted_record(build.name)
    path = register / "accepted.yaml"
    if draw.random() < 0.5:
        path.write_bytes(mangled(draw, data))
        return
    tree = yaml.load(data, yaml.CBaseLoader)
    for _ in range(draw.randrange(1, 6)):
        mutate(draw, tree)
    path.write_text(json.dumps(tree, ensure_ascii=False), encoding="utf-8", errors="surrogatepass")


@cache
def accepted_record(build: str) -> bytes:
    """A record of what fails in a demo."""
    with tempfile.TemporaryDirectory() as folder:
        into = Path(folder) / "accepted.yaml"
        CliRunner().invoke(cli, ("accept", str(DEMOS / build), "--into", str(into), "--on", "2026-05-20"))
        return into.read_bytes()


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
    "accepted": _accepted,
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
    if sort.endswith("accepted"):
        record = str(build.parent / "accepted.yaml")
        return draw.choice((
            ("inspect", str(build), "--accepted", record, "--on", "2026-05-20"),
            ("accept", str(build), "--into", record, "--shrink", "--on", "2026-05-20"),
        ))  # fmt: skip
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
        ("plan", str(build), "--format", draw.choice(("text", "json", "csv"))),
        ("plan", register, "--on", "2026-03-02"),
        ("order", str(build), "--all", "--format", draw.choice(("text", "json", "csv"))),
        ("order", register, "--on", "2026-03-02", "--format", "xlsx", "--output", str(folder / "order.xlsx")),
        ("labels", str(build), "--into", str(folder / "labels.html"), "--at", "https://van.invalid/a"),
        ("accept", register, "--into", str(folder / "accepted.yaml"), "--on", "2026-05-20"),
        ("hand-over", str(build), "--on", "2026-05-20", *draw.choice(((), ("--show",), ("--again",)))),
        ("schedule", str(build), "--at", draw.choice(HOLD_POINTS), "--format", draw.choice(("text", "csv"))),
        ("schedule", str(build), "--circuits"),
        (PREVIEW, str(build), draw.choice(("public", "owner", "workshop"))),
        (EDITOR, str(build), draw.choice(("spec.yaml", "fitted.yaml", "../register.yaml")), str(draw.randrange(10**6))),
        (EDITOR, str(build), "spec.yaml", str(draw.randrange(10**6))),
        ("compare", str(build), str(DEMOS / "pocket")),
        ("compare", str(build), "--with", f"components.fridge.{draw.choice(('kind', 'power', 'at', ''))}={draw.choice(WORDS[:100])}"),
    ))  # fmt: skip


EDITOR, PREVIEW = "editor's answers", "preview's pages"
"""What is asked for without a command."""


def preview(build: Path, reader: str) -> int:
    """Make the pages of a preview; a fault of its own it shows in a sentence, which is one all the same."""
    opened = load(build)
    if not opened.builds:
        return 2
    shown = Preview(build, Reader(reader), opened.folder)
    try:
        made = shown.make()
        assert not [line for line in made.problems if line.startswith("fault of its own")], made.problems
        as_json(made)
        return 2 if made.problems else 0
    finally:
        shown.close()


def editor(build: Path, file: str, number: int) -> int:
    """Ask an editor's questions about a file as it is being written, at places drawn by the number."""
    draw, path = random.Random(number), (build / file).resolve()
    text = path.read_bytes().decode("utf-8", "replace") if path.is_file() else ""
    start = draw.randrange(len(text) + 1)
    text = text[:start] + str(draw.choice((*WORDS[:60], "kind: ", "from: ", "\n  x"))) + text[start:]
    home = home_of(path)
    if home is None:
        return 2
    reading = read(home, {path: text})
    reading = judged(reading, shipped_rules()) if draw.random() < 0.5 else reading
    for notice in notices(reading):
        fixes.fixes(reading, notice)
    navigation.symbols(reading, path)
    lines = text.split("\n")
    for _ in range(8):
        line = draw.randrange(len(lines) + 1)
        column = draw.randrange(len(lines[line]) + 2) if line < len(lines) else 0
        for ask in (hover.hover, completion.completion, navigation.definition, navigation.references):
            ask(reading, path, line, column)
    return 2 if reading.problems or any(van.problems for van in reading.vans.values()) else 0


@cache
def shipped_rules() -> Pack:
    """The rules that every register has."""
    return rules_for()[0]


def asked(words: tuple[str, ...]) -> int:
    """Put a question to the program; its exit code. Raises what it should not raise."""
    if words[0] == PREVIEW:
        return preview(Path(words[1]), words[2])
    if words[0] == EDITOR:
        return editor(Path(words[1]), words[2], int(words[3]))
    result = CliRunner().invoke(cli, words)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert "Traceback" not in result.stderr, result.stderr
    steering = [one for one in result.output if STEERING.match(one)]
    assert not steering, f"characters that steer a terminal: {steering[:5]}"
    return result.exit_code


PARTS_LIST = (
    b"Part,Kind,Title,Supplier,Price (GBP),Mass (kg),Length (mm),Width (mm),Height (mm),Lead time (days),Note\n"
    b"pump-9,pump,Pump,Wholesaler,39.5,1.2,200,100,100,5,x\nlamp-9,ceiling-light,Lamp,Wholesaler,12,0.1,,,,2,\n"
    b"box-9,fuse-box,Box,Wholesaler,60,0.9,,,,,\n"
)


def parts_list(draw: random.Random, folder: Path) -> tuple[str, tuple[str, ...]]:
    """A parts list of a workshop's own with something wrong in it."""
    register = register_at(folder, "pocket")
    changed = _other_cells(draw, PARTS_LIST) if draw.random() < 0.6 else mangled(draw, PARTS_LIST)
    form = draw.choice(("csv", "csv", "xlsx"))
    if form == "xlsx":
        rows = [tuple(line.split(",")) for line in PARTS_LIST.decode().splitlines()]
        book = as_workbook("Parts", rows[0], [*rows[1:], tuple(str(draw.choice(WORDS)) for _ in rows[0])])
        changed = mangled(draw, book) if draw.random() < 0.7 else book
    path = folder / f"list.{form}"
    path.write_bytes(changed)
    extra = draw.choice(
        (
            (),
            ("--write",),
            ("--kind", "pump"),
            ("--map", "Note=mass"),
            ("--map", "Part="),
            ("--write", "--kind", "x"),
        )
    )
    return f"parts list {form}", ("order", str(register), "--import", str(path), *extra)


HOLD_POINTS = ("panels-close", "energise", "gas-on", "hand-over")
SHEETS = (
    *(("--for", trade) for trade in ("electrician", "gas-engineer", "seat-fitter", "examiner")),
    *(("--at", point) for point in HOLD_POINTS),
    ("--circuits",),
)
"""What `record` takes back."""


def sheet(draw: random.Random, folder: Path) -> tuple[str, tuple[str, ...]]:
    """A filled sheet, answers at a hold point or a table of circuits with something wrong in it."""
    build = register_at(folder, "fieldwork") / "fieldwork"
    asked_for = draw.choice(SHEETS)
    data = filled_sheet(asked_for)
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
    return f"sheet {asked_for[-1]}", words


@cache
def filled_sheet(asked_for: tuple[str, ...]) -> bytes:
    """A sheet as the program prints it."""
    form = () if asked_for == ("--circuits",) else ("--format", "csv")
    return CliRunner().invoke(cli, ("schedule", str(DEMOS / "fieldwork"), *asked_for, *form)).stdout_bytes


def _other_cells(draw: random.Random, data: bytes) -> bytes:
    lines = [line.split(",") for line in data.decode().splitlines()]
    for _ in range(draw.randrange(1, 12)):
        cells = draw.choice(lines)
        word = draw.choice((*WORDS, "within the limit", "0.5 MΩ", "30 mbar")).replace('"', '""')
        cells[draw.randrange(len(cells))] = f'"{word}"'
    return "\n".join(",".join(cells) for cells in lines).encode("utf-8", "surrogatepass")


def attempt(draw: random.Random, folder: Path, seen: Callable[[Attempt], None] = lambda _: None) -> int:
    """Try one thing; return its exit code. Raises Fault where the law is broken."""
    chance = draw.random()
    if chance < 0.06:
        sort, words = sheet(draw, folder)
    elif chance < 0.12:
        sort, words = parts_list(draw, folder)
    else:
        sort, build = broken_register(draw, folder)
        words = words_for(draw, sort, build, folder)
    seen(Attempt(sort, words))
    before = set(folder.rglob("*"))
    try:
        code = asked(words)
    except Exception as fault:
        raise Fault(f"{sort}: {words}: {fault!r}") from fault
    if code not in CODES:
        raise Fault(f"{sort}: {words}: ends with {code}")
    left = [path for path in set(folder.rglob("*")) - before if path.name.startswith(".")]
    if left:
        raise Fault(f"{sort}: {words}: leaves {left}")
    return code
