"""Gauge study: how much of the spread of readings is the gauge, the people, the parts. Crossed and balanced.

k appraisers read each of n parts r times. Average and range (AIAG MSA, 4th edition, chapter III, section B):

    EV = K1 x mean range of the trials                                        repeatability
    AV = root of ((K2 x range of the appraisers' means)^2 - EV^2 / (n r))     reproducibility
    GRR = root of (EV^2 + AV^2);  PV = K3 x range of the parts' means;  TV = root of (GRR^2 + PV^2)

each K being 1 / d2* in the manual's four places.

Analysis of variance (the same manual, appendix A): with the mean squares of parts, appraisers, interaction and error

    EV^2 = MSE;  INT^2 = (MSI - MSE) / r;  AV^2 = (MSA - MSI) / (n r);  PV^2 = (MSP - MSI) / (k r)

each not less than 0. Where the F test does not show the interaction at 5 %, it is pooled with the error and MSI = MSE
there. The distinct categories are ndc = 1.41 PV / GRR, cut to a whole number.
"""

from __future__ import annotations

from math import sqrt

from sheetfuncs import quantiles, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.records import TYPE_CHECKING, NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import read_number

CATEGORY = "Thread inspection"
POOL_OVER = 0.05
"""The interaction is pooled where chance shows one as large this often or more (AIAG MSA, 4th edition, appendix A; from
memory)."""

MANY_GROUPS = 15
"""Beyond so many ranges the manual takes d2 for d2* (the table of its appendix C ends there; from memory)."""

K_PLACES = 4
"""Decimals of its K1, K2 and K3 (chapter III, section B: 0.5908, 0.5231, 0.3146, seen on a form that follows it)."""

GROUPS_APART, GROUPS_WANTED = 1.41, 5
"""ndc = 1.41 PV / GRR, the root of 2 to two places, and the least that is wanted (chapter III, section B, and chapter
II, section D; from memory)."""

GOOD_UP_TO, NOT_ACCEPTED_OVER = 10, 30
"""Per cent of TV or of the tolerance: its guide for GRR (chapter II, section D; from memory)."""

SPREADS_OF_TOLERANCE = 6
"""Standard deviations that stand for the spread against a tolerance (4th edition; 5.15 in the 2nd; from memory)."""

BEYOND = 0.05
"""Chance on either side of the limits of EV: 90 % limits, this project's choice."""

NOTHING = 1e-6
"""A standard deviation of no larger share of the whole is the arithmetic's own last digits: a gauge that told a million
groups of parts apart is none."""

ALL_ALIKE = "repeats are alike: read finer, or were they copied?"
"""Said in place of the guide where no repeat differs from another: nothing then tells of the gauge."""

MOST_OF_EACH = 20
"""Parts, appraisers or trials: where the table of d2 and d2* ends (data/average_range.csv)."""

if TYPE_CHECKING:
    from collections.abc import Sequence

    Cells = dict[tuple[str, str], list[float]]
    """Readings by part and appraiser, in the order met."""


class Study(NamedTuple):
    """Readings by part and appraiser, the same number in each."""

    parts: tuple[str, ...]
    appraisers: tuple[str, ...]
    trials: int
    readings: Cells

    def mean(self, part: str | None = None, appraiser: str | None = None) -> float:
        """Mean of the readings of a part, of an appraiser, of both, or of all."""
        chosen = [
            reading
            for (its_part, its_appraiser), readings in self.readings.items()
            if part in (None, its_part) and appraiser in (None, its_appraiser)
            for reading in readings
        ]
        return sum(chosen) / len(chosen)


class Spread(NamedTuple):
    """Standard deviations of the sources; `interaction` None where it is not asked for."""

    ev: float
    av: float
    interaction: float | None
    pv: float

    @property
    def grr(self) -> float:
        """Repeatability and reproducibility together."""
        return sqrt(self.ev**2 + self.av**2 + (self.interaction or 0.0) ** 2)

    @property
    def tv(self) -> float:
        """Gauge and parts together."""
        return sqrt(self.grr**2 + self.pv**2)

    @property
    def ndc(self) -> int | None:
        """How many groups of parts the gauge tells apart; None where it shows no spread beside the whole."""
        return int(GROUPS_APART * self.pv / self.grr) if self.grr > NOTHING * self.tv else None


