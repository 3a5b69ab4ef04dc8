"""Cures a gap of LibreOffice 7: in an .xlsx it does not find add-in functions by the names that people type.

When a document has been loaded, a defined name is added to it and removed again: Calc then looks up every name
that it does not know. Stands alone; newer versions have nothing left to cure, and then the document is not touched.
"""

from __future__ import annotations

from contextlib import suppress

import unohelper
from com.sun.star.table import CellAddress
from com.sun.star.task import XJob

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

SERVICE = "org.sheetfuncs.ResolveNames"
UNRESOLVED = r"(^|[^._A-Z0-9])THREAD_[A-Z0-9_]+\("


class ResolveNames(unohelper.Base, XJob):
    """The job that LibreOffice runs for each document that has been loaded."""

    def __init__(self, context: object) -> None:
        pass

    def execute(self, arguments: Any) -> None:
        """A document that is no workbook, or gives any trouble, stays as it is: loading must not fail for this."""
        with suppress(Exception):
            document = _document(arguments)
            if document is not None and _has_unresolved(document):
                _resolve(document)


def _document(arguments: Any) -> Any:
    """The workbook that has been loaded, or None."""
    for group in arguments:
        for item in group.Value if group.Name == "Environment" else ():
            if item.Name == "Model" and item.Value.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
                return item.Value
    return None


def _has_unresolved(document: Any) -> bool:
    for sheet in document.Sheets:
        search = sheet.createSearchDescriptor()
        search.SearchRegularExpression = True
        search.SearchString = UNRESOLVED
        if sheet.findFirst(search) is not None:
            return True
    return False


def _resolve(document: Any) -> None:
    was_modified = document.isModified()
    names = document.NamedRanges
    name = "sheetfuncs_resolve_names"
    names.addNewByName(name, "0", CellAddress(), 0)
    names.removeByName(name)
    document.setModified(was_modified)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 the name that the loader looks for
g_ImplementationHelper.addImplementation(ResolveNames, SERVICE, (SERVICE,))
