"""The built files break none of the rules that Microsoft's validator does not see, and these find what is planted."""

from __future__ import annotations

import ast
import re
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from xml.sax.saxutils import escape

import pytest
from good_workbook import BOOK, JOB, LOG, STYLES, TABLE, TYPES, good_workbook, planted

from workbook_template.rules import Fault, check, traps

RULES = Path(__file__).parent.parent / "workbook_template" / "rules"
BOOK_LINKS, JOB_LINKS, LOG_LINKS = (
    f"xl/{part}.rels" for part in ("_rels/workbook.xml", "worksheets/_rels/sheet1.xml", "worksheets/_rels/sheet2.xml")
)
B3 = 'IF(ISNUMBER(pitch),ROUND(pitch*2%,4),"no pitch")'

# A formula in the cell Job!B3, and what is said of it.
FORMULAS = [
    ("=pitch", "the formula is stored with its ="),
    (" ", "the formula is empty"),
    ("+".join(["pitch"] * 1366), "the formula has 8195 characters; 8192 are the most"),
    ("pitch~2", "the formula can't be read from here: ~2"),
    ('"open', "the formula can't be read from here: \"open"),
    ("pitch half", "there is no operator before half"),
    ("(pitch)(half)", "there is no operator before ("),
    ("pitch**2", "there is no value before *"),
    ("ROUND(%1,2)", "there is no value before %"),
    ("ROUND(pitch*,2)", "there is no value before ,"),
    ("ROUND(pitch;2)", "a semicolon stands between arguments; files have commas"),
    ("B1,B2", "a comma stands outside of brackets"),
    ("ROUND(pitch,2))", "a bracket is closed that was not opened: )"),
    ("SUM({1,2)", "a bracket is closed that was not opened: )"),
    ("ROUND(pitch,2", "a bracket is not closed"),
    ("pitch*", "a value is missing at the end"),
    ("2*(pitch+)", "there is no value before a closing bracket"),
    ("ABS(" * 65 + "1" + ")" * 65, "functions stand inside one another more than 64 deep"),
    ("ROUND(pitch)", "ROUND has 1 arguments; it takes 2"),
    ("IF(pitch,1,2,3)", "IF has 4 arguments; it takes 2 to 3"),
    ("SUM(" + "1," * 255 + "1)", "SUM has 256 arguments; it takes 1 to 255"),
    (f'"{"a" * 256}"', f'a text of the formula has more than 255 characters: "{"a" * 19}...'),
    ("Job!#REF!+1", "the formula holds #REF!, a reference that was lost"),
    ("XLOOKUP(1,B1:B3,B1:B3)", "XLOOKUP is no function that every program has"),
    ("STDEV.S(1,2)", "STDEV.S is stored without _xlfn."),
    ("_xlfn.ROUND(pitch,2)", "_xlfn.ROUND is older than the prefix _xlfn.; store it without"),
    ("Setup!B1", "there is no sheet setup"),
    ("SUM(Job:Old!B1)", "there is no sheet old"),
    ("[1]Sheet!B1", "[1] is another workbook, and the file has no such link"),
    ("SUM(1:1048577)", "1:1048577 is beyond the edge of the sheet"),
    ("wire*2", "there is no name wire"),
    ("XFE1*2", "there is no name XFE1"),
    ("SUM(Gages[size])", "there is no table Gages"),
    ("[size]*2", "[size] stands outside of a table"),
    ("SUM(Parts[length])", "the table Parts has no column length"),
    ('IF(pitch>1,B20,"")', "the formula ends on a blank: B20"),
    ("INDEX(B19:B20,half*4)", "the formula ends on a blank: INDEX(B19:B20,0.5*4)"),
    ("IF(A1>2,1,2)", "the formula compares a text with a number: A1>2"),
    ('IF(pitch>1,"",2)*3', 'the formula does arithmetic on "": IF(B1>1,"",2)'),
    ("A1*2", "the formula does arithmetic on a text: A1"),
]

NAME = '<definedName name="half">'
DEFINE = '<definedName name="{}">0.5</definedName>' + NAME
CELL = f'<c r="B3"><f>{B3}</f><v></v></c>'
PITCH = '<c r="B1" s="1" t="n"><v>0.0625</v></c>'
LIST = '<dataValidation sqref="C1:C4"'
SHEET = 'name="Log of parts"'
XF = '<xf numFmtId="164" fontId="0" fillId="0" borderId="0"'
FORMAT = "0.0000&quot; in&quot;;[Red]-0.0000"
SECOND_TABLE = (
    '<table xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" id="{}" name="{}" displayName="{}"'
    ' ref="{}"><autoFilter ref="{}"/><tableColumns count="2"><tableColumn id="1" name="a"/>'
    '<tableColumn id="2" name="1.5"/></tableColumns></table>'
)

