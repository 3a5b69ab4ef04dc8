"""The price: minutes of threading, bars, and quantity breaks with every line to be seen."""

from __future__ import annotations

from math import ceil, cos, floor, log, pi, radians, tan

from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import at_least

CATEGORY = "Thread price"

NOISE = 1e-9
"""What counts as rounding of binary numbers: of pieces that are counted, and as a share of a bar's size or length."""

CORNERS = 1 / cos(radians(30))
"""Across the corners of a hexagon over across its flats."""


@sheet_function(
    category=CATEGORY,
    returns="thread_minutes",
    sources=("geometry",),
    examples=(
        Example(
            ("M20x2.5-6g", 45, 160, 16, 5, 3, 5, "yes"),
            "5.57",
            "by hand: 53 / (2.5 x 160) min is 7.95 s each way; 16 x (2 x 7.95 + 5) s",
        ),
        Example(("M20x2.5-6g", 45, 160, 16, 5, 3, 6), "3.72", "by hand: 16 x (7.95 + 4 back by hand + 2 to dial in) s"),
    ),
)
def time(
    thread: Thread,
    length: float,
    rpm: float,
    passes: int,
    approach: float = 0.0,
    overrun: float = 0.0,
    return_seconds: float = 0.0,
    power_return: str = "no",
) -> float:
    """Minutes of threading for one piece: passes x (travel / (lead x rpm) + return).

    `passes` are all passes at the dials, spring passes among them, for one start; each start needs them all.
    Travel is length + approach + overrun. Where the half-nuts stay shut the carriage comes back under power at the same
    lead: travel counts twice. `return_seconds` is what else each pass takes by hand: winding back, setting the dial.
    What is left out is nothing, not a custom of the trade.

    >>> from sheetfuncs import standards
    >>> round(time(standards.read("M20x2.5-6g"), 45, 160, 16, 5, 3, 5, "yes"), 2)
    5.57
    """
    if approach < 0 or overrun < 0:
        raise OutOfRange("approach and overrun must be 0 or more")
    if passes < 1:
        raise OutOfRange("passes must be at least 1")
    one_way = (length + approach + overrun) / (thread.lead * rpm)
    ways = 2 if power_return == "yes" else 1
    return thread.starts * passes * (ways * one_way + return_seconds / 60)


def pieces_to_make(quantity: int, scrap: float) -> int:
    """So many that the good ones reach the quantity when that share is scrap.

    >>> pieces_to_make(60, 0.05), pieces_to_make(60, 0.0)
    (64, 60)
    """
    return ceil(quantity / (1 - scrap) - NOISE)


