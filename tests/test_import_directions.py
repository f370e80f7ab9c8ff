"""Each layer imports only from the layers before it, and nothing below knows the command line."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "specreg"

LAYERS = (
    "units",
    "source",
    "model",
    "graph",
    "tables",
    "space",
    "facts",
    "faults",
    "care",
    "works",
    "rules",
    "accepted",
    "report",
    "trade",
    "workshop",
    "register",
    "output",
    "pages",
    "library",
    "editor",
    "preview",
    "cli",
)
"""From the ground up; a layer may import from those before it and from itself."""

APART = {
    "shipped": {"cli", "workshop", "pages", "output", "editor"},
    "starting": {"cli"},
    "first_spec": {"cli"},
    "keeping": {"rules", "register", "pages"},
    "kept_checks": {"cli"},
    "writing": {"pages", "cli"},
}
"""Modules beside the layers, with the layers that may import them."""

FORBIDDEN = {
    ("tables", "source"),
    ("tables", "model"),
    ("tables", "graph"),
    ("graph", "tables"),
    ("units", "model"),
}
"""Imports that the order alone would allow or that deserve to be named."""


def layer_of(module: str) -> str:
    """The layer of a dotted module name below the package."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def imports(path: Path) -> set[str]:
    """Every module of the package that a file imports, wherever the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names if name.name.startswith("specreg")}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("specreg"):
            names = (
                {f"{node.module}.{name.name}" for name in node.names} if node.module == "specreg" else set()
            )
            found |= names or {str(node.module)}
    return found


FILES = sorted(path for path in PACKAGE.rglob("*.py") if "starter" not in path.parts)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_imports_point_downwards(path: Path) -> None:
    """A module imports nothing that stands above its own layer."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    own = parts[0] if parts[0] != "__init__" else ""
    if own not in LAYERS:
        return
    for module in imports(path):
        other = layer_of(module)
        if other in APART:
            assert own in APART[other], f"{own} imports {module}"
        elif other in LAYERS:
            assert LAYERS.index(other) <= LAYERS.index(own), f"{own} imports {module}"
            assert (own, other) not in FORBIDDEN, f"{own} imports {module}"


def test_every_module_has_a_layer() -> None:
    """Nobody adds a room without saying where it stands in the house."""
    rooms = {path.relative_to(PACKAGE).parts[0].removesuffix(".py") for path in FILES}
    assert rooms - {"__init__", "__main__"} <= {*LAYERS, *APART}


def test_the_command_line_is_imported_by_nothing() -> None:
    """Only the entry points know the command line."""
    users = [path.name for path in FILES if any(layer_of(m) == "cli" for m in imports(path))]
    assert set(users) <= {"__main__.py", "cli.py", *[p.name for p in FILES if "cli" in p.parts]}
