"""JSON Schema validation of our own schemas, which say the same of hundreds of kinds, without doing it as often.

Both ways give the answers of jsonschema itself; `test_json_schema.py` holds that they do.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator, ValidationError, validators

Schema = Mapping[str, Any]

REFERENCE = "#/$defs/"


def validator(schema: Schema) -> Any:
    """A validator that leaves out of each `oneOf` what the word of an entry rules out at sight.

    A choice that wants another constant text under a key than the one that stands there can only fail.
    """
    definitions = schema.get("$defs", {})

    def one_of(
        asked: Any, choices: list[Schema], instance: object, within: Schema
    ) -> Iterator[ValidationError]:
        left = [choice for choice in choices if not _ruled_out(choice, instance, definitions)]
        yield from Draft202012Validator.VALIDATORS["oneOf"](asked, left, instance, within)

    return validators.extend(Draft202012Validator, {"oneOf": one_of})(schema)  # type: ignore[no-untyped-call]


def _ruled_out(choice: Schema, instance: object, definitions: Mapping[str, Schema]) -> bool:
    if not isinstance(instance, dict):
        return False
    stated = definitions[choice["$ref"].removeprefix(REFERENCE)] if "$ref" in choice else choice
    words = {key: field.get("const") for key, field in stated.get("properties", {}).items()}
    return any(
        isinstance(word, str) and isinstance(instance.get(key), str) and instance[key] != word
        for key, word in words.items()
    )


def faults_of_schema(schema: Schema) -> list[str]:
    """What the meta-schema says against a schema, its definitions and their fields each asked by themselves.

    It asks of every value of `$defs` and `properties` that it be a schema, and no more: so one that stands in a
    hundred definitions is asked once.
    """
    definitions = schema.get("$defs", {})
    bare = [{**definition, "properties": {}} for definition in definitions.values()]
    fields = [
        field for definition in definitions.values() for field in definition.get("properties", {}).values()
    ]
    parts = [{**schema, "$defs": {}}, *bare, *fields]
    return [fault for text in sorted({json.dumps(part) for part in parts}) for fault in _faults_of_part(text)]


@cache
def _faults_of_part(text: str) -> tuple[str, ...]:
    meta = Draft202012Validator(Draft202012Validator.META_SCHEMA)
    return tuple(error.message for error in meta.iter_errors(json.loads(text)))