# A part, what stands in it, what is put in its place, and what is said of it.
EDITS = [
    (TYPES, "/xl/styles.xml", "/xl/style.xml", "a content type is given for a part that is not in the file"),
    (TYPES, "/xl/theme/theme1.xml", "/xl/styles.xml", "the content type is given twice"),
    (BOOK_LINKS, "theme/theme1.xml", "theme/none.xml", "the relationship leads to xl/theme/none.xml, not in the file"),
    (BOOK_LINKS, 'Id="rId4"', 'Id="rId3"', "the relationship's id is used twice"),
    (BOOK_LINKS, "/xl/worksheets/sheet2.xml", "/xl/worksheets/none.xml", "the relationship leads to"),
    (JOB, 'r:id="rId1"', 'r:id="rId7"', "there is no relationship of this id"),
    (JOB, "<t>pitch</t>", "<t>pitch\x01</t>", "the part is not well-formed XML: "),
    (JOB, "</worksheet>", "", "the part is not well-formed XML: "),
    (BOOK, SHEET, f'name="{"a" * 32}"', "the sheet's name has 32 characters; 1 to 31"),
    (BOOK, SHEET, 'name="Log/parts"', "the sheet's name holds one of [ ] : * ? / \\"),
    (BOOK, SHEET, 'name="Log\'"', "the sheet's name begins or ends with an apostrophe"),
    (BOOK, SHEET, 'name="History"', "History is a name that Excel keeps for itself"),
    (BOOK, SHEET, 'name="JOB"', "two sheets have the same name but for capitals"),
    (BOOK, 'sheetId="2"', 'sheetId="1"', "two sheets have the same number"),
    (BOOK, 'activeTab="0"', 'activeTab="2"', "the sheet to be shown first is hidden or not there"),
    (BOOK, 'state="visible"', 'state="hidden"', "the sheet to be shown first is hidden or not there"),
    (BOOK, 'localSheetId="0">Job', 'localSheetId="5">Job', "the name belongs to a sheet that is not there"),
    (BOOK, NAME, DEFINE.format("Twice"), "the name is used twice"),
    (BOOK, NAME, DEFINE.format("PARTS"), "the name is used twice"),
    (BOOK, NAME, DEFINE.format("a" * 256), "the name has 256 characters; 255 are the most"),
    (BOOK, NAME, DEFINE.format("two words"), "the name has a character that names do not take"),
    (BOOK, NAME, DEFINE.format("1st"), "the name has a character that names do not take"),
    *((BOOK, NAME, DEFINE.format(n), "the name reads as a cell") for n in ("M8", "UNC14", "R", "c", "R1C1", "TRUE")),
    (TABLE, 'displayName="Parts"', 'displayName="T1"', "the name reads as a cell"),
    (BOOK, ">0.5<", ">=0.5<", "the formula is stored with its ="),
    (BOOK, ">0.5<", ">Setup!$A$1<", "there is no sheet setup"),
    (JOB, '<row r="4">', '<row r="3">', "the row stands twice or out of order"),
    (JOB, '<row r="8">', '<row r="8" ht="409.6" customHeight="1">', "the row is higher than 409.5 points"),
    (JOB, '<row r="8">', '<row r="8" s="3" customFormat="1">', "the row has a format that is not in the file"),
    (JOB, CELL, CELL.replace("B3", "B2", 1), "the cell stands in row 3, where it does not belong"),
    (JOB, CELL, CELL + '<c r="A3"><v>1</v></c>', "the cell stands twice or out of order"),
    (JOB, CELL, CELL + '<c r="B3"><v>1</v></c>', "the cell stands twice or out of order"),
    (JOB, PITCH, '<c r="B1"><f>B20</f><v/></c>', "the formula of pitch ends on a blank: B20"),
    (JOB, PITCH, PITCH.replace('s="1"', 's="3"'), "the cell has a format that is not in the file"),
    (JOB, CELL, '<c r="B3" t="s"><v>0</v></c>', "the cell holds a text that is not in the file"),
    (JOB, CELL, '<c r="B3"><v>nan</v></c>', "the cell holds nan, which is no number"),
    (JOB, CELL, '<c r="B3"><v>1e999</v></c>', "the cell holds 1e999, which is no number"),
    (
        JOB,
        CELL,
        '<c r="B3"><f>B20</f><v/></c><c r="C3"><f>IF(ISNUMBER(B3),1,0)</f><v/></c>',
        "the formula tests a blank that was passed on: ISNUMBER(B3)",
    ),
    (JOB, CELL, '<c r="B3" t="inlineStr"><is><t></t></is></c>', "the cell is blank and claims to hold something"),
    (JOB, CELL, '<c r="B3" t="n"/>', "the cell is blank and claims to hold something"),
    (JOB, "<t>pitch</t>", "<t>pitch </t>", "the cell's text will lose the blanks at its ends"),
    (JOB, CELL, '<c r="B3" t="b"><v>yes</v></c>', "the cell holds yes, which is neither true nor false"),
    (JOB, CELL, '<c r="B3" t="e"><v>Err:502</v></c>', "the cell holds Err:502, which is no error value"),
    (JOB, "the standard", "a" * 32768, "the cell's text has 32768 characters; 32767 are the most"),
    (JOB, 'width="12"', 'width="256"', "the column is wider than 255 characters"),
    (JOB, 'min="3" max="3"', 'min="1" max="3"', "the column is described twice or out of order"),
    (JOB, 'ref="F1:G2"/>', 'ref="F1"/>', "the merged range is none, or a single cell"),
    (
        JOB,
        'ref="F1:G2"/>',
        'ref="F1:G2"/><mergeCell ref="G2:H3"/>',
        "the merged range or array shares a cell with F1:G2",
    ),
    (JOB, 'ref="F1:G2"/>', 'ref="D3:G4"/>', "the merged range or array shares a cell with D1:D3"),
    (JOB, "&amp;L&amp;A", "&amp;L" + "a" * 254, "a header or footer has more than 255 characters"),
    (JOB_LINKS, "https://example.org/standard", f"https://{'a' * 2072}", "the link has more than 2079 characters"),
    (JOB, 'hyperlink ref="A8"', 'hyperlink ref="A"', "the link stands on no cell"),
    (JOB, "location=\"'Log of parts'!A1\" ", "", "the link leads nowhere"),
    (JOB, "'Log of parts'!A1\"", 'Setup!A1"', "the link can't be followed: there is no sheet setup"),
    (JOB, 'tooltip="go there"', f'tooltip="{"a" * 256}"', "the link's message has more than 255 characters"),
    (JOB, LIST, '<dataValidation sqref="C"', "the validation stands on no cells"),
    (
        JOB,
        'promptTitle="Pitch"',
        f'promptTitle="{"a" * 33}"',
        "the validation's promptTitle has more than 32 characters",
    ),
    *(
        (JOB, 'promptTitle="Pitch"', f'promptTitle="{title}"', "the validation's promptTitle looks cut off")
        for title in ("Width of the flat, or nose radiu", "Diameter of the", "Reading over wires, ")
    ),
    (JOB, 'errorTitle="Please check"', f'errorTitle="{"a" * 32}"', "the validation's errorTitle looks cut off"),
    (
        JOB,
        'allowBlank="0" type="list"><formula1>"max,min,mid"',
        'allowBlank="1" type="list"><formula1>E1:E4',
        "validation: Excel takes anything while a cell of the list is blank; blanks must not be ignored",
    ),
    (JOB, 'errorTitle="Please', f'errorTitle="{"a" * 33}', "the validation's errorTitle has more than 32 characters"),
    (JOB, 'prompt="in', f'prompt="{"a" * 256}', "the validation's prompt has more than 255 characters"),
    (JOB, 'error="a', f'error="{"a" * 256}', "the validation's error has more than 255 characters"),
    (JOB, LIST, '<dataValidation sqref="B1:C4"', "the cell has two validations, here and with B1"),
    (JOB, '<formula1>"max,min,mid"</formula1>', "", "validation: there is no limit or list"),
    (JOB, "<formula2>pitch*99</formula2>", "", "validation: the second limit is missing"),
    (JOB, '"max,min,mid"', f'"{"a," * 128}"', "validation: the list has more than 255 characters"),
    (JOB, "<formula1>0<", "<formula1>=0<", "validation: the formula is stored with its ="),
    (JOB, "pitch*99", "wire*99", "validation: there is no name wire"),
    (JOB, 'Formatting sqref="B1"', 'Formatting sqref="B"', "the conditional format stands on no cells"),
    (JOB, 'priority="1" dxfId="0"', 'priority="1" dxfId="1"', "conditional format: its look is not in the file"),
    (JOB, "<formula>pitch&gt;1</formula>", "", "conditional format: a formula is missing"),
    (JOB, "<formula>1</formula>", "", "conditional format: a formula is missing"),
    (JOB, "pitch&gt;1", "wire&gt;1", "conditional format: there is no name wire"),
    (JOB, '<cfvo type="num" val="2"/>', "", "conditional format: there are 2 limits for 3"),
    (JOB, '<color rgb="FFFF0000"/>', "", "conditional format: there are 1 colours for 2"),
    (JOB, '<color rgb="FF638EC6"/>', "", "conditional format: there are 0 colours for 1"),
    (TABLE, 'Parts" ref="A1:C4"', 'Parts" ref="A1:C"', "the table stands on no cells"),
    (TABLE, 'Parts" ref="A1:C4"', 'Parts" ref="A1:C1"', "the table has no row under its header"),
    (TABLE, '<tableColumn id="1" name="part"/>', "", "the table has 2 columns on 3 columns of the sheet"),
    (TABLE, 'name="size"', 'name="PART"', "two columns of the table are called part"),
    (TABLE, 'Filter ref="A1:C4"', 'Filter ref="A1:D4"', "the table's filter is not on the table"),
    (LOG, "<t>size</t>", "<t>length</t>", "the header cell of column size does not hold that text"),
    (LOG, ' t="inlineStr"><is><t>size</t></is>', "><v>5</v>", "the header cell of column size does not hold that text"),
    (LOG, "<is><t>size", "<f>B2</f><is><t>size", "the header cell of column size does not hold that text"),
    (LOG, "<pageM", '<mergeCells><mergeCell ref="A3:B3"/></mergeCells><pageM', "cells of the table are merged: A3:B3"),
    (
        LOG,
        "<f>Parts[[#This Row],[size]]*2</f>",
        '<f t="array" ref="C2:C3">B2:B3*2</f>',
        "an array of several cells stands in the table: C2:C3",
    ),
    (LOG, "</sheetData>", '</sheetData><autoFilter ref="A1:C4"/>', "the sheet's own filter lies over the table"),
    (TABLE, "[size]]*2", "[length]]*2", "the table Parts has no column length"),
    (STYLES, FORMAT, "0.0000&quot; in", "a quotation mark of the number format is not closed"),
    (STYLES, FORMAT, "[Red0.00", "a bracket of the number format is not closed"),
    (STYLES, FORMAT, "0;0;0;@;0", "the number format has more than 4 sections"),
    (STYLES, FORMAT, "0" * 256, "the number format has 256 characters; 1 to 255"),
    (STYLES, XF, XF.replace('fontId="0"', 'fontId="2"'), "the format's fontId is not in the file"),
    (STYLES, XF, XF.replace('fillId="0"', 'fillId="2"'), "the format's fillId is not in the file"),
    (STYLES, XF, XF.replace('borderId="0"', 'borderId="1"'), "the format's borderId is not in the file"),
    (STYLES, XF, XF.replace("164", "165"), "the format's number format is not in the file"),
    (STYLES, 'name="Normal" xfId="0"', 'name="Normal" xfId="1"', "the cell style's format is not in the file"),
    (
        STYLES,
        "</cellStyles>",
        '<cellStyle name="NORMAL" xfId="0"/></cellStyles>',
        "two cell styles have the same name",
    ),
]

