"""Functions whose figures a planted fault got past the other tests, worked again by other means.

A drawing, the same screw under another callout, exact fractions, a library, or a search by brute force; never the
formula of the module typed again.
"""

from __future__ import annotations

import random
import re
from fractions import Fraction
from math import degrees, pi, radians, sqrt, tan

import numpy as np
import pytest
from published_rows import agrees, rows
from scipy import stats

from sheetfuncs import estimating, evaluate, forms, gears, inspection, lathe, standards, units
from sheetfuncs.errors import CellError, OutOfRange
from sheetfuncs.forms import Tip

SEVERAL_STARTS = [("Tr40x14(P7)-7e", "Tr43.5x14-7e"), ("Tr36x18(P6)-7e", "Tr42x18-7e")]
"""Two screws of the same pitch diameter and lead, one of several starts and one of a single start."""


@pytest.mark.parametrize(("several", "single"), SEVERAL_STARTS)
def test_several_starts_climb_as_one_start_of_that_lead(several: str, single: str) -> None:
    """The angle is that of the printed single-start tables, and the carriage runs the lead in a turn."""
    assert evaluate("THREAD_LEAD_ANGLE", several) == pytest.approx(evaluate("THREAD_LEAD_ANGLE", single))
    slow, fast = (evaluate("THREAD_RPM", callout, 20, 10, 0.5)[0][1] for callout in (single, several))
    assert fast == pytest.approx(slow)
    lead = float(re.search(r"x(\d+)", several)[1])
    assert fast / 60 * 0.5 * lead == pytest.approx(10)  # turns in half a second, each a lead: the relief of 10 mm


TIPS = [
    *(("3/4-16 UNF-2A", kind) for kind in ("flat", "radius")),
    *(("M20x2.5-6H", kind) for kind in ("flat", "radius")),
    *(("2.5-8 BUTT-2A", kind) for kind in ("flat", "radius")),
    *((callout, "radius") for callout in ("1/2-12 BSW medium bolt", "3/4-14 NPT EXT", "G 1/2 A")),
    *((callout, "flat") for callout in ("1-5 ACME-2G", "Tr40x7-7H")),
]


@pytest.mark.parametrize(("callout", "kind"), TIPS)
def test_the_most_that_is_advised_is_the_most_that_is_taken(callout: str, kind: str) -> None:
    """By halving: the largest tip that THREAD_DEPTH takes, beside the one in its sentence."""
    taken, refused = 0.0, standards.read(callout).pitch
    sentence = ""
    for _ in range(40):
        size = (taken + refused) / 2
        try:
            evaluate("THREAD_DEPTH", callout, f"{kind} {size:.9f}", "mid")
            taken = size
        except CellError as error:
            if "too narrow" in str(error):
                taken = size
                continue
            refused, sentence = size, str(error)
    advised = float(re.search(r"([\d.]+) (?:in|mm) is the most", sentence)[1])
    assert advised - 1e-8 <= taken < advised + 0.0001


def test_the_error_of_gears_over_one_diameter() -> None:
    """Exact fractions: threads in a diameter of the nut, each by what a turn of the train cuts too long."""
    rows_found = evaluate("THREAD_GEARS", "M20x2.5-6g", "8 tpi", "20 25 30 40 50 63 80", 5)[1:-1]
    off = 0
    for text, _, cut, _, over, _ in rows_found:
        ratio = Fraction(1)
        for pair in text.split(" x "):
            ratio *= Fraction(*map(int, pair.split("/")))
        exact = ratio * Fraction(254, 80)
        assert cut == pytest.approx(float(exact))
        assert over == pytest.approx(float(20 / Fraction(5, 2) * (exact - Fraction(5, 2))), abs=1e-9)
        off += exact != Fraction(5, 2)
    assert off >= 3


def test_a_gear_clears_a_shaft_of_ten_teeth_across() -> None:
    """Discs: the next driver must not reach the shaft that the pair before it turns about."""
    for first in (20, 37):
        for third in range(30, 130):
            second = 60
            apart = (first + second) / 2  # shaft of the first to the stud of the second
            touches = third / 2 > apart - 10 / 2
            words = gears.shaft_words(gears.Train((first, second, third, 100), 0.0))
            assert bool(words) == touches, (first, third)
            mirrored = gears.shaft_words(gears.Train((100, third, second, first), 0.0))
            assert bool(mirrored) == touches, (first, third)


