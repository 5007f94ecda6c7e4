"""A closure in what is bought, in the fit, and where a stock runs short."""

from collections import Counter
from dataclasses import replace

import pytest
from sealing import CLOSURES
from weaving import STITCH, a_design, closed_with

from tracker.design.model import ClosureKind, Size
from tracker.fit.model import Wish
from tracker.pattern.compiler import compile_design
from tracker.pattern.stock import beads_of, remedies

every_closure = pytest.mark.parametrize("kind", CLOSURES)


@every_closure
@pytest.mark.parametrize("columns", [2, 5, 12])
def test_beads_of_a_closed_band(kind: ClosureKind, columns: int) -> None:
    """Counted by formula as they are picked up, the loops in their own colour; no findings."""
    for rows in (4, 9, 20):
        design = a_design(columns, rows, closure=closed_with(kind, columns))
        path = STITCH.weave(design, rows)
        woven = Counter(
            bead.kind[0] + bead.colour
            for row in path.rows
            for bead in row.beads
            if bead.kind != "finding"
        )
        assert woven == +beads_of(design, rows)


@every_closure
def test_closure_counts_towards_the_fit(kind: ClosureKind) -> None:
    """20 mm of closure are 20 mm less to weave: 157.969 mm, and 20 / 2.4042 = 8.3 rows fewer."""
    wish = Wish(wrist=160.0, ease=12.0)
    fitted = replace(a_design(2), size=Size(), fit=wish)
    plain = compile_design(fitted).pattern
    closed = compile_design(replace(fitted, closure=closed_with(kind))).pattern
    assert pytest.approx(157.969, abs=5e-4) == closed.target
    assert (73, 64) == (plain.woven_rows, closed.woven_rows)
    assert closed.fit is not None
    assert 20.0 == closed.fit.closure_length


def test_fewer_rows_keep_enough_for_the_closure() -> None:
    """The remedy of a shorter band is never too short to be closed."""
    design = a_design(2, 12, closure=closed_with("wire guards"))
    need = beads_of(design, 12)
    found = [r for r in remedies(design, {**need, "tA": need["tA"] - 8}) if r.kind == "fewer rows"]
    assert found
    assert all(4 <= remedy.rows < 12 for remedy in found)
    too_few = {**need, "tA": 2}
    assert not [r for r in remedies(design, too_few) if r.kind == "fewer rows"]
