"""The bench keeps pieces in order: shelves, search, names, pictures; on the real app."""

from datetime import timedelta
from pathlib import Path
from time import perf_counter

import pytest
from hands import at_work, design_text, shown_lines, shown_text
from textual.pilot import Pilot
from textual.widgets import OptionList

from tracker.app.screens.bench import Bench
from tracker.app.screens.bench_keys import BENCH_KEYS
from tracker.app.screens.stitching import Stitching
from tracker.exchange import import_piece
from tracker.loading import compile_text
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder
from tracker.progress.position import forward
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store

SIZES = pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)], ids=str)
COMPILED = compile_text(design_text(rows=20))


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty working folder."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def piece(home: Path, name: str, *, moves: int = 0, days: float = 1) -> PieceFolder:
    """A piece stitched so many days ago, 20 seconds a step."""
    pattern = COMPILED.pattern
    folder = Store(home).start(
        COMPILED.text.encode(),
        name=name,
        digest=pattern.digest,
        design_digest=pattern.design,
        rows=pattern.row_count,
        source=home / "gone.design.toml",
    )
    at = utc_now() - timedelta(days=days)
    with open_piece(folder, pattern, clock=lambda: at) as opened:
        for i in range(moves):
            place = forward(pattern, opened.progress.position, "step")
            opened.record(Moved(at + timedelta(seconds=20 * i), place))
    return folder


async def looked(pilot: Pilot[None]) -> None:
    """Wait until everything in sight has been looked into."""
    for _ in range(60):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        screen = pilot.app.screen
        if isinstance(screen, Bench) and not (screen._looking or screen._unseen):
            return
    raise AssertionError("it never comes to an end")


def listed(pilot: Pilot[None]) -> list[str]:
    """What the list holds, shown or not: headings and names, in order."""
    options = pilot.app.screen.query_one(OptionList).options
    return [
        " ".join(str(option.prompt).splitlines()[-option.disabled].split()) for option in options
    ]


def under_the_bar(pilot: Pilot[None]) -> str:
    """The name of what is highlighted."""
    option = pilot.app.screen.query_one(OptionList).highlighted_option
    assert option is not None
    return str(option.prompt).splitlines()[0][:31].strip()


@SIZES
@pytest.mark.parametrize("mono", [False, True], ids=["colour", "no colour"])
async def test_a_piece_with_its_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int], *, mono: bool
) -> None:
    """Name, row, day, time left, and the band: what is done tells itself from what is not."""
    if mono:
        monkeypatch.setenv("NO_COLOR", "1")
    piece(tmp_path, "Harbour lights", moves=30)
    async with at_work(tmp_path, None, size=size) as pilot:
        await looked(pilot)
        first, second = next(
            shown_lines(pilot)[y : y + 2]
            for y, line in enumerate(shown_lines(pilot))
            if "Harbour lights" in line
        )
        assert "row 11 of 20" in first
        day = (utc_now() - timedelta(days=1)).astimezone()
        assert f"{day:%d %b %Y}" in second
        # 10 rows left, 3 steps of 20 s each: 10 minutes.
        assert "10 min left" in second
        if mono:
            lane = first[first.index("of 20") + 5 :].strip()
            done = len(lane) // 2
            assert {"B"} == set(lane[:done])
            assert {"b"} == set(lane[done:])
        else:
            assert "▀" * 10 in first
            assert "▀" * 10 in second
        assert all(size[0] == len(line) for line in shown_lines(pilot))


async def test_a_narrow_screen_goes_without_pictures(tmp_path: Path) -> None:
    """At 60 by 18 the words are all there; nothing is looked into for nothing."""
    piece(tmp_path, "Harbour lights", moves=30)
    async with at_work(tmp_path, None, size=(50, 18)) as pilot:
        await looked(pilot)
        assert "row 11 of 20" in shown_text(pilot)
        assert "▀" not in shown_text(pilot)
        assert {} == pilot.app.screen._seen  # type: ignore[attr-defined]


