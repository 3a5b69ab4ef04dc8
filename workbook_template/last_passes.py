"""The block "Last passes" on the sheet Setup: from the reading over wires to what is left to feed on the compound.

The arithmetic is that of sheetfuncs.lathe.feed_left: half of what the reading is over the limit's reading, on the
radius, and the compound travels that over the cosine of its angle.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, contact
from workbook_template.blocks import Book
from workbook_template.figures.text import text
from workbook_template.plan import shown

AT = 32
NOISE = "0.0000001"
"""A reading on its limit counts as in, whatever the last bits of the arithmetic say."""

DIVISIONS = '&IF(ISNUMBER(feed_fall)," ("&FIXED({feed}/dial_used,1,TRUE)&" div.)","")'

FAULT = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
    'IF(own_taper>0,"Taper: no wires here. By the plan, then by divisions until the gauge stands right.",'
    'IF(thread_side="internal","Internal: no wires. Near depth try the GO plug after each division"&'
    f'IF(ISNUMBER(feed_fall)," ("&{shown("feed_fall")}&" on the diameter)","")&".",'
    'IF(NOT(ISNUMBER(wire_constant)),"First name a wire that serves this thread.",'
    'IF(NOT(ISNUMBER(angle_cosine)),"First correct the compound angle.",'
    'IF(ISBLANK(reading_now),"Type what the micrometer reads over the wires now.",'
    'IF(NOT(ISNUMBER(reading_now)),"The reading is not a number.",'
    "IF(ABS(reading_now-wire_constant-pitch_basic)>2*pitch,"
    '"This reading is nowhere near the thread: check its unit and the wires.",'
    'IF(reading_now>reading_crest,"Over "&'
    f'{shown("reading_crest")}&" the wires lie on the crests: no reading yet. Feed on by the plan.",'
    '"")))))))))'
)


def _highest(end: str) -> str:
    """The limit as calculated or as shown, whichever is wider: what the person at the lathe was told counts as in."""
    pick, sign = ("MAX", "+") if end == "max" else ("MIN", "-")
    return f"{pick}(over_wires_{end},ROUND(over_wires_{end},decimals)){sign}{NOISE}"


WORDS = (
    'IF(feed_fault<>"",feed_fault,'
    f'IF(reading_now>{_highest("max")},"Over the high limit by "&{shown("reading_now-over_wires_max")}&'
    f'". Feed "&{shown("feed_to_aim")}{DIVISIONS.format(feed="feed_to_aim")}&" to "&feed_aim&'
    '", measure before the last of it.",'
    f'IF(reading_now>feed_aim_reading+{NOISE},"Inside, over "&feed_aim&" by "&{shown("reading_now-feed_aim_reading")}&'
    f'": stop here, or feed "&{shown("feed_to_aim")}{DIVISIONS.format(feed="feed_to_aim")}&" to "&feed_aim&".",'
    f'IF(reading_now>={_highest("min")},IF(ABS(reading_now-feed_aim_reading)<={NOISE},"At "&feed_aim&": stop feeding.",'
    f'"Past "&feed_aim&" by "&{shown("feed_aim_reading-reading_now")}&", still inside: stop feeding."),'
    f'"STOP: past the low limit by "&{shown("over_wires_min-reading_now")}&'
    '". Clean thread and wires, measure again, set the part aside."))))'
)

WORKING = (
    ("over_wires_mid", "reading at the middle of the limits",
     f'IF(ISNUMBER(wire_constant),{text(contact.of_setup("mid"))},"")'),
    ("feed_aim", "what is aimed at: max, mid or min", 'IF(OR(aim_limit="max",aim_limit="min"),aim_limit,"mid")'),
    ("feed_aim_reading", "reading at what is aimed at",
     'IF(feed_aim="max",over_wires_max,IF(feed_aim="min",over_wires_min,over_wires_mid))'),
    ("feed_to_aim", "feed to what is aimed at",
     'IF(feed_aim="max",feed_to_max,IF(feed_aim="min",feed_to_min,feed_to_mid))'),
    ("reading_crest", "over this reading the wires lie on the edges of the crests",
     ('IF(AND(ISNUMBER(wire_constant),ISNUMBER(blank_used)),'
      'blank_used+wire_used*(1+SIN(RADIANS(flank_steeper))),"")')),
    ("feed_fall", "how much one division of the compound changes reading or pitch diameter",
     ('IF(AND(ISNUMBER(dial_used),ISNUMBER(angle_cosine)),'
      'IF(dial_used>0,2*dial_used*angle_cosine,""),"")')),
    ("feed_fault", "why there is nothing to feed by, in a sentence", FAULT),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the block."""

