"""Alarms, extinguishers, what helps to get out, and notices."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, System
from specreg.model.field import Reader, Spec, told
from specreg.model.port import Medium, Port, Role, Way
from specreg.model.quantity import Day, Duration, Length, Mass, Volume

PowerSource = Literal["van", "own battery", "van and own battery"]
Hazard = Literal["smoke", "heat", "carbon monoxide", "lpg"]


class SelfPowered(Consumer):
    """Something that runs on its own battery, on the van's, or on both."""

    system: ClassVar[System] = System.fire
    powered_by: PowerSource | None = told("What it runs on.")
    battery_type: str | None = told("Its own battery.", example="lithium, sealed, 10 years")
    battery_renewed_on: Day | None = told("Day on which its own battery was last renewed.")
    battery_life: Duration | None = told("How long its own battery lasts by its maker.", example="1 year")

    def ports(self) -> tuple[Port, ...]:
        """Return the supply port; it is dead without a supply only where it has no battery of its own."""
        if self.powered_by == "own battery":
            return ()
        if self.powered_by == "van":
            return (SUPPLY,)
        return (Port("supply", Medium.dc, Role.pair, Way.into, main=True),)


class Alarm(SelfPowered):
    """What alarms have."""

    letter: ClassVar[str] = "B"
    hazard: ClassVar[Hazard]
    also_detects: tuple[Hazard, ...] = told("What it detects besides.", default=())
    standard: str | None = told("The standard on its plate.", example="EN 50291-2")
    for_vehicles: bool | None = told("Whether its maker states it for leisure vehicles.")
    mounted: Literal["ceiling", "wall", "low wall"] | None = told("Where it is mounted.")
    height: Length | None = told("Its height above the floor, where `at` does not say it.", example="1750 mm")
    below_ceiling: Length | None = told("Distance of its upper edge below the ceiling.", example="200 mm")
    from_nearest_wall: Length | None = told("Distance from the nearest wall, on a ceiling.", example="350 mm")
    from_appliance: Length | None = told(
        "Horizontal distance from the nearest thing that burns a fuel.", example="1.4 m"
    )
    from_cooker: Length | None = told("Distance from the hob.", example="1.9 m")
    serves: tuple[str, ...] = told(
        "Beds or spaces that it stands for.", default=(), example="[rear-bed, roof-bed]"
    )
    tested_on: Day | None = told("Day on which its test button was last pressed.")
    mutes: bool | None = told("Whether a button silences it for a while.")


class SmokeAlarm(Alarm):
    """A smoke alarm."""

    hazard: ClassVar[Hazard] = "smoke"
    kind: Literal["smoke-alarm"]
    sensor: Literal["optical", "ionisation", "thermal", "optical and thermal"] | None = told(
        "How it detects."
    )


class CoAlarm(Alarm):
    """A carbon monoxide alarm."""

    hazard: ClassVar[Hazard] = "carbon monoxide"
    kind: Literal["co-alarm"]
    shows_concentration: bool | None = told("Whether it shows the concentration.")


