"""Reads `lathe.toml`, the description of one lathe, and turns it into inputs of the sheet Lathe.

A file that can't be used gets one sentence with the line that is wrong.
"""

from __future__ import annotations

import difflib
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, NamedTuple, TypeGuard

from sheetfuncs.errors import CellError, in_one_line
from sheetfuncs.gears import Quadrant
from sheetfuncs.leads import read_leadscrew
from sheetfuncs.units import LARGEST, MM_PER_INCH, read_number
from workbook_template.sheets.lathe_charts import ROWS, SHELF_ROWS
from workbook_template.sheets.lathe_inputs import CHUCKS, DIAL_READS, FEED_REVERSES, MOST_LINES, MOST_TEETH
from workbook_template.trade.typed import Inputs, Typed


class LatheError(ValueError):
    """What is wrong with a lathe file, in one sentence."""


class Position(NamedTuple):
    """One lever position: as the shop writes it, what it cuts (number and `tpi` or `mm`), the feed a turn or None."""

    levers: str
    cuts: float
    unit: str
    feed: float | None

    @property
    def lead_mm(self) -> float:
        """Lead that this position cuts with the usual end gears."""
        return MM_PER_INCH / self.cuts if self.unit == "tpi" else self.cuts


class Lathe(NamedTuple):
    """One lathe as its file describes it; what a file leaves out is None or empty."""

    name: str
    leadscrew: float
    leadscrew_unit: str
    speeds: tuple[float, ...] = ()
    feed_reverse: str | None = None
    chuck: str | None = None
    dial_teeth: tuple[int, ...] = ()
    dial_lines: int | None = None
    dial_unit: str | None = None
    compound: float | None = None
    compound_reads: str | None = None
    cross_slide: float | None = None
    cross_slide_reads: str | None = None
    end_gears: tuple[int, int] | None = None
    chart: tuple[Position, ...] = ()
    shelf: tuple[int, ...] = ()
    fixed_ratio: float | None = None
    quadrant: Quadrant | None = None

    @property
    def leadscrew_mm(self) -> float:
        """Lead of the leadscrew."""
        return MM_PER_INCH / self.leadscrew if self.leadscrew_unit == "tpi" else self.leadscrew


Reader = Callable[[object], object]
"""From what TOML gives for a key to what the field of `Lathe` holds."""


class _Wrong(Exception):
    """What is wrong with one value, and a text that stands on its line where the key's own line is not it."""

    def __init__(self, sentence: str, beside: str = "", time: int = 1) -> None:
        super().__init__(sentence)
        self.beside, self.time = beside, time  # the text stands there for the first time, or the second


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 < value <= LARGEST


def _text(value: object) -> str:
    if not isinstance(value, str) or not value.strip():
        raise _Wrong("must be a text in quotation marks")
    return value.strip()


def _one_of(*words: str) -> Reader:
    def read(value: object) -> str:
        if not isinstance(value, str) or value not in words:
            raise _Wrong(f"is {value!r}; it must be one of {', '.join(words)}")
        return value

    return read


def _number(value: object) -> float:
    if not _is_number(value):
        raise _Wrong(f"is {value!r}; it must be a number more than zero")
    return value


def _numbers(most: int) -> Callable[[object], tuple[float, ...]]:
    def read(value: object) -> tuple[float, ...]:
        if not isinstance(value, list) or not value:
            raise _Wrong("must be a list of numbers, as in [70, 115, 190]")
        for one in value:
            if not _is_number(one):
                raise _Wrong(f"has {one!r} in it; every entry must be a number more than zero", str(one))
        if len(value) > most:
            raise _Wrong(f"has {len(value)} entries; the sheet has room for {most}")
        return tuple(value)

    return read


def _teeth(fewest: int, most: int) -> Reader:
    def read(value: object) -> tuple[int, ...]:
        found = _numbers(most)(value if isinstance(value, list) else [value])
        for one in found:
            if one != int(one) or not fewest <= one <= MOST_TEETH:
                raise _Wrong(
                    f"has {one!r} in it; gears have a whole number of teeth, {fewest} to {MOST_TEETH}", str(one)
                )
        return tuple(int(one) for one in found)

    return read


