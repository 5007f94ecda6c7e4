import os
import subprocess
import sys
from pathlib import Path

import pytest
from outlines import BAND, NOON, after, started

import tracker
from tracker.progress.durable import SaveError
from tracker.progress.opened import open_piece
from tracker.progress.position import START, Position
from tracker.progress.state import Moved

HOLDER = """
import sys
from filelock import FileLock
lock = FileLock(sys.argv[1])
lock.acquire()
print("held", flush=True)
sys.stdin.read()
"""


def files(folder: Path) -> dict[str, bytes]:
    """Every file of a folder and what is in it."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_second_window_reads_only(tmp_path: Path) -> None:
    """It sees the place, says why it cannot write, and writes nothing; later it can."""
    folder = started(tmp_path)
    with open_piece(folder, BAND) as first:
        first.record(Moved(NOON, Position(1, 0)))
        with open_piece(folder, BAND) as second:
            assert second.read_only
            assert "another window" in second.notices[0]
            assert first.progress.position == second.progress.position
            with pytest.raises(SaveError, match="for reading only"):
                second.record(Moved(after(1), Position(1, 1)))
        first.record(Moved(after(2), Position(1, 2)))
    with open_piece(folder, BAND) as third:
        assert not third.read_only
        assert Position(1, 2) == third.progress.position


def test_another_process_holds_the_piece(tmp_path: Path) -> None:
    """The lock holds between processes and ends with the one that had it, even when killed."""
    folder = started(tmp_path)
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(folder.path / "piece.lock")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    try:
        assert holder.stdout is not None
        assert b"held\n" == holder.stdout.readline()
        with open_piece(folder, BAND) as piece:
            assert piece.read_only
    finally:
        holder.kill()
        holder.communicate()
    with open_piece(folder, BAND) as piece:
        assert not piece.read_only


def test_reading_only_changes_no_byte(tmp_path: Path) -> None:
    """Not even a torn last line is touched, no file is added; the notice says what is left out."""
    folder = started(tmp_path)
    with open_piece(folder, BAND) as piece:
        piece.record(Moved(NOON, Position(1, 0)))
        piece.record(Moved(after(9), Position(1, 1)))
    torn = folder.journal_path.read_bytes()[:-5]
    folder.journal_path.write_bytes(torn)
    before = files(folder.path)
    with open_piece(folder, BAND, read_only=True) as piece:
        assert Position(1, 0) == piece.progress.position
        assert ("the last line is not written to its end: it is left out here",) == piece.notices
    assert before == files(folder.path)


def test_reading_only_without_a_journal_makes_none(tmp_path: Path) -> None:
    """The piece stands at its first step, and the folder stays as it is."""
    folder = started(tmp_path)
    folder.journal_path.unlink()
    with open_piece(folder, BAND, read_only=True) as piece:
        assert START == piece.progress.position
        assert piece.notices
    assert not folder.journal_path.exists()


def test_nonsense_is_refused_before_anything_is_written(tmp_path: Path) -> None:
    """A place outside the pattern is the caller's mistake; the journal does not get it."""
    folder = started(tmp_path)
    before = folder.journal_path.read_bytes()
    with open_piece(folder, BAND) as piece:
        with pytest.raises(ValueError, match="the pattern has no row 7"):
            piece.record(Moved(NOON, Position(6, 1)))
        assert START == piece.progress.position
    assert before == folder.journal_path.read_bytes()


def test_after_closing_nothing_is_recorded(tmp_path: Path) -> None:
    """A closed piece refuses, and closing it again does no harm."""
    piece = open_piece(started(tmp_path), BAND)
    piece.close()
    piece.close()
    with pytest.raises(SaveError):
        piece.record(Moved(NOON, Position(1, 0)))


def test_no_file_is_left_open(tmp_path: Path) -> None:
    """Opening and closing many times keeps no descriptors."""
    folder = started(tmp_path)
    open_piece(folder, BAND).close()
    before = len(os.listdir("/dev/fd"))  # noqa: PTH208  (no paths, only how many)
    for _ in range(20):
        open_piece(folder, BAND).close()
    assert before == len(os.listdir("/dev/fd"))  # noqa: PTH208  (likewise)


def test_the_keeping_of_the_place_imports_no_screen() -> None:
    """Neither textual nor rich comes along."""
    code = (
        "import sys, tracker.progress.store, tracker.progress.opened\n"
        "print(sorted({'textual', 'rich'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(tracker.__file__).parents[1],
    )
    assert "[]\n" == done.stdout
