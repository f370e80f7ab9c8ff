"""Seating, sleeping, furniture, structure and safety: every kind reads what a workshop writes."""

from collections.abc import Iterator
from datetime import date
from typing import Any, get_args

import pytest
import yaml
from pydantic import BaseModel, ValidationError

from specreg.model import furniture, safety, seating, sleeping, structure
from specreg.model.component import Component, Consumer
from specreg.model.field import Reader, Spec
from specreg.model.port import Medium
from specreg.model.shape import Shape, Shaped

MODULES = (seating, sleeping, furniture, structure, safety)
ALL: list[type[Component]] = [kind for module in MODULES for kind in module.KINDS]
PARTS: list[type[Spec]] = [Shape, seating.ChildPlace, structure.Layer, safety.Wording]


def word(kind: type[Component]) -> str:
    """Return the word that a spec writes for a kind."""
    (name,) = get_args(kind.model_fields["kind"].annotation)
    return str(name)


def plain(value: Any) -> Any:
    """Turn YAML's lists into the tuples that strict models take."""
    if isinstance(value, list):
        return tuple(plain(item) for item in value)
    return {key: plain(item) for key, item in value.items()} if isinstance(value, dict) else value


def written(kind: type[Component], text: str = "{}") -> Any:
    """Read a component of a kind from YAML, dates as text as the register's reader gives them."""
    return kind.model_validate({"kind": word(kind), **plain(yaml.load(text, Loader=yaml.BaseLoader))})


def typed(kind: type[Component], text: str) -> Any:
    """Read a component of a kind from YAML with numbers and booleans told apart."""
    return kind.model_validate({"kind": word(kind), **plain(yaml.safe_load(text))})


def own_fields(model: type[BaseModel]) -> Iterator[str]:
    """Give the fields that these modules define, without those that every component has."""
    inherited = set(Component.model_fields) | set(Consumer.model_fields)
    yield from (name for name in model.model_fields if name not in inherited)


FIELDS = [(model, name) for model in [*ALL, *PARTS] for name in own_fields(model)]


def named(item: Any) -> str:
    """Name a model or field in a test id."""
    return item.__name__ if isinstance(item, type) else str(item)


@pytest.mark.parametrize("kind", ALL, ids=word)
def test_a_kind_needs_nothing_but_its_word(kind: type[Component]) -> None:
    """A sketch at enquiry may name a thing and say no more."""
    assert written(kind).kind == word(kind)


def test_the_words_are_kebab_case_and_used_once() -> None:
    """No two kinds share a word."""
    words = [word(kind) for kind in ALL]
    assert len(set(words)) == len(words)
    assert all(w == w.lower() and " " not in w and "_" not in w for w in words)


@pytest.mark.parametrize("kind", ALL, ids=word)
def test_a_kind_has_a_system_and_a_class_letter(kind: type[Component]) -> None:
    """Pages group by system; designations begin with one of the entry classes of IEC 81346-2:2019."""
    assert kind.system
    assert kind.letter in set("BCEFGHKMNPQRSTUWX")


@pytest.mark.parametrize(("model", "name"), FIELDS, ids=named)
def test_a_field_says_what_it_means_and_who_reads_it(model: type[Spec], name: str) -> None:
    """Each field carries a sentence and its least reader."""
    field = model.model_fields[name]
    assert field.description
    assert field.description.endswith(".")
    assert isinstance(field.json_schema_extra, dict)
    assert Reader(str(field.json_schema_extra["reader"]))


def the_example(model: type[BaseModel], name: str) -> str:
    """Return the one example of a field."""
    (example,) = model.model_fields[name].examples or [""]
    return str(example)


COMPANY = {"usual_shape": ", shapes: {stowed: {}}", "belts": ", places: 2"}
"""What has to stand beside a field for its example to make sense."""

EXAMPLES = [(model, name) for model, name in FIELDS if model.model_fields[name].examples and model in ALL]


@pytest.mark.parametrize(("model", "name"), EXAMPLES, ids=named)
def test_the_example_of_a_field_can_be_written(model: type[Component], name: str) -> None:
    """What the reference shows as an example is accepted by the field."""
    example = the_example(model, name)
    shown = example if example[0] in "[{" or example.isdigit() else f'"{example}"'
    value = typed(model, f"{{{name}: {shown}{COMPANY.get(name, '')}}}")
    assert getattr(value, name) not in (None, ())


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (structure.Exit, "opening_width: 600"),
        (sleeping.Bed, "load_limit: 200"),
        (furniture.Cabinet, "volume: 65"),
        (safety.Extinguisher, "content: 1"),
        (structure.RoofRack, "load_limit: 50 mm"),
        (furniture.Cabinet, "sheets: [{area: 2 m}]"),
        (seating.Seat, "shapes: {forward: {turned: 180}}"),
    ],
)
def test_a_quantity_without_its_unit_is_refused(kind: type[Component], text: str) -> None:
    """A bare number or the unit of something else is a problem, not a guess."""
    with pytest.raises(ValidationError):
        typed(kind, text)


@pytest.mark.parametrize(
    ("kind", "text", "field", "si"),
    [
        (structure.Exit, "opening_width: 600 mm", "opening_width", 0.6),
        (structure.Exit, "opening_width: 24 in", "opening_width", 0.6096),  # the inch is 25.4 mm exactly
        (sleeping.Bed, "load_limit: 200 kg", "load_limit", 200.0),
        (furniture.Cabinet, "volume: 65 l", "volume", 0.065),
        (safety.SmokeAlarm, "height: 1750 mm", "height", 1.75),
        (structure.TowBar, "d_value: 11.5 kN", "d_value", 11500.0),
        (sleeping.Mattress, "burn_rate: 60 mm/min", "burn_rate", 0.001),
        (seating.Anchorage, "rated_force: 13.5 kN", "rated_force", 13500.0),
    ],
)
def test_a_quantity_is_text_outside_and_si_inside(
    kind: type[Component], text: str, field: str, si: float
) -> None:
    """Quantities are written with their unit; the figures follow from the definitions of the units."""
    assert getattr(typed(kind, text), field) == pytest.approx(si)


