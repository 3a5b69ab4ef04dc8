"""The part that works inside LibreOffice's own process: one JSON request in, one JSON answer out.

Loaded by the office's Python loader, so it stands alone, imports nothing of this project but its neighbour,
and keeps to Python 3.8.
"""

from __future__ import annotations

import json
import os
import sys
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import uno
import unohelper
from com.sun.star.beans import PropertyValue
from com.sun.star.container import NoSuchElementException
from com.sun.star.lang import IllegalArgumentException
from com.sun.star.task import XJob

sys.path.insert(0, os.path.dirname(__file__))
if TYPE_CHECKING:
    from collections.abc import Callable

    from workbook_template.office import worker_cells as cells
    from workbook_template.office.worker_cells import BOOKS, Opened, RefusedError, Uno, Value, opened

    Argument = Any  # of a function: a number, a text, yes or no, None, or cells of the office
else:
    import worker_cells as cells
    from worker_cells import BOOKS, Opened, RefusedError, opened

FILTERS = {
    "xlsx": "Calc MS Excel 2007 XML",
    "ods": "calc8",
    "pdf": "calc_pdf_Export",
    "csv": "Text - txt - csv (StarCalc)",
}
FAR_COLUMN = 500  # to the right of any argument
FORMULA_TEXT = 4  # com.sun.star.sheet.FormulaResult.STRING


def properties(**values: object) -> tuple[Uno, ...]:
    """Keyword arguments as the property list that the office wants."""
    return tuple(PropertyValue(name, 0, value, 0) for name, value in values.items())


def desktop() -> Uno:
    """The office's list of open documents and its loader."""
    context = Worker.context
    return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)


def load(url: str) -> Uno:
    """A hidden document: no macros, no updates of links, no questions."""
    wanted = properties(Hidden=True, MacroExecutionMode=0, UpdateDocMode=0)
    return desktop().loadComponentFromURL(url, "_blank", 0, wanted)


def open_book(path: str, recalculate: bool) -> int:
    """Load a file and return its number."""
    document = load(uno.systemPathToFileUrl(path))
    if document is None or not document.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
        if document is not None:
            document.close(True)
        raise RefusedError("LibreOffice cannot read this file as a workbook")
    if recalculate:
        document.calculateAll()
    number = max(BOOKS, default=0) + 1
    BOOKS[number] = Opened(document)
    return number


def save(number: int, path: str, filter_name: str | None, sheet: str | None) -> None:
    """Write a copy, by the filter of the file's ending unless one is named. CSV: as shown, UTF-8."""
    document = opened(number).document
    ending = path.rsplit(".", 1)[-1].lower()
    if filter_name is None and ending not in FILTERS:
        raise RefusedError(f"no filter is known for .{ending}; known are {', '.join(FILTERS)}")
    options = properties(FilterName=filter_name or FILTERS[ending])
    if ending == "csv":
        names = document.Sheets.ElementNames
        if sheet is not None and sheet not in names:
            raise RefusedError(f'there is no sheet "{sheet}"; sheets are: {", ".join(names)}')
        chosen = 1 if sheet is None else names.index(sheet) + 1
        options += properties(FilterOptions=f"44,34,76,1,,0,false,true,true,false,false,{chosen}")
    document.storeToURL(uno.systemPathToFileUrl(path), options)


def close_book(number: int) -> None:
    """Forget a workbook without saving it."""
    if number in BOOKS:
        BOOKS.pop(number).document.close(True)


@lru_cache(maxsize=1)
def scratch_book() -> Uno:
    """A workbook of our own, in which functions are called."""
    return load("private:factory/scalc")


def scratch_sheet() -> Uno:
    """Its first sheet, emptied."""
    sheet = scratch_book().Sheets.getByIndex(0)
    sheet.clearContents(1023)  # everything
    return sheet


def on_sheet(sheet: Uno, top: int, rows: list[list[float | str | None]]) -> Uno:
    """Rows of values as a range of the sheet."""
    found = sheet.getCellRangeByPosition(0, top, len(rows[0]) - 1, top + len(rows) - 1)
    cells.put_at_once(found, rows)
    return found


