"""What the lesson tells now: one thing at a time, below the work and in its way nowhere."""

from __future__ import annotations

from tracker.app.lines import Lines, Run, fold, line, spoken
from tracker.app.look import Dress


class TaskPanel(Lines):
    """The task that waits, over as many lines as it needs."""

    def tell(self, label: str, text: str, look: Dress, width: int) -> int:
        """Show a task; how many lines it takes."""
        runs: list[Run] = [(f" {label} ", look.task_label), (" ", look.task)]
        lines = fold([*runs, *spoken(text, look.task)], max(20, width) - 1, 1)
        self.styles.height = len(lines)
        self.show([line(part, max(20, width), look.task) for part in lines])
        return len(lines)
