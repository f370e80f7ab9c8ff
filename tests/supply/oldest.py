"""The oldest versions that `pyproject.toml` allows, installed and tested; or the newest, on another Python.

`python tests/supply/oldest.py` makes an environment in a temporary folder in which every direct dependency, those of
the extras and of the tests, too, is the oldest allowed, runs the tests that lean on one of them, and inspects the
demo register. `--newest --python python3.13` does the same with the newest versions on that Python.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

ROOT = Path(__file__).parents[2]
EXTRAS = ("editor", "photos", "preview", "spreadsheet", "test")
"""What is installed: all that runs or tests the program, not what checks its types and its form."""

WITH_EVERY_TEST = ("pytest", "pytest-xdist", "hypothesis")
"""What every run of the tests below is itself a trial of."""

WITH_NO_TEST = ("playwright",)
"""It is installed and no more: pages are opened in a browser with the newest versions alone."""

LEANING = {
    "pydantic": (
        *("tests/model/test_field.py", "tests/model/test_kinds_fields.py", "tests/model/test_read.py"),
        *("tests/model/test_electrical_kinds.py", "tests/model/test_fluid_kinds.py"),
        *("tests/model/test_furnishing_kinds.py", "tests/output/test_reference.py"),
    ),
    "networkx": (
        *("tests/graph/test_network.py", "tests/graph/test_fault.py"),
        *("tests/works/test_critical_path.py", "tests/facts/test_mains_path.py"),
    ),
    "jinja2": (
        *("tests/rules/test_condition.py", "tests/rules/test_condition_text.py"),
        *("tests/rules/test_condition_places.py", "tests/rules/test_documents.py"),
        *("tests/pages/test_publish.py", "tests/pages/test_kept_templates.py"),
    ),
    "pyyaml": ("tests/source/test_yaml.py", "tests/output/test_recording.py"),
    "markdown-it-py": ("tests/output/test_forms.py", "tests/pages/test_publish.py"),
    "click": ("tests/cli/test_commands.py", "tests/cli/test_reference_commands.py"),
    "segno": ("tests/pages/test_labels.py",),
    "pygls": ("tests/editor/test_server.py",),
    "pillow": ("tests/pages/test_photographs.py",),
    "watchfiles": ("tests/preview/test_preview.py",),
    "openpyxl": ("tests/works/test_parts_list.py",),
    "shapely": ("tests/facts/test_space_polygons.py",),
    "numpy": ("tests/facts/test_load_flow_oracle.py",),
    "pint": ("tests/units/test_notation.py",),
    "pvlib": ("tests/facts/test_sun_oracle.py",),
    "jsonschema": ("tests/output/test_json_schema.py", "tests/output/test_forms.py"),
    "fluids": ("tests/facts/test_heat_and_air_oracles.py", "tests/facts/test_water_and_gas_published.py"),
    "ht": ("tests/facts/test_heat_and_air_oracles.py",),
    "psychrolib": ("tests/facts/test_heat_and_air_oracles.py",),
    "icalendar": ("tests/pages/test_care.py",),
    "zxing-cpp": ("tests/pages/test_labels.py",),
}  # fmt: skip
"""For each package tests that call what the program calls of it, and for those of the tests, what most tests call.

What else a test reaches is ours, and the same with any version: facts, geometry, journeys, sums, wording. Where one
call serves many (the page of every reader, the sheet of every trade), one test of it is enough here: all of them run
with the newest versions. `inspect_demos` tries the program whole, from its entry point to its code.
"""

DEMOS = {"fieldwork": 0, "winter-tourer": 0, "pocket": 0, "second-hand": 1}
"""What `inspect` must end with."""

BOUND = re.compile(r"([A-Za-z0-9][A-Za-z0-9_-]*)>=([0-9]+(?:\.[0-9]+)*)")


def required(document: str, *extras: str) -> Iterator[tuple[str, str]]:
    """Every direct dependency of some extras, and of the program itself, with its oldest version."""
    project = tomllib.loads(document)["project"]
    lists = [project["dependencies"], *(project["optional-dependencies"][extra] for extra in extras)]
    for requirement in (one for listed in lists for one in listed):
        found = BOUND.fullmatch(requirement)
        if not found:
            raise ValueError(f"{requirement} does not say from which version on, and that alone")
        yield found[1].lower(), found[2]


def constraints(document: str) -> str:
    """What pip is told so that it takes the oldest."""
    oldest = dict(required(document, *EXTRAS))
    twice = {name for name, version in required(document, *EXTRAS) if oldest[name] != version}
    if twice:
        raise ValueError(f"two lower bounds: {', '.join(sorted(twice))}")
    return "".join(f"{name}=={version}\n" for name, version in sorted(oldest.items()))


def call(*words: str | Path) -> None:
    """Run a program in the project's folder; end where it fails."""
    print("$", *words, flush=True)
    subprocess.run(words, cwd=ROOT, check=True)


def made(folder: Path, python: str, *, newest: bool) -> Path:
    """An environment with the program and the versions that are wanted; the folder of its programs."""
    call(python, "-m", "venv", folder / "venv")
    programs = folder / "venv" / ("Scripts" if os.name == "nt" else "bin")
    bounds = folder / "constraints.txt"
    bounds.write_text(
        "" if newest else constraints((ROOT / "pyproject.toml").read_text(encoding="utf-8")), encoding="utf-8"
    )
    pip = (programs / "python", "-m", "pip", "--disable-pip-version-check")
    call(*pip, "install", "-q", "--prefer-binary", "-c", bounds, "-e", f".[{','.join(EXTRAS)}]")
    call(*pip, "check")
    print(
        subprocess.run(
            (*pip, "list", "--format", "freeze"), capture_output=True, text=True, check=True
        ).stdout
    )
    return programs


def inspect_demos(programs: Path) -> None:
    """Inspect the demo register; end where a code is not what it must be."""
    for name, code in DEMOS.items():
        words = (programs / "specreg", "inspect", f"builds/{name}")
        ended = subprocess.run(words, cwd=ROOT, stdout=subprocess.DEVNULL, check=False).returncode
        if ended != code:
            sys.exit(f"builds/{name} should end with {code}, not with {ended}")


def main() -> None:
    """Make the environment, test in it."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--newest", action="store_true", help="the newest versions in place of the oldest")
    words.add_argument(
        "--python", default=sys.executable, help="the interpreter to make the environment with"
    )
    words.add_argument("--at-once", default="2", help="how many tests run side by side")
    words.add_argument(
        "tests", nargs="*", default=sorted(set(chain(*LEANING.values()))), help="the tests to run"
    )
    asked = words.parse_args()
    with tempfile.TemporaryDirectory(prefix="specreg-oldest-") as folder:
        programs = made(Path(folder), asked.python, newest=asked.newest)
        inspect_demos(programs)
        how = ("-q", "-n", asked.at_once, "--dist", "worksteal", "-m", "not browser")
        call(programs / "pytest", *how, *asked.tests)


if __name__ == "__main__":
    main()
