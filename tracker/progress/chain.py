r"""The bytes of a journal: numbered lines, each checked together with all that stand before it.

After every complete line the file is a TOML 1.0 document:

    format = 1
    pattern = "sha256:..."

    [journal]
    0 = "2026-11-25T13:00:00.000Z started ~5d1c0a7e"
    1 = "2026-11-25T13:00:01.123Z at row 3 step 2 ~9af03b12"

A line's last word is the CRC-32 of everything in the file up to it, the checks themselves left
out; so a line cannot be changed, swapped or dropped without its own or a later check failing.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

from tracker.problems import Problem, ProblemsError, shown
from tracker.progress.piece import unknown_format
from tracker.records import record

FORMAT = 1
_HEADER = re.compile(rb'format = 1\npattern = "([ -!#-\[\]-~]+)"\n\n\[journal\]\n')
_OTHER_FORMAT = re.compile(rb"format = (\d{1,9})\n")
_LINE = re.compile(rb'((\d{1,12}) = "([ -!#-\[\]-~]*)) ~([0-9a-f]{8})"')
_HEADER_LINES = 4


@record
class Mark:
    """Where a journal goes on: its good length in bytes, its last check, the next number."""

    length: int
    crc: int
    number: int


@record
class Contents:
    """What a journal's bytes say."""

    pattern: str
    """Digest of the pattern that the journal is bound to."""
    texts: tuple[str, ...]
    """The words of each line, number and check taken off; the first is the header's own."""
    mark: Mark
    torn: bytes
    """What stands behind the last good line: a line that was being written, or nothing."""


def header(pattern: str) -> tuple[bytes, Mark]:
    """The opening lines of a journal bound to the digest `pattern`."""
    data = f'format = {FORMAT}\npattern = "{pattern}"\n\n[journal]\n'.encode("ascii")
    if _HEADER.fullmatch(data) is None:
        raise ValueError(f"not a digest: {pattern!r}")
    return data, Mark(len(data), zlib.crc32(data), 0)


def line(mark: Mark, text: str) -> tuple[bytes, Mark]:
    """The next line, saying `text`, and the mark behind it."""
    body = f'{mark.number} = "{text}'.encode("ascii")
    crc = zlib.crc32(body, mark.crc)
    data = b'%s ~%08x"\n' % (body, crc)
    if _LINE.fullmatch(data[:-1]) is None:
        raise ValueError(f"not the words of a journal: {text!r}")
    return data, Mark(mark.length + len(data), crc, mark.number + 1)


def scan(data: bytes, way_back: str) -> Contents:
    """Read a whole journal. Damage but for a torn tail is a ProblemsError, with its `way_back`."""
    found = _HEADER.match(data)
    if found is None:
        other = _OTHER_FORMAT.match(data)
        if other is not None and int(other[1]) != FORMAT:
            raise ProblemsError([unknown_format(int(other[1]), FORMAT)])
        raise _damaged(0, way_back)
    pattern = found[1].decode("ascii")
    _, mark = header(pattern)
    texts: list[str] = []
    while (read := _read_line(data, mark)) is not None:
        text, mark = read
        texts.append(text)
    torn = data[mark.length :]
    if not texts or (torn and not _is_torn(torn)):
        raise _damaged(len(texts), way_back)
    return Contents(pattern, tuple(texts), mark, torn)


def _read_line(data: bytes, mark: Mark) -> tuple[str, Mark] | None:
    """The line at `mark` and the mark behind it; None if no good line stands there."""
    found = _LINE.match(data, mark.length)
    if found is None or data[found.end() : found.end() + 1] != b"\n":
        return None
    crc = zlib.crc32(found[1], mark.crc)
    if found[2] != b"%d" % mark.number or found[4] != b"%08x" % crc:
        return None
    return found[3].decode("ascii"), Mark(found.end() + 1, crc, mark.number + 1)


def last_texts(tail: bytes) -> Iterator[str]:
    """The words of whole lines in the end of a journal, last first, none of them checked."""
    for candidate in reversed(tail.split(b"\n")[1:-1]):
        found = _LINE.fullmatch(candidate)
        if found is None:
            return
        yield found[3].decode("ascii")


def _is_torn(tail: bytes) -> bool:
    """Whether `tail` can be what an interrupted write left: one line's worth and no more.

    A whole line with something other than its end behind it was complete once: that is damage.
    Zeros are what a power cut leaves of bytes that had not reached the disk, the end among them.
    """
    newline = tail.find(b"\n")
    if newline not in (-1, len(tail) - 1):
        return False
    whole = _LINE.match(tail)
    return whole is None or whole.end() >= len(tail.rstrip(b"\n\0"))


def _damaged(good_lines: int, way_back: str) -> ProblemsError:
    where = f"line {_HEADER_LINES + good_lines + 1}" if good_lines else "the opening lines"
    what = "is damaged: it does not agree with its check, or something before it is missing"
    return ProblemsError([Problem(where, what, way_back)])


def not_understood(number: int, text: str, way_back: str) -> ProblemsError:
    """An undamaged line whose words tell of nothing that can have happened."""
    what = f"makes no sense in this pattern: {shown(text)}"
    return ProblemsError([Problem(f"line {_HEADER_LINES + number + 1}", what, way_back)])


def unknown_word(number: int, word: str) -> ProblemsError:
    """An undamaged line with a word of a newer version."""
    what = f"format {FORMAT} as this version knows it has no word {shown(word)!r}"
    mend = "update the tracker: a newer version wrote it"
    return ProblemsError([Problem(f"line {_HEADER_LINES + number + 1}", what, mend)])
