"""Writes the type library of an interface in LibreOffice's own binary format, so that no SDK is needed.

    file       "UNOIDL" FF 00, offset and number of entries of the root map, a comment, data
    string     at its first use its length and UTF-8; later 0x80000000 + the offset of the first use
    interface  05, bases, optional bases, attributes, methods; each list starts with its length
    method     name, result, parameters (each 00, name, type), exceptions
    map        pairs of offsets: a name that ends in NUL, and its record

All numbers are 32 bits, little endian. Found by reading what the SDK's `unoidl-write` makes; tests/calc holds a
sample of that, which this module gives byte for byte.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from typing import NamedTuple

BASE = "com.sun.star.uno.XInterface"

MODULE, INTERFACE = b"\0", b"\5"
PARAMETER_IN = b"\0"
SEEN_BEFORE = 0x80000000
HEADER = struct.Struct("<8sII")
NONE = struct.pack("<I", 0)


class Method(NamedTuple):
    """One method: result and parameter types as in "any", "[][]any", "double", "string", "long"."""

    name: str
    result: str
    parameters: tuple[tuple[str, str], ...]
    """Name and type of each."""


def type_library(interface: str, methods: Sequence[Method], comment: str = "") -> bytes:
    """The type library that declares one interface, its full name with dots.

    >>> library = type_library("org.sample.XOne", [Method("one", "any", (("cell", "any"),))])
    >>> library[:8], library.count(b"any")
    (b'UNOIDL\\xff\\x00', 1)
    """
    out = bytearray(HEADER.size)
    out += b"\0" + comment.encode() + b"\0" if comment else b""
    *modules, name = interface.split(".")
    at = len(out)
    _write_interface(out, methods)
    for module in reversed(modules):
        entry = _write_map(out, name, at)
        at = len(out)
        out += MODULE + struct.pack("<I", 1) + entry
        name = module
    root = _write_map(out, name, at)
    HEADER.pack_into(out, 0, b"UNOIDL\xff\0", len(out), 1)
    return bytes(out + root)


def _write_interface(out: bytearray, methods: Sequence[Method]) -> None:
    seen: dict[str, int] = {}

    def text(value: str) -> None:
        nonlocal out
        if value in seen:
            out += struct.pack("<I", SEEN_BEFORE | seen[value])
            return
        seen[value] = len(out)
        out += struct.pack("<I", len(value.encode())) + value.encode()

    out += INTERFACE + struct.pack("<I", 1)
    text(BASE)
    out += NONE + NONE + struct.pack("<I", len(methods))
    for method in methods:
        text(method.name)
        text(method.result)
        out += struct.pack("<I", len(method.parameters))
        for name, kind in method.parameters:
            out += PARAMETER_IN
            text(name)
            text(kind)
        out += NONE


def _write_map(out: bytearray, name: str, at: int) -> bytes:
    """Write the name; the map of one entry that points to it and to its record."""
    entry = struct.pack("<II", len(out), at)
    out += name.encode() + b"\0"
    return entry
