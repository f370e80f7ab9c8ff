"""What the gate lets through, reader by reader: fields, answers with their words and figures, and what a fact gives away."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from building import build as read

from specreg import workshop
from specreg.facts.engine import Input
from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.model.records import Concession, SignOff
from specreg.pages.gate import Gate, seen_by
from specreg.rules.document import Level
from specreg.rules.pack import Pack
from specreg.rules.result import Answer, Result
from specreg.source import Place

SPEC = """
vehicle: {identity: {vin: VIN-OF-IT, first_registered: 2019-03-02}}
works: {priority: 120, starts: 2026-08-09}
records:
  tests: [{test: polarity, on: cell, name: N. Tester, instrument: meter 5, date: 2026-04-01}, {test: alarm}]
  photos: [{file: secret.jpg, shows: [cell]}]
  walk_round: {by: Walker, counts: {cell: 1}}
components:
  cell: {kind: battery, maker: Volta, supplier: Shop, nominal_voltage: 12.8 V, capacity: 100 Ah}
  bare: {kind: battery}
  short: {kind: battery, maker: XY, supplier: Abc, state: ordered}
  marked: {kind: battery, serial: '#12/B+'}
  dated: {kind: regulator, made_on: 2019-01-01, outlet_pressure: 30 mbar}
  box: {kind: fuse-box, ways: {a: {fuse: 10 A, family: blade, model: M-77}}}
runs:
  lead: {medium: dc, from: cell/positive, to: box/feed, conductor: 16 mm², return: chassis}
"""
PLACE = Place("spec.yaml", 1, 1)


@pytest.fixture(scope="module")
def build() -> Build:
    """A van with something private in many places."""
    return read(SPEC)


@pytest.fixture
def gates(build: Build) -> dict[str, Gate]:
    """A gate for each reader."""
    facts = workshop.inspect(build, Pack(())).facts
    return {reader.value: Gate(facts, reader) for reader in Reader}


def answered(**told: Any) -> Result:
    """An answer with everything that the gate looks at."""
    plain = Result("dc/a", "A", "dc", Level.warning, Answer.fails, "cell", "cell", PLACE, message="it is so")
    return replace(plain, remedy="mend it", **told)


def seen(build: Build, reader: str) -> dict[str, Any]:
    """The private figures of the van as a reader sees them."""
    shown = seen_by(build, Reader(reader))
    records, box = shown.header.records, shown.components["box"]
    return {
        "vin": shown.header.vehicle.identity.vin,
        "priority": shown.header.works.priority,
        "tested by": records.tests[0].name,
        "instrument": records.tests[0].instrument,
        "tested": records.tests[0].test,
        "photo": records.photos[0].file,
        "walked by": records.walk_round.by if records.walk_round else None,
        "maker": getattr(shown.components["cell"], "maker", None),
        "supplier": getattr(shown.components["cell"], "supplier", None),
        "capacity": getattr(shown.components["cell"], "capacity", None),
        "way": getattr(box, "ways", {})["a"].maker_model,
        "size": getattr(shown.runs["lead"], "conductor", None) is not None,
    }


ALL = {
    "vin": "VIN-OF-IT",
    "priority": 120,
    "tested by": "N. Tester",
    "instrument": "meter 5",
    "tested": "polarity",
    "photo": "secret.jpg",
    "walked by": "Walker",
    "maker": "Volta",
    "supplier": "Shop",
    "capacity": 360_000.0,
    "way": "M-77",
    "size": True,
}
WORKSHOP = {"priority": 1, "instrument": None, "supplier": None}
OWNER = dict.fromkeys(("vin", "tested by", "photo", "walked by", "maker", "way"))


@pytest.mark.parametrize(
    ("reader", "hidden"), [("workshop", {}), ("owner", WORKSHOP), ("public", {**WORKSHOP, **OWNER})]
)
def test_a_hidden_field_is_as_if_nobody_had_stated_it(
    build: Build, reader: str, hidden: dict[str, Any]
) -> None:
    """It holds its default, one that must be stated nothing; whatever else is there stays."""
    assert seen(build, reader) == {**ALL, **hidden}
    assert seen(build, "workshop") == ALL


def test_what_hides_nothing_is_not_copied(build: Build) -> None:
    """A site is made of thousands of things; most of them hold nothing private."""
    for reader in Reader:
        shown = seen_by(build, reader)
        assert shown.components["bare"] is build.components["bare"]
        assert shown.runs["lead"] is build.runs["lead"]
        assert shown.header.use is build.header.use
    assert seen_by(build, Reader.workshop).header is build.header


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"reader": "workshop"}, ("it is so", "mend it", ("cell.x",), "print", (PLACE,))),
        ({"reader": "owner"}, ("it is so", "mend it", ("cell.x",), "", ())),
        ({"reader": "owner", "decides": "electrician"}, ("it is so", "", ("cell.x",), "", ())),
        ({"reader": "workshop", "decides": "gas"}, ("it is so", "mend it", ("cell.x",), "print", (PLACE,))),
        ({"reader": "public"}, ("it is so", "", (), "", ())),
    ],
)
def test_what_each_reader_is_told_of_an_answer(
    gates: dict[str, Gate], told: dict[str, Any], words: tuple[object, ...]
) -> None:
    """What to do is the owner's but for a sign-off; fields that lack are no business of the public."""
    one = answered(missing=("cell.x",), fingerprint="print", origin=(PLACE,), decides=told.get("decides", ""))
    [shown] = gates[told["reader"]].results(iter([one]))
    assert (shown.message, shown.remedy, shown.missing, shown.fingerprint, shown.origin) == words
    assert shown.answer is Answer.fails


