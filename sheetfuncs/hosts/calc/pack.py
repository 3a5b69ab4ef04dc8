"""Puts the extension together: one .oxt that needs nothing but LibreOffice.

All extensions share one Python, its `sys.path` and its `sys.modules`. So the copy of this package inside has a name
of its own, and its imports are rewritten to it: neither another extension nor a copy that somebody installed for
the system's Python, in another version, can take its place.
"""

from __future__ import annotations

import ast
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import sheetfuncs
from sheetfuncs.hosts.calc import config
from sheetfuncs.hosts.calc.functions import FUNCTIONS, INTERFACE, SERVICE, Function
from sheetfuncs.hosts.calc.typelib import Method, type_library

ROOT = Path(sheetfuncs.__file__).parent
PACKAGE = ROOT.name
OWN_NAME = "threadsheet_addin"
"""What the package is called inside the extension."""

COMPONENT, JOB = f"{PACKAGE}.hosts.calc.component", f"{PACKAGE}.hosts.calc.job"
JOB_SERVICE, EVENT = "org.threadsheet.ResolveNames", "onDocumentAdded"
IDENTIFIER = "org.threadsheet.functions"
TITLE = "Thread functions for Calc"
ABOUT = "Functions for cutting and measuring screw threads: their names begin with THREAD_.\n"
UNO = "application/vnd.sun.star.{}"
PARTS = {
    "functions.rdb": UNO.format("uno-typelibrary;type=RDB"),  # before the component, which needs the type
    "component.py": UNO.format("uno-component;type=Python"),
    "job.py": UNO.format("uno-component;type=Python"),
    "CalcAddIns.xcu": UNO.format("configuration-data"),
    "Jobs.xcu": UNO.format("configuration-data"),
}
"""What the office registers, in this order."""

CELLS = "[][]any"
"""The result of every function: any may be given a column, and in one cell Calc shows the top left value."""

_IMPORT = re.compile(rf"^(\s*(?:from|import)\s+){PACKAGE}\b", re.MULTILINE)
_OLDEST_DATE = (1980, 1, 1, 0, 0, 0)


def build(path: str | Path) -> Path:
    """Write the extension. The same package gives the same bytes; a file that is there is replaced whole."""
    path = Path(path)
    unfinished = path.with_name(f".{path.name}.part")
    with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in _files():
            entry = zipfile.ZipInfo(name, _OLDEST_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            packed.writestr(entry, data)
    return unfinished.replace(path)


def _files() -> Iterator[tuple[str, str | bytes]]:
    yield "META-INF/manifest.xml", config.manifest_xml(PARTS)
    yield "description.xml", config.description_xml(IDENTIFIER, sheetfuncs.__version__, TITLE, "about.txt")
    yield "about.txt", ABOUT
    yield "functions.rdb", type_library(INTERFACE, [_declared(function) for function in FUNCTIONS])
    yield "CalcAddIns.xcu", config.functions_xcu(SERVICE, FUNCTIONS)
    yield "Jobs.xcu", config.job_xcu(JOB_SERVICE, EVENT)
    yield "component.py", renamed(_source(COMPONENT))
    yield "job.py", renamed(_source(JOB))
    for name in sorted(_needed(COMPONENT)):
        if name != COMPONENT:
            file = _file(name)
            yield _inside(file), renamed(file.read_text(encoding="utf-8"))
    for file in sorted(ROOT.rglob("data/*.*")):
        yield _inside(file), file.read_bytes()


def _declared(function: Function) -> Method:
    """All arguments are `any`: only then can they be left out, and hold text, number or range alike."""
    kinds = [(argument.name, "[]any" if argument.repeated else "any") for argument in function.arguments]
    return Method(function.method, CELLS, tuple(kinds))


def renamed(source: str) -> str:
    """A module's text with the package's name in its imports replaced by the extension's own.

    >>> renamed("from sheetfuncs.errors import CellError")
    'from threadsheet_addin.errors import CellError'
    """
    return _IMPORT.sub(rf"\g<1>{OWN_NAME}", source)


def _needed(first: str) -> set[str]:
    """A module and all modules of this package that it imports, directly or not, with the packages they are in."""
    found: set[str] = set()
    waiting = [first]
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        if "." in name:
            waiting.append(name.rpartition(".")[0])
        for node in ast.walk(ast.parse(_source(name))):
            waiting += [imported for imported in _imported(node) if _file(imported).is_file()]
    return found


def _imported(node: ast.AST) -> list[str]:
    """The names of this package that a statement may import; `from a import b` may mean the module a.b."""
    if isinstance(node, ast.Import):
        names = [alias.name for alias in node.names]
    elif isinstance(node, ast.ImportFrom) and node.module:
        names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
    else:
        names = []
    return [name for name in names if name.split(".")[0] == PACKAGE]


def _file(module: str) -> Path:
    stem = ROOT.parent.joinpath(*module.split("."))
    return stem / "__init__.py" if stem.is_dir() else stem.with_suffix(".py")


def _source(module: str) -> str:
    return _file(module).read_text(encoding="utf-8")


def _inside(file: Path) -> str:
    return f"pythonpath/{OWN_NAME}/{file.relative_to(ROOT).as_posix()}"