def test_the_load_flank_of_buttress_trails() -> None:
    """ASME B1.9: 7 degrees on the load flank, which faces away from the nut that comes on, 45 on the other.

    A flank too steep by a degree at the crest end: 45 degrees give much more than 7, in the ratio of 1 / cos^2.
    """
    callout, error = "2.5-8 BUTT-2A", 0.05
    at = 2.425
    leading, trailing = (
        evaluate("THREAD_VIRTUAL_DIAMETER", callout, at, 0, *errors) - at for errors in ((error, 0), (0, error))
    )
    reach = 0.3 / 8  # from the pitch line to the minor diameter, 0.6 P on the diameter
    spread = tan(radians(7)) + tan(radians(45))
    assert leading == pytest.approx(2 * reach * radians(error) * 2 / spread, rel=2e-3)  # 1 / cos^2 45 = 2
    assert trailing == pytest.approx(2 * reach * radians(error) / 0.98515 / spread, rel=2e-3)  # cos^2 7
    assert forms.tip_shortening(forms.BUTTRESS, Tip("flat", 1.0)) == pytest.approx(1 / spread)


def test_lead_angles_of_printed_screws_with_several_starts() -> None:
    """MH31 p. 2136: for each lead angle and number of starts the pitch diameter follows; here it goes the other way."""
    for starts, diameter in ((2, 2.0), (3, 1.5), (4, 3.0)):
        callout = f"{diameter:g}-0.1P-{starts * 0.1:g}L ACME-2G"
        angle = evaluate("THREAD_LEAD_ANGLE", callout)
        unrolled = sqrt((pi * (diameter - 0.05)) ** 2 + (starts * 0.1) ** 2)  # the flank's way round in one turn
        assert angle == pytest.approx(degrees(2 * _half(starts * 0.1, unrolled)))


def _half(rise: float, way: float) -> float:
    """Half the angle of a right triangle by its hypotenuse: tan(v/2) = rise / (way + run)."""
    run = sqrt(way**2 - rise**2)
    half = rise / (way + run)
    return sum((-1) ** n * half ** (2 * n + 1) / (2 * n + 1) for n in range(25))


def test_verdicts_are_those_of_whole_thousandths() -> None:
    """Readings, limits and uncertainties with three decimals, judged by whole numbers, where nothing is rounded."""
    draw = random.Random(5)
    words = set()
    for _ in range(4000):
        low = draw.choice((-30, 164, 18_164, 349_900))
        high = low + draw.randint(1, 300)
        guard = draw.choice((0, 1, 7, 50))
        end = draw.choice((low, high, low + guard, high - guard, low - guard, high + guard))
        value = end + draw.choice((-1, 0, 0, 1))
        if low + guard <= value <= high - guard:
            exact = "accept"
        else:
            exact = "reject" if value < low - guard or value > high + guard else "undecided"
        assert inspection.verdict(value / 1000, low / 1000, high / 1000, guard / 1000, "guard") == exact
        words.add(exact)
    assert words == {"accept", "undecided", "reject"}


@pytest.mark.parametrize(("learning", "taken"), [(0.5, True), (1.0, True), (0.49, False), (1.01, False)])
def test_learning_is_taken_from_half_to_the_whole(learning: float, taken: bool) -> None:
    cells = ([60], 90, 6, 4, 60, 50, 61, 0.05, 0.5, 0.2)
    if taken:
        assert estimating.price(*cells, learning=learning)
        return
    with pytest.raises(CellError, match="from 50 % to 100 %"):
        estimating.price(*cells, learning=learning)


def test_an_interaction_is_pooled_where_a_library_finds_it_by_chance_in_one_of_twenty() -> None:
    """The F test of appendix A of the manual, at 5 %, by scipy on sums of squares worked with numpy."""
    draw = np.random.default_rng(11)
    seen = {True: 0, False: 0}
    for _ in range(60):
        cells = draw.normal(size=(5, 1, 1)) + draw.normal(scale=0.12, size=(5, 3, 1))
        readings = cells + draw.normal(scale=0.12, size=(5, 3, 2))
        means = readings.mean(axis=2)
        both = means - means.mean(axis=0) - means.mean(axis=1, keepdims=True) + means.mean()
        ratio = 2 * (both**2).sum() / 8 / (((readings - means[:, :, None]) ** 2).sum() / 15)
        chance = stats.f.sf(ratio, 8, 15)
        if not 0.01 < chance < 0.2:
            continue
        rows_in = [[p, "ABC"[k], readings[p, k, r]] for p in range(5) for k in range(3) for r in range(2)]
        (words,) = (row[-1] for row in evaluate("THREAD_GAUGE_STUDY", rows_in) if row[0] == "interaction")
        assert ("pooled" in words) == (chance >= 0.05), (chance, words)
        seen[chance >= 0.05] += 1
    assert min(seen.values()) >= 5


