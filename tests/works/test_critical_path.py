"""The critical path against worked examples that others printed, and against laws."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.works.cpm import Activity, Circle, critical_path, length

Example = dict[str, tuple[int, str, int, int, int, int]]

PROTOTYPE: Example = {
    # studylib.net/doc/8378728, "Draw the network for the events in table 1", tables 1 and 2
    "A": (6, "", 0, 6, 0, 6),
    "B": (2, "A", 6, 8, 6, 8),
    "C": (2, "A", 6, 8, 7, 9),
    "D": (3, "B", 8, 11, 8, 11),
    "F": (2, "C", 8, 10, 9, 11),
    "E": (4, "DF", 11, 15, 11, 15),
    "G": (1, "E", 15, 16, 15, 16),
}
NINE: Example = {
    # scribd.com/document/458251733, "CPM", example 3 and its table of ES, EF, LS, LF, TF
    "A": (3, "", 0, 3, 0, 3),
    "B": (5, "A", 3, 8, 3, 8),
    "C": (8, "A", 3, 11, 7, 15),
    "D": (10, "B", 8, 18, 8, 18),
    "E": (5, "B", 8, 13, 17, 22),
    "F": (7, "C", 11, 18, 15, 22),
    "G": (12, "D", 18, 30, 18, 30),
    "H": (8, "EF", 18, 26, 22, 30),
    "I": (3, "GH", 30, 33, 30, 33),
}
THREE_PATHS: Example = {
    # a maker's course PM10G of August 2007, "an example of float with a full diagram"; it counts from day 1
    "A": (7, "", 0, 7, 0, 7),
    "B": (3, "", 0, 3, 7, 10),
    "C": (6, "A", 7, 13, 7, 13),
    "D": (3, "B", 3, 6, 10, 13),
    "E": (3, "DF", 6, 9, 13, 16),
    "F": (2, "B", 3, 5, 11, 13),
    "G": (3, "C", 13, 16, 13, 16),
    "H": (2, "EG", 16, 18, 16, 18),
}
TOTAL_FLOATS = {"A": 0, "B": 0, "C": 4, "D": 0, "E": 9, "F": 4, "G": 0, "H": 4, "I": 0}
EXAMPLES = {"prototype": PROTOTYPE, "nine activities": NINE, "three paths": THREE_PATHS}
CELLS = [(name, activity) for name, example in EXAMPLES.items() for activity in example]


def activities(example: Example) -> list[Activity]:
    """The activities of an example."""
    return [Activity(name, row[0], tuple(row[1])) for name, row in example.items()]


@pytest.mark.parametrize(("name", "activity"), CELLS)
def test_a_printed_table_is_met(name: str, activity: str) -> None:
    """Earliest and latest times are those of the table."""
    found = critical_path(activities(EXAMPLES[name]))[activity]
    times = (found.earliest_start, found.earliest_finish, found.latest_start, found.latest_finish)
    assert times == EXAMPLES[name][activity][2:]


def test_the_printed_total_floats_are_met() -> None:
    """Total float by the third example's table."""
    assert {name: one.total_float for name, one in critical_path(activities(NINE)).items()} == TOTAL_FLOATS


ARROWS = {
    (1, 2): 4,
    (2, 3): 8,
    (2, 4): 7,
    (2, 5): 6,
    (3, 4): 0,
    (3, 5): 9,
    (4, 6): 15,
    (5, 6): 12,
    (6, 7): 20,
}
EVENTS = {1: (0, 0), 2: (4, 4), 3: (12, 12), 4: (12, 18), 5: (21, 21), 6: (33, 33), 7: (53, 53)}


def test_a_printed_network_of_events_is_met() -> None:
    """Activities on arrows: earliest start and latest completion of each event, and the critical activities.

    sites.pitt.edu/~jrclass/or/webnotes/cpm3.html, steps 1 to 4.
    """
    found = critical_path(
        Activity(f"{a}-{b}", time, tuple(f"{c}-{d}" for c, d in ARROWS if d == a))
        for (a, b), time in ARROWS.items()
    )
    assert length(found) == 53
    assert [name for name in found if found[name].critical] == ["1-2", "2-3", "3-5", "5-6", "6-7"]
    for (a, b), _ in ARROWS.items():
        assert found[f"{a}-{b}"].earliest_start == EVENTS[a][0]
        assert found[f"{a}-{b}"].latest_finish == EVENTS[b][1]


