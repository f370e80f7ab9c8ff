"""Everything that is written goes through one module; what does not has a reason that stands here."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "specreg"

ALTERING = {
    *(
        "write_text",
        "write_bytes",
        "touch",
        "mkdir",
        "makedirs",
        "rmdir",
        "unlink",
        "remove",
        "rename",
    ),
    *("rmtree", "copy", "copy2", "copyfile", "copytree", "move", "mkdtemp", "mkstemp", "TemporaryDirectory"),
    *("NamedTemporaryFile", "symlink_to", "hardlink_to", "truncate", "fdopen"),
}
"""Calls by whose name something may be written, moved or taken away."""

REASONS = {
    "writing.py": "the one module that writes",
    "keeping.py": "makes the program's own folder below the user's cache folder; reads through a descriptor",
    "preview/state.py": "pages in a temporary folder of the preview's own",
    "register/sides.py": "a revision of git is laid in a temporary folder, to be read",
    "register/touched.py": "as above",
    "cli/__init__.py": "what is printed goes nowhere where a stream is closed",
    "cli/terminal.py": "as above",
}


def alters(node: ast.Call) -> bool:
    """Whether a call may alter the file system, judged by its name and mode alone."""
    function = node.func
    name = function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")
    owner = getattr(function.value, "id", "") if isinstance(function, ast.Attribute) else ""
    given = (*node.args, *(word.value for word in node.keywords))
    if owner == "os" and name in ("open", "write", "replace", "link", "symlink", "chmod"):
        return True
    if name == "open":
        modes = (one.value for one in given if isinstance(one, ast.Constant) and isinstance(one.value, str))
        return any(set(mode) <= set("rwxabt+") and set(mode) & set("wax+") for mode in modes)
    if name == "replace":  # of a path; that of a text takes two words
        return isinstance(function, ast.Attribute) and len(given) == 1
    if name in ("copy", "remove"):
        return owner in ("os", "shutil")
    return name in ALTERING


def places(path: Path) -> list[int]:
    """The lines of a module on which something may be altered."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [node.lineno for node in ast.walk(tree) if isinstance(node, ast.Call) and alters(node)]


def test_only_one_module_writes() -> None:
    """No other opens a file to write it, moves or takes anything away, but for the reasons above."""
    modules = sorted(path for path in PACKAGE.rglob("*.py") if "starter" not in path.parts)
    found = {path.relative_to(PACKAGE).as_posix(): places(path) for path in modules}
    assert {name: lines for name, lines in found.items() if lines and name not in REASONS} == {}
    assert [name for name in REASONS if not found[name]] == [], "a reason that is not needed any more"


@pytest.mark.parametrize(
    "line",
    [
        "path.write_text(x)", "open(p, 'wb')", "path.open('a')", "path.replace(other)", "os.open(p, 1)",
        "shutil.rmtree(p)", "path.unlink()", "os.rename(a, b)", "path.mkdir()", "tempfile.mkdtemp()",
    ],
)  # fmt: skip
def test_what_writes_is_seen(line: str) -> None:
    """The check above sees each way; reading and texts are none of its business."""
    assert alters(ast.parse(line, mode="eval").body)  # type: ignore[arg-type]
    for harmless in ("text.replace(a, b)", "open(p, 'rb')", "path.open(encoding='utf-8')", "x.copy()"):
        assert not alters(ast.parse(harmless, mode="eval").body)  # type: ignore[arg-type]
