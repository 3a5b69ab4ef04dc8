"""The path from cells to a function and back: blanks, ranges, units, errors, for every function."""

from __future__ import annotations

import re
from datetime import datetime

import pytest
from published_rows import agrees

import sheetfuncs
from sheetfuncs import CellError, evaluate
from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.call import ERROR_CODES, answer, find
from sheetfuncs.hosts.cells import READERS
from sheetfuncs.registry import Record
from sheetfuncs.terms import DIMENSIONS, TERMS

EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
EXAMPLES = [(record, example) for record in RECORDS for example in record.examples]


@pytest.mark.parametrize(("record", "example"), EXAMPLES, ids=lambda value: getattr(value, "name", ""))
def test_worked_examples(record: Record, example) -> None:
    """Each gives its printed digits; of a table with headings the first row is the one printed."""
    found = evaluate(record.name, *example.args)
    if record.table:
        row = found[record.table == "rows"]
        pairs = list(zip(row, example.gives))
        assert len(row) == len(example.gives)
    else:
        pairs = [(found, example.gives)]
    for value, printed in pairs:
        assert value == printed if isinstance(value, str) else agrees(value, printed), (found, example)


@EACH
def test_blank_in_blank_out(record: Record) -> None:
    cells = list(record.examples[0].args)
    for blank in (None, "", "  "):
        assert evaluate(record.name, blank, *cells[1:]) == ""


@EACH
def test_a_missing_argument_is_named(record: Record) -> None:
    with pytest.raises(CellError, match=f"^{record.params[0].name} is missing: ") as caught:
        evaluate(record.name)
    assert caught.value.code == "#N/A"


@EACH
def test_too_many_arguments_show_the_call(record: Record) -> None:
    with pytest.raises(CellError, match="takes") as caught:
        evaluate(record.name, *["1"] * 30)
    assert record.signature in str(caught.value)


@EACH
@pytest.mark.parametrize("junk", ["junk", True, datetime(2026, 3, 8), float("nan"), "12,5", object()])
def test_junk_gets_one_sentence_naming_the_argument(record: Record, junk: object) -> None:
    cells = list(record.examples[0].args)
    for index, param in enumerate(record.params):
        filled = cells + [None] * (index + 1 - len(cells))
        filled[index] = junk
        with pytest.raises(CellError) as caught:
            evaluate(record.name, *filled)
        sentence = str(caught.value)
        assert caught.value.code in ("#N/A", "#VALUE!", "#NUM!")
        assert param.name in sentence or "thread" in sentence
        assert "\n" not in sentence
        assert len(sentence) < 255


@EACH
@pytest.mark.parametrize("code", ERROR_CODES)
def test_an_error_cell_is_passed_on_never_read(record: Record, code: str) -> None:
    cells = list(record.examples[0].args)
    for cell in (code, f"{code} some sentence"):
        found = answer(record, (cell, *cells[1:]))
        assert isinstance(found, CellError)
        assert found.code == (code if code in ("#N/A", "#NUM!") else "#VALUE!")
        assert cell in str(found)


def test_a_column_is_answered_in_its_shape_and_one_bad_row_hides_no_other() -> None:
    column = [["M20-6g"], [None], ["nonsense"], ["3/4-16 UNF-2A"]]
    found = evaluate("THREAD_PITCH_DIAMETER", column, "max")
    assert [found[0], found[1], found[3]] == [[18.334], [""], [0.7079]]
    assert isinstance(found[2][0], CellError)
    assert evaluate("THREAD_PITCH", ["M20-6g", "M10-6g"]) == [2.5, 1.5]
    assert evaluate("THREAD_PITCH", (("M20-6g", "M10-6g"),)) == [[2.5, 1.5]]


def test_every_term_is_of_a_kind_that_is_known_and_every_argument_has_its_reader() -> None:
    assert {term.dimension for term in TERMS.values()} <= set(DIMENSIONS)
    assert {TERMS[param.name].dimension for record in RECORDS for param in record.params} <= READERS.keys()


ODD = (None, "", "  ", "junk", "#N/A", "#NUM! said before", 1, True, 0, -1, 1.5, "1.5 mm", "mm", "M20-6g", "min", "5 %")
WHOLE = ("numbers", "study", "lots")


