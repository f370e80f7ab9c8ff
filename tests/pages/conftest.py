"""The published sites of a test run lie where all its processes find them."""

import os

import pytest
from published import SITES


@pytest.fixture(scope="session", autouse=True)
def sites(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Each worker has a folder of its own in that of the run; without workers there is one process."""
    own = tmp_path_factory.getbasetemp().resolve()
    SITES.folder = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
