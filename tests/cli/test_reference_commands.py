"""For those who write rules: trying one, its mistakes, a pack of one's own, pages of rules."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from small_register import changed, write_build

from specreg.cli.commands import cli

ROOT = Path(__file__).parents[2]


def run(*words: str) -> Result:
    """Run one command line, errors of ours not caught."""
    return CliRunner().invoke(cli, words, catch_exceptions=False)


RULE = """\
---
title: The pump is strong enough
system: water
level: warning
judges: pump
applies: pump.supply_voltage is present
passes: pump.power >= limits.least
finding: "{{ pump }} takes {{ pump.power }}"
limits: {least: {any: 50 W, us: 70 W}}
sources: [{how: common practice}]
---
A weak pump gives a weak shower.

## Conforms
```yaml
components: {water-pump: {power: 50 W}}
```

## Does not conform
```yaml
components: {water-pump: {power: 49 W}}
```
Finding: takes 49 W
"""


@pytest.fixture
def register(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A register with a rule of its own, and the shipped rules."""
    monkeypatch.chdir(tmp_path)
    write_build(tmp_path / "vans")
    (tmp_path / "vans/rules/water").mkdir(parents=True)
    (tmp_path / "vans/rules/water/pump-strong.md").write_text(RULE, encoding="utf-8")
    return tmp_path


def attempt(register: Path, text: str = RULE) -> Result:
    """Try a rule on the heron."""
    (register / "vans/rules/water/pump-strong.md").write_text(text, encoding="utf-8")
    return run("rules", "--try", "vans/rules/water/pump-strong.md", "vans/heron")


@pytest.mark.parametrize(
    "expected",
    [
        "heron: 1 pump, of which the rule is about 1",
        "water-pump: passes: water pump: The pump is strong enough [UK]",
        "applies reads water-pump.supply_voltage: 12 V (declared)",
        "passes reads water-pump.power: 60 W (declared)",
        "pump-strong.md:16: Conforms: as it says",
        "pump-strong.md:21: Does not conform: as it says",
    ],
)
def test_a_rule_is_tried(register: Path, expected: str) -> None:
    """Each target's answer, the figures that it read with their values, and the proofs."""
    result = attempt(register)
    assert expected in result.stdout
    assert result.exit_code == 0


@pytest.mark.parametrize(
    ("right", "wrong", "expected"),
    [
        (">= limits.least", "> limits.least", "Conforms: expected pass everywhere, got"),
        ("pump.supply_voltage is present", "pump.power < limits.least", "the rule is not about it"),
        ("pump.power >= limits.least", "pump.cut_off_pressure >= limits.least", "compares a pressure with a power"),
        ("pump.power >= limits.least", "pump.suply_voltage is present", 'nearest is "supply_voltage"'),
        ("judges: pump", "judges: pumpp", 'pump-strong.md:5:9: problem: unknown noun: read "pumpp"'),
        ("level: warning", "levle: warning", 'pump-strong.md:4:1: problem: unknown key `levle`'),
        ("level: warning", "level: wrning", 'nearest is "warning"'),
        ("least: {any: 50 W", "least: {any: 50 Wt", "pump-strong.md:9:23: problem:"),
        ("pump.power >= limits.least", "pump.powr >= limits.least", 'pump-strong.md:7:'),
        ("{{ pump.power }}", "{{ pump.powr }}", 'nearest is "power"'),
        ("power: 50 W}", "powr: 50 W}", "the fragment has problems of its own"),
        ("Finding: takes 49 W", "Finding: takes 40 W", "expected a finding with “takes 40 W”"),
    ],
    ids=lambda text: text[:30],
)  # fmt: skip
def test_a_mistake_of_a_rule_is_told_as_in_a_spec(
    register: Path, right: str, wrong: str, expected: str
) -> None:
    """With its line, what was read and the nearest right word; what does not prove itself ends with 2."""
    assert right in RULE
    result = attempt(register, RULE.replace(right, wrong, 1))
    assert expected in result.output
    assert "Traceback" not in result.output
    assert result.exit_code == 2


