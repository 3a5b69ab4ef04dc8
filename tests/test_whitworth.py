"""Whitworth threads: spellings, published sizes, tolerance formulas, wires and depth."""

from __future__ import annotations

from decimal import Decimal
from math import sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from older_threads import is_placed_or_refused, read, reads_back
from published_rows import agrees, every_row, rows

from sheetfuncs import cutting, wires
from sheetfuncs.designations import Thread
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
    ("1/2-12 BSW 2A", NotUnderstood, "'2A' is no class or side"),
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


def test_every_pair_of_a_gauge_makers_range() -> None:
    compared = 0
    for row in rows("whitworth_series"):
        for series, column in (("BSW", "bsw_tpi"), ("BSF", "bsf_tpi")):
            printed = row[column].strip("()")
            if printed == "-":
                continue
            thread = read(SYSTEM, f"{row['size']} {series}")
            assert thread.pitch == pytest.approx(1 / float(printed)), (row, series)
            compared += 1
    assert compared == 28 + 28


def test_sizes_that_no_list_has_are_not_made_up() -> None:
    """BSF 4 1/2 stands in that range alone, BSF 4 1/4 in none."""
    (odd,) = (row for row in every_row("whitworth_series") if row["flag"])
    for size in (odd["size"], "4 1/4"):
        with pytest.raises(NotUnderstood, match=f"BSF lists no {size}"):
            read(SYSTEM, f"{size} BSF")


def printed_tolerance(formula: str, thread: Thread) -> Decimal:
    """A formula of tests/published/whitworth_tolerances.csv, worked to 20 places from the callout's own fractions."""
    d, tpi = Decimal(str(thread.diameter)), Decimal(str(round(1 / thread.pitch, 6)))
    p = 1 / tpi
    roots = {"root(p)": p.sqrt(), "root(L)": d.sqrt(), "root3(d)": d ** (Decimal(1) / 3), "p": p}
    total = Decimal(0)
    for part in formula.split(" + "):
        if " from " in part:
            finest, middle, coarse = (piece.split()[0] for piece in part.split(" / "))
            total += Decimal(finest if tpi >= 26 else middle if tpi >= 22 else coarse)
            continue
        share, _, of = part.rpartition(" ")
        above, _, below = (share or "1").partition("/")
        value = printed_tolerance(T_FORMULA, thread) if of == "T" else roots[of]
        total += Decimal(above) / Decimal(below or 1) * value
    return total


T_FORMULA = next(row["effective"] for row in rows("whitworth_tolerances") if row["member"] == "T")
SIZES = ["1/8 BSW", "1/4 BSW", "1/4 BSF", "1/2 BSW", "3/4 BSF", "7/8 BSW", "1 BSF", "2 1/4 BSW", "6 BSW"]


@pytest.mark.parametrize("row", rows("whitworth_tolerances")[1:], ids=lambda row: f"{row['class']} {row['member']}")
@pytest.mark.parametrize("size", SIZES)
def test_tolerances_by_the_text_of_the_printed_formulas(size: str, row: dict[str, str]) -> None:
    """No table of limits was found; the formulas are read as printed, no number of the module is used."""
    thread = read(SYSTEM, f"{size} {row['class']} {row['member']}")
    found = SYSTEM.limits(thread)
    for zone, column in ((found.major, "major"), (found.pitch, "effective"), (found.minor, "minor")):
        if row[column]:
            width = Decimal(str(zone.max)) - Decimal(str(zone.min))
            assert abs(width - printed_tolerance(row[column], thread)) <= Decimal("0.000051"), (size, column)
    if row["member"] == "nut":
        assert (found.major.max, found.major.min, found.allowance) == (None, thread.diameter, 0)
    else:
        assert found.major.max == pytest.approx(thread.diameter - found.allowance)


def test_bolts_start_and_nuts_end_at_basic_size() -> None:
    """MH27 p. 1857: the basic sizes are the largest of bolts (less the allowance) and the smallest of nuts."""
    for size in SIZES:
        major, middle, minor = (round(basic, 4) for basic in SYSTEM.basic(read(SYSTEM, size)))
        for name in ("close", "medium", "free"):
            bolt = SYSTEM.limits(read(SYSTEM, f"{size} {name} bolt"))
            for zone, basic in ((bolt.major, major), (bolt.pitch, middle), (bolt.minor, minor)):
                assert zone.max == pytest.approx(basic - bolt.allowance, abs=1e-9)
        for name in ("close", "medium", "normal"):
            nut = SYSTEM.limits(read(SYSTEM, f"{size} {name} nut"))
            for zone, basic in ((nut.major, major), (nut.pitch, middle), (nut.minor, minor)):
                assert zone.min == pytest.approx(basic, abs=1e-9)


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
