"""Setting the lathe: dial lines, speed, and what is left to feed. Change gears are in `gears`, leads in `leads`."""

from __future__ import annotations

from math import gcd, pi

from sheetfuncs import wires
from sheetfuncs.cutting import compound, compound_angle
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.leads import Ratio, decimal, exact, exact_lead, inverse, mixed, times
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function

CATEGORY = "Thread at the lathe"


BESIDE = 1 / 2000
"""How far the tool may come down beside its groove, as a share of the pitch: this project's choice.

A groove wider by w is a pitch diameter smaller by 2 w / (tan a + tan b) with the flank angles a and b. A 2000th of
the pitch so takes less than a tenth of the pitch diameter tolerance of every class of every standard here.
"""
SLIP = 1000
"""Threads of the leadscrew by which the half-nuts are let slip in a job: thirty passes and a dial of 32 teeth.

Each return slips by the way back and by what the screw turns meanwhile, always the same way round: the errors add up.
"""
ANOTHER_LEAD = 10000
"""Millionths beyond which an error is no error of this lead, but another lead: this project's choice."""
SCREWED_CHUCK = "In reverse a screwed-on chuck can come off: see the machine's manual."
"""Short, as it must fit the 255 characters of a cell behind the reason."""


class DialRule(NamedTuple):
    """What a dial is good for: leads in one thread of the screw and in one turn, lines from one legal line to the next.

    `anywhere` is whether every thread of the screw serves; `apart` is 0 where no line does.
    """

    thread: Ratio
    turn: Ratio
    anywhere: bool
    apart: int

    @property
    def may_open(self) -> bool:
        """Whether the half-nuts may be opened at all."""
        return self.anywhere or self.apart > 0


def dial_rule(thread: Thread, leadscrew: Ratio, gear_teeth: int, lines: int, lead_error: float = 0.0) -> DialRule:
    """The rule of `dial` in figures; `lead_error` in millionths of the lead.

    >>> from sheetfuncs.leads import read_leadscrew
    >>> work = Thread("un", "in", 0.5, 1 / 13)
    >>> [dial_rule(work, read_leadscrew("8 tpi"), 32, 8, error).apart for error in (0, -1843)]
    [2, 0]
    """
    if gear_teeth < 1 or lines < 1:
        raise OutOfRange("gear_teeth and lines are counted on the dial; both must be at least 1")
    if not abs(lead_error) <= ANOTHER_LEAD:
        raise OutOfRange(
            f"lead_error is {plain(lead_error)} millionths; more than {ANOTHER_LEAD} is no error but another lead"
        )
    cut = times(exact_lead(thread), exact(1_000_000 + lead_error), Ratio(1, 1_000_000))
    a_thread = times(leadscrew, inverse(cut))
    turn = times(a_thread, Ratio(gear_teeth, 1))
    drift = BESIDE / SLIP / thread.starts
    comes_round = _off(turn) <= gear_teeth * drift
    apart = lines // gcd(gcd(lines, round(turn.value)), gear_teeth) if comes_round else 0
    return DialRule(a_thread, turn, _off(a_thread) <= drift, apart)


def _off(quotient: Ratio) -> float:
    """How far it is from a whole number."""
    return abs(quotient.value - round(quotient.value))


