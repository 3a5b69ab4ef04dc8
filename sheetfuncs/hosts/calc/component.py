"""The object that Calc calls. Loaded by LibreOffice's Python loader, so it can be imported nowhere else.

Its methods are made from the catalogue; the type library beside it declares them.
"""

from __future__ import annotations

import uno
import unohelper
from com.sun.star.lang import Locale, XServiceInfo, XServiceName
from com.sun.star.sheet import LocalizedName, XAddIn, XCompatibilityNames
from sheetfuncs.hosts.calc import runtime
from sheetfuncs.hosts.calc.functions import FUNCTIONS, INTERFACE, SERVICE, WHY, method
from sheetfuncs.catalog import RECORDS

BY_METHOD = {function.method: function for function in FUNCTIONS}
BY_NAME = {function.name: function for function in FUNCTIONS}


class Functions(unohelper.Base, XAddIn, XCompatibilityNames, XServiceName, XServiceInfo, uno.getClass(INTERFACE)):
    """All functions as methods, and what Calc asks about them."""

    locale = Locale("en", "US", "")

    def __init__(self, context):
        pass

    def setLocale(self, locale):
        self.locale = locale

    def getLocale(self):
        return self.locale

    def getProgrammaticFuntionName(self, display_name):  # spelt so in LibreOffice
        return BY_NAME[display_name].method if display_name in BY_NAME else ""

    def getDisplayFunctionName(self, method_name):
        return BY_METHOD[method_name].name if method_name in BY_METHOD else ""

    def getFunctionDescription(self, method_name):
        return BY_METHOD[method_name].help if method_name in BY_METHOD else ""

    def getDisplayArgumentName(self, method_name, index):
        return self._argument(method_name, index).name

    def getArgumentDescription(self, method_name, index):
        return self._argument(method_name, index).help

    def getProgrammaticCategoryName(self, method_name):
        return "Add-In"

    def getDisplayCategoryName(self, method_name):
        return "Add-In"

    def getCompatibilityNames(self, method_name):
        return (LocalizedName(Locale("en", "US", ""), self.getDisplayFunctionName(method_name)),)

    def getServiceName(self):
        return SERVICE

    def getImplementationName(self):
        return SERVICE

    def supportsService(self, name):
        return name in self.getSupportedServiceNames()

    def getSupportedServiceNames(self):
        return (SERVICE, "com.sun.star.sheet.AddIn")

    @staticmethod
    def _argument(method_name, index):
        arguments = BY_METHOD[method_name].arguments
        return arguments[min(index, len(arguments) - 1)]


def _method(record):
    return lambda self, *cells: runtime.call(record, cells)


for _record in RECORDS:
    setattr(Functions, method(_record), _method(_record))
setattr(Functions, WHY.method, lambda self, name, cells: runtime.why(name, cells))

g_ImplementationHelper = unohelper.ImplementationHelper()  # the name the loader looks for
g_ImplementationHelper.addImplementation(Functions, SERVICE, (SERVICE, "com.sun.star.sheet.AddIn"))
