"""Which thread is this? From its outside diameter and its pitch, measured on a part that may be worn.

The pitch decides. Counted over several threads its error is divided by their number, and wear does not change it;
the outside diameter of a worn or plated screw is seldom the basic one. Therefore the candidates are compared

    over the counted length:  measured length - number of pitches x pitch of the candidate
    on the outside diameter:  measured - basic

and a whole number of threads per inch that lies near a metric pitch, or the reverse, is listed with its difference
even where it doesn't fit, because that is the mistake that is made.
"""

from __future__ import annotations

import re

from sheetfuncs import standards
from sheetfuncs.designations import plain
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import PER_INCH, convert_length, read_length, split_number, tidy

CATEGORY = "Thread identification"

PITCH_AGREES = 0.01
"""Share of the counted length within which a pitch agrees: 0.2 mm in 20 mm, what a rule shows (practice)."""

PITCH_NEAR = 0.07
"""Share beyond which a candidate is not listed: a step between neighbouring pitches is rarely smaller (ours)."""

OUTSIDE_UNDER, OUTSIDE_OVER = 0.25, 0.05
"""How far an outside diameter may lie under basic (allowance, tolerance, wear) and over it (plating, reading), in
pitches (practice; the crest tolerance of M30x2-6g is 0.14 pitches, and 0.02 more is its deviation: ISO 965-1)."""

TAPER_AGREES = 0.2
"""Share by which a measured taper may differ from the standard one (practice)."""

DECIMALS = {"mm": 3, "in": 4}
"""Decimals of a length in words."""

ROWS = 12
"""The most candidates that are listed."""


class Counted(NamedTuple):
    """So many pitches, counted as gaps and not as crests, over this length."""

    pitches: float
    length: float


class Candidate(NamedTuple):
    """One row: differences are measured less candidate; None where the row is a pitch without a thread."""

    callout: str
    system: str
    pitch_difference: float
    pitch_percent: float
    diameter_difference: float | None
    verdict: str


@sheet_function(
    category=CATEGORY,
    returns=("callout", "system", "pitch_difference", "pitch_percent", "diameter_difference", "verdict"),
    table="rows",
    sources=("geometry", "practice"),
    examples=(
        Example(
            ("29.8 mm", "10 in 20.0 mm"),
            (
                *("M30x2", "ISO metric", "0.000", "0.00", "-0.200"),
                "fits: pitch agrees; outside 0.200 mm under basic, as tolerance or wear leaves it",
            ),
            "ISO 261; by hand: 10 pitches of 2 mm are 20 mm, 30 less 29.8",
        ),
    ),
)
def identify(
    outside_diameter: float, counted: Counted, taper: float | None = None, unit: str = "in"
) -> list[Candidate]:
    """Candidates for a thread by its outside diameter and pitch, from every standard's pairs, best first.

    Lengths are in `unit`, in and out. `taper` is the change of diameter per length, 0.0625 for 1 in 16: given,
    only threads of that taper are listed; 0, only parallel ones; left out, both. Threads that differ by root or
    class alone (M and MJ, UN and UNJ) can't be told apart by these measurements and are all listed.

    >>> found = identify(29.8, Counted(10, 20.0), unit="mm")
    >>> found[0].callout, found[0].pitch_difference, round(found[0].diameter_difference, 3)
    ('M30x2', 0.0, -0.2)
    >>> [(row.callout, round(row.pitch_difference, 2)) for row in found[-2:]]
    [('1 3/16-12 UN', -1.17), ('13 threads per inch', 0.46)]
    """
    if counted.pitches < 1 or not 0 < counted.length / counted.pitches <= outside_diameter / 2:
        raise OutOfRange(
            f"a pitch of {plain(counted.length / max(counted.pitches, 1))} {unit} can't be cut on "
            f"{plain(outside_diameter)} {unit}; write threads per inch as 12 tpi, a count as 10 in 20 mm"
        )
    near = sorted(_near_pairs(outside_diameter, counted, taper, unit), key=lambda found: found.distance)
    fitting = [found for found in near if found.fits]
    listed = [found.row for found in (fitting or near)[:ROWS]]
    kinds = {found.unit for found in fitting}
    return list(dict.fromkeys([*listed, *_rivals(counted, unit, kinds, [found.row for found in near])]))


def read_counted(cell: object, unit: str) -> Counted:
    """The second argument as a shop writes it: a pitch, threads per inch, or a count over a length.

    >>> read_counted("10 in 20.0 mm", "mm"), read_counted("12 tpi", "in"), read_counted(2, "mm")
    (Counted(pitches=10.0, length=20.0), Counted(pitches=12.0, length=1.0), Counted(pitches=1.0, length=2.0))
    """
    if isinstance(cell, (int, float)) and not isinstance(cell, bool):
        return Counted(1.0, float(cell))
    if not isinstance(cell, str):
        raise NotUnderstood("counted is no number; write 2, 2 mm, 12 tpi, or a count such as 10 in 20 mm")
    number, behind = split_number(cell)
    if number is not None and behind.lower() in PER_INCH:
        return Counted(number, convert_length(1.0, "in", unit))
    over = re.fullmatch(r"(?i)(\d+) ?(?:pitches|threads)? ?(?:in|over) (\S.*)", tidy(cell))
    if over:
        return Counted(float(over[1]), read_length(over[2], "counted", unit))
    return Counted(1.0, read_length(cell, "counted", unit))


