"""The top of the sheet Log: limits, the decision rule, temperatures, counts; and its single working figures."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, styles
from workbook_template.blocks import Book, Check
from workbook_template.instrument_columns import MATCH_LIMIT, SET_ROW, day_words
from workbook_template.log_rows import AGAIN, HEAD, column

NOISE = "0.0000001"

WORDS = tuple(styles.RESULT_WORDS)
MOST_EXPANSION = "0.0001"
"""No metal expands more than this per degree C; a figure over it lacks its factor of a million."""

HINT = (
    "One row a part. Type what was measured, leave empty what was not. Every row names its instrument. "
    "To correct a row, begin a new one with the same part and say why in the column for it. "
    "To print only the rows in use, filter Part for what is not empty."
)
TOO_ROUND = 10
"""So many readings must be there before all ending in one digit means anything."""

RULE = blocks.one_of(("simple", "guard"), "Choose simple or guard.")
TEMPERATURE = Check("decimal", "0", "50", "between", "Type degrees Celsius, 0 to 50.")
COEFFICIENT = Check(
    "decimal", "0", MOST_EXPANSION, "between", "Type it per degree C, as in 0.0000123 for a steel with 12.3 millionths."
)
FACTOR = Check("decimal", "1", "5", "between", "Type the coverage factor, 2 as a rule.")

DECISION = (
    ("decision_rule", "Decision rule", "how a result near a limit is decided", "text", RULE, "simple",
     ("simple: on the limit is in. guard: in only if inside by the uncertainty U, out only if outside by it, else "
     "undecided. As agreed with the customer.")),
    ("expanded_uncertainty", "Uncertainty U, pitch diameter", "expanded uncertainty of the pitch diameter", "wire",
     blocks.LENGTH, None, "Expanded uncertainty of the measured pitch diameter, working unit. Empty: from the budget."),
    ("coverage_factor", "Coverage factor k", "coverage factor of the expanded uncertainty", "0.0#", FACTOR, None,
     "The factor k that U was made with. Empty: from the budget."),
    ("crest_uncertainty", "U, major diameter or bore", "expanded uncertainty of the crest diameter", "wire",
     blocks.LENGTH, None, ("Expanded uncertainty of the major diameter or bore, working unit. Empty: that of the pitch "
     "diameter.")),
    ("expansion", "Expansion of the part, per °C", "coefficient of expansion of the part's material", "0.0000000",
     COEFFICIENT, None, ("Per degree C: 0.0000123 for 4140 steel, 0.0000172 for 304 stainless, 0.0000236 for 6061. "
     "Empty: no correction. Name the source in the next box.")),
    ("instrument_expansion", "Expansion of instrument", "coefficient of expansion of the measuring instrument",
     "0.0000000", COEFFICIENT, None, ("Per degree C, for the micrometer and the wires: 0.0000115 is usual for steel. "
     "Empty: no correction.")),
    ("room_temperature", "Instrument °C", "temperature of the instrument", "0.0#", TEMPERATURE, None,
     "Temperature of the micrometer and the room, degrees Celsius. Empty: 20."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, value, message.

Coefficients: Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6
(pp. 815 and 816, seen).
"""


def _limit(which: str, end: str, sign: str) -> str:
    """A limit by the simple rule: as shown, rounded, it counts as in: it is what the person at the lathe was told."""
    wider = "MAX" if end == "max" else "MIN"
    return f'IF(ISNUMBER({which}_{end}),{wider}({which}_{end},ROUND({which}_{end},decimals)){sign}{NOISE},"")'


def _guard(which: str, uncertainty: str, end: str, u: str, noise: str) -> str:
    return f'IF(AND(ISNUMBER({which}_{end}),ISNUMBER({uncertainty})),{which}_{end}{u}{uncertainty}{noise}{NOISE},"")'


_SAME_WIRE = MATCH_LIMIT
"""How far a wire may differ from the mean of a set and still be of it; what is typed for matching is not asked."""


