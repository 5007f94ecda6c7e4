"""Screens that open from the bench beside the stitching: what they need of what is highlighted."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.screen import Screen

from tracker.app.look import Dress
from tracker.app.screens.new_band import NewBand
from tracker.app.screens.supplies import SuppliesScreen
from tracker.design.reader import LARGEST
from tracker.files import read_text
from tracker.loading import is_pattern, load
from tracker.problems import Problem, ProblemsError
from tracker.progress.piece import ABOUT, read_about
from tracker.progress.store import Store
from tracker.session import Session
from tracker.settings.actions import COMMANDS, USUAL_KEYS
from tracker.settings.reader import read_settings, settings_path
from tracker.starting import take_up_loaded
from tracker.stocked import NotStarted, Stocked


def opened(what: str, word: str, store: Store, dress: Dress) -> Screen[Any]:
    """The screen that was asked for; `word` is a piece's folder, a file or "".

    Raises ProblemsError that names the file.
    """
    if what == "new":
        return NewBand(store, dress)
    if not word:
        raise ProblemsError([Problem("the bench", "nothing is chosen", "go to a line first")])
    if what == "supplies":
        return supplies_from_bench(word, store, dress)
    path = design_behind(Path(word))
    try:
        return NewBand(store, dress, path=path, text=_design_text(path))
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def supplies_from_bench(word: str, store: Store, dress: Dress) -> SuppliesScreen:
    """The supplies of a piece or of a file that is not started. Raises ProblemsError."""
    loaded = load(word, store)
    if loaded.piece is None:
        pattern, source = loaded.pattern, loaded.source
        return _supplies(NotStarted(loaded), dress, pattern.name, source)
    session = Session(take_up_loaded(loaded, store))
    return _supplies(session, dress, session.name, session.source, session.close)


def supplies_in_hand(session: Session, dress: Dress) -> SuppliesScreen:
    """The supplies of the piece that is being stitched. Raises ProblemsError."""
    return _supplies(session, dress, session.name, session.source)


def _supplies(
    piece: Stocked,
    dress: Dress,
    name: str,
    source: Path,
    close: Callable[[], object] | None = None,
) -> SuppliesScreen:
    path = settings_path()
    try:
        buying = read_settings(path, actions=USUAL_KEYS, commands=COMMANDS).supplies
    except BaseException:
        if close is not None:
            close()
        raise
    return SuppliesScreen(piece, dress, buying, path, name=name, source=source, close=close)


def _design_text(path: Path) -> str:
    text = read_text(path, LARGEST)
    if is_pattern(text):
        mend = "edit the design that it was compiled from, or begin a new one with n"
        raise ProblemsError([Problem("file", "is a compiled pattern, not a design", mend)])
    return text


def design_behind(path: Path) -> Path:
    """The file that was named, or the one that a piece in that folder was started from."""
    return Path(read_about(path).source) if (path / ABOUT).is_file() else path
