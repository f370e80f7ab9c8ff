"""Arguments and options that commands share, and the words that they take."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click
from click.shell_completion import CompletionItem

from specreg.cli.completing import BuildPath

if TYPE_CHECKING:
    ParamType = click.ParamType[Any]
else:
    ParamType = click.ParamType

Command = TypeVar("Command", bound=Callable[..., Any])

OWN_PROCESS = "a process of its own"
"""What a command is given by `specreg` itself. A program that calls a command may have changed ours first:
for it nothing is taken from what an earlier process kept."""


class StageName(ParamType):
    """A stage between enquiry and service."""

    name = "stage"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the stage, or say which there are and which is nearest."""
        from specreg.model.build import Stage
        from specreg.source import nearest_word

        words = [stage.value for stage in Stage]
        if value in words:
            return Stage(value)
        near = nearest_word(str(value), words)
        hint = f'; nearest is "{near}"' if near else ""
        return self.fail(f'there is no stage "{value}"; stages are {", ".join(words)}{hint}', param, ctx)

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """Offer the stages, in their order."""
        from specreg.model.build import Stage

        return [CompletionItem(stage.value) for stage in Stage if stage.value.startswith(incomplete)]


class Day(ParamType):
    """A day, written year-month-day."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the day, or say how one is written."""
        from datetime import date

        try:
            if len(value) != len("2026-05-20"):
                raise ValueError
            return date.fromisoformat(value)
        except ValueError:
            self.fail(f'"{value}" is no day; a day is written year-month-day, such as 2026-05-20', param, ctx)


def example(text: str) -> str:
    """Return a text for the end of a help page that keeps its lines."""
    return "\b\nExample:\n" + "\n".join(f"  {line}" for line in text.splitlines())


BUILD = click.argument("build", type=BuildPath(), metavar="BUILD")
INTO_FILE = click.option(
    "--output", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead of printing."
)
ON = click.option("--on", type=Day(), metavar="DATE", help="The day to judge by; else the spec's `as_of`.")


def formats(*names: str) -> Callable[[Command], Command]:
    """Return the option that chooses among forms of output, the first by default."""
    return click.option("--format", "form", type=click.Choice(names), default=names[0], show_default=True)
