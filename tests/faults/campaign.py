"""Kill the tracker a thousand times, at any instant, and see that nothing acknowledged is lost.

    python tests/faults/campaign.py 1000

Each life goes on with the same piece in a process of its own, until the kernel ends it: after a
random time, or right before a write, a sync, a cut or a rename chosen by number. What one may do:

    stitch  record moves as fast as the disk lets, each acknowledged once it is saved
    refuse  the same on a disk that fails at random, in the middle of lines too
    power   stitch; then what was not synced is cut off or zeroed, as a power cut may do
    part    stitch while another program writes to the journal too
    choose  take a journal in hand that came from another machine
    start   begin another piece, beside

Then the piece is looked at from outside and has to stand where it was acknowledged, or at a move
that was begun later; it has to open, be gone on with, and leave nothing half made.
"""

import argparse
import errno
import itertools
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any, NoReturn

from recorder import EVENING, LONG, begin, steps_before

import tracker
from tracker.progress import chain, journal
from tracker.progress.opened import open_piece
from tracker.progress.others import find_others, take
from tracker.progress.piece import PieceFolder
from tracker.progress.position import Position, forward
from tracker.progress.state import Moved
from tracker.progress.store import Store
from tracker.progress.sweeping import OLD, sweep, sweep_piece
from tracker.progress.words import written

KINDS = ("stitch", "refuse", "power", "part", "choose", "start")
WEIGHTS = (8, 6, 3, 3, 2, 1)
CALLS = (
    (os, "write"),
    (os, "fdatasync"),
    (os, "fsync"),
    (os, "ftruncate"),
    (Path, "replace"),
    (Path, "rename"),
    (Path, "unlink"),
)
REAL_WRITE = os.write


@dataclass
class Life:
    """What one process is to do, and how it is ended."""

    kind: str
    chance: random.Random
    at_call: int
    """The call before which it ends itself; 0: it is killed from outside."""
    said: int = -1
    """Where it tells what it does: a file descriptor."""

    def say(self, number: int, *, size: int | None = None) -> None:
        """Tell that a move was begun, or that it was acknowledged with the journal so long."""
        line = b"+%d\n" % number if size is None else b"%d %d\n" % (number, size)
        REAL_WRITE(self.said, line)


def patched(change: Callable[[Callable[..., Any]], Callable[..., Any]]) -> None:
    """Change every call that touches the disk, in this process."""
    for owner, name in CALLS:
        setattr(owner, name, change(getattr(owner, name)))


def ending(at_call: int) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Calls that end the process before the one with this number."""
    numbers = itertools.count(1)

    def change(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*arguments: Any, **more: Any) -> Any:
            if next(numbers) == at_call:
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*arguments, **more)

        return call

    return change


def refusing(chance: random.Random) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Calls that fail now and then; a write may first have written a part."""

    def change(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*arguments: Any, **more: Any) -> Any:
            if chance.random() < 0.25:
                if real is REAL_WRITE:
                    fd, data = arguments
                    real(fd, bytes(data)[: chance.randrange(len(data) + 1)])
                number = chance.choice([errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS])
                raise OSError(number, os.strerror(number))
            return real(*arguments, **more)

        return call

    return change


def the_piece(home: Path) -> PieceFolder:
    """The folder of the piece that is stitched."""
    (listed,) = Store(home).find("long")
    assert listed.problem is None, listed.problem
    assert listed.folder is not None
    return listed.folder


def stitch(home: Path, life: Life) -> None:
    """Go on with the piece for ever."""
    folder = the_piece(home)
    with open_piece(folder, LONG) as piece:
        assert not piece.read_only, piece.notices
        if life.kind == "refuse":
            patched(refusing(life.chance))
        if life.kind == "part":
            put_in(folder.journal_path, b"# another program was here\n")
        done = steps_before(piece.progress.position)
        place = piece.progress.position
        while True:
            place, done = forward(LONG, place, "step"), done + 1
            life.say(done)
            piece.record(Moved(EVENING + timedelta(seconds=20 * done), place))
            if not piece.unsaved.events:
                assert (piece.beside is None) == (life.kind != "part")
                life.say(done, size=(piece.beside or folder.journal_path).stat().st_size)


def put_in(path: Path, data: bytes) -> None:
    """Write to a file behind the tracker's back."""
    fd = os.open(path, os.O_WRONLY | os.O_APPEND)
    REAL_WRITE(fd, data)
    os.close(fd)


def choose(home: Path, _: Life) -> None:
    """Take the other journal in hand."""
    folder = the_piece(home)
    for other in find_others(folder, LONG):
        take(folder, LONG, other)


def start(home: Path, _: Life) -> None:
    """Begin another piece."""
    begin(home / "more")


DOING: dict[str, Callable[[Path, Life], None]] = {"choose": choose, "start": start}


def live(home: Path, life: Life) -> NoReturn:
    """Be one life, until it ends."""
    journal.LINES_KEPT = life.chance.choice([20, 200, 2000])
    if life.at_call:
        patched(ending(life.at_call))
    status = 1
    try:
        DOING.get(life.kind, stitch)(home, life)
        status = 0
    finally:
        os._exit(status)


def lived(home: Path, life: Life) -> tuple[int, list[bytes]]:
    """Fork a life and end it; how it ended, and the lines that it said."""
    reading, life.said = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        live(home, life)
    os.close(life.said)
    if not life.at_call:
        time.sleep(life.chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
    with os.fdopen(reading, "rb") as told:
        lines = told.read().split(b"\n")[:-1]  # a line without its end was not said
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), lines


