"""Sampling by attributes: lot and quality limit to sample size and acceptance number, and the switching rules.

The tables of ISO 2859-1 and MIL-STD-105E stand to the right of the page, filled from `sheetfuncs.sampling` when the
workbook is made; each plan there is the one that the arrows of the published table lead to.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import sampling
from workbook_template import blocks
from workbook_template.blocks import Book, Check

LOTS = 20
PERCENT = 10
"""Above this the tables speak of nonconformities per 100 parts, no longer of per cent nonconforming."""
RULES = (
    "ISO 2859-1:1999, 9.3 and 9.4 (MIL-STD-105E, 4.7): from normal to tightened when 2 of 5 or fewer lots in a row are "
    "rejected; back when 5 in a row are accepted; stop when 5 lots have been rejected under tightened. Lots presented "
    "again do not count. After a stop: find and mend the cause, then begin a new list, tightened."
)
STATES = ("normal", "tightened")
TABLE_AT = 17
"""Column of the tables, Q."""

INPUTS = (
    ("sample_lot", "Lot size", "parts in the lot", "count", blocks.whole(2, 10_000_000),
     "How many parts are in the lot, 2 or more. Empty: the quantity on the sheet Job.", None),
    ("sample_aql", "Quality limit AQL", "acceptance quality limit, percent nonconforming", "0.0##",
     Check("list", "sample_aql_list", refusal="Choose an AQL from the list; the published tables have no others."),
     "Acceptance quality limit in percent nonconforming, as agreed with the customer. Choose from the list.", None),
    ("sample_level", "Inspection level", "inspection level", "text",
     blocks.one_of(sampling.LEVELS, "Choose the inspection level from the list."),
     "II unless something else is agreed; S-1 to S-4 for small samples.", "II"),
    ("sample_severity", "Inspection", "normal or tightened", "text",
     blocks.one_of(("by the list", *STATES), "Choose by the list, normal or tightened."),
     "by the list: as the lots so far demand. Or choose normal or tightened.", "by the list"),
    ("sample_found", "Nonconforming found", "nonconforming parts in the sample", "count", blocks.whole(0, 10_000_000),
     "How many parts of the sample do not conform. Empty until the whole sample is inspected.", None),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message, value."""

_PLACE = "MATCH(sample_letter,sample_letter_list,0),MATCH(sample_aql,sample_aql_list,0)"


def _plan(what: str) -> str:
    normal, tightened = f"INDEX(sample_normal_{what},{_PLACE})", f"INDEX(sample_tight_{what},{_PLACE})"
    return (
        f"IF(AND(LEN(sample_letter)>0,ISNUMBER(sample_aql)),IF(ISNUMBER(MATCH(sample_aql,sample_aql_list,0)),"
        f'IF(sample_used="normal",{normal},IF(sample_used="tightened",{tightened},"")),""),"")'
    )


WORKING = (
    ("sample_lot_used", "lot size used",
     ('IF(ISBLANK(sample_lot),IF(ISNUMBER(quantity),IF(quantity>=2,quantity,""),""),IF(ISNUMBER(sample_lot),'
     'IF(AND(sample_lot>=2,sample_lot=INT(sample_lot)),sample_lot,""),""))')),
    ("sample_counted", "lots of the list that count", "COUNT(sample_rejected)"),
    ("sample_plan_n", "sample size of the table", _plan("n")),
)  # fmt: skip
RESULTS = (
    ("sample_state", "Inspection by the list", "what the switching rules demand now",
     ('IF(sample_counted=0,IF(OR(sample_start="normal",sample_start="tightened"),sample_start,""),'
     "INDEX(sample_states,sample_counted))")),
    ("sample_used", "Inspection used", "severity that the sample is drawn by",
     ('IF(OR(sample_severity="normal",sample_severity="tightened"),sample_severity,'
     'IF(sample_severity="by the list",sample_state,""))')),
    ("sample_letter", "Code letter", "code letter of the sample size",
     ('IF(AND(ISNUMBER(sample_lot_used),ISNUMBER(MATCH(sample_level,sample_level_list,0))),'
     'INDEX(sample_code_letters,MATCH(sample_lot_used,sample_lot_list,1),MATCH(sample_level,sample_level_list,0)),"")')),
    ("sample_n", "Sample size n", "parts to inspect",
     'IF(ISNUMBER(sample_plan_n),MIN(sample_plan_n,sample_lot_used),"")'),
    ("sample_accept", "Accept up to Ac", "acceptance number", _plan("ac")),
    ("sample_reject", "Reject from Re", "rejection number", 'IF(ISNUMBER(sample_accept),sample_accept+1,"")'),
)  # fmt: skip
"""Name, label, meaning, formula."""

