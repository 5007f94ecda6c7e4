"""The design changed under a piece: what is the same, checked pass by pass."""

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import NOON, after
from weaving import COLOURS, a_design

from tracker.design.model import Colour, Layout, Thread
from tracker.pattern.compiler import compile_design
from tracker.pattern.model import Pattern
from tracker.progress.moving import Differs, Same, carried, compare, compare_words
from tracker.progress.position import START, Position, back, end, exists
from tracker.progress.state import (
    Event,
    Joined,
    Length,
    Lost,
    Measured,
    Moved,
    OnHand,
    Progress,
    Snapshot,
    apply,
)
from tracker.progress.stock import watched


@cache
def band(stripes: str, rows: int = 12, colours: tuple[Colour, ...] = COLOURS) -> Pattern:
    """A two-column band in crosswise stripes."""
    layout = Layout(seeds="S", kind="rows", lines=tuple(stripes))
    return compile_design(replace(a_design(2, rows, layout=layout), colours=colours)).pattern


OLD = band("AABB")
PLACES = [
    *(Position(r, s) for r in range(OLD.row_count) for s in range(OLD.steps_in(r))),
    end(OLD),
]


def stitched(pattern: Pattern, position: Position) -> list[object]:
    """All that was done before a place: each pass with what it picks up, by kind and colour."""
    done: list[object] = []
    for r in range(min(position.row + 1, pattern.row_count)):
        row = pattern.row(r)
        for step in row.steps[: None if r < position.row else position.step]:
            for p in step.passes:
                bead = row.beads[p.bead - row.beads[0].id] if p.picked_up else None
                name = bead and (bead.kind, pattern.colour(bead.colour).name)
                done.append((p, name))
    return done


@given(
    st.text("AB", min_size=1, max_size=12),
    st.integers(2, 14),
    st.sampled_from(PLACES),
)
@settings(max_examples=150, deadline=None)
def test_same_means_the_same_in_every_pass(stripes: str, rows: int, place: Position) -> None:
    """The piece goes on just where all that is stitched is in the new pattern as well."""
    new = band(stripes, rows)
    found = compare(OLD, new, place)
    same = exists(new, place) and stitched(OLD, place) == stitched(new, place)
    assert same == isinstance(found, Same)
    if isinstance(found, Differs):
        goal = found.goal
        assert isinstance(compare(OLD, new, goal), Same)
        assert stitched(OLD, goal) == stitched(new, goal)
        steps = 0
        while place > goal:
            place = back(OLD, place, "step")
            steps += 1
        assert steps == found.steps_to_unpick
        assert found.row == goal.row


def test_a_longer_band() -> None:
    """Every row of 12 is in a band of 16 in the same stripes, even at the end."""
    assert Same(12) == compare(OLD, band("AABB", 16), end(OLD))


def test_a_shorter_band() -> None:
    """A band of 8 rows has no ninth: from the middle of the tenth, rows 9 and 10 come out."""
    new = band("AABB", 8)
    assert Same(8) == compare(OLD, new, Position(8, 0))
    found = compare(OLD, new, Position(9, 1))
    assert Differs(8, Position(8, 0), OLD.steps_in(8) + 1) == found
    assert (
        "the changed pattern differs from row 9, step 1 on; to go on with it, unpick 4 steps back "
        "to there" == compare_words(found, Position(9, 1))
    )


def test_another_stripe_later_on() -> None:
    """AABB and AABA part in row 4; before it the piece goes on, in it the first step is wrong."""
    new = band("AABA")
    assert Same(3) == compare(OLD, new, Position(2, 2))
    assert Same(3) == compare(OLD, new, Position(3, 0))
    found = compare(OLD, new, Position(3, 1))
    assert Differs(3, Position(3, 0), 1) == found
    assert compare_words(found, Position(3, 1)).endswith("unpick 1 step back to there")


def test_colours_are_known_by_name() -> None:
    """Other letters and screen colours change nothing; another name is another bead."""
    letters = (
        Colour("B", "lagoon", "#000000"),
        Colour("A", "Sand", "#ffffff"),
        Colour("S", "smoke", "#6b6f76"),
    )
    assert Same(12) == compare(OLD, band("BBAA", colours=letters), end(OLD))
    renamed = (Colour("A", "reef", COLOURS[0].hex), *COLOURS[1:])
    found = compare(OLD, band("AABB", colours=renamed), end(OLD))
    assert isinstance(found, Differs)
    assert START == found.goal


