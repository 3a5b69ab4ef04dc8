"""THREAD_TIP against printed roots; and THREAD_DEPTH takes that tip and refuses one that fouls the mating crest."""

from __future__ import annotations

import re
from math import radians, tan

import pytest
from published_rows import agrees, rows

from sheetfuncs import cutting, evaluate, standards
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip


def sizes(callout: str) -> tuple[str, float | str, float | str]:
    (kind, smallest, largest, words), *_ = evaluate("THREAD_TIP", callout)
    assert len(words) > 15
    return kind, smallest, largest


@pytest.mark.parametrize("typed", ["R0.2", "r 0.2", "R.2 mm", "radius0.2", "RAD 0.2", 0.2, "0.2"])
def test_a_nose_radius_as_inserts_and_drawings_have_it(typed: str | float) -> None:
    depth = evaluate("THREAD_DEPTH", "M20x2.5-6g", typed, "mid")
    assert depth == evaluate("THREAD_DEPTH", "M20x2.5-6g", "radius 0.2", "mid")


@pytest.mark.parametrize("typed", [0, "0", " 0.0 ", "0 mm", "0 in"])
def test_a_bare_nothing_is_a_sharp_tip(typed: str | float) -> None:
    """A cell with 0 may come as a text. By hand: .4 mm less than with R0.4, whose end is .4 higher."""
    depth = evaluate("THREAD_DEPTH", "M20x2.5-6g", typed, "mid")
    assert depth == pytest.approx(evaluate("THREAD_DEPTH", "M20x2.5-6g", "R0.4", "mid") + 0.4)


@pytest.mark.parametrize("typed", ["R0", "radius 0", "flat 0.0", "-0.2", -0.2])
def test_a_nose_or_flat_of_nothing_is_told_the_word(typed: str | float) -> None:
    with pytest.raises(OutOfRange, match="it must be more than zero; write sharp for a sharp tool"):
        evaluate("THREAD_DEPTH", "M20x2.5-6g", typed, "mid")


@pytest.mark.parametrize("typed", ["R", "Rx", "round 0.2"])
def test_what_is_no_tip_is_told_what_is(typed: str) -> None:
    with pytest.raises(NotUnderstood, match=r"write sharp, flat 0\.3, radius 0\.2 or a nose radius"):
        evaluate("THREAD_DEPTH", "M20x2.5-6g", typed, "mid")


def test_printed_root_flats_of_acme_and_stub_acme() -> None:
    compared = 0
    for row in rows("acme_form"):
        if not row["root_flat"]:
            continue
        tpi = float(row["tpi"])
        kind, smallest, largest = sizes(f"{10 / tpi + 0.5:.4f}-{row['tpi']} {row['form']}")
        assert (kind, smallest) == ("flat", largest)
        assert agrees(largest, row["root_flat"], 1), row
        compared += 1
    assert compared >= 15


def test_printed_root_radii() -> None:
    for row in rows("ba_basic"):
        assert agrees(sizes(row["thread"])[2], row["radius"], 1), row
    pipe_size = {"28": "1/8", "19": "1/4", "14": "1/2", "11": "1"}
    for row in rows("gost_6357_profile"):
        share = float(row["R"]) / float(row["pitch"])  # the source rounds the pitch of 14 and 11 per inch
        assert sizes(f"G {pipe_size[row['tpi']]}")[2] == pytest.approx(share * 25.4 / float(row["tpi"]), rel=1e-5), row
        assert float(sizes(f"R {pipe_size[row['tpi']]}")[2]) == pytest.approx(float(row["R"]), rel=0.003)
    radii = [row for row in rows("unj_limits") if row["radius_max"]]
    assert radii
    for row in radii:
        kind, smallest, largest = sizes(row["thread"])
        assert kind == "radius"
        assert agrees(smallest, row["radius_min"])
        assert agrees(largest, row["radius_max"])
    least = rows("iso_root_radius")
    assert len(least) == 7
    for row in least:
        kind, smallest, largest = sizes(row["thread"])
        assert (kind, largest) == ("radius", "")
        assert agrees(smallest, row["root_radius_min"]), row


def test_printed_root_flats_of_npt() -> None:
    size = {"27": "1/8", "18": "1/4", "14": "1/2", "11.5": "1", "8": "3"}
    for row in rows("npt_truncation"):
        kind, smallest, largest = sizes(f"{size[row['tpi']]}-{row['tpi']} NPT")
        assert kind == "flat"
        assert agrees(smallest, row["F_min"], 1), row
        assert agrees(largest, row["F_max"], 1), row


