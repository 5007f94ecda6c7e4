"""A journal that another program changes while the piece is open: both are kept, nothing mixed."""

import os
import shutil
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import recorder

from tracker.progress import chain, durable, journal
from tracker.progress.durable import SaveError
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.others import find_others, put_by, strangers, take
from tracker.progress.piece import PieceFolder
from tracker.progress.position import Position
from tracker.progress.state import Lost, Moved
from tracker.progress.store import Store
from tracker.progress.words import written

HERE, THERE = Position(1, 0), Position(7, 1)


def move(position: Position, minute: int = 0) -> Moved:
    """A move, so long into the evening."""
    return Moved(recorder.EVENING + timedelta(minutes=minute), position)


FIRST, SECOND, THIRD = move(Position(0, 1)), move(HERE, 1), move(Position(1, 1), 2)


def only(home: Path) -> PieceFolder:
    """The folder of the only piece."""
    (listed,) = Store(home).pieces()
    assert listed.folder is not None
    assert listed.problem is None
    return listed.folder


@pytest.fixture
def folder(tmp_path: Path) -> PieceFolder:
    """A piece with one move in its journal."""
    recorder.begin(tmp_path)
    folder = only(tmp_path)
    with open_piece(folder, recorder.LONG) as piece:
        piece.record(FIRST)
    return folder


@pytest.fixture
def piece(folder: PieceFolder) -> Iterator[OpenPiece]:
    """The piece, open."""
    with open_piece(folder, recorder.LONG) as piece:
        yield piece


def grown(data: bytes, *events: Moved) -> bytes:
    """The journal with moves made elsewhere."""
    mark = chain.scan(data, "").mark
    for event in events:
        line, mark = chain.line(mark, written(event, recorder.LONG.row_count))
        data += line
    return data


def altered(path: Path, change: str) -> bytes:
    """What another program leaves in the journal's place."""
    data = path.read_bytes()
    if change == "grown":
        with path.open("ab") as file:
            file.write(grown(data, move(THERE))[len(data) :])
    elif change == "replaced":
        durable.replace(path, grown(data, move(THERE)))
    elif change == "shorter":
        os.truncate(path, data.rindex(b"\n", 0, -1) + 1)
    elif change == "same length":
        lines = data.splitlines(keepends=True)
        at_other = grown(b"".join(lines[:-1]), move(Position(0, 0)))
        assert len(data) == len(at_other)
        path.write_bytes(at_other)
    else:
        path.write_bytes(b"\xff what a sync program never finished")
    return path.read_bytes()


CHANGES = ["grown", "replaced", "shorter", "same length", "junk"]


@pytest.mark.parametrize("change", CHANGES)
def test_both_are_kept(piece: OpenPiece, change: str) -> None:
    """Their bytes stay to the last; all of ours is in a journal of its own, whole and readable."""
    path = piece.folder.journal_path
    theirs = altered(path, change)
    piece.record(Lost(recorder.EVENING, "tA", 2))
    piece.record(SECOND)
    piece.record(THIRD)
    assert () == piece.unsaved.events
    assert theirs == path.read_bytes()
    beside = path.with_name("journal.other-1.toml")
    assert beside == piece.beside
    progress = journal.replay(beside, journal.read(beside), recorder.LONG)
    assert piece.progress == progress
    assert (("tA", 2),) == progress.lost
    assert frozenset() == piece.new_strangers


def test_moved_to_a_changed_pattern_elsewhere(piece: OpenPiece) -> None:
    """What goes on here is kept apart from a journal that nobody would read again, and is named."""
    file = piece.folder.path / "piece.toml"
    before = piece.folder.journal_path.read_bytes()
    durable.replace(file, file.read_bytes() + b"moved = 1\n")
    os.utime(file.parent, ns=(0, 0))  # two looks within a tick of the clock see no change
    piece.record(SECOND)
    assert "journal.other-1.toml" in os.listdir(piece.folder.path)  # noqa: PTH208  (names)
    assert before == piece.folder.journal_path.read_bytes()
    assert () == piece.unsaved.events
    assert {"journal.other-1.toml"} == strangers(piece.folder.path)


def test_changed_again(piece: OpenPiece) -> None:
    """If the journal of its own is changed too, there is a second one."""
    altered(piece.folder.journal_path, "grown")
    piece.record(SECOND)
    assert piece.beside is not None
    altered(piece.beside, "grown")
    piece.record(THIRD)
    assert "journal.other-2.toml" == piece.beside.name
    assert () == piece.unsaved.events


def test_a_copy_with_the_same_bytes_is_gone_on_with(piece: OpenPiece) -> None:
    """A program that put back what was there, or a drive put back in, parts nothing."""
    path = piece.folder.journal_path
    durable.replace(path, path.read_bytes())
    piece.record(SECOND)
    piece.record(THIRD)
    assert (None, ()) == (piece.beside, piece.unsaved.events)
    contents = journal.read(path)
    assert THIRD.position == journal.replay(path, contents, recorder.LONG).position


