"""The shell of the living space: how large its sides are and how much air leaks through it when shut."""

from specreg.model.field import Spec, told
from specreg.model.quantity import Area, Flow


class Shell(Spec):
    """Areas of the sides seen from inside, windows included; what is not given is estimated from the box."""

    roof: Area | None = told("Area of the roof.", example="7 m²")
    floor: Area | None = told("Area of the floor.", example="6.9 m²")
    left_wall: Area | None = told("Area of the left wall without a side door in it.", example="6.5 m²")
    right_wall: Area | None = told("Area of the right wall without a side door in it.", example="6.5 m²")
    rear_doors: Area | None = told("Area of the rear doors.", example="3.2 m²")
    side_door: Area | None = told("Area of the side door.", example="2.1 m²")
    cab: Area | None = told("Area through which the living space meets the cab.", example="3.2 m²")
    leakage: Flow | None = told(
        "Air that leaks through the shut body besides its vents, if it was measured.", example="8 m³/h"
    )
