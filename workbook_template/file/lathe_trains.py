"""The gear chart of a lathe: the best train that can be mounted for each usual pitch its levers do not give."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from functools import lru_cache
from itertools import combinations, permutations
from typing import NamedTuple

from sheetfuncs.designations import Thread
from sheetfuncs.gears import EXACT, Quadrant, Train, can_mount
from sheetfuncs.leads import exact_lead
from sheetfuncs.units import MM_PER_INCH
from workbook_template.file.lathe_toml import Lathe, values
from workbook_template.sheets.lathe_charts import ROWS
from workbook_template.trade.typed import Inputs

INCH = (4, 4.5, 5, 6, 7, 8, 9, 10, 11, 11.5, 12, 13, 14, 16, 18, 19, 20, 24, 26, 27, 28, 32, 36, 40)
"""Threads per inch of the Unified coarse and fine, British Whitworth, brass and pipe threads in this range."""
METRIC = (0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6)
"""Pitches of ISO 261, mm."""
WORTH_LISTING = 0.01
"""A train further off than this share of the lead is no help."""
SAME = 1e-9


class Wanted(NamedTuple):
    """A lead to be cut: as it is asked for, threads per inch or a pitch in mm, and in mm."""

    per_inch: float | None
    pitch: float | None
    lead_mm: float


def usual() -> list[Wanted]:
    """The usual pitches."""
    inch = [Wanted(per_inch, None, MM_PER_INCH / per_inch) for per_inch in INCH]
    return inch + [Wanted(None, pitch, pitch) for pitch in METRIC]


def of_threads(threads: Iterable[Thread]) -> list[Wanted]:
    """The leads of threads."""
    found = []
    for thread in threads:
        lead = exact_lead(thread).value
        found.append(Wanted(MM_PER_INCH / lead, None, lead) if thread.unit == "in" else Wanted(None, lead, lead))
    return found


Row = tuple[float | None, float | None, str | None, int | None, int | None, int | None, int | None]


def inputs(lathes: Iterable[Lathe], threads: Iterable[Thread]) -> Inputs:
    """The inputs of the sheet Lathe that describe lathes, with gear charts that know the leads of `threads`."""
    filled: Inputs = {}
    for number, lathe in enumerate(lathes, start=1):
        filled.update(values(lathe, number, chart(lathe, threads)))
    return filled


def chart(lathe: Lathe, threads: Iterable[Thread] = ()) -> list[Row]:
    """Rows of the gear chart: threads per inch, pitch, levers, four gears. The leads of `threads` come first."""
    mountable = all_trains(lathe.shelf, lathe.quadrant)
    ratios = [train.ratio for train in mountable]
    rows: list[Row] = []
    done: list[float] = [position.lead_mm for position in lathe.chart]
    for wanted in (*of_threads(threads), *usual()):
        if any(abs(lead / wanted.lead_mm - 1) < SAME for lead in done):
            continue
        done.append(wanted.lead_mm)
        best = _best(wanted.lead_mm, bases(lathe), mountable, ratios)
        if best and abs(best[1].error) < WORTH_LISTING and len(rows) < ROWS:
            levers, train = best
            a, b, c, d = (*train.gears, None, None)[:4]
            rows.append((wanted.per_inch, wanted.pitch, levers or None, a, b, c, d))
    return rows


def bases(lathe: Lathe) -> list[tuple[str, float]]:
    """Levers, and the lead in mm that a 1 : 1 train cuts with them."""
    if lathe.chart and lathe.end_gears:
        driver, driven = lathe.end_gears
        return [(position.levers, position.lead_mm * driven / driver) for position in lathe.chart]
    return [("", lathe.leadscrew_mm * (lathe.fixed_ratio or 1))]


@lru_cache(maxsize=8)
def all_trains(shelf: tuple[int, ...], quadrant: Quadrant | None) -> tuple[Train, ...]:
    """Every ratio of the shelf with the simplest train for it that can be mounted, sorted by ratio.

    Kept, as the same lathes are asked again with each thread.
    """
    found: dict[float, Train] = {}
    for pair in permutations(shelf, 2):
        _keep(found, Train(pair, 0.0), quadrant)
    places = range(len(shelf))
    for i, j in combinations(places, 2):
        left = [place for place in places if place not in (i, j)]
        for k, m in combinations(left, 2):
            a, c, b, d = shelf[i], shelf[j], shelf[k], shelf[m]
            if round(a * c / (b * d), 13) not in found:
                for gears in ((a, b, c, d), (a, d, c, b), (c, b, a, d), (c, d, a, b)):
                    if _keep(found, Train(gears, 0.0), quadrant):
                        break
    return tuple(found[ratio] for ratio in sorted(found))


def _keep(found: dict[float, Train], train: Train, quadrant: Quadrant | None) -> bool:
    ratio = round(train.ratio, 13)
    if ratio not in found and can_mount(train, quadrant):
        found[ratio] = train
        return True
    return False


def _best(
    lead_mm: float, starts: list[tuple[str, float]], trains: tuple[Train, ...], ratios: list[float]
) -> tuple[str, Train] | None:
    """Levers and train nearest to a lead: least error, then fewest gears, then the levers that come first."""
    found = []
    for order, (levers, base) in enumerate(starts):
        wanted = lead_mm / base
        at = bisect_left(ratios, wanted)
        for train, ratio in zip(trains[max(0, at - 1) : at + 1], ratios[max(0, at - 1) : at + 1]):
            error = ratio / wanted - 1
            size = 0.0 if abs(error) < EXACT else round(abs(error), 12)
            found.append((size, len(train.gears), order, levers, Train(train.gears, error)))
    if not found:
        return None
    *_, levers, train = min(found, key=lambda one: one[:3])
    return levers, train
