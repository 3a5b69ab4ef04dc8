"""Python looks for garbage the oftener the more records are made; where none is dropped that takes long for nothing."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator


@contextlib.contextmanager
def no_collection() -> Iterator[None]:
    """No garbage collection: a sheet or tree is many small records and drops none."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
