"""Which recalls reach a part: by its names, serial numbers and days, and what is recorded of this van."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing


def pump(fields: str, *recalls: str) -> Subject:
    """A pump in a van whose register has these recalls; each by what it affects, and more."""
    said = ", ".join(
        f"r{n}: {{title: Recall {n}, do: Stop., affects: {one}}}" for n, one in enumerate(recalls, 1)
    )
    text = f"recalls: {{{said}}}\ncomponents: {{pump: {{kind: pump{', ' if fields else ''}{fields}}}}}"
    return Facts(build(text)).subject("pump")


FIRST, SECOND = "Recall 1: Stop.", "Recall 2: Stop."


@pytest.mark.parametrize(
    ("fields", "affects", "named", "reached"),
    [
        ("part: pump-x", "[{part: pump-x}]", True, True),
        ("part: pump-y", "[{part: pump-x}]", False, False),
        ("", "[{part: pump-x}]", False, False),
        ("", "[{part: 'n*'}]", False, False),
        ("part: pump-x", "[{part: 'Pump*'}]", True, True),
        ("", "[{kind: pump}]", True, True),
        ("", "[{kind: battery}]", False, False),
        ("maker: Larch, model: M1", "[{maker: larch, model: m1}]", True, True),
        ("maker: Larch", "[{maker: Larch, model: M1}]", False, False),
        ("model: M1", "[{maker: Larch, model: M1}]", False, False),
        ("part: p, serial: A199", "[{part: p, serials: A100..A199}]", True, True),
        ("part: p, serial: A200", "[{part: p, serials: A100..A199}]", True, False),
        ("part: p, serial: B3", "[{part: p, serials: [A1..A9, B1..B9]}]", True, True),
        ("part: p, serial: C3", "[{part: p, serials: [A1..A9, B1..B9]}]", True, False),
        ("part: p, made_on: 2026-03-31", "[{part: p, made: 2025-10..2026-03}]", True, True),
        ("part: p, made_on: 2026-04-01", "[{part: p, made: 2025-10..2026-03}]", True, False),
        ("part: p, fitted_on: 2025-10-01", "[{part: p, fitted: 2025-10..2026-03}]", True, True),
        ("part: p, fitted_on: 2025-09-30", "[{part: p, fitted: 2025-10..2026-03}]", True, False),
        (
            "part: p, serial: A5, made_on: 2026-01-01",
            "[{part: p, serials: A1..A9, made: '2026'}]",
            True,
            True,
        ),
        (
            "part: p, serial: A5, made_on: 2025-01-01",
            "[{part: p, serials: A1..A9, made: '2026'}]",
            True,
            False,
        ),
        ("part: p", "[{part: q}, {part: p}]", True, True),
        ("part: p", "[{part: p}, {kind: pump}]", True, True),
    ],
)
def test_whom_a_recall_reaches(fields: str, affects: str, named: bool, reached: bool) -> None:
    """All that it names must be alike, capitals aside; the ends of a range are in it; a recall is told once."""
    found = pump(fields, affects)
    assert found.named_by_a_recall is named
    assert found.open_recalls == ((FIRST,) if reached else ())


@pytest.mark.parametrize(
    ("recorded", "left"),
    [
        ("{test: {done: 2026-04-01}}", False),
        ("{test: {ruled_out: 2026-04-01}}", False),
        ("{test: {told: 2026-04-01, booked: 2026-05-01}}", True),
        ("{other: {done: 2026-04-01}}", True),
        ("{}", True),
    ],
)
def test_what_ends_a_recall(recorded: str, left: bool) -> None:
    """It was done, or somebody looked and it is none of them, on this van; telling the owner is not enough."""
    assert pump("", f"[{{kind: pump}}], builds: {recorded}").open_recalls == ((FIRST,) if left else ())


@pytest.mark.parametrize(
    ("fields", "affects", "lacking"),
    [
        ("", "serials: A1..A9", ("pump.serial",)),
        ("serial: '17'", "serials: A1..A9", ("pump.serial",)),
        ("", "made: '2026'", ("pump.made_on",)),
        ("", "fitted: '2026'", ("pump.fitted_on",)),
        ("", "made: '2026', serials: A1..A9", ("pump.made_on", "pump.serial")),
    ],
)
def test_what_is_not_recorded_is_asked_for(fields: str, affects: str, lacking: tuple[str, ...]) -> None:
    """The very field that would tell; nobody is called unaffected for want of a record."""
    with pytest.raises(Missing, match="Recall 1 may affect it") as caught:
        _ = pump(fields, f"[{{kind: pump, {affects}}}]").open_recalls
    assert caught.value.fields == lacking


@pytest.mark.parametrize("doubtful_first", [True, False])
def test_a_doubt_hides_no_recall_that_reaches(doubtful_first: bool) -> None:
    """What is known of one recall is said, whatever another one would have to know."""
    sure, doubtful = "[{kind: pump}]", "[{kind: pump, serials: A1..A9}]"
    recalls = (doubtful, sure) if doubtful_first else (sure, doubtful)
    assert pump("", *recalls).open_recalls == ((SECOND,) if doubtful_first else (FIRST,))


def test_a_doubt_about_a_recall_that_is_done_with_asks_for_nothing() -> None:
    """Both that reach it are told; one that was ruled out is not asked about."""
    ruled_out = "[{kind: pump, serials: A1..A9}], builds: {test: {ruled_out: 2026-04-01}}"
    assert pump("", "[{kind: pump}]", "[{kind: pump}]", ruled_out).open_recalls == (FIRST, SECOND)
    assert pump("", ruled_out, "[{kind: pump}]").open_recalls == (SECOND,)