@EACH
@pytest.mark.parametrize("unit", [None, "in", "mm"])
def test_a_row_of_a_column_is_answered_as_a_call_of_its_own(record: Record, unit: str | None) -> None:
    """Whichever argument changes, and whatever stands in its cells."""
    names = [param.name for param in record.params]
    if record.table or (unit and "unit" not in names):
        return
    given = [unit if name == "unit" else None for name in names]
    given[: len(record.examples[0].args)] = record.examples[0].args
    for place, name in enumerate(names):
        if TERMS[name].dimension not in WHOLE:
            cells = (given[place], *ODD)
            before, behind = given[:place], given[place + 1 :]
            found = answer(record, (*before, [[cell] for cell in cells], *behind))
            alone = [[answer(record, (*before, cell, *behind))] for cell in cells]
            assert list(map(said, found)) == list(map(said, alone))


def said(row: list) -> list:
    """A row with its error as code and sentence."""
    return [(cell.code, str(cell)) if isinstance(cell, CellError) else cell for cell in row]


def test_a_range_inside_a_range_is_refused() -> None:
    with pytest.raises(CellError, match="range inside a range"):
        evaluate("THREAD_PITCH", [[["M20-6g", "M10-6g"], "M8"], ["M6", "M5"]])


def test_true_in_a_column_is_not_taken_for_one() -> None:
    found = evaluate("THREAD_COMPOUND", [[1.0], [True], [1]], 0)
    assert [found[0], found[2]] == [[1.0], [1.0]]
    assert isinstance(found[1][0], CellError)


def test_ranges_side_by_side_go_row_by_row() -> None:
    readings = [["0.7621"], [0.7571]]
    found = evaluate("THREAD_PD_FROM_WIRES", "3/4-16 UNF-2A", 0.0361, readings)
    assert [round(row[0], 4) for row in found] == [0.7079, 0.7029]
    threads, limits = [["M20-6g"], ["M20-6g"]], [["max"], ["min"]]
    assert evaluate("THREAD_PITCH_DIAMETER", threads, limits) == [[18.334], [18.164]]
    with pytest.raises(CellError, match="different shapes"):
        evaluate("THREAD_PITCH_DIAMETER", threads, [["max"], ["min"], ["mid"]])


def test_a_single_cell_range_is_that_cell_and_a_table_takes_one_thread() -> None:
    assert evaluate("THREAD_LIMITS", [["M20-6g"]])[2][:3] == ["pitch", 18.334, 18.164]
    with pytest.raises(CellError, match="one thread at a time"):
        evaluate("THREAD_LIMITS", [["M20-6g"], ["M10-6g"]])


@pytest.mark.parametrize(
    "wire",
    ["0.0361 in", '0.0361"', "0.0361 INCH", "36.1 thou", "0.91694 mm", "0.091694 cm", "916.94 µm", "0.0361", 0.0361],
)
def test_lengths_in_the_units_of_the_shop(wire: str | float) -> None:
    assert evaluate("THREAD_WIRE_CONSTANT", "3/4-16 UNF-2A", wire) == pytest.approx(0.0541734, abs=1e-7)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("1⁄32 in", 0.79375),  # fraction slash
        ("1/32\u00a0in", 0.79375),
        ("⅛″", 3.175),
        ("1½ mm", 1.5),
        ("1\u00a01/2\u00a0mm", 1.5),
        ("0.9\u200b mm", 0.9),  # a blank of no width, as pages have them
        ("1/32 İN", 0.79375),  # the i of a Turkish keyboard
    ],
)
def test_lengths_with_the_signs_of_a_drawing(typed: str, mm: float) -> None:
    """Those that a callout may have."""
    assert evaluate("THREAD_TIME", "M20-6g", 45, 160, 16, 8, typed) == pytest.approx(16 * (45 + 8 + mm) / (2.5 * 160))


def test_false_is_no_tip() -> None:
    """FALSE is equal to 0; taken for a sharp tool it would cut too deep."""
    with pytest.raises(CellError, match="tip radius is FALSE; write sharp"):
        evaluate("THREAD_DEPTH", "3/4-16 UNF-2A", False, "mid", 0.744)


def test_one_sign_stands_before_a_number() -> None:
    for wire in ("--3/8", "+-3/8"):
        with pytest.raises(CellError, match="write a length such as"):
            evaluate("THREAD_WIRE_CONSTANT", "3/4-16 UNF", wire)


