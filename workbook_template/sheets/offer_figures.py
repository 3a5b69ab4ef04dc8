"""What the sheet Offer still lacks, whether its prices hold, and what it says of a coating."""

from __future__ import annotations

from sheetfuncs.estimating import NOISE
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    empty,
    first,
    fixed,
    given,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import coating
from workbook_template.sheets.estimate_inputs import QUANTITIES, passed_on
from workbook_template.sheets.inputs import LENGTH, believed, in_text, left_empty
from workbook_template.sheets.quote_inputs import NO_ORDER
from workbook_template.trade import days

PRICED = when(known(the.estimate_coating), the.estimate_coating > 0, False)
"""Whether a coating is charged."""

COATED = any_of(given(the.offer_coating_named), coating.ASKED, PRICED)
"""Whether any sheet has a coating: the page does not say without then."""

NO_COATING = ("NONE", "NO", "WITHOUT", "WITHOUT COATING", "UNCOATED")
"""Words for no coating, in capitals."""

WITHOUT = "without coating; limits of size hold as machined"
COATING = when(
    COATED,
    first(
        (all_of(coating.ASKED, the.coating_fault.same("")),
         say(coating.thickness(), " thick; limits of size hold after it")),
        (coating.ASKED, "ITS THICKNESS CAN'T BE"),
        otherwise="agree whether the limits hold before or after it",
    ),
    WITHOUT,
)  # fmt: skip
"""What the page says behind the coating that is named, or in its place."""


def _named() -> Node:
    typed = xl.TRIM(in_text(the.offer_coating))
    return when(any_of(*(xl.UPPER(typed).same(word) for word in NO_COATING)), "", typed)


def _revision(cell: Node) -> Node:
    """A revision as it is compared: a blank behind it is none of its letters."""
    return xl.TRIM(in_text(cell))


NO_DAY, DATED = no(days.is_day(the.offer_valid)), days.is_day(the.offer_date)
ANOTHER_REVISION = _revision(the.offer_valid_for).differs(_revision(the.revision_text))

Held = tuple[Node, str, Part]
"""What keeps prices from being valid: a condition, what the page says, and what the panel says."""

HELD: tuple[Held, ...] = (
    (all_of(NO_DAY, left_empty(the.offer_valid)), "no last day is named",
     "Next: type the last day on which these prices hold."),
    (NO_DAY, "the last day is no date", say("The last day on which these prices hold ", days.NO_DAY, ": type a date.")),
    (the.offer_valid < the.as_of_used, "the last day is past", "The last day on which these prices hold is past."),
    (
        ANOTHER_REVISION, "the last day is for another revision",
        say(
            "The last day was typed for ",
            when(given(in_text(the.offer_valid_for)), say("revision ", in_text(the.offer_valid_for)), "no revision"),
            ", the part is revision ", the.revision_text, ": type the day anew and the revision beneath it.",
        ),
    ),
    (
        when(DATED, the.offer_valid < the.offer_date, False), "the last day is before the date of the offer",
        "The last day on which these prices hold is before the date of the offer.",
    ),
    (
        xl.MIN(the.estimate_unit_price).same(0), "a price is 0.00",
        "A price each is 0.00: look over the sheet Estimate before it is offered.",
    ),
)  # fmt: skip
NO_PRICE = xl.COUNT(the.estimate_unit_price).same(0)
NOT_VALID = first((NO_PRICE, ""), *((condition, on_page) for condition, on_page, _ in HELD))


