"""The command line: its commands, what each takes, and how it is told in the help."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from typing import NoReturn

from tracker import __version__
from tracker.problems import shown

Run = Callable[[argparse.Namespace], int]

PIECES = "pieces"
"""What the scripts that complete ask for themselves."""
FIRST = """\
Leads a bead weaver through a band, row by row and step by step.

what people do first:
  tracker learn                       two minutes that teach the screen, by using it
  tracker open band.design.toml       stitch a band: Space goes on, Backspace goes back, ? helps
  tracker                             the bench: take up a piece where you left it
"""
THEN = """\
and then:
  tracker compile band.design.toml    prove a design and see what it takes
  tracker left "My band"              rows, beads, thread and time still to go
  tracker supplies band.design.toml   what to have ready
  tracker path band.design.toml       every row in words

FILE is a design (*.design.toml), a pattern (*.pattern.toml) or the name of a piece.
Pieces are kept in the platform's data folder, or in $TRACKER_HOME when it is set.
"""


_FILES = {
    "FILE": "a design, a pattern or a piece",
    "DESIGN": "a design (*.design.toml)",
    "EXPORTED": "a piece as one file (*.piece.toml)",
    "PIECE": "a piece's name, or a file that it was started from",
}


class _Parser(argparse.ArgumentParser):
    """A parser that quotes what it was given without what a terminal would obey."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong, and how to use the command."""
        super().error(shown(message))


def parser(runs: Mapping[str, Run]) -> argparse.ArgumentParser:
    """A parser of them all. `runs` are by name what each does; "" is what no command does."""
    whole = _Parser(
        prog="tracker",
        description=FIRST,
        epilog=THEN,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    whole.add_argument("--version", action="version", version=f"tracker {__version__}")
    whole.set_defaults(run=runs[""])
    commands = whole.add_subparsers(title="commands", metavar="COMMAND")

    def command(name: str, what: str, *, file: str = "FILE") -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=what, description=what)
        made.add_argument("file", metavar=file, help=_FILES[file])
        made.set_defaults(run=runs[name])
        return made

    command("open", "open a design, a pattern or a piece in the full-screen tracker")
    command("read", "lead through a piece in plain lines, for a screen reader", file="PIECE")
    compiles = command("compile", "prove a design and write its pattern", file="DESIGN")
    compiles.add_argument(
        "-o", metavar="PATTERN", dest="out", help="the pattern's file (default: beside the design)"
    )
    command("check", "prove the thread path and report every problem")
    path = command("path", "print the rows in words")
    path.add_argument("--short", action="store_true", help="in the words of the practised")
    supplies = command("supplies", "print beads, thread and needle to have ready")
    supplies.add_argument(
        "--spare", metavar="SHARE", help="beads beyond the count: 0.2 is 20 %% (default: settings)"
    )
    supplies.add_argument(
        "--package", metavar="SIZE", action="append", help='to buy in: "10 g"; may be repeated'
    )
    for made in (
        path,
        supplies,
        command("left", "print what is still to do", file="PIECE"),
    ):
        made.add_argument("--json", action="store_true", help="print one JSON document")
    exports = command("export", "write a piece to one file, to be taken along", file="PIECE")
    exports.add_argument(
        "-o", metavar="EXPORTED", dest="out", help="its file (default: named after it, here)"
    )
    command("import", "take a piece in that was exported", file="EXPORTED")
    picture = command("picture", "draw the band as SVG or PNG, or a handout as HTML")
    picture.add_argument("-o", metavar="OUT", dest="out", required=True, help="its ending decides")
    picture.add_argument("--thread", action="store_true", help="draw the thread path")
    picture.add_argument("--letters", action="store_true", help="a letter on every tile")
    picture.add_argument("--row", type=int, metavar="N", help="make one row stand out")
    picture.add_argument("--width", metavar="LENGTH", help="so wide instead of real size")
    picture.add_argument("--large", action="store_true", help="the handout in large print")
    what = "print what makes a shell complete commands, options, files and pieces"
    completes = commands.add_parser("completion", help=what, description=what)
    completes.add_argument(
        "shell", choices=("bash", "zsh", "fish", PIECES), help=f"{PIECES}: their names alone"
    )
    completes.set_defaults(run=runs["completion"])
    for name, what in (
        ("learn", "learn the screen by using it, in two minutes, on a band of its own"),
        ("keys", "show what a key or pedal sends, and bind it"),
        ("settings", "print the settings that hold, and where they come from"),
    ):
        commands.add_parser(name, help=what, description=what).set_defaults(run=runs[name])
    return whole
