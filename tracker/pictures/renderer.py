"""The process that draws pixels, as seen from the tracker: orders in, drawings out."""

from __future__ import annotations

import contextlib
import json
import subprocess
from threading import Lock

from tracker.pictures import pixel_worker
from tracker.pictures.pixel_worker import Way
from tracker.processes import start_module


class NotDrawnError(Exception):
    """Nothing more is drawn; says why."""


class Renderer:
    """Draws one after the other, started with the first. Safe to be called from any thread."""

    def __init__(self) -> None:
        self._busy = Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._closed = False

    def draw(self, svg: str, way: Way, lines: int) -> tuple[str, ...]:
        """What `pixel_worker.drawn` makes of a drawing. Takes its time.

        Raises NotDrawnError.
        """
        with self._busy:
            process = self._started()
            assert process.stdin is not None
            assert process.stdout is not None
            try:
                process.stdin.write(pixel_worker.order(svg, way, lines).encode())
                process.stdin.flush()
                answer = json.loads(process.stdout.readline() or "{}")
            except (OSError, ValueError) as error:
                raise NotDrawnError(f"the renderer has ended: {error}") from None
        if "drawn" not in answer:
            raise NotDrawnError(answer.get("failure", "the renderer has ended"))
        return tuple(answer["drawn"])

    def close(self) -> None:
        """End the process; whoever waits for a drawing gets none."""
        self._closed = True
        process = self._process
        if process is not None:
            process.kill()
            process.wait()
            with self._busy:  # whoever still reads finds the end of what there is
                for pipe in (process.stdin, process.stdout):
                    assert pipe is not None, "both were asked for"
                    with contextlib.suppress(OSError):
                        pipe.close()

    def _started(self) -> subprocess.Popen[bytes]:
        if self._closed:
            raise NotDrawnError("nothing is drawn any more")
        if self._process is None:
            self._process = start_module(pixel_worker.__name__)
        return self._process
