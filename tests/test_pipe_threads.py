"""G, R, Rp, Rc, NPT and NPSM threads: spellings, published sizes, gauge planes, wires and depth."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from older_threads import is_placed_or_refused, read, reads_back
from published_rows import agrees, rows

from sheetfuncs import cutting, tables, tapers, wires
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.standards import npsm, npt, pipe_parallel, pipe_rp, pipe_taper_iso
from sheetfuncs.standards import taper as taper_threads

G, R, RP = pipe_parallel.SYSTEM, pipe_taper_iso.SYSTEM, pipe_rp.SYSTEM
NPT, NPSM = npt.SYSTEM, npsm.SYSTEM
SYSTEMS = (G, R, RP, NPT, NPSM)
EACH = pytest.mark.parametrize("system", SYSTEMS, ids=lambda system: system.key)

SPELLINGS = [
    (G, "G 3/4 A", "G 3/4 A", "external"),
    (G, "g3/4b", "G 3/4 B", "external"),
    (G, "G3/4-A", "G 3/4 A", "external"),
    (G, "G 3/4", "G 3/4", "internal"),
    (G, "G 1-1/2 B LH", "G 1 1/2 B LH", "external"),
    (G, "G 1 1/2 LH A", "G 1 1/2 A LH", "external"),
    (R, "R 3/4", "R 3/4", "external"),
    (R, "r3/4", "R 3/4", "external"),
    (R, "Rc 3/4", "Rc 3/4", "internal"),
    (R, "RC 1 1/4 LH", "Rc 1 1/4 LH", "internal"),
    (RP, "Rp 3/4", "Rp 3/4", "internal"),
    (RP, "RP1-1/2-LH", "Rp 1 1/2 LH", "internal"),
    (NPT, "3/4-14 NPT", "3/4-14 NPT", ""),
    (NPT, "3/4 - 14npt", "3/4-14 NPT", ""),
    (NPT, "3/4 NPT", "3/4-14 NPT", ""),
    (NPT, "1-11 1/2 NPT", "1-11.5 NPT", ""),
    (NPT, "1-1/4-11.5 NPT-LH", "1 1/4-11.5 NPT LH", ""),
    (NPT, "2 1/2-8 NPT external", "2 1/2-8 NPT external", "external"),
    (NPSM, "3/4-14 NPSM", "3/4-14 NPSM", ""),
    (NPSM, "3/4-14 npsm (internal)", "3/4-14 NPSM internal", "internal"),
]


@pytest.mark.parametrize(("system", "typed", "written", "side"), SPELLINGS)
def test_spellings(system, typed: str, written: str, side: str) -> None:
    thread = reads_back(system, typed)
    assert (system.write(thread), thread.side) == (written, side)


REFUSED = [
    (G, "G 3 1/4 A", OutOfRange, "ISO 228-1 has no G 3 1/4"),
    (G, "3/4 BSPP", NotUnderstood, "write G 3/4 A or G 3/4 B"),
    (G, "BSPT 3/4", NotUnderstood, "R 3/4 for a taper external"),
    (R, "R 3 1/2", OutOfRange, "ISO 7-1 has no R 3 1/2"),
    (R, "Rc 5/8", OutOfRange, "ISO 7-1 has no Rc 5/8"),
    (RP, "Rp 7/8", OutOfRange, "ISO 7-1 has no Rp 7/8"),
    (NPT, "5/8-14 NPT", OutOfRange, "ASME B1.20.1 has no 5/8 NPT"),
    (NPT, "3/4-11 NPT", NotGiven, "3/4 NPT is 14 threads per inch, not 11"),
    (NPT, "3/4-14 NPT 2A", NotUnderstood, "'2A' is no class or side here"),
    (NPSM, "8-8 NPSM", OutOfRange, "has no 8 NPSM"),
]


@pytest.mark.parametrize(("system", "typed", "kind", "sentence"), REFUSED)
def test_refusals(system, typed: str, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        read(system, typed)


OWN = {"pipe_parallel": "G 3/4 A", "pipe_taper_iso": "R 3/4", "pipe_rp": "Rp 3/4"} | {
    "npt": "3/4-14 NPT",
    "npsm": "3/4-14 NPSM",
}


@EACH
def test_text_of_other_systems_is_left_alone(system) -> None:
    others = [text for key, text in OWN.items() if key != system.key]
    for text in (*others, "3/4-16 UNF-2A", "M20x2.5-6g", "2 BA", "1/2-12 BSW", "3/4-14 NPTF", ""):
        assert system.read(text) is None


@EACH
@given(data=st.data())
def test_any_text(system, data: st.DataObject) -> None:
    tail = data.draw(st.text(max_size=15))
    for text in (tail, f"{OWN[system.key]} {tail}", f"G {tail}", f"Rc {tail}"):
        is_placed_or_refused(system, text)


@EACH
@given(data=st.data())
def test_reading_undoes_writing(system, data: st.DataObject) -> None:
    thread = data.draw(st.sampled_from(system.standard_threads()))
    side = data.draw(st.sampled_from(["", " external", " internal"])) if system in (NPT, NPSM) else ""
    letter = data.draw(st.sampled_from(["", " A", " B"])) if system is G else ""
    hand = data.draw(st.sampled_from(["", " LH", "-LH"]))
    found = reads_back(system, f"{system.write(thread).lower()}{letter}{side}{hand}")
    assert (found.diameter, found.pitch, found.left_hand) == (thread.diameter, thread.pitch, bool(hand))


@EACH
def test_every_standard_thread_reads_back(system) -> None:
    for thread in system.standard_threads():
        assert read(system, system.write(thread)) == thread


# G: ISO 228-1


def test_published_g_sizes() -> None:
    assert len(rows("iso_228_1")) == len(G.standard_threads()) == 24
    for row in rows("iso_228_1"):
        middle, minor = float(row["pd"]), float(row["minor"])
        for letter, share in (("A", 1), ("B", 2)):
            found = G.limits(read(G, f"G {row['size']} {letter}"))
            assert (found.major.max, found.pitch.max, found.minor.max) == (float(row["major"]), middle, minor)
            assert found.pitch.min == pytest.approx(middle - share * float(row["TD2"]), abs=1e-9)
            assert found.major.min == pytest.approx(found.major.max - float(row["Td"]), abs=1e-9)
            assert found.minor.min is None
        inside = G.limits(read(G, f"G {row['size']}"))
        assert (inside.major.min, inside.pitch.min, inside.minor.min) == (float(row["major"]), middle, minor)
        assert inside.pitch.max == pytest.approx(middle + float(row["TD2"]), abs=1e-9)
        assert inside.minor.max == pytest.approx(minor + float(row["TD1"]), abs=1e-9)
        assert inside.major.max is None


@pytest.mark.parametrize("system", [G, R, RP], ids=lambda system: system.key)
def test_the_55_degree_tables_keep_the_depth_of_the_form(system) -> None:
    """GOST 6357-81, Table 1: depth H1 by pitch; the standard's diameters differ by it, rounded to 0.001 mm."""
    depths = {float(row["tpi"]): row for row in rows("gost_6357_profile")}
    for thread in system.standard_threads():
        row = depths[round(25.4 / thread.pitch, 6)]
        basic = system.basic(thread)
        assert agrees(thread.pitch, row["pitch"])
        assert basic.major - basic.pitch == pytest.approx(float(row["H1"]), abs=0.00055)
        assert basic.pitch - basic.minor == pytest.approx(float(row["H1"]), abs=0.00055)


