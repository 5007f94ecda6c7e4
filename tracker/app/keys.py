"""Keys that never act alone."""

from __future__ import annotations

SILENT = (
    "shift", "control", "alt", "super", "hyper", "meta", "caps_lock", "num_lock", "scroll_lock",
    "iso_level3_shift", "iso_level5_shift",
)  # fmt: skip
"""Keys that never act alone: modifiers and locks, left and right."""


def is_silent(key: str) -> bool:
    """Whether a key is a lone modifier or a lock."""
    name = key.removeprefix("left_").removeprefix("right_")
    return name in SILENT
