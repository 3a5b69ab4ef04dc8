"""The script that plants faults: it finds what tests let through, and the tree is as it was."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import planted_faults

TINY = """\
SPARE = 3


def half(number: float) -> float:
    return number / 2
"""
ITS_TEST = """\
from sheetfuncs.tiny import half


def test_half() -> None:
    assert half(4) == 2
"""


def test_what_no_test_sees_is_printed_and_the_tree_is_as_it_was(tmp_path: Path) -> None:
    for name, text in (("sheetfuncs/tiny.py", TINY), ("tests/test_tiny.py", ITS_TEST), ("sheetfuncs/__init__.py", "")):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in tmp_path.rglob("*.py")}
    script = [sys.executable, planted_faults.__file__, "--root", str(tmp_path), "--sample", "0"]
    done = subprocess.run(script, capture_output=True, text=True)
    assert done.stdout.splitlines() == [
        "sheetfuncs/tiny.py:1: digit",
        "    - SPARE = 3",
        "    + SPARE = 4",
        "2 of 3 noticed, 0 of them by docstrings alone",
    ], done.stderr
    assert done.returncode == 1
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in tmp_path.rglob("*.py")} == before


def planted(tmp_path: Path, name: str, text: str) -> set[str]:
    """The text with each fault that the script can plant in it."""
    (tmp_path / name).write_text(text, encoding="utf-8")
    found = planted_faults.faults_of(tmp_path, name)
    assert {fault.file for fault in found} == {name}
    return {fault.planted(text.encode()).decode() for fault in found}


def test_faults_of_code(tmp_path: Path) -> None:
    """With a sign of two bytes before them; the text of an error is left alone."""
    code = 'if "ø" and not a < min(b, 1.29):\n    raise ValueError(f"{1 + 1}")\n'
    changed = ("a <= min(b, 1.29)", "a > min(b, 1.29)", "a < max(b, 1.29)", "a < min(b, 1.28)")
    expected = {code.replace("a < min(b, 1.29)", new) for new in changed}
    expected |= {code.replace(" and ", " or "), code.replace("not a < min(b, 1.29)", "(a < min(b, 1.29))")}
    assert planted(tmp_path, "a.py", code) == expected
    assert planted(tmp_path, "b.py", "x = f(a + b, c)\n") == {
        *("x = f(a - b, c)\n", "x = f((a), c)\n", "x = f((b), c)\n", "x = f(c, a + b)\n"),
    }


def test_faults_of_a_table(tmp_path: Path) -> None:
    assert planted(tmp_path, "a.csv", "# 1\nd,p,source\n8,1.5,a\n9,1.5,b\n") == {
        f"# 1\nd,p,source\n{rows}"
        for rows in (
            *("9,1.5,a\n9,1.5,b\n", "8,1.6,a\n9,1.5,b\n", "8,1.5,a\n8,1.5,b\n", "8,1.5,a\n9,1.6,b\n"),
            *("1.5,8,a\n9,1.5,b\n", "8,1.5,a\n1.5,9,b\n", "9,1.5,a\n8,1.5,b\n"),
        )
    }


def test_each_file_of_the_core_has_its_tests_and_a_sample_is_the_same_each_time() -> None:
    files = planted_faults.core_files(planted_faults.ROOT)
    for file in files:
        assert all((planted_faults.ROOT / test).exists() for test in planted_faults.tests_of(file)), file
    few = files[::9]
    drawn = planted_faults.sample(planted_faults.ROOT, few, 30, 1)
    assert drawn == planted_faults.sample(planted_faults.ROOT, few, 30, 1)
    assert drawn != planted_faults.sample(planted_faults.ROOT, few, 30, 2)
    assert 25 < len(drawn) < 36
