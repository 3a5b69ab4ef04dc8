"""One job has one price on Estimate, Offer and Quote; what can't be is refused, in a real spreadsheet program."""

from __future__ import annotations

import random
from decimal import Decimal
from fractions import Fraction

import price_by_hand
import pytest
from test_estimate_sheet import job
from test_quote_sheet import down, quoted

from sheetfuncs import evaluate
from workbook_template.office import Document


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


NO_BAR = dict.fromkeys(
    ("bar_shape", "bar_size", "bar_length", "bar_price", "facing", "part_off", "stub"),
)
SUPPLIED = {
    12: {"material_by": "supplied"},
    13: {"material_by": "supplied", "bar_price": None},
    14: {"material_by": "supplied", **NO_BAR},
    15: {"material_by": "supplied", **NO_BAR, "bar_price": Decimal(38), "stub": Decimal(3)},
}
"""Random jobs whose bars or blanks the customer supplies, by their seed."""


@pytest.mark.parametrize("seed", range(12 + len(SUPPLIED)))
def test_one_job_has_one_price_on_every_sheet(sheet: Document, seed: int) -> None:
    """Random jobs by a second program that counts pieces, checks and bars one by one."""
    draw = random.Random(seed)
    callout = draw.choice(list(price_by_hand.THREADS))
    given = price_by_hand.drawn(draw) | SUPPLIED.get(seed, {})
    pitch, part = price_by_hand.THREADS[callout], "stud 1"
    size, _, name = callout.rpartition("-")
    quantities = [given[f"quantity_{n}"] for n in range(1, 6)]
    rows = [[part, size, name, quantity, 1, 1, 1, "no", 0, 0, 0, 0] for quantity in quantities]
    sheet.set(job(callout, "in", part=part) | price_by_hand.typed(given) | quoted(rows))
    wanted = [price_by_hand.worked(pitch, given, quantity) for quantity in quantities]
    assert sheet["estimate_fault_1"] == ""
    for line in ("make", "checks", "bars", "minutes", "cost"):
        found = [float(getattr(one, line)) for one in wanted]
        assert sheet[f"estimate_{line}"][0] == pytest.approx(found, rel=1e-9), line
    each, prices = ([float(getattr(one, of)) for one in wanted] for of in ("each", "price"))
    assert sheet["estimate_unit_price"][0] == down(sheet, "offer_unit_prices") == pytest.approx(each, abs=1e-9)
    assert sheet["estimate_price"][0] == down(sheet, "offer_prices") == pytest.approx(prices, abs=1e-9)
    assert [row[0] for row in sheet["quote_price"][:5]] == pytest.approx(prices, abs=1e-9)
    assert [row[0] for row in sheet["quote_unit_price"][:5]] == pytest.approx(each, abs=1e-9)
    _added_alone(sheet, given, [one.price for one in wanted], quantities)
    by = "unit_price_by_length" if given["material_by"] == "length used" else "unit_price_by_bars"
    assert sheet[f"estimate_{by}"][0] == pytest.approx(each, abs=1e-9)
    # the same line under another name, typed out: its material is by the length used
    if given["every"] or given["coating"] or seed in SUPPLIED:
        return
    material = given["bar_price"] / Decimal(sheet["estimate_per_bar"]) + given["outside"]
    checks = Fraction(wanted[0].checks, wanted[0].make)
    other = Fraction(given["turning_1"] + given["handling_1"]) + Fraction(given["check_minutes"]) * checks
    run = (given[one] for one in ("length", "passes_1", "rpm_1", "power_return_1"))
    numbers = [*run, other, given["setup_minutes_1"], material, given["tooling"] + given["gauges"]]
    line = [float(one) if isinstance(one, Decimal | Fraction) else one for one in numbers]
    sheet.set(quoted([["another", size, callout.rpartition("-")[2], quantities[0], *line]]))
    by_length = price_by_hand.worked(pitch, given | {"material_by": "length used"}, quantities[0])
    assert sheet["quote_price"][0][0] == pytest.approx(float(by_length.price), abs=1e-9)


