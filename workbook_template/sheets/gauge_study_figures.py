"""What the sheet Gauge study computes; the formulas with their sources stand in `sheetfuncs.gauge_study`."""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from sheetfuncs import gauge_study
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    first,
    fixed,
    given,
    joined,
    known,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets.inputs import MOST_LENGTH, in_text, left_empty
from workbook_template.trade.days import is_day
from workbook_template.trade.equipment import listed, not_counted

PARTS, TRIALS = 10, 3
PEOPLE = ("a", "b", "c")
MOST = int(MOST_LENGTH)
"""A reading, or what it is off a nominal size, is no larger; 3/4 taken for a day is."""
FAR_APART, TOO_WIDE = 10, 100
"""Repeats that are so many times as far apart as all others, and most of the spread, are asked about; so is a width
that is so many times the spread of all readings (our choice)."""
ANY_REPEAT_DIFFERS = the.study_mean_range > 0
"""Else nothing tells of the gauge, however small its share comes out."""

GRID = the.study_readings
"""Every reading: from the first column to the last."""


def _of_people(what: str) -> tuple[Node, ...]:
    """A figure or column of each person."""
    return tuple(the[f"study_{what}_{person}"] for person in PEOPLE)


def _typed_by(person: str) -> Node:
    """How many cells of a person are filled in."""
    return xl.COUNTA(*(the[f"study_{person}_{trial}"] for trial in range(1, TRIALS + 1)))


def _typed_in(trial: int) -> Node:
    """How many cells of a trial are filled in, of all people together."""
    return xl.COUNTA(*(the[f"study_{person}_{trial}"] for person in PEOPLE))


def _highest(*counts: Node) -> Node:
    """The number of the last count that is not 0."""
    return first(*((count > 0, number) for number, count in reversed([*enumerate(counts, start=1)])), otherwise=0)


_GRID_IS_FULL = when(
    all_of(
        the.study_parts > 1,
        the.study_people > 1,
        the.study_trials > 1,
        xl.COUNT(GRID).same(the.study_parts * the.study_people * the.study_trials),
        xl.COUNTA(GRID).same(xl.COUNT(GRID)),  # an error value is none of the numbers, and would spread from here on
    ),
    all_of(xl.MAX(GRID) <= MOST, xl.MIN(GRID) >= -MOST),
    False,
)
COUNTS = (
    Figure("study_parts", "parts read", xl.MAX(the.study_used)),
    Figure("study_people", "people who read", _highest(*(_typed_by(person) for person in PEOPLE))),
    Figure("study_trials", "readings of each part by each person",
           _highest(*(_typed_in(trial) for trial in range(1, TRIALS + 1)))),
    Figure("study_ready", "whether the study is complete", _GRID_IS_FULL),
    Figure("study_cells", "parts times people", the.study_parts * the.study_people),
    Figure("study_resting", "height of points that are not to be seen",
           when(xl.COUNT(the.study_part_mean) > 0, xl.AVERAGE(the.study_part_mean), -1000)),
)  # fmt: skip
"""How much was typed."""


_TO_NAME = (
    ("instrument", no(given(in_text(the.study_instrument)))),
    ("size read", no(given(in_text(the.study_size)))),
    ("date", no(is_day(the.study_date))),
    *(
        (
            f"person {person.upper()}",
            all_of(the.study_people >= number, no(given(in_text(the[f"study_person_{person}"])))),
        )
        for number, person in enumerate(PEOPLE, start=1)
    ),
)
"""What a record of the study is to name, and when it does not."""


def _instrument_fault() -> Node:
    """Why a reading with the instrument does not count on the day of the study."""
    number, at = the.study_instrument, the.study_instrument_at
    until, fault = (xl.INDEX(the[f"instrument_reads_{what}"], at) for what in ("until", "fault"))
    not_listed, *by_day = not_counted("Instrument", number, at, "instrument", until, fault, xl.INT(the.study_date))
    return first(
        (left_empty(number), ""),
        not_listed,
        (no(is_day(the.study_date)), ""),
        *by_day,
    )


