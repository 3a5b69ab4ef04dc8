"""The sheet GaugeStudy: how much of the spread of readings is the gauge, the people, the parts.

Up to three people read up to ten parts two or three times each. The figures are those of THREAD_GAUGE_STUDY, by average
and range and by analysis of variance; the formulas with their sources stand in `sheetfuncs.gauge_study`.
"""

from __future__ import annotations

from openpyxl.utils import column_index_from_string
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import tables
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    blank,
    first,
    given,
    here,
    in_table,
    known,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks, chart_drawing, styles
from workbook_template.paper.blocks import Book
from workbook_template.sheets.chart import Chart, Series, Stroke
from workbook_template.sheets.gauge_study_figures import (
    COUNTS,
    FIRST,
    HEAD,
    LAST,
    METHODS,
    PARTS,
    PEOPLE,
    SOURCES,
    TRIALS,
    WORKING,
    groups_apart,
    guide,
    in_words,
    of_tolerance,
    range_of,
    when_ready,
)
from workbook_template.trade import days

SHEET = "GaugeStudy"
RESULTS = LAST + 5
SOURCE = (
    "AIAG, Measurement Systems Analysis, 4th edition: average and range (chapter III, section B), analysis of "
    "variance (appendix A), the interaction pooled where its F test does not show it at 5 %; ndc = 1.41 PV / GRR. Per "
    "cent of TV; 6 GRR in per cent of the tolerance. Choose parts that span what the machine makes; no one should "
    "know which part it is or what was read before. THREAD_GAUGE_STUDY gives the same, and takes other numbers of "
    "people and parts."
)

ACROSS, UP = dict(zip("abc", ("AA", "AB", "AC"))), dict(zip("abc", ("AD", "AE", "AF")))
MARKS = {"a": ("circle", "solid"), "b": ("square", "dash"), "c": ("triangle", "sysDot")}


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 15, **dict.fromkeys("BCDEFGHIJ", 8.5), "K": 22, "L": 3, "M": 24, "N": 13})
    blocks.write(book, ws, "A1:K1", "Gauge study", "callout")
    words = say(
        "Readings in ", when(the.unit.same("mm"), "millimetres", "inches"), ". Job ",
        when(given(the.job_number), the.job_number, "–"), when(given(the.part), say(", ", the.part)), ".",
    )  # fmt: skip
    blocks.result(book, ws, "A2:K2", "study_job", "unit, job and part in words", words, look="note")
    _inputs(book, ws)
    blocks.heading(book, ws, f"A{HEAD - 1}:K{HEAD - 1}", "Readings: two or three by each person, of the same parts")
    _readings(book, ws)
    _behind(book, ws)
    last = _results(book, ws)
    blocks.page(ws, f"A1:K{last}")
    blocks.lock(ws)


def _inputs(book: Book, ws: Worksheet) -> None:
    texts = (
        ("A3", "Instrument", "B3:E3", "study_instrument", "number of the instrument that is studied", "text",
         "Number of the instrument, as on the sheet Instruments."),
        ("A4", "What is read", "B4:E4", "study_size", "size that is read in the study", "text",
         "For example: reading over wires, 3/4-16 UNF-2A."),
        ("A5", "Date", "B5:C5", "study_date", "day of the study", "date", "Day of the study, as 2024-03-05."),
    )  # fmt: skip
    for cell, label, ref, name, meaning, dimension, prompt in texts:
        blocks.write(book, ws, cell, label, "label")
        check = blocks.DAY if dimension == "date" else blocks.ANYTHING
        blocks.entry(book, ws, ref, name, meaning, dimension=dimension, prompt=prompt, check=check)
    blocks.result(
        book, ws, "D5:E5", "study_date_words", "whether the date is one", days.if_no_day(the.study_date), look="mark"
    )  # fmt: skip
    blocks.write(book, ws, "F3:J3", "Width of the tolerance, if not the thread's", "label_in")
    blocks.entry(
        book, ws, "K3", "study_tolerance", "width of the tolerance in the study", dimension="entry",
        prompt="Largest less smallest allowed size, in the working unit. Empty: the job's pitch diameter tolerance.",
        check=blocks.LENGTH,
    )  # fmt: skip
    blocks.write(book, ws, "F4:J4", "Width of the tolerance, used", "label_in")
    typed, of_job = the.study_tolerance, the.pitch_tolerance
    used = first((blank(typed), when(known(of_job), of_job)), (known(typed), when(typed > 0, typed)))
    meaning = "width of the tolerance that the study uses"
    blocks.result(book, ws, "K4", "study_tolerance_used", meaning, used, dimension="length")
    for row in (3, 4, 5):
        ws.row_dimensions[row].height = 19
    ws.row_dimensions[1].height = 34
    ws.row_dimensions[6].height = ws.row_dimensions[7].height = 6
    for row in range(FIRST, LAST + 3):
        ws.row_dimensions[row].height = 18


