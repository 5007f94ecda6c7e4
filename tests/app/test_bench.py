"""The opening screen, on the real app."""

from pathlib import Path

import pytest
from hands import at_work, bouncing, design_file, design_text, place_shown, shown_lines, shown_text
from textual.pilot import Pilot
from textual.widgets import OptionList

from tracker.app.screens.bench import Bench
from tracker.app.screens.stitching import Stitching
from tracker.progress.store import Store
from tracker.starting import take_up


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with one design in it."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    design_file(folder, design_text())
    return folder


def highlighted(pilot: Pilot[None]) -> str:
    """The line that is chosen, as it stands in the list."""
    choices = pilot.app.screen.query_one(OptionList)
    assert choices.highlighted is not None
    return " ".join(str(choices.get_option_at_index(choices.highlighted).prompt).split())


async def choose(pilot: Pilot[None], text: str) -> None:
    """Go down the list to the line with that text, and take it up."""
    for _ in range(20):
        if text in highlighted(pilot):
            await pilot.press("enter")
            return
        await pilot.press("down")
    raise AssertionError(f"{text} is not in the list")


@pytest.mark.usefixtures("here")
async def test_the_bench_lists_pieces_and_designs(tmp_path: Path) -> None:
    """Without pieces the first design is chosen; it is started by Enter and left by q."""
    async with at_work(tmp_path, None) as pilot:
        assert "Pieces in hand none yet" in shown_text(pilot)
        assert "harbour.design.toml" in highlighted(pilot)
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, Stitching)
        await pilot.press("space", "space", "q")
        assert isinstance(pilot.app.screen, Bench)
        assert "Harbour lights row 1 of 6" in highlighted(pilot)
        await pilot.press("space")
        assert (1, 3) == place_shown(pilot)
        await pilot.press("q", "q")
        assert not pilot.app.is_running


async def test_a_pattern_beside_its_design_is_listed_once(tmp_path: Path, here: Path) -> None:
    """A design stands for its pattern; a pattern alone stands for itself; folders are none."""
    design_file(here, design_text(), "harbour.pattern.toml")
    design_file(here, design_text(), "alone.pattern.toml")
    design_file(here, design_text(), "notes.toml")
    (here / "folder.design.toml").mkdir()
    (here / "loop.design.toml").symlink_to("loop.design.toml")
    async with at_work(tmp_path, None) as pilot:
        text = shown_text(pilot)
        assert "harbour.design.toml" in text
        assert "alone.pattern.toml" in text
        assert not any(
            name in text for name in ("harbour.pattern", "notes", "folder", "loop.design")
        )


@pytest.mark.usefixtures("here")
async def test_a_bouncing_key_starts_one_piece_and_moves_nothing(tmp_path: Path) -> None:
    """Enter twice at once opens the piece for writing, at its first step."""
    async with at_work(tmp_path, None, bounce=0.04) as pilot:
        bench = pilot.app.screen
        await bouncing(pilot, "enter")
        # As two presses do of which the second came before the first had been answered.
        bench.post_message(Bench.Chosen("harbour.design.toml"))
        await pilot.pause()
        assert (1, 1) == place_shown(pilot)
        assert "READING ONLY" not in shown_text(pilot)
        assert 1 == len([s for s in pilot.app.screen_stack if isinstance(s, Stitching)])
    assert ["Harbour lights"] == [listed.name for listed in Store(tmp_path).pieces()]


async def test_a_broken_design_shows_all_its_problems(tmp_path: Path, here: Path) -> None:
    """Brackets in its name and in its values are shown as they are; the bench goes on."""
    text = design_text().replace('hex = "#2a7f8e"', 'hex = "[red]"').replace("BAAB", "B[/]B")
    design_file(here, text, "[bold]a[bold].design.toml")
    async with at_work(tmp_path, None, size=(100, 30)) as pilot:
        await choose(pilot, "[bold]a[bold].design.toml")
        said = shown_text(pilot)
        assert isinstance(pilot.app.screen, Bench)
        assert "[bold]a[bold].design.toml: colours.A.hex: " in said
        assert '"[red]"' in said
        assert "[bold]a[bold].design.toml: layout.lanes: " in said
        await choose(pilot, "harbour.design.toml")
        assert (1, 1) == place_shown(pilot)


