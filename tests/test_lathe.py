"""Dial lines, change gears, speed and infeed left: trial cases, printed trains, and brute force."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import rows

from sheetfuncs import evaluate, leads, standards
from sheetfuncs.errors import CellError
from sheetfuncs.gears import Quadrant, Train, can_mount, gear_remark, search_trains, trains_of

DIAL_CASES = [
    ("2-4 1/2 UNC-2A", "4 tpi", 16, 8, "the line you began on or the one opposite: half a turn is 9 threads"),
    ("2-4 1/2 UNC-2A", "5 tpi", 15, 10, "half-nuts shut and reverse under power: one turn of the dial is 13 1/2"),
    ("3/4-16 UNF-2A", "8 tpi", 32, 8, "close the half-nuts anywhere: each thread of the leadscrew is 2 threads"),
    ("1/2-13 UNC-2A", "8 tpi", 32, 8, "every 2nd from it (4 lines of the 8): 2 lines are 13 threads"),
    ("1-12 UNF-2A", "8 tpi", 32, 8, "any line: from line to line is 6 threads"),
    ("M20x2.5-6g", "8 tpi", 32, 8, "half-nuts shut and reverse under power: one turn of the dial is 40.64 threads"),
    ("3/4-16 UNF-2A", '1/8"', 32, 8, "close the half-nuts anywhere: each thread of the leadscrew is 2 threads"),
    ("3/4-16 UNF-2A", "8 threads per inch", 32, 8, "anywhere: each thread of the leadscrew is 2 threads"),
    ("3/4-16 UNF-2A", "1/8 in.", 32, 8, "anywhere: each thread of the leadscrew is 2 threads"),
    ("M20x1.5-6g", "3 mm", 20, 4, "anywhere: each thread of the leadscrew is 2 threads"),
    ("1-0.125P-0.25L UNS-2A", "8 tpi", 32, 8, "any line: from line to line is 2 leads"),
    ("2 1/2-4 UNC-2A", "8 tpi", 32, 8, "any line: from line to line is 2 threads"),
]


@pytest.mark.parametrize(("callout", "leadscrew", "teeth", "lines", "words"), DIAL_CASES)
def test_dial_rule(callout: str, leadscrew: str, teeth: int, lines: int, words: str) -> None:
    assert words in evaluate("THREAD_DIAL", callout, leadscrew, teeth, lines)


@given(
    tpi=st.sampled_from([4, 4.5, 5, 6, 7, 8, 9, 10, 11, 11.5, 12, 13, 14, 16, 18, 20, 24, 27, 32]),
    screw=st.sampled_from([4, 5, 6, 8, 10]),
    teeth=st.integers(8, 40),
    lines=st.sampled_from([4, 6, 8, 9, 12, 16]),
)
def test_dial_by_walking_the_bed(tpi: float, screw: int, teeth: int, lines: int) -> None:
    """Every closing of the half-nuts over thirty turns of the dial: a line serves if it never meets another thread."""
    words = evaluate("THREAD_DIAL", f"2-{tpi} UNS-2A", f"{screw} tpi", teeth, lines)
    lead, screw_lead = 1 / Fraction(str(tpi)), Fraction(1, screw)
    legal, other = set(), set()
    for tooth in range(30 * teeth):  # the nuts can close once for each leadscrew thread
        line = Fraction(tooth * lines, teeth)
        if line.denominator == 1:
            same = (tooth * screw_lead / lead).denominator == 1
            (legal if same else other).add(line % lines)
    legal -= other
    if "shut" in words:
        assert not legal
    elif "anywhere" in words or "any line" in words:
        assert not other
    else:
        apart = {"began on only": lines, "the one opposite": lines // 2}
        step = next((value for text, value in apart.items() if text in words), None)
        step = step or int("".join(c for c in words.split("every ")[1].split(" from")[0] if c.isdigit()))
        assert legal == {line for line in range(lines) if line % step == 0}


def by_nested_loops(shelf: list[int], wanted: float) -> list[float]:
    """Sizes of the errors of all simple and compound trains, one loop in another."""
    errors = []
    for i, a in enumerate(shelf):
        for j, b in enumerate(shelf):
            if i == j:
                continue
            errors.append(abs(a / b / wanted - 1))
            for k, c in enumerate(shelf):
                for m, d in enumerate(shelf):
                    if len({i, j, k, m}) == 4:
                        errors.append(abs(a * c / (b * d) / wanted - 1))
    return sorted(errors)


@given(shelf=st.lists(st.integers(16, 127), min_size=4, max_size=9), wanted=st.floats(0.1, 4.0))
def test_the_gear_search_misses_nothing(shelf: list[int], wanted: float) -> None:
    found = search_trains(sorted(shelf), wanted, 5)
    best = by_nested_loops(shelf, wanted)
    assert abs(found[0].error) == pytest.approx(best[0], abs=1e-12)
    sizes = [abs(train.error) for train in found]
    assert sizes == pytest.approx(sorted(sizes), abs=1e-12)  # ties may stand either way round
    for train in found:
        left = list(shelf)
        for gear in train.gears:
            left.remove(gear)  # each gear once
        turned = 1.0
        for driver, driven in zip(train.gears[::2], train.gears[1::2]):
            turned *= driver / driven
        assert train.error == pytest.approx(turned / wanted - 1, abs=1e-12)


def test_the_ten_best_are_the_ten_best() -> None:
    shelf, wanted = [20, 24, 30, 35, 40, 45, 50, 55], 0.613
    sizes = []
    for gears in permutations(range(len(shelf)), 4):
        a, b, c, d = (shelf[i] for i in gears)
        sizes.append((round(abs(a * c / (b * d) / wanted - 1), 12), tuple(sorted((a, c))), tuple(sorted((b, d)))))
    wanted_sizes = [size for size, _, _ in sorted(set(sizes))[:10]]
    found = [abs(train.error) for train in search_trains(shelf, wanted, 10)]
    assert found == pytest.approx(wanted_sizes, abs=1e-11)


def test_metric_on_an_inch_screw_finds_the_127_wheel_and_its_substitute() -> None:
    """5 in are 127 mm: 127 teeth translate exactly; 63 stand in for 127 / 2 with an error of 1 in 127."""
    exact = evaluate("THREAD_GEARS", "M20x2.5-6g", "8 tpi", "20 25 30 40 50 60 127")[1]
    assert "127" in exact[0]
    assert exact[3] == 0
    assert exact[5].startswith("exact")
    near = evaluate("THREAD_GEARS", "M20x2.5-6g", "8 tpi", [[40], [50], [63], [None], [80], [100]], None, 1)[1]
    assert abs(near[3]) < 10_000
    assert near[2] == pytest.approx(2.5 * (1 + near[3] / 1e6))


def test_a_fixed_ratio_counts() -> None:
    """16 on 8 threads per inch asks for 1 : 2; with half of it fixed in the gearbox the train is 1 : 1."""
    row = evaluate("THREAD_GEARS", "3/4-16 UNF-2A", "8 tpi", "20 20 40", 1, 0.5)[1]
    assert (row[0], row[1], row[3]) == ("20/20", 1.0, 0.0)
    assert evaluate("THREAD_GEARS", "3/4-16 UNF-2A", "8 tpi", "20 20 40", 1)[1][0] == "20/40"


def test_published_trains() -> None:
    """Rose's compound train, 40 to 100 of a monthly, and two approximations whose printed ratios give their leads."""
    printed = {row["setup"]: row for row in rows("change_gear_examples")}
    rose = evaluate("THREAD_GEARS", "5/8-11 UNC-2A", "4 tpi", "18 36 48 66", 1)[1]
    assert printed["compound train on 4 tpi leadscrew"]["note"] == "66/48 x 36/18 x 4 = 11 tpi"
    assert (set(rose[0].replace(" x ", "/").split("/")), rose[3]) == ({"18", "36", "48", "66"}, 0)
    assert printed["5 tpi with 2 tpi leadscrew"]["note"].endswith("gears 40 -> 100")
    assert evaluate("THREAD_GEARS", "1 3/4-5 UNC-2A", "2 tpi", "40 45 100", 1)[1][0] == "40/100"
    for callout, shelf, tpi, setup in (
        ("M16x2-6g", "12 17", 18, "12/17 x 18 tpi = 12.706 tpi"),
        ("M20x2.5-6g", "12 16 29 30", 14, "12/16 x 29/30 x 14 = 10.15 tpi"),
    ):
        row = evaluate("THREAD_GEARS", callout, "8 tpi", shelf, 1, 8 / tpi)[1]
        digits = printed[setup]["recomputed"].removeprefix("recomputed ")
        assert f"{row[2]:.5f}" == digits
    assert printed["translation"]["note"] == "25.4 x 5 = 127"


