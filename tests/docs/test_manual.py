"""The manual page: made from the parser, sound roff, and taken along by both distributions."""

import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import manual
import pytest

from tracker import cli
from tracker.completion import commands_of

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "tracker.1"


def test_it_is_up_to_date() -> None:
    """The page is the one that the parser gives now."""
    assert 0 == manual.main(["--check"])


@pytest.mark.skipif(shutil.which("groff") is None, reason="no groff")
def test_groff_sets_it_without_a_word() -> None:
    """All warnings on: there are none; every command and option can be read in what is set."""
    done = subprocess.run(
        ["groff", "-man", "-Tutf8", "-ww", "-P-c", "-P-b", "-P-u", PAGE],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert "" == done.stderr
    shown = " ".join(done.stdout.split())
    wanted = [
        name
        for command in commands_of(cli._parser())
        for name in (
            *([f"tracker {command.name}"] if command.name else []),
            *(spelling for word in command.options for spelling in word.names),
        )
    ]
    assert len(wanted) > 20
    assert [] == [name for name in wanted if name not in shown]


def test_both_distributions_take_it_along(tmp_path: Path) -> None:
    """The wheel puts it where `man` looks; the sdist, from which a wheel is made, has it too."""
    for target in ("sdist", "wheel"):
        subprocess.run(
            [sys.executable, "-m", "hatchling", "build", "-t", target, "-d", tmp_path],
            cwd=ROOT,
            capture_output=True,
            check=True,
            timeout=120,
        )
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as built:
        (page,) = (name for name in built.namelist() if name.endswith("/man1/tracker.1"))
        assert page.endswith(".data/data/share/man/man1/tracker.1")
        assert PAGE.read_bytes() == built.read(page)
        assert "tracker/lesson/first-steps.design.toml" in built.namelist()
    (sdist,) = tmp_path.glob("*.tar.gz")
    with tarfile.open(sdist) as packed:
        assert any(name.endswith("/docs/tracker.1") for name in packed.getnames())
