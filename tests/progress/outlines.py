"""Patterns for the tests of progress: only rows and steps, as progress sees them."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from hypothesis import strategies as st

from tracker.progress.piece import PieceFolder
from tracker.progress.position import Position
from tracker.progress.store import Store

DIGEST = "sha256:" + "ab" * 32
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Band:
    """A pattern whose rows have so many steps each."""

    steps: tuple[int, ...]
    digest: str = DIGEST
    name: str = "Harbour lights"

    @property
    def row_count(self) -> int:
        """Rows in the piece."""
        return len(self.steps)

    def steps_in(self, row: int) -> int:
        """Steps in a row."""
        return self.steps[row]


BAND = Band((1, 3, 2, 2, 2, 2))


def after(seconds: float) -> datetime:
    """So long after noon."""
    return NOON + timedelta(seconds=seconds)


def started(home: Path, band: Band = BAND, name: str = "Harbour lights") -> PieceFolder:
    """A new piece in `home`."""
    return Store(home).start(
        b"format = 1\n",
        name=name,
        digest=band.digest,
        design_digest="sha256:00",
        rows=band.row_count,
        source=home / "harbour.design.toml",
    )


bands = st.lists(st.integers(1, 5), min_size=1, max_size=12).map(lambda n: Band(tuple(n)))


@st.composite
def bands_with_place(draw: st.DrawFn) -> tuple[Band, Position]:
    """A band and one of its places, the end among them."""
    band = draw(bands)
    places = [Position(r, s) for r, n in enumerate(band.steps) for s in range(n)]
    return band, draw(st.sampled_from([*places, Position(band.row_count, 0)]))
