"""How cells look: a table of looks, number formats by what a cell holds, and the rules that need no colour to be read.

Everything reads in black and white: what is to be typed into has a box and a light shade, a result is bold
without a box, a warning is bold in a box.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.styles.cell_style import StyleArray
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.paper.openpyxl_inside import AnyCell, finished_style, give_style
from workbook_template.sheets import log_words
from workbook_template.sheets.threads_table import LENGTHS

FACE = "Arial"
INK, SHADE, ENTRY, BLACK, WHITE = "FF1A1A1A", "FFE4E4E4", "FFFFF6D6", "FF000000", "FFFFFFFF"
LINE, HAIR, HEAVY = Side("thin", "FF666666"), Side("hair", "FF888888"), Side("medium", BLACK)
BOX = Border(LINE, LINE, LINE, LINE)
ACCENT = Side("medium", "FF1F4E79")
UNDER, UNDER_HAIR = Border(bottom=LINE), Border(bottom=HAIR)

FORMATS: dict[str, dict[str, str]] = {
    "length": LENGTHS,
    "entry": {"in": "0.0000##", "mm": "0.000##"},
    "wire": {"in": "0.00000", "mm": "0.0000"},
    "feed": {"in": '0.0000;"past "0.0000', "mm": '0.000;"past "0.000'},
}
"""Number formats that follow the working unit: sizes, typed sizes (extra digits stay visible), wires, what is left."""

FIXED: dict[str, str] = {
    "count": "0",
    "angle": "0.0#",
    "text": "@",
    "words": "General",
    "date": "yyyy-mm-dd",
    "divisions": '0.0;"past "0.0',
}
"""Number formats that do not. A typed text is kept as text, so that 3/4 does not become a date."""


class Look(NamedTuple):
    """One look of a cell; `size` in points."""

    size: float = 10
    bold: bool = False
    italic: bool = False
    fill: str = ""
    ink: str = INK
    border: Border = Border()
    across: str = "left"
    wrap: bool = False
    locked: bool = True
    down: str = "center"
    indent: int = 0
    shrink: bool = False  # the type of a text too long for its cell


LOOKS: dict[str, Look] = {
    # Five sizes: 9 notes, 11 the body, 14 heads of blocks and the pass plan, 20 the thread, 32 figures at the machine.
    "link": Look(9, ink="FF1F4E79", across="center"),
    "linked": Look(11, ink="FF1F4E79", border=UNDER_HAIR, indent=1),
    "link_here": Look(9, bold=True, across="center", border=Border(bottom=ACCENT)),
    "left_hand": Look(20, bold=True, across="center"),
    "left_hand_14": Look(14, bold=True, across="center"),
    "thread": Look(20, bold=True, shrink=True),
    "section": Look(14, border=Border(bottom=ACCENT), wrap=False),
    "section_right": Look(11, across="right", border=Border(bottom=ACCENT)),
    "column_head": Look(9, across="center", border=UNDER, wrap=True, down="bottom"),
    "column_head_left": Look(9, border=UNDER, wrap=True, down="bottom"),
    "column_head_indented": Look(9, border=UNDER, wrap=True, down="bottom", indent=1),
    "column_head_right": Look(9, across="right", border=UNDER, wrap=True, down="bottom"),
    "step": Look(14, bold=True, wrap=True),
    "body": Look(11, wrap=True),
    "body_fit": Look(11, shrink=True),
    "body_top": Look(11, wrap=True, down="top"),
    "note_9": Look(9, wrap=True),
    "aside": Look(9, wrap=True, indent=1),
    "said": Look(11, bold=True, wrap=True, border=BOX, indent=1),
    "at_machine": Look(32, bold=True, across="center", border=BOX),
    "plan": Look(14, across="center"),
    "plan_bold": Look(14, bold=True, across="center"),
    "listed": Look(11, across="center"),
    "listed_bold": Look(11, bold=True, across="center"),
    "list_text": Look(11, fill=ENTRY, border=BOX, locked=False, wrap=True),
    "list_note": Look(9, fill=ENTRY, border=BOX, locked=False, wrap=True),
    "list_note_number": Look(9, fill=ENTRY, border=BOX, locked=False, across="right"),
    "row_note_number": Look(9, border=UNDER_HAIR, across="right"),
    "list_number": Look(11, fill=ENTRY, border=BOX, locked=False, across="right"),
    "list_words": Look(11, border=UNDER_HAIR, wrap=True),
    "list_aside": Look(9, border=UNDER_HAIR, wrap=True),
    "cell_text": Look(11, fill=ENTRY, border=BOX, locked=False, wrap=True, indent=1),
    "cell_number": Look(11, fill=ENTRY, border=BOX, locked=False, across="right"),
    "tick": Look(11, locked=True, across="center"),
    "tick_typed": Look(11, locked=False, across="center"),
    "row_words": Look(11, border=UNDER_HAIR, wrap=True, indent=1),
    "row_bold_words": Look(11, bold=True, border=UNDER_HAIR, wrap=True),
    "row_note": Look(9, border=UNDER_HAIR, wrap=True, indent=1),
    "row_result": Look(11, bold=True, border=UNDER_HAIR, wrap=True, indent=1),
    "row_number": Look(11, border=UNDER_HAIR, across="right"),
    "row_number_bold": Look(11, bold=True, border=UNDER_HAIR, across="right"),
    "row_centred": Look(11, border=UNDER_HAIR, across="center"),
    "body_small": Look(9, wrap=True, down="top"),
    "note_left": Look(9),
    "note_bold": Look(9, bold=True),
    "asked_number": Look(11, locked=False, across="right", indent=1),
    "asked_part": Look(11, locked=False, across="right"),
    "note_centred": Look(9, across="center"),
    "note_right": Look(9, across="right"),
    "quote_typed": Look(9, fill=ENTRY, border=BOX, locked=False, wrap=True),
    "quote_typed_number": Look(9, fill=ENTRY, border=BOX, locked=False, across="right"),
    "quote_number": Look(9, border=UNDER_HAIR, across="right"),
    "row_note_number_bold": Look(9, bold=True, border=UNDER_HAIR, across="right"),
    "quote_words": Look(9, border=UNDER_HAIR, wrap=True),
    "quote_said": Look(9, indent=1),
    "blank": Look(14, bold=True, across="right"),
    "letter_name": Look(20, shrink=True),
    "letter_rule": Look(9, wrap=True, border=Border(bottom=ACCENT)),
    "letter_rule_right": Look(9, across="right", wrap=True, border=Border(bottom=ACCENT)),
    "limit": Look(20, bold=True, across="right"),
    "main_20": Look(20, bold=True, across="center", border=BOX),
    "figure_right": Look(11, across="right"),
    "plain": Look(),
    "callout": Look(24, bold=True),
    "note": Look(11, wrap=True),
    "block": Look(11, bold=True, fill=SHADE, border=Border(bottom=HEAVY)),
    "head": Look(9, bold=True, border=Border(bottom=LINE), across="center", wrap=True),
    "label": Look(11),
    "label_beside": Look(11, indent=1),
    "label_wrapped": Look(11, wrap=True),
    "label_in": Look(11, indent=1),
    "words_in": Look(11, wrap=True, down="top", indent=1),
    "input": Look(11, fill=ENTRY, border=BOX, locked=False, indent=1),
    "input_number": Look(11, fill=ENTRY, border=BOX, locked=False, across="right", indent=1),
    "result": Look(11, bold=True, across="right"),
    "part_head": Look(9, border=UNDER, wrap=True, down="bottom", indent=1),
    "part_head_right": Look(9, border=UNDER, across="right", wrap=True, down="bottom"),
    "part_callout": Look(11, bold=True, wrap=True),
    "part_step": Look(11, bold=True, wrap=True),
    "part_end": Look(9, indent=1),
    "part_typed": Look(11, fill=ENTRY, border=BOX, locked=False, wrap=True),
    "part_size": Look(11, fill=ENTRY, border=BOX, locked=False, across="right"),
    "part_figure": Look(11, border=UNDER_HAIR, across="right"),
    "part_verdict": Look(11, border=UNDER_HAIR),
    "part_words": Look(9, border=UNDER_HAIR, wrap=True, indent=1),
    "part_used": Look(9, border=UNDER_HAIR, indent=1),
    "label_right": Look(11, across="right", indent=1),
    "table": Look(9, indent=1),
    "box": Look(11, border=BOX),
}


Known = dict[tuple[str, str], StyleArray]
"""The finished styles of one workbook by look and number format."""


def number_format(dimension: str, unit: str) -> str:
    """The number format of a dimension while the working unit is `unit`."""
    return FORMATS[dimension][unit] if dimension in FORMATS else FIXED.get(dimension, dimension)


def apply(known: Known, cell: AnyCell, look: str, form: str = "General") -> None:
    """Give a cell a look. `known` keeps the finished styles of one workbook, as making one is slow."""
    key = (look, form)
    if key not in known:
        wanted = LOOKS[look]
        cell.font = Font(name=FACE, size=wanted.size, bold=wanted.bold, italic=wanted.italic, color=wanted.ink)
        if wanted.fill:
            cell.fill = PatternFill("solid", fgColor=wanted.fill)
        cell.border = wanted.border
        cell.alignment = Alignment(
            horizontal=wanted.across,
            vertical=wanted.down,
            wrap_text=wanted.wrap,
            indent=wanted.indent,
            shrink_to_fit=wanted.shrink,
        )  # fmt: skip
        cell.protection = Protection(locked=wanted.locked)
        cell.number_format = form
        known[key] = finished_style(cell)
    else:
        give_style(cell, known[key])


def ready(known: Known, ws: Worksheet, look: str, form: str = "General") -> StyleArray:
    """The finished style of a look, to be shared by many cells."""
    apply(known, Cell(ws, row=1, column=1), look, form)  # a cell outside the sheet
    return known[look, form]


def unit_rule(form: str) -> DifferentialStyle:
    """The conditional look that only changes the number format."""
    return DifferentialStyle(numFmt=NumberFormat(numFmtId=_format_id(form), formatCode=form))


def _format_id(form: str) -> int:
    """A number for a conditional format's own number format; the same text always gets the same."""
    return _IDS.setdefault(form, 200 + len(_IDS))


