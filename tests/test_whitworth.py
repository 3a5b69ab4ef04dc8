"""Whitworth threads: spellings, published sizes, tolerance formulas, wires and depth."""

from __future__ import annotations

from math import sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from older_threads import is_placed_or_refused, read, reads_back
from published_rows import agrees, every_row, rows

from sheetfuncs import cutting, wires
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.standards.whitworth import SYSTEM

SPELLINGS = [
    ("1/2-12 BSW", "1/2-12 BSW"),
    ("1/2 - 12 bsw", "1/2-12 BSW"),
    ("1/2-12BSW", "1/2-12 BSW"),
    ("1/2 BSW", "1/2-12 BSW"),
    ('1/2" B.S.W.', "1/2-12 BSW"),
    ("0.5-12 BSW", "1/2-12 BSW"),
    ("1/2-16 BSF", "1/2-16 BSF"),
    ("1 1/4-7 BSW", "1 1/4-7 BSW"),
    ("1-1/4-7 BSW", "1 1/4-7 BSW"),
    ("1-1/4 BSW", "1 1/4-7 BSW"),
    ("2-4 1/2 BSW", "2-4.5 BSW"),
    ("1/2-12 BSW close", "1/2-12 BSW close bolt"),
    ("1/2-12 BSW-free", "1/2-12 BSW free bolt"),
    ("1/2-12 BSW normal", "1/2-12 BSW normal nut"),
    ("1/2 - 12 BSW (medium) nut", "1/2-12 BSW medium nut"),
    ("1/2-12 BSW, bolt, Medium class", "1/2-12 BSW medium bolt"),
    ("1/2-12 BSW medium external", "1/2-12 BSW medium bolt"),
    ("1/2-12 BSW close nut", "1/2-12 BSW close nut"),
    ("1/2-12 BSW nut", "1/2-12 BSW nut"),
    ("1/2-12 BSW medium bolt LH", "1/2-12 BSW medium bolt LH"),
    ("1/2-12 BSW-LH", "1/2-12 BSW LH"),
    ("1/2-16 WHIT", "1/2-16 BSF"),
    ("1/2-20 Whitworth", "1/2-20 WHIT"),
    ("1/2–20 whit.", "1/2-20 WHIT"),
]


@pytest.mark.parametrize(("typed", "written"), SPELLINGS)
def test_spellings(typed: str, written: str) -> None:
    assert SYSTEM.write(reads_back(SYSTEM, typed)) == written


REFUSED = [
    ("1/2-12 BSF", NotGiven, "1/2-12 is BSW, not BSF; BSF on 1/2 is 16"),
    ("1/2-20 BSW", NotGiven, "is no BSW thread; call it WHIT"),
    ("0.3 BSW", NotUnderstood, "write the threads per inch"),
    ("1/2-12 BSW medium", NotUnderstood, "say which, as in 'medium bolt'"),
    ("1/2-12 BSW normal bolt", NotUnderstood, "medium bolt, free bolt"),
    ("1/2-12 BSW free nut", NotUnderstood, "medium nut, normal nut"),
    ("1/2-12 BSW 2A", NotUnderstood, "'2a' is no class or side"),
    ("1/2-3 WHIT", OutOfRange, "can't be cut"),
    ("50-3 WHIT", OutOfRange, "is no Whitworth size"),
]