def test_a_layer_of_one_thickness_brings_the_limits_of_the_class() -> None:
    """What is cut grows by the layer on both sides: by twice it across crests, four times across 60 degree flanks."""
    layer = 0.0003
    callout = "2 3/8-20 UN-3A"
    cut = {row[0]: row[1:3] for row in evaluate("THREAD_BEFORE_COATING", callout, layer, layer)[1:]}
    (printed,) = (row for row in rows("unified_limits") if row["thread"] == callout)
    for name, column, times in (("major", "major", 2), ("pitch", "pd", 4)):
        for end, value in zip(("max", "min"), cut[name]):
            assert agrees(value + times * layer, printed[f"{column}_{end}"]), (name, end)


def test_a_long_text_keeps_its_two_ends() -> None:
    text = " ".join(map(str, range(2000)))
    said = str(OutOfRange(text))
    first, last = said.split(" ... ")
    assert text.startswith(first)
    assert text.endswith(last)
    assert len(said) <= 255 < len(said) + 20


@pytest.mark.parametrize("expansion", ["1.01e-4", "-1.01e-4", "1.5e-4"])
def test_no_material_expands_by_a_ten_thousandth_a_degree(expansion: str) -> None:
    with pytest.raises(CellError, match="expansion per degree"):
        evaluate("THREAD_AT_20C", 100, 30, expansion)
    assert evaluate("THREAD_AT_20C", 100, 30, "9.9e-5") == pytest.approx(100 / 1.00099)


def test_what_the_gears_are_taken_from() -> None:
    """Eight teeth at the least (this project's choice), two gears, a quadrant that takes something."""
    ask = ("THREAD_GEARS", "3/4-16 UNF-2A", "8 tpi")
    assert evaluate(*ask, "8 16", 1)[1][0] == "8/16"
    assert evaluate(*ask, "20 40", 1, 1, "1 260")[1][0] == "20/40"
    for shelf, spacing in (("7 14", None), ("20", None), ("20 40", "0 260"), ("20 40", "260 130")):
        with pytest.raises(CellError):
            evaluate(*ask, shelf, 1, 1, spacing)


def test_what_must_be_more_than_nothing_may_be_little() -> None:
    """Turns a minute by hand: 500 mm a minute round pi x 20 mm; 0.1 mm in 0.5 s at 2.5 mm a turn."""
    by_speed, by_relief = evaluate("THREAD_RPM", "M20x2.5-6g", 0.5, 0.1, 0.5)[0][:2]
    assert by_speed == pytest.approx(500 / 62.8319, rel=1e-5)
    assert by_relief == pytest.approx(0.1 / 2.5 / 0.5 * 60)
    for cells in ((0, 0.1, 0.5), (0.5, 0, 0.5), (0.5, 0.1, 0)):
        with pytest.raises(CellError):
            evaluate("THREAD_RPM", "M20x2.5-6g", *cells)


def test_ordinals() -> None:
    spoken = "1st 2nd 3rd 4th 5th 9th 10th 11th 12th 13th 14th 19th 20th 21st 22nd 23rd 101st 111th 112th 113th 114th"
    assert " ".join(lathe.ordinal(int(word[:-2])) for word in spoken.split()) == spoken


def test_numbers_that_no_shop_writes() -> None:
    """A million million is the most that is taken, and what is nearer to nothing than 1e-15 is nothing."""
    for text, value in (("1e12", 1e12), ("-1e12", -1e12), ("1e-16", 0.0), ("-1e-16", 0.0), ("2e-15", 2e-15)):
        assert units.read_number(text) == value
    for text in ("1.1e12", "-1.1e12"):
        assert units.read_number(text) is None
