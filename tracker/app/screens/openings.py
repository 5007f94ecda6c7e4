"""Screens that open from the bench beside the stitching: what they need of what is highlighted."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from textual.screen import Screen

from tracker.app.look import Dress
from tracker.app.screens.new_band import NewBand
from tracker.design.reader import LARGEST
from tracker.files import read_text
from tracker.loading import is_pattern
from tracker.problems import Problem, ProblemsError
from tracker.progress.piece import ABOUT, read_about
from tracker.progress.store import Store


def opened(what: str, word: str, store: Store, dress: Dress) -> Screen[Any]:
    """The screen that was asked for; `word` is a piece's folder, a file or "".

    Raises ProblemsError that names the file.
    """
    if what == "new":
        return NewBand(store, dress)
    if not word:
        raise ProblemsError([Problem("the bench", "nothing is chosen", "go to a line first")])
    path = design_behind(Path(word))
    try:
        return NewBand(store, dress, path=path, text=_design_text(path))
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def _design_text(path: Path) -> str:
    text = read_text(path, LARGEST)
    if is_pattern(text):
        mend = "edit the design that it was compiled from, or begin a new one with n"
        raise ProblemsError([Problem("file", "is a compiled pattern, not a design", mend)])
    return text


def design_behind(path: Path) -> Path:
    """The file that was named, or the one that a piece in that folder was started from."""
    return Path(read_about(path).source) if (path / ABOUT).is_file() else path
