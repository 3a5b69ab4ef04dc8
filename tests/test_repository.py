"""What the repository holds: nothing that a command makes, no wall time in a test, no office beside the fixtures."""

from __future__ import annotations

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TESTS = sorted(path for path in ROOT.glob("tests/*.py"))
CLOCKS = {"perf_counter", "perf_counter_ns", "process_time", "time_ns", "timeit"}


def git(folder: Path, *arguments: str) -> str:
    return subprocess.run(["git", *arguments], cwd=folder, capture_output=True, text=True, check=True).stdout


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    """The repository as somebody else gets it, without its history and with no settings of this machine's user."""
    git(tmp_path, "clone", "-q", "--depth", "1", ROOT.as_uri(), "clone")
    return tmp_path / "clone"


def test_nothing_ignored_is_tracked(clone: Path) -> None:
    """Environments, packages of others and caches are made by the run commands; the planted one is found."""
    listing = ("ls-files", "-ci", "--exclude-standard")
    assert git(ROOT, *listing) == ""
    assert git(clone, *listing) == ""
    planted = clone / ".npm-tools" / "package.json"
    planted.parent.mkdir()
    planted.write_text("{}")
    git(clone, "add", "--force", str(planted))
    assert git(clone, *listing).split() == [".npm-tools/package.json"]


@pytest.mark.parametrize("path", TESTS, ids=lambda path: path.name)
def test_no_test_looks_at_a_clock(path: Path) -> None:
    """How long something takes is for tests/benchmarks, which a busy machine can't fail."""
    named = {node.attr for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Attribute)}
    assert not named & CLOCKS


@pytest.mark.parametrize("path", TESTS, ids=lambda path: path.name)
def test_an_office_is_started_by_fixtures_alone(path: Path) -> None:
    """By its fixtures a test is given to the one worker that runs LibreOffice."""
    calls = [node.func for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call)]
    starts = [one for one in calls if isinstance(one, ast.Name) and one.id == "Office"]
    assert len(starts) == (path.name == "conftest.py")


NEWER = re.compile(r"\(\?>|(?<![\\\[])[*+?}]\+")
"""Groups that give nothing back, in a pattern: Python 3.10, which pyproject.toml allows, has none."""


def test_no_pattern_needs_a_newer_python_than_is_allowed() -> None:
    assert 'requires-python = ">=3.10"' in (ROOT / "pyproject.toml").read_text("utf-8")
    assert all(map(NEWER.search, ("(?>a)", "a*+", "a++", "a?+", "a{2}+")))
    found = {
        f"{path.name}: {node.value}"
        for package in ("sheetfuncs", "workbook_template")
        for path in (ROOT / package).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8"), feature_version=(3, 10)))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and NEWER.search(node.value)
    }
    assert not found
