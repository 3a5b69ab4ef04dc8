"""Rules of the trade that more than one sheet goes by, as formulas."""
