"""Each entry of the sum of moments, its place and its doubts; what is left of each limit: by hand for the small van."""

import pytest
from van import van_facts

from specreg.facts.axle_loads import aboard, as_received, doubt, fitted, ticket_load
from specreg.facts.engine import Subject
from specreg.facts.loading import Load
from specreg.facts.missing import Missing


def build(*over: str, case: str = "as converted") -> Subject:
    """The small van in a loading case."""
    return van_facts(*over).whole.in_case(case)


def received(*over: str) -> list[Load]:
    """The ticket as received, corrected."""
    return list(as_received(van_facts(*over)))


def test_a_ticket_is_one_mass_at_its_centre_of_gravity() -> None:
    """1200 and 800 kg on 4 m: 2000 kg 1.6 m behind the front axle; nothing is known of its height and side."""
    ticket = received("vehicle: {as_received: {fuel: 0 %}}")
    assert ticket == [
        Load(
            "vehicle as weighed",
            "",
            2000.0,
            10.0,
            1.6,
            0.0,
            0.0,
            0.0,
            known="weighed",
            place="its axle loads",
        )
    ]


def test_what_was_in_it_is_taken_out_where_it_stood() -> None:
    """Driver, half the fuel and 30 L of water: negative, at their places, certain, each told as what it was."""
    water = "components: {tank: {kind: fresh-tank, volume: 60 L, mass: 5 kg, at: [3 m, 0.4 m, 0.1 m], size: [1 m, 0.2 m, 0.4 m]}}"
    over = "vehicle: {as_received: {driver: true, fuel: 50 %, fresh_water: 50 %}}"
    _, *inside = received(water, over)
    assert [(e.name, e.subject, e.mass_doubt, e.known, e.place) for e in inside] == [
        ("driver when weighed", "driver-seat", 0.0, "by convention", "its box"),
        ("fuel when weighed", "", 0.0, "computed from its volume", "its box"),
        ("fresh water in tank when weighed", "tank", 0.0, "computed from its volume", "its box"),
    ]
    assert [e.mass for e in inside] == pytest.approx([-75, -41.6, -30])
    assert [(e.x, e.y, e.z) for e in inside] == [
        pytest.approx((1.0, -0.6, 0.5)), pytest.approx((2.0, 0.0, 0.0)), pytest.approx((3.5, 0.5, 0.3)),
    ]  # fmt: skip
    assert all((e.x_doubt, e.y_doubt, e.z_doubt) == (0.0, 0.0, 0.0) for e in inside)


def test_what_a_ticket_does_not_say_of_what_was_inside() -> None:
    """Driver and fuel are asked for together, under the path of the ticket."""
    van = van_facts("vehicle: {as_received: {driver: ~, fuel: ~}}")
    ticket = van.build.header.vehicle.as_received
    assert ticket is not None
    with pytest.raises(Missing) as raised:
        list(aboard(van, ticket, "there"))
    assert raised.value.fields == ("there.driver", "there.fuel")
    with pytest.raises(Missing) as raised:
        ticket_load(van, ticket.model_copy(update={"front_axle": None, "rear_axle": None}), "there")
    assert raised.value.fields == ("there.front_axle", "there.rear_axle")


WHEEL = "components: {spare: {kind: spare-wheel, origin: %s, mass: 25 kg, mass_status: weighed, at: [4 m, 0 m, 0.1 m]}}"


@pytest.mark.parametrize(
    ("origin", "ticket", "counted"),
    [
        ("base vehicle", "spare_wheel: true", 0),
        ("base vehicle", "spare_wheel: false", 1),
        ("retrofitted", "spare_wheel: ~", 0),
        ("retrofitted", "spare_wheel: false", 0),
    ],
)
def test_a_spare_wheel_that_was_left_out(origin: str, ticket: str, counted: int) -> None:
    """The base vehicle's own counts as received where it was not weighed; one fitted later counts as fitted, once."""
    van = van_facts(WHEEL % origin, f"vehicle: {{as_received: {{fuel: 0 %, {ticket}}}}}")
    _, *others = as_received(van)
    assert [(e.name, e.subject, e.mass, e.mass_doubt, e.x, e.z, e.known) for e in others] == [
        ("spare", "spare", 25.0, 0.25, 4.0, 0.1, "weighed")
    ] * counted
    assert [e.subject for e in fitted(van)] == (["spare"] if origin == "retrofitted" else [])


