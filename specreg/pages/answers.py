"""The questions that owners ask: when each is asked, what it answers, and where the book tells more.

The questions are the themes that owners are known to ask about; wording and answers are ours. The rules of
the emergency page hold here too: with gas no switch, with carbon monoxide out first, a fuse once by the same
rating, mains for a licensed electrician only.
"""

from __future__ import annotations

from specreg.model.seating import Seating
from specreg.pages import answers_living as living
from specreg.pages import answers_power as power
from specreg.pages import checklists, fitted
from specreg.pages.content import Signal
from specreg.pages.questions import Question, always, each, has, only, placed, written

WATER: tuple[Question, ...] = (
    Question(
        "no-water",
        "water",
        lambda van: van.kinds("pump") and van.kinds(*living.TAPS),
        ("first",),
        (each("fault-water.html", *living.TAPS), each("fault-water.html", "pump")),
    ),
    Question(
        "pump-runs",
        "water",
        living.electric_pumps,
        (
            living.stop_pumps,
            "empty",
            "look",
            placed("pump-runs.check", "check-valve", "accumulator", "toilet"),
            "back",
        ),
        ("emergency.html#water", "water.html#pipes"),
        Signal.caution,
    ),
    Question(
        "fill",
        "water",
        has("fresh-tank"),
        (placed("fill.at", "filler"), living.weights_of_water, "watch"),
        ("how-to.html#*fill*", "water.html#tanks", "weights.html#left"),
    ),
    Question(
        "drink",
        "water",
        has("fresh-tank"),
        ("when", living.bleach, "stand", placed("drink.filter", "water-filter")),
        ("care.html#counted", "care.html#dated"),
        Signal.warning,
    ),
    Question(
        "winterise",
        "water",
        has("fresh-tank", "water-heater", "grey-tank"),
        ("first", living.drains, "last"),
        ("how-to.html#*winter*", "how-to.html#*drain*", "lists.html#before-winter"),
    ),
    Question(
        "dump",
        "water",
        has(*living.WASTE),
        (placed("dump.tank", *living.WASTE), placed("dump.valve", "waste-valve"), "where"),
        ("how-to.html#*empty*", "how-to.html#*waste*", "water.html#valves"),
    ),
    Question(
        "no-hot-water",
        "water",
        has("water-heater", "combined-heater"),
        ("time", "gas"),
        (
            lambda van: [f"fault-water.html#{n}-cold" for n in van.kinds(*living.TAPS)],
            each("fault-water.html", "water-heater"),
        ),
        Signal.warning,
    ),
    Question(
        "frost-valve",
        "water",
        has("frost-valve"),
        (
            placed("frost-valve.where", "frost-valve"),
            written("frost-valve.opens", "opens_at", "frost-valve"),
            written("frost-valve.closes", "closes_at", "frost-valve"),
            "pump_off",
            "warm",
            "fill",
        ),
        ("water.html#valves", "lists.html#waking-it-in-spring"),
    ),
    Question(
        "drain-smell",
        "water",
        has("grey-tank", "drain-trap", "sink"),
        (
            placed("drain-smell.trap", "drain-trap"),
            placed("drain-smell.tank", "grey-tank"),
            placed("drain-smell.vent", "waste-vent"),
        ),
        ("care.html#counted", "emergency.html#gas"),
        Signal.warning,
        warned=fitted.gas_stores,
    ),
    Question(
        "leak",
        "water",
        lambda van: living.electric_pumps(van) or van.kinds("fresh-tank"),
        (living.stop_pumps, "then"),
        ("emergency.html#water",),
    ),
)

HEAT: tuple[Question, ...] = (
    Question(
        "cylinder",
        "heat",
        has("gas-cylinder"),
        ("shut", placed("cylinder.where", "gas-cylinder"), "seal", "tight", "bubbles", "smell"),
        ("how-to.html#*cylinder*", "how-to.html#*gas*", "emergency.html#gas"),
        Signal.danger,
        ordered=True,
    ),
    Question(
        "gas-abroad",
        "heat",
        fitted.gas_stores,
        (
            written("gas-abroad.pressure", "outlet_pressure", "regulator"),
            written("gas-abroad.burns", "burns", "hob", "oven", "fridge", *living.HEATERS),
            "adapter",
        ),
        ("heat.html#gas",),
        Signal.warning,
    ),
    Question(
        "heat-driving",
        "heat",
        lambda van: fitted.burners(van) or van.kinds("fridge"),
        (living.burns_while_driving, placed("heat-driving.fridge", "fridge"), "fuel"),
        ("lists.html#before-you-drive",),
    ),
    Question(
        "heater-code",
        "heat",
        has(*living.HEATERS),
        ("write", written("heater-code.manual", "manual", *living.HEATERS)),
        (each("fault-heat.html", *living.HEATERS), "parts.html#heat"),
    ),
    Question(
        "heater-smokes",
        "heat",
        living.diesel_heaters,
        (
            "off",
            only(has("fuel-takeoff"), "heater-smokes.tank"),
            written("heater-smokes.left", "reserve_left", "fuel-takeoff"),
            living.altitude,
            placed("heater-smokes.flue", "flue-terminal"),
        ),
        (each("fault-heat.html", *living.HEATERS), "emergency.html#co"),
        Signal.danger,
    ),
    Question(
        "flame",
        "heat",
        living.gas_burners,
        ("shut", "air", "empty", "call"),
        (each("fault-heat.html", *living.FLAMES), "emergency.html#co"),
        Signal.danger,
    ),
    Question(
        "hole",
        "heat",
        has("vent", "gas-drop-out"),
        (living.openings, only(has("gas-drop-out"), "hole.gas"), "why"),
        ("heat.html#fitted",),
        Signal.danger,
    ),
    Question(
        "condensation",
        "heat",
        lambda van: van.build.header.use.people.adults or van.kinds("bed"),
        ("why", living.wet_places, placed("condensation.air", *checklists.OPENINGS), "heat", "wipe"),
        ("heat.html#night",),
    ),
)