def test_printed_root_of_buttress() -> None:
    form = {row["quantity"]: row["share_of_pitch"] for row in rows("buttress_form")}
    assert sizes("2-4 BUTT-2A")[2] == pytest.approx(float(form["root_radius"]) / 4)
    assert sizes("2-4 BUTT-2A-FL")[2] == pytest.approx(float(form["root_flat"]) / 4)


PAIRS = (
    ("1/2-13 UNC-2A", "1/2-13 UNC-2B"),
    ("M20x2.5-6g", "M20x2.5-6H"),
    ("1-5 ACME-2G", "1-5 ACME-2G-INT"),
    ("1-5 STUB ACME-2G", "1-5 STUB ACME-2G-INT"),
    ("Tr40x7-7e", "Tr40x7-7H"),
    ("2.5-8 BUTT-2A", "2.5-8 BUTT-2B"),
    ("2.5-8 BUTT-2A-FL", "2.5-8 BUTT-2B-FL"),
    ("1/2-12 BSW medium bolt", "1/2-12 BSW medium nut"),
    ("2 BA normal bolt", "2 BA nut"),
    ("G 3/4 A", "G 3/4"),
    ("R 3/4", "Rc 3/4"),
    ("3/4-14 NPT external", "3/4-14 NPT internal"),
)


@pytest.mark.parametrize("callout", [callout for pair in PAIRS for callout in pair])
def test_the_tip_of_the_standard_cuts_the_thread(callout: str) -> None:
    """Aimed at the middle of the tolerance, the mating thread is cleared."""
    thread = standards.read(callout)
    kind, smallest, largest, _ = cutting.tip(thread)[0]
    for size in {smallest, largest} - {None}:
        assert cutting.depth(thread, Tip(kind, size), "mid") > 0


@pytest.mark.parametrize(("callout", "mate"), PAIRS[:-2])
def test_a_tip_that_leaves_the_root_over_the_mating_crest_is_refused(callout: str, mate: str) -> None:
    """The nut's least bore stands in the screw's groove: a flat as wide as the groove there, and a little more."""
    thread, form = standards.read(callout), standards.system(standards.read(callout)).form
    aim, bore = standards.limits(thread).pitch.max, standards.limits(standards.read(mate)).minor.min
    spread = tan(radians(form.leading)) + tan(radians(form.trailing))
    there = thread.pitch / 2 - (aim - bore) / 2 * spread
    with pytest.raises(OutOfRange, match=r"is too blunt for .*: the root would foul the mating thread; at this size"):
        cutting.depth(thread, Tip("flat", there * 1.01 + 1e-4), "max")
    screw_crest = standards.limits(standards.read(mate))
    nut, major = standards.read(mate), standards.limits(thread).major.max
    there = nut.pitch / 2 - (major - screw_crest.pitch.min) / 2 * spread
    with pytest.raises(OutOfRange, match=r"is too blunt for .*: the root would foul the mating thread; at this size"):
        cutting.depth(nut, Tip("flat", there * 1.01 + 1e-3), "min")


# Aim, least or largest root by ASME B1.5-1997, ISO 2903, BS 84, ASME B1.9 and BS 93; pitch, tangents of the flanks.
ROOTS = (
    ("1-5 ACME-2G", "sharp", 0.8823, 0.7509, 0.2, 2 * tan(radians(14.5)), 0.0),
    ("1-5 ACME-2G", "flat 0.05", 0.8823, 0.7509, 0.2, 2 * tan(radians(14.5)), 0.05),
    ("1-5 ACME-2G internal", "flat 0.06", 0.9097, 1.04, 0.2, 2 * tan(radians(14.5)), 0.06),
    ("Tr40x7-7e", "flat 1.5", 36.1975, 31.431, 7, 2 * tan(radians(15)), 1.5),
    ("Tr40x7-7e", "flat 2.6", 36.1975, 32.0, 7, 2 * tan(radians(15)), 2.6),
    ("2.5-8 BUTT-2A", "flat 0.02", 2.4149, 2.3285, 0.125, tan(radians(7)) + 1, 0.02),
    ("1/2-12 BSW medium bolt", "sharp", 0.4425, 0.3809, 1 / 12, 2 * tan(radians(27.5)), 0.0),
    ("2 BA normal bolt", "sharp", 4.137, 3.493, 0.81, 2 * tan(radians(23.75)), 0.0),
)


