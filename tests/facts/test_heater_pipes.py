"""Pipes and ducts of heaters, followed on the graph: lengths and bends added by hand."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing

PIPES = """
components:
  heater: {kind: air-heater, burns: diesel, outlets: 2}
  silencer: {kind: duct-silencer}
  intake: {kind: air-intake}
  flue: {kind: flue-terminal}
  bed-outlet: {kind: air-outlet, closable: false}
  cab-outlet: {kind: air-outlet, closable: true}
  other: {kind: air-heater, burns: diesel}
  other-flue: {kind: flue-terminal}
  other-intake: {kind: air-intake}
runs:
  air-1: {medium: air, from: intake, to: silencer, length: 0.3 m, bends: 90 deg}
  air-2: {medium: air, from: silencer, to: heater/combustion-air, length: 0.4 m, bends: 45 deg}
  exhaust: {medium: exhaust, from: heater/exhaust, to: flue, length: 1.1 m, bends: EXHAUST}
  warm-1: {medium: air, from: heater/warm-air-1, to: bed-outlet, length: 2 m}
  warm-2: {medium: air, from: heater/warm-air-2, to: cab-outlet, length: 3 m}
  other-exhaust: {medium: exhaust, from: other/exhaust, to: other-flue, length: 5 m, bends: 360 deg}
"""
DEGREE = 3.141592653589793 / 180


def heater(exhaust: str = "180 deg", *changes: tuple[str, str], name: str = "heater") -> Subject:
    """The heater with two warm-air ports, with words of its pipes replaced."""
    text = PIPES.replace("EXHAUST", exhaust)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return Facts(build(text)).subject(name)


def test_lengths_of_pipes_are_added_along_the_way() -> None:
    """0.3 + 0.4 m through the silencer; 1.1 m; the longer of two ducts. A neighbour's pipes are its own."""
    found = heater()
    assert found.intake_length == pytest.approx(0.7)
    assert found.exhaust_length == pytest.approx(1.1)
    assert found.warm_duct_length == pytest.approx(3)
    assert heater(name="other").exhaust_length == pytest.approx(5)


def test_a_heater_that_blows_freely_has_no_duct() -> None:
    """Without a port for ducts, and with ports that none leaves."""
    for outlets in (0, 2):
        text = f"components: {{heater: {{kind: air-heater, outlets: {outlets}}}}}"
        assert Facts(build(text)).subject("heater").warm_duct_length == 0


@pytest.mark.parametrize(("exhaust", "most"), [("180 deg", 180), ("130 deg", 135)])
def test_bends_of_the_pipe_that_has_more(exhaust: str, most: float) -> None:
    """90° and 45° in the intake, against those of the exhaust."""
    assert heater(exhaust).combustion_bends == pytest.approx(most * DEGREE)


@pytest.mark.parametrize(
    ("fact", "port"),
    [
        ("intake_length", "other/combustion-air"),
        ("combustion_bends", "other/combustion-air"),
    ],
)
def test_a_port_without_a_pipe_is_said(fact: str, port: str) -> None:
    """No pipe is no pipe of no length."""
    with pytest.raises(Missing) as raised:
        getattr(heater(name="other"), fact)
    assert raised.value.reason == f"no pipe leads to `{port}`"


def test_an_exhaust_without_a_pipe_is_said() -> None:
    """Of the length, and of the bends though the intake has its own."""
    gone = ("  exhaust: {medium: exhaust, from: heater/exhaust, to: flue, length: 1.1 m, bends: 0 deg}\n", "")
    for fact in ("exhaust_length", "combustion_bends"):
        with pytest.raises(Missing) as raised:
            getattr(heater("0 deg", gone), fact)
        assert raised.value.reason == "no pipe leads to `heater/exhaust`"


def test_a_flue_that_two_heaters_share_counts_for_both() -> None:
    """Exhaust passes both pipes; the intake behind the other heater is none of its own."""
    intake = "  other-air: {medium: air, from: other-intake, to: other/combustion-air, length: 9 m}\n"
    shared = heater("0 deg", ("to: other-flue", "to: flue"), ("runs:\n", f"runs:\n{intake}"))
    assert shared.exhaust_length == pytest.approx(6.1)
    assert shared.intake_length == pytest.approx(0.7)


@pytest.mark.parametrize(
    ("changes", "opened"),
    [
        ((), ("bed outlet",)),
        ((("closable: true", "closable: false"),), ("bed outlet", "cab outlet")),
        ((("closable: false", "closable: true"),), ()),
        (
            (("  warm-2: {medium: air, from: heater/warm-air-2, to: cab-outlet, length: 3 m}\n", ""),),
            ("bed outlet", "heater, warm-air-2"),
        ),
        ((("to: cab-outlet", "to: bed-outlet"),), ("bed outlet",)),
    ],
    ids=["one", "both", "none", "a port without a duct", "two ducts to one outlet"],
)
def test_what_nobody_can_shut(changes: tuple[tuple[str, str], ...], opened: tuple[str, ...]) -> None:
    """Each outlet once; a port without a duct blows freely; what is no outlet is not asked."""
    assert heater("0 deg", *changes).outlets_always_open == opened


def test_whether_an_outlet_can_be_shut_is_not_guessed() -> None:
    """The field is named."""
    with pytest.raises(Missing) as raised:
        _ = heater("0 deg", ("closable: true", "bore: 60 mm")).outlets_always_open
    assert raised.value.fields == ("cab-outlet.closable",)


@pytest.mark.parametrize(
    ("second", "clean"), [("outside", True), ("living space", True), ("engine space", False), ("enclosed void", False)]
)  # fmt: skip
def test_every_duct_must_bring_clean_air(second: str, clean: bool) -> None:
    """Two intakes on one heater: one from the engine space spoils the air of both; no silencer is asked."""
    text = f"""
        components:
          heater: {{kind: air-heater, burns: diesel}}
          silencer: {{kind: duct-silencer}}
          one: {{kind: air-intake, draws_from: outside}}
          two: {{kind: air-intake, draws_from: {second}}}
        runs:
          a: {{medium: air, from: one, to: silencer}}
          b: {{medium: air, from: two, to: silencer}}
          c: {{medium: air, from: silencer, to: heater/room-air}}
        """
    assert Facts(build(text)).subject("heater").warms_clean_air is clean
