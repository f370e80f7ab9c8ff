"""Designations by IEC 81346 are stable: a law of `assign`, tried on spec histories of any kind."""

from types import SimpleNamespace
from typing import cast

from hypothesis import given
from hypothesis import strategies as st

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.designation import assign, perhaps_renamed
from specreg.model.loads import CabinFan, CeilingLight, UsbOutlet
from specreg.model.mains_device import MainsBoard

KINDS: tuple[Component, ...] = (
    CabinFan(kind="cabin-fan"),
    CeilingLight(kind="ceiling-light"),
    UsbOutlet(kind="usb-outlet"),
)
SPECS = st.lists(st.tuples(st.sampled_from("abcdefgh"), st.sampled_from(KINDS)), max_size=8).map(dict)
HISTORIES = st.lists(SPECS, min_size=1, max_size=6)
"""Specs one after the other: between two of them things are inserted, removed, renamed and reordered."""


def _build(spec: dict[str, Component], given_before: dict[str, str]) -> Build:
    return cast(
        Build, SimpleNamespace(components=spec, runs={}, designations=given_before, set_aside=frozenset())
    )


@given(HISTORIES)
def test_what_was_given_is_never_given_again_or_changed(history: list[dict[str, Component]]) -> None:
    """Nothing that has a label gets another; nothing new gets a number that was ever given."""
    kept: dict[str, str] = {}
    for spec in history:
        added = assign(_build(spec, dict(kept)))
        assert set(added) == set(spec) - set(kept)
        assert not set(added.values()) & set(kept.values())
        kept |= added
        assert len(set(kept.values())) == len(kept)


@given(SPECS)
def test_assigning_twice_adds_nothing(spec: dict[str, Component]) -> None:
    """What has all its labels gets none."""
    kept = assign(_build(spec, {}))
    assert assign(_build(spec, kept)) == {}


def test_the_main_device_of_a_board_has_one_too() -> None:
    """The board, its main breaker and the breaker of each way are told apart; an empty way has none."""
    board = MainsBoard.model_validate(
        {"kind": "mains-board", "main": {"breaker": "16 A"}, "ways": {"1": {"breaker": "6 A"}, "2": {}}}
    )
    assert assign(_build({"board": board}, {})) == {"board": "-F1", "board/main": "-F2", "board/1": "-F3"}


def test_a_removed_number_stays_retired() -> None:
    """A fan renamed after -M1 is labelled takes -M2; -M1 belongs to the old name for good."""
    assert assign(_build({"fan-aft": KINDS[0]}, {"fan": "-M1"})) == {"fan-aft": "-M2"}


def test_what_may_have_been_renamed_is_told() -> None:
    """A new fan where a fan is gone may be that one; a light is none, and nothing is asked without a loss."""
    fan, light = KINDS[0], KINDS[1]
    kept = {"fan": "-M1", "lamp": "-E1"}
    assert perhaps_renamed(_build({"fan-aft": fan, "lamp": light}, kept)) == {"fan-aft": ("fan",)}
    assert perhaps_renamed(_build({"fan": fan, "lamp": light, "fan-aft": fan}, kept)) == {}
