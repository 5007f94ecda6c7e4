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


BEGUN = """
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store, data_home
from tracker.starting import take_up

with take_up("patterns/night-watch.pattern.toml", Store(data_home())).piece as piece:
    # Past the rows in which a learner is shown the stitch's own hints.
    piece.record(Moved(utc_now(), Position(12, 0)))
"""
OPEN = """
import asyncio
from tracker.app.main import TrackerApp
from tracker.progress.store import Store, data_home
from tracker.starting import take_up

async def stitch() -> None:
    store = Store(data_home())
    in_hand = take_up("patterns/night-watch.pattern.toml", store)
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
    *("tracker.pictures.pixels", "tracker.pictures.renderer", "tracker.pictures.pixel_worker"),
    *("tracker.handsfree.speaking", "tracker.handsfree.listening.listener"),
    *("tracker.reports", "tracker.exchange", "tracker.progress.moved"),
    *("tracker.app.screens.asking", "tracker.pattern.writer", "tracker.fit.model"),
    *("tracker.progress.exported", "tracker.progress.unpicking", "tracker.beads.catalogue"),
    *("tracker.path.builder", "tracker.path.proof.expected"),
    *(f"tracker.stitches.herringbone_{part}" for part in ("rows", "ends", "counts")),
    *("networkx", "statistics", "tomli_w", "tomlkit"),
    *(() if sys.platform == "win32" else ("filelock",)),
}


def test_stitching_imports_no_more_than_it_shows(tmp_path: Path) -> None:
    """A piece is opened and stitched without the other screens, the compiler, voice or ears.

    Nor does it take libraries that write files, or that lock them on other platforms.
    """
    modules_after(BEGUN, tmp_path)
    modules = modules_after(OPEN, tmp_path)

    assert {"tracker.app.screens.stitching", "tracker.stitches.two_hole_herringbone"} <= modules
    assert set() == NOT_TO_STITCH & modules


def test_to_open_takes_no_parser(tmp_path: Path) -> None:
    """What is asked for most is understood without; everything else is parsed."""
    asked = "import tracker.cli\ntracker.cli._asked({})"
    parsers = {"argparse", "tracker.arguments"}
    for words in ([], ["open", "band.pattern.toml"], ["open", "My band"]):
        assert set() == parsers & modules_after(asked.format(words), tmp_path)
    for words in (["left", "My band"], ["open", "--", "-band.toml"]):
        assert parsers <= modules_after(asked.format(words), tmp_path)
