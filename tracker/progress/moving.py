"""The design changed under a piece: whether what is stitched still holds, and what goes on. Pure.

Two patterns agree as far as their rows ask for the same beads and the same moves. A colour is
known by its name and a bead by its own, whatever letters the designs give them; a bead of the
trade that was measured meanwhile is still the same bead.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import zip_longest

from tracker.beads.model import Shape
from tracker.pattern.model import Pattern
from tracker.pattern.notation import PICKED_UP
from tracker.progress.position import Position
from tracker.progress.state import Count, Progress
from tracker.progress.stock import picked_up_before
from tracker.records import record

_MEASURED = ", measured"
"""Behind the name of a bead of the trade whose measures are the beader's own."""


@record
class Same:
    """All that is stitched is the same; so are this many rows from the first one on."""

    rows: int


@record
class Differs:
    """Something stitched is not in the new pattern, or not so."""

    row: int
    """The first row that differs, from 0."""
    goal: Position
    """The place to unpick to; from there the new pattern goes on."""
    steps_to_unpick: int


def compare(old: Pattern, new: Pattern, position: Position) -> Same | Differs:
    """How far the piece at `position` of `old` can be taken over by `new`."""
    parting = _parting(old, new)
    if position <= parting:
        return Same(parting.row)
    steps = sum(old.steps_in(row) for row in range(parting.row, position.row))
    return Differs(parting.row, parting, steps - parting.step + position.step)


def compare_words(found: Same | Differs, position: Position) -> str:
    """What was found, in a sentence or two; rows and steps as people count them."""
    if isinstance(found, Same):
        if not position.row and not position.step:
            return "nothing is stitched yet: the piece begins with the changed pattern"
        return "all that is stitched is the same: the piece goes on with the changed pattern"
    goal, n = found.goal, found.steps_to_unpick
    return (
        f"the changed pattern differs from row {goal.row + 1}, step {goal.step + 1} on; to go on "
        f"with it, unpick {n} step{'' if n == 1 else 's'} back to there"
    )


def carried(old: Pattern, new: Pattern, progress: Progress) -> Progress:
    """The progress in `old` as one in `new`, which agrees with all that is stitched.

    Beads of a kind that the new pattern has not are no longer counted; nor are measurements and
    threads taken beyond its end, in rows that were unpicked since.
    """
    key_of = _keys(old, new)
    now = picked_up_before(old, progress.position)
    on_hand = []
    for count in progress.on_hand:
        if count.key in key_of:
            # Where it was counted may be a place of the old pattern only: count it anew, here.
            then = picked_up_before(old, count.position)
            beads = max(0, count.beads - (now[count.key] - then[count.key]))
            on_hand.append(Count(key_of[count.key], beads, progress.position))
    return replace(
        progress,
        measured=tuple(length for length in progress.measured if length.rows <= new.row_count),
        cuts=tuple(length for length in progress.cuts if length.rows <= new.row_count),
        lost=tuple(sorted((key_of[key], n) for key, n in progress.lost if key in key_of)),
        on_hand=tuple(sorted(on_hand)),
        timing=replace(
            progress.timing,
            row_started=None,
            furthest=min(progress.timing.furthest, progress.position),
        ),
    )


def _parting(old: Pattern, new: Pattern) -> Position:
    """The first place, one of both patterns, behind which they are not the same."""
    meanings = [_meanings(pattern) for pattern in (old, new)]
    rows = min(old.row_count, new.row_count)
    for row in range(rows):
        ours, theirs = (
            _steps(pattern.lines[row], meaning)
            for pattern, meaning in zip((old, new), meanings, strict=True)
        )
        if ours != theirs:
            pairs = enumerate(zip_longest(ours, theirs))
            step = next(i for i, (one, other) in pairs if one != other)
            return Position(row, min(step, len(ours) - 1, len(theirs) - 1))
    return Position(rows, 0)


def _steps(line: str, meanings: Mapping[str, str]) -> list[str]:
    """What a row asks for, a step each; in all of them stands which way the row goes."""
    head, _, moves = line.partition(": ")
    heading = head.split(" ")[1]
    meant = PICKED_UP.sub(lambda key: meanings[key[0]], moves)
    return [f"{heading} {step}" for step in meant.split(" | ")]


def _meanings(pattern: Pattern) -> dict[str, str]:
    """What each kind of bead is, by its letters in the rows."""
    return {
        letter + colour.letter: f"[{_known_as(shape)}; {colour.name.casefold()}]"
        for letter, shape in pattern.shapes.items()
        for colour in pattern.colours
    }


def _known_as(shape: Shape) -> str:
    return f"{shape.kind} {shape.name.removesuffix(_MEASURED)}"


def _keys(old: Pattern, new: Pattern) -> dict[str, str]:
    """The new letters of each kind of bead, by its old ones, where both patterns have it."""
    by_meaning = {meaning: key for key, meaning in _meanings(new).items() if key in new.totals}
    return {
        key: by_meaning[meaning] for key, meaning in _meanings(old).items() if meaning in by_meaning
    }
