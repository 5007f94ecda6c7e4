"""Pattern files changed by hand, with and without a seal that is right."""

import hashlib
from functools import cache

from weaving import a_design, closed_with

from tracker.design.model import ClosureKind
from tracker.pattern.compiler import Compiled, compile_design
from tracker.pattern.reader import parse_pattern
from tracker.problems import ProblemsError


@cache
def compiled(columns: int = 2, rows: int = 6) -> Compiled:
    """A band compiled, tiles of up rows in A and of down rows in B."""
    return compile_design(a_design(columns, rows))


CLOSURES: tuple[ClosureKind, ...] = ("wire guards", "bead loops", "ribbon ends", "button loop")


@cache
def closed(kind: ClosureKind, columns: int = 2, rows: int = 6) -> Compiled:
    """A band compiled with a closure, its loops in B."""
    return compile_design(a_design(columns, rows, closure=closed_with(kind, columns)))


def resealed(text: str) -> str:
    """The text with a seal that is right: the digest of all that follows the seal's line."""
    head, _, rest = text.partition('seal = "')
    _, _, rest = rest.partition('"\n')
    return f'{head}seal = "sha256:{hashlib.sha256(rest.encode()).hexdigest()}"\n{rest}'


def changed(*changes: tuple[str, str], text: str | None = None) -> str:
    """A good pattern with parts replaced, sealed again."""
    text = compiled().text if text is None else text
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return resealed(text)


def problems(text: str) -> list[str]:
    """The problem lines of a pattern that is refused; empty if it is not."""
    try:
        parse_pattern(text)
    except ProblemsError as error:
        return error.in_file("band.pattern.toml").lines()
    return []
