"""Folders of a register: what lies where, read into one merged tree for each build.

builds/                 a register
  register.yaml         the workshop and its standards
  parts/*.yaml          its catalogue, by part id
  assemblies/*.yaml     its packages of components and runs
  heron/spec.yaml       a build; other *.yaml beside it are merged with it
  heron/private.yaml    what git must not see, if anything
  heron/designations.yaml
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from specreg.source.assembly import include_assemblies
from specreg.source.circuits import expand_circuits
from specreg.source.merge import merge
from specreg.source.place import Place
from specreg.source.problem import Problem, nearest_word
from specreg.source.tree import Entry, Mapping, Node, Scalar, at, behind, key_place_of, plain, walk
from specreg.source.tree import Path as Path_
from specreg.source.yaml import read_yaml

REGISTER_FILE = "register.yaml"
SPEC_FILE = "spec.yaml"
DESIGNATIONS_FILE = "designations.yaml"

PRIVATE_FILE = "private.yaml"

SHARED_SECTIONS = ("components", "runs", "circuits", "modes", "vehicle", "records", "use")
"""Sections that the files of one build may share; below them each key stands in one file only."""


@dataclass
class Register:
    """A register's folder with what its builds share. `shown` is how places name the folder."""

    folder: Path
    shown: str
    settings: Mapping | None = None
    parts: dict[str, Entry] = field(default_factory=dict)
    assemblies: dict[str, Mapping] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


@dataclass(frozen=True)
class Source:
    """One build as text: its merged tree (None where nothing could be read), designations, problems."""

    name: str
    folder: Path
    tree: Mapping | None
    designations: dict[str, str]
    problems: tuple[Problem, ...]


def is_build(folder: Path) -> bool:
    """Tell whether a folder holds a build."""
    return (folder / SPEC_FILE).is_file()


def build_folders(folder: Path) -> tuple[Path, ...]:
    """Return the builds that a path means: the folder itself, or those of a register, by name."""
    if is_build(folder):
        return (folder,)
    return tuple(sorted(path for path in folder.iterdir() if path.is_dir() and is_build(path)))


def open_register(folder: Path, shown: str) -> Register:
    """Read what the builds of a register share: its settings, parts and assemblies."""
    register = Register(folder, shown)
    settings = _file(register, folder / REGISTER_FILE) if (folder / REGISTER_FILE).is_file() else None
    register.settings = settings if isinstance(settings, Mapping) else None
    for path in sorted((folder / "parts").glob("*.yaml")):
        tree = _file(register, path)
        for key, entry in tree.entries.items() if isinstance(tree, Mapping) else ():
            if key in register.parts:
                first = register.parts[key].key_place
                register.problems.append(Problem(entry.key_place, f"part `{key}` is already at {first}"))
            register.parts.setdefault(key, entry)
    for path in sorted((folder / "assemblies").glob("*.yaml")):
        tree = _file(register, path)
        if isinstance(tree, Mapping):
            register.assemblies[path.stem] = tree
    return register


def _file(register: Register, path: Path) -> Node | None:
    shown = f"{register.shown}/{path.relative_to(register.folder).as_posix()}"
    tree, problems = _read(path, shown)
    register.problems += problems
    return tree


def _read(path: Path, shown: str) -> tuple[Node | None, list[Problem]]:
    try:
        data = path.read_bytes()
    except OSError as error:
        return None, [Problem(Place(shown, 1, 1), f"cannot be read: {error.strerror}")]
    tree, problems = read_yaml(data, shown)
    if tree is not None and not isinstance(tree, Mapping):
        return None, [*problems, Problem(tree.place, "the file is a mapping of keys to values")]
    return tree, problems


Edit = Callable[[Mapping], tuple[Mapping, list[Problem]]]
"""A change to what a build's own files say, before anything of the register is laid below it."""