def _lines(value: object) -> int:
    if not _is_number(value) or value != int(value) or value > MOST_LINES:
        raise _Wrong(f"is {value!r}; count the lines on the dial, 1 to {MOST_LINES}")
    return int(value)


def _leadscrew(value: object) -> tuple[float, str]:
    text = str(value) if _is_number(value) else _text(value)
    try:
        screw = read_leadscrew(text)
    except CellError as error:
        raise _Wrong(error.sentence.removeprefix("leadscrew ")) from None
    if text.lower().rstrip().endswith(("mm", "in", "inch")):
        return screw.value, "mm"
    return MM_PER_INCH / screw.value, "tpi"


def _end_gears(value: object) -> tuple[int, int]:
    top = bottom = 1
    for pair in _text(value).replace("×", "x").split("x"):
        found = re.fullmatch(r"\s*(\d{1,3})\s*/\s*(\d{1,3})\s*", pair)
        if not found or 0 in map(int, found.groups()):
            raise _Wrong(f"is {value!r}; write driver over driven, as in 40/40 or 24/48 x 50/60")
        top, bottom = top * int(found[1]), bottom * int(found[2])
    return top, bottom


def _quadrant(value: object) -> Quadrant:
    if not isinstance(value, list) or len(value) != 2 or not all(map(_is_number, value)) or value[0] > value[1]:
        raise _Wrong("must be the least and the greatest sum of teeth that it takes, as in [130, 260]")
    return Quadrant(*value)


def _chart(value: object) -> tuple[Position, ...]:
    how = 'a row is [levers, thread, feed a turn], as in ["L6", "8 tpi", 0.0143], the feed may be left out'
    if not isinstance(value, list) or not value:
        raise _Wrong(f"must be a list of rows; {how}")
    if len(value) > ROWS:
        raise _Wrong(f"has {len(value)} rows; the sheet has room for {ROWS}")
    rows: list[Position] = []
    for row in value:
        if not isinstance(row, list) or len(row) not in (2, 3) or not all(isinstance(one, str) for one in row[:2]):
            first = row[0] if isinstance(row, list) and row and isinstance(row[0], str) else ""
            raise _Wrong(f"has the row {row!r}; {how}", f'"{first}"' if first else "")
        levers, beside = row[0].strip(), f'"{row[0]}"'
        if not levers or levers in [one.levers for one in rows]:
            raise _Wrong(
                f"has the levers {levers!r} {'twice' if levers else 'without a name'}", beside, 2 if levers else 1
            )
        number, _, unit = row[1].lower().replace("tpi", " tpi").replace("mm", " mm").strip().rpartition(" ")
        cuts = read_number(number.strip())
        if unit not in ("tpi", "mm") or cuts is None or cuts <= 0:
            raise _Wrong(f"has {row[1]!r} at {levers}; write threads per inch or a pitch: 11 1/2 tpi, 1.5 mm", beside)
        if len(row) == 3 and not _is_number(row[2]):
            raise _Wrong(f"has the feed {row[2]!r} at {levers}; it must be a number more than zero", beside)
        rows.append(Position(levers, cuts, unit, row[2] if len(row) == 3 else None))
    return tuple(rows)


