"""Speed of the spindle for the job: the limits by cutting speed and by relief, and what to do where neither serves."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, blank, first, known, length, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import DECIMAL, LENGTH, MOST_LENGTH, believed, chosen, misread, none_of
from workbook_template.sheets.lathe_terms import MM_PER_WORKING_UNIT, in_use

MM_PER_FOOT, MM_PER_METRE = 304.8, 1000
PI = xl.RADIANS(180)


def figures() -> tuple[Figure, ...]:
    """The figures behind the speed of the job."""
    by_speed, by_relief, lower = the.rpm_by_speed, the.rpm_by_relief, the.rpm_lower
    no_fault = the.speed_fault.same("")
    mm_a_minute = the.surface_speed * when(chosen(the.surface_speed_unit, "m/min"), MM_PER_METRE, MM_PER_FOOT)
    relief = all_of(no_fault, known(the.usable_relief), known(the.reaction_spread), known(the.lead))
    return (
        Figure("speed_fault", "why there is no speed, in a sentence", _fault()),
        Figure("rpm_by_speed", "speed limit by the cutting speed, rpm",
               when(all_of(no_fault, known(the.diameter)), mm_a_minute / (PI * the.diameter * MM_PER_WORKING_UNIT))),
        Figure("rpm_by_relief", "speed limit by relief and reaction, rpm",
               when(relief, the.usable_relief * 60 / (the.lead * the.reaction_spread))),
        Figure("rpm_lower", "the lower of the limits, rpm",
               when(known(by_speed), when(known(by_relief), xl.MIN(by_speed, by_relief), by_speed))),
        Figure("rpm_governs", "which limit governs",
               when(known(lower), when(lower.same(by_speed), "cutting speed", "relief"))),
    )  # fmt: skip


NO_RELIEF = f"The usable relief is a length, a number more than zero, {MOST_LENGTH} at most."


def _fault() -> Node:
    speed, unit = the.surface_speed, the.surface_speed_unit
    relief, reaction = the.usable_relief, the.reaction_spread
    together = "they go together, or leave both empty."
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job."),
        (blank(speed), "Type the cutting speed on the sheet Lathe."),
        (
            no(believed(DECIMAL, speed)),
            say(
                f"The cutting speed is a number more than zero, {MOST_LENGTH} at most; its unit stands beside it.",
                misread(speed),
            ),
        ),
        (
            none_of(unit, "ft/min", "m/min"),
            "Choose the unit of the cutting speed beside it, ft/min or m/min.",
        ),
        (all_of(blank(relief), blank(reaction)), ""),
        (blank(reaction), f"Relief is given without reaction: type the reaction spread too; {together}"),
        (blank(relief), f"Reaction is given without relief: type the usable relief too; {together}"),
        (
            no(believed(LENGTH, relief)),
            say(NO_RELIEF, misread(relief)),
        ),
        (
            no(believed(DECIMAL, reaction)),
            say(f"The reaction spread is seconds, a number more than zero, {MOST_LENGTH} at most.", misread(reaction)),
        ),
    )


def words() -> Node:
    """Which limit governs, and what the other allows; the listed speed."""
    by_speed, by_relief = xl.ROUND(the.rpm_by_speed, 0), xl.ROUND(the.rpm_by_relief, 0)
    slowest = in_use("slowest")
    relief_allows = when(known(the.rpm_by_relief), say(" Relief allows ", by_relief, "."))
    governs = when(
        the.rpm_governs.same("relief"),
        say("Relief governs: ", by_relief, " rpm. Cutting speed allows ", by_speed, "."),
        say("Cutting speed governs: ", by_speed, " rpm.", relief_allows),
    )
    listed = first(
        (known(the.rpm_listed), " The next listed speed at or under it is shown."),
        (known(slowest), say(" The lathe has no speed that slow: its slowest is ", slowest, ".")),
        otherwise=" No speeds are listed.",
    )
    return first(
        (the.speed_fault.differs(""), the.speed_fault),
        (no(known(the.rpm_lower)), ""),
        otherwise=say(governs, listed, when(blank(the.usable_relief), " No relief given: not looked at.")),
    )


WIDE_RELIEF_MM = 50
"""Over this a relief is asked for its unit, as after a change of the working unit: our choice."""

FASTER = (
    "Faster: cut away from the shoulder, spindle in reverse, tool upside down or at the back, the rest turned round."
)
"""Said where the relief and not the cutting speed holds the speed down."""


def relief_words() -> Node:
    """What to do where the relief holds the speed down, or is too short for the slowest speed."""
    slowest = in_use("slowest")
    away = (
        "Turn the last threads by hand with the power off, or cut away from the shoulder: spindle in reverse, tool "
        "upside down or at the back; start, compound and clearances are then the other way round. Reversing under "
        "power the spindle runs on: draw the tool out before the shoulder."
    )
    by_hand = (
        "It cuts away from the shoulder already: turn the first turns out of the relief by hand with the power off."
    )
    chuck = when(in_use("lathe_chuck_words").differs(""), " Mind the screwed-on chuck in reverse.")
    governs = all_of(the.rpm_governs.same("relief"), no(the.hand_text.same("left")))
    wide = all_of(known(the.rpm_by_relief), the.usable_relief * MM_PER_WORKING_UNIT > WIDE_RELIEF_MM)
    return when(
        all_of(known(the.rpm_by_relief), known(slowest)),
        when(
            the.rpm_by_relief >= slowest,
            first(
                (
                    wide,
                    say("A usable relief of ", length(the.usable_relief), " ", the.unit_text, ": is that its unit?"),
                ),
                (governs, say(FASTER, when(chuck.differs(""), " Mind the screwed-on chuck."))),
            ),
            say(
                "Relief too short for the slowest speed. ", when(the.hand_text.same("left"), by_hand, say(away, chuck))
            ),
        ),
    )
