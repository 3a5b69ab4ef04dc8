"""The sheet Job: whose part it is, which thread, its limits and blank; the page that goes to the lathe."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

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
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Check, Input
from workbook_template.sheets import cautions, coating, threads_table
from workbook_template.sheets.thread_listing import LEAD
from workbook_template.sheets.threads_table import CHOSEN, INSIDE, OUTSIDE
from workbook_template.trade import days

SHEET = "Job"

FIELDS = (
    Input("customer", "Customer", "customer", "text", blocks.ANYTHING,
          "Who the part is for."),
    Input("part", "Part", "name of the part", "text", blocks.ANYTHING,
          "What the part is called on the drawing."),
    Input("drawing", "Drawing", "drawing number", "text", blocks.ANYTHING,
          "Number of the drawing."),
    Input("revision", "Revision", "drawing revision", "text", blocks.ANYTHING,
          "Revision of the drawing in hand. Compare it with the order."),
    Input("job_number", "Job number", "job number", "text", blocks.ANYTHING,
          "Your number for this job."),
    Input("quantity", "Quantity", "parts to make", "count", blocks.whole(1, 100000),
          "How many good parts are ordered, a whole number."),
    Input("material", "Material", "material", "text", blocks.ANYTHING,
          "Material and condition, as on the drawing."),
    Input("made_by", "Prepared by", "who prepared the sheet", "text", blocks.ANYTHING,
          "Who filled in this sheet."),
    Input("job_date", "Date", "date of the sheet", "date", blocks.DAY,
          "Date, as your spreadsheet program takes dates."),
)  # fmt: skip

SYSTEM_LIST = Check("list", "system_list", refusal="Choose a thread system from the list.")
SIZE_LIST = Check(
    "list",
    "OFFSET(size_list,size_start-1,0,size_number,1)",
    refusal="Choose a size from the list of this system. Special sizes are added when the workbook is made.",
)
CLASS_LIST = Check(
    "list",
    "OFFSET(class_list,class_start-1,0,class_number,1)",
    refusal="Choose a class from the list; it holds the classes that the standard gives for this size.",
)

CHOICES = (
    Input("thread_system", "1  System", "thread system", "text", SYSTEM_LIST,
          "Choose the system first: Unified for UNC, UNF and UN threads, ISO metric for M threads, and so on."),
    Input("thread_size", "2  Size", "thread size", "text", SIZE_LIST,
          "Choose the size, as in 3/4-16 UNF or M20x2.5. You may type it exactly as the list has it."),
    Input("thread_class", "3  Class", "thread class", "text", CLASS_LIST,
          "Choose the class. A, small letters and bolt are outside threads; "
          "B, capitals, INT and nut are inside threads."),
    Input("hand", "4  Hand", "hand of the thread", "text",
          blocks.one_of(("right", "left"), "Choose right or left."),
          "right, or left where the drawing says LH."),
    Input("starts", "5  Starts", "number of starts", "count", blocks.whole(1, 12),
          "1 for nearly every thread. With more, the lead is starts times pitch."),
    Input("unit", "Working unit", "working unit", "text",
          blocks.one_of(("in", "mm"), "Choose in or mm."),
          "in or mm: the unit of every length on Job, Setup and Log. Lengths already typed stay: retype them."),
)  # fmt: skip


def _fault() -> Node:
    starts = the.starts
    return first(
        (all_of(the.unit.differs("in"), the.unit.differs("mm")), "Choose the working unit, in or mm."),
        (no(known(the.system_row)), "Choose the thread system."),
        (no(known(the.size_row)), say("Choose a size of the system ", the.thread_system, ".")),
        (all_of(the.hand.differs("right"), the.hand.differs("left")), "Choose the hand, right or left."),
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
    return when(CHOSEN, say(by_starts, when(the.hand.same("left"), say(threads_table.JOINER, "LH"))), "Choose a thread")


def _note() -> Node:
    return first(
        (the.thread_fault.differs(""), the.thread_fault),
        (no(CHOSEN), say("Choose a class of the size ", the.thread_size, ".")),
        otherwise=say(
            when(INSIDE, "Internal", "External"), " thread, ", the.standing, "; ",
            when(the.starts > 1, say(the.starts, " starts, ")),
            when(the.hand.same("left"), "LEFT HAND", "right hand"), ".",
        ),
    )  # fmt: skip


def converted(own: Node, changed: Node | None = None) -> Node:
    """A length of the thread in the working unit; the dash where the standard sets none, nothing without a thread.

    `changed` is that length as several starts change it.
    """
    return when(known(own), (own if changed is None else changed) * the.own_to_working, own)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 19, "B": 15, "C": 14, "D": 2.5, "E": 15, "F": 14, "G": 13})
    blocks.banner(book, ws, "A1:G1", "left_hand_words", when(all_of(CHOSEN, the.hand.same("left")), "LEFT HAND THREAD"))
    blocks.result(book, ws, "A2:G2", "callout", "the thread as written on a drawing", _callout(), look="callout")
    blocks.result(
        book, ws, "A3:G3", "thread_note", "the thread in words, or what is still to choose", _note(), look="note"
    )
    ws.row_dimensions[1].height, ws.row_dimensions[2].height, ws.row_dimensions[3].height = 26, 34, 30
    _fields(book, ws)
    _choices(book, ws)
    _working(book, ws)
    _limits(book, ws)
    _blank(book, ws)
    blocks.heading(book, ws, "A29:G29", "Before the spindle turns")
    for row, text in enumerate(cautions.CAUTIONS, start=30):
        blocks.write(book, ws, f"A{row}:G{row}", f"•  {text}", "caution")
        ws.row_dimensions[row].height = 36 if len(text) > 100 else 22
    blocks.page(ws, f"A1:G{29 + len(cautions.CAUTIONS)}")
    blocks.lock(ws)


def _fields(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A5:C5", "The job")
    for row, (name, label, meaning, dimension, check, prompt) in enumerate(FIELDS, start=6):
        blocks.write(book, ws, f"A{row}", label, "label")
        ref = f"B{row}:C{row}"
        blocks.entry(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)
        ws.row_dimensions[row].height = 24


def _choices(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "E5:G5", "The thread: choose from top to bottom")
    for row, (name, label, meaning, dimension, check, prompt) in enumerate(CHOICES, start=6):
        blocks.write(book, ws, f"E{row}", label, "label")
        value = {"hand": "right", "starts": 1, "unit": book.unit}.get(name)
        ref = f"F{row}:G{row}"
        blocks.entry(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
    blocks.write(book, ws, "E12", "Thread length", "label")
    prompt = "Length of full thread on the part, in the working unit."
    blocks.entry(
        book, ws, "F12:G12", "thread_length", "thread length", prompt=prompt, dimension="entry", check=blocks.LENGTH
    )
    blocks.write(book, ws, "A15", "Coating, thickness", "label")
    for ref, (name, _, meaning, dimension, check, words) in zip(("B15", "C15"), coating.INPUTS):
        blocks.entry(book, ws, ref, name, meaning, prompt=words, dimension=dimension, check=check)
    blocks.result(
        book, ws, "A21:G21", "coating_words", "limits before coating, in words", coating.words(), look="words"
    )
    wrong_day = days.if_no_day(the.job_date, "The date of the job")
    hint = xl.TRIM(say(wrong_day, " Boxed and shaded: type or choose here. All else computes."))
    blocks.result(book, ws, "E13:G14", "job_hint", "where to type, and whether the date is one", hint, look="words")


def _working(book: Book, ws: Worksheet) -> None:
    """Figures behind the page, to the right of it."""
    blocks.widths(ws, {"H": 4, "I": 24, "J": 16})
    blocks.heading(book, ws, "I5:J5", "Working figures (not printed)")
    own_to_working = first(
        (the.own_unit.same(the.unit), 1), (the.own_unit.same("in"), MM_PER_INCH), otherwise=node(1) / MM_PER_INCH
    )
    figures = (
        Figure("thread_fault", "what is missing before the thread can be looked up", _fault()),
        Figure("own_to_working", "factor from the thread's own unit to the working unit", own_to_working),
        Figure("decimals", "decimals of a length in the working unit", when(the.unit.same("mm"), 3, 4), "count"),
        Figure("wider", "what several starts add to the pitch diameter tolerance, in the thread's own unit",
               _of_starts("wider")),
        Figure("root_lower", "what the starts take off the smallest root", _of_starts("root_lower")),
        Figure("pitch_basic", "basic pitch diameter", converted(the.own_pitch_basic), "length"),
        Figure("diameter", "nominal diameter", converted(the.own_diameter), "length"),
        Figure("root_clear", "diameter that the root must clear", converted(the.own_root), "length"),
        Figure("crest_max", "largest major diameter outside, largest bore inside",
               when(INSIDE, the.minor_max, the.major_max), "length"),
        Figure("crest_min", "smallest major diameter outside, smallest bore inside",
               when(INSIDE, the.minor_min, the.major_min), "length"),
        Figure("authority_words", "who governs pipe and flight threads", cautions.authority()),
        *coating.figures(),
        *coating.results(),
    )  # fmt: skip
    for row, (name, meaning, formula, dimension) in enumerate(figures, start=6):
        blocks.write(book, ws, f"I{row}", name.replace("_", " "), "small")
        role = "result" if name.startswith("uncoated_") else "working"
        blocks.result(book, ws, f"J{row}", name, meaning, formula, dimension=dimension, role=role)


def _of_starts(name: str) -> Node:
    """What so many starts change, out of the columns that the row in use has for it."""
    changes = threads_table.in_use_of(name)
    return when(CHOSEN, when(the.starts > 1, xl.INDEX(changes, 1, xl.MIN(the.starts, 5) - 1), 0), 0)


def _limit_changes() -> dict[str, Node]:
    """Limits that several starts change: the wider pitch diameter, and the reference diameters that hang on it."""
    own_major, own_minor = the.own_major_max, the.own_minor_min
    return {
        "major_max": when(all_of(known(own_major), INSIDE), own_major + the.wider, own_major),
        "pitch_max": when(INSIDE, the.own_pitch_max + the.wider, the.own_pitch_max),
        "pitch_min": when(OUTSIDE, the.own_pitch_min - the.wider, the.own_pitch_min),
        "minor_min": when(all_of(known(own_minor), OUTSIDE), own_minor - the.root_lower, own_minor),
    }


def _limits(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A16:D16", "Limits of size")
    blocks.result(
        book,
        ws,
        "E16:G16",
        "unit_words",
        "the working unit in words",
        say("lengths in ", when(the.unit.same("mm"), "millimetres", "inches")),
        look="block",
    )
    for ref, text in (("B17", "max"), ("C17", ""), ("E17", "min"), ("F17", ""), ("G17", "")):
        blocks.write(book, ws, ref, text, "head")
    changes = _limit_changes()
    for row, which in enumerate(("major", "pitch", "minor"), start=18):
        blocks.write(book, ws, f"A{row}", f"{which.capitalize()} diameter", "label")
        for end, value_at, note_at, words in (("max", "B", "C", "largest"), ("min", "E", "F", "smallest")):
            name, meaning = f"{which}_{end}", f"{words} {which} diameter"
            size = converted(the[f"own_{name}"], changes.get(name))
            blocks.result(book, ws, f"{value_at}{row}", name, meaning, size, dimension="length", look="big")
            note = first(
                (no(CHOSEN), ""),
                (no(known(the[name])), "not set by the standard"),
                (known(xl.SEARCH(f"{which} {end}", the.reference_sizes)), "for reference"),
            )
            blocks.result(
                book, ws, f"{note_at}{row}", f"{name}_note", f"whether the {meaning} is set", note, look="mark"
            )
        ws.row_dimensions[row].height = 36


def _blank(book: Book, ws: Worksheet) -> None:
    """The blank on the left, pitch and lead on the right."""
    title = when(INSIDE, "Bore to make", "Blank to turn")
    blocks.result(book, ws, "A22:C22", "blank_title", "blank or bore", title, look="block")
    limits_known = all_of(known(the.crest_max), known(the.crest_min))
    sizes = {
        "Aim": Figure("blank_aim", "diameter to aim at", (the.crest_max + the.crest_min) / 2, "length"),
        "Largest": Figure("blank_max", "largest blank or bore", the.crest_max, "length"),
        "Smallest": Figure("blank_min", "smallest blank or bore", the.crest_min, "length"),
    }
    for row, (label, (name, meaning, formula, dimension)) in enumerate(sizes.items(), start=23):
        blocks.write(book, ws, f"A{row}", label, "label")
        size = when(limits_known, formula)
        blocks.result(book, ws, f"B{row}", name, meaning, size, dimension=dimension, look="big")
    blocks.heading(book, ws, "E22:G22", "Pitch and lead")
    per_inch = the.row_threads_per_inch
    four_decimals = when(known(per_inch), xl.ROUND(per_inch, 4))  # the format 0.#### would show 16.
    tolerance = when(known(the.pitch_max), the.pitch_max - the.pitch_min)
    figures = {
        "Pitch": Figure("pitch", "pitch", converted(the.own_pitch), "length"),
        "Lead: gear for this": Figure("lead", "lead, starts times pitch",
                                      when(known(the.pitch), the.starts * the.pitch), "length"),
        "Threads per inch": Figure("threads_per_inch", "threads per inch, four decimals at most", four_decimals),
        "Allowance": Figure("allowance", "allowance or fundamental deviation", converted(the.own_allowance), "length"),
        "Pitch diameter tolerance": Figure("pitch_tolerance", "pitch diameter tolerance", tolerance, "length"),
    }  # fmt: skip
    for row, (label, (name, meaning, formula, dimension)) in enumerate(figures.items(), start=23):
        blocks.write(book, ws, f"E{row}:F{row}", label, "label")
        blocks.result(book, ws, f"G{row}", name, meaning, formula, dimension=dimension)
        ws.row_dimensions[row].height = 30
