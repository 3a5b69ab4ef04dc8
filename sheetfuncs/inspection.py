"""Judging readings: against limits, as a process, and brought to 20 degrees Celsius."""

from __future__ import annotations

from math import inf, sqrt

from sheetfuncs import quantiles, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import plain
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import read_number

CATEGORY = "Thread inspection"
NOISE = 1e-9
"""Share of a value that counts as rounding of binary numbers, not as a difference."""

ENOUGH = 50
"""Readings below which a capability is hardly worth its name (NIST/SEMATECH handbook, 6.1.6)."""

TO_JUDGE_STABILITY = 25
"""Readings below which a chart says little of stability: common practice (20 to 25 readings begin a chart)."""

TREND_LEVEL = 0.01
"""A trend is reported where chance would show one as steep once in a hundred studies."""

ON_ONE_SIDE = 8
"""So many in a row on one side of the mean are no chance (NIST/SEMATECH handbook, 6.3.2)."""

MEAN_RANGE_OF_TWO = 1.128
"""Mean range of two normal values in standard deviations (the same, 6.3.2.2)."""

RANGE_LIMIT = 3.267
"""Upper limit of a range of two over the mean range (the same, 6.3.2.1)."""

WEAR = "a wearing tool makes an outside thread larger, an inside one smaller"

COLDEST, HOTTEST = 5.0, 50.0
"""Degrees Celsius of a part that are believed (this project's choice): beyond them the unit is wrong."""

FEWEST_FOR_TREND = 6
"""A few readings fall in line by their rounding alone; the handbook too asks for six in a row (6.3.2)."""

ONE_SIDED = "one-sided: there is no {} limit, so no Cp"


@sheet_function(
    category=CATEGORY,
    returns="decision",
    sources=("ILAC-G8", "ISO 14253-1", "JCGM 106"),
    examples=(
        Example(
            (0.0017, -0.003, 0.003, 0.001), "accept", "ILAC-G8:09/2019, 4.2, by hand: 0.003 less U 0.001 leaves 0.002"
        ),
        Example((0.0025, -0.003, 0.003, 0.001), "undecided", "the same: 0.0025 is neither under 0.002 nor over 0.004"),
        Example((0.0025, -0.003, 0.003, None, "simple"), "accept", "ILAC-G8:09/2019, 4.2.1: simple acceptance, w = 0"),
    ),
)
def verdict(
    value: float,
    low: float | None = None,
    high: float | None = None,
    uncertainty: float | None = None,
    decision_rule: str = "",
) -> str:
    """accept, undecided or reject: a measured value against its limits, by the simple rule or with a guard band.

    simple: a value on a limit is accepted, one beyond it rejected. guard: accepted only where it is inside both
    limits by the expanded uncertainty U or more, rejected only where it is outside one by more than U, else undecided
    (ILAC-G8:09/2019, 4.2, with w = U; the proofs of ISO 14253-1). Where no rule is named, an uncertainty means guard
    and none means simple. A limit left out leaves that side open. Where U is over half the tolerance, nothing is
    accepted.

    >>> verdict(18.2, 18.164, 18.334), verdict(18.2, 18.164, 18.334, 0.05), verdict(18.1, 18.164, 18.334, 0.05)
    ('accept', 'undecided', 'reject')
    """
    if low is None and high is None:
        raise OutOfRange(NO_LIMIT)
    low, high = _open_ended(low, high)
    if decision_rule == "guard" and uncertainty is None:
        raise OutOfRange("uncertainty is missing; the guard rule needs it, or choose simple")
    guard = 0.0 if uncertainty is None or decision_rule == "simple" else uncertainty
    noise = NOISE * max(abs(value), *(abs(limit) for limit in (low, high) if abs(limit) < inf))
    if low + guard - noise <= value <= high - guard + noise:
        return "accept"
    return "reject" if value < low - guard - noise or value > high + guard + noise else "undecided"


