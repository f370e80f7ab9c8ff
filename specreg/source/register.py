"""Folders of a register: what lies where, read into one merged tree for each build.

builds/                 a register
  register.yaml         the workshop and its standards
  parts/*.yaml          its catalogue, by part id
  assemblies/*.yaml     its packages of components and runs
  heron/spec.yaml       a build; other *.yaml beside it are merged with it
  heron/fitted.yaml     what was fitted otherwise than planned, or later
  heron/as-built.yaml   components and runs as handed over, read in place of what the files say of them
  heron/private.yaml    what git must not see, if anything
  heron/designations.yaml
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from os.path import lexists
from pathlib import Path

from specreg.source import as_built as handed_over
from specreg.source.as_built import DESIGN, AsBuilt
from specreg.source.assembly import include_assemblies
from specreg.source.catalogue import with_parts
from specreg.source.circuits import expand_circuits
from specreg.source.inside import contents, linked_out
from specreg.source.listing import (
    AS_BUILT_FILE,
    DESIGNATIONS_FILE,
    FITTED_FILE,
    MISTAKEN_REGISTER,
    MISTAKEN_SPEC,
    PRIVATE_FILE,
    REGISTER_FILE,
    SPEC_FILE,
    listed,
    mistaken,
    yaml_files,
)
from specreg.source.merge import merge
from specreg.source.problem import Problem, bounded_search
from specreg.source.recall import FOLDER as RECALLS
from specreg.source.recall import read_recall
from specreg.source.tree import (
    MOST_VALUES,
    Entry,
    Mapping,
    Node,
    Scalar,
    at,
    exceeds,
    key_place_of,
    plain,
    walk,
)
from specreg.source.tree import Path as Path_
from specreg.source.yaml import read_yaml

SHARED_SECTIONS = ("components", "runs", "circuits", "modes", "vehicle", "records", "use")
"""Sections that the files of one build may share; below them each key stands in one file only."""


Texts = AnyMapping[Path, str]
"""Texts that are being written and not saved yet, by the file that they will be: read in its place."""


@dataclass
class Register:
    """A register's folder with what its builds share. `shown` is how places name the folder."""

    folder: Path
    shown: str
    settings: Mapping | None = None
    parts: dict[str, Entry] = field(default_factory=dict)
    assemblies: dict[str, Mapping] = field(default_factory=dict)
    recalls: dict[str, Mapping] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    texts: Texts = field(default_factory=dict)


@dataclass(frozen=True)
class Source:
    """One build as text: its merged tree (None where nothing could be read), designations, problems."""

    name: str
    folder: Path
    tree: Mapping | None
    designations: dict[str, str]
    problems: tuple[Problem, ...]


def files_read(folder: Path, builds: Iterable[str]) -> tuple[Path, ...]:
    """Return the YAML files of a register that some of its builds are read from."""
    below = (folder / name for name in ("parts", "assemblies", "recalls", *builds))
    return folder / REGISTER_FILE, *(path for one in below for path in yaml_files(one))


def open_register(folder: Path, shown: str, texts: Texts | None = None) -> Register:
    """Read what the builds of a register share: its settings, parts and assemblies."""
    register = Register(folder, shown, texts=texts or {})
    settings = _file(register, folder / REGISTER_FILE) if lexists(folder / REGISTER_FILE) else None
    register.settings = settings if isinstance(settings, Mapping) else None
    if lexists(folder / MISTAKEN_REGISTER):
        register.problems.append(mistaken(MISTAKEN_REGISTER, f"{shown}/{MISTAKEN_REGISTER}"))
    for path in _shared_files(register, "parts"):
        tree = _file(register, path)
        for key, entry in tree.entries.items() if isinstance(tree, Mapping) else ():
            if key in register.parts:
                first = register.parts[key].key_place
                register.problems.append(Problem(entry.key_place, f"part `{key}` is already at {first}"))
            register.parts.setdefault(key, entry)
    for path in _shared_files(register, "assemblies"):
        tree = _file(register, path)
        if isinstance(tree, Mapping):
            register.assemblies[path.stem] = tree
    return register


