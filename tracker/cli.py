"""The commands: arguments in, one call, exit status out.

Data goes to standard output, everything said about it to standard error. Exit status: 0 done,
1 the file or the piece has a problem, 2 wrong usage.
"""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tracker import __version__
from tracker.problems import Problem, ProblemsError, shown

if TYPE_CHECKING:
    from tracker.loading import Loaded

DONE, PROBLEM, USAGE = 0, 1, 2

EXAMPLES = """\
what people do first:
  tracker compile band.design.toml    prove a design and see what it takes
  tracker open band.design.toml       stitch it: Space goes on, Backspace goes back, ? helps
  tracker                             the bench: take up a piece where you left it

and then:
  tracker left "My band"              rows, beads, thread and time still to go
  tracker supplies band.design.toml   what to have ready
  tracker path band.design.toml       every row in words

FILE is a design (*.design.toml), a pattern (*.pattern.toml) or the name of a piece.
Pieces are kept in the platform's data folder, or in $TRACKER_HOME when it is set.
"""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    arguments = _parser().parse_args(argv)
    # A reader that has seen enough (`| head`) is no error.
    if hasattr(signal, "SIGPIPE") and arguments.run not in (_open, _bench):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    try:
        return int(arguments.run(arguments))
    except ProblemsError as error:
        for line in error.lines():
            print(line, file=sys.stderr)
        return PROBLEM
    except KeyboardInterrupt:
        return 128 + signal.SIGINT


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tracker",
        description="Leads a bead weaver through a band, row by row and step by step.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"tracker {__version__}")
    parser.set_defaults(run=_bench)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    def command(
        name: str, run: Callable[[argparse.Namespace], int], what: str, *, file: str = "FILE"
    ) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=what, description=what)
        made.add_argument("file", metavar=file, help=_FILES[file])
        made.set_defaults(run=run)
        return made

    command("open", _open, "open a design, a pattern or a piece in the full-screen tracker")
    compiles = command("compile", _compile, "prove a design and write its pattern", file="DESIGN")
    compiles.add_argument(
        "-o", metavar="FILE", dest="out", help="the pattern's file (default: beside the design)"
    )
    command("check", _check, "prove the thread path and report every problem")
    path = command("path", _path, "print the rows in words")
    path.add_argument("--short", action="store_true", help="in the words of the practised")
    for made in (
        path,
        command("supplies", _supplies, "print beads, thread and needle to have ready"),
        command("left", _left, "print what is still to do", file="PIECE"),
    ):
        made.add_argument("--json", action="store_true", help="print one JSON document")
    return parser


_FILES = {
    "FILE": "a design, a pattern or a piece",
    "DESIGN": "a design (*.design.toml)",
    "PIECE": "a piece's name, or a file that it was started from",
}


# --- commands --------------------------------------------------------------------------------
# Each imports what it needs: `tracker left` in a status line should not wait for a compiler.


def _bench(_: argparse.Namespace) -> int:
    return _on_screen(None)


def _open(arguments: argparse.Namespace) -> int:
    return _on_screen(arguments.file)


def _on_screen(word: str | None) -> int:
    from tracker.progress.store import Store, data_home  # noqa: PLC0415

    # Textual paints on standard error.
    if not (sys.stdin.isatty() and sys.stderr.isatty()) or os.environ.get("TERM") == "dumb":
        what = "the tracker needs a full screen, and this is no terminal that has one"
        mend = "open it in a terminal window, or print the rows with `tracker path FILE`"
        raise ProblemsError([Problem("terminal", what, mend)], "tracker")
    store = Store(data_home())
    start = None
    if word is not None:
        from tracker.starting import take_up  # noqa: PLC0415

        start = take_up(word, store)
    from tracker.app.main import run_app  # noqa: PLC0415  Textual takes a tenth of a second

    return run_app(store, start)


def _compile(arguments: argparse.Namespace) -> int:
    from tracker.loading import compile_file, save_pattern  # noqa: PLC0415
    from tracker.reports import proof_lines, summary  # noqa: PLC0415

    design = Path(arguments.file)
    compiled = compile_file(design)
    out = save_pattern(compiled.text, design, arguments.out)
    _print(summary(compiled.pattern))
    _say(proof_lines(compiled.pattern, compiled.proof))
    if compiled.advice:
        _say([f"note: {compiled.advice}"])
    _say([f"written to {out}"])
    return DONE


def _check(arguments: argparse.Namespace) -> int:
    from tracker.pattern.compiler import prove_pattern  # noqa: PLC0415
    from tracker.reports import proof_lines  # noqa: PLC0415

    loaded = _load(arguments.file)
    try:
        proof = prove_pattern(loaded.pattern)
    except ProblemsError as error:
        raise error.in_file(arguments.file) from None
    _print(proof_lines(loaded.pattern, proof))
    return DONE


def _path(arguments: argparse.Namespace) -> int:
    from tracker.documents import path_document  # noqa: PLC0415
    from tracker.reports import row_lines  # noqa: PLC0415

    pattern = _load(arguments.file).pattern
    if arguments.json:
        print(json.dumps(path_document(pattern)))
    else:
        _print(row_lines(pattern, full=not arguments.short))
    return DONE


def _supplies(arguments: argparse.Namespace) -> int:
    from tracker.documents import supplies_document  # noqa: PLC0415
    from tracker.pattern.supplies import supplies_of  # noqa: PLC0415
    from tracker.reports import supply_lines  # noqa: PLC0415

    pattern = _load(arguments.file).pattern
    if arguments.json:
        print(json.dumps(supplies_document(supplies_of(pattern)), indent=2))
    else:
        _print(supply_lines(pattern))
    return DONE


def _left(arguments: argparse.Namespace) -> int:
    from tracker.documents import left_document  # noqa: PLC0415
    from tracker.progress.left import Counters  # noqa: PLC0415
    from tracker.progress.opened import open_piece  # noqa: PLC0415
    from tracker.progress.position import START  # noqa: PLC0415
    from tracker.reports import left_lines  # noqa: PLC0415

    loaded = _load(arguments.file)
    pattern = loaded.pattern
    name, position, pace = pattern.name, START, None
    if loaded.piece is not None:
        with open_piece(loaded.piece, pattern, read_only=True) as piece:
            name, position = loaded.piece.name, piece.progress.position
            pace = piece.progress.seconds_a_row
    left = Counters(pattern).at(position, pace)
    if arguments.json:
        print(json.dumps(left_document(name, left), indent=2))
    else:
        _print(left_lines(pattern, name, left))
    return DONE


def _load(word: str) -> Loaded:
    from tracker.loading import load  # noqa: PLC0415
    from tracker.progress.store import Store, data_home  # noqa: PLC0415

    loaded = load(word, Store(data_home()))
    _say(f"note: {notice}" for notice in loaded.notices)
    return loaded


def _print(lines: Iterable[str]) -> None:
    for line in lines:
        print(shown(line))


def _say(lines: Iterable[str]) -> None:
    for line in lines:
        print(shown(line), file=sys.stderr)