class Anova(NamedTuple):
    """The spread by analysis of variance, the chance of the interaction's F, and 90 % limits of EV."""

    spread: Spread
    chance: float
    pooled: bool
    ev_from: float
    ev_to: float


@sheet_function(
    category=CATEGORY,
    returns=(
        *("study_source", "by_average_range", "average_range_percent", "by_anova", "anova_percent"),
        *("anova_from", "anova_to", "study_remark"),
    ),
    table="rows",
    sources=("AIAG MSA", "Duncan"),
    examples=(
        Example(
            ("1 A 2.0; 1 A 2.2; 1 B 2.1; 1 B 2.3; 2 A 3.0; 2 A 3.2; 2 B 3.1; 2 B 3.3",),
            ("repeatability EV", "0.1658", "22.8", "0.1265", "17.7", "0.0850", "0.2643", "same part, same person"),
            "by hand: ranges 0.2 over d2* 1.2062; squares 0.08 over 5; 0.08 over chi-square 11.070 and 1.1455",
        ),
    ),
)
def gauge_study(study: Study, tolerance_width: float | None = None) -> list[tuple[str | float | int | None, ...]]:
    """Gauge study by average and range and by analysis of variance: EV, AV, GRR, PV, TV, per cent of TV, ndc.

    The study is a range of three columns: part, appraiser, reading, one row a reading, in any order; every appraiser
    reads every part as often, twice at the least. A first row of headings, whatever their words, and empty rows are
    passed over. EV has 90 % limits by chi-square. With the width of the tolerance given, 6 GRR in per cent of it is
    shown as well. AIAG's guide: GRR up to 10 % of TV is good, over 30 % not accepted; ndc 5 or more. Where all repeats
    are alike nothing tells of the gauge: a remark says so in place of the guide.

    >>> rows = [["1", "A", "2.0"], ["1", "A", "2.2"], ["1", "B", "2.1"], ["1", "B", "2.3"]]
    >>> rows += [[2, "A", 3.0], [2, "A", 3.2], [2, "B", 3.1], [2, "B", 3.3]]
    >>> [row[0] for row in gauge_study(read_study(rows))][:4]
    ['repeatability EV', 'reproducibility AV', 'interaction', 'repeatability and reproducibility GRR']
    """
    ranges, anova = average_and_range(study), analysis_of_variance(study)
    first, second = ranges, anova.spread
    if not first.tv or not second.tv:
        raise OutOfRange("study shows no spread: all its readings are alike; read finer, or check them")
    mean_of_ranges = mean_range(study)

    def guide(percent: float) -> str:
        return _guide(percent) if mean_of_ranges else f"all {ALL_ALIKE}"

    def row(
        name: str,
        one: float | None,
        two: float | None,
        remark: str = "",
        limits: tuple[float | None, float | None] = (None, None),
    ) -> tuple[str | float | int | None, ...]:
        pairs = ((one, first.tv), (two, second.tv))
        shares = [None if value is None else 100 * value / whole for value, whole in pairs]
        return (name, one, shares[0], two, shares[1], *limits, remark)

    chance = f"F test of the interaction: chance {anova.chance:.2f}" + ", pooled with EV" * anova.pooled
    rows = [
        row("repeatability EV", first.ev, second.ev, "same part, same person", (anova.ev_from, anova.ev_to)),
        row("reproducibility AV", first.av, second.av, "between people"),
        row("interaction", None, second.interaction, chance),
        row("repeatability and reproducibility GRR", first.grr, second.grr, guide(100 * second.grr / second.tv)),
        row("parts PV", first.pv, second.pv),
        row("total TV", first.tv, second.tv),
        (
            "distinct categories ndc",
            first.ndc,
            None,
            second.ndc,
            None,
            None,
            None,
            f"{GROUPS_WANTED} or more wanted (AIAG)",
        ),
        ("mean range of the trials", mean_of_ranges, None, None, None, None, None, ""),
        ("range of the appraisers' means", appraiser_range(study), None, None, None, None, None, ""),
    ]
    if tolerance_width is not None:
        shares = [100 * SPREADS_OF_TOLERANCE * spread.grr / tolerance_width for spread in (first, second)]
        words = f"{SPREADS_OF_TOLERANCE} GRR of the tolerance, per cent"
        rows.append((words, None, shares[0], None, shares[1], None, None, guide(shares[1])))
    return rows


