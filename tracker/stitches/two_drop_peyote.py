"""Two-drop peyote: flat peyote that picks up two seeds at a time and goes through two.

A pair lies in two neighbouring lanes and is always sewn through as one; so the lanes come in
pairs, an even or an odd number of them. The turns are those of flat peyote, pair for seed.
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
    return flat_woven_peyote.weave(design, rows, 2, STITCH.colouring(design, rows))


def expected(band: Band) -> Expected:
    """The counts, by formula: those of flat peyote of half as many lanes, twice each."""
    return flat_woven_peyote.expected(band, 2)


STITCH = Stitch(
    name="two-drop peyote",
    demands=Demands(
        tile=False, own_seeds=False, across="lanes", least=4, most=80, usual=12, every=2, in_rank=2
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=WORDING,
    hint=hint_for(2),
    extra_rows=1,
)
