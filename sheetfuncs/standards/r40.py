"""R40, the preferred numbers in which ISO 965-1 and ISO 2903 round and step their tolerances (ISO 3:1973)."""

from __future__ import annotations

_HUNDREDS = (
    *(100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300),
    *(315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950),
)
_TENS = (
    *(10, 11, 11, 12, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 24, 25, 26, 28, 30),
    *(32, 34, 36, 38, 40, 42, 45, 48, 50, 53, 56, 60, 63, 67, 71, 75, 80, 85, 90, 95),
)
R40 = (*_TENS, *_HUNDREDS, *(10 * value for value in _HUNDREDS))
"""As ISO 965-1 prints it: two digits below 100, three above (rounded values of ISO 3)."""

_PLACES = {value: place for place, value in reversed(tuple(enumerate(R40)))}  # of two alike the first


def nearest_r40(value: float) -> int:
    """The term nearest to a value.

    >>> nearest_r40(171.8)
    170
    """
    return min(R40, key=lambda term: abs(term - value))


def shifted(term: int, steps: int) -> int:
    """The term so many steps along the series; four steps are a factor of 1.259.

    >>> shifted(170, 4), shifted(170, -4)
    (212, 132)
    """
    return R40[_PLACES[term] + steps]