@sheet_function(
    category=CATEGORY,
    returns="dial_rule",
    sources=("geometry",),
    examples=(
        Example(
            ("2-4 1/2 UNC-2A", "5 tpi", 15, 10),
            "keep the half-nuts shut and reverse under power: one turn of the dial is 13 1/2 threads, "
            f"so no line comes round to the same thread. {SCREWED_CHUCK}",
            "arithmetic by hand: 15 / 5 x 4 1/2",
        ),
        Example(
            ("1/2-13 UNC-2A", "8 tpi", 32, 8, -1843),
            "keep the half-nuts shut and reverse under power: the gears are not exact, one turn of the dial is 52.096 "
            f"threads as really cut, so no line brings the tool back into its groove. {SCREWED_CHUCK}",
            "arithmetic by hand: 20/44 x 50/37 on 8 threads per inch; 32 / 8 x 13 / (1 - .001843)",
        ),
    ),
)
def dial(thread: Thread, leadscrew: Ratio, gear_teeth: int, lines: int, lead_error: float = 0.0) -> str:
    """Which dial lines are legal, in words, or half-nuts shut and reverse, where a screwed-on chuck can come off.

    The dial's gear moves one tooth for each thread of the leadscrew that passes, so one turn of the dial is
    gear_teeth x leadscrew lead of carriage travel. Since nobody counts turns of the dial, a turn must be a whole number
    of the work's leads, or no line means anything. A line is legal when the travel from the line that was used first is
    a whole number of leads (of the same start) and of leadscrew threads.

    The leads are those really cut: `lead_error` is the error of the gears in millionths of the lead, as THREAD_GEARS
    gives it; left out, the gears are exact. Every re-engagement slips by leadscrew threads, and what that is more than
    whole leads really cut is how far the tool comes down beside its groove. Over SLIP threads of the leadscrew it may
    be BESIDE of the pitch; so gears that are not exact nearly always mean shut half-nuts.

    >>> from sheetfuncs import standards
    >>> from sheetfuncs.leads import read_leadscrew
    >>> dial(standards.read("2-4 1/2 UNC-2A"), read_leadscrew("4 tpi"), 16, 8)
    'close the half-nuts at the line you began on or the one opposite: half a turn is 9 threads'
    """
    rule = dial_rule(thread, leadscrew, gear_teeth, lines, lead_error)
    noun, really = "lead" if thread.starts > 1 else "thread", " as really cut" if lead_error else ""
    if not rule.may_open:
        gears, turn, end = (
            ("the gears are not exact, ", decimal(rule.turn), "line brings the tool back into its groove")
            if lead_error
            else ("", mixed(rule.turn), f"line comes round to the same {noun}")
        )
        return (
            f"keep the half-nuts shut and reverse under power: {gears}one turn of the dial is {turn} {noun}s{really}, "
            f"so no {end}. {SCREWED_CHUCK}"
        )
    return f"close the half-nuts {_where(rule, lines, noun)}{really}"


def _where(rule: DialRule, lines: int, noun: str) -> str:
    """Where half-nuts that may be opened are closed again."""
    if rule.anywhere:
        return f"anywhere: each thread of the leadscrew is {counted(rule.thread, noun)}"
    apart, span = rule.apart, counted(times(rule.turn, Ratio(rule.apart, lines)), noun)
    if apart == 1:
        return f"at any line: from line to line is {span}"
    if apart == lines:
        return f"at the line you began on only: one turn of the dial is {span}"
    if 2 * apart == lines:
        return f"at the line you began on or the one opposite: half a turn is {span}"
    return (
        f"at the line you began on or every {ordinal(apart)} from it "
        f"({lines // apart} lines of the {lines}): {apart} lines are {span}"
    )


def counted(quotient: Ratio, noun: str) -> str:
    """So many of them, where it is a whole number or as good as one.

    >>> counted(Ratio(3, 1), "thread"), counted(Ratio(1, 1), "lead"), counted(Ratio(4000001, 1000000), "thread")
    ('3 threads', '1 lead', '4 threads')
    """
    number = round(quotient.value)
    return f"{number} {noun}{'s' * (number != 1)}"


def ordinal(number: int) -> str:
    """2nd, 3rd, 4th.

    >>> [ordinal(number) for number in (2, 3, 4, 11, 12, 21)]
    ['2nd', '3rd', '4th', '11th', '12th', '21st']
    """
    teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


_TOGETHER = "relief and reaction go together, the usable width of the relief and the spread in seconds; or give neither"


