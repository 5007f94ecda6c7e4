"""A piece taken from one machine to another and back."""

import os
from dataclasses import replace
from pathlib import Path

import pytest
from parcels import compiled, parcel, started, stitched, with_lines

from tracker.exchange import TakenIn, export_piece, import_piece, standing
from tracker.problems import ProblemsError
from tracker.progress import exported, journal
from tracker.progress.opened import open_piece
from tracker.progress.position import Position
from tracker.progress.state import Progress
from tracker.progress.store import Store


def progress_of(home: Path, name: str) -> Progress:
    """How far the piece of that name is."""
    (listed,) = Store(home).find(name)
    assert listed.folder is not None
    with open_piece(listed.folder, compiled().pattern) as piece:
        assert not piece.read_only
        assert () == piece.notices
        return piece.progress


def taken(home: Path, file: Path) -> TakenIn:
    """The file taken in at `home`."""
    return import_piece(file, Store(home))


def refused(home: Path, file: Path) -> list[str]:
    """Why the file is not taken in; nothing of it is there afterwards."""
    with pytest.raises(ProblemsError) as caught:
        taken(home, file)
    assert [] == [path for path in home.rglob("*") if path.is_file()]
    assert all(line.startswith(f"{file}: ") for line in caught.value.lines())
    return caught.value.lines()


def test_a_piece_goes_on_on_another_machine(tmp_path: Path) -> None:
    """Name, pattern and progress are the same there, to the byte."""
    here, there, file = tmp_path / "here", tmp_path / "there", tmp_path / "h.piece.toml"
    folder = started(here, "For Ada", moves=5)
    export_piece(folder, str(file))
    found = taken(there, file)

    assert (True, "For Ada", ()) == (found.new, found.folder.name, found.notices)
    assert folder.pattern_path.read_bytes() == found.folder.pattern_path.read_bytes()
    assert folder.journal_path.read_bytes() == found.folder.journal_path.read_bytes()
    assert progress_of(here, "For Ada") == progress_of(there, "For Ada")
    assert found.position == progress_of(there, "For Ada").position


def test_the_design_goes_along_where_it_is_as_it_was(tmp_path: Path) -> None:
    """It lies in the folder there, and the piece is found by it; a changed one stays behind."""
    from tracker.loading import compile_text  # noqa: PLC0415
    from tracker.starting import take_up  # noqa: PLC0415

    here, there, file = tmp_path / "here", tmp_path / "there", tmp_path / "h.piece.toml"
    design = tmp_path / "night.design.toml"
    demo = Path(__file__).parents[2] / "patterns" / "night-watch.design.toml"
    design.write_bytes(demo.read_bytes())
    in_hand = take_up(str(design), Store(here))
    in_hand.piece.close()
    _, notices = export_piece(in_hand.piece.folder, str(file))
    found = taken(there, file)

    assert () == notices
    kept = found.folder.path / "design.toml"
    assert demo.read_text("utf-8") == kept.read_text("utf-8")
    assert str(kept) == found.folder.source
    assert [found.folder.path] == [piece.path for piece in Store(there).find(str(kept))]
    assert found.folder.pattern_digest == compile_text(kept.read_text("utf-8")).pattern.digest
    # From there it goes on with its design, though the file it came from is gone.
    export_piece(found.folder, str(tmp_path / "on.piece.toml"))
    assert file.read_bytes() == (tmp_path / "on.piece.toml").read_bytes()

    design.write_text(design.read_text("utf-8").replace("Night", "Day"), "utf-8")
    _, notices = export_piece(in_hand.piece.folder, str(file))
    assert ("its design is not here as it was: the file goes without",) == notices
    assert "" == exported.read(file.read_text("utf-8")).design


def test_the_same_piece_twice_is_one(tmp_path: Path) -> None:
    """Taken in again, nothing new is made, and that is said."""
    file = tmp_path / "h.piece.toml"
    parcel(tmp_path / "here", file)
    first, second = taken(tmp_path / "there", file), taken(tmp_path / "there", file)
    at_home = taken(tmp_path / "here", file)

    assert (True, False, False) == (first.new, second.new, at_home.new)
    assert first.folder == second.folder
    assert "nothing was to be taken in" in second.notices[0]
    assert 1 == len(Store(tmp_path / "there").pieces()) == len(Store(tmp_path / "here").pieces())


