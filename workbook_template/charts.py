"""The sheet Charts: individuals and moving range of the pitch diameter, capability, and when to regrind.

Everything on the page speaks about the same readings: those of the first 100 rows of the log, or of 100 rows from the
row that is typed. Rows without a usable pitch diameter are passed over, the rest keep the order of the log.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import inspection
from workbook_template import blocks, chart_drawing, log_rows
from workbook_template.blocks import Book
from workbook_template.chart_drawing import Line

SHEET = "Charts"
WINDOW = 100
ENOUGH, WANTED = inspection.TO_JUDGE_STABILITY, inspection.ENOUGH
ONE_SIDE, TREND_ENOUGH = inspection.ON_ONE_SIDE, inspection.FEWEST_FOR_TREND
NAMED = 8
HEAD = 5
LOG_HEAD = log_rows.HEAD
"""The row over the first of the log."""
FIRST = HEAD + 1
LAST = FIRST + WINDOW - 1
CHART_AT, RANGE_AT, FIGURES_AT = 5, 25, 37

NOISE = "0.000000001"
"""A reading on a natural limit is not outside it, whatever the last bits of the arithmetic say."""

MEAN_RANGE_OF_TWO = inspection.MEAN_RANGE_OF_TWO
RANGE_LIMIT = 3.267
"""Upper limit of a range of two over the mean range (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.1)."""

SOURCE = (
    "Natural limits: mean and three standard deviations, from the mean moving range divided by 1.128 (2.66 mean "
    "ranges); 3.267 mean ranges for the range (W. A. Shewhart; NIST/SEMATECH e-Handbook 6.3.2.2). They say what the "
    "process does, the limits of size what the drawing wants. Cp, Cpk and their 95 % intervals: e-Handbook 6.1.6; at "
    f"least {ENOUGH} readings: practice, {WANTED} or more by 6.1.6. {ONE_SIDE} in a row on one side: 6.3.2. "
    "Trend: straight line by least squares (4.1.4.1), counted where its slope differs from zero at 99 % by Student's "
    f"t and there are {TREND_ENOUGH} readings; a limit counts as reached when the line comes within three standard "
    "deviations of it: practice."
)

STATISTICS = (
    ("chart_start", "log row that the charts start with, counted from the first of the log",
     ('IF(ISBLANK(chart_first),1,IF(ISNUMBER(chart_first),'
     f'IF(AND(chart_first>{LOG_HEAD},chart_first<={log_rows.LAST},chart_first=INT(chart_first)),chart_first-{LOG_HEAD},""),""))')),
    ("chart_resting", "height of points that are not to be seen",
     'IF(chart_n>0,INDEX(chart_value,MATCH(1,chart_count,0)),IF(ISNUMBER(pitch_max),(pitch_max+pitch_min)/2,0))'),
    ("chart_range_resting", "height of ranges that are not to be seen",
     'IF(chart_n>1,INDEX(chart_range,MATCH(2,chart_count,0)),0)'),
    ("chart_end", "right end of the lines", "MAX(10,chart_n+1)"),
    ("chart_out", "readings outside the natural limits", "SUM(chart_out_mark)"),
    ("chart_range_out", "ranges over their limit", "SUM(chart_range_mark)"),
    ("chart_run", "most readings in a row on one side of the mean", "MAX(MAX(chart_side),-MIN(chart_side))"),
    ("chart_doubtful", "readings by an instrument that is to be checked", "SUM(chart_doubt_mark)"),
    ("chart_limits", "whether there are two limits to judge by", "AND(ISNUMBER(pitch_max),ISNUMBER(pitch_min))"),
    ("trend_spread", "sum of the squares of the order less its mean", "chart_n*(chart_n^2-1)/12"),
    ("trend_s", "standard deviation about the line",
     ('IF(AND(ISNUMBER(trend_slope),chart_n>2),'
     'SQRT(MAX(0,(chart_n-1)*chart_s^2-trend_slope^2*trend_spread)/(chart_n-2)),"")')),
    ("trend_counts", "whether the slope differs from zero",
     (f'IF(AND(ISNUMBER(trend_s),chart_n>={TREND_ENOUGH}),'
     f'ABS(trend_slope)*SQRT(trend_spread)>TINV({inspection.TREND_LEVEL},MAX(1,chart_n-2))*trend_s+{NOISE},FALSE)')),
    ("trend_now", "the line at the last reading", 'IF(ISNUMBER(trend_slope),chart_mean+trend_slope*(chart_n-1)/2,"")'),
    ("trend_room", "way of the line to the limit ahead, less three standard deviations",
     ('IF(AND(trend_counts,chart_limits),IF(trend_slope>0,pitch_max-trend_now,trend_now-pitch_min)-3*trend_s,"")')),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the page."""

