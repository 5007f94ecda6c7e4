"""The picture in pixels on a real pseudo-terminal that can show them, and on those that cannot."""

import base64
import io
import os
import re
import signal
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

import pyte
import pytest
from hands import design_file, design_text, pattern_of, place_at
from sixels import Colour, decoded
from terminals import NOT_KNOWN, TRACKER, Terminal

from tracker.app.graphics import ASK_ID, QUESTION, numbers
from tracker.app.pixels import Pixels, Sheet
from tracker.app.widgets.picture import composed
from tracker.beads.model import Tile
from tracker.path.plane import heading_of
from tracker.pictures.pixels import Canvas, pixel_of
from tracker.progress.position import Position

pytest.importorskip("textual_image", reason="the extra `pixels` is not installed")
Image = pytest.importorskip("PIL.Image", reason="the extra `pixels` is not installed")

pytestmark = pytest.mark.terminal

DESIGN = design_text(3, 20)
CELL = (10, 20)
NOTHING = {b"\x1b[c": b"\x1b[?62;22c"}
KITTY = {b"a=q": f"\x1b_Gi={ASK_ID};OK\x1b\\".encode(), **NOTHING}
SIXEL = {b"\x1b[c": b"\x1b[?62;4;22c"}
TRUE_COLOUR = {"COLORTERM": "truecolor"}
NEAR = 14
"""Of 255 a colour may be off: 128 colours for all, and whole percents in sixels."""

SIXELS = re.compile(rb"\x1b7\x1b\[(\d+)G\x1bP([^\x1b]*)\x1b\\\x1b8")


def opened(
    home: Path,
    answers: Mapping[bytes, bytes],
    more: Mapping[str, str] = TRUE_COLOUR,
    *,
    cell: tuple[int, int] = CELL,
    picture: str = "auto",
) -> Terminal:
    """The program at the first step, on a terminal that answers so."""
    name = design_file(home, DESIGN).name
    (home / "settings.toml").write_text(f'format = 1\npicture = "{picture}"\n', "utf-8")
    argv = (*TRACKER, "open", name)
    return Terminal(home, *argv, size=(100, 30), cell=cell, answers=answers, more=more)


def beads_at(position: Position, canvas: Canvas) -> Iterator[tuple[tuple[int, int], Colour]]:
    """Pixels of the faces of tiles, beside their letters, each with the bead's own colour."""
    pattern = pattern_of(DESIGN)
    scene, view = composed(place_at(pattern, position), canvas)
    marked = {target.bead.id for target in scene.targets} | scene.pass_by
    for drawn in scene.beads:
        if not isinstance(drawn.shape, Tile) or drawn.bead.id in marked:
            continue
        ahead_x, ahead_y = heading_of(drawn.bead.place.tilt)
        # Away from the middle as the holes are spaced; an open one is marked.
        for way in (-1.2, 1.2) if "b" in drawn.filled else (-1.2,):
            point = (drawn.bead.place.x + way * ahead_y, drawn.bead.place.y - way * ahead_x)
            x, y = pixel_of(canvas, view, point)
            if 0 <= x < canvas.width and 0 <= y < canvas.height:
                code = pattern.colour(drawn.bead.colour).hex
                red, green, blue = (int(code[i : i + 2], 16) for i in (1, 3, 5))
                yield (x, y), (red, green, blue)


def shows(
    position: Position, canvas: Canvas, colour_at: Callable[[tuple[int, int]], Colour | None]
) -> bool:
    """Whether every tile that ought to be there is there, in its colour, and none ahead of it."""
    beads = list(beads_at(position, canvas))
    assert beads

    def right(at: tuple[int, int], colour: Colour) -> bool:
        there = colour_at(at)
        return there is not None and all(
            abs(a - b) <= NEAR for a, b in zip(colour, there, strict=True)
        )

    wrong = [at for at, colour in beads if not right(at, colour)]
    # A seed or the needle's way may lie upon one end of a tile.
    return len(wrong) <= len(beads) // 6


def images_of(raw: bytes) -> list[tuple[int, Canvas, bytes]]:
    """The images that were sent by the protocol of kitty: number, cells, PNG."""
    found = []
    for message in re.findall(rb"\x1b_G([^\x1b]*)\x1b\\", raw):
        head, _, payload = message.partition(b";")
        keys = dict(part.split(b"=") for part in head.split(b","))
        if keys.get(b"a") == b"T":
            assert (b"1", b"100", b"2") == (keys[b"U"], keys[b"f"], keys[b"q"])
            canvas = Canvas(int(keys[b"c"]), int(keys[b"r"]), *CELL)
            found.append((int(keys[b"i"]), canvas, [payload]))
        elif set(keys) == {b"m"}:
            assert len(payload) <= 4096
            found[-1][2].append(payload)
    return [(number, canvas, base64.b64decode(b"".join(parts))) for number, canvas, parts in found]


