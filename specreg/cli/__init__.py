"""The command line."""

from __future__ import annotations

import gc
import io
import os
import signal
import sys
import traceback
from contextlib import suppress
from pathlib import Path
from typing import NoReturn


class Stopped(BaseException):
    """Somebody wants the run to end: what is half done is taken away on the way out."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


def main() -> NoReturn:
    """Run the command line; a fault of our own is named as one, without a wall of text."""
    # The process ends within seconds. Looking for cycles took a quarter of `inspect` and freed 1 MB of 80, a
    # fifth of `publish` and freed 2 MB for each van.
    gc.disable()
    # Plug-ins of whatever else is installed have no say in what a spec means, and are not looked for.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    _prepare_streams()
    if sys.flags.optimize > 1:
        _say("specreg: Python drops the texts from which titles and help are made; run it without -OO")
        sys.exit(2)
    try:
        _stop_on_signals()
        from specreg.cli.commands import cli
        from specreg.cli.options import OWN_PROCESS

        cli.main(prog_name="specreg", obj=OWN_PROCESS)
    except Stopped as stopped:
        _say("specreg: stopped before it was done")
        sys.exit(128 + stopped.number)
    except Exception as fault:
        if os.environ.get("SPECREG_TRACEBACK"):
            raise
        if isinstance(fault, OSError) and fault.strerror:
            _say_what_the_system_refuses(fault)
        else:
            _say_what_went_wrong(fault)
        sys.exit(2)
    finally:
        gc.freeze()  # nor look for them at the very end, when the system takes all back at once
    sys.exit(0)


def _prepare_streams() -> None:
    """Write the same bytes everywhere; a stream that is closed takes everything and keeps nothing."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: PTH123, SIM115 - stays open
        stream = getattr(sys, name)
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")


def _stop_on_signals() -> None:
    """Leave by the usual way on Ctrl+C, a signal to end or a closed terminal; the second time at once."""

    def stop(number: int, frame: object) -> NoReturn:
        signal.signal(number, signal.SIG_DFL)
        raise Stopped(number)

    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)  # Windows has not all
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, stop)


def _say(text: str) -> None:
    from specreg.cli.terminal import note

    note(text)


def _say_what_the_system_refuses(error: OSError) -> None:
    """Name a file that cannot be read or written where no command has a better word for it."""
    from specreg.cli.terminal import remedy_for

    what = f"{os.fsdecode(error.filename)} cannot be read" if error.filename else "the system refuses"
    _say(f"specreg: problem: {what}: {error.strerror}; {remedy_for(error)}")
    with suppress(OSError):  # what waits to be printed is not tried again
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _say_what_went_wrong(fault: Exception) -> None:
    last = traceback.extract_tb(fault.__traceback__)[-1]
    where = f"{Path(last.filename).name}:{last.lineno}"
    _say(f"specreg: fault of its own at {where}: {type(fault).__name__}: {fault}")
    _say("specreg: please report it with the spec; SPECREG_TRACEBACK=1 shows more")
