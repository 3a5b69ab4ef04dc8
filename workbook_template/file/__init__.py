"""From the sheets to a finished file."""