FIGURES = (
    ("chart_n", "Readings", "usable pitch diameters on the charts", "MAX(chart_count)", "count"),
    ("chart_mean", "Mean", "mean of the readings", 'IF(chart_n>0,AVERAGE(chart_value),"")', "wire"),
    ("chart_s", "Standard deviation", "standard deviation of the readings",
     'IF(chart_n>1,STDEV(chart_value),"")', "wire"),
    ("chart_range_mean", "Mean moving range", "mean of the moving ranges",
     'IF(chart_n>1,AVERAGE(chart_range),"")', "wire"),
    ("chart_natural_high", "Upper natural limit", "upper natural limit of the readings",
     f'IF(chart_n>1,chart_mean+3*chart_range_mean/{MEAN_RANGE_OF_TWO},"")', "wire"),
    ("chart_natural_low", "Lower natural limit", "lower natural limit of the readings",
     f'IF(chart_n>1,chart_mean-3*chart_range_mean/{MEAN_RANGE_OF_TWO},"")', "wire"),
    ("chart_range_high", "Limit of the moving range", "upper limit of the moving range",
     f'IF(chart_n>1,{RANGE_LIMIT}*chart_range_mean,"")', "wire"),
)  # fmt: skip
"""Name, label, meaning, formula, dimension."""

INDICES = (
    ("capability_cp", "Cp", "spread of the tolerance over that of the readings",
     'IF(AND(chart_n>1,chart_limits),IF(chart_s>0,(pitch_max-pitch_min)/(6*chart_s),""),"")'),
    ("capability_cp_low", "", "lower end of the 95 % interval of Cp",
     'IF(ISNUMBER(capability_cp),capability_cp*SQRT(CHIINV(0.975,chart_n-1)/(chart_n-1)),"")'),
    ("capability_cp_high", "", "upper end of the 95 % interval of Cp",
     'IF(ISNUMBER(capability_cp),capability_cp*SQRT(CHIINV(0.025,chart_n-1)/(chart_n-1)),"")'),
    ("capability_cpk", "Cpk", "room from the mean to the nearer limit over half the spread of the readings",
     'IF(ISNUMBER(capability_cp),MIN(pitch_max-chart_mean,chart_mean-pitch_min)/(3*chart_s),"")'),
    ("capability_cpk_low", "", "lower end of the 95 % interval of Cpk",
     ('IF(ISNUMBER(capability_cpk),capability_cpk-NORMSINV(0.975)*'
     'SQRT(1/(9*chart_n)+capability_cpk^2/(2*(chart_n-1))),"")')),
    ("capability_cpk_high", "", "upper end of the 95 % interval of Cpk",
     ('IF(ISNUMBER(capability_cpk),capability_cpk+NORMSINV(0.975)*'
     'SQRT(1/(9*chart_n)+capability_cpk^2/(2*(chart_n-1))),"")')),
)  # fmt: skip
"""Name, label, meaning, formula."""

