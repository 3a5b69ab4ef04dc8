"""From a cell to a value of the trade: one reader for each dimension of the glossary, and its sentence."""

from __future__ import annotations

from sheetfuncs import standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.terms import TERMS, Term
from sheetfuncs.units import MM_PER_INCH, convert_length, in_reach, read_length, read_number, split_number, tidy

ERROR_CODES = ("#N/A", "#VALUE!", "#NUM!", "#DIV/0!", "#REF!", "#NAME?", "#NULL!")
"""What a spreadsheet puts in a cell that failed; such a text is passed on, never read as input."""

DEGREES = {
    **dict.fromkeys(("", "c", "celsius", "centigrade"), (0.0, 1.0)),
    **dict.fromkeys(("f", "fahrenheit"), (32.0, 1.8)),
}
"""What may stand behind a temperature: its reading at 0 degrees Celsius, and its degrees for one of Celsius."""

TIPS = {"flat": "flat", **dict.fromkeys(("radius", "nose radius", "nose", "r", "rad"), "radius")}
"""The words for what the end of a tool is; inserts and drawings have R0.2."""

MOST_SURCHARGE = 4.0
"""A larger share was meant as per cent: 5 for 5 %."""

Cell = object
"""A number, a text, a boolean, None, or a date that the spreadsheet made of a fraction; or a range of them."""

if TYPE_CHECKING:
    from collections.abc import Callable

    Reader = Callable[[Cell, str, Term, str, str], object]


def read_thread(cell: Cell) -> Thread:
    if not isinstance(cell, str):
        was_date = isinstance(cell, (int, float)) and not isinstance(cell, bool)
        as_text = "; a spreadsheet makes a date of 10-32, put an apostrophe before it" * was_date
        raise NotUnderstood(f"thread is {_shown(cell)}; write it as in 3/4-16 UNF-2A or M20x2.5-6g{as_text}")
    try:
        return standards.read(cell)
    except CellError:
        _pass_on_error(cell, "thread")
        raise


def _thread(cell: Cell, name: str, term: Term, own: str, unit: str) -> Thread:
    return read_thread(cell)