def _working() -> tuple[tuple[str, str, str], ...]:
    """Name, meaning, formula of single working cells."""
    limits = [
        (f"log_{which}_{word}", f"a {which} diameter {'over' if end == 'max' else 'under'} this is {word}",
         _limit(which, end, sign))
        for which in ("pitch", "crest") for end, word, sign in (("max", "high", "+"), ("min", "low", "-"))
    ]  # fmt: skip
    zones = [
        (f"log_{which}_{what}_{word}", f"with a guard band: {meaning} for the {which} diameter",
         _guard(which, uncertainty, end, u, noise))
        for which, uncertainty in (("pitch", "uncertainty_used"), ("crest", "crest_uncertainty_used"))
        for what, word, end, u, noise, meaning in (
            ("accept", "high", "max", "-", "+", "up to this in"),
            ("accept", "low", "min", "+", "-", "from this on in"),
            ("reject", "high", "max", "+", "+", "over this high"),
            ("reject", "low", "min", "-", "-", "under this low"),
        )
    ]  # fmt: skip
    return (
        *limits,
        *zones,
        ("log_reach", "how far from basic a size may be before it counts as another unit (our choice)", "2*pitch"),
        ("log_agreement", "how far reading and direct value may differ: a tenth of the tolerance (our choice)",
         'IF(ISNUMBER(pitch_tolerance),pitch_tolerance/10,"")'),
        ("log_apart", "over this, wires keep a reading apart from a pitch diameter: three times the tolerance",
         'IF(ISNUMBER(pitch_tolerance),3*pitch_tolerance,1000000)'),
        ("log_as_pitch_low", "a reading over wires from this on is believable as a pitch diameter",
         'IF(ISNUMBER(pitch_tolerance),pitch_min-pitch_tolerance,0)'),
        ("log_as_pitch_high", "a reading over wires up to this is believable as a pitch diameter",
         'IF(ISNUMBER(pitch_tolerance),pitch_max+pitch_tolerance,0)'),
        ("log_crest_basic", "middle of the crest's limits", 'IF(ISNUMBER(blank_aim),blank_aim,"")'),
        ("log_guard", "0 for the simple rule, 1 for a guard band", 'IF(decision_rule="guard",1,0)'),
        ("log_corrections", "rows that correct an earlier one", f"COUNTA({column('why')})"),
        ("parts_again", "rows with a part that an earlier row has, and no reason to correct it: not counted",
         f'COUNTIF({column("words")},"{AGAIN}*")'),
        ("log_other_unit", "the unit that is not the working unit", 'IF(unit="mm","in","mm")'),
        ("log_other_factor", "from that unit to the working unit", 'IF(unit="mm",25.4,1/25.4)'),
        ("log_scale", "last digits in a working unit", "10^decimals"),
        ("log_expansion", "coefficient of the part used, 0 for no correction",
         f"IF(ISNUMBER(expansion),IF(AND(expansion>0,expansion<={MOST_EXPANSION}),expansion,0),0)"),
        ("log_room_factor", "expansion of the instrument",
         ("IF(AND(log_expansion>0,ISNUMBER(instrument_expansion),ISNUMBER(room_temperature)),"
         f"IF(AND(instrument_expansion>0,instrument_expansion<={MOST_EXPANSION}),"
         "1+instrument_expansion*(room_temperature-20),1),1)")),
        ("log_set_until", "last day on which the set chosen on Setup counts; -2 where its wires are not those used",
         (f"IFERROR(IF(IF(ISBLANK(wire_in_use),TRUE,ABS(wire_used-INDEX(wires_mean,{SET_ROW}))<={_SAME_WIRE}),"
          f"INDEX(wires_until,{SET_ROW}),-2),-2)")),
        ("log_set_fault", "why the set chosen on Setup doesn't count",
         (f'IF(LEN(wire_set)=0,"No wire set named. ",IF(ISNUMBER({SET_ROW}),IF(log_set_until=-2,'
          '"The wire in use on Setup is not that of "&wire_set&". ","Wires "&wire_set&" "&'
          f'INDEX(wires_fault,{SET_ROW})&". "),"Wires "&wire_set&" not on Instruments. "))')),
        ("log_set_since", "first day on which the set chosen on Setup counts",
         f"IFERROR(INDEX(wires_since,{SET_ROW}),0)"),
        ("log_set_before", "why the set chosen on Setup doesn't count before that day",
         f'IFERROR("Wires "&wire_set&" "&INDEX(wires_before,{SET_ROW})&". ","")'),
    )  # fmt: skip


