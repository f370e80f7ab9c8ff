"""Beds, mattresses, curtains, and the lift of a bed."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, LoadKind, System
from specreg.model.field import told
from specreg.model.port import Medium, Port, Way
from specreg.model.quantity import Area, BurnRate, Duration, HeatTransfer, Length, Mass
from specreg.model.shape import Shaped
from specreg.model.structure import Lock

Side = Literal["front", "rear", "left", "right", "below"]


class Bed(Shaped):
    """A bed; shapes `stowed` and `made` where it is not always made."""

    system: ClassVar[System] = System.space
    kind: Literal["bed"]
    form: Literal["fixed", "convertible", "fold-down bunk", "motor-lifted", "roof bed"] | None = told(
        "How it is made ready."
    )
    places: int = told("How many people sleep in it.", default=1)
    length: Length | None = told("Length to lie on.", example="1900 mm")
    width: Length | None = told("Width to lie on, at its widest.", example="1400 mm")
    least_width: Length | None = told("Width at its narrowest.", example="1200 mm")
    lies: Literal["along", "across"] | None = told("Which way people lie in the van.")
    surface_height: Length | None = told("Top of the mattress above the floor when made.", example="820 mm")
    headroom: Length | None = told("Height free above the mattress when made.", example="750 mm")
    made_from: tuple[str, ...] = told(
        "Components that become part of it when made.", default=(), example="[dinette-bench, table]"
    )
    open_sides: tuple[Side, ...] = told(
        "Sides over which a person can leave it when made.", default=(), example="[front]"
    )
    load_limit: Mass | None = told("Greatest load on it.", example="200 kg")
    guard_height: Length | None = told("Height of its guard above the mattress.", example="160 mm")
    guard_side: tuple[Side, ...] = told("Sides that the guard covers.", default=())
    least_age: int | None = told("Least age in years for sleeping in it, as labelled.", example="6")
    lock: Lock | None = told("What holds it stowed under way.")
    lock_points: int | None = told("How many locks hold it stowed.", example="2")
    lifted_by: str | None = told("The lift that moves it.", example="bed-lift")
    reached_by: str | None = told("The ladder or step to it.", example="bunk-ladder")


class BedLift(Consumer):
    """A motor that raises and lowers a bed."""

    system: ClassVar[System] = System.space
    letter: ClassVar[str] = "M"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    kind: Literal["bed-lift"]
    lifts: str | None = told("The bed that it moves.", example="lift-bed")
    mechanism: Literal["belt", "cable", "rack", "spindle", "scissor"] | None = told("What carries the bed.")
    lifting_limit: Mass | None = told("Greatest load while it moves.", example="30 kg")
    travel: Length | None = told("Height of its travel.", example="900 mm")
    travel_time: Duration | None = told("Time for the whole travel.", example="30 s")
    stops_on_obstacle: bool | None = told("Whether it stops by itself when something is in the way.")
    end_switches: bool | None = told("Whether switches stop it at both ends.")
    hold_to_run: bool | None = told("Whether it moves only while a button is held.")
    self_locking: bool | None = told("Whether it holds the bed without power.")
    control_at: Literal["below", "above", "both"] | None = told(
        "From where a control can be reached, with the bed made."
    )
    control_height: Length | None = told("Height of the lower control above the floor.", example="1100 mm")
    upper_control_height: Length | None = told(
        "Height of the upper control above the mattress.", example="250 mm"
    )
    ignition_lockout: bool | None = told("Whether it is dead while the ignition is on.")
    hand_way: str | None = told("How the bed is moved with a dead motor.", example="crank in the wardrobe")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and the port for its controls."""
        return (SUPPLY, Port("control", Medium.control, way=Way.into))


class Mattress(Component):
    """A mattress or a set of cushions."""

    system: ClassVar[System] = System.space
    kind: Literal["mattress"]
    lies_on: str | None = told("The bed that it lies on.", example="rear-bed")
    thickness: Length | None = told("Thickness.", example="120 mm")
    filling: str | None = told("What it is filled with.", example="cold foam")
    aired_below: bool | None = told("Whether slats or a mat let air pass below it.")
    burn_rate: BurnRate | None = told("Horizontal burn rate of its cover.", example="60 mm/min")
    burn_test: str | None = told("The test that the burn rate comes from.", example="ISO 3795 report")


class Curtain(Shaped):
    """A curtain, blind or insulating mat; shapes `drawn` and `open` where it matters."""

    system: ClassVar[System] = System.space
    kind: Literal["curtain"]
    form: Literal["curtain", "roller blind", "folding blind", "insulating mat"] | None = told("What it is.")
    covers: tuple[str, ...] = told("Windows, exits or spaces that it covers when drawn.", default=())
    area: Area | None = told("Its area when drawn.", example="1.1 m²")
    u_value: HeatTransfer | None = told(
        "Heat transfer coefficient of the window with it drawn.", example="2.1 W/(m²·K)"
    )
    burn_rate: BurnRate | None = told("Horizontal burn rate.", example="70 mm/min")
    burn_test: str | None = told("The test that the burn rate comes from.", example="ISO 3795 report")


KINDS: tuple[type[Component], ...] = (Bed, BedLift, Mattress, Curtain)
