"""The sheet Certificate: a customer's paper for a lot, with limits, verdict, readings, instruments and the rule.

What is typed stands in a panel beside the pages, so that the paper shows words and figures alone.
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    given,
    known,
    length,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating, instruments, letterhead
from workbook_template.sheets.certificate_figures import (
    COUNTED,
    FIELDS,
    JUDGED,
    SUMMARY,
    next_step,
    others,
    parts_that_are,
    verdict,
)
from workbook_template.sheets.certificate_lists import (
    WITHOUT_OWN_WIRES,
    Group,
    groups,
    instruments_used,
    left,
    parts,
    rest,
    used,
    values,
)
from workbook_template.sheets.decision import once
from workbook_template.sheets.inputs import ANYTHING, DAY, Input, in_text, spoiled, texts
from workbook_template.sheets.layout import (
    BODY,
    CALLOUT,
    HEAD,
    NOTE,
    Block,
    Made,
    Piece,
    Sheet,
    beside,
    block,
    box,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.sheets.threads_table import INSIDE
from workbook_template.trade import days

SHEET = "Certificate"
TITLE = "Certificate of inspection"

NUMBER = Input("certificate_number", "Number", "number of the certificate", "text", ANYTHING,
               "Your number for this certificate.")  # fmt: skip
LOT = Input("certificate_lot", "Lot", "lot that is certified", "text", ANYTHING, "Number of the lot; one lot a file.")
ORDER = Input("certificate_order", "Customer's order", "number of the customer's order", "text", ANYTHING,
              "Number of the order, as the customer's papers have it.")  # fmt: skip
DATE = Input("certificate_date", "Date", "date of the certificate", "date", DAY,
             "Date of this certificate, as your spreadsheet program takes dates.")  # fmt: skip
SIGNED = (
    Input("certificate_inspector", "Inspected by", "inspected by, name", "text", ANYTHING,
          "Inspected by: the name in full."),
    Input("certificate_released", "Released by", "released by, name", "text", ANYTHING,
          "Released by: the name in full."),
)  # fmt: skip
DIGEST = Input(
    "certificate_digest", "Digest of the data", "digest of the data of the file", "text", ANYTHING,
    "Type it last: what python -m workbook_template certificate FILE prints for this file. It shows later whether a "
    "value was changed.",
)  # fmt: skip


PRINTED = (*letterhead.SHOP, letterhead.CUSTOMER, NUMBER, LOT, ORDER, *SIGNED)
"""Words that the papers repeat."""


def printed(quantity: int, rows: int) -> int:
    """Pages that are printed: the letter, and as many lists as the quantity needs, one at least.

    >>> printed(0, 200), printed(60, 200), printed(61, 200)
    (2, 2, 3)
    """
    return 2 + sum(page[-1].last < quantity for page in groups(rows)[:-1])


def _field(label: str, wide: int) -> tuple[Piece, ...]:
    one = FIELDS[label]
    return words(2, label, "note_9"), shown(wide, one._replace(meaning=f"{one.meaning}, on the certificate"), "body")


def _addressed() -> Block:
    """Whom it is for, and by which numbers it goes."""
    date = Figure(
        "certificate_date_printed", "date of the certificate, as printed",
        when(days.is_day(the.certificate_date), days.written(the.certificate_date), "–"),
    )  # fmt: skip
    numbers = (
        ("Number", words(3, the.certificate_number_text, "body_fit")), ("Date", shown(3, date, "body")),
        ("Your order", words(3, the.certificate_order_text, "body_fit")),
        ("Lot", words(3, the.certificate_lot_text, "body_fit")),
    )  # fmt: skip
    customer = shown(6, FIELDS["Customer"]._replace(meaning="customer, on the certificate"), "body_fit")
    to = block(None, line(customer), *deep(words(6, the.customer_address_text, "body_top", lines=3)))
    said = block(None, *(line(words(2, label, "note_9"), value) for label, value in numbers))
    return beside(to, gap(1), said)


def _part() -> Block:
    thread = Figure("callout_certificate", "the thread, as on the sheet Job", the.callout)
    note = Figure("certificate_note", "the thread in words", the.thread_note)
    return block(
        None,
        line(shown(12, thread, "thread"), height=CALLOUT),
        line(shown(12, note, "note_9")),
        line(*_field("Part", 10)),
        line(*_field("Drawing, revision", 4), *_field("Job", 4)),
        line(*_field("Material", 10)),
        line(*_field("Its certificate", 4), *_field("Ordered", 4)),
        line(*_field("Logged, measured", 10)),
    )


def _limit(which: str, end: str) -> Piece:
    name = f"{which}_diameter_{end}"
    size, note = coating.of_finished(which, end), the[f"{name}_note"]
    printed = when(known(size), say(length(size), when(note.same("for reference"), " ref.")), "–")
    return shown(2, Figure(f"certificate_{name}", f"{name.replace('_', ' ')}, as printed", printed), "row_number")


def _limits() -> Block:
    """Limits of size beside the rule that the readings are judged by."""
    coated = when(coating.COATED, ", coated")
    title = Figure(
        "certificate_unit", "unit of the lengths, in words", say("Limits of size", coated, ", ", the.unit_words)
    )
    heads = (("", 2, ""), ("smallest", 2, "_right"), ("largest", 2, "_right"))
    limits = block(
        None,
        line(shown(6, title, "section"), height=HEAD),
        line(*(words(wide, text, f"column_head{look}") for text, wide, look in heads), height=NOTE),
        *(
            line(words(2, which.capitalize(), "row_words"), _limit(which, "min"), _limit(which, "max"))
            for which in ("major", "pitch", "minor")
        ),
        line(height=2 * BODY),  # for the rule with all its warnings
    )
    rule = Figure(
        "certificate_rule", "decision rule and uncertainty, in words",
        when(given(the.decision_words), the.decision_words, "No decision rule is chosen on the sheet Uncertainty."),
    )  # fmt: skip
    return beside(limits, gap(1), block("Decision rule and uncertainty", line(shown(5, rule, "body_small", lines=6))))


def _summary() -> Block:
    """The readings of the lot and the verdict."""
    judged = tuple(
        (word, Figure(parts_that_are(word).name, f"parts whose pitch diameter is: {word}", _count(word), "count"))
        for word in JUDGED
    )
    figures = tuple(zip((*SUMMARY.items(), *judged), (1, 2, 2, 2, 1, 2, 1, 1)))
    verdict_words = Figure("certificate_words", "how the lot stands, in words", verdict())
    return stack(
        block(
            "Pitch diameter of the lot",
            line(*(words(wide, label, "column_head_right") for (label, _), wide in figures), height=NOTE),
            line(*(shown(wide, one, "row_number_bold") for (_, one), wide in figures)),
        ),
        block(None, line(height=NOTE), *deep(shown(12, verdict_words, "said", lines=3))),
    )


def _count(word: str) -> Node:
    return the[f"count_pitch_diameter_{word.replace(' ', '_')}"]


def _signatures() -> Block:
    """Names, boxes for pen and ink, and what the paper does not say."""
    names = (part for one in SIGNED for part in (words(2, one.label), words(4, the[f"{one.name}_text"], "body")))
    digest = Figure(
        "certificate_digest_printed", "digest of the data, as printed",
        when(given(in_text(the.certificate_digest)), say("Digest of the data: ", the.certificate_digest)),
    )  # fmt: skip
    authority = Figure("authority_certificate", "who governs pipe and flight threads", the.authority_words)
    return block(
        None,
        line(*names),
        line(box(5), gap(1), box(5), height=2 * BODY),
        line(*(words(6, "signature and date", "note_9") for _ in SIGNED), height=NOTE),
        line(height=9),
        line(words(12, DISCLAIMER, "note_9"), height=NOTE),
        line(shown(12, authority, "note_9"), height=2 * NOTE),
        line(shown(12, digest, "note_9"), height=NOTE),
    )


DISCLAIMER = (
    "This paper reports measurements of the parts named; it makes no statement about their fitness for any use."
)


def _panel() -> Block:
    """What is typed, beside the first page."""
    on_this_file = "run python -m workbook_template certificate on this file"
    versions = say(
        "Workbook built ", the.built_on, " with sheetfuncs ", the.sheetfuncs_version, ". ",
        when(given(in_text(the.certificate_digest)),
             f"Digest as typed above: {on_this_file} to see whether it is that of its data.",
             f"No digest yet: {on_this_file} and type what it prints."),
    )  # fmt: skip
    label = Figure(
        "certificate_date_label", "label of the date, and whether it is one",
        when(days.if_no_day(the.certificate_date).same(""), "Date", "Date? 1990 to 2099"),
    )  # fmt: skip
    step = Figure("certificate_step", "what the certificate still lacks", next_step())
    return block(
        None,
        line(words(9, "Typed here, printed there", "section")),
        *deep(shown(9, step, "said", lines=2)),
        *letterhead.entries(),
        *letterhead.entries((NUMBER, LOT, ORDER)),
        line(shown(3, label, "label"), entry(6, DATE)),
        *letterhead.entries((*SIGNED, DIGEST)),
        *deep(shown(9, Figure("certificate_versions", "versions, in words", versions), "note_9", lines=2)),
    )


def _working(pages: tuple[tuple[Group, ...], ...], last: int) -> tuple[Figure, ...]:
    """Figures behind the page; what is printed ends with a row of the log, counted from 1."""
    gauged_alone = xl.SUMPRODUCT(the.log_instrument_at.same(NO_NUMBER) * the.log_gauge_at.differs(NO_NUMBER))
    unnamed = the.log_pitch_diameter_result.differs("") * the.log_part.same("")
    not_judged = (
        Figure(parts_that_are(word).name, f"parts whose pitch diameter is: {word}", _count(word), "count")
        for word in COUNTED
        if word not in JUDGED
    )
    return (
        *texts(PRINTED),
        Figure("certificate_spoiled", "what is typed for the paper and is an error value",
               spoiled((*PRINTED, DIGEST))),
        Figure("certificate_printed", "the last row of the log that stands on a page that is printed", node(last)),
        Figure("certificate_logged", "rows begun", xl.COUNTIF(the.log_pitch_diameter_result, "?*")),
        *left(pages),
        WITHOUT_OWN_WIRES,
        Figure("certificate_crest_title", "which crest diameter is logged",
               when(INSIDE, "Bore", "Major diameter")),
        Figure("certificate_crest_in", "crest diameters that are in", the.count_crest_in),
        Figure("certificate_crest_others", "crest diameters that are not in", others("crest")),
        Figure("certificate_ring_in", "gaugings that are in", the.count_ring_in),
        Figure("certificate_ring_others", "gaugings that are not in", others("ring")),
        Figure("parts_unmeasured", "parts with neither a pitch diameter nor GO and NOT GO gauges",
               once(the.log_worst, "not measured"), "count"),
        Figure("parts_in", "parts that are in by every result they have", once(the.log_worst, "in"), "count"),
        Figure("certificate_unnamed", "rows begun that name no part", xl.SUMPRODUCT(unnamed)),
        Figure("certificate_unknown", "rows that name no instrument of the list",
               xl.MAX(0, the.certificate_logged - xl.COUNTIF(the.log_instrument_at, ">0") - gauged_alone)),
        *not_judged,
    )  # fmt: skip


SPACE = block(None, line(height=BODY / 2))


def sheet(made: Made) -> Sheet:
    """The letter, its instruments with the first parts, and pages for all rows of the log; as many as needed print."""
    pages, lists = groups(made.rows), printed(made.quantity, made.rows) - 1
    letter = stack(
        block(None, *letterhead.head(TITLE)), _addressed(), SPACE, _part(), SPACE, _limits(), SPACE, _summary(),
        SPACE, _signatures(),
    )  # fmt: skip
    listed = (
        stack(
            block(None, *letterhead.head_again(f"{TITLE}, page {at + 1}", the.certificate_number_text)),
            instruments_used() if at == 1 else block(None, columns=12),
            parts(page, made.rows),
            block(None, rest(at, pages)),
        )
        for at, page in enumerate(pages, start=1)
    )
    behind = (
        used("instrument", instruments.INSTRUMENTS),
        used("wires", instruments.WIRE_SETS),
    )
    return Sheet(
        SHEET,
        (letter, *listed),
        _working(pages, pages[lists - 1][-1].last),
        (*behind, values(made.rows)),
        beside=_panel(),
        printed_pages=lists + 1,
        user="record",
    )
