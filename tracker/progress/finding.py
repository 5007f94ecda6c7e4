"""Find the place in a piece from what a person can see: a few questions, chosen to tell most.

Every place of the pattern is a candidate. Each question sorts the candidates by the answer that
they would give; the one asked next is the one whose answer is expected to tell most (the largest
entropy, in bits; Shannon 1948). "Don't know" is an answer like any other: it rules nothing out.
Pure.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from tracker.path.model import Bead, Pass
from tracker.path.plane import side_of
from tracker.pattern.lanes import Lanes, lane_at
from tracker.pattern.model import Pattern
from tracker.progress.position import Position
from tracker.records import record


class Sight(NamedTuple):
    """What there is to see at a place. Fields are in the order of `QUESTIONS`."""

    upper: int
    lower: int
    open: int
    lane: int
    last_colour: str
    thread_kind: str
    thread_colour: str
    thread_way: str


@record
class Question:
    """Something to look at: the field of `Sight` that answers it, and the words."""

    field: str
    text: str
    on_tube: str = ""
    """The words for a tube, which has no edges; "" for the same ones."""


QUESTIONS = (
    Question(
        "upper",
        "How many {body}s stand along the upper edge? (the tail is on the left)",
        "How many {body}s lie in the line along the tube that ends with the one added last?",
    ),
    Question(
        "lower",
        "How many {body}s stand along the lower edge?",
        "How many {body}s of this round have been added? (0 once it is stepped up)",
    ),
    Question("open", "How many tiles stand with one hole still open?"),
    Question("lane", "In which lane is the {body} added last? (1 is the lower edge)"),
    Question("last_colour", "What colour is the {body} added last?"),
    Question("thread_kind", "Is the bead that the thread comes out of a seed or a tile?"),
    Question("thread_colour", "What colour is the bead that the thread comes out of?"),
    Question("thread_way", "Does the thread leave that bead towards {ways}?"),
)
NOTHING = "none"
"""The answer about a bead where nothing is strung yet."""


def sights(pattern: Pattern) -> dict[Position, Sight]:
    """What there is to see at each place, the end included."""
    lanes = Lanes(pattern)
    seen = _Walk(pattern)
    found = {}
    for r in range(pattern.row_count):
        row = pattern.row(r)
        first = row.beads[0].id if row.beads else 0
        seen.in_round = 0
        seen.across = lanes.across(row)
        for s, step in enumerate(row.steps):
            found[Position(r, s)] = seen.sight()
            if step.note == "tail":
                seen.take_up_tail()
            for p in step.passes:
                seen.go(p, row.beads[p.bead - first] if p.picked_up else None)
    found[Position(pattern.row_count, 0)] = seen.sight()
    return found


@dataclass
class _Walk:
    """The work as it grows, pass by pass."""

    pattern: Pattern
    across: Mapping[float, int] = field(default_factory=dict)
    """The lanes of the row at work, by their heights."""
    upper: int = 0
    lower: int = 0
    lane: int = 0
    lines: Counter[int] = field(default_factory=Counter)
    """How many lie in each lane."""
    in_round: int = 0
    last_tile: Bead | None = None
    last: Pass | None = None
    standing_out: set[int] = field(default_factory=set)

    def go(self, p: Pass, new: Bead | None) -> None:
        if new is not None and new.kind == self.pattern.body:
            self.in_round += 1
            self.lane = lane_at(new.place.y, self.across)
            self.lines[self.lane] += 1
            self.upper += self.lane == max(self.across.values())
            self.lower += self.lane == 1
            if p.hole:
                self.standing_out.add(p.bead)
            self.last_tile = new
        elif p.hole == "b":
            self.standing_out.discard(p.bead)
        self.last = p

    def take_up_tail(self) -> None:
        """The thread is now the tail, which leaves the first bead where the needle went in."""
        first = self.pattern.row(0).steps[0].passes[0]
        self.last = first._replace(up=not first.up)

    def sight(self) -> Sight:
        tile, last = self.last_tile, self.last
        tube = bool(self.pattern.around)
        thread = None if last is None else self.pattern.bead(last.bead)
        return Sight(
            # A tube has no edges, and no lane that is told from the others.
            upper=self.lines[self.lane] if tube else self.upper,
            lower=self.in_round if tube else self.lower,
            open=len(self.standing_out),
            lane=0 if tube else self.lane,
            last_colour=NOTHING if tile is None else self._colour(tile),
            thread_kind=NOTHING if thread is None else thread.kind,
            thread_colour=NOTHING if thread is None else self._colour(thread),
            thread_way=NOTHING
            if thread is None or last is None or tube
            else side_of(thread.place.tilt, up=last.up),
        )

    def _colour(self, bead: Bead) -> str:
        return self.pattern.colour(bead.colour).name


@record
class Search:
    """Where the piece may stand, after the answers so far."""

    candidates: Mapping[Position, Sight]
    asked: frozenset[str] = frozenset()
    body: str = "tile"
    """The kind of bead that the band is made of."""
    tube: bool = False

    def words(self, question: Question) -> str:
        """A question as it is asked."""
        text = question.on_tube if self.tube and question.on_tube else question.text
        given = {sight.thread_way for sight in self.candidates.values()}
        along = "the right or the left" if given & {"left", "right"} else ""
        across = "the upper or the lower edge" if given & {"upper", "lower"} or not along else ""
        return text.format(body=self.body, ways=", ".join(filter(None, (across, along))))

    def question(self) -> Question | None:
        """The question to ask next; None when no further one can tell the candidates apart."""
        worth = {
            question: self.bits(question)
            for question in QUESTIONS
            if question.field not in self.asked
        }
        best = max(worth, key=worth.__getitem__, default=None)
        return best if best is not None and worth[best] > 0 else None

    def bits(self, question: Question) -> float:
        """What the answer is expected to tell, in bits."""
        counts = Counter(getattr(sight, question.field) for sight in self.candidates.values())
        total = len(self.candidates)
        return -sum(n / total * math.log2(n / total) for n in counts.values())

    def answers(self, question: Question) -> tuple[str, ...]:
        """The answers that some candidate would give, as text, in order."""
        given = {getattr(sight, question.field) for sight in self.candidates.values()}
        return tuple(str(answer) for answer in sorted(given))

    def answered(self, question: Question, answer: str | None) -> Search:
        """The search after an answer, None for "don't know".

        An answer that no candidate would give rules nothing out either: it was a slip.
        """
        asked = self.asked | {question.field}
        fitting = {
            position: sight
            for position, sight in self.candidates.items()
            if str(getattr(sight, question.field)) == answer
        }
        return replace(self, candidates=fitting or self.candidates, asked=asked)

    def places(self) -> tuple[Position, ...]:
        """The places that fit, in order: one, or exact look-alikes once no question is left."""
        return tuple(sorted(self.candidates))


def look_alikes(found: Mapping[Position, Sight]) -> Iterator[tuple[Position, ...]]:
    """Places that no question tells apart, group by group; single places left out."""
    groups: dict[Sight, list[Position]] = {}
    for position, sight in found.items():
        groups.setdefault(sight, []).append(position)
    return (tuple(sorted(group)) for group in groups.values() if len(group) > 1)
