"""The macro workbook: the parts that make it one, and that nothing else of the workbook changes."""

from __future__ import annotations

import inspect
import shutil
import subprocess
import zipfile
from collections.abc import Mapping
from pathlib import Path

import openpyxl
import pytest
import xlwings
from openpyxl.comments import Comment
from openpyxl.workbook.defined_name import DefinedName

from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.excel_check import CONFIG_SHEET, UDF_MODULE
from workbook_template import __main__ as command
from workbook_template.file.macro import SETTINGS, add_macros, wrapper_text
from workbook_template.office import Office
from workbook_template.read_back.contents import open_book
from workbook_template.read_back.named import read_names
from workbook_template.sheets import crosscheck

ROOT = Path(__file__).parent.parent
CHANGED = {"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/worksheets/sheet1.xml"}
ADDED = {"xl/vbaProject.bin", "xl/worksheets/xlwings_conf.xml"}


@pytest.fixture(scope="module")
def pair(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A workbook and the macro workbook made of it."""
    folder = tmp_path_factory.mktemp("macro")
    book = openpyxl.Workbook()
    job, log = book.active, book.create_sheet("Log")
    job.title = "Job"
    job["A1"], job["A2"] = 0.75, "=A1*2"
    job["A1"].comment = Comment("the major diameter", "sheet")
    log["A1"] = "=job_double+1"
    book.defined_names["job_double"] = DefinedName("job_double", attr_text="Job!$A$2")
    book.save(folder / "plain.xlsx")
    add_macros(folder / "plain.xlsx", folder / "macro.xlsm")
    return folder / "plain.xlsx", folder / "macro.xlsm"


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


def test_only_these_parts_change(pair: tuple[Path, Path]) -> None:
    plain, macro = map(parts, pair)
    assert set(macro) == set(plain) | ADDED
    assert {name for name in plain if plain[name] != macro[name]} == CHANGED


def test_the_project_is_the_one_of_xlwings(pair: tuple[Path, Path]) -> None:
    macro = parts(pair[1])
    assert macro["xl/vbaProject.bin"] == parts(Path(xlwings.__file__).with_name("quickstart.xlsm"))["xl/vbaProject.bin"]
    assert b"sheet.macroEnabled.main+xml" in macro["[Content_Types].xml"]
    assert b'codeName="ThisWorkbook"' in macro["xl/workbook.xml"]
    assert b'codeName="Sheet1"' in macro["xl/worksheets/sheet1.xml"]


def test_openpyxl_reads_it_and_the_settings_stand_where_xlwings_looks(pair: tuple[Path, Path]) -> None:
    book = openpyxl.load_workbook(pair[1], keep_vba=True)
    assert book.sheetnames == ["Job", "Log", CONFIG_SHEET]
    assert book.vba_archive is not None
    book.vba_archive.close()  # openpyxl leaves it to chance
    assert book["Job"]["A2"].value == "=A1*2"
    assert dict(book[CONFIG_SHEET].iter_rows(values_only=True)) == SETTINGS
    assert SETTINGS["UDF Modules"] == UDF_MODULE == "sheetfuncs.hosts.excel"
    assert book[CONFIG_SHEET].sheet_state == "hidden"


def test_calc_opens_it_and_computes(pair: tuple[Path, Path], office: Office) -> None:
    with office.open(pair[1]) as document:
        assert document.sheet_names() == ["Job", "Log", CONFIG_SHEET]
        assert document.get([("Log", "A1")]) == [2.5]


def test_an_interpreter_can_be_named(pair: tuple[Path, Path], tmp_path: Path) -> None:
    add_macros(pair[0], tmp_path / "own.XLSM", interpreter=r"C:\Shop & Tools\python.exe")
    book = openpyxl.load_workbook(tmp_path / "own.XLSM")
    assert dict(book[CONFIG_SHEET].iter_rows(values_only=True))["Interpreter_Win"] == r"C:\Shop & Tools\python.exe"


def test_the_wrapper_text_lies_beside_it(pair: tuple[Path, Path]) -> None:
    written = pair[1].with_suffix(".bas").read_bytes()
    assert written.decode("ascii") == wrapper_text().replace("\n", "\r\n")
    assert written.count(b"End Function") == len(RECORDS)


@pytest.mark.parametrize("taken", ["new.xlsm", "new.bas"])
def test_nothing_is_overwritten_and_nothing_is_left_half_done(
    pair: tuple[Path, Path], tmp_path: Path, taken: str
) -> None:
    (tmp_path / taken).write_text("mine")
    with pytest.raises(FileExistsError, match=f"{taken} exists already"):
        add_macros(pair[0], tmp_path / "new.xlsm")
    assert [path.name for path in tmp_path.iterdir()] == [taken]
    assert (tmp_path / taken).read_text() == "mine"


def test_a_workbook_that_is_none_leaves_nothing_behind(tmp_path: Path) -> None:
    (tmp_path / "text.xlsx").write_text("no package")
    with pytest.raises(zipfile.BadZipFile):
        add_macros(tmp_path / "text.xlsx", tmp_path / "new.xlsm")
    assert [path.name for path in tmp_path.iterdir()] == ["text.xlsx"]


def test_another_ending_is_refused(pair: tuple[Path, Path], tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="has to end in"):
        add_macros(pair[0], tmp_path / "new.xlsx")


def test_without_xlwings_the_command_says_so_before_it_builds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("workbook_template.file.macro.find_spec", lambda name: None)
    monkeypatch.setattr(command, "build", None)  # a call of it would end in another error
    with pytest.raises(SystemExit) as ended:
        command.main(["new", str(tmp_path / "job.xlsm")])
    assert ended.value.code == 2
    assert capsys.readouterr().err.strip().endswith("install it with: python -m pip install xlwings")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("asked", "extras"),
    [
        (["new", "job.xlsm"], "workbook,excel"),
        (["new", "JOB.XLSM"], "workbook,excel"),
        (["demo", "x.xlsx"], "workbook"),
    ],
)
def test_the_run_command_gets_xlwings_for_a_macro_workbook(tmp_path: Path, asked: list[str], extras: str) -> None:
    """The script beside a set-up that only says what it would install."""
    shutil.copy(ROOT / "workbook_template" / "run", tmp_path)
    (tmp_path / "office").mkdir()
    said = "need_programs() { :; }\nneed_environment() { echo extras $1; }\npython=echo\n"
    (tmp_path / "office" / "setup.sh").write_text(said)
    ran = subprocess.run(["bash", tmp_path / "run", *asked], capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines() == [f"extras {extras}", f"-m workbook_template {' '.join(asked)}"]


def test_the_page_names_the_sample_macro_that_stays(pair: tuple[Path, Path]) -> None:
    page = (ROOT / "docs" / "install-excel.md").read_text(encoding="utf-8")
    for name in ("SampleCall", "Module1"):
        assert name.encode() in parts(pair[1])["xl/vbaProject.bin"]
        assert name in page


def test_the_words_of_the_ten_minute_check_are_those_of_the_sheets(built: Mapping[str, Path]) -> None:
    page = (ROOT / "docs" / "install-excel.md").read_text(encoding="utf-8")
    of_setup = read_names(open_book(built["demo.xlsx"]), ["next_step"])["next_step"]
    assert of_setup.startswith("All is filled in")
    assert f"*{of_setup}*" in page
    for phrase in ("Cross-check with the functions", "agree", "no figure yet", "DIFFER", "not loaded"):
        assert f"*{phrase}*" in page
        assert f'"{phrase}' in inspect.getsource(crosscheck)
    assert "four lines" in page
    assert len(crosscheck.CHECKS) == 4 + 3


def test_without_xlwings_it_says_what_to_install(
    pair: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbook_template.file.macro.find_spec", lambda name: None)
    with pytest.raises(ModuleNotFoundError, match="python -m pip install xlwings"):
        add_macros(pair[0], tmp_path / "new.xlsm")
    assert not list(tmp_path.iterdir())
