"""An invented job, filled in."""
