"""Which thread is this: the worn screw of the shop, near misses between inch and metric pitches, and refusals."""

from __future__ import annotations

from fractions import Fraction

import pytest
from published_rows import rows

from sheetfuncs import evaluate, standards
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.identify import Candidate, Counted, identify, read_counted


def test_the_worn_screw() -> None:
    """10 pitches in 20.0 mm, 29.8 mm outside; by hand: 10 x 25.4 / 12 = 21.167 mm, 10 x 25.4 / 13 = 19.538 mm."""
    found = identify(29.8, Counted(10, 20.0), unit="mm")
    first = found[0]
    assert (first.callout, first.system) == ("M30x2", "ISO metric")
    assert first.pitch_difference == 0
    assert first.diameter_difference == pytest.approx(-0.2)
    assert first.verdict == "fits: pitch agrees; outside 0.200 mm under basic, as tolerance or wear leaves it"
    twelve, thirteen = found[-2:]
    assert "-12 UN" in twelve.callout
    assert twelve.pitch_difference == pytest.approx(20.0 - 21.1667, abs=1e-4)
    assert twelve.pitch_percent == pytest.approx(-5.833, abs=1e-3)
    assert "10 pitches would be 21.167 mm, 1.167 mm (5.8 %) more than measured" in twelve.verdict
    assert thirteen.callout == "13 threads per inch"
    assert thirteen.pitch_difference == pytest.approx(20.0 - 19.5385, abs=1e-4)
    assert thirteen.pitch_percent == pytest.approx(2.308, abs=1e-3)
    assert all(row.verdict.startswith("does not fit") for row in (twelve, thirteen))


def test_the_same_screw_in_inches() -> None:
    metric = identify(29.8, Counted(10, 20.0), unit="mm")
    inch = identify(29.8 / 25.4, Counted(10, 20.0 / 25.4), unit="in")
    assert [row.callout for row in inch] == [row.callout for row in metric]
    assert inch[0].diameter_difference == pytest.approx(-0.2 / 25.4)


NEAR_MISSES = [
    # outside, pitches, length, unit, first; the metric and inch pitches that are taken for each other
    (0.745, 16, 1.0, "in", "3/4-16 UNF"),
    (25.2, 8, 25.4, "mm", "1-8 UNC"),
    (6.2, 10, 12.7, "mm", "1/4-20 UNC"),
    (5.9, 20, 20.0, "mm", "M6x1"),
    (9.9, 10, 15.0, "mm", "M10x1.5"),
    (9.45, 10, 15.875, "mm", "3/8-16 UNC"),
]


@pytest.mark.parametrize(("outside", "pitches", "length", "unit", "first"), NEAR_MISSES)
def test_near_misses(outside: float, pitches: float, length: float, unit: str, first: str) -> None:
    found = identify(outside, Counted(pitches, length), unit=unit)
    assert found[0].callout == first
    assert found[0].verdict.startswith("fits")
    assert any(row.verdict.startswith("does not fit") for row in found)


def test_every_standard_thread_is_found_worn_or_new() -> None:
    for system in standards.SYSTEMS.values():
        for thread in system.standard_threads()[::7]:
            major = system.basic(thread).major
            if thread.pitch > major / 2:
                continue
            for worn, stretched in ((0.0, 1.0), (0.15 * thread.pitch, 1.004)):
                counted = Counted(10, 10 * thread.pitch * stretched)
                found = identify(major - worn, counted, system.taper, thread.unit)
                fits = [row.callout for row in found if row.verdict.startswith("fits")]
                assert system.write(thread) in fits, (system.key, thread, fits)


def test_a_worn_outside_is_told_from_a_wrong_one() -> None:
    found = {row.callout: row.verdict for row in identify(28.9, Counted(10, 20.0), unit="mm")}
    assert "more than tolerance and wear explain" in found["M30x2"]
    found = {row.callout: row.verdict for row in identify(30.4, Counted(10, 20.0), unit="mm")}
    assert "more than plating or a reading explains" in found["M30x2"]


def test_a_taper_leaves_only_threads_of_that_taper() -> None:
    parallel = {row.callout for row in identify(29.8, Counted(10, 20.0), 0.0, "mm")}
    tapered = {row.callout for row in identify(29.8, Counted(10, 20.0), 1 / 16, "mm")}
    assert "M30x2" in parallel
    assert "M30x2" not in tapered


