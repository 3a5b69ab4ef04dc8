"""Faults in what stands around it: names, locks, looks, paper, the whole file; and what `check` says of each."""

from __future__ import annotations

from cell_faults import (
    column_attribute,
    concealed,
    font,
    lock_off,
    merged,
    number_format,
    part_text,
    row_attribute,
    validation,
)
from edited_file import BOOK, Fault
from file_faults import (
    attribute,
    axis_moved,
    chart,
    defined,
    footer,
    linked,
    name_added,
    new_sheet,
    picture,
    print_name,
    protection,
    range_moved,
    rule_added,
    rule_gone,
    rule_look,
    state,
)

from workbook_template.rules.parts import MAIN

WHITE = '<sz val="11"/><color rgb="FFFFFFFF"/><name val="Arial"/>'
TINY = '<sz val="1"/><color rgb="FF1A1A1A"/><name val="Arial"/>'
INK = '<font><color rgb="FFFFFFFF"/></font>'

FAULTS = (
    # names
    Fault("a name that is gone", defined("wider", None), "name", "wider", "the name is gone"),
    Fault("a name for another cell", defined("crest_max", "Job!$B$2"), "name", "crest_max", "stands for Job!B2"),
    Fault("a name for a number", defined("blank_max", "0.75"), "name", "blank_max", 'stands for "0.75"'),
    Fault(
        "a sheet's own name of that kind",
        name_added("crest_min", "Job!$B$2", localSheetId="0"),
        "name",
        "",
        "a sheet has this name for itself too",
    ),
    Fault("a name more", name_added("factor", "1.5"), "added name", "", "was not built", True),
    # locks, checks, messages
    Fault("protection taken off", protection("depth", sheet="0"), "unprotected", "on depth", "protection"),
    Fault(
        "protection that leaves rows free",
        protection("instrument_id", deleteRows="0"),
        "left free",
        "on instrument_id",
        "deleteRows",
        True,
    ),
    Fault("a lock taken off", lock_off("lead"), "unlocked", "lead", "its lock is off"),
    Fault("a formula concealed", concealed("pitch"), "look", "pitch", "concealed", True),
    Fault(
        "a validation list changed",
        validation("hand", part_text(0, '"right,left,both"')),
        "check of input",
        "hand",
        "gone or changed",
    ),
    Fault(
        "a validation's bound changed",
        validation("starts", part_text(1, "99")),
        "check of input",
        "starts",
        "gone or changed",
    ),
    Fault(
        "a validation that refuses nothing",
        validation("thread_length", lambda one: one.set("showErrorMessage", "0")),
        "check of input",
        "thread_length",
        "gone or changed",
    ),
    Fault(
        "a validation that is gone",
        validation("unit", lambda one: one.getparent().remove(one)),
        "check of input",
        "unit",
        "gone or changed",
    ),
    Fault(
        "a message changed",
        validation("quantity", lambda one: one.set("prompt", "Type anything.")),
        "message",
        "quantity",
        'the message is "Type anything."',
        True,
    ),
    # what is seen
    Fault(
        "a number format with digits of its own",
        number_format("pitch_diameter_tolerance", '"0.0020"'),
        "number format",
        "pitch_diameter_tolerance",
        "another number than the stored one",
    ),
    Fault(
        "a number format of thousands", number_format("blank_min", "0.0000,"), "number format", "blank_min", "0.0000,"
    ),
    Fault(
        "a number format of per cent",
        number_format("log_taper", "0.0000%", 5),
        "number format",
        "log_taper+5",
        "0.0000%",
    ),
    Fault(
        "a number format with a word",
        number_format("log_pitch_diameter_result", '"in";"in";"in";"in"', 20),
        "number format",
        "log_pitch_diameter_result+20",
        "another number than the stored one",
    ),
    Fault("a number format that hides", number_format("blank_aim", ";;;"), "look", "blank_aim", "can't be seen", True),
    Fault(
        "fewer decimals", number_format("major_diameter_max", "0.00"), "decimals", "major_diameter_max", "0.00", True
    ),
    Fault("white letters on white", font("certificate_high", WHITE), "look", "certificate_high", "can't be seen", True),
    Fault("letters too small to read", font("certificate_low", TINY), "look", "certificate_low", "can't be seen", True),
    Fault("a hidden sheet", state("study_job", "hidden"), "hidden", "on study_job", "the sheet is hidden", True),
    Fault(
        "a very hidden sheet", state("offer_money", "veryHidden"), "hidden", "on offer_money", "no menu shows it", True
    ),
    Fault("a hidden row", row_attribute("log_serial", 4, hidden="1"), "hidden", "log_serial+4", "hidden", True),
    Fault(
        "a row without height",
        row_attribute("certificate_words", ht="0", customHeight="1"),
        "hidden",
        "certificate_words",
        "hidden",
        True,
    ),
    Fault(
        "a hidden column", column_attribute("log_worst", hidden="1"), "hidden", "column log_worst", "is hidden", True
    ),
    Fault(
        "a column without width",
        column_attribute("log_reason", width="0"),
        "hidden",
        "column log_reason",
        "is hidden",
        True,
    ),
    Fault(
        "a merged cell less wide",
        merged("certificate_rule", less=True),
        "merged cells",
        "certificate_rule",
        "built was",
        True,
    ),
    Fault(
        "a merged cell undone",
        merged(
            "callout",
        ),
        "merged cells",
        "callout",
        "no longer one cell",
        True,
    ),
    Fault(
        "cells merged over another",
        merged("log_reason", with_next=True),
        "merged cells",
        "log_reason",
        "one value alone shows",
        True,
    ),
    Fault(
        "a conditional format gone",
        rule_gone("log_words", '"undecided"'),
        "conditional format",
        "on log_words",
        "undecided",
        True,
    ),
    Fault(
        "a conditional format with another sign",
        rule_look("log_words", '"high"', '<numFmt numFmtId="940" formatCode="&quot;in &quot;"/>'),
        "number format",
        "on log_words",
        "it now shows",
        False,
    ),
    Fault(
        "a conditional format that hides",
        rule_added("count_crest_low", "TRUE", INK),
        "conditional format",
        "count_crest_low",
        "hides cells",
        True,
    ),
    Fault(
        "a conditional format with digits",
        rule_added("count_ring_low", "1=1", '<numFmt numFmtId="941" formatCode="&quot;0&quot;"/>'),
        "number format",
        "count_ring_low",
        "was added",
    ),
    # paper, charts, what lies on top
    Fault(
        "a print area moved",
        print_name("offer_prices", "_xlnm.Print_Area", "$A$3:$L$38"),
        "print area",
        "on offer_prices",
        "now A3:L38",
        True,
    ),
    Fault(
        "a print area that ends in the middle of a page",
        print_name("certificate_words", "_xlnm.Print_Area", "$A$2:$L$70"),
        "print area",
        "on certificate_words",
        "now A2:L70",
        True,
    ),
    Fault(
        "a page that is not printed",
        print_name("estimate_unit_price", "_xlnm.Print_Area", "$A$2:$F$36"),
        "print area",
        "on estimate_unit_price",
        "now A2:F36",
        True,
    ),
    Fault(
        "repeated rows changed",
        print_name("quote_price", "_xlnm.Print_Titles", "$1:$1"),
        "print area",
        "on quote_price",
        "rows repeated on each page",
        True,
    ),
    Fault(
        "a footer with a claim",
        footer("article_words", "&LAll conform"),
        "print area",
        "on article_words",
        "All conform",
        True,
    ),
    Fault(
        "a chart of fewer readings", chart("chart_first", range_moved), "chart", "on chart_first", "a chart shows", True
    ),
    Fault(
        "an axis that begins elsewhere",
        chart("estimate_words", axis_moved),
        "chart",
        "on estimate_words",
        "min 0.7",
        True,
    ),
    Fault("a shape over cells", picture("study_job"), "on top", "on study_job", "pictures or shapes", True),
    Fault("a link that leads outside", linked("depth"), "outside", "", "http://elsewhere.invalid/", True),
    # the whole file
    Fault("a sheet more", new_sheet, "added", "", "this sheet was not built"),
    Fault(
        "computing only when asked",
        attribute(f"{MAIN}calcPr", BOOK, calcMode="manual"),
        "calculation",
        "",
        "only when asked",
        True,
    ),
    Fault(
        "circular formulas allowed", attribute(f"{MAIN}calcPr", BOOK, iterate="1"), "calculation", "", "circular", True
    ),
)
