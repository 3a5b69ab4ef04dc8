"""One module per thread standard, and the one place that lists them.

>>> read("3/4-16 UNF-2A").pitch
0.0625
>>> write(read("M20 X 2.5 - 6g"))
'M20x2.5-6g'
"""

from __future__ import annotations

from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain, refuse_odd_fractions
from sheetfuncs.errors import CellError, NotUnderstood, OutOfRange
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.base import Basic, Limits, Size, System
from sheetfuncs.units import tidy

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


__all__ = ["SYSTEMS", "Basic", "Limits", "Size", "System", "basic", "limits", "read", "system", "write"]

_TOLD_BY = {
    "unified": "UN",
    "iso_metric": "M",
    "unj": "UNJ",
    "mj": "M",
    "acme": "ACME",
    "stub_acme": "ACME",
    "iso_trapezoidal": "T",
    "buttress": "BUTT",
    "whitworth": "BSW BSF WHIT",
    "ba": "BA",
    "pipe_parallel": "G B BSP",
    "pipe_taper_iso": "R",
    "pipe_rp": "R",
    "npt": "NPT",
    "npsm": "NPSM",
}
"""The modules of the standards, each of which holds one `SYSTEM`, and what tells their callouts from others.

One letter: a callout that begins with it. A word: a callout that begins with a size and has this word behind it.
After a size just one of the words leaves the systems that can't do without it; several leave all that have words, in
this order; no word leaves none, and `unnamed` says what may be meant. So a standard is loaded when a thread of it is
first met.
"""

KEYS = tuple(_TOLD_BY)


def _by_sign(signs: Iterable[str]) -> dict[str, tuple[str, ...]]:
    return {sign: tuple(key for key in KEYS if sign in _TOLD_BY[key].split()) for sign in signs}


_SIGNS = " ".join(_TOLD_BY.values()).split()
_BY_FIRST_LETTER = _by_sign(sign for sign in _SIGNS if len(sign) == 1)
_BY_WORD = _by_sign(sign for sign in _SIGNS if len(sign) > 1)
_BY_SIZE = tuple(dict.fromkeys(key for keys in _BY_WORD.values() for key in keys))

LONGEST_CALLOUT = 80
"""Characters of the longest callout that is read (this project's choice; the longest in use has 40)."""

MOST_DIGITS = 10
"""Digits with which a callout's numbers are written."""

_SHAPE = str.maketrans("123456789", "0" * 9)

_FROM_THE_AXIS = tuple(
    f"{end} {size} diameter" for size in ("minor", "pitch", "major") for end in ("least", "greatest")
)

SYSTEMS: dict[str, System]
"""Every system by its key (loads them all)."""


def __getattr__(name: str) -> object:
    if name == "SYSTEMS":
        return {key: _load(key) for key in KEYS}
    raise AttributeError(f"module {__name__} has no attribute {name}")


@lru_cache(maxsize=4096)
def read(text: str) -> Thread:
    """The thread a designation means; anything that can't be placed is refused with a sentence.

    Raises NotUnderstood, NotGiven or OutOfRange. Source: the standard of the system it belongs to.

    >>> read("5/8-11 UNC-2A-LH").left_hand
    True
    """
    tidied = tidy(text)
    if len(tidied) > LONGEST_CALLOUT:  # first of all: patterns that look through a page of signs take minutes
        shown = f"'{tidied[:40]}...' is {len(tidied)} characters long"
        raise NotUnderstood(f"{shown}; a callout is as short as 3/4-16 UNF-2A")
    try:
        return _as_written(tidied)
    except CellError as refused:
        from sheetfuncs.standards import respelled, unknown  # seldom needed

        fault = unknown.fault(tidied)
        if fault:
            raise NotUnderstood(fault) from None
        meant = respelled.read(tidied, _as_written)
        if meant is not None:
            return meant
        raise refused


def _as_written(text: str) -> Thread:
    """The thread of a callout as the standards write it."""
    shape = text.translate(_SHAPE)
    _refuse_unwritable(text, shape)
    keys = _may_be(shape)
    for key in keys:
        thread = _load(key).read(text)
        if thread is not None:
            return thread
    meant = (None if keys else _unnamed(text)) or _name_behind(text)
    if meant is not None:
        return meant
    from sheetfuncs.standards import unknown  # seldom needed

    raise NotUnderstood(
        unknown.fault_behind_series(text)
        or f"'{text}' is no thread this knows; write it as in 3/4-16 UNF-2A, M20x2.5-6g or 1-5 ACME-2G"
    )


