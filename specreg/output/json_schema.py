"""The JSON Schema (draft 2020-12) of a spec for editors, and those of the JSON that specreg writes."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, TypeAdapter

from specreg.model.build import Header
from specreg.model.kinds import kinds
from specreg.model.run import RUNS
from specreg.output.examples import example_for
from specreg.output.register_shape import ComparedData, FoundData
from specreg.output.shape import FiguresData, InspectionData, RulesData
from specreg.output.source_keys import CIRCUITS, ID_PATTERN, INCLUDE, NAMED, PARAMETERS, WHEN
from specreg.source import Mapping as Tree
from specreg.source import plain, read_yaml
from specreg.units import Dimension

DRAFT = "https://json-schema.org/draft/2020-12/schema"
PART_PATTERN = "^[a-z0-9]+([.-][a-z0-9]+)*$"
DEFINITIONS = "#/$defs/{model}"

Schema = dict[str, Any]

OUTPUTS: Mapping[str, Any] = {
    "inspect": InspectionData,
    "figures": FiguresData,
    "rules": RulesData,
    "find": FoundData,
    "compare": ComparedData,
}
"""The JSON outputs whose shape is published, by the command that prints them."""


def output_schema(command: str) -> Schema:
    """Return the JSON Schema of what a command prints with `--format json`."""
    found = TypeAdapter(OUTPUTS[command]).json_schema(ref_template=DEFINITIONS, mode="serialization")
    title = f"What specreg {command} --format json prints"
    return {"$schema": DRAFT, **found, "title": title}


def spec_schema() -> Schema:
    """Return the JSON Schema of a spec: its header, components by kind, runs by medium, circuits.

    It is that of each file of a build: the one that names the build states what a header must, the files
    beside it hold what they like. An assembly or a part may bring what an entry leaves out: so an entry that
    names its `part:` may lack what it otherwise must state.
    """
    definitions: Schema = {}
    header = _described(Header, definitions)
    components = _union(kinds(), "kind", definitions)
    runs = _union(RUNS, "medium", definitions)
    properties = {
        **header["properties"],
        "include": INCLUDE,
        "components": _by_id(components, "What is fitted, by id."),
        "runs": _by_id(runs, "Cables, pipes, hoses and ducts, by id."),
        "circuits": CIRCUITS,
    }
    return {
        "$schema": DRAFT,
        "title": "A specreg spec",
        "description": "The written specification of one camper van.",
        "type": "object",
        "properties": properties,
        "if": {"anyOf": [{"required": [name]} for name in ("format", "build", "stage")]},
        "then": {"required": header["required"]},
        "additionalProperties": False,
        "$defs": dict(sorted(_shared(definitions).items())),
    }


def parts_schema() -> Schema:
    """Return the JSON Schema of a catalogue's file: entries by id, each of one kind, as full as it likes."""
    definitions: Schema = {}
    choices = _incomplete("kind", kinds(), definitions) + _incomplete("medium", RUNS, definitions)
    return {
        "$schema": DRAFT,
        "title": "A specreg catalogue of parts",
        **_by_id(
            {"type": "object", "oneOf": choices},
            "What data sheets say of parts, by the id that components name under `part:`.",
        ),
        "propertyNames": {"pattern": PART_PATTERN},
        "$defs": dict(sorted(_shared(definitions).items())),
    }


def assembly_schema() -> Schema:
    """Return the JSON Schema of an assembly: parameters, and members that may name them in any value."""
    definitions: Schema = {}
    components = _incomplete("kind", kinds(), definitions)
    runs = _incomplete("medium", RUNS, definitions)
    for name, entry in definitions.items():
        if name.startswith(("kind-", "medium-")):
            fields = {key: {"anyOf": [field, NAMED]} for key, field in _fields(entry).items()}
            definitions[name] = {**entry, "properties": {**fields, "when": WHEN}}
    return {
        "$schema": DRAFT,
        "title": "A specreg assembly",
        "description": "Components and runs that are fitted again and again.",
        "type": "object",
        "properties": {
            "parameters": PARAMETERS,
            "components": _by_id({"type": "object", "oneOf": components}, "What is fitted, by id."),
            "runs": _by_id({"type": "object", "oneOf": runs}, "Cables, pipes, hoses and ducts, by id."),
            "circuits": CIRCUITS,
        },
        "additionalProperties": False,
        "$defs": dict(sorted(definitions.items())),
    }


def _incomplete(key: str, models: Mapping[str, type[BaseModel]], definitions: Schema) -> list[Schema]:
    """Return the choice among models of which an entry may lack anything but its word."""
    choices = []
    for word, model in models.items():
        entry = _entry(_described(model, definitions), key, word)
        definitions[f"{key}-{word}"] = {name: said for name, said in entry.items() if name != "anyOf"}
        choices.append({"$ref": DEFINITIONS.format(model=f"{key}-{word}")})
    return choices


