"""Mains on the graph, mode by mode: what cuts a socket off, where neutral meets earth, what feeds back."""

import networkx
import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

INLET = "inlet: {kind: shore-inlet, rated_current: 16 A, rated_voltage: 230 V}"
INVERTER = "inverter: {kind: inverter, rated_power: 1 kW, surge_power: 2 kW, output_voltage: 230 V, neutral_bond: %s}"
SWITCH = "changeover: {kind: transfer-switch, switched_cores: %s}"
BOARD = (
    "board: {kind: mains-board, neutral_bond: %s, %smain: {breaker: 16 A, poles: 2},"
    " ways: {a: {breaker: 10 A, poles: 2}}}"
)
RESIDUAL = "residual: {residual_current: 30 mA, residual_type: A, poles: 2}, "
SOCKET = "socket: {kind: socket}"


def van(*components: str, runs: tuple[tuple[str, str], ...]) -> Facts:
    """The facts of a van with these components and mains cables of 1.5 mm²."""
    listed = "\n".join(f"  {line}" for line in components)
    laid = "\n".join(
        f"  cable-{n}: {{medium: ac, from: {a}, to: {b}, conductor: 1.5 mm², insulation: 75 °C, length: 1 m}}"
        for n, (a, b) in enumerate(runs)
    )
    return Facts(build(f"components:\n{listed}\nruns:\n{laid}\n"))


CHANGEOVER = (
    ("inlet", "changeover/shore"),
    ("inverter/ac-out", "changeover/inverter"),
    ("changeover/out", "board"),
    ("board/a", "socket/mains"),
)
"""Residual-current device behind the changeover."""

DEVICE_ON_SHORE = (
    ("inlet", "entry/in"),
    ("entry/out", "changeover/shore"),
    ("inverter/ac-out", "changeover/inverter"),
    ("changeover/out", "board"),
    ("board/a", "socket/mains"),
)
"""Residual-current device between inlet and changeover."""

ENTRY = (
    "entry: {kind: residual-current-device, residual: {residual_current: 30 mA, residual_type: A, poles: 2}}"
)


def both(board_residual: str = RESIDUAL, bond: str = "relay", cores: str = "line and neutral") -> Facts:
    """A van with an inlet and an inverter behind one changeover switch."""
    return van(
        INLET,
        INVERTER % bond,
        SWITCH % cores,
        BOARD % ("none", board_residual),
        SOCKET,
        runs=CHANGEOVER,
    )


@pytest.mark.parametrize(
    ("facts", "mode", "protected"),
    [
        (both(), "shore", True),
        (both(), "inverter", True),
        (both(""), "shore", False),
        (
            van(
                INLET,
                INVERTER % "relay",
                SWITCH % "line and neutral",
                ENTRY,
                BOARD % ("none", ""),
                SOCKET,
                runs=DEVICE_ON_SHORE,
            ),
            "shore",
            True,
        ),
        (
            van(
                INLET,
                INVERTER % "relay",
                SWITCH % "line and neutral",
                ENTRY,
                BOARD % ("none", ""),
                SOCKET,
                runs=DEVICE_ON_SHORE,
            ),
            "inverter",
            False,
        ),
    ],
    ids=["behind, shore", "behind, inverter", "none", "before the changeover, shore", "before it, inverter"],
)
def test_residual_device_serves_what_lies_behind_it(facts: Facts, mode: str, protected: bool) -> None:
    """A device before the changeover does nothing for the inverter."""
    socket = facts.subject("socket", mode)
    assert socket.mains_sources == (("inlet",) if mode == "shore" else ("inverter",))
    assert socket.residual_protected is protected


def test_what_feeds_a_board_from_behind_passes_its_device_by() -> None:
    """Both contacts of the changeover close at once: the inverter feeds the bar through an empty way of the board."""
    facts = van(
        INLET,
        INVERTER % "relay",
        "changeover: {kind: transfer-switch, switched_cores: line, sources: {one: inverter, other: inverter}}",
        BOARD.replace("poles: 2}}}", "poles: 2}, c: {}}}") % ("none", RESIDUAL),
        SOCKET,
        runs=(
            ("inlet", "board"),
            ("board/a", "socket/mains"),
            ("board/c", "changeover/one"),
            ("inverter/ac-out", "changeover/other"),
        ),
    )
    assert facts.subject("socket", "shore").residual_protected is True
    behind = facts.subject("socket", "inverter")
    assert (behind.mains_sources, behind.residual_protected) == (("inverter",), False)
    assert facts.subject("", "inverter").back_fed_sources == ("inlet",)


