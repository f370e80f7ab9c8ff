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