def kitty_shows(terminal: Terminal, position: Position) -> bool:
    """Whether the cells of the screen are those of the image sent last, and it shows the place."""
    cells = [cell for cell in terminal.cells() if cell.data[0] == "\U0010eeee"]
    images = images_of(terminal.raw)
    if not cells or not images:
        return False
    number, canvas, png = images[-1]
    marks = numbers()
    if {f"{number:06x}"} != {cell.fg for cell in cells}:
        return False
    wanted = [
        f"\U0010eeee{marks[y]}{marks[x]}"
        for y in range(canvas.lines)
        for x in range(canvas.columns)
    ]
    image = Image.open(io.BytesIO(png)).convert("RGB")
    assert (canvas.width, canvas.height) == image.size
    return wanted == [cell.data for cell in cells] and shows(position, canvas, image.getpixel)


def sixels_on(terminal: Terminal) -> tuple[Canvas, dict[int, str]]:
    """The canvas, and for each of its lines the sixels that stand there and nothing over them."""
    screen = pyte.Screen(100, 30)
    stream = pyte.ByteStream(screen)
    painted: dict[int, str] = {}
    begin = 0
    for found in SIXELS.finditer(terminal.raw):
        stream.feed(NOT_KNOWN.sub(b"", terminal.raw[begin : found.start()]))
        assert b"1" == found[1], "the picture begins at the left edge"
        wide = re.search(rb'"1;1;(\d+);20', found[2])
        assert wide is not None, "a line of cells is 20 pixels high"
        painted[screen.cursor.y] = found[2].decode()
        stream.feed(b"\x1b7\x1b[1G" + b"@" * (int(wide[1]) // CELL[0]) + b"\x1b8")
        begin = found.end()
    stream.feed(NOT_KNOWN.sub(b"", terminal.raw[begin:]))
    lines = {y: line for y, line in painted.items() if screen.display[y].startswith("@@")}
    top = min(lines, default=0)
    columns = screen.display[top].count("@")
    return Canvas(columns, len(lines), *CELL), {y - top: lines[y] for y in sorted(lines)}


def sixel_shows(terminal: Terminal, position: Position) -> bool:
    """Whether the sixels on the screen show the place."""
    canvas, lines = sixels_on(terminal)
    if not lines or list(lines) != list(range(canvas.lines)):
        return False
    pixels = {
        (x, y * CELL[1] + below): colour
        for y, line in lines.items()
        for (x, below), colour in decoded(line).items()
    }
    return shows(position, canvas, pixels.get)


def once_quiet(terminal: Terminal, look: Callable[[], bool]) -> Callable[[], bool]:
    """A look that is taken when nothing has come since the last time, and once for what came."""
    before = looked = -1

    def quiet() -> bool:
        nonlocal before, looked
        now = len(terminal.raw)
        if now != before or now == looked:
            before = now
            return False
        looked = now
        return look()

    return quiet


@pytest.mark.parametrize(
    ("answers", "shown"), [(KITTY, kitty_shows), (SIXEL, sixel_shows)], ids=["kitty", "sixel"]
)
def test_the_terminal_gets_a_picture_of_each_place(
    tmp_path: Path, answers: Mapping[bytes, bytes], shown: Callable[[Terminal, Position], bool]
) -> None:
    """On, on to the next rows, and back: the pixels that are sent have the beads' own colours."""
    with opened(tmp_path, answers) as terminal:
        terminal.wait_for_place(1, 1)
        for moves, keys in ((9, " " * 9), (8, "\x7f")):
            terminal.type(keys)
            place = Position(*divmod(moves, 4))
            terminal.wait_for_place(place.row + 1, place.step + 1)
            terminal.wait_until(
                once_quiet(terminal, partial(shown, terminal, place)), f"pixels of {place}"
            )
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert terminal.as_found


@pytest.mark.parametrize(
    ("answers", "more", "cell", "said"),
    [
        (NOTHING, TRUE_COLOUR, CELL, "the terminal shows no pixels"),
        (KITTY | SIXEL, {**TRUE_COLOUR, "NO_COLOR": "1"}, CELL, "NO_COLOR is set"),
        (KITTY | SIXEL, {"TERM": "xterm-16color"}, CELL, "does not say in COLORTERM that it has"),
        (KITTY | SIXEL, TRUE_COLOUR, (0, 0), "does not say how large its cells are"),
    ],
    ids=["neither", "no colour", "16 colours", "no cell size"],
)
def test_elsewhere_not_a_byte_of_graphics_is_sent(
    tmp_path: Path,
    answers: Mapping[bytes, bytes],
    more: Mapping[str, str],
    cell: tuple[int, int],
    said: str,
) -> None:
    """Cells, and a word on why if pixels are wished for; nothing is asked in vain either."""
    with opened(tmp_path, answers, more, cell=cell, picture="pixels") as terminal:
        terminal.wait_for_place(1, 1)
        terminal.wait_until(lambda: said in " ".join(terminal.text.split()), said)
        terminal.type("  ")
        terminal.wait_for_place(1, 3)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        raw = terminal.raw.replace(QUESTION.encode(), b"") if answers is NOTHING else terminal.raw
        assert b"\x1b_G" not in raw
        assert b"\x1bP" not in raw
        assert "\U0010eeee".encode() not in raw


def test_cells_are_kept_where_they_are_wished_for(tmp_path: Path) -> None:
    """With `picture = "cells"` the terminal is asked nothing."""
    with opened(tmp_path, KITTY | SIXEL, picture="cells") as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        terminal.wait_for_place(1, 2)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert b"\x1b_G" not in terminal.raw
        assert b"\x1b[c" not in terminal.raw


def test_keys_typed_about_a_late_answer_all_count(tmp_path: Path) -> None:
    """The answer comes in pieces amid typing: three moves, no help, no leaving, then pixels."""
    with opened(tmp_path, {}) as terminal:
        terminal.wait_for_place(1, 1)
        answer = f"\x1b_Gi={ASK_ID};OK\x1b\\\x1b[?62;22c"
        terminal.type(f" {answer[:5]}")
        terminal.wait_for_place(1, 2)
        terminal.type(f"{answer[5:12]}")
        terminal.look(0.3)
        terminal.type(f"{answer[12:]}  ")
        terminal.wait_for_place(1, 4)
        terminal.wait_until(lambda: kitty_shows(terminal, Position(0, 3)), "pixels")


def test_the_images_are_taken_away_in_the_end(tmp_path: Path) -> None:
    """Ended by a signal: both are deleted before the screen is left, and no process stays."""
    with opened(tmp_path, KITTY) as terminal:
        terminal.wait_for_place(1, 1)
        for step in (0, 1):
            terminal.wait_until(
                lambda step=step: kitty_shows(terminal, Position(0, step)), "an image"
            )
            if step == 0:
                terminal.type(" ")
        children = children_of(terminal.process.pid)
        assert 1 == len(children)
        terminal.process.send_signal(signal.SIGTERM)
        assert 0 == terminal.wait_for_end()
        left = terminal.raw.rindex(b"\x1b[?1049l")
        for number in {number for number, _, _ in images_of(terminal.raw)}:
            gone = terminal.raw.rindex(b"\x1b_Ga=d,d=I,i=%d,q=2\x1b\\" % number)
            sent = terminal.raw.rindex(b"i=%d,f=100" % number)
            assert sent < gone < left
        assert terminal.as_found
        assert not any(Path(f"/proc/{child}").exists() for child in children)


def children_of(process: int) -> list[str]:
    """The processes that a process has started."""
    threads = Path(f"/proc/{process}/task").glob("*/children")
    return [child for thread in threads for child in thread.read_text("ascii").split()]


def test_when_the_renderer_dies_cells_do(tmp_path: Path) -> None:
    """The picture goes on in characters, with a word, and every key counts."""
    with opened(tmp_path, KITTY, picture="pixels") as terminal:
        terminal.wait_for_place(1, 1)
        terminal.wait_until(lambda: kitty_shows(terminal, Position(0, 0)), "an image")
        for child in children_of(terminal.process.pid):
            os.kill(int(child), signal.SIGKILL)
        # The word comes when the next picture is due, and stands until the key after that.
        said = False
        for _ in range(4):
            for _ in range(50):
                terminal.look()
                said = said or "the renderer has ended" in terminal.text
                if said:
                    break
            terminal.type(" ")
        terminal.wait_for_place(2, 1)
        assert said
        assert not any(cell.data[0] == "\U0010eeee" for cell in terminal.cells())
        terminal.type(" q")
        assert 0 == terminal.wait_for_end()


async def test_a_picture_never_stands_for_another_place() -> None:
    """Only the place that was asked for has one, and the place after it, made ahead."""
    sent: list[str] = []
    pixels = Pixels(sent.append, "", wished=False)
    pixels.found("kitty")
    pattern, canvas = pattern_of(DESIGN), Canvas(40, 8, *CELL)
    first, second, third = (
        Sheet(place_at(pattern, Position(0, step)), canvas, composed) for step in range(3)
    )
    try:
        assert pixels.put(first, 0) is None
        await pixels.make(first, lambda: None)
        assert [] == sent
        assert pixels.put(third, 0) is None
        shown = pixels.put(first, 0)
        assert shown is not None
        assert 1 == "".join(sent).count("a=T")
        assert shown == pixels.put(first, 0)
        assert 1 == "".join(sent).count("a=T"), "sent once"
        assert shown != pixels.put(second, 0)
        assert 2 == "".join(sent).count("a=T")
    finally:
        pixels.close()
