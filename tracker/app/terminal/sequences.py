"""What a terminal sends, cut into whole characters and whole control sequences. Pure.

The grammar is that of ECMA-48 (5th edition, 1991): a control sequence ends at its final
character, a control string at its terminator, whatever either holds. So what is no key at all, an
answer that nobody asked for say, is known from end to end and can be dropped as a whole; none of
its characters is ever taken for a key that was pressed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import field

from tracker.records import record

ESC = "\x1b"
PATIENCE = 0.1
"""Escape by itself, or Alt with `[`, is a key when nothing has followed for so long, seconds."""
LONG_PATIENCE = 1.0
"""What has clearly begun as a sequence may take so long to go on, over a slow line, seconds."""
LONGEST_PASTE = 20_000
"""Characters kept of what is pasted. More than any field holds."""
_LONGEST_SEQUENCE = 64
"""Characters kept of a control sequence: no key's is longer."""

_CSI, _SS3 = "[", "O"
_STRINGS = frozenset("]P_^X")
_IN_STRINGS = "\b\t\n\v\f\r"
_GIVES_UP = "\x18\x1a"
_STRING_END = f"{ESC}\\"
_PASTE, _PASTE_END = f"{ESC}[200~", f"{ESC}[201~"
# Old mouse reports: a control sequence with so many bare characters behind it.
_TRAILED = {f"{ESC}[M": 3, f"{ESC}[t": 2, f"{ESC}[T": 6}
# The same beginnings in one byte, from terminals set to send 8 bits: as itself, or as a byte
# that is no UTF-8 and was decoded by "surrogateescape".
_ONE_BYTE = {
    chr(base + code): second
    for base in (0, 0xDC00)
    for code, second in ((0x8F, "O"), (0x90, "P"), (0x98, "X"), (0x9B, "["), (0x9D, "]"),
                         (0x9E, "^"), (0x9F, "_"))
}  # fmt: skip
_STRING_ENDS = frozenset("\x07\x9c\udc9c")
_SHIFTED = re.compile(r"\x1b\[\d{1,2}\$")
_PLAIN = re.compile(r"[ -~\r\n]+")


@record
class Pasted:
    """Text that was pasted, as it came, cut at `LONGEST_PASTE`."""

    text: str


Piece = str | Pasted
"""A run of characters, or one whole sequence that begins with Escape, or what was pasted."""


@record(frozen=False)
class Cutter:
    """Cuts a stream of characters; time is seconds on any steady clock."""

    _begun: str = ""
    """The sequence that is being read, from its Escape on."""
    _trailing: int = 0
    """Bare characters still to come behind it."""
    _paste: list[str] | None = field(default=None)
    _pasted: int = 0
    _last: float = 0.0

    @property
    def waiting(self) -> bool:
        """Whether something has begun and not ended: `idle` is to be called from time to time."""
        return bool(self._begun) or self._paste is not None

    def cut(self, text: str, now: float) -> Iterator[Piece]:
        """The pieces that are complete with `text`."""
        self._last = now
        at = 0
        while at < len(text):
            if not self.waiting and (plain := _PLAIN.match(text, at)):
                yield plain[0]
                at = plain.end()
                continue
            yield from self._take(text[at])
            at += 1

    def idle(self, now: float) -> Iterator[Piece]:
        """What has begun and, by now, will not go on."""
        begun = self._begun
        # Nothing but a key is so short: Escape, or Alt and a character that begins sequences.
        short = len(begun) in (1, 2) and self._paste is None
        if not self.waiting or now - self._last < (PATIENCE if short else LONG_PATIENCE):
            return
        self._begun, self._trailing = "", 0
        if self._paste is not None:
            yield self._end_of_paste()
        elif short:
            yield begun

    def _take(self, character: str) -> Iterator[Piece]:
        begun = self._begun
        if character == ESC:
            # Whatever it was, it is over; but Escape in front of a sequence was pressed.
            in_paste = self._paste is not None
            self._begun, self._trailing = ESC, 0
            if begun == ESC and not in_paste:
                yield ESC
        elif not begun and character in _ONE_BYTE:
            self._begun = ESC + _ONE_BYTE[character]
        elif not begun:
            if self._paste is None:
                yield character
            else:
                self._keep(character)
        else:
            yield from self._go_on(begun, character)

    def _go_on(self, begun: str, character: str) -> Iterator[Piece]:
        string = begun[1:2] in _STRINGS
        if string and character in _STRING_ENDS:
            self._begun = ""
        elif character < " " and begun != ESC and not (string and character in _IN_STRINGS):
            # No sequence holds a control: it was broken off, and this is a key.
            self._begun, self._trailing = "", 0
            if character not in _GIVES_UP:
                yield from self._take(character)
        elif string:
            self._begun = begun[:2] + "..."
        elif self._trailing:
            self._trailing -= 1
            self._begun = begun if self._trailing else ""
        else:
            begun += character
            if not _complete(begun):
                self._begun = begun[:_LONGEST_SEQUENCE]
                return
            self._begun = ""
            yield from self._whole(begun)

    def _whole(self, sequence: str) -> Iterator[Piece]:
        if sequence in _TRAILED:
            self._begun, self._trailing = sequence, _TRAILED[sequence]
        elif sequence == _PASTE_END:
            if self._paste is not None:
                yield self._end_of_paste()
        elif self._paste is not None:
            pass  # a sequence in what is pasted is no text
        elif sequence == _PASTE:
            self._paste, self._pasted = [], 0
        elif len(sequence) < _LONGEST_SEQUENCE and sequence != _STRING_END:
            yield sequence

    def _keep(self, character: str) -> None:
        assert self._paste is not None
        if self._pasted < LONGEST_PASTE:
            self._paste.append(character)
            self._pasted += 1

    def _end_of_paste(self) -> Pasted:
        text = "".join(self._paste or ())
        self._paste = None
        return Pasted(text)


def _complete(sequence: str) -> bool:
    """Whether a sequence that began with Escape and something else has its last character."""
    kind, last = sequence[1], sequence[-1]
    if kind == _CSI:
        # Two keep to no standard: F1 of the linux console is `ESC [ [ A`, and Shift with Delete
        # is `ESC [ 3 $` in rxvt.
        ended = "@" <= last <= "~" or _SHIFTED.fullmatch(sequence)
        return len(sequence) > 2 and bool(ended) and sequence != f"{ESC}[["
    if kind == _SS3:
        return len(sequence) > 2 and not (last.isdigit() or last == ";")
    return kind not in _STRINGS
