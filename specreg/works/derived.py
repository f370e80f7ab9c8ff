"""The tasks that follow from what a van is made of, and what each of them waits for.

Phases stand in an order, and a derived task waits only for tasks of earlier phases: so none can wait for
itself. What makes one wait for another is the graph: a component is fitted after the runs that end at it
were laid and after what it is fixed to; what panels hide is laid and looked at before they close.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from specreg.model.build import Build, Stage
from specreg.model.component import Component, System
from specreg.model.port import Medium
from specreg.model.works import Skill
from specreg.works.bill import NOT_BOUGHT, of_the_vehicle

OPENINGS = frozenset({"opening-window", "fixed-window", "roof-fan", "roof-hatch", "vent", "gas-drop-out",
                      "flue-terminal", "air-intake", "solar-panel", "pop-top", "shore-inlet"})  # fmt: skip
LININGS = frozenset({"lining", "floor", "insulated-panel"})

FIRST_FIX: dict[Medium, str] = {
    Medium.dc: "dc", Medium.control: "dc", Medium.ac: "mains", Medium.water: "water", Medium.waste: "waste",
    Medium.gas: "gas", Medium.fuel: "heat", Medium.air: "heat", Medium.exhaust: "heat",
}  # fmt: skip
SECOND_FIX: dict[System, str] = {
    System.dc: "dc", System.solar: "dc", System.fire: "dc", System.mains: "mains", System.water: "water",
    System.waste: "waste", System.gas: "gas", System.heat: "heat", System.air: "heat", System.mass: "outside",
    System.vehicle: "outside",
}  # fmt: skip
SKILLS = {"mains": Skill.electrician, "gas": Skill.gas_engineer}
SYSTEM_WORDS = {
    "dc": "low-voltage electrics", "mains": "mains", "water": "fresh water", "waste": "waste", "gas": "gas",
    "heat": "heat and air", "outside": "what hangs on the vehicle",
}  # fmt: skip

MINUTES_PER_RUN = 45
MINUTES_PER_THING = 60
"""Times for one run and one component where nothing is stated: common practice, no source."""


class Derived(NamedTuple):
    """A task that follows from the van; `upto` is the stage by which it is done. Time is in minutes.

    `runs` and `fits` are the ids of the runs that it lays and of the components that it fits; a hold point
    takes no time.
    """

    name: str
    title: str
    skill: Skill
    upto: Stage
    minutes: int = 0
    after: frozenset[str] = frozenset()
    fits: tuple[str, ...] = ()
    runs: tuple[str, ...] = ()
    hold: bool = False


@dataclass
class Derivation:
    """The derived tasks of a van by name in the order of their phases, and what was taken for granted."""

    build: Build
    per_run: int = MINUTES_PER_RUN
    per_thing: int = MINUTES_PER_THING
    elsewhere: frozenset[str] = frozenset()
    tasks: dict[str, Derived] = field(default_factory=dict)
    assumptions: dict[str, None] = field(default_factory=dict)

    def derive(self) -> Derivation:
        """Fill in the tasks, phase after phase."""
        self._first_fix()
        self._linings()
        self._second_fix()
        self._wait_for_the_graph()
        self._tests()
        self._end()
        return self

    def there(self, *names: str) -> frozenset[str]:
        """Return those names that are tasks."""
        return frozenset(name for name in names if name in self.tasks)

    def _add(self, task: Derived) -> None:
        self.tasks[task.name] = task

    def _things(self, name: str, title: str, skill: Skill, upto: Stage, fits: tuple[str, ...]) -> None:
        """Add a task that fits components, if there are any."""
        if fits:
            count = sum(self.build.components[one].count for one in fits)
            self._add(Derived(name, title, skill, upto, self.per_thing * count, fits=fits))

    def _of_kinds(self, *kinds: str) -> tuple[str, ...]:
        return tuple(name for name, one in self._own() if one.kind in kinds)

    def _own(self) -> Iterator[tuple[str, Component]]:
        """Yield what is fitted here and by no stated task."""
        for name, one in self.build.components.items():
            if one.kind not in NOT_BOUGHT and not of_the_vehicle(one) and name not in self.elsewhere:
                yield name, one

    def _first_fix(self) -> None:
        self._things("openings", "Cut and seal the openings in the body", Skill.sheet_metal,
                     Stage.panels_close, self._of_kinds(*OPENINGS))  # fmt: skip
        self._things("insulation", "Insulate", Skill.fitter, Stage.panels_close,
                     self._of_kinds("insulation-layer"))  # fmt: skip
        for system in dict.fromkeys(FIRST_FIX.values()):
            runs = tuple(n for n, one in self.build.runs.items() if FIRST_FIX[one.medium] == system)
            if runs:
                title = f"First fix: {SYSTEM_WORDS[system]}"
                skill = SKILLS.get(system, Skill.fitter)
                minutes = self.per_run * len(runs)
                after = self.there("openings")
                self._add(Derived(f"first-fix-{system}", title, skill, Stage.panels_close, minutes, after,
                                  runs=runs))  # fmt: skip
        if "insulation" in self.tasks:
            self._wait("insulation", "openings")

    def _linings(self) -> None:
        """Add the look before panels close, the linings and the furniture."""
        linings = self._of_kinds(*LININGS)
        if linings:
            hidden = [name for name, task in self.tasks.items() if any(map(self._may_be_hidden, task.runs))]
            after = self.there("insulation", "openings", *hidden)
            self._add(Derived("panels-close", "Hold point: look at what the panels will hide", Skill.fitter,
                              Stage.panels_close, after=after, hold=True))  # fmt: skip
        self._things("linings", "Line floor, walls and ceiling", Skill.joiner, Stage.energise, linings)
        furniture = tuple(n for n, one in self._own() if type(one).system is System.space)
        self._things("furniture", "Fit the furniture", Skill.joiner, Stage.energise,
                     tuple(n for n in furniture if n not in linings))  # fmt: skip
        seats = tuple(n for n, one in self._own() if type(one).system is System.seating)
        self._things("seats", "Fit seats and anchorages", Skill.seat_fitter, Stage.energise, seats)
        self._wait("linings", "panels-close")
        self._wait("furniture", "linings", "insulation")
        self._wait("seats", "linings")

    def _may_be_hidden(self, name: str) -> bool:
        run = self.build.runs[name]
        if run.hidden is None:
            self.assumptions["a run that does not state `hidden` is taken to be hidden by panels"] = None
        return run.hidden is not False

    def _wait(self, name: str, *others: str) -> None:
        """Let a task wait for others, where they are there."""
        task = self.tasks.get(name)
        if task is not None:
            self.tasks[name] = task._replace(after=task.after | self.there(*others))

    def _second_fix(self) -> None:
        taken = {name for task in self.tasks.values() for name in task.fits}
        for system in dict.fromkeys(SECOND_FIX.values()):
            fits = tuple(
                n for n, one in self._own() if n not in taken and SECOND_FIX.get(type(one).system) == system
            )
            skill = SKILLS.get(system, Skill.fitter)
            title = f"Second fix: {SYSTEM_WORDS[system]}"
            self._things(f"second-fix-{system}", title, skill, Stage.energise, fits)
            self._wait(f"second-fix-{system}", f"first-fix-{system}")

    def _wait_for_the_graph(self) -> None:
        """Let each task wait for the runs that end at what it fits, and for what that is fixed to."""
        order = list(self.tasks)
        of = {thing: task.name for task in self.tasks.values() for thing in (*task.fits, *task.runs)}
        pairs = [(of.get(ends.start.component), of.get(name)) for name, ends in self.build.ends.items()]
        pairs += [(of.get(ends.finish.component), of.get(name)) for name, ends in self.build.ends.items()]
        pairs += [(of.get(n), of.get(c.fixed_to or "")) for n, c in self.build.components.items()]
        for late, early in pairs:
            if late and early and order.index(early) < order.index(late):
                self._wait(late, early)

    def _tests(self) -> None:
        """Add the tests, what they let go on, and commissioning."""
        if self.there("first-fix-mains", "second-fix-mains"):
            self._test("test-mains", "Dead tests of the mains", Skill.electrician, Stage.energise, 180,
                       "first-fix-mains", "second-fix-mains")  # fmt: skip
        electrics = self.there("first-fix-dc", "second-fix-dc", "test-mains")
        if electrics:
            self._hold("energise", "Hold point: energise", Skill.fitter, Stage.energise, *electrics)
            self._test("commission-electrics", "Live tests and commissioning of the electrics",
                       SKILLS["mains"] if "test-mains" in self.tasks else Skill.fitter, Stage.commissioning,
                       240, "energise")  # fmt: skip
        gas = self.there("first-fix-gas", "second-fix-gas")
        if gas:
            burning = [n for n in self.there("second-fix-heat", "second-fix-water") if self._burns_gas(n)]
            self._test("test-gas", "Tightness test of the gas system", Skill.gas_engineer, Stage.gas_on, 90,
                       *gas, *burning)  # fmt: skip
            self._hold("gas-on", "Hold point: gas on", Skill.gas_engineer, Stage.gas_on, "test-gas")
            self._test("commission-gas", "Commission the gas appliances", Skill.gas_engineer,
                       Stage.commissioning, 120, "gas-on", "energise")  # fmt: skip
        if self.there("second-fix-water", "first-fix-water"):
            self._test("test-water", "Fill, look for leaks, sanitise", Skill.fitter, Stage.commissioning, 150,
                       "first-fix-water", "second-fix-water", "first-fix-waste", "second-fix-waste",
                       "energise")  # fmt: skip
        if "second-fix-heat" in self.tasks:
            self._test("commission-heat", "Commission heating and ventilation", Skill.fitter,
                       Stage.commissioning, 90, "second-fix-heat", "first-fix-heat", "energise",
                       "gas-on")  # fmt: skip

    def _burns_gas(self, task: str) -> bool:
        ends = self.build.ends.items()
        gas = {e.component for n, joined in ends if self.build.runs[n].medium is Medium.gas
               for e in (joined.start, joined.finish)}  # fmt: skip
        return bool(gas & set(self.tasks[task].fits))

    def _test(self, name: str, title: str, skill: Skill, upto: Stage, minutes: int, *after: str) -> None:
        self._add(Derived(name, title, skill, upto, minutes, self.there(*after)))

    def _hold(self, name: str, title: str, skill: Skill, upto: Stage, *after: str) -> None:
        self._add(Derived(name, title, skill, upto, after=self.there(*after), hold=True))

    def _end(self) -> None:
        """Add sign-off, weighing, walk-round and hand-over."""
        if "seats" in self.tasks:
            self._test("sign-seats", "Look at seats and anchorages and sign", Skill.seat_fitter,
                       Stage.hand_over, 60, "seats")  # fmt: skip
        if not self.tasks:
            return
        self._test("weighing", "Weigh on the weighbridge", Skill.fitter, Stage.hand_over, 90,
                   *(n for n, t in self.tasks.items() if t.fits or t.runs), "test-water")  # fmt: skip
        tests = [name for name in self.tasks if name.startswith(("commission", "test", "weigh"))]
        self._test("walk-round", "Walk round and count", Skill.fitter, Stage.hand_over, 120, *tests)
        self._hold(HAND_OVER, "Hold point: hand-over", Skill.fitter, Stage.hand_over, "walk-round",
                   "sign-seats")  # fmt: skip


HAND_OVER = "hand-over"


def derive(build: Build, per_run: int, per_thing: int, elsewhere: frozenset[str]) -> Derivation:
    """Return the tasks that follow from a van; `elsewhere` are components that stated tasks fit."""
    return Derivation(build, per_run, per_thing, elsewhere).derive()
