"""The two sheets: what the functions are, each with an example that is alive, and the threads that they look up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.catalog import RECORDS
from workbook_template.figures.book import Value
from workbook_template.figures.text import letters, text
from workbook_template.figures.tree import Cell
from workbook_template.lambdas import examples
from workbook_template.lambdas.examples import AGREES, Shown
from workbook_template.lambdas.table import COLUMNS, Table
from workbook_template.paper import blocks, styles
from workbook_template.sheets.cautions import CAUTIONS
from workbook_template.sheets.thread_listing import Cell as Held

FUNCTIONS_SHEET, THREADS_SHEET = "Functions", "Threads"

ABOUT = (
    (
        "The functions below are names of this workbook, each a LAMBDA: no add-in, no macro, nothing installed. They "
        "need Excel 2024 or Microsoft 365; an older Excel shows #NAME?, LibreOffice an error of its own."
    ),
    (
        "Type them into any cell of this workbook, on sheets of your own. To have them in another workbook, select "
        "both sheets, Functions and Threads, and choose Move or Copy, Create a copy: the names come along."
    ),
    (
        "Square brackets: may be left out. A bare length is in the thread's own unit, inch or mm, or in the unit asked "
        "for; a text may carry its own, 0.92 mm. limit is max, min, mid or basic. A range is answered cell by cell."
    ),
    (
        "A thread is found on the sheet Threads, in the spelling of the standards, with or without blanks and dashes, "
        "left hand or right: #N/A where it is not there, as with several starts, or where the standard sets no such "
        "size. #NUM! says that a tool, a wire or a size can't be, #VALUE! that a text can't be read."
    ),
    CAUTIONS[-1],
)
WIDTHS = (34, 46, 44, 13, 13, 11)
HEADS = ("function", "what it gives", "worked example", "here", "printed", "agrees?")
HEAD_ROW = len(ABOUT) + 3
LETTERS_A_LINE = 1.05
"""Letters of 9 points that a column holds for each unit of its width."""
LINE = 12.5
"""Height of a line of them, in points."""

THREADS_ABOUT = (
    "Every standard thread, with its class and without, as the Python functions give it, each in its own unit. "
    "The functions look here and nowhere else. Empty: the standard sets no such size."
)
THREADS_HEAD = 3
PRINTED = [column.name for column in COLUMNS].index("tolerance") + 1
"""Columns that go on paper: the sizes, not what wires and tips are judged by."""


class Written(NamedTuple):
    """What writing the sheets left to be done: values of formulas by sheet and cell, cells that may spill, columns."""

    values: dict[str, dict[str, Value]]
    spilling: list[str]
    columns: dict[str, str]


def write(functions_sheet: Worksheet, threads_sheet: Worksheet, rows: Sequence[Shown], table: Table) -> Written:
    """Fill both sheets."""
    known: styles.Known = {}
    values, spilling = _functions(functions_sheet, known, rows)
    columns = _threads(threads_sheet, known, table)
    return Written({FUNCTIONS_SHEET: values, THREADS_SHEET: {}}, spilling, columns)


def _functions(ws: Worksheet, known: styles.Known, rows: Sequence[Shown]) -> tuple[dict[str, Value], list[str]]:
    last = get_column_letter(len(WIDTHS))
    for letter, width in zip(map(get_column_letter, range(1, len(WIDTHS) + 1)), WIDTHS):
        ws.column_dimensions[letter].width = width
    ws["A1"] = "Thread functions for this workbook"
    styles.apply(known, ws["A1"], "thread")
    ws.row_dimensions[1].height = 30
    for row, paragraph in enumerate(ABOUT, start=2):
        ws.merge_cells(f"A{row}:{last}{row}")
        ws[f"A{row}"] = paragraph
        styles.apply(known, ws[f"A{row}"], "body")
        ws.row_dimensions[row].height = 30
    for column, head in enumerate(HEADS, start=1):
        styles.apply(known, ws.cell(HEAD_ROW, column, head), "column_head_left" if column < 4 else "column_head")
    values: dict[str, Value] = {}
    for row, one in enumerate(rows, start=HEAD_ROW + 1):
        values |= _example(ws, known, row, one)
    end = HEAD_ROW + len(rows)
    counted = f"D{HEAD_ROW - 1}"
    ws[counted] = f'=COUNTIF(F{HEAD_ROW + 1}:F{end},"{AGREES}")&" of {len(rows)} examples agree"'
    styles.apply(known, ws[counted], "note_bold")
    values[counted] = f"{len(rows)} of {len(rows)} examples agree"
    _beyond(ws, known, end + 2, [one.record.name for one in rows], last)
    _paper(ws, f"{HEAD_ROW}:{HEAD_ROW}")
    ws.freeze_panes = f"A{HEAD_ROW + 1}"
    return values, [f"D{row}" for row in range(HEAD_ROW + 1, end + 1)]


def _example(ws: Worksheet, known: styles.Known, row: int, one: Shown) -> dict[str, Value]:
    texts = (one.record.signature, one.record.summary, one.call)
    for column, (words, look) in enumerate(zip(texts, ("row_bold_words", "list_aside", "list_aside")), start=1):
        cell = ws.cell(row, column, words)
        cell.data_type = "s"
        styles.apply(known, cell, look)
    live, printed, judged = (ws.cell(row, column) for column in (4, 5, 6))
    live.value = f"={one.formula}"
    printed.value = one.expected
    judged.value = f"={text(examples.verdict(Cell(0, -2), one.expected), row, 6)}"
    styles.apply(known, live, "row_number_bold", "0.0#####")
    styles.apply(known, printed, "row_number", "@")
    styles.apply(known, judged, "row_centred")
    lines = max(-(-len(words) // int(width * LETTERS_A_LINE)) for words, width in zip(texts, WIDTHS))
    ws.row_dimensions[row].height = LINE * max(lines, len(one.record.signature) // 26 + 1) + 4
    value = one.value if isinstance(one.value, (float, str)) else float(str(one.value))
    return {live.coordinate: value, judged.coordinate: AGREES}


def _beyond(ws: Worksheet, known: styles.Known, row: int, there: Sequence[str], last: str) -> None:
    """The functions of the catalogue that are not here."""
    missing = [record.name for record in RECORDS if record.name not in there]
    ws.merge_cells(f"A{row}:{last}{row}")
    ws[f"A{row}"] = f"Not here, for they need the add-in or Python: {', '.join(missing)}."
    styles.apply(known, ws[f"A{row}"], "note_9")
    ws.row_dimensions[row].height = 3 * LINE


def _paper(ws: Worksheet, repeated: str) -> None:
    ws.page_setup.orientation, ws.page_setup.paperSize = "landscape", ws.PAPERSIZE_A4
    ws.page_setup.fitToWidth, ws.page_setup.fitToHeight = 1, 0
    ws.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    ws.print_title_rows = repeated
    footer = HeaderFooterItem()
    footer.left.text, footer.right.text = "&A", "&F, page &P of &N"
    ws.HeaderFooter.oddFooter = footer
    blocks.lock(ws)
    ws.sheet_view.showGridLines = False


def _threads(ws: Worksheet, known: styles.Known, table: Table) -> dict[str, str]:
    """The three lists side by side; the name of each column with the cells it stands for."""
    ws["A1"] = "Threads that the functions know"
    styles.apply(known, ws["A1"], "thread")
    ws["A2"] = THREADS_ABOUT
    styles.apply(known, ws["A2"], "note_left")
    lines = [[column.of(line) for column in COLUMNS] for line in table.lines]
    columns: dict[str, str] = {}
    start = 1
    heads = [(column.name, column.heading) for column in COLUMNS]
    spelled = [("key", "found as"), ("line", "line"), ("told_apart", "capitals count")]
    shared = [(name, name.replace("_", " ")) for name in type(table.systems[0])._fields]
    for named, rows in ((heads, lines), (spelled, table.spellings), (shared, table.systems)):
        columns |= _list(ws, known, start, named, rows)
        start += len(named) + 1
    for number, column in enumerate(COLUMNS, start=1):
        ws.column_dimensions[get_column_letter(number)].width = column.width
    ws.column_dimensions[get_column_letter(len(COLUMNS) + 2)].width = 24
    _paper(ws, f"{THREADS_HEAD}:{THREADS_HEAD}")
    ws.print_area = f"A1:{get_column_letter(PRINTED)}{THREADS_HEAD + len(lines)}"
    ws.freeze_panes = f"B{THREADS_HEAD + 1}"
    return columns


def _list(
    ws: Worksheet,
    known: styles.Known,
    start: int,
    named: Iterable[tuple[str, str]],
    rows: Sequence[Sequence[Held]],
) -> dict[str, str]:
    ranges = {}
    for column, (name, heading) in enumerate(named, start=start):
        styles.apply(known, ws.cell(THREADS_HEAD, column, heading), "head")
        letter = letters(column)
        first, end = THREADS_HEAD + 1, THREADS_HEAD + len(rows)
        ranges[name] = f"{THREADS_SHEET}!${letter}${first}:${letter}${end}"
    for row, values in enumerate(rows, start=THREADS_HEAD + 1):
        for column, value in enumerate(values, start=start):
            if value is not None:
                ws.cell(row, column, value)
    return ranges