def _shared_files(register: Register, name: str) -> list[Path]:
    """Return the files of a folder that builds share; none where it is a link out of the register."""
    shown = f"{register.shown}/{name}"
    if wrong := linked_out(register.folder / name, shown, register.folder):
        register.problems.append(wrong)
        return []
    files, problems = listed(register.folder / name, shown)
    register.problems += problems
    return files


def read_recalls(register: Register) -> None:
    """Read the register's recalls that have no problem, so that each build's tree carries them."""
    files, problems = listed(register.folder / RECALLS, f"{register.shown}/{RECALLS}")
    register.problems += problems
    for path in files:
        recall, problems = read_recall(register.folder, register.shown, path.stem)
        register.problems += problems
        if recall is not None and not problems:
            register.recalls[path.stem] = recall.tree


def files_folder(register: Register, build: str) -> tuple[Path, ...]:
    """Return the folder outside git that register.yaml names under `files` for a build's photographs."""
    named = at(register.settings, ("files",)) if register.settings else None
    return (register.folder / named.text / build,) if isinstance(named, Scalar) and named.text else ()


def _file(register: Register, path: Path) -> Node | None:
    shown = f"{register.shown}/{path.relative_to(register.folder).as_posix()}"
    tree, problems = _read(path, shown, register.texts, register.folder)
    register.problems += problems
    return tree


def _read(path: Path, shown: str, texts: Texts, *homes: Path) -> tuple[Node | None, list[Problem]]:
    data = texts[path].encode("utf-8", "replace") if path in texts else contents(path, shown, *homes)
    if isinstance(data, Problem):
        return None, [data]
    tree, problems = read_yaml(data, shown)
    if tree is not None and not isinstance(tree, Mapping):
        return None, [*problems, Problem(tree.place, "the file is a mapping of keys to values")]
    return tree, problems


Edit = Callable[[Mapping], tuple[Mapping, list[Problem]]]
"""A change to what a build's own files say, before anything of the register is laid below it."""


@bounded_search()
def read_source(register: Register, folder: Path, edit: Edit | None = None, private: bool = True) -> Source:
    """Read one build of a register into one tree: its files, assemblies, parts and circuits merged.

    After hand-over the frozen spec stands for what the files say of components and runs. `private` reads
    the private file, too.
    """
    shown = f"{register.shown}/{folder.name}"
    wrong = linked_out(folder, shown, register.folder)
    if wrong is not None:
        return Source(folder.name, folder, None, {}, (wrong,))
    problems: list[Problem] = []
    own, files = own_files(folder, shown, problems, register.texts)
    designations = _designations(folder, shown, problems, register.texts)
    if own is None:
        return Source(folder.name, folder, None, designations, tuple(sorted(problems)))
    _named_like(own, folder.name, problems)
    hidden = files.get(PRIVATE_FILE) if private else None
    fitted = files.get(FITTED_FILE)
    problems += handed_over.strange_keys(fitted) if fitted else []
    frozen = handed_over.as_built(files[AS_BUILT_FILE]) if AS_BUILT_FILE in files else None
    if frozen is None:
        tree = _planned(register, own, hidden, edit, problems)
        if fitted is not None and edit is not None:
            fitted, _ = edit(fitted)
    else:
        tree, fitted = _frozen(own, hidden, fitted, frozen, edit, problems)
    tree = _completed(register, tree, fitted, frozen, problems)
    if exceeds(tree):
        problems.append(Problem(tree.place, TOO_MUCH))
        return Source(folder.name, folder, None, designations, tuple(sorted(problems)))
    return Source(folder.name, folder, tree, designations, tuple(sorted(problems)))


TOO_MUCH = f"the build has more than {MOST_VALUES} values with what it takes of assemblies and parts"