def test_a_bead_measured_meanwhile_is_the_same_bead() -> None:
    """The hole spacing is measured when the beads are there; other seeds are other seeds."""
    layout = Layout(seeds="S", kind="rows", lines=tuple("AABB"))
    design = a_design(2, 12, layout=layout)
    measured = compile_design(a_design(2, 12, layout=layout, spacing=3.1)).pattern
    assert "half tile, measured" == measured.shapes["t"].name
    assert Same(12) == compare(OLD, measured, end(OLD))
    thicker = replace(design.seed, name="another", diameter=1.45)
    other = compile_design(replace(design, seed=thicker)).pattern
    assert isinstance(compare(OLD, other, Position(0, 1)), Differs)


def test_other_thread_and_size_change_no_row() -> None:
    """What is cut, and what length was asked for, are no part of what is stitched."""
    thread = Thread(diameter=0.12, length=900.0, tail=200.0)
    layout = Layout(seeds="S", kind="rows", lines=tuple("AABB"))
    by_length = compile_design(a_design(2, length=40.0, layout=layout, thread=thread)).pattern
    assert isinstance(compare(OLD, by_length, end(OLD)), Same)


def test_nothing_is_stitched() -> None:
    """Then any pattern will do."""
    found = compare(OLD, band("BA"), START)
    assert Same(0) == found
    assert "nothing is stitched yet: the piece begins with the changed pattern" == compare_words(
        found, START
    )
    assert compare_words(Same(3), Position(2, 1)).startswith("all that is stitched is the same")


def events(*events: Event) -> Progress:
    """The progress of a piece of the old pattern after these events."""
    progress = Progress(started=NOON)
    for event in events:
        progress = apply(OLD, progress, event)
    return progress


def test_what_is_carried_over() -> None:
    """Place, measurements, threads, beads lost and on hand, by the letters of the new pattern."""
    letters = (
        Colour("C", "lagoon", "#000000"),
        Colour("D", "sand", "#ffffff"),
        Colour("S", "smoke", "#6b6f76"),
    )
    new = band("CCDD", 16, colours=letters)
    progress = events(
        OnHand(NOON, "tA", 30),
        OnHand(NOON, "tB", 40),
        Moved(after(1), Position(5, 1)),
        Measured(after(2), Length(5, 15.0)),
        Joined(after(3), Length(5, 1500.0)),
        Lost(after(4), "tA", 2),
    )
    moved = carried(OLD, new, progress)
    assert progress.position == moved.position
    assert (progress.measured, progress.cuts) == (moved.measured, moved.cuts)
    assert (("tC", 2),) == moved.lost
    before = {
        kind.key[0] + "AB"["CD".index(c)]: kind.on_hand
        for kind in watched(new, moved)
        for c in kind.key[1]
    }
    assert before == {kind.key: kind.on_hand for kind in watched(OLD, progress)}
    # A journal of the new pattern takes it.
    assert moved == apply(new, progress, Snapshot(after(5), moved))


def test_what_the_new_pattern_has_no_place_for() -> None:
    """After unpicking, what was noted in rows that are no more, and kinds that are no more, go."""
    progress = events(
        Moved(NOON, Position(11, 0)),
        OnHand(after(1), "tA", 8),
        OnHand(after(1), "tB", 8),
        Lost(after(1), "tB", 1),
        Measured(after(2), Length(11, 30.0)),
        Joined(after(2), Length(11, 1500.0)),
        Moved(after(3), Position(2, 0)),
    )
    new = band("A", 6)
    moved = carried(OLD, new, progress)
    assert ((), (), ()) == (moved.measured, moved.cuts, moved.lost)
    assert {"tA"} == {counted.key for counted in moved.on_hand}
    assert exists(new, moved.timing.furthest)
    # From row 12 back to row 3: 4 rows of A, 2 tiles each, came off and are on hand again.
    assert [8 + 8] == [kind.on_hand for kind in watched(new, moved)]


@pytest.mark.parametrize("place", PLACES)
def test_carried_over_to_itself(place: Position) -> None:
    """In the same pattern the place stays, and every count of beads is what it was."""
    progress = events(OnHand(NOON, "tA", 30), Moved(after(1), place))
    moved = carried(OLD, OLD, progress)
    assert place == moved.position
    assert watched(OLD, progress) == watched(OLD, moved)
