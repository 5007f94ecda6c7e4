import errno
import itertools
import os
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import recorder

from tracker.progress import durable, journal
from tracker.progress.durable import SaveError
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.position import Position
from tracker.progress.state import Moved
from tracker.progress.store import Store

FIRST = Moved(recorder.EVENING, Position(0, 1))
SECOND = Moved(recorder.EVENING.replace(minute=1), Position(1, 0))
THIRD = Moved(recorder.EVENING.replace(minute=2), Position(1, 1))


def opened(home: Path) -> OpenPiece:
    """The recorder's piece, open in this process."""
    (listed,) = Store(home).pieces()
    assert listed.folder is not None
    return open_piece(listed.folder, recorder.LONG)


@pytest.fixture
def piece(tmp_path: Path) -> Iterator[OpenPiece]:
    """A piece with one event in its journal."""
    recorder.begin(tmp_path)
    with opened(tmp_path) as piece:
        piece.record(FIRST)
        yield piece


def failing(number: int, times: int = 1, part: int = 0) -> Callable[[int, bytes], int]:
    """An `os.write` that writes `part` bytes, then fails `times` times, then works."""
    real, left = os.write, [part, *[-1] * times]

    def write(fd: int, data: bytes) -> int:
        what = left.pop(0) if left else None
        if what is None:
            return real(fd, data)
        if what > 0:
            return real(fd, bytes(data)[:what])
        if what == 0:
            what = left.pop(0)
        raise OSError(number, os.strerror(number))

    return write


@pytest.mark.parametrize("part", [0, 1, 20, 50])
@pytest.mark.parametrize(
    ("number", "why"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EIO, "the disk reported a fault"),
        (errno.EDQUOT, "your share of the disk is used up"),
        (errno.EFBIG, "the file may not grow any further"),
        (errno.EROFS, "this disk may only be read"),
        (errno.EACCES, "the permission is missing"),
        (errno.ENODEV, "no such device"),
    ],
)
def test_a_failed_write_loses_nothing(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch, number: int, why: str, part: int
) -> None:
    """However much was written: the file is as before, the place goes on, then all is saved."""
    path = piece.folder.journal_path
    before = path.read_bytes()
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", failing(number, part=part, times=2))
        piece.record(SECOND)
        assert before == path.read_bytes()
        assert (SECOND.position, (SECOND,)) == (piece.progress.position, piece.unsaved.events)
        assert piece.unsaved.words().startswith(f"NOT SAVED: 1 move only in memory: {why}")
        assert not piece.save()
        assert before == path.read_bytes()

    piece.record(THIRD)
    assert () == piece.unsaved.events
    assert "" == piece.unsaved.words()
    piece.close()
    written = path.read_text("ascii")[len(before) :].splitlines()
    assert ["at row 2 step 1", "at row 2 step 2"] == [
        line.split(" ", 3)[3][:15] for line in written
    ]
    with open_piece(piece.folder, recorder.LONG) as again:
        assert THIRD.position == again.progress.position
        assert () == again.notices


@pytest.mark.parametrize("name", ["write", "fdatasync", "stat", "fstat", "lseek", "read"])
def test_each_call_fails_in_turn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Whichever call fails, for once or from then on, all events are there in order in the end."""
    moves = [Moved(recorder.EVENING.replace(minute=n), Position(n, 1)) for n in range(1, 6)]
    real = getattr(os, name)
    failed = 0
    numbers = itertools.cycle([errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.ENOENT])
    for (first, times), number in zip(itertools.product(range(3), (1, 99)), numbers):  # noqa: B905  one is endless
        home = tmp_path / f"{first}-{times}"
        recorder.begin(home)
        with opened(home) as piece:
            calls = itertools.count()

            def call(
                *arguments: object,
                calls: Iterator[int] = calls,
                first: int = first,
                times: int = times,
                number: int = number,
                **more: object,
            ) -> object:
                nonlocal failed
                if first <= next(calls) < first + times:
                    failed += 1
                    raise OSError(number, os.strerror(number))
                return real(*arguments, **more)

            for move in moves:
                with monkeypatch.context() as patch:
                    patch.setattr(os, name, call)
                    assert move.position == piece.record(move).position
            assert piece.save()
            assert piece.beside is None
            path = piece.folder.journal_path
            texts = journal.read(path).texts
        told = [text.split(" ", 1)[1] for text in texts[1:]]
        assert ["opened", *(f"at row {n + 1} step 2" for n in range(1, 6))] == told
    assert failed > 10


def test_an_event_is_one_write_and_one_sync(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The line goes out whole, then the disk is waited for, and that is all there is."""
    write, sync, calls = os.write, os.fdatasync, []

    def written(fd: int, data: bytes) -> int:
        calls.append(f"write {bytes(data).count(10)} line")
        return write(fd, data)

    def synced(fd: int) -> None:
        calls.append("sync")
        sync(fd)

    monkeypatch.setattr(os, "write", written)
    monkeypatch.setattr(os, "fdatasync", synced)
    for step in range(60):
        piece.record(Moved(recorder.EVENING.replace(minute=step), Position(step, 1)))
    assert ["write 1 line", "sync"] * 60 == calls