@lru_cache(maxsize=1024)
def _may_be(shape: str) -> tuple[str, ...]:
    """The systems whose readers are worth asking, by the callout or by its shape, which has 0 for each digit."""
    by_letter = _BY_FIRST_LETTER.get(shape[:1].upper())
    if by_letter:
        return by_letter
    words = set(_words()(shape.upper().replace(".", "")))
    if len(words) == 1:
        return _BY_WORD[words.pop()]
    return _BY_SIZE if words else ()


def _name_behind(text: str) -> Thread | None:
    """What a callout means whose words stand before the size, as in NPT 3/8 or LH 3/4-16 UNF, if it means anything."""
    import re  # seldom needed

    match = re.fullmatch(r"([A-Za-z][A-Za-z. ]*?)[\s-]*((?:#|\.?\d).*)", text)
    try:
        return read(f"{match[2]} {match[1]}") if match else None
    except NotUnderstood:
        return None


def _unnamed(text: str) -> Thread | None:
    """What a callout without the name of a thread means; see `unnamed`."""
    from sheetfuncs.standards import unnamed  # seldom needed

    return unnamed.read(text, map(_load, _BY_SIZE))


@lru_cache(maxsize=1)
def _words() -> Callable[[str], list[str]]:
    """Finds the words; of two that begin alike the longer is looked for first."""
    import re  # slow to load, and a metric callout does not need it

    return re.compile("|".join(sorted(_BY_WORD, key=len, reverse=True))).findall


def _refuse_unwritable(text: str, shape: str) -> None:
    """No callout has a number that would not be written back as it was read, or a comma in it."""
    if "/" in text:
        refuse_odd_fractions(text)
    if "," in text:
        _refuse_commas(text)
    if shape.count("0") > MOST_DIGITS:
        import re

        for number in re.findall(r"[\d.]+", text):
            if len(number.replace(".", "").lstrip("0")) > MOST_DIGITS:
                raise NotUnderstood(f"{text}: {number} has more than {MOST_DIGITS} digits; round it")


def _refuse_commas(text: str) -> None:
    import re

    number = re.search(r"\d*,\d+", text)
    if number:
        with_point = number[0].replace(",", ".")
        raise NotUnderstood(f"{text}: write the numbers of a thread with a point, {with_point} for {number[0]}")


def system(thread: Thread) -> System:
    """The system a thread belongs to."""
    return _load(thread.system)


@lru_cache(maxsize=len(KEYS))
def _load(key: str) -> System:
    found: System = __import__(f"{__name__}.{key}", fromlist=["SYSTEM"]).SYSTEM  # `importlib` is slow to load
    return found


def write(thread: Thread) -> str:
    """The designation of a thread; `read` of it gives the thread back."""
    return system(thread).write(thread)


@lru_cache(maxsize=4096)
def limits(thread: Thread) -> Limits:
    """Limits of size in the thread's own unit; NotGiven where it has no class.

    OutOfRange where the rules of the standard, taken far beyond its tables, give a thread that can't be: a root over
    the pitch line, or the pitch line over the crest.

    >>> limits(read("3/4-16 UNF-2A")).major
    Size(max=0.7485, min=0.7391, reference='')
    """
    found = system(thread).limits(thread)
    _refuse_disorder(thread, found)
    return found


def _refuse_disorder(thread: Thread, found: Limits) -> None:
    """From the axis outward minor, pitch and major diameter, and the ends of each, must not pass one another."""
    minor, pitch, major = found.minor, found.pitch, found.major
    places = (minor.min, minor.max, pitch.min, pitch.max, major.min, major.max)
    set_ones = [size for size in places if size is not None]
    if set_ones == sorted(set_ones):
        return
    known = [(name, size) for name, size in zip(_FROM_THE_AXIS, places) if size is not None]
    for (low_name, low), (high_name, high) in zip(known, known[1:]):
        if low > high:
            raise OutOfRange(
                f"{write(thread)}: the rules of {system(thread).source} do not reach so far: they would put the "
                f"{low_name} at {plain(low)}, over the {high_name} of {plain(high)}"
            )


@lru_cache(maxsize=4096)
def basic(thread: Thread) -> Basic:
    """Basic sizes in the thread's own unit, unrounded.

    >>> round(basic(read("M20x2.5")).pitch, 3)
    18.376
    """
    return system(thread).basic(thread)
