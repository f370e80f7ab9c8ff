"""Recalls as a van's spec carries them: laid into it from the register's `recalls/`, never written there."""

from specreg.model.field import Reader, Spec, told

Several = str | tuple[str, ...]


class Affected(Spec):
    """What a recall affects: a part, or a maker's model, by serial numbers and days."""

    part: str | None = told("The part of the catalogue.", example="diaphragm-pump-10l")
    maker: str | None = told("Who made it.", reader=Reader.owner)
    maker_model: str | None = told("The maker's name or number for it.", reader=Reader.owner, written="model")
    kind: str | None = told("The kind of component.")
    serials: Several = told(
        "Ranges of serial numbers.", default=(), reader=Reader.owner, example="A100..A199"
    )
    made: str | None = told("Days of manufacture.", example="2025-10..2026-03")
    fitted: str | None = told("Days of fitting.", example="2025-10..2026-03")


class Dealt(Spec):
    """How far a van is dealt with, each step with its day."""

    owner_told: str | None = told("Day on which the owner was told.", written="told")
    booked: str | None = told("Day for which the work is booked.")
    done: str | None = told("Day on which it was done.")
    ruled_out: str | None = told("Day on which somebody looked, and it is none of them.")
    note: str | None = told("A remark.", reader=Reader.workshop)


class Recall(Spec):
    """One recall, with what is recorded of this van."""

    title: str = told("What is called back.", default="")
    source: str = told("Who called it back, where.", default="")
    date: str | None = told("Day of the recall.")
    affects: tuple[Affected, ...] = told("What it affects.", default=())
    do: str = told("What to do.", default="")
    builds: dict[str, Dealt] = told("By build, the steps taken.", factory=dict, reader=Reader.workshop)
