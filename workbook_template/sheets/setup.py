"""The sheet Setup: what goes to the machine. The tool in the post, every pass at the dials, what is left to cut."""

from __future__ import annotations

from sheetfuncs.roots import NOISE
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    first,
    given,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import (
    carriage,
    cautions,
    coating,
    contact,
    drawing,
    existing,
    instructions,
    instrument_columns,
    last_passes,
    nearest_set,
    plan,
    plan_figures,
    setup_figures,
    taper_figures,
    tip_figures,
)
from workbook_template.sheets.existing import REPAIR
from workbook_template.sheets.inputs import LENGTH, LENGTH_OR_NONE, Check, Input, believed, one_of, whole
from workbook_template.sheets.instrument_columns import OF_THE_SET
from workbook_template.sheets.layout import (
    BODY,
    NOTE,
    Block,
    Made,
    Piece,
    Sheet,
    beside,
    block,
    deep,
    entry,
    gap,
    line,
    picture,
    shown,
    stack,
    words,
)
from workbook_template.sheets.plan_figures import PASSES, SPRINGS
from workbook_template.sheets.setup_figures import EXTERNAL, at_aim, wire
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Setup"

ANGLE = Check("decimal", "0", "60", "between", "Type the angle from straight in, in degrees: 0 to 60.")
INPUTS = (
    *existing.INPUTS,
    Input("tip_kind", "Tool tip", "end of the threading tool", "text",
          one_of(("sharp", "flat", "nose radius"), "Choose sharp, flat or nose radius."),
          "sharp, flat, or nose radius: the tool that is in the post, not the one on the drawing."),
    Input("tip_size", "Tip size", "width of the flat, or nose radius", "entry", LENGTH_OR_NONE,
          "Width of the flat or the nose radius, in the working unit. Leave empty for a sharp tool."),
    Input("blank_measured", "Blank measured", "diameter of the blank, or bore, as measured", "entry", LENGTH,
          "Diameter of the turned blank (or bore) as measured, in the working unit. Empty: the middle of its limits."),
    Input("aim_limit", "Aim at", "limit of the pitch diameter to aim at", "text",
          one_of(("max", "mid", "min"), "Choose max, mid or min."),
          "Which pitch diameter the depth is for: mid is the middle of the tolerance."),
    Input("compound_angle", "Compound, °", "compound angle from straight in", "angle", ANGLE,
          "Degrees from straight in. Empty: half a degree less than the flank, so 29.5 for 60 degree threads."),
    Input("dial_division", "Dial division", "smallest division of the compound dial", "entry", LENGTH,
          "What one division moves the compound slide, in the working unit. Empty: that of the lathe in use."),
    Input("passes", "Passes", "cutting passes", "count", whole(1, PASSES),
          "How many cutting passes, the finishing pass among them, spring passes not. 1 to 30."),
    Input("finishing_pass", "Finishing pass", "radial infeed of the last cutting pass", "entry", LENGTH,
          "Radial infeed of the last cutting pass. Empty: what the rule for the passes gives."),
    Input("spring_passes", "Spring passes", "passes without more infeed", "count", whole(0, SPRINGS),
          "Passes at full depth without more infeed, 0 to 6. Empty: none."),
    Input("pass_rule", "Pass rule", "how the depth is shared", "text",
          one_of(("equal area", "light first"), "Choose equal area or light first."),
          "equal area: every pass takes the same chip. light first: a lighter first pass, the rest the same."),
    Input("wire_set", "Wire set", "wire set in use", "text", instrument_columns.SET_LIST,
          "Number of the wire set, from the sheet Wire sets; its certified mean is used. External threads only."),
    Input("wire_in_use", "Wire in use", "diameter of the measuring wires in use", "wire", LENGTH,
          "Only without a set: diameter of the three wires as certified, in the working unit. Wins over the set."),
)  # fmt: skip


