"""`collect`: the logs of a folder's workbooks into one register, on all cores; what is in already is not read again."""

from __future__ import annotations

import contextlib
import hashlib
import multiprocessing
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from workbook_template.file import placing
from workbook_template.read_back import register, server
from workbook_template.read_back.opening import LARGEST_FILE, READABLE, Unreadable
from workbook_template.read_back.readings import Collected, collected
from workbook_template.read_back.register import NoRegister

STEPS = 20
"""Lines of progress where it does not go to a screen."""


class Outcome(NamedTuple):
    """What became of one file: its content, or a sentence why it was passed over, or neither: it is in already."""

    file: str
    found: Collected | None = None
    sentence: str = ""


class Summary(NamedTuple):
    """What a run did."""

    files: int
    read: int
    added: int
    differing: int
    passed_over: list[str]
    loaded: int | None = None


def workbooks(folder: Path, leave: tuple[Path, ...] = ()) -> list[Path]:
    """The workbooks of a folder and those below it, in order; not hidden ones, nor those that are being edited."""
    if not folder.is_dir():
        raise NoRegister(f"there is no folder {folder}")
    left = {one.resolve() for one in leave}
    found = (one for one in folder.rglob("*") if one.suffix.lower() in READABLE)
    return sorted(one for one in found if not one.name.startswith((".", "~$")) and one.resolve() not in left)


def collect(
    folder: Path,
    xlsx: Path | None,
    *,
    csv: Path | None = None,
    db: Path | None = None,
    to: str | None = None,
    say: Callable[[str], None],
) -> Summary:
    """Bring a register up to date; NoRegister where it can't be. Each output is replaced whole or not at all.

    `to` is the address of a PostgreSQL server that the whole register is loaded into.
    """
    outputs = [one for one in (xlsx, csv, db) if one is not None]
    for one in outputs:
        if not one.parent.is_dir():
            raise NoRegister(f"there is no folder {one.parent}; make it first")
    files = workbooks(folder, tuple(outputs))
    with contextlib.ExitStack() as stack:
        for one in outputs:
            if one != db:
                stack.enter_context(placing.alone(one))
        connection = stack.enter_context(register.opened(db))
        if xlsx is not None and xlsx.exists():
            register.load_xlsx(connection, xlsx, heads_alone=bool(register.known(connection)))
        summary = _fill(connection, folder, files, say)
        if xlsx is not None:
            register.write_xlsx(connection, xlsx)
        if csv is not None:
            register.write_csv(connection, csv)
        loaded = server.load(connection, to) if to else None
    return summary._replace(loaded=loaded)


def _fill(connection: register.Connection, folder: Path, files: list[Path], say: Callable[[str], None]) -> Summary:
    read = added = differing = 0
    passed_over: list[str] = []
    step = max(1, len(files) // STEPS)
    for number, one in enumerate(outcomes(folder, files, register.known(connection)), start=1):
        if one.sentence:
            passed_over.append(one.sentence)
        elif one.found is not None:
            read += 1
            added += register.add(connection, one.found)
            differing += one.found.workbook["differing"]
        if sys.stderr.isatty() or number % step == 0 or number == len(files):
            say(f"{number} of {len(files)} workbooks, {added} new readings, {len(passed_over)} passed over")
    return Summary(len(files), read, added, differing, passed_over)


def outcomes(folder: Path, files: list[Path], known: set[str]) -> Iterator[Outcome]:
    """What becomes of each file, in order, worked out on all cores."""
    work = [(str(one), one.relative_to(folder).as_posix()) for one in files]
    cores = min(os.cpu_count() or 1, len(work))
    if cores < 2:
        _begin(known)
        yield from map(_one, work)
        return
    with multiprocessing.get_context("spawn").Pool(cores, _begin, (known,)) as pool:
        yield from pool.imap(_one, work, chunksize=4)


_KNOWN: set[str] = set()


def _begin(known: set[str]) -> None:
    """What a worker process must know."""
    _KNOWN.clear()
    _KNOWN.update(known)


def _one(work: tuple[str, str]) -> Outcome:
    path, name = Path(work[0]), work[1]
    try:
        if _KNOWN and path.stat().st_size <= LARGEST_FILE and _digest(path) in _KNOWN:
            return Outcome(name)
        return Outcome(name, collected(path, name))
    except Unreadable as error:
        return Outcome(name, sentence=error.sentence)
    except OSError as error:
        return Outcome(name, sentence=f"{path} can't be read: {error.strerror}")
    except (MemoryError, RecursionError, ArithmeticError, LookupError, TypeError, ValueError) as error:
        # one odd file must not stop a thousand: it is named, with what went wrong
        return Outcome(name, sentence=f"{path} can't be read ({type(error).__name__}: {error}); look at it by itself")


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
