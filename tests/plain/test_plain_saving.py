"""In plain lines: what is not saved, how to leave all the same, other journals of the piece."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import tracker
from tracker.exchange import import_piece
from tracker.plain import run_plain
from tracker.progress.position import Position
from tracker.progress.store import Store
from tracker.session import Session
from tracker.starting import take_up

ROOT = Path(tracker.__file__).parents[1]
LIMITED = (
    "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)); "
    "from tracker.cli import main; sys.exit(main())"
)
DESIGN = str(ROOT / "patterns" / "night-watch.design.toml")


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A piece of the narrow demo band, one step done."""
    made = Session(take_up(DESIGN, Store(tmp_path)))
    made.forward()
    yield made
    made.close()


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> Callable[[bool], None]:
    """Fills the disk, or frees it."""
    real, state = os.fdatasync, {"full": False}

    def fdatasync(fd: int) -> None:
        if state["full"]:
            raise OSError(28, "No space left on device")
        real(fd)

    monkeypatch.setattr(os, "fdatasync", fdatasync)
    return lambda is_full: state.update(full=is_full)


def sitting(session: Session, *typed: str | Callable[[], None]) -> str:
    """What is said when these lines are typed; what is no line happens before the next one."""
    left, said = list(typed), []

    def ask(_: str) -> str | None:
        while left:
            line = left.pop(0)
            if isinstance(line, str):
                said.append(f"> {line}")
                return line
            line()
        return None

    run_plain(session, ask, said.append)
    return "\n".join(said)


def place_on_disk(home: Path) -> Position:
    """Where the only piece stands."""
    (listed,) = Store(home).pieces()
    assert listed.problem is None
    return listed.position


def test_told_for_as_long_as_it_holds(
    session: Session, full: Callable[[bool], None], tmp_path: Path
) -> None:
    """Every answer ends with it; the work goes on; in the end it is said that all is saved."""
    full(True)
    said = sitting(session, "", "", "c", lambda: full(False), "", "c", "q")
    first, second, third, fourth, fifth = said.split("\n> ")[1:6]
    for answer, count in ((first, "1 move"), (second, "2 moves"), (third, "2 moves")):
        last = f"NOT SAVED: {count} only in memory: the disk is full; free some space."
        assert answer.endswith(last)
    assert "Row 1 of 68, up, step 3 of 3" in first
    assert fourth.endswith("Saved again: all that was only in memory is on the disk.")
    assert "aved" not in fifth.lower()
    assert Position(1, 1) == place_on_disk(tmp_path)


def test_leaving_asks(session: Session, full: Callable[[bool], None], tmp_path: Path) -> None:
    """Enter tries again, s goes on, e writes a file, q quits without; only then it is lost."""
    full(True)
    file = tmp_path / "rescued"
    said = sitting(session, "", "q", "", "s", "", "q", f"e {DESIGN}", f"e {file}", "q")
    assert 5 == said.count("q quits without these")
    assert 3 == said.count("q quits without these 2 moves")
    assert "On the disk the piece stands at row 1, step 2" in said
    assert f"{DESIGN}: file: is there already; name another" in said
    lost = session.close()
    assert "2 moves were NOT SAVED: the disk is full" in lost
    assert str(file) in lost
    assert Position(0, 1) == place_on_disk(tmp_path)
    full(False)
    assert Position(1, 0) == import_piece(str(file), Store(tmp_path / "there")).position


def test_leaving_when_there_is_room_again(
    session: Session, full: Callable[[bool], None], tmp_path: Path
) -> None:
    """Another try at the question saves it all."""
    full(True)
    sitting(session, "", "q", lambda: full(False), "")
    assert "" == session.close()
    assert Position(0, 2) == place_on_disk(tmp_path)


def test_the_folder_is_made_anew(session: Session, tmp_path: Path) -> None:
    """When it is gone, from what is known here."""
    shutil.rmtree(session.keeping.piece.folder.path)
    said = sitting(session, "", "q", "n")
    assert "the piece's file or its folder is gone" in said
    assert Position(0, 2) == place_on_disk(tmp_path)
    assert "" == session.close()


def test_another_journal_is_told_and_taken(session: Session, tmp_path: Path) -> None:
    """How far each got is said at the opening; o takes one, and it is asked no more."""
    folder = session.keeping.piece.folder
    before = folder.journal_path.read_bytes()
    session.go_to_row(9)
    session.close()
    (folder.path / "journal (copy).toml").write_bytes(folder.journal_path.read_bytes())
    folder.journal_path.write_bytes(before)
    session = Session(take_up(DESIGN, Store(tmp_path)))
    said = sitting(session, "o 2", "o x", "o 1", "o", "", "q")
    session.close()
    assert "o 0: row 1, step 2, stitched" in said
    assert "o 1: row 9, step 1, stitched" in said
    assert '"2" is none of them: 0 to 1' in said
    assert "there is no other journal of this piece" in said
    assert Position(8, 1) == place_on_disk(tmp_path)
    session = Session(take_up(DESIGN, Store(tmp_path)))
    assert "another journal" not in sitting(session, "q").lower()
    session.close()


def test_the_command_tells_what_is_lost(tmp_path: Path) -> None:
    """At the end of the input, on a real limit: status 1, and on standard error what and where."""
    take_up(DESIGN, Store(tmp_path)).piece.close()
    done = subprocess.run(
        [sys.executable, "-B", "-c", LIMITED, "read", DESIGN],
        input="\n" * 40,
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | {"TRACKER_HOME": str(tmp_path), "PYTHONPATH": str(ROOT)},
    )
    assert 1 == done.returncode
    place = place_on_disk(tmp_path)
    lost = 40 - place.row * 3 - place.step
    assert f"NOT SAVED: {lost} moves only in memory" in done.stdout
    assert (
        f"tracker: Night watch: {lost} moves were NOT SAVED: the file may not grow any further; "
        f"on the disk the piece stands at row {place.row + 1}, step {place.step + 1}\n"
    ) in done.stderr
    assert "Traceback" not in done.stderr
