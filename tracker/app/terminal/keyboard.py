"""Which of the sequences that a terminal sends are keys, in the form that Textual reads.

Textual's parser is given nothing else, for three reasons seen with version 8.2.8. It raises, and
the app ends, on keys that are told with their kind of event (`ESC [ 32 ; 1 : 3 u`), with other
layouts' keys, or with numbers that are no character. It takes some sequences for the space bar
that are not: F18 (`ESC [ 32 ~`), and an answer cut in two, which it types out. And it has no end
of a paste that was broken off, so that no key gets through any more.
"""

from __future__ import annotations

import re

from textual import constants
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._keyboard_protocol import FUNCTIONAL_KEYS

from tracker.app.terminal.sequences import ESC, Pasted, Piece

# Compiled, and kept so, when the first key is pressed.
_EXTENDED = r"\x1b\[([\d:]*)(?:;([\d:]*)(?:;([\d:]*))?)?([u~A-FHPQRS])"
_SYNCHRONISED = r"\x1b\[\?2026;\d\$y"
_LARGEST = 0x10FFFF
_PRIVATE = range(57344, 63744)
"""Numbers of keys without a character, in the kitty keyboard protocol."""
_HELD = range(1, 257)
"""Modifiers held, as that protocol counts them: 1 for none, and a bit for each."""
_PRESS = 1
"""Kinds of event in that protocol: 1 press, 2 repeat, 3 release."""
_ALT = 3
# F13 to F20 by their old numbers, which Textual takes for characters.
_OLD_FUNCTION_KEYS = {
    25: (57376, "u"), 26: (57377, "u"), 28: (57378, "u"), 29: (57379, "u"),
    31: (57380, "u"), 32: (57381, "u"), 33: (57382, "u"), 34: (57383, "u"),
}  # fmt: skip
_NAMED_CONTROLS = "\r\t\x7f"


def key_of(piece: Piece) -> Piece | None:
    """The piece as Textual may have it, None for what is no key that was pressed."""
    if isinstance(piece, Pasted):
        text = "".join(c for c in piece.text if c.isprintable() or c in "\n\r\t")
        return Pasted(text) if text else None
    if not piece.startswith(ESC):
        # NUL is no key; what cannot be shown is no letter.
        return "".join(c for c in piece if c.isprintable() or "\0" < c < " " or c == "\x7f") or None
    if piece == ESC or re.fullmatch(_SYNCHRONISED, piece):
        return piece
    extended = re.fullmatch(_EXTENDED, piece)
    return _extended(*extended.groups("")) if extended else _named(piece)


def _named(sequence: str) -> str | None:
    """A key that has a sequence of its own, or Alt and a character."""
    named = ANSI_SEQUENCES_KEYS.get(sequence)
    if isinstance(named, str) and sequence.startswith(f"{ESC}O"):
        return named  # a character of the keypad
    if isinstance(named, tuple) and len(named) == 1:
        return sequence
    character = sequence[1]
    if len(sequence) > 2 or not (character.isprintable() or character in _NAMED_CONTROLS):
        return None
    # As it is, Textual would wait for more of it, and type it out without Alt in the end.
    return None if constants.DISABLE_KITTY_KEY else f"{ESC}[{ord(character)};{_ALT}u"


def _extended(codes: str, modifiers: str, text: str, end: str) -> Piece | None:
    """A key with its modifiers and text, in the plainest form there is."""
    code = _number(codes.partition(":")[0], usual=1)
    bits, _, kind = modifiers.partition(":")
    held = _number(bits, usual=1)
    typed = _typed(text)
    pressed = _number(kind, usual=_PRESS) == _PRESS
    if code is None or typed is None or held not in _HELD or not pressed:
        return None
    if end == "~":
        code, end = _OLD_FUNCTION_KEYS.get(code, (code, end))
    if f"{code}{end}" in FUNCTIONAL_KEYS:
        known = not (end == "R" and modifiers)  # `ESC [ 1 ; 2 R` is where the cursor is
    else:
        known = end == "u" and bool(typed or _is_letter(code))
        if known and len(typed) > 1:
            return Pasted(typed)  # composed: text, but of no one key
        typed = typed or (chr(code) if held == 1 else "")
        code = ord(typed) if known and typed else code
    if not known or (end == "u" and constants.DISABLE_KITTY_KEY):
        return None
    if len(typed) == 1:
        return f"{ESC}[{code};{held};{ord(typed)}{end}"
    return f"{ESC}[{code}{f';{held}' if held != 1 else ''}{end}"


def _typed(text: str) -> str | None:
    """The text that a key typed, "" for none; None where it cannot be."""
    if not text:
        return ""
    codes = [_number(part, usual=None) for part in text.split(":")]
    if any(code is None or 0xD800 <= code < 0xE000 for code in codes):
        return None
    typed = "".join(chr(code) for code in codes if code is not None)
    return "".join(c for c in typed if c.isprintable())


def _is_letter(code: int) -> bool:
    return code not in _PRIVATE and chr(code).isprintable()


def _number(digits: str, *, usual: int | None) -> int | None:
    """A whole number up to that of the last character; None for none such."""
    if not digits:
        return usual
    if not digits.isdecimal() or len(digits) > len(str(_LARGEST)):
        return None
    return number if (number := int(digits)) <= _LARGEST else None