class GasAlarm(Alarm):
    """An alarm for leaking gas."""

    hazard: ClassVar[Hazard] = "lpg"
    kind: Literal["gas-alarm"]
    shuts: str | None = told("The valve that it shuts.", example="gas-solenoid")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and the port that acts on a valve."""
        return (*super().ports(), Port("control", Medium.control, way=Way.out))


class Extinguisher(Component):
    """A fire extinguisher; `mass` is without its agent."""

    system: ClassVar[System] = System.fire
    letter: ClassVar[str] = "F"
    kind: Literal["extinguisher"]
    agent: (
        Literal["dry powder", "foam", "water mist", "wet chemical", "carbon dioxide", "clean agent"] | None
    ) = told("The agent in it.")
    classes: tuple[Literal["A", "B", "C", "D", "F", "K"], ...] = told(
        "Classes of fire on its plate.", default=(), example="[A, B, C]"
    )
    rating: str | None = told("Rating on its plate.", example="8A 34B C")
    standard: str | None = told("The standard on its plate.", example="EN 3-7")
    content: Mass | None = told("Mass of the agent.", example="1 kg")
    content_volume: Volume | None = told("Volume of a liquid agent.", example="2 l")
    gauge: bool | None = told("Whether it has a pressure gauge.")
    near: str | None = told("The exit that it hangs by, where no place is given.", example="side-door")
    bracket: str | None = told("What holds it under way.", example="steel bracket with quick release")
    serviced_on: Day | None = told("Day of its last service.")
    service_interval: Duration | None = told("Time between services by its maker.", example="2 years")


class FireBlanket(Component):
    """A fire blanket."""

    system: ClassVar[System] = System.fire
    letter: ClassVar[str] = "F"
    kind: Literal["fire-blanket"]
    standard: str | None = told("The standard on its plate.", example="EN 1869")
    width: Length | None = told("Width when unfolded.", example="1.1 m")
    length: Length | None = told("Length when unfolded.", example="1.1 m")
    near: str | None = told("The hob that it hangs by, where no place is given.", example="hob")


class FirstAidKit(Component):
    """A first-aid kit."""

    system: ClassVar[System] = System.fire
    kind: Literal["first-aid-kit"]
    standard: str | None = told("The standard on its plate.", example="DIN 13164")
    stowed_in: str | None = told("Where it is kept.", example="passenger-seat")


class EscapeHammer(Component):
    """A hammer to break a window."""

    system: ClassVar[System] = System.fire
    kind: Literal["escape-hammer"]
    breaks: tuple[str, ...] = told("Exits of tempered glass that it is for.", default=())
    belt_cutter: bool | None = told("Whether it also cuts a belt.")


class WarningTriangle(Component):
    """A warning triangle."""

    system: ClassVar[System] = System.vehicle
    letter: ClassVar[str] = "P"
    kind: Literal["warning-triangle"]
    stowed_in: str | None = told("Where it is kept.", example="rear-garage")


class WarningVest(Component):
    """A warning vest; `count` says how many."""

    system: ClassVar[System] = System.vehicle
    kind: Literal["warning-vest"]
    standard: str | None = told("The standard on its label.", example="EN ISO 20471")
    stowed_in: str | None = told("Where it is kept.", example="cab door")


class Wording(Spec):
    """The text of a notice in one language."""

    language: str | None = told("Language of the text.", example="en")
    text: str | None = told("The words.", example="Shut off all appliances before refuelling.")


class Notice(Component):
    """A notice or label that has to stay readable."""

    system: ClassVar[System] = System.records
    letter: ClassVar[str] = "P"
    kind: Literal["notice"]
    purpose: (
        Literal[
            "gas locker",
            "hook-up",
            "refuelling",
            "escape",
            "ventilation",
            "travel seat",
            "not a travel seat",
            "bed load",
            "vehicle masses",
            "tyres",
            "alteration",
            "battery",
            "other",
        ]
        | None
    ) = told("What it is about.")
    text: str | None = told("The words on it.", example="Only seats marked so may be used on the road.")
    further: tuple[Wording, ...] = told("The words in further languages.", default=())
    where: str | None = told("Where it hangs.", example="inside the locker door")
    beside: str | None = told("The component that it belongs to.", example="gas-locker")
    photo: str | None = told("Photo of it in place.", reader=Reader.owner)


class EmergencyLight(SelfPowered):
    """A lamp that shows the way out when the van's supply is dead, or a torch with a holder."""

    letter: ClassVar[str] = "E"
    kind: Literal["emergency-light"]
    lights: tuple[str, ...] = told("Exits that it lights.", default=(), example="[side-door]")
    endurance: Duration | None = told("How long it lights on its own battery.", example="3 h")
    comes_on: Literal["by itself", "by hand"] | None = told("How it comes on.")


KINDS: tuple[type[Component], ...] = (
    SmokeAlarm,
    CoAlarm,
    GasAlarm,
    Extinguisher,
    FireBlanket,
    FirstAidKit,
    EscapeHammer,
    WarningTriangle,
    WarningVest,
    Notice,
    EmergencyLight,
)
