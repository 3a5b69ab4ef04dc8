"""The sheet GaugeStudy: how much of the spread of readings is the gauge, the people, the parts.

Up to three people read up to ten parts two or three times each. The figures are those of THREAD_GAUGE_STUDY, by average
and range and by analysis of variance; the formulas with their sources stand in `sheetfuncs.gauge_study`.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import gauge_study, tables
from workbook_template import blocks, chart_drawing, styles
from workbook_template.blocks import Book
from workbook_template.chart_drawing import Line, Stroke

SHEET = "GaugeStudy"
PARTS, TRIALS = 10, 3
PEOPLE = {"a": "BCD", "b": "EFG", "c": "HIJ"}
"""Columns of the trials of each person."""
HEAD = 9
FIRST = HEAD + 2
LAST = FIRST + PARTS - 1
RESULTS = LAST + 5
NOTHING = "0.000000000000000001"
"""A share of the variance that is the arithmetic's own last bits."""

GRID = f"B{FIRST}:J{LAST}"
READY = "study_ready"


def _typed(trial: int) -> str:
    """How many cells of a trial, counted from 0, are filled in, of all people together."""
    return "+".join(f"COUNTA({letters[trial]}{FIRST}:{letters[trial]}{LAST})" for letters in PEOPLE.values())


COUNTS = (
    ("study_parts", "parts read", "MAX(study_used)"),
    ("study_people", "people who read",
     f'IF(COUNTA(H{FIRST}:J{LAST})>0,3,IF(COUNTA(E{FIRST}:G{LAST})>0,2,IF(COUNTA(B{FIRST}:D{LAST})>0,1,0)))'),
    ("study_trials", "readings of each part by each person",
     f"IF({_typed(2)}>0,3,IF({_typed(1)}>0,2,IF(COUNTA({GRID})>0,1,0)))"),
    ("study_ready", "whether the study is complete",
     (f"AND(study_parts>1,study_people>1,study_trials>1,COUNT({GRID})=study_parts*study_people*study_trials,"
      f"COUNTA({GRID})=COUNT({GRID}))")),
    ("study_cells", "parts times people", "study_parts*study_people"),
    ("study_resting", "height of points that are not to be seen",
     'IF(COUNT(study_part_mean)>0,AVERAGE(study_part_mean),0)'),
)  # fmt: skip
"""Name, meaning, formula: how much was typed."""


def _star(m: str, groups: str) -> str:
    """The manual's K: 1 / d2* of m values over so many groups, to four places."""
    d2, single = (f"INDEX({name},{m}-1)" for name in ("list_range_mean", "list_range_single"))
    return f"ROUND(1/IF({groups}>{gauge_study.MANY_GROUPS},{d2},SQRT({d2}^2+({single}^2-{d2}^2)/{groups})),4)"


def _when_ready(formula: str) -> str:
    return f'IF({READY},{formula},"")'


