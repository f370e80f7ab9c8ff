"""How the van will be used: people, places, seasons."""

from typing import Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.field import Spec, must, told
from specreg.model.quantity import Angle, Duration, Flow, Mass, Offset, Share, Temperature, Volume


class People(Spec):
    """Who travels and sleeps in it."""

    adults: int = told("Adults.", default=0)
    children: int = told("Children.", default=0)
    dogs: int = told("Dogs.", default=0)


class Place(Spec):
    """Where and in which months it will stand, with the climate that is counted on."""

    name: str | None = told("What the place is called.")
    latitude: Angle = must("Latitude, north positive.", example="56 deg")
    months: tuple[int, ...] = told("Months as numbers, 1 for January.", default=())
    clearness: Share | None = told("Mean clearness index of those months.", example="42 %")
    poor_week_clearness: Share | None = told("Clearness of a poor week.", example="20 %")
    night_temperature: Temperature | None = told("Lowest temperature at night.", example="-10 °C")
    day_temperature: Temperature | None = told("Mean temperature by day in those months.", example="8 °C")
    altitude: Offset | None = told("Height above the sea.", example="1200 m")
    source: str | None = told("Where these figures come from.")

    @model_validator(mode="after")
    def _real_months(self) -> Self:
        wrong = [str(month) for month in self.months if not 1 <= month <= 12]
        if wrong:
            raise PydanticCustomError(
                "months", "{wrong} is no month: 1 is January, 12 is December", {"wrong": ", ".join(wrong)}
            )
        return self


class Use(Spec):
    """What the van is for, in figures."""

    purpose: str | None = told("What it is for, in a sentence.")
    people: People = told("Who travels and sleeps in it.", factory=People)
    nights_off_grid: int | None = told("Nights in a row without hook-up.", example="6")
    shore_nights: int | None = told("Nights on hook-up between two such times; 0 for none.", example="2")
    driving_per_day: Duration | None = told("Time driven on a typical day of a trip.", example="1.5 h")
    evening_loads: tuple[str, ...] = told(
        "Loads that run between 17 and 22 h only, by id.", default=(), example="[ceiling-lights, radio]"
    )
    places: tuple[Place, ...] = told("Where and when.", default=())
    water_per_person: Volume | None = told("Fresh water per person and day.", example="12 L")
    water_use: dict[str, Volume] = told(
        "Fresh water per person and day by what it is used for, in place of `water_per_person`.",
        factory=dict,
        example="{drinking: 3 L, dishes: 4 L, shower: 5 L}",
    )
    bleach: Share | None = told(
        "Strength of the bleach that the owner sanitises with, as printed on it.", example="5.25 %"
    )
    black_per_person: Volume | None = told("Toilet waste per person and day.", example="2 L")
    urine_per_person: Volume | None = told("Urine per person and day, where it is kept apart.")
    evaporated: Share | None = told("Share of the fresh water that does not reach the grey tank.")
    personal_effects: Mass | None = told("Mass of personal effects that is counted on.", example="150 kg")
    dog_mass: Mass | None = told("Mass of one dog.", example="25 kg")
    gas_while_driving: bool | None = told("Whether gas appliances run while driving.")
    reserve: Share | None = told("State of charge that is kept in reserve.", example="20 %")
    inside_temperature: Temperature | None = told("Temperature that it is heated to.", example="18 °C")
    inside_humidity: Share | None = told(
        "Relative humidity inside that is counted on; else it follows from people and air.", example="60 %"
    )
    drying: Mass | None = told("Water that wet things give off inside in a night.", example="300 g")
    night: Duration | None = told("How long people sleep and the heater runs at night.", example="8 h")
    design_flow: Flow | None = told("Flow that a tap should give.", example="6 L/min")
