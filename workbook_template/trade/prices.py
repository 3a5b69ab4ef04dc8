"""The price as one set of rules, for Estimate, Costing, Quote and Offer alike: trees over whatever holds its terms.

They are the rules of `sheetfuncs.estimating`, where their sources stand, but for the last step, which is that of an
invoice: the price each is rounded to .01 first, and the price is that times the quantity.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from sheetfuncs.estimating import NOISE
from workbook_template.figures.notation import all_of, joined, node, the, when, xl
from workbook_template.figures.tree import Node

NONE = node(0)
"""A term that a price does not have; its lines are left out of formulas."""

IS_MARGIN = the.estimate_profit_kind.same("margin")


def margin_of_all(profit: Node) -> Node:
    """Whether it is a margin that leaves nothing of the price for the cost."""
    return all_of(IS_MARGIN, profit >= 1)


MARGIN_WORDS = "A margin is a share of the price, less than 100 %."


class Terms(NamedTuple):
    """What makes a price: minutes and money of one piece; `setup_minutes`, `tooling` and `gauges` are those of the job.

    Handling and gauging are by hand, and Wright's rule makes them less with the quantity. `check_minutes` are those of
    one check; checked are the share `gauged` of the pieces, rounded up, or the first and every nth where `every` is
    more than zero. `allowance` is the share for rest and delay on all minutes but those of the set-up.
    """

    quantity: Node
    scrap: Node
    setup_minutes: Node
    turning: Node
    rate: Node
    overhead: Node
    profit: Node
    threading: Node = NONE
    handling: Node = NONE
    check_minutes: Node = NONE
    per_bar: Node = NONE
    bar_price: Node = NONE
    tooling: Node = NONE
    gauges: Node = NONE
    outside: Node = NONE
    allowance: Node = NONE
    gauged: Node = node(1)
    every: Node = NONE
    by_length: Node = NONE
    minimum_charge: Node = NONE


def lines(terms: Terms, cells: Mapping[str, Node]) -> dict[str, Node]:
    """Every line of the price, in order. A line that has a cell is taken from there by the rest, any other written out.

    >>> from workbook_template.figures.text import text
    >>> terms = Terms(the.ordered, the.scrap, the.setup_minutes, the.turning, the.rate, the.overhead, the.profit)
    >>> found = lines(terms, {"make": the.make, "labour": the.labour})
    >>> text(found["labour"]), text(found["cost"])
    ('(setup_minutes+make*turning)*rate/60', 'labour+labour*overhead')
    >>> found = lines(terms, {"cost": the.cost, "unit_price": the.each})
    >>> text(found["unit_price"]).replace(text(with_profit(the.cost, the.profit)), "asked"), text(found["price"])
    ('ROUND(asked/ordered,2)', 'ROUND(each*ordered,2)')
    """
    found: dict[str, Node] = {}

    def line(name: str, formula: Node) -> Node:
        found[name] = formula
        return cells.get(name, formula)

    make = line("make", pieces_to_make(terms.quantity, terms.scrap))
    learned = make**the.estimate_power
    set_up = line("setup_minutes", terms.setup_minutes)
    turn = line("turn_minutes", _product(make, terms.turning))
    thread = line("thread_minutes", _product(make, terms.threading))
    handle = line("handle_minutes", _product(make, terms.handling, learned))
    checks = NONE if terms.check_minutes == NONE else line("checks", pieces_checked(make, terms.gauged, terms.every))
    gauge = line("gauge_minutes", _product(checks, terms.check_minutes, learned))
    rest = line("rest_minutes", _product(_sum(turn, thread, handle, gauge), terms.allowance))
    minutes = line("minutes", _sum(set_up, turn, thread, handle, gauge, rest))
    labour = line("labour", minutes * terms.rate / 60)
    bars = line("bars", whole_bars(make, terms.per_bar))
    line("on_last_bar", make - (bars - 1) * terms.per_bar)
    whole = line("material_by_bars", _product(bars, terms.bar_price))
    used = line("material_by_length", make / terms.per_bar * terms.bar_price)
    material = line("material", whole if terms.by_length == NONE else when(terms.by_length, used, whole))
    tooling = line("tooling_cost", terms.tooling)
    gauges = line("gauges_cost", terms.gauges)
    outside = line("outside_cost", _product(make, terms.outside))
    overhead = line("overhead_cost", labour * terms.overhead)
    cost = line("cost", _sum(labour, material, tooling, gauges, outside, overhead))
    line("unit_cost", cost / terms.quantity)
    each = line("unit_price", price_each(cost, terms))
    line("price", charged(each * terms.quantity))
    for name, other in (("unit_price_by_bars", whole), ("unit_price_by_length", used)):
        line(name, price_each(cost - material + other, terms))
    return found


def rounded_up(number: Node) -> Node:
    """The next whole number."""
    return -xl.INT(-number)


def pieces_to_make(quantity: Node, scrap: Node) -> Node:
    """So many that the good ones reach the quantity when that share is scrap.

    >>> from workbook_template.figures.text import text
    >>> text(pieces_to_make(the.quantity, the.scrap))
    '-INT(-(quantity/(1-scrap)-0.000000001))'
    """
    return rounded_up(quantity / (1 - scrap) - NOISE)


def pieces_checked(make: Node, gauged: Node, every: Node) -> Node:
    """So many of the pieces made are checked: a share of them, or the first and every nth, pieces 1, n, 2n ...

    No piece is checked by a tenth: a share is the next whole number of pieces, so that one is checked at least.

    >>> from workbook_template.figures.text import text
    >>> text(pieces_checked(the.make, the.share, the.n))
    'IF(n>0,MIN(make,1+INT(make/n)),-INT(-(make*share-0.000000001)))'
    """
    share = rounded_up(make * gauged - NOISE)
    return share if every == NONE else when(every > 0, xl.MIN(make, 1 + xl.INT(make / every)), share)


def pieces_a_bar(usable: Node, each: Node) -> Node:
    """Whole pieces out of the length of a bar that makes any."""
    return xl.INT(usable / each + NOISE)


def whole_bars(make: Node, per_bar: Node) -> Node:
    """Bars for so many pieces."""
    return rounded_up(make / per_bar)


def minutes_of_threading(
    passes: Node, travel: Node, lead: Node, rpm: Node, under_power: Node, return_seconds: Node
) -> Node:
    """Minutes to thread one piece; travel counts twice where the carriage comes back under power."""
    return passes * (when(under_power, 2, 1) * travel / (lead * rpm) + return_seconds / 60)


def with_profit(cost: Node, profit: Node) -> Node:
    """The price of a cost: a markup is a share of the cost, a margin a share of the price.

    >>> from workbook_template.figures.text import text
    >>> text(with_profit(the.cost, the.share)).replace("estimate_profit_kind", "kind")
    'cost*IF(kind="margin",1,1+share)/IF(kind="margin",1-share,1)'
    """
    return cost * when(IS_MARGIN, 1, 1 + profit) / when(IS_MARGIN, 1 - profit, 1)


def price_each(cost: Node, terms: Terms) -> Node:
    """The price each of a cost as charged; the quantity at that price never comes to less than the minimum charge.

    >>> from workbook_template.figures.text import text
    >>> terms = Terms(the.ordered, the.scrap, the.setup_minutes, the.turning, the.rate, the.overhead, the.profit)
    >>> asked = text(price_each(the.cost, terms))
    >>> text(price_each(the.cost, terms._replace(minimum_charge=the.least))).replace(asked, "asked")
    'MAX(asked,(-INT(-(least*100/ordered-0.000000001)))/100)'
    """
    each = charged(with_profit(cost, terms.profit) / terms.quantity)
    return each if terms.minimum_charge == NONE else xl.MAX(each, least_each(terms.minimum_charge, terms.quantity))


def least_each(minimum_charge: Node, quantity: Node) -> Node:
    """The price each that makes up the minimum charge: to .01 and upwards, as 3 pieces at 33.33 are not yet 100."""
    return rounded_up(minimum_charge * 100 / quantity - NOISE) / 100


def is_minimum(each: Node, minimum_charge: Node, quantity: Node) -> Node:
    """Whether a price each is what the minimum charge makes of it."""
    return all_of(minimum_charge > 0, each < least_each(minimum_charge, quantity) + NOISE)


def to_minimum_order(total: Node, minimum_order: Node) -> Node:
    """What a whole order lacks to the least that is charged for one: a line of its own, in no price of a line.

    >>> from workbook_template.figures.text import text
    >>> text(to_minimum_order(the.total, the.least))
    'ROUND(MAX(least-total,0),2)'
    """
    return charged(xl.MAX(minimum_order - total, 0))


def charged(price: Node) -> Node:
    """Money as the customer sees it, to .01: what stands on the page adds up."""
    return xl.ROUND(price, 2)


def _product(*parts: Node) -> Node:
    return NONE if NONE in parts else joined("*", *parts)


def _sum(*parts: Node) -> Node:
    return joined("+", *(part for part in parts if part != NONE))
