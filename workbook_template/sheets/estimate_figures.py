"""The figures of the sheet Estimate: what counts of its inputs, what stands against a price, the terms of the price."""

from __future__ import annotations

from collections.abc import Callable

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    blank,
    first,
    fixed,
    given,
    known,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Name, Node
from workbook_template.sheets import bar_figures
from workbook_template.sheets.estimate_inputs import (
    BY_LATHE,
    FROM_RACK,
    MISTAKES,
    MOST_PASSES,
    NO_BAR,
    QUANTITY_CELLS,
    SUPPLIED,
    clashes,
    faults,
    mistakes,
    mistakes_of_both,
    used,
)
from workbook_template.sheets.inputs import (
    LENGTH,
    LENGTH_OR_NONE,
    MINUTES,
    MOST_LENGTH,
    SPEED,
    Check,
    believed,
    chosen,
    filled,
    in_text,
    whole,
)
from workbook_template.sheets.plan_figures import PASSES, SPRINGS
from workbook_template.trade import days
from workbook_template.trade.prices import Terms, is_minimum, minutes_of_threading, pieces_a_bar

MONEY_WORDS = xl.IFERROR(when(given(the.estimate_currency), say(", money in ", the.estimate_currency)), "")
"""What stands behind the unit where money is shown."""

WORDS = say(
    when(given(the.part_text), the.part_text, "no part named"),
    when(given(the.revision_text), say(", revision ", the.revision_text)),
    ", ", the.unit_words, MONEY_WORDS,
)  # fmt: skip
"""Part, unit and money."""

BACK_UNDER_POWER = say(
    " Half-nuts stay shut: every pass comes back under power.",
    when(the.lathe_chuck_words_1.differs(""), " Mind the screwed-on chuck in reverse."),
)
FREE = when(
    xl.MIN(the.estimate_unit_price).same(0),
    " A price each is 0.00: look over rate, minutes, material and margin before it is offered.",
)
OF_LATHE_2 = when(
    all_of(xl.COUNTA(*(the[f"estimate_{item.name}_2"] for item in BY_LATHE)) > 0, the.estimate_fault_2.differs("")),
    " Lathe 2 has no price: Bars says why.",
)
"""What keeps lathe 2 from a price, where anything is typed for it."""
NEXT = first(
    (the.estimate_fault_1.differs(""), the.estimate_fault_1),
    (the.estimate_doubt.differs(""), say("All is filled in for lathe 1, but look: ", the.estimate_doubt)),
    otherwise=say(
        "All is filled in for lathe 1. Threading ", fixed(the.estimate_thread_minutes_1, 2), " minutes a piece, ",
        when(the.estimate_blanks, "blanks supplied.",
             say(the.estimate_per_bar, when(the.estimate_per_bar.same(1), " piece", " pieces"), " a bar.")), FREE,
        when(given(the.estimate_at_minimum), say(" At the minimum charge: ", the.estimate_at_minimum, ".")),
        when(the.estimate_power_used_1.same("yes"), BACK_UNDER_POWER), OF_LATHE_2,
    ),
)  # fmt: skip
"""What is still to fill in."""


def terms(quantity: Node, number: int) -> Terms:
    """What makes the price of a quantity on a lathe."""
    my = Numbered(number)
    return Terms(
        quantity, scrap=the.estimate_scrap, setup_minutes=my.estimate_setup_minutes, turning=my.estimate_turning,
        threading=my.estimate_thread_minutes, handling=my.estimate_handling, check_minutes=the.estimate_check_minutes,
        gauged=the.estimate_gauged_used, every=the.estimate_every_used, allowance=the.estimate_rest,
        by_length=bar_figures.BY_LENGTH,
        rate=the.estimate_rate, per_bar=the.estimate_per_bar, bar_price=the.estimate_bar_price_charged,
        tooling=the.estimate_tooling, gauges=the.estimate_gauges, outside=the.estimate_outside_each,
        overhead=the.estimate_overhead, profit=the.estimate_profit, minimum_charge=the.estimate_minimum_used,
    )  # fmt: skip


def at_quantity(quantity: Node, number: int, line: Node) -> Node:
    """A line of the price at a quantity, once nothing stands against the price on that lathe."""
    ready = all_of(Numbered(number).estimate_fault.same(""), known(quantity))
    return when(ready, when(quantity >= 1, line))


