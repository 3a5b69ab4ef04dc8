"""Errors a user meets, each one sentence that names what to fix.

    CellError                 what a cell can't answer, with the spreadsheet's own error code
    |-- NotUnderstood         #VALUE!   text or a number that can't be read
    |-- NotGiven              #N/A      read, but the standard (or the user) gives no such value
    `-- OutOfRange            #NUM!     read, but impossible: no such thread, tool or wire exists

The topic modules raise these; `hosts.call` turns them into whatever a host can show. Anything else that
escapes from a function is a defect of ours and is not dressed up as bad input.
"""

from __future__ import annotations


class CellError(ValueError):
    """A sentence for the person at the sheet, and the error code of the cell.

    >>> error = OutOfRange("the wire 0.02 in is too small for 3/4-16 UNF")
    >>> error.code, str(error)
    ('#NUM!', 'the wire 0.02 in is too small for 3/4-16 UNF')
    """

    code = "#VALUE!"

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
