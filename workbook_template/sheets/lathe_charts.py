"""The sheet Lathe charts: of each lathe its lever chart, its change gears, what is on the shelf, its speeds."""

from __future__ import annotations

from collections.abc import Callable

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    Numbered,
    all_of,
    first,
    given,
    here,
    known,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import DECIMAL, Input, believed, in_text
from workbook_template.sheets.lathe_gears import PER_MILLION, lead_cut
from workbook_template.sheets.lathe_inputs import BOX, IN_USE, PLAIN, SHELF, SPEEDS, TRAIN, of_lathe
from workbook_template.sheets.lathe_terms import GEARS, LATHES, NEAR
from workbook_template.sheets.layout import (
    CALLOUT,
    Block,
    Column,
    Made,
    Sheet,
    Table,
    beside,
    block,
    gap,
    line,
    shown,
    stack,
    table,
    words,
)

SHEET = "Lathe charts"
ROWS, SHELF_ROWS = 60, 40
LINE, HEADS, LEAST = 12, 36, 40
"""Height of a row and of the heads, and how many rows are printed at least; fifty-two go on a page."""

WIDTHS = (5.5, 5.8, 5.4, 5.4, 1, 5.8, 5.4, 5.5, 5.2, 5.2, 5.2, 5.2, 7.4, 6, 1, 5.6, 5.8)
"""Widths of the columns in characters: a page together."""


def _typed(one: Input, lathe: int) -> Column:
    """A column to type into."""
    name, label, meaning, dimension, check, prompt, *_ = of_lathe(one, lathe)
    look = "list_note" if dimension == "text" else "list_note_number"
    return Column(name, label, meaning, 1, None, dimension, look, check, prompt, role="input")


def _gears(lathe: int) -> tuple[Column, Column]:
    """What the gears of a row cut, and how far that is off."""
    my = {name: here[f"train_{name}_{lathe}"] for name in ("levers", "tpi", "pitch", "lead", *GEARS)}
    cut = lead_cut(Numbered(lathe), my["levers"], *(my[gear] for gear in GEARS))
    error = xl.IFERROR(xl.ROUND((my["lead"] / _lead(my["tpi"], my["pitch"]) - 1) * PER_MILLION, 1), "")
    return (
        Column(f"train_lead_{lathe}", "lead, mm", "lead that the gears cut, mm", 1, cut, "0.00000", "row_note_number"),
        Column(f"train_lead_error_ppm_{lathe}", "error, ppm", "error of that lead in millionths", 1,
               when(known(my["lead"]), error), '+0;-0;"0"', "row_note_number"),
    )  # fmt: skip


def _page(lathe: int) -> Block:
    """The charts of one lathe side by side."""
    name = in_text(the[f"lathe_name_{lathe}"])
    title = say(f"Lathe {lathe}", when(given(name), say(": ", name)))
    head = Figure(f"charts_title_{lathe}", "which lathe the charts are of", title)
    used = Figure(f"charts_use_{lathe}", "whether the job uses the lathe of the charts",
                  when(the.lathe_used.same(lathe), "in use for this job", "not in use for this job"))  # fmt: skip
    box = Table("", tuple(_typed(one, lathe) for one in BOX), ROWS, LINE, HEADS, least=LEAST)
    train = Table("", (*(_typed(one, lathe) for one in TRAIN), *_gears(lathe)), ROWS, LINE, HEADS, least=LEAST)
    shelf = Table("", tuple(_typed(one, lathe) for one in (SHELF, SPEEDS)), SHELF_ROWS, LINE, HEADS, least=LEAST)
    return stack(
        block(None, line(shown(13, head, "thread"), shown(4, used, "note_9"), height=CALLOUT)),
        beside(table(box, "Lever chart"), gap(1), table(train, "Change gears"), gap(1), table(shelf, "Has")),
    )


def _lead(per_inch: Node, pitch: Node) -> Node:
    """Lead in mm, of threads per inch or of a pitch."""
    return first(
        (known(per_inch), when(per_inch > 0, MM_PER_INCH / per_inch, NO_NUMBER)),
        (known(pitch), when(pitch > 0, pitch, NO_NUMBER)),
        otherwise=NO_NUMBER,
    )


def _off(lead: Node) -> Node:
    """How far a lead is from that of the job, as a share of it."""
    return when(all_of(known(lead), known(the.job_lead_mm)), xl.ABS(lead / the.job_lead_mm - 1), NO_NUMBER)


def _behind(name: str, meaning: str, formula: Node | Callable[[int], Node], lathe: int, dimension: str) -> Column:
    """A working column; `here.x` is the cell of the charts in the same line."""
    return Column(f"{name}_{lathe}", name.replace("_", " "), meaning, 1, formula, dimension, role="working")


def _worked(lathe: int) -> tuple[Table, Table]:
    """What follows from each line of the charts, behind the sheets; each column begins with what it is taken from."""
    my = Numbered(lathe)

    def copied(name: str) -> Column:
        def cell(row: int) -> Node:
            typed = xl.INDEX(the[f"{name}_{lathe}"], row)
            return when(believed(DECIMAL, typed), typed)

        return _behind(f"{name}_listed", f"{name.replace('_', ' ')} as listed", cell, lathe, PLAIN)

    off = "how far it is from the lead of the job"
    lead, feed, speed, per_inch, pitch, train = (
        here[f"{name}_{lathe}"]
        for name in (
            "box_lead",
            "box_feed_listed",
            "spindle_speeds_listed",
            "box_tpi_listed",
            "box_pitch_listed",
            "train_lead_listed",
        )
    )
    feed_fits = all_of(known(feed), known(the.turning_feed), known(my.dial_to_working))
    speed_fits = all_of(known(speed), known(the.rpm_lower))
    lines = Table("", (
        *(copied(name) for name in ("box_tpi", "box_pitch", "box_feed", "train_lead")),
        _behind("box_lead", "lead of the position, mm", _lead(per_inch, pitch), lathe, "0.0000"),
        _behind("box_off", off, _off(lead), lathe, "0.000000"),
        _behind("box_feed_fit", "feeds at or under the one wanted",
                when(feed_fits, when(feed * my.dial_to_working <= the.turning_feed + NEAR, feed, NO_NUMBER), NO_NUMBER),
                lathe, PLAIN),
        _behind("train_off", off, _off(train), lathe, "0.000000"),
    ), ROWS)  # fmt: skip
    speeds = Table("", (
        copied("spindle_speeds"),
        _behind("speed_fit", "speeds at or under the limits",
                when(speed_fits, when(speed <= the.rpm_lower, speed, NO_NUMBER), NO_NUMBER), lathe, PLAIN),
    ), SHELF_ROWS)  # fmt: skip
    return lines, speeds


PAPER = (
    "Printed are the charts of the lathe in use, the one that the sheet Lathe named when this file was made. To print "
    "the others, select them and print the selection."
)


def sheet(_: Made) -> Sheet:
    """A page band for each lathe; the lathe in use has its own printed."""
    return Sheet(
        SHEET,
        tuple(_page(lathe) for lathe in LATHES),
        working_tables=tuple(part for lathe in LATHES for part in _worked(lathe)),
        widths=WIDTHS,
        beside=block(None, line(words(9, PAPER, "note_9"), height=CALLOUT)),
        printed_one=IN_USE.name,
        user="shop",
    )
