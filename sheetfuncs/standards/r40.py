"""R40, the preferred numbers in which ISO 965-1 and ISO 2903 round and step their tolerances (ISO 3:1973).

A tolerance of another grade is that of grade 6 moved along the series: the grades stand in the ratios 0.5 0.63 0.8 1
1.25 1.6 2 (ISO 965-1), and four steps are a factor of 1.259.
"""

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


_STEPS = {grade: 4 * (grade - 6) for grade in range(3, 11)}
_INTERNAL_STEPS = 5  # TD2 is Td2 of the same grade five steps up: the factor 1.32 of both standards


def of_grade(grade_6: int, grade: int, internal_pitch: bool = False) -> int:
    """The tolerance of a grade from that of grade 6; `internal_pitch` where TD2 is asked for and that is Td2.

    >>> of_grade(170, 7), of_grade(170, 6, internal_pitch=True)      # ISO 965-1, M20x2.5: Td2(7), TD2(6)
    (212, 224)
    """
    return shifted(grade_6, _STEPS[grade] + _INTERNAL_STEPS * internal_pitch)


def pitch_diameter_grade_6(pitch: float, low: float, high: float) -> int:
    """Td2 of grade 6 in micrometres by the formula of both standards, for the diameters over `low` up to `high` mm.

    90 P^0.4 d^0.1 with d the geometric mean of the range (ISO 965-1:2013, clause 13; ISO 2903:2016, 11.4).

    >>> pitch_diameter_grade_6(2.5, 11.2, 22.4)
    170
    """
    return nearest_r40(90 * pitch**0.4 * (low * high) ** 0.05)


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
