"""The lock of a piece, against the library that others lock files with."""

import errno
import fcntl
import os
import subprocess
import sys
from pathlib import Path

import pytest
from filelock import FileLock, Timeout

from tracker.progress.durable import reason
from tracker.progress.locking import Lock, TakenError


def test_one_holds_it(tmp_path: Path) -> None:
    """A second one is told so, in this program too, until the first has let go of it."""
    path = tmp_path / "lock"
    with Lock(path) as lock:
        for _ in range(2):
            with pytest.raises(TakenError):
                Lock(path)
    lock.release()
    with Lock(path):
        pass


def test_it_is_the_lock_that_others_know(tmp_path: Path) -> None:
    """A file locked by one of the two is locked for the other."""
    path = tmp_path / "lock"
    with FileLock(path), pytest.raises(TakenError):
        Lock(path)
    with Lock(path), pytest.raises(Timeout):
        FileLock(path).acquire(blocking=False)
    FileLock(path).acquire(blocking=False)


def test_a_killed_program_holds_nothing(tmp_path: Path) -> None:
    """The system lets go of it."""
    path = tmp_path / "lock"
    hold = (
        "import sys; from pathlib import Path; from tracker.progress.locking import Lock; "
        "lock = Lock(Path(sys.argv[1])); print('held', flush=True); sys.stdin.read()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", hold, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as holder:
        assert holder.stdout is not None
        assert b"held\n" == holder.stdout.readline()
        with pytest.raises(TakenError):
            Lock(path)
        holder.kill()
    with Lock(path):
        pass


def test_no_file_stays_open(tmp_path: Path) -> None:
    """Neither where it was taken nor where it was held."""
    path = tmp_path / "lock"
    first = os.open(os.devnull, os.O_RDONLY)
    os.close(first)
    with Lock(path), pytest.raises(TakenError):
        Lock(path)

    again = os.open(os.devnull, os.O_RDONLY)
    os.close(again)
    assert first == again


def test_a_file_taken_away_meanwhile_is_no_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever swept the folder has unlinked the file between our opening and locking it."""
    path = tmp_path / "lock"
    flock = fcntl.flock

    def late(file: int, how: int) -> None:
        path.unlink()
        flock(file, how)

    monkeypatch.setattr(fcntl, "flock", late)
    with pytest.raises(TakenError):
        Lock(path)


@pytest.mark.parametrize("number", [errno.ENOLCK, errno.ENOSYS])
def test_a_disk_without_locks_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """In words, and it is no lock held by somebody."""

    def refuse(*_: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(fcntl, "flock", refuse)
    with pytest.raises(OSError, match=os.strerror(number)) as refused:
        Lock(tmp_path / "lock")

    assert "this disk knows no locks" == reason(refused.value)


def test_a_link_or_a_pipe_of_that_name_is_not_followed(tmp_path: Path) -> None:
    """Nothing is made where a link leads to, and nothing waits for a pipe's other end."""
    link, pipe = tmp_path / "link", tmp_path / "pipe"
    link.symlink_to(tmp_path / "elsewhere")
    os.mkfifo(pipe)

    with pytest.raises(OSError, match="link"):
        Lock(link)
    assert not (tmp_path / "elsewhere").exists()
    with Lock(pipe):
        pass
