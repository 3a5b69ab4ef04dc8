"""Setting the lathe: dial lines, change gears, speed, and what is left to feed."""

from __future__ import annotations

from bisect import bisect_left
from math import gcd, pi

from sheetfuncs import limits, wires
from sheetfuncs.cutting import compound, compound_angle
from sheetfuncs.designations import Thread, plain, threads_per_inch
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import MM_PER_INCH, read_number

CATEGORY = "Thread at the lathe"


class Ratio(NamedTuple):
    """An exact quotient of whole numbers in lowest terms; the standard library's Fraction is slow to load."""

    top: int
    bottom: int

    @property
    def value(self) -> float:
        """The quotient as a float."""
        return self.top / self.bottom


def ratio(top: int, bottom: int) -> Ratio:
    """In lowest terms.

    >>> ratio(46, 8)
    Ratio(top=23, bottom=4)
    """
    common = gcd(top, bottom)
    return Ratio(top // common, bottom // common)


def times(*factors: Ratio) -> Ratio:
    """Product of quotients."""
    top = bottom = 1
    for factor in factors:
        top, bottom = top * factor.top, bottom * factor.bottom
    return ratio(top, bottom)


def inverse(quotient: Ratio) -> Ratio:
    """One over a quotient."""
    return Ratio(quotient.bottom, quotient.top)


def exact(value: float) -> Ratio:
    """A decimal as people write it, ten digits at most, as an exact quotient.

    >>> exact(11.5), exact(25.4)
    (Ratio(top=23, bottom=2), Ratio(top=127, bottom=5))
    """
    whole, _, decimals = f"{value:.10f}".partition(".")
    return ratio(int(whole + decimals), 10 ** len(decimals))


def exact_lead(thread: Thread) -> Ratio:
    """Lead in millimetres, exactly: 25.4 is 127/5, and an inch pitch is one over its threads per inch."""
    if thread.unit == "in":
        return times(exact(MM_PER_INCH), inverse(exact(threads_per_inch(thread.pitch))), Ratio(thread.starts, 1))
    return times(exact(thread.pitch), Ratio(thread.starts, 1))


def mixed(quotient: Ratio) -> str:
    """A quotient as a shop writes it where it is short, a decimal where it is not.

    >>> mixed(ratio(69, 2)), mixed(ratio(46, 1)), mixed(ratio(1016, 25))
    ('34 1/2', '46', '40.64')
    """
    whole, rest = divmod(quotient.top, quotient.bottom)
    if not rest:
        return str(whole)
    if quotient.bottom <= 16:
        return f"{whole or ''} {rest}/{quotient.bottom}".strip()
    return f"{quotient.value:.4f}".rstrip("0")


def read_leadscrew(text: str) -> Ratio:
    """Lead of the lathe's screw in millimetres from `8 tpi`, `3 mm`, `0.25 in`; a bare number is threads per inch.

    >>> read_leadscrew("8 tpi").value, read_leadscrew("6").value, read_leadscrew("3 mm").value
    (3.175, 4.233333333333333, 3.0)
    """
    number, _, unit = text.strip().lower().replace("tpi", " tpi").replace("mm", " mm").partition(" ")
    value, unit = read_number(number), unit.strip() or "tpi"
    if value is None or unit not in ("tpi", "mm", "in", "inch"):
        raise NotUnderstood(f"leadscrew is '{text}'; write it as in 8 tpi or 3 mm")
    if value <= 0:
        raise OutOfRange(f"leadscrew is '{text}'; it must be more than zero")
    if unit == "mm":
        return exact(value)
    inches = inverse(exact(value)) if unit == "tpi" else exact(value)
    return times(exact(MM_PER_INCH), inches)


@sheet_function(
    category=CATEGORY,
    returns="dial_rule",
    sources=("geometry",),
    examples=(
        Example(
            ("1-11 1/2 UNS-2A", "6 tpi", 18, 9),
            "keep the half-nuts shut and reverse under power: one turn of the dial is 34 1/2 threads, "
            "so no line comes round to the same thread",
            "arithmetic by hand: 18 / 6 x 11 1/2",
        ),
    ),
)
def dial(thread: Thread, leadscrew: Ratio, gear_teeth: int, lines: int) -> str:
    """Which lines of the thread dial are legal on this lathe, in words, or that the half-nuts must stay shut.

    The dial's gear moves one tooth for each thread of the leadscrew that passes, so one turn of the dial is
    gear_teeth x leadscrew lead of carriage travel. Since nobody counts turns of the dial, a turn must be a whole number
    of the work's leads, or no line means anything. A line is legal when the travel from the line that was used first is
    a whole number of leads (of the same start) and of leadscrew threads.

    >>> from sheetfuncs import standards
    >>> dial(standards.read("1-11 1/2 UNS-2A"), read_leadscrew("4 tpi"), 16, 8)
    'close the half-nuts at the line you began on or the one opposite: half a turn is 23 threads'
    """
    if gear_teeth < 1 or lines < 1:
        raise OutOfRange("gear_teeth and lines are counted on the dial; both must be at least 1")
    lead = exact_lead(thread)
    a_tooth = times(leadscrew, inverse(lead))
    teeth = Ratio(gear_teeth, 1)
    turn = times(a_tooth, teeth)
    if turn.bottom != 1:
        return (
            f"keep the half-nuts shut and reverse under power: one turn of the dial is {mixed(turn)} threads, "
            "so no line comes round to the same thread"
        )
    apart = next(n for n in range(1, lines + 1) if _is_whole(turn, n, lines) and _is_whole(teeth, n, lines))
    span = mixed(times(turn, Ratio(apart, lines)))
    if a_tooth.bottom == 1:
        return f"close the half-nuts anywhere: each thread of the leadscrew is {span_of(a_tooth)}"
    if apart == 1:
        return f"close the half-nuts at any line: from line to line is {span} threads"
    if apart == lines:
        return f"close the half-nuts at the line you began on only: one turn of the dial is {span} threads"
    if 2 * apart == lines:
        return f"close the half-nuts at the line you began on or the one opposite: half a turn is {span} threads"
    legal = lines // gcd(apart, lines)
    return (
        (
            f"close the half-nuts at the line you began on or every {apart}th from it ({legal} lines of the {lines}): "
            f"{apart} lines are {span} threads"
        )
        .replace("2th", "2nd")
        .replace("3th", "3rd")
    )


def _is_whole(turn: Ratio, part: int, lines: int) -> bool:
    """Whether that many lines of the dial are a whole number of what a turn has."""
    return times(turn, Ratio(part, lines)).bottom == 1


def span_of(quotient: Ratio) -> str:
    """`3 threads`, `1 thread`."""
    return f"{mixed(quotient)} thread{'s' * (quotient.top != quotient.bottom)}"


class Train(NamedTuple):
    """Change gears: drivers and driven in turn from the spindle side, two or four."""

    gears: tuple[int, ...]
    error: float

    @property
    def text(self) -> str:
        """As a shop writes it, driver over driven.

        >>> Train((40, 60, 30, 50), 0.0).text
        '40/60 x 30/50'
        """
        pairs = [f"{driver}/{driven}" for driver, driven in zip(self.gears[::2], self.gears[1::2])]
        return " x ".join(pairs)


@sheet_function(
    category=CATEGORY,
    returns=("train", "gear_ratio", "cut_lead", "lead_error_ppm", "error_over_engagement", "gear_remark"),
    table="rows",
    sources=("geometry", "practice"),
    examples=(
        Example(
            ("M20x2.5-6g", "8 tpi", "20 25 30 40 50 60 127"),
            ("50/20 x 40/127", "0.787402", "2.5", "0", "0", "exact"),
            "textbook rule for metric threads on an inch screw: 127 among the driven gears; 2.5 / 3.175 = 100/127",
        ),
    ),
)
def gears(
    thread: Thread, leadscrew: Ratio, gears: list[float], results: int = 10, fixed_ratio: float = 1.0
) -> list[tuple[str, float, float, float, float, str]]:
    """Simple and compound change gear trains from the gears on the shelf, exact ones first, then by lead error.

    The train must turn the leadscrew lead / leadscrew lead times for each turn of the spindle; what is fixed between
    them (gearbox, reversing gears) counts as `fixed_ratio`, leadscrew turns for one of the train. The search is
    complete. The error over the length of engagement is taken over one diameter.

    >>> from sheetfuncs import standards
    >>> gears(standards.read("3/4-16 UNF-2A"), read_leadscrew("8 tpi"), [20, 40, 60, 80], 2)[0][0]
    '20/40'
    """
    shelf = sorted(int(tooth) for tooth in gears)
    if any(tooth != int(tooth) or tooth < 8 for tooth in gears) or len(shelf) < 2:
        raise OutOfRange("gears must be whole numbers of teeth, two gears or more, as in 20 30 40 50 127")
    wanted = exact_lead(thread).value / leadscrew.value / fixed_ratio
    rows = []
    for train in search_trains(shelf, wanted, results):
        turned = 1.0
        for driver, driven in zip(train.gears[::2], train.gears[1::2]):
            turned *= driver / driven
        cut = thread.lead * (1 + train.error)
        ppm = 0.0 if abs(train.error) < 1e-12 else train.error * 1e6
        over = thread.diameter * ppm / 1e6
        rows.append((train.text, turned, cut, ppm, over, gear_remark(train)))
    return rows


def gear_remark(train: Train) -> str:
    """Whether the train is exact and can be mounted.

    The second driver of a compound train must clear the shaft of the first: the first pair's teeth together must be
    more than the second driver's, and the second pair's more than the first driven gear's (common practice: by 10).
    """
    words = ["exact"] if abs(train.error) < 1e-12 else []
    if len(train.gears) == 4:
        first, second, third, fourth = train.gears
        if first + second < third + 10 or third + fourth < second + 10:
            words.append("check that the gears clear the shafts")
    return ", ".join(words)


def search_trains(shelf: list[int], wanted: float, results: int) -> list[Train]:
    """The `results` nearest trains of two or four gears of the shelf, each gear used once; exact ones first.

    Products of two drivers are sorted once; for each pair of driven gears the wanted product is looked up and the
    search goes outward from it until it can't better the worst train kept. Nothing is left out.

    >>> search_trains([20, 30, 40, 50, 60], 0.4, 1)[0].gears
    (20, 50)
    """
    indices = range(len(shelf))
    singles = [((i,), (j,), shelf[i], shelf[j]) for i in indices for j in indices if i != j]
    pairs = [(i, j) for i in indices for j in indices if i < j]
    drivers = sorted((shelf[i] * shelf[j], i, j) for i, j in pairs)
    products = [product for product, _, _ in drivers]
    found: dict[tuple[int, ...], Train] = {}
    worst = float("inf")

    def keep(gear_set: tuple[int, ...], train: Train) -> None:
        nonlocal worst
        found.setdefault(gear_set, train)
        if len(found) > 4 * results + 40:
            _trim(found, results)
            worst = max(abs(kept.error) for kept in found.values())

    for (i,), (j,), driver, driven in singles:
        error = driver / driven / wanted - 1
        if abs(error) <= worst:
            keep((driver, driven), Train((shelf[i], shelf[j]), error))
    for k, m in pairs:
        driven = shelf[k] * shelf[m]
        middle = bisect_left(products, wanted * driven)
        for steps in (range(middle, len(products)), range(middle - 1, -1, -1)):
            for place in steps:
                product, i, j = drivers[place]
                error = product / driven / wanted - 1
                if abs(error) > worst:
                    break
                if len({i, j, k, m}) == 4:
                    gear_set = (shelf[i], shelf[j], 0, shelf[k], shelf[m])
                    keep(gear_set, Train(_order(shelf[i], shelf[j], shelf[k], shelf[m]), error))
    _trim(found, results)
    return sorted(found.values(), key=_rank)


def _order(a: int, b: int, c: int, d: int) -> tuple[int, ...]:
    """Drivers a, b and driven c, d mounted so that the gears clear the shafts best."""
    choices = ((p, q, r, s) for p, r in ((a, b), (b, a)) for q, s in ((c, d), (d, c)))
    return max(choices, key=lambda g: min(g[0] + g[1] - g[2], g[2] + g[3] - g[1]))


def _trim(found: dict[tuple[int, ...], Train], results: int) -> None:
    kept = sorted(found.items(), key=lambda item: _rank(item[1]))[:results]
    found.clear()
    found.update(kept)


def _rank(train: Train) -> tuple[float, int, tuple[int, ...]]:
    """Least error first (float noise counts as exact), then fewest gears."""
    return (0.0 if abs(train.error) < 1e-12 else abs(train.error), len(train.gears), train.gears)


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

    `surface_speed` is in feet a minute for inch threads, metres a minute for metric ones. The relief limit lets the
    carriage run no further than the usable relief within the spread of the operator's reaction in seconds. A limit is
    not advice: slower is always open, and the machine's manual comes first.

    >>> from sheetfuncs import standards
    >>> [round(value) for value in rpm(standards.read("5/8-18 UNF-2A"), 40, 0.090, 0.25)[0][:3]]
    [244, 389, 244]
    """
    if surface_speed <= 0:
        raise OutOfRange(f"surface_speed is {plain(surface_speed)}; it must be more than zero")
    if (relief is None) != (reaction is None):
        raise NotUnderstood(
            "relief and reaction go together: the usable relief width, and a reaction spread in seconds"
        )
    per_unit = 12 if thread.unit == "in" else 1000
    by_speed = surface_speed * per_unit / (pi * thread.diameter)
    by_relief = None
    if relief is not None:
        if reaction <= 0:
            raise OutOfRange(f"reaction is {plain(reaction)}; it must be more than zero seconds")
        by_relief = relief * 60 / (thread.lead * reaction)
    lower = by_speed if by_relief is None else min(by_speed, by_relief)
    governs = "cutting speed" if lower == by_speed else "relief"
    below = [speed for speed in speeds or () if speed <= lower]
    if speeds and not below:
        governs += "; the lathe has no speed that slow"
    return [(by_speed, by_relief, lower, max(below) if below else None, governs)]


@sheet_function(
    category=CATEGORY,
    returns="feed_left",
    sources=("geometry",),
    examples=(
        Example(
            ("3/4-16 UNF-2A", 0.0361, 0.7721, "max", 0),
            "0.0050",
            "worked by hand: .7721 is .0100 over the reading .7621 at the high limit, half of it on the radius",
        ),
    ),
)
def feed_left(thread: Thread, wire: float, reading: float, limit: str, angle: float | None = None) -> float:
    """Infeed left at the compound, from a reading over wires to a limit; negative when the reading is past it.

    Half of what the pitch diameter is over the limit, on the radius; the compound travels that over cos(angle).

    >>> from sheetfuncs import standards
    >>> round(feed_left(standards.read("3/4-16 UNF-2A"), 0.0361, 0.7721, "max", 29.5), 4)
    0.0058
    """
    left = (wires.pd_from_wires(thread, wire, reading) - limits.pitch_diameter(thread, limit)) / 2
    return compound(left, compound_angle(thread, angle))
