"""What a thing takes up in each of its states: a bed stowed and made, a table up and down."""

from typing import Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.component import Component
from specreg.model.field import Spec, told
from specreg.model.quantity import Angle, Length, Offset

Corner = tuple[Offset, Offset, Offset]
Sides = tuple[Length, Length, Length]


class Shape(Spec):
    """The box that a thing takes up in one of its states; what is not given is as on the component."""

    at: Corner | None = told(
        "Foremost, leftmost, lowest corner in this shape.", example="[2900 mm, -900 mm, 1500 mm]"
    )
    size: Sides | None = told(
        "Size along, across and up in this shape.", example="[1900 mm, 1400 mm, 150 mm]"
    )
    blocks: bool = told(
        "Whether it keeps people and other things out of its box; a drawn curtain does not.", default=True
    )
    turned: Angle | None = told("Angle by which it is turned from facing forward.", example="180°")
    locked: bool | None = told("Whether a lock holds it in this shape.")


class Shaped(Component):
    """A thing that changes its shape; the build's modes say which shape holds when."""

    shapes: dict[str, Shape] = told(
        "Its shapes by name, which the build's modes refer to.",
        factory=dict,
        example="{stowed: {size: [1900 mm, 1400 mm, 150 mm]}, made: {at: [2900 mm, -900 mm, 700 mm]}}",
    )
    usual_shape: str | None = told("The shape that holds in modes which name none.", example="stowed")

    @model_validator(mode="after")
    def _usual_shape_is_one_of_them(self) -> Self:
        if self.usual_shape is not None and self.usual_shape not in self.shapes:
            raise PydanticCustomError(
                "shape",
                "{reason}",
                {
                    "reason": f"`usual_shape: {self.usual_shape}` is none of its shapes "
                    f"({', '.join(self.shapes) or 'it has none'})"
                },
            )
        return self

    def in_shape(self, name: str | None) -> Shape:
        """Return the whole shape of that name, or else the usual one, the box filled in from the component.

        A name that it does not have raises KeyError.
        """
        chosen = name if name is not None else self.usual_shape
        shape = self.shapes[chosen] if chosen is not None else Shape()
        return shape.model_copy(update={"at": shape.at or self.at, "size": shape.size or self.size})