def test_depth_of_a_g_thread_is_the_depth_of_the_form() -> None:
    """GOST 6357-81, Table 1: radius R and depth H1."""
    for row in rows("gost_6357_profile"):
        size = {"28": "1/8", "19": "1/4", "14": "3/4", "11": "1"}[row["tpi"]]
        thread = read(G, f"G {size} A")
        tip = Tip("radius", float(row["R"]))
        found = cutting.depth(thread, tip, "max", G.basic(thread).major)
        assert found == pytest.approx(float(row["H1"]), abs=0.0006)
        with pytest.raises(OutOfRange, match="too blunt"):
            cutting.depth(thread, tip._replace(size=1.1 * tip.size), "max", G.basic(thread).major)


# R, Rp, Rc: ISO 7-1


def test_jointing_diameters_are_those_of_iso_228_1() -> None:
    """Both standards' tables print the same pipe diameters."""
    same = {row["size"]: row for row in rows("iso_228_1")}
    for row in tables.rows("iso_7_1"):
        other = same[row["size"]]
        assert (row["major_mm"], row["pitch_mm"], row["minor_mm"]) == (other["major"], other["pd"], other["minor"])


def test_gauge_lengths_hang_together() -> None:
    """The older inch tables had them as fractions of an inch, or as 4 1/2 turns."""
    inches = [5 / 32, 5 / 32, 4.5 / 19, 1 / 4, 4.5 / 14, 3 / 8, 4.5 / 11, 1 / 2, 1 / 2, 5 / 8]
    inches += [11 / 16, 13 / 16, 1, 9 / 8, 9 / 8]
    for row, length in zip(tables.rows("iso_7_1"), inches):
        assert agrees(length * 25.4, row["gauge_mm"]), row


