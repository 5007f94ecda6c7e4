"""Pixels in a terminal: whether it shows them, and the sequences that do.

Asked are only terminals that say of themselves that they have true colours and how large their
cells are. The question goes out behind the first frame and nobody waits for the answer: it is
taken out of what is typed whenever it comes, and until then the picture is drawn in cells.
"""

from __future__ import annotations

import os
import re
import struct
import sys
from collections.abc import Mapping
from functools import cache
from importlib.util import find_spec
from typing import TYPE_CHECKING

from rich.segment import ControlType, Segment
from rich.style import Style
from textual.message import Message
from textual.strip import Strip

from tracker.records import record

if TYPE_CHECKING:  # what draws pixels is a process of its own
    from tracker.pictures.pixel_worker import Way

ASK_ID = 5_226
QUESTION = f"\x1b_Gi={ASK_ID},s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[c"
"""Whether it knows the graphics protocol of kitty (with an image of one pixel that is not kept),
and what it is: every terminal answers that, so the first answer is not waited for in vain. Among
the attributes of a terminal a 4 means sixels."""
# Compiled, and kept so, when a terminal has been asked.
_ANSWER = r"\x1b_G([^\x1b]*)\x1b\\|\x1b\[\?([0-9;]*)c"
_BEGUN = r"\x1b(_(G[^\x1b]{0,60}\x1b?)?|\[(\?[0-9;]{0,60})?)?\Z"
_SURELY_BEGUN = ("\x1b_G", "\x1b[?")
_LIBRARIES = ("resvg_py", "PIL", "textual_image")


@record(frozen=False, slots=False)
class GraphicsKnown(Message):
    """The terminal has answered."""

    way: Way | None
    """How it shows pixels; None if it does not."""


class Answers:
    """Takes the terminal's answers out of what comes from it; the rest are keys."""

    def __init__(self) -> None:
        self.complete = False
        self.way: Way | None = None
        self._held = ""

    def keys_in(self, text: str) -> str:
        """What is not part of an answer. A part that may be the beginning of one is kept back."""
        if self.complete:
            return text
        text = self._held + text
        self._held = ""
        text = re.sub(_ANSWER, self._take, text)
        if not self.complete and (begun := re.search(_BEGUN, text)):
            self._held = begun[0]
            text = text[: begun.start()]
        return text

    def keys_after_a_pause(self) -> str:
        """What was kept back, and is a key after all since nothing followed."""
        if self._held.startswith(_SURELY_BEGUN):
            return ""
        held, self._held = self._held, ""
        return held

    def _take(self, answer: re.Match[str]) -> str:
        kitty, attributes = answer.groups()
        if kitty is not None:
            if kitty == f"i={ASK_ID};OK":
                self.way = "kitty"
        else:
            self.complete = True
            # Terminals that know both do not all know the placeholders that we use with kitty's.
            if "4" in attributes.split(";")[1:]:
                self.way = "sixel"
        return ""


def why_cells(environment: Mapping[str, str]) -> str:
    """Why there can be no pixels, as far as it is known without asking; "" if there may be."""
    if "NO_COLOR" in environment:
        return "NO_COLOR is set"
    if environment.get("COLORTERM", "").lower() not in ("truecolor", "24bit"):
        return "the terminal does not say in COLORTERM that it has true colours"
    if sys.platform == "win32":
        return "that is not done on this system"
    if any(find_spec(library) is None for library in _LIBRARIES):
        return "install what it takes with: pip install 'bead-row-tracker[pixels]'"
    if cell_size() is None:
        return "the terminal does not say how large its cells are"
    return ""


