"""A notice in the beader's way, once: folded over as many lines as it needs."""

from __future__ import annotations

import textwrap

from tracker.app.lines import Lines, line
from tracker.app.look import Dress

MOST_LINES = 4


class Notice(Lines):
    """What has to be said; nothing most of the time."""

    def say(self, text: str, look: Dress) -> None:
        """Say `text`, or take the notice away if it is ""."""
        width = max(20, self.screen.size.width - 2)
        folded = textwrap.wrap(text, width)[:MOST_LINES]
        self.display = bool(folded)
        self.styles.height = max(1, len(folded))
        self.show([line([(f" {part}", look.notice)], width + 2, look.notice) for part in folded])
