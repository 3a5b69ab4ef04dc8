"""The functions that Excel 2013 and LibreOffice 7.4 both have, with the number of arguments each takes.

Computed in LibreOffice 7.4 one by one, but for those of the last table, which are plain and as old as Excel itself.
"""

from __future__ import annotations

from sheetfuncs.catalog import RECORDS

MANY = 255
NEW = "_xlfn."
"""What the file format puts before a function that is younger than Excel 2007."""

_OLD = {
    (0, 0): "NA PI TODAY",
    (0, 1): "ROW COLUMN",
    (1, 1): "NOT ISNUMBER ISTEXT ISBLANK ISERROR ISNA ERROR.TYPE INT ABS SQRT EXP LN LOG10 RADIANS DEGREES TAN ACOS"
    " NORMSDIST NORMSINV VALUE LEN UPPER TRIM YEAR TRANSPOSE",
    (2, 2): "IFERROR ROUND ROUNDUP MOD MROUND CEILING FLOOR ATAN2 COUNTIF LARGE SMALL TINV CHIINV TEXT REPT EXACT MMULT"
    " SLOPE",
    (3, 3): "NORMINV FDIST MID DATE CONVERT FORECAST",
    (1, 2): "TRUNC LEFT HYPERLINK INDIRECT CELL",
    (2, 3): "IF SUMIF AVERAGEIF RANK MATCH LOOKUP FIND SEARCH NETWORKDAYS",
    (3, 4): "VLOOKUP HLOOKUP SUBSTITUTE",
    (1, 3): "FIXED",
    (2, 4): "INDEX",
    (1, 4): "TREND",
    (2, 5): "ADDRESS",
    (3, 5): "OFFSET",
    (1, MANY): "AND OR SUM PRODUCT SUMSQ SUMPRODUCT COUNT COUNTA AVERAGE MAX MIN MEDIAN STDEV VAR CONCATENATE GCD",
    (2, MANY): "CHOOSE COUNTIFS SUBTOTAL",
    (3, MANY): "SUMIFS AVERAGEIFS",
}
_UNMEASURED = {
    (0, 0): "TRUE FALSE",
    (1, 1): "SIN COS ASIN ATAN SIGN LOWER MONTH DAY ROWS COLUMNS COUNTBLANK",
    (1, 2): "LOG RIGHT",
    (2, 2): "POWER ROUNDDOWN",
}
_YOUNG = {
    (0, 1): "SHEET",
    (1, 1): "COT UNICHAR FORMULATEXT ISFORMULA",
    (2, 2): "NORM.S.DIST T.INV T.INV.2T IFNA",
    (1, 3): "NUMBERVALUE CEILING.MATH FLOOR.MATH",
    (2, 3): "BASE",
    (4, 4): "NORM.DIST",
    (3, 3): "NORM.INV T.DIST",
    (1, MANY): "STDEV.S STDEV.P VAR.S VAR.P XOR",
    (3, MANY): "AGGREGATE",
}


def _spread(table: dict[tuple[int, int], str]) -> dict[str, tuple[int, int]]:
    return {name: counts for counts, names in table.items() for name in names.split()}


YOUNG = _spread(_YOUNG)
"""Functions that are stored with the prefix."""

KNOWN: dict[str, tuple[int, int]] = {
    **_spread(_OLD),
    **_spread(_UNMEASURED),
    **{f"{NEW.upper()}{name}": counts for name, counts in YOUNG.items()},
    **{record.name: (sum(p.required for p in record.params), len(record.params)) for record in RECORDS},
}
"""Every function a workbook may use, as stored, with the fewest and the most arguments; our own among them."""
