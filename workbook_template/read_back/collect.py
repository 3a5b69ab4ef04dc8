"""`collect`: the logs of a folder's workbooks into one register, on all cores; what is in already is not read again."""

from __future__ import annotations

import contextlib
import hashlib
import multiprocessing
import os
import sys
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import NamedTuple

from workbook_template.file import placing
from workbook_template.read_back import held, register, server
from workbook_template.read_back.opening import OTHER_KINDS, READABLE, Unreadable, content_of
from workbook_template.read_back.readings import Collected, collected
from workbook_template.read_back.register import NoRegister

STEPS = 20
"""Lines of progress where it does not go to a screen."""


class Outcome(NamedTuple):
    """What became of one file: its content, or a sentence why it was passed over, or the digest of one that is in."""

    file: str
    found: Collected | None = None
    sentence: str = ""
    known: str = ""


class Summary(NamedTuple):
    """What a run did."""

    files: int
    read: int
    added: int
    differing: int
    passed_over: list[str]
    loaded: int | None = None


class Listed(NamedTuple):
    """The workbooks of a folder, and a sentence for each place that could not be looked into."""

    files: list[Path]
    passed_over: list[str]


def workbooks(folder: Path, leave: tuple[Path, ...] = ()) -> Listed:
    """The workbooks of a folder and those below it, in order; not hidden ones, nor those that are being edited.

    One of another kind is named: a log may have been saved as such. A link to a folder is not followed: it may lead in
    a circle, or to the same files once more.
    """
    if not folder.is_dir():
        raise NoRegister(f"there is no folder {folder}")
    left = {os.path.realpath(one) for one in leave}
    found: list[Path] = []
    passed_over: list[str] = []

    def unreadable(error: OSError) -> None:
        passed_over.append(f"{error.filename} can't be read: {error.strerror}; nothing of that folder is in")

    for where, folders, files in os.walk(folder, onerror=unreadable):
        here = Path(where)
        links = [one for one in folders if (here / one).is_symlink()]
        passed_over += [f"{here / one} is a link to a folder; it was not followed" for one in sorted(links)]
        for name in files:
            one, kind = here / name, Path(name).suffix.lower()
            if name.startswith((".", "~$")) or os.path.realpath(one) in left:
                continue
            if kind in READABLE:
                found.append(one)
            elif kind in OTHER_KINDS:
                passed_over.append(f"{one} was not read: a log is read from an .xlsx; save it as one")
    return Listed(sorted(found), passed_over)


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
    if to is not None:
        server.reach(to)
    listed = workbooks(folder, tuple(outputs))
    with contextlib.ExitStack() as stack:
        for one in outputs:
            if one != db:
                stack.enter_context(placing.alone(one))
        connection = stack.enter_context(register.opened(db))
        if xlsx is not None and xlsx.exists():
            register.load_xlsx(connection, xlsx, heads_alone=register.is_begun(connection))
        summary = _fill(connection, folder, listed, _here(folder, listed, db or xlsx), say)
        loaded = None if to is None else server.load(connection, to)
        try:
            register.write(connection, xlsx, csv)
        except (OSError, placing.NotPlaced) as error:
            if to is None:
                raise
            words = placing.unwritten(error) if isinstance(error, OSError) else str(error)
            raise NoRegister(f"{words}; the server has the rows already: mend that, run it again") from error
    return summary._replace(loaded=loaded)


def _here(folder: Path, listed: Listed, register_at: Path | None) -> held.Here:
    """What a register asks of the folder, to tell a file that was moved from a copy."""
    names = {in_signs(path.relative_to(folder).as_posix()) for path in listed.files}

    def lacks(name: str) -> bool:
        if name in names or "\\" in name:  # as `in_signs` writes a byte that is no sign: no path
            return False
        try:
            os.lstat(folder / name)
        except (FileNotFoundError, NotADirectoryError):
            return True
        except OSError:  # it can't be looked at
            return False
        return False

    return held.Here(_called(folder, register_at), lacks)


