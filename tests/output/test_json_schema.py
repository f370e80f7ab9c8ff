"""The JSON Schema of a spec: valid itself, true of sound specs, and not of slips."""

import json
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from small_register import HERON, changed
from validating import faults_of_schema, validator

from specreg.model.kinds import kinds
from specreg.model.quantity import dimension_of
from specreg.output.examples import QUANTITIES
from specreg.output.json_schema import OUTPUTS, assembly_schema, output_schema, parts_schema, spec_schema
from specreg.source import plain, read_yaml
from specreg.units import Dimension, parse

ROOT = Path(__file__).parents[2]
REGISTERS = (ROOT / "builds", ROOT / "specreg" / "starter")
MADE: dict[str, Callable[[], dict[str, Any]]] = {
    "spec": spec_schema,
    "parts": parts_schema,
    "assembly": assembly_schema,
    **{command: partial(output_schema, command) for command in OUTPUTS},
}
"""How each schema is made."""


@cache
def schema_of(name: str) -> dict[str, Any]:
    """One of the schemas, made once, and not before a test wants it."""
    return MADE[name]()


def faults(name: str, data: bytes) -> list[str]:
    """What a validator says of a file by the schema of that name."""
    tree, problems = read_yaml(data, f"{name}.yaml")
    assert tree is not None, problems
    return [error.message for error in validator(schema_of(name)).iter_errors(plain(tree))]


TWO = {
    "$defs": {
        "a": {"properties": {"kind": {"const": "a"}, "n": {"type": "integer"}}, "required": ["kind"]},
        "b": {"properties": {"kind": {"const": "b"}}, "additionalProperties": False},
        "b again": {"properties": {"kind": {"const": "b"}, "n": {"type": "integer"}}, "required": ["n"]},
    },
    "oneOf": [
        *({"$ref": f"#/$defs/{name}"} for name in ("a", "b", "b again")),
        {"type": "object", "not": {"required": ["kind"]}, "required": ["part"]},
    ],
}
"""A small schema with choices by a word, two of which have the same."""


@pytest.mark.parametrize(
    "entry",
    [
        *(
            {"kind": "a"},
            {"kind": "a", "n": 1},
            {"kind": "a", "n": "1"},
            {"kind": "b"},
            {"kind": "b", "n": 1},
        ),
        *(
            {"kind": "b", "n": "1"},
            {"kind": "c"},
            {"kind": 1},
            {"kind": None},
            {"part": "x"},
            {"n": 1},
            {},
            [],
            "a",
        ),
        {"kind": "a", "part": "x"},
    ],
    ids=str,
)
def test_choosing_by_the_word_answers_as_trying_every_choice(entry: object) -> None:
    """What a word rules out could only fail: one fit, none, and two come out as they do without that."""
    assert validator(TWO).is_valid(entry) is jsonschema.Draft202012Validator(TWO).is_valid(entry)


@pytest.mark.parametrize(
    "spoiled",
    [
        {"type": "objekt"},
        {"$defs": {"a": {"required": "kind"}}},
        {"$defs": {"a": {"properties": {"n": {"minimum": "0"}}}}},
        {"$defs": {"a": {"properties": {"n": {"anyOf": [{"type": "txt"}]}}}}},
        {"properties": {"n": {"pattern": 1}}},
        {"$defs": {"a": {"properties": {"n": {}}}, "b": {"properties": {"n": 5}}}},
    ],
    ids=str,
)
def test_what_is_wrong_in_a_schema_is_found_in_every_place(spoiled: dict[str, Any]) -> None:
    """At the root, in a definition, in its fields, and below them, as the meta-schema finds it in the whole."""
    with pytest.raises(jsonschema.SchemaError):
        jsonschema.Draft202012Validator.check_schema(spoiled)
    assert faults_of_schema(spoiled)


def errors(text: str) -> list[str]:
    """What a validator says of a spec."""
    return faults("spec", text.encode())


@pytest.mark.parametrize("name", MADE)
def test_it_is_valid_by_its_meta_schema(name: str) -> None:
    """Draft 2020-12, and says so."""
    schema = schema_of(name)
    assert faults_of_schema(schema) == []
    assert schema["$schema"] == jsonschema.Draft202012Validator.META_SCHEMA["$id"]


def test_every_kind_is_in_it() -> None:
    """One choice for each kind, and one for what a part completes."""
    choices = schema_of("spec")["properties"]["components"]["additionalProperties"]["oneOf"]
    assert len(choices) == len(kinds()) + 1
    assert {f"kind-{name}" for name in kinds()} <= schema_of("spec")["$defs"].keys()


def test_every_reference_leads_somewhere() -> None:
    """No `$ref` is lost, whatever was shared."""
    seen: list[str] = []

    def look(node: Any) -> None:
        if isinstance(node, dict):
            if isinstance(node.get("$ref"), str):
                seen.append(node["$ref"])
            for value in node.values():
                look(value)
        elif isinstance(node, list):
            for value in node:
                look(value)

    look(schema_of("spec"))
    assert seen
    assert {ref.removeprefix("#/$defs/") for ref in seen} <= schema_of("spec")["$defs"].keys()


def resolved(field: dict[str, Any]) -> dict[str, Any]:
    """A field with its shared description looked up."""
    found: dict[str, Any] = (
        schema_of("spec")["$defs"][field["$ref"].removeprefix("#/$defs/")] if "$ref" in field else field
    )
    return found


