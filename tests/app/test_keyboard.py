"""What a terminal may send, byte by byte: which of it are keys, and that nothing else is one."""

import itertools
import random
from typing import TypeGuard

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._keyboard_protocol import FUNCTIONAL_KEYS
from textual._xterm_parser import XTermParser
from textual.events import Key, Paste
from textual.message import Message

from tracker.app.terminal.driver import Keyboard
from tracker.app.terminal.sequences import LONGEST_PASTE

LATER = 100.0
"""Long after everything else, seconds."""
SPACE = "space"
# Each from the specification of the control that it answers or reports: ECMA-48 and the controls
# of common terminals, as they are told from memory.
NO_KEYS = {
    "mouse, first form": b"\x1b[M !!\x1b[M  \x7f",
    "mouse, first form, far out": b"\x1b[M\xff\xff\xff",
    "mouse, in letters of UTF-8": "\x1b[M \u0720\u0720".encode(),
    "mouse, with numbers": b"\x1b[<0;10;10M\x1b[<0;10;10m\x1b[<64;1;1M\x1b[<35;0;0M",
    "mouse, odd numbers": b"\x1b[<-1;-1;-1M\x1b[<;;M\x1b[<99999999999999999999;1;1M\x1b[<0M",
    "mouse, decimal": b"\x1b[32;10;10M\x1b[96;32;32M\x1b[-1;0;0M",
    "mouse, in pixels": b"\x1b[<0;1032;732M",
    "mouse, tracked": b"\x1b[t  \x1b[T      ",
    "window in front and behind": b"\x1b[I\x1b[O\x1b[O\x1b[I",
    "where the cursor is": b"\x1b[1;1R\x1b[32;32R\x1b[?1;1;1R\x1b[0;0R\x1b[9999999999;1R",
    "what it is": b"\x1b[?62;22;32c\x1b[>1;4000;32c\x1b[=32c\x1bP!|00000000\x1b\\",
    "its name": b"\x1bP>|a terminal (1.0 32)\x1b\\",
    "its colours": b"\x1b]10;rgb:ff/ff/ff\x1b\\\x1b]11;rgb:00/00/00\x07\x1b]4;1;rgb:a/b/c\x07",
    "its clipboard": b"\x1b]52;c;ICAgIA==\x1b\\\x1b]52;c;  qqq\r\x07",
    "its pictures": b"\x1b_Gi=31;OK q \x1b\\",
    "its settings": b"\x1bP1$r0 q\x1b\\\x1bP1+r544e=20\x1b\\",
    "its modes": b"\x1b[?2048;1$y\x1b[?1006;2$y\x1b[4;2$y\x1b[?99999999999;1$y",
    "its size": b"\x1b[8;24;80t\x1b[4;480;640t\x1b[48;9;99999;9;9t\x1b[48;0;0;0;0t",
    "its keyboard": b"\x1b[?25u\x1b[?0u",
    "told in private": b"\x1b^q q \x1b\\\x1bXq q \x1b\\",
    "eight bits": b"\x9b32;10;10M\x9d0; q \x9c\x90q \x9c\xc2\x9b0n\xc2\x9d0; q\xc2\x9c",
    "no character": b"\x00\x00\xff\xfe\x80\xc0\xaf\xed\xa0\x80\xe2\x82",
    "not to be seen": "\u202e\u200b\u2066\ufeff\u0085\u00ad\U000e0020".encode(),
    "released": b"\x1b[32;1:3u\x1b[13;1:3u\x1b[1;1:3C\x1b[6;1:3~\x1b[113;1:3u\x1b[32;1:3;32u",
    "held": b"\x1b[32;1:2u\x1b[13;1:2u\x1b[1;1:2C\x1b[6;1:2~\x1b[32;1:2;32u\x1b[32:32;1:2u",
    "no kind of event": b"\x1b[32;1:4u\x1b[32;1:0u\x1b[32;1:99999999999u\x1b[32;1:1:1u",
    "no modifier": b"\x1b[32;0u\x1b[32;257u\x1b[32;99999999999999999999u\x1b[32;-1u",
    "no number": b"\x1b[99999999u\x1b[1114112u\x1b[55296u\x1b[57300;;57300u\x1b[0u\x1b[57500u",
    "no text": b"\x1b[97;;99999999u\x1b[97;;55296u\x1b[97;;1:9999999u",
    "numbers of no key": b"\x1b[32A\x1b[13C\x1b[32P\x1b[999~\x1b[27;5;99~\x1b[32H\x1b[16~",
    "much too long": b"\x1b[" + b"1;" * 5000 + b"C" + b"\x1b[" + b"1" * 9000 + b"u",
}
KEYS = {
    "space": b" ",
    "enter": b"\r",
    "backspace": b"\x7f",
    "right": b"\x1b[C",
    "left": b"\x1bOD",
    "pagedown": b"\x1b[6~",
    "pageup": b"\x1b[5~",
    "f1": b"\x1bOP",
    "f5": b"\x1b[[E",  # the linux console
    "f18": b"\x1b[32~",  # a foot pedal
    "ctrl+c": b"\x03",
    "shift+tab": b"\x1b[Z",
    "alt+space": b"\x1b ",
    "alt+enter": b"\x1b\r",
    "alt+q": b"\x1bq",
    "alt+left_square_bracket": b"\x1b[",
    "alt+right_square_bracket": b"\x1b]",
    "escape": b"\x1b",
    "shift+right": b"\x1b[1;2C",
    "left_shift": b"\x1b[57441u",
    "caps_lock": b"\x1b[57358;65u",
    "?": b"?",
}


