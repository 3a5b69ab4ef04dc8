"""The sheet Job: whose part it is, which thread, its limits and blank; the page that goes to the lathe."""

from __future__ import annotations

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    first,
    given,
    known,
    no,
    node,
    say,
    sentences,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import cautions, coating, size_typed, threads_table
from workbook_template.sheets.inputs import (
    AN_ERROR,
    ANYTHING,
    DAY,
    LENGTH,
    MOST_PIECES,
    Check,
    Input,
    believed,
    filled,
    no_length,
    one_of,
    spoiled,
    texts,
    whole,
)
from workbook_template.sheets.layout import (
    BODY,
    CALLOUT,
    NOTE,
    Block,
    Line,
    Made,
    Piece,
    Sheet,
    beside,
    block,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.sheets.thread_listing import LEAD
from workbook_template.sheets.threads_table import CHOSEN, INSIDE, OUTSIDE
from workbook_template.trade import days

SHEET = "Job"
MANY = whole(1, MOST_PIECES)
"""What a quantity is."""

FIELDS = (
    Input("customer", "Customer", "customer", "text", ANYTHING,
          "Who the part is for."),
    Input("part", "Part", "name of the part", "text", ANYTHING,
          "What the part is called on the drawing."),
    Input("drawing", "Drawing", "drawing number", "text", ANYTHING,
          "Number of the drawing."),
    Input("revision", "Revision", "drawing revision", "text", ANYTHING,
          "Revision of the drawing in hand. Compare it with the order."),
    Input("job_number", "Job number", "job number", "text", ANYTHING,
          "Your number for this job."),
    Input("quantity", "Quantity", "parts to make", "count", MANY,
          "How many good parts are ordered, a whole number."),
    Input("material", "Material", "material", "text", ANYTHING,
          "Material and condition, as on the drawing."),
    Input("material_certificate", "Its certificate", "material certificate number", "text", ANYTHING,
          "Number of the mill's certificate or of the heat, as it came with the bar."),
    Input("made_by", "Prepared by", "who prepared the sheet", "text", ANYTHING,
          "Who filled in this sheet."),
    Input("job_date", "Date", "date of the sheet", "date", DAY,
          "Date, as your spreadsheet program takes dates."),
)  # fmt: skip

SYSTEM_LIST = Check("list", "system_list", refusal="Choose a thread system from the list.")
DIAMETER_LIST = Check(
    "list",
    "OFFSET(diameter_list,INDEX(diameter_firsts,system_row)-1,0,INDEX(diameter_counts,system_row),1)",
    refusal="Choose a diameter of this system from the list, or leave it empty.",
)
SIZE_LIST = Check(
    "list",
    "OFFSET(size_list,sizes_from-1,0,sizes_many,1)",
)
CLASS_LIST = Check(
    "list",
    "OFFSET(class_list,class_start-1,0,class_number,1)",
    refusal="Choose a class from the list; it holds the classes that the standard gives for this size.",
)

CHOICES = (
    Input("thread_system", "1  System", "thread system", "text", SYSTEM_LIST,
          "Choose the system first: Unified for UNC, UNF and UN threads, ISO metric for M threads, and so on."),
    Input("thread_diameter", "2  Diameter", "diameter, to shorten the list", "text", DIAMETER_LIST,
          "Makes the list of sizes short. May stay empty: then it has all sizes of the system.", True),
    Input("thread_size", "3  Size", "thread size", "text", SIZE_LIST,
          "Choose or type it: 3/4-16 UNF, M20x2.5. Also 1/4-20, 10-32, 1 NPT or M20; what is taken stands on top. "
          "Special sizes are added when the workbook is made."),
    Input("thread_class", "4  Class", "thread class", "text", CLASS_LIST,
          "Choose the class. A, small letters and bolt are outside threads; "
          "B, capitals, INT and nut are inside threads."),
    Input("hand", "5  Hand", "hand of the thread", "text",
          one_of(("right", "left"), "Choose right or left."),
          "right, or left where the drawing says LH."),
    Input("starts", "6  Starts", "number of starts", "count", whole(1, 12),
          "1 for nearly every thread. With more, the lead is starts times pitch."),
    Input("unit", "Working unit", "working unit", "text",
          one_of(("in", "mm"), "Choose in or mm."),
          "in or mm: the unit of every length on Job, Setup and Log. Lengths already typed stay: retype them."),
)  # fmt: skip


AS_TEXT = (
    "customer", "part", "drawing", "revision", "job_number", "material", "material_certificate",
    "thread_class", "hand", "unit",
)  # fmt: skip
"""Entries that other sheets take as text: an error value would stand on every paper; here it is told."""


def _fault() -> Node:
    starts = the.starts
    return first(
        (all_of(the.unit_text.differs("in"), the.unit_text.differs("mm")), "Choose the working unit, in or mm."),
        (no(known(the.system_row)), size_typed.no_system()),
        *size_typed.faults()[:1],
        (no(known(the.size_row)), size_typed.no_size()),
        *size_typed.faults()[1:],
        (all_of(the.hand_text.differs("right"), the.hand_text.differs("left")), "Choose the hand, right or left."),
        (no(known(starts)), "Enter the number of starts, 1 for most threads."),
        (
            any_of(starts < 1, starts > 12, starts.differs(xl.INT(starts))),
            "The number of starts is a whole number, 1 to 12.",
        ),
    )


def _callout() -> Node:
    lead = the.starts * the.own_pitch
    digits = xl.SUBSTITUTE(xl.ROUND(lead, 9 - xl.INT(xl.LOG10(lead))) & "", ",", ".")
    several = say(xl.SUBSTITUTE(the.lead_callout, LEAD, digits), "-", the.row_class)
    plain = say(the.row_callout, ", ", the.starts, " starts")
    by_starts = when(the.starts > 1, when(given(the.lead_callout), several, plain), the.row_callout)
    return when(
        CHOSEN, say(by_starts, when(the.hand_text.same("left"), say(threads_table.JOINER, "LH"))), "Choose a thread"
    )


def _note() -> Node:
    return first(
        (the.thread_fault.differs(""), the.thread_fault),
        (no(CHOSEN), size_typed.no_class()),
        otherwise=say(
            size_typed.taken(size_typed.JOB, the.row_size),
            when(INSIDE, "Internal", "External"), " thread, ", the.standing, "; ",
            when(the.starts > 1, say(the.starts, " starts, ", when(the.wider > 0, "", "limits of one start, "))),
            when(the.hand_text.same("left"), "LEFT HAND", "right hand"), ".",
        ),
    )  # fmt: skip


def converted(own: Node, changed: Node | None = None) -> Node:
    """A length of the thread in the working unit; the dash where the standard sets none, nothing without a thread.

    `changed` is that length as several starts change it.
    """
    return when(known(own), (own if changed is None else changed) * the.own_to_working, own)


def _head() -> Block:
    left_hand = when(all_of(CHOSEN, the.hand_text.same("left")), "LEFT HAND THREAD")
    hand = Figure("left_hand_words", "words for a left-hand thread", left_hand)
    callout = Figure("callout", "the thread as written on a drawing", _callout())
    note = Figure("thread_note", "the thread in words, or what is still to choose", _note())
    return block(
        None,
        line(shown(12, hand, "left_hand"), height=CALLOUT),
        line(shown(12, callout, "thread"), height=CALLOUT),
        line(shown(12, note, "step"), height=36),
    )


def _fields() -> Block:
    """Whose part it is, two entries a line."""

    def row(left: Input, right: Input) -> Line:
        """A name may take two lines."""
        return line(
            words(2, left.label), entry(4, left, look=_typed(left)),
            words(2, right.label, "label_beside"), entry(4, right, look=_typed(right)),
            height=CALLOUT if {left.name, right.name} & LONG else BODY,
        )  # fmt: skip

    return block("The job", *(row(*pair) for pair in zip(FIELDS[::2], FIELDS[1::2])))


LONG = {"part", "material"}


def _typed(one: Input) -> str:
    return "input_number" if one.dimension == "count" else "cell_text"


def _choices(unit: str) -> Block:
    """Which thread, from the system down to the class."""
    values: dict[str, str | float] = {"hand": "right", "starts": 1, "unit": unit}
    wrong_day = days.if_no_day(the.job_date, "The date of the job")
    no_count = when(
        all_of(filled(the.quantity), no(believed(MANY, the.quantity))),
        f"The quantity is no whole number from {MANY.formula1} to {MANY.formula2}.",
    )
    not_long = all_of(filled(the.thread_length), no(believed(LENGTH, the.thread_length)))
    no_long = when(not_long, no_length("The thread length", the.thread_length))
    hint = xl.TRIM(
        sentences(
            the.job_spoiled, wrong_day, no_count, no_long, "Boxed and shaded: type or choose here. All else computes."
        )
    )
    return block(
        "The thread: choose from top to bottom",
        *(line(words(2, one.label), entry(4, one, values.get(one.name))) for one in CHOICES),
        line(words(2, "Thread length"), entry(4, THREAD_LENGTH)),
        line(words(2, "Coating from, to"), *(entry(2, one) for one in coating.INPUTS)),
        *deep(
            shown(6, Figure("job_hint", "where to type, and whether the date is one", hint), "note_9", lines=2), NOTE
        ),
    )


THREAD_LENGTH = Input("thread_length", "Thread length", "thread length", "entry", LENGTH,
                      "Length of full thread on the part, in the working unit.")  # fmt: skip


def _working() -> tuple[Figure, ...]:
    """Figures behind the page."""
    own_to_working = first(
        (the.own_unit.same(the.unit_text), 1), (the.own_unit.same("in"), MM_PER_INCH), otherwise=node(1) / MM_PER_INCH
    )
    return (
        *texts(one for one in (*FIELDS, *CHOICES) if one.name in AS_TEXT),
        Figure("thread_diameter_used", "diameter, to shorten the list; an error value as words",
               xl.IFERROR(the.thread_diameter & "", AN_ERROR)),
        Figure("job_spoiled", "which entry of the job is an error value, in a sentence",
               spoiled(one for one in FIELDS if one.dimension == "text")),
        Figure("ordered", "parts to make, where the quantity is a number of parts",
               when(believed(MANY, the.quantity), the.quantity), "count"),
        Figure("thread_fault", "what is missing before the thread can be looked up", _fault()),
        Figure("own_to_working", "factor from the thread's own unit to the working unit", own_to_working),
        Figure("decimals", "decimals of a length in the working unit", when(the.unit_text.same("mm"), 3, 4), "count"),
        Figure("wider", "what several starts add to the pitch diameter tolerance, in the thread's own unit",
               _of_starts("wider")),
        Figure("root_lower", "what the starts take off the smallest root", _of_starts("root_lower")),
        Figure("pitch_diameter_basic", "basic pitch diameter", converted(the.own_pitch_diameter_basic), "length"),
        Figure("diameter", "nominal diameter", converted(the.own_diameter), "length"),
        Figure("root_clear", "diameter that the root must clear", converted(the.own_root), "length"),
        Figure("crest_max", "largest major diameter outside, largest bore inside, of the finished part",
               when(INSIDE, the.minor_diameter_max, the.part_major_diameter_max), "length"),
        Figure("crest_min", "smallest major diameter outside, smallest bore inside, of the finished part",
               when(INSIDE, the.part_minor_diameter_min, the.major_diameter_min), "length"),
        Figure("authority_words", "who governs pipe and flight threads", cautions.authority()),
        *coating.figures(),
        *coating.results(),
        *coating.to_cut(),
        *coating.finished(),
    )  # fmt: skip


def _of_starts(name: str) -> Node:
    """What so many starts change, out of the columns that the row in use has for it."""
    changes = threads_table.in_use_of(name)
    return when(CHOSEN, when(the.starts > 1, xl.INDEX(changes, 1, xl.MIN(the.starts, 5) - 1), 0), 0)


def _limit_changes() -> dict[str, Node]:
    """Limits that several starts change: the wider pitch diameter, and the reference diameters that hang on it."""
    own_major, own_minor = the.own_major_diameter_max, the.own_minor_diameter_min
    return {
        "major_diameter_max": when(all_of(known(own_major), INSIDE), own_major + the.wider, own_major),
        "pitch_diameter_max": when(INSIDE, the.own_pitch_diameter_max + the.wider, the.own_pitch_diameter_max),
        "pitch_diameter_min": when(OUTSIDE, the.own_pitch_diameter_min - the.wider, the.own_pitch_diameter_min),
        "minor_diameter_min": when(all_of(known(own_minor), OUTSIDE), own_minor - the.root_lower, own_minor),
    }


def _limits() -> Block:
    unit_in_words = say("lengths in ", when(the.unit_text.same("mm"), "millimetres", "inches"))
    unit_words = Figure("unit_words", "the working unit in words", unit_in_words)
    changes = _limit_changes()

    def end(which: str, at: str, largest: str) -> tuple[Piece, Piece]:
        name, meaning = f"{which}_diameter_{at}", f"{largest} {which} diameter"
        size = converted(the[f"own_{name}"], changes.get(name))
        note = first(
            (no(CHOSEN), ""),
            (no(known(the[name])), "not set by the standard"),
            (known(xl.SEARCH(f"{which} {at}", the.reference_sizes)), "for reference"),
        )
        told = Figure(f"{name}_note", f"whether the {meaning} is set", note)
        return shown(3, Figure(name, meaning, size, "length"), "limit"), shown(2, told, "aside")

    def row(which: str) -> Line:
        label = words(2, f"{which.capitalize()} diameter", "label_wrapped")
        return line(label, *end(which, "max", "largest"), *end(which, "min", "smallest"), height=24.75)

    heads = line(gap(2), words(3, "max", "column_head_right"), gap(2), words(3, "min", "column_head_right"),
                 shown(2, unit_words, "column_head_right"), height=NOTE)  # fmt: skip
    return block("Limits of size", heads, *(row(which) for which in ("major", "pitch", "minor")))


def _blank() -> Block:
    """The blank, or the bore."""
    what = when(INSIDE, "Bore", "Blank")
    at_plane = say(what, " at the ", when(known(the.own_by_wrench), "L1 plane", "gauge plane"))
    ordinary = when(INSIDE, "Bore to make", "Blank to turn")
    called = say(when(the.tapered, at_plane, ordinary), when(coating.ASKED, ", uncoated"))
    title = Figure("blank_title", "blank or bore", called)
    largest, smallest = the.cut_crest_max, the.cut_crest_min
    limits_known = all_of(known(largest), known(smallest))
    sizes = (
        ("Aim", Figure("blank_aim", "diameter to aim at",
                       when(limits_known, (largest + smallest) / 2), "length")),
        ("Largest", Figure("blank_max", "largest blank or bore", when(limits_known, largest), "length")),
        ("Smallest", Figure("blank_min", "smallest blank or bore", when(limits_known, smallest), "length")),
    )  # fmt: skip
    return block(title, *(line(words(2, label), shown(3, size, "blank")) for label, size in sizes))


def _lead() -> Block:
    """Pitch and lead."""
    per_inch = the.row_threads_per_inch
    four_decimals = when(known(per_inch), xl.ROUND(per_inch, 4))  # the format 0.#### would show 16.
    tolerance = when(known(the.pitch_diameter_max), the.pitch_diameter_max - the.pitch_diameter_min)
    figures = (
        ("Pitch", Figure("pitch", "pitch", converted(the.own_pitch), "length")),
        ("Lead: gear for this", Figure("lead", "lead, starts times pitch",
                                       when(known(the.pitch), the.starts * the.pitch), "length")),
        ("Threads per inch", Figure("threads_per_inch", "threads per inch, four decimals at most", four_decimals)),
        ("Allowance", Figure("allowance", "allowance or fundamental deviation", converted(the.own_allowance),
                             "length")),
        ("Pitch dia. tolerance", Figure("pitch_diameter_tolerance", "pitch diameter tolerance", tolerance, "length")),
    )  # fmt: skip
    return block("Pitch and lead", *(line(words(3, label), shown(2, figure)) for label, figure in figures))


def sheet(made: Made) -> Sheet:
    """The page of the job."""
    authority = Figure("authority_job", "who governs pipe and flight threads", the.authority_words & "")
    before_coating = Figure("coating_words", "limits before coating, in words", coating.words())
    page = stack(
        _head(),
        _fields(),
        beside(_choices(made.unit), gap(1), stack(_blank(), _lead())),
        _limits(),
        block(None, line(shown(12, before_coating, "note_9"), height=22.5)),
        cautions.cautions(),
        block(None, line(shown(12, authority, "note_9"), height=22.5)),
    )
    return Sheet(SHEET, (page,), working=_working(), frozen_lines=3)
