"""What the page of the sheet Certificate says of the lot."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, first, given, joined, known, no, say, the, when, xl
from workbook_template.figures.tree import Name, Node
from workbook_template.sheets import coating
from workbook_template.sheets.inputs import in_text
from workbook_template.sheets.log_advice import lot_words
from workbook_template.sheets.log_rows import HEAD
from workbook_template.sheets.log_words import RESULT_WORDS
from workbook_template.trade import days

COUNTED = tuple(RESULT_WORDS)
JUDGED = COUNTED[:4]

DATED_BEFORE = "Check its date: readings of the log were taken after it."


def told(value: Node) -> Node:
    """A value as words, or a dash."""
    return when(given(in_text(value)), value & "", "–")


def _of_readings(value: Node) -> Node:
    """A figure of the readings, or a dash where there are none."""
    return when(the.certificate_n > 0, value, "–")


_LOGGED = the.certificate_logged - the.certificate_replaced - the.parts_again
FIELDS = {
    "Customer": Figure("certificate_customer", "customer", told(the.customer_text)),
    "Part": Figure("certificate_part", "part", told(the.part_text)),
    "Drawing, revision": Figure(
        "certificate_drawing", "drawing and revision",
        say(told(the.drawing_text), ", revision ", told(the.revision_text))),
    "Material": Figure("certificate_material", "material", told(the.material_text)),
    "Its certificate": Figure(
        "certificate_of_material", "certificate of the material", told(the.material_certificate_text)),
    "Job": Figure("certificate_job", "job number", told(the.job_number_text)),
    "Ordered": Figure(
        "certificate_ordered", "parts ordered", when(known(the.ordered), say(the.ordered, " parts"), "–")),
    "Logged, measured": Figure(
        "certificate_made", "parts logged and measured",
        say(_LOGGED, when(_LOGGED.same(1), " part", " parts"), " logged, ", the.certificate_n, " judged")),
}  # fmt: skip
"""By the label."""

_VALUES = the.certificate_value
SUMMARY = {
    "n": Figure("certificate_n", "pitch diameters that are judged", xl.COUNT(_VALUES), "count"),
    "smallest": Figure("certificate_min", "smallest pitch diameter", _of_readings(xl.MIN(_VALUES)), "length"),
    "largest": Figure("certificate_max", "largest pitch diameter", _of_readings(xl.MAX(_VALUES)), "length"),
    "mean": Figure("certificate_mean", "mean pitch diameter", _of_readings(xl.AVERAGE(_VALUES)), "wire"),
}

_BAD = [word for word in COUNTED[1:] if word != "replaced"]


def parts_that_are(word: str) -> Name:
    """How many parts have a pitch diameter with that result, on the certificate."""
    return the[f"certificate_{word.replace(' ', '_')}"]


def others(kind: str) -> Node:
    """How many results of a kind are neither in nor replaced."""
    return joined("+", *(the[f"count_{kind}_{word.replace(' ', '_')}"] for word in _BAD))


def next_step() -> Node:
    """What the paper still lacks."""
    return first(
        (coating.REFUSED, say("Sheet Job: ", the.coating_fault)),
        (the.certificate_spoiled.differs(""), the.certificate_spoiled),
        (the.job_spoiled.differs(""), say("Sheet Job: ", the.job_spoiled)),
        (
            no(given(the.shop_name_text)),
            "Next: type the shop's name and address; they stand on every paper for customers.",
        ),
        (no(given(the.customer_text)), "Next: the customer, on the sheet Job."),
        (no(given(the.certificate_number_text)), "Next: the number of this certificate."),
        (no(days.is_day(the.certificate_date)), "Next: its date."),
        (the.certificate_date < xl.MAX(the.log_day), DATED_BEFORE),
        (the.certificate_logged.same(0), "Next: log the parts on the sheet Log."),
        (
            (the.certificate_n + the.certificate_ring_in + the.certificate_ring_others).same(0),
            "Next: measure the parts: the sheet Log has no pitch diameter and no gauge that counts.",
        ),
        (
            the.log_reaches > the.certificate_printed,
            say(
                "Widen the print range: it ends with row ",
                the.certificate_printed + HEAD,
                " of the log, and parts stand behind it.",
            ),
        ),
        (no(given(the.certificate_inspector_text)), "Next: who inspected the lot."),
        (no(given(the.certificate_released_text)), "Next: who releases it."),
        (
            no(given(in_text(the.certificate_digest))),
            "Next: the digest of the data, so that a change shows later. Then print.",
        ),
        (
            parts_that_are("undecided") > 0,
            "Complete, but parts are undecided: Why, on the sheet Log, says what settles each. Print it, and sign.",
        ),
        otherwise="Complete: print it, and sign.",
    )


def verdict() -> Node:
    """How the lot stands."""
    bad = [parts_that_are(word) for word in _BAD]
    missing = joined("+", *bad)
    unmeasured = parts_that_are("not measured") - the.parts_unmeasured  # gauged instead, or out by their crest
    crests, gauges = the.certificate_crest_others, the.certificate_ring_others
    inside, again, unnamed, ordered = the.certificate_in, the.parts_again, the.certificate_unnamed, the.ordered
    settled = {"undecided": (lot_words(the.log_least_decides),)}
    listed = say(
        *(when(count > 0, say(", ", count, f" {word}", *settled.get(word, ()))) for word, count in zip(_BAD, bad))
    )
    pitch = first(
        (all_of(missing.same(0), inside.same(1)), "Pitch diameter: the part logged is in."),
        (missing.same(0), say("Pitch diameter: all ", inside, " parts logged are in.")),
        otherwise=say("Pitch diameter: ", inside, " in", listed, "."),
    )
    crest = when(crests.same(0), "all in.", say(the.certificate_crest_in, " in, ", crests, " not."))
    ring = the.certificate_ring_in
    gauged = say(" Gauges: ", when(gauges.same(0), say("all ", ring, " in."), say(ring, " in, ", gauges, " not.")))
    found = the.parts_in  # by every result that they have, as the log says of each
    short = say(" ", ordered - found, " of ", ordered, " ordered are still to be found in.")
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (the.certificate_logged.same(0), "No part has been logged yet: this certifies nothing."),
        (coating.REFUSED, say(the.coating_fault, " Until then this certifies nothing.")),
        otherwise=say(
            when((joined("+", missing, crests, gauges, again) - unmeasured).same(0), "", "NOT ALL IN. "),
            pitch, " ", the.certificate_crest_title, ": ", crest,
            when((ring + gauges).same(0), "", gauged),
            when(again.same(0), "", say(" Rows that repeat a part and are not counted: ", again, ".")),
            when(unnamed.same(0), "", say(" Rows that name no part: ", unnamed, ".")),
            when(known(ordered), when(found < ordered, short)),
        ),
    )  # fmt: skip