def test_a_mode_without_a_source_says_nothing() -> None:
    """There is no generator: no source, no protection to speak of."""
    socket = both().subject("socket", "generator")
    assert socket.mains_sources == ()
    with pytest.raises(Missing):
        _ = socket.residual_protected


def test_without_a_source_no_device_trips() -> None:
    """Neither a trip current nor types nor breakers are made up for a mode that feeds nothing."""
    socket = both().subject("socket", "generator")
    assert socket.get("residual_trip_current") is None
    assert (socket.residual_devices, socket.residual_types, socket.overcurrent_devices) == ((), (), ())


def test_types_of_the_devices_before_a_socket() -> None:
    """Type A as stated; one without a type is asked for by its field."""
    assert both().subject("socket", "shore").residual_types == ("A",)
    untyped = both("residual: {residual_current: 30 mA, poles: 2}, ")
    with pytest.raises(Missing) as absent:
        _ = untyped.subject("socket", "shore").residual_types
    assert absent.value.fields == ("board.residual.residual_type",)


def test_a_device_without_its_current_leaves_the_trip_current_open() -> None:
    """It cuts the socket off, at a current that nobody stated; with none at all, that is said."""
    with pytest.raises(Missing) as absent:
        _ = both("residual: {residual_type: A, poles: 2}, ").subject("socket", "shore").residual_trip_current
    assert absent.value.fields == ("board.residual.residual_current",)
    with pytest.raises(Missing) as none:
        _ = both("").subject("socket", "shore").residual_trip_current
    assert none.value.reason == "a way from a source to it passes no residual-current device"


@pytest.mark.parametrize(
    ("outer", "inner", "trip"),
    [("100 mA", "30 mA", 0.03), ("30 mA", "100 mA", 0.03), ("300 mA", "100 mA", 0.1)],
)
def test_of_two_devices_in_a_row_the_finer_counts(outer: str, inner: str, trip: float) -> None:
    """The trip current is the least that cuts the socket off."""
    facts = van(
        INLET,
        f"entry: {{kind: residual-current-device, residual: {{residual_current: {outer}, poles: 2}}}}",
        BOARD % ("none", f"residual: {{residual_current: {inner}, poles: 2}}, "),
        SOCKET,
        runs=(("inlet", "entry/in"), ("entry/out", "board"), ("board/a", "socket/mains")),
    )
    socket = facts.subject("socket", "shore")
    assert socket.residual_trip_current == pytest.approx(trip)
    assert socket.residual_devices == ("board", "entry")


WAYS = "board: {kind: mains-board, neutral_bond: none, ways: {a: {breaker: 10 A%s}, b: {breaker: 10 A, residual_current: 6 mA}}}"
TO_WAY = (("inlet", "entry/in"), ("entry/out", "board"), ("board/a", "socket/mains"))
FEEDS_WAY = "entry: {kind: residual-current-device, residual: {%spoles: 2}}"


def test_a_finer_device_on_another_way_counts_for_nothing() -> None:
    """6 mA in way b protects what hangs on b: the socket on a has the 100 mA of the entry alone."""
    facts = van(INLET, FEEDS_WAY % "residual_current: 100 mA, ", WAYS % "", SOCKET, runs=TO_WAY)
    socket = facts.subject("socket", "shore")
    assert socket.residual_trip_current == pytest.approx(0.1)
    assert socket.residual_devices == ("entry",)


def test_of_two_devices_one_without_its_current() -> None:
    """The stated one cuts the socket off whatever the other does; where it does not, only the silent field is asked for."""
    facts = van(INLET, FEEDS_WAY % "", WAYS % ", residual_current: 30 mA", SOCKET, runs=TO_WAY)
    assert facts.subject("socket", "shore").residual_trip_current == pytest.approx(0.03)
    open_ = van(INLET, FEEDS_WAY % "", WAYS % "", SOCKET, runs=TO_WAY)
    with pytest.raises(Missing) as absent:
        _ = open_.subject("socket", "shore").residual_trip_current
    assert absent.value.fields == ("entry.residual.residual_current",)


TWO_TYPES = (
    "board: {kind: mains-board, neutral_bond: none, main: {breaker: 16 A}, ways: "
    "{a: {breaker: 10 A, residual_current: 30 mA, residual_type: A},"
    " b: {breaker: 6 A, residual_current: 30 mA, residual_type: B}, c: {}}}"
)


