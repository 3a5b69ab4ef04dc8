"""Which thread is this: the worn screw of the shop, near misses between inch and metric pitches, and refusals."""

from __future__ import annotations

import pytest

from sheetfuncs import evaluate, standards
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.identify import Counted, identify, read_counted


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
