"""What to do now, line by line: what is said, in which order, with what this van has."""

from __future__ import annotations

import re
from functools import cache

import pytest
from published import REGISTER, section, signal, steps, van, van_of

from specreg import workshop
from specreg.pages.content import Caution, Page, Section, Table, Words
from specreg.pages.emergency import RULES, emergency_page

WAYS_OUT = """
  side-door: {kind: exit, title: Side door, form: sliding door, where: side, opens_with: inner handle}
"""

GAS = f"""
components:
{WAYS_OUT}
  locker: {{kind: gas-locker, title: Gas locker, opens_to: outside}}
  cylinder: {{kind: gas-cylinder, title: Blue cylinder, locker: locker}}
  spare: {{kind: gas-cylinder, title: Spare cylinder, locker: locker, spare: true}}
  roof-fan: {{kind: roof-fan, title: Roof fan}}
  isolator: {{kind: disconnect, title: Battery disconnect, reachable: behind the flap}}
  co: {{kind: co-alarm, title: The alarm, at: [2000 mm, 500 mm, 1500 mm]}}
"""

LITHIUM = f"""
vehicle: {{zones: {{there: {{title: Below the bed, at: [1 m, 0 m, 0 m], size: [1 m, 1 m, 1 m]}}}}}}
components:
{WAYS_OUT}
  cells: {{kind: battery, title: House battery, chemistry: lithium iron phosphate, capacity: 100 Ah, zone: there}}
"""

ELECTRIC = """
components:
  cell: {kind: battery, title: House battery, nominal_voltage: 12.8 V, chemistry: agm}
  box: {kind: fuse-box, title: Fuse box, ways: {"1": {fuse: 10 A, family: blade, label: Pump}, "2": {fuse: 5 A, family: blade, label: Light}}}
  panel: {kind: switch-panel, title: Galley panel, ways: {"1": {label: Water}}}
  pump: {kind: pump, title: Water pump, power: 60 W}
  tank: {kind: fresh-tank, title: Fresh tank}
  lamp: {kind: ceiling-light, title: Ceiling light, power: 10 W}
runs:
  main: {medium: dc, from: cell/positive, to: box/feed, return: back, protection: [{fuse: 60 A, family: mega, holder: on the battery}]}
  back: {medium: dc, from: cell/negative, to: box/feed}
  pump-feed: {medium: dc, from: box/1, to: panel/1, return: same cable}
  pump-load: {medium: dc, from: panel/1, to: pump, return: same cable}
  light: {medium: dc, from: box/2, to: lamp, return: same cable}
  suction: {medium: water, from: tank/outlet, to: pump}
"""

MAINS = """
vehicle: {zones: {there: {title: Left flank, at: [1 m, 0 m, 0 m], size: [1 m, 1 m, 1 m]}}}
components:
  inlet: {kind: shore-inlet, title: Shore inlet, zone: there}
  board: {kind: mains-board, title: Mains board, residual: {rated_current: 40 A, residual_current: 30 mA}, ways: {"1": {breaker: 10 A}}}
runs:
  lead: {medium: ac, from: inlet, to: board}
"""


def page(spec: str) -> Page:
    """The emergency page of a small spec."""
    return emergency_page(van(spec))


def anchors(found: Page) -> list[str]:
    """The sections of the page, by anchor."""
    return [block.anchor for block in found.blocks if section(found, getattr(block, "anchor", "")) is block]


class TestGas:
    """A smell of gas."""

    lines = staticmethod(lambda spec=GAS: steps(section(page(spec), "gas")))

    def test_first_no_switch_is_touched_the_fan_and_the_disconnect_included(self) -> None:
        first = self.lines()[0]
        assert first.startswith("Touch no switch. Turn nothing on and nothing off")
        assert "no fan, no battery disconnect, no telephone" in first
        assert "Roof fan" in first
        assert "Battery disconnect – behind the flap" in first

    def test_the_order_is_no_switch_out_cylinder_air_call(self) -> None:
        words = (
            "Touch no switch",
            "Everybody out",
            "From outside, shut",
            "Let air in by hand",
            "Go well away",
            "Nobody",
        )
        assert [line[: len(word)] for line, word in zip(self.lines(), words, strict=True)] == list(words)

    def test_out_names_the_ways_out_and_how_they_open(self) -> None:
        assert "Side door" in self.lines()[1]
        assert "(inner handle)" in self.lines()[1]

    def test_the_cylinder_is_named_with_its_place_and_the_spare_is_not(self) -> None:
        assert "Blue cylinder – in Gas locker" in self.lines()[2]
        assert "Spare" not in "".join(self.lines())

    @pytest.mark.parametrize(
        "change", [("opens_to: outside", "opens_to: inside"), (", locker: locker}\n  spare", "}\n  spare")]
    )
    def test_a_cylinder_that_is_not_reached_from_outside_is_left(self, change: tuple[str, str]) -> None:
        line = self.lines(GAS.replace(*change))[2]
        assert line.startswith("Leave Blue cylinder")
        assert "Do not go in to it" in line

    def test_air_comes_by_hand_and_no_step_asks_for_a_switch(self) -> None:
        lines = self.lines()
        assert "Use no fan" in lines[3]
        assert not any(re.search(r"\b(switch|turn) (on|off)\b", line, re.IGNORECASE) for line in lines[1:])

    def test_it_is_a_danger(self) -> None:
        assert signal(section(page(GAS), "gas")) == "DANGER"

    def test_without_gas_there_is_no_word_of_it(self) -> None:
        assert section(page(ELECTRIC), "gas") is None


