"""A piece moved to a changed pattern: all of it or nothing, on the disk."""

import errno
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import mover
import pytest
from recorder import EVENING
from weaving import a_design

import tracker
from tracker.design.model import Layout
from tracker.pattern.compiler import Compiled, compile_design
from tracker.pattern.reader import read_pattern
from tracker.problems import ProblemsError
from tracker.progress import journal
from tracker.progress.durable import SaveError
from tracker.progress.moved import move_piece
from tracker.progress.moving import carried
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder, read_about
from tracker.progress.position import Position
from tracker.progress.state import Joined, Length, Lost, Measured, Moved, OnHand, Progress
from tracker.progress.store import Store


@cache
def band(stripes: str, rows: int = 12) -> Compiled:
    """A two-column band in crosswise stripes."""
    layout = Layout(seeds="S", kind="rows", lines=tuple(stripes))
    return compile_design(a_design(2, rows, layout=layout))


OLD, LONGER, OTHER = band("AABB"), band("AABB", 16), band("AABA", 12)


@pytest.fixture
def folder(tmp_path: Path) -> PieceFolder:
    """A piece of the old pattern in its sixth row, with all that can be noted of it."""
    folder = Store(tmp_path).start(
        OLD.text.encode(),
        name="Harbour lights",
        digest=OLD.pattern.digest,
        design_digest=OLD.pattern.design,
        rows=OLD.pattern.row_count,
        source=tmp_path / "harbour.design.toml",
    )
    with open_piece(folder, OLD.pattern) as piece:
        for event in (
            OnHand(EVENING, "tA", 30),
            Moved(EVENING, Position(5, 1)),
            Measured(EVENING, Length(5, 15.0)),
            Joined(EVENING, Length(5, 1500.0)),
            Lost(EVENING, "tA", 2),
        ):
            piece.record(event)
    return folder


def state_of(home: Path) -> tuple[PieceFolder, Progress]:
    """The one piece of `home`, opened with the pattern in its folder and gone on with."""
    (listed,) = Store(home).pieces()
    assert listed.problem is None
    assert listed.folder is not None
    pattern = read_pattern(listed.folder.pattern_path)
    assert pattern.digest == listed.folder.pattern_digest
    assert pattern.row_count == listed.folder.rows
    with open_piece(listed.folder, pattern) as piece:
        assert not piece.read_only, piece.notices
        assert () == piece.notices
        return listed.folder, piece.progress


def test_a_move_carries_everything_over(folder: PieceFolder, tmp_path: Path) -> None:
    """The piece is the same piece, in the changed pattern, and can be gone on with."""
    _, before = state_of(tmp_path)
    moved = move_piece(folder, LONGER.text, source=tmp_path / "longer.design.toml")
    found, progress = state_of(tmp_path)
    assert moved == found
    assert carried(OLD.pattern, LONGER.pattern, before) == progress
    assert (folder.path, folder.name, folder.started) == (found.path, found.name, found.started)
    assert (LONGER.pattern.digest, LONGER.pattern.design, 16) == (
        found.pattern_digest,
        found.design_digest,
        found.rows,
    )
    assert str(tmp_path / "longer.design.toml") == found.source
    with open_piece(found, LONGER.pattern) as piece:
        piece.record(Moved(EVENING, Position(15, 1)))
    assert Position(15, 1) == state_of(tmp_path)[1].position


def test_the_old_files_stay(folder: PieceFolder) -> None:
    """The old pattern and journal are kept, to the byte."""
    before = folder.pattern_path.read_bytes(), folder.journal_path.read_bytes()
    moved = move_piece(folder, LONGER.text)
    assert before == (folder.pattern_path.read_bytes(), folder.journal_path.read_bytes())
    assert LONGER.text.encode() == moved.pattern_path.read_bytes()


def test_moved_again_and_back(folder: PieceFolder, tmp_path: Path) -> None:
    """A piece moves as often as its design changes, back to its first pattern too."""
    folder = move_piece(folder, LONGER.text)
    folder = move_piece(folder, OLD.text)
    folder = move_piece(folder, OLD.text)  # there already: nothing to do
    found, progress = state_of(tmp_path)
    assert 2 == found.moved
    assert OLD.pattern.digest == found.pattern_digest
    assert (Position(5, 1), (("tA", 2),)) == (progress.position, progress.lost)


def test_stitched_rows_that_differ(folder: PieceFolder, tmp_path: Path) -> None:
    """Nothing is changed, and the problem says what unpicking it would take."""
    before = {path.name: path.read_bytes() for path in folder.path.iterdir()}
    with pytest.raises(ProblemsError) as caught:
        move_piece(folder, OTHER.text)
    # Row 4 (3 steps), row 5 (3 steps) and 1 step of row 6.
    assert [
        (
            f"{folder.path}: row 4: the changed pattern differs from row 4, step 1 on; to go on "
            "with it, unpick 7 steps back to there; or start another piece with it"
        )
    ] == caught.value.lines()
    assert before == {path.name: path.read_bytes() for path in folder.path.iterdir()}
    with open_piece(folder, OLD.pattern) as piece:
        piece.record(Moved(EVENING, Position(3, 0)))
    move_piece(folder, OTHER.text)
    assert Position(3, 0) == state_of(tmp_path)[1].position


