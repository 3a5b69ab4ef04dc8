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
RECORDS, CACHES = "sheetfuncs.records", "sheetfuncs.caches"
HOST = ["sheetfuncs.errors", "sheetfuncs.hosts.call", "sheetfuncs.registry", "sheetfuncs.terms"]
CORE = [RECORDS, CACHES, "sheetfuncs.errors", "sheetfuncs.units"]
STANDARD = [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", "sheetfuncs.tables", STANDARDS]
TOPIC = [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", "sheetfuncs.registry", STANDARDS]
MAY_IMPORT = {
    "records": [],
    "caches": [RECORDS],
    "errors": [],
    "console": [],
    "units": [RECORDS, CACHES, "sheetfuncs.errors"],
    "sources": [],
    "terms": [RECORDS],
    "tables": [],
    "forms": [RECORDS],
    "registry": [RECORDS, "sheetfuncs.errors", "sheetfuncs.sources", "sheetfuncs.terms"],
    "designations": CORE,
    "standards.origins": [RECORDS, CACHES, "sheetfuncs.designations", "sheetfuncs.tables"],
    "standards.base": [*CORE, "sheetfuncs.designations", "sheetfuncs.forms", STANDARDS],
    "standards.callouts": [*CORE, "sheetfuncs.designations", "sheetfuncs.tables"],
    "standards.unnamed": STANDARD,
    "standards.unknown": ["sheetfuncs.designations"],
    "standards.respelled": [*CORE, "sheetfuncs.designations", STANDARDS],
    "standards.metric_callouts": STANDARD,
    "standards.unified_callouts": STANDARD,
    "standards.metric_words": ["sheetfuncs.errors"],
    "standards.r40": [],
    "standards.taper": [RECORDS],
    **{f"standards.{key}": STANDARD for key in standards.KEYS},
    "standards": [*CORE, "sheetfuncs.designations", STANDARDS],
    "limits": [*TOPIC, "sheetfuncs.sources"],
    "helix": [],
    "tapers": [*TOPIC, "sheetfuncs.limits"],
    "wire_fit": TOPIC,
    "wires": [*TOPIC, "sheetfuncs.helix", "sheetfuncs.limits", "sheetfuncs.tapers", "sheetfuncs.wire_fit"],
    "passes": [RECORDS, "sheetfuncs.designations", "sheetfuncs.errors", "sheetfuncs.units"],
    "roots": [*TOPIC],
    "cutting": [*TOPIC, "sheetfuncs.limits", "sheetfuncs.passes", "sheetfuncs.roots"],
    "functional": [*TOPIC, "sheetfuncs.limits"],
    "identify": TOPIC,
    "leads": [*CORE, "sheetfuncs.designations"],
    "lathe": [*TOPIC, "sheetfuncs.leads", "sheetfuncs.wires", "sheetfuncs.cutting"],
    "gears": [*TOPIC, "sheetfuncs.lathe", "sheetfuncs.leads"],
    "estimating": TOPIC,
    "quantiles": [],
    "inspection": [*TOPIC, "sheetfuncs.quantiles", "sheetfuncs.tables"],
    "gauge_study": [*TOPIC, "sheetfuncs.quantiles", "sheetfuncs.tables"],
    "uncertainty": [
        *TOPIC,
        "sheetfuncs.functional",
        "sheetfuncs.inspection",
        "sheetfuncs.quantiles",
        "sheetfuncs.wires",
    ],
    "sampling": [*TOPIC, "sheetfuncs.tables", "sheetfuncs.terms"],
    "catalog": [CACHES, "sheetfuncs.registry"],
    "hosts": [],
    "hosts.cells": [
        *TOPIC,
        *("sheetfuncs.identify", "sheetfuncs.leads", "sheetfuncs.inspection", "sheetfuncs.gauge_study"),
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
    "hosts.excel": [*HOST, "sheetfuncs.catalog"],
    "hosts.excel_check": ["sheetfuncs.__version__"],
    "hosts.calc": [],
    "hosts.calc.runtime": [*HOST, RECORDS, "sheetfuncs.units"],
    "hosts.calc.component": ["sheetfuncs.hosts.calc.runtime"],
    "hosts.calc.job": [],
    "hosts.calc.functions": [*HOST, RECORDS, "sheetfuncs.catalog", "sheetfuncs.hosts.calc.runtime"],
    "hosts.calc.typelib": [],
    "hosts.calc.config": ["sheetfuncs.hosts.calc.functions"],
    "hosts.calc.pack": [
        *("sheetfuncs", "sheetfuncs.hosts.calc.config", "sheetfuncs.hosts.calc.functions"),
        "sheetfuncs.hosts.calc.typelib",
    ],
    "__main__": [
        *(
            *HOST,
            "sheetfuncs.catalog",
            "sheetfuncs.console",
            "sheetfuncs.hosts.calc.pack",
            "sheetfuncs.hosts.excel_check",
        ),
        *("workbook_template.file.placing", "workbook_template.lambdas.build"),  # for lambda-workbook, when it is asked
    ],
}
THIRD_PARTY = {"pint": {"sheetfuncs/units.py"}, "xlwings": {"sheetfuncs/hosts/excel.py"}}

# Each room of the workbook may import the rooms and packages named here, and itself.
ROOMS = {
    "figures": [],
    "trade": ["sheetfuncs", "figures"],
    "sheets": ["sheetfuncs", "figures", "trade"],
    "paper": ["sheetfuncs", "figures", "trade", "sheets", "openpyxl"],
    "file": ["sheetfuncs", "figures", "trade", "sheets", "paper", "openpyxl", "lxml"],
    "lambdas": ["sheetfuncs", "figures", "sheets", "paper", "file", "openpyxl"],
    "demo": ["sheetfuncs", "trade", "sheets", "file"],
    "rules": ["sheetfuncs", "figures", "lxml"],
    "office": ["uno", "unohelper", "com", "worker_cells"],
    "read_back": [
        *("sheetfuncs", "figures", "trade", "sheets", "paper", "file", "rules"),
        *("openpyxl", "lxml", "platformdirs"),
    ],
    "": ["sheetfuncs", "figures", "sheets", "paper", "file", "demo", "read_back"],
}


IGNORED = "# type: ignore"


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


FILES = sorted((ROOT / "sheetfuncs").rglob("*.py"))
WORKBOOK_FILES = sorted((ROOT / "workbook_template").rglob("*.py"))


def test_every_module_has_its_line_in_the_table() -> None:
    assert {module_name(path) for path in FILES} == set(MAY_IMPORT)
    assert {room_of(path) for path in WORKBOOK_FILES} == set(ROOMS)


@pytest.mark.parametrize("path", FILES, ids=module_name)
def test_nothing_imports_upward(path: Path) -> None:
    allowed = MAY_IMPORT[module_name(path)]
    inside = tuple(f"{one}." for one in allowed if one != "sheetfuncs")
    for name in imports(path):
        if name.split(".")[0] in ("sheetfuncs", "workbook_template"):
            assert name in allowed or name.startswith(inside), f"{path.name} imports {name}"


def room_of(path: Path) -> str:
    parts = path.relative_to(ROOT / "workbook_template").parts
    return parts[0] if len(parts) > 1 else ""


def beyond(path: Path) -> set[tuple[str, str]]:
    """The module with each room of the workbook or other package that it imports and its room should not."""
    room = room_of(path)
    names = {name.removeprefix("workbook_template.").split(".")[0] for name in imports(path)}
    wrong = names - sys.stdlib_module_names - {room, *ROOMS[room]}
    return {(f"{room}.{path.stem}", name) for name in wrong}


def test_each_room_uses_the_rooms_above_it() -> None:
    assert set().union(*map(beyond, WORKBOOK_FILES)) == set()


def test_no_room_is_above_one_that_it_uses() -> None:
    order = list(ROOMS)
    for room, may_use in ROOMS.items():
        assert all(order.index(one) < order.index(room) for one in may_use if one in ROOMS), room


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


def test_types_are_ignored_inside_openpyxl_alone() -> None:
    """What its types lack is in one module; beside it one line that xlwings reads, and one that a type can't say."""
    ignoring = {
        path.relative_to(ROOT).as_posix() for path in (*FILES, *WORKBOOK_FILES) if IGNORED in path.read_text("utf-8")
    }
    assert ignoring == {
        "workbook_template/paper/openpyxl_inside.py",
        "sheetfuncs/hosts/excel.py",
        "workbook_template/figures/grid.py",
    }
    assert "ignore_errors" not in (ROOT / "pyproject.toml").read_text("utf-8")


def test_the_core_needs_the_standard_library_alone() -> None:
    """A bare number never meets pint; dataclasses, inspect and csv would double the time of the import."""
    code = (
        "import sys; sys.path.insert(0, '.'); import sheetfuncs;"
        "sheetfuncs.evaluate('THREAD_DEPTH', '3/4-16 UNF-2A', '0.2 mm', 'mid', '0.744 in'); print(*sys.modules)"
    )
    run = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    loaded = set(run.stdout.split())
    assert not loaded & {"pint", "xlwings", "openpyxl", "numpy", "dataclasses", "inspect", "csv", "decimal", "pathlib"}


def test_the_first_metric_call_loads_nothing_that_is_slow_to_load() -> None:
    """What `functools`, `collections` and `re` take is a third of the whole start."""
    code = (
        "import sys; sys.path.insert(0, '.'); import sheetfuncs;"
        "sheetfuncs.evaluate('THREAD_PITCH_DIAMETER', 'M20x2.5-6g', 'max'); print(*sys.modules)"
    )
    run = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert "sheetfuncs.standards.iso_metric" in run.stdout
    assert not set(run.stdout.split()) & {"collections", "functools", "re", "enum", "typing", "operator", "contextlib"}