@pytest.mark.parametrize(
    ("way", "types", "devices"),
    [
        ("a", ("A",), ("board/a", "board/main")),
        ("b", ("B",), ("board/b", "board/main")),
        ("c", (), ("board/main",)),
    ],
)
def test_what_stands_before_a_socket_and_not_beside_it(
    way: str, types: tuple[str, ...], devices: tuple[str, ...]
) -> None:
    """Of a board's ways its own counts, with the main breaker; a fuse of the battery opens no mains."""
    fuse = "box: {kind: fuse-box, ways: {a: {fuse: 20 A}}}"
    runs = (("inlet", "board"), (f"board/{way}", "socket/mains"))
    socket = van(INLET, TWO_TYPES, fuse, SOCKET, runs=runs).subject("socket", "shore")
    assert (socket.residual_types, socket.overcurrent_devices) == (types, devices)


@pytest.mark.parametrize(
    ("inverter", "way", "mode", "unbroken"),
    [
        ("surge_power: 2 kW, output_voltage: 230 V", "changeover/out", "shore", ("inlet",)),
        ("surge_power: 2 kW, output_voltage: 230 V", "changeover/out", "inverter", ()),
        ("rated_power: 1 kW", "changeover/out", "inverter", ("inverter",)),
        ("rated_power: 1 kW", "changeover/out", "generator", ()),
        ("rated_power: 1 kW", "board/a", "shore", ()),
        ("rated_power: 1 kW", "board/a", "inverter", ()),
    ],
)
def test_a_source_that_nothing_bounds(inverter: str, way: str, mode: str, unbroken: tuple[str, ...]) -> None:
    """Before the board no device opens: an inverter of a stated surge limits itself, the site does nothing for the van."""
    facts = van(
        INLET,
        f"inverter: {{kind: inverter, {inverter}}}",
        SWITCH % "line and neutral",
        BOARD % ("none", RESIDUAL),
        SOCKET,
        runs=(*CHANGEOVER[:3], (way, "socket/mains")),
    )
    assert facts.subject("socket", mode).unbroken_sources == unbroken


def test_a_combined_breaker_and_a_socket_of_its_own_count() -> None:
    """A breaker that trips on residual current protects its way; a socket with a switch in it itself."""
    facts = van(
        INLET,
        "board: {kind: mains-board, neutral_bond: none, ways: {a: {breaker: 10 A, residual_current: 30 mA},"
        " b: {breaker: 10 A}, c: {breaker: 10 A}}}",
        SOCKET,
        "second: {kind: socket, residual: {residual_current: 30 mA, residual_type: A}}",
        "third: {kind: socket}",
        runs=(
            ("inlet", "board"),
            ("board/a", "socket/mains"),
            ("board/b", "second/mains"),
            ("board/c", "third/mains"),
        ),
    )
    named = {name: facts.subject(name, "shore").residual_devices for name in ("socket", "second", "third")}
    assert named == {"socket": ("board/a",), "second": ("second",), "third": ()}


def test_a_device_without_its_rating_leaves_the_trip_current_open() -> None:
    """The field that would decide is named."""
    facts = both("residual: {residual_type: A}, ")
    with pytest.raises(Missing) as raised:
        _ = facts.subject("socket", "shore").residual_trip_current
    assert raised.value.fields == ("board.residual.residual_current",)


@pytest.mark.parametrize(
    ("bond", "cores", "shore", "inverter"),
    [
        ("relay", "line and neutral", (), ("inverter",)),
        ("relay", "line", (), ("inverter",)),
        ("none", "line and neutral", (), ()),
        ("fixed", "line and neutral", (), ("inverter",)),
        ("fixed", "line", ("inverter",), ("inverter",)),
    ],
)
def test_neutral_meets_earth_where_the_graph_says(
    bond: str, cores: str, shore: tuple[str, ...], inverter: tuple[str, ...]
) -> None:
    """A fixed bond takes part on shore when the changeover leaves the neutrals joined."""
    facts = both(bond=bond, cores=cores)
    assert facts.subject("", "shore").neutral_bonds == shore
    assert facts.subject("", "inverter").neutral_bonds == inverter


def test_a_strap_in_the_board_is_a_bond_in_every_mode() -> None:
    """With a relay in the inverter there are then two while inverting."""
    parts = (INLET, INVERTER % "relay", SWITCH % "line and neutral", BOARD % ("fixed", RESIDUAL), SOCKET)
    facts = van(*parts, runs=CHANGEOVER)
    assert facts.subject("", "shore").neutral_bonds == ("board",)
    assert facts.subject("", "inverter").neutral_bonds == ("board", "inverter")


