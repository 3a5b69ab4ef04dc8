"""The built workbook as a file: names, locks, messages, formulas, and that no file is ever lost."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import zipfile
from collections.abc import Mapping
from pathlib import Path

import openpyxl
import pytest
from lxml import etree
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.worksheet.datavalidation import DataValidation
from whole_books import demo_pages, plain_book, with_few_threads
from workbook_cases import plain_file

from sheetfuncs import CellError, standards
from workbook_template.__main__ import main
from workbook_template.file import names, placing, store
from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import cells_in
from workbook_template.paper.prompt_titles import LONGEST, TITLES, prompt_title
from workbook_template.read_back.template import template
from workbook_template.sheets import estimate_inputs, log, revision, threads_table

ROOT = Path(__file__).parent.parent
SAFE = frozenset(
    re.findall(
        r"\w+",
        """IF AND OR NOT IFERROR ISERROR ISNUMBER ISBLANK ROUND INT ABS SQRT
        LOG10 RADIANS COS SIN TAN SUM SUMPRODUCT COUNT
        COUNTA COUNTIF COUNTIFS MAX MIN SMALL INDEX MATCH ROW EXACT SEARCH LEN SUBSTITUTE FIXED
        ATAN2 AVERAGE DAY DEGREES FIND GCD LEFT LN MOD PI MONTH RIGHT TRIM UPPER YEAR ROWS
        CHOOSE ISTEXT MID STDEV VAR NORMSINV TINV CHIINV FDIST ROUNDUP ROUNDDOWN VALUE""",
    )
)
"""Functions that Excel 2013 and LibreOffice 7.4 both know without a prefix and compute alike."""
LONGEST_FORMULA = 6000
"""Signs: three quarters of what a file may hold, so that a sentence more does not end in a refusal by Excel."""


def formulas(sheet) -> list[tuple[str, str]]:
    return [(c.coordinate, c.value) for c in cells_in(sheet).values() if c.data_type == "f"]


TABS = (
    *("Start", "Job", "Setup", "Card", "Log", "Estimate", "Bars", "Costing", "Quote", "Offer"),
    *("Charts", "Uncertainty", "First article", "Sampling", "Gauge study", "Certificate"),
    *("Lathe", "Lathe charts", "Instruments", "Wire sets", "Diagnosis", "Sources", "Threads", "Working"),
)


def test_sheets_in_order() -> None:
    tabs = plain_file().titles
    assert tabs == TABS


def test_names_are_plain_unique_and_no_addresses() -> None:
    found = [entry.name for entry in plain_file().entries]
    tables = [table for sheet in plain_book().workbook for table in sheet.tables]
    assert len(set(found + tables)) == len(found + tables)
    for name in found + tables:
        assert re.fullmatch(r"[a-z][a-z_]*(_?[0-9]+[ab]?)?(_[a-z]+)?", name), name
        assert not re.fullmatch(r"[a-z]{1,3}[0-9]+|r[0-9]*c[0-9]*|[rc]", name), name


PASSED_ON = re.compile(r'=[a-z_]+[0-9]*(&"")?')
"""A formula that shows a named figure once more."""


def test_every_formula_and_every_input_has_a_name() -> None:
    book = plain_book()
    named = set()
    for entry in book.entries:
        left, top, right, bottom = range_boundaries(entry.ref)
        named |= {(entry.sheet, row, col) for row in range(top, bottom + 1) for col in range(left, right + 1)}
    for sheet in book.workbook:
        merged = {cell for area in sheet.merged_cells.ranges for cell in list(area.cells)[1:]}
        for at, cell in cells_in(sheet).items():
            place = (sheet.title, *at)
            if cell.data_type == "f" and not PASSED_ON.fullmatch(cell.value):
                assert place in named, place
            if not cell.protection.locked and at not in merged:
                assert place in named, place


def test_names_page_is_current() -> None:
    assert (ROOT / "docs" / "workbook-names.md").read_text(encoding="utf-8") == names.page()


def test_names_page_says_what_a_workbook_has() -> None:
    built = {
        name: (sheet.strip("'"), cells.replace("$", ""))
        for name, place in template("in", ()).names.items()
        for sheet, _, cells in [place.rpartition("!")]
    }
    page = (ROOT / "docs" / "workbook-names.md").read_text(encoding="utf-8")
    told = {}
    for part in page.split("\n## ")[1:]:
        told |= {
            name: (part.partition("\n")[0], ref) for name, ref in re.findall(r"^\| `(\w+)` \| (\S+) \|", part, re.M)
        }
    assert told == built


def test_a_name_of_one_cell_is_where_something_stands() -> None:
    book = plain_book()
    for one in book.entries:
        if one.role != "input" and ":" not in one.ref:
            assert book.workbook[one.sheet][one.ref].value not in (None, ""), one.name


def test_names_page_needs_no_workbook() -> None:
    code = "import sys; from workbook_template.file import names; names.page(); print('openpyxl' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert run.stdout == "False\n"


def test_only_inputs_are_unlocked_and_every_sheet_is_protected() -> None:
    book = plain_book()
    inputs = set()
    for entry in book.entries:
        if entry.role == "input":
            left, top, right, bottom = range_boundaries(entry.ref)
            inputs |= {(entry.sheet, row, col) for row in range(top, bottom + 1) for col in range(left, right + 1)}
    for sheet in book.workbook:
        assert sheet.protection.sheet
        assert sheet.protection.password is None
        merged = {cell for area in sheet.merged_cells.ranges for cell in list(area.cells)[1:]}
        open_cells = {
            (sheet.title, *at)
            for at, cell in cells_in(sheet).items()
            if not cell.protection.locked and at not in merged
        }
        assert open_cells == {place for place in inputs if place[0] == sheet.title}


def test_every_input_has_a_message_and_log_readings_are_never_refused() -> None:
    book = plain_book()
    for entry in book.entries:
        if entry.role != "input":
            continue
        told_at = first = entry.ref.split(":")[0]
        in_log = entry.sheet == "Log" and ":" in entry.ref
        if in_log:  # a message at the cells would hide those under them, so the head has it
            told_at = first.rstrip("0123456789") + str(log.HEAD)
            own = [rule for rule in _rules(book, entry.sheet) if first in rule.sqref]
            assert not any(rule.showInputMessage or rule.showErrorMessage for rule in own)
            assert [rule.type for rule in own] == (["list"] if entry.name == "log_ring" else [])
        rules = [rule for rule in _rules(book, entry.sheet) if told_at in rule.sqref]
        assert len(rules) == 1, entry.name
        assert 5 < len(rules[0].prompt) <= 255
        assert rules[0].promptTitle == prompt_title(entry.name, entry.meaning)
        assert rules[0].allow_blank is not (rules[0].type == "list" and not rules[0].formula1.startswith('"'))
        assert len(rules[0].error or "") <= 255
        assert len(rules[0].formula1 or "") <= 255
        if entry.name.startswith("log_"):
            assert rules[0].type is None
            assert not rules[0].showErrorMessage


def _rules(book: Book, sheet: str) -> list[DataValidation]:
    return book.workbook[sheet].data_validations.dataValidation


def test_every_title_of_its_own_is_used_and_no_title_is_cut() -> None:
    """A title that does not fit is refused while the workbook is built."""
    names = {entry.name for entry in plain_file().entries if entry.role == "input"}
    assert {name for name in TITLES if name not in names and f"{name}_1" not in names} == set()
    assert max(map(len, TITLES.values())) <= LONGEST
    with pytest.raises(ValueError, match="new_size: give it a title of at most 31 characters"):
        prompt_title("new_size", "the size that nobody gave a title of its own")


def test_a_chart_without_a_title_says_so() -> None:
    """Excel puts the name of the only series that has points over a chart that doesn't."""
    with zipfile.ZipFile(io.BytesIO(plain_file().content)) as package:
        charts = [package.read(name).decode() for name in package.namelist() if name.startswith("xl/charts/chart")]
    assert len(charts) > 4
    assert [chart for chart in charts if '<chart><autoTitleDeleted val="1"' not in chart] == []


