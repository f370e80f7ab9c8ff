"""The JSON Schema of a spec: valid itself, true of sound specs, and not of slips."""

from pathlib import Path
from typing import Any

import jsonschema
import pytest
from small_register import HERON, changed

from specreg.model.kinds import kinds
from specreg.output.json_schema import OUTPUTS, output_schema, spec_schema
from specreg.source import plain, read_yaml

SCHEMA = spec_schema()
BUILDS = Path(__file__).parents[2] / "builds"


def errors(text: str) -> list[str]:
    """What a validator says of a spec."""
    tree, problems = read_yaml(text.encode(), "spec.yaml")
    assert tree is not None, problems
    return [error.message for error in jsonschema.Draft202012Validator(SCHEMA).iter_errors(plain(tree))]


@pytest.mark.parametrize("schema", [SCHEMA, *map(output_schema, OUTPUTS)], ids=["spec", *OUTPUTS])
def test_it_is_valid_by_its_meta_schema(schema: dict[str, Any]) -> None:
    """Draft 2020-12, and says so."""
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == jsonschema.Draft202012Validator.META_SCHEMA["$id"]


def test_every_kind_is_in_it() -> None:
    """One choice for each kind, and one for what a part completes."""
    choices = SCHEMA["properties"]["components"]["additionalProperties"]["oneOf"]
    assert len(choices) == len(kinds()) + 1
    assert {f"kind-{name}" for name in kinds()} <= SCHEMA["$defs"].keys()


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

    look(SCHEMA)
    assert seen
    assert {ref.removeprefix("#/$defs/") for ref in seen} <= SCHEMA["$defs"].keys()


def resolved(field: dict[str, Any]) -> dict[str, Any]:
    """A field with its shared description looked up."""
    found: dict[str, Any] = (
        SCHEMA["$defs"][field["$ref"].removeprefix("#/$defs/")] if "$ref" in field else field
    )
    return found


@pytest.mark.parametrize("kind", sorted(kinds()))
def test_every_field_of_a_kind_is_described(kind: str) -> None:
    """An editor shows a sentence for each key."""
    properties = SCHEMA["$defs"][f"kind-{kind}"]["properties"]
    silent = [name for name, field in properties.items() if not resolved(field).get("description")]
    assert silent == []


def test_quantities_name_their_units() -> None:
    """The units that would do stand in the description."""
    field = resolved(SCHEMA["$defs"]["kind-pump"]["properties"]["power"])
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


@pytest.mark.parametrize("path", sorted(BUILDS.glob("*/spec.yaml")), ids=lambda path: path.parent.name)
def test_the_demo_builds_are_valid(path: Path) -> None:
    """An editor finds no fault with the register that users copy."""
    assert errors(path.read_text(encoding="utf-8")) == []