def thread_minutes(number: int) -> Figure:
    """Minutes of threading a piece."""
    my, length = Numbered(number), the.estimate_length_used
    rpm, passes = my.estimate_rpm_used, my.estimate_passes_used
    approach, overrun, return_seconds = my.estimate_approach, my.estimate_overrun, my.estimate_return_seconds
    travel, under_power = length + approach + overrun, my.estimate_power_used.same("yes")
    minutes = minutes_of_threading(the.starts * passes, travel, the.lead, rpm, under_power, return_seconds)
    typed = (believed(LENGTH_OR_NONE, approach), believed(LENGTH_OR_NONE, overrun), believed(MINUTES, return_seconds))
    formula = when(all_of(known(passes), known(length), known(rpm), known(the.lead), *typed), minutes)
    return Figure(f"estimate_thread_minutes_{number}", f"minutes of threading a piece, lathe {number}", formula, "0.00")


def reckoned_with(number: int) -> Figure:
    """Speed and return, in words."""
    my = Numbered(number)
    back = when(my.estimate_power_used.same("yes"), "under power", "by hand")
    words = when(known(my.estimate_thread_minutes), say(xl.ROUND(my.estimate_rpm_used, 2), " rpm, back ", back))
    return Figure(f"estimate_used_words_{number}", f"speed and return that lathe {number} is reckoned with", words)


def per_bar() -> Figure:
    """Whole pieces a bar."""
    each, usable = the.estimate_each, the.estimate_usable
    pieces = first((usable < each, ""), otherwise=pieces_a_bar(usable, each))
    counted = first((the.estimate_blanks, 1), (all_of(known(each), known(usable)), pieces), otherwise="")
    return Figure("estimate_per_bar", "whole pieces a bar; 1 of a blank that is supplied", counted, "count")


def working() -> tuple[Figure, ...]:
    """Figures that are not printed, in order."""
    diameter = when(all_of(known(the.diameter), the.thread_side.differs("internal")), the.diameter)
    shape, size, length = the.estimate_bar_shape_used, the.estimate_bar_size_used, the.estimate_bar_length_used
    price = the.estimate_bar_price_used
    part_length, facing, part_off = the.estimate_part_length, the.estimate_facing, the.estimate_part_off
    gauged, every, learning = the.estimate_gauged, the.estimate_every, the.estimate_learning
    outside, coating, least = the.estimate_outside, the.estimate_coating, the.estimate_minimum_charge
    return (
        *_of_both(_used),
        Figure("estimate_length_used", "thread length used",
               _typed(LENGTH, the.estimate_length, when(believed(LENGTH, the.thread_length), the.thread_length))),
        Figure("estimate_part_used", "size of the part used", _typed(LENGTH, the.estimate_part_size, diameter)),
        Figure("estimate_part_shape_used", "shape of the part used",
               when(chosen(the.estimate_part_shape, "hexagon"), "hexagon", "round")),
        *(Figure(used(name), f"{name.replace('_', ' ')} used", bar_figures.from_rack(name, own))
          for name, own in FROM_RACK.items()),
        Figure("estimate_blanks", "whether the customer supplies blanks, one a piece", NO_BAR),
        Figure("estimate_bar_price_charged", "price of a bar that is charged; 0 where it is supplied",
               when(SUPPLIED, 0, when(known(price), price))),
        Figure("estimate_bar_needed", "least size of a bar of this shape",
               when(known(the.estimate_part_used), bar_figures.least(shape))),
        Figure("estimate_bar_area", "section of the bar", when(believed(LENGTH, size), bar_figures.area(shape, size))),
        Figure("estimate_each", "length of bar a piece takes",
               _once_typed(part_length + facing + part_off, part_length, facing, part_off)),
        Figure("estimate_usable", "length of a bar that makes pieces",
               _once_typed(length - the.estimate_stub, length, the.estimate_stub)),
        Figure("estimate_gauged_used", "share gauged that is used", when(known(gauged), gauged, 0)),
        Figure("estimate_every_used", "every so many pieces are gauged; 0: by the share", when(known(every), every, 0)),
        Figure("estimate_outside_each", "outside work a piece, coating too",
               when(known(outside), outside + when(known(coating), coating, 0))),
        Figure("estimate_power", "power of the quantity in Wright's rule",
               when(known(learning), when(learning > 0, xl.LN(learning) / xl.LN(2), 0), 0)),
        Figure("estimate_minimum_used", "minimum charge that is used; 0: none", when(known(least), least, 0)),
        Figure("estimate_at_minimum", "quantities whose price is the minimum charge", _at_minimum()),
        Figure("estimate_doubt", "a charge that may be a day, or a quantity that is typed twice", _doubt()),
        Figure("estimate_few", "quantities whose last bar makes few", bar_figures.few()),
        *(Figure(f"estimate_mistake_{name}", f"what is typed and can not be, {name.replace('_', ' ')}", first(*found))
          for name, found in mistakes_of_both().items()),
        *_of_both(_against),
    )  # fmt: skip


