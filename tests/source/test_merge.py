"""Laying trees over each other and putting parameters in."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.source.merge import merge, substitute
from specreg.source.place import Place
from specreg.source.tree import (
    Mapping,
    Node,
    Scalar,
    at,
    key_place_of,
    mapping,
    plain,
    scalar,
    sequence,
    where,
)
from specreg.source.yaml import read_yaml


def tree(text: str, file: str = "spec.yaml") -> Node:
    node, problems = read_yaml(text.encode(), file)
    assert problems == []
    assert node is not None
    return node


# RFC 7396 (JSON Merge Patch), Appendix A: original, patch, result. All fifteen cases.
RFC_7396_APPENDIX_A = [
    ('{"a":"b"}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"b"}', '{"b":"c"}', '{"a":"b","b":"c"}'),
    ('{"a":"b"}', '{"a":null}', "{}"),
    ('{"a":"b","b":"c"}', '{"a":null}', '{"b":"c"}'),
    ('{"a":["b"]}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"c"}', '{"a":["b"]}', '{"a":["b"]}'),
    ('{"a":{"b":"c"}}', '{"a":{"b":"d","c":null}}', '{"a":{"b":"d"}}'),
    ('{"a":[{"b":"c"}]}', '{"a":[1]}', '{"a":[1]}'),
    ('["a","b"]', '["c","d"]', '["c","d"]'),
    ('{"a":"b"}', '["c"]', '["c"]'),
    ('{"a":"foo"}', "null", "null"),
    ('{"a":"foo"}', '"bar"', '"bar"'),
    ('{"e":null}', '{"a":1}', '{"e":null,"a":1}'),
    ("[1,2]", '{"a":"b","c":null}', '{"a":"b"}'),
    ("{}", '{"a":{"bb":{"ccc":null}}}', '{"a":{"bb":{}}}'),
]


@pytest.mark.parametrize(("original", "patch", "result"), RFC_7396_APPENDIX_A)
def test_merge_follows_the_published_examples(original: str, patch: str, result: str) -> None:
    assert plain(merge(tree(original), tree(patch))) == json.loads(result)


PART = "rated: 100 A\nmass: 2 kg\nat:\n  - 1 m\nlimits:\n  low: 10 V\n  high: 15 V\n"
BUILD = "\nmass: 3 kg\nlimits:\n  high: 14 V\n  extra: 1\nat: [2 m]\n"


@pytest.mark.parametrize(
    ("path", "value", "places"),
    [
        (("rated",), "100 A", "parts/dc.yaml:1:8"),
        (("mass",), "3 kg", "builds/heron/spec.yaml:2:7, from parts/dc.yaml:2:7"),
        (("limits",), None, "builds/heron/spec.yaml:4:3, from parts/dc.yaml:6:3"),
        (("limits", "low"), "10 V", "parts/dc.yaml:6:8"),
        (("limits", "high"), "14 V", "builds/heron/spec.yaml:4:9, from parts/dc.yaml:7:9"),
        (("limits", "extra"), 1, "builds/heron/spec.yaml:5:10"),
        (("at",), None, "builds/heron/spec.yaml:6:5, from parts/dc.yaml:4:3"),
        (("at", 0), "2 m", "builds/heron/spec.yaml:6:6"),
    ],
)
def test_merged_values_know_where_they_came_from(
    path: tuple[str | int, ...], value: object, places: str
) -> None:
    node = at(merge(tree(PART, "parts/dc.yaml"), tree(BUILD, "builds/heron/spec.yaml")), path)
    assert node is not None
    assert where(node) == places
    if isinstance(node, Scalar):
        assert node.value == value


def test_origins_chain_over_several_layers() -> None:
    """A value replaced twice names both places, the nearest first."""
    merged = merge(merge(tree("a: 1", "one"), tree("a: 2", "two")), tree("\na: 3", "three"))
    node = at(merged, ("a",))
    assert node is not None
    assert where(node) == "three:2:4, from two:1:4, from one:1:4"
    assert key_place_of(merged, ("a",)) == Place("three", 2, 1)


TREES = st.recursive(
    st.none() | st.integers(0, 9) | st.sampled_from("xyz"),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=3),
    max_leaves=12,
)


def built(data: object, place: Place) -> Node:
    if isinstance(data, dict):
        return mapping({key: built(value, place) for key, value in data.items()}, place)
    if isinstance(data, list):
        return sequence((built(value, place) for value in data), place)
    assert data is None or isinstance(data, str | int)
    return scalar(data, place)


HERE, THERE = Place("here", 1, 1), Place("there", 1, 1)


@given(TREES, TREES)
def test_merging_changes_neither_tree(base: object, over: object) -> None:
    below, above = built(base, HERE), built(over, THERE)
    merge(below, above)
    assert (below, above) == (built(base, HERE), built(over, THERE))


@given(TREES, TREES)
def test_merging_the_same_again_changes_no_value(base: object, over: object) -> None:
    above = built(over, THERE)
    once = merge(built(base, HERE), above)
    assert plain(merge(once, above)) == plain(once)


@given(TREES)
def test_an_empty_mapping_over_a_mapping_changes_no_value(base: object) -> None:
    below = built({"a": base}, HERE)
    assert plain(merge(below, Mapping({}, THERE))) == plain(below)


VALUES = {
    "battery_count": scalar(2, Place("spec.yaml", 7, 9)),
    "inverter": scalar("big", Place("spec.yaml", 8, 9)),
}


def test_parameters_replace_whole_scalars_and_keep_both_places() -> None:
    text = (
        'count: "{battery_count}"\nlist: ["{inverter}", "{ inverter }", plain]\nnote: "a {word} in braces"\n'
    )
    node, problems = substitute(tree(text, "assemblies/dc.yaml"), VALUES)
    assert problems == []
    assert plain(node) == {"count": 2, "list": ["big", "big", "plain"], "note": "a {word} in braces"}
    count = at(node, ("count",))
    assert count is not None
    assert where(count) == "spec.yaml:7:9, from assemblies/dc.yaml:1:8"


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        (
            'a: "{battery_cuont}"',
            'x:1:4: problem: no parameter has this name: read "{battery_cuont}", '
            'expected one of battery_count, inverter, nearest is "battery_count"',
        ),
        (
            'a: ["{}"]',
            'x:1:5: problem: no parameter has this name: read "{}", expected one of battery_count, inverter',
        ),
        (
            'a: "lamp-{inverter}"',
            'x:1:4: problem: a parameter replaces a whole value only: read "lamp-{inverter}"; '
            "make the parameter the whole value",
        ),
        (
            "a: {inverter}",
            'x:1:4: problem: a parameter without quotation marks: read "{inverter}"; '
            'write "{inverter}" in quotation marks',
        ),
    ],
)
def test_wrong_parameters_are_problems(text: str, problem: str) -> None:
    before = tree(text, "x")
    node, problems = substitute(before, VALUES)
    assert [found.text() for found in problems] == [problem]
    assert plain(node) == plain(before)


def test_an_empty_entry_that_is_not_in_braces_is_no_parameter() -> None:
    _, problems = substitute(tree("a:\n  inverter:\n"), VALUES)
    assert problems == []


def test_every_wrong_parameter_is_reported() -> None:
    _, problems = substitute(tree('a: "{x}"\nb: ["{y}", {c: "{z}"}]\n'), {})
    assert [found.place and found.place.line for found in problems] == [1, 2, 2]
    assert all("declares no parameters" in found.text() for found in problems)