def told(data: bytes, keyboard: Keyboard | None = None, at: float = 0.0) -> list[Message]:
    """The messages of these bytes, and of the silence after them."""
    keyboard = keyboard or Keyboard()
    return [*keyboard.feed(data, at), *keyboard.idle(at + LATER)]


def names(messages: list[Message]) -> list[str]:
    """The keys among messages, a paste as its text in quotes."""
    return [m.key if isinstance(m, Key) else repr(m.text) for m in messages if keyish(m)]


def keyish(message: Message) -> TypeGuard[Key | Paste]:
    """Whether a message is a key or a paste; those two kinds are all there are but for one."""
    assert isinstance(message, Key | Paste)
    return True


@pytest.mark.parametrize("kind", NO_KEYS)
def test_what_is_no_key_is_dropped_as_a_whole(kind: str) -> None:
    """Not one message comes of it, and the space bar behind it is the space bar."""
    keyboard = Keyboard()
    assert [SPACE] == names(told(NO_KEYS[kind] + b" ", keyboard))
    assert [SPACE, SPACE] == names(told(b" " + NO_KEYS[kind] + b" ", keyboard))


@pytest.mark.parametrize("kind", NO_KEYS)
def test_what_is_broken_off_types_nothing(kind: str) -> None:
    """Cut at any byte, what was no key is none of those that move; after a pause keys work."""
    data = NO_KEYS[kind][:60]
    for end in range(len(data)):
        keyboard = Keyboard()
        seen = names(told(data[:end], keyboard))
        assert not {SPACE, "enter", "right", "pagedown", "q"} & set(seen)
        assert [SPACE] == names(told(b" ", keyboard, at=2 * LATER))


@pytest.mark.parametrize("key", KEYS)
def test_keys_are_keys(key: str) -> None:
    """Each in the form that terminals usually send, pressed twice with a pause between."""
    keyboard = Keyboard()
    expected = "question_mark" if key == "?" else key
    for at in (0.0, 2 * LATER):
        assert [expected] == names(told(KEYS[key], keyboard, at))


def test_keys_of_every_terminal_are_as_textual_has_them() -> None:
    """Each sequence of its table that is one key is that key here too, but for F13 to F20."""
    differ = {}
    for sequence in ANSI_SEQUENCES_KEYS:
        (*alone,) = (e.key for e in XTermParser().feed(sequence) if isinstance(e, Key))
        ours = names(told(sequence.encode()))
        # Two keys are none, and a number that Textual took for a control character is none.
        if len(sequence) > 2 and alone != ours and len(alone) == 1 and "\x01" not in alone[0]:
            differ[sequence[2:]] = ours
    # The numbers of these it takes for characters, the space bar among them.
    old = {"25~": 13, "26~": 14, "28~": 15, "29~": 16, "31~": 17, "32~": 18, "33~": 19, "34~": 20}
    none = ["62~", "63~", "5A", "5B", "5C", "5D"]
    assert {**{n: [f"f{f}"] for n, f in old.items()}, **{n: [] for n in none}} == differ


def test_every_key_of_the_keyboard_protocol() -> None:
    """With any modifiers, a press is one key, and neither repeat nor release is any."""
    for number, held in itertools.product(FUNCTIONAL_KEYS, (1, 2, 5, 65, 129, 193, 255, 256)):
        code, end = number[:-1], number[-1]
        if (end, held > 1) == ("R", True):
            continue  # that is where the cursor is
        keyboard = Keyboard()
        name = FUNCTIONAL_KEYS[number]
        for kind in ("", ":1"):
            if end == "R":
                continue
            (key,) = names(told(f"\x1b[{code};{held}{kind}{end}".encode(), keyboard))
            assert name == key.split("+")[-1]
        assert [] == told(f"\x1b[{code};{held}:2{end}\x1b[{code};{held}:3{end}".encode(), keyboard)


