"""The screen for a new band, on the real app: from nothing to stitching, and back to a file."""

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from hands import at_work, design_file, design_text, place_shown, shown_lines, shown_text
from test_no_colour import coloured
from textual.pilot import Pilot
from textual.widgets import Input

from tracker.app.screens.bench import Bench
from tracker.app.screens.new_band import NewBand
from tracker.app.screens.painting import Painter
from tracker.app.screens.stitching import Stitching
from tracker.app.widgets import preview as preview_widget
from tracker.app.widgets.choice import Choice
from tracker.app.widgets.field import Field
from tracker.app.widgets.preview import PreviewPane
from tracker.design.editing import Draft
from tracker.design.reader import read_design
from tracker.pattern.preview import Seen
from tracker.pattern.preview import seen as seen_really
from tracker.progress.store import Store
from tracker.stitches import demands

COMMENTED = """\
# The band for the fair
format = 1
name = "Fair"
stitch = "two-hole herringbone"   # the one I know
columns = 2

[size]
rows = 30                         # a short one

[beads]
tile = "half tile"
seed = "15/0"

[colours]
A = { name = "lagoon", hex = "#2a7f8e" }   # from the old tube
S = { name = "smoke", hex = "#6b6f76" }

[layout]
seeds = "S"
chart = \"\"\"
AASS
SSAA
\"\"\"
"""
SIZES = ((80, 24), (100, 30), (200, 60))


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder of its own; the settings are those of an empty data folder."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.setenv("TRACKER_HOME", str(tmp_path))
    return folder


@asynccontextmanager
async def designing(
    home: Path, key: str = "n", size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Pilot[None]]:
    """The app with a design being made, or that of the first line of the bench being changed."""
    async with at_work(home, None, size=size) as pilot:
        await pilot.press(key)
        await settled(pilot)
        assert isinstance(pilot.app.screen, NewBand)
        yield pilot


async def settled(pilot: Pilot[None]) -> None:
    """Wait until the band that was typed is drawn."""
    await pilot.pause()
    pane = pilot.app.screen.query_one(PreviewPane)
    for _ in range(400):
        if pane.settled:
            await pilot.pause()
            return
        await asyncio.sleep(0.01)
    raise AssertionError("the band was never drawn")


async def fill(pilot: Pilot[None], field: str, text: str) -> None:
    """Type a text in place of what is in a field."""
    line = pilot.app.screen.query_one(f"#{field}", Input)
    line.focus()
    await pilot.press("end", "ctrl+u", *text)
    assert text == line.value


async def choose(pilot: Pilot[None], field: str, key: str = "right") -> None:
    """Turn a choice."""
    pilot.app.screen.query_one(f"#{field}-choice").focus()
    await pilot.press(key)


def files_in(folder: Path) -> list[str]:
    """The names of all files in a folder."""
    return [path.name for path in folder.iterdir()]


def problem_at(pilot: Pilot[None], field: str) -> str:
    """What is said below a field."""
    told = pilot.app.screen.query_one(f"#{field}", Field).query_one(".problem")
    return str(told.render()) if told.display else ""


