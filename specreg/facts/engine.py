"""Facts, computed when asked for, once, each with what it was computed from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cache, cached_property
from itertools import chain
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from pydantic import BaseModel

from specreg.facts.field_type import type_of_field
from specreg.facts.missing import Missing
from specreg.facts.registry import Kind, kinds_for
from specreg.model.build import Build
from specreg.model.device import ProtectiveDevice
from specreg.units import Dimension

if TYPE_CHECKING:
    from specreg.graph.network import Network

T = TypeVar("T")

SIMPLE = frozenset({float, int, bool, str, tuple})
"""The types of most fields; they are no parts with fields of their own, and it is slow to ask."""

NO_NUMBER = "its inputs give no number"
"""Why a fact is not known whose computation divides by nothing or runs beyond all numbers: odd figures in a
spec are never a fault of the program."""


class Input(NamedTuple):
    """A figure that went into a fact, or into a judgement."""

    name: str
    value: Any
    dimension: Dimension | None


class Fact(NamedTuple):
    """What was computed about one subject; without a value where `missing` fields would be needed."""

    kind: Kind
    subject: str
    case: str | None
    value: Any = None
    inputs: tuple[Input, ...] = ()
    assumptions: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reason: str = ""

    @property
    def known(self) -> bool:
        """Tell whether there is a value."""
        return not self.missing and not self.reason


class Subject:
    """One thing that facts are about, as computations and conditions see it.

    An attribute is a field of the spec or a fact; it raises Missing where neither is known. What is read
    is recorded as an input of the fact being computed.
    """

    __slots__ = ("_facts", "case", "id", "model")

    def __init__(self, facts: Facts, subject: str, model: BaseModel, case: str | None = None) -> None:
        self._facts = facts
        self.id = subject
        self.model = model
        self.case = case

    @property
    def van(self) -> Facts:
        """Return the facts of the whole build."""
        return self._facts

    @property
    def name(self) -> str:
        """Return what a person calls it."""
        return self._facts.name_of(self.id)

    @property
    def kind(self) -> str:
        """Return its kind in the spec's word."""
        return str(getattr(self.model, "kind", ""))

    @property
    def designation(self) -> str | None:
        """Return its reference designation, once assigned."""
        return self._facts.build.designations.get(self.id)

    def __str__(self) -> str:
        """Return what a person calls it."""
        return self.name

    def __getattr__(self, name: str) -> Any:
        """Return a field or a fact; raise Missing where it is not known."""
        member = _member(type(self.model), name)
        if member is None:
            raise AttributeError(name=name, obj=self)
        if isinstance(member, Kind):
            return self._facts.value(self, member)
        return self._facts.field(self.id, self.model, member)

    def __eq__(self, other: object) -> bool:
        """Two views of one subject are the same."""
        return isinstance(other, Subject) and other.id == self.id

    def __hash__(self) -> int:
        """Hash by subject."""
        return hash(self.id)

    def get(self, name: str) -> Any:
        """Return a field or a fact, or None where it is not known."""
        member = _member(type(self.model), name)
        if isinstance(member, Field) and getattr(self.model, name) is None:
            return None  # what raising and catching would come to, which is slow
        try:
            return getattr(self, name)
        except Missing:
            return None

    def in_case(self, case: str | None) -> Subject:
        """Return the same subject in one case of an axis."""
        return self if case == self.case else Subject(self._facts, self.id, self.model, case)


class Part:
    """A part of a spec that has fields of its own, such as the vehicle's permitted masses."""

    __slots__ = ("_facts", "_model", "_path")

    def __init__(self, facts: Facts, path: str, model: BaseModel) -> None:
        self._facts = facts
        self._path = path
        self._model = model

    def __getattr__(self, name: str) -> Any:
        """Return a field; raise Missing where it is not stated."""
        member = _member(type(self._model), name)
        if not isinstance(member, Field):
            raise AttributeError(name=name, obj=self)
        return self._facts.field(self._path, self._model, member)


