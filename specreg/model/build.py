"""One van: the header of its spec, its components and its runs."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from specreg.model.attached import NOWHERE, Attached
from specreg.model.component import Component
from specreg.model.field import Reader, Spec, Word, must, told
from specreg.model.join import Ends
from specreg.model.quantity import Conductor, Day, Temperature
from specreg.model.recall import Recall
from specreg.model.records import Concession, Records
from specreg.model.run import Run
from specreg.model.use import Use
from specreg.model.vehicle import Vehicle
from specreg.model.works import Works
from specreg.source import Mapping as Tree
from specreg.source import Place, at, key_place_of, place_of


class Stage(Word):
    """Where a van is between enquiry and service; hold points stand among the stages, in order."""

    enquiry = "enquiry"
    design = "design"
    ordered = "ordered"
    building = "building"
    panels_close = "panels-close"
    energise = "energise"
    gas_on = "gas-on"
    commissioning = "commissioning"
    hand_over = "hand-over"
    in_service = "in-service"

    def reached(self, other: "Stage") -> bool:
        """Tell whether this stage is `other` or later."""
        order = list(Stage)
        return order.index(self) >= order.index(other)


class Jurisdiction(Word):
    """Where the van is to be registered and used: this chooses limits and code references."""

    uk = "uk"
    eu = "eu"
    us = "us"
    ca = "ca"
    au = "au"
    nz = "nz"


SYSTEMS = (
    "dc",
    "solar",
    "mains",
    "water",
    "grey-water",
    "black-water",
    "gas",
    "combustion",
    "travel-seats",
    "beds",
)
"""The systems that a spec declares present or absent, so that nothing passes by omission."""

SystemName = Literal[
    "dc", "solar", "mains", "water", "grey-water", "black-water", "gas", "combustion", "travel-seats", "beds"
]


class DeclaredSystems(Spec):
    """Which systems the van has and which it has not, with the day on which that was said."""

    declared: Day | None = told("Day of this declaration.", example="2026-02-01")
    present: tuple[SystemName, ...] = told("Systems that the van has.", default=())
    none: tuple[SystemName, ...] = told("Systems that the van has not.", default=())


class Defaults(Spec):
    """What the workshop sets once, so that not every line must say it."""

    insulation: Temperature | None = told("Insulation class of its standard cable.", example="105 °C")
    mains_insulation: Temperature | None = told("Insulation class of its standard mains cable.")
    routing_factor: float = told(
        "Cable and pipe length over the straight distance along the axes.", default=1.2
    )
    conductor: Conductor | None = told("Its standard conductor.", example="1.5 mm²")


class Header(Spec):
    """Everything in a spec but its components, runs and circuits."""

    format: Literal[1] = must("Version of the spec's format.", example="1")
    build: str = must("Name of the build; equals its folder's.", example="heron")
    title: str = must("What the van is called.", example="Two-berth survey van")
    stage: Stage = must("Where it is between enquiry and service.", example="design")
    jurisdictions: Annotated[tuple[Jurisdiction, ...], Field(min_length=1)] = must(
        "Where it will be registered and used.", example="[uk]"
    )
    units: Literal["metric", "us"] = told("In which units figures are shown.", default="metric")
    as_of: Day | None = told("The day on which this spec is to be judged.", example="2026-05-20")
    revision: str | None = told("Revision of the as-built spec.", example="B")
    summary: str | None = told("The van in two sentences, for everybody.")
    workshop: str | None = told("Name of the workshop.")
    workshop_contact: str | None = told("How an owner reaches the workshop.", reader=Reader.owner)
    vehicle: Vehicle = told("The base vehicle.", factory=Vehicle)
    use: Use = told("What it is for.", factory=Use)
    systems: DeclaredSystems = told("Which systems it has.", factory=DeclaredSystems)
    modes: dict[str, dict[str, str]] = told(
        "Which shape or state things take by day, by night, while driving, while loading.",
        factory=dict,
        example="{night: {bunk: down}}",
    )
    renamed: dict[str, str] = told(
        "Ids given up for others, so that things keep their designations: old id to new.",
        factory=dict,
        example="{water-pump: galley-pump, fuse-box/4: fuse-box/pump}",
    )
    records: Records = told("What was measured, signed, weighed.", factory=Records)
    concessions: tuple[Concession, ...] = told("What was released in spite of a finding.", default=())
    works: Works = told("How the work is planned and paid.", reader=Reader.workshop, factory=Works)
    defaults: Defaults = told("The workshop's standards.", factory=Defaults)
    recalls: dict[str, Recall] = told(
        "What makers call back, by name: read from the register's `recalls/`, not written in a spec.",
        factory=dict,
    )


@dataclass(frozen=True)
class Build:
    """One van, read and validated; what could not be read was set aside and reported.

    `ends` tells which ports each run joins. `tree` is the merged source, kept for the places of findings.
    `designations` maps ids of components, runs and devices (`fuse-box/4`) to reference designations.
    `set_aside` names broken entries, `attached` knows the files that records name.
    """

    header: Header
    components: Mapping[str, Component]
    runs: Mapping[str, Run]
    ends: Mapping[str, Ends]
    tree: Tree
    designations: Mapping[str, str] = field(default_factory=dict)
    set_aside: frozenset[str] = frozenset()
    attached: Attached = field(default=NOWHERE, repr=False, compare=False)

    @property
    def name(self) -> str:
        """Return the build's name."""
        return self.header.build

    def path(self, subject: str) -> tuple[str, ...]:
        """Return the path of a component or run in the spec."""
        return ("components", subject) if subject in self.components else ("runs", subject)

    def place(self, subject: str, *fields: str | int) -> Place:
        """Return where a component, a run or one of its fields is written."""
        path = (*self.path(subject), *fields) if subject else fields
        return place_of(self.tree, path)

    def key_place(self, subject: str) -> Place:
        """Return where the entry of a component or run begins."""
        return key_place_of(self.tree, self.path(subject)) if subject else self.tree.place

    def origin(self, subject: str, *fields: str | int) -> tuple[Place, ...]:
        """Return the places that the value came from besides its own: parts and assemblies."""
        node = at(self.tree, (*self.path(subject), *fields))
        return node.origin if node else ()
