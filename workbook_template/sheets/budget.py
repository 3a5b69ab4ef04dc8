"""The sheet Uncertainty: the budget of a pitch diameter measured over three wires, combined as the GUM does.

Under it stand how the results of the log are decided by it, and their count: `sheets.decision`.

The pitch diameter over wires is E = M - W (1 + 1/sin a) + P/2 cot a (for flanks alike; M the reading, W the wire, a
half the included angle, P the pitch). Each sensitivity is the derivative of E by that input; the standard uncertainties
times these are added as squares (JCGM 100:2008, 5.1.2, 4.3 for the half-widths). The same inputs for thread gauges:
EURAMET cg-10.
"""

from __future__ import annotations

from typing import NamedTuple

from sheetfuncs import uncertainty
from sheetfuncs.functional import MOST_ANGLE_ERROR
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, blank, first, fixed, joined, known, no, node, say, the, when, xl
from workbook_template.figures.tree import Name, Node
from workbook_template.sheets import decision, record_head
from workbook_template.sheets.inputs import (
    MORE_THAN_ZERO,
    MOST,
    MOST_LENGTH,
    Check,
    Input,
    believed,
    chosen,
    number_from,
    one_of,
)
from workbook_template.sheets.layout import (
    BODY,
    NOTE,
    Block,
    Line,
    Made,
    Piece,
    Sheet,
    beside,
    block,
    deep,
    entry,
    line,
    shown,
    stack,
    words,
)

SHEET = "Uncertainty"
PLAIN = "0.0##"
LEAST_EXPANSION, LARGEST_EXPANSION = "0.1", "100"
_AS_MILLIONTHS = f"in millionths per °C, {LEAST_EXPANSION} to {LARGEST_EXPANSION}, as 11.5 for 0.0000115."
EXPANSION = number_from(LEAST_EXPANSION, LARGEST_EXPANSION, f"Type it {_AS_MILLIONTHS}")
"""Of the metals; what is typed per °C is far less."""
STATED_LENGTH = number_from(
    "0", MOST_LENGTH, f"Type a length, zero or more, {MOST_LENGTH} at most; 0 only where it is known to be nothing."
)
NOT_NEGATIVE = number_from(
    "0", MOST, "Type a number, zero or more, a billion at most; 0 only where it is known to be nothing."
)
ANGLE_ERROR = number_from(
    "0", f"{MOST_ANGLE_ERROR:g}", f"Type degrees, 0 to {MOST_ANGLE_ERROR:g}; 0 only where it is known to be nothing."
)
STEEL = uncertainty.STEEL * 1e6
"""Linear expansion of steel, millionths per degree Celsius."""
ENDLESS, FAR_LESS = 1000000, 1000
"""Degrees of freedom that count as infinite; so many times less than all, a contribution leaves more than those."""

DIVISORS = {
    "rectangular": xl.SQRT(3),
    "triangular": xl.SQRT(6),
    "arcsine": xl.SQRT(2),
    "standard": node(1),
    "expanded (k 2)": node(2),
}
"""What makes a standard uncertainty of a stated value, by its kind."""
KINDS = tuple(DIVISORS)


def standard_uncertainty(stated: Node, check: Check, kind: Node) -> Node:
    """Of a stated value that is believed."""
    divided = first(*((chosen(kind, word), stated / divisor) for word, divisor in DIVISORS.items()))
    return when(believed(check, stated), divided)


def moved_by_angle() -> Node:
    """How far the pitch diameter moves with a degree by which both half angles are off; nothing at the best wire.

    The derivative of W cos((f - g)/2) / sin a less that of P / (tan f + tan g), f and g the angles of the flanks, a
    half their sum.
    """
    leading, trailing = xl.RADIANS(the.flank_leading), xl.RADIANS(the.flank_trailing)
    wire = the.wire_used * xl.COS((leading - trailing) / 2) * xl.COS(the.half_angle) / xl.SIN(the.half_angle) ** 2
    groove = the.pitch * (1 / xl.COS(leading) ** 2 + 1 / xl.COS(trailing) ** 2) / the.flank_spread**2
    return xl.ABS(wire - groove) * xl.PI() / 180


