"""Sizes of conductors, as cable is sold: mm² by IEC 60228, gauges by ASTM B258."""

import re
from dataclasses import dataclass
from functools import lru_cache
from math import pi, pow
from typing import Final, Literal, NoReturn

from specreg.units.error import NotAQuantity

NOMINAL: Final = (0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240)
"""Nominal cross-sections that IEC 60228 lists, mm²."""

GAUGES: Final = (20, 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3)
"""Gauges that are sold as stranded cable, thin to thick; 0 is 1/0, −3 is 4/0."""

EXAMPLES: Final = ("1.5 mm²", "10 AWG", "2/0 AWG")
"""What a person is shown who wrote no conductor size."""

LONGEST: Final = 60  # characters

_metric = re.compile(r"([0-9]+(?:\.[0-9]+)?) *(?:mm²|mm2|mm\^2|sq mm)")
_gauge = re.compile(r"(?:AWG *([0-9]+(?:/0)?)|([0-9]+(?:/0)?) *AWG)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class ConductorSize:
    """One size of conductor: how it is written, and its cross-section in m² (nominal for mm² sizes)."""

    notation: Literal["mm2", "awg"]
    label: str
    area: float
    gauge: int | None


def awg_diameter(gauge: int) -> float:
    """Diameter of the solid round wire of a gauge in m (ASTM B258); 0 is 1/0, −1 is 2/0."""
    return 0.127e-3 * pow(92.0, (36 - gauge) / 39)


def size_mm2(area: float) -> ConductorSize:
    """The size of a nominal cross-section given in mm²."""
    return ConductorSize("mm2", f"{area:g} mm²", area * 1e-6, None)


def size_awg(gauge: int) -> ConductorSize:
    """The size of a gauge; 0 is 1/0, −1 is 2/0."""
    label = f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"
    return ConductorSize("awg", label, pi / 4 * awg_diameter(gauge) ** 2, gauge)


METRIC_SIZES: Final = tuple(size_mm2(area) for area in NOMINAL)
"""All mm² sizes, thin to thick."""

AWG_SIZES: Final = tuple(size_awg(gauge) for gauge in GAUGES)
"""All gauges, thin to thick."""


@lru_cache(maxsize=1024)
def parse_conductor(text: str) -> ConductorSize:
    """Read a conductor size ('1.5 mm²', '10 AWG', 'AWG 2/0'); raise NotAQuantity naming the neighbours."""
    text = text.strip().replace("\u00a0", " ")
    if len(text) > LONGEST:
        raise NotAQuantity("the text is too long for a conductor size", EXAMPLES)
    metric = _metric.fullmatch(text)
    if metric:
        return _of_trade(size_mm2(float(metric[1])), METRIC_SIZES)
    gauge = _gauge.fullmatch(text)
    if gauge:
        return _of_trade(size_awg(_gauge_number(gauge[1] or gauge[2], text)), AWG_SIZES)
    _refuse(text)


def _gauge_number(digits: str, text: str) -> int:
    """The gauge as a number that goes down as wire grows: 10, 0 for 1/0 (and 0), −1 for 2/0 (and 00)."""
    if digits.endswith("/0"):
        number = 1 - int(digits[:-2])
        if number > 0:
            _refuse(text)
        return number
    return 1 - len(digits) if not digits.strip("0") else int(digits)


def _of_trade(size: ConductorSize, sizes: tuple[ConductorSize, ...]) -> ConductorSize:
    """The size, if it is sold; else a refusal that names its neighbours and suggests the thicker one."""
    for known in sizes:
        if known.label == size.label:
            return known
    thinner = [known.label for known in sizes if known.area < size.area][-1:]
    thicker = [known.label for known in sizes if known.area > size.area][:1]
    neighbours = (*thinner, *thicker)
    reason = f"{size.label} is not a size that cable is sold in; next to it: {' and '.join(neighbours)}"
    raise NotAQuantity(reason, neighbours, neighbours[-1])


def _refuse(text: str) -> NoReturn:
    """Say that a text is no conductor size."""
    if not text:
        reason = "nothing is written"
    elif re.fullmatch(r"[0-9.]+|[0-9]+/0", text):
        reason = f"{text} has no unit: mm² or AWG"
    elif re.match(r"[0-9]+,[0-9]", text):
        reason = "the decimal sign is a point"
    elif re.search(r"(?i)\b(?:ga|gauge|g)\b|#|swg", text):
        reason = f"{text} does not say which gauge: write it as 10 AWG"
    else:
        reason = f"{text} is not a conductor size"
    raise NotAQuantity(reason, EXAMPLES)
