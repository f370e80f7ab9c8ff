"""An inspection in each of its forms, read back by independent readers where there are any."""

import json
import os
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest
from pydantic import TypeAdapter
from small_register import HERON, changed, write_build, write_rules

from specreg import shipped
from specreg.accepted import Record, known_of
from specreg.model.build import Stage
from specreg.model.field import Reader
from specreg.output import inspection_text
from specreg.output.as_json import figures_data, inspection_data, rules_data
from specreg.output.json_schema import output_schema
from specreg.output.sarif import sarif
from specreg.output.shape import InspectionData
from specreg.output.style import Style
from specreg.report import Inspection
from specreg.workshop import figures, inspect_all, load, rules_for

Inspect = Callable[..., Inspection]


@pytest.fixture
def inspect(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Inspect:
    """Inspect one van with the small pack; the spec and the stage may be chosen."""
    pack = write_rules(tmp_path / "pack")
    monkeypatch.setattr(shipped, "rules_folder", lambda: pack)
    monkeypatch.chdir(tmp_path)

    def of(spec: str = HERON, stage: Stage | None = None, on: date | None = None) -> Inspection:
        write_build(tmp_path / "vans", text=spec)
        return inspect_all(load("vans"), on, stage)

    return of


MARK = re.compile(r"covers: ([0-9a-f]{8})")


def signed(inspect: Inspect, spec: str = HERON) -> str:
    """The spec with the pump's matter signed as it stands."""
    [mark] = {one.fingerprint for one in inspect(spec).reports[0].results if one.fingerprint}
    return spec + (
        "records:\n  sign_offs:\n"
        f"    - {{matter: water/pump-looked-at, target: water-pump, by: pump fitter, name: Canary Name, "
        f"licence: canary-licence, date: 2026-04-30, covers: {mark}}}\n"
    )


FAILING = changed(("capacity: 100 Ah", "capacity: 80 Ah"))
CONCESSION = (
    "concessions:\n"
    "  - {rule: dc/battery-large-enough, target: house-battery, reason: short trips, "
    "granted_by: workshop lead, until: 2026-12-31}\n"
)

GOLDEN = """\
Check of the written specification: heron, Two-berth van
Stage: design, on 2026-05-01, in UK. 4 rules of specreg VERSION.

dc: 1 fails at level error, 1 is open
vans/heron/spec.yaml:8:3: fails (error): house battery holds 80 Ah, less than
    90 Ah [UK]
    Figures: house-battery capacity 80 Ah (declared)
    Remedy: Fit a larger battery.
    Rule: dc/battery-large-enough, after Made-up code 1.2, 2020 (from memory)
vans/heron/spec.yaml:8:3: open: house battery: The battery is not charged when
    cold: cannot be decided: `house-battery.heated` is not stated
    Remedy: State `house-battery.heated`.
    Rule: dc/battery-warm-enough, after common practice, no source

water: 1 is answered by a sign-off
vans/heron/spec.yaml:17:3: answered: Listen to water pump.
    Sign-off: answered by pump fitter, Canary Name, licence canary-licence,
        2026-04-30
    Rule: water/pump-looked-at, after common practice, no source

gas: 1 does not apply

Of 4 answers, 1 fails at level error, 1 is open, 1 is answered by a sign-off, 1
    does not apply.
"""


def test_text_reads_like_this(inspect: Inspect) -> None:
    """The whole text of a check, wrapped at 80 columns, failures first, sign-offs beside what they answer."""
    from specreg import __version__

    text = inspection_text(inspect(signed(inspect, FAILING)), "text", Style(80))
    assert text.startswith(GOLDEN.replace("VERSION", __version__))
    assert max(map(len, text.splitlines())) <= 80


def test_text_is_coloured_only_when_asked(inspect: Inspect) -> None:
    """Colour changes nothing but colour."""
    coloured = inspection_text(inspect(FAILING), "text", Style(80, colour=True))
    assert re.sub(r"\x1b\[[0-9]*m", "", coloured) == inspection_text(inspect(FAILING), "text", Style(80))
    assert "\x1b[31m" in coloured


def test_a_register_is_told_van_by_van(inspect: Inspect, tmp_path: Path) -> None:
    """Several vans end with an overview."""
    write_build(tmp_path / "vans", "crane", FAILING)
    text = inspection_text(inspect(), "text", Style())
    assert "\nAll builds\n    crane: 1 fails at level error," in text


# SARIF


def sarif_schema() -> dict[str, Any]:
    """The official schema, from the file that SPECREG_SARIF_SCHEMA names."""
    path = os.environ.get("SPECREG_SARIF_SCHEMA")
    if not path:
        reason = "SPECREG_SARIF_SCHEMA names no schema file (npm package @microsoft/jest-sarif carries it)"
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail(reason)
        pytest.skip(reason)
    schema: dict[str, Any] = json.loads(Path(path).read_text(encoding="utf-8"))
    return schema


@pytest.mark.parametrize("everything", [False, True])
@pytest.mark.parametrize("spec", [HERON, FAILING, FAILING + CONCESSION, "format: 1\n"])
def test_sarif_is_valid_by_the_official_schema(inspect: Inspect, spec: str, everything: bool) -> None:
    """Every log that we write, one about an unreadable spec included."""
    schema = sarif_schema()
    log = sarif(inspect(spec), everything=everything)
    jsonschema.validators.validator_for(schema)(schema).validate(log)


@pytest.mark.parametrize("spec", [FAILING, HERON], ids=["known", "no longer found"])
def test_sarif_against_a_record_is_valid(inspect: Inspect, spec: str) -> None:
    """With a state on each failure, and with findings that have no place any more."""
    schema = sarif_schema()
    [report] = inspect(FAILING).reports
    known = tuple(known_of(report.build.name, result) for result in report.results if result.failed)
    [today] = inspect(spec).reports
    log = sarif(Inspection((replace(today, record=Record("accepted.yaml", known)),), (), ()))
    assert {one.get("baselineState") for one in results(log)} >= {
        "unchanged" if spec == FAILING else "absent"
    }
    jsonschema.validators.validator_for(schema)(schema).validate(log)


def results(log: dict[str, Any]) -> list[dict[str, Any]]:
    """The results of a log's only run."""
    [run] = log["runs"]
    found: list[dict[str, Any]] = run["results"]
    return found


def test_a_level_belongs_to_a_failure_only(inspect: Inspect) -> None:
    """SARIF 2.1.0, 3.27.9 and 3.27.10: where `kind` is not `fail`, `level` is `none`."""
    found = results(sarif(inspect(FAILING), everything=True))
    assert {one["kind"] for one in found} == {"fail", "open", "review", "notApplicable"}
    assert {one["kind"]: one["level"] for one in found} == {
        "fail": "error",
        "open": "none",
        "review": "none",
        "notApplicable": "none",
    }


def test_what_passes_is_left_out_unless_asked_for(inspect: Inspect) -> None:
    """The log of a check holds what somebody has to look at."""
    kinds = {one["kind"] for one in results(sarif(inspect()))}
    everything = {one["kind"] for one in results(sarif(inspect(), everything=True))}
    assert kinds == {"open", "review"}
    assert everything - kinds == {"pass", "notApplicable"}


def test_rules_and_results_agree(inspect: Inspect) -> None:
    """`ruleIndex` leads to the rule that `ruleId` names, and each rule has help to read."""
    log = sarif(inspect(FAILING), everything=True)
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    assert all(rules[one["ruleIndex"]]["id"] == one["ruleId"] for one in results(log))
    assert all(rule["help"]["text"] and rule["help"]["markdown"] for rule in rules)


def test_a_concession_is_an_accepted_suppression(inspect: Inspect) -> None:
    """It stands beside the failure, which stays a failure."""
    [failed] = [one for one in results(sarif(inspect(FAILING + CONCESSION))) if one["kind"] == "fail"]
    [suppression] = failed["suppressions"]
    assert (suppression["kind"], suppression["status"]) == ("external", "accepted")
    assert suppression["justification"].startswith("short trips; granted by workshop lead")
    assert all("suppressions" in one for one in results(sarif(inspect(FAILING))))


def test_fingerprints_stay_when_lines_move(inspect: Inspect) -> None:
    """Two comment lines above change places, and no fingerprint."""
    before, after = (results(sarif(inspect(spec))) for spec in (FAILING, "# one\n# two\n" + FAILING))
    marks = [[one["partialFingerprints"] for one in found] for found in (before, after)]
    lines = [
        [one["locations"][0]["physicalLocation"]["region"]["startLine"] for one in found]
        for found in (before, after)
    ]
    assert marks[0] == marks[1]
    assert [line + 2 for line in lines[0]] == lines[1]
    assert len({json.dumps(mark) for mark in marks[0]}) == len(marks[0])


def test_problems_are_notifications(inspect: Inspect) -> None:
    """A spec that cannot be read makes an unsuccessful run, with the places."""
    [invocation] = sarif(inspect("format: 1\n"))["runs"][0]["invocations"]
    assert invocation["executionSuccessful"] is False
    assert invocation["exitCode"] == 2
    first = invocation["toolExecutionNotifications"][0]["locations"][0]["physicalLocation"]
    assert first["artifactLocation"] == {"uri": "vans/heron/spec.yaml", "uriBaseId": "%SRCROOT%"}


def test_files_are_named_as_uris(tmp_path: Path, inspect: Inspect) -> None:
    """A blank or an umlaut in a folder's name is written as RFC 3986 asks."""
    write_build(tmp_path / "Müllers vans", text=FAILING)
    log = sarif(inspect_all(load("Müllers vans")))
    place = results(log)[0]["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "M%C3%BCllers%20vans/heron/spec.yaml"


@pytest.mark.parametrize("form", ["sarif", "junit", "markdown"])
def test_names_stay_out_of_what_is_sent_to_services(inspect: Inspect, form: str) -> None:
    """Who signed is told by role and date; the name and the licence are the workshop's and the owner's."""
    text = inspection_text(inspect(signed(inspect)), form, Style(), everything=True)
    assert "pump fitter" in text
    assert "anary" not in text


# JSON


def test_json_has_the_published_shape(inspect: Inspect) -> None:
    """Checked twice: against the published schema, and strictly against the shape."""
    data = json.loads(inspection_text(inspect(FAILING + CONCESSION), "json", Style()))
    jsonschema.Draft202012Validator(output_schema("inspect")).validate(data)
    assert TypeAdapter(InspectionData).validate_python(data, strict=True) == data
    assert list(data) == list(InspectionData.__annotations__)


def test_figures_and_rules_have_the_published_shape(inspect: Inspect) -> None:
    """Every fact of the van and every rule of the pack."""
    facts = inspect().reports[0].facts
    data = figures_data([(facts.build, None, figures(facts))])
    rules = rules_data(rules_for()[0])
    assert data["builds"][0]["figures"]
    assert rules["rules"]
    jsonschema.Draft202012Validator(output_schema("figures")).validate(json.loads(json.dumps(data)))
    jsonschema.Draft202012Validator(output_schema("rules")).validate(json.loads(json.dumps(rules)))


def test_json_tells_every_result(inspect: Inspect) -> None:
    """Passes and what does not apply are in the JSON without being asked for."""
    data = inspection_data(inspect())
    assert {one["answer"] for one in data["builds"][0]["results"]} == {
        "pass", "open", "review", "notApplicable"
    }  # fmt: skip
    assert sum(data["builds"][0]["counts"].values()) == len(data["builds"][0]["results"])


@pytest.mark.parametrize(
    ("reader", "told"), [(Reader.workshop, True), (Reader.owner, True), (Reader.public, False)]
)
def test_a_reader_gets_what_is_meant_for_it(inspect: Inspect, reader: Reader, told: bool) -> None:
    """The name on a sign-off is for the owner and above."""
    data = inspection_data(inspect(signed(inspect)), reader)
    [result] = [one for one in data["builds"][0]["results"] if one["sign_off"]]
    assert result["sign_off"] is not None
    assert ("Canary Name" in result["sign_off"]["words"]) is told


def test_private_figures_stay_with_their_readers(inspect: Inspect, tmp_path: Path) -> None:
    """A serial number that a rule compared is no evidence for the public."""
    rule = (
        "---\ntitle: The serial is noted\nsystem: records\nlevel: note\njudges: battery\n"
        "passes: battery.serial is present and battery.serial != 'none'\nfinding: none\n"
        "sources: [{how: common practice}]\n---\nFor recalls.\n"
    )
    write_rules(tmp_path / "pack", {"records/serial": rule})
    assert "canary-serial" in json.dumps(inspection_data(inspect(), Reader.owner))
    assert "canary-serial" not in json.dumps(inspection_data(inspect(), Reader.public))
    assert "canary-serial" not in json.dumps(sarif(inspect(), everything=True))


# JUnit


@pytest.mark.parametrize(
    ("spec", "stage", "counts"),
    [
        (HERON, None, {"tests": 3, "failures": 0, "errors": 0, "skipped": 2}),
        (FAILING, None, {"tests": 3, "failures": 1, "errors": 0, "skipped": 2}),
        (FAILING + CONCESSION, None, {"tests": 3, "failures": 0, "errors": 0, "skipped": 3}),
        (HERON, Stage.hand_over, {"tests": 3, "failures": 0, "errors": 0, "skipped": 0}),
    ],
)
def test_junit_counts_what_stops(
    inspect: Inspect, spec: str, stage: Stage | None, counts: dict[str, int]
) -> None:
    """A failure there is what makes the exit code 1; what waits is skipped; the sums are right."""
    root = ElementTree.fromstring(inspection_text(inspect(spec, stage), "junit", Style()).encode())
    assert {key: int(root.attrib[key]) for key in counts} == counts
    assert len(root.findall(".//testcase")) == counts["tests"]
    assert len(root.findall(".//failure")) == counts["failures"]
    assert len(root.findall(".//skipped")) == counts["skipped"]


def test_junit_shows_problems_as_errors(inspect: Inspect) -> None:
    """An unreadable spec is an error with its place."""
    root = ElementTree.fromstring(inspection_text(inspect("format: 1\n"), "junit", Style()).encode())
    errors = root.findall(".//error")
    assert int(root.attrib["errors"]) == len(errors) > 0
    assert errors[0].attrib["message"].startswith("vans/heron/spec.yaml:")


# Markdown


def test_markdown_is_a_table_of_findings(inspect: Inspect) -> None:
    """Read back by a Markdown parser: a heading, the summary, a row for each finding."""
    from markdown_it import MarkdownIt

    text = inspection_text(inspect(FAILING), "markdown", Style())
    html = MarkdownIt("commonmark", {"html": False}).enable("table").render(text)
    assert "<h1>Check of the written specification</h1>" in html
    assert html.count("<tr>") == 1 + 3
    assert "<td>fails (error)</td>" in html


def test_markdown_cannot_be_led_astray(inspect: Inspect) -> None:
    """A title full of marks stays a title."""
    title = "'a | b <script> [x](y) *z*'"
    text = inspection_text(inspect(FAILING.replace("Two-berth van", title)), "markdown", Style())
    assert "<script>" not in text.replace("\\<", "")
    assert "\\[x\\](y)" in text
