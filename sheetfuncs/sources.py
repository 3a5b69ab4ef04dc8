"""Every standard and book that a value rests on, once, by the key that records and tables use."""

from __future__ import annotations

SOURCES: dict[str, str] = {
    "ASME B1.1": "ASME B1.1-2003, Unified Inch Screw Threads (UN and UNR Thread Form)",
    "ASME B1.2": "ASME B1.2-1983, Gages and Gaging for Unified Inch Screw Threads, Appendix B",
    "ASME B1.5": "ASME B1.5-1997, Acme Screw Threads (its tables of 1988 as MH27 reprints them)",
    "ASME B1.8": "ASME/ANSI B1.8-1988 (R2001), Stub Acme Screw Threads",
    "ASME B1.9": "ASME B1.9-1973, Buttress Inch Screw Threads (7/45 form, 0.6 pitch basic height of engagement)",
    "ASME B1.7": "ASME B1.7-2006, Screw Threads: Nomenclature, Definitions, and Letter Symbols",
    "ASME B1.15": "ASME B1.15-1995, Unified Inch Screw Threads (UNJ Thread Form)",
    "ISO 3161": "ISO 3161:1999, Aerospace, UNJ threads, general requirements and limit dimensions",
    "MIL-S-8879C": "MIL-S-8879C (1991), Screw Threads, Controlled Radius Root with Increased Minor Diameter",
    "ISO 5855": "ISO 5855-1 and -2:1999, Aerospace, MJ threads",
    "ASME B1.20.1": "ASME B1.20.1-1983 (R2001) and 2013, Pipe Threads, General Purpose (Inch)",
    "BS 84": "BS 84:2007 and BS 84:1956, Parallel screw threads of Whitworth form",
    "BS 93": "BS 93:2008, British Association (B.A.) screw threads",
    "ISO 228-1": "ISO 228-1:2000, Pipe threads where pressure-tight joints are not made on the threads",
    "ISO 7-1": "ISO 7-1:1994, Pipe threads where pressure-tight joints are made on the threads",
    "ISO 68-1": "ISO 68-1:1998, ISO general purpose screw threads, basic profile, metric",
    "ISO 261": "ISO 261:1998, ISO general purpose metric screw threads, general plan",
    "ISO 724": "ISO 724:1993, ISO general purpose metric screw threads, basic dimensions",
    "ISO 965-1": "ISO 965-1:2013, ISO general purpose metric screw threads, tolerances, principles and basic data",
    "ISO 2901": "ISO 2901:2016, ISO metric trapezoidal screw threads, basic and design profiles",
    "ISO 2902": "ISO 2902:2016, ISO metric trapezoidal screw threads, general plan",
    "ISO 2903": "ISO 2903:2016, ISO metric trapezoidal screw threads, tolerances",
    "ISO 2904": "ISO 2904:1977, ISO metric trapezoidal screw threads, basic dimensions",
    "GOST 24739-81": "GOST 24739-81, Multi-start trapezoidal threads, tolerances",
    "MH27": "Machinery's Handbook, 27th edition",
    "MH31": "Machinery's Handbook, 31st edition",
    "insert makers": "Threading handbooks of insert makers: chip-area rule for the depths of passes",
    "geometry": "Derived in this project's docs from the geometry of the thread form",
    "practice": "Common shop practice, without a published source",
}
"""Title and edition of each source."""
