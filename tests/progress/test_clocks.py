"""Clocks that are set back, jump ahead or stand in another zone: dates and pace stay sane."""

import math
import os
import subprocess
import sys
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, timezone
from itertools import pairwise
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import BAND, NOON, Band, after, started

import tracker
from tracker.progress import journal
from tracker.progress.opened import open_piece
from tracker.progress.pace import LONGEST_GAP
from tracker.progress.position import START, Position, forward
from tracker.progress.shelf import put
from tracker.progress.state import Moved, Opened, Progress, apply, to_milliseconds
from tracker.progress.store import Store
from tracker.progress.words import read, written

LONG = Band((2, 3) * 100)
times = st.datetimes(datetime(2, 1, 1), datetime(9998, 12, 31), timezones=st.just(UTC))  # noqa: DTZ001  hypothesis adds the zone
jumps = st.one_of(
    st.floats(0.5, 400),
    st.floats(-400, 400),
    st.sampled_from([-3600.0, 3600.0, -86_400.0, 7 * 86_400.0, 3.2e7, -3.2e7, 0.0]),
)


def stitched(clock: Iterable[datetime]) -> Progress:
    """A step at every time that the clock told."""
    progress = apply(LONG, Progress(started=NOON), Opened(NOON))
    for at in clock:
        place = forward(LONG, progress.position, "step")
        progress = apply(LONG, progress, Moved(to_milliseconds(at), place))
    return progress


def require_sane(progress: Progress) -> None:
    """No row took no time, less than none, or longer than breaks allow."""
    longest = 3 * max(300.0, 4 * LONGEST_GAP)
    for seconds in progress.row_seconds:
        assert 2.0 <= seconds <= longest
    assert all(0 <= gap <= LONGEST_GAP for gap in progress.timing.gaps)
    assert progress.seconds_a_row is None or math.isfinite(progress.seconds_a_row)


@given(st.lists(times, max_size=60))
def test_any_times_at_all(clock: list[datetime]) -> None:
    """However a clock jumps about, pace stays within reason, and the place where it was led."""
    progress = stitched(clock)
    require_sane(progress)
    place = START
    for _ in clock:
        place = forward(LONG, place, "step")
    assert place == progress.position


@settings(max_examples=50)
@given(st.lists(jumps, min_size=10, max_size=200))
def test_a_clock_that_is_set_now_and_then(gaps: list[float]) -> None:
    """Set back by an hour, ahead by a year, asleep for a week: the same."""
    now, clock = NOON, []
    for gap in gaps:
        now += timedelta(seconds=gap)
        clock.append(now)
    require_sane(stitched(clock))


@settings(max_examples=30)
@given(st.floats(-3e8, 3e8), st.integers(40, 90))
def test_one_jump_does_not_move_the_pace(jump: float, when: int) -> None:
    """An even hand has the same pace with and without any one jump of the clock."""
    steady = [NOON + timedelta(seconds=20 * n) for n in range(140)]
    jumped = [at + timedelta(seconds=jump) * (n >= when) for n, at in enumerate(steady)]
    pace, without = stitched(jumped).seconds_a_row, stitched(steady).seconds_a_row
    assert pace is not None
    assert without is not None
    assert abs(pace - without) <= 10.0  # rows of two and of three steps: 40 s and 60 s


@given(times, st.integers(-14 * 60, 14 * 60))
def test_the_journal_does_not_know_zones(at: datetime, minutes: int) -> None:
    """The same moment told in any zone is the same line, and is read back as the moment."""
    moved = Moved(to_milliseconds(at), Position(1, 1))
    elsewhere = Moved(at.astimezone(timezone(timedelta(minutes=minutes))), Position(1, 1))
    assert written(moved, BAND.row_count) == written(elsewhere, BAND.row_count)
    assert moved == read(written(elsewhere, BAND.row_count), BAND.row_count)


IN_ZONE = """
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from outlines import BAND
from tracker.dates import here
from tracker.progress.opened import open_piece
from tracker.progress.position import forward
from tracker.progress.state import Moved
from tracker.progress.store import Store
(listed,) = Store(Path(sys.argv[1])).pieces()
with open_piece(listed.folder, BAND) as piece:
    last = piece.progress.last_stitched or datetime(2026, 3, 29, 0, 59, tzinfo=UTC)
    for n in range(1, 4):
        at = here(last + timedelta(seconds=30 * n))
        piece.record(Moved(at, forward(BAND, piece.progress.position, "step")))
    print(here(piece.progress.last_stitched).isoformat(), *piece.progress.row_seconds)
"""


def sittings(home: Path, *zones: str) -> list[list[str]]:
    """What is told after a sitting in each of these zones."""
    started(home)
    return [
        subprocess.run(
            [sys.executable, "-c", IN_ZONE, str(home), str(Path(__file__).parent)],
            capture_output=True,
            text=True,
            check=True,
            env=os.environ | {"TZ": zone, "PYTHONPATH": str(Path(tracker.__file__).parents[1])},
        ).stdout.split()
        for zone in zones
    ]


def test_the_time_zone_changes_on_the_way(tmp_path: Path) -> None:
    """Stitched in two zones, over a change to summer time too: one run of time, one pace."""
    told = sittings(tmp_path, "Europe/Berlin", "Pacific/Kiritimati")
    moments = [datetime.fromisoformat(words[0]) for words in told]
    hours = [timedelta(hours=n) for n in (2, 14)]  # 02:00:30 there, half a minute into summer
    assert hours == [moment.utcoffset() for moment in moments]
    assert [90] == [(b - a).total_seconds() for a, b in pairwise(moments)]
    assert ["60.0"] == told[-1][1:]  # the only row begun and ended in one sitting


def test_a_time_that_no_calendar_here_has(tmp_path: Path) -> None:
    """A journal from the first day of the first year is shown all the same, in any zone."""
    code = (
        "from datetime import UTC, datetime; from tracker.dates import here\n"
        "for at in (datetime.min, datetime.max): print(f'{here(at.replace(tzinfo=UTC)):%H:%M}')"
    )
    for zone in ("Pacific/Kiritimati", "Etc/GMT+12", "UTC"):
        done = subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            cwd=tmp_path,
            env=os.environ | {"TZ": zone, "PYTHONPATH": str(Path(tracker.__file__).parents[1])},
        )
        assert 2 == len(done.stdout.split())


def test_set_aside_by_a_clock_behind_the_one_that_it_was_stitched_by(tmp_path: Path) -> None:
    """The clock was ahead and has been put right: the piece goes on the shelf all the same."""
    folder = started(tmp_path)
    with open_piece(folder, BAND) as piece:
        piece.record(Moved(after(1e7), Position(1, 0)))
    put(folder, "set aside", NOON)
    assert ["set aside"] == [listed.shelf for listed in Store(tmp_path).pieces()]


def test_stitched_by_a_clock_behind_the_one_that_it_was_set_aside_by(tmp_path: Path) -> None:
    """Stitching takes it in hand again, also when the clock was put back in the meantime."""
    put(started(tmp_path), "set aside", after(1e7))
    (listed,) = Store(tmp_path).pieces()
    assert listed.folder is not None
    with open_piece(listed.folder, BAND):
        assert ["set aside"] == [each.shelf for each in Store(tmp_path).pieces()]
    with open_piece(listed.folder, BAND) as piece:
        piece.record(Moved(NOON, Position(1, 0)))
    assert ["in hand"] == [each.shelf for each in Store(tmp_path).pieces()]
    assert 4 == len(journal.read(listed.folder.journal_path).texts) + 1
