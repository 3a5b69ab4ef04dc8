"""What excel-check says of links that are broken in one way each, on a pretended Windows machine."""

from __future__ import annotations

import sysconfig
import zipfile
from pathlib import Path

import openpyxl
import pytest
import xlwings

from sheetfuncs.hosts import excel_check
from sheetfuncs.hosts.excel_check import Finding, Machine, check, report
from workbook_template.file.macro import add_macros

PACKAGE = Path(xlwings.__file__).parent
SECURITY = r"Software\Microsoft\Office\16.0\Excel\Security"
POLICY = r"Software\Policies\Microsoft\Office\16.0\Excel\Security"
TRUSTED = {(SECURITY, "AccessVBOM"): 1}


def texts(findings: list[Finding], kind: str = "wrong") -> list[str]:
    return [finding.text for finding in findings if finding.kind == kind]


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Machine:
    """A Windows machine on which everything is as it should be."""
    python, start = tmp_path / "Python" / "python.exe", tmp_path / "XLSTART"
    for folder in (python.parent, start, tmp_path / "home" / ".xlwings", tmp_path / "books"):
        folder.mkdir(parents=True)
    python.write_text("")
    for bits in (64, 32):
        (python.parent / f"xlwings{bits}-{xlwings.__version__}.dll").write_text("")
    (start / "xlwings.xlam").write_bytes((PACKAGE / "addin" / "xlwings.xlam").read_bytes())
    (tmp_path / "home" / ".xlwings" / "xlwings.conf").write_text(f'"INTERPRETER_WIN","{python}"\n')
    real = excel_check.find_spec
    monkeypatch.setattr(excel_check, "find_spec", lambda name: True if name == "pythoncom" else real(name))
    own_files = tmp_path / "Roaming" / "Python"
    return Machine(True, python, own_files, tmp_path / "home", start, (), lambda key, name: TRUSTED.get((key, name)))


@pytest.fixture
def workbook(tmp_path: Path, machine: Machine) -> Path:
    """A macro workbook into which the functions were imported."""
    openpyxl.Workbook().save(tmp_path / "plain.xlsx")
    path = tmp_path / "books" / "threads.xlsm"
    add_macros(tmp_path / "plain.xlsx", path)
    edit(path, "xl/vbaProject.bin", lambda old: old + "xlwings_udfs".encode("utf-16-le"))
    return path


def edit(path: Path, part: str, change: object) -> None:
    """Rewrite one part of a package; None drops it."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    parts[part] = change(parts[part])
    with zipfile.ZipFile(path, "w") as package:
        for name, content in parts.items():
            if content is not None:
                package.writestr(name, content)


def test_a_good_link_has_nothing_wrong_and_still_names_what_was_not_seen(machine: Machine, workbook: Path) -> None:
    found = check(str(workbook), machine)
    assert texts(found) == []
    assert texts(found, "not seen")[-1].startswith("whether Excel itself calls")
    assert report(found)[1] == 0
    assert len(texts(found, "ok")) == 12


def test_here_it_says_what_it_cannot_see(workbook: Path) -> None:
    unseen = " ".join(texts(check(str(workbook)), "not seen"))
    for word in ("pywin32", "trust settings", "from the Internet"):
        assert word in unseen


def test_every_wrong_one_has_a_cure(tmp_path: Path, machine: Machine) -> None:
    bare = machine._replace(home=tmp_path, start_folder=tmp_path, python=tmp_path / "x" / "y" / "python.exe")
    found = check(str(PACKAGE / "quickstart.xlsm"), bare._replace(registry=lambda key, name: None))
    assert len(texts(found)) == 6
    assert all(finding.cure for finding in found if finding.kind == "wrong")
    lines, status = report(found)
    assert status == 1
    assert sum(line.startswith("WRONG") for line in lines) == 6
    assert sum("cure: " in line for line in lines) == 6


def test_xlwings_missing(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> str:
        raise excel_check.metadata.PackageNotFoundError(name)

    monkeypatch.setattr(excel_check.metadata, "version", missing)
    assert "xlwings is not installed in this Python" in texts(check(None, machine))


def test_the_functions_do_not_load(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(name: str) -> object:
        raise ImportError("DLL load failed")

    monkeypatch.setattr(excel_check, "import_module", fail)
    assert texts(check(None, machine)) == ["sheetfuncs.hosts.excel doesn't load: DLL load failed"]


def test_pywin32_missing(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    real = excel_check.find_spec
    monkeypatch.setattr(excel_check, "find_spec", lambda name: None if name == "pythoncom" else real(name))
    assert texts(check(None, machine)) == ["pywin32 is not installed in this Python"]


def test_the_library_is_missing(machine: Machine) -> None:
    (machine.python.parent / f"xlwings64-{xlwings.__version__}.dll").unlink()
    assert ["xlwings64" in text for text in texts(check(None, machine))] == [True]


def test_the_library_of_a_32_bit_excel_is_missing(machine: Machine) -> None:
    (machine.python.parent / f"xlwings32-{xlwings.__version__}.dll").unlink()
    found = check(None, machine)
    assert texts(found) == []
    assert "xlwings32" in texts(found, "not seen")[0]
    assert "only a 32 bit Excel would want it" in texts(found, "not seen")[0]


def test_installed_with_user_the_library_lies_elsewhere(machine: Machine) -> None:
    """Python's own rule puts it there: what a package brings beside its modules goes into {userbase}."""
    assert sysconfig.get_path("data", "nt_user", {"userbase": "X"}) == "X"
    machine.own_files.mkdir(parents=True)
    for bits in (64, 32):
        library = f"xlwings{bits}-{xlwings.__version__}.dll"
        (machine.python.parent / library).rename(machine.own_files / library)
    wrong = [finding for finding in check(None, machine) if finding.kind == "wrong"]
    assert ["pip installed with --user" in finding.text for finding in wrong] == [True, True]
    assert all("virtual environment" in finding.cure for finding in wrong)


