"""Workbooks with the functions travel: to an office without the extension and back, as .xlsx and as .ods.

And a build with planted faults: the office stays alive and says whose fault it is.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from calc_office import Cells, expected, extended
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.formula import ArrayFormula

from sheetfuncs import CellError, evaluate
from sheetfuncs.hosts.calc.functions import functions
from sheetfuncs.hosts.calc.pack import OWN_NAME, build
from workbook_template.office import Error, Office, place

ASK_OFFICE = Path(__file__).parent / "calc" / "ask_office.py"


def sentence(name: str, *arguments: object) -> str:
    with pytest.raises(CellError) as refused:
        evaluate(name, *arguments)
    return str(refused.value)


THREADS = ["M20x2.5-6g", "3/4-16 UNF-2A", "M8-6g"]
TABLE = evaluate("THREAD_LIMITS", "M20x2.5-6g")
FORMULAS = {  # as Excel's files hold them: the names that people type, commas between arguments
    "C1": ("=THREAD_PITCH(A1)", 2.5),
    "C2": ('=thread_pitch_diameter(A2,"max")', evaluate("THREAD_PITCH_DIAMETER", "3/4-16 UNF-2A", "max")),
    "C3": ('=ROUND(THREAD_LEAD_ANGLE(A1)+1,3)&" deg"', f"{evaluate('THREAD_LEAD_ANGLE', 'M20x2.5-6g') + 1:.4g} deg"),
    "C4": (
        '=THREAD_WHY("THREAD_PITCH","x")',
        sentence("THREAD_PITCH", "x"),
    ),
    "C5": ("=THREAD_DESCRIBE(A3)", evaluate("THREAD_DESCRIBE", "M8-6g")),
    "C6": ('=THREAD_PITCH_DIAMETER("M20","max")', Error(32767, "#N/A")),
}
NOT_FOUND = Error(525, "#NAME?")
FAULTS = """

def _faulty(fault):
    def function(thread):
        raise fault
    return function

pitch.record = pitch.record._replace(function=_faulty(KeyError("size")))
lead.record = lead.record._replace(function=_faulty(SystemExit("end")))
lead_angle.record = lead_angle.record._replace(function=lambda thread: lead_angle.record.function(thread))
allowance.record = allowance.record._replace(function=lambda thread: [object()])
from {package}.registry import Param
_number = (Param("radial", True),)
describe.record = describe.record._replace(params=_number, function=lambda radial: format(radial, ".12f"))
"""


@pytest.fixture(scope="module")
def addin(new_office: Callable[..., Office], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with extended(new_office(), tmp_path_factory.mktemp("addin")) as office:
        yield office


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workbook that no office has seen: no stored values."""
    book = Workbook()
    sheet = book.active
    sheet.title = "Job"
    for row, thread in enumerate(THREADS, start=1):
        sheet.cell(row, 1).value = thread
    for cell, (formula, _) in FORMULAS.items():
        sheet[cell] = formula
    sheet["E1"] = ArrayFormula("E1:E3", "=THREAD_PITCH(A1:A3)")
    sheet["G1"] = ArrayFormula("G1:J4", "=THREAD_LIMITS(A1)")
    path = tmp_path_factory.mktemp("written") / "job.xlsx"
    book.save(path)
    return path


def check_values(office: Office, path: Path, *, recalculate: bool) -> None:
    with office.open(path, recalculate=recalculate) as document:
        found = document.get([("Job", cell) for cell in FORMULAS])
        assert found == [expected_or_error(value) for _, value in FORMULAS.values()]
        assert document["Job!E1:E3"] == [[2.5], [0.0625], [1.25]]
        assert document["Job!G1:J4"] == [[expected(cell) for cell in row] for row in TABLE]
        if recalculate:
            document.set({"Job!A1": "M30-6g"})
            assert document["Job!C1"] == 3.5
            assert document["Job!E1:E3"] == [[3.5], [0.0625], [1.25]]


