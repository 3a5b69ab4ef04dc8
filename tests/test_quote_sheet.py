"""The sheets Quote and Offer in a real spreadsheet program, lines against the functions."""

from __future__ import annotations

from decimal import Decimal

import pytest
from openpyxl.utils import range_boundaries
from test_estimate_sheet import job
from whole_books import with_few_threads

from sheetfuncs import evaluate, standards
from workbook_template.demo import estimate as demo_estimate
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.file.build import built_on
from workbook_template.office import Document
from workbook_template.sheets.quote import ROWS, SHEET
from workbook_template.sheets.quote_inputs import INPUTS

LINES = (
    ("a", "3/4-16 UNF", "2A", "3/4-16 UNF-2A", 25, 1.25, 12, 160, None, 10, 45, 0.65, 12),
    ("b", "1/2-12 BSW", "medium bolt", "1/2-12 BSW", 8, 1.5, 14, 120, None, 14, 40, 1.2, 0),
    ("c", "M20x2.5", "6g", "M20x2.5-6g", 60, 1.8, 16, 160, "yes", 9, 50, 1.4, 8),
    ("d", "1-5 ACME", "2G", "1-5 ACME-2G", 4, 14, 40, 60, None, 35, 90, 9.5, 30),
)
COLUMNS = [name for name, *_ in INPUTS]


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


def down(sheet: Document, name: str) -> list[object]:
    """The cells of a named column."""
    return [row[0] for row in sheet[name]]


def quoted(rows: list[tuple]) -> dict[str, object]:
    """The inputs of the sheet Quote for so many rows; the others are empty."""
    columns = zip(*rows, *[[None] * len(COLUMNS)] * (ROWS - len(rows)))
    return {f"quote_{name}": [[cell] for cell in column] for name, column in zip(COLUMNS, columns)}


def fill(sheet: Document, lines: tuple[tuple, ...]) -> None:
    """The lines in the first rows of the sheet."""
    sheet.set(quoted([line[:3] + line[4:] for line in lines]))


@pytest.mark.parametrize(
    ("lines", "rows", "printed", "sentence"),
    [
        (5, 0, 16, "5 lines priced, together "),
        (17, 0, 32, "17 lines priced, together "),
        (
            12,
            12,
            12,
            "All 12 rows are used: quote the rest in a second workbook.",
        ),
        (65, 0, 65, "All 65 rows are used"),
    ],
)
def test_a_quote_has_rows_for_its_lines_and_says_when_it_is_full(
    lines: int, rows: int, printed: int, sentence: str
) -> None:
    line = dict(zip(COLUMNS, LINES[0][:3] + LINES[0][4:]))
    typed = {f"quote_{name}": [value] * lines for name, value in line.items()} | {"quote_power_return": ["no"] * lines}
    chosen = [standards.read("3/4-16 UNF-2A")]
    book = with_few_threads(chosen, values=demo_estimate.values() | typed, quote_rows=rows)
    cells = {entry.name: entry.ref for entry in book.entries if entry.sheet == SHEET}
    _, top, _, bottom = range_boundaries(cells["quote_part"])
    assert bottom - top + 1 == (rows or max(ROWS, lines))
    last = range_boundaries(book.workbook[SHEET].print_area.split("!")[-1].replace("$", ""))[3]
    assert last - top + 1 == printed
    column, row, *_ = range_boundaries(cells["quote_step"])
    computed = Computed(store.cells_of(book), serial(built_on()), store.PROBABILITY)
    assert sentence in str(computed.value(SHEET, row, column))


