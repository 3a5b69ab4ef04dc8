"""Sampling plans against other copies of the standard's tables, their own order, and the switching rules retold."""

from __future__ import annotations

import random

import pytest
from published_rows import every_row, rows

from sheetfuncs import CellError, evaluate, sampling, tables
from sheetfuncs.terms import TERMS

AQLS = ("0.65", "1.0", "1.5", "2.5", "4.0", "6.5", "10", "15")
GUIDE = [(row, aql) for row in rows("sampling_guide") for aql in AQLS]


@pytest.mark.parametrize(("row", "aql"), GUIDE, ids=lambda value: value if isinstance(value, str) else value["letter"])
def test_each_cell_of_another_copy(row: dict[str, str], aql: str) -> None:
    """A plan's n and Re, and which way each arrow points."""
    table = {one["letter"]: one for one in tables.rows(f"sampling_{row['severity']}")}
    printed = table[row["letter"]]
    assert printed["n"] == row["n"]
    assert printed[aql].rpartition("/")[2] == row[aql]
    if row[aql].isdigit():
        found = sampling.plan(row["letter"], float(aql), row["severity"])
        assert (found.n, found.accept, found.reject) == (int(row["n"]), int(row[aql]) - 1, int(row[aql]))


@pytest.mark.parametrize("row", rows("sampling_package"), ids=lambda row: row["severity"] + row["letter"])
def test_each_plan_of_a_statistics_package(row: dict[str, str]) -> None:
    """Every plan of the three tables, arrows followed."""
    for aql in list(row)[2:]:
        found = sampling.plan(row["letter"], float(aql), row["severity"])
        assert f"{found.n} {found.accept}/{found.reject}" == row[aql], aql


@pytest.mark.parametrize("row", every_row("sampling_guide"), ids=lambda row: row["severity"] + row["letter"])
def test_code_letters_of_level_ii(row: dict[str, str]) -> None:
    if row["lot_from"]:
        assert sampling.code_letter(int(row["lot_from"]), "II") == row["letter"]


@pytest.mark.parametrize("row", rows("sampling_code_letters"), ids=lambda row: row["lot_from"])
def test_code_letters_of_every_level(row: dict[str, str]) -> None:
    """The first and the last lot of each row, all seven levels."""
    starts = [int(one["lot_from"]) for one in rows("sampling_code_letters")]
    first = int(row["lot_from"])
    last = next((start - 1 for start in starts if start > first), 10 * first)
    for level in sampling.LEVELS:
        assert sampling.code_letter(first, level) == sampling.code_letter(last, level) == row[level]


@pytest.mark.parametrize("row", rows("sampling_rows"), ids=lambda row: row["letter"])
def test_each_row_has_the_plans_of_the_standards_text(row: dict[str, str]) -> None:
    (printed,) = (one for one in tables.rows("sampling_normal") if one["letter"] == row["letter"])
    cells = list(printed.values())[2:]
    assert [cell.partition("/")[2] for cell in cells if "/" in cell] == row["reject"].split()
    assert printed["n"] == row["n"]


@pytest.mark.parametrize("severity", ["normal", "tightened"])
def test_a_plan_stands_on_its_diagonal(severity: str) -> None:
    """One letter further and one AQL finer is the same Ac: n times AQL stays alike along the R5 series."""
    body = [list(row.values())[2:] for row in tables.rows(f"sampling_{severity}")][:16]
    for above, below in zip(body, body[1:]):
        for one, other in zip(above[1:], below):
            if "/" in one and "/" in other:
                assert one == other
    numbers = [[int(cell.split("/")[0]) for cell in row if "/" in cell] for row in body]
    assert all(row == sorted(set(row)) for row in numbers)


def test_arrows_lead_to_a_plan_on_the_side_they_point_to() -> None:
    for severity in TERMS["severity"].choices:
        body = tables.rows(f"sampling_{severity}")
        letters = [row["letter"] for row in body]
        for row in body[:16]:
            for aql in list(row)[2:]:
                found = sampling.plan(row["letter"], float(aql), severity)
                step = letters.index(found.letter) - letters.index(row["letter"])
                assert (step > 0) == (row[aql] == "v"), (severity, row["letter"], aql)
                assert (step < 0) == (row[aql] == "^"), (severity, row["letter"], aql)
                assert found.reject > found.accept >= 0


