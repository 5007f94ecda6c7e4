import errno
import os
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from outlines import BAND, DIGEST, Band, after, started

from tracker.problems import ProblemsError
from tracker.progress.durable import SaveError
from tracker.progress.opened import open_piece
from tracker.progress.position import START, Position, end
from tracker.progress.state import Moved
from tracker.progress.store import Listed, Store, data_home, slug


def names(listed: list[Listed]) -> list[str]:
    """The names of pieces, in their order."""
    return [piece.name for piece in listed]


def test_a_started_piece_holds_the_patterns_very_bytes(tmp_path: Path) -> None:
    """Pattern, journal and piece file are there and agree; the piece stands at its start."""
    store = Store(tmp_path)
    folder = store.start(
        b"\xef\xbb\xbf any bytes \r\n\x00",
        name="Harbour lights",
        digest=DIGEST,
        design_digest="sha256:00",
        rows=6,
        source=Path("harbour.design.toml"),
    )

    assert tmp_path / "pieces" / "harbour-lights" == folder.path
    assert b"\xef\xbb\xbf any bytes \r\n\x00" == folder.pattern_path.read_bytes()
    table = tomllib.loads((folder.path / "piece.toml").read_text("utf-8"))
    assert str(Path.cwd() / "harbour.design.toml") == table["source"]
    assert {"journal.toml", "pattern.toml", "piece.toml"} == {
        path.name for path in folder.path.iterdir()
    }
    (listed,) = store.pieces()
    assert folder == listed.folder
    assert (START, None, None) == (listed.position, listed.last_stitched, listed.problem)


def test_a_taken_name_gets_a_number(tmp_path: Path) -> None:
    """Case does not make a name another; names that only share a folder's name keep theirs."""
    given_names = ["Café", "café", "Cafe", "CAFÉ"]
    made = [started(tmp_path, name=name) for name in given_names]

    assert ["Café", "café 2", "Cafe", "CAFÉ 3"] == [folder.name for folder in made]
    assert ["cafe", "cafe-2", "cafe-3", "cafe-4"] == [folder.slug for folder in made]


@given(st.text(max_size=80))
@example("../../etc/passwd")
@example("CON")
@example("lpt1")
@example("")
@example("...")
@example("-" * 60)
@example("ünïcødé/ß")
def test_a_slug_is_a_safe_folder_name(name: str) -> None:
    """Letters, digits and hyphens, not too long, no device's name, the same when slugged again."""
    found = slug(name)

    assert 1 <= len(found) <= 60
    assert set(found) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert found[0] != "-"
    assert found not in {"con", "prn", "aux", "nul", "com1", "lpt1", "lpt9"}
    assert found == slug(found)


@pytest.mark.parametrize("name", ["", "  ", "a\nb", "a\x1b[31mb", "a\u202eb"])
def test_a_name_that_cannot_be_shown_is_refused(tmp_path: Path, name: str) -> None:
    """Nothing is left behind, and the message itself is harmless."""
    with pytest.raises(ProblemsError) as caught:
        started(tmp_path, name=name)
    assert all(line.isprintable() for line in caught.value.lines())
    assert [] == Store(tmp_path).pieces()


def test_the_bench_lists_what_was_stitched_last_first(tmp_path: Path) -> None:
    """Place, time and whether it is finished, without the patterns."""
    first, second, third = (started(tmp_path, name=name) for name in ("One", "Two", "Three"))
    with open_piece(first, BAND) as piece:
        piece.record(Moved(after(2e8), end(BAND)))
    with open_piece(third, BAND) as piece:
        piece.record(Moved(after(1e8), Position(1, 2)))
    for folder in (first, second, third):
        folder.pattern_path.unlink()
    listed = Store(tmp_path).pieces()

    assert ["One", "Three", "Two"] == names(listed)
    assert [True, False, False] == [piece.finished for piece in listed]
    assert [end(BAND), Position(1, 2), START] == [piece.position for piece in listed]
    assert after(1e8) == listed[1].last_stitched


