"""Mutation testing of what computes: `python tests/mutation/facts.py [--module protection] [--sample 200 --seed 1]`.

A mutant is the program with one small change (`facts_mutants.py`). The tests that run the changed function are
run on it, the most direct first, for at most `--seconds` of them; a mutant that none of them notices survived.
Prints killed / (killed + survived) for each module and every survivor with its place, and ends with 1 where one
survived that `facts-equivalent.csv` does not explain.
"""

from __future__ import annotations

import argparse
import csv
import os
import sys
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path

import pytest
from facts_mutants import Mutant, mutants
from facts_trial import Outcome, Trial, Trials

ROOT = Path(__file__).parents[2]
EQUIVALENTS = Path(__file__).with_name("facts-equivalent.csv")
FOLDERS = ("facts", "graph", "units", "tables")
TESTS = (
    "tests/units",
    "tests/tables",
    "tests/graph",
    "tests/facts",
    "tests/rules/test_documents.py",
    "tests/rules/test_published_electrics.py",
    "tests/rules/test_hold_points.py",
    "tests/rules/test_anchorage_sign_off.py",
)
SAFETY: Mapping[str, str] = {
    "electricity": "protection device_place design_current load_current load_flow load_limits current_path "
    "conductor_size conductors parallel_cables battery_current battery_string battery_sharing charging_power "
    "selectivity switching source_voltage solar_string voltage_drop mains_cable mains_modes mains_network "
    "mains_path supply_tree under_way lugs",
    "gas": "gas_path gas_places gas_pressure gas_supply gas_vapour valve_control flue_place heater_pipes",
    "air": "combustion fixed_vents air_openings air_stream vent_stream tank_vents fumes sleeping_air",
    "fire-and-exits": "fire fire_means exits ways",
    "seats": "seats seat_ways sleepers people",
    "masses": "axle_loads loading mass_ledger payload payload_places tyre_load weighing weighing_series weight "
    "run_mass mass_height axes",
    "below": "branches fault feeding network supply walk piping overcurrent liquefied_gas vehicle tyres "
    "conductor reading",
}
"""Modules of facts that rules of level error read, by what they are about, and what these compute with."""


def modules(asked: Sequence[str]) -> tuple[Path, ...]:
    """Return the modules, folders or groups of those names; all where none is asked for."""
    names = {name for one in asked for name in SAFETY.get(one, one).split()}
    if "safety" in names:
        names |= {name for group in SAFETY.values() for name in group.split()}
    found = [path for folder in FOLDERS for path in sorted((ROOT / "specreg" / folder).glob("*.py"))]
    return tuple(path for path in found if not names or path.stem in names or path.parent.name in names)


Explained = Mapping[tuple[str, str, str], str]
"""Why a mutant that survives computes the same: by module, function and change."""


def explained() -> Explained:
    """Return the survivors that are known to change nothing, each with the reason."""
    with EQUIVALENTS.open(encoding="utf-8", newline="") as file:
        return {(row["module"], row["function"], row["change"]): row["why"] for row in csv.DictReader(file)}


def report(trials: Iterable[Trial], known: Explained, late: Iterable[Mutant]) -> tuple[str, int]:
    """Return the score of each module with its survivors, and how many of these nothing explains."""
    by_module: dict[str, list[Trial]] = {}
    for trial in trials:
        by_module.setdefault(module_of(trial.mutant), []).append(trial)
    lines, open_ones = [], 0
    total = {"killed": 0, "survived": 0, "equivalent": 0}
    for module, tried in sorted(by_module.items()):
        killed = sum(trial.outcome in (Outcome.killed, Outcome.deadline) for trial in tried)
        left = [trial for trial in tried if trial.outcome in (Outcome.survived, Outcome.untested)]
        unexplained = [trial for trial in left if key_of(trial.mutant) not in known]
        same = len(left) - len(unexplained)
        lines.append(_score(module, killed, len(unexplained), same))
        for trial in unexplained:
            note = " (its function also runs while tests are collected)" if trial.mutant in late else ""
            lines.append(f"  {module}:{trial.mutant.line} {trial.mutant.function}: {trial.mutant.name}")
            lines.append(f"      {trial.outcome.value}, {trial.tests} tests{note}")
        open_ones += len(unexplained)
        for what, number in zip(total, (killed, len(unexplained), same), strict=True):
            total[what] += number
    lines.append(_score("all", *total.values()))
    return "\n".join(lines), open_ones


def _score(name: str, killed: int, survived: int, same: int) -> str:
    share = f"{killed / (killed + survived):.1%}" if killed + survived else "nothing to try"
    return f"{name}: {share}, {killed} killed, {survived} survived, {same} known to change nothing"


def module_of(mutant: Mutant) -> str:
    """Return the module of a mutant as a path in the project."""
    return mutant.path.relative_to(ROOT).as_posix()


def key_of(mutant: Mutant) -> tuple[str, str, str]:
    """Return what the list of equivalents calls a mutant."""
    return module_of(mutant), mutant.function, mutant.name


def sampled(made: Sequence[Mutant], size: int, seed: int) -> list[Mutant]:
    """Return so many mutants, by a digest of each: the same ones while the rest of the program changes."""

    def digest(mutant: Mutant) -> bytes:
        return sha256(repr((seed, *key_of(mutant))).encode()).digest()

    chosen = set(sorted(made, key=digest)[:size])
    return [mutant for mutant in made if mutant in chosen]


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n\n")[0])
    parser.add_argument(
        "--module",
        action="append",
        default=[],
        help=f"a module, a folder, or one of: safety, {', '.join(SAFETY)}",
    )
    parser.add_argument("--function", action="append", default=[], help="only mutants of this function")
    parser.add_argument("--sample", type=int, help="only so many mutants, taken at random")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=10.0, help="processor time of tests on one mutant")
    parser.add_argument("--test", action="append", default=[], help="only these files of tests")
    parser.add_argument(
        "--again", action="store_true", help="also try mutants that are known to change nothing"
    )
    parser.add_argument(
        "--kept",
        type=Path,
        default=Path(tempfile.gettempdir()) / "specreg-mutation-facts.json",
        help="where it is kept which tests run which functions",
    )
    return parser.parse_args()


def main() -> int:
    """Try the mutants that are asked for, and report."""
    asked = _arguments()
    os.chdir(ROOT)
    os.environ |= {"CI": "1", "OPENBLAS_NUM_THREADS": "1"}
    known = explained()
    made = [mutant for path in modules(asked.module) for mutant in mutants(path)]
    made = [mutant for mutant in made if not asked.function or mutant.function in asked.function]
    if asked.sample is not None:
        made = sampled(made, asked.sample, asked.seed)
    if not asked.again:
        made = [mutant for mutant in made if key_of(mutant) not in known]

    def tell(trial: Trial) -> None:
        mutant = trial.mutant
        what = f"{module_of(mutant)}:{mutant.line} {mutant.function}: {mutant.name}"
        print(f"{trial.outcome.value}: {what} {trial.test}", file=sys.stderr, flush=True)

    trials = Trials(ROOT, made, asked.kept, asked.seconds, tell)
    options = ["-s", "-o", "addopts=", "-p", "no:terminal", "-p", "no:cacheprovider"]
    options += ["--hypothesis-profile", "found"]
    pytest.main([*options, *(asked.test or TESTS)], plugins=[trials])
    late = {trial.mutant for trial in trials.trials if trials.ran_at_collection(trial.mutant)}
    text, left = report(trials.trials, known, late)
    print(text)
    return 1 if left else 0


if __name__ == "__main__":
    sys.exit(main())