def test_a_virtual_environment_is_right(machine: Machine) -> None:
    """There the library lies one folder over python.exe, and the add-in looks there too."""
    environment = machine.python.parent / "threads" / "Scripts" / "python.exe"
    environment.parent.mkdir(parents=True)
    environment.write_text("")
    for bits in (64, 32):
        library = f"xlwings{bits}-{xlwings.__version__}.dll"
        (machine.python.parent / library).rename(environment.parent.parent / library)
    (machine.home / ".xlwings" / "xlwings.conf").write_text(f'"INTERPRETER_WIN","{environment}"\n')
    assert texts(check(None, machine._replace(python=environment))) == []


def test_the_libraries_have_the_names_that_the_add_in_asks_for() -> None:
    """Main.bas of the add-in, with dev in the place of the version: Win64 is Excel's width, not that of Windows."""
    main = (PACKAGE / "addin" / "Main.bas").read_text(encoding="utf-8", errors="replace")
    wide, _, narrow = main.partition("#If Win64 Then")[2].partition("#End If")[0].partition("#Else")
    assert '"xlwings64-dev.dll"' in wide
    assert '"xlwings32-dev.dll"' in narrow
    assert "xlwings32" not in wide
    for folder in ("ParentFolder(PYTHON_WIN)", "ParentFolder(ParentFolder(PYTHON_WIN))"):
        assert f'LoadLibrary({folder} + "\\" + XLPyDLLName)' in main


def test_the_add_in_is_missing_or_of_another_version(machine: Machine) -> None:
    (machine.start_folder / "xlwings.xlam").write_bytes(b"older")
    assert "another version" in texts(check(None, machine))[0]
    (machine.start_folder / "xlwings.xlam").unlink()
    assert "add-in is not in" in texts(check(None, machine))[0]


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        ("", "names no Python"),
        ('"INTERPRETER_WIN","C:\\gone\\python.exe"\n', "which does not exist"),
        (f'"INTERPRETER_WIN","{PACKAGE / "__init__.py"}"\n', "another Python than this one"),
    ],
)
def test_the_settings_name_no_or_another_python(machine: Machine, settings: str, says: str) -> None:
    (machine.home / ".xlwings" / "xlwings.conf").write_text(settings)
    assert [says in text for text in texts(check(None, machine))] == [True]


def test_a_conda_environment_is_left_to_the_person(machine: Machine) -> None:
    (machine.home / ".xlwings" / "xlwings.conf").write_text('"CONDA PATH","C:\\conda"\n')
    assert "names a conda environment" in texts(check(None, machine), "not seen")[0]


@pytest.mark.parametrize(
    ("registry", "says"),
    [
        ({}, ["is off, or Excel was never started"]),
        ({(SECURITY, "AccessVBOM"): 0}, ["is off"]),
        ({(SECURITY, "AccessVBOM"): 1, (POLICY, "AccessVBOM"): 0}, ["by a policy of your organisation"]),
        ({(SECURITY, "AccessVBOM"): 1, (SECURITY, "VBAWarnings"): 4}, ["all macros are disabled"]),
        ({(SECURITY.replace("16.0", "15.0"), "AccessVBOM"): 1}, []),
    ],
)
def test_trust_settings(machine: Machine, registry: dict, says: list[str]) -> None:
    found = texts(check(None, machine._replace(registry=lambda key, name: registry.get((key, name)))))
    assert [word in text for word, text in zip(says, found)] == [True] * len(found) == [True] * len(says)


