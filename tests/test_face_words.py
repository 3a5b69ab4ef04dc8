"""What sentences and hidden cells do to a page: all that Quote repeats and the offer takes has room; nothing grows."""

from __future__ import annotations

from test_face import INDENT, LINE, PADDING, SLACK, cuts, filled, high, lines, seen, typed, wide

from workbook_template.demo import job as demo
from workbook_template.figures.book import Book as Sheets
from workbook_template.figures.book import Cells
from workbook_template.figures.notation import the
from workbook_template.figures.tree import Call, Cell, Operator, Part, Text, joined_parts
from workbook_template.figures.value import Computed
from workbook_template.sheets import estimate_figures, estimate_inputs, offer, quote
from workbook_template.sheets.quote_inputs import PART_OF_JOB


def longest(tree: Part) -> str:
    """The longest text that a tree may give; a number is one of eight signs."""
    if isinstance(tree, str):
        return tree
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Operator) and tree.sign == "&":
        return "".join(longest(one) for one in joined_parts(tree))
    if isinstance(tree, Call) and tree.function == "IF":
        return max((longest(one) for one in tree.arguments[1:] if one is not None), key=len)
    if isinstance(tree, Call) and tree.function == "IFERROR":
        return max((longest(one) for one in tree.arguments if one is not None), key=len)
    return "mm" if tree == the.unit_text else "12.34567"


def in_short(sentences: list[str]) -> list[str]:
    """What the head of the quote makes of these sentences of its rows."""
    tree = quote.in_short(Cell(0, -1))
    rows = Cells(
        {(row, 1): one for row, one in enumerate(sentences, 1)}, {(row + 1, 2): tree for row in range(len(sentences))}
    )
    computed = Computed(Sheets({"Quote": rows}, {}))
    return [str(computed.value("Quote", row + 1, 2)) for row in range(len(sentences))]


def test_what_quote_repeats_of_estimate_fits_its_head() -> None:
    """Whatever keeps the part of the job from a price, behind what a quote of many lines says of itself."""
    objections = [
        *estimate_figures.faults(1),
        *estimate_inputs.mistakes(1),
        *(one for some in estimate_inputs.mistakes_of_both().values() for one in some),
        *estimate_inputs.clashes(1),
    ]
    sheet, cell = filled().workbook.defined_names["quote_step"].attr_text.replace("$", "").split("!")
    ws = filled().workbook[sheet]
    left, top, right, bottom = next(one.bounds for one in ws.merged_cells.ranges if str(one).startswith(f"{cell}:"))
    room = (wide(ws, left, right) - PADDING - INDENT * ws[cell].alignment.indent) / SLACK
    font, most = ws[cell].font, int((high(ws, top, bottom) + 1) / (ws[cell].font.sz * LINE))
    before, after = (
        "10 NOT priced; line 12: ",
        " The first 12 rows are printed: widen the print range.",
    )
    retype = estimate_inputs.RETYPE  # told of all lines, alone
    words = [longest(sentence) for _, sentence in objections if sentence is not retype]
    repeated = in_short([f"{PART_OF_JOB}: {one.removeprefix('Next: ').removeprefix('Next, ')}" for one in words])
    assert len(repeated) > 60
    assert min(map(len, repeated)) > len(PART_OF_JOB) + 10
    stands = "12 lines priced, together 123456.78, money in dollars."
    said = [
        longest(retype),
        *(before + one + after for one in repeated),
        f"{stands} To reach the minimum order 123456.78 is added: 123456.78 in all.",
        f"{stands} All 120 rows are used: quote the rest in a second workbook.{after}",
    ]
    assert [one for one in said if lines(one, room, font.sz, bool(font.b)) > most] == []


def test_what_is_hidden_makes_no_row_higher() -> None:
    """LibreOffice makes a row as high as a text that wraps in a hidden column of it, though nobody sees that."""
    visible = {ws.title: ws for ws in seen(filled())}
    working = [one for one in filled().entries if one.role == "working" and one.sheet in visible]
    tops = [(one.name, visible[one.sheet][one.ref.split(":")[0]]) for one in working]
    growing = [(name, top) for name, top in tops if visible[top.parent.title].row_dimensions[top.row].height is None]
    assert {"quote_number_wrong", "quote_line_fault"} <= {name for name, _ in growing}
    assert [name for name, top in growing if top.alignment.wrap_text] == []


def test_what_the_offer_takes_fits_its_paper() -> None:
    """As many signs of common words as it says that the paper has room for."""
    sentence = "Prices hold for the quantities named, delivery is from the works, packed for the road. "
    values = {f"offer_{name}": (sentence * 4)[:most].strip() for name, most in offer.SIGNS.items()}
    shown_now = typed(values | {"offer_coating": (sentence * 2)[: offer.SIGNS["coating"]].strip()})
    assert [one for one in cuts(filled(), shown_now) if one.sheet == "Offer"] == []
    typed({name: demo.values().get(name) for name in values})
