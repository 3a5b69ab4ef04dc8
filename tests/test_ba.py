"""BA threads: spellings, published sizes, tolerance formulas, wires and depth."""

from __future__ import annotations

from math import ceil, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from older_threads import is_placed_or_refused, read, reads_back
from published_rows import agrees, rows

from sheetfuncs import cutting, wires
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.standards.ba import SYSTEM

SPELLINGS = [
    ("2 BA", "2 BA"),
    ("2ba", "2 BA"),
    ("No. 2 BA", "2 BA"),
    ("#2 B.A.", "2 BA"),
    ("2BA normal", "2 BA normal bolt"),
    ("2 BA (close)", "2 BA close bolt"),
    ("2 BA-normal class bolt", "2 BA normal bolt"),
    ("0BA nut LH", "0 BA nut LH"),
    ("16 BA normal", "16 BA normal bolt"),
    ("2 BA bolt", "2 BA bolt"),
]


@pytest.mark.parametrize(("typed", "written"), SPELLINGS)
def test_spellings(typed: str, written: str) -> None:
    assert SYSTEM.write(reads_back(SYSTEM, typed)) == written


REFUSED = [
    ("17 BA", OutOfRange, "0 BA to 16 BA"),
    ("2 BA normal nut", NotUnderstood, "one class of nut, without a name; write 2 BA nut"),
    ("12 BA close", NotGiven, "close class for 0 to 10 BA; write 12 BA normal"),
    ("2 BA medium", NotUnderstood, "'medium' is no class or side here; the words are close, normal"),
]


@pytest.mark.parametrize(("typed", "kind", "sentence"), REFUSED)
def test_refusals(typed: str, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        read(SYSTEM, typed)


@pytest.mark.parametrize("text", ["2 BA", "2 BA bolt"])
def test_limits_need_a_side_and_for_bolts_a_class(text: str) -> None:
    with pytest.raises(NotGiven, match=r"external: close \(0 to 10 BA\), normal; internal: nut"):
        SYSTEM.limits(read(SYSTEM, text))


@pytest.mark.parametrize("text", ["3/4-16 UNF-2A", "1/2-12 BSW", "2 BAR", "G 3/4", "3/4-14 NPT", ""])
def test_text_of_other_systems_is_left_alone(text: str) -> None:
    assert SYSTEM.read(text) is None


@given(st.text(max_size=12).map(lambda tail: f"2 BA {tail}") | st.text(max_size=25))
def test_any_text(text: str) -> None:
    is_placed_or_refused(SYSTEM, text)


@given(
    number=st.integers(0, 16),
    words=st.sampled_from(["", "close", "normal", "nut", "bolt", "normal bolt"]),
    left_hand=st.booleans(),
)
def test_reading_undoes_writing(number: int, words: str, left_hand: bool) -> None:
    if number <= 10 or words != "close":
        thread = reads_back(SYSTEM, f"{number}BA {words}{'-LH' * left_hand}")
        assert (thread.series, thread.left_hand) == (str(number), left_hand)


def test_every_standard_thread_reads_back() -> None:
    for thread in SYSTEM.standard_threads():
        assert read(SYSTEM, SYSTEM.write(thread)) == thread


def test_published_basic_sizes() -> None:
    assert len(rows("ba_basic")) == len(SYSTEM.standard_threads()) == 17
    for row in rows("ba_basic"):
        thread = read(SYSTEM, row["thread"])
        basic = SYSTEM.basic(thread)
        assert agrees(thread.pitch, row["pitch"])
        for value, name in zip(basic, ("major", "pd", "minor")):
            assert agrees(value, row[name]), (row, name)
        assert agrees((basic.major - basic.minor) / 2, row["depth"])


def test_the_table_follows_the_rule_of_the_system() -> None:
    """Pitch 0.9^n to two figures; diameter close to 6 P^1.2 (enthusiasts' pages on BS 93)."""
    for thread in SYSTEM.standard_threads():
        assert float(f"{0.9 ** int(thread.series):.2g}") == thread.pitch
        assert thread.diameter == pytest.approx(6 * thread.pitch**1.2, abs=0.07)


def test_published_inches() -> None:
    for row in rows("ba_inches"):
        thread = read(SYSTEM, row["thread"])
        assert agrees(thread.diameter / 25.4, row["major_in"])
        assert not row["pitch_mm"] or agrees(thread.pitch, row["pitch_mm"])


def test_wires() -> None:
    """H is printed as 1.13634 P and the best wire is P / (2 cos 23.75): a gauge maker's page, BA series."""
    thread = read(SYSTEM, "0 BA")
    assert agrees(wires.best_wire(thread), "0.5463")  # 0.5 / cos 23.75 = 0.5 / 0.91531
    wire = 0.55
    assert agrees(wire * (1 + 1 / sin(radians(23.75))) - wires.wire_constant(thread, wire), "1.13634")


def test_where_no_wire_serves_all_over_the_tolerance_it_is_said() -> None:
    """16 BA, P .19: at .631 with a crest of .79 a wire is flush at (.159 + .095 / tan 23.75) / (1 + 1 / sin 23.75)."""
    flush = (0.79 - 0.631 + 0.095 / tan(radians(23.75))) / (1 + 1 / sin(radians(23.75)))
    said = rf"no wire serves 16 BA normal bolt .* over {ceil(flush * 1e4) / 1e4} mm, on the flanks at most 0\.1071;"
    with pytest.raises(NotGiven, match=said):
        wires.wire_range(read(SYSTEM, "16 BA normal bolt"))


@pytest.mark.parametrize("words", ["close", "normal"])
def test_depth_with_the_tip_of_the_form_is_the_depth_of_the_thread(words: str) -> None:
    for row in rows("ba_basic")[:11]:
        thread = read(SYSTEM, f"{row['thread']} {words}")
        start = SYSTEM.limits(thread).major.max
        found = cutting.depth(thread, Tip("radius", 0.1808346 * thread.pitch), "max", start)
        assert found == pytest.approx(float(row["depth"]), abs=0.0015), row
        with pytest.raises(OutOfRange, match="too blunt"):
            cutting.depth(thread, Tip("radius", 0.2 * thread.pitch), "max", start)
