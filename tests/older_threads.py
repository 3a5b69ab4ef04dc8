"""What the tests of the Whitworth, BA and pipe threads share: reading by one system, and reading back."""

from __future__ import annotations

from sheetfuncs.designations import Thread
from sheetfuncs.errors import CellError
from sheetfuncs.standards import System
from sheetfuncs.units import tidy


def read(system: System, text: str) -> Thread:
    """A designation by one system, in the way the package reads it."""
    thread = system.read(tidy(text))
    assert thread is not None, text
    return thread


def reads_back(system: System, text: str) -> Thread:
    """The thread of a text, which its own written form gives again."""
    thread = read(system, text)
    assert read(system, system.write(thread)) == thread, text
    return thread


def is_placed_or_refused(system: System, text: str) -> None:
    """Any text is a thread, no business of this system, or a sentence."""
    try:
        thread = system.read(tidy(text))
    except CellError as error:
        thread = None
        sentence = str(error)
    else:
        sentence = "a thread, or text of another system"
    assert len(sentence) > 20
    assert thread is None or system.read(system.write(thread)) == thread