_PEOPLE_MEANS = "study_mean_all_a,study_mean_all_b,study_mean_all_c"
_RANGES, _SQUARES, _WITHIN = (
    ",".join(f"study_{what}_{person}" for person in PEOPLE) for what in ("range", "square", "within")
)
_PEOPLE_SQUARES = "+".join(
    f"IF(ISNUMBER(study_mean_all_{person}),(study_mean_all_{person}-study_grand)^2,0)" for person in PEOPLE
)
WORKING = (
    ("study_mean_range", "mean range of the trials", f"AVERAGE({_RANGES})"),
    ("study_people_range", "range of the means of the people", f"MAX({_PEOPLE_MEANS})-MIN({_PEOPLE_MEANS})"),
    ("study_parts_range", "range of the means of the parts", "MAX(study_part_mean)-MIN(study_part_mean)"),
    ("study_k_trials", "K1, for the trials", _star("study_trials", "study_cells")),
    ("study_k_people", "K2, for the people", _star("study_people", "1")),
    ("study_k_parts", "K3, for the parts", _star("study_parts", "1")),
    ("study_grand", "mean of all readings", "AVERAGE(study_part_mean)"),
    ("study_squares_parts", "sum of squares, parts", "study_people*study_trials*SUM(study_part_square)"),
    ("study_squares_people", "sum of squares, people", f"study_parts*study_trials*({_PEOPLE_SQUARES})"),
    ("study_squares_cells", "sum of squares, parts and people together", f"study_trials*SUM({_SQUARES})"),
    ("study_squares_error", "sum of squares, within", f"SUM({_WITHIN})"),
    ("study_squares_both", "sum of squares, interaction",
     "MAX(0,study_squares_cells-study_squares_parts-study_squares_people)"),
    ("study_free_both", "degrees of freedom, interaction", "(study_parts-1)*(study_people-1)"),
    ("study_free_within", "degrees of freedom, within", "study_cells*(study_trials-1)"),
    ("study_chance", "chance of an interaction as large as this",
     (f"IF(study_squares_error>{NOTHING}*study_squares_cells,FDIST(study_squares_both/study_free_both/"
      "(study_squares_error/study_free_within),study_free_both,study_free_within),0)")),
    ("study_pooled", "whether the interaction is pooled", f"study_chance>={gauge_study.POOL_OVER}"),
    ("study_free_error", "degrees of freedom of the error",
     "study_free_within+IF(study_pooled,study_free_both,0)"),
    ("study_error_sum", "sum of squares of the error", "study_squares_error+IF(study_pooled,study_squares_both,0)"),
    ("study_error", "mean square, error", "study_error_sum/study_free_error"),
    ("study_both", "mean square, interaction",
     "IF(study_pooled,study_error,study_squares_both/study_free_both)"),
    ("study_ev_from", "lower 90 % limit of EV", "SQRT(study_error_sum/CHIINV(0.05,study_free_error))"),
    ("study_ev_to", "upper 90 % limit of EV", "SQRT(study_error_sum/CHIINV(0.95,study_free_error))"),
)  # fmt: skip
"""Name, meaning, formula of what stands beside the page; blank until the study is complete."""

_GUIDE = (
    'IF(ISNUMBER({0}),IF({0}<=10,"up to 10 %: good",IF({0}>30,"over 30 %: not accepted",'
    '"10 to 30 %: may do for some uses")),"")'
)
_LIMITS = '"90 % limits "&FIXED(study_ev_from,decimals+1,TRUE)&" to "&FIXED(study_ev_to,decimals+1,TRUE)'
_CHANCE = '"F test: chance "&FIXED(study_chance,2,TRUE)&IF(study_pooled,", pooled with EV","")'
SOURCES = (
    ("ev", "Repeatability EV", "study_mean_range*study_k_trials", "SQRT(study_error)", _when_ready(_LIMITS)),
    ("av", "Reproducibility AV",
     "SQRT(MAX(0,(study_people_range*study_k_people)^2-study_ev_r^2/(study_parts*study_trials)))",
     "SQRT(MAX(0,(study_squares_people/(study_people-1)-study_both)/(study_parts*study_trials)))",
     '"between people"'),
    ("both", "Interaction", "", "SQRT(MAX(0,(study_both-study_error)/study_trials))", _when_ready(_CHANCE)),
    ("grr", "Gauge and people GRR", "SQRT(study_ev_r^2+study_av_r^2)",
     "SQRT(study_ev_v^2+study_av_v^2+study_both_v^2)", _GUIDE.format("study_grr_v_share")),
    ("pv", "Parts PV", "study_parts_range*study_k_parts",
     "SQRT(MAX(0,(study_squares_parts/(study_parts-1)-study_both)/(study_people*study_trials)))", ""),
    ("tv", "Total TV", "SQRT(study_grr_r^2+study_pv_r^2)", "SQRT(study_grr_v^2+study_pv_v^2)", ""),
)  # fmt: skip
"""Name, label, by average and range, by analysis of variance, remark."""

