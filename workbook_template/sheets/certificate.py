"""The sheet Certificate: one page for a lot, with limits, readings, instruments, the rule and a digest of the data."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    at,
    exactly,
    given,
    joined,
    known,
    length,
    no,
    node,
    say,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.sheets import instruments, log, log_rows
from workbook_template.sheets.certificate_figures import (
    COUNTED,
    FIELDS,
    JUDGED,
    SUMMARY,
    others,
    parts_that_are,
    told,
    verdict,
)
from workbook_template.trade import days

SHEET = "Certificate"
GROUPS, DEEP = 3, 20
LISTED = GROUPS * DEEP
INSTRUMENTS, WIRES = 6, 3


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, dict.fromkeys("ABCDEFGHIJKL", 8.7) | {"M": 3, "N": 3, "O": 22, "P": 12, "Q": 12, "R": 12})
    blocks.write(book, ws, "A1:G1", "Certificate of inspection", "callout")
    blocks.write(book, ws, "H1:I1", "Certificate number", "label")
    blocks.entry(
        book, ws, "J1:L1", "certificate_number", "number of the certificate", prompt="Your number for this certificate."
    )
    blocks.result(
        book, ws, "A2:G2", "callout_certificate", "the thread, as on the sheet Job", the.callout, look="callout"
    )
    blocks.write(book, ws, "H2:I2", "Lot", "label")
    blocks.entry(
        book, ws, "J2:L2", "certificate_lot", "lot that is certified", prompt="Number of the lot; one lot a file."
    )
    ws.row_dimensions[1].height = ws.row_dimensions[2].height = 31
    blocks.result(book, ws, "A3:L3", "certificate_note", "the thread in words", the.thread_note, look="words")
    _fields(book, ws, 4)
    _limits(book, ws, 9)
    _summary(book, ws, 14)
    _parts(book, ws, 20)
    row = 20 + DEEP + 3
    row = _instruments(book, ws, row)
    _close(book, ws, row)
    _behind(book, ws)
    blocks.page(ws, f"A1:L{row + 9}")
    blocks.lock(ws)


def _fields(book: Book, ws: Worksheet, top: int) -> None:
    blocks.heading(book, ws, f"A{top}:L{top}", "The lot")
    for number, (label, one) in enumerate(FIELDS.items()):
        row = top + 1 + number % 4
        label_at, value_at = ("A{0}:B{0}", "C{0}:G{0}") if number < 4 else ("H{0}:I{0}", "J{0}:L{0}")
        blocks.write(book, ws, label_at.format(row), label, "label")
        meaning = f"{one.meaning}, on the certificate"
        blocks.result(book, ws, value_at.format(row), one.name, meaning, one.formula, look="words")
        ws.row_dimensions[row].height = 19
    date_label = when(days.if_no_day(the.certificate_date).same(""), "Date", "Date? 1990 to 2099")
    blocks.result(
        book, ws, f"H{top + 4}:I{top + 4}", "certificate_date_label", "label of the date, and whether it is one",
        date_label, look="label",
    )  # fmt: skip
    blocks.entry(
        book, ws, f"J{top + 4}:L{top + 4}", "certificate_date", "date of the certificate", dimension="date",
        prompt="Date of this certificate, as your spreadsheet program takes dates.",
        check=blocks.DAY,
    )  # fmt: skip


def _limits(book: Book, ws: Worksheet, top: int) -> None:
    blocks.result(
        book, ws, f"A{top}:F{top}", "certificate_unit", "unit of the lengths, in words",
        say("Limits of size, ", the.unit_words), look="block",
    )  # fmt: skip
    blocks.heading(book, ws, f"G{top}:L{top}", "Decision rule and uncertainty")
    for ref, text in (("A{0}:B{0}", ""), ("C{0}:D{0}", "smallest"), ("E{0}:F{0}", "largest")):
        blocks.write(book, ws, ref.format(top + 1), text, "head")
    for row, which in enumerate(("major", "pitch", "minor"), start=top + 2):
        blocks.write(book, ws, f"A{row}:B{row}", f"{which.capitalize()} diameter", "label")
        for ref, end in (("C{0}:D{0}", "min"), ("E{0}:F{0}", "max")):
            name = f"{which}_{end}"
            size, note = the[name], the[f"{name}_note"]
            words = when(known(size), say(length(size), when(note.same("for reference"), " ref.")), "–")
            meaning = f"{name.replace('_', ' ')}, as printed"
            blocks.result(book, ws, ref.format(row), f"certificate_{name}", meaning, words, look="row")
        ws.row_dimensions[row].height = 19
    rule = when(given(the.decision_words), the.decision_words, "No decision rule is chosen on the sheet Log.")
    blocks.result(
        book, ws, f"G{top + 1}:L{top + 4}", "certificate_rule", "decision rule and uncertainty, in words", rule,
        look="words",
    )  # fmt: skip


def _summary(book: Book, ws: Worksheet, top: int) -> None:
    blocks.heading(book, ws, f"A{top}:L{top}", "Pitch diameter of the lot")
    for number, (label, one) in enumerate(SUMMARY.items()):
        left, middle, right = (get_column_letter(3 * number + place) for place in (1, 2, 3))
        blocks.write(book, ws, f"{left}{top + 1}", label, "label")
        blocks.result(
            book, ws, f"{middle}{top + 1}:{right}{top + 1}", one.name, one.meaning, one.formula,
            dimension=one.dimension, look="row_bold",
        )  # fmt: skip
    for number, word in enumerate(COUNTED):
        row, column = top + 2 + number // 4, 3 * (number % 4) + 1
        left, middle, right = (get_column_letter(column + n) for n in range(3))
        blocks.write(book, ws, f"{left}{row}:{middle}{row}", word, "label")
        blocks.result(
            book, ws, f"{right}{row}", parts_that_are(word).name, f"parts whose pitch diameter is: {word}",
            the[f"count_pitch_{word.replace(' ', '_')}"], dimension="count", look="row_bold",
        )  # fmt: skip
    blocks.result(
        book,
        ws,
        f"A{top + 4}:L{top + 4}",
        "certificate_words",
        "how the lot stands, in words",
        verdict(),
        look="sentence",
    )
    for row in range(top + 1, top + 4):
        ws.row_dimensions[row].height = 19
    ws.row_dimensions[top + 4].height = 36


def _again(number: int) -> Node:
    """Whether a row of the log repeats a part, so that it is not counted."""
    return xl.LEFT(xl.INDEX(the.log_words, number), len(log_rows.AGAIN)).same(log_rows.AGAIN)


def _parts(book: Book, ws: Worksheet, top: int) -> None:
    blocks.heading(book, ws, f"A{top}:L{top}", "Each part, in the order logged")
    top_part, last = top + 2, top + 1 + DEEP
    for group in range(GROUPS):
        serial, size, word, end = (get_column_letter(4 * group + n) for n in (1, 2, 3, 4))
        for ref, text in ((serial, "part"), (size, "pitch dia.")):
            blocks.write(book, ws, f"{ref}{top + 1}", text, "head")
        blocks.write(book, ws, f"{word}{top + 1}:{end}{top + 1}", "result", "head")
        for row in range(top_part, last + 1):
            number = group * DEEP + row - top_part + 1
            found, part, reading = (
                xl.INDEX(the[f"log_{what}"], number) for what in ("pitch_result", "serial", "pitch")
            )
            label = when(given(found), when(given(part), part & "", f"row {number + log.HEAD}"))
            blocks.write(book, ws, f"{serial}{row}", label, "row")
            blocks.write(book, ws, f"{size}{row}", when(known(reading), reading), "row", "length")
            blocks.write(book, ws, f"{word}{row}:{end}{row}", when(_again(number), "not counted", found & ""), "row")
        for letter, name, meaning in (
            (serial, "serial", "part"), (size, "pitch", "pitch diameter"), (word, "result", "result"),
        ):  # fmt: skip
            unit = "working unit" if name == "pitch" else ""
            meaning = f"{meaning}, column {group + 1} of the list"
            blocks.define(
                book, ws, f"{letter}{top_part}:{letter}{last}", f"certificate_{name}_{group + 1}", meaning, unit=unit
            )
        for sign in styles.RESULT_WORDS:
            look, formula = styles.RESULT_WORDS[sign].look, [f'${word}{top_part}="{sign}"']
            rule = Rule(type="expression", dxf=look, formula=formula, stopIfTrue=True)
            ws.conditional_formatting.add(f"{word}{top_part}:{end}{last}", rule)
    more = say(the.certificate_left, f" more rows stand on the sheet Log, after its row {LISTED + log.HEAD}.")
    rest = when(the.certificate_left > 0, more, "All rows of the log are listed.")
    row = top + 2 + DEEP
    blocks.result(book, ws, f"A{row}:L{row}", "certificate_rest", "whether all rows are listed", rest, look="side")
    for line in range(top + 2, row):
        ws.row_dimensions[line].height = 16.5


def _instruments(book: Book, ws: Worksheet, top: int) -> int:
    """The instruments and wire sets that the log names, with their certificates; the next free row."""
    blocks.heading(book, ws, f"A{top}:G{top}", "Instruments used")
    blocks.heading(book, ws, f"H{top}:L{top}", "Wire sets used")
    heads = (("A{0}", "number"), ("B{0}:C{0}", "kind"), ("D{0}:E{0}", "certificate"), ("F{0}:G{0}", "laboratory"),
             ("H{0}", "set"), ("I{0}", "certificate"), ("J{0}:K{0}", "laboratory"), ("L{0}", "mean"))  # fmt: skip
    for ref, text in heads:
        blocks.write(book, ws, ref.format(top + 1), text, "head")
    columns = (
        (
            "instrument",
            INSTRUMENTS,
            (("A{0}", "id"), ("B{0}:C{0}", "kind"), ("D{0}:E{0}", "certificate"), ("F{0}:G{0}", "lab")),
        ),
        ("wires", WIRES, (("H{0}", "id"), ("I{0}", "certificate"), ("J{0}:K{0}", "lab"), ("L{0}", "mean"))),
    )
    for kind, rows, parts in columns:
        for ref, field in parts:
            cells = [ref.format(top + 2 + number) for number in range(rows)]
            for number, cell in enumerate(cells, start=1):
                found = xl.MATCH(number, the[f"certificate_{kind}_used"], 0)
                value = xl.INDEX(the[f"{kind}_{field}"], found)
                formula = when(known(found), value if field == "mean" else told(value))
                look, form = ("table_number", "wire") if field == "mean" else ("small", "words")
                blocks.write(book, ws, cell, formula, look, form)
            ref = f"{cells[0].split(':')[0]}:{cells[-1].split(':')[0]}"
            blocks.define(book, ws, ref, f"certificate_{kind}_{field}", f"{kind} used: {field}, one cell each")
    for line in range(top + 2, top + 2 + INSTRUMENTS):
        ws.row_dimensions[line].height = 16
    row = top + 2 + WIRES
    wire = say("Wire of the sheet Setup: ", shown(the.wire_used, the.decimals + 1), " ", the.unit, ". ")
    unknown = say("Rows of the log that name no listed instrument: ", the.certificate_unknown, ".")
    words = say(
        _not_listed(the.certificate_instrument_used, INSTRUMENTS, " more instruments are named in the log. "),
        when(all_of(known(the.wire_used), no(the.no_wires)), wire),
        _not_listed(the.certificate_wires_used, WIRES, " more wire sets. "),
        when(the.certificate_unknown > 0, unknown),
    )
    blocks.result(
        book, ws, f"H{row}:L{row + 2}", "certificate_instrument_words", "what is not listed here", words, look="side"
    )
    return top + 2 + INSTRUMENTS


def _not_listed(numbers: Node, rows: int, words: str) -> Node:
    """How many of those used have no row on the page."""
    return when(xl.MAX(numbers) > rows, say(xl.MAX(numbers) - rows, words))


def _close(book: Book, ws: Worksheet, top: int) -> None:
    """Versions, digest, signatures."""
    blocks.heading(book, ws, f"A{top}:L{top}", "Record")
    on_this_file = "run python -m workbook_template certificate on this file"
    versions = say(
        "Workbook built ", the.built_on, " with sheetfuncs ", the.sheetfuncs_version, ". ",
        when(given(the.certificate_digest),
             f"Digest as typed below: {on_this_file} to see whether it is that of its data.",
             f"No digest yet: {on_this_file} and type what it prints."),
    )  # fmt: skip
    blocks.result(
        book, ws, f"A{top + 1}:L{top + 1}", "certificate_versions", "versions, in words", versions, look="words"
    )
    blocks.write(book, ws, f"A{top + 2}:B{top + 2}", "Digest of the data", "label")
    blocks.entry(
        book, ws, f"C{top + 2}:L{top + 2}", "certificate_digest", "digest of the data of the file",
        prompt="What python -m workbook_template certificate FILE prints for this file. It shows later whether a value "
        "was changed.",
    )  # fmt: skip
    for number, (name, label) in enumerate(
        (("certificate_inspector", "Inspected by"), ("certificate_released", "Released by"))
    ):
        left, right, box = ("A", "F", "C") if number == 0 else ("G", "L", "I")
        blocks.write(book, ws, f"{left}{top + 4}", label, "label")
        blocks.entry(
            book,
            ws,
            f"{box}{top + 4}:{right}{top + 4}",
            name,
            f"{label.lower()}, name",
            prompt=f"{label}: the name in full.",
        )
        blocks.write(book, ws, f"{left}{top + 5}:{right}{top + 6}", None, "sentence")
        blocks.write(book, ws, f"{left}{top + 7}:{right}{top + 7}", "signature and date", "unit")
    blocks.write(
        book, ws, f"A{top + 8}:L{top + 8}",
        "This page reports measurements of the parts named; it makes no statement about their fitness for any use.",
        "side",
    )  # fmt: skip
    blocks.result(
        book, ws, f"A{top + 9}:L{top + 9}", "authority_certificate", "who governs pipe and flight threads",
        the.authority_words, look="side",
    )  # fmt: skip
    for row, height in ((1, 30), (2, 22), (3, 8), (4, 22), (5, 20), (6, 20), (7, 12), (8, 14), (9, 24)):
        ws.row_dimensions[top + row].height = height


def _behind(book: Book, ws: Worksheet) -> None:
    """Figures behind the page, to its right."""
    blocks.heading(book, ws, "O3:R3", "Working figures (not printed)")
    listed = (xl.COUNTIF(the[f"certificate_result_{group}"], "?*") for group in range(1, GROUPS + 1))
    unnamed = the.log_pitch_result.differs("") * the.log_serial.same("")
    figures = (
        Figure("certificate_logged", "rows begun", xl.COUNTIF(the.log_pitch_result, "?*")),
        Figure("certificate_left", "rows begun that the page does not list",
               joined("-", the.certificate_logged, *listed)),
        Figure("certificate_crest_title", "which crest diameter is logged",
               when(the.thread_side.same("internal"), "Bore", "Major diameter")),
        Figure("certificate_crest_in", "crest diameters that are in", the.count_crest_in),
        Figure("certificate_crest_others", "crest diameters that are not in", others("crest")),
        Figure("certificate_ring_in", "gaugings that are in", the.count_ring_in),
        Figure("certificate_ring_others", "gaugings that are not in", others("ring")),
        Figure("certificate_unnamed", "rows begun that name no part", xl.SUMPRODUCT(unnamed)),
        Figure("certificate_unknown", "rows that name no instrument of the list",
               xl.MAX(0, the.certificate_logged - xl.SUM(the.certificate_instrument_rows))),
    )  # fmt: skip
    blocks.working(book, ws, "O", "P", 4, figures)
    _used(book, ws)
    blocks.write(book, ws, "S3", "value", "head")
    for number in range(1, book.rows + 1):
        result = xl.INDEX(the.log_pitch_result, number)
        judged = any_of(*(result.same(word) for word in JUDGED))
        value = when(judged, when(_again(number), "", xl.INDEX(the.log_pitch, number)))
        ws[f"S{number + 3}"] = blocks.formula_text(book, value, number + 3, 19)
    blocks.define(
        book, ws, f"S4:S{3 + book.rows}", "certificate_value", "pitch diameter that is judged, one cell a part",
        unit="working unit", role="working",
    )  # fmt: skip


_READINGS = joined("+", *(the[f"log_{name}"].differs("") for name in log_rows.READINGS))
"""How many readings each row of the log has."""


def _used(book: Book, ws: Worksheet) -> None:
    """Beside each instrument and wire set: in how many rows it is named, and its running number among those."""
    top = 16
    for letter, count_letter, kind, names, rows in (
        ("P", "O", "instrument", "log_instrument_used", instruments.INSTRUMENTS),
        ("Q", "R", "wires", "log_wires", instruments.WIRE_SETS),
    ):
        blocks.write(book, ws, f"{letter}{top - 1}", f"{kind} used", "head")
        blocks.write(book, ws, f"{count_letter}{top - 1}", f"{kind} rows", "head")
        for number in range(1, rows + 1):
            row = top + number - 1
            own = xl.INDEX(the[f"{kind}_id"], number)
            named = xl.SUMPRODUCT(the[names].same(own) * the.log_pitch_result.differs(""))
            if kind == "wires":  # a row that names none was measured with the set on the sheet Setup
                named = named + when(the.wire_set.same(own), xl.SUMPRODUCT(the.log_wires.same("") * (_READINGS > 0)), 0)
            is_first = xl.MATCH(exactly(own), the[f"{kind}_id"], 0).same(number)  # of two with one number
            counted = when(given(own), when(is_first, named, 0), 0)
            blocks.write(book, ws, f"{count_letter}{row}", counted, "small")
            before = xl.MAX(at(f"{letter}{top - 1}:{letter}{row - 1}")) if number > 1 else node(0)
            used = at(f"{count_letter}{row}") > 0
            if kind == "instrument":
                gauged = xl.SUMPRODUCT(the.log_gauge.same(own) * 1) > 0
                used = any_of(used, when(given(own), all_of(is_first, gauged), False))
            blocks.write(book, ws, f"{letter}{row}", when(used, before + 1), "small")
        ref = f"{letter}{top}:{letter}{top + rows - 1}"
        blocks.define(book, ws, ref, f"certificate_{kind}_used", f"running number of the {kind} used", role="working")
        ref = f"{count_letter}{top}:{count_letter}{top + rows - 1}"
        blocks.define(book, ws, ref, f"certificate_{kind}_rows", f"rows of the log with the {kind}", role="working")