@pytest.mark.parametrize(
    ("file", "data"),
    [
        ("piece.toml", b""),
        ("piece.toml", b"\xff\xfe"),
        ("piece.toml", b"format = 9\n"),
        ("piece.toml", b"format = " + b"9" * 5000),
        ("piece.toml", b"a = " + b"[" * 5000),
        ("piece.toml", None),
        ("journal.toml", b"format = 1\n"),
        ("journal.toml", b""),
    ],
)
def test_a_broken_piece_hides_no_other(tmp_path: Path, file: str, data: bytes | None) -> None:
    """It is listed with its problem, by its folder's name if need be."""
    broken = started(tmp_path, name="Broken")
    started(tmp_path, name="Whole")
    if data is None:
        (broken.path / file).unlink()
    else:
        (broken.path / file).write_bytes(data)
    listed = {piece.path.name: piece.problem for piece in Store(tmp_path).pieces()}

    assert {"broken", "whole"} == set(listed)
    assert listed["whole"] is None
    problem = listed["broken"]
    assert problem is not None
    assert str(broken.path / file) == problem.file


def test_every_problem_of_a_piece_file_is_told_at_once(tmp_path: Path) -> None:
    """A missing name, a wrong row count and a time without its zone are three lines."""
    folder = started(tmp_path)
    file = folder.path / "piece.toml"
    text = file.read_text("utf-8").replace('name = "Harbour lights"\n', "")
    text = text.replace("rows = 6", "rows = true").replace("started = 20", "started = 2026-01-01 #")
    file.write_text(text, "utf-8")
    (listed,) = Store(tmp_path).pieces()

    assert listed.problem is not None
    assert ["name", "rows", "started"] == sorted(p.where for p in listed.problem.problems)


def test_a_piece_is_found_by_all_its_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By name in any case, folder, source file from anywhere, its own folder, its digests."""
    folder = started(tmp_path, name="Sea Glass")
    started(tmp_path, Band((1,), digest="sha256:" + "00" * 32), name="Other")
    monkeypatch.chdir(folder.path)
    words = [
        "sea glass",
        "SEA GLASS",
        "sea-glass",
        str(folder.path),
        ".",
        "piece.toml",
        "journal.toml",
        DIGEST,
    ]

    assert [["Sea Glass"]] * len(words) == [names(Store(tmp_path).find(word)) for word in words]
    source = os.path.join("..", "..", "harbour.design.toml")  # noqa: PTH118  (as one types it)
    assert {"Sea Glass", "Other"} == set(names(Store(tmp_path).find(source)))


@pytest.mark.parametrize("word", ["nothing", "", "a\0b", "..", "/", "sha256:", "x" * 5000])
def test_what_is_not_there_is_not_found(tmp_path: Path, word: str) -> None:
    """No word, however odd, finds a piece that it does not mean."""
    started(tmp_path / "home")

    assert [] == Store(tmp_path / "home").find(word)


def test_no_pieces_yet(tmp_path: Path) -> None:
    """A home that is not there has no pieces, and asking makes none."""
    assert [] == Store(tmp_path / "new").pieces()
    assert not (tmp_path / "new").exists()


def test_half_a_piece_is_never_listed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If the disk fails at any write of starting a piece, there is no piece and nothing left."""
    real = os.write
    for working in range(3):
        calls = [real] * working

        def write(fd: int, data: bytes, calls: list[Callable[..., int]] = calls) -> int:
            if not calls:
                raise OSError(errno.ENOSPC, "No space left on device")
            return calls.pop()(fd, data)

        with monkeypatch.context() as patch:
            patch.setattr(os, "write", write)
            with pytest.raises(SaveError, match="the disk is full"):
                started(tmp_path)
        assert [] == list((tmp_path / "pieces").iterdir())
    assert "Harbour lights" == started(tmp_path).name


def test_a_source_name_that_is_not_utf8(tmp_path: Path) -> None:
    """Such a file's name is kept as well as text can keep it."""
    odd = Path(os.fsdecode(b"/home/band\xff.toml"))
    folder = Store(tmp_path).start(
        b"x", name="Odd", digest=DIGEST, design_digest="d", rows=1, source=odd
    )
    (listed,) = Store(tmp_path).pieces()

    assert listed.folder is not None
    assert (folder.slug, "/home/band\\udcff.toml") == (listed.folder.slug, listed.folder.source)


def test_the_home_is_the_users_choice_or_the_platforms(monkeypatch: pytest.MonkeyPatch) -> None:
    """`TRACKER_HOME` wins; without it the place is one of this user's own."""
    monkeypatch.setenv("TRACKER_HOME", "/somewhere/else")
    assert Path("/somewhere/else") == data_home()
    monkeypatch.delenv("TRACKER_HOME")
    assert "bead-row-tracker" == data_home().name