WORDS = (
    'IF(NOT(ISNUMBER(sample_lot_used)),"Next: the lot size, a whole number, 2 or more.",'
    'IF(NOT(ISNUMBER(MATCH(sample_aql,sample_aql_list,0))),"Next: choose the AQL that was agreed.",'
    'IF(LEN(sample_letter)=0,"Next: choose the inspection level.",'
    'IF(COUNTA(sample_results)>sample_counted,"Next: fill in the list of lots without a gap, accepted or rejected.",'
    'IF(sample_used="discontinue","STOP: five lots rejected under tightened inspection. No sampling until the cause is '
    'found and mended; inspect every part.",'
    'IF(NOT(ISNUMBER(sample_n)),"Next: choose by the list, normal or tightened.",'
    'IF(sample_plan_n>=sample_lot_used,"INSPECT ALL "&sample_lot_used&" parts: the sample of "&sample_plan_n&'
    '" reaches the lot. ","Inspect "&sample_n&" of "&sample_lot_used&" parts, drawn at random, "&sample_used&'
    '" inspection. ")&IF(ISBLANK(sample_found),'
    '"Accept the lot with up to "&sample_accept&" nonconforming, reject it from "&sample_reject&".",'
    'IF(NOT(ISNUMBER(sample_found)),"The number found is no number.",'
    "IF(OR(sample_found<0,sample_found>sample_n,sample_found<>INT(sample_found)),"
    '"The number found does not fit the sample.",'
    'IF(sample_found<=sample_accept,"ACCEPT the lot: ","REJECT the lot: ")&sample_found&" found, "&sample_accept&'
    '" allowed.")))))))'
    "))"
)


