"""Quantiles against printed tables, a library, and known values in closed form."""

from __future__ import annotations

from math import inf, log, pi, sqrt, tan

import pytest
from published_rows import agrees, every_row, last_place, rows
from scipy import stats

from sheetfuncs import quantiles

PRINTED = [row for row in rows("quantiles") if row["distribution"] != "F"]
PRINTED_F = [row for row in rows("quantiles") if row["distribution"] == "F"]
NAMED = {"t": quantiles.t, "chi-square": quantiles.chi_square}


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: "-".join(row.values()))
def test_the_digits_of_printed_tables(row: dict[str, str]) -> None:
    p = float(row["p"])
    if row["distribution"] == "normal":
        assert agrees(quantiles.normal(p), row["printed"])
        assert agrees(quantiles.t(p, inf), row["printed"])
    else:
        assert agrees(NAMED[row["distribution"]](p, float(row["freedom"])), row["printed"])


@pytest.mark.parametrize("row", rows("student_tn1297"), ids=lambda row: row["freedom"])
def test_the_factors_of_a_technical_note(row: dict[str, str]) -> None:
    """NIST TN 1297, Table B.1. Its 68.27, 95.45 and 99.73 percent stand for 1, 2 and 3 standard deviations."""
    for name in ("p68.27", "p90", "p95", "p95.45", "p99", "p99.73"):
        percent = float(name[1:])
        sigmas = {68.27: 1, 95.45: 2, 99.73: 3}.get(percent)
        p = stats.norm.cdf(sigmas) if sigmas else (1 + percent / 100) / 2
        assert agrees(quantiles.t(float(p), float(row["freedom"])), row[name]), name


def test_a_misprint_does_not_agree() -> None:
    (flagged,) = (row for row in every_row("quantiles") if row["flag"])
    assert not agrees(quantiles.t(float(flagged["p"]), float(flagged["freedom"])), flagged["printed"])


@pytest.mark.parametrize("row", PRINTED_F, ids=lambda row: "-".join(row.values()))
def test_five_per_cent_lies_at_the_printed_f(row: dict[str, str]) -> None:
    half = last_place(row["printed"]) / 2
    freedom = float(row["freedom"]), float(row["freedom_below"])
    more, less = (quantiles.f_tail(float(row["printed"]) + step, *freedom) for step in (-half, half))
    assert less < 0.05 < more


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 9, 18, 60, 78, 500, 5000])
def test_a_library_finds_the_same(freedom: int) -> None:
    for p in (1e-4, 0.005, 0.025, 0.1, 0.5, 0.9, 0.975, 0.9999):
        assert quantiles.chi_square(p, freedom) == pytest.approx(stats.chi2.ppf(p, freedom), rel=1e-10)
        assert quantiles.t(p, freedom) == pytest.approx(stats.t.ppf(p, freedom), rel=1e-8, abs=1e-9)
        assert quantiles.normal(p) == pytest.approx(stats.norm.ppf(p), rel=1e-12, abs=1e-12)
        for value in (0.1, 1.0, 4.0):
            assert quantiles.f_tail(value, 3, freedom) == pytest.approx(stats.f.sf(value, 3, freedom), abs=1e-12)
            assert quantiles.t_tail(value, freedom) == pytest.approx(2 * stats.t.sf(value, freedom), abs=1e-11)


@pytest.mark.parametrize("freedom", [99_999, 100_000, 1e6, 1e9, 1e12, 1e14, 5e16, 1e24])
def test_many_degrees_of_freedom_come_to_the_normal_distribution(freedom: float) -> None:
    """A source that hardly counts leaves as many to a budget; the factor is 2 and never less than the normal one."""
    for p in (0.025, 0.5, 0.9, 0.975, 0.97725, 0.9999):
        assert quantiles.t(p, freedom) == pytest.approx(stats.t.ppf(p, freedom), rel=1e-8, abs=1e-9)
    assert quantiles.t(0.97725, freedom) >= quantiles.normal(0.97725)


@pytest.mark.parametrize("p", [0.01, 0.3, 0.5, 0.8, 0.99])
def test_closed_forms(p: float) -> None:
    """Chi-square of 2 is exponential, t of 1 Cauchy's, t of 2 algebraic."""
    assert quantiles.chi_square(p, 2) == pytest.approx(-2 * log(1 - p), rel=1e-11)
    assert quantiles.t(p, 1) == pytest.approx(tan(pi * (p - 0.5)), abs=1e-9, rel=1e-9)
    assert quantiles.t(p, 2) == pytest.approx((2 * p - 1) / sqrt(2 * p * (1 - p)), abs=1e-9, rel=1e-9)


def test_the_tail_of_nothing_is_everything() -> None:
    assert quantiles.f_tail(0.0, 3, 5) == 1
    assert quantiles.t_tail(0.0, 5) == 1