class Source(NamedTuple):
    """One source of uncertainty."""

    name: str
    label: str
    unit: str
    kind: str
    sensitivity: Node
    prompt: str
    check: Check = STATED_LENGTH

    @property
    def stated(self) -> Name:
        """The cell where its value is typed."""
        return the[f"budget_{self.name}"]

    def its(self, what: str) -> Name:
        """Another of its cells: kind, standard_uncertainty, sensitivity, contribution or share."""
        return the[f"budget_{self.name}_{what}"]


SOURCES = (
    Source("wires", "Mean diameter of the wires", "unit", "expanded (k 2)", the.wire_rise,
          "What the certificate of the wires states for their mean diameter, in the unit of this sheet."),
    Source("micrometer", "Micrometer", "unit", "rectangular", node(1),
          "Largest error of the micrometer over its range, from its calibration, in the unit of this sheet."),
    Source("temperature", "Temperature, part against micrometer", "°C", "rectangular",
          when(believed(EXPANSION, the.budget_expansion),
               the.pitch_diameter_basic * the.budget_expansion / 1_000_000),
          "How far part and micrometer may differ in temperature, °C, after any correction.", NOT_NEGATIVE),
    Source("repeatability", "Repeatability, one reading", "unit", "standard", node(1),
          "Standard deviation of repeated readings of one part, in the unit of this sheet."),
    Source("lead", "Pitch error of the part", "unit", "rectangular", 1 / the.flank_spread,
          "How far the pitch of the part may be off, in the unit of this sheet."),
    Source("angle", "Half angle error of the part", "degrees", "rectangular", moved_by_angle(),
          "How far half the thread angle may be off, in degrees.", ANGLE_ERROR),
)  # fmt: skip

PARTS = tuple(one.its("contribution") for one in SOURCES)
"""What each source contributes to the standard uncertainty."""

MANY = 2000


def student(freedom: Node, normal: Node) -> Node:
    """Student's t for 95.45 % and so many degrees of freedom, cut to a whole number.

    Where they are many, TINV of LibreOffice is good to seven digits alone: there the series in their reciprocal about
    the factor of the normal distribution (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5).
    """
    whole = xl.INT(freedom)
    series = joined(
        "+", normal, (normal**3 + normal) / (4 * whole), (5 * normal**5 + 16 * normal**3 + 3 * normal) / (96 * whole**2)
    )
    return when(freedom > MANY, series, xl.TINV(0.0455, xl.MAX(1, xl.INT(freedom + 1e-9))))


STUDENT = (
    Figure("budget_normal", "factor of a normal distribution for 95.45 %", xl.NORMSINV(0.97725)),
    Figure(
        "budget_student",
        "Student's t for 95.45 % and the effective degrees of freedom, cut to a whole number",
        when(known(the.budget_degrees_of_freedom), student(the.budget_degrees_of_freedom, the.budget_normal)),
    ),
)


def combined() -> Node:
    """The contributions as squares, once every source has one."""
    ready = all_of(the.uncertainty_stale.same(0), *(known(part) for part in PARTS))
    return when(ready, xl.SQRT(joined("+", *(part**2 for part in PARTS))))


def effective_freedom(combined: Node, repeatability: Node, repeats: Node) -> Node:
    """Degrees of freedom by Welch and Satterthwaite, the repeatability alone having few."""
    few = xl.MIN(ENDLESS, (combined / repeatability) ** 4 * (repeats - 1))
    endless = repeatability * FAR_LESS <= combined
    return when(
        all_of(known(combined), believed(MORE_THAN_ZERO, repeats)),
        when(all_of(repeats >= 2, xl.INT(repeats).same(repeats)), when(endless, ENDLESS, few)),
    )


def coverage(agreed: Node) -> Node:
    """The factor k that was agreed, or the computed one."""
    return first(
        (blank(agreed), when(known(the.budget_degrees_of_freedom), the.budget_student)),
        (believed(decision.FACTOR, agreed), agreed),
    )


RESULTS = {
    "Combined standard uncertainty": Figure(
        "budget_combined", "combined standard uncertainty of the pitch diameter", combined(), "0.000000"),
    "Effective degrees of freedom": Figure(
        "budget_degrees_of_freedom", "effective degrees of freedom of the combined uncertainty",
        effective_freedom(the.budget_combined, the.budget_repeatability_contribution, the.budget_repeats), "0"),
    "Coverage factor k, used": Figure(
        "budget_coverage", "coverage factor of the expanded uncertainty", coverage(the.budget_factor), "0.00"),
    "Expanded uncertainty U": Figure(
        "budget_expanded", "expanded uncertainty of a pitch diameter over three wires",
        when(all_of(known(the.budget_combined), known(the.budget_coverage), the.budget_combined > 0),
             the.budget_coverage * the.budget_combined),
        "wire"),
    "Share of the tolerance": Figure(
        "budget_share", "expanded uncertainty over the pitch diameter tolerance",
        when(all_of(known(the.budget_expanded), known(the.part_tolerance)),
             the.budget_expanded / the.part_tolerance),
        "0 %"),
}  # fmt: skip
"""By the label on the page."""