async def test_from_nothing_to_stitching(tmp_path: Path, here: Path) -> None:
    """With the keyboard alone: a name, rows, stripes, saved and stitched; q leads to the bench."""
    async with designing(tmp_path) as pilot:
        await pilot.press(*"Evening tide", "down", "down", "left", "tab", "1", "2")
        await pilot.press("shift+tab", "up", *["tab"] * 16, *"BAAB")
        await settled(pilot)
        assert "ROWS 12" in shown_text(pilot)
        await pilot.press("f5")
        assert "evening-tide.design.toml" in shown_text(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(pilot.app.screen, Stitching)
        assert (1, 1) == place_shown(pilot)
        assert "of 12" in shown_lines(pilot)[0]
        await pilot.press("q")
        assert isinstance(pilot.app.screen, Bench)
    design = read_design(here / "evening-tide.design.toml", stitches=demands())
    assert ("Evening tide", 12, ("BAAB",)) == (
        design.name,
        design.size.rows,
        design.layout.lines,
    )
    assert ["Evening tide"] == [piece.name for piece in Store(tmp_path).pieces()]


async def test_what_it_comes_to_follows_the_typing(tmp_path: Path) -> None:
    """A larger wrist takes more rows, more columns more width, and the band is drawn in letters."""
    async with designing(tmp_path, size=(100, 30)) as pilot:
        first = shown_text(pilot)
        assert "ROWS 75" in first
        assert "INSIDE ≈178 mm, 13 mm of ease" in first
        await fill(pilot, "size-text", "200 mm")
        await settled(pilot)
        assert "ROWS 89" in shown_text(pilot)
        await fill(pilot, "wide-text", "4")
        await pilot.press("down")
        await settled(pilot)
        assert "ABBBBBBA" in shown_text(pilot)
        # Odd rows fill lanes 2, 4 ..., 45 times; even rows lanes 1, 3 ..., 44 times.
        assert "89 blue half tile" in shown_text(pilot)
        assert "267 cream half tile" in shown_text(pilot)


async def test_typing_does_not_wait_for_the_band(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While a design is being woven, keys are taken; only the last design is shown."""
    woven: list[str] = []
    typed = threading.Event()

    def slowly(draft: Draft, old_text: str) -> Seen:
        assert typed.wait(60)
        woven.append(draft.name)
        return seen_really(draft, old_text)

    async with designing(tmp_path) as pilot:
        monkeypatch.setattr(preview_widget, "seen", slowly)
        monkeypatch.setattr(preview_widget, "PAUSE", 0.001)
        await fill(pilot, "name-text", "A")
        await pilot.press(*"bcdef")
        assert "Abcdef" == pilot.app.screen.query_one("#name-text", Input).value
        assert [] == woven
        typed.set()
        await settled(pilot)
        assert "Abcdef" == woven[-1]
        assert len(woven) < 6


async def test_problems_stand_at_their_fields(tmp_path: Path, here: Path) -> None:
    """In the reader's words, below what was typed, and gone once it is mended; nothing is saved."""
    async with designing(tmp_path, size=(100, 40)) as pilot:
        await fill(pilot, "size-text", "16")
        await fill(pilot, "wide-text", "41")
        await fill(pilot, "colour-1-code", "#12")
        await fill(pilot, "lines-text", "AXBA")
        await fill(pilot, "diameter-text", "9 mm")
        await settled(pilot)
        assert '"16" is no length' in problem_at(pilot, "size")
        assert "41 is out of range" in problem_at(pilot, "wide")
        assert '"#12" is no colour code' in problem_at(pilot, "colour-1")
        assert '"X" is no colour\'s letter' in problem_at(pilot, "lines")
        assert "is out of range" in problem_at(pilot, "diameter")
        assert "" == problem_at(pilot, "name")
        await pilot.press("f2")
        assert "Not saved: first mend" in shown_text(pilot)
        await fill(pilot, "size-text", "160 mm")
        await settled(pilot)
        assert "" == problem_at(pilot, "size")
    assert [] == files_in(here)


async def test_what_cannot_be_woven_is_said_at_its_field(tmp_path: Path) -> None:
    """A thread too short for the start is found when the band is woven, and said at the thread."""
    async with designing(tmp_path, size=(100, 40)) as pilot:
        await fill(pilot, "wide-text", "40")
        await fill(pilot, "thread-text", "50 cm")
        await settled(pilot)
        assert "does not last to a place" in problem_at(pilot, "thread")


async def test_colours_come_and_go(tmp_path: Path) -> None:
    """F3 adds one with a free letter, F8 takes the one under the cursor out."""
    async with designing(tmp_path, size=(100, 40)) as pilot:
        await pilot.press("f3")
        await fill(pilot, "colour-3-name", "rust")
        await fill(pilot, "lines-text", "ACCA")
        await settled(pilot)
        assert "75 rust half tile" in shown_text(pilot)
        await fill(pilot, "colour-3-name", "ochre")
        await pilot.press("f8")
        await settled(pilot)
        assert '"C" is no colour\'s letter' in problem_at(pilot, "lines")


async def test_a_chart_is_painted(tmp_path: Path, here: Path) -> None:
    """Arrows, letters, Space, ranks in and out, Ctrl+Z; what is painted is what is saved."""
    async with designing(tmp_path) as pilot:
        await choose(pilot, "layout", "left")
        await pilot.press("f4")
        painter = pilot.app.screen
        assert isinstance(painter, Painter)
        assert ("ABBA", "ABBA") == painter.painting.lines
        await pilot.press("b", "down", "right", "s", "right", "space", "plus", "end", "shift+left")
        assert ("BBBA", "ASSA", "ASSA") == painter.painting.lines
        await pilot.press("a", "ctrl+z", "ctrl+z")
        assert ("BBBA", "ASSA") == painter.painting.lines
        assert pilot.app.is_running
        await pilot.press("minus", "up", "x")
        assert ("BBBA",) == painter.painting.lines
        await settled(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert "1 ranks" in shown_text(pilot)
        await pilot.press("f2", "enter")
        await pilot.pause()
        assert "Saved in" in shown_text(pilot)
    design = read_design(here / "new-band.design.toml", stitches=demands())
    assert ("chart", ("BBBA",)) == (design.layout.kind, design.layout.lines)


async def test_a_file_keeps_its_comments(tmp_path: Path, here: Path) -> None:
    """Opened from the bench, changed and saved in its place: comments stay, other keys too."""
    file = design_file(here, COMMENTED, "fair.design.toml")
    async with designing(tmp_path, "e", (100, 40)) as pilot:
        await fill(pilot, "name-text", "Big fair")
        await fill(pilot, "size-text", "44")
        await settled(pilot)
        await pilot.press("f2", "enter")
        await pilot.pause()
        assert "Saved in" in shown_text(pilot)
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, Bench)
    expected = COMMENTED.replace('"Fair"', '"Big fair"').replace("rows = 30", "rows = 44")
    assert expected == file.read_text("utf-8")


async def test_an_unchanged_design_is_stitched_as_it_lies(tmp_path: Path, here: Path) -> None:
    """F5 asks for no file, writes none, and goes on with the piece of that very design."""
    file = design_file(here, COMMENTED, "fair.design.toml")
    for place in ((1, 1), (1, 2)):
        async with designing(tmp_path, "e") as pilot:
            await pilot.press("f5")
            await pilot.pause()
            assert place == place_shown(pilot)
            await pilot.press("space")
    assert COMMENTED == file.read_text("utf-8")
    assert 1 == len(Store(tmp_path).pieces())


async def test_nothing_is_written_over_unasked(tmp_path: Path, here: Path) -> None:
    """Another file of that name, or the own one changed meanwhile, stays unless that is wished."""
    file = design_file(here, COMMENTED, "fair.design.toml")
    async with designing(tmp_path, "e", (100, 40)) as pilot:
        await fill(pilot, "name-text", "Mine")
        edited = COMMENTED.replace("for the fair", "for the other fair")
        file.write_text(edited, "utf-8")
        await pilot.press("f2", "enter")
        await pilot.pause()
        assert "has been changed by somebody else" in shown_text(pilot)
        await pilot.press("enter")
        assert edited == file.read_text("utf-8")
        await pilot.press("f2", "enter", "down", "enter")
        await pilot.pause()
        # Written over, but what the other editor put beside the values is still there.
        assert edited.replace('"Fair"', '"Mine"') == file.read_text("utf-8")
        other = design_file(here, design_text(), "other.design.toml")
        await fill(pilot, "name-text", "Second")
        await pilot.press("f2", "end", "ctrl+u", *str(other), "enter")
        await pilot.pause()
        assert "is there already. Write over it?" in shown_text(pilot)
        await pilot.press("escape")
        assert design_text() == other.read_text("utf-8")


async def test_leaving_asks_if_something_would_be_lost(tmp_path: Path) -> None:
    """Escape leaves at once where nothing was changed, and asks where something was."""
    async with designing(tmp_path) as pilot:
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, Bench)
        await pilot.press("n")
        await fill(pilot, "name-text", "Lost")
        await pilot.press("escape")
        assert "Leave without saving?" in shown_text(pilot)
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, NewBand)
        await pilot.press("escape", "down", "enter")
        await pilot.pause()
        assert isinstance(pilot.app.screen, Bench)


