"""Faults in what a filled workbook says: stored values, formulas, constants; and what `check` says of each."""

from __future__ import annotations

from cell_faults import (
    formula,
    new_formula,
    next_row,
    typed,
    value,
)
from edited_file import Fault

TOLD = "stored is {}; computed again"

FAULTS = (
    # stored values, the formula stays
    Fault(
        "a limit's stored value",
        value("pitch_diameter_max", "0.7089"),
        "stored value",
        "pitch_diameter_max",
        TOLD.format("0.7089"),
    ),
    Fault(
        "a verdict's stored value",
        value("log_pitch_diameter_result", "in", "str", 16),
        "stored value",
        "log_pitch_diameter_result+16",
        TOLD.format('"in"'),
    ),
    Fault(
        "a size in the log",
        value("log_pitch_diameter", "0.7055", down=2),
        "stored value",
        "log_pitch_diameter+2",
        TOLD.format("0.7055"),
    ),
    Fault(
        "why a row is not in", value("log_words", "In.", "str", 3), "stored value", "log_words+3", TOLD.format('"In."')
    ),
    Fault(
        "a verdict in an unused row",
        value("log_ring_result", "in", "str", 40),
        "stored value",
        "log_ring_result+40",
        TOLD.format('"in"'),
    ),
    Fault(
        "a count of parts",
        value("count_pitch_diameter_high", "0"),
        "stored value",
        "count_pitch_diameter_high",
        TOLD.format("0"),
    ),
    Fault(
        "the certificate's sentence",
        value("certificate_words", "All parts conform.", "str"),
        "stored value",
        "certificate_words",
        TOLD.format('"All parts conform."'),
    ),
    Fault(
        "a part's result on the certificate",
        value("certificate_result_1", "fine", "str", 2),
        "stored value",
        "certificate_result_1+2",
        TOLD.format('"fine"'),
    ),
    Fault("a price of the offer", value("offer_prices", "1"), "stored value", "offer_prices", TOLD.format("1")),
    Fault("a price of the quote", value("quote_price", "1"), "stored value", "quote_price", TOLD.format("1")),
    Fault("a cost of the estimate", value("estimate_cost", "10"), "stored value", "estimate_cost", TOLD.format("10")),
    Fault(
        "what the lathe's dial allows",
        value("lathe_dial_rule", "Any line.", "str"),
        "stored value",
        "lathe_dial_rule",
        TOLD.format('"Any line."'),
    ),
    Fault(
        "an infeed of the plan",
        value("plan_compound_reading", "0.0301", down=3),
        "stored value",
        "plan_compound_reading+3",
        TOLD.format("0.0301"),
    ),
    Fault("a capability", value("capability_cpk", "2"), "stored value", "capability_cpk", TOLD.format("2")),
    Fault(
        "the uncertainty", value("budget_expanded", "0.0001"), "stored value", "budget_expanded", TOLD.format("0.0001")
    ),
    Fault(
        "the first article's sentence",
        value("article_words", "ACCEPTED.", "str"),
        "stored value",
        "article_words",
        TOLD.format('"ACCEPTED."'),
    ),
    Fault(
        "a gauge study",
        value("study_grr_by_anova", "0.00001"),
        "stored value",
        "study_grr_by_anova",
        TOLD.format("1e-05"),
    ),
    Fault(
        "an instrument's state",
        value("instrument_state", "in date", "str", 2),
        "stored value",
        "instrument_state+2",
        TOLD.format('"in date"'),
    ),
    Fault(
        "a stored error as a text",
        value("callout_log", "#N/A", "e"),
        "stored value",
        "callout_log",
        TOLD.format("#N/A"),
    ),
    Fault("a working figure", value("thread_row", "8"), "stored value", "thread_row", TOLD.format("8")),
    Fault(
        "a number stored as a text",
        value("over_wires_max", "0.7621", "str"),
        "stored value",
        "over_wires_max",
        TOLD.format('"0.7621"'),
    ),
    Fault(
        "no stored value",
        value("micrometer_range", "", "str"),
        "stored value",
        "micrometer_range",
        TOLD.format("nothing"),
    ),
    # formulas
    Fault(
        "a value pasted over a formula",
        typed("wire_constant", "0.0525"),
        "typed over",
        "wire_constant",
        "the formula is gone, 0.0525 stands in its place",
    ),
    Fault(
        "a verdict pasted over its formula",
        typed("log_crest_result", "in", "inlineStr", 16),
        "typed over",
        "log_crest_result+16",
        'the formula is gone, "in" stands',
    ),
    Fault(
        "a formula deleted",
        typed("log_taper", None, down=40),
        "typed over",
        "log_taper+40",
        "nothing stands in its place",
    ),
    Fault(
        "a constant added to a formula",
        formula("pitch_diameter_min", ("*own_to_working", "*own_to_working-0.0005")),
        "changed formula",
        "pitch_diameter_min",
        "*own_to_working-0.0005",
    ),
    Fault(
        "one sign in a long formula",
        formula("decision_words", ("log_guard=1", "log_guard=0")),
        "changed formula",
        "decision_words",
        "log_guard=0",
    ),
    Fault(
        "another column in a formula",
        formula("count_pitch_diameter_in", ("log_pitch_diameter_result", "log_crest_result")),
        "changed formula",
        "count_pitch_diameter_in",
        "log_crest_result",
    ),
    Fault(
        "another row in a row's formula",
        next_row("log_out_of_round", "log_reading", 40),
        "changed formula",
        "log_out_of_round+40",
        lambda file: f"COUNT({file.place('log_reading', 41)[1]}",
    ),
    Fault(
        "a text in a formula",
        formula("certificate_rest", ("All rows of the log are listed.", "All is in.")),
        "changed formula",
        "certificate_rest",
        "All is in.",
    ),
    Fault(
        "a formula as input",
        new_formula("log_serial", '"00"&"5"', 4),
        "formula as input",
        "log_serial+4",
        "not a formula",
    ),
    Fault(
        "a cell that fetches from elsewhere",
        new_formula("customer", 'WEBSERVICE("http://elsewhere.invalid")'),
        "formula as input",
        "customer",
        "WEBSERVICE",
    ),
    # constants
    Fault(
        "a limit in the table of threads",
        typed("class_list", "9Z", "inlineStr", 3),
        "changed value",
        "class_list+3",
        '"9Z" stands here',
    ),
    Fault(
        "a list of choices",
        typed("system_list", "ISO metrics", "inlineStr", 1),
        "changed value",
        "system_list+1",
        '"ISO metrics" stands here',
    ),
)
