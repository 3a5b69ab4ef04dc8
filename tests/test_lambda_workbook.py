"""The file of LAMBDAs: its names, its sheets, its command; that it is valid; that a fault in it would be found."""

from __future__ import annotations

import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest
from lambda_engine import FUNCTIONS, THREADS, Files, Opened, same
from test_file_validator import validate

from sheetfuncs import evaluate
from sheetfuncs.__main__ import main
from sheetfuncs.hosts.call import find
from workbook_template.figures.tree import Call, Name, Node, Text, children, walk
from workbook_template.lambdas import build, names, sheets
from workbook_template.lambdas.table import Spelling, of_lines
from workbook_template.lambdas.writing import MAY_BE_LEFT_OUT, USED, Lambda
from workbook_template.rules import check

LONGEST_FORMULA, LONGEST_NAME, LONGEST_COMMENT = 8192, 255, 255
EVERY: tuple[Lambda, ...] = (*names.HELPERS, *names.FUNCTIONS)

ASKED_FOR = (
    *("PITCH", "LEAD", "LEAD_ANGLE", "MAJOR_DIAMETER", "PITCH_DIAMETER", "MINOR_DIAMETER", "LIMITS"),
    *("ALLOWANCE", "TOLERANCE", "BEST_WIRE", "WIRE_RANGE", "OVER_WIRES", "PD_FROM_WIRES", "WIRE_CONSTANT"),
    *("BLANK", "DEPTH", "COMPOUND", "FEED_LEFT", "TIME", "VERDICT", "AT_20C"),
)

YOUNG = {"LAMBDA", "LET", "ISOMITTED", "MAP", "REDUCE", "SEQUENCE", "XMATCH", "CONCAT", "HSTACK", "VSTACK"}
"""Functions of Excel 2024 that the rules of the other workbooks do not let in."""


@pytest.fixture(scope="module")
def book(lambda_files: Files) -> openpyxl.Workbook:
    return openpyxl.load_workbook(lambda_files.few)


def test_every_function_that_was_asked_for_is_there() -> None:
    assert [function.name for function in names.FUNCTIONS] == [f"THREAD_{name}" for name in ASKED_FOR]


@pytest.mark.parametrize("function", names.FUNCTIONS, ids=lambda one: one.name)
def test_arguments_are_those_of_the_catalogue(book: openpyxl.Workbook, function: Lambda) -> None:
    """In their order; those that may be left out are declared so, and come last."""
    declared = re.match(r"_xlfn\.LAMBDA\(((?:_xl[op][pm]\.\w+,)+)", book.defined_names[function.name].attr_text)
    assert declared
    expected = [(USED if param.required else MAY_BE_LEFT_OUT) + param.name for param in find(function.name).params]
    assert declared[1].rstrip(",").split(",") == expected
    assert book.defined_names[function.name].comment == find(function.name).summary


def test_names_fit_into_a_file(book: openpyxl.Workbook) -> None:
    for name, one in book.defined_names.items():
        assert len(name) <= LONGEST_NAME
        assert len(one.attr_text) <= LONGEST_FORMULA
        assert 0 < len(one.comment) <= LONGEST_COMMENT
        assert not one.attr_text.startswith("=")
        assert name.startswith("THREADS_") or find(name)


def binders(tree: Node) -> tuple[list[tuple[str, Node | None]], tuple[Node, ...]]:
    """What a LAMBDA or LET names in turn, each with its value, and what is left."""
    assert isinstance(tree, Call)
    *before, result = (one for one in tree.arguments if one is not None)
    if tree.function == "_xlfn.LAMBDA":
        return [(named(one).replace(MAY_BE_LEFT_OUT, USED), None) for one in before], (result,)
    if tree.function == "_xlfn.LET":
        return [(named(name), value) for name, value in zip(before[::2], before[1::2])], (result,)
    return [], (*before, result)


def named(tree: Node) -> str:
    assert isinstance(tree, Name)
    return tree.name


def scope_faults(tree: Node, known: frozenset[str]) -> Iterator[str]:
    """Names that nobody has given, and names that hide another one: Excel's words on that are few."""
    if isinstance(tree, Name) and tree.name.startswith(("_xlpm.", "_xlop.")) and tree.name not in known:
        yield f"{tree.name} is not known"
    if not isinstance(tree, Call) or not tree.arguments:
        for part in children(tree):
            yield from scope_faults(part, known)
        return
    found, rest = binders(tree)
    for name, value in found:
        if value is not None:
            yield from scope_faults(value, known)
        if name in known:
            yield f"{name} hides another"
        if not re.fullmatch(r"_xlpm\.[a-z_]{2,}", name):
            yield f"{name} may read as a cell"
        known |= {name}
    for part in rest:
        yield from scope_faults(part, known)


@pytest.mark.parametrize("one", EVERY, ids=lambda one: one.name)
def test_every_name_in_a_formula_is_known_and_hides_no_other(one: Lambda, book: openpyxl.Workbook) -> None:
    assert list(scope_faults(one.tree, frozenset())) == []
    counts = {helper.name: len(helper.arguments) for helper in names.HELPERS}
    for part in walk(one.tree):
        if isinstance(part, Call) and part.function.startswith("THREADS_"):
            assert len(part.arguments) == counts[part.function]
        elif isinstance(part, Name) and part.name.startswith("THREADS_"):
            assert part.name in book.defined_names
        elif isinstance(part, Text):
            assert len(part.value) <= 255


def test_a_name_that_is_unknown_or_hides_another_is_found() -> None:
    hidden = Call("_xlfn.LET", (Name("_xlpm.own"), Name("_xlpm.other"), Name("_xlpm.own")))
    wrong = ["_xlpm.other is not known", "_xlpm.own hides another"]
    assert list(scope_faults(hidden, frozenset({"_xlpm.own"}))) == wrong


