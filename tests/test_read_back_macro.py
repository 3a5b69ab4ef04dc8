"""`check` on a macro workbook: the sheet that was written for it is known, any other content of it is told."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest

from sheetfuncs.hosts.excel_check import CONFIG_SHEET, UDF_MODULE
from workbook_template import __main__ as command
from workbook_template.file.macro import add_macros
from workbook_template.office import Office
from workbook_template.read_back.check import check

pytestmark = pytest.mark.usefixtures("short_table")


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


@pytest.fixture(scope="module")
def macro_job(tmp_path_factory: pytest.TempPathFactory, built_short: Mapping[str, Path]) -> Path:
    """The macro workbook of a threading job."""
    path = tmp_path_factory.mktemp("job") / "job.xlsm"
    add_macros(built_short["new.xlsx"], path)
    return path


def settings_part(path: Path, content: bytes) -> Path:
    """The same file with other settings."""
    whole = parts(path)
    written = path.with_name("other.xlsm")
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in (whole | {"xl/worksheets/xlwings_conf.xml": content}).items():
            package.writestr(name, data)
    return written


def test_a_check_knows_what_was_written_and_says_that_macros_were_not_read(
    macro_job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command.main(["check", str(macro_job)]) == 0
    note, last = capsys.readouterr().out.splitlines()
    assert note == f"{macro_job}: note: it holds macros; they were not run and not read"
    assert last.startswith(f"{macro_job}: nothing differs; 0 rows of the log, ")


def test_a_check_knows_it_as_calc_saves_it(macro_job: Path, office: Office, tmp_path: Path) -> None:
    with office.open(macro_job) as document:
        document.set({"made_by": "turner"})
        document.save_as(tmp_path / "saved.xlsm", "Calc MS Excel 2007 VBA XML")
    found = check(tmp_path / "saved.xlsm")
    assert (found.findings, found.remarks) == ([], [])


def test_a_check_tells_settings_that_were_not_written(macro_job: Path) -> None:
    plain = parts(macro_job)["xl/worksheets/xlwings_conf.xml"].decode()
    module, last = f"<t>{UDF_MODULE}</t>", "</row></sheetData>"
    more = '</row><row r="4"><c r="A4" t="inlineStr"><is><t>PYTHONPATH</t></is></c></row></sheetData>'
    text = plain.replace(module, "<t>another</t>").replace(last, more)
    found = check(settings_part(macro_job, text.encode()))
    assert [(one.kind, one.sheet, one.cell, one.words) for one in found.findings] == [
        ("changed value", CONFIG_SHEET, "B1", f'"another" stands here; built was "{UDF_MODULE}"'),
        ("added", CONFIG_SHEET, "A4", 'this cell was empty; "PYTHONPATH" stands in it'),
    ]


def test_a_check_tells_which_python_is_asked_for(built_short: Mapping[str, Path], tmp_path: Path) -> None:
    add_macros(built_short["new.xlsx"], tmp_path / "own.xlsm", interpreter=r"C:\Tools\python.exe")
    found = check(tmp_path / "own.xlsm")
    assert (found.findings, found.remarks) == ([], [])
    note = r'it holds macros; they were not run and not read; they ask for "C:\Tools\python.exe"'
    assert found.notes == [note]
