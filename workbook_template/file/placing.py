"""Puts a finished file in its place, whole or not at all, whenever the machine stops, whoever else is saving.

The content is written to a file beside it, forced to the disk, and takes the name in one step. An old file first gets a
second name of its own and loses the first one only in that step, so at no moment is there neither.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import stat
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

TEMPORARY, LOCK = ".part", ".lock"
"""Endings of what stands beside a file while it is written; both begin with a dot."""

_RANDOM = "[a-z0-9_]{8}"
"""What `tempfile` puts into a name."""


class NotPlaced(Exception):
    """Nothing was written; one sentence says why."""


def unwritten(error: OSError) -> str:
    """The sentence for a file that the machine refuses."""
    return f"{error.filename or 'the file'} can't be written: {error.strerror}"


Seen = tuple[int, int, int] | None
"""How a file looked: its number on the disk, when it was changed, its size; None for no file."""


def seen(path: Path) -> Seen:
    """How the file looks now."""
    try:
        about = path.stat()
    except OSError:
        return None
    return about.st_ino, about.st_mtime_ns, about.st_size


def with_ending(text: str, endings: tuple[str, ...]) -> Path:
    """The path of a file that is to be written; NotPlaced where it has none of the endings."""
    path = Path(text)
    if path.suffix.lower() not in endings:
        raise NotPlaced(f"{text} does not end in {' or '.join(endings)}; name the file as in job{endings[0]}")
    return path


def refuse_taken(path: Path, *, replace: bool = False, way_out: str = "") -> None:
    """NotPlaced where there is no folder for the file, or a file already that is not to be replaced."""
    if not path.parent.is_dir():
        raise NotPlaced(f"there is no folder {path.parent}; make it first")
    if path.exists() and not replace:
        raise NotPlaced(f"{path} is there already; choose another name{way_out}")


def place_or_say(content: bytes, path: Path, *, replace: bool = False, before: Seen = None) -> Path | None:
    """Like `place`; whatever hinders it is a NotPlaced, with its sentence."""
    try:
        return place(content, path, replace=replace, before=before)
    except OSError as error:
        raise NotPlaced(f"{path} can't be written: {error.strerror or 'a file of that name has appeared'}") from None


def place(content: bytes, path: Path, *, replace: bool = False, before: Seen = None) -> Path | None:
    """Write the file whole or not at all. FileExistsError where there is one already and `replace` is not given.

    With `replace` the old file stays beside the new one under a numbered name, which is returned. `before` is how it
    looked when the work began: NotPlaced where somebody has saved it since, is saving it now, or has it open.
    """
    with alone(path):
        if path.exists() and not replace:
            raise FileExistsError(path)
        _refuse_open(path)
        if before is not None and seen(path) != before:
            raise NotPlaced(f"{path} was saved by somebody else meanwhile; nothing was written, look at it first")
        with _written(content, path) as temporary:
            if not path.exists():
                _rename_new(temporary, path)
                return None
            kept = _second_name(path)
            temporary.replace(path)
            _to_disk(path.parent)
            return kept


def put(content: bytes, path: Path) -> None:
    """Write the file whole or not at all, in the place of an old one. The caller holds `alone`."""
    _refuse_open(path)
    with _written(content, path) as temporary:
        temporary.replace(path)
        _to_disk(path.parent)


@contextlib.contextmanager
def alone(path: Path) -> Iterator[None]:
    """Hold the file against others that use this too: NotPlaced where one holds it. It ends with the process."""
    lock = path.with_name(f".{path.name}{LOCK}")
    while True:
        with lock.open("a") as handle:
            if not _locked(handle):
                raise NotPlaced(f"somebody else is writing {path} at this moment; wait until it is done")
            try:
                if not lock.exists() or lock.stat().st_ino != os.fstat(handle.fileno()).st_ino:
                    continue  # the one before has just given it up and taken it away
                _sweep(path)
                yield
                return
            finally:
                with contextlib.suppress(OSError):
                    lock.unlink()


def _sweep(path: Path) -> None:
    """Take away what a run that was killed has left of this file; never what a living process still holds."""
    own = re.compile(rf"\.{re.escape(path.stem)}-{_RANDOM}{re.escape(TEMPORARY)}")
    with contextlib.suppress(OSError):
        for left in [one for one in path.parent.iterdir() if own.fullmatch(one.name)]:
            with contextlib.suppress(OSError), left.open("ab") as handle:
                if stat.S_ISREG(os.fstat(handle.fileno()).st_mode) and _locked(handle, unknown=False):
                    left.unlink()


def _locked(handle: IO[Any], *, unknown: bool = True) -> bool:
    """Take the lock of the system on an open file; it falls with the process, however that ends.

    `unknown` is the answer where the file system knows no locks.
    """
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return unknown  # a file system without locks: the steps below still lose nothing
    return True


def _refuse_open(path: Path) -> None:
    """A spreadsheet program that has the file open would save over the new one later."""
    for mark in (path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}")):
        if mark.exists() and path.exists():
            raise NotPlaced(f"{path} is open in a spreadsheet program; close it (or delete {mark.name} if nobody has)")


@contextlib.contextmanager
def _written(content: bytes, path: Path) -> Iterator[Path]:
    """The content in a file beside the place, on the disk."""
    file, temporary = _temporary(path)
    try:
        with file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
            temporary.chmod(0o666 & ~_mask())
            if LOCKS_HINDER:
                file.close()
            yield temporary
    finally:
        temporary.unlink(missing_ok=True)


LOCKS_HINDER = os.name == "nt"
"""Windows renames no open file; there nobody can take away an open one either."""


def _temporary(path: Path) -> tuple[IO[bytes], Path]:
    """A new file beside the place, held by this process as long as it is open, so that no other run sweeps it away."""
    while True:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem}-", suffix=TEMPORARY)
        file, temporary = os.fdopen(handle, "wb"), Path(name)
        if LOCKS_HINDER or (_locked(file) and temporary.exists()):
            return file, temporary
        file.close()  # another run took it for a leftover before it was held


def _rename_new(temporary: Path, path: Path) -> None:
    """Give the file its name unless another took it meanwhile; where links are unknown, by a plain rename."""
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except OSError:
        temporary.rename(path)
    _to_disk(path.parent)


def _second_name(path: Path) -> Path:
    """Give an old file a numbered name too: job.old1.xlsx, job.old2.xlsx and so on."""
    number = 0
    while True:
        number += 1
        kept = path.with_name(f"{path.stem}.old{number}{path.suffix}")
        if kept.exists():
            continue
        try:
            os.link(path, kept)
        except FileExistsError:
            continue
        except OSError:  # links are unknown: a whole copy, then its name
            with _written(path.read_bytes(), kept) as copy:
                shutil.copystat(path, copy)
                copy.rename(kept)
        return kept


def _to_disk(folder: Path) -> None:
    """The new names too are on the disk; a system that can't say so for a folder does it by itself."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _mask() -> int:
    """The permissions that new files of this process do not get."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
