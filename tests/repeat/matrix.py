"""Every run for every demo van in one kind of surroundings after another; prints whatever differs.

`python tests/repeat/matrix.py`, or with the names of some kinds: `python tests/repeat/matrix.py clock far`.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

from runs import Run, general_runs, register_runs, van_runs
from surroundings import BARE, FAR, ROOT, Surroundings, answers, differences, told_by_a_path

VANS = ("fieldwork", "pocket", "second-hand", "winter-tourer")
CLOCK = Path("/usr/lib/x86_64-linux-gnu/faketime/libfaketime.so.1")
"""A library that tells programs another time (Debian's package faketime)."""

PLAIN = {"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C.UTF-8"}
KINDS = (
    BARE,
    FAR,
    Surroundings("hashes", PLAIN | {"PYTHONHASHSEED": "1"}, kept=True),
    Surroundings(
        "german", PLAIN | {"LC_ALL": "de_DE.UTF-8", "TZ": "Pacific/Pago_Pago", "TERM": "dumb"}, kept=True
    ),
    Surroundings("listing", PLAIN, shuffle=11, mask=0o000, kept=True),
    Surroundings("no-cache", PLAIN, backwards=True),
    Surroundings("carriage-returns", PLAIN, carriage_returns=True, kept=True),
    Surroundings("clock", PLAIN | {"LD_PRELOAD": str(CLOCK), "FAKETIME": "@2031-02-28 23:59:58"}, kept=True),
)


def lines_of(van: str) -> tuple[Run, ...]:
    """The runs for one van; those of no van and of the register are made with the first."""
    return (
        *(general_runs() if van == VANS[0] else ()),
        *(register_runs() if van == VANS[0] else ()),
        *van_runs(),
    )


def compared(van: str, kinds: list[Surroundings]) -> int:
    """Compare what came of the runs of one van; the number of answers that differ."""
    count = 0
    others = tuple(name for name in VANS if name != van)
    with tempfile.TemporaryDirectory(prefix="specreg-same-") as made:
        home = Path(made)
        first = answers(Surroundings("plain", PLAIN, kept=True), lines_of(van), (van, *others), home)
        for kind in kinds:
            told = answers(kind, lines_of(van), (van, *others), home)
            found = differences(first, told)
            found += [
                f"modes: {path.read_text()}" for path in sorted(told.glob("*/modes")) if path.read_text()
            ]
            found += [f"a path: {one}" for one in told_by_a_path(told, (made, str(ROOT)))]
            files = sum(path.is_file() for path in told.rglob("*"))
            print(
                f"{van}, {kind.name}: {len(lines_of(van))} runs, {files} answers, {len(found)} differ",
                flush=True,
            )
            print("".join(f"  {one}\n" for one in found), end="", flush=True)
            count += len(found)
    return count


def main() -> None:
    """Compare all, or the kinds that are named."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("kinds", nargs="*", metavar="KIND", help=", ".join(one.name for one in KINDS))
    words.add_argument("--van", choices=VANS)
    asked = words.parse_args()
    kinds = [one for one in KINDS if not asked.kinds or one.name in asked.kinds]
    if not CLOCK.is_file():
        print("clock: left out, the package faketime is not installed")
        kinds = [one for one in kinds if one.name != "clock"]
    vans = [asked.van] if asked.van else VANS
    sys.exit(1 if sum(compared(van, kinds) for van in vans) else 0)


if __name__ == "__main__":
    main()
