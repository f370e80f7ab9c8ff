"""A merged tree to a build: everything validated, every problem found in one go."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

from pydantic import ValidationError

from specreg.model.build import Build, Header
from specreg.model.component import Component
from specreg.model.explain import explain
from specreg.model.join import Ends, Joint, NoPort, Offer, cores_of, port_of, split_end
from specreg.model.kinds import kinds
from specreg.model.port import Way
from specreg.model.renaming import carried_over, renaming_problems
from specreg.model.run import RUNS, DcRun, Run
from specreg.model.series import series_cores, series_problems
from specreg.source import Mapping as Tree
from specreg.source import Node, Problem, Scalar, Sequence, at, key_place_of, nearest_word, place_of
from specreg.source.inline import name_devices
from specreg.source.problem import bounded_search

T = TypeVar("T", Component, Run)

APART = ("components", "runs", "circuits", "include")
"""Keys of a spec that are read apart from its header."""


@bounded_search()
def read_build(
    tree: Tree, designations: Mapping[str, str] | None = None
) -> tuple[Build | None, list[Problem]]:
    """Return the build that a merged tree describes, with every problem in it.

    Broken components and runs are set aside; the build is None only where its header cannot be read.
    """
    tree, problems = name_devices(tree)
    header = _header(tree, problems)
    components = dict(_read_all(tree, "components", "kind", kinds(), problems))
    runs = dict(_read_all(tree, "runs", "medium", RUNS, problems))
    known = _ids(tree, "components")
    broken = (known - components.keys()) | (_ids(tree, "runs") - runs.keys())
    problems += _shared_ids(tree)
    ends = dict(_joined(tree, components, runs, problems))
    wrong = series_problems(tree, runs, components, ends)
    problems += wrong.values()
    ends = {name: joined for name, joined in ends.items() if name not in wrong}
    problems += _references(tree, components, runs)
    if header is None:
        return None, sorted(problems)
    sound = {name: run for name, run in runs.items() if name in ends}
    broken |= runs.keys() - sound.keys()
    given = designations or {}
    labels = carried_over(given, header.renamed)
    build = Build(header, components, sound, ends, tree, labels, frozenset(broken))
    return build, sorted([*problems, *renaming_problems(build, given)])


def _header(tree: Tree, problems: list[Problem]) -> Header | None:
    data = {key: data_of(entry.node) for key, entry in tree.entries.items() if key not in APART}
    try:
        return Header.model_validate(data)
    except ValidationError as error:
        problems += explain(error, Header, tree, ())
        return None


def data_of(node: Node) -> Any:
    """Return a tree as plain data, with tuples for lists as the strict models take them."""
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Sequence):
        return tuple(data_of(item) for item in node.items)
    return {key: data_of(entry.node) for key, entry in node.entries.items()}


def _section(tree: Tree, name: str, problems: list[Problem] | None = None) -> Tree | None:
    node = at(tree, (name,))
    if node is None or isinstance(node, Tree):
        return node
    if problems is not None and not (isinstance(node, Scalar) and node.value is None):
        problems.append(Problem(node.place, f"`{name}` is a mapping of ids to entries"))
    return None


def _ids(tree: Tree, name: str) -> set[str]:
    section = _section(tree, name)
    return set(section.entries) if section else set()


def _read_all(
    tree: Tree, name: str, chooser: str, models: Mapping[str, type[T]], problems: list[Problem]
) -> Iterator[tuple[str, T]]:
    section = _section(tree, name, problems)
    for key, entry in section.entries.items() if section else ():
        path = (name, key)
        if not _well_named(key):
            problems.append(
                Problem(
                    entry.key_place,
                    "an id is lower-case words joined by hyphens",
                    read=key,
                    expected="an id such as water-pump",
                )
            )
            continue
        model = _chosen(tree, entry.node, path, chooser, models, problems)
        if model is None:
            continue
        try:
            yield key, model.model_validate(data_of(entry.node))
        except ValidationError as error:
            problems += explain(error, model, tree, path)


def _well_named(key: str) -> bool:
    return key.isascii() and key == key.lower() and all(part.isalnum() for part in key.split("-"))


def _chosen(
    tree: Tree,
    node: Node,
    path: tuple[str, str],
    chooser: str,
    models: Mapping[str, type[T]],
    problems: list[Problem],
) -> type[T] | None:
    """Return the model that an entry asks for by its kind or medium, or say what is wrong with that."""
    if not isinstance(node, Tree):
        problems.append(Problem(node.place, f"`{path[1]}` is a mapping of keys to values"))
        return None
    word = at(node, (chooser,))
    if word is None:
        problems.append(
            Problem(
                key_place_of(tree, path),
                f"`{path[1]}` does not say its {chooser}",
                expected=", ".join(sorted(models)[:8]) + " …",
                remedy=f"add `{chooser}:`"
                + (", or `part:` with a part that has one" if chooser == "kind" else ""),
            )
        )
        return None
    text = word.text if isinstance(word, Scalar) else ""
    if text not in models:
        problems.append(
            Problem(
                word.place,
                f"unknown {chooser}",
                read=text,
                expected=f"one of the {len(models)} {chooser}s that `specreg schema` lists",
                nearest=nearest_word(text, models),
            )
        )
    return models.get(text)


def _shared_ids(tree: Tree) -> Iterator[Problem]:
    for name in sorted(_ids(tree, "components") & _ids(tree, "runs")):
        yield Problem(
            key_place_of(tree, ("runs", name)),
            f"`{name}` names a component and a run",
            remedy="give one of them another id",
        )


def _joined(
    tree: Tree, components: Mapping[str, Component], runs: Mapping[str, Run], problems: list[Problem]
) -> Iterator[tuple[str, Ends]]:
    returns = {run.returns for run in runs.values() if isinstance(run, DcRun)}
    offers = {name: Offer(component) for name, component in components.items()}
    for name, run in runs.items():
        start = _end(tree, offers, name, run, "from", problems)
        finish = _end(tree, offers, name, run, "to", problems)
        if start is None or finish is None:
            continue
        cores = cores_of(run, start.port, finish.port, name in returns)
        cores = cores or series_cores(run, components, start, finish)
        if not cores:
            problems.append(
                Problem(
                    place_of(tree, ("runs", name, "to")),
                    f"`{name}` joins a {start.port.role.value} to a {finish.port.role.value}",
                    read=f"{run.start} to {run.finish}",
                    expected="two ports of one polarity",
                )
            )
        elif _return_unstated(run, cores, (start, finish), name in returns):
            problems.append(
                Problem(
                    key_place_of(tree, ("runs", name)),
                    f"`{name}` does not say how its current returns",
                    expected="`return: same cable`, `return: chassis` or the id of another run",
                )
            )
        else:
            yield name, Ends(start, finish, cores)


def _return_unstated(run: Run, cores: tuple[str, ...], ends: Iterable[Joint], is_return: bool) -> bool:
    if not isinstance(run, DcRun) or run.returns is not None or is_return or "positive" not in cores:
        return False
    return any(len(end.port.cores) == 2 for end in ends)


def _end(
    tree: Tree, offers: Mapping[str, Offer], name: str, run: Run, key: str, problems: list[Problem]
) -> Joint | None:
    text = run.start if key == "from" else run.finish
    component = split_end(text)[0]
    place = place_of(tree, ("runs", name, key))
    if component not in offers:
        known = _ids(tree, "components")
        if component not in known:
            problems.append(
                Problem(
                    place,
                    f"`{name}` {'comes from' if key == 'from' else 'goes to'} a component that is not there",
                    read=text,
                    expected="the id of a component",
                    nearest=nearest_word(component, known),
                )
            )
        return None
    try:
        way = Way.out if key == "from" else Way.into
        return Joint(component, port_of(offers[component], text, run.medium, way))
    except NoPort as error:
        problems.append(Problem(place, error.message, text, error.expected, error.nearest))
        return None


def _references(
    tree: Tree, components: Mapping[str, Component], runs: Mapping[str, Run]
) -> Iterator[Problem]:
    ids, run_ids = _ids(tree, "components"), _ids(tree, "runs")
    zones = at(tree, ("vehicle", "zones"))
    zone_names = set(zones.entries) if isinstance(zones, Tree) else set()
    bodies, returns = {None, "body", *ids}, {None, "same cable", "chassis", *run_ids}
    for name, component in components.items():
        path = ("components", name)
        if component.fixed_to not in bodies:
            yield _lost(tree, (*path, "fixed_to"), component.fixed_to, {"body", *ids})
        if component.zone is not None and component.zone not in zone_names:
            yield _lost(tree, (*path, "zone"), component.zone, zone_names)
    for name, run in runs.items():
        if isinstance(run, DcRun) and run.returns not in returns:
            yield _lost(tree, ("runs", name, "return"), run.returns, {"same cable", "chassis", *run_ids})
    yield from _recorded(tree, ids | run_ids)
    listed = at(tree, ("use", "evening_loads"))
    for index, item in enumerate(listed.items if isinstance(listed, Sequence) else ()):
        if isinstance(item, Scalar) and item.text not in ids:
            yield _lost(tree, ("use", "evening_loads", index), item.text, ids)


def _recorded(tree: Tree, known: set[str]) -> Iterator[Problem]:
    """Check that sign-offs and concessions speak of things that are there."""
    for path in (("records", "sign_offs"), ("concessions",)):
        listed = at(tree, path)
        for index, item in enumerate(listed.items if isinstance(listed, Sequence) else ()):
            target = at(item, ("target",))
            if isinstance(target, Scalar) and target.text.partition("/")[0] not in known:
                yield _lost(tree, (*path, index, "target"), target.text, known)


def _lost(tree: Tree, path: tuple[str | int, ...], read: str | None, known: Iterable[str]) -> Problem:
    words = list(known)
    return Problem(
        place_of(tree, path),
        f"`{path[-1]}` of `{path[-2]}` names nothing in this spec",
        read=read,
        expected="an id that is there",
        nearest=nearest_word(read or "", words),
    )
