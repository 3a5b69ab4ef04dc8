"""What is typed on the sheet Lathe."""

from __future__ import annotations

from workbook_template.sheets.inputs import ANYTHING, DECIMAL, LENGTH, MORE_THAN_ZERO, Input, one_of, whole
from workbook_template.sheets.lathe_terms import GEARS


def of_lathe(one: Input, lathe: int) -> Input:
    """The input of one lathe; # in its meaning is the lathe."""
    return one._replace(name=f"{one.name}_{lathe}", meaning=one.meaning.replace("#", str(lathe)))


PLAIN = "General"
"""Numbers as typed."""
MOST_TEETH, MOST_LINES = 300, 40
TEETH, DIAL_TEETH, LINES = whole(8, MOST_TEETH), whole(1, MOST_TEETH), whole(1, MOST_LINES)
UNITS = one_of(("in", "mm"), "Choose in or mm.")
DIAL_READS = ("radius", "diameter")
READS = one_of(DIAL_READS, "Choose radius or diameter.")
FEED_REVERSES = ("lever", "tumbler", "idler gear", "none")
CHUCKS = ("screwed on", "cam lock", "bolted", "other")

IN_USE = Input("lathe_in_use", "Lathe in use: 1 or 2", "lathe in use", "count", one_of(("1", "2"), "Choose 1 or 2."),
               "1 or 2: the lathe that this job is cut on.")  # fmt: skip

NEEDS = (
    Input("surface_speed", "Cutting speed", "cutting speed, in the unit chosen beside it", PLAIN, DECIMAL,
          "Cutting speed of threading. Its unit stands beside it and stays as chosen, whatever the working unit is."),
    Input("usable_relief", "Usable relief", "width of relief that the tool may run into", "entry", LENGTH,
          "How far the tool may run on past the thread, working unit; with the reaction spread. "
          "Both empty: not looked at."),
    Input("reaction_spread", "Reaction spread", "spread of the reaction, seconds", PLAIN, DECIMAL,
          "Earliest to latest stop of this operator on this lathe, in seconds, tried in the air. "
          "With the usable relief."),
    Input("turning_feed", "Feed wanted", "feed for turning wanted", "entry", LENGTH,
          "Feed a turn for turning the blank, in the working unit. Empty: none is looked up."),
)  # fmt: skip
"""What is typed for the job."""

DESCRIPTION = (
    Input("lathe_name", "Name", "name of the lathe #", "text", ANYTHING, "What the shop calls this lathe."),
    Input("leadscrew", "Leadscrew", "threads per inch or lead of the leadscrew #", PLAIN, DECIMAL,
          "Threads per inch of the leadscrew, or its lead in mm."),
    Input("leadscrew_unit", "Leadscrew in", "unit of the leadscrew #", "text",
          one_of(("tpi", "mm"), "Choose tpi or mm."), "tpi for threads per inch, mm for a lead in millimetres."),
    Input("dial_lines", "Dial lines", "lines on the thread dial #", "count", LINES,
          "All lines on the face of the thread dial, numbered or not."),
    Input("end_driver", "End gears: driver", "driver of the usual end gears #", "count", MORE_THAN_ZERO,
          "Teeth of the driver of the end gears that the lever chart is for (of two drivers: their product)."),
    Input("end_driven", "End gears: driven", "driven gear of the usual end gears #", "count", MORE_THAN_ZERO,
          "Teeth of the driven end gear that the lever chart is for (of two: their product)."),
    Input("fixed_ratio", "Fixed ratio", "turns of the screw for one of the train, no levers #", PLAIN, DECIMAL,
          "Without a lever chart: leadscrew turns for one turn through a 1 : 1 train. Empty: 1."),
    Input("dial_unit", "Dials and feeds in", "unit of dials and feeds #", "text", UNITS,
          "Unit of the dials and of the feeds in the lever chart, in or mm."),
    Input("quadrant_min", "Quadrant: least", "least sum of teeth that the quadrant takes #", "count", MORE_THAN_ZERO,
          "Least sum of teeth that reaches, idlers counted twice. Empty: not checked."),
    Input("quadrant_max", "Quadrant: most", "greatest sum of teeth that the quadrant takes #", "count", MORE_THAN_ZERO,
          "Greatest sum of teeth that still fits, idlers counted twice. Empty: not checked."),
    Input("compound_dial", "Compound division", "one division of the compound dial #", PLAIN, DECIMAL,
          "One division of the compound dial, in the unit of this lathe's dials."),
    Input("compound_dial_reads", "Compound reads", "what the compound dial reads #", "text", READS,
          "radius: the dial shows travel. diameter: it shows twice the travel. Empty: radius."),
    Input("cross_dial", "Cross-slide division", "one division of the cross-slide dial #", PLAIN, DECIMAL,
          "One division of the cross-slide dial, in the unit of this lathe's dials."),
    Input("cross_dial_reads", "Cross-slide reads", "what the cross-slide dial reads #", "text", READS,
          "radius: the dial shows travel. diameter: it shows what the work gets smaller."),
    Input("feed_reverse", "Feed reversed by", "how the feed reverses #", "text",
          one_of(FEED_REVERSES, "Choose lever, tumbler, idler gear or none."),
          "How the direction of the leadscrew is changed."),
    Input("chuck_mount", "Chuck mounting", "how the chuck is mounted #", "text",
          one_of(CHUCKS, "Choose screwed on, cam lock, bolted or other."),
          "A screwed-on chuck can come off in reverse. Empty: the sheets remind you of it."),
)  # fmt: skip
"""The description, once for each lathe."""