async def test_what_is_no_design_cannot_be_edited(tmp_path: Path, here: Path) -> None:
    """A pattern, or a file that is no TOML, is said at the bench, with what to do."""
    design_file(here, "name = ", "a.design.toml")
    pattern = Path(__file__).parents[2] / "patterns" / "night-watch.pattern.toml"
    design_file(here, pattern.read_text("utf-8"), "b.pattern.toml")
    async with at_work(tmp_path, None, size=(120, 30)) as pilot:
        await pilot.press("e")
        await pilot.pause()
        assert "a.design.toml: end of document: cannot be read as TOML" in shown_text(pilot)
        await pilot.press("down", "e")
        await pilot.pause()
        assert "is a compiled pattern, not a design" in shown_text(pilot)
        assert isinstance(pilot.app.screen, Bench)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_every_field_can_be_reached_and_seen(tmp_path: Path, size: tuple[int, int]) -> None:
    """Down through all fields: each is on the screen when it has the focus, keys at the foot."""
    async with designing(tmp_path, size=size) as pilot:
        reached = []
        for _ in range(26):
            focused = pilot.app.focused
            assert focused is not None
            reached.append(focused.id)
            assert 0 < focused.region.y < size[1] - 1, focused.id
            # The field that the cursor is in stands out by its name, and no other.
            here = pilot.app.screen.query(".label.here")
            assert [next(a for a in focused.ancestors if isinstance(a, Field))] == [
                label.parent.parent for label in here if label.parent is not None
            ]
            await pilot.press("down")
        assert {"name-text", "size-by-choice", "colour-2-code", "tail-text"} <= {*reached}
        assert reached[0] == reached[-1]
        assert shown_lines(pilot)[-1].startswith(" Tab next  F2 save")
        assert "…" not in shown_lines(pilot)[-1]


