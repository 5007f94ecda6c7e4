"""A design that changes under a piece: taken over where the work is the same, told where not."""

from __future__ import annotations

from pathlib import Path

from tracker.progress.position import Position
from tracker.progress.store import Store
from tracker.session import Session
from tracker.starting import take_up

DEMO = Path(__file__).parents[2] / "patterns" / "signal-fires.design.toml"


def started(tmp_path: Path, row: int) -> tuple[Path, Store]:
    """A piece of a copy of the striped demo, stitched up to `row`."""
    design = tmp_path / "fires.design.toml"
    text = DEMO.read_text().replace("centre = true", "# centre = true")
    design.write_text(text)
    store = Store(tmp_path / "home")
    session = Session(take_up(str(design), store))
    session.go_to_row(row)
    session.close()
    return design, store


def test_the_piece_goes_on_with_a_longer_band(tmp_path: Path) -> None:
    """More rows at the end change nothing that is stitched: the piece moves over."""
    design, store = started(tmp_path, 9)
    design.write_text(design.read_text().replace("6 1/2 in", "7 in"))
    session = Session(take_up(str(design), store))
    assert any("goes on with the changed pattern" in notice for notice in session.notices)
    assert Position(8, 0) == session.progress.position
    assert 68 < session.pattern.row_count
    assert 1 == len(store.pieces())
    session.close()


def test_a_change_in_stitched_rows_is_told_with_the_way_back(tmp_path: Path) -> None:
    """Another stripe from row 5 on: the piece stays as it was and says what to unpick."""
    design, store = started(tmp_path, 9)
    design.write_text(design.read_text().replace("NNNNEEFFEE", "NNNNFFEEFF"))
    session = Session(take_up(str(design), store))
    (told,) = (notice for notice in session.notices if "differs" in notice)
    assert "from row 5, step 1 on" in told
    assert "unpick 16 steps" in told
    assert 68 == session.pattern.row_count
    session.unpick_to(Position(4, 0))
    while session.progress.unpicking is not None:
        session.forward()
    session.close()
    session = Session(take_up(str(design), store))
    assert any("goes on with the changed pattern" in notice for notice in session.notices)
    assert Position(4, 0) == session.progress.position
    session.close()


def test_after_the_end_a_changed_design_is_a_new_piece(tmp_path: Path) -> None:
    """A finished band stays what it is."""
    design, store = started(tmp_path, 68)
    session = Session(take_up(str(design), store))
    session.toggle_by()
    session.forward()
    session.close()
    design.write_text(design.read_text().replace("6 1/2 in", "7 in"))
    session = Session(take_up(str(design), store))
    session.close()
    assert ["Signal fires", "Signal fires 2"] == sorted(piece.name for piece in store.pieces())