@sheet_function(
    category=CATEGORY,
    returns=(
        *("reading_count", "reading_mean", "reading_s", "cp", "cpk"),
        *("cpk_from", "cpk_to", "cp_from", "cp_to", "capability_remark"),
    ),
    table="row",
    sources=("NIST handbook",),
    examples=(
        Example(
            ("14 16 18", 8, 20),
            (
                *("3", "16", "2", "1.0", "0.6667"),
                *("-0.0877", "1.4211", "0.1591", "1.9206"),
                "n is 3: the interval is wide and stability can't be judged; 50 or more are wanted (NIST 6.1.6)",
            ),
            "NIST/SEMATECH e-Handbook, 6.1.6: Cp 1.0, Cpk 0.6667 at mean 16, s 2, limits 8 and 20; intervals by hand",
        ),
        Example(
            ("14 16 18", 8),
            (
                *("3", "16", "2", "", "1.3333", "-0.0267", "2.6933", "", ""),
                ONE_SIDED.format("high")
                + "; n is 3: the interval is wide and stability can't be judged; 50 or more are wanted (NIST 6.1.6)",
            ),
            "NIST/SEMATECH e-Handbook, 6.1.6: Cpl = (16 - 8) / 6; 1.3333 and 1.96 roots of 1/27 + 1.7778/4, by hand",
        ),
    ),
)
def capability(
    readings: list[float], low: float | None = None, high: float | None = None
) -> list[tuple[float | int | str | None, ...]]:
    """Capability of a process: n, mean, s, Cp, Cpk, 95 % limits of Cpk and of Cp, and what to mind.

    Cp is the tolerance over 6 s, Cpk the distance from the mean to the nearer limit over 3 s, s with n - 1. With one
    limit left out Cpk is that of the other, Cpu or Cpl of the handbook, and there is no Cp: the remark says so. Cp has
    limits by chi-square, Cpk approximate ones by the normal distribution (NIST/SEMATECH e-Handbook, 6.1.6). All this
    supposes a stable process and readings in the order they were made: a trend is found by the t test of the
    least-squares slope at 1 %; without one, the process is called not stable with 8 readings in a row on one side of
    the mean, one beyond the limits of the individuals chart, mean and 2.66 mean moving ranges, or a step between two
    over 3.267 mean moving ranges (handbook, 6.3.2). Empty cells are passed over.

    >>> [round(value, 4) for value in capability([14, 16, 18], 8, 20)[0][:5]]
    [3, 16.0, 2.0, 1.0, 0.6667]
    """
    if low is None and high is None:
        raise OutOfRange(NO_LIMIT)
    bottom, top = _open_ended(low, high)
    n = len(readings)
    if n < 2:
        raise OutOfRange(f"readings has {n} number{'s' * (n != 1)}; a capability needs 2 at the least, better 50")
    mean = sum(readings) / n
    s = sqrt(sum((reading - mean) ** 2 for reading in readings) / (n - 1))
    if s <= NOISE * abs(mean):
        raise OutOfRange(f"readings are all {plain(readings[0])}: no spread can be seen; read finer, or check them")
    cpk = min(top - mean, mean - bottom) / (3 * s)
    two_sided = low is not None and high is not None
    cp = (top - bottom) / (6 * s) if two_sided else None
    cp_ends = (None, None) if cp is None else cp_limits(cp, n)
    remarks = [] if two_sided else [ONE_SIDED.format("low" if low is None else "high")]
    remarks.append(capability_remark(readings, mean))
    remarks += [
        f"{end} is 0: fill its cell if it is empty" for end, size in (("low", low), ("high", high)) if size == 0
    ]
    return [(n, mean, s, cp, cpk, *cpk_limits(cpk, n), *cp_ends, "; ".join(filter(None, remarks)))]


def cp_limits(cp: float, n: int) -> tuple[float, float]:
    """95 % limits of Cp: Cp times the root of chi-square over its degrees of freedom.

    >>> [round(limit, 2) for limit in cp_limits(2.29, 20)]
    [1.57, 3.01]
    """
    least, most = (quantiles.chi_square(share, n - 1) for share in (0.025, 0.975))
    return cp * sqrt(least / (n - 1)), cp * sqrt(most / (n - 1))


def cpk_limits(cpk: float, n: int) -> tuple[float, float]:
    """Approximate 95 % limits of Cpk.

    >>> [round(limit, 3) for limit in cpk_limits(1.0, 100)]
    [0.846, 1.154]
    """
    half = quantiles.normal(0.975) * sqrt(1 / (9 * n) + cpk**2 / (2 * (n - 1)))
    return cpk - half, cpk + half


def capability_remark(readings: list[float], mean: float) -> str:
    """What stands between a capability and belief in it; empty where nothing was found."""
    n, words = len(readings), []
    if n < TO_JUDGE_STABILITY:
        wide = "the interval is wide and stability can't be judged"
        words.append(f"n is {n}: {wide}; {ENOUGH} or more are wanted (NIST 6.1.6)")
    elif n < ENOUGH:
        words.append(f"n is {n}: the interval is wide; {ENOUGH} or more are wanted (NIST 6.1.6)")
    slope, chance = trend(readings)
    if chance < TREND_LEVEL:
        way = "rise" if slope > 0 else "fall"
        found = f"trend: readings {way} by {abs(slope):.2g} each (t test of the slope, 1 %)"
        words.append(f"{found}; find the cause first: {WEAR}")
    elif _run_on_one_side(readings, mean) >= ON_ONE_SIDE:
        words.append(f"not stable: {ON_ONE_SIDE} in a row on one side of the mean (NIST 6.3.2); find the cause first")
    elif _outside_chart(readings, mean):
        words.append("not stable: a reading beyond the individuals chart's limits (NIST 6.3.2); find the cause first")
    elif _step_over_limit(readings):
        words.append("not stable: a step between two readings over its limit (NIST 6.3.2.1); find the cause first")
    return "; ".join(words)