def _title() -> Node:
    revision = when(given(the.revision_text), say(" rev. ", the.revision_text))
    return say(
        when(given(the.part_text), the.part_text,
             when(given(the.job_number_text), "no part named", "No part named yet")),
        when(given(the.job_number_text), say(", job ", the.job_number_text)),
        when(given(the.drawing_text), say(", drawing ", the.drawing_text, revision)),
        when(given(the.material_text), say(", ", the.material_text)),
        "; ", the.unit_words, ".",
        when(coating.ASKED, " COATED AFTERWARDS: all figures here are before coating."),
    )  # fmt: skip


NONE = when(CHOSEN, "–")
"""What stands where a main figure is not known; nothing without a thread."""

_HAS_INFEED = known(the.depth)
_HAS_WIRE = all_of(known(the.wire_constant), the.taper_fault.same(""))
INFEED_HEAD = Figure(
    "depth_head", "heading of the infeed",
    first(
        (REPAIR, "Left to feed on the radius"),
        (all_of(_HAS_INFEED, blank(the.blank_measured)), "Feed in, BLANK NOT MEASURED"),
        otherwise="Feed in on the radius",
    ),
)  # fmt: skip
MAIN: tuple[tuple[str | Figure, Figure], ...] = (
    (INFEED_HEAD, Figure("depth", "radial infeed for this tip",
                         when(the.setup_fault.same(""), the.depth_raw, NONE), "length")),
    ("Turn the compound", Figure("compound_travel", "travel of the compound for that infeed",
                                 when(all_of(_HAS_INFEED, known(the.angle_cosine)), plan_figures.TRAVEL, NONE),
                                 "length")),
    ("Over wires, aim", Figure("micrometer_preset", "reading to set the micrometer to",
                               when(_HAS_WIRE, at_aim(contact.of_setup, NONE), NONE), "length")),
    ("Over wires, max", Figure("over_wires_max", "largest reading over wires",
                               when(_HAS_WIRE, contact.of_setup("max"), NONE), "length")),
    ("Over wires, min", Figure("over_wires_min", "smallest reading over wires",
                               when(_HAS_WIRE, contact.of_setup("min"), NONE), "length")),
)  # fmt: skip
"""The main figures, each with its head."""


LEAST_DIVISION_MM, MOST_DIVISION_IN = 0.005, 0.01
"""Beyond these a division is of no dial of a lathe in that unit, but may be in the other: common practice."""


def _beside() -> dict[str, Figure]:
    """The words beside inputs, by the input."""
    angle, dial, used, best = the.angle_used, the.dial_used, the.wire_used, the.best_wire
    angle_words = when(blank(the.compound_angle), say("empty: ", xl.ROUND(angle, 2), " is used"), "from straight in")
    text_angle = when(xl.ISTEXT(the.compound_angle), "a text, no number")
    dial_words = when(known(dial), say("lathe: ", length(dial), " is used"), "nothing is rounded")
    too_fine, too_coarse = the.dial_division < LEAST_DIVISION_MM, the.dial_division > MOST_DIVISION_IN
    odd = when(the.unit_text.same("mm"), too_fine, too_coarse)
    odd_dial = when(believed(LENGTH, the.dial_division), odd, False)
    of_another = when(all_of(given(the.wire_set_used), no(OF_THE_SET)), say(", not of ", the.wire_set_used))
    wire_used = say(wire(used), when(blank(the.wire_in_use), " is its mean", say(" is used", of_another)))
    return {
        "tip_size": Figure(
            "tip_size_words", "what the tip size is",
            say(first((the.tip_kind_used.same("flat"), "width of its flat"),
                      (the.tip_kind_used.same("nose radius"), "its radius")),
                when(tip_figures.IN_INCHES, ", in mm?")),
        ),
        "blank_measured": Figure("blank_words", "how the blank stands", setup_figures.blank_words()),
        "compound_angle": Figure(
            "angle_words", "which compound angle is used", when(known(angle), angle_words, text_angle)
        ),
        "dial_division": Figure(
            "dial_words", "which dial division is used",
            first((blank(the.dial_division), dial_words),
                  (odd_dial, when(the.unit_text.same("mm"), "in mm?", "in inches?"))),
        ),
        "wire_set": Figure(
            "wire_set_words", "which wire is used", when(all_of(known(used), no(the.no_wires)), wire_used)
        ),
        "wire_in_use": Figure(
            "wire_words_short", "the best wire in words", when(known(best), say("best ", wire(best)))
        ),
    }  # fmt: skip


