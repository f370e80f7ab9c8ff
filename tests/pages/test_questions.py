"""What owners ask: each question is answered where its thing is, by places that are there; else it is not asked."""

from __future__ import annotations

from functools import cache

import pytest
from published import REGISTER, parsed, register_site, section, text_of, van, van_of

from specreg import workshop
from specreg.model.field import Reader
from specreg.pages.answers import QUESTIONS
from specreg.pages.content import Caution, Figure, Listing, Page, Section, Unknown, Words
from specreg.pages.publish import pages_of

ASKED = {
    # the themes of owners' questions, each with the kinds of thing without which nobody asks it; () is for all
    "no-water": ("tap", "shower"),
    "pump-runs": ("pump",),
    "fill": ("fresh-tank",),
    "drink": ("fresh-tank",),
    "winterise": ("fresh-tank", "grey-tank", "water-heater"),
    "dump": ("grey-tank", "black-tank", "urine-tank", "cassette"),
    "no-hot-water": ("water-heater", "combined-heater"),
    "frost-valve": ("frost-valve",),
    "drain-smell": ("grey-tank", "drain-trap", "sink"),
    "leak": ("fresh-tank", "pump"),
    "which-fuse": ("fuse-box",),
    "all-dead": ("battery",),
    "how-full": ("battery",),
    "no-charge": ("shore-charger", "dc-charger", "split-relay", "solar-controller", "inverter-charger"),
    "kettle": ("socket",),
    "rcd": ("residual-current-device", "mains-board"),
    "hook-up-abroad": ("shore-inlet",),
    "inverter-night": ("inverter", "inverter-charger"),
    "jump-start": ("battery",),
    "battery-frost": ("battery",),
    "battery-store": ("battery",),
    "add": ("fuse-box",),
    "cylinder": ("gas-cylinder",),
    "gas-abroad": ("gas-cylinder", "gas-tank", "portable-stove"),
    "heat-driving": ("fridge", "hob", "air-heater", "combined-heater", "hydronic-heater"),
    "heater-code": ("air-heater", "hydronic-heater", "combined-heater", "water-heater"),
    "heater-smokes": ("air-heater", "hydronic-heater", "combined-heater"),
    "flame": ("hob", "oven", "portable-stove"),
    "hole": ("vent", "gas-drop-out"),
    "condensation": (),
    "alarm": ("co-alarm", "gas-alarm", "smoke-alarm"),
    "door": ("exit",),
    "extinguisher": ("extinguisher", "fire-blanket"),
    "seats": ("seat", "bench"),
    "gas-smell": ("gas-cylinder", "gas-tank", "portable-stove"),
    "burning-smell": (),
    "load": (),
    "tyres": (),
    "drive-with": ("bed", "bed-lift", "pop-top", "awning", "swivel-base", "table"),
    "service": (),
    "papers": (),
}

NOT_ASKED = {
    "fieldwork": {"frost-valve"},
    "winter-tourer": {"frost-valve", "cylinder", "gas-abroad", "gas-smell", "flame"},
    "pocket": {
        *(
            "frost-valve",
            "cylinder",
            "gas-abroad",
            "gas-smell",
            "flame",
            "no-hot-water",
            "drain-smell",
            "dump",
        ),
        *("kettle", "rcd", "hook-up-abroad", "inverter-night", "heater-code", "heater-smokes"),
    },
    "second-hand": {"frost-valve", "inverter-night", "rcd"},
}


@cache
def page_of(name: str, reader: Reader = Reader.owner) -> Page:
    """The page of questions of a demonstration van."""
    (build,) = workshop.load(REGISTER / name).sound
    return next(page for page in pages_of(van_of(build, reader))[0] if page.name == "questions")


def told(found: Section) -> list[str]:
    """The sentences of an answer as plain text."""
    items = [item for b in found.blocks if isinstance(b, Listing) for item in b.items]
    return [
        "".join(
            p.text if isinstance(p, Words | Unknown) else p.value
            for p in item
            if isinstance(p, Words | Unknown | Figure)
        )
        for item in items
    ]


def test_the_table_has_every_theme_once() -> None:
    """Forty themes; a smell of gas and one of burning are two questions."""
    assert sorted(one.name for one in QUESTIONS) == sorted(ASKED)
    assert len(QUESTIONS) == len(ASKED) == 41


@pytest.mark.parametrize("name", sorted(NOT_ASKED))
def test_each_question_is_answered_or_its_thing_is_not_there(name: str) -> None:
    """What is not asked is named here, van by van, and the van has no thing of its kinds."""
    (build,) = workshop.load(REGISTER / name).sound
    kinds = {one.kind for one in build.components.values()}
    answered = {one.anchor for one in page_of(name).blocks if isinstance(one, Section)}
    absent = set(ASKED) - answered
    there = {question for question in absent if kinds & set(ASKED[question]) or not ASKED[question]}
    assert absent == NOT_ASKED[name]
    assert there <= MORE_THAN_A_KIND.get(name, set())


MORE_THAN_A_KIND = {"second-hand": {"rcd"}}
"""Questions that hang on more than a kind: a board without residual-current protection trips by none."""


