"""The sheet Gauge study: how much of the spread of readings is the gauge, the people, the parts.

Up to three people read up to ten parts two or three times each. The figures are those of THREAD_GAUGE_STUDY, by average
and range and by analysis of variance; the formulas with their sources stand in `sheetfuncs.gauge_study`.
"""

from __future__ import annotations

from sheetfuncs import gauge_study, tables
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    blank,
    first,
    given,
    here,
    known,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import record_head
from workbook_template.sheets.chart import UNDRAWN, Chart, Series, Stretch, Stroke
from workbook_template.sheets.gauge_study_figures import (
    COUNTS,
    INSTRUMENT_FAULT,
    METHODS,
    NAMED,
    PARTS,
    PEOPLE,
    PERCENT,
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
from workbook_template.sheets.inputs import ANYTHING, DAY, IN_OR_MM, LENGTH, Input, believed, in_text, retype
from workbook_template.sheets.layout import (
    HEAD,
    NOTE,
    Block,
    Column,
    Line,
    Made,
    Matrix,
    Piece,
    Sheet,
    Table,
    block,
    deep,
    entry,
    gap,
    line,
    picture,
    shown,
    stack,
    words,
)
from workbook_template.trade import days

SHEET = "Gauge study"
WIDE = 24
"""Columns of the page: the twelve of the grid, halved."""

LOW = 13.5
"""Height of a line of figures: all of the study goes on one page."""

SOURCE = (
    "AIAG, Measurement Systems Analysis, 4th edition: average and range (chapter III, section B), analysis of "
    "variance (appendix A), the interaction pooled where its F test does not show it at 5 %; ndc = 1.41 PV / GRR. Per "
    "cent of TV; 6 GRR in per cent of the tolerance. Choose parts that span what the machine makes; no one should "
    "know which part it is or what was read before. THREAD_GAUGE_STUDY gives the same, and takes other numbers of "
    "people and parts."
)

SIGNS = {"circle": "●", "square": "■", "triangle": "▲"}
STROKES = {
    "a": Stroke(1.0, mark="circle"),
    "b": Stroke(1.0, "dash", mark="square"),
    "c": Stroke(1.0, "sysDot", mark="triangle"),
}

SUBJECT = (
    Input("study_instrument", "Instrument", "number of the instrument that is studied", "text", ANYTHING,
          "Number of the instrument, as on the sheet Instruments."),
    Input("study_size", "Size read", "size that is read in the study", "text", ANYTHING,
          "For example: reading over wires, 3/4-16 UNF-2A."),
    Input("study_date", "Date", "day of the study", "date", DAY, "Day of the study, as 2024-03-05."),
)  # fmt: skip
UNIT = Input(
    "study_unit",
    "read in",
    "unit of the readings and of the width of the tolerance",
    "text",
    IN_OR_MM,
    "in or mm: the unit of the readings, and of a width typed above. It stays when the working unit changes.",
)
TOLERANCE = Input(
    "study_tolerance_width", "Width of the tolerance, if not the thread's", "width of the tolerance in the study",
    "entry", LENGTH,
    "Largest less smallest allowed size, in the unit of the readings. Empty: the job's pitch diameter tolerance.",
)  # fmt: skip


def _subject() -> Block:
    """What is studied, and the width that it is held against."""
    typed = the.study_tolerance_width
    of_job = the.part_tolerance / when(retype(the.study_unit), the.log_other_factor, 1)
    used = Figure(
        "study_tolerance_width_used", "width of the tolerance that the study uses",
        first((blank(typed), when(known(the.part_tolerance), of_job)), (believed(LENGTH, typed), typed)), "length",
    )  # fmt: skip
    is_day = Figure("study_date_words", "whether the date is one", days.if_no_day(the.study_date))
    instrument, size, day = SUBJECT
    return block(
        None,
        line(words(3, instrument.label), entry(4, instrument), gap(1),
             words(3, size.label), entry(13, size)),
        line(words(3, day.label), entry(4, day), shown(5, is_day, "aside"),
             shown(12, INSTRUMENT_FAULT, "aside")),
        line(words(11, TOLERANCE.label), entry(4, TOLERANCE), gap(1), words(3, "used"),
             shown(3, used)),
    )  # fmt: skip


def _person(person: str) -> Input:
    who = person.upper()
    return Input(f"study_person_{person}", who, f"person {who}", "text", ANYTHING, "Who reads: initials or shift.")


def _readings(unit: str) -> Block:
    """Who reads, then a line for each part; what is worked out of them stands hidden beside the page."""
    trials = [words(2, f"{trial}.", "column_head_right") for _ in PEOPLE for trial in range(1, TRIALS + 1)]
    return stack(
        block(
            "Readings: two or three by each person, of the same parts",
            line(
                words(2, "person"), *(entry(6, _person(person), person.upper()) for person in PEOPLE),
                words(2, UNIT.label, "aside"), entry(2, UNIT, unit, "cell_text"),
            ),
        ),
        Block(
            WIDE,
            (
                line(words(2, "part", "column_head"), *trials, words(4, "mean of the part", "column_head_right"),
                     height=NOTE),
                *(line(Piece(2, part, "row_centred", dimension="0"), height=LOW) for part in range(1, PARTS + 1)),
            ),
            ((1, 0, _list()),),
        ),
        block(None, *(_of_people(what, label) for what, label in (("mean", "mean"), ("range", "range")))),
    )  # fmt: skip


def _of_people(what: str, label: str) -> Line:
    """The mean of a figure of each person over the parts."""
    found: list[Piece] = [words(2, label, "row_words")]
    for person in PEOPLE:
        own = the[f"study_{what}_{person}"]
        mean = Figure(
            f"study_{what}_all_{person}", f"mean{'' if what == 'mean' else ' range'} of person {person.upper()}",
            when(xl.COUNT(own) > 0, xl.AVERAGE(own)), "wire",
        )  # fmt: skip
        found.append(shown(6, mean, "row_number_bold"))
    return line(*found, height=LOW)


def _list() -> Table:
    """The readings and the mean of each part; behind the page what the figures are made of."""
    typed = (
        Column(f"{person}_{trial}", "", f"readings {trial} of person {person.upper()}", 2, dimension="entry",
               look="list_number", role="input",
               prompt=f"What person {person.upper()} read on this part, reading {trial}.")
        for person in PEOPLE
        for trial in range(1, TRIALS + 1)
    )  # fmt: skip
    return Table("study", (
        Column("part", "", "", 2, elsewhere=True, named=False),
        *typed,
        Column("part_mean", "", "mean of each part", 4, dimension="wire",
               formula=when_ready(when(here.part <= the.study_parts, xl.AVERAGE(READ)))),
        *(
            Column(one.name.removeprefix("study_"), one.name, one.meaning, formula=one.formula, look="note_9",
                   role="working", hidden=True)
            for one in _worked()
        ),
    ), PARTS, spans=(("study_readings", "all readings", "a_1", "c_3", "working"),))  # fmt: skip


READ = span(here.a_1, here.c_3)
"""What was read on a part."""


def _worked() -> tuple[Figure, ...]:
    """The columns that are not seen."""
    found = [
        Figure("study_used", "number of the part where it is read, else 0", when(xl.COUNTA(READ) > 0, here.part, 0)),
        Figure("study_got", "readings of the part as numbers", xl.COUNT(READ)),
        Figure("study_short", "1 where readings of the part are missing",
               when(all_of(here.part <= the.study_parts,
                           here.got.differs(the.study_people * the.study_trials)), 1, 0)),
    ]  # fmt: skip
    for number, person in enumerate(PEOPLE, start=1):
        who, mean = person.upper(), here[f"mean_{person}"]
        one, two, three = (here[f"{person}_{trial}"] for trial in range(1, TRIALS + 1))
        third = when(the.study_trials.same(3), (three - mean) ** 2, 0)
        reads = all_of(here.part <= the.study_parts, node(number) <= the.study_people)
        for name, meaning, formula in (
            ("mean", "mean of each part by person", xl.AVERAGE(span(one, three))),
            ("range", "range of each part by person", range_of(span(one, three))),
            ("within", "squares about the mean of the part and person",
             (one - mean) ** 2 + (two - mean) ** 2 + third),
        ):  # fmt: skip
            found.append(Figure(f"study_{name}_{person}", f"{meaning}: {who}", when_ready(when(reads, formula))))
        found += [
            Figure(
                f"study_square_{person}",
                f"square of what part and person leave: {who}",
                when(known(mean), (mean - here.part_mean - the[f"study_mean_all_{person}"] + the.study_grand) ** 2),
            ),
            Figure(f"study_across_{person}", f"across, means of {who}", when(known(mean), here.part, -1)),
            Figure(f"study_up_{person}", f"up, means of {who}", when(known(mean), mean, the.study_resting)),
        ]
    of_part = when(known(here.part_mean), (here.part_mean - the.study_grand) ** 2)
    found.append(Figure("study_part_square", "square of the mean of the part about the mean of all", of_part))
    return tuple(found)


def _ranges() -> tuple[Matrix, ...]:
    """Mean ranges of normal values, for two to so many."""
    rows = tables.rows("average_range")[: PARTS - 1]
    side = tuple(float(number) for number in range(2, PARTS + 1))
    return tuple(
        Matrix(name, meaning, side, (column.replace("_star", "*"),), tuple((float(one[column]),) for one in rows))
        for name, column, meaning in (
            ("list_range_mean", "d2", "mean range of 2 to 10 normal values in standard deviations"),
            ("list_range_single", "d2_star", "root of the mean square of that range"),
        )
    )


HEADS = (("standard deviation", 7), ("average and range", 3), ("% of TV", 2), ("analysis of variance", 3),
         ("% of TV", 2), ("", 7))  # fmt: skip
LABEL, FIGURE, SHARE, REMARK = 7, 3, 2, 7
"""Columns of a line of results."""

GROUPS = (
    ("ndc", "study_ndc_{}", "Groups told apart, ndc", groups_apart, "0", f"{gauge_study.GROUPS_WANTED} or more wanted"),
    ("grr", "study_grr_{}_tolerance", "6 GRR, % of the tolerance", of_tolerance, "0.0",
     guide(the.study_grr_by_anova_tolerance)),
)  # fmt: skip


def _results() -> Block:
    lines = []
    for one in SOURCES:
        pieces = [words(LABEL, one.label, "row_words")]
        for kind, formula in (("by_average_range", one.by_range), ("by_anova", one.by_variance)):
            if formula is None:
                pieces.append(words(FIGURE + SHARE, "", "row_number"))
                continue
            own, total, method = the[f"study_{one.name}_{kind}"], the[f"study_tv_{kind}"], METHODS[kind]
            found = Figure(own.name, f"{one.label}, {method}", when_ready(formula), "wire")
            share = Figure(f"study_{one.name}_{PERCENT[kind]}", f"{one.label} in per cent of TV, {method}",
                           when(known(own), when(total > 0, 100 * own / total)), "0.0")  # fmt: skip
            pieces += [shown(FIGURE, found, "row_number_bold"), shown(SHARE, share, "row_number")]
        lines.append(line(*pieces, _remark(one.name, one.remark), height=LOW))
    for name, own_name, label, rule, form, remark in GROUPS:
        pieces = [words(LABEL, label, "row_words")]
        for kind, method in METHODS.items():
            found = Figure(own_name.format(kind), f"{label}, {method}", when_ready(rule(kind)), form)
            pieces += [shown(FIGURE, found, "row_number_bold"), words(SHARE, "", "row_number")]
        lines.append(line(*pieces, _remark(f"{name}_more", remark), height=LOW))
    heads = (words(wide, text, "column_head_right" if number else "column_head_left")
             for number, (text, wide) in enumerate(HEADS))  # fmt: skip
    return block("What comes of it", line(*heads, height=2 * NOTE - 3), *lines)


def _remark(name: str, remark: Node | str) -> Piece:
    if isinstance(remark, Node):
        return shown(REMARK, Figure(f"study_{name}_words", f"remark on {name}", remark), "row_note")
    return words(REMARK, remark, "row_note")


CHART_LINES = 7


SCALE = Table("study", (
    Column("scale_x", "scale x", "across, points that are never drawn and always count for the scale", formula=node,
           look="note_9", role="working"),
    Column("scale_y", "scale y", "up, the same", look="note_9", role="working",
           formula=the.study_resting - when(the.study_ready, 0, here.scale_x)),
), 2)  # fmt: skip
"""Until the study is complete they alone count for the figures of the axis, which then do not show."""


def _drawn() -> Chart:
    """Means of each part, a line for each person: side by side they tell of the people, crossing of an interaction."""
    scale = Series("scale", Stretch("study_scale_x"), Stretch("study_scale_y"), UNDRAWN)
    lines = tuple(
        Series(
            f"person {person.upper()}", Stretch(f"study_across_{person}"), Stretch(f"study_up_{person}"),
            STROKES[person],
        )
        for person in PEOPLE
    )  # fmt: skip
    nothing = Figure(
        "study_nothing", "what stands in place of the chart until the study is complete",
        when(the.study_ready, "", "The means of each part are drawn here once the study is complete."),
    )  # fmt: skip
    return Chart(
        (scale, *lines), "", "", '[>=0]0.0000;""', 0.92, ";;;", bare=True, left=2 / WIDE, wide=2 * PARTS / WIDE,
        ends=(0.5, PARTS + 0.5), under=nothing,
    )  # fmt: skip


def _drawing() -> Block:
    """The chart over the numbers of the parts, each as wide as its place in the chart."""
    key = [
        piece
        for number, (person, stroke) in enumerate(STROKES.items())
        for piece in (f"{'    ' if number else ''}{SIGNS[stroke.mark]} ", in_text(the[f"study_person_{person}"]))
    ]
    marks = Figure("study_key", "marks of the people in the chart", when(the.study_ready, say(*key)))
    numbers = (
        Figure(f"study_order_{part}", f"number of part {part} under the chart",
               when(the.study_ready, when(the.study_parts >= part, part)))
        for part in range(1, PARTS + 1)
    )  # fmt: skip
    return block(
        None,
        line(words(13, "Mean of each part by each person", "section"), shown(11, marks, "section_right"), height=HEAD),
        *deep(picture(WIDE, _drawn(), CHART_LINES)),
        line(gap(2), *(shown(2, one, "listed") for one in numbers)),
    )


_WORKING_MM = the.unit_text.same("mm")
_MM = when(retype(the.study_unit), no(_WORKING_MM), _WORKING_MM)
"""Whether the readings are millimetres; where neither unit is chosen they are of the working unit."""


def _head() -> Block:
    told = say(
        "Readings in ", when(_MM, "millimetres", "inches"), ". Job ",
        record_head.or_dash(the.job_number_text), when(given(the.part_text), say(", ", the.part_text)), ".",
    )  # fmt: skip
    job = Figure("study_job", "unit, job and part in words", told)
    said = Figure("study_words", "the study in words, or what is missing", in_words())
    return block(
        "Gauge study", line(shown(WIDE, job, "note_9"), height=NOTE), *deep(shown(WIDE, said, "said", lines=2))
    )


def sheet(made: Made) -> Sheet:
    """One page: the readings, and what comes of them."""
    result = stack(_results(), _drawing(), block(None, line(words(WIDE, SOURCE, "note_9"), height=4 * NOTE - 6)))
    ready = (one._replace(formula=when_ready(one.formula)) for one in WORKING)
    return Sheet(
        SHEET, (stack(_head(), _subject(), _readings(made.unit), result),), (*COUNTS, *NAMED, *ready), (SCALE,),
        widths=(3.6,) * WIDE, matrices=_ranges(), user="record",
    )  # fmt: skip
