"""What a van's devices protect, derived apart from the program: from the merged text, by a general flow solver.

Nothing here uses the model's ports and links or the graph of the program. Each kind's inner joints and what it
can feed are written down again, from what such a thing does in the trade.
"""

from collections.abc import Iterator
from math import inf
from typing import Any

import networkx
from networkx.algorithms.flow import edmonds_karp

from specreg.tables.conductors import ampacity
from specreg.units import Dimension, parse, parse_conductor

Data = dict[str, Any]
SOURCE = "every source"
LARGE = 1e9


def amperes(text: object) -> float:
    return parse(str(text), Dimension.current)


def metres(text: object) -> float:
    return parse(str(text), Dimension.length)


def rating(device: Data | None) -> float:
    """What a device carries for ever; anything where none is fitted."""
    stated = (device or {}).get("fuse") or (device or {}).get("breaker")
    return amperes(stated) if stated else LARGE


def inner(name: str, thing: Data) -> Iterator[tuple[str, str, float]]:
    """The joints inside a component that carry a positive or a line core."""
    kind, ways = thing["kind"], thing.get("ways") or {}
    if kind == "fuse-box":
        yield from ((f"{name}/feed", f"{name}/{way}", rating(device)) for way, device in ways.items())
    elif kind == "mains-board":
        main = rating(thing.get("main"))
        yield from ((f"{name}/feed", f"{name}/bar", main) for _ in (0,))
        yield from ((f"{name}/bar", f"{name}/{way}", rating(device)) for way, device in ways.items())
    elif kind in ("fuse-holder", "mains-breaker"):
        yield f"{name}/in", f"{name}/out", rating(thing.get("device"))
    elif kind == "solar-disconnect":
        yield f"{name}/panel", f"{name}/controller", rating(thing.get("device"))
    elif kind == "solar-combiner":
        yield from ((f"{name}/{way}", f"{name}/out", rating(device)) for way, device in ways.items())
    elif kind in (
        "disconnect",
        "switch",
        "dimmer",
        "relay",
        "timer",
        "thermostat",
        "mains-isolator",
        "residual-current-device",
    ):
        yield f"{name}/in", f"{name}/out", LARGE
    elif kind == "split-relay":
        yield f"{name}/starter", f"{name}/house", LARGE
    elif kind == "low-voltage-disconnect":
        yield f"{name}/battery", f"{name}/loads", LARGE
    elif kind == "transfer-switch":
        sources = thing.get("sources") or ("shore", "inverter")
        yield from ((f"{name}/{source}", f"{name}/out", LARGE) for source in sources)
    elif kind == "inverter-charger":
        yield f"{name}/ac-in", f"{name}/ac-out", LARGE
    elif kind == "socket":
        yield f"{name}/mains", f"{name}/loop", LARGE


def node(end: str, components: Data, medium: str) -> str:
    """The node that a run's end means; all studs of a bus-bar, and both sides of a panel's way, are one."""
    name, _, port = end.partition("/")
    kind = components[name]["kind"]
    if kind == "bus-bar":
        return name
    if not port:
        port = {"fuse-box": "feed", "mains-board": "feed", "shore-inlet": "out", "socket": "mains"}.get(
            kind, medium
        )
    return f"{name}/{port}"


def feeds(name: str, thing: Data) -> Iterator[tuple[str, str, float]]:
    """The medium, the node and the greatest lasting current of what a component can push into a fault."""
    kind = thing["kind"]
    limits = {
        "solar-controller": ("dc", "battery", "rated_current"),
        "dc-charger": ("dc", "output", "output_current"),
        "dc-converter": ("dc", "output", "output_current"),
        "shore-charger": ("dc", "positive", "charge_current"),
        "inverter-charger": ("dc", "positive", "charge_current"),
        "solar-panel": ("dc", "leads", "short_circuit_current"),
        "shore-inlet": ("ac", "out", "rated_current"),
    }
    if kind == "battery":
        yield "dc", f"{name}/positive", LARGE
    elif kind == "alternator":
        limited = thing.get("self_limiting") and thing.get("rated_current")
        yield "dc", f"{name}/positive", amperes(thing["rated_current"]) if limited else LARGE
    elif kind in limits:
        medium, port, field = limits[kind]
        strings = int(thing.get("count", 1)) // int(thing.get("in_series", 1)) if kind == "solar-panel" else 1
        yield medium, f"{name}/{port}", amperes(thing[field]) * strings if field in thing else LARGE


