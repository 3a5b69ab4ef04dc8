"""What a thread is, and its limits of size."""

from __future__ import annotations

from math import atan, degrees, pi

from sheetfuncs import standards
from sheetfuncs.designations import Thread, plain, threads_per_inch
from sheetfuncs.errors import LONGEST_TEXT, CellError, NotGiven, OutOfRange, in_one_line
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.sources import SOURCES
from sheetfuncs.standards import Size

CATEGORY = "Thread sizes"
BELIEVABLE = 2.0
"""Pitches that a measured pitch diameter may be off the basic one before its unit or wire is doubted.

This project's choice.
"""
_MH27 = "MH27 p. 1755, Table 3"


@sheet_function(
    category=CATEGORY,
    returns="description",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(
            ("5/8-11 UNC-2A-LH",),
            "5/8-11 UNC-2A-LH: Unified 60 degree external thread, 0.625 in, 11 threads per inch, "
            "LEFT HAND, class 2A; UNC series of ASME B1.1",
            "ASME B1.1-2003, section 6 and Table 1",
        ),
    ),
)
def describe(thread: Thread) -> str:
    """The thread read back in words: form, size, pitch, lead, starts, hand, class, side and standard.

    Where the callout left open what custom decides, as a lone M20 or 1/4-20 does, the end says what was taken; a
    gauging system such as (21), which changes no limit, is left out and named there. A class that has no limits at this
    size says so. Where all that would be more than the 255 characters of a text in a formula, the callout at its
    beginning is left out.

    >>> print(describe(standards.read("M20xPh5P2.5-6g")))
    M20xPh5P2.5-6g: ISO metric 60 degree external thread, 20 mm, pitch 2.5 mm, 2 starts, lead 5 mm,
    right hand, class 6g; coarse series of ISO 261
    """
    system = standards.system(thread)
    tpi = f"{plain(threads_per_inch(thread.pitch))} threads per inch"
    parts = [
        f"{system.title} {system.form.name} {thread.side}".rstrip() + " thread",
        f"{plain(thread.diameter)} {thread.unit}",
        tpi if thread.unit == "in" else f"pitch {plain(thread.pitch)} mm",
    ]
    if thread.starts > 1:
        parts += [f"{thread.starts} starts", f"lead {plain(thread.lead)} {thread.unit}"]
    parts.append("LEFT HAND" if thread.left_hand else "right hand")
    parts.append(f"class {thread.thread_class}" if thread.thread_class else "no class")
    said = (", ".join(parts), system.standing(thread), _without_limits(thread), thread.note)
    words = "; ".join(part for part in said if part)
    named = f"{standards.write(thread)}: {words}"
    return named if len(named) <= LONGEST_TEXT else in_one_line(words, LONGEST_TEXT)


def _without_limits(thread: Thread) -> str:
    """That a thread with a class has no limits of size, where that is so: the class alone promises them."""
    try:
        if thread.thread_class:
            standards.limits(thread)
    except CellError:
        return "NO LIMITS of size for this class here, THREAD_LIMITS says why"
    return ""


@sheet_function(
    category=CATEGORY,
    returns="pitch",
    sources=("ASME B1.1", "ISO 261"),
    examples=(
        Example(("3/4-16 UNF-2A",), "0.0625", "ASME B1.1-2003, Table 1"),
        Example(("M20-6g",), "2.5", "ISO 261"),
    ),
)
def pitch(thread: Thread) -> float:
    """Pitch: the distance from one thread to the next, along the axis.

    >>> pitch(standards.read("M20-6g"))
    2.5
    """
    return thread.pitch


@sheet_function(
    category=CATEGORY,
    returns="lead",
    sources=("ASME B1.7",),
    examples=(Example(("1.0-0.1P-0.2L UNS-2A",), "0.2", "its own designation: P 0.1, L 0.2"),),
)
def lead(thread: Thread) -> float:
    """Lead: how far the thread advances in one turn, starts times pitch.

    >>> lead(standards.read("M20xPh5P2.5-6g"))
    5.0
    """
    return thread.lead


@sheet_function(
    category=CATEGORY,
    returns="lead_angle",
    sources=("ASME B1.7",),
    examples=(Example(("1/2-28 UNEF",), "1.37", "MH31 p. 1980, Table 4c: 1 degree 22 minutes"),),
)
def lead_angle(thread: Thread) -> float:
    """Lead angle in degrees at the basic pitch diameter: tan = lead / (pi x pitch diameter).

    >>> round(lead_angle(standards.read("1/2-28 UNEF")), 2)      # MH31 p. 1980: 1 degree 22 minutes
    1.37
    """
    return degrees(atan(thread.lead / (pi * standards.basic(thread).pitch)))


@sheet_function(
    category=CATEGORY,
    returns="major_diameter",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("2 3/8-20 UN-2A", "max"), "2.3735", _MH27),
        Example(("M75x1.5-6g", "min"), "74.732", "MH27 p. 1802, Table 13"),
    ),
)
def major_diameter(thread: Thread, limit: str) -> float:
    """Major diameter at a limit: the outside of an external thread, the root of an internal one.

    >>> major_diameter(standards.read("3/4-16 UNF-2A"), "min")
    0.7391
    """
    return _at(thread, "major", limit)


