"""Facts are computed once, say what they were computed from, and name what they lack."""

from dataclasses import replace
from datetime import date
from math import exp

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.registry import Compute, Kind, fact, kinds_for
from specreg.facts.schema import members, nouns
from specreg.facts.value_type import number
from specreg.model.dc import Battery, FuseBox
from specreg.model.run import DcRun

VAN = """
components:
  battery: {kind: battery, nominal_voltage: 12.8 V, at: [1 m, 0 m, 0 m], size: [0.2 m, 0.2 m, 0.2 m]}
  light: {kind: ceiling-light, power: 5 W, at: [2 m, 0 m, 1 m]}
  box: {kind: fuse-box, ways: {1: {fuse: 5 A}}}
runs:
  lead: {medium: dc, from: battery/positive, to: light, return: chassis, conductor: 1.5 mm²}
"""


@pytest.fixture
def facts() -> Facts:
    """The facts of a small van."""
    return Facts(build(VAN))


def test_a_field_that_is_not_stated_is_missing(facts: Facts) -> None:
    """The exception names the field as the spec would write it."""
    with pytest.raises(Missing) as raised:
        _ = facts.subject("battery").capacity
    assert raised.value.fields == ("battery.capacity",)


def test_a_fact_carries_what_it_was_computed_from(facts: Facts) -> None:
    """Inputs are recorded as they are read, assumptions travel to what uses the fact."""
    lead = facts.subject("lead")
    found = facts.ask(lead, kinds_for(DcRun)["core_resistance"])
    assert [item.name for item in found.inputs] == ["lead.conductor", "lead.laid_length"]
    (assumption,) = found.assumptions
    assert "length of lead estimated from the places of its ends" in assumption
    # by hand: centres (1.1, 0.1, 0.1) and (2, 0, 1) are 0.9 + 0.1 + 0.9 m apart along the axes, × 1.2
    assert lead.laid_length == pytest.approx(1.2 * 1.9)
    # IEC 60228 class 5: 1.5 mm² has at most 13.3 Ω/km at 20 °C
    assert lead.core_resistance == pytest.approx(1.2 * 1.9 * 13.3e-3)


def test_a_missing_fact_names_the_field_at_its_root(facts: Facts) -> None:
    """What a fact lacks is what its input lacks."""
    subject = facts.subject("box")
    with pytest.raises(Missing) as raised:
        _ = facts.of_class(Battery).__next__().capacity
    assert raised.value.fields == ("battery.capacity",)
    assert subject.get("rated_current") is None


def test_a_fact_is_computed_once(facts: Facts) -> None:
    """The same object comes back."""
    kind = kinds_for(DcRun)["ampacity"]
    lead = facts.subject("lead")
    assert facts.ask(lead, kind) is facts.ask(lead, kind)


@pytest.mark.parametrize("odd", [lambda _: 1 / 0.0, lambda _: exp(1e4), lambda _: 10.0**400])
def test_figures_that_give_no_number_leave_a_fact_unknown(facts: Facts, odd: Compute) -> None:
    """Dividing by nothing or running beyond all numbers is no fault: what asks for it is unknown as well."""
    box = facts.subject("box")
    first = Kind("first", FuseBox, number(), "First", "by hand", "a test", None, odd)
    assert facts.ask(box, first).reason == "its inputs give no number"
    second = replace(first, name="second", compute=lambda subject: facts.value(subject, first) + 1)
    found = facts.ask(box, second)
    assert (found.known, found.value, found.reason) == (False, None, "its inputs give no number")


def test_another_fault_of_a_computation_is_not_hidden(facts: Facts) -> None:
    """Only numbers that do not come out are taken for missing data."""

    def wrong(_: object) -> float:
        raise ValueError("a mistake of the program")

    kind = Kind("wrong", FuseBox, number(), "Wrong", "by hand", "a test", None, wrong)
    with pytest.raises(ValueError, match="a mistake"):
        facts.ask(facts.subject("box"), kind)


def test_no_fact_shares_a_name_with_a_field() -> None:
    """Registering one is refused at once."""
    with pytest.raises(ValueError, match="already has a field or fact"):

        @fact(Battery, number(), formula="", source="")
        def capacity(battery: object) -> float:
            """Nonsense."""
            return 0.0


@pytest.mark.parametrize("noun", sorted(nouns()))
def test_no_registered_fact_hides_a_field(noun: str) -> None:
    """On no subject does a fact have the name of a field, inherited ones included."""
    model = nouns()[noun]
    assert not set(kinds_for(model)) & set(model.model_fields)
    assert members(model)


def test_every_fact_says_its_formula_and_source() -> None:
    """A figure without a source is not printed."""
    for model in nouns().values():
        for kind in kinds_for(model).values():
            assert kind.formula and kind.source and kind.title, kind.name


def test_there_is_no_clock(facts: Facts) -> None:
    """The day comes from the spec or from who asks; without either it is missing."""
    assert facts.on == date(2026, 5, 1)
    assert Facts(build(VAN), date(2027, 1, 2)).on == date(2027, 1, 2)
    undated = build("as_of: ~")
    with pytest.raises(Missing) as raised:
        _ = Facts(undated).on
    assert raised.value.fields == ("as_of",)