def _added_alone(sheet: Document, given: dict, prices: list[Decimal], quantities: list[int]) -> None:
    """A minimum order is a line of its own on Quote and Offer, in no price, and adds up to the printed digit."""
    total, least = sum(prices), given["minimum_order"]
    added = price_by_hand.lacking(total, given)
    shown = sheet.shown([f"quote_{name}" for name in ("total", "minimum_order", "added", "order")])
    assert Decimal(shown[0]) == total
    assert shown[1:3] == (["", "–"] if least is None else [f"{least:.2f}", f"{added:.2f}"])
    assert Decimal(shown[3]) == total + added
    lack = [price_by_hand.lacking(price, given) for price in prices]
    for name, wanted in (("added", lack), ("orders", [price + one for price, one in zip(prices, lack)])):
        found = [text for (text,) in sheet.shown([f"offer_{name}"])[0]]
        assert found == ([f"{one:.2f}" for one in wanted] if any(lack) else [""] * 5)


def test_the_time_allowance_is_on_the_run_and_not_on_the_set_up(sheet: Document) -> None:
    """By hand: 40 minutes set up; 10 pieces of 5 minutes are 50, with 20 % 60; at 60 an hour 90 and 100."""
    bare = dict.fromkeys(
        (
            "facing",
            "tooling",
            "gauges",
            "outside",
            "overhead",
            "profit",
            "scrap",
            "bar_price",
            "handling_1",
            "check_minutes",
        ),
        0,
    )
    given = bare | {
        "setup_minutes_1": 40,
        "turning_1": 5,
        "return_seconds_1": 0,
        "rate": 60,
        "quantity_1": 10,
        "rest": 0,
    }
    sheet.set(
        job("3/4-16 UNF-2A", "in", estimate_length=1.25) | {f"estimate_{name}": one for name, one in given.items()}
    )
    thread = 10 * sheet["estimate_thread_minutes_1"]
    assert sheet["estimate_minutes"][0][0] == pytest.approx(90 + thread)
    sheet.set({"estimate_rest": 0.2})
    assert sheet["estimate_minutes"][0][0] == pytest.approx(100 + 1.2 * thread)
    sheet.set({"estimate_rest": None})
    assert sheet["estimate_next"] == "Next: enter rest and delay, on run time."
    assert sheet["estimate_price"] == [[""] * 5]


@pytest.mark.parametrize(
    ("callout", "changes", "sentence"),
    [
        ("5/8-18 UNF-2A", {"bar_size": 0.3}, "The bar is too small for the part."),
        ("5/8-18 UNF-2A", {"bar_size": 0.3, "part_size": 0.3},
         "The part is smaller than its thread: its major diameter is 0.6149 at least."),
        ("3/4-16 UNF-2B", {"part_size": 0.75}, "The part is no larger than the thread inside it, 0.7500."),
        ("3/4-16 UNF-2A", {"part_length": 1.2}, "The part is shorter than its thread."),
        ("3/4-16 UNF-2A", {"every": 10}, "Share gauged, and the first and every nth piece: they exclude each other"),
        ("3/4-16 UNF-2A", {"gauged": None}, "Next: enter the share gauged, or the first and every nth piece."),
        ("3/4-16 UNF-2A", {"every": 2.5, "gauged": None}, "Or the first and every nth: type a whole number"),
        ("3/4-16 UNF-2A", {"material_by": "kilogram"}, "Material is charged by: choose whole bars, length used or"),
        ("3/4-16 UNF-2A", {"rest": 15}, "Rest and delay, on run time: type a share such as 5%"),
    ],
)  # fmt: skip
def test_a_part_that_can_not_be_is_refused(sheet: Document, callout: str, changes: dict, sentence: str) -> None:
    """5/8-18 UNF-2A has a major diameter of .6149 at least by ASME B1.1."""
    sheet.set(job(callout, "in", estimate_length=1.25) | {f"estimate_{name}": one for name, one in changes.items()})
    assert sheet["estimate_next"].startswith(sentence)
    assert sheet["estimate_price"] == [[""] * 5]


