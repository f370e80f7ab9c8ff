"""Photographs and certificates: there, unchanged, and never outside their folder."""

from hashlib import sha256
from pathlib import Path

import pytest
from small_register import HERON, write_build

from specreg.facts.engine import Facts
from specreg.model.attached import Absent, Attached, well_named
from specreg.workshop import load

PICTURE = b"a picture"
MARK = sha256(PICTURE).hexdigest()


def amiss(register: Path, record: str) -> tuple[str, ...]:
    write_build(register, text=f"{HERON}records: {record}\n")
    (build,) = load(register / "heron").sound
    found: tuple[str, ...] = Facts(build).whole.files_amiss
    return found


@pytest.mark.parametrize(
    ("content", "record", "says"),
    [
        (PICTURE, f"{{photos: [{{file: W1.jpg, checksum: {MARK}}}]}}", ()),
        (b"another", f"{{photos: [{{file: W1.jpg, checksum: {MARK}}}]}}",
         ("W1.jpg (changed since it was recorded)",)),
        (None, f"{{photos: [{{file: W1.jpg, checksum: {MARK}}}]}}", ("W1.jpg (not there)",)),
        (PICTURE, "{photos: [{file: W1.jpg}]}", ("W1.jpg (no checksum recorded)",)),
        (PICTURE, "{photos: [{file: ../heron/W1.jpg}]}",
         ("../heron/W1.jpg (its name leads out of the folder)",)),
        (None, f"{{sign_offs: [{{matter: gas/engineer-signs, certificate: G1.pdf, certificate_checksum: {MARK}}}]}}",
         ("G1.pdf (not there)",)),
    ],
)  # fmt: skip
def test_what_is_amiss_with_a_file(
    tmp_path: Path, content: bytes | None, record: str, says: tuple[str, ...]
) -> None:
    """A file changed, gone, without checksum or elsewhere is said; one as recorded is not."""
    if content is not None:
        (tmp_path / "heron").mkdir()
        (tmp_path / "heron" / "W1.jpg").write_bytes(content)
    assert amiss(tmp_path, record) == says


def test_files_lie_in_the_folder_that_the_register_names(tmp_path: Path) -> None:
    """Outside git, a folder for each build."""
    (tmp_path / "van files" / "heron").mkdir(parents=True)
    (tmp_path / "van files" / "heron" / "W1.jpg").write_bytes(PICTURE)
    register = tmp_path / "builds"
    register.mkdir()
    record = f"{{photos: [{{file: W1.jpg, checksum: {MARK}}}]}}"
    assert amiss(register, record) == ("W1.jpg (not there)",)
    (register / "register.yaml").write_text("files: ../van files\n", encoding="utf-8")
    assert amiss(register, record) == ()


@pytest.mark.parametrize(
    "name", ["../a", "a/../b", "/a", "a\\b", "c:a", "", ".", "a//b", "a/", " a", "a\0b", "./a"]
)
def test_a_name_that_could_lead_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    """Whatever lies there."""
    assert not well_named(name)
    assert Attached(tmp_path).checksum(name) is Absent.refused


def test_a_link_that_leads_out_is_refused(tmp_path: Path) -> None:
    """A file outside is not read through a link inside."""
    (tmp_path / "secret").write_bytes(PICTURE)
    (tmp_path / "inside").mkdir()
    (tmp_path / "inside" / "W1.jpg").symlink_to(tmp_path / "secret")
    assert Attached(tmp_path / "inside").checksum("W1.jpg") is Absent.refused
