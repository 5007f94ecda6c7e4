"""The tracker as plain lines: a recorded sitting, word for word, and every command."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.plain import COMMANDS, run_plain
from tracker.progress.position import Position
from tracker.progress.store import Store
from tracker.session import Session
from tracker.starting import take_up

DESIGN = str(Path(__file__).parents[2] / "patterns" / "night-watch.design.toml")

RECORDED = """\
Night watch. Enter goes on, h helps, q stops.
Row 1 of 68, up, step 1 of 3 (start).
pick up 3 pewter seeds and 1 lamplight tile.
(leave the tail; a stop bead or two fingers keep the beads from sliding off)
> \n\
Row 1 of 68, up, step 2 of 3 (start).
pick up 3 pewter seeds and 1 midnight tile.
(keep the order; nothing holds its shape yet)
> \n\
Row 1 of 68, up, step 3 of 3 (start).
turn: pick up 3 pewter seeds; go back through the open hole of the midnight tile you just added.
(the last seeds fold over the tile's end; leave the string a little slack)
> \n\
Row 2 of 68, down, step 1 of 3 (start).
pick up 1 pewter seed and 1 lamplight tile; go through all 3 seeds of the group; \
go through the open hole of the lamplight tile next on the string.
(the new tile comes to lie beside the string; pull gently)
> p
The thread comes out of hole b of the midnight tile, at its lower end.
1 lamplight tile stands open.
Hole 1: the pewter seed of row 1, lane 3.
Hole 2: hole b of the lamplight tile of row 1, lane 2.
Open: the lamplight tile of row 1, lane 2.
New: the pewter seed of row 2, lane 4.
New: the lamplight tile of row 2, lane 3.
> b
Row 1 of 68, up, step 3 of 3 (start).
turn: pick up 3 pewter seeds; go back through the open hole of the midnight tile you just added.
(the last seeds fold over the tile's end; leave the string a little slack)
> q
"""


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A piece of the narrow demo band, just started."""
    made = Session(take_up(DESIGN, Store(tmp_path)))
    yield made
    made.close()


def sitting(session: Session, typed: str) -> str:
    """What a sitting looks like, with what is typed behind its prompts."""
    lines = iter(typed.split("|"))
    said: list[str] = []

    def ask(prompt: str) -> str | None:
        line = next(lines, None)
        said.append(prompt + (line if line is not None else "<end>"))
        return None if line is None else f"{line}\n"

    run_plain(session, ask, said.append)
    return "\n".join(said) + "\n"


def test_a_recorded_sitting(session: Session) -> None:
    """The first steps, the picture in words, a step back: exactly these lines."""
    assert sitting(session, "|||p|b|q") == RECORDED


def test_the_end_of_the_input_stops_and_keeps_the_place(session: Session) -> None:
    """A closed pipe is no error; what was acknowledged is kept."""
    sitting(session, "||")
    assert Position(1, 0) == session.progress.position


def test_every_command_is_in_the_help(session: Session) -> None:
    """The help names each letter of the table."""
    said = sitting(session, "h|q")
    for command in COMMANDS:
        assert command.help in said


def test_counts_and_measurement(session: Session) -> None:
    """Counts come by colour; a measurement says what it changes, and is kept."""
    said = sitting(session, "g 21|c|m 55 mm|q")
    assert "Row 21 of 68, step 1 of 3; 48 rows to go" in said
    assert "48 midnight tiles; 48 lamplight tiles" in said
    assert "54 mm now, 51 mm were believed" in said
    assert [(20, 55.0)] == [tuple(length) for length in session.progress.measured]


def test_a_mistake_is_taken_out_step_by_step(session: Session) -> None:
    """Back from row 4 to row 3 in three steps, then the step to do is told again."""
    said = sitting(session, "g 4|u 3||||q")
    assert 3 == said.count("Take out, back to row 3:")
    assert Position(2, 0) == session.progress.position
    assert session.progress.unpicking is None
    assert "Row 3 of 68, up, step 1 of 3" in said.rpartition("Take out")[2]


def test_the_place_is_found_by_looking(session: Session) -> None:
    """At row 1 of the screen, at row 5 on the mat: answers lead there, a yes goes there."""
    # Before row 5: two tiles along each edge, thread upwards out of the midnight tile of lane 1.
    answers = {
        "which lane": "1",
        "towards the upper": "upper",
        "upper edge": "2",
        "lower edge": "2",
        "one hole": "1",
        "added last": "midnight",
        "seed or a tile": "tile",
        "bead that the thread comes": "midnight",
    }
    said: list[str] = []
    begun = False

    def ask(prompt: str) -> str | None:
        nonlocal begun
        if not begun:
            begun = True
            return "f\n"
        asked = next((line for line in reversed(said) if "?" in line), "")
        assert len(said) < 60, said[-1]
        if "You are before" in prompt:
            return "y\n"
        if session.progress.position == Position(4, 0):
            return None
        return next(a for part, a in answers.items() if part in asked) + "\n"

    run_plain(session, ask, said.append)
    assert Position(4, 0) == session.progress.position


def test_what_cannot_be_is_told_and_changes_nothing(session: Session) -> None:
    """Unknown letters, rows and lengths get a line each and move nothing."""
    said = sitting(session, "y|g 99|g x|m 5|m 5 mm|u 9|x Q|j thick|q")
    assert '"y" is no command' in said
    assert '"99" is no row: 1 to 68' in said
    assert '"x" is no row' in said
    assert "there is no whole row to measure yet" in said
    assert "row 9 is not stitched yet" in said
    assert '"Q" is no colour of this piece: M, L, P' in said
    assert '"thick" is no length' in said
    assert Position(0, 0) == session.progress.position


def test_lost_beads_are_counted(session: Session) -> None:
    """Two dropped, one more broken: three."""
    said = sitting(session, "x m 2|x M|q")
    assert "3 midnight lost so far." in said


def test_whole_rows_can_be_told_at_once(session: Session) -> None:
    """By rows, all steps of a row stand together and Enter goes to the next row."""
    said = sitting(session, "r|b||q")
    assert "Enter is now one row." in said
    assert Position(1, 0) == session.progress.position


def test_taken_up_again_it_says_how_the_work_should_look(tmp_path: Path) -> None:
    """On the second sitting the thread, the open tiles and the cap are told first."""
    store = Store(tmp_path)
    first = Session(take_up(DESIGN, store))
    sitting(first, "g 3|q")
    first.close()
    second = Session(take_up("night watch", store))
    said = sitting(second, "q")
    second.close()
    assert "The thread comes out of hole b of the midnight tile, at its upper end." in said
    assert "1 lamplight tile stands open." in said
    assert "3 seeds cap the lower edge at the last turn." in said
