"""The sheet Lathe: two lathes side by side, and what the one in use must be set to for the thread of the job."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import Numbered, first, given, joined, known, no, node, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import cautions, lathe_formulas, lathe_speed
from workbook_template.sheets.inputs import Input, in_text, one_of
from workbook_template.sheets.lathe_inputs import DESCRIPTION, DIAL_GEARS, IN_USE, NEEDS, USE, USE_LEVERS, of_lathe
from workbook_template.sheets.lathe_terms import LATHES, in_use, of_chosen
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Block,
    Line,
    Made,
    Piece,
    Sheet,
    block,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Lathe"

SPEED_UNITS = {"in": "ft/min", "mm": "m/min"}
"""Unit of the cutting speed as a workbook of that working unit is made; it is chosen, and never follows the other."""
UNIT_OF = {
    "usable_relief": the.unit_text,
    "reaction_spread": node("seconds"),
    "turning_feed": the.unit_text & " a turn",
}
"""What stands beside what is typed for the job."""

COMPARED = (("Gear for it", 49.5), ("Error, ppm", 18), ("Half-nuts", 90), ("Speed, rpm", 18))
"""What stands beside the figures that are compared, and the height of their rows."""


def _head() -> Block:
    away = when(given(the.left_hand_words), say(the.left_hand_words, ": the carriage goes away from the headstock"))
    left_hand = Figure("left_hand_lathe", "words for a left-hand thread", away)
    callout = Figure("callout_lathe", "the thread, as on the sheet Job", the.callout)
    return block(
        None,
        line(shown(12, left_hand, "left_hand_14"), height=CALLOUT),
        line(shown(7, callout, "thread"), words(3, IN_USE.label), entry(2, IN_USE, 1), height=CALLOUT),
    )


def _chosen(name: str, meaning: str) -> Figure:
    """The figure of the lathe in use."""
    return Figure(name, meaning, in_use(name))


def _set_up() -> Block:
    """What the lathe in use must be set to."""
    name = of_chosen(
        lambda lathe: when(
            given(in_text(Numbered(lathe).lathe_name)), in_text(Numbered(lathe).lathe_name), f"lathe {lathe}"
        )
    )
    rpm = Figure("rpm_listed", "listed speed to use, rpm", in_use("rpm_listed"), '0" rpm"')
    lines = (
        ("Gear for it", _chosen("lathe_gear_words", "levers or gears, or the nearest"), 31.5, "row_result"),
        ("Lead, gears", _said("lead", the.lathe_lead_words, the.lathe_train_words), 45, "row_words"),
        ("Half-nuts", _said("half-nuts", the.lathe_dial_rule), 45, "row_result"),
        ("Direction", _said("direction", the.lathe_reverse_words, the.lathe_chuck_words), 58.5, "row_words"),
        ("Speed", _said("speed", the.lathe_rpm_words), 45, "row_words"),
        ("Relief", _relief(), 63, "row_result"),
        ("Feed, dials", _said("feed", the.lathe_feed_words, the.lathe_dials_words), 45, "row_words"),
    )

    def row(label: str, told: Figure, height: float, look: str) -> Line:
        number = (shown(2, rpm, "row_number_bold"),) if label == "Speed" else ()
        return line(words(2, label, "row_words"), *number, shown(8 if number else 10, told, look), height=height)

    return block(Figure("lathe_name", "name of the lathe in use", name), *(row(*one) for one in lines))


def _said(key: str, *told: Node) -> Figure:
    """Sentences one after another, once there is a thread; each of them may have nothing to say."""
    together = xl.TRIM(joined("&", *(part & " " for part in told)))
    return Figure(f"lathe_{key.replace('-', '_')}_line", f"the line of the {key}", when(CHOSEN, together))


def _relief() -> Figure:
    """What to do where the relief is too short, or how far it goes."""
    told = first(
        (no(CHOSEN), ""),
        (given(the.lathe_relief_words), the.lathe_relief_words),
        (known(the.rpm_by_relief), say("The relief allows up to ", xl.ROUND(the.rpm_by_relief, 0), " rpm.")),
        otherwise="Not looked at: type the usable relief and the reaction spread above.",
    )
    return Figure("lathe_relief_line", "the line of the relief", told)


def _needs(unit: str) -> Block:
    """What is typed for the job, two entries a line."""

    def pieces(one: Input, label: str) -> tuple[Piece, ...]:
        name, meaning = f"{one.name}_unit", f"unit of the {one.label.lower()}"
        typed = words(2, one.label, label), entry(2, one, look="input_number")
        if one.name in UNIT_OF:
            return *typed, shown(2, Figure(name, meaning, UNIT_OF[one.name]), "aside")
        units = one_of(tuple(SPEED_UNITS.values()), "Choose ft/min or m/min.")
        prompt = "Feet a minute or metres a minute: the unit of the cutting speed beside it."
        return *typed, entry(2, Input(name, "", meaning, "text", units, prompt), SPEED_UNITS[unit])

    rows = (
        line(*pieces(left, "label"), *pieces(right, "label_beside")) for left, right in zip(NEEDS[::2], NEEDS[1::2])
    )
    return block("Type for this job", *rows)


def _gears_in_use() -> Block:
    """Gears that are on the lathe, where they are not the usual ones."""

    def of(lathe: int) -> tuple[Line, ...]:
        gears = [of_lathe(one, lathe) for one in USE]
        heads = line(gap(2), *(words(2, one.label, "column_head") for one in USE),
                     words(2, USE_LEVERS.label, "column_head"), height=NOTE)  # fmt: skip
        typed = line(words(2, f"Lathe {lathe}"), *(entry(2, one) for one in gears),
                     entry(2, of_lathe(USE_LEVERS, lathe)))  # fmt: skip
        return (heads, typed) if lathe == LATHES[0] else (typed,)

    return block(
        "Gears in use, where not the usual ones: spindle side first", *(row for lathe in LATHES for row in of(lathe))
    )


def _comparison() -> Block:
    """What both lathes give for the thread."""

    def title(lathe: int) -> Figure:
        name = in_text(Numbered(lathe).lathe_name)
        told = when(given(name), say(f"{lathe}: ", name), f"Lathe {lathe}")
        return Figure(f"lathe_title_{lathe}", "name above the column", told)

    heads = line(gap(2), *(shown(5, title(lathe), "column_head_left") for lathe in LATHES))
    both = zip(*(lathe_formulas.compared(Numbered(lathe)) for lathe in LATHES))
    rows = (
        line(
            words(2, label, "row_words"),
            *(shown(5, figure._replace(name=f"{figure.name}_{lathe}"), "row_words")
              for lathe, figure in zip(LATHES, figures)),
            height=height,
        )
        for (label, height), figures in zip(COMPARED, both)
    )  # fmt: skip
    return block("Both lathes, for this thread", heads, *rows)


def _description(lathe: int) -> Block:
    """One lathe, two entries a line."""
    name, screw, screw_unit, lines, *others = (of_lathe(one, lathe) for one in DESCRIPTION)
    gears = (of_lathe(one, lathe) for one in DIAL_GEARS)

    def pair(left: Input, right: Input) -> Line:
        return line(words(3, left.label), entry(3, left), words(3, right.label, "label_beside"), entry(3, right))

    return block(
        f"Lathe {lathe}",
        line(words(3, name.label), entry(9, name)),
        pair(screw, screw_unit),
        line(words(3, lines.label), entry(3, lines), words(3, DIAL_GEARS[0].label, "label_beside"),
             *(entry(1, one, look="cell_number") for one in gears)),
        *(pair(*both) for both in zip(others[::2], others[1::2])),
    )  # fmt: skip


def _working() -> tuple[Figure, ...]:
    """Figures of each lathe, then those of the job."""
    each = [lathe_formulas.each(Numbered(lathe)) for lathe in LATHES]
    numbered = (
        figure._replace(name=f"{figure.name}_{lathe}", meaning=f"{figure.meaning}, lathe {lathe}")
        for both in zip(*each)
        for lathe, figure in zip(LATHES, both)
    )
    in_words = (
        Figure(
            "lathe_used",
            "the lathe in use as a number; the first until 2 is chosen",
            when(known(the.lathe_in_use), when(the.lathe_in_use.same(2), 2, 1), 1),
        ),
        Figure("lathe_lead_words", "what the lead error costs", lathe_formulas.lead_words()),
        _chosen("lathe_dial_rule", "which lines are legal"),
        Figure("lathe_rpm_words", "which limit governs", lathe_speed.words()),
        _chosen("lathe_train_words", "idlers and room for the gears"),
        _chosen("lathe_reverse_words", "how to get the direction"),
        _chosen("lathe_chuck_words", "caution for a screwed-on chuck"),
        _chosen("lathe_feed_words", "feed for turning"),
        Figure("lathe_relief_words", "what to do where the relief is too short", lathe_speed.relief_words()),
        Figure("lathe_dials_words", "what the dials read", lathe_formulas.dials_words()),
    )
    return (*numbered, *lathe_formulas.job(), *in_words)


def sheet(made: Made) -> Sheet:
    """Setting for the job, which is printed; then the comparison and the lathes themselves."""
    for_job = stack(_head(), _needs(made.unit), _gears_in_use(), _set_up(),
                    cautions.cautions())  # fmt: skip
    described = stack(_comparison(), *(_description(lathe) for lathe in LATHES))
    return Sheet(SHEET, (for_job, described), working=_working(), user="shop", printed_pages=1, frozen_lines=2)
