"""Asks LibreOffice what its function wizard shows, and how a workbook stands after loading.

Runs under the Python that has `uno`: the folder of bridge.py, the soffice command, the profile's URL, a workbook.
"""

from __future__ import annotations

import json
import sys


def wizard(context) -> dict:
    """Help, and name and help of each argument, of every thread function."""
    described = context.ServiceManager.createInstanceWithContext("com.sun.star.sheet.FunctionDescriptions", context)
    found = {}
    for number in range(described.getCount()):
        one = {item.Name: item.Value for item in described.getByIndex(number)}
        if one["Name"].startswith("THREAD_"):
            found[one["Name"]] = [one["Description"], [[a.Name, a.Description] for a in one["Arguments"]]]
    return found


def after_loading(context, path: str) -> dict:
    """Whether a workbook counts as changed once it is loaded, and its defined names."""
    import uno
    from com.sun.star.beans import PropertyValue

    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    hidden = (PropertyValue("Hidden", 0, True, 0),)
    document = desktop.loadComponentFromURL(uno.systemPathToFileUrl(path), "_blank", 0, hidden)
    value = document.Sheets.getByIndex(0).getCellRangeByName("C1").Value
    return {"changed": document.isModified(), "names": list(document.NamedRanges.ElementNames), "C1": value}


def main(folder: str, command: str, profile: str, path: str) -> None:
    """Print both as JSON."""
    sys.path.insert(0, folder)
    from bridge import connect, end

    process, context = connect(command, profile)
    print(json.dumps({"wizard": wizard(context), "loaded": after_loading(context, path)}))
    end(process, context)


if __name__ == "__main__":
    main(*sys.argv[1:])
