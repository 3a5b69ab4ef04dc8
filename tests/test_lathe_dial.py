"""The thread dial on the sheet Lathe in a real spreadsheet program: the rule of the function, word for word."""

from __future__ import annotations

from typing import Any

import pytest
from lathe_cases import choice, choose

from sheetfuncs import lathe, leads, standards
from sheetfuncs.designations import Thread
from workbook_template.office import Document

THREADS = (
    *("2 1/2-4 UNC-2A", "2-4.5 UNC-2A", "1 3/4-5 UNC-2A", "1 1/2-6 UNC-2A", "1-8 UNC-2A", "5/8-11 UNC-2A"),
    *("1-11 1/2 NPT", "1/2-13 UNC-2A", "3/4-10 UNC-2A", "7/8-14 UNF-2A", "3/4-16 UNF-2A", "1/8-27 NPT"),
    *("3/4-16 UNF-2B", "1/4-28 UNF-2A", "G 1/4 A", "M16x2-6g", "M20x2.5-6g", "M8x1.25-6g", "M10x1.5-6g", "M6x1-6g"),
)
DIALS = (
    *(("8 tpi", 32, 8), ("4 tpi", 16, 8), ("6 tpi", 18, 9), ("5 tpi", 15, 10), ("8 tpi", 30, 12)),
    *(("3 mm", 20, 4), ("6 mm", 14, 7), ("6 mm", 15, 12)),
)


SHUT_OR_OPEN = ("keep the half-nuts shut", "close the half-nuts")
NO_GEARS = "; that is with exact gears, and none are given"


def by_function(work: Thread, screw: str, teeth: int, lines: int, error: float = 0.0) -> str:
    """What the function says, less the chuck that it can not know; the sheet has a line for it."""
    words = lathe.dial(work, leads.read_leadscrew(screw), teeth, lines, error)
    return words.removesuffix(f". {lathe.SCREWED_CHUCK}")


def screw_and_dial(number: int, screw: str, teeth: int, lines: int) -> dict[str, Any]:
    value, unit = screw.split()
    return {
        f"leadscrew_{number}": float(value), f"leadscrew_unit_{number}": unit, f"dial_a_{number}": teeth,
        f"dial_lines_{number}": lines,
    }  # fmt: skip


def test_the_dial_rule_is_that_of_the_function(lathes: Document) -> None:
    """Every lead on every dial, two dials at a time; one start and three. No gears are listed, so they are exact."""
    lathes.set({name: [[None]] * 60 for n in (1, 2) for name in (f"train_a_{n}", f"box_tpi_{n}", f"box_pitch_{n}")})
    compared, kinds = 0, set()
    for place, callout in enumerate(THREADS):
        for starts in (1,) if place % 3 else (1, 3):
            work = standards.read(callout)._replace(starts=starts)
            lathes.set({**choice(callout), "starts": starts})
            for pair in zip(DIALS[::2], DIALS[1::2]):
                lathes.set(screw_and_dial(1, *pair[0]) | screw_and_dial(2, *pair[1]))
                found = lathes.get(["lathe_dial_rule_1", "lathe_dial_rule_2", "lathe_half_nuts_1", "lathe_half_nuts_2"])
                for number, (screw, teeth, lines) in enumerate(pair):
                    words = by_function(work, screw, teeth, lines)
                    opens = words.startswith(SHUT_OR_OPEN[1])
                    assert found[number] == words + NO_GEARS * opens, (callout, starts, screw, teeth, lines)
                    assert bool(found[number + 2]) == opens, words
                    compared, kinds = compared + 1, kinds | {words[:64]}
    assert compared > 200
    assert len(kinds) >= 5


TRAINS = (
    ("1/2-13 UNC-2A", 1, "8 tpi", (20, 44, 50, 37)),  # -1843 ppm, the example of docs/lathe.md
    ("1/2-13 UNC-2A", 1, "8 tpi", (40, 65, None, None)),
    ("1/2-13 UNC-2A", 3, "8 tpi", (40, 65, 60, 20)),
    ("M5x0.8-6g", 1, "8 tpi", (63, 50, 20, 100)),
    ("M5x0.8-6g", 1, "8 tpi", (20, 80, None, None)),  # 32 threads an inch: -7812.5 ppm, yet four to each of the screw
    ("M5x0.8-6g", 1, "8 tpi", (32, 127, None, None)),
    ("M20x2.5-6g", 1, "8 tpi", (63, 80, None, None)),
    ("M20x2.5-6g", 1, "6 mm", (50, 120, None, None)),
    ("1-8 UNC-2A", 1, "6 mm", (127, 240, None, None)),
    ("1-8 UNC-2A", 2, "6 mm", (90, 85, None, None)),
    ("5/8-11 UNC-2A", 1, "8 tpi", (66, 91, None, None)),
    ("3/4-16 UNF-2A", 2, "4 tpi", (50, 101, None, None)),
)


