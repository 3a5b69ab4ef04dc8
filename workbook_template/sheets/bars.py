"""The sheet Bars: those that the shop can have, which of them makes the part, and the job on the other lathe."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    at_least,
    first,
    fixed,
    here,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import bar_figures, two_lathes
from workbook_template.sheets.bar_figures import BY_LENGTH, CORNERS, PART_IS_HEXAGON, area, is_shape, least
from workbook_template.sheets.estimate_inputs import (
    QUANTITY,
    RACK,
    RACK_LINES,
    RACK_RETYPE,
    RACK_STALE,
    SHARE,
    SUPPLIED,
    too_small,
)
from workbook_template.sheets.inputs import IN_OR_MM, LENGTH, LENGTH_OR_NONE, NOT_NEGATIVE, Input, believed
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
    entry,
    line,
    link,
    shown,
    stack,
    table,
    words,
)
from workbook_template.trade.prices import pieces_a_bar, pieces_to_make, whole_bars

SHEET = bar_figures.SHEET


def _results() -> tuple[Column, ...]:
    """What a bar of the list comes to."""
    usable, stub = here.length - the.estimate_stub, believed(LENGTH_OR_NONE, the.estimate_stub)
    sizes = believed(LENGTH, here.size), believed(LENGTH, here.length), is_shape(here.shape)
    typed = all_of(*sizes, stub, known(the.estimate_each), known(the.estimate_part_used), no(RACK_STALE))
    fits = all_of(no(too_small(here.size, least(here.shape))), usable >= the.estimate_each)
    pieces = when(typed, when(fits, pieces_a_bar(usable, the.estimate_each)))
    priced = all_of(
        known(here.per_bar),
        no(SUPPLIED),
        believed(NOT_NEGATIVE, here.price),
        believed(QUANTITY.check, the.estimate_quantity_1),
        believed(SHARE, the.estimate_scrap),
    )
    make = pieces_to_make(the.estimate_quantity_1, the.estimate_scrap)
    bars = when(BY_LENGTH, make / here.per_bar, whole_bars(make, here.per_bar))
    section = when(known(here.per_bar), area(here.shape, here.size))
    figures = (
        ("per_bar", "pieces a bar", "pieces a bar; blank where the bar does not make the part", pieces, "0"),
        ("money", "in money, first quantity", "what is charged of the bars for the first quantity",
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
    a_round = at_least(part * when(PART_IS_HEXAGON, CORNERS, 1))
    none_makes_it = say(
        "No bar of the list makes the part: a round takes ", a_round, ", a hexagon ", fixed(part, the.decimals),
        " across flats.",
    )  # fmt: skip
    least_money = say(_line_where_least(the.rack_money), ", ", fixed(xl.MIN(the.rack_money), 2))
    priced = say(" Least money for the first quantity: ", least_money, ".")
    no_bars, none_makes, none_priced = (xl.COUNT(the[f"rack_{name}"]).same(0) for name in ("size", "per_bar", "money"))
    shapes = xl.COUNTIF(the.rack_shape, "round") + xl.COUNTIF(the.rack_shape, "hexagon")
    sizes = xl.COUNT(the.rack_size)
    unfinished = any_of(shapes.differs(sizes), xl.COUNT(the.rack_length).differs(sizes))
    return first(
        (RACK_STALE, RACK_RETYPE),
        (no_bars, "List the bars that the shop can have; the line to use goes into Bar, line of the list."),
        (no(known(part)), "Next: enter on Estimate the part's largest diameter, or across its flats."),
        (no(all_of(known(the.estimate_each), known(the.estimate_stub))),
         "Next: enter on Estimate part length, facing, part-off and bar stub."),
        (all_of(none_makes, unfinished), "A line of the list lacks its shape, size or length: fill in all three."),
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


UNIT = Input(
    "rack_unit", "Sizes and lengths are typed in", "unit that the list of bars is typed in", "text", IN_OR_MM,
    "in or mm. It stays as chosen when the working unit changes: no bar of the list is used until all are retyped.",
)  # fmt: skip


def sheet(made: Made) -> Sheet:
    """One page: the list with which bar of it makes the part, and the two lathes."""
    wide = len(WIDTHS)
    found = Figure("rack_words", "which bar of the list makes the part", _rack_words())
    page = stack(
        block("Bars that the shop can have", columns=wide),
        block(None, line(words(wide, the.estimate_words & "", "note_9"), height=NOTE)),
        block(None, line(shown(wide, found, "step"), height=49.5)),
        block(None, line(words(3, UNIT.label), entry(1, UNIT, made.unit, "cell_text"))),
        _list(),
        two_lathes.compared(WIDTHS),
        block(None, line(link(4, "Back to the estimate", "Estimate"), height=CALLOUT)),
    )
    return Sheet(SHEET, (page,), two_lathes.working(), widths=WIDTHS, user="office")
