"""The sheet Certificate: one page for a lot, with limits, readings, instruments, the rule and a digest of the data."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, instruments, log, log_rows, styles
from workbook_template.blocks import Book
from workbook_template.plan import shown

SHEET = "Certificate"
GROUPS, DEEP = 3, 20
LISTED = GROUPS * DEEP
INSTRUMENTS, WIRES = 6, 3
COUNTED = ("in", "undecided", "high", "low", "check entry", "check instrument", "not measured", "replaced")
JUDGED = COUNTED[:4]
WORK = 15
"""Column of the figures behind the page, O."""


def _told(name: str) -> str:
    return f'IF(LEN({name})>0,{name}&"","–")'


FIELDS = (
    ("Customer", "certificate_customer", "customer", _told("customer")),
    ("Part", "certificate_part", "part", _told("part")),
    ("Drawing, revision", "certificate_drawing", "drawing and revision",
     f'{_told("drawing")}&", revision "&{_told("revision")}'),
    ("Material", "certificate_material", "material", _told("material")),
    ("Job", "certificate_job", "job number", _told("job_number")),
    ("Ordered", "certificate_ordered", "parts ordered", 'IF(ISNUMBER(quantity),quantity&" parts","–")'),
    ("Logged, measured", "certificate_made", "parts logged and measured",
     '(certificate_logged-certificate_replaced-parts_again)&" parts logged, "&certificate_n&" judged"'),
)  # fmt: skip
"""Label, name, meaning, formula; the first four on the left, the rest on the right."""

SUMMARY = (
    ("certificate_n", "readings n", "pitch diameters that are judged", "COUNT(certificate_value)", "count"),
    ("certificate_min", "smallest", "smallest pitch diameter",
     'IF(certificate_n>0,MIN(certificate_value),"–")', "length"),
    ("certificate_max", "largest", "largest pitch diameter",
     'IF(certificate_n>0,MAX(certificate_value),"–")', "length"),
    ("certificate_mean", "mean", "mean pitch diameter",
     'IF(certificate_n>0,AVERAGE(certificate_value),"–")', "wire"),
)  # fmt: skip

RULE_WORDS = 'IF(LEN(decision_words)>0,decision_words,"No decision rule is chosen on the sheet Log.")'
_COUNT_NAMES = {word: f"certificate_{word.replace(' ', '_')}" for word in COUNTED}
_BAD = [word for word in COUNTED[1:] if word != "replaced"]


def _listed(which: str, words: list[str]) -> str:
    """2 high, 1 low: what is not in, as a formula that begins with a comma."""
    return "&".join(f'IF({which}_{w.replace(" ", "_")}>0,", "&{which}_{w.replace(" ", "_")}&" {w}","")' for w in words)


_MISSING = "+".join(_COUNT_NAMES[word] for word in _BAD)
_CREST_MISSING, _RING_MISSING = "certificate_crest_others", "certificate_ring_others"
VERDICT = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
    'IF(certificate_logged=0,"No part has been logged yet: this certifies nothing.",'
    f'IF({_MISSING}+{_CREST_MISSING}+{_RING_MISSING}+parts_again=0,"","NOT ALL IN. ")&'
    f'IF({_MISSING}=0,"Pitch diameter: all "&certificate_in&" parts logged are in.",'
    f'"Pitch diameter: "&certificate_in&" in"&{_listed("certificate", _BAD)}&".")&" "&'
    f'certificate_crest_title&": "&IF({_CREST_MISSING}=0,"all in.",certificate_crest_in&" in, "&'
    f'{_CREST_MISSING}&" not.")&IF(certificate_ring_in+{_RING_MISSING}=0,"",'
    f'" Gauges: "&IF({_RING_MISSING}=0,"all "&certificate_ring_in&" in.",'
    f'certificate_ring_in&" in, "&{_RING_MISSING}&" not."))&'
    'IF(parts_again=0,""," Rows that repeat a part and are not counted: "&parts_again&".")&'
    'IF(certificate_unnamed=0,""," Rows that name no part: "&certificate_unnamed&".")&'
    'IF(ISNUMBER(quantity),IF(certificate_in<quantity," "&(quantity-certificate_in)&" of "&quantity&'
    '" ordered are still to be found in.",""),"")))'
)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, dict.fromkeys("ABCDEFGHIJKL", 8.7) | {"M": 3, "N": 3, "O": 22, "P": 12, "Q": 12, "R": 12})
    blocks.write(book, ws, "A1:G1", "Certificate of inspection", "callout")
    blocks.write(book, ws, "H1:I1", "Certificate number", "label")
    blocks.entry(
        book, ws, "J1:L1", "certificate_number", "number of the certificate", prompt="Your number for this certificate."
    )
    blocks.result(
        book, ws, "A2:G2", "callout_certificate", "the thread, as on the sheet Job", "callout", look="callout"
    )
    blocks.write(book, ws, "H2:I2", "Lot", "label")
    blocks.entry(
        book, ws, "J2:L2", "certificate_lot", "lot that is certified", prompt="Number of the lot; one lot a file."
    )
    ws.row_dimensions[1].height = ws.row_dimensions[2].height = 31
    blocks.result(book, ws, "A3:L3", "certificate_note", "the thread in words", "thread_note", look="words")
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
    for number, (label, name, meaning, formula) in enumerate(FIELDS):
        row = top + 1 + number % 4
        label_at, value_at = ("A{0}:B{0}", "C{0}:G{0}") if number < 4 else ("H{0}:I{0}", "J{0}:L{0}")
        blocks.write(book, ws, label_at.format(row), label, "label")
        blocks.result(book, ws, value_at.format(row), name, f"{meaning}, on the certificate", formula, look="words")
        ws.row_dimensions[row].height = 19
    date_label = f'IF({blocks.day_words("certificate_date")}="","Date","Date? 1990 to 2099")'
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
        '"Limits of size, "&unit_words', look="block",
    )  # fmt: skip
    blocks.heading(book, ws, f"G{top}:L{top}", "Decision rule and uncertainty")
    for ref, text in (("A{0}:B{0}", ""), ("C{0}:D{0}", "smallest"), ("E{0}:F{0}", "largest")):
        blocks.write(book, ws, ref.format(top + 1), text, "head")
    for row, which in enumerate(("major", "pitch", "minor"), start=top + 2):
        blocks.write(book, ws, f"A{row}:B{row}", f"{which.capitalize()} diameter", "label")
        for ref, end in (("C{0}:D{0}", "min"), ("E{0}:F{0}", "max")):
            name = f"{which}_{end}"
            size = f'IF(ISNUMBER({name}),{shown(name)}&IF({name}_note="for reference"," ref.",""),"–")'
            blocks.result(
                book,
                ws,
                ref.format(row),
                f"certificate_{name}",
                f"{name.replace('_', ' ')}, as printed",
                size,
                look="row",
            )
        ws.row_dimensions[row].height = 19
    blocks.result(
        book, ws, f"G{top + 1}:L{top + 4}", "certificate_rule", "decision rule and uncertainty, in words", RULE_WORDS,
        look="words",
    )  # fmt: skip


def _summary(book: Book, ws: Worksheet, top: int) -> None:
    blocks.heading(book, ws, f"A{top}:L{top}", "Pitch diameter of the lot")
    for number, (name, label, meaning, formula, dimension) in enumerate(SUMMARY):
        left, right = get_column_letter(3 * number + 1), get_column_letter(3 * number + 2)
        blocks.write(book, ws, f"{left}{top + 1}", label, "label")
        blocks.result(
            book, ws, f"{right}{top + 1}:{get_column_letter(3 * number + 3)}{top + 1}", name, meaning, formula,
            dimension=dimension, look="row_bold",
        )  # fmt: skip
    for number, word in enumerate(COUNTED):
        row, column = top + 2 + number // 4, 3 * (number % 4) + 1
        left, middle, right = (get_column_letter(column + n) for n in range(3))
        blocks.write(book, ws, f"{left}{row}:{middle}{row}", word, "label")
        blocks.result(
            book, ws, f"{right}{row}", _COUNT_NAMES[word], f"parts whose pitch diameter is: {word}",
            f"count_pitch_{word.replace(' ', '_')}", dimension="count", look="row_bold",
        )  # fmt: skip
    blocks.result(
        book,
        ws,
        f"A{top + 4}:L{top + 4}",
        "certificate_words",
        "how the lot stands, in words",
        VERDICT,
        look="sentence",
    )
    for row in range(top + 1, top + 4):
        ws.row_dimensions[row].height = 19
    ws.row_dimensions[top + 4].height = 36


def _again(number: int) -> str:
    """Whether a row of the log repeats a part, so that it is not counted."""
    return f'LEFT(INDEX(log_words,{number}),{len(log_rows.AGAIN)})="{log_rows.AGAIN}"'


def _parts(book: Book, ws: Worksheet, top: int) -> None:
    blocks.heading(book, ws, f"A{top}:L{top}", "Each part, in the order logged")
    first, last = top + 2, top + 1 + DEEP
    for group in range(GROUPS):
        serial, size, word, end = (get_column_letter(4 * group + n) for n in (1, 2, 3, 4))
        for ref, text in ((serial, "part"), (size, "pitch dia.")):
            blocks.write(book, ws, f"{ref}{top + 1}", text, "head")
        blocks.write(book, ws, f"{word}{top + 1}:{end}{top + 1}", "result", "head")
        for row in range(first, last + 1):
            number = group * DEEP + row - first + 1
            found, part = f"INDEX(log_pitch_result,{number})", f"INDEX(log_serial,{number})"
            told = f'IF(LEN({found})>0,IF(LEN({part})>0,{part}&"","row {number + log.HEAD}"),"")'
            reading = f'IF(ISNUMBER(INDEX(log_pitch,{number})),INDEX(log_pitch,{number}),"")'
            blocks.write(book, ws, f"{serial}{row}", f"={told}", "row")
            blocks.write(book, ws, f"{size}{row}", f"={reading}", "row", "length")
            shown_word = f'=IF({_again(number)},"not counted",{found}&"")'
            blocks.write(book, ws, f"{word}{row}:{end}{row}", shown_word, "row")
        for letter, name, meaning in (
            (serial, "serial", "part"), (size, "pitch", "pitch diameter"), (word, "result", "result"),
        ):  # fmt: skip
            unit = "working unit" if name == "pitch" else ""
            meaning = f"{meaning}, column {group + 1} of the list"
            blocks.define(
                book, ws, f"{letter}{first}:{letter}{last}", f"certificate_{name}_{group + 1}", meaning, unit=unit
            )
        for sign in styles.RESULT_WORDS:
            look, formula = styles.RESULT_WORDS[sign].look, [f'${word}{first}="{sign}"']
            rule = Rule(type="expression", dxf=look, formula=formula, stopIfTrue=True)
            ws.conditional_formatting.add(f"{word}{first}:{end}{last}", rule)
    rest = (
        'IF(certificate_left>0,certificate_left&" more rows stand on the sheet Log, after its row '
        f'{LISTED + log.HEAD}.",'
        '"All rows of the log are listed.")'
    )
    row = top + 2 + DEEP
    blocks.result(book, ws, f"A{row}:L{row}", "certificate_rest", "whether all rows are listed", rest, look="side")
    for at in range(top + 2, row):
        ws.row_dimensions[at].height = 16.5


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
            for number, at in enumerate(cells, start=1):
                found = f"MATCH({number},certificate_{kind}_used,0)"
                value = f"INDEX({kind}_{field},{found})"
                shown_value = value if field == "mean" else f'IF(LEN({value})>0,{value}&"","–")'
                formula = f'IF(ISNUMBER({found}),{shown_value},"")'
                blocks.write(
                    book, ws, at, f"={formula}", "table_number" if field == "mean" else "small",
                    "wire" if field == "mean" else "words",
                )  # fmt: skip
            first, last = cells[0].split(":")[0], cells[-1].split(":")[0]
            blocks.define(
                book, ws, f"{first}:{last}", f"certificate_{kind}_{field}", f"{kind} used: {field}, one cell each"
            )
    for at in range(top + 2, top + 2 + INSTRUMENTS):
        ws.row_dimensions[at].height = 16
    row = top + 2 + WIRES
    words = (
        f"IF(MAX(certificate_instrument_used)>{INSTRUMENTS},(MAX(certificate_instrument_used)-{INSTRUMENTS})&"
        '" more instruments are named in the log. ","")&'
        'IF(AND(ISNUMBER(wire_used),NOT(no_wires)),"Wire of the sheet Setup: "&FIXED(wire_used,decimals+1,TRUE)&" "&'
        'unit&". ","")&'
        f'IF(MAX(certificate_wires_used)>{WIRES},(MAX(certificate_wires_used)-{WIRES})&" more wire sets. ","")&'
        'IF(certificate_unknown>0,"Rows of the log that name no listed instrument: "&certificate_unknown&".","")'
    )
    blocks.result(
        book, ws, f"H{row}:L{row + 2}", "certificate_instrument_words", "what is not listed here", words, look="side"
    )
    return top + 2 + INSTRUMENTS


def _close(book: Book, ws: Worksheet, top: int) -> None:
    """Versions, digest, signatures."""
    blocks.heading(book, ws, f"A{top}:L{top}", "Record")
    versions = (
        '"Workbook built "&built_on&" with sheetfuncs "&sheetfuncs_version&". "&IF(LEN(certificate_digest)>0,'
        '"Digest as typed below: run python -m workbook_template certificate on this file to see whether it is that of '
        'its data.",'
        '"No digest yet: run python -m workbook_template certificate on this file and type what it prints.")'
    )
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
        "authority_words", look="side",
    )  # fmt: skip
    for row, height in ((1, 30), (2, 22), (3, 8), (4, 22), (5, 20), (6, 20), (7, 12), (8, 14), (9, 24)):
        ws.row_dimensions[top + row].height = height


def _others(kind: str) -> str:
    """How many results of a kind are neither in nor replaced."""
    return "+".join(f"count_{kind}_{word.replace(' ', '_')}" for word in _BAD)


def _behind(book: Book, ws: Worksheet) -> None:
    """Figures behind the page, to its right."""
    blocks.heading(book, ws, "O3:R3", "Working figures (not printed)")
    listed = "-".join(f'COUNTIF(certificate_result_{group},"?*")' for group in range(1, GROUPS + 1))
    rows = (
        ("certificate_logged", "rows begun", 'COUNTIF(log_pitch_result,"?*")'),
        ("certificate_left", "rows begun that the page does not list", f"certificate_logged-{listed}"),
        ("certificate_crest_title", "which crest diameter is logged",
         'IF(thread_side="internal","Bore","Major diameter")'),
        ("certificate_crest_in", "crest diameters that are in", "count_crest_in"),
        ("certificate_crest_others", "crest diameters that are not in", _others("crest")),
        ("certificate_ring_in", "gaugings that are in", "count_ring_in"),
        ("certificate_ring_others", "gaugings that are not in", _others("ring")),
        ("certificate_unnamed", "rows begun that name no part",
         'SUMPRODUCT((log_pitch_result<>"")*(log_serial=""))'),
        ("certificate_unknown", "rows that name no instrument of the list",
         "MAX(0,certificate_logged-SUM(certificate_instrument_rows))"),
    )  # fmt: skip
    for row, (name, meaning, formula) in enumerate(rows, start=4):
        blocks.write(book, ws, f"O{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"P{row}", name, meaning, formula, role="working")
    _used(book, ws)
    first, last = 4, 3 + log.ROWS
    judged = ",".join(f'INDEX(log_pitch_result,{{0}})="{word}"' for word in JUDGED)
    blocks.write(book, ws, "S3", "value", "head")
    for number in range(1, log.ROWS + 1):
        formula = f'IF(OR({judged.format(number)}),IF({_again(number)},"",INDEX(log_pitch,{number})),"")'
        ws[f"S{number + 3}"] = f"={formula}"
    blocks.define(
        book, ws, f"S{first}:S{last}", "certificate_value", "pitch diameter that is judged, one cell a part",
        unit="working unit", role="working",
    )  # fmt: skip


_ANY_READING = "(" + "+".join(f'(log_{name}<>"")' for name in log_rows.READINGS) + ")"


def _used(book: Book, ws: Worksheet) -> None:
    """Beside each instrument and wire set: in how many rows it is named, and its running number among those."""
    top = 16
    for letter, count_letter, kind, names, rows in (
        ("P", "O", "instrument", "log_instrument", instruments.INSTRUMENTS),
        ("Q", "R", "wires", "log_wires", instruments.WIRE_SETS),
    ):
        blocks.write(book, ws, f"{letter}{top - 1}", f"{kind} used", "head")
        blocks.write(book, ws, f"{count_letter}{top - 1}", f"{kind} rows", "head")
        for number in range(1, rows + 1):
            row = top + number - 1
            own = f"INDEX({kind}_id,{number})"
            named = f'SUMPRODUCT(({names}={own})*(log_pitch_result<>""))'
            if kind == "wires":  # a row that names none was measured with the set on the sheet Setup
                named += f'+IF(wire_set={own},SUMPRODUCT((log_wires="")*({_ANY_READING}>0)),0)'
            first = f"MATCH({blocks.exactly(own)},{kind}_id,0)={number}"  # of two with one number the first counts
            counted = f"=IF(LEN({own})>0,IF({first},{named},0),0)"
            blocks.write(book, ws, f"{count_letter}{row}", counted, "small")
            before = f"MAX({letter}{top - 1}:{letter}{row - 1})" if number > 1 else "0"
            used = f"{count_letter}{row}>0"
            if kind == "instrument":
                used = f"OR({used},IF(LEN({own})>0,AND({first},SUMPRODUCT((log_gauge={own})*1)>0),FALSE))"
            blocks.write(book, ws, f"{letter}{row}", f'=IF({used},{before}+1,"")', "small")
        ref = f"{letter}{top}:{letter}{top + rows - 1}"
        blocks.define(book, ws, ref, f"certificate_{kind}_used", f"running number of the {kind} used", role="working")
        ref = f"{count_letter}{top}:{count_letter}{top + rows - 1}"
        blocks.define(book, ws, ref, f"certificate_{kind}_rows", f"rows of the log with the {kind}", role="working")