def build(book: Book, ws: Worksheet) -> None:
    """Fill the rows over the table."""
    blocks.banner(book, ws, "A1:X1", "left_hand_log", "left_hand_words")
    blocks.result(book, ws, "A2:J2", "callout_log", "the thread, as on the sheet Job", "callout", look="callout")
    words = 'IF(LEN(part)>0,part,"no part named")&", job "&IF(LEN(job_number)>0,job_number,"–")&", "&unit_words'
    blocks.result(book, ws, "K2:X2", "log_title", "part, job and unit in words", words, look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 24, 32
    _limits(book, ws)
    _decision(book, ws)
    _summary(book, ws)
    _working_cells(book, ws)


def _limits(book: Book, ws: Worksheet) -> None:
    """The limits the results are judged by, on the page."""
    blocks.heading(book, ws, "A3:G3", "Limits")
    for ref, text in (("A4", ""), ("B4:C4", "over wires"), ("D4:E4", "pitch diameter")):
        blocks.write(book, ws, ref, text, "head")
    title = 'IF(thread_side="internal","bore","major diameter")'
    blocks.result(book, ws, "F4:G4", "log_crest_title", "which crest diameter is logged", title, look="head")
    for row, end in ((5, "max"), (6, "min")):
        blocks.write(book, ws, f"A{row}", end, "label")
        for ref, name in ((f"B{row}:C{row}", "over_wires"), (f"D{row}:E{row}", "pitch"), (f"F{row}:G{row}", "crest")):
            meaning = f"{name.replace('_', ' ')} {end}, as used here"
            blocks.result(book, ws, ref, f"log_{name}_{end}", meaning, f"{name}_{end}", dimension="length")
    blocks.result(
        book, ws, "A7:G7", "log_wires_used", "the wires the limits over wires are for",
        'IF(AND(ISNUMBER(wire_used),NOT(no_wires)),"Over wires "&FIXED(wire_used,decimals+1,TRUE)&'
        'IF(LEN(wire_set)>0,", set "&wire_set,"")&". A row that names another set has limits of its own.","")',
        look="small",
    )  # fmt: skip
    blocks.write(book, ws, "A8:G10", HINT, "log_note")


def _decision(book: Book, ws: Worksheet) -> None:
    """How a result is decided, and how a size is brought to 20 degrees C."""
    blocks.heading(book, ws, "I3:N3", "Decision and temperature")
    for row, (name, label, meaning, dimension, check, value, prompt) in enumerate(DECISION, start=4):
        blocks.write(book, ws, f"I{row}:K{row}", label, "label")
        numeric = dimension != "text"
        ref = f"L{row}:M{row}"
        blocks.write(book, ws, ref, value, "input_number" if numeric else "input", dimension)
        blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)
    used = (
        (5, "uncertainty_used", "expanded uncertainty used", "wire",
         ('IF(ISBLANK(expanded_uncertainty),IF(ISNUMBER(budget_expanded),budget_expanded,""),'
         'IF(ISNUMBER(expanded_uncertainty),IF(expanded_uncertainty>0,expanded_uncertainty,""),""))')),
        (6, "coverage_used", "coverage factor used", "0.0#",
         'IF(ISBLANK(coverage_factor),IF(ISNUMBER(budget_coverage),budget_coverage,""),coverage_factor)'),
        (7, "crest_uncertainty_used", "expanded uncertainty used for the crest diameter", "wire",
         ('IF(ISBLANK(crest_uncertainty),uncertainty_used,IF(ISNUMBER(crest_uncertainty),'
         'IF(crest_uncertainty>0,crest_uncertainty,""),""))')),
    )  # fmt: skip
    for row, name, meaning, dimension, formula in used:
        blocks.result(
            book, ws, f"N{row}:O{row}", name, meaning, formula, dimension=dimension, look="row_bold"
        )  # fmt: skip
    blocks.write(book, ws, "N8:O8", None, "input")
    blocks.name_input(
        book, ws, "N8:O8", "expansion_source", "where the coefficient of expansion is from",
        prompt="Material and source of the coefficient, as in: 4140, Callister table B.6.",
    )  # fmt: skip


_SIZE = "FIXED(uncertainty_used,decimals+1,TRUE)"
DECISION_WORDS = (
    '"Decision rule: "&IF(log_guard=1,IF(ISNUMBER(uncertainty_used),"guard band w = U: in and out only where the '
    'limit is cleared by U (ILAC-G8:09/2019, 4.2.3; ISO 14253-1)","guard band, but there is no U: all is '
    'undecided. Fill in U"),"simple acceptance: on a limit is in (ILAC-G8:09/2019, 4.2.1)")&'
    f'IF(ISNUMBER(uncertainty_used),", U = "&{_SIZE}&" "&unit&IF(ISNUMBER(coverage_used),", k = "&coverage_used,""),"")'
    '&". "&IF(log_expansion>0,"Sizes at 20 °C with "&expansion*1000000&" millionths per °C"&'
    'IF(LEN(expansion_source)>0," ("&expansion_source&")","; name its source")&", rows without a temperature as at '
    '20 °C.","Sizes as measured, not brought to 20 °C.")'
)
_FUTURE = f'COUNTIF({column("when")},">="&(as_of_used+1))'
MARKS = (
    'TRIM(IF(parts_again=0,"",parts_again&IF(parts_again=1," row repeats"," rows repeat")&" a part: not counted. ")&'
    f'IF(MAX({column("when")})<as_of_used+1,"",{_FUTURE}&" dated after "&{day_words("as_of_used")}&". ")&'
    f'IF(COUNT({column("digit")})<{TOO_ROUND},"",IF(MAX({column("digit")})=MIN({column("digit")}),'
    f'"Look at this: all "&COUNT({column("digit")})&" readings end in "&MAX({column("digit")})&'
    '". Were they rounded?","")))'
)


