"""Filled workbooks for the tests of reading back: one lot of studs, and the same file changed by hand."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from lxml import etree
from whole_books import with_few_threads
from workbook_cases import Sample, sample_of

from sheetfuncs import standards
from workbook_template.file import store
from workbook_template.office import Office
from workbook_template.rules.parts import spell_out

THREAD = "3/4-16 UNF-2A"
SPECIAL = "0.9-14 UNS-2A"
LATER, GONE = date(2027, 1, 1), date(2026, 2, 1)

# serial, over wires 1a, 1b, 2a, direct, crest, ring, gauge, instrument, wires, who, when, why
LOT: tuple[tuple[Any, ...], ...] = (
    ("1", 0.7598, 0.7599, 0.7597, None, 0.7442, "pass", "R-1", "M-7", "W-12", "inspector", date(2026, 3, 5), None),
    ("2", 0.7621, None, None, None, 0.7485, None, None, "M-7", "W-12", "inspector", date(2026, 3, 6), None),
    ("3", 0.7622, None, None, None, 0.7486, None, None, "M-7", "W-12", "inspector", date(2026, 3, 7), None),
    ("4", 0.7571, None, None, None, 0.7391, None, None, "m-7", "w-12", "inspector", date(2026, 4, 1), None),
    ("5", 0.7570, None, None, None, 0.7390, None, None, "M-7", "W-12", "inspector", date(2026, 7, 1), None),
    ("6", 0.7600, None, None, None, 0.7440, None, None, "M-8", "W-12", "inspector", date(2026, 3, 8), None),
    ("7", 0.7600, None, None, None, 0.7440, None, None, "M-99", "W-12", "inspector", date(2026, 3, 8), None),
    ("8", 0.7600, None, None, None, 0.7440, None, None, "M-7", None, "inspector", date(2026, 3, 9), None),
    ("9", "0.7600 ?", None, None, None, 0.7440, None, None, "M-7", "W-12", "inspector", date(2026, 3, 9), None),
    ("10", 19.3, None, None, None, 0.7440, None, None, "M-7", "W-12", "inspector", date(2026, 3, 9), None),
    ("11", None, None, None, 0.7052, 0.7441, "go fails", "R-1", "T-2", None, "inspector", date(2026, 3, 9), None),
    ("12", 0.7630, None, None, None, 0.7441, None, None, "M-7", "W-12", "inspector", date(2026, 3, 9), None),
    ("12", 0.7603, None, None, None, 0.7441, None, None, "M-7", "W-12", "chief", date(2026, 3, 9), "misread"),
    ("13", None, None, None, None, None, None, None, None, None, None, None, None),
    ("14", 0.7605, None, None, None, 0.7441, None, None, "M-7", "W-9", "inspector", date(2026, 3, 9), None),
)
COLUMNS = ("serial", "reading", "reading_1b", "reading_2a", "direct", "crest", "ring", "gauge", "instrument", "wires",
           "who", "when", "why")  # fmt: skip

# By hand. ASME B1.1-2003, Table 2A: pitch .7079/.7029, major .7485/.7391; over wires .0361, + 3 W - .866025 P: .7621
# and .7571. W-9, .0363 in the mean, reads .0006 more, so .7605 is .7057.
PITCH_RESULTS = (
    *("in", "in", "high", "in", "low", "check instrument", "check instrument", "in", "check entry", "check entry"),
    *("in", "replaced", "in", "not measured", "in"),
)
CREST_RESULTS = (
    *("in", "in", "high", "in", "low", "check instrument", "check instrument", "in", "in", "in"),
    *("in", "replaced", "in", "not measured", "in"),
)
RING_RESULTS = ("in", *("",) * 9, "high", "replaced", "", "", "")


class Filled(NamedTuple):
    """A file, as it is built with stored values, and what is asked of the workbook it was made from."""

    sample: Sample
    built: Path


def values(**others: Any) -> dict[str, Any]:
    """Inputs by name."""
    given: dict[str, Any] = {
        "job_number": "J-2041",
        "customer": "Pump works of the valley (invented)",
        "part": "Stud 77",
        "drawing": "D-77",
        "revision": "B",
        "job_date": date(2026, 3, 1),
        "quantity": 15,
        "tip_kind": "nose radius",
        "tip_size": 0.008,
        "blank_measured": 0.744,
        "aim_limit": "mid",
        "compound_angle": 29.5,
        "dial_division": 0.001,
        "passes": 10,
        "finishing_pass": 0.002,
        "spring_passes": 2,
        "reading_now": 0.7641,
        "wire_set": "W-12",
        "decision_rule": "simple",
        "as_of": date(2026, 3, 10),
        "instrument_id": ["M-7", "M-8", "T-2", "R-1"],
        "instrument_kind": ["micrometer", "micrometer", "thread micrometer", "GO ring"],
        "instrument_thread": [None, None, None, "3/4-16 UNF-2A GO"],
        "instrument_due": [LATER, GONE, LATER, LATER],
        "wires_id": ["W-12", "W-9"],
        "wires_a": [0.0361, 0.0363],
        "wires_b": [0.0361, 0.0363],
        "wires_c": [0.0361, 0.0363],
        "wires_due": [LATER, LATER],
    }
    for at, name in enumerate(COLUMNS):
        given[f"log_{name}"] = [row[at] for row in LOT]
    return given | others


def fill() -> tuple[Sample, bytes]:
    """Build, fill, and store the computed values."""
    book = with_few_threads([standards.read(text) for text in (THREAD, SPECIAL)], values=values())
    return sample_of(book), store.package(book, store.compute(book))


def save(office: Office, filled: Filled, folder: Path) -> Path:
    """The same workbook opened in LibreOffice; something is typed, and it is saved."""
    plain, saved = folder / "plain.xlsx", folder / "saved.xlsx"
    plain.write_bytes(filled.sample.content)
    with office.open(plain) as document:
        document.set({"made_by": "turner"})
        return document.save_as(saved)


def with_name(content: bytes, name: str, cells: str) -> bytes:
    r"""The file with the name of a range standing for other cells, of which \1 is its first; without any, gone."""
    book = part(content, "xl/workbook.xml").decode()
    named = rf'<definedName name="{name}"[^>]*>([^<:]*):[^<]*</definedName>'
    changed, count = re.subn(named, cells and rf'<definedName name="{name}">{cells}</definedName>', book)
    assert count == 1, name
    return with_parts(content, {"xl/workbook.xml": changed.encode()})


def with_parts(content: bytes, parts: Mapping[str, bytes | None]) -> bytes:
    """The package with parts replaced or added; None leaves one out. The others are taken over as they are packed."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for one in old.infolist():
            if one.filename not in parts:
                _take_over(content, one, new)
        for name, data in parts.items():
            if data is not None:
                new.writestr(name, data, compresslevel=1)
    return stream.getvalue()


