"""The functions in a browser's Python (Pyodide under node), from the built wheel and xlwings: as they are here."""

from __future__ import annotations

import importlib.metadata
import json
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest
from good_workbook import npm_package

from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.call import answer, find
from sheetfuncs.hosts.excel import FUNCTIONS

ROOT = Path(__file__).parent.parent
RELATIVE = 1e-12

# Nothing is loaded over the network: both packages come as archives of pure Python.
IN_NODE = """
import { readFileSync } from "node:fs";
const [pyodide, calls, ...archives] = process.argv.slice(1);
try {
    const { loadPyodide } = await import(pyodide);
    const python = await loadPyodide();
    for (const archive of archives) python.unpackArchive(new Uint8Array(readFileSync(archive)), "zip");
    python.globals.set("calls", readFileSync(calls, "utf8"));
    console.log(python.runPython(readFileSync(0, "utf8")));
} catch (fault) {  // left alone, node would print the runtime's whole source with it
    console.error(fault.message);
    process.exit(1);
}
"""

IN_PYODIDE = """
import json, sys
from sheetfuncs.catalog import RECORDS
from sheetfuncs.errors import CellError
from sheetfuncs.hosts.call import answer, find
from sheetfuncs.hosts.excel import FUNCTIONS
plain = lambda found: f"{found.code} {found.sentence}" if isinstance(found, CellError) else found
calls = json.loads(calls)
json.dumps({
    "platform": sys.platform,
    "xlwings": sys.modules["xlwings"].__file__,
    "names": [record.name for record in RECORDS],
    "core": [plain(answer(find(name), tuple(cells))) for name, cells in calls],
    "excel": [FUNCTIONS[name](*[[[cell]] for cell in cells]) for name, cells in calls],
})
"""

CALLS = [(record.name, list(example.args)) for record in RECORDS for example in record.examples]
REFUSED = [(record.name, ["no thread at all", *record.examples[0].args[1:]]) for record in RECORDS]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project's wheel, built from a copy so that nothing is left in the checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    source = folder / "source"
    source.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    for name in ("sheetfuncs", "workbook_template"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(folder), str(source)]
    run = subprocess.run(command, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def found(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What Pyodide answers to every call."""
    folder = tmp_path_factory.mktemp("browser")
    (folder / "calls.json").write_text(json.dumps(CALLS + REFUSED), encoding="utf-8")
    archives = [str(wheel), str(xlwings_archive(folder / "xlwings.zip"))]
    pyodide = (npm_package("pyodide") / "pyodide.mjs").as_uri()
    command = ["node", "--input-type=module", "-e", IN_NODE, pyodide, str(folder / "calls.json"), *archives]
    run = subprocess.run(command, input=IN_PYODIDE, capture_output=True, text=True, encoding="utf-8", timeout=120)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def xlwings_archive(path: Path) -> Path:
    """The Python files of the installed xlwings: its wheel for browsers holds these and no more."""
    with zipfile.ZipFile(path, "w") as archive:
        for file in importlib.metadata.files("xlwings") or []:
            if file.suffix == ".py" and file.parts[0] == "xlwings":
                archive.write(file.locate(), str(file))
    return path


def same(one: Any, other: Any) -> bool:
    """Equal texts, shapes and numbers; numbers to a part in 1e12, as the two C libraries may round apart."""
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) <= RELATIVE * max(abs(one), abs(other), 1e-3)
    return one == other


def test_it_is_the_wheel_in_a_browsers_python(found: dict[str, Any]) -> None:
    assert found["platform"] == "emscripten"
    assert "xlwings" in found["xlwings"]
    assert found["names"] == [record.name for record in RECORDS]


def test_every_worked_example_gives_the_same_there(found: dict[str, Any]) -> None:
    assert len(CALLS) >= len(RECORDS) > 0
    here = [answer(find(name), tuple(cells)) for name, cells in CALLS]
    apart = [(call, one, two) for call, one, two in zip(CALLS, here, found["core"]) if not same(plain(one), two)]
    assert apart == []


def test_every_refusal_is_the_same_there(found: dict[str, Any]) -> None:
    here = [answer(find(name), tuple(cells)) for name, cells in REFUSED]
    there = found["core"][len(CALLS) :]
    apart = [(call, one, two) for call, one, two in zip(REFUSED, here, there) if not same(plain(one), two)]
    assert apart == []


def test_the_xlwings_functions_give_the_same_there(found: dict[str, Any]) -> None:
    calls = CALLS + REFUSED
    here = [FUNCTIONS[name](*[[[cell]] for cell in cells]) for name, cells in calls]
    apart = [(call, one, two) for call, one, two in zip(calls, here, found["excel"]) if not same(one, two)]
    assert apart == []


def plain(value: Any) -> Any:
    """An error as its text."""
    return f"{value.code} {value.sentence}" if isinstance(value, Exception) else value