@pytest.mark.parametrize("name", sorted(NOT_ASKED))
def test_every_answer_says_something_and_leads_to_a_place_that_is_there(name: str) -> None:
    """At least one sentence or link each; every link to an anchor of a page of the published book."""
    folder = register_site(Reader.owner) / name
    sheet = parsed(folder / "questions.html")
    for one in page_of(name).blocks:
        if isinstance(one, Section):
            assert [b for b in one.blocks if not isinstance(b, Caution)], one.anchor
    links = [link for link in sheet.links if "#" in link and not link.startswith("#")]
    assert len(links) > 50
    for link in dict.fromkeys(links):
        file, _, anchor = link.partition("#")
        assert anchor in parsed(folder / file).ids, link


@pytest.mark.parametrize("name", sorted(NOT_ASKED))
def test_a_caution_stands_before_everything_else(name: str) -> None:
    """Before the first sentence, and only once."""
    cautioned = {one.name for one in QUESTIONS if one.warns}
    for one in page_of(name).blocks:
        if isinstance(one, Section) and one.anchor in cautioned - {"drain-smell"}:
            assert [isinstance(block, Caution) for block in one.blocks].index(True) == 0
            assert sum(isinstance(block, Caution) for block in one.blocks) == 1


def test_a_van_without_gas_hears_nothing_of_gas() -> None:
    """No word of it among the questions of the diesel van, but that its book says nothing is lit."""
    text = text_of(register_site(Reader.owner) / "winter-tourer" / "questions.html")
    main = text[
        text.index("What owners ask") : text.index("Before How to") if "Before How to" in text else len(text)
    ]
    assert "registered gas engineer" not in main
    assert "smell of gas" not in main.lower() and "cylinder" not in main.lower()


SMALL = """
vehicle: {permitted: {roof: 100 kg}}
components:
  house-battery: {kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12.8 V, least_charging_temperature: 0 °C}
  fuse-box: {kind: fuse-box, way_count: 6, rated_current: 80 A, ways: {1: {fuse: 10 A, family: blade}, 2: {fuse: 5 A, family: blade}}}
  inverter: {kind: inverter, rated_power: 1.2 kW, idle_power: 12 W}
  shore-inlet: {kind: shore-inlet, rated_current: 16 A, rated_voltage: 230 V, site_current: 6 A}
  socket: {kind: socket}
  fresh-tank: {kind: fresh-tank, volume: 85 L}
  dump-valve: {kind: frost-valve, opens_at: 3 °C, closes_at: 7 °C}
"""


@pytest.mark.parametrize(
    ("question", "sentence"),
    [
        (
            "kettle",
            "From a site through Shore inlet: with 6 A, 1.38 kW for everything together",
        ),  # 6 A × 230 V
        ("kettle", "From the battery: Inverter gives 1.2 kW"),
        ("inverter-night", "Inverter takes 12 W without any load: about 96 Wh in eight hours"),  # 12 W × 8 h
        ("fill", "Fresh tank holds 85 L: full, the water weighs about 85 kg"),  # 1 kg to the litre
        ("add", "Ways without a device: 4, in Fuse box"),  # 6 − 2
        ("battery-frost", "Do not charge it below 0 °C"),
        ("frost-valve", "Dump valve opens by itself at 3 °C"),
        ("frost-valve", "It can be shut again above 7 °C"),
        ("load", "On the roof, at most: 100 kg"),
    ],
)
def test_answers_come_from_the_spec(question: str, sentence: str) -> None:
    """Figures of this van, reckoned by hand beside each."""
    from specreg.pages.answers import QUESTIONS as TABLE
    from specreg.pages.questions import answer

    small = van(SMALL)
    found = answer(small, next(one for one in TABLE if one.name == question), {})
    assert found is not None
    assert any(sentence in one for one in told(found)), told(found)


@pytest.mark.parametrize(
    ("question", "first"),
    [
        ("gas-smell", "Touch no switch, light nothing. Everybody out, now."),
        ("alarm", "An alarm that sounds is obeyed first: everybody out, then read on."),
        (
            "flame",
            "A yellow flame gives off carbon monoxide. Do not go on cooking, and never warm the van with it.",
        ),
        (
            "which-fuse",
            "A fuse is replaced once, by the same rating, never by a larger one. If it blows again: stop and call the workshop.",
        ),
    ],
)
def test_the_first_words_are_those_that_matter(question: str, first: str) -> None:
    """The rules of the emergency page hold among the questions as well."""
    found = section(page_of("fieldwork"), question)
    assert found is not None and isinstance(found.blocks[0], Caution)
    assert "".join(piece.text for piece in found.blocks[0].text if isinstance(piece, Words)) == first


def test_the_public_edition_asks_too_and_leads_nowhere_that_is_not_there() -> None:
    """Without the workshop's procedures the links to them are not there."""
    sheet = parsed(register_site(Reader.public) / "fieldwork" / "questions.html")
    assert len(sheet.links) > 50
    assert not [link for link in sheet.links if link.startswith("how-to.html")]
