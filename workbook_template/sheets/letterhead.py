"""The letterhead of papers that customers get: typed once, beside the page of the certificate, used on all of them."""

from __future__ import annotations

from collections.abc import Iterable

from workbook_template.figures.notation import the
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import ANYTHING, Input
from workbook_template.sheets.layout import CALLOUT, NOTE, Line, entry, line, words

SHOP = (
    Input("shop_name", "Shop", "name of the shop", "text", ANYTHING,
          "Name of the shop, as its letters have it. Typed once: it stands on every paper for customers."),
    Input("shop_address", "Its address", "address of the shop", "text", ANYTHING,
          "Street, town and country of the shop, in one line."),
    Input("shop_contact", "Phone, mail", "phone and mail of the shop", "text", ANYTHING,
          "How customers reach the shop: phone, mail, web."),
)  # fmt: skip
CUSTOMER = Input(
    "customer_address", "Customer's address", "address of the customer", "text", ANYTHING,
    "Street, town and country of the customer, as letters to them have it.",
)  # fmt: skip


def entries(inputs: Iterable[Input] = (*SHOP, CUSTOMER)) -> tuple[Line, ...]:
    """What is typed beside the page, a line each, nine columns wide."""
    return tuple(line(words(3, one.label), entry(6, one)) for one in inputs)


def head(title: str) -> tuple[Line, ...]:
    """The letterhead and what the paper is."""
    return (
        line(words(12, the.shop_name_text, "letter_name"), height=CALLOUT),
        line(
            words(7, the.shop_address_text, "letter_rule"),
            words(5, the.shop_contact_text, "letter_rule_right"),
            height=2 * NOTE,
        ),
        line(height=NOTE / 3),
        line(words(12, title, "letter_name"), height=CALLOUT),
    )


def head_again(title: str, number: Node) -> tuple[Line, ...]:
    """The small head of a later page: shop, what the paper is, its number."""
    return (
        line(
            words(6, the.shop_name_text, "letter_rule"),
            words(4, title, "letter_rule_right"),
            words(2, number & "", "letter_rule_right"),
        ),
        line(height=NOTE),
    )
