"""ISO metric threads: sizes (ISO 261), basic dimensions (ISO 724) and limits (ISO 965-1).

Their callouts are read in `metric_callouts`. The tolerances are the printed tables for grade 6. Every other grade is
the grade 6 value moved a fixed number of steps along the R40 series of preferred numbers; that rule reproduces the
printed tables cell for cell (tests/published/iso_tolerances.csv), where rounding the standard's formulas afresh misses
one cell in nine.
"""

from __future__ import annotations

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.base import (
    Basic,
    Limits,
    Root,
    Size,
    System,
    internal_flat,
    no_limits_without_class,
    no_root_without_side,
    origins_of,
    round_half_even,
)
from sheetfuncs.standards.metric_callouts import pairs, read
from sheetfuncs.standards.r40 import nearest_r40, of_grade, pitch_diameter_grade_6

if TYPE_CHECKING:
    from sheetfuncs.standards.origins import Origin

CLASSES = {
    "external": "6g, 6h, 4g6g and others, position a to h",
    "internal": "6H, 5H, 6G and others, G or H",
}

MULTI_START_FACTORS = {1: 1.0, 2: 1.12, 3: 1.25, 4: 1.4, 5: 1.6}
"""What the pitch diameter tolerance is multiplied by for that many starts, five standing for five and more.

ISO 965-1:2013, clause 9; the clause was seen in the table of contents, its factors are FROM MEMORY and are those
of ISO 2903. Earlier editions have no such clause.
"""
WIDENING_STARTS = tuple(MULTI_START_FACTORS)[1:]


def write(thread: Thread) -> str:
    """The designation, always with its pitch.

    >>> write(read("m10 x 1.25 -6H-L-lh"))
    'M10x1.25-6H-L-LH'
    """
    if thread.starts > 1:
        size = with_lead(thread, plain(thread.lead))
    else:
        size = f"{thread.series}{plain(thread.diameter)}x{plain(thread.pitch)}"
    return "-".join(part for part in (size, thread.thread_class, thread.engagement, "LH" * thread.left_hand) if part)


def with_lead(thread: Thread, lead: str) -> str:
    """Size of several starts, its lead as this text.

    >>> with_lead(read("M20x2.5"), "5")
    'M20xPh5P2.5'
    """
    return f"{thread.series}{plain(thread.diameter)}xPh{lead}P{plain(thread.pitch)}"


def basic(thread: Thread) -> Basic:
    """Basic sizes in mm: d2 = d - 3/4 H, D1 = d - 5/4 H with H of the 60 degree form (ISO 724:1993).

    >>> [round(size, 3) for size in basic(read("M20x2.5"))]
    [20.0, 18.376, 17.294]
    """
    height = forms.sharp_height(forms.SIXTY, thread.pitch)
    d = thread.diameter
    return Basic(d, d - 0.75 * height, d - 1.25 * height)


