"""The seal of a pattern's file: whether it is as it was when it was proved."""

from __future__ import annotations

import hashlib

FORMAT = 1
"""The format of pattern files that this tracker reads and writes."""


def seal_of(rest: str) -> str:
    """The digest of all that stands in the file behind the seal."""
    return f"sha256:{hashlib.sha256(rest.encode()).hexdigest()}"
