"""How cells look, as far as it changes what a reader takes from them: number format, colours, size, locks."""

from __future__ import annotations

from functools import lru_cache
from typing import Any, NamedTuple

from lxml import etree
from openpyxl import Workbook
from openpyxl.styles.numbers import BUILTIN_FORMATS

from workbook_template.paper.openpyxl_inside import parts_of
from workbook_template.rules.parts import MAIN

WHITE, BLACK = "FFFFFF", "000000"
WHITE_BY_NUMBER, WHITE_THEME = ("1", "9", "65"), "0"
APART = 60
"""Colours whose red, green and blue differ by less, added up, can't be told apart."""

LEAST_SIZE = 4.0
"""Letters of fewer points can't be read."""

DIGITS, GENERAL = "0#?", "General"

Form = tuple[tuple[str, str], ...]
"""A number format as codes and literal signs."""


class Shown(NamedTuple):
    """A number format and the colours of a look; empty where a conditional format leaves them."""

    form: str = ""
    ink: str = ""
    paper: str = ""
    size: float = 11.0


class Style(NamedTuple):
    """The look of a cell."""

    shown: Shown
    locked: bool
    concealed: bool  # its formula can't be seen


class Styles:
    """The looks of a file, by number."""

    def __init__(self, root: etree._Element | None) -> None:
        self.cells: list[Style] = []
        self._conditional: list[Shown] = []
        if root is None:
            return
        forms = {
            one.get("numFmtId", ""): one.get("formatCode", "") for one in root.iterfind(f"{MAIN}numFmts/{MAIN}numFmt")
        }
        fonts = [_font(one) for one in root.iterfind(f"{MAIN}fonts/{MAIN}font")]
        papers = [_paper(one) for one in root.iterfind(f"{MAIN}fills/{MAIN}fill")]
        for one in root.iterfind(f"{MAIN}cellXfs/{MAIN}xf"):
            number = one.get("numFmtId", "0")
            form = forms.get(number) or BUILTIN_FORMATS.get(_whole(number), "General")
            ink, size = _at(fonts, one.get("fontId"), (BLACK, 11.0))
            paper = _at(papers, one.get("fillId"), WHITE)
            lock = one.find(f"{MAIN}protection")
            locked = lock is None or lock.get("locked") not in ("0", "false")
            concealed = lock is not None and lock.get("hidden") in ("1", "true")
            self.cells.append(Style(Shown(form, ink, paper or WHITE, size), locked, concealed))
        for one in root.iterfind(f"{MAIN}dxfs/{MAIN}dxf"):
            font, fill, own = (one.find(f"{MAIN}{name}") for name in ("font", "fill", "numFmt"))
            ink = "" if font is None or font.find(f"{MAIN}color") is None else _font(font)[0]
            paper = "" if fill is None else _paper(fill, conditional=True)
            self._conditional.append(Shown("" if own is None else own.get("formatCode", ""), ink, paper))

    def conditional(self, number: str | None) -> Shown:
        """The look of a conditional format."""
        found: Shown = _at(self._conditional, number, Shown())
        return found

    def unlocked(self) -> frozenset[int]:
        """The looks whose cells may be typed over on a protected sheet."""
        return frozenset(number for number, one in enumerate(self.cells) if not one.locked)


def _at(found: list[Any], number: str | None, otherwise: Any) -> Any:
    at = _whole(number or "") if number else -1
    return found[at] if 0 <= at < len(found) else otherwise


