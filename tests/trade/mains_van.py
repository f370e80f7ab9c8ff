"""A small van with mains, gas and a seat, as text that tests change in one place."""

from functools import cache

from building import build

from specreg import workshop
from specreg.report import Report
from specreg.rules.pack import Pack

SPEC = """
jurisdictions: [uk]
systems: {declared: 2026-04-01, present: [dc, mains, gas]}
components:
  inlet: {kind: shore-inlet, rated_current: 16 A, rated_voltage: 230 V}
  board:
    kind: mains-board
    residual: {rated_current: 40 A, residual_current: 30 mA, residual_type: A, poles: 2}
    ways: {sockets: {breaker: 10 A, poles: 2}, kettle: {breaker: 10 A, poles: 2}}
  bond: {kind: bonding-point, bonds: [body]}
  galley-socket: {kind: socket, rated_current: 13 A, earth_contact: true}
  bed-socket: {kind: socket, rated_current: 13 A, earth_contact: true}
  kettle: {kind: mains-appliance, mains_power: 1.1 kW}
  bottle: {kind: gas-cylinder, gas: propane, content: 6 kg}
  regulator: {kind: regulator, outlet_pressure: 30 mbar}
  stove: {kind: hob, burns: propane, input: 3 kW}
  co-alarm: {kind: co-alarm}
runs:
  inlet-lead: {medium: ac, from: inlet, to: board, conductor: 2.5 mm², length: 2 m}
  socket-feed: {medium: ac, from: board/sockets, to: galley-socket/mains, conductor: 1.5 mm², length: 3 m}
  socket-loop: {medium: ac, from: galley-socket/loop, to: bed-socket/mains, conductor: 1.5 mm², length: 3 m}
  kettle-feed: {medium: ac, from: board/kettle, to: kettle, conductor: 1.5 mm², length: 3 m}
  body-bond: {medium: ac, from: board/earth, to: bond, conductor: 4 mm², length: 1 m}
  hose: {medium: gas, from: bottle, to: regulator/in, form: hose, length: 0.4 m}
  pipe: {medium: gas, from: regulator/out, to: stove, form: pipe, length: 2 m}
"""


@cache
def pack() -> Pack:
    """Return the shipped rules."""
    found, problems = workshop.rules_for()
    assert not problems
    return found


def report(text: str = SPEC) -> Report:
    """Return the check of a small van."""
    return workshop.inspect(build(text), pack())


def changed(*pairs: tuple[str, str]) -> str:
    """Return the spec with pieces of text replaced, each of which must be there."""
    text = SPEC
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new)
    return text


def recorded(*lines: str) -> str:
    """Return the spec with tests recorded."""
    return SPEC + "records: {tests: [" + ", ".join(lines) + "]}\n"