def test_lines_beyond_the_printed_rows_are_told(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    line = LINES[0][:3] + LINES[0][4:]
    for lines, told in ((16, False), (17, True)):
        sheet.set(quoted([line] * lines))
        assert sheet["quote_step"].startswith(f"{lines} lines priced, together ")
        assert ("The first 16 rows are printed" in sheet["quote_step"]) is told
    fill(sheet, LINES)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("power", ["no", "yes"])
def test_lines_are_those_of_the_functions(sheet: Document, unit: str, power: str) -> None:
    given = job("3/4-16 UNF-2A", unit, estimate_length=1.25, estimate_power_return_1=power)
    sheet.set(given)
    fill(sheet, LINES)
    prices, words = (sheet[name] for name in ("quote_price", "quote_words"))
    for at, line in enumerate(LINES):
        _, _, _, callout, quantity, length, passes, rpm, own, other, setup, material, extra = line
        back = own or power
        minutes = evaluate(
            "THREAD_TIME", callout, f"{length} {unit}", rpm, passes, f"{given['estimate_approach_1']} {unit}",
            f"{given['estimate_overrun_1']} {unit}", given["estimate_return_seconds_1"], back,
        )  # fmt: skip
        rates = [given[f"estimate_{name}"] for name in ("rate", "scrap", "overhead", "profit")]
        wanted = evaluate(
            "THREAD_PRICE", quantity, setup, minutes, other, rates[0], 0, 1, rates[1], rates[2], rates[3], None, extra,
            0, material, None, given["estimate_rest"],
        )[1]  # fmt: skip
        assert prices[at][0] == pytest.approx(round(round(wanted[-1] + 1e-9, 2) * quantity, 2), abs=1e-9), line
        assert "under power" in words[at][0] if back == "yes" else "by hand" in words[at][0]
    assert sheet["quote_lines"] == len(LINES)
    shown = [Decimal(text) for (text,) in sheet.shown(["quote_price"])[0][: len(LINES)]]
    assert Decimal(sheet.shown(["quote_total"])[0]) == sum(shown)  # as a clerk adds it up


@pytest.mark.parametrize(
    ("place", "value", "sentence"),
    [
        (1, "3/4-17 UNF", "3/4-17 UNF is not on the sheet Threads: write it as listed there"),
        (2, "9Z", "No class 9Z of this size; it has 2A, 3A, 2B, 3B, 1A, 1B, or is left to be agreed."),
        (2, "2a", "No class 2a of this size; it has 2A, 3A, 2B, 3B, 1A, 1B, or is left to be agreed."),
        (2, "9Z ", "No class 9Z of this size; it has 2A, 3A, 2B, 3B, 1A, 1B, or is left to be agreed."),
        (4, 2.5, "Pieces: type a whole number from 1 to 20000."),
        (4, 46024, "Pieces: type a whole number from 1 to 20000."),  # 1/2 typed is a day of 2026
        (5, 46113, "Thread length: type a length, more than zero, 20000 at most"),
        (6, 12.5, "Passes: type a whole number from 1 to 200."),
        (7, 0, "rpm: type a number more than zero, 20000 at most."),
        (7, 46113, "rpm: type a number more than zero, 20000 at most."),
        (8, "maybe", "Back under power is yes or no."),
        (9, None, "Fill in Other min. each; 0 for none."),
        (7, None, "Fill in rpm."),  # no spindle turns 0 times a minute
        (9, "0,5", 'Other min. each: "0,5" is no number; type a number, 0 or more, 20000 at most'),
        (9, 30 / 1440, "Other min. each: type a number, 0 or more, 20000 at most; 0.5 and not 1/2, 30 and not 0:30."),
        (10, 90 / 1440, "Set-up min.: type a number, 0 or more, 20000 at most; 0.5 and not 1/2, 30 and not 0:30."),
        (9, 46113, "Other min. each: type a number, 0 or more, 20000 at most"),
        (10, -1, "Set-up min.: type a number, 0 or more, 20000 at most"),
        (12, 2e9, "Other, the line: type a number, 0 or more, a billion at most."),
    ],
)
def test_a_line_that_can_not_be_priced_says_why(sheet: Document, place: int, value: object, sentence: str) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    line = list(LINES[0])
    line[place] = value
    fill(sheet, (tuple(line), LINES[1]))
    assert sheet["quote_words"][0][0].startswith(sentence)
    assert sheet["quote_price"][0] == [""]
    assert sheet["quote_step"].startswith(
        f"1 NOT priced; line 1: {sentence.partition('; ')[0]}"
    )  # what is printed says why
    assert isinstance(sheet["quote_price"][1][0], float)
    assert (sheet["quote_lines"], sheet["quote_left"]) == (1, 1)


def test_without_rates_nothing_is_priced(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, estimate_rate=None))
    fill(sheet, LINES)
    assert sheet["quote_fault"] == "Sheet Estimate: enter rate an hour."
    assert {row[0] for row in sheet["quote_price"]} == {""}


