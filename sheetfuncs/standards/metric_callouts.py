"""The callout of an ISO metric thread (ISO 965-1:2013, clause 6): what it says, or why that is none."""

from __future__ import annotations

from sheetfuncs import tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, noted, plain, split_hand
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.callouts import metric_starts
from sheetfuncs.units import read_number

SMALLEST_MM, LARGEST_MM = 0.99, 355.0
"""Nominal diameters for which ISO 965-1:2013 sets tolerances (diameter ranges of its tables)."""

COARSEST_MM = 8.0
"""The coarsest pitch of ISO 261 and of the tables of ISO 965-1."""

COARSE_TIMES = 2.0
"""A pitch may be so many times the coarse pitch of ISO 261 for the diameter, or for the next that has a coarse pitch.

This project's choice: no pair of ISO 261 has more than once, and a bolt is longer than a quarter of its diameter.
"""

_TOO_FINE_FOR_DOUBT = 6.0
"""A pitch up to this part of the diameter is never too coarse: M68x6 has the least for its diameter, 2 x 6 / 68."""

GRADES = {
    "external": (("pitch diameter", "3456789"), ("major diameter", "468")),
    "internal": (("pitch diameter", "45678"), ("minor diameter", "45678")),
}
"""The grades of pitch diameter and crest that ISO 965-1 has at all; at some sizes it has fewer."""

_EXTERNAL_POSITIONS, _INTERNAL_POSITIONS = "abcdefgh", "GH"
_DIGITS = "0123456789."


def read(text: str) -> Thread | None:
    """A metric designation (ISO 965-1:2013, clause 6), or None where the text is not one.

    `M20x2.5-6g`, `M20-6g` (the coarse pitch is meant), `M20xPh5P2.5-6g` (two starts), `-S -N -L` for the
    length of engagement, `LH` for left hand. The class is the only part whose case matters: 6g is an
    external thread, 6G an internal one, which is noted where all is in capitals. `M6-1` is taken for M6x1, as drawings
    from inch offices write it, where ISO 261 has the pair; `M12 coarse` and `M6 fine` where the series has one pitch.

    >>> read("M20-6g").pitch, read("M10x1.25-6H LH").left_hand, read("M20xPh5P2.5-6g").starts
    (2.5, True, 2)
    >>> read("M6-1.0").note, read("M20").note
    ('1.0 taken as the pitch', 'pitch not written: coarse taken')
    """
    if text[:1] not in "Mm":
        return None
    rest, left_hand = split_hand(text)
    upper = rest.upper()
    if "LH" in upper or "RH" in upper:
        from sheetfuncs.standards.metric_words import without_hand  # seldom needed

        rest, left_hand = without_hand(rest, text)
    size, thread_class, engagement = _parts(rest[1:])
    behind = size.lstrip(_DIGITS)
    diameter = read_number(size[: len(size) - len(behind)])
    if diameter is None:
        return None
    _refuse_stray_dash(rest, text)
    if not SMALLEST_MM <= diameter <= LARGEST_MM:
        raise OutOfRange(f"{text}: ISO 965-1 covers diameters from {SMALLEST_MM:g} to {LARGEST_MM:g} mm")
    pitch, starts, note = _pitch_and_starts(behind, diameter, text)
    thread_class, side = _read_class(thread_class, text)
    thread = Thread("iso_metric", "mm", diameter, pitch, starts, "M", thread_class, side, left_hand, engagement)
    if side == "internal" and text.isupper():
        note = "; ".join(part for part in (note, _note_of_capitals(text, thread_class)) if part)
    return noted(thread, note) if note else thread


@lru_cache(maxsize=1)
def pairs() -> dict[tuple[float, float], str]:
    """The series of each diameter and pitch of ISO 261, in the order of its table."""
    return {(float(r["diameter_mm"]), float(r["pitch_mm"])): r["series"] for r in tables.rows("iso_metric_sizes")}


def coarse_pitch_from(diameter: float) -> float:
    """The coarse pitch of ISO 261 for the diameter, or for the next that has one; above them the coarsest of all.

    >>> coarse_pitch_from(20), coarse_pitch_from(25), coarse_pitch_from(72)
    (2.5, 3.0, 8.0)
    """
    return next((pitch for size, pitch in _coarse() if size >= diameter), COARSEST_MM)