@pytest.mark.parametrize(
    ("name", "cells"),
    [
        ("THREAD_WIRE_CONSTANT", ("M20-6g", "1,5 mm")),
        ("THREAD_COMPOUND", (0.1, "29,5")),
        ("THREAD_DEPTH", ("M20-6g", "R0,2", "mid")),
        ("THREAD_TIME", ("M20-6g", 45, "160,5", 16)),
        ("THREAD_STOCK", (10, 2, "0,5", 0, 20, 0, 0)),
    ],
)
def test_a_decimal_comma_is_named(name: str, cells: tuple) -> None:
    with pytest.raises(CellError, match=r"with a point"):
        evaluate(name, *cells)


def test_bare_lengths_are_in_the_unit_asked_for() -> None:
    """The same wire, in inch and in millimetres, for an inch and for a metric thread."""
    in_mm = evaluate("THREAD_OVER_WIRES", "3/4-16 UNF-2A", 0.0361 * 25.4, "max", "mm")
    assert in_mm / 25.4 == pytest.approx(evaluate("THREAD_OVER_WIRES", "3/4-16 UNF-2A", 0.0361, "max"))
    in_inches = evaluate("THREAD_DEPTH", "M20x2.5-6g", "radius 0.01", "mid", 0.784, "in")
    assert in_inches * 25.4 == pytest.approx(
        evaluate("THREAD_DEPTH", "M20x2.5-6g", "radius 0.254 mm", "mid", "0.784 in")
    )


def test_a_unit_beyond_the_plain_spellings_goes_to_pint() -> None:
    assert evaluate("THREAD_WIRE_CONSTANT", "3/4-16 UNF-2A", "0.00091694 metre") == pytest.approx(0.0541734, abs=1e-7)
    for unit in ("kg", "mm^9^9^9^9"):  # the last is a power that pint would never have done with
        with pytest.raises(CellError, match=re.escape(f"'{unit}', which is no length")):
            evaluate("THREAD_WIRE_CONSTANT", "3/4-16 UNF-2A", f"3 {unit}")


@pytest.mark.parametrize(
    "bars", ["1-1/4 1-1/2", "1 1/4; 1 1/2", "1 1/4, 1 1/2", "1.25 1.5", [["1 1/4"], ["1 1/2"]], [[1.25, "1 1/2"]]]
)
def test_a_mixed_number_in_a_list_is_one_number(bars: object) -> None:
    """A round part of 1 1/8 in comes out of both, with the least cut away out of the smaller."""
    assert [row[1] for row in evaluate("THREAD_BAR", 1.125, "round", bars)[1:]] == [1.25, 1.5]


@pytest.mark.parametrize("bars", ["1 1/4 1 1/2", "1 7/8 2", [["1 1/4 2"]]])
def test_a_list_that_can_be_read_in_two_ways_is_refused(bars: object) -> None:
    with pytest.raises(CellError, match=r"write 1 1/4 as 1-1/4 or 1\.25, or semicolons between numbers"):
        evaluate("THREAD_BAR", 1.125, "round", bars)


def test_a_count_below_nothing_is_told_what_a_count_is() -> None:
    with pytest.raises(CellError, match=re.escape("passes is -1; it must be a whole number, 0 to 1000")):
        evaluate("THREAD_TIME", "M20-6g", 45, 160, -1)


def test_an_integer_of_thousands_of_digits_is_no_number() -> None:
    huge = 10**5000
    rows = [[part, who, 1.0] for part in (1, 2) for who in "AB"]
    calls = (
        ("THREAD_IDENTIFY", 1, 1, 0, huge),
        ("THREAD_GAUGE_STUDY", [[1, "A", huge], *rows]),
        ("THREAD_COMPOUND", huge, 0),
    )
    for name, *cells in calls:
        with pytest.raises(CellError, match=r"larger than any number in use|write a number"):
            evaluate(name, *cells)


def test_a_date_made_of_a_fraction_is_explained() -> None:
    with pytest.raises(CellError, match="makes a date of 10-32, put an apostrophe before it"):
        evaluate("THREAD_PITCH", 11963.0)  # October 1932
    with pytest.raises(CellError, match="a spreadsheet makes 3/4 or 10-32 one"):
        evaluate("THREAD_WIRE_CONSTANT", "3/4-16 UNF-2A", datetime(2026, 4, 3))


