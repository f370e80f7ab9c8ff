"""Rules from anybody: no expression reaches beyond the facts, fails, or takes more work than there is to judge."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from effort import calls_of

from specreg.cli.commands import cli
from specreg.facts.engine import Facts
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_rule
from specreg.rules.result import Answer
from specreg.workshop import load

HEAD = "format: 1\nbuild: van\ntitle: T\nstage: design\njurisdictions: [uk]\n"
VAN = (
    HEAD
    + 'components:\n  battery: {kind: battery, nominal_voltage: 12 V, capacity: 100 Ah, maker: "a\'b{}%s"}\n'
)


def document(passes: str, finding: str = "x", judges: str = "battery") -> str:
    """A rule with a condition and a text."""
    head = f"title: t\nsystem: dc\nlevel: warning\njudges: {judges}\n"
    return f"---\n{head}passes: {json.dumps(passes)}\nfinding: {json.dumps(finding)}\nsources: [{{how: memory}}]\n---\n"


GREAT = "999999999999999"
UNENDING = "*".join([GREAT] * 25)

ESCAPES = (
    "battery.__class__ == 1", "battery.model.__class__ == 1", "battery._model is present", "''.__class__.__mro__ is present",
    "battery.maker.format(battery) == 'x'", "battery.maker % battery == 'x'", "'%s' % battery == 'x'", "'{0.__class__}'.format(battery) == 'x'",
    "battery['maker'] == 'x'", "battery.maker[0] == 'x'", "battery.maker | attr('__class__') == 'x'", "battery.maker | map('upper') is empty",
    "range(10**9) is empty", "[1] * 10**9 is empty", "'a' * 10**9 == 'a'", "2 ** 2 ** 2 ** 2 ** 2 == 1", "9 ** 9 == 1", "10 // 3 == 3",
    "lambda == 1", "cycler.__init__ is present", "namespace is present", "config is present", "self is present", "absent('x') == 1",
    "filters is present", "present(1)", "names is present", "system is present", "value_0 is present", "__builtins__ is present",
    "(build | each('components') | each('components')) is empty", "{% raw %}", "x}} {{ 7 * 7 }} {{", "battery.maker ~ 'x' == 'x'",
    "[battery, battery] is empty", "[[1], [2]] is empty", "1 in [1, 'a']", "battery is mapping", "battery.maker is divisibleby 2",
)  # fmt: skip


@pytest.mark.parametrize("text", ESCAPES)
def test_an_escape_is_no_condition(text: str) -> None:
    """Refused while the rule is read, with its place; nothing of it is run."""
    rule, problems = load_rule(document(text), "dc/own", "own.md")
    assert rule is None and problems
    assert all(problem.place and problem.place.file == "own.md" for problem in problems)
    rule, problems = load_rule(document("1 > 2", "{{ " + text + " }}"), "dc/own", "own.md")
    assert rule is None and problems


@pytest.fixture(scope="module")
def facts(tmp_path_factory: pytest.TempPathFactory) -> Facts:
    """A van with a battery."""
    folder = tmp_path_factory.mktemp("rules") / "van"
    folder.mkdir()
    (folder / "spec.yaml").write_text(VAN)
    return Facts(load(folder).sound[0])


@pytest.mark.parametrize(
    "text",
    [f"{UNENDING} / 3 > 1", f"{UNENDING} + 0.5 > 1", f"{UNENDING} * 0.5 > 1", f"3 / {UNENDING} >= 0", f"-{UNENDING} < 1",
     f"{UNENDING}.5 > 1", f"1 / ({UNENDING} - {UNENDING}) > 1", f"{UNENDING} in [1, 2]"],
)  # fmt: skip
def test_numbers_beyond_all_floats_are_answered(text: str, facts: Facts) -> None:
    """Products of whole numbers met a float, and failed with a fault of the program's own."""
    rule, problems = load_rule(document(text), "dc/own", "own.md")
    assert rule is not None, problems
    assert [type(result.answer) for result in judge(Pack((rule,)), facts)] == [Answer]


@pytest.mark.parametrize(
    "text", [UNENDING, f"-{UNENDING}", f"{UNENDING} - {UNENDING}", f"{UNENDING} / {UNENDING}", "1 / 0"]
)
def test_what_is_no_number_is_told_as_unknown(text: str, facts: Facts) -> None:
    """In a sentence there is a word for it."""
    rule, problems = load_rule(document("1 > 2", f"it is {{{{ {text} }}}}"), "dc/own", "own.md")
    assert rule is not None, problems
    [result] = judge(Pack((rule,)), facts)
    assert result.message == "it is unknown"


def test_a_text_of_the_spec_is_no_format_and_no_template(facts: Facts) -> None:
    """What stands in a field is put into a sentence as it is."""
    rule, problems = load_rule(document("1 > 2", "by {{ battery.maker }}"), "dc/own", "own.md")
    assert rule is not None, problems
    [result] = judge(Pack((rule,)), facts)
    assert result.message == "by a'b{}%s"


def test_a_rule_takes_work_in_step_with_what_it_judges(tmp_path: Path) -> None:
    """Four times the things, four times the work; a filter over all of them for each would be sixteen times."""

    def work(count: int) -> int:
        folder = tmp_path / str(count) / "van"
        folder.mkdir(parents=True)
        lines = "".join(f"  c-{n}: {{kind: ceiling-light, power: 3 W}}\n" for n in range(count))
        (folder / "spec.yaml").write_text(HEAD + "components:\n" + lines)
        rule, problems = load_rule(document("component.mass is absent or component.mass > limits.x", judges="component")
                                   .replace("sources", "limits: {x: {any: 1 kg}}\nsources"), "dc/own", "own.md")  # fmt: skip
        assert rule is not None, problems
        facts = Facts(load(folder).sound[0])
        answers: list[object] = []
        called = calls_of(lambda: answers.extend(judge(Pack((rule,)), facts)))
        assert len(answers) == count
        return called

    assert work(400) < 4.5 * work(100)


def test_a_rule_that_fails_everywhere_ends(tmp_path: Path) -> None:
    """Each of five hundred findings of one rule is told, and the command ends."""
    folder = tmp_path / "vans" / "van"
    (tmp_path / "vans" / "rules" / "dc").mkdir(parents=True)
    folder.mkdir()
    (tmp_path / "vans" / "rules" / "dc" / "own.md").write_text(document("1 > 2", "x" * 1000, "component"))
    lines = "".join(f"  c-{n}: {{kind: cabinet}}\n" for n in range(500))
    (folder / "spec.yaml").write_text(HEAD + "components:\n" + lines)
    done = CliRunner().invoke(cli, ["inspect", str(tmp_path / "vans")], catch_exceptions=False)
    assert done.stdout.count("x" * 1000) == 500
