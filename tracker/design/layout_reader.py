"""The layout of a design: which colour goes where."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from tracker.design.demands import USUAL, Demands
from tracker.design.fields import Fields, named, quoted
from tracker.design.model import Kind, Layout
from tracker.design.written import parse_written
from tracker.design.written_model import picked_up, problem_at
from tracker.problems import Problem, ProblemsError, nearest

_KINDS: tuple[Kind, ...] = ("lanes", "rows", "chart")
_KEYS = ("mirror", "centre")
_MOST_ROWS = 5000
_MOST_RANKS = _MOST_ROWS // 2


def read_layout(
    top: Fields,
    lanes: int | None,
    colours: Collection[tuple[str, str]] | None,
    demands: Demands = USUAL,
) -> Layout | None:
    """The layout, held against the lanes and the (letter, name) of each colour.

    What could not be read itself is None and goes unchecked.
    """
    own = 'seeds = "S" and ' if demands.own_seeds else ""
    known: tuple[Kind, ...] = (*_KINDS, "shape") if demands.shaped else _KINDS
    if demands.written:
        known = ("written",)
    table = top.table("layout", f"add [layout] with {own}lanes, rows or chart")
    if table is None:
        return None
    keys = (*(("seeds",) if demands.own_seeds else ()), *known, *_KEYS)
    table.refuse_unknown(keys)
    check = _Check(table, lanes, colours, demands)
    seeds = check.seeds() if demands.own_seeds else ""
    kinds = [kind for kind in known if kind in table.values]
    lines = {kind: check.lines(kind) for kind in kinds}
    mirror, centre = table.flag("mirror"), table.flag("centre")
    if not kinds and set(table.values) <= set(keys):
        table.problem("", f"has none of {_listed(known)}", "add one of them")
    if len(kinds) > 1:
        table.problem("", f"has {' and '.join(kinds)}", "keep one of them")
    if kinds in (["lanes"], ["shape"], ["written"]):
        for key, given in (("mirror", mirror), ("centre", centre)):
            if given:
                what = f"goes with rows or chart, not with {kinds[0]}"
                table.problem(key, what, "leave it out")
    found = lines[kinds[0]] if len(kinds) == 1 else None
    if seeds is None or found is None:
        return None
    return Layout(seeds=seeds, kind=kinds[0], lines=found, mirror=mirror, centre=centre)


class _Check:
    """Reads letters and notes those that cannot be."""

    def __init__(
        self,
        table: Fields,
        lanes: int | None,
        colours: Collection[tuple[str, str]] | None,
        demands: Demands,
    ) -> None:
        self.table = table
        self.wide = lanes
        self.by_columns = demands.across == "columns"
        self.names = None if colours is None else dict(colours)

    def seeds(self) -> str | None:
        """The letter of the seeds' colour."""
        text = self.table.text("seeds", 'give the seeds a colour\'s letter, such as seeds = "S"')
        if text is None or self.names is None or text in self.names:
            return text
        by_name = {name: letter for letter, name in self.names.items()}
        meant = nearest(text, by_name)
        where = self.table.where("seeds")
        if meant and len(text) > 1:
            what = f"{quoted(text)} is not a letter"
            self._note(where, what, f'write the letter of {meant}, "{by_name[meant]}"')
        elif len(text) == 1:
            self._letters(where, text)
        else:
            what = f"{quoted(text)} is not one letter"
            self._note(where, what, f"use the letter of a colour: {named(self.names)}")
        return None

    def lines(self, kind: str) -> tuple[str, ...] | None:
        """The lines of that key, checked."""
        noted = len(self.table.problems)
        text = self.table.text(kind, "write letters in quotes")
        if text is None:
            return None
        where = self.table.where(kind)
        found: tuple[str, ...]
        if kind == "chart":
            found = self._chart(where, text)
        elif kind == "shape":
            found = self._shape(where, text)
        elif kind == "written":
            found = self._written(text)
        elif kind == "rows":
            found = tuple(text)
            if len(found) > _MOST_ROWS:
                self._note(where, f"has {len(found)} letters", f"write no more than {_MOST_ROWS}")
            else:
                self._letters(where, text)
        else:
            found = (text,)
            if text:
                self._width(where, text)
                self._letters(where, text)
        if not any(found):
            self._note(where, "is empty", "write the letters of colours, such as AABB")
        return found if len(self.table.problems) == noted else None

    def _chart(self, where: str, text: str) -> tuple[str, ...]:
        # Lines count as the beader sees them; empty ones only set the chart off.
        lines = {n: line.strip() for n, line in enumerate(text.split("\n"), 1) if line.strip()}
        if len(lines) > _MOST_RANKS:
            self._note(where, f"has {len(lines)} lines", f"write no more than {_MOST_RANKS}")
            return tuple(lines.values())
        for n, line in lines.items():
            self._width(f"{where} line {n}", line)
            self._letters(f"{where} line {n}", line)
        return tuple(lines.values())

    def _written(self, text: str) -> tuple[str, ...]:
        """The rows told by hand, without remarks; whatever cannot be read is noted."""
        lines = tuple(line.partition("#")[0].rstrip() for line in text.split("\n"))
        while lines and not lines[-1]:
            lines = lines[:-1]
        try:
            parts = parse_written(lines)
        except ProblemsError as error:
            self.table.problems.extend(error.problems)
            return lines
        for move in picked_up(parts):
            if self.names is not None and move.colour not in self.names:
                mend = f"add {move.colour} to [colours], or use one of {named(self.names)}"
                what = f"{quoted(move.colour)} is no colour's letter"
                self.table.problems.append(problem_at(move.spot, what, mend))
        return lines

    def _shape(self, where: str, text: str) -> tuple[str, ...]:
        """The rows as they are drawn, what they have in common of the margin taken away."""
        drawn = [line.rstrip() for line in text.split("\n")]
        while drawn and not drawn[-1]:
            drawn.pop()
        while drawn and not drawn[0]:
            drawn.pop(0)
        margin = min((len(line) - len(line.lstrip(" ")) for line in drawn if line), default=0)
        if len(drawn) > _MOST_ROWS:
            self._note(where, f"has {len(drawn)} lines", f"write no more than {_MOST_ROWS}")
            return tuple(drawn)
        for n, line in enumerate(drawn, start=1):
            self._letters(f"{where} line {n}", line.replace(" ", ""))
        return tuple(line[margin:] for line in drawn)

    def _width(self, where: str, line: str) -> None:
        if self.wide is None or len(line) == self.wide:
            return
        lack = self.wide - len(line)
        letters = "letter" if abs(lack) == 1 else "letters"
        band = f"{self.wide // 2} columns" if self.by_columns else f"{self.wide} lanes"
        what = (
            f"{quoted(line)} has {len(line)} letter{'s' * (len(line) != 1)}, "
            f"{band} need {self.wide}"
        )
        verb = "add" if lack > 0 else "take away"
        self._note(where, what, f"{verb} {abs(lack)} {letters}")

    def _letters(self, where: str, line: str) -> None:
        if self.names is None:
            return
        for letter in dict.fromkeys(line):
            if letter in self.names:
                continue
            if letter.upper() in self.names:
                mend = f"write it as a capital, {letter.upper()}"
            elif letter.isascii() and letter.isupper():
                mend = f"add {letter} to [colours], or use one of {named(self.names)}"
            else:
                mend = f"use the letters of colours only: {named(self.names)}"
            self._note(where, f"{quoted(letter)} is no colour's letter", mend)

    def _note(self, where: str, what: str, mend: str) -> None:
        self.table.problems.append(Problem(where, what, mend))


def _listed(kinds: Sequence[Kind]) -> str:
    return " and ".join(filter(None, (", ".join(kinds[:-1]), kinds[-1])))