def _planned(
    register: Register, own: Mapping, private: Mapping | None, edit: Edit | None, problems: list[Problem]
) -> Mapping:
    """Return what the files plan, on the assemblies and parts that they name."""
    tree = own if private is None else _beside(own, private, problems, deep=True)
    if edit is not None:
        tree, found = edit(tree)
        problems += found
    problems += _idle_removals(tree, register)
    tree, found = include_assemblies(tree, register.assemblies)
    problems += found
    tree, found = with_parts(tree, register.parts)
    problems += found
    return tree


def _frozen(
    own: Mapping,
    private: Mapping | None,
    fitted: Mapping | None,
    frozen: AsBuilt,
    edit: Edit | None,
    problems: list[Problem],
) -> tuple[Mapping, Mapping | None]:
    """Return the head of the files on what was frozen, and what was fitted since; a change is fitted last."""
    problems += handed_over.changed_design(own, frozen)
    head = handed_over.without(own, DESIGN)
    if private is not None:
        head = _beside(head, handed_over.without(private, DESIGN), problems, deep=True)
    if edit is not None:
        later = fitted.entries if fitted else {}
        changed, found = edit(Mapping({**head.entries, **later}, head.place))
        problems += found
        head, fitted = handed_over.without(changed, DESIGN), handed_over.only(changed, DESIGN)
    return handed_over.frozen_tree(head, private, frozen), fitted


def _completed(
    register: Register,
    tree: Mapping,
    fitted: Mapping | None,
    frozen: AsBuilt | None,
    problems: list[Problem],
) -> Mapping:
    """Return a tree with its circuits written out, what was fitted laid over, the standards below."""
    if fitted is not None and "circuits" in fitted.entries:
        lines = handed_over.only(fitted, ("circuits",))
        if frozen is None:
            tree = handed_over.merged(tree, lines)
        else:  # what was frozen has its circuits written out; a line that came later lies over it
            boxes = handed_over.only(tree, ("components",))
            later, found = expand_circuits(Mapping({**boxes.entries, **lines.entries}, tree.place))
            problems += found
            tree = handed_over.merged(tree, later)
    tree, found = expand_circuits(tree)
    problems += found
    if fitted is not None:
        tree, found = handed_over.over_tree(tree, fitted, frozen, register.parts)
        problems += found
    standards = ("workshop", "workshop_contact", "works", *(() if frozen else ("defaults",)))
    tree = _with_standards(tree, register.settings, standards)
    if not register.recalls:
        return tree
    recalls = Mapping({n: Entry(t.place, t) for n, t in register.recalls.items()}, tree.place)
    return Mapping({**tree.entries, "recalls": Entry(tree.place, recalls)}, tree.place, tree.origin)


def own_files(
    folder: Path, shown: str, problems: list[Problem], texts: Texts | None = None
) -> tuple[Mapping | None, dict[str, Mapping]]:
    """Return the files of a build in one tree, and those with a meaning of their own by name."""
    tree: Mapping | None = None
    apart: dict[str, Mapping] = {}
    files, wrong = listed(folder, shown)
    problems += wrong
    for path in _spec_files(folder, files, texts or {}):
        part, found = _read(path, f"{shown}/{path.name}", texts or {}, folder, folder.parent)
        problems += found
        if isinstance(part, Mapping) and path.name in APART:
            apart[path.name] = part
        elif isinstance(part, Mapping):
            tree = part if tree is None else _beside(tree, part, problems)
    return tree, apart


APART = (FITTED_FILE, AS_BUILT_FILE, PRIVATE_FILE)
"""Files of a build that are laid over the others, or stand for them, and are not joined to them."""


def _spec_files(folder: Path, files: Iterable[Path], texts: Texts) -> Iterator[Path]:
    """Yield the spec first, be it there or not, then the files beside it; a misspelt one stands for it."""
    spec = folder / SPEC_FILE
    if spec in texts or lexists(spec) or not lexists(folder / MISTAKEN_SPEC):
        yield spec
    yield from (path for path in files if path.name not in (SPEC_FILE, DESIGNATIONS_FILE))