def test_a_hexagon_bar_says_what_its_corners_do(sheet: Document) -> None:
    bar = {"estimate_bar_shape": "hexagon", "estimate_bar_size": 0.875}
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | bar)
    assert "An interrupted cut until the corners are off; no flat stays" in sheet["estimate_bar_words"]
    sheet.set({"estimate_part_shape": "hexagon", "estimate_part_size": 0.875})
    assert "and a shoulder at the hexagon has flats." in sheet["estimate_bar_words"]
    sheet.set({"estimate_part_shape": "round", "estimate_part_size": 0.95})
    assert "Flats of this one would stay in its shoulder." in sheet["estimate_bar_words"]
    assert sheet["estimate_next"] == "The bar is too small for the part."


def test_a_change_of_unit_reads_no_length_again(sheet: Document) -> None:
    """1.25 stays 1.25 inches: in millimetres nothing is priced until the lengths are typed anew."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, part="stud 1"))
    rows = [["other", "3/4-16 UNF", "2A", 25, 1.25, 12, 160, "no", 10, 45, 0.65, 12]]
    sheet.set(quoted(rows))
    prices, of_line = sheet["estimate_price"], sheet["quote_price"][0][0]
    sheet.set({"unit": "mm"})
    assert sheet["estimate_price"] == [[""] * 5]
    assert down(sheet, "offer_prices") == [""] * 5
    assert sheet["estimate_next"].startswith(
        "The lengths on Estimate were typed in inches, and the working unit is now mm"
    )
    assert sheet["quote_price"][0] == [""]
    assert sheet["quote_fault"].startswith("The lengths on Estimate were typed in")
    lengths = (
        "length",
        "approach_1",
        "overrun_1",
        "bar_size",
        "bar_length",
        "part_length",
        "facing",
        "part_off",
        "stub",
    )
    before = {f"estimate_{name}": sheet[f"estimate_{name}"] for name in lengths}
    sheet.set({name: value * 25.4 for name, value in before.items()} | {"estimate_unit": "mm"})
    assert sheet["estimate_price"][0] == pytest.approx(prices[0])
    assert sheet["quote_fault"].startswith("The thread lengths were typed in inches")
    assert sheet["quote_price"][0] == [""]
    sheet.set(quoted([[*rows[0][:4], 31.75, *rows[0][5:]]]) | {"quote_unit": "mm"})
    assert sheet["quote_price"][0][0] == pytest.approx(of_line)
    sheet.set({"unit": "in"})
    assert sheet["estimate_price"] == [[""] * 5]


def test_a_list_of_bars_in_another_unit_is_not_read(sheet: Document) -> None:
    """A bar of 32 by 3000 mm is none of 32 by 3000 inches; retyped, its prices are what they were."""
    sheet.set(
        job("M20x2.5-6g", "mm", **BASE)
        | {f"estimate_bar_{name}": None for name in ("shape", "size", "length", "price")}
    )
    bar = {"shape": "round", "size": 32, "length": 3000, "price": 20}
    sheet.set({f"rack_{name}": [[value], *[[None]] * 11] for name, value in bar.items()} | {"estimate_bar_line": 1})
    prices = sheet["estimate_price"][0]
    assert isinstance(prices[0], float)
    sheet.set({"unit": "in"})
    lengths = ("length", "approach_1", "overrun_1", "part_length", "facing", "part_off", "stub")
    sheet.set({f"estimate_{name}": BASE[f"estimate_{name}"] / 25.4 for name in lengths} | {"estimate_unit": "in"})
    told = "Bars was typed in millimetres, the working unit is now in; type its lengths anew, then choose in over them."
    assert sheet["estimate_next"] == sheet["rack_words"] == told
    assert sheet["estimate_price"] == [[""] * 5]
    assert sheet["rack_per_bar"][0] == [""]
    retyped = bar | {"size": 32 / 25.4, "length": 3000 / 25.4}
    sheet.set({f"rack_{name}": [[value], *[[None]] * 11] for name, value in retyped.items()} | {"rack_unit": "in"})
    assert sheet["estimate_price"][0] == pytest.approx(prices)
    assert sheet["rack_words"].startswith("Least cut away: line 1, round 1.2598.")
    sheet.set({f"rack_{name}": [[None]] * 12 for name in bar} | {"estimate_bar_line": None})


def test_what_the_paper_has_no_room_for_is_told(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    line = "All prices without value added tax; abroad it is due by the customer who names a valid number of his own."
    sheet.set({"offer_tax": line[:95]})
    assert "room" not in sheet["offer_next"]
    sheet.set({"offer_tax": line})
    assert sheet["offer_next"] == "Tax line has 105 signs, and the paper has room for 95: shorten it."
    sheet.set({"offer_tax": None, "offer_remarks": "word " * 60})
    assert sheet["offer_next"] == "Remarks has 300 signs, and the paper has room for 285: shorten it."
    sheet.set({"offer_remarks": None})


def test_a_price_that_rises_with_the_quantity_is_explained(sheet: Document) -> None:
    """50 of 53 to make come out of one bar of 61; 60 of 64 begin a second."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    each = down(sheet, "offer_unit_prices")
    assert each[2] > each[1]
    assert sheet["offer_rise_words"] == (
        "The price each is more than at a smaller quantity: "
        "60 pieces take 2 whole bars, the last for 3 pieces. Spare pieces are made with those ordered."
    )
    sheet.set({"estimate_scrap": 0, "estimate_quantity_3": 64})
    assert sheet["offer_rise_words"] == (
        "The price each is more than at a smaller quantity: 64 pieces take 2 whole bars, the last for 3 pieces."
    )
    sheet.set({"estimate_scrap": 0.05, "estimate_quantity_3": 60})
    sheet.set({"estimate_material_by": "length used"})
    each = down(sheet, "offer_unit_prices")
    assert each == sorted(each, reverse=True)
    assert sheet["offer_rise_words"] == ""
    sheet.set(
        {"estimate_quantity_1": 19, "estimate_quantity_2": 20, "estimate_setup_minutes_1": 0, "estimate_tooling": 0}
    )
    assert "20 pieces take more spare pieces; 60 pieces" in sheet["offer_rise_words"]  # 22 to make, 20 for 19
    few = {"estimate_scrap": 0, "estimate_gauged": None, "estimate_every": 10, "estimate_check_minutes": 30}
    sheet.set(few)
    assert "20 pieces take more checks; " in sheet["offer_rise_words"]  # pieces 1, 10 and 20; 1 and 10 of 19
    sheet.set({"estimate_material_by": None, "estimate_quantity_1": 79, "estimate_quantity_2": 80})
    sheet.set({f"estimate_quantity_{n}": None for n in (3, 4, 5)})
    assert "80 pieces take more checks" in sheet["offer_rise_words"]  # both take two bars of 61


