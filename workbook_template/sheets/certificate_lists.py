"""The lists of the sheet Certificate: each part in the order logged, instruments and wire sets that the log names."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    above,
    all_of,
    any_of,
    first,
    fixed,
    given,
    here,
    joined,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import log_rows
from workbook_template.sheets.certificate_figures import (
    COUNTED,
    told,
)
from workbook_template.sheets.instrument_columns import SET_ROW
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Line,
    Mark,
    Table,
    beside,
    block,
    line,
    shown,
    stack,
    table,
)

INSTRUMENTS, WIRES = 6, 3
SIDE_BY_SIDE = 2
"""Lists of parts on a page."""

DEEP, DEEP_LATER = 30, 46
"""Parts in a list of the first page that has them, and of a later one."""


class Group(NamedTuple):
    """A list of parts: its number, its rows of the log from which to which."""

    number: int
    first: int
    last: int


def groups(rows: int) -> tuple[tuple[Group, ...], ...]:
    """The lists of each page, for all rows of the log.

    >>> [[one.last for one in page] for page in groups(200)]
    [[30, 60], [106, 152], [198, 200]]
    """
    pages: list[tuple[Group, ...]] = []
    number = last = 0
    while last < rows:
        page: list[Group] = []
        for _ in range(SIDE_BY_SIDE):
            if last < rows:
                number, start = number + 1, last + 1
                last = min(last + (DEEP_LATER if pages else DEEP), rows)
                page.append(Group(number, start, last))
        pages.append(tuple(page))
    return tuple(pages)


def _again(number: int, rows: int) -> Node:
    """Whether a row of the log repeats a part, so that it is not counted."""
    return log_rows.repeats(log_rows.of_row("words", number, rows))


def _listed(group: Group, rows: int) -> Block:
    """Parts in the order logged, six columns wide."""

    def of(what: str, number: int) -> Node:
        return log_rows.of_row(what, group.first + number - 1, rows)

    def serial(number: int) -> Node:
        part, row = of("serial", number), group.first + number - 1 + log_rows.HEAD
        filled = log_rows.of_row("filled", group.first + number - 1, rows, 0)
        return when(filled > 0, when(given(part), part & "", f"row {row}"))

    def pitch(number: int) -> Node:
        return when(known(of("pitch_diameter", number)), of("pitch_diameter", number))

    def result(number: int) -> Node:
        return when(_again(group.first + number - 1, rows), "not counted", of("worst", number) & "")

    def column(
        name: str, head: str, meaning: str, formula: Callable[[int], Node], wide: int, look: str, head_look: str,
        dimension: str = "words",
    ) -> Column:  # fmt: skip
        told_of = f"{meaning}, column {group.number} of the list"
        return Column(f"{name}_{group.number}", head, told_of, wide, formula, dimension, look, head_look=head_look)

    own = f"result_{group.number}"
    in_use = given(here[f"serial_{group.number}"])
    return table(Table("certificate", (
        column("serial", "part", "part", serial, 2, "note_left", "column_head_left"),
        column("pitch_diameter", "pitch dia.", "pitch diameter", pitch, 1, "note_right", "column_head_right", "length"),
        column("result", "result, all together", "the worst of its results", result, 3, "aside",
               "column_head_indented"),
    ), group.last - group.first + 1, NOTE, marks=(
        *(Mark(word, here[own].same(word), (own,)) for word in COUNTED if word != "in"),
        Mark("row_used", in_use),
    )))  # fmt: skip


def parts(page: tuple[Group, ...], rows: int) -> Block:
    """The lists of a page; the last may be shorter."""
    lists = [_listed(group, rows) for group in page]
    return stack(block("Each part, in the order logged", columns=12), beside(*lists))


INSTRUMENT_HEADS = (("id", "instrument", 2), ("kind", "kind", 3), ("certificate", "certificate", 3),
                    ("lab", "laboratory", 4))  # fmt: skip
WIRES_HEADS = (("id", "wire set", 2), ("mean", "mean", 3), ("certificate", "certificate", 3), ("lab", "laboratory", 4))


def _used_list(kind: str, heads: tuple[tuple[str, str, int], ...], rows: int) -> Block:
    """The instruments or wire sets that the log names, with their certificates."""

    def column(field: str, head: str, wide: int) -> Column:
        def formula(number: int) -> Node:
            found = xl.MATCH(number, the[f"certificate_{kind}_used"], 0)
            value = xl.INDEX(the[f"{kind}_{field}"], found)
            return when(known(found), value if field == "mean" else told(value))

        dimension, look = ("wire", "note_left") if field == "mean" else ("words", "note_9")
        return Column(f"{kind}_{field}", head, f"{kind} used: {field}, one cell each", wide, formula, dimension, look,
                      head_look="column_head_left")  # fmt: skip

    return table(Table("certificate", tuple(column(*one) for one in heads), rows, NOTE))._replace(repeated=-1)


WITHOUT_OWN_WIRES = Figure(
    "certificate_without_wires",
    "rows with readings over wires that name no set: they were measured with that of the sheet Setup",
    xl.SUMPRODUCT(the.log_wires_at.same(NO_NUMBER) * the.log_least.differs(NO_NUMBER)),
)


def instruments_used() -> Block:
    wire = say("Wires in use: ", fixed(the.wire_used, the.decimals + 1), " ", the.unit_text, ". ")
    over_these = all_of(known(the.wire_used), no(the.no_wires), the.certificate_without_wires > 0)
    unknown = say("Rows of the log that name no listed instrument: ", the.certificate_unknown, ".")
    not_here = say(
        _not_listed(the.certificate_instrument_used, INSTRUMENTS, " more instruments are named in the log. "),
        when(over_these, wire),
        _not_listed(the.certificate_wires_used, WIRES, " more wire sets. "),
        when(the.certificate_unknown > 0, unknown),
    )
    figure = Figure("certificate_instrument_words", "what is not listed here", not_here)
    return stack(
        block("Instruments used", columns=12),
        _used_list("instrument", INSTRUMENT_HEADS, INSTRUMENTS),
        _used_list("wires", WIRES_HEADS, WIRES),
        block(None, line(shown(12, figure, "note_9"), height=2 * NOTE)),
    )


def _not_listed(numbers: Node, rows: int, said: str) -> Node:
    """How many of those used have no row on the page."""
    return when(xl.MAX(numbers) > rows, say(xl.MAX(numbers) - rows, said))


def rest(number: int, pages: tuple[tuple[Group, ...], ...]) -> Line:
    """Under the lists of a page, counted from 1: whether they hold all, and where the others stand."""
    more, printed = the[_left(number)], the.certificate_printed > pages[number - 1][-1].last
    where = when(printed, "stand on the next page.", "are not printed: widen the print range.")
    said = when(more > 0, say(more, " more rows ", where), "All rows of the log are listed.")
    figure = Figure("certificate_rest", "whether all rows are listed", said)
    if number > 1:
        used = when(the.certificate_logged > pages[number - 2][-1].last, said)
        figure = Figure(f"certificate_rest_{number}", f"the same of page {number} of the lists", used)
    return line(shown(12, figure, "note_9"), height=NOTE)


def left(pages: tuple[tuple[Group, ...], ...]) -> Iterator[Figure]:
    """What is still to be listed after each page: what was before it, less what its lists hold."""
    for number, page in enumerate(pages, start=1):
        before = the.certificate_logged if number == 1 else the[_left(number - 1)]
        listed = (xl.COUNTIF(the[f"certificate_result_{one.number}"], "?*") for one in page)
        meaning = "the first page of parts does" if number == 1 else f"pages 1 to {number} of parts do"
        yield Figure(_left(number), f"rows begun that {meaning} not list", joined("-", before, *listed))


def _left(number: int) -> str:
    return "certificate_left" if number == 1 else f"certificate_left_{number}"


def used(kind: str, rows: int) -> Table:
    """Beside each instrument or wire set: whether a row names it, and its running number among those.

    Looked for, not counted: LibreOffice would count all rows for each of them whenever a reading is typed. The log says
    of each row where in the list it is named, also of an entry that is an error value; of a number that is there twice
    the first counts.
    """

    def so_far(number: int) -> Node:
        in_a_row = known(xl.MATCH(number, the[f"log_{kind}_at"], 0))
        of_setup = all_of(xl.IFERROR(SET_ROW, 0).same(number), the.certificate_without_wires > 0)
        as_gauge = known(xl.MATCH(number, the.log_gauge_at, 0))
        one = when(any_of(in_a_row, of_setup if kind == "wires" else as_gauge), 1, 0)
        return one if number == 1 else above[f"{kind}_so_far"] + one

    def running(number: int) -> Node:
        now = here[f"{kind}_so_far"]
        return when(now > (0 if number == 1 else above[f"{kind}_so_far"]), now)

    def column(name: str, meaning: str, formula: Callable[[int], Node]) -> Column:
        return Column(f"{kind}_{name}", f"{kind} {name}", meaning, formula=formula, look="note_9", role="working")

    return Table("certificate", (
        column("so_far", f"how many of the {kind} list are used down to here", so_far),
        column("used", f"running number of the {kind} used", running),
    ), rows)  # fmt: skip


def values(rows: int) -> Table:
    """The pitch diameters that are judged."""

    def value(number: int) -> Node:
        result = log_rows.of_row("pitch_diameter_result", number, rows)
        size = log_rows.of_row("pitch_diameter", number, rows)  # judged, but with equipment that does not count
        return when(
            known(size), first((result.same("check instrument"), ""), (_again(number, rows), ""), otherwise=size)
        )

    return Table("certificate", (
        Column("value", "value", "pitch diameter that is judged, one cell a part", formula=value, dimension="length",
               look="note_9", role="working"),
    ), rows)  # fmt: skip
