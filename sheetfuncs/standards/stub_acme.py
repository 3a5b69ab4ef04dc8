"""Stub Acme inch threads (ASME/ANSI B1.8-1988): designations, sizes, limits of size.

Sources: ASME/ANSI B1.8-1988 (R2001) as reprinted in Machinery's Handbook, 27th ed., pp. 1843 to 1846, and by a bolt
maker. The standard has one class, 2G, and lets the tolerances and allowances of classes 3G and 4G of ASME B1.5 be
used for a fit with less backlash. Which side a callout means is written as for Acme: INT behind the class is the nut.
"""

from __future__ import annotations

from sheetfuncs import forms
from sheetfuncs.designations import Thread, inch_pair_with_lead
from sheetfuncs.errors import NotGiven
from sheetfuncs.standards import acme
from sheetfuncs.standards.base import Basic, Limits, Root, Size, System, no_limits_without_class, round_half_even

CLASSES = {"external": "2G, or 3G, 4G as ASME B1.5", "internal": "the same with INT behind it, as in 2G-INT"}


def read(text: str) -> Thread | None:
    """A stub Acme designation (ASME/ANSI B1.8-1988), or None where the text is not one.

    The standard leaves its one class out of the callout; here it is written, or there are no limits.

    >>> read("1-5 STUB ACME-2G").side, read("0.500-20 Stub Acme-LH").left_hand
    ('external', True)
    """
    thread = acme.read_callout(text, "stub_acme", "STUB ACME")
    if thread is None:
        return None
    if thread.thread_class not in ("", *acme.GENERAL_PURPOSE):
        raise NotGiven(
            f"{text}: stub Acme has no class {thread.thread_class}; ASME B1.8 has 2G, and lets 3G and 4G of ASME B1.5 "
            f"be used"
        )
    acme.refuse_too_deep(thread, basic(thread))
    return thread


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - 0.3P, minor diameter D - 0.6P (ASME/ANSI B1.8-1988, Table 2).

    >>> [round(size, 4) for size in basic(read("5/16-14 STUB ACME"))]
    [0.3125, 0.2911, 0.2696]
    """
    d = thread.diameter
    return Basic(d, d - 0.3 * thread.pitch, d - 0.6 * thread.pitch)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches.

    Pitch diameter: allowance and tolerance of the same class of general purpose Acme (ASME/ANSI B1.8-1988 as
    reprinted). External minor and internal major diameter clear the mate by 0.020 in, finer than 10 threads per
    inch by 0.010 (MH27 p. 1844, Table 13, "1/2 allowance"). FROM MEMORY, not seen in a source: the tolerance
    0.05P of external major and internal minor diameter, here without the least of 0.005 in, and the pitch
    diameter tolerance as that of external minor and internal major diameter; and that the external minor diameter
    stands one thread height, 0.3P to 0.0001, below the pitch diameter as printed, which moves its last digit at 1/4-16
    and 5/16-14 alone.

    >>> limits(read("1/4-16 STUB ACME-2G")).pitch
    Size(max=0.2272, min=0.2167, reference='')
    >>> limits(read("1/4-16 STUB ACME-2G")).minor, limits(read("5/16-14 STUB ACME-2G")).minor.max
    (Size(max=0.2024, min=0.1919, reference=''), 0.2597)
    """
    if not thread.thread_class:
        raise no_limits_without_class(acme.write(thread), CLASSES)
    d, pitch = _limit(thread.diameter), thread.pitch
    middle, minor = _limit(d - 0.3 * pitch), _limit(d - 0.6 * pitch)
    tolerance, crest = _limit(acme.pitch_tolerance(thread)), _limit(0.05 * pitch)
    clearance = acme.root_clearance(thread)
    if thread.side == "internal":
        root = _limit(d + clearance)
        return Limits(
            Size(_limit(root + tolerance), root),
            Size(_limit(middle + tolerance), middle),
            Size(_limit(minor + crest), minor),
            0.0,
            root,
        )
    allowance = acme.pitch_allowance(thread)
    high, core = _limit(middle - allowance), _limit(middle - _limit(0.3 * pitch) - clearance)
    return Limits(
        Size(d, _limit(d - crest)),
        Size(high, _limit(high - tolerance)),
        Size(core, _limit(core - tolerance)),
        allowance,
        core,
    )


def root_form(thread: Thread) -> Root:
    """The tool of the full form, 0.4224 P - 0.2586 times the clearance (ASME B1.8-1988: height 0.3 P; by geometry).

    >>> round(root_form(read("1/2-10 STUB ACME")).largest, 4)
    0.0371
    """
    return acme.flat_root(thread, 0.15 * thread.pitch, "ASME B1.8, by geometry")


def standing(thread: Thread) -> str:
    """How the thread stands in ASME B1.8, in words.

    >>> standing(read("1-5 STUB ACME")), standing(read("1-8 STUB ACME"))
    ('preferred pair of ASME B1.8', 'no preferred pair of ASME B1.8, worked by its formulas')
    """
    parts = [acme.preference(thread, "ASME B1.8")]
    if thread.thread_class:
        parts += ["allowance and tolerance of ASME B1.5"] * (thread.thread_class != "2G")
        parts += ["limits of one start"] * (thread.starts > 1)
        parts.append("major and minor tolerances from memory")
    return "; ".join(parts)


def standard_threads() -> list[Thread]:
    """Every preferred pair of ASME B1.8, without a class, in the order of its table."""
    return acme.preferred_threads("stub_acme", "STUB ACME")


def _limit(value: float) -> float:
    return round_half_even(value, 4)


SYSTEM = System(
    key="stub_acme",
    title="Stub Acme",
    source="ASME B1.8",
    unit="in",
    decimals=4,
    form=forms.TWENTY_NINE,
    read=read,
    write=acme.write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("2G", "2G-INT"),
    with_lead=inch_pair_with_lead,
    names=("STUB ACME",),
    root_form=root_form,
)
