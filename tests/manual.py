"""Make the manual page from the command line's own parser.

python tests/manual.py            writes docs/tracker.1
python tests/manual.py --check    exits 1 if it is out of date
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from tracker import __version__, arguments, cli
from tracker.completion import Command, Word, commands_of

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "tracker.1"

ABOUT = """\
Sits beside a bead weaver in a terminal and shows the one thing to do next: which beads to pick
up, which holes to go through and in what order, and which bead to leave alone, drawn in the work
as it lies. One key, or a foot pedal, goes on. Every move is on the disk before it is shown.

The band is written in a small text file, a design; every row and step, the beads and the thread
follow from it, and the whole path of the thread is proved before it can be stitched.

Without a command the bench opens: the pieces in hand, and the designs that can be started."""

FILES = (
    (
        "~/.local/share/bead-row-tracker/pieces",
        "The pieces, a folder each (on macOS in ~/Library/Application Support/bead-row-tracker).",
    ),
    (
        "~/.config/bead-row-tracker/settings.toml",
        "What you want for every piece; tracker settings prints where it is and what holds.",
    ),
)
ENVIRONMENT = (
    ("TRACKER_HOME", "A folder that keeps the pieces, and the settings, instead."),
    ("TRACKER_BOUNCE_MS", "Presses closer than so many milliseconds are one."),
    ("NO_COLOR", "No colours: letters, marks, bold and reverse tell everything."),
)
STATUS = (
    ("0", "Done."),
    ("1", "The file or the piece has a problem; each is a line on standard error."),
    ("2", "Wrong usage."),
)
CARE = """\
Needles are sharp, and beads are small parts that can choke: keep both out of children's reach.
For findings and glue, what their makers say and your local rules come first."""


def page(commands: Sequence[Command]) -> str:
    """The whole page, in the macros of man."""
    return "\n".join([*_lines(commands), ""])


def _lines(commands: Sequence[Command]) -> Iterator[str]:
    main, *rest = commands
    yield '.\\" Made by tests/manual.py; change that, or the parser.'
    yield f'.TH TRACKER 1 "" "tracker {__version__}" "Bead row tracker"'
    yield from (".SH NAME", "tracker \\- lead a bead weaver through a band, row by row")
    yield ".SH SYNOPSIS"
    yield f"{_bold('tracker')} [{_italic('COMMAND')} ...]"
    yield ".SH DESCRIPTION"
    yield from _paragraphs(ABOUT)
    yield ".SH WHAT PEOPLE DO FIRST"
    for line in re.findall(r"^  (\S.*)$", arguments.FIRST, re.MULTILINE):
        command, said = re.split(r" {2,}", line, maxsplit=1)
        yield from _item(_bold(command), _sentence(said))
    yield ".SH OPTIONS"
    for word in main.options:
        yield from _item(_option(word), _sentence(word.help))
    yield ".SH COMMANDS"
    for command in rest:
        yield f".SS {_synopsis(command)}"
        yield _text(_sentence(command.help))
        for word in command.options:
            if "--help" not in word.names:
                yield from _item(_option(word), _sentence(word.help))
    yield ".SH FILES"
    yield from (line for name, said in FILES for line in _item(_bold(name), said))
    yield ".SH ENVIRONMENT"
    yield from (line for name, said in ENVIRONMENT for line in _item(_bold(name), said))
    yield ".SH EXIT STATUS"
    yield from (line for name, said in STATUS for line in _item(_bold(name), said))
    yield ".SH TAKE CARE"
    yield from _paragraphs(CARE)


def _synopsis(command: Command) -> str:
    parts = [_bold(f"tracker {command.name}")]
    parts += [
        "|".join(map(_bold, word.choices)) if word.choices else _italic(word.value)
        for word in command.arguments
    ]
    parts += [f"[{_option(word)}]" for word in command.options if "--help" not in word.names]
    return " ".join(parts)


def _option(word: Word) -> str:
    names = ", ".join(_bold(name) for name in word.names)
    return f"{names} {_italic(word.value)}" if word.value else names


def _item(head: str, said: str) -> Iterator[str]:
    yield from (".TP", head, _text(said))


def _paragraphs(text: str) -> Iterator[str]:
    for at, paragraph in enumerate(text.split("\n\n")):
        if at:
            yield ".PP"
        yield _text(paragraph)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


def _bold(text: str) -> str:
    return f"\\fB{_text(text)}\\fR"


def _italic(text: str) -> str:
    return f"\\fI{_text(text)}\\fR"


def _text(text: str) -> str:
    """Text that is no macro: hyphens stay hyphens, a dot or a quote begins no request."""
    plain = text.replace("\\", "\\e").replace("-", "\\-")
    plain = plain.replace("~", "\\(ti").replace("'", "\\(aq")
    return f"\\&{plain}" if plain.startswith(".") else plain


def main(arguments: Sequence[str] | None = None) -> int:
    """Write the page, or check it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--check", action="store_true")
    made = page(commands_of(cli._parser()))
    if not asked.parse_args(arguments).check:
        PAGE.write_text(made, "utf-8")
    elif not PAGE.is_file() or PAGE.read_text("utf-8") != made:
        print(f"{PAGE.relative_to(ROOT)} is out of date; run `python tests/manual.py`")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
