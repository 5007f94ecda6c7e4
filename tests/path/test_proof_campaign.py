"""A good path spoilt at random in one place: the proof must notice, whatever the place."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from weaving import STITCH, a_design, passes_of, places_of_passes, proof_of, with_passes

from tracker.path.model import Hole, Pass, ThreadPath

BANDS = (
    (2, 2, ("half tile", "15/0")),
    (2, 9, ("half tile", "15/0")),
    (3, 6, ("half tile", "11/0")),
    (4, 5, ("quarter tile", "15/0")),
    (3, 7, ("two-hole oval", "15/0")),
    (2, 6, ("full tile", "15/0")),
    (12, 10, ("half tile", "15/0")),
)
holes: st.SearchStrategy[Hole] = st.sampled_from(("", "a", "b"))


@cache
def band(columns: int, rows: int, beads: tuple[str, str]) -> ThreadPath:
    """A good path."""
    return STITCH.weave(a_design(columns, rows, beads=beads), rows)


class Spoiler:
    """Draws a band and a pass of it, and proves what has been made of them."""

    def __init__(self, draw: st.DataObject) -> None:
        self.columns, rows, beads = draw.draw(st.sampled_from(BANDS))
        self.path = band(self.columns, rows, beads)
        self.places = list(places_of_passes(self.path))
        self.beads = sum(len(row.beads) for row in self.path.rows)
        self.at = draw.draw(st.sampled_from(self.places))

    def step_of(self, place: tuple[int, int, int]) -> list[Pass]:
        """The passes of a place's step."""
        row, step, _ = place
        return list(self.path.rows[row - 1].steps[step - 1].passes)

    def spoil(self, change: Callable[[list[Pass], int], None]) -> None:
        """Change the drawn pass's step."""
        row, step, i = self.at
        passes = self.step_of(self.at)
        change(passes, i)
        self.path = with_passes(self.path, row, step, passes)

    def noticed(self) -> bool:
        """Whether the proof finds fault."""
        return bool(proof_of(self.path, self.columns).faults)


def test_good_bands() -> None:
    """The bands that are spoilt are good before."""
    assert [()] * len(BANDS) == [proof_of(band(*which), which[0]).faults for which in BANDS]


@given(st.data())
@settings(max_examples=80, deadline=None)
def test_pass_left_out(draw: st.DataObject) -> None:
    """A pass that is left out is missed."""
    spoiler = Spoiler(draw)
    spoiler.spoil(lambda passes, i: passes.__delitem__(i))
    assert spoiler.noticed()


@given(st.data())
@settings(max_examples=80, deadline=None)
def test_pass_made_twice(draw: st.DataObject) -> None:
    """A pass that is made twice, at once or later, is one too many."""
    spoiler = Spoiler(draw)
    row, step, i = draw.draw(st.sampled_from(spoiler.places))
    again = spoiler.step_of((row, step, i))[i]
    again = again._replace(picked_up=draw.draw(st.booleans()) and again.picked_up)
    spoiler.spoil(lambda passes, i: passes.insert(i + 1, again))
    assert spoiler.noticed()


@given(st.data())
@settings(max_examples=120, deadline=None)
def test_two_passes_swapped(draw: st.DataObject) -> None:
    """Two passes made in each other's place are noticed, near or far apart."""
    spoiler = Spoiler(draw)
    here = spoiler.places.index(spoiler.at)
    apart = draw.draw(st.integers(1, 6) | st.integers(1, len(spoiler.places)))
    assume(here + apart < len(spoiler.places))
    row, step, j = spoiler.places[here + apart]
    mine = spoiler.step_of(spoiler.at)[spoiler.at[2]]
    other = spoiler.step_of((row, step, j))[j]
    assume(mine != other)
    spoiler.spoil(lambda passes, i: passes.__setitem__(i, other))
    passes = spoiler.step_of((row, step, j))
    passes[j] = mine
    spoiler.path = with_passes(spoiler.path, row, step, passes)
    assert spoiler.noticed()


