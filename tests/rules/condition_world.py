"""A small invented world for the tests of conditions: types, and views that hold only what is stated."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from specreg.facts.missing import Missing
from specreg.facts.value_type import ANYTHING, DATE, TRUTH, ValueType, list_of, number, text, view
from specreg.source.place import Place
from specreg.units import Dimension

PLACE = Place("rule.md", 7, 10)


def run_members() -> Mapping[str, ValueType]:
    """Types that refer to each other: a device knows its run."""
    return {
        "name": text(),
        "medium": text("dc", "ac", "gas"),
        "starts_engine": TRUTH,
        "ampacity": number(Dimension.current),
        "let_through": number(Dimension.current),
        "length": number(Dimension.length),
        "voltage": number(Dimension.voltage),
        "load": number(Dimension.power),
        "drop": number(Dimension.share),
        "cores": number(),
        "ambient": number(Dimension.temperature),
        "rated": number(Dimension.temperature),
        "made": DATE,
        "note": ANYTHING,
        "colours": list_of(text("red", "black", "green")),
        "devices": list_of(DEVICE),
        "main": DEVICE,
    }


DEVICE: ValueType = view(
    "device",
    lambda: {
        "name": text(),
        "rating": number(Dimension.current),
        "breaks": TRUTH,
        "run": RUN,
        "heat": number(Dimension.temperature),
    },
)
RUN: ValueType = view("run", run_members)
LIMITS = view(
    "limits",
    {
        "distance": number(Dimension.length),
        "current": number(Dimension.current),
        "drop": number(Dimension.share),
        "day": DATE,
    },
)
SCHEMA = {"run": RUN, "limits": LIMITS}


class View:
    """A thing with only the attributes that were stated; one that has no figure is stated as the Missing that says why."""

    def __init__(self, path: str, **stated: object) -> None:
        self.__dict__.update(
            {name: value for name, value in stated.items() if not isinstance(value, Missing)}
        )
        self.gone = {name: value for name, value in stated.items() if isinstance(value, Missing)}
        self.path = path

    def __getattr__(self, name: str) -> object:
        raise self.gone.get(name) or Missing(f"{self.path}.{name}")


def device(name: str, **stated: object) -> View:
    """A device view."""
    return View(f"box.{name}", name=name, **stated)


def world(**stated: object) -> dict[str, object]:
    """A namespace with one run, of which some figures are replaced."""
    figures: dict[str, object] = {
        "name": "pump-feed",
        "medium": "dc",
        "starts_engine": False,
        "ampacity": 40.0,
        "let_through": 30.0,
        "length": 2.5,
        "voltage": 12.0,
        "load": 120.0,
        "drop": 0.025,
        "cores": 2,
        "ambient": 303.15,
        "made": date(2024, 5, 1),
        "colours": ["red", "black"],
        "devices": [device("F1", rating=10.0, breaks=True), device("F2", rating=20.0, breaks=False)],
    }
    limits = View("limits", distance=0.1778, current=50.0, drop=0.03, day=date(2025, 1, 1))
    return {"run": View("run", **(figures | stated)), "limits": limits}
