"""Buttress inch threads: printed tolerances and proportions, spellings, refusals, and depth to the printed root."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import agrees, rows

from sheetfuncs import cutting, forms
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import BUTTRESS, Tip
from sheetfuncs.standards import buttress
from sheetfuncs.units import tidy

LIMITS = ("major_max", "major_min", "pd_max", "pd_min", "minor_max", "minor_min")
FORM = {row["quantity"]: row["share_of_pitch"] for row in rows("buttress_form")}


def read(text: str):
    return buttress.read(tidy(text))


def full_form_tip(thread) -> Tip:
    kind, _, largest, _ = cutting.tip(thread)[0]
    return Tip(kind, largest)


def test_printed_tolerances_of_class_2() -> None:
    """Table 4 of ASME B1.9; every diameter of a range has the same."""
    table = rows("buttress_tolerances")
    assert len(table) == 19
    for row in table:
        low, high = float(row["d_over"]), float(row["d_thru"])
        for diameter in (low + 0.001, (low + high) / 2, high):
            found = buttress.pitch_diameter_tolerance(diameter, 1 / float(row["tpi"]), 2)
            assert agrees(found, row["tolerance"]), (row, diameter)


def test_tolerances_of_the_whole_formula() -> None:
    """Para. 6.1: 0.002 D^(1/3) + 0.002 78 Le^(1/2) + 0.008 54 P^(1/2) with the middle of the range and Le = 10 P."""
    for row in rows("buttress_tolerances"):
        middle, pitch = (float(row["d_over"]) + float(row["d_thru"])) / 2, 1 / float(row["tpi"])
        whole = 0.002 * middle ** (1 / 3) + 0.00278 * (10 * pitch) ** 0.5 + 0.00854 * pitch**0.5
        assert buttress.pitch_diameter_tolerance(middle, pitch, 2) == pytest.approx(whole, abs=7e-5)


def test_the_printed_proportions_are_the_geometry_of_the_form() -> None:
    """Table 3 of ASME B1.9 against the form of 7 and 45 degrees, no number of the module."""
    below = forms.vertex_below_pitch_line(BUTTRESS, 1.0)
    truncation = forms.tip_shortening(BUTTRESS, Tip("radius", float(FORM["root_radius"])))
    shares = {
        "sharp_height": forms.sharp_height(BUTTRESS, 1.0),
        "crest_truncation": below - 0.3,
        "crest_width": (below - 0.3) * BUTTRESS.spread,
        "root_truncation": truncation,
        "root_flat": truncation * BUTTRESS.spread,
        "thread_height": below + 0.3 - truncation,
        "internal_major_above_basic": 2 * (below - 0.3 - truncation),
        "external_minor_below_major": 2 * (below + 0.3 - truncation),
        "pitch_line_to_far_root": 2 * (below - truncation / 2),
    }
    for name, value in shares.items():
        assert agrees(value, FORM[name], places_off=1), (name, value)


def test_limits_of_the_handbook_example() -> None:
    for row in rows("buttress_limits"):
        found = buttress.limits(read(row["thread"]))
        ends = [end for size in (found.major, found.pitch, found.minor) for end in size[:2]]
        for name, value in zip(LIMITS, ends):
            assert not row[name] or agrees(value, row[name]), (row["thread"], name, value)
        assert not row["allowance"] or agrees(found.allowance, row["allowance"])


def test_limits_are_in_order_and_class_3_is_finer() -> None:
    for thread in buttress.standard_threads():
        callout = buttress.write(thread)
        for grade in "23":
            screw, nut = (buttress.limits(read(f"{callout}-{grade}{side}")) for side in "AB")
            assert screw.minor.min < screw.minor.max < nut.minor.min < nut.minor.max
            assert screw.pitch.min < screw.pitch.max < nut.pitch.min < nut.pitch.max
            assert screw.major.min < screw.major.max < nut.major.min < nut.major.max
        fine, coarse = (buttress.limits(read(f"{callout}-{grade}A")) for grade in "32")
        assert fine.pitch.max == coarse.pitch.max
        assert fine.pitch.min > coarse.pitch.min
        assert fine.pitch.max - fine.pitch.min == pytest.approx(fine.allowance)


SPELLINGS = [
    ("2.5-8 BUTT-2A", "2.5-8 BUTT-2A"),
    ("2.5-8 BUTT-2A-LH", "2.5-8 BUTT-2A-LH"),
    ("2.5-8 PUSH-BUTT-2A-LH-FL", "2.5-8 PUSH-BUTT-2A-LH-FL"),
    ("2 1/2 - 8 butt - 2a lh", "2.5-8 BUTT-2A-LH"),
    ("2-1/2-8 Push Butt 3B", "2.5-8 PUSH-BUTT-3B"),
    ("2.5-8 PULL-BUTT-2A", "2.5-8 BUTT-2A"),
    ("5/8-20BUTT", "0.625-20 BUTT"),
    ("5/8-20 BUTTRESS 2A FL", "0.625-20 BUTT-2A-FL"),
    ("2.5-8 BUTT-FL-LH", "2.5-8 BUTT-LH-FL"),
    ("10-2.5 BUTT-3B", "10-2.5 BUTT-3B"),
    ("10 - .25P - .5L BUTT - 3B - LH", "10-0.25P-0.5L-BUTT-3B-LH"),
]


@pytest.mark.parametrize(("typed", "written"), SPELLINGS)
def test_spellings(typed: str, written: str) -> None:
    assert buttress.write(read(typed)) == written


@given(
    thread=st.sampled_from(buttress.standard_threads()),
    starts=st.integers(1, 4),
    thread_class=st.sampled_from(["", "2A", "3A", "2B", "3B"]),
    series=st.sampled_from(["BUTT", "PUSH-BUTT", "BUTT-FL", "PUSH-BUTT-FL"]),
    left_hand=st.booleans(),
)
def test_reading_undoes_writing(thread, starts: int, thread_class: str, series: str, left_hand: bool) -> None:
    side = {"": "", "A": "external", "B": "internal"}[thread_class[-1:]]
    whole = thread._replace(starts=starts, thread_class=thread_class, series=series, side=side, left_hand=left_hand)
    assert read(buttress.write(whole)) == whole
    assert read(buttress.write(whole).lower().replace("-", " - ")) == whole


@given(st.text(alphabet='0123456789./- PUSHLBTAF()"', max_size=10), st.text(alphabet="-23ABLHF ", max_size=8))
def test_any_text_is_a_thread_or_a_sentence_or_not_ours(front: str, back: str) -> None:
    for text in (front + back, f"{front}BUTT{back}"):
        try:
            thread = buttress.read(tidy(text))
        except CellError:
            continue
        assert thread is None or read(buttress.write(thread)) == thread


@pytest.mark.parametrize("text", ["M20x2.5-6g", "3/4-16 UNF-2A", "1-5 ACME-2G", "Tr40x7-7e", "2.5-8", ""])
def test_text_of_other_systems_is_left_to_them(text: str) -> None:
    assert buttress.read(text) is None


REFUSALS = [
    ("2.5-8 BUTT-1A", NotUnderstood, "classes 2 and 3"),
    ("2.5-8 BUTT-2", NotUnderstood, "add A .external. or B"),
    ("2.5-8 BUTT-2G", NotUnderstood, "as in 2.5-8 BUTT-2A"),
    ("0.4-20 BUTT-2A", OutOfRange, "0.5 to 24 in"),
    ("2.5-24 BUTT-2A", OutOfRange, "1 to 20 threads per inch"),
    ("2.5-0 BUTT-2A", OutOfRange, "1 to 20 threads per inch"),
    ("0.5-1 BUTT-2A", OutOfRange, "can't be cut"),
    ("10-0.25P-0.6L-BUTT-3B", NotUnderstood, "not a whole number of pitches"),
]


@pytest.mark.parametrize(("text", "kind", "words"), REFUSALS)
def test_refusals(text: str, kind: type[CellError], words: str) -> None:
    with pytest.raises(kind, match=words):
        read(text)


def test_no_limits_without_a_class() -> None:
    with pytest.raises(NotGiven, match="external: 2A, 3A"):
        buttress.limits(read("2.5-8 BUTT"))


@pytest.mark.parametrize("callout", ["2.5-8 BUTT-2A", "2.5-8 BUTT-3A-FL", "20-1 PUSH-BUTT-2A", "2.5-8 BUTT-2B"])
def test_the_full_form_tool_cuts_the_printed_root(callout: str) -> None:
    """Table 3: at maximum material crest to root is 0.662 71 P deep; aimed at mid, half the tolerance deeper."""
    thread = read(callout)
    found, basic = buttress.limits(thread), buttress.basic(thread)
    outside = thread.side == "external"
    crest = basic.major - found.allowance if outside else basic.minor
    infeed = cutting.depth(thread, full_form_tip(thread), "mid", crest)
    deeper = (found.pitch.max - found.pitch.min) / 4
    assert infeed - deeper == pytest.approx(float(FORM["thread_height"]) * thread.pitch, abs=8e-5)


def test_a_tip_past_the_mating_crest_is_refused() -> None:
    thread = read("2.5-8 BUTT-2A")
    with pytest.raises(OutOfRange, match="too blunt"):
        cutting.depth(thread, Tip("radius", 0.13 * thread.pitch), "max", 2.49)


def test_buttress_takes_twenty_threads_an_inch_and_no_finer() -> None:
    assert read("1-20 BUTT").pitch == 1 / 20
    for tpi in ("20.5", "21"):
        with pytest.raises(OutOfRange, match="1 to 20 threads per inch"):
            read(f"1-{tpi} BUTT")


def test_buttress_pairs_by_ranges_and_by_the_cells_of_the_tolerance_table() -> None:
    listed = {
        (float(diameter), float(tpi))
        for row in rows("buttress_pairs")
        for diameter in row["diameters"].split()
        for tpi in row["tpi"].split()
    }
    ours = {(thread.diameter, round(1 / thread.pitch, 6)) for thread in buttress.standard_threads()}
    assert ours == listed
    cells = [(float(row["tpi"]), float(row["d_over"]), float(row["d_thru"])) for row in rows("buttress_tolerances")]
    for tpi in {cell[0] for cell in cells}:
        for diameter in {d for d, n in ours if n == tpi}:
            assert any(
                n == tpi and (low < diameter or low == 0.5 == diameter) and diameter <= high for n, low, high in cells
            ), (diameter, tpi)