@pytest.mark.parametrize(("typed", "kind", "sentence"), REFUSED)
def test_refusals(typed: str, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        read(SYSTEM, typed)


def test_limits_need_a_class_and_a_length_of_engagement() -> None:
    with pytest.raises(NotGiven, match="close bolt, medium bolt, free bolt; internal: close nut"):
        SYSTEM.limits(read(SYSTEM, "1/2-12 BSW nut"))
    with pytest.raises(NotGiven, match="length of engagement, which is not known"):
        SYSTEM.limits(read(SYSTEM, "1/2-20 WHIT medium bolt"))


@pytest.mark.parametrize("text", ["3/4-16 UNF-2A", "M20x2.5-6g", "2 BA", "G 3/4", "3/4-14 NPT", ""])
def test_text_of_other_systems_is_left_alone(text: str) -> None:
    assert SYSTEM.read(text) is None


@given(st.text(max_size=12).map(lambda tail: f"1/2-12 BSW {tail}") | st.text(max_size=25))
def test_any_text(text: str) -> None:
    is_placed_or_refused(SYSTEM, text)


@given(
    sixty_fourths=st.integers(8, 384),
    tpi=st.sampled_from([4, 4.5, 6, 8, 10, 11, 12, 14, 16, 19, 20, 26, 28, 32, 40]),
    words=st.sampled_from(["", "close", "medium bolt", "free bolt", "medium nut", "normal nut", "bolt"]),
    left_hand=st.booleans(),
)
def test_reading_undoes_writing(sixty_fourths: int, tpi: float, words: str, left_hand: bool) -> None:
    if sixty_fourths / 64 < 2 / tpi:
        return
    thread = reads_back(SYSTEM, f"{sixty_fourths / 64}-{tpi} WHIT {words}{' LH' * left_hand}")
    assert (thread.diameter, thread.pitch, thread.left_hand) == (sixty_fourths / 64, 1 / tpi, left_hand)


def test_every_standard_thread_reads_back() -> None:
    threads = SYSTEM.standard_threads()
    assert len(threads) > 70
    for thread in threads:
        assert read(SYSTEM, SYSTEM.write(thread)) == thread


def test_published_basic_sizes() -> None:
    """Exact sizes against three sources, which round the depth first or not: within one of the last place."""
    compared = 0
    for row in rows("whitworth_basic"):
        basic = SYSTEM.basic(read(SYSTEM, row["thread"]))
        assert agrees(basic.pitch, row["pd"], 1), row
        assert agrees(basic.minor, row["minor"], 1), row
        compared += 2
    assert compared > 110


def test_flagged_basic_sizes_do_not_agree() -> None:
    flagged = [row for row in every_row("whitworth_basic") if row["flag"]]
    assert flagged
    for row in flagged:
        basic = SYSTEM.basic(read(SYSTEM, row["thread"]))
        assert not (agrees(basic.pitch, row["pd"], 1) and agrees(basic.minor, row["minor"], 1)), row


def test_published_depths_of_the_form() -> None:
    for row in rows("whitworth_form_mh31"):
        thread = read(SYSTEM, f"6-{row['tpi']} WHIT")
        basic = SYSTEM.basic(thread)
        assert agrees((basic.major - basic.minor) / 2, row["h"], 1), row


# Factors of T and what is added, by class and side: the table of formulas, Machinery's Handbook, 27th ed., p. 1857.
FORMULAS = [
    ("close bolt", 2 / 3, 0.01, 0.013),
    ("medium bolt", 1, 0.01, 0.02),
    ("free bolt", 3 / 2, 0.01, 0.02),
    ("close nut", 2 / 3, None, None),
    ("medium nut", 1, None, None),
    ("normal nut", 3 / 2, None, None),
]


@pytest.mark.parametrize(("words", "factor", "crest", "root"), FORMULAS)
@pytest.mark.parametrize("size", ["1/8 BSW", "1/4 BSW", "1/4 BSF", "1/2 BSW", "3/4 BSF", "7/8 BSW", "1 BSF", "6 BSW"])
def test_tolerances_by_the_published_formulas(
    size: str, words: str, factor: float, crest: float | None, root: float | None
) -> None:
    thread = read(SYSTEM, f"{size} {words}")
    found = SYSTEM.limits(thread)
    d, p = thread.diameter, thread.pitch
    t = 0.002 * d ** (1 / 3) + 0.003 * sqrt(d) + 0.005 * sqrt(p)
    assert found.pitch.max - found.pitch.min == pytest.approx(factor * t, abs=0.000051)
    if crest is None:
        added = 0.004 if 1 / p > 25 else 0.005 if 1 / p > 21 else 0.007
        assert found.minor.max - found.minor.min == pytest.approx(0.2 * p + added, abs=0.000051)
        assert (found.major.max, found.major.min, found.allowance) == (None, d, 0)
    else:
        assert found.major.max - found.major.min == pytest.approx(factor * t + crest * sqrt(p), abs=0.000051)
        assert found.minor.max - found.minor.min == pytest.approx(factor * t + root * sqrt(p), abs=0.000051)
        assert found.major.max == pytest.approx(d - found.allowance)


def test_allowance() -> None:
    """Medium and free bolts to 3/4 in, 0.3 T; below 1/4 in that of 1/4 in; none on close bolts and large sizes."""

    def allowance(text: str) -> float:
        return SYSTEM.limits(read(SYSTEM, text)).allowance

    assert allowance("1/4 BSW medium bolt") == allowance("1/8 BSW free bolt") == 0.0012  # 0.3 x 0.003878
    assert allowance("3/4 BSW medium bolt") == 0.0018  # 0.3 x (0.001817 + 0.002598 + 0.001581)
    assert allowance("7/8 BSW medium bolt") == allowance("1/4 BSW close bolt") == 0


def test_published_wire_constants() -> None:
    for row in rows("wires_constants_mh31"):
        thread = read(SYSTEM, f"6-{row['tpi']} WHIT")
        wire = 0.6 * thread.pitch
        groove = wire * (1 + 1 / sin(0.479965544298)) - wires.wire_constant(thread, wire)  # 27.5 degrees in radians
        assert agrees(groove, row["cWhit_0.9605P"], 1), row  # the source works with 0.9605 P


def test_best_wire_factor() -> None:
    """A gauge supplier prints 0.563692 P for the best Whitworth wire, 0.50568 P for the smallest."""
    thread = read(SYSTEM, "1-10 WHIT")
    assert agrees(wires.best_wire(thread) * 10, "0.56369")
    assert agrees(wires.wire_range(thread)[0][0] * 10, "0.50568")


@pytest.mark.parametrize("words", ["close bolt", "medium bolt", "free bolt", "medium nut", "normal nut"])
def test_depth_with_the_tip_of_the_form_is_the_depth_of_the_thread(words: str) -> None:
    """12 threads: depth 0.053361, radius 0.137329 P = 0.011444 (Machinery's Handbook, 31st ed., p. 2087)."""
    thread = read(SYSTEM, f"1/2-12 BSW {words}")
    found = SYSTEM.limits(thread)
    limit, start = ("min", found.minor.min) if thread.side == "internal" else ("max", found.major.max)
    assert cutting.depth(thread, Tip("radius", 0.011444), limit, start) == pytest.approx(0.053361, abs=0.0001)
    with pytest.raises(OutOfRange, match="too blunt"):
        cutting.depth(thread, Tip("radius", 0.0125), limit, start)
