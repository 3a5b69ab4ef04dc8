"""The price of the filled example. Every rate, minute and share is invented; a shop has its own."""

from __future__ import annotations

from datetime import date

from workbook_template.trade.typed import Inputs, Typed

REVISION = "C"
"""Of the drawing; the last day of the offer was typed for it."""

_QUOTE_COLUMNS = (
    "part",
    "size",
    "class",
    "quantity",
    "length",
    "passes",
    "rpm",
    "power_return",
    "other",
    "setup_minutes",
    "material",
    "extra",
)
_QUOTE_LINES: tuple[tuple[Typed, ...], ...] = (
    ("Part 104-B spindle nut stud", "3/4-16 UNF", "2A", 25, 1.25, 12, 160, "no", 10, 45, 0.65, 12),
    ("117 gland nut screw", "1/2-12 BSW", "medium bolt", 8, 1.5, 14, 120, "no", 14, 40, 1.2, 0),
    ("122 spindle", "M20x2.5", "6g", 60, 1.8, 16, 160, "yes", 9, 50, 1.4, 8),
    ("131 feed screw", "1-5 ACME", "2G", 4, 14, 40, 60, "no", 35, 90, 9.5, 30),
    ("140 plug", "3/4-14 NPT", None, 12, 0.9, 14, 140, "no", 6, 35, 0.8, 0),
)


def values() -> Inputs:
    """Inputs of the sheet Estimate by their names."""
    by_lathe = {
        "approach": (0.2, 0.2),
        "overrun": (0.12, 0.12),
        "return_seconds": (6, 5),
        "setup_minutes": (45, 60),
        "turning": (6.5, 7.5),
        "handling": (2.5, 2.5),
    }
    return {
        **{f"estimate_{name}_{place}": pair[place - 1] for name, pair in by_lathe.items() for place in (1, 2)},
        "estimate_check_minutes": 1.0,
        "estimate_gauged": 1.0,
        "estimate_rest": 0.12,
        "estimate_unit": "in",
        "rack_unit": "in",
        "rack_shape": ["round", "round", "round", "hexagon"],
        "rack_size": [0.75, 0.875, 1.0, 0.875],
        "rack_length": [144, 144, 144, 120],
        "rack_price": [31, 38, 47, 44],
        "estimate_bar_line": 2,
        "estimate_part_length": 2.125,
        "estimate_facing": 0.03,
        "estimate_part_off": 0.125,
        "estimate_stub": 3.5,
        "estimate_density": 0.284,
        "estimate_currency": "invented rates",
        "estimate_rate": 60,
        "estimate_scrap": 0.05,
        "estimate_overhead": 0.35,
        "estimate_profit_kind": "margin",
        "estimate_profit": 0.15,
        "estimate_tooling": 12,
        "estimate_gauges": 0,
        "estimate_outside": 0.4,
        "estimate_quantity_1": 25,
        "estimate_quantity_2": 50,
        "estimate_quantity_3": 60,
        "estimate_quantity_4": 100,
        "estimate_quantity_5": 250,
        "actual_setup_minutes": 50,
        "actual_turn_minutes": 171,
        "actual_thread_minutes": 118,
        "actual_made": 26,
        "actual_good": 22,
        **{f"quote_{name}": list(column) for name, column in zip(_QUOTE_COLUMNS, zip(*_QUOTE_LINES))},
        "offer_gauging": "over wires, every piece",
        "offer_record": "certificate of inspection",
        "offer_delivery": "three weeks from order",
        "offer_valid": date(2024, 4, 5),
        "offer_valid_for": REVISION,
        "offer_number": "O-118",
        "offer_date": date(2024, 3, 5),
        "offer_terms": "30 days net, ex works",
        "offer_tax": "All prices without tax.",
        "before_revision": "B",
        "before_day": date(2024, 2, 20),
        "before_rate": 56,
    }