BASE = {
    f"estimate_{name}": value
    for name, value in {
        "length": 45, "rpm_1": 160, "passes_1": 16, "approach_1": 5, "overrun_1": 3, "return_seconds_1": 6,
        "power_return_1": "no", "setup_minutes_1": 50, "turning_1": 7.5, "handling_1": 1.5, "check_minutes": 2,
        "gauged": 0.2, "rest": 0.12, "bar_size": 22, "bar_length": 1000, "bar_price": 14.80, "part_length": 80,
        "facing": 2, "part_off": 3, "stub": 60, "rate": 48, "scrap": 0.04, "overhead": 0.35, "profit_kind": "margin",
        "profit": 0.18, "tooling": 12.50, "gauges": 0, "outside": 0, "quantity_1": 25, "quantity_2": 1,
        "quantity_3": 10, "quantity_4": 50, "quantity_5": 100,
    }.items()
}  # fmt: skip
"""An estimator's job in millimetres: 3.72 minutes of threading a piece, 11 pieces a bar."""
OTHER_LATHE = {
    f"estimate_{name}_2": BASE[f"estimate_{name}_1"]
    for name in ("rpm", "passes", "approach", "overrun", "return_seconds", "power_return", "turning", "handling")
}
"""The second lathe takes as long, but for its set-up."""