def counted(kind: str, word: str) -> str:
    """How many rows have a word; a part that was logged before is counted once."""
    found = f'{column(f"{kind}_result")},"{word}"'
    if word == "replaced":
        return f"COUNTIF({found})"
    return f'COUNTIF({found})-IF(parts_again=0,0,COUNTIFS({found},{column("words")},"{AGAIN}*"))'


def _summary(book: Book, ws: Worksheet) -> None:
    """How many rows have each word; the decision rule and the rule for turns, as printed."""
    blocks.heading(book, ws, "P3:X3", "Count")
    letters = dict(zip(WORDS, "QRSTUVWX"))
    blocks.write(book, ws, "P4", "", "head")
    for word, letter in letters.items():
        blocks.write(book, ws, f"{letter}4", word, "head")
    kinds = (
        (5, "pitch", "pitch diameter", "pitch dia."),
        (6, "crest", "crest diameter", ""),
        (7, "ring", "ring or plug gauge", "gauges"),
    )
    for row, kind, meaning, label in kinds:
        if label:
            blocks.write(book, ws, f"P{row}", label, "label")
        else:
            short = 'IF(thread_side="internal","bore","major dia.")'
            blocks.result(
                book, ws, f"P{row}", "log_crest_label", "which crest diameter is counted", short, look="label"
            )
        for word, letter in letters.items():
            name = f"count_{kind}_{word.replace(' ', '_')}"
            blocks.result(
                book, ws, f"{letter}{row}", name, f"parts whose {meaning} is: {word}", counted(kind, word),
                dimension="count", look="row_bold",
            )  # fmt: skip
    blocks.write(book, ws, "P8", "entered", "label")
    entered = "+".join(f"count_pitch_{word.replace(' ', '_')}" for word in WORDS if word != "replaced")
    blocks.result(
        book, ws, "Q8", "parts_entered", "rows that count", entered, dimension="count", look="row_bold"
    )  # fmt: skip
    blocks.write(book, ws, "R8", "to make", "label")
    to_make = 'IF(ISNUMBER(quantity),quantity,"–")'
    blocks.result(
        book, ws, "S8", "parts_to_make", "parts to make, from the sheet Job", to_make, dimension="count",
        look="row_bold",
    )  # fmt: skip
    blocks.write(book, ws, "T8:U8", "Turns rule for not go", "label")
    blocks.write(book, ws, "V8:X8", None, "input")
    blocks.name_input(
        book, ws, "V8:X8", "turns_rule", "how many turns a not go gauge may enter",
        prompt="The rule that was applied, as in: not go may enter up to 3 turns, ASME B1.2; or 2 turns, ISO 1502.",
    )  # fmt: skip
    blocks.result(
        book, ws, "P9:X9", "decision_words", "the decision rule and the temperature, as printed on the record",
        DECISION_WORDS, look="log_note",
    )  # fmt: skip
    blocks.result(
        book, ws, "P10:X10", "log_marks", "what is suspicious about the readings as a whole", MARKS, look="next"
    )  # fmt: skip
    for row in range(4, HEAD):
        ws.row_dimensions[row].height = 28 if row in (4, 9, 10) else 20


WITHOUT_THREAD = (
    *("log_guard", "log_corrections", "log_set_until", "log_set_fault", "log_set_since", "log_set_before"),
    *("log_room_factor", "log_other_unit", "log_other_factor", "log_scale", "log_expansion", "parts_again"),
)
"""Working figures that stand also where no thread is chosen."""


def _working_cells(book: Book, ws: Worksheet) -> None:
    """Single working figures, to the right of what is printed and above the working columns."""
    blocks.heading(book, ws, "Z3:AK3", "Working figures (not printed)")
    places = [
        (pair, row)
        for pair in (("Z", "AA"), ("AB", "AC"), ("AD", "AE"), ("AF", "AG"), ("AH", "AI"))
        for row in range(4, 11)
    ]
    for ((left, right), row), (name, meaning, formula) in zip(places, _working(), strict=False):
        guarded = formula if name in WITHOUT_THREAD else f'IF(ISNUMBER(thread_row),{formula},"")'
        blocks.write(book, ws, f"{left}{row}", name.removeprefix("log_").replace("_", " "), "small")
        blocks.result(book, ws, f"{right}{row}", name, meaning, guarded, role="working", look="row")
