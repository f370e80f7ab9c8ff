"""Loads against the limits of what carries them, the label's figure, and the least share in front."""

from __future__ import annotations

import re

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, number
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.furniture import Storage
from specreg.model.safety import Notice
from specreg.model.structure import Carrier, TowBar
from specreg.tables.vehicle import POUND
from specreg.units import Dimension

MASS = number(Dimension.mass)


@fact(
    Component,
    TRUTH,
    formula="a carrier but a tow bar with a load, or storage with both contents and a limit stated",
    source="the spec",
)
def bears_a_load(component: Subject) -> bool:
    """Whether a load on or in it is stated."""
    model = component.model
    if isinstance(model, Carrier) and not isinstance(model, TowBar):
        return bool(component.get("carried"))
    if isinstance(model, Storage):
        return bool(component.get("contents")) and component.get("contents_limit") is not None
    return False


@fact(Component, MASS, formula="as stated", source="the spec")
def load_borne(component: Subject) -> float | None:
    """Load on or in it."""
    if not isinstance(component.model, Carrier | Storage):
        return None
    return float(component.carried if isinstance(component.model, Carrier) else component.contents)


@fact(Component, MASS, formula="as its maker states", source="its maker")
def load_allowed(component: Subject) -> float | None:
    """Greatest load on or in it."""
    if not isinstance(component.model, Carrier | Storage):
        return None
    return float(component.load_limit if isinstance(component.model, Carrier) else component.contents_limit)


SAID = re.compile(r"(\d+(?:[.,]\d+)?)\s*(kg|lbs?)\b", re.IGNORECASE)


@fact(Notice, MASS, formula="the first mass in its words", source="the notice")
def mass_said(notice: Subject) -> float:
    """Mass that the notice states."""
    found = SAID.search(str(notice.text))
    if found is None:
        raise Missing(reason="its words name no mass")
    figure = float(found[1].replace(",", "."))
    return figure if found[2].lower() == "kg" else figure * POUND


@fact(
    Header,
    number(Dimension.share),
    formula="as the maker states, else 40 %",
    source="two vehicle handbooks: 40 to 70 % of the mass in front",
)
def least_share_in_front(build: Subject) -> float:
    """Least share of the mass that is to stand on the front axle."""
    stated = build.van.build.header.vehicle.permitted.least_front_share
    if stated is None:
        build.van.assume("least share on the front axle not stated by the maker, taken as 40 %")
    return 0.4 if stated is None else stated


@fact(Notice, MASS, formula="as the US counts it", source="FMVSS 110 S9 per an article on the 2008 rule")
def capacity_left(notice: Subject) -> float:
    """Occupant and cargo carrying capacity that a load label is to state."""
    return float(notice.van.whole.occupant_and_cargo_capacity)