# Parts that are added to the file, or left out where there is no content; the changes that go with them; what is said.
ADDED = [
    ({"xl/extra.bin": "x"}, [], "the part has no content type"),
    ({TYPES: ""}, [], "the list of content types is missing"),
    ({BOOK: ""}, [], "these are relationships of xl/workbook.xml, which is not in the file"),
    ({"_rels/.rels": ""}, [], "the file holds no workbook"),
    *(
        (
            {"xl/tables/table2.xml": SECOND_TABLE.format(number, name, name, ref, ref)},
            [
                (TYPES, "</Types>", '<Override PartName="/xl/tables/table2.xml" ContentType="x/table"/></Types>'),
                (
                    LOG_LINKS,
                    "</Relationships>",
                    '<Relationship Id="rId2" Target="/xl/tables/table2.xml" Type="x/table"/></Relationships>',
                ),
            ],
            sentence,
        )
        for number, name, ref, sentence in (
            (2, "Gages", "A2:B4", "the table shares a cell with the table Parts"),
            (1, "Gages", "J2:K4", "two tables have the same number"),
            (2, "PARTS", "J2:K4", "the name is used twice"),
        )
    ),
]


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good_workbook(tmp_path_factory.mktemp("rules") / "good.xlsx")


def test_a_built_file_breaks_no_rule(built: Mapping[str, Path], built_short: Mapping[str, Path]) -> None:
    """The macro workbook holds the parts of the filled one. Traps are looked for in what the empty one has beside.

    That has its whole table of threads.
    """
    clean: set[traps.Shape] = set()
    assert check(built_short["demo.xlsm"], clean) == []
    of_filled = len(clean)
    assert check(built["new.xlsx"], clean) == []
    assert of_filled < len(clean) < 1.1 * of_filled