def _number(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = None
    if isinstance(cell, float) or (isinstance(cell, int) and not isinstance(cell, bool)):
        value = in_reach(cell)
    elif isinstance(cell, str) and not _pass_on_error(cell, name):
        value = read_number(cell)
    if value is None:
        number, behind = split_number(cell) if isinstance(cell, str) else (None, "")
        is_unit = number is not None and (behind[:1].isalpha() or behind == '"')
        alone = f"write the number alone, without '{behind}'" if is_unit else ""
        if isinstance(cell, str) and "," in cell:
            alone = "write decimals with a point, not with a comma"
        raise NotUnderstood(f"{name} is {_shown(cell)}; {alone or wanted(term)}")
    return value


def _temperature(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """Degrees Celsius; a text may say so, or say degrees Fahrenheit."""
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        value, behind = split_number(cell)
        scale = behind.lower().replace("°", "").replace("degrees", "").replace("deg", "").strip(" .")
        if value is None or scale not in DEGREES:
            raise NotUnderstood(f"{name} is {_shown(cell)}; {wanted(term)}")
        zero, per_celsius = DEGREES[scale]
        return (value - zero) / per_celsius
    return _number(cell, name, term, own, unit)


def _length(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _signed_length(cell, name, term, own, unit)
    if value <= 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be more than zero")
    return value


def _length_or_none(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _signed_length(cell, name, term, own, unit)
    if value < 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be 0 or more")
    return value


def _signed_length(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        value = read_length(cell, name, unit)
    else:
        value = _number(cell, name, term, own, unit)
    return value if unit == own else convert_length(value, unit, own)


def _count(cell: Cell, name: str, term: Term, own: str, unit: str) -> int:
    value = _number(cell, name, term, own, unit)
    if value != int(value) or not 0 <= value <= 1000:
        raise OutOfRange(f"{name} is {plain(value)}; it must be a whole number, 0 to 1000")
    return int(value)


def read_choice(cell: Cell, name: str, term: Term, own: str = "", unit: str = "") -> str:
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        word = " ".join(cell.lower().split())
        if word in term.choices:
            return word
    raise NotUnderstood(f"{name} is {_shown(cell)}; {wanted(term)}")


def _tip(cell: Cell, name: str, term: Term, own: str, unit: str) -> Tip:
    """sharp, flat 0.3, radius 0.2 or R0.2, or a bare length: a nose radius, where 0, number or text, is a sharp tip."""
    kind, word = "radius", ""
    size = cell
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        text = tidy(cell).lower()
        begins = next((at for at, sign in enumerate(text) if sign in ".-+0123456789"), len(text))
        word, behind = text[:begins].strip(), text[begins:]
        if word == "sharp" and not behind:
            return Tip("sharp")
        if word in TIPS and (behind or word in TIPS.values()):
            kind, size = TIPS[word], behind
        elif word:
            raise NotUnderstood(f"{name} is '{cell}'; write sharp, flat 0.3, radius 0.2 or a nose radius")
    name = f"{name} {kind}"
    found = _signed_length(size, name, term, own, unit)
    if found == 0 and not word:
        return Tip("sharp")
    if found <= 0:
        raise OutOfRange(f"{name} is {_shown(size)}; it must be more than zero; write sharp for a sharp tool")
    return Tip(kind, found)


def _leadscrew(cell: Cell, name: str, term: Term, own: str, unit: str) -> tuple[int, int]:
    from sheetfuncs.leads import read_leadscrew  # only the functions that need it load the topic

    if isinstance(cell, str) and not _pass_on_error(cell, name):
        return read_leadscrew(cell)
    return read_leadscrew(plain(_number(cell, name, term, own, unit)))


def _counted(cell: Cell, name: str, term: Term, own: str, unit: str) -> tuple[float, float]:
    from sheetfuncs.identify import read_counted

    if isinstance(cell, str):
        _pass_on_error(cell, name)
        return read_counted(cell, unit)
    return read_counted(_number(cell, name, term, own, unit), unit)


def _numbers(cell: Cell, name: str, term: Term, own: str, unit: str) -> list[float]:
    """Numbers of a range, or of a text with spaces, semicolons or commas and spaces between them.

    1 1/4 alone is one number; with other numbers and only spaces between them nobody can say.
    """
    _pass_on_error(str(cell), name)
    found: list[float] = []
    for entry in str(cell).replace(", ", ";").split(";"):
        value, parts = read_number(entry), entry.split()
        if value is not None:
            found.append(value)
            continue
        if any(whole.isdigit() and "/" in part for whole, part in zip(parts, parts[1:])):
            raise NotUnderstood(f"{name} has '{entry}'; write 1 1/4 as 1-1/4 or 1.25, or semicolons between numbers")
        found += [_number(part, name, term, own, unit) for part in parts]
    return found


def _fraction(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """A number or a text such as 50 %, as a part of the whole."""
    if isinstance(cell, str) and not _pass_on_error(cell, name) and cell.strip().endswith("%"):
        value = _number(cell.strip()[:-1].strip(), name, term, own, unit) / 100
    else:
        value = _number(cell, name, term, own, unit)
    if value < 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be 0 or more, as 50 % or 0.5")
    return value


def _surcharge(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """A share that may be more than the whole, as 150 % or 1.5."""
    value = _fraction(cell, name, term, own, unit)
    if value > MOST_SURCHARGE:
        raise OutOfRange(f"{name} is {_shown(cell)}; write 50 % or 0.5 for the half, {MOST_SURCHARGE:.0%} at most")
    return value


def _share(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _fraction(cell, name, term, own, unit)
    if value >= 1:
        raise OutOfRange(f"{name} is {_shown(cell)}; write a share such as 5 % or 0.05, less than 100 %")
    return value


def _portion(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """A share that may be the whole."""
    value = _fraction(cell, name, term, own, unit)
    if value > 1:
        raise OutOfRange(f"{name} is {_shown(cell)}; {wanted(term)}")
    return value


def _not_negative(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _number(cell, name, term, own, unit)
    if value < 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be 0 or more")
    return value


def _more_than_zero(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _number(cell, name, term, own, unit)
    if value <= 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be more than zero")
    return value


def _material(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    from sheetfuncs.inspection import read_material

    if isinstance(cell, str) and not _pass_on_error(cell, name):
        return read_material(cell)
    return read_material(repr(_number(cell, name, term, own, unit)))


def _study(cell: Cell, name: str, term: Term, own: str, unit: str) -> tuple[object, ...]:
    """Rows of a range; in a text, rows end with semicolons."""
    from sheetfuncs.gauge_study import read_study

    if isinstance(cell, str) and not _pass_on_error(cell, name):
        return read_study([row.split() for row in cell.split(";")])
    if not isinstance(cell, Block):
        raise NotUnderstood(f"{name} is {_shown(cell)}; {wanted(term)}")
    _pass_on_errors(cell, name)
    return read_study(cell.rows)


def _lots(cell: Cell, name: str, term: Term, own: str, unit: str) -> list[str]:
    from sheetfuncs.sampling import read_results

    if isinstance(cell, Block):
        _pass_on_errors(cell, name)
        cell = " ".join(str(part) for row in cell.rows for part in row if not is_blank(part))
    if not isinstance(cell, str) or _pass_on_error(cell, name):
        raise NotUnderstood(f"{name} is {_shown(cell)}; {wanted(term)}")
    return read_results(cell)


def _speed(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """Surface speed in the thread's own unit: feet a minute for inch, metres a minute for millimetres."""
    per_minute = {"ft/min": MM_PER_INCH * 12, "sfm": MM_PER_INCH * 12, "m/min": 1000.0}
    own_length = per_minute["ft/min" if own == "in" else "m/min"]
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        for spelling, length in per_minute.items():
            if cell.strip().lower().endswith(spelling):
                cell, own_length = cell.strip()[: -len(spelling)], own_length / length
                return _number(cell, name, term, own, unit) / own_length
    return _number(cell, name, term, own, unit)


READERS: dict[str, Reader] = {
    "thread": _thread,
    "number": _number,
    "temperature": _temperature,
    "angle": _number,
    "length": _length,
    "length or none": _length_or_none,
    "signed length": _signed_length,
    "count": _count,
    "choice": read_choice,
    "tip": _tip,
    "leadscrew": _leadscrew,
    "numbers": _numbers,
    "speed": _speed,
    "counted": _counted,
    "size": _more_than_zero,
    "amount": _not_negative,
    "share": _share,
    "portion": _portion,
    "surcharge": _surcharge,
    "material": _material,
    "study": _study,
    "lots": _lots,
}
"""Reader of each dimension: cell, name, term, own unit, unit of bare lengths."""


def wanted(term: Term) -> str:
    """What would be accepted, in words."""
    if term.choices:
        return f"choose {', '.join(term.choices[:-1])} or {term.choices[-1]}" if term.choices[1:] else term.choices[0]
    return {
        "thread": "write it as in 3/4-16 UNF-2A or M20x2.5-6g",
        "length": "write a length such as 0.0361 or 0.92 mm",
        "length or none": "write a length such as 0.0361 or 0.92 mm; 0 where there is none",
        "tip": "write sharp, flat 0.3, radius 0.2 or a nose radius",
        "count": "write a whole number",
        "temperature": "write degrees Celsius as a bare number, or say C or F, as in 30 C or 86 F",
        "leadscrew": "write it as in 8 tpi or 3 mm",
        "numbers": "give a range of numbers, or a text such as 20 25 30",
        "counted": "write 2 mm, 12 tpi, or a count such as 10 in 20 mm",
        "speed": "write a number, or text such as 40 ft/min or 12 m/min",
        "share": "write a share such as 5 % or 0.05; 0 where there is none",
        "portion": "write a share such as 20 % or 0.2, 100 % at most",
        "surcharge": "write a share such as 50 % or 0.5; 0 where there is none",
        "amount": "write a number; 0 where there is none",
        "material": "write steel, brass or another material of its list, or an expansion such as 11.5e-6",
        "study": "give a range of three columns, part, appraiser and reading",
        "lots": "give accepted or rejected for each lot",
    }.get(term.dimension, "write a number, with a point for decimals")


def _shown(cell: Cell) -> str:
    if isinstance(cell, str):
        return f"'{cell}'"
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, (int, float)):
        return plain(cell) if not abs(cell) >= 1e300 else "larger than any number in use"
    return (
        "a date (a spreadsheet makes 3/4 or 10-32 one; put an apostrophe before it)"
        if hasattr(cell, "year")
        else repr(cell)
    )


def _pass_on_error(text: str, name: str) -> bool:
    """False for ordinary text; an error that stands in the cell is passed on under its own code."""
    code = text.split(" ", 1)[0]
    if code in ERROR_CODES:
        kind = next((k for k in (NotGiven, OutOfRange) if k.code == code), NotUnderstood)
        raise kind(f"the cell given for {name} holds the error {text}")
    return False


def _pass_on_errors(block: Block, name: str) -> None:
    for part in (part for row in block.rows for part in row):
        _pass_on_error(str(part), name)


def _as_text(cell: Cell, name: str) -> Cell:
    """A range of numbers as one text, so that it is never taken for a range to answer cell by cell."""
    if isinstance(cell, (list, tuple)):
        return ";".join(str(part) for part in (_as_text(part, name) for part in cell) if not is_blank(part))
    if not (is_blank(cell) or isinstance(cell, str)):
        _number(cell, name, TERMS[name], "", "")
    return cell


class Block:
    """A range that is taken whole, never answered cell by cell."""

    def __init__(self, rows: list[list[Cell]]) -> None:
        self.rows = rows


def _as_block(cell: Cell) -> Cell:
    """A range of several cells as a block; None where all are blank, so that it counts as blank."""
    cell = single(cell)
    if not isinstance(cell, (list, tuple)):
        return cell
    rows = [[_in_text(part) for part in (row if isinstance(row, (list, tuple)) else [row])] for row in cell]
    return Block(rows) if any(not is_blank(part) for row in rows for part in row) else None


def _in_text(cell: Cell) -> Cell:
    """An integer longer than a text may be is no number of a sheet."""
    return float("inf") if isinstance(cell, int) and abs(cell) > 1e300 else cell


def taker(name: str) -> Callable[[Cell], Cell]:
    """How the argument of that name takes what it is given: most answer a range cell by cell, some take it whole."""
    dimension = TERMS[name].dimension
    if dimension == "numbers":
        return lambda cell: single(_as_text(cell, name))
    return _as_block if dimension in ("study", "lots") else single


def is_blank(cell: Cell) -> bool:
    return cell is None or (isinstance(cell, str) and not cell.strip())


def single(cell: Cell) -> Cell:
    """A range of one cell counts as that cell, one of none as a blank; a blank is None."""
    while isinstance(cell, (list, tuple)) and len(cell) < 2:
        if not cell:
            return None
        if isinstance(cell[0], (list, tuple)) and len(cell[0]) > 1:
            return cell
        cell = cell[0]
    return None if is_blank(cell) else cell