DIAL_GEARS = tuple(
    Input(f"dial_{gear}", "Its gears, teeth", f"dial gear {gear} of lathe #", "count", DIAL_TEETH,
          "Teeth of the dial's gear; one cell for each gear where several are stacked.")
    for gear in GEARS
)  # fmt: skip
"""They stand under the leadscrew."""

BOX = (
    Input("box_position", "levers", "lever position, lathe #", "text", ANYTHING,
          "Lever position as the plate of the lathe writes it."),
    Input("box_tpi", "threads per inch", "threads per inch there, lathe #", PLAIN, DECIMAL,
          "Threads per inch of this position, or:"),
    Input("box_pitch", "pitch, mm", "pitch there, mm, lathe #", PLAIN, DECIMAL,
          "Pitch of this position in mm, where it is a metric one."),
    Input("box_feed", "feed a turn", "feed a turn there, lathe #", PLAIN, DECIMAL,
          "Feed a turn there, in the unit of the dials."),
)  # fmt: skip
"""A line of the lever chart."""

TRAIN = (
    Input("train_tpi", "threads per inch", "threads per inch of a gear train, lathe #", PLAIN, DECIMAL,
          "Threads per inch, or:"),
    Input("train_pitch", "pitch, mm", "pitch of a gear train, mm, lathe #", PLAIN, DECIMAL,
          "Pitch in mm, where it is a metric thread."),
    Input("train_levers", "levers", "levers that go with the gears, lathe #", "text", ANYTHING,
          "Lever position with these gears, if any."),
    Input("train_a", "driver", "first driver, lathe #", "count", MORE_THAN_ZERO,
          "Teeth of the first driver, on the spindle side."),
    Input("train_b", "driven", "first driven gear, lathe #", "count", MORE_THAN_ZERO,
          "Teeth of the gear that it drives."),
    Input("train_c", "driver", "second driver, lathe #", "count", MORE_THAN_ZERO,
          "Teeth of the second driver; empty for a simple train."),
    Input("train_d", "driven", "second driven gear, lathe #", "count", MORE_THAN_ZERO,
          "Teeth of the second driven gear, on the screw side."),
)  # fmt: skip
"""A line of the gear chart."""

SHELF = Input("shelf", "gears on the shelf", "change gears of lathe #", "count", MORE_THAN_ZERO,
              "Teeth of one gear on the shelf; two of a kind are two lines.")  # fmt: skip
SPEEDS = Input("spindle_speeds", "speeds, rpm", "speeds of lathe #", PLAIN, DECIMAL,
               "One spindle speed a line, turns a minute.")  # fmt: skip

USE = (
    Input("use_a", "driver", "gear in use: first driver", "count", TEETH, "First driver, on the spindle side."),
    Input("use_b", "driven", "gear in use: first driven", "count", TEETH,
          "First driven gear; the last for a simple train."),
    Input("use_c", "driver", "gear in use: second driver", "count", TEETH,
          "Second driver, on the shaft of the first driven gear."),
    Input("use_d", "driven", "gear in use: second driven", "count", TEETH, "Second driven gear, on the screw side."),
)  # fmt: skip
"""Gears that are on the lathe, where they are not the usual ones."""
USE_LEVERS = Input("use_levers", "Levers", "levers with the gears in use", "text", ANYTHING,
                   "Lever position that goes with these gears; empty without a lever chart.")  # fmt: skip