def test_a_trap_is_found_in_the_second_file_too(good: Path, tmp_path: Path) -> None:
    """What is passed over is the same formula on the same sheet, without a trap, and nothing else."""
    clean: set[traps.Shape] = set()
    assert check(good, clean) == []
    bad = planted(good, tmp_path / "bad.xlsx", [(JOB, f"<f>{B3}</f>", "<f>A1*2</f>")])
    (fault,) = check(bad, clean)
    assert check(bad, clean) == [fault]
    assert fault == Fault(JOB, "B3", "the formula does arithmetic on a text: A1")


def test_the_workbook_to_plant_in_breaks_none(good: Path) -> None:
    assert check(good) == []


@pytest.mark.parametrize(("formula", "sentence"), FORMULAS, ids=lambda text: text[:30])
def test_a_faulty_formula_is_found(good: Path, tmp_path: Path, formula: str, sentence: str) -> None:
    edit = (JOB, f"<f>{B3}</f>", f"<f>{escape(formula)}</f>")
    faults = check(planted(good, tmp_path / "bad.xlsx", [edit]))
    assert Fault(JOB, "B3", sentence) in faults
    assert {fault.place for fault in faults} == {"B3"}


@pytest.mark.parametrize(("part", "before", "after", "sentence"), EDITS, ids=lambda text: text[-40:])
def test_a_planted_fault_is_found(
    good: Path, tmp_path: Path, part: str, before: str, after: str, sentence: str
) -> None:
    faults = check(planted(good, tmp_path / "bad.xlsx", [(part, before, after)]))
    assert any(fault.sentence.startswith(sentence) for fault in faults), faults


