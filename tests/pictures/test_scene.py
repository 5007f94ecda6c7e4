"""What lies where before each move, and what the move is to go through."""

import pytest
from sealing import compiled
from weaving import beads_of, lone_seed_of, tile_of

from tracker.path.model import Hole, Pass
from tracker.path.plane import Mouths
from tracker.pattern.model import Pattern
from tracker.pictures.scene import Drawn, Scene, scene_at

ALL = 99
"""More rows than there are."""


@pytest.fixture(scope="module")
def band() -> Pattern:
    """Three columns, nine rows."""
    return compiled(3, 9).pattern


def drawn(scene: Scene, bead: int) -> Drawn:
    """A bead of the scene."""
    return next(d for d in scene.beads if d.bead.id == bead)


def targets(scene: Scene) -> list[tuple[int, int, Hole]]:
    """Order, bead and hole of each target."""
    return [(target.order, target.bead.id, target.hole) for target in scene.targets]


def places(band: Pattern) -> list[tuple[int, int]]:
    """Row and step of every move, from 0, in order."""
    return [(row, i) for row in range(band.row_count) for i in range(band.steps_in(row))]


def test_before_the_first_move(band: Pattern) -> None:
    """Nothing lies there but the beads that the first move picks up."""
    scene = scene_at(band, 0, 0, back=ALL)
    assert [(0, True), (1, True), (2, True), (3, True)] == [(d.bead.id, d.new) for d in scene.beads]
    assert () == scene.targets
    assert () == scene.thread
    assert 8 == len(scene.way)


def test_move_of_an_up_row(band: Pattern) -> None:
    """Row 5, column 1: through the lone seed, past the full tile, into the tile standing out."""
    path = band.path()
    scene = scene_at(band, 4, 0, back=ALL)
    lone, out = lone_seed_of(path, 4, 1), tile_of(path, 4, 2)
    behind = tile_of(path, 3, 1)
    assert [(1, lone, ""), (2, out, "b")] == targets(scene)
    assert {behind} == scene.pass_by
    assert {"a", "b"} == drawn(scene, behind).filled
    assert {"a"} == drawn(scene, out).filled
    assert {""} == drawn(scene, lone).filled
    new = {d.bead.id for d in scene.beads if d.new}
    assert {lone_seed_of(path, 5, 1), tile_of(path, 5, 1)} == new
    assert all(not d.filled for d in scene.beads if d.new)


def test_group_of_seeds_is_one_target(band: Pattern) -> None:
    """The return goes through three seeds as one: the middle one bears the number."""
    scene = scene_at(band, 1, 0, back=ALL)
    path = band.path()
    # Group S3 stands before the third tile, beads 8, 9 and 10.
    assert [(1, 9, ""), (2, tile_of(path, 1, 2), "b")] == targets(scene)


def test_turn_goes_back_through_the_tile_just_added(band: Pattern) -> None:
    """At the turn the only target is hole b of the row's last tile, which is there already."""
    path = band.path()
    last = tile_of(path, 5, 3)
    scene = scene_at(band, 4, 3, back=ALL)
    assert [(1, last, "b")] == targets(scene)
    assert not drawn(scene, last).new
    assert {"a"} == drawn(scene, last).filled
    assert 2 == sum(d.new for d in scene.beads)


def test_every_scene_shows_the_work_so_far(band: Pattern) -> None:
    """Before each move the holes filled are those that the needle has been in, and no others."""
    made: list[Pass] = []
    for row, i in places(band):
        scene = scene_at(band, row, i, back=ALL)
        filled = {(d.bead.id, hole) for d in scene.beads for hole in d.filled}
        assert {(p.bead, p.hole) for p in made} == filled
        step = band.row(row).steps[i]
        assert set(step.picked_up()) == {d.bead.id for d in scene.beads if d.new}
        assert frozenset(step.pass_by) == scene.pass_by
        assert list(range(1, len(scene.targets) + 1)) == [t.order for t in scene.targets]
        through = [p.bead for p in step.gone_through()]
        assert [t.bead.id for t in scene.targets] == [
            bead for bead in through if bead in {t.bead.id for t in scene.targets}
        ]
        assert bool(through) == bool(scene.targets)
        made += step.passes


def test_way_goes_on_from_the_thread(band: Pattern) -> None:
    """The way of a move begins where the thread comes out, and the thread then ends there."""
    before: tuple[float, float] | None = None
    for row, i in places(band):
        scene = scene_at(band, row, i, back=ALL)
        if before is not None:
            assert before == scene.thread[-1] == scene.way[0]
        before = scene.way[-1]


def test_targets_lie_in_the_middle_of_their_holes(band: Pattern) -> None:
    """A target's centre is half-way between the two mouths of its hole."""
    mouths = Mouths(band.path().shapes)
    for row, i in places(band):
        for target in scene_at(band, row, i, back=ALL).targets:
            x1, y1, x2, y2 = mouths.ends(target.bead, target.hole, up=True)
            assert pytest.approx(((x1 + x2) / 2, (y1 + y2) / 2)) == target.centre


def test_two_rows_back_hold_every_target(band: Pattern) -> None:
    """With two rows of earlier work no target and nothing to pass by is out of the scene."""
    for row, i in places(band):
        near, far = (scene_at(band, row, i, back=back) for back in (2, ALL))
        assert targets(far) == targets(near)
        assert far.pass_by <= {d.bead.id for d in near.beads}


def test_whole_row_is_its_moves_together(band: Pattern) -> None:
    """Row by row, the targets of a row are those of its steps, numbered on."""
    for row in range(band.row_count):
        steps = [scene_at(band, row, i, back=ALL) for i in range(band.steps_in(row))]
        whole = scene_at(band, row, 0, back=ALL, whole_row=True)
        each = [(t.bead.id, t.hole) for scene in steps for t in scene.targets]
        assert each == [(t.bead.id, t.hole) for t in whole.targets]
        assert whole.pass_by == frozenset().union(*(scene.pass_by for scene in steps))
        assert {bead.id for bead in band.row(row).beads} == {
            d.bead.id for d in whole.beads if d.new
        }


def test_finished_work(band: Pattern) -> None:
    """When all is done there is no move, and the tiles of the last row stand open."""
    path = band.path()
    scene = scene_at(band, band.row_count, 0, back=ALL)
    assert () == scene.targets
    assert len(beads_of(path)) == len(scene.beads)
    still_open = {d.bead.id for d in scene.beads if d.bead.kind == "tile" and "b" not in d.filled}
    assert {tile_of(path, 9, 1), tile_of(path, 9, 2)} == still_open
    assert scene.way == scene.thread[-1:]
