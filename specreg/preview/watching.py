"""Noticing that a file of a register has changed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event

WATCHED = (".yaml", ".md", ".toml", ".css")
"""What pages are made from: specs and parts, rules, procedures and texts of the register's own."""

EVERY = 0.4
"""Seconds between two looks where nothing tells of a change."""

QUIET = 0.15
"""Seconds without a further change after which a change counts as finished."""

Marks = dict[str, tuple[int, int]]


def marks(folder: Path) -> Marks:
    """Return when each watched file was changed last, and its size."""
    found: Marks = {}
    for path in folder.rglob("*"):
        if path.suffix in WATCHED and not any(
            part.startswith(".") for part in path.parts[len(folder.parts) :]
        ):
            try:
                about = path.stat()
            except OSError:  # gone since it was listed
                continue
            found[str(path)] = (about.st_mtime_ns, about.st_size)
    return found


def follow(folder: Path, changed: Callable[[], None], ended: Event) -> None:
    """Call `changed` after every change in a folder, until `ended` is set."""
    seen = marks(folder)
    pause = _alarm(folder, ended)
    while not ended.is_set():
        pause()
        now = marks(folder)
        if now == seen:
            continue
        while not ended.wait(QUIET) and (later := marks(folder)) != now:
            now = later
        seen = now
        if not ended.is_set():
            changed()


def _alarm(folder: Path, ended: Event) -> Callable[[], object]:
    """Return what waits for the next change: the system's own notice where that can be had, else a while."""
    try:
        from watchfiles import watch  # noqa: PLC0415 - an optional package
    except ImportError:
        return lambda: ended.wait(EVERY)
    news = watch(folder, stop_event=ended, debounce=50, step=20, rust_timeout=1000, yield_on_timeout=True)
    return lambda: next(news, None)