def put_other(folder: PieceFolder) -> None:
    """A copy of the journal that was gone on with elsewhere, by two moves."""
    data = folder.journal_path.read_bytes()
    contents = chain.scan(data, "")
    data, mark = data[: contents.mark.length], contents.mark
    place = journal.replay(folder.journal_path, contents, LONG).position
    for _ in range(2):
        place = forward(LONG, place, "step")
        line, mark = chain.line(mark, written(Moved(EVENING, place), LONG.row_count))
        data += line
    (folder.path / "journal (copy).toml").write_bytes(data)


def cut_power(path: Path, synced: int, chance: random.Random) -> None:
    """Leave of what was not synced as much as a disk may: some of it, or zeros in its place."""
    size = path.stat().st_size
    if size <= synced:
        return
    keep = chance.randrange(synced, size + 1)
    os.truncate(path, keep)
    if chance.random() < 0.5:
        os.truncate(path, size)


def campaign(home: Path, kills: int, seed: int) -> Counter[str]:
    """So many lives of one piece; what was seen. Raises AssertionError at the first fault."""
    chance = random.Random(seed)  # noqa: S311  (to choose instants)
    seen: Counter[str] = Counter()
    begin(home)
    before = 0
    while seen["kills"] < kills:
        kind = chance.choices(KINDS, WEIGHTS)[0]
        life = Life(kind, random.Random(chance.random()), chance.choice([0, chance.randint(1, 40)]))  # noqa: S311
        folder = the_piece(home)
        if kind == "choose":
            put_other(folder)
        status, lines = lived(home, life)
        assert status in (0, -signal.SIGKILL), f"{life} ended by {status}"
        killed = status != 0
        seen["kills"] += killed
        seen[f"{kind}: {'killed' if killed else 'lived'}"] += 1
        before = judged(home, life, lines, before, seen)
    for name in ("pieces", "more/pieces"):
        sweep(home / name, time.time() + 2 * OLD)
    sweep_piece(the_piece(home).path, time.time() + 2 * OLD)
    left = [path.name for path in home.rglob(".*")]
    assert left == [], left
    with open_piece(the_piece(home), LONG) as piece:
        assert not piece.read_only
        piece.record(Moved(EVENING, Position(0, 1)))
        assert not piece.unsaved.any
    return seen


def judged(home: Path, life: Life, lines: list[bytes], before: int, seen: Counter[str]) -> int:
    """How many steps the piece has after a life; see that they are no fewer than acknowledged."""
    folder = the_piece(home)
    acknowledged, synced, begun = before, 0, before
    for line in lines:
        if line.startswith(b"+"):
            begun = int(line[1:])
        else:
            acknowledged, synced = map(int, line.split())
    if life.kind == "choose":
        begun += 2
    if life.kind == "part":
        put_together(folder)
    if life.kind == "power" and synced:
        cut_power(folder.journal_path, synced, life.chance)
    with open_piece(folder, LONG, read_only=True) as piece:
        kept = steps_before(piece.progress.position)
        torn = bool(piece.notices)
    assert acknowledged <= kept <= begun, f"{life}: {kept} kept, {acknowledged} to {begun} expected"
    seen["torn lines"] += torn
    seen["moves acknowledged"] += acknowledged - before
    seen["moves begun and saved, not acknowledged"] += kept - acknowledged
    if not torn:  # another way to read it: the standard library
        tomllib.loads(folder.journal_path.read_text("ascii"))
    if life.kind == "choose":  # what a killed one left would be named again at the next opening
        for path in folder.path.glob("journal (copy).toml"):
            path.unlink()
    for path in folder.path.glob("journal.kept-*"):
        path.unlink()
    for path in folder.path.glob("journal.torn-*"):
        path.unlink()
    return kept


def put_together(folder: PieceFolder) -> None:
    """See that the other program's bytes are there; then take what was stitched beside them."""
    path, strange = folder.journal_path, b"# another program was here\n"
    data = path.read_bytes()
    if strange in data:  # it may have been killed before
        assert data.endswith(strange)
        path.write_bytes(data.removesuffix(strange))
    for other in find_others(folder, LONG):
        if other.progress is None:  # killed while it was being made: nothing in it was said
            other.path.unlink()
        else:
            take(folder, LONG, other)


def main() -> int:
    """Share the kills among workers, and print what was seen."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("kills", type=int, nargs="?", default=1000)
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--home", type=Path, help="where to put the pieces (default: a new folder)")
    parser.add_argument("--worker", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.worker:
        seen = campaign(asked.home, asked.kills, asked.seed)
        print("\n".join(f"{count} {what}" for what, count in seen.items()))
        return 0
    began = time.monotonic()
    home = Path(tempfile.mkdtemp(prefix="kills-", dir=asked.home))
    share = -(-asked.kills // asked.jobs)
    workers = []
    for number in range(asked.jobs):
        own = home / str(number)
        own.mkdir()
        words = ["--worker", "--home", str(own), "--seed", str(asked.seed + number), str(share)]
        workers.append(
            subprocess.Popen(
                [sys.executable, __file__, *words],
                stdout=subprocess.PIPE,
                text=True,
                env=os.environ | {"PYTHONPATH": str(Path(tracker.__file__).parents[1])},
            )
        )
    total: Counter[str] = Counter()
    failed = 0
    for worker in workers:
        out, _ = worker.communicate()
        failed += worker.returncode != 0
        for line in out.splitlines():
            count, _, what = line.partition(" ")
            total[what] += int(count)
    seconds = time.monotonic() - began
    print(f"{total['kills']} kills in {seconds:.0f} s, {asked.jobs} workers, seed {asked.seed}")
    for what, count in sorted(total.items()):
        print(f"{count:8} {what}")
    if failed:
        print(f"FAILED: {failed} workers; their pieces are in {home}")
        return 1
    print("no acknowledged move was lost")
    shutil.rmtree(home)
    return 0


if __name__ == "__main__":
    sys.exit(main())
