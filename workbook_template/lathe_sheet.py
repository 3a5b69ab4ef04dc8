"""The sheet Lathe: two lathes side by side, and what the one in use must be set to for the thread of the job."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, cautions, lathe_formulas
from workbook_template.blocks import Book, Check
from workbook_template.lathe_formulas import EACH, GEAR_LETTERS, JOB, for_lathe, in_use

SHEET = "Lathe"

LATHES = (1, 2)
COLUMNS = {1: "BCDE", 2: "FGHI"}
FIRST_CHART_COLUMN = 11
CHART_FIRST, CHART_ROWS = 6, 60
CHART_LAST = CHART_FIRST + CHART_ROWS - 1
SHELF_ROWS = 40

PLAIN = "General"
"""Numbers as typed."""
ABOVE_ZERO = Check("decimal", "0", operator="greaterThan", refusal="Type a number more than zero.")
TEETH = blocks.whole(8, 300)
UNITS = blocks.one_of(("in", "mm"), "Choose in or mm.")
READS = blocks.one_of(("radius", "diameter"), "Choose radius or diameter.")

NEEDS = (
    ("surface_speed", "Cutting speed", "cutting speed, in the unit chosen beside it", PLAIN, ABOVE_ZERO,
     "Cutting speed of threading. Its unit stands beside it and stays as chosen, whatever the working unit is."),
    ("relief_usable", "Usable relief", "width of relief that the tool may run into", "entry", blocks.LENGTH,
     "How far the tool may run on past the thread, working unit; with the reaction spread. Both empty: not looked at."),
    ("reaction_spread", "Reaction spread", "spread of the reaction, seconds", PLAIN, ABOVE_ZERO,
     "Earliest to latest stop of this operator on this lathe, in seconds, tried in the air. With the usable relief."),
    ("turning_feed", "Feed wanted", "feed for turning wanted", "entry", blocks.LENGTH,
     "Feed a turn for turning the blank, in the working unit. Empty: none is looked up."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message of what is typed for the job."""

SPEED_UNITS = {"in": "ft/min", "mm": "m/min"}
"""Unit of the cutting speed as a workbook of that working unit is made; it is chosen, and never follows the other."""
UNIT_OF = {
    "relief_usable": 'unit&""',
    "reaction_spread": '"seconds"',
    "turning_feed": 'unit&" a turn"',
}
"""What stands beside what is typed for the job."""

