"""What holds for the limits of every standard thread in every class, whatever its standard: which ends there are,
in how many decimals, and that the loosest nut and the fullest screw go together."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest
from published_rows import rows

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from sheetfuncs.errors import NotGiven
from sheetfuncs.standards import SYSTEMS
from sheetfuncs.standards.base import Limits

PAIRED = [key for key, system in SYSTEMS.items() if not system.taper and len(system.classes) == 2]
NO_ROOT = "npsm"
"""ASME B1.20.1, Table 5, gives NPSM crests and flanks alone."""


def classed(key: str) -> Iterator[tuple[Thread, Limits]]:
    """Each standard thread of a system in each class that it has there."""
    system = SYSTEMS[key]
    for size in system.standard_threads():
        for name in system.classes_at(size):
            try:
                thread = system.read(system.with_class(system.write(size), name))
                yield thread, standards.limits(thread)
            except NotGiven:  # a class that the standard has not at this size
                continue


@pytest.mark.parametrize("key", SYSTEMS)
def test_every_crest_and_flank_has_two_ends_and_every_root_the_one_that_clears(key: str) -> None:
    """A screw's root may be no larger than so much and a nut's no smaller: that end is always given."""
    for thread, found in classed(key):
        outside = thread.side == "external"
        crest, root = (found.major, found.minor) if outside else (found.minor, found.major)
        for size in (crest, found.pitch):
            assert 0 < size.min < size.max, thread
        clears = root.max if outside else root.min
        assert (clears is None) == (key == NO_ROOT), thread
        assert None in root[:2] or 0 < root.min < root.max, thread


@pytest.mark.parametrize("key", SYSTEMS)
def test_limits_are_given_in_the_decimals_of_the_system_and_need_them_all(key: str) -> None:
    scale = 10 ** SYSTEMS[key].decimals
    last = set()
    for thread, found in classed(key):
        for size in found[:3]:
            for end in size[:2]:
                if end is not None:
                    assert end * scale == pytest.approx(round(end * scale), abs=1e-6), thread
                    last.add(round(end * scale) % 10)
    assert len(last) >= 5


@pytest.mark.parametrize("key", PAIRED)
def test_the_fullest_screw_goes_into_the_smallest_nut(key: str) -> None:
    """In every pair of classes of a size: major, pitch and minor diameter of the nut are at least the screw's."""
    screws: dict[tuple, list[float]] = {}
    nuts: dict[tuple, list[float]] = {}
    for thread, found in classed(key):
        place = (*thread[2:5], thread.thread_class[-1:] if key == "acme" and "C" in thread.thread_class else "")
        if thread.side == "external":
            ends = [-1.0 if size.max is None else size.max for size in found[:3]]
            screws[place] = [max(pair) for pair in zip(ends, screws.get(place, ends))]
        else:
            ends = [1e9 if size.min is None else size.min for size in found[:3]]
            nuts[place] = [min(pair) for pair in zip(ends, nuts.get(place, ends))]
    both = screws.keys() & nuts.keys()
    assert len(both) > 0.97 * len(screws)  # the finest pitches and smallest UNJ nuts have no class
    for place in both:
        assert all(nut >= screw for nut, screw in zip(nuts[place], screws[place])), (key, place)


@pytest.mark.parametrize("kind", ["R", "Rc"])
def test_a_taper_gauge_plane_moves_all_three_diameters_alike(kind: str) -> None:
    """JIS prints how far the plane may lie off, b or c, in 0.01 mm; a sixteenth of it shows on each diameter."""
    for row in rows("iso_7_1_jis"):
        found = standards.limits(standards.read(f"{kind} {row['size']}"))
        across = float(row["b" if kind == "R" else "c"]) / 16
        for size, column in zip(found[:3], ("d", "d2", "d1")):
            assert size.max - float(row[column]) == pytest.approx(across, abs=0.0009), row
            assert float(row[column]) - size.min == pytest.approx(across, abs=0.0009), row


FORM = {row["quantity"]: Fraction(row["share_of_pitch"]) for row in rows("buttress_form")}


def test_buttress_roots_are_the_printed_shares_of_any_pitch() -> None:
    """Exact fractions of three printed shares, rounded once, at pitches between the listed ones too: there the fifth
    digit of a share shows in the fourth of a limit."""
    above, below = FORM["internal_major_above_basic"], FORM["external_minor_below_major"]
    far = FORM["pitch_line_to_far_root"]
    for hundredths in range(100, 400):
        pitch = Fraction(100, hundredths)
        screw, nut = (standards.limits(standards.read(f"20-{hundredths / 100:g} BUTT-2{side}")) for side in "AB")
        for value, exact in (
            (nut.major.min, 20 + above * pitch),
            (nut.major.max, Fraction(str(nut.pitch.max)) + far * pitch),
            (screw.minor.max, 20 - below * pitch - Fraction(str(screw.allowance))),
            (screw.minor.min, Fraction(str(screw.pitch.min)) - far * pitch),
        ):
            assert round(value * 10_000) == round(exact * 10_000), (hundredths, value)
