"""The charts of the lathes on the sheet Lathe, to the right of the page: levers, change gears, shelf and speeds."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import Numbered, all_of, first, here, in_table, known, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book
from workbook_template.sheets.lathe_gears import PER_MILLION, lead_cut
from workbook_template.sheets.lathe_inputs import BOX, PLAIN, SHELF, SPEEDS, TRAIN, Input, of_lathe
from workbook_template.sheets.lathe_terms import GEARS, LATHES, NEAR

FIRST_COLUMN = 11
TOP, ROWS, SHELF_ROWS = 6, 60, 40


def build(book: Book, ws: Worksheet) -> int:
    """The charts of both lathes; the next free column."""
    at = FIRST_COLUMN
    for lathe in LATHES:
        at = _of_lathe(_Columns(book, ws, at, lathe))
    return at


def _of_lathe(columns: _Columns) -> int:
    lathe, my = columns.lathe, Numbered(columns.lathe)
    columns.heading(7, f"Lever chart of lathe {lathe}")
    columns.inputs(*BOX)
    listed = _lead(here.box_tpi, here.box_pitch)
    columns.results("lead, mm", Figure("box_lead", "lead of the position, mm", listed, "0.0000"))
    columns.results("off", Figure("box_off", *_off(here.box_lead)))
    fits = when(
        all_of(known(here.box_feed), known(the.turning_feed), known(my.dial_to_working)),
        when(here.box_feed * my.dial_to_working <= the.turning_feed + NEAR, here.box_feed),
    )
    columns.results("feed fits", Figure("box_feed_fit", "feeds at or under the one wanted", fits, PLAIN))
    columns.skip()
    columns.heading(10, f"Change gears of lathe {lathe}")
    columns.inputs(*TRAIN)
    cut = lead_cut(my, here.train_levers, *(here[f"train_{gear}"] for gear in GEARS))
    columns.results("lead, mm", Figure("train_lead", "lead that the gears cut, mm", cut, "0.00000"), "result")
    wanted = _lead(here.train_tpi, here.train_pitch)
    error = xl.IFERROR(xl.ROUND((here.train_lead / wanted - 1) * PER_MILLION, 1), "")
    millionths = when(known(here.train_lead), error)
    columns.results(
        "error, ppm", Figure("train_ppm", "error of that lead in millionths", millionths, '+0;-0;"0"'), "result"
    )
    columns.results("off", Figure("train_off", *_off(here.train_lead)))
    columns.skip()
    columns.heading(3, f"Lathe {lathe}")
    columns.inputs(SHELF, SPEEDS, rows=SHELF_ROWS)
    speed = here.speed_list
    fits = when(all_of(known(speed), known(the.rpm_limit)), when(speed <= the.rpm_limit, speed))
    columns.results("speed fits", Figure("speed_fit", "speeds at or under the limits", fits, PLAIN), rows=SHELF_ROWS)
    columns.skip()
    return columns.at


def _lead(per_inch: Node, pitch: Node) -> Node:
    """Lead in mm, of threads per inch or of a pitch."""
    return first((known(per_inch), when(per_inch > 0, MM_PER_INCH / per_inch)), (known(pitch), when(pitch > 0, pitch)))


def _off(lead: Node) -> tuple[str, Node, str]:
    """Meaning, formula and number format of the column for the distance from the lead of the job."""
    share = when(all_of(known(lead), known(the.job_lead_mm)), xl.ABS(lead / the.job_lead_mm - 1))
    return "how far it is from the lead of the job", share, "0.000000"


class _Columns:
    """Columns for one lathe, one after another; their formulas speak of each other by the names without its number."""

    def __init__(self, book: Book, ws: Worksheet, at: int, lathe: int) -> None:
        self.book, self.ws, self.at, self.lathe = book, ws, at, lathe
        self.places: dict[str, int] = {}

    def heading(self, columns: int, text: str) -> None:
        """The title of the next columns."""
        first_letter, last_letter = get_column_letter(self.at), get_column_letter(self.at + columns - 1)
        blocks.heading(self.book, self.ws, f"{first_letter}{TOP - 2}:{last_letter}{TOP - 2}", text)

    def inputs(self, *inputs: Input, rows: int = ROWS) -> None:
        """Columns of inputs."""
        for one in inputs:
            column = self._next(one.label, one.name)
            look = "log_input" if one.dimension == "text" else "log_number"
            ref = self._write(column, [None] * rows, look, one.dimension)
            name, _, meaning, dimension, check, prompt = of_lathe(one, self.lathe)
            blocks.name_input(self.book, self.ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)

    def results(self, label: str, figure: Figure, role: str = "working", rows: int = ROWS) -> None:
        """A column of formulas."""
        column, bottom = self._next(label, figure.name), TOP + rows - 1
        formula = in_table(figure.formula, self.places, column, TOP, bottom)
        texts = blocks.column_texts(self.book, formula, column, TOP, bottom)
        ref = self._write(column, texts, "log_result", figure.dimension)
        blocks.define(self.book, self.ws, ref, f"{figure.name}_{self.lathe}", figure.meaning, role=role)

    def skip(self) -> None:
        """A narrow empty column."""
        blocks.widths(self.ws, {get_column_letter(self.at): 2})
        self.at += 1

    def _next(self, label: str, name: str) -> int:
        column, letter = self.at, get_column_letter(self.at)
        self.places[name] = column
        self.at += 1
        blocks.widths(self.ws, {letter: 9.5})
        blocks.write(self.book, self.ws, f"{letter}{TOP - 1}", label, "log_head")
        return column

    def _write(self, column: int, values: list[str] | list[None], look: str, dimension: str) -> str:
        letter = get_column_letter(column)
        for row, value in enumerate(values, start=TOP):
            blocks.write(self.book, self.ws, f"{letter}{row}", value, look, dimension)
        return f"{letter}{TOP}:{letter}{TOP + len(values) - 1}"
