"""`functools.lru_cache` for the start of a program: `functools` brings more, and takes a tenth of our start to load.

`tests/test_start.py` compares the two.

>>> @lru_cache(maxsize=2)
... def doubled(number: float) -> float:
...     return 2 * number
>>> doubled(1.5), doubled(1.5), doubled.cache_info().hits
(3.0, 3.0, 1)
"""

from __future__ import annotations

from sheetfuncs.records import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from functools import lru_cache
else:
    try:
        from _functools import _lru_cache_wrapper  # what it is made of there as well
    except ImportError:  # a Python that is not CPython
        from functools import lru_cache
    else:

        class Held(NamedTuple):
            """What a cache says of itself."""

            hits: int
            misses: int
            maxsize: int
            currsize: int

        def lru_cache(maxsize):
            """What a function gave, kept by its arguments, the last so many."""

            def kept(function):
                wrapper = _lru_cache_wrapper(function, maxsize, False, Held)
                for name in ("__module__", "__name__", "__qualname__", "__doc__", "__annotations__"):
                    setattr(wrapper, name, getattr(function, name))
                wrapper.__wrapped__ = function
                wrapper.cache_parameters = lambda: {"maxsize": maxsize, "typed": False}
                return wrapper

            return kept


__all__ = ["lru_cache"]
