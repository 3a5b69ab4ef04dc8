"""The sheet Costing in a real spreadsheet program: causes of a change by the functions and by hand."""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise
from typing import Any

import price_by_hand
import pytest
from test_estimate_sheet import KEPT, job

from sheetfuncs import evaluate
from workbook_template.office import Document
from workbook_template.sheets import revision


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


CAUSES = {
    "scrap": ("scrap",),
    "setup_minutes": ("setup_minutes_1",),
    "machine_minutes": (
        *("turning_1", "length", "rpm_1", "passes_1", "approach_1", "overrun_1", "return_seconds_1", "power_return_1"),
    ),
    "hand_minutes": ("handling_1",),
    "check_minutes": ("check_minutes",),
    "gauged": ("gauged",),
    "every": ("every",),
    "rest": ("rest",),
    "rate": ("rate",),
    "bar_price": ("bar_price",),
    "per_bar": ("bar_length", "part_length"),
    "overhead": ("overhead",),
    "tools": ("tooling", "gauges"),
    "outside": ("outside", "coating"),
    "profit": ("profit",),
}
"""Cause of a change, in the order of the sheet Costing -> the inputs that make it."""


def test_causes_of_a_change_sum_to_it(sheet: Document) -> None:
    """Every input of the earlier revision changed at random: its prices by THREAD_PRICE, the sums exactly."""
    draw = random.Random(11)
    given = job("3/4-16 UNF-2A", "in", estimate_length=1.25, estimate_every=10, estimate_gauged=None)
    for _ in range(5):
        before = {
            **{f"quantity_{n}": draw.randint(10, 90) for n in range(1, 6)},
            "scrap": draw.uniform(0, 0.2), "setup_minutes": draw.uniform(20, 90),
            "machine_minutes": draw.uniform(4, 15), "hand_minutes": draw.uniform(1, 6),
            "check_minutes": draw.uniform(0, 3), "gauged": 0,
            "every": draw.randint(1, 30), "rest": draw.uniform(0, 0.2), "rate": draw.uniform(30, 90),
            "bar_price": draw.uniform(10, 60), "per_bar": draw.randint(20, 70), "overhead": draw.uniform(0, 1),
            "tools": draw.uniform(0, 50), "outside": draw.uniform(0, 2), "profit": draw.uniform(0, 0.4),
        }  # fmt: skip
        sheet.set({**given, **{f"before_{name}": value for name, value in before.items()}})
        arguments = [
            before[n]
            for n in (
                "setup_minutes",
                "machine_minutes",
                "hand_minutes",
                "rate",
                "bar_price",
                "per_bar",
                "scrap",
                "overhead",
            )
        ]
        tail = [before[n] for n in ("profit", "tools", "outside", "rest", "check_minutes", "every")]
        now = sheet["estimate_price"][0]
        for n in range(1, 6):
            quantity = before[f"quantity_{n}"]
            each = evaluate(
                "THREAD_PRICE", quantity, *arguments, tail[0], None, tail[1], 0, tail[2], None, *tail[3:]
            )[1][-1]  # fmt: skip
            price = round(each + 1e-9, 2) * quantity
            assert sheet["revision_before"][0][n - 1] == pytest.approx(price, rel=1e-9)
            assert sheet["revision_change"][0][n - 1] == pytest.approx(now[n - 1] - price, abs=1e-6)
            changes = [row[0] for row in sheet[f"revision_changes_{n}"] if row[0] not in ("", None)]
            assert len(changes) == 1 + len(revision.CAUSES)  # its own quantity, then what all share
            assert sum(changes) == pytest.approx(now[n - 1] - price, abs=1e-6)


