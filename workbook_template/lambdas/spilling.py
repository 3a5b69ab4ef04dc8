"""The marks of formulas that may spill: without them Excel takes a call of a LAMBDA for one of old, and shows @ in it.

A cell with such a formula points to a line of the part metadata.xml, which says that its range follows the answer. The
library that writes the file knows neither, so they are put into the finished file.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable

METADATA = "xl/metadata.xml"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_DYNAMIC = "http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray"
_LINK = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/sheetMetadata"
_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml"

CONTENT = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    f'<metadata xmlns="{_MAIN}" xmlns:xda="{_DYNAMIC}">'
    '<metadataTypes count="1"><metadataType name="XLDAPR" minSupportedVersion="120000" copy="1" pasteAll="1" '
    'pasteValues="1" merge="1" splitFirst="1" rowColShift="1" clearFormats="1" clearComments="1" assign="1" '
    'coerce="1" cellMeta="1"/></metadataTypes>'
    '<futureMetadata name="XLDAPR" count="1"><bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}">'
    '<xda:dynamicArrayProperties fDynamic="1" fCollapsed="0"/></ext></extLst></bk></futureMetadata>'
    '<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>'
)
"""One kind of metadata, that of a dynamic array, and one line that cells point to."""

_ADDED = {
    "[Content_Types].xml": ("</Types>", f'<Override PartName="/{METADATA}" ContentType="{_TYPE}"/>'),
    "xl/_rels/workbook.xml.rels": (
        "</Relationships>",
        f'<Relationship Id="rIdMetadata" Type="{_LINK}" Target="/{METADATA}"/>',
    ),
}
"""What each of these parts has before its end."""


def mark(content: bytes, part: str, cells: Iterable[str]) -> bytes:
    """The file with the formulas of these cells of a sheet's part marked."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        for info in old.infolist():
            data = old.read(info)
            if info.filename == part:
                data = _marked(data.decode(), set(cells)).encode()
            elif info.filename in _ADDED:
                end, added = _ADDED[info.filename]
                data = data.decode().replace(end, added + end).encode()
            new.writestr(info, data)
        like = zipfile.ZipInfo(METADATA, old.infolist()[0].date_time)
        like.compress_type = zipfile.ZIP_DEFLATED
        new.writestr(like, CONTENT)
    return stream.getvalue()


def _marked(sheet: str, cells: set[str]) -> str:
    """
    >>> _marked('<c r="D9" s="2"><f>MINE(1)</f><v>1</v></c>', {"D9"})
    '<c r="D9" s="2" cm="1"><f t="array" ref="D9">MINE(1)</f><v>1</v></c>'
    """

    def with_mark(found: re.Match[str]) -> str:
        place, rest = found[1], found[2]
        if place not in cells:
            return found[0]
        return f'<c r="{place}"{rest} cm="1"><f t="array" ref="{place}">'

    return re.sub(r'<c r="([A-Z]+\d+)"([^>]*)><f>', with_mark, sheet)
