"""What becomes of a rule's answer: stages, signatures, concessions, jurisdictions, cases, and what is told of it."""

from datetime import date

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.build import Stage
from specreg.model.read import read_build
from specreg.rules.attempt import Attempt, attempts
from specreg.rules.document import Level
from specreg.rules.fingerprint import mark_of
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, Rule, load_rule
from specreg.rules.result import Answer, Result
from specreg.source import Mapping, merge, read_yaml

PUMP = """
title: A pump draws little
system: dc
level: error
judges: pump
passes: pump.power <= limits.most
finding: "{{ pump.name }} draws {{ pump.power | watts }}"
remedy: "Fit one of {{ limits.most | watts }}."
limits: {most: {any: 50 W}}
sources: [{how: physics}]
"""
LOOK = """
title: Somebody has looked at the pump
system: dc
level: error
judges: pump
decides: plumber
finding: nobody looked at {{ pump.name }}
asks: Look at {{ pump.name }}.
covers: [power]
sources: [{how: physics}]
"""
BOTH = (
    LOOK.replace("decides:", "passes: pump.power <= 50\ndecides:")
    .replace("<= 50", "<= limits.most")
    .replace("covers:", "limits: {most: {any: 50 W}}\ncovers:")
)
WHOLE = "title: It has a name\nsystem: dc\nlevel: note\njudges: build\npasses: build.title != 'Van'\nfinding: It is {{ build.title }}\nsources: [{how: physics}]\n"

VAN = """
format: 1
build: van
title: Van
stage: STAGE
jurisdictions: [WHERE]
as_of: 2026-05-01
components: {water-pump: {kind: pump, supply_voltage: 12 V, power: POWER}, box: {kind: fuse-box, ways: {pump: {fuse: 10 A}}}}
runs: {feed: {medium: dc, from: box/pump, to: water-pump, return: same cable, length: 1 m, protection: [{fuse: 5 A}]}}
"""


def rule(head: str, **more: str) -> Rule:
    """A rule of that head, with lines added or put in the place of those there."""
    lines = [line for line in head.strip().splitlines() if line.partition(":")[0] not in more]
    text = "\n".join(["---", *lines, *(f"{key}: {value}" for key, value in more.items() if value), "---", ""])
    found, problems = load_rule(text, "dc/rule", "rules/dc/rule.md")
    assert found is not None, [problem.text() for problem in problems]
    return found


def facts(more: str = "", power: str = "60 W", stage: str = "enquiry", where: str = "uk") -> Facts:
    """The facts of the van with lines added."""
    text = VAN.replace("POWER", power).replace("STAGE", stage).replace("WHERE", where) + more
    tree, problems = read_yaml(text.encode(), "spec.yaml")
    assert isinstance(tree, Mapping) and not problems, problems
    build, found = read_build(tree)
    assert build is not None and not found, [problem.text() for problem in found]
    return Facts(build)


def only(one: Rule, of: Facts, stage: Stage | None = None) -> Result:
    """The one result of a rule."""
    (result,) = judge(Pack((one,)), of, stage)
    return result


def told(result: Result) -> tuple[str, str, str]:
    """The answer in a word, why, and the sentence."""
    return result.answer.value, result.reason, result.message


def test_a_failure_is_told_with_its_figures_and_its_place() -> None:
    """Which rule, which thing, where it is written, what was read, what to do."""
    result = only(rule(PUMP), facts())
    assert told(result) == ("fail", "", "water pump draws 60 W")
    assert (result.rule, result.title, result.system, result.level) == (
        "dc/rule", "A pump draws little", "dc", Level.error
    )  # fmt: skip
    assert (result.subject, result.subject_name, result.remedy) == (
        "water-pump",
        "water pump",
        "Fit one of 50 W.",
    )
    assert (result.place.file, result.place.line) == ("spec.yaml", 8)
    assert (result.case, result.jurisdiction) == (None, "uk")
    assert [(one.name, one.value) for one in result.evidence] == [("water-pump.power", 60.0)]
    assert result.failed and result.stops and not result.waiting


def test_a_pass_says_nothing_but_its_figures() -> None:
    """A result that passes has no sentence, and its evidence all the same."""
    result = only(rule(PUMP), facts(power="50 W"))
    assert told(result) == ("pass", "", "")
    assert [one.value for one in result.evidence] == [50.0]
    assert not (result.failed or result.stops or result.waiting or result.remedy)