def test_stitched_on_two_machines_both_are_kept(tmp_path: Path) -> None:
    """Whoever comes back finds both ways, each as it was, and is told where they stand."""
    here, there, file = tmp_path / "here", tmp_path / "there", tmp_path / "h.piece.toml"
    mine = started(here, moves=4)
    export_piece(mine, str(file))
    theirs = taken(there, file).folder
    stitched(mine, 2)
    stitched(theirs, 7)
    before = mine.journal_path.read_bytes()
    export_piece(theirs, str(tmp_path / "back.piece.toml"))
    found = taken(here, tmp_path / "back.piece.toml")

    assert before == mine.journal_path.read_bytes()
    assert theirs.journal_path.read_bytes() == found.folder.journal_path.read_bytes()
    assert ["Harbour lights", "Harbour lights 2"] == sorted(Store(here).names().values())
    (notice,) = found.notices
    assert (
        '"Harbour lights" is a piece of the same pattern that went another way, row 3 of 6: '
        'both are kept, and what was taken in is "Harbour lights 2", row 4 of 6'
    ) == notice


def test_a_long_journal_goes_along_short(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a snapshot that says all of it, the same bytes each time, and known again."""
    monkeypatch.setattr(journal, "LINES_KEPT", 5)
    here, there, file = tmp_path / "here", tmp_path / "there", tmp_path / "h.piece.toml"
    folder = started(here, moves=9)
    export_piece(folder, str(file))
    first = file.read_bytes()
    export_piece(folder, str(file))

    assert first == file.read_bytes()
    assert 2 == exported.read(file.read_text("utf-8")).journal.count("Z s")
    assert not taken(here, file).new
    taken(there, file)
    assert progress_of(here, "Harbour lights") == progress_of(there, "Harbour lights")


@pytest.mark.parametrize("torn", [True, False])
def test_a_piece_after_an_accident_goes_along_whole(tmp_path: Path, *, torn: bool) -> None:
    """A torn last line stays behind; without a journal the piece goes along at its first step."""
    here, there, file = tmp_path / "here", tmp_path / "there", tmp_path / "h.piece.toml"
    folder = started(here, moves=4)
    if torn:
        with folder.journal_path.open("ab") as journal_file:
            journal_file.write(b'5 = "2026')
    else:
        folder.journal_path.unlink()
    export_piece(folder, str(file))

    assert (Position(1, 0) if torn else Position(0, 0)) <= taken(there, file).position
    assert torn == (progress_of(there, "Harbour lights").last_stitched is not None)


def test_an_export_writes_over_nothing_but_itself(tmp_path: Path) -> None:
    """Its own earlier state is replaced; another piece, another way, another file are not."""
    file = tmp_path / "h.piece.toml"
    folder = started(tmp_path / "here", moves=3)
    export_piece(folder, str(file))
    stitched(folder, 1)
    export_piece(folder, str(file))
    assert 1 == os.stat(file).st_nlink  # noqa: PTH116  (the file itself, no link)
    other = started(tmp_path / "there", moves=6)
    before = file.read_bytes()
    for there, why in ((other, "went another way"), (folder, "no exported piece")):
        with pytest.raises(ProblemsError, match=why):
            export_piece(there, str(file))
        assert before == file.read_bytes()
        before = b"notes of my own\n"
        file.write_bytes(before)


@pytest.mark.parametrize("out", ["", "gone/h.piece.toml", "a\0b", "x" * 300, "."])
def test_a_file_that_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, out: str
) -> None:
    """The system's reason is said in a line; the empty name is the usual one."""
    monkeypatch.chdir(tmp_path)
    folder = started(tmp_path / "home")
    if not out:
        path, _ = export_piece(folder, out)
        assert path == Path("harbour-lights.piece.toml")
        return
    with pytest.raises(ProblemsError) as caught:
        export_piece(folder, out)
    assert all(line.isprintable() for line in caught.value.lines())


T = "2026-11-25T12:00:00.000Z"
SNAPSHOT = (
    f"{T} snapshot started: {T}; at: row 1 step 1; last stitched: never; by: step; measured: none; "
    "cuts: none; lost: none; unpicking: none; furthest: row 1 step 1; last move: never; "
    "row started: never; row seconds: none; gaps: none"
)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("at: row 1 step 1", "at: row 9 step 1"),
        ("furthest: row 1 step 1", "furthest: row 1 step 9"),
        ("unpicking: none", "unpicking: row 900 step 1"),
        ("measured: none", "measured: 0.000 mm at 2 rows"),
        ("cuts: none", "cuts: 0.000 mm at 0 rows"),
        ("cuts: none", "cuts: 900.000 mm at 77 rows"),
        ("lost: none", "lost: 3 tZ"),
        ("lost: none", "lost: -3 tA"),
        ("lost: none", "lost: 3 nonsense"),
        ("unpicking", "counted: 4 tZ at row 1 step 1; unpicking"),
        ("last stitched: never", "last stitched: 0001-01-01T00:00:00.000Z"),
        ("last move: never", "last move: 9999-12-31T23:59:59.999Z"),
        ("row seconds: none", "row seconds: " + " ".join(["60.000"] * 51)),
        ("gaps: none", "gaps: " + " ".join(["9.000"] * 21)),
        ("by: step", "by: leap"),
    ],
)
def test_progress_that_nobody_made(tmp_path: Path, old: str, new: str) -> None:
    """A journal whose checks are right and whose snapshot makes no sense is not taken in."""
    file = tmp_path / "h.piece.toml"
    good = parcel(tmp_path / "here", file)
    file.write_text(exported.write(with_lines(good, SNAPSHOT)), "utf-8")
    assert taken(tmp_path / "good", file).new
    assert old in SNAPSHOT
    file.write_text(exported.write(with_lines(good, SNAPSHOT.replace(old, new))), "utf-8")

    (line,) = refused(tmp_path / "bad", file)
    assert ": journal, " in line


