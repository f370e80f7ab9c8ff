"""Records added to a file that a person wrote: behind what is there, which stays as it is."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

from specreg.output.recording import CannotAdd, added, additions, in_one_line
from specreg.source import plain, read_yaml

ITEM = {"test": "polarity", "on": "socket", "date": "2026-05-11"}
LINE = "{test: polarity, on: socket, date: 2026-05-11}"

FORMS = {
    "a list of lines": ("records:\n  tests:\n    - {test: rain}\n", f"    - {LINE}\n"),
    "a comment behind the last": ("records:\n  tests:\n    - {test: rain}  # dry\n", f"    - {LINE}\n"),
    "no line end": ("records:\n  tests:\n    - {test: rain}", f"\n    - {LINE}\n"),
    "an entry over several lines": (
        "records:\n  tests:\n  - test: rain\n    value: dry\n# end\n",
        f"  - {LINE}\n",
    ),
    "a text over several lines": (
        "records:\n  tests:\n    - test: rain\n      value: |\n        dry\n        all over\nx: 1\n",
        f"    - {LINE}\n",
    ),
    "more behind": ("records:\n  tests:\n    - {test: rain}\n  weighings: []\nx: 1\n", f"    - {LINE}\n"),
    "brackets": ("records: {tests: [{test: rain}]}\n", f", {LINE}"),
    "empty brackets": ("records:\n  tests: []\n", LINE),
    "brackets over lines": ("records:\n  tests: [\n    {test: rain},\n  ]\n", f" {LINE}"),
    "other records": ("records:\n  weighings: [{stage: final}]\n", f"  tests:\n    - {LINE}\n"),
    "other records in brackets": ("records: {weighings: []}\n", f", tests: [{LINE}]"),
    "no records": ("x: 1\n", f"records:\n  tests:\n    - {LINE}\n"),
    "an empty file": ("# nothing\n", f"records:\n  tests:\n    - {LINE}\n"),
}


@pytest.mark.parametrize(("text", "new"), FORMS.values(), ids=FORMS)
def test_added_behind_what_is_there(text: str, new: str) -> None:
    """One piece is put in, everything before and behind it stays, byte for byte."""
    result = added(text, "tests", [ITEM])
    at = result.index(new.strip())
    assert len(result) >= len(text) + len(LINE)
    squeezed = (result[:at] + result[at + len(new.strip()) :]).split()
    assert "".join(squeezed).replace(",", "") == "".join(text.split()).replace(",", "")
    tree, _ = read_yaml(result.encode(), "records.yaml")
    assert tree is not None and plain(tree)["records"]["tests"][-1] == ITEM


@pytest.mark.parametrize(
    "text", ["records: none\n", "records: {tests: none}\n", "records:\n  tests: {a: 1}\n", "a: [\n"]
)
def test_a_form_that_cannot_take_records_is_refused(text: str) -> None:
    """Rather nothing than a broken file."""
    with pytest.raises(CannotAdd):
        added(text, "tests", [ITEM])


TEXTS = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp", "Co", "Cn")), min_size=1, max_size=20
)


@given(st.lists(TEXTS, min_size=1, max_size=3))
def test_any_text_comes_back_as_it_was(values: list[str]) -> None:
    """No value can mean something else in the file than it did on the sheet."""
    items = [{"test": value} for value in values]
    tree, problems = read_yaml(added("records:\n  tests: []\n", "tests", items).encode(), "records.yaml")
    assert problems == [] and tree is not None
    assert plain(tree)["records"]["tests"] == items


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("2026-05-11", "2026-05-11"),
        ("0417", '"0417"'),
        ("12", '"12"'),
        ("68501231", '"68501231"'),
        ("yes", '"yes"'),
        ("48 MΩ", "48 MΩ"),
        ("-F3", '"-F3"'),
        ("a, b", '"a, b"'),
        ("'s", '"\'s"'),
    ],
)
def test_a_text_is_quoted_where_it_must_be(value: str, written: str) -> None:
    """Numbers, words and signs that YAML reads otherwise stand in quotation marks."""
    assert in_one_line({"value": value}) == f"{{value: {written}}}"


def test_the_file_that_has_the_list_takes_it(tmp_path: Path) -> None:
    """Wherever a workshop keeps its tests, the new ones go there; a new list goes to the file of records."""
    (tmp_path / "spec.yaml").write_text(dedent("records: {tests: [{test: rain}]}\n"))
    of = build("records: {tests: [{test: rain}]}")
    found = additions(of, tmp_path, {"tests": [ITEM], "weighings": [{"stage": "final"}]})
    assert [one.path.name for one in found] == ["spec.yaml", "records.yaml"]
    assert not (tmp_path / "records.yaml").exists()
    assert found[1].text.endswith("records:\n  weighings:\n    - {stage: final}\n")
