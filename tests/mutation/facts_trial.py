"""Trying mutants: in a forked child of a process that has collected the tests, only those that run the function.

The child puts the changed code into the living functions, so that whoever holds them (the register of facts,
an import, a decorator) runs the change; it ends at the first test that fails.
"""

from __future__ import annotations

import gc
import inspect
import json
import os
import re
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from contextlib import contextmanager
from dataclasses import dataclass, field
from enum import Enum
from functools import _lru_cache_wrapper, cache
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from types import CodeType, FrameType, FunctionType

import pytest
from _pytest.runner import runtestprotocol
from facts_mutants import Mutant, Part

SETUP = 2.0
"""Seconds of processor time that a child may take beside its tests."""
MEMORY = 1 << 30
"""Bytes by which a mutant may grow."""
READING = "specreg.tables.constant"
"""Reads the tables themselves, which takes long and is the same for every test."""
NAME = re.compile(r"\w+")
COMPUTING = (
    "specreg.facts",
    "specreg.graph",
    "specreg.units",
    "specreg.tables",
    "specreg.space",
    "specreg.pages.gate",
    "specreg.pages.written",
)


class Outcome(Enum):
    """What became of a mutant."""

    killed = "killed"
    deadline = "killed by the deadline"
    survived = "survived"
    untested = "not run by any test"
    early = "used only while its module is read, not tried"
    invalid = "not code"


@dataclass(frozen=True)
class Trial:
    """A mutant and what became of it; `test` killed it."""

    mutant: Mutant
    outcome: Outcome
    test: str = ""
    tests: int = 0


