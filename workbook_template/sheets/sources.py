"""The sheet Sources: step by step, worth knowing, the standards and books, versions, the cross-check."""

from __future__ import annotations

from collections.abc import Iterable

import sheetfuncs
from sheetfuncs.sources import SOURCES
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import say
from workbook_template.sheets import cautions, crosscheck
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Line,
    Made,
    Sheet,
    block,
    line,
    shown,
    stack,
    words,
)

SHEET = "Sources"
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
    "Job: turn the blank (or make the bore) to the aim.",
    (
        "Setup: measure the blank. Fill in the tool tip that is in the post and its true size, the compound, the dial, "
        "the passes, the wires. Each box tells what to type when it is chosen."
    ),
    (
        "Card: print both pages for the machine. Gear for the lead, cut by the plan, measure before the last passes, "
        "and let the measurement decide: the plan is arithmetic from the blank, not a measurement of the part."
    ),
    (
        "Lathe: describe up to two lathes once, or have the workbook made with their files. It says the levers or "
        "gears, the dial lines and the speed for this thread. Diagnosis: what the readings "
        "say, and what to check first."
    ),
    (
        "Instruments, Wire sets: micrometers, gauges and wires with their due dates. The certified mean wire drives "
        "the pitch diameter; a reading by an overdue or unknown instrument is kept, but is never in. Gauge study: how "
        "much of the spread is the gauge and the people."
    ),
    (
        "Log: one row a part. Type what was measured; a correction is a new row of the same part that says why. "
        "Charts and Certificate follow by themselves."
    ),
    (
        "Estimate, Costing, Quote, Offer: the price, line by line. Rates, minutes and scrap are the shop's own; what "
        "is empty asks for itself."
    ),
)
NOTES = (
    "A limit counts as in. So does the limit as it is shown here, rounded to the digits of the sheet.",
    (
        "Believable means within two pitches of the basic size. Reading and direct value may differ by a tenth of the "
        "tolerance; the worst of them decides. Both limits are this project's choice."
    ),
    (
        "Wires: where the flanks lean alike the readings hold the lead angle, as the wires lie on the helix; the "
        "constants of handbooks leave it out and differ by that."
    ),
    'A special size that the list lacks is added when the workbook is made: new FILE.xlsx --thread "0.9-14 UNS-2A".',
)


LETTERS = 92
"""Letters that a line of ten columns has room for in small type."""


def _lines(rows: Iterable[tuple[str, str]], more: float = 0) -> tuple[Line, ...]:
    """Two columns of small type, each line so much higher than its letters."""
    return tuple(
        line(words(2, left, "row_note"), words(10, right, "row_note"),
             height=NOTE * -(-len(right) // LETTERS) + more)
        for left, right in rows
    )  # fmt: skip


def _versions(made: Made) -> Line:
    functions = Figure(
        "sheetfuncs_version", "version of the functions that filled the table", say(sheetfuncs.__version__)
    )
    built = Figure("built_on", "date of the build", say(made.built_on))
    return line(words(2, "sheetfuncs", "row_note"), shown(4, functions, "row_note"),
                words(2, "built on", "row_note"), shown(4, built, "row_note"), height=NOTE)  # fmt: skip


def sheet(made: Made) -> Sheet:
    """What the workbook rests on, which is printed; then how to use it."""
    steps = [(str(number), text) for number, text in enumerate(STEPS, start=1)]
    rests_on = stack(
        block(None, line(words(12, "What this workbook rests on", "thread"), height=CALLOUT)),
        block("Standards and books", *_lines((key, SOURCES[key]) for key in USED), _versions(made)),
        block("Worth knowing", *_lines(("", text) for text in NOTES)),
    )
    how = stack(
        block(None, line(words(12, "How to use this workbook", "thread"), height=31.5)),
        block("Step by step", *_lines(steps, 4.5)),
        cautions.cautions(),
        crosscheck.block_of_checks(),
    )
    return Sheet(SHEET, (rests_on, how), working=crosscheck.WORKING, printed_pages=1)
