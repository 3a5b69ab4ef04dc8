"""The functions in a real Calc: typed into cells as a person would, compared with `evaluate`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from calc_office import Cells, expected, extended, typed
from openpyxl import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from sheetfuncs import CellError, evaluate
from sheetfuncs.catalog import RECORDS
from sheetfuncs.registry import Example, Record
from workbook_template.office import Document, Error, Office

NOT_AVAILABLE, BAD_VALUE, IMPOSSIBLE = Error(32767, "#N/A"), Error(519, "#VALUE!"), Error(503, "#NUM!")
NOT_CALLED = Error(504, "Err:504")
"""What Calc makes of a range with an error in it before it would call an add-in."""
EXAMPLES = [(record, example) for record in RECORDS for example in record.examples]
NAMES = [f"{record.name} {number}" for number, (record, _) in enumerate(EXAMPLES)]
BLOCK = 60  # rows for each table


@pytest.fixture(scope="module")
def addin(new_office: Callable[..., Office], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with extended(new_office(), tmp_path_factory.mktemp("addin")) as office:
        yield office


@pytest.fixture(scope="module")
def cells(addin: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cells]:
    with Cells(addin, tmp_path_factory.mktemp("cells") / "cells.xlsx") as opened:
        yield opened


@pytest.fixture(scope="module")
def examples(addin: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """Every worked example on one sheet: arguments in a row of cells, the answer as an array formula beneath."""
    book = Workbook()
    sheet = book.active
    sheet.title = "Examples"
    arguments = {}
    for number, (record, example) in enumerate(EXAMPLES):
        top = 1 + number * BLOCK
        places = []
        for column, cell in enumerate(example.args, start=1):
            place = sheet.cell(top, column)
            places.append("" if cell is None else place.coordinate)
            if cell is not None:
                arguments["Examples", place.coordinate] = typed(cell)
        rows = in_rows(evaluate(record.name, *example.args))
        last = sheet.cell(top + len(rows), len(rows[0])).coordinate
        formula = f"={record.name}({','.join(places)})"
        sheet.cell(top + 1, 1).value = ArrayFormula(f"A{top + 1}:{last}", formula) if record.table else formula
    path = tmp_path_factory.mktemp("examples") / "examples.xlsx"
    book.save(path)
    with addin.open(path) as document:
        document.type(arguments)
        yield document


def in_rows(answer: object) -> list[list[object]]:
    return answer if isinstance(answer, list) else [[answer]]


@pytest.mark.parametrize("number", range(len(EXAMPLES)), ids=NAMES)
def test_worked_example_in_cells(examples: Document, number: int) -> None:
    record, example = EXAMPLES[number]
    rows = in_rows(evaluate(record.name, *example.args))
    top = 2 + number * BLOCK
    last = f"{'ABCDEFGHIJKLMNOP'[len(rows[0]) - 1]}{top + len(rows) - 1}"
    found = in_rows(examples[f"Examples!A{top}:{last}"])
    assert found == [[expected(cell) for cell in row] for row in rows]


def shortest(record: Record, example: Example) -> tuple:
    """The arguments of an example up to the last that is required."""
    return example.args[: sum(param.required for param in record.params)]


def test_optional_arguments_left_out_in_both_ways(cells: Cells) -> None:
    wanted, formulas = [], []
    for record, example in EXAMPLES:
        optional = sum(not param.required for param in record.params)
        required = shortest(record, example)
        for left_out in ("", ";" * optional):
            wanted.append((record.name, required))
            formulas.append(cells.formula(record.name, required).replace(")", "") + left_out + ")")
    answers = cells.compute(formulas)
    for (name, required), formula, found in zip(wanted, formulas, answers, strict=True):
        try:
            corner = in_rows(evaluate(name, *required))[0][0]
        except CellError as error:
            corner = error
        assert found == expected(corner), formula


def test_every_function_refuses_with_its_error_and_its_sentence(cells: Cells) -> None:
    for_each = []
    for record in RECORDS:
        arguments = list(record.examples[0].args)
        for position, param in enumerate(record.params[: len(arguments)]):
            for_each.append((record, [*arguments[:position], f"wrong {param.name}", *arguments[position + 1 :]]))
    found = cells.compute([cells.formula(record.name, arguments) for record, arguments in for_each])
    asked = [cells.formula("THREAD_WHY", [record.name, *arguments]) for record, arguments in for_each]
    for (record, arguments), cell, sentence in zip(for_each, found, cells.compute(asked), strict=True):
        with pytest.raises(CellError) as refused:
            evaluate(record.name, *arguments)
        assert (cell, sentence) == (expected(refused.value), str(refused.value)), (record.name, arguments)


@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ('THREAD_PITCH_DIAMETER("M20x2.5";"max")', NOT_AVAILABLE),
        ('THREAD_PITCH("nonsense")', BAD_VALUE),
        ('THREAD_OVER_WIRES("3/4-16 UNF-2A";0.02;"max")', IMPOSSIBLE),
        ('THREAD_PITCH("nonsense")+1', BAD_VALUE),
        ('IFERROR(THREAD_PITCH("nonsense");"caught")', "caught"),
        ('ISNA(THREAD_PITCH_DIAMETER("M20x2.5";"max"))', True),
        ('ISNUMBER(THREAD_PITCH("nonsense"))', False),
        ("THREAD_PITCH(NA())", NOT_AVAILABLE),
        ("THREAD_PITCH(1/0)", Error(532, "#DIV/0!")),
        ('THREAD_WHY("THREAD_PITCH";"M20-6g")', ""),
        ('THREAD_WHY("THREAD_PITCH";"M20-6g")=""', True),
        ('THREAD_WHY("no_such";1)', "there is no function no_such; docs/functions.md lists those there are"),
        ('thread_pitch("M20-6g")*2', 5.0),
        ("THREAD_PITCH(Z99)", ""),
        ("THREAD_PITCH(Z99)+1", BAD_VALUE),
        ("THREAD_COMPOUND(Z99;10)", 0.0),  # Calc passes an empty cell as 0, and 0 is an infeed
        ("THREAD_COMPOUND(Z99:Z99;10)", ""),  # in a range it keeps them apart
        ('THREAD_PITCH("M20-6g";Z99)', 2.5),
        ("THREAD_DESCRIBE(Z99)", ""),
        ('THREAD_DESCRIBE(Z99)=""', True),
        ('THREAD_WIRE_CONSTANT("3/4-16 UNF-2A";Z99)', ""),
        ('THREAD_COMPOUND("0.5";"0")', 0.5),
        ('THREAD_WIRE_CONSTANT("1-16 UN";"0.05 in")', evaluate("THREAD_WIRE_CONSTANT", "1-16 UN", 0.05)),
        ("THREAD_PITCH(7)", BAD_VALUE),
        ("THREAD_PITCH(TRUE())", BAD_VALUE),
        ('INDEX(THREAD_LIMITS("3/4-16 UNF-2A");3;2)', 0.7079),
        ('THREAD_DESCRIBE("M20-6g")=THREAD_DESCRIBE("m20 -6g")', True),
        ('INDEX(THREAD_LIMITS("M20-6g");2;1)&""="major"', True),
        ('THREAD_WHY("THREAD_COMPOUND";0.5)', "angle is missing: write a number, with a point for decimals"),
    ],
)
def test_in_a_cell(cells: Cells, formula: str, value: object) -> None:
    assert cells.compute([f"={formula}"]) == [value]


def test_texts_can_be_counted_and_looked_up(cells: Cells) -> None:
    document, first = cells.document, evaluate("THREAD_DESCRIBE", "M20-6g")
    document.type({("Cells", "H1"): '=THREAD_DESCRIBE("M20-6g")', ("Cells", "H2"): '=THREAD_DESCRIBE("M8-6g")'})
    document.set({("Cells", "I1"): first})
    assert cells.compute(["=COUNTIF(H1:H2;I1)", "=MATCH(I1;H1:H2;0)", "=H1=I1", "=H2=I1"]) == [1.0, 1.0, True, False]


def test_a_column_of_a_thousand(addin: Office, tmp_path: Path) -> None:
    threads = ["M20x2.5-6g", "3/4-16 UNF-2A", None, "nonsense", "M8-6g"] * 200
    book = Workbook()
    sheet = book.active
    for row, thread in enumerate(threads, start=1):
        sheet.cell(row, 1).value = thread
        sheet.cell(row, 2).value = 1.5
    sheet["C1"] = ArrayFormula("C1:C1000", '=THREAD_PITCH_DIAMETER(A1:A1000,"max","mm")')
    sheet["D1"] = ArrayFormula("D1:D1000", "=THREAD_DESCRIBE(A1:A1000)")
    sheet["E1"] = ArrayFormula("E1:E1000", '=THREAD_WIRE_CONSTANT(A1:A1000,B1:B1000,"mm")')
    sheet["F1"] = '=THREAD_WHY("PITCH",A1:A1000)'
    sheet["F2"] = "=SUMPRODUCT(THREAD_PITCH(A1:A2))"
    sheet["G1"], sheet["G2"] = "=1/0", "M20-6g"
    sheet["H1"] = ArrayFormula("H1:H2", "=THREAD_PITCH(G1:G2)")
    sheet["I1"] = ArrayFormula("I1:I2", '=THREAD_PITCH(IFERROR(G1:G2,""))')
    book.save(tmp_path / "column.xlsx")
    with addin.open(tmp_path / "column.xlsx") as document:
        found = document["Sheet!C1:E1000"]
        assert document["Sheet!F1"].startswith("row 4: 'nonsense' is no thread")
        assert document["Sheet!F2"] == 2.5625
        assert document["Sheet!H1:I2"] == [[NOT_CALLED, ""], [NOT_CALLED, 2.5]]
    for row, thread in zip(found, threads, strict=True):
        for (name, *others), cell in zip(
            (("PITCH_DIAMETER", "max", "mm"), ("DESCRIBE",), ("WIRE_CONSTANT", 1.5, "mm")), row, strict=True
        ):
            assert cell == expected(answer(name, thread, *others)), (name, thread)


def answer(name: str, *arguments: object) -> object:
    try:
        return evaluate(f"THREAD_{name}", *arguments)
    except CellError as error:
        return error
