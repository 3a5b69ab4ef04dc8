"""Every name of the file: the functions, their helpers, the columns of the sheet of threads."""

from __future__ import annotations

from workbook_template.lambdas import cutting, shop, sizes, steps, wires
from workbook_template.lambdas.writing import Lambda

HELPERS: tuple[Lambda, ...] = (*steps.STEPS, *wires.STEPS, *cutting.STEPS)

FUNCTIONS: tuple[Lambda, ...] = (*sizes.FUNCTIONS, *wires.FUNCTIONS, *cutting.FUNCTIONS, *shop.FUNCTIONS)
"""The functions of the catalogue that a formula and the list of threads can answer."""