def in_words() -> Node:
    """The uncertainty in words, or what is missing first."""
    expanded = say("Expanded uncertainty ", fixed(the.budget_expanded, the.decimals + 1), " ", the.unit_text)
    verdict = first(
        (no(blank(the.expanded_uncertainty)), "not used: a U is typed below."),
        (the.budget_share <= 0.1, "a tenth or less: fine enough."),
        (the.budget_share <= 0.25, "between a tenth and a quarter: usable, mind the parts near a limit."),
        otherwise="more than a quarter: too coarse for this tolerance.",
    )
    told = say(
        expanded, " (k = ", xl.ROUND(the.budget_coverage, 2), "): ", xl.ROUND(100 * the.budget_share, 0),
        " % of the pitch diameter tolerance, ", verdict, " (A tenth to a quarter is practice.)",
    )  # fmt: skip
    expansion = f"Next: the expansion of the part, {_AS_MILLIONTHS}"
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (the.uncertainty_stale.same(1), decision.RETYPE),
        (the.tapered, "Taper thread: this budget is for parallel threads. Type U below."),
        (no(known(the.wire_constant)), "Choose wires that serve on the sheet Setup first: the budget is for wires."),
        (no(believed(EXPANSION, the.budget_expansion)), expansion),
        *((no(known(part)), _missing(one.label)) for one, part in zip(SOURCES, PARTS)),
        (
            no(known(the.budget_coverage)),
            "Next: the readings behind the repeatability, a whole number, 2 or more, or a factor k of 1 to 5.",
        ),
        (no(known(the.budget_expanded)), "Next: a source that is more than 0; no measurement is exact."),
        (no(known(the.budget_share)), say(expanded, ".")),
        otherwise=told,
    )


def _missing(label: str) -> str:
    return f"Next: fill in {label[:1].lower()}{label[1:]} and its kind; 0 only where it is known to be nothing."


HEADS = (
    ("source", 3), ("stated value", 1), ("unit", 1), ("kind", 2), ("standard uncertainty", 1), ("sensitivity", 1),
    ("contribution", 2), ("share", 1),
)  # fmt: skip
"""Of the list of sources, with their columns."""

_HEAD_LOOKS = {"source": "_left", "unit": "", "kind": "_left"}

KIND_PROMPT = (
    "rectangular, triangular, arcsine: the stated value is a half-width. standard: a standard uncertainty. expanded "
    "(k 2): an uncertainty with coverage factor 2, as certificates give it."
)


def entries(one: Source) -> tuple[Input, Input]:
    """What is typed of a source: its stated value, and the kind of that."""
    name, label = one.stated.name, one.label.lower()
    stated = Input(name, one.label, f"uncertainty: {label}", "entry" if one.unit == "unit" else PLAIN, one.check,
                   one.prompt)  # fmt: skip
    kind = Input(f"{name}_kind", "kind", f"kind of: {label}", "text",
                 one_of(KINDS, "Choose the kind from the list."), KIND_PROMPT)  # fmt: skip
    return stated, kind


def _row(one: Source) -> Line:
    """A source: what is typed of it, and what it comes to."""
    stated, kind = entries(one)
    label = one.label.lower()
    if one.unit == "unit":
        unit: Piece = shown(1, Figure(f"{stated.name}_unit", f"unit of: {label}", the.unit_text), "row_centred")
    else:
        unit = words(1, one.unit, "row_centred")
    return line(
        words(3, one.label, "list_words"), entry(1, stated, look="cell_number"), unit,
        entry(2, kind, one.kind),
        *(shown(wide, figure, "row_number") for wide, figure in zip((1, 1, 2, 1), _figures(one))),
        height=BODY if len(one.label) <= LETTERS else 2 * NOTE,
    )  # fmt: skip


