"""The sheets Uncertainty, First article, Sampling, Gauge study and Certificate of the filled example; all invented."""

from __future__ import annotations

from datetime import date

from workbook_template.trade.typed import Inputs, Typed

# method, instrument, measured value
_ARTICLE: tuple[tuple[str, str | None, Typed], ...] = (
    ("micrometer", "M-1", 0.7441),
    ("over wires", "M-1", 0.7058),
    ("comparator", "M-2", 0.6692),
    ("gauge", "G-1", "pass"),
    ("caliper", "D-2", 1.262),
    ("by eye", None, "right"),
    ("micrometer", "M-1", 0.744),
    ("caliper", "D-1", 2.128),
)
# ten parts over wires, read three times by each of three people
_STUDY: dict[str, tuple[tuple[float, ...], ...]] = {
    "a": (
        (0.7649, 0.7631, 0.7654, 0.7610, 0.7646, 0.7657, 0.7618, 0.7627, 0.7612, 0.7624),
        (0.7650, 0.7631, 0.7655, 0.7608, 0.7649, 0.7657, 0.7617, 0.7631, 0.7611, 0.7624),
        (0.7649, 0.7634, 0.7654, 0.7604, 0.7647, 0.7657, 0.7617, 0.7629, 0.7613, 0.7625),
    ),
    "b": (
        (0.7648, 0.7634, 0.7658, 0.7609, 0.7647, 0.7660, 0.7620, 0.7628, 0.7613, 0.7627),
        (0.7649, 0.7632, 0.7656, 0.7608, 0.7648, 0.7656, 0.7621, 0.7629, 0.7613, 0.7627),
        (0.7649, 0.7633, 0.7657, 0.7611, 0.7648, 0.7661, 0.7622, 0.7628, 0.7613, 0.7627),
    ),
    "c": (
        (0.7645, 0.7630, 0.7656, 0.7608, 0.7646, 0.7654, 0.7620, 0.7628, 0.7613, 0.7624),
        (0.7645, 0.7629, 0.7653, 0.7609, 0.7645, 0.7656, 0.7617, 0.7628, 0.7612, 0.7624),
        (0.7645, 0.7627, 0.7654, 0.7607, 0.7647, 0.7657, 0.7616, 0.7628, 0.7610, 0.7623),
    ),
}
_LOTS = ["accepted", "accepted", "rejected", "accepted", "accepted", "rejected", "accepted", "accepted", "accepted"]


def values() -> Inputs:
    """Inputs of the example by their name."""
    return {
        "uncertainty_unit": "in",
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
        "article_other_requirement": ["2.125 +/- .015"],
        "article_other_low": [2.11],
        "article_other_high": [2.14],
        "article_serial": "001",
        "article_who": "inspector",
        "article_date": date(2024, 3, 5),
        "study_instrument": "M-1",
        "study_size": "reading over wires W-36, 3/4-16 UNF-2A",
        "study_unit": "in",
        "study_date": date(2024, 2, 20),
        **{
            f"study_{person}_{number}": list(trial)
            for person, trials in _STUDY.items()
            for number, trial in enumerate(trials, start=1)
        },
        "sample_lot": 150,
        "sample_aql": 1.0,
        "sample_lots": [f"L-{number}" for number in range(2022, 2022 + len(_LOTS))],
        "sample_history": _LOTS,
        "shop_name": "Example Screw Threads",
        "shop_address": "12 Example Lane, Sampleton",
        "shop_contact": "phone 555 0100, office@shop.example",
        "customer_address": "Receiving, 1 Sample Street, Exampleville",
        "certificate_number": "Q-2031",
        "certificate_order": "PO-4471",
        "certificate_lot": "L-2031",
        "certificate_date": date(2024, 3, 6),
        "certificate_inspector": "inspector",
    }