@pytest.mark.parametrize(
    ("sequence", "expected"),
    [
        ("\x1b[97;;97u", "a"),
        ("\x1b[97:65;2;65u", "A"),  # with the key's other letter
        ("\x1b[1089::99;5u", "ctrl+\u0441"),  # with the key's place on another layout
        ("\x1b[32;1:1;32u", SPACE),
        ("\x1b[32;129u", SPACE),  # with num lock
        ("\x1b[57400;129;49u", "1"),  # on the keypad
        ("\x1b[57414u", "enter"),
        ("\x1b[0;;230u", "\u00e6"),  # composed
        ("\x1b[0;;12363:12394u", repr("\u304b\u306a")),
        ("\x1b[97;;32:32u", repr("  ")),  # two spaces of one key are text, and no step
    ],
)
def test_keys_with_their_text(sequence: str, expected: str) -> None:
    """Other layouts' keys and the text typed are told in the same sequence."""
    assert [expected] == names(told(sequence.encode()))


@pytest.mark.parametrize(
    ("pasted", "expected"),
    [
        ("7", "7"),
        (" \r q\n", " \r q\n"),
        ("a\x1b[A b\x1b[200~c\x1b]0;x\x07d", "a bcx\x07d".replace("x\x07", "")),
        ("\u202eabc\u200b\x00\x07", "abc"),
        ("x" * 1_000_000, "x" * LONGEST_PASTE),
        ("", None),
    ],
    ids=["short", "keys", "sequences", "not to be seen", "huge", "nothing"],
)
def test_what_is_pasted_is_text(pasted: str, expected: str | None) -> None:
    """Whatever it holds, it is one text without controls, and presses no key."""
    keyboard = Keyboard()
    found = told(b"\x1b[200~" + pasted.encode() + b"\x1b[201~", keyboard)
    assert [] == [m for m in found if isinstance(m, Key)]
    assert ([] if expected is None else [expected]) == [m.text for m in found if keyish(m)]
    assert [SPACE] == names(told(b" ", keyboard, at=2 * LATER))


def test_a_paste_without_an_end_ends() -> None:
    """Keys work again a second after the last of it."""
    keyboard = Keyboard()
    assert [] == list(keyboard.feed(b"\x1b[200~some  thing", 0.0))
    assert [] == list(keyboard.idle(0.9))
    assert [repr("some  thing")] == names(list(keyboard.idle(1.1)))
    assert [SPACE] == names(told(b" ", keyboard, at=1.2))


def test_an_escape_waits_for_what_may_follow() -> None:
    """For a tenth of a second; what has clearly begun is given a whole one."""
    keyboard = Keyboard()
    assert [] == list(keyboard.feed(b"\x1b", 0.0))
    assert [] == list(keyboard.idle(0.05))
    assert ["escape"] == names(list(keyboard.idle(0.11)))
    assert [] == list(keyboard.feed(b"\x1b[1;", 1.0))
    assert [] == list(keyboard.idle(1.5))
    assert ["shift+right"] == names(list(keyboard.feed(b"2C", 1.6)))


SENT = [*(sent[:80] for sent in NO_KEYS.values()), *KEYS.values()]


@given(st.lists(st.binary(max_size=40) | st.integers(0, len(SENT) - 1).map(SENT.__getitem__)))
def test_any_bytes_in_any_portions(parts: list[bytes]) -> None:
    """Nothing raises, and how the bytes are portioned out makes no difference."""
    whole, portioned = Keyboard(), Keyboard()
    data = b"".join(parts)
    at_once = names([*whole.feed(data, 0.0), *whole.idle(LATER)])
    bit_by_bit = [m for i in range(len(data)) for m in portioned.feed(data[i : i + 1], 0.0)]
    assert at_once == names([*bit_by_bit, *portioned.idle(LATER)])


def test_the_parser_is_never_left_waiting() -> None:
    """What it is given it reads to the end: an Escape typed later is not glued to it."""
    chance = random.Random(20261127)  # noqa: S311  no secret
    keyboard = Keyboard()
    for number in range(3000):
        data = bytearray(chance.choice(SENT))
        for _ in range(chance.randrange(3)):
            data[chance.randrange(len(data))] = chance.choice(b"\x1b[]O;:?<1239uM~ACR\x07\x9b\xc3 ")
        told(bytes(data), keyboard, at=2 * number * LATER)
        assert keyboard._parser._awaiting.timeout is None, bytes(data)