def test_formulas_are_of_the_kind_that_every_program_computes() -> None:
    book = plain_book()
    today = next((entry.ref for entry in book.entries if entry.name == "as_of_used"), "")
    for sheet in book.workbook:
        for place, text in formulas(sheet):
            assert len(text) <= LONGEST_FORMULA, (sheet.title, place, len(text))
            if place == today and sheet.title == "Instruments":  # the one date of the whole workbook
                text = text.replace("TODAY()", "0")
            bare = re.sub(r'"[^"]*"', '""', text)
            called = set(re.findall(r"([A-Z][A-Z0-9._]*)\(", bare))
            added = called - SAFE  # functions of the add-in: in the cross-check alone, and never an error without it
            guarded = (
                bare.startswith(("=IF(functions_loaded,", "=ISNUMBER(IFERROR(THREAD_PITCH(")) and "IFERROR(" in bare
            )
            named = all(one.startswith("THREAD_") for one in added)
            assert not added or (sheet.title == "Working" and guarded and named), (place, text)
            assert len(text) <= 8192
            assert bare.count("(") == bare.count(")")
            assert all(len(literal) <= 255 for literal in re.findall(r'"([^"]*)"', text))
            assert not set(bare) & set("[]{};"), place
            assert not re.search(r"TODAY|OFFSET|INDIRECT|RAND|NOW", bare)
            depth = deepest = 0
            for mark in bare:
                depth += (mark == "(") - (mark == ")")
                deepest = max(deepest, depth)
            assert deepest <= 60, place


