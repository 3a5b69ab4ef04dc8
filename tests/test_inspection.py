"""Verdicts, capability and 20 degrees against published examples, a library, simulation and arithmetic by hand."""

from __future__ import annotations

import random
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import agrees, rows
from scipy import stats

from sheetfuncs import CellError, evaluate, inspection

DECISIONS = [  # ILAC-G8:09/2019, 4.2 with w = U; limits +/-0.003 less and more U 0.001: 0.002 and 0.004
    (0.0017, "guard", "accept"),
    (0.0025, "guard", "undecided"),
    (0.002, "guard", "accept"),  # on the acceptance limit, 0.003 - 0.001 in binary or not
    (-0.002, "guard", "accept"),
    (0.003, "guard", "undecided"),
    (0.0035, "guard", "undecided"),
    (0.0041, "guard", "reject"),
    (-0.0041, "guard", "reject"),
    (0.003, "simple", "accept"),
    (0.0031, "simple", "reject"),
    (-0.0031, "simple", "reject"),
]


@pytest.mark.parametrize(("value", "rule", "word"), DECISIONS)
def test_verdicts(value: float, rule: str, word: str) -> None:
    assert evaluate("THREAD_VERDICT", value, -0.003, 0.003, 0.001, rule) == word


def test_one_sided_and_columns() -> None:
    assert evaluate("THREAD_VERDICT", [[0.02], [None], [0.06], ["x"]], None, 0.05)[:3] == [["accept"], [""], ["reject"]]
    words = [evaluate("THREAD_VERDICT", value, None, 0.05, 0.005) for value in (0.045, 0.048, 0.053, 0.056)]
    assert words == ["accept", "undecided", "undecided", "reject"]
    assert evaluate("THREAD_VERDICT", 3.99, 4, None, 0.02) == "undecided"
    assert evaluate("THREAD_VERDICT", 5, 4) == "accept"
    assert evaluate("THREAD_VERDICT", 10.3 - 0.1, 10.1, 10.2) == "accept"  # 10.200000000000001 in binary


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ((1, None, None), "give at least one"),
        ((1, 2, 1), "exchange them"),
        ((1, 0, 2, None, "guard"), "the guard rule needs it"),
        ((1, 0, 2, -1, "guard"), "more than zero"),
        ((1, 0, 2, 0.1, "strict"), "choose simple or guard"),
        (("one", 0, 2), "value is 'one'"),
    ],
)
def test_a_verdict_refuses_in_words(args: tuple, words: str) -> None:
    with pytest.raises(CellError, match=words):
        evaluate("THREAD_VERDICT", *args)


@given(st.floats(-2, 2), st.floats(0.001, 0.4))
def test_the_guard_rule_is_the_stricter(value: float, guard: float) -> None:
    simple, guarded = (inspection.verdict(value, -1.0, 1.0, guard, rule) for rule in ("simple", "guard"))
    assert guarded in (simple, "undecided")


@pytest.mark.parametrize("row", rows("capability_examples"), ids=lambda row: row["source"])
def test_capability_examples(row: dict[str, str]) -> None:
    mean, s = float(row["mean"]), float(row["s"])
    found = evaluate("THREAD_CAPABILITY", [[mean - s], [mean], [mean + s]], float(row["low"]), float(row["high"]))[0]
    assert found[1:3] == pytest.approx([mean, s])
    assert agrees(found[3], row["cp"])
    if row["cpk"]:
        assert agrees(found[4], row["cpk"])
    if row["cp_from"]:
        ends = inspection.cp_limits(float(row["cp"]), int(row["n"]))
        assert agrees(ends[0], row["cp_from"])
        assert agrees(ends[1], row["cp_to"])


