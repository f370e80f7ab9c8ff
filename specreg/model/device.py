"""Fuses and breakers: in the ways of a box, or in line on a run."""

from typing import Annotated, Any

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema, PydanticCustomError

from specreg.model.field import Reader, Spec, Word, told
from specreg.model.quantity import Current, Length, Temperature, Voltage


class Family(Word):
    """A family of protective devices with its own standard ratings and breaking capacity."""

    mini_blade = "mini blade"
    blade = "blade"
    maxi = "maxi"
    midi = "midi"
    mega = "mega"
    anl = "anl"
    terminal = "terminal"
    class_t = "class t"
    nh = "nh"
    thermal_breaker = "thermal breaker"
    magnetic_breaker = "magnetic breaker"
    miniature_breaker = "miniature breaker"
    glass = "glass"


class End(Word):
    """An end of a run, as the run names it."""

    start = "from"
    finish = "to"


class ProtectiveDevice(Spec):
    """A fuse or a breaker, stated by its rating; what it protects is computed, never stated.

    A way may be there, and labelled, without a device in it: then neither rating is stated.
    """

    fuse: Current | None = told("Rated current of the fuse.", example="10 A")
    breaker: Current | None = told("Rated current of the circuit breaker.", example="16 A")
    family: Family | None = told("Family of the device, which tells standard ratings.", example="blade")
    breaking_capacity: Current | None = told(
        "Greatest current that it can break at its rated voltage.", example="1 kA"
    )
    rated_voltage: Voltage | None = told("Voltage up to which the breaking capacity holds.", example="32 V")
    direct_current: bool | None = told("Whether the maker rates it for direct current.", example="true")
    polarised: bool | None = told("Whether a breaker works for one direction of current only.")
    poles: int | None = told("Poles that it switches.", example="2")
    residual_current: Current | None = told(
        "Rated residual current, if it also trips on that.", example="30 mA"
    )
    residual_type: str | None = told("Type of residual current it detects: AC, A, F, B or GFCI.", example="A")
    holder_temperature: Temperature | None = told("Temperature limit of its holder.", example="75 °C")
    label: str | None = told("The words on the label beside it.", example="Water pump")
    maker: str | None = told("Who made it.", reader=Reader.owner)
    maker_model: str | None = told("The maker's name or number for it.", reader=Reader.owner, written="model")

    @model_validator(mode="before")
    @classmethod
    def _one_rating(cls, data: Any) -> Any:
        if isinstance(data, dict) and "fuse" in data and "breaker" in data:
            raise PydanticCustomError("device", "a device is a `fuse:` or a `breaker:`, not both")
        return data

    @property
    def rating(self) -> float:
        """Return the rated current in ampere."""
        rated = self.fuse if self.fuse is not None else self.breaker
        assert rated is not None
        return rated

    @property
    def word(self) -> str:
        """Return what a person calls it."""
        return "fuse" if self.fuse is not None else "breaker"


def fitted(device: ProtectiveDevice | None) -> ProtectiveDevice | None:
    """Return the device, or None where a way or a holder has none in it."""
    return device if device is not None and (device.fuse is not None or device.breaker is not None) else None


class InlineDevice(ProtectiveDevice):
    """A device that sits on a run, at a distance from one of its ends."""

    end: End = told("The end of the run that the distance is measured from.", default=End.start)
    distance: Length | None = told("Length of conductor between that end and the device.", example="150 mm")
    holder: str | None = told("What holds it, and where.", example="in-line holder behind the battery box")


class _OneMayStandAlone:
    """Says in the JSON Schema that a single device may be written as a list of one, without a name."""

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        named = handler(core)
        alone = {"type": "array", "items": named["additionalProperties"], "minItems": 1, "maxItems": 1}
        return {"anyOf": [named, alone]}


InlineDevices = Annotated[dict[str, InlineDevice], _OneMayStandAlone()]
"""In-line devices by name."""