VERDICTS = ("safe", "adequate", "compliant", "exempt", "legal", "roadworthy", "sufficient", "certified")


@pytest.mark.parametrize("model", [*ALL, *PARTS], ids=named)
def test_no_field_states_a_verdict(model: type[Spec]) -> None:
    """A spec says what is fitted; answers are computed or signed."""
    assert not [name for name in model.model_fields if any(v in name.split("_") for v in VERDICTS)]


@pytest.mark.parametrize(
    ("text", "belted"),
    [
        ("places: 2", None),
        ("{places: 2, belts: [three-point, lap]}", 2),
        ("{places: 3, belts: [three-point, none, three-point]}", 2),
        ("belts: [none]", 0),
    ],
)
def test_belts_are_counted_place_by_place(text: str, belted: int | None) -> None:
    """Belts that are not stated are unknown, which is not the same as none."""
    assert typed(seating.Bench, text).belted_places == belted


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{places: 3, belts: [lap, lap]}", "`belts` has 2 entries for 3 places"),
        ("{places: 1, belts: [lap, lap]}", "`belts` has 2 entries for 1 places"),
        ("{places: 2, child_places: [{place: 3}]}", "`child_places` names place 3 of 2"),
        ("{places: 2, seated_at: [[1 m, 0 m, 0 m]]}", "`seated_at` has 1 entries for 2 places"),
        ("{belts: [harness]}", "'three-point', 'lap' or 'none'"),
        ("{belted: true}", "Extra inputs are not permitted"),
    ],
)
def test_places_and_their_belts_have_to_agree(text: str, said: str) -> None:
    """A list by place has an entry for each place."""
    with pytest.raises(ValidationError, match=said):
        typed(seating.Bench, text)


BUNK = """
at: [2900 mm, -900 mm, 1500 mm]
size: [1900 mm, 1400 mm, 150 mm]
usual_shape: stowed
shapes:
  stowed: {blocks: true, locked: true}
  made: {at: [2900 mm, -900 mm, 700 mm]}
"""


@pytest.mark.parametrize(
    ("name", "height", "locked"), [(None, 1.5, True), ("stowed", 1.5, True), ("made", 0.7, None)]
)
def test_a_shape_takes_from_the_component_what_it_does_not_say(
    name: str | None, height: float, locked: bool | None
) -> None:
    """A mode that names no shape gets the usual one."""
    shape = typed(sleeping.Bed, BUNK).in_shape(name)
    assert shape.at[2] == pytest.approx(height)
    assert shape.size == pytest.approx((1.9, 1.4, 0.15))
    assert shape.locked is locked


def test_a_shape_that_is_not_there_is_refused() -> None:
    """The usual shape is one of the shapes, and an unknown name is an error of the caller."""
    with pytest.raises(ValidationError, match="none of its shapes"):
        typed(sleeping.Bed, "{usual_shape: down, shapes: {up: {}}}")
    with pytest.raises(KeyError):
        typed(sleeping.Bed, BUNK).in_shape("down")


@pytest.mark.parametrize("kind", [kind for kind in ALL if issubclass(kind, Shaped)], ids=word)
def test_a_thing_without_shapes_has_the_box_of_the_component(kind: type[Shaped]) -> None:
    """What never changes needs no shapes."""
    thing = typed(kind, "{at: [1 m, 0 m, 0 m], size: [1 m, 1 m, 1 m]}")
    assert thing.in_shape(None) == Shape.model_validate({"at": ("1 m", "0 m", "0 m"), "size": ("1 m",) * 3})


@pytest.mark.parametrize(
    ("text", "supplies"),
    [
        ("powered_by: van", [True]),
        ("powered_by: own battery", []),
        ("powered_by: van and own battery", [False]),
        ("{}", [False]),
    ],
)
@pytest.mark.parametrize("kind", [safety.SmokeAlarm, safety.CoAlarm, safety.GasAlarm, safety.EmergencyLight])
def test_an_alarm_is_dead_without_supply_only_where_it_has_no_battery(
    kind: type[Component], text: str, supplies: list[bool]
) -> None:
    """The supply port is there when a cable may end at it, and needed when nothing else feeds the thing."""
    ports = typed(kind, text).ports()
    assert [port.needed for port in ports if port.medium is Medium.dc] == supplies


def test_a_gas_alarm_can_act_on_a_valve() -> None:
    """A gas alarm has a control port whatever feeds it."""
    ports = typed(safety.GasAlarm, "powered_by: own battery").ports()
    assert [port.medium for port in ports] == [Medium.control]


def test_what_was_taken_out_counts_against_the_ticket() -> None:
    """A removed item is written with the mass that it had."""
    item = typed(structure.RemovedItem, "{title: Bulkhead, mass: 32 kg}")
    assert item.mass_sign * item.mass == pytest.approx(-32.0)


def test_dates_are_read_as_days() -> None:
    """Expiry and renewal are days."""
    alarm = written(safety.CoAlarm, "{expires_on: 2031-06-30, battery_renewed_on: 2026-05-01}")
    assert (alarm.expires_on, alarm.battery_renewed_on) == (date(2031, 6, 30), date(2026, 5, 1))