def test_what_is_fitted_stands_where_it_is_and_is_off_by_what_it_may() -> None:
    """A weighed box, a small fitting of 1 ± 1 kg, a pipe between its ends; what adds nothing is no entry."""
    van = van_facts(
        "components: {box: {kind: cabinet, mass: 40 kg, mass_status: weighed, at: [3 m, 0.2 m, 0.1 m]}, "
        "tap: {kind: tap, at: [2 m, 0.4 m, 0.9 m]}, bag: {kind: luggage, mass: 20 kg}, door: {kind: exit}, "
        "tank: {kind: fresh-tank, mass: 5 kg, mass_status: weighed, at: [4 m, 0 m, 0.1 m]}, "
        "pump: {kind: pump, mass: 2 kg, mass_status: weighed, at: [3 m, 0 m, 0.3 m]}}",
        "runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet, length: 3 m, mass: 0.5 kg}}",
    )
    found = {e.subject: e for e in fitted(van)}
    assert list(found) == ["box", "tap", "tank", "pump", "hose"]
    assert (found["box"].mass, found["box"].mass_doubt, found["box"].x, found["box"].known) == (
        40,
        0.4,
        3,
        "weighed",
    )
    assert (found["tap"].mass, found["tap"].mass_doubt, found["tap"].known) == (1, 1, "bounded")
    hose = found["hose"]
    assert (hose.mass, hose.x, hose.x_doubt, hose.z, hose.place) == (0.5, 3.5, 0.5, 0.2, "between its ends")


def test_a_pipe_whose_ends_have_no_place_is_anywhere_inside() -> None:
    """And where nothing is known of the inside, its length is what is asked for."""
    text = (
        "components: {tank: {kind: fresh-tank, mass: 5 kg, at: [4 m, 0 m, 0 m]}, pump: {kind: pump, mass: 2 kg}}",
        "runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet, length: 3 m, mass: 0.5 kg}}",
    )
    (hose,) = (e for e in fitted(van_facts(*text)) if e.subject == "hose")
    assert (hose.x, hose.x_doubt, hose.place) == (3.0, 2.0, "anywhere in the interior")
    over = "{vehicle: {interior: {starts: ~}}, components: {pump: {at: [2 m, 0 m, 0 m]}, tank: {at: ~}}}"
    with pytest.raises(Missing) as raised:
        list(fitted(van_facts(*text, over)))
    assert raised.value.fields in (("tank.at",), ("hose.length",))


def test_all_doubts_the_wrong_way() -> None:
    """± 2 kg of 10 kg at 3 ± 0.5 m, wheelbase 4 m, and 5 kg less at 6 ± 1 m: rear 2·¾ + 10·0.5/4 + 1·1.5 + 5·1/4."""
    entries = (
        Load("a", "a", 10.0, 2.0, 3.0, 0.5, 0.0, 0.0),
        Load("b", "b", -5.0, 1.0, 6.0, 1.0, 0.0, 0.0),
    )
    assert doubt(entries, lambda entry: entry.x / 4, 1 / 4) == pytest.approx(1.5 + 1.25 + 1.5 + 1.25)
    # in front: 2·¼ + 10·0.5/4 + 1·|1 − 1.5| + 5·1/4
    assert doubt(entries, lambda entry: 1 - entry.x / 4, 1 / 4) == pytest.approx(0.5 + 1.25 + 0.5 + 1.25)


BOX = "components: {box: {kind: cabinet, mass: 100 kg, mass_status: weighed, at: [3 m, 0.6 m, 0 m]}}"
# as converted: 2000 kg at 1.6 m, less 83.2 kg of fuel at 2 m, 90 % of it in again, driver of 75 kg at 1 m, box at 3 m
MASS = 2000 - 8.32 + 75 + 100
REAR = 800 - 8.32 / 2 + 75 / 4 + 100 * 3 / 4


def test_what_is_left_of_each_limit() -> None:
    """3500 kg, 1850 kg in front, 2250 kg behind; for certain less the scale's 10 kg and the box's 1 kg, by their shares."""
    there = build(BOX)
    assert (there.laden_mass, there.rear_axle_load) == pytest.approx((MASS, REAR))
    assert there.payload_left == pytest.approx(3500 - MASS)
    assert there.front_axle_left == pytest.approx(1850 - (MASS - REAR))
    assert there.rear_axle_left == pytest.approx(2250 - REAR)
    assert there.payload_left_least == pytest.approx(3500 - MASS - 11)
    assert there.front_axle_left_least == pytest.approx(1850 - (MASS - REAR) - 10 * 0.6 - 0.25)
    assert there.rear_axle_left_least == pytest.approx(2250 - REAR - 10 * 0.4 - 0.75)
    assert there.front_share == pytest.approx((MASS - REAR) / MASS)
    assert there.centre_of_gravity == pytest.approx(4 * REAR / MASS)
    assert build(BOX, case="as converted").van.whole.user_payload == pytest.approx(3500 - MASS)
    assert there.van.whole.all_masses_known is True