def test_what_applies_reads_is_no_evidence() -> None:
    """The figures behind a judgement are those that it compares."""
    result = only(
        rule(PUMP, applies="pump.supply_voltage > limits.low", limits="{most: {any: 50 W}, low: {any: 1 V}}"),
        facts(),
    )
    assert [one.name for one in result.evidence] == ["water-pump.power"]


def test_a_rule_without_an_own_finding_says_its_title() -> None:
    """An empty sentence is none."""
    result = only(rule(WHOLE), facts())
    assert told(result) == ("fail", "", "It is Van")
    assert (result.subject, result.subject_name, result.remedy) == ("", "Van", "")
    assert (result.place.line, result.jurisdiction) == (2, None)
    assert result.failed and not result.stops


@pytest.mark.parametrize(
    ("stage", "asked", "answer"),
    [("enquiry", None, "open"), ("design", None, "fail"), ("enquiry", Stage.design, "fail"), ("ordered", None, "fail"),
     ("in-service", Stage.enquiry, "open")],
)  # fmt: skip
def test_missing_data_fails_from_a_stage_on(stage: str, asked: Stage | None, answer: str) -> None:
    """Before that stage it is open; the stage that is asked for counts before the van's own."""
    result = only(rule(PUMP, open_from="design"), facts(power="~", stage=stage), asked)
    reason = "missing" if answer == "fail" else ""
    assert told(result) == (answer, reason, "cannot be decided: `water-pump.power` is not stated")
    assert (result.missing, result.remedy) == (("water-pump.power",), "State `water-pump.power`.")
    assert result.waiting is (answer == "open")
    assert result.stops is (answer == "fail")


def test_why_nothing_can_be_said() -> None:
    """Where no field is missing, the reason is told, and nothing is to be stated."""
    result = only(rule(PUMP, passes="pump.power / (pump.power - pump.power) > 1"), facts())
    assert result.answer is Answer.open
    assert result.message.startswith("cannot be decided: divides by zero")
    assert "stated" not in result.message
    assert (result.missing, result.remedy) == ((), "")


def test_the_first_field_that_is_missing_is_named() -> None:
    """In the order of the condition."""
    result = only(rule(PUMP, judges="build", passes="build.vehicle.wheelbase > build.vehicle.track",
                       finding="no", remedy="", limits=""), facts())  # fmt: skip
    assert result.message == "cannot be decided: `vehicle.wheelbase` is not stated"


def test_what_a_rule_is_not_about() -> None:
    """Nothing of the kind, nothing that applies, or another country: each with its reason, once."""
    none = only(
        rule(
            PUMP,
            judges="solar-panel",
            passes="solar_panel.peak_power <= limits.most",
            finding="no",
            remedy="",
        ),
        facts(),
    )
    assert told(none) == ("notApplicable", "the spec has no solar panel", "")
    other = only(rule(PUMP, applies="pump.power > limits.most", passes="pump.power > 0"), facts(power="40 W"))
    assert told(other) == ("notApplicable", "no pump here is one that it is about", "")
    abroad = only(rule(PUMP, jurisdictions="[us, ca]"), facts())
    assert told(abroad) == ("notApplicable", "it holds in US, CA", "")
    assert (abroad.subject, abroad.subject_name, abroad.system) == ("", "Van", "dc")
    assert (abroad.level, abroad.title, abroad.place.file) == (
        Level.error,
        "A pump draws little",
        "spec.yaml",
    )


@pytest.mark.parametrize(
    ("where", "only_in", "limits", "expected"),
    [
        ("uk", "", "{any: 50 W}", [("uk", "fail")]),
        ("uk, us", "", "{any: 50 W}", [("uk", "fail")]),
        ("uk, us", "", "{any: 50 W, us: 70 W}", [("uk", "fail"), ("us", "pass")]),
        ("uk, us, ca", "", "{any: 50 W, us: 70 W, ca: 70 W}", [("uk", "fail"), ("us", "pass")]),
        ("uk, us", "[us]", "{any: 50 W, us: 70 W}", [("us", "pass")]),
        ("us", "[us, ca]", "{us: 70 W, ca: 50 W}", [("us", "pass")]),
    ],
)
def test_each_limit_that_differs_is_judged_once(
    where: str, only_in: str, limits: str, expected: list[tuple[str, str]]
) -> None:
    """Of several countries with one limit the first is named."""
    one = rule(PUMP, limits=f"{{most: {limits}}}", jurisdictions=only_in)
    found = judge(Pack((one,)), facts(where=where))
    assert [(result.jurisdiction, result.answer.value) for result in found] == expected


