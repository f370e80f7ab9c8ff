"""Reference designations by IEC 81346: assigned once, kept, never given to anything else again."""

from collections.abc import Iterator

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.device import fitted
from specreg.model.run import Cable


def designated(build: Build) -> Iterator[tuple[str, str]]:
    """Yield every thing that carries a designation with its class letter, in the order of the spec."""
    for name, component in build.components.items():
        yield name, component.letter
        yield from ((f"{name}/{device}", "F") for device in devices_in(component))
    for name, run in build.runs.items():
        yield name, run.letter
        if isinstance(run, Cable):
            yield from ((f"{name}/{device}", "F") for device in run.protection)


def devices_in(component: Component) -> tuple[str, ...]:
    """Return the names of the devices that a box holds: those of its ways, and its main one."""
    named = (link.name for link in component.links() if link.name and fitted(link.device))
    return tuple(dict.fromkeys(named))


def perhaps_renamed(build: Build) -> dict[str, tuple[str, ...]]:
    """Return by new thing the ids with a designation of its class that are gone: it may be one of them."""
    there = dict(designated(build))
    gone: dict[str, list[str]] = {}
    for name, label in build.designations.items():
        if name not in there and name.partition("/")[0] not in build.set_aside:
            gone.setdefault(label.strip("-")[:1], []).append(name)
    return {
        name: tuple(gone[letter])
        for name, letter in there.items()
        if name not in build.designations and letter in gone
    }


def assign(build: Build) -> dict[str, str]:
    """Return designations for what has none yet: the next free number of each class letter.

    Numbers that were ever given, to things that have gone as well, are not given again: a label that is
    stuck in the van stays true.
    """
    greatest: dict[str, int] = {}
    for given in build.designations.values():
        letter, number = given.strip("-")[:1], given.strip("-")[1:]
        if number.isdigit():
            greatest[letter] = max(greatest.get(letter, 0), int(number))
    added: dict[str, str] = {}
    for name, letter in designated(build):
        if name not in build.designations:
            greatest[letter] = greatest.get(letter, 0) + 1
            added[name] = f"-{letter}{greatest[letter]}"
    return added