SAFETY: tuple[Question, ...] = (
    Question(
        "alarm",
        "safety",
        has(*living.ALARMS),
        ("sounds", only(has("gas-alarm"), "alarm.gas"), living.alarms, "chirp"),
        ("emergency.html#co", "emergency.html#gas", "emergency.html#fire", "care.html#dated"),
        Signal.danger,
    ),
    Question(
        "door",
        "safety",
        has("exit"),
        (living.ways_out, placed("door.hammer", "escape-hammer"), "try"),
        ("emergency.html#fire", "beds.html#out"),
    ),
    Question(
        "extinguisher",
        "safety",
        has("extinguisher", "fire-blanket"),
        (
            living.extinguishers,
            placed("extinguisher.blanket", "fire-blanket"),
            "never",
            only(fitted.lithium, "extinguisher.lithium"),
        ),
        ("emergency.html#fire", "care.html#dated"),
        Signal.danger,
    ),
    Question(
        "seats",
        "safety",
        lambda van: van.of(Seating),
        (living.road_seats, "child"),
        ("beds.html#seats",),
        Signal.warning,
    ),
    Question("gas-smell", "safety", fitted.gas_stores, ("go",), ("emergency.html#gas",), Signal.danger),
    Question(
        "burning-smell",
        "safety",
        always,
        ("go",),
        ("emergency.html#burning", "emergency.html#lithium", "emergency.html#fire"),
        Signal.danger,
    ),
)

VEHICLE: tuple[Question, ...] = (
    Question(
        "load",
        "vehicle",
        always,
        (living.limits, "weigh"),
        ("weights.html#left", "weights.html#where-more", "weights.html#permitted"),
    ),
    Question(
        "tyres",
        "vehicle",
        always,
        (living.pressures, living.heights, "jack"),
        ("weights.html#tyres", "index.html#van"),
    ),
    Question(
        "drive-with",
        "vehicle",
        lambda van: (
            van.build.header.modes.get(checklists.DRIVING) or van.kinds("bed-lift", "pop-top", "awning")
        ),
        (
            living.states_to_drive,
            placed("drive-with.shut", "pop-top", "awning", "powered-awning", "bed-lift"),
        ),
        ("lists.html#before-you-drive",),
        Signal.warning,
    ),
    Question(
        "service", "vehicle", always, ("who", living.trades, "own"), ("care.html#dated", "care.html#counted")
    ),
    Question(
        "papers",
        "vehicle",
        always,
        (living.records, "insurer", "next"),
        ("check.html", "weights.html#weighed", "parts.html", "care.html"),
    ),
)

POWER: tuple[Question, ...] = (
    Question(
        "which-fuse",
        "power",
        power.devices,
        (power.boxes, "once", only(fitted.has_mains, "which-fuse.mains")),
        ("electrics.html#feeds", "electrics.html#devices", "emergency.html#fuse"),
        Signal.warning,
    ),
    Question(
        "all-dead",
        "power",
        has("battery"),
        (power.disconnects, power.lithium, "then"),
        (lambda van: [f"fault-power.html#{n}" for n in van.kinds("fuse-box", "mains-board")],),
    ),
    Question(
        "how-full",
        "power",
        has("battery"),
        (placed("how-full.gauge", *power.GAUGES), "volts"),
        ("energy.html#nights", "energy.html#daily", "energy.html#trip"),
    ),
    Question(
        "no-charge",
        "power",
        has(*power.CHARGERS),
        (placed("no-charge.source", *power.CHARGERS), "full"),
        ("fault-charging.html#*",),
    ),
    Question(
        "kettle",
        "power",
        power.has_mains,
        (power.mains_power, power.appliances, "plate", "sum"),
        ("electrics.html#figures", "energy.html#daily"),
        Signal.caution,
    ),
    Question("rcd", "power", power.residual, ("short",), ("emergency.html#residual",), Signal.warning),
    Question(
        "hook-up-abroad",
        "power",
        has("shore-inlet"),
        (
            written("hook-up-abroad.pattern", "pattern", "shore-inlet"),
            written("hook-up-abroad.voltage", "rated_voltage", "shore-inlet"),
            written("hook-up-abroad.limit", "input_limit", "inverter-charger"),
            "adapter",
            "polarity",
            "test",
        ),
        ("how-to.html#*hook*", "how-to.html#*shore*", "emergency.html#shock"),
        Signal.danger,
    ),
    Question(
        "inverter-night",
        "power",
        has(*power.INVERTERS),
        (power.idle, "off"),
        ("energy.html#daily", "energy.html#nights"),
    ),
    Question(
        "jump-start", "power", has("battery"), ("no", "how"), ("emergency.html#starter",), Signal.warning
    ),
    Question(
        "battery-frost",
        "power",
        has("battery"),
        (power.cold_batteries,),
        ("lists.html#before-winter",),
        Signal.caution,
    ),
    Question(
        "battery-store",
        "power",
        has("battery"),
        ("store",),
        ("lists.html#leaving-it-for-days", "lists.html#before-winter", "care.html#counted"),
    ),
    Question(
        "add",
        "power",
        has("fuse-box"),
        (power.spare_ways, "plugged", "workshop", only(fitted.has_mains, "add.mains")),
        ("electrics.html#devices", "electrics.html#cables", "energy.html#change"),
        Signal.warning,
    ),
)

QUESTIONS: tuple[Question, ...] = (*WATER, *POWER, *HEAT, *SAFETY, *VEHICLE)
"""All questions in the order of the page."""