def test_the_gauge_plane_and_its_tolerance_on_the_diameter() -> None:
    thread = read(R, "R 3/4")
    found = pipe_taper_iso.planes(thread)
    assert (found.gauge, found.turns) == ((9.5, 25.279), 1)
    assert found.longest - found.shortest == pytest.approx(2 * 25.4 / 14)
    assert tapers.taper_diameter(thread, 9.5 + 16) == pytest.approx(26.279)
    across = R.limits(thread).pitch
    assert across.max == pytest.approx(tapers.taper_diameter(thread, found.longest), abs=0.00051)
    assert across.min == pytest.approx(tapers.taper_diameter(thread, found.shortest), abs=0.00051)


def test_the_small_end_of_an_r_thread() -> None:
    """Worked by hand: R 1 gauges 31.770 at 10.4 mm, so 31.770 - 0.65 at the end; Rc alike when screwed up."""
    for text in ("R 1", "Rc 1"):
        assert tapers.taper_diameter(read(R, text), 0) == pytest.approx(31.120)


# NPT and NPSM: ASME B1.20.1


def test_published_npt_sizes() -> None:
    assert len(rows("npt_basic")) == len(NPT.standard_threads()) == 24
    for row in rows("npt_basic"):
        thread = read(NPT, f"{row['size']}-{row['tpi']} NPT")
        found = npt.planes(thread)
        assert agrees(thread.diameter, row["od"])
        assert agrees(thread.pitch, row["pitch"])
        printed = (
            *((found.small_end.pitch_diameter, "E0"), (found.hand_tight.distance, "L1")),
            *((found.hand_tight.pitch_diameter, "E1"), (found.effective.pitch_diameter, "E2")),
            *((found.effective.distance, "L2"), (found.hand_tight.distance / thread.pitch, "L1_turns")),
            (found.effective.distance / thread.pitch, "L2_turns"),
        )
        for value, name in printed:
            assert not row[name] or agrees(value, row[name]), (row, name, value)
        assert NPT.basic(thread).pitch == found.hand_tight.pitch_diameter


def test_published_npt_lengths() -> None:
    for row in rows("npt_lengths"):
        thread = read(NPT, f"{row['size']} NPT")
        found = npt.planes(thread)
        basic = NPT.basic(thread)
        vanish = found.overall.distance - found.effective.distance
        small_end_minor = found.small_end.pitch_diameter - (basic.major - basic.pitch)
        printed = (
            *((-found.wrench.distance, "L3"), (found.wrench.pitch_diameter, "E3"), (vanish, "V")),
            *((found.overall.distance, "L4"), (found.perfect.distance, "L5")),
            *((found.perfect.pitch_diameter, "E5"), ((basic.major - basic.minor) / 2, "h"), (small_end_minor, "K0")),
        )
        for value, name in printed:
            assert not row[name] or agrees(value, row[name], 1), (row, name, value)


def test_published_npt_truncation() -> None:
    for row in rows("npt_truncation"):
        size = next(other["size"] for other in rows("npt_basic") if other["tpi"] == row["tpi"])
        found = NPT.limits(read(NPT, f"{size} NPT"))
        pitch = 1 / float(row["tpi"])
        tallest = found.major.max - found.pitch.max
        lowest = found.major.min - found.pitch.min
        assert agrees(tallest, row["h_max"], 1), row
        assert agrees(lowest, row["h_min"], 1), row
        assert agrees(found.pitch.max - found.minor.max, row["h_min"], 1)
        assert agrees(found.pitch.min - found.minor.min, row["h_max"], 1)
        height = sqrt(3) / 2 * pitch
        assert agrees(height, row["H"])
        assert agrees((height - tallest) / 2, row["f_min"])
        assert agrees((height - lowest) / 2, row["f_max"], 0.1)  # 0.00775 stands on the edge of its 0.0078


def test_npt_tolerance_is_a_turn_either_way() -> None:
    """ASME B1.20.1: one turn large or small; on 3/4-14 a turn is 1/14 in, on the diameter 1/224."""
    size = NPT.limits(read(NPT, "3/4-14 NPT")).pitch
    assert size.max - size.min == pytest.approx(2 / 224, abs=0.00002)
    assert (size.max + size.min) / 2 == pytest.approx(0.98887, abs=0.00001)


def test_npt_pitch_diameter_along_the_taper() -> None:
    thread = read(NPT, "3/4-14 NPT")
    assert tapers.taper_diameter(thread, 0) == pytest.approx(0.96768, abs=0.000005)
    assert tapers.taper_diameter(thread, 0.5) - tapers.taper_diameter(thread, 0) == pytest.approx(0.03125)
    assert tapers.taper_diameter(thread, 0.5457) == pytest.approx(1.00179, abs=0.00001)
    assert NPT.taper == R.taper == taper_threads.TAPER == 0.75 / 12  # three quarters of an inch per foot
    assert G.taper == RP.taper == NPSM.taper == 0