NEED = (
    'IF(NOT(ISNUMBER(chart_start)),"The first log row is a whole number, '
    f'{LOG_HEAD + 1} to {log_rows.LAST}, or empty.",'
    'IF(chart_n=0,"No pitch diameter in these rows of the log yet.",'
)
STABILITY_WORDS = (
    NEED + 'IF(chart_n<2,"One reading: the charts need at least two.",'
    f"IF(AND(chart_out+chart_range_out=0,chart_run<{ONE_SIDE}),"
    '"No reading lies outside the natural limits, no step between two is over its limit.",'
    f'IF(chart_out>0,"Outside the natural limits: "&INDEX(chart_out_list,{WINDOW})&'
    f'IF(chart_out>{NAMED}," and "&(chart_out-{NAMED})&" more","")&". ","")&'
    f'IF(chart_range_out>0,"Step from the part before over its limit: "&INDEX(chart_range_list,{WINDOW})&'
    f'IF(chart_range_out>{NAMED}," and "&(chart_range_out-{NAMED})&" more","")&". ","")&'
    f'IF(chart_run>={ONE_SIDE},chart_run&" in a row on one side of the mean. ","")&"Look for what changed there."))))'
)
CAPABILITY_WORDS = (
    NEED + 'IF(NOT(chart_limits),"Capability needs a largest and a smallest pitch diameter.",'
    'IF(chart_n<2,"Capability needs more readings.",'
    'IF(NOT(ISNUMBER(capability_cp)),"All readings are the same: no spread to compute from. Check the entries.",'
    f'IF(chart_n<{ENOUGH},"NOT A CAPABILITY: "&chart_n&" readings, {ENOUGH} are the least. '
    'The figures describe these parts alone.",'
    f'IF(OR(chart_out+chart_range_out>0,chart_run>={ONE_SIDE}),"NOT A CAPABILITY: the charts show no stable process. '
    'The figures describe these parts alone.",'
    'IF(trend_counts,"NOT A CAPABILITY: the readings drift. The figures describe these parts alone.",'
    '"Cpk "&FIXED(capability_cpk,2,TRUE)&" from "&chart_n&" readings; the true one may lie between "&'
    'FIXED(capability_cpk_low,2,TRUE)&" and "&FIXED(capability_cpk_high,2,TRUE)&'
    '" (95 %). Stable as far as the charts show."&'
    f'IF(chart_n<{WANTED}," {WANTED} readings or more are wanted.","")))))))&'
    'IF(chart_doubtful>0," Readings by an instrument to be checked: "&chart_doubtful&".","")))'
)
TOWARDS = 'IF(trend_slope>0,"largest","smallest")'
TREND_WORDS = (
    NEED + f'IF(chart_n<{TREND_ENOUGH},"Too few readings to tell a trend: {TREND_ENOUGH} are the least.",'
    'IF(NOT(trend_counts),"No trend: the slope does not differ from zero at 99 %.",'
    'IF(NOT(chart_limits),"The readings drift; there is no pair of limits to drift to.",'
    f"IF(trend_parts_left<=0,IF({{wears}},"
    '"REGRIND NOW","RESET NOW")&": the trend has come within three standard deviations of the "&'
    f'{TOWARDS}&" pitch diameter.",'
    f'IF({{wears}},"Regrind","Reset the tool")&" within about "&trend_parts_left&" parts: then the trend comes within '
    f'three standard deviations of the "&{TOWARDS}&" pitch diameter.")))'
    ")))"
).replace("{wears}", '(trend_slope>0)=(thread_side<>"internal")')

COLUMNS = (
    ("chart_at", "row of the log", "General"),
    ("chart_value", "pitch diameter, where usable", "length"),
    ("chart_count", "readings so far", "General"),
    ("chart_carried", "last usable pitch diameter so far", "length"),
    ("chart_range", "moving range", "length"),
    ("chart_x", "across, individuals", "General"),
    ("chart_y", "up, individuals", "length"),
    ("chart_range_x", "across, moving range", "General"),
    ("chart_range_y", "up, moving range", "length"),
    ("chart_out_mark", "1 where outside the natural limits", "General"),
    ("chart_range_mark", "1 where the range is over its limit", "General"),
    ("chart_out_x", "across, mark of a reading outside", "General"),
    ("chart_out_range_x", "across, mark of a range outside", "General"),
    ("chart_resting_y", "up, marks of readings", "length"),
    ("chart_side", "readings in a row over the mean, less than zero under it", "General"),
    ("chart_moment", "order times difference from the mean", "General"),
    ("chart_doubt_mark", "1 where the instrument is to be checked", "General"),
    ("chart_out_list", "parts outside so far", "General"),
    ("chart_range_list", "parts whose range is outside so far", "General"),
)
"""Name, meaning, dimension of the columns behind the charts, from column K."""

LETTERS = "KLMNOPQRSTUVWXYZ"
PLACES = dict(zip((name for name, _, _ in COLUMNS), (*LETTERS, "AA", "AB", "AC")))