def test_the_jurisdiction_of_a_rule_without_limits() -> None:
    """It is named where the rule holds in some only."""
    named = rule(WHOLE, jurisdictions="[uk]")
    assert only(named, facts()).jurisdiction == "uk"


def test_a_sentence_can_name_the_country() -> None:
    """Where all countries are judged alike, it is the first."""
    for where in ("uk", "uk, us"):
        result = only(rule(WHOLE, finding="'{{ build.title }} in {{ jurisdiction }}'"), facts(where=where))
        assert (result.message, result.jurisdiction) == ("Van in uk", None)


@pytest.mark.parametrize("where", ["us, uk, ca", "uk, ca, us"])
@pytest.mark.parametrize(
    ("conditions", "expected"),
    [
        ({"passes": "jurisdiction == 'us'"}, {"us": "pass", "uk": "fail", "ca": "fail"}),
        ({"applies": "jurisdiction == 'us'"}, {"us": "fail"}),
        ({"applies": "jurisdiction == 'us'", "jurisdictions": "[us, ca]"}, {"us": "fail"}),
        ({"passes": "jurisdiction == 'us'", "jurisdictions": "[us, ca]"}, {"us": "pass", "ca": "fail"}),
    ],
)
def test_a_condition_that_asks_for_the_country_is_judged_in_each(
    where: str, conditions: dict[str, str], expected: dict[str, str]
) -> None:
    """Wherever it stands in the van's list: what one country asks for must not be left out for another."""
    found = judge(Pack((rule(WHOLE, **conditions),)), facts(where=where))
    assert {result.jurisdiction: result.answer.value for result in found} == expected
    assert len(found) == len(expected)


def test_each_country_asks_for_itself() -> None:
    """Where limits differ, the condition knows in which country it is judged."""
    one = rule(PUMP, passes="jurisdiction == 'us'", limits="{most: {any: 50 W, us: 70 W}}")
    found = judge(Pack((one,)), facts(where="uk, us"))
    assert [(result.jurisdiction, result.answer.value) for result in found] == [
        ("uk", "fail"),
        ("us", "pass"),
    ]


def test_each_case_of_an_axis_is_judged() -> None:
    """A rule by mode has a result for each, with its name."""
    one = rule(WHOLE, cases="mode", passes="case == 'day'", finding="'{{ case }}'")
    found = judge(Pack((one,)), facts("modes: {day: {}, night: {}}\n"))
    assert [(result.case, result.answer.value, result.message) for result in found] == [
        ("day", "pass", ""), ("night", "fail", "night")
    ]  # fmt: skip


def test_devices_are_named_and_placed_where_they_are_written() -> None:
    """A device of a way, and one on a run."""
    one = rule(PUMP, judges="device", passes="device.rated_current < limits.most", finding="no", remedy="",
               limits="{most: {any: 1 A}}")  # fmt: skip
    found = {result.subject: result for result in judge(Pack((one,)), facts())}
    assert set(found) == {"box/pump", "feed/1"}
    assert found["box/pump"].place.line == 8
    assert found["box/pump"].place.column > 90
    assert found["feed/1"].place.line == 9
    assert found["feed/1"].place.column > 90


def test_a_component_is_placed_at_its_name() -> None:
    """Where its entry begins, not what stands in it."""
    result = only(rule(PUMP), bare("components:\n  pump:\n    kind: pump\n    power: 60 W"))
    assert (result.place.line, result.place.column) == (7, 3)


def test_a_device_of_a_holder_is_placed_in_it() -> None:
    """It shares the holder's name; its place is that of `device:`."""
    one = rule(
        PUMP, judges="device", passes="device.rated_current < limits.most", finding="no", remedy="",
        limits="{most: {any: 1 A}}",
    )  # fmt: skip
    result = only(one, bare("components:\n  holder:\n    kind: fuse-holder\n    device: {fuse: 5 A}"))
    assert (result.subject, result.subject_name, result.place.line) == ("holder", "holder", 9)