def read_source(register: Register, folder: Path, edit: Edit | None = None) -> Source:
    """Read one build of a register into one tree: its files, assemblies, parts and circuits merged."""
    shown = f"{register.shown}/{folder.name}"
    problems: list[Problem] = []
    tree: Mapping | None = None
    for path in _spec_files(folder):
        part, found = _read(path, f"{shown}/{path.name}")
        problems += found
        if isinstance(part, Mapping):
            deep = path.name == PRIVATE_FILE
            tree = part if tree is None else _beside(tree, part, problems, deep)
    designations = _designations(folder, shown, problems)
    if tree is None:
        return Source(folder.name, folder, None, designations, tuple(sorted(problems)))
    _named_like(tree, folder.name, problems)
    if edit is not None:
        tree, found = edit(tree)
        problems += found
    problems += _idle_removals(tree, register)
    tree, found = include_assemblies(tree, register.assemblies)
    problems += found
    tree, found = _with_parts(tree, register.parts)
    problems += found
    tree, found = expand_circuits(tree)
    problems += found
    tree = _with_standards(tree, register.settings)
    return Source(folder.name, folder, tree, designations, tuple(sorted(problems)))


def _spec_files(folder: Path) -> Iterator[Path]:
    """Yield the spec first, then the files beside it by name, the private one last: it adds to all others."""
    yield folder / SPEC_FILE
    for path in sorted(folder.glob("*.yaml"), key=lambda path: (path.name == PRIVATE_FILE, path.name)):
        if path.name not in (SPEC_FILE, DESIGNATIONS_FILE):
            yield path


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
    named = at(tree, (*path[:2], "part")) if path[0] in ("components", "runs") else None
    part = parts.get(named.text) if isinstance(named, Scalar) else None
    if part is not None and at(part.node, path[2:]) is not None:
        return True
    return any(at(node, path) is not None for node in below)


def _with_parts(tree: Mapping, parts: dict[str, Entry]) -> tuple[Mapping, list[Problem]]:
    """Lay each component and run over the part that it names."""
    problems: list[Problem] = []
    entries = dict(tree.entries)
    for section in ("components", "runs"):
        listed = at(tree, (section,))
        if isinstance(listed, Mapping):
            merged = {key: _over_part(entry, parts, problems) for key, entry in listed.entries.items()}
            entries[section] = Entry(entries[section].key_place, Mapping(merged, listed.place, listed.origin))
    return Mapping(entries, tree.place, tree.origin), problems


def _over_part(entry: Entry, parts: dict[str, Entry], problems: list[Problem]) -> Entry:
    named = at(entry.node, ("part",))
    if not isinstance(named, Scalar):
        return entry
    part = parts.get(named.text)
    if part is None:
        problems.append(
            Problem(
                named.place,
                "no such part in the catalogue",
                named.text,
                "a part from parts/*.yaml",
                nearest_word(named.text, parts),
            )
        )
        return entry
    merged = merge(part.node, entry.node)
    return Entry(
        entry.key_place,
        behind(Mapping(merged.entries, entry.node.place), part.key_place)
        if isinstance(merged, Mapping)
        else entry.node,
    )


def _with_standards(tree: Mapping, settings: Mapping | None) -> Mapping:
    """Lay the build over the workshop's standards."""
    standards = {
        key: entry
        for key, entry in (settings.entries.items() if settings else ())
        if key in ("defaults", "workshop", "workshop_contact")
    }
    if not standards or settings is None:
        return tree
    merged = merge(Mapping(standards, settings.place), tree)
    assert isinstance(merged, Mapping)
    return Mapping(merged.entries, tree.place, tree.origin)


def _designations(folder: Path, shown: str, problems: list[Problem]) -> dict[str, str]:
    """Return the designations assigned so far: an append-only list of `id: designation`."""
    path = folder / DESIGNATIONS_FILE
    if not path.is_file():
        return {}
    tree, found = _read(path, f"{shown}/{DESIGNATIONS_FILE}")
    problems += found
    data = plain(tree) if isinstance(tree, Mapping) else {}
    return {str(key): str(value) for key, value in data.items() if value is not None}
