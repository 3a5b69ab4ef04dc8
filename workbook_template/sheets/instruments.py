"""The sheet Instruments: micrometers, gauges and wire sets, when each is due, and which wires serve the job's thread.

An instrument counts for a measurement from the day of its calibration, where that is typed, to its due date, while it
is not marked unfit; the sheet Log looks here by the number typed into its row. One without a due date does not count:
nobody can say that it was in date.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import column_index_from_string
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import (
    any_of,
    at,
    first,
    in_table,
    joined,
    known,
    no,
    node,
    say,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Text
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book, Check
from workbook_template.sheets.instrument_columns import (
    COLUMNS,
    DAY,
    DUE_SOON_DAYS,
    FIRST,
    INSTRUMENTS,
    LAST,
    MATCH_LIMIT,
    WIRE_COLUMNS,
    WIRE_SETS,
    WIRES_FIRST,
    WIRES_HEAD,
    WIRES_LAST,
    Column,
    unmatched,
)
from workbook_template.trade import gauges
from workbook_template.trade.days import if_no_day, is_day

__all__ = ["COLUMNS", "INSTRUMENTS", "SHEET", "STATES", "WIRES_LAST", "WIRE_COLUMNS", "WIRE_SETS", "build"]

SHEET = "Instruments"
STATES = ("in date", "due soon", "overdue", "unfit", "no due date")
LOOKS = {
    "overdue": styles.BANNER,
    "unfit": styles.BANNER,
    "no due date": styles.BOXED,
    "due soon": DifferentialStyle(font=Font(b=True)),
}
"""The looks of the states that want something done."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    letters = "ABCDEFGHIJKLMN"
    for letter, width in zip(letters, (11, 19, 21, 12, 20, 12, 13, 11, 13, 11, 11, 11, 11, 32)):
        ws.column_dimensions[letter].width = width
    blocks.widths(ws, {"O": 13, "P": 12, "Q": 22, "R": 12, "S": 12, "T": 22, "U": 8})
    blocks.banner(book, ws, "A1:O1", "left_hand_instruments", "left_hand_words")
    blocks.write(book, ws, "A2:I2", "Instruments and wires", "callout")
    blocks.result(
        book, ws, "J2:O2", "callout_instruments", "the thread, as on the sheet Job", the.callout, look="callout"
    )
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 24, 32
    _settings(book, ws)
    _summary(book, ws)
    blocks.heading(book, ws, "P3:T3", "Working figures (not printed)")
    blocks.write(book, ws, "P4", "gauge thread", "small")
    wanted = when(known(the.thread_row), gauges.thread_alone(gauges.normal(the.callout)))
    blocks.result(
        book, ws, "Q4", "gauge_thread", "the job's thread as markings of gauges are compared with it", wanted,
        look="small", role="working",
    )  # fmt: skip
    blocks.heading(book, ws, f"A{FIRST - 2}:O{FIRST - 2}", "Micrometers and gauges")
    _table(book, ws, COLUMNS, FIRST, LAST)
    blocks.result(
        book, ws, f"A{WIRES_HEAD - 1}:O{WIRES_HEAD - 1}", "wires_title", "heading of the wire sets",
        say("Wire sets, and their readings over wires for ", the.callout), look="block",
    )  # fmt: skip
    for name, (left, right), meaning in (
        ("gauge_until", gauges.UNTIL, "last day on which a gauge counts: as GO, as NOT GO"),
        ("gauge_fault", gauges.FAULT, "why a gauge doesn't count after that day: as GO, as NOT GO"),
    ):
        blocks.define(book, ws, f"{left}{FIRST}:{right}{LAST}", name, meaning, role="working")
    _table(book, ws, WIRE_COLUMNS, WIRES_FIRST, WIRES_LAST)
    for top, last in ((FIRST, LAST), (WIRES_FIRST, WIRES_LAST)):
        for word, look in LOOKS.items():
            rule = Rule(type="expression", dxf=look, formula=[f'I{top}="{word}"'], stopIfTrue=True)
            ws.conditional_formatting.add(f"I{top}:I{last}", rule)
    ws.freeze_panes = f"B{FIRST}"
    blocks.page(ws, f"A1:O{WIRES_LAST}", landscape=True)
    blocks.lock(ws)