def test_a_share_gauges_whole_pieces(sheet: Document) -> None:
    """By hand: of 27, 2, 11, 53 and 105 made a fifth is 5.4, 0.4, 2.2, 10.6 and 21: 6, 1, 3, 11 and 21 are gauged.

    Of 25: 27 x 12.72 + 6 x 2 minutes are 355.44, with 12 % and 50 minutes 448.0928; at 48 an hour with 35 % 483.940224;
    three bars and 12.50 make it 540.840224, that is 659.56 at a margin of 18 %, 26.38 each.
    """
    sheet.set(job("M20x2.5-6g", "mm", **BASE))
    assert sheet["estimate_checks"] == [[6, 1, 3, 11, 21]]
    assert sheet["estimate_price"][0] == pytest.approx([659.50, 139.62, 314.40, 1198.50, 2294.00])
    assert "minutes a piece, 11 pieces a bar." in sheet["estimate_next"]
    sheet.set({"estimate_gauged": 0})
    assert sheet["estimate_checks"] == [[0] * 5]


def test_no_line_is_sold_under_the_minimum_charge(sheet: Document) -> None:
    """The job above with 3 pieces in the place of 10, at a minimum charge of 352: 1 piece for 352, 3 for 117.34 each.

    By hand: 3 at 117.33 are 351.99, which is under it, at 117.34 they are 352.02. 25, 50 and 100 cost more and stay.
    """
    rows = [["spindle", "M20x2.5", "6g", 3, 45, 16, 160, "no", 9, 50, 1, 2],
            ["other", "M20x2.5", "6g", 3, 45, 16, 160, "no", 9, 50, 1, 2],
            ["other", "M20x2.5", "6g", 50, 45, 16, 160, "no", 9, 50, 1, 2]]  # fmt: skip
    given = job("M20x2.5-6g", "mm", **BASE, part="spindle") | {"estimate_quantity_3": 3}
    sheet.set(given | quoted(rows))
    free = sheet["quote_price"]
    assert sheet["estimate_at_minimum"] == sheet["offer_rise_words"] == ""
    assert "minimum charge" not in sheet["quote_words"][1][0] + sheet["estimate_next"]
    sheet.set({"estimate_minimum_charge": 352})
    assert sheet["estimate_price"][0] == pytest.approx([659.50, 352, 352.02, 1198.50, 2294.00])
    assert sheet["estimate_unit_price"][0] == pytest.approx([26.38, 352, 117.34, 23.97, 22.94])
    assert down(sheet, "offer_prices") == sheet["estimate_price"][0]
    assert (
        sheet["estimate_unit_price_by_bars"][0][1:3] == sheet["estimate_unit_price_by_length"][0][1:3] == [352, 117.34]
    )
    assert [row[0] for row in sheet["quote_price"][:3]] == pytest.approx([352.02, 352.02, free[2][0]])
    assert free[2][0] > 352 > free[1][0]
    assert " At the minimum charge: 1, 3." in sheet["estimate_next"]
    assert sheet["offer_rise_words"] == "For a quantity of 1, 3 the price is the minimum charge. "
    told = [row[0].endswith(" The price is the minimum charge.") for row in sheet["quote_words"][:3]]
    assert told == [True, True, False]
    sheet.set({"estimate_quantity_1": 1, "estimate_setup_minutes_2": 60, **OTHER_LATHE})
    # 10 minutes more to set up at 48 an hour, with 35 % overhead: 8.00 and 2.80
    assert sheet["lathes_words"].startswith("Both come to the same price; at it lathe 1 costs the shop 10.80 less.")
    # what is charged is what the function asks, each rounded up where the minimum charge is what it asks
    asked = evaluate("THREAD_PRICE", "1 3 25", 50, 7.5 + sheet["estimate_thread_minutes_1"], 1.5, 48, 14.80, 11, 0.04,
                     0.35, 0.18, None, 12.50, 0, 0, None, 0.12, 2, None, 0.2, 352)[1:]  # fmt: skip
    assert [row[-2] for row in asked] == pytest.approx([352, 352, 659.56], abs=0.005)
    assert [row[-1] for row in asked] == pytest.approx([352, 117.3333, 26.38], abs=0.005)
    sheet.set({"estimate_minimum_charge": "352.-"})
    assert sheet["quote_fault"].startswith('Sheet Estimate: Minimum charge: "352.-" is no number')
    assert sheet["quote_price"][0] == sheet["quote_price"][1] == [""]