def test_a_revision_is_kept_by_one_block(sheet: Document) -> None:
    """The values of the column now, pasted as they are into the column before: then nothing has changed."""
    own = {"revision": "B", "as_of": 45300, "estimate_every": 10, "estimate_gauged": None, "estimate_quantity_5": None}
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | own)
    now = sheet["revision_now"]
    prices = sheet["estimate_price"][0]
    assert [row[0] for row in now[:2]] == ["B", 45300]
    assert [row[0] for row in now[-5:]] == prices
    sheet.set({f"before_{name}": value for name, (value,) in zip(KEPT, now)})
    assert sheet["revision_change"] == [[0, 0, 0, 0, ""]]
    assert sheet["revision_words"] == "Since revision B of 2024-01-09."
    sheet.set({"revision": "C", "estimate_rate": 66})
    changed = [new - old for new, old in zip(sheet["estimate_price"][0][:4], prices[:4])]
    assert sheet["revision_change"][0][:4] == pytest.approx(changed)
    by_rate = 1 + [one.name for one in revision.CAUSES].index("rate")
    for n in range(1, 5):
        causes = [row[0] for row in sheet[f"revision_changes_{n}"] if row[0] not in ("", None)]
        assert causes[by_rate] == pytest.approx(changed[n - 1])
    sheet.set({"estimate_profit_kind": "markup"})
    assert sheet["revision_words"].startswith("The price kept at quantity 1, ")
    assert sheet["revision_before"][0][:4] == prices[:4]  # what the customer got, not what comes out again
    now = sheet["estimate_price"][0][:4]
    assert sheet["revision_change"][0][:4] == pytest.approx([new - old for new, old in zip(now, prices)])
    sheet.set({"before_revision": None})
    sheet.set({"estimate_profit_kind": "margin"})
    assert sheet["revision_words"] == "What was kept has no name: type its revision into the column before."
    sheet.set(dict.fromkeys(("as_of", "revision")))


def test_actual_minutes_are_set_against_the_plan(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, actual_setup_minutes=50))
    assert sheet["actual_setup_minutes_more"] == pytest.approx(5)
    assert sheet["actual_minutes_more"] == ""
    sheet.set({"actual_handle_minutes": 70, "actual_gauge_minutes": 27, "actual_rest_minutes": 0})
    planned = sheet["estimate_minutes"][0][0]
    assert sheet["actual_minutes_more"] == pytest.approx(50 + 171 + 118 + 70 + 27 - planned)


MINUTES = ("setup", "turn", "thread", "handle", "gauge", "rest")


def test_what_the_job_took_is_told_in_words(sheet: Document) -> None:
    """Planned minutes typed back are the plan; 30 minutes less at 60 an hour are 30.00, overhead not counted."""
    none = {f"actual_{name}_minutes": None for name in MINUTES} | {"actual_made": None, "actual_good": None}
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, **none))
    assert sheet["costing_step"] == "Next: once the job is done, type the minutes that it took."
    planned = {f"actual_{name}_minutes": sheet[f"estimate_{name}_minutes"][0][0] for name in MINUTES}
    sheet.set(planned)
    assert sheet["costing_step"] == "It took the minutes that were planned."
    turning = planned["actual_turn_minutes"]
    for value, sentence in (
        (turning - 30, "It took 30.0 minutes less than planned, 30.00 at the rate an hour, overhead not counted."),
        ("0,5", 'Turn, minutes, as it was: "0,5" is no number; type a number, 0 or more'),
        (None, "Next: type turn, minutes, as it was; 0 for none."),
        (1 / 48, f"Turn, minutes, as it was: 0.02 against {turning:.1f} planned; type minutes as a number, 30 and not"),
        (50 / 24, f"Turn, minutes, as it was: 2.08 against {turning:.1f} planned; type minutes as a number"),
        (46054, f"Turn, minutes, as it was: 46054.00 against {turning:.1f} planned; type minutes as a number"),
    ):
        sheet.set({"actual_turn_minutes": value})
        assert sheet["costing_step"].startswith(sentence)
    sheet.set({"estimate_quantity_1": None})
    assert sheet["costing_step"] == "Type quantity 1 on the sheet Estimate: the minutes planned here are for it."


