"""The lesson on the real app, by its keys, from the first opening to the end."""

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, place_shown, region_of, shown_text, stitching
from textual.pilot import Pilot

from tracker.app.main import TrackerApp
from tracker.app.screens.bench import Bench
from tracker.app.screens.lesson import LessonScreen
from tracker.app.screens.stitching import Stitching
from tracker.app.widgets.task_panel import TaskPanel
from tracker.lesson.keeping import FILE, FOLDER, Lesson
from tracker.lesson.tasks import TASKS, Task
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.starting import take_up

WAY: dict[str, tuple[str, ...]] = {
    "on": ("space",),
    "back": ("backspace",),
    "turn": ("space",) * 3,
    "row": ("g", "3", "enter"),
    "pass": ("space",),
    "left": ("c",),
    "large": ("b",),
    "small": ("b",),
    "leave": ("q", "l"),
    "standing": ("s",),
    "help": ("question_mark", "escape"),
}
"""The keys that do what each task asks for."""


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    design_file(folder, design_text())


def task_shown(pilot: Pilot[None]) -> Task:
    """The task whose number stands in the panel."""
    words = shown_text(pilot).partition(" LESSON ")[2].split()
    assert ["of", str(len(TASKS))] == words[1:3]
    return TASKS[int(words[0]) - 1]


def nothing_is_covered(pilot: Pilot[None]) -> None:
    """The panel, the move and the picture lie apart, each as high as what it says."""
    screen = pilot.app.screen
    assert isinstance(screen, LessonScreen)
    parts = ["#where", "#now", "#large", "#middle", "#task", "#foot"]
    shown = [region_of(pilot, part) for part in parts for w in screen.query(part) if w.display]
    assert sum(region.height for region in shown) <= screen.size.height
    for above, below in pairwise(shown):
        assert above.bottom <= below.y
    assert screen.size.height == shown[-1].bottom
    said = shown_text(pilot)
    for move in screen.session.place.moves():
        assert move.move.upper() in said or (move.back and "GO BACK" in said)
    assert screen.query_one(TaskPanel).region.height == screen._told >= 1


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (200, 60)], ids=lambda s: f"{s[0]}x{s[1]}")
async def test_from_the_first_opening_to_the_end(tmp_path: Path, size: tuple[int, int]) -> None:
    """Offered where there are no pieces; each task waits until it is done; nothing is left over."""
    async with at_work(tmp_path, None, size=size) as pilot:
        assert "New here? l: a lesson" in shown_text(pilot)
        await pilot.press("l")
        for task in TASKS[:-1]:
            assert task == task_shown(pilot)
            nothing_is_covered(pilot)
            for key in WAY[task.id]:
                assert key == "escape" or task == Lesson(tmp_path).task()
                await pilot.press(key)
                await pilot.pause()
        assert TASKS[-1] == task_shown(pilot)
        nothing_is_covered(pilot)
        await pilot.press("q")
        await pilot.pause()
        assert isinstance(pilot.app.screen, Bench)
        assert "Pieces in hand none yet" in shown_text(pilot)
        assert "New here?" in shown_text(pilot)
    assert not Lesson(tmp_path).begun
    assert [] == [path for path in (tmp_path / FOLDER).rglob("*") if path.is_file()]
    assert [] == Store(tmp_path).pieces()


async def test_only_what_is_asked_for_moves_it_on(tmp_path: Path) -> None:
    """Other keys work as they always do, and the task goes on waiting."""
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l", "backspace", "c", "s", "w", "r", "r", "b", "b")
        assert "on" == task_shown(pilot).id
        await pilot.press("space", "space")
        assert "back" == task_shown(pilot).id
        assert (1, 3) == place_shown(pilot)


