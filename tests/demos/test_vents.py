"""Take any one vent, flue or intake out of a demo van: the inspection says what then lacks air.

What must be said follows by hand from what each opening is for and, for the fixed vents of the room, from the
areas that EN 721 asks for as a TÜV leaflet quotes it (read in a secondary source).
"""

from functools import cache
from typing import Any

import pytest
from opening import answers, source

from specreg.rules.document import Level
from specreg.rules.result import Answer, Result
from specreg.source import Entry, Mapping, at, plain
from specreg.units import Dimension, parse

DEMOS = ("fieldwork", "winter-tourer")

OPENINGS = ("vent", "gas-drop-out", "flue-terminal", "air-intake", "roof-fan", "waste-vent")

MISSED: dict[tuple[str, str], set[tuple[str, str]]] = {
    ("fieldwork", "galley-drop-out"): {
        ("gas/drop-out-below-appliances", "hob"),
        ("gas/low-places-drain", ""),
    },
    ("fieldwork", "heater-intake"): {("heat/combustion-air-from-outside", "air-heater")},
    ("fieldwork", "heater-flue"): {("heat/flue-to-outside", "air-heater")},
    # without a way through, leaks alone carry off what people breathe out: water condenses even in a breeze
    ("fieldwork", "roof-vent"): {
        ("air/fixed-vents-high", ""),
        ("heat/room-air-fed-high-and-low", "hob"),
        ("air/sides-stay-dry", ""),
    },
    ("fieldwork", "floor-vent"): {
        ("air/fixed-vents-low", ""),
        ("heat/room-air-fed-high-and-low", "hob"),
        ("air/sides-stay-dry", ""),
    },
    # the fixed vents alone are enough for a flame, and catches for safety, not for comfort
    ("fieldwork", "roof-fan"): {("air/fresh-air-for-sleepers", "")},
    ("fieldwork", "grey-vent"): {("water/grey-tank-vented", "grey-tank")},
    ("fieldwork", "toilet-vent"): {("water/dry-toilet-vented", "toilet")},
    # without its own air the heater would burn the room's, and the vents of the room are too small for that
    ("winter-tourer", "heater-intake"): {
        ("heat/combustion-air-from-outside", "heater"),
        ("air/fixed-vents-high", ""),
    },
    ("winter-tourer", "heater-exhaust"): {("heat/flue-to-outside", "heater"), ("air/fixed-vents-high", "")},
    ("winter-tourer", "room-air"): set(),  # the heater then draws the room's air at its own grille
    ("winter-tourer", "roof-fan"): {
        ("air/carbon-dioxide-with-air-let-in", ""),
        ("air/fresh-air-for-sleepers", ""),
    },
    ("winter-tourer", "low-vent"): {("air/fixed-vents-low", ""), ("air/sides-stay-dry", "")},
    ("winter-tourer", "high-vent"): set(),  # the shut roof fan leaves enough open: see the sums below
    ("winter-tourer", "grey-vent"): {("water/grey-tank-vented", "grey-tank")},
    ("winter-tourer", "urine-vent"): {("water/soil-tank-vented-outside", "urine-tank")},
    ("winter-tourer", "toilet-vent"): {("water/dry-toilet-vented", "toilet")},
}
"""What each opening is missed by; an empty set where another one still serves."""

OF_THE_NIGHT = {
    "air/sides-stay-dry": Level.warning,
    "air/carbon-dioxide-with-air-let-in": Level.warning,
    "air/fresh-air-for-sleepers": Level.note,
}
"""What computed figures of a night say of a missing opening, under the level that their sources bear."""

ABOUT_AIR = ("air", "heat", "gas", "water")


def tree_of(demo: str) -> Mapping:
    tree = source(demo).tree
    assert tree is not None
    return tree


def section(tree: Mapping, name: str) -> Mapping:
    found = at(tree, (name,))
    assert isinstance(found, Mapping)
    return found


