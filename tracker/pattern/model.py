"""A compiled pattern: everything that the tracker needs, each row ready when it is asked for.

A pattern of 80,000 tiles opens at once because its rows stay lines of text until the beader
comes to them; what must be known of all of them (steps, beads, thread) is counted from the
lines when the pattern is read.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cached_property, lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from tracker.beads.model import Finding, Glass, Seed, Shape, Tile
from tracker.design.model import NO_CLOSURE, Closure, Colour, Thread
from tracker.path.band import Band, Outline
from tracker.path.gauge import Gauge
from tracker.path.model import SECOND_END, WOVEN, Bead, Row, ThreadPath
from tracker.path.plane import Mouths
from tracker.path.wording import PLAIN, Wording
from tracker.pattern.notation import PICKED_UP, decode, forms_of
from tracker.records import record
from tracker.stitches import find_stitch

if TYPE_CHECKING:  # few bands are made to fit
    from tracker.fit.model import Fit

ROWS_KEPT = 512
"""Decoded rows kept at hand: more than any screen shows."""


@record
class Section:
    """A part of the piece: its name and its rows' lines, in order."""

    name: str
    lines: tuple[str, ...]


@record
class Kind:
    """Beads of one shape in one colour, as they are bought."""

    shape: Glass
    colour: str