def test_half_a_line_of_ours_and_then_theirs(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a failed write left is cut off only if it is that: theirs behind it is no half line."""
    path = piece.folder.journal_path
    before, real = path.read_bytes(), os.write

    def refuse(*_: object) -> None:
        raise OSError(5, "Input/output error")

    def half(fd: int, data: bytes) -> int:
        real(fd, bytes(data)[:20])
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "ftruncate", refuse)
        patch.setattr(os, "write", half)
        piece.record(SECOND)
    assert len(before) + 20 == path.stat().st_size
    path.write_bytes(before + b"x" * 20)
    assert piece.save()
    assert before + b"x" * 20 == path.read_bytes()
    assert piece.beside is not None


def test_no_room_for_a_journal_of_its_own(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Parted on a full disk: kept in memory until there is room."""
    theirs = altered(piece.folder.journal_path, "grown")

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        piece.record(SECOND)
        assert "the disk is full" == piece.unsaved.why
    assert ["journal.toml"] == sorted(p.name for p in piece.folder.path.glob("journal*"))
    assert piece.save()
    assert theirs == piece.folder.journal_path.read_bytes()
    assert piece.beside is not None


@pytest.mark.parametrize("name", ["journal (copy 2).toml", "journal.sync-1.toml", "Journal.TOML"])
def test_a_copy_that_comes_while_the_piece_is_open(piece: OpenPiece, name: str) -> None:
    """Any name of that kind is noticed at the next move, and not written to."""
    copy = piece.folder.path / name
    data = grown(piece.folder.journal_path.read_bytes(), move(THERE))
    copy.write_bytes(data)
    os.utime(copy.parent, ns=(0, 0))  # two looks within a tick of the clock see no change
    piece.record(SECOND)
    assert {name} == piece.new_strangers
    assert (None, ()) == (piece.beside, piece.unsaved.events)
    assert data == copy.read_bytes()


def test_what_is_no_other_journal(folder: PieceFolder) -> None:
    """Our own files, folders, links and other names are left alone."""
    for name in (
        "journal.before.toml",
        "journal-2.toml",
        "journal-2.before.toml",
        "notes.toml",
        "journal.kept-1.toml",
        "journal.torn-1",
        ".journal.toml.x1",
    ):
        (folder.path / name).write_bytes(b"")
    (folder.path / "journal folder.toml").mkdir()
    (folder.path / "journal link.toml").symlink_to("journal.toml")
    os.mkfifo(folder.path / "journal pipe.toml")
    assert frozenset() == strangers(folder.path)


def test_others_are_found_with_how_far_they_got(folder: PieceFolder) -> None:
    """One that got further, one that parted, none that says less; and one that is damaged."""
    data = folder.journal_path.read_bytes()
    (folder.path / "journal (1).toml").write_bytes(grown(data, move(THERE, 9)))
    (folder.path / "journal (2).toml").write_bytes(data)
    (folder.path / "journal (3).toml").write_bytes(data[: data.rindex(b"\n", 0, -1) + 1])
    (folder.path / "journal (4).toml").write_bytes(data.replace(b"opened", b"closed"))
    with open_piece(folder, recorder.LONG) as piece:
        piece.record(SECOND)
    with open_piece(folder, recorder.LONG) as piece:
        (further,) = piece.others
        assert further.progress is not None
        assert ("journal (1).toml", THERE) == (further.path.name, further.progress.position)
        assert not further.goes_on
        (notice,) = piece.notices
        assert "journal (4).toml" in notice
        assert "damaged" in notice


def test_a_copy_that_says_nothing_new_is_not_asked_about_later(
    folder: PieceFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before the journal is shortened, what it begins with is put by: it would seem to be new."""
    data = folder.journal_path.read_bytes()
    copy, further = (folder.path / f"journal ({number}).toml" for number in (1, 2))
    copy.write_bytes(data)
    further.write_bytes(grown(data, move(THERE, 9)))
    with open_piece(folder, recorder.LONG) as piece:
        piece.record(SECOND)
        piece.record(THIRD)
    assert copy.exists()
    monkeypatch.setattr(journal, "LINES_KEPT", 3)
    for _ in range(2):
        with open_piece(folder, recorder.LONG) as piece:
            assert [further] == [other.path for other in piece.others]
            assert THIRD.position == piece.progress.position
    assert not copy.exists()
    assert data == (folder.path / "journal.kept-1.toml").read_bytes()


def test_a_journal_beside_that_was_only_begun_is_not_asked_about(
    folder: PieceFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It may be the very same as the piece's own, which was shortened at the same opening."""
    with open_piece(folder, recorder.LONG) as piece:
        piece.record(SECOND)
        piece.record(THIRD)
    monkeypatch.setattr(journal, "LINES_KEPT", 3)
    with open_piece(folder, recorder.LONG):
        # What one leaves that is killed between beginning it and writing to it.
        beside = folder.path / "journal.other-1.toml"
        beside.write_bytes(folder.journal_path.read_bytes())
    for place in (Position(1, 2), Position(2, 0), Position(2, 1)):
        with open_piece(folder, recorder.LONG) as piece:
            assert () == piece.others
            piece.record(move(place, 5))
    assert not beside.exists()


def test_what_said_nothing_new_says_nothing_new_after_another_was_taken(
    folder: PieceFolder,
) -> None:
    """A copy of the piece's own journal is put by with it, and not asked about ever after."""
    data = folder.journal_path.read_bytes()
    copy, other = (folder.path / f"journal ({number}).toml" for number in (1, 2))
    copy.write_bytes(data)
    lines = data.splitlines(keepends=True)
    other.write_bytes(grown(b"".join(lines[:-1]), move(THERE, 9)))
    (found,) = find_others(folder, recorder.LONG)
    assert other == found.path
    take(folder, recorder.LONG, found)
    assert () == find_others(folder, recorder.LONG)
    assert frozenset() == strangers(folder.path)
    kept = {path.read_bytes() for path in folder.path.glob("journal.kept-*.toml")}
    assert {data, folder.journal_path.read_bytes()} == kept


def test_taking_the_other_loses_nothing(folder: PieceFolder, tmp_path: Path) -> None:
    """It becomes the journal, ours is kept to the byte, and nothing is asked again."""
    ours = folder.journal_path.read_bytes()
    theirs = grown(ours, move(THERE, 9))
    (folder.path / "journal (1).toml").write_bytes(theirs + b'3 = "2026')
    (other,) = find_others(folder, recorder.LONG)
    assert other.goes_on
    with open_piece(folder, recorder.LONG), pytest.raises(SaveError, match="open elsewhere"):
        take(folder, recorder.LONG, other)
    take(folder, recorder.LONG, other)
    assert theirs == folder.journal_path.read_bytes()
    assert ours == (folder.path / "journal.kept-1.toml").read_bytes()
    assert theirs + b'3 = "2026' == (folder.path / "journal.kept-2.toml").read_bytes()
    assert () == find_others(folder, recorder.LONG)
    with open_piece(only(tmp_path), recorder.LONG) as piece:
        assert THERE == piece.progress.position
        piece.record(move(Position(8, 0), 10))


def attempt(what: Callable[[], None]) -> list[str]:
    """Why something could not be saved; nothing if it could."""
    try:
        what()
    except SaveError as error:
        return [error.why]
    return []


@pytest.mark.parametrize("name", ["write", "fsync", "replace", "unlink"])
def test_taking_that_fails_may_be_tried_again(
    folder: PieceFolder, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Whichever call fails, both journals are there, whole, and the next try takes it."""
    ours = folder.journal_path.read_bytes()
    theirs = grown(ours, move(THERE, 9))
    owner = os if name in ("write", "fsync") else Path
    for failing in range(9):
        for old in folder.path.glob("journal.kept*"):
            old.unlink()
        folder.journal_path.write_bytes(ours)
        (folder.path / "journal (1).toml").write_bytes(theirs)
        (other,) = find_others(folder, recorder.LONG)
        calls, real = iter(range(1000)), getattr(owner, name)

        def call(
            *arguments: object,
            calls: Iterator[int] = calls,
            real: object = real,
            failing: int = failing,
            **more: object,
        ) -> object:
            if next(calls) == failing:
                raise OSError(5, "Input/output error")
            assert callable(real)
            return real(*arguments, **more)

        with monkeypatch.context() as patch:
            patch.setattr(owner, name, call)
            whys = attempt(lambda other=other: take(folder, recorder.LONG, other))
        if not whys:
            break
        assert ["the disk reported a fault"] == whys
        kept = {path.read_bytes() for path in folder.path.glob("journal*")}
        assert {ours, theirs} == kept
    assert failing >= 1
    assert theirs == folder.journal_path.read_bytes()


def test_keeping_ones_own_puts_the_other_by(folder: PieceFolder) -> None:
    """It is under another name, to the byte, and nothing is asked again."""
    ours = folder.journal_path.read_bytes()
    theirs = grown(ours, move(THERE, 9))
    (folder.path / "journal (1).toml").write_bytes(theirs)
    (other,) = find_others(folder, recorder.LONG)
    put_by(folder, other)
    assert () == find_others(folder, recorder.LONG)
    assert ours == folder.journal_path.read_bytes()
    assert theirs == (folder.path / "journal.kept-1.toml").read_bytes()


def test_the_folder_is_removed_while_open(piece: OpenPiece, tmp_path: Path) -> None:
    """Kept in memory and said so; put back where it was, it is gone on with."""
    away = tmp_path / "away"
    piece.folder.path.rename(away)
    piece.record(SECOND)
    assert "NOT SAVED: 1 move only in memory: the piece's file or its folder is gone" in (
        piece.unsaved.words()
    )
    assert not piece.folder.path.exists()
    shutil.copytree(away, piece.folder.path)
    assert piece.save()
    assert (None, HERE) == (piece.beside, piece.unsaved.stands)
    piece.close()
    assert HERE == Store(tmp_path).pieces()[0].position
