"""The sheet Lathe: two lathes side by side, and what the one in use must be set to for the thread of the job."""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import Numbered, given, node, say, the, when
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Input
from workbook_template.sheets import cautions, lathe_charts, lathe_formulas, lathe_speed
from workbook_template.sheets.lathe_inputs import DESCRIPTION, DIAL_GEARS, NEEDS, USE, USE_LEVERS, of_lathe
from workbook_template.sheets.lathe_terms import LATHES, in_use, of_chosen

SHEET = "Lathe"

COLUMNS = {1: "BCDE", 2: "FGHI"}

SPEED_UNITS = {"in": "ft/min", "mm": "m/min"}
"""Unit of the cutting speed as a workbook of that working unit is made; it is chosen, and never follows the other."""
UNIT_OF = {"relief_usable": the.unit & "", "reaction_spread": node("seconds"), "turning_feed": the.unit & " a turn"}
"""What stands beside what is typed for the job."""

COMPARED = (("Gear for it", 42), ("Lead error, ppm", 15), ("Half-nuts", 66), ("Speed to use, rpm", 15))
"""What stands beside the figures that are compared, and the height of their rows."""

CONTRACT = ("lathe_half_nuts", "lathe_lead_error_ppm", "compound_division", "cross_division", "cross_reads")
"""Figures of the lathe in use that other sheets read."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 20, **dict.fromkeys("BCDEFGHI", 9.6), "J": 2})
    words = when(given(the.left_hand_words), say(the.left_hand_words, ": the carriage goes away from the headstock"))
    blocks.banner(book, ws, "A1:I1", "left_hand_lathe", words)
    blocks.result(book, ws, "A2:E2", "callout_lathe", "the thread, as on the sheet Job", the.callout, look="callout")
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
    _working(book, ws, lathe_charts.build(book, ws))
    blocks.page(ws, f"A1:I{row}")
    ws.page_margins.left = ws.page_margins.right = 0.4
    ws.page_margins.top, ws.page_margins.bottom = 0.35, 0.55
    blocks.lock(ws)


class _Line(NamedTuple):
    """A line of what the lathe in use must be set to."""

    label: str
    figure: Figure
    height: float = 28
    look: str = "order"


def _set_up(book: Book, ws: Worksheet, row: int) -> int:
    """What the lathe in use must be set to; the last row."""
    name = of_chosen(
        lambda lathe: when(given(Numbered(lathe).lathe_name), Numbered(lathe).lathe_name, f"lathe {lathe}")
    )
    blocks.result(book, ws, f"A{row}:I{row}", "lathe_name", "name of the lathe in use", name, look="block")
    rpm = Figure("lathe_rpm", "listed speed to use, rpm", in_use("lathe_rpm"), '0" rpm"')
    lines = (
        _Line("Gear for it", _chosen("lathe_gear_words", "levers or gears, or the nearest"), 30, "seen"),
        _Line("Lead", Figure("lathe_lead_words", "what the lead error costs", lathe_formulas.lead_words())),
        _Line("Gears", _chosen("lathe_train_words", "idlers and room for the gears")),
        _Line("Half-nuts", _chosen("lathe_dial_words", "which lines are legal"), 30, "seen"),
        _Line("Direction", _chosen("lathe_reverse_words", "how to get the direction")),
        _Line("Speed", Figure("lathe_rpm_words", "which limit governs", lathe_speed.words()), 30),
        _Line("Relief", Figure("lathe_relief_words", "what to do where the relief is too short",
                               lathe_speed.relief_words()), 54, "seen"),
        _Line("Chuck", _chosen("lathe_chuck_words", "caution for a screwed-on chuck")),
        _Line("Turning feed", _chosen("lathe_feed_words", "feed for turning"), 15),
        _Line("Dials", Figure("lathe_dials_words", "what the dials read", lathe_formulas.dials_words())),
    )  # fmt: skip
    for label, figure, height, look in lines:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "order_label")
        left = "B"
        if label == "Speed":
            _figure(book, ws, f"B{row}:C{row}", rpm, "setup_main")
            left = "D"
        _figure(book, ws, f"{left}{row}:I{row}", figure, look)
        ws.row_dimensions[row].height = height
    return row


def _chosen(name: str, meaning: str) -> Figure:
    """The figure of the lathe in use."""
    return Figure(name, meaning, in_use(name))


def _needs(book: Book, ws: Worksheet, row: int) -> int:
    """What is typed for the job; the last row."""
    blocks.heading(book, ws, f"A{row}:I{row}", "Type for this job")
    for at, one in enumerate(NEEDS):
        line, (label_at, cell, unit_at) = row + 1 + at // 2, (("A{0}", "B", "C"), ("D{0}:E{0}", "F", "G"))[at % 2]
        blocks.write(book, ws, label_at.format(line), one.label, "label")
        _input(book, ws, f"{cell}{line}", one, "input_number")
        name, meaning = f"{one.name}_unit", f"unit of the {one.label.lower()}"
        if one.name in UNIT_OF:
            blocks.result(book, ws, f"{unit_at}{line}", name, meaning, UNIT_OF[one.name])
        else:
            blocks.entry(
                book, ws, f"{unit_at}{line}", name, meaning, value=SPEED_UNITS[book.unit],
                check=blocks.one_of(tuple(SPEED_UNITS.values()), "Choose ft/min or m/min."),
                prompt="Feet a minute or metres a minute: the unit of the cutting speed beside it.",
            )  # fmt: skip
        ws.row_dimensions[line].height = 17
    return row + len(NEEDS) // 2


def _gears_in_use(book: Book, ws: Worksheet, row: int) -> int:
    """Gears that are on the lathe, where they are not the usual ones; the last row."""
    blocks.heading(book, ws, f"A{row}:I{row}", "Gears in use, where they are not the usual ones: spindle side first")
    for lathe in LATHES:
        for letter, one in zip(COLUMNS[lathe], USE):
            blocks.write(book, ws, f"{letter}{row + 1}", one.label, "head")
            _input(book, ws, f"{letter}{row + 2}", of_lathe(one, lathe))
        _input(book, ws, _across(lathe, row + 3), of_lathe(USE_LEVERS, lathe))
    blocks.write(book, ws, f"A{row + 2}", "Teeth", "label")
    blocks.write(book, ws, f"A{row + 3}", USE_LEVERS.label, "label")
    return row + 3


def _comparison(book: Book, ws: Worksheet, row: int) -> int:
    """What both lathes give for the thread; the last row."""
    blocks.heading(book, ws, f"A{row}", "For this thread")
    for lathe in LATHES:
        name = Numbered(lathe).lathe_name
        title = when(given(name), say(f"{lathe}: ", name), f"Lathe {lathe}")
        ref = _across(lathe, row)
        blocks.result(book, ws, ref, f"lathe_title_{lathe}", "name above the column", title, look="block")
    both = [lathe_formulas.compared(Numbered(lathe)) for lathe in LATHES]
    for (label, height), figures in zip(COMPARED, zip(*both)):
        row += 1
        blocks.write(book, ws, f"A{row}", label, "order_label")
        ws.row_dimensions[row].height = height
        for lathe, figure in zip(LATHES, figures):
            _figure(book, ws, _across(lathe, row), figure._replace(name=f"{figure.name}_{lathe}"), "order")
    return row


def _descriptions(book: Book, ws: Worksheet, row: int) -> int:
    """The lathes themselves; the last row."""
    blocks.heading(book, ws, f"A{row}", "The lathes")
    for lathe in LATHES:
        blocks.heading(book, ws, _across(lathe, row), f"Lathe {lathe}")
    for one in DESCRIPTION:
        row += 1
        blocks.write(book, ws, f"A{row}", one.label, "label")
        for lathe in LATHES:
            _input(book, ws, _across(lathe, row), of_lathe(one, lathe))
        if one.name == "leadscrew_unit":
            row += 1
            blocks.write(book, ws, f"A{row}", DIAL_GEARS[0].label, "label")
            for lathe in LATHES:
                for letter, gear in zip(COLUMNS[lathe], DIAL_GEARS):
                    _input(book, ws, f"{letter}{row}", of_lathe(gear, lathe))
    return row


def _across(lathe: int, row: int) -> str:
    """All columns of a lathe on the page."""
    return f"{COLUMNS[lathe][0]}{row}:{COLUMNS[lathe][-1]}{row}"


def _input(book: Book, ws: Worksheet, ref: str, one: Input, look: str = "input") -> None:
    name, _, meaning, dimension, check, prompt = one
    blocks.write(book, ws, ref, None, look, dimension)
    blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)


def _figure(book: Book, ws: Worksheet, ref: str, figure: Figure, look: str = "result", role: str = "result") -> None:
    name, meaning, formula, dimension = figure
    blocks.result(book, ws, ref, name, meaning, formula, dimension=dimension, look=look, role=role)


def _working(book: Book, ws: Worksheet, at: int) -> None:
    """Figures behind the page."""
    top = lathe_charts.TOP
    label, *letters = (get_column_letter(at + n) for n in range(1 + len(LATHES)))
    blocks.widths(ws, {label: 20, **dict.fromkeys(letters, 16)})
    blocks.heading(book, ws, f"{label}{top - 2}:{letters[-1]}{top - 2}", "Working figures (not printed)")
    job, each = lathe_formulas.job(), [lathe_formulas.each(Numbered(lathe)) for lathe in LATHES]
    for row, figure in enumerate((*each[0], *job), start=top):
        blocks.write(book, ws, f"{label}{row}", figure.name.replace("_", " "), "small")
    for row, both in enumerate(zip(*each), start=top):
        for letter, lathe, figure in zip(letters, LATHES, both):
            name, meaning = f"{figure.name}_{lathe}", f"{figure.meaning}, lathe {lathe}"
            _figure(book, ws, f"{letter}{row}", figure._replace(name=name, meaning=meaning), role="working")
    for row, figure in enumerate(job, start=top + len(each[0])):
        role = "result" if figure.name in CONTRACT else "working"
        _figure(book, ws, f"{letters[0]}{row}", figure, role=role)