def _readings(book: Book, ws: Worksheet) -> None:
    blocks.write(book, ws, f"A{HEAD}", "person", "label")
    blocks.write(book, ws, f"A{HEAD + 1}", "part", "head")
    blocks.write(book, ws, f"K{HEAD + 1}", "mean of the part", "head")
    for person, letters in PEOPLE.items():
        who = person.upper()
        blocks.entry(
            book, ws, f"{letters[0]}{HEAD}:{letters[2]}{HEAD}", f"study_person_{person}", f"person {who}",
            prompt="Who reads: initials or shift.", value=who,
        )  # fmt: skip
        for trial, letter in enumerate(letters, start=1):
            blocks.write(book, ws, f"{letter}{HEAD + 1}", f"{trial}.", "head")
            ref = f"{letter}{FIRST}:{letter}{LAST}"
            for row in range(FIRST, LAST + 1):
                blocks.write(book, ws, f"{letter}{row}", None, "log_number", styles.number_format("entry", book.unit))
            blocks.follow_unit(book, ws, ref, "entry")
            blocks.name_input(
                book, ws, ref, f"study_{person}_{trial}", f"readings {trial} of person {who}",
                dimension="entry", prompt=f"What person {who} read on this part, reading {trial}.",
            )  # fmt: skip
    for row in range(FIRST, LAST + 1):
        blocks.write(book, ws, f"A{row}", row - FIRST + 1, "row", "0")
    _column(book, ws, "K", when_ready(when(here.part <= the.study_parts, xl.AVERAGE(READ))), "log_result", "wire")
    blocks.define(book, ws, f"K{FIRST}:K{LAST}", "study_part_mean", "mean of each part")
    for offset, (what, label) in enumerate((("mean", "mean"), ("range", "mean range")), start=1):
        row = LAST + offset
        blocks.write(book, ws, f"A{row}", label, "label")
        for person, letters in PEOPLE.items():
            own = the[f"study_{what}_{person}"]
            blocks.result(
                book, ws, f"{letters[0]}{row}:{letters[2]}{row}", f"study_{what}_all_{person}",
                f"{label} of person {person.upper()}", when(xl.COUNT(own) > 0, xl.AVERAGE(own)), dimension="wire",
                look="row_bold",
            )  # fmt: skip


def _column(book: Book, ws: Worksheet, letter: str, formula: Node, look: str, dimension: str = "words") -> None:
    tree = in_table(formula, COLUMNS, column_index_from_string(letter), FIRST, LAST)
    blocks.column(book, ws, letter, FIRST, LAST, tree, look, dimension)


COLUMNS = {
    name: column_index_from_string(letter)
    for name, letter in {
        "part": "A",
        **{f"{person}{trial}": letter for person, own in PEOPLE.items() for trial, letter in enumerate(own, start=1)},
        "part_mean": "K",
        "got": "P",
        **{f"mean_{person}": letter for person, letter in zip(PEOPLE, "RST")},
    }.items()
}
"""Columns that others speak of."""
READ = span(here.a1, here.c3)
"""What was read on a part."""


