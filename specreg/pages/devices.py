"""Fuses and breakers in words."""

from specreg.facts.value_type import ValueType
from specreg.model.device import ProtectiveDevice
from specreg.pages.van import Van
from specreg.units import Dimension

CURRENT = ValueType("number", dimension=Dimension.current)


def device_words(van: Van, device: ProtectiveDevice) -> str:
    """Return a device's rating, family and sort: `10 A blade fuse`."""
    family = device.family.value if device.family else ""
    word = "" if device.word in family else van.texts(f"word.{device.word}")
    return " ".join(part for part in (van.value(device.rating, CURRENT), family, word) if part)