@pytest.mark.parametrize(("parts", "edits", "sentence"), ADDED, ids=lambda value: str(value)[:40])
def test_a_planted_part_is_found(
    good: Path, tmp_path: Path, parts: dict[str, str], edits: list[tuple[str, str, str]], sentence: str
) -> None:
    faults = check(planted(good, tmp_path / "bad.xlsx", edits, parts))
    assert [fault for fault in faults if fault.sentence.startswith(sentence)], faults


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_file_that_is_no_package_and_a_part_that_comes_twice(good: Path, tmp_path: Path) -> None:
    (tmp_path / "text.xlsx").write_text("no package")
    assert [fault.sentence[:27] for fault in check(tmp_path / "text.xlsx")] == ["the file is no package: Fil"]
    twice = planted(good, tmp_path / "twice.xlsx", [])
    with zipfile.ZipFile(twice, "a") as package:
        package.writestr(BOOK, package.read(BOOK))
    assert check(twice) == [Fault(BOOK, "", "the part is in the file twice")]


def test_every_rule_has_its_planted_fault() -> None:
    """Each sentence that the rules can say is expected in a test above."""
    expected = [row[-1] for rows in (FORMULAS, EDITS, ADDED) for row in rows]
    expected += ["the file is no package: File is not a zip file", "the part is in the file twice"]
    unproven = [
        pattern
        for path in sorted(RULES.glob("*.py"))
        for pattern in sentences(path)
        if not any(
            re.match(pattern, sentence.removeprefix("validation: "))
            or re.match(pattern, sentence)
            or re.match(pattern, sentence.removeprefix("conditional format: "))
            for sentence in expected
        )
    ]
    assert unproven == []


def sentences(path: Path) -> Iterator[str]:
    """The texts of several words that functions of a module hold, as patterns; docstrings are left out."""
    inside: set[int] = set()
    for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(function, ast.FunctionDef):
            continue
        for node in ast.walk(function):
            if id(node) in inside:
                continue
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
                inside.add(id(node.value))
            elif isinstance(node, ast.JoinedStr):
                inside |= {id(one) for one in ast.walk(node)}
                texts = [re.escape(one.value) if isinstance(one, ast.Constant) else ".*" for one in node.values]
                if "".join(texts).count("\\ ") > 2:
                    yield "".join(texts)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.count(" ") > 2:
                yield re.escape(node.value)
