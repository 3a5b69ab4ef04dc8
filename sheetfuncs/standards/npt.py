"""NPT, American National taper pipe threads (ASME B1.20.1): designations, gauge planes, sizes and limits.

Form: 60 degrees, square to the axis, taper 1 in 16 on the diameter. The sharp thread is truncated at crest and
root by 0.033 P at least, so its height is 0.8 P at most (ASME B1.20.1-2013, 2.4). Rules, in inches for pipe of
outside diameter D (Machinery's Handbook, 27th ed., p. 1861, Table 1a, and its notes; every printed size of the
standard's Table 2 follows from them):

    E0 = D - (0.05 D + 1.1) P      pitch diameter at the small end of the pipe
    E1 = E0 + L1 / 16              at the hand-tight plane, L1 from the small end (L1 is tabulated)
    L2 = (0.8 D + 6.8) P           length of effective thread, E2 = E0 + L2 / 16
"""

from __future__ import annotations

import re

from sheetfuncs import forms
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain, read_inch_size, split_hand, threads_per_inch
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.standards.base import PRESSURE_TIGHT, Basic, Limits, Root, Size, System, round_half_even
from sheetfuncs.standards.callouts import BEHIND_SIZE, INCHES, NUMBER, class_and_side, table_by_size
from sheetfuncs.standards.taper import TAPER, Gauging, Plane, plane_at
from sheetfuncs.units import read_number

CLASSES = {"external": "without a class; write external", "internal": "without a class; write internal"}

HEIGHT = 0.8
"""Greatest height of the thread as a share of the pitch (ASME B1.20.1-2013, 2.4)."""

TURNS = 1.0
"""How far the hand-tight plane may lie from its place, turns either way (ASME B1.20.1, tolerances on product)."""

VANISH_THREADS = 3.47
"""Turns of the vanish cone beyond the effective thread (Machinery's Handbook, 27th ed., p. 1862, Table 1b)."""

ROUNDING = 0.000005
"""Half a last place of the limits, inches."""

LEAST_TRUNCATION = 0.033
GREATEST_TRUNCATION = {27: 0.096, 18: 0.088, 14: 0.078, 11.5: 0.073, 8: 0.062}
"""Truncation of crest and root as a share of the pitch, by threads per inch.

ASME B1.20.1-1983, Table 2 (as in Machinery's Handbook, 27th ed., p. 1863). It prints inches, 0.0012 to 0.0036 for 27
threads and so on; these shares give each of them to its last digit.
"""


class GaugePlanes(NamedTuple):
    """The planes that ASME B1.20.1 names, inches from the small end of the pipe (see `Plane` for a fitting).

    `small_end` E0, `hand_tight` E1 at L1, `effective` E2 at L2, `perfect` E5 at L5 (the last thread perfect at
    crest and root), `overall` at L4 (end of the vanish threads), `wrench` E3, reached by the small end of the
    pipe inside a fitting tightened with the wrench, L3 deeper than by hand.
    """

    small_end: Plane
    hand_tight: Plane
    effective: Plane
    perfect: Plane
    overall: Plane
    wrench: Plane


def read(text: str) -> Thread | None:
    """An NPT designation (ASME B1.20.1-2013, designation), or None where the text is not one.

    `3/4-14 NPT` means pipe and fitting alike; where the side matters, as for a tool, add external or internal. The
    threads per inch may be left off.

    >>> read("3/4-14 NPT").side, read("1-11 1/2 npt internal LH").side, read("3/4 NPT").diameter
    ('', 'internal', 1.05)
    """
    return read_pipe(text, "NPT", "npt", sizes())


def read_pipe(text: str, name: str, system: str, table: dict[str, dict[str, float]]) -> Thread | None:
    """A designation size-threads-name of ASME B1.20.1, by the sizes of its table."""
    rest, left_hand = split_hand(text)
    number = rf"(?P<size>{NUMBER})(?:{BEHIND_SIZE}(?P<tpi>{NUMBER}))?"
    match = re.fullmatch(rf"(?i){number}{INCHES}\s*-?\s*{name}\b(?P<words>.*)", rest)
    if not match:
        return None
    nominal = read_inch_size(match["size"])
    size = next((size for size, row in table.items() if row["nominal"] == nominal), None)
    if size is None:
        raise OutOfRange(f"{text}: ASME B1.20.1 has no {match['size']} {name}; it has {', '.join(table)}")
    tpi = table[size]["tpi"]
    if match["tpi"] and read_number(match["tpi"]) != tpi:
        raise NotGiven(f"{text}: {size} {name} is {plain(tpi)} threads per inch, not {match['tpi']}")
    side = class_and_side(match["words"], (), text)[1]
    return Thread(system, "in", table[size]["od_in"], 1 / tpi, 1, f"{size} {name}", "", side, left_hand)


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("1-1/4 npt ext")), write(read("3/4-14NPT-LH"))
    ('1 1/4-11.5 NPT external', '3/4-14 NPT LH')
    """
    size, _, name = thread.series.rpartition(" ")
    parts = (f"{size}-{plain(threads_per_inch(thread.pitch))} {name}", thread.side, "LH" * thread.left_hand)
    return " ".join(part for part in parts if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches at the hand-tight plane: E1, and E1 more and less the greatest height 0.8 P.

    >>> [round(size, 5) for size in basic(read("3/4-14 NPT"))]
    [1.04601, 0.98887, 0.93172]
    """
    middle = planes(thread).hand_tight.pitch_diameter
    return Basic(middle + HEIGHT * thread.pitch, middle, middle - HEIGHT * thread.pitch)


