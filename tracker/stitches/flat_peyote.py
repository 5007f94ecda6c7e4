"""Flat peyote: seed by seed to and fro, an even or an odd number of lanes.

Row 1 strings the first two rows of beads. From then on: pick up one, skip the low one in the gap,
go through the one standing out. How it turns at the edges is told in `flat_woven_peyote`.
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.model import ThreadPath
from tracker.path.proof.expected import Expected
from tracker.stitches import flat_woven_peyote
from tracker.stitches.flat_woven_peyote import hint_for
from tracker.stitches.peyote import WORDING, gauge
from tracker.stitches.stitch import Stitch


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    return flat_woven_peyote.weave(design, rows, 1, STITCH.colouring(design, rows))


def expected(band: Band) -> Expected:
    """The counts, by formula: for an even number of lanes half as many seeds a row."""
    return flat_woven_peyote.expected(band, 1)


STITCH = Stitch(
    name="flat peyote",
    demands=Demands(
        tile=False, own_seeds=False, across="lanes", least=2, most=80, usual=10, in_rank=2
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=WORDING,
    hint=hint_for(1),
    extra_rows=1,
)
