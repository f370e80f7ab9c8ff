"""A preview on a full disk: the last good pages stay, with what is the matter."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from specreg import writing
from specreg.model.field import Reader
from specreg.preview.state import Preview


def test_pages_that_cannot_be_written_leave_the_last_good_ones(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No fault of ours; once there is room again, the pages come anew; at the end the folder is gone."""
    preview = Preview(place / "vans" / "heron", Reader.owner, place / "vans")
    first = preview.make()
    assert first.site is not None and not first.problems

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(writing, "_lay", full)
        shown = preview.make()
    assert shown.problems == ("the pages cannot be made: No space left on device",)
    assert shown.site == first.site and (first.site / "index.html").is_file()
    assert preview.make().pages == first.pages + 1
    assert [path.name for path in first.site.parent.iterdir()] == ["pages-2"]
    preview.close()
    assert not first.site.parent.exists()
