"""What the size cell of the sheet Job may hold beside a size of the list, read without the sheet's formulas."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

from sheetfuncs import CellError, standards

SIGNS = str.maketrans("\N{NO-BREAK SPACE}×–—−", " x---", '"')


def listed(system: standards.System, typed: str, name: str) -> str:
    """The size as the list has it, the class behind it dropped where it is `name`; as typed where nothing fits.

    >>> unified = standards.SYSTEMS["unified"]
    >>> listed(unified, "1-1/4-7 UNC-2A", "2A"), listed(unified, "1/4-20", "2A"), listed(unified, "2-4 1/2 UNC", "2A")
    ('1 1/4-7 UNC', '1/4-20 UNC', '2-4.5 UNC')
    """
    text = re.sub(r"[Nn]o\. ?", "#", typed.translate(SIGNS))
    text = re.sub(r"(?<=\d)(?=[A-Za-z]{2})", " ", text)  # 3/4-16UNF
    text = re.sub(r" ?- ?| x ", lambda sign: sign[0].strip(), " ".join(text.split()))
    text = re.sub(r"(-.*)[ -]1/2(?= |$)", r"\1.5", text)
    text = re.sub(r"^([^/-]*)-(?=.*/)", r"\1 ", text) if re.match(r"[^/-]*-[^/]*/", text) else text
    known, shorts, by_name = _sizes(system.key), _shorts(system.key), _by_name(system.key)
    for size in (text.lower(), *(text.removesuffix(f"{sign}{name}").lower() for sign in "- ")):
        plain = re.sub(r"(?<=x)(\d+)(?:\.0|(\.\d*?)0)$", lambda pitch: pitch[1] + (pitch[2] or ""), size)
        for found in (known.get(plain), known.get(f"#{plain}"), shorts.get(size), shorts.get(f"#{size}")):
            if found:
                return found
        if found := by_name.get(size):
            return found
    return text if text.lower() == typed.strip().lower() else typed


@cache
def _sizes(key: str) -> dict[str, str]:
    system = standards.SYSTEMS[key]
    return {text.lower(): text for text in map(system.write, system.standard_threads())}


@cache
def _by_name(key: str) -> dict[str, str]:
    """What a diameter and a series mean where one size has both: 1 NPT, 1/2 UNC."""
    texts = _sizes(key).values()
    parts = [(text, re.fullmatch(r"([^-]+)-[^ ]+( (?:UN|BS|NP).*)", text)) for text in texts]
    stems = [(text, f"{part[1]}{part[2]}".lower()) for text, part in parts if part]
    many = Counter(stem for _, stem in stems)
    return {stem: text for text, stem in stems if many[stem] == 1}


@cache
def _shorts(key: str) -> dict[str, str]:
    """Pairs of diameter and threads per inch that one size has, and metric diameters with a coarse pitch."""
    found: dict[str, list[str]] = {}
    for text in _sizes(key).values():
        pair = re.split(" [A-Z]", text)[0]
        if re.search(r"-[\d.]", pair):
            found.setdefault(pair.lower(), []).append(text)
    shorts = {pair: sizes[0] for pair, sizes in found.items() if len(sizes) == 1}
    if key == "iso_metric":
        for text in _sizes(key).values():
            stem = text.split("x")[0]
            try:
                shorts[stem.lower()] = standards.write(standards.read(stem).size)
            except CellError:
                continue
    return shorts