@pytest.mark.parametrize(
    ("reader", "text", "told"),
    [
        ("public", "made by Volta", False),
        ("owner", "made by Volta", True),
        ("owner", "sold by Shop", False),
        ("workshop", "sold by Shop", True),
        ("public", "registered 2019-03-02", False),
        ("public", "see secret.jpg", False),
        ("public", "way M-77", False),
        ("owner", "from 2026-08-09", False),  # a field that is open by itself, within a part that is not
        ("public", "of 120 W", True),
        ("public", "XY is too short to tell", True),
        ("owner", "three letters do: Abc", False),
        ("public", "a word of a list: ordered", True),
        (
            "owner",
            "the fridge's alarm for carbon monoxide is to be renewed",
            True,
        ),  # mon, wed, fri: days of work
        ("owner", "a price for fri or sat", True),
        ("public", "the Voltage of a Voltaic cell", True),
        ("public", "Volta's own", False),
        ("public", "Volta_2 of old", False),
        ("public", "(Volta)", False),
        ("public", "a DuoVolta cell", True),
        ("public", "battery no#12/B+x", False),
        ("public", "battery #12/B", True),
        ("public", "a polarity test", True),
    ],
)
def test_a_text_with_a_private_word_is_withheld(
    gates: dict[str, Gate], reader: str, text: str, told: bool
) -> None:
    """Wherever it stands: in the message, with which go the assumptions; in what is to be done; in an assumption."""
    gate = gates[reader]
    by_message, by_remedy, by_assumption = gate.results(
        [
            replace(answered(assumptions=("an even load",)), message=text),
            replace(answered(), remedy=text),
            answered(assumptions=("an even load", text)),
        ]
    )
    assert by_message.message == (text if told else "")
    assert by_message.assumptions == (("an even load",) if told else ())
    assert by_remedy.message == by_assumption.message == "it is so"
    assert by_remedy.remedy == (text if told and reader != "public" else "")
    assert by_assumption.assumptions == (("an even load", text) if told else ("an even load",))


def test_a_figure_that_is_not_for_a_reader_takes_the_words_with_it(gates: dict[str, Gate]) -> None:
    """Of two figures behind an answer the open one stays; words that were made with both go."""
    capacity, maker = Input("cell.capacity", 360_000.0, None), Input("cell.maker", "Volta", None)
    one = answered(evidence=(capacity, maker), assumptions=("an even load",))
    [shown] = gates["public"].results([one])
    assert (shown.message, shown.evidence, shown.assumptions) == ("", (capacity,), ())
    [shown] = gates["owner"].results([one])
    assert (shown.message, shown.evidence, shown.assumptions) == (
        "it is so",
        (capacity, maker),
        ("an even load",),
    )


def test_who_signed_and_who_released_is_for_the_owner(gates: dict[str, Gate]) -> None:
    """The public sees that somebody competent signed, and that a finding was released."""
    signed = SignOff(matter="dc/a", target="cell", name="E. Signer", by="electrician", note="n")
    released = Concession(rule="dc/a", target="cell", reason="no room", granted_by="C. Lead")
    one = answered(sign_off=signed, concession=released)
    [public], [owner] = gates["public"].results([one]), gates["owner"].results([one])
    assert public.sign_off == signed.model_copy(update={"name": None, "note": None})
    assert (owner.sign_off, owner.concession) == (signed, released)


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("cell.capacity", "public"),
        ("cell.maker", "owner"),
        ("cell.supplier", "workshop"),
        ("box/a.family", "public"),
        ("box/a.model", "owner"),
        ("box/a.maker_model", "owner"),
        ("lead.conductor", "public"),
        ("vehicle.identity.vin", "owner"),
        ("vehicle.identity", "owner"),
        ("works.priority", "workshop"),
        ("works.hands.more", "workshop"),
        ("use.people", "public"),
        ("dated.outlet_pressure", "public"),
        ("dated.regulator_age", "owner"),  # a fact: from the day on which it was made
        ("cell.no_such_thing", "workshop"),
        ("cell", "workshop"),
    ],
)
def test_the_least_reader_of_a_figure(gates: dict[str, Gate], name: str, least: str) -> None:
    """The highest of the readers of all that leads to it, of a fact of all that it was computed from."""
    assert gates["public"].least(name, None).value == least
    assert gates["workshop"].least(name, None).value == least