def test_where_else_a_thing_came_from() -> None:
    """A part or an assembly below the entry is told, for a device that of its box; the van itself has none."""
    part, _ = read_yaml(b"components: {water-pump: {power: 60 W}, box: {label: Box}}", "part.yaml")
    own, _ = read_yaml(
        VAN.replace("POWER", "60 W").replace("STAGE", "design").replace("WHERE", "uk").encode(), "spec.yaml"
    )
    assert part is not None and own is not None
    laid = merge(part, own)
    assert isinstance(laid, Mapping)
    build, _ = read_build(laid)
    assert build is not None
    of = Facts(build)
    device = rule(
        PUMP, judges="device", applies="device.id == 'box/pump'", passes="device.rated_current < limits.most",
        finding="no", remedy="", limits="{most: {any: 1 A}}",
    )  # fmt: skip
    for one in (rule(PUMP), device):
        assert [place.file for place in only(one, of).origin] == ["part.yaml"]
        assert only(one, of).place.file == "spec.yaml"
    assert only(rule(WHOLE), of).origin == ()


def mark(one: Rule, power: str = "40 W") -> str:
    """The fingerprint of what a sign-off covers."""
    return only(one, facts(power=power)).fingerprint


def signed(mark: str, **more: str) -> str:
    """The record of a sign-off."""
    fields = {
        "matter": "dc/rule",
        "target": "water-pump",
        "by": "plumber",
        "covers": mark,
        "date": "2026-04-01",
    }
    said = ", ".join(f"{key}: '{value}'" for key, value in (fields | more).items() if value)
    return f"{{{said}}}"


def records(*sign_offs: str) -> str:
    """The records of a van."""
    return f"records: {{sign_offs: [{', '.join(sign_offs)}]}}\n"


@pytest.mark.parametrize("head", [LOOK, BOTH])
def test_an_unsigned_matter_waits_and_then_fails(head: str) -> None:
    """It says who is asked, what to record, and is a failure from its stage on."""
    one = rule(head)
    result = only(one, facts(power="40 W"))
    assert told(result) == ("review", "", "Look at water pump.")
    assert result.decides == "plumber"
    assert len(result.fingerprint) == 8
    assert result.remedy == (
        f"Have it looked at by a plumber; record the sign-off with `covers: {result.fingerprint}`."
    )
    assert result.waiting and not result.failed
    late = only(one, facts(power="40 W", stage="hand-over"))
    assert told(late) == ("fail", "not signed", "Look at water pump.")
    assert late.stops and late.decides == "plumber" and late.remedy == result.remedy
    assert only(rule(head, signed_from="design"), facts(power="40 W", stage="design")).answer is Answer.fails


def test_what_a_person_decides_can_fail_without_one() -> None:
    """Where the spec itself shows the fault nobody is asked."""
    result = only(rule(BOTH), facts(power="60 W"))
    assert told(result) == ("fail", "", "nobody looked at water pump")
    assert only(rule(BOTH), facts(power="~")).answer is Answer.open


def test_what_is_asked_without_words_of_its_own() -> None:
    """Then it is the finding."""
    assert only(rule(LOOK, asks=""), facts()).message == "nobody looked at water pump"


@pytest.mark.parametrize(
    ("change", "answer", "reason"),
    [
        ({}, "review", ""),
        ({"expires_on": "2026-05-01"}, "review", ""),
        ({"expires_on": "2026-04-30"}, "fail", "the sign-off has expired"),
        ({"covers": ""}, "fail", "the sign-off does not say what it covers"),
        ({"covers": "00000000"}, "fail", "changed since it was signed"),
        ({"matter": "dc/another"}, "fail", "not signed"),
        ({"target": ""}, "fail", "not signed"),
        ({"target": "box"}, "fail", "not signed"),
        ({"result": "refused"}, "fail", "refused"),
    ],
)
def test_a_sign_off_at_hand_over(change: dict[str, str], answer: str, reason: str) -> None:
    """It answers while it holds for this very thing as it is."""
    one = rule(LOOK)
    text = records(signed(mark(one), **change))
    result = only(one, facts(text, power="40 W", stage="hand-over"))
    assert (result.answer.value, result.reason) == (answer, reason)
    if answer == "review":
        assert (result.message, result.remedy) == ("Look at water pump.", "")
        assert result.sign_off is not None and result.sign_off.by == "plumber"
        assert not result.waiting
    elif reason == "refused":
        assert result.message == "refused by plumber: Look at water pump."
    elif reason != "not signed":
        assert result.message == f"Look at water pump. ({reason})"
        assert result.sign_off is None
    early = only(one, facts(text, power="40 W"))
    assert early.reason == ("" if reason == "not signed" else reason)
    assert early.answer is (Answer.fails if reason == "refused" else Answer.review)


