"""What callouts share: sizes in inches and their tables, pitches and starts, words for class, bolt or nut."""

from __future__ import annotations

from sheetfuncs import tables
from sheetfuncs.designations import plain, read_inch_size, whole_tpi_pitch
from sheetfuncs.errors import NotUnderstood, OutOfRange

NUMBER = r"\d+[ -]\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+"
"""A size in inches as these callouts write it: `1 1/4`, `1-1/4`, `3/4`, `2`, `.5`."""

INCHES = r"\s*(?:\"|in\b\.?|inch\b)?"
"""The inch sign or word that may stand behind a size: `3/4"-16`, `1/2 in NPT`."""

BEHIND_SIZE = rf"{INCHES}(?:\s*-\s*|\s+)"
"""What stands between a size and its pitch: `3/4-16`, `3/4 - 16`, `3/4" - 16`, or only a blank, `3/4 16 UNF`."""

NUMBERED = r"(?:\#|No\.?)\s*\d+"
"""A numbered size as these callouts write it: `#10`, `No. 10`."""

PITCH_AND_LEAD = r"(?P<pitch>\d*\.?\d+)\s*P\s*-\s*(?P<lead>\d*\.?\d+)\s*L"
"""Pitch and lead of several starts in inches: `0.1P-0.2L`."""

PRINTED_LEAD = 0.0006
"""How far a lead as printed may be off a whole number of pitches, inches: both are rounded."""

MOST_STARTS, LONGEST_LEAD_IN = 20, 24.0
"""More starts than these, or a lead that is longer than the largest diameter, are a slip of the pen (our bounds)."""

SIDES = {
    **dict.fromkeys(("bolt", "bolts", "screw", "screws", "external", "ext"), "external"),
    **dict.fromkeys(("nut", "nuts", "internal", "int"), "internal"),
}
"""Words that say which side a thread is on."""

_PUNCTUATION = str.maketrans("(),-", "    ", ".")
_FILLERS = ("class", "fit", "thread")


def unsettled(callout: str, choices: list[str]) -> NotUnderstood:
    """The error where a callout may be one of several threads and no custom of the trade says which.

    >>> print(unsettled("M72", ["M72x6", "M72x4", "M72x3"]))
    M72 may be the thread M72x6, M72x4 or M72x3; write which
    """
    *all_but_last, last = choices
    if not all_but_last:
        return NotUnderstood(f"{callout} names no thread; write {last} if that is meant")
    return NotUnderstood(f"{callout} may be the thread {', '.join(all_but_last)} or {last}; write which")


def class_and_side(words: str, classes: tuple[str, ...], callout: str) -> tuple[str, str]:
    """The class and the side in what follows the name of a thread; either is "" where nothing says it.

    Brackets, commas and dashes are only punctuation. A word that is neither is refused.

    >>> class_and_side("(medium) nut", ("close", "medium"), "1/2-12 BSW (medium) nut")
    ('medium', 'internal')
    """
    found_class = found_side = ""
    for typed in words.translate(_PUNCTUATION).split():
        word = typed.lower()
        if word in classes and not found_class:
            found_class = word
        elif word in SIDES and not found_side:
            found_side = SIDES[word]
        elif word not in _FILLERS:
            sides = "bolt or nut, external or internal"
            letters = (name.upper() if len(name) == 1 else name for name in classes)
            known = f"{', '.join(letters)}; {sides}" if classes else sides
            raise NotUnderstood(f"{callout}: '{typed}' is no class or side here; the words are {known}")
    return found_class, found_side


def pitch_and_starts(pitch: str, lead: str, callout: str) -> tuple[float, int]:
    """Pitch in inches and number of starts of a callout that writes pitch and lead.

    >>> pitch_and_starts("0.1", "0.2", "1-0.1P-0.2L UNS")
    (0.1, 2)
    """
    each, whole = whole_tpi_pitch(pitch), float(lead)
    starts = _starts(whole, each, lead, pitch, callout)
    if whole > LONGEST_LEAD_IN:
        raise _too_long(callout, lead, f"{LONGEST_LEAD_IN:g} in")
    if starts < 1 or abs(starts * each - whole) > PRINTED_LEAD:
        raise NotUnderstood(f"{callout}: the lead {lead} is not a whole number of pitches {pitch}")
    return each, starts


def metric_starts(lead: float, pitch: float, callout: str, sign: str = "") -> int:
    """Number of starts of a callout that writes both in millimetres, with the sign that stands before its lead.

    >>> metric_starts(14.0, 7.0, "Tr40x14(P7)")
    2
    """
    starts = _starts(lead, pitch, plain(lead), plain(pitch), callout)
    if starts < 1 or abs(starts * pitch - lead) > 1e-9:
        raise NotUnderstood(f"{callout}: the lead {sign}{plain(lead)} is not a whole number of pitches P{plain(pitch)}")
    return starts


def _starts(lead: float, pitch: float, lead_written: str, pitch_written: str, callout: str) -> int:
    """The nearest whole number of pitches in a lead; 0 where there is no pitch."""
    pitches = lead / pitch if pitch else 0.0
    if pitches > MOST_STARTS + 0.5:
        raise _too_long(callout, lead_written, f"{MOST_STARTS} pitches {pitch_written}")
    return round(pitches)


def _too_long(callout: str, lead: str, most: str) -> OutOfRange:
    return OutOfRange(f"{callout}: the lead {lead} is over {most}, the most that is worked")


def table_by_size(name: str) -> dict[str, dict[str, float]]:
    """A table of pipe threads by nominal size, its numbers as floats; `nominal` is the size as one.

    >>> table_by_size("iso_228_1")["3/4"]["nominal"]
    0.75
    """
    found = {}
    for row in tables.rows(name):
        size = row.pop("size")
        row.pop("trust", None)
        found[size] = {"nominal": read_inch_size(size) or 0.0, **{key: float(value) for key, value in row.items()}}
    return found


def root_to_clear(pitch_diameter: float, depth: float, side: str, places: int) -> float:
    """The diameter the root of a rounded form must clear: the depth of the thread away from the pitch diameter.

    Half a last place is left for the rounding of printed radii and sizes, so that the form's own tool passes.

    >>> round(root_to_clear(0.4466, 0.053361, "external", 4), 6)
    0.393289
    """
    room = 0.5 * 10.0**-places
    return pitch_diameter + depth - room if side == "internal" else pitch_diameter - depth + room
