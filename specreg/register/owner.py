"""What a notice may say of a van's owner: only what stands in the private file, which git does not see."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from specreg.source import Mapping as Tree
from specreg.source import Node, Problem, Scalar, at, read_yaml
from specreg.source.inside import contents
from specreg.source.listing import PRIVATE_FILE, REGISTER_FILE

IDENTITY = ("owner", "contact", "plate", "vin")


def private_identity(build: Path) -> Mapping[str, str]:
    """Return owner, contact, plate and identification number, as far as the private file says them."""
    tree = _read(build / PRIVATE_FILE, build, build.parent)
    said = at(tree, ("vehicle", "identity")) if isinstance(tree, Tree) else None
    entries = said.entries if isinstance(said, Tree) else {}
    return {
        key: node.text.strip()
        for key in IDENTITY
        if key in entries and isinstance(node := entries[key].node, Scalar)
    }


def workshop_name(register: Path) -> str:
    """Return what the register says the workshop is called; empty where it does not."""
    tree = _read(register / REGISTER_FILE, register)
    name = at(tree, ("workshop",)) if tree is not None else None
    return name.text.strip() if isinstance(name, Scalar) and name.value is not None else ""


def _read(path: Path, *homes: Path) -> Node | None:
    data = contents(path, path.name, *homes)
    return None if isinstance(data, Problem) else read_yaml(data, path.name)[0]
