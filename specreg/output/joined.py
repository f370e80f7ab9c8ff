"""The checks of several vans put together; it needs nothing of what made them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from specreg.output.style import INDENT, Style


def joined(parts: Sequence[str], lines: Sequence[str], unread: Iterable[str], style: Style) -> str:
    """Return the texts of several vans as one, at its end the line of each; `unread` could not be judged."""
    lost = [f"{name}: not judged, its spec cannot be read as it stands" for name in unread]
    overview = [_overview([*lines, *lost], style)] if len(parts) > 1 or lost else []
    return "\n\n".join([*parts, *overview]) + "\n" if parts or overview else ""


def _overview(lines: Iterable[str], style: Style) -> str:
    listed = [style.wrap(line, INDENT) for line in sorted(lines)]
    return "\n".join([style.tint("All builds", "title"), *listed])
