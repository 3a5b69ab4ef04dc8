"""The sheet Log: one row a part, as measured; the result of each row, which can't be typed over.

How a row is judged, exactly (another program may compute it again from the inputs alone)
-----------------------------------------------------------------------------------------
Names are those of the defined names; log_x means its cell in the row. "Empty" is a blank cell. U is uncertainty_used,
N = 0.0000001 (NOISE), d = decimals (4 in inches, 3 in millimetres).

Readings are the six of log_reading, log_reading_1b ... log_reading_3b; sizes are the readings and log_direct.

status      empty: none of the inputs of the row (log_serial ... log_why) is filled. Else replaced: a LATER row has the
            same serial (as text, capitals alike; a row without a serial is never replaced) and a filled log_why.
            Else it counts. Whether the later row is itself replaced or even measured makes no difference.
again       not replaced, log_why empty, and an EARLIER row has the same serial (as text, capitals alike). Such a row
            has its results, but no count, sum or sentence of the lot has it in it.
spaced      log_serial begins or ends with a blank or has two together.
a day       a number from 1990-01-01 to 2099-12-31, as the spreadsheet counts days, without its time of day.
day         log_when, where it is a day. Without a day nothing is to be used: nobody can say that it was in date.
instrument  not to be used, where anything is measured (readings, log_direct or log_crest filled): log_instrument is
            empty; it is no instrument_id; day > its last day or < its first. The last day is instrument_due (whole
            day, included); with instrument_fit filled and not "yes", or without a day as its due date, there is
            none: never. The first is instrument_calibrated (included); empty: any day; filled and no day: never.
            Nor is one whose instrument_kind measures no size (a ring or plug, setting plug, gauge blocks,
            thermometer), or whose range does not hold the size: instrument_from to instrument_to, N wider, in
            instrument_unit (neither in nor mm: the working unit); what is no number sets no end. Asked are all numbers
            among the readings and log_direct, unless the pitch diameter is "check entry"; where there is no number
            among them, log_crest, unless it is "check entry". So a row's instrument is that of the pitch diameter.
wires       the same (but for kind and range), where there is a number among the readings, with wires_id,
            wires_calibrated, wires_due, wires_fit; never for a set with a mean whose wires differ by more than
            wire_match_limit, where that is a number more than zero, else 0.00002 in (0.0005 mm). With log_wires empty
            the set is `wire_set` of Setup; not to be used where that is empty too, or where wire_in_use is filled and
            differs from the wires_mean of that set by more than 0.00002 in (0.0005 mm).
gauge       where log_ring is one of its words: log_gauge among instrument_id, its days as above; its kind is a ring or
            plug, GO, NOT GO or GO/NOT GO; a ring for an outside thread, a plug for an inside one; its marking
            (instrument_thread) is for the thread and the hand of the job, and does not say NOT GO of a GO kind or GO of
            a NOT GO kind; pass and go fails need GO or GO/NOT GO, not go enters needs NOT GO or GO/NOT GO.
marking     read so, and the callout of the job too: capitals; without blanks and dashes (- – — −); × and * are X,
            LEFTHAND is LH, RIGHTHAND is RH; what follows PD is left out, PD with it. HI or LO at the end is NOT GO
            and left out. Else NOTGO or NOGO in it is NOT GO, else GO in it is GO. Left hand where LH is in it. Without
            NOTGO, NOGO, GO, EXTERNAL, INTERNAL, LH, RH (in this order) what is left must be the same. The wording of
            the job is not read: no marking is guessed at, M20-6g is not M20x2.5-6g.
wire        log_wires filled: wires_mean of that set (mean of the filled wires_a, _b, _c); empty: wire_used.
constant K  reading less pitch diameter at the mean of the row's readings, on the straight line through the exact
            readings over wires (lead angle and all; unlike flanks without it) at pitch_max and pitch_min; none where
            the thread has no wires (internal or taper) or the wire does not serve: it must be > wire_smallest and
            <= wire_largest, and touch the flank and not beyond it.
            wires_mean: none where a filled wire is no number > 0 and <= 1000.
factor F    to 20 degrees C: a / (1 + e * (t - 20)); t = log_temperature (empty: 20), e = expansion,
            a = 1 + instrument_expansion * (room_temperature - 20). A coefficient that is no number > 0 and <= 0.0001
            gives e = 0, or a = 1; so does a room_temperature that is no number, and e = 0. F is taken on
            pitch and crest diameters, not on taper or out of round.
high, low   largest and smallest of (reading - K) over all filled readings and of log_direct, times F.

Result for the pitch diameter, log_pitch_result: the first that fits of
  1 ""                 the row is empty
  2 replaced           as above
  3 not measured       all seven sizes are empty
  4 check entry        spaced; one of the filled sizes is not a number; one is <= 0 or > 100000; log_temperature is
                       filled and no number from 0 to 50; pitch_max or pitch_min is no number; there are readings and
                       the thread has no wires
  5 check instrument   log_wires names no set of Instruments (and there are readings)
  6 check entry        there are readings and no K; K > 3 T and all readings are from pitch_min - T to pitch_max + T
                       (a pitch diameter in the column of readings); high - pitch_basic > 2 pitch or
                       pitch_basic - low > 2 pitch; there are readings and log_direct, and log_direct > largest
                       reading - K + T/10 or < smallest reading - K - T/10, T = pitch_tolerance (not brought to 20
                       degrees)
  7 check instrument   instrument or wires not to be used
  8 the word for log_pitch by the decision rule
log_pitch is a number in the cases 7 and 8 only (and in 5 never): high where pitch_max - high <= low - pitch_min, else
low: the worst violation, or the one nearest to a limit.

Decision rule "simple" (also where decision_rule is neither word), value v against max and min, a limit counts as in:
  over wires   high: v > MAX(pitch_max, ROUND(pitch_max + K, d) - K) + N
               low:  v < MIN(pitch_min, ROUND(pitch_min + K, d) - K) - N
  direct       where there are no readings, or v is log_direct * F
               high: v > MAX(pitch_max, ROUND(pitch_max, d)) + N;  low: v < MIN(pitch_min, ROUND(pitch_min, d)) - N
  crest        as direct, with crest_max and crest_min
  else in. ROUND is decimal, halves away from zero.
Decision rule "guard", with the exact limits and U (ILAC-G8:09/2019, 4.2.3, with w = U; ISO 14253-1):
  high: v > max + U + N;  low: v < min - U - N;  in: v <= max - U + N and v >= min + U - N;  else undecided.
  Without a U that is a number more than zero every value is undecided.
U for the pitch diameter is uncertainty_used: expanded_uncertainty, empty: budget_expanded. U for the crest diameter is
crest_uncertainty, empty: that of the pitch diameter.

Result for the crest diameter, log_crest_result: "", replaced, then not measured (log_crest empty), check entry (no
number; <= 0 or > 100000; wrong temperature; crest_max or crest_min no number; farther than 2 pitch from
(crest_max + crest_min)/2, before F), check instrument (instrument not to be used), then the word for log_crest * F.
(Both check entry where spaced, after not measured.)
Result of the gauges, log_ring_result: "" (row empty), replaced, "" (log_ring empty), check entry (spaced, or none of
the words),
check instrument (gauge not to be used), then "pass" is in; outside threads: "go fails" is high, "not go enters" low;
inside threads the other way round. The decision rule is not for gauges.

log_taper: with numbers at two or three stations, the largest less the smallest mean of a station. log_out_of_round:
with both directions at a station, the largest difference of the two. Both "" where a filled reading is no number or
beyond 100000. They
are shown as a part of the tolerance in log_words and change no result.

log_words are sentences in this order, those that apply: Replaced by row n (of the sheet). / No part number. / Part
logged before, in row n: not counted. / No earlier row of this part. Blanks in the part number. Who measured, or
corrected? Corrected when? What is wrong with the entry. Instrument, wires, ring or plug, gauge; no date. Dated before
the job. Not brought to 20 degrees C: a part temperature other than 20, and no expansion. Taper. Out of round. 20
identical readings in a row (this row's and the 19 before it, log_reading or log_direct).
log_marks, over the table, tells of rows that repeat a part, of days after as_of_used, and of readings that all end in
the same digit (10 or more that count and are no "check entry").
"""

