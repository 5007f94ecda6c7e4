"""Every module of this folder that defines `STITCH` is a stitch, known by its name."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from functools import cache
from importlib.util import find_spec
from types import MappingProxyType

import tracker.stitches
from tracker.design.demands import Demands
from tracker.stitches.stitch import Stitch


@cache
def _stitches() -> dict[str, Stitch]:
    import pkgutil  # noqa: PLC0415  whoever opens a pattern needs one stitch, known by its name

    names = [module.name for module in pkgutil.iter_modules(tracker.stitches.__path__)]
    found = [stitch for name in names if (stitch := _stitch_of(name)) is not None]
    return {stitch.name: stitch for stitch in sorted(found, key=lambda stitch: stitch.name)}


def _stitch_of(module: str) -> Stitch | None:
    stitch = getattr(importlib.import_module(f"tracker.stitches.{module}"), "STITCH", None)
    return stitch if isinstance(stitch, Stitch) else None


def stitch_names() -> tuple[str, ...]:
    """The names that a design may give, sorted."""
    return tuple(_stitches())


@cache
def demands() -> Mapping[str, Demands]:
    """What each stitch asks of a design, by its name, sorted."""
    return MappingProxyType({name: stitch.demands for name, stitch in _stitches().items()})


@cache
def find_stitch(name: str) -> Stitch:
    """The stitch of that name; KeyError if there is none."""
    # Whoever opens a pattern needs its stitch alone: it is looked for first where its name says.
    module = name.removesuffix(" stitch").replace(" ", "_").replace("-", "_")
    if module.isidentifier() and find_spec(f"tracker.stitches.{module}") is not None:
        stitch = _stitch_of(module)
        if stitch is not None and stitch.name == name:
            return stitch
    return _stitches()[name]
