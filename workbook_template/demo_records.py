"""The sheets Records and Certificate of the filled example; all invented."""

from __future__ import annotations

from datetime import date
from typing import Any

# method, instrument, measured value
_ARTICLE: tuple[tuple[str, str, Any], ...] = (
    ("micrometer", "M-1", 0.7441),
    ("over wires", "M-1", 0.7058),
    ("comparator", "M-2", 0.6692),
    ("gauge", "G-1", "pass"),
    ("micrometer", "M-1", 1.262),
    ("by eye", "none", "right"),
    ("micrometer", "M-1", 0.744),
    ("caliper", "D-1", 4.503),
)
_LOTS = ["accepted", "accepted", "rejected", "accepted", "accepted", "rejected", "accepted", "accepted", "accepted"]


def values() -> dict[str, Any]:
    """Inputs of the example by their name."""
    return {
        "budget_wires": 0.00002,
        "budget_micrometer": 0.0001,
        "budget_temperature": 3,
        "budget_repeatability": 0.00005,
        "budget_lead": 0.0001,
        "budget_angle": 0.25,
        "budget_repeats": 10,
        "article_method": [method for method, _, _ in _ARTICLE],
        "article_instrument": [instrument for _, instrument, _ in _ARTICLE],
        "article_measured": [measured for _, _, measured in _ARTICLE],
        "article_other": ["Overall length"],
        "article_other_requirement": ["4.500 +/- .015"],
        "article_other_low": [4.485],
        "article_other_high": [4.515],
        "article_serial": "001",
        "article_who": "inspector",
        "article_date": date(2024, 3, 5),
        "sample_lot": 150,
        "sample_aql": 1.0,
        "sample_lots": [f"L-{number}" for number in range(2022, 2022 + len(_LOTS))],
        "sample_results": _LOTS,
        "certificate_number": "Q-2031",
        "certificate_lot": "L-2031",
        "certificate_date": date(2024, 3, 6),
        "certificate_inspector": "inspector, day shift",
    }
