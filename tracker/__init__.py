"""A row tracker for bead weavers, and the compiler behind it."""

__version__ = "0.1.0"
