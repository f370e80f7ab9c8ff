"""Which tests each trade makes on which things: the one place that says so.

A limit stands here only where no rule states one; those that rules state are taken from them. Where neither
has a figure the text says what is right, and whose word that is.
"""

from __future__ import annotations

from typing import NamedTuple

from specreg.rules.document import RuleSource
from specreg.trade import things
from specreg.trade.things import Find
from specreg.trade.trades import Trade


class TradeTest(NamedTuple):
    """One test: who makes it, on what, how, and what is right where no rule has a figure for it.

    `rule` and `limit` name the rule whose limit or source counts where the rule does not read the records.
    `states` are figures of how it was done that the record holds besides: column, rule, limit of the rule.
    """

    name: str
    trade: Trade
    on: Find
    how: str
    expects: str = ""
    sources: tuple[RuleSource, ...] = ()
    rule: str = ""
    limit: str = ""
    jurisdictions: tuple[str, ...] = ()
    states: tuple[tuple[str, str, str], ...] = ()


def _source(how: str, document: str | None = None, clause: str | None = None) -> RuleSource:
    return RuleSource.model_validate({"how": how, "document": document, "clause": clause})


COMMON = (_source("common practice"),)
PLATE = (_source("common practice", "the maker's plate and instructions"),)

ELECTRICIAN = (
    TradeTest(
        "earth-continuity",
        Trade.electrician,
        things.earthed,
        "low-resistance meter, from the earth pin of the inlet; the leads' own resistance taken off",
    ),
    TradeTest(
        "insulation-resistance",
        Trade.electrician,
        things.circuits,
        "500 V d.c., line and neutral together to earth, loads off",
    ),
    TradeTest(
        "dielectric",
        Trade.electrician,
        things.mains,
        "line and neutral to ground, switches closed, electronics unplugged; before and after panels close",
        "no breakdown at 900 V a.c. for 1 min or 1,080 V a.c. for 1 s",
        (_source("memory", "NEC", "551.60"),),
        jurisdictions=("us", "ca"),
    ),
    TradeTest("polarity", Trade.electrician, things.outlets, "at the outlet, on every source", "correct"),
    TradeTest(
        "residual-current-trip-time",
        Trade.electrician,
        things.residual_devices,
        "at its rated residual current, both half-waves, on every source that it serves; then its button",
    ),
    TradeTest(
        "neutral-earth-bond",
        Trade.electrician,
        things.sources,
        "continuity from neutral to earth while this source feeds the van",
        rule="mains/neutral-earth-bond",
    ),
    TradeTest(
        "body-voltage", Trade.electrician, things.mains, "from the body to true earth, at several places"
    ),
    TradeTest(
        "voltage-drop",
        Trade.electrician,
        things.critical_loads,
        "at its terminals, every load on, in volts; the limit is a share of the nominal voltage",
        rule="dc/voltage-at-loads",
        limit="critical",
    ),
    TradeTest(
        "terminal-torque",
        Trade.electrician,
        things.direct_current,
        "torque driver and mark, every main lug",
        "the makers' values",
        PLATE,
    ),
    TradeTest(
        "thermal",
        Trade.electrician,
        things.inverters,
        "half an hour at full load, the warmest joint over its neighbour",
        "less than about 20 K",
        (_source("memory"),),
    ),
    TradeTest(
        "battery-settings",
        Trade.electrician,
        things.banks,
        "read from every charger",
        "as the battery maker's sheet",
        PLATE,
    ),
)

GAS_ENGINEER = (
    TradeTest(
        "gas-tightness",
        Trade.gas_engineer,
        things.gas_system,
        "pressure, settling time and time of the test by the standard that holds here; value is the loss",
        states=(
            ("pressure", "gas/tightness-tested-as-asked", "pressure"),
            ("held", "gas/tightness-tested-as-asked", "time"),
        ),
    ),
    TradeTest(
        "gas-lock-up",
        Trade.gas_engineer,
        things.regulators,
        "all taps shut, after running",
        "as the regulator's plate",
        PLATE,
    ),
    TradeTest(
        "carbon-monoxide",
        Trade.gas_engineer,
        things.gas_appliances,
        "in the room: every burner on for 15 min at least, openings shut, fixed vents open",
        "no rise over the air outside",
        (_source("secondary", "inspectors' practice"),),
    ),
)

SEAT_FITTER = (
    TradeTest(
        "anchorage-torque",
        Trade.seat_fitter,
        things.anchorages,
        "torque wrench, every bolt, then marked",
        "by the test report or the maker",
        PLATE,
    ),
)

EXAMINER = (
    TradeTest("alarm", Trade.examiner, things.alarms, "test button", "sounds", COMMON),
    TradeTest(
        "carbon-monoxide",
        Trade.examiner,
        things.other_burners,
        "in the room: at full output for 15 min at least, openings shut, fixed vents open",
        "no rise over the air outside",
        (_source("secondary", "inspectors' practice"),),
    ),
    TradeTest("water-hold", Trade.examiner, things.water, "filled, pump at cut-off, every tap shut"),
    TradeTest(
        "waste-drain", Trade.examiner, things.drains, "every sink and tray run, watched from below", "no leak"
    ),
    TradeTest(
        "sanitising",
        Trade.examiner,
        things.fresh_tanks,
        "50 mg/L of chlorine, four hours at least, rinsed",
        "done",
    ),
    TradeTest("rain", Trade.examiner, things.body, "hose, moisture meter at windows and roof", "dry", COMMON),
    TradeTest("road-test", Trade.examiner, things.vehicle, "30 km at least", "nothing loose", COMMON),
)

TESTS: tuple[TradeTest, ...] = (*ELECTRICIAN, *GAS_ENGINEER, *SEAT_FITTER, *EXAMINER)
"""Every test of every trade, in the order in which it is made."""
