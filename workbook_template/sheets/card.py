"""The sheet Card: what goes to the machine on paper. No entries: all of it is read, at arm's length."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, blank, fixed, given, known, length, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import (
    carriage,
    cautions,
    drawing,
    existing,
    instructions,
    last_passes,
    plan,
    taper_figures,
)
from workbook_template.sheets.instrument_columns import OF_THE_SET
from workbook_template.sheets.layout import (
    CALLOUT,
    HEAD,
    NOTE,
    Block,
    Line,
    Made,
    Piece,
    Sheet,
    block,
    box,
    deep,
    line,
    picture,
    shown,
    stack,
    words,
)
from workbook_template.sheets.setup_figures import wire
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Card"
PLAN_LINE = 16.5
"""Height of a line of the plan: type of 14 points, so that thirty-six passes go on the page."""

FIRST_PASSES = 22


def _again(name: str) -> Node:
    """A figure of another sheet; nothing where that says nothing."""
    return the[name] & ""


def _head() -> Block:
    hand = Figure("left_hand_card", "words for a left-hand thread", _again("left_hand_setup"))
    callout = Figure("callout_card", "the thread, as on the sheet Job", _again("callout"))
    title = Figure("card_title", "part, job, drawing and unit in words", _again("setup_title"))
    state = Figure("card_state", "what is still to fill in on Setup", _again("next_step"))
    return block(
        None,
        line(shown(12, hand, "left_hand_14"), height=HEAD),
        line(shown(5, callout, "thread"), shown(7, title, "note_9"), height=31.5),
        line(shown(12, state, "body"), height=15.75),
    )


def _main() -> Block:
    """The main figures at 32 points, in two lines."""
    turns = when(known(the.rpm_listed), the.rpm_listed, when(CHOSEN, "–"))
    rpm = Figure("card_rpm", "turns a minute, a dash where no speed is known", turns, "0")
    figures = (
        (4, the.depth_head, the.depth, "length"),
        (3, "Turn the compound", the.compound_travel, "length"),
        (2, "Turns a minute", rpm, ""),
        (3, *carriage.on_card(), ""),
        (4, taper_figures.over_wires_head("max"), the.over_wires_max, "length"),
        (4, taper_figures.over_wires_head("aim"), the.micrometer_preset, "length"),
        (4, taper_figures.over_wires_head("min"), the.over_wires_min, "length"),
    )

    def row(part: tuple[tuple[int, str | Node | Figure, Node | Figure, str], ...]) -> tuple[Line, Line]:
        return (
            line(*(Piece(wide, head, "column_head") for wide, head, *_ in part), height=NOTE),
            line(*(Piece(wide, figure, "at_machine", dimension=form) for wide, _, figure, form in part), height=40),
        )

    return block(None, *row(figures[:4]), *row(figures[4:]))


def _worked_for() -> Node:
    """What the figures hold for: with another tip, blank or set of wires they are wrong."""
    tip = when(the.tip_kind_used.same("sharp"), "sharp tip", say(the.tip_kind_used, " ", length(the.tip_size)))
    measured = when(
        blank(the.blank_measured), say(the.blank_word, " NOT MEASURED"),
        say(the.blank_word, " measured ", length(the.blank_measured)),
    )  # fmt: skip
    wires = when(
        the.wire_serves,
        say(
            ", wires ",
            wire(the.wire_used),
            when(all_of(given(the.wire_set_used), OF_THE_SET), say(" of ", the.wire_set_used)),
        ),
    )
    one = when(
        the.dial_differs,
        say(the.dial_own, " ", the.dial_own_unit, " on the dial"),  # as the plan has it, not what the slide travels
        when(  # an inch dial in mm is .0254, which the plan counts
            xl.ABS(xl.ROUND(the.dial_used, the.decimals) - the.dial_used) < existing.BITS,
            fixed(the.dial_used, the.decimals),
            xl.ROUND(the.dial_used, 5),
        ),
    )
    division = when(known(the.dial_used), say(" 1 div. = ", one, "."))
    told = say("For this alone: ", tip, when(existing.REPAIR, "", say(", ", measured)), wires, ".", division)
    return when(known(the.depth), told)


def _gearing() -> Block:
    """Levers or gears, half-nuts and compound in a line each."""
    angle = when(
        known(the.angle_cosine),
        say("Compound ", xl.ROUND(the.angle_used, 2), " degrees from straight in."),
        "Compound angle: see Setup.",
    )
    sizes = say(the.blank_title, ": aim ", length(the.blank_aim), ", ", length(the.blank_min), " to ",
                length(the.blank_max), " ", the.unit_text, ". ")  # fmt: skip
    ordinary = when(known(the.blank_aim), sizes)
    turned = when(existing.REPAIR, "THREAD EXISTS: no blank to turn; pick it up, second page. ", ordinary)
    cone = all_of(the.tapered, no(existing.REPAIR), known(the.blank_aim))
    levers, full_stop = the.lathe_gear_words, when(xl.RIGHT(the.lathe_gear_words, 1).same("."), "", ".")
    gears = say(the.gear_words, when(given(levers), say(" Lathe: ", levers, full_stop)))
    half_nuts = say("Half-nuts: ", the.half_nuts_words)
    figures = (
        (Figure("card_blank", "the blank or bore, and the compound angle, in words",
                when(CHOSEN, when(cone, taper_figures.on_card(), say(turned, angle)))), NOTE),
        (Figure("card_worked_for", "tip, blank and wires that the figures hold for", _worked_for()), NOTE),
        (Figure("card_gears", "what to gear for, and by which levers", when(CHOSEN, gears)), CALLOUT),
        (Figure("card_half_nuts", "when the half-nuts may be closed", when(CHOSEN, half_nuts)), CALLOUT),
    )  # fmt: skip
    return block(None, *(line(shown(12, figure, "body"), height=height) for figure, height in figures))


CHECKED = (
    "tool, tip, centre height", "gears, levers, hand", "half-nuts, dial line",
    "speed, chuck, guards", "gauge: clean, set, in date", carriage.scratch_tick(),
)  # fmt: skip
SIGNED = ("Set up by", "First piece checked by", "Date")


def _signed() -> Block:
    """Boxes for pen and ink."""
    ticks: list[Piece] = []
    for what in CHECKED:
        told = shown(3, what, "aside") if isinstance(what, Figure) else words(3, what, "aside")
        ticks += [box(1), told]
    half = len(ticks) // 2
    return block(
        None,
        line(*ticks[:half], height=NOTE),
        line(*ticks[half:], height=NOTE),
        line(*(words(4, sign, "note_9") for sign in SIGNED), height=NOTE),
        line(*(box(4) for _ in SIGNED), height=15.5),
        line(words(12, "Cautions: on the second page. Read them before the spindle turns.", "note_9"), height=NOTE),
    )


def sheet(_: Made) -> Sheet:
    """Two pages: the figures with the whole plan, and how to cut it with the drawing."""
    feeds = last_passes.list_on_card(PLAN_LINE)
    title = Figure("card_second_title", "part, job, drawing and unit in words", _again("setup_title"))
    authority = Figure("authority_card", "who governs pipe and flight threads", _again("authority_words"))
    second = stack(
        block(None, line(words(5, _again("callout"), "thread"), shown(7, title, "note_9"), height=31.5)),
        block("How to cut it", *instructions.lines()),
        block(
            _again("drawing_title"),
            *deep(picture(12, drawing.drawn(), 7), 15.5),
            line(words(12, _again("drawing_key"), "note_9"), height=12.75),
        ),
        cautions.cautions(),
        block(None, line(shown(12, authority, "note_9"), height=21)),
    )
    first = stack(_head(), _main(), _gearing(), plan.on_card(FIRST_PASSES, feeds, PLAN_LINE), _signed())
    return Sheet(SHEET, (first, second), frozen_lines=2)
