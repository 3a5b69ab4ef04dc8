"""What a spreadsheet program would repair or refuse in a workbook file, though its XML is valid.

The file format's schema says nothing of formulas, names, tables and much else. These are the rules that it leaves
out, as Microsoft documents them or as programs are known to hold them.
"""

from __future__ import annotations

import os

from workbook_template.rules.cells import cell_faults, layout_faults, link_faults
from workbook_template.rules.guides import conditional_faults, table_faults, validation_faults
from workbook_template.rules.names import name_faults, name_formula_faults, sheet_name_faults, surroundings
from workbook_template.rules.package import package_faults
from workbook_template.rules.parts import Fault, open_package, parse, read_parts, relations
from workbook_template.rules.styles import style_faults
from workbook_template.rules.traps import Shape, trap_faults

__all__ = ["Fault", "check"]


def check(path: str | os.PathLike[str], clean: set[Shape] | None = None) -> list[Fault]:
    """Every broken rule of an .xlsx or .xlsm file, in the order of the file; an empty list for a good one.

    `clean`, for several files of the same program, keeps the formulas that had no trap (`trap_faults`).
    """
    parts, faults = open_package(os.fspath(path))
    trees, unread = parse(parts)
    related = relations(trees)
    faults += [*unread, *package_faults(parts, trees, related)] if parts else []
    book = read_parts(trees, related)
    if book is None:
        return faults or [Fault("", "", "the file holds no workbook")]
    around = surroundings(book)
    faults += [
        *sheet_name_faults(book),
        *name_faults(book),
        *name_formula_faults(book, around),
        *style_faults(book),
        *table_faults(book, around),
    ]
    for sheet in book.sheets:
        here = around._replace(sheet=sheet.name.lower())
        faults += [
            *cell_faults(book, sheet, here),
            *layout_faults(book, sheet),
            *link_faults(book, sheet, here),
            *validation_faults(book, sheet, here),
            *conditional_faults(book, sheet, here),
        ]
    faults += trap_faults(book, set() if clean is None else clean)
    return faults