SPELLINGS = [
    ("10 in 20.0 mm", "mm", Counted(10, 20.0)),
    ("10 pitches over 20 mm", "mm", Counted(10, 20.0)),
    ("16 in 1 in", "in", Counted(16, 1.0)),
    ("8 in 1/2", "in", Counted(8, 0.5)),
    ("12 tpi", "in", Counted(12, 1.0)),
    ("11 1/2 tpi", "in", Counted(11.5, 1.0)),
    ("12 tpi", "mm", Counted(12, 25.4)),
    ("11½ Threads per Inch", "in", Counted(11.5, 1.0)),
    ("10  pitches   over  20 mm", "mm", Counted(10, 20.0)),
    ("2 mm", "mm", Counted(1, 2.0)),
    (2, "mm", Counted(1, 2.0)),
]


@pytest.mark.parametrize(("cell", "unit", "meant"), SPELLINGS)
def test_spellings_of_a_pitch(cell: object, unit: str, meant: Counted) -> None:
    assert read_counted(cell, unit) == meant


def test_refusals() -> None:
    with pytest.raises(OutOfRange, match="write threads per inch as 12 tpi"):
        identify(1.0, Counted(1, 12.0), unit="in")
    for cell in (True, None, "a few", "0 in 20 mm", "10 in"):
        with pytest.raises((NotUnderstood, OutOfRange), match="write"):
            identify(29.8, read_counted(cell, "mm"), unit="mm")


def test_the_sheet_function() -> None:
    """The unit is written beside the numbers or given; a bare number without one is refused."""
    worded = evaluate("THREAD_IDENTIFY", "29.8 mm", "10 in 20.0 mm")
    assert worded[1][0] == "M30x2"
    assert evaluate("THREAD_IDENTIFY", 29.8, "10 in 20.0 mm", None, "mm") == worded
    assert evaluate("THREAD_IDENTIFY", 0.745, "16 tpi", 0, "in")[1][0] == "3/4-16 UNF"
    with pytest.raises(NotGiven, match="unit is missing"):
        evaluate("THREAD_IDENTIFY", 0.745, 0.0625)


def metric_pitches() -> list[float]:
    """Every pitch that a metric list prints: ISO 261, ISO 2902, BS 93, ISO 7-1."""
    found = {float(text.strip("()*")) for row in rows("iso_261") for text in row["pitches_mm"].split()}
    found |= {float(text) for row in rows("trapezoidal_sizes") for text in row["pitches_mm"].split()}
    found |= {float(row["pitch"]) for row in rows("ba_basic")}
    return sorted(found | {float(row["pitch_mm"]) for row in rows("iso_7_1_jis")})


def neighbours(found: list[Candidate], counted: Counted) -> list[float]:
    """The pitches of the last two rows, which say why the other kind of thread does not fit."""
    return [(counted.length - row.pitch_difference) / counted.pitches for row in found[-2:]]


@pytest.mark.parametrize(
    ("outside", "pitch"), [(19.0, 1.5875), (25.3, 3.175), (6.3, 1.27), (76.0, 6.35), (6.3, 0.8), (6.3, 0.794)]
)
def test_the_metric_neighbours_of_an_inch_thread(outside: float, pitch: float) -> None:
    """The next at or below the pitch and the next above it, of every pitch that a list prints."""
    counted = Counted(10, 10 * pitch)
    found = identify(outside, counted, unit="mm")
    assert found[0].verdict.startswith("fits")
    below = max(p for p in metric_pitches() if p <= pitch + 1e-9)
    above = min(p for p in metric_pitches() if p > pitch + 1e-9)
    assert neighbours(found, counted) == pytest.approx([below, above], abs=1e-4)


@pytest.mark.parametrize(("outside", "pitch"), [(29.8, 2.0), (9.9, 1.5), (99.0, 6.0), (4.95, 0.79375)])
def test_the_inch_neighbours_of_a_metric_thread(outside: float, pitch: float) -> None:
    """Whole threads per inch to either side; exactly so many stand with the next finer."""
    counted = Counted(10, 10 * pitch)
    found = identify(outside, counted, unit="mm")
    assert found[0].verdict.startswith("fits")
    fewer = int(Fraction("25.4") / Fraction(str(pitch)))
    per_inch = [25.4 / p for p in neighbours(found, counted)]
    assert per_inch == pytest.approx([fewer, fewer + 1])


def verdict_of(callout: str, outside: float, length: float, taper: float | None = None, unit: str = "mm") -> str | None:
    """The first words on one thread, None where it is not listed."""
    found = {row.callout: row.verdict for row in identify(outside, Counted(10, length), taper, unit)}
    return found[callout].partition(":")[0] if callout in found else None


