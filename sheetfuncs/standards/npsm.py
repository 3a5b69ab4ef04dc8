"""NPSM, American National straight pipe threads for free-fitting mechanical joints (ASME B1.20.1).

The limits are the standard's table (Machinery's Handbook, 27th ed., p. 1865, Table 5), held whole; its rows from
1 in up by a gauge dealer's reprint (data/npsm_limits.csv). Form: 60 degrees; the pitch diameter of the internal thread
begins at E1 of the NPT thread of that size.
"""

from __future__ import annotations

from sheetfuncs import forms
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread
from sheetfuncs.errors import NotGiven
from sheetfuncs.standards import npt
from sheetfuncs.standards.base import NOT_TIGHT, Basic, Limits, Size, System
from sheetfuncs.standards.callouts import table_by_size

CLASSES = {"external": "without a class; write external", "internal": "without a class; write internal"}

CREST = 0.666025
"""How much the crest's diameter exceeds the pitch diameter, as a share of the pitch (the same table, note a)."""


def read(text: str) -> Thread | None:
    """An NPSM designation, or None where the text is not one; add external or internal for its limits.

    >>> read("3/4-14 NPSM external").side, read("3/4 NPSM").pitch == 1 / 14
    ('external', True)
    """
    return npt.read_pipe(text, "NPSM", "npsm", _sizes())


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: E1 of NPT, + 0.666025 P at the crest, - H/2 in the bore.

    >>> [round(size, 4) for size in basic(read("3/4-14 NPSM"))]
    [1.0364, 0.9889, 0.9579]
    """
    size = thread.series.rpartition(" ")[0]
    middle = npt.basic(thread._replace(series=f"{size} NPT")).pitch
    bore = middle - forms.sharp_height(forms.SIXTY, thread.pitch) / 2
    return Basic(middle + CREST * thread.pitch, middle, bore)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches, the standard's table (ASME B1.20.1-1983).

    It sets no minor diameter outside and no major diameter inside: they go with the pitch diameter.

    >>> limits(read("3/4-14 NPSM external")).pitch, limits(read("3/4-14 NPSM internal")).minor
    (Size(max=0.9873, min=0.982, reference=''), Size(max=0.97, min=0.958, reference=''))
    """
    if not thread.side:
        raise NotGiven(f"{npt.write(thread)} has different limits for pipe and fitting; add external or internal")
    row = _sizes()[thread.series.rpartition(" ")[0]]
    open_end = Size(None, None)
    if thread.side == "internal":
        middle = Size(row["int_pitch_max"], row["int_pitch_min"])
        bore = Size(row["int_minor_max"], row["int_minor_min"])
        return Limits(open_end, middle, bore, 0.0, row["int_pitch_min"] + CREST * thread.pitch)
    middle = Size(row["ext_pitch_max"], row["ext_pitch_min"])
    crest = Size(row["ext_major_max"], row["ext_major_min"])
    root = row["ext_pitch_max"] - forms.sharp_height(forms.SIXTY, thread.pitch) / 2
    return Limits(crest, middle, open_end, row["allowance"], root)


def standing(thread: Thread) -> str:
    """Every NPSM thread that is read is one of ASME B1.20.1.

    >>> standing(read("3/4-14 NPSM"))
    'size 3/4 of ASME B1.20.1, free-fitting mechanical joints'
    """
    return f"size {thread.series.rpartition(' ')[0]} of ASME B1.20.1, free-fitting mechanical joints"


def standard_threads() -> list[Thread]:
    """Every size, without a side."""
    return [Thread("npsm", "in", row["od_in"], 1 / row["tpi"], series=f"{size} NPSM") for size, row in _sizes().items()]


@lru_cache(maxsize=1)
def _sizes() -> dict[str, dict[str, float]]:
    return table_by_size("npsm_limits")


SYSTEM = System(
    key="npsm",
    title="NPSM pipe",
    source="ASME B1.20.1",
    unit="in",
    decimals=4,
    form=forms.SIXTY,
    read=read,
    write=npt.write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("external", "internal"),
    joiner=" ",
    names=("NPSM",),
    authority=NOT_TIGHT,
)
