"""A thread as the trade writes it: the record of one, and the reading of sizes that all standards share.

The grammar of each standard (what may follow the size) lives in its own module under `standards`.
"""

from __future__ import annotations

from math import gcd

from sheetfuncs.caches import lru_cache
from sheetfuncs.errors import NotUnderstood
from sheetfuncs.records import NamedTuple
from sheetfuncs.units import read_number


class Thread(NamedTuple):
    """One thread, read from its designation. Lengths are in the thread's own `unit` ("in" or "mm").

    `side` is "external", "internal", or "" where no class says which; `thread_class` is as the standard
    writes it; `engagement` is the length group S, N or L of ISO 965-1 where one is given.
    """

    system: str
    unit: str
    diameter: float
    pitch: float
    starts: int = 1
    series: str = ""
    thread_class: str = ""
    side: str = ""
    left_hand: bool = False
    engagement: str = ""

    @property
    def note(self) -> str:
        """What was taken where the callout left it open, or was left out; no part of the thread, and seldom there."""
        return ""

    @property
    def lead(self) -> float:
        """Advance in one turn: starts x pitch."""
        return self.starts * self.pitch

    @property
    def size(self) -> Thread:
        """The thread as a table lists its size: one start, right hand, without class."""
        return self._replace(starts=1, left_hand=False, thread_class="", side="", engagement="")


class Noted(Thread):
    """A thread whose callout left something open. It equals the same thread written in full."""

    note = ""


def noted(thread: Thread, note: str) -> Thread:
    """The thread with a note of what was taken for granted.

    >>> plain_one = Thread("iso_metric", "mm", 20.0, 2.5, series="M")
    >>> noted(plain_one, "no pitch written, coarse taken") == plain_one
    True
    """
    if not note:
        return thread
    found = Noted(*thread)
    found.note = note
    return found


HANDS = {
    **dict.fromkeys(("LH", "L.H.", "(LH)", "LEFT HAND", "LEFT-HAND", "LEFT"), True),
    **dict.fromkeys(("RH", "R.H.", "(RH)", "RIGHT HAND", "RIGHT-HAND", "RIGHT"), False),
}
"""Words at the end of a callout that say its hand."""
_LAST_OF_A_HAND = {letter for word in HANDS for letter in (word[-1], word[-1].lower())}
FIRST_NUMBERED_SIZE = 0.060
"""Diameter of No. 0, inches (ASME B1.1-2003, Table 1)."""
NUMBERED_SIZE_STEP = 0.013
"""Each numbered size is this much larger than the one before, inches (ASME B1.1-2003, Table 1)."""
_ON_A_RULE = ("1", "2", "4", "8", "16", "32", "64")
NUMBERED_SIZES = (0, 1, 2, 3, 4, 5, 6, 8, 10, 12)
"""The numbered sizes that exist (ASME B1.1-2003, Table 1)."""
NUMBERED_SYSTEMS = ("unified", "unj")
"""The systems whose sizes have numbers; on an Acme thread 0.19 in is 0.19, as on all others."""


def split_hand(text: str) -> tuple[str, bool]:
    """The designation without its hand, and whether it is left hand.

    >>> split_hand("M10x1.25-6H LH"), split_hand("3/4-16 UNF-2A (LH)")
    (('M10x1.25-6H', True), ('3/4-16 UNF-2A', True))
    """
    if text[-1:] in _LAST_OF_A_HAND:
        upper = text.upper()
        for word, left_hand in HANDS.items():
            before = text[: -len(word)]
            if upper.endswith(word) and not before[-1:].isalnum():
                return before.rstrip(" -"), left_hand
    return text, False


def numbered_diameter(number: int) -> float:
    """Diameter of a numbered size, inches.

    >>> numbered_diameter(10)
    0.19
    """
    return round(FIRST_NUMBERED_SIZE + NUMBERED_SIZE_STEP * number, 3)


_NUMBERED = {str(number): numbered_diameter(number) for number in NUMBERED_SIZES}
"""Diameters of the numbered sizes by the number as it is written."""


