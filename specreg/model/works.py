"""The works on a van: tasks, hands, days, what work and margin cost, what is quoted to the client."""

import re
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, model_validator
from pydantic_core import PydanticCustomError

from specreg.model.component import SupplyState
from specreg.model.field import Spec, Word, told
from specreg.model.quantity import Day, Duration, Share

PRICE = re.compile(r"(?P<amount>\d+(?:\.\d+)?)\s*(?P<currency>[A-Z]{3})(?:\s*/\s*(?P<per>h|m|m²|kg|l|L))?")
"""How a price is written: an amount, the three letters of ISO 4217, and what it is for one of."""


def _price(text: str) -> str:
    if PRICE.fullmatch(text.strip()) is None:
        raise PydanticCustomError(
            "price",
            "{reason}",
            {"reason": "a price is an amount with its currency, such as 129 GBP or 0.85 GBP/m"},
        )
    return text


Price = Annotated[str, AfterValidator(_price)]


class Skill(Word):
    """Whose work a task is; the last four are licensed or competent persons to be booked."""

    fitter = "fitter"
    joiner = "joiner"
    sheet_metal = "sheet-metal worker"
    upholsterer = "upholsterer"
    electrician = "electrician"
    gas_engineer = "gas-engineer"
    seat_fitter = "seat-fitter"
    examiner = "examiner"


BOOKED = (Skill.electrician, Skill.gas_engineer, Skill.seat_fitter, Skill.examiner)
"""People who are booked, and for whom the workshop has no hands of its own unless it says so."""


class Task(Spec):
    """A piece of work; one with the id of a derived task says more about that."""

    title: str | None = told("What is done.", example="Make the galley cabinets")
    skill: Skill | None = told("Whose work it is.", example="joiner")
    hours: Duration | None = told("Working time of one pair of hands.", example="16 h")
    hands: int = told("How many work on it at once.", default=1, example="2")
    after: tuple[str, ...] = told("Tasks that must be finished before.", default=(), example="[linings]")
    before: tuple[str, ...] = told("Tasks that wait for it.", default=(), example="[panels-close]")
    fits: tuple[str, ...] = told("Components that it fits, by id.", default=(), example="[galley-cabinet]")
    who: str | None = told("Who does it.")
    earliest: Day | None = told("Day before which it cannot begin.")
    done: Day | None = told("Day on which it was finished.")


class Supply(Spec):
    """What is bought by the metre or the piece and has no entry in the catalogue: cable, pipe, fuses."""

    supplier: str | None = told("Who sells it.")
    price: Price | None = told("Price paid for one, or for a metre.", example="0.85 GBP/m")
    sale_price: Price | None = told("Price that the client pays.", example="1.20 GBP/m")
    lead_time: Duration | None = told("Time from order to delivery.", example="10 days")
    state: SupplyState | None = told("Where it is between the order and the van.", example="here")


class Quote(Spec):
    """The quotation that the owner's edition shows."""

    number: str | None = told("Its number.", example="Q-031")
    date: Day | None = told("Day on which it was made.")
    until: Day | None = told("Day until which it holds.")
    tax: Share | None = told("Tax that is added to the sum.", example="20 %")
    tax_name: str | None = told("What that tax is called.", example="VAT")


class Works(Spec):
    """How the work on the van is planned and paid; a register's settings may say what all vans share."""

    starts: Day | None = told("Day on which the work begins.", example="2026-02-02")
    due: Day | None = told("Day by which the van is promised.")
    priority: int = told("Which van goes first where hands are short: 1 before 2.", default=1)
    hours_per_day: Duration | None = told("Working time of a day; 8 h without it.", example="7.5 h")
    working_days: tuple[Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"], ...] = told(
        "Days of the week on which is worked.", default=("mon", "tue", "wed", "thu", "fri")
    )
    closed: tuple[Day, ...] = told("Days on which is not worked.", default=())
    hands: dict[Skill, int] = told(
        "How many people of a skill the workshop has for all its vans.",
        factory=dict,
        example="{fitter: 2, joiner: 1}",
    )
    hours_per_run: Duration | None = told("Time to lay a cable, pipe, hose or duct, where a task says none.")
    hours_per_thing: Duration | None = told("Time to fit a component, where a task says none.")
    rate: Price | None = told("What an hour of work costs.", example="46 GBP/h")
    sale_rate: Price | None = told("What the client pays for an hour of work.", example="58 GBP/h")
    margin: Share | None = told("What is added to cost where no sale price is stated.", example="18 %")
    tasks: dict[str, Task] = told("Tasks by id.", factory=dict)
    materials: dict[str, Supply] = told(
        "Prices and suppliers of cable, pipe and fuses, by the names that `specreg order` prints.",
        factory=dict,
        example="{cable 25 mm²: {price: 6.40 GBP/m, lead_time: 3 days}}",
    )
    quote: Quote | None = told("The quotation that the owner's edition shows; none without it.")

    @model_validator(mode="after")
    def _can_be_worked(self) -> Self:
        wrong = _not_positive(self)
        if wrong:
            raise PydanticCustomError(
                "works", "{wrong} is too little to work with", {"wrong": ", ".join(wrong)}
            )
        if not self.working_days:
            raise PydanticCustomError("works", "`working_days` names no day on which is worked")
        return self


def _not_positive(works: Works) -> list[str]:
    """Return what is stated as nothing or less and cannot be."""
    counts: dict[str, Any] = {f"hands of {skill}": count for skill, count in works.hands.items()}
    counts["hours_per_day"] = works.hours_per_day
    counts |= {f"hands of {name}": task.hands for name, task in works.tasks.items()}
    times = {"hours_per_run": works.hours_per_run, "hours_per_thing": works.hours_per_thing}
    times |= {f"hours of {name}": task.hours for name, task in works.tasks.items()}
    times |= {f"lead_time of {name}": one.lead_time for name, one in works.materials.items()}
    none = [name for name, count in counts.items() if count is not None and count <= 0]
    return none + [name for name, time in times.items() if time is not None and time < 0]
