"""Who may import whom, read from the source; and what an import may cost."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from sheetfuncs import standards

ROOT = Path(__file__).parent.parent
STANDARDS = "sheetfuncs.standards"

# Each module may import the packages named here; nothing imports upward.
RECORDS = "sheetfuncs.records"
CORE = [RECORDS, "sheetfuncs.errors", "sheetfuncs.units"]
STANDARD = [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", "sheetfuncs.tables", STANDARDS]
TOPIC = [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", "sheetfuncs.registry", STANDARDS]
MAY_IMPORT = {
    "records": [],
    "errors": [],
    "units": [RECORDS, "sheetfuncs.errors"],
    "sources": [],
    "terms": [RECORDS],
    "tables": [],
    "forms": [RECORDS],
    "registry": [RECORDS, "sheetfuncs.sources", "sheetfuncs.terms"],
    "designations": CORE,
    "standards.origins": [RECORDS, "sheetfuncs.designations", "sheetfuncs.tables"],
    "standards.base": [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", STANDARDS],
    "standards.callouts": CORE,
    "standards.unnamed": STANDARD,
    "standards.r40": [],
    "standards.taper": [RECORDS],
    **{f"standards.{key}": STANDARD for key in standards.KEYS},
    "standards": [*CORE, "sheetfuncs.designations", STANDARDS],
    "limits": [*TOPIC, "sheetfuncs.sources"],
    "helix": [],
    "tapers": [*TOPIC, "sheetfuncs.limits"],
    "wires": [*TOPIC, "sheetfuncs.helix", "sheetfuncs.limits", "sheetfuncs.tapers"],
    "passes": ["sheetfuncs.designations", "sheetfuncs.errors"],
    "cutting": [*TOPIC, "sheetfuncs.limits", "sheetfuncs.passes"],
    "functional": TOPIC,
    "identify": TOPIC,
    "lathe": [*TOPIC, "sheetfuncs.limits", "sheetfuncs.wires", "sheetfuncs.cutting"],
    "gears": [*TOPIC, "sheetfuncs.lathe"],
    "estimating": TOPIC,
    "quantiles": [],
    "inspection": [*TOPIC, "sheetfuncs.quantiles", "sheetfuncs.tables"],
    "gauge_study": [*TOPIC, "sheetfuncs.quantiles", "sheetfuncs.tables"],
    "uncertainty": [*TOPIC, "sheetfuncs.inspection", "sheetfuncs.quantiles", "sheetfuncs.wires"],
    "sampling": [*TOPIC, "sheetfuncs.tables"],
    "catalog": ["sheetfuncs.registry"],
    "hosts": [],
    "hosts.cells": [
        *TOPIC,
        *("sheetfuncs.identify", "sheetfuncs.lathe", "sheetfuncs.inspection", "sheetfuncs.gauge_study"),
        *("sheetfuncs.sampling", "sheetfuncs.terms"),
    ],
    "hosts.call": [
        *CORE,
        "sheetfuncs.designations",
        "sheetfuncs.registry",
        "sheetfuncs.catalog",
        "sheetfuncs.terms",
        "sheetfuncs.hosts.cells",
    ],
    "": ["sheetfuncs.errors", "sheetfuncs.hosts.call"],
}
THIRD_PARTY = {"pint": {"sheetfuncs/units.py"}, "xlwings": {"sheetfuncs/hosts/excel.py"}}


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT / "sheetfuncs").with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def imports(path: Path) -> set[str]:
    """Full names of what a file imports, `from package import module` counted as the module."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            is_package = (ROOT / Path(*node.module.split("."))).is_dir()
            found |= {f"{node.module}.{alias.name}" if is_package else node.module for alias in node.names}
    return found


CORE_FILES = [path for path in sorted((ROOT / "sheetfuncs").rglob("*.py")) if module_name(path) in MAY_IMPORT]


def test_every_core_module_has_its_line_in_the_table() -> None:
    assert {module_name(path) for path in CORE_FILES} == set(MAY_IMPORT)


@pytest.mark.parametrize("path", CORE_FILES, ids=module_name)
def test_nothing_imports_upward(path: Path) -> None:
    allowed = MAY_IMPORT[module_name(path)]
    for name in imports(path):
        if name.split(".")[0] in ("sheetfuncs", "workbook_template"):
            assert any(name == one or name.startswith(f"{one}.") for one in allowed), f"{path.name} imports {name}"


FIGURES = sorted((ROOT / "workbook_template" / "figures").glob("*.py"))


@pytest.mark.parametrize("path", FIGURES, ids=lambda path: path.stem)
def test_figures_know_formulas_alone(path: Path) -> None:
    """No spreadsheet library, no thread and no sheet: the standard library and one another."""
    for name in imports(path):
        package = name.split(".")[0]
        assert name.startswith("workbook_template.figures") or package in sys.stdlib_module_names, name


def test_pint_xlwings_and_openpyxl_each_have_one_home() -> None:
    for path in sorted(ROOT.glob("*/**/*.py")):
        place = path.relative_to(ROOT).as_posix()
        if place.startswith((".", "tests/")):
            continue
        for name in imports(path):
            package = name.split(".")[0]
            if package == "openpyxl":
                assert place.startswith("workbook_template/"), place
            elif package in THIRD_PARTY and not place.startswith("workbook_template/"):
                assert place in THIRD_PARTY[package] or place.startswith("sheetfuncs/hosts/excel"), place


def test_the_core_needs_the_standard_library_alone() -> None:
    """A bare number never meets pint; dataclasses, inspect and csv would double the time of the import."""
    code = (
        "import sys; sys.path.insert(0, '.'); import sheetfuncs;"
        "sheetfuncs.evaluate('THREAD_DEPTH', '3/4-16 UNF-2A', '0.2 mm', 'mid', '0.744 in'); print(*sys.modules)"
    )
    run = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    loaded = set(run.stdout.split())
    assert not loaded & {"pint", "xlwings", "openpyxl", "numpy", "dataclasses", "inspect", "csv", "decimal", "pathlib"}
