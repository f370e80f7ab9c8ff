"""What takes up room: every component as an upright prism, in the shape that a mode gives it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.seating import SwivelBase
from specreg.model.shape import Shape, Shaped
from specreg.space.polygon import Polygon, area, rectangle, shared, span

TOUCH = 0.001
"""Depth up to which two solids merely touch, in m: the written coordinates are whole millimetres."""


@dataclass(frozen=True)
class Solid:
    """A component's room in one mode, in metres of the van's frame.

    `footprint` is its outline in plan as (x back, y right) corners, `bottom` and `top` are heights above the
    load floor. `shape` names the shape that it is in, `turned` its angle in radians, `locked` whether
    a lock holds it there (None: not said), `blocks` whether it keeps others out of its room.
    """

    id: str
    kind: str
    footprint: Polygon
    bottom: float
    top: float
    shape: str | None = None
    turned: float = 0.0
    locked: bool | None = None
    blocks: bool = True

    @cached_property
    def span(self) -> tuple[float, float, float, float]:
        """Return least x, least y, greatest x, greatest y."""
        return span(self.footprint)

    @property
    def height(self) -> float:
        """Return how high it is."""
        return self.top - self.bottom

    @property
    def volume(self) -> float:
        """Return its volume in m³."""
        return area(self.footprint) * self.height

    def overlap(self, other: Solid) -> float:
        """Return the volume that both take up, in m³; 0 where they only touch."""
        low, high = max(self.bottom, other.bottom), min(self.top, other.top)
        if high - low <= TOUCH or not self._near(other):
            return 0.0
        common = shared(self.footprint, other.footprint)
        if len(common) < 3:
            return 0.0
        left, near, right, far = span(common)
        return area(common) * (high - low) if min(right - left, far - near) > TOUCH else 0.0

    def _near(self, other: Solid) -> bool:
        a, b = self.span, other.span
        return min(a[2], b[2]) - max(a[0], b[0]) > TOUCH and min(a[3], b[3]) - max(a[1], b[1]) > TOUCH

    def holds(self, other: Solid, tolerance: float = 2 * TOUCH) -> bool:
        """Tell whether another lies wholly within it."""
        if other.bottom < self.bottom - tolerance or other.top > self.top + tolerance:
            return False
        whole = area(other.footprint)
        left, near, right, far = other.span
        slack = tolerance * 2 * (right - left + far - near)
        return area(shared(other.footprint, self.footprint)) >= whole - slack


def shapes(build: Build, mode: str | None) -> tuple[Solid, ...]:
    """Return the solid of every component that has a place and a size, as it stands in a mode.

    `mode` is a key of the spec's `modes` (`day`, `night`, `driving` …); None, or a mode that does not name
    a thing, gives its usual shape. The order is that of the spec. To draw the plan, take `footprint`
    of each (x runs back, y to the right); to draw an elevation, take `span` and `bottom`, `top`.
    Things that do not block (a blind, a curtain drawn aside) are among them with `blocks` false.
    """
    chosen = build.header.modes.get(mode or "", {})
    turning = {
        base.under: _angle(_shape(name, base, chosen))
        for name, base in build.components.items()
        if isinstance(base, SwivelBase) and base.under
    }
    found = (solid_of(name, model, chosen, turning) for name, model in build.components.items())
    return tuple(one for one in found if one is not None)


def solid_of(
    name: str, model: Component, chosen: dict[str, str], turning: dict[str, float] | None = None
) -> Solid | None:
    """Return one component's solid; None where the spec gives it no place or no size."""
    shape = _shape(name, model, chosen)
    if shape is None:
        shape = Shape.model_construct(at=model.at, size=model.size)
    if shape.at is None or shape.size is None:
        return None
    turned = shape.turned if shape.turned is not None else (turning or {}).get(name, 0.0)
    x, y, z = shape.at
    outline = rectangle(x, y, shape.size[0], shape.size[1], turned)
    named = chosen.get(name) or (model.usual_shape if isinstance(model, Shaped) else None)
    return Solid(name, model.kind, outline, z, z + shape.size[2], named, turned, shape.locked, shape.blocks)


def _shape(name: str, model: Component, chosen: dict[str, str]) -> Shape | None:
    """Return the shape that a mode gives a thing; None where it has none, or not that one."""
    if not isinstance(model, Shaped):
        return None
    wanted = chosen.get(name)
    return model.in_shape(wanted if wanted in model.shapes else None)


def _angle(shape: Shape | None) -> float:
    return (shape.turned if shape else None) or 0.0