def test_the_count_searched_is_that_of_nested_loops() -> None:
    """The loops count each compound train four times, once for each way to mount it."""
    for count in (2, 3, 4, 9):
        places = range(count)
        compound = sum(1 for _ in permutations(places, 4)) // 4
        assert trains_of(count) == sum(1 for _ in permutations(places, 2)) + compound
    rows_found = evaluate("THREAD_GEARS", "3/4-16 UNF-2A", 8, "20 30 40 50")
    assert rows_found[-1] == [f"best of {trains_of(4)} trains", "", "", "", "", ""]


def test_idlers_and_room() -> None:
    """Each mesh reverses: a simple train takes one idler for a right-hand thread, a compound none; left, one more."""
    simple, compound = Train((40, 80), 0.0), Train((40, 60, 30, 50), 0.0)
    assert gear_remark(simple) == "exact, an idler"
    assert gear_remark(simple, True) == "exact, two idlers, or none"
    assert gear_remark(compound) == "exact, no idler"
    assert gear_remark(compound, True) == "exact, an idler"
    # 40 + 80 + twice the idler within 150 to 200: 15 to 40 teeth
    assert gear_remark(simple, False, Quadrant(150, 200)) == "exact, an idler of 15 to 40 teeth"
    assert "180 teeth where the quadrant takes 200 to 300" in gear_remark(compound, False, Quadrant(200, 300))
    assert not can_mount(compound, Quadrant(200, 300))
    assert not can_mount(simple, Quadrant(100, 140))
    assert not can_mount(Train((20, 25, 60, 100), 0.0))  # 20 and 25 leave 22.5 between their shafts, 60 reaches 30
    row = evaluate("THREAD_GEARS", "3/4-16 UNF-2A LH", 8, "20 40", 1, None, "100 200")[1]
    assert row[5] == "exact, two idlers of 24 to 70 teeth together"  # 60 teeth alone do not reach 100
    # 120 teeth are within 110 to 150 without idlers, and two of 24 or more would make 168
    assert gear_remark(simple, True, Quadrant(110, 150)) == "exact, no idler"
    assert gear_remark(simple, True, Quadrant(110, 200)) == "exact, two idlers of 24 to 40 teeth together, or none"
    assert not can_mount(simple, Quadrant(110, 140), left_hand=False)  # the smallest idler, 12, makes 144
    assert can_mount(simple, Quadrant(110, 140), left_hand=True)
    assert not can_mount(simple, Quadrant(130, 160), left_hand=True)