_IDS: dict[str, int] = {}

_THIN_BOX = Border(*(Side("thin", BLACK),) * 4)
_DOUBTED = {"font": Font(b=True, i=True, color=BLACK), "border": _THIN_BOX}
_OF_WORDS: dict[str, dict[str, Any]] = {
    "in": {},
    "undecided": {"font": Font(b=True, color=BLACK), "border": Border(bottom=Side("double", BLACK))},
    "high": {"font": Font(b=True, color=WHITE), "fill": PatternFill(bgColor=BLACK, fill_type="solid")},
    "low": {"font": Font(b=True, color=BLACK), "fill": PatternFill(bgColor="FFB8B8B8", fill_type="solid")},
    "check entry": _DOUBTED,
    "check instrument": _DOUBTED,
    "not measured": {"font": Font(i=True, color="FF555555")},
    "replaced": {"font": Font(i=True, strike=True, color="FF555555")},
}
"""How each word of the log looks, beside the sign before it."""


def _worded(word: str) -> DifferentialStyle:
    """The look of a word, with its sign as a number format."""
    form = f'"{log_words.RESULT_WORDS[word].sign} "@'
    return DifferentialStyle(numFmt=NumberFormat(numFmtId=_format_id(form), formatCode=form), **_OF_WORDS[word])