async def test_pieces_go_from_shelf_to_shelf(tmp_path: Path) -> None:
    """Set aside, taken up, finished, taken back; the bar stays so that the next can follow."""
    for name, days in (("One", 1.0), ("Two", 2.0), ("Three", 3.0)):
        piece(tmp_path, name, moves=2, days=days)
    async with at_work(tmp_path, None) as pilot:
        assert "One" == under_the_bar(pilot)
        await pilot.press("a")
        assert "Two" == under_the_bar(pilot)
        assert '"One" is set aside' in shown_text(pilot)
        await pilot.press("f")
        heads = [text for text in listed(pilot) if text[:3] in ("Pie", "Set", "Fin")]
        assert ["Pieces in hand 1", "Set aside 1", "Finished 1"] == heads
        await pilot.press("down", "a")
        assert '"One" is in hand' in shown_text(pilot)
        while under_the_bar(pilot) != "Two":
            await pilot.press("down")
        await pilot.press("f")
        assert '"Two" is in hand' in shown_text(pilot)
    shelves = {p.name: p.shelf for p in Store(tmp_path).pieces()}
    assert {"One": "in hand", "Two": "in hand", "Three": "in hand"} == shelves


async def test_a_piece_is_renamed(tmp_path: Path) -> None:
    """The old name stands in the field; a taken one is refused there, with the reason."""
    piece(tmp_path, "One", moves=2)
    piece(tmp_path, "Two", moves=2, days=2)
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("r")
        assert 'What shall "One" be called?' in shown_text(pilot)
        await pilot.press("end", "backspace", "backspace", "backspace", *"two", "enter")
        assert "Another piece is called Two already." in shown_text(pilot)
        await pilot.press("4", "enter")
        assert '"One" is now called "two4".' in shown_text(pilot)
        assert "two4" == under_the_bar(pilot)
        await pilot.press("r", "escape", "enter")
        assert isinstance(pilot.app.screen, Stitching)
        assert "two4" in shown_lines(pilot)[0]


async def test_a_piece_is_made_again(tmp_path: Path) -> None:
    """A second one of the same pattern stands at its first step."""
    piece(tmp_path, "For Ada", moves=9)
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("m")
        assert '"Harbour lights" is ready to be begun.' in shown_text(pilot)
        assert "Harbour lights row 1 of 20" in " ".join(listed(pilot))


async def test_a_piece_is_exported(tmp_path: Path, here: Path) -> None:
    """To the name in the field; a file that is something else is left alone, and that is said."""
    piece(tmp_path, "For Ada", moves=9)
    (here / "for-ada.piece.toml").write_text("my notes")
    async with at_work(tmp_path, None, size=(120, 30)) as pilot:
        await pilot.press("x", "enter")
        assert "for-ada.piece.toml: file: is there already" in shown_text(pilot)
        await pilot.press("x", "home", "2", "enter")
        assert "Written to" in shown_text(pilot)
    assert "my notes" == (here / "for-ada.piece.toml").read_text()
    found = import_piece(here / "2for-ada.piece.toml", Store(tmp_path / "there"))
    assert ("For Ada", 3) == (found.folder.name, found.position.row)


async def test_a_search(tmp_path: Path) -> None:
    """Parts of a name in any order and case; Enter goes to what was found, Escape shows all."""
    for i, name in enumerate(("For Ada", "For Ben", "Ada's second", "a[b]c/r")):
        piece(tmp_path, name, days=i + 1)
    async with at_work(tmp_path, None) as pilot:
        await pilot.press("slash", *"AD f")
        assert ["For Ada"] == [t.split(" row")[0] for t in listed(pilot) if " row " in t]
        await pilot.press(*"xr")
        assert "Pieces in hand none of that name" in shown_text(pilot)
        await pilot.press(*["backspace"] * 4, "enter", "down")
        assert 2 == len([t for t in listed(pilot) if " row " in t])
        assert "Ada's second" == under_the_bar(pilot)
        await pilot.press("enter")
        assert isinstance(pilot.app.screen, Stitching)
        await pilot.press("q", "escape")
        assert 4 == len([t for t in listed(pilot) if " row " in t])
        await pilot.press("slash", "[", "down", "enter")
        assert "a[b]c/r" in shown_lines(pilot)[0]


