"""README, DEVELOPERS.md and docs say what is true."""

import re
import shlex
import tomllib
from collections.abc import Collection
from pathlib import Path

import pytest
from documents import (
    COMMANDS,
    CRAFT,
    DEVELOPERS,
    DOCS,
    FORMATS,
    HANDS,
    PAGES,
    README,
    ROOT,
    SCREEN,
    anchors,
    blocks,
    first_cells,
)

from tracker import cli
from tracker.app.actions import ACTIONS, USUAL_KEYS
from tracker.app.screens.bench_keys import BENCH_KEYS
from tracker.completion import commands_of
from tracker.design.fields import Fields
from tracker.handsfree.listening.phrases import USUAL
from tracker.progress import chain
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store
from tracker.settings.model import Settings
from tracker.settings.reader import BOUNCE, HOME, parse_settings
from tracker.starting import take_up

DESIGN = "patterns/night-watch.design.toml"
TO_COME = ("limits.md", "supply-chain.md", "speed.md", "stitches.md")
"""Pages that the index links to before they are there."""


def printed(capsys: pytest.CaptureFixture[str], command: str) -> str:
    """What a quoted command prints on both outputs."""
    capsys.readouterr()
    assert 0 == cli.main(shlex.split(command.removeprefix("$ tracker ")))
    return "".join(capsys.readouterr()).rstrip("\n")


def test_two_commands_set_up_alike() -> None:
    """One line opens a demo band, one runs the tests; the way there is the same."""
    lines = [line for block in blocks(README, "sh") for line in block.splitlines()]
    opens, tests = (line.rpartition(" && ") for line in lines)
    assert opens[0] == tests[0]
    assert f".venv/bin/tracker open {DESIGN}" == opens[2]
    assert ".venv/bin/python -m pytest" == tests[2]


def test_supplies_are_as_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """What `tracker supplies` is quoted with is what it prints."""
    monkeypatch.setenv(HOME, str(tmp_path))
    monkeypatch.chdir(ROOT)
    (shown,) = (b for b in blocks(COMMANDS, "console") if "tracker supplies" in b)
    command, _, said = shown.partition("\n")
    assert said.rstrip("\n") == printed(capsys, command)


@pytest.mark.parametrize("page", ["README.md", "docs/commands.md"])
def test_what_is_left_is_as_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, page: str
) -> None:
    """What `tracker left` is quoted with is what it prints in row 13."""
    monkeypatch.setenv(HOME, str(tmp_path))
    at_row_13(tmp_path)
    (shown,) = (b for b in blocks(PAGES[page], "console") if "tracker left" in b)
    command, _, said = shown.partition("\n")
    assert said.rstrip("\n") == printed(capsys, command)


