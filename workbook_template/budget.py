"""The uncertainty budget of a pitch diameter measured over three wires, combined as the GUM does.

The pitch diameter over wires is E = M - W (1 + 1/sin a) + P/2 cot a (for flanks alike; M the reading, W the wire, a
half the included angle, P the pitch). Each sensitivity is the derivative of E by that input; the standard uncertainties
times these are added as squares (JCGM 100:2008, 5.1.2, 4.3 for the half-widths). The same inputs for thread gauges:
EURAMET cg-10.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import uncertainty
from workbook_template import blocks
from workbook_template.blocks import Book, Check

FIRST = 6
PLAIN = "0.0##"
KINDS = ("rectangular", "triangular", "arcsine", "standard", "expanded (k 2)")
NOT_NEGATIVE = Check(
    "decimal",
    "0",
    operator="greaterThanOrEqual",
    refusal="Type a number, zero or more; 0 only where it is known to be nothing.",
)
POSITIVE = Check("decimal", "0", operator="greaterThan", refusal="Type a number more than zero.")
STEEL = uncertainty.STEEL * 1e6
"""Linear expansion of steel, millionths per degree Celsius."""
ENDLESS = 1000000
"""Degrees of freedom that count as infinite."""


class Input(NamedTuple):
    """One source of uncertainty."""

    name: str
    label: str
    unit: str
    kind: str
    sensitivity: str
    prompt: str


_LEADING, _TRAILING = "RADIANS(flank_leading)", "RADIANS(flank_trailing)"
_ANGLE = (
    f"ABS(wire_used*COS(({_LEADING}-{_TRAILING})/2)*COS(half_angle)/SIN(half_angle)^2"
    f"-pitch*(1/COS({_LEADING})^2+1/COS({_TRAILING})^2)/flank_spread^2)*PI()/180"
)
INPUTS = (
    Input("wires", "Mean diameter of the wires", "unit", "expanded (k 2)", "wire_rise",
          "What the certificate of the wires states for their mean diameter, in the working unit."),
    Input("micrometer", "Micrometer", "unit", "rectangular", "1",
          "Largest error of the micrometer over its range, from its calibration, in the working unit."),
    Input("temperature", "Temperature, part against micrometer", "°C", "rectangular",
          'IF(ISNUMBER(budget_expansion),pitch_basic*budget_expansion/1000000,"")',
          "How far part and micrometer may differ in temperature, degrees Celsius, after any correction."),
    Input("repeatability", "Repeatability, one reading", "unit", "standard", "1",
          "Standard deviation of repeated readings of one part, in the working unit."),
    Input("lead", "Pitch error of the part", "unit", "rectangular", "1/flank_spread",
          "How far the pitch of the part may be off, in the working unit."),
    Input("angle", "Half angle error of the part", "degrees", "rectangular", _ANGLE,
          "How far half the thread angle may be off, in degrees."),
)  # fmt: skip

MANY = 2000
_Z = "budget_normal"
STUDENT = (
    ("budget_normal", "factor of a normal distribution for 95.45 %", "NORMSINV(0.97725)"),
    ("budget_student", "Student's t for 95.45 % and the effective degrees of freedom, cut to a whole number",
     (f'IF(ISNUMBER(budget_freedom),IF(budget_freedom>{MANY},{_Z}+({_Z}^3+{_Z})'
     f'/(4*INT(budget_freedom))+(5*{_Z}^5+16*{_Z}^3+3*{_Z})/(96*INT(budget_freedom)^2),'
     'TINV(0.0455,MAX(1,INT(budget_freedom+0.000000001)))),"")')),
)  # fmt: skip
"""Name, meaning, formula. Where the degrees are many, TINV of LibreOffice is good to seven digits alone: there the
series in their reciprocal (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5)."""

_COUNT = "+".join(f"IF(ISNUMBER(budget_{one.name}_part),1,0)" for one in INPUTS)
READY = "AND(ISNUMBER(thread_row),ISNUMBER(wire_constant))"


def _first_missing(otherwise: str) -> str:
    """The sentence that names the first input that is still missing or wrong."""
    words = otherwise
    for one in reversed(INPUTS):
        words = (
            f'IF(NOT(ISNUMBER(budget_{one.name}_part)),"Next: fill in {one.label[:1].lower()}{one.label[1:]}'
            f' and its kind; 0 only where it is known to be nothing.",{words})'
        )
    return words


WORDS = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
    'IF(NOT(ISNUMBER(wire_constant)),"Choose wires that serve on the sheet Setup first: the budget is for wires.",'
    + _first_missing(
        'IF(NOT(ISNUMBER(budget_expanded)),"Next: the readings behind the repeatability, 2 or more, or a factor k.",'
        'IF(NOT(ISNUMBER(budget_share)),"Expanded uncertainty "&FIXED(budget_expanded,decimals+1,TRUE)&" "&unit&".",'
        '"Expanded uncertainty "&FIXED(budget_expanded,decimals+1,TRUE)&" "&unit&" (k = "&ROUND(budget_coverage,2)&'
        '"): "&ROUND(100*budget_share,0)&" % of the pitch diameter tolerance, "&'
        'IF(budget_share<=0.1,"a tenth or less: fine enough.",'
        'IF(budget_share<=0.25,"between a tenth and a quarter: usable, mind the parts near a limit.",'
        '"more than a quarter: too coarse for this tolerance."))&" (A tenth to a quarter is practice.)"))'
    )
    + "))"
)


def build(book: Book, ws: Worksheet) -> int:
    """Write the block from row 4; the last row it takes."""
    blocks.heading(book, ws, "A4:I4", "Uncertainty of a pitch diameter over three wires")
    heads = (
        "",
        "source",
        "stated value",
        "unit",
        "kind",
        "standard uncertainty",
        "sensitivity",
        "contribution",
        "share",
    )
    for letter, text in zip("ABCDEFGHI", heads):
        blocks.write(book, ws, f"{letter}5", text, "head")
    ws.row_dimensions[5].height = 28
    for row, one in enumerate(INPUTS, start=FIRST):
        _row(book, ws, row, one)
    row = FIRST + len(INPUTS) + 1
    return _sum(book, ws, row)


def _row(book: Book, ws: Worksheet, row: int, one: Input) -> None:
    name = f"budget_{one.name}"
    ws.row_dimensions[row].height = 26
    blocks.write(book, ws, f"A{row}", row - FIRST + 1, "row", "0")
    blocks.write(book, ws, f"B{row}", one.label, "words")
    form = "entry" if one.unit == "unit" else PLAIN
    blocks.write(book, ws, f"C{row}", None, "input_number", form)
    blocks.name_input(
        book, ws, f"C{row}", name, f"uncertainty: {one.label.lower()}", prompt=one.prompt, dimension=form,
        check=NOT_NEGATIVE,
    )  # fmt: skip
    if one.unit == "unit":
        blocks.result(book, ws, f"D{row}", f"{name}_unit", f"unit of: {one.label.lower()}", 'unit&""', look="unit")
    else:
        blocks.write(book, ws, f"D{row}", one.unit, "unit")
    blocks.entry(
        book, ws, f"E{row}", f"{name}_kind", f"kind of: {one.label.lower()}",
        prompt="rectangular, triangular, arcsine: the stated value is a half-width. standard: a standard uncertainty. "
        "expanded (k 2): an uncertainty with coverage factor 2, as certificates give it.",
        check=blocks.one_of(KINDS, "Choose the kind from the list."), value=one.kind,
    )  # fmt: skip
    divided = (
        f'IF({name}_kind="rectangular",{name}/SQRT(3),IF({name}_kind="triangular",{name}/SQRT(6),'
        f'IF({name}_kind="arcsine",{name}/SQRT(2),IF({name}_kind="standard",{name},'
        f'IF({name}_kind="expanded (k 2)",{name}/2,"")))))'
    )
    guarded = f'IF(ISNUMBER({name}),IF({name}>=0,{divided},""),"")'
    label = one.label.lower()
    blocks.result(
        book, ws, f"F{row}", f"{name}_u", f"standard uncertainty: {label}", guarded, dimension="0.000000", look="row"
    )
    blocks.result(
        book, ws, f"G{row}", f"{name}_c", f"sensitivity of the pitch diameter: {label}",
        f'IF(AND({READY},ISNUMBER(wire_used)),{one.sensitivity},"")', dimension="0.0000##", look="row",
    )  # fmt: skip
    blocks.result(
        book, ws, f"H{row}", f"{name}_part", f"contribution to the standard uncertainty: {label}",
        f'IF(AND(ISNUMBER({name}_u),ISNUMBER({name}_c)),{name}_u*{name}_c,"")', dimension="0.000000", look="row",
    )  # fmt: skip
    blocks.result(
        book, ws, f"I{row}", f"{name}_share", f"share of the variance: {label}",
        f'IF(ISNUMBER(budget_combined),IF(budget_combined>0,{name}_part^2/budget_combined^2,""),"")',
        dimension="0 %", look="row",
    )  # fmt: skip


def _sum(book: Book, ws: Worksheet, row: int) -> int:
    """What the sources come to together, in figures and words; the last row of the block."""
    squares = "+".join(f"budget_{one.name}_part^2" for one in INPUTS)
    settings = (
        ("budget_expansion", "Expansion of the part", "linear expansion of the part", STEEL,
         ("Linear expansion of the part's material in millionths per degree Celsius: steel 11.5, brass about 19, "
         "aluminium about 23.")),
        ("budget_repeats", "Readings behind the repeatability", "readings that the repeatability rests on", None,
         "How many readings of one part the standard deviation was computed from, 2 or more."),
        ("budget_factor", "Coverage factor k, if agreed", "coverage factor that was agreed", None,
         "Empty: computed for 95.45 % from the readings behind the repeatability. Or the agreed factor, as 2."),
    )  # fmt: skip
    for at, (name, label, meaning, value, prompt) in enumerate(settings, start=row):
        form = "0" if name == "budget_repeats" else PLAIN
        blocks.write(book, ws, f"A{at}:B{at}", label, "label")
        blocks.write(book, ws, f"C{at}", value, "input_number", form)
        blocks.name_input(book, ws, f"C{at}", name, meaning, prompt=prompt, dimension=form, check=POSITIVE)
    blocks.write(book, ws, f"D{row}:E{row}", "millionths per °C", "small")
    results = (
        ("budget_combined", "Combined standard uncertainty", "combined standard uncertainty of the pitch diameter",
         f'IF({_COUNT}={len(INPUTS)},SQRT({squares}),"")', "0.000000"),
        ("budget_freedom", "Effective degrees of freedom", "effective degrees of freedom of the combined uncertainty",
         ('IF(AND(ISNUMBER(budget_combined),ISNUMBER(budget_repeats)),IF(budget_repeats>=2,IF(budget_repeatability_part>0,'
         f'MIN({ENDLESS},(budget_combined/budget_repeatability_part)^4*(budget_repeats-1)),{ENDLESS}),""),"")'), "0"),
        ("budget_coverage", "Coverage factor k, used", "coverage factor of the expanded uncertainty",
         ('IF(ISBLANK(budget_factor),IF(ISNUMBER(budget_freedom),budget_student,""),'
         'IF(ISNUMBER(budget_factor),IF(budget_factor>0,budget_factor,""),""))'), "0.00"),
        ("budget_expanded", "Expanded uncertainty U", "expanded uncertainty of a pitch diameter over three wires",
         'IF(AND(ISNUMBER(budget_combined),ISNUMBER(budget_coverage)),budget_coverage*budget_combined,"")', "wire"),
        ("budget_share", "Share of the tolerance", "expanded uncertainty over the pitch diameter tolerance",
         'IF(AND(ISNUMBER(budget_expanded),ISNUMBER(pitch_tolerance)),budget_expanded/pitch_tolerance,"")', "0 %"),
    )  # fmt: skip
    for offset, (name, label, meaning, formula, dimension) in enumerate(results):
        blocks.write(book, ws, f"F{row + offset}:H{row + offset}", label, "label")
        blocks.result(book, ws, f"I{row + offset}", name, meaning, formula, dimension=dimension)
    for at, (name, meaning, formula) in enumerate(STUDENT, start=row):
        blocks.write(book, ws, f"K{at}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"L{at}", name, meaning, formula, role="working")
    for at in range(row, row + len(results)):
        ws.row_dimensions[at].height = 24
    row += len(results) - 3
    blocks.result(
        book, ws, f"A{row + 4}:I{row + 4}", "budget_words", "the uncertainty in words, or what is missing", WORDS,
        look="sentence",
    )  # fmt: skip
    ws.row_dimensions[row + 4].height = 34
    blocks.write(
        book, ws, f"A{row + 5}:I{row + 6}",
        "Combined as JCGM 100:2008 (GUM) 5.1.2 does, inputs independent; half-widths by 4.3: divided by the root of 3 "
        "(rectangular), 6 (triangular) or 2 (arcsine). Sensitivities: how the pitch diameter moves with each input; "
        "3 for the wires of a 60 degree thread. k by Student's t at 95.45 %, Welch and Satterthwaite's degrees of "
        "freedom (G.4.1, G.6.4), where none is agreed. At the best wire a half angle error does nothing. Measuring "
        "force, the lead angle term and the form of the flanks are not in it.", "side",
    )  # fmt: skip
    return row + 6