def test_who_refused_need_not_be_named() -> None:
    """Then it is the person who looked."""
    one = rule(LOOK)
    result = only(one, facts(records(signed(mark(one), result="refused", by="")), power="40 W"))
    assert result.message == "refused by the person who looked: Look at water pump."
    assert (result.decides, result.fingerprint) == ("plumber", mark(one))


def test_the_latest_sign_off_counts() -> None:
    """By its date, wherever it stands; one without a date is the oldest."""
    one = rule(LOOK)
    accepted, refused = signed(mark(one), date="2026-04-02"), signed(mark(one), result="refused")
    undated = signed(mark(one), result="refused", date="")
    for text in ((accepted, refused), (refused, accepted), (accepted, undated), (undated, accepted)):
        assert only(one, facts(records(*text), power="40 W")).answer is Answer.review
    later = signed(mark(one), result="refused", date="2026-04-03")
    assert only(one, facts(records(accepted, later), power="40 W")).answer is Answer.fails


def test_an_earlier_name_of_a_rule_counts() -> None:
    """For sign-offs and for concessions."""
    one = rule(LOOK, formerly="[dc/look]")
    text = records(signed(mark(one), matter="dc/look"))
    assert only(one, facts(text, power="40 W", stage="hand-over")).answer is Answer.review
    given = concession(rule="dc/pump")
    assert only(rule(PUMP, formerly="[dc/pump]"), facts(given)).concession is not None


def test_an_expiry_without_a_day_to_judge_by() -> None:
    """Nothing says that it still holds."""
    one = rule(LOOK)
    of = facts(records(signed(mark(one), expires_on="2030-01-01")), power="40 W")
    undated = Facts(
        of.build.__class__(
            **(vars(of.build) | {"header": of.build.header.model_copy(update={"as_of": None})})
        )
    )
    result = only(one, undated)
    assert result.reason == "the sign-off has an expiry, and no date is given to judge it by"


@pytest.mark.parametrize(
    ("covers", "power", "length", "same"),
    [
        ("[power]", "41 W", "1 m", False),
        ("[supply_voltage]", "41 W", "1 m", True),
        ("[]", "41 W", "1 m", False),
        ("['system:dc']", "41 W", "1 m", False),
        ("['system:dc']", "40 W", "2 m", False),
        ("['system:gas']", "40 W", "2 m", True),
        ("['system:gas', power]", "41 W", "1 m", False),
        ("[]", "40 W", "2 m", True),
    ],
)
def test_what_a_sign_off_covers(covers: str, power: str, length: str, same: bool) -> None:
    """Fields of the thing, the whole thing, or whole systems beside it."""
    one = rule(LOOK, covers=covers)
    before = only(one, facts(power="40 W"))
    after = facts(power=power) if length == "1 m" else longer(length)
    assert (only(one, after).fingerprint == before.fingerprint) is same


WHOLE_LOOK = (
    LOOK.replace("judges: pump", "judges: build")
    .replace("{{ pump.name }}", "the van")
    .replace("[power]", "[]")
)
GAS_LOOK = LOOK.replace("judges: pump", "judges: gas-cylinder").replace("{{ pump.name }}", "it")
GAS = "components: {cylinder: {kind: gas-cylinder, gas: propane}, other: {kind: gas-cylinder, content: 6 kg}}"


@pytest.mark.parametrize(
    ("covers", "before", "after", "same"),
    [
        ("[]", "vehicle: {wheelbase: 3 m}", "vehicle: {wheelbase: 4 m}", False),
        (
            "[]",
            "components: {pump: {kind: pump, power: 1 W}}",
            "components: {pump: {kind: pump, power: 2 W}}",
            True,
        ),
        ("['system:water']", "vehicle: {wheelbase: 3 m}", "vehicle: {wheelbase: 4 m}", True),
        (
            "['system:water']",
            "components: {pump: {kind: pump, power: 1 W}}",
            "components: {pump: {kind: pump, power: 2 W}}",
            False,
        ),
    ],
)
def test_what_a_sign_off_of_the_whole_van_covers(covers: str, before: str, after: str, same: bool) -> None:
    """The vehicle, unless systems are named: then what is of them."""
    one = rule(WHOLE_LOOK, covers=covers)
    marks = [only(one, bare(text)).fingerprint for text in (before, after)]
    assert (marks[0] == marks[1]) is same


