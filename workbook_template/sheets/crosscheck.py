"""The block that holds the sheet's own figures against the functions, where they are installed.

The workbook needs no functions. Where LibreOffice or Excel has them, each line says whether formula and function
agree; elsewhere it says in words that they are not loaded. Nothing of it is ever an error on paper.
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import first, fixed, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets.coating import ASKED
from workbook_template.sheets.contact import part_limit
from workbook_template.sheets.existing import REPAIR
from workbook_template.sheets.layout import CALLOUT, NOTE, Block, block, line, shown, words
from workbook_template.sheets.setup_figures import at_aim

NOT_COMPARED = "not compared"
_TIP_SIZE = say(xl.SUBSTITUTE(the.tip_size & "", ",", "."), " ", the.unit_text)
_TIP = when(
    the.tip_kind_used.same("sharp"), "sharp", say(when(the.tip_kind_used.same("flat"), "flat ", "radius "), _TIP_SIZE)
)
_METHOD = when(the.alike_flanks, when(the.tapered, "handbook", "exact"), "handbook")
_AIMED = at_aim(part_limit)
_DEPTH = xl.THREAD_DEPTH(the.callout, _TIP, the.aim_limit, the.blank_used, the.unit_text)
_COATED = the.outward * (_AIMED - the.pitch_diameter_aimed) / 2
"""What is cut deeper for a coating."""
_FEED_LEFT = (the.callout, the.wire_used, the.existing_reading, the.aim_limit, 0, the.unit_text, _METHOD)
_LEFT = when(the.tapered, xl.THREAD_FEED_LEFT(*_FEED_LEFT, the.taper_place), xl.THREAD_FEED_LEFT(*_FEED_LEFT))
_OVER = (the.callout, the.wire_used, "max", the.unit_text, _METHOD)
_OVER_WIRES = when(
    the.tapered,
    xl.IFERROR(xl.THREAD_OVER_WIRES(*_OVER, the.taper_place), "no number"),
    xl.THREAD_OVER_WIRES(*_OVER),
)
CHECKS = (
    ("pitch_diameter_max", "Pitch diameter, max", xl.THREAD_PITCH_DIAMETER(the.callout, "max", the.unit_text)),
    ("pitch_diameter_min", "Pitch diameter, min", xl.THREAD_PITCH_DIAMETER(the.callout, "min", the.unit_text)),
    ("lead", "Lead", xl.THREAD_LEAD(the.callout, the.unit_text)),
    ("best_wire", "Best wire", xl.THREAD_BEST_WIRE(the.callout, the.unit_text)),
    ("part_over_wires_max", "Over wires, max", _OVER_WIRES),
    ("depth", "Radial infeed", when(REPAIR, when(ASKED, NOT_COMPARED, _LEFT), _DEPTH + _COATED)),
    ("compound_travel", "Compound travel", xl.THREAD_COMPOUND(the.depth, the.angle_used)),
)
"""Name of the sheet's figure, its label, the function that must give the same."""

CLOSE = 0.000000001


def _verdict(own: Node, given: Node) -> Node:
    """Whether the sheet's figure and what the function gives agree, with two decimals more than the sheet shows."""
    digits = the.decimals + 2
    return first(
        (no(the.functions_loaded), "not loaded"),
        (no(known(own)), "no figure yet"),
        (given.same(NOT_COMPARED), NOT_COMPARED),
        (no(known(given)), "the function gives no number: look into it"),
        (xl.ABS(given - own) <= (xl.ABS(own) + CLOSE) * CLOSE, say("agree: ", fixed(own, digits))),
        otherwise=say("DIFFER: formula ", fixed(own, digits), ", function ", fixed(given, digits)),
    )


def _by_function(name: str, label: str, call: Node) -> Figure:
    given = when(the.functions_loaded, when(known(the[name]), xl.IFERROR(call, "no number")))
    return Figure(f"function_{name}", f"{label.lower()} by the function", given)


_LOADED = known(xl.IFERROR(xl.THREAD_PITCH("M20x2.5"), ""))
WORKING = (
    Figure("functions_loaded", "whether the functions are installed", _LOADED),
    *(_by_function(*check) for check in CHECKS),
)
"""What the functions give."""


def block_of_checks() -> Block:
    """A line for each figure that is held against its function."""
    words_ = when(
        the.functions_loaded,
        "The functions are installed; each line says whether they agree.",
        "The functions are not loaded here. The workbook does not need them.",
    )
    told = Figure("functions_words", "whether the functions are installed", words_)
    return block(
        "Cross-check with the functions",
        line(shown(6, told, "note_9"), height=CALLOUT),
        *(
            line(
                words(2, label, "row_note"),
                shown(4, Figure(f"check_{name}", f"{label.lower()}: do they agree",
                                _verdict(the[name], the[f"function_{name}"])), "row_note"),
                height=NOTE,
            )
            for name, label, _ in CHECKS
        ),
    )  # fmt: skip
