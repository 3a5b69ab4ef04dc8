"""The sheet Log: one row a part, as measured; the result of each row, which can't be typed over."""

from __future__ import annotations

from typing import Any

from openpyxl.formatting.rule import Rule
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, styles
from workbook_template.blocks import Book

SHEET = "Log"
ROWS = 2000
HEAD, FIRST = 11, 12
LAST = FIRST + ROWS - 1

NOISE = "0.0000001"
"""A size on its limit counts as in, whatever the last bits of the arithmetic say."""

COLUMNS = (
    ("serial", "Part", "serial number of the part", "text", 11,
     "Serial or running number of the part. Start the row with it; every part made gets a row."),
    ("reading", "Reading over wires", "reading over wires", "entry", 12,
     "What the micrometer shows over the three wires in use (sheet Setup), working unit. Or fill the next column."),
    ("direct", "Pitch diameter measured", "pitch diameter measured directly", "entry", 12,
     "Pitch diameter from a thread micrometer or a comparator, working unit. Empty when measured over wires."),
    ("crest", "", "major diameter outside, bore inside, as measured", "entry", 12,
     "Major diameter of an outside thread, bore (minor diameter) of an inside one, as measured, in the working unit."),
    ("who", "Measured by", "who measured", "text", 13, "Who measured this part."),
    ("when", "When", "when it was measured", "date", 12, "Date of the measurement."),
    ("instrument", "Instrument", "instrument used", "text", 16, "Number of the micrometer and of the wires used."),
)  # fmt: skip
"""Name, heading, meaning, dimension, width, message."""

HINT = (
    "One row a part. Type what was measured, leave empty what was not. "
    "To print only the rows in use, filter Part for what is not empty."
)
WORDS = tuple(styles.RESULT_WORDS)

