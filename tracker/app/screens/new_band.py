"""A design made or changed without an editor: fields at the left, the band at the right."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.events import Resize
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from tracker.app.lines import column
from tracker.app.look import Dress
from tracker.app.screens.asking import Ask, Choose
from tracker.app.screens.painting import Painter
from tracker.app.widgets.band_form import BandForm
from tracker.app.widgets.notice import Notice
from tracker.app.widgets.preview import PreviewPane
from tracker.design.editing import NEW, Draft, draft_of
from tracker.design.reader import LARGEST
from tracker.files import read_text
from tracker.loading import save_design
from tracker.pattern.preview import Seen, seen
from tracker.problems import ProblemsError, shown
from tracker.progress.known_pace import seconds_a_step
from tracker.progress.store import Store, slug
from tracker.records import record

KEYS = " Tab next  F2 save  F3 + colour  F4 paint  F5 stitch  F8 - colour  Esc back"
NARROW_KEYS = " Tab next  F2 save  F4 paint  F5 stitch  F6 picture  Esc back"
NARROW = 76
ENDING = ".design.toml"
LEAVE, STAY, OVER = "leave", "stay", "over"


class NewBand(Screen[None]):
    """The design as a draft. Nothing is on the disk before F2 or F5."""

    CSS_PATH = "../forms.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "app.focus_next", "next field", id="next_field", show=False),
        Binding("up", "app.focus_previous", "field before", id="field_before", show=False),
        Binding("f2", "save", "save", id="save_design"),
        Binding("f3", "add_colour", "one more colour", id="add_colour"),
        Binding("f4", "paint", "paint the chart", id="paint_chart"),
        Binding("f5", "stitch", "stitch it", id="stitch_design"),
        Binding("f6", "turn_over", "fields or picture", id="fields_or_picture"),
        Binding("f8", "take_colour_out", "without this colour", id="take_colour_out"),
        Binding("escape", "leave", "back", id="leave_design"),
    ]

    @record(frozen=False, slots=False)
    class Chosen(Message):
        """The beader wants to stitch the design in this file."""

        path: Path

    def __init__(
        self, store: Store, dress: Dress, *, path: Path | None = None, text: str = ""
    ) -> None:
        """`text` is the design in the file `path`, "" for a new one.

        Raises ProblemsError if it is no TOML.
        """
        super().__init__()
        self._store = store
        self._dress = dress
        self._path = path
        self._text = text
        self._saved: Draft = draft_of(text) if text else NEW
        """What is on the disk, or what was there to begin with."""

    def compose(self) -> ComposeResult:
        """The title, what is wrong, the fields beside the band, the keys."""
        yield Static(id="where")
        yield Notice(id="notice")
        with Horizontal(id="middle"):
            yield BandForm(self._saved, self._dress, id="form")
            yield PreviewPane(self._dress, id="preview")
        yield Static(id="foot")

    def on_mount(self) -> None:
        """Show the design."""
        # What its stitch leaves to the usual is filled in: that is no change of the beader's.
        self._saved = self.form.draft
        self._head()
        self._look()
        self.run_worker(self._learn_pace(self.query_one(PreviewPane)))

    def on_resize(self, event: Resize) -> None:
        """A narrow screen has room for the fields or the band."""
        narrow = event.size.width < NARROW
        self.set_class(narrow, "narrow")
        keys = NARROW_KEYS if narrow else KEYS
        self.query_one("#foot", Static).update(Text(keys, self._dress.foot, no_wrap=True))

    @property
    def form(self) -> BandForm:
        """The fields."""
        return self.query_one(BandForm)

    @property
    def changed(self) -> bool:
        """Whether something would be lost by leaving."""
        return self.form.draft != self._saved

    def say(self, texts: Iterable[str]) -> None:
        """Show notices, or take the last ones away if there are none."""
        most = max(1, self.size.height // 3)
        self.query_one(Notice).say_all(map(shown, texts), self._dress, most)

    # --- while typing ------------------------------------------------------------------------

    def on_band_form_changed(self, event: BandForm.Changed) -> None:
        """Draw what is typed."""
        event.stop()
        self._head()
        self._look()

    def on_preview_pane_looked(self, event: PreviewPane.Looked) -> None:
        """Say what is wrong where it is wrong."""
        event.stop()
        self._complain(event.seen)

    def _complain(self, found: Seen) -> bool:
        """Say what is wrong; whether nothing is."""
        rest = self.form.complain(found.checked.problems)
        self.say(rest)
        return not found.checked.problems

    def _look(self) -> None:
        self.query_one(PreviewPane).want(self.form.draft, self._text)

    def _head(self) -> None:
        name = "A new band" if self._path is None else str(self._path)
        mark = " · not saved" if self.changed or self._path is None else ""
        said = f" {column(shown(name), max(8, self.size.width - 16)).rstrip()}{mark}"
        self.query_one("#where", Static).update(Text(said, self._dress.bar, no_wrap=True))

    async def _learn_pace(self, pane: PreviewPane) -> None:
        pane.pace = await asyncio.to_thread(seconds_a_step, self._store)
        pane.show()

    # --- keys --------------------------------------------------------------------------------

    async def action_add_colour(self) -> None:
        """One more colour."""
        await self.form.add_colour()

    async def action_take_colour_out(self) -> None:
        """Without the colour that the cursor is on."""
        if not await self.form.take_colour_out():
            self.say(["Go to a colour's line to take it out; one has to stay."])

    def action_turn_over(self) -> None:
        """On a narrow screen: the fields, or the picture."""
        self.toggle_class("drawn")

    def action_paint(self) -> None:
        """Paint the chart."""
        form = self.form
        problems = seen(form.draft, self._text).checked.problems
        faults = [p for p in problems if p.where.startswith(("colours", "columns", "lanes"))]
        if faults or not form.lanes or not form.draft.colours:
            form.complain(faults)
            self.say(["First mend the width and the colours: the chart is painted with them."])
            return
        if form.draft.layout != "chart":
            self.say(["A chart is painted when the layout is a chart: choose that first."])
            return

        def painted(lines: tuple[str, ...] | None) -> None:
            if lines is not None:
                form.painted(lines)

        self.app.push_screen(Painter(form.draft, self._text, form.lanes, self._dress), painted)

    def action_save(self) -> None:
        """Save the design in a file that the beader names."""
        self._save(lambda: self.say([f"Saved in {self._path}."]))

    def action_stitch(self) -> None:
        """Save the design if need be, and stitch it."""
        if self._path is not None and not self.changed:
            self._go()
        else:
            self._save(self._go)

    def _go(self) -> None:
        assert self._path is not None, "it was saved"
        if self._complain(seen(self.form.draft, self._text)):
            self.post_message(self.Chosen(self._path))

    def action_leave(self) -> None:
        """Back, after asking if something would be lost."""
        if not self.changed:
            self.dismiss(None)
            return
        answers = {STAY: "No, go on with it", LEAVE: "Yes, what was changed is lost"}

        def answered(answer: str | None) -> None:
            if answer == LEAVE:
                self.dismiss(None)

        self.app.push_screen(Choose("Leave without saving? F2 saves.", answers), answered)

    # --- saving ------------------------------------------------------------------------------

    def _save(self, then: Callable[[], object]) -> None:
        found = seen(self.form.draft, self._text)
        if found.checked.design is None:
            self._complain(found)
            self.say(["Not saved: first mend what is marked at its field."])
            return
        usual = self._path or Path(slug(found.checked.design.name) + ENDING)
        question = f"Save the design in which file? Without a folder: in {shown(str(Path.cwd()))}"
        self._put(
            Ask(question, _a_file, value=str(usual)),
            lambda path: self._save_in(Path(path), then),
        )

    def _save_in(self, path: Path, then: Callable[[], object]) -> None:
        """Save; what is there and not known here is written over only when that is wished."""
        draft = self.form.draft
        own = self._path is not None and path == self._path.absolute()
        try:
            if not own and not path.exists():
                self._written(path, seen(draft, self._text), None, then)
                return
            there = read_text(path, LARGEST)
        except ProblemsError as error:
            self.say(error.in_file(str(path)).lines())
            return
        if own and there == self._text:
            self._written(path, seen(draft, there), there, then)
            return
        what = "has been changed by somebody else" if own else "is there already"
        answers = {STAY: "No, leave it", OVER: "Yes, put this design in its place"}

        def answered(answer: str) -> None:
            if answer == OVER:
                self._written(path, seen(draft, there if own else self._text), there, then)

        self._put(Choose(f"{shown(path.name)} {what}. Write over it?", answers), answered)

    def _written(
        self, path: Path, found: Seen, over: str | None, then: Callable[[], object]
    ) -> None:
        text = found.checked.text
        try:
            saved = save_design(text, path, over=over)
        except ProblemsError as error:
            self.say(error.lines())
            return
        if not saved:
            self.say([f"Not saved: {path} has changed this very moment. Save again."])
            return
        self._path, self._text, self._saved = path, text, self.form.draft
        self._head()
        self._complain(found)
        then()

    def _put(self, screen: Screen[Any], then: Callable[[str], object]) -> None:
        """Put a question; `then` gets the answer, if there is one."""

        def answered(answer: object) -> None:
            if answer is not None:
                then(str(answer))

        self.app.push_screen(screen, answered)


def _a_file(text: str) -> str:
    """Reads the name of a file; without an ending it gets a design's."""
    path = Path(text).expanduser().absolute()
    if path.suffix != ".toml":
        path = path.with_name(path.name + ENDING)
    if not path.parent.is_dir():
        raise ValueError(f"There is no folder {shown(str(path.parent))}")
    return str(path)