@pytest.mark.parametrize(
    ("file", "data"),
    [
        ("piece.toml", b"format = 1\n"),
        ("piece.toml", b"\x00\xff[[["),
        ("journal.toml", b"[bold]no journal[/]\n" * 40),
        ("pattern.toml", b"format = 1\nseal = [\n"),
    ],
    ids=["piece", "bytes", "journal", "pattern"],
)
async def test_a_broken_piece_shows_its_problem(
    tmp_path: Path, here: Path, file: str, data: bytes
) -> None:
    """It stays in the list, says why when it is chosen, and stops nobody from starting another."""
    take_up("harbour.design.toml", Store(tmp_path)).piece.close()
    design_file(here, design_text(name="Another"), "another.design.toml")
    folder = tmp_path / "pieces" / "harbour-lights"
    (folder / file).write_bytes(data)
    async with at_work(tmp_path, None, size=(120, 30)) as pilot:
        await choose(pilot, "row 1 of 6" if file == "pattern.toml" else "cannot be opened")
        said = shown_text(pilot)
        assert isinstance(pilot.app.screen, Bench)
        assert f"harbour-lights/{file}: " in said.replace("/ ", "/")
        await choose(pilot, "another.design.toml")
        assert "Another" in shown_lines(pilot)[0]


async def test_a_name_with_brackets_is_text(tmp_path: Path, here: Path) -> None:
    """Names of pieces, colours and files are never read as markup, on any screen."""
    text = design_text(
        name="[b]Half[/b] [@click=q]x[/]", names=("[bold]x[/]", "[/]", "$primary [red]")
    )
    design_file(here, text, "[red]r[red].design.toml")
    async with at_work(tmp_path, None, size=(120, 30)) as pilot:
        assert "[red]r[red].design.toml" in shown_text(pilot)
        await choose(pilot, "[red]r[red].design.toml")
        said = shown_text(pilot)
        assert "[b]Half[/b] [@click=q]x[/]" in said
        assert "1 A [bold]x[/] tile" in said
        assert "$primary [red] seeds" in said
        await pilot.press("g", "4", "enter", "s")
        assert "[/] tile" in shown_text(pilot)
        await pilot.press("q")
        assert "[b]Half[/b] [@click=q]x[/]" in shown_text(pilot)


@pytest.mark.usefixtures("here")
async def test_a_folder_that_cannot_be_used_is_said(tmp_path: Path) -> None:
    """A file where the pieces' folder should be is a notice; so is a piece that cannot begin."""
    (tmp_path / "pieces").write_text("no folder")
    async with at_work(tmp_path, None, size=(120, 30)) as pilot:
        assert "pieces: the folder: cannot be read" in shown_text(pilot)
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, Bench)
        assert "pieces: the folder: cannot be read" in shown_text(pilot)


async def test_a_file_named_like_a_piece_is_not_taken_for_it(tmp_path: Path, here: Path) -> None:
    """Choosing a piece opens that piece, whatever lies in the working folder."""
    take_up("harbour.design.toml", Store(tmp_path)).piece.close()
    (here / "harbour-lights").write_text("something else")
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("enter")
        assert (1, 1) == place_shown(pilot)


async def test_long_names_are_cut_where_it_shows(tmp_path: Path, here: Path) -> None:
    """A name too long for its column, in letters of any width, ends with an ellipsis."""
    wide = "\N{CJK UNIFIED IDEOGRAPH-73E0}" * 30
    design_file(here, design_text(name=wide), f"{'long' * 12}.design.toml")
    async with at_work(tmp_path, None) as pilot:
        assert "longlonglonglonglonglonglonglonglon… " in shown_text(pilot)
        await choose(pilot, "longlong")
        await pilot.press("q")
        assert f"{wide[:13]} … row 1 of 6" in highlighted(pilot)


@pytest.mark.usefixtures("here")
async def test_a_finished_piece_is_listed_as_finished(tmp_path: Path) -> None:
    """The list says so instead of a row."""
    async with at_work(tmp_path, "harbour.design.toml") as pilot:
        await pilot.press("g", "6", "enter", "space", "space", "space")
    async with at_work(tmp_path, None) as pilot:
        assert "finished, 6 rows" in highlighted(pilot)
        assert "ROW" not in shown_lines(pilot)[0]
