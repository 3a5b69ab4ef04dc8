"""UNJ and MJ threads: printed limits digit for digit, spellings, refusals, and the whole path of a call."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import agrees, rows

from sheetfuncs import cutting, limits, wires
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.standards import iso_metric, mj, unified, unj

LIMITS = ("major_max", "major_min", "pd_max", "pd_min", "minor_max", "minor_min")


@pytest.mark.parametrize(("table", "module", "figures"), [("unj_limits", unj, 26), ("mj_limits", mj, 96)])
def test_printed_limits(table: str, module, figures: int) -> None:
    compared = 0
    for row in rows(table):
        found = module.limits(module.read(row["thread"]))
        ends = (end for size in (found.major, found.pitch, found.minor) for end in size[:2])
        for name, value in zip(LIMITS, ends):
            if row[name]:
                assert agrees(value, row[name]), (row["thread"], name, value)
                compared += 1
    assert compared == figures


def test_printed_root_radii() -> None:
    row = next(row for row in rows("unj_limits") if row["radius_max"])
    found = unj.root_form(unj.read(row["thread"]))
    assert agrees(found.largest, row["radius_max"])
    assert agrees(found.smallest, row["radius_min"])


SMALL_NUTS = tuple(f"No.{number}-" for number in range(6))


@pytest.mark.parametrize("size", ["#0-80 UNJF", "#2-56 UNJC", "#4-40 UNJC", "#4-48 UNJF", "#5-44 UNJF"])
def test_a_nut_whose_bore_would_pass_the_pitch_line_is_refused(size: str) -> None:
    with pytest.raises(NotGiven, match=r"past the pitch diameter 0\.\d{4}; no printed limits of so small a UNJ nut"):
        unj.limits(unj.read(f"{size}-3B"))
    assert unj.limits(unj.read(f"{size}-3A")).minor.max > 0


def test_the_bore_of_every_other_nut_stays_inside_the_pitch_line() -> None:
    kept = 0
    for thread in unj.standard_threads():
        if thread.diameter > 0.126:
            found = unj.limits(thread._replace(thread_class="3B", side="internal"))
            assert found.minor.min < found.minor.max < found.pitch.min
            kept += 1
    assert kept > 400


def test_major_and_pitch_limits_are_those_of_unified_class_3() -> None:
    """SAE AS8879B, foreword: sizes and tolerances are based on the Unified Inch standard."""
    for row in rows("unified_limits"):
        refused = row["thread"].startswith(SMALL_NUTS) and row["thread"].endswith("3B")
        if row["thread"].endswith(("3A", "3B")) and not refused:
            found = unj.limits(unj.read(row["thread"].replace("UN", "UNJ")))
            assert not row["pd_max"] or agrees(found.pitch.max, row["pd_max"])
            assert not row["pd_min"] or agrees(found.pitch.min, row["pd_min"])
            assert not row["major_min"] or agrees(found.major.min, row["major_min"])


@pytest.mark.parametrize("radius", [unj.SMALLEST_RADIUS, unj.LARGEST_RADIUS, 0.1])
def test_the_root_arc_touches_the_flanks(radius: float) -> None:
    """Let an arc down into a drawn groove, pitch 1, until it touches a flank: no formula of the module."""
    pitch_line = 5.0  # radius of the pitch line

    def clears(centre: float) -> bool:
        points = ((radius * step / 2000, centre) for step in range(2001))
        return all(y - sqrt(radius**2 - x**2) >= pitch_line + (x - 0.25) * sqrt(3) for x, y in points)

    low, high = pitch_line - 1, pitch_line + 1
    while high - low > 1e-7:
        middle = (low + high) / 2
        low, high = (low, middle) if clears(middle) else (middle, high)
    assert unj.root_diameter(2 * pitch_line, 1.0, radius) == pytest.approx(2 * (high - radius), abs=2e-6)


def test_the_bore_clears_the_largest_root_of_the_screw() -> None:
    for module, outside, inside in ((unj, "3A", "3B"), (mj, "4h6h", "4H5H")):
        for thread in module.standard_threads():
            screw = module.limits(module.read(f"{module.write(thread)}-{outside}"))
            nut = module.limits(module.read(f"{module.write(thread)}-{inside}")) if thread.pitch > 0.25 else None
            assert screw.minor.min < screw.minor.max < screw.pitch.min < screw.major.min
            assert nut is None or screw.minor.max < nut.minor.min < nut.minor.max < nut.pitch.min


SPELLINGS = [
    (unj, "3/8-24 UNJF-3A", "3/8-24 UNJF-3A"),
    (unj, "3/8 - 24 unjf - 3a", "3/8-24 UNJF-3A"),
    (unj, ".375-24UNJF3A", "3/8-24 UNJF-3A"),
    (unj, "No.10-32 UNJF-3B LH", "#10-32 UNJF-3B-LH"),
    (unj, "1 1/8-12 UNJ-3A", "1 1/8-12 UNJF-3A"),
    (unj, "0.9-14 UNJS-3A", "0.9-14 UNJS-3A"),
    (unj, "1.0-0.1P-0.2L UNJS-3A", "1-0.1P-0.2L UNJS-3A"),
    (mj, "MJ10x1.5-4h6h", "MJ10x1.5-4h6h"),
    (mj, "mj10 X 1.5 - 4h6h", "MJ10x1.5-4h6h"),
    (mj, "MJ6x1-4H5H LH", "MJ6x1-4H5H-LH"),
    (mj, "MJ20xPh3P1.5-4h6h", "MJ20xPh3P1.5-4h6h"),
]


@pytest.mark.parametrize(("module", "typed", "written"), SPELLINGS)
def test_spellings(module, typed: str, written: str) -> None:
    thread = module.read(typed)
    assert module.write(thread) == written
    assert module.read(written) == thread


@pytest.mark.parametrize("module", [unj, mj])
def test_every_standard_thread_reads_back(module) -> None:
    for thread in module.standard_threads():
        assert module.read(module.write(thread)) == thread
        assert "no " not in module.standing(thread)


OTHERS = ["3/8-24 UNF-3A", "3/8-24 UNRF-2A", "M10x1.5-6g", "Tr40x7-7e", "1-5 ACME-2G", "G 3/4 A", "unjust", ""]


@pytest.mark.parametrize("text", OTHERS)
def test_text_of_other_systems_is_left_alone(text: str) -> None:
    assert unj.read(text) is None
    assert mj.read(text) is None


def test_neither_unified_nor_metric_claims_them() -> None:
    assert unified.read("3/8-24 UNJF-3A") is None
    assert iso_metric.read("MJ10x1.5-4h6h") is None


@given(
    sixty_fourths=st.integers(8, 384),
    tpi=st.sampled_from([4.5, 6, 8, 11.5, 12, 16, 20, 24, 28, 32]),
    thread_class=st.sampled_from(["", "3A", "3B"]),
    starts=st.integers(1, 4),
    left_hand=st.booleans(),
)
def test_unj_reading_undoes_writing(sixty_fourths, tpi, thread_class, starts, left_hand) -> None:
    diameter, pitch = sixty_fourths / 64, 1 / tpi
    if pitch > diameter / 8:
        return  # twice the coarse pitch is no less
    size = f"{tpi}" if starts == 1 else f"{pitch:.10g}P-{pitch * starts:.10g}L"
    thread = unj.read(f"{diameter}-{size} UNJS {thread_class}{' LH' * left_hand}")
    assert unj.read(unj.write(thread)) == thread
    assert thread[:5] == ("unj", "in", diameter, pitch, starts)
    assert (thread.thread_class, thread.left_hand) == (thread_class, left_hand)


@given(
    diameter=st.integers(16, 3000).map(lambda tenths: tenths / 10),
    pitch=st.integers(4, 160).map(lambda twentieths: twentieths / 20),
    thread_class=st.sampled_from(["", "4h6h", "4g6g", "6g", "4H5H", "4H6H", "6H"]),
    left_hand=st.booleans(),
)
def test_mj_reading_undoes_writing(diameter, pitch, thread_class, left_hand) -> None:
    if pitch > diameter / 6:
        return  # twice the coarse pitch is no less
    parts = (f"MJ{diameter}x{pitch}", thread_class, "LH" * left_hand)
    thread = mj.read("-".join(part for part in parts if part))
    assert mj.read(mj.write(thread)) == thread
    assert thread[:4] == ("mj", "mm", diameter, pitch)
    assert (thread.thread_class, thread.left_hand) == (thread_class, left_hand)


REFUSED = [
    (unj, "3/8-16 UNJF-3A", NotGiven, r"^3/8-16 UNJF-3A: 3/8-16 is UNJC, not UNJF; UNJF on 3/8 is 24"),
    (unj, "3/8-23 unjf-3a", NotGiven, "is no UNJF thread; call it UNJS"),
    (unj, "#7-32 UNJF-3A", OutOfRange, "no Unified size"),
    (mj, "MJ10-4h6h", NotUnderstood, "names its pitch; write it as in MJ10x1.5"),
    (mj, "MJ10x6-4h6h", OutOfRange, "^MJ10x6-4h6h: a pitch of 6 mm can't be cut"),
    (mj, "MJ1x0.25-4h6h", OutOfRange, "ISO 5855-1 begins at 1.6 mm"),
    (mj, "MJ10x1.5-4z6z", NotUnderstood, "^MJ10x1.5-4z6z: position 'z' does not exist"),
]


@pytest.mark.parametrize(("module", "typed", "kind", "sentence"), REFUSED)
def test_refused_when_read(module, typed: str, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        module.read(typed)


NO_LIMITS = [
    (unj, "3/8-24 UNJF", "no class.*external: 3A; internal: 3B"),
    (unj, "3/8-24 UNJF-2A", "no source for the limits of UNJ class 2A"),
    (mj, "MJ10x1.25", "no class.*4h6h.*4H5H"),
    (mj, "MJ10x1.25-6e", "no source gives another"),
    (mj, "MJ10x1.25-4h7h", "no major diameter grade 7"),
]


@pytest.mark.parametrize(("module", "typed", "sentence"), NO_LIMITS)
def test_limits_without_a_source_are_refused(module, typed: str, sentence: str) -> None:
    with pytest.raises(NotGiven, match=f"^{typed}.*{sentence}"):
        module.limits(module.read(typed))


def test_wires_and_depth() -> None:
    """The flanks are those of 60 degree threads, so E + 3 W - 0.866 025 P of MH31 p. 2130 holds."""
    screw, bolt = unj.read("7/8-14 UNJF-3A"), mj.read("MJ10x1.25-4h6h")
    over = wires.over_wires(screw, 0.0412, "max")
    assert over == pytest.approx(0.8286 + 3 * 0.0412 - 0.8660254 / 14, abs=1e-8)
    over = wires.over_wires(bolt, 0.72, "min")
    assert over == pytest.approx(9.113 + 3 * 0.72 - 0.8660254 * 1.25, abs=1e-7)
    # a nose of 60 degrees ends its radius above the sharp bottom, H/2 below the pitch line
    depth = cutting.depth(screw, Tip("radius", 0.0128), "max", 0.875)
    assert depth == pytest.approx((0.875 - 0.8286) / 2 + 0.8660254 / 28 - 0.0128, abs=1e-8)
    with pytest.raises(OutOfRange, match="must have a root radius of"):
        cutting.depth(screw, Tip("radius", 0.0135), "max", 0.875)
    assert cutting.blank(mj.read("MJ6x1-4H5H"))[0][:2] == (5.216, 5.026)
    assert "UNJF series of ASME B1.15" in limits.describe(screw)
    assert "MJ metric 60 degree external thread" in limits.describe(bolt)


def test_crest_tolerance_of_coarse_mj_threads_is_the_printed_one() -> None:
    """ISO 5855-1 takes Td and TD1 of ISO 965-1: every printed pitch, to the micrometre."""
    for row in rows("iso_crest_tolerances"):
        if row["flag"] or float(row["pitch_mm"]) < 0.8 or not row["Td_6"]:
            continue
        found = mj.limits(mj.read(f"MJ100x{row['pitch_mm']}-4h6h")).major
        assert round(1000 * (found.max - found.min)) == int(row["Td_6"]), row
        bore = mj.limits(mj.read(f"MJ100x{row['pitch_mm']}-4H6H")).minor
        assert round(1000 * (bore.max - bore.min)) == int(row["TD1_6"]), row