WORDS = (
    'IF(study_parts=0,"Next: type the readings, one row a part, every person the same number of times.",'
    'IF(study_people<2,"Next: readings of a second person.",IF(study_trials<2,"Next: a second reading of each part.",'
    'IF(study_parts<2,"Next: a second part.",'
    f'IF(NOT({READY}),"Next: part "&MATCH(1,study_short,0)&" has "&INDEX(study_got,MATCH(1,study_short,0))&" of "&'
    '(study_people*study_trials)&" readings as numbers; every person reads every part "&study_trials&" times.",'
    'IF(NOT(ISNUMBER(study_grr_v_share)),"All readings are alike: no spread to compute from. Read finer, or check '
    'them.",'
    '"The gauge and the people take "&FIXED(study_grr_v_share,1,TRUE)&" % of the spread"&'
    'IF(ISNUMBER(study_grr_v_tolerance)," and "&FIXED(study_grr_v_tolerance,1,TRUE)&" % of the tolerance","")&'
    '": "&IF(MAX(study_grr_v_share,study_grr_v_tolerance)<=10,"good",'
    'IF(MAX(study_grr_v_share,study_grr_v_tolerance)>30,"not accepted","may do for some uses"))&" by the manual. "&'
    'IF(ISNUMBER(study_ndc_v),"It tells apart "&study_ndc_v&'
    '" groups of parts"&IF(study_ndc_v<5,"; 5 or more are wanted.","."),"")&'
    'IF(study_av_v>study_ev_v," More of it lies between the people than in the gauge: look at how they hold it.","")'
    "))))))"
)
SOURCE = (
    "AIAG, Measurement Systems Analysis, 4th edition: average and range (chapter III, section B), analysis of "
    "variance (appendix A), the interaction pooled where its F test does not show it at 5 %; ndc = 1.41 PV / GRR. Per "
    "cent of TV; 6 GRR in per cent of the tolerance. Choose parts that span what the machine makes; no one should "
    "know which part it is or what was read before. THREAD_GAUGE_STUDY gives the same, and takes other numbers of "
    "people and parts."
)

MEANS = dict(zip(PEOPLE, "RST"))
"""Columns of the means of each part by person."""
WITHIN = "({a}-{mean})^2+({b}-{mean})^2+IF(study_trials=3,({c}-{mean})^2,0)"
ACROSS, UP = dict(zip("abc", ("AA", "AB", "AC"))), dict(zip("abc", ("AD", "AE", "AF")))
MARKS = {"a": ("circle", "solid"), "b": ("square", "dash"), "c": ("triangle", "sysDot")}


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 15, **dict.fromkeys("BCDEFGHIJ", 8.5), "K": 22, "L": 3, "M": 24, "N": 13})
    blocks.write(book, ws, "A1:K1", "Gauge study", "callout")
    words = (
        '"Readings in "&IF(unit="mm","millimetres","inches")&". Job "&IF(LEN(job_number)>0,job_number,"–")&'
        'IF(LEN(part)>0,", "&part,"")&"."'
    )
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
    for at, label, ref, name, meaning, dimension, prompt in texts:
        blocks.write(book, ws, at, label, "label")
        check = blocks.DAY if dimension == "date" else blocks.ANYTHING
        blocks.entry(book, ws, ref, name, meaning, dimension=dimension, prompt=prompt, check=check)
    blocks.result(
        book, ws, "D5:E5", "study_date_words", "whether the date is one", blocks.day_words("study_date"), look="mark"
    )  # fmt: skip
    blocks.write(book, ws, "F3:J3", "Width of the tolerance, if not the thread's", "label_in")
    blocks.entry(
        book, ws, "K3", "study_tolerance", "width of the tolerance in the study", dimension="entry",
        prompt="Largest less smallest allowed size, in the working unit. Empty: the job's pitch diameter tolerance.",
        check=blocks.LENGTH,
    )  # fmt: skip
    blocks.write(book, ws, "F4:J4", "Width of the tolerance, used", "label_in")
    used = 'IF(ISBLANK(study_tolerance),IF(ISNUMBER(pitch_tolerance),pitch_tolerance,""),'
    used += 'IF(ISNUMBER(study_tolerance),IF(study_tolerance>0,study_tolerance,""),""))'
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
        shown = person.upper()
        blocks.entry(
            book, ws, f"{letters[0]}{HEAD}:{letters[2]}{HEAD}", f"study_person_{person}", f"person {shown}",
            prompt="Who reads: initials or shift.", value=shown,
        )  # fmt: skip
        for trial, letter in enumerate(letters, start=1):
            blocks.write(book, ws, f"{letter}{HEAD + 1}", f"{trial}.", "head")
            ref = f"{letter}{FIRST}:{letter}{LAST}"
            for row in range(FIRST, LAST + 1):
                blocks.write(book, ws, f"{letter}{row}", None, "log_number", styles.number_format("entry", book.unit))
            blocks.follow_unit(book, ws, ref, "entry")
            blocks.name_input(
                book, ws, ref, f"study_{person}_{trial}", f"readings {trial} of person {shown}",
                dimension="entry", prompt=f"What person {shown} read on this part, reading {trial}.",
            )  # fmt: skip
    for row in range(FIRST, LAST + 1):
        blocks.write(book, ws, f"A{row}", row - FIRST + 1, "row", "0")
        formula = _when_ready(f'IF(A{row}<=study_parts,AVERAGE(B{row}:J{row}),"")')
        blocks.write(book, ws, f"K{row}", f"={formula}", "log_result", "wire")
    blocks.define(book, ws, f"K{FIRST}:K{LAST}", "study_part_mean", "mean of each part")
    for offset, (what, label) in enumerate((("mean", "mean"), ("range", "mean range")), start=1):
        row = LAST + offset
        blocks.write(book, ws, f"A{row}", label, "label")
        for person, letters in PEOPLE.items():
            own = f"study_{what}_{person}"
            blocks.result(
                book, ws, f"{letters[0]}{row}:{letters[2]}{row}", f"study_{what}_all_{person}",
                f"{label} of person {person.upper()}", f'IF(COUNT({own})>0,AVERAGE({own}),"")', dimension="wire",
                look="row_bold",
            )  # fmt: skip


