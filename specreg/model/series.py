"""Batteries in series: strings made by links from one battery's positive pole to another's negative."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.dc import Battery
from specreg.model.join import Ends, Joint
from specreg.model.run import DcRun, Run
from specreg.source import Mapping as Tree
from specreg.source import Problem, key_place_of


def series_cores(
    run: Run, components: Mapping[str, Component], start: Joint, finish: Joint
) -> tuple[str, ...]:
    """Return the core of a link between two batteries in series; empty where a run is none.

    It counts as a positive conductor: the lower battery feeds a short circuit on it.
    """
    if not isinstance(run, DcRun) or start.component == finish.component:
        return ()
    if not all(isinstance(components[end.component], Battery) for end in (start, finish)):
        return ()
    return ("positive",) if {start.port.name, finish.port.name} == {"positive", "negative"} else ()


def links(build: Build) -> Iterator[tuple[str, str, str]]:
    """Yield every series link: the run, the battery above it and the battery below it."""
    return _links(build.runs, build.components, build.ends)


def _links(
    runs: Mapping[str, Run], components: Mapping[str, Component], ends: Mapping[str, Ends]
) -> Iterator[tuple[str, str, str]]:
    for name, joined in ends.items():
        if series_cores(runs[name], components, joined.start, joined.finish):
            above, below = joined.start, joined.finish
            if above.port.name == "positive":
                above, below = below, above
            yield name, above.component, below.component


def strings(build: Build) -> dict[str, tuple[str, ...]]:
    """Return for each battery its string from top to bottom; itself where it stands alone."""
    below = {upper: lower for _, upper, lower in links(build)}
    lowers = set(below.values())
    found: dict[str, tuple[str, ...]] = {}
    for name, component in build.components.items():
        if isinstance(component, Battery) and name not in lowers:
            chain = [name]
            while chain[-1] in below:
                chain.append(below[chain[-1]])
            found.update(dict.fromkeys(chain, tuple(chain)))
    return found


def series_problems(
    tree: Tree, runs: Mapping[str, Run], components: Mapping[str, Component], ends: Mapping[str, Ends]
) -> dict[str, Problem]:
    """Return by run the links that close a ring, or join a pole that another link joins already."""
    found: dict[str, Problem] = {}
    below: dict[str, str] = {}
    lowers: set[str] = set()
    for name, upper, lower in _links(runs, components, ends):
        place = key_place_of(tree, ("runs", name))
        if upper in below or lower in lowers:
            found[name] = Problem(
                place,
                f"`{name}` joins a pole that another link in series joins already",
                expected="strings of batteries in series that meet at their outer poles only",
            )
        elif upper in _chain(below, lower):
            found[name] = Problem(
                place, f"`{name}` closes a ring of batteries in series: a short circuit of them all"
            )
        else:
            below[upper] = lower
            lowers.add(lower)
    return found


def _chain(below: Mapping[str, str], name: str) -> list[str]:
    chain = [name]
    while chain[-1] in below:
        chain.append(below[chain[-1]])
    return chain
