"""The sheet First article: every characteristic with its requirement, method, instrument and result.

A characteristic that is not measured, or whose method or instrument is not named, does not pass, and the words under
the list name it. A size needs a number, by an instrument that measures sizes and has it in its range; pass and fail are
for the method gauge: of the pitch diameter and the lead with a thread gauge for this job, of another size with a gauge
that is listed under other.
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    first,
    given,
    here,
    known,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import record_head
from workbook_template.sheets.first_article_figures import (
    ALL,
    FAILING,
    OTHERS,
    PASSING,
    ROWS,
    Row,
    result_of,
)
from workbook_template.sheets.inputs import ANYTHING, DAY, LENGTH, Input, in_text, one_of
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Made,
    Mark,
    Piece,
    Sheet,
    Table,
    block,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.trade import days

SHEET = "First article"
METHODS = ("over wires", "micrometer", "gauge", "comparator", "thread micrometer", "caliper", "by eye", "other")
WIDE = 24
"""Columns of the page: the twelve of the grid, halved."""


def _named(one: Row) -> tuple[Piece, ...]:
    """What the list says of a characteristic of every thread; the rest of its line is the table's."""
    name, label = f"article_{one.key}", one.label.lower() or "blank or bore"
    if one.label:
        title: Piece = words(4, one.label, "row_words")
    else:
        inside = when(the.thread_side.same("internal"), "Bore", "Blank")
        title = shown(4, Figure("article_blank_title", "blank or bore", inside), "row_words")
    requirement = when(known(the.thread_row), one.requirement)
    asked = Figure(f"{name}_requirement", f"requirement: {label}", requirement)
    limits = (_limit(one, name, f"{end} limit: {label}", end) for end in ("low", "high"))
    return (title, shown(4, asked, "row_words"), *limits)


def _limit(one: Row, name: str, meaning: str, end: str) -> Piece:
    if one.typed:
        return entry(2, Input(f"{name}_{end}", end, meaning, "entry", LENGTH, LEAD_PROMPT), look="input_number")
    limit = when(known(the.thread_row), one.low if end == "low" else one.high)
    return shown(2, Figure(f"{name}_{end}", meaning, limit, "length"), "row_number")


LOOKS = {
    **{word: word for word in ("low", "high", "check entry", "check instrument", "not measured")},
    **dict.fromkeys(("fails", "WRONG HAND"), "left_hand"),
    **dict.fromkeys(("no method", "no instrument", "no limits", "no name"), "boxed"),
}
"""How results stand out that are not in."""

ROW = 24.75
"""Height of a characteristic: two lines of a method or result."""

LEAD_PROMPT = (
    "The standards of screw threads set no limit of its own for the lead; type that of the drawing, or write pass or "
    "fail after a GO gauge of full length."
)


def _typed(name: str, head: str, meaning: str, columns: int, prompt: str, dimension: str = "text") -> Column:
    one_each = f"{meaning}, one cell a characteristic" if name in _OF_EVERY else meaning
    check = one_of(METHODS, "Choose the method from the list.") if name == "method" else ANYTHING
    number = dimension == "entry"
    return Column(name, head, one_each, columns, dimension=dimension, look="input_number" if number else "cell_text",
                  prompt=prompt, check=check, role="input",
                  head_look="column_head_right" if number else "column_head_indented")  # fmt: skip


_OF_EVERY = ("method", "instrument", "measured")


def _left(name: str, head: str, columns: int) -> Column:
    """A column that its lines, or the other table, fill."""
    head_look = "column_head_right" if head in ("low", "high") else "column_head_indented"
    return Column(name, head, "", columns, elsewhere=True, named=False, head_look=head_look)


def _every() -> Table:
    """The list: what is typed and judged of every characteristic. The limits stand in its lines."""
    return Table("article", (
        _left("number", "", 1),
        _left("label", "characteristic", 4), _left("requirement", "requirement", 4),
        _left("low", "low", 2), _left("high", "high", 2),
        _typed("method", "method", "method", 3, "How it is measured."),
        _typed("instrument", "instrument", "instrument", 2,
               "Number of the instrument, as on the sheet Instruments; left empty where it is judged by eye."),
        _typed("measured", "measured", "measured value", 2,
               "The value in the working unit; pass or fail where the method is gauge; right or left for the hand.",
               "entry"),
        Column("result", "result", "result, one cell a characteristic", 4, look="row_result", formula=result_of,
               head_look="column_head_indented"),
        _so_far("missing", _OPEN, "characteristics not complete, so far"),
        _so_far("failing", _FAILS, "characteristics outside their requirement, so far"),
    ), ALL, ROW, marks=tuple(
        Mark(look, here.result.same(word), ("result",)) for word, look in LOOKS.items()
    ))  # fmt: skip