@pytest.mark.parametrize(
    ("bond", "shore", "inverter"),
    [("relay", (), ("combined",)), ("fixed", ("combined",), ("combined",)), ("none", (), ())],
)
def test_an_inverter_with_a_transfer_contact_hands_the_neutral_on(
    bond: str, shore: tuple[str, ...], inverter: tuple[str, ...]
) -> None:
    """Its contact joins the neutrals on shore, so that a fixed bond would be the van's second one."""
    facts = van(
        INLET,
        f"combined: {{kind: inverter-charger, switched_cores: line and neutral, neutral_bond: {bond}}}",
        BOARD % ("none", RESIDUAL),
        SOCKET,
        runs=(("inlet", "combined/ac-in"), ("combined/ac-out", "board"), ("board/a", "socket/mains")),
    )
    assert facts.subject("", "shore").neutral_bonds == shore
    assert facts.subject("", "inverter").neutral_bonds == inverter
    assert facts.subject("", "shore").back_fed_sources == ()
    assert facts.subject("", "inverter").back_fed_sources == ()


UNKNOWN_BOND = "inverter: {kind: inverter, rated_power: 1 kW, surge_power: 2 kW, output_voltage: 230 V}"


def test_unknown_contacts_leave_a_fixed_bond_open() -> None:
    """Whether it takes part on shore hangs on what the changeover opens."""
    switch = "changeover: {kind: transfer-switch}"
    facts = van(INLET, INVERTER % "fixed", switch, BOARD % ("none", RESIDUAL), SOCKET, runs=CHANGEOVER)
    with pytest.raises(Missing) as raised:
        _ = facts.subject("", "shore").neutral_bonds
    assert raised.value.fields == ("changeover.switched_cores",)


@pytest.mark.parametrize(
    ("inverter", "switch", "fields"),
    [
        (UNKNOWN_BOND, "", ("changeover.switched_cores", "inverter.neutral_bond")),
        (UNKNOWN_BOND, ", switched_cores: line", ("inverter.neutral_bond",)),
        (UNKNOWN_BOND, ", switched_cores: line and neutral", None),
    ],
    ids=["both unknown", "neutrals joined", "neutrals apart"],
)
def test_an_unknown_bond_may_be_a_fixed_one(
    inverter: str, switch: str, fields: tuple[str, ...] | None
) -> None:
    """On shore it matters unless the changeover is known to part the neutrals: no bond is told only then."""
    changeover = f"changeover: {{kind: transfer-switch{switch}}}"
    facts = van(INLET, inverter, changeover, BOARD % ("none", RESIDUAL), SOCKET, runs=CHANGEOVER)
    shore = facts.subject("", "shore")
    if fields is None:
        assert shore.neutral_bonds == ()
        return
    with pytest.raises(Missing) as raised:
        _ = shore.neutral_bonds
    assert raised.value.fields == fields


def test_a_relay_asks_for_no_contacts() -> None:
    """It closes at the source alone, whatever a changeover opens: nothing is left to ask for."""
    switch = "changeover: {kind: transfer-switch}"
    facts = van(INLET, INVERTER % "relay", switch, BOARD % ("none", RESIDUAL), SOCKET, runs=CHANGEOVER)
    assert facts.subject("", "shore").neutral_bonds == ()
    assert facts.subject("", "inverter").neutral_bonds == ("inverter",)


GENERATOR = "generator: {kind: generator, rated_power: 1 kW, neutral_bond: none}"


@pytest.mark.parametrize(
    ("other", "mode", "fed_into"),
    [
        ("inverter", "shore", ("inverter",)),
        ("inverter", "inverter", ("inlet",)),
        ("generator", "shore", ("generator",)),
        ("generator", "generator", ("inlet",)),
        ("generator", "inverter", ()),  # none of the two feeds then
    ],
)
def test_two_sources_on_one_board_feed_into_each_other(
    other: str, mode: str, fed_into: tuple[str, ...]
) -> None:
    """Whichever is live reaches the output of the other: the pins of an inlet, or an inverter that it destroys."""
    parts = {"inverter": INVERTER % "relay", "generator": GENERATOR}
    facts = van(
        INLET,
        parts[other],
        BOARD % ("none", RESIDUAL),
        SOCKET,
        runs=(("inlet", "board"), (f"{other}/ac-out", "board"), ("board/a", "socket/mains")),
    )
    assert facts.subject("", mode).back_fed_sources == fed_into


