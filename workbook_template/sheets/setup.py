"""The sheet Setup: what goes to the machine. The tool in the post, every pass at the dials, what is left to cut."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    blank,
    first,
    given,
    known,
    length,
    no,
    say,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Check, Input
from workbook_template.sheets import (
    cautions,
    coating,
    contact,
    drawing,
    instructions,
    instrument_columns,
    instruments,
    last_passes,
    plan,
    plan_figures,
    setup_figures,
)
from workbook_template.sheets.plan_figures import PASSES, SPRINGS
from workbook_template.sheets.setup_figures import EXTERNAL, at_aim, wire
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Setup"

ANGLE = Check("decimal", "0", "60", "between", "Type the angle from straight in, in degrees: 0 to 60.")
INPUTS = (
    Input("tip_kind", "Tool tip", "end of the threading tool", "text",
          blocks.one_of(("sharp", "flat", "nose radius"), "Choose sharp, flat or nose radius."),
          "sharp, flat, or nose radius: the tool that is in the post, not the one on the drawing."),
    Input("tip_size", "Tip size", "width of the flat, or nose radius", "entry", blocks.LENGTH,
          "Width of the flat or the nose radius, in the working unit. Leave empty for a sharp tool."),
    Input("blank_measured", "Blank measured", "diameter of the blank, or bore, as measured", "entry", blocks.LENGTH,
          "Diameter of the turned blank (or bore) as measured, in the working unit. Empty: the middle of its limits."),
    Input("aim_limit", "Aim at", "limit of the pitch diameter to aim at", "text",
          blocks.one_of(("max", "mid", "min"), "Choose max, mid or min."),
          "Which pitch diameter the depth is for: mid is the middle of the tolerance."),
    Input("compound_angle", "Compound angle", "compound angle from straight in", "angle", ANGLE,
          "Degrees from straight in. Empty: half a degree less than the flank, so 29.5 for 60 degree threads."),
    Input("dial_division", "Dial division", "smallest division of the compound dial", "entry", blocks.LENGTH,
          "What one division moves the compound slide, in the working unit. Empty: that of the lathe in use."),
    Input("passes", "Passes", "cutting passes", "count", blocks.whole(1, PASSES),
          "How many cutting passes, the finishing pass among them, spring passes not. 1 to 30."),
    Input("finishing_pass", "Finishing pass", "radial infeed of the last cutting pass", "entry", blocks.LENGTH,
          "Radial infeed of the last cutting pass. Empty: what the rule for the passes gives."),
    Input("spring_passes", "Spring passes", "passes without more infeed", "count", blocks.whole(0, SPRINGS),
          "Passes at full depth without more infeed, 0 to 6. Empty: none."),
    Input("pass_rule", "Pass rule", "how the depth is shared", "text",
          blocks.one_of(("equal area", "light first"), "Choose equal area or light first."),
          "equal area: every pass takes the same chip. light first: a lighter first pass, the rest the same."),
    Input("wire_set", "Wire set", "wire set in use", "text", instrument_columns.SET_LIST,
          "Number of the wire set, from the sheet Instruments; its certified mean is used. External threads only."),
    Input("wire_in_use", "Wire in use", "diameter of the measuring wires in use", "wire", blocks.LENGTH,
          "Only without a set: diameter of the three wires as certified, in the working unit. Wins over the set."),
)  # fmt: skip

WIDTHS = {
    "A": 14.5, "B": 11.5, "C": 9.3, "D": 7.7, "E": 1,
    **dict(zip("FGHIJKLMNO", (4.5, 7.2, 7.8, 7.2, 4.3) * 2)),
    "P": 4, "Q": 2, "R": 22, "S": 14, "T": 4, "AC": 4, "AD": 9, "AE": 10, "AF": 10, "AG": 10, "AH": 10, "AI": 4,
}  # fmt: skip
LINE = 13.2
"""Height of a row of the two columns, in points."""

BESIDE_FIRST, BESIDE_LAST = 8, last_passes.LAST
SIGN_AT = 40


def _gearing() -> Node:
    lead = say(length(the.lead), " ", the.unit)
    per_inch = the.row_threads_per_inch
    odd = xl.ABS(2 * per_inch - xl.ROUND(2 * per_inch, 0)) > 0.0001
    return first(
        (no(CHOSEN), the.thread_note),
        (
            the.starts > 1,
            say(the.starts, " starts: gear for the lead ", lead, ", turn the work ", xl.ROUND(360 / the.starts, 2),
                " degrees between starts."),
        ),
        (all_of(the.own_unit.same("mm"), odd), say("Gear for a lead of ", shown(the.own_pitch, 3), " mm.")),
        otherwise=say("Gear for ", xl.ROUND(per_inch, 3), " threads per inch, lead ", lead, "."),
    )  # fmt: skip


def _title() -> Node:
    revision = when(given(the.revision), say(" rev. ", the.revision))
    return say(
        when(given(the.part), the.part, "no part named"),
        ", job ", when(given(the.job_number), the.job_number, "–"),
        when(given(the.drawing), say(", drawing ", the.drawing, revision)),
        when(given(the.material), say(", ", the.material)),
        "; ", the.unit_words, ".",
        when(coating.IS_GIVEN, " COATED AFTERWARDS: cut to the limits at the foot of this page."),
    )  # fmt: skip


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, WIDTHS)
    blocks.banner(
        book, ws, "A1:O1", "left_hand_setup",
        when(given(the.left_hand_words), say(the.left_hand_words, ": leadscrew reversed, cut away from headstock")),
    )  # fmt: skip
    blocks.result(book, ws, "A2:G2", "callout_setup", "the thread, as on the sheet Job", the.callout, look="callout")
    blocks.result(book, ws, "H2:O2", "gear_words", "what to gear for", _gearing(), look="note")
    blocks.result(book, ws, "A3:O3", "setup_title", "part, job, drawing and unit in words", _title(), look="aid_left")
    for row in range(BESIDE_FIRST, BESIDE_LAST + 1):
        ws.row_dimensions[row].height = LINE
    for row, height in ((1, 18), (2, 28), (3, 14), (4, 13), (5, 32), (6, 15), (7, 25)):
        ws.row_dimensions[row].height = height
    _main_figures(book, ws)
    _inputs(book, ws)
    _depth(book, ws)
    _wires(book, ws)
    last_passes.build(book, ws)
    contact.build(book, ws, instruments.WIRE_SETS)
    plan.build(book, ws)
    drawing.build(book, ws, "F28", "F27:O27")
    _sign_off(book, ws)
    last = instructions.build(book, ws, BESIDE_LAST + 1)
    last = cautions.block(book, ws, last + 1, "A", "O", 130) + 1
    blocks.result(
        book, ws, f"A{last}:O{last}", "authority_setup", "who governs pipe and flight threads", the.authority_words,
        look="aid_left",
    )  # fmt: skip
    ws.row_dimensions[last].height = 2 * cautions.LINE
    last += 1
    meaning = "limits before coating, as on the sheet Job"
    blocks.result(book, ws, f"A{last}:O{last}", "coating_setup", meaning, the.coating_words, look="aid_left")
    _working(book, ws)
    blocks.page(ws, f"A1:O{last}")
    ws.page_margins.left = ws.page_margins.right = 0.4
    ws.page_margins.top, ws.page_margins.bottom = 0.35, 0.55
    blocks.lock(ws)


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "R7:S7", "Working figures (not printed)")
    figures = (
        *setup_figures.WORKING,
        *contact.WORKING,
        *plan_figures.WORKING,
        *last_passes.WORKING,
        *drawing.WORKING,
        *instructions.WORKING,
    )
    for row, (name, meaning, formula, *_) in enumerate(figures, start=8):
        blocks.write(book, ws, f"R{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"S{row}", name, meaning, formula, role="working")


NONE = "–"
"""What stands where a main figure is not known."""


def _main_figures(book: Book, ws: Worksheet) -> None:
    has_infeed, has_wire = known(the.radial_infeed), known(the.wire_constant)
    infeed_head = when(
        all_of(has_infeed, blank(the.blank_measured)), "Feed in, BLANK NOT MEASURED", "Feed in on the radius"
    )
    blocks.result(book, ws, "A4:B4", "radial_head", "heading of the infeed", infeed_head, look="head")
    heads = {
        "C4:D4": "Turn the compound",
        "F4:H4": "Over wires, aim",
        "I4:L4": "Over wires, max",
        "M4:O4": "Over wires, min",
    }
    for ref, words in heads.items():
        blocks.write(book, ws, ref, words, "head")
    figures = (
        ("A5:B5", Figure("radial_infeed", "radial infeed for this tip",
                         when(the.setup_fault.same(""), the.infeed_raw, NONE))),
        ("C5:D5", Figure("compound_travel", "travel of the compound for that infeed",
                         when(all_of(has_infeed, known(the.angle_cosine)), plan_figures.TRAVEL, NONE))),
        ("F5:H5", Figure("micrometer_preset", "reading to set the micrometer to",
                         when(has_wire, at_aim(contact.of_setup, NONE), NONE))),
        ("I5:L5", Figure("over_wires_max", "largest reading over wires",
                         when(has_wire, contact.of_setup("max"), NONE))),
        ("M5:O5", Figure("over_wires_min", "smallest reading over wires",
                         when(has_wire, contact.of_setup("min"), NONE))),
    )  # fmt: skip
    for ref, (name, meaning, formula, _) in figures:
        blocks.result(book, ws, ref, name, meaning, formula, dimension="length", look="setup_main")


def _beside() -> dict[str, Figure]:
    """The words beside inputs, by the input."""
    angle, dial, used, best = the.angle_used, the.dial_used, the.wire_used, the.wire_best
    angle_words = when(blank(the.compound_angle), say("empty: ", xl.ROUND(angle, 2), " is used"), "from straight in")
    text_angle = when(xl.ISTEXT(the.compound_angle), "a text, no number")
    dial_words = when(known(dial), say("lathe: ", length(dial), " is used"), "nothing is rounded")
    wire_used = say(wire(used), when(blank(the.wire_in_use), " is its mean", " is used"))
    return {
        "tip_size": Figure(
            "tip_words_short", "what the tip size is",
            first((the.tip_kind.same("flat"), "width of its flat"), (the.tip_kind.same("nose radius"), "its radius")),
        ),
        "blank_measured": Figure("blank_words", "how the blank stands", setup_figures.blank_words()),
        "compound_angle": Figure(
            "angle_words", "which compound angle is used", when(known(angle), angle_words, text_angle)
        ),
        "dial_division": Figure(
            "dial_words", "which dial division is used", when(blank(the.dial_division), dial_words)
        ),
        "wire_set": Figure(
            "wire_set_words", "which wire is used", when(all_of(known(used), no(the.no_wires)), wire_used)
        ),
        "wire_in_use": Figure(
            "wire_words_short", "the best wire in words", when(known(best), say("best ", wire(best)))
        ),
    }  # fmt: skip


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A6:D6", "At the machine: fill in from top to bottom")
    defaults = {"aim_limit": "mid", "pass_rule": "equal area"}
    blocks.result(book, ws, "A7:D7", "next_step", "what is still to fill in", setup_figures.next_step(), look="next")
    beside = _beside()
    for row, (name, label, meaning, dimension, check, prompt) in enumerate(INPUTS, start=BESIDE_FIRST):
        blocks.write(book, ws, f"A{row}", label, "label")
        value = defaults.get(name)
        blocks.entry(book, ws, f"B{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
        if words := beside.get(name):
            ref = f"C{row}:D{row + (name == 'blank_measured')}"
            blocks.result(book, ws, ref, words.name, words.meaning, words.formula, look="aid")


def _depth(book: Book, ws: Worksheet) -> None:
    row = BESIDE_FIRST + len(INPUTS)
    blocks.heading(book, ws, f"A{row}:D{row}", "Radial infeed with another tip: do not feed this")
    blocks.write(book, ws, f"A{row + 1}", "Sharp; flat of P/8", "label")
    sharp, flat = the.infeed_start, the.pitch / 8 / the.flank_spread
    fits = all_of(flat <= the.tip_room + 0.000000001, sharp > flat)

    def of_tip(infeed: Node) -> Node:
        by_tip = when(known(the.root_radius_min), "radius only", infeed)
        return when(all_of(known(sharp), the.blank_fault.same("")), by_tip)

    figures = (
        (f"B{row + 1}", Figure("infeed_sharp", "radial infeed of a dead sharp tip", of_tip(when(sharp > 0, sharp)))),
        (f"C{row + 1}:D{row + 1}", Figure("infeed_flat", "radial infeed of a flat of P/8",
                                          of_tip(when(fits, sharp - flat, "too blunt")))),
    )  # fmt: skip
    for ref, (name, meaning, formula, _) in figures:
        blocks.result(book, ws, ref, name, meaning, formula, dimension="length")
    ref, words = f"A{row + 2}:D{row + 4}", setup_figures.tip_words()
    blocks.result(book, ws, ref, "tip_words", "what the sharp figure would do", words, look="sentence")


def _micrometer_range() -> Node:
    step = when(the.unit.same("mm"), 25, 1)
    low, high = xl.INT(the.over_wires_min / step) * step, -xl.INT(-the.over_wires_max / step) * step
    return when(known(the.wire_constant), say(low, " to ", high, " ", the.unit))


def _wires(book: Book, ws: Worksheet) -> None:
    row = BESIDE_FIRST + len(INPUTS) + 5
    blocks.heading(book, ws, f"A{row}:D{row}", "Three wires")
    for line, label in enumerate(("Usable: over, up to", "Reading less pitch dia.", "Micrometer"), start=1):
        blocks.write(book, ws, f"A{row + line}", label, "label")
    crest = the.major_min - the.pitch_max + 2 * the.half_height
    largest = (1 + the.crest_rounding) * crest - 4 * the.crest_rounding * the.half_height
    leans = xl.COS(xl.RADIANS(the.flank_steeper))
    middle = contact.of_setup("mid")
    figures = (
        (f"B{row + 1}", Figure("wire_smallest", "wire flush with the smallest crest at the largest pitch diameter",
                               when(EXTERNAL, crest / the.wire_rise), "wire")),
        (f"C{row + 1}:D{row + 1}", Figure("wire_largest", "wire at the edge or the rounding of the crest",
                                          when(EXTERNAL, largest * xl.TAN(the.half_angle) / leans), "wire")),
        (f"C{row + 2}:D{row + 2}", Figure("wire_constant", "reading less pitch diameter, for the wire in use",
                                          when(known(middle), middle - contact.pitch_diameter("mid")), "wire")),
        (f"C{row + 3}:D{row + 3}", Figure("micrometer_range", "range of the micrometer", _micrometer_range())),
    )  # fmt: skip
    for ref, (name, meaning, formula, dimension) in figures:
        blocks.result(book, ws, ref, name, meaning, formula, dimension=dimension)
    ref, words = f"A{row + 4}:D{row + 6}", setup_figures.wire_words()
    blocks.result(book, ws, ref, "wire_words", "whether the wire in use serves", words, look="sentence")


SIGNED = (
    (("F", "G:I", "tool, tip, centre height"), ("K", "L:O", "gears and levers, hand")),
    (("F", "G:I", "half-nuts, dial line"), ("K", "L:O", "speed, chuck, guards")),
)
"""Boxes to tick on paper: box, cells of the words, words."""


def _sign_off(book: Book, ws: Worksheet) -> None:
    """Boxes for pen and ink; nothing is typed here."""
    blocks.heading(book, ws, f"F{SIGN_AT}:O{SIGN_AT}", "Checked before the first cut: tick and sign")
    for row, line in enumerate(SIGNED, start=SIGN_AT + 1):
        for box, cells, words in line:
            blocks.write(book, ws, f"{box}{row}", None, "box")
            first, last = cells.split(":")
            blocks.write(book, ws, f"{first}{row}:{last}{row}", words, "aid")
    row = SIGN_AT + 3
    for columns, words in (("F:I", "Set up by"), ("J:M", "First piece checked by"), ("N:O", "Date")):
        first, last = columns.split(":")
        blocks.write(book, ws, f"{first}{row}:{last}{row}", words, "head")
        blocks.write(book, ws, f"{first}{row + 1}:{last}{row + 3}", None, "box")
