"""Callouts that stay open are refused with the choices, and what a refusal proposes can be cut."""

from __future__ import annotations

import pytest

from sheetfuncs import standards
from sheetfuncs.errors import CellError

REFUSED = {
    "1/2-12 (21)": "1/2-12 (21) may be the thread 1/2-12 UNS or 1/2-12 BSW; write which",
    "1/2-12": "1/2-12 may be the thread 1/2-12 UNS or 1/2-12 BSW; write which",
    "3/4-14": "3/4-14 may be the thread 3/4-14 UNS, 3/4-14 NPT or 3/4-14 NPSM; write which",
    "1-5-2G": "1-5-2G may be the thread 1-5 ACME-2G or 1-5 STUB ACME-2G; write which",
    "1/4-26": "1/4-26 names no thread; write 1/4-26 BSF if that is meant",
    "3/4": "3/4-10 UNC, 3/4-16 UNF, 3/4-20 UNEF, 3/4-10 BSW, 3/4-12 BSF, 3/4-14 NPT or 3/4-14 NPSM; write which",
    "1": "1 may be the thread 1-8 UNC, #1-64 UNC, 1-12 UNF, #1-72 UNF, 1-20 UNEF, 1-8 BSW",
    "14": "14 names no thread; write 14-8 NPT if that is meant",
    "1 UNC": "1 UNC may be the thread #1-64 UNC or 1-8 UNC; write which",
    "3/4 UNS": "3/4 UNS may be the thread 3/4-14 UNS, 3/4-18 UNS, 3/4-24 UNS or 3/4-27 UNS; write which",
    "2 1/8 UNC": "ASME B1.1 lists no UNC of this size",
    "1/8-40": "1/8-40 may be the thread #5-40 UNC or 1/8-40 BSW; write which",
    "1-5/4 UNC": "'1-5/4' is no Unified size",
    "0.9-14-2A": "0.9-14-2A is no standard thread; write the series too",
    "1/4-20-6g": "is no standard thread; write the series too",
    "#7-32": "'#7' is no Unified size; #0 to #12 (no 7, 9, 11), or inches",
    "00-80": "'00' is no Unified size",
    "010 (.190)-32 UNF": "010 is 10 in, not .190; write the size that is meant",
    "#010 (.190)-32 UNF": "there is no size #010; write the size that is meant",
    "010-32 UNF": "'010' is no Unified size",
    "0.05-80 UNS-2A": "'0.05' is no Unified size; the smallest is #0, 0.06 in",
    "25-4 UNS": "'25' is no Unified size; the largest that is worked is 24 in",
    "1 1/4 ACME": "write the threads per inch too, as in the preferred 1 1/4-5 ACME",
    '1/2" Whitworth': "may be the thread 1/2-12 BSW or 1/2-16 BSF; write which",
    "M20 fine": "M20 fine may be the thread M20x2, M20x1.5 or M20x1; write which",
    "M72": "no coarse pitch for M72; write the pitch, as in M72x6, M72x4, M72x3, M72x2, M72x1.5",
    "M20-6": "'6' is neither a pitch that ISO 261 has for this size nor a class",
    "M20-3/4": "'3/4' is neither a pitch",
    "M20x2.5-6gLH": "write LH once and at the end, as in M20x1.5-6g-LH",
    "M20x1.5LH-6g RH": "write LH once and at the end, as in M20x1.5-6g-LH",
    "M20x2.5-6g-35": "'35' behind the class is neither LH nor a length of engagement, S, N or L; leave it off",
    "M20-6g-35": "'35' behind the class is neither LH nor a length of engagement",
    "M10x1.5-6": "'6' is no tolerance class; write its letter too, as in 6g or 6H",
    "MJ10x1.5-4": "'4' is no tolerance class; write its letter too",
    "M12x1.25 fine": "pitch and series are both written; leave fine off",
    "M12x1.25 fine 6g": "pitch and series are both written; leave fine off",
    "M12 6g fine": "'fine' stands behind the class; write the pitch before it, as in M20x1.5-6g",
    "M20x2.5-6g x 50": "a length such as 'x 50' is no part of a thread's designation; leave it off",
    "M20x2.5x50": "a length such as 'x50' is no part of a thread's designation; leave it off",
    "M20x2. 5": "'2. 5' is no pitch; write it as in x2.5",
    "M20x2.5-6gx50": "a length such as 'x50' is no part of a thread's designation; leave it off",
    "M203/4x1": "'/4x1' is neither a pitch",
    "M20x2,5": "write the numbers of a thread with a point, 2.5 for 2,5",
    "1,25-7 UNC": "write the numbers of a thread with a point, 1.25 for 1,25",
    "1/4-20 UNC-2A SE": "SE, a special length of engagement, has limits of its own that are not covered",
    "1/4-20 UNC-SE2A": "SE, a special length of engagement, has limits of its own that are not covered",
    "1-5 ACME-2G (21)": "the gauging systems of ASME B1.3 are for UN, UNR, UNJ, M and MJ threads; leave (21) off",
    "1/4-20 UNC-2A (24)": "'(24)' stands behind the class, where only LH may, or (21), (22) or (23)",
    "1/4-20 UNC-2C": "'2C' is no class of a Unified thread; the classes are 1A, 2A, 3A outside and 1B, 2B, 3B inside",
    "1/4-20 UNC-4A LH": "'4A' is no class of a Unified thread",
    "1/4-20 UNC 3": "'3' is no class of a Unified thread",
    "1/4-20 UNC-2 2 A": "is no class of a Unified thread",
    "1/4-20 UNC-2 A B": "'B' stands behind the class",
    "1/4-20 UNC-2 AB": "'2 AB' is no class of a Unified thread",
    "1/4-20 UNC-4 A": "'4A' is no class of a Unified thread",
    "1/4-20 UNC-2 A/2 B": "is no class of a Unified thread",
    "1/4-20 UNC-2ALH": "write LH behind a dash, as in 3/4-16 UNF-2A-LH",
    "1/4-20UNC4A": "'4A' is no class of a Unified thread",
    "7/8-9 UNC CLASS 2": "'2' is no class of a Unified thread",
    "3/4-16 UNJF-2C": "'2C' is no class of a UNJ thread; the classes known here are 3A outside and 3B inside",
    "3/8-18 NPTF": "NPTF, the dryseal taper pipe thread, is a real thread that is not covered here; NPT and NPSM are",
    "NPTF 3/8": "NPTF, the dryseal taper pipe thread, is a real thread",
    "1/8-27 NPSC": "NPSC, the straight pipe thread of couplings, is a real thread",
    "1/4-18 NPSL": "NPSL, the straight pipe thread of locknuts, is a real thread",
    "1/4-18 ANPT": "ANPT, the aeronautical taper pipe thread, is a real thread",
    "G 1/2 external": "an external G thread has a class; write G 1/2 A or G 1/2 B",
    "G 1/2 A internal": "A and B are external threads; the internal one is G 1/2 without a letter",
    "G 1/2 C": "'C' is no class or side here; the words are A, B; bolt or nut, external or internal",
    "R 1/2 internal": "R is the external thread; R is outside, Rc (taper) and Rp (parallel) inside",
    "Rc 1/2 external": "Rc is the internal thread",
    "Rp 1/2 external": "Rp is the internal thread",
    "1/2 BSPP": "write G 1/2 A or G 1/2 B for a parallel external thread, G 1/2 for an internal one; R 1/2",
    "BSPT 1 1/2": "Rc 1 1/2 for a taper internal",
    "3/4 16": "no thread this knows",
    "1/4x20": "no thread this knows",
    "M20x10": "have no pitch over 8 mm; a length, if 10 is one, is no part of a thread's designation: leave it off",
    "M24x12": "have no pitch over 8 mm; a length, if 12 is one",
    "M16x6": "a pitch of 6 mm is far too coarse for 16 mm, where 2 mm is coarse; a length, if 6 is one, is no part of",
    "M8x4-6g": "a pitch of 4 mm is far too coarse for 8 mm, where 1.25 mm is coarse",
    "M25x8": "far too coarse for 25 mm, where 3 mm is coarse",
    "M6x20": "a pitch of 20 mm can't be cut on 6 mm; a length, if 20 is one",
    "MJ20 x 60": "a length, if 60 is one, is no part of a thread's designation: leave it off",
    "1/2-4 UNS-2A": "4 threads per inch are far too coarse for 0.5 in, where 13 is coarse",
    "3/4x2 UNC": "3/4x2 UNC: 2 threads per inch can't be cut",
    "1/2x8 UNS-2A": "no standard thread, and what stands behind an x may be a length; write the threads per",
    "1 1/2x6 ACME-2G": "what stands behind an x may be a length",
    "#10 (.200)-32 UNF-2A": "#10 is 0.19 in, not .200; write the size that is meant",
    "#7 (.151)-32 UNF-2A": "there is no size #7; write the size that is meant",
    ".750-.0625P-.1875L (2 STARTS) UNF-2A": "it says 2 starts, but pitch and lead give 3; write the lead that is meant",
    "M16xPh3P1.5 (3 starts)-6g": "it says 3 starts, but pitch and lead give 2",
    "10-0.25P-0.5L-BUTT-3B (3 starts)": "it says 3 starts, but pitch and lead give 2",
    "3/4-16 UNF-2A (2 starts)": "it says 2 starts, but no lead of several starts is written",
    "1/4-20 UNC-2A/2B": "2A/2B is a fit of two threads; write one side at a time, 1/4-20 UNC-2A or 1/4-20 UNC-2B",
    "M10x1.5-6H/6g": "6H/6g is a fit of two threads; write one side at a time, M10x1.5-6H or M10x1.5-6g",
    "M10x1.5-4H5H/4h6h": "4H5H/4h6h is a fit of two threads",
    "Tr40x7-7H/7e": "7H/7e is a fit of two threads; write one side at a time, Tr40x7-7H or Tr40x7-7e",
    "1/4-28 UNF-2A MOD": "'MOD': limits modified on the drawing, or for a stage of plating, are not covered",
    "3/4-16 UNF-2A PD .7029-.7079": "'PD': limits modified on the drawing",
    "M8x1.25-6g AFTER PLATING": "'AFTER PLATING': limits modified on the drawing, or for a stage of plating",
    "3/4-16 UNF-2A-LH-RH": "both hands are written, LH and RH; write one of them",
    "LH M8x1.25-6g RH": "both hands are written",
    "1-8 12UN-2A": "threads per inch are written twice, 8 and 12; write one of them",
    "M20x2.5-6g(20)": "'(20)' stands behind the class, where only LH may, or (21), (22) or (23)",
    "M-6g": "no diameter stands behind the M; write it as in M20x2.5-6g, or M6 for 6 mm",
    "M-6": "no diameter stands behind the M",
    "M - 20x2.5": "no diameter stands behind the M",
    "M20x-2": "a dash stands beside the x; write diameter and pitch as in M20x2.5",
    "M20 -x 2": "a dash stands beside the x",
    "MJ10x-1.5": "a dash stands beside the x",
    "S48x8": "S, the metric saw-tooth thread of DIN 513, is a real thread that is not covered here",
    "S 0.8-5h3": "S, the miniature thread of ISO 1501, is a real thread that is not covered here",
    "1/2-14 NPS": "NPS says no more than straight pipe thread; NPSM is covered, NPSC and NPSL are not: write which",
    "Rs 1/2": "Rs is no letter of ISO 7-1; write R outside, Rc (taper) or Rp (parallel) inside",
    "PT 1/2": "PT is the taper pipe thread by its old name of JIS B 0203; write R outside or Rc inside",
    "PG 11": "PG, the steel conduit thread of DIN 40430, is a real thread that is not covered here",
    "W24x2": "W, the thread of Whitworth form of gas cylinder valves (DIN 477), is a real thread",
    "W21.8x1/14": "W, the thread of Whitworth form of gas cylinder valves (DIN 477), is a real thread",
    "1/4-20 NC-2": "NC is the American National thread, which Unified has replaced; write UNC if that is meant",
    "1/4-28 NF": "write UNF if that is meant",
    "EG M10": "EG, the tapped hole for a wire thread insert (DIN 8140), is a real thread that is not covered here",
    "1/4-20 UNC-3B STI": "STI, the tapped hole for a wire thread insert (ASME B18.29.1), is a real thread",
    "MF10x1": "MF is no letter of ISO 261; a fine pitch is written M too, as in M10x1",
    "Rd40x1/6": "Rd, the round (knuckle) thread of DIN 405, is a real thread that is not covered here",
    "M12x1.75-6az": "az, a position for hot-dip galvanized threads (ISO 965-4 and -5), is real and not covered here",
    "M12x1.75-6AX": "AX, a position for hot-dip galvanized threads",
    "M20x2.5-5g": "no major diameter grade 5 for external threads; it has 4, 6, 8, as in 5g6g",
    "M20x2.5-7g": "no major diameter grade 7 for external threads; it has 4, 6, 8, as in 7g6g",
    "M20x2.5-6g7g": "no major diameter grade 7 for external threads; it has 4, 6, 8, as in 6g",
    "M20x2.5-2g": "no pitch diameter grade 2 for external threads; it has 3, 4, 5, 6, 7, 8, 9",
    "M20x2.5-3H": "no pitch diameter grade 3 for internal threads; it has 4, 5, 6, 7, 8",
    "M20x2.5-9H": "no pitch diameter grade 9 for internal threads",
    "M20x2.5-6H9H": "no minor diameter grade 9 for internal threads",
    "1/4-20x1": "no thread this knows",
    ". 1": "no thread this knows",
}


