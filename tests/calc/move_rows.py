"""Deletes or inserts rows and columns of a workbook in LibreOffice, as a person does it, and saves it.

Runs under the Python that has `uno`: the folder of bridge.py, the soffice command, the profile's URL, a workbook, and
as JSON the files to save, each with its changes: sheet, "Rows" or "Columns", the first from 0, how many (negative to
delete).
"""

from __future__ import annotations

import json
import sys


def main(folder: str, command: str, profile: str, path: str, asked: str) -> None:
    """Change and save."""
    sys.path.insert(0, folder)
    import uno
    from bridge import connect, end
    from com.sun.star.beans import PropertyValue

    process, context = connect(command, profile)
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    hidden = (PropertyValue("Hidden", 0, True, 0),)
    kind = (PropertyValue("FilterName", 0, "Calc MS Excel 2007 XML", 0),)
    for saved, changes in json.loads(asked).items():
        document = desktop.loadComponentFromURL(uno.systemPathToFileUrl(path), "_blank", 0, hidden)
        for title, what, first, count in changes:
            sheet = document.Sheets.getByName(title)
            sheet.unprotect("")
            bands = getattr(sheet, what)
            if count < 0:
                bands.removeByIndex(first, -count)
            else:
                bands.insertByIndex(first, count)
            sheet.protect("")
        document.storeToURL(uno.systemPathToFileUrl(saved), kind)
        document.close(True)
    end(process, context)


if __name__ == "__main__":
    main(*sys.argv[1:])
