"""A program that moves a piece to a changed pattern and kills itself at a chosen moment.

Its arguments: the data folder, the changed pattern's file, and the number of the call that writes,
waits for the disk or renames at which the kernel is to end it. It says "moved" if it lives.
"""

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tracker.progress.moved import move_piece
from tracker.progress.store import Store


def main() -> None:
    """Move, and die on the way."""
    home, text, number = Path(sys.argv[1]), Path(sys.argv[2]).read_text("utf-8"), int(sys.argv[3])
    (listed,) = Store(home).pieces()
    assert listed.folder is not None
    calls = 0

    def counted(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*arguments: object) -> object:
            nonlocal calls
            calls += 1
            if calls == number:
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*arguments)

        return call

    for name in ("write", "fsync", "close"):
        setattr(os, name, counted(getattr(os, name)))
    Path.replace = counted(Path.replace)  # type: ignore[method-assign]
    move_piece(listed.folder, text)
    print("moved", flush=True)


if __name__ == "__main__":
    main()
