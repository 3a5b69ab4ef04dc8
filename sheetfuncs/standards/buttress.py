"""Buttress inch threads, 7 and 45 degree flanks, 0.6 P engagement: designations, sizes and limits (ASME B1.9-1973).

Sizes and limits are Table 3 of the standard, tolerances the formula behind its Table 4, which it reproduces in
every cell that was seen (Machinery's Handbook, 27th ed., pp. 1853 to 1855; tests/published/buttress_tolerances.csv).
FROM MEMORY, no text was seen: class 3 is two thirds of class 2, and the grammar of the designation. MH27 p. 1855
says that the allowance of both classes is the class 3 pitch diameter tolerance.
"""

from __future__ import annotations

import re
from math import sqrt

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain, read_inch_size, split_hand, threads_per_inch
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.standards.base import Basic, Limits, Root, Size, System, no_limits_without_class, round_half_even
from sheetfuncs.standards.callouts import BEHIND_SIZE, NUMBER, PITCH_AND_LEAD, pitch_and_starts
from sheetfuncs.units import read_number

SMALLEST_IN, LARGEST_IN = 0.5, 24.0
"""Diameters for which the standard has tolerances (Table 4)."""

CLASSES = {"external": "2A, 3A", "internal": "2B, 3B"}

_CALLOUT = re.compile(
    rf"(?i)(?P<size>{NUMBER}){BEHIND_SIZE}(?:{PITCH_AND_LEAD}|(?P<tpi>{NUMBER}))"
    r"\s*-?\s*(?:(?P<way>PUSH|PULL)\s*-?\s*)?BUTT(?:RESS)?"
    r"\s*-?\s*(?P<class>\d[AB]?)?"
    r"(?:\s*-?\s*(?P<left>LH))?(?:\s*-?\s*(?P<flat>FL))?"
)

# Table 4's diameter ranges (up to and including), each worked with the middle of the range.
_RANGES = (0.5, 0.7, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 24.0)


def read(text: str) -> Thread | None:
    """A buttress designation, or None where the text is not one.

    BUTT alone is the pull type (the external thread pulls; its 45 degree flank leads), PUSH-BUTT the push type.
    FL at the end asks for a flat root. Several starts: pitch and lead, `10-0.25P-0.5L-BUTT-3B`. FROM MEMORY of
    Machinery's Handbook, 27th ed., p. 1856.

    >>> read("2.5-8 BUTT-2A-LH").left_hand, read("2 1/2-8 push-butt 3b FL").series, read("10-.25P-.5L-BUTT-3B").starts
    (True, 'PUSH-BUTT-FL', 2)
    """
    if "BUTT" not in text.upper():
        return None
    rest, left_hand = split_hand(text)
    match = _CALLOUT.fullmatch(rest)
    if not match:
        raise NotUnderstood(f"{text}: write a buttress thread as in 2.5-8 BUTT-2A or 2.5-8 PUSH-BUTT-2A-LH")
    diameter = read_inch_size(match["size"])
    if diameter is None or not SMALLEST_IN <= diameter <= LARGEST_IN:
        raise OutOfRange(f"{text}: ASME B1.9 covers diameters from {SMALLEST_IN:g} to {LARGEST_IN:g} in")
    pitch, starts = _pitch_and_starts(match, text)
    if not pitch <= diameter / 2:
        raise OutOfRange(f"{text}: {plain(1 / pitch)} threads per inch can't be cut on {plain(diameter)} in")
    thread_class, side = _read_class((match["class"] or "").upper(), text)
    series = "PUSH-BUTT" if (match["way"] or "").upper() == "PUSH" else "BUTT"
    series += "-FL" * bool(match["flat"])
    left_hand = left_hand or bool(match["left"])
    return Thread("buttress", "in", diameter, pitch, starts, series, thread_class, side, left_hand)


def write(thread: Thread) -> str:
    """The designation in the order of the standard: size, pitch, form, class, hand, root.

    >>> write(read("2 1/2 - 8 Push Butt 2a LH FL")), write(read("10-0.25P-0.5L BUTT-3B"))
    ('2.5-8 PUSH-BUTT-2A-LH-FL', '10-0.25P-0.5L-BUTT-3B')
    """
    form, root = _form_and_root(thread)
    if thread.starts > 1:
        size = with_lead(thread, plain(thread.lead))
    else:
        size = f"{plain(thread.diameter)}-{plain(threads_per_inch(thread.pitch))} {form}"
    return "-".join(part for part in (size, thread.thread_class, "LH" * thread.left_hand, root) if part)


