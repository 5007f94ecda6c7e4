"""A program that takes a piece in or renames one, and kills itself at a chosen moment.

Its arguments: the data folder, "import" and a file or "rename" and a name, and the number of the
call that writes, waits for the disk or renames at which the kernel is to end it. It says "done" if
it lives.
"""

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tracker.exchange import import_piece
from tracker.progress.shelf import rename
from tracker.progress.store import Store


def main() -> None:
    """Do it, and die on the way."""
    store, what, word, number = Store(Path(sys.argv[1])), sys.argv[2], sys.argv[3], int(sys.argv[4])
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
    for name in ("replace", "rename"):
        setattr(Path, name, counted(getattr(Path, name)))
    if what == "import":
        import_piece(word, store)
    else:
        (listed,) = store.pieces()
        assert listed.folder is not None
        rename(store, listed.folder, word)
    print("done", flush=True)


if __name__ == "__main__":
    main()