def refuse_odd_fractions(text: str) -> None:
    """Refuse a callout with a fraction that no rule has: it could not be written back as it was read.

    >>> refuse_odd_fractions("1 7/26-8 UN-2A")
    Traceback (most recent call last):
    sheetfuncs.errors.NotUnderstood: 1 7/26-8 UN-2A: 7/26 is on no rule; write 64ths at the finest, or a decimal
    """
    import re  # slow to load, and a metric callout has no fraction

    for top, bottom in re.findall(r"(\d+)/(\d+)", text):
        if bottom.lstrip("0") not in _ON_A_RULE:
            raise NotUnderstood(f"{text}: {top}/{bottom} is on no rule; write 64ths at the finest, or a decimal")


def read_inch_size(text: str) -> float | None:
    """A diameter in inches from `3/4`, `1 1/4`, `1-1/4`, `#10`, `No.10`, `0.190`; None where it is none.

    Zeros before a number are part of it: #00 is smaller than #0, and the tables of ASME B1.1 begin at #0.

    >>> [read_inch_size(text) for text in ("1 1/4", "No.10", "1.125", "#7", "#00")]
    [1.25, 0.19, 1.125, None, None]
    """
    text = text.strip(' "')
    number = text.lstrip("#NOno. ")
    if text[:1] in ("#", "N", "n") and number.isdigit():
        return _NUMBERED.get(number)
    return read_number(text)


def write_inch_size(diameter: float) -> str:
    """The customary text of a Unified diameter: a number, or as any other inch diameter.

    >>> [write_inch_size(d) for d in (0.19, 0.125, 0.75)]
    ['#10', '#5', '3/4']
    """
    for number, inches in _NUMBERED.items():
        if diameter == inches:
            return f"#{number}"
    return write_inches(diameter)


def write_inches(diameter: float) -> str:
    """The customary text of an inch diameter where no size has a number: a fraction to 64ths, or a decimal.

    >>> [write_inches(d) for d in (0.19, 0.125, 0.75, 1.25, 0.9, 1.0)]
    ['0.19', '1/8', '3/4', '1 1/4', '0.9', '1']
    """
    sixty_fourths = diameter * 64
    if sixty_fourths != int(sixty_fourths):
        return plain(diameter)
    whole, part = divmod(int(sixty_fourths), 64)
    common = gcd(part, 64)
    fraction = f"{part // common}/{64 // common}" if part else ""
    return f"{whole or ''} {fraction}".strip()


def write_inch_pair(thread: Thread) -> str:
    """Size, threads per inch and series of an inch thread; with several starts pitch and lead.

    >>> write_inch_pair(Thread("unified", "in", 0.75, 1 / 16, series="UNF"))
    '3/4-16 UNF'
    """
    if thread.starts > 1:
        return inch_pair_with_lead(thread, plain(thread.lead))
    return f"{_written_size(thread)}-{plain(threads_per_inch(thread.pitch))} {thread.series}"


def inch_pair_with_lead(thread: Thread, lead: str) -> str:
    """Size, pitch, lead and series of an inch thread of several starts; the lead is a text.

    >>> inch_pair_with_lead(Thread("unified", "in", 1.0, 0.1, series="UNS"), "0.2")
    '1-0.1P-0.2L UNS'
    """
    return f"{_written_size(thread)}-{plain(thread.pitch)}P-{lead}L {thread.series}"


def _written_size(thread: Thread) -> str:
    return (write_inch_size if thread.system in NUMBERED_SYSTEMS else write_inches)(thread.diameter)


def plain(value: float) -> str:
    """A number in as few digits as carry it (ten at most), without a trailing point.

    >>> plain(16.0), plain(11.5), plain(1 / 12)
    ('16', '11.5', '0.08333333333')
    """
    return f"{value:.10g}"


@lru_cache(maxsize=256)
def threads_per_inch(pitch: float) -> float:
    """Threads per inch of a pitch in inches, freed of the rounding of 1/n.

    >>> threads_per_inch(1 / 49)
    49.0
    """
    return float(plain(1 / pitch))


def whole_tpi_pitch(text: str) -> float:
    """A pitch in inches from its printed decimals: `.0833` is 12 threads per inch, rounded by the printer.

    >>> whole_tpi_pitch("0.0833") == 1 / 12
    True
    >>> whole_tpi_pitch("0.4")
    0.4
    """
    value = float(text)
    decimals = len(text.partition(".")[2])
    if 0 < value < 1 and decimals >= 3:
        for per_inches in (1, 2):  # whole threads per inch first, then halves
            nearest = per_inches / round(per_inches / value)
            if round(nearest, decimals) == value:
                return nearest
    return value
