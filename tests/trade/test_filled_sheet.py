"""A filled sheet read back: records, duplicates, and every slip with its line and column."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mains_van import SPEC, pack, recorded, report

from specreg import workshop
from specreg.output.trade_sheet import COLUMNS, sheets_csv
from specreg.trade.filled import Filled, read_filled
from specreg.trade.sheet import trade_sheets
from specreg.trade.table import read_table

GIVEN = {"by": "electrician", "date": "2026-04-28", "instrument": "tester 1", "calibrated_on": "2026-01-10"}
HEAD = "test,on,value,result,instrument,date\n"


def read(table: str | bytes, given: dict[str, str] = GIVEN, spec: str = SPEC) -> Filled:
    """A filled table of the small van."""
    data = table if isinstance(table, bytes) else table.encode()
    of = report(spec)
    return read_filled(data, "sheet.csv", of.facts, trade_sheets(of), given)


def problems(table: str, given: dict[str, str] = GIVEN) -> list[str]:
    """Every problem of a table in one line each."""
    return [problem.text() for problem in read(table, given).problems]


def test_a_line_becomes_a_record() -> None:
    """What was read, by whom, when, with what, and what it covers."""
    filled = read(HEAD + "insulation resistance,board/kettle,48 MΩ,within,tester 0417,2026-04-29\n")
    line = next(
        one
        for sheet in trade_sheets(report())
        for one in sheet.lines
        if (one.test, one.thing.id) == ("insulation-resistance", "board/kettle")
    )
    assert filled.problems == []
    assert filled.tests == [
        {
            **{"test": "insulation-resistance", "on": "board/kettle", "value": "48 MΩ"},
            **{"result": "within the limit", "instrument": "tester 0417", "calibrated_on": "2026-01-10"},
            **{"by": "electrician", "date": "2026-04-29", "covers": line.mark},
        }
    ]


def test_a_gas_test_states_its_pressure_and_its_time() -> None:
    """The same loss in a shorter time is a larger leak, so the record holds both."""
    head = "test,on,value,pressure,held,result\n"
    (said,) = [problem.text() for problem in read(head + "gas-tightness,gas,1 mbar,,,within\n").problems]
    assert said.startswith("sheet.csv:2:26:") and "the line lacks pressure, held; fill it in" in said
    (one,) = read(head + "gas-tightness,gas,1 mbar,150 mbar,5 min,within\n").tests
    assert (one["pressure"], one["held"]) == ("150 mbar", "5 min")


def test_lines_left_blank_are_no_records() -> None:
    """A sheet may come back half filled in."""
    filled = read(HEAD + "polarity,bed-socket,,,tester 1,2026-04-28\npolarity,galley-socket,,within,,\n")
    assert (filled.blank, [one["on"] for one in filled.tests]) == (1, ["galley-socket"])


@pytest.mark.parametrize(
    "table",
    [
        "test;on;value;result\nearth-continuity;bond;0,04 Ω;within\n",
        "\ufefftest,on,value,result\r\nearth-continuity,bond,0.04 Ω,within\r\n",
        'test\ton\tvalue\tresult\n"earth-continuity"\tbond\t0.04 Ω\twithin the limit',
        "Test,On,Value,Result\nEarth continuity,bond,0.04 Ω,Within\n",
    ],
    ids=["semicolons and comma", "mark and line ends", "tabs and quotes", "capitals"],
)
def test_tables_as_programs_write_them(table: str) -> None:
    """Separators, line ends, decimal signs and capitals of other programs change nothing."""
    (one,) = read(table).tests
    assert (one["test"], one["on"], one["value"]) == ("earth-continuity", "bond", "0.04 Ω")


@pytest.mark.parametrize(
    ("line", "place", "word"),
    [
        ("polarty,bed-socket,,within,,", "sheet.csv:2:1:", 'nearest is "polarity"'),
        ("polarity,bed-sockt,,within,,", "sheet.csv:2:10:", 'nearest is "bed-socket"'),
        ("insulation-resistance,mains,48,within,,", "sheet.csv:2:29:", "a number with its unit: "),
        ("insulation-resistance,mains,48 mbar,within,,", "sheet.csv:2:29:", "not a reading"),
        ("insulation-resistance,mains,0.9 MΩ,within,,", "sheet.csv:2:29:", "mains/insulation-measured"),
        ("residual-current-trip-time,board,301 ms,within,,", "sheet.csv:2:34:", "mains/trip-time-measured"),
        (
            "residual-current-trip-time,board,> 300 ms,within,,",
            "sheet.csv:2:34:",
            "does not show that the limit",
        ),
        (
            "residual-current-trip-time,board,> 301 ms,within,,",
            "sheet.csv:2:34:",
            "beyond the limit of mains",
        ),
        ("insulation-resistance,mains,< 2 MΩ,within,,", "sheet.csv:2:29:", "does not show that the limit"),
        ("polarity,bed-socket,correct,,,", "sheet.csv:2:29:", "what the tester concluded is missing"),
        ("polarity,bed-socket,,good,,", "sheet.csv:2:22:", "`within the limit` or `outside the limit`"),
        ("polarity,bed-socket,,within,,28.4.2026", "sheet.csv:2:30:", "year-month-day"),
        ("weighing,roof,12 kg,within,,", "sheet.csv:2:10:", "front_axle, rear_axle"),
        ("weighing,driver,perhaps,within,,", "sheet.csv:2:17:", "`yes` or `no`"),
    ],
)
def test_a_slip_is_told_with_its_place(line: str, place: str, word: str) -> None:
    """Where, what was read, what was expected."""
    (said,) = problems(HEAD + line + "\n")
    assert said.startswith(place) and word in said


def test_a_device_that_trips_before_the_instrument_can_tell_is_within_the_limit() -> None:
    """Less than 40 ms is less than 300 ms."""
    assert problems(HEAD + "residual-current-trip-time,board,< 40 ms,within,,\n") == []


@pytest.mark.parametrize("value", ["1 MΩ", ">200 MΩ", "1.0 MΩ"])
def test_a_reading_at_the_limit_is_within_it(value: str) -> None:
    """The limit itself keeps the rule."""
    assert problems(HEAD + f"insulation-resistance,mains,{value},within,,\n") == []


def test_a_reading_beyond_the_limit_may_be_recorded_as_such() -> None:
    """A bad reading is a record, too."""
    (one,) = read(HEAD + "insulation-resistance,mains,0.9 MΩ,outside,,\n").tests
    assert one["result"] == "outside the limit"


def test_all_problems_come_at_once() -> None:
    """Two slips, and two lines that lack everything about their person."""
    places = ["sheet.csv:2:1:", "sheet.csv:3:1:", "sheet.csv:3:10:", "sheet.csv:4:1:"]
    said = problems(
        HEAD + "polarty,bed-socket,,within,,\npolarity,nowhere,,within,,\nbody-voltage,mains,0 V,within,,\n",
        {},
    )
    assert [one.split(" ")[0] for one in said] == places
    assert "the line lacks by, date, instrument, calibrated_on" in said[-1]


def test_the_same_line_twice_is_a_problem() -> None:
    """Two readings of one thing on one day: somebody decides which."""
    (said,) = problems(HEAD + "polarity,bed-socket,,within,,\npolarity,bed-socket,,outside,,\n")
    assert said.startswith("sheet.csv:3:1:") and "stands on line 2" in said


def test_a_line_of_another_van_is_refused() -> None:
    """A sheet is not taken into the wrong van."""
    (said,) = problems("build," + HEAD + "heron,polarity,bed-socket,,within,,\n")
    assert said.startswith("sheet.csv:2:1:") and "another van" in said


def test_what_is_recorded_already_is_recognised() -> None:
    """The same sheet twice adds nothing."""
    line = "polarity,bed-socket,correct,within,,\n"
    (record,) = read(HEAD + line).tests
    words = ", ".join(
        f'{key}: "{value}"' if key == "covers" else f"{key}: {value}" for key, value in record.items()
    )
    again = read(HEAD + line, spec=recorded("{" + words + "}"))
    assert (again.tests, again.known) == ([], ["polarity on bed-socket"])


def test_a_thing_that_changed_since_the_sheet_was_printed_is_told() -> None:
    """The record covers what stood on the sheet, so the next sheet asks again."""
    filled = read("test,on,value,result,covers\npolarity,bed-socket,,within,00000000\n")
    assert filled.changed == ["polarity on bed-socket"]
    assert filled.tests[0]["covers"] == "00000000"


SIGNED = "test,matter,on,value,result,name,date\n"


def test_a_signed_matter_becomes_a_sign_off() -> None:
    """With the number of its certificate and the mark of what stood on the sheet."""
    (one,) = read(SIGNED + "sign-off,mains/electrician-signs,,ER-1,Accepted,E. Sample,\n").sign_offs
    assert one.pop("covers")
    assert one == {
        **{"matter": "mains/electrician-signs", "result": "accepted", "by": "electrician"},
        **{"name": "E. Sample", "reference": "ER-1", "date": "2026-04-28"},
    }


@pytest.mark.parametrize(
    ("line", "place", "word"),
    [
        (
            "sign-off,mains/electrician-sign,,,accepted,E,",
            "sheet.csv:2:10:",
            'nearest is "mains/electrician-signs"',
        ),
        ("sign-off,mains/electrician-signs,,,within,E,", "sheet.csv:2:36:", "`accepted` or `refused`"),
        ("sign-off,mains/electrician-signs,,,accepted,,", "sheet.csv:2:45:", "the line lacks name"),
    ],
)
def test_a_slip_in_a_signature_is_told(line: str, place: str, word: str) -> None:
    """Which matter, what was concluded, who."""
    (said,) = [problem.text() for problem in read(SIGNED + line + "\n").problems]
    assert said.startswith(place) and word in said


def test_a_ticket_of_the_weighbridge_comes_back_as_one_record() -> None:
    """Its readings are lines of the sheet and fields of one ticket."""
    filled = read(
        HEAD
        + "weighing,front-axle,1300 kg,,T-9,\nweighing,rear axle,1140 kg,,T-9,\nweighing,driver,no,,T-9,\n"
        + "weighing,gas,50 %,,T-9,\nweighing,heater-fuel,100 %,,T-9,\n"
    )
    assert filled.problems == []
    assert filled.weighings == [
        {
            **{"stage": "final", "date": "2026-04-28", "front_axle": "1300 kg", "ticket": "T-9"},
            **{"rear_axle": "1140 kg", "driver": "false", "gas": "50 %", "heater_fuel": "100 %"},
        }
    ]


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "the table is empty"),
        (b"\n\n", "the table is empty"),
        (b"test,value\n", "the table lacks columns"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"x" * 2_000_001, "too large"),
    ],
    ids=["nothing", "blank", "columns", "bytes", "size"],
)
def test_what_is_no_table_is_told(data: bytes, word: str) -> None:
    """One problem, no traceback."""
    (problem,) = read(data).problems
    assert word in problem.text()


def test_no_cell_of_a_sheet_starts_a_formula() -> None:
    """Names and designations that begin like a formula are kept from a spreadsheet, and read back as they were."""
    text = SPEC.replace("bed-socket: {", 'bed-socket: {title: "=1+1", ')
    table = sheets_csv(trade_sheets(report(text)))
    rows = list(csv.reader(io.StringIO(table)))
    cells = [cell for row in rows for cell in row]
    assert "'=1+1" in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
    read_back, _ = read_table(table.encode(), "sheet.csv", ("test",))
    assert "=1+1" in {row["thing"] for row in read_back}


def test_a_designation_stands_for_its_thing() -> None:
    """A person writes what the label in the van says; the apostrophe of a spreadsheet is no part of it."""
    of = workshop.inspect(replace(report().build, designations={"bed-socket": "-X10"}), pack())
    for word in ("-X10", "'-X10"):
        data = f"test,on,mark,value,result\npolarity,,{word},,within\n".encode()
        filled = read_filled(data, "sheet.csv", of.facts, trade_sheets(of), GIVEN)
        assert [one["on"] for one in filled.tests] == ["bed-socket"]


WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=12).map(str.strip)


@given(st.lists(st.lists(WORDS, min_size=3, max_size=3), max_size=4))
def test_the_table_reader_agrees_with_the_standard_library(rows: list[list[str]]) -> None:
    """Any quoted table is read as Python's `csv` reads it; its guard against formulas is taken off."""
    out = io.StringIO()
    csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\n").writerows([["a", "b", "c"], *rows])
    kept = [row for row in rows if any(row)]
    found, wrong = read_table(out.getvalue().encode(), "t", ("a",))
    assert wrong == []
    plain = [
        [cell.removeprefix("'") if cell[1:2] in tuple("=+-@") and cell[:1] == "'" else cell for cell in row]
        for row in kept
    ]
    assert [[row[name] for name in "abc"] for row in found] == plain


@given(st.binary(max_size=60))
def test_any_bytes_are_read_without_a_failure(data: bytes) -> None:
    """What a phone sends is never a traceback."""
    read(HEAD.encode() + data)


def test_the_columns_to_fill_stand_in_the_table() -> None:
    """The reader asks for columns that the sheet has."""
    assert {"test", "on", "value", "result", *GIVEN, "covers", "method"} <= set(COLUMNS)