def _whole(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 9 else -1


def _colour(element: etree._Element | None, otherwise: str) -> str:
    if element is None:
        return otherwise
    if element.get("rgb"):
        return str(element.get("rgb"))[-6:].upper()
    is_white = element.get("theme") == WHITE_THEME or element.get("indexed") in WHITE_BY_NUMBER
    return WHITE if is_white else otherwise


def _font(font: etree._Element) -> tuple[str, float]:
    size = font.find(f"{MAIN}sz")
    return _colour(font.find(f"{MAIN}color"), BLACK), 11.0 if size is None else _number(size.get("val"))


def _number(text: str | None) -> float:
    try:
        return float(text or 0)
    except ValueError:
        return 0.0


def _paper(fill: etree._Element, *, conditional: bool = False) -> str:
    """The colour behind the letters; a conditional format has it in the other of the two places."""
    pattern = fill.find(f"{MAIN}patternFill")
    if pattern is None or (pattern.get("patternType") in (None, "none") and not conditional):
        return ""
    fore, back = pattern.find(f"{MAIN}fgColor"), pattern.find(f"{MAIN}bgColor")
    return _colour(back if conditional and back is not None else fore, "")


def built_style(workbook: Workbook, number: int) -> Style:
    """A look of a built workbook, by number."""
    form, font, fill, lock = parts_of(workbook, number)
    paper = _built_colour(fill.fgColor, WHITE) if fill.fill_type == "solid" else WHITE
    shown = Shown(form, _built_colour(font.color, BLACK), paper, font.sz or 11.0)
    return Style(shown, bool(lock.locked), bool(lock.hidden))


def _built_colour(colour: Any, otherwise: str) -> str:
    if colour is None:
        return otherwise
    if colour.type == "rgb":
        return str(colour.rgb)[-6:].upper()
    return WHITE if colour.type == "theme" and colour.theme == 0 else otherwise


def built_conditional(look: Any) -> Shown:
    """The look of a template's conditional format."""
    if look is None:
        return Shown()
    ink = "" if look.font is None or look.font.color is None else _built_colour(look.font.color, BLACK)
    paper = "" if look.fill is None else _built_colour(look.fill.bgColor, "")
    return Shown("" if look.numFmt is None else look.numFmt.formatCode, ink, paper)


def readable(shown: Shown) -> bool:
    """Whether something that looks like that can be read.

    >>> readable(Shown("0.0", "FFFFFF", "FFFFFF")), readable(Shown("0.0", "1A1A1A", "FFFFFF")), readable(Shown(";;;"))
    (False, True, False)
    """
    ink, paper = shown.ink or BLACK, shown.paper or WHITE
    apart = (
        sum(abs(int(ink[at : at + 2], 16) - int(paper[at : at + 2], 16)) for at in (0, 2, 4))
        if _hex(ink + paper)
        else 999
    )
    return apart >= APART and shown.size >= LEAST_SIZE and (not shown.form or pieces(shown.form) != pieces(";;;"))


def _hex(text: str) -> bool:
    return len(text) == 12 and all(one in "0123456789ABCDEF" for one in text)


@lru_cache(maxsize=4096)
def pieces(form: str) -> Form:
    """A number format as codes and literal signs, whichever way these are spelled."""
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(form):
        sign = form[at]
        if sign == "\\" and at + 1 < len(form):
            found.append(("literal", form[at + 1]))
            at += 2
        elif sign == '"':
            end = form.find('"', at + 1)
            end = len(form) if end < 0 else end
            found += [("literal", one) for one in form[at + 1 : end]]
            at = end + 1
        elif sign == "[" and "]" in form[at:]:
            end = form.index("]", at)
            inner = form[at + 1 : end]
            if not inner.startswith("$-"):  # a language
                found.append(("code", f"[{inner.lower()}]"))
            at = end + 1
        elif sign == "_" and at + 1 < len(form):
            at += 2  # a blank as wide as that sign
        elif sign in " +-():/!&'<>=$%" or not sign.isascii():
            found.append(("literal", sign))
            at += 1
        else:
            found.append(("code", sign.lower()))
            at += 1
    return tuple(found)


def same_form(one: str, other: str) -> bool:
    r"""Whether two number formats show alike.

    >>> same_form(';;;"x"', r";;;\x"), same_form("+0.0", r"\+0.0"), same_form("0.000", "0.0000")
    (True, True, False)
    """
    return one == other or pieces(one or "General") == pieces(other or "General")


def lies(form: str, built: str) -> bool:
    """Whether a number format can show another number than the stored one, where the built one did not.

    Digits as literal signs, a share or thousands, a number left out. General shows what is stored: a plus before it is
    no other number.

    >>> lies('"0.7061"', "0.0000"), lies("0.0000%", "0.0000"), lies("0.0,", "0.0"), lies("0.00", "0.0000")
    (True, True, True, False)
    >>> lies("General", '+0;-0;"0"'), lies("General", "0 %"), lies("General", "yyyy-mm-dd"), lies("0.00%", "General")
    (False, True, True, True)
    """
    if pieces(form) == pieces(GENERAL) and all(one in _WITH_SIGNS for one in pieces(built)):
        return False
    return _says(form) != _says(built)


_WITH_SIGNS = {*(("code", sign) for sign in "0#?.;"), *(("literal", sign) for sign in "+-0")}
"""Pieces of a number format that shows plain numbers, with signs before them."""

YES_NO = pieces('"TRUE";"TRUE";"FALSE"')
"""What LibreOffice gives a cell with a yes or no of its own accord, when it writes another kind of file."""


def shows(form: str, value: Any, is_yes_no: bool) -> bool:
    """Whether a number format shows the value of a cell as any other would: a text, 0, yes or no.

    >>> shows("General", "stay shut", False), shows("General", 0.05, False), shows('"TRUE";"TRUE";"FALSE"', 1.0, True)
    (True, False, True)
    """
    if pieces(form) == pieces(GENERAL):
        return isinstance(value, str) or value == 0
    return is_yes_no and pieces(form) == YES_NO


def _says(form: str) -> tuple[str, bool, bool, bool]:
    """What of a number format is no mere matter of decimals: its words, its share, its thousands, that it shows."""
    found = pieces(form)
    words = "".join(sign for kind, sign in found if kind == "literal")
    codes = "".join(sign for kind, sign in found if kind == "code")
    if codes in ("general", "@"):
        return words.strip(), False, False, True
    first = codes.split(";")[0]
    scaled = first.rstrip("0#?.").endswith(",") or first.endswith(",") or ",." in first
    is_number = any(sign in DIGITS for sign in first)
    is_day = any(sign in "ydmhs" for sign in first)
    return words.strip(), "%" in words, scaled, is_number or is_day