def row_formulas(number: int) -> dict[str, str]:
    """The formulas of one row behind the charts, by the name of their column."""
    row, above = FIRST + number - 1, FIRST + number - 2
    here = {name: f"{letter}{row}" for name, letter in PLACES.items()}
    before = {name: f"{letter}{above}" for name, letter in PLACES.items()}
    at, value, count = here["chart_at"], here["chart_value"], here["chart_count"]
    first = number == 1

    def earlier(name: str, start: str) -> str:
        return start if first else before[name]

    def listed(name: str, mark: str) -> str:
        serial = f'IF(LEN(INDEX(log_serial,{at}))>0,INDEX(log_serial,{at})&"","row "&({at}+{LOG_HEAD}))'
        so_far = earlier(name, '""')
        total = f"SUM({PLACES[mark]}{FIRST}:{here[mark]})"
        added = f'{so_far}&IF({total}>1,", ","")&{serial}'
        return f"IF({here[mark]}=1,IF({total}>{NAMED},{so_far},{added}),{so_far})"

    carried, side = earlier("chart_carried", '""'), earlier("chart_side", "0")
    outside = f"OR({value}>chart_natural_high+{NOISE},{value}<chart_natural_low-{NOISE})"
    word, step = f"INDEX(log_pitch_result,{at})", here["chart_range"]
    return {
        "chart_at": f"IF(ISNUMBER(chart_start),IF(chart_start+{number - 1}<=ROWS(log_pitch),"
        f'chart_start+{number - 1},""),"")',
        "chart_value": f'IF(ISNUMBER({at}),IF(AND(ISNUMBER(INDEX(log_pitch,{at})),{word}<>"replaced",'
        f'{word}<>"check entry"),INDEX(log_pitch,{at}),""),"")',
        "chart_count": f"{earlier('chart_count', '0')}+IF(ISNUMBER({value}),1,0)",
        "chart_carried": f"IF(ISNUMBER({value}),{value},{carried})",
        "chart_range": '""' if first else f'IF(AND(ISNUMBER({value}),ISNUMBER({carried})),ABS({value}-{carried}),"")',
        "chart_x": f"IF({count}>0,{count},IF(chart_n>0,1,-1))",
        "chart_y": f"IF(ISNUMBER({here['chart_carried']}),{here['chart_carried']},chart_resting)",
        "chart_range_x": f"IF(ISNUMBER({step}),{count},{earlier('chart_range_x', 'IF(chart_n>1,2,-1)')})",
        "chart_range_y": f"IF(ISNUMBER({step}),{step},{earlier('chart_range_y', 'chart_range_resting')})",
        "chart_out_mark": f"IF(AND(ISNUMBER({value}),chart_n>1),IF({outside},1,0),0)",
        "chart_range_mark": f"IF(ISNUMBER({step}),IF({step}>chart_range_high+{NOISE},1,0),0)",
        "chart_out_x": f"IF({here['chart_out_mark']}=1,{count},-1)",
        "chart_out_range_x": f"IF({here['chart_range_mark']}=1,{count},-1)",
        "chart_resting_y": f"IF({here['chart_out_mark']}=1,{value},chart_resting)",
        "chart_side": f"IF(ISNUMBER({value}),IF({value}>chart_mean,MAX(0,{side})+1,"
        f"IF({value}<chart_mean,MIN(0,{side})-1,0)),{side})",
        "chart_moment": f'IF(ISNUMBER({value}),{count}*({value}-chart_mean),"")',
        "chart_doubt_mark": f'IF(ISNUMBER({value}),IF({word}="check instrument",1,0),0)',
        "chart_out_list": listed("chart_out_list", "chart_out_mark"),
        "chart_range_list": listed("chart_range_list", "chart_range_mark"),
    }


