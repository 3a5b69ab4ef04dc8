"""The object that Calc calls. Loaded by LibreOffice's Python loader, so it can be imported nowhere else.

Its methods are made from functions.json, which was made from the catalogue; the type library declares them. The
functions themselves are loaded at the first call, so that a start of the office does not wait for them.
"""

# ruff: noqa: N802, N816
# LibreOffice looks for names in this style.
from __future__ import annotations

import json
import sys
from functools import lru_cache
from pathlib import Path

if sys.version_info < (3, 8):  # noqa: UP036 the office's own Python may be an old one
    raise ImportError("the thread functions need LibreOffice 7.0 or newer: its Python must be 3.8 or newer")

import uno
import unohelper
from com.sun.star.lang import Locale, XServiceInfo, XServiceName
from com.sun.star.sheet import LocalizedName, XAddIn, XCompatibilityNames

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from types import ModuleType
    from typing import Any

LISTED: dict[str, Any] = json.loads(Path(__file__).with_name("functions.json").read_text(encoding="utf-8"))
SERVICE: str = LISTED["service"]
SERVICES = (SERVICE, "com.sun.star.sheet.AddIn")
BY_METHOD: dict[str, dict[str, Any]] = {function["method"]: function for function in LISTED["functions"]}
BY_NAME: dict[str, dict[str, Any]] = {function["name"]: function for function in LISTED["functions"]}
ENGLISH = Locale("en", "US", "")
CATEGORY = "Add-In"
INTERFACE: Any = uno.getClass(LISTED["interface"])


class Functions(unohelper.Base, XAddIn, XCompatibilityNames, XServiceName, XServiceInfo, INTERFACE):
    """All functions as methods, and what Calc asks about them."""

    locale = ENGLISH

    def __init__(self, context: object) -> None:
        pass

    def setLocale(self, locale: Locale) -> None:
        self.locale = locale

    def getLocale(self) -> Locale:
        return self.locale

    def getProgrammaticFuntionName(self, name: str) -> str:  # LibreOffice spells it so
        return BY_NAME[name]["method"] if name in BY_NAME else ""

    def getDisplayFunctionName(self, method: str) -> str:
        return BY_METHOD[method]["name"] if method in BY_METHOD else ""

    def getFunctionDescription(self, method: str) -> str:
        return BY_METHOD[method]["help"] if method in BY_METHOD else ""

    def getDisplayArgumentName(self, method: str, index: int) -> str:
        return argument(method, index)[0]

    def getArgumentDescription(self, method: str, index: int) -> str:
        return argument(method, index)[1]

    def getProgrammaticCategoryName(self, method: str) -> str:
        return CATEGORY

    def getDisplayCategoryName(self, method: str) -> str:
        return CATEGORY

    def getCompatibilityNames(self, method: str) -> tuple[LocalizedName, ...]:
        return (LocalizedName(ENGLISH, self.getDisplayFunctionName(method)),)

    def getServiceName(self) -> str:
        return SERVICE

    def getImplementationName(self) -> str:
        return SERVICE

    def supportsService(self, name: str) -> bool:
        return name in SERVICES

    def getSupportedServiceNames(self) -> tuple[str, ...]:
        return SERVICES


def argument(method: str, index: int) -> list[str]:
    """Name and help of an argument; the last may be repeated."""
    arguments: list[list[str]] = BY_METHOD[method]["arguments"]
    return arguments[min(index, len(arguments) - 1)]


@lru_cache(maxsize=1)
def runtime() -> ModuleType:
    """The functions, loaded at the first call."""
    from sheetfuncs.hosts.calc import runtime as loaded

    return loaded


def method_of(function: dict[str, Any]) -> Callable[..., Any]:
    """The method that answers for a function."""
    name = function["name"]
    if function["answers"] == "why":
        return lambda self, named, cells: runtime().why(named, cells)
    if function["answers"] == "single":
        return lambda self, *cells: runtime().single(name, cells)
    return lambda self, *cells: runtime().rows(name, cells)


for one in LISTED["functions"]:
    setattr(Functions, one["method"], method_of(one))

g_ImplementationHelper = unohelper.ImplementationHelper()  # the name that the loader looks for
g_ImplementationHelper.addImplementation(Functions, SERVICE, SERVICES)
