"""Every command in every form of output: what is run to see whether the same input gives the same bytes.

`vans` is the register, `VAN` stands for one of its builds, `OTHER` for the next one, `COMPONENT` for one in it. What a run writes lies
below the folder in which it runs.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

COMMANDS = (
    "inspect", "figures", "trace", "schedule", "start", "accept", "rules", "schema", "publish", "labels", "record",
    "order", "plan", "hand-over", "editor", "preview", "find", "compare",
)  # fmt: skip
"""All of them; `tests/repeat/test_same_bytes.py` holds that none is left out."""

TRADES = ("electrician", "gas-engineer", "seat-fitter", "examiner")
POINTS = ("panels-close", "energise", "gas-on", "hand-over")
FORMS = {
    "inspect": ("text", "json", "sarif", "junit", "markdown"),
    "figures": ("text", "json", "csv"),
    "schedule": ("text", "json", "csv"),
    "order": ("text", "json", "csv"),
    "plan": ("text", "json", "csv"),
}
SCHEMAS = ("parts", "assembly", "glossary", "inspect", "figures", "rules", "find", "compare")
READERS = ("public", "owner", "workshop")


FILLED = ("--fill tests.csv value '0.1 V'", "--fill tests.csv result 'within the limit'", "--fill tests.csv instrument M-1",
          "--fill tests.csv calibrated_on 2026-02-01")  # fmt: skip
"""What somebody writes into the first line of a sheet."""


@dataclass(frozen=True)
class Run:
    """A command line; `before` stands for lines that must have run in the same folder.

    `writes` tells that the register is changed by it: it is then run on a copy of its own.
    """

    line: str
    before: tuple[str, ...] = ()
    writes: bool = False
    environment: Mapping[str, str] = field(default_factory=dict)

    @property
    def words(self) -> list[str]:
        """The words of the line."""
        return shlex.split(self.line)

    @property
    def command(self) -> str:
        """The command, empty for the program itself."""
        first = self.words[0] if self.words else ""
        return first if first in COMMANDS else ""


def general_runs() -> Iterator[Run]:
    """What no single van is asked."""
    yield Run("--help")
    yield Run("--version")
    yield from (Run(f"{command} --help") for command in COMMANDS)
    yield from (Run(f"rules --format {form} --register vans") for form in ("text", "json", "markdown"))
    yield Run("rules --about dc/positive-run-protected")
    yield Run("rules --format markdown --into out")
    yield from (Run(f"schema --of {name}") for name in SCHEMAS)
    yield from (Run(f"schema --format {form}") for form in ("json", "markdown"))
    yield Run("inspect vanz")
    yield Run("inspect vans/neither")
    yield Run("find vanz kind=pump")
    yield Run("rules --about dc/positive-run-protect")
    for line in ("specreg inspect vans/", "specreg rules --about dc/p", "specreg trace vans "):
        typed = {"COMP_WORDS": line, "COMP_CWORD": str(len(line.split(" ")) - 1)}
        yield Run(f"--completion {line}", environment={"_SPECREG_COMPLETE": "bash_complete", **typed})
    yield Run("start new --title x")
    yield Run("start new")
    yield Run("start vans/new --title 'A new one' --in uk --in eu --adults 3 --nights 4", writes=True)


def register_runs() -> Iterator[Run]:
    """What a whole register is asked."""
    yield from (Run(f"inspect vans --format {form}") for form in FORMS["inspect"])
    yield from (Run(f"order vans --format {form} --on 2026-11-20") for form in FORMS["order"])
    yield from (Run(f"plan vans --format {form} --on 2026-11-20") for form in FORMS["plan"])
    yield from (Run(f"find vans kind=*alarm* --format {form}") for form in ("text", "json", "csv"))
    yield Run("find vans pump stage=design,commissioning")
    for form in ("text", "json", "csv"):
        yield Run(f"find vans --recall pump-pressure-switch --format {form} --notices notices")
    yield Run("order vans --import list.csv --kind roof-fan")
    yield Run("order vans --import list.csv --kind roof-fan --write", writes=True)
    yield Run("accept vans --into accepted.yaml")
    yield Run(
        "inspect vans --accepted accepted.yaml --format sarif", before=("accept vans --into accepted.yaml",)
    )
    yield Run("inspect vans --changed-since HEAD --stop-at note")
    yield Run("compare vans --format json")
    yield from (Run(f"publish vans --reader {reader} --into site --since HEAD") for reader in READERS)
    yield Run("schedule vans --assign", writes=True)


def van_runs() -> Iterator[Run]:
    """What one van is asked."""
    yield from (Run(f"inspect vans/VAN --format {form} --all") for form in FORMS["inspect"])
    yield Run("inspect vans/VAN --for hand-over --on 2027-03-01 --output out.txt")
    yield from (Run(f"figures vans/VAN --format {form} --on 2027-03-01") for form in FORMS["figures"])
    yield Run("figures vans/VAN --about COMPONENT")
    yield Run("figures vans/VAN --about COMPONENTx")
    yield from (Run(f"trace vans/VAN COMPONENT --format {form}") for form in ("text", "json"))
    yield from (Run(f"schedule vans/VAN --format {form}") for form in FORMS["schedule"])
    for trade in TRADES:
        yield from (Run(f"schedule vans/VAN --for {trade} --format {form}") for form in FORMS["schedule"])
    for point in POINTS:
        yield from (Run(f"schedule vans/VAN --at {point} --format {form}") for form in ("text", "csv"))
    yield Run("schedule vans/VAN --circuits")
    yield from (Run(f"compare vans/VAN --format {form}") for form in ("text", "json", "change-order"))
    yield Run("compare vans/VAN vans/OTHER --format json")
    yield Run("compare vans/VAN --with components.COMPONENT.mass=7kg --format text")
    yield from (Run(f"order vans/VAN --all --format {form}") for form in FORMS["order"])
    yield Run("order vans/VAN --all --format xlsx --output order.xlsx")
    yield from (Run(f"plan vans/VAN --format {form}") for form in FORMS["plan"])
    yield Run("publish vans/VAN --reader owner --into site --language de --at https://vans.example/VAN")
    yield Run("publish vans/VAN --reader workshop --into site --at https://vans.example/VAN")
    yield Run("publish vans/VAN --reader owner --into site --for-next-owner")
    yield Run("labels vans/VAN --into labels.html --at https://vans.example/VAN")
    yield Run("hand-over vans/VAN --on 2027-03-01 --show")
    yield Run("hand-over vans/VAN --on 2027-03-01", writes=True)
    yield Run("accept vans/VAN --into vans/accepted.yaml --for hand-over", writes=True)
    yield Run(
        "record vans/VAN tests.csv --by workshop --date 2026-11-21 --write",
        before=("schedule vans/VAN --for electrician --format csv --output tests.csv", *FILLED),
        writes=True,
    )
    yield Run(
        "record vans/VAN hold.csv --write",
        before=(
            "schedule vans/VAN --at panels-close --format csv --output hold.csv",
            "--fill hold.csv length '2.3 m'",
        ),
        writes=True,
    )
    yield Run(
        "record vans/VAN lines.csv --write",
        before=("schedule vans/VAN --circuits --output lines.csv",),
        writes=True,
    )


SHORT = (
    "--help", "--version", "inspect --help", "figures --help", "trace --help", "schedule --help", "start --help", "accept --help",
    "rules --help", "schema --help", "publish --help", "labels --help", "record --help", "order --help", "plan --help",
    "hand-over --help", "editor --help", "preview --help", "find --help", "compare --help",
    "rules --format json --register vans", "rules --format markdown --into out", "schema --format markdown", "schema --of glossary",
    "schema --of inspect", "inspect vanz", "--completion specreg inspect vans/", "--completion specreg trace vans ", "start new",
    "start vans/new --title 'A new one' --in uk --in eu --adults 3 --nights 4",
    "inspect vans --format sarif", "inspect vans --format junit", "inspect vans --changed-since HEAD --stop-at note",
    "inspect vans/VAN --format text --all", "inspect vans/VAN --format json --all", "inspect vans/VAN --format markdown --all",
    "find vans kind=*alarm* --format json", "find vans --recall pump-pressure-switch --format text --notices notices",
    "order vans --format csv --on 2026-11-20", "order vans/VAN --all --format xlsx --output order.xlsx",
    "order vans --import list.csv --kind roof-fan --write", "plan vans --format json --on 2026-11-20", "schedule vans --assign",
    "figures vans/VAN --format csv --on 2027-03-01", "trace vans/VAN COMPONENT --format json", "schedule vans/VAN --format json",
    "schedule vans/VAN --for electrician --format csv", "schedule vans/VAN --at panels-close --format csv",
    "schedule vans/VAN --circuits", "compare vans/VAN --format change-order", "labels vans/VAN --into labels.html --at https://vans.example/VAN",
    "publish vans --reader workshop --into site --since HEAD",
    "publish vans/VAN --reader owner --into site --language de --at https://vans.example/VAN",
    "hand-over vans/VAN --on 2027-03-01 --show", "accept vans/VAN --into vans/accepted.yaml --for hand-over",
    "record vans/VAN hold.csv --write",
)  # fmt: skip
"""Those of one van that the suite makes: each command, each form of output, each kind of file, once."""


def short_runs() -> tuple[Run, ...]:
    """The runs of the suite."""
    found = {run.line: run for run in (*general_runs(), *register_runs(), *van_runs())}
    return tuple(found[line] for line in SHORT)
