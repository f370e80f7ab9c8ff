"""Mutation testing of the code that judges: `python tests/mutation/rules_code.py [--module judge --module proof]`.

The changes and how they are tried are those of `facts.py`; the tests are those of rules, of what is signed, and of
the commands that show and try rules. Modules that hand answers on, or keep them from a reader, are tried only where
`--module` names them, with tests of their own. `rules-code-equivalent.csv` names what can make no difference, with
the reason.
"""

from __future__ import annotations

import argparse
import csv
import os
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from facts import ROOT, Explained, key_of, module_of, report
from facts_mutants import mutants
from facts_trial import Trial, Trials

EQUIVALENTS = Path(__file__).with_name("rules-code-equivalent.csv")
MODULES = {
    path.stem: path for path in (*(ROOT / "specreg" / "rules").glob("*.py"), ROOT / "specreg" / "accepted.py")
}
TESTS = (
    "tests/rules/test_condition.py",
    "tests/rules/test_condition_dimensions.py",
    "tests/rules/test_condition_meaning.py",
    "tests/rules/test_condition_places.py",
    "tests/rules/test_condition_text.py",
    "tests/rules/test_judging.py",
    "tests/rules/test_rule_form.py",
    "tests/rules/test_proof.py",
    "tests/rules/test_anchorage_sign_off.py",
    "tests/rules/test_cache.py",
    "tests/cli/test_reference_commands.py",
    "tests/cli/test_accepted.py",
    "tests/test_accepted_record.py",
    "tests/hostile/test_rules.py",
)
"""Those that ask the code itself; fragments and trials of all rules run the same code, and would only take longer."""
BESIDES: Mapping[str, tuple[Path, tuple[str, ...]]] = {
    name: (ROOT / "specreg" / path, tests)
    for name, path, tests in (
        ("by_van", "output/by_van.py", ("tests/output/test_by_van.py",)),
        (
            "one_by_one",
            "cli/one_by_one.py",
            ("tests/cli/test_one_by_one.py", "tests/cli/test_kept_checks.py"),
        ),
        ("written", "pages/written.py", ("tests/pages/test_written.py", "tests/pages/test_language.py")),
        ("gate", "pages/gate.py", ("tests/pages/test_gate.py", "tests/pages/test_readers.py")),
        (
            "limits",
            "trade/limits.py",
            ("tests/trade/test_sheet_limits.py", "tests/trade/test_trade_sheet.py"),
        ),
    )
}
"""Modules that hand answers on, by name, with the tests that ask each of them."""


def explained() -> Explained:
    """Return the survivors that are known to change nothing, each with the reason."""
    with EQUIVALENTS.open(encoding="utf-8", newline="") as file:
        return {(row["module"], row["function"], row["change"]): row["why"] for row in csv.DictReader(file)}


def tell(trial: Trial) -> None:
    """Say what became of a mutant while others wait."""
    mutant = trial.mutant
    what = f"{module_of(mutant)}:{mutant.line} {mutant.function}: {mutant.name}"
    print(f"{trial.outcome.value}: {what} {trial.test}", file=sys.stderr, flush=True)


def main() -> int:
    """Try the mutants of the modules that are asked for, and report; 1 where one survives unexplained."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n\n")[0])
    parser.add_argument(
        "--module",
        action="append",
        default=[],
        choices=sorted((*MODULES, *BESIDES)),
        metavar="MODULE",
        help=f"a module of specreg/rules, or `accepted`, all of these without; or one of: {', '.join(BESIDES)}",
    )
    parser.add_argument("--function", action="append", default=[], help="only mutants of this function")
    parser.add_argument("--seconds", type=float, default=60.0, help="processor time of tests on one mutant")
    parser.add_argument("--test", action="append", default=[], help="only these files of tests")
    parser.add_argument(
        "--kept",
        type=Path,
        default=Path(tempfile.gettempdir()) / "specreg-mutation-rules-code.json",
        help="where it is kept which tests run which functions",
    )
    asked = parser.parse_args()
    os.chdir(ROOT)
    os.environ |= {"CI": "1"}
    known = explained()
    paths = MODULES | {name: path for name, (path, _) in BESIDES.items()}
    names = sorted(asked.module or MODULES)
    made = [mutant for name in names for mutant in mutants(paths[name])]
    tests = dict.fromkeys(test for name in names for test in (BESIDES[name][1] if name in BESIDES else TESTS))
    made = [mutant for mutant in made if not asked.function or mutant.function in asked.function]
    trials = Trials(ROOT, [one for one in made if key_of(one) not in known], asked.kept, asked.seconds, tell)
    options = ["-s", "-o", "addopts=", "-p", "no:terminal", "-p", "no:cacheprovider"]
    options += ["--hypothesis-profile", "found"]
    pytest.main([*options, *(asked.test or tests)], plugins=[trials])
    late = {trial.mutant for trial in trials.trials if trials.ran_at_collection(trial.mutant)}
    text, left = report(trials.trials, known, late)
    print(text)
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main())