def _guide(percent: float) -> str:
    if percent <= GOOD_UP_TO:
        return f"up to {GOOD_UP_TO} %: good (AIAG)"
    if percent > NOT_ACCEPTED_OVER:
        return f"over {NOT_ACCEPTED_OVER} %: not accepted (AIAG)"
    return f"{GOOD_UP_TO} to {NOT_ACCEPTED_OVER} %: may do for some uses (AIAG)"


def average_and_range(study: Study) -> Spread:
    """The spread by average and range."""
    n, k = len(study.parts), len(study.appraisers)
    ev = mean_range(study) * share_of_range(study.trials, n * k)
    between = (appraiser_range(study) * share_of_range(k, 1)) ** 2 - ev**2 / (n * study.trials)
    means = [study.mean(part=part) for part in study.parts]
    pv = (max(means) - min(means)) * share_of_range(n, 1)
    return Spread(ev, sqrt(max(0.0, between)), None, pv)


def share_of_range(m: int, g: int) -> float:
    """The manual's K: standard deviation over the mean range of m values over g groups, to four places.

    >>> share_of_range(3, 30), share_of_range(3, 1), share_of_range(10, 1)
    (0.5908, 0.5231, 0.3146)
    """
    return round(1 / d2_star(m, g), K_PLACES)


def mean_range(study: Study) -> float:
    """Mean of the ranges of the trials."""
    ranges = [max(readings) - min(readings) for readings in study.readings.values()]
    return sum(ranges) / len(ranges)


def appraiser_range(study: Study) -> float:
    """Range of the appraisers' means."""
    means = [study.mean(appraiser=appraiser) for appraiser in study.appraisers]
    return max(means) - min(means)


def analysis_of_variance(study: Study) -> Anova:
    """The spread by analysis of variance."""
    n, k, r = len(study.parts), len(study.appraisers), study.trials
    grand = study.mean()
    of_part = {part: study.mean(part=part) for part in study.parts}
    of_person = {person: study.mean(appraiser=person) for person in study.appraisers}
    of_parts = k * r * sum((mean - grand) ** 2 for mean in of_part.values())
    of_people = n * r * sum((mean - grand) ** 2 for mean in of_person.values())
    means = {key: sum(readings) / r for key, readings in study.readings.items()}
    error = 0.0  # where repeats are alike: their mean can be off in its last digit
    if mean_range(study):
        error = sum((reading - means[key]) ** 2 for key, readings in study.readings.items() for reading in readings)
    left = (mean - of_part[part] - of_person[person] + grand for (part, person), mean in means.items())
    interaction = r * sum(rest**2 for rest in left)
    least = NOTHING**2 * (of_parts + of_people + interaction + error)
    of_people, interaction = (one if one > least else 0.0 for one in (of_people, interaction))
    free, free_error = (n - 1) * (k - 1), n * k * (r - 1)
    chance = 0.0 if interaction else 1.0
    if error:
        chance = quantiles.f_tail(interaction / free / (error / free_error), free, free_error)
    pooled = chance >= POOL_OVER
    if pooled:
        error, free_error = error + interaction, free_error + free
    ms_error = error / free_error
    ms_interaction = ms_error if pooled else interaction / free
    squares = (
        (of_people / (k - 1) - ms_interaction) / (n * r),
        (ms_interaction - ms_error) / r,
        (of_parts / (n - 1) - ms_interaction) / (k * r),
    )
    av, between, pv = (sqrt(max(0.0, square)) for square in squares)
    limits = [sqrt(error / quantiles.chi_square(share, free_error)) for share in (1 - BEYOND, BEYOND)]
    return Anova(Spread(sqrt(ms_error), av, between, pv), chance, pooled, limits[0], limits[1])


