"""A book for the next owner holds nothing that belongs to the one before."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from published import REGISTER

from specreg.cli.commands import cli
from specreg.model.field import Reader
from specreg.pages.publish import Wishes, publish

FORMER = {"canary-owner", "canary-contact", "canary-plate", "canary-hand"}
KEPT = {"canary-vin", "canary-keys"}
"""What belongs to the van goes with it."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The pocket van with a canary in each private field of its owner, and one served by the owner."""
    shutil.copytree(REGISTER, tmp_path / "builds")
    found = tmp_path / "builds" / "pocket"
    (found / "private.yaml").write_text(
        "vehicle:\n  identity: {owner: canary-owner, contact: canary-contact, plate: canary-plate,"
        " vin: canary-vin, keys: canary-keys}\n"
        "records:\n  services:\n    - {date: 2026-02-01, what: Battery terminals tightened, by: canary-hand}\n"
    )
    return found


def everything(site: Path) -> str:
    """Every byte of a site."""
    return "\n".join(path.read_text(encoding="utf-8") for path in site.rglob("*") if path.is_file())


def told(folder: Path, into: Path, *, next_owner: bool) -> set[str]:
    """The canaries of a published book."""
    assert publish(folder, Reader.owner, into, wishes=Wishes(next_owner=next_owner)).problems == ()
    text = everything(into)
    assert "Battery terminals tightened" in text
    return {one for one in FORMER | KEPT if one in text}


def test_the_former_owner_is_left_out_and_the_van_is_not(folder: Path, tmp_path: Path) -> None:
    """What was done stays, who did it goes; the owner's own edition has all that an owner reads."""
    assert told(folder, tmp_path / "own", next_owner=False) == KEPT | FORMER - {"canary-contact"}
    assert told(folder, tmp_path / "next", next_owner=True) == KEPT


@pytest.mark.parametrize(("reader", "code"), [("owner", 0), ("workshop", 2), ("public", 2)])
def test_the_command_has_it_for_the_owners_edition_only(
    folder: Path, tmp_path: Path, reader: str, code: int
) -> None:
    """For other readers it is refused with what to say instead."""
    into = tmp_path / "site"
    done = CliRunner().invoke(
        cli, ["publish", str(folder), "--reader", reader, "--into", str(into), "--for-next-owner"]
    )
    assert done.exit_code == code, done.output
    assert (
        ("canary-owner" in everything(into)) is False if code == 0 else "give --reader owner" in done.output
    )