def pieces(name: str, run: Data) -> list[tuple[str, str, float, float]]:
    """A run as its pieces, each with its length and the rating of the device behind it (none for the last)."""
    written = run.get("protection") or {}
    listed = list(written.items() if isinstance(written, dict) else enumerate(written, 1))
    near = [item for item in listed if item[1].get("end", "from") == "from"]
    far = [item for item in listed if item[1].get("end", "from") == "to"]
    near.sort(key=lambda item: metres(item[1].get("distance", "0 m")))
    far.sort(key=lambda item: -metres(item[1].get("distance", "0 m")))
    marks = ["start"] + [f"{name}#{called}" for called, _ in (*near, *far)] + ["finish"]
    ratings = [rating(device) for _, device in (*near, *far)] + [LARGE]
    total = metres(run.get("length", "0 m"))
    at = [0.0, *(metres(item["distance"]) for _, item in near)]
    at += [*(total - metres(item["distance"]) for _, item in far), total]
    return [(marks[i], marks[i + 1], at[i + 1] - at[i], ratings[i]) for i in range(len(marks) - 1)]


class Van:
    """A merged spec as a flow network of one medium."""

    def __init__(self, data: Data, medium: str) -> None:
        self.components: Data = data["components"]
        self.runs = {name: run for name, run in data["runs"].items() if run["medium"] == medium}
        self.medium = medium
        self.defaults: Data = data.get("defaults", {})
        self.graph: networkx.DiGraph[str] = networkx.DiGraph()
        self.parts: dict[str, list[tuple[str, str, float]]] = {}
        self._join()

    def _positive(self, end: str) -> bool:
        name, _, port = end.partition("/")
        thing = self.components[name]
        if thing["kind"] in ("bus-bar", "disconnect"):
            return bool(thing.get("polarity", "positive") == "positive")
        return port not in ("negative", "stud", "system", "earth") and thing["kind"] not in (
            "shunt",
            "chassis-point",
            "bonding-point",
        )

    def _join(self) -> None:
        returns = {run.get("return") for run in self.runs.values()}
        for name, thing in self.components.items():
            for a, b, most in inner(name, thing):
                self._edge(a, b, most)
        for name, run in self.runs.items():
            if name in returns or not (self._positive(run["from"]) and self._positive(run["to"])):
                continue
            ends = {
                "start": node(run["from"], self.components, self.medium),
                "finish": node(run["to"], self.components, self.medium),
            }
            for a, b, length, most in pieces(name, run):
                one, two = ends.get(a, a), ends.get(b, f"{b} before")
                self._edge(one, two, LARGE, length)
                self.parts.setdefault(name, []).append((one, two, length))
                if b not in ends:
                    self._edge(two, b, most)

    def _edge(self, a: str, b: str, most: float, length: float = 0.0) -> None:
        for one, two in ((a, b), (b, a)):
            had = self.graph.get_edge_data(one, two, {"capacity": 0.0})["capacity"]
            self.graph.add_edge(one, two, capacity=had + most, length=length)

    def sources(self) -> Iterator[tuple[str, str, float]]:
        for name, thing in self.components.items():
            for medium, at, most in feeds(name, thing):
                if medium == self.medium:
                    yield name, at, most

    def pushed(self, target: str, cut: tuple[str, str], only: str | None = None) -> float:
        """The greatest current that all sources (or one) push to a node while a piece is cut out."""
        graph = self.graph.copy()
        for one, two in (cut, cut[::-1]):
            if graph.has_edge(one, two):
                graph.remove_edge(one, two)
        graph.add_nodes_from((SOURCE, target))
        for name, at, most in self.sources():
            if only in (None, name):
                graph.add_edge(SOURCE, at, capacity=most)
        # shortest ways first: on a graph with so few joints it takes two thirds of what pushing preflows does
        return float(networkx.maximum_flow_value(graph, SOURCE, target, flow_func=edmonds_karp))

    def reached_by(self, run: str) -> set[str]:
        """The sources that can push anything at all into a run."""
        return {
            name
            for name, _, _ in self.sources()
            for one, two, _ in self.parts[run]
            if self.pushed(one, (one, two), name) > 0 or self.pushed(two, (one, two), name) > 0
        }

    def into(self, run: str) -> list[float]:
        """What is pushed into each end of each piece of a run; infinite for what is bare for too long."""
        found = []
        for one, two, length in self.parts[run]:
            for end, across in ((one, two), (two, one)):
                current = self.pushed(end, (one, two))
                if current < LARGE and self.ends_at_device(across):
                    too_long = current > self.carries(run) and length > self.allowed(run)
                    found.append(inf if too_long else 0.0)
                elif current < LARGE:
                    found.append(current)
                elif self.bare(end, (one, two)) + length > self.allowed(run):
                    found.append(inf)
        return found

    def ends_at_device(self, end: str) -> bool:
        """Whether a direct-current conductor ends there at a device: in line, in a holder, or at a box."""
        if self.medium != "dc" or "#" in end:
            return self.medium == "dc"
        name, _, port = end.partition("/")
        thing = self.components.get(name, {})
        if thing.get("kind") == "fuse-holder":
            return rating(thing.get("device")) < LARGE
        ways = (thing.get("ways") or {}).values() if thing.get("kind") == "fuse-box" else ()
        return port == "feed" and bool(ways) and all(rating(device) < LARGE for device in ways)

    def bare(self, target: str, cut: tuple[str, str]) -> float:
        """How far the nearest unlimited source is, along conductors without a device."""
        graph: networkx.Graph[str] = networkx.Graph()
        graph.add_nodes_from((target, *(at for _, at, _ in self.sources())))
        for one, two, joint in self.graph.edges(data=True):
            if joint["capacity"] >= LARGE and {one, two} != set(cut):
                graph.add_edge(one, two, length=joint["length"])
        far = networkx.single_source_dijkstra_path_length(graph, target, weight="length")
        return float(min(far[at] for _, at, most in self.sources() if most >= LARGE and at in far))

    def allowed(self, run: str) -> float:
        """33 CFR 183.455(b): 7 in of bare conductor, 40 in where it is covered all the way."""
        covered = self.runs[run].get("covering", "none") != "none"
        return 40 * 0.0254 if covered else 7 * 0.0254

    def carries(self, run: str) -> float:
        """What the conductor of a run carries by the published table."""
        spec = self.runs[run]
        default = "insulation" if self.medium == "dc" else "mains_insulation"
        insulation = parse(spec.get("insulation") or self.defaults[default], Dimension.temperature) - 273.15
        return ampacity(
            parse_conductor(spec["conductor"]),
            insulation,
            engine_space=bool(spec.get("engine_space")),
            bundled=spec.get("bundled_with", 1),
            voltage=12.0 if self.medium == "dc" else 230.0,
        ).value

    def starts_engine(self, run: str) -> bool:
        ends = (self.runs[run]["from"], self.runs[run]["to"])
        return any(self.components[end.partition("/")[0]]["kind"] == "starter-motor" for end in ends)

    def harmed(self) -> dict[str, str]:
        """The runs that more current can get into than they carry, with why."""
        found = {}
        for run in self.parts:
            fed = self.into(run)
            bounded = max((current for current in fed if current < inf), default=0.0)
            if self.starts_engine(run):
                continue
            if inf in fed:
                found[run] = "bare for too long"
            elif bounded > self.carries(run):
                found[run] = f"{bounded:g} A"
        return found