def test_the_whole_van_is_signed_without_a_target() -> None:
    """The record of a matter of the whole names no thing."""
    one = rule(WHOLE_LOOK)
    covers = only(one, bare("vehicle: {wheelbase: 3 m}")).fingerprint
    of = bare("vehicle: {wheelbase: 3 m}\n" + records(signed(covers, target="")))
    assert only(one, of).sign_off is not None


def test_a_field_with_the_name_of_a_system_is_a_field() -> None:
    """`gas` of a cylinder is what is in it; the system is said as `system:gas`."""
    one = rule(GAS_LOOK, covers="[gas]")
    marks = [judge(Pack((one,)), bare(text))[0].fingerprint for text in (GAS, GAS.replace("6 kg", "11 kg"))]
    assert marks[0] == marks[1]


def test_the_mark_of_a_run() -> None:
    """A run is signed like a component."""
    head = (
        LOOK.replace("judges: pump", "judges: dc-run")
        .replace("{{ pump.name }}", "it")
        .replace("[power]", "[]")
    )
    one = rule(head)
    marks = {only(one, longer(length)).fingerprint for length in ("1 m", "2 m")}
    assert len(marks) == 2


def longer(length: str) -> Facts:
    """The van with its cable of another length."""
    text = VAN.replace("POWER", "40 W").replace("STAGE", "enquiry").replace("WHERE", "uk")
    tree, _ = read_yaml(text.replace("length: 1 m", f"length: {length}").encode(), "spec.yaml")
    assert isinstance(tree, Mapping)
    build, _ = read_build(tree)
    assert build is not None
    return Facts(build)


def test_a_mark_stays_the_same() -> None:
    """In every order of a spec and every release: a recorded sign-off must not go stale by itself."""
    one = rule(WHOLE_LOOK, covers="['system:water']")
    pumps = ["a: {kind: pump, power: 1 W, fastening: zwei Bügel}", "b: {power: 2 W, fixed_to: a, kind: pump}"]
    there, back = (bare(f"components: {{{', '.join(order)}}}") for order in (pumps, pumps[::-1]))
    assert only(one, there).fingerprint == only(one, back).fingerprint == "20642054"
    thing = there.build.components["a"]
    assert mark_of({"a": thing}) == "5b9713c4"
    assert mark_of({"a": thing}, ("power",)) == "17c0642d"


def bare(text: str) -> Facts:
    """A van with nothing but its head and this."""
    tree, _ = read_yaml(
        f"format: 1\nbuild: van\ntitle: Van\nstage: enquiry\njurisdictions: [uk]\n{text}\n".encode(),
        "spec.yaml",
    )
    assert isinstance(tree, Mapping)
    build, problems = read_build(tree)
    assert build is not None and not problems, [problem.text() for problem in problems]
    return Facts(build)


def test_what_is_beside_the_point_reopens_nothing() -> None:
    """A price or a note is not what was signed; unless a rule names it."""
    plain, priced = facts(power="40 W"), facts(power="40 W, note: From the shelf")
    one = rule(LOOK, covers="[]")
    assert only(one, plain).fingerprint == only(one, priced).fingerprint
    naming = rule(LOOK, covers="[note]")
    assert only(naming, plain).fingerprint != only(naming, priced).fingerprint


def concession(**change: str) -> str:
    """A concession of the head of a spec."""
    fields = {"rule": "dc/rule", "target": "water-pump", "reason": "on order", "granted_by": "lead"} | change
    said = ", ".join(f"{key}: {value}" for key, value in fields.items() if value)
    return f"concessions: [{{{said}}}]\n"


