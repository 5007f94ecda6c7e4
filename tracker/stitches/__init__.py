"""The stitches, one a module: from a design to a thread path."""

from tracker.stitches.registry import find_stitch, stitch_names

__all__ = ["find_stitch", "stitch_names"]