def _doubt() -> Node:
    """What can be, and is more likely a slip: the number that 1/2 becomes when it is typed, a quantity twice."""
    charge = the.estimate_minimum_charge
    return first(
        (days.is_day(charge),
         say("minimum charge, ", charge, ", is the number of a day, as 1/2 makes it; type it anew.")),
        *((when(known(cell), xl.COUNTIF(the.estimate_quantities, cell) > 1, False),
           say("quantity ", cell, " is typed twice; empty one of them."))
          for cell in QUANTITY_CELLS[:-1]),
    )  # fmt: skip


def _at_minimum() -> Node:
    """The quantities whose price is the minimum charge, with commas between."""

    def one(number: int, quantity: Node) -> Node:
        each = xl.INDEX(the.estimate_unit_price, 1, number)
        return when(known(each), when(is_minimum(each, the.estimate_minimum_used, quantity), say(", ", quantity)))

    return xl.MID(say(*(one(number, quantity) for number, quantity in enumerate(QUANTITY_CELLS, start=1))), 3, 255)


def _of_both(figures: Callable[[int], tuple[Figure, ...]]) -> tuple[Figure, ...]:
    """Each figure for lathe 1, then for lathe 2."""
    return tuple(figure for pair in zip(figures(1), figures(2)) for figure in pair)


def _used(number: int) -> tuple[Figure, ...]:
    """What counts of the inputs of a lathe that may be empty."""
    my = Numbered(number)
    springs = the.plan_spring_passes
    planned = all_of(believed(whole(1, PASSES), the.passes), believed(whole(0, SPRINGS), springs))
    of_setup = when(planned, the.passes + springs)
    rpm, power, may_open = my.estimate_rpm, my.estimate_power_return, my.lathe_half_nuts
    return (
        Figure(f"estimate_passes_used_{number}", f"passes used, lathe {number}",
               _typed(whole(1, MOST_PASSES), my.estimate_passes, of_setup)),
        Figure(f"estimate_rpm_used_{number}", f"speed used, lathe {number}",
               _typed(SPEED, rpm, when(known(my.rpm_listed), my.rpm_listed))),
        Figure(f"estimate_power_used_{number}", f"back under power used, lathe {number}",
               first((filled(power), in_text(power)), (may_open.same(True), "no"),
                     (may_open.same(False), "yes"))),
    )  # fmt: skip


def _against(number: int) -> tuple[Figure, ...]:
    """What stands against a price on a lathe: each the first sentence that holds."""
    missing, mistake = the[f"estimate_missing_{number}"], the[f"estimate_mistake_{number}"]
    of_both = (the[f"estimate_mistake_{name}"] for name in MISTAKES)
    fault = first(*((one.differs(""), one) for one in (missing, mistake, *of_both)), *clashes(number))
    return (
        Figure(missing.name, f"what is not filled in, lathe {number}", first(*faults(number))),
        Figure(mistake.name, f"what is typed and can not be, lathe {number}", first(*mistakes(number))),
        Figure(f"estimate_fault_{number}", f"what is missing or wrong, lathe {number}", fault),
    )


def _typed(check: Check, cell: Name, otherwise: Node) -> Node:
    """The number that is typed, where its check takes it, or the other one where the cell is empty."""
    return first((blank(cell), otherwise), (believed(check, cell), cell))


def _once_typed(formula: Node, *cells: Node) -> Node:
    """The result once all of the cells are lengths, some of them 0."""
    believable = all_of(xl.MIN(*cells) >= 0, xl.MAX(*cells) <= float(MOST_LENGTH))
    return when(all_of(xl.COUNT(*cells).same(len(cells)), believable), formula)
