"""Stand-ins for the Windows modules that xlwings needs, so that its own code runs here without Excel.

Only COM is imitated, and only as far as a call of a function reaches: what turns ranges into arguments, writes the
VBA wrappers and answers a call is the real xlwings. Nothing here says how Excel itself behaves. Not for Windows,
where the real modules are.
"""

from __future__ import annotations

import ctypes
import importlib
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import ModuleType, SimpleNamespace
from unittest.mock import MagicMock

import pytest
import xlwings

MISSING = -2147352572
"""What COM hands over for an optional argument that was left out (DISP_E_PARAMNOTFOUND)."""

COM_ERRORS = {
    "#NULL!": -2146826288,
    "#DIV/0!": -2146826281,
    "#VALUE!": -2146826273,
    "#REF!": -2146826265,
    "#NAME?": -2146826259,
    "#NUM!": -2146826252,
    "#N/A": -2146826246,
}
"""The number by which COM hands over an error cell."""

RANGE_INTERFACE = "{00020846-0000-0000-C000-000000000046}"
WINDOWS_ONLY = (
    "pythoncom pywintypes win32api win32con win32event win32gui win32process win32timezone win32com win32com.client "
    "win32com.server win32com.server.dispatcher win32com.server.policy win32com.server.util"
)


class ComError(Exception):
    """pywintypes.com_error"""


class Workbook:
    """As much of an Excel workbook as an import of functions touches; it keeps what xlwings did to it."""

    def __init__(self, name: str = "Threads.xlsm") -> None:
        self.Name = name
        self.Sheets = self.Worksheets = []
        self.options: dict[str, dict] = {}
        self.imported = ""
        self.Application = SimpleNamespace(Version="16.0", MacroOptions=self._keep_options)
        components = MagicMock(side_effect=ComError)
        components.Import = self._keep_code
        self.VBProject = SimpleNamespace(VBComponents=components)

    def _keep_options(self, name: str, **options: object) -> None:
        self.options[name.partition("!")[2]] = options

    def _keep_code(self, path: str) -> None:
        self.imported = Path(path).read_text(encoding="ascii")


class Range:
    """A block of cells, as COM would hand it over: one value, or a tuple of rows."""

    def __init__(self, rows: list[list[object]]) -> None:
        single = len(rows) == len(rows[0]) == 1
        self.Value = rows[0][0] if single else tuple(tuple(row) for row in rows)
        self.Row = self.Column = 1
        self.Rows, self.Columns = SimpleNamespace(Count=len(rows)), SimpleNamespace(Count=len(rows[0]))
        self.Address = "$A$1"
        self.Application = SimpleNamespace(Hwnd=1)
        self.Worksheet = SimpleNamespace(Parent=SimpleNamespace(Application=self.Application))
        described = SimpleNamespace(GetTypeAttr=lambda: SimpleNamespace(iid=RANGE_INTERFACE))
        self._oleobj_ = SimpleNamespace(GetTypeInfo=lambda: described)


def _modules() -> dict[str, ModuleType | MagicMock]:
    found: dict[str, ModuleType | MagicMock] = {name: MagicMock(name=name) for name in WINDOWS_ONLY.split()}
    found["pywintypes"].configure_mock(com_error=ComError, error=ComError, TimeType=type("TimeType", (), {}), IID=str)
    found["pythoncom"].__file__ = "pythoncom"
    found["pythoncom"].configure_mock(ole_error=ComError, TypeIIDs={found["pythoncom"].IID_IDispatch: ComError})
    for name in ("CDispatch", "CoClassBaseClass", "DispatchBaseClass"):
        setattr(found["win32com.client"], name, type(name, (), {}))
    found["win32com.client"].Dispatch = lambda given, **_: given
    found["win32com.server.util"].unwrap = None  # calling it fails, as it does on what is no Python object
    for name in WINDOWS_ONLY.split():
        parent, _, child = name.rpartition(".")
        if parent:
            setattr(found[parent], child, found[name])
    return found


@contextmanager
def xlwings_as_on_windows() -> Iterator[ModuleType]:
    """sheetfuncs.hosts.excel as Excel would see it; afterwards everything is as it was."""
    with pytest.MonkeyPatch.context() as patch:
        for name, module in _modules().items():
            patch.setitem(sys.modules, name, module)
        for name in ("windll", "oledll", "PyDLL"):
            patch.setattr(ctypes, name, MagicMock(), raising=False)
        windows = importlib.import_module("xlwings._xlwindows")
        engines = xlwings.engines
        engines.add(xlwings.Engine(impl=windows.engine))
        udfs = importlib.import_module("xlwings.udfs")
        server = importlib.import_module("xlwings.com_server")
        for name, real in (("func", udfs.xlfunc), ("arg", udfs.xlarg), ("ret", udfs.xlret)):
            patch.setattr(xlwings, name, real)
        patch.delitem(sys.modules, "sheetfuncs.hosts.excel", raising=False)
        yield importlib.import_module("sheetfuncs.hosts.excel")
        server.loop.close()
        udfs.udf_modules.clear()