class TestCarbonMonoxide:
    """The alarm sounds."""

    def test_out_comes_first_and_nobody_looks_for_the_cause(self) -> None:
        lines = steps(section(page(GAS), "co"))
        assert lines[0].startswith("Everybody out first, at once")
        assert lines[1].startswith("Never look for the cause")
        assert not any(re.search(r"\b(look for|find|check|inspect|search)\b", line) for line in lines[2:4])

    def test_a_burner_without_an_alarm_has_the_section_too_and_says_so(self) -> None:
        found = section(page("components: {stove: {kind: hob, title: The hob}}"), "co")
        assert found is not None
        assert "No carbon monoxide alarm is written" in str(found.blocks[-1])

    def test_nothing_that_burns_and_no_alarm_has_none(self) -> None:
        assert section(page(ELECTRIC), "co") is None


class TestLithium:
    """Smoke from a lithium battery."""

    def test_out_and_away_then_the_box_stays_shut(self) -> None:
        lines = steps(section(page(LITHIUM), "lithium"))
        assert lines[0].startswith("Everybody out and away")
        assert lines[1].startswith("Its box stays shut: House battery")
        assert "Below the bed" in lines[1]
        assert "Do not open it" in lines[1]

    def test_nothing_asks_to_put_it_out_or_to_cut_it_off(self) -> None:
        text = " ".join(steps(section(page(LITHIUM), "lithium")))
        assert not re.search(r"extinguish|blanket|turn off|switch off|disconnect", text, re.IGNORECASE)

    def test_it_tells_the_fire_service_what_it_is(self) -> None:
        assert "lithium iron phosphate, 100 Ah" in steps(section(page(LITHIUM), "lithium"))[2]

    def test_another_chemistry_has_none(self) -> None:
        assert section(page(ELECTRIC), "lithium") is None


class TestFuse:
    """A fuse has blown."""

    def test_once_by_the_same_rating_never_larger(self) -> None:
        lines = steps(section(page(ELECTRIC), "fuse"))
        assert "Replace it once, by the same rating and family" in lines[1]
        assert "Never larger" in lines[1]
        assert lines[2].startswith("If it blows again: stop")

    def test_each_fuse_says_what_to_replace_it_with_and_a_bolted_one_is_not_the_owners(self) -> None:
        rows = [text for table in tables_of(page(ELECTRIC)) for text in rows_of(table)]
        pump = next(row for row in rows if "Pump" in row)
        assert "10 A blade fuse" in pump
        assert "you, once" in pump
        main = next(row for row in rows if "60 A" in row)
        assert "the workshop" in main
        assert "you, once" not in main


class TestMains:
    """Shock, and a residual-current device that trips."""

    def test_the_owner_never_opens_mains(self) -> None:
        for anchor in ("shock", "residual"):
            assert "Never open" in steps(section(page(MAINS), anchor))[-1]

    def test_a_device_that_trips_again_means_stop_and_call(self) -> None:
        lines = steps(section(page(MAINS), "residual"))
        assert lines[0].startswith("Unplug everything")
        assert lines[1].startswith("Switch it on once: Mains board")
        assert lines[2].startswith("If it trips again")
        assert "stop" in lines[2]
        assert "call a licensed electrician" in lines[2]

    def test_the_person_is_not_touched_and_the_plug_is_pulled_at_the_site(self) -> None:
        lines = steps(section(page(MAINS), "shock"))
        assert lines[0].startswith("Do not touch the person")
        assert "at the site’s end" in lines[1]
        assert "Shore inlet – Left flank" in lines[1]

    def test_without_mains_there_is_no_word_of_it(self) -> None:
        assert section(page(ELECTRIC), "shock") is None
        assert section(page(ELECTRIC), "residual") is None