@pytest.mark.parametrize(("typed", "sentence"), REFUSED.items())
def test_what_stays_open_is_refused_with_the_choices(typed: str, sentence: str) -> None:
    with pytest.raises(CellError) as refusal:
        standards.read(typed)
    assert sentence in str(refusal.value)


NUMBERED = ("#{}-{}", "# {}-{}", "No. {}-{}", "No.{}-{}", "NO {}-{}", "no.{} - {}", "{}-{}")


@pytest.mark.parametrize("spelling", NUMBERED)
@pytest.mark.parametrize("behind", [" UNS-2A", " UNF-2A", "UNC-2A LH", " UN-2B", " UNJF-3A", " UNRF", "-2A"])
def test_zeros_before_a_number_make_another_size(spelling: str, behind: str) -> None:
    """The tables of ASME B1.1 begin at #0; #00 and #000, of which it knows nothing, are smaller, and #01 is none."""
    for number, tpi in (("00", 80), ("00", 90), ("00", 96), ("000", 120), ("0000", 160), ("00", 112)):
        with pytest.raises(CellError, match="is no Unified size"):
            standards.read(f"{spelling.format(number, tpi)}{behind}")
    for number, tpi in (("01", 64), ("05", 40), ("010", 24), ("012", 28)):
        try:
            assert standards.read(f"{spelling.format(number, tpi)}{behind}").diameter == int(number)  # as inches
        except CellError:
            continue
        assert spelling == NUMBERED[-1]