def build(book: Book, ws: Worksheet, top: int) -> int:
    """Write the block with its heading in row `top`; the last row it takes."""
    _tables(book, ws, top)
    _lots(book, ws, top)
    blocks.heading(book, ws, f"F{top}:I{top}", "Sampling by attributes, single sampling")
    for row, (name, label, meaning, dimension, check, prompt, value) in enumerate(INPUTS, start=top + 1):
        blocks.write(book, ws, f"F{row}:G{row}", label, "label")
        blocks.entry(book, ws, f"H{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
    blocks.write(book, ws, f"I{top + 2}", "percent", "unit")
    below = top + 1 + len(INPUTS)
    for row, (name, label, meaning, formula) in enumerate(RESULTS, start=below):
        blocks.write(book, ws, f"F{row}:G{row}", label, "label")
        blocks.result(book, ws, f"H{row}:I{row}", name, meaning, formula, dimension="words")
    row = below + len(RESULTS)
    blocks.result(
        book, ws, f"F{row}:I{row + 3}", "sample_words", "what to inspect and how the lot stands, in words", WORDS,
        look="sentence",
    )  # fmt: skip
    blocks.write(book, ws, f"F{row + 4}:I{row + 8}", RULES, "side")
    for offset, (name, meaning, formula) in enumerate(WORKING):
        blocks.write(book, ws, f"K{top + 26 + offset}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"M{top + 26 + offset}", name, meaning, formula, role="working")
    return top + LOTS + 2


def _lots(book: Book, ws: Worksheet, top: int) -> None:
    """The lots so far and what the switching rules make of them."""
    blocks.heading(book, ws, f"A{top}:D{top}", "Lots so far, oldest first")
    blocks.write(book, ws, f"A{top + 1}:B{top + 1}", "The list begins with inspection", "words")
    blocks.entry(
        book, ws, f"C{top + 1}", "sample_start", "inspection that the list begins with",
        prompt="normal for a new part; tightened after a stop, or when the last list ended so.",
        check=blocks.one_of(STATES, "Choose normal or tightened."), value="normal",
    )  # fmt: skip
    for letter, text in zip("ABCD", ("", "lot", "result", "then")):
        blocks.write(book, ws, f"{letter}{top + 2}", text, "head")
    first = top + 3
    ws.row_dimensions[top + 1].height = ws.row_dimensions[top + 2].height = 19
    last = first + LOTS - 1
    for row in range(first, last + 1):
        blocks.write(book, ws, f"A{row}", row - first + 1, "row", "0")
        for letter in "BC":
            blocks.write(book, ws, f"{letter}{row}", None, "input", "text")
        ws.row_dimensions[row].height = 19
        for letter, formula in zip("DKLMN", lot_formulas(row, first)):
            blocks.write(book, ws, f"{letter}{row}", f"={formula}", "row" if letter == "D" else "small")
    blocks.name_input(
        book, ws, f"B{first}:B{last}", "sample_lots", "lots, one cell each", dimension="text",
        prompt="Number of the lot, in the order inspected. Leave no row empty in between.",
    )  # fmt: skip
    blocks.name_input(
        book, ws, f"C{first}:C{last}", "sample_results", "result of each lot", dimension="text",
        check=blocks.one_of(("accepted", "rejected"), "Choose accepted or rejected."),
        prompt="accepted or rejected, on the first inspection of the lot.",
    )  # fmt: skip
    blocks.define(book, ws, f"D{first}:D{last}", "sample_states", "inspection after each lot")
    for letter, name, meaning in (
        ("K", "sample_rejected", "1 rejected, 0 accepted"),
        ("L", "sample_run", "lots under this inspection so far"),
        ("M", "sample_accepted_run", "accepted in a row under this inspection"),
        ("N", "sample_rejected_sum", "rejected under this inspection so far"),
    ):
        blocks.write(book, ws, f"{letter}{first - 1}", name.replace("_", " "), "head")
        blocks.define(book, ws, f"{letter}{first}:{letter}{last}", name, f"{meaning}, one cell a lot", role="working")


def lot_formulas(row: int, first: int) -> tuple[str, str, str, str, str]:
    """State after the lot, rejected, lots under this inspection, accepted in a row, rejected under it."""
    above = row - 1
    start = row == first
    before = "sample_start" if start else f"D{above}"
    known = f'IF(C{row}="rejected",1,IF(C{row}="accepted",0,""))'
    rejected = known if start else f'IF(ISNUMBER(K{above}),{known},"")'
    earlier = "sample_start" if row == first + 1 else f"D{row - 2}"
    same = "FALSE" if start else f"D{above}={earlier}"
    recent = "+".join([f"K{row}"] + [f"IF(L{row}>{n},K{row - n},0)" for n in range(1, min(5, row - first + 1))])
    state = (
        f'IF(NOT(ISNUMBER(K{row})),IF(LEN(C{row})>0,"fill in order",""),'
        f'IF({before}="normal",IF({recent}>=2,"tightened","normal"),'
        f'IF({before}="tightened",IF(N{row}>=5,"discontinue",IF(M{row}>=5,"normal","tightened")),{before}&"")))'
    )
    run = f'IF(ISNUMBER(K{row}),IF({same},{"0" if start else f"L{above}"},0)+1,"")'
    accepted = f'IF(ISNUMBER(K{row}),IF(K{row}=1,0,IF({same},{"0" if start else f"M{above}"},0)+1),"")'
    total = f'IF(ISNUMBER(K{row}),IF({same},{"0" if start else f"N{above}"},0)+K{row},"")'
    return state, rejected, run, accepted, total


def _tables(book: Book, ws: Worksheet, top: int) -> None:
    """Code letters and plans, right of the page."""
    row = top
    blocks.write(book, ws, f"{get_column_letter(TABLE_AT)}{row}", "Tables (not printed): " + sampling.SOURCE, "small")
    levels, lots = sampling.LEVELS, sampling.LOT_SIZES
    row = _table(book, ws, row + 1, "sample_lot_list", lots, "sample_level_list", levels, "sample_code_letters",
                 "code letters", lambda lot, level: sampling.code_letter(lot, level))  # fmt: skip
    letters, aqls = sampling.LETTERS, [aql for aql in sampling.AQLS if aql <= PERCENT]
    for number, (severity, what) in enumerate((s, w) for s in ("normal", "tight") for w in ("n", "ac")):

        def cell(letter: str, aql: float, severity: str = severity, what: str = what) -> int:
            plan = sampling.plan(letter, aql, "normal" if severity == "normal" else "tightened")
            return plan[0] if what == "n" else plan[1]

        names = ("sample_letter_list", "sample_aql_list") if number == 0 else ("", "")
        meaning = f"{severity} inspection, {'sample size' if what == 'n' else 'acceptance number'}"
        row = _table(book, ws, row, names[0], letters, names[1], aqls, f"sample_{severity}_{what}", meaning, cell)


def _table(
    book: Book, ws: Worksheet, row: int, side_name: str, side: Iterable[Any], head_name: str, head: Iterable[Any],
    name: str, meaning: str, cell: Any,
) -> int:  # fmt: skip
    """One table with its named head, side and body; the next free row."""
    side, head = list(side), list(head)
    first = get_column_letter(TABLE_AT)
    left, right = get_column_letter(TABLE_AT + 1), get_column_letter(TABLE_AT + len(head))
    top, bottom = row + 1, row + len(side)
    blocks.write(book, ws, f"{first}{row}", meaning, "table")
    for offset, title in enumerate(head, start=TABLE_AT + 1):
        blocks.write(book, ws, f"{get_column_letter(offset)}{row}", title, "table_number")
    for at, label in enumerate(side, start=top):
        blocks.write(book, ws, f"{first}{at}", label, "table")
        for offset, title in enumerate(head, start=TABLE_AT + 1):
            blocks.write(book, ws, f"{get_column_letter(offset)}{at}", cell(label, title), "table_number")
    if side_name:
        blocks.define(book, ws, f"{first}{top}:{first}{bottom}", side_name, f"{meaning}: rows", role="list")
        blocks.define(book, ws, f"{left}{row}:{right}{row}", head_name, f"{meaning}: columns", role="list")
    blocks.define(book, ws, f"{left}{top}:{right}{bottom}", name, meaning, role="list")
    return bottom + 2
