"""A kind has the fields of all its ancestors, and shares them with the class that states them."""

from __future__ import annotations

import pytest

from specreg.model.component import Component
from specreg.model.field import Spec
from specreg.model.kinds import kinds


@pytest.mark.parametrize("name", sorted(kinds()))
def test_a_kind_has_the_fields_of_its_ancestors(name: str) -> None:
    kind = kinds()[name]
    ancestors = [base for base in kind.__mro__[1:] if issubclass(base, Spec)]
    assert {field for base in ancestors for field in base.model_fields} <= set(kind.model_fields)
    assert list(kind.model_fields)[: len(Component.model_fields)] == list(Component.model_fields)


@pytest.mark.parametrize("name", sorted(kinds()))
def test_an_inherited_field_is_that_of_the_nearest_ancestor(name: str) -> None:
    """Shared, not copied; what a kind states itself (its `kind` at least) comes before what it inherits."""
    kind = kinds()[name]
    own: set[str] = set()
    shared: set[str] = set()
    for field, about in kind.model_fields.items():
        nearest = next(
            (base for base in kind.__mro__[1:] if issubclass(base, Spec) and field in base.model_fields), None
        )
        (shared if nearest and nearest.model_fields[field] is about else own).add(field)
    assert "kind" in own
    assert shared >= set(Component.model_fields) - own
    assert len(shared) > len(Component.model_fields) / 2


def test_the_nearest_of_two_parents_wins() -> None:
    class Left(Spec):
        same: int = 1
        left: int = 1

    class Right(Spec):
        same: int = 2
        right: int = 2

    class Both(Left, Right):
        own: int = 3

    found = Both()
    assert (found.same, found.left, found.right, found.own) == (1, 1, 2, 3)
    assert list(Both.model_fields) == ["same", "right", "left", "own"]