def test_what_is_no_pattern(folder: PieceFolder, tmp_path: Path) -> None:
    """A pattern that was changed after its proof is not moved to."""
    with pytest.raises(ProblemsError, match="changed or damaged"):
        move_piece(folder, LONGER.text.replace("Harbour", "Harbor"))
    assert 0 == state_of(tmp_path)[0].moved


def test_open_elsewhere(folder: PieceFolder, tmp_path: Path) -> None:
    """A piece in hand is not moved under somebody's needle."""
    with (
        open_piece(folder, OLD.pattern),
        pytest.raises(SaveError, match="it is open in another window"),
    ):
        move_piece(folder, LONGER.text)
    assert 0 == state_of(tmp_path)[0].moved


def test_a_window_that_does_not_know_yet(folder: PieceFolder, tmp_path: Path) -> None:
    """Whoever found the piece before it moved cannot write into its old journal, nor move it."""
    move_piece(folder, LONGER.text)
    old_journal = folder.journal_path.read_bytes()
    with pytest.raises(ProblemsError, match="moved to a changed pattern meanwhile; open it again"):
        open_piece(folder, OLD.pattern)
    with pytest.raises(ProblemsError, match="moved to a changed pattern meanwhile; open it again"):
        move_piece(folder, OTHER.text)
    assert old_journal == folder.journal_path.read_bytes()
    assert 1 == state_of(tmp_path)[0].moved


def test_a_journal_that_is_not_there(folder: PieceFolder, tmp_path: Path) -> None:
    """Such a piece stands at its first step, in the changed pattern too."""
    folder.journal_path.unlink()
    move_piece(folder, OTHER.text)
    assert (0, 0) == state_of(tmp_path)[1].position


def test_a_journal_that_is_damaged(folder: PieceFolder) -> None:
    """What cannot be read is not carried over."""
    data = folder.journal_path.read_bytes()
    folder.journal_path.write_bytes(data.replace(b"row 6", b"row 7"))
    with pytest.raises(ProblemsError, match="is damaged"):
        move_piece(folder, LONGER.text)
    assert 0 == read_about(folder.path).moved


def test_a_long_journal_of_a_moved_piece_is_shortened(
    folder: PieceFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It keeps what it was under its own name, beside the first journal and what that was."""
    monkeypatch.setattr(journal, "LINES_KEPT", 3)
    state_of(tmp_path)
    moved = move_piece(folder, LONGER.text)
    with open_piece(moved, LONGER.pattern) as piece:
        for step in range(3):
            piece.record(Moved(EVENING, Position(6, step)))
    assert Position(6, 2) == state_of(tmp_path)[1].position
    names = {path.name for path in folder.path.iterdir()}
    assert {"journal.before.toml", "journal-2.before.toml"} <= names


@pytest.mark.parametrize("name", ["write", "fsync", "replace"])
def test_a_move_that_fails_may_be_tried_again(
    folder: PieceFolder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Whichever call fails: the piece opens, as it was or moved, and moves at the next try."""
    _, before = state_of(tmp_path)
    after = carried(OLD.pattern, LONGER.pattern, before)
    owner = Path if name == "replace" else os
    real = getattr(owner, name)
    failures = []
    for failing in range(40):
        calls = iter(range(1000))

        def call(
            *arguments: object, failing: int = failing, calls: Iterator[int] = calls
        ) -> object:
            if next(calls) == failing:
                raise OSError(errno.EIO, "Input/output error")
            return real(*arguments)

        (listed,) = Store(tmp_path).pieces()
        assert listed.folder is not None
        with monkeypatch.context() as patch:
            patch.setattr(owner, name, call)
            try:
                move_piece(listed.folder, LONGER.text)
            except SaveError as error:
                failures.append(str(error))
            else:
                break
        folder, progress = state_of(tmp_path)
        assert progress == (after if folder.moved else before)
    found, progress = state_of(tmp_path)
    assert (1, after) == (found.moved, progress)
    assert len(failures) >= 3
    assert {"could not move the piece: the disk reported a fault"} == set(failures)
    # Nothing half written is left beside the files.
    assert [] == [path.name for path in folder.path.iterdir() if path.name.startswith(".")]


def test_killed_at_any_call(folder: PieceFolder, tmp_path: Path) -> None:
    """Ended by the kernel before each write, sync, close and rename in turn, the piece is whole."""
    _, before = state_of(tmp_path)
    after = carried(OLD.pattern, LONGER.pattern, before)
    file = tmp_path / "longer.pattern.toml"
    file.write_text(LONGER.text, "utf-8")
    environment = os.environ | {"PYTHONPATH": str(Path(tracker.__file__).parents[1])}
    killed = 0
    while True:
        done = subprocess.run(
            [sys.executable, mover.__file__, str(tmp_path), str(file), str(killed + 1)],
            capture_output=True,
            check=False,
            env=environment,
        )
        found, progress = state_of(tmp_path)
        assert (after if found.moved else before) == progress
        if found.moved:
            break
        assert -9 == done.returncode, done.stderr
        killed += 1
    # Three files, each written, synced, closed and renamed before the piece has moved.
    assert killed >= 9
    assert replace(folder, moved=1).pattern_path == found.pattern_path
