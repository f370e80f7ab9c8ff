"""The first page of a new van in a register that is there: a few answers, and the workshop's own package."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from os.path import lexists
from pathlib import Path

from specreg.model.build import Jurisdiction
from specreg.source import Mapping as Tree
from specreg.source import Problem, Scalar, at, nearest_word, read_yaml
from specreg.source.inside import contents
from specreg.source.listing import REGISTER_FILE, SHARED, SPEC_FILE, yaml_files
from specreg.writing import write_new_folder

ASSEMBLIES = "assemblies"
NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
"""How a van's folder is called."""
BARE = re.compile(r"[\w.+%][\w .+%/-]*")
"""Text that means the same in a spec with quotes and without them."""


@dataclass(frozen=True)
class Wishes:
    """What is asked of a new van. `setting` replaces parameters of the assembly."""

    title: str
    jurisdictions: tuple[Jurisdiction, ...]
    adults: int = 2
    nights_off_grid: int | None = None
    assembly: str | None = None
    setting: Mapping[str, str] = field(default_factory=dict)


def assemblies_of(register: Path) -> dict[str, dict[str, str]]:
    """Return the assemblies of a register with their parameters and defaults, those that can be read."""
    found = {}
    for path in yaml_files(register / ASSEMBLIES):
        data = contents(path, path.name, register)
        tree = None if isinstance(data, Problem) else read_yaml(data, path.name)[0]
        declared = at(tree, ("parameters",)) if tree is not None else None
        found[path.stem] = _defaults(declared) if isinstance(declared, Tree) else {}
    return found


def _defaults(declared: Tree) -> dict[str, str]:
    values = {}
    for name in declared.entries:
        default = at(declared, (name, "default"))
        values[name] = _plain(default.value) if isinstance(default, Scalar) else "~"
    return values


def _plain(value: object) -> str:
    return json.dumps(value) if isinstance(value, bool | int | float) else str(value)


def wrong_wishes(register: Path, name: str, wishes: Wishes) -> tuple[Problem, ...]:
    """Return everything that is wrong with a request, all at once."""
    found = []
    if not (register / REGISTER_FILE).is_file():
        told = Problem(None, "this is no register", str(register), f"a folder with {REGISTER_FILE}")
        return (told,)
    if not NAME.fullmatch(name):
        found.append(
            Problem(None, "a van is named in small letters, digits and hyphens", name, "such as heron")
        )
    if name in SHARED:
        found.append(
            Problem(None, "this is a folder that all vans share", name, "a van's name, such as heron")
        )
    elif lexists(register / name):
        found.append(Problem(None, "there is such a van, or a folder of that name", name, "another name"))
    known = assemblies_of(register)
    if wishes.assembly is not None and wishes.assembly not in known:
        near = nearest_word(wishes.assembly, known)
        found.append(Problem(None, "there is no such assembly", wishes.assembly, ", ".join(known), near))
    parameters = known.get(wishes.assembly or "", {})
    found += [
        Problem(
            None,
            "the assembly has no such parameter",
            key,
            ", ".join(parameters),
            nearest_word(key, parameters),
        )
        for key in wishes.setting
        if key not in parameters
    ]
    return tuple(found)


def begin_build(register: Path, name: str, wishes: Wishes) -> Path:
    """Write the spec of a new van and return its file; the request must be without a problem.

    Raises Refused where a folder of that name came to be in the meantime, OSError where it cannot be written.
    """
    known = assemblies_of(register).get(wishes.assembly or "", {})
    write_new_folder(register / name, {SPEC_FILE: spec_text(name, wishes, known)})
    return register / name / SPEC_FILE


FRONT_SEATS = (
    "components:",
    "  # The seats that the vehicle comes with.",
    "  driver-seat: {kind: seat, driver: true, origin: base vehicle, faces: forward, "
    "used_under_way: true, belts: [three-point]}",
    "  passenger-seat: {kind: seat, origin: base vehicle, faces: forward, "
    "used_under_way: true, belts: [three-point]}",
)
"""What stands in the cab of a panel van as it is bought."""


def spec_text(name: str, wishes: Wishes, parameters: Mapping[str, str]) -> str:
    """Return the spec of a new van at enquiry, with what its assembly can be told beside it."""
    where = ", ".join(word.value for word in wishes.jurisdictions)
    lines = [
        "# What is not known yet stays out; `specreg inspect` says which figures would decide most.",
        "format: 1",
        f"build: {name}",
        f"title: {json.dumps(wishes.title, ensure_ascii=False)}",
        "stage: enquiry",
        f"jurisdictions: [{where}]",
        "",
        "use:",
        f"  people: {{adults: {wishes.adults}}}",
    ]
    if wishes.nights_off_grid is not None:
        lines.append(f"  nights_off_grid: {wishes.nights_off_grid}")
    lines += ["", *FRONT_SEATS]
    if wishes.assembly is not None:
        lines += ["", "include:", f"  - assembly: {wishes.assembly}", *_set(wishes.setting, parameters)]
    return "\n".join(lines) + "\n"


def _set(setting: Mapping[str, str], parameters: Mapping[str, str]) -> list[str]:
    chosen = ", ".join(f"{key}: {_written(value)}" for key, value in setting.items())
    others = ", ".join(f"{key}: {_written(value)}" for key, value in parameters.items() if key not in setting)
    lines = [f"    set: {{{chosen}}}"] if chosen else []
    return [*lines, f"    # as the package has it: {{{others}}}"] if others else lines


def _written(value: str) -> str:
    return value if BARE.fullmatch(value) else json.dumps(value, ensure_ascii=False)