def test_a_capability_by_one_limit_is_that_of_the_handbook() -> None:
    """Cpu = (USL - mean) / 3 s .6667, Cpl = (mean - LSL) / 3 s 1.3333 (NIST/SEMATECH e-Handbook, 6.1.6); no Cp."""
    readings = [[14], [16], [18]]
    for low, high, index in ((None, 20, 0.6667), (8, None, 1.3333), (8, 20, 0.6667)):
        row = evaluate("THREAD_CAPABILITY", readings, low, high)[0]
        assert row[4] == pytest.approx(index, abs=5e-5)
        half = stats.norm.ppf(0.975) * (1 / 27 + index**2 / 4) ** 0.5
        assert row[5:7] == pytest.approx([index - half, index + half], abs=1e-4)
        missing = "low" if low is None else "high"
        one_sided = low is None or high is None
        assert (row[3] == "", row[7:9] == ["", ""]) == (one_sided, one_sided)
        assert row[9].startswith(f"one-sided: there is no {missing} limit, so no Cp") == one_sided
    assert evaluate("THREAD_CAPABILITY", readings, 8)[0] == evaluate("THREAD_CAPABILITY", readings, 8, None)[0]
    for limits in ((), (None, None), ("", "")):
        with pytest.raises(CellError, match="low and high are both empty"):
            evaluate("THREAD_CAPABILITY", readings, *limits)
    with pytest.raises(CellError, match="fill the empty one"):  # a blank cell comes from Calc as 0
        evaluate("THREAD_CAPABILITY", readings, 8, 0)
    assert "high is 0: fill its cell" in evaluate("THREAD_CAPABILITY", readings, None, 0)[0][9]


def test_the_intervals_hold_the_true_value_as_often_as_they_say() -> None:
    draw = random.Random(3)
    inside_cp = inside_cpk = 0
    studies = 2000
    for _ in range(studies):
        readings = [draw.gauss(0.2, 1.0) for _ in range(60)]  # Cp 4/3, Cpk 3.8/3
        row = inspection.capability(readings, -4.0, 4.0)[0]
        inside_cpk += row[5] <= 3.8 / 3 <= row[6]
        inside_cp += row[7] <= 4 / 3 <= row[8]
    assert inside_cp / studies == pytest.approx(0.95, abs=0.015)
    assert inside_cpk / studies == pytest.approx(0.95, abs=0.015)


def test_trend_is_the_t_test_of_a_library() -> None:
    draw = random.Random(5)
    for _ in range(20):
        readings = [draw.gauss(0.05 * place, 1.0) for place in range(draw.randint(6, 40))]
        slope, chance = inspection.trend(readings)
        fitted = stats.linregress(range(len(readings)), readings)
        assert (slope, chance) == pytest.approx((fitted.slope, fitted.pvalue), rel=1e-9)


def remark(readings: list[float]) -> str:
    return evaluate("THREAD_CAPABILITY", [[reading] for reading in readings], -100, 100)[0][-1]


def test_remarks() -> None:
    draw = random.Random(8)
    steady = [draw.gauss(0, 1) for _ in range(60)]
    assert remark(steady) == ""
    assert "stability can't be judged" in remark(steady[:12])
    assert remark(steady[:30]).startswith("n is 30: the interval is wide")
    for way, step in (("rise", 0.05), ("fall", -0.05)):
        told = remark([reading + step * place for place, reading in enumerate(steady)])
        assert told.startswith(f"trend: readings {way} by 0.0")
        assert told.endswith(
            "find the cause first: a wearing tool makes an outside thread larger, an inside one smaller"
        )
        assert "regrind" not in told
    shifted = [*steady[:26], *(abs(reading) + 0.5 for reading in steady[26:34]), *steady[34:]]
    assert "8 in a row" in remark(shifted)
    assert "beyond the individuals chart" in remark([*steady[:30], 9.0, *steady[30:]])
    assert "low is 0" in evaluate("THREAD_CAPABILITY", steady, 0, 100)[0][-1]
    on_the_mean = remark([0.2, 0.4, *[0.3] * 10])  # 3.6 / 12 is 0.3, on neither side; the floats' mean is a bit less
    assert "in a row" not in on_the_mean
    flat = [1.0, 2.0, 3.0]
    assert "trend" not in remark(flat)  # three in line may be rounding


