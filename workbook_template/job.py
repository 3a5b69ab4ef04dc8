"""The sheet Job: whose part it is, which thread, its limits and blank; the page that goes to the lathe."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, cautions, threads_table
from workbook_template.blocks import Book, Check
from workbook_template.thread_listing import LEAD

SHEET = "Job"

FIELDS = (
    ("customer", "Customer", "customer", "text", "Who the part is for."),
    ("part", "Part", "name of the part", "text", "What the part is called on the drawing."),
    ("drawing", "Drawing", "drawing number", "text", "Number of the drawing."),
    ("revision", "Revision", "drawing revision", "text", "Revision of the drawing in hand. Compare it with the order."),
    ("job_number", "Job number", "job number", "text", "Your number for this job."),
    ("quantity", "Quantity", "parts to make", "count", "How many good parts are ordered, a whole number."),
    ("material", "Material", "material", "text", "Material and condition, as on the drawing."),
    ("made_by", "Prepared by", "who prepared the sheet", "text", "Who filled in this sheet."),
    ("job_date", "Date", "date of the sheet", "date", "Date, as your spreadsheet program takes dates."),
)
"""Name, label, meaning, dimension, message."""

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
    (
        "thread_system",
        "1  System",
        "thread system",
        "text",
        SYSTEM_LIST,
        "Choose the system first: Unified for UNC, UNF and UN threads, ISO metric for M threads, and so on.",
    ),
    (
        "thread_size",
        "2  Size",
        "thread size",
        "text",
        SIZE_LIST,
        "Choose the size, as in 3/4-16 UNF or M20x2.5. You may type it exactly as the list has it.",
    ),
    (
        "thread_class",
        "3  Class",
        "thread class",
        "text",
        CLASS_LIST,
        "Choose the class. A, small letters and bolt are outside threads; B, capitals, INT and nut are inside threads.",
    ),
    (
        "hand",
        "4  Hand",
        "hand of the thread",
        "text",
        blocks.one_of(("right", "left"), "Choose right or left."),
        "right, or left where the drawing says LH.",
    ),
    (
        "starts",
        "5  Starts",
        "number of starts",
        "count",
        blocks.whole(1, 12),
        "1 for nearly every thread. With more, the lead is starts times pitch.",
    ),
    (
        "unit",
        "Working unit",
        "working unit",
        "text",
        blocks.one_of(("in", "mm"), "Choose in or mm."),
        "in or mm: the unit of every length on Job, Setup and Log. Lengths already typed stay: retype them.",
    ),
)

FAULT = (
    'IF(AND(unit<>"in",unit<>"mm"),"Choose the working unit, in or mm.",'
    'IF(NOT(ISNUMBER(system_row)),"Choose the thread system.",'
    'IF(NOT(ISNUMBER(size_row)),"Choose a size of the system "&thread_system&".",'
    'IF(AND(hand<>"right",hand<>"left"),"Choose the hand, right or left.",'
    'IF(NOT(ISNUMBER(starts)),"Enter the number of starts, 1 for most threads.",'
    'IF(OR(starts<1,starts>12,starts<>INT(starts)),"The number of starts is a whole number, 1 to 12.",""))))))'
)
LEAD_TEXT = 'SUBSTITUTE(ROUND(starts*own_pitch,9-INT(LOG10(starts*own_pitch)))&"",",",".")'
CALLOUT = (
    'IF(ISNUMBER(thread_row),IF(starts>1,IF(LEN(lead_callout)=0,row_callout&", "&starts&" starts",'
    f'SUBSTITUTE(lead_callout,"{LEAD}",{LEAD_TEXT})&"-"&row_class),row_callout)'
    '&IF(hand="left",left_mark,""),"Choose a thread")'
)
NOTE = (
    'IF(thread_fault<>"",thread_fault,IF(NOT(ISNUMBER(thread_row)),"Choose a class of the size "&thread_size&".",'
    'IF(thread_side="internal","Internal","External")&" thread, "&standing&"; "&IF(starts>1,starts&" starts, ","")&'
    'IF(hand="left","LEFT HAND","right hand")&"."))'
)
BANNER = 'IF(AND(ISNUMBER(thread_row),hand="left"),"LEFT HAND THREAD","")'


def converted(own: str) -> str:
    """A length of the thread in the working unit; the dash where the standard sets none, nothing without a thread."""
    return f"IF(ISNUMBER({own}),{own}*own_to_working,{own})"


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 19, "B": 15, "C": 14, "D": 2.5, "E": 15, "F": 14, "G": 13})
    blocks.banner(book, ws, "A1:G1", "left_hand_words", BANNER)
    blocks.result(book, ws, "A2:G2", "callout", "the thread as written on a drawing", CALLOUT, look="callout")
    blocks.result(
        book, ws, "A3:G3", "thread_note", "the thread in words, or what is still to choose", NOTE, look="note"
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
    for row, (name, label, meaning, dimension, prompt) in enumerate(FIELDS, start=6):
        blocks.write(book, ws, f"A{row}", label, "label")
        check = {"count": blocks.whole(1, 100000), "date": blocks.DAY}.get(dimension, blocks.ANYTHING)
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
    hint = '" Boxed and shaded: type or choose here. All else computes."'
    hint = f"TRIM({blocks.day_words('job_date', 'The date of the job')}&{hint})"
    blocks.result(book, ws, "E13:G14", "job_hint", "where to type, and whether the date is one", hint, look="words")


def _working(book: Book, ws: Worksheet) -> None:
    """Figures behind the page, to the right of it."""
    blocks.widths(ws, {"H": 4, "I": 24, "J": 16})
    blocks.heading(book, ws, "I5:J5", "Working figures (not printed)")
    rows = (
        ("thread_fault", "what is missing before the thread can be looked up", FAULT, "words"),
        (
            "own_to_working",
            "factor from the thread's own unit to the working unit",
            'IF(own_unit=unit,1,IF(own_unit="in",25.4,1/25.4))',
            "words",
        ),
        ("decimals", "decimals of a length in the working unit", 'IF(unit="mm",3,4)', "count"),
        (
            "wider",
            "what several starts add to the pitch diameter tolerance, in the thread's own unit",
            _of_starts("wider"),
            "words",
        ),
        (
            "root_lower",
            "what the starts take off the smallest root",
            _of_starts("root_lower"),
            "words",
        ),
        ("pitch_basic", "basic pitch diameter", converted("own_pitch_basic"), "length"),
        ("diameter", "nominal diameter", converted("own_diameter"), "length"),
        ("root_clear", "diameter that the root must clear", converted("own_root"), "length"),
        ("crest_max", "largest major diameter outside, largest bore inside", _crest("max"), "length"),
        ("crest_min", "smallest major diameter outside, smallest bore inside", _crest("min"), "length"),
        ("authority_words", "who governs pipe and flight threads", cautions.AUTHORITY, "words"),
    )
    for row, (name, meaning, formula, dimension) in enumerate(rows, start=6):
        blocks.write(book, ws, f"I{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"J{row}", name, meaning, formula, dimension=dimension, role="working")


def _crest(end: str) -> str:
    return f'IF(thread_side="internal",minor_{end},major_{end})'


def _of_starts(name: str) -> str:
    """What so many starts change, out of the columns that the row in use has for it."""
    groups = enumerate(threads_table.GROUPS, start=threads_table.starts_at(threads_table.GROUPS))
    columns = [get_column_letter(number) for number, column in groups if column.name.startswith(f"{name}_")]
    first, last = (f"${letter}${threads_table.IN_USE}" for letter in (columns[0], columns[-1]))
    return f"IF(ISNUMBER(thread_row),IF(starts>1,INDEX(Threads!{first}:{last},1,MIN(starts,5)-1),0),0)"


# Several starts widen the pitch diameter's tolerance; the reference diameters that hang on it move along.
_LIMITS = {
    "major_max": 'IF(AND(ISNUMBER(own_major_max),thread_side="internal"),own_major_max+wider,own_major_max)',
    "major_min": "own_major_min",
    "pitch_max": 'IF(thread_side="internal",own_pitch_max+wider,own_pitch_max)',
    "pitch_min": 'IF(thread_side="external",own_pitch_min-wider,own_pitch_min)',
    "minor_max": "own_minor_max",
    "minor_min": 'IF(AND(ISNUMBER(own_minor_min),thread_side="external"),own_minor_min-root_lower,own_minor_min)',
}


def _limits(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A16:D16", "Limits of size")
    blocks.result(
        book,
        ws,
        "E16:G16",
        "unit_words",
        "the working unit in words",
        '"lengths in "&IF(unit="mm","millimetres","inches")',
        look="block",
    )
    for ref, text in (("B17", "max"), ("C17", ""), ("E17", "min"), ("F17", ""), ("G17", "")):
        blocks.write(book, ws, ref, text, "head")
    for row, which in enumerate(("major", "pitch", "minor"), start=18):
        blocks.write(book, ws, f"A{row}", f"{which.capitalize()} diameter", "label")
        for end, value_at, note_at, words in (("max", "B", "C", "largest"), ("min", "E", "F", "smallest")):
            name = f"{which}_{end}"
            own = _LIMITS[name]
            formula = f"IF(ISNUMBER(own_{name}),({own})*own_to_working,own_{name})"
            meaning = f"{words} {which} diameter"
            blocks.result(book, ws, f"{value_at}{row}", name, meaning, formula, dimension="length", look="big")
            note = (
                f'IF(NOT(ISNUMBER(thread_row)),"",IF(NOT(ISNUMBER({name})),"not set by the standard",'
                f'IF(ISNUMBER(SEARCH("{which} {end}",reference_sizes)),"for reference","")))'
            )
            blocks.result(
                book, ws, f"{note_at}{row}", f"{name}_note", f"whether the {meaning} is set", note, look="mark"
            )
        ws.row_dimensions[row].height = 36


def _blank(book: Book, ws: Worksheet) -> None:
    """The blank on the left, pitch and lead on the right."""
    title = 'IF(thread_side="internal","Bore to make","Blank to turn")'
    blocks.result(book, ws, "A22:C22", "blank_title", "blank or bore", title, look="block")
    sizes = (
        ("blank_aim", "Aim", "diameter to aim at", "(crest_max+crest_min)/2"),
        ("blank_max", "Largest", "largest blank or bore", "crest_max"),
        ("blank_min", "Smallest", "smallest blank or bore", "crest_min"),
    )
    for row, (name, label, meaning, formula) in enumerate(sizes, start=23):
        blocks.write(book, ws, f"A{row}", label, "label")
        guarded = f'IF(AND(ISNUMBER(crest_max),ISNUMBER(crest_min)),{formula},"")'
        blocks.result(book, ws, f"B{row}", name, meaning, guarded, dimension="length", look="big")
    blocks.heading(book, ws, "E22:G22", "Pitch and lead")
    tolerance = 'IF(ISNUMBER(pitch_max),pitch_max-pitch_min,"")'
    per_inch = 'IF(ISNUMBER(row_threads_per_inch),ROUND(row_threads_per_inch,4),"")'  # 0.#### would show 16.
    rows = (
        ("pitch", "Pitch", "pitch", converted("own_pitch"), "length"),
        ("lead", "Lead: gear for this", "lead, starts times pitch", 'IF(ISNUMBER(pitch),starts*pitch,"")', "length"),
        ("threads_per_inch", "Threads per inch", "threads per inch, four decimals at most", per_inch, "General"),
        ("allowance", "Allowance", "allowance or fundamental deviation", converted("own_allowance"), "length"),
        ("pitch_tolerance", "Pitch diameter tolerance", "pitch diameter tolerance", tolerance, "length"),
    )
    for row, (name, label, meaning, formula, dimension) in enumerate(rows, start=23):
        blocks.write(book, ws, f"E{row}:F{row}", label, "label")
        blocks.result(book, ws, f"G{row}", name, meaning, formula, dimension=dimension)
        ws.row_dimensions[row].height = 30