def test_a_small_order_is_charged_the_minimum_order(sheet: Document) -> None:
    """The job above, by hand: 139.62 for 1 piece and 314.40 for 10 are 360.38 and 185.60 under 500.

    Two lines of the quote are 659.50 and 139.62, together 799.12, which is 200.88 under 1000.
    """
    rows = [["spindle", "M20x2.5", "6g", count, *[None] * 8] for count in (25, 1)]
    sheet.set(job("M20x2.5-6g", "mm", **BASE, part="spindle") | quoted(rows))
    told = ["quote_total", "quote_minimum_order", "quote_added", "quote_order"]
    assert sheet.shown(told) == ["799.12", "", "–", "799.12"]
    assert down(sheet, "offer_added") == down(sheet, "offer_orders") == [""] * 5
    sheet.set({"quote_minimum_order": 500})
    assert sheet.shown(told) == ["799.12", "500.00", "0.00", "799.12"]
    assert down(sheet, "offer_added") == pytest.approx([0, 360.38, 185.60, 0, 0], abs=1e-9)
    assert down(sheet, "offer_orders") == pytest.approx([659.50, 500, 500, 1198.50, 2294.00], abs=1e-9)
    assert sheet["estimate_price"][0] == pytest.approx([659.50, 139.62, 314.40, 1198.50, 2294.00])  # in no price
    assert down(sheet, "offer_prices") == sheet["estimate_price"][0]
    assert sheet["offer_added_head"] == "Added to reach 500.00"
    sheet.set({"quote_minimum_order": 139})  # no order offered falls short of it, so the customer reads nothing of it
    assert (sheet["offer_added_head"], down(sheet, "offer_added")) == ("", [""] * 5)
    sheet.set({"quote_minimum_order": 1000})
    assert sheet.shown(told) == ["799.12", "1000.00", "200.88", "1000.00"]
    assert sheet["quote_step"].startswith("2 lines priced, together 799.12, ")
    assert " To reach the minimum order 200.88 is added: 1000.00 in all." in sheet["quote_step"]
    sheet.set({"estimate_minimum_charge": 352})  # a line's least price comes first
    assert sheet.shown(told) == ["1011.50", "1000.00", "0.00", "1011.50"]
    sheet.set({"quote_minimum_order": "1000.-"})
    assert sheet["quote_fault"].startswith('Minimum order: "1000.-" is no number')
    assert [sheet[f"quote_{name}"] for name in ("total", "added", "order")] == ["–"] * 3
    assert down(sheet, "offer_added") == [""] * 5
    sheet.set({"quote_minimum_order": None})


def test_what_may_be_a_slip_is_told(sheet: Document) -> None:
    """1/2 becomes a day, as 46054 is one, which a charge can be; 10 twice is one quantity too many."""
    sheet.set(job("M20x2.5-6g", "mm", **BASE))
    for name, value, said in (
        ("minimum_charge", 46054, "minimum charge, 46054, is the number of a day, as 1/2 makes it; type it anew."),
        ("quantity_4", 10, "quantity 10 is typed twice; empty one of them."),
    ):
        before = sheet[f"estimate_{name}"]
        sheet.set({f"estimate_{name}": value})
        assert sheet["estimate_next"] == f"All is filled in for lathe 1, but look: {said}"
        assert sheet["offer_next"] == f"Sheet Estimate: {said}"
        assert isinstance(sheet["estimate_price"][0][4], float)  # it can be: nothing is refused
        sheet.set({f"estimate_{name}": before or None})
        assert sheet["estimate_doubt"] == ""


