"""The command line."""

from __future__ import annotations

import gc
import io
import os
import sys
import traceback
from pathlib import Path
from typing import NoReturn


def main() -> NoReturn:
    """Run the command line; a fault of our own is named as one, without a wall of text."""
    # The process ends within seconds. Looking for cycles took a quarter of `inspect` and freed 1 MB of 80, a
    # fifth of `publish` and freed 2 MB for each van.
    gc.disable()
    # Plug-ins of whatever else is installed have no say in what a spec means, and are not looked for.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")
    try:
        from specreg.cli.commands import cli

        cli.main(prog_name="specreg")
    except Exception as fault:
        if os.environ.get("SPECREG_TRACEBACK"):
            raise
        last = traceback.extract_tb(fault.__traceback__)[-1]
        where = f"{Path(last.filename).name}:{last.lineno}"
        from specreg.cli.terminal import note

        note(f"specreg: fault of its own at {where}: {type(fault).__name__}: {fault}")
        note("specreg: please report it with the spec; SPECREG_TRACEBACK=1 shows more")
        sys.exit(2)
    finally:
        gc.freeze()  # nor look for them at the very end, when the system takes all back at once
    sys.exit(0)
