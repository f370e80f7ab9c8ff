"""What a change of a fact is, that a test that sees one kills it, and that the list of equivalents is true to the code."""

import subprocess
import sys
from pathlib import Path
from textwrap import dedent

import pytest
from facts import ROOT, explained
from facts_mutants import mutants

MODULE = '''
LIMIT = 0.5

def narrow(width: float) -> bool:
    """Whether a way is too narrow."""
    return width < LIMIT

def steps(height: float) -> int:
    count = 0
    while height > 0:
        height -= LIMIT
        count += 1
    return count

def clamped(share: float) -> float:
    if share > 1.0:
        return 1.0
    return share

def leans(angle: float, least: float = -1.0, *, most: float = 2 * LIMIT) -> bool:
    return not least <= angle <= most

def at_most(limit: float):
    def within(share: float) -> bool:
        return share <= limit
    return within

within_whole = at_most(1.0)

def unused(share: float) -> float:
    return share * 2
'''
TESTS = """
# What computes may be imported by the first question only: none of these is when the tests are collected.
import pytest

@pytest.mark.parametrize("width, expected", [(0.49, True), (0.5, False), (0.51, False)])
def test_narrow(width, expected):
    from specreg.gangway import narrow
    assert narrow(width) is expected

def test_steps():
    from specreg.gangway import steps
    assert (steps(1.0), steps(1.2)) == (2, 3)

def test_within():
    from specreg.gangway import within_whole
    assert within_whole(1.0)

def test_clamped():
    from specreg.gangway import clamped
    assert (clamped(0.5), clamped(1.0), clamped(2.0)) == (0.5, 1.0, 1.0)

def test_leans():
    from specreg.gangway import leans
    assert [leans(angle) for angle in (-1.1, -1.0, 1.0, 1.1)] == [True, False, False, True]
"""
RUN = """
import sys
from pathlib import Path
sys.path[:0] = [{tools!r}, {root!r}]
import pytest, facts_trial
from facts_mutants import mutants
facts_trial.SETUP = 0.3
root = Path({root!r})
def tell(trial):
    print(trial.outcome.name, trial.mutant.function, trial.mutant.name, sep="|")
made = mutants(root / "specreg" / "gangway.py")
trials = facts_trial.Trials(root, made, root / "kept.json", 5.0, tell)
pytest.main(["-s", "-p", "no:terminal", "-p", "no:cacheprovider", "-c", "none.ini", "--rootdir", {root!r}, {tests!r}], plugins=[trials])
"""


def test_what_a_test_sees_is_killed(tmp_path: Path) -> None:
    """A boundary, a constant and a loop without end are found; what changes nothing lives, what nobody runs is told."""
    (tmp_path / "specreg").mkdir()
    (tmp_path / "specreg" / "__init__.py").touch()
    (tmp_path / "specreg" / "gangway.py").write_text(MODULE)
    tests = tmp_path / "test_gangway.py"
    tests.write_text(TESTS)
    script = RUN.format(tools=str(Path(__file__).parent), root=str(tmp_path), tests=str(tests))
    (tmp_path / "none.ini").write_text("[pytest]\n")
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, check=True, timeout=120
    )
    found = {
        line.partition("|")[2]: line.partition("|")[0] for line in done.stdout.splitlines() if "|" in line
    }
    assert found["narrow|width < LIMIT → width <= LIMIT"] == "killed", done.stdout
    assert found["narrow|width < LIMIT → width >= LIMIT"] == "killed"
    assert found["LIMIT|0.5 → 0.55"] == "killed"
    assert found["steps|height -= LIMIT → pass"] == "deadline"
    assert found["steps|height > 0 → height >= 0"] == "killed"
    assert found["clamped|share > 1.0 → share >= 1.0"] == "survived"  # 1.0 is 1.0 either way
    assert found["clamped|share > 1.0 → False"] == "killed"
    assert found["leans|-1.0 → 1.0"] == "killed"
    assert found["leans|2 * LIMIT → 2 / LIMIT"] == "killed"
    assert found["leans|2 → 3"] == "killed"
    assert (
        found["at_most|share <= limit → share < limit"] == "killed"
    )  # it was made while the module was read
    assert found["unused|share * 2 → share / 2"] == "untested"


@pytest.mark.parametrize(
    ("body", "changes"),
    [
        ("return a < b", ["return True", "return False", "a <= b", "a >= b"]),
        ("x = a if a >= 2 else b", ["True", "False", "a > 2", "3"]),
        ("x = min(a, b) - 0.0", ["min(a, b) + 0.0", "max(a, b)", "1.0"]),
        ("x = a and not b", ["a or not b", "not b", "a", "b"]),
        ("raise ValueError('a < 1')", ["pass"]),
        ("assert a < 1", []),
        ("x = f'{a + 1} m'", []),
        (
            "x = [c for c in a if c in ('one', 'two')]",
            ["True", "False", "c in ('another', 'two')", "c in ('one', 'another')"],
        ),
        ("x = larger(a, b)", ["larger(b, a)"]),
        ("x = typed(a, b)", []),
    ],
)
def test_changes(tmp_path: Path, body: str, changes: list[str]) -> None:
    """What is changed, one at a time; texts for people and what only the type checker needs are left alone."""
    path = tmp_path / "package" / "module.py"
    path.parent.mkdir()
    path.write_text(
        dedent(f"""
        def larger(a: int, b: int) -> bool: ...
        def typed(a: int, b: str) -> bool: ...
        def tried(a, b) -> bool:
            {body}
        """)
    )
    assert [mutant.after for mutant in mutants(path)] == changes


def test_every_change_is_code() -> None:
    """No mutant fails to compile."""
    for mutant in mutants(ROOT / "specreg" / "facts" / "selectivity.py"):
        assert mutant.code()


def test_equivalents_are_changes_that_can_be_made() -> None:
    """Each line of the list names a change of the code as it is, and says why it is none."""
    known = explained()
    assert all(why.strip() for why in known.values())
    there = {
        (module, mutant.function, mutant.name)
        for module in {module for module, _, _ in known}
        for mutant in mutants(ROOT / module)
    }
    assert sorted(set(known) - there) == []