@pytest.mark.parametrize("kind", sorted(kinds()))
def test_every_field_of_a_kind_is_described(kind: str) -> None:
    """An editor shows a sentence for each key."""
    properties = schema_of("spec")["$defs"][f"kind-{kind}"]["properties"]
    silent = [name for name, field in properties.items() if not resolved(field).get("description")]
    assert silent == []


def test_quantities_name_their_units() -> None:
    """The units that would do stand in the description."""
    field = resolved(schema_of("spec")["$defs"]["kind-pump"]["properties"]["power"])
    assert "power, with a unit: W, kW" in field["description"]
    assert field["examples"] == ["60 W"]


@pytest.mark.parametrize(
    "addition",
    [
        "",
        "circuits: {lamp: fuse-box/pump 10 A}\n",
        "include: [{assembly: standard, set: {n: 2}, prefix: a}]\n",
    ],
)
def test_sound_specs_are_valid(addition: str) -> None:
    """What specreg reads, the schema accepts."""
    assert errors(HERON + addition) == []


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("kind: battery", "kind: batery"),
        ("power: 60 W", "power: 60"),
        ("power: 60 W", "powr: 60 W"),
        ("stage: design", "stage: desing"),
        ("title: Two-berth van\n", ""),
        ("medium: dc, from: fuse-box/pump", "medium: dcc, from: fuse-box/pump"),
        ("family: blade", "family: sword"),
        ("water-pump:\n", "Water Pump:\n"),
    ],
)
def test_slips_are_not(right: str, wrong: str) -> None:
    """What specreg refuses for its form, the schema refuses, too."""
    assert errors(changed((right, wrong)))


OTHERWISE = ("designations.yaml", "private.yaml", "as-built.yaml", "fitted.yaml")
"""Files of a build with a form of their own."""


@pytest.mark.parametrize(
    "path",
    sorted(
        path
        for register in REGISTERS
        for spec in register.glob("*/spec.yaml")
        for path in spec.parent.glob("*.yaml")
        if path.name not in OTHERWISE
    ),
    ids=lambda path: f"{path.parent.name}-{path.stem}",
)
def test_every_file_of_the_demo_and_starter_builds_is_valid(path: Path) -> None:
    """An editor finds no fault with what users copy, in whichever file of a build."""
    assert errors(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "path",
    sorted(path for register in REGISTERS for path in register.glob("parts/*.yaml")),
    ids=lambda path: f"{path.parents[1].name}-{path.stem}",
)
def test_the_catalogues_are_valid(path: Path) -> None:
    """The entries of a catalogue hold what kinds hold, as full as they like."""
    assert faults("parts", path.read_bytes()) == []


@pytest.mark.parametrize(
    "path",
    sorted(path for register in REGISTERS for path in register.glob("assemblies/*.yaml")),
    ids=lambda path: f"{path.parents[1].name}-{path.stem}",
)
def test_the_assemblies_are_valid(path: Path) -> None:
    """Members are as full as they like, and any value may be a parameter."""
    assert faults("assembly", path.read_bytes()) == []


@pytest.mark.parametrize(
    "slip",
    [
        "parameters: {n: {type: txt}}",
        "components: {pump: {kind: pump, powr: 5 W}}",
        "components: {pump: {kind: pump, power: 5}}",
        "runs: {feed: {medium: dcc}}",
        "component: {}",
    ],
)
def test_a_slip_in_an_assembly_is_not(slip: str) -> None:
    """An unknown type, key, medium, section, or a number without a unit."""
    assert faults("assembly", slip.encode())


@pytest.mark.parametrize("slip", ["kind: pumpp", "kind: pump\n  powr: 5 W", "kind: pump\n  power: 5"])
def test_a_slip_in_a_catalogue_is_not(slip: str) -> None:
    """An unknown kind, key or a number without a unit."""
    assert faults("parts", f"small-pump:\n  {slip}\n".encode())


def test_a_file_beside_the_spec_need_not_be_whole() -> None:
    """One system of a van may stand in a file of its own."""
    assert errors("components: {tank-pump: {kind: pump, power: 60 W}}\n") == []


@pytest.mark.parametrize("kind", sorted(kinds()))
def test_quantities_of_a_kind_have_units(kind: str) -> None:
    """An editor shows beside each key of a quantity which units would do."""
    fields = schema_of("spec")["$defs"][f"kind-{kind}"]["properties"]
    for name, model_field in kinds()[kind].model_fields.items():
        field = resolved(fields[model_field.alias or name])
        if dimension_of_field(model_field) is not None:
            assert "with a unit: " in field["description"], name


def dimension_of_field(field: Any) -> Any:
    """The dimension of a quantity, stated or optional."""
    found = [*field.metadata]
    for part in getattr(field.annotation, "__args__", ()):
        found += getattr(part, "__metadata__", ())
    return dimension_of(found)


CLOSED = ('"examples"', '"enum"', '"const"', '"boolean"', '"$ref"')


def test_every_field_shows_how_it_is_written() -> None:
    """An example, or its closed words; whole or nested entries show that in their own fields."""
    silent = [
        f"{entry}.{name}"
        for entry, schema in schema_of("spec")["$defs"].items()
        for name, field in schema.get("properties", {}).items()
        if not any(mark in json.dumps(resolved(field)) for mark in CLOSED)
    ]
    assert silent == []


@pytest.mark.parametrize("dimension", QUANTITIES, ids=lambda dimension: dimension.value)
def test_an_example_of_a_quantity_can_be_read(dimension: Dimension) -> None:
    """No example that the reader would refuse."""
    assert parse(QUANTITIES[dimension], dimension) != 0