NAMED = (
    Figure(
        "study_unnamed",
        "what of the study is not named",
        joined("&", *(when(gone, f", {what}") for what, gone in _TO_NAME)),
    ),
    Figure("study_instrument_at", "row of the instrument in its list", listed(the.study_instrument, "instrument")),
)
"""What was studied, with what, by whom."""
INSTRUMENT_FAULT = Figure(
    "study_instrument_words", "why the instrument does not count on the day of the study", _instrument_fault()
)


def _star(values: Node, groups: Part) -> Node:
    """The manual's K: 1 / d2* of so many values over so many groups, to four places."""
    d2, single = (xl.INDEX(table, values - 1) for table in (the.list_range_mean, the.list_range_single))
    over_few = xl.SQRT(d2**2 + (single**2 - d2**2) / groups)
    return xl.ROUND(1 / when(node(groups) > gauge_study.MANY_GROUPS, d2, over_few), gauge_study.K_PLACES)


def when_ready(formula: Node) -> Node:
    """Nothing until the study is complete."""
    return when(the.study_ready, formula)


def _root(variance: Node) -> Node:
    """A standard deviation; a variance that comes out under 0 is none."""
    return xl.SQRT(xl.MAX(0, variance))


def range_of(*values: Node) -> Node:
    """From the smallest to the largest."""
    return xl.MAX(*values) - xl.MIN(*values)


def _if_pooled(pooled: Part, else_: Part) -> Node:
    return when(the.study_pooled, pooled, else_)


def _ev_limit(chance: float) -> Node:
    return xl.SQRT(the.study_error_sum / xl.CHIINV(chance, the.study_free_error))


_PEOPLE_SQUARES = joined("+", *(when(known(mean), (mean - the.study_grand) ** 2, 0) for mean in _of_people("mean_all")))
_MEAN_SQUARE_BOTH = the.study_squares_both / the.study_free_both
_F_TEST = xl.FDIST(
    _MEAN_SQUARE_BOTH / (the.study_squares_error / the.study_free_within), the.study_free_both, the.study_free_within
)
WORKING = (
    Figure("study_mean_range", "mean range of the trials", xl.AVERAGE(*_of_people("range"))),
    Figure("study_people_range", "range of the means of the people", range_of(*_of_people("mean_all"))),
    Figure("study_parts_range", "range of the means of the parts", range_of(the.study_part_mean)),
    Figure("study_k_trials", "K1, for the trials", _star(the.study_trials, the.study_cells)),
    Figure("study_k_people", "K2, for the people", _star(the.study_people, 1)),
    Figure("study_k_parts", "K3, for the parts", _star(the.study_parts, 1)),
    Figure("study_grand", "mean of all readings", xl.AVERAGE(the.study_part_mean)),
    Figure("study_squares_parts", "sum of squares, parts",
           the.study_people * the.study_trials * xl.SUM(the.study_part_square)),
    Figure("study_squares_people", "sum of squares, people", the.study_parts * the.study_trials * _PEOPLE_SQUARES),
    Figure("study_squares_error", "sum of squares, within", xl.SUM(*_of_people("within"))),
    Figure("study_squares_both", "sum of squares, interaction", the.study_trials * xl.SUM(*_of_people("square"))),
    Figure("study_squares_least", "sum of squares that is the arithmetic's own last digits",
           gauge_study.NOTHING**2 * (the.study_squares_parts + the.study_squares_people + the.study_squares_both)),
    Figure("study_free_both", "degrees of freedom, interaction", (the.study_parts - 1) * (the.study_people - 1)),
    Figure("study_free_within", "degrees of freedom, within", the.study_cells * (the.study_trials - 1)),
    Figure("study_chance", "chance of an interaction as large as this",
           first((ANY_REPEAT_DIFFERS, _F_TEST),
                 (the.study_squares_both > the.study_squares_least, 0), otherwise=1)),
    Figure("study_pooled", "whether the interaction is pooled", the.study_chance >= gauge_study.POOL_OVER),
    Figure("study_free_error", "degrees of freedom of the error",
           the.study_free_within + _if_pooled(the.study_free_both, 0)),
    Figure("study_error_sum", "sum of squares of the error",
           the.study_squares_error + _if_pooled(the.study_squares_both, 0)),
    Figure("study_error", "mean square, error", the.study_error_sum / the.study_free_error),
    Figure("study_both", "mean square, interaction", _if_pooled(the.study_error, _MEAN_SQUARE_BOTH)),
    Figure("study_ev_anova_from", "lower 90 % limit of EV", _ev_limit(gauge_study.BEYOND)),
    Figure("study_ev_anova_to", "upper 90 % limit of EV", _ev_limit(1 - gauge_study.BEYOND)),
)  # fmt: skip
"""What stands beside the page; blank until the study is complete."""