class TestWater:
    """Water runs where it should not."""

    def test_the_pump_is_stopped_by_its_nearest_switch_then_by_its_fuse(self) -> None:
        lines = steps(section(page(ELECTRIC), "water"))
        assert lines[0].startswith("Stop Water pump: switch off Galley panel, 1")
        assert "Fuse box, 1" in lines[1]
        assert "10 A blade fuse" in lines[1]

    def test_the_pump_on_another_way_changes_what_is_said(self) -> None:
        moved = ELECTRIC.replace("from: box/1, to: panel/1", "from: box/2, to: panel/1").replace(
            "from: box/2, to: lamp", "from: box/1, to: lamp"
        )
        lines = steps(section(page(moved), "water"))
        assert "Fuse box, 2" in lines[1]
        assert "5 A blade fuse" in lines[1]


@cache
def book(name: str) -> Page:
    """The emergency page of a van of the demonstration register."""
    (build,) = workshop.load(REGISTER / name).sound
    return emergency_page(van_of(build))


def order(lines: list[str], *beginnings: str) -> bool:
    """Tell whether the lines begin with these words, one with each, in this order."""
    return len(lines) == len(beginnings) and all(map(str.startswith, lines, beginnings))


class TestGasVan:
    """A whole van with gas, a lithium battery, mains and a fuel-burning heater."""

    lines = staticmethod(lambda anchor: steps(section(book("fieldwork"), anchor)))

    def test_gas_no_switch_out_cylinder_from_outside_air_call(self) -> None:
        touch, out, shut, air, call, after = self.lines("gas")
        assert touch.startswith("Touch no switch")
        for thing in (
            "Roof fan (-G6)",
            "Drying fan (-M2)",
            "Battery disconnect (-Q1)",
            "behind the flap in the bed front",
        ):
            assert thing in touch
        assert out.startswith("Everybody out, now")
        for door in ("Side door", "Rear doors", "Cab door left", "Cab door right"):
            assert door in out
        assert shut.startswith("From outside, shut the valve of Gas cylinder (-C10) – left side, rear")
        assert air.startswith("Let air in by hand")
        assert call.startswith("Go well away")
        assert "only there telephone: 999 or 112" in call
        assert after.startswith("Nobody goes in")

    def test_carbon_monoxide_out_first_and_no_search(self) -> None:
        beginnings = (
            "Everybody out first",
            "Never look for the cause",
            "Count the people",
            "Whoever",
            "Nobody goes back in",
        )
        assert order(self.lines("co"), *beginnings)

    def test_lithium_out_and_away_and_the_box_stays_shut(self) -> None:
        beginnings = (
            "Everybody out and away",
            "Its box stays shut: House battery (-G1)",
            "Telephone",
            "Whoever",
            "Nobody goes back in",
        )
        assert order(self.lines("lithium"), *beginnings)

    def test_a_smell_of_burning_sends_to_the_gas_before_any_switch(self) -> None:
        beginnings = (
            "If it could be gas: touch no switch",
            "Turn off Battery disconnect",
            "Everybody out",
            "Leave it off",
        )
        assert order(self.lines("burning"), *beginnings)

    def test_mains_is_never_opened_and_a_second_trip_means_stop(self) -> None:
        assert order(
            self.lines("residual"),
            "Unplug",
            "Switch it on once: Inlet board (-F20)",
            "If it trips again",
            "Never open",
        )
        assert "stop. Leave it off" in self.lines("residual")[2]
        assert self.lines("shock")[-1].startswith("Never open")

    def test_the_fuses_that_a_hand_may_replace_are_low_and_pulled_by_hand(self) -> None:
        assert order(
            self.lines("fuse"), "Switch off", "Replace it once, by the same rating", "If it blows again: stop"
        )
        rows = [row for table in tables_of(book("fieldwork")) for row in rows_of(table)]
        own = [row for row in rows if row.endswith("you, once")]
        assert len(own) == 17
        assert all("A blade fuse" in row for row in own)
        assert [row for row in rows if "class t" in row or "mega" in row]


class TestGaslessVan:
    """A whole van without gas, with two lithium batteries and a diesel heater."""

    def test_there_is_no_word_of_gas_that_one_could_smell(self) -> None:
        text = repr(book("winter-tourer")).lower()
        assert section(book("winter-tourer"), "gas") is None
        assert section(book("winter-tourer"), "burning") is not None
        assert not re.search(r"you smell gas|could be gas|cylinder", text)

    def test_carbon_monoxide_is_there_for_the_heater(self) -> None:
        lines = steps(section(book("winter-tourer"), "co"))
        assert order(lines[:2], "Everybody out first", "Never look for the cause")

    def test_both_batteries_stay_shut(self) -> None:
        assert "House battery A (-G1)" in steps(section(book("winter-tourer"), "lithium"))[1]
        assert "House battery B (-G2)" in steps(section(book("winter-tourer"), "lithium"))[1]