def cell_size() -> tuple[int, int] | None:
    """Width and height of a cell in pixels, as the system knows them of the terminal."""
    import fcntl  # noqa: PLC0415  not on every platform
    import termios  # noqa: PLC0415  likewise

    try:
        raw = fcntl.ioctl(sys.__stdin__ or 0, termios.TIOCGWINSZ, bytes(8))
    except (OSError, ValueError):
        return None
    lines, columns, width, height = struct.unpack("HHHH", raw)
    if not (lines and columns and width >= columns and height >= lines):
        return None
    return (width // columns, height // lines)


# --- kitty --------------------------------------------------------------------------------------

_CHUNK = 4096
_PLACEHOLDER = "\U0010eeee"
"""A cell of an image. The colour of its text is the number of the image."""
_NUMBERS = """
305 30d-30e 310 312 33d-33f 346 34a-34c 350-352 357 35b 363-36f 483-487 592-595 597-599 59c-5a1
5a8-5a9 5ab-5ac 5af 5c4 610-617 657-65b 65d-65e 6d6-6dc 6df-6e2 6e4 6e7-6e8 6eb-6ec 730 732-733
735-736 73a 73d 73f-741 743 745 747 749-74a 7eb-7f1 7f3 816-819 81b-823 825-827 829-82d 951
953-954 f82-f83 f86-f87 135d-135f 17dd 193a 1a17 1a75-1a7c 1b6b 1b6d-1b73 1cd0-1cd2 1cda-1cdb
1ce0 1dc0-1dc1 1dc3-1dc9 1dcb-1dcc 1dd1-1de6 1dfe 20d0-20d1 20d4-20d7 20db-20dc 20e1 20e7 20e9
20f0 2cef-2cf1 2de0-2dff a66f a67c-a67d a6f0-a6f1 a8e0-a8f1 aab0 aab2-aab3 aab7-aab8 aabe-aabf
aac1 fe20-fe26 10a0f 10a38 1d185-1d189 1d1aa-1d1ad 1d242-1d244
"""
"""The marks that number lines and columns of an image, in their order, as the protocol lists them
(rowcolumn-diacritics.txt)."""


@cache
def numbers() -> tuple[str, ...]:
    """The marks, one for each number from 0."""
    ends = [part.partition("-") for part in _NUMBERS.split()]
    return tuple(chr(code) for a, _, b in ends for code in range(int(a, 16), int(b or a, 16) + 1))


def kitty_id(number: int) -> int:
    """The number of one of our images: of this process, so that others are left alone."""
    return 0x540000 | (os.getpid() & 0x7FFF) << 1 | number % 2


def kitty_image(image: int, png: str, columns: int, lines: int) -> str:
    """The sequences that give the terminal an image (base64) to be shown in so many cells."""
    parts = [png[i : i + _CHUNK] for i in range(0, len(png), _CHUNK)]
    head = f"a=T,U=1,i={image},f=100,c={columns},r={lines},q=2,"
    return "".join(
        f"\x1b_G{head if i == 0 else ''}m={int(i + 1 < len(parts))};{part}\x1b\\"
        for i, part in enumerate(parts)
    )


def kitty_gone(image: int) -> str:
    """The sequence that takes an image away and frees it."""
    return f"\x1b_Ga=d,d=I,i={image},q=2\x1b\\"


def kitty_strips(image: int, columns: int, lines: int, ground: str) -> list[Strip]:
    """The cells in which an image stands; each says which of them it is."""
    look = Style(color=f"#{image:06x}", bgcolor=ground)
    marks = numbers()
    return [
        Strip(
            [Segment("".join(f"{_PLACEHOLDER}{marks[y]}{marks[x]}" for x in range(columns)), look)],
            columns,
        )
        for y in range(lines)
    ]


# --- sixel --------------------------------------------------------------------------------------


def sixel_strips(sixels: tuple[str, ...], columns: int, ground: str, left: int) -> list[Strip]:
    """Lines of blanks, each with its sixels painted over it from column `left` (from 0) on."""
    blank = Segment(" " * columns, Style(bgcolor=ground))
    # A control of no effect: what is marked as one takes up no cells and is left as it is.
    mark = [(ControlType.CURSOR_FORWARD, 0)]
    return [
        Strip([blank, Segment(f"\x1b7\x1b[{left + 1}G{line}\x1b8", None, mark)], columns)
        for line in sixels
    ]
