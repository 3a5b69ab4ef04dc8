"""Formulas as trees: built in Python or read from text; written, computed and judged by what they may give."""
