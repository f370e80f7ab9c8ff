"""Class letters of IEC 81346-2 for kinds of object."""

from dataclasses import dataclass
from functools import cache

from specreg.tables.constant import citation, not_tabulated, rows


@dataclass(frozen=True)
class DesignationClass:
    """A class letter, what the class means, and how the choice for a kind is known."""

    letter: str
    meaning: str
    source: str
    basis: str
    note: str = ""


@cache
def _classes() -> dict[str, DesignationClass]:
    return {
        row["letter"]: DesignationClass(
            row["letter"], row["meaning"], citation(row), row["basis"], row["note"]
        )
        for row in rows("designation-classes")
    }


@cache
def _kinds() -> dict[str, DesignationClass]:
    classes = _classes()
    return {
        row["kind"]: DesignationClass(
            row["letter"], classes[row["letter"]].meaning, citation(row), row["basis"], row["note"]
        )
        for row in rows("designation-kinds")
    }


def class_letters() -> tuple[str, ...]:
    """The entry classes of IEC 81346-2:2019, in order."""
    return tuple(sorted(_classes()))


def designation_class(kind: str) -> DesignationClass:
    """The class of a kind of object (`fuse`, `bus bar`); raises NotTabulatedError with the nearest kind."""
    table = _kinds()
    if kind not in table:
        raise not_tabulated("kind of object", kind, table)
    return table[kind]


def kinds() -> tuple[str, ...]:
    """The kinds of object with a usual letter."""
    return tuple(_kinds())