def coarse_pitch_up_to(diameter: float) -> float:
    """The coarse pitch of ISO 261 for the diameter, or for the next smaller that has one: it can be cut on this one.

    >>> coarse_pitch_up_to(20), coarse_pitch_up_to(2.6), coarse_pitch_up_to(355), coarse_pitch_up_to(0.99)
    (2.5, 0.45, 6.0, 0.25)
    """
    return next((pitch for size, pitch in reversed(_coarse()) if size <= diameter), _coarse()[0][1])


@lru_cache(maxsize=1)
def _coarse() -> list[tuple[float, float]]:
    return sorted(pair for pair, series in pairs().items() if series == "coarse")


def _parts(text: str) -> tuple[str, str, str]:
    """Size, class and length group of a designation without its M and hand, whatever stands between them.

    >>> _parts("20 x 2.5-4g6g - L"), _parts("20xPh5P2.5")
    (('20x2.5', '4g6g', 'L'), ('20xph5p2.5', '', ''))
    """
    words = text.replace("-", " ").split()
    engagement = words.pop().upper() if words and words[-1].upper() in ("S", "N", "L") else ""
    last = words[-1] if len(words) > 1 else ""
    has_class = last[:1].isdigit() and last[-1:].isalpha() and last[-2:].lower() != "mm"
    thread_class = words.pop() if has_class else ""
    if len(words) == 1:
        return words[0].lower(), thread_class, engagement
    # M20 x 2.5 is one size in three words; 1.5 and 6 in M10x1.5-6 are two numbers, not a pitch of 1.56
    apart = any({before[-1], after[0]} <= set(_DIGITS) for before, after in zip(words, words[1:]))
    return (" " if apart else "").join(words).lower(), thread_class, engagement


def _refuse_stray_dash(rest: str, text: str) -> None:
    """A dash behind the M or beside the x divides nothing: the 6 of M-6g is no diameter, the 2 of M20x-2 no pitch."""
    closed = rest[1:].replace(" ", "").lower()
    if closed[:1] == "-":
        raise NotUnderstood(f"{text}: no diameter stands behind the M; write it as in M20x2.5-6g, or M6 for 6 mm")
    before, dash_and_x, _ = closed.partition("-x")
    if "x-" in closed or (dash_and_x and not before.strip(_DIGITS)):
        raise NotUnderstood(f"{text}: a dash stands beside the x; write diameter and pitch as in M20x2.5")


def _note_of_capitals(text: str, thread_class: str) -> str:
    """What the capital of an internal class was taken for, where the drawing may have known capitals alone.

    H in a callout without an x is the usual one, and no sign of such a drawing.

    >>> _note_of_capitals("M20X2.5-6G", "6G"), _note_of_capitals("M20-6H", "6H")
    ('capital G: internal', '')
    """
    return f"capital {thread_class[-1]}: internal" if "X" in text or thread_class[-1] == "G" else ""


def _pitch_of_series(series: str, diameter: float, text: str) -> float:
    """The pitch of a size whose series alone is written, or neither: the coarse one is meant then (ISO 965-1:2013)."""
    pitches = {pair[1]: name for pair, name in pairs().items() if pair[0] == diameter}
    found = [pitch for pitch, name in pitches.items() if name == (series or "coarse")]
    if len(found) == 1:
        return found[0]
    size = f"M{plain(diameter)}"
    listed = [f"{size}x{plain(pitch)}" for pitch in found or pitches]
    if found:
        from sheetfuncs.standards.callouts import unsettled  # seldom needed

        raise unsettled(text, listed)
    as_in = ", ".join(listed) or f"{size}x{plain(coarse_pitch_up_to(diameter))}"
    raise NotUnderstood(f"{text}: ISO 261 has no {series or 'coarse'} pitch for {size}; write the pitch, as in {as_in}")


