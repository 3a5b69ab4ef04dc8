"""Puts the extension together: one .oxt that needs nothing but LibreOffice.

All extensions share one Python, its `sys.path` and its `sys.modules`. So the copy of this package inside has a name
of its own, and its imports are rewritten to it: neither another extension nor a copy that somebody installed for
the system's Python, in another version, can take its place.
"""

from __future__ import annotations

import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import sheetfuncs
from sheetfuncs.hosts.calc import config
from sheetfuncs.hosts.calc.functions import INTERFACE, SERVICE, Function, functions
from sheetfuncs.hosts.calc.typelib import Method, type_library

ROOT = Path(sheetfuncs.__file__).parent
PACKAGE = ROOT.name
OWN_NAME = "sheetfuncs_addin"
"""What the package is called inside the extension."""

HERE = Path(__file__).parent
HOST_FILES = (
    *("hosts/__init__.py", "hosts/call.py", "hosts/cells.py"),
    *("hosts/calc/__init__.py", "hosts/calc/runtime.py"),
)
JOB_SERVICE, EVENT = "org.sheetfuncs.ResolveNames", "onDocumentAdded"
IDENTIFIER = "org.sheetfuncs.functions"
TITLE = "Thread functions for Calc"
OLDEST = "7.0"
"""The first LibreOffice whose Python, 3.8 on Windows, can run the functions."""
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

_IMPORT = re.compile(rf"^(\s*(?:from|import)\s+){PACKAGE}\b", re.MULTILINE)
_OLDEST_DATE = (1980, 1, 1, 0, 0, 0)


def build(path: str | Path) -> Path:
    """Write the extension. The same package gives the same bytes; a file that is there is replaced whole."""
    path = Path(path)
    unfinished = path.with_name(f".{path.name}.part")
    try:
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as packed:
            for name, data in _files():
                entry = zipfile.ZipInfo(name, _OLDEST_DATE)
                entry.compress_type = zipfile.ZIP_DEFLATED
                entry.external_attr = 0o644 << 16
                packed.writestr(entry, data)
        return unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)


def _files() -> Iterator[tuple[str, str | bytes]]:
    listed = functions()
    yield "META-INF/manifest.xml", config.manifest_xml(PARTS)
    yield "description.xml", config.description_xml(IDENTIFIER, sheetfuncs.__version__, TITLE, "about.txt", OLDEST)
    yield "about.txt", ABOUT
    yield "functions.rdb", type_library(INTERFACE, [_declared(function) for function in listed])
    yield "functions.json", _described(listed)
    yield "CalcAddIns.xcu", config.functions_xcu(SERVICE, listed)
    yield "Jobs.xcu", config.job_xcu(JOB_SERVICE, EVENT)
    for part in ("component.py", "job.py"):
        yield part, renamed((HERE / part).read_text(encoding="utf-8"))
    for file in sorted(file for file in ROOT.rglob("*.*") if _travels(file.relative_to(ROOT))):
        inside = f"pythonpath/{OWN_NAME}/{file.relative_to(ROOT).as_posix()}"
        yield inside, renamed(file.read_text(encoding="utf-8")) if file.suffix == ".py" else file.read_bytes()


def _travels(file: Path) -> bool:
    """Whether a file of the package is needed in Calc: of the hosts only these, of the rest all but the commands."""
    if file.suffix not in (".py", ".csv") or file.name == "__main__.py":
        return False
    return file.parts[0] != "hosts" or file.as_posix() in HOST_FILES


def _described(listed: list[Function]) -> str:
    """What component.py reads: it is to start without loading the catalogue."""
    described = [
        {**function._asdict(), "arguments": [argument[:2] for argument in function.arguments]} for function in listed
    ]
    return json.dumps({"service": SERVICE, "interface": INTERFACE, "functions": described}, indent=1)


def _declared(function: Function) -> Method:
    arguments = tuple((argument.name, argument.kind) for argument in function.arguments)
    return Method(function.method, function.result, arguments)


def renamed(source: str) -> str:
    """A module's text with the package's name in its imports replaced by the extension's own.

    >>> renamed("from sheetfuncs.errors import CellError")
    'from sheetfuncs_addin.errors import CellError'
    """
    return _IMPORT.sub(rf"\g<1>{OWN_NAME}", source)