def _columns() -> dict[str, Figure]:
    """The columns to the right of the page, by their letters."""
    found = {
        "O": Figure("study_used", "number of the part where it is read, else 0",
                    when(xl.COUNTA(READ) > 0, here.part, 0)),
        "P": Figure("study_got", "readings of the part as numbers", xl.COUNT(READ)),
        "Q": Figure("study_short", "1 where readings of the part are missing",
                    when(all_of(here.part <= the.study_parts,
                                here.got.differs(the.study_people * the.study_trials)), 1, 0)),
    }  # fmt: skip
    for number, (person, letters) in enumerate(
        zip(PEOPLE, (("R", "U", "X", "AJ"), ("S", "V", "Y", "AK"), ("T", "W", "Z", "AL"))), start=1
    ):
        who, mean = person.upper(), here[f"mean_{person}"]
        one, two, three = (here[f"{person}{trial}"] for trial in range(1, TRIALS + 1))
        third = when(the.study_trials.same(3), (three - mean) ** 2, 0)
        reads = all_of(here.part <= the.study_parts, node(number) <= the.study_people)
        for letter, name, meaning, formula in zip(
            letters,
            ("mean", "range", "within"),
            ("mean of each part by person", "range of each part by person",
             "squares about the mean of the part and person"),
            (xl.AVERAGE(span(one, three)), range_of(span(one, three)), (one - mean) ** 2 + (two - mean) ** 2 + third),
        ):  # fmt: skip
            found[letter] = Figure(f"study_{name}_{person}", f"{meaning}: {who}", when_ready(when(reads, formula)))
        found[letters[-1]] = Figure(f"study_square_{person}", f"square about the mean of all: {who}", _square(mean))
        found[ACROSS[person]] = Figure(
            f"study_across_{person}", f"across, means of {who}", when(known(mean), here.part, -1)
        )
        found[UP[person]] = Figure(
            f"study_up_{person}", f"up, means of {who}", when(known(mean), mean, the.study_resting)
        )
    found["AM"] = Figure("study_part_square", "square of the mean of the part about the mean of all",
                         _square(here.part_mean))  # fmt: skip
    return found


def _square(mean: Node) -> Node:
    """The square of how far a mean is from that of all."""
    return when(known(mean), (mean - the.study_grand) ** 2)


def _behind(book: Book, ws: Worksheet) -> None:
    """The working figures, to the right of the page."""
    blocks.heading(book, ws, "M2:N2", "Working figures (not printed)")
    ready = (one._replace(formula=when_ready(one.formula)) for one in WORKING)
    for row, one in enumerate((*COUNTS, *ready), start=3):
        blocks.write(book, ws, f"M{row}", one.name.removeprefix("study_").replace("_", " "), "small")
        blocks.result(book, ws, f"N{row}", one.name, one.meaning, one.formula, role="working")
    for letter, one in _columns().items():
        blocks.write(book, ws, f"{letter}{HEAD + 1}", one.name.removeprefix("study_").replace("_", " "), "head")
        _column(book, ws, letter, one.formula, "small")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", one.name, one.meaning, role="working")
    ranges = tables.rows("average_range")[: PARTS - 1]
    for letter, name, column, meaning in (
        ("AH", "list_range_mean", "d2", "mean range of 2 to 10 normal values in standard deviations"),
        ("AI", "list_range_single", "d2_star", "root of the mean square of that range"),
    ):
        blocks.write(book, ws, f"{letter}{HEAD + 1}", column.replace("_star", "*"), "head")
        for row, one in enumerate(ranges, start=FIRST):
            blocks.write(book, ws, f"{letter}{row}", float(one[column]), "small", "0.00000")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{FIRST + len(ranges) - 1}", name, meaning, role="list")