def without(tree: Mapping, gone: str) -> Mapping:
    """The tree without one component, the runs to it, and the sign-offs and notices that speak of it."""
    data = plain(tree)
    runs = {
        name
        for name, run in data["runs"].items()
        if gone in (run["from"].partition("/")[0], run["to"].partition("/")[0])
    }
    entries = dict(tree.entries)
    for name, left_out in (("components", {gone}), ("runs", runs)):
        listed = section(tree, name)
        kept = {key: entry for key, entry in listed.entries.items() if key not in left_out}
        entries[name] = Entry(entries[name].key_place, Mapping(kept, listed.place))
    records = section(tree, "records")
    kept = {key: entry for key, entry in records.entries.items() if key != "sign_offs"}
    entries["records"] = Entry(entries["records"].key_place, Mapping(kept, records.place))
    return Mapping(entries, tree.place)


def openings(demo: str) -> list[str]:
    found = plain(tree_of(demo))["components"]
    return [name for name, thing in found.items() if thing["kind"] in OPENINGS]


def failures(tree: Mapping) -> dict[tuple[str, str], Result]:
    """What fails of the rules about air, heat, gas and water."""
    found = answers(tree, ABOUT_AIR)
    return {(r.rule, r.subject): r for r in found if r.answer is Answer.fails and r.reason == ""}


@cache
def failures_before(demo: str) -> dict[tuple[str, str], Result]:
    return failures(tree_of(demo))


def test_the_table_names_every_opening() -> None:
    """Nobody adds a vent to a demo without saying what misses it."""
    assert {(demo, name) for demo in DEMOS for name in openings(demo)} == set(MISSED)


@pytest.mark.parametrize(("demo", "opening"), MISSED, ids=str)
def test_a_removed_opening_is_missed(demo: str, opening: str) -> None:
    """Just what depended on it fails, and what burns, or harms those who breathe, is at level error."""
    after = failures(without(tree_of(demo), opening))
    new = after.keys() - failures_before(demo).keys()
    assert new == MISSED[demo, opening]
    for rule, subject in new:
        harms = rule.startswith(("air/", "heat/")) or rule == "water/soil-tank-vented-outside"
        level = OF_THE_NIGHT.get(rule, Level.error if harms else Level.warning)
        assert after[rule, subject].level is level


# EN 721 by way of TÜV leaflet 740, up to 10 m² of floor: cm² in the roof, cm² low down
ASKED = {"open combustion, 5 to 10 m²": (100.0, 15.0), "no open combustion": (15.0, 5.0)}


def areas(demo: str, gone: str = "") -> tuple[float, float]:
    """The free areas that always stay open in the roof and low down, in cm², summed by hand."""
    things: dict[str, Any] = plain(tree_of(demo))["components"]
    roof = low = 0.0
    for name, thing in things.items():
        room = thing["kind"] == "vent" and "opens_into" not in thing and not thing.get("closable")
        if name == gone or not (room or thing["kind"] == "roof-fan"):
            continue
        stated = thing.get("free_area_closed", "0 cm²") if thing["kind"] == "roof-fan" else thing["free_area"]
        area = parse(stated, Dimension.area) * 1e4
        if thing["kind"] == "roof-fan" or thing["surface"] == "roof":
            roof += area
        elif thing["surface"] == "floor":
            low += area
    return roof, low


@pytest.mark.parametrize(
    ("demo", "asked"),
    [("fieldwork", "open combustion, 5 to 10 m²"), ("winter-tourer", "no open combustion")],
)
def test_the_sums_say_the_same(demo: str, asked: str) -> None:
    """With all vents the published areas are met; without one of them just where the table above says so."""
    interior = plain(tree_of(demo))["vehicle"]["interior"]
    floor = parse(interior["length"], Dimension.length) * parse(interior["width"], Dimension.length)
    assert 5 < floor < 10
    roof, low = ASKED[asked]
    assert areas(demo)[0] >= roof
    assert areas(demo)[1] >= low
    for name in openings(demo):
        short_high, short_low = areas(demo, name)[0] < roof, areas(demo, name)[1] < low
        missed = {rule for rule, _ in MISSED[demo, name]}
        if name not in ("heater-intake", "heater-exhaust"):  # those change what burns the room's air
            assert ("air/fixed-vents-high" in missed) == short_high
            assert ("air/fixed-vents-low" in missed) == short_low
