"""Rules of one formula as a file stores it: it can be read, and all it names is there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from sheetfuncs.catalog import find
from workbook_template.figures.parse import LAST_COLUMN, LAST_ROW, Token, column_number, sheet_name, tokens
from workbook_template.rules.functions import KNOWN, NEW, YOUNG
from workbook_template.rules.parts import cell_place

LONGEST, DEEPEST, MOST_ARGUMENTS, LONGEST_TEXT = 8192, 64, 255, 255
ITEMS = ("#all", "#data", "#headers", "#totals", "#this row")

_VALUES = ("text", "error", "rows", "number", "columns", "cell", "table", "name")
_BRACKETED = re.compile(r"\[((?:'.|[^\[\]'])*)\]")


class Surroundings(NamedTuple):
    """What a formula may name, all in lower case; `sheet` is where it stands, "" for the whole workbook."""

    sheets: frozenset[str]
    names: frozenset[tuple[str, str]]  # (sheet or "", name)
    tables: dict[str, frozenset[str]]
    links: int
    sheet: str = ""
    table: str = ""


class _Level(NamedTuple):
    """An open bracket: "(" or "{" or the name of a function, and the arguments before this one."""

    opener: str
    before: int


def formula_faults(text: str, around: Surroundings, *, union: bool = False) -> Iterator[str]:
    """A sentence for each rule that the formula breaks; `union` allows ranges side by side, as in print areas.

    >>> around = Surroundings(frozenset({"job"}), frozenset({("", "pitch")}), {}, 0)
    >>> list(formula_faults("ROUND(pitch*Job!B2,4)", around))
    []
    >>> list(formula_faults("ROUND(pitch;4)", around))
    ['a semicolon stands between arguments; files have commas']
    """
    if text.startswith("="):
        yield "the formula is stored with its ="
        text = text[1:]
    if len(text) > LONGEST:
        yield f"the formula has {len(text)} characters; {LONGEST} are the most"
    if not text.strip():
        yield "the formula is empty"
        return
    pieces, unread = tokens(text)
    if unread:
        yield f"the formula can't be read from here: {unread[:20]}"
        return
    yield from dict.fromkeys(_shape(pieces, union))
    yield from dict.fromkeys(_meaning(pieces, around))


def _shape(pieces: list[Token], union: bool) -> Iterator[str]:
    """Brackets, separators, and values and operators in turn."""
    levels: list[_Level] = []
    after, deep = "start", 0  # after: or value, operator
    for kind, text in pieces:
        if kind in (*_VALUES, "sheet", "function", "open"):
            if after == "value":
                yield f"there is no operator before {text[:20]}"
            after = {"sheet": "operator", "function": "start", "open": "start"}.get(kind, "value")
            if kind in ("function", "open"):
                levels.append(_Level(text[:-1] or text, 0))
                deep += kind == "function"
                if deep > DEEPEST:
                    yield f"functions stand inside one another more than {DEEPEST} deep"
                    return
        elif kind == "binary":
            if after != "value" and text not in ("-", "+"):
                yield f"there is no value before {text}"
            after = "operator"
        elif kind == "percent":
            if after != "value":
                yield "there is no value before %"
        elif kind == "semicolon" and (not levels or levels[-1].opener != "{"):
            yield "a semicolon stands between arguments; files have commas"
            return
        elif kind in ("comma", "semicolon"):
            if after == "operator" or (after == "start" and (not levels or levels[-1].opener in "({")):
                yield f"there is no value before {text}"
            if not levels and not union:
                yield "a comma stands outside of brackets"
            elif levels:
                levels[-1] = levels[-1]._replace(before=levels[-1].before + 1)
            after = "start"
        elif kind == "close":
            if not levels or (levels[-1].opener == "{") != (text == "}"):
                yield f"a bracket is closed that was not opened: {text}"
                return
            level = levels.pop()
            deep -= level.opener not in "({"
            yield from _closed(level, after)
            after = "value"
    if levels:
        yield "a bracket is not closed"
    elif after != "value":
        yield "a value is missing at the end"


def _closed(level: _Level, after: str) -> Iterator[str]:
    """A bracket has just been closed."""
    if after == "operator" or (after == "start" and level.opener in "({"):
        yield "there is no value before a closing bracket"
    if level.opener in "({":
        return
    count = level.before + (after != "start" or level.before > 0)
    fewest, most = KNOWN.get(level.opener.upper(), (0, MOST_ARGUMENTS))
    if not fewest <= count <= most:
        yield f"{level.opener} has {count} arguments; it takes {fewest}" + (f" to {most}" if most > fewest else "")


def _meaning(pieces: list[Token], around: Surroundings) -> Iterator[str]:
    """Functions, sheets, names and tables are known; text is short enough."""
    holder = around.sheet
    for kind, text in pieces:
        if kind == "text" and len(text[1:-1].replace('""', '"')) > LONGEST_TEXT:
            yield f"a text of the formula has more than {LONGEST_TEXT} characters: {text[:20]}..."
        elif kind == "error" and text == "#REF!":
            yield "the formula holds #REF!, a reference that was lost"
        elif kind == "function":
            yield from _function(text[:-1])
        elif kind == "sheet":
            holder = sheet_name(text).lower()
            yield from _holder(holder, around)
            continue
        elif kind in ("rows", "columns"):
            if not all(_on_sheet(end) for end in text.replace("$", "").split(":")):
                yield f"{text} is beyond the edge of the sheet"
        elif kind == "table":
            yield from _table(text, around)
        elif (kind == "name" and text.upper() not in ("TRUE", "FALSE")) or (
            kind == "cell" and cell_place(text) is None
        ):
            own = (holder, text.lower())
            if "[" not in holder and own not in around.names and ("", text.lower()) not in around.names:
                yield f"there is no name {text}"
        holder = around.sheet


def _on_sheet(end: str) -> bool:
    return 1 <= int(end) <= LAST_ROW if end.isdigit() else column_number(end) <= LAST_COLUMN


def _function(name: str) -> Iterator[str]:
    upper = name.upper()
    if upper in KNOWN or find(upper):  # a function of the add-in stands inside IFERROR, for where it is absent
        return
    if upper in YOUNG:
        yield f"{name} is stored without {NEW}"
    elif upper.startswith(NEW.upper()) and upper.removeprefix(NEW.upper()) in KNOWN:
        yield f"{name} is older than the prefix {NEW}; store it without"
    else:
        yield f"{name} is no function that every program has"


def _holder(holder: str, around: Surroundings) -> Iterator[str]:
    found = re.match(r"\[(\d+)\]", holder)
    if found:
        if int(found[1]) > around.links:
            yield f"[{found[1]}] is another workbook, and the file has no such link"
    else:
        for sheet in holder.split(":"):
            if sheet not in around.sheets:
                yield f"there is no sheet {sheet}"


def _table(text: str, around: Surroundings) -> Iterator[str]:
    name, _, rest = text.partition("[")
    table = (name or around.table).lower()
    if table not in around.tables:
        yield f"there is no table {name}" if name else f"{text} stands outside of a table"
        return
    inner = rest[:-1]
    for piece in _BRACKETED.findall(inner) or [inner]:
        plain = re.sub(r"'(.)", r"\1", piece.strip()).lower()
        if plain and plain not in ITEMS and plain not in around.tables[table]:
            yield f"the table {name or around.table} has no column {piece}"