def _called(folder: Path, register_at: Path | None) -> str:
    """A folder as seen from that of a register, so that both may be moved together; from another drive in full."""
    whole = os.path.realpath(folder)
    try:
        own = os.path.relpath(whole, os.path.realpath(register_at.parent)) if register_at is not None else whole
    except ValueError:
        own = whole
    return in_signs(Path(own).as_posix())


def _fill(
    connection: register.Connection, folder: Path, listed: Listed, here: held.Here, say: Callable[[str], None]
) -> Summary:
    read = added = differing = 0
    files, passed_over = listed.files, list(listed.passed_over)
    step = max(1, len(files) // STEPS)
    for number, one in enumerate(outcomes(folder, files, held.known(connection)), start=1):
        if one.sentence:
            passed_over.append(one.sentence)
        elif one.found is not None:
            read += 1
            added += register.add(connection, one.found, here)
            differing += one.found.workbook["differing"]
        elif one.known:
            held.note(connection, one.file, one.known, here)
        if sys.stderr.isatty() or number % step == 0 or number == len(files):
            say(f"{number} of {len(files)} workbooks, {added} new readings, {len(passed_over)} passed over")
    return Summary(len(files), read, added, differing, passed_over)


Work = tuple[str, str]
"""The path of a file, and what the register calls it."""

AHEAD = 2
"""Files for each core that are handed out before their turn."""


def outcomes(folder: Path, files: list[Path], known: set[str]) -> Iterator[Outcome]:
    """What becomes of each file: of those that are in already first, then of the others, worked out on all cores."""
    left: deque[Work] = deque()
    for path in files:
        name = in_signs(path.relative_to(folder).as_posix())
        if known and (digest := _digest(path)) in known:
            yield Outcome(name, known=digest)
        else:
            left.append((str(path), name))
    cores = min(os.cpu_count() or 1, len(left))
    if cores < 2:
        yield from map(_one, left)
        return
    while left:
        yield from _on_cores(left, cores)


def in_signs(name: str) -> str:
    r"""The name of a file as a register can hold it: a byte that is no sign, as old archives leave them, as its number.

    >>> in_signs("j\udcf6b.xlsx"), in_signs("jöb.xlsx")
    ('j\\xf6b.xlsx', 'jöb.xlsx')
    """
    return name.encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")


def _digest(path: Path) -> str:
    """That of a file as it is now; empty where it can't be read: why is said later."""
    try:
        return hashlib.sha256(content_of(path)).hexdigest()
    except (Unreadable, OSError, MemoryError):
        return ""


def _on_cores(left: deque[Work], cores: int) -> Iterator[Outcome]:
    """Takes from what is left until nothing is, or a process was killed: then what was in work is done one by one."""
    waiting: deque[tuple[Work, Future[Outcome]]] = deque()
    with _processes(cores) as pool:
        try:
            while left or waiting:
                while left and len(waiting) < AHEAD * cores:
                    waiting.append((left[0], pool.submit(_one, left[0])))
                    left.popleft()
                yield waiting[0][1].result()
                waiting.popleft()
        except BrokenProcessPool:
            pass
    for work, future in waiting:
        done = future.done() and not future.cancelled() and future.exception() is None
        yield future.result() if done else _alone(work)


def _alone(work: Work) -> Outcome:
    """One file in a process of its own, so that it is known which one ends it."""
    with _processes(1) as pool:
        try:
            return pool.submit(_one, work).result()
        except BrokenProcessPool:
            why = "the process that read it was ended from outside, as when memory runs out"
            return Outcome(work[1], sentence=f"{work[0]} can't be read: {why}; look at it by itself")


def _processes(count: int) -> ProcessPoolExecutor:
    return ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn"))


def _one(work: Work) -> Outcome:
    path, name = Path(work[0]), work[1]
    try:
        return Outcome(name, collected(path, name))
    except Unreadable as error:
        return Outcome(name, sentence=error.sentence)
    except OSError as error:
        return Outcome(name, sentence=f"{path} can't be read: {error.strerror}")
    except (MemoryError, RecursionError, ArithmeticError, LookupError, TypeError, ValueError) as error:
        # one odd file must not stop a thousand: it is named, with what went wrong
        return Outcome(name, sentence=f"{path} can't be read ({type(error).__name__}: {error}); look at it by itself")
