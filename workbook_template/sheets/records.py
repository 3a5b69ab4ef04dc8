"""The sheet Records: uncertainty budget, first article list, sampling; each prints on a page of its own."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import given, say, the, when
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book
from workbook_template.sheets import budget, first_article
from workbook_template.sheets import sampling as sampling_sheet

SHEET = "Records"
COLUMNS = {"A": 4.5, "B": 27, "C": 19, "D": 12, "E": 14.5, "F": 16, "G": 13.5, "H": 12.5, "I": 15}
WORKING = {"J": 4, "K": 24, "L": 24, "M": 14, "N": 14, "O": 4, "P": 4, "Q": 24}


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, COLUMNS | WORKING)
    last = budget.build(book, ws)
    _title(book, ws, 1, "budget")
    article = last + 2
    article_last = first_article.build(book, ws, article + 3)
    _title(book, ws, article, "article")
    sample = article_last + 2
    sample_last = sampling_sheet.build(book, ws, sample + 3)
    _title(book, ws, sample, "sample")
    areas = (f"A1:I{last}", f"A{article}:I{article_last}", f"A{sample}:I{sample_last}")
    blocks.page(ws, ",".join(areas), landscape=True, rows=0)
    blocks.lock(ws)


def _title(book: Book, ws: Worksheet, row: int, name: str) -> None:
    """Thread, part and job over a page."""
    drawing, revision, job = (when(given(one), one, "–") for one in (the.drawing, the.revision, the.job_number))
    words = say(
        when(given(the.part), the.part, "no part named"), ", drawing ", drawing, " revision ", revision, ", job ", job,
        ", ", the.unit_words,
    )  # fmt: skip
    meaning = "the thread, as on the sheet Job"
    blocks.result(book, ws, f"A{row}:D{row}", f"callout_{name}", meaning, the.callout, look="callout")
    blocks.result(book, ws, f"E{row}:I{row}", f"{name}_job", "part, drawing, job and unit in words", words, look="note")
    ws.row_dimensions[row].height = 34
    ws.row_dimensions[row + 1].height = ws.row_dimensions[row + 2].height = 6