_READS = _one_of(*DIAL_READS)
KEYS: dict[str, dict[str, tuple[str, Reader]]] = {
    "": {
        "name": ("name", _text),
        "leadscrew": ("leadscrew", _leadscrew),
        "speeds": ("speeds", _numbers(SHELF_ROWS)),
        "feed_reverse": ("feed_reverse", _one_of(*FEED_REVERSES)),
        "chuck": ("chuck", _one_of(*CHUCKS)),
    },
    "thread_dial": {"gear_teeth": ("dial_teeth", _teeth(1, 4)), "lines": ("dial_lines", _lines)},
    "dials": {
        "unit": ("dial_unit", _one_of("in", "mm")),
        "compound": ("compound", _number),
        "compound_reads": ("compound_reads", _READS),
        "cross_slide": ("cross_slide", _number),
        "cross_slide_reads": ("cross_slide_reads", _READS),
    },
    "gearbox": {"end_gears": ("end_gears", _end_gears), "chart": ("chart", _chart)},
    "change_gears": {
        "shelf": ("shelf", _teeth(8, SHELF_ROWS)),
        "fixed_ratio": ("fixed_ratio", _number),
        "quadrant": ("quadrant", _quadrant),
    },
}
"""Table and key of the file -> field of `Lathe` and how it is read."""
TOGETHER = (
    ("thread_dial", "gear_teeth", "lines"),
    ("gearbox", "end_gears", "chart"),
)
"""Keys that mean nothing without each other."""


def read_file(path: Path) -> Lathe:
    """The lathe of a file."""
    try:
        content = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise LatheError(f"{path.name} is not a text file in UTF-8") from None
    except OSError as error:
        raise LatheError(f"{path} can't be read: {error.strerror}") from None
    return read(content, path.name)


def read(text: str, name: str = "lathe.toml") -> Lathe:
    """The lathe of a file's text.

    >>> read('name = "Old one"\\nleadscrew = "6 tpi"').leadscrew_mm
    4.233333333333333
    >>> read('name = "Old one"\\nleadscrew = "6 th"')
    Traceback (most recent call last):
    workbook_template.file.lathe_toml.LatheError: lathe.toml, line 2: leadscrew is '6 th'; write it as in 8 tpi or 3 mm
    """
    file, data = _File(name, text), _parse(text, name)
    fields: dict[str, Any] = {}
    for table, keys in KEYS.items():
        fields |= _fields(file, table, keys, data.get(table, {}) if table else data)
    for field in ("name", "leadscrew"):
        if field not in fields:
            raise LatheError(f"{name} has no {field}; a lathe needs a name and a leadscrew")
    _refuse_halves(file, data, fields)
    fields["leadscrew"], fields["leadscrew_unit"] = fields["leadscrew"]
    return Lathe(**fields)


class _File(NamedTuple):
    """A file by its name and its text."""

    name: str
    text: str

    def wrong(self, table: str, key: str, sentence: str, beside: str = "", time: int = 1) -> LatheError:
        """What is wrong with a key of a table, with its line."""
        line = _line(self.text, table, key, beside, time)
        return LatheError(f"{self.name}, line {line}: {in_one_line(sentence)}")


def _fields(file: _File, table: str, keys: dict[str, tuple[str, Reader]], found: object) -> dict[str, Any]:
    """The fields of `Lathe` that one table of the file fills."""
    if not isinstance(found, dict):
        raise file.wrong("", table, f"{table} is a table, written as [{table}]")
    known = [*keys, *(KEYS if not table else ())]
    fields = {}
    for key, value in found.items():
        if key not in known:
            near = difflib.get_close_matches(key, known, 1, 0.5)
            meant = f"; did you mean {near[0]}?" if near else f"; it knows {', '.join(filter(None, known))}"
            place = f" of [{table}]" if table else ""
            raise file.wrong(table, key, f"'{key}' is no entry{place}{meant}")
        if key in keys:
            field, reader = keys[key]
            try:
                fields[field] = reader(value)
            except _Wrong as wrong:
                raise file.wrong(table, key, f"{key} {wrong}", wrong.beside, wrong.time) from None
    return fields


def _refuse_halves(file: _File, data: dict[str, Any], fields: dict[str, Any]) -> None:
    """Refuse what means nothing without something else that is missing, or nothing beside it."""
    for table, *pair in TOGETHER:
        given = [key for key in pair if key in data.get(table, {})]
        if len(given) == 1:
            missing = next(key for key in pair if key not in given)
            raise file.wrong(table, given[0], f"{given[0]} of [{table}] needs {missing} beside it")
    if fields.get("dial_unit") is None:
        for table, key, asked in (
            *(("dials", key, fields.get(key)) for key in ("compound", "cross_slide")),
            ("gearbox", "chart", any(position.feed for position in fields.get("chart", ()))),
        ):
            if asked:
                sentence = 'dials and feeds need their unit; write unit = "in" or "mm" under [dials]'
                raise file.wrong(table, key, sentence)
    if "fixed_ratio" in fields and "chart" in fields:
        sentence = "fixed_ratio is for a lathe without a gearbox; here the chart holds it"
        raise file.wrong("change_gears", "fixed_ratio", sentence)


