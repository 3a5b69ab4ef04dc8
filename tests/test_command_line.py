"""python -m sheetfuncs: answers, tables, help, and one sentence with exit 2."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys

import pytest

from sheetfuncs.__main__ import main
from sheetfuncs.catalog import RECORDS, find


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(list(arguments))
    captured = capsys.readouterr()
    return code, captured.out, captured.err


def test_one_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "THREAD_PITCH_DIAMETER", "M20x2.5-6g", "max") == (0, "18.334\n", "")


def test_a_table_is_tab_separated(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "THREAD_LIMITS", "M20x2.5-6g")
    assert code == 0
    assert out.splitlines()[2].split("\t")[:3] == ["pitch", "18.334", "18.164"]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("THREAD_PITCH", "nonsense"), "#VALUE! 'nonsense' is no thread"),
        (("THREAD_PITCH_DIAMETER", "M20x2.5-6g"), "#N/A limit is missing: choose max, min, mid or basic"),
        (("THREAD_NOTHING",), "#VALUE! there is no function THREAD_NOTHING"),
        (("--help", "THREAD_NOTHING"), "#VALUE! there is no function THREAD_NOTHING"),
    ],
)
def test_bad_input_is_one_sentence_and_exit_2(capsys, arguments: tuple[str, ...], sentence: str) -> None:
    code, out, err = run(capsys, *arguments)
    assert (code, out) == (2, "")
    assert err.startswith(sentence)
    assert err.count("\n") == 1


def test_the_catalogue_and_help_name_everything(capsys: pytest.CaptureFixture[str]) -> None:
    _, catalogue, _ = run(capsys)
    for record in RECORDS:
        assert record.signature in catalogue
        _, text, _ = run(capsys, "--help", record.name.lower())
        assert all(param.name in text for param in record.params)
        assert record.summary in text
    assert run(capsys, "--help")[0] == 0


def test_help_may_stand_behind_a_name_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "THREAD_DEPTH", "--help") == run(capsys, "--help", "THREAD_DEPTH")
    for command in ("calc-addin", "excel-check", "lambda-workbook"):
        code, out, err = run(capsys, command, "-h")
        assert (code, err) == (0, "")
        assert f"python -m sheetfuncs {command}" in out


def test_a_function_is_found_with_or_without_its_prefix() -> None:
    for record in RECORDS:
        short = record.name.partition("_")[2]
        assert find(record.name) is find(short) is find(short.lower()) is record


def test_a_closed_pipe_ends_it_silently() -> None:
    """As `... | head -1` does once it has its line: no traceback, and the status that the shell gives such an end."""
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as nobody:
        done = subprocess.run([sys.executable, "-m", "sheetfuncs"], stdout=nobody, stderr=subprocess.PIPE, check=False)
    assert (done.returncode, done.stderr) == (128 + signal.SIGPIPE, b"")


def test_excel_check_says_what_it_could_not_see(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, err = run(capsys, "excel-check")
    assert "not seen" in out
    assert err == ""
    code, out, err = run(capsys, "excel-check", "a.xlsm", "b.xlsm")
    assert (code, out, err.count("\n")) == (2, "", 1)


@pytest.mark.parametrize("missing", ["openpyxl", "lxml", "platformdirs"])
def test_without_its_packages_the_workbook_says_how_to_get_them(missing: str) -> None:
    """As in a Python that has the project alone."""
    code = (
        f"import runpy, sys; sys.modules['{missing}'] = None; sys.argv = ['x', 'new', 'never.xlsx']\n"
        "runpy.run_module('workbook_template', run_name='__main__')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    wanted = 'type in the folder of the project: python -m pip install ".[workbook]"'
    assert (done.returncode, done.stdout, done.stderr) == (2, "", f"{missing} is not there; {wanted}\n")


def test_output_into_a_code_page_takes_a_name_of_another_language(monkeypatch: pytest.MonkeyPatch) -> None:
    """As Windows gives it to a command whose output goes into a file."""
    written = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(written, encoding="cp1252"))
    assert main(["excel-check", "Мост.xlsm"]) == 1
    sys.stdout.flush()
    assert rb"\u041c\u043e\u0441\u0442.xlsm does not exist" in written.getvalue()


def test_calc_addin_writes_an_extension_or_a_sentence(capsys: pytest.CaptureFixture[str], tmp_path) -> None:
    target = tmp_path / "threads.oxt"
    code, out, _ = run(capsys, "calc-addin", str(target))
    assert code == 0
    assert "Extensions" in out
    assert target.stat().st_size > 10_000
    assert run(capsys, "calc-addin", "threads.zip")[0] == 2
    code, _, err = run(capsys, "calc-addin", str(tmp_path / "no" / "such.oxt"))
    assert (code, err.count("\n")) == (2, 1)
    (tmp_path / "folder.oxt").mkdir()
    code, _, err = run(capsys, "calc-addin", str(tmp_path / "folder.oxt"))
    assert (code, err.count("\n")) == (2, 1)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["folder.oxt", "threads.oxt"]  # nothing half done