class _Near(NamedTuple):
    row: Candidate
    unit: str
    fits: bool
    distance: float


def _near_pairs(outside: float, counted: Counted, taper: float | None, unit: str) -> list[_Near]:
    """Every standard thread whose pitch and outside lie near, in the order of the systems.

    The distance counts each difference in what is allowed for it; what fits comes before what does not.
    """
    near = []
    for system in standards.SYSTEMS.values():
        if taper is not None and abs(taper - system.taper) > TAPER_AGREES * max(system.taper, 0.01):
            continue
        for thread in system.standard_threads():
            pitch = convert_length(thread.pitch, thread.unit, unit)
            over_length = counted.length - counted.pitches * pitch
            share = over_length / counted.length
            if abs(share) > PITCH_NEAR:
                continue
            difference = outside - convert_length(system.basic(thread).major, thread.unit, unit)
            in_pitches = difference / pitch
            if abs(in_pitches) > 1:
                continue
            fits, verdict = _verdict(pitch, share, difference, bool(system.taper), counted, unit)
            row = Candidate(system.write(thread), system.title, over_length, 100 * share, difference, verdict)
            allowed = OUTSIDE_OVER if in_pitches > 0 else OUTSIDE_UNDER
            distance = abs(share) / PITCH_AGREES + abs(in_pitches) / allowed
            near.append(_Near(row, thread.unit, fits, distance + (0 if fits else 1000)))
    return near


def _verdict(
    pitch: float, share: float, difference: float, tapered: bool, counted: Counted, unit: str
) -> tuple[bool, str]:
    seen = round(difference, DECIMALS[unit])
    way = "over" if seen > 0 else "under"
    outside = f"outside {_shown(abs(difference), unit)} {way} basic" if seen else "outside basic"
    if abs(share) > PITCH_AGREES:
        return False, f"does not fit: {_pitch_words(pitch, counted, unit)}; {outside}"
    if tapered:
        return True, f"fits: pitch agrees; {outside}, which depends on where along the taper it was measured"
    if difference > OUTSIDE_OVER * pitch:
        return False, f"does not fit: pitch agrees, but {outside}, more than plating or a reading explains"
    if difference < -OUTSIDE_UNDER * pitch:
        return False, f"does not fit: pitch agrees, but {outside}, more than tolerance and wear explain"
    return True, f"fits: pitch agrees; {outside}" + ", as tolerance or wear leaves it" * (seen < 0)


def _pitch_words(pitch: float, counted: Counted, unit: str) -> str:
    length = counted.pitches * pitch
    difference = counted.length - length
    count = "one pitch" if counted.pitches == 1 else f"{plain(counted.pitches)} pitches"
    return (
        f"{count} would be {_shown(length, unit)}, {_shown(abs(difference), unit)} "
        f"({abs(100 * difference / counted.length):.1f} %) {'less' if difference > 0 else 'more'} than measured"
    )


def _rivals(counted: Counted, unit: str, kinds: set[str], near: list[Candidate]) -> list[Candidate]:
    """The neighbouring pitches of the unit that does not fit, so that the list shows why not."""
    pitch = counted.length / counted.pitches
    rows = []
    if kinds != {"in"}:
        per_inch = convert_length(1.0, "in", unit) / pitch
        for tpi in sorted({max(1, int(per_inch)), int(per_inch) + 1}):
            rows.append((convert_length(1 / tpi, "in", unit), f"{tpi} threads per inch"))
    if kinds != {"mm"}:
        in_mm = convert_length(pitch, unit, "mm")
        metric = sorted({t.pitch for s in standards.SYSTEMS.values() if s.unit == "mm" for t in s.standard_threads()})
        below, above = [p for p in metric if p <= in_mm][-1:], [p for p in metric if p > in_mm][:1]
        for mm in below + above:
            rows.append((convert_length(mm, "mm", unit), f"pitch {plain(mm)} mm"))
    return [_rival(rival, name, counted, unit, near) for rival, name in rows]


def _rival(pitch: float, name: str, counted: Counted, unit: str, near: list[Candidate]) -> Candidate:
    """The best standard thread of that pitch, or the bare pitch where none has an outside near."""
    difference = counted.length - counted.pitches * pitch
    for row in near:
        if abs(row.pitch_difference - difference) < 1e-9 * counted.length:
            return row
    share = difference / counted.length
    fault = "the pitch agrees" if abs(share) <= PITCH_AGREES else _pitch_words(pitch, counted, unit)
    verdict = f"does not fit: {fault}; no standard thread of this pitch has an outside near"
    return Candidate(name, "", difference, 100 * share, None, verdict)


def _shown(length: float, unit: str) -> str:
    return f"{length:.{DECIMALS[unit]}f} {unit}"