@cache
def written_keys(model: type[BaseModel]) -> Mapping[str, str]:
    """Return the fields of a model, each with the key that a spec writes for it."""
    return {name: about.alias or name for name, about in model.model_fields.items()}


class Field(NamedTuple):
    """A field of a model as facts read it: its name, its key in a spec, what it measures, if anything."""

    name: str
    key: str
    dimension: Dimension | None


@cache
def _member(model: type[BaseModel], name: str) -> Field | Kind | None:
    """Return what can be read of a model by a name: a field, a fact about it, or nothing."""
    key = written_keys(model).get(name)
    if key is None:
        return kinds_for(model).get(name)
    kind = type_of_field(model, name)
    return Field(name, key, kind.dimension if kind else None)


class Frame:
    """What one computation, or one judgement, has read and assumed so far: all that happens within it."""

    __slots__ = ("_frames", "assumptions", "inputs")

    def __init__(self, frames: list[Frame]) -> None:
        self._frames = frames
        self.inputs: dict[str, Input] = {}
        self.assumptions: dict[str, None] = {}

    def __enter__(self) -> Frame:
        """Begin to collect."""
        self._frames.append(self)
        return self

    def __exit__(self, *_: object) -> None:
        """Collect no more."""
        self._frames.pop()


class Facts:
    """Every fact of one build, kept once computed."""

    def __init__(self, build: Build, on: date | None = None) -> None:
        self.build = build
        self._on = on or build.header.as_of
        self.matters: Mapping[str, bool] | None = None
        """The rules by which the build is judged, and whether a person answers each; None while it is not."""
        self._known: dict[tuple[str, str, str | None], tuple[Fact, Input | None]] = {}
        self._frames: list[Frame] = []
        self._once: dict[Callable[[Facts], Any], Any] = {}
        self._of_class: dict[type, tuple[Subject, ...]] = {}
        self._models: dict[str, BaseModel] = {
            "": build.header,
            **build.components,
            **build.runs,
        }

    @cached_property
    def net(self) -> Network:
        """Return the graph of the build."""
        from specreg.graph.network import network  # noqa: PLC0415 - the graph library is slow to import

        return network(self.build)

    @cached_property
    def devices(self) -> Mapping[str, ProtectiveDevice]:
        """Return every fuse and breaker by its id."""
        return {name: edge.device for name, edge in self.net.devices.items() if edge.device is not None}

    def once(self, compute: Callable[[Facts], T]) -> T:
        """Return what a computation over the whole build gives, computed at the first asking.

        Such a computation reads the build and its graph only, never facts: what it reads is not recorded.
        """
        if compute not in self._once:
            self._once[compute] = compute(self)
        found: T = self._once[compute]
        return found

    def subject(self, name: str, case: str | None = None) -> Subject:
        """Return a component, a run, a device or (as the empty name) the build itself."""
        model = self._models.get(name) or self.devices[name]
        return Subject(self, name, model, case)

    @property
    def whole(self) -> Subject:
        """Return the build itself."""
        return self.subject("")

    @cached_property
    def _models_by_type(self) -> Mapping[type, list[tuple[int, Subject]]]:
        return self._by_type(self._models)

    @cached_property
    def _devices_by_type(self) -> Mapping[type, list[tuple[int, Subject]]]:
        return self._by_type(self.devices)

    def _by_type(self, models: Mapping[str, BaseModel]) -> Mapping[type, list[tuple[int, Subject]]]:
        """Return subjects by the type of their model, each with its place in the spec."""
        found: dict[type, list[tuple[int, Subject]]] = {}
        for number, (name, model) in enumerate(models.items()):
            found.setdefault(type(model), []).append((number, Subject(self, name, model)))
        return found

    def of_class(self, model: type) -> Iterator[Subject]:
        """Return every subject of a class, in the order of the spec."""
        found = self._of_class.get(model)
        if found is None:
            # A device by its own model: the device of a holder shares the holder's id.
            sorts = self._devices_by_type if issubclass(model, ProtectiveDevice) else self._models_by_type
            fitting = [those for sort, those in sorts.items() if issubclass(sort, model)]
            ordered = (
                sorted(chain.from_iterable(fitting)) if len(fitting) > 1 else chain.from_iterable(fitting)
            )
            found = tuple(subject for _, subject in ordered)
            self._of_class[model] = found
        return iter(found)

    def name_of(self, subject: str) -> str:
        """Return what a person calls a subject."""
        model = self._models.get(subject)
        if model is None:
            owner, _, way = subject.partition("/")
            return f"{self.name_of(owner)}, {way}" if owner in self._models else subject
        title = getattr(model, "title", None)
        return str(title) if title else subject.replace("-", " ")

    def field(self, path: str, model: BaseModel, field: Field) -> Any:
        """Return a field of the spec, recorded as read; raise Missing where it is not stated."""
        value = getattr(model, field.name)
        dotted = f"{path}.{field.key}" if path else field.key
        if value is None:
            raise Missing(dotted)
        if type(value) not in SIMPLE and isinstance(value, BaseModel):
            return Part(self, dotted, value)
        if self._frames:
            inputs = self._frames[-1].inputs
            if dotted not in inputs:
                inputs[dotted] = Input(dotted, value, field.dimension)
        return value

    def value(self, subject: Subject, kind: Kind) -> Any:
        """Return the value of a fact, recorded as read; raise Missing where it is not known."""
        case = subject.case if kind.axis else None
        found, read = self._known.get((subject.id, kind.name, case)) or self._asked(subject, kind)
        frames = self._frames
        if frames and found.assumptions:
            frames[-1].assumptions.update(dict.fromkeys(found.assumptions))
        if read is None:
            raise Missing(*found.missing, reason=found.reason)
        if frames:
            frames[-1].inputs[read.name] = read
        return read.value

    def ask(self, subject: Subject, kind: Kind) -> Fact:
        """Return a fact, computed at the first asking."""
        return self._asked(subject, kind)[0]

    def _asked(self, subject: Subject, kind: Kind) -> tuple[Fact, Input | None]:
        """Return a fact, and how it is recorded by what reads it where it is known."""
        case = subject.case if kind.axis else None
        key = (subject.id, kind.name, case)
        found = self._known.get(key)
        if found is None:
            fact = self._compute(subject.in_case(case), kind)
            dotted = f"{subject.id}.{kind.name}" if subject.id else kind.name
            read = Input(dotted, fact.value, kind.gives.dimension) if fact.known else None
            found = self._known[key] = fact, read
        return found

    def recording(self) -> Frame:
        """Return a frame that collects what is read and assumed inside `with`."""
        return Frame(self._frames)

    @property
    def on(self) -> date:
        """Return the day on which the build is judged; there is no clock. Raise Missing without one."""
        if self._on is None:
            raise Missing("as_of")
        return self._on

    def _compute(self, subject: Subject, kind: Kind) -> Fact:
        value: Any = None
        missing: tuple[str, ...] = ()
        reason = ""
        frame = Frame(self._frames)
        self._frames.append(frame)
        try:
            value = kind.compute(subject)
        except Missing as absent:
            missing, reason = absent.fields, absent.reason
        except (ZeroDivisionError, OverflowError):
            reason = NO_NUMBER
        finally:
            self._frames.pop()
        if value is None and not missing and not reason:
            reason = "it does not arise here"
        return Fact(
            kind,
            subject.id,
            subject.case,
            value,
            tuple(frame.inputs.values()),
            tuple(frame.assumptions),
            missing,
            reason,
        )

    def assume(self, text: str) -> None:
        """Note an assumption of the fact being computed; whatever uses the fact carries it too."""
        if self._frames:
            self._frames[-1].assumptions[text] = None