def limits(thread: Thread) -> Limits:
    """Limits in inches at the hand-tight plane; the same for pipe and fitting, to 0.00001.

    The plane may lie one turn either way, which is P / 16 on the pitch diameter. Crest and root stand off it by
    H/2 less the truncation, between its least and its greatest. The root to clear belongs to the basic pitch
    diameter: its truncation may be the greatest.

    >>> limits(read("3/4-14 NPT")).pitch
    Size(max=0.99333, min=0.9844, reference='')
    """
    middle = planes(thread).hand_tight.pitch_diameter
    high, low = middle + TURNS * thread.pitch * TAPER, middle - TURNS * thread.pitch * TAPER
    height = forms.sharp_height(forms.SIXTY, thread.pitch)
    tallest = height - 2 * LEAST_TRUNCATION * thread.pitch
    lowest = height - 2 * GREATEST_TRUNCATION[threads_per_inch(thread.pitch)] * thread.pitch
    deepest = lowest - ROUNDING  # the tool of the greatest truncation passes at the rounded limits as well
    root = middle + deepest if thread.side == "internal" else middle - deepest
    return Limits(
        _size(high + tallest, low + lowest),
        _size(high, low),
        _size(high - lowest, low - tallest),
        0.0,
        root,
    )


def planes(thread: Thread) -> GaugePlanes:
    """The gauge planes, each with its distance from the small end and its pitch diameter.

    >>> found = planes(read("3/4-14 NPT"))
    >>> [round(plane.pitch_diameter, 5) for plane in (found.small_end, found.hand_tight, found.effective)]
    [0.96768, 0.98887, 1.00179]
    """
    row = sizes()[thread.series.rpartition(" ")[0]]
    outside, pitch = thread.diameter, thread.pitch
    small_end = Plane(0.0, outside - (0.05 * outside + 1.1) * pitch)
    effective = (0.8 * outside + 6.8) * pitch
    distances = (
        *(row["L1_in"], effective, effective - 2 * pitch),
        *(effective + VANISH_THREADS * pitch, -row["L3_turns"] * pitch),
    )
    return GaugePlanes(small_end, *(plane_at(small_end, distance) for distance in distances))


def gauging(thread: Thread) -> Gauging:
    """The planes as a pipe or a fitting has them; the crests beyond L5 are the pipe itself, beyond L2 threads vanish.

    A pipe has threads from its end to L4; a fitting from its face to where the pipe comes by the wrench, L3 deeper.

    >>> [name for name, _ in gauging(read("3/4-14 NPT internal")).named]
    ['face, hand-tight plane, L1', 'small end of the pipe, by hand', 'small end of the pipe, by wrench, L3']
    """
    found = planes(thread)
    face = found.hand_tight.distance
    if thread.side == "internal":
        named: tuple[tuple[str, float], ...] = (
            ("face, hand-tight plane, L1", face),
            ("small end of the pipe, by hand", 0.0),
            ("small end of the pipe, by wrench, L3", found.wrench.distance),
        )
        deepest = found.wrench.distance
        return Gauging(found.hand_tight, named, deepest, face, face, TURNS, deepest, face)
    named = (
        ("small end, E0", 0.0),
        ("hand-tight plane, L1", face),
        ("last perfect thread, L5", found.perfect.distance),
        ("effective thread ends, L2", found.effective.distance),
        ("vanish threads end, L4", found.overall.distance),
    )
    full, formed, overall = (plane.distance for plane in (found.perfect, found.effective, found.overall))
    return Gauging(found.hand_tight, named, 0.0, full, formed, TURNS, 0.0, overall)


def root_form(thread: Thread) -> Root:
    """The tool end of the root: the flat that the least and the greatest truncation leave (ASME B1.20.1, Table 2).

    >>> [round(size, 4) for size in root_form(read("3/4-14 NPT"))[1:3]]
    [0.0027, 0.0064]
    """
    truncation = LEAST_TRUNCATION, GREATEST_TRUNCATION[threads_per_inch(thread.pitch)]
    least, most = (share * forms.SIXTY.spread * thread.pitch for share in truncation)
    return Root("flat", least, most, "flat of the root, ASME B1.20.1, Table 2")


def standing(thread: Thread) -> str:
    """Every NPT thread that is read is one of ASME B1.20.1.

    >>> standing(read("3/4-14 NPT"))
    'size 3/4 of ASME B1.20.1, taper 1 in 16, sizes at the hand-tight plane'
    """
    return f"size {thread.series.rpartition(' ')[0]} of ASME B1.20.1, taper 1 in 16, sizes at the hand-tight plane"


def standard_threads() -> list[Thread]:
    """Every size, without a side."""
    return [Thread("npt", "in", row["od_in"], 1 / row["tpi"], series=f"{size} NPT") for size, row in sizes().items()]


@lru_cache(maxsize=1)
def sizes() -> dict[str, dict[str, float]]:
    """The table of NPT sizes."""
    return table_by_size("npt_sizes")


def _size(largest: float, smallest: float) -> Size:
    return Size(round_half_even(largest, 5), round_half_even(smallest, 5))


SYSTEM = System(
    key="npt",
    title="NPT pipe",
    source="ASME B1.20.1",
    unit="in",
    decimals=5,
    form=forms.SIXTY,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("external", "internal"),
    joiner=" ",
    names=("NPT",),
    taper=TAPER,
    gauging=gauging,
    root_form=root_form,
    authority=PRESSURE_TIGHT,
)
