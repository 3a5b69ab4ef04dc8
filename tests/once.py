"""What the tests of a run make once: by the worker that asks first, and for all of them."""

from __future__ import annotations

import fcntl
import pickle
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")

folder: Path | None = None
"""The folder of this run that all workers have (tests/conftest.py); None where something else uses what tests do."""


@contextmanager
def alone(where: Path, name: str) -> Iterator[Path]:
    """A path in a folder, while no other worker has the same."""
    with (where / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield where / name


def once(name: str, make: Callable[[], T]) -> T:
    """What `make` gives, made for the first who asks; the others read what was kept."""
    if folder is None:
        return make()
    with alone(folder, f"{name}.kept") as path:
        if not path.exists():
            path.write_bytes(pickle.dumps(make()))
        kept: T = pickle.loads(path.read_bytes())
    return kept