def limits(thread: Thread) -> Limits:
    """Limits of size in mm (ISO 965-1:2013), rounded to 0.001 mm.

    External: the minor maximum is that of the flat-bottomed profile (pitch diameter - H/2), the minimum that of
    the rounded root (pitch diameter - 0.616025 P); the standard sets neither, both are for reference
    (formulas: Machinery's Handbook, 27th ed., p. 1794). Internal: the major maximum likewise, + 0.793857 P.

    >>> limits(read("M20x2.5-6g")).pitch
    Size(max=18.334, min=18.164, reference='')
    >>> limits(read("M20x2.5-6H")).minor
    Size(max=17.744, min=17.294, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    position, grade, crest_grade = thread.thread_class[1], int(thread.thread_class[0]), int(thread.thread_class[-2])
    size = basic(thread)
    pitch = thread.pitch
    deviation = _deviation(pitch, position) / 1000
    half_height = forms.sharp_height(forms.SIXTY, pitch) / 2
    tolerance = pitch_diameter_tolerance(thread, grade) / 1000
    crest = crest_tolerance(thread, crest_grade) / 1000
    if thread.side == "external":
        major, middle = size.major - deviation, size.pitch - deviation
        rounded_root = middle - tolerance - 0.616025 * pitch
        return Limits(
            _size(major, major - crest),
            _size(middle, middle - tolerance),
            _size(middle - half_height, rounded_root, "max min"),
            deviation,
            round_half_even(size.minor - deviation, 3),
        )
    major, middle, minor = size.major + deviation, size.pitch + deviation, size.minor + deviation
    return Limits(
        _size(middle + tolerance + 0.793857 * pitch, major, "max"),
        _size(middle + tolerance, middle),
        _size(minor + crest, minor),
        deviation,
        round_half_even(major, 3),
    )


def root_form(thread: Thread) -> Root:
    """The tool end of the root: a radius of 0.125 P or more outside, a flat of P/8 or less inside.

    Outside: ISO 965-1 (Machinery's Handbook, 27th ed., p. 1794); up to what clears the mating thread. Inside: the
    basic profile of ISO 68-1:1998, 3.

    >>> root_form(read("M20x2.5-6g")).smallest, root_form(read("M20x2.5-6H")).largest
    (0.3125, 0.3125)
    """
    if not thread.side:
        raise no_root_without_side(write(thread), CLASSES)
    if thread.side == "internal":
        return internal_flat(thread.pitch)
    return Root("radius", 0.125 * thread.pitch, None, "least root radius of ISO 965-1; at most what clears the mate")


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ISO 261, in words.

    >>> standing(read("M20x2.5-6g")), standing(read("M20x2.2"))
    ('coarse series of ISO 261', 'no pair of ISO 261, worked by the formulas of ISO 965-1')
    >>> standing(read("M20x2-6H-L"))
    'fine series of ISO 261; length of engagement L: over 24 mm'
    """
    series = pairs().get((thread.diameter, thread.pitch))
    placed = f"{series} series of ISO 261" if series else "no pair of ISO 261, worked by the formulas of ISO 965-1"
    return f"{placed}{_engagement_words(thread)}"


def _engagement_words(thread: Thread) -> str:
    """What the length group of the callout means in mm (ISO 965-1:2013, Table 2); no words where none is given."""
    if not thread.engagement:
        return ""
    high = _diameter_range(thread.diameter)[1]
    row = next(
        (
            r
            for r in tables.rows("iso_engagement_length")
            if (float(r["d_upto_mm"]), float(r["pitch_mm"])) == (high, thread.pitch)
        ),
        None,
    )
    if row is None:
        return ""
    low, top = row["normal_from_mm"], row["normal_to_mm"]
    meaning = {"S": f"up to {low} mm", "N": f"over {low} to {top} mm", "L": f"over {top} mm"}[thread.engagement]
    return f"; length of engagement {thread.engagement}: {meaning}"


def where_from(thread: Thread) -> tuple[Origin, ...]:
    """The origins of a thread's figures: which were read from a table, which are formulas off the tables.

    >>> [origin.figures for origin in where_from(read("M20x2.2-6g")) if origin.place == "clause 13"]
    ['fundamental deviation off the table', 'pitch diameter tolerance off the tables', 'crest tolerance off the tables']
    """
    return origins_of(thread, ("pair " if (thread.diameter, thread.pitch) in pairs() else "special ") + cells(thread))


def cells(thread: Thread) -> str:
    """Whether the tables have the pitch, and the pitch diameter tolerance of this range and pitch; MJ uses them too.

    >>> cells(read("M20x2.2")), cells(read("M8x2.5"))
    ('off-pitch off-Td2', 'pitch off-Td2')
    """
    has_pitch = thread.pitch in _crest_rows()
    has_tolerance = (_diameter_range(thread.diameter)[1], thread.pitch) in _pitch_diameter_rows()
    return f"{'off-' * (not has_pitch)}pitch {'off-' * (not has_tolerance)}Td2"


def standard_threads() -> list[Thread]:
    """Every pair of ISO 261, without a class, in the order of its table."""
    return [Thread("iso_metric", "mm", diameter, pitch, series="M") for diameter, pitch in pairs()]


def pitch_diameter_tolerance(thread: Thread, grade: int) -> int:
    """Td2 or TD2 in micrometres.

    From the table where it has the diameter range and pitch (ISO 965-1:2013, Tables 4 and 5); otherwise the
    grade 6 value is 90 P^0.4 d^0.1, d the geometric mean of the diameter range, rounded to R40. Several
    starts widen it (MULTI_START_FACTORS).

    >>> pitch_diameter_tolerance(read("M20x2.5-6g"), 6), pitch_diameter_tolerance(read("M20xPh5P2.5-6g"), 6)
    (170, 190)
    """
    internal = thread.side == "internal"
    grade6, grades = _pitch_diameter_grade_6(*_diameter_range(thread.diameter), thread.pitch, internal)
    _check_grade(thread, grade, grades, "pitch diameter")
    return widened(of_grade(grade6, grade, internal), thread.starts)


def widened(tolerance: int, starts: int) -> int:
    """The pitch diameter tolerance of one start for that many, in micrometres."""
    return int(round_half_even(tolerance * MULTI_START_FACTORS[min(starts, 5)], 0))


def crest_tolerance(thread: Thread, grade: int) -> int:
    """Td (major, external) or TD1 (minor, internal) in micrometres: ISO 965-1:2013, Tables 2 and 3."""
    internal = thread.side == "internal"
    grade6, grades, printed8 = _crest_grade_6(thread.pitch, internal)
    _check_grade(thread, grade, grades, "minor diameter" if internal else "major diameter")
    if printed8 and grade == 8 and not internal:
        return int(printed8)  # the one cell that the R40 rule misses
    return of_grade(grade6, grade)


@lru_cache(maxsize=1024)
def _pitch_diameter_grade_6(low: float, high: float, pitch: float, internal: bool) -> tuple[int, str]:
    """Td2 of grade 6, and the grades there are; from the table, or by its formula off the table."""
    row = _pitch_diameter_rows().get((high, pitch))
    if row is None:
        return pitch_diameter_grade_6(pitch, low, high), "4 5 6 7 8" if internal else "3 4 5 6 7 8 9"
    return int(row["Td2_6_um"]), row["TD2_grades" if internal else "Td2_grades"]


@lru_cache(maxsize=1024)
def _crest_grade_6(pitch: float, internal: bool) -> tuple[int, str, str]:
    """TD1 or Td of grade 6, the grades there are, and grade 8 where it was printed apart; table or formula."""
    row = _crest_rows().get(pitch)
    if row is None:
        return nearest_r40(_crest_formula(pitch, internal)), "4 5 6 7 8" if internal else "4 6 8", ""
    name = "TD1" if internal else "Td"
    return int(row[f"{name}_6_um"]), row[f"{name}_grades"], row["Td_8_um_printed"]


def _crest_formula(pitch: float, internal: bool) -> float:
    """ISO 965-1:2013, clause 13: the formulas behind the tables, micrometres for P in mm."""
    tolerance: float = 180 * pitch ** (2 / 3) - 3.15 / pitch**0.5
    if internal:
        tolerance = 433 * pitch - 190 * pitch**1.22 if pitch < 1 else 230 * pitch**0.7
    return tolerance


@lru_cache(maxsize=1024)
def _deviation(pitch: float, position: str) -> float:
    """Size of the fundamental deviation in micrometres: ISO 965-1:2013, Table 1, or its formula off the table."""
    row = _deviation_rows().get(pitch)
    if row is not None and row[position]:
        return abs(float(row[position]))
    formula = {"h": 0.0, "H": 0.0, "g": 15 + 11 * pitch, "G": 15 + 11 * pitch, "f": 30 + 11 * pitch}
    if pitch >= 0.5:
        formula["e"] = 50 + 11 * pitch
    if row is not None or position not in formula:
        raise NotGiven(f"ISO 965-1 gives no position {position} for a pitch of {plain(pitch)} mm")
    return round_half_even(formula[position], 0)


def _check_grade(thread: Thread, grade: int, grades: str, what: str) -> None:
    if str(grade) not in grades:
        kind = "internal" if thread.side == "internal" else "external"
        given = ", ".join(grades.split())
        raise NotGiven(
            f"{write(thread)}: ISO 965-1 has no {what} grade {grade} for {kind} threads of this size; it has {given}"
        )


def _size(largest: float, smallest: float, reference: str = "") -> Size:
    return Size(round_half_even(largest, 3), round_half_even(smallest, 3), reference)


_DIAMETER_BOUNDS = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0)  # ISO 965-1:2013, Table 4
_DIAMETER_RANGES = tuple(zip(_DIAMETER_BOUNDS, _DIAMETER_BOUNDS[1:]))


def _diameter_range(diameter: float) -> tuple[float, float]:
    return next(found for found in _DIAMETER_RANGES if diameter <= found[1])


@lru_cache(maxsize=1)
def _pitch_diameter_rows() -> dict[tuple[float, float], dict[str, str]]:
    return {(float(r["d_upto_mm"]), float(r["pitch_mm"])): r for r in tables.rows("iso_pitch_diameter_tolerance")}


@lru_cache(maxsize=1)
def _crest_rows() -> dict[float, dict[str, str]]:
    return {float(r["pitch_mm"]): r for r in tables.rows("iso_crest_tolerance")}


@lru_cache(maxsize=1)
def _deviation_rows() -> dict[float, dict[str, str]]:
    return {float(r["pitch_mm"]): r for r in tables.rows("iso_fundamental_deviations")}


SYSTEM = System(
    key="iso_metric",
    title="ISO metric",
    source="ISO 965-1",
    unit="mm",
    decimals=3,
    form=forms.SIXTY,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("6g", "6h", "4g6g", "6e", "6H", "5H", "6G", "7H"),
    with_lead=with_lead,
    widening_starts=WIDENING_STARTS,
    root_form=root_form,
    origins=where_from,
)