@pytest.mark.parametrize(
    ("whose", "change", "counts"),
    [
        ("workshop", {}, True),
        ("workshop", {"until": "2026-05-01"}, True),
        ("workshop", {"until": "2026-04-30"}, False),
        ("workshop", {"target": ""}, False),
        ("workshop", {"target": "box"}, False),
        ("workshop", {"rule": "dc/another"}, False),
        ("outside competent person", {}, False),
        ("outside competent person", {"outside": "true"}, True),
        ("outside competent person", {"outside": "true", "until": "2026-04-30"}, False),
        ("never", {}, False),
        ("never", {"outside": "true"}, False),
    ],
)
@pytest.mark.parametrize("head", [PUMP, LOOK])
def test_whose_concession_counts(head: str, whose: str, change: dict[str, str], counts: bool) -> None:
    """Beside a failure stands the concession of whoever may give it, while it holds."""
    one = rule(head, concession=whose)
    result = only(one, facts(concession(**change), stage="hand-over"))
    assert result.answer is Answer.fails
    assert (result.concession is not None) is counts
    assert result.stops is not counts


def test_a_concession_for_missing_data_and_none_for_a_refusal() -> None:
    """What is missing late can be conceded; nobody concedes what a person refused."""
    late = only(rule(PUMP), facts(concession(), power="~", stage="hand-over"))
    assert late.concession is not None and not late.failed
    early = only(rule(PUMP), facts(concession(), power="~"))
    assert early.concession is None
    assert only(rule(LOOK), facts(concession(), power="40 W")).concession is None
    one = rule(LOOK)
    refused = records(signed(mark(one), result="refused"))
    assert only(one, facts(concession() + refused, power="40 W", stage="hand-over")).failed


def test_a_concession_with_an_end_and_no_day_to_judge_by() -> None:
    """Nothing says that it still holds."""
    of = facts(concession(until="2030-01-01"))
    undated = Facts(
        of.build.__class__(
            **(vars(of.build) | {"header": of.build.header.model_copy(update={"as_of": None})})
        )
    )
    assert only(rule(PUMP), undated).concession is None
    assert only(rule(PUMP), Facts(undated.build, date(2026, 5, 1))).concession is not None


def test_a_concession_for_the_whole_van_names_no_thing() -> None:
    """What is judged of the whole is conceded without a target."""
    assert only(rule(WHOLE), facts(concession(target=""))).concession is not None


def test_the_first_concession_that_counts_is_shown() -> None:
    """One that has ended does not hide the next."""
    first, second = (concession(**c)[14:-2] for c in ({"until": "2026-01-01"}, {"reason": "later"}))
    result = only(rule(PUMP), facts(f"concessions: [{first}, {second}]\n"))
    assert result.concession is not None and result.concession.reason == "later"


def test_results_are_in_the_order_of_the_pack() -> None:
    """Rule by rule; and the van is told which of them a person answers, by every name."""
    of = facts()
    found = judge(Pack((rule(PUMP), rule(LOOK, formerly="[dc/look]"))), of)
    assert [result.title for result in found] == ["A pump draws little", "Somebody has looked at the pump"]
    assert of.matters == {"dc/rule": True, "dc/look": True}


def tried(one: Rule, of: Facts, stage: Stage | None = None) -> list[Attempt]:
    """All attempts of a rule."""
    return list(attempts(one, of, stage))


def test_an_attempt_shows_what_was_read() -> None:
    """What `applies:` read, and the result; none where the rule is not about it."""
    one = rule(
        PUMP, applies="pump.supply_voltage > limits.low", limits="{most: {any: 50 W}, low: {any: 24 V}}"
    )
    (attempt,) = tried(one, facts())
    assert (attempt.target, attempt.case, attempt.jurisdiction, attempt.result) == (
        "water-pump",
        None,
        "uk",
        None,
    )
    assert [(read.name, read.value) for read in attempt.about] == [("water-pump.supply_voltage", 12.0)]
    (other,) = tried(rule(PUMP), facts())
    assert other.about == ()
    assert other.result is not None and other.result.answer is Answer.fails
    assert tried(rule(PUMP, jurisdictions="[us]"), facts()) == []
    assert len(tried(rule(PUMP, jurisdictions="[uk]"), facts())) == 1


def test_an_attempt_at_a_stage() -> None:
    """What is missing is a failure at the stage that is asked for; what `applies:` misses is no crash."""
    one = rule(PUMP, applies="pump.power > limits.most", passes="pump.power > 0", open_from="design")
    for stage, answer in ((None, Answer.open), (Stage.design, Answer.fails)):
        (attempt,) = tried(one, facts(power="~"), stage)
        assert attempt.result is not None and attempt.result.answer is answer
        assert attempt.about == ()
