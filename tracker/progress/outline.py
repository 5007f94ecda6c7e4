"""What the progress of a piece needs to know of its pattern: how many rows and steps there are."""

from __future__ import annotations

from typing import Protocol


class Outline(Protocol):
    """A pattern, seen from its progress. Rows and steps are counted from 0."""

    @property
    def digest(self) -> str:
        """`sha256:...` of the pattern file's bytes; a journal is bound to it."""
        ...

    @property
    def name(self) -> str:
        """The pattern's name, for messages."""
        ...

    @property
    def row_count(self) -> int:
        """Rows in the whole piece, at least 1."""
        ...

    def steps_in(self, row: int) -> int:
        """Steps in `row`, at least 1."""
        ...