def test_parts_that_do_not_belong_together(tmp_path: Path) -> None:
    """A journal of another pattern, a design of another band, no pattern at all."""
    file = tmp_path / "h.piece.toml"
    good = parcel(tmp_path / "here", file)
    demo = Path(__file__).parents[2] / "patterns"
    night = (demo / "night-watch.pattern.toml").read_text("utf-8")
    design = (demo / "night-watch.design.toml").read_text("utf-8")
    for bad, part in (
        (replace(good, pattern=night), "journal, pattern: the journal belongs to another pattern"),
        (replace(good, design=design), "design, all of it: is not the one of the pattern"),
        (replace(good, design="format = 1\n"), "design, "),
        (replace(good, design="#" * 250_000), "design, all of it: is too large"),
        (replace(good, pattern=""), "pattern, "),
        (replace(good, pattern=good.pattern.replace("6 down", "7 down")), "pattern, seal: "),
        (replace(good, journal=""), "journal, "),
        (replace(good, journal=good.journal[:-9]), "journal, the end: is torn or too long"),
        (replace(good, journal=good.journal.replace("step 1", "step 2")), "journal, line "),
        (replace(good, journal=good.journal + "\N{SPOOL OF THREAD}"), "journal, the lines: hold"),
    ):
        file.write_text(exported.write(bad), "utf-8")
        lines = refused(tmp_path / "bad", file)
        assert f"{file}: {part}" in lines[0]


@pytest.mark.parametrize("name", ["../../out", "/etc/passwd", "piece", "CON", ".new-x", "a/b\\c"])
def test_a_name_is_no_path(tmp_path: Path, name: str) -> None:
    """Whatever a piece is called, its folder lies beside the others."""
    file = tmp_path / "h.piece.toml"
    good = parcel(tmp_path / "here", file)
    file.write_text(exported.write(replace(good, name=name)), "utf-8")
    before = set(tmp_path.rglob("*"))
    found = taken(tmp_path / "there", file)

    assert name == found.folder.name
    new = set(tmp_path.rglob("*")) - before - {tmp_path / "there", tmp_path / "there" / "pieces"}
    assert {found.folder.path} == {path for path in new if path.is_dir()}
    assert tmp_path / "there" / "pieces" == found.folder.path.parent


def test_where_a_piece_stands() -> None:
    """Rows as people count them."""
    assert "row 1 of 6" == standing(Position(0, 0), 6)
    assert "finished, 6 rows" == standing(Position(6, 0), 6)