def test_free_float_is_what_the_next_can_spare() -> None:
    """By the rule of the same course: earliest start of the next less earliest finish."""
    free = {name: one.free_float for name, one in critical_path(activities(THREE_PATHS)).items()}
    assert free == {"A": 0, "B": 0, "C": 0, "D": 0, "E": 7, "F": 1, "G": 0, "H": 0}


@st.composite
def networks(draw: st.DrawFn, most: int = 8) -> list[Activity]:
    """A small network without circles; some activities take no time, some may not begin at once."""
    count = draw(st.integers(1, most))
    found = []
    for number in range(count):
        after = draw(st.sets(st.integers(0, number - 1))) if number else set()
        earliest = draw(st.sampled_from([0, 0, 0, 5, 30]))
        found.append(
            Activity(f"t{number}", draw(st.integers(0, 20)), tuple(f"t{n}" for n in sorted(after)), earliest)
        )
    return draw(st.permutations(found))


def longest_by_force(found: list[Activity]) -> int:
    """The longest way through, by going every way; one that may not begin at once waits first."""
    known = {one.name: one for one in found}

    def finish(name: str) -> int:
        one = known[name]
        return max([one.earliest, *map(finish, one.after)]) + one.duration

    return max(map(finish, known))


@given(networks())
def test_the_longest_way_is_the_length(found: list[Activity]) -> None:
    """The whole takes as long as the longest way through, found by force."""
    assert length(critical_path(found)) == longest_by_force(found)


@given(networks(14))
def test_a_general_graph_library_finds_the_same_length(found: list[Activity]) -> None:
    """Activities as nodes, their durations on the edges that lead out of them."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    for one in found:
        graph.add_edge("begin", one.name, weight=one.earliest)
        graph.add_edge(one.name, "end", weight=one.duration)
        known = {each.name: each for each in found}
        for name in one.after:
            graph.add_edge(name, one.name, weight=known[name].duration)
    way = nx.dag_longest_path(graph)
    assert length(critical_path(found)) == sum(graph.edges[edge]["weight"] for edge in pairwise(way))


@given(networks())
def test_earliest_is_never_after_latest(found: list[Activity]) -> None:
    """Floats are never less than nothing, and free float is never more than total float."""
    for one in critical_path(found).values():
        assert one.earliest_start <= one.latest_start
        assert one.earliest_finish - one.earliest_start == one.latest_finish - one.latest_start
        assert 0 <= one.free_float <= one.total_float


@given(networks(), st.data())
def test_one_more_wait_never_shortens(found: list[Activity], data: st.DataObject) -> None:
    """Letting an activity wait for one more leaves the whole as long or makes it longer."""
    numbered = {int(one.name[1:]): one for one in found}
    late = data.draw(st.sampled_from(sorted(numbered)))
    early = data.draw(st.integers(0, max(0, late - 1)))
    if early == late:
        return
    one = numbered[late]
    changed = [
        Activity(one.name, one.duration, tuple({*one.after, f"t{early}"}), one.earliest)
        if each is one
        else each
        for each in found
    ]
    assert length(critical_path(changed)) >= length(critical_path(found))


@given(networks())
def test_no_float_means_that_any_slip_is_felt(found: list[Activity]) -> None:
    """An activity is critical exactly where taking one unit longer makes the whole one unit longer."""
    times = critical_path(found)
    for one in found:
        longer = [Activity(o.name, o.duration + (o is one), o.after, o.earliest) for o in found]
        assert (length(critical_path(longer)) > length(times)) is times[one.name].critical


def test_a_circle_is_named() -> None:
    """What waits for itself by a detour is said in the order of waiting."""
    with pytest.raises(Circle) as told:
        critical_path(
            [Activity("a", 1, ("c",)), Activity("b", 1, ("a",)), Activity("c", 1, ("b",)), Activity("d", 1)]
        )
    names = told.value.names
    assert names[0] == names[-1]
    assert set(names) == {"a", "b", "c"}
    waits = {"a": "c", "b": "a", "c": "b"}
    assert all(waits[one] == other for one, other in pairwise(names))
