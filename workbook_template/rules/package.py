"""Rules of the package: every part has a type, every relationship a target."""

from __future__ import annotations

from collections.abc import Iterator

from lxml import etree

from workbook_template.rules.parts import RELATION, TYPES, Fault, Relation, relation_part

_USES = etree.XPath("//@r:*", namespaces={"r": RELATION.strip("{}")})


def package_faults(
    parts: dict[str, bytes], trees: dict[str, etree._Element], related: dict[str, list[Relation]]
) -> Iterator[Fault]:
    """Content types, relationships, and the places that use them."""
    yield from _types(parts, trees)
    for part, entries in related.items():
        keys = [one.id for one in entries]
        if part and part not in parts:
            yield Fault(relation_part(part), "", f"these are relationships of {part}, which is not in the file")
        for one in entries:
            if keys.count(one.id) > 1:
                yield Fault(relation_part(part), one.id, "the relationship's id is used twice")
            if not one.external and one.target not in parts:
                yield Fault(relation_part(part), one.id, f"the relationship leads to {one.target}, not in the file")
    for part, root in trees.items():
        known = {one.id for one in related.get(part, [])}
        for value in _USES(root):
            if value not in known:
                yield Fault(part, value, "there is no relationship of this id")


def _types(parts: dict[str, bytes], trees: dict[str, etree._Element]) -> Iterator[Fault]:
    if TYPES not in trees:
        yield Fault(TYPES, "", "the list of content types is missing")
        return
    endings = {entry.get("Extension", "").lower() for entry in trees[TYPES] if entry.get("Extension")}
    named = [entry.get("PartName", "").lstrip("/") for entry in trees[TYPES] if entry.get("PartName")]
    for part in parts:
        if part != TYPES and part not in named and part.rpartition(".")[2].lower() not in endings:
            yield Fault(TYPES, part, "the part has no content type")
    for part in named:
        if part not in parts:
            yield Fault(TYPES, part, "a content type is given for a part that is not in the file")
        if named.count(part) > 1:
            yield Fault(TYPES, part, "the content type is given twice")
