"""The sheet Log: one row a part, as measured; the result of each row, which can't be typed over.

How a row is judged, exactly (another program may compute it again from the inputs alone)
-----------------------------------------------------------------------------------------
Names are those of the defined names; log_x means its cell in the row. "Empty" is a blank cell. U is uncertainty_used,
N = 0.0000001 (NOISE), d = decimals (4 in inches, 3 in millimetres).

Readings are the six of log_reading, log_reading_1b ... log_reading_3b; sizes are the readings and log_direct.

used        What a row leaves empty of log_instrument, log_who and log_when (blank, or a text without a sign) is what
            log_once_instrument, log_once_who and log_once_when have, in a row in which any of the readings,
            log_direct, log_crest, log_ring, log_gauge_turns or log_why is filled; log_instrument_used, log_who_used
            and log_when_used show it. So where this rule says instrument, who or when of a row, it is the one used.
            What is typed once counts for all such rows, those of other days too: on another day it is left as it is,
            and the day typed in the rows. So it is with log_place and log_once_place.
status      empty: none of the inputs of the row (log_serial ... log_why) is filled. Else replaced: a LATER row has the
            same serial (as text, capitals alike; a row without a serial is never replaced) and a filled log_why.
            Else it counts. Whether the later row is itself replaced or even measured makes no difference.
again       not replaced, log_why empty, and an EARLIER row has the same serial (as text, capitals alike). Such a row
            has its results, but no count, sum or sentence of the lot has it in it.
spaced      log_serial begins or ends with a blank or has two together, or begins with an apostrophe.
a day       a number from 1990-01-01 to 2099-12-31, as the spreadsheet counts days, without its time of day.
day         when (as used), where it is a day. Without a day nothing is to be used: nobody can say that it was in date.
instrument  not to be used, where anything is measured (readings, log_direct or log_crest filled): none is
            named; it is no instrument_id; day > its last day or < its first. The last day is instrument_due (whole
            day, included); with instrument_fit filled and not "yes", or without a day as its due date, there is
            none: never. The first is instrument_calibrated (included); empty: any day; filled and no day: never.
            Nor is one whose instrument_kind measures no size (a ring or plug, setting plug, gauge blocks,
            thermometer) or is filled and none of its list, or whose range does not hold the size: instrument_from to
            instrument_to, N wider, in instrument_unit (neither in nor mm: the working unit); what is no number sets no
            end. Asked are all numbers among the readings and log_direct, unless the pitch diameter is "check entry";
            where there is no number among them, log_crest, unless it is "check entry". So a row's instrument is that
            of the pitch diameter.
wires       the same (but for kind and range), where there is a number among the readings and the thread has wires,
            with wires_id, wires_calibrated, wires_due, wires_fit; never for a set with a mean whose wires differ by
            more than wire_match_limit, where that is a number more than zero, else 0.00002 in (0.0005 mm). With
            log_wires empty the set is `wire_set` of Setup; not to be used where that is empty too, or where wire_in_use
            is filled and differs from the wires_mean of that set by more than 0.00002 in (0.0005 mm).
gauge       where log_ring is one of its words, or log_gauge_turns is filled on a taper thread: log_gauge among
            instrument_id, its days as above; its kind is a ring or plug, GO, NOT GO or GO/NOT GO; a ring for an
            outside thread, a plug for an inside one; its marking (instrument_thread) is for the thread and the hand of
            the job, and does not say NOT GO of a GO kind or GO of a NOT GO kind; pass and go fails need GO or GO/NOT
            GO, not go enters needs NOT GO or GO/NOT GO. Of a coated part, as under limits, whose class has an
            allowance, a GO gauge may also be marked for class 3A (Unified), or with h for a to g, or H for G (ISO
            metric). On a taper thread every word, and log_gauge_turns, need what pass needs. A taper ring or plug
            counts as GO.
marking     read so, and the callout of the job too: capitals; without blanks and dashes (- – — −); × and * are X,
            LEFTHAND is LH, RIGHTHAND is RH; what follows PD is left out, PD with it. HI or LO at the end is NOT GO
            and left out. Else NOTGO or NOGO in it is NOT GO, else GO in it is GO. Left hand where LH is in it. Without
            GO/NOTGO, GO/NOGO, NOTGO, NOGO, GO, EXTERNAL, INTERNAL, INT, EXT, BOLT, NUT, LH, RH (in this order), and of
            a taper thread L1 at the end, what is left must be the same. The wording of the job is not read: no marking
            is guessed at, M20-6g is not M20x2.5-6g.
wire        log_wires filled: wires_mean of that set (mean of the filled wires_a, _b, _c); empty: wire_used.
place       of a taper thread alone: a distance from the small end outside, from the face inside. Of station 1,
            log_direct and log_crest it is log_place; of stations 2 and 3 log_place_2 and log_place_3, where empty (as
            above) that of station 1. It is one where it is a number in a range, 0.000001 wider: with a number among
            the readings from half a pitch to half a pitch short of the last full thread, without one from 0 to the
            last full thread (outside L5 of ASME B1.20.1, useful thread of ISO 7-1); inside always from 0 to the gauge
            length, with L3 where there is one.
lift        of a station: what brings a diameter from its place to the gauge plane, taper x (gauge length - place)
            outside, taper x place inside; 0 on a parallel thread. The gauge plane is at L1, or the gauge length of ISO
            7-1, from the small end. All limits hold there. The lift of a row is that of station 1.
limits      part_pitch_diameter_max and _min (T = part_tolerance between them), crest_max and crest_min: those of the
            class. Of a part that is coated (thinnest_coating from 0 to thickest_coating, which is more than 0) the one
            of most metal is basic size, rounded as printed, where the class has an allowance and its limit stands off.
constant K  reading less pitch diameter at the mean of the row's readings, on the straight line through the exact
            readings over wires (lead angle and all; unlike flanks without it) at the two limits; none where the
            thread has no wires (internal) or the wire does not serve: it must be > wire_least and <= largest_wire, and
            touch the flank and not beyond it. wires_mean: none where a filled wire is no number > 0 and <= 1000. On a
            taper the reading is that at the plane of the single wire, by sheetfuncs.wires without the lead angle.
factor F    to 20 degrees C: a / (1 + e * (t - 20)); t = log_temperature (empty: 20), e = expansion,
            a = 1 + instrument_expansion * (room_temperature - 20). A coefficient that is no number > 0 and <= 0.0001
            gives e = 0, or a = 1; so does a room_temperature that is no number from 0 to 50, and e = 0. F is taken
            on pitch and crest diameters, not on taper or out of round.
high, low   largest and smallest of (reading + lift of its station - K) over all filled readings and of log_direct +
            lift, times F.

Result for the pitch diameter, log_pitch_diameter_result: the first that fits of
  1 ""                 the row is empty
  2 replaced           as above
  3 not measured       all seven sizes are empty
  4 check entry        spaced; one of the filled sizes is not a number; one is <= 0 or > 100000; log_temperature is
                       filled and no number from 0 to 50; a limit of the pitch diameter is no number; there
                       are readings and the thread has no wires; a place is none
  5 check instrument   log_wires names no set of Wire sets (and there are readings)
  6 check entry        there are readings and no K; K > 3 T and all readings are from T under part_pitch_diameter_min
                       to T over part_pitch_diameter_max (a pitch diameter in the column of readings; each reading
                       with its lift);
                       high - pitch_diameter_basic > 2 pitch or pitch_diameter_basic - low > 2 pitch; there are
                       readings and log_direct, and log_direct > largest reading - K + T/10 or < smallest reading - K -
                       T/10, T = part_tolerance (not brought to 20 degrees)
  7 check instrument   instrument or wires not to be used
  8 the word for log_pitch_diameter by the decision rule
log_pitch_diameter is a number in the cases 7 and 8 only (and in 5 never): high where part_pitch_diameter_max - high <=
low - part_pitch_diameter_min, else low: the worst violation, or the one nearest to a limit.

Decision rule "simple" (also where decision_rule is neither word), value v against max and min, a limit counts as in:
  over wires   K is here K less the lift of the row
               high: v > MAX(part_pitch_diameter_max, ROUND(part_pitch_diameter_max + K, d) - K) + N
               low:  v < MIN(part_pitch_diameter_min, ROUND(part_pitch_diameter_min + K, d) - K) - N
  direct       where there are no readings, or v is (log_direct + lift) * F: the same with K = 0
  crest        as direct, with crest_max and crest_min
  else in. ROUND is decimal, halves away from zero.
Decision rule "guard", with the exact limits and U (ILAC-G8:09/2019, 4.2.3, with w = U; ISO 14253-1):
  high: v > max + U + N;  low: v < min - U - N;  in: v <= max - U + N and v >= min + U - N;  else undecided.
  Without a U that is a number from 0.000001 to 20000 every value is undecided.
U for the pitch diameter is uncertainty_used: expanded_uncertainty, empty: budget_expanded. U for the crest diameter is
crest_uncertainty, empty: that of the pitch diameter.

Result for the crest diameter, log_crest_result: "", replaced, then not measured (log_crest empty), check entry (no
number; <= 0 or > 100000; wrong temperature; crest_max or crest_min no number; farther than 2 pitch from (crest_max +
crest_min)/2, with its lift, before F; a place is none), check instrument (instrument not to be used), then the word
for (log_crest + lift) * F. (Both check entry where spaced, after not measured.)
Result of the gauges, log_ring_result: "" (row empty), replaced, "" (log_ring empty), check entry (spaced, or none of
the words), check instrument (gauge not to be used), then "pass" is in; outside threads: "go fails" is high, "not go
enters" low; inside threads the other way round. The decision rule is not for gauges. Of a parallel thread
log_gauge_turns is to be empty, else check entry. Of a taper thread the words are pass, too large (high) and too small
(low), and log_gauge_turns, where it is filled, decides: in where it is from -t to t, N wider, t the turns of the
standard either way, else high or low; check entry where it is no number or beyond 20, or where a word says otherwise.
"log_ring empty" is then: both empty.

The worst result, log_worst: "" (row empty), replaced; the first of high, low, check entry, check instrument, undecided
that is one of the three results; in, where the pitch diameter is in, or the gauges are and the gauge is a NOT GO too
(any on a taper thread, where there is none); else not measured. log_reason: the results that are high, low or
undecided, each named ("at 20 °C" where F is not 1: as read, a size may be on its limit), that a GO gauge alone does not
settle it, then log_words.

log_taper: with numbers at two or three stations, the largest less the smallest mean of a station. log_out_of_round:
with both directions at a station, the largest difference of the two. Both "" where a filled reading is no number or
beyond 100000, log_taper also where a place is none; each mean is taken with the lift of its station. They are shown as
a part of the tolerance in log_words, unless something is wrong with the entry, and change no result.

log_words are sentences in this order, those that apply: Replaced by row n (of the sheet). / No part number. / Part
logged before, in row n: not counted. / No earlier row of this part. Blanks in the part number, an apostrophe before it.
Who measured, or corrected? Corrected when? What is wrong with the entry. Instrument, wires, ring or plug, gauge; no
date. A gauge that is named without what it said; places on a parallel thread. Dated before the job. Not brought to 20
degrees C: a part temperature other than 20, and no expansion. Taper. Out of round. Of a taper thread the turns of the
gauge that the pitch diameter is off. 20 identical readings in a row (this row's and the 19 before it, log_reading or
log_direct).
log_marks, on the sheet Uncertainty and in short over the rows, tells of rows that repeat a part, of days after
as_of_used, and of readings that all end in the same digit (10 or more that count and are no "check entry").
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, empty, first, fixed, here, known, no, say, the, when
from workbook_template.sheets import log_taper, log_top
from workbook_template.sheets.layout import NOTE, Column, Made, Mark, Sheet, Table, stack, table
from workbook_template.sheets.log_formulas import FORMULAS, more_words
from workbook_template.sheets.log_rows import COLUMNS, HEAD, OVER, ROWS, WIDTHS, with_spare
from workbook_template.sheets.log_words import RESULT_WORDS

__all__ = ["HEAD", "ROWS", "SHEET", "sheet"]

SHEET = "Log"

HEADS = {
    "worst": Figure("log_worst_head", "heading of the column, with the rule that the results are decided by",
                    when(the.log_guard.same(1), say("Result: guard band, U\u00a0",
                         when(known(the.uncertainty_used), fixed(the.uncertainty_used, the.decimals + 1), "missing")),
                         "Result: simple rule")),
    "pitch_diameter": Figure("log_pitch_diameter_head", "heading of the column",
                    first((the.tapered, when(known(the.own_by_wrench), "Pitch dia. at L1", "Pitch dia. at gauge")),
                          (the.log_expansion > 0, "Pitch dia. at\u00a020\u00a0°C"), otherwise="Pitch dia. as meas'd")),
    "crest": Figure("log_crest_head", "heading of the column",
                    when(the.thread_side.same("internal"), "Bore", "Major dia.")),
    "crest_result": Figure("log_crest_result_head", "heading of the column", say("Result: ", the.log_crest_title)),
}  # fmt: skip
"""Heads that depend on the job, or on how it is decided."""


FILTERED = 3
"""Columns with the button of the filter: part, result, why. Over the narrow ones it would hide their heads."""


def columns(rows: int) -> tuple[Column, ...]:
    """The columns with their formulas."""
    formulas = {**FORMULAS, "more_words": more_words(rows)}
    return tuple(
        one._replace(
            formula=formulas.get(one.name),
            head=HEADS.get(one.name, one.head),
            head_look="part_head_right" if one.dimension in ("entry", "length", "0.0#") else "part_head",
        )
        for one in COLUMNS
    )


def _marks() -> tuple[Mark, ...]:
    """The looks of the verdicts; grey where something is used that was typed once; a day to come."""
    verdicts = ("worst", "pitch_diameter_result", "crest_result", "ring_result")
    return (
        *(Mark(word, here[name].same(word), (name,)) for name in verdicts for word in RESULT_WORDS),
        Mark("boxed", when(known(here.when_used), here.when_used >= the.as_of_used + 1, False), ("when_used",)),
        *(
            Mark("typed_once", all_of(no(empty(here[f"{own}_used"])), empty(here[own])), (f"{own}_used",))
            for own in ("instrument", "who", "when")
        ),
    )


def printed(made: Made) -> int:
    """How many rows are printed: those in use where there are some, else whole pages to be filled in."""
    return min(made.rows, max(made.logged, made.quantity) if made.logged else with_spare(made.quantity))


def sheet(made: Made) -> Sheet:
    """The rows under what stays in sight; how they are decided, and their count: `sheets.decision`."""
    rows = Table(
        "log", columns(made.rows), made.rows, height=-NOTE, head_height=22.95, marks=_marks(), filtered=FILTERED,
        asked_at_heads=True, grown=True,
    )  # fmt: skip
    listed = stack(log_top.head(made.rows), table(rows))
    return Sheet(
        SHEET,
        (listed._replace(lines=(*listed.lines, log_top.end(made.rows)), repeated_lines=OVER + 1),),
        working=log_top.working(printed(made)),
        working_tables=(log_top.fixes(made.rows), log_taper.ring_words()),
        widths=WIDTHS,
        landscape=True,
        printed_rows=OVER + 1 + printed(made),
        frozen="log",
        frozen_columns=FILTERED,
        opens_on=log_top.ONCE[0].name,  # the place, before it, is for taper threads
    )