def _by_the_manual(share: Node, good: str = "", not_accepted: str = "", between: str = "") -> Node:
    """What the manual says of a share in per cent, behind the words for where it lies."""
    return first(
        (share <= gauge_study.GOOD_UP_TO, f"{good}good"),
        (share > gauge_study.NOT_ACCEPTED_OVER, f"{not_accepted}not accepted"),
        otherwise=f"{between}may do for some uses",
    )


def guide(share: Node) -> Node:
    """The same beside a share, once there is one that tells of the gauge."""
    low, high = gauge_study.GOOD_UP_TO, gauge_study.NOT_ACCEPTED_OVER
    told = all_of(known(share), ANY_REPEAT_DIFFERS)
    return when(told, _by_the_manual(share, f"up to {low} %: ", f"over {high} %: ", f"{low} to {high} %: "))


class Source(NamedTuple):
    """A source of spread: its standard deviation by average and range, by analysis of variance, a remark."""

    name: str
    label: str
    by_range: Node | None
    by_variance: Node
    remark: Node | str = ""


_EV_LIMITS = say("90 % limits ", fixed(the.study_ev_anova_from, the.decimals + 1), " to ",
                 fixed(the.study_ev_anova_to, the.decimals + 1))  # fmt: skip
_CHANCE = say("F test: chance ", fixed(the.study_chance, 2), when(the.study_pooled, ", pooled with EV"))
_BY_PERSON = the.study_parts * the.study_trials
SOURCES = (
    Source("ev", "Repeatability EV", the.study_mean_range * the.study_k_trials, xl.SQRT(the.study_error),
           when_ready(_EV_LIMITS)),
    Source("av", "Reproducibility AV",
           _root((the.study_people_range * the.study_k_people) ** 2 - the.study_ev_by_average_range**2 / _BY_PERSON),
           _root((the.study_squares_people / (the.study_people - 1) - the.study_both) / _BY_PERSON),
           "between people"),
    Source("both", "Interaction", None, _root((the.study_both - the.study_error) / the.study_trials),
           when_ready(_CHANCE)),
    Source("grr", "Gauge and people GRR", xl.SQRT(the.study_ev_by_average_range**2 + the.study_av_by_average_range**2),
           xl.SQRT(the.study_ev_by_anova**2 + the.study_av_by_anova**2 + the.study_both_by_anova**2),
           guide(the.study_grr_anova_percent)),
    Source("pv", "Parts PV", the.study_parts_range * the.study_k_parts,
           _root((the.study_squares_parts / (the.study_parts - 1) - the.study_both)
                 / (the.study_people * the.study_trials))),
    Source("tv", "Total TV", xl.SQRT(the.study_grr_by_average_range**2 + the.study_pv_by_average_range**2),
           xl.SQRT(the.study_grr_by_anova**2 + the.study_pv_by_anova**2)),
)  # fmt: skip

METHODS = {"by_average_range": "average and range", "by_anova": "analysis of variance"}
PERCENT = {"by_average_range": "average_range_percent", "by_anova": "anova_percent"}
"""The names of what a method gives, and of the same in per cent of the total: terms of THREAD_GAUGE_STUDY."""


def groups_apart(kind: str) -> Node:
    """How many groups of parts the gauge tells apart, by one of the methods."""
    grr, pv, tv = (the[f"study_{name}_{kind}"] for name in ("grr", "pv", "tv"))
    return when(grr > gauge_study.NOTHING * tv, xl.INT(gauge_study.GROUPS_APART * pv / grr))


