"""The functions through xlwings' own code: what it would tell Excel, and what a call answers, for every record."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from types import ModuleType

import pytest
from excel_standins import COM_ERRORS, MISSING, Range, Workbook, xlwings_as_on_windows

from sheetfuncs import evaluate
from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.call import find
from sheetfuncs.registry import Example, Param, Record
from sheetfuncs.terms import TERMS
from workbook_template.file.macro import UDF_MODULE, wrapper_text

EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
EXAMPLES = [(record, example) for record in RECORDS for example in record.examples]
UNF = "3/4-16 UNF-2A"

# The reserved words of VBA (MS-VBAL 3.3.5.2, from memory) and xlwings' own; none can be the name of an argument.
VBA_RESERVED = """
call case close const declare defbool defbyte defcur defdate defdbl defint deflng deflnglng deflngptr defobj
defsng defstr defvar dim do else elseif end endif enum erase event exit for friend function get global gosub
goto if implements input let lock loop lset next on open option print private public put raiseevent redim resume
return rset seek select set static stop sub type unlock wend while with write rem any as byref byval each in new
shared until withevents optional paramarray preserve spc tab addressof and eqv imp is like mod not or typeof xor
abs cbool cbyte ccur cdate cdbl cdec cint clng clnglng clngptr csng cstr cvar cverr date debug doevents fix int
len lenb me pset scale sgn string array circle inputb lbound ubound boolean byte currency double integer long
longlong longptr single variant true false nothing empty null attribute caller
"""


@pytest.fixture(scope="module")
def excel() -> Iterator[ModuleType]:
    with xlwings_as_on_windows() as module:
        yield module


@pytest.fixture(scope="module")
def imported(excel: ModuleType) -> Workbook:
    """A workbook after Import Functions."""
    from xlwings.udfs import import_udfs

    workbook = Workbook()
    import_udfs(UDF_MODULE, workbook)
    return workbook


def call(excel: ModuleType, name: str, *cells: object) -> object:
    """What the wrapper of a function gets back; lists are ranges, the rest are values of an expression."""
    from xlwings.com_server import XLPython

    given = tuple(Range(cell) if isinstance(cell, list) else cell for cell in cells)
    missing = len(getattr(excel, name).__xlfunc__["args"]) - len(given)
    return XLPython().CallUDF(UDF_MODULE, name, given + (MISSING,) * missing, Workbook(), Range([[None]]))


def in_cells(example: Example) -> list[object]:
    """The arguments as a person would have them in cells."""
    return [MISSING if cell is None else [[cell]] for cell in example.args]


def broken(record: Record, monkeypatch: pytest.MonkeyPatch, excel: ModuleType, function: object) -> None:
    monkeypatch.setattr(excel, record.name, excel.user_function(record._replace(function=function)))


def test_every_record_is_a_function_and_nothing_else_is(excel: ModuleType) -> None:
    offered = [name for name in dir(excel) if hasattr(getattr(excel, name), "__xlfunc__")]
    assert offered == sorted(record.name for record in RECORDS)


@EACH
def test_what_xlwings_knows_of_a_function(excel: ModuleType, record: Record) -> None:
    known = getattr(excel, record.name).__xlfunc__
    assert (known["name"], known["category"], known["sub"]) == (record.name, record.category, False)
    assert known["volatile"] is False
    assert known["async_mode"] is None
    assert known["ret"] == {"doc": record.summary, "options": {}}
    assert [(arg["name"], arg["doc"]) for arg in known["args"]] == [(p.name, TERMS[p.name].help) for p in record.params]
    assert ["optional" in arg for arg in known["args"]] == [not param.required for param in record.params]
    assert all(arg["options"] == {"ndim": 2, "err_to_str": True} for arg in known["args"])
    assert all(len(text) <= 255 for text in (record.summary, record.category, *(arg["doc"] for arg in known["args"])))


@EACH
def test_what_excel_is_told_on_import(imported: Workbook, record: Record) -> None:
    told = imported.options[record.name]
    assert told["Description"] == record.summary
    assert told["Category"] == record.category
    assert told["ArgumentDescriptions"] == [TERMS[param.name].help for param in record.params]


def test_our_wrapper_text_is_what_xlwings_writes(imported: Workbook) -> None:
    assert imported.imported == wrapper_text()


@EACH
def test_the_wrapper_of_every_function(imported: Workbook, record: Record) -> None:
    arguments = ", ".join(param.name if param.required else f"Optional {param.name}" for param in record.params)
    reserved = set(VBA_RESERVED.split())
    code = imported.imported.partition(f"Function {record.name}({arguments})\n")[2].partition("End Function")[0]
    assert f'XLPy.CallUDF("{UDF_MODULE}", "{record.name}", Array(' in code
    assert "Volatile" not in code
    assert max(map(len, code.splitlines())) < 1023  # a longer line is no VBA
    assert not {param.name for param in record.params} & reserved


@pytest.mark.parametrize(("record", "example"), EXAMPLES, ids=lambda value: getattr(value, "name", ""))
def test_worked_examples(excel: ModuleType, record: Record, example: Example) -> None:
    """From cells and from an expression alike; one row comes back flat, which Excel takes as a row."""
    expected = evaluate(record.name, *example.args)
    expected = expected[0] if record.table == "row" else expected
    assert call(excel, record.name, *in_cells(example)) == expected
    assert call(excel, record.name, *(MISSING if cell is None else cell for cell in example.args)) == expected


@EACH
def test_a_blank_cell_gives_a_blank(excel: ModuleType, record: Record) -> None:
    rest = in_cells(record.examples[0])[1:]
    for blank in (None, "", "  "):
        assert call(excel, record.name, [[blank]], *rest) == ""


@EACH
def test_a_blank_optional_cell_counts_as_left_out(excel: ModuleType, record: Record) -> None:
    cells = in_cells(record.examples[0])[: sum(param.required for param in record.params)]
    blanks = [[[None]]] * (len(record.params) - len(cells))
    assert call(excel, record.name, *cells, *blanks) == call(excel, record.name, *cells)


@EACH
@pytest.mark.parametrize("code", COM_ERRORS)
def test_an_error_cell_is_passed_on_as_text(excel: ModuleType, record: Record, code: str) -> None:
    for index in range(len(record.examples[0].args)):
        cells = in_cells(record.examples[0])
        cells[index] = [[COM_ERRORS[code]]]
        found = call(excel, record.name, *cells)
        assert isinstance(found, str)
        assert found.startswith("#")
        assert found.endswith(f"holds the error {code}")


@EACH
def test_an_error_that_xlwings_does_not_know_is_no_number(excel: ModuleType, record: Record) -> None:
    """#SPILL! comes as an integer that xlwings passes through."""
    for index in range(len(record.examples[0].args)):
        cells = in_cells(record.examples[0])
        cells[index] = [[-2146828288 + 2045]]
        assert "holds the error #VALUE! (Excel's error 2045)" in call(excel, record.name, *cells)


