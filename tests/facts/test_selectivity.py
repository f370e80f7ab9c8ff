"""Which devices in line may open together."""

import pytest
from dc_van import dc_facts

import specreg.facts.selectivity  # noqa: F401 - registers the fact


@pytest.mark.parametrize(
    ("upstream", "judged"),
    [
        ("fuse: 32 A, family: blade", ()),
        ("fuse: 31 A, family: blade", ("a",)),
        ("fuse: 20 A, family: mega", ()),
    ],
)
def test_the_ratio_is_asked_within_one_family(upstream: str, judged: tuple[str, ...]) -> None:
    """1.6 × 20 A is 32 A (common practice, no source); another family is not judged."""
    facts = dc_facts(f"runs: {{main: {{protection: [{{{upstream}, distance: 100 mm}}]}}}}")
    found = facts.subject("box/a").opens_with_it
    assert found == ((facts.name_of("main/1"),) if judged else ())
    assert facts.subject("main/1").opens_with_it == ()


@pytest.mark.parametrize(
    ("near", "far", "with_far", "with_way"),
    [
        ("60 A", "40 A", ("near",), ()),  # 1.6 × 40 A is 64 A, 1.6 × 20 A is 32 A
        ("64 A", "31 A", (), ("far",)),
        ("25 A", "40 A", ("near",), ()),  # of the way only what stands next above it is asked
    ],
)
def test_each_is_judged_against_the_next_above(
    near: str, far: str, with_far: tuple[str, ...], with_way: tuple[str, ...]
) -> None:
    """Battery, two devices on the main, then the way of 20 A."""
    facts = dc_facts(
        f"runs: {{main: {{protection: {{near: {{fuse: {near}, family: blade, distance: 0.1 m}},"
        f" far: {{fuse: {far}, family: blade, distance: 1 m}}}}}}}}"
    )
    named = {name: facts.name_of(f"main/{name}") for name in ("near", "far")}
    assert facts.subject("main/far").opens_with_it == tuple(named[name] for name in with_far)
    assert facts.subject("box/a").opens_with_it == tuple(named[name] for name in with_way)
    assert facts.subject("main/near").opens_with_it == ()


def test_what_limits_itself_drives_no_fuse_hard_enough() -> None:
    """The fuse behind a solar controller of 10 A stands above a way of 20 A and is not judged."""
    facts = dc_facts(
        """
        components: {sun: {kind: solar-controller, rated_current: 10 A}}
        runs:
          out: {medium: dc, from: sun/battery, to: box/feed, return: same cable, protection: [{fuse: 15 A, family: blade}]}
        """
    )
    assert facts.subject("box/a").opens_with_it == ()


def test_the_fuses_of_two_batteries_side_by_side() -> None:
    """Each stands above the other, seen from its own battery: none comes first. Both stand above the way."""
    facts = dc_facts(
        """
        components:
          sun: {kind: solar-controller, rated_current: 10 A}
          second: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}
        runs:
          out: {medium: dc, from: sun/battery, to: box/feed, return: same cable}
          main: {protection: {fuse: {fuse: 25 A, family: blade, distance: 0.1 m}}}
          main-2:
            medium: dc
            from: second/positive
            to: box/feed
            return: ground
            protection: {fuse: {fuse: 30 A, family: blade, distance: 0.1 m}}
        """
    )
    both = tuple(facts.name_of(name) for name in ("main/fuse", "main-2/fuse"))
    assert facts.subject("box/a").opens_with_it == both
    assert facts.subject("main/fuse").opens_with_it == facts.subject("main-2/fuse").opens_with_it == ()
