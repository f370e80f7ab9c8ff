"""Whether a seat holds is a professional's word: it answers, and goes stale with the seat."""

from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.build import Stage
from specreg.model.read import read_build
from specreg.rules.judge import judge
from specreg.rules.pack import pack_of
from specreg.rules.result import Answer, Result
from specreg.source import Mapping, merge, read_yaml

RULES = Path(__file__).parents[2] / "rules"
SEAT = "seating/anchorage-is-a-professionals-job"
JOINT = "seating/anchorages-as-signed"


def judged(*over: str, stage: Stage | None = None) -> dict[tuple[str, str], Result]:
    """The answers of both rules by rule and target, on the seating base with fragments laid over it."""
    texts = [
        (RULES / "base.yaml").read_text("utf-8"),
        (RULES / "seating" / "base.yaml").read_text("utf-8"),
        *over,
    ]
    tree = None
    for text in texts:
        node, problems = read_yaml(text.encode(), "spec.yaml")
        assert node is not None and not problems
        tree = node if tree is None else merge(tree, node)
    assert isinstance(tree, Mapping)
    build, found = read_build(tree)
    assert build is not None and not found, [problem.text() for problem in found]
    chosen = {f"{name}.md": (RULES / f"{name}.md").read_text("utf-8") for name in (SEAT, JOINT)}
    pack, wrong = pack_of(chosen, "rules")
    assert not wrong
    return {(result.rule, result.subject): result for result in judge(pack, Facts(build), stage)}


def signed(result: str = "accepted") -> str:
    """A sign-off of the bench as it stands in the base."""
    mark = judged()[SEAT, "rear-bench"].fingerprint
    return (
        f"records: {{sign_offs: [{{matter: {SEAT}, target: rear-bench, by: registered seat installer, "
        f"result: {result}, date: 2026-04-11, covers: '{mark}'}}]}}"
    )


def test_it_asks_for_each_seat_and_each_anchorage_and_never_passes() -> None:
    """One target per bench that was fitted; the driver's seat is the vehicle maker's."""
    answers = {key: result.answer for key, result in judged().items()}
    assert answers == {(SEAT, "rear-bench"): Answer.review, (JOINT, "bench-bolts"): Answer.review}


def test_a_sign_off_answers_and_does_not_pass() -> None:
    """It stays a review, with the name of who answered, even at hand-over."""
    result = judged(signed(), stage=Stage.hand_over)[SEAT, "rear-bench"]
    assert result.answer is Answer.review
    assert result.sign_off is not None


@pytest.mark.parametrize(
    "change",
    [
        "at: [2001 mm, -0.9 m, 0 m]",
        "belts: [lap, lap]",
        "places: 2, belts_anchored_on: body",
        "fixed_to: bench-bolts",
        "test_report: report 0001",
        "faces: rearward",
    ],
)
def test_a_change_reopens_it(change: str) -> None:
    """A seat that is moved, belted or proved otherwise after its sign-off is to be looked at again."""
    over = f"components: {{rear-bench: {{{change}}}}}"
    result = judged(signed(), over)[SEAT, "rear-bench"]
    assert (result.answer, result.reason) == (Answer.review, "changed since it was signed")
    late = judged(signed(), over, stage=Stage.hand_over)[SEAT, "rear-bench"]
    assert late.answer is Answer.fails


def test_a_new_title_reopens_nothing() -> None:
    """What the seat is called does not hold it."""
    over = "components: {rear-bench: {title: Bench, price: 900 GBP}}"
    assert judged(signed(), over)[SEAT, "rear-bench"].sign_off is not None


def test_a_changed_bolt_reopens_the_anchorage() -> None:
    """The anchorage bears a mark of its own."""
    before = judged()[JOINT, "bench-bolts"].fingerprint
    after = judged("components: {bench-bolts: {bolt_size: M8}}")[JOINT, "bench-bolts"].fingerprint
    assert before != after


def test_unsigned_or_refused_it_fails_at_hand_over_whatever_is_conceded() -> None:
    """No concession counts, from whomever."""
    concession = (
        f"concessions: [{{rule: {SEAT}, target: rear-bench, reason: in a hurry, granted_by: assessor, "
        "outside: true}]"
    )
    unsigned = judged(concession, stage=Stage.hand_over)[SEAT, "rear-bench"]
    assert (unsigned.answer, unsigned.concession) == (Answer.fails, None)
    refused = judged(signed("refused"))[SEAT, "rear-bench"]
    assert refused.answer is Answer.fails