DEFAULTS = {"aim_limit": "mid", "pass_rule": "equal area"}


def _inputs() -> Block:
    beside_ = _beside()

    def remark(name: str) -> Piece:
        figure = beside_.get(name)
        return shown(2, figure, "aside") if figure else gap(2)

    lines = [
        line(
            words(2, one.label, "label_wrapped"),
            entry(2, one, DEFAULTS.get(one.name)),
            remark(one.name),
            height=HIGHER.get(one.name, BODY),
        )
        for one in INPUTS
        if one not in existing.INPUTS
    ]
    there = line(words(2, "Exists, reads"), *(entry(1, one) for one in existing.INPUTS), gap(2))
    return block("At the machine, from top to bottom", there, *lines, *taper_figures.place_entry())


HIGHER = {"blank_measured": 22.5, "compound_angle": 22.5, "dial_division": 22.5, "wire_set": 22.5}
"""Lines whose remark may take two lines of small type."""


def _other_tips() -> Block:
    """What other tips would be fed, for comparison."""
    sharp, flat = the.depth_of_sharp, the.pitch / 8 / the.flank_spread

    def of_tip(infeed: Node) -> Node:
        by_tip = when(any_of(known(the.root_radius_min), tip_figures.ROUND_ROOT), "radius only", infeed)
        return when(all_of(known(sharp), the.blank_fault.same(""), no(REPAIR)), by_tip)

    def fed(shortening: Node | float) -> Node:
        narrow, fits = the.tip_least > shortening + NOISE, shortening <= the.tip_flat_room + NOISE
        deep = sharp - shortening
        return first((narrow, "too narrow"), (all_of(fits, deep > 0), deep), otherwise="too blunt")

    of_sharp = Figure("depth_sharp", "radial infeed of a dead sharp tip", of_tip(fed(0)), "length")
    of_flat = Figure("depth_flat", "radial infeed of a flat of P/8", of_tip(fed(flat)), "length")
    sharp_words = Figure("sharp_words", "what the sharp figure would do", tip_figures.sharp_words())
    return block(
        "With another tip: do not feed this",
        line(words(3, "A sharp tip would be fed"), shown(3, of_sharp, "figure_right")),
        line(words(3, "A flat of P/8"), shown(3, of_flat, "figure_right")),
        *deep(shown(6, sharp_words, "said", lines=3)),
    )


def _micrometer_range() -> Node:
    step = when(the.unit_text.same("mm"), 25, 1)
    low, high = xl.INT(the.over_wires_min / step) * step, -xl.INT(-the.over_wires_max / step) * step
    between = low + step  # readings on both sides of it take two micrometers
    ranges = when(high > between, say(low, " to ", between, ", ", between, " to ", high), say(low, " to ", high))
    return when(known(the.wire_constant), say(ranges, " ", the.unit_text))


def _wires() -> Block:
    """Which wires serve, and what the wire in use does."""
    basic = the.own_major_diameter_nominal * the.own_to_working - the.pitch_diameter_basic  # of a taper the basic form
    vertex = taper_figures.two_bottoms()
    highest_crest = taper_figures.when_taper(basic, the.major_diameter_max - the.pitch_diameter_min) + vertex
    lowest_crest = taper_figures.when_taper(basic, the.major_diameter_min - the.pitch_diameter_max) + vertex
    largest = (1 + the.crest_rounding) * lowest_crest - 2 * the.crest_rounding * vertex
    leans = xl.COS(xl.RADIANS(the.flank_steeper))
    middle = contact.of_setup("mid")
    figures = (
        ("Usable: over", Figure(
            "smallest_wire", "wire flush with the largest crest at the smallest pitch diameter: a larger one is proud",
            when(EXTERNAL, highest_crest / the.wire_rise), "wire")),
        ("up to", Figure("largest_wire", "wire at the edge or the rounding of the crest",
                         when(EXTERNAL, largest * xl.TAN(the.half_angle) / leans), "wire")),
        ("Nearest set, in date", nearest_set.NAMED),
        ("Less pitch diameter", Figure(
            "wire_constant", "reading less pitch diameter, for the wire in use",
            when(known(middle), middle - contact.pitch_diameter("mid") - the.taper_rise), "wire")),
        ("Micrometer", Figure("micrometer_range", "range of the micrometer, or of the two", _micrometer_range())),
    )  # fmt: skip
    wire_words = Figure("wire_words", "whether the wire in use serves", setup_figures.wire_words())
    return block(
        "Three wires",
        *(line(words(3, label), shown(3, figure)) for label, figure in figures),
        *deep(shown(6, wire_words, "said", lines=5)),
    )


