"""The LAMBDAs of blank, depth, compound, time and judging, computed in formulon, are the functions of the catalogue."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from lambda_engine import Call, Files, Given, Opened, Second, by_python, differences, same

from sheetfuncs import forms, standards
from sheetfuncs.designations import Thread
from sheetfuncs.forms import Tip
from sheetfuncs.roots import ROUNDING, mating_edge, root_shortening
from sheetfuncs.standards import Limits

LIMITS = ("max", "min", "mid", "basic")


def test_blanks(few: Opened, lambda_files: Files) -> None:
    units = (None, "in", "mm")
    calls = [("THREAD_BLANK", (callout, units[at % 3])) for at, callout in enumerate(lambda_files.callouts)]
    assert differences(few.answers, calls) == []


def tips(thread: Thread) -> tuple[Given, ...]:
    """Tips from sharp to far too blunt, in every spelling, about the standard's own among them."""
    pitch = thread.pitch
    own = root_shortening(thread) or pitch / 10
    form = standards.system(thread).form
    flat, nose = (own / forms.tip_shortening(form, Tip(kind, 1.0)) for kind in ("flat", "radius"))
    rounded = [round(share * pitch, 7) for share in (0.02, 0.151, 0.18, 0.4)]
    edge = mating_edge(thread) if thread.thread_class and thread.side else None
    bounded = forms.largest_nose(form, edge, edge) + ROUNDING[thread.unit] if edge else pitch / 10
    return (
        *("sharp", " Sharp", 0, "0", "0.0 mm", f"flat {flat:.7f}", f"FLAT {flat * 1.02:.7f}", f"flat{flat * 0.97:.7f}"),
        *(f"radius {nose:.7f}", f"rad {nose * 1.02:.7f}", f"R{nose * 0.97:.7f}", *rounded),
        *(f"r {rounded[1]} {thread.unit}", f"{rounded[1]}{thread.unit}"),
        *(f"R{bounded * share:.7f}" for share in (0.99, 1.01, 1.05, 1.2)),
    )


def starts(thread: Thread, limits: Limits) -> tuple[Given, ...]:
    """No blank given; blanks at both limits, a little and far outside, and past the pitch line."""
    crest = limits.minor if thread.side == "internal" else limits.major
    largest, smallest = crest.ends
    far = 0.251 * thread.pitch
    return None, largest, smallest, *(round(one, 7) for one in (largest + far, smallest - far, limits.pitch.ends[0]))