@sheet_function(
    category=CATEGORY,
    returns=("rpm_by_speed", "rpm_by_relief", "rpm_lower", "rpm_listed", "governs"),
    table="row",
    sources=("geometry",),
    examples=(
        Example(
            ("5/8-18 UNF-2A", 40, 0.090, 0.25),
            ("244", "389", "244", "", "cutting speed"),
            "arithmetic by hand: 12 x 40 / (pi x .625); .090 x 60 x 18 / .25",
        ),
    ),
)
def rpm(
    thread: Thread,
    surface_speed: float,
    relief: float | None = None,
    reaction: float | None = None,
    speeds: list[float] | None = None,
) -> list[tuple[float, float | None, float, float | None, str]]:
    """Spindle speed: the limit by cutting speed, the limit by relief, the lower, the lathe's next listed speed.

    A bare `surface_speed` is in feet a minute for inch threads, metres a minute for metric ones; as text it carries its
    unit, ft/min or m/min, and is the same for every thread. Relief and reaction are given both or neither: the relief
    limit lets the carriage run no further than the usable relief within the spread of the operator's reaction in
    seconds. A limit is not advice: slower is always open, and the machine's manual comes first.

    >>> from sheetfuncs import standards
    >>> [round(value) for value in rpm(standards.read("5/8-18 UNF-2A"), 40, 0.090, 0.25)[0][:3]]
    [244, 389, 244]
    """
    if surface_speed <= 0:
        raise OutOfRange(f"surface_speed is {plain(surface_speed)}; it must be more than zero")
    if relief is None and reaction is not None:
        raise NotGiven(f"relief is missing: {_TOGETHER}")
    if relief is not None and reaction is None:
        raise NotGiven(f"reaction is missing: {_TOGETHER}")
    if relief is not None and relief <= 0:
        raise OutOfRange(f"relief is {plain(relief)}; it must be more than zero")
    if reaction is not None and reaction <= 0:
        raise OutOfRange(f"reaction is {plain(reaction)}; it must be more than zero seconds")
    slowest = min(speeds or (1.0,))
    if slowest <= 0:
        raise OutOfRange(f"speeds has {plain(slowest)}; each must be more than zero")
    per_unit = 12 if thread.unit == "in" else 1000
    by_speed = surface_speed * per_unit / (pi * thread.diameter)
    by_relief = None
    if relief is not None and reaction is not None:
        by_relief = relief * 60 / (thread.lead * reaction)
    lower = by_speed if by_relief is None else min(by_speed, by_relief)
    governs = "cutting speed" if lower == by_speed else "relief"
    below = [speed for speed in speeds or () if speed <= lower]
    if speeds and not below:
        governs += "; the lathe has no speed that slow"
    return [(by_speed, by_relief, lower, max(below) if below else None, governs)]


@sheet_function(
    category=CATEGORY,
    returns="carriage_speed",
    sources=("geometry",),
    examples=(
        Example(("3/4-16 UNF-2A", 160), "10", "by hand: 160 turns of 1/16 in"),
        Example(("M20xPh5P2.5-6g", 100), "500", "its own designation: Ph 5, 100 turns a minute"),
    ),
)
def carriage_speed(thread: Thread, rpm: float) -> float:
    """How far the carriage runs in a minute while threading: rpm times lead. A sixtieth of it is what a second takes.

    >>> from sheetfuncs import standards
    >>> carriage_speed(standards.read("3/4-16 UNF-2A"), 160)
    10.0
    """
    return rpm * thread.lead


@sheet_function(
    category=CATEGORY,
    returns="feed_left",
    unit_before="method",
    sources=("geometry",),
    examples=(
        Example(
            ("3/4-16 UNF-2A", 0.0361, 0.7721, "max", 0),
            "0.0050",
            "worked by hand: .7721 is .0100 over the reading .7621 at the high limit, half of it on the radius",
        ),
    ),
)
def feed_left(
    thread: Thread,
    wire: float,
    reading: float,
    limit: str,
    angle: float | None = None,
    method: str = "handbook",
    place: float | None = None,
) -> float:
    """Infeed left at the compound, from a reading over wires to a limit; negative when the reading is past it.

    Half of what the reading is over that at the limit, on the radius; the compound travels that over cos(angle). With
    method "exact" the lead angle is in the limit's reading. The reading then falls less than the pitch diameter (0.98
    of it for Tr40x7 with 4 starts), so what is left is more than this: it stops short of the limit, never past it.
    On a taper thread the reading is taken at the gauge plane, or where the single wire stands from the small end.

    >>> from sheetfuncs import standards
    >>> round(feed_left(standards.read("3/4-16 UNF-2A"), 0.0361, 0.7721, "max", 29.5), 4)
    0.0058
    """
    found = wires.pd_from_wires(thread, wire, reading, method)
    left = (found - wires.pitch_diameter_there(thread, limit, place)) / 2
    if method == "exact":
        left = (reading - wires.over_wires(thread, wire, limit, method)) / 2
    return compound(left, compound_angle(thread, angle))