def expected_or_error(value: object) -> object:
    return value if isinstance(value, Error) else expected(value)


def formula_texts(path: Path) -> str:
    """All formulas in a saved workbook."""
    with zipfile.ZipFile(path) as parts:
        if path.suffix == ".ods":
            return "\n".join(re.findall(r'table:formula="([^"]*)"', parts.read("content.xml").decode()))
        sheets = [name for name in parts.namelist() if name.startswith("xl/worksheets/sheet")]
        assert not [name for name in parts.namelist() if "externalLink" in name]
        return "\n".join(re.findall(r"<f[^>]*>([^<]*)</f>", "".join(parts.read(name).decode() for name in sheets)))


@pytest.mark.parametrize("recalculate", [False, True])
def test_typed_names_in_a_file_are_found(addin: Office, written: Path, recalculate: bool) -> None:
    check_values(addin, written, recalculate=recalculate)


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_there_and_back(addin: Office, office: Office, written: Path, tmp_path: Path, ending: str) -> None:
    with addin.open(written) as document:
        saved = document.save_as(tmp_path / f"saved.{ending}")
    assert formula_texts(saved).upper().count("SHEETFUNCS") + formula_texts(saved).upper().count("THREAD_") >= 8
    assert not re.search(r"file:|\.oxt|\.py|[/\\]|\[\d", formula_texts(saved).replace("'", ""))
    check_values(addin, saved, recalculate=False)
    check_values(addin, saved, recalculate=True)
    with office.open(saved, recalculate=False) as without:
        shown = without.get([("Job", cell) for cell in FORMULAS])
        returned = without.save_as(tmp_path / f"returned.{ending}")
        without.recalculate()
        assert without["Job!C1"] == NOT_FOUND
    if ending == "xlsx":  # without the extension: the last values, but an error turns into another
        assert shown == [NOT_FOUND if isinstance(value, Error) else expected(value) for _, value in FORMULAS.values()]
    else:  # LibreOffice does not believe a stored number in an .ods whose formula it can't read; texts stay
        kept = [expected(value) if isinstance(value, str) else NOT_FOUND for _, value in FORMULAS.values()]
        assert shown == kept
    check_values(addin, returned, recalculate=True)


def test_values_are_stored_for_other_readers(addin: Office, written: Path, tmp_path: Path) -> None:
    with addin.open(written) as document:
        saved = document.save_as(tmp_path / "saved.xlsx")
    sheet = load_workbook(saved, data_only=True)["Job"]
    assert sheet["C1"].value == 2.5
    assert sheet["C6"].value == "#N/A"
    assert sheet["G2"].value == "major"


def test_file_that_was_first_in_an_office_without(addin: Office, office: Office, written: Path, tmp_path: Path) -> None:
    for ending in ("xlsx", "ods"):
        with office.open(written) as document:
            assert document["Job!C1"] == NOT_FOUND
            unresolved = document.save_as(tmp_path / f"unresolved.{ending}")
        check_values(addin, unresolved, recalculate=True)


def test_other_documents_are_left_alone(addin: Office, tmp_path: Path) -> None:
    book = Workbook()
    book.active["A1"], book.active["A2"] = "=NOSUCH(1)", "THREAD_PITCH("
    book.active["A3"] = ArrayFormula("A3:A4", "=ROW(A1:A4)")
    book.save(tmp_path / "other.xlsx")
    with addin.open(tmp_path / "other.xlsx", recalculate=False) as document:
        assert document["Sheet!A1:A5"] == [[NOT_FOUND], ["THREAD_PITCH("], [1.0], [2.0], [None]]
        assert document.formulas("Sheet!A3:A4") == [["{=ROW(A1:A4)}"], ["{=ROW(A1:A4)}"]]