@EACH
def test_a_date_cell_is_refused_with_a_sentence(excel: ModuleType, record: Record) -> None:
    for index in range(len(record.examples[0].args)):
        cells = in_cells(record.examples[0])
        cells[index] = [[datetime(2026, 3, 4)]]
        found = call(excel, record.name, *cells)
        assert found.startswith("#VALUE! ")
        assert "date" in found


@EACH
def test_a_column_is_one_call(excel: ModuleType, record: Record) -> None:
    """Good, blank, error and junk rows, each answered in its own row; a table takes one thread at a time."""
    first, *rest = in_cells(record.examples[0])
    found = call(excel, record.name, [first[0], [None], [COM_ERRORS["#N/A"]], ["junk"]], *rest)
    if record.table:  # where the range is one value, the error in it is passed on
        assert found.startswith(("#VALUE! ", "#N/A "))
        return
    assert found[:2] == [[evaluate(record.name, *record.examples[0].args)], [""]]
    assert found[2][0].startswith("#N/A ")
    assert found[3][0].startswith("#VALUE! ")


@EACH
def test_a_fault_of_ours_is_a_text_that_says_so(
    excel: ModuleType, record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    def crash(**_: object) -> float:
        raise KeyError("first line\nsecond line")

    broken(record, monkeypatch, excel, crash)
    found = call(excel, record.name, *in_cells(record.examples[0]))
    assert found.startswith(f"#VALUE! this is a fault in sheetfuncs, please report: {record.name} KeyError: ")
    assert "\n" not in found
    assert call(excel, "THREAD_PITCH" if record.name != "THREAD_PITCH" else "THREAD_LEAD", [["M20-6g"]]) == 2.5


def test_a_fault_in_a_column_fills_the_column(excel: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """One cell of a spilled column would leave the others empty, and an empty cell counts as zero."""
    broken(find("THREAD_PITCH"), monkeypatch, excel, lambda **_: 1 / 0)
    found = call(excel, "THREAD_PITCH", [["M20-6g"], ["M10-6g"]])
    assert found == [found[0], found[0]]
    assert found[0][0].startswith("#VALUE! this is a fault")
    wrong = call(excel, "THREAD_PITCH_DIAMETER", [["M20-6g"], ["M10-6g"]], [["max", "min", "mid"]])
    assert len(wrong) == 2
    assert all("different shapes" in cell for row in wrong for cell in row)
    assert call(excel, "THREAD_PITCH", [[None], [None]]) == [[""], [""]]


@pytest.mark.parametrize("answer", [float("nan"), float("inf")])
def test_no_number_is_not_left_to_the_machine(
    excel: ModuleType, monkeypatch: pytest.MonkeyPatch, answer: float
) -> None:
    """xlwings turns nan into a blank on machines that have numpy and passes it on elsewhere."""
    broken(find("THREAD_PITCH"), monkeypatch, excel, lambda **_: answer)
    assert "ArithmeticError" in call(excel, "THREAD_PITCH", [["M20-6g"]])


def test_a_jagged_table_is_refused_by_xlwings_and_never_sent_to_it(
    excel: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    from xlwings import conversion

    with pytest.raises(Exception, match="same length"):
        conversion.write([[1.0, 2.0], [3.0]], None, {})
    record = find("THREAD_WIRE_RANGE")
    for rows in ([(1.0, 2.0), (3.0,)], []):
        broken(record, monkeypatch, excel, lambda rows=rows, **_: rows)
        assert "not of one length" in call(excel, record.name, [[UNF]])


def test_long_texts_are_cut_inside_an_array_only(excel: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """Excel shows #VALUE! for the whole array otherwise; a single cell holds the text in full."""
    broken(find("THREAD_PITCH"), monkeypatch, excel, lambda **_: "x" * 300)
    column = call(excel, "THREAD_PITCH", [[UNF], [UNF]])
    assert [len(row[0]) for row in column] == [255, 255]
    assert column[0][0].endswith("x...")
    assert len(call(excel, "THREAD_PITCH", [[UNF]])) == 300


def test_numbers_as_text_and_units(excel: ModuleType) -> None:
    for wire in ("0.0361", " .0361 ", "0.0361 in", "36.1 thou", 0.0361):
        found = call(excel, "THREAD_OVER_WIRES", [[UNF]], [[wire]], [["max"]])
        assert found == pytest.approx(0.76207, abs=2e-5)
    assert call(excel, "THREAD_OVER_WIRES", [[UNF]], [["0,0361"]], [["max"]]).startswith("#VALUE! wire is '0,0361'")
    assert call(excel, "THREAD_OVER_WIRES", [[UNF]], [[True]], [["max"]]).startswith("#VALUE! wire is TRUE")


def test_a_length_formatted_as_currency_is_refused(excel: ModuleType) -> None:
    """Excel hands it over cut to four decimals: .03608 would be .0361."""
    found = call(excel, "THREAD_OVER_WIRES", [[UNF]], [[Decimal("0.0361")]], [["max"]])
    assert "format it as a number" in found
    passes = call(excel, "THREAD_INFEED", [[UNF]], [["sharp"]], [[Decimal("4")]])
    assert passes == call(excel, "THREAD_INFEED", [[UNF]], [["sharp"]], [[4.0]])


def test_a_wide_range_and_an_array_in_an_expression(excel: ModuleType) -> None:
    assert call(excel, "THREAD_PITCH", [["M20-6g", "M10-6g"], ["M8-6g", None]]) == [[2.5, 1.5], [1.25, ""]]
    assert call(excel, "THREAD_PITCH", (("M20-6g",), ("M10-6g",))) == [[2.5], [1.5]]


def test_an_error_text_travels_through_nested_functions(excel: ModuleType) -> None:
    inner = call(excel, "THREAD_BEST_WIRE", [["nonsense"]])
    outer = call(excel, "THREAD_OVER_WIRES", UNF, inner, "max")
    assert outer.startswith("#VALUE! the cell given for wire holds the error #VALUE! ")


def test_a_record_added_to_the_catalogue_is_a_function_without_another_line(excel: ModuleType) -> None:
    record = find("THREAD_PITCH")._replace(name="THREAD_NEW", params=(Param("thread", True), Param("unit", False)))
    made = excel.user_function(record)
    assert made.__xlfunc__["name"] == made.__name__ == "THREAD_NEW"
