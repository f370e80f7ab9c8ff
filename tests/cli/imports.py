"""What command lines read in: `python imports.py TREE.json REPORT`, in a folder with a register.

Each line of the tree runs in a copy (fork) of the process that ran the line above it, so that what both need is
read in once; the report has a line of JSON for each: its words, how it ended, all modules that are then there.
"""

import io
import json
import os
import shlex
import sys
from pathlib import Path
from typing import Any


def ended(line: str) -> int:
    """Run one line; its exit code."""
    from specreg.cli import main

    was = sys.argv, sys.stdout, sys.stderr
    sys.argv = ["specreg", *shlex.split(line)]
    sys.stdout, sys.stderr = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8") for _ in range(2))
    try:
        main()
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    finally:
        sys.argv, sys.stdout, sys.stderr = was


def walk(tree: dict[str, Any], report: Path) -> None:
    """Run every line of a tree, each in a copy of this process; what hangs below it goes on from there."""
    for line, below in tree.items():
        child = os.fork()
        if not child:
            told = {"line": line, "code": ended(line), "modules": sorted(sys.modules)}
            with report.open("a", encoding="utf-8") as file:
                file.write(json.dumps(told) + "\n")
            walk(below, report)
            os._exit(0)
        os.waitpid(child, 0)


if __name__ == "__main__":
    walk(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")), Path(sys.argv[2]))
