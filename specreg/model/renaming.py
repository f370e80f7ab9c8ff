"""Things that got another id and keep their designation: the label in the van stays true."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from specreg.model.build import Build
from specreg.model.designation import designated
from specreg.source import Problem, key_place_of, nearest_word, place_of


def current_id(old: str, renamed: Mapping[str, str]) -> str:
    """Return what an id is called now; a box takes its ways and devices along.

    What was renamed in a circle is called by its old id still.
    """
    seen: set[str] = set()
    name = old
    while name not in seen:
        seen.add(name)
        owner, slash, inner = name.partition("/")
        if name in renamed:
            name = renamed[name]
        elif slash and owner in renamed:
            name = f"{renamed[owner]}/{inner}"
        else:
            return name
    return old


def carried_over(designations: Mapping[str, str], renamed: Mapping[str, str]) -> dict[str, str]:
    """Return the designations by the ids of today; of two for one thing that which was given first."""
    found: dict[str, str] = {}
    retired: dict[str, str] = {}
    for old, label in designations.items():
        name = current_id(old, renamed)
        (found if name not in found else retired)[name if name not in found else old] = label
    return {**found, **{name: label for name, label in retired.items() if name not in found}}


def renaming_problems(build: Build, given: Mapping[str, str]) -> Iterator[Problem]:
    """Yield what is wrong with the ids that a spec says were renamed; `given` are labels as on file."""
    renamed = build.header.renamed
    if not renamed:
        return
    there = {name for name, _ in designated(build)}
    for old in renamed:
        new = current_id(old, renamed)
        path = ("renamed", old)
        if old in there:
            yield Problem(
                key_place_of(build.tree, path),
                f"`{old}` is said to be called `{renamed[old]}` now, and is there under its old id too",
                remedy="give the new thing an id that was never used, or take the line out",
            )
        elif new not in there and new.partition("/")[0] not in build.set_aside:
            yield Problem(
                place_of(build.tree, path),
                f"`{old}` is said to be called `{new}` now, which is nothing that bears a designation",
                read=renamed[old],
                expected="the id of a component, a run, a device or a way with one in it",
                nearest=nearest_word(new, there),
            )
    yield from _twice(build, given)


def _twice(build: Build, given: Mapping[str, str]) -> Iterator[Problem]:
    """Yield a problem for each thing that would have two designations."""
    first: dict[str, str] = {}
    for old in given:
        new = current_id(old, build.header.renamed)
        other = first.setdefault(new, old)
        if other != old:
            yield Problem(
                place_of(build.tree, ("renamed", other if other != new else old)),
                f"`{new}` would be {given[other]} and {given[old]}: it has a designation under both ids",
                remedy=f"keep one label on it: take {given[old]} out of designations.yaml if that was never "
                "stuck on, else the line here",
            )
