"""Which parts of the house are taken along by whom: looked up in a fresh interpreter."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DESIGN = "patterns/night-watch.design.toml"
SCREEN = {"textual", "rich"}
DOMAIN = ("beads", "design", "stitches", "path", "pattern", "progress", "pictures")
MOST_AT_START = 15
"""Modules of the tracker that the command line may import before it knows the command."""


def modules_after(code: str, home: Path) -> set[str]:
    """The modules that a fresh interpreter has imported after running `code`."""
    report = "\nimport sys, json\nprint(json.dumps(sorted(sys.modules)), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", code + report],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "TRACKER_HOME": str(home)},
        timeout=60,
        check=True,
    )
    return set(json.loads(done.stderr.splitlines()[-1]))


def test_the_command_line_alone_imports_little(tmp_path: Path) -> None:
    """Before it knows the command it has no screen and next to nothing of the tracker."""
    modules = modules_after("import tracker.cli", tmp_path)

    assert not SCREEN & modules
    ours = {name for name in modules if name.split(".")[0] == "tracker"}
    assert "tracker.problems" in ours
    assert len(ours) < MOST_AT_START


@pytest.mark.parametrize(
    "argv",
    [
        ["left", DESIGN],
        ["path", DESIGN, "--json"],
        ["compile", DESIGN, "-o", "OUT"],
        ["supplies", DESIGN],
        ["check", DESIGN],
    ],
    ids=lambda argv: argv[0],
)
def test_commands_that_open_no_screen_import_none(tmp_path: Path, argv: list[str]) -> None:
    """They work, and neither screen library nor app has been imported."""
    words = [str(tmp_path / "out.toml") if word == "OUT" else word for word in argv]
    modules = modules_after(f"import tracker.cli\nassert 0 == tracker.cli.main({words})", tmp_path)

    assert not SCREEN & modules
    assert not any(name.startswith("tracker.app") for name in modules)
    assert "tracker.loading" in modules


def test_the_domain_knows_no_screen(tmp_path: Path) -> None:
    """Every module of the domain can be imported without the screen libraries."""
    names = [
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for package in DOMAIN
        for path in sorted((ROOT / "tracker" / package).rglob("*.py"))
        if path.name != "__init__.py"
    ]
    modules = modules_after("\n".join(f"import {name}" for name in names), tmp_path)

    assert set(names) <= modules
    assert set(DOMAIN) <= {name.split(".")[1] for name in names}
    assert not SCREEN & modules
    assert not any(name.startswith("tracker.app") for name in modules)


OPEN = """
import asyncio
from tracker.app.main import TrackerApp
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store, data_home
from tracker.starting import take_up

async def stitch() -> None:
    store = Store(data_home())
    in_hand = take_up("patterns/night-watch.pattern.toml", store)
    # Past the rows in which a learner is shown the stitch's own hints.
    in_hand.piece.record(Moved(utc_now(), Position(12, 0)))
    async with TrackerApp(store, in_hand).run_test() as pilot:
        await pilot.press("space", "space", "backspace")

asyncio.run(stitch())
"""
OTHER_SCREENS = ("bench", "dialogs", "help", "lesson", "new_band", "openings", "supplies")
NOT_TO_STITCH = {
    *(f"tracker.app.screens.{name}" for name in OTHER_SCREENS),
    "tracker.app.screens.painting",
    *("tracker.pattern.compiler", "tracker.path.proof.prove", "tracker.design.reader"),
    *("tracker.stitches.square", "tracker.stitches.rows_by_hand", "tracker.lesson.keeping"),
    "tracker.pictures.pixels",
    *("tracker.handsfree.speaking", "tracker.handsfree.listening.listener"),
    *("tracker.reports", "tracker.exchange", "tracker.progress.moved", "tomlkit"),
}


def test_stitching_imports_no_more_than_it_shows(tmp_path: Path) -> None:
    """A pattern is opened and stitched without the other screens, the compiler, voice or ears."""
    modules = modules_after(OPEN, tmp_path)

    assert "tracker.app.screens.stitching" in modules
    assert set() == NOT_TO_STITCH & modules
