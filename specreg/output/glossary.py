"""The words that specreg uses and whose words they are, as Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.model.build import Jurisdiction, Stage
from specreg.model.field import Reader
from specreg.model.port import Medium
from specreg.output.source import KNOWN_HOW
from specreg.rules.document import Level
from specreg.rules.result import Answer
from specreg.units import Dimension, usual_units

TERMS: tuple[tuple[str, str, str], ...] = (
    ("accepted record", "file of failures that are known; they are shown and do not stop a check", "ours"),
    ("ampacity", "current that a conductor carries for ever under the conditions of its installation", "IEC 60050-826"),
    ("as-built", "what was really fitted, as against what was ordered", "trade"),
    ("assembly", "set of components and runs that a workshop fits again and again, with parameters", "trade"),
    ("axle load", "the part of the vehicle's mass that one axle bears", "ISO 1176"),
    ("breaking capacity", "greatest current that a fuse or breaker can break at a stated voltage", "IEC 60050-441"),
    ("build", "one van", "trade"),
    ("component", "a thing fitted in the van", "trade"),
    ("concession", "permission to release something that does not conform: who, why, until when", "ISO 9000"),
    ("commissioning", "testing before release", "trade"),
    ("design current", "current that a circuit is meant to carry in normal service", "IEC 60050-826"),
    ("device", "fuse or breaker, in a way of a box or in line on a run", "trade"),
    ("evidence", "the figures that an answer compared", "ISO 19011"),
    ("fact", "a computed figure or statement about a build, with its formula, inputs and source", "ours"),
    ("finding", "what came of putting a rule to a subject", "ISO 19011"),
    ("hand-over", "giving the van to its owner", "trade"),
    ("hold point", "stage that a build does not pass before something was looked at", "trade"),
    ("in line", "of a device that sits on a run and not in a box", "trade"),
    ("mark", "eight digits over what a sign-off or a test covers: they change when that does", "ours"),
    ("mass in running order", "mass of the vehicle as it is driven, with driver, fuel and fixed equipment", "EU 2021/535"),
    ("part", "entry of the catalogue: what a data sheet says, once", "trade"),
    ("payload", "permitted mass less the mass in running order", "EU 2021/535"),
    ("port", "place of a component where a run may end", "ours"),
    ("prospective fault current", "current that would flow at a place if it were shorted there", "IEC 60050-826"),
    ("reference designation", "short name on labels and drawings, such as -F3, given once and for good", "IEC 81346"),
    ("register", "the folder of all builds, with parts, assemblies and recalls", "trade"),
    ("run", "one cable, pipe, hose or duct between two ports", "trade"),
    ("sign-off", "a competent person's dated word on a matter that no tool can decide", "trade"),
    ("spec", "what is written of a build, in YAML", "trade"),
    ("voltage drop", "loss of voltage along a circuit at its design current", "IEC 60050-826"),
    ("way", "place of a fuse box or panel for one device and one circuit", "trade"),
    ("zone", "named part of the vehicle that serves as a place", "trade"),
)  # fmt: skip
"""Term, meaning, whose word it is; the meanings are in our own words."""

ANSWERS = {
    Answer.passes: "what is written keeps the rule; the figures are shown",
    Answer.fails: "what is written breaks the rule",
    Answer.open: "it cannot be told, because a field is not stated; the field is named",
    Answer.review: "a competent person must look at the vehicle",
    Answer.not_applicable: "the van has nothing that the rule is about; the reason is given",
}

LEVELS = {
    Level.error: "a code, a standard or plain physics is broken",
    Level.warning: "common practice, or a standard's advice, is not kept",
    Level.note: "worth knowing",
}

STAGES = {
    Stage.enquiry: "a client has asked",
    Stage.design: "the van is being settled on paper",
    Stage.ordered: "the client has ordered; parts are on the way",
    Stage.building: "work has begun",
    Stage.panels_close: "hold point: linings hide cables and pipes from here on",
    Stage.energise: "hold point: the electrics are switched on for the first time",
    Stage.gas_on: "hold point: gas is let in for the first time",
    Stage.commissioning: "everything is tested",
    Stage.hand_over: "hold point: the owner takes the van",
    Stage.in_service: "the owner lives with it",
}

READERS = {
    Reader.public: "anybody: safe for the open web",
    Reader.owner: "the owner: names, plate, serial numbers",
    Reader.workshop: "the workshop: costs and suppliers as well",
}

MEDIA = {
    Medium.dc: "extra-low voltage direct current",
    Medium.ac: "mains, from shore or an inverter",
    Medium.water: "water to drink and to wash, heating water",
    Medium.waste: "grey and black water",
    Medium.gas: "liquefied petroleum gas",
    Medium.fuel: "diesel or petrol",
    Medium.air: "warm, cold or combustion air in a duct",
    Medium.exhaust: "what a combustion appliance blows out",
    Medium.control: "signals and data",
    Medium.support: "what a component is fastened to",
}


def glossary() -> str:
    """Return the words as Markdown: terms, then the closed lists that a spec and a finding use."""
    parts = [
        "# Words",
        _table(("Word", "Means", "Whose"), TERMS),
        _list("What a rule answers", ((word.value, said) for word, said in ANSWERS.items())),
        _list("How much a failure weighs", ((word.value, said) for word, said in LEVELS.items())),
        _list("Stages and hold points, in order", ((stage.value, STAGES[stage]) for stage in Stage)),
        _list(
            "Readers, each reads all that the one before reads", ((one.value, READERS[one]) for one in Reader)
        ),
        _list("What a run carries", ((medium.value, MEDIA[medium]) for medium in Medium)),
        "## Jurisdictions\n\n" + ", ".join(f"`{one.value}`" for one in Jurisdiction),
        _list("How a source is known", KNOWN_HOW.items()),
        "## Quantities\n\n" + _table(("Quantity", "Units that would do"), _quantities()),
    ]
    return "\n\n".join(parts) + "\n"


def _list(title: str, rows: Iterable[tuple[str, str]]) -> str:
    return f"## {title}\n\n" + _table(("Word", "Means"), rows)


def _table(heads: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = ["| " + " | ".join(heads) + " |", "|" + " --- |" * len(heads)]
    return "\n".join([*lines, *("| " + " | ".join(row) + " |" for row in rows)])


def _quantities() -> Iterator[tuple[str, str]]:
    for dimension in Dimension:
        units = usual_units(dimension)
        if units and dimension is not Dimension.plain:
            yield dimension.value.replace("_", " "), ", ".join(units)
