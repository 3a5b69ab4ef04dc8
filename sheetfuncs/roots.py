"""The root that a tool tip leaves: what it must clear, what it must not be cut past, which radii are demanded."""

from __future__ import annotations

from sheetfuncs import forms, standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.records import NamedTuple
from sheetfuncs.units import at_least, at_most

ROUNDING = {"in": 0.00005, "mm": 0.0005}
"""On the radius: root to clear, pitch diameter and nose are printed to a last place, each at most half of it off.

Without it the tool of the standard's own form would be refused for the last digit of its limits.
"""

NOISE = 1e-9
"""What a tip may be past a bound: the last bits of the arithmetic."""

TIP_WORDS = {"sharp": "sharp tip", "flat": "flat", "radius": "nose radius"}


def outward(thread: Thread) -> int:
    """+1 where cutting makes the diameter smaller (outside), -1 where it makes it larger (in a bore)."""
    return -1 if thread.side == "internal" else 1


class Room(NamedTuple):
    """How far a tip stays above the sharp bottom of its groove: at most for the mating thread, for the limit of the
    root too, and at least for the other limit; 0 where there is none. In the thread's own unit, on the radius.
    """

    for_mate: float
    most: float
    least: float


def room(thread: Thread, aim: float, kind: str) -> Room:
    """The room for a tip of a kind that is to reach a pitch diameter.

    On a taper crest, root and flanks move together, and the root to clear belongs to the basic size.

    >>> round(room(standards.read("1-5 ACME-2G"), 0.8823, "flat").least * forms.TWENTY_NINE.spread, 4)  # by hand
    0.066
    """
    system, root, rounding = standards.system(thread), root_to_cut(thread), ROUNDING[thread.unit]
    at_pitch_line = standards.basic(thread).pitch if system.taper else aim

    def to(diameter: float) -> float:
        return _above_bottom(thread, diameter, at_pitch_line)

    own, edge = root_shortening(thread), mating_edge(thread)
    for_mate, most = to(standards.limits(thread).root) + rounding, to(root.nearest) + rounding
    least = 0.0 if root.farthest is None else to(root.farthest) - rounding
    if own is not None:
        most, least = max(most, own), min(least, own)
    if kind == "radius" and edge is not None:
        nose = forms.largest_nose(system.form, for_mate, edge) + rounding  # a radius is printed to a last place, too
        for_mate = forms.tip_shortening(system.form, Tip(kind, nose))
        most = min(most, for_mate)
    return Room(for_mate, most, least)


def _above_bottom(thread: Thread, diameter: float, at_pitch_line: float) -> float:
    """How far a diameter is above the sharp bottom of a groove that is half a pitch wide at another one."""
    bottom = forms.vertex_below_pitch_line(standards.system(thread).form, thread.pitch)
    return bottom - outward(thread) * (at_pitch_line - diameter) / 2


def mating_edge(thread: Thread) -> float | None:
    """How far the edges of the mating crest are above the sharp bottom where the groove is least deep.

    None where no edge tells how large a nose may be: the mating crest is round; a root radius is demanded; on a taper,
    where crest and root may meet and the standard bounds what each of them is cut off.

    >>> round(mating_edge(standards.read("M16x2-6g")) / forms.sharp_height(forms.SIXTY, 2), 3)  # ISO 68-1: H/4
    0.25
    >>> round(mating_edge(standards.read("M16x2-6H")) / forms.sharp_height(forms.SIXTY, 2), 3)  # ISO 68-1: H/8
    0.125
    """
    system, found = standards.system(thread), standards.limits(thread)
    inside = thread.side == "internal"
    if system.taper or system.form.rounded_crest or (system.root_radius and not inside):
        return None
    largest, smallest = found.pitch.ends
    return _above_bottom(thread, found.root, smallest if inside else largest)