@pytest.mark.parametrize("tile", ["half tile", "quarter tile", "two-hole oval", "full tile"])
@pytest.mark.parametrize("seed", ["15/0", "11/0"])
def test_every_two_passes_nearby_swapped(tile: str, seed: str) -> None:
    """Not at random: each pass with the five after it, in beads that suit and that do not."""
    columns = 2
    good = band(columns, 4, (tile, seed))
    assert not proof_of(good, columns).faults
    every = list(places_of_passes(good))
    for here, (row, step, i) in enumerate(every):
        mine = good.rows[row - 1].steps[step - 1].passes[i]
        for far, far_step, j in every[here + 1 : here + 6]:
            other = good.rows[far - 1].steps[far_step - 1].passes[j]
            path = good
            for place, made in (((row, step, i), other), ((far, far_step, j), mine)):
                passes = list(path.rows[place[0] - 1].steps[place[1] - 1].passes)
                passes[place[2]] = made
                path = with_passes(path, *place[:2], passes)
            assert proof_of(path, columns).faults, (mine, other)


@given(st.data())
@settings(max_examples=250, deadline=None)
def test_pass_redirected(draw: st.DataObject) -> None:
    """A pass through another bead or hole, or the other way, or called otherwise, is noticed."""
    spoiler = Spoiler(draw)
    old = spoiler.step_of(spoiler.at)[spoiler.at[2]]
    near = range(max(0, old.bead - 12), min(spoiler.beads, old.bead + 13))
    new = Pass(
        draw.draw(st.just(old.bead) | st.sampled_from(near) | st.integers(0, spoiler.beads)),
        draw.draw(st.just(old.hole) | holes),
        draw.draw(st.booleans()),
        draw.draw(st.just(old.picked_up) | st.booleans()),
    )
    assume(new != old)
    spoiler.spoil(lambda passes, i: passes.__setitem__(i, new))
    assert spoiler.noticed()


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_pass_made_in_another_step(draw: st.DataObject) -> None:
    """A pass that is put off to the end of a later step is noticed."""
    spoiler = Spoiler(draw)
    late, step, _ = draw.draw(st.sampled_from(spoiler.places))
    assume((late, step) > spoiler.at[:2])
    mine = spoiler.step_of(spoiler.at)[spoiler.at[2]]
    spoiler.spoil(lambda passes, i: passes.__delitem__(i))
    path = spoiler.path
    spoiler.path = with_passes(path, late, step, [*spoiler.step_of((late, step, 0)), mine])
    assert spoiler.noticed()


def test_every_change_of_a_small_band_is_noticed() -> None:
    """Not at random but one by one: every pass left out, doubled or redirected in any way."""
    columns = 2
    path = band(columns, 4, ("half tile", "15/0"))
    beads = sum(len(row.beads) for row in path.rows)
    every: tuple[Hole, ...] = ("", "a", "b")
    noticed = []
    for row, step, i in places_of_passes(path):
        passes = list(path.rows[row - 1].steps[step - 1].passes)
        old = passes[i]
        others = [
            [Pass(bead, hole, up, picked_up)]
            for bead in range(beads)
            for hole in every
            for up in (True, False)
            for picked_up in (True, False)
            if Pass(bead, hole, up, picked_up) != old
        ]
        for new in [[], [old, old], *others]:
            spoilt = with_passes(path, row, step, [*passes[:i], *new, *passes[i + 1 :]])
            noticed.append(bool(proof_of(spoilt, columns).faults))
    assert len(noticed) == sum(noticed)
    # 27 beads x 3 holes x 2 ways x picked up or not, less the pass itself, and two more.
    assert len(passes_of(path)) * (27 * 12 + 1) == len(noticed)


def test_rows_left_out_or_doubled() -> None:
    """A whole row left out, or worked twice, is noticed wherever it is."""
    path = band(2, 9, ("half tile", "15/0"))
    for i in range(8):
        left_out = (*path.rows[:i], *path.rows[i + 1 :])
        doubled = (*path.rows[: i + 1], *path.rows[i:])
        assert proof_of(replace(path, rows=left_out)).faults
        assert proof_of(replace(path, rows=doubled)).faults
