"""The words of a step, in two lengths: full for whoever is learning, short for the practised.

    pick up 1 ivory seed and 1 teal tile; go through the lone seed; pass by the full teal tile
    behind it; go through the open hole of the ivory tile standing out

    1 ivory seed, 1 teal tile; lone seed; past the full teal tile; open hole of ivory

Everything that speaks of a step (screen, plain lines, voice, printed rows) takes it from here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Literal

from tracker.path.model import FIRST_END, LEVELLING, SECOND_END, WOVEN, Bead, Pass, Row, Step
from tracker.path.notes import FINDING_CAUTION, NOTES
from tracker.path.wording import Beads, Run, called, counted, listed
from tracker.records import record

__all__ = ["Beads", "Move", "Phrase", "called", "counted", "listed", "phrases", "step_sentence"]

Move = Literal["pick up", "go through", "pass by", "go under", "do"]
"""The move of a phrase; "do" is for what goes through no bead."""


@record
class Phrase:
    """One move of a step. `beads` are those it speaks of, in the order of the needle."""

    move: Move
    text: str
    """What to pick up, go through or pass by, without the verb."""
    beads: tuple[int, ...]
    back: bool = False
    """The needle goes back at the edge."""


def phrases(beads: Beads, row: Row, step: Step, *, full: bool) -> tuple[Phrase, ...]:
    """The moves of a step in the order in which they are made."""
    return tuple(_phrases(beads, row, step, full))


def sentence(parts: tuple[Phrase, ...], *, turn: str, full: bool) -> str:
    """The moves as one sentence, without a full stop; `turn` is what such a step is called."""
    said = []
    for part in parts:
        verb = "" if part.move == "do" else part.move + " "
        if part.back:
            verb = "go back through "
        if not full and not part.back:
            verb = {"pass by": "past ", "go under": "under "}.get(part.move, "")
        said.append(verb + part.text)
    return (f"{turn}: " if turn else "") + "; ".join(said)


def step_sentence(beads: Beads, row: Row, step: Step, *, full: bool) -> str:
    """A whole step as one sentence."""
    turn = beads.wording.turning if step.turn else ""
    return sentence(phrases(beads, row, step, full=full), turn=turn, full=full)


def caution(beads: Beads, step: Step) -> str:
    """What to be careful of in a step, "" for nothing in particular."""
    if step.note:
        return NOTES[step.note].caution
    picked_up = (beads.bead(bead) for bead in step.picked_up())
    return FINDING_CAUTION if any(bead.kind == "finding" for bead in picked_up) else ""


def name_of(beads: Beads, bead: Bead) -> str:
    """A bead as it is called: `ivory seed`, or a finding by its own name."""
    return bead.shape if bead.kind == "finding" else " ".join(called(beads, bead))


def _phrases(beads: Beads, row: Row, step: Step, full: bool) -> Iterator[Phrase]:
    if step.note:
        words = NOTES[step.note]
        yield Phrase("do", words.full if full else words.short, ())
        return
    waiting = step.pass_by
    for run in _runs(beads, row, step):
        first = run.first
        for under in step.under:
            if step.passes[under.at] is first:
                if waiting:
                    yield _pass_by(run, waiting, full)
                    waiting = ()
                yield _under(run, under.beads, full)
        if first.picked_up:
            yield _pick_up(beads, run.passes, full)
            continue
        # What lies in the way is named before the hole that is meant.
        if waiting and _comes_after_passing_by(run):
            yield _pass_by(run, waiting, full)
            waiting = ()
        yield _along(beads, run.passes, full) if is_closing(row) else _through(run, full)
    if waiting:
        yield _pass_by(Run(beads, row, step, step.passes), waiting, full)


def _comes_after_passing_by(run: Run) -> bool:
    """Whether this run is what the needle goes through instead of what it passes by.

    Of moves through tiles and seeds it is the tile's; of seeds alone the first.
    """
    return bool(run.first.hole) or not any(p.hole for p in run.step.gone_through())


def is_closing(row: Row) -> bool:
    """Whether the needle goes along finished work in this row, at one of the two ends."""
    return row.section not in WOVEN and row.section != LEVELLING


def runs_through(beads: Beads, row: Row, step: Step) -> Iterator[list[Pass]]:
    """The passes of a step through beads that are there, in the runs that make one move each."""
    for run in _runs(beads, row, step):
        if not run.first.picked_up:
            yield list(run.passes)


def _runs(beads: Beads, row: Row, step: Step) -> Iterator[Run]:
    """The passes of a step in the runs that make one move each; a thread gone under parts them."""
    parted = {under.at for under in step.under}
    passes: list[Pass] = []
    last: object = None
    for i, p in enumerate(step.passes):
        alike = _alike(Run(beads, row, step, (p,)))
        if passes and (alike is None or alike != last or i in parted):
            yield Run(beads, row, step, tuple(passes))
            passes = []
        passes.append(p)
        last = alike
    if passes:
        yield Run(beads, row, step, tuple(passes))


def _alike(run: Run) -> object:
    p = run.first
    if p.picked_up:
        return "new"
    if not is_closing(run.row):
        common = run.beads.wording.together(run)
        return None if common is None else (common,)
    # Along finished work every hole is a move of its own, seeds next to each other are one.
    if p.hole or run.beads.bead(p.bead).kind != "seed":
        return None
    return (p.up, _in_loop(run.beads, p.bead), *_name(run.beads, p.bead))


def _in_loop(beads: Beads, bead: int) -> bool:
    return beads.section_of(bead) in (FIRST_END, SECOND_END)


def _name(beads: Beads, bead: int) -> tuple[str, str]:
    return called(beads, beads.bead(bead))


def _pick_up(beads: Beads, passes: Sequence[Pass], full: bool) -> Phrase:
    parts = []
    for name, run in groupby(passes, key=lambda p: _name(beads, p.bead)):
        same = list(run)
        parts.append(counted(len(same), *name))
        if full and beads.bead(same[0].bead).kind == "finding" and same[0].hole:
            parts[-1] += f" by one {_part(name[1])}"
    text = listed(parts) if full else ", ".join(parts)
    return Phrase("pick up", text, tuple(p.bead for p in passes))


def _under(run: Run, between: tuple[int, int], full: bool) -> Phrase:
    return Phrase("go under", run.beads.wording.under(run, between, full=full), between)


def _pass_by(run: Run, passed: tuple[int, ...], full: bool) -> Phrase:
    return Phrase("pass by", run.beads.wording.pass_by(run, passed, full=full), passed)


def _through(run: Run, full: bool) -> Phrase:
    text = run.beads.wording.through(run, full=full)
    back = run.step.turn and run.new and run.first.up != (run.row.heading == "up")
    back = (back and run.beads.wording.turns_back) or _straight_back(run)
    return Phrase("go through", text, tuple(p.bead for p in run.passes), back=back)


def _straight_back(run: Run) -> bool:
    """Whether the needle goes back through the bead that it came out of, having gone under."""
    passes = run.step.passes
    return any(
        passes[under.at] is run.first and under.at and passes[under.at - 1].bead == run.first.bead
        for under in run.step.under
    )


def _along(beads: Beads, same: Sequence[Pass], full: bool) -> Phrase:
    """A run along finished work: seeds of one colour, or one hole, and which way."""
    first = same[0]
    found = beads.bead(first.bead)
    way = "upwards" if first.up else "downwards"
    colour, kind = called(beads, found)
    if found.kind == "finding":
        text = _finding_again(found, first, full)
    elif found.kind == "seed":
        way = "of the loop" if _in_loop(beads, first.bead) else way
        text = f"{counted(len(same), colour, kind)} {way}"
    elif full:
        text = f"hole {first.hole} of the {colour} {kind} {way}"
    else:
        text = f"hole {first.hole} of {colour} {way}"
    return Phrase("go through", text, tuple(p.bead for p in same))


def _finding_again(found: Bead, p: Pass, full: bool) -> str:
    """A finding that hangs on the thread already."""
    if not p.hole:
        return f"the {found.shape}" if full else found.shape
    which = "the other" if p.hole == "b" else "one"
    part = f"{which} {_part(found.shape)}"
    return f"{part} of the {found.shape}" if full else part


def _part(finding: str) -> str:
    """What the two ways through a finding are called."""
    return "leg" if finding == "wire guard" else "hole"
