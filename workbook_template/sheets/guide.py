"""The sheet Guide: how to use the workbook, what its words and boxes mean, cautions, versions, sources."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

import sheetfuncs
from sheetfuncs.sources import SOURCES
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.sheets import cautions, crosscheck

SHEET = "Guide"
USED = (
    *("ASME B1.1", "ASME B1.2", "ASME B1.5", "ASME B1.8", "ASME B1.9", "ASME B1.15", "ASME B1.20.1"),
    *("ISO 68-1", "ISO 261", "ISO 724", "ISO 965-1", "ISO 2903", "ISO 5855", "ISO 228-1", "ISO 7-1", "BS 84", "BS 93"),
    *("ISO 1", "ISO 14253-1", "ILAC-G8", "JCGM 100", "MIL-STD-105E", "ISO 2859-1", "NIST handbook", "Callister"),
    *("Wright", "geometry", "insert makers", "practice"),
)
"""Keys of the sources that the sheets rest on."""

STEPS = (
    (
        "Job: fill in the job. Choose the system, then the size, the class, the hand. The callout at the top reads the "
        "thread back: compare it with the drawing, and LEFT HAND with it."
    ),
    "Job: turn the blank (or make the bore) to the aim. Print the page for the lathe.",
    (
        "Setup: measure the blank. Fill in the tool tip that is in the post and its true size, the compound, the dial, "
        "the passes, the wires. Each box tells what to type when it is chosen."
    ),
    (
        "Setup: gear for the lead, cut by the pass plan, measure before the last passes, and let the measurement "
        "decide: the plan is arithmetic from the blank, not a measurement of the part."
    ),
    (
        "Lathe: describe up to two lathes once, or have the workbook made with their files. It says the levers or "
        "gears, the dial lines and the speed for this thread. Diagnosis: what the readings "
        "say, and what to check first."
    ),
    (
        "Instruments: micrometers, wire sets and gauges with their due dates. The certified mean wire drives the pitch "
        "diameter; a reading by an overdue or unknown instrument is kept, but is never in. GaugeStudy: how much of the "
        "spread is the gauge and the people."
    ),
    (
        "Log: one row a part. Type what was measured; a correction is a new row of the same part that says why. "
        "Charts, Records and Certificate follow by themselves. To print only the rows in use, filter Part for "
        "what is not empty."
    ),
    (
        "Estimate, Costing, Quote, Offer: the price, line by line. Rates, minutes and scrap are the shop's own; what "
        "is empty asks for itself."
    ),
)
LOOKS = (
    ("Boxed and shaded", "an input: type here. All other cells are locked, without a password."),
    ("Bold", "a result, in the working unit."),
    ("–  (a dash)", "the standard sets no such size, or there is nothing to compute from yet."),
    ("for reference", "the standard gives this size for reference only; it is no limit to reject by."),
)
NOTES = (
    "A limit counts as in. So does the limit as it is shown here, rounded to the digits of the sheet.",
    (
        "Believable means within two pitches of the basic size. Reading and direct value may differ by a tenth of the "
        "tolerance; the worst of them decides. Both limits are this project's choice."
    ),
    (
        "Wires: the usual three-wire rule without the lead angle term; for several starts on a small diameter "
        "that term is no longer small."
    ),
    'A special size that the list lacks is added when the workbook is made: new FILE.xlsx --thread "0.9-14 UNS-2A".',
)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 19, "B": 84, "D": 22})
    blocks.write(book, ws, "A1:B1", "How to use this workbook", "callout")
    ws.row_dimensions[1].height = 32
    row = 1
    for title, lines in (
        ("Step by step", [(str(number), text) for number, text in enumerate(STEPS, start=1)]),
        ("What the looks mean", list(LOOKS)),
        ("Words of the log", [(f"{one.sign} {word}", one.meaning) for word, one in styles.RESULT_WORDS.items()]),
        ("Worth knowing", [("", text) for text in NOTES]),
        ("Cautions", [("", text) for text in cautions.CAUTIONS]),
        ("Sources", [(key, SOURCES[key]) for key in USED]),
        ("Versions", [("sheetfuncs", sheetfuncs.__version__), ("built on", book.built_on)]),
    ):
        row += 2
        blocks.heading(book, ws, f"A{row}:B{row}", title)
        ws.row_dimensions[row - 1].height = 9
        for left, right in lines:
            row += 1
            blocks.write(book, ws, f"A{row}", left, "guide_left")
            blocks.write(book, ws, f"B{row}", right, "guide")
            ws.row_dimensions[row].height = 13.5 * -(-len(right) // 108) + 3
    for name, ref, meaning in (
        ("sheetfuncs_version", f"B{row - 1}", "version of the functions that filled the table"),
        ("built_on", f"B{row}", "date of the build"),
    ):
        blocks.define(book, ws, ref, name, meaning)
    ws.row_dimensions[row + 1].height = 9
    row = crosscheck.build(book, ws, row + 2)
    blocks.page(ws, f"A1:B{row}")
    blocks.lock(ws)