@sheet_function(
    category=CATEGORY,
    returns="pitch_diameter",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("2 3/8-20 UN-2A", "max"), "2.3410", _MH27),
        Example(("M75x1.5-6g", "min"), "73.834", "MH27 p. 1802, Table 13"),
    ),
)
def pitch_diameter(thread: Thread, limit: str) -> float:
    """Pitch diameter at a limit: the size that decides the fit, where the groove is half a pitch wide.

    >>> pitch_diameter(standards.read("M20x2.5-6g"), "max")
    18.334
    """
    return _at(thread, "pitch", limit)


@sheet_function(
    category=CATEGORY,
    returns="minor_diameter",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("2 1/2-4 UNC-2B", "max"), "2.267", _MH27),
        Example(("M10x1.5-6H", "max"), "8.676", "by hand: 8.376 (ISO 724) and TD1 0.300 (STAS 8165-82, Table 5)"),
    ),
)
def minor_diameter(thread: Thread, limit: str) -> float:
    """Minor diameter at a limit: the root of an external thread, the bore of an internal one.

    >>> minor_diameter(standards.read("M10x1.5-6H"), "max")
    8.676
    """
    return _at(thread, "minor", limit)


@sheet_function(
    category=CATEGORY,
    returns=("diameter_name", "largest", "smallest", "reference"),
    table="rows",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(Example(("2 3/8-20 UN-2A",), ("major", "2.3735", "2.3654", ""), _MH27),),
)
def limits(thread: Thread) -> list[tuple[str, float | None, float | None, str]]:
    """All limits of size in a table: major, pitch and minor diameter, each max and min.

    The last column names what the standard gives for reference only; a size it does not set stays empty.

    >>> limits(standards.read("3/4-16 UNF-2A"))[1]
    ('pitch', 0.7079, 0.7029, '')
    """
    found = standards.limits(thread)
    return [
        (name, size.max, size.min, size.reference)
        for name, size in (("major", found.major), ("pitch", found.pitch), ("minor", found.minor))
    ]


@sheet_function(
    category=CATEGORY,
    returns="allowance",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("2 3/8-20 UN-2A",), "0.0015", _MH27),
        Example(("M90x6-6g",), "0.080", "MH27 p. 1802, Table 13"),
    ),
)
def allowance(thread: Thread) -> float:
    """Allowance (ASME) or fundamental deviation (ISO): how far the limits stand off basic size, towards clearance.

    >>> allowance(standards.read("3/4-16 UNF-2A"))
    0.0015
    """
    return standards.limits(thread).allowance


@sheet_function(
    category=CATEGORY,
    returns="tolerance",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("M90x6-6g",), "0.280", "MH27 p. 1802, Table 13"),
        Example(("2 3/8-20 UN-2A",), "0.0051", _MH27),
    ),
)
def tolerance(thread: Thread) -> float:
    """Tolerance of the pitch diameter: its maximum less its minimum limit.

    >>> tolerance(standards.read("M20x2.5-6g"))
    0.17
    """
    largest, smallest = standards.limits(thread).pitch.ends
    return round(largest - smallest, standards.system(thread).decimals)


def refuse_far_off(thread: Thread, pitch_diameter: float, basic: float, said: str, doubted: str) -> None:
    """Refuses a measured pitch diameter that is nowhere near the basic one, with what was said and what to doubt.

    >>> refuse_far_off(standards.read("M20x2.5-6g"), 0.7185, 18.376, "it is 0.7185 mm", "unit")
    Traceback (most recent call last):
    sheetfuncs.errors.OutOfRange: it is 0.7185 mm, nowhere near 18.3760 for M20x2.5-6g; check its unit
    """
    if abs(pitch_diameter - basic) > BELIEVABLE * thread.pitch:
        raise OutOfRange(f"{said}, nowhere near {basic:.4f} for {standards.write(thread)}; check its {doubted}")


def _at(thread: Thread, which: str, limit: str) -> float:
    """One of major, pitch or minor at max, min, mid or basic; NotGiven where the standard sets no such limit."""
    if limit == "basic":
        nominal: float = getattr(standards.basic(thread), which)
        return nominal
    size: Size = getattr(standards.limits(thread), which)
    end: float | None = getattr(size, limit, None)
    if limit == "mid" and size.max is not None and size.min is not None:
        end = (size.max + size.min) / 2
    if end is None:
        missing = "minimum" if size.min is None else "maximum"
        standard = standards.system(thread).source
        raise NotGiven(f"{standard} sets no {missing} {which} diameter for {standards.write(thread)}")
    return end


@sheet_function(
    category=CATEGORY,
    returns=("figures", "figure_source", "source_place", "figure_trust"),
    table="rows",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(
            ("M20x2.5-6g",),
            ("standard pairs", SOURCES["ISO 261"], "Table 2", "seen: GB/T 193-2003 (all 352 pairs)"),
            "the table of origins itself; GB/T 193-2003 lists the pair 20 x 2.5",
        ),
    ),
)
def source(thread: Thread) -> list[tuple[str, str, str, str]]:
    """Where each figure of this thread comes from: standard, edition, table, and what of it is from memory.

    One row a kind of figure; those of the limits stand only where the thread has a class. Under trust, FROM MEMORY
    says what was written from knowledge of the standard and not yet seen in print, and seen which text was. Where the
    callout left something open, or has what changes no limit, the last row says what was taken.

    >>> [row[0] for row in source(standards.read("Tr40x7-7H")) if "FROM MEMORY" in row[3]]
    ['minor diameter tolerance TD1']
    """
    taken = [("taken from the callout", "", "", thread.note)] if thread.note else []
    return [
        (origin.figures, SOURCES[origin.source], origin.place, origin.trust)
        for origin in standards.system(thread).origins(thread)
    ] + taken
