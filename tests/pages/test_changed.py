"""What changed since a revision, on a page, for each reader what is his."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from published import REGISTER, text_of

from specreg.model.field import Reader
from specreg.pages.publish import publish

WHO = {
    "GIT_AUTHOR_NAME": "a",
    "GIT_AUTHOR_EMAIL": "a@invalid",
    "GIT_COMMITTER_NAME": "a",
    "GIT_COMMITTER_EMAIL": "a@invalid",
}


def git(folder: Path, *words: str) -> None:
    """Run git in a folder, with nobody's settings."""
    subprocess.run(
        ["git", *words],
        cwd=folder,
        check=True,
        capture_output=True,
        env={**os.environ, **WHO, "HOME": str(folder)},
    )


@pytest.fixture(scope="module")
def changed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register in git whose one van has a stronger pump, no work light and another price since."""
    home = tmp_path_factory.mktemp("changed").resolve()
    shutil.copytree(REGISTER, home / "builds")
    git(home, "init", "-q")
    git(home, "add", ".")
    git(home, "commit", "-q", "-m", "as ordered")
    spec = home / "builds" / "pocket" / "spec.yaml"
    text = spec.read_text()
    assert text.count("title:") >= 1
    spec.write_text(
        text.replace(
            "  smoke-alarm: {",
            "  second-alarm: {part: smoke-alarm-pocket, at: [2500 mm, 0 mm, 1190 mm], serial: PRIVATE-9}\n  smoke-alarm: {price: 76543 EUR, ",
            1,
        )
    )
    return home


@pytest.mark.parametrize("reader", list(Reader))
def test_what_was_fitted_is_told_and_what_is_private_is_not(
    changed: Path, reader: Reader, tmp_path: Path
) -> None:
    """A serial number is for the owner, a price for the workshop."""
    told = publish(changed / "builds" / "pocket", reader, tmp_path / "site", since="HEAD")
    assert told.problems == ()
    said = text_of(tmp_path / "site" / "changed.html")
    assert "Second alarm" in said
    assert "Fitted" in said
    everything = "".join(file.read_text() for file in (tmp_path / "site").rglob("*") if file.is_file())
    assert ("PRIVATE-9" in everything) == reader.may_read(Reader.owner)
    assert "76543" not in everything or reader is Reader.workshop


def test_a_revision_that_is_not_there_is_a_problem_and_the_rest_is_published(
    changed: Path, tmp_path: Path
) -> None:
    """No page of changes, and a word on why."""
    told = publish(changed / "builds" / "pocket", Reader.owner, tmp_path / "site", since="nowhere")
    assert any("nowhere" in problem.text() for problem in told.problems)
    assert not (tmp_path / "site" / "changed.html").exists()
    assert (tmp_path / "site" / "index.html").exists()


def test_without_a_revision_there_is_no_such_page(changed: Path, tmp_path: Path) -> None:
    """Nothing is compared unasked."""
    publish(changed / "builds" / "pocket", Reader.owner, tmp_path / "site")
    assert not (tmp_path / "site" / "changed.html").exists()
