"""Modules of ours in a process of their own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import tracker


def start_module(name: str) -> subprocess.Popen[bytes]:
    """Start one of our own modules, and nothing from the folder one stands in.

    It is out of the terminal's reach: Ctrl+C and Ctrl+Z are the tracker's own. It is to end when
    its input does.
    """
    home = str(Path(tracker.__file__).parents[1])
    further = os.environ.get("PYTHONPATH")
    return subprocess.Popen(  # noqa: S603  (this Python, our own module)
        [sys.executable, "-P", "-m", name],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=os.environ | {"PYTHONPATH": f"{home}{os.pathsep}{further}" if further else home},
        start_new_session=True,
    )
