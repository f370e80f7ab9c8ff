"""Lines of dimension outside a drawing, each on its own lane, and the scale that fits both paper sizes."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from specreg.pages.plan import RADIUS, Label, Plan, Segment, Span

SCALES = (20, 25, 30, 40, 50, 75, 100)
"""Scales that a rule or a pocket calculator is made for."""

PAPER = (174.0, 205.0)
"""Room in mm that a drawing has on A4 and on Letter alike, within margins, beside title and words."""

TYPE = 0.27
"""Half the height of a disc on paper in cm: numbers stay legible whatever the scale."""

WIDE = 0.62
"""Width of a character as a share of the height of its type, generously."""


class Measure(NamedTuple):
    """A dimension to draw: its words, and its ends along the sheet's width or its height, in cm."""

    words: str
    start: float
    end: float
    upright: bool


def to_scale(draw: Callable[[float], Plan]) -> Plan:
    """Return a drawing to the largest scale that fits the paper; `draw` gets the radius of a disc."""
    for scale in SCALES:
        plan = draw(max(RADIUS, TYPE * scale))._replace(scale=scale)
        if plan.paper[0] <= PAPER[0] and plan.paper[1] <= PAPER[1]:
            break
    return plan


def dimensioned(plan: Plan, measures: tuple[Measure, ...], words: tuple[tuple[str, str], ...] = ()) -> Plan:
    """Return a drawing with its dimensions below and to the right, the shortest nearest, and words on top.

    `words` are pairs of a text and where it stands: `start`, `middle` or `end` of the upper edge.
    """
    lane = 2.1 * plan.letter
    level = sorted((m for m in measures if not m.upright), key=lambda m: (m.end - m.start, m.words))
    upright = sorted((m for m in measures if m.upright), key=lambda m: (m.end - m.start, m.words))
    right, bottom = plan.left + plan.width, plan.top + plan.height
    spans = [_level(plan, m, bottom + (n + 1) * lane, bottom) for n, m in enumerate(level)]
    spans += [_upright(plan, m, right + (n + 1) * lane, right) for n, m in enumerate(upright)]
    band = lane if words else 0.0
    places = {"start": plan.left, "middle": plan.left + plan.width / 2, "end": right}
    labels = tuple(Label(text, places[at], plan.top - band / 3, at) for text, at in words)
    return plan._replace(
        top=plan.top - band,
        width=plan.width + (len(upright) + 0.4) * lane * bool(upright),
        height=plan.height + band + (len(level) + 0.4) * lane * bool(level),
        spans=tuple(spans),
        labels=labels,
    )


def _within(middle: float, words: str, letter: float, least: float, most: float) -> float:
    """Return the middle of a text moved so that it stays within two bounds."""
    half = len(words) * letter * WIDE / 2
    return max(least + half, min(middle, most - half))


def _level(plan: Plan, measure: Measure, y: float, edge: float) -> Span:
    line: Segment = (measure.start, y, measure.end, y)
    ends: tuple[Segment, Segment] = (
        (measure.start, edge - 4, measure.start, y + 3),
        (measure.end, edge - 4, measure.end, y + 3),
    )
    middle = (measure.start + measure.end) / 2
    x = _within(middle, measure.words, plan.letter, plan.left, plan.left + plan.width)
    return Span(measure.words, line, ends, x, y - 0.35 * plan.letter, upright=False)


def _upright(plan: Plan, measure: Measure, x: float, edge: float) -> Span:
    line: Segment = (x, measure.start, x, measure.end)
    ends: tuple[Segment, Segment] = (
        (edge - 4, measure.start, x + 3, measure.start),
        (edge - 4, measure.end, x + 3, measure.end),
    )
    middle = (measure.start + measure.end) / 2
    y = _within(middle, measure.words, plan.letter, plan.top, plan.top + plan.height)
    return Span(measure.words, line, ends, x - 0.35 * plan.letter, y, upright=True)
