"""The bar of the estimate: whether it makes the part, what comes off, which quantities need few of the last one."""

from __future__ import annotations

from workbook_template.figures.notation import (
    all_of,
    any_of,
    at_least,
    blank,
    first,
    fixed,
    given,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.estimate_inputs import QUANTITY_CELLS, SUPPLIED, too_small
from workbook_template.sheets.inputs import AN_ERROR, LENGTH, MORE_THAN_ZERO, believed, chosen

SHEET = "Bars"
FEW = 4
"""Under one in so many of the pieces of a whole bar is few for the last one."""

CORNERS = 1 / xl.COS(xl.RADIANS(30))
"""Across the corners of a hexagon over across its flats."""


PART_IS_HEXAGON = the.estimate_part_shape_used.same("hexagon")


def is_shape(shape: Node) -> Node:
    """Whether a shape of bar is named."""
    return any_of(chosen(shape, "round"), chosen(shape, "hexagon"))


def least(shape: Node) -> Node:
    """The least size of a bar of a shape that makes the part."""
    around_corners = all_of(PART_IS_HEXAGON, shape.same("round"))
    return the.estimate_part_used * when(around_corners, CORNERS, 1)


def area(shape: Node, size: Node) -> Node:
    """The section of a bar."""
    return size**2 * when(shape.same("hexagon"), xl.SQRT(3) / 2, xl.PI() / 4)


def from_rack(name: str, own: str) -> Node:
    """What counts of an input of the bar: that of the line of the list, or what is typed."""
    typed, line = the[f"estimate_{name}"], xl.INDEX(the[f"rack_{own}"], the.estimate_bar_line)
    listed = xl.IFERROR(when(line.same(""), "", line), "")
    return when(blank(the.estimate_bar_line), when(blank(typed), "", xl.IFERROR(typed, AN_ERROR)), listed)


def bar_words() -> Node:
    """Whether the bar makes the part, what comes off, and its weight."""
    shape, size, needed = the.estimate_bar_shape_used, the.estimate_bar_size_used, the.estimate_bar_needed
    length, density = the.estimate_bar_length_used, the.estimate_density
    hexagon = shape.same("hexagon")
    where = when(hexagon, " across the flats.", " in diameter.")
    a_side = say("; ", fixed((size - the.estimate_part_used) / 2, the.decimals), " a side comes off.")
    flats_stay = all_of(hexagon, no(PART_IS_HEXAGON), no(too_small(size * CORNERS, the.estimate_part_used)))
    from_hexagon = say(
        " Across its corners ", fixed(size * CORNERS, the.decimals), ". An interrupted cut until the corners are off",
        when(PART_IS_HEXAGON, ", and a shoulder at the hexagon has flats.", "; no flat stays in the largest diameter."),
    )  # fmt: skip
    weight = say(" A bar weighs ", fixed(the.estimate_bar_area * length * density, 2), ".")
    return first(
        (the.estimate_blanks, "The customer supplies blanks, one a piece made: no material is charged."),
        (no(all_of(believed(LENGTH, size), known(needed), is_shape(shape))), ""),
        (too_small(size, needed),
         say("The bar is too small: the part needs ", at_least(needed), where,
             when(flats_stay, " Flats of this one would stay in its shoulder."))),
        otherwise=say(
            "Bar, ", shape, " ", fixed(size, the.decimals), ": makes the part",
            when(the.estimate_part_shape_used.same(shape), a_side, "."),
            when(hexagon, from_hexagon),
            when(believed(MORE_THAN_ZERO, density), when(believed(LENGTH, length), weight)),
            when(SUPPLIED, " Supplied by the customer: not charged."),
        ),
    )  # fmt: skip


def few() -> Node:
    """The quantities whose last bar makes few pieces, with commas between."""
    pieces = the.estimate_per_bar

    def one(number: int, quantity: Node) -> Node:
        bars, on_last = (xl.INDEX(the[f"estimate_{line}"], 1, number) for line in ("bars", "on_last_bar"))
        is_few = all_of(bars > 1, FEW * on_last < pieces)
        named = say(", ", quantity, " (", on_last, " of ", pieces, ")")
        return when(known(bars), when(is_few, named))

    listed = say(*(one(number, quantity) for number, quantity in enumerate(QUANTITY_CELLS, start=1)))
    return xl.MID(listed, 3, 255)


BY_LENGTH = chosen(the.estimate_material_by, "length used")
"""Whether the rest of a bar goes back to the rack, so that no price steps at the last bar."""

CLIFF_WORDS = when(
    all_of(given(the.estimate_few), no(BY_LENGTH)),
    say("The last bar makes few pieces at a quantity of ", the.estimate_few, ", so many fewer would save a bar."),
)


def support_words() -> Node:
    """How far the part stands out of the chuck, and what holds it then."""
    out, across = the.estimate_each, xl.MIN(the.estimate_part_used, the.diameter)
    return first(
        (no(all_of(known(out), known(the.estimate_part_used), known(the.diameter))), ""),
        (out > 6 * across, "Stands out more than 6 diameters: centre and steady rest (practice)."),
        (out > 3 * across, "Stands out more than 3 diameters: use the centre (practice)."),
        otherwise="Stands out 3 diameters at most.",
    )
