"""What every standard module gives: the records that carry sizes, and the record that describes a system."""

from __future__ import annotations

from math import floor
from types import MappingProxyType

from sheetfuncs.designations import Thread
from sheetfuncs.errors import CellError, NotGiven
from sheetfuncs.forms import Form
from sheetfuncs.records import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from sheetfuncs.standards.origins import Origin
    from sheetfuncs.standards.taper import Gauging


class Basic(NamedTuple):
    """Basic sizes of a thread, unrounded: `minor` is that of the basic profile (the internal thread's)."""

    major: float
    pitch: float
    minor: float


class Size(NamedTuple):
    """One diameter's limits, rounded as the standard rounds; None where the standard sets none.

    `reference` names the ends ("max", "min", "max min") that the standard gives for reference only.
    """

    max: float | None
    min: float | None
    reference: str = ""

    @property
    def ends(self) -> tuple[float, float]:
        """Maximum and minimum of a size that has both, as every pitch diameter has; ValueError where one is not set."""
        if self.max is None or self.min is None:
            raise ValueError(f"{self} has an end that is not set")
        return self.max, self.min


class Limits(NamedTuple):
    """Limits of size of one thread with its class.

    `allowance` is how far the limits are moved from basic towards clearance. `root` is the diameter that the
    root must clear for the mating thread to enter: not above it outside, not below it inside.
    """

    major: Size
    pitch: Size
    minor: Size
    allowance: float
    root: float


class Root(NamedTuple):
    """The tool end that the standard's root asks for: `kind` flat or radius, its smallest and largest size.

    None where the standard leaves that end open: sharper serves, or up to what clears the mating thread. `words` say
    what it is and where it is from.
    """

    kind: str
    smallest: float | None
    largest: float | None
    words: str


def origins_of(thread: Thread, cell: str = "") -> tuple[Origin, ...]:
    """Where a thread's figures come from, by the table of origins; `cell` is what its standard knows of the tables."""
    from sheetfuncs.standards import origins  # only those who ask for them wait for the table

    return origins.of(thread, cell)


class System(NamedTuple):
    """One thread system: what it is called, how it is read and written, and where its sizes come from.

    `taper` is the change of diameter per length; the sizes of a taper thread hold at its gauge plane. `root_radius`
    is the smallest and largest radius that the standard demands of an external root, as shares of the pitch;
    `rounded_series` begins the name of the series that are what they are by a rounded root, `rounded_least` is the
    least radius of that root, as a share of the pitch.
    `gauging` gives the planes of a taper thread and where it is full.
    `root_form` is the tool end of the standard's root, None where no source for it was found. `origins` gives the
    source of each kind of figure of a thread, and what is from memory. `authority` says who governs threads that
    pressure or flight hangs on, and is empty for the rest.

    `classes` says in words which classes there are, `offered` names those that a list to choose from shows: the common
    ones, or all there are; a class that some series alone have stands in `offered_for` with these series. A callout is
    the size, `joiner`, the class, `joiner` and LH; the class `bare_class` is not written. `with_lead` writes the size
    of several starts around the text of their lead, None where the standard has one start. `widening_starts` are the
    numbers of starts with limits of their own, the last for so many and more.

    `names` may be meant where a callout has a size, or size and threads per inch, and no name; `by_custom` are the
    series that are meant before all others then.
    """

    key: str
    title: str
    source: str
    unit: str
    decimals: int
    form: Form
    read: Callable[[str], Thread | None]
    write: Callable[[Thread], str]
    basic: Callable[[Thread], Basic]
    limits: Callable[[Thread], Limits]
    standing: Callable[[Thread], str]
    standard_threads: Callable[[], list[Thread]]
    classes: dict[str, str]
    offered: tuple[str, ...]
    offered_for: Mapping[str, tuple[str, ...]] = MappingProxyType({})
    bare_class: str = ""
    joiner: str = "-"
    with_lead: Callable[[Thread, str], str] | None = None
    names: tuple[str, ...] = ()
    by_custom: tuple[str, ...] = ()
    widening_starts: tuple[int, ...] = ()
    taper: float = 0.0
    root_radius: tuple[float, float] | None = None
    rounded_series: str = ""
    rounded_least: float = 0.0
    gauging: Callable[[Thread], Gauging] | None = None
    root_form: Callable[[Thread], Root] | None = None
    origins: Callable[[Thread], tuple[Origin, ...]] = origins_of
    authority: str = ""

    def classes_at(self, thread: Thread) -> tuple[str, ...]:
        """The classes offered at a thread's size."""
        return tuple(name for name in self.offered if thread.series in self.offered_for.get(name, (thread.series,)))

    def with_class(self, size: str, name: str) -> str:
        """The callout of a size and a class."""
        return size if name == self.bare_class else f"{size}{self.joiner}{name}"

    def class_of(self, thread: Thread) -> str:
        """A thread's class by the name under which it is offered, else as written, the engagement group behind it."""
        single, size = thread._replace(starts=1, left_hand=False), self.write(thread.size)
        for name in self.offered:
            try:
                if self.read(self.with_class(size, name)) == single:
                    return name
            except CellError:
                continue
        return f"{thread.thread_class}-{thread.engagement}" if thread.engagement else thread.thread_class


# ISO 7-1 and ASME B1.20.1 make pressure-tight joints on the threads; ISO 228-1 and the NPSM of ASME B1.20.1 do not.
PRESSURE_TIGHT = (
    "Pressure-tight pipe thread: the piping or pressure code and the authority that govern the work come before these "
    "figures, which say nothing about tightness, sealant, material or test."
)
NOT_TIGHT = (
    "This pipe thread does not seal on its flanks. Where the joint must hold pressure, the code or authority that "
    "governs it says how it is sealed and tested, not these figures."
)
FLIGHT = (
    "Thread of flight hardware: the approved drawing, the specifications it names and the airworthiness authority "
    "govern material, process, gauging and records, not these figures."
)


def round_half_even(value: float, places: int) -> float:
    """Rounded to `places` decimals, an exact half to the even digit, as the printed tables are.

    Binary floats fall a hair beside the half they stand for; what is within a millionth of it counts as one.

    >>> round_half_even(0.00165, 4), round_half_even(0.00155, 4), round_half_even(42.5, 0)
    (0.0016, 0.0016, 42.0)
    """
    scale = 10.0**places
    scaled = value * scale
    whole = floor(scaled)
    over_half = scaled - whole - 0.5
    up = whole % 2 if -1e-6 < over_half < 1e-6 else over_half > 0
    return (whole + up) / scale


def internal_flat(pitch: float) -> Root:
    """Root of the internal thread of the 60 degree basic profile: a flat of P/8 (ISO 68-1:1998, 3; ASME B1.1 alike)."""
    return Root("flat", None, pitch / 8, "basic profile of ISO 68-1: P/8 at most; narrower or sharp serves as well")


def no_root_without_side(callout: str, classes: dict[str, str]) -> NotGiven:
    """The error where the two sides have different roots and the callout leaves the side open."""
    choices = "; ".join(f"{side}: {names}" for side, names in classes.items())
    return NotGiven(
        f"{callout} does not say whether it is outside or inside, and their roots differ; add it ({choices})"
    )


def no_limits_without_class(callout: str, classes: dict[str, str]) -> NotGiven:
    """The error for a thread whose class was left off: which classes there are, and which side each is."""
    choices = "; ".join(f"{side}: {names}" for side, names in classes.items())
    return NotGiven(f"{callout} has no class, so it has basic sizes but no limits; add one ({choices})")