def with_lead(thread: Thread, lead: str) -> str:
    """Size and form of several starts, the lead as this text.

    >>> with_lead(read("10-4 BUTT"), "0.5")
    '10-0.25P-0.5L-BUTT'
    """
    return f"{plain(thread.diameter)}-{plain(thread.pitch)}P-{lead}L-{_form_and_root(thread)[0]}"


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - 0.6 P, minor diameter D - 1.2 P (ASME B1.9-1973, Table 3).

    >>> [round(size, 4) for size in basic(read("2-4 BUTT"))]
    [2.0, 1.85, 1.7]
    """
    d, pitch = thread.diameter, thread.pitch
    return Basic(d, d - 0.6 * pitch, d - 1.2 * pitch)


def root_form(thread: Thread) -> Root:
    """The tool end of the full root: radius 0.071 41 P, or flat 0.0928 P where FL is asked (ASME B1.9-1973, Table 3).

    Half of that at minimum material.

    >>> root_form(read("2-4 BUTT-2A"))[:3]
    ('radius', 0.00892625, 0.0178525)
    """
    kind, share = ("flat", 0.0928) if thread.series.endswith("FL") else ("radius", 0.07141)
    return Root(kind, share / 2 * thread.pitch, share * thread.pitch, f"{kind} of the root, ASME B1.9, Table 3")


def limits(thread: Thread) -> Limits:
    """Limits of size in inches, to 0.0001 (ASME B1.9-1973, Table 3 with the values of Tables 4 and 5).

    The tolerance of the external major and the internal minor diameter is that of the pitch diameter. Roots lie
    between a truncation of 0.0826 P at maximum material and 0.0413 P at minimum material, so the external minor
    minimum is the pitch diameter minimum less 0.808 03 P, the internal major maximum likewise more.

    >>> limits(read("2-4 BUTT-2A")).pitch, limits(read("2-4 BUTT-2B")).minor
    (Size(max=1.8426, min=1.8314, reference=''), Size(max=1.7112, min=1.7, reference=''))
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    size, pitch = basic(thread), thread.pitch
    tolerance = pitch_diameter_tolerance(thread.diameter, pitch, int(thread.thread_class[0]))
    to_far_root = 0.80803 * pitch
    if thread.side == "internal":
        middle, minor = _in(size.pitch), _in(size.minor)
        largest = _in(middle + tolerance)
        return Limits(
            Size(_in(largest + to_far_root), _in(size.major + 0.12542 * pitch)),
            Size(largest, middle),
            Size(_in(minor + tolerance), minor),
            0.0,
            _in(size.major),
        )
    allowance = pitch_diameter_tolerance(thread.diameter, pitch, 3)
    major, middle = _in(size.major - allowance), _in(size.pitch - allowance)
    smallest = _in(middle - tolerance)
    return Limits(
        Size(major, _in(major - tolerance)),
        Size(middle, smallest),
        Size(_in(size.major - 1.32542 * pitch - allowance), _in(smallest - to_far_root)),
        allowance,
        _in(size.minor - allowance),
    )


def pitch_diameter_tolerance(diameter: float, pitch: float, grade: int) -> float:
    """Tolerance of class 2 or 3 for an engagement up to ten pitches, to 0.0001 in (ASME B1.9-1973, 6.1 and Table 4).

    Class 2 is 0.002 D^(1/3) + 0.002 78 Le^(1/2) + 0.008 54 P^(1/2); with Le = 10 P the last two are printed as
    0.0173 P^(1/2), and D is the middle of a range of diameters. Class 3 is two thirds of it.

    >>> pitch_diameter_tolerance(0.5, 1 / 20, 2), pitch_diameter_tolerance(12, 0.1, 2)      # Table 4: .0056, .0102
    (0.0056, 0.0102)
    """
    low, high = next((a, b) for a, b in zip(_RANGES, _RANGES[1:]) if diameter <= b)
    class_2 = 0.002 * ((low + high) / 2) ** (1 / 3) + 0.0173 * sqrt(pitch)
    return _in(class_2 if grade == 2 else class_2 * 2 / 3)


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ASME B1.9, in words.

    >>> standing(read("2.5-8 BUTT")), standing(read("2.6-8 BUTT"))
    ('preferred pair of ASME B1.9', 'no preferred pair of ASME B1.9, worked by its formulas')
    >>> standing(read("10-0.25P-0.5L BUTT-3B"))
    'preferred pair of ASME B1.9; its limits are those of one start'
    """
    preferred = (thread.diameter, threads_per_inch(thread.pitch)) in _pairs()
    stands = "preferred pair of ASME B1.9" if preferred else "no preferred pair of ASME B1.9, worked by its formulas"
    of_one = thread.thread_class != "" and thread.starts > 1
    return stands + "; its limits are those of one start" * of_one


def standard_threads() -> list[Thread]:
    """Every preferred pair of ASME B1.9, without a class, pull type, in the order of its table."""
    return [Thread("buttress", "in", diameter, 1 / tpi, series="BUTT") for diameter, tpi in _pairs()]


def _pitch_and_starts(match: re.Match[str], text: str) -> tuple[float, int]:
    if match["pitch"]:
        pitch, starts = pitch_and_starts(match["pitch"], match["lead"], text)
    else:
        tpi = read_number(match["tpi"]) or 0.0
        pitch, starts = (1 / tpi if tpi else 0.0), 1
    if not 1 / 20 - 1e-9 <= pitch <= 1 + 1e-9:
        raise OutOfRange(f"{text}: ASME B1.9 has 1 to 20 threads per inch")
    return pitch, starts


def _read_class(text: str, callout: str) -> tuple[str, str]:
    if not text:
        return "", ""
    if text[0] not in "23":
        raise NotUnderstood(f"{callout}: ASME B1.9 has classes 2 and 3 (2A, 3A outside, 2B, 3B inside), not {text[0]}")
    if text[-1] not in "AB":
        raise NotUnderstood(f"{callout}: class {text} stands for both sides; add A (external) or B (internal)")
    return text, {"A": "external", "B": "internal"}[text[-1]]


def _form_and_root(thread: Thread) -> tuple[str, str]:
    """The two that the series holds: BUTT or PUSH-BUTT, and FL where the root is flat."""
    form = thread.series.replace("-FL", "")
    return form, "FL" * (form != thread.series)


def _in(value: float) -> float:
    return round_half_even(value, 4)


@lru_cache(maxsize=1)
def _pairs() -> tuple[tuple[float, float], ...]:
    rows = tables.rows("buttress_sizes")
    return tuple((float(d), float(n)) for r in rows for d in r["diameters_in"].split() for n in r["tpi"].split())


SYSTEM = System(
    key="buttress",
    title="Buttress",
    source="ASME B1.9",
    unit="in",
    decimals=4,
    form=forms.BUTTRESS,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("2A", "3A", "2B", "3B"),
    with_lead=with_lead,
    root_form=root_form,
)
