"""British Association threads, 0 to 16 BA: designations, basic sizes and limits (BS 93).

Form: 47.5 degrees, depth 0.6 P, crest and root rounded to 0.1808346 P (BS 93:2008, Figure 1; a gauge maker's page "BA
and G Series Thread Gauges" prints it to five digits). Allowance and tolerances: BS 93:2008, Annex B, in a public
extract; Machinery's Handbook, 31st ed., p. 2115, prints the same formulas for BS 93:1951.
"""

from __future__ import annotations

import re

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, split_hand
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.base import Basic, Limits, Root, Size, System, no_limits_without_class, round_half_even
from sheetfuncs.standards.callouts import class_and_side, root_to_clear

CLASSES = {"external": "close (0 to 10 BA), normal", "internal": "nut, one class without a name"}

_CALLOUT = r"(?i)(?:(?:No\.?|\#)\s*)?(?P<number>\d+)\s*-?\s*B\.?A\b\.?(?P<words>.*)"

ROOT_RADIUS = 0.1808346
"""Radius of crest and root as a share of the pitch (BS 93:2008, Figure 1)."""

DEPTH = 0.6
"""Depth of the thread as a share of the pitch (BS 93:2008, Figure 1)."""

ALLOWANCE_MM, LAST_WITH_ALLOWANCE = 0.025, 10
"""Normal bolts of 0 to 10 BA are made this much below basic size (Machinery's Handbook, 31st ed., p. 2115)."""


def read(text: str) -> Thread | None:
    """A BA designation, or None where the text is not one.

    `2 BA` or `2BA` alone has no side; `close` and `normal` are classes of bolts; nuts have one class without a
    name, `2 BA nut`.

    >>> read("2BA normal").thread_class, read("No. 2 BA nut").side, read("2 b.a. (close) bolt LH").left_hand
    ('normal', 'internal', True)
    """
    rest, left_hand = split_hand(text)
    match = re.fullmatch(_CALLOUT, rest)
    if not match:
        return None
    row = _sizes().get(int(match["number"]))
    if row is None:
        raise OutOfRange(f"{text}: BS 93 has 0 BA to 16 BA")
    thread_class, side = class_and_side(match["words"], ("close", "normal"), text)
    if thread_class and side == "internal":
        raise NotUnderstood(f"{text}: BS 93 has one class of nut, without a name; write {match['number']} BA nut")
    if thread_class == "close" and int(match["number"]) > LAST_WITH_ALLOWANCE:
        raise NotGiven(f"{text}: BS 93 has the close class for 0 to 10 BA; write {match['number']} BA normal")
    side = "external" if thread_class else side
    return Thread(
        "ba",
        "mm",
        row["major_mm"],
        row["pitch_mm"],
        1,
        match["number"].lstrip("0") or "0",
        thread_class,
        side,
        left_hand,
    )


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("2ba normal")), write(read("0BA"))
    ('2 BA normal bolt', '0 BA')
    """
    word = {"external": "bolt", "internal": "nut"}.get(thread.side, "")
    parts = (thread.series, "BA", thread.thread_class, word, "LH" * thread.left_hand)
    return " ".join(part for part in parts if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in mm as the standard prints them: its depth is 0.6 P to the nearest 0.005 mm (BS 93).

    >>> basic(read("2 BA"))
    Basic(major=4.7, pitch=4.215, minor=3.73)
    """
    row = _sizes()[int(thread.series)]
    return Basic(row["major_mm"], row["effective_mm"], row["minor_mm"])


def limits(thread: Thread) -> Limits:
    """Limits of size in mm by the formulas of BS 93:2008, Annex B, to 0.001 mm.

    Bolts: major 0.15 P close, 0.20 P normal (0.25 P from 11 BA); effective 0.08 P + 0.02 close, 0.10 P + 0.025
    normal; minor twice the effective. Nuts: effective 0.12 P + 0.03, minor 0.375 P. No printed row of
    limits was found; if the tables of the standard are rounded more coarsely, they may differ by the rounding.

    >>> limits(read("0 BA close")).pitch, limits(read("0 BA nut")).minor
    (Size(max=5.4, min=5.3, reference=''), Size(max=5.175, min=4.8, reference=''))
    """
    if not thread.thread_class and thread.side != "internal":
        raise no_limits_without_class(write(thread), CLASSES)
    major, middle, minor = basic(thread)
    pitch = thread.pitch
    if thread.side == "internal":
        return Limits(
            Size(None, major),
            _size(middle + 0.12 * pitch + 0.03, middle),
            _size(minor + 0.375 * pitch, minor),
            0.0,
            root_to_clear(middle, DEPTH * pitch, thread.side, 3),
        )
    close = thread.thread_class == "close"
    large = int(thread.series) <= LAST_WITH_ALLOWANCE
    allowance = ALLOWANCE_MM if large and not close else 0.0
    crest = 0.15 if close else 0.20 if large else 0.25
    tolerance = 0.08 * pitch + 0.02 if close else 0.10 * pitch + 0.025
    major, middle, minor = major - allowance, middle - allowance, minor - allowance
    return Limits(
        _size(major, major - crest * pitch),
        _size(middle, middle - tolerance),
        _size(minor, minor - 2 * tolerance),
        allowance,
        root_to_clear(middle, DEPTH * pitch, thread.side, 3),
    )


def root_form(thread: Thread) -> Root:
    """The tool of the full form: a nose of the form's own radius (BS 93).

    >>> round(root_form(read("0 BA")).largest, 4)
    0.1808
    """
    radius = ROOT_RADIUS * thread.pitch
    return Root("radius", radius, radius, "radius of the form, BS 93")


def standing(thread: Thread) -> str:
    """Every BA thread that is read is one of BS 93.

    >>> standing(read("2 BA"))
    'number 2 of BS 93'
    """
    return f"number {thread.series} of BS 93"


def standard_threads() -> list[Thread]:
    """0 BA to 16 BA, without a class."""
    return [
        Thread("ba", "mm", row["major_mm"], row["pitch_mm"], series=str(number)) for number, row in _sizes().items()
    ]


def _size(largest: float, smallest: float) -> Size:
    return Size(round_half_even(largest, 3), round_half_even(smallest, 3))


@lru_cache(maxsize=1)
def _sizes() -> dict[int, dict[str, float]]:
    found = {}
    for row in tables.rows("ba_sizes"):
        number = int(row.pop("number"))
        found[number] = {name: float(value) for name, value in row.items()}
    return found


SYSTEM = System(
    key="ba",
    title="BA",
    source="BS 93",
    unit="mm",
    decimals=3,
    form=forms.FORTY_SEVEN_AND_A_HALF,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("close bolt", "normal bolt", "nut"),
    joiner=" ",
    root_form=root_form,
)
