"""What depends on the version alone, kept from one run to the next in the user's own folder for such things.

It is plain data, packed: nothing in it can run. A file is named by a digest of all sources, so that no other version
reads it. One that is damaged, or that others could have written, is passed over and made again; nothing is an error.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
import sys
import tempfile
import zlib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

import openpyxl
import platformdirs

import sheetfuncs

Made = TypeVar("Made")

SOURCES, SUFFIX = (".py", ".csv", ".toml"), ".kept"
LARGEST = 100_000_000
"""Bytes of what is unpacked; a template has 13 million."""

MOST_FILES = 6
"""Files that are kept; those not used for longest make room."""

NOT_READ = (OSError, ValueError, TypeError, LookupError, AttributeError, RecursionError, zlib.error)
OTHERS = stat.S_IWGRP | stat.S_IWOTH


def folder() -> Path:
    """Where the files are."""
    return platformdirs.user_cache_path("sheetfuncs", appauthor=False)


def kept(about: object, make: Callable[[], Made], data_of: Callable[[Made], Any], back: Callable[[Any], Made]) -> Made:
    """What `make` gives, from an earlier run where it is there; `about` says in plain data what it follows from.

    `data_of` makes plain data of it, and `back` makes it of them again.
    """
    path = _path(about)
    if path is None:
        return make()
    with contextlib.suppress(*NOT_READ):
        return back(_read(path))
    made = make()
    with contextlib.suppress(OSError):
        _write(path, data_of(made))
    return made


@lru_cache(maxsize=1)
def version() -> str:
    """A digest of all sources, and of what else the data follow from; empty where they can't be read as files."""
    digest, found = hashlib.sha256(f"{sys.version} {openpyxl.__version__}".encode()), False
    with contextlib.suppress(OSError):
        for root in (Path(sheetfuncs.__file__).parent, Path(__file__).parents[1]):
            for path in sorted(root.rglob("*")):
                if path.suffix in SOURCES:
                    content = path.read_bytes()
                    digest.update(f"{path.relative_to(root)} {len(content)} ".encode() + content)
                    found = True
        return digest.hexdigest() if found else ""
    return ""


def _path(about: object) -> Path | None:
    if now := version():
        return folder() / f"{hashlib.sha256(json.dumps([now, about]).encode()).hexdigest()[:40]}{SUFFIX}"
    return None


def _read(path: Path) -> Any:
    """The data of a file; one of NOT_READ where it is damaged or not there, or where others could have written it."""
    for one in (path.parent, path):
        about = one.lstat()
        if about.st_mode & OTHERS or about.st_uid != _user(about.st_uid):
            raise ValueError(f"{one} may be of somebody else")
    os.utime(path)  # the last used is the last to make room
    unpacked = zlib.decompressobj()
    text = unpacked.decompress(path.read_bytes(), LARGEST)
    if not unpacked.eof:
        raise ValueError(f"{path} is cut off")
    return json.loads(text)


def _user(otherwise: int) -> int:
    """The number of the user; Windows has none, there the folder of a user is closed to others."""
    return os.getuid() if sys.platform != "win32" else otherwise


def _write(path: Path, data: Any) -> None:
    """A file, whole or not at all."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, suffix=SUFFIX)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(zlib.compress(json.dumps(data, separators=(",", ":")).encode(), 1))
        Path(name).replace(path)
    finally:
        Path(name).unlink(missing_ok=True)
    for old in sorted(path.parent.glob(f"*{SUFFIX}"), key=lambda one: one.stat().st_mtime)[:-MOST_FILES]:
        old.unlink(missing_ok=True)