def literal(value: Argument) -> str:
    """An argument as this program's own formula syntax writes it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "TRUE()" if value else "FALSE()"
    if isinstance(value, str):
        return '"' + value.replace('"', '""') + '"'
    if isinstance(value, (int, float)):
        return repr(value)
    return str(value.AbsoluteName)


def formula(name: str, arguments: list[Argument]) -> str:
    """The call as formula text."""
    return f"={name}({';'.join(map(literal, arguments))})"


def is_error(answer: Any) -> bool:
    """Whether a result hides an error value: which one, only a cell can tell."""
    return answer is None or bool(answer != answer)  # the second: not a number


def in_a_cell(sheet: Uno, name: str, arguments: list[Argument]) -> Value:
    """The function's (top left) value as a cell gets it."""
    cell = sheet.getCellByPosition(0, 0)
    cell.setFormula(formula(name, arguments))
    if cell.getError():
        return {"error": cell.getError()}
    text, value = str(cell.getString()), float(cell.getValue())
    return text if cell.FormulaResultType2 == FORMULA_TEXT else value


def in_cells(sheet: Uno, name: str, arguments: list[Argument], high: int, wide: int) -> list[list[Value]]:
    """The function's rows as an array formula of that size shows them."""
    box = (0, FAR_COLUMN, 0, FAR_COLUMN + wide - 1, high - 1)
    sheet.getCellRangeByPosition(*box[1:]).setArrayFormula(formula(name, arguments))
    return cells.read_block(Opened(scratch_book()), box, [box])[box]


def call(name: str, arguments: list[Any]) -> Any:
    """A built-in function by its English name, or an add-in's by its programmatic name; see Office.call."""
    sheet = scratch_sheet()
    ready: list[Argument] = []
    top = 1
    for one in arguments:
        if isinstance(one, list):
            ready.append(on_sheet(sheet, top, one))
            top += len(one)
        else:  # True itself is passed over by some functions, as in LINEST
            ready.append(float(one) if isinstance(one, bool) else one)
    context = Worker.context
    access = context.ServiceManager.createInstanceWithContext("com.sun.star.sheet.FunctionAccess", context)
    try:
        answer = access.callFunction(name, tuple(ready))
    except (IllegalArgumentException, NoSuchElementException):
        answer = None
    if is_error(answer):
        return in_a_cell(sheet, name, ready)
    if not isinstance(answer, tuple):
        return answer
    if any(is_error(one) for row in answer for one in row):
        return in_cells(sheet, name, ready, len(answer), len(answer[0]))
    return [list(row) for row in answer]


def stops(number: int, sheet: str, most: int) -> list[str]:
    """The cells that Tab comes to on a protected sheet, from the first one until it is there again."""
    document = opened(number).document
    controller = document.CurrentController
    context = Worker.context
    helper = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.DispatchHelper", context)

    def press(command: str) -> str:
        helper.executeDispatch(controller.Frame, f".uno:{command}", "", 0, ())
        at = document.CurrentSelection.RangeAddress
        return cells.address(at.StartColumn, at.StartRow)

    controller.setActiveSheet(document.Sheets.getByName(sheet))
    controller.select(document.Sheets.getByName(sheet).getCellByPosition(0, 0))
    press("GoDown")  # by itself `select` makes a marked range, in which Tab would go round
    found: list[str] = []
    while len(found) < most:
        cell = press("JumpToNextUnprotected")
        if found and cell == found[0]:
            break
        found.append(cell)
    return found


OPERATIONS: dict[str, Callable[..., Any]] = {
    "open": open_book,
    "close": close_book,
    "save": save,
    "get": cells.get,
    "shown": cells.shown,
    "formulas": cells.formulas,
    "sheet_names": cells.sheet_names,
    "write": cells.write,
    "edit": cells.edit,
    "edits": cells.edits,
    "undo": cells.undo,
    "differences": cells.differences,
    "stops": stops,
    "recalculate": cells.recalculate,
    "call": call,
}


class Worker(unohelper.Base, XJob):
    """The object that the bridge calls."""

    context: Uno = None

    def __init__(self, context: Uno) -> None:
        Worker.context = context

    def execute(self, arguments: Uno) -> str:
        """Carry out the one request in `arguments`; errors are answers too."""
        try:
            operation, values = json.loads(arguments[0].Value)
            return json.dumps({"ok": OPERATIONS[operation](**values)})
        except RefusedError as error:
            return json.dumps({"error": str(error)})
        except Exception as error:
            text = getattr(error, "Message", None) or str(error)
            return json.dumps({"error": f"LibreOffice: {type(error).__name__.rsplit('.', 1)[-1]} {text}".strip()})


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 the name the loader looks for
g_ImplementationHelper.addImplementation(Worker, "sheetfuncs.Worker", ("sheetfuncs.Worker",))
