"""Which ports the two ends of a run mean."""

from dataclasses import dataclass
from typing import NamedTuple

from specreg.model.component import Component
from specreg.model.port import CORES, Medium, Port, Role, Way
from specreg.model.run import DcRun, Run
from specreg.source import nearest_word

CONTROL = Port("control", Medium.control, Role.flow)
"""Every component can take part in control: a switch acts on it, a sensor reads it."""


class Joint(NamedTuple):
    """One end of a run: a component and one of its ports."""

    component: str
    port: Port


@dataclass(frozen=True)
class Ends:
    """The two ends of a run and the cores that it has between them."""

    start: Joint
    finish: Joint
    cores: tuple[str, ...]


@dataclass(frozen=True)
class NoPort(Exception):  # noqa: N818 - an answer: there is no such port
    """An end that names no port, or more than one: what was expected instead."""

    message: str
    expected: str
    nearest: str | None = None


def split_end(text: str) -> tuple[str, str]:
    """Split `fuse-box/4` into the component and the port; the port may be left out."""
    component, _, port = text.partition("/")
    return component, port


def port_of(component: Component, text: str, medium: Medium, way: Way) -> Port:
    """Return the port that one end of a run means.

    `way` is `out` for the end that the run comes from and `into` for the one that it goes to.
    Raises NoPort where none fits or several would.
    """
    name = split_end(text)[1]
    offered = component.ports()
    if medium is Medium.control and all(port.name != CONTROL.name for port in offered):
        offered = (*offered, CONTROL)
    fitting = [port for port in offered if port.medium is medium]
    if not fitting:
        raise NoPort(f"`{text}` has no port for {medium.value}", _listed(offered))
    named = [port for port in fitting if port.name == name] if name else fitting
    if not named:
        names = [port.name for port in fitting]
        raise NoPort(f"`{text}`: there is no such port", _listed(fitting), nearest_word(name, names))
    right = [port for port in named if port.way in (way, Way.either)]
    if not right:
        other = "comes from" if way is Way.into else "goes to"
        raise NoPort(f"`{text}` is a port that a run only {other}", _listed(fitting))
    return right[0] if len(right) == 1 else _main(text, right)


def _main(text: str, ports: list[Port]) -> Port:
    mains = [port for port in ports if port.main]
    if len(mains) != 1:
        raise NoPort(f"`{text}` could be several ports: say which", _listed(ports))
    return mains[0]


def _listed(ports: tuple[Port, ...] | list[Port]) -> str:
    shown = [f"{port.name} ({port.medium.value}{_direction(port)})" for port in ports]
    return "one of " + ", ".join(shown) if shown else "a component with ports"


def _direction(port: Port) -> str:
    return {Way.into: ", in", Way.out: ", out", Way.either: ""}[port.way]


def cores_of(run: Run, start: Port, finish: Port, is_return: bool) -> tuple[str, ...]:
    """Return the cores that a run has between two ports; empty where their polarities cannot meet."""
    common = tuple(core for core in CORES[start.role] if core in CORES[finish.role])
    if isinstance(run, DcRun) and common == CORES[Role.pair]:
        if is_return:
            return ("negative",)
        return common if run.returns == "same cable" else ("positive",)
    return common
