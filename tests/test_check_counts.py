"""How many outside checks there are, by what they are about and how their value is known, as DEVELOPERS.md prints it."""

import csv
import re
from collections import Counter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PUBLISHED = ROOT / "tests" / "published"
KINDS = ("published", "rule", "derived", "memory")

ELECTRICITY, FLUIDS, MASSES = "dc, solar, mains, energy", "water, gas, heat, air", "masses"

ROWS = {
    "dc-facts": ELECTRICITY,
    "electrical-vehicle": ELECTRICITY,
    "electrics-rules": ELECTRICITY,
    "sun-and-energy": ELECTRICITY,
    "environment": FLUIDS,
    "gas-and-air": FLUIDS,
    "heat-and-air": FLUIDS,
    "water": FLUIDS,
    "water-and-gas": FLUIDS,
    "vehicle-mass": MASSES,
}
"""Files with a check on each row, and what they are about (`C4` of the vehicle's are masses)."""

TABLES = {
    "conductor-gauges": (ELECTRICITY, "derived"),
    "iec-60228-kt": (ELECTRICITY, "published"),
    "iso-10133-ampacity": (ELECTRICITY, "published"),
    "nec-chapter-9-table-8": (ELECTRICITY, "published"),
    "voltage-drop-chart-12v": (ELECTRICITY, "published"),
    "fao56-extraterrestrial-radiation": (ELECTRICITY, "published"),
    "monthly-clearness": (ELECTRICITY, "published"),
    "co2-generation": (FLUIDS, "published"),
    "propane-vaporisation": (FLUIDS, "published"),
    "propane-vapour-pressure": (FLUIDS, "published"),
    "tyre-load-index": (MASSES, "published"),
}
"""Tables of one source, of which every row is tested: each counts once."""


def checks() -> dict[tuple[str, str], str]:
    """Part and identity of each check with its kind; `C2-05a` to `C2-05d` are one check, at four points."""
    found: dict[tuple[str, str], str] = {}
    for name, part in ROWS.items():
        with (PUBLISHED / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                about = MASSES if name == "electrical-vehicle" and row["id"].startswith("C4") else part
                found.setdefault((about, one(row["id"])), row["kind"])
    return found


def one(identity: str) -> str:
    """The identity without what tells the points of one check apart."""
    matched = re.match(r"AF|E11|[A-Z]+\d*[-.]\d\d(?!\d)|[A-Z]+\d+$", identity)
    return matched.group() if matched else identity


def counted() -> dict[str, Counter[str]]:
    """How many checks of each kind a part has."""
    counts: dict[str, Counter[str]] = {part: Counter() for part in (ELECTRICITY, FLUIDS, MASSES)}
    for (part, _), kind in checks().items():
        counts[part][kind] += 1
    for part, kind in TABLES.values():
        counts[part][kind] += 1
    return counts


def printed() -> dict[str, list[int]]:
    """The table of DEVELOPERS.md."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("| about | published |")[2]
    text = text.partition("\n\n")[0]
    lines = re.findall(r"^\| ([a-z, ]+) \| (\d+) \| (\d+) \| (\d+) \| (\d+) \| (\d+) \|$", text, re.MULTILINE)
    return {part: [int(figure) for figure in figures] for part, *figures in lines}


def test_every_file_of_values_is_counted() -> None:
    """No file of published values is left out, and none is counted twice."""
    assert {path.stem for path in PUBLISHED.glob("*.csv")} == set(ROWS) | set(TABLES)
    assert not set(ROWS) & set(TABLES)
    assert set(checks().values()) <= set(KINDS)


def test_what_is_printed_is_what_there_is() -> None:
    """The figures that the developers' page prints are the counts; what rests on memory is left out of the sum."""
    counts = counted()
    real = {part: [*(c[kind] for kind in KINDS), sum(c[k] for k in KINDS[:3])] for part, c in counts.items()}
    assert printed() == real


@pytest.mark.parametrize(("part", "least"), [(ELECTRICITY, 60), (FLUIDS, 70)])
def test_enough_is_checked_against_the_outside(part: str, least: int) -> None:
    """Checks that do not rest on memory are as many as were asked for."""
    counts = counted()[part]
    assert sum(counts[kind] for kind in KINDS[:3]) >= least
