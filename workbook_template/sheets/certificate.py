"""The sheet Certificate: a customer's paper for a lot, with limits, verdict, readings, instruments and the rule.

What is typed stands in a panel beside the pages, so that the paper shows words and figures alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    exactly,
    fixed,
    given,
    here,
    joined,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import instruments, letterhead, log_rows
from workbook_template.sheets.certificate_figures import (
    COUNTED,
    FIELDS,
    JUDGED,
    SUMMARY,
    next_step,
    others,
    parts_that_are,
    told,
    verdict,
)
from workbook_template.sheets.inputs import ANYTHING, DAY, Input
from workbook_template.sheets.layout import (
    BODY,
    CALLOUT,
    HEAD,
    NOTE,
    Block,
    Column,
    Line,
    Made,
    Mark,
    Piece,
    Sheet,
    Table,
    beside,
    block,
    box,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    table,
    words,
)
from workbook_template.trade import days

SHEET = "Certificate"
INSTRUMENTS, WIRES = 6, 3
SIDE_BY_SIDE = 2
"""Lists of parts on a page."""

DEEP, DEEP_LATER = 30, 46
"""Parts in a list of the first page that has them, and of a later one."""

TITLE = "Certificate of inspection"

NUMBER = Input("certificate_number", "Number", "number of the certificate", "text", ANYTHING,
               "Your number for this certificate.")  # fmt: skip
LOT = Input("certificate_lot", "Lot", "lot that is certified", "text", ANYTHING, "Number of the lot; one lot a file.")
ORDER = Input("certificate_order", "Customer's order", "number of the customer's order", "text", ANYTHING,
              "Number of the order, as the customer's papers have it.")  # fmt: skip
DATE = Input("certificate_date", "Date", "date of the certificate", "date", DAY,
             "Date of this certificate, as your spreadsheet program takes dates.")  # fmt: skip
SIGNED = (
    Input("certificate_inspector", "Inspected by", "inspected by, name", "text", ANYTHING,
          "Inspected by: the name in full."),
    Input("certificate_released", "Released by", "released by, name", "text", ANYTHING,
          "Released by: the name in full."),
)  # fmt: skip
DIGEST = Input(
    "certificate_digest", "Digest of the data", "digest of the data of the file", "text", ANYTHING,
    "What python -m workbook_template certificate FILE prints for this file. It shows later whether a value "
    "was changed.",
)  # fmt: skip


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


def printed(quantity: int, rows: int) -> int:
    """Pages that are printed: the letter, and as many lists as the quantity needs, one at least.

    >>> printed(0, 200), printed(60, 200), printed(61, 200)
    (2, 2, 3)
    """
    return 2 + sum(page[-1].last < quantity for page in groups(rows)[:-1])


def _field(label: str, wide: int) -> tuple[Piece, ...]:
    one = FIELDS[label]
    return words(2, label, "note_9"), shown(wide, one._replace(meaning=f"{one.meaning}, on the certificate"), "body")


def _addressed() -> Block:
    """Whom it is for, and by which numbers it goes."""
    date = Figure(
        "certificate_date_printed", "date of the certificate, as printed",
        when(days.is_day(the.certificate_date), days.written(the.certificate_date), "–"),
    )  # fmt: skip
    numbers = (
        ("Number", words(3, the.certificate_number & "", "body")), ("Date", shown(3, date, "body")),
        ("Your order", words(3, the.certificate_order & "", "body")),
        ("Lot", words(3, the.certificate_lot & "", "body")),
    )  # fmt: skip
    customer = shown(6, FIELDS["Customer"]._replace(meaning="customer, on the certificate"), "body")
    to = block(None, line(customer), *deep(words(6, the.customer_address & "", "body_top", lines=3)))
    said = block(None, *(line(words(2, label, "note_9"), value) for label, value in numbers))
    return beside(to, gap(1), said)


def _part() -> Block:
    thread = Figure("callout_certificate", "the thread, as on the sheet Job", the.callout)
    note = Figure("certificate_note", "the thread in words", the.thread_note)
    return block(
        None,
        line(shown(12, thread, "thread"), height=CALLOUT),
        line(shown(12, note, "note_9")),
        line(*_field("Part", 10)),
        line(*_field("Drawing, revision", 4), *_field("Job", 4)),
        line(*_field("Material", 10)),
        line(*_field("Its certificate", 4), *_field("Ordered", 4)),
        line(*_field("Logged, measured", 10)),
    )


def _limit(which: str, end: str) -> Piece:
    name = f"{which}_diameter_{end}"
    size, note = the[name], the[f"{name}_note"]
    printed = when(known(size), say(length(size), when(note.same("for reference"), " ref.")), "–")
    return shown(2, Figure(f"certificate_{name}", f"{name.replace('_', ' ')}, as printed", printed), "row_number")


def _limits() -> Block:
    """Limits of size beside the rule that the readings are judged by."""
    title = Figure("certificate_unit", "unit of the lengths, in words", say("Limits of size, ", the.unit_words))
    heads = (("", 2, ""), ("smallest", 2, "_right"), ("largest", 2, "_right"))
    limits = block(
        None,
        line(shown(6, title, "section"), height=HEAD),
        line(*(words(wide, text, f"column_head{look}") for text, wide, look in heads), height=NOTE),
        *(
            line(words(2, which.capitalize(), "row_words"), _limit(which, "min"), _limit(which, "max"))
            for which in ("major", "pitch", "minor")
        ),
    )
    rule = Figure(
        "certificate_rule", "decision rule and uncertainty, in words",
        when(given(the.decision_words), the.decision_words, "No decision rule is chosen on the sheet Log."),
    )  # fmt: skip
    return beside(limits, gap(1), block("Decision rule and uncertainty", line(shown(5, rule, "body_small", lines=4))))


def _summary() -> Block:
    """The readings of the lot and the verdict."""
    judged = tuple(
        (word, Figure(parts_that_are(word).name, f"parts whose pitch diameter is: {word}", _count(word), "count"))
        for word in JUDGED
    )
    figures = tuple(zip((*SUMMARY.items(), *judged), (1, 2, 2, 2, 1, 2, 1, 1)))
    verdict_words = Figure("certificate_words", "how the lot stands, in words", verdict())
    return stack(
        block(
            "Pitch diameter of the lot",
            line(*(words(wide, label, "column_head_right") for (label, _), wide in figures), height=NOTE),
            line(*(shown(wide, one, "row_number_bold") for (_, one), wide in figures)),
        ),
        block(None, line(height=NOTE), *deep(shown(12, verdict_words, "said", lines=3))),
    )


def _count(word: str) -> Node:
    return the[f"count_pitch_diameter_{word.replace(' ', '_')}"]


def _signatures() -> Block:
    """Names, boxes for pen and ink, and what the paper does not say."""
    names = (part for one in SIGNED for part in (words(2, one.label), words(4, the[one.name] & "", "body")))
    digest = Figure(
        "certificate_digest_printed", "digest of the data, as printed",
        when(given(the.certificate_digest), say("Digest of the data: ", the.certificate_digest)),
    )  # fmt: skip
    authority = Figure("authority_certificate", "who governs pipe and flight threads", the.authority_words)
    return block(
        None,
        line(*names),
        line(box(5), gap(1), box(5), height=2 * BODY),
        line(*(words(6, "signature and date", "note_9") for _ in SIGNED), height=NOTE),
        line(height=NOTE),
        line(words(12, DISCLAIMER, "note_9"), height=NOTE),
        line(shown(12, authority, "note_9"), height=2 * NOTE),
        line(shown(12, digest, "note_9"), height=NOTE),
    )


DISCLAIMER = (
    "This paper reports measurements of the parts named; it makes no statement about their fitness for any use."
)


def _again(number: int) -> Node:
    """Whether a row of the log repeats a part, so that it is not counted."""
    return xl.LEFT(xl.INDEX(the.log_words, number), len(log_rows.AGAIN)).same(log_rows.AGAIN)


def _listed(group: Group) -> Block:
    """Parts in the order logged, six columns wide."""

    def of(what: str, number: int) -> Node:
        return xl.INDEX(the[f"log_{what}"], group.first + number - 1)

    def serial(number: int) -> Node:
        part, row = of("serial", number), group.first + number - 1 + log_rows.HEAD
        return when(given(of("pitch_diameter_result", number)), when(given(part), part & "", f"row {row}"))

    def pitch(number: int) -> Node:
        return when(known(of("pitch_diameter", number)), of("pitch_diameter", number))

    def result(number: int) -> Node:
        return when(_again(group.first + number - 1), "not counted", of("pitch_diameter_result", number) & "")

    def column(name: str, head: str, meaning: str, formula: Callable[[int], Node], wide: int, **more: str) -> Column:
        told_of = f"{meaning}, column {group.number} of the list"
        return Column(f"{name}_{group.number}", head, told_of, wide, formula, **more)

    own = f"result_{group.number}"
    in_use = given(here[f"serial_{group.number}"])
    return table(Table("certificate", (
        column("serial", "part", "part", serial, 2, look="note_left", head_look="column_head_left"),
        column("pitch_diameter", "pitch dia.", "pitch diameter", pitch, 1, dimension="length", look="note_right",
               head_look="column_head_right"),
        column("result", "result", "result", result, 3, look="aside", head_look="column_head_indented"),
    ), group.last - group.first + 1, NOTE, marks=(
        *(Mark(word, here[own].same(word), (own,)) for word in COUNTED if word != "in"),
        Mark("row_used", in_use),
    )))  # fmt: skip


def _parts(page: tuple[Group, ...]) -> Block:
    """The lists of a page; the last may be shorter."""
    lists = [_listed(group) for group in page]
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


def _instruments() -> Block:
    wire = say("Wires in use: ", fixed(the.wire_used, the.decimals + 1), " ", the.unit, ". ")
    unknown = say("Rows of the log that name no listed instrument: ", the.certificate_unknown, ".")
    not_here = say(
        _not_listed(the.certificate_instrument_used, INSTRUMENTS, " more instruments are named in the log. "),
        when(all_of(known(the.wire_used), no(the.no_wires)), wire),
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


def _rest(number: int, pages: tuple[tuple[Group, ...], ...]) -> Line:
    """Under the lists of a page, counted from 1: whether they hold all."""
    left = the.certificate_left if number == 1 else joined("-", the.certificate_logged, *_counts(pages[:number]))
    said = when(left > 0, say(left, " more rows stand on the next page."), "All rows of the log are listed.")
    figure = Figure("certificate_rest", "whether all rows are listed", said)
    if number > 1:
        used = when(the.certificate_logged > pages[number - 2][-1].last, said)
        figure = Figure(f"certificate_rest_{number}", f"the same of page {number} of the lists", used)
    return line(shown(12, figure, "note_9"), height=NOTE)


def _counts(pages: Iterable[tuple[Group, ...]]) -> Iterator[Node]:
    """How many rows each list holds."""
    return (xl.COUNTIF(the[f"certificate_result_{one.number}"], "?*") for page in pages for one in page)


def _panel() -> Block:
    """What is typed, beside the first page."""
    on_this_file = "run python -m workbook_template certificate on this file"
    versions = say(
        "Workbook built ", the.built_on, " with sheetfuncs ", the.sheetfuncs_version, ". ",
        when(given(the.certificate_digest),
             f"Digest as typed above: {on_this_file} to see whether it is that of its data.",
             f"No digest yet: {on_this_file} and type what it prints."),
    )  # fmt: skip
    label = Figure(
        "certificate_date_label", "label of the date, and whether it is one",
        when(days.if_no_day(the.certificate_date).same(""), "Date", "Date? 1990 to 2099"),
    )  # fmt: skip
    step = Figure("certificate_step", "what the certificate still lacks", next_step())
    return block(
        None,
        line(words(9, "Typed here, printed there", "section")),
        *deep(shown(9, step, "said", lines=2)),
        *letterhead.entries(),
        *letterhead.entries((NUMBER, LOT, ORDER)),
        line(shown(3, label, "label"), entry(6, DATE)),
        *letterhead.entries((*SIGNED, DIGEST)),
        *deep(shown(9, Figure("certificate_versions", "versions, in words", versions), "note_9", lines=2)),
    )


def _working(first_page: tuple[Group, ...]) -> tuple[Figure, ...]:
    """Figures behind the page."""
    unnamed = the.log_pitch_diameter_result.differs("") * the.log_serial.same("")
    not_judged = (
        Figure(parts_that_are(word).name, f"parts whose pitch diameter is: {word}", _count(word), "count")
        for word in COUNTED
        if word not in JUDGED
    )
    return (
        Figure("certificate_logged", "rows begun", xl.COUNTIF(the.log_pitch_diameter_result, "?*")),
        Figure("certificate_left", "rows begun that the first page of parts does not list",
               joined("-", the.certificate_logged, *_counts((first_page,)))),
        Figure("certificate_crest_title", "which crest diameter is logged",
               when(the.thread_side.same("internal"), "Bore", "Major diameter")),
        Figure("certificate_crest_in", "crest diameters that are in", the.count_crest_in),
        Figure("certificate_crest_others", "crest diameters that are not in", others("crest")),
        Figure("certificate_ring_in", "gaugings that are in", the.count_ring_in),
        Figure("certificate_ring_others", "gaugings that are not in", others("ring")),
        Figure("certificate_unnamed", "rows begun that name no part", xl.SUMPRODUCT(unnamed)),
        Figure("certificate_unknown", "rows that name no instrument of the list",
               xl.MAX(0, the.certificate_logged - xl.SUM(the.certificate_instrument_rows))),
        *not_judged,
    )  # fmt: skip


_READINGS = joined("+", *(the[f"log_{name}"].differs("") for name in log_rows.READINGS))
"""How many readings each row of the log has."""


def _used(kind: str, names: str, rows: int) -> Table:
    """Beside each instrument or wire set: in how many rows it is named, and its running number among those."""

    def counted(number: int) -> Node:
        own = xl.INDEX(the[f"{kind}_id"], number)
        named = xl.SUMPRODUCT(the[names].same(own) * the.log_pitch_diameter_result.differs(""))
        if kind == "wires":  # a row that names none was measured with the set on the sheet Setup
            named = named + when(the.wire_set.same(own), xl.SUMPRODUCT(the.log_wires.same("") * (_READINGS > 0)), 0)
        return when(given(own), when(_is_first(kind, number), named, 0), 0)

    def so_far(number: int) -> Node:
        own, used = xl.INDEX(the[f"{kind}_id"], number), here[f"{kind}_rows"] > 0
        if kind == "instrument":
            gauged = xl.SUMPRODUCT(the.log_gauge.same(own) * 1) > 0
            used = any_of(used, when(given(own), all_of(_is_first(kind, number), gauged), False))
        one = when(used, 1, 0)
        return one if number == 1 else above[f"{kind}_so_far"] + one

    def running(number: int) -> Node:
        now = here[f"{kind}_so_far"]
        return when(now > (0 if number == 1 else above[f"{kind}_so_far"]), now)

    def column(name: str, meaning: str, formula: Callable[[int], Node]) -> Column:
        return Column(f"{kind}_{name}", f"{kind} {name}", meaning, formula=formula, look="note_9", role="working")

    return Table("certificate", (
        column("rows", f"rows of the log with the {kind}", counted),
        column("so_far", f"how many of the {kind} list are used down to here", so_far),
        column("used", f"running number of the {kind} used", running),
    ), rows)  # fmt: skip


def _is_first(kind: str, number: int) -> Node:
    """Whether it is the first of those with its number in the list."""
    own = xl.INDEX(the[f"{kind}_id"], number)
    return xl.MATCH(exactly(own), the[f"{kind}_id"], 0).same(number)


def _values(rows: int) -> Table:
    """The pitch diameters that are judged."""

    def value(number: int) -> Node:
        result = xl.INDEX(the.log_pitch_diameter_result, number)
        judged = any_of(*(result.same(word) for word in JUDGED))
        return when(judged, when(_again(number), "", xl.INDEX(the.log_pitch_diameter, number)))

    return Table("certificate", (
        Column("value", "value", "pitch diameter that is judged, one cell a part", formula=value, dimension="length",
               look="note_9", role="working"),
    ), rows)  # fmt: skip


SPACE = block(None, line())


def sheet(made: Made) -> Sheet:
    """The letter, its instruments with the first parts, and pages for all rows of the log; as many as needed print."""
    pages = groups(made.rows)
    first = stack(
        block(None, *letterhead.head(TITLE)), _addressed(), SPACE, _part(), SPACE, _limits(), SPACE, _summary(),
        SPACE, _signatures(),
    )  # fmt: skip
    listed = (
        stack(
            block(None, *letterhead.head_again(f"{TITLE}, page {at + 1}", the.certificate_number)),
            _instruments() if at == 1 else block(None, columns=12),
            _parts(page),
            block(None, _rest(at, pages)),
        )
        for at, page in enumerate(pages, start=1)
    )
    used = (
        _used("instrument", "log_instrument_used", instruments.INSTRUMENTS),
        _used("wires", "log_wires", instruments.WIRE_SETS),
    )
    return Sheet(
        SHEET,
        (first, *listed),
        _working(pages[0]),
        (*used, _values(made.rows)),
        beside=_panel(),
        printed_pages=printed(made.quantity, made.rows),
        user="record",
    )