def test_the_registry_is_not_there_on_linux() -> None:
    assert excel_check.this_machine().registry(SECURITY, "AccessVBOM") is None


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("book.xlsx", b"", "is no macro workbook"),
        ("gone.xlsm", None, "does not exist"),
        ("book.xlsm", b"no package", "can't be read as a workbook"),
    ],
)
def test_a_file_that_cannot_be_looked_into(
    machine: Machine, tmp_path: Path, name: str, content: bytes | None, says: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    assert [says in text for text in texts(check(str(tmp_path / name), machine))] == [True]


def _everywhere(package: bytes, signature: bytes, place: int, value: int) -> bytes:
    """The package with one byte of each entry of its list set."""
    changed = bytearray(package)
    at = changed.find(signature)
    while at >= 0:
        changed[at + place] = value
        at = changed.find(signature, at + 1)
    return bytes(changed)


LISTED, STORED = b"PK\x01\x02", b"PK\x03\x04"
"""An entry in the list at a package's end, and the part itself (ZIP file format, PKWARE APPNOTE 4.3)."""


@pytest.mark.parametrize(
    "spoil",
    [
        lambda package: _everywhere(package, LISTED, 8, 1),  # flag: packed with a password
        lambda package: _everywhere(package, LISTED, 10, 99),  # a way of packing that Python doesn't know
        lambda package: _everywhere(
            _everywhere(package, LISTED, 10, 8), STORED, 8, 8
        ),  # what it holds is not packed so
        lambda package: _everywhere(
            _everywhere(package, LISTED, 23, 9), LISTED, 27, 9
        ),  # a part longer than all of the file
    ],
)
def test_a_package_that_cannot_be_unpacked_is_a_finding(machine: Machine, workbook: Path, spoil: object) -> None:
    edit(workbook, "xl/vbaProject.bin", lambda old: old)  # stored as it is, so that a byte has its place
    workbook.write_bytes(spoil(workbook.read_bytes()))
    assert texts(check(str(workbook), machine)) == ["threads.xlsm can't be read as a workbook"]


def test_a_config_sheet_with_lost_texts_is_a_finding(machine: Machine, workbook: Path) -> None:
    """Its cells point into a list of texts: at what is no number, and past the end."""
    for lost in (b"x", b"7"):
        sheet = (
            b'<worksheet xmlns="%s"><sheetData><row r="1"><c r="A1" t="s"><v>%s</v></c></row></sheetData></worksheet>'
        )
        spoiled = sheet % (b"http://schemas.openxmlformats.org/spreadsheetml/2006/main", lost)
        edit(workbook, "xl/worksheets/xlwings_conf.xml", lambda old, spoiled=spoiled: spoiled)
        assert texts(check(str(workbook), machine)) == ["threads.xlsm can't be read as a workbook"]


def test_a_project_that_is_missing_or_not_imported_into(machine: Machine, workbook: Path) -> None:
    """The names of modules stand in the project as they do in the one of xlwings."""
    untouched = zipfile.ZipFile(PACKAGE / "quickstart.xlsm").read("xl/vbaProject.bin")
    assert "Module1".encode("utf-16-le") in untouched
    edit(workbook, "xl/vbaProject.bin", lambda old: untouched)
    assert "have not been imported" in texts(check(str(workbook), machine))[0]
    edit(workbook, "xl/vbaProject.bin", lambda old: None)
    assert "holds no macro project" in texts(check(str(workbook), machine))[0]


def test_the_config_sheet_as_excel_saves_it(machine: Machine, workbook: Path) -> None:
    """Shared strings and booleans, empty rows that override, another module."""
    book = openpyxl.load_workbook(workbook, keep_vba=True)
    sheet = book["xlwings.conf"]
    sheet["A3"], sheet["A5"] = "Interpreter_Win", "below the first empty row nothing counts"
    sheet["B2"] = False
    book.save(workbook)
    edit(workbook, "xl/vbaProject.bin", lambda old: old + "xlwings_udfs".encode("utf-16-le"))
    assert ["row INTERPRETER_WIN" in text for text in texts(check(str(workbook), machine))] == [True]
    sheet["B3"], sheet["B1"] = r"C:\gone\python.exe", "mine"
    book.save(workbook)
    found = " ".join(texts(check(str(workbook), machine)))
    assert "names 'mine' under UDF Modules" in found
    assert "which does not exist" in found
    book.remove(sheet)
    book.save(workbook)
    assert "no sheet named xlwings.conf" in " ".join(texts(check(str(workbook), machine)))
    book.vba_archive.close()  # openpyxl leaves it to chance


def test_a_synced_folder(machine: Machine, workbook: Path, tmp_path: Path) -> None:
    """Known by Windows' own setting or by its name; harmless to the search where the config sheet says so."""
    known = machine._replace(synced=(tmp_path / "books",))
    assert "lies in a synced folder" in texts(check(str(workbook), known), "not seen")[0]
    (tmp_path / "OneDrive - Shop").mkdir()
    moved = workbook.rename(tmp_path / "OneDrive - Shop" / workbook.name)
    edit(moved, "xl/worksheets/xlwings_conf.xml", lambda old: old.replace(b">False<", b">True<"))
    assert "lies in a synced folder" in texts(check(str(moved), machine))[0]


def test_a_file_from_the_internet(machine: Machine, workbook: Path) -> None:
    workbook.with_name(f"{workbook.name}:Zone.Identifier").write_text("[ZoneTransfer]\nZoneId=3\n")
    assert "from the Internet" in texts(check(str(workbook), machine))[0]