WORDS = {word: _worded(word) for word in _OF_WORDS}
"""The looks of the words of the log."""

USED_ROW = DifferentialStyle(border=Border(bottom=Side("hair", "FF888888")))
USED_TICK = DifferentialStyle(border=Border(*(Side("thin", "FF666666"),) * 4))
"""Lines of the pass plan, for the rows in use alone."""

OLD_TICK = DifferentialStyle(
    font=Font(b=True, i=True), border=USED_TICK.border, numFmt=unit_rule(';;;"old"').numFmt
)  # fmt: skip
"""The look of a tick that was made for another thread."""

BOXED = DifferentialStyle(font=Font(b=True, i=True), border=_THIN_BOX)
"""The look of what wants to be seen to, less loud than the banner."""

TYPED_ONCE = DifferentialStyle(font=Font(i=True, color="FF707070"))
"""The look of what a row uses although it was typed elsewhere, once for all."""

ASKED = DifferentialStyle(fill=PatternFill(bgColor=ENTRY, fill_type="solid"), border=BOX)
"""The look of an entry that only some threads ask for, while one of them is chosen."""

BANNER = DifferentialStyle(font=Font(b=True, color=WHITE), fill=PatternFill(bgColor=BLACK, fill_type="solid"))
"""The look of the left-hand words when there are any."""

MARKS: dict[str, DifferentialStyle] = {
    "left_hand": BANNER,
    "asked": ASKED,
    "boxed": BOXED,
    "bold": DifferentialStyle(font=Font(b=True)),
    "typed_once": TYPED_ONCE,
    "row_used": USED_ROW,
    "tick_used": USED_TICK,
    "tick_old": OLD_TICK,
    **WORDS,
}
"""The looks that cells take while a condition holds, by the names that the sheets use."""