def trend(readings: list[float]) -> tuple[float, float]:
    """Least-squares slope by the order of the readings, and how probable one as steep is where there is no trend.

    >>> slope, chance = trend([1.0, 2.1, 2.9, 4.2, 5.0, 5.8])
    >>> round(slope, 3), chance < 0.001
    (0.971, True)
    """
    n = len(readings)
    if n < FEWEST_FOR_TREND:
        return 0.0, 1.0
    mean, middle = sum(readings) / n, (n - 1) / 2
    square = n * (n * n - 1) / 12
    slope = sum((place - middle) * (reading - mean) for place, reading in enumerate(readings)) / square
    left = sum((reading - mean - slope * (place - middle)) ** 2 for place, reading in enumerate(readings))
    if left <= (NOISE * mean) ** 2:
        return slope, 0.0 if slope else 1.0
    return slope, quantiles.t_tail(slope / sqrt(left / (n - 2) / square), n - 2)


def _run_on_one_side(readings: list[float], mean: float) -> int:
    """The longest run; a reading that is the mean but for its last bits is on neither side."""
    noise = NOISE * max(map(abs, readings))
    longest = run = side = 0
    for reading in readings:
        now = (reading > mean + noise) - (reading < mean - noise)
        run = run + 1 if now and now == side else abs(now)
        side, longest = now, max(longest, run)
    return longest


def _moving_ranges(readings: list[float]) -> list[float]:
    return [abs(after - before) for before, after in zip(readings, readings[1:])]


def _outside_chart(readings: list[float], mean: float) -> bool:
    ranges = _moving_ranges(readings)
    reach = 3 / MEAN_RANGE_OF_TWO * sum(ranges) / len(ranges)
    return any(abs(reading - mean) > reach for reading in readings)


def _step_over_limit(readings: list[float]) -> bool:
    ranges = _moving_ranges(readings)
    return max(ranges) > RANGE_LIMIT * sum(ranges) / len(ranges)


@sheet_function(
    category=CATEGORY,
    returns="length_at_20",
    sources=("ISO 1", "NIST J. Res. 99", "practice"),
    examples=(Example((100.0, 30, "steel"), "99.9885", "by hand: 100 / (1 + 11.5e-6 x 10); NIST J. Res. 99"),),
)
def at_20c(measured: float, temperature: float, material: float) -> float:
    """A length brought to 20 degrees Celsius, where drawings hold: length / (1 + expansion x (temperature - 20)).

    The instrument is taken to be right at its own temperature. Where part and instrument are both at the temperature
    of the room, give the difference of their expansions as material: a steel part in a steel micrometer needs no
    correction. Expansions differ by a few per cent within a kind of metal; where that matters, measure near 20
    degrees (ISO 1).

    >>> round(at_20c(100.0, 30.0, read_material("aluminium")), 4)
    99.9769
    """
    if not COLDEST <= temperature <= HOTTEST:
        raise OutOfRange(
            f"temperature is {plain(temperature)}; give that of the part in degrees Celsius, "
            f"{COLDEST:g} to {HOTTEST:g} (20 C is 68 F)"
        )
    return measured / (1 + material * (temperature - 20))


@lru_cache(maxsize=1)
def expansions() -> dict[str, float]:
    """Expansion per degree Celsius by material, from the printed table.

    >>> expansions()["steel"]
    1.15e-05
    """
    per_celsius = {"C": 1.0, "F": 1.8}
    rows = tables.rows("thermal_expansion")
    return {row["material"]: float(row["millionths"]) * per_celsius[row["per"]] / 1e6 for row in rows}


MOST_EXPANSION = 1e-4
"""No metal expands more than this per degree C; a figure over it lacks its factor of a million."""


def read_material(text: str) -> float:
    """Expansion per degree Celsius from the name of a material, or from a number such as 11.5e-6.

    >>> read_material("Steel"), read_material("0.000012")
    (1.15e-05, 1.2e-05)
    """
    named = expansions().get(" ".join(text.lower().split()))
    value = read_number(text) if named is None else named
    if value is None:
        raise NotUnderstood(f"material is '{text}'; choose {', '.join(expansions())}, or an expansion such as 11.5e-6")
    if abs(value) > MOST_EXPANSION:
        raise OutOfRange(f"material is {text}; as a number it is the expansion per degree Celsius, as in 11.5e-6")
    return value


NO_LIMIT = "low and high are both empty; give at least one of them"


def _open_ended(low: float | None, high: float | None) -> tuple[float, float]:
    """Both limits; one that is left out is as far as can be."""
    low, high = -inf if low is None else low, inf if high is None else high
    if low >= high:
        raise OutOfRange(f"low is {plain(low)}, not below high {plain(high)}; exchange them, or fill the empty one")
    return low, high
