"""Change gears: the complete search over the gears on the shelf, and whether a train can be mounted."""

from __future__ import annotations

from bisect import bisect_left
from itertools import combinations, permutations

from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import OutOfRange
from sheetfuncs.lathe import ANOTHER_LEAD, CATEGORY
from sheetfuncs.leads import Ratio, exact, exact_lead, inverse, mixed, times
from sheetfuncs.records import TYPE_CHECKING, NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import MM_PER_INCH

EXACT = 1e-12
"""A lead nearer than this is exact: what is left is the noise of the arithmetic."""
FEWEST_TEETH = 8
"""Fewest teeth of a change gear that is believed (this project's choice)."""
SMALLEST_IDLER = 12
"""Teeth of the smallest gear that is looked for between the others (common practice)."""
SHAFT_TEETH = 10
"""How many teeth the sum of a pair must have over the gear beside it, which has to clear a shaft (common practice)."""


if TYPE_CHECKING:
    from collections.abc import Callable

    Rank = tuple[float, bool, int, tuple[int, ...]]


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

    @property
    def ratio(self) -> float:
        """Turns of the last driven gear for one of the first driver.

        >>> Train((40, 60, 30, 50), 0.0).ratio
        0.4
        """
        top = bottom = 1
        for driver, driven in zip(self.gears[::2], self.gears[1::2]):
            top, bottom = top * driver, bottom * driven
        return top / bottom


class Quadrant(NamedTuple):
    """What the quadrant takes: least and greatest sum of teeth, idlers counted twice."""

    least: float
    greatest: float


@sheet_function(
    category=CATEGORY,
    returns=("gear_tpi", "gear_lead_mm", "start_angle", "gear_words"),
    table="row",
    sources=("geometry",),
    examples=(
        Example(
            ("1.0-0.1P-0.2L UNS-2A",),
            (
                "5",
                "5.08",
                "180",
                "gear for 5 threads per inch, not 10; 2 starts, each 1/2 turn of the spindle on, or 0.1 in along",
            ),
            "its own designation: lead .2 in, one fifth; by hand .2 x 25.4, 360 / 2",
        ),
        Example(("M20-6g",), ("10.16", "2.5", "360", "gear for a lead of 2.5 mm"), "by hand: 25.4 / 2.5"),
    ),
)
def gear_for(thread: Thread) -> list[tuple[float, float, float, str]]:
    """What to gear the lathe for: the lead, as threads per inch and in mm, and the angle from start to start.

    A gearbox knows threads of one start. With several it is set for the lead: a thread of 2 starts and 10 threads per
    inch is cut with the lathe geared for 5. The next start is that part of a turn of the spindle on, or a pitch along.

    >>> from sheetfuncs import standards
    >>> gear_for(standards.read("Tr40x14(P7)-7e"))[0][1:]
    (14.0, 180.0, 'gear for a lead of 14 mm, not 7; 2 starts, each 1/2 turn of the spindle on, or 7 mm along')
    """
    lead = exact_lead(thread)
    per_inch = times(exact(MM_PER_INCH), inverse(lead))
    several = thread.starts > 1
    if per_inch.is_plainer(lead):  # an inch thread, whatever its standard's unit is
        of_one = mixed(times(per_inch, Ratio(thread.starts, 1)))
        words = f"gear for {mixed(per_inch)} threads per inch" + f", not {of_one}" * several
    else:
        words = f"gear for a lead of {plain(thread.lead)} mm" + f", not {plain(thread.pitch)}" * several
    if several:
        part, along = f"1/{thread.starts} turn of the spindle", f"{plain(thread.pitch)} {thread.unit}"
        words += f"; {thread.starts} starts, each {part} on, or {along} along"
    return [(per_inch.value, lead.value, 360 / thread.starts, words)]