@pytest.mark.parametrize(("callout", "starts", "screw", "gears"), TRAINS)
def test_the_dial_rule_goes_by_the_gears_in_use(
    lathes: Document, callout: str, starts: int, screw: str, gears: tuple[int | None, ...]
) -> None:
    """The lead that the gears really cut, by hand from their teeth; the words of the function with that error."""
    work = standards.read(callout)._replace(starts=starts)
    ratio = gears[0] / gears[1] * (gears[2] / gears[3] if gears[2] else 1)
    number, unit = screw.split()
    own = 25.4 if work.unit == "in" else 1.0
    error = ((25.4 / float(number) if unit == "tpi" else float(number)) * ratio / (work.lead * own) - 1) * 1e6
    assert abs(error) < lathe.ANOTHER_LEAD
    error = 0.0 if abs(error) < 1e-3 else error
    choose(lathes, callout, starts=starts, **dict(zip(("use_a_1", "use_b_1", "use_c_1", "use_d_1"), gears)))
    for teeth, lines in ((32, 8), (16, 8), (30, 12)):
        lathes.set(screw_and_dial(1, screw, teeth, lines))
        words, may_open, found = lathes.get(["lathe_dial_rule_1", "lathe_half_nuts_1", "lathe_lead_error_ppm_1"])
        assert found == pytest.approx(error, abs=1e-6)
        assert words == by_function(work, screw, teeth, lines, found)
        assert bool(may_open) == words.startswith(SHUT_OR_OPEN[1])


def test_gears_of_another_lead_have_no_dial_line(lathes: Document) -> None:
    choose(lathes, "1/2-13 UNC-2A", use_a_1=20, use_b_1=40)
    assert lathes["lathe_dial_rule"] == "these gears cut another lead: first set gears for this one"
    assert lathes["lathe_half_nuts"] == ""
    assert lathes["estimate_power_used_1"] == ""


def test_trial_cases_of_the_dial(lathes: Document) -> None:
    """11 1/2 threads per inch: on 4 tpi with 16 teeth and 8 lines, on 6 tpi with 18 teeth; metric on inch."""
    charts = ["train_a_1", "box_tpi_1"]  # what they list for this lead is not exact
    listed = dict(zip(charts, lathes.get(charts)))
    none = {name: [[None]] * len(rows) for name, rows in listed.items()}
    choose(lathes, "1-11 1/2 NPT", leadscrew_1=4, dial_a_1=16, dial_lines_1=8, **none)
    opposite, shut = lathes.get(["lathe_dial_rule_1", "lathe_dial_rule_2"])
    lathes.set(listed)
    assert "at the line you began on or the one opposite: half a turn is 23 threads" in opposite
    assert shut.startswith("keep the half-nuts shut and reverse under power: one turn of the dial is 34 1/2 threads")
    choose(lathes, "M20x2.5-6g")
    assert lathes["lathe_dial_rule"].startswith("keep the half-nuts shut")
    assert lathes["lathe_half_nuts"] is False or lathes["lathe_half_nuts"] == 0


def test_of_stacked_dial_gears_the_one_that_serves_is_named(lathes: Document) -> None:
    """1.25 mm on a 3 mm screw: 2.4 threads a tooth, so 15 teeth turn in 36 threads and 14 in 33.6."""
    choose(
        lathes,
        "M8x1.25-6g",
        "mm",
        leadscrew_1=3,
        leadscrew_unit_1="mm",
        dial_a_1=14,
        dial_b_1=15,
        dial_c_1=16,
        dial_lines_1=6,
        use_a_1=25,
        use_b_1=60,
    )
    words = "with the 15 tooth gear close the half-nuts at the line you began on or every 2nd from it"
    assert lathes["lathe_dial_rule_1"] == f"{words} (3 lines of the 6): 2 lines are 12 threads"
    lathes.set({"dial_b_1": None})
    assert lathes["lathe_dial_rule_1"].startswith("keep the half-nuts shut")
    lathes.set({"dial_a_1": None, "dial_c_1": None})
    assert lathes["lathe_dial_rule_1"].startswith("no thread dial is given: keep the half-nuts shut")


DIAL_WRONG = "correct the thread dial on the sheet Lathe: its lines, and the teeth of each of its gears"


def test_a_dial_that_is_typed_wrong_is_told_and_not_used(lathes: Document) -> None:
    """As above the 15 serves; one gear that is no number keeps the nuts shut, so that none is left out unseen."""
    screw = {"leadscrew_1": 3, "leadscrew_unit_1": "mm", "use_a_1": 25, "use_b_1": 60}
    right = {"dial_a_1": 14, "dial_b_1": 15, "dial_c_1": 16, "dial_lines_1": 6}
    for wrong in ({"dial_a_1": "14/15/16"}, {"dial_c_1": "16 t"}, {"dial_c_1": 16.5}, {"dial_c_1": 301},
                  {"dial_lines_1": "6 lines"}, {"dial_lines_1": None}, {"dial_lines_1": 0}):  # fmt: skip
        choose(lathes, "M8x1.25-6g", "mm", **screw, **(right | wrong))
        assert lathes["lathe_dial_rule_1"].startswith(DIAL_WRONG), wrong
        assert not lathes["lathe_half_nuts_1"], wrong
    choose(lathes, "M8x1.25-6g", "mm", **screw, **right)
    assert lathes["lathe_dial_rule_1"].startswith("with the 15 tooth gear close the half-nuts")
    choose(lathes, "M6x1-6g", "mm", **screw | {"use_b_1": 75}, **(right | {"dial_a_1": "14 t"}))
    assert lathes["lathe_dial_rule_1"].startswith("close the half-nuts anywhere")  # no dial is needed
