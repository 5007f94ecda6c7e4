"""Every module of this folder that defines `STITCH` is a stitch, known by its name."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

import tracker.stitches
from tracker.design.demands import Demands
from tracker.stitches.stitch import Stitch


@cache
def _stitches() -> dict[str, Stitch]:
    found = {}
    for module in pkgutil.iter_modules(tracker.stitches.__path__):
        loaded = importlib.import_module(f"tracker.stitches.{module.name}")
        stitch = getattr(loaded, "STITCH", None)
        if isinstance(stitch, Stitch):
            found[stitch.name] = stitch
    return dict(sorted(found.items()))


def stitch_names() -> tuple[str, ...]:
    """The names that a design may give, sorted."""
    return tuple(_stitches())


@cache
def demands() -> Mapping[str, Demands]:
    """What each stitch asks of a design, by its name, sorted."""
    return MappingProxyType({name: stitch.demands for name, stitch in _stitches().items()})


def find_stitch(name: str) -> Stitch:
    """The stitch of that name; KeyError if there is none."""
    return _stitches()[name]
