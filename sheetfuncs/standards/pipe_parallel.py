"""G pipe threads, parallel, for joints that seal elsewhere than on the thread (ISO 228-1).

Form: 55 degrees, depth 2/3 H = 0.640327 P, crest and root rounded to 0.137329 P; the same as Whitworth.
"""

from __future__ import annotations

import re

from sheetfuncs import forms
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, read_inch_size, split_hand
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.standards.base import NOT_TIGHT, Basic, Limits, Root, Size, System, round_half_even
from sheetfuncs.standards.callouts import INCHES, NUMBER, class_and_side, root_to_clear, table_by_size
from sheetfuncs.units import MM_PER_INCH

CLASSES = {"external": "A, B", "internal": "none, the designation without a letter"}

_CALLOUT = rf"(?i)G\s*(?P<size>{NUMBER}){INCHES}(?:[\s-]*\bLH\b)?\s*-?\s*(?P<words>(?:[A-Z(].*)?)"
_TRADE_NAME = r"(?i).*\bBSP[PT]?\b.*"

ROOT_RADIUS = 0.137329
"""Radius of crest and root as a share of the pitch (ISO 228-1; GOST 6357-81 prints the radii of five pitches)."""

DEPTH_OF_SHARP = 2 / 3
"""Depth of the thread as a share of H (ISO 228-1:2000, Figure 1)."""


def read(text: str) -> Thread | None:
    """A G designation (ISO 228-1:2000, clause 5), or None where the text is not one.

    External threads carry their class, `G 3/4 A` or `G 3/4 B`; `G 3/4` is the internal thread. A word for the side may
    stand behind, where it is true. The names BSPP and BSPT of the trade do not say which thread of the pair is meant,
    and are refused with what to write.

    >>> read("g3/4b").side, read("G 1-1/2").side, read("G 3/4 A-LH").left_hand
    ('external', 'internal', True)
    """
    if re.fullmatch(_TRADE_NAME, text):
        found = re.search(NUMBER, text)
        wanted = found[0] if found else "3/4"
        raise NotUnderstood(
            f"{text}: write G {wanted} A or G {wanted} B for a parallel external thread, G {wanted} for an internal "
            f"one; R {wanted} for a taper external, Rc {wanted} for a taper internal, Rp {wanted} for a parallel "
            f"internal jointing thread"
        )
    rest, left_hand = split_hand(text)
    match = re.fullmatch(_CALLOUT, rest)
    if not match:
        return None
    diameter = read_inch_size(match["size"])
    size = next((size for size, row in _sizes().items() if row["nominal"] == diameter), None)
    if size is None:
        raise OutOfRange(f"{text}: ISO 228-1 has no G {match['size']}; it has {', '.join(_sizes())}")
    thread_class, side = class_and_side(match["words"], ("a", "b"), text)
    if thread_class and side == "internal":
        raise NotUnderstood(f"{text}: A and B are external threads; the internal one is G {size} without a letter")
    if side == "external" and not thread_class:
        raise NotUnderstood(f"{text}: an external G thread has a class; write G {size} A or G {size} B")
    side = "external" if thread_class else "internal"
    left_hand = left_hand or "LH" in rest.upper()
    return _thread(size, thread_class.upper(), side, left_hand)


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("g1 1/2a")), write(read("G1/8 LH"))
    ('G 1 1/2 A', 'G 1/8 LH')
    """
    return " ".join(part for part in (thread.series, thread.thread_class, "LH" * thread.left_hand) if part)


def basic(thread: Thread) -> Basic:
    """Basic diameters in mm, the standard's table (ISO 228-1:2000, Table 1).

    >>> basic(read("G 3/4 A"))
    Basic(major=26.441, pitch=25.279, minor=24.117)
    """
    row = _row(thread)
    return Basic(row["major_mm"], row["pitch_mm"], row["minor_mm"])


def limits(thread: Thread) -> Limits:
    """Limits of size in mm (ISO 228-1:2000, Table 1).

    External: the minor diameter has no lower limit, its upper one is the basic size. Internal: likewise the major.

    >>> limits(read("G 3/4 B")).pitch, limits(read("G 3/4")).minor
    (Size(max=25.279, min=24.995, reference=''), Size(max=24.658, min=24.117, reference=''))
    """
    row = _row(thread)
    major, middle, minor = basic(thread)
    depth = DEPTH_OF_SHARP * forms.sharp_height(forms.FIFTY_FIVE, thread.pitch)
    if thread.side == "internal":
        return Limits(
            Size(None, major),
            _size(middle + row["TD2_mm"], middle),
            _size(minor + row["TD1_mm"], minor),
            0.0,
            root_to_clear(middle, depth, thread.side, 3),
        )
    tolerance = row["TD2_mm"] * (2 if thread.thread_class == "B" else 1)
    return Limits(
        _size(major, major - row["Td_mm"]),
        _size(middle, middle - tolerance),
        Size(minor, None),
        0.0,
        root_to_clear(middle, depth, thread.side, 3),
    )


def root_form(thread: Thread) -> Root:
    """The tool of the full form: a nose of the form's own radius (ISO 228-1).

    >>> round(root_form(read("G 1/8")).largest, 4)
    0.1246
    """
    radius = ROOT_RADIUS * thread.pitch
    return Root("radius", radius, radius, "radius of the form, ISO 228-1")


def standing(thread: Thread) -> str:
    """Every G thread that is read is one of ISO 228-1.

    >>> standing(read("G 3/4"))
    'size 3/4 of ISO 228-1'
    """
    return f"size {thread.series[2:]} of ISO 228-1"


def standard_threads() -> list[Thread]:
    """Every size as an internal thread, which is what its bare designation means."""
    return [_thread(size, "", "internal", False) for size in _sizes()]


def _thread(size: str, thread_class: str, side: str, left_hand: bool) -> Thread:
    row = _sizes()[size]
    pitch = MM_PER_INCH / row["tpi"]
    return Thread("pipe_parallel", "mm", row["major_mm"], pitch, 1, f"G {size}", thread_class, side, left_hand)


def _row(thread: Thread) -> dict[str, float]:
    return _sizes()[thread.series[2:]]


def _size(largest: float, smallest: float) -> Size:
    return Size(round_half_even(largest, 3), round_half_even(smallest, 3))


@lru_cache(maxsize=1)
def _sizes() -> dict[str, dict[str, float]]:
    return table_by_size("iso_228_1")


SYSTEM = System(
    key="pipe_parallel",
    title="G pipe",
    source="ISO 228-1",
    unit="mm",
    decimals=3,
    form=forms.FIFTY_FIVE,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("A", "B", "internal"),
    bare_class="internal",
    joiner=" ",
    root_form=root_form,
    authority=NOT_TIGHT,
)