def _beside(tree: Mapping, other: Mapping, problems: list[Problem], deep: bool = False) -> Mapping:
    """Join two files of one build; what both state is a problem, not a silent choice.

    Files share the sections that are lists of entries; the private file may add to any entry (`deep`).
    """
    entries = dict(tree.entries)
    for key, entry in other.entries.items():
        known = entries.get(key)
        if known is None:
            entries[key] = entry
        elif _shared(known, entry) and (deep or key in SHARED_SECTIONS):
            assert isinstance(known.node, Mapping) and isinstance(entry.node, Mapping)
            joined = _beside(known.node, entry.node, problems, deep)
            entries[key] = Entry(known.key_place, joined)
        else:
            problems.append(Problem(entry.key_place, f"`{key}` is already stated at {known.key_place}"))
    return Mapping(entries, tree.place, tree.origin)


def _shared(one: Entry, two: Entry) -> bool:
    return isinstance(one.node, Mapping) and isinstance(two.node, Mapping)


def _named_like(tree: Mapping, folder: str, problems: list[Problem]) -> None:
    name = at(tree, ("build",))
    if isinstance(name, Scalar) and name.text != folder:
        problems.append(
            Problem(
                name.place, "`build` equals the name of its folder", name.text, folder, remedy="rename one"
            )
        )


def _idle_removals(tree: Mapping, register: Register) -> list[Problem]:
    """Report empty values below which there is nothing to remove: a slip that merging would pass over.

    An empty value takes away what a part, an assembly or the workshop's standards bring; in braces a stray
    comma makes one unseen (`{title: Galley, left}`).
    """
    empty = [(path, node) for path, node in walk(tree) if isinstance(node, Scalar) and node.value is None]
    if not empty:
        return []
    asked = {key: entry for key, entry in tree.entries.items() if key == "include"}
    assembled, _ = include_assemblies(Mapping(asked, tree.place), register.assemblies)
    below = [node for node in (assembled, register.settings) if node is not None]
    return [
        Problem(
            key_place_of(tree, path),
            f"`{path[-1]}` is empty, and there is nothing below it to remove",
            remedy="write a value, or leave it out; a text with a comma or colon stands in quotation marks",
        )
        for path, _ in empty
        if not _removes(tree, path, below, register.parts)
    ]


def _removes(tree: Mapping, path: Path_, below: list[Mapping], parts: dict[str, Entry]) -> bool:
    """Tell whether an empty value stands over something of an assembly, the standards or its part."""
    wanted = (*path[:2], "part")
    found = (at(node, wanted) for node in (tree, *below)) if path[0] in ("components", "runs") else ()
    named = next((one for one in found if one is not None), None)
    part = parts.get(named.text) if isinstance(named, Scalar) else None
    if part is not None and at(part.node, path[2:]) is not None:
        return True
    return any(at(node, path) is not None for node in below)


def _with_standards(tree: Mapping, settings: Mapping | None, wanted: tuple[str, ...]) -> Mapping:
    """Lay the build over those of the workshop's standards that are wanted."""
    standards = {key: entry for key, entry in (settings.entries.items() if settings else ()) if key in wanted}
    if not standards or settings is None:
        return tree
    merged = merge(Mapping(standards, settings.place), tree)
    assert isinstance(merged, Mapping)
    return Mapping(merged.entries, tree.place, tree.origin)


def _designations(folder: Path, shown: str, problems: list[Problem], texts: Texts) -> dict[str, str]:
    """Return the designations assigned so far: an append-only list of `id: designation`."""
    path = folder / DESIGNATIONS_FILE
    if not lexists(path) and path not in texts:
        return {}
    tree, found = _read(path, f"{shown}/{DESIGNATIONS_FILE}", texts, folder, folder.parent)
    problems += found
    data = plain(tree) if isinstance(tree, Mapping) else {}
    return {str(key): str(value) for key, value in data.items() if value is not None}
