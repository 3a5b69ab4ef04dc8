"""A process that is killed before each line of placing a file, one after the other: what is found is whole.

    python tests/killed_placing.py FOLDER [there] [no-links]

A process of its own, as it takes nothing along: to make a copy of one that holds workbooks takes most of the time.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any
from unittest import mock

from workbook_template.file import placing

OLD, NEW = b"old " * 5000, b"new " * 5000


def killed_at(step: int, work: Callable[[], Any]) -> bool:
    """Run the work in a child that kills itself before the given line of `placing`; whether it came that far."""
    child = os.fork()
    if child == 0:
        left = step

        def watch(frame: FrameType, event: str, _: Any) -> Any:
            nonlocal left
            if frame.f_code.co_filename != placing.__file__:
                return None
            if event == "line":
                left -= 1
                if left < 0:
                    os.kill(os.getpid(), signal.SIGKILL)
            return watch

        sys.settrace(watch)
        work()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL


def no_links(*_: Any, **__: Any) -> None:
    """A file system that knows no second names."""
    raise OSError(95, "Operation not supported")


def at_every_line(parent: Path, there: bool) -> None:
    """The old or the new file is whole, and the old one is kept where the new one is in its place."""
    step, killed, seen = 0, True, set()
    while killed:
        folder = parent / str(step)
        folder.mkdir()
        path = folder / "job.xlsx"
        if there:
            path.write_bytes(OLD)
        killed = killed_at(step, lambda path=path: placing.place(NEW, path, replace=there))
        found = path.read_bytes() if path.exists() else None
        assert found in ((OLD, NEW) if there else (None, NEW)), step
        old = folder / "job.old1.xlsx"
        if there and found == NEW:
            assert old.read_bytes() == OLD, step
        if old.exists():
            assert old.read_bytes() == OLD, step
        seen.add(found)
        assert placing.place(NEW, path, replace=True) is not None or not there  # nothing that is left lies in the way
        step += 1
    assert step > 25
    assert len(seen) == 2


def main(folder: str, *how: str) -> None:
    """Without waiting for the disk, which outlives a process."""
    link = no_links if "no-links" in how else os.link
    with mock.patch.object(os, "fsync", return_value=None), mock.patch.object(os, "link", link):
        at_every_line(Path(folder), "there" in how)


if __name__ == "__main__":
    main(*sys.argv[1:])