def test_the_offer_states_what_it_stands_on(sheet: Document) -> None:
    sheet.set(
        job("3/4-16 UNF-2A", "in", estimate_length=1.25)
        | {"customer": None, "drawing": "D-7", "revision": "C", "offer_number": "O-1", "offer_valid_for": "C"}
        | {"offer_valid": None}
    )
    assert sheet["offer_next"] == "Next: type the last day on which these prices hold."
    sheet.set({"offer_valid": 45387, "offer_coating": None, "as_of": 45388})
    assert sheet["offer_next"] == "The last day on which these prices hold is past."
    sheet.set({"as_of": 45387, "offer_date": None, "shop_name": None})
    assert sheet["offer_next"] == "Name the customer on the sheet Job."
    sheet.set({"customer": "Example works"})
    assert sheet["offer_next"] == "Name the part on the sheet Job."
    sheet.set({"part": "stud"})
    assert sheet["offer_next"] == "Next: type the date of the offer."
    sheet.set({"offer_date": 45388})  # the last day is 45387
    assert sheet["offer_next"] == "The last day on which these prices hold is before the date of the offer."
    sheet.set({"offer_date": 45387})
    assert sheet["offer_next"].startswith("Type the shop's letterhead")
    sheet.set({"offer_date": 45380})
    assert sheet["offer_next"].startswith("Type the shop's letterhead")
    sheet.set({"shop_name": "Example shop"})
    assert sheet["offer_next"] == ""
    assert [sheet[f"offer_{name}_said"] for name in ("date", "valid")] == ["2024-03-29", "2024-04-05"]
    each, together, counts = (down(sheet, f"offer_{name}") for name in ("unit_prices", "prices", "quantities"))
    assert together == pytest.approx([round(one, 2) * count for one, count in zip(each, counts)])  # as a clerk does
    assert each == pytest.approx([round(one, 2) for one in sheet["estimate_unit_price"][0]])
    assert sheet["offer_coating_words"].startswith("without coating")
    sheet.set({"revision": "D"})  # an old last day is not carried over
    assert sheet["offer_next"].startswith("The last day was typed for revision C, the part is revision D: type the day")
    sheet.set({"offer_valid_for": "D"})
    assert sheet["offer_next"] == ""
    sheet.set({"thinnest_coating": 0.0002, "thickest_coating": 0.0003, "estimate_coating": 0.4})
    assert sheet["offer_next"] == "Name the coating, or take it off: the sheet Job has its thickness."
    sheet.set({"offer_coating": "zinc"})
    assert sheet["offer_coating_words"] == "0.00020 to 0.00030 in thick; limits of size hold after it"
    sheet.set(dict.fromkeys(("thinnest_coating", "thickest_coating", "estimate_coating", "offer_coating")))
    sheet.set({"revision": None})
    assert sheet["offer_next"] == "Name the drawing revision on the sheet Job."
    sheet.set({"estimate_quantity_2": None})
    assert down(sheet, "offer_quantities")[1] == ""


READY = {
    "customer": "Example works", "part": "stud", "drawing": "D-7", "revision": "C", "offer_number": "O-1",
    "offer_valid": 45387, "offer_valid_for": "C", "offer_date": 45380, "as_of": 45384, "shop_name": "Example shop",
}  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "on_page", "beside"),
    [
        ({"offer_valid": None}, "no last day is named", "Next: type the last day on which these prices hold."),
        ({"offer_valid": "Friday"}, "the last day is no date",
         "The last day on which these prices hold is no day between 1990 and 2099: type a date."),
        ({"as_of": 45388}, "the last day is past", "The last day on which these prices hold is past."),
        ({"revision": "D"}, "the last day is for another revision", "The last day was typed for revision C"),
        ({"offer_date": 45388}, "the last day is before the date of the offer", "The last day on which these prices"),
        ({f"estimate_{name}": 0 for name in ("rate", "bar_price", "tooling", "gauges", "outside")}, "a price is 0.00",
         "A price each is 0.00: look over the sheet Estimate"),
    ],
)  # fmt: skip
def test_prices_that_do_not_hold_are_not_on_the_page(sheet: Document, changes: dict, on_page: str, beside: str) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | READY)
    assert sheet["offer_next"] == ""
    priced = down(sheet, "offer_prices")
    assert all(isinstance(one, float) for one in priced)
    sheet.set({"offer_valid_for": "C "})  # a blank behind it is no other revision
    assert (sheet["offer_next"], down(sheet, "offer_prices")) == ("", priced)
    sheet.set(changes)
    assert sheet["offer_next"].startswith(beside)
    assert down(sheet, "offer_prices") == down(sheet, "offer_unit_prices") == ["–"] * 5
    assert sheet["offer_rise_words"] == f"PRICES ARE NOT VALID: {on_page}."
    sheet.set(dict.fromkeys(("as_of", "shop_name", "customer")))