def of_tolerance(kind: str) -> Node:
    """Six standard deviations of gauge and people in per cent of the tolerance."""
    width = the.study_tolerance_width_used
    return when(known(width), 100 * gauge_study.SPREADS_OF_TOLERANCE * the[f"study_grr_{kind}"] / width)


_WIDTH_IS_USED = any_of(blank(the.study_tolerance_width), known(the.study_tolerance_width_used))
"""Else the study would be judged by the spread alone, and nothing would say so."""


_WHO = [in_text(the[f"study_person_{person}"]) for person in PEOPLE]
_NAMED_TWICE = any_of(*(all_of(given(one), one.same(other)) for one, other in combinations(_WHO, 2)))


def _to_ask() -> Node:
    """Entries that look mistyped, though each could be: a reading, or the width of the tolerance."""
    ranges, spread = _of_people("range"), xl.MAX(GRID) - xl.MIN(GRID)
    widest = xl.MAX(*ranges)
    others = (xl.SUM(*ranges) - widest) / (xl.COUNT(*ranges) - 1)
    places = (xl.MATCH(widest, one, 0) for one in ranges)
    whose = first(*((known(at), say("part ", at, " by person ", who.upper())) for who, at in zip(PEOPLE, places)))
    apart = all_of(others > 0, widest > FAR_APART * others, 2 * widest > spread)
    width = the.study_tolerance_width_used
    return say(
        when(apart, say("CHECK ENTRY: the readings of ", whose, " are far apart. ")),
        when(known(width), when(width > TOO_WIDE * spread, "CHECK ENTRY: a tolerance very wide for these readings. ")),
    )


def in_words() -> Node:
    """The study in words, or what is missing."""
    short = xl.MATCH(1, the.study_short, 0)
    not_complete = say(
        "Next: part ", short, " has ", xl.INDEX(the.study_got, short), " of ", the.study_people * the.study_trials,
        " readings as numbers; every person reads every part ", the.study_trials, " times.",
    )  # fmt: skip
    share, whole = the.study_grr_anova_percent, the.study_grr_by_anova_tolerance
    worst = xl.MAX(share, whole)
    told = say(
        when(given(the.study_instrument_words), "CHECK INSTRUMENT. "),
        _to_ask(),
        "The gauge and the people take ", fixed(share, 1), " % of the spread",
        when(known(whole), say(" and ", fixed(whole, 1), " % of the tolerance")), ": ",
        _by_the_manual(worst),
        " by the manual. ",
        when(known(the.study_ndc_by_anova), say("It tells apart ", the.study_ndc_by_anova, " groups of parts",
                                         when(the.study_ndc_by_anova < 5, "; 5 or more are wanted.", "."))),
        when(the.study_av_by_anova > the.study_ev_by_anova,
             " More of it lies between the people than in the gauge: look at how they hold it."),
    )  # fmt: skip
    return first(
        (the.study_parts.same(0), "Next: type the readings, one row a part, every person the same number of times."),
        (the.study_people < 2, "Next: readings of a second person."),
        (the.study_trials < 2, "Next: a second reading of each part."),
        (the.study_parts < 2, "Next: a second part."),
        (xl.COUNT(GRID) < xl.COUNTA(GRID), not_complete),
        (any_of(xl.MAX(GRID) > MOST, xl.MIN(GRID) < -MOST), f"Check entry: a reading is beyond {MOST}."),
        (no(the.study_ready), not_complete),
        (no(known(share)), "All readings are alike: no spread to compute from. Read finer, or check them."),
        (no(ANY_REPEAT_DIFFERS), f"All {gauge_study.ALL_ALIKE}"),
        (no(_WIDTH_IS_USED), "Check entry: the width of the tolerance is a length, more than zero; or leave it empty."),
        (given(the.study_unnamed), say("Next: name the ", xl.MID(the.study_unnamed, 3, 99), ".")),
        (_NAMED_TWICE, "Check entry: two people have the same name; what lies between people needs different ones."),
        otherwise=told,
    )
