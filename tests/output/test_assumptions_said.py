"""A long list of assumptions is said once in a report."""

from specreg.output.text import _assumed


def test_a_long_list_is_said_once() -> None:
    """The second finding says only what is new, and how much was said before."""
    said: set[str] = set()
    assert _assumed(("a", "b", "c"), said) == "a; b; c"
    assert _assumed(("a", "b", "c", "d"), said) == "d; 3 more, said above"
    assert _assumed(("a", "b", "d"), said) == "3 things, said above"


def test_a_short_list_is_said_again() -> None:
    """One or two assumptions are shorter than a reference to them."""
    said = {"a", "b"}
    assert _assumed(("a", "b"), said) == "a; b"
