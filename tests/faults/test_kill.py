"""Killed at any instant, nothing acknowledged is lost: the short form of the campaign."""

import os
import subprocess
import sys
from pathlib import Path

import campaign

import tracker

KILLS = os.environ.get("TRACKER_FAULTS", "60")


def test_no_acknowledged_move_is_lost(tmp_path: Path) -> None:
    """Whatever it was doing, the piece stands where it was acknowledged, or at a later move.

    `TRACKER_FAULTS=1000` in the environment gives the long form.
    """
    done = subprocess.run(
        [sys.executable, campaign.__file__, KILLS, "--home", str(tmp_path), "--jobs", "2"],
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | {"PYTHONPATH": str(Path(tracker.__file__).parents[1])},
    )
    print(done.stdout)
    assert 0 == done.returncode, done.stdout + done.stderr
    assert int(KILLS) <= int(done.stdout.split()[0])
    assert [] == list(tmp_path.iterdir())
