"""What a thread is, and its limits of size."""

from __future__ import annotations

from sheetfuncs.terms import TERMS
from workbook_template.figures.notation import known, say, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.lambdas.steps import diameter, of
from workbook_template.lambdas.writing import NOT_GIVEN, Lambda, function, let, listed, my, one, ours, young

DIAMETERS = ("major", "pitch", "minor")


def found(answer: Part, /, **steps: Part) -> Node:
    """An answer that speaks of `my.line`, where the thread stands in the list, and of the steps."""
    return let({"line": ours.line(one.thread), **steps}, answer)


def in_unit(length: Node, /, **steps: Part) -> Node:
    """A length in the unit asked for."""
    return found(length * ours.scale(my.line, one.unit), **steps)


def _lead_angle() -> Node:
    return xl.DEGREES(xl.ATAN(of(listed.pitch) / (xl.PI() * of(listed.pitch_basic))))


def _limits() -> Node:
    """A header and a row for each diameter; a size that is not set stays empty."""

    def size(which: str, end: str) -> Node:
        cell = of(getattr(listed, f"{which}_{end}"))
        return when(known(cell), cell * my.scale, "")

    heads = (
        TERMS["diameter_name"].label,
        *(say(TERMS[name].label, ", ", my.shown) for name in ("largest", "smallest")),
        TERMS["reference"].label,
    )
    rows = [
        young.HSTACK(which, size(which, "max"), size(which, "min"), of(getattr(listed, f"{which}_reference")) & "")
        for which in DIAMETERS
    ]
    whole = young.VSTACK(young.HSTACK(*heads), *rows)
    shown = when(one.unit.same(""), of(listed.unit), xl.LOWER(one.unit))
    return found(when(known(of(listed.pitch_max)), whole, NOT_GIVEN), scale=ours.scale(my.line, one.unit), shown=shown)


FUNCTIONS: tuple[Lambda, ...] = (
    function("THREAD_PITCH", in_unit(of(listed.pitch))),
    function("THREAD_LEAD", in_unit(of(listed.pitch))),  # the list holds threads of one start
    function("THREAD_LEAD_ANGLE", found(_lead_angle())),
    *(
        function(f"THREAD_{which.upper()}_DIAMETER", in_unit(diameter(which, one.limit)))
        for which in DIAMETERS
    ),
    function("THREAD_LIMITS", _limits()),
    function("THREAD_ALLOWANCE", in_unit(ours.set(my.line, listed.allowance))),
    function("THREAD_TOLERANCE", in_unit(ours.set(my.line, listed.tolerance))),
)  # fmt: skip
