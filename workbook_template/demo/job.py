"""The filled example: an invented small shop cuts studs. No person, firm or part of it exists."""

from __future__ import annotations

from datetime import date

from workbook_template.demo import estimate as demo_estimate
from workbook_template.demo import inspection as demo_records
from workbook_template.demo import lathe as demo_lathe
from workbook_template.demo import log as demo_log
from workbook_template.trade.typed import Inputs

THREAD = "3/4-16 UNF-2A"


def values() -> Inputs:
    """Every input of the example by its name."""
    return {
        "customer": "Quarry repair shop (invented)",
        "part": "Part 104-B spindle nut stud",
        "drawing": "104-B",
        "revision": demo_estimate.REVISION,
        "job_number": "J-2031",
        "quantity": 25,
        "material": "4140 steel, pre-hardened",
        "material_certificate": "MC-7731",
        "made_by": "turner",
        "job_date": date(2024, 3, 4),
        "thread_length": 1.25,
        "tip_kind": "nose radius",
        "tip_size": 0.008,
        "blank_measured": 0.744,
        "aim_limit": "mid",
        "compound_angle": 29.5,
        "dial_division": 0.001,
        "passes": 10,
        "finishing_pass": 0.002,
        "spring_passes": 2,
        "reading_now": 0.7645,
        "wire_set": "W-36",
        **demo_estimate.values(),
        **demo_lathe.values(THREAD),
        **demo_log.values(),
        **demo_records.values(),
    }
