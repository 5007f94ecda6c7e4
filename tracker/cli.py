"""The commands: arguments in, one call, exit status out.

Data goes to standard output, everything said about it to standard error. Exit status: 0 done,
1 the file or the piece has a problem, 2 wrong usage.
"""

from __future__ import annotations

import contextlib
import gc
import io
import json
import os
import signal
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from tracker.problems import Problem, ProblemsError, shown

if TYPE_CHECKING:
    import argparse

    from tracker.loading import Loaded
    from tracker.settings.model import Settings

DONE, PROBLEM, USAGE = 0, 1, 2
NO_SCREEN = ("dumb", "unknown")
"""Terminals that say of themselves that they can do nothing."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    _require_streams()
    run = _asked(sys.argv[1:] if argv is None else argv)
    if isinstance(sys.stdout, io.TextIOWrapper):
        # A colour's name that the terminal's encoding lacks is spelt out.
        sys.stdout.reconfigure(errors="backslashreplace")
    try:
        status = run()
        sys.stdout.flush()
    except ProblemsError as error:
        for line in error.lines():
            print(line, file=sys.stderr)
        return PROBLEM
    except KeyboardInterrupt:
        return 128 + signal.SIGINT
    except OSError as error:
        if error.filename is not None:
            raise
        return _output_failed(error)
    return status


def _require_streams() -> None:
    """Stand in for streams that were closed before we began (`<&-`): Python has None there."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115  as long as we run


def _output_failed(error: OSError) -> int:
    """Standard output took no more; a reader that has seen enough (`| head`) is no error."""
    with contextlib.suppress(OSError, ValueError):
        # Python would try once more as it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if isinstance(error, BrokenPipeError):
        return DONE
    what = f"cannot be written: {error.strerror}"
    print(
        Problem("output", what, "make room, or name another file").line("tracker"), file=sys.stderr
    )
    return PROBLEM


def _asked(words: Sequence[str]) -> Callable[[], int]:
    """What the words after the program's name ask for."""
    # What is asked for most waits for no parser of it all, which takes 10 ms to make.
    match words:
        case []:
            return lambda: _on_screen(None)
        case ["open", file] if not file.startswith("-"):
            return lambda: _on_screen(file)
    arguments = _parser().parse_args(words)
    return lambda: int(arguments.run(arguments))


def _parser() -> argparse.ArgumentParser:
    from tracker.arguments import parser  # noqa: PLC0415  see above

    return parser(_COMMANDS)


# --- commands --------------------------------------------------------------------------------
# Each imports what it needs: `tracker left` in a status line should not wait for a compiler.


def _bench(_: argparse.Namespace) -> int:
    return _on_screen(None)


def _open(arguments: argparse.Namespace) -> int:
    return _on_screen(arguments.file)


def _learn(_: argparse.Namespace) -> int:
    return _on_screen(None, learn=True)


def _on_screen(word: str | None, *, learn: bool = False) -> int:
    _require_screen()
    # While the screen is made nothing becomes rubbish, and looking for it would take a tenth of
    # the time; the app looks again once it has painted.
    gc.disable()
    from tracker.app.main import run_app  # noqa: PLC0415  Textual takes a tenth of a second
    from tracker.progress.store import Store, data_home  # noqa: PLC0415

    return run_app(Store(data_home()), word, learn=learn)


def _require_screen() -> None:
    # Textual paints on standard error.
    if not (sys.stdin.isatty() and sys.stderr.isatty()) or os.environ.get("TERM") in NO_SCREEN:
        what = "the tracker needs a full screen, and this is no terminal that has one"
        mend = "open it in a terminal window, or stitch by plain lines with `tracker read PIECE`"
        raise ProblemsError([Problem("terminal", what, mend)], "tracker")


def _keys(_: argparse.Namespace) -> int:
    _require_screen()
    settings = _read_settings()
    from tracker.app.screens.keys import run_keys  # noqa: PLC0415
    from tracker.settings.reader import settings_path  # noqa: PLC0415

    return run_keys(settings_path(), settings.keys, settings.theme)


def _settings(_: argparse.Namespace) -> int:
    from tracker.settings.reader import effective, settings_path  # noqa: PLC0415

    path = settings_path()
    _say([f"{path}{'' if path.exists() else ' (not there yet)'}"])
    lines = effective(_read_settings(), path)
    _print(f"{name} = {value}  ({source})" for name, value, source in lines)
    return DONE


def _read_settings() -> Settings:
    from tracker.settings.actions import COMMANDS, USUAL_KEYS  # noqa: PLC0415
    from tracker.settings.reader import read_settings, settings_path  # noqa: PLC0415

    return read_settings(settings_path(), actions=USUAL_KEYS, commands=COMMANDS)


def _read(arguments: argparse.Namespace) -> int:
    from tracker.plain import run_plain  # noqa: PLC0415
    from tracker.progress.store import Store, data_home  # noqa: PLC0415
    from tracker.session import Session  # noqa: PLC0415
    from tracker.starting import take_up  # noqa: PLC0415

    def ask(prompt: str) -> str | None:
        # The prompt goes to standard error, so that a pipe gets the words of the work alone.
        print(prompt, end="", file=sys.stderr, flush=True)
        return sys.stdin.readline() or None

    settings = _read_settings()
    session = Session(
        take_up(arguments.file, Store(data_home())), settings.words, rule=settings.rule
    )
    lost = ""
    try:
        run_plain(session, ask, lambda text: print(text, flush=True))
    finally:
        lost = session.close()
        _say([f"tracker: {lost}"] if lost else [])
    return PROBLEM if lost else DONE


