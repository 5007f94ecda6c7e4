"""Names of a file that a terminal or a markup might obey, on the real screen."""

import re
from pathlib import Path

import pytest
from hands import design_file, design_text
from terminals import TRACKER, Terminal

pytestmark = pytest.mark.terminal

NAMES = (
    "[red]evil[/] [link=file:///etc/passwd]x",
    "e" + "\u0301" * 40,  # marks over marks
    "\ufdfd" * 10,  # one character, as wide as a word on some terminals
)
# What Textual writes: colours and places, modes, the keyboard protocol, questions about modes.
OWN = re.compile(
    r"\x1b\[[\d;]*[mHJK]|\x1b\[\?(?:25|7|1004|1049|2004|2026)[hl]|\x1b\[(?:>25|<)u"
    r"|\x1b\[\?(?:2026|2048)\$p|\x1b\]22;default\x07"
)


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
def test_names_are_painted_as_text(tmp_path: Path, size: tuple[int, int]) -> None:
    """No sequence but the screen's own, no colour that a name asked for, and keys still work."""
    design = design_file(tmp_path, design_text(2, 9, names=NAMES, name="[bold]\U0001f9f5 %s {0}"))
    with Terminal(tmp_path, *TRACKER, "open", design.name, size=size) as terminal:
        terminal.wait_for_place(1, 1)
        for _ in range(3):
            terminal.type(" ")
        terminal.wait_for_place(2, 1)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert terminal.as_found
    painted = terminal.raw.decode("utf-8")
    assert size[0] < 80 or "[red]evil[/]" in painted
    left = OWN.sub("", painted)
    assert [] == [c for c in left if not (c.isprintable() or c in "\r\n")]


@pytest.mark.parametrize(
    "odd", ["\\u001b]0;x", "\\u202e", "\\u200b", "\\u0085", "\\u2028", "\\ufeff"]
)
def test_names_that_cannot_be_shown_are_refused(tmp_path: Path, odd: str) -> None:
    """Before the screen is taken, in one line without them."""
    text = design_text(2, 9).replace("'lagoon'", f'"la{odd}goon"')
    design = design_file(tmp_path, text)
    with Terminal(tmp_path, *TRACKER, "open", design.name, size=(200, 24)) as terminal:
        assert 1 == terminal.wait_for_end()
        assert "colours.A.name: " in terminal.text
        assert b"\x1b" not in terminal.raw
        assert terminal.raw.decode().replace("\r\n", "").isprintable()
