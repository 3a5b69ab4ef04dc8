"""How a wire lies in the groove of a thread, and which wires serve; the derivation stands in sheetfuncs.wires."""

from __future__ import annotations

from math import atan, cos, radians, sin, tan

from sheetfuncs import forms, standards
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread
from sheetfuncs.errors import OutOfRange


def flanks(thread: Thread) -> tuple[float, float]:
    """Angles of the leading and the trailing flank from the plane square to the axis, radians."""
    form = standards.system(thread).form
    return radians(form.leading), radians(form.trailing)


def rise(thread: Thread) -> float:
    """Wire diameters from twice the sharp bottom's depth to over the wires: 1 + 1 / sin a, 3 for 60 degrees."""
    a, b = flanks(thread)
    return 1 + cos((a - b) / 2) / sin((a + b) / 2)


def vertex_width(thread: Thread) -> float:
    """Twice the depth of the sharp bottom below the pitch line, P / (tan a + tan b): 0.866 025 P for 60 degrees."""
    system = standards.system(thread)
    sloped = 1 - (system.taper / 2) ** 2 * tan(radians(system.form.leading)) * tan(radians(system.form.trailing))
    return 2 * forms.vertex_below_pitch_line(system.form, thread.pitch) * sloped


def between_centres(thread: Thread, wire: float) -> float:
    """Distance of the wires' centres over the pitch diameter, square to the axis."""
    return wire * (rise(thread) - 1) - vertex_width(thread)


def lean(thread: Thread) -> float:
    """Cosine of a taper's half angle, 1 for a parallel thread."""
    return cos(atan(standards.system(thread).taper / 2))


def usable_wires(thread: Thread) -> tuple[float, float]:
    """The wires that can serve: proud of the smallest crest at the largest pitch diameter, and never on a crest's edge.

    Of the basic form where the side is not said.
    """
    return _basic_range(thread) if _by_basic_form(thread) else _within_limits(thread)


@lru_cache(maxsize=4096)
def _within_limits(thread: Thread) -> tuple[float, float]:
    found = standards.limits(thread)
    pitch, crest = found.pitch.ends[0], found.major.ends[1]
    return _range_between(thread, pitch, crest, pitch, crest)


def proud_wire(thread: Thread) -> float:
    """The wire that is flush with the largest crest at the smallest pitch diameter: a larger one is always proud.

    >>> round(proud_wire(standards.read("3/4-16 UNF-2A")), 4)
    0.0332
    """
    if _by_basic_form(thread):
        return _basic_range(thread)[0]
    found = standards.limits(thread)
    crest, pitch = found.major.ends[0], found.pitch.ends[1]
    return _range_between(thread, pitch, crest, pitch, crest)[0]


def _basic_range(thread: Thread) -> tuple[float, float]:
    basic = standards.basic(thread)
    return _range_between(thread, basic.pitch, basic.major, basic.pitch, basic.major)


def _by_basic_form(thread: Thread) -> bool:
    """Whether wires are judged by the basic sizes: on a taper all limits move together, with the plane."""
    return not thread.side or bool(standards.system(thread).taper)


def _range_between(
    thread: Thread, lowest_pd: float, highest_crest: float, highest_pd: float, lowest_crest: float
) -> tuple[float, float]:
    """Wire flush with the highest crest at the lowest pitch diameter; wire on the lowest crest's edge at the highest.

    The higher contact, W cos a / (2 tan((a + b)/2)) above the sharp bottom, is on the steeper flank. A rounded crest
    takes the flank away further down. An arc of radius r between flanks of half angle a has its centre r / sin a
    below the sharp point: its top is r (1 / sin a - 1) below that point, and it leaves the flanks r sin a above the
    centre, r (1 / sin a - sin a) below the point, which is 1 + sin a times as far, whatever r. So a crest that is cut
    off by c leaves flank up to c (1 + sin a) below the sharp point; a lower crest is rounded over more of it. BS 84's
    own crest (c = H/6, r = 0.137 329 P) leaves 0.246 246 P of flank above the pitch line.
    """
    angles, vertex = flanks(thread), vertex_width(thread)
    smallest = (highest_crest - lowest_pd + vertex) / rise(thread)
    crest = lowest_crest - highest_pd + vertex
    straight = crest - forms.crest_rounding(standards.system(thread).form) * (2 * vertex - crest)
    return smallest, straight * tan(sum(angles) / 2) / cos(min(angles))


def crest_end(thread: Thread) -> str:
    """What a wire that is too large rests on, in a word."""
    return "rounding" if standards.system(thread).form.rounded_crest else "edge"


def refuse_internal(thread: Thread) -> None:
    """Raise OutOfRange for a thread that no wires measure."""
    if thread.side == "internal":
        raise OutOfRange(
            f"{standards.write(thread)} is an internal thread; wires measure external threads, "
            f"gauge this one with a plug"
        )