@sheet_function(
    category=CATEGORY,
    returns=("make", "per_bar", "bars", "on_last_bar", "length_used", "length_left", "stock_remark"),
    table="row",
    sources=("geometry",),
    examples=(
        Example(
            (60, 2.125, 0.030, 0.125, 144, 3.5, 0.05),
            (
                *("64", "61", "2", "3", "145.92", "133.66"),
                "the last bar makes 3 of its 61; 3 fewer to make would save it",
            ),
            "by hand: 60 / 0.95 is 63.2; (144 - 3.5) / 2.28 is 61.6; 64 x 2.28; 140.5 - 3 x 2.28",
        ),
    ),
)
def stock(
    quantity: float,
    part_length: float,
    facing: float,
    part_off: float,
    bar_length: float,
    stub: float,
    scrap: float,
) -> list[tuple[int | float | str, ...]]:
    """Bars for a job: pieces to make, pieces a bar, bars, pieces on the last bar, length used, length left, a remark.

    A piece takes its length, what is faced off, and the width of the part-off tool; the stub is what the chuck holds
    at the end of each bar. All lengths are in one unit, any. Scrap is the share of the pieces made: 60 good ones at 5 %
    take 64, not 63. The remark shows the step at the last bar: how many fewer would save it.

    >>> stock(60, 2.125, 0.030, 0.125, 144, 3.5, 0.05)[0][:3]
    (64, 61, 2)
    """
    if quantity < 1 or quantity != int(quantity):
        raise OutOfRange(f"quantity is {plain(quantity)}; it must be a whole number, 1 or more")
    each = part_length + facing + part_off
    usable = bar_length - stub
    per_bar = floor(usable / each + NOISE)
    if per_bar < 1:
        raise OutOfRange(
            f"bar_length {plain(bar_length)} less a stub of {plain(stub)} is shorter than one piece with facing and "
            f"part-off, {plain(each)}"
        )
    make = pieces_to_make(int(quantity), scrap)
    bars = -(-make // per_bar)
    on_last = make - (bars - 1) * per_bar
    left = usable - on_last * each
    if abs(left) <= NOISE * bar_length:  # the piece that was counted as whole took all
        left = 0.0
    remark = f"the last bar makes {on_last} of its {per_bar}"
    if on_last < per_bar and bars > 1:
        remark += f"; {on_last} fewer to make would save it"
    return [(make, per_bar, bars, on_last, make * each, left, remark)]


class Bar(NamedTuple):
    """A bar of the shop's list: its shape, and its diameter or size across flats."""

    shape: str
    size: float

    @property
    def area(self) -> float:
        """Area of its section: pi/4 d^2, or 3 across flats^2 / (2 root 3) for a hexagon.

        >>> round(Bar("hexagon", 1.0).area, 4)
        0.866
        """
        return pi / 4 * self.size**2 if self.shape == "round" else 1.5 * tan(radians(30)) * self.size**2


@sheet_function(
    category=CATEGORY,
    returns=("bar_shape", "bar_size", "across_corners", "bar_area", "bar_cut_away"),
    table="rows",
    sources=("geometry",),
    examples=(
        Example(
            (1.125, "hexagon", "1.125 1.25 1.375", "1 1.1875"),
            ("hexagon", "1.1875", "1.3712", "1.2212", "0.1025"),
            "by hand: 1.1875 / cos 30; 0.866025 x 1.1875^2; 1 - (18 / 19)^2; 1.125 / cos 30 is 1.2990, "
            "so a round of 1.375 would do as well",
        ),
    ),
)
def bar(
    part_size: float, part_shape: str, rounds: list[float] | None = None, hexagons: list[float] | None = None
) -> list[tuple[str, float, float | None, float, float]]:
    """Which bars of the shop's list make the part: those with the least cut away first.

    `part_size` is the largest diameter, or the size across flats of a hexagon. The largest round from a hexagon is its
    size across flats; the smallest round for a hexagon is that over cos 30. The area of the section times length and
    density is the weight. No allowance for cleaning up the skin is added: give it with the size.

    >>> bar(1.125, "hexagon", [1.125, 1.25, 1.375])[0][:2]
    ('round', 1.375)
    """
    listed = [Bar("round", size) for size in rounds or ()] + [Bar("hexagon", size) for size in hexagons or ()]
    if not listed:
        raise NotGiven("rounds and hexagons are both empty; give the sizes of bar that the shop can have")
    part = Bar(part_shape, part_size)
    needed = {
        "round": part_size * (CORNERS if part_shape == "hexagon" else 1.0),
        "hexagon": part_size,
    }
    fit = [one for one in listed if one.size >= needed[one.shape] * (1 - NOISE)]
    if not fit:
        raise OutOfRange(
            f"no bar of the list makes a {part_shape} of {plain(part_size)}: a round takes "
            f"{at_least(needed['round'])}, a hexagon {plain(needed['hexagon'])} across flats"
        )
    return [
        (
            one.shape,
            one.size,
            one.size * CORNERS if one.shape == "hexagon" else None,
            one.area,
            1 - part.area / one.area,
        )
        for one in sorted(fit, key=lambda one: (one.area, one.shape))
    ]


def pieces_checked(make: int, every: int) -> int:
    """Pieces that are checked when the first and every nth one is: 1, n, 2n ...

    >>> pieces_checked(64, 10), pieces_checked(64, 1), pieces_checked(9, 10)
    (7, 64, 1)
    """
    return min(make, 1 + make // every)


def share_checked(make: int, share: float) -> int:
    """Pieces that are checked when a share of them is: the next whole number, as no piece is checked by a tenth.

    >>> share_checked(27, 0.2), share_checked(2, 0.2), share_checked(100, 0.29), share_checked(64, 0)
    (6, 1, 29, 0)
    """
    return ceil(make * share - NOISE)


def hand_share(pieces: int, learning: float | None) -> float:
    """Average hand time of so many pieces over that of the first, by Wright's rule: pieces ** log2(learning).

    Each time the quantity doubles, the average falls to that share (T. P. Wright, Factors Affecting the Cost of
    Airplanes, Journal of the Aeronautical Sciences 3, 1936).

    >>> hand_share(1, 0.8), round(hand_share(8, 0.8), 4), hand_share(8, None)
    (1.0, 0.512, 1.0)
    """
    return 1.0 if learning is None else pieces ** (log(learning) / log(2))


@sheet_function(
    category=CATEGORY,
    returns=(
        *("quantity", "make", "job_minutes", "labour", "bars", "material_cost", "material_by_length"),
        *("tooling", "gauges", "outside", "overhead_cost", "cost", "price", "unit_price"),
    ),
    table="rows",
    sources=("practice", "ILO", "Wright"),
    examples=(
        Example(
            ("60", 90, 6, 4, 60, 50, 61, 0.05, 0.5, 0.2),
            ("60", "64", "730", "730", "2", "100", "52.46", "0", "0", "0", "365", "1195", "1493.75", "24.90"),
            "by hand: 90 + 64 x 10 minutes at 60 an hour; 2 bars of 50; half of labour; 1195 / 0.8",
        ),
        Example(
            ("60", 90, 6, 4, 60, 50, 61, 0.05, 0.5, 0.2, None, 0, 0, 0, None, 0.15, 5, 10),
            (
                "60",
                "64",
                "866.25",
                "866.25",
                "2",
                "100",
                "52.46",
                "0",
                "0",
                "0",
                "433.13",
                "1399.38",
                "1749.22",
                "29.15",
            ),
            "by hand: pieces 1, 10, 20 ... 60 are 7 checks of 5 minutes; 90 + 1.15 x (640 + 35); the rest as above",
        ),
        Example(
            ("2", 30, 6, 4, 60, 50, 61, 0, 0.5, 0.2, None, 0, 0, 0, None, 0, 5, None, "20 %", 200),
            ("2", "2", "55", "55", "1", "50", "1.64", "0", "0", "0", "27.5", "132.5", "200", "100"),
            "by hand: a fifth of 2 is one check of 5 minutes; 30 + 20 + 5; 132.5 / 0.8 is 165.63, less than 200",
        ),
    ),
)
def price(
    quantities: list[float],
    setup_minutes: float,
    machine_minutes: float,
    hand_minutes: float,
    rate: float,
    bar_price: float,
    per_bar: float,
    scrap: float,
    overhead: float,
    margin: float | None = None,
    markup: float | None = None,
    tooling: float = 0.0,
    gauges: float = 0.0,
    outside: float = 0.0,
    learning: float | None = None,
    rest: float = 0.0,
    check: float = 0.0,
    every: int | None = None,
    gauged: float | None = None,
    minimum: float = 0.0,
) -> list[tuple[float, ...]]:
    """Price at each quantity, every line of the cost beside it. Rates, minutes and scrap are the shop's own.

    Minutes are setup + run x (1 + time allowance), run is pieces made x (machine + hand) + pieces checked x check
    minutes; labour is minutes x rate / 60, material is whole bars (by length used is shown beside it), tooling and
    gauges are for the job, outside work for each piece made, overhead is a share of labour. A margin is a share of the
    price: cost / (1 - margin). A markup is a share of the cost: cost x (1 + markup). Just one of them is given.
    Learning by Wright's rule touches minutes by hand alone, checks among them; left out: none.

    The time allowance is what work measurement adds to the time of the work for personal needs, fatigue and delays
    that no one can help: standard time is basic time x (1 + allowance) (ILO, Introduction to Work Study). It is on the
    run, not on the set-up, as is common practice. Checked are the first piece and every nth, or a share of the pieces
    made, rounded up; where neither is given, every piece.

    A minimum charge is the shop's own least price of the line, whatever comes out: common practice, of no standard.
    Material that the customer supplies is a bar price of 0.

    One piece at 5 % scrap makes 2: 110 minutes, 110 + 55 overhead + 50 material, over 0.8.

    >>> [round(row[-1], 2) for row in price([1, 60], 90, 6, 4, 60, 50, 61, 0.05, 0.5, 0.2)]
    [268.75, 24.9]
    """
    if (margin is None) == (markup is None):
        raise NotGiven("give margin (a share of the price) or markup (a share of the cost), one of them; 0 for none")
    if learning is not None and not 0.5 <= learning <= 1:
        raise OutOfRange(f"learning is {plain(learning)}; it must be from 50 % to 100 %, or left out for none")
    if per_bar < 1 or per_bar != int(per_bar):
        raise OutOfRange(f"per_bar is {plain(per_bar)}; it must be a whole number of pieces, 1 or more")
    if every is not None and gauged is not None:
        raise OutOfRange("every and gauged are both given; give one of them, which pieces are checked or their share")
    if every is not None and (every < 1 or every != int(every)):
        raise OutOfRange(f"every is {plain(every)}; it must be a whole number, 1 for every piece")
    rows: list[tuple[float, ...]] = []
    for quantity in quantities:
        if quantity < 1 or quantity != int(quantity):
            raise OutOfRange(f"quantities has {plain(quantity)}; each must be a whole number, 1 or more")
        make = pieces_to_make(int(quantity), scrap)
        learned = hand_share(make, learning)
        checks = pieces_checked(make, int(every or 1)) if gauged is None else share_checked(make, gauged)
        run = make * (machine_minutes + hand_minutes * learned) + checks * check * learned
        minutes = setup_minutes + run * (1 + rest)
        labour = minutes * rate / 60
        bars = -(-make // int(per_bar))
        material, by_length = bars * bar_price, make / per_bar * bar_price
        lines = (tooling, gauges, outside * make, labour * overhead)
        cost = labour + material + sum(lines)
        asked = cost / (1 - margin) if margin is not None else cost * (1 + (markup or 0))
        total = max(asked, minimum)
        rows.append(
            (int(quantity), make, minutes, labour, bars, material, by_length, *lines, cost, total, total / quantity)
        )
    return rows