def test_among_exact_trains_those_that_fit_come_first() -> None:
    """45 and 90 leave no room for an idler of 12 teeth under a sum of 140; 20, 24, 30 and 32 are 106 together."""
    shelf = "20 24 30 32 45 90"
    assert evaluate("THREAD_GEARS", "3/4-16 UNF-2A", 8, shelf, 2)[1][0] == "45/90"
    found = evaluate("THREAD_GEARS", "3/4-16 UNF-2A", 8, shelf, 20, None, [[100, 140]])[1:-1]
    first, simple = found[0], next(row for row in found if row[0] == "45/90")
    assert (set(first[0].replace(" x ", "/").split("/")), first[3]) == ({"20", "24", "30", "32"}, 0)
    assert simple[5] == "exact, an idler, does not fit: 135 teeth where the quadrant takes 100 to 140"


def test_rpm() -> None:
    """5/8-18, .090 usable relief, 40 ft/min, .25 s: 389 by relief, 244 by speed."""
    by_speed, by_relief, lower, listed, governs = evaluate(
        "THREAD_RPM", "5/8-18 UNF-2A", 40, 0.090, 0.25, "70 115 190 300"
    )[0]
    assert (round(by_speed), round(by_relief), round(lower), listed, governs) == (244, 389, 244, 190, "cutting speed")
    assert evaluate("THREAD_RPM", "5/8-18 UNF-2A", 40, 0.03, 0.25)[0][4] == "relief"
    metric = evaluate("THREAD_RPM", "M20x2.5-6g", "10 m/min")[0]
    assert metric[0] == pytest.approx(159.15, abs=0.01)
    assert evaluate("THREAD_RPM", "M20x2.5-6g", "32.808399 ft/min")[0][0] == pytest.approx(metric[0])
    with pytest.raises(CellError, match="go together"):
        evaluate("THREAD_RPM", "M20x2.5-6g", 10, 3)
    assert "no speed that slow" in evaluate("THREAD_RPM", "M20x2.5-6g", 10, None, None, [[500, 800]])[0][4]


def test_feed_left() -> None:
    """A reading .0100 over the high limit .7621 needs .0050 on the radius, .0058 on a compound at 29.5."""
    assert evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, 0.7721, "max", 0) == pytest.approx(0.005, abs=2e-5)
    assert evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, 0.7721, "max") == pytest.approx(0.00576, abs=1e-5)
    assert evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, 0.7521, "min", 0) < 0
    column = evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, [[0.7721], [0.7571]], "min", 0)
    assert [round(row[0], 4) for row in column] == [0.0075, 0.0]


