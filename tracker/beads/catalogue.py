"""The beads and needles of the trade, by name. The figures stand in `shapes.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from tracker.beads.model import Finding, Seed, Tile
from tracker.records import record


@record
class Needle:
    """A beading needle: its size as the trade writes it, and how thick its eye is (mm)."""

    size: str
    eye: float


@cache
def _table() -> dict[str, dict[str, Any]]:
    return tomllib.loads(files("tracker.beads").joinpath("shapes.toml").read_text("utf-8"))


@cache
def tiles() -> Mapping[str, Tile]:
    """Every tile by its name."""
    return MappingProxyType({n: Tile(name=n, **sizes) for n, sizes in _table()["tiles"].items()})


@cache
def seeds() -> Mapping[str, Seed]:
    """Every seed by its size."""
    return MappingProxyType({n: Seed(name=n, **sizes) for n, sizes in _table()["seeds"].items()})


@cache
def findings() -> Mapping[str, Finding]:
    """Every finding that a thread goes through, by its name."""
    found = _table()["findings"]
    return MappingProxyType({n: Finding(name=n, **sizes) for n, sizes in found.items()})


@cache
def needles() -> tuple[Needle, ...]:
    """Every needle, thickest first."""
    found = (Needle(size, eye) for size, eye in _table()["needles"].items())
    return tuple(sorted(found, key=lambda needle: -needle.eye))
