"""What the sheet Log has for taper threads beside its rows: the place typed once, its figures, the gauge's words."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import known, node, the, when
from workbook_template.figures.tree import Node
from workbook_template.sheets import taper_figures
from workbook_template.sheets.inputs import ANYTHING, Input
from workbook_template.sheets.layout import Column, Table
from workbook_template.sheets.log_rows import GO_FAILS, LARGE, NOT_GO_ENTERS, PASS, SMALL

PLACE = Input(
    "log_once_place", "Place", "taper: where the rows were measured that name no place", "entry", ANYTHING,
    "Taper thread: distance of the single wire from the small end (inside: from the face), working unit. It counts for "
    "every row measured that has no place of its own.",
)  # fmt: skip
"""The place of the readings on a taper thread, typed once."""

TURNS_LABEL = Figure(
    "turns_rule_label", "what the rule for turns is of",
    when(the.tapered, "Turns rule of ring or plug", "Turns rule for not go"),
)  # fmt: skip

AT_PLACE = {"over_wires": the.taper_lean * (the.log_lift_direct + the.taper_rise), "crest": the.log_lift_direct}
"""What limits are less where a taper thread is measured, than at the place of Setup or the gauge plane."""


def _lift(least: Node, most: Node) -> Node:
    place = the.log_once_place
    believed = taper_figures.believed(place, least, most)
    return when(the.tapered, when(known(believed), taper_figures.fall(place)), 0)


WORKING = (
    Figure("log_tapered", "1 for a taper thread, whose sizes are brought to its gauge plane, else 0",
           when(the.tapered, 1, 0)),
    Figure("log_lift_wires", "what brings a diameter to the gauge plane from the place at the top, over wires",
           _lift(the.taper_first, the.taper_last)),
    Figure("log_lift_direct", "the same without wires", _lift(node(0), the.taper_deep)),
    Figure("log_taper_title", "what is told of two stations", when(the.tapered, "Off its taper by", "Taper")),
)  # fmt: skip


def ring_words() -> Table:
    """The words to choose from for a ring or plug."""
    pairs = ((PASS, PASS), (GO_FAILS, LARGE), (NOT_GO_ENTERS, SMALL))
    return Table("log_ring", (
        Column("words", "words", "words for the result of a ring or plug, by the kind of thread", role="list",
               formula=lambda number: when(the.tapered, pairs[number - 1][1], pairs[number - 1][0])),
    ), len(pairs))  # fmt: skip