def test_table_holds_what_the_standards_give() -> None:
    sheet = plain_book().workbook["Threads"]
    head = [cell.value for cell in sheet[threads_table.HEAD]][: len(threads_table.COLUMNS)]
    rows = list(sheet.iter_rows(min_row=threads_table.FIRST, max_col=len(head), values_only=True))
    assert len(rows) > 9000
    left = threads_table.starts_at(threads_table.GROUPS)
    groups = list(sheet.iter_rows(min_row=threads_table.FIRST, min_col=left, max_col=left, values_only=True))
    for row in rows[::37]:
        found = dict(zip(head, row))
        size, name = found["size"], found["class"]
        system = next(one for one in standards.SYSTEMS.values() if accepts(one, size))
        limits = standards.limits(standards.read(system.with_class(size, name)))
        side, *_ = groups[found["group"] - 1]
        assert side == standards.read(system.with_class(size, name)).side
        sharp = found["major min"] if side == "internal" else found["minor max"]
        root = sharp if found["root clears"] is None else found["root clears"]
        shown = [found["pitch max"], found["pitch min"], found["major max"], found["minor min"], root]
        wanted = [limits.pitch.max, limits.pitch.min, limits.major.max, limits.minor.min, limits.root]
        assert shown == wanted
        assert found["allowance"] or limits.allowance == 0
    assert len({row[:2] for row in rows}) == len(rows)


def accepts(system: standards.System, text: str) -> bool:
    """Whether a system reads a size; one that does not may refuse it or know nothing of it."""
    try:
        return system.read(text) is not None
    except CellError:
        return False


def test_header_rows_stay_in_view_and_repeat_in_print() -> None:
    book = plain_book().workbook
    assert (book["Log"].freeze_panes, book["Log"].print_title_rows) == ("D6", "$2:$5")
    assert (book["Threads"].freeze_panes, book["Threads"].print_title_rows) == ("C7", "$6:$6")


SERIALS = ("=A1", "-2", "+3")


@pytest.fixture(scope="module")
def twice() -> list[bytes]:
    """The same workbook built two times with awkward texts."""
    files = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", "1700000000")
        for _ in range(2):
            book = with_few_threads([], values={"part": "=1+1", "log_serial": [*SERIALS]})
            files.append(store.package(book))
    return files