@sheet_function(
    category=CATEGORY,
    returns=("train", "gear_ratio", "cut_lead", "lead_error_ppm", "error_over_engagement", "gear_remark"),
    table="rows",
    sources=("geometry", "practice"),
    examples=(
        Example(
            ("M20x2.5-6g", "8 tpi", "20 25 30 40 50 60 127"),
            ("50/20 x 40/127", "0.787402", "2.5", "0", "0", "exact, no idler"),
            "by hand: 2.5 / 3.175 = 100/127 = 50/20 x 40/127, since 5 in are 127 mm",
        ),
    ),
)
def gears(
    thread: Thread,
    leadscrew: Ratio,
    gears: list[float],
    results: int = 10,
    fixed_ratio: float = 1.0,
    spacing: list[float] | None = None,
) -> list[tuple[str, float | None, float | None, float | None, float | None, str]]:
    """Simple and compound change gear trains from the gears on the shelf, exact ones first, then by lead error.

    The train must turn the leadscrew lead / leadscrew lead times for each turn of the spindle; what is fixed between
    them (gearbox, reversing gears) counts as `fixed_ratio`, leadscrew turns for one of the train. The search is
    complete; the last row says how many trains there were. The error over the length of engagement is taken over one
    diameter. The remark says whether an idler is needed for the hand of the thread: two meshes in all, or four, turn
    the screw the way of the spindle, which cuts the hand of the leadscrew, taken as right hand. Where a tumbler or a
    lever reverses the feed, that sets the hand. With `spacing` it says whether the train fits the quadrant.

    >>> from sheetfuncs import standards
    >>> from sheetfuncs.leads import read_leadscrew
    >>> gears(standards.read("3/4-16 UNF-2A"), read_leadscrew("8 tpi"), [20, 40, 60, 80], 2)[0][0]
    '20/40'
    """
    if any(tooth != int(tooth) or tooth < FEWEST_TEETH for tooth in gears) or len(gears) < 2:
        raise OutOfRange("gears must be whole numbers of teeth, two gears or more, as in 20 30 40 50 127")
    if fixed_ratio <= 0:
        raise OutOfRange(f"fixed_ratio is {plain(fixed_ratio)}; it must be more than zero")
    if results < 1:
        raise OutOfRange("results is 0; ask for one train or more")
    quadrant = read_quadrant(spacing) if spacing else None
    shelf = sorted(int(tooth) for tooth in gears)
    wanted = exact_lead(thread).value / leadscrew.value / fixed_ratio
    rows = []
    for train in search_trains(shelf, wanted, results, quadrant, thread.left_hand):
        ppm = 0.0 if abs(train.error) < EXACT else train.error * 1e6
        cut, over = thread.lead * (1 + ppm / 1e6), thread.diameter * ppm / 1e6
        rows.append((train.text, train.ratio, cut, ppm, over, gear_remark(train, thread.left_hand, quadrant)))
    return [*rows, (f"best of {trains_of(len(shelf))} trains", None, None, None, None, "")]


def read_quadrant(spacing: list[float]) -> Quadrant:
    """The two sums that the quadrant takes."""
    if len(spacing) != 2 or not 0 < spacing[0] <= spacing[1]:
        raise OutOfRange("spacing is the least and the greatest sum of teeth that the quadrant takes, as in 130 260")
    return Quadrant(*spacing)


def trains_of(count: int) -> int:
    """How many trains that many gears make: driver and driven, or two drivers and two driven.

    >>> trains_of(4), trains_of(30)
    (18, 165300)
    """
    pairs, rest = count * (count - 1) // 2, (count - 2) * (count - 3) // 2
    return count * (count - 1) + pairs * rest


def gear_remark(train: Train, left_hand: bool = False, quadrant: Quadrant | None = None) -> str:
    """Whether the train is exact or cuts another lead, the idlers for the hand, and whether it can be mounted.

    >>> gear_remark(Train((20, 40), 0.0), False, Quadrant(130, 200))
    'exact, an idler of 35 to 70 teeth'
    >>> gear_remark(Train((50, 20, 100, 40), 0.001), True)
    'an idler, 100 is too large to clear the shaft of 50'
    >>> gear_remark(Train((20, 20), 0.27), True)
    'another lead, two idlers, or none'
    """
    of_lead = "exact" if abs(train.error) < EXACT else ""
    words = ["another lead" if abs(train.error) > ANOTHER_LEAD / 1e6 else of_lead]
    words += [idler_words(train, left_hand, quadrant), shaft_words(train)]
    return ", ".join(word for word in words if word)


IDLERS = {(0,): "no idler", (1,): "an idler", (0, 2): "two idlers, or none"}


def idlers(train: Train, left_hand: bool) -> tuple[int, ...]:
    """How many idlers turn the screw the right way.

    Each mesh turns the direction round. A compound train has two, a simple one without idler has one.
    """
    if len(train.gears) == 4:
        return (1,) if left_hand else (0,)
    return (0, 2) if left_hand else (1,)