@pytest.fixture(scope="module")
def faulty(new_office: Callable[..., Office], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """An office, one with a decimal comma, whose extension has faults planted in it."""
    folder = tmp_path_factory.mktemp("faulty")
    sound, broken = build(folder / "sound.oxt"), folder / "threads.oxt"
    target = f"pythonpath/{OWN_NAME}/limits.py"
    with zipfile.ZipFile(sound) as parts, zipfile.ZipFile(broken, "w") as out:
        for name in parts.namelist():
            extra = FAULTS.format(package=OWN_NAME) if name == target else ""
            out.writestr(name, parts.read(name) + extra.encode())
    with new_office(locale="de-DE") as office:
        office.install_extension(broken)
        yield office


def test_a_fault_leaves_the_office_alive_and_is_told(faulty: Office, tmp_path: Path) -> None:
    with Cells(faulty, tmp_path / "cells.xlsx") as cells:
        for name, kind in (("PITCH", "KeyError"), ("LEAD", "SystemExit"), ("LEAD_ANGLE", "RecursionError")):
            call = f'THREAD_{name}("M20-6g")'
            why = f'=THREAD_WHY("{name}";"M20-6g")'
            value, sentence, sound = cells.compute([f"={call}", why, '=THREAD_PITCH_DIAMETER("M20-6g";"max")'])
            assert value == Error(519, "#VALUE!")
            assert sentence.startswith(f"this is a fault in THREAD_{name}, not in what you typed; please report it")
            assert kind in sentence
            assert sound == 18.334
        assert cells.compute(['=THREAD_ALLOWANCE("M20-6g")'] * 4) == [Error(519, "#VALUE!")] * 4
        assert cells.compute(["=1+1"] * 10) == [2.0] * 10


def test_number_that_calc_makes_a_text_of(faulty: Office, tmp_path: Path) -> None:
    """The first argument of a function that answers with a text; the planted one shows the number it was given."""
    with Cells(faulty, tmp_path / "cells.xlsx") as cells:
        cells.document.set({("Cells", "H1"): 1 / 3})
        cells.document.type({("Cells", "H2"): "0,75"})
        assert cells.compute(["=THREAD_DESCRIBE(H1)", "=THREAD_DESCRIBE(H2)", "=THREAD_DESCRIBE(H3)"]) == [
            "0.333333333333",
            "0.750000000000",
            "",
        ]
        cells.document.type({("Cells", "H1"): "0,05"})
        wanted = evaluate("THREAD_WIRE_CONSTANT", "1-16 UN", 0.05)
        assert cells.compute(['=THREAD_WIRE_CONSTANT("1-16 UN";H1)']) == [expected(wanted)]


def test_installed_twice_is_installed_once(addin: Office, tmp_path: Path) -> None:
    addin.install_extension(build(tmp_path / "threads.oxt"))
    with Cells(addin, tmp_path / "cells.xlsx") as cells:
        assert cells.compute(['=THREAD_PITCH("M20-6g")']) == [2.5]


def test_wizard_and_loading(new_office: Callable[..., Office], written: Path, tmp_path: Path) -> None:
    """The function wizard shows names and help; a workbook is not changed by being loaded."""
    with extended(new_office(), tmp_path) as office:
        folder, user = office.stage(), place.account()
        for file in (written, ASK_OFFICE):
            shutil.copyfile(file, folder / file.name)
        place.hand_over(folder, user)
        profile = (folder.parent / "profile").as_uri()
        done = subprocess.run(
            [
                place.uno_python(),
                ASK_OFFICE.name,
                str(folder.parent),
                place.soffice(),
                profile,
                str(folder / written.name),
            ],
            **{"cwd": folder, "env": place.environment(folder.parent), **place.as_account(user)},
            capture_output=True,
            text=True,
            start_new_session=True,
            timeout=100,
        )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["loaded"] == {"changed": False, "names": [], "C1": 2.5}
    assert told["wizard"] == {
        function.name: [function.help, [[argument.name, argument.help] for argument in function.arguments]]
        for function in functions()
    }