def _results(book: Book, ws: Worksheet) -> int:
    """The table of results, words, chart and source; the last row."""
    row = LAST + 4
    blocks.result(book, ws, f"A{row - 1}:K{row - 1}", "study_words", "the study in words, or what is missing",
                  in_words(), look="sentence")  # fmt: skip
    ws.row_dimensions[row - 1].height = 40
    heads = {"A:C": "standard deviation", "D:E": "average and range", "F": "% of TV", "G:H": "analysis of variance",
             "I": "% of TV", "J:K": ""}  # fmt: skip
    for letters, text in heads.items():
        left, _, right = letters.partition(":")
        blocks.write(book, ws, f"{left}{row}:{right or left}{row}" if right else f"{left}{row}", text, "head")
    ws.row_dimensions[row].height = 17
    for one in SOURCES:
        row += 1
        blocks.write(book, ws, f"A{row}:C{row}", one.label, "label")
        for ref, share, kind, formula in (
            (f"D{row}:E{row}", f"F{row}", "r", one.by_range),
            (f"G{row}:H{row}", f"I{row}", "v", one.by_variance),
        ):
            if formula is None:
                continue
            own, total, method = the[f"study_{one.name}_{kind}"], the[f"study_tv_{kind}"], METHODS[kind]
            blocks.result(book, ws, ref, own.name, f"{one.label}, {method}", when_ready(formula), dimension="wire")
            part = when(known(own), when(total > 0, 100 * own / total))
            meaning = f"{one.label} in per cent of TV, {method}"
            blocks.result(book, ws, share, f"{own.name}_share", meaning, part, dimension="0.0", look="figure")
        _remark(book, ws, row, one.name, one.remark)
    for name, own_name, label, rule, form, remark in (
        ("ndc", "study_ndc_{}", "Groups of parts told apart, ndc", groups_apart, "0", "5 or more wanted"),
        ("grr", "study_grr_{}_tolerance", "6 GRR in per cent of the tolerance", of_tolerance, "0.0",
         guide(the.study_grr_v_tolerance)),
    ):  # fmt: skip
        row += 1
        blocks.write(book, ws, f"A{row}:C{row}", label, "label")
        for ref, kind in ((f"D{row}:E{row}", "r"), (f"G{row}:H{row}", "v")):
            meaning = f"{label}, {METHODS[kind]}"
            blocks.result(
                book, ws, ref, own_name.format(kind), meaning, when_ready(rule(kind)), dimension=form
            )  # fmt: skip
        _remark(book, ws, row, f"{name}_more", remark)
    for line in range(RESULTS, row + 1):
        ws.row_dimensions[line].height = 19
    _draw(book, ws, row + 1, row + 17)
    row += 18
    blocks.write(book, ws, f"A{row}:K{row}", SOURCE, "side")
    ws.row_dimensions[row].height = 52
    return row


def _remark(book: Book, ws: Worksheet, row: int, name: str, remark: Node | str) -> None:
    if isinstance(remark, Node):
        blocks.result(book, ws, f"J{row}:K{row}", f"study_{name}_words", f"remark on {name}", remark, look="side")
    elif remark:
        blocks.write(book, ws, f"J{row}:K{row}", remark, "side")


def _draw(book: Book, ws: Worksheet, top: int, bottom: int) -> None:
    """Means of each part, a line for each person: side by side they tell of the people, crossing of an interaction."""
    lines = tuple(
        Series(
            f"mean of person {person.upper()}",
            f"{ACROSS[person]}{FIRST}:{ACROSS[person]}{LAST}",
            f"{UP[person]}{FIRST}:{UP[person]}{LAST}",
            Stroke(1.0, MARKS[person][1], mark=MARKS[person][0]),
        )
        for person in PEOPLE
    )
    for row in range(top, bottom + 1):
        ws.row_dimensions[row].height = 15
    chart_drawing.add(book, ws, f"A{top}:K{bottom}", Chart(lines, "part", "mean reading", "General", 0.66))