def test_an_unexpected_fault_of_ours_is_not_dressed_up_as_bad_input(monkeypatch: pytest.MonkeyPatch) -> None:
    record = find("THREAD_PITCH")
    broken = record._replace(function=lambda thread: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        answer(broken, ("M20-6g",))


def test_what_the_package_offers() -> None:
    assert sorted(sheetfuncs.__all__) == ["CellError", "__version__", "evaluate"]


def test_names_and_argument_order_are_the_contract() -> None:
    """The calls that people have in their sheets; an argument may be added at the end, never moved."""
    calls = {
        "THREAD_DESCRIBE": "thread",
        "THREAD_PITCH": "thread [unit]",
        "THREAD_LEAD": "thread [unit]",
        "THREAD_LEAD_ANGLE": "thread",
        "THREAD_MAJOR_DIAMETER": "thread limit [unit]",
        "THREAD_PITCH_DIAMETER": "thread limit [unit]",
        "THREAD_MINOR_DIAMETER": "thread limit [unit]",
        "THREAD_LIMITS": "thread [unit]",
        "THREAD_ALLOWANCE": "thread [unit]",
        "THREAD_TOLERANCE": "thread [unit]",
        "THREAD_BEST_WIRE": "thread [unit]",
        "THREAD_WIRE_RANGE": "thread [unit]",
        "THREAD_OVER_WIRES": "thread wire limit [unit] [method] [place]",
        "THREAD_PD_FROM_WIRES": "thread wire reading [unit] [method]",
        "THREAD_WIRE_CONSTANT": "thread wire [unit]",
        "THREAD_WIRE_CORRECTION": "thread wire [unit]",
        "THREAD_BLANK": "thread [unit]",
        "THREAD_DEPTH": "thread tip limit [blank] [unit]",
        "THREAD_TIP": "thread [unit]",
        "THREAD_COMPOUND": "radial angle",
        "THREAD_FEED_LEFT": "thread wire reading limit [angle] [unit]",
        "THREAD_DIAL": "thread leadscrew gear_teeth lines [lead_error]",
        "THREAD_GEARS": "thread leadscrew gears [results] [fixed_ratio] [spacing]",
        "THREAD_RPM": "thread surface_speed [relief] [reaction] [speeds]",
        "THREAD_TIME": "thread length rpm passes [approach] [overrun] [return_seconds] [power_return]",
        "THREAD_STOCK": "quantity part_length facing part_off bar_length stub scrap",
        "THREAD_BAR": "part_size part_shape [rounds] [hexagons]",
        "THREAD_PRICE": "quantities setup_minutes machine_minutes hand_minutes rate bar_price per_bar scrap overhead "
        "[margin] [markup] [tooling] [gauges] [outside] [learning] "
        "[rest] [check] [every] [gauged] [minimum]",
        "THREAD_INFEED": "thread tip passes [angle] [finish] [spring] [blank] [unit]",
        "THREAD_VERDICT": "value [low] [high] [uncertainty] [decision_rule]",
        "THREAD_CAPABILITY": "readings [low] [high]",
        "THREAD_AT_20C": "measured temperature material",
        "THREAD_GAUGE_STUDY": "study [tolerance_width]",
        "THREAD_UNCERTAINTY": "thread wire wire_uncertainty micrometer_error temperature_spread repeatability repeats "
        "[pitch_error] [half_angle_error] [material] [unit]",
        "THREAD_SAMPLE": "lot aql [level] [severity]",
        "THREAD_SWITCHING": "history [starts_with]",
    }
    found = {record.name: record.signature for record in RECORDS}
    for name, arguments in calls.items():
        assert found[name].startswith(f"{name}({', '.join(arguments.split())}"), found[name]


def test_no_function_is_listed_twice() -> None:
    names = [record.name for record in RECORDS]
    assert len(names) == len(set(names))


def test_every_term_is_used_and_fits_a_function_wizard() -> None:
    used = {name for record in RECORDS for name in (*record.columns, *(param.name for param in record.params))}
    assert used == set(TERMS)
    assert all(0 < len(term.help) <= 255 for term in TERMS.values())