BATTERY = "battery: {kind: battery, nominal_voltage: 12 V}"
OTHER = "other: {kind: inverter, rated_power: 300 W, neutral_bond: none}"


def test_two_inverters_on_one_battery_are_two_sources() -> None:
    """A battery joins no mains: the socket of one is not fed by the other, and none feeds back."""
    facts = Facts(
        build(
            f"components: {{{BATTERY}, {INVERTER % 'none'}, {OTHER}, {SOCKET}, other-socket: {{kind: socket}}}}\n"
            "runs:\n"
            "  a: {medium: dc, from: battery/positive, to: inverter/positive, return: chassis}\n"
            "  b: {medium: dc, from: battery/positive, to: other/positive, return: chassis}\n"
            "  c: {medium: ac, from: inverter/ac-out, to: socket/mains}\n"
            "  d: {medium: ac, from: other/ac-out, to: other-socket/mains}\n"
        )
    )
    found = {name: facts.subject(name, "inverter").mains_sources for name in ("socket", "other-socket")}
    assert found == {"socket": ("inverter",), "other-socket": ("other",)}
    assert facts.subject("", "inverter").sources_of_mode == ("inverter", "other")
    assert facts.subject("", "inverter").back_fed_sources == ()


def test_a_source_without_a_cable_is_none() -> None:
    """An inverter of which no cable is written yet gives nothing and joins no neutral to earth."""
    facts = van(INLET, INVERTER % "fixed", SOCKET, runs=(("inlet", "socket/mains"),))
    assert facts.subject("", "shore").sources_of_mode == ("inlet",)
    whole = facts.subject("", "inverter")
    assert (whole.sources_of_mode, whole.neutral_bonds) == ((), ())


def test_a_socket_of_which_no_mode_is_named_is_on_shore() -> None:
    """Whoever asks without a mode is told what holds on a site."""
    assert both().subject("socket").mains_sources == ("inlet",)


def test_what_takes_no_mains_has_no_earth_to_ask_for() -> None:
    """A battery box is neither earthed nor unearthed."""
    facts = van("battery: {kind: battery}", SOCKET, runs=())
    assert facts.subject("battery").get("earthed") is None
    assert facts.subject("socket").earthed is False


def test_sources_on_one_board_feed_back() -> None:
    """An inverter and an inlet on the same cable make the pins of the inlet live."""
    facts = van(
        INLET,
        INVERTER % "relay",
        BOARD % ("none", RESIDUAL),
        SOCKET,
        runs=(("inlet", "board"), ("inverter/ac-out", "board"), ("board/a", "socket/mains")),
    )
    assert facts.subject("", "inverter").back_fed_sources == ("inlet",)
    assert both().subject("", "inverter").back_fed_sources == ()


@given(
    parents=st.lists(st.integers(min_value=0, max_value=6), min_size=1, max_size=6),
    fitted=st.lists(st.booleans(), min_size=7, max_size=7),
)
def test_protection_agrees_with_a_path_search_of_a_general_library(
    parents: list[int], fitted: list[bool]
) -> None:
    """On any tree of boards a socket is protected exactly when no path is free of a residual device."""
    boards = [
        f"board-{n}: {{kind: mains-board, {RESIDUAL if fitted[n] else ''}"
        f"ways: {{{', '.join(f'w{k}: {{breaker: 10 A}}' for k in range(8))}}}}}"
        for n in range(len(parents) + 1)
    ]
    tree = [(min(parent, n), n + 1) for n, parent in enumerate(parents)]
    runs = [("inlet", "board-0"), *((f"board-{a}/w{b}", f"board-{b}") for a, b in tree)]
    last = len(parents)
    runs.append((f"board-{last}/w7", "socket/mains"))
    facts = van(INLET, *boards, SOCKET, runs=tuple(runs))
    free: networkx.Graph[str] = networkx.Graph([("inlet", "in-0"), (f"out-{last}", "socket")])
    free.add_edges_from((f"out-{a}", f"in-{b}") for a, b in tree)
    free.add_edges_from((f"in-{n}", f"out-{n}") for n in range(last + 1) if not fitted[n])
    expected = not networkx.has_path(free, "inlet", "socket")
    assert facts.subject("socket", "shore").residual_protected is expected
