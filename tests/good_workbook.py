"""A workbook to plant faults in, and the programs of npm that look at files."""

from __future__ import annotations

import zipfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.formatting.rule import CellIsRule, ColorScaleRule, DataBarRule, FormulaRule, IconSetRule
from openpyxl.styles import Font, PatternFill
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.table import Table, TableFormula

JOB, LOG, TABLE = "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml", "xl/tables/table1.xml"
BOOK, STYLES, TYPES = "xl/workbook.xml", "xl/styles.xml", "[Content_Types].xml"


def good_workbook(path: Path) -> Path:
    """A small workbook that uses everything the rules speak of, and breaks none."""
    book = Workbook()
    job, log = book.active, book.create_sheet("Log of parts")
    job.title = "Job"
    job["A1"], job["B1"], job["B2"] = "pitch", 0.0625, "M20x2.5-6g"
    job["B3"] = '=IF(ISNUMBER(pitch),ROUND(pitch*2%,4),"no pitch")'
    job["B4"] = "=SUM('Log of parts'!B2:B4,'Log of parts'!C:C,1:1)-INDEX(Parts[size],2)"
    job["B5"] = "=_xlfn.STDEV.S(Parts[[size]:[double]])*{1,2;3,4}"
    job["B6"] = '=THREAD_PITCH_DIAMETER(B2,"max")'
    job["B7"] = '=IF(ISNUMBER(own),-(2^-half),"it""s")'
    job["D1"] = ArrayFormula("D1:D3", "=B1:B3*2")
    job["B1"].number_format = '0.0000" in";[Red]-0.0000'
    job["B2"].font = Font(name="Arial", bold=True)
    job.merge_cells("F1:G2")
    job.column_dimensions["A"].width, job.column_dimensions["C"].width = 30, 12
    job.row_dimensions[1].height = 20
    job.oddFooter.left.text = "&A"
    job["A8"], job["A9"] = "the log", "the standard"
    job["A8"].hyperlink = Hyperlink(ref="A8", location="'Log of parts'!A1", tooltip="go there")
    job["A9"].hyperlink = "https://example.org/standard"
    for row in (("part", "size", "double"), ("a", 1.5, None), ("b", 1.6, None), ("c", 1.7, None)):
        log.append(row)
    for row in (2, 3, 4):
        log[f"C{row}"] = "=Parts[[#This Row],[size]]*2"
    table = Table(displayName="Parts", ref="A1:C4")
    table._initialise_columns()
    for column, name in zip(table.tableColumns, ("part", "size", "double")):
        column.name = name
    table.tableColumns[2].calculatedColumnFormula = TableFormula(attr_text="Parts[[#This Row],[size]]*2")
    log.add_table(table)
    limit = DataValidation(type="decimal", operator="between", formula1="0", formula2="pitch*99", allow_blank=True)
    limit.promptTitle, limit.prompt, limit.errorTitle, limit.error = "Pitch", "in inches", "Please check", "a number"
    limit.add("B1")
    words = DataValidation(type="list", formula1='"max,min,mid"')
    words.add("C1:C4")
    job.add_data_validation(limit)
    job.add_data_validation(words)
    fill = PatternFill(bgColor="FFFFDDDD", fill_type="solid")
    job.conditional_formatting.add("B1", FormulaRule(["pitch>1"], fill=fill))
    job.conditional_formatting.add("B3", CellIsRule("between", ["0", "1"], fill=fill))
    job.conditional_formatting.add("B4", IconSetRule("3TrafficLights1", "num", [0, 1, 2]))
    job.conditional_formatting.add("B5", ColorScaleRule("min", None, "FFFFFFFF", "max", None, "FFFF0000"))
    job.conditional_formatting.add("B7", DataBarRule("min", None, "max", None, "FF638EC6"))
    for name, text in (("pitch", "Job!$B$1"), ("half", "0.5"), ("twice", "pitch*2")):
        book.defined_names[name] = DefinedName(name, attr_text=text)
    job.defined_names["own"] = DefinedName("own", attr_text="Job!$B$3")
    job.print_area = "A1:G9"
    job.print_title_rows, job.print_title_cols = "1:1", "A:A"
    book.save(path)
    return path


def planted(source: Path, target: Path, edits: list[tuple[str, str, str]], parts: dict[str, str] = {}) -> Path:  # noqa: B006
    """A copy of a file with the first occurrence of each text changed, and parts added or left out."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        contents = {name: old.read(name).decode() for name in old.namelist()}
        for part, before, after in edits:
            assert before in contents[part], before
            contents[part] = contents[part].replace(before, after, 1)
        for name, content in {**contents, **parts}.items():
            if content:
                new.writestr(name, content)
    return target


TOOLS = Path(__file__).parent.parent / ".npm-tools" / "node_modules"
"""Where `bash tests/run` puts the packages of tests/npm."""


def npm_package(name: str) -> Path:
    """The folder of an npm package; a sentence where it was not set up."""
    folder = TOOLS / name
    assert folder.is_dir(), f"{name} is missing; bash tests/run installs it"
    return folder
