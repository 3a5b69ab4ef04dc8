"""Which of the shop's wire sets is nearest the best wire, in range, matched and in date. The person still chooses."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import first, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets.setup_figures import EXTERNAL, wire


def _nearest() -> Node:
    off, words = the.wires_off_best, the.wires_words
    row = xl.MATCH(xl.MIN(off), off, 0)
    return first(
        (no(EXTERNAL), ""),
        (xl.COUNTA(the.wires_id).same(0), "none listed"),
        (xl.COUNT(off) > 0, say(xl.INDEX(the.wires_id, row), ", ", wire(xl.INDEX(the.wires_mean, row)))),
        otherwise=when(xl.COUNTIF(words, "yes").same(0), "none in range", "none in date"),
    )


NAMED = Figure("wire_set_nearest", "the set on Wire sets nearest the best wire, in range and in date", _nearest())
