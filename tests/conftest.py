"""Shared by all tests: their own small modules are importable, and there is a register to run commands on."""

import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

for folder in (".", "benchmarks", "keeping"):
    sys.path.insert(0, str(Path(__file__).parent / folder))


settings.register_profile("steady", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("repeatable", settings.get_profile("steady"), derandomize=True)
settings.register_profile(
    "found", settings.get_profile("repeatable"), phases=(Phase.explicit, Phase.generate)
)
settings.load_profile("repeatable" if os.environ.get("CI") else "steady")
"""A slow machine is no fault of the code; where a change is judged, the same examples are tried each time.

`found` is for trying mutants: that an example fails is enough, the smallest one is not looked for."""


@pytest.fixture(scope="session", autouse=True)
def run_folder(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Say where the folder of the run is: each worker has one of its own in it; without workers that is it."""
    from run_folder import RUN

    own = tmp_path_factory.getbasetemp().resolve()
    RUN.path = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a register `vans` of one van, and with a small pack instead of the shipped one."""
    from small_register import write_build, write_rules

    from specreg import shipped

    pack = write_rules(tmp_path / "pack")
    monkeypatch.setattr(shipped, "rules_folder", lambda: pack)
    monkeypatch.chdir(tmp_path)
    write_build(tmp_path / "vans")
    return tmp_path


@pytest.fixture(autouse=True)
def no_terminal_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parallel test runners set a width as a terminal does; the tests read text as a pipe gets it."""
    monkeypatch.delenv("COLUMNS", raising=False)