@dataclass
class Covering:
    """Which functions each test runs, in how many seconds; of a test that fails as things are, nothing."""

    functions: dict[str, list[str]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    collected: list[str] = field(default_factory=list)
    """Functions that run already while the tests are collected."""
    failing: list[str] = field(default_factory=list)
    files: dict[str, str] = field(default_factory=dict)
    """Digest of each test file when it was looked at."""

    def weight(self, test: str, text: str, words: Set[str]) -> tuple[bool, float]:
        """Return what puts the direct tests first: those that say a name, then those that are quick and run little."""
        return words.isdisjoint(NAME.findall(text)), self.seconds[test] * len(self.functions[test])

    @classmethod
    def kept(cls, path: Path) -> Covering:
        """Return what an earlier run saw, or nothing."""
        return cls(**json.loads(path.read_text())) if path.is_file() else cls()

    def keep(self, path: Path) -> None:
        """Write it for the next run."""
        path.write_text(json.dumps(vars(self)))


Place = tuple[str, str]
"""A file and a function in it, as code knows them."""


class Trials:
    """A plugin of the test runner that tries mutants instead of running the tests."""

    def __init__(
        self,
        root: Path,
        mutants: Sequence[Mutant],
        kept: Path,
        seconds: float,
        tell: Callable[[Trial], None],
    ) -> None:
        self._root = root
        self._mutants = mutants
        self._kept = kept
        self._seconds = seconds
        self._tell = tell
        self._collected: list[str] = []
        self._watching = contextmanager(self._noted)
        self.trials: list[Trial] = []

    @pytest.hookimpl(wrapper=True)
    def pytest_collection(self, session: pytest.Session) -> Iterator[None]:
        """Note what runs while the tests are collected: a change of that comes too late."""
        if self._kept.is_file():
            return (yield)
        found: set[str] = set()
        with self._watching(found):
            done = yield
        Covering(collected=sorted(found)).keep(self._kept)
        return done

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Look at what covers what, then try each mutant."""
        covering = self._covering(session.items)
        self._collected = covering.collected
        names = {item.nodeid: item for item in session.items}
        by_function: dict[str, list[str]] = {}
        for test, functions in covering.functions.items():
            for function in functions if test in names else ():
                by_function.setdefault(function, []).append(test)
        texts = {test: _text(item) for test, item in names.items()}
        sorted_for: set[str] = set()
        for path in {mutant.path for mutant in self._mutants}:  # some are imported by the first question only
            import_module(".".join(path.relative_to(self._root).with_suffix("").parts))
        living = Living.now()
        gc.collect()
        gc.freeze()
        for mutant in self._mutants:
            key = self._key(str(mutant.path), mutant.function)
            if key not in sorted_for:
                sorted_for.add(key)
                asked = _asked_through(mutant, living, self._root)
                found = by_function.get(key, [])
                if mutant.part is Part.value:
                    found = sorted(
                        {test for place in asked for test in by_function.get(self._key(*place), ())}
                    )
                words = {name.rpartition(".")[2] for _, name in asked}
                by_function[key] = sorted(found, key=lambda test: covering.weight(test, texts[test], words))
            trial = self._try(mutant, by_function.get(key, []), covering, names, living)
            quick = covering.seconds.get(trial.test, self._seconds) < self._seconds / 10
            if trial.outcome is Outcome.killed and quick:  # it is tried first on the neighbours
                by_function[key].remove(trial.test)
                by_function[key].insert(0, trial.test)
            self.trials.append(trial)
            self._tell(trial)
        return True

    def ran_at_collection(self, mutant: Mutant) -> bool:
        """Tell whether the function of a mutant has also run before it could be changed."""
        return self._key(str(mutant.path), mutant.function) in self._collected

    def _try(
        self,
        mutant: Mutant,
        tests: Sequence[str],
        covering: Covering,
        items: Mapping[str, pytest.Item],
        living: Living,
    ) -> Trial:
        chosen: list[str] = []
        expected = 0.0
        for test in tests:
            if expected > self._seconds:
                break
            chosen.append(test)
            expected += covering.seconds.get(test, 0.0)
        files = list(dict.fromkeys(items[test].path for test in chosen))
        chosen.sort(key=lambda test: files.index(items[test].path))  # what a file's tests share is made once
        if not chosen:
            return Trial(mutant, Outcome.early if mutant.part is Part.value else Outcome.untested)
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reading)
            _as_child(mutant, [items[test] for test in chosen], living, SETUP + 4 * expected, writing)
        os.close(writing)
        with os.fdopen(reading) as pipe:
            said = pipe.read()
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return Trial(mutant, Outcome.deadline, tests=len(chosen))
        outcome, _, test = said.partition(" ")
        return Trial(mutant, Outcome[outcome], test, len(chosen))

    def _covering(self, items: Sequence[pytest.Item]) -> Covering:
        """Return what each test runs, looking in a child at those whose files have changed."""
        covering = Covering.kept(self._kept)
        digests = {str(path): sha256(path.read_bytes()).hexdigest() for path in {item.path for item in items}}
        new = [
            item
            for item in items
            if item.nodeid not in covering.functions
            or covering.files[str(item.path)] != digests[str(item.path)]
        ]
        if new:
            print(f"{len(new)} tests are run once to see which functions each one runs", flush=True)
            child = os.fork()
            if child == 0:
                _silent()
                for path in dict.fromkeys(item.path for item in new):
                    self._look(covering, [item for item in new if item.path == path])
                    covering.files[str(path)] = digests[str(path)]
                    covering.keep(self._kept)
                os._exit(0)
            _, status = os.waitpid(child, 0)
            if status:
                raise RuntimeError("the tests could not be run")
            covering = Covering.kept(self._kept)
            for test in covering.failing:
                print(f"left out, because it fails as things are: {test}", flush=True)
        return covering

    def _look(self, covering: Covering, items: Sequence[pytest.Item]) -> None:
        caches = [one for one in _caches() if one.__module__ != READING]
        anew = {item.nodeid for item in items}
        covering.failing = [test for test in covering.failing if test not in anew]
        for item, following in zip(items, (*items[1:], None), strict=True):
            for cached in caches:  # what an earlier test has asked for is to run again
                cached.cache_clear()
            found: set[str] = set()
            began = time.process_time()
            with self._watching(found):
                failed = _fails(item, following)
            covering.seconds[item.nodeid] = time.process_time() - began
            covering.functions[item.nodeid] = [] if failed else sorted(found)
            if failed:
                covering.failing.append(item.nodeid)

    def _noted(self, found: set[str]) -> Iterator[None]:
        """Collect the functions of the package that run."""
        seen: set[CodeType] = set()
        inside = str(self._root / "specreg")

        def note(frame: FrameType, event: str, argument: object) -> None:
            code = frame.f_code
            if code not in seen:
                seen.add(code)
                if code.co_filename.startswith(inside):
                    found.add(self._key(code.co_filename, code.co_qualname.partition(".<locals>")[0]))

        sys.settrace(note)
        try:
            yield
        finally:
            sys.settrace(None)

    def _key(self, file: str, function: str) -> str:
        return f"{Path(file).relative_to(self._root)}:{function}"


@dataclass(frozen=True)
class Living:
    """What is there to be changed: the functions, by where they were written, and what keeps answers."""

    functions: Mapping[Place, list[FunctionType]]
    caches: tuple[_lru_cache_wrapper[object], ...]

    @classmethod
    def now(cls) -> Living:
        """Look at everything that lives in this process."""
        found: dict[Place, list[FunctionType]] = {}
        for one in gc.get_objects():
            if type(one) is FunctionType:
                found.setdefault((one.__code__.co_filename, one.__code__.co_qualname), []).append(one)
        return cls(found, _caches())


def _as_child(
    mutant: Mutant,
    items: Sequence[pytest.Item],
    living: Living,
    seconds: float,
    writing: int,
) -> None:
    """Make the change, run the tests up to the first that fails, say what happened; never come back."""
    said = "invalid"
    try:
        _silent()
        if put_in(mutant, living):
            _limit(seconds)
            pairs = zip(items, (*items[1:], None), strict=True)
            killer = next((item for item, following in pairs if _fails(item, following)), None)
            said = f"killed {killer.nodeid}" if killer else "survived"
    finally:
        os.write(writing, said.encode())
        os._exit(0)


def _silent() -> None:
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)


def _limit(seconds: float) -> None:
    """End this process when it takes too long, and let nothing grow without bounds."""
    signal.signal(signal.SIGPROF, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    pages = int(Path("/proc/self/statm").read_text().split()[0])
    resource.setrlimit(resource.RLIMIT_AS, (pages * resource.getpagesize() + MEMORY,) * 2)


def _fails(item: pytest.Item, following: pytest.Item | None) -> bool:
    """Run a test; what it shares with the one that follows is left standing."""
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=following))


def put_in(mutant: Mutant, living: Living) -> bool:
    """Change the living functions, or the constant wherever it was imported; forget what was kept of before."""
    code = mutant.code()
    if mutant.part is Part.value:
        _put_constant(mutant, code)
    for function in living.functions.get((str(mutant.path), mutant.function), ()):
        if mutant.part is Part.defaults:
            function.__defaults__, function.__kwdefaults__ = eval(code, function.__globals__)
        elif mutant.part is Part.body:
            changed = _find(code, mutant.function, function.__code__.co_firstlineno)
            if changed is None or changed.co_freevars != function.__code__.co_freevars:
                return False
            function.__code__ = changed
    if mutant.part is Part.body:
        _put_inner(mutant, code, living)
    for cached in living.caches:
        cached.cache_clear()
    return True


def _put_inner(mutant: Mutant, code: CodeType, living: Living) -> None:
    """Change what the function has made already while modules were read: the functions that it returns."""
    for (file, name), functions in living.functions.items():
        if file != str(mutant.path) or not name.startswith(f"{mutant.function}.<locals>."):
            continue
        for line in {one.__code__.co_firstlineno for one in functions}:
            those = [one for one in functions if one.__code__.co_firstlineno == line]
            changed = _find(code, name, line)
            if changed is None or len({one.__code__ for one in those}) > 1:
                continue  # several lambdas on one line: nothing tells which is which
            if those[0].__code__.co_freevars != changed.co_freevars:
                continue  # it cannot hold the change; those that a test lets be made do
            for one in those:
                one.__code__ = changed


def _caches() -> tuple[_lru_cache_wrapper[object], ...]:
    """Return whatever keeps answers in what computes."""
    found = [one for one in gc.get_objects() if isinstance(one, _lru_cache_wrapper)]
    return tuple(one for one in found if str(one.__module__).startswith(COMPUTING))


def _find(code: CodeType, function: str, line: int) -> CodeType | None:
    for inner in code.co_consts:
        if not isinstance(inner, CodeType):
            continue
        if inner.co_qualname == function and inner.co_firstlineno == line:
            return inner
        found = _find(inner, function, line)
        if found is not None:
            return found
    return None


def _put_constant(mutant: Mutant, code: CodeType) -> None:
    modules = [module for module in list(sys.modules.values()) if hasattr(module, "__dict__")]
    home = next(module for module in modules if getattr(module, "__file__", None) == str(mutant.path))
    before = vars(home)[mutant.function]
    after = eval(code, vars(home))
    for module in modules:
        if vars(module).get(mutant.function) is before:
            setattr(module, mutant.function, after)


def _asked_through(mutant: Mutant, living: Living, root: Path) -> set[Place]:
    """Return the functions of its module that lead to a function, itself one, or that read a constant anywhere."""
    file = str(mutant.path)
    whole = str(root / "specreg") if mutant.part is Part.value else file
    found = {(file, mutant.function)}
    while True:
        wanted = {name.rpartition(".")[2] for _, name in found}
        more = {
            (where, name.partition(".<locals>")[0])
            for (where, name), functions in living.functions.items()
            if where.startswith(whole)
            and any(not wanted.isdisjoint(_names(one.__code__)) for one in functions)
        }
        if more <= found:
            return found
        found |= more
        whole = file


def _text(item: pytest.Item) -> str:
    """Return what a test says, with the document that it is about."""
    function = getattr(item, "function", None)
    given = item.callspec.params.values() if hasattr(item, "callspec") else ()
    about = [getattr(value, "document", None) for value in given]
    documents = [Path(document.file) for document in about if document is not None]
    return _source(function) + "".join(path.read_text() for path in documents if path.is_file())


@cache
def _source(function: Callable[..., object] | None) -> str:
    return inspect.getsource(function) if function is not None else ""


def _names(code: CodeType) -> set[str]:
    inner = (_names(one) for one in code.co_consts if isinstance(one, CodeType))
    return set(code.co_names).union(*inner)
