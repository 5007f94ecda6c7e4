import os
import random
import signal
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import recorder

import tracker
from tracker.progress.opened import open_piece
from tracker.progress.store import Store

KILLS = int(os.environ.get("TRACKER_FAULTS", "30"))


def recorded_until_killed(home: Path, seconds: float) -> int:
    """The last number acknowledged by a recorder killed so long after its first."""
    recording = subprocess.Popen(
        [sys.executable, recorder.__file__, str(home)],
        stdout=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": str(Path(tracker.__file__).parents[1])},
    )
    assert recording.stdout is not None
    try:
        first = recording.stdout.readline()
        time.sleep(seconds)
    finally:
        recording.send_signal(signal.SIGKILL)
        rest, _ = recording.communicate()
    said = (first + rest).split(b"\n")[:-1]  # a line without its end was not said
    assert said, "the recorder never got to its first event"
    return int(said[-1])


def test_no_acknowledged_event_is_lost(tmp_path: Path) -> None:
    """Killed at any instant, the piece stands at the last place said, or at the one in hand.

    `TRACKER_FAULTS=1000` in the environment gives the long form.
    """
    chance = random.Random(20261125)  # noqa: S311  (to choose instants)
    recorder.begin(tmp_path)
    before = 0
    for _ in range(KILLS):
        acknowledged = recorded_until_killed(tmp_path, chance.uniform(0, 0.15))
        (listed,) = Store(tmp_path).pieces()
        assert listed.folder is not None
        with open_piece(listed.folder, recorder.LONG, read_only=True) as piece:
            kept = recorder.steps_before(piece.progress.position)
        assert before < acknowledged
        assert kept in (acknowledged, acknowledged + 1)
        assert piece.progress.position == listed.position
        before = kept
        # Another way to read it: the standard library, unless the kill left a torn line.
        if not piece.notices:
            tomllib.loads(listed.folder.journal_path.read_text("ascii"))
    (listed,) = Store(tmp_path).pieces()
    assert listed.folder is not None
    with open_piece(listed.folder, recorder.LONG) as piece:
        assert not piece.read_only
        assert before == recorder.steps_before(piece.progress.position)
