"""Reads filled workbooks back without trusting them: `check`, `collect`, `rewire` and `certificate`."""