def depths(files: Files) -> Iterator[Call]:
    """Every other tip on each thread, limits and blanks in turn; one that is neither external nor internal has no depth
    with any tip."""
    number = 0
    for at, callout in enumerate(files.callouts):
        thread = standards.read(callout)
        blanks = starts(thread, standards.limits(thread)) if thread.thread_class and thread.side else (None, 1.0)
        every = tips(thread)
        for tip in every[at % 2 :: 2] if thread.side else (every[at % len(every)],):
            number += 1
            blank = None if number % 2 else blanks[number // 2 % len(blanks)]
            yield "THREAD_DEPTH", (callout, tip, LIMITS[number // 3 % 4], blank)


def test_depths(few: Opened, lambda_files: Files) -> None:
    assert differences(few.answers, depths(lambda_files)) == []


def test_depths_are_given_and_refused_for_every_reason(lambda_files: Files) -> None:
    """The calls above are no lot of refusals, and the other way round: each side of each system has both."""
    given = Counter[tuple[str, str, bool]]()
    for call in depths(lambda_files):
        thread = standards.read(str(call[1][0]))
        given[thread.system, thread.side, str(by_python(call))[:1] != "#"] += 1
    of_sides = {(system, side) for system, side, _ in given if side}
    assert len(of_sides) > 25
    assert min(given[system, side, answered] for system, side in of_sides for answered in (True, False)) >= 3
    assert sum(given[system, side, True] for system, side in of_sides) > 350


SINGLE_FAULTS: dict[Call, str] = {
    ("THREAD_DEPTH", ("3/4-16 UNF", "sharp", "basic")): "#N/A",
    ("THREAD_DEPTH", ("3/4-14 NPT", "sharp", "basic")): "#N/A",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "rough", "mid")): "#VALUE!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "flat", "mid")): "#VALUE!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "radius 0,008", "mid")): "#VALUE!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "radius 0", "mid")): "#NUM!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "radius 0.02", "mid")): "#NUM!",
    ("THREAD_DEPTH", ("7/8-14 UNJF-3A", "sharp", "mid")): "#NUM!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "sharp", "mid", 0.7)): "#NUM!",
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "sharp", "mid", 0.77)): "#NUM!",
    ("THREAD_COMPOUND", (0.0384, 90)): "#NUM!",
    ("THREAD_COMPOUND", (0.0384, -1)): "#NUM!",
    ("THREAD_COMPOUND", ("x", 29.5)): "#VALUE!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 0)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 1.5)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 1001)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 0, 16)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 0, 160, 16)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 16, -1)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 16, None, None, -1)): "#NUM!",
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 16, None, None, None, "maybe")): "#VALUE!",
    ("THREAD_VERDICT", (1.0,)): "#NUM!",
    ("THREAD_VERDICT", (1.0, 2, 2)): "#NUM!",
    ("THREAD_VERDICT", (1.0, 0, 2, None, "guard")): "#NUM!",
    ("THREAD_VERDICT", (1.0, 0, 2, 0)): "#NUM!",
    ("THREAD_VERDICT", (1.0, 0, 2, 0.1, "other")): "#VALUE!",
    ("THREAD_AT_20C", (100, 51, "steel")): "#NUM!",
    ("THREAD_AT_20C", (100, 4.9, "steel")): "#NUM!",
    ("THREAD_AT_20C", (100, 30, "cheese")): "#VALUE!",
    ("THREAD_AT_20C", (100, 30, 0.01)): "#NUM!",
}
ANSWERED: tuple[Call, ...] = (
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "0.2 mm", "mid", "0.744 in")),
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", 0.2, "mid", 18.9, "mm")),
    ("THREAD_DEPTH", ("3/4-16 UNF-2A", "", "mid")),
    ("THREAD_DEPTH", ("M20x2.5-6g", "radius 0.01 in", "MID", None, "in")),
    ("THREAD_COMPOUND", (0.0384, 0)),
    ("THREAD_COMPOUND", ("-0.0384", "29.5")),
    ("THREAD_COMPOUND", ("", 29.5)),
    ("THREAD_TIME", ("3/4-16 UNF-2A", "45 mm", 160, 16, 0.2, "2 mm", 6)),
    ("THREAD_TIME", ("M20x2.5-6g", 45, "160", 16, 5, 3, 5, "Yes")),
    ("THREAD_VERDICT", (18.2, 18.164, 18.334)),
    ("THREAD_VERDICT", (18.2, 18.164, 18.334, 0.05)),
    ("THREAD_VERDICT", (18.1, 18.164, 18.334, 0.05)),
    ("THREAD_VERDICT", (18.1, 18.164, 18.334, 0.05, "simple")),
    ("THREAD_VERDICT", (18.164, 18.164, 18.334, None, "Simple")),
    ("THREAD_VERDICT", (18.4, None, 18.334)),
    ("THREAD_VERDICT", (18.4, 18.164)),
    ("THREAD_VERDICT", (0.3, 0.1, "0.3", None)),
    ("THREAD_VERDICT", (1, 0.9, 1.1, 0.2)),
    ("THREAD_AT_20C", (100.0, "86 F", "Steel")),
    ("THREAD_AT_20C", (100.0, "30 °C", "brass")),
    ("THREAD_AT_20C", (100.0, "30", 11.5e-6)),
    ("THREAD_AT_20C", (100.0, 5, "cast iron")),
)


@pytest.mark.parametrize("call", [*ANSWERED, *SINGLE_FAULTS], ids=str)
def test_one_by_one(few: Opened, call: Call) -> None:
    found = few.answer(call)
    assert same(found, by_python(call)), found
    assert (found in ("#N/A", "#NUM!", "#VALUE!")) is (call in SINGLE_FAULTS)
    assert found == SINGLE_FAULTS.get(call, found)


def test_times_and_verdicts(few: Opened) -> None:
    """Each of some arguments with each of some others."""
    calls: list[Call] = [
        ("THREAD_TIME", ("M20x2.5-6g", length, rpm, 16, approach, None, back, way))
        for length in (45, "2 in")
        for rpm in (63, 160.5)
        for approach in (None, 0, 5)
        for back in (None, 6)
        for way in (None, "yes", "no")
    ]
    calls += [
        ("THREAD_VERDICT", (value, low, high, uncertainty, rule))
        for value in (0.9, 1.0, 1.05, 1.1, 1.2)
        for low in (None, 1.0)
        for high in (None, 1.1)
        for uncertainty in (None, 0.02, 0.06)
        for rule in (None, "simple", "guard")
    ]
    assert differences(few.answers, calls) == []


def test_a_second_engine_agrees(lambda_files: Files) -> None:
    """With sizes as numbers: it reads no number out of a text."""
    second = Second(lambda_files)
    calls = [call for call in depths(lambda_files) if not isinstance(call[1][1], str) or "harp" in call[1][1]][::6]
    assert len(calls) > 60
    assert differences(second.answers, calls) == []