def refuse_wrong_root(thread: Thread, tip: Tip, aim: float) -> None:
    """A blunt tip leaves a root that the mating crest runs into before the flanks meet; a narrow one cuts past it."""
    system, allowed = standards.system(thread), room(thread, aim, tip.kind)
    stays = forms.tip_shortening(system.form, tip)
    if allowed.least - NOISE <= stays <= allowed.most + NOISE:
        return
    root = root_to_cut(thread)
    bottom = forms.vertex_below_pitch_line(system.form, thread.pitch)
    cut = f"{aim - 2 * outward(thread) * (bottom - stays):.{system.decimals}f}, past its limit"
    sized = "" if tip.kind == "sharp" else f" of {plain(tip.size)} {thread.unit}"
    named = f"a {TIP_WORDS[tip.kind]}{sized} is too {{}} for {standards.write(thread)}"
    of_one = {kind: forms.tip_shortening(system.form, Tip(kind, 1.0)) for kind in ("flat", "radius")}
    nose = room(thread, aim, "radius")
    kinds = ("flat",) if tip.kind == "flat" or nose.least > nose.most else ("flat", "radius")
    serving = tuple(kind for kind in kinds if tip.kind in ("sharp", kind)) or kinds
    least = (f"a {TIP_WORDS[kind]} of {at_least(allowed.least / of_one[kind])} {thread.unit}" for kind in serving)
    ends = f"at this size {' or '.join(least)} is the least"
    if stays <= allowed.most:
        why = f"it would cut the {root.name} diameter to {cut} {plain(root.farthest or 0.0)}"
        raise OutOfRange(f"{named.format('narrow')}: {why}; {ends}")
    left = f"it would leave the {root.name} diameter at {cut} {plain(root.nearest)}"
    why = "the root would foul the mating thread" if stays > allowed.for_mate else left
    most = f"at this size {at_most(allowed.most / of_one[tip.kind])} {thread.unit} is the most"
    bounds = f"no nose radius serves, {ends}" if tip.kind not in serving else most
    raise OutOfRange(f"{named.format('blunt')}: {why}; {bounds}")


class RootToCut(NamedTuple):
    """Between which diameters the root must end: nearest to the pitch line, and farthest where a limit is set."""

    name: str
    nearest: float
    farthest: float | None


def root_to_cut(thread: Thread) -> RootToCut:
    """The nearest is what clears the mating thread, or a limit of the root that is nearer still.

    No limit that is for reference; none on a taper, whose root is no size that is measured: a V tool cuts it in many
    shops (practice). Where a root radius is demanded, that decides.
    """
    system, found, inside = standards.system(thread), standards.limits(thread), thread.side == "internal"
    size, name = (found.major, "major") if inside else (found.minor, "minor")
    if system.taper or (system.root_radius and not inside):
        return RootToCut(name, found.root, None)
    largest, smallest = (None if end in size.reference else getattr(size, end) for end in ("max", "min"))
    if inside:
        return RootToCut(name, found.root if smallest is None else max(found.root, smallest), largest)
    return RootToCut(name, found.root if largest is None else min(found.root, largest), smallest)


def root_shortening(thread: Thread) -> float | None:
    """How far the smallest tip of the standard's own root stays above the sharp bottom, whatever the class.

    None where no source draws it, where nothing is too sharp, or where screw and nut have roots of their own. That tip
    is never refused: limits are rounded, and those of a finer class may ask for less than the root that is drawn.

    >>> round(root_shortening(standards.read("1-5 ACME")) * forms.TWENTY_NINE.spread, 4)  # ASME B1.5: the flat
    0.069
    """
    system = standards.system(thread)
    if system.root_form is None:
        return None
    try:
        root, other = (
            system.root_form(thread._replace(thread_class="", side=side)) for side in ("external", "internal")
        )
    except NotGiven:
        return None
    if root != other or root.smallest is None:
        return None
    return forms.tip_shortening(system.form, Tip(root.kind, root.smallest))


def refuse_wrong_radius(thread: Thread, tip: Tip) -> None:
    """Where the standard demands a root radius (UNJ, MJ, the least of UNR), only such a nose cuts the thread."""
    system = standards.system(thread)
    if system.rounded_series and thread.series.startswith(system.rounded_series):
        _refuse_sharp_round_root(thread, tip)
    shares = system.root_radius
    if shares is None or thread.side == "internal":
        return
    smallest, largest = (share * thread.pitch for share in shares)
    if tip.kind != "radius" or not smallest - NOISE <= tip.size <= largest + NOISE:
        raise OutOfRange(
            f"{standards.write(thread)} must have a root radius of {at_least(smallest)} to {at_most(largest)} "
            f"{thread.unit}; use a nose radius in that range"
        )


def _refuse_sharp_round_root(thread: Thread, tip: Tip) -> None:
    """No nose under the least radius; a larger one is taken while it clears: with flats in the root it may be."""
    system = standards.system(thread)
    least = system.rounded_least * thread.pitch
    if tip.kind == "radius" and tip.size >= least - NOISE:
        return
    nose = f"nose radius of {plain(tip.size)} {thread.unit} is too small"
    fault = nose if tip.kind == "radius" else f"{tip.kind} tip does not cut it"
    raise OutOfRange(
        f"{standards.write(thread)} has a rounded root, which makes it {system.rounded_series}: a {fault}; "
        f"use a nose radius of {at_least(least)} {thread.unit} or more, THREAD_TIP gives its range"
    )