from __future__ import annotations

from typing import Any

from openpyxl.formatting.rule import Rule
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import say, the, when
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.paper.prompt_titles import prompt_title
from workbook_template.sheets import log_top
from workbook_template.sheets.log_formulas import formulas, row_formulas
from workbook_template.sheets.log_rows import (
    FIRST,
    GAP,
    GO_FAILS,
    HEAD,
    INPUTS,
    LAST,
    LETTERS,
    NOT_GO_ENTERS,
    PASS,
    RESULTS,
    ROWS,
    WORKING,
    column,
)
from workbook_template.sheets.log_top import WORDS

__all__ = ["FIRST", "HEAD", "LAST", "ROWS", "SHEET", "WORDS", "build", "row_formulas"]

SHEET = "Log"


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    for one in (*INPUTS, *RESULTS, *WORKING):
        ws.column_dimensions[LETTERS[one.name]].width = one.width
    ws.column_dimensions["Y"].width = 3
    log_top.build(book, ws)
    _rows(book, ws)
    ws.freeze_panes = f"B{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    ws.auto_filter.ref = f"A{HEAD}:X{LAST}"
    blocks.page(ws, f"A1:X{LAST}", landscape=True, rows=0)
    ws.page_margins.left = ws.page_margins.right = 0.3
    ws.sheet_view.zoomScale = 85  # so that the columns and enough rows fit on a screen
    blocks.lock(ws)


