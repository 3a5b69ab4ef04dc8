"""The gauge study against the printed results of AIAG's data, integration, simulation and plain sums."""

from __future__ import annotations

import random
from math import sqrt

import numpy
import pytest
from published_rows import agrees, rows
from scipy import integrate, stats

from sheetfuncs import CellError, evaluate, gauge_study, tables

CELLS = [
    [number, row["appraiser_trial"][0], float(row[f"part{number}"])]
    for row in rows("grr_aiag_data")
    for number in range(1, 11)
]
PRINTED = {(row["method"], row["quantity"]): row["value"] for row in rows("grr_aiag_results")}
ROW_OF = {
    "EV": "repeatability EV",
    "AV": "reproducibility AV",
    "GRR": "repeatability and reproducibility GRR",
    "PV": "parts PV",
    "TV": "total TV",
    "Rbarbar": "mean range of the trials",
    "Xdiff": "range of the appraisers' means",
    "ndc": "distinct categories ndc",
}


@pytest.fixture(scope="module")
def table() -> dict[str, list]:
    return {row[0]: row for row in evaluate("THREAD_GAUGE_STUDY", [["part", "appraiser", "reading"], *CELLS])[1:]}


@pytest.mark.parametrize(
    ("method", "quantity"), [key for key in PRINTED if key[1] in ROW_OF], ids=lambda part: part.replace(" ", "-")
)
def test_results_are_those_printed(table: dict[str, list], method: str, quantity: str) -> None:
    column = 1 if method == "average-range" else 3
    assert agrees(table[ROW_OF[quantity]][column], PRINTED[method, quantity].split(" ")[0])


def test_per_cent_and_limits_are_those_printed(table: dict[str, list]) -> None:
    grr, ev = table[ROW_OF["GRR"]], table[ROW_OF["EV"]]
    assert agrees(grr[2], PRINTED["average-range", "pctGRR"])
    assert agrees(grr[4], PRINTED["ANOVA pooled", "pct study GRR"])
    low, high = PRINTED["ANOVA pooled", "EV 90% limits"].split(" - ")
    assert agrees(ev[5], low)
    assert agrees(ev[6], high)
    assert table["interaction"][3] == 0
    assert "pooled" in table["interaction"][7]


@pytest.mark.parametrize("row", tables.rows("average_range"), ids=lambda row: row["m"])
def test_mean_ranges_by_integration(row: dict[str, str]) -> None:
    """d2 is the integral of 1 - F^m - (1 - F)^m; the mean square of the range a double one."""
    m = int(row["m"])
    d2 = integrate.quad(lambda x: 1 - stats.norm.sf(x) ** m - stats.norm.cdf(x) ** m, -12, 12, epsabs=1e-11)[0]
    assert agrees(d2, row["d2"])
    step = 0.01
    below = stats.norm.cdf(numpy.arange(-8, 8 + step / 2, step))
    low, high = numpy.meshgrid(below, below, indexing="ij")
    inner = 1 - high**m - (1 - low) ** m + numpy.clip(high - low, 0, None) ** m
    square = 2 * (numpy.triu(inner).sum() - numpy.trace(inner) / 2) * step**2
    assert sqrt(square) == pytest.approx(float(row["d2_star"]), abs=2.5e-5)


@pytest.mark.parametrize("row", rows("range_factors"), ids=lambda row: row["n"])
def test_mean_ranges_as_a_statistics_text_prints_them(row: dict[str, str]) -> None:
    """d2 to its digits, and d2* of one group is the root of d2 squared and d3 squared."""
    (held,) = (one for one in tables.rows("average_range") if one["m"] == row["n"])
    d2, d3 = float(row["d2"]), float(row["d3"])
    assert agrees(float(held["d2"]), row["d2"])
    assert float(held["d2_star"]) == pytest.approx(sqrt(d2**2 + d3**2), abs=7e-4)


