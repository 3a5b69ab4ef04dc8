"""Coating and virtual diameter: hand-worked figures, customary factors, and a drawing of two threads meeting."""

from __future__ import annotations

from math import cos, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetfuncs import evaluate, functional, standards
from sheetfuncs.errors import OutOfRange
from sheetfuncs.forms import BUTTRESS, TWENTY_NINE


def test_coating_counts_four_times_at_60_degrees_and_by_geometry_elsewhere() -> None:
    """ASME B1.1-2003, section 7; ASME B1.5: 29 degrees 7.9 to 8 times, 2 / sin 14.5."""
    assert functional.coating_factor(standards.SYSTEMS["iso_metric"].form) == pytest.approx(4)
    assert functional.coating_factor(TWENTY_NINE) == pytest.approx(2 / sin(radians(14.5)))
    # 7/45: the grooves' walls move in by t / cos 7 and t / cos 45, and the V narrows tan 7 + tan 45 per unit of depth
    assert functional.coating_factor(BUTTRESS) == pytest.approx(2 * (1.00751 + 1.41421) / (0.12278 + 1), abs=1e-4)


def test_the_allowance_of_2a_and_6g_takes_a_thin_coating() -> None:
    for callout, thickness in (("3/4-16 UNF-2A", 0.00037), ("M20x2.5-6g", 0.0104)):
        table = evaluate("THREAD_BEFORE_COATING", callout, thickness / 2, thickness)
        limits = evaluate("THREAD_LIMITS", callout)
        assert [row[1:3] for row in table[1:]] == [row[1:3] for row in limits[1:]]
        assert {row[3] for row in table[1:]} == {"the allowance takes it"}


def test_a_thick_coating_moves_the_band() -> None:
    """1/2-13 UNC-3A, pitch .4500/.4463, coating .0002 to .0004: .4500 - .0016 and .4463 - .0008 by hand."""
    rows = evaluate("THREAD_BEFORE_COATING", "1/2-13 UNC-3A", 0.0002, 0.0004)
    assert rows[2][1:3] == pytest.approx([0.4484, 0.4455])
    inside = evaluate("THREAD_BEFORE_COATING", "1/2-13 UNC-3B", 0.0002, 0.0004)
    assert inside[2][1:3] == pytest.approx([0.4548 + 0.0008, 0.4500 + 0.0016])


# ASME B1.20.1-1983, 1/2-14: E1 .77843, one turn of 1/14 by the taper, .00446, either way; truncation .033 to .078 P.
# ISO 7-1:1994, 3/4: 25.279, T1 one turn and T2 a turn and a quarter of 1.814 by the taper, .113 and .142 either way.
BOTH_WAYS = {
    ("1/2-14 NPT external", "pitch"): (0.78289 - 4 * 0.0006, 0.77396 - 4 * 0.0003),
    ("1/2-14 NPT internal", "pitch"): (0.78289 + 4 * 0.0003, 0.77396 + 4 * 0.0006),
    ("1/2-14 NPT external", "major"): (0.84004 - 2 * 0.0006, 0.82468 - 2 * 0.0003),
    ("1/2-14 NPT internal", "minor"): (0.73218 + 2 * 0.0003, 0.71682 + 2 * 0.0006),
    ("R 3/4", "pitch"): (25.392 - 0.0006 * 4.3314, 25.166 - 0.0003 * 4.3314),
    ("Rc 3/4", "pitch"): (25.421 + 0.0003 * 4.3314, 25.137 + 0.0006 * 4.3314),
    ("Rp 3/4", "pitch"): (25.421 + 0.0003 * 4.3314, 25.137 + 0.0006 * 4.3314),
    ("#6-32 UNC-2B", "minor"): (0.114 + 2 * 0.0003, 0.104 + 2 * 0.0006),
    ("1/2-13 UNC-2B", "minor"): (0.434 + 2 * 0.0003, 0.417 + 2 * 0.0006),
    ("5/8-11 UNC-3B", "minor"): (0.5391 + 2 * 0.0003, 0.527 + 2 * 0.0006),
}
"""By hand, for a coating of .0003 to .0006 in the thread's own unit; four times at 60 degrees, 2 / sin 27.5 at 55.

The bore of #6-32 is printed .104 (ASME B1.1-2003, Table 2A), .0002 under basic, those of 1/2-13 and 5/8-11 .417 and
.527, .0003 and .0004 over it: a last place is no allowance.
"""