def part(content: bytes, name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        return package.read(name)


def test_text_that_begins_with_an_equals_sign_stays_text(twice: list[bytes]) -> None:
    book = plain_book()
    tabs = book.workbook.sheetnames
    for name, row, text in (("part", 0, "=1+1"), *(("log_serial", row, text) for row, text in enumerate(SERIALS))):
        entry = next(one for one in book.entries if one.name == name)
        column, top, *_ = range_boundaries(entry.ref)
        sheet, place = tabs.index(entry.sheet) + 1, f"{get_column_letter(column)}{top + row}"
        root = etree.fromstring(part(twice[0], f"xl/worksheets/sheet{sheet}.xml"))
        cell = next(c for c in root.iter(f"{store.MAIN}c") if c.get("r") == place)
        assert cell.get("t") in ("s", "inlineStr")
        assert cell.find(f"{store.MAIN}f") is None
        assert "".join(cell.itertext()) == text or cell.get("t") == "s"


def test_a_build_repeats_itself_to_the_byte(twice: list[bytes]) -> None:
    assert twice[0] == twice[1]
    assert b"2023-11-14" in part(twice[0], "docProps/core.xml")


def test_fonts_are_in_the_order_of_the_file_format(twice: list[bytes]) -> None:
    for font in etree.fromstring(part(twice[0], "xl/styles.xml")).iter(f"{store.MAIN}font"):
        order = [store.FONT_ORDER.index(etree.QName(child).localname) for child in font]
        assert order == sorted(order)


def test_place_never_loses_a_file(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    assert placing.place(b"one", path) is None
    with pytest.raises(FileExistsError):
        placing.place(b"two", path)
    assert path.read_bytes() == b"one"
    assert placing.place(b"two", path, replace=True) == tmp_path / "job.old1.xlsx"
    assert placing.place(b"three", path, replace=True) == tmp_path / "job.old2.xlsx"
    found = {file.name: file.read_bytes() for file in tmp_path.iterdir()}
    assert found == {"job.xlsx": b"three", "job.old1.xlsx": b"one", "job.old2.xlsx": b"two"}


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "workbook_template", *arguments]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, env={**os.environ, **environment})


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["new"], "FILE.xlsx"),
        (["new", "job.txt"], "job.txt does not end in .xlsx or .xlsm; name the file as in job.xlsx"),
        (["new", "nowhere/job.xlsx"], "there is no folder nowhere; make it first"),
        (["new", "job.xlsx", "--unit", "ft"], "--unit"),
        (["new", "job.xlsx", "--thread", "3/4-15 UNF-2A"], "3/4-15 UNF-2A: 3/4-15 is no UNF thread"),
        (["new", "job.xlsx", "--thread", "nonsense"], "'nonsense' is no thread"),
        (["print", "job.xlsx"], "print"),
    ],
)
def test_bad_arguments_get_one_sentence(
    arguments: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert status(arguments) == 2
    said = capsys.readouterr()
    assert sentence in said.err
    assert len(said.err.splitlines()) == 1
    assert not said.out


def status(arguments: list[str]) -> object:
    """What the command ends with; of arguments that it can't read argparse tells, and ends."""
    try:
        return main(arguments)
    except SystemExit as end:
        return end.code


def test_command_writes_a_file_and_never_over_another(built: Mapping[str, Path]) -> None:
    path = built["new.xlsx"]
    book = openpyxl.load_workbook(path, read_only=True, data_only=True)

    def stored(name: str) -> object:
        sheet, place = book.defined_names[name].attr_text.split("!")
        return book[sheet][place.replace("$", "")].value

    assert (stored("callout"), stored("unit")) == ("0.9-14 UNS-2A", "mm")
    assert stored("pitch_diameter_max") == pytest.approx(
        25.4 * standards.limits(standards.read("0.9-14 UNS-2A")).pitch.max
    )
    book.close()
    before = path.read_bytes()
    again = run("demo", str(path))
    assert again.returncode == 2
    assert "is there already" in again.stderr
    assert len(again.stderr.splitlines()) == 1
    assert not again.stdout
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


LEFT_EMPTY = (
    *("wire_in_use", "plan_done", "plan_done_more", "log_direct", "log_wires", "log_why", "wire_match_limit"),
    *("log_instrument", "log_who", "log_when"),  # typed once, over the rows
    *("dial_b_1", "dial_c_1", "dial_d_1", "dial_b_2", "dial_c_2", "dial_d_2", "fixed_ratio_1"),
    *("end_driver_2", "end_driven_2", "box_position_2", "box_tpi_2", "box_feed_2", "train_levers_2"),
    *(f"{name}_{lathe}" for name in ("box_pitch", "train_pitch", "train_c", "train_d") for lathe in (1, 2)),
    *("estimate_passes_1", "estimate_passes_2", "estimate_length", "estimate_part_size", "estimate_learning"),
    *("estimate_minimum_charge", "quote_minimum_order"),
    *("estimate_every", "estimate_material_by", "estimate_coating", "thinnest_coating", "thickest_coating"),
    *("chart_first", "budget_factor", "article_lead_low", "article_lead_high", "sample_found", "study_tolerance_width"),
    *("certificate_digest", "certificate_released", "instrument_thread"),
    *("thread_diameter", "thread_exists", "existing_reading"),
    *("measured_at", "log_once_place", "log_gauge_turns", "log_place", "log_place_2", "log_place_3"),
    *(f"estimate_{name}_{lathe}" for name in ("lathe", "rpm", "power_return") for lathe in (1, 2)),
    *(f"estimate_{name}" for name in ("part_shape", *estimate_inputs.FROM_RACK)),
    *("quote_power_return", "offer_coating", "offer_remarks", "actual_handle_minutes", "actual_gauge_minutes"),
    "actual_rest_minutes",
    *(f"before_{name}" for name, *_ in (*revision.QUANTITY_CAUSES, *revision.CAUSES) if name != "rate"),
    *(f"before_price_{number}" for number in revision.NUMBERS),
    *(f"use_{name}_{lathe}" for name in ("a", "b", "c", "d", "levers") for lathe in (1, 2)),
)
"""Inputs that the example leaves empty, or whose first cell it does."""


def test_demo_is_filled() -> None:
    book = demo_pages()
    values = {e.name: book.workbook[e.sheet][e.ref.split(":")[0]].value for e in book.entries if e.role == "input"}
    assert not [name for name, value in values.items() if value is None and name not in LEFT_EMPTY]
