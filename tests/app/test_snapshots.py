"""The screens as pictures, held against those that were looked at and kept."""

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from tracker.app.main import TrackerApp
from tracker.progress.shelf import put
from tracker.progress.state import utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.starting import take_up

ROOT = Path(__file__).parents[2]
ROW_12 = ("g", "1", "2", "enter", "space")
"""The middle of a row where words are short already."""

Compare = Callable[..., bool]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty data folder; the demo designs are those of the working folder."""
    monkeypatch.chdir(ROOT)
    return tmp_path


def app(home: Path, design: str | None = None) -> TrackerApp:
    """The app, with a demo band in hand or at the bench."""
    store = Store(home)
    start = None if design is None else take_up(f"patterns/{design}.design.toml", store)
    return TrackerApp(store, start, Settings(bounce=0))


@pytest.mark.parametrize(
    "size", [(80, 24), (100, 30), (200, 60)], ids=lambda size: f"{size[0]}x{size[1]}"
)
def test_in_the_middle_of_a_row(home: Path, snap_compare: Compare, size: tuple[int, int]) -> None:
    """The narrow band at three sizes."""
    assert snap_compare(app(home, "night-watch"), terminal_size=size, press=ROW_12)


def test_in_the_rows_where_it_is_learnt(home: Path, snap_compare: Compare) -> None:
    """The wide band's third row, in full words, with a notice of how the work should look."""
    press = ("g", "3", "enter", "space", "space", "s")

    assert snap_compare(app(home, "star-chart"), terminal_size=(100, 30), press=press)


def test_by_rows(home: Path, snap_compare: Compare) -> None:
    """The wide band, a whole row at once."""
    press = ("r", "g", "2", "1", "enter", "space")

    assert snap_compare(app(home, "star-chart"), terminal_size=(100, 30), press=press)


def test_without_colour(home: Path, snap_compare: Compare, monkeypatch: pytest.MonkeyPatch) -> None:
    """The band of stripes where no colour is wanted."""
    monkeypatch.setenv("NO_COLOR", "1")

    assert snap_compare(app(home, "signal-fires"), terminal_size=(80, 24), press=ROW_12)


def test_the_bench(home: Path, snap_compare: Compare) -> None:
    """Two pieces in hand, one set aside, and the demo designs; nothing in it tells a time."""
    store = Store(home)
    for design in ("night-watch", "first-light", "star-chart"):
        take_up(f"patterns/{design}.design.toml", store).piece.close()
    (aside,) = store.find("Star chart")
    assert aside.folder is not None
    put(aside.folder, "set aside", utc_now())

    async def look(pilot: Pilot[None]) -> None:
        for _ in range(10):  # one piece after the other
            await pilot.app.workers.wait_for_complete()
            await pilot.pause()

    assert snap_compare(app(home), terminal_size=(80, 24), run_before=look)


def test_the_help(home: Path, snap_compare: Compare) -> None:
    """All of it at 100 by 40."""
    assert snap_compare(app(home, "night-watch"), terminal_size=(100, 40), press=("question_mark",))