@pytest.mark.parametrize(("callout", "which"), BOTH_WAYS)
def test_a_tolerance_past_basic_size_is_no_allowance(callout: str, which: str) -> None:
    rows = {row[0]: row for row in evaluate("THREAD_BEFORE_COATING", callout, 0.0003, 0.0006)}
    assert rows[which][1:3] == pytest.approx(BOTH_WAYS[callout, which], abs=1.5e-5 if "NPT" in callout else 1e-5)
    way = "over" if standards.read(callout).side == "internal" else "under"
    assert rows[which][3].startswith(f"cut {way}: the allowance is short by ")


# ASME B1.5-1988, Table 3, as a screw maker has it: 1.000/.990 and .8920/.8726. ISO 2903, 7e: d2 36.375 to 36.020, d 40.
OF_CLASS = {
    ("1-5 ACME-2G", "major"): (1.0 - 2 * 0.0006, 0.99 - 2 * 0.0003),
    ("1-5 ACME-2G", "pitch"): (0.892 - 0.0006 * 2 / sin(radians(14.5)), 0.8726 - 0.0003 * 2 / sin(radians(14.5))),
    ("Tr40x7-7e", "pitch"): (36.375 - 0.0006 * 2 / sin(radians(15)), 36.020 - 0.0003 * 2 / sin(radians(15))),
    ("1/2-12 BSW medium bolt", "major"): (0.4985 - 2 * 0.0006, 0.4905 - 2 * 0.0003),
    ("1/2-12 BSW medium bolt", "pitch"): (0.4451 - 0.0006 * 4.3314, 0.4399 - 0.0003 * 4.3314),
}
"""By hand, for a coating of .0003 to .0006: an allowance that no standard leaves to a coating takes none of it."""


@pytest.mark.parametrize(("callout", "which"), OF_CLASS)
def test_only_a_unified_or_metric_allowance_is_left_to_a_coating(callout: str, which: str) -> None:
    """A GO gauge of basic size, which would accept more, is one of class 3A or position h (ASME B1.1, ISO 965-1)."""
    rows = {row[0]: row for row in evaluate("THREAD_BEFORE_COATING", callout, 0.0003, 0.0006)}
    assert rows[which][1:3] == pytest.approx(OF_CLASS[callout, which], abs=1e-5)
    assert rows[which][3] == "cut under: the limits of the class hold after coating"


def test_a_coated_pipe_still_stops_within_a_turn_of_its_place() -> None:
    """1/2-14 NPT, E1 .77843: one turn is .00446 on the diameter; the layer of .0006 adds four times itself."""
    largest = evaluate("THREAD_BEFORE_COATING", "1/2-14 NPT external", 0.0003, 0.0006)[2][1]
    assert (largest + 4 * 0.0006 - 0.77843) * 16 * 14 == pytest.approx(1, abs=2e-3)


def test_a_coating_that_eats_the_tolerance_is_refused() -> None:
    with pytest.raises(OutOfRange, match="leaves no pitch diameter tolerance"):
        evaluate("THREAD_BEFORE_COATING", "1/2-13 UNC-3A", 0.0001, 0.0015)
    with pytest.raises(OutOfRange, match="swap them"):
        evaluate("THREAD_BEFORE_COATING", "1/2-13 UNC-3A", 0.0004, 0.0002)


@pytest.mark.parametrize("callout", ["3/4-16 UNF-2A", "3/4-16 UNF-2B", "2.5-8 BUTT-2A"])
def test_a_coating_that_fills_the_groove_is_refused(callout: str) -> None:
    """The groove is half a pitch wide; by hand a layer t takes t / cos a and t / cos b of it along the axis."""
    thread = standards.read(callout)
    form = standards.system(thread).form
    full = thread.pitch / 2 / sum(1 / cos(radians(flank)) for flank in (form.leading, form.trailing))
    assert len(evaluate("THREAD_BEFORE_COATING", callout, full * 0.999, full * 0.999)) == 4
    with pytest.raises(OutOfRange, match="fills the groove of"):
        evaluate("THREAD_BEFORE_COATING", callout, full, full * 1.001)


def test_ten_micrometres_typed_as_millimetres_give_no_diameter() -> None:
    with pytest.raises(OutOfRange, match=r"a coating of 10 mm fills the groove of M20x2\.5-6g"):
        evaluate("THREAD_BEFORE_COATING", "M20x2.5-6g", 10, 10)


