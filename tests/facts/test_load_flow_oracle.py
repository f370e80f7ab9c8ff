"""The load flow against node analysis: conductance matrix and linear solve, on random trees of boxes."""

import numpy
import pytest
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

SIZES = {"1.5 mm²": 13.3, "2.5 mm²": 7.98, "4 mm²": 4.95, "6 mm²": 3.30, "10 mm²": 1.91, "16 mm²": 1.21}
"""IEC 60228 class 5, plain copper: greatest resistance at 20 °C in Ω/km."""

EDGE = st.tuples(st.floats(0.2, 12).map(lambda x: round(x, 2)), st.sampled_from(sorted(SIZES)))
NODE = st.tuples(st.integers(0, 99), EDGE, st.floats(0.1, 8).map(lambda x: round(x, 2)))


def van(nodes: list[tuple[int, tuple[float, str], float]]) -> str:
    """A battery and boxes in a tree; at each box hangs a load, with a cable like the box's own."""
    boxes, runs, loads = [], [], []
    for number, (parent, (length, size), current) in enumerate(nodes):
        above = f"b{parent % number}/w{number}" if number else "battery"
        ways = ", ".join(f"w{n}: {{fuse: 30 A}}" for n in [*range(len(nodes)), "load"])
        boxes.append(f"  b{number}: {{kind: fuse-box, ways: {{{ways}}}}}")
        loads.append(
            f"  l{number}: {{kind: dc-appliance, current: {current} A, supply_voltage: 12 V, load: motor, "
            f"runs_in: [{'night' if number % 2 else 'day'}]}}"
        )
        cable = f"conductor: {size}, length: {length} m"
        if number:
            runs.append(
                f"  r{number}: {{medium: dc, from: {above}, to: b{number}/feed, return: same cable, {cable}}}"
            )
        else:
            runs.append(f"  r0: {{medium: dc, from: battery/positive, to: b0/feed, return: back, {cable}}}")
            runs.append(f"  back: {{medium: dc, from: battery/negative, to: b0/feed, {cable}}}")
        runs.append(
            f"  f{number}: {{medium: dc, from: b{number}/wload, to: l{number}, return: same cable, {cable}}}"
        )
    battery = "  battery: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}"
    return "\n".join(["components:", battery, *boxes, *loads, "runs:", *runs])


def solve(nodes: list[tuple[int, tuple[float, str], float]], now: str) -> tuple[list[float], list[float]]:
    """Node voltages at the loads, and the currents of the cables between boxes, by conductances."""
    count = len(nodes)
    matrix, given_ = numpy.zeros((2 * count, 2 * count)), numpy.zeros(2 * count)
    conductances = [1000 / (2 * length * SIZES[size]) for _, (length, size), _ in nodes]
    for number, (parent, _, current) in enumerate(nodes):
        g = conductances[number]
        matrix[number, number] += g  # box to what stands above it
        if number:
            above = parent % number
            matrix[above, above] += g
            matrix[number, above] -= g
            matrix[above, number] -= g
        else:
            given_[0] += g * 12.0
        load = count + number
        matrix[number, number] += g
        matrix[load, load] += g
        matrix[number, load] -= g
        matrix[load, number] -= g
        runs = now == "everything on" or (now == "night") == bool(number % 2)
        given_[load] -= current if runs else 0.0
    volts = numpy.linalg.solve(matrix, given_)
    flows = [conductances[n] * ((volts[nodes[n][0] % n] if n else 12.0) - volts[n]) for n in range(count)]
    return [float(v) for v in volts[count:]], [float(i) for i in flows]


@settings(max_examples=25, deadline=None)
@given(st.lists(NODE, min_size=1, max_size=7), st.sampled_from(["night", "day", "everything on"]))
def test_against_node_analysis(nodes: list[tuple[int, tuple[float, str], float]], now: str) -> None:
    """Voltage at every load and current in every cable agree with Kirchhoff's equations solved at once."""
    facts = dc_facts(base=van(nodes))
    volts, flows = solve(nodes, now)
    for number in range(len(nodes)):
        assert facts.subject(f"l{number}", now).voltage_at_load == pytest.approx(volts[number], abs=1e-6)
        assert facts.subject(f"r{number}", now).flow == pytest.approx(flows[number], abs=1e-6)
