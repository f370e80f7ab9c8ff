"""Carbon dioxide of a night and how the van cools, worked by hand from the streams and the sleepers."""

from functools import cache
from math import exp

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.shell_areas import Span
from specreg.facts.sleepers import carbon_dioxide_of_all, warmth_of_all
from specreg.facts.sleeping_air import Cooling, Hour, concentration, inner_heat

OUTDOORS = 420e-6
VOLUME = 12.0
HOUR = 3600.0
ROOM = """
vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}, shell: {leakage: LEAKAGE m³/h}}
use: {people: {adults: 2, children: 1}, night: NIGHT}
components:
  high: {kind: vent, surface: roof, closable: false, free_area: 20 cm²}
  low: {kind: vent, surface: floor, closable: false, free_area: 10 cm²}
  hatch: {kind: roof-hatch, night_area: 60 cm², area: 0.2 m², heat_transfer: 3 W/(m²·K)}
"""
FOAM = "kind: insulation-layer, surface: roof, material: foam, conductivity: 0.04 W/(m·K), thickness: 40 mm"
COLD = "inside_temperature: 20 °C, places: [{latitude: 46 deg, months: [1], night_temperature: 0 °C}]"


@cache
def room(night: str = "6 h", leakage: str = "2") -> Facts:
    """A room of 12 m³ with two small vents, in which two adults and a child sleep."""
    return Facts(build(ROOM.replace("NIGHT", night).replace("LEAKAGE", leakage)))


def by_hand(made: float, flow: float, volume: float, time: float) -> float:
    """Ce + G/Q·(1 − e^(−Q·t/V)), beginning at the air outdoors."""
    return OUTDOORS + made / flow * (1 - exp(-flow * time / volume))


def test_mornings_by_hand() -> None:
    """At most: the greatest breath, a calm night, 70 % of the room is air; at least: a breeze and an empty room."""
    whole, made = room().whole, carbon_dioxide_of_all(room())
    calm, breeze, aired = whole.least_night_air, whole.greatest_night_air, whole.least_aired_night
    assert calm < aired < breeze
    assert made.least < made.greatest
    night = 6 * HOUR
    assert whole.greatest_morning_co2 == pytest.approx(by_hand(made.greatest, calm, 0.7 * VOLUME, night))
    assert whole.aired_morning_co2 == pytest.approx(by_hand(made.greatest, aired, 0.7 * VOLUME, night))
    assert whole.least_morning_co2 == pytest.approx(by_hand(made.least, breeze, VOLUME, night))


def test_what_a_long_sleep_tends_to() -> None:
    """Ce + G/Q: least breath in a breeze, greatest breath on a calm night."""
    whole, made = room().whole, carbon_dioxide_of_all(room())
    assert whole.least_steady_co2 == pytest.approx(OUTDOORS + made.least / whole.greatest_night_air)
    assert whole.greatest_steady_co2 == pytest.approx(OUTDOORS + made.greatest / whole.least_night_air)


def test_without_any_air_there_is_no_steady_value() -> None:
    """It rises for ever: neither figure arises."""
    whole = Facts(
        build(
            "vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}, shell: {leakage: 0 m³/h}}\n"
            "use: {people: {adults: 2}}\ncomponents: {lamp: {kind: strip-light}}"
        )
    ).whole
    assert whole.greatest_night_air == 0
    for fact in ("least_steady_co2", "greatest_steady_co2"):
        with pytest.raises(Missing) as raised:
            getattr(whole, fact)
        assert raised.value.reason == "it does not arise here"


def test_air_for_all_that_sleep() -> None:
    """7.5 L/s for each of three."""
    assert room().whole.air_for_sleepers == pytest.approx(0.0225)


@pytest.mark.parametrize(("start", "time"), [(420e-6, 0.0), (420e-6, 1e4), (5e-3, 1e4), (420e-6, 1e9)])
def test_a_well_mixed_room(start: float, time: float) -> None:
    """C(t) = Ce + G/Q + (C₀ − Ce − G/Q)·e^(−Q·t/V), the textbook's solution of the mass balance."""
    made, flow, volume = 1.1e-5, 2e-3, 9.0
    steady = OUTDOORS + made / flow
    expected = steady + (start - steady) * exp(-flow * time / volume)
    assert concentration(made, flow, volume, start, time) == pytest.approx(expected)


def test_a_closed_room_only_fills() -> None:
    """Without a stream it is C₀ + G·t/V."""
    assert concentration(1.1e-5, 0.0, 9.0, 7e-4, 3600.0) == pytest.approx(7e-4 + 1.1e-5 * 3600 / 9)


