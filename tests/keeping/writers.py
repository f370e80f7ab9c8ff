"""Every command that writes, with what stands before it and after it: the table of what can be lost.

A command of one step has nothing between the two. One of several steps moves that many files, one after another; each
is whole at any time, and what was done so far is a state that the next run goes on from.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from small_register import write_build, write_rules

Words = tuple[str, ...]

PARTS = "pump-a: {kind: pump, power: 60 W, supply_voltage: 12 V, maker: Alder, model: A-10}\n"
RECALL = """\
title: Pump, cracked housing
source: the maker's letter 31 of 2026
date: 2026-05-02
affects: [{part: pump-a}]
do: Do not use the pump.
"""
FITTED = "  second-pump: {kind: pump, part: pump-a, serial: A100, fitted_on: 2026-03-04}\nruns:"
TESTS = """\
test,on,value,result,by,name,date,instrument,calibrated_on
terminal-torque,dc,,within the limit,the person,A. Sample,2026-05-19,tester 1,2026-01-20
"""
ANSWERS = "on,serial,photo\nwater-pump,LP-77,\npump-feed,,feed.jpg\n"
STOCK = "id,kind,power,supply voltage\npump-b,pump,40 W,12 V\n"


@dataclass(frozen=True)
class Writer:
    """A command that writes.

    `before` and `after` say what stands where; `first` are commands that make what stands before, and `again` is how
    the command ends where what it writes is there already.
    """

    words: Words
    before: str
    after: str
    files: tuple[tuple[str, str], ...] = ()
    first: tuple[Words, ...] = ()
    steps: int = 1
    again: int = 0


def _publish(reader: str) -> Words:
    return ("publish", "vans/heron", "--reader", reader, "--into", "site")


def _output(*words: str) -> Writer:
    file = words[0] + ".out"
    return Writer((*words, "--output", file), "an older file of that name", "the file", ((file, "older\n"),))


ASSIGN = ("schedule", "vans/heron", "--assign")
ACCEPT = ("accept", "vans", "--into", "vans/accepted.yaml", "--for", "hand-over")
HAND_OVER = ("hand-over", "vans/heron", "--on", "2026-05-20")
RECORD = ("record", "vans/heron", "sheet.csv", "--write")
NOTICES = ("find", "vans", "--recall", "pump-housing", "--notices", "notices")
PAGES = ("rules", "--format", "markdown", "--into", "pages")

WRITERS = {
    "publish": Writer(_publish("workshop"), "no site", "the site"),
    "publish again": Writer(
        _publish("workshop"), "the public site", "the workshop's site", first=(_publish("public"),)
    ),
    "start a register": Writer(("start", "new"), "no folder", "the register", again=2),
    "start in an empty folder": Writer(
        ("start", "empty"), "an empty folder", "the register", (("empty/", ""),), again=2
    ),
    "start a van": Writer(
        ("start", "vans/dunlin", "--title", "Dunlin", "--in", "uk"), "no such van", "its spec", again=2
    ),
    "schedule --assign": Writer(
        ASSIGN,
        "some designations",
        "all of them",
        (("vans/heron/designations.yaml", "# Ours.\nwater-pump: -G7\n"),),
    ),
    "schedule --assign in a register": Writer(
        ("schedule", "vans", "--assign"), "no designations", "those of crane, then heron's, too", steps=2
    ),
    "record tests": Writer(RECORD, "no record of them", "records.yaml with them", (("sheet.csv", TESTS),)),
    "record what was fitted": Writer(
        RECORD,
        "no such files",
        "fitted.yaml, then records.yaml with the photographs",
        (("sheet.csv", ANSWERS), ("vans/heron/feed.jpg", "picture")),
        steps=2,
    ),
    "hand-over": Writer(HAND_OVER, "no as-built.yaml", "as-built.yaml", again=2),
    "hand-over --again": Writer(
        (*HAND_OVER, "--again"),
        "as-built.yaml without what was fitted since",
        "as-built.yaml with it",
        first=(HAND_OVER, ("record", "vans/heron", "later.csv", "--write")),
        files=(("later.csv", "on,serial\nwater-pump,LP-78\n"),),
    ),
    "order --import": Writer(
        ("order", "vans", "--import", "stock.csv", "--write"),
        "no such list",
        "parts/stock.yaml",
        (("stock.csv", STOCK),),
        again=2,
    ),
    "accept": Writer(ACCEPT, "no record", "the record"),
    "accept --shrink": Writer(
        (*ACCEPT, "--shrink"),
        "a record with findings that are mended",
        "the record without them",
        first=(ACCEPT, ("mend",)),
    ),
    "labels": Writer(
        ("labels", "vans/heron", "--into", "labels.html"),
        "older labels",
        "the labels",
        (("labels.html", "older\n"),),
        first=(ASSIGN,),
    ),
    "find --notices": Writer(
        NOTICES,
        "no notices",
        "one for each van, one after another",
        (("vans/parts/pumps.yaml", PARTS), ("vans/recalls/pump-housing.yaml", RECALL)),
        first=(("fit",),),
        steps=2,
    ),
    "rules --into": Writer(PAGES, "older pages", "the pages", first=(PAGES, ("fewer rules",))),
    "order --output": Writer(
        ("order", "vans", "--format", "xlsx", "--output", "order.xlsx"), "no workbook", "the workbook"
    ),
    "inspect --output": _output("inspect", "vans", "--format", "json"),
    "figures --output": _output("figures", "vans"),
    "plan --output": _output("plan", "vans"),
    "compare --output": _output("compare", "vans/heron", "vans/crane"),
    "schema --output": _output("schema"),
}
"""What writes. `preview` writes nothing but a temporary folder; what is kept in the user's cache folder is a copy."""


def _mend(folder: Path) -> None:
    spec = folder / "vans" / "heron" / "spec.yaml"
    text = spec.read_text(encoding="utf-8")
    spec.write_text(text.replace("capacity: 100 Ah", "capacity: 100 Ah\n    heated: true"), encoding="utf-8")


def _fit(folder: Path) -> None:
    for name in ("heron", "crane"):
        spec = folder / "vans" / name / "spec.yaml"
        spec.write_text(spec.read_text(encoding="utf-8").replace("runs:", FITTED), encoding="utf-8")


def _fewer_rules(folder: Path) -> None:
    (folder / "pack" / "gas" / "cylinder-upright.md").unlink()


BY_HAND: dict[str, Callable[[Path], None]] = {"mend": _mend, "fit": _fit, "fewer rules": _fewer_rules}
"""What a person does between two commands."""


def prepare(folder: Path, writer: Writer, run: Callable[[Path, Words], int]) -> None:
    """Lay a register of two vans, a pack of rules, and what stands before a command."""
    write_rules(folder / "pack")
    (folder / "vans").mkdir()
    (folder / "vans" / "register.yaml").write_text("workshop: Quay\n", encoding="utf-8")
    for name in ("heron", "crane"):
        write_build(folder / "vans", name)
    for name, text in writer.files:
        if name.endswith("/"):
            (folder / name).mkdir()
            continue
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    for words in writer.first:
        if words[0] in BY_HAND:
            BY_HAND[words[0]](folder)
        else:
            assert run(folder, words) == 0, words
