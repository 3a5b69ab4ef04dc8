"""Opens a workbook that may be anything: what is no workbook, or is made to do harm, gets one sentence.

Nothing is unpacked to disk, no macro runs, no link is followed. The size that every part says it has is added up before
anything is inflated, and counted again while it is.
"""

from __future__ import annotations

import hashlib
import io
import posixpath
import re
import stat
import zipfile
import zlib
from pathlib import Path
from typing import Any

from lxml import etree

LARGEST_FILE = 64_000_000
LARGEST_PART = 128_000_000
LARGEST_TOTAL = 256_000_000
MOST_PARTS = 2000
MOST_TIMES = 100
"""Bytes, parts, and how many times a part may grow: a log of 2,000 rows grows to 17 MB, 10 times its packed size."""

MOST_TAGS = 8_000_000
"""Tags and attributes of one part: each takes far more room in memory than in the file."""

SMALL = 100_000
"""A part this small may grow any number of times: ten blanks in a row do."""

OLD_FORMAT = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
RELATIONS = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
READABLE = (".xlsx", ".xlsm")
OTHER_KINDS = (".ods", ".fods", ".ots", ".xls", ".xlsb", ".xlt", ".xltx", ".xltm")
"""What spreadsheet programs save workbooks as that are not read."""

_DECLARED = re.compile(rb"""\A\s*<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']""")

PARSING: dict[str, Any] = {
    "resolve_entities": False,
    "no_network": True,
    "huge_tree": False,
    "load_dtd": False,
}
"""How every part is parsed: no entity is resolved, nothing is fetched, the parser's own limits stay on."""


class Unreadable(Exception):
    """The file can't be read; one sentence says why."""

    @property
    def sentence(self) -> str:
        """The sentence."""
        return str(self)


class Package:
    """The parts of one file, in memory; made by `open_package`."""

    def __init__(self, path: Path, content: bytes, archive: zipfile.ZipFile, times: int = 1) -> None:
        self.path = path
        self.digest = hashlib.sha256(content).hexdigest()
        self.names = frozenset(archive.namelist())
        self.outside: list[str] = []
        self._archive = archive
        self._times = times
        self._inflated = 0

    @property
    def has_macros(self) -> bool:
        """Whether a macro project is among the parts."""
        return any(posixpath.basename(name).lower().startswith("vbaproject") for name in self.names)

    def part(self, name: str) -> bytes:
        """The content of one part; Unreadable where it is damaged, too large, or no plain XML."""
        if name not in self.names:
            raise Unreadable(f"{self.path} lacks its part {name}; it was damaged or is no workbook")
        pieces, size = [], 0
        try:
            with self._archive.open(name) as stream:
                while piece := stream.read(1 << 20):
                    pieces.append(piece)
                    size += len(piece)
                    self._inflated += len(piece)
                    if self._inflated > 4 * LARGEST_TOTAL * self._times or size > LARGEST_PART * self._times:
                        raise Unreadable(f"{self.path} grows beyond all measure when unpacked; it was not read on")
        except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, ValueError) as error:
            raise Unreadable(f"{self.path} is damaged in its part {name}; take a copy that opens") from error
        content = b"".join(pieces)
        if content.count(b"<") + content.count(b'="') > MOST_TAGS * self._times:
            raise Unreadable(f"{self.path} is larger in its part {name} than any log; it was not read on")
        _refuse_tricks(self.path, name, content)
        return content

    def tree(self, name: str) -> etree._Element:
        """A small part as a tree."""
        try:
            root: etree._Element = etree.fromstring(self.part(name), etree.XMLParser(**PARSING))
        except etree.XMLSyntaxError as error:
            raise Unreadable(f"{self.path} is damaged in its part {name}: it is no proper XML") from error
        return root

    def read_all(self, leave: frozenset[str]) -> None:
        """Read every part of XML once, but those to `leave`; Unreadable where one is damaged or leads outside."""
        for name in sorted(self.names - leave):
            if name.endswith(".rels"):
                folder, own = posixpath.split(name)
                self.relations(posixpath.join(posixpath.dirname(folder), own.removesuffix(".rels")))
            elif name.endswith((".xml", ".vml")):
                self.tree(name)

    def relations(self, part: str) -> dict[str, tuple[str, str]]:
        """The relationships of a part: id -> (kind, target part); those that lead outside are kept apart."""
        folder, own = posixpath.split(part)
        place = posixpath.join(folder, "_rels", f"{own}.rels")
        if place not in self.names:
            return {}
        found = {}
        for one in self.tree(place).iter(RELATIONS):
            kind, target = one.get("Type", "").rpartition("/")[2], one.get("Target", "")
            if one.get("TargetMode") == "External":
                if kind != "hyperlink":
                    raise Unreadable(f"{self.path} is linked to {target[:80]}; it was not opened")
                if target not in self.outside:
                    self.outside.append(target)
                continue
            found[one.get("Id", "")] = kind, posixpath.normpath(posixpath.join("/", folder, target))[1:]
        return found