def test_code_letters_grow_with_lot_and_level() -> None:
    for low, high in zip(sampling.LEVELS[:3], sampling.LEVELS[1:4]):
        assert all(sampling.code_letter(lot, low) <= sampling.code_letter(lot, high) for lot in sampling.LOT_SIZES)
    for level in sampling.LEVELS:
        letters = [sampling.code_letter(lot, level) for lot in sampling.LOT_SIZES]
        assert letters == sorted(letters)
        first, last = sampling.code_letter(2, level), sampling.code_letter(10**9, level)
        assert (first, last) == (letters[0], letters[-1])


CALLS = [  # lot 2000, AQL 0.65, level II (Montgomery, FROM MEMORY; each plan is in AQLSchemes), and the arrows
    ((2000, 0.65), ["K", 125, 2, 3]),
    ((2000, 0.65, "II", "tightened"), ["K", 125, 1, 2]),
    ((2000, 0.65, "II", "reduced"), ["K", 50, 1, 3]),
    ((250, 1.0), ["G", 50, 1, 2]),
    ((1000, 1.0, "S-3"), ["E", 13, 0, 1]),
    ((600000, 0.025, "III", "tightened"), ["R", 3150, 1, 2]),
    ((600000, 0.015, "III"), ["R", 800, 0, 1]),
    ((8, 10, "i", "tightened"), ["A", 8, 1, 2]),
]


@pytest.mark.parametrize(("cells", "plan"), CALLS)
def test_plans(cells: tuple, plan: list) -> None:
    assert evaluate("THREAD_SAMPLE", *cells)[0][:4] == plan


def test_the_whole_lot_where_the_sample_reaches_it() -> None:
    found = evaluate("THREAD_SAMPLE", 12, 1.0)[0]
    assert found[:4] == ["B", 12, 0, 1]
    assert found[4].startswith("inspect all 12")
    assert "inspect all" not in evaluate("THREAD_SAMPLE", 14, 1.0)[0][4]


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ((1, 1.0), "begin with a lot of 2"),
        ((10.5, 1.0), "whole number"),
        ((100, 1.1), "the nearest is 1"),
        ((100, 1.0, "IV"), "choose s-1"),
        ((100, 1.0, "II", "soft"), "choose normal"),
        (("many", 1.0), "lot is 'many'"),
    ],
)
def test_sample_refuses_in_words(cells: tuple, words: str) -> None:
    with pytest.raises(CellError, match=words):
        evaluate("THREAD_SAMPLE", *cells)


def retold(results: list[str], state: str) -> str:
    """ISO 2859-1:1999, 9.3 and 9.4, lot by lot, counting back over the lots since the last switch."""
    since: list[str] = []
    for result in results:
        since.append(result)
        before = state
        if state == "normal":
            for length in range(2, 6):
                if len(since) >= length and since[-length:].count("rejected") >= 2:
                    state = "tightened"
        elif state == "tightened":
            if sum(one == "rejected" for one in since) >= 5:
                state = "discontinue"
            elif len(since) >= 5 and "rejected" not in since[-5:]:
                state = "normal"
        elif state == "reduced" and result == "rejected":
            state = "normal"
        if state != before:
            since = []
    return state


def test_switching_is_the_rule_retold() -> None:
    draw = random.Random(2)
    seen = set()
    for _ in range(400):
        results = ["rejected" if draw.random() < 0.35 else "accepted" for _ in range(draw.randint(1, 30))]
        start = draw.choice(TERMS["severity"].choices)
        found = evaluate("THREAD_SWITCHING", [[one] for one in results], start)[0][0]
        assert found == retold(results, start)
        seen.add(found)
    assert seen == {"normal", "tightened", "discontinue", "reduced"}


def test_switching_reads_words_and_refuses_others() -> None:
    assert evaluate("THREAD_SWITCHING", "a r A Reject")[0][0] == "tightened"
    assert evaluate("THREAD_SWITCHING", [["accepted"], [None], ["rejected"], [""]])[0] == ["normal", ""]
    assert evaluate("THREAD_SWITCHING", [["accepted", "rejected", "rejected"]])[0][0] == "tightened"
    for bad, words in (
        (["accepted", "maybe"], "'maybe' as result 2"),
        ([5.0, 1.0], "result 1"),
        (["#N/A", "a"], "#N/A"),
    ):
        with pytest.raises(CellError, match=words):
            evaluate("THREAD_SWITCHING", [[one] for one in bad])
