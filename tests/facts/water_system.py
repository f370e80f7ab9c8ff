"""The small water system of the rules, with changes laid on it."""

from functools import cache
from pathlib import Path

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.read import read_build
from specreg.source import Mapping, merge, read_yaml

RULES = Path(__file__).parents[2] / "rules"


@cache
def base() -> Mapping:
    """The small build with the small water system."""
    first, _ = read_yaml((RULES / "base.yaml").read_bytes(), "rules/base.yaml")
    second, _ = read_yaml((RULES / "water" / "base.yaml").read_bytes(), "rules/water/base.yaml")
    assert first is not None and second is not None
    merged = merge(first, second)
    assert isinstance(merged, Mapping)
    return merged


def water_system(change: str = "{}") -> Facts:
    """The small water system with a change laid on it."""
    over, problems = read_yaml(change.encode(), "change.yaml")
    assert over is not None
    merged = merge(base(), over)
    assert isinstance(merged, Mapping)
    found, more = read_build(merged)
    assert found is not None and not [*problems, *more], [p.text() for p in [*problems, *more]]
    return Facts(found)