def _others() -> Table:
    """Rows for what else the drawing asks for."""
    return Table("article", (
        _left("number", "", 1),
        _typed("other", "", "other characteristic of the drawing", 4, "What else the drawing asks for, one a row."),
        _typed("other_requirement", "", "its requirement", 4, "The requirement as the drawing has it."),
        _typed("other_low", "", "its low limit", 2, "Smallest value, working unit; empty where there is none.",
               "entry"),
        _typed("other_high", "", "its high limit", 2, "Largest value, working unit; empty where there is none.",
               "entry"),
    ), OTHERS, ROW)  # fmt: skip


def _list() -> Block:
    every = _every()
    heads = line(*(words(one.columns, str(one.head), one.head_look) for one in every.columns), height=NOTE)
    named = (*(_named(one) for one in ROWS), *[()] * OTHERS)
    rows = (
        line(Piece(1, number, "row_centred", dimension="0"), *pieces, height=ROW)
        for number, pieces in enumerate(named, start=1)
    )
    return Block(WIDE, (heads, *rows), ((1 + len(ROWS), 0, _others()), (1, 0, every)))


_FAILS = any_of(*(here.result.same(word) for word in FAILING))
_PASSES = any_of(*(here.result.same(word) for word in PASSING))
_OPEN = all_of(here.result.differs(""), no(_PASSES), no(_FAILS))


def _so_far(name: str, wanted: Node, meaning: str) -> Column:
    """A list in words that grows from row to row."""

    def longer(before: Node) -> Node:
        tell = say(
            when(given(in_text(here.label)), in_text(here.label), say("number ", here.number)), " (", here.result, ")"
        )
        return when(wanted, say(before, when(given(before), ", "), tell), before)

    return Column(name, name, meaning, formula=longer(above[name]), top=longer(node("")), look="note_left",
                  role="working", hidden=True)  # fmt: skip


PART = Input("article_serial", "Part examined", "first article: part examined", "text", ANYTHING,
             "First article: part examined.")  # fmt: skip
WHO = Input("article_who", "Examined by", "first article: who examined it", "text", ANYTHING,
            "First article: who examined it.")  # fmt: skip
WHEN = Input("article_date", "Day", "first article: day of the examination", "date", DAY,
             "First article: day of the examination.")  # fmt: skip

NOTES = (
    "A size for reference is recorded, not judged. The instrument must have been in date and fit on that day, by the "
    "sheet Instruments. Pitch diameter and crest are judged by the rule of the sheet Uncertainty; by the simple rule, "
    "and of all else, a limit counts as in, and so does the limit as shown here."
)


def _top() -> Block:
    """Words, then the part, who and when."""
    told = Figure("article_words", "first article in words: accepted, or what is missing", in_words())
    is_day = Figure("article_date_words", "whether the day of the examination is one", days.if_no_day(the.article_date))
    material = Figure(
        "article_material", "material and its certificate, in words",
        say("Material ", record_head.or_dash(the.material_text), ", certificate ",
            record_head.or_dash(the.material_certificate_text)),
    )  # fmt: skip
    return block(
        "First article: every characteristic",
        *deep(shown(WIDE, told, "said", lines=2)),
        line(
            words(4, PART.label), entry(3, PART), gap(1), words(3, WHO.label), entry(4, WHO), gap(1),
            words(2, WHEN.label), entry(3, WHEN), shown(3, is_day, "aside"),
        ),
        line(shown(WIDE, material, "body")),
    )  # fmt: skip


def sheet(_: Made) -> Sheet:
    """The sheet: what is examined, then the list."""
    page = stack(
        record_head.head("article", WIDE),
        _top(),
        _list(),
        block(None, line(words(WIDE, NOTES, "note_9"), height=2 * NOTE)),
    )
    day = Figure("article_day", "day that instruments must be in date",
                 when(days.is_day(the.article_date), xl.INT(the.article_date)))  # fmt: skip
    return Sheet(SHEET, (page,), (day,), widths=(4.87,) * WIDE, landscape=True, user="record")


def in_words() -> Node:
    """Accepted, or what is wrong or missing."""
    missing, failing = xl.INDEX(the.article_missing, ALL), xl.INDEX(the.article_failing, ALL)
    named = all_of(given(in_text(the.article_serial)), given(in_text(the.article_who)), known(the.article_day))
    not_complete = "NOT COMPLETE, so not accepted: "
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (given(failing), say("NOT ACCEPTED. Outside the requirement: ", failing, ".",
                             when(given(missing), say(" Not complete: ", missing, ".")))),
        (given(missing), say(not_complete, missing, ".")),
        (no(named), f"{not_complete}name the part, who examined it and the day."),
        otherwise=say("ACCEPTED: all ", xl.COUNTIF(the.article_result, "?*"),
                      " characteristics are recorded and meet their requirement."),
    )  # fmt: skip
