"""Keys that are resolved before the model sees a spec: assemblies, their parameters, circuits on one line."""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]

ID_PATTERN = "^[a-z0-9]+(-[a-z0-9]+)*$"

NAMED: Schema = {"type": "string", "pattern": "^\\{[a-z0-9_]+\\}$", "description": "A parameter's value."}

WHEN: Schema = {
    "description": "The member is there only where this parameter is true.",
    "anyOf": [{"type": "boolean"}, NAMED],
    "examples": ["{second_battery}"],
}

PARAMETERS: Schema = {
    "description": "What a build may set, by name.",
    "type": "object",
    "additionalProperties": {
        "type": "object",
        "properties": {
            "type": {"enum": ["text", "integer", "boolean"], "description": "What it holds."},
            "default": {
                "type": ["string", "integer", "boolean"],
                "description": "Its value where a build sets none.",
                "examples": ["60 A"],
            },
        },
        "required": ["type"],
        "additionalProperties": False,
    },
}

INCLUDE: Schema = {
    "description": "Assemblies that the build includes, with the parameters that it sets.",
    "type": "array",
    "items": {
        "type": "object",
        "properties": {
            "assembly": {
                "type": "string",
                "description": "Name of a file in assemblies/.",
                "examples": ["standard-12v"],
            },
            "set": {
                "type": "object",
                "description": "Parameters of the assembly.",
                "examples": [{"battery_count": 2}],
            },
            "prefix": {
                "type": "string",
                "description": "Put before the ids of its members; needed by a second use.",
            },
        },
        "required": ["assembly"],
        "additionalProperties": False,
    },
}

CIRCUITS: Schema = {
    "description": "Circuits on one line each, by the load that they feed.",
    "type": "object",
    "propertyNames": {"pattern": ID_PATTERN},
    "additionalProperties": {
        "type": "string",
        "description": "Way and device · conductor · length one way · switch · length on to the load.",
        "examples": ["fuse-box/7 10 A blade · 1.5 mm² · 4.2 m · galley-panel/1 · 1.3 m"],
    },
}
