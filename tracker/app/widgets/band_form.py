"""The fields of a new band, and the draft that they make together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal, cast

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import Input

from tracker.app.look import Dress
from tracker.app.widgets.choice import Choice
from tracker.app.widgets.colour_fields import ColourField, ColourFields
from tracker.app.widgets.field import ChoiceField, Field, TextField, ToldField
from tracker.beads.catalogue import seeds, tiles
from tracker.design.demands import USUAL, Demands
from tracker.design.editing import CLOSURES, NEW, ROW_BY_ROW, Draft, SizeBy
from tracker.design.model import Kind
from tracker.design.painting import fitted
from tracker.problems import Problem, shown
from tracker.records import record
from tracker.stitches import demands

SIZES: dict[str, str] = {"fit": "a wrist", "length": "a length", "rows": "rows"}
SIZE_LABEL = {"fit": "Wrist", "length": "Length", "rows": "Rows"}
SIZE_USUAL = {"fit": "165 mm", "length": "160 mm", "rows": "68"}
LAYOUTS: dict[str, str] = {
    "lanes": "stripes along",
    "rows": "stripes across",
    "chart": "a chart",
}
SHAPE = {"shape": "a shape"}
LINES_LABEL = {
    "lanes": "Lanes",
    "rows": "Rows",
    "chart": "Chart",
    "shape": "Shape",
    "written": "By hand",
}
WIDE_LABEL = {"columns": "Columns", "lanes": "Wide"}
WHOLE = {"no": "end anywhere", "yes": "whole ones only"}
MIRROR = {"no": "over and over", "yes": "there and back"}
CENTRE = {"no": "no", "yes": "both ends alike"}

# Where the reader finds a problem, and the field that it belongs to; the longest that fits.
PLACES = {
    "name": "name",
    "stitch": "stitch",
    "start": "start",
    "columns": "wide",
    "lanes": "wide",
    "size": "size",
    "fit": "size",
    "fit.ease": "ease",
    "fit.whole_repeats": "whole",
    "gauge": "size",
    "beads": "seed",
    "beads.tile": "tile",
    "colours": "colour-last",
    "layout": "layout",
    "layout.seeds": "seeds",
    "layout.lanes": "lines",
    "layout.rows": "lines",
    "layout.chart": "lines",
    "layout.shape": "chart",
    "layout.written": "chart",
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

    @record(frozen=False, slots=False)
    class Changed(Message):
        """Something was typed or chosen."""

    def __init__(self, draft: Draft, dress: Dress, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        self._start = draft = in_its_stitch(draft)
        self._dress = dress
        self._sizes = {**SIZE_USUAL, draft.size_by: draft.size}
        self._lines: dict[Kind, tuple[str, ...]] = {draft.layout: draft.lines}
        self._kind: Kind = draft.layout
        self._size_by: SizeBy = draft.size_by
        self._lanes = 0

    def compose(self) -> ComposeResult:
        """The fields, those asked for first on top."""
        draft = self._start
        fit = draft.size_by == "fit"
        yield TextField("Name", draft.name, id="name")
        yield ChoiceField("Stitch", {name: name for name in _offered()}, draft.stitch, id="stitch")
        asks = asked_by(draft.stitch)
        yield ChoiceField("Begun by", _starts(asks), draft.start, id="start")
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
        yield TextField(WIDE_LABEL[asks.across], draft.wide, id="wide", hint=width_hint(asks))
        yield ColourFields(draft.colours, self._dress, id="colours")
        yield TextField("Seeds", draft.seeds, id="seeds", hint="a colour's letter")
        layouts = {**LAYOUTS, **SHAPE} if asks.shaped else LAYOUTS
        yield ChoiceField("Layout", layouts, draft.layout, id="layout")
        yield TextField(LINES_LABEL[draft.layout], "".join(draft.lines), id="lines")
        yield ToldField("Chart", id="chart")
        yield ChoiceField("Repeat", MIRROR, _yes(draft.mirror), id="mirror")
        yield ChoiceField("Centred", CENTRE, _yes(draft.centre), id="centre")
        tile, seed = draft.tile or NEW.tile, draft.seed or NEW.seed
        yield ChoiceField("Tile", {name: name for name in tiles()}, tile, id="tile")
        yield ChoiceField("Seed", {name: name for name in seeds()}, seed, id="seed")
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
        striped = self._kind in ("lanes", *ROW_BY_ROW)
        asks = self._asks
        return replace(
            self._start,
            name=self._typed("name"),
            stitch=self._typed("stitch"),
            start=self._typed("start") if asks.starts else "",
            across=asks.across,
            size_by=self._size_by,
            size=self._typed("size"),
            ease=self._typed("ease") if fit else Draft().ease,
            whole_repeats=fit and self._typed("whole") == "yes",
            closure=self._typed("closure") if asks.closures else Draft().closure,
            wide=self._typed("wide"),
            colours=self.query_one(ColourFields).colours,
            seeds=self._typed("seeds") if asks.own_seeds else "",
            layout=self._kind,
            lines=self._lines[self._kind],
            mirror=not striped and self._typed("mirror") == "yes",
            centre=not striped and self._typed("centre") == "yes",
            tile=self._typed("tile") if self._takes("tile") else "",
            seed=self._typed("seed") if self._takes("seed") else "",
            diameter=self._typed("diameter"),
            thread=self._typed("thread"),
            tail=self._typed("tail"),
        )

    @property
    def lanes(self) -> int:
        """Lanes of the band; 0 while what is typed is no width."""
        wide = self._typed("wide")
        number = int(wide) if wide.isascii() and wide.isdecimal() and len(wide) < 3 else 0
        if not self._asks.fits(number):
            return 0
        return 2 * number if self._asks.across == "columns" else number

    def _takes(self, bead: Literal["tile", "seed"]) -> bool:
        """Whether the band is woven with such a bead; rows told by hand take what they had."""
        if self._asks.written:
            return bool(getattr(self._start, bead))
        return self._asks.tile if bead == "tile" else self._asks.seed

    @property
    def _asks(self) -> Demands:
        return asked_by(self._typed("stitch"))

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
        elif field is not None and field.id == "lines" and self._kind in ("lanes", "rows"):
            self._lines[self._kind] = (event.value,)
        self.post_message(self.Changed())

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter goes on to the next field."""
        event.stop()
        self.screen.focus_next()

    def on_input_blurred(self, event: Input.Blurred) -> None:
        """Left with other columns, the layout gets as many lanes, as far as it can."""
        if event.input.id == "wide-text":
            self._lanes = self.lanes
            self._fit_lines()
            self._show_lines()

    def _fit_lines(self) -> None:
        """Give the layouts as many lanes as the band has."""
        kinds: tuple[Kind, ...] = ("lanes", "chart")
        for kind in kinds:
            fit = tuple(fitted(line, self.lanes) for line in self._lines.get(kind, ()) if line)
            if fit and self.lanes:
                self._lines[kind] = fit

    def on_choice_changed(self, event: Choice.Changed) -> None:
        """Something was chosen: other fields may go with it."""
        event.stop()
        if event.choice.id == "size-by-choice":
            self._sizes[self._size_by] = self._typed("size")
            self._size_by = cast("SizeBy", event.value)
            self.query_one("#size", TextField).type(self._sizes[self._size_by])
        if event.choice.id == "stitch-choice":
            self._another_stitch()
        if event.choice.id == "layout-choice":
            self._lay_out(cast("Kind", event.value))
        self._arrange()
        self.post_message(self.Changed())

    def _lay_out(self, kind: Kind) -> None:
        before, self._kind = self._kind, kind
        if not any(self._lines.get(kind, ())):
            self._lines[kind] = _instead(self._lines[before], kind, self.lanes)

    def _another_stitch(self) -> None:
        """What was typed for the stitch before, as far as it goes with this one."""
        asks = self._asks
        wide = self.query_one("#wide", TextField)
        wide.rename(WIDE_LABEL[asks.across])
        number = self._lanes // (2 if asks.across == "columns" else 1)
        wide.type(str(number if asks.fits(number) else asks.usual))
        self.query_one("#start", ChoiceField).offer(_starts(asks))
        layout = self.query_one("#layout", ChoiceField)
        layout.offer({**LAYOUTS, **SHAPE} if asks.shaped else LAYOUTS)
        self._lay_out(cast("Kind", layout.value))
        self._fit_lines()
        if asks.own_seeds and not self._typed("seeds"):
            self.query_one("#seeds", TextField).type(
                self.query_one(ColourFields).colours[-1].letter
            )

    def _arrange(self) -> None:
        asks = self._asks
        self._lanes = self.lanes
        fit, drawn = self._size_by == "fit", self._kind in ("chart", *ROW_BY_ROW)
        shaped = self._kind in ROW_BY_ROW
        repeats = self._kind in ("rows", "chart")
        for name, there in (
            *(("ease", fit and not shaped), ("whole", fit and not shaped)),
            *(("lines", not drawn), ("chart", drawn), ("mirror", repeats), ("centre", repeats)),
            *(("size-by", not shaped), ("size", not shaped), ("wide", not shaped)),
            *(("tile", self._takes("tile")), ("seed", self._takes("seed"))),
            ("seeds", asks.own_seeds),
            *(("closure", asks.closures), ("start", len(asks.starts) > 1)),
        ):
            self.query_one(f"#{name}").display = there
        self.query_one("#chart", ToldField).rename(LINES_LABEL[self._kind])
        self.query_one("#size", TextField).rename(SIZE_LABEL[self._size_by])
        self.query_one("#lines", TextField).rename(LINES_LABEL[self._kind])
        self._show_lines()

    def _show_lines(self) -> None:
        lines = self._lines.get(self._kind, ())
        if self._kind == "chart":
            lines_of_it = "ranks" if self._asks.in_rank > 1 else "rows"
            self.query_one("#chart", ToldField).tell(f"{len(lines)} {lines_of_it}, F4 paints them")
        elif self._kind in ROW_BY_ROW:
            told = f"{len(lines)} rows, drawn in its file"
            self.query_one("#chart", ToldField).tell(told)
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
        if name == "lines" and self._kind in ("chart", *ROW_BY_ROW):
            name = "chart"
        return next(iter(self.query(f"#{name}").results(Field)), None) if name else None


