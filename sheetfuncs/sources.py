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
    "ISO 1": "ISO 1:2016, Geometrical product specifications, standard reference temperature",
    "ISO 14253-1": "ISO 14253-1:2017, Geometrical product specifications, decision rules for verifying conformity",
    "ILAC-G8": "ILAC-G8:09/2019, Guidelines on decision rules and statements of conformity",
    "JCGM 100": "JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM)",
    "JCGM 106": "JCGM 106:2012, The role of measurement uncertainty in conformity assessment",
    "NIST handbook": "NIST/SEMATECH e-Handbook of Statistical Methods",
    "NIST J. Res. 99": "D. A. Swyt, Uncertainties in dimensional measurements made at nonstandard temperatures, "
    "J. Res. Natl. Inst. Stand. Technol. 99 (1994)",
    "AIAG MSA": "AIAG, Measurement Systems Analysis, 4th edition (2010)",
    "Duncan": "A. J. Duncan, Quality Control and Industrial Statistics, Appendix D3",
    "ISO 2859-1": "ISO 2859-1:1999, Sampling procedures for inspection by attributes, schemes indexed by AQL",
    "MIL-STD-105E": "MIL-STD-105E (1989), Sampling procedures and tables for inspection by attributes",
    "insert makers": "Threading handbooks of insert makers: chip-area rule for the depths of passes",
    "Callister": "W. D. Callister, D. G. Rethwisch, Fundamentals of Materials Science and Engineering, 3rd edition, "
    "Appendix B, Table B.6",
    "Wright": "T. P. Wright, Factors Affecting the Cost of Airplanes, J. Aeronautical Sciences 3 (1936)",
    "ILO": "G. Kanawaty (ed.), Introduction to Work Study, 4th edition, International Labour Office, Geneva (1992)",
    "geometry": "Derived in this project's docs from the geometry of the thread form",
    "practice": "Common shop practice, without a published source",
}
"""Title and edition of each source."""

NOT_SEEN: tuple[tuple[str, str, str], ...] = (
    (
        "matched wires of 0.00002 in or finer, asked for by ASME B1.2-1983, Appendix B, and FED-STD-H28/6",
        "the mark 'no matched set' on the sheet Instruments (the figure itself is common practice)",
        "ASME B1.2-1983, Appendix B",
    ),
    (
        "the subjects of 29 CFR 1910.212 (machine guarding) and 1910.133 (eye and face protection)",
        "two cautions of the sheet Setup",
        "the two sections of the Code of Federal Regulations",
    ),
    (
        "16 effective degrees of freedom and U = 93 nm of the end gauge",
        "a check of the uncertainty budget",
        "JCGM 100:2008, H.1.6",
    ),
    (
        "1.57 as the lower limit of a Cp of 2.29 from 20 readings; the plan K 125 2/3 for a lot of 2000 at AQL 0.65",
        "checks of capability and sampling; the one recomputes, the other is in AQLSchemes 1.7-2",
        "D. C. Montgomery, Introduction to Statistical Quality Control, 6th edition",
    ),
    (
        "0.541 47 P as the best wire of the buttress thread; the example of a 2-4 thread of class 2",
        "checks of buttress threads, where 0.540 83 P is derived",
        "Machinery's Handbook, 27th edition, p. 1856, and its wires for buttress threads",
    ),
    (
        "guide for GRR (10, 30 %), ndc = 1.41 PV / GRR, 5 of them, six spreads, pooling at 5 %, d2 beyond 15 ranges",
        "THREAD_GAUGE_STUDY and the sheet Gauge study",
        "AIAG MSA, 4th edition: chapter II section D, chapter III section B, appendices A and C",
    ),
    (
        "a corner chamfer of 0.05 P on centralizing Acme screws; the next larger tabulated size for sizes between",
        "nothing: not applied",
        "ASME B1.5-1997",
    ),
    (
        "0.366 P - 0.536 ac as the width of the trapezoidal root; factors 1.732 and 0.073 for lead and flank errors",
        "checks beside a drawing of the same thing",
        "ISO 2901; a book on interchangeability",
    ),
)
"""Values from memory that are no figure of a thread: what, where it is used, and what would confirm it.

Those of threads stand with their standards, in standards/data/origins.csv; docs/from-memory.md lists both.
"""