def test_a_write_in_small_pieces_is_finished(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A system that takes seven bytes at a time gets the whole line all the same."""
    real = os.write
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", lambda fd, data: real(fd, bytes(data)[:7]))
        piece.record(SECOND)
    table = tomllib.loads(piece.folder.journal_path.read_text("ascii"))

    assert " at row 2 step 1 ~" in table["journal"]["3"]


def test_a_write_that_takes_nothing_does_not_hang(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Zero bytes written is a failure, not a reason to try for ever."""
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", lambda _fd, _data: 0)
        piece.record(SECOND)
        assert piece.unsaved.any
    assert piece.save()


def test_a_failed_sync_is_no_acknowledgement(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """If the disk does not confirm, the line is taken back, even if that is not confirmed."""
    path = piece.folder.journal_path
    before = path.read_bytes()

    def fdatasync(_fd: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fdatasync", fdatasync)
        for count in (1, 2, 3):
            piece.record(SECOND)
            assert before == path.read_bytes()
            assert ("the disk reported a fault", count) == (
                piece.unsaved.why,
                len(piece.unsaved.events),
            )
            assert FIRST.position == piece.unsaved.stands
    assert piece.save()
    assert path.read_bytes().startswith(before)
    assert SECOND.position == piece.unsaved.stands


def test_a_line_that_cannot_be_taken_back_at_once_is_taken_back_later(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Half a line stays while the disk refuses everything; the next try removes it first."""
    path = piece.folder.journal_path
    before = path.read_bytes()

    def ftruncate(_fd: int, _length: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(os, "ftruncate", ftruncate)
        patch.setattr(os, "write", failing(errno.ENOSPC, part=30))
        piece.record(SECOND)
        assert len(before) + 30 == path.stat().st_size
        assert not piece.save()
        assert "the disk reported a fault" == piece.unsaved.why
        assert len(before) + 30 == path.stat().st_size
    assert piece.save()
    piece.close()
    with open_piece(piece.folder, recorder.LONG) as again:
        assert SECOND.position == again.progress.position
        assert () == again.notices


def test_an_interrupt_in_the_middle_of_a_write_loses_nothing(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A signal's exception comes through, and the half line does not stay."""
    real = os.write
    before = piece.folder.journal_path.read_bytes()

    def write(fd: int, data: bytes) -> int:
        real(fd, bytes(data)[:11])
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", write)
        with pytest.raises(KeyboardInterrupt):
            piece.record(SECOND)
    assert before == piece.folder.journal_path.read_bytes()
    assert piece.save()
    assert SECOND.position == piece.unsaved.stands


def test_a_folder_that_may_only_be_read(tmp_path: Path) -> None:
    """The piece opens for reading, says why, and refuses to record."""
    recorder.begin(tmp_path)
    (listed,) = Store(tmp_path).pieces()
    listed.path.chmod(0o500)
    try:
        if os.access(listed.path, os.W_OK):
            pytest.skip("this user may write everywhere")
        with opened(tmp_path) as piece:
            assert piece.read_only
            assert ("for reading only: the permission is missing",) == piece.notices
            with pytest.raises(SaveError):
                piece.record(FIRST)
    finally:
        listed.path.chmod(0o700)


def test_a_torn_line_that_cannot_be_kept_aside_stays(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With a full disk nothing is cut; the piece opens for reading and says so."""
    piece.close()
    path = piece.folder.journal_path
    torn = path.read_bytes() + b'3 = "2026'
    path.write_bytes(torn)
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", failing(errno.ENOSPC, times=9))
        with open_piece(piece.folder, recorder.LONG) as again:
            assert again.read_only
            assert FIRST.position == again.progress.position
            assert "the disk is full" in again.notices[0]
    assert torn == path.read_bytes()
    assert [] == list(piece.folder.path.glob("journal.torn*"))
    with open_piece(piece.folder, recorder.LONG) as again:
        assert not again.read_only
        assert b'3 = "2026' == (piece.folder.path / "journal.torn-1").read_bytes()


@pytest.mark.parametrize("working", [0, 1, 2])
def test_shortening_that_fails_leaves_a_journal(
    piece: OpenPiece, monkeypatch: pytest.MonkeyPatch, working: int
) -> None:
    """Whichever of its replacements fails, the piece opens where it was and goes on."""
    monkeypatch.setattr(journal, "LINES_KEPT", 3)
    piece.record(SECOND)
    piece.record(THIRD)
    expected = piece.progress
    piece.close()
    real, calls = os.fsync, iter(range(100))

    def fsync(fd: int) -> None:
        if next(calls) == working:
            raise OSError(errno.EIO, "Input/output error")
        real(fd)

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", fsync)
        with open_piece(piece.folder, recorder.LONG) as again:
            assert expected == again.progress
            assert not again.read_only
            assert (
                "the journal could not be shortened: the disk reported a fault",
            ) == again.notices
            again.record(Moved(recorder.EVENING.replace(minute=3), Position(1, 2)))
    with open_piece(piece.folder, recorder.LONG) as again:
        assert Position(1, 2) == again.progress.position


def test_nothing_is_left_beside_a_file_that_could_not_be_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old bytes stay and the temporary file goes, whatever fails."""
    file = tmp_path / "kept"
    durable.replace(file, b"old")
    for name in ("write", "fsync", "rename"):
        with monkeypatch.context() as patch:

            def fail(*_args: object) -> None:
                raise OSError(errno.EIO, "Input/output error")

            if name == "rename":
                patch.setattr(Path, "replace", fail)
            else:
                patch.setattr(os, name, fail)
            with pytest.raises(OSError, match="Input/output"):
                durable.replace(file, b"new")
        assert [file] == list(tmp_path.iterdir())
        assert b"old" == file.read_bytes()
    durable.replace(file, b"new")
    assert b"new" == file.read_bytes()