def _take_over(content: bytes, part: zipfile.ZipInfo, new: zipfile.ZipFile) -> None:
    """A part of another package, not unpacked: most are large, and few are changed. zipfile itself can't do that."""
    name, extra = (int.from_bytes(content[part.header_offset + at :][:2], "little") for at in (26, 28))
    begin = part.header_offset + 30 + name + extra
    part.header_offset, part.flag_bits = new.fp.tell(), part.flag_bits & ~0x08  # its sizes stand before it now
    new.fp.write(part.FileHeader())
    new.fp.write(content[begin : begin + part.compress_size])
    new.filelist.append(part)
    new.NameToInfo[part.filename] = part
    new.start_dir, new._didModify = new.fp.tell(), True


@lru_cache(maxsize=8)
def part(content: bytes, name: str) -> bytes:
    """One part of a package; of a sheet in full, each cell with its address and its own formula."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        data = package.read(name)
    if not name.startswith("xl/worksheets/sheet"):
        return data
    root = etree.fromstring(data)
    spell_out(root)
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True)


def sheet_part(filled: Filled, title: str) -> str:
    """The part of a sheet in a built file."""
    return f"xl/worksheets/sheet{filled.sample.titles.index(title) + 1}.xml"


def cell_of(filled: Filled, name: str, at: int = 0) -> tuple[str, str]:
    """Sheet and address of a defined name's cell, or of a later one of its column."""
    entry = next(one for one in filled.sample.entries if one.name == name)
    letters, row = re.match(r"([A-Z]+)(\d+)", entry.ref).groups()
    return entry.sheet, f"{letters}{int(row) + at}"


def changed_cell(filled: Filled, text: str, name: str, inner: str, at: int = 0, kind: str = "") -> str:
    """The XML of a sheet in which the cell of a name holds something else: what is inside its element, and its type."""
    _, address = cell_of(filled, name, at)
    pattern = re.compile(rf'<c r="{address}"( s="\d+")?[^>]*?(/>|>.*?</c>)', re.DOTALL)
    changed, count = pattern.subn(rf'<c r="{address}"\1{kind}>{inner}</c>', text, count=1)
    assert count == 1
    return changed


def text(value: str) -> tuple[str, str]:
    return f"<is><t>{value}</t></is>", ' t="inlineStr"'


def edited(filled: Filled, **cells: Any) -> bytes:
    """The built file with other inputs: name=text, or name=(row of the column, number)."""
    content, parts = filled.built.read_bytes(), {}
    for name, value in cells.items():
        entry = next(one for one in filled.sample.entries if one.name == name)
        where = sheet_part(filled, entry.sheet)
        xml = parts.get(where) or part(content, where).decode()
        at, inner, kind = (0, *text(value)) if isinstance(value, str) else (value[0], f"<v>{value[1]}</v>", "")
        parts[where] = changed_cell(filled, xml, name, inner, at, kind)
    return with_parts(content, {name: xml.encode() for name, xml in parts.items()})


def canonical(data: Any) -> str:
    """The canonical form, written a second time from its description in the guide."""
    if isinstance(data, dict):
        return "{" + ",".join(f"{json.dumps(key)}:{canonical(data[key])}" for key in sorted(data)) + "}"
    if isinstance(data, list):
        return "[" + ",".join(map(canonical, data)) + "]"
    if isinstance(data, float):
        shown = repr(float(format(data, ".12g")))
        return shown.removesuffix(".0")
    return json.dumps(data, ensure_ascii=False)
