"""What stands over the pages of the records: the thread, and whose part it is."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import given, say, the, when
from workbook_template.figures.tree import Node
from workbook_template.sheets.layout import CALLOUT, NOTE, Block, Line, block, line, shown


def or_dash(value: Node) -> Node:
    """What was typed, or a dash."""
    return when(given(value), value, "–")


def lines(callout: str, words: Figure, columns: int) -> tuple[Line, Line]:
    """The thread under a name of its own, and a line of words, which wraps where the part's name is long."""
    thread = Figure(callout, "the thread, as on the sheet Job", the.callout)
    return (
        line(shown(columns, thread, "thread"), height=CALLOUT),
        line(shown(columns, words, "note_9"), height=2 * NOTE),
    )


def head(name: str, columns: int) -> Block:
    """Thread, part, drawing and job over a page of that name."""
    words = say(
        when(given(the.part_text), the.part_text, "no part named"), ", drawing ", or_dash(the.drawing_text),
        " revision ", or_dash(the.revision_text), ", job ", or_dash(the.job_number_text), ", ", the.unit_words,
    )  # fmt: skip
    figure = Figure(f"{name}_job", "part, drawing, job and unit in words", words)
    return block(None, *lines(f"callout_{name}", figure, columns))
