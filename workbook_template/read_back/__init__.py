"""Reads filled workbooks back without trusting them: `check`, `collect`, `recall` and `certificate`."""
