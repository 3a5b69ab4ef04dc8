"""The cautions of the sheets that are used at the machine, and who governs threads that people's lives hang on."""

from __future__ import annotations

from sheetfuncs import standards
from workbook_template.figures.notation import any_of, first, the, when
from workbook_template.figures.tree import Node
from workbook_template.sheets.layout import NOTE, Block, block, line, words
from workbook_template.sheets.threads_table import CHOSEN

CAUTIONS = (
    "Eye protection on. No gloves, rings, watch, loose sleeves or loose long hair at a turning spindle.",
    "Chuck key out of the chuck before the spindle starts. Guards in place.",
    "Stop the spindle before measuring, before reaching near the work, and before clearing chips.",
    "Power off and locked before change gears, belts or their guards are handled.",
    "Never handle chips by hand: hook or brush. Never hold abrasive cloth by hand on turning work.",
    (
        "The machine's manual, local rules and trained supervision come first. "
        "The figures here are a calculation, they judge no machine, tool or set-up."
    ),
)
TITLE = "Before the spindle turns, and while it does"


LETTERS = 118
"""Letters that a line has room for."""


def cautions() -> Block:
    """The cautions as a block."""
    lines = (line(words(12, f"•  {text}", "note_9"), height=NOTE * -(-len(text) // LETTERS)) for text in CAUTIONS)
    return block(TITLE, *lines)


def authority() -> Node:
    """The sentence of the thread system in use, empty where none stands with it."""
    titles: dict[str, list[str]] = {}
    for system in standards.SYSTEMS.values():
        if system.authority:
            titles.setdefault(system.authority, []).append(system.title)
    cases = [
        (any_of(*(the.thread_system.same(title) for title in systems)), sentence)
        for sentence, systems in titles.items()
    ]
    return when(CHOSEN, first(*cases))
