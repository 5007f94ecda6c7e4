"""The fields of a new band, and the draft that they make together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import cast

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Input

from tracker.app.look import Dress
from tracker.app.widgets.choice import Choice
from tracker.app.widgets.colour_fields import ColourField, ColourFields
from tracker.app.widgets.field import ChoiceField, Field, TextField, ToldField
from tracker.beads.catalogue import seeds, tiles
from tracker.design.editing import CLOSURES, Draft, SizeBy
from tracker.design.model import Kind
from tracker.design.painting import fitted
from tracker.problems import Problem, shown

SIZES: dict[str, str] = {"fit": "a wrist", "length": "a length", "rows": "rows"}
SIZE_LABEL = {"fit": "Wrist", "length": "Length", "rows": "Rows"}
SIZE_USUAL = {"fit": "165 mm", "length": "160 mm", "rows": "68"}
LAYOUTS: dict[str, str] = {
    "lanes": "stripes along",
    "rows": "stripes across",
    "chart": "a chart",
}
LINES_LABEL = {"lanes": "Lanes", "rows": "Rows", "chart": "Chart"}
WHOLE = {"no": "end anywhere", "yes": "whole ones only"}
MIRROR = {"no": "over and over", "yes": "there and back"}
CENTRE = {"no": "no", "yes": "both ends alike"}

# Where the reader finds a problem, and the field that it belongs to; the longest that fits.
PLACES = {
    "name": "name",
    "columns": "columns",
    "size": "size",
    "fit": "size",
    "fit.ease": "ease",
    "fit.whole_repeats": "whole",
    "gauge": "size",
    "beads": "tile",
    "beads.seed": "seed",
    "colours": "colour-last",
    "layout": "layout",
    "layout.seeds": "seeds",
    "layout.lanes": "lines",
    "layout.rows": "lines",
    "layout.chart": "lines",
    "layout.mirror": "mirror",
    "layout.centre": "centre",
    "thread": "thread",
    "thread.diameter": "diameter",
    "thread.tail": "tail",
    "closure": "closure",
}


class BandForm(Vertical):
    """All that a design says, in fields from top to bottom."""

    DEFAULT_CSS = "BandForm { height: 1fr; overflow-y: auto; overflow-x: hidden; }"

    @dataclass
    class Changed(Message):
        """Something was typed or chosen."""

    def __init__(self, draft: Draft, dress: Dress, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._start = draft
        self._dress = dress
        self._sizes = {**SIZE_USUAL, draft.size_by: draft.size}
        self._lines: dict[Kind, tuple[str, ...]] = {draft.layout: draft.lines}
        self._kind: Kind = draft.layout
        self._size_by: SizeBy = draft.size_by

    def compose(self) -> ComposeResult:
        """The fields, those asked for first on top."""
        draft = self._start
        fit = draft.size_by == "fit"
        yield TextField("Name", draft.name, id="name")
        yield ChoiceField("Size by", SIZES, draft.size_by, id="size-by")
        yield TextField(
            SIZE_LABEL[draft.size_by], draft.size, id="size", hint="such as 165 mm or 6 1/2 in"
        )
        ease = TextField("Ease", draft.ease, id="ease", hint="snug, comfortable, loose, 10 mm")
        whole = ChoiceField("Repeats", WHOLE, _yes(draft.whole_repeats), id="whole")
        ease.display = whole.display = fit
        yield ease
        yield whole
        yield ChoiceField("Closure", {k: k for k in CLOSURES}, draft.closure, id="closure")
        yield TextField("Columns", draft.columns, id="columns", hint="2 to 40; a column is 2 lanes")
        yield ColourFields(draft.colours, self._dress, id="colours")
        yield TextField("Seeds", draft.seeds, id="seeds", hint="a colour's letter")
        yield ChoiceField("Layout", LAYOUTS, draft.layout, id="layout")
        yield TextField(LINES_LABEL[draft.layout], "".join(draft.lines), id="lines")
        yield ToldField("Chart", id="chart")
        yield ChoiceField("Repeat", MIRROR, _yes(draft.mirror), id="mirror")
        yield ChoiceField("Centred", CENTRE, _yes(draft.centre), id="centre")
        yield ChoiceField("Tile", {name: name for name in tiles()}, draft.tile, id="tile")
        yield ChoiceField("Seed", {name: name for name in seeds()}, draft.seed, id="seed")
        yield TextField("Thread", draft.diameter, id="diameter", hint="how thick: 0.15 mm")
        yield TextField("Cut", draft.thread, id="thread", hint="cut at a time: 1.8 m")
        yield TextField("Tail", draft.tail, id="tail", hint="left at the start: 250 mm")

    def on_mount(self) -> None:
        """Show the fields that go with what is chosen."""
        self._arrange()

    # --- the draft -------------------------------------------------------------------------

    @property
    def draft(self) -> Draft:
        """What the fields say."""
        fit = self._size_by == "fit"
        striped = self._kind == "lanes"
        return replace(
            self._start,
            name=self._typed("name"),
            size_by=self._size_by,
            size=self._typed("size"),
            ease=self._typed("ease") if fit else Draft().ease,
            whole_repeats=fit and self._typed("whole") == "yes",
            closure=self._typed("closure"),
            columns=self._typed("columns"),
            colours=self.query_one(ColourFields).colours,
            seeds=self._typed("seeds"),
            layout=self._kind,
            lines=self._lines[self._kind],
            mirror=not striped and self._typed("mirror") == "yes",
            centre=not striped and self._typed("centre") == "yes",
            tile=self._typed("tile"),
            seed=self._typed("seed"),
            diameter=self._typed("diameter"),
            thread=self._typed("thread"),
            tail=self._typed("tail"),
        )

    @property
    def lanes(self) -> int:
        """Lanes of the band; 0 while the columns are none."""
        columns = self._typed("columns")
        good = columns.isascii() and columns.isdecimal() and len(columns) < 3
        return 2 * int(columns) if good and 2 <= int(columns) <= 40 else 0

    def painted(self, lines: tuple[str, ...]) -> None:
        """The chart was painted."""
        self._lines["chart"] = lines
        self._arrange()
        self.post_message(self.Changed())

    async def add_colour(self) -> None:
        """One more colour."""
        await self.query_one(ColourFields).add()
        self.post_message(self.Changed())

    async def take_colour_out(self) -> bool:
        """Without the colour that the cursor is on; whether it is on one."""
        taken = await self.query_one(ColourFields).take_out()
        self.post_message(self.Changed())
        return taken

    def complain(self, problems: Iterable[Problem]) -> list[str]:
        """Say each problem at its field; those that belong to none are given back, in words."""
        said: dict[Field, list[str]] = {}
        rest = []
        for problem in problems:
            words = shown(f"{_place(problem.where)}{problem.what}; {problem.mend}")
            field = self._field_at(problem.where)
            if field is None:
                rest.append(f"{problem.where}: {words}")
            else:
                said.setdefault(field, []).append(words)
        for field in self.query(Field):
            field.complain("\n".join(said.get(field, [])))
        return rest

    # --- what happens ------------------------------------------------------------------------

    def on_input_changed(self, event: Input.Changed) -> None:
        """Something was typed."""
        event.stop()
        field = next((f for f in event.input.ancestors if isinstance(f, Field)), None)
        if isinstance(field, ColourField):
            field.paint()
        elif field is not None and field.id == "lines" and self._kind != "chart":
            self._lines[self._kind] = (event.value,)
        self.post_message(self.Changed())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes on to the next field."""
        event.stop()
        self.screen.focus_next()

    def on_input_blurred(self, event: Input.Blurred) -> None:
        """Left with other columns, the layout gets as many lanes, as far as it can."""
        if event.input.id == "columns-text" and self.lanes:
            kinds: tuple[Kind, ...] = ("lanes", "chart")
            for kind in kinds:
                fit = tuple(fitted(line, self.lanes) for line in self._lines.get(kind, ()) if line)
                if fit:
                    self._lines[kind] = fit
            self._show_lines()

    def on_choice_changed(self, event: Choice.Changed) -> None:
        """Something was chosen: other fields may go with it."""
        event.stop()
        if event.choice.id == "size-by-choice":
            self._sizes[self._size_by] = self._typed("size")
            self._size_by = cast("SizeBy", event.value)
            self.query_one("#size", TextField).type(self._sizes[self._size_by])
        if event.choice.id == "layout-choice":
            before, self._kind = self._kind, cast("Kind", event.value)
            if not any(self._lines.get(self._kind, ())):
                self._lines[self._kind] = _instead(self._lines[before], self._kind, self.lanes)
        self._arrange()
        self.post_message(self.Changed())

    def _arrange(self) -> None:
        fit, chart = self._size_by == "fit", self._kind == "chart"
        for name, there in (
            *(("ease", fit), ("whole", fit), ("lines", not chart), ("chart", chart)),
            *(("mirror", self._kind != "lanes"), ("centre", self._kind != "lanes")),
        ):
            self.query_one(f"#{name}").display = there
        self.query_one("#size", TextField).rename(SIZE_LABEL[self._size_by])
        self.query_one("#lines", TextField).rename(LINES_LABEL[self._kind])
        self._show_lines()

    def _show_lines(self) -> None:
        lines = self._lines.get(self._kind, ())
        if self._kind == "chart":
            self.query_one("#chart", ToldField).tell(f"{len(lines)} ranks, F4 paints them")
        elif self._typed("lines") != "".join(lines):
            self.query_one("#lines", TextField).type("".join(lines))

    def _typed(self, name: str) -> str:
        return self.query_one(f"#{name}", Field).value

    def _field_at(self, where: str) -> Field | None:
        place = where.partition(" ")[0]
        colour = place.split(".")[1] if place.startswith("colours.") else ""
        for field in self.query(ColourField):
            if colour and field.value == colour:
                return field
        while place and place not in PLACES:
            place = place.rpartition(".")[0]
        name = PLACES.get(place, "")
        if name == "colour-last":
            return list(self.query(ColourField))[-1]
        if name == "lines" and self._kind == "chart":
            name = "chart"
        return next(iter(self.query(f"#{name}").results(Field)), None) if name else None


def _yes(flag: bool) -> str:
    return "yes" if flag else "no"


def _place(where: str) -> str:
    """The part of a place that its field does not name: a chart's line, a bead's measure."""
    place, _, line = where.partition(" ")
    parts = place.split(".")
    return f"{line}: " if line else f"{parts[2]}: " if len(parts) > 2 else ""


def _instead(lines: tuple[str, ...], kind: Kind, lanes: int) -> tuple[str, ...]:
    """Something of that kind to begin with, in the colours of another layout."""
    letters = "".join(dict.fromkeys("".join(lines))) or " "
    if kind == "lanes":
        return (fitted(lines[0] if len(lines) > 1 else letters, lanes or len(letters)),)
    if kind == "rows":
        return ("".join(2 * letter for letter in letters),)
    line = fitted(lines[0] if len(lines[0]) == lanes else letters, lanes or len(letters))
    return (line, line[::-1])