def _rows(book: Book, ws: Worksheet) -> None:
    for one in (*INPUTS, *RESULTS):
        blocks.write(book, ws, f"{LETTERS[one.name]}{HEAD}", one.heading, "log_head")
    for one in WORKING:
        blocks.write(book, ws, f"{LETTERS[one.name]}{HEAD}", one.heading, "head")
    for name, before, formula in (
        ("pitch", "log_pitch_head", when(the.log_expansion > 0, "Pitch dia. at 20 °C", "Pitch dia. as meas'd")),
        ("crest", "log_crest_head", when(the.thread_side.same("internal"), "Bore", "Major dia.")),
        ("crest_result", "log_crest_result_head", say("Result: ", the.log_crest_title)),
    ):
        blocks.result(
            book, ws, f"{LETTERS[name]}{HEAD}", before, "heading of the column", formula, look="log_head"
        )  # fmt: skip
    ws.row_dimensions[HEAD].height = 40
    looks = _row_looks(book, ws)
    empty = (None,) * len(INPUTS)
    gap = (None,) * GAP
    results, working = (zip(*(formulas(book, one.name) for one in columns)) for columns in (RESULTS, WORKING))
    for row, (printed, hidden) in enumerate(zip(results, working), start=FIRST):
        styles.append(ws, (*empty, *printed, *gap, *hidden), looks)  # the headings are the last row so far
        ws.row_dimensions[row].height = 30
    for one in INPUTS:
        ref, unit = column(one.name), blocks.IN_UNIT.get(one.dimension, "")
        blocks.define(book, ws, ref, f"log_{one.name}", f"{one.meaning}, one cell a part", unit=unit, role="input")
        words = f'"{PASS},{GO_FAILS},{NOT_GO_ENTERS}"' if one.name == "ring" else None  # to choose from, none refused
        message = DataValidation(
            type="list" if words else None, formula1=words, allow_blank=True, showInputMessage=True, prompt=one.prompt,
            sqref=ref, promptTitle=prompt_title(f"log_{one.name}", one.meaning),
        )  # fmt: skip
        ws.add_data_validation(message)
        if one.dimension in styles.FORMATS:
            blocks.follow_unit(book, ws, ref, one.dimension)
    for one in RESULTS:
        unit = blocks.IN_UNIT.get(one.dimension, "")
        meaning = f"{one.meaning}: {', '.join(WORDS)}" if one.name.endswith("_result") else one.meaning
        blocks.define(book, ws, column(one.name), f"log_{one.name}", meaning, unit=unit)
        if one.dimension in styles.FORMATS:
            blocks.follow_unit(book, ws, column(one.name), one.dimension)
    for one in WORKING:
        blocks.define(book, ws, column(one.name), f"log_{one.name}", one.meaning, role="working")
    day = f"${LETTERS['when']}{FIRST}"
    future = Rule(type="expression", dxf=styles.BOXED, formula=[f"IF(ISNUMBER({day}),{day}>=as_of_used+1,FALSE)"])
    ws.conditional_formatting.add(column("when"), future)
    first, last = LETTERS["pitch_result"], LETTERS["ring_result"]
    for word, look in styles.RESULT_WORDS.items():
        rule = Rule(type="expression", dxf=look.look, formula=[f'{first}{FIRST}="{word}"'], stopIfTrue=True)
        ws.conditional_formatting.add(f"{first}{FIRST}:{last}{LAST}", rule)


def _row_looks(book: Book, ws: Worksheet) -> list[Any]:
    """The finished styles of a row."""
    wanted = [
        ("log_size" if one.dimension in ("entry", "0.0#") else "log_typed",
         styles.number_format(one.dimension, book.unit))
        for one in INPUTS
    ]  # fmt: skip
    wanted += [(one.look, styles.number_format(one.dimension, book.unit)) for one in RESULTS]
    wanted += [("plain", "General")] * GAP
    wanted += [("small", "General")] * len(WORKING)
    return [styles.ready(book.known, ws, look, form) for look, form in wanted]