LEFT_HAND = Figure(
    "left_hand_setup", "words for a left-hand thread",
    when(given(the.left_hand_words), say(the.left_hand_words, ": leadscrew reversed, cut away from headstock")),
)  # fmt: skip


def _head() -> Block:
    title = Figure("setup_title", "part, job, drawing and unit in words", _title())
    next_step = Figure("next_step", "what is still to fill in", setup_figures.next_step())
    return block(
        None,
        line(shown(12, LEFT_HAND, "left_hand_14"), height=22.5),
        line(
            shown(5, Figure("callout_setup", "the thread, as on the sheet Job", the.callout), "thread"),
            shown(7, title, "note_9"),
            height=31.5,
        ),
        line(shown(12, Figure("gear_words", "what to gear for", carriage.gear_words()), "body")),
        line(shown(12, next_step, "step"), height=36),
    )


def _main() -> Block:
    """The main figures in one line; Card has them large."""
    wide = (3, 3, 2, 2, 2)
    return block(
        None,
        line(*(_head_of(columns, head) for columns, (head, _) in zip(wide, MAIN)), height=NOTE),
        line(*(shown(columns, figure, "main_20") for columns, (_, figure) in zip(wide, MAIN)), height=27),
    )


def _head_of(columns: int, head: str | Figure) -> Piece:
    return shown(columns, head, "column_head") if isinstance(head, Figure) else words(columns, head, "column_head")


def sheet(made: Made) -> Sheet:
    """The sheet as it is filled in on the screen. Its plan and last passes are printed with Card, for the machine."""
    drawing_block = block(
        drawing.TITLE, *deep(picture(12, drawing.drawn(), DRAWING_LINES)), line(shown(12, drawing.KEY, "note_9"))
    )
    plan_words = Figure("plan_words", "the plan in words, or why there is none", plan_figures.words())
    authority = Figure("authority_setup", "who governs pipe and flight threads", the.authority_words)
    meaning = "limits before coating, as on the sheet Job"
    before_coating = Figure("coating_setup", meaning, the.coating_words & "")
    return Sheet(
        SHEET,
        (
            stack(
                _head(),
                _main(),
                beside(_inputs(), stack(_other_tips(), _wires())),
                block(
                    None,
                    line(shown(12, before_coating, "note_9"), height=22.5),
                    line(shown(12, authority, "note_9"), height=22.5),
                ),
                cautions.cautions(),
            ),
            stack(
                beside(last_passes.reading_block(), last_passes.list_block()),
                block("Carriage", line(shown(12, carriage.WORDS, "body"), height=31.5)),
                block("Passes", line(shown(12, plan_words, "body"), height=31.5)),
                plan.on_setup(),
                drawing_block,
                taper_figures.along(),
                taper_figures.how(),
            ),
        ),
        printed_pages=1,
        frozen_lines=4,
        working=(
            *taper_figures.WORKING,
            *setup_figures.WORKING,
            *existing.WORKING,
            *carriage.WORKING,
            *contact.WORKING,
            *plan_figures.WORKING,
            *last_passes.WORKING,
            *drawing.WORKING,
            *instructions.WORKING,
        ),
        working_tables=(
            plan.WORKED,
            contact.worked(instrument_columns.WIRE_SETS),
            drawing.worked(),
            instructions.index_table(),
        ),
    )


DRAWING_LINES = 7