WIDTHS = (7.75, 7.75, 7.75, 8.25, 7.5, 7.5, 7.25, 9.25, 8.5, 4.375, 4.375, 6.25)
"""Of the twelve columns in characters: a page together."""

LETTERS = 30
"""So many of the name of a source go on one line."""


def _figures(one: Source) -> tuple[Figure, ...]:
    """What a source comes to, from the left."""
    label, whole = one.label.lower(), the.budget_combined
    u, c, part = one.its("standard_uncertainty"), one.its("sensitivity"), one.its("contribution")
    threaded = all_of(no(the.tapered), known(the.wire_constant), known(the.wire_used))
    share = when(known(whole), when(whole > 0, part**2 / whole**2))
    standard = standard_uncertainty(one.stated, one.check, one.its("kind"))
    return (
        Figure(u.name, f"standard uncertainty: {label}", standard, "0.000000"),
        Figure(c.name, f"sensitivity of the pitch diameter: {label}", when(threaded, one.sensitivity), "0.0000##"),
        Figure(part.name, f"contribution to the standard uncertainty: {label}", when(all_of(known(u), known(c)), u * c),
               "0.000000"),
        Figure(one.its("share").name, f"share of the variance: {label}", share, "0 %"),
    )  # fmt: skip


SETTINGS = (
    (Input("budget_expansion", "Expansion of the part", "linear expansion of the part", PLAIN, EXPANSION,
           "Linear expansion of the part's material in millionths per degree Celsius: steel 11.5, brass about 19, "
           "aluminium about 23."), STEEL, "millionths per °C"),
    (Input("budget_repeats", "Readings for repeatability", "readings that the repeatability rests on", "0",
           MORE_THAN_ZERO, "How many readings of one part the standard deviation was computed from, 2 or more."), None,
     ""),
    (Input("budget_factor", "Factor k, if agreed", "coverage factor that was agreed", PLAIN, decision.FACTOR,
           "Empty: computed for 95.45 % from the readings behind the repeatability. Or the agreed factor, as 2."), None,
     "empty: computed"),
)  # fmt: skip
"""What else is typed, the value at first, and a remark."""

NOTES = (
    "Combined as JCGM 100:2008 (GUM) 5.1.2 does, inputs independent; half-widths by 4.3: divided by the root of 3 "
    "(rectangular), 6 (triangular) or 2 (arcsine). Sensitivities: how the pitch diameter moves with each input; "
    "3 for the wires of a 60 degree thread. k by Student's t at 95.45 %, Welch and Satterthwaite's degrees of "
    "freedom (G.4.1, G.6.4), where none is agreed. At the best wire a half angle error does nothing. Measuring "
    "force, the lead angle term and the form of the flanks are not in it."
)


def _sources() -> Block:
    heads = (words(wide, text, f"column_head{_HEAD_LOOKS.get(text, '_right')}") for text, wide in HEADS)
    return block(None, line(*heads, height=2 * NOTE), *(_row(one) for one in SOURCES))


def _sum(unit: str) -> Block:
    """What is typed beside the sources, and what all comes to."""
    of = decision.UNIT
    typed = block(
        "Over all of them",
        line(words(3, of.label), entry(1, of, unit, "cell_text"), words(2, "U too", "aside"), height=decision.LINE),
        *(
            line(
                words(3, one.label),
                entry(1, one, value, "cell_number"),
                words(2, remark, "aside"),
                height=decision.LINE,
            )
            for one, value, remark in SETTINGS
        ),
    )
    found = block(
        "Together",
        *(line(words(4, label, "label_beside"), shown(2, one), height=decision.LINE) for label, one in RESULTS.items()),
    )
    return beside(typed, found)


def sheet(made: Made) -> Sheet:
    """The sheet: sources in rows, the sum under them; what the uncertainty decides, and how many of each that makes."""
    told = Figure("budget_words", "the uncertainty in words, or what is missing", in_words())
    page = stack(
        record_head.head("budget", 12),
        block(TITLE, *deep(shown(12, told, "said", lines=2))),
        _sources(),
        _sum(made.unit),
        decision.decision(),
        decision.counts(),
        block(None, line(words(12, NOTES, "note_9"), height=4 * NOTE)),
    )
    return Sheet(SHEET, (page,), working=(*STUDENT, *decision.WORKING), widths=WIDTHS, user="record")


TITLE = "Uncertainty of a pitch diameter over three wires"
