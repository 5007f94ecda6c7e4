"""What is wrong with a file, where, and what the beader can do about it.

Every reader in the project collects `Problem` objects and raises them together as
`ProblemsError`, so that a file with five mistakes is mended in one sitting.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from tracker.records import record


@record
class Problem:
    """One thing that is wrong: `where` in the file, `what` is wrong, how to `mend` it."""

    where: str
    what: str
    mend: str

    def line(self, file: str) -> str:
        """The problem as the one line that the commands print."""
        return shown(f"{file}: {self.where}: {self.what}; {self.mend}")


class ProblemsError(Exception):
    """A file cannot be used. `file` names it, `problems` lists everything found (never empty)."""

    def __init__(self, problems: Iterable[Problem], file: str = "") -> None:
        self.problems = tuple(problems)
        self.file = file
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """One line a problem, in the order found."""
        return [problem.line(self.file) for problem in self.problems]

    def in_file(self, file: str) -> ProblemsError:
        """The same problems, placed in `file`."""
        return ProblemsError(self.problems, file)


def shown(text: str) -> str:
    r"""`text` as it may safely reach a terminal: control and format characters are spelt out.

    >>> shown("a\x1b[31mb")
    'a\\x1b[31mb'
    """
    return "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text)


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice that `word` most likely misspells, or None if none is close."""
    found = difflib.get_close_matches(word, list(choices), n=1, cutoff=0.6)
    return found[0] if found else None