LEFT = (("max", "to the high limit"), ("mid", "to mid"), ("min", "to the low limit"))
LIST = (
    *((f'IF(ISNUMBER(feed_fall),"{n} div. over","")', f'IF(ISNUMBER(feed_fall),over_wires_max+{n}*feed_fall,"")')
      for n in (8, 4, 2)),
    ('"high limit"', "over_wires_max"), ('"mid"', "over_wires_mid"), ('"low limit"', "over_wires_min"),
)  # fmt: skip
"""What the list reads: words, reading."""

LIST_AT = AT + 8
LAST = LIST_AT + 1 + len(LIST)


def build(book: Book, ws: Worksheet) -> None:
    """The block in columns A to D."""
    blocks.heading(book, ws, f"A{AT}:D{AT}", "Last passes: measure, then feed")
    blocks.write(book, ws, f"A{AT + 1}", "Reading now", "label")
    blocks.entry(
        book, ws, f"B{AT + 1}", "reading_now", "reading over wires now", dimension="entry", check=blocks.LENGTH,
        prompt="What the micrometer shows over the wires now, in the working unit. Spindle stopped.",
    )  # fmt: skip
    blocks.write(book, ws, f"C{AT + 1}:D{AT + 1}", "over the wires", "aid")
    for letter, text in zip("ABCD", ("", "limit reads", "still to feed", "divisions")):
        blocks.write(book, ws, f"{letter}{AT + 2}", text, "head")
    for row, (end, label) in enumerate(LEFT, start=AT + 3):
        limit = f"over_wires_{end}"
        blocks.write(book, ws, f"A{row}", label, "list_left")
        blocks.result(
            book, ws, f"B{row}", f"feed_reads_{end}", f"reading at {end}", f'IF(ISNUMBER({limit}),{limit},"")',
            dimension="length", look="list",
        )  # fmt: skip
        blocks.result(
            book, ws, f"C{row}", f"feed_to_{end}",
            f"infeed on the compound from the reading now {label}; negative when past it",
            f'IF(feed_fault="",(reading_now-{limit})/2/angle_cosine,"")', dimension="feed", look="list_figure",
        )  # fmt: skip
        blocks.result(
            book, ws, f"D{row}", f"feed_divisions_{end}", f"the same in divisions of the dial, {label}",
            f'IF(AND(ISNUMBER(feed_to_{end}),ISNUMBER(feed_fall)),feed_to_{end}/dial_used,"")',
            dimension="divisions", look="list_figure",
        )  # fmt: skip
    ref = f"A{AT + 6}:D{AT + 7}"
    blocks.result(book, ws, ref, "feed_words", "what to do at this reading", WORDS, look="sentence")
    _list(book, ws)


def _list(book: Book, ws: Worksheet) -> None:
    """If you read this, feed that: rows from over the high limit down to the low limit, to the limit aimed at."""
    title = '"If you read this, feed that"&IF(ISNUMBER(pitch_aimed)," to "&aim_limit,"")'
    blocks.result(book, ws, f"A{LIST_AT}:D{LIST_AT}", "feed_list_title", "heading of the list", title, look="block")
    for letter, text in zip("ABCD", ("", "reading", "feed", "divisions")):
        blocks.write(book, ws, f"{letter}{LIST_AT + 1}", text, "head")
    first = LIST_AT + 2
    for row, (words, reading) in enumerate(LIST, start=first):
        on = f'IF(AND(ISNUMBER(wire_constant),ISNUMBER(angle_cosine),ISNUMBER(micrometer_preset)),{reading},"")'
        cells = (
            ("A", f'IF(ISNUMBER(B{row}),{words},"")', "list_left", "words"),
            ("B", f'IF(ISNUMBER({reading}),IF({reading}>reading_crest,"",{on}),"")', "list_figure", "length"),
            ("C", f'IF(ISNUMBER(B{row}),(B{row}-micrometer_preset)/2/angle_cosine,"")', "list", "feed"),
            ("D", f'IF(AND(ISNUMBER(C{row}),ISNUMBER(feed_fall)),C{row}/dial_used,"")', "list", "divisions"),
        )
        for letter, formula, look, dimension in cells:
            blocks.write(book, ws, f"{letter}{row}", f"={formula}", look, dimension)
    for letter, name, meaning, unit in (
        ("A", "words", "what the reading is", ""),
        ("B", "reading", "a reading over wires", "working unit"),
        ("C", "feed", "compound infeed from there to the limit aimed at; negative when past it", "working unit"),
        ("D", "divisions", "the same in divisions", ""),
    ):
        blocks.define(book, ws, f"{letter}{first}:{letter}{LAST}", f"feed_list_{name}", meaning, unit=unit)