def test_supplied_material_is_not_charged_and_the_offer_says_what_to_send(sheet: Document) -> None:
    """By hand, the job above of 25 pieces: 540.840224 less three bars of 14.80 are 496.440224, at 18 % 605.41."""
    sheet.set(job("M20x2.5-6g", "mm", **BASE, part="spindle") | {"estimate_material_by": "supplied", "material": "C45"})
    assert sheet["estimate_price"][0][0] == pytest.approx(605.50)  # 24.22 each
    assert sheet["estimate_material"] == [[0] * 5]
    assert sheet["estimate_bar_words"].endswith(" Supplied by the customer: not charged.")
    assert "11 pieces a bar." in sheet["estimate_next"]
    assert [row[0] for row in sheet["offer_stated"]][6] == "C45, supplied by the customer"
    assert sheet["offer_rise_words"] == (
        "The customer supplies 3 bars for 25 pieces, 1 bar for 1 piece, 1 bar for 10 pieces, 5 bars for 50 pieces, "
        "10 bars for 100 pieces. "
    )
    sheet.set({f"estimate_{name}": None for name in NO_BAR} | {"material": None})
    assert sheet["estimate_fault_1"] == sheet["estimate_fault_2"] == ""
    assert sheet["estimate_price"][0][0] == pytest.approx(605.50)
    assert [sheet["estimate_per_bar"], sheet["estimate_bars"]] == [1, sheet["estimate_make"]]
    assert "minutes a piece, blanks supplied." in sheet["estimate_next"]
    assert sheet["estimate_bar_words"] == "The customer supplies blanks, one a piece made: no material is charged."
    assert [row[0] for row in sheet["offer_stated"]][6] == "supplied by the customer"
    assert sheet["offer_rise_words"].startswith("The customer supplies 27 blanks for 25 pieces, 2 blanks for 1 piece, ")
    assert sheet["estimate_cliff_words"] == sheet["estimate_support_words"] == ""
    sheet.set({"estimate_bar_length": 1000})  # a bar that is begun is asked for whole
    assert sheet["estimate_next"] == "Next, bar: choose round or hexagon."
    sheet.set({"estimate_bar_length": None, "estimate_bar_line": 3})
    assert sheet["estimate_next"] == "Line 3 of the list of bars is empty."
    sheet.set({"estimate_bar_line": None, "estimate_stub": -1})
    assert sheet["estimate_next"].startswith("Bar stub: type a length, 0 or more")
    sheet.set({"estimate_stub": None, "estimate_material_by": None})
    assert sheet["estimate_next"].startswith("Next, bar: choose round or hexagon.")


def test_one_piece_of_a_bar_and_a_price_of_nothing_are_told(sheet: Document) -> None:
    sheet.set(job("M20x2.5-6g", "mm", **BASE, part="spindle") | {"estimate_bar_length": 150})
    assert "minutes a piece, 1 piece a bar." in sheet["estimate_next"]
    free = {f"estimate_{name}": 0 for name in ("rate", "bar_price", "tooling")}
    rows = [["spindle", "M20x2.5", "6g", 25, 45, 16, 160, "no", 10, 50, 1, 2]]
    sheet.set(free | quoted(rows))
    assert sheet["estimate_price"] == [[0] * 5]
    assert " A price each is 0.00: look over rate, minutes, material and margin" in sheet["estimate_next"]
    assert sheet["quote_words"][0][0].startswith("The price is 0.00: ")


def test_no_bar_is_saved_where_the_length_used_is_charged(sheet: Document) -> None:
    """27 pieces at 11 a bar of 14.80: three bars are 44.40, the length used is 36.33."""
    listed = {f"rack_{name}": [[value], *[[None]] * 11] for name, value in
              (("shape", "round"), ("size", 22), ("length", 1000), ("price", 14.80))}  # fmt: skip
    sheet.set(job("M20x2.5-6g", "mm", **BASE) | listed | {"estimate_quantity_3": 11})  # 12 to make, 1 on the second bar
    assert "11 (1 of 11)" in sheet["estimate_cliff_words"]
    assert "Least money for the first quantity: line 1, round 22.000, 44.40." in sheet["rack_words"]
    sheet.set({"estimate_material_by": "length used"})
    assert sheet["estimate_cliff_words"] == ""
    assert "Least money for the first quantity: line 1, round 22.000, 36.33." in sheet["rack_words"]
    sheet.set({f"rack_{name}": [[None]] * 12 for name in ("shape", "size", "length", "price")})