@pytest.mark.parametrize("step", [4, 3.8])
def test_a_step_between_two_readings_has_its_own_limit(step: float) -> None:
    """By hand: 25 steps, 22 of 1, the others 2, 2 and 4, have the mean 1.2 and the limit 3.267 x 1.2 = 3.92."""
    readings = [0, 1] * 6 + [-step / 4, 3 * step / 4] + [1, 0] * 6
    steps = [abs(after - before) for before, after in zip(readings, readings[1:])]
    assert (len(steps), sum(steps) / 25) == (25, pytest.approx(1.2 if step == 4 else 1.184))
    assert ("a step between two readings over its limit" in remark(readings)) == (step == 4)
    assert "individuals chart" not in remark(readings)  # the farthest is 3 - 0.54, the limit 2.66 x 1.2 = 3.19


def test_blanks_are_passed_over_and_texts_refused() -> None:
    found = evaluate("THREAD_CAPABILITY", [[14], [None], [16], [""], [18]], 8, 20)[0]
    assert found[:3] == [3, 16, 2]
    for bad, words in (("n/a", "readings is 'n/a'"), (True, "readings is"), ("16,2", "readings is '16,2'")):
        with pytest.raises(CellError, match=words):
            evaluate("THREAD_CAPABILITY", [[14], [bad], [18]], 8, 20)
    with pytest.raises(CellError, match="readings has 1 number"):
        evaluate("THREAD_CAPABILITY", [[14], [""]], 8, 20)
    with pytest.raises(CellError, match="readings are all 14"):
        evaluate("THREAD_CAPABILITY", [[14], [14]], 8, 20)
    assert evaluate("THREAD_CAPABILITY", [[None], [""]], 8, 20) == ""


def test_at_20_degrees() -> None:
    """By hand: 100 mm of aluminium, 10 degrees too warm, are 0.0231 mm too long; ISO 1: at 20 nothing changes."""
    assert evaluate("THREAD_AT_20C", 100, 30, "aluminium") == pytest.approx(100 - 0.0231, abs=1e-4)
    assert evaluate("THREAD_AT_20C", 100, 20, "Brass") == 100
    assert evaluate("THREAD_AT_20C", 1, 10, 1e-5) == pytest.approx(1 / (1 - 1e-4))
    assert evaluate("THREAD_AT_20C", 1, 10, "0.00001") == evaluate("THREAD_AT_20C", 1, 10, 1e-5)
    assert evaluate("THREAD_AT_20C", [[1.0], [None]], 20, "steel") == [[1.0], [""]]
    # 9.4 millionths of an inch per inch and degree Fahrenheit (OD1642) over 18 degrees Fahrenheit, 10 Celsius
    assert evaluate("THREAD_AT_20C", 1, 30, "copper") == pytest.approx(1 / (1 + 18 * 9.4e-6))


@pytest.mark.parametrize("typed", ["30 C", "30 °C", "30 deg C", "30 degrees", "86 F", "86°F", "86 degrees Fahrenheit"])
def test_a_temperature_may_say_its_scale(typed: str) -> None:
    """86 degrees Fahrenheit are 30 Celsius: (86 - 32) / 1.8."""
    assert evaluate("THREAD_AT_20C", 100, typed, "steel") == pytest.approx(100 / (1 + 10 * 11.5e-6), abs=1e-12)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ((1, 68, "steel"), "20 C is 68 F"),
        ((1, "303 K", "steel"), "write degrees Celsius as a bare number, or say C or F, as in 30 C or 86 F"),
        ((1, "warm", "steel"), "write degrees Celsius as a bare number"),
        (("1 in", 30, "steel"), "measured is '1 in'; write the number alone, without 'in'"),
        ((1, 25, 11.5), "expansion per degree Celsius"),
        ((1, 25, "wood"), "choose steel"),
        ((-1, 25, "steel"), "measured is -1"),
    ],
)
def test_at_20_refuses_in_words(args: tuple, words: str) -> None:
    with pytest.raises(CellError, match=words):
        evaluate("THREAD_AT_20C", *args)


def test_infinite_limits() -> None:
    assert inspection.verdict(5.0, -inf, 6.0) == "accept"
