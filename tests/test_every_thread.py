"""What must hold for every standard thread and every class that the workbook offers, some nine thousand."""

from __future__ import annotations

from itertools import chain

import pytest

from sheetfuncs import cutting, functional, limits, roots, standards, wires
from sheetfuncs.designations import Thread
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.standards.base import round_half_even
from workbook_template.sheets.thread_listing import listing


@pytest.fixture(scope="module")
def threads() -> list[Thread]:
    found = [standards.read(row.callout) for row in listing([]).rows]
    assert len(found) > 8900
    return found


def test_the_limits_stand_in_order(threads: list[Thread]) -> None:
    for thread in threads:
        found = standards.limits(thread)
        ends = chain.from_iterable((size.min, size.max) for size in (found.minor, found.pitch, found.major))
        known = [end for end in ends if end is not None]
        assert known == sorted(known), thread
        assert thread == standards.read(standards.write(thread))


def test_depth_takes_the_tip_of_the_standard_at_both_ends_of_the_tolerance(threads: list[Thread]) -> None:
    cut = 0
    for thread in threads:
        try:
            kind, smallest, largest, _ = cutting.tip(thread)[0]
        except NotGiven:  # NPSM, and UNJ and MJ nuts: no source for their root was found
            continue
        for size in {smallest, largest} - {None}:
            for limit in ("max", "mid", "min"):
                assert cutting.depth(thread, Tip(kind, size), limit) > 0, (thread, kind, size, limit)
                cut += 1
    assert cut > 25_000


def test_the_room_for_rounding_is_no_more_than_that(threads: list[Thread]) -> None:
    """A tip a whole last place blunter than the room for rounding is refused as before."""
    refused = 0
    for thread in threads[::7]:
        if standards.system(thread).root_form is None or not thread.side:
            continue
        found, aim = standards.limits(thread), "min" if thread.side == "internal" else "max"
        system = standards.system(thread)
        pitch_line = standards.basic(thread).pitch if system.taper else getattr(found.pitch, aim)
        depth = abs(pitch_line - found.root) / 2 - 3 * roots.ROUNDING[thread.unit]
        own = roots.root_shortening(thread) or 0.0
        flat = max(thread.pitch / 2 - depth * system.form.spread, own * system.form.spread * 1.001)
        with pytest.raises(OutOfRange, match=r"too blunt|root radius"):
            cutting.depth(thread, Tip("flat", flat), aim)
        refused += 1
    assert refused > 1000


def test_the_best_wire_is_never_refused_and_says_where_it_sits_below_the_crest(threads: list[Thread]) -> None:
    remarks = {True: 0, False: 0}
    for thread in threads:
        if thread.side != "external":
            continue
        best, crest = wires.best_wire(thread), standards.limits(thread).major.max
        for limit in ("max", "min"):
            assert abs(wires.pd_from_wires(thread, best, wires.over_wires(thread, best, limit))) > 0
        proud = standards.system(thread).taper or wires.over_wires(thread, best, "min") > crest
        assert wires.wire_remark(thread, best).startswith("serves" if proud else "may sit below the crest"), thread
        remarks[bool(proud)] += 1
    assert remarks[False] > 120
    assert remarks[True] > 4000


def test_a_part_cut_for_its_coating_is_within_limits_once_coated(threads: list[Thread]) -> None:
    """Metal may grow to basic size where the limit leaves that as allowance, and nowhere past both."""
    moved = 0
    for thread in threads[::3]:
        found, basic, system = standards.limits(thread), standards.basic(thread), standards.system(thread)
        out = -1 if thread.side == "internal" else 1
        for share in (0.0005, 0.003):
            thin, thick = share * thread.pitch / 2, share * thread.pitch
            try:
                rows = functional.before_coating(thread, thin, thick)
            except OutOfRange:
                continue
            for name, largest, smallest, words in rows:
                limit, nominal = getattr(found, name), round_half_even(getattr(basic, name), system.decimals)
                factor = functional.coating_factor(system.form) if name == "pitch" else 2
                ends = ((largest, limit.max), (smallest, limit.min))[::out]
                (most_metal, most_allowed), (least_metal, least_allowed) = ends
                if most_metal is not None:
                    room = max(out * most_allowed, out * nominal) - out * most_metal
                    assert room >= factor * thick - 1e-9, (thread, name)
                if least_metal is not None:
                    assert out * least_metal + factor * thin >= out * least_allowed - 1e-9, (thread, name)
                moved += words != "the allowance takes it"
    assert moved > 3000


def test_a_thread_in_words_fits_a_cell(threads: list[Thread]) -> None:
    for thread in threads:
        for starts in (1, 3):
            assert len(limits.describe(thread._replace(starts=starts, left_hand=True))) <= 255
