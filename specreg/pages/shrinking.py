"""A photograph made small for a page, with nothing in it but its picture."""

from __future__ import annotations

import warnings
from io import BytesIO
from typing import NamedTuple

LONGEST_SIDE = 1_000
"""Pixels: enough to recognise a joint or a label on a telephone."""
QUALITY = 70
MOST_PIXELS = 100_000_000
"""Pixels that a file may unpack to; a small file can claim any number of them."""
FORMATS = ("JPEG", "PNG", "WEBP")
"""What cameras and telephones write; other readers of the library start programs or are seldom tried."""


class NoLibrary(Exception):  # noqa: N818 - a state of the installation that is said to a person
    """Pillow, which shrinks photographs, is not installed."""


class Small(NamedTuple):
    """A shrunk photograph: the bytes of its file, width and height in pixels."""

    jpeg: bytes
    width: int
    height: int


def shrunk(data: bytes) -> Small | None:
    """Return a photograph of at most LONGEST_SIDE without metadata, None where it is no picture.

    Place, time, camera, comment and colour profile do not go with it: only its pixels are copied. The same
    bytes give the same file as long as Pillow is the same. Raises NoLibrary without Pillow.
    """
    try:
        from PIL import Image, ImageOps  # noqa: PLC0415 - optional, and only publishing needs it
    except ImportError as error:
        raise NoLibrary from error
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of its own limit for pixels; ours is lower
            with Image.open(BytesIO(data), formats=FORMATS) as opened:
                if opened.width * opened.height > MOST_PIXELS:
                    return None
                opened.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                upright = ImageOps.exif_transpose(opened).convert("RGBA")
    except Exception:  # a broken picture makes the library raise whatever its reader met
        return None
    clean = Image.new("RGB", upright.size, "white")
    clean.paste(upright, mask=upright.getchannel("A"))
    into = BytesIO()
    clean.save(into, "JPEG", quality=QUALITY, optimize=True)
    return Small(into.getvalue(), *clean.size)