def open_package(path: Path, times: int = 1) -> Package:
    """The file as a package of parts; Unreadable, with one sentence, where it is none that can be read.

    `times` widens the limits of size, for a register.
    """
    content = content_of(path, times)
    if content.startswith(OLD_FORMAT):
        raise Unreadable(f"{path} is protected by a password or of the old kind .xls; save it as .xlsx without one")
    if not content.startswith(b"PK"):
        raise Unreadable(f"{path} is no workbook: its content is not that of an .xlsx file")
    try:
        archive = zipfile.ZipFile(io.BytesIO(content))
        entries = archive.infolist()
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError) as error:
        raise Unreadable(f"{path} is cut off or damaged; take a copy that opens") from error
    _refuse_bomb(path, entries, len(content), times)
    _refuse_names(path, entries)
    package = Package(path, content, archive, times)
    if not any(name.lower().startswith("xl/workbook.") for name in package.names):
        raise Unreadable(f"{path} is no workbook: it is a package of another kind")
    if any(name.lower().startswith("xl/externallinks/") for name in package.names):
        raise Unreadable(f"{path} is linked to another workbook; break the link in the spreadsheet program first")
    if package.has_macros and path.suffix.lower() != ".xlsm":
        raise Unreadable(f"{path} holds macros, which an .xlsx file can't; it was not opened")
    return package


def content_of(path: Path, times: int = 1) -> bytes:
    """The bytes of a file; Unreadable where it is no file, or too large. A pipe or a device is never opened."""
    if path.suffix.lower() not in READABLE:
        raise Unreadable(f"{path} does not end in .xlsx; the records are read from the workbook itself")
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Unreadable(f"{path} is no file")
        if about.st_size > LARGEST_FILE * times:
            raise Unreadable(f"{path} has {about.st_size // 1_000_000} MB; a filled workbook has a few")
        return path.read_bytes()
    except OSError as error:
        raise Unreadable(f"{path} can't be read: {error.strerror}") from error


def _refuse_bomb(path: Path, entries: list[zipfile.ZipInfo], size: int, times: int) -> None:
    """Before anything is inflated: what the parts say they hold."""
    if len(entries) > MOST_PARTS:
        raise Unreadable(f"{path} has {len(entries)} parts; a workbook has some dozens, it was not opened")
    total = sum(one.file_size for one in entries)
    grows = [one for one in entries if one.file_size > max(SMALL, MOST_TIMES * one.compress_size)]
    too_large = total > LARGEST_TOTAL * times or any(one.file_size > LARGEST_PART * times for one in entries)
    if too_large or grows or sum(one.compress_size for one in entries) > size:
        raise Unreadable(f"{path} would unpack to {total // 1_000_000} MB, as no workbook does; it was not opened")
    if any(one.flag_bits & 1 for one in entries):
        raise Unreadable(f"{path} is protected by a password; save it without one")


def _refuse_names(path: Path, entries: list[zipfile.ZipInfo]) -> None:
    names = [one.filename for one in entries]
    for name in names:
        if name.startswith("/") or "\\" in name or ":" in name or ".." in name.split("/"):
            raise Unreadable(f"{path} has a part that would leave its folder ({name[:60]!r}); it was not opened")
    if len({name.lower() for name in names}) != len(names):
        raise Unreadable(f"{path} has a part twice, so it can be read in two ways; it was not opened")


def _refuse_tricks(path: Path, name: str, content: bytes) -> None:
    """Only UTF-8 without a document type: then no entity, inner or outer, can be declared at all."""
    declared = _DECLARED.match(content[:400])
    plain = declared is None or declared[1].lower() in (b"utf-8", b"us-ascii", b"ascii")
    if not plain or b"\0" in content[:400] or b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        raise Unreadable(f"{path} declares a document type or entities in its part {name}; it was not read on")
    if STRICT in content[:2000]:
        raise Unreadable(f"{path} is of the kind Strict Open XML; save it as an ordinary Excel workbook (.xlsx)")
