"""The columns of the sheet Instruments, with the formulas of a row: states, wires, until when readings count."""

from __future__ import annotations

from collections.abc import Callable

from workbook_template.figures.notation import (
    NO_NUMBER,
    above,
    all_of,
    any_of,
    blank,
    every,
    exactly,
    first,
    fixed,
    given,
    here,
    known,
    no,
    say,
    sentences,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import contact
from workbook_template.sheets.inputs import ANYTHING, DAY, LENGTH, Check, in_text, one_of
from workbook_template.sheets.layout import Column
from workbook_template.trade import gauges
from workbook_template.trade.days import NO_DAY, is_day, written
from workbook_template.trade.equipment import (
    MATCH_LIMITS,
    MATCH_NOISE,
    MOST_WIRE,
    NO_DUE_DATE,
    NOT_CALIBRATED,
    UNFIT,
    UNMATCHED,
)

INSTRUMENTS, WIRE_SETS = 60, 60

DUE_SOON_DAYS = 30
"""This project's choice; a shop sets its own on the sheet."""
FIT = one_of(("yes", "no"), "Choose yes, or no for an instrument that must not be used.")
MATCH_LIMIT = when(the.unit_text.same("mm"), MATCH_LIMITS["mm"], MATCH_LIMITS["in"])
"""How far wires may differ where nothing else is typed."""


SET_ROW = xl.MATCH(exactly(the.wire_set_used), the.wires_id, 0)
"""The row of the list where the set chosen on Setup stands."""
_APART = xl.ABS(the.wire_used - xl.INDEX(the.wires_mean, SET_ROW))
OF_THE_SET = xl.IFERROR(when(blank(the.wire_in_use), True, _APART <= MATCH_LIMIT + MATCH_NOISE), False)
"""Whether the wire in use is of the set chosen on Setup. What is typed for matching is not asked: how far a wire may
differ from the mean and still be of the set."""
SET_LIST = Check(
    "list",
    "OFFSET(wires_id,0,0,MAX(1,MAX(wires_at)),1)",
    refusal="Choose a wire set that is listed on the sheet Wire sets.",
)
"""The sets to choose from: the list down to the last one in it."""


Formula = Node | Callable[[int], Node]
"""What a column holds: one tree, or one that asks for the number of the row in the list, from 1."""


def _typed(
    name: str, head: str, meaning: str, dimension: str, prompt: str, check: Check = ANYTHING, look: str = ""
) -> Column:
    """A column to type into."""
    look = look or ("list_text" if dimension in ("text", "date") else "list_number")
    return Column(name, head, f"{meaning}, one cell a row", 1, None, dimension, look, check, prompt, role="input")


def _told(
    name: str, head: str, meaning: str, formula: Formula, dimension: str = "text", look: str = "list_words"
) -> Column:
    """A column of results."""
    return Column(name, head, f"{meaning}, one cell a row", 1, formula, dimension, look)


def _behind(name: str, meaning: str, formula: Formula, dimension: str = "words", top: Node | None = None) -> Column:
    """A working column, hidden in the rows of the table."""
    head = name.replace("_", " ")
    return Column(
        name,
        head,
        f"{meaning}, one cell a row",
        1,
        formula,
        dimension,
        "note_left",
        role="working",
        hidden=True,
        top=top,
    )


_WIRES = span(here.a, here.c)
_UNFIT = xl.IFERROR(all_of(xl.LEN(here.fit) > 0, here.fit.differs("yes")), True)
_DUE_DAY = is_day(here.due)


def _listed(*cases: tuple[Part, Part], otherwise: Part = "", unlisted: Part = "") -> Node:
    """The first that holds, in a row with a number."""
    return first((blank(here.id), unlisted), *cases, otherwise=otherwise)


STATE = _listed(
    (_UNFIT, "unfit"),
    (no(_DUE_DAY), "no due date"),
    (here.since > xl.INT(here.due), "check dates"),
    (here.due < the.as_of_used, "overdue"),
    (here.due - the.as_of_used <= the.due_soon_used, "due soon"),
    otherwise="in date",
)
"""By the due date and the mark; calibrated after it was due, or on no day, it counts for no measurement at all."""
UNTIL = _listed((_UNFIT, -1), (_DUE_DAY, xl.INT(here.due)), otherwise=-1, unlisted=NO_NUMBER)
"""The last day on which a measurement with it counts; -1 for never."""
FAULT = _listed(
    (_UNFIT, UNFIT),
    (_DUE_DAY, say("was due ", written(here.due))),
    otherwise=NO_DUE_DATE,
    unlisted=NO_NUMBER,
)
"""Why a measurement after that day does not count."""


NEVER_SINCE = 2958465
"""The last day a spreadsheet knows (9999-12-31): what is calibrated from there on counts for no measurement."""


def _from() -> tuple[Column, ...]:
    """The working columns for the day of the calibration."""
    day = here.calibrated
    since = _listed((blank(day), 0), (is_day(day), xl.INT(day)), otherwise=NEVER_SINCE, unlisted=NO_NUMBER)
    only = say("was calibrated only on ", written(day))
    before = first((blank(day), NO_NUMBER), (is_day(day), only), otherwise=NOT_CALIBRATED)
    return (
        _behind("since", "first day on which readings count, a day number", since, "count"),
        _behind("before", "why readings before that day don't count", before),
    )


STATES = ("in date", "due soon", "overdue", "unfit", "no due date", "check dates")
NOT_TO_USE = STATES[2:]


def _sorted() -> tuple[Column, ...]:
    """The numbers of those in each state but the good one, from the first row down to here."""

    def so_far_of(word: str) -> Column:
        own = when(here.state.same(word), say(xl.IFERROR(here.id & "", "?"), " "))
        name = word.replace(" ", "_")
        return _behind(name, f"numbers of those that are {word}, so far", above[name] & own, top=say(own))

    return tuple(so_far_of(word) for word in STATES[1:])


def sorted_words(kind: str, rows: int) -> Node:
    """1 in date, 2 overdue (M-3 M-4)."""

    def of_state(word: str) -> Node:
        count = xl.COUNTIF(the[f"{kind}_state"], word)
        numbers = xl.INDEX(the[f"{kind}_{word.replace(' ', '_')}"], rows)
        listed = "" if word == "in date" else say(" (", xl.TRIM(numbers), ")")
        return when(count.same(0), "", say(count, f" {word}", listed, ".  "))

    numbers = the[f"{kind}_id"]
    spaced = xl.COUNTIF(numbers, " *") + xl.COUNTIF(numbers, "* ")
    blanks = when(spaced > 0, "Blanks around a number: retype it without, or no reading finds it.")
    sorted_out = xl.TRIM(say(*(of_state(word) for word in STATES), blanks))
    return when(xl.COUNTA(the[f"{kind}_id"]).same(0), "None listed yet.", sorted_out)


def _what_to_do(typed: Node) -> Node:
    """What to do with the one in this row, by its state and its day of calibration."""
    twice = xl.SUMPRODUCT(every.id.same(here.id) * 1) > 1
    nothing = "Its readings do not count: "
    no_due = when(blank(here.due), f"{nothing}type the due date.", f"{nothing}the due date {NO_DAY}.")
    return first(
        (blank(here.id), when(xl.COUNTA(typed) > 0, "Give it a number; without one no reading can name it.")),
        (xl.ISERROR(here.id), "Its number is an error value: retype it."),
        (xl.IFERROR(twice, False), "This number is there twice."),
        (here.before.same(NOT_CALIBRATED), f"{nothing}the day of calibration {NO_DAY}."),
        (here.state.same("check dates"), "Does not count: calibrated after it was due."),
        (all_of(here.since > the.as_of_used, here.state.differs("unfit"), here.state.differs("no due date")),
         say("Readings count from ", written(here.since), " on.")),
        (
            here.state.same("overdue"),
            say(the.as_of_used - xl.INT(here.due), " days overdue: calibrate it before use."),
        ),
        (here.state.same("due soon"), say(xl.INT(here.due) - the.as_of_used, " days left.")),
        (here.state.same("unfit"), "Not to be used."),
        (here.state.same("no due date"), no_due),
    )  # fmt: skip


def _to_do() -> Node:
    """What there is to type, and to do, for an instrument or gauge.

    Beside the column that is seen, as a long formula that gave an empty text would be stored in each unused row.
    """
    unused = xl.COUNTA(span(here.id, here.fit), span(here["from"], here.unit)).same(0)
    return when(unused, NO_NUMBER, xl.TRIM(sentences(gauges.to_type(), _what_to_do(span(here.kind, here.fit)))))


def unmatched(mean: Node, wires: Node) -> Node:
    """Whether the wires of a set differ by more than the limit."""
    return when(known(mean), xl.MAX(wires) - xl.MIN(wires) > the.wire_match_used + MATCH_NOISE, False)


_UNMATCHED = unmatched(here.mean, _WIRES)
_MATCHED_FAULT = _listed((all_of(no(_UNFIT), _UNMATCHED), UNMATCHED), otherwise=FAULT, unlisted=NO_NUMBER)
_SHARE = when(known(here.over_wires_max), contact.reading_share(here.over_wires_max, here.over_wires_min), NO_NUMBER)
_CONSTANT = when(known(here.share), contact.reading_offset(here.over_wires_min, here.share), NO_NUMBER)
_MEAN = _listed(
    (xl.COUNT(_WIRES).same(0), ""),
    (xl.COUNT(_WIRES) < xl.COUNTA(_WIRES), ""),
    (any_of(xl.MIN(_WIRES) <= 0, xl.MAX(_WIRES) > MOST_WIRE), ""),
    otherwise=xl.AVERAGE(_WIRES),
)
_SERVES = first(
    (any_of(xl.COUNTA(here.id, _WIRES) < 2, no(known(the.thread_row))), ""),
    (the.no_wires, "no wires"),
    (no(known(here.mean)), when(blank(here.id), "", "not a number")),
    (here.mean <= the.wire_least, "too small"),
    (here.mean > the.largest_wire, "too large"),
    (here.mean <= the.smallest_wire, contact.MEASURE_CREST),
    otherwise="yes",
)


def _over(end: str) -> Callable[[int], Node]:
    """The reading over the set in row `number` of the list."""

    def formula(number: int) -> Node:
        reading = contact.of_set(number - 1, end)
        return when(known(reading), reading)

    return formula


def _wire_note() -> Node:
    apart = fixed(xl.MAX(_WIRES) - xl.MIN(_WIRES), the.decimals + 2)
    matched = first(
        (_UNMATCHED, say("Not matched by ", apart, ": not to be used.")),
        (xl.COUNT(_WIRES).same(2), "One wire is not given."),
    )
    return xl.TRIM(sentences(matched, _what_to_do(span(here.certificate, here.fit))))


DUE = _typed("due", "Due", "day on which the next calibration is due", "date",
             "Last day of use before the next calibration. A measurement on that day still counts.", DAY)  # fmt: skip
FIT_FOR_USE = _typed("fit", "Fit for use?", "no: must not be used", "text",
                     "Empty or yes: fit. no: its readings don't count, also earlier ones. After repair use a new "
                     "number.", FIT)  # fmt: skip
IN_STATE = _told("state", "State", ", ".join(STATES), STATE)

COLUMNS = (
    _typed("id", "Number", "number of the instrument or gauge", "text",
           "Number that is marked on it. The rows of the Log name it."),
    _typed("kind", "Kind", "kind of instrument", "text",
           "What it is. other: say what in the next column.", one_of(gauges.KINDS, "Choose a kind from the list.")),
    _typed("thread", "Thread of a gauge", "thread, class and hand of a gauge", "text",
           "For a ring or plug, as it is marked: 3/4-16 UNF-2A, or M20x2.5-6g LH. GO and NOT GO may stand behind it."),
    _typed("certificate", "Certificate", "number of the calibration certificate", "text",
           "Number of its last calibration certificate."),
    _typed("lab", "Laboratory", "who calibrated", "text", "Laboratory or person that calibrated it.",
           look="list_note"),
    _typed("calibrated", "Calibrated", "day of the last calibration", "date",
           "Day of its last calibration. Earlier readings rest on the one before: list that by a number of its own.",
           DAY),
    DUE,
    FIT_FOR_USE,
    IN_STATE,
    _typed("from", "Range from", "where the range of an instrument begins", "entry",
           "Smallest size it can measure, in the unit two columns on. Empty: no reading is too small for it."),
    _typed("to", "to", "where the range of an instrument ends", "entry",
           "Largest size it can measure, in the unit of the next column. Empty: no reading is too large for it."),
    _typed("unit", "in or mm", "unit of its range", "text", "Unit of its range, in or mm. Empty: the working unit.",
           one_of(("in", "mm"), "Choose in or mm, or leave it empty for the working unit.")),
    _told("serves", "Gauge for this job?", "whether a gauge is for this job: yes, or why not", gauges.for_this_job(),
          look="list_aside"),
    _told("words", "What to do", "what to do with it",
          when(here.to_do.same(NO_NUMBER), "", here.to_do & ""), look="list_aside"),
    _behind("until", "last day on which readings count, a day number, -1 for never", UNTIL, "count"),
    _behind("fault", "why readings after that day don't count", FAULT),
    *_from(),
    *(_behind(name, meaning, formula) for name, meaning, formula in gauges.WORKING),
    _behind("to_do", "what to do with it; – in an unused row", _to_do()),
    *_sorted(),
)  # fmt: skip
"""The instruments and gauges."""

_DOUBT = first(
    (unmatched(here.mean, _WIRES), " (no matched set)"),
    (any_of(here.state.same("in date"), here.state.same("due soon")), ""),
    otherwise=say(" (", here.state, ")"),
)
_LOW = when(here.words.same(contact.MEASURE_CREST), " (crest first)")
_SERVING = when(known(here.over_wires_max), say(in_text(here.id), _LOW, _DOUBT, "  "))

_IN_DATE = any_of(here.state.same("in date"), here.state.same("due soon"))
_MAY_BE_TAKEN = all_of(here.words.same("yes"), _IN_DATE, no(_UNMATCHED), here.since <= the.as_of_used)
_OFF_BEST = when(_MAY_BE_TAKEN, xl.ABS(here.mean - the.best_wire), NO_NUMBER)

WIRE_COLUMNS = (
    _typed("id", "Set", "number of the wire set", "text",
           "Number of the set of three wires. Setup and the rows of the Log name it."),
    _typed("certificate", "Certificate", "number of the certificate of the wires", "text",
           "Number of the certificate that gives the diameters."),
    _typed("lab", "Laboratory", "who certified the wires", "text", "Laboratory that measured the wires.",
           look="list_note"),
    _typed("a", "Wire a", "certified diameter of the first wire, or the mean of the set", "wire",
           "Certified diameter in the working unit. If the certificate has one figure for the set, type it here.",
           LENGTH),
    _typed("b", "Wire b", "certified diameter of the second wire", "wire",
           "Certified diameter of the second wire, in the working unit.", LENGTH),
    _typed("c", "Wire c", "certified diameter of the third wire", "wire",
           "Certified diameter of the third wire, in the working unit.", LENGTH),
    _typed("calibrated", "Certified on", "day of the certificate of the wires", "date",
           "Day of the certificate. Readings before that day rest on an older one: list that by a number of its own.",
           DAY),
    DUE,
    FIT_FOR_USE,
    IN_STATE,
    _told("mean", "Mean", "mean of the certified diameters", _MEAN, "wire", "row_number"),
    _told("words", "Serves?", "whether it serves: yes, crest first (it is proud of small ones only), or why not",
          _SERVES),
    _told("over_wires_max", "Reading, max", "reading over wires at the largest pitch diameter", _over("max"), "length",
          "row_number"),
    _told("over_wires_min", "Reading, min", "reading over wires at the smallest pitch diameter", _over("min"), "length",
          "row_number"),
    _told("note", "What to do", "whether the wires match, and what to do", _wire_note(), look="list_aside"),
    _behind("until", "last day on which readings count, a day number, -1 for never",
            _listed((_UNMATCHED, -1), otherwise=UNTIL, unlisted=NO_NUMBER), "count"),
    _behind("fault", "why readings after that day don't count", _MATCHED_FAULT),
    _behind("constant", "reading less pitch diameter with this set", _CONSTANT, "wire"),
    *_from(),
    _behind("share", "what is added to that constant, as a share of the reading", _SHARE, "wire"),
    _behind("at", "row of the list, 0 where there is no set",
            lambda number: when(given(in_text(here.id)), number, 0), "count"),
    _behind("off_best", "how far the mean is from the best wire, for a set in range and in date", _OFF_BEST, "wire"),
    *_sorted(),
    _behind("serving_so_far", "the sets that serve this thread, so far", above.serving_so_far & _SERVING,
            top=say(_SERVING)),
)  # fmt: skip
"""The wire sets."""
