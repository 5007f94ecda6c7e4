"""The opening screen: pieces in hand, set aside and finished; patterns and designs to start."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from tracker.app.lines import Run, column, fold, on_any_ground
from tracker.app.look import Dress
from tracker.app.screens.bench_keys import BENCH_KEYS, PIECE_KEYS, SCREENS, bench_bindings
from tracker.app.screens.sized import Sized
from tracker.app.widgets.notice import Notice
from tracker.app.widgets.piece_line import Glimpse, PieceLine, glimpse
from tracker.lesson.keeping import Lesson
from tracker.problems import ProblemsError, shown
from tracker.progress.piece import SHELVES, PieceFolder
from tracker.progress.store import Listed, Store
from tracker.records import record

TITLE = " The bench"
OFFER = "New here? l: a lesson of two minutes, on the real screen, with a small band of its own."
"""Said while there is no piece."""
WAITING = "The lesson waits where you left it: l goes on with it."
LONGEST_FOLDER = 32
"""Characters of a path that are shown: a line of 80 has so much room."""
HEADINGS = {"in hand": "Pieces in hand", "set aside": "Set aside", "finished": "Finished"}


class Bench(Sized):
    """Choose a piece to go on with, or a pattern to start."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *bench_bindings(),
        Binding("escape", "all", "all pieces", id="all"),
        Binding("down", "to_list", "to the list", id="to_list"),
    ]

    @record(frozen=False, slots=False)
    class Chosen(Message):
        """The beader wants to stitch this: a piece's folder or a file."""

        word: str

    @record(frozen=False, slots=False)
    class Looked(Message):
        """A piece has been looked into."""

        path: Path
        seen: Glimpse

    @record(frozen=False, slots=False)
    class Wanted(Message):
        """The beader wants another screen: "new", "edit" or "supplies" of what is highlighted."""

        what: str
        word: str

    def __init__(self, store: Store, dress: Dress, lesson: Lesson) -> None:
        super().__init__()
        self.store = store
        self._lesson = lesson
        self._dress = dress
        self._pieces: dict[Path, Listed] = {}
        self._files: list[Path] = []
        self._asking = False
        self._begun = False
        """Whether a new piece was chosen: when it is left, the bar is to lie on it."""
        self._seen: dict[Path, tuple[object, Glimpse]] = {}
        """What was looked into, each with what it holds for."""
        self._unseen: dict[Path, tuple[PieceFolder, int]] = {}
        """What is shown without its picture as yet, with the room for that; last shown last."""
        self._looking = False

    def compose(self) -> ComposeResult:
        """A title, what is wrong if anything, the list, what is searched for, the keys."""
        yield Static(Text(TITLE, self._dress.bar), id="where")
        yield Notice(id="notice")
        yield OptionList(id="choices")
        yield Input(id="search", placeholder="part of a name; Escape shows all", max_length=60)
        yield Static(id="foot")

    # --- what is there -------------------------------------------------------------------------

    def on_screen_resume(self) -> None:
        """Show the list, and what has been stitched meanwhile."""
        if self._asking:  # whoever asked goes on with the answer
            self._asking = False
            return
        problems = self.fill()
        if not self._pieces:
            problems.append(WAITING if self._lesson.begun else OFFER)
        self.say(problems)

    def wear(self, dress: Dress) -> None:
        """Show everything in another dress."""
        self._dress = dress
        self.query_one("#where", Static).update(Text(TITLE, dress.bar))
        self.on_resize()
        self.fill(stay=True)

    def on_resize(self) -> None:
        """Fold the keys over as many lines as they need."""
        runs: list[Run] = []
        for key in BENCH_KEYS:
            runs += [(f" {key.shown} {key.label} ", self._dress.foot)]
        lines = fold(runs, max(20, self.size.width), 0)
        foot = self.query_one("#foot", Static)
        foot.styles.height = len(lines)
        foot.update(Text("\n").join(Text.assemble(*line) for line in lines))

    def fill(self, *, stay: bool = False) -> list[str]:
        """List pieces and files anew; what is wrong, if anything."""
        try:
            pieces, problems = self.store.pieces(checked=False), []
        except ProblemsError as error:
            pieces, problems = [], error.lines()
        self._pieces = {piece.path: piece for piece in pieces}
        self._files = list(startable_files())
        self._show(stay=stay)
        return problems

    def say(self, notices: Iterable[str]) -> None:
        """Show notices, or take the last ones away if there are none."""
        most = max(1, self.size.height // 2)
        self.query_one(Notice).say_all(map(shown, notices), self._dress, most)

    def ask(self, screen: Screen[Any], then: Callable[[object], None]) -> None:
        """Put a question; `then` gets the answer, and is not called without one."""
        self._asking = True
        self.app.push_screen(screen, lambda answer: None if answer is None else then(answer))

    def _show(self, *, stay: bool = False) -> None:
        """Show what fits the search; the bar stays on what it was on, or where it was."""
        choices = self.query_one(OptionList)
        before, index = choices.highlighted_option, choices.highlighted
        options = list(self._options())
        choices.set_options(options)
        usable = [i for i, option in enumerate(options) if not option.disabled]
        same = [i for i in usable if before is not None and options[i].id == before.id]
        if self._begun:
            self._begun, same = False, []
        elif stay and index is not None:
            same = [i for i in usable if i >= index] or usable[-1:]
        choices.highlighted = next(iter(same or usable), None)
        if not self.query_one(Input).has_focus:
            choices.focus()

    def _options(self) -> Iterator[Option]:
        words = self.query_one(Input).value.casefold().split()
        fitting = [p for p in self._pieces.values() if _fits(p.name, words)]
        for shelf in SHELVES:
            on_it = [piece for piece in fitting if piece.shelf == shelf]
            if on_it or shelf == "in hand":
                rest = str(len(on_it)) if on_it else "none of that name" if words else "none yet"
                yield self._heading(HEADINGS[shelf], rest)
            for piece in on_it:
                yield Option(self._line(piece), id=f"piece:{piece.path}")
        files = [file for file in self._files if _fits(file.name, words)]
        none_here = "none of that name" if words else "no design here"
        yield self._heading("Start a new piece", "" if files else none_here)
        for file in files:
            yield Option(self._file(file), id=f"file:{file}")

    # --- looking into pieces, off the screen's own thread -----------------------------------------

    def _line(self, piece: Listed) -> PieceLine:
        stamp, seen = self._seen.get(piece.path, (None, None))
        if stamp != _stamp(piece):
            seen = None

        def wanted(room: int) -> None:
            if piece.folder is not None and piece.problem is None:
                self._unseen[piece.path] = (piece.folder, room)
                self.call_later(self._look)

        return PieceLine(piece, seen, self._dress, wanted)

    def _look(self) -> None:
        """Look into the piece that came in sight last, if nothing else is being looked into."""
        if self._looking or not self._unseen:
            return
        self._looking = True
        path, (folder, room) = self._unseen.popitem()
        self.run_worker(
            lambda: self.post_message(self.Looked(path, glimpse(folder, room))), thread=True
        )

    def on_bench_looked(self, event: Looked) -> None:
        """Show what was seen, and look into the next piece."""
        self._looking = False
        piece = self._pieces.get(event.path)
        if piece is not None:
            self._seen[event.path] = (_stamp(piece), event.seen)
            choices, id_ = self.query_one(OptionList), f"piece:{event.path}"
            if any(option.id == id_ for option in choices.options):
                choices.replace_option_prompt(id_, self._line(piece))
        self._look()

    # --- keys ------------------------------------------------------------------------------------

    def action_do(self, id_: str) -> None:
        """Do what a key of the table asks for."""
        choices = self.query_one(OptionList)
        if id_ == "leave_bench":
            self.app.exit()
        elif id_ == "choose":
            choices.action_select()
        elif id_ == "search":
            search = self.query_one(Input)
            search.display = True
            search.focus()
        elif id_ in SCREENS:
            word = _id_of(choices.highlighted_option).partition(":")[2]
            self.post_message(self.Wanted(id_, word))
        else:
            kind, _, word = (_id_of(choices.highlighted_option)).partition(":")
            piece = self._pieces.get(Path(word)) if kind == "piece" else None
            if piece is None:
                self.say(["That is done with a piece: choose one."])
            elif piece.folder is None:
                self.say(["That piece cannot be used: Enter tells why."])
            else:
                PIECE_KEYS[id_](self, piece, piece.folder)

    def action_all(self) -> None:
        """Give up the search."""
        search = self.query_one(Input)
        search.value = ""
        search.display = False
        self.query_one(OptionList).focus()

    def action_to_list(self) -> None:
        """From what is searched for to what was found."""
        self.query_one(OptionList).focus()

    def on_input_changed(self) -> None:
        """Show what fits."""
        self._show()

    def on_input_submitted(self) -> None:
        """Searched enough."""
        self.action_to_list()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Something was chosen."""
        kind, _, word = (event.option_id or "").partition(":")
        self._begun = kind == "file"
        self.post_message(self.Chosen(word))

    def _heading(self, text: str, rest: str) -> Option:
        said = Text()
        said.append(f"\n {text}", on_any_ground(self._dress.label))
        if rest:
            said.append(f"  {rest}", on_any_ground(self._dress.quiet))
        return Option(said, disabled=True)

    def _file(self, file: Path) -> Text:
        text = Text()
        bold = on_any_ground(self._dress.text(bold=True))
        text.append(f"   {column(shown(file.name), 36)} ", bold)
        text.append(_short(shown(str(file.parent))), on_any_ground(self._dress.quiet))
        return text


def _fits(name: str, words: list[str]) -> bool:
    folded = name.casefold()
    return all(word in folded for word in words)


def _id_of(option: Option | None) -> str:
    return (option.id or "") if option is not None else ""


def _stamp(piece: Listed) -> object:
    """What a glimpse of a piece holds for."""
    return piece.position, piece.last_stitched


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


def _short(folder: str) -> str:
    """The end of a folder's path, as far as there is room for it beside the names."""
    return folder if len(folder) <= LONGEST_FOLDER else f"…{folder[-LONGEST_FOLDER + 1 :]}"
