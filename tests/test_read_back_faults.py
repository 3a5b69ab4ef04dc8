"""Kinds of faults in a filled workbook: each is named by a finding of its own, and nothing else is.

Independent faults are planted in one file together, as a check takes seconds; each is looked for by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from file_faults import (
    BOOK,
    Fault,
    File,
    attribute,
    axis_moved,
    chart,
    column_attribute,
    concealed,
    defined,
    font,
    footer,
    formula,
    linked,
    lock_off,
    merged,
    name_added,
    new_formula,
    new_sheet,
    next_row,
    number_format,
    part_text,
    picture,
    print_name,
    protection,
    range_moved,
    renamed,
    row_attribute,
    rule_added,
    rule_gone,
    rule_look,
    sheet_gone,
    shifted,
    state,
    typed,
    validation,
    value,
)
from workbook_cases import demo_book

from workbook_template.read_back import check
from workbook_template.read_back.findings import Finding
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.opening import Unreadable
from workbook_template.rules.parts import MAIN

WHITE = '<sz val="11"/><color rgb="FFFFFFFF"/><name val="Arial"/>'
TINY = '<sz val="1"/><color rgb="FF1A1A1A"/><name val="Arial"/>'
INK = '<font><color rgb="FFFFFFFF"/></font>'
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
        value("log_ring_result", "in", "str", 150),
        "stored value",
        "log_ring_result+150",
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
        rule_gone("log_words", '="undecided"'),
        "conditional format",
        "on log_words",
        "undecided",
        True,
    ),
    Fault(
        "a conditional format with another sign",
        rule_look("log_words", '="high"', '<numFmt numFmtId="940" formatCode="&quot;in &quot;"/>'),
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
        print_name("count_pitch_diameter_high", "_xlnm.Print_Area", "$A$2:$AC$35"),
        "print area",
        "on count_pitch_diameter_high",
        "now A2:AC35",
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


LOUD = (
    Fault(
        "a reading changed after it was computed",
        typed("log_reading", "0.7611", down=1),
        "stored value",
        "log_pitch_diameter+1",
        "stored is",
    ),
    Fault(
        "a date changed after it was computed",
        typed("instrument_due", "47000", down=1),
        "stored value",
        "instrument_state+1",
        "stored is",
    ),
    Fault(
        "a row filled in beyond what is printed",
        typed("instrument_id", "M-50", "inlineStr", 15),
        "print area",
        "on instrument_id",
        "is in use",
        True,
    ),
    Fault(
        "a part logged twice",
        typed("log_serial", "003", "inlineStr", 6),
        "part again",
        "log_serial+6",
        "was logged before",
        True,
    ),
    Fault(
        "a number typed as text",
        typed("log_crest", "0.7441", "inlineStr", 7),
        "stored value",
        "log_crest_result+7",
        'computed again it is "check entry"',
    ),
    Fault(
        "a wrong digest",
        typed("certificate_digest", "00aa" * 16, "inlineStr"),
        "digest",
        "certificate_digest",
        "that of the data is",
    ),
    Fault("days counted from 1904", attribute(f"{MAIN}workbookPr", BOOK, date1904="1"), "setting", "", "1904"),
    Fault(
        "precision as shown", attribute(f"{MAIN}calcPr", BOOK, fullPrecision="0"), "setting", "", "precision as shown"
    ),
    Fault("a sheet called otherwise", renamed("study_job", "Study"), "renamed", "on study_job", '"Study"', True),
    Fault("a sheet that is gone", sheet_gone("offer_money"), "removed", "on offer_money", "the sheet is gone"),
    Fault(
        "another version named",
        typed("sheetfuncs_version", "0.0.9", "inlineStr"),
        "other version",
        "sheetfuncs_version",
        'built by version "0.0.9"',
    ),
    Fault(
        "an instrument that was overdue",
        typed("log_instrument", "M-3", "inlineStr", 12),
        "instrument",
        "log_serial+12",
        "was due",
        True,
    ),
    Fault(
        "an instrument that is not listed",
        typed("log_instrument", "M-77", "inlineStr", 9),
        "instrument",
        "log_serial+9",
        "is not on the sheet Instruments",
        True,
    ),
)
"""Faults that make much else come out otherwise; they are looked for in a file of their own."""

REFUSED = (
    ("macros", lambda file: file.add("xl/vbaProject.bin", "x"), "holds macros, which an .xlsx file can't"),
    ("a link to another workbook", lambda file: file.add("xl/externalLinks/externalLink1.xml", "<a/>"), "is linked to"),
    (
        "something that loads from outside",
        lambda file: file.relate("xl/_rels/workbook.xml.rels", "oleObject", "//elsewhere.invalid/x", outside=True),
        "is linked to",
    ),
    (
        "an entity in a part that no command needs",
        lambda file: file.add("docProps/app.xml", '<!DOCTYPE a [<!ENTITY e "x">]><a>&e;</a>'),
        "declares a document type or entities",
    ),
    (
        "a log that is another sheet",
        lambda file: [defined(f"log_{name}", "Threads!$A$12:$A$211")(file) for name in ("reading", "serial")],
        "names cells of the sheet Threads as its log",
    ),
    (
        "a column of the log one row off",
        shifted("log_instrument", 1),
        "do not begin and end in the same",
    ),
)
"""What no command opens."""


@pytest.fixture(scope="module")
def example(built: dict[str, Path]) -> bytes:
    """The filled example with its stored values."""
    return built["demo.xlsx"].read_bytes()


class Tried:
    """A file with faults in it, and what the check says."""

    def __init__(self, faults: tuple[Fault, ...], content: bytes, folder: Path) -> None:
        self.file = File(demo_book()[0], content)
        for one in faults:
            one.plant(self.file)
        path = folder / "job.xlsx"
        path.write_bytes(self.file.content())
        self.found = check.check(path)

    def about(self, fault: Fault) -> list[Finding]:
        """The findings about one fault."""
        title, cell = fault.place(self.file)
        words = fault.words if isinstance(fault.words, str) else fault.words(self.file)
        return [
            one
            for one in (self.found.remarks if fault.remark else self.found.findings)
            if one.kind == fault.kind
            and words in one.words
            and title in ("", one.sheet)
            and cell in ("", one.cell.split(":")[0])
        ]


@pytest.fixture(scope="module")
def tried(example: bytes, tmp_path_factory: pytest.TempPathFactory) -> Tried:
    return Tried(FAULTS, example, tmp_path_factory.mktemp("faults"))


@pytest.fixture(scope="module")
def tried_loud(example: bytes, tmp_path_factory: pytest.TempPathFactory) -> Tried:
    return Tried(LOUD, example, tmp_path_factory.mktemp("loud"))


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.what)
def test_a_fault_is_named_by_a_finding_of_its_own(tried: Tried, fault: Fault) -> None:
    assert len(tried.about(fault)) == 1


@pytest.mark.parametrize("fault", LOUD, ids=lambda fault: fault.what)
def test_a_fault_with_consequences_is_named(tried_loud: Tried, fault: Fault) -> None:
    assert len(tried_loud.about(fault)) == 1


def test_nothing_else_is_named(tried: Tried) -> None:
    """But what is wrong with the example itself, and what else is said of a cell with a fault in it."""
    planted = {fault.place(tried.file) for fault in FAULTS}
    named = {one for fault in FAULTS for one in tried.about(fault)}
    others = [
        one
        for one in (*tried.found.findings, *tried.found.remarks)
        if one not in named and (one.sheet, one.cell) not in planted and one.kind != "instrument"
    ]
    assert [one.words for one in others] == ['no thread of any standard: "#0-80 UNF 9Z"']


@pytest.mark.parametrize(("what", "plant", "words"), REFUSED, ids=[one[0] for one in REFUSED])
def test_what_no_command_opens(
    tmp_path: Path, example: bytes, what: str, plant: Callable[[File], None], words: str
) -> None:
    file = File(demo_book()[0], example)
    plant(file)
    path = tmp_path / "job.xlsx"
    path.write_bytes(file.content())
    with pytest.raises(Unreadable, match=words):
        open_job(path, sheets=False)


def test_the_example_itself_has_no_difference(built: dict[str, Path]) -> None:
    found = check.check(built["demo.xlsx"])
    assert found.findings == []
    assert {one.kind for one in found.remarks} == {"instrument"}


def test_a_group_of_columns_that_was_opened_is_no_difference(example: bytes, tmp_path: Path) -> None:
    file = File(demo_book()[0], example)
    grouped = [one for one in file.sheet_of("log_serial").iter(f"{MAIN}col") if one.get("outlineLevel") == "1"]
    assert [one.attrib.pop("hidden") for one in grouped] == ["1"] * len(grouped)
    assert len(grouped) > 10
    path = tmp_path / "job.xlsx"
    path.write_bytes(file.content())
    found = check.check(path)
    assert found.findings == []
    assert {one.kind for one in found.remarks} == {"instrument"}