@lru_cache(maxsize=256)
def d2_star(m: int, g: int) -> float:
    """Mean range of m values over g groups in standard deviations, as it serves for the root of a variance.

    >>> round(d2_star(3, 1), 5), round(d2_star(3, 30), 5)
    (1.91155, 1.69257)
    """
    row = next(row for row in tables.rows("average_range") if row["m"] == str(m))
    d2, single = float(row["d2"]), float(row["d2_star"])
    return d2 if g > MANY_GROUPS else sqrt(d2**2 + (single**2 - d2**2) / g)


def read_study(rows: Sequence[Sequence[object]]) -> Study:
    """A study from rows of part, appraiser, reading. Refuses one that is not complete, with a sentence.

    >>> read_study([["part", "appraiser", "reading"], [1, "A", 2.0]])
    Traceback (most recent call last):
    sheetfuncs.errors.OutOfRange: study has 1 part, 1 appraiser and 1 trial; it needs 2 of each at the least
    """
    readings: Cells = {}
    for number, row in enumerate(rows, start=1):
        texts = [str(cell).strip() if cell is not None else "" for cell in row]
        if not any(texts) or (number == 1 and _is_heading(row)):
            continue
        if len(texts) != 3 or not all(texts):
            raise NotUnderstood(f"study row {number} is '{' '.join(texts)[:60]}'; each row is part, appraiser, reading")
        reading = read_number(texts[2])
        if reading is None:
            said = f"study row {number} has the reading '{texts[2][:60]}'"
            raise NotUnderstood(f"{said}; write a number, with a point for decimals")
        readings.setdefault((_named(texts[0]), _named(texts[1])), []).append(reading)
    parts = tuple(dict.fromkeys(part for part, _ in readings))
    appraisers = tuple(dict.fromkeys(appraiser for _, appraiser in readings))
    trials = max((len(found) for found in readings.values()), default=0)
    _check(parts, appraisers, trials, readings)
    return Study(parts, appraisers, trials, readings)


def _is_heading(row: Sequence[object]) -> bool:
    """Three cells, the last of them a word: whatever a column is called. A number with a comma is a slip, no word."""
    last = row[2] if len(row) == 3 else None
    return isinstance(last, str) and bool(last.strip()) and read_number(last.replace(",", ".")) is None


def _named(text: str) -> str:
    """1, 1.0 and '1' are one part, A and a one person."""
    value = read_number(text)
    return text.upper() if value is None else f"{value:.15g}"  # all digits of a serial number


def _check(parts: tuple[str, ...], appraisers: tuple[str, ...], trials: int, readings: Cells) -> None:
    for part in parts:
        for appraiser in appraisers:
            found = len(readings.get((part, appraiser), ()))
            if found != trials:
                raise OutOfRange(
                    f"study has {found} of {trials} readings of part {part} by {appraiser}; every appraiser reads "
                    "every part as often"
                )
    counts = {"part": len(parts), "appraiser": len(appraisers), "trial": trials}
    words = [f"{count} {name}{'s' * (count != 1)}" for name, count in counts.items()]
    said = f"study has {words[0]}, {words[1]} and {words[2]}"
    if min(counts.values()) < 2:
        raise OutOfRange(f"{said}; it needs 2 of each at the least")
    if max(counts.values()) > MOST_OF_EACH:
        raise OutOfRange(f"{said}; the constants of the method go up to {MOST_OF_EACH} of each")
