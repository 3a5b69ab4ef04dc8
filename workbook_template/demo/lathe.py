"""The lathes of the filled example, and what is typed for them. Both are invented."""

from __future__ import annotations

from pathlib import Path

from sheetfuncs import standards
from workbook_template.file import lathe_toml, lathe_trains
from workbook_template.trade.typed import Inputs

FILES = ("quick_change_8tpi.toml", "change_gear_6tpi.toml")


def lathes() -> list[lathe_toml.Lathe]:
    """The two lathes."""
    folder = Path(__file__).parent.parent / "lathes"
    return [lathe_toml.read_file(folder / name) for name in FILES]


def values(thread: str) -> Inputs:
    """Inputs of the sheet Lathe by their names."""
    return {
        **lathe_trains.inputs(lathes(), [standards.read(thread)]),
        "lathe_in_use": 1,
        "surface_speed": 40,
        "surface_speed_unit": "ft/min",
        "usable_relief": 0.09,
        "reaction_spread": 0.25,
        "turning_feed": 0.008,
    }