def test_a_size_with_zeros_is_refused_however_the_rest_is_written() -> None:
    for callout in ("#00 UNF", "No. 00 UNF-2A", "00 UNF", "#01 UNC", "UNF #00-80", "#00x80 UNF"):
        with pytest.raises(CellError, match="is no Unified size"):
            standards.read(callout)


def proposed(callout: str) -> str:
    """What the sentence of a refusal says to write."""
    with pytest.raises(CellError) as refusal:
        standards.read(callout)
    assert "write" in str(refusal.value)
    return str(refusal.value).rpartition("as in ")[2].partition(", ")[0]


UNLISTED = ("0.99", "1.3", "1.7", "2.3", "2.6", "2.9", "5.25", "9.9", "13", "37", "63.5", "69", "101.5", "355")
OF_TABLES = {"M2.6": "M2.6x0.45", "M1.7": "M1.7x0.35", "M13": "M13x1.75", "M355": "M355x6"}
"""ISO 261, coarse: 0.45 at M2.5, 0.35 at M1.6, 1.75 at M12, and 6 at M64 and M68, the last."""


@pytest.mark.parametrize("size", UNLISTED)
def test_a_pitch_that_is_proposed_can_be_cut(size: str) -> None:
    for callout in (f"M{size}", f"M{size}-6g", f"M{size} fine", f"MJ{size}", f"MJ{size}-4h6h"):
        if callout.startswith("MJ") and float(size) < 1.6:
            continue
        meant = proposed(callout)
        assert meant.startswith(f"{callout.split('-')[0].split()[0]}x")
        assert standards.read(meant).diameter == float(size)
        assert standards.limits(standards.read(f"{meant.partition('-')[0]}-6g")).pitch.max


def test_the_pitch_that_is_proposed_is_that_of_the_next_smaller_size() -> None:
    assert {callout: proposed(callout) for callout in OF_TABLES} == OF_TABLES
    assert proposed("MJ2.6") == "MJ2.6x0.45-4h6h"
    assert proposed("1/16 BSF") == "1/16-60 WHIT"  # BS 84: 1/16-60 BSW
    assert standards.write(standards.read("1/16-60 WHIT")) == "1/16-60 BSW"


@pytest.mark.parametrize("size", ["1.2", "1.3", "0.5"])
def test_an_mj_thread_below_its_standard_is_proposed_no_pitch(size: str) -> None:
    for callout in (f"MJ{size}", f"MJ{size}x0.2-4h6h"):
        with pytest.raises(CellError, match=r"ISO 5855-1 begins at 1\.6 mm"):
            standards.read(callout)


@pytest.mark.parametrize("size", ["1/16", "3/32", "0.05", "7", "12"])
def test_a_whitworth_pitch_that_is_proposed_can_be_cut(size: str) -> None:
    for series in ("BSF", "BSW") if size != "1/16" else ("BSF",):
        if series == "BSW" and size == "3/32":
            continue  # BSW has it
        standards.read(proposed(f"{size} {series}"))
