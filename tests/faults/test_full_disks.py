"""Disks that are really full, read only or gone: mounted for the test, or a limit of the system."""

import contextlib
import os
import resource
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import recorder

from tracker.progress import journal
from tracker.progress.opened import OpenPiece, open_piece
from tracker.progress.position import Position
from tracker.progress.state import Moved
from tracker.progress.store import Store


def moves(first: int, last: int) -> list[Moved]:
    """Moves to the rows from `first` to `last`, one each."""
    return [
        Moved(recorder.EVENING + timedelta(seconds=n), Position(n, 1)) for n in range(first, last)
    ]


def record(piece: OpenPiece, events: list[Moved]) -> None:
    """Stitch on."""
    for event in events:
        assert event.position == piece.record(event).position


def opened(home: Path) -> OpenPiece:
    """The recorder's piece."""
    (listed,) = Store(home).pieces()
    assert listed.folder is not None
    return open_piece(listed.folder, recorder.LONG)


def told(piece: OpenPiece) -> list[str]:
    """The moves that the journal tells, in their order."""
    path = piece.folder.journal_path
    return [text.split(" ", 1)[1] for text in journal.read(path).texts if " at " in text]


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of its own with room for 128 kB."""
    disk = tmp_path / "disk"
    disk.mkdir()
    done = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=128k", "tmpfs", str(disk)],
        capture_output=True,
        check=False,
    )
    if done.returncode != 0:
        pytest.skip("this user may mount no disks")
    try:
        yield disk
    finally:
        subprocess.run(["umount", "--lazy", str(disk)], check=False)


def fill(ballast: Path) -> None:
    """Fill the disk to its last byte."""
    with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while file.write(b"x" * 512):
            pass


def remounted(disk: Path, how: str) -> None:
    """Mount the disk otherwise."""
    subprocess.run(["mount", "-o", f"remount,{how}", str(disk)], check=True)


def test_a_disk_that_fills_up(disk: Path) -> None:
    """Stitched on over the brink, a line torn in the middle: all is there once there is room."""
    recorder.begin(disk)
    with opened(disk) as piece:
        record(piece, moves(1, 40))
        ballast = disk / "ballast"
        fill(ballast)
        record(piece, moves(40, 200))  # the last page of the journal takes some of them
        assert piece.unsaved.any
        assert "the disk is full; free some space" in piece.unsaved.words()
        stands = piece.unsaved.stands
        assert stands < piece.progress.position
        with open_piece(piece.folder, recorder.LONG, read_only=True) as other:
            assert stands == other.progress.position
        ballast.unlink()
        assert piece.save()
        record(piece, moves(200, 210))
        assert [f"at row {n + 1} step 2" for n in range(1, 210)] == told(piece)
    with opened(disk) as again:
        assert () == again.notices


def test_a_disk_that_may_only_be_read(disk: Path) -> None:
    """The piece can be looked at, says why, and can be gone on with once it may be written."""
    recorder.begin(disk)
    remounted(disk, "ro")
    with opened(disk) as piece:
        assert piece.read_only
        assert ("for reading only: this disk may only be read",) == piece.notices
    remounted(disk, "rw")
    with opened(disk) as piece:
        record(piece, moves(1, 3))
        assert not piece.unsaved.any


def test_a_drive_taken_off_and_put_back(disk: Path, tmp_path: Path) -> None:
    """Kept in memory while the folder is not there, and saved into the very journal again."""
    recorder.begin(disk)
    with opened(disk) as piece:
        record(piece, moves(1, 5))
        elsewhere = tmp_path / "elsewhere"
        elsewhere.mkdir()
        subprocess.run(["mount", "--move", str(disk), str(elsewhere)], check=False)
        if piece.folder.path.exists():  # some systems' mounts cannot be moved: hide it instead
            subprocess.run(["mount", "-t", "tmpfs", "tmpfs", str(disk)], check=True)
            back = ["umount", str(disk)]
        else:
            back = ["mount", "--move", str(elsewhere), str(disk)]
        record(piece, moves(5, 9))
        assert "the piece's file or its folder is gone" in piece.unsaved.words()
        assert Position(4, 1) == piece.unsaved.stands
        assert [] == list(disk.iterdir())
        subprocess.run(back, check=True)
        assert piece.save()
        assert [f"at row {n + 1} step 2" for n in range(1, 9)] == told(piece)


def test_a_limit_on_the_size_of_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system cuts a line in the middle: mended before the next try, all there in the end."""
    monkeypatch.setattr(sys, "dont_write_bytecode", True)  # those files would be cut too
    recorder.begin(tmp_path)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    with opened(tmp_path) as piece:
        record(piece, moves(1, 5))
        size = piece.folder.journal_path.stat().st_size
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (size + 100, before[1]))
            record(piece, moves(5, 9))
            assert "NOT SAVED: 3 moves only in memory: the file may not grow any further" in (
                piece.unsaved.words()
            )
            assert Position(5, 1) == piece.unsaved.stands
            assert size + 100 > piece.folder.journal_path.stat().st_size
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
            signal.signal(signal.SIGXFSZ, handler)
        record(piece, moves(9, 10))
        assert not piece.unsaved.any
        assert [f"at row {n + 1} step 2" for n in range(1, 10)] == told(piece)


def test_a_folder_without_its_permission(tmp_path: Path) -> None:
    """Who may not look into the folder any more stitches on, and is told."""
    recorder.begin(tmp_path)
    with opened(tmp_path) as piece:
        record(piece, moves(1, 3))
        piece.folder.path.chmod(0)
        try:
            if os.access(piece.folder.journal_path, os.R_OK):
                pytest.skip("this user may look everywhere")
            record(piece, moves(3, 5))
            assert "the permission is missing" in piece.unsaved.words()
        finally:
            piece.folder.path.chmod(0o700)
        assert piece.save()


def test_many_are_caught_up_with_in_portions(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A long evening on a full disk does not stop the beader for all of it at once."""
    recorder.begin(tmp_path)
    with opened(tmp_path) as piece:
        with monkeypatch.context() as patch:

            def full(_fd: int) -> None:
                raise OSError(28, "No space left on device")

            patch.setattr(os, "fdatasync", full)
            record(piece, moves(1, 500))
        assert "499 moves only in memory" in piece.unsaved.words()
        assert not piece.save()
        assert 300 == len(piece.unsaved.events)
    assert [f"at row {n + 1} step 2" for n in range(1, 500)] == told(piece)
