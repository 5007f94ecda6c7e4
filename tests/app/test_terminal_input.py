"""Keys and noise on a real pseudo-terminal: the place on the disk is that of the keys pressed."""

import os
import random
import tempfile
import time
from pathlib import Path

import pytest
from hands import design_file, design_text
from terminals import TRACKER, Terminal
from test_keyboard import NO_KEYS
from test_terminal import STEPS, nth, require_whole

pytestmark = pytest.mark.terminal

BURST = 2000
NOISES = int(os.environ.get("TRACKER_NOISE", "400"))
"""Pieces of noise in the campaign; some ten thousand for the long form."""
SEED = int(os.environ.get("TRACKER_NOISE_SEED", "20261127"))
NEXT = (b" ", b"\r", b"\x1b[C", b"\x1bOC", b"\x1b[6~", b"\x1b[32;;32u", b"\x1b[13u", b"\x1b[57414u",
        b"\x1b[32;1:1u", b"\x1b[1;65C", b"\x1b[32;129u")  # fmt: skip
"""Ways to go on: the keys by every protocol, with caps or num lock too."""
HELD = (2, 3, 4, 5, 9, 17, 33, 65, 129, 255, 256)


def noise(chance: random.Random) -> bytes:  # noqa: PLR0911  one a kind
    """Something that a terminal might send and that is no key bound to anything, ended."""
    kind = chance.randrange(9)
    number = chance.choice((0, 1, 13, 32, 113, 57441, 10**6, 10**9, chance.randrange(1 << 21)))
    if kind == 0:
        return chance.choice([*NO_KEYS.values()])[:200] + b"\x1b\\"
    if kind == 1:  # let go, or held
        key = chance.choice((13, 32, 103, 113, 117, 127, 57414, 57417))
        held = chance.choice((1, *HELD))
        return f"\x1b[{key};{held}:{chance.choice((2, 3, 9))}u".encode()
    if kind == 2:
        held, end = chance.choice(HELD), chance.choice("ABCDEFHPQS")
        return f"\x1b[1;{held}:{chance.choice((2, 3))}{end}".encode()
    if kind == 3:  # modifiers and locks by themselves
        key = chance.choice([*range(57441, 57455), 57358, 57359, 57360])
        return f"\x1b[{key};{chance.choice(HELD)}{chance.choice(('', ':1', ':3'))}u".encode()
    if kind == 4:  # mice
        a, b, c = (chance.choice((number, -1, 10, 10**12)) for _ in range(3))
        form = chance.choice(("\x1b[<{};{};{}M", "\x1b[<{};{};{}m", "\x1b[{};{};{}M"))
        return form.format(a, b, c).encode()
    if kind == 5:
        inside = bytes(chance.randrange(0x20, 0x7F) for _ in range(chance.randrange(300)))
        begin = chance.choice((b"\x1b]", b"\x1bP", b"\x1b_", b"\x1b^", b"\x1bX", b"\x9d", b"\x90"))
        return begin + inside + chance.choice((b"\x1b\\", b"\x07", b"\x9c"))
    if kind == 6:
        inside = chance.choice(
            (b" \r\n q", b"\x1b[C \x1b]0;", os.fsencode("\u202e \udcff"), b" " * 5000)
        )
        return b"\x1b[200~" + inside + b"\x1b[201~"
    if kind == 7:  # bytes of no text; the end of a string ends whatever they began
        return bytes(chance.choice((0, *range(128, 256))) for _ in range(20)) + b"\x1b\\"
    numbers = ";".join(str(chance.randrange(1 << chance.randrange(40))) for _ in range(5))
    return f"\x1b[{chance.choice('?<=>')}{numbers}{chance.choice('$y cnRtu')}".encode() + b"\x1b[0n"


def opened(home: Path) -> Terminal:
    """The program with a long piece in hand, its pace unhurried by any guard."""
    design = design_file(home, design_text(2, 5000)).name
    return Terminal(home, *TRACKER, "open", design, size=(60, 18))  # little to paint


@pytest.fixture
def terminal(tmp_path: Path) -> Terminal:
    """Such a one, its piece in the test's folder."""
    return opened(tmp_path)


def wait(terminal: Terminal, seconds: float) -> None:
    """Let time pass, as somebody does who looks at the work."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        terminal.look(0.05)


def test_two_thousand_presses_at_once() -> None:
    """Not one is lost, and not one counts twice."""
    # Each press is synced to the disk: in memory, where there is any, this takes a third as long.
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # noqa: S108
    with tempfile.TemporaryDirectory(dir=memory) as folder, opened(Path(folder)) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.send(b" " * BURST)
        for moves in range(100, BURST, 100):
            terminal.wait_until(
                lambda m=moves: (terminal.place or (0,)) >= nth(m), f"{moves} moves"
            )
        terminal.wait_for_place(*nth(BURST))
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert BURST == require_whole(Path(folder))


def test_noise_makes_no_step(terminal: Terminal, tmp_path: Path) -> None:
    """Among thousands of sequences that are no keys, each key counts once.

    `TRACKER_NOISE=20000` gives the long form, `TRACKER_NOISE_SEED` another one.
    """
    chance = random.Random(SEED)  # noqa: S311  no secret
    moves = 0
    with terminal:
        terminal.wait_for_place(1, 1)
        for _ in range(NOISES):
            terminal.send(b"".join(noise(chance) for _ in range(chance.randrange(1, 6))))
            if chance.random() < 0.2:
                moves += 1
                terminal.send(chance.choice(NEXT))
            if chance.random() < 0.02:
                terminal.wait_for_place(*nth(moves))
        terminal.wait_for_place(*nth(moves))
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
        assert b"Traceback" not in terminal.raw
        assert terminal.as_found
    assert moves == require_whole(tmp_path)


def test_what_is_broken_off_ends_by_itself(terminal: Terminal, tmp_path: Path) -> None:
    """After a second without the rest, keys are keys again; a key that breaks in is one too."""
    moves = 0
    with terminal:
        terminal.wait_for_place(1, 1)
        for broken in (
            b"\x1b[200~a b",
            b"\x1b]52;c;  ",
            b"\x1b[32;1",
            b"\xe2\x82",
        ):
            terminal.send(broken)
            wait(terminal, 1.3)
            moves += 1
            terminal.send(b" ")
            terminal.wait_for_place(*nth(moves))
        terminal.send(b"\x1b]0;  \x03")  # Ctrl+C leaves, whatever has begun
        assert 0 == terminal.wait_for_end()
    assert moves == require_whole(tmp_path)


def test_what_is_pasted_into_a_question_is_its_answer(terminal: Terminal, tmp_path: Path) -> None:
    """Its first line, unsent until Enter; and a paste where nothing is asked does nothing."""
    with terminal:
        terminal.wait_for_place(1, 1)
        terminal.send(b"\x1b[200~ q\r g\n \x1b[201~")
        terminal.type("g")
        terminal.wait_for("Go to the start of which row?")
        terminal.send(b"\x1b[200~7\x1b[31m\x07\n9 \r\n" + b" " * 100_000 + b"\x1b[201~")
        terminal.look(0.3)
        terminal.wait_for("Go to the start of which row?")
        terminal.type("\r")
        terminal.wait_for_place(7, 1)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
    assert 6 * STEPS == require_whole(tmp_path)
