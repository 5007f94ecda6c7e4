"""The keys of the bench: one table for bindings and footer, one function a key."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Protocol

from textual.binding import Binding
from textual.screen import Screen

from tracker.app.screens.asking import Ask
from tracker.exchange import export_piece
from tracker.problems import ProblemsError
from tracker.progress.durable import SaveError
from tracker.progress.exported import ENDING
from tracker.progress.piece import LONGEST_NAME, PieceFolder, Shelf
from tracker.progress.shelf import checked_name, make_again, put, rename
from tracker.progress.state import utc_now
from tracker.progress.store import Listed, Store
from tracker.records import record

LONGEST_PATH = 1000


@record
class BenchKey:
    """Something that can be asked for at the bench."""

    id: str
    keys: str
    """As Textual binds them."""
    shown: str
    """As the footer names them."""
    label: str


BENCH_KEYS = (
    BenchKey("choose", "space,right", "Enter", "take up"),
    BenchKey("search", "slash", "/", "search"),
    BenchKey("rename", "r", "r", "rename"),
    BenchKey("shelve", "a", "a", "set aside/take up"),
    BenchKey("finish", "f", "f", "finish"),
    BenchKey("again", "m", "m", "make again"),
    BenchKey("export", "x", "x", "export"),
    BenchKey("new", "n", "n", "new band"),
    BenchKey("edit", "e", "e", "edit"),
    BenchKey("supplies", "i", "i", "supplies"),
    BenchKey("learn", "l", "l", "learn"),
    BenchKey("leave_bench", "q", "q", "quit"),
)

SCREENS = ("new", "edit", "supplies", "learn")
"""The keys that lead to another screen."""


def bench_bindings() -> list[Binding]:
    """Textual's bindings for the table; Enter is the list's own."""
    return [Binding(key.keys, f"do('{key.id}')", key.label, id=key.id) for key in BENCH_KEYS]


class Host(Protocol):
    """The screen that shows the pieces."""

    store: Store

    def ask(self, screen: Screen[Any], then: Callable[[object], None]) -> None:
        """Put a question; `then` gets the answer, and is not called without one."""
        ...

    def fill(self, *, stay: bool = False) -> object:
        """List everything anew; with `stay` the next one comes under the bar."""
        ...

    def say(self, notices: Iterable[str]) -> None:
        """Show notices."""
        ...


def _change(host: Host, what: Callable[[], str], *, stay: bool = False) -> None:
    """Change a piece, and say so once that is on the disk; or say why it could not be."""
    try:
        said = [what()]
    except ProblemsError as error:
        said = error.lines()
    except (SaveError, ValueError) as error:
        said = [str(error)]
    host.fill(stay=stay)
    host.say(said)


def _rename(host: Host, _: Listed, folder: PieceFolder) -> None:
    def parse(text: str) -> str:
        try:
            return checked_name(host.store, folder, text)
        except ValueError as error:
            said = str(error)
            raise ValueError(said[:1].upper() + said[1:]) from None

    def renamed(name: object) -> None:
        def what() -> str:
            return f'"{folder.name}" is now called "{rename(host.store, folder, str(name)).name}".'

        _change(host, what)

    question = f'What shall "{folder.name}" be called?'
    host.ask(Ask(question, parse, value=folder.name, longest=LONGEST_NAME), renamed)


def _shelve(host: Host, piece: Listed, folder: PieceFolder) -> None:
    if piece.finished:
        host.say([f'"{folder.name}" is finished, every row of it; m makes it again.'])
        return
    shelf: Shelf = "set aside" if piece.shelf == "in hand" else "in hand"
    more = "; a takes it up again" if shelf == "set aside" else ""
    _put(host, folder, shelf, f'"{folder.name}" is {shelf}{more}.')


def _finish(host: Host, piece: Listed, folder: PieceFolder) -> None:
    if piece.shelf == "finished":
        _shelve(host, piece, folder)
        return
    said = f'"{folder.name}" counts as finished at row {piece.position.row + 1}; f takes that back.'
    _put(host, folder, "finished", said)


def _put(host: Host, folder: PieceFolder, shelf: Shelf, said: str) -> None:
    def what() -> str:
        put(folder, shelf, utc_now())
        return said

    _change(host, what, stay=True)


def _again(host: Host, _: Listed, folder: PieceFolder) -> None:
    def what() -> str:
        return f'"{make_again(host.store, folder).name}" is ready to be begun.'

    _change(host, what)


def _export(host: Host, _: Listed, folder: PieceFolder) -> None:
    def exported(out: object) -> None:
        def what() -> str:
            path, notices = export_piece(folder, str(out))
            return " ".join([f"Written to {path.absolute()}.", *(f"{n}." for n in notices)])

        _change(host, what)

    question = (
        f'Write "{folder.name}" with its progress to which file? On another machine, '
        "tracker import takes it in."
    )
    usual = f"{folder.slug}{ENDING}"
    host.ask(Ask(question, str, value=usual, longest=LONGEST_PATH), exported)


PIECE_KEYS: Mapping[str, Callable[[Host, Listed, PieceFolder], None]] = {
    "rename": _rename,
    "shelve": _shelve,
    "finish": _finish,
    "again": _again,
    "export": _export,
}
"""What is done with the piece under the bar."""