def _kept(number: int) -> tuple[Node, Node]:
    """A price that was kept for this revision, and so may be with the customer, where it is another now."""
    quantity, kept = the[f"before_quantity_{number}"], the[f"before_price_{number}"]
    now, pieces = xl.INDEX(the.estimate_price, 1, number), the[f"estimate_quantity_{number}"]
    of_it = all_of(
        given(in_text(the.before_revision)), _revision(the.before_revision).same(_revision(the.revision_text))
    )
    same_pieces = when(
        left_empty(quantity), True, when(xl.COUNT(quantity, pieces).same(2), quantity.same(pieces), False)
    )
    differs = when(xl.COUNT(kept, now).same(2), xl.ABS(kept - now) > 0.005, False)
    return all_of(of_it, same_pieces, differs), say(
        "For ", pieces, " pieces of revision ", the.revision_text, " the sheet Costing keeps ", fixed(kept, 2),
        ", and the price is now ", fixed(now, 2), ": tell the customer who has the first, or keep the revision anew.",
    )  # fmt: skip


def _other_length() -> tuple[Node, Node]:
    """A thread length that is priced, and another one that goes to the lathe."""
    priced, of_job = the.estimate_length, the.thread_length
    both = all_of(believed(LENGTH, priced), believed(LENGTH, of_job))
    return when(both, xl.ABS(priced - of_job) > NOISE, False), say(
        "The thread length is ", fixed(priced, the.decimals), " on the sheet Estimate and ",
        fixed(of_job, the.decimals), " on the sheet Job: correct one.",
    )  # fmt: skip


NEXT = first(
    (the.offer_spoiled.differs(""), the.offer_spoiled),
    (the.offer_too_long.differs(""), the.offer_too_long),
    (the.job_spoiled.differs(""), say("Sheet Job: ", the.job_spoiled)),
    (the.estimate_fault_1.differs(""), passed_on("Sheet Estimate", the.estimate_fault_1)),
    (NO_PRICE, "The sheet Estimate gives no price: look over what is typed there."),
    (the.estimate_doubt.differs(""), say("Sheet Estimate: ", the.estimate_doubt)),
    *((condition, said) for condition, _, said in HELD[:3]),
    *((no(given(the[f"{name}_text"])), f"Name the {what} on the sheet Job.") for name, what in (
        ("customer", "customer"), ("part", "part"), ("drawing", "drawing"), ("revision", "drawing revision"),
    )),
    *((condition, said) for condition, _, said in HELD[3:]),
    (NO_ORDER[0], say("Sheet Quote: ", NO_ORDER[1])),
    (the.offer_price_kept.differs(""), the.offer_price_kept),
    _other_length(),
    (all_of(COATED, empty(the.offer_coating_named)),
     say("Name the coating, or take it off: ",
         when(coating.ASKED, "the sheet Job has its thickness.", "the sheet Estimate charges for it."))),
    (all_of(COATED, blank(the.estimate_coating)),
     "The coating that is named has no price: type Coating a piece on the sheet Estimate, 0 where the customer coats."),
    (no(given(the.offer_number_text)), "Next: type the number of the offer."),
    (no(given(in_text(the.estimate_currency))), "Name the money on the sheet Estimate."),
    (no(DATED), "Next: type the date of the offer."),
    (no(given(the.shop_name_text)), "Type the shop's letterhead beside the sheet Certificate; it stands here too."),
    (all_of(COATED, no(coating.ASKED)),
     "Type the thickness of the coating on the sheet Job: without it the lathe cuts to the limits of the bare part."),
)  # fmt: skip
"""What the offer still lacks."""

GAUGED = when(
    the.estimate_fault_1.same(""),
    say(
        "The sheet Estimate prices the gauging of ",
        when(the.estimate_every_used > 0, say("the first piece and every nth, n = ", the.estimate_every_used),
             say(xl.ROUND(the.estimate_gauged_used * 100, 1), " % of the pieces")),
        ": Gauging must not promise more.",
    ),
)  # fmt: skip
"""What gauging is in the price."""


def working() -> tuple[Figure, ...]:
    """Figures that are not printed, in order."""
    return (
        Figure("offer_coating_named", "the coating that is named; none where it is said to be none", _named()),
        Figure("offer_price_kept", "a price that was kept for this revision, where it is another now",
               first(*map(_kept, range(1, QUANTITIES + 1)))),
        Figure("offer_not_valid", "why the prices do not hold, where they do not", NOT_VALID),
    )  # fmt: skip