def test_what_a_good_piece_took(sheet: Document) -> None:
    """By hand: 436 minutes for 20 good of 25 are 21.8 each and 20 % scrap; at 30 an hour half of the difference."""
    took = dict(zip(MINUTES, (50, 171, 118, 70, 27, 0)))
    given = job("3/4-16 UNF-2A", "in", estimate_length=1.25, estimate_rate=30, estimate_rest=0)
    sheet.set(given | {f"actual_{name}_minutes": value for name, value in took.items()})
    sheet.set({"actual_made": 25, "actual_good": 20})
    assert sheet["actual_scrap"] == pytest.approx(0.2)
    assert sheet["actual_minutes_each"] == pytest.approx(21.8)
    each = 45 / 25 + 27 / 25 * (6.5 + 2.5 + 1 + sheet["estimate_thread_minutes_1"])  # 27 made for 25 at 5 %
    assert sheet["planned_minutes_each"] == pytest.approx(each)
    assert sheet["actual_each_more"] == pytest.approx(21.8 - each)
    assert sheet["actual_each_money"] == pytest.approx((21.8 - each) / 2)
    assert sheet["costing_step"].endswith(" Scrap 20.0 %, 5.0 % planned; 5 short.")
    figures = ("actual_scrap", "actual_minutes_each", "actual_each_more", "actual_each_money")
    for made, good, sentence in (
        (25, 26, "Pieces good: 26 of 25 made can't be; correct one."),
        (25, None, "Next: type both, pieces made and pieces good; or neither."),
        (None, 20, "Next: type both, pieces made and pieces good; or neither."),
        ("25 pcs", 20, 'Pieces made: "25 pcs" is no number; type a whole number from 1 to 40000.'),
        (25, 19.5, "Pieces good: type a whole number from 0 to 40000."),
        (0, 0, "Pieces made: type a whole number from 1 to 40000."),
    ):
        sheet.set({"actual_made": made, "actual_good": good})
        assert sheet["costing_step"] == sentence
        assert sheet.get(list(figures)) == [""] * 4
    sheet.set({"actual_made": 25, "actual_good": 0})
    assert sheet.get(list(figures)) == [1, "", "", ""]
    assert " Scrap 100.0 %, 5.0 % planned; 25 short." in sheet["costing_step"]
    sheet.set({"actual_made": 30, "actual_good": 25, "actual_rest_minutes": None})
    assert sheet.get(list(figures)) == [pytest.approx(1 / 6), "", "", ""]
    sheet.set({"actual_rest_minutes": 0})
    assert sheet["costing_step"].endswith(" Scrap 16.7 %, 5.0 % planned.")


def test_text_in_the_revision_before_prices_nothing(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, before_revision="B", before_rate="50 an hour"))
    assert sheet["revision_change"] == [[""] * 5]
    sheet.set({"before_rate": None, "estimate_quantity_1": None})
    assert sheet["revision_before"][0][0] == ""
    assert isinstance(sheet["revision_before"][0][1], float)


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("rate", "60,5", "Rate an hour, before: type a number, 0 or more"),
        ("rate", " ", "Rate an hour, before: type a number, 0 or more"),
        ("scrap", 1, "Scrap, before: type a share such as 5%, less than 100%"),
        ("per_bar", 0, "Pieces a bar, before: type a whole number, 1 or more"),
        ("quantity_2", 0, "Quantity 2, before: type a whole number from 1 to 20000."),
        ("gauged", 100, "Share gauged, before: type a share from 0% to 100%."),
        ("every", 2.5, "First and every nth; 0: by share, before: type a whole number"),
        ("profit", 1.2, "Margin or markup, before: a margin is a share of the price, less than 100 %."),
        ("price_3", "763,75", "Price at quantity 3, before: type a number, 0 or more"),
    ],
)
def test_what_was_kept_and_can_not_be_is_named(sheet: Document, name: str, value: object, sentence: str) -> None:
    """Each alone makes the price before no number, or one that is less than its cost."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, before_revision="B"))
    assert (sheet["revision_words"], sheet["revision_change"]) == ("Since revision B.", [[0] * 5])
    sheet.set({f"before_{name}": value})
    assert sheet["revision_words"].startswith(sentence)
    assert sheet["revision_words"].endswith(" No change is worked until then.")
    assert sheet["revision_change"] == [[""] * 5]
    sheet.set({f"before_{name}": None, "before_revision": None})
    assert sheet["revision_words"] == "No revision is kept."


@pytest.mark.parametrize("kept", ["9 January", " ", 20240109, "#N/A"])
def test_a_day_that_was_kept_and_is_none_is_told(sheet: Document, kept: object) -> None:
    """It is not left out in silence; the changes in money do not hang on it."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, before_revision="B", before_day=kept))
    assert sheet["revision_words"] == "Since revision B. Its day is no day between 1990 and 2099."
    assert sheet["revision_change"] == [[0] * 5]
    sheet.set({"before_day": None, "before_revision": None})


