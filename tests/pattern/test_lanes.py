"""Lanes: row by row where a row fills them all, by the heights of the first rows else."""

from pathlib import Path

import pytest

from tracker.loading import compile_text
from tracker.path.plane import side_of
from tracker.pattern.lanes import Lanes
from tracker.pattern.model import Pattern
from tracker.pattern.reader import read_pattern
from tracker.pattern.standing import standing
from tracker.progress.finding import Search, look_alikes, sights
from tracker.progress.position import Position

PATTERNS = Path(__file__).parents[2] / "patterns"


def of(stitch: str, beads: str, layout: str) -> Pattern:
    """A band of that stitch."""
    colours = (
        '[colours]\nA = { name = "lagoon", hex = "#2a7f8e" }\n'
        'B = { name = "sand", hex = "#e8dcc0" }\n'
    )
    head = f'format = 1\nname = "Harbour lights"\nstitch = "{stitch}"\n'
    return compile_text(f"{head}{beads}\n{colours}[layout]\n{layout}\n").pattern


BRICK = of("brick stitch", 'lanes = 3\nsize.rows = 6\nbeads.seed = "11/0"', 'rows = "AB"')
LEAF = of("brick stitch", 'beads.seed = "11/0"', 'shape = """\n A A\nA B A\n A A\n  B\n"""')
WALL = of("two-hole brick", 'lanes = 3\nsize.rows = 6\nbeads.tile = "half tile"', 'rows = "AB"')


@pytest.mark.parametrize("pattern", [BRICK, LEAF, WALL])
def test_rows_that_fill_their_lanes(pattern: Pattern) -> None:
    """The beads of each row lie in lanes 1, 2 ... in the order of their heights."""
    lanes = Lanes(pattern)
    for r in range(pattern.row_count):
        row = pattern.row(r)
        upwards = sorted(row.beads, key=lambda bead: bead.place.y)
        assert list(range(1, len(row.beads) + 1)) == [lanes.of(bead, row) for bead in upwards]


def test_rows_that_share_their_lanes() -> None:
    """Two-hole herringbone: tiles of odd rows in lanes 2 and 4, of even rows in 1 and 3."""
    pattern = read_pattern(PATTERNS / "night-watch.pattern.toml")
    lanes = Lanes(pattern)
    for r in range(8):
        row = pattern.row(r)
        found = {lanes.of(bead, row) for bead in row.beads if bead.kind == "tile"}
        assert ({1, 3} if r % 2 else {2, 4}) == found


@pytest.mark.parametrize(
    ("tilt", "up", "side"),
    [
        (0.0, True, "upper"),
        (0.0, False, "lower"),
        (45.0, True, "upper"),
        (-45.0, False, "lower"),
        (-90.0, True, "right"),
        (-90.0, False, "left"),
        (90.0, True, "left"),
        (90.0, False, "right"),
        (180.0, True, "lower"),
    ],
)
def test_where_the_thread_comes_out(tilt: float, up: bool, side: str) -> None:
    """An upward pass leaves towards (-sin tilt, cos tilt): across, or along the band."""
    assert side == side_of(tilt, up=up)


def test_the_thread_of_a_brick_comes_out_ahead() -> None:
    """At the end of each row it leaves the last bead the way the band grows."""
    for pattern in (BRICK, WALL):
        for row in range(1, pattern.row_count + 1):
            assert "at its right end." in standing(pattern, row, 0)[0]


@pytest.mark.parametrize("pattern", [BRICK, LEAF, WALL])
def test_the_place_is_found(pattern: Pattern) -> None:
    """From each place truthful answers lead to it, or to it and the places that look the same."""
    seen = sights(pattern)
    alike = {place: group for group in look_alikes(seen) for place in group}
    for place, sight in seen.items():
        search = Search(seen, body=pattern.body)
        while len(search.candidates) > 1 and (question := search.question()) is not None:
            assert "{" not in search.words(question)
            search = search.answered(question, str(getattr(sight, question.field)))
        assert search.places() == alike.get(place, (place,))


def test_the_way_is_asked_as_beads_lie() -> None:
    """Along the band the thread leaves to the right or the left, not to an edge."""
    seen = sights(BRICK)
    assert {"none", "right", "left"} >= {sight.thread_way for sight in seen.values()}
    assert (0, 3) == (seen[Position(0, 0)].upper, seen[Position(3, 0)].upper)
