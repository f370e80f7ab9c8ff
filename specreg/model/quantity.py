"""Field types that carry a physical dimension: text with a unit outside, SI inside."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from specreg.units import ConductorSize, Dimension, NotAQuantity, parse, parse_conductor, usual_units

EITHER_WAY = {Dimension.temperature, Dimension.temperature_difference, Dimension.angle, Dimension.per_kelvin}
"""Dimensions of which a quantity may be below zero; else only a place may, to either side of a point."""


@dataclass(frozen=True)
class Measured:
    """Marks a float as a quantity of one dimension, written as text with a unit; `signed`: or below zero."""

    dimension: Dimension
    signed: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read text with a unit to SI."""
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.to_string_ser_schema()
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Offer the notations that would do, for editors."""
        units = ", ".join(usual_units(self.dimension))
        return {"type": "string", "description": f"{self.dimension.value}, with a unit: {units}"}

    def read(self, value: Any) -> float:
        """Return the quantity in SI, or say what would do instead."""
        if isinstance(value, str):
            try:
                found = parse(value, self.dimension)
            except NotAQuantity as problem:
                raise _refused(problem) from None
            if found < 0 and not self.signed and self.dimension not in EITHER_WAY:
                raise _refused(NotAQuantity("it cannot be below zero", usual_units(self.dimension)))
            return found
        raise PydanticCustomError(
            "quantity",
            "{reason}",
            {
                "reason": f"{_shown(value)} is not a {self.dimension.value.replace('_', ' ')} with a unit",
                "units": usual_units(self.dimension),
                "nearest": None,
            },
        )


def _shown(value: Any) -> str:
    return "a bare number" if isinstance(value, int | float) and not isinstance(value, bool) else "this"


def _refused(problem: NotAQuantity) -> PydanticCustomError:
    return PydanticCustomError(
        "quantity",
        "{reason}",
        {"reason": problem.reason, "units": problem.units, "nearest": problem.nearest},
    )


@dataclass(frozen=True)
class _ConductorText:
    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.to_string_ser_schema()
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "description": "conductor size", "examples": ["1.5 mm²", "10 AWG"]}

    @staticmethod
    def read(value: Any) -> ConductorSize:
        if not isinstance(value, str):
            raise PydanticCustomError(
                "quantity",
                "{reason}",
                {
                    "reason": "a conductor size is written with mm² or AWG",
                    "units": ("1.5 mm²", "14 AWG"),
                    "nearest": None,
                },
            )
        try:
            return parse_conductor(value)
        except NotAQuantity as problem:
            raise _refused(problem) from None


def _day(value: Any) -> Any:
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            pass
    raise PydanticCustomError(
        "day",
        "{reason}",
        {
            "reason": "a date is written year-month-day, such as 2026-05-03",
            "units": ("2026-05-03",),
            "nearest": None,
        },
    )


Day = Annotated[date, BeforeValidator(_day)]
Conductor = Annotated[ConductorSize, _ConductorText()]

Length = Annotated[float, Measured(Dimension.length)]
Offset = Annotated[float, Measured(Dimension.length, signed=True)]
"""How far something is from a point, to either side of it."""
Area = Annotated[float, Measured(Dimension.area)]
Volume = Annotated[float, Measured(Dimension.volume)]
Mass = Annotated[float, Measured(Dimension.mass)]
Duration = Annotated[float, Measured(Dimension.time)]
Temperature = Annotated[float, Measured(Dimension.temperature)]
TemperatureDifference = Annotated[float, Measured(Dimension.temperature_difference)]
Current = Annotated[float, Measured(Dimension.current)]
Voltage = Annotated[float, Measured(Dimension.voltage)]
Resistance = Annotated[float, Measured(Dimension.resistance)]
Power = Annotated[float, Measured(Dimension.power)]
Energy = Annotated[float, Measured(Dimension.energy)]
Charge = Annotated[float, Measured(Dimension.charge)]
Pressure = Annotated[float, Measured(Dimension.pressure)]
Flow = Annotated[float, Measured(Dimension.flow)]
MassFlow = Annotated[float, Measured(Dimension.mass_flow)]
Force = Annotated[float, Measured(Dimension.force)]
Angle = Annotated[float, Measured(Dimension.angle)]
Frequency = Annotated[float, Measured(Dimension.frequency)]
Conductivity = Annotated[float, Measured(Dimension.thermal_conductivity)]
HeatTransfer = Annotated[float, Measured(Dimension.heat_transfer)]
Density = Annotated[float, Measured(Dimension.density)]
Share = Annotated[float, Measured(Dimension.share)]
PerKelvin = Annotated[float, Measured(Dimension.per_kelvin)]
BurnRate = Annotated[float, Measured(Dimension.burn_rate)]


def dimension_of(annotation_metadata: list[Any]) -> Dimension | None:
    """Return the dimension that a field's metadata states, if it is a quantity."""
    for item in annotation_metadata:
        if isinstance(item, Measured):
            return item.dimension
    return None
