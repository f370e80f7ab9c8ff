"""Kinds that inherit a field share its schema, and each still reads, refuses and describes it for itself."""

from typing import Any

import pytest
from pydantic import ValidationError

from specreg.model.field import Spec, told
from specreg.model.quantity import Length, Mass


class Base(Spec):
    """A trait with fields that others inherit."""

    mass: Mass | None = told("Mass.", example="1 kg")
    inner: "Inner | None" = told("A part with fields of its own.")


class Inner(Spec):
    """A part that fields refer to."""

    length: Length | None = told("Length.")


class Left(Base):
    """One kind."""


class Right(Base):
    """Another, which reads one of the fields otherwise."""

    mass: int | None = told("A number here.")


@pytest.mark.parametrize("kind", [Left, Base, Left])
def test_an_inherited_field_reads_the_same_in_every_kind(kind: type[Any]) -> None:
    read = kind.model_validate({"mass": "2 kg", "inner": {"length": "1 m"}})
    assert (read.mass, read.inner.length) == (2.0, 1.0)
    with pytest.raises(ValidationError, match="bare number"):
        kind.model_validate({"mass": 2})


def test_a_field_stated_anew_is_read_anew() -> None:
    Left.model_validate({"mass": "2 kg"})
    assert Right.model_validate({"mass": 2}).mass == 2
    with pytest.raises(ValidationError, match="valid integer"):
        Right.model_validate({"mass": "2 kg"})


def test_each_kind_describes_its_own_fields() -> None:
    left, right = (kind.model_json_schema()["properties"]["mass"] for kind in (Left, Right))
    assert left["description"] == "Mass."
    assert left["anyOf"][0]["type"] == "string"
    assert right["anyOf"][0]["type"] == "integer"