def _pitch_and_starts(behind: str, diameter: float, text: str) -> tuple[float, int, str]:
    """Pitch and starts from what is written behind the diameter, and a note of what was taken for granted."""
    if behind[:1] != "x":
        return _pitch_without_x(behind, diameter, text)
    pitch_text = behind[1:-2] if behind.endswith("mm") else behind[1:]
    several = pitch_text.startswith("ph") and "p" in pitch_text[2:]
    lead_text, _, each = pitch_text[2:].partition("p") if several else (pitch_text, "", pitch_text)
    pitch = None if "/" in pitch_text else read_number(each)  # no metric pitch is a fraction
    lead = read_number(lead_text) if several else pitch
    if lead is None or pitch is None:
        from sheetfuncs.standards.metric_words import fault_behind_pitch  # seldom needed

        no_pitch = f"'{pitch_text}' is no pitch; write it as in x2.5, or xPh5P2.5 for two starts"
        raise NotUnderstood(f"{text}: {fault_behind_pitch(pitch_text) or no_pitch}")
    _refuse_too_coarse(pitch, diameter, text)
    return pitch, metric_starts(lead, pitch, text, "Ph"), ""


def _refuse_too_coarse(pitch: float, diameter: float, text: str) -> None:
    """A pitch that no thread of this diameter has, as where a bolt's length stands in its place: M20x60, M20x10."""
    if 0 < pitch * _TOO_FINE_FOR_DOUBT <= diameter and pitch <= COARSEST_MM:
        return
    if not 0 < pitch <= diameter / 2:
        fault = f"a pitch of {plain(pitch)} mm can't be cut on {plain(diameter)} mm"
    elif pitch > COARSEST_MM:
        fault = f"ISO 261 and ISO 965-1 have no pitch over {COARSEST_MM:g} mm"
    elif pitch > COARSE_TIMES * coarse_pitch_from(diameter):
        coarse = plain(coarse_pitch_from(diameter))
        fault = f"a pitch of {plain(pitch)} mm is far too coarse for {plain(diameter)} mm, where {coarse} mm is coarse"
    else:
        return
    length = f"; a length, if {plain(pitch)} is one, is no part of a thread's designation: leave it off" * (pitch > 0)
    raise OutOfRange(f"{text}: {fault}{length}")


def _pitch_without_x(behind: str, diameter: float, text: str) -> tuple[float, int, str]:
    """The pitch where the callout names a series, or nothing, or gives it behind a dash; with the note."""
    if behind in ("", "coarse", "fine"):
        return _pitch_of_series(behind, diameter, text), 1, "" if behind else "pitch not written: coarse taken"
    number = behind.strip()
    if behind[0] == " " and not number.strip(_DIGITS) and (diameter, read_number(number)) in pairs():
        return float(number), 1, f"{number} taken as the pitch"
    from sheetfuncs.standards.metric_words import fault_behind_class  # seldom needed

    neither = f"'{number}' is neither a pitch that ISO 261 has for this size nor a class, as in M20x2.5-6g"
    raise NotUnderstood(f"{text}: {fault_behind_class(number) or neither}")


def _read_class(text: str, callout: str) -> tuple[str, str]:
    """The class as ISO 965-1 writes it and the side it belongs to."""
    if not text:
        return "", ""
    grade, position, crest_grade, crest_position = (*text, *text)[:4]
    if len(text) not in (2, 4) or not (grade.isdigit() and crest_grade.isdigit() and crest_position.isalpha()):
        raise NotUnderstood(f"{callout}: '{text}' is no tolerance class; write one such as 6g, 4g6g, 6H or 5H6H")
    if position != crest_position:
        raise NotUnderstood(f"{callout}: '{text}' mixes the positions {position} and {crest_position}; use one")
    if position not in _EXTERNAL_POSITIONS + _INTERNAL_POSITIONS:
        raise NotUnderstood(
            f"{callout}: position '{position}' does not exist; external threads have a to h, internal G or H"
        )
    side = "external" if position in _EXTERNAL_POSITIONS else "internal"
    for written, (diameter, grades) in zip((grade, crest_grade), GRADES[side]):
        if written not in grades:
            with_crest = "" if grade == "6" else f"6{position}"
            as_in = f", as in {grade}{position}{with_crest}" * (diameter == "major diameter")
            raise NotGiven(
                f"{callout}: ISO 965-1 has no {diameter} grade {written} for {side} threads; "
                f"it has {', '.join(grades)}{as_in}"
            )
    return (grade + position if grade == crest_grade else text), side  # two equal halves are written once
