"""A price worked a second time, without the project's functions: pieces, checks and bars are counted one by one.

Fractions throughout, so that nothing is rounded but the price each, and that as money is: half a cent up.
"""

from __future__ import annotations

import random
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any, NamedTuple

THREADS = {
    "3/4-16 UNF-2A": Fraction(1, 16),
    "5/8-18 UNF-3A": Fraction(1, 18),
    "7/8-9 UNC-2A": Fraction(1, 9),
    "1-8 UNC-1A": Fraction(1, 8),
}
"""Callout -> pitch in inches: threads an inch, as its name says."""


class Worked(NamedTuple):
    """What comes out at one quantity."""

    make: int
    checks: int
    bars: int
    minutes: Fraction
    cost: Fraction
    each: Decimal
    price: Decimal


def drawn(draw: random.Random) -> dict[str, Any]:
    """Inputs of a job by their names on the sheets Estimate and Quote, decimals as a person types them."""

    def number(low: float, high: float, places: int) -> Decimal:
        return Decimal(str(round(draw.uniform(low, high), places)))

    every = draw.choice((None, 1, 3, 10, 200))
    values: dict[str, Any] = {
        "length": number(0.5, 1.9, 3),
        "rpm_1": draw.randint(60, 400),
        "passes_1": draw.randint(4, 30),
        "approach_1": number(0, 0.4, 2),
        "overrun_1": number(0, 0.2, 2),
        "return_seconds_1": number(0, 9, 1),
        "power_return_1": draw.choice(("yes", "no")),
        "setup_minutes_1": draw.randint(10, 120),
        "turning_1": number(1, 15, 2),
        "handling_1": number(0, 4, 2),
        "check_minutes": number(0, 3, 2),
        "gauged": None if every else Decimal(draw.randint(0, 100)) / 100,
        "every": every,
        "rest": Decimal(draw.choice((0, 5, 12, 15, 20))) / 100,
        "part_size": Decimal("1.1"),
        "bar_shape": "round",
        "bar_size": Decimal("1.125"),
        "bar_length": draw.choice((Decimal(36), Decimal(144))),
        "bar_price": number(5, 90, 2),
        "part_length": number(2, 4, 3),
        "facing": Decimal("0.03"),
        "part_off": Decimal("0.125"),
        "stub": Decimal("3.5"),
        "material_by": draw.choice((None, "whole bars", "length used")),
        "rate": number(30, 110, 2),
        "scrap": Decimal(draw.randint(0, 15)) / 100,
        "overhead": Decimal(draw.randint(0, 150)) / 100,
        "profit_kind": draw.choice(("margin", "markup")),
        "profit": Decimal(draw.randint(0, 40)) / 100,
        "tooling": number(0, 60, 2),
        "gauges": number(0, 60, 2),
        "outside": number(0, 3, 2),
        "coating": draw.choice((None, number(0, 2, 2))),
        "learning": None,
    }
    quantities = sorted(draw.sample(range(1, 400), 5))
    values["minimum_charge"] = draw.choice((None, number(50, 500, 2), number(500, 5000, 2)))
    values["minimum_order"] = draw.choice((None, number(50, 500, 2), number(5000, 90000, 2)))
    return values | {f"quantity_{n}": quantity for n, quantity in enumerate(quantities, start=1)}


def typed(given: dict[str, Any]) -> dict[str, Any]:
    """Them as they are typed into the sheets."""
    return {
        f"{'quote' if name == 'minimum_order' else 'estimate'}_{name}": float(one) if isinstance(one, Decimal) else one
        for name, one in given.items()
    }


def thread_minutes(pitch: Fraction, given: dict[str, Any]) -> Fraction:
    """One pass after the other."""
    travel = sum(Fraction(given[name]) for name in ("length", "approach_1", "overrun_1"))
    ways = 2 if given["power_return_1"] == "yes" else 1
    turns = travel / pitch
    seconds = Fraction(0)
    for _ in range(given["passes_1"]):
        seconds += ways * turns * 60 / given["rpm_1"] + Fraction(given["return_seconds_1"])
    return seconds / 60


def pieces_of_a_bar(given: dict[str, Any]) -> int:
    """What fits before the stub."""
    length, stub, *each = (
        Fraction(given[name]) for name in ("bar_length", "stub", "part_length", "facing", "part_off")
    )
    return int((length - stub) / sum(each))


def worked(pitch: Fraction, given: dict[str, Any], quantity: int) -> Worked:
    """The price of a quantity."""

    def of(name: str) -> Fraction:
        return Fraction(given[name] or 0)

    make = quantity
    while make * (1 - of("scrap")) < quantity:
        make += 1
    checks, bars, left = 0, 0, Fraction(-1)
    piece_takes = of("part_length") + of("facing") + of("part_off")
    supplied = given["material_by"] == "supplied"
    for piece in range(1, make + 1):
        every = given["every"]
        due = piece == 1 or piece % every == 0 if every else checks < make * of("gauged")
        checks += due
        if given["bar_length"] is None:  # a blank of the customer's for each
            bars += 1
        elif left < piece_takes:
            bars, left = bars + 1, of("bar_length") - of("stub")
        left -= piece_takes
    run = make * (of("turning_1") + thread_minutes(pitch, given) + of("handling_1")) + checks * of("check_minutes")
    minutes = of("setup_minutes_1") + run + run * of("rest")
    labour = minutes / 60 * of("rate")
    used = Fraction(make, pieces_of_a_bar(given)) if given["material_by"] == "length used" else bars
    material = 0 if supplied else used * of("bar_price")
    cost = labour + material + of("tooling") + of("gauges") + make * (of("outside") + of("coating"))
    cost += labour * of("overhead")
    profit = of("profit")
    asked = cost / (1 - profit) if given["profit_kind"] == "margin" else cost + cost * profit
    each = money(asked / quantity)
    while each * quantity < (given["minimum_charge"] or 0):
        each += Decimal("0.01")
    return Worked(make, checks, bars, minutes, cost, each, each * quantity)


def lacking(total: Decimal, given: dict[str, Any]) -> Decimal:
    """What is added to an order that comes to less than the least that is charged for one."""
    least = given["minimum_order"] or Decimal(0)
    return least - total if total < least else Decimal("0.00")


def money(amount: Fraction) -> Decimal:
    """To the cent, half a cent up."""
    return Decimal(int(amount * 1000000000)).scaleb(-9).quantize(Decimal("0.01"), ROUND_HALF_UP)