async def test_keys_of_a_piece_on_what_is_none(tmp_path: Path, here: Path) -> None:
    """On a design, and on a piece that cannot be used, they say so and change nothing."""
    (here / "harbour.design.toml").write_text(design_text(), "utf-8")
    folder = piece(tmp_path, "Broken")
    (folder.path / "piece.toml").write_text("format = 1\n")
    async with at_work(tmp_path, None) as pilot:
        for key in "rafmx":
            await pilot.press("home", key)
            assert "That piece cannot be used" in shown_text(pilot)
            await pilot.press("end", key)
            assert "That is done with a piece: choose one." in shown_text(pilot)
            assert isinstance(pilot.app.screen, Bench)


async def test_a_damaged_piece_in_sight_is_told(tmp_path: Path) -> None:
    """A long journal damaged in its middle: looked into, the line says that it cannot be opened."""
    folder = piece(tmp_path, "Harbour lights", moves=59)
    whole = folder.journal_path.read_bytes()
    folder.journal_path.write_bytes(whole.replace(b"row 2 step", b"row 3 step", 1))
    piece(tmp_path, "Whole", moves=3, days=2)
    async with at_work(tmp_path, None) as pilot:
        await looked(pilot)
        text = shown_text(pilot)
        assert 1 == text.count("cannot be opened: choose it to see why")
        assert "Whole" in text


async def test_a_piece_open_elsewhere_keeps_its_name(tmp_path: Path) -> None:
    """Another window stitches it: the change is refused in words."""
    folder = piece(tmp_path, "Harbour lights", moves=3)
    with open_piece(folder, COMPILED.pattern):
        async with at_work(tmp_path, None) as pilot:
            await pilot.press("a")
            assert "it is open in another window" in shown_text(pilot)
    assert ["in hand"] == [p.shelf for p in Store(tmp_path).pieces()]


@SIZES
async def test_every_key_stands_at_the_bottom(tmp_path: Path, size: tuple[int, int]) -> None:
    """All of the table, over as many lines as it takes."""
    async with at_work(tmp_path, None, size=size) as pilot:
        text = shown_text(pilot)
        assert [] == [key.id for key in BENCH_KEYS if f"{key.shown} {key.label}" not in text]


async def test_two_hundred_pieces(tmp_path: Path) -> None:
    """They are listed without reading them; those in sight are looked into, the others are not."""
    first = piece(tmp_path, "Piece 0", moves=60)
    about = (first.path / "piece.toml").read_text("utf-8")
    for i in range(1, 200):
        folder = tmp_path / "pieces" / f"piece-{i}"
        folder.mkdir()
        (folder / "piece.toml").write_text(about.replace("Piece 0", f"Piece {i}"), "utf-8")
        for file in ("pattern.toml", "journal.toml"):
            (folder / file).write_bytes((first.path / file).read_bytes())
    async with at_work(tmp_path, None) as pilot:
        await looked(pilot)
        bench = pilot.app.screen
        assert isinstance(bench, Bench)
        assert 200 == len([t for t in listed(pilot) if "Piece " in t])
        assert 5 < len(bench._seen) < 20
        before = perf_counter()
        await pilot.press("end")
        await looked(pilot)
        assert perf_counter() - before < 5  # a second on a busy machine; a bound for a stall
        assert len(bench._seen) < 40
        await pilot.press("slash", *"piece 17", "enter")
        # 17, 117 and 170 to 179.
        assert 12 == len([t for t in listed(pilot) if "Piece " in t])
