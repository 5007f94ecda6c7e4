"""Rows told by hand, carried out: names become beads, repeats become rows and steps.

What comes out knows nothing of names: every pass with the number of its bead. Whether the thread
path is sound is for the proof to say; here it is only found out what the words mean.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from tracker.design.written_model import (
    Called,
    GoUnder,
    Open,
    Part,
    PassBy,
    PickUp,
    Repeat,
    SpeltRow,
    SpeltStep,
    Spot,
    Through,
    problem_at,
)
from tracker.path.model import Heading, Pass, Under
from tracker.problems import Problem, ProblemsError, nearest
from tracker.records import record

MOST_BEADS, MOST_PASSES, MOST_ROWS = 10_000, 100_000, 5_000
"""What rows by hand may come to."""
_MOST_PROBLEMS = 20


@record
class ToldStep:
    """One movement, and where it is written."""

    spot: Spot
    passes: tuple[Pass, ...]
    turn: bool
    pass_by: tuple[int, ...]
    under: tuple[Under, ...]
    names: tuple[str, ...]
    """What the bead of each pass is called there, "" if nothing."""


@dataclass(slots=True)
class ToldRow:
    """A row: its steps."""

    section: str
    heading: Heading
    steps: list[ToldStep] = field(default_factory=list)


@record
class Told:
    """All that the words say. Beads by number: kind and colour's letter."""

    rows: tuple[ToldRow, ...]
    beads: tuple[tuple[str, str], ...]
    open: frozenset[int]


def told(parts: Sequence[Part], kinds: Sequence[str]) -> Told:
    """What the words mean, in a design with beads of these kinds (seed, tile).

    Raises ProblemsError, each problem with its line and column.
    """
    telling = _Telling(tuple(kinds))
    try:
        telling.all(parts)
    except _StopError as stop:
        telling.problems.append(stop.problem)
    for row in telling.rows:
        if not row.steps and not telling.problems:
            spot = next(part.spot for part in _rows_in(parts))
            telling.problems.append(problem_at(spot, "a row has no steps", "write its steps"))
    if telling.problems:
        raise ProblemsError(telling.problems)
    return Told(tuple(telling.rows), tuple(telling.beads), frozenset(telling.open))


def _rows_in(parts: Sequence[Part]) -> Iterator[SpeltRow]:
    for part in parts:
        if isinstance(part, SpeltRow):
            yield part
        elif isinstance(part, Repeat):
            yield from _rows_in(part.parts)


