"""The sheets Instruments and Log of the filled example: each word of the log appears once at least; all invented."""

from __future__ import annotations

from datetime import date

from workbook_template.sheets.log_rows import INPUTS
from workbook_template.trade.typed import Inputs, Typed

_LAB = "county gauge room"

_GAUGED_ON = (_LAB, date(2023, 11, 30), date(2024, 11, 30), "yes")

# number, kind, marking of a gauge, from, to, unit, certificate, laboratory, calibrated, due, fit
_INSTRUMENTS: tuple[tuple[Typed, ...], ...] = (
    ("M-1", "micrometer", None, 0, 1, "in", "C-4101", _LAB, date(2023, 9, 29), date(2024, 9, 30), "yes"),
    ("M-2", "thread micrometer", None, 0, 1, "in", "C-4102", _LAB, date(2023, 3, 21), date(2024, 3, 20), "yes"),
    ("M-3", "micrometer", None, 0, 1, "in", "C-3977", _LAB, date(2023, 2, 14), date(2024, 2, 15), "yes"),
    ("M-4", "micrometer", None, 1, 2, "in", "C-4103", _LAB, date(2023, 9, 29), date(2024, 9, 30), "no"),
    ("G-1", "GO ring", "3/4-16 UNF-2A GO", None, None, None, "C-4120", *_GAUGED_ON),
    ("G-2", "NOT GO ring", "3/4-16 UNF-2A NOT GO", None, None, None, "C-4121", *_GAUGED_ON),
    ("G-3", "GO ring", "3/4-16 UNF-3A GO", None, None, None, "C-4122", *_GAUGED_ON),
    ("G-4", "GO/NOT GO plug", "M20x2.5-6H", None, None, None, "C-4125", _LAB, date(2023, 11, 30), date(2023, 10, 31),
     "yes"),
    ("D-1", "caliper", None, 0, 6, "in", None, None, None, None, None),
    ("D-2", "caliper", None, 0, 6, "in", "C-4130", _LAB, date(2023, 9, 29), date(2024, 9, 30), "yes"),
)  # fmt: skip

# number, certificate, laboratory, three wires, due, fit; certified two years before it is due
_WIRES: tuple[tuple[str, str, str, float, float | None, float | None, date, str], ...] = (
    ("W-29", "C-4110", _LAB, 0.02901, 0.02901, 0.02900, date(2025, 9, 30), "yes"),
    ("W-32", "C-4111", _LAB, 0.03200, 0.03201, 0.03200, date(2025, 9, 30), "yes"),
    ("W-36", "C-4112", _LAB, 0.03609, 0.03610, 0.03609, date(2025, 9, 30), "yes"),
    ("W-36B", "C-2250", _LAB, 0.03608, None, None, date(2024, 1, 31), "yes"),
    ("W-40", "C-4113", _LAB, 0.04000, 0.04004, 0.04001, date(2024, 3, 31), "yes"),
    ("W-45", "C-4114", _LAB, 0.04501, 0.04501, 0.04502, date(2025, 9, 30), "yes"),
    ("W-63", "C-4115", _LAB, 0.06301, 0.06300, 0.06300, date(2025, 9, 30), "yes"),
)


def _part(serial: str, reading: Typed = None, crest: Typed = None, **other: Typed) -> dict[str, Typed]:
    """A row of the log; instrument, person and day are typed once, over the rows."""
    return {"serial": serial, "reading": reading, "crest": crest, **other}


_ONCE: dict[str, Typed] = {"log_once_instrument": "M-1", "log_once_who": "turner", "log_once_when": date(2024, 3, 5)}


_STATIONS = {"reading_1b": 0.7597, "reading_2a": 0.7599, "reading_2b": 0.7598, "reading_3a": 0.7600}
_GAUGED = {"ring": "pass", "gauge": "G-1"}
_PARTS = (
    _part("001", 0.7598, 0.7442, **_STATIONS, reading_3b=0.7599, **_GAUGED, temperature=23),
    _part("002", 0.7601, 0.7441, reading_2a=0.7603, reading_3a=0.7606, **_GAUGED, temperature=24),
    _part("003", 0.7595, 0.7440, temperature=24, ring="pass", gauge="G-3"),
    _part("004", 0.7604, 0.7443),
    _part("005", 0.7621, 0.7440),
    _part("006", 0.7626, 0.7441),
    _part("007", 0.7611, 0.7439),
    _part("008", 0.7593, 0.7440),
    _part("009", 0.7588, 0.7438),
    _part("010", 0.7571, 0.7437),
    _part("011", 0.7565, 0.7440),
    _part("012", 0.7582, 0.7386),
    _part("013", None, 0.7441, direct=0.7052, instrument="M-2", who="inspector"),
    _part("014", None, 0.7440, direct=0.7049, instrument="M-2", who="inspector"),
    _part("015", 0.7594, 0.7439, direct=0.7053, who="inspector"),
    _part("016", 0.7594, 0.7440, direct=0.7078, who="inspector"),
    _part("017", "0.7601 ?", 0.7442, who="inspector"),
    _part("018", 19.31, 0.7441, who="inspector"),
    _part("019", 0.7603, who="inspector", ring="not go enters", gauge="G-2"),
    _part("020", None, 0.7443, who="inspector"),
    _part("021", 0.7599, 0.7491, who="inspector"),
    _part("022", 0.7606, 0.7441, who="inspector", instrument="M-3"),
    _part("023", "0,7590", 0.7440, who="inspector"),
    _part("024", 0.7597, 0.7441, who="inspector", wires="W-9"),
    _part("025", 0.7602, 0.7442, who="inspector", when=date(2024, 3, 1)),
    _part("021", 0.7599, 0.7442, who="inspector", when=date(2024, 3, 6), why="a burr was measured; deburred"),
    _part("026"),
)


def values() -> Inputs:
    """Inputs of both sheets by name."""
    instruments = ("id", "kind", "thread", "from", "to", "unit", "certificate", "lab", "calibrated", "due", "fit")
    wires = ("id", "certificate", "lab", "a", "b", "c", "due", "fit")
    return {
        **{f"instrument_{name}": list(column) for name, column in zip(instruments, zip(*_INSTRUMENTS))},
        **{f"wires_{name}": list(column) for name, column in zip(wires, zip(*_WIRES))},
        "wires_calibrated": [due.replace(year=due.year - 2) for *_, due, _ in _WIRES],
        **{f"log_{one.name}": [part.get(one.name) for part in _PARTS] for one in INPUTS},
        **_ONCE,
        "as_of": date(2024, 3, 6),
        "decision_rule": "guard",
        "expanded_uncertainty": 0.0002,
        "coverage_factor": 2,
        "crest_uncertainty": 0.0002,
        "expansion": 0.0000123,
        "expansion_source": "4140, Callister B.6",
        "instrument_expansion": 0.0000115,
        "room_temperature": 21,
        "turns_rule": "not go may enter 3 turns, ASME B1.2",
    }