async def test_a_narrow_screen_turns_over(tmp_path: Path) -> None:
    """Below 76 cells there are the fields, or by F6 the band."""
    async with designing(tmp_path, size=(60, 20)) as pilot:
        assert "Size by" in shown_text(pilot)
        assert "NEEDLE" not in shown_text(pilot)
        await pilot.press("f6")
        await settled(pilot)
        assert "NEEDLE" in shown_text(pilot)
        assert "Size by" not in shown_text(pilot)


async def test_no_colour_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR fields, band and chart have none; letters and marks tell all."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with designing(tmp_path) as pilot:
        assert [] == coloured(pilot)
        assert "[ A ]" in shown_text(pilot)
        await choose(pilot, "layout", "left")
        await pilot.press("f4")
        await settled(pilot)
        assert [] == coloured(pilot)
        assert "1 A<B B A" in shown_text(pilot)
        assert "▸[ A ] blue" in shown_text(pilot)


async def test_text_from_a_file_is_text(tmp_path: Path, here: Path) -> None:
    """Brackets in names are shown as they are, and never read as markup."""
    text = COMMENTED.replace("lagoon", "[red]x[/]").replace('"Fair"', '"[b]Fair[/b]"')
    design_file(here, text, "[b]f[b].design.toml")
    async with designing(tmp_path, "e", (100, 40)) as pilot:
        assert "[b]f[b].design.toml" in shown_lines(pilot)[0]
        assert "[red]x[/] half tile" in shown_text(pilot)


async def test_another_stitch_asks_for_other_things(tmp_path: Path, here: Path) -> None:
    """Square stitch has lanes and seeds alone: the fields follow, and so does the saved design."""
    async with designing(tmp_path) as pilot:
        pilot.app.screen.query_one("#stitch-choice").focus()
        choice = pilot.app.screen.query_one("#stitch-choice", Choice)
        while choice.value != "square stitch":
            await pilot.press("right")
        await settled(pilot)
        hidden = [name for name in ("tile", "seeds", "closure") if not shown_field(pilot, name)]
        assert ["tile", "seeds", "closure"] == hidden
        assert "Lanes" in shown_text(pilot)
        await fill(pilot, "wide-text", "7")
        await fill(pilot, "lines-text", "ABABABA")
        await settled(pilot)
        assert "SIZE" in shown_text(pilot) or "ROWS" in shown_text(pilot)
        await pilot.press("f2")
        await pilot.press("enter")
        await pilot.pause()
    (name,) = files_in(here)
    design = read_design(here / name, stitches=demands())
    assert ("square stitch", 0, 7, None) == (
        design.stitch,
        design.columns,
        design.lanes,
        design.tile,
    )
    assert "tile" not in (here / name).read_text("utf-8")


def shown_field(pilot: Pilot[None], name: str) -> bool:
    """Whether a field is there to be filled in."""
    return pilot.app.screen.query_one(f"#{name}", Field).display


DEMOS = sorted((Path(__file__).parents[2] / "patterns").glob("*.design.toml"))
TEXTS = {demo: demo.read_text("utf-8") for demo in DEMOS}


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.name)
async def test_a_design_that_is_only_looked_at_is_not_changed(tmp_path: Path, demo: Path) -> None:
    """Every demo band opens in the form with its preview, unchanged, and Escape asks nothing."""
    store, text = Store(tmp_path), TEXTS[demo]
    async with at_work(tmp_path, None, size=(100, 30)) as pilot:
        pilot.app.push_screen(NewBand(store, pilot.app.dress, path=demo, text=text))
        await settled(pilot)
        assert "not saved" not in shown_lines(pilot)[0]
        assert "ROWS" in shown_text(pilot)
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, Bench)
