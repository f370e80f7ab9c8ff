"""How a value is written where its field says no example of its own: invented, and none is a default."""

from __future__ import annotations

from specreg.units import Dimension

DAY = "2026-05-03"
WHOLE = "2"

QUANTITIES: dict[Dimension, str] = {
    Dimension.length: "300 mm",
    Dimension.area: "120 cm²",
    Dimension.volume: "20 L",
    Dimension.mass: "4.5 kg",
    Dimension.time: "2 h",
    Dimension.temperature: "60 °C",
    Dimension.temperature_difference: "5 K",
    Dimension.current: "10 A",
    Dimension.voltage: "12.8 V",
    Dimension.resistance: "20 mΩ",
    Dimension.power: "60 W",
    Dimension.energy: "1.2 kWh",
    Dimension.charge: "100 Ah",
    Dimension.pressure: "30 mbar",
    Dimension.flow: "8 L/min",
    Dimension.mass_flow: "120 g/h",
    Dimension.force: "500 N",
    Dimension.angle: "30°",
    Dimension.frequency: "50 Hz",
    Dimension.thermal_conductivity: "0.035 W/(m·K)",
    Dimension.heat_transfer: "1.1 W/(m²·K)",
    Dimension.density: "600 kg/m³",
    Dimension.share: "20 %",
    Dimension.per_kelvin: "-0.27 %/K",
    Dimension.burn_rate: "80 mm/min",
}

WORDS: dict[str, str] = {
    "additive": "sanitising fluid, 100 mL to 10 L",
    "at": "[2150 mm, 620 mm, 150 mm]",
    "below": "[regulator, hob]",
    "blocked_by": "[fridge]",
    "booked": DAY,
    "breaks": "[rear-window]",
    "by": "registered electrician",
    "centre_of_mass": "[2300 mm, 700 mm, 200 mm]",
    "certificate": "certificates/gas-2026.pdf",
    "certificate_checksum": "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
    "checksum": "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
    "contact": "by post, through the workshop",
    "covered_by": "drawer-front",
    "covers": "[side-window]",
    "do": "Have the switch renewed.",
    "done": DAY,
    "filler_at": "[3100 mm, 900 mm, 400 mm]",
    "hides": "[pump-feed]",
    "instrument": "multifunction tester 0417",
    "keys": "door 1, tank 2",
    "licence": "licence 00000",
    "locker": "gas-locker",
    "maker": "Example Works",
    "maker_allows": "converter's handbook, section 4",
    "manual": "manuals/pump.pdf",
    "material": "polyethylene, food grade",
    "method": "two-wire, leads nulled",
    "model": "EW-12",
    "months": "[6, 7, 8]",
    "name": "as on the certificate",
    "note": "Shut it before driving.",
    "on": "water-pump",
    "opens_into": "wash-room",
    "owner": "as in private.yaml",
    "part": "diaphragm-pump-10l",
    "photo": "photos/-F3.jpg",
    "plate": "as in private.yaml",
    "protection_at_edges": "grommet in the bulkhead",
    "purpose": "Work trips of a week.",
    "reason": "The part comes in June; the circuit stays off until then.",
    "reference": "report 17 of 2026",
    "route": "[under-floor, bulkhead]",
    "ruled_out": DAY,
    "seated_at": "[[1500 mm, -400 mm, 0 mm]]",
    "serial": "EW-0001",
    "shut_by": "[bicycle-carrier]",
    "size": "[300 mm, 200 mm, 150 mm]",
    "source": "the maker's data sheet",
    "stored_in": "locker-left",
    "supplier": "Example Supplies",
    "target": "water-pump",
    "ticket": "ticket 0815",
    "title": "Water pump",
    "told": DAY,
    "vin": "as in private.yaml",
    "what": "Cartridge renewed",
    "who": "the owner",
    "label": "Water pump",
    "kind": "pump",
    "date": DAY,
}
"""Examples of texts and lists by the key that holds them."""

CONDUCTORS = ("protective_conductor", "return_conductor")
NUMBERS = {"routing_factor": "1.3", "way_count": "12"}


def example_for(key: str, dimension: Dimension | None, *, whole: bool = False, day: bool = False) -> str:
    """Return how a value of a key is written; empty where only its own field could tell."""
    if dimension is not None:
        return QUANTITIES.get(dimension, "")
    if key in CONDUCTORS:
        return "1.5 mm²"
    if day:
        return DAY
    return NUMBERS.get(key) or WORDS.get(key) or (WHOLE if whole else "")