@pytest.mark.parametrize(
    ("name", "told"), [("fieldwork", "Gas cylinder"), ("pocket", None), ("winter-tourer", None)]
)
def test_what_holds_gas_is_among_the_places_and_without_gas_there_is_no_row(
    name: str, told: str | None
) -> None:
    """Who comes to help finds cylinder or cartridges; where gas is declared as none nobody looks for it."""
    found = section(book(name), "places")
    assert found is not None and isinstance(found.blocks[0], Table)
    rows = [row for row in rows_of(found.blocks[0]) if row.startswith("Gas:")]
    assert len(rows) == (told is not None)
    assert all(str(told) in row for row in rows)


@pytest.mark.parametrize(("name", "count"), [("fieldwork", 10), ("winter-tourer", 9), ("pocket", 7)])
def test_each_hazard_is_said_before_its_steps(name: str, count: int) -> None:
    """A safety message with a signal word opens every section of steps; an electric van has the fewest."""
    sections = [
        block for block in book(name).blocks if isinstance(block, Section) and block.anchor != "places"
    ]
    assert len(sections) == count
    assert all(isinstance(one.blocks[0], Caution) for one in sections)


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket"])
def test_no_step_leads_to_a_larger_fuse_or_into_mains(name: str) -> None:
    """Opening, bridging and enlarging are only ever spoken of as what must not be done."""
    found = [block for block in book(name).blocks if isinstance(block, Section) and block.anchor != "places"]
    lines = [line for one in found for line in steps(one)]
    wrong = re.compile(r"\b(?:larger|open (?:a socket|the board|an inverter)|wire or foil)\b", re.IGNORECASE)
    assert [
        line for line in lines if wrong.search(line) and not re.search(r"\bnever\b", line, re.IGNORECASE)
    ] == []


def tables_of(found: Page) -> list[Table]:
    """The tables of fuses of a page."""
    fuses = section(found, "fuse")
    assert fuses is not None
    return [block for block in fuses.blocks if isinstance(block, Table)]


def rows_of(table: Table) -> list[str]:
    """Each row of a table as plain text."""
    return [
        " | ".join("".join(p.text for p in c if isinstance(p, Words)) for c in row.cells)
        for row in table.rows
    ]


@pytest.mark.parametrize(
    ("code", "number"), [("uk", "999 or 112"), ("us", "911"), ("au", "000"), ("nz", "111"), ("eu", "112")]
)
def test_the_emergency_number_is_that_of_where_the_van_is_used(code: str, number: str) -> None:
    """The public numbers of these places, from memory."""
    assert number in "".join(p.text for p in page(f"jurisdictions: [{code}]").blocks[0].text)  # type: ignore[union-attr]


def test_exits_that_are_not_written_are_said_to_be_so() -> None:
    """No way out is made up."""
    assert "the exits of this van are not written" in steps(section(page("{}"), "fire"))[0]


@pytest.mark.parametrize("spec", [GAS, LITHIUM, ELECTRIC, MAINS, "{}"])
def test_no_text_says_if_fitted(spec: str) -> None:
    """The page is of this van: nothing is left to the reader to find out."""
    text = repr(page(spec)).lower()
    assert "if fitted" not in text
    assert "where fitted" not in text


def test_every_rule_is_reached_by_some_spec_here() -> None:
    """No rule of the page goes without a test of its section but the bed's and the starter's."""
    specs = [van(spec) for spec in (GAS, LITHIUM, ELECTRIC, MAINS)]
    reached = {rule.__name__ for rule in RULES if any(rule(one) for one in specs)}
    assert {rule.__name__ for rule in RULES} - reached == {"stuck_bed"}


def test_a_lift_bed_says_its_way_by_hand_or_that_none_is_written() -> None:
    """People go first; an unknown way by hand is not made up."""
    lift = "components: {lift: {kind: bed-lift, title: Bed lift%s}}"
    known = steps(section(page(lift % ", hand_way: crank in the wardrobe"), "bed"))
    assert known[0].startswith("Everybody out from on it")
    assert any("by hand: crank in the wardrobe" in line for line in known)
    assert any("is not written: do not force it" in line for line in steps(section(page(lift % ""), "bed")))