@pytest.mark.parametrize(
    ("name", "cells", "sentence"),
    [
        ("THREAD_DIAL", ("M20-6g", "8 threads", 32, 8), "write it as in 8 tpi or 3 mm"),
        ("THREAD_DIAL", ("M20-6g", "0 mm", 32, 8), "more than zero"),
        ("THREAD_DIAL", ("M20-6g", 1e-12, 32, 8), "more than zero"),
        ("THREAD_GEARS", ("M20-6g", "0.00000000001 mm", "20 30"), "more than zero"),
        ("THREAD_DIAL", ("M20-6g", 8, 0, 8), "at least 1"),
        ("THREAD_GEARS", ("M20-6g", 8, "20"), "two gears or more"),
        ("THREAD_GEARS", ("M20-6g", 8, "20 25.5"), "whole numbers of teeth"),
        ("THREAD_GEARS", ("M20-6g", 8, "20 30", 0), "one train or more"),
        ("THREAD_GEARS", ("M20-6g", 8, "20 30", 1, 0), "fixed_ratio is 0; it must be more than zero"),
        ("THREAD_GEARS", ("M20-6g", 8, "20 30", 1, 1, "130"), "the least and the greatest sum"),
        ("THREAD_RPM", ("M20-6g", 0), "more than zero"),
        ("THREAD_RPM", ("M20-6g", 40, None, None, "70 0 115"), "speeds has 0; each must be more than zero"),
    ],
)
def test_refusals(name: str, cells: tuple, sentence: str) -> None:
    with pytest.raises(CellError, match=sentence):
        evaluate(name, *cells)


def test_exact_leads() -> None:
    assert leads.exact_lead(standards.read("1-11 1/2 UNS")) == leads.ratio(254, 115)
    assert leads.exact_lead(standards.read("M20xPh5P2.5")) == leads.ratio(5, 1)
    assert leads.exact_lead(standards.read("G 1/4 A")) == leads.ratio(127, 95)  # 19 threads per inch
    assert leads.exact_lead(standards.read("2-0.3P-0.3L UNS")) == leads.ratio(381, 50)


def test_a_turn_that_is_nearly_whole_says_so() -> None:
    """1.0583 mm is nearly 24 threads per inch: 96.0038 threads a turn of 4 in would wander, so the nuts stay shut."""
    words = evaluate("THREAD_DIAL", "M10x1.05833-6g", "8 tpi", 32, 8)
    assert "one turn of the dial is 96.0003 threads" in words
    assert "not quite 96 threads" in evaluate("THREAD_DIAL", "M10x1.058333-6g", "8 tpi", 32, 8)


@pytest.mark.parametrize(
    ("callout", "per_inch", "mm", "angle", "words"),
    [
        ("3/4-16 UNF-2A", 16, 25.4 / 16, 360, "gear for 16 threads per inch"),
        ("1-11.5 NPT", 11.5, 25.4 / 11.5, 360, "gear for 11 1/2 threads per inch"),
        ("G 3/4 A", 14, 25.4 / 14, 360, "gear for 14 threads per inch"),
        ("1-.0833P-.2500L UNF-2A", 4, 6.35, 120, "gear for 4 threads per inch, not 12; 3 starts, each 1/3 turn"),
        ("2.875-0.4P-0.8L ACME-2G", 1.25, 20.32, 180, "gear for 1 1/4 threads per inch, not 2 1/2; 2 starts"),
        (
            "M64xPh18P6-6g",
            25.4 / 18,
            18,
            120,
            "gear for a lead of 18 mm, not 6; 3 starts, each 1/3 turn of the spindle",
        ),
    ],
)
def test_the_lathe_is_geared_for_the_lead(callout: str, per_inch: float, mm: float, angle: float, words: str) -> None:
    """By hand from the designation: so many threads per inch over the starts; a turn shared by the starts."""
    *numbers, said = evaluate("THREAD_GEAR_FOR", callout)[0]
    assert numbers == pytest.approx([per_inch, mm, angle], abs=1e-9)
    assert said.startswith(words)
    assert evaluate("THREAD_LEAD", callout, "mm") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("callout", "rpm", "unit", "found"),
    [
        ("3/4-16 UNF-2A", 160, None, 10),
        ("3/4-16 UNF-2A", 160, "mm", 254),
        ("M20xPh5P2.5-6g", 100, "mm", 500),
        ("1.0-0.1P-0.2L UNS-2A", 60, "in", 12),
    ],
)
def test_the_carriage_runs_a_lead_a_turn(callout: str, rpm: float, unit: str | None, found: float) -> None:
    assert evaluate("THREAD_CARRIAGE_SPEED", callout, rpm, unit) == pytest.approx(found)