def _behind(book: Book, ws: Worksheet) -> None:
    """The working figures, to the right of the page."""
    blocks.heading(book, ws, "M2:N2", "Working figures (not printed)")
    row = 3
    for name, meaning, formula in (*COUNTS, *((n, m, _when_ready(f)) for n, m, f in WORKING)):
        blocks.write(book, ws, f"M{row}", name.removeprefix("study_").replace("_", " "), "small")
        blocks.result(book, ws, f"N{row}", name, meaning, formula, role="working")
        row += 1
    columns = {
        "study_used": ("O", "number of the part where it is read, else 0", "IF(COUNTA(B{r}:J{r})>0,A{r},0)"),
        "study_got": ("P", "readings of the part as numbers", "COUNT(B{r}:J{r})"),
        "study_short": ("Q", "1 where readings of the part are missing",
                        "IF(AND(A{r}<=study_parts,P{r}<>study_people*study_trials),1,0)"),
    }  # fmt: skip
    letters = iter("RSTUVWXYZ")
    for what, meaning, formula in (
        ("mean", "mean of each part by person", "AVERAGE({a}:{c})"),
        ("range", "range of each part by person", "MAX({a}:{c})-MIN({a}:{c})"),
        ("within", "squares about the mean of the part and person", f"({WITHIN})"),
    ):
        for number, (person, own) in enumerate(PEOPLE.items(), start=1):
            at = dict(zip("abc", (f"{letter}{{r}}" for letter in own)), mean=f"{MEANS[person]}{{r}}")
            guarded = f'IF(AND(A{{r}}<=study_parts,{number}<=study_people),{formula.format(**at)},"")'
            name = f"study_{what}_{person}"
            columns[name] = (next(letters), f"{meaning}: {person.upper()}", _when_ready(guarded))
    for person, letter, own in zip(PEOPLE, ("AJ", "AK", "AL"), MEANS.values()):
        square = f'IF(ISNUMBER({own}{{r}}),({own}{{r}}-study_grand)^2,"")'
        columns[f"study_square_{person}"] = (letter, f"square about the mean of all: {person.upper()}", square)
    square = 'IF(ISNUMBER(K{r}),(K{r}-study_grand)^2,"")'
    columns["study_part_square"] = ("AM", "square of the mean of the part about the mean of all", square)
    for person, own in MEANS.items():
        seen = f"ISNUMBER({own}{{r}})"
        columns[f"study_across_{person}"] = (
            ACROSS[person],
            f"across, means of {person.upper()}",
            f"IF({seen},A{{r}},-1)",
        )
        columns[f"study_up_{person}"] = (
            UP[person],
            f"up, means of {person.upper()}",
            f"IF({seen},{own}{{r}},study_resting)",
        )
    for name, (letter, meaning, formula) in columns.items():
        blocks.write(book, ws, f"{letter}{HEAD + 1}", name.removeprefix("study_").replace("_", " "), "head")
        for row in range(FIRST, LAST + 1):
            blocks.write(book, ws, f"{letter}{row}", f"={formula.format(r=row)}", "small")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", name, meaning, role="working")
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
    blocks.result(book, ws, f"A{row - 1}:K{row - 1}", "study_words", "the study in words, or what is missing", WORDS,
                  look="sentence")  # fmt: skip
    ws.row_dimensions[row - 1].height = 40
    heads = {"A:C": "standard deviation", "D:E": "average and range", "F": "% of TV", "G:H": "analysis of variance",
             "I": "% of TV", "J:K": ""}  # fmt: skip
    for letters, text in heads.items():
        left, _, right = letters.partition(":")
        blocks.write(book, ws, f"{left}{row}:{right or left}{row}" if right else f"{left}{row}", text, "head")
    ws.row_dimensions[row].height = 17
    for name, label, by_range, by_variance, remark in SOURCES:
        row += 1
        blocks.write(book, ws, f"A{row}:C{row}", label, "label")
        for ref, share, kind, formula, method in (
            (f"D{row}:E{row}", f"F{row}", "r", by_range, "average and range"),
            (f"G{row}:H{row}", f"I{row}", "v", by_variance, "analysis of variance"),
        ):
            if not formula:
                continue
            own = f"study_{name}_{kind}"
            blocks.result(book, ws, ref, own, f"{label}, {method}", _when_ready(formula), dimension="wire")
            part = f'IF(ISNUMBER({own}),IF(study_tv_{kind}>0,100*{own}/study_tv_{kind},""),"")'
            meaning = f"{label} in per cent of TV, {method}"
            blocks.result(book, ws, share, f"{own}_share", meaning, part, dimension="0.0", look="figure")
        _remark(book, ws, row, name, remark)
    for name, label, formula, form in (
        ("ndc", "Groups of parts told apart, ndc", 'IF({grr}>0,INT(1.41*{pv}/{grr}),"")', "0"),
        ("grr", "6 GRR in per cent of the tolerance",
         'IF(ISNUMBER(study_tolerance_used),600*{grr}/study_tolerance_used,"")', "0.0"),
    ):  # fmt: skip
        row += 1
        blocks.write(book, ws, f"A{row}:C{row}", label, "label")
        for ref, kind, method in (
            (f"D{row}:E{row}", "r", "average and range"),
            (f"G{row}:H{row}", "v", "analysis of variance"),
        ):
            own = f"study_ndc_{kind}" if name == "ndc" else f"study_grr_{kind}_tolerance"
            text = formula.format(grr=f"study_grr_{kind}", pv=f"study_pv_{kind}")
            blocks.result(book, ws, ref, own, f"{label}, {method}", _when_ready(text), dimension=form)
        _remark(
            book,
            ws,
            row,
            f"{name}_more",
            '"5 or more wanted"' if name == "ndc" else _GUIDE.format("study_grr_v_tolerance"),
        )
    for at in range(RESULTS, row + 1):
        ws.row_dimensions[at].height = 19
    _draw(ws, row + 1, row + 17)
    row += 18
    blocks.write(book, ws, f"A{row}:K{row}", SOURCE, "side")
    ws.row_dimensions[row].height = 52
    return row


def _remark(book: Book, ws: Worksheet, row: int, name: str, formula: str) -> None:
    if formula.startswith('"'):
        blocks.write(book, ws, f"J{row}:K{row}", formula.strip('"'), "side")
    elif formula:
        blocks.result(book, ws, f"J{row}:K{row}", f"study_{name}_words", f"remark on {name}", formula, look="side")


def _draw(ws: Worksheet, top: int, bottom: int) -> None:
    """Means of each part, a line for each person: side by side they tell of the people, crossing of an interaction."""
    lines = tuple(
        Line(
            f"mean of person {person.upper()}",
            f"{ACROSS[person]}{FIRST}:{ACROSS[person]}{LAST}",
            f"{UP[person]}{FIRST}:{UP[person]}{LAST}",
            Stroke(1.0, MARKS[person][1], mark=MARKS[person][0]),
        )
        for person in PEOPLE
    )
    for row in range(top, bottom + 1):
        ws.row_dimensions[row].height = 15
    chart_drawing.add(ws, f"A{top}:K{bottom}", lines, across="part", up="mean reading", form="General", deep=0.66)
