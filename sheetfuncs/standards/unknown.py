"""What is wrong with a callout that no standard's reader takes, where one part of it is plainly to blame."""

from __future__ import annotations

import re

_UNIFIED = re.compile(r"(?i)(?P<size>.*\d.*?UN[RJ]?(?:C|F|EF|S)?)[\s-]+(?P<behind>.+)")
_SPECIAL_ENGAGEMENT = re.compile(r"(?i)\bSE(?=\b|\d)")


def fault(text: str) -> str:
    """A sentence on the part that is wrong; nothing where none can be told.

    >>> print(fault("1/4-20 UNC-2A SE"))
    1/4-20 UNC-2A SE: SE, a special length of engagement, has limits of its own that are not covered; leave SE off ...
    """
    unified = _UNIFIED.fullmatch(text)
    if unified is None:
        return ""
    if _SPECIAL_ENGAGEMENT.search(unified["behind"]):
        return (
            f"{text}: SE, a special length of engagement, has limits of its own that are not covered; leave SE off "
            f"for those of the usual length"
        )
    return ""
