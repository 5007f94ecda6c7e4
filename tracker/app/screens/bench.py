"""The opening screen: pieces in hand, patterns and designs to start."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tracker.app.lines import column, on_any_ground
from tracker.app.look import Dress
from tracker.app.widgets.notice import Notice
from tracker.problems import ProblemsError, shown
from tracker.progress.store import Listed, Store

KEYS = " Up, Down  choose    Enter  take up    n  new    e  edit    i  supplies    q  quit"


class Bench(Screen[None]):
    """Choose a piece to go on with, or a pattern to start."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q", "leave", "quit", id="leave_bench"),
        Binding("space,right", "choose", "take up", id="choose"),
        Binding("n", "want('new')", "new band", id="new_band"),
        Binding("e", "want('edit')", "edit the design", id="edit_design"),
        Binding("i", "want('supplies')", "supplies", id="bench_supplies"),
    ]

    @dataclass
    class Chosen(Message):
        """The beader wants to stitch this: a piece's folder or a file."""

        word: str

    @dataclass
    class Wanted(Message):
        """The beader wants another screen: "new", "edit" or "supplies" of what is highlighted."""

        what: str
        word: str

    def __init__(self, store: Store, dress: Dress) -> None:
        super().__init__()
        self._store = store
        self._dress = dress

    def compose(self) -> ComposeResult:
        """A title, what is wrong if anything, the list, the keys."""
        yield Static(Text(" The bench", self._dress.bar), id="where")
        yield Notice(id="notice")
        yield OptionList(id="choices")
        yield Static(Text(KEYS, self._dress.foot), id="foot")

    def on_screen_resume(self) -> None:
        """Show the list, and what has been stitched meanwhile."""
        self.fill()

    def fill(self) -> None:
        """List pieces and files anew."""
        choices = self.query_one(OptionList)
        choices.clear_options()
        pieces, problems = self._pieces()
        choices.add_option(self._heading("Pieces in hand", "none yet" if not pieces else ""))
        for piece in pieces:
            choices.add_option(self._piece(piece))
        files = list(startable_files())
        none_here = "" if files else "no design here"
        choices.add_option(self._heading("Start a new piece", none_here))
        for file in files:
            choices.add_option(Option(self._file(file), id=f"file:{file}"))
        first = next((i for i, o in enumerate(choices.options) if not o.disabled), None)
        choices.highlighted = first
        choices.focus()
        self.say(problems)

    def say(self, notices: Iterable[str]) -> None:
        """Show notices, or take the last ones away if there are none."""
        most = max(1, self.size.height // 2)
        self.query_one(Notice).say_all(map(shown, notices), self._dress, most)

    def _pieces(self) -> tuple[list[Listed], list[str]]:
        """The pieces, or why there is none to be seen."""
        try:
            return self._store.pieces(), []
        except ProblemsError as error:
            return [], error.lines()

    def action_leave(self) -> None:
        """Quit."""
        self.app.exit()

    def action_choose(self) -> None:
        """Take up what is highlighted."""
        self.query_one(OptionList).action_select()

    def action_want(self, what: str) -> None:
        """Ask for another screen."""
        choices = self.query_one(OptionList)
        at = choices.highlighted
        chosen = None if at is None else choices.get_option_at_index(at).id
        self.post_message(self.Wanted(what, (chosen or "").partition(":")[2]))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Something was chosen."""
        _, _, word = (event.option_id or "").partition(":")
        self.post_message(self.Chosen(word))

    def _heading(self, text: str, rest: str) -> Option:
        said = Text()
        said.append(f"\n {text}", on_any_ground(self._dress.label))
        if rest:
            said.append(f"  {rest}", on_any_ground(self._dress.quiet))
        return Option(said, disabled=True)

    def _piece(self, piece: Listed) -> Option:
        plain = on_any_ground(self._dress.text())
        quiet = on_any_ground(self._dress.quiet)
        text = self._named(piece.name, 28)
        if piece.problem is not None or piece.folder is None:
            text.append("cannot be opened: choose it to see why", quiet)
        elif piece.finished:
            text.append(f"finished, {piece.folder.rows} rows", quiet)
        else:
            text.append(f"row {piece.position.row + 1} of {piece.folder.rows}", plain)
            if piece.last_stitched is not None:
                text.append(f"   {piece.last_stitched.astimezone():%d %b %Y, %H:%M}", quiet)
        return Option(text, id=f"piece:{piece.path}")

    def _file(self, file: Path) -> Text:
        text = self._named(file.name, 36)
        text.append(shown(str(file.parent)), on_any_ground(self._dress.quiet))
        return text

    def _named(self, name: str, width: int) -> Text:
        text = Text()
        text.append(f"   {column(shown(name), width)} ", on_any_ground(self._dress.text(bold=True)))
        return text


def startable_files() -> Iterator[Path]:
    """Designs and patterns here, in `patterns/` here, and those that come with the tracker.

    A pattern whose design lies beside it is left out: the design says the same.
    """
    seen = set()
    here = Path()
    package = Path(__file__).parents[2]
    for folder in (here, here / "patterns", package / "patterns", package.parent / "patterns"):
        try:
            names = sorted(path for path in folder.iterdir() if path.name.endswith(".toml"))
        except OSError:
            continue
        designs = {p.name.removesuffix(".design.toml") for p in names if ".design." in p.name}
        for path in names:
            stem, _, ending = path.name.removesuffix(".toml").rpartition(".")
            wanted = ending == "design" or (ending == "pattern" and stem not in designs)
            if wanted and path.is_file() and path.resolve() not in seen:
                seen.add(path.resolve())
                yield path