def idler_teeth(train: Train, count: int, quadrant: Quadrant) -> tuple[int, int] | None:
    """Least and most teeth of so many idlers together; None where the quadrant does not take the train with them.

    >>> idler_teeth(Train((20, 40), 0.0), 1, Quadrant(130, 200))
    (35, 70)
    """
    teeth = sum(train.gears)
    if not count:
        return (0, 0) if quadrant.least <= teeth <= quadrant.greatest else None
    least = max(SMALLEST_IDLER * count, -int((teeth - quadrant.least) // 2))
    most = int((quadrant.greatest - teeth) // 2)
    return (least, most) if least <= most else None


def idler_words(train: Train, left_hand: bool, quadrant: Quadrant | None) -> str:
    """The idlers that turn the screw the right way, and their teeth where the quadrant is known."""
    counts = idlers(train, left_hand)
    if quadrant is None:
        return IDLERS[counts]
    room = {count: found for count in counts if (found := idler_teeth(train, count, quadrant))}
    if not room:
        return f"{IDLERS[counts]}, does not fit: {_off(sum(train.gears), quadrant)}"
    most = max(room)
    if most == 0:
        return "no idler"
    words = ("an idler of {} to {} teeth", "two idlers of {} to {} teeth together")[most - 1].format(*room[most])
    return f"{words}, or none" if 0 in room else words


def _off(teeth: int, quadrant: Quadrant) -> str:
    return f"{teeth} teeth where the quadrant takes {plain(quadrant.least)} to {plain(quadrant.greatest)}"


def shaft_words(train: Train) -> str:
    """Which gear of a compound train would run into a shaft, if any.

    The second driver must clear the shaft of the first: the first pair's teeth together must be more than its own;
    so must the second pair's be more than those of the first driven gear.
    """
    if len(train.gears) == 4:
        first, second, third, fourth = train.gears
        if first + second < third + SHAFT_TEETH:
            return f"{third} is too large to clear the shaft of {first}"
        if third + fourth < second + SHAFT_TEETH:
            return f"{second} is too large to clear the shaft of {fourth}"
    return ""


def can_mount(train: Train, quadrant: Quadrant | None = None, left_hand: bool = False) -> bool:
    """Whether the gears clear the shafts and, where the quadrant is known, fit it."""
    if shaft_words(train):
        return False
    return quadrant is None or any(idler_teeth(train, count, quadrant) for count in idlers(train, left_hand))


def search_trains(
    shelf: list[int], wanted: float, results: int, quadrant: Quadrant | None = None, left_hand: bool = False
) -> list[Train]:
    """The `results` nearest trains of two or four gears of the shelf, each gear used once; exact ones first.

    Products of two drivers are sorted once; for each pair of driven gears the wanted product is looked up and the
    search goes outward from it until it can't better the worst train kept. Nothing is left out.

    >>> search_trains([20, 30, 40, 50, 60], 0.4, 1)[0].gears
    (20, 50)
    """
    pairs = list(combinations(range(len(shelf)), 2))
    drivers = sorted((shelf[i] * shelf[j], i, j) for i, j in pairs)
    products = [product for product, _, _ in drivers]
    found: dict[tuple[int, ...], Train] = {}

    def rank(train: Train) -> Rank:
        return _rank(train, quadrant, left_hand)

    worst = float("inf")

    def keep(gear_set: tuple[int, ...], train: Train) -> None:
        nonlocal worst
        found.setdefault(gear_set, train)
        if len(found) > 4 * results + 40:
            _trim(found, results, rank)
            worst = max(abs(kept.error) for kept in found.values())

    for driver, driven in permutations(shelf, 2):
        error = driver / driven / wanted - 1
        if abs(error) <= worst:
            keep((driver, driven), Train((driver, driven), error))
    for k, m in pairs:
        driven = shelf[k] * shelf[m]
        middle = bisect_left(products, wanted * driven)
        for steps in (range(middle, len(products)), range(middle - 1, -1, -1)):
            for place in steps:
                product, i, j = drivers[place]
                error = product / driven / wanted - 1
                if abs(error) > worst + EXACT:
                    break
                if i not in (k, m) and j not in (k, m):
                    gear_set = (shelf[i], shelf[j], 0, shelf[k], shelf[m])
                    if gear_set not in found:
                        keep(gear_set, Train(_order(shelf[i], shelf[j], shelf[k], shelf[m]), error))
    _trim(found, results, rank)
    return sorted(found.values(), key=rank)


def _order(a: int, b: int, c: int, d: int) -> tuple[int, ...]:
    """Drivers a, b and driven c, d mounted so that the gears clear the shafts best."""
    choices = ((p, q, r, s) for p, r in ((a, b), (b, a)) for q, s in ((c, d), (d, c)))
    return max(choices, key=lambda g: min(g[0] + g[1] - g[2], g[2] + g[3] - g[1]))


def _trim(found: dict[tuple[int, ...], Train], results: int, rank: Callable[[Train], Rank]) -> None:
    kept = sorted(found.items(), key=lambda item: rank(item[1]))[:results]
    found.clear()
    found.update(kept)


def _rank(train: Train, quadrant: Quadrant | None, left_hand: bool) -> Rank:
    """Least error first (float noise counts as exact), then what can be mounted, then fewest gears."""
    error = 0.0 if abs(train.error) < EXACT else abs(train.error)
    return (round(error, 15), not can_mount(train, quadrant, left_hand), len(train.gears), train.gears)
