"""Standard output that takes any sign.

Where output goes into a file or another program, Windows gives it the code page of the country: a name with a letter of
another language would end the command in the middle.
"""

from __future__ import annotations

import io
import sys


def take_any_sign() -> None:
    """From here on a sign that the output can't hold is written as its number, as standard error does it."""
    if isinstance(sys.stdout, io.TextIOWrapper) and sys.stdout.errors == "strict":
        sys.stdout.reconfigure(errors="backslashreplace")
