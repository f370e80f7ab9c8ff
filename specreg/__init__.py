"""The register of a camper-van workshop: specs in, facts, findings and the owner's pages out.

For programs: `load`, `inspect`, `figures`, `publish`, described in `specreg.library`. They are read in when
they are first asked for, so that `import specreg` costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specreg.library import figures, inspect, load, publish

__version__ = "0.1.0"
__all__ = ["__version__", "figures", "inspect", "load", "publish"]


def __getattr__(name: str) -> object:
    """Read in what is asked for. Raises AttributeError for any other name."""
    if name not in __all__:
        raise AttributeError(f"module 'specreg' has no attribute {name!r}")
    from specreg import library  # noqa: PLC0415 - not before it is asked for

    return getattr(library, name)


def __dir__() -> list[str]:
    """Return what a program may ask for."""
    return sorted(__all__)