def _parse(text: str, name: str) -> dict[str, Any]:
    if sys.version_info >= (3, 11):
        import tomllib

        try:
            return tomllib.loads(text)
        except ValueError as error:  # TOML that is none, or a number of thousands of digits
            said, _, place = str(error).partition(" (at ")
            line = re.search(r"line (\d+)", place)
            at = line[1] if line else len(text.splitlines())
            raise LatheError(f"{name}, line {at}: not written as TOML wants it: {said[:1].lower()}{said[1:]}") from None
        except RecursionError:
            raise LatheError(
                f"{name} has brackets within brackets without end; a list holds numbers, or rows"
            ) from None
    raise LatheError("reading a lathe file needs Python 3.11 or newer")


def _line(text: str, table: str, key: str, beside: str = "", time: int = 1) -> int:
    """The line of a key in its table; of the text in its value where that stands there so many times."""
    lines = text.splitlines()
    now, at = "", 0
    for number, line in enumerate(lines, start=1):
        heading = re.match(r"\s*\[\s*([^\[\]]+?)\s*\]\s*(#.*)?$", line)
        if heading:
            now = heading[1].strip("\"'")
            if key == now and not table:
                return number
        elif now == table and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]", line):
            at = number
            break
    if not at:
        return next((number for number, line in enumerate(lines, start=1) if (table or key) in line), 1)
    token = rf"(?<![\w.-]){re.escape(beside)}(?![\w.])"
    found = [number for number, line in enumerate(lines[at - 1 :], start=at) for _ in re.findall(token, line)]
    return found[time - 1] if beside and len(found) >= time else at


def values(lathe: Lathe, number: int, trains: Sequence[Sequence[Typed]]) -> Inputs:
    """Inputs of the sheet Lathe by their names, for lathe 1 or 2; `trains` are the rows of its gear chart."""
    end_driver, end_driven = lathe.end_gears or (None, None)
    least, greatest = lathe.quadrant or (None, None)
    single: Inputs = {
        "lathe_name": lathe.name,
        "leadscrew": round(lathe.leadscrew, 9),
        "leadscrew_unit": lathe.leadscrew_unit,
        "dial_lines": lathe.dial_lines,
        **{f"dial_{letter}": teeth for letter, teeth in zip("abcd", lathe.dial_teeth)},
        "end_driver": end_driver,
        "end_driven": end_driven,
        "fixed_ratio": lathe.fixed_ratio,
        "quadrant_min": least,
        "quadrant_max": greatest,
        "dial_unit": lathe.dial_unit,
        "compound_dial": lathe.compound,
        "compound_dial_reads": lathe.compound_reads,
        "cross_dial": lathe.cross_slide,
        "cross_dial_reads": lathe.cross_slide_reads,
        "feed_reverse": lathe.feed_reverse,
        "chuck_mount": lathe.chuck,
        "box_position": [position.levers for position in lathe.chart],
        "box_tpi": [position.cuts if position.unit == "tpi" else None for position in lathe.chart],
        "box_pitch": [position.cuts if position.unit == "mm" else None for position in lathe.chart],
        "box_feed": [position.feed for position in lathe.chart],
        "shelf": list(lathe.shelf),
        "spindle_speeds": list(lathe.speeds),
    }
    names = ("train_tpi", "train_pitch", "train_levers", "train_a", "train_b", "train_c", "train_d")
    columns: Iterable[list[Typed]] = map(list, zip(*trains)) if trains else [[] for _ in names]
    filled = {**single, **dict(zip(names, columns))}
    return {f"{name}_{number}": value for name, value in filled.items() if value not in (None, [])}
