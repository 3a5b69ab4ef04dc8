"""The sheet Wire sets: certified diameters, due dates, which sets serve the thread of the job."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import first, fixed, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating
from workbook_template.sheets.instrument_columns import WIRE_COLUMNS, WIRE_SETS, sorted_words
from workbook_template.sheets.instruments import LEAST, ROW, STATE_MARKS
from workbook_template.sheets.layout import CALLOUT, NOTE, Made, Sheet, Table, block, line, shown, stack, table, words
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Wire sets"
HINT = (
    "The mean of the certified diameters is the wire that Setup and Log compute with: an error in it is three times as "
    "much in the pitch diameter."
)
WIDTHS = (6.2, 7.7, 8.7, 7.5, 7.5, 7.5, 10.4, 10.4, 4.5, 8.6, 7.5, 6.2, 7.2, 7.2, 14)
"""Widths of the columns in characters: a page in landscape together."""


def _serving() -> Node:
    """The numbers of the wire sets that serve, each with what is wrong with it."""
    best = fixed(the.best_wire, the.decimals + 1)
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (the.no_wires, "Internal thread: no wires."),
        (
            xl.COUNT(the.wires_over_wires_max).same(0),
            say("No set serves; the best wire is ", best, " ", the.unit_text, "."),
        ),
        otherwise=say("Serving: ", xl.TRIM(xl.INDEX(the.wires_serving_so_far, WIRE_SETS))),
    )


def sheet(_: Made) -> Sheet:
    """What is to do on top, then the list."""
    wide = len(WIDTHS)
    readings = say(", and their readings over wires for ", the.callout, when(coating.COATED, ", coated"))
    title = say("Wire sets", when(CHOSEN, readings))
    sorted_out = Figure("wires_sorted", "wire sets sorted by their state, in words", sorted_words("wires", WIRE_SETS))
    serving = Figure("wires_serving", "the wire sets that serve this thread", _serving())
    page = stack(
        block(
            None,
            line(shown(wide, Figure("wires_title", "heading of the wire sets", title), "thread"), height=CALLOUT),
            line(shown(wide, serving, "step"), height=CALLOUT),
            line(shown(wide, sorted_out, "said"), height=CALLOUT),
            line(words(wide, HINT, "note_9"), height=NOTE),
        ),
        table(Table("wires", WIRE_COLUMNS, WIRE_SETS, ROW, CALLOUT, STATE_MARKS, least=LEAST)),
    )
    return Sheet(SHEET, (page,), widths=WIDTHS, landscape=True, user="shop", frozen="wires")