def test_helpers_use_those_before_them_alone() -> None:
    seen: set[str] = set()
    for one in EVERY:
        calls = {part.function for part in walk(one.tree) if isinstance(part, Call)}
        assert {name for name in calls if name.startswith("THREADS_")} <= seen, one.name
        seen.add(one.name)


def test_the_file_breaks_no_rule(lambda_files: Files) -> None:
    """But that it needs functions younger than Excel 2013, and names that LAMBDA and LET give."""
    known = {f"_xlfn.{name}" for name in YOUNG} | {helper.name for helper in names.HELPERS}
    let_in = {f"{name} is no function that every program has" for name in known}
    faults = {fault[2] for fault in check(lambda_files.few)} - let_in
    assert [one for one in faults if not re.fullmatch(r"there is no name _xl[op][pm]\.\w+", one)] == []


def test_microsofts_validator_finds_nothing(lambda_files: Files) -> None:
    assert validate(lambda_files.whole, "Microsoft365") == []


def test_keys_that_differ_in_capitals_alone_stand_side_by_side(lambda_files: Files) -> None:
    """And say at how many signs capitals count, or the second would never be found."""
    with zipfile.ZipFile(lambda_files.whole) as opened:
        sheet = opened.read(THREADS).decode()
    columns = dict(re.findall(r'name="THREADS_LIST_(KEY|TOLD_APART)"[^>]*>Threads!\$([A-Z]+)', book_of(lambda_files)))
    cell = r'<c r="{}(\d+)"[^>]*>(?:<is><t[^>]*>|<v>)([^<]+)'
    keys, apart = (dict(re.findall(cell.format(columns[one]), sheet)) for one in ("KEY", "TOLD_APART"))
    rows = [Spelling(keys[row], int(row), apart.get(row)) for row in sorted(keys, key=int)][1:]
    twins = [(one, next_one) for one, next_one in zip(rows, rows[1:]) if one.key.upper() == next_one.key.upper()]
    assert len({one.key.upper() for one in rows}) == len(rows) - len(twins)
    assert len(twins) > 700
    for one, other in twins:
        assert one.told_apart == other.told_apart is not None
        signs = int(float(str(one.told_apart)))
        assert one.key[-signs:] != other.key[-signs:]


def book_of(files: Files) -> str:
    with zipfile.ZipFile(files.whole) as opened:
        return opened.read("xl/workbook.xml").decode()


def test_the_examples_are_stored_and_computed(few: Opened, book: openpyxl.Workbook, lambda_files: Files) -> None:
    """Stored: what the functions give. Computed anew: the same, and every line says that it agrees."""
    stored = openpyxl.load_workbook(lambda_files.few, data_only=True)[sheets.FUNCTIONS_SHEET]
    few.recalculate()
    for row, function in enumerate(names.FUNCTIONS, start=sheets.HEAD_ROW + 1):
        assert stored.cell(row, 1).value == find(function.name).signature
        assert same(few.cell(row, 4), stored.cell(row, 4).value), function.name
        assert few.cell(row, 6) == stored.cell(row, 6).value == "agrees"
    count = len(names.FUNCTIONS)
    assert few.cell(sheets.HEAD_ROW - 1, 4) == f"{count} of {count} examples agree"
    formulas = edited_parts(lambda_files.few)
    assert formulas[FUNCTIONS].count(' cm="1"><f t="array"') == count
    assert "fDynamic" in formulas["xl/metadata.xml"]
    assert same(stored.cell(sheets.HEAD_ROW + 1, 4).value, evaluate("THREAD_PITCH", "3/4-16 UNF-2A"))


def edited_parts(path: Path) -> dict[str, str]:
    with zipfile.ZipFile(path) as opened:
        return {name: opened.read(name).decode() for name in opened.namelist()}


def test_the_sheet_says_what_is_there_and_what_is_not(book: openpyxl.Workbook) -> None:
    page = " ".join(str(cell.value) for row in book[sheets.FUNCTIONS_SHEET].iter_rows() for cell in row if cell.value)
    for wanted in ("Excel 2024", "Microsoft 365", "supervision", "#N/A", "THREAD_GEARS", "THREAD_PRICE"):
        assert wanted in page


def test_the_command_never_writes_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused with one sentence, before any work: the file stays as it was, and nothing is left beside it."""
    taken = tmp_path / "taken.xlsx"
    taken.write_text("mine")
    for arguments, said in (
        ([str(taken)], f"{taken} is there already; choose another name"),
        ([str(tmp_path / "out.xls")], f"{tmp_path / 'out.xls'} does not end in .xlsx; name the file as in job.xlsx"),
        ([str(tmp_path / "no" / "out.xlsx")], f"there is no folder {tmp_path / 'no'}; make it first"),
        ([], "lambda-workbook takes the name of the workbook to write, as in threads.xlsx"),
    ):
        assert main(["lambda-workbook", *arguments]) == 2
        assert capsys.readouterr().err == f"{said}\n"
    assert [path.name for path in tmp_path.iterdir()] == ["taken.xlsx"]
    assert taken.read_text() == "mine"


def test_without_the_library_one_sentence_says_what_is_missing() -> None:
    code = (
        "import sys; sys.modules['openpyxl'] = None\n"
        "from sheetfuncs.__main__ import main\n"
        "raise SystemExit(main(['lambda-workbook', 'never.xlsx']))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr == "lambda-workbook needs openpyxl, which is not there; pip install openpyxl lxml\n"


def test_two_builds_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    few = of_lines(build.threads().lines[:50])
    assert build.content(few) == build.content(few)