def _shared(definitions: Schema) -> Schema:
    """Return the definitions with what many of them say alike said once: a fraction of the size."""
    entries = definitions.values()
    seen = Counter((name, _key(field)) for entry in entries for name, field in _fields(entry).items())
    names: dict[tuple[str, str], str] = {}
    for (name, text), times in seen.items():
        if times > 1 and len(text) > SHORT:
            same = sum(known == name for known, _ in names)
            names[name, text] = f"field-{name}" + (f"-{same + 1}" if same else "")
    fields = {called: json.loads(text) for (_, text), called in names.items()}
    return {**{name: _referring(entry, names) for name, entry in definitions.items()}, **fields}


SHORT = 100
"""Characters up to which saying a field again is no longer than referring to it."""


def _referring(entry: Schema, names: Mapping[tuple[str, str], str]) -> Schema:
    fields = _fields(entry)
    if not fields:
        return entry
    called = {name: names.get((name, _key(field))) for name, field in fields.items()}
    properties = {
        name: {"$ref": DEFINITIONS.format(model=known)} if (known := called[name]) else field
        for name, field in fields.items()
    }
    return {**entry, "properties": properties}


def _fields(entry: Schema) -> Schema:
    found: Schema = entry.get("properties", {})
    return found


def _key(field: Schema) -> str:
    return json.dumps(field, ensure_ascii=False)


def _by_id(entry: Schema, description: str) -> Schema:
    return {
        "description": description,
        "type": "object",
        "propertyNames": {"pattern": ID_PATTERN},
        "additionalProperties": entry,
    }


def _union(models: Mapping[str, type[BaseModel]], key: str, definitions: Schema) -> Schema:
    """Return the choice among models by a word: one for each word, and one for what a part completes."""
    choices = []
    for word, model in models.items():
        name = f"{key}-{word}"
        definitions[name] = _entry(_described(model, definitions), key, word)
        choices.append({"$ref": DEFINITIONS.format(model=name)})
    by_part = {
        "description": f"An entry that takes its {key} from the part or the assembly that it names.",
        "type": "object",
        "not": {"required": [key]},
    }
    return {"type": "object", "oneOf": [*choices, by_part], "discriminator": {"propertyName": key}}


def _entry(schema: Schema, key: str, word: str) -> Schema:
    """Tie an entry's schema to its word; what it must state besides may come from its part."""
    stated = [name for name in schema.get("required", ()) if name != key]
    properties = {**schema["properties"], key: {"const": word, "description": schema["description"]}}
    complete: Schema = {"anyOf": [{"required": ["part"]}, {"required": stated}]} if stated else {}
    return {**schema, "properties": properties, "required": [key], **complete}


def _described(model: type[BaseModel], definitions: Schema) -> Schema:
    """Return a model's own schema; what it refers to is added to the definitions."""
    schema = _tidy(model.model_json_schema(by_alias=True, ref_template=DEFINITIONS))
    definitions.update(schema.pop("$defs", {}))
    return {"description": "", **schema}


def _tidy(node: Any) -> Any:
    """Take out what says nothing to a person (generated titles), and shorten `anyOf` with nothing."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    kept = {}
    for key, value in node.items():
        if key == "title" and isinstance(value, str):
            continue
        if key == "properties":
            kept[key] = {name: _exampled(name, _tidy(item)) for name, item in value.items()}
        elif key == "$defs":
            kept[key] = {name: _tidy(item) for name, item in value.items()}
        elif key not in ("default", "examples", "const", "enum"):
            kept[key] = _tidy(value)
        elif key != "default" or value not in (None, [], {}):
            kept[key] = value
    return _with_units(kept)


def _exampled(name: str, field: Schema) -> Schema:
    """Add to a field without an example how its value is written; closed words and inner parts need none."""
    text = json.dumps(field)
    if any(mark in text for mark in ('"examples"', '"enum"', '"const"', '"boolean"', '"$ref"')):
        return field
    unit = re.search(r"([a-z_]+), with a unit: ", field.get("description", ""))
    known = Dimension(unit[1]) if unit and field.get("type") != "array" else None
    whole, day = '"integer"' in text, '"format": "date"' in text
    example = example_for(name, None if '"array"' in text else known, whole=whole, day=day)
    return {**field, "examples": [_as_written(example)]} if example else field


def _as_written(example: str) -> Any:
    """Return an example as an editor inserts it: numbers and lists as such."""
    tree, _ = read_yaml(f"value: {example}".encode(), "example")
    value = plain(tree)["value"] if isinstance(tree, Tree) else None
    return example if value is None or isinstance(value, dict) else value


def _with_units(node: Schema) -> Schema:
    """Carry the units that would do from inside an optional quantity up into its description."""
    inner = [one.get("description", "") for one in node.get("anyOf", ()) if isinstance(one, dict)]
    units = next((text for text in inner if "with a unit" in text), "")
    if units and "description" in node:
        return {**node, "description": f"{node['description']} ({units})"}
    return node