def test_published_npsm_limits() -> None:
    for row in rows("npsm_limits"):
        outside = NPSM.limits(read(NPSM, f"{row['size']}-{row['tpi']} NPSM external"))
        inside = NPSM.limits(read(NPSM, f"{row['size']} NPSM internal"))
        printed = (
            *((outside.major.max, "major_max"), (outside.major.min, "major_min"), (outside.allowance, "allowance")),
            *((outside.pitch.max, "pd_max"), (outside.pitch.min, "pd_min")),
            *((inside.minor.max, "int_minor_max"), (inside.minor.min, "int_minor_min")),
            *((inside.pitch.max, "int_pd_max"), (inside.pitch.min, "int_pd_min")),
        )
        for value, name in printed:
            assert agrees(value, row[name]), (row, name)
        assert outside.minor == inside.major == (None, None, "")


def test_npsm_rows_keep_the_rules_of_their_table() -> None:
    """Class 2A and 2B of ASME B1.1 for nine pitches, E1 of the published NPT row."""
    e1 = {row["size"]: float(row["E1"]) for row in rows("npt_basic")}
    for row in tables.rows("npsm_limits"):
        number = {name: float(value) for name, value in row.items() if name not in ("size", "trust")}
        pitch = 1 / number["tpi"]
        crest = number["ext_pitch_max"] + 0.666025 * pitch
        base = 0.0015 * crest ** (1 / 3) + 0.0015 * sqrt(9 * pitch) + 0.015 * pitch ** (2 / 3)
        assert number["int_pitch_min"] == pytest.approx(e1[row["size"]], abs=0.00006)
        assert number["int_pitch_min"] - number["ext_pitch_max"] == pytest.approx(number["allowance"], abs=0.00011)
        assert number["allowance"] == pytest.approx(0.3 * base, abs=0.0001)
        assert number["ext_pitch_max"] - number["ext_pitch_min"] == pytest.approx(base, abs=0.00013)
        assert number["int_pitch_max"] - number["int_pitch_min"] == pytest.approx(1.3 * base, abs=0.0002)
        assert number["ext_major_max"] == pytest.approx(crest, abs=0.0025)
        assert number["ext_major_max"] - number["ext_major_min"] == pytest.approx(0.06 * pitch ** (2 / 3), abs=0.0006)
        assert number["int_minor_min"] == pytest.approx(number["int_pitch_min"] - sqrt(3) / 4 * pitch, abs=0.0006)


def test_npsm_limits_need_a_side() -> None:
    with pytest.raises(NotGiven, match="add external or internal"):
        NPSM.limits(read(NPSM, "3/4-14 NPSM"))


# Wires


def test_best_wires() -> None:
    """P / (2 cos 27.5) = 0.563691 P and 0.57735 P (gauge suppliers' tables of ASME B1.2 factors)."""
    assert wires.best_wire(read(G, "G 3/4 A")) == pytest.approx(0.563691 * 25.4 / 14, abs=1e-5)
    assert wires.best_wire(read(R, "R 3/4")) == pytest.approx(0.563691 * 25.4 / 14, abs=1e-5)
    assert wires.best_wire(read(NPT, "3/4-14 NPT")) == pytest.approx(0.57735 / 14, abs=1e-6)
    assert wires.best_wire(read(NPSM, "3/4-14 NPSM external")) == pytest.approx(0.57735 / 14, abs=1e-6)
    for text, system in (("G 3/4", G), ("Rc 3/4", R), ("Rp 3/4", RP), ("3/4-14 NPT internal", NPT)):
        with pytest.raises(OutOfRange, match="internal"):
            wires.best_wire(read(system, text))


def test_over_wires() -> None:
    """Worked by hand: M = E + 3.16568 W - 0.960491 P on 55 degrees, E + 3 W - 0.866025 P on 60."""
    pitch = 25.4 / 14
    by_hand = 25.279 + 3.16568 * 1.05 - 0.960491 * pitch
    assert wires.over_wires(read(G, "G 3/4 A"), 1.05, "max") == pytest.approx(by_hand, abs=2e-5)
    lean = 1 / (1 + 1 / 32**2) ** 0.5  # the anvil lies on the taper; the V is 1 - (tan 27.5 / 32)^2 of its depth
    tapered = (by_hand - 1.05 + 0.960491 * pitch * (0.520567 / 32) ** 2) * lean + 1.05
    assert wires.over_wires(read(R, "R 3/4"), 1.05, "basic") == pytest.approx(tapered, abs=2e-5)
    by_hand = (0.98887 + 2 * 0.042 - 0.865743 / 14) * lean + 0.042  # .865 743 P: ASME B1.20.1
    assert wires.over_wires(read(NPT, "3/4-14 NPT"), 0.042, "basic") == pytest.approx(by_hand, abs=1e-5)