@pytest.mark.parametrize(("callout", "tip", "aim", "limit", "pitch", "spread", "flat"), ROOTS)
def test_a_root_past_a_limit_of_the_standard_is_refused(
    callout: str, tip: str, aim: float, limit: float, pitch: float, spread: float, flat: float
) -> None:
    """The groove is half a pitch wide at the pitch line and a flat wide at the root, by hand."""
    way = -1 if "internal" in callout else 1
    root = aim - 2 * way * (pitch / 2 - flat) / spread
    with pytest.raises(OutOfRange, match=r"diameter .*, past its limit") as refused:
        evaluate("THREAD_DEPTH", callout, tip, "mid")
    found = re.search(r"diameter (?:to|at) ([\d.]+), past its limit ([\d.]+);", str(refused.value))
    assert found
    assert float(found[1]) == pytest.approx(root, abs=1.5e-4 * (1 if pitch < 0.5 else 5))
    assert float(found[2]) == limit
    named = "a sharp tip" if tip == "sharp" else f"a {tip.replace('flat ', 'flat of ')} {standards.read(callout).unit}"
    assert str(refused.value).startswith(f"{named} is too ")
    with pytest.raises(OutOfRange, match="past its limit"):
        evaluate("THREAD_INFEED", callout, tip, 6)


@pytest.mark.parametrize("callout", ["3/4-16 UNF-2A", "M20x2.5-6g", "M20x2.5-6H", "G 3/4 A", "3/4-14 NPT external"])
def test_a_sharp_tip_is_taken_where_no_limit_of_the_root_binds(callout: str) -> None:
    """Minor diameters for reference (ISO 965-1), none set (ASME B1.1, ISO 228-1), none that is measured (a taper)."""
    assert evaluate("THREAD_DEPTH", callout, "sharp", "mid") > 0


@pytest.mark.parametrize("callout", ["7/8-14 UNJF-3A", "MJ10x1.5-4h6h"])
def test_a_demanded_root_radius_is_asked_for_by_its_size(callout: str) -> None:
    thread = standards.read(callout)
    for tip in (Tip("sharp"), Tip("flat", 0.05 * thread.pitch), Tip("radius", 0.14 * thread.pitch)):
        with pytest.raises(OutOfRange, match=r"must have a root radius of .* use a nose radius in that range"):
            cutting.depth(thread, tip, "mid")


def test_a_rounded_root_is_what_makes_a_thread_unr() -> None:
    """A sharp or a flat tip leaves corners in the root; a nose of .108 P or .144 P cuts UNR as it cuts UN.

    A smaller one does not: ANSI/ASME B1.1-1989, "a radius of curvature of not less than 0.108P at any point".
    """
    rounded, common = standards.read("3/4-16 UNRF-2A"), standards.read("3/4-16 UNF-2A")
    for tip in (Tip("sharp"), Tip("flat", 0.005)):
        assert cutting.depth(common, tip, "mid") > 0
        with pytest.raises(OutOfRange, match=rf"has a rounded root, which makes it UNR: a {tip.kind} tip does not"):
            cutting.depth(rounded, tip, "mid")
        with pytest.raises(OutOfRange, match="has a rounded root"):
            cutting.infeed(rounded, tip, 6)
    for radius in (0.003, 0.0067):
        assert cutting.depth(common, Tip("radius", radius), "mid") > 0
        with pytest.raises(OutOfRange, match=r"makes it UNR: a nose radius of .* use a nose radius of 0.0068 in or "):
            cutting.depth(rounded, Tip("radius", radius), "mid")
    for radius in (0.108 / 16, 0.144 / 16, 0.160 / 16):
        nose = Tip("radius", radius)
        assert cutting.depth(rounded, nose, "mid") == cutting.depth(common, nose, "mid")


@pytest.mark.parametrize(
    ("callout", "sentence"),
    [
        ("3/4-16 UNF", "3/4-16 UNF does not say whether it is outside or inside, and their roots differ; add it "),
        ("M20x2.5", "M20x2.5 does not say whether it is outside or inside, and their roots differ; add it "),
        ("MJ10x1.5-4H5H", "MJ10x1.5-4H5H: no source for the root of the internal thread was found"),
        ("3/4-14 NPSM external", "3/4-14 NPSM external: no source for the root of NPSM pipe was found"),
    ],
)
def test_what_is_not_known_is_refused_in_words(callout: str, sentence: str) -> None:
    with pytest.raises(NotGiven) as refusal:
        cutting.tip(standards.read(callout))
    assert str(refusal.value).startswith(sentence)