def _compile(arguments: argparse.Namespace) -> int:
    from tracker.loading import compile_file, save_pattern  # noqa: PLC0415
    from tracker.reports import proof_lines, summary  # noqa: PLC0415

    design = Path(arguments.file)
    compiled = compile_file(design)
    out = save_pattern(compiled.text, design, arguments.out)
    _print(summary(compiled.pattern))
    _say(proof_lines(compiled.pattern, compiled.proof))
    _say(f"note: {note}" for note in compiled.notes)
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


def _picture(arguments: argparse.Namespace) -> int:
    from tracker.design.lengths import parse_length  # noqa: PLC0415
    from tracker.pictures.save import save_picture  # noqa: PLC0415
    from tracker.pictures.sheet import Drawing  # noqa: PLC0415

    try:
        width = parse_length(arguments.width) if arguments.width else None
    except ValueError as error:
        what, _, mend = str(error).partition(": ")
        raise ProblemsError([Problem("--width", what, mend)], "tracker picture") from None
    drawing = Drawing(
        thread=arguments.thread, letters=arguments.letters, row=arguments.row, width=width
    )
    out = Path(arguments.out)
    save_picture(_load(arguments.file).pattern, out, drawing, large=arguments.large)
    _say([f"written to {out}"])
    return DONE


def _supplies(arguments: argparse.Namespace) -> int:
    from tracker.documents import supplies_document  # noqa: PLC0415
    from tracker.pattern.supplies import supplies_of  # noqa: PLC0415
    from tracker.reports import supply_lines  # noqa: PLC0415
    from tracker.settings.reader import spare_of  # noqa: PLC0415

    usual = _read_settings().supplies
    try:
        spare = usual.spare if arguments.spare is None else spare_of(arguments.spare)
    except ValueError as error:
        raise _wrong_option("--spare", error) from None
    pattern = _load(arguments.file).pattern
    if arguments.json:
        print(json.dumps(supplies_document(supplies_of(pattern, spare)), indent=2))
        return DONE
    try:
        lines = list(supply_lines(pattern, spare, arguments.package or usual.packages, cuts=True))
    except ValueError as error:
        raise _wrong_option("--package", error) from None
    _print(lines)
    return DONE


def _wrong_option(option: str, error: ValueError) -> ProblemsError:
    what, _, mend = str(error).partition(": ")
    return ProblemsError([Problem(option, what, mend)], "tracker supplies")


def _left(arguments: argparse.Namespace) -> int:
    from tracker.documents import left_document  # noqa: PLC0415
    from tracker.progress.left import Counters  # noqa: PLC0415
    from tracker.progress.opened import open_piece  # noqa: PLC0415
    from tracker.progress.state import Progress, utc_now  # noqa: PLC0415
    from tracker.reports import left_lines  # noqa: PLC0415

    loaded = _load(arguments.file)
    pattern = loaded.pattern
    name, progress = pattern.name, Progress(started=utc_now())
    if loaded.piece is not None:
        with open_piece(loaded.piece, pattern, read_only=True) as piece:
            name, progress = loaded.piece.name, piece.progress
    left = Counters(pattern).at(progress)
    if arguments.json:
        print(json.dumps(left_document(name, left), indent=2))
    else:
        _print(left_lines(pattern, name, left))
    return DONE


def _export(arguments: argparse.Namespace) -> int:
    from tracker.exchange import export_piece  # noqa: PLC0415

    word = arguments.file
    piece = _load(word).piece
    if piece is None:
        what, mend = (
            "is not started yet, there is no progress to take along",
            "take the file itself",
        )
        raise ProblemsError([Problem("the piece", what, mend)], word)
    out, notices = export_piece(piece, arguments.out)
    _say(f"note: {notice}" for notice in notices)
    _say([f"written to {out}"])
    return DONE


def _import(arguments: argparse.Namespace) -> int:
    from tracker.exchange import import_piece, standing  # noqa: PLC0415
    from tracker.progress.store import Store, data_home  # noqa: PLC0415

    taken = import_piece(arguments.file, Store(data_home()))
    _print([f"{taken.folder.name}: {standing(taken.position, taken.folder.rows)}"])
    _say(f"note: {notice}" for notice in taken.notices)
    return DONE


def _completion(arguments: argparse.Namespace) -> int:
    from tracker.arguments import PIECES  # noqa: PLC0415

    if arguments.shell != PIECES:
        from tracker.completion import commands_of, script  # noqa: PLC0415

        print(script(arguments.shell, commands_of(_parser())), end="")
        return DONE
    from tracker.progress.store import Store, data_home  # noqa: PLC0415

    _print(sorted(Store(data_home()).names().values()))
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


_COMMANDS: Mapping[str, Callable[[argparse.Namespace], int]] = MappingProxyType(
    {
        "": _bench,
        "open": _open,
        "read": _read,
        "compile": _compile,
        "check": _check,
        "path": _path,
        "supplies": _supplies,
        "left": _left,
        "export": _export,
        "import": _import,
        "picture": _picture,
        "completion": _completion,
        "learn": _learn,
        "keys": _keys,
        "settings": _settings,
    }
)
"""What is done for each command; without one the bench opens."""
