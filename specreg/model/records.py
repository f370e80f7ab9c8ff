"""What was measured, signed, weighed and served; and what was released in spite of a finding."""

from typing import Literal

from specreg.model.field import Reader, Spec, must, told
from specreg.model.quantity import Day, Duration, Mass, Pressure
from specreg.model.vehicle import Weighing


class Test(Spec):
    """A test with its reading."""

    test: str = must("Which test.", example="insulation-resistance")
    on: str | None = told("What was tested: a component, a run or a system.", example="mains")
    value: str | None = told("The reading, with its unit.", example="2.4 MΩ")
    result: Literal["within the limit", "outside the limit"] | None = told("What the tester concluded.")
    method: str | None = told("How it was done.")
    pressure: Pressure | None = told("Pressure at which a tightness test began.", example="150 mbar")
    held: Duration | None = told("Time between its two readings.", example="5 min")
    instrument: str | None = told("Instrument, with its serial number.", reader=Reader.workshop)
    calibrated_on: Day | None = told("Day of the instrument's last calibration.", reader=Reader.workshop)
    by: str | None = told("Role of the person.", example="registered electrician")
    name: str | None = told("Name of the person.", reader=Reader.owner)
    licence: str | None = told("Licence number.", reader=Reader.owner)
    date: Day | None = told("Day of the test.", example="2026-05-03")
    covers: str | None = told(
        "Fingerprint of what was tested, as the trade's sheet prints it; when the thing changes, "
        "the sheet asks for the test again.",
        example="3f9a10c2",
    )


class Photo(Spec):
    """A photograph of a place before it is covered, or as it was handed over."""

    file: str = must("The file, below the build's folder of files.", reader=Reader.owner, example="W12.jpg")
    shows: tuple[str, ...] = told(
        "What it shows: ids or designations of components and runs.", default=(), example="[pump-feed, W12]"
    )
    at: str | None = told("At which hold point it was taken.", example="panels-close")
    date: Day | None = told("Day on which it was taken.")
    checksum: str | None = told("SHA-256 of the file, as `specreg record` writes it.")
    note: str | None = told("What is to be seen.", reader=Reader.owner)


class SignOff(Spec):
    """A competent person's dated word on a matter that no written spec can decide."""

    matter: str = must("The rule that asked for it.", example="seating/anchorage-is-a-professionals-job")
    target: str | None = told("The component or run; left out where the matter is the whole build.")
    result: Literal["accepted", "refused"] = told("What the person concluded.", default="accepted")
    by: str | None = told("Role of the person.", example="registered seat installer")
    name: str | None = told("Name of the person.", reader=Reader.owner)
    licence: str | None = told("Licence number.", reader=Reader.owner)
    reference: str | None = told("Number of the certificate or report.", reader=Reader.owner)
    certificate: str | None = told("File of the certificate.", reader=Reader.owner)
    certificate_checksum: str | None = told("SHA-256 of that file.", reader=Reader.owner)
    date: Day | None = told("Day of signing.", example="2026-04-11")
    expires_on: Day | None = told("Day after which it no longer holds.")
    covers: str | None = told(
        "Fingerprint of what was signed, as the inspection prints it; when the thing changes, "
        "the matter is open again.",
        example="3f9a10c2",
    )
    note: str | None = told("What the person remarked.", reader=Reader.owner)


class Concession(Spec):
    """Permission to release something that does not conform."""

    rule: str = must("The rule that failed.", example="dc/voltage-drop-critical")
    target: str | None = told("The component or run; left out where the rule judges the whole build.")
    reason: str = must("Why it is released as it is.")
    granted_by: str = must("Who grants it.", example="workshop lead")
    outside: bool = told("Whether that person is competent and not of the workshop.", default=False)
    date: Day | None = told("Day on which it was granted.")
    until: Day | None = told("Day until which it holds.", example="2027-05-01")


class WalkRound(Spec):
    """The counted walk around the van before hand-over: what was found against what is written."""

    date: Day | None = told("Day of the walk-round.")
    by: str | None = told("Who walked round.", reader=Reader.owner)
    counts: dict[str, int] = told(
        "How many of each were found, by kind of component or `devices` for fuses and breakers.",
        factory=dict,
        example="{devices: 14, light: 6}",
    )


class Service(Spec):
    """Something done to the van after hand-over."""

    date: Day | None = told("Day of the work.")
    what: str = must("What was done.")
    on: str | None = told("Component that it was done on.")
    duty: str | None = told("The duty of the care calendar that it fulfils.", example="sanitise-water")
    by: str | None = told("Who did it.", reader=Reader.owner)


class Records(Spec):
    """Everything recorded about one van."""

    tests: tuple[Test, ...] = told("Tests with their readings.", default=())
    sign_offs: tuple[SignOff, ...] = told("What competent people signed.", default=())
    photos: tuple[Photo, ...] = told("Photographs of places.", default=())
    weighings: tuple[Weighing, ...] = told("Weighbridge tickets.", default=())
    planned_mass: Mass | None = told(
        "Mass that the conversion was to add when it was ordered.", example="620 kg"
    )
    walk_round: WalkRound | None = told("The counted walk-round before hand-over.")
    services: tuple[Service, ...] = told("Work since hand-over.", default=())
    handed_over_on: Day | None = told("Day of hand-over.")
