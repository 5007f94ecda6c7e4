"""The stitches: one module each, from a design to its thread path."""

from tracker.stitches.registry import demands, find_stitch, stitch_names

__all__ = ["demands", "find_stitch", "stitch_names"]