DESCRIPTION = (
    ("lathe_name", "Name", "name of the lathe", "text", blocks.ANYTHING, "What the shop calls this lathe."),
    ("leadscrew", "Leadscrew", "threads per inch or lead of the leadscrew", PLAIN, ABOVE_ZERO,
     "Threads per inch of the leadscrew, or its lead in mm."),
    ("leadscrew_unit", "Leadscrew in", "unit of the leadscrew", "text",
     blocks.one_of(("tpi", "mm"), "Choose tpi or mm."), "tpi for threads per inch, mm for a lead in millimetres."),
    ("dial_lines", "Dial lines", "lines on the thread dial", "count", blocks.whole(1, 40),
     "All lines on the face of the thread dial, numbered or not."),
    ("end_driver", "End gears: driver", "driver of the usual end gears", "count", ABOVE_ZERO,
     "Teeth of the driver of the end gears that the lever chart is for (of two drivers: their product)."),
    ("end_driven", "End gears: driven", "driven gear of the usual end gears", "count", ABOVE_ZERO,
     "Teeth of the driven end gear that the lever chart is for (of two: their product)."),
    ("fixed_ratio", "Fixed ratio", "turns of the screw for one of the train, no levers", PLAIN, ABOVE_ZERO,
     "Without a lever chart: leadscrew turns for one turn through a 1 : 1 train. Empty: 1."),
    ("quadrant_min", "Quadrant: least", "least sum of teeth that the quadrant takes", "count", ABOVE_ZERO,
     "Least sum of teeth that reaches, idlers counted twice. Empty: not checked."),
    ("quadrant_max", "Quadrant: most", "greatest sum of teeth that the quadrant takes", "count", ABOVE_ZERO,
     "Greatest sum of teeth that still fits, idlers counted twice. Empty: not checked."),
    ("dial_unit", "Dials and feeds in", "unit of dials and feeds", "text", UNITS,
     "Unit of the dials and of the feeds in the lever chart, in or mm."),
    ("compound_dial", "Compound division", "one division of the compound dial", PLAIN, ABOVE_ZERO,
     "One division of the compound dial, in the unit of this lathe's dials."),
    ("compound_dial_reads", "Compound reads", "what the compound dial reads", "text", READS,
     "radius: the dial shows travel. diameter: it shows twice the travel. Empty: radius."),
    ("cross_dial", "Cross-slide division", "one division of the cross-slide dial", PLAIN, ABOVE_ZERO,
     "One division of the cross-slide dial, in the unit of this lathe's dials."),
    ("cross_dial_reads", "Cross-slide reads", "what the cross-slide dial reads", "text", READS,
     "radius: the dial shows travel. diameter: it shows what the work gets smaller."),
    ("feed_reverse", "Feed reversed by", "how the feed reverses", "text",
     blocks.one_of(("lever", "tumbler", "idler gear", "none"), "Choose lever, tumbler, idler gear or none."),
     "How the direction of the leadscrew is changed."),
    ("chuck_mount", "Chuck mounting", "how the chuck is mounted", "text",
     blocks.one_of(("screwed on", "cam lock", "bolted", "other"), "Choose screwed on, cam lock, bolted or other."),
     "A screwed-on chuck can come off in reverse. Empty: the sheets remind you of it."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message of the description; each once a lathe."""

BOX = (
    ("box_position", "levers", "lever position", "text", "Lever position as the plate of the lathe writes it."),
    ("box_tpi", "threads per inch", "threads per inch there", PLAIN, "Threads per inch of this position, or:"),
    ("box_pitch", "pitch, mm", "pitch there, mm", PLAIN, "Pitch of this position in mm, where it is a metric one."),
    ("box_feed", "feed a turn", "feed a turn there", PLAIN, "Feed a turn there, in the unit of the dials."),
)
TRAIN = (
    ("train_tpi", "threads per inch", "threads per inch of a gear train", PLAIN, "Threads per inch, or:"),
    ("train_pitch", "pitch, mm", "pitch of a gear train, mm", PLAIN, "Pitch in mm, where it is a metric thread."),
    ("train_levers", "levers", "levers that go with the gears", "text", "Lever position with these gears, if any."),
    ("train_a", "driver", "first driver", "count", "Teeth of the first driver, on the spindle side."),
    ("train_b", "driven", "first driven gear", "count", "Teeth of the gear that it drives."),
    ("train_c", "driver", "second driver", "count", "Teeth of the second driver; empty for a simple train."),
    ("train_d", "driven", "second driven gear", "count", "Teeth of the second driven gear, on the screw side."),
)
USE = (
    ("use_a", "driver", "gear in use: first driver", "First driver, on the spindle side."),
    ("use_b", "driven", "gear in use: first driven", "First driven gear; the last for a simple train."),
    ("use_c", "driver", "gear in use: second driver", "Second driver, on the shaft of the first driven gear."),
    ("use_d", "driven", "gear in use: second driven", "Second driven gear, on the screw side."),
)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 20, **dict.fromkeys("BCDEFGHI", 9.6), "J": 2})
    words = 'IF(LEN(left_hand_words)>0,left_hand_words&": the carriage goes away from the headstock","")'
    blocks.banner(book, ws, "A1:I1", "left_hand_lathe", words)
    blocks.result(book, ws, "A2:E2", "callout_lathe", "the thread, as on the sheet Job", "callout", look="callout")
    blocks.write(book, ws, "F2:G2", "Lathe in use: 1 or 2", "label")
    blocks.entry(
        book, ws, "H2:I2", "lathe_in_use", "lathe in use", dimension="count", value=1,
        check=blocks.one_of(("1", "2"), "Choose 1 or 2."), prompt="1 or 2: the lathe that this job is cut on.",
    )  # fmt: skip
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 20, 32
    row = _set_up(book, ws, 3)
    row = _needs(book, ws, row + 1)
    row = _gears_in_use(book, ws, row + 1)
    row = _comparison(book, ws, row + 1)
    row = _descriptions(book, ws, row + 1)
    row = cautions.block(book, ws, row + 1, "A", "I", 112)
    column = _charts(book, ws)
    _working(book, ws, column)
    blocks.page(ws, f"A1:I{row}")
    ws.page_margins.left = ws.page_margins.right = 0.4
    ws.page_margins.top, ws.page_margins.bottom = 0.35, 0.55
    blocks.lock(ws)


def _set_up(book: Book, ws: Worksheet, row: int) -> int:
    """What the lathe in use must be set to; the last row."""
    name = 'IF(LEN({0})>0,{0},"lathe {1}")'
    chosen = f"IF(lathe_in_use=2,{name.format('lathe_name_2', 2)},{name.format('lathe_name_1', 1)})"
    blocks.result(book, ws, f"A{row}:I{row}", "lathe_name", "name of the lathe in use", chosen, look="block")
    lines = (
        ("Gear for it", "lathe_gear_words", "levers or gears, or the nearest", in_use("lathe_gear_words"), 30, "seen"),
        ("Lead", "lathe_lead_words", "what the lead error costs", lathe_formulas.LEAD_WORDS, 28, "order"),
        ("Gears", "lathe_train_words", "idlers and room for the gears", in_use("lathe_train_words"), 28, "order"),
        ("Half-nuts", "lathe_dial_words", "which lines are legal", in_use("lathe_dial_words"), 30, "seen"),
        ("Direction", "lathe_reverse_words", "how to get the direction", in_use("lathe_reverse_words"), 28, "order"),
        ("Speed", "lathe_rpm_words", "which limit governs", lathe_formulas.RPM_WORDS, 30, "order"),
        ("Relief", "lathe_relief_words", "what to do where the relief is too short", lathe_formulas.RELIEF_WORDS, 54,
         "seen"),
        ("Chuck", "lathe_chuck_words", "caution for a screwed-on chuck", in_use("lathe_chuck_words"), 28, "order"),
        ("Turning feed", "lathe_feed_words", "feed for turning", in_use("lathe_feed_words"), 15, "order"),
        ("Dials", "lathe_dials_words", "what the dials read", lathe_formulas.DIALS_WORDS, 28, "order"),
    )  # fmt: skip
    for label, name, meaning, formula, height, look in lines:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "order_label")
        if name == "lathe_rpm_words":
            blocks.result(
                book, ws, f"B{row}:C{row}", "lathe_rpm", "listed speed to use, rpm", in_use("lathe_rpm"),
                dimension='0" rpm"', look="setup_main",
            )  # fmt: skip
            blocks.result(book, ws, f"D{row}:I{row}", name, meaning, formula, look=look)
        else:
            blocks.result(book, ws, f"B{row}:I{row}", name, meaning, formula, look=look)
        ws.row_dimensions[row].height = height
    return row


def _needs(book: Book, ws: Worksheet, row: int) -> int:
    """What is typed for the job; the last row."""
    blocks.heading(book, ws, f"A{row}:I{row}", "Type for this job")
    for at, (name, label, meaning, dimension, check, prompt) in enumerate(NEEDS):
        line, (label_at, cell, unit_at) = row + 1 + at // 2, (("A{0}", "B", "C"), ("D{0}:E{0}", "F", "G"))[at % 2]
        blocks.write(book, ws, label_at.format(line), label, "label")
        blocks.write(book, ws, f"{cell}{line}", None, "input_number", dimension)
        blocks.name_input(book, ws, f"{cell}{line}", name, meaning, prompt=prompt, dimension=dimension, check=check)
        if name in UNIT_OF:
            blocks.result(book, ws, f"{unit_at}{line}", f"{name}_unit", f"unit of the {label.lower()}", UNIT_OF[name])
        else:
            blocks.entry(
                book, ws, f"{unit_at}{line}", f"{name}_unit", f"unit of the {label.lower()}",
                value=SPEED_UNITS[book.unit],
                check=blocks.one_of(tuple(SPEED_UNITS.values()), "Choose ft/min or m/min."),
                prompt="Feet a minute or metres a minute: the unit of the cutting speed beside it.",
            )  # fmt: skip
        ws.row_dimensions[line].height = 17
    return row + len(NEEDS) // 2


def _gears_in_use(book: Book, ws: Worksheet, row: int) -> int:
    """Gears that are on the lathe, where they are not the usual ones; the last row."""
    blocks.heading(book, ws, f"A{row}:I{row}", "Gears in use, where they are not the usual ones: spindle side first")
    for lathe in LATHES:
        for letter, (name, label, meaning, prompt) in zip(COLUMNS[lathe], USE):
            blocks.write(book, ws, f"{letter}{row + 1}", label, "head")
            _input(book, ws, f"{letter}{row + 2}", f"{name}_{lathe}", meaning, "count", TEETH, prompt)
        first, last = COLUMNS[lathe][0], COLUMNS[lathe][-1]
        prompt = "Lever position that goes with these gears; empty without a lever chart."
        ref = f"{first}{row + 3}:{last}{row + 3}"
        _input(book, ws, ref, f"use_levers_{lathe}", "levers with the gears in use", "text", blocks.ANYTHING, prompt)
    blocks.write(book, ws, f"A{row + 2}", "Teeth", "label")
    blocks.write(book, ws, f"A{row + 3}", "Levers", "label")
    return row + 3


def _comparison(book: Book, ws: Worksheet, row: int) -> int:
    """What both lathes give for the thread; the last row."""
    blocks.heading(book, ws, f"A{row}", "For this thread")
    for lathe in LATHES:
        first, last = COLUMNS[lathe][0], COLUMNS[lathe][-1]
        title = f'IF(LEN(lathe_name_{lathe})>0,{lathe}&": "&lathe_name_{lathe},"Lathe {lathe}")'
        ref = f"{first}{row}:{last}{row}"
        blocks.result(book, ws, ref, f"lathe_title_{lathe}", "name above the column", title, look="block")
    heights = {"lathe_gear_words": 42, "lathe_dial_words": 66}
    formats = {"lathe_lead_error_ppm": '+0;-0;"0"', "lathe_rpm": "0"}
    for name, label, meaning, formula in lathe_formulas.COMPARED:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "order_label")
        ws.row_dimensions[row].height = heights.get(name, 15)
        for lathe in LATHES:
            ref = f"{COLUMNS[lathe][0]}{row}:{COLUMNS[lathe][-1]}{row}"
            text, dimension = for_lathe(formula, lathe), formats.get(name, "words")
            blocks.result(book, ws, ref, f"{name}_{lathe}", meaning, text, dimension=dimension, look="order")
    return row


def _descriptions(book: Book, ws: Worksheet, row: int) -> int:
    """The lathes themselves; the last row."""
    blocks.heading(book, ws, f"A{row}", "The lathes")
    for lathe in LATHES:
        ref = f"{COLUMNS[lathe][0]}{row}:{COLUMNS[lathe][-1]}{row}"
        blocks.heading(book, ws, ref, f"Lathe {lathe}")
    for name, label, meaning, dimension, check, prompt in DESCRIPTION:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "label")
        for lathe in LATHES:
            ref = f"{COLUMNS[lathe][0]}{row}:{COLUMNS[lathe][-1]}{row}"
            _input(book, ws, ref, f"{name}_{lathe}", f"{meaning} {lathe}", dimension, check, prompt)
        if name == "leadscrew_unit":
            row += 1
            blocks.write(book, ws, f"A{row}", "Dial gear teeth", "label")
            for lathe in LATHES:
                for letter, gear in zip(COLUMNS[lathe], GEAR_LETTERS):
                    prompt = "Teeth of the dial's gear; one cell for each gear where several are stacked."
                    ref, meaning = f"{letter}{row}", f"dial gear {gear} of lathe {lathe}"
                    _input(book, ws, ref, f"dial_{gear}_{lathe}", meaning, "count", blocks.whole(1, 300), prompt)
    return row


def _input(
    book: Book, ws: Worksheet, ref: str, name: str, meaning: str, dimension: str, check: Check, prompt: str
) -> None:
    blocks.write(book, ws, ref, None, "input", dimension)
    blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)


class _Columns:
    """Columns to the right of the page, one after another."""

    def __init__(self, book: Book, ws: Worksheet, at: int) -> None:
        self.book, self.ws, self.at = book, ws, at

    def heading(self, columns: int, text: str) -> None:
        """The title of the next columns."""
        last = get_column_letter(self.at + columns - 1)
        blocks.heading(
            self.book, self.ws, f"{get_column_letter(self.at)}{CHART_FIRST - 2}:{last}{CHART_FIRST - 2}", text
        )

    def inputs(self, name: str, label: str, meaning: str, dimension: str, prompt: str, rows: int = CHART_ROWS) -> str:
        """A column of inputs; its letter."""
        letter = self._next(label, 9.5)
        look = "log_input" if dimension == "text" else "log_number"
        for row in range(CHART_FIRST, CHART_FIRST + rows):
            blocks.write(self.book, self.ws, f"{letter}{row}", None, look, dimension)
        ref = f"{letter}{CHART_FIRST}:{letter}{CHART_FIRST + rows - 1}"
        check = blocks.ANYTHING if dimension == "text" else ABOVE_ZERO
        blocks.name_input(self.book, self.ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)
        return letter

    def results(
        self, name: str, label: str, meaning: str, formula: str, dimension: str, role: str, rows: int = CHART_ROWS
    ) -> str:
        """A column of formulas, with {row} for the row; its letter."""
        letter = self._next(label, 9.5)
        for row in range(CHART_FIRST, CHART_FIRST + rows):
            text = "=" + formula.replace("{row}", str(row))
            blocks.write(self.book, self.ws, f"{letter}{row}", text, "log_result", dimension)
        ref = f"{letter}{CHART_FIRST}:{letter}{CHART_FIRST + rows - 1}"
        blocks.define(self.book, self.ws, ref, name, meaning, role=role)
        return letter

    def skip(self) -> None:
        """A narrow empty column."""
        self._next("", 2)

    def _next(self, label: str, width: float) -> str:
        letter = get_column_letter(self.at)
        self.at += 1
        blocks.widths(self.ws, {letter: width})
        if label:
            blocks.write(self.book, self.ws, f"{letter}{CHART_FIRST - 1}", label, "log_head")
        return letter


def _charts(book: Book, ws: Worksheet) -> int:
    """Lever chart, gear chart, shelf and speeds of each lathe, to the right of the page; the next free column."""
    columns = _Columns(book, ws, FIRST_CHART_COLUMN)
    for lathe in LATHES:
        columns.heading(7, f"Lever chart of lathe {lathe}")
        at = {
            name: columns.inputs(f"{name}_{lathe}", label, f"{meaning}, lathe {lathe}", dimension, prompt)
            for name, label, meaning, dimension, prompt in BOX
        }
        own = f"{at['box_tpi']}{{row}}", f"{at['box_pitch']}{{row}}"
        lead = columns.results(
            f"box_lead_{lathe}", "lead, mm", "lead of the position, mm", _lead(*own), "0.0000", "working"
        )
        _off(columns, f"box_off_{lathe}", lead)
        feed = f"{at['box_feed']}{{row}}"
        fit = (
            f"IF(AND(ISNUMBER({feed}),ISNUMBER(turning_feed),ISNUMBER(dial_to_working_{lathe})),"
            f'IF({feed}*dial_to_working_{lathe}<=turning_feed+0.0000001,{feed},""),"")'
        )
        meaning = "feeds at or under the one wanted"
        columns.results(f"box_feed_fit_{lathe}", "feed fits", meaning, fit, PLAIN, "working")
        columns.skip()
        _gear_chart(columns, lathe)
        columns.skip()
        columns.heading(3, f"Lathe {lathe}")
        prompt = "Teeth of one gear on the shelf; two of a kind are two lines."
        columns.inputs(
            f"shelf_{lathe}", "gears on the shelf", f"change gears of lathe {lathe}", "count", prompt, SHELF_ROWS
        )
        prompt = "One spindle speed a line, turns a minute."
        speed = columns.inputs(
            f"speed_list_{lathe}", "speeds, rpm", f"speeds of lathe {lathe}", PLAIN, prompt, SHELF_ROWS
        )
        cell = f"{speed}{{row}}"
        fit = f'IF(AND(ISNUMBER({cell}),ISNUMBER(rpm_limit)),IF({cell}<=rpm_limit,{cell},""),"")'
        meaning = "speeds at or under the limits"
        columns.results(f"speed_fit_{lathe}", "speed fits", meaning, fit, PLAIN, "working", SHELF_ROWS)
        columns.skip()
    return columns.at


def _gear_chart(columns: _Columns, lathe: int) -> None:
    columns.heading(10, f"Change gears of lathe {lathe}")
    at = {
        name: columns.inputs(f"{name}_{lathe}", label, f"{meaning}, lathe {lathe}", dimension, prompt)
        for name, label, meaning, dimension, prompt in TRAIN
    }
    cells = [f"{at[name]}{{row}}" for name in ("train_levers", *(f"train_{x}" for x in GEAR_LETTERS))]
    cut = for_lathe(lathe_formulas.gears_lead(*cells), lathe)
    lead = columns.results(f"train_lead_{lathe}", "lead, mm", "lead that the gears cut, mm", cut, "0.00000", "result")
    asked = _lead(f"{at['train_tpi']}{{row}}", f"{at['train_pitch']}{{row}}")
    error = f'IF(ISNUMBER({lead}{{row}}),IFERROR(ROUND(({lead}{{row}}/({asked})-1)*1000000,1),""),"")'
    columns.results(
        f"train_ppm_{lathe}", "error, ppm", "error of that lead in millionths", error, '+0;-0;"0"', "result"
    )
    _off(columns, f"train_off_{lathe}", lead)


def _off(columns: _Columns, name: str, lead: str) -> None:
    formula = f'IF(AND(ISNUMBER({lead}{{row}}),ISNUMBER(job_lead_mm)),ABS({lead}{{row}}/job_lead_mm-1),"")'
    columns.results(name, "off", "how far it is from the lead of the job", formula, "0.000000", "working")


def _lead(tpi: str, pitch: str) -> str:
    return f'IF(ISNUMBER({tpi}),IF({tpi}>0,25.4/{tpi},""),IF(ISNUMBER({pitch}),IF({pitch}>0,{pitch},""),""))'


def _working(book: Book, ws: Worksheet, at: int) -> None:
    """Figures behind the page."""
    label, first, second = (get_column_letter(at + n) for n in range(3))
    blocks.widths(ws, {label: 20, first: 16, second: 16})
    blocks.heading(book, ws, f"{label}{CHART_FIRST - 2}:{second}{CHART_FIRST - 2}", "Working figures (not printed)")
    row = CHART_FIRST
    for name, meaning, formula in EACH:
        blocks.write(book, ws, f"{label}{row}", name.replace("_", " "), "small")
        for letter, lathe in ((first, 1), (second, 2)):
            text = for_lathe(formula, lathe)
            blocks.result(
                book, ws, f"{letter}{row}", f"{name}_{lathe}", f"{meaning}, lathe {lathe}", text, role="working"
            )
        row += 1
    for name, meaning, formula in JOB:
        blocks.write(book, ws, f"{label}{row}", name.replace("_", " "), "small")
        role = "result" if name in CONTRACT else "working"
        blocks.result(book, ws, f"{first}{row}", name, meaning, formula, role=role)
        row += 1


CONTRACT = ("lathe_half_nuts", "lathe_lead_error_ppm", "compound_division", "cross_division", "cross_reads")
"""Figures of the lathe in use that other sheets read."""