class Setting(NamedTuple):
    """An input, and beside it what is used for it."""

    name: str
    label: str
    meaning: str
    dimension: str
    check: Check
    value: int | None
    prompt: str
    used: str
    words: Node
    formula: Node


def _settings(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A3:F3", "How due dates are read")
    match = the.wire_match_limit
    rows = (
        Setting(
            "as_of", "As of this day", "day on which the states are read", "date", DAY, None,
            "Day that the states are for. Empty: today.", "as_of_used",
            when(if_no_day(the.as_of).same(""), "day used", "no date: today"),
            when(is_day(the.as_of), xl.INT(the.as_of), xl.TODAY()),
        ),
        Setting(
            "due_soon_days", "Due soon means within, days", "days before the due date that count as soon", "count",
            blocks.whole(0, 366), DUE_SOON_DAYS,
            "Days before its due date from which an instrument is called due soon. Empty: 30 (our choice).",
            "due_soon_used", node("days used"), when(known(the.due_soon_days), the.due_soon_days, DUE_SOON_DAYS),
        ),
        Setting(
            "wire_match_limit", "Wires of a set alike within", "how far the wires of one set may differ", "wire",
            blocks.LENGTH, None,
            "Working unit. Empty: 0.00002 in or 0.0005 mm, common practice for matched sets.",
            "wire_match_used", node("limit used"), when(known(match), when(match > 0, match, MATCH_LIMIT), MATCH_LIMIT),
        ),
    )  # fmt: skip
    for row, one in enumerate(rows, 4):
        blocks.write(book, ws, f"A{row}:B{row}", one.label, "label")
        blocks.entry(
            book, ws, f"C{row}", one.name, one.meaning, prompt=one.prompt, dimension=one.dimension, check=one.check,
            value=one.value,
        )  # fmt: skip
        if isinstance(one.words, Text):
            blocks.write(book, ws, f"D{row}", one.words.value, "unit")
        else:
            blocks.result(book, ws, f"D{row}", f"{one.name}_words", "whether the day is one", one.words, look="unit")
        blocks.result(
            book, ws, f"E{row}:F{row}", one.used, f"{one.meaning}, as used", one.formula, dimension=one.dimension
        )  # fmt: skip
        ws.row_dimensions[row].height = 20


def _summary(book: Book, ws: Worksheet) -> None:
    """How many are in each state, and the numbers of those that must not be used."""
    blocks.heading(book, ws, "H3:O3", "Sorted out")
    for row, (title, name, top, last) in enumerate(
        (("Instruments", "instruments_sorted", FIRST, LAST), ("Wire sets", "wires_sorted", WIRES_FIRST, WIRES_LAST)), 4
    ):
        blocks.write(book, ws, f"H{row}", title, "label")
        blocks.result(
            book, ws, f"I{row}:O{row}", name, f"{title.lower()} sorted by their state, in words",
            sorted_words(top, last), look="words",
        )  # fmt: skip
        ws.row_dimensions[row].height = 30
    blocks.write(book, ws, "H6", "Serving", "label")
    blocks.result(
        book, ws, "I6:O6", "wires_serving", "the wire sets that serve this thread", _serving(), look="words"
    )  # fmt: skip
    blocks.write(book, ws, "A8:O8", HINT, "words")
    ws.row_dimensions[8].height = 30


def _serving() -> Node:
    """The numbers of the wire sets that serve, each with what is wrong with it."""

    def one(row: int) -> Node:
        state = at(f"I{row}")
        doubt = first(
            (unmatched(at(f"J{row}"), at(f"D{row}:F{row}")), " (no matched set)"),
            (any_of(state.same("in date"), state.same("due soon")), ""),
            otherwise=say(" (", state, ")"),
        )
        return when(at(f"K{row}").same("yes"), say(at(f"A{row}"), doubt, "  "))

    taper = when(the.own_taper > 0, "Taper thread: no wires here.", "Internal thread: no wires.")
    best = shown(the.wire_best, the.decimals + 1)
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (the.no_wires, taper),
        (xl.COUNTIF(the.wires_words, "yes").same(0), say("No set serves; the best wire is ", best, " ", the.unit, ".")),
        otherwise=xl.TRIM(joined("&", *(one(row) for row in range(WIRES_FIRST, WIRES_LAST + 1)))),
    )