WORKING = (
    ("log_reach", "how far from basic a size may be before it counts as another unit", "2*pitch"),
    ("log_agreement", "how far reading and direct value may differ: a tenth of the tolerance",
     'IF(ISNUMBER(pitch_tolerance),pitch_tolerance/10,"")'),
    ("log_pitch_high", "a direct pitch diameter over this is high",
     f'IF(ISNUMBER(pitch_max),MAX(pitch_max,ROUND(pitch_max,decimals))+{NOISE},"")'),
    ("log_pitch_low", "a direct pitch diameter under this is low",
     f'IF(ISNUMBER(pitch_min),MIN(pitch_min,ROUND(pitch_min,decimals))-{NOISE},"")'),
    ("log_reading_high", "a reading over this is high",
     f'IF(ISNUMBER(over_wires_max),MAX(over_wires_max,ROUND(over_wires_max,decimals))+{NOISE},"")'),
    ("log_reading_low", "a reading under this is low",
     f'IF(ISNUMBER(over_wires_min),MIN(over_wires_min,ROUND(over_wires_min,decimals))-{NOISE},"")'),
    ("log_crest_high", "a crest diameter over this is high; an internal thread has a bore",
     f'IF(ISNUMBER(crest_max),MAX(crest_max,ROUND(crest_max,decimals))+{NOISE},"")'),
    ("log_crest_low", "a crest diameter under this is low",
     f'IF(ISNUMBER(crest_min),MIN(crest_min,ROUND(crest_min,decimals))-{NOISE},"")'),
    ("log_crest_basic", "middle of the crest's limits", 'IF(ISNUMBER(blank_aim),blank_aim,"")'),
)  # fmt: skip
"""Name, meaning, formula. A limit as shown, rounded, counts as in: it is what the person at the lathe was told."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    for letter, (_, _, _, _, width, _) in zip("ABCDEFG", COLUMNS):
        ws.column_dimensions[letter].width = width
    blocks.widths(ws, {"H": 13, "I": 17, "J": 17, "K": 4, "L": 22, "M": 13})
    blocks.banner(book, ws, "A1:J1", "left_hand_log", "left_hand_words")
    blocks.result(book, ws, "A2:G2", "callout_log", "the thread, as on the sheet Job", "callout", look="callout")
    words = 'IF(LEN(part)>0,part,"no part named")&", job "&IF(LEN(job_number)>0,job_number,"–")&", "&unit_words'
    blocks.result(book, ws, "H2:J2", "log_words", "part, job and unit in words", words, look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 24, 32
    _limits(book, ws)
    _summary(book, ws)
    _rows(book, ws)
    blocks.heading(book, ws, "L3:M3", "Working figures (not printed)")
    for row, (name, meaning, formula) in enumerate(WORKING, start=4):
        guarded = f'IF(ISNUMBER(thread_row),{formula},"")'
        blocks.write(book, ws, f"L{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"M{row}", name, meaning, guarded, role="working")
    ws.freeze_panes = f"B{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    ws.auto_filter.ref = f"A{HEAD}:J{LAST}"
    blocks.page(ws, f"A1:J{LAST}", landscape=True, rows=0)
    blocks.lock(ws)


def _limits(book: Book, ws: Worksheet) -> None:
    """The limits the results are judged by, on the page."""
    blocks.heading(book, ws, "A3:D3", "Limits")
    for letter, text in zip("ABCD", ("", "over wires", "pitch diameter", "")):
        blocks.write(book, ws, f"{letter}4", text, "head")
    title = 'IF(thread_side="internal","bore","major diameter")'
    blocks.result(book, ws, "D4", "log_crest_title", "which crest diameter is logged", title, look="head")
    for row, end in ((5, "max"), (6, "min")):
        blocks.write(book, ws, f"A{row}", end, "label")
        for letter, name in (("B", f"over_wires_{end}"), ("C", f"pitch_{end}"), ("D", f"crest_{end}")):
            blocks.write(book, ws, f"{letter}{row}", f"={name}", "result", "length")
            blocks.define(
                book,
                ws,
                f"{letter}{row}",
                f"log_{name}",
                f"{name.replace('_', ' ')}, as used here",
                unit="working unit",
            )
    blocks.write(book, ws, "A8:D9", HINT, "words")


def _summary(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "F3:J3", "Count")
    for ref, text in (("F4:G4", ""), ("H4", ""), ("I4", "pitch diameter"), ("J4", "")):
        blocks.write(book, ws, ref, text, "head")
    ws["J4"] = "=log_crest_title"
    for row, word in enumerate(WORDS, start=5):
        blocks.write(book, ws, f"F{row}:H{row}", word, "label")
        for letter, which, range_ in (("I", "pitch diameter", "log_pitch_result"), ("J", "crest", "log_crest_result")):
            name = f"count_{'pitch' if letter == 'I' else 'crest'}_{word.replace(' ', '_')}"
            formula = f'COUNTIF({range_},"{word}")'
            blocks.result(
                book, ws, f"{letter}{row}", name, f"parts whose {which} is: {word}", formula, dimension="count"
            )
    entered = "+".join(f"count_pitch_{word.replace(' ', '_')}" for word in WORDS)
    blocks.write(book, ws, "F10:G10", "parts entered / to make", "label")
    blocks.write(book, ws, "H10", "", "label")
    blocks.result(book, ws, "I10", "parts_entered", "rows begun", entered, dimension="count")
    to_make = 'IF(ISNUMBER(quantity),quantity,"–")'
    blocks.result(book, ws, "J10", "parts_to_make", "parts to make, from the sheet Job", to_make, dimension="count")


def row_formulas(row: int) -> tuple[str, str, str]:
    """Computed pitch diameter, its result, and the result of the crest diameter; the cost is the same in every row."""
    both, all_seven = f"B{row}:C{row}", f"A{row}:G{row}"
    value = f"IF(ISNUMBER(C{row}),C{row},B{row}-wire_constant)"
    pitch = (
        f'IF(COUNT({both})=0,"",IF(COUNT({both})<COUNTA({both}),"",IF(MIN({both})<=0,"",'
        f'IF(NOT(ISNUMBER(log_pitch_high)),"",IF(AND(ISNUMBER(B{row}),NOT(ISNUMBER(wire_constant))),"",'
        f'IF(ABS({value}-pitch_basic)>log_reach,"",'
        f'IF(COUNT({both})<2,{value},IF(ABS(B{row}-wire_constant-C{row})>log_agreement,"",C{row}))))))))'
    )
    judged = (
        f'IF(ISNUMBER(C{row}),IF(C{row}>log_pitch_high,"high",IF(C{row}<log_pitch_low,"low","in")),'
        f'IF(B{row}>log_reading_high,"high",IF(B{row}<log_reading_low,"low","in")))'
    )
    pitch_result = (
        f'IF(COUNTA({all_seven})=0,"",IF(COUNTA({both})=0,"not measured",IF(ISNUMBER(H{row}),{judged},"check entry")))'
    )
    crest_result = (
        f'IF(COUNTA({all_seven})=0,"",IF(ISBLANK(D{row}),"not measured",'
        f'IF(NOT(AND(ISNUMBER(D{row}),ISNUMBER(log_crest_high))),"check entry",'
        f'IF(D{row}<=0,"check entry",IF(ABS(D{row}-log_crest_basic)>log_reach,"check entry",'
        f'IF(D{row}>log_crest_high,"high",IF(D{row}<log_crest_low,"low","in")))))))'
    )
    return pitch, pitch_result, crest_result


def _rows(book: Book, ws: Worksheet) -> None:
    headings = [heading for _, heading, *_ in COLUMNS] + ["Pitch diameter", "Result: pitch diameter", ""]
    for letter, text in zip("ABCDEFGHIJ", headings):
        blocks.write(book, ws, f"{letter}{HEAD}", text, "log_head")
    ws[f"D{HEAD}"] = '=IF(thread_side="internal","Bore","Major diameter")'
    ws[f"J{HEAD}"] = '="Result: "&log_crest_title'
    ws.row_dimensions[HEAD].height = 30
    looks = _row_looks(book, ws)
    empty = (None,) * len(COLUMNS)
    for row in range(FIRST, LAST + 1):  # appended, as the headings are the last row so far
        styles.append(ws, (*empty, *(f"={formula}" for formula in row_formulas(row))), looks)
    for letter, (name, _, meaning, dimension, _, prompt) in zip("ABCDEFG", COLUMNS):
        ref = f"{letter}{FIRST}:{letter}{LAST}"
        unit = blocks.IN_UNIT.get(dimension, "")
        blocks.define(book, ws, ref, f"log_{name}", f"{meaning}, one cell a part", unit=unit, role="input")
        message = DataValidation(
            type=None, allow_blank=True, showInputMessage=True, promptTitle=meaning[:1].upper() + meaning[1:32],
            prompt=prompt, sqref=ref,
        )  # fmt: skip
        ws.add_data_validation(message)
        if dimension in styles.FORMATS:
            blocks.follow_unit(book, ws, ref, dimension)
    results = (
        ("H", "log_pitch", "pitch diameter computed from the entry", "working unit"),
        ("I", "log_pitch_result", f"result for the pitch diameter: {', '.join(WORDS)}", ""),
        ("J", "log_crest_result", f"result for the major diameter (or bore): {', '.join(WORDS)}", ""),
    )
    for letter, name, meaning, unit in results:
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", name, meaning, unit=unit)
    blocks.follow_unit(book, ws, f"H{FIRST}:H{LAST}", "length")
    for word, one in styles.RESULT_WORDS.items():
        rule = Rule(type="expression", dxf=one.look, formula=[f'I{FIRST}="{word}"'], stopIfTrue=True)
        ws.conditional_formatting.add(f"I{FIRST}:J{LAST}", rule)


def _row_looks(book: Book, ws: Worksheet) -> list[Any]:
    """The finished styles of a row."""
    wanted = [
        ("log_number" if dimension == "entry" else "log_input", styles.number_format(dimension, book.unit))
        for _, _, _, dimension, _, _ in COLUMNS
    ]
    wanted += [
        ("log_result", styles.number_format("length", book.unit)),
        ("log_word", "General"),
        ("log_word", "General"),
    ]
    return [styles.ready(book.known, ws, look, form) for look, form in wanted]