def _offered() -> list[str]:
    """The stitches that a form can make a design in."""
    return [name for name, asks in demands().items() if not asks.written]


def asked_by(stitch: str) -> Demands:
    """What a stitch asks of a design; of one that is not known, the usual."""
    return demands().get(stitch, USUAL)


def in_its_stitch(draft: Draft) -> Draft:
    """The draft with what its stitch asks for and its file leaves to the usual."""
    asks = asked_by(draft.stitch)
    if draft.across != asks.across and draft.wide == Draft().wide:
        draft = replace(draft, across=asks.across, wide=str(asks.usual))
    if asks.starts and not draft.start:
        draft = replace(draft, start=asks.starts[0])
    return draft


def _starts(asks: Demands) -> dict[str, str]:
    return {start: start for start in asks.starts} or {"": ""}


def width_hint(asks: Demands) -> str:
    """How wide a band may be."""
    by = "" if asks.every == 1 else f" by {asks.every}"
    unit = "; a column is 2 lanes" if asks.across == "columns" else " lanes"
    return f"{asks.least} to {asks.most}{by}{unit}"


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
    if kind == "shape":
        one, other = letters[0], letters[-1]
        return (f" {one} {one}", f"{one} {other} {one}", f" {one} {one}")
    line = fitted(lines[0] if len(lines[0]) == lanes else letters, lanes or len(letters))
    return (line, line[::-1])