@pytest.mark.parametrize("row", rows("gauge_study_constants"), ids=lambda row: f"{row['quantity']} {row['for']}")
def test_constants_as_users_of_the_manual_quote_them(row: dict[str, str]) -> None:
    """K1 is 1 / d2 of the trials, K2 and K3 are 1 / d2* of the appraisers and of the parts."""
    m = int(row["for"].split()[0])
    (d2,) = (float(one["d2"]) for one in tables.rows("average_range") if one["m"] == str(m))
    star = gauge_study.d2_star(m, 1)
    values = {"K1": 1 / d2, "K2": 1 / star, "K3": 1 / star, "d2*": star}
    if row["quantity"] == "D4":  # limits of a range chart: 1 + 3 d3 / d2, no figure of a gauge study here
        return
    assert agrees(values[row["quantity"]], row["printed"], row["quantity"] != "d2*")


def test_spreads_put_in_come_out() -> None:
    """Simulated studies: the mean squares of what ANOVA finds are the variances that were put in."""
    draw = random.Random(11)
    sums = [0.0] * 3
    studies = 60
    for _ in range(studies):
        parts = [draw.gauss(0, 3.0) for _ in range(10)]
        people = [draw.gauss(0, 1.5) for _ in range(8)]
        block = [
            [part, person, true + bias + draw.gauss(0, 1.0)]
            for part, true in enumerate(parts)
            for person, bias in enumerate(people)
            for _ in range(2)
        ]
        found = gauge_study.analysis_of_variance(gauge_study.read_study(block)).spread
        for place, spread in enumerate((found.ev, found.av, found.pv)):
            sums[place] += spread**2 / studies
    assert sums == pytest.approx([1.0, 2.25, 9.0], rel=0.25)


def test_an_interaction_is_found_and_kept() -> None:
    """By hand: person B reads part 2 by 1 too high, trials 0.1 apart: the interaction must not be pooled."""
    block = [
        [part, who, part + (part == 2 and who == "B") + trial / 10]
        for part in (1, 2, 3)
        for who in "AB"
        for trial in (0, 1)
    ]
    study = gauge_study.read_study(block)
    found = gauge_study.analysis_of_variance(study)
    assert not found.pooled
    # cells' deviations from the two margins: +-1/6 (four) and +-1/3 (two), times 2 trials, over 2 degrees of freedom
    between = 2 * (4 / 36 + 2 / 9) / 2
    assert found.spread.interaction**2 == pytest.approx((between - 0.005) / 2)
    assert found.spread.ev**2 == pytest.approx(0.005)


COPIED = (0.7649, 0.7631, 0.7654, 0.7610, 0.7646)
LARGE_AND_NEAR = tuple(20 + value / 100 for value in COPIED)


def copied(
    people: str, trials: int, parts: tuple[float, ...] = COPIED, off: dict[tuple[int, str], float] | None = None
) -> list[list[object]]:
    """Every trial of a part by a person alike, all people of one mind but where one is off."""
    return [
        [part, who, value + (off or {}).get((part, who), 0.0)]
        for part, value in enumerate(parts)
        for who in people
        for _ in range(trials)
    ]


@pytest.mark.parametrize("parts", [COPIED, LARGE_AND_NEAR], ids=["small", "large-and-near"])
@pytest.mark.parametrize(("people", "trials"), [("ABC", 3), ("AB", 2), ("ABCDE", 4)])
def test_repeats_that_are_all_alike_tell_nothing_of_the_gauge(
    people: str, trials: int, parts: tuple[float, ...]
) -> None:
    """In whatever order of rows: no groups are counted, nothing is good, and PV is the spread of the five parts."""
    for seed in range(12):
        block = copied(people, trials, parts)
        random.Random(seed).shuffle(block)
        found = {row[0]: row for row in evaluate("THREAD_GAUGE_STUDY", block, 0.006)[1:]}
        assert found[ROW_OF["ndc"]][1:5] == ["", "", "", ""]
        assert [found[ROW_OF[name]][3] for name in ("EV", "AV", "GRR")] == [0.0] * 3
        assert found["interaction"][3:5] == [0.0, 0.0]
        assert found[ROW_OF["PV"]][3] == pytest.approx(numpy.std(parts, ddof=1), rel=1e-9)
        for label in (ROW_OF["GRR"], "6 GRR of the tolerance, per cent"):
            assert found[label][7] == "all repeats are alike: read finer, or were they copied?"


