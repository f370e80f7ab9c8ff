"""A seat's anchorage is a professional's job: without the word of one the question stands, and stops hand-over."""

from datetime import date

import pytest
from opening import answers, source

from specreg.model.build import Stage
from specreg.rules.result import Answer, Result
from specreg.source import Entry, Mapping, Node, Sequence, at, plain, scalar

RULE = "seating/anchorage-is-a-professionals-job"


def tree_of(demo: str) -> Mapping:
    tree = source(demo).tree
    assert tree is not None
    return tree


def signed_seats() -> list[tuple[str, str]]:
    """Every seat of the demos whose anchorage somebody signed."""
    found = []
    for demo in ("fieldwork", "winter-tourer"):
        for record in plain(tree_of(demo))["records"]["sign_offs"]:
            if record["matter"] == RULE:
                found.append((demo, record["target"]))
    return found


SEATS = signed_seats()


def put(node: Node, path: tuple[str | int, ...], new: Node) -> Node:
    """The tree with another node at a path."""
    if not path:
        return new
    if isinstance(node, Mapping):
        entries = dict(node.entries)
        old = entries[str(path[0])]
        entries[str(path[0])] = Entry(old.key_place, put(old.node, path[1:], new))
        return Mapping(entries, node.place, node.origin)
    assert isinstance(node, Sequence)
    items = [put(item, path[1:], new) if n == path[0] else item for n, item in enumerate(node.items)]
    return Sequence(items, node.place, node.origin)


def unsigned(demo: str, seat: str) -> Mapping:
    """The demo without the sign-offs of one seat."""
    tree = tree_of(demo)
    listed = at(tree, ("records", "sign_offs"))
    assert isinstance(listed, Sequence)
    kept = [item for item in listed.items if plain(item).get("target") != seat]
    found = put(tree, ("records", "sign_offs"), Sequence(kept, listed.place))
    assert isinstance(found, Mapping)
    return found


def moved(demo: str, seat: str) -> Mapping:
    """The demo with one seat fitted 20 mm further back than it was signed."""
    tree = tree_of(demo)
    back = at(tree, ("components", seat, "at", 0))
    assert back is not None
    made = plain(tree)["components"][seat]["at"][0]
    number, unit = made.split(" ", 1)
    further = f"{float(number) + (20 if unit == 'mm' else 1):g} {unit}"
    found = put(tree, ("components", seat, "at", 0), scalar(further, back.place))
    assert isinstance(found, Mapping)
    return found


def answer(tree: Mapping, seat: str, stage: Stage | None = None) -> Result:
    found = [r for r in answers(tree, ("seating",), stage) if r.rule == RULE and r.subject == seat]
    assert len(found) == 1
    return found[0]


def test_both_demos_have_signed_seats() -> None:
    """The bench of one van, and the two single seats of the other."""
    assert len(SEATS) == len(set(SEATS)) >= 3


@pytest.mark.parametrize(("demo", "seat"), SEATS)
def test_a_signed_seat_is_answered_and_does_not_pass(demo: str, seat: str) -> None:
    """It stays for review, with who answered and when."""
    found = answer(tree_of(demo), seat, Stage.hand_over)
    assert found.answer is Answer.review
    assert found.sign_off is not None
    assert found.sign_off.by
    assert isinstance(found.sign_off.date, date)


@pytest.mark.parametrize(("demo", "seat"), SEATS)
@pytest.mark.parametrize("change", [unsigned, moved], ids=["sign-off taken away", "moved after its sign-off"])
def test_without_a_word_that_holds_it_is_for_review_and_stops_hand_over(
    demo: str, seat: str, change: object
) -> None:
    """At its own stage the question is open to a professional; `--for hand-over` fails at level error."""
    tree = change(demo, seat)  # type: ignore[operator]
    now = answer(tree, seat)
    assert now.answer is Answer.review
    assert now.sign_off is None
    later = answer(tree, seat, Stage.hand_over)
    assert later.answer is Answer.fails
    assert later.stops
    assert later.reason in ("not signed", "changed since it was signed")
    assert later.place.file.startswith(f"builds/{demo}/")