def test_sides() -> None:
    """20 kg more on the left of the ticket; driver 0.6 m left, box 0.6 m right of the middle, track 1.8 m."""
    there = build(BOX)
    left = 1010 - 8.32 / 2 + 75 * (0.5 + 0.6 / 1.8) + 100 * (0.5 - 0.6 / 1.8)
    assert there.left_share == pytest.approx(left / MASS)
    assert there.left_wheels_load == pytest.approx(left)
    assert there.right_wheels_load == pytest.approx(MASS - left)
    assert there.side_difference == pytest.approx(abs(MASS - 2 * left) / MASS)
    heavy = "components: {box: {mass: 300 kg, at: [3 m, -0.6 m, 0 m]}}"
    other = build(BOX, heavy)
    assert other.side_difference == pytest.approx(
        (2 * other.left_wheels_load - other.laden_mass) / other.laden_mass
    )


UNKNOWN = "components: {fridge: {kind: fridge, size: [0.5 m, 0.5 m, 0.5 m]}, shelf: {kind: shelf, sheets: [{area: 1 m²}]}}"


@pytest.mark.parametrize(
    "asked", ["all_masses_known", "payload_left_least", "front_axle_left_least", "rear_axle_left_least"]
)
def test_a_worst_end_needs_every_mass(asked: str) -> None:
    """Each field that would give one is named."""
    with pytest.raises(Missing) as raised:
        getattr(build(BOX, UNKNOWN), asked)
    assert raised.value.fields == ("fridge.mass", "shelf.sheets.1.thickness", "shelf.sheets.1.density")


@pytest.mark.parametrize(
    ("thing", "load"),
    [
        ("kind: roof-rack, mass: 30 kg", 30),
        ("kind: roof-rack, mass: 30 kg, carried: 20 kg", 50),
        ("kind: roof-rack, mass: 30 kg, carried: 20 kg, count: 2", 100),
        ("kind: cabinet, mass: 8 kg, contents: 12 kg, fixed_to: rack", 20),
        ("kind: cabinet, mass: 8 kg, contents: 12 kg, at: [3 m, 0 m, 1.5 m]", 0),
        ("kind: fresh-tank, mass: 4 kg, volume: 30 L, fixed_to: rack", 34),
        (
            "kind: fuel-can, mass: 3 kg, volume: 20 L, content: petrol, fixed_to: rack, count: 2",
            2 * (3 + 14.9),
        ),
        ("kind: luggage, mass: 25 kg, fixed_to: rack", 25),
        ("kind: luggage, mass: 25 kg, fixed_to: rack, count: 2", 50),
        ("kind: luggage, mass: 25 kg, fixed_to: body", 0),
        ("kind: solar-panel, mass: 12 kg", 0),
        ("kind: solar-panel, mass: 12 kg, at: [3 m, 0 m, 1.9 m]", 12),
        ("kind: solar-panel, mass: 12 kg, mounting: portable, at: [3 m, 0 m, 1.9 m]", 0),
        ("kind: spare-wheel, origin: base vehicle, mass: 25 kg, place: roof", 25),
        ("kind: awning, origin: retrofitted, mass: 25 kg, at: [3 m, 0 m, 2 m]", 25),
    ],
)
def test_load_on_the_roof(thing: str, load: float) -> None:
    """With all that is kept in it and on it, tanks and cans full; of several that stand as one each with its own."""
    there = build(f"components: {{it: {{{thing}}}, rack: {{kind: roof-rack, mass: 0 kg}}}}")
    assert there.roof_load == pytest.approx(load)
    assert there.things_on_roof == (("it", "rack") if load else ("rack",))


def test_without_a_height_of_the_room_nothing_is_on_the_roof_by_height() -> None:
    """What says so itself still is; the masses that are wanting are all named."""
    low = "vehicle: {interior: {height: ~}}"
    panel = "components: {panel: {kind: solar-panel, at: [3 m, 0 m, 2 m]}, rack: {kind: roof-rack}}"
    assert build(panel, low).things_on_roof == ("rack",)
    with pytest.raises(Missing) as raised:
        _ = build(panel, "components: {tank: {kind: fresh-tank, mass: 4 kg, fixed_to: rack}}").roof_load
    assert raised.value.fields == ("panel.mass", "rack.mass", "tank.volume")


BAR = "bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, load_limit: 80 kg, carried: 25 kg}"


@pytest.mark.parametrize(
    ("things", "load"),
    [
        (BAR, 25),
        (f"{BAR}, bikes: {{kind: bike-carrier, mass: 18 kg, mounting: tow-bar, carried: 40 kg}}", 83),
        (f"{BAR}, bikes: {{kind: bike-carrier, mass: 18 kg, mounting: tow-bar}}", 43),
        (f"{BAR}, bikes: {{kind: bike-carrier, mass: 18 kg, mounting: rear door, carried: 40 kg}}", 25),
        (f"{BAR}, bikes: {{kind: bike-carrier, mass: 18 kg, carried: 40 kg}}", 25),
        (BAR.replace(", carried: 25 kg", ""), 0),
    ],
)
def test_load_on_the_tow_ball(things: str, load: float) -> None:
    """Of the bar itself and of the carriers on it."""
    assert build(f"components: {{{things}}}").tow_ball_load == pytest.approx(load)


