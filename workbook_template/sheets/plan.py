"""The pass plan on the sheet Setup: two blocks on the page, copied from the working columns to the right of it."""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.formatting.rule import Rule
from openpyxl.utils import column_index_from_string
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import at, given, in_table, known, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book, Check
from workbook_template.sheets import plan_figures
from workbook_template.sheets.plan_figures import PASSES, SPRINGS

FIRST = 10
LAST = FIRST + PASSES + SPRINGS - 1


HALF = (PASSES + SPRINGS) // 2
PAGE = 9
"""The first row on the page: the plan stands there in two blocks side by side, copied from the working columns."""

BLOCKS = (("F", "G", "H", "I", "J"), ("K", "L", "M", "N", "O"))
HEADS = ("pass", "turn by", when(the.dial_differs, say("dial, ", the.dial_own_unit), "reading"), "diameter", "done")
"""The reading is that of the lathe's own dial where it reads something else."""


class Column(NamedTuple):
    """A working column: where it stands, what it holds and how it is shown."""

    letter: str
    name: str
    meaning: str
    dimension: str = "length"
    role: str = "result"


COLUMNS = (
    Column("U", "pass", "number of the pass", "count"),
    Column("V", "radial", "radial infeed of the pass"),
    Column("W", "radial_total", "radial infeed since touching"),
    Column("X", "travel", "compound travel of the pass"),
    Column("Y", "reading", "compound reading after the pass"),
    Column("Z", "diameter", "diameter at the tool's tip after the pass"),
    Column("AA", "depth", "compound depth before rounding after the pass", "words", "working"),
    Column("AB", "steps", "the same, no pass more than the one before it; divisions of a dial", "words", "working"),
    Column("AM", "divisions", "divisions of the dial in the pass; empty without a dial", "count"),
    Column("AN", "dial", "what the dial of the lathe reads, where it reads another unit or diameters", "words",
           "working"),
)  # fmt: skip
NUMBER = {column.name: column_index_from_string(column.letter) for column in COLUMNS}

TICK = Check("list", "callout", refusal="Choose the thread from the list: a tick is for one thread alone.")
TICK_PROMPT = (
    "Pass done: choose the thread from the list (Alt and arrow down). It shows as x. For any other thread it shows as "
    "old, and the sheet asks for it to be cleared."
)


def build(book: Book, ws: Worksheet) -> None:
    """The plan: words and two blocks on the page, the arithmetic to the right of it."""
    blocks.heading(book, ws, "F6:O6", "Passes")
    words = plan_figures.words()
    blocks.result(book, ws, "F7:O7", "plan_words", "the plan in words, or why there is none", words, look="words")
    for letter, name, meaning, dimension, role in COLUMNS:
        blocks.write(book, ws, f"{letter}{FIRST - 1}", name.replace("_", " "), "head")
        unit = blocks.IN_UNIT.get(dimension, "")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", f"plan_{name}", meaning, unit=unit, role=role)
        if unit:
            blocks.follow_unit(book, ws, f"{letter}{FIRST}:{letter}{LAST}", dimension)
    for row in range(FIRST, LAST + 1):
        formulas = plan_figures.of_pass(row - FIRST + 1)
        for letter, name, _, dimension, _ in COLUMNS:
            formula = in_table(formulas[name], NUMBER, NUMBER[name], FIRST, LAST)
            blocks.write(book, ws, f"{letter}{row}", formula, "row", styles.number_format(dimension, book.unit))
    for number, letters in enumerate(BLOCKS):
        _block(book, ws, letters, FIRST + number * HALF, "" if number == 0 else "_more")


def _printed(source: int) -> tuple[Node, ...]:
    """The cells of a pass on the page, but for the tick, from its row of the working columns."""
    cell = {column.name: at(f"{column.letter}{source}") for column in COLUMNS}
    divisions, dial = cell["divisions"], cell["dial"]
    of_dial = xl.FIXED(dial, when(the.dial_own_unit.same("mm"), 3, 4), True)
    return (
        cell["pass"],
        when(known(divisions), say(divisions, " div."), cell["travel"]),
        when(known(dial), of_dial, cell["reading"]),
        cell["diameter"],
    )


def _block(book: Book, ws: Worksheet, letters: tuple[str, ...], source: int, more: str) -> None:
    """One half of the plan on the page, from a row of the working columns on."""
    top, bottom = PAGE, PAGE + HALF - 1
    for letter, head in zip(letters, HEADS):
        words = when(given(at(f"{letters[0]}{top}")), head) if more else head
        blocks.write(book, ws, f"{letter}{top - 1}", words, "head")
    for row in range(top, bottom + 1):
        for letter, formula in zip(letters, _printed(source + row - top)):
            look = "row_bold" if letter == letters[2] else "row"
            form = styles.number_format("count" if letter == letters[0] else "length", book.unit)
            blocks.write(book, ws, f"{letter}{row}", formula, look, form)
        blocks.write(book, ws, f"{letters[4]}{row}", None, "input_tick", styles.TICK_FORMAT)
    part = "later passes" if more else "first passes"
    if more:
        blocks.define(book, ws, f"{letters[4]}{top - 1}", "plan_done_head", "heading of the ticks, later passes")
    ref = f"{letters[0]}{top - 1}:{letters[3]}{bottom}"
    blocks.define(book, ws, ref, f"plan_page{more}", f"the plan as printed, {part}")
    ticks = f"{letters[4]}{top}:{letters[4]}{bottom}"
    meaning = f"pass done, {part}: the thread that it was done for"
    blocks.name_input(book, ws, ticks, f"plan_done{more}", meaning, prompt=TICK_PROMPT, check=TICK)
    _lines(book, ws, letters, top, bottom)


def _lines(book: Book, ws: Worksheet, letters: tuple[str, ...], top: int, bottom: int) -> None:
    """Lines under the rows in use. Number format and line are one rule: LibreOffice applies only one of two."""
    used = f"LEN(${letters[0]}{top})>0"
    other = "mm" if book.unit == "in" else "in"
    turned = styles.unit_rule(styles.FORMATS["length"][other])
    turned.border = styles.USED_ROW.border
    lengths = f"{letters[1]}{top}:{letters[3]}{bottom}"
    tick = f"{letters[4]}{top}"
    for ref, look, formula in (
        (f"{letters[0]}{top}:{letters[0]}{bottom}", styles.USED_ROW, used),
        (lengths, turned, f'AND({used},unit="{other}")'),
        (lengths, styles.USED_ROW, used),
        (f"{tick}:{letters[4]}{bottom}", styles.OLD_TICK, f"AND(LEN({tick})>0,NOT(EXACT({tick},callout)))"),
        (f"{tick}:{letters[4]}{bottom}", styles.USED_TICK, used),
    ):
        ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[formula], stopIfTrue=True))
