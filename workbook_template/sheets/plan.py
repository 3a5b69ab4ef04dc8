"""The pass plan: worked in a table behind the sheets, shown with ticks on Setup and large on Card."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, fixed, given, here, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import plan_figures
from workbook_template.sheets.inputs import Check
from workbook_template.sheets.layout import NOTE, Block, Column, Mark, Table, beside, stack, table
from workbook_template.sheets.plan_figures import PASSES, SPRINGS

ROWS = PASSES + SPRINGS


def _worked(name: str, meaning: str, dimension: str = "length", role: str = "result") -> Column:
    def formula(number: int) -> Node:
        return plan_figures.of_pass(number)[name]

    head = name.replace("_", " ")
    return Column(name, head, meaning, formula=formula, dimension=dimension, role=role, look="row_number")


WORKED = Table("plan", (
    _worked("pass", "number of the pass", "count"),
    _worked("radial_infeed", "radial infeed of the pass"),
    _worked("radial_total", "radial infeed since touching"),
    _worked("compound_travel", "compound travel of the pass"),
    _worked("compound_reading", "compound reading after the pass"),
    _worked("diameter_now", "diameter at the tool's tip after the pass"),
    _worked("unrounded", "compound reading before rounding after the pass", "words", "working"),
    _worked("steps", "the same, no pass more than the one before it; divisions of a dial", "words", "working"),
    _worked("divisions", "divisions of the dial in the pass; empty without a dial", "count"),
    _worked("dial", "what the dial of the lathe reads, where it reads another unit or diameters", "words", "working"),
), ROWS)  # fmt: skip
"""The arithmetic, a row a pass."""

TICK = Check("list", "callout", refusal="Choose the thread from the list: a tick is for one thread alone.")
TICK_PROMPT = (
    "Pass done: choose the thread from the list (Alt and arrow down). It shows as x. For any other thread it shows as "
    "old, and the sheet asks for it to be cleared."
)
READING_HEAD = when(the.dial_differs, say("dial reads, ", the.dial_own_unit), "reading")
"""The reading is that of the lathe's own dial where it reads something else."""


def _of(name: str, row: int) -> Node:
    return xl.INDEX(the[f"plan_{name}"], row)


def _told(row: int) -> dict[str, Node]:
    """What a sheet shows of a pass, out of its row of the worked table."""
    divisions, dial = _of("divisions", row), _of("dial", row)
    of_dial = fixed(dial, when(the.dial_own_unit.same("mm"), 3, 4))
    return {
        "pass": _of("pass", row),
        "turn_by": when(known(divisions), say(divisions, " div."), _of("compound_travel", row)),
        "reading": when(known(dial), of_dial, _of("compound_reading", row)),
        "diameter": _of("diameter_now", row),
    }


def _head(words: str | Node, start: int) -> str | Node:
    """The head of a column; of the later passes only where there are any."""
    return words if start == 1 else when(given(_of("pass", start)), words)


def _column(name: str, head: str | Node, columns: int, start: int, look: str, dimension: str = "length") -> Column:
    def formula(number: int) -> Node:
        return _told(start + number - 1)[name]

    return Column(name, _head(head, start), "", columns, formula, dimension, look, named=False)


USED = given(here["pass"])


def _on_setup(start: int, rows: int, ticks: str, meaning: str, page: str) -> Block:
    """Some rows of the plan with a cell to tick, six columns wide."""
    done: str | Figure = "done"
    if start > 1:
        done = Figure("plan_done_head", "heading of the ticks, later passes", when(given(_of("pass", start)), "done"))
    return table(Table("plan", (
        _column("pass", "pass", 1, start, "listed", "count"),
        _column("turn_by", "turn by", 1, start, "listed"),
        _column("reading", READING_HEAD, 2, start, "listed_bold"),
        _column("diameter", "diameter", 1, start, "listed"),
        Column(ticks, done, f"pass done, {meaning}: the thread that it was done for", dimension=';;;"x"',
               look="tick_typed", check=TICK, prompt=TICK_PROMPT, role="input"),
    ), rows, head_height=NOTE, page=(page, f"the plan as shown, {meaning}"), marks=(
        Mark("tick_old", all_of(given(here[ticks]), no(xl.EXACT(here[ticks], the.callout))), (ticks,)),
        Mark("tick_used", USED, (ticks,)),
        Mark("row_used", USED, ("pass", "turn_by", "reading", "diameter")),
    )))  # fmt: skip


def on_setup() -> Block:
    """The plan in two halves side by side."""
    half = ROWS // 2
    return beside(
        _on_setup(1, half, "done", "first passes", "plan_page"),
        _on_setup(half + 1, ROWS - half, "done_more", "later passes", "plan_page_more"),
    )


def _on_card(start: int, rows: int, height: float, page: str) -> Block:
    """Some rows of the plan, large, with a box for a pen; six columns wide."""
    return table(Table("card", (
        _column("pass", "pass", 1, start, "plan", "count"),
        _column("turn_by", "turn by", 2, start, "plan"),
        _column("reading", READING_HEAD, 2, start, "plan_bold"),
        Column("pen", _head("done", start), "", look="tick", named=False),
    ), rows, height, NOTE, page=(page, "the plan on the card"), marks=(
        Mark("tick_used", USED, ("pen",)), Mark("row_used", USED, ("pass", "turn_by", "reading")),
    )))  # fmt: skip


def on_card(first: int, later_over: Block, height: float) -> Block:
    """The whole plan: the first rows on the left; on the right another block, and under it the rest."""
    later = _on_card(first + 1, ROWS - first, height, "card_plan_more")
    return beside(_on_card(1, first, height, "card_plan"), stack(later_over, later))
