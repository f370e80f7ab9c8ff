"""What must hold still under way: beds stowed, heavy things low and fastened."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.mass_ledger import weigh_whole
from specreg.facts.missing import Missing
from specreg.facts.payload import on_roof
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.seats import DRIVING
from specreg.facts.value_type import TRUTH, number
from specreg.model.component import Component
from specreg.model.shape import Shape
from specreg.model.sleeping import Bed
from specreg.units import Dimension

MADE = "made"
"""The shape of a bed in which people lie in it."""


@fact(Bed, TRUTH, formula="it has a shape `made` and another", source="the spec")
def can_be_stowed(bed: Subject) -> bool:
    """Whether it is made ready for the night and put away for the road."""
    shapes: dict[str, Shape] = bed.shapes
    return MADE in shapes and len(shapes) > 1


@fact(Bed, TRUTH, formula="its shape in mode `driving`, else its usual one, is `made`", source="the spec")
def made_under_way(bed: Subject) -> bool:
    """Whether it is made under way."""
    shape = bed.van.build.header.modes.get(DRIVING, {}).get(bed.id) or bed.get("usual_shape")
    if shape is None:
        raise Missing(f"modes.{DRIVING}.{bed.id}")
    return bool(shape == MADE)


@fact(Component, number(Dimension.mass), formula="its mass + its contents", source="the spec")
def mass_with_contents(component: Subject) -> float:
    """Mass of the thing with what is kept in it."""
    contents = getattr(component.model, "contents", None)
    return weigh_whole(component).mass + (contents if isinstance(contents, float) else 0.0)


@fact(Component, number(Dimension.length), formula="middle of its box over the load floor", source="the spec")
def centre_height(component: Subject) -> float:
    """Height of its middle above the load floor."""
    place = box_centre(component)
    if place is None:
        raise Missing(f"{component.id}.at")
    return place.z


@fact(Component, TRUTH, formula="by kind, by what it is fixed to, by height", source="the spec")
def stands_on_roof(component: Subject) -> bool:
    """Whether the roof carries it."""
    return on_roof(component)


@fact(Component, TRUTH, formula="its mass is stated, or follows from its sheets", source="the spec")
def mass_stated(component: Subject) -> bool:
    """Whether its mass is known, so that its place matters."""
    try:
        return weigh_whole(component).known != "bounded"
    except Missing:
        return False
