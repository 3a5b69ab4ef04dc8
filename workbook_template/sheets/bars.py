"""The sheet Bars: the list of those that the shop can have, and which of them makes the part of the estimate."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    first,
    fixed,
    given,
    here,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.estimate_inputs import QUANTITY, QUANTITY_CELLS, RACK, RACK_LINES, SHARE, too_small
from workbook_template.sheets.inputs import LENGTH, MORE_THAN_ZERO, NOT_NEGATIVE, believed
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Block,
    Column,
    Made,
    Piece,
    Sheet,
    Table,
    block,
    line,
    link,
    shown,
    stack,
    table,
    words,
)
from workbook_template.trade.prices import pieces_a_bar, pieces_to_make, whole_bars

SHEET = "Bars"
FEW = 4
"""Under one in so many of the pieces of a whole bar is few for the last one."""

CORNERS = 1 / xl.COS(xl.RADIANS(30))
"""Across the corners of a hexagon over across its flats."""


PART_IS_HEXAGON = the.estimate_part_shape_used.same("hexagon")


def is_shape(shape: Node) -> Node:
    """Whether a shape of bar is named."""
    return any_of(shape.same("round"), shape.same("hexagon"))


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
    return when(blank(the.estimate_bar_line), when(blank(typed), "", typed), listed)


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
        (no(all_of(believed(LENGTH, size), known(needed), is_shape(shape))), ""),
        (too_small(size, needed),
         say("The bar is too small: the part needs ", fixed(needed, the.decimals), where,
             when(flats_stay, " Flats of this one would stay in its shoulder."))),
        otherwise=say(
            "Bar, ", shape, " ", fixed(size, the.decimals), ": makes the part",
            when(the.estimate_part_shape_used.same(shape), a_side, "."),
            when(hexagon, from_hexagon),
            when(believed(MORE_THAN_ZERO, density), when(believed(LENGTH, length), weight)),
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


CLIFF_WORDS = when(
    given(the.estimate_few),
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


def _results() -> tuple[Column, ...]:
    """What a bar of the list comes to."""
    usable, stub = here.length - the.estimate_stub, believed(NOT_NEGATIVE, the.estimate_stub)
    sizes = believed(LENGTH, here.size), believed(LENGTH, here.length), is_shape(here.shape)
    typed = all_of(*sizes, stub, known(the.estimate_each), known(the.estimate_part_used))
    fits = all_of(no(too_small(here.size, least(here.shape))), usable >= the.estimate_each)
    pieces = when(typed, when(fits, pieces_a_bar(usable, the.estimate_each)))
    priced = all_of(
        known(here.per_bar),
        believed(NOT_NEGATIVE, here.price),
        believed(QUANTITY.check, the.estimate_quantity_1),
        believed(SHARE, the.estimate_scrap),
    )
    bars = whole_bars(pieces_to_make(the.estimate_quantity_1, the.estimate_scrap), here.per_bar)
    section = when(known(here.per_bar), area(here.shape, here.size))
    figures = (
        ("per_bar", "pieces a bar", "pieces a bar; blank where the bar does not make the part", pieces, "0"),
        ("money", "in money, first quantity", "what the bars for the first quantity cost",
         when(priced, bars * here.price), "0.00"),
        ("section", "section", "section of each bar that makes the part", section, "0.0000"),
    )  # fmt: skip
    return tuple(
        Column(name, head, meaning, 1, formula, form, "row_number", head_look="column_head_right")
        for name, head, meaning, formula, form in figures
    )


def _line_where_least(column: Node) -> Node:
    """A line of the list, in words."""
    line = xl.MATCH(xl.MIN(column), column, 0)
    shape, size = xl.INDEX(the.rack_shape, line), xl.INDEX(the.rack_size, line)
    return say("line ", line, ", ", shape, " ", fixed(size, the.decimals))


def _rack_words() -> Node:
    """Which bar of the list makes the part."""
    part = the.estimate_part_used
    a_round = fixed(part * when(PART_IS_HEXAGON, CORNERS, 1), the.decimals)
    none_makes_it = say(
        "No bar of the list makes the part: a round takes ", a_round, ", a hexagon ", fixed(part, the.decimals),
        " across flats.",
    )  # fmt: skip
    least_money = say(_line_where_least(the.rack_money), ", ", fixed(xl.MIN(the.rack_money), 2))
    priced = say(" Least money for the first quantity: ", least_money, ".")
    no_bars, none_makes, none_priced = (xl.COUNT(the[f"rack_{name}"]).same(0) for name in ("size", "per_bar", "money"))
    return first(
        (no_bars, "List the bars that the shop can have; the line to use goes into Bar, line of the list."),
        (no(all_of(known(part), known(the.estimate_each), known(the.estimate_stub))),
         "Next: part length, facing, part-off and bar stub."),
        (none_makes, none_makes_it),
        otherwise=say("Least cut away: ", _line_where_least(the.rack_section), ".", when(none_priced, "", priced)),
    )  # fmt: skip


WIDTHS = (6, 12, 12, 12, 12, 10, 11, 10)
ROW = 22.5


def _list() -> Block:
    """The list: its lines are numbered, as the sheet Estimate asks for the number of one."""
    typed = (
        Column(item.name, item.label, item.meaning, dimension=item.dimension, check=item.check, prompt=item.prompt,
               role="input", look="cell_text" if item.dimension == "text" else "cell_number")
        for item in RACK
    )  # fmt: skip
    number = Column("line", "line", "number of the line", elsewhere=True)
    listed = table(Table("rack", (number, *typed, *_results()), RACK_LINES, ROW, 2 * NOTE))
    places = range(1, RACK_LINES + 1)
    numbers = (line(Piece(1, place, "row_centred", dimension="count"), height=ROW) for place in places)
    return listed._replace(lines=(*listed.lines[:-RACK_LINES], *numbers), repeated=-1)


def sheet(_: Made) -> Sheet:
    """One page: the list, and which bar of it makes the part."""
    wide = len(WIDTHS)
    found = Figure("rack_words", "which bar of the list makes the part", _rack_words())
    page = stack(
        block("Bars that the shop can have", columns=wide),
        block(None, line(words(wide, the.estimate_words & "", "note_9"), height=NOTE)),
        block(None, line(shown(wide, found, "step"), height=49.5)),
        _list(),
        block(None, line(link(4, "Back to the estimate", "Estimate"), height=CALLOUT)),
    )
    return Sheet(SHEET, (page,), widths=WIDTHS, user="office")
