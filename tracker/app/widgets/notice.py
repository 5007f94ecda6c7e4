"""A notice in the beader's way, once: folded over as many lines as it needs."""

from __future__ import annotations

from collections.abc import Iterable

from rich.style import Style

from tracker.app.lines import Lines, Run, fold, line, spoken
from tracker.app.look import Dress

NARROW = 80
MORE = " …"
"""Behind a notice that is longer still."""


class Notice(Lines):
    """What has to be said; nothing most of the time."""

    lines = 0
    """How many lines it takes up."""
    _said: tuple[tuple[str, ...], Dress, int, int] | None = None

    def say(self, text: str, look: Dress) -> None:
        """Say `text`, or take the notice away if it is ""."""
        most = most_lines(self.screen.size.width)
        self.say_all([text] if text else [], look, most)

    def say_all(self, texts: Iterable[str], look: Dress, most: int) -> None:
        """Say texts, each on lines of its own; at most so many lines."""
        width = max(20, self.screen.size.width)
        what = (tuple(texts), look, most, width)
        if what == self._said:
            return
        self._said = what
        ground = self.ground(look)
        lines = [part for text in what[0] for part in _folded(text, ground, width)]
        if len(lines) > most:
            lines = [*lines[: most - 1], [*lines[most - 1], (MORE, ground)]]
        self.lines = len(lines)
        self.display = bool(lines)
        self.styles.height = max(1, len(lines))
        self.show([line(runs, width, ground) for runs in lines])

    def ground(self, look: Dress) -> Style:
        """What it is shown in."""
        return look.notice


class Alarm(Notice):
    """What has to be seen for as long as it holds: that something is not saved."""

    def ground(self, look: Dress) -> Style:
        """What it is shown in."""
        return look.alarm


def _folded(text: str, look: Style, width: int) -> list[list[Run]]:
    return fold([(" ", look), *spoken(text, look)], width - len(MORE), 1)


def most_lines(width: int) -> int:
    """Lines that a notice may take of a screen so wide; a narrow one needs more for as much."""
    return 4 if width >= NARROW else 6
