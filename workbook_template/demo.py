"""The filled example: an invented small shop cuts studs. No person, firm or part of it exists."""

from __future__ import annotations

from datetime import date
from typing import Any

THREAD = "3/4-16 UNF-2A"

# serial, reading over wires, pitch diameter measured, major diameter
_PARTS: tuple[tuple[Any, Any, Any, Any], ...] = (
    ("001", 0.7598, None, 0.7442),
    ("002", 0.7601, None, 0.7441),
    ("003", 0.7596, None, 0.7440),
    ("004", 0.7604, None, 0.7443),
    ("005", 0.7621, None, 0.7440),
    ("006", 0.7626, None, 0.7441),
    ("007", 0.7611, None, 0.7439),
    ("008", 0.7593, None, 0.7440),
    ("009", 0.7588, None, 0.7438),
    ("010", 0.7571, None, 0.7437),
    ("011", 0.7565, None, 0.7440),
    ("012", 0.7582, None, 0.7389),
    ("013", None, 0.7052, 0.7441),
    ("014", None, 0.7049, 0.7440),
    ("015", 0.7594, 0.7053, 0.7439),
    ("016", 0.7594, 0.7078, 0.7440),
    ("017", "0.7601 ?", None, 0.7442),
    ("018", 19.31, None, 0.7441),
    ("019", 0.7603, None, None),
    ("020", None, None, 0.7443),
    ("021", 0.7599, None, 0.7487),
    ("022", 0.7606, None, 0.7441),
    ("023", 0.7590, None, 0.7440),
    ("024", None, None, None),
)


def values() -> dict[str, Any]:
    """Every input of the example by its name."""
    parts = len(_PARTS)
    return {
        "customer": "Repair shop of the quarry (invented)",
        "part": "Part 104-B spindle nut stud",
        "drawing": "104-B",
        "revision": "C",
        "job_number": "J-2031",
        "quantity": 25,
        "material": "4140 steel, pre-hardened",
        "made_by": "lathe hand, day shift",
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
        "wire_in_use": 0.0361,
        "wire_1": 0.029,
        "wire_2": 0.032,
        "wire_3": 0.0361,
        "wire_4": 0.045,
        "wire_5": 0.063,
        "log_serial": [part[0] for part in _PARTS],
        "log_reading": [part[1] for part in _PARTS],
        "log_direct": [part[2] for part in _PARTS],
        "log_crest": [part[3] for part in _PARTS],
        "log_who": ["lathe hand"] * 12 + ["inspector"] * (parts - 12),
        "log_when": [date(2024, 3, 5)] * parts,
        "log_instrument": ["mic 7, wires 3" if part[2] is None else "thread mic 2" for part in _PARTS],
    }