@record(kw_only=True, slots=False)
class Pattern:
    """A compiled, proved design. Rows count from 0 here; `Row.number` is what people say."""

    name: str
    stitch: str
    columns: int = 0
    """Its width, of two lanes each; 0 where that is told in lanes."""
    lanes: int = 0
    """Its width where that is told in lanes, else 0."""
    hinge: int = 1
    """Seeds at a hinge of tiles."""
    cap: int = 3
    """Seeds round a tile's end, those of the hinge among them."""
    start: str = ""
    """How the work is begun, where the stitch knows several ways."""
    outline: Outline = ()
    """The rows of a band that is no rectangle."""
    written: tuple[str, ...] = ()
    """The rows as they are told by hand; () in every other stitch."""
    around: float = 0.0
    """Girth of a tube, mm; 0 for what lies flat."""
    design: str
    """Digest of the design that it was compiled from."""
    target: float | None
    """The length that was asked for, mm; None where a number of rows was."""
    colours: tuple[Colour, ...]
    shapes: Mapping[str, Shape]
    """Shape by its letter in the rows."""
    gauge: Gauge
    thread: Thread
    places: tuple[str, ...]
    sections: tuple[Section, ...]
    closure: Closure = NO_CLOSURE
    fit: Fit | None = None
    """Whom the band is to fit, where that was asked for."""
    digest: str = field(default="", compare=False)
    """What a piece is bound to: the seal of the file; "" before it has been written."""

    # --- rows ------------------------------------------------------------------------------

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines of all rows."""
        return tuple(line for section in self.sections for line in section.lines)

    @cached_property
    def forms(self) -> tuple[str, ...]:
        """The form of each line: few, for most rows differ in their numbers alone."""
        return forms_of(self.lines)

    @cached_property
    def section_names(self) -> tuple[str, ...]:
        """The section of each row."""
        return tuple(section.name for section in self.sections for _ in section.lines)

    @property
    def row_count(self) -> int:
        """How many rows there are."""
        return len(self.lines)

    @cached_property
    def woven_rows(self) -> int:
        """How many rows make the band longer: all but those that close its ends."""
        return sum(len(s.lines) for s in self.sections if s.name in WOVEN)

    def steps_in(self, row: int) -> int:
        """How many steps a row has."""
        return self.lines[row].count("|") + 1

    def row(self, row: int) -> Row:
        """A row, decoded."""
        return self._decoded(row)

    @cached_property
    def _decoded(self) -> Callable[[int], Row]:
        @lru_cache(maxsize=ROWS_KEPT)
        def decoded(row: int) -> Row:
            return decode(self.lines[row], self.section_names[row], self.shapes, self.places)

        return decoded

    @cached_property
    def by_name(self) -> Mapping[str, Shape]:
        """Shape by its name."""
        return {shape.name: shape for shape in self.shapes.values()}

    @cached_property
    def mouths(self) -> Mouths:
        """Where passes enter and leave its beads."""
        return Mouths(self.by_name)

    def path(self) -> ThreadPath:
        """The whole thread path, decoded."""
        rows = tuple(
            decode(line, section, self.shapes, self.places)
            for line, section in zip(self.lines, self.section_names, strict=True)
        )
        return ThreadPath(self.by_name, rows, self.around)

    # --- the band --------------------------------------------------------------------------

    @property
    def wide(self) -> int:
        """Lanes that the band is wide."""
        return self.lanes or 2 * self.columns

    @property
    def width_words(self) -> str:
        """How wide it is: `2 columns`, `9 lanes`."""
        if self.written:
            return "told by hand"
        if self.columns:
            return f"{self.columns} columns"
        return f"{self.lanes} lane{'s' * (self.lanes != 1)}"

    @cached_property
    def body(self) -> str:
        """The kind of bead that the band is made of: tiles if there are any, else seeds."""
        kinds = {shape.kind for shape in self.shapes.values()}
        return "tile" if "tile" in kinds else "seed"

    @cached_property
    def middle(self) -> float:
        """How high in the plane the middle of the band lies, mm."""
        beads = [bead for row in range(min(2, self.row_count)) for bead in self.row(row).beads]
        ys = [bead.place.y for bead in beads if bead.kind == self.body]
        return (min(ys) + max(ys)) / 2

    @cached_property
    def band(self) -> Band:
        """What is woven, in the numbers that its counts are told by."""
        glass = [shape for shape in self.shapes.values() if not isinstance(shape, Finding)]
        return Band(
            lanes=self.wide,
            rows=self.woven_rows,
            tile=next((shape for shape in glass if isinstance(shape, Tile)), None),
            seed=next((shape for shape in glass if isinstance(shape, Seed)), None),
            hinge=self.hinge,
            cap=self.cap,
            start=self.start,
            outline=self.outline,
            written=self.written,
            closure=self.closure,
        )

    @cached_property
    def wording(self) -> Wording:
        """How its stitch speaks; in plain words if this tracker does not know it."""
        try:
            return find_stitch(self.stitch).wording
        except KeyError:
            return PLAIN

    # --- beads -----------------------------------------------------------------------------

    @cached_property
    def first_beads(self) -> tuple[int, ...]:
        """The number of each row's first bead."""
        return tuple(int(line.split(" ", 3)[2]) for line in self.lines)

    def row_of(self, bead: int) -> int:
        """The row in which a bead is picked up."""
        return bisect_right(self.first_beads, bead) - 1

    def bead(self, bead: int) -> Bead:
        """A bead by its number."""
        row = self.row_of(bead)
        return self.row(row).beads[bead - self.first_beads[row]]

    def section_of(self, bead: int) -> str:
        """The section in which a bead is picked up."""
        return self.section_names[self.row_of(bead)]

    def colour(self, letter: str) -> Colour:
        """A colour by its letter; KeyError if there is none."""
        return self._by_letter[letter]

    @cached_property
    def _by_letter(self) -> dict[str, Colour]:
        return {colour.letter: colour for colour in self.colours}

    def across(self, row: int) -> list[tuple[float, str]]:
        """The y (mm) and the colour of each bead of the band in a row, not decoded for it."""
        head, _, moves = self.lines[row].partition(": ")
        picked_up = PICKED_UP.findall(moves)
        lies = self._heights(int(head.split(" ")[4])) if picked_up else ()
        body = self._body_letters
        return [(y, key[1]) for y, key in zip(lies, picked_up, strict=True) if key[0] in body]

    @cached_property
    def _body_letters(self) -> frozenset[str]:
        return frozenset(k for k, shape in self.shapes.items() if shape.kind == self.body)

    @cached_property
    def _heights(self) -> Callable[[int], tuple[float, ...]]:
        @lru_cache(maxsize=ROWS_KEPT)
        def heights(line: int) -> tuple[float, ...]:
            return tuple(float(lies.split(" ")[1]) for lies in self.places[line - 1].split(","))

        return heights

    @cached_property
    def picked_up(self) -> tuple[Counter[str], ...]:
        """Beads picked up in each row, by shape's and colour's letter ("tA"); no findings."""
        findings = {k for k, shape in self.shapes.items() if isinstance(shape, Finding)}
        # Rows of one form pick up the same, and share what was counted.
        forms: dict[str, Counter[str]] = {}
        found = []
        for line, form in zip(self.lines, self.forms, strict=True):
            if form not in forms:
                keys = PICKED_UP.findall(line)
                forms[form] = Counter(key for key in keys if key[0] not in findings)
            found.append(forms[form])
        return tuple(found)

    @cached_property
    def totals(self) -> Counter[str]:
        """Beads picked up in the whole piece, likewise."""
        shared = {id(counts): counts for counts in self.picked_up}
        total: Counter[str] = Counter()
        for which, rows in Counter(map(id, self.picked_up)).items():
            total.update({key: rows * beads for key, beads in shared[which].items()})
        return total

    @cached_property
    def beads_before(self) -> Mapping[str, tuple[int, ...]]:
        """Beads of each kind picked up before each row and, last, by all of them, likewise."""
        return {
            key: (0, *accumulate(row.get(key, 0) for row in self.picked_up)) for key in self.totals
        }

    def kinds(self) -> tuple[tuple[str, Kind], ...]:
        """What has to be bought, by the letters used in `picked_up`: tiles first, then seeds."""
        return self._kinds

    @cached_property
    def _kinds(self) -> tuple[tuple[str, Kind], ...]:
        order = [colour.letter for colour in self.colours]
        keys = sorted(
            self.totals, key=lambda key: (self.shapes[key[0]].kind == "seed", order.index(key[1]))
        )
        kinds = []
        for key in keys:
            shape = self.shapes[key[0]]
            assert not isinstance(shape, Finding), "a finding has no colour to buy it by"
            kinds.append((key, Kind(shape, key[1])))
        return tuple(kinds)

    # --- thread ----------------------------------------------------------------------------

    @cached_property
    def thread_before(self) -> tuple[float, ...]:
        """Working thread taken up before each row and, last, by all of them, mm.

        The end with the tail is closed with the tail, which is no part of it.
        """
        by_row = (
            0.0 if section == SECOND_END else thread
            for section, thread in zip(self.section_names, self._thread_in_rows, strict=True)
        )
        return (0.0, *accumulate(by_row))

    @cached_property
    def tail_before(self) -> tuple[float, ...]:
        """The same of the tail."""
        by_row = (
            thread if section == SECOND_END else 0.0
            for section, thread in zip(self.section_names, self._thread_in_rows, strict=True)
        )
        return (0.0, *accumulate(by_row))

    @cached_property
    def _thread_in_rows(self) -> tuple[float, ...]:
        return tuple(float(line.partition(": ")[0].rsplit(" ", 1)[1]) for line in self.lines)