@pytest.mark.parametrize(
    ("errors", "words"),
    [
        ((0.01, 30), "leading_error is 30 degrees; more than 5 is not believed, write 30 minutes as 0.5"),
        ((0.01, 0, -60), "trailing_error is -60 degrees"),
        ((-12,), "lead_deviation is -12 mm, half a pitch of M20x2.5-6g or more"),
    ],
)
def test_errors_that_no_thread_has_are_refused(errors: tuple[float, ...], words: str) -> None:
    """30 minutes typed as degrees would be a millimetre on the pitch diameter, and 60 degrees no flank at all."""
    with pytest.raises(OutOfRange, match=words):
        evaluate("THREAD_VIRTUAL_DIAMETER", "M20x2.5-6g", 18.25, *errors)


@pytest.mark.parametrize(
    ("thread", "size", "words"),
    [
        ("3/4-16 UNF-2A", 17.9, r"pitch_diameter is 17.9 in, nowhere near 0.7094 for 3/4-16 UNF-2A; check its unit"),
        ("M20x2.5-6g", 0.7185, r"pitch_diameter is 0.7185 mm, nowhere near 18.3\d* for M20x2.5-6g; check its unit"),
    ],
)
def test_a_pitch_diameter_in_another_unit_is_refused(thread: str, size: float, words: str) -> None:
    """Basic size, ASME B1.1 and ISO 724: 0.7094 in and 18.376 mm. Two pitches off it, 5 mm, are still believed."""
    with pytest.raises(OutOfRange, match=words):
        evaluate("THREAD_VIRTUAL_DIAMETER", thread, size, 0)
    assert evaluate("THREAD_VIRTUAL_DIAMETER", "M20x2.5-6g", 18.376 - 4.99, 0) == pytest.approx(18.376 - 4.99)


@pytest.mark.parametrize(("leading", "trailing", "k1", "k2"), [(20, 20, 2, 2), (-20, -20, 3, 3), (15, -25, 2, 3)])
def test_customary_equivalents(leading: int, trailing: int, k1: int, k2: int) -> None:
    """FROM MEMORY of books on interchangeability: 1.732 e for lead; 0.073 P (K1 d1 + K2 d2) micrometres for flanks,
    d in minutes of arc, P in mm, K 2 for too large and 3 for too small. 0.073 is rounded from 0.0727. The drawing below
    is the check."""
    simple = 18.25
    lead = evaluate("THREAD_VIRTUAL_DIAMETER", "M20x2.5-6g", simple, -0.012) - simple
    assert lead == pytest.approx(1.732 * 0.012, rel=1e-3)
    flanks = evaluate("THREAD_VIRTUAL_DIAMETER", "M20x2.5-6g", simple, 0, leading / 60, trailing / 60) - simple
    assert flanks * 1000 == pytest.approx(0.073 * 2.5 * (k1 * abs(leading) + k2 * abs(trailing)), rel=0.015)


@given(lead_error=st.floats(-0.05, 0.05), leading=st.floats(-2, 2), trailing=st.floats(-2, 2))
def test_virtual_diameter_by_drawing(lead_error: float, leading: float, trailing: float) -> None:
    """A perfect nut profile is lowered on the faulty flanks until it touches; M20x2.5, checked at the flank ends."""
    thread = standards.read("M20x2.5-6h")
    basic = standards.basic(thread)
    nominal = tan(radians(30))
    needed = 0.0
    for first, second in ((leading, trailing),):
        gaps = []
        for error in (first, second):
            ends = [(basic.major - basic.pitch) / 2, (basic.minor - basic.pitch) / 2]
            # how far the faulty flank stands outside the perfect one, along the axis, at each end
            gaps.append(max(-y * (tan(radians(30 + error)) - nominal) for y in ends))
        needed = 2 * (sum(gaps) + abs(lead_error)) / (2 * nominal)
    found = functional.virtual_diameter(thread, 18.3, lead_error, leading, trailing) - 18.3
    assert found == pytest.approx(needed, abs=1e-12)


def test_inside_it_is_smaller() -> None:
    assert evaluate("THREAD_VIRTUAL_DIAMETER", "M20x2.5-6H", 18.5, 0.01) == pytest.approx(18.5 - 0.01732, abs=1e-5)
