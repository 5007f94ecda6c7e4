"""Pieces renamed, put away, taken up and made again."""

import tomllib
from pathlib import Path

import pytest
from filelock import FileLock
from outlines import BAND, NOON, after, started
from weaving import a_design

from tracker.pattern.compiler import compile_design
from tracker.progress.durable import SaveError
from tracker.progress.opened import open_piece
from tracker.progress.piece import LOCK, PieceFolder
from tracker.progress.position import Position, end
from tracker.progress.shelf import checked_name, make_again, put, rename
from tracker.progress.state import Moved
from tracker.progress.store import Store


def shelves(home: Path) -> dict[str, str]:
    """The shelf of each piece."""
    return {piece.name: piece.shelf for piece in Store(home).pieces()}


def table(folder: PieceFolder) -> dict[str, object]:
    """What `piece.toml` says, read by the standard library."""
    return tomllib.loads((folder.path / "piece.toml").read_text("utf-8"))


def test_renaming_changes_the_name_alone(tmp_path: Path) -> None:
    """The folder and all else stay; the piece is found by its new name and not by the old one."""
    folder = started(tmp_path)
    before = table(folder)
    renamed = rename(Store(tmp_path), folder, "  For Ada ")

    assert "For Ada" == renamed.name
    assert folder.path == renamed.path
    assert before | {"name": "For Ada"} == table(folder)
    store = Store(tmp_path)
    assert [renamed] == [piece.folder for piece in store.find("for ada")]
    assert [] == store.find("Harbour lights")


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("", "needs a name"),
        ("   ", "needs a name"),
        ("x" * 81, "80 characters at most"),
        ("a\x1b[31mb", "cannot be shown"),
        ("a\u202eb", "cannot be shown"),
        ("SECOND", "called Second already"),
    ],
)
def test_a_name_that_cannot_be_had(tmp_path: Path, name: str, why: str) -> None:
    """It is refused in words, and the piece keeps its name; its own name it may have."""
    folder, _ = started(tmp_path), started(tmp_path, name="Second")
    with pytest.raises(ValueError, match=why):
        rename(Store(tmp_path), folder, name)

    assert "Harbour lights" == table(folder)["name"]
    assert "HARBOUR lights" == checked_name(Store(tmp_path), folder, "HARBOUR lights")


def test_what_a_newer_version_wrote_is_kept(tmp_path: Path) -> None:
    """A key that is not known here is still there after a change."""
    folder = started(tmp_path)
    file = folder.path / "piece.toml"
    file.write_text(f'{file.read_text("utf-8")}notes = "for the fair"\n', "utf-8")
    put(folder, "set aside", NOON)

    assert "for the fair" == table(folder)["notes"]


def test_a_piece_goes_from_shelf_to_shelf(tmp_path: Path) -> None:
    """Each shelf in turn; in hand again, the file is as it was at first."""
    folder = started(tmp_path)
    first = (folder.path / "piece.toml").read_bytes()
    for shelf in ("set aside", "finished", "set aside"):
        put(folder, shelf, NOON)
        assert {"Harbour lights": shelf} == shelves(tmp_path)
    put(folder, "in hand", NOON)

    assert {"Harbour lights": "in hand"} == shelves(tmp_path)
    assert first == (folder.path / "piece.toml").read_bytes()


def test_what_is_stitched_is_in_hand(tmp_path: Path) -> None:
    """A piece put away comes back by being stitched, whoever opens it; a finished one does not."""
    folder = started(tmp_path)
    put(folder, "set aside", NOON)
    with open_piece(folder, BAND) as piece:
        piece.record(Moved(after(-1), Position(1, 0)))
        assert {"Harbour lights": "set aside"} == shelves(tmp_path)
        piece.record(Moved(after(1), Position(1, 1)))
        assert {"Harbour lights": "in hand"} == shelves(tmp_path)
        piece.record(Moved(after(2), end(BAND)))
    put(folder, "set aside", after(3))

    assert {"Harbour lights": "finished"} == shelves(tmp_path)


@pytest.mark.parametrize("key", ["set_aside", "finished"])
def test_a_shelf_that_makes_no_sense(tmp_path: Path, key: str) -> None:
    """A time that is none is a problem of the piece, named by its key."""
    folder = started(tmp_path)
    file = folder.path / "piece.toml"
    file.write_text(f'{file.read_text("utf-8")}{key} = "long ago"\n', "utf-8")
    (listed,) = Store(tmp_path).pieces()

    assert listed.problem is not None
    assert [key] == [problem.where for problem in listed.problem.problems]


def test_a_piece_open_elsewhere_is_left_alone(tmp_path: Path) -> None:
    """Its name and shelf are not changed under the hands of whoever stitches it."""
    folder = started(tmp_path)
    before = table(folder)
    with FileLock(folder.path / LOCK):
        for change in (
            lambda: rename(Store(tmp_path), folder, "Other"),
            lambda: put(folder, "finished", NOON),
        ):
            with pytest.raises(SaveError, match="open in another window"):
                change()

    assert before == table(folder)
    put(folder, "finished", NOON)


def test_made_again_it_is_a_piece_of_its_own(tmp_path: Path) -> None:
    """The same pattern to the byte, another name, the first step; the old piece stays."""
    compiled = compile_design(a_design(2, 6))
    pattern = compiled.pattern
    store = Store(tmp_path)
    first = store.start(
        compiled.text.encode(),
        name=pattern.name,
        digest=pattern.digest,
        design_digest=pattern.design,
        rows=6,
        source=tmp_path / "harbour.design.toml",
    )
    with open_piece(first, pattern) as piece:
        piece.record(Moved(after(1e9), end(pattern)))
    again = make_again(store, first)

    assert (f"{pattern.name} 2", first.source) == (again.name, again.source)
    assert first.pattern_path.read_bytes() == again.pattern_path.read_bytes()
    with open_piece(again, pattern) as piece:
        assert Position(0, 0) == piece.progress.position
    assert {pattern.name: "finished", again.name: "in hand"} == shelves(tmp_path)
    assert [again, first] == [
        p.folder for p in sorted(store.find(pattern.digest), key=lambda p: p.finished)
    ]


def test_a_long_journal_is_listed_by_its_end(tmp_path: Path) -> None:
    """Read quickly or in full, the list says the same; damage is found by the full reading."""
    folder = started(tmp_path)
    with open_piece(folder, BAND) as piece:
        for i in range(200):
            piece.record(Moved(after(i), Position(1 + i % 3, 1)))
    store = Store(tmp_path)
    assert store.pieces() == store.pieces(checked=False)

    data = folder.journal_path.read_bytes()
    for torn in (b"20", b'202 = "2026-11-25T12:03:20.000Z at row 6 step 1 ~00000000"'):
        folder.journal_path.write_bytes(data + torn)
        assert store.pieces() == store.pieces(checked=False)
    folder.journal_path.write_bytes(data.replace(b"row 2", b"row 3", 1))
    (listed,) = store.pieces()
    assert listed.problem is not None
    (quick,) = store.pieces(checked=False)
    assert Position(2, 1) == quick.position
