"""Change one setting in the beader's own file: comments and everything else stay as they were."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import tomlkit
from tomlkit.exceptions import TOMLKitError

from tracker.problems import Problem, ProblemsError
from tracker.progress import durable
from tracker.settings.model import Buying
from tracker.settings.reader import FORMAT


def bind(path: Path, keys: Mapping[str, tuple[str, ...]]) -> None:
    """Write the keys of some actions into the settings file `path`, making it if need be.

    Raises ProblemsError if the file cannot be read as TOML, or cannot be written.
    """
    _put(path, "keys", {action: list(own) for action, own in keys.items()})


def keep_buying(path: Path, buying: Buying) -> None:
    """Write how beads are bought into the settings file `path`, likewise."""
    _put(path, "supplies", {"spare": buying.spare, "packages": list(buying.packages) or None})


def _put(path: Path, name: str, values: Mapping[str, object]) -> None:
    """Give keys of a table their values; a key whose value is None is left out."""
    try:
        text = path.read_text("utf-8") if path.exists() else f"format = {FORMAT}\n"
        document = tomlkit.parse(text)
        table = document.setdefault(name, tomlkit.table())
        for key, value in values.items():
            if value is None:
                table.pop(key, None)
            else:
                table[key] = value
        path.parent.mkdir(parents=True, exist_ok=True)
        durable.replace(path, tomlkit.dumps(document).encode())
    except (TOMLKitError, UnicodeDecodeError) as error:
        problem = Problem("file", f"cannot be read as TOML: {error}", "mend it in an editor")
        raise ProblemsError([problem], os.fspath(path)) from None
    except OSError as error:
        what = f"cannot be written: {durable.reason(error)}"
        raise ProblemsError([Problem("file", what, "see to its folder")], os.fspath(path)) from None