def test_missing_data_is_named(register: Path) -> None:
    """What would decide the question."""
    write_build(register / "vans", text=changed(("    power: 60 W\n", "")))
    result = attempt(register)
    assert "missing: water-pump.power" in result.stdout


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--try", "vans/rules/water/pump-strong.md"), "a rule is tried on a build"),
        (("vans/heron",), "a build is given to try a rule on it"),
        (("--try", "nowhere.md", "vans/heron"), "nowhere.md cannot be read"),
        (("--into", "pages"), "add --format markdown"),
        (
            ("--format", "markdown", "--into", "vans"),
            "vans holds files that specreg did not write",
        ),
    ],
)
def test_a_bad_request_is_answered_in_words(register: Path, words: tuple[str, ...], expected: str) -> None:
    """Code 2, and nothing done."""
    result = run("rules", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert expected in result.stderr


def test_a_pack_of_ones_own_works_from_end_to_end(register: Path) -> None:
    """The rule judges, is listed, printed, shown on the pages, and conceded like any other."""
    write_build(register / "vans", text=changed(("power: 60 W", "power: 40 W")))
    assert "water pump takes 40 W" in run("inspect", "vans").stdout
    assert "water/pump-strong (warning)" in run("rules", "--register", "vans").stdout
    assert "A weak pump" in run("rules", "--register", "vans", "--about", "water/pump-strong").stdout
    assert run("inspect", "vans", "--stop-at", "warning").exit_code == 1
    concession = (
        "concessions: [{rule: water/pump-strong, target: water-pump, reason: mild, granted_by: lead}]\n"
    )
    write_build(register / "vans", text=changed(("power: 60 W", "power: 40 W")) + concession)
    assert "fails (warning), under a concession: water pump takes 40 W" in run("inspect", "vans").stdout


def test_pages_of_rules(register: Path) -> None:
    """A page for each rule with its limits by jurisdiction, sources, how each is known, and fragments."""
    words = ("rules", "--register", "vans", "--format", "markdown", "--into", "pages")
    assert run(*words).exit_code == 0
    page = (register / "pages/water/pump-strong.md").read_text(encoding="utf-8")
    assert "| Limit | everywhere else | US |" in page
    assert "| least | 50 W | 70 W |" in page
    assert "- common practice, no source" in page
    assert (
        "## Does not conform\n\n```yaml\ncomponents: {water-pump: {power: 49 W}}\n```\n\nFinding: takes 49 W"
        in page
    )
    index = (register / "pages/index.md").read_text(encoding="utf-8")
    shipped = sorted(path.relative_to(ROOT / "rules").as_posix() for path in (ROOT / "rules").glob("*/*.md"))
    assert all(f"({name})" in index and (register / "pages" / name).is_file() for name in shipped)
    (register / "vans/rules/water/pump-strong.md").unlink()
    shutil.rmtree(register / "vans/rules")
    assert run(*words).exit_code == 0
    assert not (register / "pages/water/pump-strong.md").exists()


def complete(words: str, begun: str) -> list[str]:
    """What a shell is offered after these words."""
    from click.shell_completion import ShellComplete

    shell = ShellComplete(cli, {}, "specreg", "_SPECREG_COMPLETE")
    return [item.value for item in shell.get_completions(words.split(), begun)]


@pytest.mark.parametrize(
    ("words", "begun", "expected"),
    [
        ("", "insp", ["inspect"]),
        ("inspect", "v", ["vans"]),
        ("inspect", "vans/", ["vans/heron"]),
        ("inspect vans/heron --for", "ha", ["hand-over"]),
        ("inspect vans/heron --stop-at", "w", ["warning"]),
        ("inspect vans/heron --format", "s", ["sarif"]),
        ("trace vans/heron", "water", ["water-pump"]),
        ("trace vans/heron", "fuse-box/", ["fuse-box/pump"]),
        ("figures vans/heron --about", "pump-", ["pump-feed"]),
        ("rules --about", "dc/positive-run-pro", ["dc/positive-run-protected"]),
        (
            "rules --register vans --about",
            "water/pump-str",
            ["water/pump-strainer-none", "water/pump-strong"],
        ),
        ("compare vans/heron", "vans/", ["vans/heron"]),
        ("find", "v", ["vans"]),
    ],
)
def test_a_shell_is_offered_what_there_is(
    register: Path, words: str, begun: str, expected: list[str]
) -> None:
    """Commands, builds, stages, levels, things in a van, rules."""
    if "pump-str" in begun:
        expected = [one for one in expected if one == "water/pump-strong"]
    assert complete(words, begun) == expected


def test_a_spec_with_mistakes_breaks_no_completion(register: Path) -> None:
    """Nothing is offered, and nothing is printed between the words of a command line."""
    write_build(register / "vans", text="format: [")
    assert complete("trace vans/heron", "w") == []