def test_a_piece_taken_along_says_what_is_shown(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The export and import that are quoted, from one data folder to another."""
    monkeypatch.chdir(tmp_path)
    at_row_13(tmp_path / "here")
    (shown,) = (b for b in blocks(COMMANDS, "console") if "tracker export" in b)
    for home, part in zip(("here", "there"), shown.split("\n\n"), strict=True):
        monkeypatch.setenv(HOME, str(tmp_path / home))
        command, _, said = part.partition("\n")
        assert said.rstrip("\n") == printed(capsys, command)


def at_row_13(home: Path) -> None:
    """A demo band stitched up to row 13."""
    in_hand = take_up(str(ROOT / DESIGN), Store(home))
    in_hand.piece.record(Moved(utc_now(), Position(12, 0)))
    in_hand.piece.close()


def test_every_key_of_the_bench_is_named() -> None:
    """The table of the bench has each of its keys."""
    named = first_cells(SCREEN, "at the bench")
    assert [] == [key.id for key in BENCH_KEYS if key.shown not in named]


def test_every_key_is_named() -> None:
    """The table of keys has each action, by its usual key."""
    named = first_cells(SCREEN, r"key \| does")
    assert [] == [action.id for action in ACTIONS if action.shown not in named]


def test_every_command_and_option_is_named() -> None:
    """The table of commands has each of them, and each option but --help stands on the page."""
    commands = [command for command in commands_of(cli._parser()) if command.name]
    assert "open" in {command.name for command in commands}
    for command in commands:
        (row,) = re.findall(rf"^\| `tracker {command.name}[ `].*$", COMMANDS, re.MULTILINE)
        for option in command.options:
            if "--help" not in option.names:
                assert re.search(rf"[` ]{option.names[0]}[ `]", row), row


def test_no_command_is_made_up() -> None:
    """Every `tracker WORD` that any page names in code is a command, or needs a file's name."""
    known = {command.name for command in commands_of(cli._parser())}
    named = {
        word
        for text in PAGES.values()
        for word in re.findall(r"(?:`|^\$ )tracker ([a-z]+)", text, re.MULTILINE)
    }
    assert len(named) > 10
    assert set() == named - known


def test_every_phrase_is_named() -> None:
    """The table of spoken commands has each, with its name in the settings."""
    table = dict(re.findall(r'^\| "([^"]+)" \| [^|]+ \| `(\w+)` \|$', HANDS, re.MULTILINE))
    assert {phrase: command for command, phrase in USUAL.items()} == table


def test_the_settings_shown_are_the_defaults() -> None:
    """The settings that are shown are read, and hold what holds without a file."""
    shown = next(block for block in blocks(COMMANDS, "toml") if "bounce" in block)
    assert Settings() == parse_settings(shown, actions={}, commands=())


def test_every_setting_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the reader would take in any table stands on the page, shown or named."""
    known: set[str] = set()
    refuse = Fields.refuse_unknown

    def noted(self: Fields, keys: Collection[str]) -> None:
        known.update(f"{self.place}.{key}" if self.place else key for key in keys)
        refuse(self, keys)

    monkeypatch.setattr(Fields, "refuse_unknown", noted)
    shown = next(block for block in blocks(COMMANDS, "toml") if "bounce" in block)
    parse_settings(f"{shown}[keys]\n[listen.phrases]\n", actions=USUAL_KEYS, commands=USUAL)
    given = tomllib.loads(shown)
    told = {*given, *re.findall(r"`\[?([\w.]+)\]?`", COMMANDS)}
    told |= {
        f"{table}.{key}"
        for table in given
        if isinstance(given[table], dict)
        for key in given[table]
    }
    # The actions and commands themselves have tables of their own.
    wanted = {key for key in known if not key.startswith(("keys.", "listen.phrases."))}
    assert {"bounce", "speak.program", "listen.phrases", "supplies.packages"} <= wanted
    assert set() == wanted - told


def test_the_environment_is_named() -> None:
    """The variables that are read stand in the table."""
    named = first_cells(COMMANDS, "variable")
    assert {HOME, BOUNCE, "NO_COLOR"} <= set(named)


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere(page: str) -> None:
    """Each file that is linked to is there, and has the heading that the link names."""
    links = re.findall(r"\]\((?!https:)([^)]+)\)", PAGES[page])
    for link in links:
        path, _, anchor = link.partition("#")
        target = (ROOT / page).parent / path if path else ROOT / page
        if not target.exists() and target.parent == DOCS and target.name in TO_COME:
            continue
        assert target.is_file(), link
        if anchor:
            assert anchor in anchors(target.read_text("utf-8")), link


def test_the_index_names_every_page() -> None:
    """What lies in docs is linked from its index; so is what is still to come."""
    index = PAGES["docs/README.md"]
    there = {path.name for path in (*DOCS.glob("*.md"), *DOCS.glob("*.1"))} - {"README.md"}
    assert len(there) > 6
    assert set() == {name for name in there if f"]({name})" not in index}
    assert [] == [name for name in TO_COME if f"]({name})" not in index]


def test_every_picture_is_shown() -> None:
    """No picture is made for nothing, and each has words for those who do not see it."""
    shown = {
        ((ROOT / page).parent / path).resolve(): alt
        for page, text in PAGES.items()
        for alt, path in re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", text)
    }
    made = {
        path.resolve() for folder in (DOCS, ROOT / "patterns") for path in folder.rglob("*.svg")
    }
    assert made == set(shown)
    assert all(len(alt) > 40 for alt in shown.values())


def test_the_row_is_one_of_the_demo() -> None:
    """The row that is explained stands in a demo pattern."""
    row = next(block for block in blocks(FORMATS, "") if " up " in block)
    assert row in (ROOT / "patterns" / "night-watch.pattern.toml").read_text("utf-8")


def test_the_journal_is_sound() -> None:
    """The journal that is shown passes its own checks."""
    (journal,) = blocks(FORMATS, "toml")
    contents = chain.scan(journal.encode(), "")
    assert 3 == len(contents.texts)
    assert b"" == contents.torn


def test_every_folder_is_listed() -> None:
    """DEVELOPERS.md has a line for each folder of the tracker."""
    folders = [path.parent.name for path in (ROOT / "tracker").glob("*/__init__.py")]
    assert folders
    assert [] == [name for name in folders if f"`tracker/{name}/`" not in DEVELOPERS]


def test_every_source_is_named() -> None:
    """The craft's page names each outside source that a module of the domain leans on."""
    for source in ("Kravitz", "Graham", "CRC Handbook", "Mohar", "Sharma", "Machado", "WCAG"):
        assert source in CRAFT
        assert any(source in p.read_text("utf-8") for p in (ROOT / "tracker").rglob("*.py")), source
    assert "Annex XVII, entry 27" in CRAFT