HINT = (
    "Type the number of an instrument into the rows of the Log. A reading with one that is not listed here, overdue or "
    "not yet calibrated on the day of the measurement, unfit or without a due date is kept, but it can't be in; nor "
    "one outside the range of its instrument. A gauge counts only for its own thread, class and hand: type them as it "
    "is marked. The mean of the certified diameters is the wire the Log computes with: an error in it is three times "
    "as much in the pitch diameter."
)


def sorted_words(first_row: int, last_row: int) -> Node:
    """1 in date, 2 overdue (M-3 M-4)."""
    states = at(f"I{first_row}:I{last_row}")

    def of_state(word: str) -> Node:
        rows = range(first_row, last_row + 1)
        numbers = (when(at(f"I{row}").same(word), say(at(f"A{row}"), " ")) for row in rows)
        count = xl.COUNTIF(states, word)
        listed = "" if word == "in date" else say(" (", xl.TRIM(joined("&", *numbers)), ")")
        return when(count.same(0), "", say(count, f" {word}", listed, ".  "))

    sorted_out = xl.TRIM(joined("&", *(of_state(word) for word in STATES)))
    return when(xl.COUNTA(at(f"A{first_row}:A{last_row}")).same(0), "None listed yet.", sorted_out)


def _formulas(book: Book, columns: tuple[Column, ...], one: Column, top: int, bottom: int) -> list[str]:
    """What the cells of a column hold, from the first row to the last; in a formula `here.due` is wires_due."""
    numbers = {each.name.partition("_")[2]: column_index_from_string(each.letter) for each in columns}
    own = column_index_from_string(one.letter)

    def in_cells(formula: Node) -> Node:
        return in_table(formula, numbers, own, top, bottom)

    if isinstance(one.formula, Node):
        return blocks.column_texts(book, in_cells(one.formula), own, top, bottom)
    if one.formula is None:
        return []
    rows = range(top, bottom + 1)
    return [blocks.formula_text(book, in_cells(one.formula(row - top)), row, own) for row in rows]


def _table(book: Book, ws: Worksheet, columns: tuple[Column, ...], top: int, last: int) -> None:
    for one in columns:
        formulas = _formulas(book, columns, one, top, last)
        look = "head" if one.role == "working" else "log_head"
        at = f"{one.letter}{top - 1}"
        blocks.write(book, ws, f"{at}:O{top - 1}" if one.name == "instrument_words" else at, one.heading, look)
        ref = f"{one.letter}{top}:{one.letter}{last}"
        form = styles.number_format(one.dimension, book.unit)
        for row in range(top, last + 1):
            cell = ws[f"{one.letter}{row}"]
            if one.formula is None:
                look = "log_size" if one.dimension in ("wire", "entry") else "log_typed"
            else:
                look, cell.value = one.look, formulas[row - top]
            styles.apply(book.known, cell, look, form)
            if one.name == "instrument_words":  # the list of wires has one column more
                styles.apply(book.known, ws[f"O{row}"], look, form)
                ws.merge_cells(f"N{row}:O{row}")
        unit = blocks.IN_UNIT.get(one.dimension, "")
        if one.formula is None:
            blocks.name_input(
                book, ws, ref, one.name, f"{one.meaning}, one cell a row", prompt=one.prompt, dimension=one.dimension,
                check=one.check,
            )  # fmt: skip
        else:
            blocks.define(book, ws, ref, one.name, f"{one.meaning}, one cell a row", unit=unit, role=one.role)
        if one.dimension in styles.FORMATS:
            blocks.follow_unit(book, ws, ref, one.dimension)
    ws.row_dimensions[top - 1].height = 28
    for row in range(top, last + 1):
        ws.row_dimensions[row].height = 20
