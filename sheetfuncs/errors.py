"""Errors a user meets, each one sentence that names what to fix.

    CellError                 what a cell can't answer, with the spreadsheet's own error code
    |-- NotUnderstood         #VALUE!   text or a number that can't be read
    |-- NotGiven              #N/A      read, but the standard (or the user) gives no such value
    `-- OutOfRange            #NUM!     read, but impossible: no such thread, tool or wire exists

The topic modules raise these; `hosts.call` hands them on as values, alone or in a range, and each host shows them in
its own way. Anything else that escapes from a function is a defect of ours and is not dressed up as bad input.
"""

from __future__ import annotations

LONGEST_TEXT = 255
"""Characters that a text in a spreadsheet's formula or array, or in its help, may have."""

LONGEST_SENTENCE = LONGEST_TEXT - len("#VALUE! ")
"""Characters of a sentence, which a cell may show with its code before it."""


def in_one_line(text: str, longest: int = LONGEST_SENTENCE) -> str:
    """Text that may quote a cell: in one line, and cut in its middle where it is too long.

    >>> in_one_line("thread is 'M20\\nx2.5'"), in_one_line("0123456789" * 3, 20)
    ("thread is 'M20 x2.5'", '01234567 ... 3456789')
    """
    if not text.isprintable():
        text = "".join(character if character.isprintable() else " " for character in text)
    text = " ".join(text.split())
    if len(text) <= longest:
        return text
    kept = longest - 5
    return f"{text[: kept - kept // 2]} ... {text[-(kept // 2) :]}"


class CellError(ValueError):
    """A sentence for the person at the sheet, in one line, and the error code of the cell.

    >>> error = OutOfRange("the wire 0.02 in is too small for 3/4-16 UNF")
    >>> error.code, str(error)
    ('#NUM!', 'the wire 0.02 in is too small for 3/4-16 UNF')
    """

    code = "#VALUE!"

    def __init__(self, sentence: str) -> None:
        super().__init__(in_one_line(sentence))

    @property
    def sentence(self) -> str:
        """The sentence alone."""
        return str(self)


class NotUnderstood(CellError):
    """Text or a number that can't be read as what the argument is."""

    code = "#VALUE!"


class NotGiven(CellError):
    """Understood, but neither the standard nor the user gives the value asked for."""

    code = "#N/A"


class OutOfRange(CellError):
    """Understood, but it can't be made or measured."""

    code = "#NUM!"
