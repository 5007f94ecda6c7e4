"""What a crash left is swept away; what may be somebody's stays."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock
from outlines import BAND, NOON, started

from tracker.progress.opened import open_piece
from tracker.progress.piece import LOCK
from tracker.progress.sweeping import OLD, sweep, sweep_piece

NOW = time.time() + 2 * OLD
"""Two days from now: what is made here is old by then."""


def left_half(home: Path) -> Path:
    """What a crash leaves in the middle of starting a piece."""
    half = home / "pieces" / ".new-ab12_xyz"
    half.mkdir(parents=True)
    for name in ("pattern.toml", "journal.toml", ".piece.toml.q1w2e3r4"):
        (half / name).write_bytes(b"half")
    return half


def test_swept_when_the_next_piece_is_started(tmp_path: Path) -> None:
    """What is older than a day goes, and the new piece is there."""
    half = left_half(tmp_path)
    for path in (*half.iterdir(), half):
        os.utime(path, (time.time() - 2 * OLD,) * 2)
    folder = started(tmp_path)
    assert [folder.path] == list((tmp_path / "pieces").iterdir())


def test_what_is_young_stays(tmp_path: Path) -> None:
    """Somebody may be at it; a clock that was set back makes nothing old."""
    half = left_half(tmp_path)
    for now in (time.time(), time.time() - 1e6):
        sweep(half.parent, now)
        assert 3 == len(list(half.iterdir()))
    sweep(half.parent, NOW)
    assert not half.exists()


def test_what_somebody_holds_stays(tmp_path: Path) -> None:
    """A lock means that a piece is being made there, however slowly."""
    half = left_half(tmp_path)
    with FileLock(half / LOCK):
        sweep(half.parent, NOW)
        assert (half / "pattern.toml").exists()
    sweep(half.parent, NOW)
    assert not half.exists()


def strange_file(half: Path) -> None:
    """A file that no tracker put there."""
    (half / "letters.txt").write_bytes(b"dear")


def strange_folder(half: Path) -> None:
    """A folder inside."""
    (half / "pattern").mkdir()


def link(half: Path) -> None:
    """A link out of it, by a name of ours."""
    (half / "design.toml").symlink_to(half.parent.parent)


def other_name(half: Path) -> None:
    """A name that is not quite what is made."""
    half.rename(half.with_name(".new-piece"))


def linked(half: Path) -> None:
    """The folder itself is a link."""
    half.rename(half.parent.parent / "elsewhere")
    half.symlink_to(half.parent.parent / "elsewhere")


@pytest.mark.parametrize("change", [strange_file, strange_folder, link, other_name, linked])
def test_what_is_not_ours_stays(tmp_path: Path, change: Callable[[Path], None]) -> None:
    """Anything that a crash of ours cannot have left is left alone, all of it."""
    half = left_half(tmp_path)
    change(half)
    before = {path for path in tmp_path.rglob("*") if path.name != LOCK}
    sweep(half.parent, NOW)
    assert before == {path for path in tmp_path.rglob("*") if path.name != LOCK}


def test_somebody_elses_stays(tmp_path: Path) -> None:
    """Another user's folder is none of ours, even for the one who may do everything."""
    half = left_half(tmp_path)
    try:
        os.chown(half, 12345, -1)
    except PermissionError:
        pytest.skip("this user may give nothing away")
    sweep(half.parent, NOW)
    assert half.exists()


def test_half_written_files_of_a_piece(tmp_path: Path) -> None:
    """Those that were to replace others go, a day later, when the piece is opened for writing."""
    folder = started(tmp_path)
    ours = (".journal.toml.ab12_xyz", ".journal-2.before.toml.ab12_xyz", ".piece.toml.00000000")
    others = (".journal.toml.Ab12Cd", ".notes.toml.ab12_xyz", "journal.torn-1")
    for name in ours + others:
        (folder.path / name).write_bytes(b"half")
    sweep_piece(folder.path, time.time())
    assert all((folder.path / name).exists() for name in ours)
    with open_piece(folder, BAND, read_only=True, clock=lambda: NOON.replace(year=2199)):
        assert all((folder.path / name).exists() for name in ours)
    with open_piece(folder, BAND, clock=lambda: NOON.replace(year=2199)):
        assert not any((folder.path / name).exists() for name in ours)
    assert all((folder.path / name).exists() for name in others)
