"""The command that an editor starts."""

from __future__ import annotations

import subprocess
import sys


def run(code: str) -> subprocess.CompletedProcess[str]:
    """A fresh Python with that program."""
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False
    )


def test_a_missing_package_is_named_with_what_to_install() -> None:
    """Without the extra the command says so in a line and ends with 2."""
    code = "import sys; sys.modules['pygls'] = None; sys.argv = ['specreg', 'editor']\n"
    ended = run(code + "from specreg.cli import main\nmain()")
    assert ended.returncode == 2
    assert 'pip install "specreg[editor]"' in ended.stderr and "Traceback" not in ended.stderr


def test_the_protocol_is_imported_by_its_command_alone() -> None:
    """The answers themselves, and all other commands, need no package of an editor's or a preview's."""
    code = (
        "import sys\n"
        "from specreg.cli.commands import cli\n"
        "from specreg.editor import completion, fixes, hover, navigation, notices, reading\n"
        "print([name for name in ('pygls', 'lsprotocol', 'watchfiles') if name in sys.modules])"
    )
    assert run(code).stdout == "[]\n"