async def test_it_waits_where_it_was_left(tmp_path: Path) -> None:
    """Left in the middle and opened by another start of the program: same task, same place."""
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l", "space", "backspace", "space", "space", "q")
        assert "The lesson waits where you left it" in shown_text(pilot)
    app = TrackerApp(Store(tmp_path), settings=Settings(bounce=0), learn=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "turn" == task_shown(pilot).id
        assert (1, 3) == place_shown(pilot)


async def test_from_the_help_over_a_piece_in_hand(tmp_path: Path) -> None:
    """The piece is open under it, keeps its place, and comes back by q; help's l does no more."""
    async with at_work(tmp_path, "harbour.design.toml") as pilot:
        await pilot.press("space", "question_mark", "l")
        await pilot.pause()
        assert "on" == task_shown(pilot).id
        await pilot.press("space", "question_mark", "l")
        await pilot.pause()
        assert "back" == task_shown(pilot).id
        await pilot.press("q")
        await pilot.pause()
        assert not isinstance(stitching(pilot), LessonScreen)
        assert (1, 2) == place_shown(pilot)
        await pilot.press("space")
        assert (1, 3) == place_shown(pilot)
    (listed,) = Store(tmp_path).pieces()
    assert "Harbour lights" == listed.name


async def test_the_offer_goes_with_the_first_piece(tmp_path: Path) -> None:
    """Who has a piece is not asked again, and finds the lesson among the keys."""
    take_up("harbour.design.toml", Store(tmp_path)).piece.close()
    async with at_work(tmp_path, None) as pilot:
        assert "New here?" not in shown_text(pilot)
        assert "l learn" in shown_text(pilot)


async def test_keys_that_were_moved_are_told_as_they_are(tmp_path: Path) -> None:
    """The settings gave going on another key: the panel names that one, and it does it."""
    settings = Settings(bounce=0, keys={"forward": ("f5",)})
    app = TrackerApp(Store(tmp_path), settings=settings, learn=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "then press f5: it goes on" in shown_text(pilot)
        await pilot.press("f5")
        assert "back" == task_shown(pilot).id


async def test_a_jump_is_no_step(tmp_path: Path) -> None:
    """To go to another row is neither going on nor a turn; it is what the row's task asks for."""
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l", "g", "9", "enter")
        assert "on" == task_shown(pilot).id
        await pilot.press("space", "backspace", "g", "1", "enter", "g", "8", "enter")
        assert "turn" == task_shown(pilot).id
        await pilot.press(*["space"] * 3)
        assert "row" == task_shown(pilot).id
        await pilot.press("g", "2", "enter")
        assert "row" == task_shown(pilot).id
        await pilot.press("g", "7", "enter")
        assert "pass" == task_shown(pilot).id


@pytest.mark.parametrize(
    "spoil",
    [
        lambda folder: (folder / FILE).write_text("task = ["),
        lambda folder: (folder / FILE).write_text('format = 9\ntask = "help"'),
        lambda folder: next((folder / "pieces").glob("*/piece.toml")).write_text("["),
        lambda folder: next((folder / "pieces").glob("*/pattern.toml")).write_text("["),
        lambda folder: next((folder / "pieces").glob("*/journal.toml")).write_text("["),
    ],
    ids=["torn", "newer", "piece", "pattern", "journal"],
)
async def test_what_cannot_be_used_begins_anew(
    tmp_path: Path, spoil: Callable[[Path], object]
) -> None:
    """A spoilt lesson is no loss: it opens, and can be done."""
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l", "space")
    spoil(tmp_path / FOLDER)
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l")
        await pilot.pause()
        assert isinstance(pilot.app.screen, Stitching)
        task = task_shown(pilot)
        await pilot.press(*WAY[task.id])
        assert TASKS[TASKS.index(task) + 1] == task_shown(pilot)


async def test_a_second_window_reads_only(tmp_path: Path) -> None:
    """The lesson may be open once; a second window says so and keeps nothing."""
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("l", "space")
        app = TrackerApp(Store(tmp_path), settings=Settings(bounce=0), learn=True)
        async with app.run_test(size=(80, 24)) as other:
            await other.pause()
            assert "READING ONLY" in shown_text(other)
            await other.press("backspace")
        assert "back" == Lesson(tmp_path).task().id