def kept(pitch: Fraction, given: dict[str, Any]) -> dict[str, float | None]:
    """What the sheet Costing keeps of a job."""
    found = {name: sum(Fraction(given[one] or 0) for one in inputs) for name, inputs in CAUSES.items()
             if name not in ("machine_minutes", "per_bar")}  # fmt: skip
    found["machine_minutes"] = Fraction(given["turning_1"]) + price_by_hand.thread_minutes(pitch, given)
    found["per_bar"] = price_by_hand.pieces_of_a_bar(given)
    found |= {f"quantity_{n}": given[f"quantity_{n}"] for n in range(1, 6)}
    return {f"before_{name}": float(value) for name, value in found.items()}


@pytest.mark.parametrize("material_by", ["whole bars", "length used"])
@pytest.mark.parametrize("seed", range(3))
def test_every_cause_of_a_change_is_that_by_hand(sheet: Document, material_by: str, seed: int) -> None:
    """Two random jobs: from one to the other a cause at a time, the whole job priced by hand at each step."""
    draw = random.Random(seed)
    callout = draw.choice(list(price_by_hand.THREADS))
    pitch, own = price_by_hand.THREADS[callout], {"material_by": material_by, "profit_kind": "margin"}
    before, now = (price_by_hand.drawn(draw) | own for _ in range(2))
    before["minimum_charge"] = now["minimum_charge"]  # as now, as the sheet says
    sheet.set(job(callout, "in") | price_by_hand.typed(now) | kept(pitch, before))
    assert sheet["estimate_fault_1"] == sheet["revision_fault"] == ""
    for n in range(1, 6):
        then, quantity = dict(before), now[f"quantity_{n}"]
        prices = [price_by_hand.worked(pitch, then, one).price for one in (before[f"quantity_{n}"], quantity)]
        for inputs in CAUSES.values():
            then |= {name: now[name] for name in inputs}
            prices.append(price_by_hand.worked(pitch, then, quantity).price)
        causes = [row[0] for row in sheet[f"revision_changes_{n}"] if row[0] not in ("", None)]
        assert causes == pytest.approx([float(new - old) for old, new in pairwise(prices)], abs=1e-6)
        assert sheet["revision_before"][0][n - 1] == pytest.approx(float(prices[0]), abs=1e-6)
        assert sheet["revision_change"][0][n - 1] == pytest.approx(float(prices[-1] - prices[0]), abs=1e-6)
        assert sum(causes) == pytest.approx(sheet["estimate_price"][0][n - 1] - float(prices[0]), abs=1e-6)


@pytest.mark.parametrize(("kept_by", "now_by"), [("whole bars", "length used"), ("length used", "whole bars")])
def test_a_revision_kept_at_another_charging_is_told(sheet: Document, kept_by: str, now_by: str) -> None:
    """Nothing has changed while the charging is the same; then the prices by hand at both are told."""
    given = price_by_hand.drawn(random.Random(4))
    callout, pitch = "3/4-16 UNF-2A", price_by_hand.THREADS["3/4-16 UNF-2A"]
    sheet.set(
        job(callout, "in")
        | price_by_hand.typed(given)
        | {"revision": "B", "as_of": 45300, "estimate_material_by": kept_by}
    )
    sheet.set({f"before_{name}": value for name, (value,) in zip(KEPT, sheet["revision_now"])})
    assert sheet["revision_change"] == [[0] * 5]
    assert sheet["revision_words"] == "Since revision B of 2024-01-09."
    sheet.set({"estimate_material_by": now_by})
    old, new = (
        price_by_hand.worked(pitch, given | {"material_by": by}, given["quantity_1"]).price for by in (kept_by, now_by)
    )
    assert abs(new - old) > 1
    assert sheet["estimate_price"][0][0] == pytest.approx(float(new), abs=1e-9)
    assert sheet["revision_words"].startswith(
        f"The price kept at quantity 1, {old}, is not what is listed here gives, {new}: "
    )
    sheet.set(dict.fromkeys(("as_of", "revision")))
