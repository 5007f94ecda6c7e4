"""Designs of tiles alone, for the tests of the stitches that take no seed."""

from dataclasses import replace

from one_hole import a_seed_design

from tracker.beads.catalogue import tiles
from tracker.design.model import Design, Layout


def a_tile_design(
    stitch: str, lanes: int, rows: int, *, tile: str = "half tile", layout: Layout | None = None
) -> Design:
    """A band of tiles, its lanes in A and B by turns."""
    design = a_seed_design(stitch, lanes, rows, layout=layout)
    return replace(design, tile=tiles()[tile], seed=None)
