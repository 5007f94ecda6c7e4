"""A piece in one file of text, to be taken along: its name, pattern, journal and design.

The file is TOML 1.0 in a strict form of its own, read in one pass however large it is: keys in
their order, each text as a list of literal blocks. A literal block cannot hold ''' and patterns
do, so every ''' of a text is the seam between two blocks of its list.
"""

from __future__ import annotations

import hashlib
import re
import tomllib

import tomli_w

from tracker.problems import Problem, ProblemsError, shown
from tracker.progress.piece import fault_of_name, unknown_format
from tracker.records import record

FORMAT = 1
KIND = "exported piece"
ENDING = ".piece.toml"
LARGEST = 12_000_000
"""No exported piece is larger, bytes: the pattern of 40 columns by 5,000 rows takes about 8 MB."""
AGAIN = "export the piece again, or ask for a fresh copy"

HEAD = """\
# A piece with its pattern and its progress, to be taken along. `tracker import` takes it in.
"""
_OPENING = re.compile(
    r'(?:#[^\n]{0,200}\n){0,20}format = (\d{1,9})\nkind = "exported piece"\n'
    r'seal = "(sha256:[0-9a-f]{64})"\n'
)
_NAME = re.compile(r"name = [^\n]{1,2000}\n")
_SEAM = "'''"
_OPEN, _SHUT = f"{_SEAM}\n", f"{_SEAM},\n"


@record(kw_only=True)
class Exported:
    """A piece out of its folder."""

    name: str
    pattern: str
    """The pattern file's text."""
    journal: str
    design: str = ""
    """The design file's text; "" where there is none to be had."""


def write(exported: Exported) -> str:
    """The text of the file."""
    rest = tomli_w.dumps({"name": exported.name})
    rest += _block("pattern", exported.pattern) + _block("journal", exported.journal)
    rest += _block("design", exported.design)
    return f'{HEAD}format = {FORMAT}\nkind = "{KIND}"\nseal = "{_seal(rest)}"\n{rest}'


def is_exported(text: str) -> bool:
    """Whether a file's text is that of an exported piece, whole or not."""
    return _OPENING.match(text.removeprefix("\ufeff")) is not None


def read(text: str) -> Exported:
    """The piece that `text` says, its parts as they are in it. Raises ProblemsError.

    That the parts are a pattern, its journal and its design is for whoever takes it in to see.
    """
    text = text.removeprefix("\ufeff")
    opening = _OPENING.match(text)
    if opening is None:
        mend = "name a file that `tracker export` made"
        raise ProblemsError([Problem("file", "is no exported piece", mend)])
    if int(opening[1]) != FORMAT:
        raise ProblemsError([unknown_format(int(opening[1]), FORMAT)])
    rest = text[opening.end() :]
    if opening[2] != _seal(rest):
        raise ProblemsError([Problem("seal", "the piece was changed or damaged on its way", AGAIN)])
    name, at = _read_name(rest)
    texts = []
    for key in ("pattern", "journal", "design"):
        said, at = _read_block(rest, at, key)
        texts.append(said)
    if at != len(rest):
        raise _not_in_form("the end")
    return Exported(name=name, pattern=texts[0], journal=texts[1], design=texts[2])


def _seal(rest: str) -> str:
    return f"sha256:{hashlib.sha256(rest.encode()).hexdigest()}"


def _block(key: str, text: str) -> str:
    parts = text.split(_SEAM) if text else []
    return f"{key} = [\n{''.join(f'{_OPEN}{part}{_SHUT}' for part in parts)}]\n"


def _read_block(rest: str, at: int, key: str) -> tuple[str, int]:
    """The text of `key`, which begins at `at`, and where the next one begins."""
    opening = f"{key} = [\n"
    if not rest.startswith(opening, at):
        raise _not_in_form(key)
    at += len(opening)
    parts = []
    while rest.startswith(_OPEN, at):
        end = rest.find(_SHUT, at + len(_OPEN))
        if end < 0:
            raise _not_in_form(key)
        parts.append(rest[at + len(_OPEN) : end])
        at = end + len(_SHUT)
    if not rest.startswith("]\n", at) or any(_SEAM in part for part in parts):
        raise _not_in_form(key)
    return _SEAM.join(parts), at + len("]\n")


def _read_name(rest: str) -> tuple[str, int]:
    """The name, which stands first, and where the texts begin."""
    found = _NAME.match(rest)
    try:
        name = tomllib.loads(found[0]).get("name") if found else None
    except ValueError:
        name = None
    if found is None or not isinstance(name, str):
        raise _not_in_form("name")
    fault = fault_of_name(name)
    if fault:
        raise ProblemsError([Problem("name", f"{fault}: {shown(name[:100])!r}", AGAIN)])
    return name, found.end()


def _not_in_form(where: str) -> ProblemsError:
    return ProblemsError([Problem(where, "is not in the form of an exported piece", AGAIN)])
