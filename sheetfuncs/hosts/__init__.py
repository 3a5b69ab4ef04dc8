"""The programs in which the functions appear. None of them knows anything about threads."""