def test_the_course_of_a_night_by_hand() -> None:
    """Each hour of six from bedtime on; without insulation listed nothing is said of temperatures."""
    whole, made = room().whole, carbon_dioxide_of_all(room())
    calm, breeze, aired = whole.least_night_air, whole.greatest_night_air, whole.least_aired_night
    course: tuple[Hour, ...] = whole.night_course
    assert [one.hour for one in course] == [0, 1, 2, 3, 4, 5, 6]
    for one in course:
        time = one.hour * HOUR
        assert one.co2_least == pytest.approx(by_hand(made.least, breeze, VOLUME, time))
        assert one.co2_greatest == pytest.approx(by_hand(made.greatest, calm, 0.7 * VOLUME, time))
        assert one.co2_aired == pytest.approx(by_hand(made.greatest, aired, 0.7 * VOLUME, time))
        assert one.temperature_least is None
        assert one.temperature_greatest is None


COOLING = Cooling(Span(40, 60), Span(3e5, 6e5), 293.15, 273.15, 120)


def test_how_a_van_cools_by_hand() -> None:
    """Coldest: most loss, least heat held, nobody's warmth. Warmest: the opposite, towards 3 K above outside."""
    time = 2 * HOUR
    coldest, warmest = COOLING.at(time)
    assert coldest == pytest.approx(273.15 + 20 * exp(-time * 60 / 3e5))
    assert warmest == pytest.approx(276.15 + 17 * exp(-time * 40 / 6e5))
    assert COOLING.at(0) == pytest.approx((293.15, 293.15))
    assert COOLING.at(1e9) == pytest.approx((273.15, 276.15))


def test_the_night_of_an_insulated_van_by_hand() -> None:
    """20 °C at bedtime, 0 outside: the loss per kelvin is the heat loss over the difference of 20 K."""
    text = ROOM.replace("NIGHT", f"6 h, {COLD}").replace("LEAKAGE", "2")
    facts = Facts(build(text + f"  foam: {{{FOAM}}}\n  wardrobe: {{kind: wardrobe, mass: 500 kg}}\n"))
    whole, heat, warmth = facts.whole, inner_heat(facts), warmth_of_all(facts)
    least, greatest = whole.least_heat_loss / 20, whole.greatest_heat_loss / 20
    one = whole.night_course[1]
    assert one.temperature_least == pytest.approx(273.15 + 20 * exp(-HOUR * greatest / heat.least))
    end = 273.15 + warmth / least
    expected = end + (293.15 - end) * exp(-HOUR * least / heat.greatest)
    assert one.temperature_greatest == pytest.approx(expected)
    assert 275 < one.temperature_least < one.temperature_greatest < 290, "so that neither end hides an error"


@pytest.mark.parametrize(
    "more",
    ["", f"  foam: {{{FOAM}}}\n"],
    ids=["nothing insulated", "as warm outside as inside"],
)
def test_where_no_loss_is_known_no_temperature_is_told(more: str) -> None:
    """A cold night of which the shell is not known, and a shell without a difference: carbon dioxide is told all the same."""
    night = COLD.replace("night_temperature: 0 °C", "night_temperature: 20 °C") if more else COLD
    course = Facts(
        build(ROOM.replace("NIGHT", f"2 h, {night}").replace("LEAKAGE", "2") + more)
    ).whole.night_course
    assert [(one.temperature_least, one.temperature_greatest) for one in course] == [(None, None)] * 3
    assert course[2].co2_greatest > course[1].co2_greatest > OUTDOORS


def test_heat_that_air_and_furniture_hold() -> None:
    """12 m³ of 1188 J/(m³·K), and half to all of 60 kg of 1600 J/(kg·K); of what has no mass, nothing."""
    facts = Facts(
        build(
            """
            vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}}
            components:
              cabinet: {kind: cabinet, mass: 20 kg}
              lining: {kind: lining, mass: 10 kg}
              bed: {kind: bed, mass: 25 kg}
              mattress: {kind: mattress, mass: 5 kg}
              shelf: {kind: shelf}
              battery: {kind: battery, mass: 30 kg}
            """
        )
    )
    with facts.recording() as frame:
        held = inner_heat(facts)
    assert held.least == pytest.approx(VOLUME * 1188 + 30 * 1600)
    assert held.greatest == pytest.approx(VOLUME * 1188 + 60 * 1600)
    assert any("half to all of the mass" in sentence for sentence in frame.assumptions)