def test_a_part_that_one_person_reads_otherwise_is_an_interaction_without_repeats() -> None:
    """By hand: 0.0004 too much in one of 5 x 2 cells leaves 0.0004 x 4/5 x 1/2 there, of squares 0.0004^2 x 4/10."""
    study = gauge_study.read_study(copied("AB", 3, off={(2, "B"): 0.0004}))
    found = gauge_study.analysis_of_variance(study)
    assert (found.chance, found.pooled, found.spread.ev) == (0.0, False, 0.0)
    assert found.spread.interaction**2 == pytest.approx(3 * 0.0004**2 * 4 / 10 / 4 / 3, rel=1e-9)


def test_order_and_names_do_not_matter(table: dict[str, list]) -> None:
    shuffled = [[f" {part}.0" if part % 2 else str(part), who.lower(), str(value)] for part, who, value in CELLS]
    random.Random(1).shuffle(shuffled)
    again = {row[0]: row for row in evaluate("THREAD_GAUGE_STUDY", [*shuffled, [None, "", None]])[1:]}
    for name, row in table.items():
        assert again[name][1:7] == pytest.approx(row[1:7])


@pytest.mark.parametrize(
    "heads", [["part", "operator", "mm"], ["Teil", "Prüfer", "Maß 1"], ["PART", "APPRAISER", "READING"]]
)
def test_a_row_of_headings_is_passed_over_whatever_its_words(table: dict[str, list], heads: list[str]) -> None:
    assert evaluate("THREAD_GAUGE_STUDY", [heads, *CELLS])[1:] == list(table.values())
    with pytest.raises(CellError, match="study row 2 has the reading"):
        evaluate("THREAD_GAUGE_STUDY", [CELLS[0], heads, *CELLS[1:]])


def test_parts_may_be_named_by_their_serial_numbers(table: dict[str, list]) -> None:
    """All of their digits tell them apart, and so does 1e9 and one part more."""
    named = [[1_000_000_000 + part, who, value] for part, who, value in CELLS]
    again = {row[0]: row for row in evaluate("THREAD_GAUGE_STUDY", named)[1:]}
    for name, row in table.items():
        assert again[name][1:7] == row[1:7]


def test_share_of_the_tolerance(table: dict[str, list]) -> None:
    found = evaluate("THREAD_GAUGE_STUDY", CELLS, 8.0)[-1]
    assert found[2] == pytest.approx(6 * table[ROW_OF["GRR"]][1] / 8 * 100)
    assert found[4] == pytest.approx(6 * table[ROW_OF["GRR"]][3] / 8 * 100)


@pytest.mark.parametrize(
    ("block", "words"),
    [
        ([[1, "A", 2.0], [1, "A", "x"]], "study row 2 has the reading 'x'"),
        ([[1, "A", 2.0], [1, "A", True]], "study row 2 has the reading"),
        ([[1, "A", True], [1, "A", 2.0]], "study row 1 has the reading"),
        ([[1, "A", "2,0"], [1, "A", 2.0]], "study row 1 has the reading '2,0'; write a number, with a point for dec"),
        ([["part", "operator", ""], [1, "A", 2.0]], "study row 1 is"),
        ([[1, "A", 2.0], [1, "", 2.0]], "study row 2 is"),
        ([[1, "A"], [1, "B"]], "each row is part, appraiser, reading"),
        (CELLS[:-1], "study has 2 of 3 readings of part 10 by C"),
        ([[1, "A", 2.0], [1, "A", 2.1]], "1 part, 1 appraiser and 2 trials"),
        ([[part, who, 5.0] for part in (1, 2) for who in "AB" for _ in (1, 2)], "no spread"),
        ([[part, who, part] for part in range(21) for who in "AB" for _ in (1, 2)], "up to 20"),
        ([[1, "A", "#N/A"], [1, "A", 2.0]], "holds the error #N/A"),
        (5.0, "a range of three columns"),
    ],
)
def test_a_study_refuses_in_words(block: object, words: str) -> None:
    with pytest.raises(CellError, match=words):
        evaluate("THREAD_GAUGE_STUDY", block)
