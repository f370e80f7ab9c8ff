"""Kinds of argument that a shell can complete: paths of builds, rules, stages, things in a van.

What is offered is read from files as they stand; a shell asks often, so only what is needed is read.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem

if TYPE_CHECKING:
    ParamType = click.ParamType[Any]
else:
    ParamType = click.ParamType


class BuildPath(click.Path):
    """The folder of a build or of a register."""

    def __init__(self) -> None:
        super().__init__(path_type=Path)

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """Offer folders that are a build or a register, or that hold others; never hidden ones."""
        before, _, begun = incomplete.rpartition("/")
        home = Path(f"{before}/" if "/" in incomplete else ".")
        lead = f"{before}/" if "/" in incomplete else ""
        names = sorted(one.name for one in _folders(home) if one.name.startswith(begun))
        ours = [name for name in names if _holds_builds(home / name)]
        return [CompletionItem(f"{lead}{name}") for name in ours or names]


def _folders(home: Path) -> Iterator[Path]:
    try:
        yield from (one for one in home.iterdir() if one.is_dir() and not one.name.startswith("."))
    except OSError:
        return


def _holds_builds(folder: Path) -> bool:
    if (folder / "spec.yaml").is_file() or (folder / "register.yaml").is_file():
        return True
    return any((one / "spec.yaml").is_file() for one in _folders(folder))


class RuleName(ParamType):
    """The identity of a rule."""

    name = "rule"

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """Offer the shipped rules and those of a register that stands before it on the line."""
        from specreg import shipped

        folders = [shipped.rules_folder()]
        register = ctx.params.get("register")
        folders += [Path(os.fspath(register)) / "rules"] if register else []
        paths = (path for folder in folders for path in folder.glob("*/*.md"))
        return offered((f"{path.parent.name}/{path.stem}" for path in paths), incomplete)


class SubjectName(ParamType):
    """A component, run or device of the build that stands before it on the line."""

    name = "subject"

    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        """Offer the ids of the build, or of the register, as far as it can be read."""
        # an option that still lacks its value leaves the words before it unsorted
        build = ctx.params.get("build") or next(iter(ctx.args), None)
        if build is None:
            return []
        from specreg.facts.engine import Facts
        from specreg.output.trace import traceable
        from specreg.workshop import load

        return offered((name for one in load(build).sound for name in traceable(Facts(one))), incomplete)


def offered(names: Iterable[str], incomplete: str) -> list[CompletionItem]:
    """Return the names that begin like what was typed, in order."""
    return [CompletionItem(name) for name in sorted(set(names)) if name.startswith(incomplete)]
