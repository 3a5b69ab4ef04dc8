"""What people see and print: five sizes of type, nothing shrunk, nothing cut, every page on A4 as on Letter."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from itertools import product
from typing import Any, NamedTuple

import pytest
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.worksheet.worksheet import Worksheet
from PIL import ImageFont
from whole_books import with_few_threads

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.file.build import built_on, chosen, fill
from workbook_template.paper import heights
from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import cells_in
from workbook_template.trade.typed import Inputs

SIZES = {9, 11, 14, 20, 32}
"""Points: notes, the body, heads and the pass plan, the thread, the figures at the machine."""

A4, LETTER = (595.3, 841.9), (612.0, 792.0)
DIGIT = 8
"""Pixels of a digit of 11 point Arial at 96 dots an inch: what column widths count."""

POINT = 72 / 96
PADDING = 4 * POINT
INDENT = 9.5
"""Points of a step in Calc; in Excel it is less."""

LINE = 1.15
"""Height of a line of Arial, in its size."""

SLACK, OF_NUMBERS = 1.02, 1.04
"""Text may come out wider on a screen, where letters are rounded to pixels. A number that does not fit is not shown."""


def wide(ws: Worksheet, left: int, right: int) -> float:
    """Width of columns in points; a hidden one has none."""
    found = 0.0
    for number in range(left, right + 1):
        column = ws.column_dimensions[get_column_letter(number)]
        found += 0 if column.hidden else int((column.width or 8.43) * DIGIT + 0.5) * POINT
    return found


def high(ws: Worksheet, top: int, bottom: int) -> float:
    own = ws.sheet_format.defaultRowHeight if ws.sheet_format.customHeight else 14.25
    return sum(ws.row_dimensions[row].height or own for row in range(top, bottom + 1))


def areas(ws: Worksheet) -> list[tuple[int, int, int, int]]:
    """The printed areas, as rows and columns."""
    return [range_boundaries(one.split("!")[-1].replace("$", "")) for one in (ws.print_area or "").split(",") if one]


def seen(book: Book) -> Iterator[Worksheet]:
    """The sheets that people see."""
    return (ws for ws in book.workbook if ws.sheet_state == "visible")


@functools.cache
def face(size: float, bold: bool) -> ImageFont.FreeTypeFont:
    """Liberation Sans has the widths of Arial."""
    name = "LiberationSans-Bold.ttf" if bold else "LiberationSans-Regular.ttf"
    return ImageFont.truetype(name, int(size * 10))


@functools.cache
def length(text: str, size: float, bold: bool) -> float:
    return face(size, bold).getlength(text) / 10


def lines(text: str, room: float, size: float, bold: bool) -> int:
    """Lines that a text takes where it wraps at blanks; a word that does not fit alone is broken."""
    count, used = 1, 0.0
    blank = length(" ", size, bold)
    for part in text.split("\n"):
        for word in part.split(" "):
            needed = length(word, size, bold)
            if used and used + blank + needed > room:
                count, used = count + 1, 0.0
            while needed > room:
                count, needed = count + 1, needed - room
            used += needed + (blank if used else 0)
    return count


class Cut(NamedTuple):
    sheet: str
    cell: str
    text: str


def shown(value: Any, form: str) -> str:
    """Roughly what a cell shows: numbers with as many decimals as the format has."""
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return str(value or "")
    if form == "yyyy-mm-dd":
        return "2024-03-05"
    decimals = form.split(";")[0].partition(".")[2].count("0")
    return f"{value:.{decimals}f}" if "0" in form else f"{value:g}"


def cuts(book: Book, values: store.Stored | None = None, *sheets: str) -> list[Cut]:
    """Cells on paper whose text does not fit, where formulas give these values; of these sheets, or of all."""
    values = values or store.compute(book)
    heights.grow(book, values)  # as the command does
    found = []
    for ws in map(book.workbook.__getitem__, sheets) if sheets else seen(book):
        merged = {str(one).split(":")[0]: one.bounds for one in ws.merged_cells.ranges}
        for left, top, right, bottom in areas(ws):
            for row in ws.iter_rows(top, bottom, left, right):
                for cell in row:
                    value = values[ws.title].get(cell.coordinate, cell.value)
                    text = shown(value, cell.number_format).strip()
                    if not text or cell.number_format.startswith(";;;"):
                        continue
                    a, b, c, d = merged.get(cell.coordinate, (cell.column, cell.row, cell.column, cell.row))
                    size, bold = cell.font.sz, bool(cell.font.b)
                    slack = SLACK if isinstance(value, str) else OF_NUMBERS
                    room = (wide(ws, a, c) - PADDING - INDENT * cell.alignment.indent) / slack
                    if room <= 0:
                        continue
                    if cell.alignment.wrap_text and isinstance(value, str):
                        fits = lines(text, room, size, bold) * size * LINE <= high(ws, b, d) + 1
                    else:
                        fits = length(text, size, bold) <= room
                    if not fits:
                        found.append(Cut(ws.title, cell.coordinate, text))
    return found


LONG = {
    "customer": "Northern Hydraulics and Agricultural Repair",
    "part": "Hydraulic cylinder head gland, 2nd operation",
    "drawing": "HYD-2204-117-B",
    "revision": "C2",
    "job_number": "J-2031-04",
    "material": "4140 steel, pre-hardened, 28 to 32 HRC",
    "estimate_lathe_1": "Long lathe by the window",
}


AT_THE_MACHINE = ("Start", "Setup", "Card", "Lathe")

THREADS = (demo.THREAD, "Tr40x14(P7)-7e LH", "3/4-14 NPT external", "M5x0.8-6H", "1-10 BUTT-2A")


@functools.cache
def filled() -> Book:
    """The example with long names; the other threads are in its table."""
    values = {**demo.values(), **LONG}
    return with_few_threads([standards.read(callout) for callout in THREADS], values=values)


@functools.cache
def computed() -> Computed:
    """Its formulas, read once for all that is typed."""
    return Computed(store.cells_of(filled()), serial(built_on()), store.PROBABILITY)


def typed(values: Inputs) -> store.Stored:
    """What the formulas give with these values filled in as well."""
    fill(filled(), values)
    for entry in filled().entries:
        if entry.name in values:
            left, top, right, bottom = range_boundaries(entry.ref)
            for row, column in product(range(top, bottom + 1), range(left, right + 1)):
                value = filled().workbook[entry.sheet].cell(row, column).value
                held = None if value in (None, "") else store.value_of(value)
                computed().put(entry.sheet, row, column, held)
    return store.values_of(computed())


WARNED = {
    "decision_rule": "guard",
    "expanded_uncertainty": None,
    "coverage_factor": 3,
    "budget_micrometer": 0.004,
    "expansion_source": "mill certificate of the bar, heat 48213, table 4",
    "instrument_expansion": 11.5,
    "room_temperature": 200,
}
"""A k without its U, a U with no room to be in, and two entries that are not used: all are told at once."""


def test_all_warnings_about_the_decision_rule_fit_together() -> None:
    values = typed(WARNED)
    words = [text for title in ("Certificate", "Uncertainty") for text in values[title].values()
             if str(text).startswith("Decision rule: ")]  # fmt: skip
    warnings = ("k is typed without its U", "no room is left", "CHECK ENTRY, not used: Instrument", "heat 48213")
    assert [all(one in str(text) for one in warnings) for text in words] == [True, True]
    assert cuts(filled(), values, "Certificate", "Uncertainty") == []
    typed({name: demo.values().get(name) for name in WARNED})


@pytest.mark.parametrize("callout", THREADS)
def test_no_text_is_cut_on_paper(callout: str) -> None:
    assert cuts(filled(), typed(chosen(standards.read(callout)))) == []


@pytest.mark.parametrize(
    ("inputs", "said"),
    [
        ({"blank_measured": 0.7605}, "0.0120 over its maximum"),
        ({"blank_measured": 0.7305}, "0.0086 under its minimum"),
        ({"blank_measured": 0.744}, "inside its limits"),
        ({"blank_measured": None}, "empty: middle used"),
        ({"blank_measured": None, "thread_exists": "yes"}, "its crest, if measured"),
    ],
)
def test_no_word_beside_the_blank_is_cut(inputs: dict[str, object], said: str) -> None:
    """ASME B1.1-2003, Table 2A: 3/4-16 UNF-2A, major diameter .7485 to .7391."""
    usual = demo.values()
    values = typed(chosen(standards.read("3/4-16 UNF-2A")) | inputs)
    assert values["Setup"][card_cell("blank_words")] == said
    assert [one for one in cuts(filled(), values, *AT_THE_MACHINE) if one.text == said] == []
    typed({name: usual.get(name) for name in inputs})


def test_passes_that_end_short_are_told_on_the_card() -> None:
    """A pass of .04 on the compound where .044 is to go; it is told with what Lathe lacks."""
    inputs = {"dial_division": 0.04, "passes": 1, "finishing_pass": None, "surface_speed": None}
    values = typed(chosen(standards.read("3/4-16 UNF-2A")) | inputs)
    said = str(values["Card"][card_cell("card_state")])
    assert said.startswith("All is filled in but the speed, on the sheet Lathe. The plan ends 0.00"), said
    assert said.endswith(" short: measure, feed on.")
    assert [one for one in cuts(filled(), values, *AT_THE_MACHINE) if one.text == said] == []
    typed({name: demo.values().get(name) for name in inputs})


@pytest.mark.parametrize("callout", ["3/4-16 UNF-2A-LH", "3/4-16 UNF-2B", "3/4-16 UNF-2B-LH", "3/4-14 NPT external"])
def test_no_text_is_cut_where_the_half_nuts_stay_shut(callout: str) -> None:
    """By a metric leadscrew; what to do at the end of the cut is then a sentence longer."""
    screws = ("leadscrew_1", "leadscrew_unit_1", "leadscrew_2", "leadscrew_unit_2")
    values = typed(chosen(standards.read(callout)) | dict(zip(screws, (6, "mm") * 2)))
    assert "runs on" in values["Card"][card_cell("carriage_words")]
    assert cuts(filled(), values) == []
    typed({name: demo.values()[name] for name in screws})


@pytest.mark.parametrize(("teeth", "told"), [(16, "Or close the half-nuts"), (17, "slip the spindle-side gear")])
def test_no_text_is_cut_that_tells_of_the_next_start(teeth: int, told: str) -> None:
    """Four starts, lead .8, on 4 threads an inch: gears 80 to 25; a dial in mm that reads diameters."""
    inputs = {"lathe_in_use": 1, "leadscrew_1": 4, "leadscrew_unit_1": "tpi", "dial_a_1": teeth, "use_a_1": 80,
              "use_b_1": 25, "dial_unit_1": "mm", "compound_dial_reads_1": "diameter", "cross_dial_reads_1": None,
              "tip_kind": "flat", "tip_size": 0.0685, "blank_measured": 0.998, "dial_division": None}  # fmt: skip
    usual = demo.values()
    values = typed(chosen(standards.read("1-5 ACME-2G")) | {"starts": 4} | inputs)
    said = values["Card"][card_cell("each_words")]
    assert told in said
    assert said.startswith("The readings of the plan are what the dial of the compound shows, in mm on the diameter. ")
    assert [one for one in cuts(filled(), values, *AT_THE_MACHINE) if one.text == said] == []
    typed({name: usual.get(name) for name in inputs})


def test_no_text_of_a_long_offer_or_an_unready_one_is_cut() -> None:
    told = {
        "customer": "Northern Hydraulics and Agricultural Repair Works, Limited",
        "offer_gauging": "over wires and by the GO ring, every piece; flanks by projector, the first and the last",
        "offer_valid_for": "B",
    }
    book = with_few_threads(values={**demo.values(), **LONG, **told})
    ws, row = book.workbook["Offer"], range_boundaries(cell_of(book, "offer_gauging_said"))[1]
    assert high(ws, row, row) >= 2 * 11 * LINE  # in a file that grows no more as well
    values = store.compute(book)
    assert "PRICES ARE NOT VALID" in str(values["Offer"].values())
    assert cuts(book, values, "Offer") == []


def card_cell(name: str) -> str:
    """The first cell of a named figure."""
    return cell_of(filled(), name)


def cell_of(book: Book, name: str) -> str:
    """The same in another workbook."""
    return next(one.ref for one in book.entries if one.name == name).partition(":")[0]


def test_no_text_is_cut_in_an_empty_book_and_none_of_a_link() -> None:
    book = with_few_threads()
    assert cuts(book) == []
    for ws in book.workbook:
        merged = {str(one).split(":")[0]: one.bounds[2] for one in ws.merged_cells.ranges if one.min_row == 1}
        for cell in ws[1] if ws.sheet_state == "visible" else ():
            if cell.value:
                room = wide(ws, cell.column, merged.get(cell.coordinate, cell.column)) - PADDING
                assert length(cell.value, cell.font.sz, bool(cell.font.b)) <= room, (ws.title, cell.value)


def test_a_text_that_is_cut_is_seen() -> None:
    """A name too long for its two lines, a day in a column too narrow for it, a sentence in a line too low."""
    before = (filled().workbook["Job"].row_dimensions[6].height, dict(LONG))
    values = typed({**chosen(standards.read(demo.THREAD)), "part": "Spacer, " * 20})
    narrow = filled().workbook["Instruments"].column_dimensions["F"]
    low = filled().workbook["Card"].row_dimensions[9]
    kept = narrow.width, low.height
    narrow.width, low.height = 9.0, 9.0
    found = {(one.sheet, one.cell) for one in cuts(filled(), values)}
    narrow.width, low.height = kept
    typed(LONG)
    assert {("Instruments", "F12")} <= found
    assert {one for one in found if one[0] == "Job"} == {("Job", "I6")}
    assert before == (filled().workbook["Job"].row_dimensions[6].height, LONG)


def test_five_sizes_of_type() -> None:
    found = {(ws.title, cell.font.sz) for ws in seen(filled()) for cell in cells_in(ws).values()}
    assert {one for one in found if one[1] not in SIZES} == set()


LISTS = {"Lathe charts", "Instruments", "Log", "Wire sets"}
"""Sheets that go on to another page where more rows are in use."""


def rooms(ws: Worksheet) -> list[tuple[float, float]]:
    """Width and height that a page has, on A4 and on Letter."""
    margins = ws.page_margins
    papers = [paper[::-1] if ws.page_setup.orientation == "landscape" else paper for paper in (A4, LETTER)]
    return [
        (across - 72 * (margins.left + margins.right), up - 72 * (margins.top + margins.bottom))
        for across, up in papers
    ]


def pages(ws: Worksheet) -> list[tuple[int, int]]:
    """The first and last row of each page."""
    found = []
    for _, top, _, bottom in areas(ws):
        breaks = [one.id for one in ws.row_breaks.brk if top <= one.id < bottom]
        found += [*zip([top, *(row + 1 for row in breaks)], [*breaks, bottom])]
    return found


CALC = 6.1023 / (DIGIT * POINT)
"""How much wider a column is in Calc, which counts its width in digits of the font, not in pixels."""

A_LINE = 3
"""Points that Calc needs more than the lines have: one that ends nearer to the foot goes on to another page."""


def test_every_page_fits_as_it_is() -> None:
    """At 100 per cent, on A4 as on Letter."""
    for ws in filled().workbook:
        if ws.sheet_state != "visible":
            continue
        assert ws.page_setup.scale == 100, ws.title
        assert not ws.sheet_properties.pageSetUpPr or not ws.sheet_properties.pageSetUpPr.fitToPage, ws.title
        for across, up in rooms(ws):
            assert all(CALC * wide(ws, left, right) <= across for left, _, right, _ in areas(ws)), ws.title
            for first, last in pages(ws):
                assert ws.title in LISTS or high(ws, first, last) <= up - A_LINE, (ws.title, first, last)


OPENS_ON = {"Log": "log_once_instrument"}
"""Sheets that open on a later entry: the first of the log is for taper threads."""


def test_a_sheet_opens_on_its_first_entry_and_the_book_on_start() -> None:
    named = {entry.name: entry.ref for entry in filled().entries}
    assert filled().workbook.active.title == "Start"
    for ws in seen(filled()):
        typed = [cell for at, cell in sorted(cells_in(ws).items()) if at[0] > 1 and not cell.protection.locked]
        pane = ws.sheet_view.pane.activePane if ws.sheet_view.pane else None
        opened = [one.activeCell for one in ws.sheet_view.selection if one.pane == pane]
        first = [named[OPENS_ON[ws.title]]] if ws.title in OPENS_ON else [one.coordinate for one in typed[:1]]
        assert opened == (first or opened[:1]), ws.title
    assert filled().workbook["Start"].sheet_view.selection[-1].activeCell == "A6"
    assert filled().workbook["Start"]["A6"].hyperlink.location == "'Job'!A2"


SCREEN = 768 - 258
"""Pixels of the cells in a window of a laptop, 1366 by 768: the rest are title, menus, tools, heads, tabs."""


def test_the_links_are_not_printed_and_the_banner_stays_in_sight() -> None:
    for ws in seen(filled()):
        assert all(top >= 2 for _, top, _, _ in areas(ws)), ws.title
        banners = [
            entry for entry in filled().entries if entry.sheet == ws.title and entry.name.startswith("left_hand_")
        ]
        if not banners:
            continue
        frozen = int("".join(filter(str.isdigit, ws.freeze_panes or "A1"))) - 1
        row = int("".join(filter(str.isdigit, banners[0].ref.split(":")[0])))
        assert row <= frozen, ws.title
        assert high(ws, 1, frozen) / POINT <= 0.55 * SCREEN, ws.title
