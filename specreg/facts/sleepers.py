"""What sleeping people give off: carbon dioxide, water, warmth."""

from __future__ import annotations

from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.shell_areas import Span
from specreg.model.sleeping import Bed
from specreg.tables import environment

ASLEEP = "metabolic-rate-asleep"
ROOM = 18.0
"""°C at which the volume of their carbon dioxide is told."""
DOG = 0.293
"""MJ a day of a mammal of 1 kg at rest, in step with mass to the power ¾ (Kleiber): from memory."""
SECONDS, MEGAJOULE = 86_400.0, 1e6


def persons(van: Facts) -> tuple[int, int]:
    """Return adults and children asleep: as the use says, else one adult for each place to sleep."""
    people = van.build.header.use.people
    if people.adults or people.children:
        return people.adults, people.children
    places = sum(bed.places * bed.count for bed in van.of_class(Bed))
    if not places:
        raise Missing("use.people")
    van.assume("one adult asleep at each place of the beds: the spec does not say who travels")
    return places, 0


def _per_person(sex: str, age: float) -> float:
    rate = environment.constant(ASLEEP).value
    return environment.carbon_dioxide_generation(sex, age, rate, ROOM).value


def _dogs(van: Facts) -> float:
    dogs = van.build.header.use.people.dogs
    if not dogs:
        return 0.0
    mass = float(van.whole.use.dog_mass)
    van.assume("a dog's breath from its mass (Kleiber, from memory)")
    basal = DOG * mass**0.75
    litres = 0.000569 * environment.RESPIRATORY_QUOTIENT * basal * environment.constant(ASLEEP).value
    return float(dogs * litres / 1000 * (273.15 + ROOM) / 273.15)


def carbon_dioxide_of_all(van: Facts) -> Span:
    """Return the m³/s of carbon dioxide of all that sleep: women and small children to men and large ones."""
    adults, children = persons(van)
    van.assume("adults taken between a woman of 30 and a man of 21 to 30, children between 3 and 16 years")
    dogs = _dogs(van)
    least = adults * _per_person("F", 30) + children * _per_person("F", 3) + dogs
    return Span(least, adults * _per_person("M", 21) + children * _per_person("M", 11) + dogs)


def water_of_all(van: Facts) -> float:
    """Return the kg/s of water of all people asleep and of wet things that dry; dogs are not counted."""
    adults, children = persons(van)
    if van.build.header.use.people.dogs:
        van.assume("moisture of dogs is not counted: no source")
    people = (adults + children) * environment.constant("moisture-asleep").value
    if van.build.header.use.drying is None:
        return people
    return people + float(van.whole.use.drying / van.whole.night_length)


BASAL_FEMALE = 6.08  # MJ a day, women of 30 to 40: Persily & de Jonge 2017, table 4


def warmth_of_all(van: Facts) -> float:
    """Return the W that people asleep give off at least: a woman's basal rate × 0.95, adults only."""
    adults, _ = persons(van)
    return adults * BASAL_FEMALE * MEGAJOULE / SECONDS * environment.constant(ASLEEP).value
