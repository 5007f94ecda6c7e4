"""A command run in this process, as a shell would run it."""

import os
from pathlib import Path

import pytest
from command_line import DESIGN, Done, Run

from tracker.cli import main


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs commands in an empty working folder, with an empty data folder."""
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    monkeypatch.setenv("TRACKER_HOME", os.fspath(tmp_path / "home"))

    def run_it(*argv: str) -> Done:
        capsys.readouterr()
        try:
            status = main(argv)
        except SystemExit as exit_:  # wrong usage, --help
            status = int(exit_.code or 0)
        captured = capsys.readouterr()
        return Done(status, captured.out, captured.err)

    return run_it


@pytest.fixture
def design(run: Run) -> Path:
    """A band of 2 columns and 60 mm in the working folder."""
    assert run("--version").status == 0
    path = Path("harbour.design.toml")
    path.write_text(DESIGN, "utf-8")
    return path
