"""The way back from a mistake: the steps in reverse, each with what comes out and off. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType

from tracker.path.model import Pass, Step
from tracker.path.notes import Note
from tracker.path.words import called, counted, listed
from tracker.pattern.model import Pattern
from tracker.progress.position import Position, back
from tracker.records import record

_UNDONE: Mapping[Note, str] = MappingProxyType(
    {
        "stop-bead-off": "hold the tail again",
        "tail": "take the needle off the tail",
        "knot": "loosen the half-hitch knot with the tip of the needle",
        "trim": "the thread is trimmed: join a new one before you go further back",
        "jump-ring": "open the jump ring and take the finding out",
        "glue": "the ribbon end is glued on and can only be cut off",
        "press": "the ribbon end is pressed shut: open it only if its maker says how",
        "check": "nothing is to be taken back",
    }
)


@record
class Undoing:
    """One step to take back: where it leaves the piece, and what to do."""

    position: Position
    """The place after it: the step that is then to be done again."""
    text: str


def unpick(pattern: Pattern, start: Position, goal: Position) -> Iterator[Undoing]:
    """The steps back from `start` to `goal`, an earlier place, last stitched first."""
    place = start
    while place > goal:
        place = back(pattern, place, "step")
        yield Undoing(place, undo_words(pattern, place))


def undo_words(pattern: Pattern, position: Position) -> str:
    """How the step at `position`, which is done, is taken back."""
    row = pattern.row(position.row)
    return _words(pattern, row.steps[position.step])


def _words(pattern: Pattern, step: Step) -> str:
    if step.note:
        return _UNDONE[step.note]
    said = []
    threads = {under.at for under in step.under}
    # Against the order of the needle: what was done last comes out first.
    backwards = list(enumerate(step.passes))[::-1]

    def stretch(numbered: tuple[int, Pass]) -> tuple[bool, int]:
        i, p = numbered
        return (p.picked_up, sum(i >= at for at in threads))

    for (picked_up, _), run in groupby(backwards, key=stretch):
        numbers, passes = zip(*run, strict=True)
        if picked_up:
            said.append(f"take off {_beads(pattern, passes)}")
        else:
            said += [f"pull the needle back out of {hole}" for hole in _holes(pattern, passes)]
        if numbers[-1] in threads:
            said.append("pull it back from under the thread")
    return "; ".join(said)


def _beads(pattern: Pattern, passes: Sequence[Pass]) -> str:
    names = [_name(pattern, p.bead) for p in passes]
    return listed([counted(len(list(run)), *name) for name, run in groupby(names)])


def _holes(pattern: Pattern, passes: Sequence[Pass]) -> Iterator[str]:
    for hole, run in groupby(passes, key=lambda p: p.hole):
        same = list(run)
        if not hole:
            n = len(same)
            if any(pattern.bead(p.bead).kind == "finding" for p in same):
                yield f"the {pattern.bead(same[0].bead).shape}"
                continue
            if pattern.body == "seed":
                names = [_name(pattern, p.bead) for p in same]
                runs = [counted(len(list(alike)), *name) for name, alike in groupby(names)]
                yield listed([f"the {said.removeprefix('1 ')}" for said in runs])
                continue
            yield "the lone seed" if n == 1 else f"the {n} seeds of the group"
            continue
        for p in same:
            colour, kind = _name(pattern, p.bead)
            yield f"hole {hole} of the {f'{colour} {kind}'.strip()}"


def _name(pattern: Pattern, bead: int) -> tuple[str, str]:
    return called(pattern, pattern.bead(bead))
