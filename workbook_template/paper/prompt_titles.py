"""The titles over the messages of the inputs: a file has room for 32 characters, so that a longer one is cut mid-word.

A meaning that is short enough is its own title. For the others the title is written here.
"""

from __future__ import annotations

LONGEST = 31
"""One less than fits: a title of 32 characters is taken for one that was cut (rules/guides.py)."""

_BEFORE = {
    "setup_minutes": "set up, minutes",
    "machine_minutes": "machine, minutes each",
    "hand_minutes": "handling, minutes each",
    "check_minutes": "minutes a check",
    "gauged": "share gauged",
    "every": "every nth gauged",
    "rest": "rest and delay",
    "rate": "rate an hour",
    "bar_price": "price of a bar",
    "per_bar": "pieces a bar",
    "overhead": "overhead on labour",
    "tools": "tooling and gauges",
    "outside": "outside work a piece",
    "profit": "margin or markup",
    "revision": "drawing revision",
    "day": "day it was kept",
    "scrap": "scrap",
    **{f"quantity_{n}": f"quantity {n}" for n in range(1, 6)},
    **{f"price_{n}": f"price at quantity {n}" for n in range(1, 6)},
}
_BUDGET = {
    "wires": "mean of the wires",
    "temperature": "temperature",
    "repeatability": "repeatability",
    "lead": "pitch error",
    "angle": "half angle error",
}
TITLES = {
    "tip_size": "Flat width or nose radius",
    "blank_measured": "Blank or bore, as measured",
    "aim_limit": "Pitch diameter to aim at",
    "dial_division": "Division of the compound dial",
    "finishing_pass": "Infeed of the last pass",
    "wire_in_use": "Diameter of the wires in use",
    "plan_done": "Passes done: first list",
    "plan_done_more": "Passes done: second list",
    "decision_rule": "Rule for results near a limit",
    "uncertainty_unit": "Unit of the lengths here",
    "study_unit": "Unit of the readings",
    "expanded_uncertainty": "Uncertainty of pitch diameter",
    "coverage_factor": "Coverage factor k",
    "crest_uncertainty": "Uncertainty of crest diameter",
    "expansion": "Expansion of the part",
    "instrument_expansion": "Expansion of the instrument",
    "expansion_source": "Source of the expansion",
    "turns_rule": "Turns a not go gauge may enter",
    "log_reading_1b": "Station 1, other direction",
    "log_reading_2b": "Station 2, other direction",
    "log_reading_3b": "Station 3, other direction",
    "measured_at": "Taper: where it is measured",
    "log_once_place": "Taper: where it is measured",
    "log_place": "Taper: place of this row",
    "log_place_2": "Taper: place of station 2",
    "log_place_3": "Taper: place of station 3",
    "log_gauge_turns": "Turns off a taper gauge",
    "log_direct": "Pitch diameter read directly",
    "log_crest": "Major diameter, or bore",
    "log_ring": "What the gauges said",
    "log_instrument": "Number of the instrument",
    "log_once_instrument": "Instrument of most rows",
    "log_once_who": "Who measured most rows",
    "log_once_when": "Day of most rows",
    "log_why": "Why an earlier row is corrected",
    "estimate_rpm": "Threading speed",
    "estimate_passes": "Passes for one start",
    "estimate_return_seconds": "Seconds by hand a pass",
    "estimate_power_return": "Half-nuts stay shut",
    "estimate_turning": "Minutes of turning",
    "estimate_handling": "Minutes of handling",
    "estimate_gauged": "Share of pieces gauged",
    "estimate_every": "First and every nth is gauged",
    "estimate_rest": "Rest and delay",
    "estimate_unit": "Unit of the lengths here",
    "estimate_material_by": "What of the bars is charged",
    "estimate_coating": "Coating a piece",
    "quote_unit": "Unit of the lengths here",
    "offer_valid_for": "Day is for this revision",
    "thinnest_coating": "Least thickness of coating",
    "thickest_coating": "Greatest thickness of coating",
    "actual_rest_minutes": "Rest and delay as they were",
    "estimate_part_shape": "Shape of the part",
    "estimate_part_size": "Largest size of the part",
    "estimate_stub": "Stub left in the chuck",
    "estimate_density": "Weight per unit of volume",
    "estimate_rate": "Rate an hour",
    "estimate_scrap": "Share of pieces scrapped",
    "estimate_learning": "Hand time at twice the quantity",
    "quote_minimum_order": "Least for a whole order",
    "rack_size": "Diameter, or across flats",
    "rack_unit": "Unit of sizes and lengths",
    **{f"before_{name}": f"Before: {text}" for name, text in _BEFORE.items()},
    "quote_size": "Thread size as on Threads",
    "quote_other": "Minutes beside threading",
    "chart_first": "Log row the charts start with",
    **{f"budget_{name}": f"Uncertainty: {text}" for name, text in _BUDGET.items()},
    **{f"budget_{name}_kind": f"Kind of: {text}" for name, text in _BUDGET.items()},
    "budget_repeats": "Readings for repeatability",
    "article_other": "Other characteristic",
    "article_date": "Day of the first article",
    "sample_starts_with": "First inspection of the list",
    "sample_aql": "Acceptance quality limit (AQL)",
    "sample_found": "Nonconforming in the sample",
    "study_instrument": "Instrument that is studied",
    "study_tolerance_width": "Width of the tolerance",
    "surface_speed": "Cutting speed",
    "usable_relief": "Width of usable relief",
    "leadscrew": "Leadscrew",
    "end_driver": "Driving end gear",
    "end_driven": "Driven end gear",
    "fixed_ratio": "Fixed ratio",
    "quadrant_min": "Quadrant, least sum",
    "quadrant_max": "Quadrant, greatest sum",
    "compound_dial": "Compound dial division",
    "compound_dial_reads": "Compound dial reads",
    "cross_dial": "Cross-slide division",
    "cross_dial_reads": "Cross-slide dial reads",
    "train_tpi": "Threads per inch",
    "train_pitch": "Pitch, mm",
    "train_levers": "Levers with the gears",
    "as_of": "States on this day",
    "due_soon_days": "Days that count as due soon",
    "wire_match_limit": "Wires of a set may differ by",
    "instrument_id": "Number of instrument or gauge",
    "instrument_thread": "Thread and hand of a gauge",
    "instrument_from": "Where the range begins",
    "instrument_to": "Where the range ends",
    "instrument_certificate": "Calibration certificate",
    "instrument_due": "Next calibration due",
    "instrument_fit": "Fit for use",
    "wires_certificate": "Certificate of the wires",
    "wires_a": "First wire, or mean of the set",
    "wires_b": "Second wire",
    "wires_c": "Third wire",
    "wires_due": "Next calibration due",
    "wires_fit": "Fit for use",
    "wires_calibrated": "Day of the certificate",
}
"""By the name of the input; where there is one for each lathe, by the name without the number of the lathe."""


def prompt_title(name: str, meaning: str) -> str:
    """The title over the message of an input.

    >>> prompt_title("log_when", "when it was measured, one cell a part"), prompt_title("leadscrew_2", "")
    ('When it was measured', 'Leadscrew, lathe 2')
    """
    base, _, number = name.rpartition("_")
    if name in TITLES:
        title = TITLES[name]
    elif base in TITLES and number in ("1", "2"):
        title = f"{TITLES[base]}, lathe {number}"
    else:
        own = meaning.partition(", one cell a ")[0]
        title = own[:1].upper() + own[1:]
    if len(title) > LONGEST:
        raise ValueError(f"{name}: give it a title of at most {LONGEST} characters in prompt_titles.py, not '{title}'")
    return title
