"""The first article list: every characteristic with its requirement, method, instrument and result.

A characteristic that is not measured, or whose method or instrument is not named, does not pass, and the words under
the list name it. A size needs a number, by an instrument that measures sizes and has it in its range; pass and fail are
for the method gauge: of the pitch diameter and the lead with a thread gauge for this job, of another size with a gauge
that is listed under other.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, log_rows
from workbook_template.blocks import Book, Check

OTHERS = 6
NOISE = "0.0000001"
METHODS = ("over wires", "micrometer", "gauge", "comparator", "thread micrometer", "caliper", "by eye", "other")
PASSING = ("in", "passes", "recorded")


class Row(NamedTuple):
    """One characteristic of every thread; empty `low` and `high`: typed on the sheet."""

    key: str
    label: str
    requirement: str
    low: str
    high: str
    typed: bool = False


def _limited(which: str) -> Row:
    """A diameter; a size that the standard gives for reference is no limit to judge by."""

    def limit(end: str) -> str:
        return f'IF(AND(ISNUMBER({which}_{end}),{which}_{end}_note=""),{which}_{end},"")'

    words = (
        f'IF(AND(ISNUMBER({which}_min),ISNUMBER({which}_max),{which}_min_note="",{which}_max_note=""),"limits of size",'
        f'IF(OR({which}_min_note="for reference",{which}_max_note="for reference"),"for reference","by the standard"))'
    )
    return Row(which, f"{which.capitalize()} diameter", words, limit("min"), limit("max"))


ROWS = (
    _limited("major"),
    _limited("pitch"),
    _limited("minor"),
    Row("lead", "Lead", '"lead "&ROUND(lead,decimals+2)', "", "", typed=True),
    Row("length", "Length of full thread",
        'IF(ISNUMBER(thread_length),"at least, sheet Job","no length on the sheet Job")',
        'IF(ISNUMBER(thread_length),thread_length,"")', '""'),
    Row("hand", "Hand", "hand", '""', '""'),
    Row("blank", "", '"before threading"', 'IF(ISNUMBER(blank_min),blank_min,"")',
        'IF(ISNUMBER(blank_max),blank_max,"")'),
)  # fmt: skip
ALL = len(ROWS) + OTHERS
REFERENCE_ROWS = ("major", "pitch", "minor")
BY_THREAD_GAUGE = ("pitch", "lead")
"""Characteristics that a thread gauge for the job may pass."""

MOST = log_rows.MOST


def build(book: Book, ws: Worksheet, top: int) -> int:
    """Write the block with its heading in row `top`; the last row it takes."""
    blocks.heading(book, ws, f"A{top}:I{top}", "First article: every characteristic")
    heads = ("no.", "characteristic", "requirement", "low", "high", "method", "instrument", "measured", "result")
    for letter, text in zip("ABCDEFGHI", heads):
        blocks.write(book, ws, f"{letter}{top + 1}", text, "head")
    first = top + 2
    other, last = first + len(ROWS), first + ALL - 1
    for number, one in enumerate(ROWS):
        _row(book, ws, first + number, one)
    _others(book, ws, other, last)
    _shared(book, ws, first, last)
    for row in range(first, last + 1):
        ws.row_dimensions[row].height = 24
        blocks.write(book, ws, f"A{row}", row - first + 1, "row", "0")
    _words(book, ws, first, last)
    return last + 4


def _row(book: Book, ws: Worksheet, row: int, one: Row) -> None:
    name = f"article_{one.key}"
    if one.label:
        blocks.write(book, ws, f"B{row}", one.label, "words")
    else:
        title = 'IF(thread_side="internal","Bore","Blank")'
        blocks.result(book, ws, f"B{row}", "article_blank_title", "blank or bore", title, look="words")
    requirement = f'IF(ISNUMBER(thread_row),{one.requirement},"")'
    meaning = f"requirement: {one.label.lower() or 'blank or bore'}"
    blocks.result(book, ws, f"C{row}", f"{name}_requirement", meaning, requirement, look="words")
    for letter, end, formula in (("D", "low", one.low), ("E", "high", one.high)):
        meaning = f"{end} limit: {one.label.lower() or 'blank or bore'}"
        if one.typed:
            blocks.entry(
                book, ws, f"{letter}{row}", f"{name}_{end}", meaning, dimension="entry", check=blocks.LENGTH,
                prompt="The standards of screw threads set no limit of its own for the lead; type that of the drawing, "
                "or write pass or fail after a GO gauge of full length.",
            )  # fmt: skip
        else:
            guarded = f'IF(ISNUMBER(thread_row),{formula},"")'
            blocks.result(book, ws, f"{letter}{row}", f"{name}_{end}", meaning, guarded, dimension="length", look="row")


def _others(book: Book, ws: Worksheet, first: int, last: int) -> None:
    """Rows for what else the drawing asks for."""
    columns = (
        (
            "B",
            "article_other",
            "other characteristic of the drawing",
            "text",
            "What else the drawing asks for, one a row.",
        ),
        ("C", "article_other_requirement", "its requirement", "text", "The requirement as the drawing has it."),
        (
            "D",
            "article_other_low",
            "its low limit",
            "entry",
            "Smallest value, working unit; empty where there is none.",
        ),
        (
            "E",
            "article_other_high",
            "its high limit",
            "entry",
            "Largest value, working unit; empty where there is none.",
        ),
    )
    for letter, name, meaning, dimension, prompt in columns:
        _input_range(book, ws, f"{letter}{first}:{letter}{last}", name, meaning, dimension, blocks.ANYTHING, prompt)


def _shared(book: Book, ws: Worksheet, first: int, last: int) -> None:
    """Method, instrument, measured and result of every row."""
    columns = (
        ("F", "article_method", "method", "text", blocks.one_of(METHODS, "Choose the method from the list."),
         "How it is measured."),
        ("G", "article_instrument", "instrument", "text", blocks.ANYTHING,
         "Number of the instrument, as on the sheet Instruments; none where it is judged by eye."),
        ("H", "article_measured", "measured value", "entry", blocks.ANYTHING,
         "The value in the working unit; pass or fail where the method is gauge; right or left for the hand."),
    )  # fmt: skip
    for letter, name, meaning, dimension, check, prompt in columns:
        ref = f"{letter}{first}:{letter}{last}"
        _input_range(book, ws, ref, name, f"{meaning}, one cell a characteristic", dimension, check, prompt)
    for row in range(first, last + 1):
        blocks.write(book, ws, f"I{row}", f"={result_formula(row, row - first)}", "row_bold")
    blocks.define(book, ws, f"I{first}:I{last}", "article_result", "result, one cell a characteristic")


def _input_range(
    book: Book, ws: Worksheet, ref: str, name: str, meaning: str, dimension: str, check: Check, prompt: str
) -> None:
    for (cell,) in ws[ref]:
        blocks.write(book, ws, cell.coordinate, None, "input_number" if dimension == "entry" else "input", dimension)
    blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)


_GAUGE_UNTIL = {
    "": "INDEX(instrument_until,{0})",
    **dict.fromkeys(BY_THREAD_GAUGE, "MAX(INDEX(gauge_until,{0},1),INDEX(gauge_until,{0},2))"),
}
_PLAIN_UNTIL = 'IF(INDEX(instrument_kind,{0})&""="other",INDEX(instrument_until,{0}),-1)'
"""Until when a pass or fail with the instrument in that row counts; for a size that no thread gauge passes."""


def _in_date(instrument: str, until: str, also: str = "TRUE") -> str:
    """Whether an instrument is listed and counts on the day of the examination, and something more about it."""
    found = f"MATCH({blocks.exactly(instrument)},instrument_id,0)"
    return (
        f"IF(AND(ISNUMBER({found}),ISNUMBER(article_day)),AND({until.format(found)}>=article_day,"
        f"INDEX(instrument_since,{found})<=article_day,{also.format(found)}),FALSE)"
    )


def _in_range(method: str, value: str) -> str:
    """Whether a value is in the range of an instrument; over wires the value is not what the micrometer shows."""
    return (
        f'IF({method}="over wires",TRUE,IF(ISNUMBER({value}),AND({value}>=INDEX(instrument_least,{{0}})-{NOISE},'
        f"{value}<=INDEX(instrument_most,{{0}})+{NOISE}),TRUE))"
    )


def result_formula(row: int, number: int) -> str:
    """The result of one characteristic; `number` counts from 0."""
    key = ROWS[number].key if number < len(ROWS) else ""
    low, high, method, instrument, value = (f"{letter}{row}" for letter in "DEFGH")
    gauged = f'OR({value}="pass",{value}="fail")'
    if key == "hand":
        fit = _in_date(instrument, "INDEX(instrument_until,{0})")
    else:
        passing = _in_date(instrument, _GAUGE_UNTIL.get(key, _PLAIN_UNTIL))
        reading = _in_date(instrument, "INDEX(instrument_reads_until,{0})", _in_range(method, value))
        fit = f"IF({gauged},{passing},{reading})"
    bare = '"recorded"' if key in REFERENCE_ROWS else '"no limits"'
    no_number = ",".join(f"AND(LEN({end})>0,NOT(ISNUMBER({end})))" for end in (low, high))
    sized = (
        f'IF(OR({value}<=0,{value}>{MOST},{no_number}),"check entry",'
        f"IF(AND(NOT(ISNUMBER({low})),NOT(ISNUMBER({high}))),{bare},"
        f'IF(IF(ISNUMBER({low}),{value}<MIN({low},ROUND({low},decimals))-{NOISE},FALSE),"low",'
        f'IF(IF(ISNUMBER({high}),{value}>MAX({high},ROUND({high},decimals))+{NOISE},FALSE),"high","in"))))'
    )
    judged = f'IF({value}="pass","passes",IF({value}="fail","fails",IF(ISNUMBER({value}),{sized},"check entry")))'
    if key == "hand":
        judged = f'IF(OR({value}="right",{value}="left"),IF({value}=hand,"in","WRONG HAND"),"check entry")'
    by_eye = f'IF({instrument}="none",{method}="by eye",{fit})'
    trusted = by_eye if key in ("", "hand") else fit  # a size is not judged by eye
    decided = f'IF({trusted},{judged},"check instrument")'
    if key not in ("", "hand"):
        no_size = f'{value}<=0,{value}>{MOST},{method}="gauge",{method}="by eye"'
        wrong = f'IF({gauged},{method}<>"gauge",IF(ISNUMBER({value}),OR({no_size}),FALSE))'
        decided = f'IF({wrong},"check entry",{decided})'
    complete = (
        f'IF(ISBLANK({value}),"not measured",IF(ISBLANK({method}),"no method",IF(ISBLANK({instrument}),"no instrument",'
        f"{decided})))"
    )
    if key:
        return f'IF(ISNUMBER(thread_row),{complete},"")'
    return f'IF(COUNTA(B{row}:H{row})=0,"",IF(ISBLANK(B{row}),"no name",{complete}))'


def _words(book: Book, ws: Worksheet, first: int, last: int) -> None:
    """The sentence under the list, from a running list beside it."""
    blocks.write(book, ws, f"K{first - 1}", "article missing", "head")
    blocks.write(book, ws, f"L{first - 1}", "article failing", "head")
    passing = "".join(f',{{result}}="{word}"' for word in PASSING)
    failing = ',{result}="low",{result}="high",{result}="fails",{result}="WRONG HAND"'
    for row in range(first, last + 1):
        tell = f'IF(LEN(B{row})>0,B{row},"number {row - first + 1}")&" ("&I{row}&")"'
        fails = f"OR({failing[1:]})".format(result=f"I{row}")
        passes = f"OR({passing[1:]})".format(result=f"I{row}")
        for letter, wanted in (("K", f'AND(I{row}<>"",NOT({passes}),NOT({fails}))'), ("L", fails)):
            so_far = '""' if row == first else f"{letter}{row - 1}"
            formula = f'IF({wanted},{so_far}&IF(LEN({so_far})>0,", ","")&{tell},{so_far})'
            blocks.write(book, ws, f"{letter}{row}", f"={formula}", "small")
    for letter, name, meaning in (
        ("K", "article_missing", "characteristics not complete, so far"),
        ("L", "article_failing", "characteristics outside their requirement, so far"),
    ):
        blocks.define(book, ws, f"{letter}{first}:{letter}{last}", name, meaning, role="working")
    listed = f"INDEX(article_missing,{ALL})", f"INDEX(article_failing,{ALL})"
    count = 'COUNTIF(article_result,"?*")'
    words = (
        'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
        f'IF(LEN({listed[1]})>0,"NOT ACCEPTED. Outside the requirement: "&{listed[1]}&"."&'
        f'IF(LEN({listed[0]})>0," Not complete: "&{listed[0]}&".",""),'
        f'IF(LEN({listed[0]})>0,"NOT COMPLETE, so not accepted: "&{listed[0]}&".",'
        'IF(COUNTA(article_serial,article_who)+COUNT(article_day)<3,"NOT COMPLETE, so not accepted: name the part, '
        'who examined it and the day.",'
        f'"ACCEPTED: all "&{count}&" characteristics are recorded and meet their requirement."))))'
    )
    row = last + 1
    blocks.result(
        book, ws, f"A{row}:I{row + 1}", "article_words", "first article in words: accepted, or what is missing", words,
        look="sentence",
    )  # fmt: skip
    ws.row_dimensions[row].height = ws.row_dimensions[row + 1].height = 26
    blocks.write(
        book, ws, f"A{row + 2}:I{row + 2}",
        "A size for reference is recorded, not judged. The instrument must have been in date and fit on that day, by "
        "the sheet Instruments. A limit counts as in, and so does the limit as shown here.", "side",
    )  # fmt: skip
    row += 3
    for letter, name, label, meaning, dimension, check in (
        ("B", "article_serial", "Part, by whom, when", "part examined", "text", blocks.ANYTHING),
        ("D", "article_who", "", "who examined it", "text", blocks.ANYTHING),
        ("F", "article_date", "", "day of the examination", "date", blocks.DAY),
    ):
        if label:
            blocks.write(book, ws, f"{letter}{row}", label, "label")
        left = {"B": "C", "D": "D", "F": "F"}[letter]
        right = {"B": "C", "D": "E", "F": "G"}[letter]
        ref = f"{left}{row}:{right}{row}" if left != right else f"{left}{row}"
        prompt = f"First article: {meaning}."
        blocks.entry(book, ws, ref, name, f"first article: {meaning}", prompt=prompt, dimension=dimension, check=check)
    blocks.result(
        book, ws, f"H{row}:I{row}", "article_date_words", "whether the day of the examination is one",
        blocks.day_words("article_date"), look="mark",
    )  # fmt: skip
    ws.row_dimensions[row].height = 24
    blocks.write(book, ws, f"K{first - 2}", "article day", "small")
    day = f'IF({blocks.is_day("article_date")},INT(article_date),"")'
    blocks.result(book, ws, f"L{first - 2}", "article_day", "day that instruments must be in date", day, role="working")
