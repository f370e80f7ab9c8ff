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


class Offer:
    """The ports of one component as the ends of runs ask for them; made once, however many runs end there."""

    def __init__(self, component: Component) -> None:
        self.ports = component.ports()
        self._fitting: dict[Medium, list[Port]] = {}
        self._named: dict[tuple[Medium, str], list[Port]] = {}
        for port in self.ports:
            self._fitting.setdefault(port.medium, []).append(port)
            self._named.setdefault((port.medium, port.name), []).append(port)
        if all(port.name != CONTROL.name for port in self.ports):
            self._fitting.setdefault(Medium.control, []).append(CONTROL)
            self._named.setdefault((Medium.control, CONTROL.name), []).append(CONTROL)

    def fitting(self, medium: Medium) -> list[Port]:
        """Return the ports of a medium."""
        return self._fitting.get(medium, [])

    def named(self, medium: Medium, name: str) -> list[Port]:
        """Return the ports of a medium that have a name; without one, all of them."""
        return self._named.get((medium, name), []) if name else self.fitting(medium)


def port_of(offer: Offer, text: str, medium: Medium, way: Way) -> Port:
    """Return the port that one end of a run means.

    `way` is `out` for the end that the run comes from and `into` for the one that it goes to.
    Raises NoPort where none fits or several would.
    """
    name = split_end(text)[1]
    fitting = offer.fitting(medium)
    if not fitting:
        raise NoPort(f"`{text}` has no port for {medium.value}", _listed(offer.ports))
    named = offer.named(medium, name)
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


MOST_LISTED = 40
"""Ports that a problem lists; a box of thousand ways would fill the screen."""


def _listed(ports: tuple[Port, ...] | list[Port]) -> str:
    shown = [f"{port.name} ({port.medium.value}{_direction(port)})" for port in ports[:MOST_LISTED]]
    shown += ["…"] if len(ports) > MOST_LISTED else []
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
