"""The README and DEVELOPERS.md say what is true."""

import re
import shlex
from pathlib import Path

import pytest

from tracker import cli
from tracker.app.actions import ACTIONS
from tracker.app.screens.bench_keys import BENCH_KEYS
from tracker.beads.catalogue import seeds, tiles
from tracker.design.reader import parse_design
from tracker.loading import compile_text
from tracker.problems import ProblemsError
from tracker.progress import chain
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.settings.reader import parse_settings
from tracker.starting import take_up
from tracker.stitches import demands

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def blocks(text: str, language: str) -> list[str]:
    """The fenced blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.DOTALL | re.MULTILINE)


DESIGN = next(block for block in blocks(README, "toml") if block.startswith("format"))


def test_two_commands_set_up_alike() -> None:
    """One line opens a demo band, one runs the tests; the way there is the same."""
    lines = [line for block in blocks(README, "sh") for line in block.splitlines()]
    opens, tests = (line.rpartition(" && ") for line in lines)
    assert opens[0] == tests[0]
    assert ".venv/bin/tracker open patterns/night-watch.design.toml" == opens[2]
    assert ".venv/bin/python -m pytest" == tests[2]


def test_the_design_compiles() -> None:
    """The design that the README shows can be woven, and says nothing against its beads."""
    assert "" == compile_text(DESIGN).advice


def test_measured_beads_compile() -> None:
    """The README's table of measured beads is one that the tracker takes."""
    measured = next(block for block in blocks(README, "toml") if "hole_spacing" in block)
    named = re.search(r"\[beads\]\n(.+\n)+", DESIGN)
    assert named is not None
    assert "" == compile_text(DESIGN.replace(named[0], measured)).advice


def test_mistakes_are_reported_as_shown() -> None:
    """Three slips in the README's design give the lines that it quotes."""
    wrong = DESIGN.replace('"150 mm"', "150").replace("seed =", "sede =").replace("BAAB", "BAB")
    with pytest.raises(ProblemsError) as error:
        parse_design(wrong, stitches=demands())
    shown = next(b for b in blocks(README, "console") if "tracker compile" in b)
    assert shown.splitlines()[1:] == error.value.in_file("band.design.toml").lines()


def test_supplies_are_as_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The README quotes what `tracker supplies` prints."""
    monkeypatch.setenv("TRACKER_HOME", str(tmp_path))
    monkeypatch.chdir(ROOT)
    shown = next(b for b in blocks(README, "console") if "tracker supplies" in b)
    command, _, printed = shown.partition("\n")
    assert 0 == cli.main(command.removeprefix("$ tracker ").split())
    assert printed == capsys.readouterr().out


def test_a_piece_taken_along_says_what_is_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The README's export and import, from one data folder to another."""
    design = ROOT / "patterns" / "night-watch.design.toml"
    monkeypatch.chdir(tmp_path)
    in_hand = take_up(str(design), Store(tmp_path / "here"))
    in_hand.piece.record(Moved(utc_now(), Position(12, 0)))
    in_hand.piece.close()
    shown = next(b for b in blocks(README, "console") if "tracker export" in b)
    for home, part in zip(("here", "there"), shown.split("\n\n"), strict=True):
        monkeypatch.setenv("TRACKER_HOME", str(tmp_path / home))
        command, _, printed = part.partition("\n")
        capsys.readouterr()
        assert 0 == cli.main(shlex.split(command.removeprefix("$ tracker ")))
        assert printed.rstrip("\n") == "".join(capsys.readouterr()).rstrip("\n")


def test_every_key_of_the_bench_is_named() -> None:
    """The README's table of the bench has each of its keys."""
    (rows,) = re.findall(r"^\| at the bench \| does \|\n((?:\|.*\n)+)", README, re.MULTILINE)
    named = re.split(r"[|,`\s]+", " ".join(row.split(" | ")[0] for row in rows.splitlines()))
    assert [] == [key.id for key in BENCH_KEYS if key.shown not in named]


def test_every_command_is_named() -> None:
    """The README tells of each command of the command line."""
    listed = re.findall(r"^    (\w+) ", cli._parser().format_help(), re.MULTILINE)
    assert "open" in listed
    assert [] == [name for name in listed if not re.search(f"`tracker {name}[ `]", README)]


def test_every_key_is_named() -> None:
    """The README's table of keys has each action."""
    (rows,) = re.findall(r"^\| key \| does \|\n((?:\|.*\n)+)", README, re.MULTILINE)
    named = {
        key.strip(" `") for row in rows.splitlines() for key in row.split(" | ")[0][1:].split(",")
    }
    assert [] == [action.id for action in ACTIONS if action.shown not in named]


def test_the_settings_shown_are_the_defaults() -> None:
    """The settings that the README shows are read, and hold what holds without a file."""
    shown = next(block for block in blocks(README, "toml") if "bounce" in block)
    assert Settings() == parse_settings(shown, actions={}, commands=())


def test_every_bead_is_named() -> None:
    """The README names the tiles and seeds that a design may name."""
    assert [] == [name for name in (*tiles(), *seeds()) if f"`{name}`" not in README]


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_links_lead_somewhere(text: str) -> None:
    """Each file that is linked to is there."""
    links = re.findall(r"\]\((?!https:|#)([^)]+)\)", text)
    assert links
    assert [] == [link for link in links if not (ROOT / link).is_file()]


def test_the_row_is_one_of_the_demo() -> None:
    """The row that DEVELOPERS.md explains stands in a demo pattern."""
    row = next(block for block in blocks(DEVELOPERS, "") if " up " in block)
    assert row in (ROOT / "patterns" / "night-watch.pattern.toml").read_text("utf-8")


def test_the_journal_is_sound() -> None:
    """The journal that DEVELOPERS.md shows passes its own checks."""
    (journal,) = blocks(DEVELOPERS, "toml")
    contents = chain.scan(journal.encode(), "")
    assert 3 == len(contents.texts)
    assert b"" == contents.torn


def test_every_folder_is_listed() -> None:
    """DEVELOPERS.md has a line for each folder of the tracker."""
    folders = [path.parent.name for path in (ROOT / "tracker").glob("*/__init__.py")]
    assert folders
    assert [] == [name for name in folders if f"`tracker/{name}/`" not in DEVELOPERS]