class _StopError(Exception):
    """More than goes, or more slips than anybody wants to read at once."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


@dataclass
class _Telling:
    kinds: tuple[str, ...]
    rows: list[ToldRow] = field(default_factory=list)
    beads: list[tuple[str, str]] = field(default_factory=list)
    open: set[int] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    named: dict[str, dict[int, list[int]]] = field(default_factory=dict)
    """By name and number the beads that bore them, the present one last."""
    names: dict[int, str] = field(default_factory=dict)
    """What each bead was called when it was picked up."""
    picked_up_upwards: list[bool] = field(default_factory=list)
    counters: dict[str, int] = field(default_factory=dict)
    passes: int = 0

    def all(self, parts: Sequence[Part]) -> None:
        """Carry parts out, one after the other."""
        for part in parts:
            if isinstance(part, SpeltRow):
                if len(self.rows) == MOST_ROWS:
                    raise _StopError(_too_much(part.spot, f"over {MOST_ROWS} rows"))
                self.rows.append(ToldRow(part.section, part.heading))
                self.all(part.parts)
            elif isinstance(part, Repeat):
                self._repeat(part)
            elif isinstance(part, Open):
                self._leave_open(part)
            else:
                self._step(part)

    def _repeat(self, repeat: Repeat) -> None:
        times = self._number(repeat.times, repeat.spot)
        if times is None:
            return
        if not 0 <= times <= MOST_ROWS:
            what = f"{times} times is out of range"
            self._slip(repeat.spot, what, f"write a number up to {MOST_ROWS}")
            return
        for n in range(1, times + 1):
            if repeat.counter:
                self.counters[repeat.counter] = n
            self.all(repeat.parts)
        self.counters.pop(repeat.counter, None)

    def _step(self, step: SpeltStep) -> None:
        row = self.rows[-1]
        made: list[Pass] = []
        names: list[str] = []
        pass_by: list[int] = []
        under: list[Under] = []
        up = row.heading == "up"
        for move in step.moves:
            if isinstance(move, PickUp):
                made += self._pick_up(move, up=up)
            elif isinstance(move, Through):
                made += self._through(move, up=up != move.back)
            elif isinstance(move, PassBy):
                pass_by += self._beads(move.what)
            elif isinstance(move, GoUnder):
                under += self._under(move, len(made))
            names += [self.names.get(p.bead, "") for p in made[len(names) :]]
        if under and under[-1].at == len(made):
            what = "the needle goes under a thread and through nothing after it"
            self._slip(step.spot, what, "write what it goes through next")
        if not made:
            if not self.problems:
                mend = "pick something up or go through something"
                self._slip(step.spot, "the step goes through no bead", mend)
            return
        self.passes += len(made)
        if self.passes > MOST_PASSES or len(self.beads) > MOST_BEADS:
            what = f"over {MOST_BEADS:,} beads or {MOST_PASSES:,} passes"
            raise _StopError(_too_much(step.spot, what))
        row.steps.append(
            ToldStep(step.spot, tuple(made), step.turn, tuple(pass_by), tuple(under), tuple(names))
        )

    def _pick_up(self, move: PickUp, *, up: bool) -> list[Pass]:
        kind = move.kind or (self.kinds[0] if len(self.kinds) == 1 else "")
        if kind not in self.kinds:
            if not kind:
                what, mend = "it is not said whether seeds or tiles", "write seed or tile"
            else:
                what, mend = f"the design has no {kind}", f"add beads.{kind}, or take it out"
            self._slip(move.spot, what, mend)
            kind = self.kinds[0]
        first = len(self.beads)
        numbers = list(range(first, first + move.number))
        self.beads += [(kind, move.colour)] * move.number
        self.picked_up_upwards += [up] * move.number
        if move.called is not None:
            index = 1
            if move.called.index is not None:
                index = self._number(move.called.index, move.called.spot) or 0
            bearers = self.named.setdefault(move.called.name, {})
            for n, bead in enumerate(numbers, start=index):
                bearers.setdefault(n, []).append(bead)
                several = move.number > 1 or move.called.index is not None
                self.names[bead] = f"{move.called.name} {n}" if several else move.called.name
        hole = "a" if kind == "tile" else ""
        return [Pass(bead, "a" if hole else "", up, picked_up=True) for bead in numbers]

    def _through(self, move: Through, *, up: bool) -> list[Pass]:
        beads = self._beads(move.what)
        if beads and self.picked_up_upwards[beads[0]] != up:
            beads = beads[::-1]
        for bead in beads:
            tile = self.beads[bead][0] == "tile"
            if tile and not move.hole:
                what = f"{move.what.name} is a tile and has two holes"
                self._slip(move.spot, what, f"write hole a of {move.what.name}, or hole b")
            elif move.hole and not tile:
                what = f"{move.what.name} is a seed and has one hole"
                self._slip(move.spot, what, f"write {move.what.name} alone")
            else:
                continue
            return []
        return [Pass(bead, move.hole, up, picked_up=False) for bead in beads]

    def _under(self, move: GoUnder, at: int) -> list[Under]:
        one, other = (self._one(called) for called in (move.one, move.other))
        return [] if one is None or other is None else [Under(at, (one, other))]

    def _leave_open(self, part: Open) -> None:
        for bead in self._beads(part.what):
            if self.beads[bead][0] != "tile":
                what = f"{part.what.name} is a seed, which no row leaves open"
                self._slip(part.spot, what, "take the line out")
                return
            self.open.add(bead)

    # --- names --------------------------------------------------------------------------------

    def _one(self, called: Called) -> int | None:
        beads = self._beads(called)
        if len(beads) > 1:
            what = f"{called.name} is {len(beads)} beads, one is meant"
            self._slip(called.spot, what, f"write its number, {called.name} 1")
            return None
        return beads[0] if beads else None

    def _beads(self, called: Called) -> list[int]:
        """The beads of a name in the order of their numbers; none if it is a slip."""
        bearers = self.named.get(called.name)
        if bearers is None:
            meant = nearest(called.name, self.named)
            mend = f"did you mean {meant}?" if meant else "name a bead when it is picked up: called"
            self._slip(called.spot, f"no bead is called {called.name} yet", mend)
            return []
        if called.index is None:
            numbers = sorted(bearers)
        else:
            number = self._number(called.index, called.spot)
            if number is None:
                return []
            if number not in bearers:
                low, high = min(bearers), max(bearers)
                mend = f"they go from {low} to {high}" if low < high else f"there is {low} only"
                self._slip(called.spot, f"there is no {called.name} {number}", mend)
                return []
            numbers = [number]
        back = 2 if called.old else 1
        if any(len(bearers[n]) < back for n in numbers):
            what = f"there is no old {called.name}: the name was given once"
            self._slip(called.spot, what, "leave old out")
            return []
        return [bearers[n][-back] for n in numbers]

    def _number(self, index: object, spot: Spot) -> int | None:
        try:
            return index.value(self.counters)  # type: ignore[attr-defined,no-any-return]
        except KeyError as error:
            what = f"{error.args[0]} counts no repeat around it"
            self._slip(spot, what, f"write `repeat ... times as {error.args[0]}:`")
            return None

    def _slip(self, spot: Spot, what: str, mend: str) -> None:
        problem = problem_at(spot, what, mend)
        # A slip in a repeat is one slip.
        if problem not in self.problems:
            self.problems.append(problem)
        if len(self.problems) == _MOST_PROBLEMS:
            raise _StopError(problem_at(spot, "there may be more", "mend these first"))


def _too_much(spot: Spot, what: str) -> Problem:
    return problem_at(spot, f"it comes to {what}", "write fewer, or in several pieces")
