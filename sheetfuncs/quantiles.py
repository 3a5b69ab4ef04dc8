"""Quantiles of the normal, chi-square, t and F distributions, with the standard library alone.

The regularized incomplete gamma function P(a, x) by its series for x < a + 1, by a continued fraction beyond; the
regularized incomplete beta function by its continued fraction; both in Lentz's way (Numerical Recipes, 6.2 and 6.4; the
fractions are Abramowitz and Stegun 6.5.31 and 26.5.8). Quantiles by bisection: slow, and never lost.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import erfc, exp, inf, lgamma, log, sqrt

_TINY = 1e-300
_STEPS = 10_000
_MANY = 1e5
"""Degrees of freedom from which t is got from the normal distribution: the beta function loses its digits beyond."""


@lru_cache(maxsize=256)
def normal(probability: float) -> float:
    """The value that a standard normal variable stays under with this probability.

    >>> round(normal(0.975), 6)
    1.959964
    """
    return _bisect(lambda z: erfc(-z / sqrt(2)) / 2, probability, -40.0, 40.0)


@lru_cache(maxsize=256)
def chi_square(probability: float, freedom: float) -> float:
    """The same for chi-square with these degrees of freedom.

    >>> round(chi_square(0.95, 10), 3)
    18.307
    """
    return _bisect(lambda x: gamma_p(freedom / 2, x / 2), probability, 0.0, _beyond(freedom))


@lru_cache(maxsize=256)
def t(probability: float, freedom: float) -> float:
    """The same for Student's t; infinite degrees of freedom give the normal distribution.

    >>> round(t(0.975, 10), 3), t(0.975, inf) == normal(0.975)
    (2.228, True)
    """
    if freedom == inf:
        return normal(probability)
    if probability < 0.5:
        return -t(1 - probability, freedom)
    if freedom >= _MANY:  # Abramowitz and Stegun 26.7.5; the next term is far below a float's last digit
        z = normal(probability)
        return z + (z**3 + z) / (4 * freedom) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
    share = _bisect(lambda x: 1 - beta_i(freedom / 2, 0.5, 1 - x), 2 * probability - 1, 0.0, 1.0)
    return sqrt(freedom * share / (1 - share)) if share < 1 else inf


def t_tail(value: float, freedom: float) -> float:
    """Two-sided: how probable a t at least this far from zero is.

    >>> round(t_tail(2.228139, 10), 4)
    0.05
    """
    return beta_i(freedom / 2, 0.5, freedom / (freedom + value * value))


def f_tail(value: float, upper: float, lower: float) -> float:
    """How probable an F at least this large is, `upper` and `lower` the degrees of freedom.

    >>> round(f_tail(4.964603, 1, 10), 4)
    0.05
    """
    return beta_i(lower / 2, upper / 2, lower / (lower + upper * value)) if value > 0 else 1.0


def gamma_p(a: float, x: float) -> float:
    """Regularized lower incomplete gamma function.

    >>> round(gamma_p(1.0, 2.0), 12) == round(1 - exp(-2.0), 12)
    True
    """
    if x <= 0:
        return 0.0
    front = exp(a * log(x) - x - lgamma(a))
    if x >= a + 1:
        return 1 - front * _continued(x + 1 - a, lambda n: (-n * (n - a), x + 1 - a + 2 * n))
    term = total = 1 / a
    for n in range(1, _STEPS):
        term *= x / (a + n)
        total += term
        if term < total * 1e-16:
            break
    return front * total


def beta_i(a: float, b: float, x: float) -> float:
    """Regularized incomplete beta function.

    >>> round(beta_i(2.0, 3.0, 0.4), 4)
    0.5248
    """
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - beta_i(b, a, 1 - x)

    def part(n: int) -> tuple[float, float]:
        m = n // 2
        if n % 2:
            return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)), 1.0
        return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)), 1.0

    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log(1 - x))
    return front * _continued(1.0, part) / a


def _continued(first: float, part: Callable[[int], tuple[float, float]]) -> float:
    """1 / (first + a1 / (b1 + a2 / (b2 + ...))), `part` giving a and b of a step."""
    value = first or _TINY
    c, d = value, 0.0
    for n in range(1, _STEPS):
        a, b = part(n)
        d = 1 / ((b + a * d) or _TINY)
        c = (b + a / c) or _TINY
        value *= c * d
        if abs(c * d - 1) < 1e-16:
            break
    return 1 / value


def _beyond(freedom: float) -> float:
    """A value no chi-square quantile in use reaches."""
    return freedom + 40 * sqrt(2 * freedom) + 800


def _bisect(rising: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if rising(middle) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2