LINES = (
    ("chart_line_x", "across, ends of the limits of size",
     ("IF(chart_limits,0,-1)", "IF(chart_limits,chart_end,-1)")),
    ("chart_line_own_x", "across, ends of the lines that the readings give",
     ("IF(chart_n>1,0,-1)", "IF(chart_n>1,chart_end,-1)")),
    ("chart_line_max", "up, largest pitch diameter", ("IF(ISNUMBER(pitch_max),pitch_max,chart_resting)",) * 2),
    ("chart_line_min", "up, smallest pitch diameter", ("IF(ISNUMBER(pitch_min),pitch_min,chart_resting)",) * 2),
    ("chart_line_mean", "up, mean", ("IF(ISNUMBER(chart_mean),chart_mean,chart_resting)",) * 2),
    ("chart_line_high", "up, upper natural limit",
     ("IF(ISNUMBER(chart_natural_high),chart_natural_high,chart_resting)",) * 2),
    ("chart_line_low", "up, lower natural limit",
     ("IF(ISNUMBER(chart_natural_low),chart_natural_low,chart_resting)",) * 2),
    ("chart_line_range", "up, mean moving range", ("IF(ISNUMBER(chart_range_mean),chart_range_mean,0)",) * 2),
    ("chart_line_range_high", "up, limit of the moving range",
     ("IF(ISNUMBER(chart_range_high),chart_range_high,0)",) * 2),
)  # fmt: skip
"""Name, meaning, formulas of the two ends of each line, from column AD."""
LINE_LETTERS = dict(zip((name for name, _, _ in LINES), ("AD", "AE", "AF", "AG", "AH", "AI", "AJ", "AK", "AL")))


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 13, "C": 11, "D": 11, "E": 2.5, "F": 20, "G": 12, "H": 3, "I": 24, "J": 12})
    blocks.result(book, ws, "A1:G1", "callout_charts", "the thread, as on the sheet Job", "callout", look="callout")
    words = (
        'IF(LEN(part)>0,part,"no part named")&", job "&IF(LEN(job_number)>0,job_number,"–")&", "&unit_words&'
        f'IF(ISNUMBER(chart_start),". Rows "&(chart_start+{LOG_HEAD})&" to "&'
        f'MIN(chart_start+{LOG_HEAD + WINDOW - 1},{log_rows.LAST})&" of the Log","")&"."'
    )
    blocks.result(book, ws, "A2:G2", "charts_words", "part, job, unit and rows in words", words, look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 32, 30
    blocks.write(book, ws, "A3", "First log row on the charts", "label")
    blocks.entry(
        book, ws, "B3", "chart_first", "log row that the charts start with",
        prompt=f"Number of the row on the sheet Log that the charts start with. Empty: {LOG_HEAD + 1}, the first. "
        "After a regrind or a new set-up, type the row of the first part after it.", dimension="count",
        check=blocks.whole(LOG_HEAD + 1, log_rows.LAST),
    )  # fmt: skip
    blocks.write(
        book,
        ws,
        "C3:G3",
        f"Empty: {LOG_HEAD + 1}, the first row. After a regrind or a new set-up: that of the next part.",
        "side",
    )
    ws.row_dimensions[3].height = 20
    blocks.heading(book, ws, "A4:G4", "Pitch diameter of each part, in the order logged")
    blocks.heading(book, ws, f"A{RANGE_AT - 1}:G{RANGE_AT - 1}", "Moving range: the step from the part before")
    _behind(book, ws)
    _draw(ws)
    _figures(book, ws)
    blocks.page(ws, f"A1:G{FIGURES_AT + len(FIGURES) + 5}")
    blocks.lock(ws)


def _behind(book: Book, ws: Worksheet) -> None:
    """The figures behind the page, to the right of it."""
    blocks.heading(book, ws, f"I{HEAD - 1}:J{HEAD - 1}", "Working figures (not printed)")
    for row, (name, meaning, formula) in enumerate(STATISTICS, start=FIRST):
        blocks.write(book, ws, f"I{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"J{row}", name, meaning, formula, role="working")
    for name, meaning, dimension in COLUMNS:
        blocks.write(book, ws, f"{PLACES[name]}{HEAD}", name.removeprefix("chart_").replace("_", " "), "head")
        ref = f"{PLACES[name]}{FIRST}:{PLACES[name]}{LAST}"
        blocks.define(book, ws, ref, name, meaning, unit=blocks.IN_UNIT.get(dimension, ""), role="working")
    for number in range(1, WINDOW + 1):
        for name, formula in row_formulas(number).items():
            blocks.write(book, ws, f"{PLACES[name]}{FIRST + number - 1}", f"={formula}", "small")
    for name, meaning, ends in LINES:
        letter = LINE_LETTERS[name]
        blocks.write(book, ws, f"{letter}{HEAD}", name.removeprefix("chart_line_").replace("_", " "), "head")
        for row, formula in enumerate(ends, start=FIRST):
            blocks.write(book, ws, f"{letter}{row}", f"={formula}", "small")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{FIRST + 1}", name, meaning, role="working")


def _draw(ws: Worksheet) -> None:
    def points(x: str, y: str) -> tuple[str, str]:
        return (f"{PLACES[x]}{FIRST}:{PLACES[x]}{LAST}", f"{PLACES[y]}{FIRST}:{PLACES[y]}{LAST}")

    def level(name: str) -> tuple[str, str]:
        of_size = name in ("chart_line_max", "chart_line_min")
        across, up = LINE_LETTERS["chart_line_x" if of_size else "chart_line_own_x"], LINE_LETTERS[name]
        return (f"{across}{FIRST}:{across}{FIRST + 1}", f"{up}{FIRST}:{up}{FIRST + 1}")

    individuals = (
        Line("reading", *points("chart_x", "chart_y"), chart_drawing.READINGS),
        Line("outside the natural limits", *points("chart_out_x", "chart_resting_y"), chart_drawing.OUTSIDE),
        Line("limits of size", *level("chart_line_max"), chart_drawing.SIZE_LIMIT),
        Line("limits of size", *level("chart_line_min"), chart_drawing.SIZE_LIMIT),
        Line("mean", *level("chart_line_mean"), chart_drawing.MEAN),
        Line("natural limits", *level("chart_line_high"), chart_drawing.NATURAL_LIMIT),
        Line("natural limits", *level("chart_line_low"), chart_drawing.NATURAL_LIMIT),
    )
    ranges = (
        Line("moving range", *points("chart_range_x", "chart_range_y"), chart_drawing.READINGS),
        Line("over its limit", *points("chart_out_range_x", "chart_range_y"), chart_drawing.OUTSIDE),
        Line("mean", *level("chart_line_range"), chart_drawing.MEAN),
        Line("limit of the range", *level("chart_line_range_high"), chart_drawing.NATURAL_LIMIT),
    )
    across, form = "readings in the order logged", "0.0000"
    for ref, lines, up, deep in (
        (f"A{CHART_AT}:G{RANGE_AT - 2}", individuals, "pitch diameter", 0.72),
        (f"A{RANGE_AT}:G{FIGURES_AT - 1}", ranges, "moving range", 0.64),
    ):
        chart_drawing.add(ws, ref, lines, across=across, up=up, form=form, deep=deep)
    for row in range(CHART_AT, FIGURES_AT):
        ws.row_dimensions[row].height = 15.5


def _figures(book: Book, ws: Worksheet) -> None:
    row = FIGURES_AT
    blocks.heading(book, ws, f"A{row}:D{row}", "What the readings do")
    for offset, (name, label, meaning, formula, dimension) in enumerate(FIGURES, start=1):
        blocks.write(book, ws, f"A{row + offset}", label, "label")
        blocks.result(book, ws, f"B{row + offset}", name, meaning, formula, dimension=dimension)
    row += len(FIGURES) + 1
    for letter, text in zip("ABCD", ("Against the limits of size", "", "95 % from", "to")):
        blocks.write(book, ws, f"{letter}{row}", text, "head")
    for number, (name, label, meaning, formula) in enumerate(INDICES):
        at = row + 1 + number // 3
        if label:
            blocks.write(book, ws, f"A{at}", label, "label")
        blocks.result(book, ws, f"{'BCD'[number % 3]}{at}", name, meaning, formula, dimension="0.00")
    _words(book, ws)
    row += 4
    blocks.write(book, ws, f"A{row}:G{row}", SOURCE, "side")  # one row: LibreOffice prints to the last filled
    ws.row_dimensions[row].height = 72
    for at in range(FIGURES_AT + 1, row):
        ws.row_dimensions[at].height = 17


def _words(book: Book, ws: Worksheet) -> None:
    """The sentences on the right of the figures."""
    row = FIGURES_AT
    blocks.heading(book, ws, f"F{row}:G{row}", "In words")
    blocks.result(
        book, ws, f"F{row + 1}:G{row + 3}", "stability_words", "parts outside the natural limits, in words",
        STABILITY_WORDS, look="sentence",
    )  # fmt: skip
    blocks.result(
        book, ws, f"F{row + 4}:G{row + 6}", "capability_words", "capability, or why there is none", CAPABILITY_WORDS,
        look="sentence",
    )  # fmt: skip
    blocks.result(
        book,
        ws,
        f"F{row + 7}:G{row + 9}",
        "trend_words",
        "trend: regrind, reset, or none",
        TREND_WORDS,
        look="sentence",
    )
    for offset, (name, label, meaning, formula, dimension) in enumerate(
        (
            ("trend_slope", "Slope per part", "change of the pitch diameter from part to part, by least squares",
             'IF(chart_n>1,SUM(chart_moment)/trend_spread,"")', "0.0000000"),
            ("trend_parts_left", "Parts until the limit", "parts until the trend comes near a limit",
             'IF(ISNUMBER(trend_room),MAX(0,INT(trend_room/ABS(trend_slope))),"")', "count"),
        ),
        start=10,
    ):  # fmt: skip
        blocks.write(book, ws, f"F{row + offset}", label, "label")
        blocks.result(book, ws, f"G{row + offset}", name, meaning, formula, dimension=dimension)
