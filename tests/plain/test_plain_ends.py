"""A piece led through its ends in plain lines, to the last check."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sealing import CLOSURES, closed

from tracker.design.model import ClosureKind
from tracker.plain import run_plain
from tracker.progress.store import Store
from tracker.session import Session
from tracker.starting import take_up


def sitting(session: Session, typed: list[str]) -> list[str]:
    """The lines said while that is typed."""
    lines: list[str] = []
    keys: Iterator[str] = iter(typed)
    run_plain(session, lambda _: next(keys, None), lines.append)
    return lines


@pytest.mark.parametrize("kind", CLOSURES)
def test_led_to_the_end_and_taken_up_again(kind: ClosureKind, tmp_path: Path) -> None:
    """Every step of the ends is said, with counts, picture and check; a break loses nothing."""
    pattern = closed(kind, 2, 4).pattern
    file = tmp_path / "band.pattern.toml"
    file.write_text(closed(kind, 2, 4).text, encoding="utf-8")
    steps = sum(map(pattern.steps_in, range(pattern.row_count)))
    store = Store(tmp_path / "home")
    first = Session(take_up(str(file), store))
    half = sitting(first, ["", "c", "p", "k"] * (steps - 6) + ["q"])
    first.close()
    assert not [line for line in half if "NOT SAVED" in line]
    again = Session(take_up(str(file), store))
    try:
        assert first.progress.position == again.progress.position
        rest = sitting(again, [""] * 6)
        assert any(line.startswith("Caution: ") for line in rest)
        check = "pull at both ends: nothing gives, and no thread end or sharp edge stands out."
        assert check in rest
        assert rest[-1].startswith(f"All {pattern.row_count} rows are done")
    finally:
        again.close()
