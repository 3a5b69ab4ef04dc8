"""Rp pipe threads, parallel internal, for joints that seal on the thread against an R thread (ISO 7-1)."""

from __future__ import annotations

from sheetfuncs import forms
from sheetfuncs.designations import Thread
from sheetfuncs.standards import pipe_taper_iso as jointing
from sheetfuncs.standards.base import PRESSURE_TIGHT, Limits, System
from sheetfuncs.standards.callouts import root_to_clear
from sheetfuncs.standards.taper import TAPER

CLASSES = {"internal": "Rp, without a class"}


def read(text: str) -> Thread | None:
    """An Rp designation (ISO 7-1:1994, clause 7), or None where the text is not one.

    >>> read("RP3/4").side
    'internal'
    """
    return jointing.read_jointing(text, {"Rp": ("pipe_rp", "internal")})


def limits(thread: Thread) -> Limits:
    """Limits of size in mm: T2 turns of a taper thread's gauge plane, as a tolerance of the diameter both ways.

    The turns are those of ISO 7-1:1994, Table 1 (JIS B 0203:1999 prints them as lengths).

    >>> limits(read("Rp 3/4")).pitch
    Size(max=25.421, min=25.137, reference='')
    """
    across = jointing.axial_tolerance(thread) * TAPER
    major, middle, minor = jointing.basic(thread)
    depth = jointing.DEPTH_OF_SHARP * forms.sharp_height(forms.FIFTY_FIVE, thread.pitch)
    return Limits(
        jointing.both_ways(major, across),
        jointing.both_ways(middle, across),
        jointing.both_ways(minor, across),
        0.0,
        root_to_clear(middle - across, depth, thread.side, 3),
    )


def standing(thread: Thread) -> str:
    """Every Rp thread that is read is one of ISO 7-1.

    >>> standing(read("Rp 3/4"))
    'size 3/4 of ISO 7-1, parallel'
    """
    return f"size {thread.series.partition(' ')[2]} of ISO 7-1, parallel"


def standard_threads() -> list[Thread]:
    """Every size."""
    return [jointing.jointing_thread("pipe_rp", "Rp", size, "internal") for size in jointing.sizes()]


SYSTEM = System(
    key="pipe_rp",
    title="Rp pipe",
    source="ISO 7-1",
    unit="mm",
    decimals=3,
    form=forms.FIFTY_FIVE,
    read=read,
    write=jointing.write,
    basic=jointing.basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("Rp",),
    bare_class="Rp",
    joiner=" ",
    root_form=jointing.root_form,
    authority=PRESSURE_TIGHT,
)
