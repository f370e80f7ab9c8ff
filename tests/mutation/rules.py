"""Change each rule a little, and see whether a test notices: `python tests/mutation/rules.py`.

Each document of `rules/` is changed in one thing at a time: a sign, a word, a clause, a limit, its weight. First
the rule's own fragments are judged anew; what they miss is put to the other tests of single rules. Printed are the
score of each system and, with `--survivors`, each change that nothing notices, with its place.
`rules-equivalent.csv` names those that nothing can notice, each with the reason.
"""

from __future__ import annotations

import argparse
import csv
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [
    str(HERE),
    *(str(HERE.parent / name) for name in (".", "demos", "rules")),
    str(HERE.parents[1]),
]

import rules_witnesses  # noqa: E402 - found by the line above
from rules_mutants import Mutant, mutants, unread_limits  # noqa: E402 - as above
from test_documents import PACK  # noqa: E402 - as above

from specreg.rules.pack import Rule  # noqa: E402 - as above

EQUIVALENT = HERE / "rules-equivalent.csv"


@dataclass(frozen=True)
class Verdict:
    """What came of one change: the witness that noticed it, or `equivalent` with the reason, or nothing."""

    mutant: Mutant
    noticed_by: str = ""
    equivalent: str = ""

    @property
    def survives(self) -> bool:
        """Tell whether nothing noticed it, and nothing says why nothing can."""
        return not self.noticed_by and not self.equivalent


def equivalents() -> dict[tuple[str, str], str]:
    """Return the reason why a change can make no difference, by rule and change."""
    with EQUIVALENT.open(encoding="utf-8", newline="") as file:
        return {(row["rule"], row["change"]): row["reason"] for row in csv.DictReader(file)}


def verdicts(rule: Rule, known: dict[tuple[str, str], str]) -> Iterator[Verdict]:
    """Yield what comes of each change of a rule that the pack's own checks let through."""
    fragments = rules_witnesses.Fragments(rule)
    witnesses = [("fragments", fragments.notice), *rules_witnesses.others()]
    wrong = [name for name, witness in witnesses if _notices(witness, rule)]
    assert not wrong, f"{rule.identity} fails as it is: {', '.join(wrong)}"
    for found in mutants(rule):
        if isinstance(found, Mutant):
            noticed = next((name for name, witness in witnesses if _notices(witness, found.rule)), "")
            yield Verdict(found, noticed, known.get((rule.identity, found.change), ""))


def _notices(witness: rules_witnesses.Witness, rule: Rule) -> bool:
    try:
        return witness(rule)
    except Exception:
        return True


def table(found: Iterable[Verdict]) -> Iterator[str]:
    """Yield the score of each system and of each level, as lines of a table."""
    rows: dict[str, list[Verdict]] = {}
    for verdict in found:
        header = verdict.mutant.original.header
        for name in (header.system.value, f"level {header.level.value}", f"a {verdict.mutant.sort}", "all"):
            rows.setdefault(name, []).append(verdict)
    yield f"{'':16}{'changes':>9}{'fragments':>11}{'others':>9}{'none can':>10}{'survive':>9}{'score':>8}"
    for name in sorted(rows, key=lambda word: (word == "all", word[:2] == "a ", word[:6] == "level ", word)):
        by = Counter(_column(verdict) for verdict in rows[name])
        counted = len(rows[name]) - by["none can"]
        score = 100 * (by["fragments"] + by["others"]) / counted if counted else 100
        cells = [len(rows[name]), by["fragments"], by["others"], by["none can"], by["survive"]]
        yield (
            f"{name:16}"
            + "".join(f"{n:>{w}}" for n, w in zip(cells, (9, 11, 9, 10, 9), strict=True))
            + f"{score:7.1f}%"
        )


def _column(verdict: Verdict) -> str:
    if verdict.noticed_by:
        return "fragments" if verdict.noticed_by == "fragments" else "others"
    return "none can" if verdict.equivalent else "survive"


def chosen(arguments: argparse.Namespace) -> list[Rule]:
    """Return the rules that are asked for."""
    return [
        rule
        for rule in PACK.rules
        if fnmatchcase(rule.identity, arguments.rule)
        and (not arguments.level or rule.header.level.value == arguments.level)
    ]


def main() -> int:
    """Run over the rules, print the table; 1 where something survives, 0 where nothing does."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rule", default="*", help="rules by identity, such as 'gas/*'")
    parser.add_argument("--level", choices=["error", "warning", "note"], help="only rules of this level")
    parser.add_argument("--survivors", action="store_true", help="print each change that nothing notices")
    arguments = parser.parse_args()
    began, known, found = time.monotonic(), equivalents(), []
    for rule in chosen(arguments):
        found += list(verdicts(rule, known))
        for name in unread_limits(rule):
            print(f"{rule.document.file}: limit `{name}` is read by nothing")
    survivors = [verdict for verdict in found if verdict.survives]
    if arguments.survivors:
        for one in survivors:
            level = one.mutant.original.header.level.value
            print(f"{one.mutant.place} [{level}] {one.mutant.change}")
    wrong = [one.mutant for one in found if one.noticed_by and one.equivalent]
    for mutant in wrong:
        print(f"{mutant.place} {mutant.change}: is noticed, though said to make no difference")
    print("\n".join(table(found)))
    print(f"{time.monotonic() - began:.0f} s")
    return 1 if survivors or wrong else 0


if __name__ == "__main__":
    sys.exit(main())