def test_a_price_that_was_kept_and_is_another_now_is_told(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | READY)
    was = sheet["estimate_price"][0][1]
    sheet.set({"before_revision": "C ", "before_quantity_2": 50, "before_price_2": was})
    assert sheet["offer_next"] == ""
    sheet.set({"estimate_rate": 66})
    now = sheet["estimate_price"][0][1]
    assert sheet["offer_next"] == (
        f"For 50 pieces of revision C the sheet Costing keeps {was:.2f}, and the price is now {now:.2f}: "
        "tell the customer who has the first, or keep the revision anew."
    )
    sheet.set({"before_revision": "B"})  # another revision is another offer
    assert sheet["offer_next"] == ""
    sheet.set(dict.fromkeys(("as_of", "shop_name", "customer")))


WITHOUT = "without coating; limits of size hold as machined"
THICK = {"thinnest_coating": 0.0002, "thickest_coating": 0.0003}


@pytest.mark.parametrize(
    ("changes", "on_page", "beside"),
    [
        ({}, WITHOUT, ""),
        ({"offer_coating": "none"}, WITHOUT, ""),
        ({"offer_coating": " None "}, WITHOUT, ""),
        ({"offer_coating": "zinc"}, "zinc; agree whether the limits hold before or after it",
         "The coating that is named has no price: type Coating a piece on the sheet Estimate"),
        ({"offer_coating": "zinc", "estimate_coating": 0.4}, "zinc; agree whether the limits hold before or after it",
         "Type the thickness of the coating on the sheet Job"),
        ({"estimate_coating": 0.4}, "NOT NAMED; agree whether the limits hold before or after it",
         "Name the coating, or take it off: the sheet Estimate charges for it."),
        ({"offer_coating": "none", "estimate_coating": 0.4}, "NOT NAMED; agree whether",
         "Name the coating, or take it off: the sheet Estimate charges for it."),
        ({**THICK, "estimate_coating": 0.4}, "NOT NAMED; 0.00020 to 0.00030 in thick; limits of size hold after it",
         "Name the coating, or take it off: the sheet Job has its thickness."),
        ({**THICK, "offer_coating": "zinc", "estimate_coating": 0}, "zinc; 0.00020 to 0.00030 in thick; limits", ""),
        ({**THICK, "offer_coating": "zinc"}, "zinc; 0.00020 to 0.00030 in thick; limits",
         "Sheet Estimate: enter the coating a piece, as the sheet Job gives its thickness"),
        ({"thinnest_coating": 0.0003, "thickest_coating": 0.0002, "offer_coating": "zinc", "estimate_coating": 1},
         "zinc; ITS THICKNESS CAN'T BE", "Sheet Job: Coating: the thinnest is more than the thickest"),
        ({"thickest_coating": 0.0002, "offer_coating": "zinc", "estimate_coating": 1}, "zinc; ITS THICKNESS CAN'T BE",
         "Sheet Job: Coating: type its least and its greatest thickness as numbers"),
        ({"thinnest_coating": "thin", "thickest_coating": 0.0002, "estimate_coating": 1}, "NOT NAMED; ITS THICKNESS",
         "Sheet Job: Coating: type its least and its greatest thickness as numbers"),
    ],
)  # fmt: skip
def test_a_coating_is_the_same_on_job_estimate_and_offer(
    sheet: Document, changes: dict, on_page: str, beside: str
) -> None:
    """The page says without a coating where no sheet has one, and there alone."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | READY | changes)
    assert sheet["offer_coating_said"].startswith(on_page)
    assert sheet["offer_next"].startswith(beside) if beside else sheet["offer_next"] == ""
    sheet.set(dict.fromkeys((*THICK, "estimate_coating", "offer_coating", "as_of", "shop_name", "customer")))


def test_the_offer_names_a_length_that_is_two_and_what_gauging_is_priced(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | READY | {"thread_length": 1.0})
    assert sheet["offer_next"] == (
        "The thread length is 1.2500 on the sheet Estimate and 1.0000 on the sheet Job: correct one."
    )
    sheet.set({"thread_length": 1.25, "estimate_gauged": 0.2})
    assert sheet["offer_next"] == ""
    assert sheet["offer_gauged_words"].startswith("The sheet Estimate prices the gauging of 20 % of the pieces: ")
    sheet.set({"estimate_gauged": None, "estimate_every": 10})
    assert "gauging of the first piece and every nth, n = 10: " in sheet["offer_gauged_words"]
    sheet.set(dict.fromkeys(("as_of", "shop_name", "customer")))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"estimate_rate": -60}, "Rate an hour: type a number, 0 or more"),
        ({"estimate_rate": "€48"}, 'Rate an hour: "€48" is no number; type a number'),
        ({"estimate_scrap": 5}, "Scrap, share of pieces: type a share such as 5%"),
        ({"estimate_rest": 5}, "Rest and delay, on run time: type a share such as 5%"),
        ({"estimate_profit": 1.2}, "A margin is a share of the price, less than 100 %."),
        ({"estimate_approach_1": -3}, "Approach, lathe 1: type a length, 0 or more"),
        ({"estimate_overrun_1": 46113}, "Overrun, lathe 1: type a length, 0 or more"),
    ],
)
def test_no_line_is_priced_at_what_can_not_be(sheet: Document, changes: dict, sentence: str) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | changes)
    fill(sheet, LINES)
    assert sheet["quote_fault"].startswith(f"Sheet Estimate: {sentence}")
    assert {row[0] for row in sheet["quote_price"]} == {""}
    assert sheet["quote_left"] == len(LINES)


def test_the_return_is_not_taken_from_another_thread(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, estimate_power_return_1=None))
    fill(sheet, LINES)
    assert [row[0] for row in sheet["quote_words"][:2]] == ["Back under power is yes or no."] * 2
    assert isinstance(sheet["quote_price"][2][0], float)  # the line that says so itself
    line = list(LINES[2])
    line[1] = "M20*"
    fill(sheet, (tuple(line),))
    assert sheet["quote_words"][0][0].startswith("M20* is not on the sheet Threads")


def test_a_line_that_is_the_part_of_the_job_has_its_price(sheet: Document) -> None:
    """The numbers of the line are others; the price is that of the sheets Estimate and Offer."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, part="stud"))
    line = ("stud", *LINES[0][1:])
    fill(sheet, (line, LINES[1]))
    assert sheet["quote_price"][0][0] == sheet["estimate_price"][0][0] == sheet["offer_prices"][0][0]
    assert sheet["quote_words"][0][0].startswith("The part of the sheet Job: priced there on Estimate")
    assert sheet["quote_words"][1][0].startswith("class medium bolt")
    sheet.set({"drawing": "D-7"})
    for named in (" Stud", "STUD ", "d-7"):  # the heading asks for part or drawing number
        fill(sheet, ((named, *line[1:]), LINES[1]))
        assert sheet["quote_price"][0][0] == sheet["estimate_price"][0][0]
        assert sheet["quote_words"][0][0].startswith("The part of the sheet Job: priced there on Estimate")
    asked = ("stud", *LINES[0][1:5])
    # the line asks for nothing that it does not use
    fill(sheet, ((*asked, *[None] * (len(line) - len(asked))), LINES[2]))
    assert sheet["quote_price"][0][0] == sheet["estimate_price"][0][0]
    fill(sheet, ((*asked[:4], None, *[None] * (len(line) - len(asked))), LINES[2]))
    assert sheet["quote_words"][0][0] == "Fill in Pieces."
    fill(sheet, ((*asked[:4], "25 pcs", *[None] * (len(line) - len(asked))), LINES[2]))
    assert sheet["quote_words"][0][0].startswith('Pieces: "25 pcs" is no number')
    fill(sheet, ((*asked, None, "x", *[None] * (len(line) - len(asked) - 2)), LINES[2]))  # what is typed is looked at
    assert sheet["quote_words"][0][0].startswith('Passes: "x" is no number')
    sheet.set({"drawing": None})
    fill(sheet, (("", *line[1:]), LINES[1]))
    assert sheet["quote_words"][0][0].startswith("class 2A as written")
    for place, value, sentence in (
        (4, 26, "This is the part of the sheet Job: type this quantity on the sheet Estimate"),
        (1, "1/2-12 BSW", "No class 2A of this size"),
        (2, "3A", "This is the part of the sheet Job, with another size or class"),
    ):
        other = list(line)
        other[place] = value
        fill(sheet, (tuple(other),))
        assert sheet["quote_words"][0][0].startswith(sentence)
        assert sheet["quote_price"][0] == [""]
    fill(sheet, (line,))
    sheet.set({"estimate_bar_size": 0.3})
    assert sheet["quote_words"][0][0].endswith("Estimate says: The bar is too small for the part.")
    assert sheet["quote_price"][0] == [""]
    sheet.set({"part": None})