def test_how_far_off_a_thread_still_fits_and_is_still_listed() -> None:
    """docs: the pitch by 1 % of the length, the outside by a quarter of the pitch under and a twentieth over.

    Listed are pitches off by up to 7 % of the length and outsides by up to one pitch, where nothing fits.
    """
    for outside, words in ((-0.249, "fits"), (-0.251, "does not fit"), (0.049, "fits"), (0.051, "does not fit")):
        assert verdict_of("M30x2", 30 + 2 * outside, 20.0) == words
    for share, words in ((0.0099, "fits"), (0.0101, "does not fit"), (-0.0099, "fits"), (-0.0101, "does not fit")):
        assert verdict_of("M30x2", 29.9, 20 / (1 - share)) == words
    # M200x8 has no neighbour between 6 and 8 mm or 3 and 4 threads per inch near it
    for share, words in ((0.0699, "does not fit"), (0.0701, None), (-0.0699, "does not fit"), (-0.0701, None)):
        found = identify(200, Counted(10, 80 / (1 - share)), 0, "mm")
        listed = [row for row in found if row.callout == "M200x8"]
        assert bool(listed) == bool(words), share
    for outside, listed in ((0.99, True), (-0.99, True), (1.01, False), (-1.01, False)):
        assert bool(verdict_of("M5x0.8", 5 + 0.8 * outside, 8 * 1.05)) == listed, outside


def test_how_far_a_measured_taper_may_be_off() -> None:
    """A fifth of 1 in 16; of a parallel thread a fifth of a hundredth."""
    for taper, listed in ((1.19, True), (1.21, False), (0.81, True), (0.79, False)):
        assert bool(verdict_of("3/4-14 NPT", 1.05, 10 / 14, taper / 16, "in")) == listed, taper
    for taper, listed in ((0.0019, True), (0.0021, False), (-0.0019, True), (-0.0021, False)):
        assert bool(verdict_of("M30x2", 29.9, 20.0, taper)) == listed, taper


def test_the_nearest_comes_first_and_twelve_are_listed_before_the_neighbours() -> None:
    """Each difference in shares of what is allowed for it, the two added: read off the rows themselves."""
    longer, fits = 0, 0
    for outside in (5.93, 6.1, 7.3, 10.0, 11.2, 13.1, 19.0, 25.3, 101.5):
        for pitch in (0.8, 1.0, 1.34, 1.5, 1.59, 2.0, 3.17):
            counted = Counted(10, 10 * pitch)
            found = identify(outside, counted, unit="mm") if pitch < outside / 2 else []
            good = [row for row in found if row.verdict.startswith("fits")]
            shares = [off(row, counted) for row in good or found[:12] if row.diameter_difference is not None]
            assert shares == sorted(shares), (outside, pitch)
            for row in found[12:]:
                own = (counted.length - row.pitch_difference) / 10
                per_inch = int(25.4 / pitch + 1e-9)
                beside = [max(p for p in metric_pitches() if p <= pitch), min(p for p in metric_pitches() if p > pitch)]
                beside += [25.4 / per_inch, 25.4 / (per_inch + 1)]
                assert any(own == pytest.approx(p, abs=1e-4) for p in beside), (outside, pitch, row)
                longer += 1
            fits += len(good) > 1
    assert longer >= 8
    assert fits >= 5


def off(row: Candidate, counted: Counted) -> float:
    """How far off a row is: 1 % of the pitch counts as much as a quarter of it under, or a twentieth over, outside."""
    pitch = (counted.length - row.pitch_difference) / counted.pitches
    allowed = pitch / 20 if row.diameter_difference > 0 else pitch / 4
    return abs(row.pitch_percent) + abs(row.diameter_difference) / allowed


def test_what_is_too_little_to_be_shown_is_not_shown_as_nothing() -> None:
    """An outside off by less than half the last place shown has no sign; one off by a place or two has."""
    for off_by, words in ((0.004, "outside 0.004 mm over basic"), (-0.002, "outside 0.002 mm under basic")):
        assert words in identify(30 + off_by, Counted(10, 20.0), unit="mm")[0].verdict
    assert identify(30.0004, Counted(10, 20.0), unit="mm")[0].verdict == "fits: pitch agrees; outside basic"


def test_a_pitch_that_agrees_with_a_neighbour_says_so() -> None:
    """10 in 10.16 mm are 25 threads per inch exactly, of which no standard thread is near 5.9 mm."""
    words = {row.callout: row.verdict for row in identify(5.9, Counted(10, 10.16), unit="mm")}
    assert words["25 threads per inch"].startswith("does not fit: the pitch agrees; no standard thread")
    assert words["pitch 1.25 mm"].startswith("does not fit: 10 pitches would be 12.500 mm, 2.340 mm (23.0 %) more")