def test_without_a_tow_bar_there_is_no_load_on_it() -> None:
    """It is no load of nothing, either: there is none to speak of."""
    with pytest.raises(Missing) as raised:
        _ = build("components: {bikes: {kind: bike-carrier, mass: 18 kg, mounting: tow-bar}}").tow_ball_load
    assert (raised.value.fields, raised.value.reason) == ((), "there is no tow bar")


def test_labels_about_loads() -> None:
    """Notices about masses and about an alteration, and no others."""
    notices = (
        "components: {a: {kind: notice, purpose: vehicle masses}, b: {kind: notice, purpose: alteration}, "
        "c: {kind: notice, purpose: tyres}, d: {kind: notice}}"
    )
    assert build(notices).load_labels == ("a", "b")


@pytest.mark.parametrize(
    ("over", "fields", "reason"),
    [
        ("vehicle: {tyres: ~}", ("vehicle.tyres.size",), None),
        ("vehicle: {tyres: {front: 4 bar}}", ("vehicle.tyres.size",), None),
        ("vehicle: {tyres: {size: 225/75 R16 C}}", (), "no load index at the end of 225/75 R16 C"),
    ],
)
def test_tyres_of_unknown_load(over: str, fields: tuple[str, ...], reason: str | None) -> None:
    """Of neither axle is anything told."""
    for axle in ("front_tyres_carry", "rear_tyres_carry"):
        with pytest.raises(Missing) as raised:
            getattr(build(over), axle)
        assert raised.value.fields == fields
        assert reason is None or raised.value.reason == reason


@pytest.mark.parametrize(
    ("size", "paired", "front", "rear", "assumed"),
    [
        ("225/75 R16 C 121/120R", "~", 2900, 2900, True),
        ("225/75 R16 C 121/120R", "false", 2900, 2900, False),
        ("225/75 R16 C 121/120R", "true", 2900, 5600, False),
        ("225/75 R16 CP 116R", "~", 2500, 2500, True),
        ("225/75 R16 CP 116R", "true", 2500, None, False),
    ],
)
def test_what_tyres_carry(size: str, paired: str, front: float, rear: float | None, assumed: bool) -> None:
    """Load index 121 is 1450 kg, 120 is 1400 kg, 116 is 1250 kg: two in front, two or four behind."""
    van = van_facts(f"vehicle: {{tyres: {{size: {size}, paired_rear: {paired}}}}}")
    assert van.whole.front_tyres_carry == front
    if rear is None:
        with pytest.raises(Missing) as raised:
            _ = van.whole.rear_tyres_carry
        assert raised.value.reason == "the load index for paired tyres is not in the designation"
        return
    with van.recording() as frame:
        assert van.whole.rear_tyres_carry == rear
    assert any("rear wheels are paired" in sentence for sentence in frame.assumptions) is assumed


def test_a_guessed_place_is_off_on_both_axles() -> None:
    """40 kg in a zone 2 m long: ± 1 m on 4 m is 10 kg in front and behind; its middle at 4 m puts its own 0.4 kg behind.

    Of the ticket's 10 kg 6 kg are in front and 4 kg behind.
    """
    there = build("components: {box: {kind: cabinet, mass: 40 kg, mass_status: weighed, zone: rear-left}}")
    assert (there.laden_mass_doubt, there.front_axle_doubt, there.rear_axle_doubt) == pytest.approx(
        (10 + 0.4, 6 + 0 + 10, 4 + 0.4 + 10)
    )


def test_a_pipe_of_no_length_that_may_have_one_is_an_entry() -> None:
    """Between two things in one zone: nothing as drawn, and yet as much as from one end of the zone to the other."""
    pipe = (
        "components: {tank: {kind: fresh-tank, mass: 5 kg, zone: rear-left}, pump: {kind: pump, mass: 2 kg, zone: rear-left}}",
        "runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet}}",
    )
    (hose,) = (e for e in fitted(van_facts(*pipe)) if e.subject == "hose")
    # half of 2 m, 0.8 m and 1 m at each end: 2 × 1.9 m, × the routing factor, × 0.2 kg/m
    factor = van_facts(*pipe).build.header.defaults.routing_factor
    assert (hose.mass, hose.mass_doubt) == pytest.approx((0.0, 2 * 1.9 * factor * 0.2))


def test_without_a_case_the_van_is_as_converted() -> None:
    """The empty vehicle of its jurisdiction."""
    assert van_facts(BOX).whole.laden_mass == pytest.approx(MASS)
